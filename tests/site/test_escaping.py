"""Whatever a field holds, a page has the elements that it has for plain words: text never becomes markup."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from cardsmith.finding import Where
from cardsmith.house.style import House
from cardsmith.language.spans import Words
from cardsmith.recipe.model import Correction, Photo
from cardsmith.rewrite.card.model import Card
from cardsmith.site.recipe_page.fragment import render_fragment
from cardsmith.site.recipe_page.page import render_page
from cardsmith.site.recipe_page.photo import alone
from cardsmith.site.recipe_page.structured import recipe_data
from cardsmith.site.recipe_page.view import PageView, page_view
from tests.site.published import PUBLICATION, published, tree

HOSTILE = "</script></style><script>alert(1)</script><img src=x onerror=alert(1)>\"'><b onclick=alert(1)>"
PLAIN = "words"
HERE = Where(file="recipe.yaml")
DRAWING = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"/>'


def spoilt(field: str, text: str) -> tuple[Card, House]:
    """A card of the demo and its house, with this text in a field."""
    card, house = published("seeded-crackers").card, published("seeded-crackers").house
    photo = Photo(where=HERE, file="photo.svg", alt="Crackers", credit="House photo")
    card = replace(card, recipe=replace(card.recipe, photo=photo))
    recipe, part = card.recipe, card.parts[0]
    line = next(one for one in part.ingredients if one.amount)
    assert line.amount is not None

    def with_line(**values: object) -> Card:
        lines = tuple(replace(one, **values) if one is line else one for one in part.ingredients)
        return replace(card, parts=(replace(part, ingredients=lines), *card.parts[1:]))

    def with_step() -> Card:
        steps = (replace(part.steps[0], spans=(Words(text=text, emphasis="em"),)), *part.steps[1:])
        return replace(card, parts=(replace(part, steps=steps), *card.parts[1:]))

    if field == "house":
        return card, replace(house, name=text, tagline=text)
    made: dict[str, Callable[[], Card]] = {
        "title": lambda: replace(card, recipe=replace(recipe, title=text)),
        "alt": lambda: replace(card, recipe=replace(recipe, photo=replace(photo, alt=text))),
        "photo credit": lambda: replace(card, recipe=replace(recipe, photo=replace(photo, credit=text))),
        "course": lambda: replace(card, recipe=replace(recipe, course=text)),
        "correction": lambda: replace(
            card, recipe=replace(recipe, corrections=(Correction(where=HERE, date="2026-06-20", what=text),))
        ),
        "headnote": lambda: replace(card, headnote=(Words(text=text),)),
        "caution": lambda: replace(card, cautions=(text,)),
        "credit": lambda: replace(card, credit=text),
        "makes": lambda: replace(card, makes=text),
        "equipment": lambda: replace(card, equipment=(text,)),
        "allergen": lambda: replace(card, us_allergens=(text,)),
        "agreement": lambda: replace(card, agreement=text),
        "part": lambda: replace(card, parts=(replace(part, name=text), *card.parts[1:])),
        "step": with_step,
        "item": lambda: with_line(item=text),
        "remark": lambda: with_line(remark=text),
        "weigh": lambda: with_line(weigh=text),
        "author": lambda: with_line(amount=replace(line.amount, author=text)),
        "basis": lambda: with_line(amount=replace(line.amount, basis=text)),
    }
    return made[field](), house


FIELDS = (
    *("title", "alt", "photo credit", "course", "correction", "headnote", "caution", "credit", "makes"),
    *(
        "equipment",
        "allergen",
        "agreement",
        "part",
        "step",
        "item",
        "remark",
        "weigh",
        "author",
        "basis",
        "house",
    ),
)


def viewed(card: Card, house: House) -> PageView:
    return page_view(card, house)


def full(field: str, text: str) -> str:
    card, house = spoilt(field, text)
    assert card.recipe.photo is not None
    return render_page(
        viewed(card, house),
        PUBLICATION.templates,
        photo=alone(card.recipe.photo, DRAWING),
        data=recipe_data(card, house),
    )


def fragment(field: str, text: str) -> str:
    return render_fragment(viewed(*spoilt(field, text)), PUBLICATION.templates)


def shape(html: str) -> list[tuple[object, tuple[str, ...]]]:
    """Every element with the names of its attributes, in order."""
    return [(node.tag, tuple(sorted(node.attrib))) for node in tree(html).iter() if isinstance(node.tag, str)]


@pytest.mark.parametrize("field", FIELDS)
@pytest.mark.parametrize("made", [full, fragment])
def test_markup_in_any_field_is_text(made: Callable[[str, str], str], field: str) -> None:
    hostile, plain = made(field, HOSTILE), made(field, PLAIN)
    assert shape(hostile) == shape(plain)
    if plain.count(PLAIN) != made(field, "").count(PLAIN):  # a fragment has no photo, and no derivations
        assert "onerror" in hostile


def test_every_field_is_shown_on_the_page() -> None:
    """Else nothing would be tried above."""
    assert [field for field in FIELDS if "onerror" not in full(field, HOSTILE)] == []
    missing = {field for field in FIELDS if "onerror" not in fragment(field, HOSTILE)}
    assert missing == {"alt", "photo credit", "author", "basis", "agreement", "weigh", "course"}


def test_the_shape_tells_an_injected_element() -> None:
    page = full("title", PLAIN)
    assert shape(page.replace("</h1>", "<b onclick=''>x</b></h1>", 1)) != shape(page)
    assert len(re.findall("<h1>", page)) == 1
