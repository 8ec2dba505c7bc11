from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.house.paper import card_size, length
from cardsmith.house.style import House
from cardsmith.reference import table
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card, CardIngredient
from cardsmith.rewrite.wording import short

SIZES = [row["name"] for row in table("card_sizes")]


@pytest.mark.parametrize(
    ("text", "points"),
    [("5 in", Fraction(360)), ("25.4 mm", Fraction(72)), ("9 pt", Fraction(9)), ("0.125 in", Fraction(9))],
)
def test_lengths_are_exact(text: str, points: Fraction) -> None:
    assert length(text) == points


@pytest.mark.parametrize("text", ["5", "5 cm", "wide", "5in", ""])
def test_a_length_that_cannot_be_read(text: str) -> None:
    with pytest.raises(CardsmithError, match="is not a length"):
        length(text)


def test_an_unknown_size_lists_the_known() -> None:
    with pytest.raises(CardsmithError, match="sizes: 5x7, 7x5"):
        card_size("5x8")


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [("a5", 148, 210), ("a6", 105, 148), ("a5-landscape", 210, 148), ("a6-landscape", 148, 105)],
)
def test_a_sizes_are_those_of_the_standard(name: str, width: int, height: int) -> None:
    """ISO 216:2007, in millimetres."""
    size = card_size(name)
    assert (size.width * 254 / 720, size.height * 254 / 720) == (width, height)


@pytest.mark.parametrize("name", SIZES)
def test_margins_keep_off_the_cut_and_leave_a_measure(name: str) -> None:
    """An eighth of an inch (common practice, no source); a column of at least 30 letters of 9 pt."""
    size = card_size(name)
    assert min(size.top, size.side, size.foot) >= 9
    assert size.column_width >= 30 * 9 * Fraction(1, 2)


def shortened(card: Card) -> Card:
    """The card with units as a list prints them, tbsp and tsp."""
    brief = {"tablespoons": "tbsp", "tablespoon": "tbsp", "teaspoons": "tsp", "teaspoon": "tsp"}

    def of(line: CardIngredient) -> CardIngredient:
        assert line.amount is not None
        us = line.amount.us
        text = " ".join(brief.get(word, word) for word in short(us).replace("\u00a0", " ").split())
        return replace(line, amount=replace(line.amount, us=replace(us, words=text)))

    part = card.parts[0]
    return replace(card, parts=(replace(part, ingredients=tuple(map(of, part.ingredients))),))


@pytest.mark.parametrize("name", SIZES)
@pytest.mark.parametrize("sides", [1, 2])
def test_every_size_holds_a_card(
    name: str, sides: int, cards: dict[str, Callable[[], Card]], house: House, typesetter: Typesetter
) -> None:
    """A short card and its continuation at most, every word counted, on pages of that size."""
    style = replace(house.card, size=card_size(name), sides=sides)
    layout = lay_out_card(card_view(shortened(cards["crackers"]()), house), typesetter, style, {})
    assert layout.pages <= style.pages
    size = card_size(name)
    for page in layout.document.pages:
        assert page.width * 0.75 == pytest.approx(float(size.width))
        assert page.height * 0.75 == pytest.approx(float(size.height))
