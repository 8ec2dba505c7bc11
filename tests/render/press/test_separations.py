"""A picture that comes in the inks of the press keeps them: no way through the colours of a screen."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pikepdf
import pytest
from PIL import Image

from cardsmith.files.reading import digest_of
from cardsmith.house.printers import Printer, printer
from cardsmith.house.style import House
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.pictures.prepare import Box, ready, separated
from cardsmith.render.press.inks import share_over
from cardsmith.render.press.pdf import press_pdf
from cardsmith.render.press.version import Version
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card

OFFSET = printer("offset")
BOX = Box(width=Fraction(72), height=Fraction(48))
HALVES = ((0, 0, 0, 255), (10, 200, 120, 0))  # black alone, which a screen's colours would build of four inks


def cmyk(*halves: tuple[int, int, int, int], profile: bytes = OFFSET.profile) -> bytes:
    """A photo of two colours side by side, in inks."""
    image = Image.new("CMYK", (600, 400), halves[0])
    image.paste(Image.new("CMYK", (300, 400), halves[-1]), (300, 0))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=100, subsampling=0, icc_profile=profile)
    return out.getvalue()


def near(found: object, wanted: tuple[int, ...]) -> bool:
    assert isinstance(found, tuple)
    return all(abs(one - other) <= 3 for one, other in zip(found, wanted, strict=True))


def test_a_picture_is_cropped_in_its_own_inks() -> None:
    own = separated("a.jpg", cmyk(*HALVES), "", BOX, OFFSET.profile)
    assert own
    image = Image.open(io.BytesIO(own))
    assert (image.mode, image.size) == ("CMYK", (300, 200))
    assert near(image.getpixel((20, 100)), HALVES[0])
    assert near(image.getpixel((280, 100)), HALVES[1])


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("a.jpg", cmyk(*HALVES, profile=OFFSET.profile[:-1] + b"x")),
        ("a.jpg", ready("a.jpg", cmyk(*HALVES), "", BOX)),
        ("a.svg", b"<svg xmlns='http://www.w3.org/2000/svg'/>"),
    ],
    ids=["another profile", "of a screen", "drawing"],
)
def test_a_picture_of_other_colours_is_none_of_the_press(name: str, data: bytes) -> None:
    assert separated(name, data, "", BOX, OFFSET.profile) is None


@pytest.fixture
def laid_out(
    cards: dict[str, Callable[[], Card]], house: House, typesetter: Typesetter
) -> Callable[..., Layout]:
    def lay(data: bytes) -> Layout:
        card = cards["photo"]()
        assert card.recipe.photo
        photo = replace(card.recipe.photo, file="a.jpg", place="square")
        view = card_view(replace(card, recipe=replace(card.recipe, photo=photo)), house)
        return lay_out_card(view, typesetter, house.card, {"a.jpg": data})

    return lay


def printed(
    data: bytes, own: bytes, layout: Layout, typesetter: Typesetter, made_for: Printer = OFFSET
) -> Any:
    tagged = typesetter.write(layout.document)
    with pikepdf.open(io.BytesIO(tagged)) as pdf:
        [shown] = [one.read_raw_bytes() for one in pdf.objects if _is_image(one)]
    assert shown == data, "the typesetter keeps a JPEG byte for byte"
    version = Version(recipe="x", mark="0", date="2026-04-02")
    press = press_pdf(
        tagged, typesetter, layout_size(layout), made_for, version, separations={digest_of(data): own}
    )
    with pikepdf.open(io.BytesIO(press)) as pdf:
        [found] = [one for one in pdf.objects if _is_image(one)]
        return pikepdf.PdfImage(found).as_pil_image()


def layout_size(layout: Layout) -> Any:
    from cardsmith.house.paper import card_size  # noqa: PLC0415

    assert "card-5x7" in layout.html
    return card_size("5x7")


def _is_image(one: object) -> bool:
    return isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Image"


def test_the_press_file_has_the_numbers_that_the_picture_came_with(
    laid_out: Callable[..., Layout], typesetter: Typesetter
) -> None:
    given = cmyk(*HALVES)
    shown = ready("a.jpg", given, "", BOX)
    own = separated("a.jpg", given, "", BOX, OFFSET.profile)
    assert own
    image = printed(shown, own, laid_out(shown), typesetter)
    assert near(image.getpixel((20, image.height // 2)), HALVES[0])
    assert near(image.getpixel((image.width - 20, image.height // 2)), HALVES[1])


def test_even_its_own_inks_are_no_more_than_the_press_takes(
    laid_out: Callable[..., Layout], typesetter: Typesetter
) -> None:
    given = cmyk((255, 255, 255, 255), (255, 240, 240, 200))
    shown = ready("a.jpg", given, "", BOX)
    own = separated("a.jpg", given, "", BOX, OFFSET.profile)
    assert own
    image = printed(shown, own, laid_out(shown), typesetter)
    assert share_over(image, OFFSET.ink_limit + Fraction(2, 100)) < 0.01
