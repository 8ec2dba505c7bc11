"""Numbers and lists as a query words them: 76 g, 3.8 g, 38 %, "a, b or c"."""

from __future__ import annotations

from fractions import Fraction


def number(value: Fraction | int, digits: int = 3) -> str:
    """``value`` in plain decimals to ``digits`` significant digits; for evidence, never for a card."""
    exact = Fraction(value)
    size = abs(exact)
    if 0 < size < Fraction(1, 10**digits):
        return f"{float(exact):.1g}"
    places = max(digits - len(str(size.numerator // size.denominator)), 0) if size >= 1 else digits
    text = f"{float(exact):.{places}f}"
    return (text.rstrip("0").rstrip(".") if "." in text else text).replace("-", "−")


def grams(value: Fraction) -> str:
    """A mass: 76 g, 1.25 kg."""
    return f"{number(value / 1000)} kg" if value >= 1000 else f"{number(value)} g"


def percent(value: Fraction) -> str:
    """A share: 38 %, 1.9 %."""
    return f"{number(value * 100, 2)} %"


def plural(count: Fraction | int, noun: str) -> str:
    """``1 egg``, ``3 eggs``."""
    return f"{number(count)} {noun}{'' if count == 1 else 's'}"


def a_kind(kind: str) -> str:
    """A kind of the tables with its article: ``an oat bar``."""
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind.replace('-', ' ')}"
