"""A printed amount of the list, or one drawn from it in a step, read again and held against the author's.

Each column says the same numbers in the same dimension, or through a density that is named; within the
tolerance of the food's role; both ends of a range; the same bounds; of each or of all; in its own units.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from cardsmith.facts.foods.roles import role_class
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.house.style import SYSTEMS, House
from cardsmith.language.line.read import Line, read_text
from cardsmith.language.line.statements import Statement
from cardsmith.language.spans import Share
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Larder
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import COLUMN_NAMES, COLUMNS, Dimension, System
from cardsmith.measure.weighing import density, weight_of_one, weight_of_pack
from cardsmith.readback.findings import otherwise, percent
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import is_ready, measured_form
from cardsmith.rewrite.card.model import CardPart, Rewritten
from cardsmith.rewrite.printed import off
from cardsmith.rewrite.rounding.amounts import DRAW_TOLERANCE
from cardsmith.rewrite.rounding.printable import spoon_spread
from cardsmith.rewrite.wording import short

HEAPED = frozenset({Bound.HEAPING, Bound.ROUNDED})  # more than the spoon is; a weight says so
NEARLY = frozenset({Bound.ABOUT, *(bound for bound in Bound if bound.is_unlevel)})
ANYWHERE = frozenset({System.ANY, System.CONTAINER, System.VAGUE})
ROUGH = Fraction(1, 10)  # a weight that stands beside a count or a cup, to know it by


# How far the low and the high end of a statement are off, as shares: 1/50 is 2 % over.
Ends = tuple[Fraction, Fraction]


@frozen
class Again:
    """A printed amount read again; of each statement its errors, None where it answers to nothing."""

    printed: str
    read: Line
    errors: tuple[Ends | None, ...]


Row = tuple[Ingredient, Mapping[str, Again]]  # a line and its columns, us and metric


@remembered  # the findings and the agreement ask about the same lists
def lists_again(parts: tuple[CardPart, ...], larder: Larder, household: str) -> tuple[tuple[Row, ...], ...]:
    """The lists of all parts read again: each line of which the author gave an amount.

    ``household`` says whose cups and spoons the metric column has.
    """
    return tuple(
        tuple(
            (
                line.line,
                {
                    system: _again(
                        short(line.amount.of(system)), line.line, larder, spoons(system, household)
                    )
                    for system in SYSTEMS
                },
            )
            for line in part.ingredients
            if line.amount and line.line.amount and not line.line.amount.is_vague
        )
        for part in parts
    )


def line_differs(row: Row, house: House, *, governs: bool) -> Iterator[Finding]:
    """A finding for each way in which a row of the list says another amount than its author."""
    line, columns = row
    for system, again in columns.items():
        own = own_systems(system, house.household)
        for why in _wrong(again, line, system, own, _tolerance(line, house, governs=governs)):
            yield otherwise(line.where, line.text, again.printed, why, system)


def draw_differs(
    drawn: Rewritten, taken: Quantity, line: Ingredient, house: House, larder: Larder
) -> Iterator[Finding]:
    """The same of what a step draws from a line: ``taken`` is what its author takes there."""
    alone = replace(line, amount=taken, stated=(), container=None)
    for system in SYSTEMS:
        printed = f"{drawn.bound}{drawn.said(system)}"
        again = _again(printed, alone, larder, spoons(system, house.household))
        spread = max(_tolerance(line, house, governs=True), DRAW_TOLERANCE)
        own = own_systems(system, house.household)
        for why in _wrong(again, alone, system, own, spread):
            yield otherwise(drawn.where, drawn.author, again.printed, why, system)


def _tolerance(line: Ingredient, house: House, *, governs: bool) -> Fraction:
    role = role_class(line.food)
    return house.tolerances["other" if role == "governing" and not governs else role]


def spoons(system: str, household: str) -> System:
    """Whose a bare cup or spoon of a column is."""
    return System(household) if household and system == "metric" else System.US


def own_systems(system: str, household: str) -> frozenset[System]:
    """The systems whose units a column may print: its own, and in metric those of the market's spoons."""
    return frozenset({COLUMNS[system], spoons(system, household) if household else COLUMNS[system]})


def _again(printed: str, line: Ingredient, larder: Larder, measures: System) -> Again:
    """A printed amount read again before its food, whose own figures (70 % chocolate) are left out."""
    named = line.item.partition(") ")[2] if line.item.startswith("(") else line.item  # (5 cm) pieces ginger
    food = "".join(name for name in named if not name.isnumeric())
    read = _read(printed, food, line.food.name if line.food else "food", larder, measures)
    errors = tuple(_errors(_of_all(statement, read), line) for statement in read.statements)
    return Again(printed=printed, read=read, errors=errors)


@lru_cache(maxsize=1 << 12)  # other sizes ask about the same words
def _read(printed: str, food: str, name: str, larder: Larder, measures: System) -> Line:
    """Before the larder's ``name`` where the author's words, without their line, name two foods."""
    read = read_text(f"{printed} {food}", larder, measures)
    return read_text(f"{printed} {name}", larder, measures) if _is_unread(read) else read


