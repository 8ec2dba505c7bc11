from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.bench.history.text import record_of, text_of
from cardsmith.bench.history.trials import BAKERS, TOTAL, basis_of, history, percents
from tests.bench.trial_samples import LEAN, trials

NEXT = "  - {trial: 2, date: 2026-03-03, from: 1, %s}\n"
SAME_OVEN = "oven: {name: A, set: 230 °C}, "


def test_percentages_are_those_of_a_published_worked_example() -> None:
    # https://www.wildyeastblog.com/bp-exercises-3-answers/
    text = (
        "trials: [{trial: 1, date: 2026-03-02, ingredients: [375 g all-purpose flour, 100 g whole-wheat "
        "flour, 25 g whole-grain rye flour, 250 g water, 50 g whole milk, 5 g instant yeast, 10 g salt]}]"
    )
    shares = [share for _, share in percents(trials(text).trials[0], BAKERS)]
    assert shares == [Fraction(one, 100) for one in (75, 20, 5, 50, 10, 1, 2)]


@given(st.lists(st.integers(1, 2000), min_size=3, max_size=3))
def test_flours_are_a_hundred_and_shares_of_the_total_are_one(weights: list[int]) -> None:
    flour, rye, water = weights
    text = f"trials: [{{trial: 1, date: 2026-03-02, ingredients: [{flour} g bread flour, {rye} g whole-grain rye flour, {water} g water]}}]"  # noqa: E501
    one = trials(text).trials[0]
    bakers = [share or Fraction(0) for _, share in percents(one, BAKERS)]
    assert bakers[0] + bakers[1] == 1
    assert bakers[2] == Fraction(water, flour + rye)
    assert sum(share or Fraction(0) for _, share in percents(one, TOTAL)) == 1


@pytest.mark.parametrize(
    ("lines", "basis"),
    [
        ("500 g bread flour, 350 g water", BAKERS),
        ("200 g granulated sugar, 130 g egg whites", TOTAL),
        ("1 kg beef chuck, 20 g all-purpose flour", TOTAL),
    ],
)
def test_the_basis_follows_the_formula(lines: str, basis: str) -> None:
    text = f"trials: [{{trial: 1, date: 2026-03-02, ingredients: [{lines}]}}]"
    assert basis_of(trials(text).trials) == basis


def test_one_change_has_a_one_line_effect_and_no_warning() -> None:
    text = LEAN + NEXT % (
        SAME_OVEN + "change: [300 g water], measured: {in: 800 g, out: 704 g, height: 84 mm}"
    )
    (effect,) = history(trials(text)).effects
    assert effect.text == "water −14 % → height −6 mm, loss −0.9 points, pale gone"
    assert effect.warning == ""


@pytest.mark.parametrize(
    ("said", "warning"),
    [
        ("change: [300 g water, 8 g fine salt], measured: {height: 84 mm}", "2 things changed"),
        ("change: [300 g water], method: [Fold twice.], measured: {height: 84 mm}", "2 things changed"),
        (
            "change: [300 g water], oven: {name: B, set: 230 °C}, measured: {height: 84 mm}",
            "oven B (was A) besides",
        ),
        (
            "change: [300 g water], oven: {name: A, set: 250 °C}, measured: {height: 84 mm}",
            "dial 250 °C (was 230 °C) besides",
        ),
        (
            "change: [300 g water], method: [Bake at 250 °C], oven: {name: A, set: 250 °C}",
            "2 things changed",
        ),
        (
            "method: [Fold twice.], oven: {name: A, set: 250 °C}, measured: {height: 84 mm}",
            "dial 250 °C (was 230 °C) besides",
        ),
        ("change: [300 g water], measured: {height: 84 mm}", "only one of the two records oven and dial"),
        (
            "change: [300 g water], steps: [Bake.], oven: {name: A, set: 230 °C}, measured: {height: 84 mm}",
            "steps written anew besides",
        ),
    ],
)
def test_an_effect_of_more_than_one_thing_is_credited_to_none(said: str, warning: str) -> None:
    (effect,) = history(trials(LEAN + NEXT % said)).effects
    assert effect.warning.startswith(warning)
    assert "can't be credited" in effect.warning


def test_what_repeats_differ_by_is_said_beside_a_difference() -> None:
    text = (
        LEAN
        + NEXT % (SAME_OVEN + "measured: {height: 86 mm}")
        + f"  - {{trial: 3, date: 2026-03-04, from: 1, {SAME_OVEN}change: [300 g water], "
        + "measured: {height: 87 mm}}\n"
    )
    found = history(trials(text))
    # By hand: 90 and 86 mm have s = 2.83 mm with one degree of freedom; 12.706 · 2.83 · √2 = 50.8 mm.
    assert found.effects[1].within == ("height −3 mm (±50.8 mm)",)
    assert found.effects[1].text == (
        "water −14 % → pale gone; within what repeats differ by: height −3 mm (±50.8 mm)"
    )
    assert found.effects[1].warning == ""
    assert found.counts_from == ("height 50.8 mm (2 makes)",)
    assert "What makes of one formula differ by" in text_of(found)


