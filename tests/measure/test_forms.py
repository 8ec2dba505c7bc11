"""The form a cup is weighed in: what words name it, what may stand in, and where there is no density."""

from __future__ import annotations

import csv
import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.measure.larder import form_of_words, load_larder
from cardsmith.measure.units import units
from cardsmith.measure.weighing import SPREAD, VOLUMES, density, refuse, weight_of_one
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import is_ready, measured_form
from cardsmith.reference import table

DATA = Path(__file__).parents[1] / "data"
LARDER = load_larder()
CUP = units()["cup"].size


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


PUBLISHED = {
    (row["ndb_no"], row["seq"]): Fraction(row["grams"]) / Fraction(row["amount"])
    for row in _rows("household_weights")
}


def _cup(name: str, words: str) -> Fraction | None:
    """Grams in a cup of the food that ``name`` names, prepared in ``words``."""
    match = LARDER.find(name)
    assert match, name
    told = density(match.food, form_of_words(words) or match.form)
    return told.grams * CUP if told else None


# --- words --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "form"),
    [
        ("finely minced, tightly packed", "packed"),
        ("finely minced", "minced"),
        ("leaves torn", "torn"),
        ("leaves", "leaves"),
        ("leaves picked and roughly chopped", "chopped"),
        ("loosely packed", "loose"),
        ("loosely-packed leaves", "loose"),
        ("firmly packed", "packed"),
        ("cut into ½-inch dice", "diced"),
        ("cut into 1-inch cubes", "diced"),
        ("cut into matchsticks", "julienned"),
        ("peeled and thinly sliced", "sliced"),
        ("cut in half", "halves"),
        ("halved, then sliced", "sliced"),
        ("cut into wedges", "wedges"),
        ("cut into chunks", "chunks"),
        ("coarsely grated", "grated"),
        ("sifted", "sifted"),
        ("sifted, then spooned in", "sifted"),
        ("cooked and cooled", "cooked"),
        ("chilled", ""),
        ("", ""),
    ],
)
def test_a_preparation_names_a_form(words: str, form: str) -> None:
    assert form_of_words(words) == form


@given(st.text(max_size=60))
def test_any_words_are_read(text: str) -> None:
    assert form_of_words(text) in {row["form"] for row in table("larder_forms")} | {""}


# --- SR 28, row by row --------------------------------------------------------------------------------

WEIGHED = [  # food, preparation, cups of the published measure, food number of SR 28, weight
    ("onion", "chopped", 1, "11282", 1),
    ("onion", "finely diced", 1, "11282", 1),
    ("onion", "minced", 1, "11282", 1),
    ("onion", "thinly sliced", 1, "11282", 2),
    ("red onion", "cut into rings", 1, "11282", 2),
    ("carrots", "chopped", 1, "11124", 1),
    ("carrots", "grated", 1, "11124", 2),
    ("green bell pepper", "chopped", 1, "11333", 1),
    ("green bell pepper", "sliced", 1, "11333", 2),
    ("zucchini", "chopped", 1, "11477", 1),
    ("zucchini", "sliced", 1, "11477", 2),
    ("cabbage", "finely shredded", 1, "11109", 2),
    ("cabbage", "chopped", 1, "11109", 1),
    ("broccoli", "chopped", 1, "11090", 1),
    ("broccoli", "cut into florets", 1, "11740", 1),
    ("white mushrooms", "sliced", 1, "11260", 1),
    ("white mushrooms", "whole", 1, "11260", 2),
    ("white mushrooms", "", 1, "11260", 2),
    ("avocado", "diced", 1, "09037", 1),
    ("avocado", "mashed", 1, "09037", 2),
    ("avocado", "puréed", 1, "09037", 2),
    ("eggplant", "cubed", 1, "11209", 1),
    ("butternut squash", "diced", 1, "11485", 1),
    ("parsley", "chopped", 1, "11297", 1),
    ("parsley", "finely minced", 1, "11297", 1),
    ("kale", "chopped", 1, "11233", 1),
    ("spinach leaves", "", 1, "11457", 1),
    ("basil leaves", "", 1, "02044", 3),
    ("fresh basil", "leaves", 1, "02044", 3),
    ("coriander leaves", "", 1, "11165", 1),
    ("fresh mint leaves", "", 16, "02064", 2),
    ("fresh mint", "finely chopped", 16, "02065", 2),
    ("fresh dill sprigs", "", 1, "02045", 2),
    ("apple", "chopped", 1, "09003", 1),
    ("apple", "sliced", 1, "09003", 2),
    ("strawberries", "whole", 1, "09316", 4),
    ("strawberries", "", 1, "09316", 4),
    ("strawberries", "sliced", 1, "09316", 3),
    ("strawberries", "halved", 1, "09316", 1),
    ("orange", "segmented", 1, "09200", 1),
    ("bananas", "mashed", 1, "09040", 1),
    ("bananas", "sliced", 1, "09040", 2),
    ("cherries", "pitted", 1, "09070", 2),
    ("pineapple", "cut into chunks", 1, "09266", 1),
    ("cranberries", "chopped", 1, "09078", 1),
    ("cranberries", "", 1, "09078", 2),
    ("raisins", "", 1, "09298", 2),
    ("raisins", "packed", 1, "09298", 1),
    ("walnuts", "chopped", 1, "12155", 1),
    ("walnuts", "", 1, "12155", 4),
    ("pecans", "chopped", 1, "12142", 1),
    ("pecans", "halves", 1, "12142", 2),
    ("almonds", "", 1, "12061", 1),
    ("hazelnuts", "roughly chopped", 1, "12120", 1),
    ("cheddar", "shredded", 1, "01009", 3),
    ("cheddar", "diced", 1, "01009", 1),
    ("cheddar", "melted", 1, "01009", 2),
    ("butter", "cut into cubes", 1, "01145", 3),
    ("butter", "", 1, "01145", 3),
    ("whipping cream", "", 1, "01053", 2),
    ("confectioners' sugar", "sifted", 1, "19336", 2),
    ("confectioners' sugar", "", 1, "19336", 1),
    ("long-grain white rice", "", 1, "20444", 1),
    ("long-grain white rice", "cooked", 1, "20445", 1),
    ("light brown sugar", "packed", 1, "19334", 2),
    ("light brown sugar", "loosely packed", 1, "19334", 3),
]


