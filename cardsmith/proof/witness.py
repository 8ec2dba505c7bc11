"""Which trials support a changed number; one that changed on paper only has none."""

from __future__ import annotations

import enum
from fractions import Fraction

from cardsmith.bench.formula.changes import same_food
from cardsmith.bench.formula.lineage import (
    FoodTotal,
    compared,
    judge_duration,
    judge_temperature,
    totals,
)
from cardsmith.bench.log import durations, heats
from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.wording import figure
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.language.spans import Measured
from cardsmith.measure.larder import words
from cardsmith.measure.units import Dimension
from cardsmith.proof.changes import ChangeKind, Renumbered, TextChange
from cardsmith.recipe.model import Ingredient, Recipe, Step

DROPPED = "drop"


@enum.unique
class Standing(enum.StrEnum):
    """What the bench says of a changed number."""

    BORNE_OUT = "borne out"
    DROPPED_ONLY = "dropped only"  # only by trials that were dropped
    NO_TRIAL = "no trial"
    ROUNDING = "rounding"  # the author's figure is the same
    NOT_RECORDED = "not recorded"  # trials record no numbers of this kind


@frozen
class Backing:
    """What stands behind one changed number."""

    standing: Standing
    said: str

    @property
    def missing(self) -> bool:
        """Whether an editor should query it."""
        return self.standing in {Standing.NO_TRIAL, Standing.DROPPED_ONLY}


_NONE = Backing(standing=Standing.NO_TRIAL, said="no trial behind it")
_ROUNDING = Backing(standing=Standing.ROUNDING, said="rounded otherwise; the author’s figure is the same")
_NOT_RECORDED = Backing(standing=Standing.NOT_RECORDED, said="trials do not record it")


def backing(
    change: TextChange, number: Renumbered, recipe: Recipe, trials: Trials | None, known: tuple[int, ...]
) -> Backing:
    """The trials that have the new number; ``known`` were recorded when the last proof was issued."""
    if number.only_rounding:
        return _ROUNDING
    kind, at = change.field.spot
    every = trials.trials if trials else ()
    if change.kind is ChangeKind.REMOVED:
        if kind == "line" and number.old is change.field.figures[0]:
            return _said([trial for trial in every if not _has(trial, change.field.key)], known)
        return _NOT_RECORDED
    if number.new is None:
        return _NOT_RECORDED
    if kind == "line" and number.new is change.field.figures[0]:
        line = recipe.ingredients[at]
        return _said([trial for trial in every if _same_amount(recipe, line, trial)], known, recipe)
    if kind == "step":
        step = recipe.steps[at]
        span = next(
            (measure for measure in _measures(step) if _plain(measure.text) == number.new.author), None
        )
        if span is not None and span.quantity.dimension is Dimension.DURATION:
            return _said([trial for trial in every if _lasted(step, span, trial)], known)
        if span is not None and span.quantity.dimension is Dimension.TEMPERATURE:
            return _said([trial for trial in every if _read(span, trial)], known)
    if kind == "makes" and recipe.yields and recipe.yields.makes_count is not None:
        count = recipe.yields.makes_count
        if number.new.author == figure(count):
            return _said([trial for trial in every if trial.value("pieces") == count], known)
    return _NOT_RECORDED


def _plain(text: str) -> str:
    return " ".join(text.split())


def _measures(step: Step) -> list[Measured]:
    return [span for span in step.spans if isinstance(span, Measured)]


def _has(trial: Trial, key: str) -> bool:
    """Whether a trial's formula has the food that a proof filed a line under."""
    return any(food_key(line) == key for line in trial.ingredients)


def food_key(line: Ingredient) -> str:
    """What a line's food is filed under: the larder's key, else its own words in alphabetical order."""
    return line.food.key if line.food else " ".join(sorted(words(line.item)))


def _same_amount(recipe: Recipe, line: Ingredient, trial: Trial) -> bool:
    """Whether the trial's formula has this line's amount, at whatever batch fits most of the list."""
    held = compared(recipe.ingredients, trial)
    mine = next((total for total in totals(recipe.ingredients) if same_food(total.line, line)), None)
    theirs = next((total for total in totals(trial.ingredients) if same_food(total.line, line)), None)
    if mine is None or theirs is None or not _comparable(mine, theirs):
        return False
    return all(not same_food(printed.line, line) for printed, _ in held.unlike)


def _comparable(total: FoodTotal, other: FoodTotal) -> bool:
    by_size = total.size is not None and bool(other.size) and total.dimension is other.dimension
    return by_size or (total.grams is not None and bool(other.grams))


def _lasted(step: Step, span: Measured, trial: Trial) -> bool:
    return judge_duration(step, span, durations((trial,))).borne_out


def _read(span: Measured, trial: Trial) -> bool:
    return judge_temperature(span, heats((trial,))).borne_out


def _said(bearing: list[Trial], known: tuple[int, ...], recipe: Recipe | None = None) -> Backing:
    """The newest kept trials first; dropped trials alone support nothing."""
    kept = [trial for trial in bearing if trial.call != DROPPED]
    if not bearing:
        return _NONE
    if not kept:
        numbers = listed([str(trial.number) for trial in bearing])
        said = f"no kept trial behind it, only dropped trial{'s' if len(bearing) > 1 else ''} {numbers}"
        return Backing(standing=Standing.DROPPED_ONLY, said=said)
    latest = kept[-1]
    since = "" if latest.number in known else ", made since,"
    others = f", as trial{'s' if len(kept) > 2 else ''} {listed([str(trial.number) for trial in kept[:-1]])}"
    batch = _batch(recipe, latest) if recipe else ""
    return Backing(
        standing=Standing.BORNE_OUT,
        said=f"trial {latest.number} of {latest.date}{since} bears it out{batch}"
        + (others if len(kept) > 1 else ""),
    )


def _batch(recipe: Recipe, trial: Trial) -> str:
    factor = compared(recipe.ingredients, trial).factor
    return f" (the printed batch is {figure(Fraction(factor), 2)} times its)" if factor != 1 else ""
