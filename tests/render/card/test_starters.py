"""The looks that a publication may begin with: each in its own type and colour, which three lines change."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from cardsmith.finding import Where
from cardsmith.house.publication import Publication
from cardsmith.house.start import looks, start
from cardsmith.recipe.model import Photo
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card

SHARED = Path(__file__).parents[3] / "templates"
DRAWING = (
    b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 900 900'><rect width='900' height='900'/></svg>"
)
FACES = {
    "cookbook": {"Vollkorn"},
    "newspaper": {"ZillaSlab", "Literata"},
    "plain": {"AlegreyaSans"},
    "quarterly": {"FiraSans", "Spectral"},
}
Cards = dict[str, Callable[[], Card]]


def begun(folder: Path, look: str) -> Publication:
    publication = Publication(root=folder)
    start(publication, "first-card", look)
    return publication


def laid_out(publication: Publication, card: Card, scratch: Path) -> tuple[Layout, bytes]:
    """A card with a square picture, in the publication's own house."""
    photo = Photo(where=Where(file="a"), file="a.svg", alt="A dish on a table", credit="House photo")
    card = replace(card, recipe=replace(card.recipe, photo=photo))
    house = publication.house()
    typesetter = Typesetter(publication.templates, scratch)
    layout = lay_out_card(card_view(card, house), typesetter, house.card, {"a.svg": DRAWING})
    return layout, typesetter.write(layout.document)


def faces(pdf: bytes) -> set[str]:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        fonts = [str(one.BaseFont) for one in opened.objects if _is_font(one)]
    cuts = {re.sub(r"^/[A-Z]{6}\+|[- ]", "", font) for font in fonts}
    return {
        family
        for cut in cuts
        for family in (one for of in FACES.values() for one in of)
        if cut.startswith(family)
    }


def _is_font(one: object) -> bool:
    return isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/Font" and "/BaseFont" in one


@pytest.mark.parametrize("look", looks(SHARED))
@pytest.mark.parametrize("name", ["short", "crackers"])
def test_a_look_sets_a_card_in_its_own_type_with_its_picture(
    look: str, name: str, cards: Cards, tmp_path: Path
) -> None:
    """The layout itself counts letters and looks for words off the page and over others."""
    publication = begun(tmp_path / "house", look)
    layout, pdf = laid_out(publication, cards[name](), tmp_path)
    assert layout.faults == ()
    assert layout.fits
    assert layout.setting.photo
    assert layout.setting.photo.name in (publication.house().card.places or layout.setting.photo.name)
    assert faces(pdf) == FACES[look]


@pytest.mark.parametrize("look", looks(SHARED))
def test_three_variables_change_type_and_colour(look: str, cards: Cards, tmp_path: Path) -> None:
    publication = begun(tmp_path / "house", look)
    other = next(one for one in looks(SHARED) if one != look and FACES[one] - FACES[look])
    lent = begun(tmp_path / "other", other)
    for font in (lent.templates / "fonts").glob("*.ttf"):
        (publication.templates / "fonts" / font.name).write_bytes(font.read_bytes())
    sheet = publication.templates / "look.css"
    css = sheet.read_text("utf-8")
    family = re.search(r'--text: ("[^"]+")', (lent.templates / "look.css").read_text("utf-8"))
    assert family
    for key, value in {"text": family[1], "display": family[1], "accent": "#0b5d1e"}.items():
        css, found = re.subn(rf"--{key}: [^;]+;", f"--{key}: {value};", css, count=1)
        assert found == 1
    sheet.write_text(css, "utf-8")
    layout, pdf = laid_out(publication, cards["short"](), tmp_path)
    assert len(faces(pdf)) == 1
    assert faces(pdf) <= FACES[other]
    painted = {
        tuple(round(float(value) * 255) for value in operands)
        for page in pikepdf.open(io.BytesIO(pdf)).pages
        for operands, operator in pikepdf.parse_content_stream(page)
        if str(operator) in ("rg", "RG", "scn", "SCN") and len(operands) == 3
    }
    assert (0x0B, 0x5D, 0x1E) in painted
    assert layout.fits


@pytest.mark.parametrize(
    ("look", "order"),
    [
        ("cookbook", ["us", "item", "metric"]),
        ("newspaper", ["item", "us", "metric"]),
        ("plain", ["us", "metric", "item"]),
        ("quarterly", ["item", "us", "metric"]),
    ],
)
def test_a_look_has_its_own_order_of_columns(
    look: str, order: list[str], cards: Cards, tmp_path: Path
) -> None:
    layout, _ = laid_out(begun(tmp_path / "house", look), cards["crackers"](), tmp_path)

    def cells(box: object) -> list[tuple[float, str]]:
        box = getattr(box, "_box", box)
        if getattr(box, "element_tag", "") in ("td", "th"):
            name = str(box.element.get("class"))  # type: ignore[attr-defined]
            return [(float(box.position_x), next(one for one in order if one in name.split()))]  # type: ignore[attr-defined]
        return [one for child in getattr(box, "children", ()) for one in cells(child)]

    found = next(filter(None, (cells(page._page_box) for page in layout.document.pages)))
    assert [name for _, name in sorted(set(found))] == order
