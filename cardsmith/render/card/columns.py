"""How wide the columns of a list are: as its amounts and its names need, so that the list is low.

One width of a system holds for all parts of a card. Figures end on one line and units begin on another; what
wraps hangs under its unit, and a size in brackets has a line of its own, figure under figure, where it has no
room behind the rest. Widths of letters are the font's own (OpenType, hmtx).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cache
from itertools import combinations, product
from pathlib import Path
from string import digits
from typing import Any

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.render.card.view import AmountView, CardView, RowView, TermView
from cardsmith.render.typeset import FRACTION_SLASH, NO_BREAK

APART = 14.0  # points between two systems, at least; common practice, no source
SPACE = 0.28  # em, between a figure and its unit
_USUAL = {
    "us": 0.31,
    "metric": 0.24,
}  # of the column's width, where no amount asks for more
_NAMES = 0.34  # of the column's width, at least, for what is measured
_OF_WORD = 4  # lines that a word of a name costs which no line holds
_LETTER = 0.65  # em, of a wide word in the weight of a name
_FIGURES = (1.1, 3.2)  # em: the narrowest and the widest that figures are aligned in
_LARGER = 1.07  # bold letters beside regular ones
_SMALLER = 0.75  # what is set around a fraction slash, by the width of its letters


@frozen
class Column:
    """A system's column in em: the room of its figures, and all of it, half a gap on either side included."""

    number: float
    width: float


@frozen
class Columns:
    """The columns of a list: those of the systems by key, and em left for the names."""

    systems: Mapping[str, Column]
    names: float
    divided: int  # words of names that no line holds whole
    stacked: frozenset[AmountView]  # whose size in brackets has a line of its own

    @property
    def letters(self) -> int:
        """Letters of a name that surely stand on one line."""
        return int(self.names / _LETTER)


@frozen
class _Term:
    """A figure and the pieces of what follows it, in em."""

    figure: float
    pieces: tuple[float, ...]


@frozen
class _Amount:
    """An amount on one line, and in two where that can be."""

    whole: _Term
    stacked: tuple[_Term, ...]

    @property
    def parted(self) -> tuple[_Term, ...]:
        """In as many lines as can be."""
        return self.stacked or (self.whole,)

    def lines(self, room: float) -> int:
        """Lines of what follows its figure in a room."""
        whole = _lines(self.whole.pieces, room)
        return whole if not self.is_stacked(room) else sum(_lines(term.pieces, room) for term in self.stacked)

    def is_stacked(self, room: float) -> bool:
        """Whether it has two lines because one doesn't hold it."""
        return bool(self.stacked) and _line(self.whole.pieces) > room


@frozen
class _Widths:
    """One row in em: its name's words, and its amount in each system."""

    words: tuple[float, ...]
    amounts: tuple[_Amount, ...]


def list_columns(view: CardView, size: CardSize, text: Fraction, font: Path) -> Columns:
    """The columns of a card's list by system, at points of type."""
    letters = _letters(font)
    rows = [_measured(row, letters) for part in view.parts for row in part.rows]
    plain = _columns(view, size, text, rows, stacked=False)
    return _columns(view, size, text, rows, stacked=True) if plain.stacked else plain


def _columns(
    view: CardView, size: CardSize, text: Fraction, rows: Sequence[_Widths], *, stacked: bool
) -> Columns:
    """``stacked`` says whether a column has room for the figures of sizes in brackets."""
    room, apart = float((size.column_width + size.widened) / text), APART / float(text)
    amounts = [[row.amounts[at] for row in rows] for at in range(len(view.systems))]
    numbers = [
        _figures(term.figure for amount in of for term in ((amount.whole,), amount.parted)[stacked])
        for of in amounts
    ]
    choices = []
    for at, system in enumerate(view.systems):
        pieces = [term.pieces for amount in amounts[at] for term in amount.parted]
        least = max((max(of, default=0.0) for of in pieces), default=0.0)
        wholes = [amount.whole.pieces for amount in amounts[at]]
        wanted = {least}.union(*(_fillings(of) for of in (*pieces, *wholes)))
        fixed = numbers[at] + SPACE + apart
        usual = _USUAL[system.key] * room
        widths = {fixed + max(width, least) for width in wanted}
        choices.append(sorted({*widths, max(usual, fixed + least)}, key=lambda width: abs(width - usual)))
    best = min(product(*choices), key=lambda widths: _cost(rows, numbers, widths, room, apart))
    rooms = [width - number - SPACE - apart for number, width in zip(numbers, best, strict=True)]
    shown = (row.amounts for part in view.parts for row in part.rows)
    return Columns(
        systems={
            system.key: Column(number=numbers[at], width=best[at]) for at, system in enumerate(view.systems)
        },
        names=room - sum(best),
        divided=sum(_divided(row, room - sum(best)) for row in rows),
        stacked=frozenset(
            amount
            for row, of in zip(rows, shown, strict=True)
            for amount, measured, left in zip(of, row.amounts, rooms, strict=True)
            if measured.is_stacked(left)
        ),
    )


