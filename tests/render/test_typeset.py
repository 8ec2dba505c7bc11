from __future__ import annotations

import csv
import re
import unicodedata
from fractions import Fraction
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from cardsmith.finding import Where
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Protected, Words
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.render.typeset import (
    composed,
    held,
    marks,
    pieces,
    shortened,
    spans,
    typeset,
    unwidowed,
    whole,
)
from cardsmith.rewrite.card.model import Rewritten
from cardsmith.rewrite.printed import Dual, Term, single

NB = "\u00a0"
CASES = Path(__file__).parents[1] / "language" / "cases"
FONTS = sorted((Path(__file__).parents[2] / "templates" / "fonts").glob("*.ttf"))


@pytest.mark.parametrize(
    ("written", "set_"),
    [
        ("", ""),
        ("don't", "don’t"),
        ('the "soft ball" stage', "the “soft ball” stage"),
        ("a 'skin' forms", "a ‘skin’ forms"),
        ('("dry")', "(“dry”)"),
        ("a 9 x 13 pan", f"a 9{NB}×{NB}13 pan"),
        ("a 9x13 pan", f"a 9{NB}×{NB}13 pan"),
        ("2 extra eggs", "2 extra eggs"),
        ('a 9" pan', "a 9″ pan"),
        ('1½" thick', "1½″ thick"),
        ('he said "use 9."', "he said “use 9.”"),
        ("freeze at -18 °C", f"freeze at −18{NB}°C"),
        ("2-cm dice", "2-cm dice"),
        ("a ratio of 3-2-1", "a ratio of 3-2-1"),
        ("all-purpose", "all-purpose"),
        ("wait...", "wait…"),
        ("Add 200 g flour", f"Add 200{NB}g flour"),
        ("1 ½ cups", f"1½{NB}cups"),
        ("for 25 to 30 minutes", f"for 25 to 30{NB}minutes"),
        ("3 eggs", "3 eggs"),
        ("5 good pinches", "5 good pinches"),
        ("⅐ of it", "1⁄7 of it"),
        ("180℃", "180°C"),
    ],
)
def test_marks(written: str, set_: str) -> None:
    assert marks(written) == set_


@given(st.text(alphabet="0123456789 ½¼abcgx'\"-.()°C\u00a0⁄&<", max_size=40))
def test_marks_settles(text: str) -> None:
    """Setting what is set changes nothing, and no digit or letter is ever lost."""
    once = marks(text)
    assert marks(once) == once
    kept = re.compile(r"[^0-9a-wyzA-Z½¼⁄&<]")
    assert kept.sub("", once) == kept.sub("", unicodedata.normalize("NFC", text))


def test_typeset_escapes() -> None:
    assert typeset("<b> & 1") == "&lt;b&gt; &amp; 1"


def test_typeset_names_a_fraction_without_a_character() -> None:
    assert typeset("1⁄16 inch") == f'<span role="img" aria-label="1 over 16">1⁄16</span>{NB}inch'


def test_spans() -> None:
    celsius, fahrenheit = (
        single(Term(number=Fraction(number), unit=units()[unit]))
        for number, unit in ((160, "degree Celsius"), (325, "degree Fahrenheit"))
    )
    author = quantity(160, units()["degree Celsius"])
    dual = Dual(author='160 "C" <', exact=(author,), us=fahrenheit, metric=celsius)
    both = Rewritten(amount=dual, order=("metric", "us"), where=Where(file="recipe.yaml"))
    told = (Words(text="Heat to "), both, Words(text=" & <b>", emphasis="em"), Protected(text="'as is'"))
    assert spans(told) == Markup(
        'Heat to <span class="measure" title="Measured: 160 “C” &lt;">'
        f'<span class="held">160{NB}°C</span> <span class="held">(325{NB}°F)</span></span>'
        "<em> &amp; &lt;b&gt;</em>&#39;as is&#39;"
    )


@pytest.mark.parametrize(
    ("text", "limit", "short"),
    [
        ("Rye crackers", 12, "Rye crackers"),
        ("Rye crackers, thin", 14, "Rye crackers…"),
        ("Unbreakableword", 6, "Unbre…"),
    ],
)
def test_shortened(text: str, limit: int, short: str) -> None:
    assert shortened(text, limit) == short
    assert len(shortened(text, limit)) <= limit


@pytest.mark.parametrize("font", FONTS, ids=lambda path: path.name)
def test_fonts_hold_what_cards_need(font: Path) -> None:
    """Fractions to eighths, the signs of measures, and real fractions for the rest (OpenType `frac`)."""
    with TTFont(font) as opened:
        assert {ord(sign) for sign in "½⅓⅔¼¾⅛⅜⅝⅞⁄×−°–“”‘’…\u00a0éñç"} <= set(opened.getBestCmap())
        features = {record.FeatureTag for record in opened["GSUB"].table.FeatureList.FeatureRecord}
        assert {"frac", "numr", "dnom", "tnum", "lnum"} <= features


