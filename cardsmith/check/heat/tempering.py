"""Chocolate in temper: cooled until it sets in the right form, then warmed no further than that bears."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.method.clauses import Clause
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.language.spans import Measured, Purpose
from cardsmith.measure.patterns import is_of
from cardsmith.regex import regex

CHOCOLATE = ("role:chocolate",)
COOLED = Fraction(295, 10)  # °C: chocolate cooled so far is meant to be tempered
WORKED = Fraction(345, 10)  # °C, above which the temper melts out; dark is worked at 31 to 32 °C
MELTED = Fraction(60)  # °C: hotter things are an oven or a pan
ELSEWHERE = frozenset({Purpose.OVEN, Purpose.ROOM, Purpose.REFRIGERATOR, Purpose.FREEZER, Purpose.BATH})
_WARMS = regex(r"\b(?:warm|re-?warm|re-?heat|heat|bring|raise|rise|rises|go|goes|take|up|back)\b")
_AGAIN = regex(r"\b(?:melt|start again|begin again|re-?melt|re-?temper|if)\b")


@check(
    "temper-melted-out",
    Severity.ERROR,
    why="Chocolate warmed past its working heat melts the crystals that it was cooled for, and blooms.",
    source="working heats of 31 to 32 °C for dark, a little less for milk and white: " + PRACTICE,
    remedy="warm dark chocolate back to 31 to 32 °C (88 to 90 °F), milk and white to 29 to 30 °C, no higher",
)
def temper_melted_out(subject: Subject) -> Iterator[Query]:
    """Chocolate that is cooled to its tempering heat, and then warmed beyond its working heat."""
    known = dish(subject.recipe, subject.larder)
    if not any(is_of(identity.food, CHOCOLATE) for identity in known.foods):
        return
    cooled = False
    for clause in known.histories.clauses:
        for span in _heats(clause):
            if span.quantity.high <= COOLED:
                cooled = True
            elif cooled and WORKED < span.quantity.low < MELTED and clause.says(_WARMS):
                if not clause.says(_AGAIN):
                    yield query(
                        span,
                        f"the chocolate is in temper, and step {clause.step + 1} warms it to {span.text}",
                    )
                return


def _heats(clause: Clause) -> tuple[Measured, ...]:
    """The temperatures of what a clause has in hand, but of no room and no oven."""
    return tuple(measured for measured in clause.temperatures if measured.purpose not in ELSEWHERE)
