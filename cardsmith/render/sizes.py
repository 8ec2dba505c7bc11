"""Sizes of cards and of sheets: what is cut, where its text may stand, the lengths that templates take."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.reference import table

POINTS = {
    "in": Fraction(72),
    "mm": Fraction(720, 254),
    "pt": Fraction(1),
}  # 1 in = 72 pt (ISO 32000-1, 8.3.2.3)
BLEED = Fraction(9)  # points, 0.125 in: what is drawn past the cut; a printer's profile may use less
LEADING = Fraction(132, 100)  # em, from line to line of text
_QUARTERS_OF_HEAD = 2  # quarters of a line more at the top of a page that carries the title again
_GUTTER = Fraction(20)  # points between two columns
_ITEM = Fraction(38, 100)  # of a column's width, at least, in which the list names what it measures
_LETTER = Fraction(65, 100)  # em, of a wide word in the weight of that name
_MEASURE = Fraction(305)  # points of text width for which the titles are drawn
_LARGEST_TITLE = Fraction(6, 5)


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

    @property
    def text_width(self) -> Fraction:
        """Between the side margins."""
        return self.width - 2 * self.side

    @property
    def column_width(self) -> Fraction:
        """Of one column."""
        return (self.text_width - (self.columns - 1) * _GUTTER) / self.columns

    @property
    def first_height(self) -> Fraction:
        """Of the text area of the front."""
        return self.height - self.top - self.foot

    def other_height(self, text: Fraction) -> Fraction:
        """Of the text area of every other page, whose top carries the title again, at points of type."""
        return self.first_height - _QUARTERS_OF_HEAD * quarter(text)

    def measures(self, text: Fraction) -> dict[str, str | float]:
        """Lengths for the templates at points of type, in CSS.

        ``title`` is a factor, ``quarter`` points, ``item`` letters that a line of the list's names holds.
        """
        lengths = {
            "width": self.width,
            "height": self.height,
            "top": self.top,
            "top_running": self.top + _QUARTERS_OF_HEAD * quarter(text),
            "side": self.side,
            "foot": self.foot,
            "bleed": BLEED,
            "text_width": self.text_width,
            "first_height": self.first_height,
            "other_height": self.other_height(text),
            "gutter": _GUTTER,
        }
        title = min(self.column_width / _MEASURE, _LARGEST_TITLE)
        return {name: f"{float(value):.8g}pt" for name, value in lengths.items()} | {
            "title": round(float(title), 3),
            "quarter": round(float(quarter(text)), 6),
            "item": int(_ITEM * self.column_width / (_LETTER * text)),
        }


def quarter(text: Fraction) -> Fraction:
    """A quarter of a line, in points: lines of text begin on multiples of it from the top of the page."""
    return LEADING * text / 4


def length(text: str) -> Fraction:
    """``3 mm`` in points.

    Raises:
        CardsmithError: a number, a space and one of in, mm and pt are wanted.
    """
    number, _, unit = text.strip().partition(" ")
    try:
        return Fraction(number) * POINTS[unit]
    except (KeyError, ValueError) as fault:
        raise CardsmithError(f"{text!r} is no length; write 5 in, 105 mm or 9 pt") from fault


@cache
def card_size(name: str) -> CardSize:
    """The size of a name in ``reference/card_sizes.csv``.

    Raises:
        CardsmithError: no such size.
    """
    for row in table("card_sizes"):
        if row["name"] == name.lower():
            lengths = {key: length(row[key]) for key in ("width", "height", "top", "side", "foot")}
            return CardSize(name=row["name"], shown=row["shown"], columns=int(row["columns"]), **lengths)
    known = ", ".join(row["name"] for row in table("card_sizes"))
    raise CardsmithError(f"there is no card size {name!r}; sizes: {known}")


@frozen
class SheetSize:
    """Paper as it is fed, upright."""

    name: str
    shown: str
    width: Fraction
    height: Fraction
    margin: Fraction  # at each edge, where the machine cannot print


@cache
def sheet_size(name: str) -> SheetSize:
    """The sheet of a name in ``reference/sheet_sizes.csv``.

    Raises:
        CardsmithError: no such sheet.
    """
    for row in table("sheet_sizes"):
        if row["name"] == name.lower():
            lengths = {key: length(row[key]) for key in ("width", "height", "margin")}
            return SheetSize(name=row["name"], shown=row["shown"], **lengths)
    known = ", ".join(row["name"] for row in table("sheet_sizes"))
    raise CardsmithError(f"there is no sheet {name!r}; sheets: {known}")
