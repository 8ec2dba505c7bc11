"""A recipe's page in its two places: a file by itself, and in the site, with the ways to the rest of it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

from cardsmith.house import House
from cardsmith.recipe import model
from cardsmith.render.pictures import RESOLUTION, Box, is_drawing, ready
from cardsmith.render.typeset import marks
from cardsmith.site import addresses
from cardsmith.site.aloud import text
from cardsmith.site.assets import data_uri
from cardsmith.site.page import Links, render_page
from cardsmith.site.page_view import PageView, Photo

_DOTS = (960, 540)  # of a photo on a page


def recipe_pages(
    view: PageView, house: House, templates: Path, photo: model.Photo | None, photos: Mapping[str, bytes]
) -> dict[str, bytes]:
    """Both pages, and the photo of the second, by path below build/.

    Raises:
        PictureRefused: the photo can't be shown.
    """
    path = addresses.recipe_path(view.name)
    links = Links(
        home=addresses.link(path, addresses.HOME),
        feed=addresses.link(path, addresses.FEED) if view.published and house.site.address else "",
        icon=addresses.link(path, "icon.svg"),
        canonical=addresses.address(house.site, path),
    )
    alone = f"cards/{view.name}/{view.name}.html"
    if photo is None or photo.file not in photos:
        return {
            alone: render_page(view, templates).encode(),
            f"site/{path}": render_page(view, templates, links=links).encode(),
        }
    kind, ending, data = _for_web(photo, photos[photo.file])
    file = f"photo.{ending}"
    inside, beside = (
        Photo(source=source, alt=marks(photo.alt), credit=text(photo.credit))
        for source in (data_uri(kind, data), file)
    )
    return {
        alone: render_page(view, templates, photo=inside).encode(),
        f"site/{path}": render_page(view, templates, photo=beside, links=links).encode(),
        f"site/{addresses.recipe_path(view.name).removesuffix('index.html')}{file}": data,
    }


def _for_web(photo: model.Photo, data: bytes) -> tuple[str, str, bytes]:
    """Its media type, its file's ending, its bytes: a drawing as it is, a photo cropped about its focus."""
    if is_drawing(photo.file):
        return "image/svg+xml", "svg", data
    wide, high = (Fraction(dots * 72, RESOLUTION) for dots in _DOTS)
    return "image/jpeg", "jpg", ready(photo.file, data, photo.focus, Box(width=wide, height=high))
