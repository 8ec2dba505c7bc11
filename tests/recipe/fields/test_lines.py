"""Ingredient lines against `cases/lines.csv`, which a cook can extend: a line and what it means."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.finding import Finding, Severity, Where
from cardsmith.language.spans import Share
from cardsmith.measure.larder import load_larder
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.fields.lines import LONGEST_LINE, read_ingredient_fields, read_line, read_lines
from cardsmith.recipe.model import Ingredient, Text
from tests.language.written_numbers import in_words

WHERE = Where(file="recipe.yaml", line=7, column=9, field="ingredients[0]")
LARDER = load_larder()
with (Path(__file__).parents[1] / "cases" / "lines.csv").open(encoding="utf-8", newline="") as stream:
    CASES = tuple(csv.DictReader(stream))


def told(quantity: Quantity) -> str:
    """A quantity as the cases write it: ``about 1½–2 cup``, exact, in the author's first unit."""
    low, high = (in_words(quantity.unit.from_base(end)) for end in (quantity.low, quantity.high))
    number = low if low == high else f"{low}–{high}"
    bound = "" if quantity.bound is Bound.EXACTLY else quantity.bound.value
    return " ".join(part for part in (bound, number, quantity.unit.name) if part)


def more(line: Ingredient, findings: tuple[Finding, ...]) -> str:
    """All else a line says, in the order of the cases' last column."""
    box = line.container
    parts = [
        *(f"also {told(one)}" for one in line.stated),
        f"box {told(box.count)} of {told(box.each) if box.each else '?'}" if box else "",
        line.size and f"size {line.size}",
        line.form and f"form {line.form}",
        "divided" if line.divided else "",
        "optional" if line.optional else "",
        "to taste" if line.to_taste else "",
        line.for_use and f"use {line.for_use}",
        *(f"or {one}" for one in line.alternatives),
        *(f"{one.severity} {one.name} at {one.where.column - 8}+{one.width}" for one in findings),
    ]
    return "; ".join(part for part in parts if part)


def read(text: str) -> Ingredient:
    return read_line(text, WHERE, LARDER)[0]


@pytest.mark.parametrize("case", CASES, ids=[case["line"] for case in CASES])
def test_line(case: dict[str, str]) -> None:
    line, findings = read_line(case["line"], WHERE, LARDER)
    assert {
        "line": line.text,
        "amount": told(line.amount) if line.amount else "",
        "item": line.item,
        "prep": line.prep,
        "more": more(line, findings),
    } == case


def test_there_are_enough_cases_and_each_stands_once() -> None:
    lines = [case["line"] for case in CASES]
    assert len(lines) >= 250
    assert len(set(lines)) == len(lines)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("3 large egg whites (100 g)", "egg-white"),
        ("juice of 1 lemon", "lemon-juice"),
        ("zest of 2 limes", "lime-zest"),
        ("finely grated zest and juice of 1 lemon", "lemon"),
        ("2 tbsp lemon or lime juice", "lemon-juice"),
        ("2 tbsp butter or olive oil", "unsalted-butter"),  # not butter oil, which is ghee
        ("2 (400 g) cans chickpeas", "canned-chickpea"),
        ("3 sheets gelatine", "silver-gelatine-sheet"),
        ("200 g dark chocolate (70% cocoa), chopped", "bittersweet-chocolate"),
        ("250 ml 2% milk", "reduced-fat-milk"),
        ("500 g boneless, skinless chicken thighs", "boneless-chicken-thigh"),
        ("500 g 00 flour", "00-flour"),
        ("200 g frobnitz", None),
        ("200 g frobnitz, cut in butter", None),
        ("200 g frobnitz or butter", None),
        ("1 tsp salt and pepper", None),
        ("1 1/2 cps all-purpose flour", "all-purpose-flour"),
    ],
)
def test_food_is_named_or_unknown_never_guessed(text: str, key: str | None) -> None:
    food = read(text).food
    assert (food.key if food else None) == key