def _is_unread(read: Line) -> bool:
    return not read.statements or any(fault.severity is Severity.ERROR for fault in read.faults)


def _wrong(
    again: Again, line: Ingredient, system: str, units: AbstractSet[System], spread: Fraction
) -> Iterator[str]:
    """Why a printed amount is not the author's, in clauses."""
    read = again.read
    if _is_unread(read):
        yield "can't be read again"
        return
    for place, (statement, errors) in enumerate(zip(read.statements, again.errors, strict=True)):
        if statement.quantity.unit.system not in ANYWHERE | units:
            yield f"“{statement.quantity.written}” is not a {COLUMN_NAMES[system]} measure"
        if errors is None:
            yield f"“{statement.quantity.written}” answers to nothing that was written"
        elif max(map(abs, errors)) > (max(spread, ROUGH) if place else _spread(statement.quantity, spread)):
            yield f"“{statement.quantity.written}” is {percent(max(map(abs, errors)))} off"
    main = read.statements[0].quantity
    written = [quantity for quantity in (line.amount, *line.stated) if quantity]
    own = [
        quantity for quantity in written if quantity.unit.system is COLUMNS[system]
    ]  # what this column prints as it was said
    for given in written:
        counted = Dimension.COUNT in (main.dimension, given.dimension)
        restated = given is not line.amount or own
        if restated and given not in own and given.dimension is not Dimension.COUNT:
            continue
        beside = line.amount is not None and line.amount.dimension is given.dimension is Dimension.COUNT
        if beside and given is not line.amount:
            continue  # "1 head (about 12 cloves)": it stands in words behind the food
        exact = line.amount is not None and line.amount.bound is Bound.EXACTLY
        if given is not line.amount and exact and given.bound in NEARLY:
            continue  # "100 ml (about 7 tablespoons)": the tolerance is that of what was measured
        alike = [
            statement.quantity
            for statement in read.statements
            if statement.quantity.dimension is given.dimension
        ]
        quantities = alike if counted or own or given is not line.amount else [main]
        bounds = {quantity.bound for quantity in quantities}
        if (
            quantities
            and given.bound not in bounds
            and not (given.bound in HEAPED and Bound.AT_LEAST in bounds)
        ):
            yield f"its “{given.bound}” is lost"


def _spread(printed: Quantity, spread: Fraction) -> Fraction:
    """The tolerance of a role; a small spoon has its own."""
    return spoon_spread(printed.high, spread) if printed.dimension is Dimension.VOLUME else spread


def _of_all(statement: Statement, read: Line) -> Quantity:
    """A statement as one of all that the line counts."""
    count = next(
        (said.quantity for said in read.statements if said.quantity.dimension is Dimension.COUNT), None
    )
    if statement.share is not Share.EACH or count is None:
        return statement.quantity
    return replace(
        statement.quantity, low=statement.quantity.low * count.low, high=statement.quantity.high * count.high
    )


def _errors(printed: Quantity, line: Ingredient) -> Ends | None:
    """The errors of both ends against the nearest of the author's amounts, through a density or not."""
    written = [quantity for quantity in _statements(line) if quantity.low > 0]
    same = [quantity for quantity in written if quantity.dimension is printed.dimension]
    same += [
        other
        for quantity in written
        # Pieces that were weighed.
        if not (same and Dimension.COUNT in (quantity.dimension, printed.dimension))
        and (other := _as(printed.dimension, quantity, line)) is not None
    ]
    pairs = (_ends_off(printed, quantity) for quantity in same)
    return min(pairs, key=lambda pair: max(map(abs, pair)), default=None)


def _ends_off(printed: Quantity, written: Quantity) -> Ends:
    low = off(printed.low, written.low)
    return low, off(printed.high, written.high) if printed.is_range or written.is_range else low


def _statements(line: Ingredient) -> Iterator[Quantity]:
    """All that the author said of an amount, of all of it."""
    yield from filter(None, (line.amount, *line.stated))
    if line.container:
        yield line.container.count


def _as(dimension: Dimension, quantity: Quantity, line: Ingredient) -> Quantity | None:
    """An amount in another dimension, through the density or the weight of one of its food; else None."""
    if line.food is None:
        return None
    dense = density(line.food, measured_form(line))
    if (quantity.dimension, dimension) == (Dimension.VOLUME, Dimension.MASS) and dense:
        return quantity.times(dense.grams)
    if (quantity.dimension, dimension) == (Dimension.MASS, Dimension.VOLUME) and dense:
        return quantity.times(1 / dense.grams)
    counts = Dimension.COUNT in (quantity.dimension, dimension)
    unit = quantity.unit.name if quantity.dimension is Dimension.COUNT else "one"
    piece = (
        (weight_of_one(line.food, unit, line.size_sold) or weight_of_pack(line.food, unit))
        if counts
        else None
    )
    if piece is None or Dimension.MASS not in (quantity.dimension, dimension):
        return None
    grams = piece.grams if is_ready(line) or piece.bought is None else piece.bought
    return quantity.times(grams if dimension is Dimension.MASS else 1 / grams)
