"""The schema is a sound JSON Schema, and says of any document just what the loader says of its structure."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from cardsmith.measure.larder import Larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.schema.json_schema import json_schema
from cardsmith.recipe.schema.kinds import Answers, Key, Lines, Record, TextKind, ValueKind
from cardsmith.recipe.schema.recipe import RECIPE, places

SCHEMA = json_schema()
VALIDATOR = Draft202012Validator(SCHEMA)
NO_FOODS = Larder(foods={}, names={})
STRUCTURE = {
    "unknown-key",
    "unknown-choice",
    "wrong-type",
    "missing-title",
    "missing-key",
    "missing-reason",
    "empty-line",
    "beside-parts",
    "yaml-colon",
    "yaml-bracket",
}


def as_yaml(value: Any, depth: int = 0) -> str:
    """Block YAML; None is a key left empty."""
    pad = "\n" + "  " * depth
    match value:
        case None:
            return ""
        case dict() if value:
            return "".join(f"{pad}{key}: {as_yaml(one, depth + 1)}" for key, one in value.items())
        case list() if value:
            return "".join(f"{pad}- {as_yaml(one, depth + 1)}" for one in value)
    return json.dumps(value, ensure_ascii=False)


def structural(document: Any) -> list[str]:
    """What the loader finds wrong with the structure of a document."""
    _, findings = read_recipe("x", as_yaml(document).encode(), "x", NO_FOODS)
    assert not [one for one in findings if one.name.startswith("yaml-") and one.name not in STRUCTURE]
    return [str(one) for one in findings if one.name in STRUCTURE]


def test_schema_is_sound() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    json.dumps(SCHEMA)


def all_fields() -> list[tuple[Key, ...]]:
    return list(places())


@pytest.mark.parametrize("path", all_fields(), ids=lambda path: ".".join(field.name for field in path))
def test_each_example_is_sound(path: tuple[Key, ...]) -> None:
    """The example of a field, wrapped in the examples of what it stands in."""
    example = path[-1].example
    for outer, field in zip(path[-2::-1], path[:0:-1], strict=False):
        record = outer.kind.record if isinstance(outer.kind, Lines) else outer.kind
        assert isinstance(record, Record)
        others = [one.example for one in record.fields if one.required and one.name != field.name]
        inside = f"{{{', '.join([example, *others])}}}"
        example = f"{outer.name}: {f'[{inside}]' if isinstance(outer.kind, Lines) else inside}"
    title = "" if path[0].name == "title" else "title: X\n"
    _, findings = read_recipe("x", f"{title}{example}\n".encode(), "x", NO_FOODS)
    assert [str(one) for one in findings if one.name in STRUCTURE or one.name.startswith("yaml")] == []


def test_each_key_says_what_it_is_for() -> None:
    for *_, field in places():
        assert field.help.endswith(".")
        assert field.example.startswith(f"{field.name}: ")


def test_other_words_never_mean_two_keys_of_one_place() -> None:
    records = [RECIPE]
    for *_, field in places():
        inner = field.kind.record if isinstance(field.kind, Lines) else field.kind
        records += [inner] if isinstance(inner, Record) else []
    for record in records:
        words = [word for field in record.fields for word in (field.name, *field.other_words)]
        assert len(words) == len(set(words))


WORD = st.sampled_from(["Mix", "5 g salt", "metric", "us", "x"])
JUNK = st.one_of(
    WORD,
    st.integers(0, 9),
    st.booleans(),
    st.just([]),
    st.just({}),
    st.lists(WORD, min_size=1, max_size=2),
    st.dictionaries(
        st.sampled_from(["makes", "item", "brand", "name", "steps"]), WORD, min_size=1, max_size=2
    ),
)


def values(kind: ValueKind) -> st.SearchStrategy[Any]:
    """Values that fit a kind, now and then one that may not."""
    match kind:
        case TextKind(choices=choices):
            fitting: st.SearchStrategy[Any] = st.sampled_from(choices) if choices else WORD
        case Answers():
            fitting = st.dictionaries(st.sampled_from(["no-time", "no-yield"]), WORD, max_size=2)
        case Lines(text=text, record=record, block=block):
            items = st.one_of([values(one) for one in (text, record) if one is not None])
            fitting = st.lists(items, max_size=3)
            fitting = st.one_of(fitting, WORD) if block else fitting
        case Record(fields=fields):
            fitting = st.fixed_dictionaries(
                {field.name: values(field.kind) for field in fields if field.required},
                optional={field.name: values(field.kind) for field in fields if not field.required},
            )
    return st.one_of([fitting] * 12 + [JUNK])


@settings(max_examples=200)
@given(values(RECIPE))
def test_schema_and_loader_agree(document: Any) -> None:
    errors = [error.message for error in VALIDATOR.iter_errors(document)]
    if not document or not isinstance(document, dict):
        assert errors
        return
    assert bool(structural(document)) == bool(errors), (structural(document), errors, as_yaml(document))


@pytest.mark.parametrize(
    ("document", "sound"),
    [
        ({"title": "X"}, True),
        ({"title": 1984, "kind": None, "serves": None}, False),
        ({"title": 1984, "kind": None, "parts": None, "steps": ["Mix"]}, True),
        ({"kind": "cake"}, False),
        ({"title": " "}, False),
        ({"title": None}, False),
        ({"title": "X", "colour": "brown"}, False),
        ({"title": "X", "ingredients": "5 g salt", "steps": "1. Mix."}, True),
        ({"title": "X", "equipment": "pan"}, False),
        ({"title": "X", "steps": [None]}, False),
        ({"title": "X", "ingredients": [{"amount": "5 g", "item": "salt"}, "5 g salt"]}, True),
        ({"title": "X", "ingredients": [{"amount": "5 g"}]}, False),
        ({"title": "X", "parts": [{"name": "Dough"}], "ingredients": ["5 g salt"], "steps": ["Mix"]}, True),
        ({"title": "X", "parts": [{"name": "Dough", "steps": "Mix"}], "steps": ["Bake"]}, False),
        ({"title": "X", "parts": ["Dough"]}, False),
        ({"title": "X", "measures": "UK"}, False),
        ({"title": "X", "tested": {"trial": 4, "cooked_from": ["us"]}}, True),
        ({"title": "X", "tested": {"cooked_from": ["both"]}}, False),
        ({"title": "X", "accepted": {"no-time": ""}}, False),
        ({"title": "X", "photo": {"file": "a.jpg"}}, False),
    ],
)
def test_documents(document: dict[str, Any], sound: bool) -> None:
    assert VALIDATOR.is_valid(document) is sound
    assert (structural(document) == []) is sound
