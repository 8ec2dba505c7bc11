"""Foods that a step takes as beaten, melted or soaked, which no step before has made so."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.method.dish import dish
from cardsmith.facts.method.states import unready
from cardsmith.finding import Severity


@check(
    "state-not-reached",
    Severity.ERROR,
    why="A cook who follows the steps in order has raw whites in hand where the step speaks of beaten ones.",
    source="food_states.csv: " + PRACTICE,
    remedy="put the step that does it before this one, or say it here or in the list",
)
def state_not_reached(subject: Subject) -> Iterator[Query]:
    """A step that folds in the beaten whites, which a later step beats; or none, where the dish needs it."""
    known = dish(subject.recipe, subject.larder)
    for unready_food in unready(known):
        text = subject.steps[unready_food.clause.step]
        named = text.text[unready_food.mention.start : unready_food.mention.end]
        called = (
            f"the {unready_food.told} {named}"
            if unready_food.told not in named.lower().split()
            else f"the {named}"
        )
        use = f"step {text.number} uses {called}"
        spot = text.spot(named, unready_food.mention.start)
        if unready_food.later is not None:
            yield query(spot, f"{use}, and step {unready_food.later.step + 1} is the first to do it")
        elif unready_food.state.lack is not None:
            what = f"{use}, and no step before makes it so"
            yield query(spot, what, severity=unready_food.state.lack)
