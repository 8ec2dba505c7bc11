"""The data file against the page a reader sees: programs and people are told the same."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from typing import Any
from xml.etree.ElementTree import Element

import pytest

from cardsmith.rewrite.card.model import Timed
from tests.site.published import NAMES, published, seen, tree


def data_of(name: str) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(published(name).file(".json"))
    return told


def words(text: str) -> str:
    """Text with plain single spaces."""
    return " ".join(text.split())


def by_id(page: Element) -> dict[str, Element]:
    return {node.get("id", ""): node for node in page.iter() if node.get("id")}


@pytest.mark.parametrize("name", NAMES)
def test_both_amounts_of_every_line_are_those_of_the_page(name: str) -> None:
    page = by_id(tree(published(name).in_site))
    lines = [line for part in data_of(name)["parts"] for line in part["ingredients"]]
    assert f"r{len(lines) - 1}" in page
    assert f"r{len(lines)}" not in page
    systems = [system.key for system in published(name).view.systems]
    for number, line in enumerate(lines):
        item, *cells = (words(seen(cell)) for cell in page[f"r{number}"])
        assert item.startswith(words(line["item"]))
        assert words(line["prep"]) in (item if line["amount"] else f"{item} {cells[0]}")
        amount = line["amount"]
        if amount is None:
            assert line["to_taste"] == all(cell in {"to taste", "as needed"} for cell in cells)
            continue
        alone = [words(amount[system]["text"]) for system in systems if amount[system]]
        assert cells == (alone if len(alone) == len(systems) else alone * len(systems))
        for system in systems:
            if amount[system] and amount[system]["unit"] == amount["unit"]:
                printed, exact = Fraction(amount[system]["low"]), Fraction(amount["exact"])
                assert printed / exact - 1 == Fraction(amount[system]["error"] or 0)


@pytest.mark.parametrize("name", NAMES)
def test_steps_and_yield_are_those_of_the_page(name: str) -> None:
    made, told = published(name), data_of(name)
    page = tree(made.in_site)
    shown = words(seen(next(page.iter("main"))))
    steps = [step for part in told["parts"] for step in part["steps"]]
    items = [node for node in page.iter("li") if node.get("value")]
    assert [str(step["number"]) for step in steps] == [node.get("value") for node in items]
    for step, node in zip(steps, items, strict=True):
        corrected = [one for one in node.iter("small") if one.get("class") == "corrected"]
        noted = " ".join(seen(one) for one in corrected)
        assert words(f"{step['text']} {noted}") == words(seen(node))
        timed = [span for span in node.iter("span") if span.get("data-seconds")]
        assert [words(time["text"]) for time in step["times"]] == [words(seen(one)) for one in timed]
        for time, span in zip(step["times"], timed, strict=True):
            assert Fraction(span.get("data-seconds", "")) in {Fraction(time["low"]), Fraction(time["high"])}
    for key, label in (("makes", "Makes"), ("serves", "Serves")):
        assert words(told[key]).removeprefix(f"{label} ") in shown
    for caution in told["cautions"]:
        assert words(caution) in shown
    assert told["title"] == seen(next(page.iter("h1")))


def test_the_demo_has_times_and_lines_without_amounts_to_compare() -> None:
    """Else the comparisons above would pass over nothing."""
    cards = [published(name).card for name in NAMES]
    spans = [span for card in cards for part in card.parts for step in part.steps for span in step.spans]
    assert sum(isinstance(span, Timed) for span in spans) > 30
    lines = [line for card in cards for part in card.parts for line in part.ingredients]
    assert any(line.amount is None for line in lines)
    assert sum(bool(line.amount) for line in lines) > 80


@pytest.mark.parametrize("name", NAMES)
def test_every_exact_value_is_a_fraction(name: str) -> None:
    """As DEVELOPERS.md says: a number as text, so that no reader rounds it."""
    for line in (line for part in data_of(name)["parts"] for line in part["ingredients"] if line["amount"]):
        assert re.fullmatch(r"\d+(?:/\d+)?", line["amount"]["exact"])
        assert Fraction(line["amount"]["exact"]) > 0
