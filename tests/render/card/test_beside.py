"""A picture in the text: no rule and no frame runs into it, and the notes below it stand at the foot."""

from __future__ import annotations

import io
import shlex
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from markupsafe import Markup
from PIL import Image

from cardsmith.finding import Where
from cardsmith.house.publication import Publication
from cardsmith.house.start import looks, start
from cardsmith.recipe.model import Photo
from cardsmith.render.card.fit import Layout, left_below
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.sizes import quarter
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card

SHARED = Path(__file__).parents[3] / "templates"
PORTRAIT = (
    b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 600 900'>"
    b"<rect width='600' height='900' fill='#888'/></svg>"
)
DOTS = 144  # an inch
PIXEL = 0.75  # points
CLEAR = 10  # points beside a picture that stay paper
Cards = dict[str, Any]


def laid_out(look: str, place: str, card: Card, folder: Path) -> tuple[Layout, bytes]:
    publication = Publication(root=folder / "house")
    start(publication, "first-card", look)
    photo = Photo(where=Where(file="a"), file="a.svg", alt="A jar on a board", place=place)
    card = replace(card, recipe=replace(card.recipe, photo=photo))
    house, typesetter = publication.house(), Typesetter(publication.templates, folder)
    view = replace(card_view(card, house), cautions=(Markup("Holds honey."),))
    layout = lay_out_card(view, typesetter, house.card, {"a.svg": PORTRAIT})
    return layout, typesetter.write(layout.document)


def boxes(layout: Layout) -> Iterator[tuple[int, Any]]:
    def below(box: Any) -> Iterator[Any]:
        box = getattr(box, "_box", box)
        yield box
        for child in getattr(box, "children", ()):
            yield from below(child)

    for number, page in enumerate(layout.document.pages, 1):
        for box in below(page._page_box):
            yield number, box


def picture(layout: Layout) -> tuple[int, Any]:
    return next((page, box) for page, box in boxes(layout) if box.element_tag == "img")


def greys(pdf: bytes, page: int) -> Image.Image:
    command = f"pdftoppm -r {DOTS} -gray -f {page} -l {page} -"
    return Image.open(
        io.BytesIO(subprocess.run(shlex.split(command), input=pdf, capture_output=True, check=True).stdout)
    )


@pytest.mark.parametrize("look", looks(SHARED))
@pytest.mark.parametrize("place", ["square", "method"])
def test_nothing_runs_into_a_picture_that_text_runs_around(
    look: str, place: str, cards: Cards, tmp_path: Path
) -> None:
    """But for the bar of a page's head, which ends at a picture that reaches over the edge."""
    layout, pdf = laid_out(look, place, cards["crackers"](), tmp_path)
    assert layout.setting.photo
    assert layout.setting.photo.flowed
    page, image = picture(layout)
    bleed = layout.document.pages[page - 1].bleed["top"]
    left, top, foot = image.position_x, image.position_y, image.position_y + image.height
    if place == "method":
        top = next(
            box.position_y + box.margin_height() for _, box in boxes(layout) if box.element_tag == "h2"
        )
    scale = DOTS / 96
    area = [(left - CLEAR / PIXEL) + bleed, top + bleed, left - 1 + bleed, foot + bleed]
    strip = greys(pdf, page).crop(tuple(int(edge * scale) for edge in area))
    assert strip.height > 40
    assert strip.getextrema() == (255, 255)


@pytest.mark.parametrize("look", looks(SHARED))
def test_a_caution_beside_a_picture_keeps_its_frame(look: str, cards: Cards, tmp_path: Path) -> None:
    layout, _ = laid_out(look, "method", cards["crackers"](), tmp_path)
    _, image = picture(layout)
    caution = next(box for _, box in boxes(layout) if "caution" in _classes(box))
    assert caution.border_box_x() + caution.border_width() <= image.position_x - CLEAR / PIXEL


def test_notes_below_a_picture_stand_at_the_foot(cards: Cards, tmp_path: Path) -> None:
    layout, _ = laid_out("quarterly", "method", cards["short"](), tmp_path)
    assert layout.setting.photo
    assert layout.setting.photo.flowed
    steps = max(box.position_y + box.height for _, box in boxes(layout) if box.element_tag == "li")
    notes = next(box.border_box_y() for _, box in boxes(layout) if "notes" in _classes(box))
    assert notes - steps > 100  # there was much to share out
    assert left_below(layout.document, "back") <= 6 * quarter(layout.setting.text)


def _classes(box: Any) -> list[str]:
    return [] if box.element is None else (box.element.get("class") or "").split()
