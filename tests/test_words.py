"""The words that cards, pages and scripts say: one table, used whole, with the same gaps in each language."""

from __future__ import annotations

import ast
import pickle
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardsmith.house.kinds import CARD_LANGUAGES
from cardsmith.measure.units import Dimension, System, units
from cardsmith.portion.portion import ON_CARD
from cardsmith.reference import table
from cardsmith.site.aloud import spoken
from cardsmith.site.collection.groups import COURSES, TIMES
from cardsmith.site.entry import OTHER
from cardsmith.site.ways import WAYS
from cardsmith.words import FIRST, Figure, Said, around_english, fixed_words, in_a_row, said_by_scripts

ROOT = Path(__file__).parents[1]
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
LAW = {
    *(row["class"] for row in table("allergen_classes")),
    *(
        word
        for row in table("allergen_classes")
        if row["names_the_kind"] == "yes"
        for word in row["words"].split("|")
    ),
    *(name for row in table("australian_allergens") for name in row["required"].split("|")),
}
UNITS = {
    word
    for one in units().values()
    if one.dimension in {Dimension.COUNT, Dimension.VOLUME, Dimension.MASS, Dimension.LENGTH}
    for word in (one.name, one.plural, one.symbol)
}
COUNTED = {
    word
    for one in units().values()
    if one.dimension is Dimension.COUNT and one.system in {System.ANY, System.CONTAINER}
    for word in (one.symbol, one.plural)
} - {"ones", "sized pieces"}
TOLD_BY_TABLES = {
    *(row["claim"] for row in table("diets")),
    *(row["caution"] for row in table("cautions") if row["caution"]),
    *(row["value"] for row in table("editions") if row["key"] in ("name", "fan")),
    *(word for row in table("ratios") for word in (row["ratio"], row["told"])),
}
FRACTIONS = {spoken(sign) for sign in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"} | {spoken(part) for part in ("1⁄16", "1⁄32")}
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
        printed = HEADINGS | KINDS | ALLERGENS | CONTENTS | SMALL | LAW | UNITS | TOLD_BY_TABLES | FRACTIONS
        assert row[FIRST] in scripts | templates | modules | printed, row


def test_whatever_a_table_prints_has_a_row() -> None:
    rows = {row[FIRST] for row in ROWS}
    assert not (HEADINGS | KINDS | ALLERGENS | COUNTED | TOLD_BY_TABLES | FRACTIONS) - rows
    assert not {row["class"] for row in table("allergen_classes")} - rows


def test_a_caution_has_the_same_numbers_in_every_language() -> None:
    for row in ROWS:
        if row[FIRST] in TOLD_BY_TABLES:
            assert len({tuple(sorted(re.findall(r"\d+", row[one] or row[FIRST]))) for one in COLUMNS}) == 1


def test_a_sentence_of_ours_is_english_until_a_language_says_it() -> None:
    row = in_a_row(Said("{count} times", count=Figure("1,250.5")), "salt", Said("wheat"))
    said = pickle.loads(pickle.dumps(Said("Have {vessels}.", vessels=row)))
    assert said == "Have 1,250.5 times, salt and wheat."
    assert fixed_words("de").told(said) == "Halten Sie bereit: 1.250,5-mal, salt und Weizen."
    assert fixed_words("en-GB").told(said) == said
    assert fixed_words("de").told("by the author {so}") == "by the author {so}"
    assert around_english("de").number("2.5") == "2,5"
    assert around_english("de")("Method") == "Method"


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
