"""The way back: a recipe written as mail is, when it is drafted, the recipe again."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from cardsmith.draft.drafting import draft_of
from cardsmith.draft.outward.rows import LetterRow, RowRole, as_printed, as_written
from cardsmith.draft.outward.written import FORMS, as_text
from cardsmith.flow import prepare
from cardsmith.house.publication import Publication
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.card.model import Card

DEMO = Publication(root=Path(__file__).parents[2])
NAMES = DEMO.names()
MADE_UP = 200


@pytest.fixture(scope="module")
def larder() -> Larder:
    return load_larder()


def _told(recipe: Recipe) -> dict[str, Any]:
    """What a recipe says, without its places; pictures and records of publication are not mailed."""
    yields, time = recipe.yields, recipe.time
    return {
        "title": recipe.title,
        "kind": recipe.kind and recipe.kind.text,
        "headnote": recipe.headnote,
        "yields": yields and [one and one.text for one in (yields.makes, yields.serves)],
        "piece": yields and yields.piece,
        "time": time
        and [
            one and (one.low, one.high, one.written)
            for one in (time.active, time.total, time.prep, time.cook)
        ],
        "texts": [recipe.storage, recipe.credit, recipe.course, recipe.cuisine, recipe.measures],
        "lists": [
            [one.text for one in texts]
            for texts in (recipe.equipment, recipe.notes, recipe.cautions, recipe.claims, recipe.keywords)
        ],
        "parts": [
            (
                part.name,
                [
                    (line.text, line.key, line.item, line.prep, line.amount, line.stated)
                    for line in part.ingredients
                ],
                [step.text for step in part.steps],
            )
            for part in recipe.parts
        ],
    }


@cache
def _recipe(name: str) -> Recipe:
    recipe, _ = read_recipe(name, DEMO.read(DEMO.file(name)), "recipe.yaml", load_larder())
    assert recipe is not None
    return recipe


def _again(recipe: Recipe, form: str, larder: Larder) -> Recipe:
    ending, written = FORMS[form]
    (file,) = draft_of(written(as_written(recipe)), f"draft.{ending}", larder).files
    again, _ = read_recipe(recipe.name, file.text.encode(), "recipe.yaml", larder)
    assert again is not None
    return again


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", NAMES)
def test_a_recipe_of_the_demo_comes_back(name: str, form: str, larder: Larder) -> None:
    assert _told(_again(_recipe(name), form, larder)) == _told(_recipe(name))


# --- made-up recipes ----------------------------------------------------------------------------------


class _Author:
    """Puts recipes together from lines of the demo's and from what stands here; a class to hold its dice."""

    def __init__(self, seed: int) -> None:
        self.dice = random.Random(seed)
        every = [_recipe(name) for name in NAMES]
        self.lines = [
            " ".join(line.text.split()) for one in every for line in one.ingredients if not line.key
        ]
        self.steps = [
            " ".join(step.text.split()) for one in every for step in one.steps if "](#" not in step.text
        ]
        self.headnotes = [one.headnote for one in every]
        self.storage = [one.storage for one in every if one.storage]

    def recipe(self) -> str:
        return "\n".join(self._rows()) + "\n"

    def _rows(self) -> Iterator[str]:
        dice = self.dice
        yield f"title: {dice.choice(TITLES)}"
        if dice.random() < 0.6:
            sentences = dice.choice(self.headnotes).split(". ")
            yield f"headnote: >\n  {'. '.join(sentences[: dice.randint(1, len(sentences))]).rstrip('.')}."
        told = [
            f"makes: {dice.choice(MAKES)}",
            f"serves: {dice.choice(SERVES)}",
            f"piece: {dice.choice(PIECES)}",
        ]
        if kept := [one for one in told if dice.random() < 0.6]:
            yield f"yield: {{{', '.join(kept)}}}"
        told = [f"{one}: {dice.choice(TIMES)}" for one in ("active", "total", "prep", "cook")]
        if kept := [one for one in told if dice.random() < 0.6]:
            yield f"time: {{{', '.join(kept)}}}"
        if dice.random() < 0.4:
            yield f"equipment: [{', '.join(dice.sample(TOOLS, dice.randint(1, 3)))}]"
        names = dice.sample(PARTS, dice.randint(2, 3)) if dice.random() < 0.4 else []
        shared = dice.random() < 0.4
        if names:
            yield "parts:"
        for name in names:
            yield f"  - name: {name}"
            yield from self._lists("    ", steps=not shared)
        if not names:
            yield from self._lists("", steps=True)
        elif shared:
            yield from self._list("", "steps", self.steps)
        if dice.random() < 0.5:
            yield f"storage: {dice.choice(self.storage)}"
        if dice.random() < 0.3:
            yield f'notes: ["{dice.choice(NOTES)}"]'
        for key, told in FURTHER.items():
            if dice.random() < 0.4:
                yield f"{key}: {dice.choice(told)}"

    def _lists(self, lead: str, *, steps: bool) -> Iterator[str]:
        yield from self._list(lead, "ingredients", self.lines)
        if steps:
            yield from self._list(lead, "steps", self.steps)

    def _list(self, lead: str, key: str, among: list[str]) -> Iterator[str]:
        yield f"{lead}{key}:"
        for text in self.dice.sample(among, self.dice.randint(1, 7)):
            yield f'{lead}  - "{text}"'


