"""Every measure that a sentence can hold reads in print as it was written: none is refused for nothing."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import product
from pathlib import Path

import pytest

from cardsmith.finding import Where
from cardsmith.house.style import load_house
from cardsmith.language.prose.fields import read_prose
from cardsmith.readback.texts import text_differs, visible
from cardsmith.rewrite.card.prose import rewrite_spans
from cardsmith.rewrite.wording import fraction_text

HOUSE = load_house(Path(__file__).parents[2])
HERE = Where(file="recipe.yaml", line=1, column=1)


def _parts(of: int, least: int, most: int, step: int = 1) -> list[str]:
    """Numbers as fractions: ½, ¾, 1 …"""
    return [fraction_text(Fraction(number, of)) for number in range(least, most, step)]


def _ranges(of: int, least: int, most: int, step: int = 1) -> list[str]:
    ends = [(low, low + more) for low, more in product(range(least, most, step), (1, 2, 5))]
    return [
        f"{fraction_text(Fraction(low, of))} to {fraction_text(Fraction(high, of))}" for low, high in ends
    ]


SAID = {
    "Put it in a {} ml basin.": [*range(20, 1000, 15), "420 to 470", "450 to 470"],
    "Put it in a {} litre basin.": [*(tenth / 10 for tenth in range(5, 60)), "0.5 to 1", "1.2 to 1.3"],
    "Put it in a {}-quart basin.": _parts(4, 2, 30),
    "Spoon it into {}-ounce ramekins.": _parts(2, 2, 24),
    "Cut it {} mm thick.": [*(half / 2 for half in range(1, 60)), *_ranges(1, 1, 30)],
    "Roll it to {} cm.": [*(half / 2 for half in range(1, 90)), *_ranges(2, 1, 60)],
    "Roll it to {} inches.": [*_parts(8, 1, 120, 3), *_ranges(8, 1, 90, 3)],
    "Line a {} cm tin.": range(8, 50),
    "Line a {}-inch tin.": _parts(2, 6, 40),
    "Take out {} g of the dough.": [*range(1, 100), *range(100, 3000, 67), *_ranges(1, 1, 300, 9)],
    "Take out {} oz of the dough.": [*_parts(4, 1, 80), *_ranges(4, 1, 60, 3)],
    "Take out {} ml of the liquid.": [*range(1, 100), *range(100, 3000, 67), *_ranges(1, 5, 300, 9)],
    "Take out {} cups of the liquid.": [*_parts(12, 3, 80), *_ranges(4, 1, 24)],
    "Take out {} tsp of the liquid.": [*_parts(8, 1, 40), *_ranges(4, 1, 24)],
    "Cook at {} psi.": [*range(1, 20), *_ranges(1, 5, 16)],
    "Above {} feet, add water.": [*range(300, 9000, 250), *_ranges(1, 1000, 8000, 700)],
    "Above {} m of altitude, add water.": range(100, 3000, 50),
    "Bake in the oven at {} °C.": [*range(50, 280), *_ranges(1, 140, 230, 7)],
    "Bake in the oven at {} °F.": range(130, 540),
    "Bake in a fan oven at {} °C.": range(100, 250),
    "Bake at gas mark {}.": ["¼", "½", *range(1, 10)],
    "Bake until the middle reads {} °C.": [*range(40, 101), *_ranges(1, 50, 95)],
    "Bake until the middle reads {} °F.": range(110, 212),
    "Fry in the oil at {} °F.": range(300, 400, 3),
    "Keep it in the refrigerator at {} °C.": range(1, 9),
    "Lower the oven by {} °F.": range(5, 60),
    "Bake for {} minutes.": [*range(1, 100, 7), *_ranges(2, 3, 40)],
}


# What stands before two ends that "and" or "to" joins; each must print, and read as it was written.
RANGES = (
    "between 2 and 3 cups", "between 6 and 8 ounces", "between 150 and 200 g", "between 1 and 2 pounds",
    "between 1,001 and 6,000 feet", "between 300 and 1800 m", "between 140 and 150 °F", "between 3 and 5 cm",
    "between 5 and 8 minutes", "between 10 and 12 psi", "from 2 to 3 cups", "from 1,001 to 6,000 feet",
    "from 3 to 5 mm", "from 40 to 140 °F", "from 5 to 8 minutes",
)  # fmt: skip
SAYING = ("It should be {} in all.", "{} will do.", "Add a little (more {} of it).", "Choose one of {}.")


@pytest.mark.parametrize("ends", RANGES)
@pytest.mark.parametrize("sentence", SAYING)
def test_what_opens_a_range_keeps_its_place(sentence: str, ends: str) -> None:
    opened = sentence.format(ends[:1].upper() + ends[1:] if sentence.startswith("{") else ends)
    written = read_prose(opened, HERE)
    printed = visible(rewrite_spans(written, {}, HOUSE))
    assert [one.what for one in text_differs(printed, written, HERE, HOUSE)] == [], printed
    assert opened.partition(" ")[0] in printed
    assert ends.partition(" ")[0] in printed.lower()


@pytest.mark.parametrize(("sentence", "values"), SAID.items(), ids=SAID.keys())
def test_a_measure_of_any_size_reads_as_it_was_written(sentence: str, values: Iterable[object]) -> None:
    for value in values:
        written = read_prose(sentence.format(value), HERE)
        printed = visible(rewrite_spans(written, {}, HOUSE))
        found = text_differs(printed, written, HERE, HOUSE)
        assert [one.what for one in found] == [], printed
