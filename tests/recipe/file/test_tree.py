"""The places of each line of a text, in each of YAML's ways to write one."""

from __future__ import annotations

import pytest

from cardsmith.recipe.file.tree import Mapping, Scalar, Tree, tree_of

STYLES = {
    "plain": "a: Heat the oven\n  and the  pan,\n\n  then bake.\n",
    "plain in list": "a:\n  - Heat the oven\n    and the pan.\n",
    "double quotes": 'a: "Heat the oven\n  and the pan"\n',
    "single quotes": "a: 'Heat the oven\n     and the pan'\n",
    "literal": "a: |\n    Heat the oven\n      and the pan\n\n    then bake\n",
    "literal kept": "a: |+\n  Heat\n  bake\n\n",
    "folded": "a: >-\n  Heat the oven\n  and the pan\n\n  then bake\n",
}


def text_of(yaml: str) -> Scalar:
    lines = yaml.split("\n")
    tree = tree_of(lines, lines, "x")
    assert isinstance(tree, Tree)
    assert isinstance(tree.root, Mapping)
    value = tree.root.entries[0][1]
    if isinstance(value, Scalar):
        return value
    assert not isinstance(value, Mapping)
    item = value.items[0]
    assert isinstance(item, Scalar)
    return item


@pytest.mark.parametrize("yaml", STYLES.values(), ids=STYLES)
def test_each_word_stands_where_its_offset_says(yaml: str) -> None:
    scalar = text_of(yaml)
    lines = yaml.split("\n")
    for word in scalar.text.split():
        place = scalar.place(scalar.text.index(word))
        assert lines[place.line - 1][place.column - 1 :].startswith(word)


@pytest.mark.parametrize("yaml", STYLES.values(), ids=STYLES)
def test_lines_are_those_of_the_file(yaml: str) -> None:
    scalar = text_of(yaml)
    lines = yaml.split("\n")
    for line in scalar.lines():
        assert lines[line.where.line - 1][line.where.column - 1 :].rstrip("'\"") == line.text


@pytest.mark.parametrize("yaml", STYLES.values(), ids=STYLES)
def test_on_one_line_keeps_words_and_places(yaml: str) -> None:
    scalar = text_of(yaml)
    flat = scalar.on_one_line()
    assert flat.text == " ".join(line.text for line in scalar.lines())
    lines = yaml.split("\n")
    for word in flat.text.split():
        place = flat.place(flat.text.index(word))
        assert lines[place.line - 1][place.column - 1 :].startswith(word)


def test_an_escape_costs_no_more_than_the_places_after_it() -> None:
    scalar = text_of('a: "Heat\\u0020the oven"\n')
    assert scalar.text == "Heat the oven"
    assert (scalar.where.line, scalar.where.column) == (1, 5)


def test_a_piece_keeps_the_places_of_its_lines() -> None:
    piece = text_of(STYLES["literal"]).piece(5, 25)
    assert piece.text == "the oven\n  and the p"
    assert (piece.where.line, piece.where.column) == (2, 10)
    assert (piece.place(11).line, piece.place(11).column) == (3, 7)
