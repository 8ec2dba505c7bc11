"""The feed, held to the schema of RFC 4287 and to the rules that a schema can't tell."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from lxml import etree

from cardsmith.house.settings import SiteStyle
from cardsmith.site.collection.feed import ATOM, entry_id, feed
from cardsmith.site.entry import Entry
from tests.site.entries import HOUSE, entry, noted

SCHEMA = etree.RelaxNG(file=str(Path(__file__).parents[2] / "data/atom.rng"))
NS = {"a": ATOM, "h": "http://www.w3.org/1999/xhtml"}
ENTRIES = (
    entry(
        "oat-cakes",
        published="2026-02-01",
        corrections=(noted("2026-03-05"), noted("2026-04-01", "No, 6 g.")),
    ),
    entry(
        "pea-soup",
        published="2026-03-01",
        formerly=("green-soup", "spring-soup"),
        headnote="Peas < leeks & “mint”",
    ),
    entry("unpublished", published=""),
    entry("bare", published="2025-12-01", headnote="", makes="", serves="", total="", active=""),
)


def read(entries: tuple[Entry, ...], site: SiteStyle = HOUSE.site) -> etree._Element:
    made = feed(entries, replace(HOUSE, site=site))
    assert made is not None
    root = etree.fromstring(made)
    SCHEMA.assertValid(root)
    return root


def texts(root: etree._Element, path: str) -> list[str]:
    return [one.text for one in root.iterfind(path, NS)]


def test_the_newest_word_comes_first_and_what_is_unpublished_not_at_all() -> None:
    root = read(ENTRIES)
    assert texts(root, "a:entry/a:title") == ["Oat cakes", "Pea soup", "Bare"]
    assert texts(root, "a:entry/a:updated") == [
        f"{day}T00:00:00Z" for day in ("2026-04-01", "2026-03-01", "2025-12-01")
    ]
    assert texts(root, "a:entry/a:published")[0] == "2026-02-01T00:00:00Z"
    assert texts(root, "a:updated") == ["2026-04-01T00:00:00Z"]
    assert root.find("a:author/a:name", NS) is not None  # RFC 4287, 4.1.2: else each entry needs one
    ids = texts(root, ".//a:id")
    assert len(set(ids)) == len(ids)


def test_corrections_stand_in_the_entry_with_their_dates_newest_first() -> None:
    paragraphs = read(ENTRIES).findall("a:entry[1]/a:content/h:div/h:p", NS)
    assert ["".join(one.itertext()) for one in paragraphs[:2]] == [
        "Correction, 2026-04-01: No, 6 g.",
        "Correction, 2026-03-05: The salt is 5 g.",
    ]


def test_an_id_outlives_a_new_name_a_correction_and_a_move() -> None:
    before = entry("green-soup", published="2026-03-01")
    after = entry(
        "pea-soup", published="2026-03-01", formerly=("green-soup",), corrections=(noted("2026-05-01"),)
    )
    moved = replace(HOUSE.site, address="https://elsewhere.example/kitchen/")
    assert (
        entry_id(before, HOUSE.site)
        == entry_id(after, moved)
        == "tag:pellwick.example,2026-03-01:recipes/green-soup"
    )
    (link,) = read((after,), moved).iterfind("a:entry/a:link", NS)
    assert link.get("href") == "https://elsewhere.example/kitchen/recipes/pea-soup/"


def test_the_same_entries_make_the_same_feed_in_any_order() -> None:
    assert feed(ENTRIES, HOUSE) == feed(ENTRIES[::-1], HOUSE)


def test_a_long_feed_keeps_the_newest() -> None:
    many = tuple(entry(f"soup-{number}", published=f"20{number:02}-01-01") for number in range(10, 80))
    titles = texts(read(many), "a:entry/a:title")
    assert (len(titles), titles[0], titles[-1]) == (50, "Soup 79", "Soup 30")


@pytest.mark.parametrize(
    ("entries", "site"),
    [
        ((), HOUSE.site),
        ((entry("draft", published=""),), HOUSE.site),
        (ENTRIES, SiteStyle(address="", tag="")),
    ],
)
def test_no_feed_without_a_published_recipe_or_an_address(
    entries: tuple[Entry, ...], site: SiteStyle
) -> None:
    assert feed(entries, replace(HOUSE, site=site)) is None


@pytest.mark.parametrize("path", ["a:id", "a:updated", "a:entry/a:id", "a:entry/a:title"])
def test_the_schema_refuses_a_feed_that_lacks_what_it_must_have(path: str) -> None:
    root = read(ENTRIES)
    found = root.find(path, NS)
    found.getparent().remove(found)
    assert not SCHEMA.validate(root)
