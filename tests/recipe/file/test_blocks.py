"""Blocks of text: which lines become one ingredient or step."""

from __future__ import annotations

import pytest

from cardsmith.recipe.file.blocks import cut
from cardsmith.recipe.file.tree import Mapping, Scalar, Tree, tree_of
from cardsmith.recipe.schema.kinds import Lines
from cardsmith.recipe.schema.recipe import RECIPE


def pieces(key: str, text: str) -> tuple[list[str], list[str]]:
    """The items of a text under ``key``, and the names of what is said of it."""
    yaml = f"{key}: |\n" + "".join(f"  {line}\n" for line in text.split("\n"))
    lines = yaml.split("\n")
    tree = tree_of(lines, lines, "x")
    assert isinstance(tree, Tree)
    assert isinstance(tree.root, Mapping)
    field = RECIPE.get(key)
    node = tree.root.get(key)
    assert field is not None
    assert isinstance(field.kind, Lines)
    assert isinstance(node, Scalar)
    items, findings = cut(node, field.kind, field)
    for item in items:
        assert lines[item.where.line - 1][item.where.column - 1 :].startswith(item.text.split()[0])
    return [item.text for item in items], [finding.name for finding in findings]


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("1. Mix.\n2. Bake.", ["Mix.", "Bake."]),
        ("1) Mix.\n2) Bake.", ["Mix.", "Bake."]),
        ("1. Mix\n   well.\n\n2. Bake.", ["Mix well.", "Bake."]),
        ("1. Mix.\n\n   Rest.\n2. Bake.", ["Mix. Rest.", "Bake."]),
        ("- Mix.\n- Bake.", ["Mix.", "Bake."]),
        ("First mix.\n1. Bake.", ["First mix.", "Bake."]),
        ("Mix\nwell.\n\nBake.", ["Mix well.", "Bake."]),
        ("Mix\nwell.\n\n\n\nBake.\n\n", ["Mix well.", "Bake."]),
        ("Bake for\n25 minutes.", ["Bake for 25 minutes."]),
        ("1. Weigh\n1.5 kg of it.\n2. Bake.", ["Weigh 1.5 kg of it.", "Bake."]),
    ],
)
def test_steps(text: str, steps: list[str]) -> None:
    assert pieces("steps", text) == (steps, [])


def test_sentences_on_lines_of_their_own_are_asked_about() -> None:
    assert pieces("steps", "Mix.\nBake.") == (["Mix. Bake."], ["steps-joined"])


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("5 g fine salt\n20 g honey", ["5 g fine salt", "20 g honey"]),
        ("- 5 g fine salt\n\n* 20 g honey\n• 1 egg", ["5 g fine salt", "20 g honey", "1 egg"]),
        ("  5 g fine salt  \n  20 g honey", ["5 g fine salt", "20 g honey"]),
        ("-5 g", ["-5 g"]),
    ],
)
def test_ingredients(text: str, lines: list[str]) -> None:
    assert pieces("ingredients", text) == (lines, [])


@pytest.mark.parametrize(
    ("key", "text", "items"),
    [
        ("notes", "One.\nTwo.", ["One.", "Two."]),
        ("claims", "vegan, nut-free", ["vegan", "nut-free"]),
        ("notes", "Rye of a new harvest takes more water, as a rule.", None),
    ],
)
def test_a_list_that_may_not_be_a_block(key: str, text: str, items: list[str] | None) -> None:
    assert pieces(key, text) == (items or [text], ["wrong-type"])