def test_findings_point_into_the_line() -> None:
    _, (finding,) = read_line("1 1/2 cps rye flour", WHERE, LARDER)
    assert str(finding) == ("recipe.yaml:7:15: error: “cps” is not a unit - “cups” [unit-misspelled]")
    assert finding.where.field == "ingredients[0]"
    assert finding.width == 3


def test_long_line_is_refused_unread() -> None:
    line, (finding,) = read_line("9" * 10_000 + " cups flour", WHERE, LARDER)
    assert (finding.name, line.amount, len(line.item)) == ("number-too-long", None, LONGEST_LINE)
    _, (finding,) = read_line("salt and " * 100, WHERE, LARDER)
    assert finding.name == "line-too-long"


@pytest.mark.parametrize(
    ("measures", "millilitres"),
    [(System.US, "236.5882365"), (System.IMPERIAL, "236.5882365"), (System.AUSTRALIAN, "250")],
)
def test_a_cup_depends_on_the_measuring_set(measures: System, millilitres: str) -> None:
    amount = read_line("1 cup milk", WHERE, LARDER, measures)[0].amount
    assert amount is not None
    assert amount.low == Fraction(millilitres)  # NIST SP 430; an Australian metric cup is a quarter litre


def test_measures_may_be_the_recipes_own_word() -> None:
    amount = read_line("1 tablespoon oil", WHERE, LARDER, "australian")[0].amount
    assert amount is not None
    assert amount.low == 20


# --- several foods in one line ---


@pytest.mark.parametrize(("total", "stated"), [("150 g", 0), ("300 g", 1)])
def test_a_sum_of_all_foods_is_no_size_of_one(total: str, stated: int) -> None:
    lines, _ = read_lines(f"50 g each raisins, currants and sultanas ({total} in total)", WHERE, LARDER)
    assert [len(one.stated) for one in lines] == [stated] * 3


@pytest.mark.parametrize(
    ("text", "texts", "keys"),
    [
        (
            "1 tsp each ground cumin, coriander and turmeric, toasted",
            [
                "1 tsp ground cumin, toasted",
                "1 tsp ground coriander, toasted",
                "1 tsp ground turmeric, toasted",
            ],
            ["ground-cumin", "ground-coriander", "ground-turmeric"],
        ),
        (
            "1 each red, yellow and green bell pepper",
            ["1 red bell pepper", "1 yellow bell pepper", "1 green bell pepper"],
            ["red-bell-pepper", "yellow-bell-pepper", "green-bell-pepper"],
        ),
        (
            "50g each raisins, currants and sultanas",
            ["50g raisins", "50g currants", "50g sultanas"],
            ["raisin", "dried-currant", "golden-raisin"],
        ),
        (
            "salt and freshly ground black pepper",
            ["salt", "freshly ground black pepper"],
            ["fine-salt", "ground-black-pepper"],
        ),
        (
            "2 Tbsp. chopped fresh dill (or parsley)",
            ["2 Tbsp. chopped fresh dill (or parsley)"],
            ["fresh-dill"],
        ),
    ],
)
def test_foods_of_one_amount_are_taken_apart(text: str, texts: list[str], keys: list[str]) -> None:
    lines, findings = read_lines(text, WHERE, LARDER)
    assert [line.text for line in lines] == texts
    assert [line.food.key if line.food else None for line in lines] == keys
    assert len({line.where for line in lines}) == len(lines)  # the card keeps amounts by their place
    assert len({line.amount for line in lines}) == 1
    assert not findings


def test_what_is_said_of_several_foods_is_said_of_each() -> None:
    lines, _ = read_lines("salt, pepper and nutmeg to taste", WHERE, LARDER)
    assert [(line.item, line.to_taste) for line in lines] == [
        ("salt", True), ("pepper", True), ("nutmeg", True),
    ]  # fmt: skip


def test_where_one_ingredient_is_wanted_several_are_an_error() -> None:
    line, (finding,) = read_line("salt and pepper", WHERE, LARDER)
    assert (line.item, finding.name, finding.severity) == ("salt", "several-foods", Severity.ERROR)
    assert "“salt”, “pepper”" in finding.instead


