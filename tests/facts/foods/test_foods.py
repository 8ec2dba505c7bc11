"""What a food is taken for where the larder doesn't know it, and what it says of that."""

from __future__ import annotations

import pytest

from cardsmith.facts.foods.foods import Certainty, alternatives, identify, identity, unknown
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.reference import table
from tests.facts.bench_of_facts import dish, larder, line

NAMED = (  # as written, the food, how
    ("unsalted butter", "unsalted-butter", Certainty.KNOWN),
    ("fresh tuna", "tuna-steak", Certainty.KNOWN),
    ("pork loin chops", "bone-in-pork-chop", Certainty.HEAD),
    ("frozen turkey breast", "turkey-breast", Certainty.KNOWN),
    ("heritage turkey breast", "turkey-breast", Certainty.KNOWN),
    ("mountain turkey breast", "turkey-breast", Certainty.HEAD),
    ("stone-ground toasted rye flour", "medium-rye-flour", Certainty.KNOWN),
    ("hand-dived scallops", "sea-scallop", Certainty.KNOWN),
    ("fresh river trout fillets", "trout", Certainty.HEAD),
    ("cooked meatballs", "ground-beef", Certainty.CLASS),
    ("elk tenderloin", "venison", Certainty.CLASS),
    ("hake steaks", "hake", Certainty.HEAD),  # fish, whatever steaks mostly are
    ("ostrich fillet chops", "pheasant", Certainty.CLASS),
    ("Ruritanian oil", "vegetable-oil", Certainty.CLASS),  # pressed from who knows what
    ("Ruritanian flour", "all-purpose-flour", Certainty.CLASS),
    ("leg of venison", "venison", Certainty.CLASS),
    ("sirloin of beef", "strip-steak", Certainty.CLASS),
    ("aged mountain cheese", "cheddar", Certainty.CLASS),
    ("mixed seafood", "shrimp", Certainty.CLASS),
    ("red-cooked pork", "boneless-pork-shoulder", Certainty.CLASS),
)
NOT_NAMED = (  # only called after an animal, or after who knows what
    "hazelnut milk",
    "vegan meatballs",
    "plant-based mince",
    "vegan mayonnaise",
    "duck sauce",
    "beef seasoning",
    "xanthine crystals",
    "",
)


@pytest.mark.parametrize(("text", "key", "how"), NAMED)
def test_what_a_food_is_taken_for(text: str, key: str, how: Certainty) -> None:
    one = identify(text, larder())
    assert one.food is not None
    assert (one.food.key, one.how) == (key, how)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("500 g cold roast or mashed potatoes", "potato"),
        ("200 g roast or boiled beetroot", "beet"),
        ("50 g tahini paste", "tahini"),
        ("1 tsp dashi powder", "dashi-powder"),
    ],
)
def test_what_the_food_of_a_line_is(text: str, key: str) -> None:
    one = identity(line(text), larder())
    assert one.food is not None
    assert one.food.key == key


@pytest.mark.parametrize("text", NOT_NAMED)
def test_what_nobody_knows_stays_unknown(text: str) -> None:
    one = identify(text, larder())
    assert (one.food, one.how) == (None, Certainty.UNKNOWN)


@pytest.mark.parametrize(
    "text", ["pork loin chops", "elk tenderloin", "heritage turkey breast", "cooked meatballs"]
)
def test_a_class_keeps_its_safety_rules(text: str) -> None:
    assert is_of(identify(text, larder()).food, ("role:meat", "role:poultry"))


def test_a_class_holds_what_its_foods_may_hold() -> None:
    assert identify("cooked meatballs", larder()).possible("eu") == (
        "cereals containing gluten",
        "eggs",
        "milk",
    )
    assert identify("cooked meatballs", larder()).certain("eu") == ()


def test_foods_in_a_name_may_be_in_the_food() -> None:
    assert "nuts" in identify("hazelnut sausages", larder()).possible("eu")
    assert identify("crab apples", larder()).possible("eu") == ()  # nor is there beef in a beef tomato


READY = (
    ("2 (150 g) cans tuna in water", True),
    ("300 g cooked chicken", True),
    ("200 g smoked haddock", True),
    ("4 pasteurized eggs", True),
    ("4 large eggs, boiled and peeled", True),
    ("300 g heat-treated flour", True),
    ("100 g prosciutto", True),
    ("200 g cooked meatballs", True),
    ("200 g uncooked shrimp", False),
    ("4 large eggs", False),
    ("300 g frozen shrimp", False),
    ("1 roasting chicken", False),
    ("4 chicken thighs, not cooked", False),
    ("300 g all-purpose flour", False),
)


@pytest.mark.parametrize(("text", "ready"), READY)
def test_what_is_eaten_as_it_is_bought(text: str, ready: bool) -> None:
    assert bool(identity(line(text), larder()).ready) is ready


def test_a_recipe_tells_what_is_guessed_once() -> None:
    recipe = dish("300 g pork loin chops; 200 g pork loin chops; 20 g unsalted butter; 5 g xanthine crystals")
    assert [(one.item, one.how) for one in unknown(recipe, larder())] == [
        ("pork loin chops", Certainty.HEAD),
        ("xanthine crystals", Certainty.UNKNOWN),
    ]


def test_an_alternative_is_known_with_its_own_amount() -> None:
    told = alternatives(line("10 g fresh thyme or 1 tsp dried thyme"), larder())
    assert [one.food.key if one.food else "" for one in told] == ["dried-thyme"]


def test_the_tables_name_foods_of_the_larder_each_noun_once() -> None:
    rows = table("head_nouns")
    assert all(row["stands_for"] in larder().foods for row in rows if row["stands_for"])
    nouns = [words(row["noun"])[-1] for row in rows]
    assert len(nouns) == len(set(nouns))
    assert all(
        row["source"] for name in ("head_nouns", "imitation_words", "ready_words") for row in table(name)
    )
