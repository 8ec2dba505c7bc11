from __future__ import annotations

import pytest

from cardsmith.bench.formula.levers import fault_named, suggestions, tried
from cardsmith.measure.larder import load_larder
from cardsmith.reference import table
from tests.bench.trial_samples import LEAN, read, trials

SECOND = "  - {trial: 2, date: 2026-03-03, from: 1, %s, verdict: {faults: [%s]}}\n"


def told(change: str, fault: str, kind: str = "yeast-bread") -> list[str]:
    found = trials(LEAN + SECOND % (change, fault))
    return [one.text for one in suggestions(found, found.trials[1], kind)]


def test_levers_never_tried_come_first_and_the_tried_name_their_trials() -> None:
    found = told("change: [300 g water]", "flat")
    assert found[0].startswith("more leavener")
    assert found[-1].startswith("less liquid (water; tried in trial 2)")


def test_what_is_usual_stands_beside_what_is() -> None:
    (salty,) = told("change: [12 g fine salt]", "salty")
    assert salty.startswith("less salt: 2.4 % of the flour now, usual ")


@pytest.mark.parametrize(("change", "was"), [("[450 g water]", False), ("[300 g water]", True)])
def test_a_lever_is_pulled_one_way(change: str, was: bool) -> None:
    found = told(f"change: {change}", "gummy")
    assert any(one.startswith("less liquid (water; tried in trial 2)") for one in found) == was


def test_milk_is_no_fat() -> None:
    found = told("change: [add 90 g whole milk, add 20 g olive oil]", "dry")
    assert any(one.startswith("more fat (olive oil; tried in trial 2)") for one in found)
    assert not any(one.startswith("more fat") for one in told("change: [add 90 g whole milk]", "dry"))


SEEDED = """\
trials:
  - trial: 1
    date: 2026-03-02
    ingredients: [200 g rye flour, 90 g water, 60 g hulled sesame seeds, 4 g fine salt, %s]
  - trial: 2
    date: 2026-03-03
    from: 1
    change: [%s]
    verdict: {faults: [%s]}
"""


@pytest.mark.parametrize(
    ("more", "change", "fault", "lever"),
    [
        (
            "30 g olive oil",
            "30 g pumpkin seeds instead of hulled sesame seeds",
            "greasy",
            "less fat (olive oil)",
        ),
        ("30 g olive oil", "20 g butter instead of olive oil", "greasy", "less fat (butter)"),
        ("30 g olive oil", "15 g applesauce instead of olive oil", "hard", None),
        ("30 g olive oil", "20 g olive oil", "greasy", "less fat (olive oil; tried in trial 2)"),
        ("30 g honey", "80 g water", "greasy", None),
        ("30 g honey", "80 g water", "bland", "more salt"),
    ],
)
def test_a_lever_names_what_the_formula_has_and_a_swap_of_like_for_like_pulls_none(
    more: str, change: str, fault: str, lever: str | None
) -> None:
    found = trials(SEEDED % (more, change, fault))
    told_of = [one.text.partition(":")[0] for one in suggestions(found, found.trials[1], "cracker")]
    foods = ("fat", "leavener", "seasoning", "acid", "egg", "sugar")
    assert [text for text in told_of if lever is None and any(food in text for food in foods)] == []
    assert lever is None or lever in told_of


def test_a_change_of_method_is_pointed_at_and_not_judged() -> None:
    assert "bake longer (see trial 2)" in told("method: [Bake for 40 minutes.]", "gummy")


@pytest.mark.parametrize(("word", "fault"), [("Rubbery", "tough"), ("too  salty", "salty"), ("zorblat", "")])
def test_a_fault_has_other_words(word: str, fault: str) -> None:
    assert fault_named(word) == fault


def test_a_fault_without_levers_is_a_note() -> None:
    _, found = read(LEAN.replace("[pale]", "[pale, pail, zorblat]"))
    assert [(one.name, one.severity.value) for one in found] == [("fault-without-levers", "note")] * 2
    assert [one.instead for one in found] == ["did you mean pale?", "nothing; the word is kept"]


def test_all_that_was_changed_is_listed() -> None:
    assert tried(trials(LEAN + SECOND % ("change: [300 g water]", "flat"))) == ("trial 2: water −14 %",)


def test_the_table_is_marked_as_practice_and_its_roles_are_the_larders() -> None:
    roles = {role for food in load_larder().foods.values() for role in food.roles}
    for row in table("levers"):
        assert row["source"] == "common practice, no source"
        assert row["roles"] or row["method_words"], row
        assert set(filter(None, row["roles"].split("|"))) <= roles, row
