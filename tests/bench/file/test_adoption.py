from __future__ import annotations

import pytest

from cardsmith.bench.file.adoption import to_adopt
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from tests.bench.trial_samples import trials

TRIALS = """\
trials:
  - trial: 1
    date: 2026-03-02
    ingredients: [200 g whole-grain rye flour, 4 g fine salt, 130 g water, 30 g olive oil]
  - trial: 2
    date: 2026-03-03
    from: 1
    change: [110 g water, 20 g molasses instead of olive oil]
    method: [Roll to 2 mm thick.]
    oven: {set: 160 °C, offset: +12 °C}
    process: ["09:10 bake", "09:35 out"]
    measured: {pieces: 28}
"""
RECIPE = """\
title: Rye thins
yield: {makes: 30 crackers}
ingredients:
  - 200 g whole-grain rye flour
  - 4 g fine salt
  - 130 g water, cold
  - 30 g olive oil
steps: [Mix everything and bake.]
tested: {trial: 1}
"""


def told(recipe: str, number: int) -> tuple[str, ...]:
    found, (read, _) = trials(TRIALS), read_recipe("thins", recipe.encode(), "recipe.yaml", load_larder())
    trial = found.get(number)
    assert read is not None
    assert trial is not None
    return to_adopt(read, found, trial)


def test_each_line_to_change_is_told_with_its_place() -> None:
    assert told(RECIPE, 2) == (
        "line 6: 130 g water → 110 g water",
        "line 7: take out 30 g olive oil",
        "ingredients: add 20 g molasses",
        "yield: it makes 30 here, and 28 came of trial 2",
        "steps: see that they have what trial 2 did: Roll to 2 mm thick.",
        "steps: see that they have what trial 2 did: 25 min at 172 °C (dial 160 °C, offset +12 °C)",
        "line 9: tested: {trial: 2}; the check then holds times and heat against it",
    )


def test_the_recipe_of_a_trial_has_nothing_to_change() -> None:
    assert told(RECIPE, 1) == ()


@pytest.mark.parametrize("times", [2])
def test_another_batch_is_told_once(times: int) -> None:
    doubled = RECIPE.replace("200 g", "400 g").replace("4 g", "8 g").replace("130 g", "260 g")
    lines = told(doubled.replace("30 g", "60 g").replace("30 crackers", "56 crackers"), 2)
    assert lines[0] == f"the list is {times} times the batch of trial 2: multiply what is said here by it"
    assert "line 6: 260 g water → 110 g water" in lines
    assert not any(line.startswith("yield") for line in lines)
