"""A portion with more butter, sugar or meat than anybody is served: a slip in an amount, or in the yield."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams, number
from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.dangers.mishaps import deep_fat
from cardsmith.facts.foods.roles import FRYING_FATS
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.portion.shares import LineShare
from cardsmith.reference import table

GRAVE = Fraction(5, 2)  # times the most, where no reading makes sense: common practice, no source
SEVERAL = 6  # fewer are loaves or cakes, which are shared: common practice, no source
SERVED = frozenset(words("serving portion glass pot plate bowl sandwich"))
HOLDING = frozenset(words("jar bottle loaf cake pint quart cup head can tin ball batch tray litre pie"))


@frozen
class MostOf:
    """How many grams of some roles a portion has at most: one that is served, or one piece of a batch."""

    told: str
    roles: tuple[str, ...]
    serving: Fraction
    piece: Fraction
    unless: Phrases | None


@cache
def portion_masses() -> tuple[MostOf, ...]:
    """The roles whose mass in a portion is judged.

    Raises:
        ValueError: a piece may hold more than what is served.
    """
    limits = tuple(
        MostOf(
            told=row["told"],
            roles=tuple(row["roles"].split("|")),
            serving=Fraction(row["serving_most"]),
            piece=Fraction(row["piece_most"]),
            unless=phrases(row["unless"]),
        )
        for row in table("portion_masses")
    )
    for limit in limits:
        if not 0 < limit.piece <= limit.serving:
            raise ValueError(f"portion_masses.csv: {limit.told}: the figures are out of order")
    return limits


@check(
    "portion-mass-implausible",
    Severity.WARNING,
    why="Half a kilogram of butter for each guest is ten times what was weighed, or a yield for one.",
    source="portion_masses.csv, a source for each row; less what is poured off, by uptakes.csv: " + PRACTICE,
    remedy="check the amount, its unit and the yield",
)
def portion_mass_implausible(subject: Subject) -> Iterator[Query]:
    """So much of one food in a portion, or in one piece, as nobody is served."""
    count, is_served = _portions(subject)
    if not count:
        return
    text = " ".join((subject.recipe.title, *(field.text for field in subject.steps)))
    fried = deep_fat(dish(subject.recipe, subject.larder), 0)
    for rule in portion_masses():
        most = rule.serving if is_served else rule.piece
        eaten = [
            (_of(share, rule.roles), share)
            for share in subject.shares
            if share.is_counted and not (fried and is_of(share.line.food, FRYING_FATS))
        ]
        whole = sum((mass for mass, _ in eaten), Fraction(0))
        if whole <= most * count or (rule.unless and rule.unless.search(text)):
            continue
        _, largest = max(eaten, key=lambda pair: pair[0])
        yield query(
            largest.line,
            f"a portion holds {grams(whole / count)} of {rule.told} ({grams(whole)} for {number(count)}); "
            f"{number(most)} g is much",
            severity=Severity.ERROR if whole > GRAVE * most * count else None,
        )
        return


def _portions(subject: Subject) -> tuple[Fraction, bool]:
    """How many portions there are, none where nobody can tell, and whether each is served by itself."""
    yields = subject.recipe.yields
    if yields is None:
        return Fraction(0), False
    if yields.serves_high:
        return yields.serves_high, True
    noun, count = set(words(yields.makes_item)), yields.makes_high or yields.makes_count
    if count is None or noun & HOLDING or (count < SEVERAL and not noun & SERVED):
        return Fraction(0), False
    return count, bool(noun & SERVED)


def _of(share: LineShare, roles: tuple[str, ...]) -> Fraction:
    """The least grams of some roles that are eaten of a line."""
    food = share.line.food
    return Fraction(0) if food is None else share.eaten.low * sum(food.share(role) for role in roles)
