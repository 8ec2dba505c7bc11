"""The printed recipe against its trial: one thing spoiled at a time in a sound pair fires one check."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardsmith.bench.signoff import standing
from cardsmith.flow import Prepared, prepare
from cardsmith.measure.larder import load_larder
from tests.check.bench import house

RECIPE = """\
title: Rye thins
kind: cracker
headnote: Thin and dark.
yield: {makes: 30 crackers}
time: {active: 20 min, total: 1 h}
ingredients:
  - 200 g whole-grain rye flour
  - 4 g fine salt
  - 110 g water
  - 30 g olive oil
steps:
  - Heat the oven to 160 °C.
  - Mix the flour, salt, water and oil to a firm dough, then rest for 20 minutes, until it rolls.
  - Roll it to 2 mm and bake for 25 to 30 minutes, until dry and crisp.
storage: Keeps two weeks in an airtight tin.
tested: {trial: 2, cooked_from: [metric, us]}
"""
TRIALS = """\
trials:
  - trial: 1
    date: 2026-03-01
    ingredients: [200 g whole-grain rye flour, 4 g fine salt, 130 g water, 30 g olive oil]
    verdict: {call: drop}
  - trial: 2
    date: 2026-03-02
    cook: H. Tarn
    kitchen: test kitchen
    from: 1
    change: [110 g water]
    oven: {name: A, set: 160 °C}
    process: ["09:00 rest, in a bowl", "09:20 roll", "09:30 bake", "09:57 out"]
    measured: {in: 330 g, out: 240 g}
    verdict: {call: settle}
  - {trial: 3, date: 2026-03-03, cook: B. Marl, kitchen: home kitchen, from: 2, cooked_from: metric, measured: {in: 331 g, out: 242 g}, verdict: {call: settle}}
  - {trial: 4, date: 2026-03-04, cook: J. Orrel, kitchen: test kitchen, from: 2, cooked_from: us, measured: {in: 333 g, out: 244 g}, verdict: {call: settle}}
