"""Every dish with all the hazards it holds, and no other; their order; what an author may add."""

from __future__ import annotations

import pytest
from bench_of_facts import larder
from caution_cases import CASES

from cardsmith.facts.cautions import OUTDONE, cautions, hazards
from cardsmith.recipe.model import Recipe


def names(recipe: Recipe) -> set[str]:
    return {one.found.hazard.name for one in cautions(recipe, larder()) if one.found}


@pytest.mark.parametrize(("recipe", "expected"), [one[1:] for one in CASES], ids=[one[0] for one in CASES])
def test_the_hazards_of_a_dish(recipe: Recipe, expected: set[str]) -> None:
    assert names(recipe) == expected
