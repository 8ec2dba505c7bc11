"""Words from right to left, marks on letters: a card keeps its numbers where they belong, or says why not."""

from __future__ import annotations

import re
import subprocess
from itertools import pairwise
from pathlib import Path

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FINE, FOUND
from cardsmith.render.direction import LEFT_TO_RIGHT, steady
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
SESAME, BREAD, DATES = "\u05e9\u05d5\u05de\u05e9\u05d5\u05dd", "\u05dc\u05d7\u05dd", "\u062a\u0645\u0631"
RECIPE = f"""\
title: {BREAD} Rye thins
kind: cracker
headnote: "Thin, dark and brittle, with {DATES} and cre\u0300me frai\u0302che."
yield: {{makes: 30 crackers}}
time: {{active: 20 min, total: 1 h}}
ingredients:
  - 200 g whole-grain rye flour
  - "40 g sesame seeds, {SESAME}"
  - 4 g fine salt
  - 110 g water
  - 30 g olive oil
  - 20 g {SESAME}
steps:
  - Heat the oven to 160 °C with a rack in the middle.
  - Mix the flour, seeds, salt, {SESAME} 110 g water and oil, and roll to 2 mm.
  - "Scatter with the {SESAME}, and no more."
  - Bake for 25 to 30 minutes, until dry and crisp.
storage: "{SESAME} {SESAME} 3 weeks in an airtight tin."
"""


def _font(file: Path, name: str) -> None:
    """A typeface of boxes for the letters that the test needs."""
    letters = sorted({" ", *SESAME, *BREAD, *DATES})
    glyphs = [".notdef", *(f"u{ord(letter):04x}" for letter in letters)]
    pen = TTGlyphPen(None)
    for place, point in enumerate(((50, 0), (50, 500), (450, 500), (450, 0))):
        (pen.lineTo if place else pen.moveTo)(point)
    pen.closePath()
    box = pen.glyph()
    font = FontBuilder(1000, isTTF=True)
    font.setupGlyphOrder(glyphs)
    font.setupCharacterMap({ord(letter): f"u{ord(letter):04x}" for letter in letters})
    font.setupGlyf(dict.fromkeys(glyphs, box))
    font.setupHorizontalMetrics(dict.fromkeys(glyphs, (500, 50)))
    font.setupHorizontalHeader(ascent=800, descent=-200)
    font.setupNameTable({"familyName": name, "styleName": "Regular"})
    font.setupOS2(sTypoAscender=800, sTypoDescender=-200)
    font.setupPost()
    font.save(file)


@pytest.fixture
def publication(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    copy_templates(tmp_path / "templates")
    (tmp_path / "recipes/thins").mkdir(parents=True)
    (tmp_path / "recipes/thins/recipe.yaml").write_text(RECIPE, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_card_keeps_its_numbers_where_they_belong(publication: Path) -> None:
    _font(publication / "templates/fonts/BoxesTest-Regular.ttf", "Boxes Test")
    look = publication / "templates/look.css"
    text = re.sub(r'(--(?:text|display): "[^"]+",)', r'\1 "Boxes Test",', look.read_text("utf-8"))
    look.write_text(text, encoding="utf-8")
    assert main(["build", "--serial"]) == FINE
    cards = publication / "build/cards/thins"
    page = (cards / "thins.html").read_text(encoding="utf-8")
    assert page.count(SESAME) > 5
    shown = page.partition("<body")[2].partition("<template")[0]
    for word in (SESAME, BREAD, DATES):
        for found in re.finditer(word, shown):
            near = shown[max(0, found.start() - 8) : found.end() + 8]
            assert LEFT_TO_RIGHT in near, near
    command = ["pdftotext", "-bbox", str(cards / "thins-screen.pdf"), "-"]
    boxes = subprocess.run(command, capture_output=True, check=True).stdout.decode()
    words = [
        (float(left), float(top), float(right), float(foot), word)
        for left, top, right, foot, word in re.findall(
            r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)<', boxes
        )
    ]
    assert {"crème", "fraîche."} <= {word for *_, word in words}
    left, top, _, foot, _ = next(
        one for one, after in pairwise(words) if (one[-1], after[-1]) == ("3", "weeks")
    )
    same = [one for one in words if one[1] < foot and one[3] > top and re.search("[\u0590-\u05ff]", one[-1])]
    assert same
    assert all(right <= left for _, _, right, _, _ in same)


def test_letters_no_font_has_are_told(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "--serial"]) == FOUND
    told = capsys.readouterr().out
    assert "the face of titles" in told
    assert "put a font of that kind that has them into templates/fonts" in told
    assert BREAD[0] in told
    file = publication / "recipes/thins/recipe.yaml"
    plain = RECIPE.replace(f"title: {BREAD} ", "title: ").replace(f"{DATES} and ", "")  # no title
    file.write_text(plain, encoding="utf-8")
    assert main(["build", "--serial"]) == FOUND
    told = capsys.readouterr().out
    assert "the house's fonts have no sign for" in told
    assert "put a font that has it into templates/fonts" in told
    assert SESAME[0] in told


@pytest.mark.parametrize(
    "sign", [chr(code) for code in (0x202A, 0x202B, 0x202D, 0x202E, 0x2066, 0x2067, 0x2068, 0x2069)]
)
@pytest.mark.parametrize(
    "field", ["title: Rye thins", "whole-grain rye flour", "rack in the middle", "no more."]
)
def test_what_turns_text_about_is_refused_by_name(
    sign: str, field: str, publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = publication / "recipes/thins/recipe.yaml"
    written = RECIPE if field in RECIPE else RECIPE.replace(f"title: {BREAD} Rye thins", field)
    file.write_text(written.replace(field, f"{field[:-3]}{sign}{field[-3:]}"), encoding="utf-8")
    assert main(["check"]) == FOUND
    told = capsys.readouterr().out
    assert f"an invisible character (U+{ord(sign):04X}) stands here" in told
    assert "the line without it" in told


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("plain", "plain"),
        ("½ cup", "½ cup"),
        (f"{BREAD} 20 g", f"~{BREAD}~ 20 g"),
        (f"a {BREAD} {SESAME}, b", f"a ~{BREAD} {SESAME}~, b"),
        (f"{BREAD} 2 {SESAME} 20 g", f"~{BREAD} 2 {SESAME}~ 20 g"),
        (f"{BREAD} and {DATES}", f"~{BREAD}~ and ~{DATES}~"),
        ("e\u0301", "e\u0301"),
    ],
)
def test_a_phrase_stands_between_marks(text: str, wanted: str) -> None:
    assert steady(text) == wanted.replace("~", LEFT_TO_RIGHT)
