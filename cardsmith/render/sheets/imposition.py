"""Imposition: which card stands where on which sheet, so that every back lines up with its own front.

Coordinates are points from the lower left corner of a page as its reader holds it; exact, never float.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize, SheetSize, sheet_size
from cardsmith.reference import table

MARK_GAP = Fraction(3, 2)  # points between the bleed and a cut mark
MARK = Fraction(14)  # points, a cut mark where there is room
_SHORTEST_MARK = Fraction(3)  # points of it that must print
SLUG_LINE = Fraction(8)  # points; a sheet has room for one line at least
FLIPS = ("long", "short")
ORDERS = ("reading", "stack", "repeat")

SheetPoint = tuple[Fraction, Fraction]
SheetPlaces = tuple[int | None, ...]  # for each place, which leaf stands there; None for an empty place


@frozen
class Grid:
    """Places for cards in the middle of a sheet, their bleeds edge to edge.

    Centred, so that a place and its mirror image coincide over whichever edge the sheet is turned.
    """

    width: Fraction  # of the sheet as it lies
    height: Fraction
    margin: Fraction
    card_width: Fraction
    card_height: Fraction
    bleed: Fraction
    columns: int
    rows: int

    @property
    def count(self) -> int:
        """How many cards a sheet takes."""
        return self.columns * self.rows

    @property
    def left(self) -> Fraction:
        """From the sheet's edge to the cut of the first column, and from the last to the other edge."""
        across = self.columns * self.card_width + (self.columns - 1) * 2 * self.bleed
        return (self.width - across) / 2

    @property
    def foot(self) -> Fraction:
        """From the sheet's edge to the cut of the last row, and from the first to the other edge."""
        down = self.rows * self.card_height + (self.rows - 1) * 2 * self.bleed
        return (self.height - down) / 2

    @property
    def holds_marks(self) -> bool:
        """Whether marks stand between bleed and margin all around, and a slug on one side."""
        least, most = sorted(edge - self.bleed - MARK_GAP - self.margin for edge in (self.left, self.foot))
        return least >= _SHORTEST_MARK and most >= SLUG_LINE

    @property
    def slug_at_foot(self) -> bool:
        """Whether the slug stands at the foot, rather than on its side at the left."""
        return self.foot >= self.left

    @property
    def slug_room(self) -> Fraction:
        """Points between the bleed and the margin on the side of the slug."""
        return max(self.foot, self.left) - self.bleed - MARK_GAP - self.margin

    def cuts_across(self) -> tuple[Fraction, ...]:
        """The x of every cut, from the left."""
        pitch = self.card_width + 2 * self.bleed
        lefts = [self.left + column * pitch for column in range(self.columns)]
        return tuple(edge for left in lefts for edge in (left, left + self.card_width))

    def cuts_down(self) -> tuple[Fraction, ...]:
        """The y of every cut, from the foot."""
        pitch = self.card_height + 2 * self.bleed
        feet = [self.foot + row * pitch for row in range(self.rows)]
        return tuple(edge for foot in feet for edge in (foot, foot + self.card_height))

    def front(self, place: int) -> SheetPoint:
        """The lower left corner of a place's cut; places count in reading order, from the upper left."""
        row, column = divmod(place, self.columns)
        return self._corner(row, column)

    def back(self, place: int) -> SheetPoint:
        """The same place seen from behind, the sheet turned over like the page of a book."""
        row, column = divmod(place, self.columns)
        return self._corner(row, self.columns - 1 - column)

    def _corner(self, row: int, column: int) -> SheetPoint:
        return self.cuts_across()[2 * column], self.cuts_down()[2 * (self.rows - 1 - row)]


def best_grid(sheet: SheetSize, size: CardSize, bleed: Fraction) -> Grid:
    """The grid that holds most cards; of two that hold as many, the one whose narrowest margin is wider.

    Raises:
        CardsmithError: not even one card fits, and which sheet would take it.
    """
    grids = _grids(sheet, size, bleed)
    if not grids:
        others = [row["name"] for row in table("sheet_sizes") if _grids(sheet_size(row["name"]), size, bleed)]
        instead = f"it fits {', '.join(others)}" if others else "choose a smaller card in house.yaml"
        raise CardsmithError(
            f"a card of {size.shown} with its bleed, cut marks and the printer's margin does not fit "
            f"{sheet.shown}; {instead}"
        )
    return max(grids, key=lambda grid: (grid.count, min(grid.left, grid.foot)))


def _grids(sheet: SheetSize, size: CardSize, bleed: Fraction) -> list[Grid]:
    """Every full grid with room for its marks, the sheet upright or on its side."""
    most = int(sheet.height / min(size.width, size.height))
    tried = (
        Grid(
            width=width,
            height=height,
            margin=sheet.margin,
            card_width=size.width,
            card_height=size.height,
            bleed=bleed,
            columns=columns,
            rows=rows,
        )
        for width, height in ((sheet.width, sheet.height), (sheet.height, sheet.width))
        for columns in range(1, most + 1)
        for rows in range(1, most + 1)
    )
    return [grid for grid in tried if grid.holds_marks]


def backs_upside_down(grid: Grid, flip: str) -> bool:
    """Whether the page of backs is turned by 180 degrees.

    A card turns like the page of a book, its back the right way up, however the printer turns the sheet.
    Turned over an upright edge, a sheet keeps its head up. Turned over its head or foot it does not, which
    half a turn of its back corrects: together they equal a turn over an upright edge.
    """
    long_edge_is_upright = grid.height > grid.width
    return (flip == "long") is not long_edge_is_upright


@frozen
class PrintRun:
    """Sheets to print, each so many times."""

    sheets: tuple[SheetPlaces, ...]
    times: int = 1


def arranged(leaves: Sequence[int], places: int, *, copies: int = 1, order: str = "reading") -> PrintRun:
    """Leaves on sheets of so many places.

    ``reading``: every copy of the first, then of the second, in reading order. ``stack``: so the piles of
    the cut sheets, laid on each other, hold whole sets in order. ``repeat``: each sheet full of one leaf,
    printed as often as it takes.
    """
    if order == "repeat":
        return PrintRun(sheets=tuple((leaf,) * places for leaf in leaves), times=-(-copies // places))
    if order == "stack":
        wanted = [leaf for _ in range(copies) for leaf in leaves]
        high = -(-len(wanted) // places)
        piles = [wanted[start : start + high] for start in range(0, len(wanted), high)]
        return PrintRun(
            sheets=tuple(
                tuple(
                    piles[place][sheet] if _within(piles, place, sheet) else None for place in range(places)
                )
                for sheet in range(high)
            )
        )
    wanted = [leaf for leaf in leaves for _ in range(copies)]
    wholes = [wanted[start : start + places] for start in range(0, len(wanted), places)]
    return PrintRun(sheets=tuple(tuple(some) + (None,) * (places - len(some)) for some in wholes))


def _within(piles: list[list[int]], place: int, sheet: int) -> bool:
    return place < len(piles) and sheet < len(piles[place])
