from __future__ import annotations

import json
import re
from dataclasses import replace
from fractions import Fraction

import jsonschema
import pytest
from rdflib import RDF, SDO, Dataset

from cardsmith.measure.larder import load_larder
from cardsmith.recipe.model import Text
from cardsmith.rewrite.card.rewrite import rewrite
from cardsmith.site.recipe_page.structured import iso_duration, recipe_data, step_name
from tests.site.published import NAMES, published, seen, tree

# What a large search engine takes: what it requires, and the form of what it recommends. Source: Google
# Search Central, "Recipe structured data" (name and image; a picture in three shapes), seen in a stored copy.
PROFILE = {
    "type": "object",
    "required": ["@context", "@type", "name", "image", "author", "recipeIngredient", "recipeInstructions"],
    "properties": {
        "@type": {"const": "Recipe"},
        "name": {"type": "string", "minLength": 1},
        "image": {
            "type": "array",
            "minItems": 3,
            "items": {"type": "string", "pattern": r"^https://.*-(?:1x1|4x3|16x9)\.(?:jpg|png)$"},
        },
        "author": {"required": ["@type", "name"]},
        "datePublished": {"type": "string", "pattern": r"^\d{4}-\d\d-\d\d$"},
        "dateModified": {"type": "string", "pattern": r"^\d{4}-\d\d-\d\d$"},
        "totalTime": {"type": "string", "pattern": r"^P(?:\d+D)?(?:T(?:\d+H)?(?:\d+M)?(?:\d+S)?)?$"},
        "recipeIngredient": {"type": "array", "minItems": 1, "items": {"type": "string"}},
        "recipeInstructions": {
            "type": "array",
            "minItems": 1,
            "items": {
                "oneOf": [
                    {"required": ["text"], "properties": {"@type": {"const": "HowToStep"}}},
                    {
                        "required": ["name", "itemListElement"],
                        "properties": {"@type": {"const": "HowToSection"}},
                    },
                ]
            },
        },
    },
}


def data_of(name: str) -> dict[str, object]:
    page = tree(published(name).in_site)
    found = next(node for node in page.iter("script") if node.get("type") == "application/ld+json")
    return json.loads(found.text)


def steps_of(told: dict[str, object]) -> list[dict[str, str]]:
    return [step for one in told["recipeInstructions"] for step in one.get("itemListElement", [one])]


@pytest.mark.parametrize("name", NAMES)
def test_profile(name: str) -> None:
    jsonschema.validate(data_of(name), PROFILE)


def test_a_recipe_was_last_changed_when_it_was_corrected_or_else_when_it_was_published() -> None:
    curd, house = published("lemon-curd").card, published("lemon-curd").house
    first, last = curd.recipe.published, curd.recipe.corrections
    assert first
    assert first.date < last[-1].date == recipe_data(curd, house)["dateModified"]
    twice = replace(curd.recipe, corrections=(*last, replace(last[-1], date="2026-05-01")))
    assert recipe_data(replace(curd, recipe=twice), house)["dateModified"] == last[-1].date
    never = recipe_data(replace(curd, recipe=replace(curd.recipe, corrections=())), house)
    assert never["datePublished"] == never["dateModified"] == first.date


def test_times_of_making_ready_and_of_cooking_where_the_recipe_says_them() -> None:
    told = data_of("carrot-lentil-soup")
    assert (told["prepTime"], told["cookTime"], told["totalTime"]) == ("PT20M", "PT45M", "PT1H5M")
    assert not {"prepTime", "cookTime"} & data_of("lemon-curd").keys()  # hands-on time is neither


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of the library, in its own code
@pytest.mark.parametrize("name", NAMES)
def test_a_json_ld_processor_reads_terms_of_the_vocabulary_alone(name: str) -> None:
    """With an inline context, since the processor would fetch schema.org's; rdflib holds its names."""
    told = data_of(name) | {"@context": {"@vocab": str(SDO)}}
    graph = Dataset()
    graph.parse(data=json.dumps(told), format="json-ld")
    assert len(list(graph.quads((None, RDF.type, SDO.Recipe, None)))) == 1
    for _, predicate, value, _ in graph.quads():
        if predicate == RDF.type:
            assert value in SDO
        else:
            assert predicate in SDO, predicate


