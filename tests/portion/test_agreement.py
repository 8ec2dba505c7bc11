"""The allergens of a card, its data and its ingredient statement, held together: one computation for all."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.facts.foods.allergens import allergens
from cardsmith.flow import prepare
from cardsmith.measure.larder import load_larder
from cardsmith.portion.portion_file import NO_FACTS
from cardsmith.portion.statement import statement
from tests.demo import house_of_one_edition
from tests.portion.kitchen import batch

HERE = Path(__file__).parents[1]
FILES = sorted(
    (
        *(HERE.parent / "recipes").glob("*/recipe.yaml"),
        *(HERE / "twins" / "bases").glob("*.yaml"),
        *sorted((HERE / "pairs").glob("*sound*.yaml"))[::12],
    )
)
TRICKY = (
    "1 tbsp oyster sauce",
    "2 tbsp hoisin sauce",
    "1 tbsp red curry paste",
    "1 tsp English mustard",
    "50 g walnuts (optional)",
    "100 g butter or margarine",
    "30 g flaked almonds, to serve",
    "1 tbsp tahini paste",
    "2 tbsp plain flour, for dusting",
    "sesame seeds, to taste",
)


@pytest.mark.parametrize(
    "path", FILES, ids=lambda path: path.stem if path.stem != "recipe" else path.parent.name
)
def test_card_and_statement_name_the_same_allergens(path: Path) -> None:
    _agree(path.stem, path.read_bytes())


@pytest.mark.parametrize("line", TRICKY)
def test_so_they_do_of_a_food_whose_label_or_cook_decides(line: str) -> None:
    source = f"title: Plain dish\nyield: {{serves: 4}}\ningredients:\n  - 500 g potatoes\n  - {line}\n"
    _agree("plain-dish", f"{source}steps:\n  - Mix everything well.\n".encode())


def _agree(name: str, source: bytes) -> None:
    larder = load_larder()
    card = prepare(name, source, name, larder, house_of_one_edition()).card
    assert card is not None
    recipe = card.recipe
    parts, _, done = batch(recipe, NO_FACTS)
    for market, printed in (("us", card.us_allergens), ("eu", card.eu_allergens)):
        held = allergens(recipe.ingredients, market, larder)
        told = statement(recipe, parts, done, market.upper(), larder)
        assert {str(one) for one in printed} in ({*held.names}, {*held.with_kinds})
        assert _classes(told.contains) == [one.allergen.printed for one in held.certain]
        assert {one.rpartition(": ")[2] for one in told.perhaps} == {
            one.allergen.printed for one in held.possible
        }


def _classes(told: tuple[str, ...]) -> list[str]:
    """The classes without the kinds behind them: nuts (almonds) are nuts."""
    return [one.partition(" (")[0] for one in told]
