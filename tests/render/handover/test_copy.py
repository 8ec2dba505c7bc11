"""The copy of a card: a named style to every text, and every text that the card must print."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from markupsafe import Markup

from cardsmith.house.style import House
from cardsmith.render.card.view import card_view
from cardsmith.render.handover.copy import CHARACTERS, PARAGRAPHS, as_text, card_copy
from cardsmith.rewrite.card.model import Card


def test_every_text_of_a_card_is_in_its_copy(any_card: Card, house: House) -> None:
    view = card_view(any_card, house)
    copy = card_copy(view, pictured=True)
    said = "\n".join(one.text for one in copy)
    for text in view.texts():
        assert "".join(text.striptags().split()) in "".join(said.split())
    assert {one.style for one in copy} <= set(PARAGRAPHS)
    assert {run.style for one in copy for run in one.runs} <= {"", *CHARACTERS}


def test_what_the_author_stressed_has_a_style(cards: dict[str, Callable[[], Card]], house: House) -> None:
    headnote = Markup(
        'Not <em>too</em> hot, at <span class="measure" title="x">50 °C</span>, <strong>ever</strong>.'
    )
    view = replace(card_view(cards["short"](), house), headnote=headnote)
    (told,) = [one for one in card_copy(view, pictured=False) if one.style == "Headnote"]
    assert {run.style: run.text for run in told.runs if run.style} == {
        "Emphasised": "too",
        "Measure": "50 °C",
        "Strong Words": "ever",
    }
    assert told.text == "Not too hot, at 50 °C, ever."


def test_a_line_of_the_list_has_a_tab_before_each_amount(
    cards: dict[str, Callable[[], Card]], house: House
) -> None:
    copy = card_copy(card_view(cards["crackers"](), house), pictured=False)
    rows = [one for one in copy if one.style == "Ingredient"]
    assert {one.text.count("\t") for one in rows} == {2}
    amounts = [[run.style for run in one.runs if run.style.endswith("Amount")] for one in rows]
    assert all(one == ["US Amount", "Metric Amount"] for one in amounts)


def test_the_credit_of_a_picture_that_does_not_print_is_left_out(any_card: Card, house: House) -> None:
    view = card_view(any_card, house)
    if view.photo and view.photo.credit:
        with_it, without = (as_text(card_copy(view, pictured=one)) for one in (True, False))
        assert view.photo.credit.striptags() in with_it
        assert view.photo.credit.striptags() not in without


def test_as_text_what_a_heading_heads_follows_it(cards: dict[str, Callable[[], Card]], house: House) -> None:
    lines = as_text(card_copy(card_view(cards["crackers"](), house), pictured=False)).splitlines()
    at = next(number for number, line in enumerate(lines) if line.endswith("\tUS\tMetric"))
    assert lines[at - 1] == ""
    assert lines[at + 1].count("\t") == 2