@pytest.mark.parametrize(
    "text",
    [
        "6 pounds chicken backs and wings",
        "1.5 kg chicken thighs and drumsticks",
        "2 lb turkey necks and wings",
        "1 kg beef brisket and short ribs",
        "⅔ cup (160 ml) lime juice, from 5 or 6 limes",
        "¼ cup lemon juice from about 2 lemons",
        "300 g egg whites, from 8 or 9 large eggs",
        "8 oz mushrooms, 10 or 12 caps kept whole",
        "2 cups breadcrumbs, about 4 slices bread",
        "2 cups shredded cabbage, about ¼ small cabbage",
    ],
)
def test_cuts_of_one_animal_and_what_a_food_is_got_from_are_no_second_food(text: str) -> None:
    _, findings = read_lines(text, WHERE, LARDER)
    assert [one for one in findings if one.severity is Severity.ERROR] == []


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("1 tbsp ground ginger, 1 tsp cinnamon", "several-foods"),
        ("200 g butter, 3 eggs", "several-foods"),
        ("500 g minced beef and pork", "two-ingredients"),
        ("400 g beef mince and pork mince", "two-ingredients"),
        ("an onion, a carrot and a stalk of celery", "several-foods"),
        ("1 tsp salt and pepper", "two-ingredients"),
        ("1 tbsp butter and oil", "two-ingredients"),  # and no butter oil
        ("2 tsp ground cumin and coriander", "two-ingredients"),
        ("200 all-purpose flour", "number-unread"),
        ("caster sugar 150", "number-unread"),
        ("2 butter tart shells per person", "number-unread"),
        ("1 cup sugar [was 1¼ in v2]", "draft-note"),
        ("TK cups flour", "draft-note"),
        ("l cup sugar", "unreadable-amount"),
        ("1 1.5 kg chicken", "unreadable-amount"),
    ],
)
def test_what_no_card_may_print_is_an_error(text: str, name: str) -> None:
    _, findings = read_lines(text, WHERE, LARDER)
    assert [(one.name, one.severity) for one in findings] == [(name, Severity.ERROR)]


@pytest.mark.parametrize(
    ("text", "amount", "share"),
    [
        ("2 (400 g) cans tomatoes", "800 gram", Share.EACH),
        ("2 cans (800 g total) tomatoes", "800 gram", Share.ALL),
        ("4 salmon fillets (170 g each)", "680 gram", Share.EACH),
        ("2 onions (300 g)", "300 gram", Share.ALL),
        ("2 packs of 6 × 40 g fish fingers", "480 gram", Share.EACH),
        ("1 bunch kale, leaves torn (about 8 cups)", "about 8 cup", Share.ALL),
        ("2 tbsp lemon juice (1 juicy lemon)", "2 tablespoon", Share.ALL),
        ("60g butter, plus 10g for greasing the tin", "60 gram", Share.ALL),
        ("1 - 15 oz. can black beans", "15 ounce", Share.EACH),
    ],
)
def test_the_amount_is_of_all_of_the_food_itself(text: str, amount: str, share: Share) -> None:
    line, findings = read_line(text, WHERE, LARDER)
    assert line.amount is not None
    assert (told(line.amount), line.amount_share) == (amount, share)
    assert len(line.stated) == len(line.stated_shares)
    assert not findings


# --- the mapping form ---


def fields(**values: str) -> dict[str, Text]:
    return {
        name: Text(text=text, where=Where(file="recipe.yaml", line=9, column=10 * place))
        for place, (name, text) in enumerate(values.items(), start=1)
    }


def test_mapping_of_design() -> None:
    values = fields(key="seeds", amount="70 g", item="sesame seeds", prep="toasted")
    line, findings = read_ingredient_fields(values, WHERE, LARDER)
    assert (line.text, line.key, line.item, line.prep) == (
        "70 g sesame seeds, toasted", "seeds", "sesame seeds", "toasted",
    )  # fmt: skip
    assert line.amount is not None
    assert told(line.amount) == "70 gram"
    assert not findings
    assert line.food is not None


