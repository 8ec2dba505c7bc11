"""What any dough or batter must hold, whatever its kind: enough that is wet or fat to bind its flour."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.formula import ratios
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Formula, Subject
from cardsmith.check.wording import grams, percent
from cardsmith.finding import Severity
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.mentions.groups import is_heading

DOUGH = Fraction(3, 10)  # of a list in flour: less of it thickens or coats; common practice, no source
BOUND = Fraction(35, 100)  # of the flour in water and fat; egg pasta has 43 %: common practice, no source
CRUMBS = Fraction(1, 4)  # no hand presses together what has less: common practice, no source
DRY = Fraction(4, 100)  # less is a mixture made dry on purpose, a dredge or a mix for later


@check(
    "dough-too-dry",
    Severity.WARNING,
    why="Flour that nothing wets or binds stays flour; the usual cause is a decimal point.",
    source="fresh egg pasta, the driest dough, has 43 % of its flour in water and fat: " + PRACTICE,
    remedy="check the flour, and what wets it",
)
def dough_too_dry(subject: Subject) -> Iterator[Query]:
    """So little water and fat for the flour of a part that no dough comes of it."""
    if any(
        next(ratio_check.function(subject), None)
        for ratio_check in ratios.RATIO_CHECKS
        if ratio_check.name == "low-hydration"
    ):
        return
    for part in subject.recipe.parts:
        formula = subject.formula((part,))
        flour, whole = formula.roles.get("flour", Fraction(0)), formula.roles["total"]
        bound = formula.roles.get("water", Fraction(0)) + formula.roles.get("fat", Fraction(0))
        if flour < DOUGH * whole or not DRY * flour < bound < BOUND * flour or not _is_known(formula):
            continue
        lines = [line for line, _ in formula.lines if is_of(line.food, ("role:flour",))]
        if lines:
            yield query(
                lines[0],
                f"{grams(bound)} of water and fat is {percent(bound / flour)} of the flour ({grams(flour)}); "
                "the driest doughs have 40 %",
                severity=Severity.ERROR if bound < CRUMBS * flour else None,
            )


def _is_known(formula: Formula) -> bool:
    """Whether every line but a seasoning has a weight: what has none may wet the rest."""
    return "total" not in formula.unweighed and all(
        line.food is not None or is_heading(line) for line, _ in formula.lines
    )
