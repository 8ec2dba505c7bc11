"""What a list without a kind may be, and what is absurd for all of that: the author's word is not needed."""

from __future__ import annotations

import pytest

from cardsmith.check.formula.likely import closed_kinds, likely_kind, possible_kinds, signs
from cardsmith.check.formula.ratios import RATIO_CHECKS
from cardsmith.check.subject import Subject
from cardsmith.facts.kinds import kinds
from cardsmith.finding import Severity
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from tests.check.bench import found, house, recipe

BAKE = "Mix everything, scrape into the tin and bake for 40 minutes, until firm."
KNEAD = "Knead the dough, leave to rise for 1 hour, until doubled, shape and bake for 30 minutes."
BOIL = "Knead the dough, shape into rings, boil for 1 minute and bake for 20 minutes, until brown."
SIMMER = "Simmer everything for 20 minutes, until thick."

# title; list; step; the kind proposed for it
LIKELY = [
    (
        "Lemon drizzle loaf",
        "175 g unsalted butter; 175 g caster sugar; 3 large eggs; 175 g self-raising flour",
        BAKE,
        "butter-cake",
    ),
    (
        "Spelt banana loaf",
        (
            "250 g wholemeal spelt flour; 9 g baking powder; 300 g bananas; "
            "100 g light brown sugar; 75 g sunflower oil; 2 medium eggs"
        ),
        BAKE,
        "muffin",
    ),
    (
        "Date scrolls",
        (
            "500 g bread flour; 75 g caster sugar; 8 g instant yeast; 8 g fine salt; "
            "250 g whole milk; 1 large egg; 125 g unsalted butter"
        ),
        KNEAD,
        "yeast-bread",
    ),
    (
        "Brown soda bread",
        "500 g whole wheat flour; 7 g baking soda; 9 g fine salt; 420 g buttermilk",
        BAKE,
        "quick-bread",
    ),
    ("Poppy bagels", "500 g bread flour; 5 g instant yeast; 10 g fine salt; 270 g water", BOIL, "bagel"),
    ("Olive loaf", "500 g bread flour; 5 g instant yeast; 10 g fine salt; 340 g water", KNEAD, "yeast-bread"),
    ("Weekend rings", "500 g bread flour; 5 g instant yeast; 10 g fine salt; 270 g water", BOIL, "bagel"),
    (
        "Skillet cornbread",
        (
            "180 g cornmeal; 125 g all-purpose flour; 14 g baking powder; 300 g whole milk; "
            "2 large eggs; 60 g unsalted butter"
        ),
        BAKE,
        "cornbread",
    ),
    ("Plum jam", "1 kg plums; 800 g granulated sugar", SIMMER, "jam"),
    ("Rhubarb compote", "600 g rhubarb; 80 g granulated sugar", SIMMER, "compote"),
    (
        "Tomato chutney",
        "1 kg tomatoes; 300 g onions; 250 g brown sugar; 300 g cider vinegar",
        SIMMER,
        "chutney",
    ),
    ("Beef stew", "1 kg beef chuck; 400 g carrots; 500 g beef stock", SIMMER, "braise"),
    ("Fish pie", "600 g cod fillet; 500 g whole milk; 50 g butter; 30 g plain flour; 2 large eggs", BAKE, ""),
    ("Pork for a crowd", "2 kg pork shoulder; 20 g fine salt", "Mix, and roast for 6 hours.", ""),
    (
        "Herb dressing",
        "180 g buttermilk; 110 g mayonnaise; 60 g sour cream; 15 g lemon juice",
        "Whisk everything.",
        "",
    ),
]

