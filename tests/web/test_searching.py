"""What readers type, a line each in searches.csv; no answer lists an allergen that its search leaves out."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

with (Path(__file__).parent / "searches.csv").open(encoding="utf-8") as lines:
    SEARCHES = list(csv.DictReader(lines))
FOUND = "() => [...document.querySelectorAll('#found-list [data-name]')].map(one => one.dataset.name)"
LISTED = "names => searchable.filter(one => names.includes(one.name)).flatMap(one => one.allergens)"


@pytest.fixture(scope="module")
def home(browser: Any, site: Path) -> Iterator[Any]:
    """The first page, opened once for all searches."""
    page = browser.new_page()
    page.goto((site / "index.html").as_uri())
    yield page
    page.close()


def test_there_are_sixty() -> None:
    assert len({one["asked"] for one in SEARCHES}) >= 60


@pytest.mark.parametrize("one", SEARCHES, ids=[one["asked"] for one in SEARCHES])
def test_a_search_is_answered_as_it_is_meant(home: Any, one: dict[str, str]) -> None:
    home.get_by_label("Search recipes and ingredients").fill(one["asked"])
    found = home.evaluate(FOUND)
    if one["note"] != "finds none":
        assert found
        assert not one["first"] or found[0] in one["first"].split("|")
    left_out = set(filter(None, one["not listed"].split("|")))
    assert left_out.isdisjoint(home.evaluate(LISTED, found))
    said = home.locator("#understood").inner_text()
    assert all(word in said for word in left_out)
    assert ("no promise" in said) == bool(left_out) or "No recipe here lists" in said
    ticked = home.evaluate("[...document.querySelectorAll('[name=allergen]:checked')].map(one => one.value)")
    assert set(ticked) == left_out