"""  # noqa: E501
FAMILY = {
    "trial-not-recorded",
    "trial-not-settled",
    "batch-not-tested",
    "amount-not-tested",
    "ingredient-not-tested",
    "time-not-tested",
    "temperature-not-tested",
    "log-incomplete",
    "column-not-cooked",
    "tested-unearned",
    "sign-off-open",
}


def prepared(recipe: str = RECIPE, trials: str | None = TRIALS) -> Prepared:
    bench = (trials.encode(), "trials.yaml") if trials is not None else None
    return prepare("rye-thins", recipe.encode(), "recipe.yaml", load_larder(), house(), bench)


def found(recipe: str = RECIPE, trials: str | None = TRIALS) -> list[tuple[str, str]]:
    return [(one.name, one.what) for one in prepared(recipe, trials).findings if one.name in FAMILY]


def test_a_recipe_that_is_its_trial_raises_nothing_and_may_be_called_tested() -> None:
    assert found() == []
    card = prepared().card
    assert card is not None
    assert card.tested == (
        "made 3 times with the same result, once by another cook in another kitchen, "
        "from the US and metric columns"
    )


# name, what is edited, into what; each spoils the recipe in one place.
SPOILED = [
    ("trial-not-recorded", "trial: 2", "trial: 9"),
    ("trial-not-settled", "trial: 2,", "trial: 1,"),
    ("amount-not-tested", "110 g water", "120 g water"),
    ("amount-not-tested", "4 g fine salt", "40 g fine salt"),
    ("ingredient-not-tested", "  - 30 g olive oil", "  - 30 g olive oil\n  - 10 g honey"),
    ("ingredient-not-tested", "  - 30 g olive oil\n", ""),
    ("time-not-tested", "25 to 30 minutes", "35 to 40 minutes"),
    ("time-not-tested", "20 minutes", "40 minutes"),
    ("temperature-not-tested", "160 °C", "180 °C"),
    ("log-incomplete", "Roll it", "Chill for 1 hour. Roll it"),
]


@pytest.mark.parametrize(("name", "old", "new"), SPOILED)
def test_an_edit_after_testing_is_found(name: str, old: str, new: str) -> None:
    assert old in RECIPE
    names = {one for one, _ in found(RECIPE.replace(old, new))}
    assert name in names
    if name != "trial-not-settled":  # another trial has another formula, too
        assert names == {name}


HARMLESS = [
    ("110 g water", "110 g (½ cup) water"),
    ("  - 30 g olive oil", "  - 30 g olive oil\n  - 1 tsp olive oil, for the pan"),
    ("  - 30 g olive oil", "  - 30 g olive oil\n  - flaky salt, to taste"),
    ("4 g fine salt", "0.004 kg fine salt"),
    ("25 to 30 minutes", "about 27 minutes"),
    ("160 °C", "325 °F"),
    ("trial: 2,", "cross_test: 2026-03-03 at home,"),
]


@pytest.mark.parametrize(("old", "new"), HARMLESS)
def test_what_changes_nothing_is_no_finding(old: str, new: str) -> None:
    assert old in RECIPE
    assert found(RECIPE.replace(old, new)) == []


def test_another_batch_is_one_query_and_not_one_a_line() -> None:
    doubled = (
        RECIPE.replace("200 g", "400 g")
        .replace("4 g", "8 g")
        .replace("110 g", "220 g")
        .replace("30 g", "60 g")
    )
    assert [name for name, _ in found(doubled)] == ["batch-not-tested"]
    slip = doubled.replace("220 g water", "110 g water")
    assert [name for name, _ in found(slip)] == ["amount-not-tested", "batch-not-tested"]


# name, and what is taken from the trials.
UNMET = [
    ("column-not-cooked", "cooked_from: us, ", "", "a make from the US column"),
    ("sign-off-open", "kitchen: home kitchen", "kitchen: test kitchen",
     "1 make by someone else in another kitchen"),
    ("sign-off-open", "out: 244 g", "out: 290 g", "trial 3 gave 242 g, more than 5 % from the others"),
    ("sign-off-open", "measured: {in: 333 g, out: 244 g}, verdict: {call: settle}", "verdict: {call: settle}",
     "trial 4 records no yield"),
    ("sign-off-open", "out: 242 g}, verdict: {call: settle}", "out: 242 g}, verdict: {call: drop}",
     "trial 3 was not judged good enough (drop)"),
]  # fmt: skip


def test_no_make_is_asked_for_from_a_column_that_is_not_printed() -> None:
    none = TRIALS.replace("cooked_from: us, ", "").replace("cooked_from: metric, ", "")
    for order, asked in ((("us",), ["US"]), (("metric",), ["metric"]), (("us", "metric"), ["US", "metric"])):
        read = prepared(trials=none).trials
        assert read is not None
        held = standing(read, 2, replace(house(), order=order))
        assert held is not None
        lacking = [one for one in held.missing if "column" in one]
        assert lacking == [f"a make from the {one} column" for one in asked]


@pytest.mark.parametrize(("name", "old", "new", "missing"), UNMET)
def test_the_word_tested_waits_for_the_rule(name: str, old: str, new: str, missing: str) -> None:
    assert old in TRIALS
    trials = TRIALS.replace(old, new)
    told = dict(found(trials=trials))
    assert name in told
    assert missing in told["sign-off-open"]
    assert "tested-unearned" not in told
    card = prepared(trials=trials).card
    assert card is not None
    assert card.tested == ""
    boast = RECIPE.replace("Thin and dark.", "Thin, dark and well tested.")
    assert "tested-unearned" in dict(found(boast, trials))
    assert "tested-unearned" not in dict(found(boast))


def test_a_trial_number_needs_a_file_of_trials() -> None:
    assert [name for name, _ in found(trials=None)] == ["trial-not-recorded"]
    assert found(RECIPE.replace("trial: 2, ", ""), None) == []


def test_faults_of_the_trials_are_told_with_those_of_the_recipe() -> None:
    spoiled = TRIALS.replace("change: [110 g water]", "change: [110 g milk]")
    findings = prepared(trials=spoiled).findings
    assert ("change-of-nothing", "trials.yaml") in [(one.name, one.where.file) for one in findings]


# The oven's record, and what is said of a printed 160 °C; nothing where the food met it.
OVENS = [
    ("set: 160 °C, offset: +12 °C", "the food met 172 °C (dial 160 °C, offset +12 °C) in trial 2"),
    ("set: 160 °C, offset: −10 °C", "the food met 150 °C (dial 160 °C, offset −10 °C) in trial 2"),
    ("set: 180 °C", "the food met 180 °C by the dial (offset not recorded) in trial 2"),
    ("set: 148 °C, offset: +12 °C", ""),
    ("set: 320 °F, offset: +4 °F", ""),
]


@pytest.mark.parametrize(("oven", "said"), OVENS)
def test_an_oven_is_held_against_what_the_food_met(oven: str, said: str) -> None:
    assert "set: 160 °C" in TRIALS
    told = dict(found(trials=TRIALS.replace("set: 160 °C", oven)))
    assert told.get("temperature-not-tested", "").removeprefix("“160 °C” is printed; ") == said


def test_an_oven_setting_of_the_log_is_its_dial_too() -> None:
    log = TRIALS.replace("oven: {name: A, set: 160 °C}", "oven: {name: A, offset: +12 °C}")
    dialled = dict(found(trials=log.replace('"09:30 bake"', '"09:30 bake at 160 °C"')))
    assert "172 °C (dial 160 °C, offset +12 °C)" in dialled["temperature-not-tested"]
    assert found(trials=log.replace('"09:30 bake"', '"09:30 bake at 148 °C"')) == []


# What the step says, and what the log does: the same deed in other words, and how long it took.
DEEDS = [
    ("then let stand 20 minutes", "09:00 rest", []),
    ("then leave to rest, covered, for 20 minutes", "09:00 stand, covered", []),
    ("then set aside for 20 minutes", "09:00 left in a bowl", []),
    ("then let it cool for 20 minutes", "09:00 rest", ["log-incomplete"]),
    ("then chill for 20 minutes", "09:00 into the fridge", []),
    ("then let stand 30 minutes", "09:00 rest", ["time-not-tested"]),
]


@pytest.mark.parametrize(("step", "entry", "names"), DEEDS)
def test_one_deed_in_two_words_is_one_deed(step: str, entry: str, names: list[str]) -> None:
    recipe = RECIPE.replace("then rest for 20 minutes", step)
    trials = TRIALS.replace("09:00 rest, in a bowl", entry)
    assert [name for name, _ in found(recipe, trials)] == names


def test_a_time_ends_where_the_next_thing_begins() -> None:
    """Baking is over when it is out: the half hour of cooling bears out no longer bake."""
    log = TRIALS.replace('"09:57 out"', '"09:57 out", "10:25 cold"')
    longer = RECIPE.replace("25 to 30 minutes", "50 to 55 minutes")
    told = dict(found(longer, log))
    assert told == {"time-not-tested": "“50 to 55 minutes” is printed; in trials 2, 3 and 4 it took 27 min"}
    turned = TRIALS.replace('"09:57 out"', '"09:44 turned the pans", "09:57 out"')
    assert found(trials=turned) == []
