"""Whole files: every fault of a faulty one told in one run, and every value of a sound one where it belongs.

A case is a pair of files in `faulty/`: NAME.yaml, and in NAME.txt what is said of it.
"""

from __future__ import annotations

import random
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from cardsmith.finding import Finding, Severity
from cardsmith.language.spans import Draw, Measured
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import UNTITLED, read_recipe
from cardsmith.recipe.model import Recipe

LARDER = load_larder()
FAULTY = sorted((Path(__file__).parent / "faulty").glob("*.yaml"))

WHOLE = """\
title: Caraway rye crackers
kind: cracker
headnote: >
  Thin, dark
  and brittle.
yield: {makes: 60 to 64 crackers, serves: 4 to 6, piece: 6 g}
time: {active: 35 min, total: 1 hour 40 minutes}
equipment: [two half-sheet pans, rolling pin]
parts:
  - name: Dough
    ingredients:
      - 200 g whole-grain rye flour
      - {key: seeds, amount: 70 g, item: sesame seeds, prep: toasted}
    steps:
      - Stir in [50 g](#seeds) of the sesame and
        bake at 160 °C.
  - name: Finish
    ingredients: |
      - 5 g fine salt

      20 g honey
    steps: |
      1. Scatter with
         [the rest](#seeds).
      2. Cool.
storage: Keeps two weeks.
notes:
  - Rye of a new harvest
    takes more water.
cautions: [The parcel's steam burns.]
claims: [vegetarian]
photo: {file: crackers.svg, alt: A stack, credit: House photo, focus: 40% 30%}
credit: The test kitchen
tested: {trial: 04, cross_test: 2026-04-02 in a home kitchen, cooked_from: [metric, us]}
accepted: {low-hydration: It rolls best dry.}
measures: imperial
"""


def read(text: str, file: str = "recipe.yaml") -> tuple[Recipe | None, tuple[Finding, ...]]:
    return read_recipe("crackers", text.encode(), file, LARDER)


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_faulty_file(path: Path) -> None:
    _, findings = read_recipe("x", path.read_bytes(), path.name, LARDER)
    assert "".join(f"{finding}\n" for finding in findings) == path.with_suffix(".txt").read_text("utf-8")


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_faulty_file_keeps_an_error(path: Path) -> None:
    recipe, findings = read_recipe("x", path.read_bytes(), path.name, LARDER)
    gravest = min(finding.severity.rank for finding in findings)
    assert gravest == Severity.ERROR.rank or path.stem == "steps-run-together"
    assert recipe is not None or gravest == Severity.ERROR.rank


def test_there_are_cases() -> None:
    assert len(FAULTY) > 60


def test_every_value_of_a_whole_recipe() -> None:
    recipe, findings = read(WHOLE)
    assert findings == ()
    assert recipe is not None
    assert (recipe.name, recipe.title, str(recipe.kind)) == ("crackers", "Caraway rye crackers", "cracker")
    assert recipe.headnote == "Thin, dark and brittle."
    assert recipe.yields is not None
    assert (recipe.yields.makes_count, recipe.yields.makes_high) == (60, 64)
    assert recipe.yields.makes_item == "crackers"
    assert (recipe.yields.serves_low, recipe.yields.serves_high) == (4, 6)
    assert recipe.yields.piece is not None
    assert recipe.yields.piece.low == 6
    assert recipe.time is not None
    assert recipe.time.active is not None
    assert recipe.time.active.low == 35 * 60
    assert recipe.time.total is not None
    assert recipe.time.total.low == 100 * 60
    assert [str(thing) for thing in recipe.equipment] == ["two half-sheet pans", "rolling pin"]
    assert [part.name for part in recipe.parts] == ["Dough", "Finish"]
    assert [line.item for line in recipe.ingredients] == [
        "whole-grain rye flour",
        "sesame seeds",
        "fine salt",
        "honey",
    ]
    assert [line.key for line in recipe.ingredients] == ["", "seeds", "", ""]
    assert recipe.ingredients[1].prep == "toasted"
    assert [step.text for step in recipe.steps] == [
        "Stir in [50 g](#seeds) of the sesame and bake at 160 °C.",
        "Scatter with [the rest](#seeds).",
        "Cool.",
    ]
    assert recipe.storage == "Keeps two weeks."
    assert [str(note) for note in recipe.notes] == ["Rye of a new harvest takes more water."]
    assert [str(one) for one in recipe.cautions] == ["The parcel's steam burns."]
    assert [str(claim) for claim in recipe.claims] == ["vegetarian"]
    assert recipe.photo is not None
    assert (recipe.photo.file, recipe.photo.alt) == ("crackers.svg", "A stack")
    assert (recipe.photo.credit, recipe.photo.focus) == ("House photo", "40% 30%")
    assert recipe.credit == "The test kitchen"
    assert recipe.tested is not None
    assert recipe.tested.trial == "04"  # as typed: YAML would read a number
    assert recipe.tested.cross_test == "2026-04-02 in a home kitchen"
    assert recipe.tested.cooked_from == ("metric", "us")
    assert [(one.check, one.reason) for one in recipe.accepted] == [("low-hydration", "It rolls best dry.")]
    assert recipe.measures == "imperial"
    assert recipe.source == WHOLE


