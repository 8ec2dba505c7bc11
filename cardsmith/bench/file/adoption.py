"""What makes a recipe that is written already the recipe of a trial: each line to change, with its place."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.bench.file.draft import method_of
from cardsmith.bench.formula.lineage import FoodTotal, compared
from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.wording import figure
from cardsmith.recipe.model import Recipe


def to_adopt(recipe: Recipe, trials: Trials, trial: Trial) -> tuple[str, ...]:
    """What to change in the recipe, each in a line; none where it is the trial's already."""
    return tuple(_to_adopt(recipe, trials, trial))


def _to_adopt(recipe: Recipe, trials: Trials, trial: Trial) -> Iterator[str]:
    held = compared(recipe.ingredients, trial)
    if held.factor != 1:
        times = figure(held.factor, 2)
        yield f"the list is {times} times the batch of trial {trial.number}: multiply what is said here by it"
    for mine, theirs in held.unlike:
        yield f"{_place(mine)}: {_said(mine)} → {_said(theirs)}"
    for mine in held.untested:
        yield f"{_place(mine)}: take out {_said(mine)}"
    for theirs in held.missing:
        yield f"ingredients: add {theirs.line.text}"
    pieces, makes = trial.value("pieces"), recipe.yields.makes_count if recipe.yields else None
    if pieces is not None and makes is not None and pieces * held.factor != makes:
        yield f"yield: it makes {figure(makes)} here, and {figure(pieces)} came of trial {trial.number}"
    if recipe.tested is None or recipe.tested.trial != str(trial.number):
        yield from (f"steps: see that they have what {said}" for said in method_of(trials, trial))
        place = f"line {recipe.tested.where.line}" if recipe.tested else "at the end"
        yield f"{place}: tested: {{trial: {trial.number}}}; the check then holds times and heat against it"


def _place(total: FoodTotal) -> str:
    return f"line {total.line.where.line}"


def _said(total: FoodTotal) -> str:
    return f"{total.text} {total.line.item}".strip()
