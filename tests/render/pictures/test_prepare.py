"""Pictures: made ready once, or refused with a reason."""

from __future__ import annotations

import io
from fractions import Fraction

import pytest
from PIL import Image

from cardsmith.render.pictures.prepare import Box, PictureRefused, crop_of, inspect, ready

SQUARE = Box(width=Fraction(72), height=Fraction(72))  # one inch: 300 dots


def picture(width: int, height: int, kind: str = "JPEG") -> bytes:
    out = io.BytesIO()
    Image.linear_gradient("L").resize((width, height)).convert("RGB").save(out, kind)
    return out.getvalue()


def test_a_photo_is_cropped_to_its_place_and_scaled_once() -> None:
    image = Image.open(io.BytesIO(ready("a.jpg", picture(1200, 900), "", SQUARE)))
    assert image.size == (300, 300)


def test_a_small_photo_is_never_scaled_up() -> None:
    assert Image.open(io.BytesIO(ready("a.jpg", picture(200, 150), "", SQUARE))).size == (150, 150)


@pytest.mark.parametrize(
    ("focus", "left"), [("0% 50%", 0), ("", 150), ("100% 50%", 300)]
)  # CSS object-position: the spare width, shared out
def test_the_focus_stays_in(focus: str, left: int) -> None:
    assert crop_of((1200, 900), SQUARE, focus) == (left, 0, left + 900, 900)


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("torn.jpg", picture(400, 400)[:2000]),
        ("words.jpg", b"not a picture"),
        ("other.jpg", picture(20, 20, "PNG")),
        ("script.svg", b"<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>"),
    ],
)
def test_what_cannot_be_printed_is_refused_with_what_to_do(name: str, data: bytes) -> None:
    with pytest.raises(PictureRefused) as refused:
        inspect(name, data)
    assert refused.value.instead
