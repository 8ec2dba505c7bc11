"""Type and rules in solid ink, the second ink on its own plate: separations drawn by Ghostscript."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pikepdf
import pytest

from cardsmith.house.paper import card_size
from cardsmith.house.printers import AccentInk, printer
from cardsmith.house.style import House
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.press.accent import NO_ACCENT, Accent, accent_on
from cardsmith.render.press.content import Painted, painted
from cardsmith.render.press.conversion import into_inks
from cardsmith.render.press.inks import BLACK, PAPER
from cardsmith.render.press.pdf import press_pdf
from cardsmith.render.press.preflight import examined
from cardsmith.render.press.recolouring import ACCENT_PLATE, Inking
from cardsmith.render.press.version import Version
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card
from tests.render.press.plates import INKS, inked, is_solid, needs_ghostscript, plates_of

OFFSET = printer("offset")
HARBOUR, LEVELS = "#17525c", (23, 82, 92)
SPOT = Accent(screen=LEVELS, inks=(0.9, 0.45, 0.45, 0.35), spot="Harbour", fine=True)
BUILD = Accent(screen=LEVELS, inks=(1.0, 0.0, 0.3, 0.0), fine=True)
BLURRED = Accent(screen=LEVELS, inks=(0.9, 0.45, 0.45, 0.35))  # four inks: for areas alone
GREY = "#9aa5a3"


def inks_in(typesetter: Typesetter, body: str, accent: Accent = SPOT, drawing: str = "") -> bytes:
    """A page of two inches with ``body`` on it; ``drawing`` is its photo/x.svg."""
    style = "@page { size: 144pt; margin: 9pt } body { margin: 0; font: 10pt 'Fira Sans'; color: #111111 }"
    html = (
        f'<!DOCTYPE html><html lang="en"><head><title>x</title><style>{style}</style></head>'
        f"<body>{body}</body></html>"
    )
    out = io.BytesIO()
    laid_out = typesetter.lay_out(html, {"x.svg": drawing.encode()}, styled=False)
    with pikepdf.open(io.BytesIO(typesetter.write(laid_out))) as pdf:
        into_inks(pdf, OFFSET, accent)
        pdf.save(out)
    return out.getvalue()


def things(data: bytes) -> list[Painted]:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return [one for page in pdf.pages for one in painted(page)]


def rule(width: float, colour: str) -> str:
    return f'<div style="border-top: {width}pt solid {colour}; height: 9pt"></div>'


@pytest.mark.parametrize(
    ("width", "colour", "inks", "thick"),
    [
        (0.4, GREY, BLACK, 0.25),  # as much ink would be 0.15 pt, which no plate holds
        (0.9, GREY, BLACK, 0.9 * 0.365),
        (0.4, "#333333", BLACK, 0.4),
        (0.4, "#111111", BLACK, 0.4),
        (0.5, "#c08040", BLACK, 0.25),
        (0.5, "white", PAPER, 0.5),
        (2, GREY, (0, 0, 0, 0.4), 2),  # broad enough for dots
        (2, "#2a2a2a", BLACK, 2),  # so dark is meant to be black
        (2, "#c08040", BLACK, 2),  # of four plates otherwise
        (2, HARBOUR, BLACK, 2),
    ],
)
@pytest.mark.parametrize("side", ["top", "left"])
def test_a_rule_is_solid_and_of_one_ink(
    width: float, colour: str, inks: tuple[float, ...], thick: float, side: str, typesetter: Typesetter
) -> None:
    body = rule(width, colour).replace("top", side)
    (found,) = (one for one in things(inks_in(typesetter, body, NO_ACCENT)) if one.what == "shape")
    assert found.inks == pytest.approx(inks)
    assert found.thick == pytest.approx(thick, abs=0.01)


TINT = {"tint": (225, 229, 229), "share": 0.15}


@pytest.mark.parametrize(
    ("accent", "inks", "plate", "tint"),
    [
        (replace(SPOT, **TINT), (), "Harbour", 0.15),
        (replace(BUILD, **TINT), (0.15, 0.0, 0.045, 0.0), "", 1.0),
        (NO_ACCENT, (0.0, 0.0, 0.0, 0.12), "", 1.0),  # by the palette
    ],
)
def test_a_tint_of_the_second_ink_is_one_on_the_press(
    accent: Accent, inks: tuple[float, ...], plate: str, tint: float, typesetter: Typesetter
) -> None:
    body = '<div style="background: #e1e5e5; height: 40pt"></div>'
    (found,) = (one for one in things(inks_in(typesetter, body, accent)) if one.what == "shape")
    assert (found.plate, found.tint) == (plate, tint)
    assert found.inks == pytest.approx(inks)


@pytest.mark.parametrize(("look", "share"), [("", 0.15), ("looks/newspaper", 0.12), ("looks/cookbook", 0.1)])
def test_a_tint_is_of_the_accent_where_it_looks_so(look: str, share: float, templates: Path) -> None:
    ink = AccentInk(name="Ink", cmyk=(Fraction(1), Fraction(0), Fraction(0), Fraction(0)))
    assert accent_on(ink, templates / look, OFFSET).share == pytest.approx(share, abs=0.011)


def test_a_grey_behind_a_list_is_no_tint_of_a_colour(tmp_path: Path, templates: Path) -> None:
    sheet = (templates / "look.css").read_text(encoding="utf-8")
    assert "--tint: #e1e5e5" in sheet
    (tmp_path / "look.css").write_text(sheet.replace("#e1e5e5", "#cccccc"), encoding="utf-8")
    ink = AccentInk(name="Ink", cmyk=(Fraction(1), Fraction(0), Fraction(0), Fraction(0)))
    assert accent_on(ink, tmp_path, OFFSET).tint is None


def test_a_stroke_is_drawn_thinner_too(typesetter: Typesetter) -> None:
    """A figure of the card's own, not a picture: what stands in a background."""
    figure = (
        "<svg xmlns='http://www.w3.org/2000/svg' width='90pt' height='20pt' viewBox='0 0 90 20'>"
        f"<path fill='none' stroke='{GREY}' stroke-width='0.8' d='M0 5h90'/>"
        "<path fill='none' stroke='#333' stroke-width='0.5' d='M0 9h90'/></svg>"
    )
    body = '<div style="height: 20pt; background: url(photo/x.svg) no-repeat"></div>'
    lines = [one for one in things(inks_in(typesetter, body, drawing=figure)) if one.what == "line"]
    assert [(one.inks, round(one.thick, 2)) for one in lines] == [(BLACK, 0.29), (BLACK, 0.5)]


