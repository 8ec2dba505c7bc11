from __future__ import annotations

import csv
from pathlib import Path

import pytest

from cardsmith.facts.foods.claims import diet, diets
from cardsmith.facts.foods.diets import against
from cardsmith.facts.foods.foods import identify
from cardsmith.finding import Severity
from cardsmith.measure.larder import load_larder
from tests.check.bench import found
from tests.check.safety_cases import dish

# A table of keywords and their classes that the project did not write: tests/data/README.md names its source.
KEYWORDS = tuple(
    csv.DictReader(
        (Path(__file__).parents[2] / "data/allergens.csv").read_text(encoding="utf-8").splitlines()
    )
)
FREE_OF = {
    "milk": "dairy-free", "egg": "egg-free", "fish": "fish-free", "tree nuts": "tree-nut-free",
    "peanuts": "peanut-free", "soybeans": "soy-free", "sesame": "sesame-free", "wheat": "gluten-free",
    "crustacean shellfish": "shellfish-free",
}  # fmt: skip
CERTAIN = [
    (row["keyword"], allergen.strip())
    for row in KEYWORDS
    if row["match"] == "contains"
    for allergen in row["us_allergen"].split(";")
    if allergen.strip() in FREE_OF and load_larder().find(row["keyword"])
]


@pytest.mark.parametrize(("keyword", "allergen"), CERTAIN)
def test_no_food_that_holds_an_allergen_passes_for_free_of_it(keyword: str, allergen: str) -> None:
    match, one = load_larder().find(keyword), diet(FREE_OF[allergen])
    assert match is not None
    assert one is not None
    assert against(identify(match.food.name, load_larder(), match.food), one) is not None


def test_the_table_of_keywords_is_put_to_use() -> None:
    assert len(CERTAIN) > 150


# Look-alikes that hold nothing of what their names sound like.
@pytest.mark.parametrize(
    ("name", "claim"),
    [
        ("buckwheat flour", "gluten-free"), ("buckwheat groats", "gluten-free"), ("kasha", "gluten-free"),
        ("coconut milk", "dairy-free"), ("coconut cream", "dairy-free"), ("coconut milk", "nut-free"),
        ("cream of tartar", "dairy-free"), ("cocoa butter", "dairy-free"), ("peanut butter", "dairy-free"),
        ("almond milk", "dairy-free"), ("apple butter", "dairy-free"), ("cream of coconut", "dairy-free"),
        ("oyster mushroom", "shellfish-free"), ("oyster mushroom", "vegan"), ("eggplant", "egg-free"),
        ("butternut squash", "nut-free"), ("nutmeg", "nut-free"), ("water chestnut", "nut-free"),
        ("chestnut", "nut-free"), ("tiger nut flour", "nut-free"), ("peanut butter", "tree-nut-free"),
        ("honeydew melon", "vegan"), ("nutritional yeast", "vegan"), ("butterhead lettuce", "dairy-free"),
        ("glutinous rice flour", "gluten-free"), ("corn flour", "gluten-free"), ("tamari", "gluten-free"),
        ("agar powder", "vegetarian"), ("pectin", "vegan"), ("soy milk", "dairy-free"),
    ],
)  # fmt: skip
def test_look_alike_passes(name: str, claim: str) -> None:
    match, one = load_larder().find(name), diet(claim)
    assert match is not None, name
    assert one is not None
    assert against(identify(match.food.name, load_larder(), match.food), one) is None


@pytest.mark.parametrize(
    ("name", "claim", "sure"),
    [
        ("Worcestershire sauce", "vegetarian", True), ("honey", "vegan", True),
        ("gelatin powder", "vegetarian", True), ("mini marshmallows", "vegan", True),
        ("lard", "vegetarian", True), ("fish sauce", "vegan", True),
        ("barley malt syrup", "gluten-free", True), ("soy sauce", "gluten-free", True),
        ("pearl barley", "gluten-free", True), ("ghee", "dairy-free", True),
        ("pesto", "nut-free", True), ("rolled oats", "gluten-free", False),
        ("margarine", "dairy-free", False), ("Parmesan", "vegetarian", False),
        ("kimchi", "vegan", False), ("vegetable oil", "soy-free", False),
        ("beer", "gluten-free", True), ("chicken stock", "vegetarian", True),
        ("vegetable stock", "gluten-free", False),
    ],
)  # fmt: skip
def test_trap_is_found(name: str, claim: str, sure: bool) -> None:
    match, one = load_larder().find(name), diet(claim)
    assert match is not None, name
    assert one is not None
    told = against(identify(match.food.name, load_larder(), match.food), one)
    assert told is not None
    assert told[0] is sure


