"""A card that is too long says by how many lines, and what to cut; that much is enough."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from cardsmith.house.paper import card_size
from cardsmith.house.style import House
from cardsmith.language.spans import Words
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.overfull import Overfull
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import CardPart


@pytest.mark.parametrize(
    ("ingredients", "size", "seed"),
    [(8, "a6", 39), (8, "a6", 41), (14, "5x7", 32), (16, "5x7", 32)],
)
def test_what_is_too_long_says_what_to_cut(
    ingredients: int, size: str, seed: int, house: House, typesetter: Typesetter, maker: Callable[[int], Any]
) -> None:
    """Cutting what the message names, and as many lines as it says, makes the card fit."""
    card = maker(seed).card(ingredients, 2)
    style = replace(house.card, size=card_size(size), sides=1, cards=2)
    with pytest.raises(Overfull, match=rf"{card.recipe.title}: \d+ lines? too many for 2 cards") as raised:
        lay_out_card(card_view(card, house), typesetter, style, {})
    fault = raised.value
    assert fault.cuts
    assert sum(fault.cuts.values()) >= fault.lines
    headnote = cut(card.headnote[0].text, fault, "the headnote")
    shorter = replace(
        card,
        headnote=(Words(text=headnote),),
        parts=tuple(trimmed(part, fault) for part in card.parts),
    )
    lay_out_card(card_view(shorter, house), typesetter, style, {})


def cut(text: str, fault: Overfull, name: str) -> str:
    """Shortened as the message says: so many lines of so many letters."""
    words, gone = text.split(), 0.0
    while len(words) > 1 and gone < fault.cuts.get(name, 0) * fault.letters_in_a_line:
        gone += len(words.pop()) + 1
    return " ".join(words)


def trimmed(part: CardPart, fault: Overfull) -> CardPart:
    return replace(
        part,
        steps=tuple(
            replace(step, spans=(Words(text=cut(step.spans[0].text, fault, f"step {step.number}")),))
            for step in part.steps
        ),
    )


def test_what_no_cut_would_mend_says_how_many_cards_it_needs(
    house: House, typesetter: Typesetter, maker: Callable[[int], Any]
) -> None:
    style = replace(house.card, size=card_size("a6"), sides=1, cards=2)
    with pytest.raises(Overfull) as raised:
        lay_out_card(card_view(maker(21).card(14, 2), house), typesetter, style, {})
    assert raised.value.cuts == {}
    allowed = re.fullmatch(r"take a larger card, or allow (\d+) cards", raised.value.instead)
    assert allowed
    enough = replace(style, cards=int(allowed[1]))
    lay_out_card(card_view(maker(21).card(14, 2), house), typesetter, enough, {})


def test_no_caution_is_dropped_for_want_of_room(
    house: House,
    typesetter: Typesetter,
    maker: Callable[[int], Any],
    shown: Callable[[Layout], str],
) -> None:
    """A dozen cautions on the smallest card are an overfull card, and stand on one that has the room."""
    made = maker(34)
    cautions = tuple(f"{made.sentence(12)}" for _ in range(12))
    card = replace(made.card(6, 1), cautions=cautions)
    view = card_view(card, house)
    assert [str(one) for one in view.cautions] == list(cautions)
    with pytest.raises(Overfull):
        lay_out_card(view, typesetter, replace(house.card, size=card_size("a6"), sides=1, cards=1), {})
    roomy = lay_out_card(view, typesetter, replace(house.card, size=card_size("a5"), sides=2, cards=3), {})
    assert [one for one in cautions if re.sub(r"\s", "", one).casefold() not in shown(roomy)] == []
