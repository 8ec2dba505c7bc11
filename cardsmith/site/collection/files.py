"""The site's files as a whole: pages that lead to the recipes, search, feed, sitemap, fonts and icons."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from functools import cache, partial
from pathlib import Path
from typing import Any

from jinja2 import Environment

from cardsmith.house.style import House
from cardsmith.language.stops import stops
from cardsmith.render.templates import environment
from cardsmith.render.typeset import NO_BREAK, marks, shortened
from cardsmith.site import addresses
from cardsmith.site.assets import script
from cardsmith.site.collection import neighbours
from cardsmith.site.collection.allergens import words
from cardsmith.site.collection.feed import feed
from cardsmith.site.collection.frame import NO_SCRIPT, Frame, frame_of
from cardsmith.site.collection.groups import (
    TIMES,
    by_allergen,
    by_course,
    by_kind,
    by_quarter,
    by_time,
    in_order,
    in_order_of_days,
    together,
)
from cardsmith.site.collection.json_feed import json_feed
from cardsmith.site.collection.licences import licences
from cardsmith.site.collection.redirects import moved, moved_table
from cardsmith.site.collection.search import search_data
from cardsmith.site.collection.sitemap import robots, sitemap
from cardsmith.site.dates import long_date
from cardsmith.site.entry import Entry
from cardsmith.site.ways import WAYS
from cardsmith.words import FixedWords, fixed_words

SEASON = "site/quarter.js"  # below templates/
NEWEST = 4  # recipes at the top of the first page
_ABOUT = 150  # characters of a headnote in an index


def collection(entries: Iterable[Entry], house: House, templates: Path) -> dict[str, bytes]:
    """Every file of the site but the recipes' own pages, by its path below ``build/site/``."""
    every = in_order(entries)
    files: dict[str, bytes | None] = {
        addresses.SITEMAP: sitemap(every, house),
        addresses.ROBOTS: robots(house),
        addresses.MANIFEST: _manifest(house),
        addresses.MOVED: moved_table((*every, *(edition for entry in every for edition in entry.editions))),
        addresses.LICENCES: licences(templates),
    }
    every_edition = _by_edition(every, house)
    pages: dict[str, str] = {}
    for key, of_edition in every_edition.items():
        style = house.in_edition(key)
        files |= {addresses.of_edition(name, key): data for name, data in _data(of_edition, style).items()}
        files |= neighbours.neighbour_files(of_edition, fixed_words(style.language), style.dated_in)
        editions = (house.home, *list(every_edition)[1:]) if len(every_edition) > 1 else ()
        pages |= dict(_pages(of_edition, style, templates, editions))
    made = {path: data for path, data in files.items() if data is not None}
    return {**standing(templates), **made, **{path: text.encode() for path, text in pages.items()}}


def _by_edition(every: tuple[Entry, ...], house: House) -> dict[str, tuple[Entry, ...]]:
    """The recipes of the house's own edition, then of each further one that any of them is in."""
    return {"": every} | {
        key: others
        for key in house.further
        if (
            others := tuple(
                edition for entry in every for edition in entry.editions if edition.edition == key
            )
        )
    }


def tells_of(entries: Iterable[Entry], house: House, templates: Path) -> dict[str, frozenset[str]]:
    """Those files of the collection that do not tell of all recipes: of which, by their folders' names."""
    tells_of: dict[str, frozenset[str]] = dict.fromkeys(standing(templates), frozenset())
    for key, of_edition in _by_edition(in_order(entries), house).items():
        style = house.in_edition(key)
        tells_of |= neighbours.tells_of(of_edition, fixed_words(style.language), style.dated_in)
    return tells_of


def _data(every: tuple[Entry, ...], house: House) -> dict[str, bytes | None]:
    """What an edition has beside its pages: its feeds, and what its scripts read."""
    return {
        addresses.FEED: feed(every, house),
        addresses.JSON_FEED: json_feed(every, house),
        addresses.SEARCH: search_data(every, house.allergen_lists),
    }


