"""What the search in the reader's browser looks through: a script file, so it works from a disk too."""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import cache
from typing import Any

from cardsmith.facts.foods.allergens import named_by_law, word_by_law
from cardsmith.reference import table
from cardsmith.site.collection.allergens import listed
from cardsmith.site.collection.groups import in_order
from cardsmith.site.entry import Entry


def search_data(entries: Iterable[Entry], laws: tuple[str, ...]) -> bytes:
    """``searchable = […]``: the words of each recipe, what the filters use, and what readers call things."""
    records = [_searchable(entry) for entry in in_order(entries)]
    lines = ",\n".join(json.dumps(record, ensure_ascii=False, separators=(",", ":")) for record in records)
    spoken = json.dumps(_spoken(laws), ensure_ascii=False, separators=(",", ":"))
    return f"globalThis.searchable = [\n{lines}\n];\nglobalThis.spoken = {spoken};\n".encode()


@cache
def _spoken(laws: tuple[str, ...]) -> dict[str, dict[str, tuple[str, ...]]]:
    """What readers type: of an allergen the words of the filters, of a thing what else it is called."""
    meanings: dict[str, dict[str, tuple[str, ...]]] = {"allergen": named_by_law(), "same": {}}
    for row in table("search_words"):
        means = meanings[row["sort"]].get(row["said"], ()) if row["sort"] == "allergen" else ()
        meanings[row["sort"]][row["said"]] = tuple(dict.fromkeys((*means, *row["means"].split("|"))))
    by_law = {
        said: tuple(word_by_law(meaning, laws) for meaning in means)
        for said, means in meanings["allergen"].items()
    }
    return {**meanings, "allergen": by_law}


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