FURTHER = {
    "claims": ("[vegan]", "[vegetarian, gluten-free]"),
    "cautions": ('["Keep the sugar away from water."]', '["Let it cool first.", "Eat within a day."]'),
    "credit": ("Pellwick Test Kitchen", "H. Tarn", "Dorrit Marsh for the harbour"),
    "course": ("dessert", "main"),
    "cuisine": ("coastal", "Bavarian"),
    "keywords": ("[spring, quick]", "[one pot]"),
    "measures": ("metric",),
}
TITLES = (
    "Leek broth", "Harbour buns with seeds", "Smoked haddock, twice cooked", "Quick pickle", "Bread",
    "Ferry stew", "Warm salad of beans and bitter leaves", "Brittle for the fair", "Sunday lamb",
    "Poached eggs on brown toast",
)  # fmt: skip
MAKES = ("60 crackers", "1 loaf", "2 cups", "about 24 buns", "1 (9-inch) tart", "3 to 4 jars")
SERVES = ("4", "4 to 6", "10")
PIECES = ("6 g", "83 g", "1 oz")
TIMES = ("35 min", "1 h 40 min", "15 h 30 min", "2 hours")
TOOLS = ("rolling pin", "two half-sheet pans", "stand mixer or hand mixer", "fine sieve", "digital scale")
PARTS = (
    "Dough",
    "Filling",
    "Oat crumble",
    "Poolish",
    "Sauce",
    "To serve",
    "Pickled onions",
    "Brown butter glaze",
)
NOTES = ("Rye of a new harvest takes more water.", "Frozen peas do as well.", "It can wait for an hour.")


@pytest.mark.parametrize("seed", range(MADE_UP))
def test_a_made_up_recipe_comes_back(seed: int, larder: Larder) -> None:
    text = _Author(seed).recipe()
    recipe, _ = read_recipe("made-up", text.encode(), "recipe.yaml", larder)
    assert recipe is not None
    form = tuple(FORMS)[seed % len(FORMS)]
    assert _told(_again(recipe, form, larder)) == _told(recipe), as_text(as_written(recipe)).decode()


# --- the measures of a card ---------------------------------------------------------------------------


@cache
def _card(name: str) -> Card:
    card = prepare(name, DEMO.read(DEMO.file(name)), "recipe.yaml", load_larder(), DEMO.house()).card
    assert card is not None
    return card


SYSTEMS = (("us",), ("metric",), ("us", "metric"))


@pytest.mark.parametrize("number", range(len(NAMES) * len(SYSTEMS)))
def test_a_card_in_one_system_or_both_comes_back_as_it_was_written(number: int, larder: Larder) -> None:
    name, systems = NAMES[number // len(SYSTEMS)], SYSTEMS[number % len(SYSTEMS)]
    rows = as_printed(_card(name), systems)
    ending, written = FORMS[tuple(FORMS)[number // len(SYSTEMS) % len(FORMS)]]
    (file,) = draft_of(written(rows), f"draft.{ending}", larder).files
    again, _ = read_recipe(name, file.text.encode(), "recipe.yaml", larder)
    assert again is not None
    of_role = {role: [" ".join(row.text.split()) for row in rows if row.role is role] for role in RowRole}
    assert [again.title] == of_role[RowRole.TITLE]
    assert [" ".join(line.text.split()) for line in again.ingredients] == of_role[RowRole.INGREDIENT]
    assert [" ".join(step.text.split()) for step in again.steps] == of_role[RowRole.STEP]
    assert [part.name for part in again.parts if part.name] == of_role[RowRole.PART]


def test_a_card_is_written_in_one_system_or_both() -> None:
    name = "ferry-butter-cake"
    card = _card(name)
    us, metric, both = (_list(as_printed(card, one)) for one in (("us",), ("metric",), ("us", "metric")))
    assert us[1] == "2 cups all-purpose flour"
    assert metric[1] == "250 g all-purpose flour"
    assert both[1] == "2 cups (250 g) all-purpose flour"
    assert "3 large eggs (150 g)" in _list(as_printed(_card("lemon-curd"), ("us", "metric")))  # a count once
    steps = " ".join(row.text for row in as_printed(card, ("metric",)) if row.role is RowRole.STEP)
    assert "175 °C" in steps or "180 °C" in steps
    assert "°F" not in steps


def _list(rows: tuple[LetterRow, ...]) -> list[str]:
    return [row.text for row in rows if row.role is RowRole.INGREDIENT]
