"""A recipe in an edition: its words, what is asked, what an answer changes, and that no number moves."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from cardsmith.finding import CardsmithError, Severity
from cardsmith.flow import Prepared, of_edition, prepare
from cardsmith.house.style import House, read_house
from cardsmith.language.line.read import read_text
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.weighed import weigh
from cardsmith.rewrite.card.model import plain
from cardsmith.rewrite.wording import short

ROOT = Path(__file__).parents[2]
DEMO = sorted(ROOT.glob("recipes/*/recipe.yaml"))
RECIPE = """
title: Zucchini cookies
headnote: An eggplant has no place in a zucchini cookie.
yield: {makes: 12 cookies}
time: {active: 10 min, total: 30 min}
equipment: [half-sheet pan, parchment]
ingredients:
  - 200 g all-purpose flour
  - 2 large eggs
  - 1 large zucchini, grated
  - {key: cream, amount: 300 g, item: heavy cream}
  - 100 g light brown sugar
steps:
  - Heat the oven to 350 °F. Line a half-sheet pan with parchment.
  - Whisk [100 g](#cream) of the cream with the eggs and fold in the all-purpose flour, sugar and zucchini.
  - Drop onto the pan and bake for 15 minutes, until golden. Whip [the rest](#cream) of the heavy cream.
storage: Keeps two days in the refrigerator, in `plastic wrap`.
"""
ANSWERED = "editions: {uk: {light brown sugar: soft light brown sugar, heavy cream: %s}}\n"


@cache
def _house(editions: str = "{us: {}, uk: {}, au: {}}") -> House:
    text = (ROOT / "templates/house.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.split("\n") if not line.startswith("editions:")]
    return read_house("\n".join((*lines, f"editions: {editions}")))


@cache
def _larder() -> Larder:
    return load_larder()


def _prepared(more: str = "") -> Prepared:
    return prepare("zucchini-cookies", (RECIPE + more).encode(), "recipe.yaml", _larder(), _house())


def _short(lines: str, step: str, more: str = "") -> Prepared:
    text = f"title: X\nyield: {{serves: 2}}\ningredients: [{lines}]\nsteps: ['{step}']\n{more}"
    return prepare("x", text.encode(), "recipe.yaml", _larder(), _house())


def _edition(done: Prepared, key: str = "uk") -> Prepared:
    return next(one for one in done.editions if one.edition == key)


def _lines(done: Prepared) -> list[str]:
    assert done.card
    lines = (line for part in done.card.parts for line in part.ingredients)
    told = [f"{short(line.amount.metric)} {line.words}" if line.amount else line.words for line in lines]
    return [one.replace("\u00a0", " ") for one in told]


def _steps(done: Prepared) -> list[str]:
    assert done.card
    return [plain(step.spans).replace("\u00a0", " ") for part in done.card.parts for step in part.steps]


def _named(done: Prepared, name: str) -> list[str]:
    return [one.what for one in done.findings if one.name == name]


def test_a_british_card_has_british_words_in_every_field() -> None:
    card = _edition(_prepared()).card
    assert card
    assert (card.recipe.title, card.makes) == ("Courgette biscuits", "12 biscuits")
    assert plain(card.headnote) == "An aubergine has no place in a courgette biscuit."
    assert card.equipment == ("46 × 33\u00a0cm baking tray", "baking parchment")  # by size, as it has no name
    assert plain(card.storage) == "Keeps two days in the fridge, in plastic wrap."  # protected
    assert card.us_allergens  # the house's other list is still known
    assert _lines(_edition(_prepared()))[:3] == [
        "200 g plain flour",
        "2 (100 g in all) medium eggs",
        "1 (340 g) large courgette, grated",
    ]
    assert _steps(_edition(_prepared())) == [
        "Heat the oven to 180 °C (fan 160 °C, gas 4). Line a large baking tray with baking parchment.",
        "Whisk 100 g of the cream with the eggs and fold in the plain flour, sugar and courgette.",
        "Drop onto the tray and bake for 15 minutes, until golden. Whip the rest of the heavy cream (200 g).",
    ]


def test_the_author_s_own_card_is_that_of_a_house_without_editions() -> None:
    done, alone = _prepared(), replace(_house(), editions=())
    same = prepare("zucchini-cookies", RECIPE.encode(), "recipe.yaml", _larder(), alone)
    assert done.card == same.card
    assert same.editions == ()
    assert [one for one in done.findings if not one.name.startswith("edition-")] == list(same.findings)


def test_every_change_of_a_word_is_listed() -> None:
    changes = dict(_edition(_prepared()).changes)
    assert changes["zucchini"] == "courgette"
    assert changes["large eggs"] == "medium eggs"
    assert changes["pan"] == "tray"
    assert "plastic wrap" not in changes


def test_what_has_no_plain_swap_is_asked_once_an_edition() -> None:
    asked = _named(_prepared(), "edition-asks")
    assert sorted(one.partition(":")[0] for one in asked) == [
        "in the Australian edition “heavy cream” has no plain swap",
        "in the Australian edition “light brown sugar” has no plain swap",
        "in the UK edition “heavy cream” has no plain swap",
        "in the UK edition “light brown sugar” has no plain swap",
    ]
    assert all(one.severity is Severity.WARNING for one in _prepared().findings if one.name == "edition-asks")


def test_an_answer_stands_in_the_list_and_in_the_steps() -> None:
    done = _prepared(ANSWERED % "235 g double cream let down with 65 g milk")
    british = _edition(done)
    assert _lines(british)[3:] == [
        "235 g double cream, let down with the milk",
        "65 g milk",
        "100 g soft light brown sugar",
    ]
    assert _steps(british)[2].endswith("Whip the rest of the double cream (135 g).")
    assert not [one for one in _named(done, "edition-asks") if "UK edition" in one]
    assert _named(done, "edition-swap-differs") == []
    assert any("heavy cream" in one for one in _lines(_edition(done, "au")))  # the other edition asks still


def test_a_swap_that_brings_another_formula_is_a_finding() -> None:
    done = _prepared(ANSWERED % "300 g double cream")
    (what,) = _named(done, "edition-swap-differs")
    # 300 g of 36 and of 48 % fat
    assert "144.0 g fat where the author's has 108.0" in what


def test_an_answer_to_nothing_is_told() -> None:
    done = _prepared("editions: {uk: {golden beet: golden beetroot}}\n")
    assert _named(done, "edition-answer-unused") == ["editions: “golden beet” stands nowhere in the recipe"]


def test_a_vessel_that_may_be_one_of_two_is_asked_and_the_answer_taken() -> None:
    text = RECIPE.replace("Whip [the rest]", "Warm it in a saucepan; shake the pan. Whip [the rest]")
    asked = prepare("x", text.encode(), "recipe.yaml", _larder(), _house())
    assert "in the UK edition “the pan” may be the pan or the tray" in _named(asked, "edition-asks")
    told = prepare(
        "x", f"{text}editions: {{uk: {{pan: tray}}}}\n".encode(), "recipe.yaml", _larder(), _house()
    )
    assert "Drop onto the tray" in _steps(_edition(told))[2]
    assert not [one for one in _named(told, "edition-asks") if "UK edition “the pan”" in one]


@pytest.mark.parametrize(
    "path", sorted(ROOT.glob("recipes/*/recipe.yaml")), ids=lambda path: path.parent.name
)
def test_a_british_list_read_again_is_the_author_s_formula(path: Path) -> None:
    """By weight, line by line, within the tolerance of what each does; of all the demo's recipes."""
    done = prepare(path.parent.name, path.read_bytes(), str(path), _larder(), _house())
    british = _edition(done)
    assert british.card
    house = _house()
    lines = [line for part in british.card.parts for line in part.ingredients]
    for line in lines:
        if line.amount is None or line.line.amount is None or line.line.food is None:
            continue
        again = read_text(f"{short(line.amount.metric)} {line.line.item}", _larder(), System.IMPERIAL)
        given = again.statements[0].quantity
        if line.line.amount.is_vague or Dimension.COUNT in (given.dimension, line.line.amount.dimension):
            continue
        ours, theirs = weigh(line.line, given), weigh(line.line, line.line.amount)
        assert ours
        assert theirs
        spread = max(*(house.tolerances[role] for role in ("seasoning", "salt")), Fraction(1, 8))
        assert abs(ours.grams / theirs.grams - 1) <= spread, line.line.text


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("2 (15-ounce) cans cannellini beans", {"UK"}),  # 425 g, which Australia sells
        ("1 (28-ounce) can whole tomatoes", set()),  # 794 g, near 800
        ("1 (14.5-ounce) can chopped tomatoes", set()),  # 411 g, near 400
        ("1 (19-ounce) can chickpeas", {"UK", "Australian"}),
        ("1 (6-ounce) can tomato paste", set()),
    ],
)
def test_a_can_that_is_not_sold_is_asked(line: str, asked: set[str]) -> None:
    text = RECIPE.replace("200 g all-purpose flour", f"200 g all-purpose flour\n  - {line}")
    done = prepare("x", text.encode(), "recipe.yaml", _larder(), _house())
    found = [one for one in _named(done, "edition-asks") if "is sold in cans of" in one]
    assert {one.split()[2] for one in found} == asked


