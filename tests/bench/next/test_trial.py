from __future__ import annotations

import json
from dataclasses import replace

import pytest

from cardsmith.bench.next.text import record_of
from cardsmith.bench.next.text import text_of as told_of
from cardsmith.bench.next.trial import next_trial
from cardsmith.finding import CardsmithError
from cardsmith.measure.larder import load_larder
from tests.bench.lever_trials import LEVERS, Thin, text_of, thins
from tests.bench.trial_samples import read
from tests.bench.trial_samples import trials as trials_of

SIX = ("rye flour", "water", "honey", "olive oil", "eggs", "butter")
MADE = [
    Thin(moisture=3.6), Thin(water=110, moisture=3.2), Thin(moisture=3.5), Thin(water=150, moisture=4.7),
    Thin(oil=50, moisture=3.6), Thin(water=140, oil=20, moisture=4.4), Thin(oil=40, moisture=3.5),
    Thin(water=125, oil=30, moisture=3.8),
]  # fmt: skip


def told(made: list[Thin], aim: str = LEVERS, **more: list[str]) -> str:
    return told_of(next_trial(thins(*made, aim=aim), load_larder(), **more), "oat-thins")


def test_effects_are_told_with_their_intervals_and_no_more_than_they_show() -> None:
    text = told(MADE)
    assert "Aim: moisture 4 %." in text
    assert "starts from trial 8, which had 3.8 %" in text
    assert "10 g more water: +0.383 points (interval +0.326 to +0.44; tried from 110 to 150 g)\n" in text
    assert "more sunflower oil" in text
    assert "Not shown to move it; that is no proof that it doesn't" in text
    assert "8 trials can be compared" in text


def test_a_change_is_expected_to_give_and_beyond_what_was_tried_it_says_so() -> None:
    text = told(MADE, changes=["130 g water"])
    assert "Expected of water +4 %: moisture 3.97 % (3.81 to 4.12), 19 times in 20." in text
    assert "beyond" not in text.partition("The 2 trials")[0]
    assert "100 g water and 20 g sunflower oil: expected 2.84 % (2.6 to 3.08), beyond what was tried" in text
    assert "beyond what was tried of water" in told(MADE, changes=["200 g water"])


@pytest.mark.parametrize(
    ("changes", "method"),
    [
        (["10 g fine salt"], []),
        (["add 20 g rye flour"], []),
        ([], ["Rest the dough overnight."]),
        ([], ["Bake at 170 °C."]),
    ],
)
def test_what_no_trial_tells_is_not_guessed(changes: list[str], method: list[str]) -> None:
    assert "no trial tells. Write down what you expect" in told(MADE, changes=changes, method=method)


def test_heat_and_time_are_expected_in_the_oven_of_the_trial() -> None:
    varied = [replace(one, dial=146 + 2 * at, minutes=24 + at % 3) for at, one in enumerate(MADE)]
    found = next_trial(thins(*varied), load_larder(), method=["Bake at 150 °C for 25 minutes."])
    assert found.asked is not None
    assert found.asked.expectation is not None


def test_what_was_expected_of_a_trial_rests_on_the_trials_before_it() -> None:
    whole = next_trial(thins(*MADE), load_larder())
    odd = [*MADE[:6], *(replace(one, moisture=9) for one in MADE[6:])]
    other = next_trial(thins(*odd), load_larder())
    assert [one.trial.number for one in whole.checked] == [6, 7, 8]
    assert other.checked[0].expectation == pytest.approx(whole.checked[0].expectation)
    assert other.checked[1].expectation.value == pytest.approx(whole.checked[1].expectation.value)
    assert not other.checked[1].is_inside
    text = told(MADE)
    assert "trial 7: expected 3.5" in text
    assert "outside; by chance it is 1 in 20" in text


def test_too_few_trials_say_what_is_lacking_and_which_would_tell_most() -> None:
    text = told(MADE[:3])
    assert "Too few to say anything: 3 trials can be compared for water and sunflower oil." in text
    assert "It takes at least 2 more trials" in text
    assert "The 2 trials that would tell most" in text
    assert "points" not in text


def test_the_plan_is_written_as_sheets_that_can_be_printed() -> None:
    text = told(MADE)
    line = next(line for line in text.split("\n") if "bench sheet" in line)
    assert "cardsmith bench sheet oat-thins --from 8 --change" in line
    assert " g water" in line
    assert line.endswith(" --expect 'moisture 2.84 % (2.6 to 3.08)'")


def test_a_swap_makes_room_in_the_other_food() -> None:
    aim = "levers: [up to 60 g rye flour instead of spelt flour]"
    found = next_trial(thins(*MADE, aim=aim), load_larder())
    assert [one.name for one in found.fit.factors] == ["rye flour for spelt flour"]
    text = told_of(found, "oat-thins")
    assert "  add 60 g rye flour and without spelt flour" in text


def test_without_levers_every_food_that_changed_is_looked_at() -> None:
    text = """\
aim: {measure: height}
trials:
  - {trial: 1, date: 2026-03-02, ingredients: [200 g rye flour, 120 g water], measured: {height: 20 mm}}
  - {trial: 2, date: 2026-03-03, from: 1, change: [110 g water], measured: {height: 21 mm}}
"""
    found = next_trial(trials_of(text), load_larder())
    assert [one.name for one in found.fit.factors] == ["water"]
    assert "add to aim: what you would change and how far" in told_of(found, "x")


def test_moisture_by_weighing_is_said_to_be_so() -> None:
    text = """\
aim: {moisture: 4 %}
trials:
  - {trial: 1, date: 2026-03-02, ingredients: [99 g rye flour, 60 g water], measured: {in: 159 g, out: 95 g}}
"""
    assert "By the weighings: no trial was dried for it." in told_of(
        next_trial(trials_of(text), load_larder()), "x"
    )


def test_an_aim_without_a_measure_is_asked_for() -> None:
    with pytest.raises(CardsmithError, match="doesn't say what is aimed at"):
        next_trial(trials_of(text_of(MADE, "").replace("aim: {measure: moisture}\n", "")), load_larder())


def test_the_record_holds_no_number_where_nothing_may_be_said() -> None:
    few = record_of(next_trial(thins(*MADE[:3]), load_larder()))
    assert [one["each"] for one in few["effects"]] == [None, None]
    assert (
        json.loads(json.dumps(record_of(next_trial(thins(*MADE), load_larder()))))["degrees_of_freedom"] == 5
    )


@pytest.mark.parametrize(
    ("aim", "name"),
    [
        ("levers: [120 g water]", "lever-without-range"),
        ("levers: [water]", "lever-without-range"),
        ("levers: [{heat: 160 °C}]", "lever-without-range"),
        ("levers: [{time: 150 to 170 °C}]", "lever-without-range"),
        (f"levers: [{', '.join(f'5 to 90 g {food}' for food in SIX)}]", "too-many-levers"),
        ("target: 4 mm", "unreadable-measure"),
    ],
)
def test_faults_of_an_aim_are_told(aim: str, name: str) -> None:
    text = text_of(MADE, aim if "target" not in aim else LEVERS)
    _, findings = read(text.replace("target: 4 %", aim) if "target" in aim else text)
    assert name in [one.name for one in findings]