@pytest.mark.parametrize(
    ("asked", "line", "text"),
    [
        ((1.0, 1.0, 1.0), PAPER, PAPER),
        (tuple(level / 255 for level in LEVELS), ACCENT_PLATE, ACCENT_PLATE),
        ((0.09, 0.32, 0.40), BLACK, BLACK),  # near the house's colour is not it
        ((0.2, 0.2, 0.2), BLACK, BLACK),
    ],
)
def test_what_a_colour_becomes(asked: tuple[float, ...], line: object, text: object) -> None:
    inking = Inking(made_for=OFFSET, accent=SPOT)
    assert inking.of_line(asked, 0.5)[0] == line
    assert inking.of_text(asked) == text


@pytest.mark.parametrize(
    ("accent", "text", "bar", "area"),
    [
        (SPOT, "Harbour", "Harbour", "Harbour"),
        (BUILD, BUILD.inks, BUILD.inks, BUILD.inks),
        (BLURRED, BLACK, BLACK, BLURRED.inks),
    ],
    ids=["spot", "build", "blurred"],
)
def test_the_second_ink_by_what_it_is(
    accent: Accent, text: object, bar: object, area: object, typesetter: Typesetter
) -> None:
    body = (
        f'<p style="color: {HARBOUR}">Noon</p>{rule(2.5, HARBOUR)}'
        f'<div style="background: {HARBOUR}; height: 30pt"></div>'
    )
    found = things(inks_in(typesetter, body, accent))
    said = [one.plate or one.inks for one in found]
    assert said == [area, bar, text] or set(map(str, said)) == {str(area), str(bar), str(text)}
    assert {one.what: (one.plate or one.inks) for one in found}["text"] == text


