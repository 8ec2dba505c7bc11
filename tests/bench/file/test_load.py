from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.bench.model import Verb
from cardsmith.finding import Severity
from tests.bench.trial_samples import LEAN, read, trials

SECOND = "  - {trial: 2, date: 2026-03-03, from: 1, change: [%s]}\n"


def test_a_trial_is_read_with_all_that_was_measured() -> None:
    one = trials(LEAN).trials[0]
    assert (one.number, one.date, one.call) == (1, "2026-03-02", "keep")
    assert [line.item for line in one.ingredients] == ["bread flour", "water", "fine salt", "instant yeast"]
    assert {name: reading.value for name, reading in one.measured.items()} == {
        "in": 850,
        "out": 740,
        "height": 90,
    }
    assert [fault.text for fault in one.faults] == ["pale"]
    assert one.oven.set is not None
    assert one.oven.set.middle == 230


@pytest.mark.parametrize(
    ("change", "verb", "lines"),
    [
        ("375 g water", Verb.AMOUNT,
         ["500 g bread flour", "375 g water", "10 g fine salt", "5 g instant yeast"]),
        ("without instant yeast", Verb.WITHOUT, ["500 g bread flour", "350 g water", "10 g fine salt"]),
        ("add 20 g honey", Verb.ADD,
         ["500 g bread flour", "350 g water", "10 g fine salt", "5 g instant yeast", "20 g honey"]),
        ("500 g whole-wheat flour instead of bread flour", Verb.SWAP,
         ["500 g whole-wheat flour", "350 g water", "10 g fine salt", "5 g instant yeast"]),
    ],
)  # fmt: skip
def test_a_change_makes_a_whole_formula(change: str, verb: Verb, lines: list[str]) -> None:
    second = trials(LEAN + SECOND % change).trials[1]
    assert [one.verb for one in second.changes] == [verb]
    assert [line.text for line in second.ingredients] == lines


@pytest.mark.parametrize(
    ("change", "name", "instead"),
    [
        ("375 g milk", "change-of-nothing", "add 375 g milk"),
        ("375 g watr", "change-of-nothing", "“water”?"),
        ("without honey", "change-of-nothing", "add"),
        ("water", "change-without-amount", "without water"),
        ("375 gg water", "unit-misspelled", ""),
    ],
)
def test_a_change_that_fits_nothing_is_told_and_not_made(change: str, name: str, instead: str) -> None:
    found, findings = read(LEAN + SECOND % change)
    assert found is not None
    assert [one.name for one in findings] == [name] or name == "unit-misspelled"
    assert findings
    assert instead in findings[0].instead
    assert found.trials[1].ingredients == found.trials[0].ingredients


TWO_PARTS = """\
trials:
  - trial: 1
    date: 2026-03-02
    parts:
      - {name: Dough, ingredients: [100 g all-purpose flour, 20 g granulated sugar]}
      - {name: Crumble, ingredients: [50 g all-purpose flour, 40 g granulated sugar]}
  - {trial: 2, date: 2026-03-03, from: 1, change: [%s]}
"""


