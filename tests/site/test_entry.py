from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.flow import prepare
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.reference import table
from cardsmith.site.entry import Entry, Noted, entry_from, entry_of

ROOT = Path(__file__).parents[2]
NAMES = sorted(file.parent.name for file in ROOT.glob("recipes/*/recipe.yaml"))


@pytest.mark.parametrize("name", NAMES)
def test_the_entry_of_a_demo_recipe_survives_json(name: str) -> None:
    entry = demo_entry(name)
    assert entry_from(json.loads(json.dumps(entry.record()))) == entry
    assert entry.title
    assert "*" not in entry.headnote
    assert entry.course != "Other recipes"
    assert entry.total_seconds


def demo_entry(name: str) -> Entry:
    file = ROOT / "recipes" / name / "recipe.yaml"
    card = prepare(name, file.read_bytes(), name, load_larder(), load_house(ROOT)).card
    assert card is not None
    return entry_of(card, load_house(ROOT))


TEXTS = st.lists(st.text(max_size=8), max_size=3).map(tuple)
ENTRIES = st.builds(
    Entry,
    sure_allergens=TEXTS,
    possible_allergens=TEXTS,
    corrections=st.lists(st.builds(Noted, date=st.text(), what=st.text()), max_size=3).map(tuple),
    total_seconds=st.none() | st.integers(),
)


@given(ENTRIES)
def test_any_entry_survives_json(entry: Entry) -> None:
    assert entry_from(json.loads(json.dumps(entry.record()))) == entry


def test_an_entry_of_another_version_is_refused() -> None:
    with pytest.raises(TypeError):
        entry_from({"name": "old", "corrections": []})


def test_every_kind_has_a_group_and_a_part_of_the_meal() -> None:
    assert [row["kind"] for row in table("kind_groups")] == [row["kind"] for row in table("kinds")]
    assert all(row["heading"] and row["course"] for row in table("kind_groups"))
