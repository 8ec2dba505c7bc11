"""Which cards there are, for programs that read them: where the data of each stands, and how new it is."""

from __future__ import annotations

import json
from collections.abc import Iterable

from cardsmith.house.style import House
from cardsmith.site import addresses
from cardsmith.site.entry import Entry

CARDS = "cards.json"  # below build/
FORMAT = 1  # a key keeps its meaning, new ones may come


def card_index(entries: Iterable[Entry], house: House) -> bytes:
    """Every card by its name: its title, days, the path of its data from here, and its page on the web.

    ``published``, ``updated`` and ``url`` are null where there is none. ``editions`` are the further ones.
    """
    records = [
        {
            "name": entry.name,
            "title": entry.title,
            "published": entry.published or None,
            "updated": entry.updated or None,
            "file": f"cards/{entry.name}/{entry.name}.json",
            "url": addresses.address(house.site, addresses.recipe_path(entry.name)) or None,
            "editions": [_edition(edition, entry, house) for edition in entry.editions],
        }
        for entry in sorted(entries, key=lambda entry: entry.name)
    ]
    return (json.dumps({"format": FORMAT, "cards": records}, ensure_ascii=False, indent=1) + "\n").encode()


def _edition(edition: Entry, entry: Entry, house: House) -> dict[str, str | None]:
    return {
        "edition": edition.edition,
        "title": edition.title,
        "file": f"cards/{entry.name}/{entry.name}-{edition.edition}.json",
        "url": addresses.address(house.site, addresses.recipe_path(edition.name)) or None,
    }
