"""The table holds every number of the card, each error that of the words in print."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.flow import prepare
from cardsmith.house.publication import Publication
from cardsmith.house.style import House, load_house
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.measure.units import Dimension
from cardsmith.rewrite.card.model import Card, plain
from cardsmith.rewrite.card.numbers import CardNumber, filed, numbers
from cardsmith.rewrite.wording import short

ROOT = Path(__file__).parents[3]
DEMO = Publication(root=ROOT)
FIGURE = re.compile(r"[0-9¼½¾⅐-⅞]+")
TEXT = """
title: Rye thins
headnote: Best within 2 days, at about 20 °C.
yield: {makes: 40 to 50 crackers, serves: 8, piece: 7 g}
time: {active: 35 min, total: 1 h 40 min}
equipment: [33 × 46 cm sheet pan, 3 bowls]
ingredients:
  - 200 g whole-grain rye flour
  - 90 to 110 g water
  - {key: butter, amount: 100 g, item: unsalted butter, prep: cut into 2 cm dice}
  - a pinch of salt
steps:
  - Heat the oven to 160 °C. Rub [40 g](#butter) of the butter into the flour.
  - Work in [the rest](#butter) and the water in 3 additions, roll to 3 mm and bake for 25 to 30 minutes.
storage: Keeps two weeks in a tin.
notes: [Crisp again in a 150 °C oven for 5 minutes.]
"""


@pytest.fixture(scope="module")
def larder() -> Larder:
    return load_larder()


@pytest.fixture(scope="module")
def house() -> House:
    return load_house(ROOT)


def _card(text: str, larder: Larder, house: House) -> Card:
    card = prepare("name", text.encode(), "recipe.yaml", larder, house).card
    assert card is not None
    return card


def _found(table: tuple[CardNumber, ...], kind: str, at: int, author: str) -> CardNumber:
    (one,) = [one for one in table if one.spot == (kind, at) and one.author == author]
    return one


@pytest.mark.parametrize(
    ("spot", "author", "exact", "us", "metric", "us_error", "metric_error"),
    [
        (("headnote", 0), "20 °C", (20, 20), "68 °F", "20 °C", 0, 0),
        (("active", 0), "35 min", (2100, 2100), "35 minutes", "35 minutes", 0, 0),
        (("line", 1), "90 to 110 g", (90, 110), None, "90 to 110 g", None, 0),
        (("line", 2), "2 cm", (20, 20), None, "2 cm", None, 0),
        # 325 °F is (325 − 32) × 5/9 °C by definition: 2 7/9 °C over 160 °C.
        (("step", 0), "160 °C", (160, 160), "325 °F", "160 °C", Fraction(25, 9), 0),
        # 1/8 inch is 3.175 mm (NIST SP 811, appendix B.8: 1 in = 25.4 mm).
        (("step", 1), "3 mm", (3, 3), "⅛ inch", "3 mm", Fraction("3.175") / 3 - 1, 0),
        (("step", 1), "25 to 30 minutes", (1500, 1800), "25 to 30 minutes", "25 to 30 minutes", 0, 0),
        (("note", 0), "150 °C", (150, 150), "300 °F", "150 °C", Fraction(-10, 9), 0),
    ],
)
def test_a_measure_stands_with_its_exact_value_and_error(
    spot: tuple[str, int],
    author: str,
    exact: tuple[int, int],
    us: str | None,
    metric: str,
    us_error: Fraction | None,
    metric_error: Fraction,
    larder: Larder,
    house: House,
) -> None:
    one = _found(numbers(_card(TEXT, larder, house), house), *spot, author)
    assert [(side.low, side.high) for side in one.exact] == [exact]
    assert " ".join(one.metric.split()) == metric
    assert one.metric_error == metric_error
    if us is not None:
        assert " ".join(one.us.split()) == us
        assert one.us_error == us_error


@pytest.mark.parametrize(
    ("step", "author", "told"),
    [
        ("Heat the oven to 160 °C.", "160 °C", "the nearest setting of an oven’s dial"),
        ("Bake until the middle reads 94 °C.", "94 °C", "rounded so that it is never less safe"),
        ("Keep it in the refrigerator at 4 °C.", "4 °C", "rounded so that it is never less safe"),
        ("Fry it in oil at 175 °C.", "175 °C", "to one degree"),
    ],
)
def test_a_temperature_says_how_its_other_scale_was_rounded(
    step: str, author: str, told: str, larder: Larder, house: House
) -> None:
    text = f"title: Rye thins\ningredients: [200 g bread flour]\nsteps: [Stir the flour., {step}]\n"
    assert _found(numbers(_card(text, larder, house), house), "step", 1, author).basis == told


def test_figures_that_measure_nothing_stand_as_written(larder: Larder, house: House) -> None:
    table = numbers(_card(TEXT, larder, house), house)
    assert [one.author for one in table if one.dimension is None] == ["40", "50", "8", "3", "3"]
    assert all(one.us == one.metric == one.author for one in table if one.dimension is None)


@pytest.mark.parametrize("name", DEMO.names())
def test_no_number_of_a_demo_card_is_left_out(name: str, larder: Larder, house: House) -> None:
    """Every figure of the printed texts stands in the table's row of that text."""
    card = _card(DEMO.file(name).read_text(encoding="utf-8"), larder, house)
    table = numbers(card, house)

    def held(kind: str, at: int) -> str:
        return " ".join(f"{one.us} {one.metric}" for one in table if one.spot == (kind, at))

    texts = {
        ("headnote", 0): card.headnote,
        ("storage", 0): card.storage,
        **{("step", step.number - 1): step.spans for part in card.parts for step in part.steps},
        **{("note", at): note for at, note in enumerate(card.notes)},
    }
    printed = {spot: plain(spans) for spot, spans in texts.items()}
    printed["equipment", 0] = ", ".join(card.equipment)
    printed |= {("caution", at): text for at, text in enumerate(card.cautions)}
    printed |= {
        ("makes", 0): card.makes,
        ("serves", 0): card.serves,
        ("active", 0): card.active,
        ("total", 0): card.total,
    }
    lines = [line for part in card.parts for line in part.ingredients]
    for at, line in enumerate(lines):
        amounts = [short(one) for one in (line.amount.us, line.amount.metric)] if line.amount else []
        printed["line", at] = " ".join((*amounts, line.item, line.prep))
    for (kind, at), text in printed.items():
        for figure in FIGURE.findall(text):
            assert figure in FIGURE.findall(held(kind, at)), f"{kind} {at}: {figure} of {text!r}"


@pytest.mark.parametrize("name", DEMO.names())
def test_every_measure_of_a_demo_card_can_be_read_back(name: str, larder: Larder, house: House) -> None:
    """What is printed reads as what the author measured, within what a ladder's rounding may cost."""
    table = numbers(_card(DEMO.file(name).read_text(encoding="utf-8"), larder, house), house)
    for one in table:
        if one.dimension is None or one.dimension is Dimension.COUNT:
            continue
        for error in (one.us_error, one.metric_error):
            assert error is not None, one
            assert abs(error) <= (5 if one.in_degrees else Fraction(1, 4)), one


def test_each_measure_of_lists_and_steps_has_a_key_of_its_own(larder: Larder, house: House) -> None:
    keys = [one.key for one in filed(_card(TEXT, larder, house), house)]
    assert keys == ["r0", "r1", "r2", "r3", "s1-0", "s1-1", "s2-0", "s2-1"]
