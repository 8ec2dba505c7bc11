"""The tables of the room: every row with its source, and the bath's times against conduction."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import exp

import pytest

from cardsmith.facts.dangers.cautions import hazards
from cardsmith.facts.method.clauses import Deed, deeds
from cardsmith.facts.method.doneness import bath_needs, bath_time, least, pairs
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.reference import table
from tests.facts.bench_of_facts import larder

TABLES = (
    "bath_times",
    "cautions",
    "head_nouns",
    "imitation_words",
    "ready_words",
    "step_deeds",
    "step_nouns",
)


@pytest.mark.parametrize("name", TABLES)
def test_every_row_has_its_source(name: str) -> None:
    assert all(row["source"] for row in table(name))


@pytest.mark.parametrize("name", ["step_deeds", "imitation_words"])
def test_every_word_stands_once(name: str) -> None:
    told = [words(row["word"]) for row in table(name)]
    assert len(told) == len(set(told))


def test_every_deed_but_none_has_its_verbs() -> None:
    assert set(deeds().values()) == set(Deed) - {Deed.NONE}


def test_every_hazard_says_something_once() -> None:
    names = [one.name for one in hazards()]
    assert len(names) == len(set(names))
    assert all(one.caution.endswith(".") and len(one.text) < 130 for one in hazards())


SLOWEST, QUICKEST = 1.2e-7, 1.6e-7  # m²/s, the heat of meat spreads so fast: common practice, no source


@pytest.mark.parametrize("row", table("bath_times"), ids=lambda row: row["millimetres"])
def test_a_bath_takes_about_as_long_as_conduction_does(row: dict[str, str]) -> None:
    """A slab from 5 °C to within 0.5 °C of 60 °C, both faces at the bath's heat: never quicker than that."""
    half = int(row["millimetres"]) / 2000
    seconds = int(row["seconds"])

    def left(spread: float) -> float:
        return 1.273 * exp(-2.467 * spread * seconds / half**2)  # one term of the series, as is usual

    assert left(SLOWEST) < 0.5 / 55 * 4
    assert left(QUICKEST) < 0.5 / 55


def test_a_bath_has_a_time_between_those_of_two_slabs() -> None:
    assert bath_time(Fraction(20)) < bath_time(Fraction(22)) < bath_time(Fraction(25))  # type: ignore[operator]
    assert bath_time(Fraction(61)) is None


# A piece of meat in a stirred bath: heat that its surface takes, that it conducts and that spreads in it;
# common practice in reckoning of baths, from memory.
TAKES, CONDUCTS, SPREADS = 95.0, 0.48, 1.4e-7  # W/m²K, W/mK, m²/s
CELLS = 24  # from the middle to the face


def middle(millimetres: int, bath: float) -> Iterator[tuple[float, float]]:
    """Seconds and °C of the middle of a slab out of the refrigerator, step by step."""
    cell = millimetres / 2000 / CELLS
    step = 0.4 * cell**2 / SPREADS
    heat = [5.0] * (CELLS + 1)
    seconds = 0.0
    while True:
        yield seconds, heat[0]
        inner = [heat[at - 1] - 2 * heat[at] + heat[at + 1] for at in range(1, CELLS)]
        face = 2 * (heat[CELLS - 1] - heat[CELLS] + TAKES * cell / CONDUCTS * (bath - heat[CELLS]))
        change = [2 * (heat[1] - heat[0]), *inner, face]
        heat = [one + 0.4 * more for one, more in zip(heat, change, strict=True)]
        seconds += step


@pytest.mark.parametrize("food", ["pork loin", "chicken breast"])
@pytest.mark.parametrize("bath", [50, 58, 60, 63, 66])
@pytest.mark.parametrize("millimetres", [15, 25, 38, 50])
def test_the_middle_is_safe_when_the_bath_s_time_is_up(food: str, bath: int, millimetres: int) -> None:
    """By the published pairs, each for its own time, to 3 %; and not half as long again as it takes."""
    kind = larder().find(food).food  # type: ignore[union-attr]
    told = bath_needs(kind, Fraction(bath), Fraction(millimetres))
    if told is None:
        assert bath == 50
        return
    goals = [(float(least(kind) or 0), 0.0)]
    goals += [(float(celsius), float(held)) for foods, celsius, held in pairs() if is_of(kind, foods)]
    since: dict[tuple[float, float], float] = {}
    for seconds, celsius in middle(millimetres, bath):
        for goal in goals:
            if celsius >= goal[0] - 0.2:
                since.setdefault(goal, seconds)
        done = [at + held for (_, held), at in since.items() if seconds >= at + held]
        if done:
            assert 0.97 * min(done) <= float(told) <= 1.5 * min(done)
            return
