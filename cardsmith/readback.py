"""What is printed, read again as a reader reads it, and held against what the author wrote.

Every line, step and field of a card is read again by `language`, in each column, and must say what the
author said: the same numbers in the same dimension within the tolerance of their role, both ends of a range,
the same bounds, of each or of all, each column in its own system's units. What answers to nothing that the
author wrote is an error: a card that reads as another recipe does not print, whoever is to blame.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import combinations

from cardsmith.finding import Finding, Severity, Where
from cardsmith.house import SYSTEMS, House
from cardsmith.language.line import Line, read_text
from cardsmith.language.line_statements import Statement
from cardsmith.language.prose import read_prose
from cardsmith.language.sentences import Reading, readings
from cardsmith.language.spans import Kind, Measured, Purpose, Share, Span, Told, Unread, Words
from cardsmith.measure.larder import Larder
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.measure.weighing import density, weight_of_one
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import is_ready, measured_form
from cardsmith.rewrite.batches import Batch, Batches, Refused
from cardsmith.rewrite.card import Card, CardIngredient, Rewritten
from cardsmith.rewrite.printable import spoon_spread
from cardsmith.rewrite.subject import role_class
from cardsmith.rewrite.variables import governors
from cardsmith.rewrite.wording import short

PLACEHOLDER = "\ufffc"  # stands in the printed text for what is read by itself, or not at all
OWN = {"us": System.US, "metric": System.METRIC}
ANYWHERE = frozenset({System.ANY, System.CONTAINER, System.VAGUE})
ROUGH = Fraction(1, 10)  # a weight that stands beside a count or a cup, to know it by
SPREAD = {
    Kind.LENGTH: Fraction(1, 10),
    Kind.VESSEL: Fraction(1, 8),
    Kind.AMOUNT: Fraction(1, 8),
    Kind.PRESSURE: Fraction(1, 20),
    Kind.ALTITUDE: Fraction(1, 10),
}  # common practice, no source; what a market sells a pan by stands up to an eighth off
DEGREES = {
    Purpose.OVEN: Fraction(9),
    Purpose.SMOKER: Fraction(5),
    Purpose.GRILL: Fraction(5),
}  # °C, a dial's step
THIN = Fraction(5)  # mm; below it no ruler has the inches, and the millimetres stand in both
ONE_DEGREE = Fraction(1)  # °C, of any other heat


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """How far a line's two columns stand from the author's amount, as shares: 1/50 is 2 % over."""

    us: Fraction
    metric: Fraction
    part: int
    governs: bool


def read_back(card: Card, house: House, larder: Larder) -> tuple[Finding, ...]:
    """A finding for every place where the card reads otherwise than its author wrote."""
    found: list[Finding] = []
    for part, written_part in zip(card.parts, card.recipe.parts, strict=True):
        governing = governors(written_part)
        for line in part.ingredients:
            found += _line(line, house, larder, governs=line.line.where in governing)
    steps = [step for part in card.parts for step in part.steps]
    for step, written in zip(steps, card.recipe.steps, strict=True):
        found += _text(step.spans, written.spans, step.where)
    recipe, measures = card.recipe, System(card.recipe.measures)
    fields = [
        (card.headnote, recipe.headnote, recipe.where),
        (card.storage, recipe.storage, recipe.where),
        *((spans, note.text, note.where) for spans, note in zip(card.notes, recipe.notes, strict=True)),
        *(
            ((Words(text=printed),), thing.text, thing.where)
            for printed, thing in zip(card.equipment, recipe.equipment, strict=True)
        ),
    ]
    for spans, text, where in fields:
        found += _text(spans, read_prose(text, where, measures), where)
    return tuple(found)


def faithful(made: Batches, house: House, larder: Larder) -> Batches:
    """The sizes that read as the author's recipe at that size, each with its own agreement; no others."""
    kept: list[Batch] = []
    refused = list(made.refused)
    for one in made.offered:
        if found := read_back(one.card, house, larder):
            refused.append(Refused(factor=one.factor, why=found[0].what))
        else:
            kept.append(replace(one, card=replace(one.card, agreement=agreement(one.card, larder))))
    return Batches(offered=tuple(kept), refused=tuple(refused))


def agreement(card: Card, larder: Larder) -> str:
    """``US and metric agree within 2.4 % on every line; no ratio moves by more than 2.1 %.``

    Both are worked out from the printed words of every line, read again.
    """
    gaps = list(_gaps(card, larder))
    if not gaps:
        return ""
    apart = max(abs((1 + one.us) / (1 + one.metric) - 1) for one in gaps)
    moved = [
        (1 + max(first, second)) / (1 + min(first, second)) - 1
        for one, other in combinations([gap for gap in gaps if gap.governs], 2)
        if one.part == other.part
        for first, second in ((one.us, other.us), (one.metric, other.metric))
    ]
    lines = f"US and metric agree within {_percent(apart)} on every line"
    if not any(moved):
        return f"{lines}."
    ratios = f"no ratio of the formula, salt and leaven included, moves by more than {_percent(max(moved))}"
    return f"{lines}; {ratios}."


