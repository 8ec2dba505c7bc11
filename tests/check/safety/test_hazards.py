from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from cardsmith.check.run import BY_NAME, judge
from cardsmith.facts.cell_phrases import phrases
from cardsmith.facts.dangers.cautions import LOCAL, Hazard, cautions, hazards
from cardsmith.finding import Severity
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Accepted, Recipe, Reviewed
from cardsmith.reference import table
from tests.check.bench import found, house
from tests.check.safety_cases import CAUTIONS, SAUCED, dish

ROOT = Path(__file__).parents[3]
PAIRS = {(row["fahrenheit"], row["celsius"]) for row in table("safety_pairs")}  # rounded away from danger
OTHER_PAIRS = {("130", "55"), ("-4", "-20")}  # FDA Food Code 3-401.11(B) and 3-402.11


def printed(recipe: Recipe) -> tuple[str, ...]:
    return tuple(one.text for one in cautions(recipe, load_larder()))


def label(value: object) -> str:
    if isinstance(value, Recipe):
        return f"{value.title}: " + "; ".join(line.text for line in value.ingredients)[:60]
    return str(value)


@pytest.mark.parametrize(
    ("words", "one"), [(words, one) for words, (fire, _) in CAUTIONS.items() for one in fire], ids=label
)
def test_card_prints_the_caution(words: str, one: Recipe) -> None:
    assert any(words.lower() in caution.lower() for caution in printed(one))


@pytest.mark.parametrize(
    ("words", "one"), [(words, one) for words, (_, hush) in CAUTIONS.items() for one in hush], ids=label
)
def test_card_spares_the_caution(words: str, one: Recipe) -> None:
    assert not any(words.lower() in caution.lower() for caution in printed(one))


def test_part_that_is_never_baked_warns_though_another_is() -> None:
    assert printed(SAUCED) == ("Raw egg: use pasteurized eggs for anyone very young, old, pregnant or ill.",)


def test_all_of_them_and_the_gravest_first() -> None:
    one = dish(
        "1 large egg; 200 g whole almonds; 300 g granulated sugar; 20 g honey; 60 ml brandy;"
        "1 l vegetable oil; 100 g alfalfa sprouts; 100 g popcorn kernels",
        "Cook the sugar to an amber caramel and stir in the honey.",
        "Pop the corn. Deep-fry the almonds. Flambé with the brandy.",
        "Whisk the egg, and serve with the sprouts.",
    )
    told = printed(one)
    assert len(told) == 8
    assert told[0].startswith("Holds honey")


def test_local_rules_are_named_where_the_table_says_so() -> None:
    told = printed(dish("500 g sea bass; 100 g lime juice", title="Ceviche"))
    assert told[0].endswith(LOCAL)


# What an editor chose for these cards; a change of the table that adds words to a card must be seen here.
@pytest.mark.parametrize(
    ("name", "starts"),
    [
        ("peanut-brittle", ["Molten sugar", "Hard candy and whole nuts"]),
        ("mustard-dressing", ["Holds honey"]),
        ("seeded-crackers", ["Holds honey"]),
        ("meringue-shells", []),  # dried shells are safe: USDA FSIS, Shell Eggs from Farm to Table (memory)
        ("lemon-curd", []),
        ("quick-pickled-cucumbers", []),
        ("haddock-fennel-potatoes", []),
        ("apple-blackberry-crumble-pie", []),
        ("buttermilk-panna-cotta", []),
    ],
)
def test_demo_cards_say_little(name: str, starts: list[str]) -> None:
    file = ROOT / "recipes" / name / "recipe.yaml"
    one, _ = read_recipe(name, file.read_bytes(), str(file), load_larder())
    assert one is not None
    told = printed(one)
    assert [caution.startswith(start) for caution, start in zip(told, starts, strict=True)] == [True] * len(
        starts
    )


@pytest.mark.parametrize("one", hazards(), ids=lambda one: one.name)
def test_rows_are_short_sourced_and_in_both_scales(one: Hazard) -> None:
    assert one.source
    assert len(one.caution.split()) <= 22
    if one.action != "stop":
        assert one.caution[0].isupper()
        assert one.caution.endswith(".")
    for pair in re.findall(r"([−\d]+) °F \(([−\d]+) °C\)", one.caution):
        assert tuple(figure.replace("−", "-") for figure in pair) in PAIRS | OTHER_PAIRS


@pytest.mark.parametrize(
    ("cell", "text", "fits"),
    [
        ("pickle*", "Pickled onions", True),
        ("pickle*", "a prickle", False),
        ("deep fry*", "deep-frying", True),
        ("taste ... dough", "Taste a little of the raw dough", True),
        ("taste ... dough", "Taste it. Then leave the dough to rest for an hour in a bowl", False),
        ("raw", "strawberry", False),
    ],
)
def test_words_of_a_cell(cell: str, text: str, fits: bool) -> None:
    words = phrases(cell)
    assert words is not None
    assert bool(words.search(text)) is fits


def test_note_says_which_caution_and_why() -> None:
    (told,) = found("hazard-caution", dish("200 g rolled oats; 30 g honey", "Bake the oats and honey."))
    assert told.severity is Severity.NOTE
    assert (
        told.what == "honey for infants (honey): the card prints “Holds honey: not for babies under 1 year.”"
    )


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("Whisk the yolks and beat in the oil.", True),
        ("Whisk the yolks and beat in the oil. Raw egg is not for anyone pregnant.", False),
        ("Whisk the yolks and beat in the oil; use pasteurised eggs for small children.", False),
    ],
)
def test_a_caution_in_the_author_s_own_words_asks_for_no_note(said: str, asked: bool) -> None:
    one = dish("2 egg yolks; 200 g sunflower oil", said)
    assert bool(found("hazard-caution", one)) is asked
    assert any(caution.startswith("Raw egg") for caution in printed(one))


def test_review_is_a_query_that_a_reviewer_answers() -> None:
    assert not BY_NAME["review-needed"].acceptable
    cured = dish("2 kg pork belly; 5 g pink curing salt no. 1", "Roast the pork.")
    (told,) = found("review-needed", cured)
    assert told.severity is Severity.ERROR
    reviewed = Reviewed(where=cured.where, by="L. Marsh, food technologist", date="2026-05-04")
    assert not found("review-needed", replace(cured, reviewed=reviewed))
    for lacking in (replace(reviewed, by=" "), replace(reviewed, date="")):
        assert found("review-needed", replace(cured, reviewed=lacking))


def test_a_question_to_the_author_stops_no_card_and_takes_an_answer() -> None:
    words = dish("200 g carrots", "Boil the carrots for 10 minutes, for a detox.")
    (told,) = found("review-needed", words)
    assert told.severity is Severity.WARNING
    answer = Accepted(
        where=words.where, check="review-needed", reason="The word stands in the name of a class."
    )
    verdict = judge(replace(words, accepted=(answer,)), load_larder(), house())
    assert not {"review-needed", "accepted-in-vain"} & {one.name for one in verdict.findings}
