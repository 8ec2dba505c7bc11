"""Figures in the steps that are draws on the list, and those that nobody can be sure of."""

from __future__ import annotations

import pytest

from cardsmith.flow import prepare
from cardsmith.language.spans import Draw
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.mentions.tied import tied
from cardsmith.recipe.model import Recipe
from tests.check.bench import recipe
from tests.demo import house_of_one_edition


def drawn(lines: str, *steps: str) -> list[tuple[str, str]]:
    """What each draw is written as, and the item of its line."""
    one = recipe(lines.split("; "), list(steps))
    found = tied(one, read_mentions(one, load_larder()))
    items = {line.key: line.item for line in found.ingredients if line.key}
    return [
        (span.text, items[span.key]) for step in found.steps for span in step.spans if isinstance(span, Draw)
    ]


@pytest.mark.parametrize(
    ("lines", "steps", "draws"),
    [
        (  # all of it
            "1½ cups sugar; 2 eggs",
            ("Beat 1½ cups sugar with the eggs.",),
            [("1½ cups", "sugar")],
        ),
        (  # in portions that come to all of it, though in other units
            "2 tablespoons fine salt; 1 kg potatoes",
            ("Boil the potatoes with 5 teaspoons of the salt.", "Scatter with the remaining 1 tsp salt."),
            [("5 teaspoons", "fine salt"), ("1 tsp", "fine salt")],
        ),
        (  # of two lines of one food, that which lists as much
            "1½ cups brown sugar; 200 g flour; 1 cup brown sugar",
            ("Beat 1½ cups brown sugar into the flour.", "Melt the remaining 1 cup brown sugar."),
            [("1½ cups", "brown sugar"), ("1 cup", "brown sugar")],
        ),
        ("1½ cups (300 g) sugar; 2 eggs", ("Beat 1½ cups sugar with the eggs.",), [("1½ cups", "sugar")]),
        ("2 cups sugar; 2 eggs", ("Beat 1½ cups sugar with the eggs.",), []),  # the rest is not accounted for
        ("2 cups sugar; 2 eggs", ("Beat about 2 cups sugar with the eggs.",), []),
        ("2 cups sugar; 2 eggs", ("Beat 2 cups (400 g) sugar with the eggs.",), []),  # said in both already
        ("2 cups sugar; 1 cup sugar", ("Beat 3 cups sugar until light.",), []),
        ("1 stick (4 oz) butter", ("Melt 4 oz butter.",), [("4 oz", "butter")]),
        ("2 cups sugar", ("Beat 1 cup sugar.", "Add 1 more cup sugar."), []),  # the words between would go
        ("1 bunch parsley", ("Chop 1 cup parsley.",), []),
        (  # of the sugar: it is of the list, wherever the rest goes
            "200 g sugar; 4 egg whites",
            ("Beat the whites with 50 g of the sugar.", "Fold in the remaining sugar."),
            [("50 g", "sugar")],
        ),
        ("½ cup butter", ("Spoon 2 tablespoons of the butter sauce over.",), []),  # what was made of it
        ("½ cup butter", ("Melt 2 tablespoons of the butter in a pan.",), [("2 tablespoons", "butter")]),
        ("200 g sugar", ("Beat 250 g of the sugar.",), []),  # more than there is
        ("200 g sugar", ("Beat 2 tablespoons of the sugar.",), []),  # the line says no volume
        (  # as much as the line lists, and a spoonful nobody can place
            "100 g sugar, plus 6 tsp for the tops",
            ("Whisk 100 g sugar.", "Sprinkle each with 1 teaspoon sugar."),
            [("100 g", "sugar")],
        ),
        ("100 g sugar", ("Beat 100 g sugar.", "Whisk 100 g sugar."), []),  # which of the two?
    ],
)
def test_a_figure_is_a_draw_where_all_come_to_the_line(
    lines: str, steps: tuple[str, ...], draws: list[tuple[str, str]]
) -> None:
    assert drawn(lines, *steps) == draws


def test_a_recipe_without_such_figures_is_the_very_same() -> None:
    one = recipe(["200 g flour"], ["Knead the flour with 100 g water."])
    assert tied(one, read_mentions(one, load_larder())) is one


def test_a_draw_beside_others_adds_up_to_nothing_and_prints_as_its_line() -> None:
    source = SOURCE.replace("1½ cups packed dark brown sugar", "330 g packed dark brown sugar").replace(
        "Stir 1½ cups sugar", "Stir 110 g of the sugar"
    )
    done = prepare("bars", source.encode(), "recipe.yaml", load_larder(), house_of_one_edition())
    assert done.card is not None
    first = "".join(span.text for span in done.card.parts[0].steps[0].spans).replace("\u00a0", " ")
    assert first.startswith("Stir ½ cup (110 g) of the sugar and 1 tablespoon (18 g) of the salt into")
    assert not {"draws-do-not-add-up", "reads-otherwise"} & {one.name for one in done.findings}


def test_a_key_that_its_author_draws_on_is_left_alone() -> None:
    one = recipe(["#sugar 200 g sugar"], ["Beat [150 g](#sugar) of the sugar.", "Add 200 g sugar."])
    assert tied(one, read_mentions(one, load_larder())) is one


SOURCE = """title: Brown sugar bars
yield: {makes: 12 bars}
ingredients:
  - 1½ cups packed dark brown sugar
  - 1 tbsp plus 1 tsp fine salt
  - 2 cups (250 g) all-purpose flour
steps:
  - Stir 1½ cups sugar and 1 tablespoon of the salt into the flour.
  - Bake for 30 minutes, until firm. Scatter with the remaining 1 teaspoon salt.
"""


def test_a_step_says_what_the_cook_has_weighed() -> None:
    done = prepare("bars", SOURCE.encode(), "recipe.yaml", load_larder(), house_of_one_edition())
    assert done.card is not None
    texts = [
        "".join(span.text for span in step.spans).replace("\u00a0", " ")
        for part in done.card.parts
        for step in part.steps
    ]
    assert texts[0].startswith("Stir 1½ cups (330 g) sugar and 1 tablespoon (18 g) of the salt into")
    assert texts[1].endswith("remaining 1 teaspoon (6 g) salt.")
    assert isinstance(done.recipe, Recipe)
    assert all(not line.key for line in done.recipe.ingredients)  # the checks see what was written
