"""The pages around the cards: set in every size of card, and their folios at the outer edge."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from markupsafe import Markup

from cardsmith.house.paper import BLEED, card_size
from cardsmith.render import audit
from cardsmith.render.booklet.index import BoundCard, IndexEntry
from cardsmith.render.booklet.matter import BookletView, folios, lay_out_matter
from cardsmith.render.booklet.plan import Matter
from cardsmith.render.typesetter import Typesetter

SIZES = ("5x7", "6x4", "a6", "half-letter-landscape")  # the usual, the lowest, the smallest, the widest
CARDS = tuple(
    BoundCard(title=Markup(f"Soup of {number} roots, with bread"), page=2 * number, anchor=f"card-{number}")
    for number in range(2, 20)
)
VIEW = BookletView(
    language="en-US",
    title=Markup("Summer &amp; &#34;late&#34; 2026"),
    plain_title='Summer & "late" 2026',
    house=Markup("Pellwick Quarterly"),
    tagline=Markup("Plain cooking from a small harbour"),
    credit=Markup("Pellwick Test Kitchen"),
    count="18 recipes",
    cards=CARDS,
    index_page=66,
    ingredients=(("B", (IndexEntry(name=Markup("bread"), cards=CARDS),)),),
    kinds=(IndexEntry(name=Markup("Soups"), cards=CARDS),),
)


@pytest.fixture(scope="module")
def setter(tmp_path_factory: pytest.TempPathFactory) -> Typesetter:
    return Typesetter(Path(__file__).parents[3] / "templates", tmp_path_factory.mktemp("fonts"))


@pytest.mark.parametrize("size", SIZES)
def test_every_page_is_set_in_sizes_of_all_shapes(size: str, setter: Typesetter) -> None:
    """Whatever runs off the page or over other words is a fault, and a cover or a blank is one page."""
    for matter in set(Matter) - {Matter.CARD}:
        document = lay_out_matter(VIEW, matter, range(2, 12), setter, card_size(size), BLEED)
        assert len(document.pages) == 1 or matter in (Matter.CONTENTS, Matter.INDEX)


@pytest.mark.parametrize(
    ("matter", "told"),
    [
        (Matter.CONTENTS, {"Inhalt", "Register nach Zutat und nach Art"}),
        (Matter.INDEX, {"Register", "Nach Zutat", "Nach Art"}),
        (Matter.NOTES, {"Notizen"}),
    ],
)
def test_a_booklet_speaks_the_language_of_its_house(
    matter: Matter, told: set[str], setter: Typesetter
) -> None:
    """On the page and in its foot."""
    document = lay_out_matter(replace(VIEW, language="de"), matter, [9], setter, card_size("5x7"), BLEED)
    lines = {line.text.strip() for line in audit.lines(document)}
    assert told <= lines
    assert not {line for line in lines for word in ("Contents", "Index", "Notes", "By") if word in line}


def foot(matter: Matter, number: int, setter: Typesetter) -> audit.TextRun:
    """The lowest words of a page, which are its foot."""
    document = lay_out_matter(VIEW, matter, [number], setter, card_size("5x7"), BLEED)
    return max((line for line in audit.lines(document) if line.page == 1), key=lambda line: line.baseline)


def test_folios_stand_at_the_outer_edge_with_the_booklets_name_on_the_left_page(setter: Typesetter) -> None:
    left, right = (foot(Matter.CONTENTS, number, setter) for number in (8, 9))
    assert left.text == '8    Summer & "late" 2026'
    assert right.text == "Contents    9"
    middle = float(card_size("5x7").width) / 0.75 / 2
    assert left.left < middle < right.right
    assert left.left == pytest.approx(2 * middle - right.right, abs=2)


def test_a_page_that_a_picture_covers_has_no_foot() -> None:
    assert "nth(1)" not in folios([None, 5], "b", "r")
    assert "nth(2)" in folios([None, 5], "b", "r")


def test_no_word_of_a_title_ends_the_style_it_stands_in() -> None:
    assert "<" not in folios([2], "</style><b>", "x")
