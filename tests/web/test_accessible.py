"""axe-core finds nothing on any page in any state of its controls: WCAG 2.2 AA, and good practice."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.web.webtools import tool

RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
COLLECTION = ("index", "kinds", "times", "allergens", "404")


@pytest.fixture(scope="session")
def axe() -> str:
    return tool("axe-core/axe.min.js").read_text("utf-8")


@pytest.fixture(scope="session")
def judged(axe: str) -> Callable[[Any], list[tuple[str, str]]]:
    """What axe says of a page as it is: each rule broken, and where."""

    def judge(page: Any) -> list[tuple[str, str]]:
        page.evaluate(axe)
        found = page.evaluate("rules => axe.run({runOnly: rules})", RULES)
        return [(one["id"], node["html"][:120]) for one in found["violations"] for node in one["nodes"]]

    return judge


@pytest.mark.parametrize(("width", "scheme"), [(320, "light"), (1280, "dark")])
def test_every_page_at_rest(
    browser: Any, site: Path, judged: Callable[[Any], list[tuple[str, str]]], width: int, scheme: str
) -> None:
    context = browser.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme)
    page = context.new_page()
    for file in sorted(site.rglob("*.html")):
        if file.parent.name == "harbour-crackers" or file.name == "embed.html":
            continue  # leads on before anyone can read it; stands in a frame of a page of others
        page.goto(file.as_uri())
        assert judged(page) == [], f"{file.relative_to(site)} at {width} px, {scheme}"
    context.close()


HOME = {
    "choices open": lambda page: page.get_by_text("Choose by part of the meal").click(),
    "found": lambda page: page.get_by_label("Search recipes and ingredients").fill("butter"),
    "nothing found": lambda page: page.get_by_label("Search recipes and ingredients").fill("durian"),
    "skip link": lambda page: page.keyboard.press("Tab"),
    "filtered": lambda page: (
        page.get_by_text("Choose by part of the meal").click(),
        page.get_by_label("milk", exact=True).check(),
    ),
}


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("state", HOME)
def test_the_first_page_in_every_state(
    browser: Any, site: Path, judged: Callable[[Any], list[tuple[str, str]]], state: str, scheme: str
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 800}, color_scheme=scheme)
    page = context.new_page()
    page.goto((site / "index.html").as_uri())
    HOME[state](page)
    assert judged(page) == []
    context.close()


def _units(page: Any) -> None:
    page.get_by_role("radio", name="Metric").check()


def _batch(page: Any) -> None:
    page.locator("#batch label").first.click()


def _ticked(page: Any) -> None:
    page.locator(".steps input[type=checkbox]").first.check()


def _explained(page: Any) -> None:
    page.locator("#derivations summary").click()


def _dialog(page: Any) -> None:
    page.locator("td[data-why] button").first.click()
    page.locator("#why[open]").wait_for()


def _used(page: Any) -> None:
    page.locator("tr[data-steps] button.name").first.click()


def _timer(page: Any) -> None:
    page.locator(".steps .time[role=button]").first.click()


def _taken(page: Any) -> None:
    page.locator(".steps button.number").first.click()


def _sheet(page: Any) -> None:
    page.locator("#show-list").click()
    page.locator("#sheet[open]").wait_for()


CARD = {
    "metric alone": _units,
    "another batch": _batch,
    "ticked": _ticked,
    "derivations": _explained,
    "one derivation": _dialog,
    "steps of an ingredient": _used,
    "a timer": _timer,
    "what a step takes": _taken,
    "the list as a sheet": _sheet,
}


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("state", CARD)
def test_a_card_in_every_state(
    browser: Any, site: Path, judged: Callable[[Any], list[tuple[str, str]]], state: str, scheme: str
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 800}, color_scheme=scheme)
    page = context.new_page()
    page.goto((site / "recipes/seeded-crackers/index.html").as_uri())
    CARD[state](page)
    assert judged(page) == []
    context.close()
