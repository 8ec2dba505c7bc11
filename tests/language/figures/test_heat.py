"""Temperatures in text, and what is none."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.language.figures.heat import Temperature, heat_at
from cardsmith.language.prose.reading import Reading
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind, Purpose
from cardsmith.language.tokens import tokenize
from cardsmith.measure.units import Dimension, temperature_words

BEFORE = "Heat the oven to "


def heat_in(text: str, start: int) -> Temperature | None:
    """The heat that begins at character ``start``."""
    tokens = tokenize(text)
    at = next((place for place in range(len(tokens)) if tokens[place].start >= start), len(tokens))
    return heat_at(tokens, at)


def read(text: str, before: str = BEFORE) -> Reading:
    """The first reading of a sentence that begins with ``before``, which must be ``text``."""
    (found,) = readings(before + text)
    assert found.text == text
    return found


def ends(found: Reading) -> tuple[Fraction, Fraction, str]:
    quantity = found.sides[0]
    low, high = (quantity.unit.from_base(end) for end in (quantity.low, quantity.high))
    return low, high, quantity.unit.name


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
    found = read(text)
    assert ends(found) == (Fraction(low), Fraction(high), unit)
    assert found.kind is (Kind.UNREAD if unit == BARE else Kind.TEMPERATURE)


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        # NIST SP 811, B.8: t/°C = (t/°F - 32)/1.8
        ("212 °F", 100), ("32 °F", 0), ("350 °F", Fraction(1590, 9)), ("-40 °F", -40),
        ("165 °F", Fraction(665, 9)),
    ],
)  # fmt: skip
def test_base_unit_is_celsius(text: str, celsius: Fraction) -> None:
    assert read(text).sides[0].low == celsius


@pytest.mark.parametrize(
    "text",
    [
        "160 °C fan",
        "160C fan",
        "fan 160 °C",
        "fan-forced 160 °C",
        "fan oven 160 °C",
        "160 °C convection",
        "160 °C fan oven",
    ],
)
def test_fan(text: str) -> None:
    found = read(text)
    assert ends(found) == (160, 160, C)
    assert found.sides[0].fan


@pytest.mark.parametrize(
    ("before", "text", "after"),
    [
        ("Lower the oven by ", "25 °F", "."),
        ("Set it ", "25 °F", " lower."),
        ("Set it ", "25 degrees", " higher."),
        ("A drop of ", "20 °C", " is fine."),
        ("The oven swings ", "25 °F", " either way."),
        ("Allow for ", "3 °C", " of carryover."),
        ("Stop ", "2 °C/4 °F", " below the target."),
        ("A thermometer that is ", "2 °C/4 °F", " out spoils it."),
        ("For each 300 m, take ", "1 °C", " off the boiling point."),
        ("Keep it within ", "2 °C", " of that."),
    ],
)
def test_difference(before: str, text: str, after: str) -> None:
    found = next(one for one in readings(before + text + after) if one.start == len(before))
    assert (found.text, found.kind) == (text, Kind.DIFFERENCE)
    assert found.sides[0].dimension is Dimension.TEMPERATURE_CHANGE


def test_difference_has_no_offset() -> None:
    (found,) = readings("25 °F lower")
    assert found.sides[0].low == Fraction(125, 9)  # 25 × 5/9


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
        ("Add ", "350"),
        ("Vitamin ", "C"),
        ("", "gas"),
        ("Use ", "350 fine nails"),
    ],
)
def test_no_temperature(before: str, text: str) -> None:
    kinds = {one.kind for one in readings(before + text) if one.sides and one.sides[0].dimension in HEATS}
    assert not kinds


def test_a_range_that_runs_downwards_is_a_fault() -> None:
    found = heat_in("375 to 350 °F", 0)
    assert found is not None
    assert [fault.name for fault in found.faults] == ["range-reversed"]
    assert found.quantity.low < found.quantity.high


@pytest.mark.parametrize("word", sorted(temperature_words()))
def test_every_scale_word_is_read(word: str) -> None:
    unit = temperature_words()[word].unit
    text = f"{word} 7" if unit.name == GAS else f"177 {word}"
    assert ends(read(text))[2] == unit.name


BRITISH = ["180°C", "160°C fan", "gas mark 4", "350°F"]


@pytest.mark.parametrize("joint", ["/", " / ", ", ", " or ", "|", " - ", "; "])
@pytest.mark.parametrize("order", list(permutations(range(3))))
def test_one_setting_on_three_scales_in_any_order(order: tuple[int, ...], joint: str) -> None:
    if joint == "; ":
        text = f"{BRITISH[order[0]]} ({BRITISH[order[1]]}; {BRITISH[order[2]]})"
    else:
        text = joint.join(BRITISH[place] for place in order)
    found = read(text)
    told = [(one.unit.from_base(one.low), one.fan) for one in (*found.sides, *found.stated)]
    values = [(Fraction(180), False), (Fraction(160), True), (Fraction(4), False)]
    assert told == [values[place] for place in order]
    assert found.purpose is Purpose.OVEN


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("180C/160C fan/gas 4", "180 160fan 4"),
        ("180C/Fan 160C/Gas 4", "180 160fan 4"),
        ("200°C (180°C fan) gas 6", "200 180fan 6"),
        ("gas mark 4/180°C", "4 180"),
        ("Gas 4 (180°C)", "4 180"),
        ("Gas Mark 6, 200°C", "6 200"),
        ("200C/180C fan/400F/gas 6", "200 180fan 400 6"),
        ("180°C (350°F, gas mark 4)", "180 350 4"),
        ("180°C (350°F) mark 4", "180 350"),
        ("fan 160°C/conventional 180°C/gas 4", "160fan 180 4"),
        ("180 °C (350 °F/gas 4)", "180 350 4"),
        ("220°C/200°C fan-forced", "220 200fan"),
        ("180°C fan/200°C/gas 6", "180fan 200 6"),
        ("160–170°C (325–340°F)", "160 325"),
        ("between 180 and 190°C (356 and 374°F)", "180 356"),
    ],
)
def test_settings_as_british_and_other_writers_put_them(text: str, values: str) -> None:
    found = next(iter(readings(BEFORE + text)))
    told = " ".join(
        f"{one.unit.from_base(one.low)}{'fan' * one.fan}" for one in (*found.sides, *found.stated)
    )
    assert told == values


@pytest.mark.parametrize(
    "text",
    ["Roast at 220 °C, 180 °C or less.", "Bake at 220 °C, 20 minutes.", "Cool to 57 °C or 21 °C."],
)
def test_another_heat_of_one_scale_is_no_second_statement(text: str) -> None:
    assert all(not one.stated for one in readings(text))


HEATS = {Dimension.TEMPERATURE, Dimension.TEMPERATURE_CHANGE}


@given(st.text("0123456789°CFºdegrs gasmk½-–to/().", max_size=30))
def test_any_text(text: str) -> None:
    tokens = tokenize(text)
    for at in range(len(tokens)):
        found = heat_at(tokens, at)
        if found is not None:
            assert at <= found.first < found.end <= len(tokens)
            assert found.quantity.low <= found.quantity.high
