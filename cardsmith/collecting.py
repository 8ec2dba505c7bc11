"""What the recipes make together: written anew where one of them tells something else of itself."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path

from cardsmith.house import House
from cardsmith.manifest import Kept
from cardsmith.reading import Stamp, digest_of
from cardsmith.stale import Looker, damaged, renewed

SITE = "site"  # below build/, and the name of what is made


def collected(
    recipes: Mapping[str, Kept],
    before: Kept | None,
    ground: str,
    house: Callable[[], House],
    templates: Path,
    outputs: Looker,
    write: Callable[[str, bytes], Stamp],
) -> Kept:
    """The collection's files as they are now: ``before`` where all still holds, else written with ``write``.

    ``ground`` is the digest of the templates, tables and code they rest on beside the recipes' entries.
    """
    entries = {name: kept.entry for name, kept in sorted(recipes.items()) if kept.entry and kept.keys}
    key = digest_of(json.dumps([ground, entries]).encode())
    if before and before.keys.get(SITE) == key:
        now = {product: renewed(each, outputs) for product, each in before.files.items()}
        if not any(damaged(before, {path: stamp for each in now.values() for path, stamp in each.items()})):
            return before
    from cardsmith.job import collect  # noqa: PLC0415 - all of cardsmith, and the typesetter

    made = collect(entries, house(), templates)
    files = {path: write(path, data) for path, data in made.items()}
    return Kept(name="", keys={SITE: key}, files={SITE: files})
