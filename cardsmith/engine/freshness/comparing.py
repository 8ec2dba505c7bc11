"""What still holds of the last build, and why the rest does not: content decides, dates only save reading."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from cardsmith.engine.freshness.manifest import Kept
from cardsmith.files.reading import ABSENT, Stamp, stamp_of


class Looker:
    """Looks at files, and reads one only where its date, size or inode is not as it was."""

    def __init__(self, folder: Path, known: Mapping[str, Stamp] | None = None) -> None:
        self._folder = str(folder)
        self._known = dict(known or {})
        self.renewed: dict[str, Stamp] = {}  # same content, another date: worth noting, to spare the reading

    def digest(self, file: Path) -> str:
        """The digest of a file that many recipes rest on."""
        path = str(file)
        known = self._known.get(path)
        now = self.look(path, known) if known else stamp_of(file)
        if now != known:
            self.renewed[path] = self._known[path] = now
        return now.digest

    @property
    def stamps(self) -> Mapping[str, Stamp]:
        """Of every file looked at by `digest`, or known before."""
        return self._known

    def look(self, path: str, known: Stamp) -> Stamp:
        """The stamp of the file as it is now; ``known`` itself where it looks the same."""
        whole = os.path.join(self._folder, path)  # noqa: PTH118 - thousands of times; Path is ten times slower
        try:
            seen = os.stat(whole)  # noqa: PTH116
        except OSError:
            return known if known.digest == ABSENT else Stamp(digest=ABSENT)
        own = None if os.path.isabs(path) else self._folder  # noqa: PTH117 - as above
        try:
            return known if known.looks_like(seen) else stamp_of(whole, own)
        except OSError:
            return Stamp(digest=ABSENT)  # who makes the card finds it refused, and says so


def renewed(stamps: Mapping[str, Stamp], looker: Looker) -> dict[str, Stamp]:
    """The same files with the stamps they have now."""
    return {path: looker.look(path, known) for path, known in stamps.items()}


def changed_reads(kept: Kept, now: Mapping[str, Stamp]) -> Iterator[str]:
    """Which of a recipe's own files are not as they were, in words; ``now`` holds their stamps of today."""
    for path, known in kept.reads.items():
        if now[path].digest == known.digest:
            continue
        what = "is new" if known.digest == ABSENT else "is gone" if now[path].digest == ABSENT else "changed"
        yield f"{path} {what}"


def changed_grounds(
    kept: Kept, digests: Mapping[str, str], before: Mapping[str, Mapping[str, str]], scopes: Scopes
) -> Iterator[str]:
    """Which of the things all recipes rest on are not as they were, in words.

    ``digests`` are those of the scopes today, ``before`` says what each one of the last build stood for, and
    ``scopes`` gives what one stands for today.
    """
    for scope, digest in digests.items():
        if kept.grounds.get(scope) == digest:
            continue
        old, new = before.get(kept.grounds.get(scope, "")), scopes(scope)
        if old is None:
            yield f"what {scope} rests on is not known"
            continue
        for name in sorted({*old, *new}):
            if old.get(name) != new.get(name):
                yield _in_words(name, old.get(name), new.get(name))


Scopes = Callable[[str], Mapping[str, str]]


def damaged(kept: Kept, now: Mapping[str, Stamp]) -> Iterator[tuple[str, str]]:
    """Products whose files are not as they were written, each with what is wrong."""
    for product, files in kept.files.items():
        for path, known in files.items():
            if now[path].digest != known.digest:
                what = "is missing" if now[path].digest == ABSENT else "was altered"
                yield product, f"build/{path} {what}"


def _in_words(name: str, old: str | None, new: str | None) -> str:
    if name == "cardsmith":
        return "cardsmith itself changed"
    if name.startswith("library/"):
        return f"{name.removeprefix('library/')} is {new or 'missing'}, was {old or 'missing'}"
    return f"{name} {'is new' if old is None else 'is gone' if new is None else 'changed'}"
