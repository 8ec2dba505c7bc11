"""What the recipes make together: written again where what one of them says of itself has changed."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path

from cardsmith.engine.freshness.comparing import Looker, changed_grounds, damaged, renewed
from cardsmith.engine.freshness.manifest import Kept
from cardsmith.files.reading import Stamp, digest_of
from cardsmith.house.style import House

SITE = "site"  # below build/, and the name of what is made
_OF = "of"  # begins the name of what tells of some recipes alone, or of none: of, then theirs


def collected(
    recipes: Mapping[str, Kept],
    before: Kept | None,
    ground: str,
    house: Callable[[], House],
    templates: Path,
    outputs: Looker,
    replace: Callable[[Mapping[str, bytes]], Mapping[str, Stamp]],
) -> Kept:
    """The collection's files as they are now: ``before`` where all holds, else put there with ``replace``.

    ``ground`` is the digest of the templates, tables and code they rest on beside the recipes' entries.
    """
    entries = {name: kept.told_of for name, kept in sorted(recipes.items()) if kept.told_of}
    key = digest_of(json.dumps([ground, entries]).encode())
    now = renewed(dict(before.paths()), outputs) if before else {}
    if before and before.keys.get(SITE) == key and not any(damaged(before, now)):
        return before
    from cardsmith.engine.products.job import collect  # noqa: PLC0415 - all of cardsmith, and the typesetter

    made, telling = collect(entries, house(), templates)
    stamps = {path: now[path] for path, data in made.items() if _stands(now.get(path), data)}
    stamps |= replace({path: data for path, data in made.items() if path not in stamps})
    files: dict[str, dict[str, Stamp]] = {}
    for path in made:
        product = " ".join([_OF, *sorted(telling[path])]) if path in telling else SITE
        files.setdefault(product, {})[path] = stamps[path]
    return Kept(name="", keys={SITE: key}, grounds={SITE: ground}, files=files)


def telling(kept: Kept) -> dict[str, list[str]]:
    """The collection's files that tell of a recipe, by its name; those that tell of all under no name."""
    files_of: dict[str, list[str]] = {}
    for product, files in kept.files.items():
        names = [""] if product == SITE else product.split(" ")[1:]
        for name in names:
            files_of.setdefault(name, []).extend(files)
    return files_of


def _stands(there: Stamp | None, data: bytes) -> bool:
    return there is not None and there.digest == digest_of(data)


def why_collected(
    now: Kept, before: Kept | None, known: Mapping[str, Mapping[str, str]], grounds: Mapping[str, str]
) -> tuple[str, ...]:
    """Why the collection's files were made again, in words; empty where they were not.

    ``known`` says what the digests of the last build stood for, ``grounds`` what today's stands for.
    """
    if now is before:
        return ()
    if before is None:
        return ("it is new",)
    if now.keys == before.keys:
        return ("a file of it is missing or was altered",)
    return tuple(changed_grounds(before, now.grounds, known, lambda _: grounds)) or (
        "what it tells of the recipes changed",
    )
