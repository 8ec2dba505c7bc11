"""A page of a house that speaks German: beside the author's text, which is English, no English word of ours.

The author's own stands in the title, the headnote, the items, the steps, storage and notes, equipment and
credits, in foods and amounts as measured, and in the sources of weights.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from lxml import html

from cardsmith.reference import table
from cardsmith.site.recipe_page.page import render_page
from cardsmith.site.recipe_page.view import page_view
from tests.site.published import PUBLICATION, published

AUTHORS = (
    "//script|//style|//template//*[starts-with(@data-slot, 's') and not(@data-slot = 'size')]|//h1|//h3"
    "|//header|//*[contains(@class, 'headnote')]|//th|//*[contains(@class, 'text')]|//figcaption"
    "|//*[contains(@class, 'equipment')]|//tr[starts-with(@id, 'why-s')]/td"
    "|//p[b = 'Aufbewahrung' or b = 'Hinweis']|//*[contains(@class, 'corrected')]"
    "|//*[contains(@data-slot, '-item')]|//tr[starts-with(@id, 'why-')]/td[1]"
)
OURS = re.compile(
    r"\b(?:about|each|in all|minutes|hours?|cups?|tbsp|tsp|exact|over|under|agree|batch(?:es)?|possibly|per"
    r"|step|to taste|as needed|weigh|measured|printed|serves|makes|contains|have \d|hold some back"
    r"|one half)\b",
    re.IGNORECASE,
)
DECIMAL = re.compile(r"\d\.\d")


def _told(name: str) -> Iterator[str]:
    """Every text of ours, and of the lists the amounts."""
    made = published(name)
    house = replace(made.house, language="de", edition="")
    page = html.fromstring(render_page(page_view(made.card, house, made.sizes), PUBLICATION.templates))
    whole = [one for one in page.xpath("//tr[starts-with(@id, 'why-')]/td") if "USDA" in one.text_content()]
    for one in (*page.xpath(AUTHORS), *whole):
        if one.getparent() is not None:
            one.drop_tree()
    yield from (" ".join(text.split()) for text in page.itertext() if text.strip())
    yield from (one.get("aria-label") for one in page.iter() if one.get("aria-label"))


@pytest.mark.parametrize("name", ["lemon-curd", "seeded-crackers"])
def test_what_a_german_page_says_itself_is_german(name: str) -> None:
    told = list(_told(name))
    assert {"Zutaten", "Zubereitung", "Ergibt"} <= set(told)
    assert [text for text in told if OURS.search(text) or DECIMAL.search(text)] == []


def test_english_words_would_be_found_out() -> None:
    """Of the table's rows too: what is English there and found is, in German, found no more."""
    found = [row for row in table("fixed_words") if OURS.search(_outside(row["en-US"]))]
    assert len(found) > 40
    assert [
        row["de"] for row in found if OURS.search(_outside(row["de"])) and "Auf Englisch" not in row["de"]
    ] == []


def _outside(phrase: str) -> str:
    return re.sub(r"\{\w+\}", "…", phrase)
