"""What is printed, turned back into quantities and held against the author's."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.language.spans import Share
from cardsmith.measure.quantity import Bound, quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.measure.weighing import Density
from cardsmith.rewrite.printed import Printed, Term, dual_of, error, off, single

FLOUR = Density(per=Dimension.VOLUME, grams=Fraction(1, 2), form="", basis="a trial")
EGG = Density(per=Dimension.COUNT, grams=Fraction(50), form="one", basis="a trial")


def _term(number: str, unit: str) -> Term:
    return Term(number=Fraction(number), unit=units()[unit])


def _range(low: str, high: str, unit: str) -> Printed:
    return Printed(low=(_term(low, unit),), high=(_term(high, unit),))


def test_terms_add_up_to_a_quantity() -> None:
    printed = replace(single(_term("1", "cup"), _term("2", "tablespoon")), bound=Bound.ABOUT)
    found = printed.quantity()
    assert found.low == found.high == units()["cup"].size + 2 * units()["tablespoon"].size
    assert (found.unit.name, found.bound, found.dimension) == ("cup", Bound.ABOUT, Dimension.VOLUME)


def test_a_range_keeps_both_ends_and_the_units_of_both() -> None:
    found = Printed(low=(_term("500", "gram"),), high=(_term("1", "kilogram"),)).quantity()
    assert (found.low, found.high, found.unit.name) == (500, 1000, "gram")
    assert found.high_unit is units()["kilogram"]
    assert _range("1", "2", "cup").quantity().high_unit is None


def test_a_temperature_is_a_point() -> None:
    found = single(_term("350", "degree Fahrenheit")).quantity()
    assert found.low == (350 - 32) * Fraction(5, 9)


def test_what_stands_beside_is_a_statement_of_its_own() -> None:
    each = replace(single(_term("170", "gram")), share=Share.EACH)
    printed = replace(single(_term("4", "fillet")), beside=(each,))
    count, size = printed.quantities()
    assert (count.low, size.low) == (4, 170)
    count, whole = printed.whole()
    assert (count.low, whole.low) == (4, 680)
    in_all = replace(printed, beside=(replace(each, share=Share.ALL),))
    assert [one.low for one in in_all.whole()] == [4, 170]


@pytest.mark.parametrize(
    ("exact", "printed", "density", "expected"),
    [
        (quantity(200, units()["gram"]), single(_term("190", "gram")), None, "-1/20"),
        (quantity(100, units()["gram"], high=200), _range("100", "210", "gram"), None, "1/20"),
        (quantity(100, units()["gram"], high=200), _range("80", "210", "gram"), None, "-1/5"),
        # A millilitre of flour weighs half a gram.
        (quantity(100, units()["gram"]), single(_term("220", "millilitre")), FLOUR, "1/10"),
        (quantity(200, units()["millilitre"]), single(_term("90", "gram")), FLOUR, "-1/10"),
        (quantity(100, units()["gram"]), single(_term("220", "millilitre")), None, None),
        (quantity(150, units()["gram"]), single(_term("3", "piece")), EGG, "0"),
        # °C too many, and no share of a point
        (
            quantity(160, units()["degree Celsius"]),
            single(_term("325", "degree Fahrenheit")),
            None,
            "25/9",
        ),
        (quantity(1, units()["pinch"]), single(_term("1", "pinch")), None, None),
    ],
)
def test_the_error_is_that_of_the_end_furthest_off(
    exact: object, printed: Printed, density: Density | None, expected: str | None
) -> None:
    found = error((exact,), printed, None, density)  # type: ignore[arg-type]
    assert found == (None if expected is None else Fraction(expected))


def test_the_size_in_brackets_counts_and_the_author_s_own_count_stands() -> None:
    exact, count = quantity(130, units()["gram"]), quantity(4, units()["piece"])
    printed = single(_term("4", "piece"))
    assert error((exact,), printed, count, EGG) == 0  # though four eggs of the larder weigh 200 g
    beside = replace(printed, beside=(replace(single(_term("143", "gram")), share=Share.ALL),))
    assert error((exact,), beside, count, EGG) == Fraction(1, 10)


def test_every_edge_of_a_size_counts() -> None:
    exact = (quantity(9, units()["inch"]), quantity(13, units()["inch"]))
    printed = replace(single(_term("23", "centimetre")), across=(single(_term("33", "centimetre")),))
    assert error(exact, printed) == Fraction("230") / Fraction("228.6") - 1


@pytest.mark.parametrize("exact", [Fraction(7, 3), Fraction(10)])
def test_off_is_the_plain_quotient(exact: Fraction) -> None:
    assert off(Fraction(11, 5), exact) == Fraction(11, 5) / exact - 1


def test_a_cook_who_counts_takes_what_the_author_counted() -> None:
    exact, count = quantity(130, units()["gram"]), quantity(4, units()["piece"])
    weighed = replace(single(_term("143", "gram")), share=Share.ALL)
    counted = replace(single(_term("4", "piece")), beside=(weighed,))
    made = dual_of("4 whites (130 g)", (exact,), counted, single(_term("143", "gram")), count=count)
    assert (made.us_error, made.metric_error) == (Fraction(1, 10), Fraction(1, 10))
    assert (made.as_used("us"), made.as_used("metric")) == (0, Fraction(1, 10))
