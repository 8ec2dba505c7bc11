"""Hazards that the card warns of, and those that only a licensed review can pass."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.check.registry import Query, check, query
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

    Figures that no other check refuses are no review: a tested time holds for a tested formula alone.
    """
    passed = subject.recipe.reviewed
    for one in hazardous(subject.recipe, subject.larder):
        what = f"{one.hazard.name} ({one.evidence})"
        if one.hazard.action == "review" and not (passed and passed.by.strip() and passed.date):
            yield query(place_of_hazard(subject, one), what)
        elif one.hazard.action == "ask":
            instead = "see that it holds for these readers, and say so in accepted:"
            yield query(place_of_hazard(subject, one), what, instead, Severity.WARNING)