def test_a_picture_keeps_its_colours(typesetter: Typesetter) -> None:
    """A stroke of half a point in the house's own colour is drawn as the artist mixed it."""
    drawing = (
        "<svg xmlns='http://www.w3.org/2000/svg' width='90pt' height='30pt' viewBox='0 0 90 30'>"
        f"<path fill='none' stroke='{HARBOUR}' stroke-width='0.5' d='M0 5h90'/>"
        f"<path fill='{GREY}' d='M0 15h90v0.4H0z'/></svg>"
    )
    body = f'<img alt="A line" src="photo/x.svg">{rule(0.4, GREY)}'
    data = inks_in(typesetter, body, drawing=drawing)
    found = [one for one in things(data) if one.what in ("line", "shape")]
    line, strip = (one for one in found if one.picture)
    assert not line.plate
    assert sum(ink > 0 for ink in line.inks) == 4
    assert strip.inks == (0, 0, 0, 0.4)
    (own,) = (one for one in found if not one.picture)
    assert own.inks == BLACK


@pytest.fixture(scope="module")
def layout(
    cards: dict[str, Callable[[], Card]], house: House, typesetter: Typesetter, pictures: dict[str, bytes]
) -> Layout:
    view = replace(card_view(cards["photo"](), house), photo=None)  # its list stands on the front
    return lay_out_card(view, typesetter, house.card, pictures)


def pressed(layout: Layout, typesetter: Typesetter, accent: Accent) -> bytes:
    size, version = card_size("5x7"), Version(recipe="x", mark="0", date="2026-04-02")
    data = press_pdf(typesetter.write(layout.document), typesetter, size, OFFSET, version, accent)
    assert examined(data, size, OFFSET, accent).faults == ()
    return data


@needs_ghostscript
def test_the_back_of_a_card_needs_two_plates(layout: Layout, typesetter: Typesetter, tmp_path: Path) -> None:
    """Type and rules: cyan, magenta and yellow print cut marks alone; every dot of the others is solid."""
    found = plates_of(pressed(layout, typesetter, SPOT), tmp_path, page=2, dots=300)
    assert set(found) == {*INKS, "Harbour"}
    marks = inked(found["Cyan"])
    assert inked(found["Magenta"]) == inked(found["Yellow"]) == marks
    assert 0 < marks < 4_000
    for ink in ("Black", "Harbour"):
        assert inked(found[ink]) > marks + 5_000
        assert is_solid(found[ink]), "no tint anywhere"


@needs_ghostscript
def test_a_build_prints_on_its_own_two_plates(layout: Layout, typesetter: Typesetter, tmp_path: Path) -> None:
    found = plates_of(pressed(layout, typesetter, BUILD), tmp_path, page=2, dots=300)
    assert set(found) == set(INKS)
    marks = inked(found["Magenta"])
    assert inked(found["Cyan"]) == inked(found["Yellow"]) > marks + 5_000
    assert is_solid(found["Cyan"])


@needs_ghostscript
def test_without_a_second_ink_the_back_is_black_alone(
    layout: Layout, typesetter: Typesetter, tmp_path: Path
) -> None:
    found = plates_of(pressed(layout, typesetter, NO_ACCENT), tmp_path, page=2, dots=300)
    assert set(found) == set(INKS)
    assert inked(found["Cyan"]) == inked(found["Magenta"]) == inked(found["Yellow"]) < 4_000
    assert is_solid(found["Black"])