def test_without_a_repeat_and_a_log_it_says_what_that_leaves_open() -> None:
    remarks = history(trials(LEAN + NEXT % (SAME_OVEN + "change: [300 g water]"))).remarks
    assert remarks == (
        "No formula was made twice, so nothing here tells an effect from chance: make one again.",
        "No trial records offset or bake time: what is said of a change takes these as unchanged.",
    )


HOT = """\
aim: {moisture: 4 %}
trials:
  - trial: 1
    date: 2026-03-02
    room: {temperature: 21 °C, humidity: 48 %}
    ingredients: [100 g all-purpose flour, 50 g water]
    oven: {name: A, set: 160 °C, offset: +12 °C, fan: yes}
    process: ["09:10 bake at 160 °C", "09:35 out"]
    measured: {in: 150 g, out: 92 g, moisture: 5 %, height: 9 mm}
  - trial: 2
    date: 2026-03-03
    from: 1
    change: [45 g water]
    oven: {name: A, set: 160 °C, offset: −3 °C, fan: yes}
    process: ["09:10 bake at 160 °C", "09:38 out"]
    measured: {in: 145 g, out: 90 g, height: 8 mm}
"""


def test_true_heat_and_bake_time_stand_beside_the_moisture_and_its_aim() -> None:
    told = text_of(history(trials(HOT)))
    first = "21 °C, 48 %  A, fan  160 °C  +12 °C  172 °C     25 min     5 %       4.2 %        +1 point"
    assert f"T1  {first}\n" in told
    # By weighing: 88.12 g of solids (SR 28: 11.92 and 99.9 g of water in 100 g) in 90 g: 2.1 % is water.
    assert "160 °C  −3 °C   157 °C     28 min     –         2.1 %        −1.9 points\n" in told
    assert record_of(history(trials(HOT)))["trials"][0]["true_heat"] == 172.0


def test_another_offset_or_bake_time_is_never_taken_for_the_change() -> None:
    (effect,) = history(trials(HOT)).effects
    assert effect.besides == (
        "offset −3 °C (was +12 °C)",
        "true heat 157 °C (was 172 °C)",
        "bake time 28 min (was 25 min)",
    )
    assert "can't be credited to the change alone" in effect.warning
    assert effect.warning in text_of(history(trials(HOT)))


def test_the_text_marks_changes_and_draws_the_tree() -> None:
    text = LEAN + NEXT % "change: [300 g water, without instant yeast]"
    told = text_of(history(trials(text)))
    assert "water              70  60*" in told
    assert "instant yeast       1   –*" in told
    assert "└─ 2  water −14 % and without instant yeast" in told
    record = record_of(history(trials(text)))
    assert record["formulas"][1]["changed"] == [False, True]


# The oven of a make of trial 1 (dial 160 °C, 12 °C hot), and whether it is a repeat.
MAKES = [
    ("set: 160 °C, offset: +12 °C", True),
    ("set: 325 °F, offset: −6 °C", True),  # as the card says, in another oven
    ("set: 172 °C, offset: 0 °C", True),  # to the true heat, in an oven that is true
    ("set: 148 °C, offset: +12 °C", False),
    ("set: 180 °C", False),
    ("name: A", True),  # nothing is held against what isn't recorded
]


@pytest.mark.parametrize(("oven", "repeat"), MAKES)
def test_what_was_baked_at_another_setting_is_no_repeat(oven: str, repeat: bool) -> None:
    first, _, _ = HOT.partition("  - trial: 2")
    found = trials(f"{first}  - {{trial: 2, date: 2026-03-03, from: 1, oven: {{{oven}}}}}\n")
    assert len(found.makes(found.trials[0])) == (2 if repeat else 1)


def test_no_effect_is_credited_to_no_change_either() -> None:
    still = HOT.replace("height: 8 mm", "height: 9 mm").replace("in: 145 g, out: 90 g, ", "")
    (effect,) = history(trials(still)).effects
    assert effect.text.endswith("→ nothing measured differs")
    assert "offset −3 °C (was +12 °C)" in effect.warning


def test_a_repeat_says_what_differed_all_the_same() -> None:
    (effect,) = history(trials(HOT.replace("    change: [45 g water]\n", ""))).effects
    assert effect.text.startswith("trial 1 again, with offset −3 °C (was +12 °C), true heat 157 °C")
    assert effect.warning == ""
