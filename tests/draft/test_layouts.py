"""Recipes drawn first and laid out in hundreds of manners: what each line is, is known, and found again."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.draft.drafting import draft_of
from cardsmith.measure.larder import load_larder
from tests.draft.files import made
from tests.draft.layouts import Writer
from tests.draft.placed import Placed, measured

LAYOUTS = 300
COLLECTIONS = 60
LEAST = {
    "ingredient": Fraction(97, 100),
    "step": Fraction(95, 100),
    "in its part": Fraction(95, 100),
    "title": Fraction(97, 100),
    "yield": Fraction(97, 100),
    "headnote": Fraction(95, 100),
    "storage": Fraction(95, 100),
    "equipment": Fraction(95, 100),
    "desk": Fraction(95, 100),
    "one recipe": Fraction(97, 100),
}


@pytest.fixture(scope="module")
def found() -> Placed:
    """What landed where; a word or a figure lost raises."""
    return measured(range(LAYOUTS), load_larder())


@pytest.mark.parametrize("what", LEAST)
def test_what_is_drawn_lands_in_its_place(what: str, found: Placed) -> None:
    assert found.of[what] > LAYOUTS // 10
    told = "\n".join(one for one in found.wrong if f": {what}: " in one)
    assert found.right[what] >= LEAST[what] * found.of[what], told


def test_none_is_refused(found: Placed) -> None:
    assert found.of["refused"] == 0


def test_recipes_in_one_file_are_told_apart() -> None:
    larder = load_larder()
    apart = []
    for seed in range(COLLECTIONS):
        kind, rows, titles = Writer(seed).collection(2)
        ending, data = made(kind, rows)
        found = draft_of(data, f"drawn.{ending}", larder).files
        apart.append([file.recipe.title.lower() for file in found] == [title.lower() for title in titles])
    assert sum(apart) >= Fraction(95, 100) * COLLECTIONS, [at for at, one in enumerate(apart) if not one]
