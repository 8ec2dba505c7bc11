"""How wide the columns of a list are: as its amounts and its names need, so that the list is low.

One width of a system holds for all parts of a card. Figures end on one line and units begin on another; what
wraps hangs under its unit. Widths of letters are the font's own (OpenType, hmtx).
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
from cardsmith.render.card.view import AmountView, CardView, RowView
from cardsmith.render.typeset import FRACTION_SLASH, NO_BREAK

APART = 14.0  # points between two systems, at least; common practice, no source
SPACE = 0.28  # em, between a figure and its unit
_USUAL = {
    "us": 0.31,
    "metric": 0.24,
}  # of the column's width, where no amount asks for more
_NAMES = 0.34  # of the column's width, at least, for what is measured
_FEWEST = 0.2  # where that holds what stands in brackets on one line
_HIGHER = 1.15  # times the lines that the list may then have
_OF_WORD = 4  # lines that a word of a name costs which no line holds
_LETTER = 0.65  # em, of a wide word in the weight of a name
_FIGURES = (1.1, 2.7)  # em: the narrowest and the widest that figures are aligned in
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
    lacking: float  # of the least that names have
    divided: int  # words of names that no line holds whole
    lines: int  # of all rows
    narrow: bool  # whether no column holds all that stands in brackets: (1.36 kg in all)

    @property
    def letters(self) -> int:
        """Letters of a name that surely stand on one line."""
        return int(self.names / _LETTER)


@frozen
class _Widths:
    """One row in em: its name's words, and in each system the figure and the pieces of what follows."""

    words: tuple[float, ...]
    amounts: tuple[tuple[float, tuple[float, ...]], ...]


def list_columns(view: CardView, size: CardSize, text: Fraction, font: Path) -> Columns:
    """The columns of a card's list by system, at points of type."""
    whole, narrow = (_columns(view, size, text, font, narrow=narrow) for narrow in (False, True))
    lacking = max(narrow.lacking, (_NAMES - _FEWEST) * float(size.column_width / text))
    higher = whole.lines > _HIGHER * narrow.lines
    return narrow if higher or whole.divided > narrow.divided or whole.lacking > lacking else whole


def _columns(view: CardView, size: CardSize, text: Fraction, font: Path, *, narrow: bool) -> Columns:
    letters = _letters(font)
    rows = [_measured(row, letters, narrow=narrow) for part in view.parts for row in part.rows]
    room, apart = float(size.column_width / text), APART / float(text)
    numbers = [_figures(row.amounts[at][0] for row in rows) for at in range(len(view.systems))]
    choices = []
    for at, system in enumerate(view.systems):
        least = max((max(units, default=0.0) for _, units in _units(rows, at)), default=0.0)
        wanted = {least}.union(*(_fillings(units) for _, units in _units(rows, at)))
        fixed = numbers[at] + SPACE + apart
        usual = _USUAL[system.key] * room
        widths = {fixed + max(one, least) for one in wanted}
        choices.append(sorted({*widths, max(usual, fixed + least)}, key=lambda width: abs(width - usual)))
    best = min(product(*choices), key=lambda widths: _cost(rows, numbers, widths, room, apart))
    systems = enumerate(view.systems)
    return Columns(
        systems={system.key: Column(number=numbers[at], width=best[at]) for at, system in systems},
        names=room - sum(best),
        lacking=_cost(rows, numbers, best, room, apart)[0],
        lines=_height(rows, numbers, best, room, apart)[0],
        narrow=narrow,
        divided=sum(_divided(row, room - sum(best)) for row in rows),
    )


def _cost(
    rows: Sequence[_Widths], numbers: Sequence[float], widths: Sequence[float], room: float, apart: float
) -> tuple[float, int]:
    """The em that names lack; the lines of all rows, twice, and those that amounts add to one."""
    names = room - sum(widths)
    lacking = max(_NAMES * room - names, 0.0)
    height, broken = _height(rows, numbers, widths, room, apart)
    return lacking, 2 * height + broken


def _height(
    rows: Sequence[_Widths], numbers: Sequence[float], widths: Sequence[float], room: float, apart: float
) -> tuple[int, int]:
    """The lines of all rows, and those that amounts add to one."""
    names = room - sum(widths)
    height = broken = 0
    for row in rows:
        of_amounts = [
            _lines(units, width - number - SPACE - apart)
            for (_, units), number, width in zip(row.amounts, numbers, widths, strict=True)
        ]
        height += max(_lines(row.words, names) + _OF_WORD * _divided(row, names), *of_amounts)
        broken += sum(of_amounts) - len(of_amounts)
    return height, broken


def _divided(row: _Widths, names: float) -> int:
    return sum(word > names for word in row.words)


def _units(rows: Iterable[_Widths], at: int) -> Iterator[tuple[float, tuple[float, ...]]]:
    for row in rows:
        yield row.amounts[at]


def _figures(widths: Iterable[float]) -> float:
    """The room of a column's figures: that of the widest which is no wider than figures are."""
    low, high = _FIGURES
    return max((one for one in widths if low <= one <= high), default=low)


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


def _measured(row: RowView, letters: Mapping[str, float], *, narrow: bool) -> _Widths:
    name = ", ".join(str(text.striptags()) for text in (row.item, row.prep) if text)
    words = name.split(" ") if name else []
    return _Widths(
        words=tuple(_width(word, letters) * _LARGER for word in words),
        amounts=tuple(_of_amount(amount, letters, narrow=narrow) for amount in row.amounts),
    )


def _of_amount(
    amount: AmountView, letters: Mapping[str, float], *, narrow: bool
) -> tuple[float, tuple[float, ...]]:
    figure = _width(amount.number.striptags(), letters) * _LARGER
    pieces = amount.narrow if narrow else amount.pieces
    return figure, tuple(_width(piece.striptags(), letters) * _LARGER for piece in pieces)


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
        found = {chr(code): metrics[name][0] / em for code, name in tables.getBestCmap().items()}
    return found | dict.fromkeys(digits, max(found.get(digit, 0.6) for digit in digits))