def _cost(
    rows: Sequence[_Widths], numbers: Sequence[float], widths: Sequence[float], room: float, apart: float
) -> tuple[float, int]:
    """The em that names lack; the lines of all rows, twice, and those that amounts add to one."""
    names = room - sum(widths)
    lacking = max(_NAMES * room - names, 0.0)
    height = broken = 0
    for row in rows:
        of_amounts = [
            amount.lines(width - number - SPACE - apart)
            for amount, number, width in zip(row.amounts, numbers, widths, strict=True)
        ]
        height += max(_lines(row.words, names) + _OF_WORD * _divided(row, names), *of_amounts)
        broken += sum(of_amounts) - len(of_amounts)
    return lacking, 2 * height + broken


def _divided(row: _Widths, names: float) -> int:
    return sum(word > names for word in row.words)


def _figures(widths: Iterable[float]) -> float:
    """The room of a column's figures: that of the widest which is no wider than figures are."""
    low, high = _FIGURES
    return max((width for width in widths if low <= width <= high), default=low)


def _fillings(pieces: Sequence[float]) -> Iterator[float]:
    """The widths at which a line takes more of the pieces."""
    for first, last in combinations(range(len(pieces) + 1), 2):
        yield _line(pieces[first:last])


def _line(pieces: Sequence[float]) -> float:
    return sum(pieces) + SPACE * max(len(pieces) - 1, 0)


def _lines(pieces: Sequence[float], room: float) -> int:
    """Lines of pieces filled one after another."""
    count, left = 1, room
    for number, piece in enumerate(pieces):
        if number and piece + SPACE > left:
            count, left = count + 1, room - piece
        else:
            left -= piece + (SPACE if number else 0)
    return count


def _measured(row: RowView, letters: Mapping[str, float]) -> _Widths:
    name = ", ".join(str(text.striptags()) for text in (row.item, row.prep) if text)
    words = name.split(" ") if name else []
    return _Widths(
        words=tuple(_width(word, letters) * _LARGER for word in words),
        amounts=tuple(
            _Amount(
                whole=_term(amount.whole, letters),
                stacked=tuple(_term(term, letters) for term in amount.stacked),
            )
            for amount in row.amounts
        ),
    )


def _term(term: TermView, letters: Mapping[str, float]) -> _Term:
    pieces = tuple(_width(piece.striptags(), letters) * _LARGER for piece in term.rest)
    return _Term(figure=_width(term.figure.striptags(), letters) * _LARGER, pieces=pieces)


def _width(text: str, letters: Mapping[str, float]) -> float:
    words = (
        (sum(letters.get(letter, 0.6) for letter in word), FRACTION_SLASH in word)
        for word in text.split(NO_BREAK)
    )
    return _line([width * _SMALLER if fraction else width for width, fraction in words])


@cache
def _letters(font: Path) -> Mapping[str, float]:
    """The width of each letter of a font, in em; a list's figures are all as wide as the widest."""
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - the typesetter's own library of fonts

    with TTFont(font, lazy=True) as opened:
        tables: Any = opened
        em, metrics = tables["head"].unitsPerEm, tables["hmtx"]
        widths = {chr(code): metrics[name][0] / em for code, name in tables.getBestCmap().items()}
    return widths | dict.fromkeys(digits, max(widths.get(digit, 0.6) for digit in digits))
