"""The scanner in C is used only where it reads as the one in Python does."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError

from cardsmith.recipe.file.events import events, quick_events

ROOT = Path(__file__).parents[3]
TEXTS = [
    file.read_text(encoding="utf-8")
    for folder in ("recipes", "tests/twins/bases", "tests/faulty")
    for file in sorted((ROOT / folder).rglob("*.yaml"))
]


def told(event: Any) -> tuple[object, ...]:
    """All of an event that the tree is built from."""
    names = ("value", "style", "flow_style", "anchor", "tag", "version", "tags")
    said = tuple(getattr(event, name, None) or "" for name in names)
    marks = tuple((mark.line, mark.column) for mark in (event.start_mark, event.end_mark))
    return (type(event).__name__, *said, *marks)


def in_python(text: str) -> list[tuple[object, ...]]:
    return [told(event) for event in YAML(typ="safe", pure=True).parse(text)]


def test_recipes_are_read_in_c() -> None:
    pytest.importorskip("_ruamel_yaml")
    assert sum(quick_events(text) is not None for text in TEXTS) > 0.8 * len(TEXTS)


@pytest.mark.parametrize("text", TEXTS, ids=range(len(TEXTS)))
def test_both_read_a_recipe_alike(text: str) -> None:
    try:
        expected = in_python(text)
    except YAMLError:
        assert quick_events(text) is None
    else:
        assert [told(event) for event in events(text)] == expected


@pytest.mark.parametrize(
    "text",
    [
        "a: b\tc\n",
        "a: b\x85c\n",
        "%YAML 1.1\n---\na: b\n",
        "a: b\n---\na: c\n",
        "a: b\n...\n",
        "a: &b c\nd: *b\n",
        "a: !b c\n",
        "? a\n: b\n",
        "a: >#\n  b\n",
        "a:\nb: c\n",
        "a: [\n",
        "- a\n- b\n",
        ">-\n#[a: b\n",
        "\ufeffa: b\n",
        f"a: {'[' * 21}{']' * 21}\n",
    ],
)
def test_what_they_read_apart_is_left_to_python(text: str) -> None:
    assert quick_events(text) is None


MARKS = st.sampled_from(
    [*"\n:,'\"#[]{}|>-?&*!%@`~\\", ": ", "\n  ", "\n- ", "- ", " #", "word", "½ cup", "|2\n", "''"]
)


@settings(max_examples=300)
@given(
    st.sampled_from(TEXTS),
    st.integers(0),
    st.integers(1, 30),
    st.lists(st.tuples(st.integers(0), MARKS), max_size=3),
)
def test_both_read_a_spoilt_recipe_alike(
    text: str, first: int, rows: int, marks: list[tuple[int, str]]
) -> None:
    lines = text.split("\n")
    spoilt = "\n".join(lines[first % len(lines) :][:rows])
    for place, mark in marks:
        at = place % (len(spoilt) + 1)
        spoilt = spoilt[:at] + mark + spoilt[at:]
    if (quick := quick_events(spoilt + "\n")) is not None:
        assert [told(event) for event in quick] == in_python(spoilt + "\n")
