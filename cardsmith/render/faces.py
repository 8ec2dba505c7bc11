"""Letters that a house's display face lacks: the typesetter would set them in another face without a word."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Set
from contextlib import suppress
from functools import cache
from io import BytesIO
from pathlib import Path

from cardsmith.render.audit import TextRun
from cardsmith.render.look import PRINT, look
from cardsmith.render.typesetter import LayoutError


class StrangeFace(LayoutError):  # noqa: N818 - the name says what is the matter
    """Words set in the display face would have letters of the text face among them."""

    def __init__(self, what: str, instead: str) -> None:
        super().__init__(what)
        self.instead = instead


def need_letters(runs: Iterable[TextRun], templates: Path) -> None:
    """Pass where every letter set in the display face is one of its own, or of another that it names for it.

    ``--display`` may name a second family for letters that the first lacks; the text's family is none such.

    Raises:
        StrangeFace: which words, and what to do.
    """
    named = look(templates)
    first, *others = named.displays
    if first == named.text:
        return
    families = _letters(templates)
    own = [families.get(family, frozenset()) for family in (first, *others) if family != named.text]
    words = [word for run in runs if run.family == first for word in _lacking(run.text, own)]
    if words:
        shown = ", ".join(f"“{word}”" for word in dict.fromkeys(words))
        raise StrangeFace(
            f"the face of titles, {first}, has no letters for {shown}; they would print in {named.text}",
            "write it in Latin letters, or put a font of that kind that has them into templates/fonts and "
            f'name its family second in look.css: --display: "{first}", "that family"',
        )


def _lacking(text: str, families: Iterable[Set[int]]) -> Iterator[str]:
    """The words with a letter that none of the families has."""
    for word in text.split():
        letters = [ord(sign) for sign in word if unicodedata.category(sign).startswith("L")]
        if any(not any(letter in family for family in families) for letter in letters):
            yield word.strip(".,;:!?()“”")


@cache
def _letters(templates: Path) -> Mapping[str, frozenset[int]]:
    """The characters that every cut of a family for print has, by the family's name."""
    from fontTools.ttLib import TTFont, TTLibError  # noqa: PLC0415 - only where something is printed

    letters: dict[str, frozenset[int]] = {}
    for file in (templates / "fonts").rglob("*"):
        if file.suffix in PRINT:
            with suppress(TTLibError):
                font = TTFont(BytesIO(file.read_bytes()), lazy=True)
                names, signs = font["name"], frozenset(font.getBestCmap())
                family = str(names.getDebugName(16) or names.getDebugName(1))
                letters[family] = letters.get(family, signs) & signs
    return letters
