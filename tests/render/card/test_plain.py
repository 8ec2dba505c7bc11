"""The plain look of a new publication loses no word of a card either, and its ruler speaks its type."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.svgLib.path import parse_path

from cardsmith.finding import CardsmithError
from cardsmith.house.paper import card_size
from cardsmith.house.publication import Publication
from cardsmith.house.start import start
from cardsmith.house.style import House
from cardsmith.render.audit import lines
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.ruler import ruler, text_font
from cardsmith.render.card.view import card_view
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Typesetter:
    publication = Publication(root=tmp_path_factory.mktemp("plain"))
    start(publication, "first-card")
    return Typesetter(publication.templates, tmp_path_factory.mktemp("plain-fonts"))


@pytest.mark.parametrize("size", ["5x7", "a6", "a5", "a5-landscape"])
def test_every_word_is_on_the_card(
    size: str, any_card: Card, house: House, plain: Typesetter, pictures: dict[str, bytes]
) -> None:
    """The layout itself counts letters and looks for words off the page and over others."""
    view = card_view(any_card, house)
    layout = lay_out_card(view, plain, replace(house.card, size=card_size(size), cards=3), pictures)
    assert layout.faults == ()
    assert layout.fits
    text = " ".join(line.text for line in lines(layout.document) if not line.furniture)
    table = text[re.search(r"\bUS\b", text).start() :]
    row = view.parts[0].rows[0]
    assert table.index(row.amounts[0].number.striptags()) < table.index(row.item.striptags().split()[0])


def test_the_ruler_takes_its_figures_from_the_house(templates: Path, plain: Typesetter) -> None:
    assert text_font(templates).name == "FiraSans-Regular.ttf"
    assert text_font(plain.templates).name == "AlegreyaSans-Regular.ttf"
    drawn = {ruler(folder, Fraction(300), "cm") for folder in (templates, plain.templates)}
    assert len(drawn) == 2


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_figures_of_the_ruler_stand_on_one_line(unit: str, plain: Typesetter) -> None:
    """The font's own 3, 4, 5, 7 and 9 hang below it: they are for running text."""
    numerals = re.findall(r' d="([^"]+)"', ruler(plain.templates, Fraction(360), unit).decode())[-1]
    pen = BoundsPen(None)
    parse_path(numerals, pen)
    assert 9.6 <= pen.bounds[3] <= 9.8, "9.6 points below the edge, and a round letter's overshoot"


def test_a_ruler_without_its_font_says_which(tmp_path: Path) -> None:
    (tmp_path / "look.css").write_text(':root { --text: "Quay Sans", serif }', encoding="utf-8")
    with pytest.raises(CardsmithError, match=r"--text is Quay Sans, and there is no .*QuaySans-Regular\.ttf"):
        text_font(tmp_path)
    (tmp_path / "look.css").write_text(":root { --text: serif }", encoding="utf-8")
    with pytest.raises(CardsmithError, match="names no family"):
        text_font(tmp_path)