def test_an_ambiguous_change_asks_for_its_part() -> None:
    _, findings = read(TWO_PARTS % "30 g granulated sugar")
    assert [one.name for one in findings] == ["change-ambiguous"]
    assert "part: Dough" in findings[0].instead
    second = trials(TWO_PARTS % "{part: Crumble, line: 30 g granulated sugar}").trials[1]
    assert [line.text for line in second.ingredients][1::2] == [
        "20 g granulated sugar",
        "30 g granulated sugar",
    ]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        (LEAN + "  - {trial: 1, date: 2026-03-03, from: 1}\n", "trial-repeated"),
        (LEAN + "  - {trial: 2, date: 2026-03-03, from: 3}\n", "trial-unknown-parent"),
        (LEAN + "  - {trial: 2, date: 2026-02-30, from: 1}\n", "unreadable-date"),
        (LEAN + "  - {trial: 2, date: 2026-03-03}\n", "trial-without-formula"),
        (LEAN + "  - {trial: 2, date: 2026-03-03, from: 1, ingredients: [1 g salt]}\n", "two-formulas"),
        (LEAN + "  - {trial: 2, date: 2026-03-03, from: 1, humidty: 40 %}\n", "unknown-key"),
        (LEAN + "  - {trial: two, date: 2026-03-03, from: 1}\n", "unreadable-number"),
        (LEAN + "  - {trial: 2, date: 2026-03-03, from: 1, measured: {in: 13 cm}}\n", "unreadable-measure"),
        (LEAN + "  - {trial: 2, date: 2026-03-03, from: 1, room: {humidity: 120 %}}\n", "unreadable-measure"),
        (LEAN + "  - {trial: 2, date: 2026-03-03, from: 1, oven: {offset: hot}}\n", "unreadable-temperature"),
        (LEAN + "  - {trial: 2, date: 2026-03-03, from: 1, verdict: {call: kept}}\n", "unknown-choice"),
        (LEAN + "aim: {measure: hight}\n", "unknown-measure"),
        (LEAN + "tastings: [{name: a, test: triangle, trials: [1, 9], tasters: 6, seed: 1}]\n",
         "tasting-unknown-trial"),
        (LEAN + "tastings: [{name: a, test: duo-trio, trials: [1], tasters: 6, seed: 1}]\n",
         "tasting-of-two"),
        (LEAN + "tastings: [{name: a, test: liking, trials: [1], tasters: 6, seed: 1, "
         "results: [{taster: 1, code: 100, liking: 7}]}]\n", "ballot-not-served"),
        (LEAN + "tastings: [{name: a, test: liking, trials: [1], tasters: 6, seed: 1, "
         "results: [{taster: 1, code: 102, liking: 11}]}]\n", "score-off-scale"),
        (LEAN.replace("[pale]", "[pail]"), "fault-without-levers"),
        ("", "empty-file"),
        ("trials: 3\n", "wrong-type"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_a_finding(text: str, name: str) -> None:
    _, findings = read(text)
    assert name in [one.name for one in findings]
    assert all(one.instead for one in findings)


def _noted(key: str, words: str) -> str:
    """A second trial with words under a key; of a verdict, inside it."""
    value = f'["{words}"]' if key in {"process", "method"} else f'"{words}"'
    if key == "words":
        return LEAN.replace("faults: [pale]", f"faults: [pale], words: {value}")
    return LEAN + f"  - {{trial: 2, date: 2026-03-03, from: 1, {key}: {value}}}\n"


@pytest.mark.parametrize(
    ("key", "words", "quoted"),
    [
        ("process", "09:50 bake at 180", "180"),
        ("process", "10:12 out, middle reads 96", "96"),
        ("method", "Add 200 flour with the salt.", "200"),
        ("why", "Trial 1 stuck; 350 water was too much.", "350"),
        ("expect", "Less rise at 210.", "210"),
        ("next", "Turn the oven down to 210.", "210"),
        ("words", "Pale, even at 230.", "230"),
    ],
)
def test_a_number_of_the_log_that_measures_nothing_is_asked_about(key: str, words: str, quoted: str) -> None:
    _, findings = read(_noted(key, words))
    ((name, severity, what, instead),) = [
        (one.name, one.severity, one.what, one.instead)
        for one in findings
        if one.name in {"number-unread", "scale-missing"}
    ]
    assert severity is Severity.WARNING, name
    assert f"“{quoted}" in what
    assert instead


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("process", "09:50 bake at 180 °C, 2 trays"),
        ("process", "10:12 out, golden, 3 of 12 cracked"),
        ("method", "Rest the dough for 1 hour in 2 bowls."),
        ("why", "Trial 1 stuck."),
        ("words", "Two loaves split; step 3 took 5 minutes more."),
        ("next", "Half the yeast, 20 °C dough."),
    ],
)
def test_a_number_of_the_log_that_says_what_it_measures_is_left_in_peace(key: str, words: str) -> None:
    assert not {"number-unread", "scale-missing"} & {one.name for one in read(_noted(key, words))[1]}


@pytest.mark.parametrize(
    ("written", "degrees"),
    [("+6 °C", 6), ("−6 °C", -6), ("-6 C", -6), ("8 °C cooler", -8), ("9 °F hotter", 5), ("6 °C hotter", 6)],
)
def test_the_offset_of_an_oven_has_a_sign(written: str, degrees: int) -> None:
    text = LEAN.replace("set: 230 °C", f"set: 230 °C, offset: {written}")
    assert trials(text).trials[0].oven.offset == Fraction(degrees)


def test_the_log_runs_over_midnight() -> None:
    text = LEAN + '    process: ["22:30 mixed", "07:15 shaped", "no clock", "8.05 bake"]\n'
    assert [entry.minute for entry in trials(text).trials[0].process] == [1350, 1875, None, 1925]


@given(st.binary(max_size=400))
def test_any_bytes_are_read_without_raising(data: bytes) -> None:
    from cardsmith.bench.file.load import read_trials  # noqa: PLC0415
    from cardsmith.measure.larder import load_larder  # noqa: PLC0415

    read_trials("a-dish", data, "trials.yaml", load_larder())


DEMO = sorted((Path(__file__).parents[3] / "recipes").glob("*/trials.yaml"))


@pytest.mark.parametrize("file", DEMO, ids=lambda file: file.parent.name)
def test_every_trial_file_of_the_demo_is_read_without_a_finding(file: Path) -> None:
    found = trials(file.read_text(encoding="utf-8"))
    assert found.trials
