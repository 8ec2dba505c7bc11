"""Hazards that the card warns of, and those that only a licensed review can pass."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from cardsmith.check.registry import Query, check, query
from cardsmith.check.safety.preserving import is_cured_as_published
from cardsmith.check.safety.processes import is_as_published
from cardsmith.check.subject import Subject
from cardsmith.facts.dangers.cautions import FoundHazard, cautions, hazardous, is_said
from cardsmith.finding import Severity, Where
from cardsmith.recipe.model import Ingredient, Step


def place_of_hazard(subject: Subject, found: FoundHazard) -> Ingredient | Step | Where:
    """Where a hazard is pointed at: the line or the step that gave it away, else the recipe."""
    recipe = subject.recipe
    if found.line is not None:
        return recipe.ingredients[found.line]
    return recipe.steps[found.step] if found.step is not None else recipe.where


@check(
    "hazard-caution",
    Severity.NOTE,
    why="A cook cannot see the danger in the list; the card says it before the first step.",
    source="cautions.csv, a source for each row",
    remedy="nothing to write: the card prints the caution by itself",
)
def hazard_caution(subject: Subject) -> Iterator[Query]:
    """A hazard that the author does not mention, with the caution that the card prints for it."""
    recipe, larder = subject.recipe, subject.larder
    printed = {one.text for one in cautions(recipe, larder)}
    for one in hazardous(recipe, larder):
        mine = one.hazard.text in printed and one.hazard.action == "caution"
        if mine and not is_said(recipe, larder, one.hazard):
            yield query(
                place_of_hazard(subject, one),
                f"{one.hazard.name} ({one.evidence}): the card prints “{one.hazard.text}”",
            )


@check(
    "review-needed",
    Severity.ERROR,
    why="Some methods are safe only as tested; a test kitchen's palate cannot tell.",
    source="cautions.csv, a source for each row",
    remedy="have someone licensed review it, and write reviewed: {by: their name, date: 2026-05-04}",
    acceptable=False,
)
def review_needed(subject: Subject) -> Iterator[Query]:
    """Home canning, curing, fermented sausage, foraged and poisonous plants: not without a review.

    Milder where the figures are within what is published: the time of jars, the nitrite of a cure.
    """
    passed = subject.recipe.reviewed
    for one in hazardous(subject.recipe, subject.larder):
        what = f"{one.hazard.name} ({one.evidence})"
        if one.hazard.action == "review" and not (passed and passed.by.strip() and passed.date):
            holds, mild = FIGURES.get(one.hazard.name, (None, None))
            severity = mild if holds is not None and holds(subject) else None
            yield query(place_of_hazard(subject, one), what, severity=severity)
        elif one.hazard.action == "ask":
            instead = "see that it holds for these readers, and say so in accepted:"
            yield query(place_of_hazard(subject, one), what, instead, Severity.WARNING)


# Whether the figures of a hazard are as published, and what is left to ask then.
FIGURES: Mapping[str, tuple[Callable[[Subject], bool], Severity]] = {
    "home canning": (is_as_published, Severity.NOTE),
    "curing salts": (is_cured_as_published, Severity.WARNING),
}
