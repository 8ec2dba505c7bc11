"""Sentences drawn from their meaning, read again: what was meant is what is read.

What a fair reader may say otherwise is in `sentence_scoring.TASTES`; a bound that the words say and a label
leaves out is in `UNTOLD`.
"""

from __future__ import annotations

import csv
import json
from dataclasses import fields
from fractions import Fraction
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from cardsmith.language.commonmark import visible
from cardsmith.language.prose.sentences import readings
from tests.language.meaning.sentence_meanings import Drawn, draw_sentences
from tests.language.meaning.sentence_pen import Entry
from tests.language.prose.scoring import asked, difference, labelled, said

MEANING = Path(__file__).parents[1] / "meaning"
SEEDS = (1, 2, 3, 101)
NUMBER = 500
LEAST = Fraction(97, 100)
MOST_NEEDLESS = Fraction(1, 100)
# Bounds in the words of a template that its label leaves out.
UNTOLD = ("reduced by about half", "m or so", "metres or so", "meters or so", "or more")

# Rows of sentences_by_hand.csv that a fair reader may read otherwise, and why this one does.
OTHERWISE = {
    "H016": "“140 for medium” says no place; it is asked about",
    "H041": "“a drop of water” is a measure too, if a small one",
    "H087": "a tin of tomatoes is bought, not baked in: its 400 g are food",
    "H088": "cans that weigh something down are no vessel to bake in",
    "H110": "“one half turn” is half a turn",
    "H170": "nothing in “1 hour above 90 °F” speaks of a room",
}


def entries_of(drawn: Drawn) -> list[dict[str, object]]:
    return [{one.name: getattr(entry, one.name) for one in fields(Entry)} for entry in drawn.entries]


def wrong(drawn: Drawn) -> str:
    why = difference(labelled(entries_of(drawn)), said(drawn.text))
    untold = why.startswith("bound exactly") and any(words in drawn.text for words in UNTOLD)
    return "" if untold else why


@pytest.mark.parametrize("seed", SEEDS)
def test_what_was_meant_is_what_is_read(seed: int) -> None:
    drawn = draw_sentences(seed, NUMBER)
    other = [f"{one.text!r}: {why}" for one in drawn if (why := wrong(one))]
    assert 1 - Fraction(len(other), len(drawn)) >= LEAST, other


@pytest.mark.parametrize("seed", SEEDS)
def test_no_number_passes_silently_and_few_are_asked_about_needlessly(seed: int) -> None:
    drawn = draw_sentences(seed, NUMBER)
    open_ones = {id(one) for one in drawn if any(entry.kind == "unread" for entry in one.entries)}
    told = {id(one): any(entry.kind == "unread" for entry in said(one.text)) for one in drawn}
    assert open_ones
    assert [one.text for one in drawn if id(one) in open_ones and not told[id(one)]] == []
    needless = [one.text for one in drawn if id(one) not in open_ones and told[id(one)]]
    assert Fraction(len(needless), len(drawn)) <= MOST_NEEDLESS, needless


def by_hand() -> list[dict[str, str]]:
    with (MEANING / "sentences_by_hand.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_sentences_by_hand_say_what_their_labels_say() -> None:
    other = {}
    for row in by_hand():
        why = difference(labelled(json.loads(row["reading"])), said(row["text"]))
        if why:
            other[row["id"]] = f"{row['text']!r}: {why}"
    assert [f"{row} {why}" for row, why in other.items() if row not in OTHERWISE] == []
    assert set(other) == set(OTHERWISE)


def test_sentences_by_hand_are_asked_about_where_a_number_is_open() -> None:
    for row in by_hand():
        open_one = any(entry["kind"] == "unread" for entry in json.loads(row["reading"]))
        if open_one:
            assert asked(row["text"]), row["text"]
        elif row["asked"] == "no":
            assert not asked(row["text"]), row["text"]


# --- whole recipes ----------------------------------------------------------------------------------------

RECIPES = sorted((MEANING / "recipes_by_hand").glob("*.yaml"))
UNREAD_WORDS = ("has no scale", "has no unit", "no unit of its own")


def texts_of(path: Path) -> list[str]:
    """The steps, the storage and the notes of a recipe, as a reader sees them."""
    recipe = YAML(typ="safe").load(path.read_text(encoding="utf-8"))
    found: list[str] = []

    def walk(node: object) -> None:
        if isinstance(node, str):
            found.append(visible(node))
        elif isinstance(node, list):
            for one in node:
                walk(one)
        elif isinstance(node, dict):
            for key, one in node.items():
                if key not in {"ingredients", "time", "title", "yield", "key", "name"}:
                    walk(one)

    walk(recipe)
    return found


def truths(path: Path) -> list[str]:
    """The stretches of a recipe whose number lacks something, as whoever wrote it noted them."""
    noted = path.with_suffix(".truth.csv")
    if not noted.exists():
        return []
    with noted.open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["field"] not in {"ingredients", "time", "yield"}]
    return [row["text"] for row in rows if any(words in row["what"] for words in UNREAD_WORDS)]


@pytest.mark.parametrize("path", RECIPES, ids=[path.stem for path in RECIPES])
def test_a_recipe_is_asked_about_where_its_numbers_lack_something_and_nowhere_else(path: Path) -> None:
    wanted = truths(path)
    stretches = [
        (text, one.text) for text in texts_of(path) for one in readings(text) if asked_of(text, one.start)
    ]
    missed = [want for want in wanted if not any(want in text for text, _ in stretches)]
    assert missed == []
    needless = [
        (text, one) for text, one in stretches if not any(want in text and one in want for want in wanted)
    ]
    assert needless == []


def asked_of(text: str, start: int) -> bool:
    """Whether the reading that begins at ``start`` of ``text`` is asked about."""
    return any(one.start == start and one.kind == "unread" for one in readings(text))