@pytest.mark.parametrize(
    ("text", "bound"),
    [
        ("Bread or boiled potatoes alongside.", "Bread or boiled potatoes~alongside."),
        ("cold to cut it, or it will run.", "cold to cut it, or it~will~run."),
        ("thigh reads at least 165~°F (74~°C).", "thigh reads at least 165~°F~(74~°C)."),
        ("until the salt dissolves.", "until the salt~dissolves."),
        ("Bake <em>it</em> <b>x</b>.", "Bake~<em>it</em>~<b>x</b>."),
        ("an incomprehensibility inexplicable", "an incomprehensibility inexplicable"),
        ("word", "word"),
        ("", ""),
    ],
)
def test_the_last_words_of_a_paragraph_hold_together(text: str, bound: str) -> None:
    assert unwidowed(Markup(text.replace("~", NB))) == bound.replace("~", NB)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a 9-inch pan", ["9-inch"]),
        ("2-by-3¼-inch squares", ["2-by-3¼-inch"]),
        ("chicken, bone-in and skin-on", ["bone-in", "skin-on"]),
        ("a half-sheet pan", ["half-sheet"]),
        ("medium-high heat", ["medium-high"]),
        ("gluten-free, tree-nut-free and plant-based", ["gluten-free", "tree-nut-free", "plant-based"]),
        ("whole-grain flour", []),
        ("for 8 to 10 people", ["8 to 10"]),
        ("-9 and 3 - 4 and a-b-c", []),
        ("123456-123456789-123456789 in one", []),
        ('<span title="9-inch">x</span>', []),
    ],
)
def test_what_a_hyphen_joins_stands_on_one_line(text: str, words: list[str]) -> None:
    assert re.findall(r'<span class="held">(.*?)</span>', held(Markup(text))) == words


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("Keep it in the refrigerator.", "refrigerator"),
        ("Keep it in the <em>refrigerator</em>", "refrigerator"),
        ("In a refrigerator, then eat", None),
        ("Keep it in the cupboard.", None),  # too short to be divided
        ("<b title=refrigerator></b>", None),
    ],
)
def test_a_long_last_word_is_marked(text: str, word: str | None) -> None:
    found = re.search(r'<span class="end">(.*?)</span>', composed(Markup(text)))
    assert (found[1] if found else None) == word


@given(st.text(alphabet="ab9½- <>&\u00a0", max_size=60), st.integers(0, 40))
def test_composing_changes_no_letter(text: str, most: int) -> None:
    """Spaces become spaces that hold; nothing else of what a reader sees is touched."""
    made = composed(typeset(text), most)
    assert made.striptags().split() == typeset(text).striptags().split()


@pytest.mark.parametrize("name", ["lines", "steps", "fields"])
def test_a_text_set_in_type_reads_as_it_was_written(name: str) -> None:
    """The signs and spaces that type puts between figures make no other number of them."""
    with (CASES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        texts = [row["text"] for row in csv.DictReader(file)]
    assert texts
    for text in texts:
        assert _meant(marks(text)) == _meant(text), text


def _meant(text: str) -> list[object]:
    return [
        (one.kind, one.low, one.high, one.bound, [(side.low, side.high, side.unit) for side in one.sides])
        for one in readings(text)
    ]


@pytest.mark.parametrize(
    ("measure", "lines"),
    [
        (f"cup{NB}+ 1{NB}tbsp", ["cup", f"+{NB}1{NB}tbsp"]),
        ("(14-ounce) cans", ["(14-ounce)", "cans"]),
        (f"stalks (5¼{NB}oz in all)", ["stalks", f"(5¼{NB}oz{NB}in{NB}all)"]),
        (f"(5¼{NB}oz in all of a batch)", [f"(5¼{NB}oz", f"in{NB}all", "of", "a", "batch)"]),
        (f"to 3{NB}tbsp", [f"to{NB}3{NB}tbsp"]),
        ("g", ["g"]),
        ("", []),
    ],
)
def test_a_measure_of_a_list_parts_between_its_pieces(measure: str, lines: list[str]) -> None:
    assert [str(one) for one in pieces(measure)] == lines


@pytest.mark.parametrize(
    ("measure", "lines"),
    [
        ("10 to 14 minutes", [f"10 to 14{NB}minutes"]),
        (f"½{NB}cup plus 1{NB}tablespoon (130{NB}g)", [f"½{NB}cup", f"plus 1{NB}tablespoon", f"(130{NB}g)"]),
        (f"350{NB}°F (180{NB}°C)", [f"350{NB}°F", f"(180{NB}°C)"]),
    ],
)
def test_a_measure_of_a_sentence_parts_between_its_terms_and_systems(measure: str, lines: list[str]) -> None:
    assert re.findall(r'<span class="held">([^<]+)</span>', whole(measure)) == lines


def test_a_measure_longer_than_a_narrow_column_parts_between_its_terms() -> None:
    held_ones = re.findall(r'<span class="held">([^<]+)</span>', whole("1 hour 30 minutes to 2 hours"))
    assert held_ones == [f"1{NB}hour", f"30{NB}minutes", f"to{NB}2{NB}hours"]