# title; list; step: no proportion of any of these is asked about
SOUND = [
    *((title, lines, step) for title, lines, step, _ in LIKELY),
    (
        "Camp pancakes",
        (
            "250 g all-purpose flour; 25 g nonfat dry milk; 25 g granulated sugar; "
            "12 g baking powder; 2 large eggs; 316 g branch water; 30 g vegetable oil"
        ),
        "Whisk everything and fry in a skillet.",
    ),
    (
        "Golden roux",
        "60 g unsalted butter; 60 g all-purpose flour",
        "Cook the butter and flour in a pan for 5 minutes, until golden.",
    ),
    (
        "Potato fritters",
        "600 g potatoes; 100 g all-purpose flour; 2 large eggs; 6 g fine salt; 60 g whole milk",
        "Mix and fry spoonfuls in a skillet for 4 minutes a side, until crisp.",
    ),
    (
        "Blackcurrant punch",
        "150 g granulated sugar; 2 kg water; 400 g blackcurrants",
        "Simmer for 10 minutes, strain and freeze a part of it as ice cubes.",
    ),
    (
        "Naan",
        ("300 g all-purpose flour; 4 g instant yeast; 5 g fine salt; 120 g water; 80 g plain yogurt"),
        KNEAD,
    ),
    (
        "Crumpets",
        "250 g bread flour; 5 g instant yeast; 5 g fine salt; 350 g water; 2 g baking soda",
        "Beat the batter, leave for 1 hour, until bubbly, and cook in rings in a frying pan.",
    ),
    (
        "Chocolate fudge cake",
        (
            "200 g all-purpose flour; 400 g granulated sugar; 80 g natural cocoa powder; "
            "8 g baking soda; 2 large eggs; 240 g buttermilk; 120 g vegetable oil; "
            "240 g hot water"
        ),
        BAKE,
    ),
    ("Digestive base", "200 g digestive biscuits; 90 g unsalted butter", "Stir and press into the tin."),
    (
        "Caesar",
        ("15 g anchovy fillets; 1 large egg yolk; 30 g lemon juice; 120 g olive oil; 40 g Parmesan"),
        "Whisk everything.",
    ),
    (
        "Dumplings",
        "200 g self-raising flour; 100 g beef suet; 4 g fine salt; 130 g water",
        "Mix, shape into balls and simmer in the stew for 20 minutes, until puffed.",
    ),
    (
        "Flour tortillas",
        "300 g all-purpose flour; 60 g lard; 5 g fine salt; 160 g water",
        "Knead, roll out thin and cook in a dry skillet for 1 minute a side, until spotted.",
    ),
    ("Noodles", "400 g all-purpose flour; 150 g water; 4 g fine salt", "Knead, roll and cut."),
    ("Poolish rolls", "500 g bread flour; 325 g water; 10 g fine salt; 1 g instant yeast", KNEAD),
    (
        "Salt dough biscuits",
        "225 g all-purpose flour; 110 g unsalted butter; 110 g granulated sugar; 1 g fine salt",
        "Roll out, cut and bake for 12 minutes, until golden.",
    ),
]

# title; list; step; the check that asks; how gravely
ABSURD = [
    (
        "Sesame bagels",
        ("500 g bread flour; 5 g instant yeast; 10 g fine salt; 135 g water; 15 g barley malt syrup"),
        BOIL,
        "low-hydration",
        "error",
    ),
    (
        "Weekend bread",
        "500 g bread flour; 5 g instant yeast; 100 g fine salt; 340 g water",
        KNEAD,
        "high-salt",
        "error",
    ),
    (
        "Farm loaf",
        "500 g bread flour; 70 g instant yeast; 10 g fine salt; 340 g water",
        KNEAD,
        "high-yeast",
        "error",
    ),
    (
        "Seed loaf",
        "500 g bread flour; 5 g instant yeast; 10 g fine salt; 1.4 kg water",
        KNEAD,
        "high-hydration",
        "error",
    ),
    (
        "Plain scones",
        "300 g all-purpose flour; 60 g baking powder; 80 g unsalted butter; 180 g whole milk",
        BAKE,
        "high-baking-powder",
        "error",
    ),
    ("Forgotten loaf", "500 g bread flour; 4 g instant yeast; 320 g water", KNEAD, "low-salt", "warning"),
    ("Meringues", "120 g egg whites; 1 kg caster sugar", BAKE, "high-sugar", "error"),
    (
        "Vanilla cream",
        "400 g heavy cream; 200 g whole milk; 60 g granulated sugar; 60 g powdered gelatine",
        SIMMER,
        "high-gelatine",
        "error",
    ),
]


def made(title: str, lines: str, step: str) -> Recipe:
    return recipe(lines.split("; "), [step], title=title)


def subject(one: Recipe) -> Subject:
    return Subject(recipe=one, larder=load_larder(), house=house())


@pytest.mark.parametrize(("title", "lines", "step", "kind"), LIKELY, ids=lambda one: one[:20])
def test_kind_rests_on_the_list(title: str, lines: str, step: str, kind: str) -> None:
    assert likely_kind(subject(made(title, lines, step))) == kind


@pytest.mark.parametrize(("title", "lines", "step"), SOUND, ids=lambda one: one[:20])
def test_sound_list_without_a_kind_is_left_alone(title: str, lines: str, step: str) -> None:
    one = made(title, lines, step)
    assert [asked.what for check in RATIO_CHECKS for asked in found(check.name, one)] == []


@pytest.mark.parametrize(("title", "lines", "step", "name", "severity"), ABSURD, ids=lambda one: one[:20])
def test_what_is_absurd_for_all_it_can_be_is_told(
    title: str, lines: str, step: str, name: str, severity: str
) -> None:
    (told,) = found(name, made(title, lines, step))
    assert told.severity is Severity(severity)


def test_table_is_whole() -> None:
    assert set(signs()) <= set(kinds().values())
    assert closed_kinds() <= set(signs())
    assert all(row["source"] for row in table("kind_signs"))
    assert possible_kinds(subject(made("Soup", "1 kg water", SIMMER))) == ()
