"""A card in one column alone is read again like any other, and holds nothing of the other system."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from cardsmith.flow import Prepared, prepare
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.proof.agreement import agreement
from cardsmith.render.proof.numbers import counted
from cardsmith.rewrite.batches.batches import Batches
from cardsmith.rewrite.card.model import Rewritten
from cardsmith.rewrite.card.numbers import numbers
from cardsmith.site.recipe_page.data import record

ROOT = Path(__file__).parents[2]
RECIPES = sorted(file.parent.name for file in (ROOT / "recipes").glob("*/recipe.yaml"))


def prepared(name: str, column: str) -> Prepared:
    house = replace(load_house(ROOT), order=(column,))
    data = (ROOT / f"recipes/{name}/recipe.yaml").read_bytes()
    return prepare(name, data, "recipe.yaml", load_larder(), house)


@pytest.mark.parametrize("column", ["us", "metric"])
@pytest.mark.parametrize("name", RECIPES)
def test_a_single_column_reads_as_its_author_wrote(name: str, column: str) -> None:
    found = prepared(name, column)
    assert [one for one in found.findings if one.name == "reads-otherwise"] == []
    assert found.card is not None
    assert found.card.agreement == ""


@pytest.mark.parametrize("column", ["us", "metric"])
def test_nothing_is_told_or_asked_of_the_other_column(column: str) -> None:
    """By the findings, by the data for programs, and by the proof's statement of agreement."""
    other = {"us": "metric", "metric": "US"}[column]
    house = replace(load_house(ROOT), order=(column,))
    for name in RECIPES:
        found = prepared(name, column)
        assert found.card is not None
        assert not [one for one in found.findings if f"the {other} column" in one.what]
        whole = record(found.card, house, Batches())
        told = [line["amount"] for part in whole["parts"] for line in part["ingredients"] if line["amount"]]
        told += [one for part in whole["parts"] for step in part["steps"] for one in step["measures"]]
        assert told
        assert all(column in one and other.lower() not in one for one in told)
        stated = agreement(found.card, numbers(found.card, house), house)
        assert "both" not in counted(stated)
        assert all(len(one.moved) == 1 for one in stated.drifts)


@pytest.mark.parametrize(
    ("column", "said"),
    [("us", "Heat the oven to 325\N{NO-BREAK SPACE}°F with"), ("metric", "160\N{NO-BREAK SPACE}°C with")],
)
def test_its_steps_say_each_measure_once(column: str, said: str) -> None:
    card = prepared("seeded-crackers", column).card
    assert card is not None
    step = card.parts[0].steps[0]
    assert said in "".join(one.text for one in step.spans)
    other = {"us": "metric", "metric": "us"}[column]
    for span in (span for part in card.parts for one in part.steps for span in one.spans):
        if isinstance(span, Rewritten) and span.said("us") != span.said("metric"):
            assert span.said(other) not in span.text
