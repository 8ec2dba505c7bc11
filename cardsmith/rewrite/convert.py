"""What a cook asks at the bench: ``2 cups rye flour``, ``350 F oven``, ``9x13 inch pan``, ``3 hp``."""

from __future__ import annotations

from cardsmith.finding import Finding, Where
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.language.figures.numbers import number_at
from cardsmith.language.prose.fields import read_prose
from cardsmith.language.spans import Measured, Purpose
from cardsmith.language.tokens import tokenize
from cardsmith.measure.larder import Larder
from cardsmith.measure.pans import pans
from cardsmith.measure.pint_units import in_works_units
from cardsmith.measure.units import Dimension, System, units
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import Tables
from cardsmith.rewrite.card.model import Rewritten
from cardsmith.rewrite.card.prose import rewrite_spans
from cardsmith.rewrite.printed import Dual
from cardsmith.rewrite.rounding.dual import single_dual
from cardsmith.rewrite.rounding.food_amount import food_amount_of
from cardsmith.rewrite.wording import decimal_text, short


@frozen
class Conversion:
    """A conversion in both systems, and what it rests on."""

    asked: str
    us: str
    metric: str
    exact: str = ""  # "240.6 g": before rounding
    assumed: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()


ASKED = Where(file="asked", line=1, column=1)
POINTS = frozenset(
    {Dimension.TEMPERATURE, Dimension.TEMPERATURE_CHANGE, Dimension.LENGTH, Dimension.PRESSURE}
)


def convert(asked: str, larder: Larder, house: House) -> Conversion | None:
    """The answer to ``asked``; None where no measure is found in it.

    A food with its amount comes first: "a 5 cm piece of ginger" asks about ginger, not about a length.
    """
    line, findings = read_line(asked, ASKED, larder)
    if set("/*^") & set(asked) and (works := _works(asked)):
        return works
    if line.food is None:
        spans = read_prose(asked, ASKED, tables=larder.tables)
        measured = [
            span for span in spans if isinstance(span, Measured) and span.quantity.dimension in POINTS
        ]
        if measured:
            return _point(asked, measured[0], house)
        counted = line.amount is None or line.amount.dimension is Dimension.COUNT
        if counted and (works := _works(asked)):
            return works
    return _amount(asked, line, findings, larder, house)


def _works(asked: str) -> Conversion | None:
    """A measure in a unit that no recipe has: horsepower, bushels, gallons a minute."""
    tokens = tokenize(asked)
    number = number_at(tokens, 0)
    if number is None or number.value is None or number.end >= len(tokens):
        return None
    converted = in_works_units(number.value, asked[tokens[number.end].start :].strip())
    if converted is None:
        return None
    return Conversion(
        asked=asked,
        us=" = ".join(converted.us),
        metric=" = ".join(converted.metric),
        assumed=("the unit's definition (NIST SP 811), to four figures",),
    )


def _point(asked: str, measured: Measured, house: House) -> Conversion | None:
    """A temperature, a length or a pan."""
    spans = rewrite_spans(read_prose(asked, ASKED), {}, house)
    rewritten = next((span for span in spans if isinstance(span, Rewritten)), None)
    if rewritten is None:
        return None
    assumed = ""
    if measured.quantity.dimension is Dimension.TEMPERATURE:
        by_dial = measured.purpose is Purpose.OVEN or measured.quantity.unit.system is System.GAS
        reading = "a reading, to the nearest degree; say `oven` for a setting"
        assumed = "a setting of the oven's dial" if by_dial else reading
    notes = (assumed, _holds(measured, house.reference))
    return Conversion(
        asked=asked,
        us=rewritten.said("us"),
        metric=rewritten.said("metric"),
        assumed=tuple(note for note in notes if note),
    )


def _holds(measured: Measured, tables: Tables) -> str:
    """What a pan that is sold holds to the brim, by geometry; empty for any other length."""
    edges = tuple(side.low for side in measured.sides)
    for sold in pans(tables):
        for pan in (sold.us, sold.metric):
            if pan.volume and edges in {pan.edges, pan.edges[::-1]} and len(edges) > 1:
                litres, cups = float(pan.volume / 1000), float(pan.volume / units()["cup"].size)
                depth = float((pan.depth or 0) / 10)
                return f"a pan {depth:g} cm deep; to the brim it holds {litres:.1f} L ({cups:.0f} cups)"
    return ""


def _amount(
    asked: str, line: Ingredient, findings: tuple[Finding, ...], larder: Larder, house: House
) -> Conversion | None:
    amount = line.amount
    if amount is None or amount.is_vague or amount.low <= 0:
        return None
    dual = single_dual(food_amount_of(amount, line), amount.written, house)
    known = (
        [f"{line.item} is the larder's {line.food.name}"] if line.food and line.food.name != line.item else []
    )
    if line.item and line.food is None:
        near = ", ".join(larder.nearest(line.item))
        known = [f"{line.item} is not in the larder" + (f" (nearest: {near})" if near else "")]
    return Conversion(
        asked=asked,
        us=short(dual.us),
        metric=short(dual.metric),
        exact=_exact(dual),
        assumed=tuple(note for note in (*known, dual.basis) if note),
        # "3 tbsp" is a fair question without a food.
        findings=tuple(finding for finding in findings if finding.name != "food-missing"),
    )


def _exact(dual: Dual) -> str:
    """The author's amount before rounding, in g and ml where the density is known."""
    amount, dense = dual.exact[0], dual.density
    names = {Dimension.MASS: "g", Dimension.VOLUME: "ml"}
    if amount.dimension not in names:
        return ""
    quantities = [amount]
    if dense and dense.per is Dimension.VOLUME:
        weighed = amount.dimension is Dimension.MASS
        quantities.append(dense.amount(amount, units()["millilitre"]) if weighed else dense.mass(amount))
    return " = ".join(
        f"{decimal_text(round(quantity.middle, 2))} {names[quantity.dimension]}" for quantity in quantities
    )
