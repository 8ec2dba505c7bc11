"""Sizes of cards and sheets, from ``card_sizes.csv`` and ``sheet_sizes.csv``, of ours and the house's own."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.finding import CardsmithError, Finding, Where
from cardsmith.frozen import frozen
from cardsmith.house.own.tables import NO_TABLES, OwnTables, Row, fault_of, filled, misnamed
from cardsmith.regex import regex

POINTS = {
    "in": Fraction(72),
    "mm": Fraction(720, 254),
    "pt": Fraction(1),
}  # 1 in = 72 pt (ISO 32000-1, 8.3.2.3)
CARDS, SHEETS = "card_sizes", "sheet_sizes"
BLEED = Fraction(9)  # points, 0.125 in: what is drawn past the cut, where no printer asks for more
GUTTER = Fraction(20)  # points between two columns
# Points; common practice, no source. A column of 35 mm holds two words a line; no sheet fed is over 1.2 m.
NARROWEST, LARGEST = Fraction(100), Fraction(3400)
_LENGTH = regex(r"(?P<number>\d{1,4}(?:\.\d{1,6}|/[1-9]\d{0,3})?) (?P<unit>in|mm|pt)")


@frozen
class CardSize:
    """One size of card, in points; the text area is what the margins leave."""

    name: str
    shown: str  # as a reader knows it: 5 × 7 in
    width: Fraction
    height: Fraction
    columns: int
    top: Fraction
    side: Fraction
    foot: Fraction
    widened: Fraction = Fraction(0)  # by which a list in the second column reaches into the first

    @property
    def text_width(self) -> Fraction:
        """Between the side margins."""
        return self.width - 2 * self.side

    @property
    def column_width(self) -> Fraction:
        """Of one column."""
        return (self.text_width - (self.columns - 1) * GUTTER) / self.columns

    @property
    def first_height(self) -> Fraction:
        """Of the text area of the front."""
        return self.height - self.top - self.foot


@frozen
class SheetSize:
    """Paper as it is fed, upright."""

    name: str
    shown: str
    width: Fraction
    height: Fraction
    margin: Fraction  # at each edge, where the machine cannot print

    def holds(self, card: CardSize, bleed: Fraction) -> bool:
        """Whether one card with its bleed fits what the machine can print, upright or on its side."""
        inside = sorted((self.width - 2 * self.margin, self.height - 2 * self.margin))
        wanted = sorted((card.width + 2 * bleed, card.height + 2 * bleed))
        return all(room >= need for room, need in zip(inside, wanted, strict=True))


def length(text: str) -> Fraction:
    """``3 mm`` in points.

    Raises:
        CardsmithError: a number, a space and one of in, mm and pt are wanted.
    """
    match = _LENGTH.fullmatch(text.strip())
    if match is None:
        raise CardsmithError(f"{text!r} is not a length; write 5 in, 105 mm or 9 pt")
    return Fraction(match["number"]) * POINTS[match["unit"]]


def card_size(name: str, own: OwnTables = NO_TABLES) -> CardSize:
    """The size of a name.

    Raises:
        CardsmithError: no such size.
    """
    cells = own.row(CARDS, name.lower(), "card size").cells
    lengths = {key: length(cells[key]) for key in ("width", "height", "top", "side", "foot")}
    return CardSize(name=cells["name"], shown=cells["shown"], columns=int(cells["columns"]), **lengths)


def sheet_size(name: str, own: OwnTables = NO_TABLES) -> SheetSize:
    """The sheet of a name.

    Raises:
        CardsmithError: no such sheet.
    """
    cells = own.row(SHEETS, name.lower(), "sheet").cells
    lengths = {key: length(cells[key]) for key in ("width", "height", "margin")}
    return SheetSize(name=cells["name"], shown=cells["shown"], **lengths)


def paper_faults(own: OwnTables) -> Iterator[Finding]:
    """What is wrong with the house's own cards and sheets, row by row."""
    for row, where in own.placed(CARDS):
        findings = [
            *misnamed(row, where),
            *filled(row, where, ("shown", "source")),
            *_length_faults(row, where),
        ]
        yield from findings or _card_faults(card_size(row.name, own), where)
    for row, where in own.placed(SHEETS):
        findings = [
            *misnamed(row, where),
            *filled(row, where, ("shown", "source")),
            *_length_faults(row, where),
        ]
        yield from findings or _sheet_faults(sheet_size(row.name, own), where)


def _length_faults(row: Row, where: Where) -> Iterator[Finding]:
    """Findings for what is no length, and for a count of columns that no card has."""
    for key, text in row.cells.items():
        if key in ("width", "height", "top", "side", "foot", "margin"):
            match = _LENGTH.fullmatch(text)
            if match is None or length(text) > LARGEST:
                what = f"{row.name}: its {key}, “{text}”, is not a length"
                yield fault_of(where, what, f"a {key} such as 105 mm, 5 in or 9 pt")
        if key == "columns" and text not in ("1", "2"):
            yield fault_of(where, f"{row.name}: a card has no “{text}” columns", "columns 1 or 2")


def _card_faults(card: CardSize, where: Where) -> Iterator[Finding]:
    if card.column_width < NARROWEST:
        what = (
            f"{card.name}: its margins leave {_told(card.column_width)} to a column, under {_told(NARROWEST)}"
        )
        yield fault_of(where, what, "a smaller side, fewer columns or a wider card")
    if card.first_height < NARROWEST:
        what = (
            f"{card.name}: its margins leave {_told(card.first_height)} of height, under {_told(NARROWEST)}"
        )
        yield fault_of(where, what, "a smaller top and foot, or a higher card")


def _sheet_faults(sheet: SheetSize, where: Where) -> Iterator[Finding]:
    if sheet.width > sheet.height:
        what = f"{sheet.name}: it is {_told(sheet.width)} wide and {_told(sheet.height)} high"
        yield fault_of(where, what, "the shorter edge as its width; it is turned where more cards fit so")


def too_small(own: OwnTables, card: CardSize, bleed: Fraction) -> Iterator[Finding]:
    """The house's own sheets that don't hold one of its cards."""
    for row, where in own.placed(SHEETS):
        if not (sheet := sheet_size(row.name, own)).holds(card, bleed):
            what = f"{sheet.name}: less its margins it is smaller than a card of {card.shown} with its bleed"
            yield fault_of(where, what, "a larger sheet or a smaller margin, or take the row out")


def _told(points: Fraction) -> str:
    return f"{float(points / POINTS['mm']):.0f} mm"
