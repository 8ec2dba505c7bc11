"""The feed in JSON, held to what version 1.1 of its standard asks (jsonfeed.org/version/1.1)."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import jsonschema
import pytest

from cardsmith.house.settings import SiteStyle
from cardsmith.site.collection.feed import entry_id
from cardsmith.site.collection.json_feed import json_feed
from cardsmith.site.entry import Entry
from tests.site.entries import HOUSE, entry, noted

MOMENT = r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$"
ADDRESS = {"type": "string", "pattern": "^https://"}
# "Top-level" and "Items" of the standard: what it requires, and the form of what it allows and we write.
SCHEMA = {
    "type": "object",
    "required": ["version", "title", "items"],
    "additionalProperties": False,
    "properties": {
        "version": {"const": "https://jsonfeed.org/version/1.1"},
        "title": {"type": "string", "minLength": 1},
        "description": {"type": "string"},
        "home_page_url": ADDRESS,
        "feed_url": ADDRESS,
        "icon": ADDRESS,
        "language": {"type": "string"},
        "authors": {"type": "array", "items": {"type": "object", "required": ["name"]}},
        "items": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["id", "content_html"],
                "additionalProperties": False,
                "properties": {
                    "id": {"type": "string", "minLength": 1},
                    "url": ADDRESS,
                    "title": {"type": "string"},
                    "summary": {"type": "string"},
                    "content_html": {"type": "string", "minLength": 1},
                    "date_published": {"type": "string", "pattern": MOMENT},
                    "date_modified": {"type": "string", "pattern": MOMENT},
                    "tags": {"type": "array", "items": {"type": "string", "minLength": 1}},
                },
            },
        },
    },
}
ENTRIES = (
    entry("oat-cakes", published="2026-02-01", corrections=(noted("2026-03-05", "Salt < 5 g & dry."),)),
    entry(
        "pea-soup", published="2026-03-01", formerly=("green-soup",), headnote="Peas", keywords=("spring",)
    ),
    entry("unpublished", published=""),
    entry("bare", published="2025-12-01", headnote="", makes="", serves="", total="", active=""),
)


def read(entries: tuple[Entry, ...]) -> dict[str, Any]:
    made = json_feed(entries, HOUSE)
    assert made is not None
    told: dict[str, Any] = json.loads(made)
    jsonschema.validate(told, SCHEMA)
    return told


def test_the_newest_word_comes_first_and_what_is_unpublished_not_at_all() -> None:
    items = read(ENTRIES)["items"]
    assert [one["title"] for one in items] == ["Oat cakes", "Pea soup", "Bare"]
    assert [one["date_modified"][:10] for one in items] == ["2026-03-05", "2026-03-01", "2025-12-01"]
    assert items[0]["date_published"] == "2026-02-01T00:00:00Z"


def test_ids_are_those_of_the_other_feed() -> None:
    told = {one["url"].split("/")[-2]: one["id"] for one in read(ENTRIES)["items"]}
    assert told == {one.name: entry_id(one, HOUSE.site) for one in ENTRIES if one.published}


def test_a_correction_leads_and_its_signs_are_text() -> None:
    first, _, bare = read(ENTRIES)["items"]
    assert first["content_html"].startswith(
        "<p>Correction, 2026-03-05: Salt &lt; 5 g &amp; dry.</p><p>Nothing"
    )
    assert bare["content_html"] == "<p>Bare</p>"
    assert "summary" not in bare


def test_tags_are_the_part_of_the_meal_the_kind_and_the_keywords() -> None:
    assert read(ENTRIES)["items"][1]["tags"] == ["Soup", "Soups", "spring"]


@pytest.mark.parametrize(("entries", "site"), [((), HOUSE.site), (ENTRIES, SiteStyle(address="", tag=""))])
def test_no_feed_without_a_published_recipe_or_an_address(
    entries: tuple[Entry, ...], site: SiteStyle
) -> None:
    assert json_feed(entries, replace(HOUSE, site=site)) is None
