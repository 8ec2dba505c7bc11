from __future__ import annotations

import json
from fractions import Fraction

import pytest

from cardsmith.bench.formula.balance import balance, balance_in_words, mixture
from cardsmith.bench.formula.composition import composition
from cardsmith.bench.model import Trial
from cardsmith.measure.larder import load_larder
from tests.bench.trial_samples import trials

# Water in 100 g, as USDA SR 28 prints it (food number, g), typed from the published tables.
PUBLISHED = [
    ("all-purpose flour", "20081", "11.92"),
    ("granulated sugar", "19335", "0.02"),
    ("unsalted butter", "01145", "17.94"),
    ("whole milk", "01211", "88.13"),
    ("eggs", "01123", "76.15"),
    ("honey", "19296", "17.10"),
    ("fine salt", "02047", "0.20"),
]


@pytest.mark.parametrize(("item", "ndb_no", "water"), PUBLISHED)
def test_water_is_that_of_usda_sr_28(item: str, ndb_no: str, water: str) -> None:
    match = load_larder().find(item)
    assert match is not None
    known = composition(match.food)
    assert known is not None
    assert (known.ndb_no, known.per_100["water"]) == (ndb_no, Fraction(water))


def trial(ingredients: str, measured: str) -> Trial:
    text = f"trials: [{{trial: 1, date: 2026-03-02, ingredients: [{ingredients}], measured: {{{measured}}}}}]"
    return trials(text).trials[0]


def test_a_dried_piece_by_hand() -> None:
    # 100 g flour (11.92 g water) and 50 g water: 88.08 g solids in 150 g. 150 g in, 92 g out.
    one = trial("100 g all-purpose flour, 50 g water", "in: 150 g, out: 92 g")
    found = balance(one)
    assert found.mixture.water_low == found.mixture.water_high
    assert found.moisture is not None
    assert float(found.moisture[0]) == pytest.approx(1 - 88.08 / 92, abs=1e-3)
    assert found.slips == ()
    assert any("38.7 % lost" in line for line in balance_in_words(found))


def test_the_loss_names_the_true_heat_and_the_time_in_it() -> None:
    text = """\
trials:
  - trial: 1
    date: 2026-03-02
    ingredients: [100 g all-purpose flour, 50 g water]
    oven: {set: 160 °C, offset: +12 °C}
    process: ["09:10 bake", "09:35 out"]
    measured: {in: 150 g, out: 92 g}
"""
    said = balance_in_words(balance(trials(text).trials[0]))
    assert "38.7 % lost in 25 min at 172 °C (dial 160 °C, offset +12 °C)." in said[1]


@pytest.mark.parametrize(
    ("measured", "slip"),
    [
        ("in: 150 g, out: 80 g", "water alone can't have gone"),
        ("in: 150 g, out: 160 g", "out (160 g) is more than in (150 g)"),
        ("mixed: 170 g, in: 150 g, out: 100 g", "its formula only 150 g"),
        ("in: 150 g, out: 92 g, moisture: 12 %", "the weighings leave"),
        ("in: 150 g, out: 92 g, pieces: 20, piece: 6 g", "more than the 92 g that came out"),
    ],
)
def test_a_weighing_slip_is_told(measured: str, slip: str) -> None:
    found = balance(trial("100 g all-purpose flour, 50 g water", measured))
    assert any(slip in one for one in found.slips), found.slips


@pytest.mark.parametrize(
    "measured",
    ["in: 150 g, out: 92 g", "mixed: 149 g, in: 145 g, out: 90 g, cooled: 89 g", "out: 92 g", "in: 150 g"],
)
def test_sound_weighings_raise_no_alarm(measured: str) -> None:
    assert balance(trial("100 g all-purpose flour, 50 g water", measured)).slips == ()


def test_water_that_no_table_gives_makes_a_range_and_never_a_guess() -> None:
    found = mixture(trial("100 g all-purpose flour, 50 g zorblat", "in: 150 g").ingredients)
    assert found.unknown == ("zorblat",)
    assert found.water_high - found.water_low == 50


def test_what_cannot_be_weighed_stops_the_balance() -> None:
    found = balance(trial("100 g all-purpose flour, 3 handfuls zorblat", "in: 150 g, out: 100 g"))
    assert found.moisture is None
    assert json.dumps(balance_in_words(found)).count("can't be weighed") == 1


def test_the_water_of_a_food_without_a_row_is_that_of_its_like_and_that_is_said() -> None:
    # SR 28, food 20038 (Oats): 8.22 g of water in 100 g; its like may hold 5 g less or more.
    found = balance(trial("200 g rolled oats", "in: 200 g, out: 195 g"))
    assert (found.mixture.water_low, found.mixture.water_high) == (Fraction("6.44"), Fraction("26.44"))
    assert found.moisture is not None
    assert [float(end) for end in found.moisture] == pytest.approx([1 - 193.56 / 195, 1 - 173.56 / 195])
    assert "By another food of the table: rolled oats (the same grain, cut or rolled)." in balance_in_words(
        found
    )
