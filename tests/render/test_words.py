"""The words that cards, pages and scripts say: one table, used whole, with the same gaps in each language."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardsmith.house.kinds import CARD_LANGUAGES
from cardsmith.portion.portion import ON_CARD
from cardsmith.reference import table
from cardsmith.render.words import FIRST, fixed_words, said_by_scripts
from cardsmith.site.collection.groups import COURSES, TIMES
from cardsmith.site.entry import OTHER
from cardsmith.site.ways import WAYS

ROOT = Path(__file__).parents[2]
ROWS = table("fixed_words")
COLUMNS = tuple(name for name in ROWS[0] if name not in {"script", "source"})
PLACED = re.compile(r'say(?:\.html)?\(\s*"([^"]*)"|say\([^()]*? else "([^"]*)"')
CALLED = re.compile(r'\bphrase\([^"(),]*"([^"]*)"(?: : "([^"]*)")?')
HEADINGS = {*COURSES, OTHER, *(words for _, words in TIMES), *(text for _, text in WAYS)}
KINDS = {row["heading"] for row in table("kind_groups")}
ALLERGENS = {row["printed"] for row in table("allergen_classes")}
# What a card or a page says of a portion: the labels of each law, and amounts too small for a figure.
CONTENTS = {
    row["printed"]
    for row in table("nutrients")
    if row["printed"] and (row["declaration"] != "US" or row["nutrient"] in ON_CARD)
}
SMALL = {row["declares"] for row in table("nutrition_label") if row["declares"].startswith("less than")}


def _by_templates() -> Iterator[str]:
    for file in (ROOT / "templates").rglob("*.j2"):
        yield from (one or other for one, other in PLACED.findall(file.read_text(encoding="utf-8")))


def _in_modules() -> set[str]:
    """Every text of the package's modules, among them those that it says."""
    files = (ROOT / "cardsmith").rglob("*.py")
    trees = (ast.parse(file.read_text(encoding="utf-8")) for file in files)
    nodes = (node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Constant))
    return {node.value for node in nodes if isinstance(node.value, str)}


def _by_scripts() -> Iterator[str]:
    for file in (ROOT / "templates/site").rglob("*.js"):
        for said in CALLED.findall(file.read_text(encoding="utf-8")):
            yield from filter(None, said)


def test_every_phrase_of_a_template_has_a_row() -> None:
    assert set(_by_templates()) <= {row[FIRST] for row in ROWS}


def test_no_row_is_unused_and_scripts_have_theirs() -> None:
    scripts, templates, modules = set(_by_scripts()), set(_by_templates()), _in_modules()
    assert scripts <= {row[FIRST] for row in ROWS}
    for row in ROWS:
        assert bool(row["script"]) == (row[FIRST] in scripts), row
        assert (
            row[FIRST] in scripts | templates | modules | HEADINGS | KINDS | ALLERGENS | CONTENTS | SMALL
        ), row


def test_every_heading_and_every_allergen_has_a_row() -> None:
    assert {row[FIRST] for row in ROWS} >= HEADINGS | KINDS | ALLERGENS


def test_every_label_of_contents_is_said_in_each_language() -> None:
    assert CONTENTS | (SMALL - {"less than 5 g"}) <= {row[FIRST] for row in ROWS}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[FIRST][:20])
def test_a_phrase_has_the_same_gaps_in_every_language(row: dict[str, str]) -> None:
    gaps = {tuple(sorted(re.findall(r"\{(\w+)\}", row[column] or row[FIRST]))) for column in COLUMNS}
    assert len(gaps) == 1
    assert row["de"]  # complete, though nobody has checked it


@pytest.mark.parametrize(
    ("language", "word"),
    [("en-US", "Yield"), ("en", "Yield"), ("en-GB", "Makes"), ("en-AU", "Makes"), ("de", "Ergibt")],
)
def test_a_language_without_words_of_its_own_takes_the_nearest(language: str, word: str) -> None:
    assert fixed_words(language)("Yield") == word


def test_values_fill_gaps_and_markup_stays_markup() -> None:
    say = fixed_words("en-US")
    assert say("{part}, continued", part="A & B") == "A & B, continued"
    assert say.html("{part}, continued", part="A & B") == "A &amp; B, continued"
    assert say.heading("Tiffin") == "Tiffin"
    with pytest.raises(KeyError):
        say("Yeild")


def test_american_pages_carry_no_phrases_and_others_only_those_of_scripts() -> None:
    assert said_by_scripts("en-US") == {}
    assert said_by_scripts("de")["Go on"] == "Weiter"
    assert "Yield" not in said_by_scripts("en-GB")
    assert all(fixed_words(language)("Method") for language in CARD_LANGUAGES)
