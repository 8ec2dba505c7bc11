"""The feed once more for programs that read JSON: the same entries by the same ids.

Source: JSON Feed version 1.1 (jsonfeed.org/version/1.1), seen in a stored copy.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from html import escape
from typing import Any

from cardsmith.house.style import House
from cardsmith.render.typeset import marks
from cardsmith.site import addresses
from cardsmith.site.collection.feed import entry_id, moment, newest, paragraphs
from cardsmith.site.entry import Entry
from cardsmith.words import fixed_words

VERSION = "https://jsonfeed.org/version/1.1"


def json_feed(entries: Iterable[Entry], house: House) -> bytes | None:
    """The feed; None where nothing was published yet or the site has no address."""
    shown = newest(entries)
    if not shown or not house.site.address:
        return None
    values = {
        "version": VERSION,
        "title": marks(house.name),
        "description": marks(house.tagline),
        "home_page_url": house.site.address,
        "feed_url": addresses.address(house.site, addresses.of_edition(addresses.JSON_FEED, house.edition)),
        "icon": addresses.address(house.site, "icon-512.png"),
        "language": house.language,
        "authors": [{"name": marks(house.credit or house.name)}],
        "items": [_item(entry, house) for entry in shown],
    }
    return (json.dumps(_filled(values), ensure_ascii=False, indent=1) + "\n").encode()


def _item(entry: Entry, house: House) -> dict[str, Any]:
    say = fixed_words(house.language)
    texts = paragraphs(entry, say)
    filed = (say.heading(entry.course), say.heading(entry.group))
    return _filled(
        {
            "id": entry_id(entry, house.site),
            "url": addresses.address(house.site, addresses.recipe_path(entry.name)),
            "title": entry.title,
            "summary": entry.headnote,
            "content_html": "".join(f"<p>{escape(text)}</p>" for text in texts),
            "date_published": moment(entry.published),
            "date_modified": moment(entry.updated),
            "tags": list(dict.fromkeys((*filed, *entry.keywords))),
        }
    )


def _filled(values: dict[str, Any]) -> dict[str, Any]:
    """What is not known is left out."""
    return {key: value for key, value in values.items() if value}
