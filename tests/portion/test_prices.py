from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.measure.larder import load_larder
from cardsmith.portion.prices import NO_PRICES, read_prices
from tests.portion.kitchen import prices

HEAD = "ingredient,price,pack,currency,supplier,date\n"
ROW = "rye flour,5.00,1 kg,EUR,mill,2026-03-01\n"
ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("row", "per_gram"),
    [
        ("whole-grain rye flour,5.00,1 kg", Fraction(5, 1000)),
        ("whole-grain rye flour,5.00,2 lb", Fraction(5) / (2 * Fraction("453.59237"))),  # NIST Handbook 44
        ("olive oil,9.00,1 cup", Fraction(9, 216)),  # SR 28, food 04053: 216 g a cup
    ],
)
def test_a_pack_gives_the_price_of_a_gram(row: str, per_gram: Fraction) -> None:
    (price,) = prices(row).prices.values()
    assert price.per_gram == per_gram


def test_a_pack_by_count_gives_the_price_of_one() -> None:
    (price,) = prices("eggs,3.60,12 large").prices.values()
    assert (price.per_one, price.per_gram, price.grams_of_one) == (Fraction(3, 10), None, 50)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (HEAD + ROW.replace("5.00", "cheap"), "price 'cheap' is not an amount of money"),
        (HEAD + ROW.replace("5.00", "0"), "price '0' is not an amount of money"),
        (HEAD + ROW.replace("EUR", "euro"), "currency 'euro' is not an ISO 4217 code"),
        (HEAD + ROW.replace("2026-03-01", "March"), "date 'March' can't be read"),
        (HEAD + ROW.replace("2026-03-01", "2026-02-30"), "date '2026-02-30' can't be read"),
        (HEAD + ROW.replace("1 kg", "1 sack"), "a pack of 1 sack of rye flour has no weight"),
        (HEAD + ROW.replace("1 kg", ""), "pack is missing"),
        (HEAD + ROW + ROW, "'rye flour' has a price already"),
        (HEAD + ROW.replace("mill", "mill, by the river"), "more cells than columns"),
        (HEAD + ROW + "\0", "the file is not a price list"),
        (HEAD + "x" * 200_000, "the file is not a price list"),
        (HEAD + ROW + ROW.replace("rye flour", "honey").replace("EUR", "USD"), "in EUR and USD can't"),
        (HEAD.replace("pack", "size") + ROW, "column 'pack' is missing"),
        (HEAD.replace("date\n", "date,colour\n") + ROW, "column 'colour' is unknown"),
    ],
)  # fmt: skip
def test_a_row_that_cannot_be_used_is_told(text: str, told: str) -> None:
    _, faults = read_prices(text.encode(), "prices.csv", load_larder())
    assert len(faults) == 1
    assert told in faults[0].what
    assert faults[0].instead


def test_two_names_of_one_food_are_one_price() -> None:
    text = HEAD + ROW.replace("rye flour", "aubergine") + ROW.replace("rye flour", "eggplant")
    _, faults = read_prices(text.encode(), "prices.csv", load_larder())
    assert [fault.where.line for fault in faults] == [3]


def test_other_encodings_are_refused() -> None:
    found, faults = read_prices("crème".encode("latin-1"), "prices.csv", load_larder())
    assert found == NO_PRICES
    assert "isn't UTF-8" in faults[0].what
    found, faults = read_prices(b"\xef\xbb\xbf" + (HEAD + ROW).encode(), "prices.csv", load_larder())
    assert len(found.prices) == 1
    assert not faults


def test_the_demo_list_can_be_used_whole() -> None:
    found, faults = read_prices((ROOT / "recipes/prices.csv").read_bytes(), "prices.csv", load_larder())
    assert not faults
    assert found.currency == "USD"
