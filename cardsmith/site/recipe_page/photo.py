"""A recipe's photo for the web: cropped about its focus to the shapes a page and a search engine ask for."""

from __future__ import annotations

import io
from collections.abc import Mapping
from fractions import Fraction

from PIL import Image

from cardsmith.frozen import frozen
from cardsmith.recipe import model
from cardsmith.render.pictures.prepare import RESOLUTION, Box, is_drawing, ready, shape_of
from cardsmith.render.templates import data_uri
from cardsmith.render.typeset import marks
from cardsmith.site.aloud import text
from cardsmith.site.recipe_page.view import PagePhoto

# Dots across and down. A page shows the widest; search engines ask for all three (their guides, from memory)
SHAPES = {"16x9": (1280, 720), "4x3": (1200, 900), "1x1": (900, 900)}
SMALL = (640, 360)  # the widest again, for a telephone
ALONE = (960, 540)  # inside a page that is one file
DRAWING = "image/svg+xml"
UPRIGHT = Fraction(32, 27)  # width over height, under which 16 by 9 would cut more than a third off


@frozen
class SitePhoto:
    """A photo of the site: its files, how the page shows it, and which of the files are its shapes."""

    files: Mapping[str, bytes]
    shown: PagePhoto
    shapes: tuple[str, ...]


def alone(photo: model.Photo, data: bytes) -> PagePhoto:
    """The photo inside the page itself.

    Raises:
        PictureRefused: as `ready`.
    """
    if is_drawing(photo.file):
        return _photo(photo, data_uri(DRAWING, data), upright=_upright(photo, data))
    upright = _upright(photo, data)
    made = ready(photo.file, data, photo.focus, _box(SHAPES["1x1"] if upright else ALONE))
    return _photo(photo, data_uri("image/jpeg", made), _size(made), upright=upright)


def for_site(photo: model.Photo, data: bytes) -> SitePhoto:
    """The photo as files beside the page; a drawing stays one file in its own shape.

    Raises:
        PictureRefused: as `ready`.
    """
    if is_drawing(photo.file):
        name = "photo.svg"
        shown = _photo(photo, name, upright=_upright(photo, data))
        return SitePhoto(files={name: data}, shown=shown, shapes=(name,))
    files = {
        f"photo-{shape}.jpg": ready(photo.file, data, photo.focus, _box(size))
        for shape, size in SHAPES.items()
    }
    files["photo-small.jpg"] = ready(photo.file, data, photo.focus, _box(SMALL))
    wide = _size(files["photo-16x9.jpg"])
    small = _size(files["photo-small.jpg"])
    others = f"photo-small.jpg {small[0]}w, photo-16x9.jpg {wide[0]}w" if small[0] < wide[0] else ""
    shapes = tuple(f"photo-{shape}.jpg" for shape in ("1x1", "4x3", "16x9"))
    shown = _photo(photo, "photo-16x9.jpg", wide, others)
    if _upright(photo, data):
        shown = _photo(photo, "photo-1x1.jpg", _size(files["photo-1x1.jpg"]), upright=True)
    return SitePhoto(files=files, shown=shown, shapes=shapes)


def _upright(photo: model.Photo, data: bytes) -> bool:
    return shape_of(photo.file, data) < UPRIGHT


def _photo(
    photo: model.Photo,
    source: str,
    size: tuple[int, int] = (0, 0),
    others: str = "",
    *,
    upright: bool = False,
) -> PagePhoto:
    return PagePhoto(
        source=source,
        alt=marks(photo.alt),
        credit=text(photo.credit),
        width=size[0],
        height=size[1],
        others=others,
        upright=upright,
    )


def _box(dots: tuple[int, int]) -> Box:
    """The place that this many dots fill at print resolution, which is how `ready` measures."""
    return Box(width=Fraction(dots[0] * 72, RESOLUTION), height=Fraction(dots[1] * 72, RESOLUTION))


def _size(jpeg: bytes) -> tuple[int, int]:
    with Image.open(io.BytesIO(jpeg)) as image:
        return image.size
