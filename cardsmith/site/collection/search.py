"""What the search in the reader's browser looks through: a script file, so it works from a disk too."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from cardsmith.site.collection.allergens import listed
from cardsmith.site.collection.groups import in_order
from cardsmith.site.entry import Entry


def search_data(entries: Iterable[Entry]) -> bytes:
    """``searchable = […]``: the words of each recipe, and what the filters use."""
    told = [_searchable(entry) for entry in in_order(entries)]
    lines = ",\n".join(json.dumps(one, ensure_ascii=False, separators=(",", ":")) for one in told)
    return f"globalThis.searchable = [\n{lines}\n];\n".encode()


def _searchable(entry: Entry) -> dict[str, Any]:
    return {
        "name": entry.name,
        "title": entry.title,
        "about": entry.headnote,
        "ingredients": " · ".join(entry.ingredients),
        "others": " · ".join((*entry.other_names, *entry.keywords, entry.cuisine, *entry.claims)),
        "kind": entry.group,
        "course": entry.course,
        "seconds": entry.total_seconds,
        "allergens": listed(entry),
        "known": not entry.unknown_foods,
    }