def test_an_edition_of_cups_says_how_closely_they_agree_with_their_weights() -> None:
    done = _prepared()
    told = {one.edition: one.card.agreement for one in done.editions if one.card}
    assert told["uk"] == ""  # one column, and spoons alone
    assert told["au"].startswith("Cups and weights agree within ")
    assert done.card
    assert done.card.agreement.startswith("US and metric agree within ")


def test_a_command_asks_for_one_edition() -> None:
    done, house = _prepared(), _house("{us: {}, uk: {}, au: {recipes: named}}")
    british, style = of_edition(done, house, "uk")
    assert (british.name, style.language) == ("zucchini-cookies-uk", "en-GB")
    assert of_edition(done, house, "") == of_edition(done, house, "us") == (done, house)
    with pytest.raises(CardsmithError, match="this house has no edition 'eu'; it has us, uk, au"):
        of_edition(done, house, "eu")
    alone = replace(done, editions=(british,))
    with pytest.raises(CardsmithError, match="not printed in the Australian edition; write in its recipe"):
        of_edition(alone, house, "au")


def test_what_was_published_has_a_mark_of_each_edition() -> None:
    """A word that only a British reader sees is one that she has cooked by; the others were told no other."""
    published = "published: {date: 2026-01-01, mark: %s, uk: %s}\n"

    def told(answer: str, own: str = "00000000", british: str = "00000000") -> str:
        done = _prepared(ANSWERED % answer + published % (own, british))
        return next((one.instead for one in done.findings if one.name == "changed-since-published"), "")

    def marks(answer: str) -> dict[str, str]:
        return dict(re.findall(r"(mark|uk|au): ([0-9a-f]{8})", told(answer)))

    double, whipping = marks("double cream"), marks("whipping cream")
    assert (double["mark"], double["au"]) == (whipping["mark"], whipping["au"])
    assert double["uk"] != whipping["uk"]
    lacking = told("double cream", double["mark"], double["uk"])
    assert lacking == f"write mark: {double['mark']}, uk: {double['uk']}, au: {double['au']}"
    done = _prepared(ANSWERED % "whipping cream" + published % (double["mark"], double["uk"]))
    (changed,) = _named(done, "changed-since-published")
    assert "has changed in the UK edition since 2026-01-01" in changed


