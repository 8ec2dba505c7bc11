"""A recipe's photo for the web: cropped about its focus to the shapes a page and a search engine ask for."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache, partial
from math import ceil
from pathlib import Path
from typing import Any

from PIL import Image

from cardsmith.files.reading import digest_of
from cardsmith.frozen import frozen
from cardsmith.recipe import model
from cardsmith.render.pictures.prepare import (
    RESOLUTION,
    Box,
    Keep,
    at_once,
    cropped,
    is_drawing,
    kept_ready,
    shape_of,
)
from cardsmith.render.pictures.raster import as_picture, rastered
from cardsmith.render.templates import data_uri
from cardsmith.render.typeset import marks
from cardsmith.site.aloud import text
from cardsmith.site.recipe_page.tile import Layer, spoken, tile
from cardsmith.site.recipe_page.view import PagePhoto, PageView

# Dots across and down. A page shows the widest; search engines ask for all three (their guides, from memory)
SHAPES = {"1x1": (900, 900), "4x3": (1200, 900), "16x9": (1280, 720)}
SMALL = (640, 360)  # the widest again, for a telephone
WIDEST = "16x9"
MIDDLE = (960, 540)  # between the two
HALF = (450, 450)  # of what is shown whole
SMALL_FILE = "photo-small.jpg"
QUALITY = {"AVIF": {"quality": 60, "speed": 8}, "WEBP": {"quality": 80}}  # common practice, no source
TILE = "4x3"  # the shape in which a page shows a tile, whole
ALONE = (960, 540)  # inside a page that is one file
DRAWING = "image/svg+xml"
UPRIGHT = Fraction(32, 27)  # width over height, under which 16 by 9 would cut more than a third off


@frozen
class SitePhoto:
    """A photo of the site: its files, how the page shows it, and which of the files are its shapes."""

    files: Mapping[str, bytes]
    shown: PagePhoto
    shapes: tuple[str, ...]


def shown_as(photo: model.Photo | None, made: tuple[Layer, ...]) -> str:
    """The file beside a recipe's page that shows it in a list; empty where it has no picture."""
    if photo:
        return "photo.svg" if is_drawing(photo.file) else SMALL_FILE
    return "tile.svg" if made else ""


def alone(photo: model.Photo, data: bytes, keep: Keep = at_once) -> PagePhoto:
    """The photo inside the page itself.

    Raises:
        PictureRefused: as `ready`.
    """
    if is_drawing(photo.file):
        return _photo(photo, data_uri(DRAWING, data), _sized(data), upright=_upright(photo, data))
    upright = _upright(photo, data)
    made = kept_ready(keep, photo.file, data, photo.focus, _box(SHAPES["1x1"] if upright else ALONE))
    return _photo(photo, data_uri("image/jpeg", made), _size(made), upright=upright)


def for_site(photo: model.Photo, data: bytes, keep: Keep = at_once) -> SitePhoto:
    """The photo as files beside the page; a page shows a drawing itself, others take its shapes as dots.

    Raises:
        PictureRefused: as `ready`.
    """
    if is_drawing(photo.file):
        files = _shapes_of_drawing(data, photo.focus, keep)
        shown = _photo(photo, "photo.svg", _sized(data), upright=_upright(photo, data))
        return SitePhoto(files={"photo.svg": data, **files}, shown=_shared(shown, files), shapes=tuple(files))
    made = partial(kept_ready, keep, photo.file, data, photo.focus)
    files = {_named(shape): made(_box(size)) for shape, size in SHAPES.items()}
    shapes = tuple(files)
    upright = _upright(photo, data)
    smaller = {"photo-half.jpg": HALF} if upright else {SMALL_FILE: SMALL, "photo-middle.jpg": MIDDLE}
    files |= {name: made(_box(size)) for name, size in {SMALL_FILE: SMALL, **smaller}.items()}
    widths = (*smaller, _named("1x1" if upright else WIDEST))
    others = {
        _renamed(name, kind): keep(data, f"{photo.focus} {kind} {name}", partial(_encoded, files[name], kind))
        for kind in QUALITY
        for name in widths
    }
    shown = replace(
        _photo(photo, widths[-1], _size(files[widths[-1]]), _widths(files, widths), upright=upright),
        sources=tuple((f"image/{kind.lower()}", _widths(files, widths, kind)) for kind in QUALITY),
    )
    return SitePhoto(files=files | others, shown=_shared(shown, files), shapes=shapes)


