"""What a key in other words stands for, and the bounds of lists and texts."""

from __future__ import annotations

import pytest

from cardsmith.recipe.file.shape import MAX_ITEMS, MAX_TEXT, is_empty, meant, shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.tree import Mapping, Scalar, Sequence
from cardsmith.recipe.schema.kinds import Record
from cardsmith.recipe.schema.recipe import INGREDIENT, RECIPE


def shape_of(text: str) -> tuple[Mapping | None, list[str]]:
    source = read_source(text.encode(), "x")
    assert source.findings == ()
    assert source.root is not None
    root, findings = shaped(source.root, text.split("\n"))
    return root, [str(finding) for finding in findings]


@pytest.mark.parametrize(
    ("word", "kind", "name"),
    [
        ("method", RECIPE, "steps"),
        ("Directions", RECIPE, "steps"),
        ("name", RECIPE, "title"),
        ("Title", RECIPE, "title"),
        ("ingredient", RECIPE, "ingredients"),
        ("ingrediants", RECIPE, "ingredients"),
        ("headnotes", RECIPE, "headnote"),
        ("qty", INGREDIENT, "amount"),
        ("ammount", INGREDIENT, "amount"),
        ("colour", RECIPE, None),
        ("servings", RECIPE, None),  # no key of this place: it belongs inside yield
        ("Make the glaze", RECIPE, None),
        ("x", INGREDIENT, None),
    ],
)
def test_meant(word: str, kind: Record, name: str | None) -> None:
    field = meant(word, kind)
    assert (field.name if field else None) == name


def test_a_key_in_other_words_never_displaces_the_right_one() -> None:
    root, said = shape_of("name: Wrong\ntitle: Right\n")
    assert root is not None
    title = root.get("title")
    assert isinstance(title, Scalar)
    assert title.text == "Right"
    assert said == ["x:1:1: error: there is no key “name” - write: title: [unknown-key]"]


def test_a_list_beyond_all_bounds_is_cut() -> None:
    root, said = shape_of("notes:\n" + "  - x\n" * (MAX_ITEMS + 1))
    assert root is not None
    notes = root.get("notes")
    assert isinstance(notes, Sequence)
    assert len(notes.items) == MAX_ITEMS
    assert said == ["x:2:3: error: notes has 201 notes - at most 200 [too-many]"]


def test_keys_beyond_all_bounds_are_cut() -> None:
    _, said = shape_of("".join(f"k{number}: x\n" for number in range(MAX_ITEMS + 5)))
    assert len(said) == MAX_ITEMS + 1
    assert said[0] == "x:1:1: error: the recipe has 205 keys - at most 200 [too-many]"


def test_a_text_beyond_all_bounds_is_refused() -> None:
    root, said = shape_of(f"title: {'word ' * (MAX_TEXT // 5)}y\n")
    assert root is not None
    assert root.entries == ()
    assert said == ["x:1:8: error: title has 3,001 characters - at most 3,000 [text-too-long]"]


def test_an_empty_value_is_one_not_yet_written() -> None:
    root, said = shape_of("title: X\nkind:\nstorage: ''\nnotes: []\n")
    assert root is not None
    assert [key.text for key, _ in root.entries] == ["title", "notes"]
    assert said == []


@pytest.mark.parametrize(("text", "empty"), [("", True), (" \n", True), ("0", False), ("~", False)])
def test_is_empty(text: str, empty: bool) -> None:
    source = read_source(b"a: b\n", "x")
    assert isinstance(source.root, Mapping)
    key = source.root.entries[0][0]
    assert is_empty(Scalar(text=text, where=key.where)) is empty


def test_a_bare_text_is_told_and_read_so_that_nothing_else_is_asked_for_want_of_it() -> None:
    root, said = shape_of("yield: Serves 6\n")
    assert len(said) == 1
    assert said[0].startswith("x:1:8: error: yield takes the keys makes, serves, piece - write: ")
    assert root is not None
    yields = root.get("yield")
    assert isinstance(yields, Mapping)
    makes = yields.get("makes")
    assert isinstance(makes, Scalar)
    assert (makes.text, makes.where.line, makes.where.column) == ("Serves 6", 1, 8)


def test_lists_under_subheads_are_told_and_their_lines_read() -> None:
    root, said = shape_of("ingredients:\n  Cake:\n    - 200 g flour\n  Icing:\n    - 50 g sugar\n    -\n")
    assert [one.rsplit(" ", 1)[-1] for one in said] == ["[wrong-type]", "[empty-line]"]
    assert root is not None
    lines = root.get("ingredients")
    assert isinstance(lines, Sequence)
    assert [one.text for one in lines.items if isinstance(one, Scalar)] == ["200 g flour", "50 g sugar"]