@pytest.mark.parametrize("name", NAMES)
def test_it_says_what_the_page_shows(name: str) -> None:
    made, told = published(name), data_of(name)
    page = tree(made.in_site)
    body = next(page.iter("body"))
    shown = " ".join(re.sub(r"[\u00a0\u2009]", " ", seen(body)).split())
    rows = [node for node in page.iter("tr") if re.fullmatch(r"r\d+", node.get("id") or "")]
    for line, row in zip(told["recipeIngredient"], rows, strict=True):
        cells = [" ".join(re.sub(r"\u00a0", " ", seen(cell)).split()) for cell in row]
        item = cells[0].removesuffix(" weigh this")
        if cells[1] in {"to taste", "as needed"}:
            assert line.startswith(item)
        elif cells[1] == cells[2]:
            assert line == f"{cells[1]} {item}"
        else:  # 8 (3 lb in all) and 8 (1.35 kg in all) say their count once
            figures = [re.split(r"[()/]| in all| each", cell) for cell in cells[1:3]]
            said = dict.fromkeys(part.strip() for few in figures for part in few if part.strip())
            name, comma, prep = item.partition(", ")
            assert line.endswith((f" {item}", f"){comma}{prep}"))
            assert f" {name}" in line
            once = r"(?<![\w.]){}(?![\w.])"
            assert all(len(re.findall(once.format(re.escape(part)), line)) == 1 for part in said), line
    steps = steps_of(told)
    assert len(steps) == len(made.view.card.numbers)
    texts = [*(step["text"] for step in steps), *told["recipeYield"], *told.get("tool", [])]
    texts += [told["name"], told["description"], told["author"]["name"], told["publisher"]["name"]]
    texts += [told[key] for key in ("recipeCategory", "recipeCuisine") if key in told]
    for text in texts:
        assert " ".join(text.split()) in shown
    dates = {node.get("datetime") for node in page.iter("time")}
    assert {told[key] for key in ("datePublished", "dateModified") if key in told} <= dates


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("lemon-curd", "3 large eggs (150 g)"),
        ("meringue-shells", "4 large egg whites (130 g), at room temperature"),
        ("carrot-lentil-soup", "1 large yellow onion (7 oz / 200 g), chopped"),
        ("cider-braised-chicken-thighs", "8 chicken thighs (3 lb / 1.35 kg in all), bone-in and skin-on"),
        ("cider-braised-chicken-thighs", "4 cloves garlic (14 g in all), sliced"),
        ("haddock-fennel-potatoes", "4 fillets haddock (1⅓ lb / 600 g in all), skinned"),
        ("white-bean-salad", "½ small red onion (2 oz / 60 g), thinly sliced"),
        ("white-bean-salad", "2 (14-ounce / 400 g) cans cannellini beans, drained and rinsed"),
        ("white-bean-salad", "freshly ground black pepper, to taste"),
        ("bay-custard-pots", "2 fresh bay leaves, torn"),
    ],
)
def test_a_line_is_as_a_reader_would_say_it(name: str, line: str) -> None:
    assert line in data_of(name)["recipeIngredient"]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Bake for 40 to 45 minutes, until golden. Cool.", "Bake for 40 to 45 minutes"),
        ("Add 2.5 cm of water; stir.", "Add 2.5 cm of water"),
        ("Stir", "Stir"),
    ],
)
def test_a_step_is_named_by_its_first_sentence(text: str, name: str) -> None:
    assert step_name(text) == name


@pytest.mark.parametrize("name", NAMES)
def test_every_step_has_a_name_that_begins_its_text(name: str) -> None:
    steps = steps_of(data_of(name))
    assert all(step["name"] and step["text"].startswith(step["name"]) for step in steps)


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("lemon-curd", ["16", "2 cups (480 ml)"]),
        ("blackcurrant-cordial", ["28", "3½ cups (840 ml)"]),
        ("cider-braised-chicken-thighs", ["4", "8 thighs"]),
    ],
)
def test_the_yield_begins_with_the_bare_number_of_servings(name: str, told: list[str]) -> None:
    assert data_of(name)["recipeYield"] == told


@pytest.mark.parametrize(
    ("name", "diets"),
    [
        ("raspberry-sorbet", ["VeganDiet", "GlutenFreeDiet"]),
        ("lemon-curd", ["VegetarianDiet", "GlutenFreeDiet"]),
        ("apple-blackberry-crumble-pie", ["VegetarianDiet"]),
        ("haddock-fennel-potatoes", ["GlutenFreeDiet"]),  # dairy-free is no diet of schema.org's
        ("cider-braised-chicken-thighs", []),
    ],
)
def test_diets_are_told_by_their_terms(name: str, diets: list[str]) -> None:
    told = data_of(name).get("suitableForDiet", [])
    assert told == [f"https://schema.org/{diet}" for diet in diets]
    assert all(str(diet).removeprefix("https://schema.org/") in SDO for diet in told)


def test_a_diet_that_a_food_denies_or_nobody_knows_is_not_told() -> None:
    """The card's check queries such a claim; machines, which can't ask, are not told it at all."""
    curd, house = published("lemon-curd").card.recipe, published("lemon-curd").house
    claims = tuple(Text(text=text, where=curd.where) for text in ("vegan", "Vegetarian", "gluten free"))
    told, _ = rewrite(replace(curd, claims=claims), load_larder(), house)
    assert recipe_data(told, house)["suitableForDiet"] == [
        "https://schema.org/VegetarianDiet",
        "https://schema.org/GlutenFreeDiet",  # it has eggs
    ]
    (part,) = curd.parts
    dust = replace(part.ingredients[0], item="moon dust", food=None)
    strange = replace(curd, claims=claims, parts=(replace(part, ingredients=(*part.ingredients, dust)),))
    unknown, _ = rewrite(strange, load_larder(), house)
    assert "suitableForDiet" not in recipe_data(unknown, house)


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(6300, "PT1H45M"), (86400, "P1D"), (90000, "P1DT1H"), (90, "PT1M30S"), (0, "PT0S")],
)
def test_durations(seconds: int, text: str) -> None:
    assert iso_duration(Fraction(seconds)) == text
