"""A house, a larder, and recipes written as an author writes them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from cardsmith.finding import Severity
from cardsmith.house.style import House, load_house
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe

MakeRecipe = Callable[..., Recipe]


@pytest.fixture(scope="session")
def house() -> House:
    return load_house(Path(__file__).parents[2])


@pytest.fixture(scope="session")
def larder() -> Larder:
    return load_larder()


@pytest.fixture(scope="session")
def recipe_of(larder: Larder) -> MakeRecipe:
    """``recipe_of("200 g bread flour; 120 g water", "Mix the flour and water.")``; ``#key`` before a line."""

    def make(*parts: tuple[str, str] | str, measures: str = "us", **more: str) -> Recipe:
        pairs = parts if isinstance(parts[0], tuple) else [parts if len(parts) == 2 else (parts[0], "Mix.")]
        text = [
            f"title: A trial\nmeasures: {measures}\n",
            *(f"{key}: {value}\n" for key, value in more.items()),
        ]
        text.append("parts:\n")
        for number, (lines, steps) in enumerate(pairs, 1):
            text.append(f"  - name: Part {number}\n    ingredients:\n")
            for line in lines.split("; "):
                key, _, rest = line.rpartition("# ")
                amount = rest.split(" | ")
                entry = f"{{key: {key}, amount: {amount[0]}, item: {amount[-1]}}}" if key else f'"{rest}"'
                text.append(f"      - {entry}\n")
            text.append("    steps:\n")
            text += [f"      - {step}\n" for step in steps.split("; ")]
        recipe, findings = read_recipe("trial", "".join(text).encode(), "recipe.yaml", larder)
        assert recipe is not None, findings
        assert not [one for one in findings if one.severity is Severity.ERROR], findings
        return recipe

    return make