@pytest.mark.parametrize(("name", "words", "times", "food", "weight"), WEIGHED)
def test_a_cup_weighs_what_sr_28_says_of_that_form(
    name: str, words: str, times: int, food: str, weight: int
) -> None:
    assert _cup(name, words) == PUBLISHED[food, str(weight)] * times


def test_sixty_grams_of_mint_leaves_fill_more_than_two_cups() -> None:
    mint = _cup("fresh mint leaves", "")
    assert mint is not None
    assert Fraction(225, 100) < 60 / mint < Fraction(24, 10)


def test_the_form_matters_in_most_rows() -> None:
    """What would go unseen if the form were dropped: most rows above are not those of the bare food."""
    plain = sum(_cup(name, "") == _cup(name, words) for name, words, *_ in WEIGHED if words)
    assert plain <= 10


# --- what may stand in, and what may not --------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "asked", "used"),
    [
        ("cilantro", "minced", "chopped"),
        ("onion", "diced", "chopped"),
        ("mango", "chopped", "diced"),
        ("shallot", "minced", "chopped"),
        ("fresh-basil", "leaves", "whole"),
        ("fresh-basil", "loose", "whole"),
        ("fresh-mint", "", "whole"),
        ("fresh-thyme", "leaves", ""),
        ("almond", "", "whole"),
        ("unsalted-butter", "diced", ""),
        ("light-brown-sugar", "loose", "spooned"),
        ("banana", "pureed", "mashed"),
    ],
)
def test_what_stands_in_is_said(key: str, asked: str, used: str) -> None:
    told = density(LARDER.foods[key], asked)
    assert told is not None
    assert told.form == used
    assert not told.exact_form
    if used and asked:
        assert f"{used}, taken for {asked}" in told.basis


REFUSED = [
    ("onion", ""),
    ("carrot", ""),
    ("parsley", ""),
    ("parsley", "leaves"),
    ("parsley", "packed"),
    ("cilantro", "packed"),
    ("fresh-mint", "torn"),
    ("fresh-basil", "sliced"),
    ("kale", "whole"),
    ("cheddar", ""),
    ("parmesan", ""),
    ("garlic", "chopped"),
    ("garlic", "sliced"),
    ("scallion", "sliced"),
    ("zucchini", "grated"),
    ("cabbage", "sliced"),
    ("walnut", "packed"),
    ("walnut", "grated"),
    ("pecan", "ground"),
    ("pine-nut", "chopped"),
    ("salted-peanut", "chopped"),
    ("raisin", "chopped"),
    ("cherry-tomato", "halves"),
    ("all-purpose-flour", "packed"),
    ("whole-rye-flour", "sifted"),
    ("long-grain-white-rice", "packed"),
    ("rice-noodles", ""),
    ("muscovado-sugar", "loose"),
    ("canned-chickpea", ""),
    ("date", ""),
]


