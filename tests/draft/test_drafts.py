"""A hundred drafts in the manners of the trade, messy on purpose: what each line is, what each becomes.

A file of ``drafts/`` holds a draft, each row behind the letter of what it is, and below a line what it
becomes. A first row names the kind of file that is made of it (`files`); without one it is plain text.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from cardsmith.draft.drafting import Drafted, draft_of
from cardsmith.draft.lines import ListMark, Sort
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe
from tests.draft.files import MAKERS, made

FOLDER = Path(__file__).parent / "drafts"
LETTERS = {
    "T": Sort.TITLE, "H": Sort.HEADNOTE, "Y": Sort.YIELD, "M": Sort.TIME, "E": Sort.EQUIPMENT,
    "L": Sort.LABEL, "P": Sort.PART, "I": Sort.INGREDIENT, "S": Sort.STEP, "K": Sort.STORAGE,
    "N": Sort.NOTE, "C": Sort.CREDIT, "X": Sort.KEPT,
}  # fmt: skip


@frozen
class Case:
    name: str
    format: str
    rows: tuple[tuple[str, str], ...]  # a letter and the row behind it
    becomes: tuple[dict[str, Any], ...]

    def __hash__(self) -> int:
        return hash(self.name)


def _case(path: Path) -> Case:
    told, _, becomes = path.read_text(encoding="utf-8").partition("=====\n")
    first, _, rest = told.partition("\n")
    named = first.startswith("format: ")
    rows = (row.partition("|") for row in (rest if named else told).splitlines())
    return Case(
        name=path.stem,
        format=first.removeprefix("format: ") if named else "text",
        rows=tuple((letter, text.replace(r"\|", "|")) for letter, _, text in rows),
        becomes=tuple(YAML(typ="safe").load(becomes)),
    )


CASES = [_case(path) for path in sorted(FOLDER.glob("*.txt"))]
MACHINE_WRITTEN = {"html+data": frozenset({"45", "1", "20"})}  # PT45M, PT1H20M
EACH = pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)


@pytest.fixture(scope="module")
def larder() -> Larder:
    return load_larder()


@cache
def _drafted(case: Case, larder: Larder) -> Drafted:
    return _drafted_anew(case, larder)


def _drafted_anew(case: Case, larder: Larder) -> Drafted:
    name, data = made(case.format, [text for _, text in case.rows])
    return draft_of(data, f"{case.name}.{name}", larder)


def _sorts(drafted: Drafted) -> Iterator[Sort]:
    """What each line was taken for; of a label with what follows it in one line, what follows."""
    sorts: dict[int, Sort] = {}
    for one in drafted.sorted_:
        for line in one.block.lines:
            if sorts.get(line.number, Sort.LABEL) is Sort.LABEL:
                sorts[line.number] = one.sort
    for line in drafted.draft.lines:
        yield sorts[line.number]


def test_there_are_many_of_every_format() -> None:
    assert len(CASES) >= 100
    assert {case.format for case in CASES} >= set(MAKERS) - {"wide"}


@EACH
def test_each_line_is_what_its_author_meant(case: Case, larder: Larder) -> None:
    expected = [(LETTERS[letter], text) for letter, text in case.rows if text.strip()]
    found = list(_sorts(_drafted(case, larder)))
    assert list(zip(found, (text for _, text in expected), strict=True)) == expected


@EACH
def test_it_becomes_the_recipe(case: Case, larder: Larder) -> None:
    drafted = _drafted(case, larder)
    assert len(drafted.files) == len(case.becomes)
    for file, expected in zip(drafted.files, case.becomes, strict=True):
        tree = YAML(typ="safe", pure=True).load(file.text)
        for key in expected.keys() - {"parts"}:
            assert _plain(tree.get(key)) == _plain(expected[key]), key
        assert set(tree) - {"parts", "ingredients", "steps", "notes", "headnote"} <= set(expected), file.text
        parts = [*([tree] if "ingredients" in tree or "steps" in tree else []), *tree.get("parts", ())]
        if "parts" in tree and "steps" in tree and "ingredients" not in tree:
            parts.append(parts.pop(0))
        shape = [
            [part.get("name", ""), len(part.get("ingredients", ())), len(part.get("steps", ()))]
            for part in parts
        ]
        assert shape == expected["parts"], file.text


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    return " ".join(str(value).split())


@EACH
def test_no_word_and_no_figure_is_lost_or_new(case: Case, larder: Larder) -> None:
    drafted = _drafted(case, larder)
    told = _told(drafted)
    for line in drafted.draft.lines:
        assert line.mark is ListMark.RULE or set(_words(line.text)) <= told, line.text
    text = " ".join(line.written for line in drafted.draft.lines)
    for file in drafted.files:
        body = file.text.partition("\n")[2]
        figures = {word for word in _words(body) if any(map(str.isnumeric, word))}
        numbers = {str(line.number) for line in drafted.draft.lines}
        assert figures - numbers - MACHINE_WRITTEN.get(case.format, frozenset()) <= set(_words(text))


def _told(drafted: Drafted) -> set[str]:
    """All words of the files, and those that their keys say: Makes, For the, Method."""
    said = ["and", *(file.text for file in drafted.files)]
    said += [
        item.dropped for file in drafted.files for items in file.recipe.fields.values() for item in items
    ]
    said += [part.name.dropped for file in drafted.files for part in file.recipe.parts if part.name]
    said += [one.block.text for one in drafted.sorted_ if one.sort is Sort.LABEL]
    said += [one.block.dropped for one in drafted.sorted_]
    return set(_words(" ".join(said)))


def _words(text: str) -> list[str]:
    letters = "".join(one if one.isalnum() else " " for one in text.lower())
    return letters.split()


@EACH
def test_the_same_draft_gives_the_same_file(case: Case, larder: Larder) -> None:
    once, again = _drafted(case, larder), _drafted_anew(case, larder)
    assert [file.text for file in once.files] == [file.text for file in again.files]


@EACH
def test_every_decision_has_a_reason_and_every_line_is_counted(case: Case, larder: Larder) -> None:
    drafted = _drafted(case, larder)
    assert all(one.reason for one in drafted.sorted_)
    count, _, told = drafted.count.partition(" ")
    assert int(count) == len(drafted.draft.lines)
    assert sum(int(piece.split()[0]) for piece in told.partition(": ")[2].split(", ")) == int(count)


@EACH
def test_what_it_becomes_is_read_without_a_fault_of_the_file(case: Case, larder: Larder) -> None:
    for file in _drafted(case, larder).files:
        recipe, found = read_recipe(file.name, file.text.encode(), "recipe.yaml", larder)
        assert isinstance(recipe, Recipe)
        yaml = [
            one for one in found if one.name.startswith("yaml") or one.name in ("wrong-type", "unknown-key")
        ]
        assert yaml == []