@pytest.mark.parametrize("text", ["Gluten free", "gluten-free", "GF", "gluten\u2011free", " gluten-free "])
def test_one_claim_in_many_spellings(text: str) -> None:
    known = diet(text)
    assert known is not None
    assert known.name == "gluten-free"


def test_no_two_claims_share_a_spelling() -> None:
    names = [name for one in diets() for name in {one.name, *one.aliases}]
    assert len(names) == len(set(names))


def test_line_that_asks_for_the_right_sort_is_believed() -> None:
    assert found("claim-contradicted", dish("60 g gluten-free soy sauce", claims="gluten-free")) == ()
    assert found("claim-contradicted", dish("60 g soy sauce", claims="gluten-free"))


def test_misspelt_claim_names_the_nearest() -> None:
    (told,) = found("unknown-claim", dish("1 apple", claims="vegam"))
    assert (told.instead, told.severity) == ("did you mean “vegan”?", Severity.ERROR)


UNTRUE = [
    ("200 g spelt flour", "Spelt is without gluten, so a coeliac friend can have a slice."),
    ("20 g powdered gelatin", "There is no egg white in these, so they suit vegetarian guests."),
    ("100 g butter", "A vegan crumble for the freezer."),
    ("50 g honey", "Everyone at a plant-based table loves it."),
    ("100 g ground almonds", "It is safe for anybody with a nut allergy."),
    ("100 ml dark rum", "There is no alcohol in it."),
    ("2 large eggs", "Good for those who can't eat eggs."),
    ("100 g prawns", "Guests with a shellfish allergy can eat it."),
    ("100 g couscous", "A gluten-free supper."),
    ("200 g feta cheese", "The salad has no dairy and keeps well."),
]
TRUE = [
    ("200 g rice flour", "A gluten-free cake."),
    ("200 g spelt flour", "Spelt is a wheat, so it is not a loaf for a coeliac friend."),
    ("20 g powdered gelatin", "For vegetarians, use agar instead."),
    ("100 g butter", "To make it vegan, swap the butter for oil."),
    ("100 g butter", "We ate it beside a vegan butter and could not tell."),
    ("100 g ground almonds", "Keep it away from anybody with a nut allergy."),
    ("100 ml dark rum", "Leave the rum out if you want no alcohol."),
    ("2 large eggs", "This isn't for people with an egg allergy."),
    ("100 g couscous", "A gluten-free version with quinoa works as well."),
    ("100 g strong bread flour", "Check the label if somebody is coeliac."),
]


@pytest.mark.parametrize(("line", "headnote"), UNTRUE)
def test_a_sentence_that_the_list_gives_the_lie(line: str, headnote: str) -> None:
    (told,) = found("claim-untrue-in-text", dish(line, "Mix it.", headnote=headnote))
    assert told.severity is Severity.ERROR


@pytest.mark.parametrize(("line", "headnote"), TRUE)
def test_a_sentence_that_is_true_or_denies_it(line: str, headnote: str) -> None:
    assert not found("claim-untrue-in-text", dish(line, "Mix it.", headnote=headnote))


def test_a_title_claims_whatever_food_it_names() -> None:
    assert found("claim-untrue-in-text", dish("100 g butter", "Mix it.", title="Vegan chocolate cake"))


@pytest.mark.parametrize(
    "headnote",
    [
        "A cup of this each morning does the work of, and can replace, your blood-pressure tablets.",
        "Ginger cures migraines.",
        "It lowers cholesterol within a week.",
        "Garlic is better than antibiotics.",
    ],
)
def test_no_dish_treats_an_illness(headnote: str) -> None:
    (told,) = found("medical-claim", dish("10 g ginger", "Steep it.", headnote=headnote))
    assert told.severity is Severity.ERROR


@pytest.mark.parametrize(
    "headnote",
    [
        "We make it when somebody has the flu.",
        "It is no cure for a cold, and no substitute for medicine.",
        "My uncle, who is diabetic, eats it without the syrup.",
        "Cured pork and a soft egg.",
        "Reduce the sauce by half.",
    ],
)
def test_to_mention_one_promises_nothing(headnote: str) -> None:
    assert not found("medical-claim", dish("10 g ginger", "Steep it.", headnote=headnote))