@pytest.mark.parametrize(("key", "form"), REFUSED)
def test_no_cup_of_another_form_stands_in(key: str, form: str) -> None:
    assert density(LARDER.foods[key], form) is None


def test_a_form_named_by_no_table_has_no_density() -> None:
    assert density(LARDER.foods["all-purpose-flour"], "frozen") is None


_FORMS = [row["form"] for row in table("larder_forms") if row["form"] != "plain"]


@given(key=st.sampled_from(sorted(LARDER.foods)), form=st.sampled_from(["", *_FORMS]))
def test_a_density_is_of_the_form_asked_for_or_of_a_stated_one(key: str, form: str) -> None:
    food = LARDER.foods[key]
    told = density(food, form)
    if told is None or told.exact_form:
        return
    stated = {
        row["form"].replace("plain", ""): row["falls_to"].replace("plain", "")
        for row in table("larder_forms")
    }
    forms = {row.form for row in food.measures if row.measure in VOLUMES}
    assert form not in forms
    poured = told.form == "" and (
        food.state in {"powder", "granule", "liquid", "paste"}
        or (food.state == "solid" and food.is_mainly("fat"))
    )
    alike = not form and len(forms) > 1
    assert told.form in stated[form].split("|") or poured or alike


def test_what_names_no_form_is_never_cut_unless_the_forms_weigh_alike() -> None:
    """A cup without a word is of the food as sold; of a cut only where no cut differs by over a tenth."""
    for food in LARDER.foods.values():
        told = density(food)
        if told is not None and told.form not in {"", "whole"}:
            every = [one for row in food.measures if (one := density(food, row.form)) and row.form]
            assert max(one.grams for one in every) / min(one.grams for one in every) <= 1 + SPREAD, food.key


def test_finer_packs_closer_and_air_makes_lighter() -> None:
    pairs = (("whole", "chopped"), ("loose", "packed"), ("sifted", ""), ("sliced", "mashed"), ("whipped", ""))
    seen = 0
    for food in LARDER.foods.values():
        for lighter, heavier in pairs:
            light, heavy = density(food, lighter), density(food, heavier)
            if light and heavy and light.exact_form and heavy.exact_form and food.state in {"leaf", "powder"}:
                seen += 1
                assert light.grams < heavy.grams, (food.key, lighter, heavier)
    assert seen >= 5


def test_every_fall_is_to_a_form_of_the_table_and_says_why() -> None:
    forms = {row["form"] for row in table("larder_forms")}
    named = {row["form"] for row in table("descriptors") if row["form"]}
    assert named <= forms
    assert {row["form"] for row in _measures()} <= forms | {""}
    for row in table("larder_forms"):
        assert set(filter(None, row["falls_to"].split("|"))) <= forms
        assert len(row["source"]) > 10
        assert row["act"] in {"fill", "cut", "process", "plain"}


def _measures() -> list[dict[str, str]]:
    return [{"form": row.form} for food in LARDER.foods.values() for row in food.measures]


# --- the line -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "form"),
    [
        ("28 g minced cilantro", "minced"),
        ("28 g cilantro, minced", "minced"),
        ("60 g fresh mint, finely chopped", "chopped"),
        ("117 g walnuts, chopped", "chopped"),
        ("1 cup walnuts, chopped", ""),  # measured whole, then chopped: common practice
        ("1 cup chopped walnuts", "chopped"),
        ("1 cup onion, chopped", "chopped"),  # a whole onion fills no cup
        ("1 cup heavy cream, whipped", ""),
        ("240 g heavy cream, whipped", ""),
        ("1 cup all-purpose flour, sifted", ""),
        ("1 cup sifted all-purpose flour", "sifted"),
        ("200 g light brown sugar, packed", "packed"),
        ("200 g cherry tomatoes, halved", ""),  # nobody weighed the halves: a cup of tomatoes, then halved
    ],
)
def test_the_line_tells_the_form(text: str, form: str) -> None:
    assert measured_form(_line(text)) == form


def _line(text: str) -> Ingredient:
    return read_line(text, Where(file="list.txt"), LARDER)[0]


