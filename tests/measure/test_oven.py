"""The oven's dial against NIST's bands, and one to one between the scales."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from scipy import constants

from cardsmith.measure.oven import Dial, dial, dials
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.reference import Tables, table

BANDS = [
    row
    for row in csv.DictReader(
        (Path(__file__).parents[1] / "data/oven_descriptions.csv").read_text(encoding="utf-8").splitlines()
    )
    if row["source"].startswith("NIST")
]


def _set(number: int | Fraction | str, unit: str) -> Dial | None:
    temperature = quantity(Fraction(number), units()[unit])
    return dial(temperature, temperature.low)


@pytest.mark.parametrize("band", BANDS, ids=lambda band: band["description"])
def test_settings_lie_in_the_nist_bands(band: dict[str, str]) -> None:
    """NIST prints 90 °C for 200 °F; an oven marked in 5 °C steps comes nearer with 95 °C (93.3 exact)."""
    inside = [row for row in dials() if int(band["low_f"]) <= row.fahrenheit <= int(band["high_f"])]
    assert inside
    slack = 5 if band["description"] == "cool" else 0
    for row in inside:
        assert int(band["low_c"]) - slack <= row.celsius <= int(band["high_c"]) + slack, row


@pytest.mark.parametrize("band", BANDS, ids=lambda band: band["description"])
@pytest.mark.parametrize("end", ["low", "high"])
def test_the_ends_of_the_bands_are_settings(band: dict[str, str], end: str) -> None:
    row = _set(band[f"{end}_f"], "degree Fahrenheit")
    assert row is not None
    assert row.fahrenheit == int(band[f"{end}_f"])
    assert abs(row.celsius - int(band[f"{end}_c"])) <= (5 if band["description"] == "cool" else 0)


def test_no_setting_is_further_off_than_half_a_step_of_the_dial() -> None:
    for row in dials():
        exact = constants.convert_temperature(row.fahrenheit, "Fahrenheit", "Celsius")
        assert abs(row.celsius - exact) < 5, row


def test_scales_are_one_to_one() -> None:
    rows = dials()
    for scale in ("fahrenheit", "celsius"):
        settings = [getattr(row, scale) for row in rows]
        assert settings == sorted(set(settings))
    marks = [row.gas_mark for row in rows if row.gas_mark]
    assert len(marks) == len(set(marks))


@pytest.mark.parametrize("row", dials(), ids=lambda row: f"{row.fahrenheit}F")
def test_every_setting_returns(row: Dial) -> None:
    there = _set(row.fahrenheit, "degree Fahrenheit")
    assert there is not None
    back = _set(there.celsius, "degree Celsius")
    assert back == row


def test_the_usual_settings_are_the_steps_of_25_f() -> None:
    assert [row.fahrenheit for row in dials() if row.usual] == list(range(200, 501, 25))


@pytest.mark.parametrize("row", [row for row in dials() if row.gas_mark], ids=lambda row: row.gas_mark)
def test_gas_marks_follow_their_rule(row: Dial) -> None:
    """Mark n is 250 °F and 25 °F for each n; ¼ is 225 °F, ½ is 250 °F (common practice, no source)."""
    mark = Fraction(row.gas_mark)
    low = {Fraction(1, 4): 225, Fraction(1, 2): 250}
    assert row.fahrenheit == low.get(mark, 250 + 25 * mark)
    assert _set(mark, "gas mark") == row


@pytest.mark.parametrize("mark", ["11", "0", "3/4", "2.5"])
def test_a_mark_no_oven_has_is_none(mark: str) -> None:
    assert _set(mark, "gas mark") is None


def test_fan_settings_are_20_c_lower() -> None:
    """Common practice, no source; to 5 °C where the conventional setting ends in 5."""
    for row in dials():
        if row.fan_celsius is not None:
            assert row.celsius - row.fan_celsius == 20, row


@pytest.mark.parametrize(
    ("asked", "unit", "fahrenheit", "celsius"),
    [
        (177, "degree Celsius", 350, 180),  # a converted figure means the setting it came from
        (163, "degree Celsius", 325, 160),
        (107, "degree Celsius", 225, 110),
        (232, "degree Celsius", 450, 230),
        (392, "degree Fahrenheit", 400, 200),
        (356, "degree Fahrenheit", 350, 180),
        (338, "degree Fahrenheit", 340, 170),
        (355, "degree Fahrenheit", 350, 180),
        (1000, "degree Fahrenheit", 550, 290),
        (172, "degree Celsius", 340, 170),
        (343, "degree Fahrenheit", 340, 170),
    ],
)
def test_a_figure_on_no_dial_takes_the_nearest_row(
    asked: int, unit: str, fahrenheit: int, celsius: int
) -> None:
    row = _set(asked, unit)
    assert row is not None
    assert (row.fahrenheit, row.celsius) == (fahrenheit, celsius)


@pytest.mark.parametrize("celsius", ["180", "400"], ids=["as the one below", "beyond all above"])
def test_settings_out_of_order_are_refused(celsius: str) -> None:
    """A row of 375 °F in the place of ours, which is 190 °C."""
    row = next(row for row in table("oven_dials") if row["fahrenheit"] == "375") | {"celsius": celsius}
    with pytest.raises(ValueError, match="out of order"):
        dials(Tables.of({"oven_dials": [row]}, {"oven_dials": (("fahrenheit",),)}))


def test_every_row_has_a_source() -> None:
    assert all(row["source"] for row in table("oven_dials"))
