"""What a kitchen weighed: read from a line or a list, with its mean, spread and number."""

from __future__ import annotations

import statistics
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.finding import CardsmithError
from cardsmith.house.own.weighed import Weighed, weighed_in, weighings


@pytest.mark.parametrize(
    ("text", "form", "measure", "amount", "grams"),
    [
        ("1 cup = 120 g", "", "cup", 1, [120]),
        ("1 cup, crumbled = 118 g, 121 g", "crumbled", "cup", 1, [118, 121]),
        ("1 cup crumbled = 118, 121 g", "crumbled", "cup", 1, [118, 121]),
        ("½ cup, loosely packed = 30 g", "loose", "cup", Fraction(1, 2), [30]),
        ("3 = 150 g", "", "one", 3, [150]),
        ("2 large = 96 g", "", "large", 2, [96]),
        ("1 can = 0.24 kg", "", "can", 1, [240]),
        ("1 metric cup = 260 g", "", "millilitre", 250, [260]),
    ],
)
def test_a_weighing_is_read(
    text: str, form: str, measure: str, amount: Fraction | int, grams: list[int]
) -> None:
    assert weighed_in(text) == Weighed(
        form=form, measure=measure, amount=Fraction(amount), grams=tuple(map(Fraction, grams))
    )


@pytest.mark.parametrize(
    "text",
    ["1 cup", "1 cup = 3 to 4 g", "1 cup = 3 ml", "1 cup = ", "some = 3 g", "1 cup, zorbed = 3 g"],
)
def test_what_can_not_be_read_says_what_to_write(text: str) -> None:
    with pytest.raises(CardsmithError, match="write") as told:
        weighed_in(text)
    assert "1 cup, crumbled = 118 g, 121 g, 120 g" in str(told.value)


@given(st.lists(st.integers(min_value=1, max_value=5000), min_size=2, max_size=30))
def test_mean_and_deviation_are_those_of_the_sample(grams: list[int]) -> None:
    one = weighed_in(f"1 cup = {', '.join(f'{each} g' for each in grams)}")
    assert float(one.mean) == pytest.approx(statistics.mean(grams), abs=0.051)
    assert one.deviation == pytest.approx(statistics.stdev(grams))
    assert f"n = {len(grams)}" in one.told


def test_a_single_weighing_has_no_spread() -> None:
    one = weighed_in("1 cup = 120 g")
    assert (one.deviation, one.spread, one.told) == (None, "", "1 cup = 120 g")


LIST = """\
date,food,weighed
2026-03-01,Fenwick blue,"1 cup, crumbled = 118 g"
2026-03-02,rye flour,1 cup = 101 g
2026-03-03,fenwick Blue,"1 cup, crumbled = 121 g, 120 g"
2026-03-03,Fenwick blue,1 slice = 20 g
"""


def test_a_list_of_weighings_is_taken_together_by_measure() -> None:
    cup, piece = weighings(LIST.encode(), "weighings.csv", "Fenwick blue")
    assert cup.told == "1 cup, crumbled = 119.7 g (n = 3, 118 to 121 g, standard deviation 1.5 g)"
    assert piece.told == "1 slice = 20 g"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("food,grams\nx,1\n", "write the columns food and weighed"),
        ("food,weighed\nother,1 cup = 1 g\n", "has no weighing of 'Fenwick blue'"),
        ("food,weighed\nFenwick blue,1 cup\n", "weighings.csv:2: '1 cup' says no weight"),
    ],
)
def test_a_list_that_can_not_be_used_is_told(text: str, said: str) -> None:
    with pytest.raises(CardsmithError, match=r"weighings\.csv") as told:
        weighings(text.encode(), "weighings.csv", "Fenwick blue")
    assert said in str(told.value)