def test_a_check_of_one_edition_asks_nothing_of_the_others() -> None:
    done = prepare("zucchini-cookies", RECIPE.encode(), "recipe.yaml", _larder(), _house().with_edition("au"))
    told = [one.what for one in done.findings]
    assert any("Australian edition" in one for one in told)
    assert not any("UK edition" in one for one in told)


PANTRY = """
title: Bean pot
headnote: A Dutch oven does it all.
yield: {serves: 4}
time: {active: 10 min, total: 50 min}
equipment: [Dutch oven, can opener]
ingredients:
  - 6 slices bacon, chopped
  - 3 stalks celery (150 g), sliced
  - 1 head garlic, halved
  - 2 (14-ounce) cans black beans, drained
  - 2 tbsp tomato paste
  - 1 tbsp pomegranate molasses
  - 4 cups chicken broth
steps:
  - Cook the bacon in a Dutch oven. Add the celery stalks and the head of garlic.
  - Add the beans from the cans, the molasses and the broth. Simmer on the stove for 20 minutes.
"""


@pytest.mark.parametrize(
    ("key", "lines", "step"),
    [
        (
            "uk",
            [
                "6 rashers (168 g in all) streaky bacon, chopped",
                "3 sticks (150 g in all) celery, sliced",
                "1 bulb garlic, halved",
                "2 (400 g) tins black beans, drained (about 480 g)",
                "2 tbsp tomato purée",
                "1 tbsp pomegranate molasses",
                "960 ml chicken stock",
            ],
            "Cook the bacon in a flameproof casserole. Add the celery sticks and the bulb of garlic.",
        ),
        (
            "au",
            [
                "6 rashers (168 g in all) streaky bacon, chopped",
                "3 stalks (150 g in all) celery, sliced",
                "1 bulb garlic, halved",
                "2 (400 g) cans black beans, drained (about 480 g)",
                "1½ tbsp tomato paste",
                "3 tsp pomegranate molasses",
                "3¾ cups (950 ml) chicken stock",
            ],
            "Cook the bacon in a flameproof casserole. Add the celery stalks and the bulb of garlic.",
        ),
    ],
)
def test_things_are_counted_and_named_as_the_shops_there_have_them(
    key: str, lines: list[str], step: str
) -> None:
    done = _edition(prepare("bean-pot", PANTRY.encode(), "recipe.yaml", _larder(), _house()), key)
    assert _lines(done) == lines
    assert _steps(done)[0] == step
    assert "the molasses and the stock" in _steps(done)[1]


def test_what_an_answer_adds_and_no_step_takes_is_asked() -> None:
    told = _named(_prepared(ANSWERED % "235 g double cream and 65 g brandy"), "edition-asks")
    assert [one for one in told if "brandy" in one] == [
        "in the UK edition no step uses “brandy”, which an answer adds"
    ]


