"""Queries in an editor's words: the place as the card has it, the author's words without their YAML."""

from __future__ import annotations

from pathlib import Path

import pytest
from ruamel.yaml import YAML

from cardsmith.finding import Finding, Severity, Where
from cardsmith.flow import Prepared, prepare
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.render.proof.card_fields import plain
from cardsmith.render.proof.queries import QueryView, as_text, in_words, queries

ROOT = Path(__file__).parents[3]
DRAFT = """\
title: Two-part thins
kind: cracker
headnote: Thin and dark.
yield: {makes: 60 crackers, serves: 10}
storage: Keeps at 20 for a week.
parts:
  - name: Dough
    ingredients:
      - 200 g rye flour
      - {key: seeds, amount: 70 g, item: sesame seeds, prep: toasted}
    steps:
      - Mix [50 g](#seeds) with the flour.
  - name: Top
    ingredients:
      - 5 g flaky salt
    steps:
      - Bake at 180 until dry.
accepted: {low-hydratoin: Rolls best dry.}
"""


@pytest.fixture(scope="module")
def draft() -> Prepared:
    trials = b"trials:\n  - {trial: 4, date: 2026-03-02, ingredients: [200 g rye flour, 2 of water]}\n"
    return prepare(
        "thins", DRAFT.encode(), "recipe.yaml", load_larder(), load_house(ROOT), (trials, "trials.yaml")
    )


@pytest.fixture(scope="module")
def asked(draft: Prepared) -> tuple[QueryView, ...]:
    assert draft.recipe is not None
    return tuple(queries(draft.findings, draft.recipe, draft.trials))


def test_a_place_is_named_as_the_card_names_it(asked: tuple[QueryView, ...]) -> None:
    places = {one.place for one in asked}
    assert "Step 2, Top" in places
    assert "An answered query" in places
    assert "Headnote" in places


def test_the_words_quoted_are_the_authors_without_any_yaml(
    draft: Prepared, asked: tuple[QueryView, ...]
) -> None:
    quoted = {one.place: plain(one.quoted) for one in asked}
    assert quoted["Step 2, Top"] == "Bake at 180 until dry."
    assert quoted["Headnote"] == "Thin and dark."
    for one in quoted.values():
        assert not any(mark in one for mark in ("{", "](#", "- 2", "key:"))


@pytest.mark.parametrize(
    ("where", "place", "words"),
    [
        (Where(file="recipe.yaml", field="parts[0].ingredients[1].amount"), "Line 2 of the list, Dough", "s"),
        (Where(file="recipe.yaml", field="parts[0].steps[0]"), "Step 1, Dough", "Mix 50 g with the flour."),
        (Where(file="recipe.yaml", field="yield.serves"), "Yield", ""),
        (Where(file="recipe.yaml"), "The recipe as a whole", ""),
        (Where(file="a/trials.yaml", field="trials[0].oven"), "The trials", ""),
        (Where(file="trials.yaml", field="trials[0].oven"), "Trial 4", ""),
        (Where(file="a/portion.yaml", line=3), "The portion", ""),
        (Where(file="a/crackers.jpg"), "crackers.jpg", ""),
    ],
)
def test_every_place_has_a_name(where: Where, place: str, words: str, draft: Prepared) -> None:
    assert draft.recipe is not None
    found = Finding(name="x", severity=Severity.NOTE, where=where, what="what", instead="instead")
    (view,) = queries([found], draft.recipe, draft.trials)
    assert view.place == place
    assert words in plain(view.quoted)


def test_the_gravest_come_first_and_are_numbered(asked: tuple[QueryView, ...]) -> None:
    ranks = [Severity(one.severity).rank for one in asked]
    assert ranks == sorted(ranks)
    assert [one.number for one in asked] == list(range(1, len(asked) + 1))


def test_as_plain_text_each_query_has_its_place_and_its_check(asked: tuple[QueryView, ...]) -> None:
    text = as_text(asked)
    for one in asked:
        assert f"{one.number}. {one.word}: {one.place}\n" in text
        assert f"({one.name}; {one.where})" in text
    assert as_text(()) == "No query is open.\n"


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("draw [50 g](#salt) and [the rest](#salt)", "draw “50 g” and “the rest”"),
        ("check both, or say under accepted: why it differs", "check both, or say in answer why it differs"),
        ("as in time: {active: 35 min, total: 1 h}", "as in time: active 35 min, total 1 h"),
        (
            "add to corrections: {date: …, what: …, mark: 1a2b}",
            "add to corrections: date …, what …, mark 1a2b",
        ),
        ("write the size: 3 large eggs", "write the size: 3 large eggs"),
        (
            "give the line a key, draw [1 g](#sugar) in the one step and [the rest](#sugar) in the other",
            "say in each step how much of the line it takes: “1 g” in the one step "
            "and “the rest” in the other",
        ),
        (
            "give the line a key and draw each amount from it, as in [50 g](#salt) and [the rest](#salt)",
            "say in each step how much of the line it takes: “50 g” and “the rest”",
        ),
        (
            "give the line a key and draw from it, so that the card prints the amount",
            "say in each step how much of the line it takes, so that the card prints the amount",
        ),
        (
            "write the line as {key: milk, amount: …, item: …}, and in the step [180 g](#milk)",
            "say in each step how much of the line it takes: “180 g”",
        ),
        (
            "what to buy there: editions: {uk: {heavy cream: …}}, with its amount where that differs",
            "what to buy there: heavy cream …, with its amount where that differs",
        ),
    ],
)
def test_a_remedy_is_told_without_the_marks_of_the_file(written: str, said: str) -> None:
    assert in_words(written) == said


def test_no_query_of_any_check_shows_code() -> None:
    """What every check suggests, in the case of its own that the table of remedies has."""
    told = YAML(typ="safe").load(ROOT / "tests" / "check" / "remedies.yaml")
    assert len(told) > 100
    shown = [in_words(one["instead"]) for one in told]
    assert [
        one for one in shown if any(mark in one for mark in ("{", "}", "](#", "accepted:", " a key"))
    ] == []
