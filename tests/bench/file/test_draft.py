from __future__ import annotations

import pytest

from cardsmith.bench.file.draft import draft
from cardsmith.bench.formula.lineage import compared
from cardsmith.finding import CardsmithError
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from tests.bench.trial_samples import trials

COMMENTED = """\
trials:
  - trial: 1
    date: 2026-03-02
    ingredients:
      # the strong one
      - 500 g bread flour
      - 350 g water   # at 20 °C
      - "10 g fine salt: the plain one"
    steps:
      - "Mix: until smooth."  # by hand
      - Bake for 40 minutes, until brown.
    measured: {pieces: 2}
  - trial: 2
    date: 2026-03-03
    from: 1
    change:
      - 375 g water   # one glass more
    method: [Bake for 45 minutes.]
"""
WRITTEN = """\
title: Day bread
yield: {makes: 2 pieces}
ingredients:
  # the strong one
  - 500 g bread flour
  - 350 g water  # at 20 °C
  - "10 g fine salt: the plain one"
steps:
  - "Mix: until smooth."  # by hand
  - Bake for 40 minutes, until brown.
tested: {trial: 1}
"""


def test_a_recipe_is_written_from_a_trial_with_its_comments() -> None:
    assert draft(trials(COMMENTED), 1, "Day bread") == WRITTEN


def test_changes_bring_their_comments_and_methods_stand_above_the_steps() -> None:
    text = draft(trials(COMMENTED), 2, "Day bread")
    assert "  - 375 g water  # one glass more\n" in text
    assert "# trial 2 did: Bake for 45 minutes.\nsteps:\n" in text


@pytest.mark.parametrize("number", [1, 2])
def test_what_is_written_reads_back_as_the_trial(number: int) -> None:
    found = trials(COMMENTED)
    text = draft(found, number, "A bread: and more")
    recipe, findings = read_recipe("a", text.encode(), "recipe.yaml", load_larder())
    assert [str(one) for one in findings if one.severity.value == "error"] == []
    assert recipe is not None
    assert recipe.title == "A bread: and more"
    trial = found.get(number)
    assert trial is not None
    held = compared(recipe.ingredients, trial)
    assert (held.factor, held.unlike, held.untested, held.missing) == (1, (), (), ())


def test_a_trial_that_is_not_there_is_said() -> None:
    with pytest.raises(CardsmithError, match="there is no trial 9; trials here: 1, 2"):
        draft(trials(COMMENTED), 9, "Day bread")
