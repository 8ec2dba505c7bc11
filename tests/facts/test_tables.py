"""The tables of the room: every row with its source, and the bath's times against conduction."""

from __future__ import annotations

from math import exp

import pytest

from cardsmith.facts.cautions import hazards
from cardsmith.facts.clauses import Deed, deeds
from cardsmith.facts.heat import bath_time
from cardsmith.measure.larder import words
from cardsmith.reference import table

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


def test_a_bath_has_the_time_of_the_next_thicker_slab() -> None:
    assert bath_time(25) == bath_time(22)  # type: ignore[arg-type]
    assert bath_time(61) is None  # type: ignore[arg-type]
