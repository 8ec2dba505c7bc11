"""A yield that no cook could get out of the list, whatever the dish: more mass or volume than went in."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import Query, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams, number
from cardsmith.finding import Severity, Where
from cardsmith.measure.patterns import is_of
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension
from cardsmith.measure.weighing import density
from cardsmith.recipe.model import Ingredient, Text
from cardsmith.recipe.weighed import Mass, measured_form
from cardsmith.regex import regex

# Common practice, no source: what drinks water that no list has, and what takes up air or water on the way.
SWELLING = ("role:grain", "role:rice", "role:legume", "key:chia*", "key:popping*", "key:*tapioca*")
GROWS = regex(
    r"(?i)\b(?:whip|whisk\w* (?:\w+ ){0,6}(?:until|to)|peaks|froth\w*|foam\w*|fluffy|ris(?:e|es|en|ing)\b"
    r"|doubled|prov(?:e|ed|ing)\b|puff\w*|pop(?:ped|s)?\b|swell\w*|water|stock|soak\w*"
    r"|syrup|cooked|top up|dilut\w*|fill)\b"
)
BATHS = regex(  # water that a vessel stands in, or is washed in
    r"(?i)\b(?:over|iced?|bath of|soapy) (?:a )?(?:pan of )?(?:barely |gently )?"
    r"(?:simmering |boiling |hot )?water\b|\bsoapy water\b"
)
WATERED = regex(  # what brings in more than the list has
    r"(?i)\b(?:water|stock|soak\w*|syrup|cook(?:ed)?|boil\w*|simmer\w*|steam\w*|top up|dilut\w*|fill"
    r"|swell\w*|ice)\b"
)
ADDED = regex(r"(?i)\b(?:water|stock|soak\w*|syrup|top up|dilut\w*|ice|fries|fry|oil)\b")
UNLISTED = regex(  # water beside that of the list
    r"(?i)\b(?:boiling water|(?:pan|pot|bowl|plenty) of (?:\w+ ){0,2}water|soak\w*|top up"
    r"|cover with (?:\w+ ){0,2}water|dilut\w*)\b"
)
LOOSE = Fraction(1, 2)  # g/ml of what lies in pieces
MUCH = Fraction(3, 2)  # times what went in
CHURNED = regex(r"(?i)\bchurn\w*|\bice[- ]cream (?:maker|machine)")
OVERRUN = Fraction(9, 4)  # of a machine at home, whose ices grow by half at most: common practice, no source
TWICE = 2  # times what went in, which no stirring explains
HEAVIER = Fraction(12, 10)  # times the list, with some of the fat it fries in


def impossible(
    subject: Subject, spot: Text | Where, least: Fraction | None, volume: Quantity | None
) -> Iterator[Query]:
    """Pieces by their weight, or cups, beyond what the list holds; ``least`` in grams, said at ``spot``."""
    formula = subject.formula(subject.recipe.parts)
    if any(line.food is None for line, _ in formula.lines) or _is_open(formula.lines):
        return
    whole = formula.roles["total"]
    swelling = [mass.high for line, mass in formula.lines if mass and is_of(line.food, SWELLING)]
    listed = any(line.food is not None and line.food.key == "water" for line, _ in formula.lines)
    brings = UNLISTED if listed else WATERED if swelling else ADDED  # what boils dry grows no heavier
    wet = any(brings.search(BATHS.sub(" ", step.text)) for step in subject.steps)
    if least is not None and not wet and least > whole * HEAVIER:
        yield query(
            spot,
            f"what it makes would weigh {grams(least)}; the list weighs {grams(whole)}",
            "mend the number, the weight of a piece, or the list",
            Severity.ERROR if least > whole * MUCH else None,
        )
    churned = any(CHURNED.search(step.text) for step in subject.steps)
    grows = swelling or any(GROWS.search(BATHS.sub(" ", step.text)) for step in subject.steps)
    if volume is not None and (churned or not grows):
        holds = sum((_millilitres(line, mass) for line, mass in formula.lines), Fraction(0))
        holds = whole if churned else holds  # a gram a millilitre
        if volume.low > holds * (OVERRUN if churned else MUCH):
            yield query(
                spot,
                f"{volume.written} is {number(volume.low)} ml; all of the list measures about "
                f"{number(holds)} ml, and nothing in the steps makes it more",
                "measure what came out",
                Severity.ERROR if volume.low > holds * TWICE else None,
            )


def _is_open(lines: tuple[tuple[Ingredient, Mass | None], ...]) -> bool:
    """Whether a line that is no mere seasoning has no weight."""
    return any(
        mass is None
        and not line.to_taste
        and not is_of(line.food, ("role:spice", "role:herb", "role:allium"))
        for line, mass in lines
    )


def _millilitres(line: Ingredient, mass: Mass | None) -> Fraction:
    """The most room that a line takes, as it is measured."""
    volumes = [
        quantity.high
        for quantity in (line.amount, *line.stated)
        if quantity and quantity.dimension is Dimension.VOLUME
    ]
    if mass is None or line.food is None:
        return max(volumes, default=Fraction(0))
    known = density(line.food, measured_form(line))
    return max([*volumes, mass.high / min(known.low if known else LOOSE, Fraction(1))])
