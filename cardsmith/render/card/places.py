"""Where a picture may stand on a card: the places that suit its shape, the best first, each with its size.

A landscape goes across the head of the card, an upright picture over a whole back or beside what is read
first, a square one small beside the headnote; on a card on its side that has one column, any may stand beside
what is read first. A card that is full has it small at its end, beside the notes. A place suits where no more
than a third of the picture is cut off; the recipe's own word (``photo: {place: beside}``) goes before it all.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.render.pictures.prepare import Box
from cardsmith.render.sizes import quarter

# All of these: common practice, no source.
MOST_CUT = Fraction(1, 3)  # of a picture, without a word about it
_CUTS = (Fraction(0), Fraction(1, 6), MOST_CUT)  # that a place tries, the largest picture first
_HIGHEST = Fraction(1, 2)  # of the card, a picture with text below it
_LOWEST = Fraction(1, 5)
_HIGH = Fraction(3, 4)  # of the card, what stands over a column
_UPRIGHT = Fraction(4, 5)  # width over height, under which a picture stands beside the text
_SHARE = Fraction(2, 5)  # of the card's width, such a picture
_SHARE_OF_LOW = Fraction(9, 20)  # of the width of a low card
_ABOVE_FOOT = Fraction(9)  # points from such a picture to the foot of the text, its gap among them
# Of the text's width, or of its height on a side that is low, a square: the smaller where a card is full.
_SQUARES = (Fraction(2, 5), Fraction(3, 10))
_WITHIN = ("square", "notes")  # stand within the text area, over no edge of the card
_GAP = Fraction(11, 2)  # points, at least, below a picture
BESIDE = Fraction(12)  # points between a picture and the text that runs around it
_OF_COLUMN = Fraction(2, 5)  # of a column's width, a picture beside the notes
_ORDERS = (  # from which shape on (width over height) which places come first
    (Fraction(5, 4), ("head", "back", "method", "square", "notes")),
    (_UPRIGHT, ("square", "back", "head", "beside", "method", "notes")),
    (Fraction(0), ("back", "method", "beside", "square", "head", "notes")),
)


@frozen
class Place:
    """One place for a picture."""

    name: str  # head, beside, square, method, back or notes, as the recipe's schema has them
    box: Box  # with what is cut off at the edges of the card
    over: Fraction  # points of its height that reach past the text area, into margin and bleed
    cut: Fraction  # the share of the picture that does not show
    indent: Fraction = Fraction(0)  # points by which it shortens the lines beside it, its gap among them
    flowed: bool = False  # whether text runs around it, on its left
    upright: bool = False  # whether it stands over a whole column of two
    small: bool = False  # the least that a picture may be: for a card that is full

    def file(self, picture: str) -> str:
        """The name of a picture made ready for this place."""
        return f"{self.name}-{float(self.box.height):.6g}-{picture}"

    def depth(self, text: Fraction) -> Fraction:
        """How far it reaches into the text area with the gap below it: points, whole quarters of a line."""
        return ceil((self.box.height - self.over + _GAP) / quarter(text)) * quarter(text)

    def gap(self, text: Fraction) -> Fraction:
        """What is left free below it, in points."""
        return self.depth(text) - (self.box.height - self.over)

    def room(self, size: CardSize, text: Fraction) -> Fraction:
        """The height of text that it takes the place of, in points, all columns together."""
        if self.flowed:
            return self.depth(text) * self.indent / size.column_width
        return size.first_height if self.upright else self.depth(text)


def places(
    size: CardSize, bleed: Fraction, shape: Fraction, wanted: str = "", house: Sequence[str] = ()
) -> tuple[Place, ...]:
    """The places for a picture of a shape (width over height), the best first.

    ``house`` are those that a house uses; where it names none, all. Where one is wanted, only that, however
    much is cut off there; none where ``none`` is wanted.
    """
    if wanted:
        boxes = _boxes(wanted, size, bleed, shape)
        return tuple(
            sorted((_place(wanted, size, bleed, shape, box) for box in boxes), key=lambda place: place.cut)
        )
    names = house or next(names for least, names in _ORDERS if shape >= least)
    if not house and _low(size):
        names = ("beside", *(name for name in names if name != "beside"))
    every = (
        _place(name, size, bleed, shape, box) for name in names for box in _boxes(name, size, bleed, shape)
    )
    return tuple(place for place in every if place.cut <= MOST_CUT)


def _boxes(name: str, size: CardSize, bleed: Fraction, shape: Fraction) -> Iterator[Box]:
    """The boxes of a place, the largest first."""
    one_column = size.columns == 1
    column = size.width if one_column else size.side + size.column_width
    highest = size.height * (_HIGHEST if one_column else _HIGHEST * Fraction(6, 5)) + bleed
    match name:
        case "beside" if _low(size):
            highest = size.top + size.first_height + bleed - _ABOVE_FOOT
            width = size.width * _SHARE_OF_LOW + bleed
            for height in sorted({min(width / shape / (1 - cut), highest) for cut in _CUTS}, reverse=True):
                yield Box(width=width, height=height)
        case "beside" | "method" if one_column and (name == "beside" or shape < _UPRIGHT):
            yield from _by_height(size.width * _SHARE + bleed, min(shape, Fraction(1)), Fraction(0), highest)
        case "beside" if one_column or size.widened:
            return
        case "beside" | "method" if name == "beside" or shape < _UPRIGHT:
            yield Box(width=column + bleed, height=size.height - size.foot + bleed)
        case "head" | "method":
            width = column + bleed * (2 if one_column else 1) - (size.widened if name == "head" else 0)
            yield from _by_height(width, shape, size.height * _LOWEST, highest)
        case "square" if one_column:
            for share in _SQUARES:
                edge = min(size.text_width, size.first_height) * share
                yield Box(width=edge, height=edge)
        case "back":
            yield Box(width=size.width + 2 * bleed, height=size.height + 2 * bleed)
        case "notes":  # as near a square as it may be cut
            width, least = size.column_width * _OF_COLUMN, 1 - MOST_CUT
            yield Box(width=width, height=width / max(shape * least, min(shape / least, Fraction(1))))


def _low(size: CardSize) -> bool:
    """Whether a card lies on its side and has one column."""
    return size.columns == 1 and size.width > size.height


def _by_height(width: Fraction, shape: Fraction, lowest: Fraction, highest: Fraction) -> Iterator[Box]:
    """Boxes as wide, of the picture's own height and somewhat lower, within bounds."""
    whole = width / shape
    heights = {min(whole, max(lowest, min(highest, (1 - cut) * whole))) for cut in _CUTS}
    for height in sorted(heights, reverse=True):
        yield Box(width=width, height=height)


def _place(name: str, size: CardSize, bleed: Fraction, shape: Fraction, box: Box) -> Place:
    drawn = box.width / box.height
    beyond = Fraction(0) if name in _WITHIN else size.side + bleed
    return Place(
        name=name,
        box=box,
        over=Fraction(0) if name in _WITHIN else size.top + bleed,
        cut=1 - min(shape / drawn, drawn / shape),
        indent=box.width - beyond + BESIDE,
        upright=size.columns > 1 and name in {"beside", "method"} and box.height > size.height * _HIGH,
        small=name == "square" and box.width < min(size.text_width, size.first_height) * _SQUARES[0],
        flowed=name in _WITHIN or (size.columns == 1 and box.width < size.width / 2),
    )
