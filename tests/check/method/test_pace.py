from __future__ import annotations

import pytest

from cardsmith.check.formula.ratios import ratios
from cardsmith.check.method.clock import all_times
from cardsmith.check.method.pace import doing, techniques
from cardsmith.finding import Severity
from cardsmith.measure.larder import load_larder
from cardsmith.measure.patterns import is_of
from cardsmith.reference import table
from tests.check.bench import found, recipe

BEANS = "Boil the beans hard for 10 minutes."

# list, kind, steps, and what the query must say
FIRING = [
    ("2 yellow onions", "", ["Fry the onions for 3 minutes, until soft and golden."], "onions take 8 to 12"),
    ("2 yellow onions", "", ["Cook the onions for 10 minutes, until deep brown."], "onions take 20 to 60"),
    ("220 g all-purpose flour", "butter-cake", ["Bake for 150 to 160 minutes."], "a cake bakes"),
    ("220 g all-purpose flour", "muffin", ["Bake for 4 minutes, until golden."], "muffins bake"),
    ("1 whole chicken (1.6 kg)", "poultry", ["Roast the chicken for 15 to 20 minutes."], "a whole chicken"),
    ("400 g dried kidney beans", "beans", [BEANS, "Simmer the beans for 10 minutes."], "20 min in all"),
    ("250 g red lentils", "beans", ["Bring the lentils to a boil.", "Simmer for 2 minutes."], "red lentils"),
    ("1 kg beef chuck", "braise", ["Braise the beef for 20 minutes, until tender."], "tough cuts"),
    ("500 g bread flour", "yeast-bread", ["Leave the dough for 10 minutes, until doubled."], "a dough takes"),
    ("400 g heavy cream", "gelatine-dessert", ["Refrigerate for 20 minutes, until set."], "a cream with"),
    ("150 g unsalted butter", "", ["Leave the butter to stand for 3 minutes, until soft."], "butter takes"),
    ("150 g unsalted butter", "", ["Heat the oven for 3 minutes."], "an oven takes"),
    ("3 large egg whites", "meringue-shell", ["Dry in the oven for 10 minutes."], "meringues dry"),
]  # fmt: skip

SILENT = [
    ("2 yellow onions", "", ["Fry the onions for 8 to 10 minutes, until soft and golden."]),
    ("2 yellow onions", "", ["Fry the onions for 3 minutes, until they begin to soften."]),
    ("2 yellow onions", "", ["Cook the onions for 35 minutes, until deep brown."]),
    ("1 kg beef chuck", "", ["Brown the beef with the onions for 8 minutes, until deep brown."]),
    ("220 g all-purpose flour", "butter-cake", ["Bake for 35 minutes, until golden. Cool for 3 hours."]),
    (
        "300 g raisins",
        "butter-cake",
        ["Bake the fruit cake for 150 minutes, until a skewer comes out clean."],
    ),
    (
        "220 g all-purpose flour",
        "muffin",
        ["Bake for 5 minutes.", "Lower the oven and bake for 14 minutes more."],
    ),
    ("1 whole chicken (1.6 kg)", "poultry", ["Rest the chicken for 15 minutes.", "Roast for 70 minutes."]),
    ("400 g dried kidney beans", "beans", [BEANS, "Simmer for 1 hour, until tender."]),
    ("400 g dried kidney beans", "beans", [BEANS, "Cook in a pressure cooker for 12 minutes."]),
    ("250 g red lentils", "beans", ["Simmer the lentils for 18 to 20 minutes."]),
    ("500 g ground beef", "braise", ["Simmer the beef for 20 minutes."]),
    ("500 g bread flour", "yeast-bread", ["Leave the dough for 10 minutes, until relaxed."]),
    ("500 g bread flour", "yeast-bread", ["Leave the dough for 8 hours, until doubled."]),
    ("400 g heavy cream", "gelatine-dessert", ["Refrigerate for 4 hours, until set."]),
    ("150 g unsalted butter", "", ["Cook the butter for 3 minutes, until it foams."]),
    ("150 g unsalted butter", "", ["Warm it through in the oven for 5 minutes."]),
    ("3 leeks", "", ["Melt the butter in the pan and soften the leeks for 8 minutes."]),
    ("2 yellow onions", "", ["Add the onions and fry for 12 to 15 minutes, until deep golden."]),
]


