from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from lxml import etree
from tinyhtml5 import parse

from cardsmith.house import House
from cardsmith.recipe.model import Words
from cardsmith.render.html import render_html
from cardsmith.render.view import card_view
from cardsmith.rewrite.card import Card

SCRIPT = "<script>alert('x')</script>"


def elements(html: str, name: str) -> list[etree._Element]:
    tree = parse(html, namespace_html_elements=False)
    return [found for found in tree.iter() if found.tag == name]


def words(html: str) -> str:
    return " ".join("".join(elements(html, "body")[0].itertext()).split())


@pytest.fixture
def page(any_card: Card, house: House, templates: Path, pictures: dict[str, bytes]) -> str:
    return render_html(card_view(any_card, house), templates, pictures)


def test_landmarks_and_headings(page: str) -> None:
    for once in ("h1", "main", "header", "footer", "title"):
        assert len(elements(page, once)) == 1, once
    assert elements(page, "html")[0].get("lang") == "en-US"
    assert [heading.text for heading in elements(page, "h2")] == ["Ingredients", "Method"]
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids))


def test_every_heading_cell_has_a_scope(page: str) -> None:
    assert {cell.get("scope") for cell in elements(page, "th")} <= {"col", "row", "rowgroup"}


def test_nothing_is_fetched_or_run(page: str) -> None:
    assert not elements(page, "script")
    assert not elements(page, "link")
    addresses = re.findall(r"""(?:src|href|url)\s*[=(]\s*["']?([^"')>\s]{0,12})""", page)
    assert addresses
    assert all(address.startswith("data:") for address in addresses)


def test_fonts_stay_small(page: str, templates: Path) -> None:
    """Under 100 kB in the page, so that a card can be mailed."""
    fonts = re.findall(r"data:font/woff2;base64,([A-Za-z0-9+/=]+)", page)
    assert len(fonts) == len(list((templates / "webfonts").iterdir()))
    assert sum(map(len, fonts)) < 100_000


def test_every_text_is_there(any_card: Card, page: str) -> None:
    text = words(page).replace("\u00a0", " ")
    for part in any_card.parts:
        for line in part.ingredients:
            assert line.item in text
        for step in part.steps:
            assert "".join(span.text for span in step.spans).replace("\u00a0", " ") in text
    assert all(caution in text for caution in any_card.cautions)


def test_step_numbers_run_through_parts(
    cards: dict[str, Callable[[], Card]], house: House, templates: Path
) -> None:
    html = render_html(card_view(cards["pie"](), house), templates, {})
    assert [item.get("value") for item in elements(html, "li")] == [str(number) for number in range(1, 13)]


@pytest.mark.parametrize(
    "field",
    [
        "title",
        "item",
        "prep",
        "weigh",
        "headnote",
        "step",
        "caution",
        "credit",
        "makes",
        "allergen",
        "author",
        "alt",
    ],
)
def test_markup_in_any_field_is_text(
    field: str,
    cards: dict[str, Callable[[], Card]],
    house: House,
    templates: Path,
    pictures: dict[str, bytes],
) -> None:
    card = cards["photo"]()
    recipe, part = card.recipe, card.parts[0]
    line, step = part.ingredients[0], part.steps[0]
    assert line.amount is not None
    assert recipe.photo is not None
    spoilt = {
        "title": lambda: replace(card, recipe=replace(recipe, title=SCRIPT)),
        "alt": lambda: replace(card, recipe=replace(recipe, photo=replace(recipe.photo, alt=SCRIPT))),
        "headnote": lambda: replace(card, headnote=(Words(text=SCRIPT),)),
        "caution": lambda: replace(card, cautions=(SCRIPT,)),
        "credit": lambda: replace(card, credit=SCRIPT),
        "makes": lambda: replace(card, makes=SCRIPT),
        "allergen": lambda: replace(card, us_allergens=(SCRIPT,)),
        "step": lambda: replace(
            card, parts=(replace(part, steps=(replace(step, spans=(Words(text=SCRIPT, emphasis="em"),)),)),)
        ),
        **{
            name: lambda name=name: replace(
                card, parts=(replace(part, ingredients=(replace(line, **{name: SCRIPT}),)),)
            )
            for name in ("item", "prep", "weigh")
        },
        "author": lambda: replace(
            card,
            parts=(replace(part, ingredients=(replace(line, amount=replace(line.amount, author=SCRIPT)),)),),
        ),
    }[field]()
    html = render_html(card_view(spoilt, house), templates, pictures)
    assert not elements(html, "script")
    assert "&lt;script&gt;" in html


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2, definition)."""
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("scheme", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("role", ["ink", "soft", "accent"])
def test_contrast(scheme: int, role: str, templates: Path) -> None:
    """4.5 : 1 for text (WCAG 2.2, success criterion 1.4.3)."""
    block = re.findall(r":root \{([^}]+)\}", (templates / "card.css").read_text(encoding="utf-8"))[scheme]
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", block))
    high, low = sorted((luminance(colours[role]), luminance(colours["paper"])), reverse=True)
    assert (high + 0.05) / (low + 0.05) >= 4.5


def test_same_text_every_time(
    any_card: Card, house: House, templates: Path, page: str, pictures: dict[str, bytes]
) -> None:
    assert render_html(card_view(any_card, house), templates, pictures) == page
