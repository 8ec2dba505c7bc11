from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.portion.shares import shares
from cardsmith.portion.title import named_in_title, percentage, percentages
from tests.portion.kitchen import batch, recipe


def test_percentage_is_that_of_the_published_example() -> None:
    """200 g of sultanas in 1,000 g of mixture baked to 800 g are 25 %: UK guidance on quantitative ingredient

    declarations, as local authorities reprint it.
    """
    of = recipe("800 g all-purpose flour", "200 g sultanas", title="Sultana cake", kind="butter-cake",
                yields="{makes: 8 slices, piece: 100 g}")  # fmt: skip
    parts, mixed, done = batch(of)
    assert mixed.likely == 1000
    assert percentages(of, parts, done) == {"golden-raisin": "25 %"}


@pytest.mark.parametrize(
    ("grams", "finished", "told"),
    [
        ("200", "800", "25 %"),
        ("133", "100", "made with 133 g per 100 g"),
        ("100", "100", "100 %"),
        ("0.4", "100", "0.4 %"),
    ],
)
def test_more_than_the_whole_is_said_in_grams(grams: str, finished: str, told: str) -> None:
    """Regulation (EU) 1169/2011, Annex VIII, 4(a)."""
    assert percentage(Fraction(grams), Fraction(finished)) == told


@pytest.mark.parametrize(
    ("title", "lines", "named"),
    [
        ("Apple and blackberry pie", ("500 g apples", "200 g blackberries"), ["apple", "blackberry"]),
        ("White bean salad", ("400 g canned white beans", "50 g white wine vinegar"), ["bean"]),
        ("Soda bread", ("500 g bread flour", "5 g baking soda"), []),  # leavening
        ("Vanilla custard", ("500 g whole milk", "5 g vanilla extract"), []),  # flavouring
        ("Pound cake", ("200 g cake flour", "200 g unsalted butter"), []),  # an idiom
        ("Butter cake", ("200 g cake flour", "200 g unsalted butter"), ["butter"]),
        ("Chicken braise", ("500 g chicken thighs", "200 g chicken stock"), ["chicken"]),
    ],
)  # fmt: skip
def test_the_title_names_foods_of_the_list(title: str, lines: tuple[str, ...], named: list[str]) -> None:
    of = recipe(*lines, title=title)
    assert [one.word for one in named_in_title(of, shares(of))] == named


def test_stock_is_not_the_bird() -> None:
    of = recipe("500 g chicken thighs", "200 g chicken stock", title="Chicken braise")
    (named,) = named_in_title(of, shares(of))
    assert [one.line.item for one in named.shares] == ["chicken thighs"]


def test_without_a_finished_mass_there_is_no_percentage() -> None:
    of = recipe("400 g rye flour", title="Rye noodles", kind="pasta")
    parts, _, done = batch(of)
    assert percentages(of, parts, done) == {}