def test_pieces_have_no_size_in_the_foot_of_a_card() -> None:
    """Slices of bacon are as large as they are; only cups and spoons of a market are told."""
    done = prepare("bean-pot", PANTRY.encode(), "recipe.yaml", _larder(), _house())
    for key, told in (
        ("uk", "1 tablespoon is 15 ml"),
        ("au", "1 cup is 250 ml, 1 tablespoon 20 ml, 1 teaspoon 5 ml"),
    ):
        card = _edition(done, key).card
        assert card
        assert str(card.household) == told


def test_gelatine_that_was_weighed_is_weighed_everywhere() -> None:
    text = PANTRY.replace("  - 1 tbsp pomegranate molasses", "  - 7 g powdered gelatin")
    done = prepare("bean-pot", text.encode(), "recipe.yaml", _larder(), _house())
    assert "7 g powdered gelatine" in _lines(_edition(done, "au"))


def test_a_day_is_asked_about_where_its_month_is_in_another_season() -> None:
    more = "notes: [Good on the Fourth of July., Made in early March.]\n"
    asked = _named(_prepared(more), "edition-asks")
    assert [one for one in asked if "Australian" in one and "fourth of july" in one]
    assert [one for one in asked if "Australian" in one and "march" in one]


@pytest.mark.parametrize(
    ("step", "sugar"),
    [
        ("Beat the butter with the sugar until pale. Beat in the eggs.", "caster sugar"),
        ("Whisk the eggs and granulated sugar until thick.", "caster sugar"),
        ("Rub the butter into the flour. Stir in the sugar, then the eggs.", "granulated sugar"),
        ("Dissolve the sugar in hot water. Beat the butter.", "granulated sugar"),
    ],
)
def test_sugar_that_is_beaten_is_of_the_finer_grain(step: str, sugar: str) -> None:
    done = _short("200 g granulated sugar, 100 g butter, 2 large eggs", step)
    assert _lines(_edition(done))[0] == f"200 g {sugar}"
    assert _lines(_edition(done, "au"))[0].endswith("white sugar")


def test_a_food_that_is_asked_about_goes_by_no_other_name_meanwhile() -> None:
    """Frozen lima beans are green: no butter beans before their author has said what they are."""
    limas = ("280 g frozen baby lima beans", "Boil the lima beans.")
    assert _steps(_edition(_short(*limas)))[0] == "Boil the lima beans."
    told = _short(*limas, "editions: {uk: {frozen baby lima beans: frozen broad beans}}\n")
    assert _steps(_edition(told))[0] == "Boil the frozen broad beans."


def test_a_jar_by_its_pints_is_asked_about_where_a_pint_is_another() -> None:
    asked = _named(_short("1 kg green beans", "Pack the green beans into clean pint  jars."), "edition-asks")
    assert any(
        "UK edition “pint jars” may mean another thing: a pint of the US is 473 ml" in one for one in asked
    )


def test_what_is_counted_has_its_plural_there() -> None:
    done = _short("2 medium zucchini", "Slice the zucchini.")
    assert _lines(_edition(done))[0].endswith("medium courgettes")
    assert _lines(_edition(_short("1 medium zucchini", "Slice it.")))[0].endswith("medium courgette")


def test_what_says_how_a_cup_is_filled_stands_by_no_weight() -> None:
    done = _short("1 cup packed dark muscovado sugar", "Eat the sugar.")
    assert "packed" not in _lines(_edition(done))[0]
    assert "packed" in _lines(done)[0]


def test_a_day_stands_in_the_form_of_the_edition() -> None:
    done = _edition(_prepared("notes: ['Best on October 31, 2026, or on May 10, not `June 3`.']\n"))
    assert done.card
    assert [plain(note) for note in done.card.notes] == ["Best on 31 October 2026, or on 10 May, not June 3."]
    assert ("month-first dates", "day-first dates") in done.changes


def test_a_food_that_no_larder_knows_is_asked_about_by_its_last_words() -> None:
    text = PANTRY.replace("  - 1 tbsp pomegranate molasses", "  - 2 tsp harbor-style kosher salt")
    done = prepare("bean-pot", text.encode(), "recipe.yaml", _larder(), _house())
    assert [
        one for one in _named(done, "edition-asks") if "UK edition “kosher salt” has no plain swap" in one
    ]
    answers = "{uk: {kosher salt: 2 tsp fine sea salt}, au: {kosher salt: 2 tsp salt flakes}}"
    answered = f"{text}editions: {answers}"
    done = prepare("bean-pot", answered.encode(), "recipe.yaml", _larder(), _house())
    assert not [one for one in _named(done, "edition-asks") if "kosher" in one]
    assert "2 tsp fine sea salt" in _lines(_edition(done))