def _percent(share: Fraction) -> str:
    """Upwards to a tenth, so that the statement is never better than the numbers."""
    tenths = -((-share.numerator * 1000) // share.denominator)
    return f"{tenths / 10:.1f} %"


# --- lines --------------------------------------------------------------------------------------------


def _line(line: CardIngredient, house: House, larder: Larder, *, governs: bool) -> Iterator[Finding]:
    written = line.line
    if line.amount is None or written.amount is None or written.amount.is_vague:
        return
    for system in SYSTEMS:
        printed = short(line.amount.of(system))
        for why in _wrong(_read(printed, written, larder), written, system, house, governs=governs):
            yield _otherwise(written.where, written.text, printed, system, why)


def _read(printed: str, line: Ingredient, larder: Larder) -> Line:
    """A printed amount read again before its food, whose own figures (70 % chocolate) are left out."""
    food = "".join(one for one in line.item if not one.isnumeric())
    return _again(printed, food, line.food.name if line.food else "food", larder)


@lru_cache(
    maxsize=1 << 12
)  # the findings, the statement of agreement and other sizes ask about the same words
def _again(printed: str, food: str, name: str, larder: Larder) -> Line:
    """Before the larder's ``name`` where the author's words, without their line, name two foods."""
    read = read_text(f"{printed} {food}", larder)
    return read_text(f"{printed} {name}", larder) if _is_unread(read) else read


def _is_unread(read: Line) -> bool:
    return not read.statements or any(fault.severity is Severity.ERROR for fault in read.faults)


def _wrong(read: Line, line: Ingredient, system: str, house: House, *, governs: bool) -> Iterator[str]:
    """Why a printed amount is not the author's, in clauses."""
    if _is_unread(read):
        yield "can't be read again"
        return
    role = role_class(line.food)
    spread = house.tolerances["other" if role == "governing" and not governs else role]
    for place, one in enumerate(read.statements):
        if one.quantity.unit.system not in ANYWHERE | {OWN[system]}:
            yield f"“{one.quantity.written}” is no {_column(system)} measure"
        errors = _errors(_of_all(one, read), line)
        if errors is None:
            yield f"“{one.quantity.written}” answers to nothing that was written"
        elif max(map(abs, errors)) > (max(spread, ROUGH) if place else _spread(one.quantity, spread)):
            yield f"“{one.quantity.written}” is {_percent(max(map(abs, errors)))} off"
    main = read.statements[0].quantity
    written = [one for one in (line.amount, *line.stated) if one]
    own = [one for one in written if one.unit.system is OWN[system]]  # what this column prints as it was said
    for given in written:
        counted = Dimension.COUNT in (main.dimension, given.dimension)
        if own and given not in own and given.dimension is not Dimension.COUNT:
            continue
        alike = [one.quantity for one in read.statements if one.quantity.dimension is given.dimension]
        told = alike if counted or own or given is not line.amount else [main]
        if told and given.bound not in {one.bound for one in told}:
            yield f"its “{given.bound}” is lost"


def _spread(printed: Quantity, spread: Fraction) -> Fraction:
    """The tolerance of a role; a small spoon has its own."""
    return spoon_spread(printed.high, spread) if printed.dimension is Dimension.VOLUME else spread


def _of_all(one: Statement, read: Line) -> Quantity:
    """A statement as one of all that the line counts."""
    count = next(
        (said.quantity for said in read.statements if said.quantity.dimension is Dimension.COUNT), None
    )
    if one.share is not Share.EACH or count is None or count.high <= 1:
        return one.quantity
    return replace(one.quantity, low=one.quantity.low * count.low, high=one.quantity.high * count.high)


def _errors(printed: Quantity, line: Ingredient) -> tuple[Fraction, Fraction] | None:
    """The errors of both ends against the nearest of the author's amounts, through a density or not."""
    written = [one for one in _statements(line) if one.low > 0]
    same = [one for one in written if one.dimension is printed.dimension]
    same += [other for one in written if (other := _as(printed.dimension, one, line)) is not None]
    pairs = [(printed.low / one.low - 1, printed.high / one.high - 1) for one in same]
    return min(pairs, key=lambda pair: max(map(abs, pair)), default=None)


def _statements(line: Ingredient) -> Iterator[Quantity]:
    """All that the author said of an amount, of all of it."""
    yield from filter(None, (line.amount, *line.stated))
    if line.container:
        yield line.container.count


def _as(dimension: Dimension, one: Quantity, line: Ingredient) -> Quantity | None:
    """An amount in another dimension, through the density or the weight of one of its food; else None."""
    if line.food is None:
        return None
    dense = density(line.food, measured_form(line))
    if (one.dimension, dimension) == (Dimension.VOLUME, Dimension.MASS) and dense:
        return one.times(dense.grams)
    if (one.dimension, dimension) == (Dimension.MASS, Dimension.VOLUME) and dense:
        return one.times(1 / dense.grams)
    counts = Dimension.COUNT in (one.dimension, dimension)
    unit = one.unit.name if one.dimension is Dimension.COUNT else "one"
    piece = weight_of_one(line.food, unit, line.size_sold) if counts else None
    if piece is None or Dimension.MASS not in (one.dimension, dimension):
        return None
    grams = piece.grams if is_ready(line) or piece.bought is None else piece.bought
    return one.times(grams if dimension is Dimension.MASS else 1 / grams)


def _gaps(card: Card, larder: Larder) -> Iterator[Gap]:
    """The errors of each line in both columns, as far as they can be compared."""
    for place, part in enumerate(card.parts):
        for line in part.ingredients:
            written = line.line
            if line.amount is None or written.amount is None or written.amount.is_vague:
                continue
            errors: list[Fraction] = []
            for system in SYSTEMS:
                read = _read(short(line.amount.of(system)), written, larder)
                pairs = (_errors(_of_all(one, read), written) for one in read.statements)
                errors.append(
                    max((end for pair in pairs if pair for end in pair), key=abs, default=Fraction(0))
                )
            aside = written.for_use or written.optional or written.to_taste
            formula = role_class(written.food) not in {"other", "seasoning"}
            yield Gap(us=errors[0], metric=errors[1], part=place, governs=formula and not aside)


# --- running text -------------------------------------------------------------------------------------


def _text(printed: Iterable[Span | Rewritten], written: Iterable[Span], where: Where) -> Iterator[Finding]:
    """The numerals of a printed text against those of the author's, in order."""
    said = "".join(_visible(span) for span in printed)
    wanted = [span for span in written if isinstance(span, Measured | Told | Unread)]
    got = readings(said)
    if len(got) != len(wanted):
        names = " · ".join(one.text for one in got), " · ".join(one.text for one in wanted)
        yield _otherwise(where, names[1], names[0], "", "it reads as other numbers")
        return
    for one, span in zip(got, wanted, strict=True):
        why = _differs(one, span)
        if why:
            yield _otherwise(getattr(span, "where", where), span.text, one.text, "", why)


def _visible(span: Span | Rewritten) -> str:
    if isinstance(span, Words):
        return span.text
    if isinstance(span, Rewritten) and not span.ingredient:
        return span.text
    return PLACEHOLDER


def _differs(one: Reading, span: Measured | Told | Unread) -> str:
    """Why a printed numeral is not the author's; empty where it is."""
    if isinstance(span, Unread):
        return ""
    if isinstance(span, Told):
        same = not one.sides and (one.low, one.high) == (span.low, span.high)
        return "" if same else "it counts something else"
    if not one.sides:
        return "" if span.quantity.is_vague else "its unit is lost"
    every = (*one.sides, *one.stated)
    systems = {quantity.unit.system for quantity in every}
    if _in_both(span) and not systems >= {System.US, System.METRIC}:
        return "one system is missing"
    for number, quantity in enumerate(every):
        side = span.sides[number % len(span.sides)]
        if quantity.dimension is not side.dimension:
            return f"“{quantity.written}” measures something else"
        if not _near(quantity, side, span):
            return f"“{quantity.written}” is not “{side.written}”"
    if one.bound is not span.quantity.bound:
        return f"it says “{one.bound}” where “{span.quantity.bound}” was written"
    return ""


def _in_both(span: Measured) -> bool:
    """Whether a measure stands in both systems: a time, a power and a vague measure do not."""
    quantity = span.quantity
    known = quantity.unit.system not in ANYWHERE | {System.UNKNOWN}
    if quantity.dimension is Dimension.LENGTH and quantity.low < THIN:
        return False
    return known and quantity.dimension not in {Dimension.DURATION, Dimension.POWER, Dimension.ENERGY}


def _near(printed: Quantity, written: Quantity, span: Measured) -> bool:
    ends = ((printed.low, written.low), (printed.high, written.high))
    if span.kind in {Kind.TEMPERATURE, Kind.DIFFERENCE}:
        if System.GAS in {printed.unit.system, written.unit.system}:
            return True  # a row of the oven's table
        step = DEGREES.get(span.purpose, ONE_DEGREE) if span.purpose else ONE_DEGREE
        return all(abs(got - wanted) <= step for got, wanted in ends)
    if span.kind is Kind.DURATION:
        return all(got == wanted for got, wanted in ends)
    spread = SPREAD.get(span.kind, ROUGH)
    return all(abs(got - wanted) <= spread * abs(wanted) for got, wanted in ends)


# --- findings -----------------------------------------------------------------------------------------


def _column(system: str) -> str:
    return "US" if system == "us" else "metric"


def _otherwise(where: Where, written: str, printed: str, system: str, why: str) -> Finding:
    column = f" in the {_column(system)} column" if system else ""
    return Finding(
        name="reads-otherwise",
        severity=Severity.ERROR,
        where=where,
        what=f"“{written}” would print as “{printed}”{column}, and {why}",
        instead="another unit or wording; if the recipe is right as it stands, this is a fault of ours",
        width=max(1, len(written)),
    )
