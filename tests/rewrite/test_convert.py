"""What a cook asks at the bench. Weights of a cup: USDA SR 28; units of a works: NIST SP 811."""

from __future__ import annotations

import pytest

from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.rewrite.convert import convert


@pytest.mark.parametrize(
    ("asked", "us", "metric", "exact"),
    [
        ("2 cups rye flour", "2 cups", "205 g", "473.18 ml = 204 g"),  # SR 28, 20064: 102 g a cup
        ("102 g rye flour", "1 cup", "102 g", "102 g = 236.59 ml"),
        ("3 tbsp", "3 tbsp", "45 ml", "44.36 ml"),
        ("100 g egg whites", "3", "100 g", "100 g"),
        ("5 large eggs", "5", "5 (250 g in all)", ""),
        ("a 5 cm piece of ginger", "1", "1", ""),  # about ginger, not about a length
        ("2 small pieces of ginger", "2 pieces", "2 pieces", ""),
        ("350 F", "350 °F", "177 °C", ""),  # a reading
        ("350 F oven", "350 °F", "180 °C", ""),  # a dial
        ("20 psi", "20 psi", "138 kPa", ""),
        ("9x13 inch pan", "9-by-13-inch", "23 × 33 cm", ""),
        ("3 horsepower", "7633 Btu/h = 3 hp", "2.237 kW = 2237 W", ""),
        ("10 kg/m^3", "0.08345 lb/gal", "0.01 kg/L", ""),
    ],
)
def test_a_question_is_answered_in_both_systems(
    asked: str, us: str, metric: str, exact: str, larder: Larder, house: House
) -> None:
    found = convert(asked, larder, house)
    assert found is not None
    assert [text.replace("\xa0", " ") for text in (found.us, found.metric, found.exact)] == [
        us,
        metric,
        exact,
    ]
    assert found.asked == asked


@pytest.mark.parametrize(
    ("asked", "assumed"),
    [
        ("2 cups rye flour",
         ["rye flour is the larder's medium rye flour", "102 g per cup (USDA SR 28, food 20064, weight 1)"]),
        ("2 cups squelm", ["squelm is not in the larder"]),
        ("1 lb chiken", ["chiken is not in the larder (nearest: chicken, chives, chive)"]),
        ("3 tbsp", []),
        ("350 F", ["a reading, to the nearest degree; say `oven` for a setting"]),
        ("350 F oven", ["a setting of the oven's dial"]),
        ("gas mark 4", ["a setting of the oven's dial"]),
        ("9x13 inch pan", ["a pan 5.08 cm deep; to the brim it holds 3.8 L (16 cups)"]),
        ("13x9 inch pan", ["a pan 5.08 cm deep; to the brim it holds 3.8 L (16 cups)"]),
        ("23 cm round", []),
        ("2 bushels", ["the unit's definition (NIST SP 811), to four figures"]),
    ],
)  # fmt: skip
def test_an_answer_says_what_it_assumes(asked: str, assumed: list[str], larder: Larder, house: House) -> None:
    found = convert(asked, larder, house)
    assert found is not None
    assert list(found.assumed) == assumed


@pytest.mark.parametrize("asked", ["hello", "", "a pinch of salt", "0 g flour", "salt, to taste"])
def test_what_has_no_measure_has_no_answer(asked: str, larder: Larder, house: House) -> None:
    assert convert(asked, larder, house) is None


def test_a_food_that_nobody_knows_is_no_finding_and_a_number_that_nobody_can_read_is(
    larder: Larder, house: House
) -> None:
    squelm, blobs = convert("2 cups squelm", larder, house), convert("2 blobs/minute", larder, house)
    assert squelm is not None
    assert blobs is not None
    assert squelm.findings == ()
    assert [one.name for one in blobs.findings] == ["number-unread"]