def _widths(files: Mapping[str, bytes], names: tuple[str, ...], kind: str = "") -> str:
    """A ``srcset``: each file with its dots across, once each width; a small photo has one alone."""
    sizes = {_size(files[name])[0]: name for name in names}
    return ", ".join(f"{_renamed(name, kind)} {wide}w" for wide, name in sorted(sizes.items()))


def _renamed(name: str, kind: str) -> str:
    return f"{name.removesuffix('.jpg')}.{kind.lower()}" if kind else name


def _encoded(jpeg: bytes, kind: str) -> bytes:
    """A picture made ready in another format, which has fewer bytes."""
    out = io.BytesIO()
    with Image.open(io.BytesIO(jpeg)) as image:
        image.save(out, kind, **QUALITY[kind])
    return out.getvalue()


def tile_alone(view: PageView, templates: Path) -> PagePhoto:
    """The tile of a recipe that has no photo, inside the page itself."""
    drawing = tile(view.tile, view.name, templates, SHAPES[TILE], view.card.say)
    return replace(_tile(view), source=data_uri(DRAWING, drawing))


def tile_for_site(view: PageView, templates: Path, keep: Keep = at_once) -> SitePhoto:
    """The tile as files beside the page: a drawing, and laid out anew in each shape as dots."""
    named = view.name, templates
    drawings = {shape: tile(view.tile, *named, size, view.card.say) for shape, size in SHAPES.items()}
    dots = {
        f"tile-{shape}.png": keep(
            drawings[TILE],
            f"tile {digest_of(drawing)} {SHAPES[shape]}",
            partial(rastered, drawing, SHAPES[shape][0]),
        )
        for shape, drawing in drawings.items()
    }
    shown = _tile(view)
    files = {shown.source: drawings[TILE], **dots}
    return SitePhoto(files=files, shown=_shared(shown, dots), shapes=tuple(dots))


def _tile(view: PageView) -> PagePhoto:
    wide, high = SHAPES[TILE]
    alt = spoken(view.tile, view.card.say)
    return PagePhoto(source="tile.svg", alt=alt, credit=text(""), width=wide, height=high, upright=True)


def _shared(shown: PagePhoto, files: Mapping[str, bytes]) -> PagePhoto:
    """With the widest shape as the picture of whoever links to the page.

    Source: The Open Graph protocol (ogp.me), og:image, from memory; a wide one is common practice, no source.
    """
    name = next(name for name in files if WIDEST in name)
    return replace(shown, shared=name, shared_size=_size(files[name]))


def _shapes_of_drawing(data: bytes, focus: str, keep: Keep) -> dict[str, bytes]:
    """A drawing as dots, cropped to each shape."""
    return {
        _named(shape): keep(data, f"drawn {focus} {size}", partial(_drawn, data, focus, size))
        for shape, size in SHAPES.items()
    }


@lru_cache(maxsize=24)
def _drawn(data: bytes, focus: str, size: tuple[int, int]) -> bytes:
    return cropped(_dots(data), focus, _box(size))


@lru_cache(maxsize=2)
def _dots(drawing: bytes) -> Any:
    return as_picture(drawing, _enough(shape_of("photo.svg", drawing)))


def _enough(shape: Fraction) -> int:
    """How many dots across a picture of this shape has enough of them for every other shape."""
    return ceil(max(max(Fraction(wide), high * shape) for wide, high in SHAPES.values()))


def _named(shape: str) -> str:
    return f"photo-{shape}.jpg"


def _sized(drawing: bytes) -> tuple[int, int]:
    """What a page says of a drawing's size, so that its place is kept until it is there."""
    wide = SHAPES[WIDEST][0]
    return wide, round(wide / shape_of("photo.svg", drawing))


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
