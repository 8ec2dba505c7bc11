"""The index of the cards' data."""

from __future__ import annotations

import json
from dataclasses import replace

from cardsmith.house.settings import SiteStyle
from cardsmith.site.collection.card_index import card_index
from tests.site.entries import HOUSE, entry, noted

ENTRIES = (
    entry("pea-soup", published="2026-03-01", corrections=(noted("2026-04-01"),)),
    entry("oat-cakes", published=""),
)


def test_every_card_is_told_by_its_name_with_its_file_its_days_and_its_page() -> None:
    assert json.loads(card_index(ENTRIES, HOUSE)) == {
        "format": 1,
        "cards": [
            {
                "name": "oat-cakes",
                "title": "Oat cakes",
                "published": None,
                "updated": None,
                "file": "cards/oat-cakes/oat-cakes.json",
                "url": "https://pellwick.example/recipes/oat-cakes/",
                "editions": [],
            },
            {
                "name": "pea-soup",
                "title": "Pea soup",
                "published": "2026-03-01",
                "updated": "2026-04-01",
                "file": "cards/pea-soup/pea-soup.json",
                "url": "https://pellwick.example/recipes/pea-soup/",
                "editions": [],
            },
        ],
    }


def test_without_an_address_there_is_no_page_to_tell() -> None:
    told = json.loads(card_index(ENTRIES, replace(HOUSE, site=SiteStyle(address="", tag=""))))
    assert [one["url"] for one in told["cards"]] == [None, None]