# --- one, bought and eaten ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "size", "eaten", "bought", "within"),
    [  # the whole weights that USDA SR 28 prints beside a piece, else from its refuse
        ("green-bell-pepper", "large", 164, "201.6", 0.01),  # food 11333, weight 4: 2 1/4 to the pound
        ("eggplant", "", 548, "567", 0.01),  # food 11209, weight 3: about 1 1/4 lb
        ("orange", "", 131, "179.5", 0.001),  # food 09200: 27 % peel and seeds
        ("lemon", "", 58, "109.4", 0.001),  # food 09150: 47 %
        ("banana", "medium", 118, "184.4", 0.001),  # food 09040: 36 % skin
        ("egg", "large", 50, "50", 0),  # weighed without its shell
        ("potato", "medium", 213, "213", 0),  # eaten with its skin
        ("lemon-juice", "", 48, "48", 0),
    ],
)
def test_one_has_an_eaten_and_a_bought_weight(
    key: str, size: str, eaten: int, bought: str, within: float
) -> None:
    one = weight_of_one(LARDER.foods[key], "one", size)
    assert one is not None
    assert one.grams == eaten
    assert float(one.bought) == pytest.approx(float(bought), rel=within or 1e-9)
    assert bool(one.bought_basis) == (one.bought != one.grams)


def test_five_hundred_grams_of_oranges_are_three() -> None:
    one = weight_of_one(LARDER.foods["orange"])
    assert one is not None
    assert round(500 / one.bought) == 3
    assert round(500 / one.grams) == 4


def test_what_is_bought_weighs_at_least_what_is_eaten() -> None:
    for food in LARDER.foods.values():
        for measure in {row.measure for row in food.measures if row.measure not in VOLUMES}:
            one = weight_of_one(food, measure)
            assert one is not None
            assert one.grams <= one.bought < one.grams * 4, (food.key, measure)
            if food.aisle == "produce" and measure == "slice":
                assert one.bought == one.grams  # a slice is cut from what was peeled


def test_a_pound_of_bananas_as_bought_is_sr_28s_refuse() -> None:
    """Its refuse is what lies between a pound with peel (181 g a cup of slices) and the slices (150 g)."""
    away, why = refuse(LARDER.foods["banana"])
    assert away == Fraction(36, 100)
    assert "09040" in why


@pytest.mark.parametrize(
    ("text", "ready"),
    [
        ("2 oranges", False),
        ("2 oranges, peeled", False),
        ("2 peeled oranges", True),
        ("2 lemons, juiced", False),
    ],
)
def test_a_count_is_of_what_is_bought_unless_the_words_before_say_else(text: str, ready: bool) -> None:
    assert is_ready(_line(text)) is ready


# --- where sources contradict each other --------------------------------------------------------------

CONTRADICTS = Fraction(1, 10)
_UNIT = re.compile(r"\b(cups?|tbsp|tsp|tablespoons?|teaspoons?|fl oz)\b|\(.*?\)|[\d/., ]", re.IGNORECASE)
_VOLUME = {
    "cup": "cup",
    "tbsp": "tablespoon",
    "tablespoon": "tablespoon",
    "tsp": "teaspoon",
    "teaspoon": "teaspoon",
}


def _contradictions() -> set[tuple[str, str, str]]:
    """Measures of one food of SR 28, in the same words, over a tenth from the one the larder takes."""
    rows = [row for row in _rows("household_weights") if _measured(row["measure"])]
    cited = {(row["ndb_no"], row["seq"]): row for row in rows}
    alike: dict[tuple[str, str], list[dict[str, str]]] = {}  # rows of one food in the same words
    for row in rows:
        alike.setdefault((row["ndb_no"], _words(row)), []).append(row)
    found = set()
    for food in LARDER.foods.values():
        for taken in food.measures:
            source = re.match(r"USDA SR 28, food (\d{5}), weight (\d+)(?!.*taken for)", taken.source)
            mine = cited.get((source[1], source[2])) if source else None
            if mine is None or taken.measure not in VOLUMES:
                continue
            ours = taken.grams / taken.amount / units()[taken.measure].size
            for row in alike[mine["ndb_no"], _words(mine)]:
                theirs = Fraction(row["grams"]) / Fraction(row["amount"]) / _measured(row["measure"])
                if abs(theirs / ours - 1) > CONTRADICTS:
                    found.add((food.key, taken.form, f"{float(theirs * CUP):.0f}"))
    return found


def _words(row: dict[str, str]) -> str:
    return _UNIT.sub("", row["measure"].lower())


def _measured(text: str) -> Fraction:
    match = re.match(r"(tablespoon|teaspoon|cup|tbsp|tsp)s?\b", text.lower())
    return units()[_VOLUME[match[1]]].size if match else Fraction(0)


def test_every_contradiction_within_sr_28_is_decided_and_said() -> None:
    decided = {
        (row["key"], row["form"], f"{float(row['grams_a_cup']):.0f}")
        for row in _rows("density_contradictions")
    }
    assert _contradictions() == decided
    assert all(len(row["explanation"]) > 20 for row in _rows("density_contradictions"))
