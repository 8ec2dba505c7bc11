"""A recipe on the web: its page by itself and in the site, a fragment for other systems, and its data."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from cardsmith.finding import Finding, Severity, Where
from cardsmith.house.style import House
from cardsmith.recipe import model
from cardsmith.regex import regex
from cardsmith.render.pictures.prepare import Keep, at_once
from cardsmith.site import addresses
from cardsmith.site.edition_links import edition_links
from cardsmith.site.recipe_page.embed import embed_page, oembed
from cardsmith.site.recipe_page.fragment import render_fragment
from cardsmith.site.recipe_page.page import Links, render_page
from cardsmith.site.recipe_page.photo import SitePhoto, alone, for_site, tile_alone, tile_for_site
from cardsmith.site.recipe_page.view import PagePhoto, PageView
from cardsmith.site.ways import PageLink, ways

MOST = 125_000  # bytes of a page with its fonts and script, without its photo (common practice, no source)
_ALONE = regex(r"cards/(?P<name>[^/]+)/(?P=name)(?:-[a-z]+)?\.html")
_PHOTO = regex(r'src="data:image/[^"]*"')


def recipe_pages(
    view: PageView,
    house: House,
    templates: Path,
    photo: model.Photo | None,
    photos: Mapping[str, bytes],
    data: Mapping[str, Any],
    about: Mapping[str, Any],
    keep: Keep = at_once,
) -> dict[str, bytes]:
    """All files by path below build/; ``data`` is the card's record, ``about`` its schema.org description.

    ``keep`` keeps pictures made ready, or makes each anew.

    Raises:
        PictureRefused: the photo can't be shown.
    """
    path = addresses.recipe_path(view.name, view.edition)
    folder = path.removesuffix("index.html")
    feed = addresses.of_edition(addresses.FEED, view.edition)
    top = addresses.link(path, ".") + "/"
    home = top + addresses.of_edition("", view.edition)
    links = Links(
        top=top,
        home=home,
        ways=ways(home, view.card.say),
        filed=tuple(
            PageLink(href=f"{home}{page}#{addresses.anchor(heading)}", text=view.card.say.heading(heading))
            for page, heading in zip((addresses.HOME, addresses.KINDS), view.groups, strict=True)
        ),
        feed=addresses.link(path, feed) if view.published and house.site.address else "",
        canonical=addresses.address(house.site, path),
        editions=edition_links(house, view.editions, partial(addresses.recipe_path, view.name)),
        oembed=addresses.address(house.site, addresses.oembed_path(view.name, view.edition)),
    )
    inside, beside = None, None
    if photo and photo.file in photos:
        inside, beside = alone(photo, photos[photo.file], keep), for_site(photo, photos[photo.file], keep)
    elif view.tile:
        inside = tile_alone(view, templates)
        beside = tile_for_site(view, templates, keep)
    structured = dict(about) | _images(beside, links.canonical)
    shown = beside.shown if beside else None
    card = f"cards/{view.name}/{view.name}{f'-{view.edition}' if view.edition else ''}"
    record = dict(data) | {"schema_org": structured}
    wide = _wide(beside)
    abroad = replace(wide, source=links.canonical + wide.source) if wide and links.canonical else None
    pages = {  # the page of the site first, so that it is always there while a build replaces these
        f"site/{path}": render_page(view, templates, photo=shown, links=links, data=structured),
        f"{card}.html": render_page(view, templates, photo=inside, data=structured),
        f"{card}-fragment.html": render_fragment(view, templates, photo=abroad, page=links.canonical),
        f"{card}.jsonld": json.dumps(structured, ensure_ascii=False, indent=1) + "\n",
        f"{card}.json": json.dumps(record, ensure_ascii=False, indent=1) + "\n",
    }
    pictures = {f"site/{folder}{name}": picture for name, picture in (beside.files if beside else {}).items()}
    if links.canonical:
        pages[f"site/{addresses.embed_path(view.name, view.edition)}"] = embed_page(
            view, house, templates, wide
        )
        pages[f"site/{addresses.oembed_path(view.name, view.edition)}"] = oembed(
            view, house, wide, links.canonical
        )
    return {name: text.encode() for name, text in pages.items()} | pictures


def _wide(photo: SitePhoto | None) -> PagePhoto | None:
    """The photo as others show it: the widest of its shapes."""
    if not photo:
        return None
    width, height = photo.shown.shared_size
    return replace(photo.shown, source=photo.shown.shared, width=width, height=height, others="")


def weight(page: str) -> int:
    """The bytes of a page that is one file, less those of the photo in it."""
    return len(_PHOTO.sub('src=""', page).encode())


def overweight(files: Mapping[str, bytes], where: Where) -> tuple[Finding, ...]:
    """A warning where the page that is one file is slow to load; ``where``: the recipe."""
    page = next(data for name, data in files.items() if _ALONE.fullmatch(name)).decode()
    heavy = weight(page)
    if heavy <= MOST:
        return ()
    what = f"the page is {heavy // 1000} kB without its photo, more than {MOST // 1000} kB"
    instead = (
        "shorten steps and notes, leave out parts that could be a recipe of their own, or subset the fonts"
    )
    return (Finding(name="page-heavy", severity=Severity.WARNING, where=where, what=what, instead=instead),)


def _images(photo: SitePhoto | None, address: str) -> dict[str, list[str]]:
    """The photo's shapes by their web addresses; none where the site has no address yet."""
    return {"image": [address + name for name in photo.shapes]} if photo and address else {}
