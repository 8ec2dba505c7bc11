"""Figures as a cook writes them, apart from the product, so that reading is held against something else."""

from __future__ import annotations

from fractions import Fraction

VULGAR = {
    Fraction(over, under): sign
    for sign, over, under in (
        ("½", 1, 2), ("⅓", 1, 3), ("⅔", 2, 3), ("¼", 1, 4), ("¾", 3, 4), ("⅕", 1, 5), ("⅖", 2, 5),
        ("⅗", 3, 5), ("⅘", 4, 5), ("⅙", 1, 6), ("⅚", 5, 6), ("⅐", 1, 7), ("⅛", 1, 8), ("⅜", 3, 8),
        ("⅝", 5, 8), ("⅞", 7, 8), ("⅑", 1, 9), ("⅒", 1, 10),
    )
}  # fmt: skip


def in_words(value: Fraction) -> str:
    """``value`` as ``1½``, ``⅜``, ``3``; a plain fraction where no character fits."""
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    if part in VULGAR:
        return f"{whole or ''}{VULGAR[part]}"
    return f"{f'{whole} ' if whole else ''}{part.numerator}/{part.denominator}"
