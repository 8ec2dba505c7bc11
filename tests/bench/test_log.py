from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.bench.conditions import log_said
from cardsmith.bench.log import heats, in_heat
from cardsmith.bench.model import Trial
from tests.bench.trial_samples import read, trials

FORM = "trials: [{trial: 1, date: 2026-03-02, ingredients: [100 g water], oven: {%s}, process: [%s]}]"


def trial(log: str, oven: str = "name: A") -> Trial:
    entries = ", ".join(f'"{entry}"' for entry in log.split("; "))
    return trials(FORM % (oven, entries)).trials[0]


# A log, and the minutes in the heat by hand; None where the log doesn't tell.
STAYS = [
    ("09:10 bake, 160 °C; 09:35 out; 10:10 cold", 25),
    ("09:00 heat the oven; 09:10 in, 160 °C; 09:20 turned the pans; 09:35 out", 25),
    ("09:00 oven on, 160 °C; 09:10 into the oven; 09:35 out", 25),
    ("09:10 bake at 200 °C; 09:20 bake at 160 °C; 09:45 out", 35),
    ("09:10 bake at 200 °C; 09:20 lowered to 160 °C; 09:45 out", 35),
    ("09:10 bake; 09:20 cool; 11:00 bake again; 11:15 out", 25),
    ("mixed; bake 27 min, 160 °C", 27),
    ("23:50 roasted; 00:20 out", 30),
    ("09:00 fry; 09:04 out", 4),
    ("09:10 bake, 160 °C", None),
    ("09:10 mixed; 09:20 rolled", None),
]


@pytest.mark.parametrize(("log", "lasted"), STAYS)
def test_the_time_in_the_heat_is_by_the_clock(log: str, lasted: int | None) -> None:
    found = in_heat(trial(log))
    assert found == (None if lasted is None else Fraction(lasted * 60))


# A log and an oven, and what the food met in it.
MET = [
    ("09:10 bake, 160 °C", "set: 160 °C, offset: +12 °C", [172]),
    ("09:10 bake, 160 °C; 09:20 bake, 140 °C", "offset: −5 °C", [155, 135]),
    ("09:10 bake; 09:20 thermometer in the oven reads 171 °C", "set: 160 °C, offset: +12 °C", [172, 171]),
    ("09:30 out, 97 °C in the middle", "set: 160 °C, offset: +12 °C", [172, 97]),
    ("09:30 out", "set: 320 °F, offset: +9 °F", [165]),
    ("09:30 out", "set: 160 °C", [160]),
]


@pytest.mark.parametrize(("log", "oven", "met"), MET)
def test_what_the_food_met_is_dial_and_offset(log: str, oven: str, met: list[int]) -> None:
    assert [heat.met for heat in heats((trial(log, oven),))] == met


# An offset as typed, in °C; None where its sign is missing.
OFFSETS = [("+12 °C", 12), ("−6 °C", -6), ("12 °C hotter", 12), ("9 °F too cool", -5), ("0 °C", 0),
           ("12 °C", None), ("+6 °C cooler", None)]  # fmt: skip


@pytest.mark.parametrize(("offset", "degrees"), OFFSETS)
def test_an_offset_without_its_sign_is_asked_for(offset: str, degrees: int | None) -> None:
    found, findings = read(FORM % (f"set: 160 °C, offset: {offset}", '"09:10 bake"'))
    assert found is not None
    assert found.trials[0].oven.offset == degrees
    assert found.trials[0].oven.heat == (None if degrees is None else 160 + degrees)
    assert [one.name for one in findings] == (["unreadable-temperature"] if degrees is None else [])
    assert all("+6 °C where it is hotter than its dial" in one.instead for one in findings)


def test_the_log_is_told_with_how_long_the_food_was_left_to_itself() -> None:
    log = "09:20 mixed; 09:23 let stand, covered; 09:43 rolled; 23:50 bake; 00:02 turned; 00:17 out"
    assert log_said(trial(log)) == (
        "09:20 mixed; 09:23 let stand, covered (20 min); 09:43 rolled; "
        "23:50 bake (27 min); 00:02 turned; 00:17 out"
    )