@pytest.mark.parametrize(
    ("values", "amount", "rest"),
    [
        ({"amount": "2 (400 g) cans", "item": "chickpeas"}, "800 gram", "box 2 can of 400 gram"),
        ({"amount": "1 cup (120 g)", "item": "rye flour"}, "120 gram", "also 1 cup"),
        ({"amount": "3 large", "item": "egg whites (100 g)"}, "100 gram", "also 3 one; size large"),
        ({"item": "salt", "prep": "to taste"}, "", "to taste"),
        ({"amount": "200 g", "item": "butter", "prep": "softened, divided"}, "200 gram", "divided"),
        ({"amount": "half", "item": "lemon"}, "½ one", ""),
        ({"amount": "some", "item": "salt"}, "", "error unreadable-amount at 2+4"),
        ({"amount": "70 gx", "item": "salt"}, "", "error unreadable-amount at 5+2"),
        ({"amount": "1/0 g", "item": "salt"}, "", "error unreadable-amount at 2+3"),
        ({"amount": "-5 g", "item": "salt"}, "", "error unreadable-amount at 2+4"),
        ({"amount": "100 g", "item": "eggs (2)"}, "100 gram", "error number-unread at 18+1"),
        ({"amount": "170 g each", "item": "salmon"}, "", "error unreadable-amount at 8+4"),
        ({"amount": "50 g", "item": "70 % chocolate"}, "50 gram", ""),
    ],
)
def test_mapping(values: dict[str, str], amount: str, rest: str) -> None:
    line, findings = read_ingredient_fields(fields(**values), WHERE, LARDER)
    assert ((told(line.amount) if line.amount else ""), more(line, findings)) == (amount, rest)


def test_mapping_and_line_agree() -> None:
    values = fields(amount="1 cup (120 g)", item="rye flour", prep="sifted")
    mapped = read_ingredient_fields(values, WHERE, LARDER)[0]
    written = read("1 cup (120 g) rye flour, sifted")
    assert (mapped.amount, mapped.stated, mapped.item, mapped.prep, mapped.food) == (
        written.amount, written.stated, written.item, written.prep, written.food,
    )  # fmt: skip


# --- on any text ---

WORDS = (
    "1|2|½|1/2|1/0|1,5|1,000|.5|00|a|half|to|-|–|(|)|,|/|g|kg|cup|cups|tbsp|T|c.|oz|can|cans|large|plus|or|and|of|"
    "juice|zest|salt|flour|butter|egg|to taste|divided|optional|for the pan|softened|x|×|%|°|inch|about|~"
)
PIECES = st.sampled_from(WORDS.split("|"))
LINES = (
    st.lists(PIECES, max_size=12).map(" ".join)
    | st.lists(PIECES, max_size=8).map("".join)
    | st.text(max_size=40)
)


@given(LINES)
def test_any_text_gives_a_line_and_findings_inside_it(text: str) -> None:
    line, findings = read_line(text, WHERE, LARDER)
    assert line.text == text
    for finding in findings:
        assert finding.what
        assert finding.instead
        assert WHERE.column <= finding.where.column
        assert finding.where.column + finding.width <= WHERE.column + max(len(text), 1)


@given(LINES)
def test_a_line_without_errors_has_a_food_and_a_sound_amount(text: str) -> None:
    line, findings = read_line(text, WHERE, LARDER)
    if any(finding.severity is Severity.ERROR for finding in findings):
        return
    assert line.item
    assert line.amount is None or 0 < line.amount.low <= line.amount.high
    weighed = [one for one in line.stated if one.dimension is Dimension.MASS]
    assert not weighed or (line.amount is not None and line.amount.dimension is Dimension.MASS)


@given(
    st.fractions(min_value=Fraction(1, 8), max_value=99, max_denominator=8).filter(lambda number: number > 0),
    st.sampled_from(["g", "kg", "ml", "cups", "tbsp", "oz", "fl oz", "lb"]),
)
def test_numbers_come_back_as_printed(number: Fraction, unit: str) -> None:
    amount = read(f"{in_words(number)} {unit} rye flour").amount
    assert amount is not None
    assert amount.unit.from_base(amount.low) == number
