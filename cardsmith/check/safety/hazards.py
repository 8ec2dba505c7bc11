"""Hazards that the card warns of, and those that only a licensed review can pass."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.dangers.cautions import FoundHazard, cautions, hazardous, is_said
from cardsmith.finding import Severity, Where
from cardsmith.recipe.model import Ingredient, Step


def place_of_hazard(subject: Subject, hazard: FoundHazard) -> Ingredient | Step | Where:
    """Where a hazard is pointed at: the line or the step that gave it away, else the recipe."""
    recipe = subject.recipe
    if hazard.line is not None:
        return recipe.ingredients[hazard.line]
    return recipe.steps[hazard.step] if hazard.step is not None else recipe.where


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
    printed = {caution.text for caution in cautions(recipe, larder)}
    for hazard in hazardous(recipe, larder):
        mine = hazard.hazard.text in printed and hazard.hazard.action == "caution"
        if mine and not is_said(recipe, larder, hazard.hazard):
            yield query(
                place_of_hazard(subject, hazard),
                f"{hazard.hazard.name} ({hazard.evidence}): the card prints “{hazard.hazard.text}”",
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

    Figures that no other check refuses are no review: a tested time holds for a tested formula alone.
    """
    passed = subject.recipe.reviewed
    for hazard in hazardous(subject.recipe, subject.larder):
        what = f"{hazard.hazard.name} ({hazard.evidence})"
        if hazard.hazard.action == "review" and not (passed and passed.by.strip() and passed.date):
            yield query(place_of_hazard(subject, hazard), what)
        elif hazard.hazard.action == "ask":
            instead = "see that it holds for these readers, and say so in accepted:"
            yield query(place_of_hazard(subject, hazard), what, instead, Severity.WARNING)