def _pages(
    every: tuple[Entry, ...], house: House, templates: Path, editions: tuple[str, ...]
) -> Iterator[tuple[str, str]]:
    """The pages of an edition by their paths; ``editions`` are those that the site has."""
    name, say = marks(house.name), fixed_words(house.language)
    has_feed = feed(every, house) is not None

    def page(
        page: str, template: str, title: str, about: str, *, canonical: str = "", **values: Any
    ) -> tuple[str, str]:
        in_all = page in {page_path for page_path, _ in WAYS}
        path = addresses.of_edition(page, house.edition) if in_all else page
        frame = frame_of(
            path,
            f"{title} – {name}" if title else name,
            about,
            house,
            templates,
            feed=has_feed,
            editions=editions if in_all else (),
            canonical=canonical,
            listed=template != "404",
            code=script(templates, SEASON) if template == "home" else NO_SCRIPT,
        )
        return path, _render(templates, template, frame, {"say": say, **values}, house.dated_in)

    courses, kinds = by_course(every, say), by_kind(every, say)
    yield page(
        addresses.HOME,
        "home",
        "",
        marks(house.tagline) or say("Recipes from {house}", house=name),
        courses=courses,
        sections=together(courses),
        newest=in_order_of_days(every)[:NEWEST],
        quarters=by_quarter(every, house.language, turned=house.turned),
        kinds=kinds,
        times=[(most, say(words)) for most, words in TIMES if most],
        allergens=words(every),
    )
    about = say("The recipes of {house} by kind", house=name)
    heading = say("Recipes by kind")
    yield page(addresses.KINDS, "groups", say("By kind"), about, heading=heading, groups=kinds)
    about = say("The recipes of {house} by the time they take", house=name)
    heading, timed = say("Recipes by time"), by_time(every, say)
    yield page(addresses.TIMES, "groups", say("By time"), about, heading=heading, groups=timed)
    yield page(
        addresses.ALLERGENS,
        "allergens",
        say("By allergen"),
        say("Which recipes of {house} list which allergen", house=name),
        groups=by_allergen(every),
        unknown=[entry for entry in every if entry.unknown_foods],
    )
    about = say("There is no page at this address")
    if not house.edition:
        yield page(addresses.NOT_FOUND, "404", say("No such page"), about)
    for former, entry in moved(every).items():
        path = addresses.recipe_path(former)
        name_now = addresses.recipe_path(entry.name)
        target = addresses.link(path, name_now)
        about = say("{title} has a new address", title=entry.title)
        values = {"target": target, "moved_to": entry.title}
        yield page(path, "moved", entry.title, about, canonical=name_now, **values)


def _render(templates: Path, template: str, frame: Frame, values: Mapping[str, Any], language: str) -> str:
    return (
        _environment(templates, language)
        .get_template(f"site/{template}.html.j2")
        .render(frame=frame, **values)
    )


@cache
def _environment(templates: Path, language: str) -> Environment:
    made = environment(templates).overlay()
    made.filters = {
        **made.filters,
        "opening": _opening,
        "facts": facts_of,
        "day": partial(long_date, language=language),
    }
    return made


def facts_of(entry: Entry, say: FixedWords) -> str:
    """``1 hour 5 minutes · Contains egg, milk · Perhaps celery``."""
    contains, perhaps = (
        ", ".join(say.heading(word).replace(" ", NO_BREAK) for word in words)
        for words in (entry.sure_allergens, entry.possible_allergens)
    )
    lines = (
        entry.total,
        say("Contains {allergen}", allergen=contains) if contains else "",
        say("Perhaps {allergen}", allergen=perhaps) if perhaps else "",
    )
    return " · ".join(fact for fact in lines if fact)


def _opening(text: str) -> str:
    """As many whole sentences as an index has room for; a first one that is too long is shortened."""
    ends = [end for stop, end in stops(text) if text[stop] != ";" and end <= _ABOUT]
    return text[: ends[-1]].rstrip() if ends else shortened(text, _ABOUT)


def _manifest(house: House) -> bytes:
    """W3C, Web Application Manifest: the site kept on a telephone's first screen."""
    sizes = (192, 512)
    icons = [{"src": f"icon-{size}.png", "sizes": f"{size}x{size}", "type": "image/png"} for size in sizes]
    values = {
        "name": marks(house.name),
        "lang": house.language,
        "start_url": addresses.HOME,
        "scope": "./",
        "display": "browser",
        "icons": [*icons, {"src": "icon.svg", "sizes": "any", "type": "image/svg+xml"}],
    }
    return (json.dumps(values, indent=2, ensure_ascii=False) + "\n").encode()


@cache
def standing(templates: Path) -> Mapping[str, bytes]:
    """Files that are copied as they are: fonts, icons, scripts."""
    folders = ((templates / "site" / "files", ""), (templates / "webfonts", f"{addresses.FONTS}/"))
    return {
        prefix + file.name: file.read_bytes()
        for folder, prefix in folders
        for file in sorted(folder.iterdir())
        if file.is_file()
    }
