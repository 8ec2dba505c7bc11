"""Temperatures in text, and what is none."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.measure.units import Dimension, temperature_words
from cardsmith.recipe.temperatures import temperature_at


def read(text: str, before: str = "Heat the oven to ") -> tuple[Fraction, Fraction, str, str, str]:
    """Low, high, unit, qualifier and the text that is left."""
    whole = before + text
    found = temperature_at(whole, len(before))
    assert found is not None
    quantity = found.quantity
    low, high = (quantity.unit.from_base(end) for end in (quantity.low, quantity.high))
    return low, high, quantity.unit.name, quantity.qualifier, whole[found.end :]


C, F, GAS, BARE = "degree Celsius", "degree Fahrenheit", "gas mark", "degree"


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("180 °C", 180, 180, C), ("180°C", 180, 180, C), ("180C", 180, 180, C), ("180 C", 180, 180, C),
        ("180 ºC", 180, 180, C), ("180 degrees C", 180, 180, C), ("180 degrees Celsius", 180, 180, C),
        ("180c", 180, 180, C), ("350 °F", 350, 350, F), ("350F", 350, 350, F), ("350 F", 350, 350, F),
        ("350f", 350, 350, F), ("350 deg F", 350, 350, F), ("350-degree-F", 350, 350, F),
        ("350° F", 350, 350, F), ("350–375°F", 350, 375, F), ("350 to 375 °F", 350, 375, F),
        ("350°F to 375°F", 350, 375, F), ("350° to 375°F", 350, 375, F),
        ("between 160 and 180 °C", 160, 180, C),
        ("37.5 °C", "75/2", "75/2", C), ("-18 °C", -18, -18, C), ("−18 °C", -18, -18, C), ("0 °F", 0, 0, F),
        ("350 degrees", 350, 350, BARE), ("350°", 350, 350, BARE), ("350-degree", 350, 350, BARE),
        ("350", 350, 350, BARE), ("350 to 375", 350, 375, BARE),
        ("gas mark 4", 4, 4, GAS), ("gas 4", 4, 4, GAS),
        ("gas mark ½", "1/2", "1/2", GAS), ("gas mark 4–5", 4, 5, GAS), ("Gas Mark 6", 6, 6, GAS),
    ],
)  # fmt: skip
def test_temperature(text: str, low: int | str, high: int | str, unit: str) -> None:
    assert read(text) == (Fraction(low), Fraction(high), unit, "", "")


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        # NIST SP 811, B.8: t/°C = (t/°F - 32)/1.8
        ("212 °F", 100), ("32 °F", 0), ("350 °F", Fraction(1590, 9)), ("-40 °F", -40),
        ("165 °F", Fraction(665, 9)),
    ],
)  # fmt: skip
def test_base_unit_is_celsius(text: str, celsius: Fraction) -> None:
    found = temperature_at(text, 0)
    assert found is not None
    assert found.quantity.low == celsius


@pytest.mark.parametrize(
    "text", ["160 °C fan", "160C fan", "fan 160 °C", "160 °C convection", "160 °C fan oven"]
)
def test_fan(text: str) -> None:
    assert read(text) == (Fraction(160), Fraction(160), C, "fan", "")


@pytest.mark.parametrize(
    ("before", "text", "after"),
    [
        ("Lower the oven by ", "25 °F", "."),
        ("Set it ", "25 °F", " lower."),
        ("Set it ", "25 degrees", " higher."),
        ("A drop of ", "20 °C", " is fine."),
    ],
)
def test_difference(before: str, text: str, after: str) -> None:
    found = temperature_at(before + text + after, len(before))
    assert found is not None
    assert found.quantity.dimension is Dimension.TEMPERATURE_CHANGE


def test_difference_has_no_offset() -> None:
    found = temperature_at("25 °F lower", 0)
    assert found is not None
    assert found.quantity.low == Fraction(125, 9)  # 25 × 5/9


@pytest.mark.parametrize(
    ("before", "text"),
    [
        ("Turn the pan ", "90 degrees"),
        ("Cut at a ", "45° angle"),
        ("Put in ", "2 C flour"),
        ("Bake ", "24 crackers"),
        ("Bake at most ", "350 crackers"),
        ("Bake at ", "350 g a piece"),
        ("Bake at ", "12"),
        ("Bake at ", "900"),
        ("Add ", "350"),
        ("Vitamin ", "C"),
        ("", "gas"),
        ("Use ", "350 fine nails"),
    ],
)
def test_no_temperature(before: str, text: str) -> None:
    assert temperature_at(before + text, len(before)) is None


def test_a_range_that_runs_downwards_is_a_fault() -> None:
    found = temperature_at("375 to 350 °F", 0)
    assert found is not None
    assert [fault.name for fault in found.faults] == ["range-reversed"]
    assert found.quantity.low < found.quantity.high


@pytest.mark.parametrize("word", sorted(temperature_words()))
def test_every_scale_word_is_read(word: str) -> None:
    unit = temperature_words()[word].unit
    text = f"{word} 7" if unit.name == GAS else f"177 {word}"
    assert read(text)[2] == unit.name


@given(st.text("0123456789°CFºdegrs gasmk½-–to/().", max_size=30), st.integers(0, 4))
def test_any_text(text: str, start: int) -> None:
    found = temperature_at(text, start)
    if found is not None:
        assert start < found.end <= len(text)
        assert found.quantity.low <= found.quantity.high