def test_places_of_lines_steps_and_what_stands_in_them() -> None:
    recipe, _ = read(WHOLE)
    assert recipe is not None
    lines = WHOLE.split("\n")
    for line in recipe.ingredients[:1] + recipe.ingredients[2:]:
        assert lines[line.where.line - 1][line.where.column - 1 :].startswith(line.text)
    spans = [span for step in recipe.steps for span in step.spans if isinstance(span, Draw | Measured)]
    assert len(spans) == 3
    for span in spans:
        assert lines[span.where.line - 1][span.where.column - 1 :].startswith(span.text)
    assert [line.where.field for line in recipe.ingredients] == [
        "parts[0].ingredients[0]",
        "parts[0].ingredients[1]",
        "parts[1].ingredients[0]",
        "parts[1].ingredients[1]",
    ]
    assert [step.where.field for step in recipe.steps] == [
        "parts[0].steps[0]",
        "parts[1].steps[0]",
        "parts[1].steps[1]",
    ]


def test_imperial_pint_where_the_recipe_says_so() -> None:
    text = "title: Curd\nmeasures: {}\ningredients: [1 pint whole milk]\nsteps: [Heat.]\n"
    sizes = []
    for measures in ("us", "imperial"):
        recipe, _ = read(text.format(measures))
        assert recipe is not None
        assert recipe.ingredients[0].amount is not None
        sizes.append(recipe.ingredients[0].amount.low)
    # NIST Handbook 44, appendix C: 473.176473 mL; Weights and Measures Act 1985, schedule 1: 568.26125 mL
    assert sizes == [Fraction("473.176473"), Fraction("568.26125")]


def test_a_draft_needs_a_title_and_gets_a_stand_in() -> None:
    recipe, findings = read("kind: cracker\n")
    assert recipe is not None
    assert recipe.title == UNTITLED
    assert [finding.name for finding in findings] == ["missing-ingredients", "missing-steps", "missing-title"]


@settings(max_examples=60)
@given(st.integers(0, 2**32))
@example(35793321)  # a plain text that ran on over a shorter line that looks like the next item
def test_no_broken_file_raises_or_points_outside(seed: int) -> None:
    """Characters of the whole recipe dropped, doubled or swapped for the signs that mean most to YAML."""
    dice = random.Random(seed)
    text = list(WHOLE)
    for _ in range(dice.randint(1, 8)):
        at = dice.randrange(len(text))
        text[at] = dice.choice(["", text[at] * 2, *":-[]{}'\"|>#&*!%@`\t\n ", "\n  ", "é", "½"])
    broken = "".join(text)
    _, findings = read(broken)
    lines = broken.split("\n")
    for finding in findings:
        assert 0 <= finding.where.line <= len(lines)
        if finding.where.line:
            assert 0 <= finding.where.column <= len(lines[finding.where.line - 1]) + 1, finding


@settings(max_examples=100)
@given(st.one_of(st.text(), st.text(alphabet="ab:- \n[]{}'\"|>#&*!%\t?,\\<"), st.binary().map(repr)))
def test_no_text_raises(text: str) -> None:
    recipe, findings = read_recipe("x", text.encode("utf-8", errors="surrogatepass"), "x.yaml", LARDER)
    assert findings or recipe is not None


def test_what_stands_beside_parts_is_a_part_without_a_name() -> None:
    text = b"""title: Loaf
ingredients: [50 g honey]
parts:
  - {name: Cake, ingredients: [200 g all-purpose flour]}
  - {name: Syrup, ingredients: [100 g granulated sugar]}
steps: [Mix., Bake.]
"""
    recipe, _ = read_recipe("x", text, "x.yaml", LARDER)
    assert recipe is not None
    told = [(part.name, len(part.ingredients), len(part.steps)) for part in recipe.parts]
    assert told == [("", 1, 0), ("Cake", 1, 0), ("Syrup", 1, 0), ("", 0, 2)]