@pytest.mark.parametrize(("line", "kind", "texts", "says"), FIRING)
def test_time_nobody_works_in_is_asked_about(line: str, kind: str, texts: list[str], says: str) -> None:
    (told,) = found("time-unlikely", recipe([line], texts, kind=kind))
    assert says in told.what
    assert told.severity is (Severity.ERROR if says == "tough cuts" else Severity.WARNING)


@pytest.mark.parametrize(("line", "kind", "texts"), SILENT)
def test_time_that_can_be_is_not(line: str, kind: str, texts: list[str]) -> None:
    assert [told.what for told in found("time-unlikely", recipe([line], texts, kind=kind))] == []


@pytest.mark.parametrize(
    ("step", "verb"),
    [
        ("Cook over medium heat for 5 minutes.", "cook"),
        ("Bring to a boil, about 6 minutes.", ""),
        ("Bake until crisp, 25 to 30 minutes.", "bake"),
        ("Bake until brown, then cool for 1 hour.", "cool"),
        ("Add the rest and simmer for 5 minutes.", "simmer"),
    ],
)
def test_verb_of_a_time(step: str, verb: str) -> None:
    (one,) = all_times(recipe([], [step]))
    assert doing(one) == verb


# Paces the trade gives: pan-sweated onion 8-12 min, golden 15-25, deep brown 40-60; butter softening 30-60;
# oven 15-30; frying oil to 350 °F 10-20 (common practice). None of them may be questioned.
@pytest.mark.parametrize(
    "step",
    [
        "Sweat the onions for 8 to 12 minutes, until soft.",
        "Fry the onions for 15 to 25 minutes, until golden.",
        "Fry the onions until soft, about 8 minutes, then the garlic for 1 minute.",
        "Cook the onions for 40 to 60 minutes, until deep brown.",
        "Leave the butter to stand for 30 to 60 minutes, until soft.",
        "Heat the oven for 15 to 30 minutes.",
        "Heat the oil in a deep pot for 10 to 20 minutes, until it reads 350 °F.",
    ],
)
def test_paces_of_the_trade_pass(step: str) -> None:
    assert found("time-unlikely", recipe([], [step])) == ()


def test_table_is_whole() -> None:
    foods = load_larder().foods.values()
    for rule in techniques():
        assert rule.kinds <= set(ratios()), rule.told
        assert all(any(is_of(food, (one,)) for food in foods) for one in rule.foods), rule.told
    assert all(row["source"] for row in table("technique_times"))


@pytest.mark.parametrize(
    ("minutes", "severity"), [("100 to 110 minutes", Severity.WARNING), ("4½ to 5 hours", Severity.ERROR)]
)
def test_hours_for_minutes_are_an_error(minutes: str, severity: Severity) -> None:
    one = recipe(["220 g all-purpose flour"], [f"Bake for {minutes}, until golden."], kind="cookie")
    (told,) = found("time-unlikely", one)
    assert told.severity is severity


LOAF = ["180 g all-purpose flour", "5 g baking powder", "110 g light brown sugar", "113 g unsalted butter",
        "100 g eggs", "120 g buttermilk"]  # fmt: skip


@pytest.mark.parametrize(
    ("minutes", "unlikely"),
    [("5 minutes", True), ("12 to 14 minutes", False), ("50 minutes", False), ("5 hours", True)],
)
def test_without_a_kind_what_any_such_list_takes_is_the_limit(minutes: str, unlikely: bool) -> None:
    one = recipe(LOAF, ["Beat everything.", f"Bake at 180 °C for {minutes}, until a skewer comes out clean."])
    assert bool(found("time-unlikely", one)) is unlikely
