"""Finished press files, given out only while they are what a build would make now.

Twenty copies of yesterday's card are twenty wrong cards. What a card rests on is the build's own account of
it (`manifest`), and whether that still holds is asked as the build asks it (`comparing`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain
from pathlib import Path

from cardsmith.engine.freshness.comparing import Looker, changed_grounds, changed_reads, renewed
from cardsmith.engine.freshness.fingerprint import fingerprint
from cardsmith.engine.freshness.inputs import SCOPES, grounds, in_scope
from cardsmith.engine.freshness.manifest import Kept, Manifest, load
from cardsmith.engine.machine.output import MANIFEST
from cardsmith.files.reading import digest_of
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication
from cardsmith.language.listing import listed

_SCOPES = ("judging", "paper")  # what a press file rests on; a template of the web page is nothing to it
_MOST = 4  # names in one line of a message


def press_files(
    publication: Publication, files: Mapping[str, Path], ending: str, edition: str = ""
) -> tuple[bytes, ...]:
    """The press file of each recipe in an edition, whose name ends in ``-press`` and ``ending``.

    Raises:
        CardsmithError: some of them are to be built first, with why.
    """
    known = _Known(publication)
    press_files: list[bytes] = []
    why: dict[str, list[str]] = {}
    for name, file in files.items():
        path = f"cards/{name}/{name}{f'-{edition}' if edition else ''}-press{ending}.pdf"
        data = publication.output.read(path) or b""
        for reason in known.why(name, file, path, data):
            why.setdefault(reason, []).append(name)
        press_files.append(data)
    if why:
        raise CardsmithError(_refusal(why, len(files)))
    return tuple(press_files)


def _refusal(why: Mapping[str, list[str]], count: int) -> str:
    names = list(dict.fromkeys(chain.from_iterable(why.values())))
    command = "cardsmith build" if len(names) > _MOST else f"cardsmith build {' '.join(names)}"
    reasons = [f"  {_whose(whose, count)}: {reason}" for reason, whose in why.items()]
    return "\n".join([f"build first (`{command}`): these are not what a build would make now", *reasons])


def _whose(names: list[str], count: int) -> str:
    if len(names) == count > 1:
        return f"all {count} cards"
    more = len(names) - _MOST
    return listed([*names[:_MOST], f"{more} more"]) if more > 0 else listed(names)


class _Known:
    """What the last build noted, beside what stands there now."""

    def __init__(self, publication: Publication) -> None:
        self._publication = publication
        self._manifest: Manifest = load(publication.output.read(MANIFEST))
        self._looker = Looker(publication.root, self._manifest.stamps)
        every = grounds(publication.templates, publication.tables, self._looker.digest)
        self._grounds = {name: in_scope(every, SCOPES[name]) for name in _SCOPES}
        self._digests = {name: fingerprint(names) for name, names in self._grounds.items()}

    def why(self, name: str, file: Path, path: str, press: bytes) -> Iterator[str]:
        """Why a press file is not what a build would make; nothing where it is."""
        kept = self._manifest.recipes.get(name)
        if kept is None or self._publication.shown(file) not in kept.reads:
            yield "it was not built yet"
            return
        changed = list(self._changed(kept))
        yield from changed
        known = dict(kept.paths()).get(path)
        if known is None:
            if not changed:
                yield "the last build made no press file of it; the next says why"
        elif not press:
            yield f"{self._publication.shown(self._publication.build / path)} is missing"
        elif digest_of(press) != known.digest:
            yield f"{self._publication.shown(self._publication.build / path)} was altered"

    def _changed(self, kept: Kept) -> Iterator[str]:
        yield from changed_reads(kept, renewed(kept.reads, self._looker))
        yield from dict.fromkeys(
            changed_grounds(kept, self._digests, self._manifest.grounds, self._grounds.__getitem__)
        )
