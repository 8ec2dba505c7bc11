"""What was found in recipes when they were last checked: one that rests on the same is not checked again.

A recipe's findings rest on its files, byte by byte, and on what all recipes rest on (`inputs`, as for
judging). The notes are a manifest of their own below build/, by which nothing is ever printed.
"""

from __future__ import annotations

from contextlib import suppress

from cardsmith.engine.freshness.comparing import Looker
from cardsmith.engine.freshness.fingerprint import fingerprint
from cardsmith.engine.freshness.inputs import SCOPES, grounds, in_scope
from cardsmith.engine.freshness.manifest import Kept, Manifest, dump, load
from cardsmith.files.reading import Refused
from cardsmith.house.publication import Publication

CHECKED = ".cache/checked"  # below build/
_THROUGH = ".cache/tmp"
_SCOPE = "judging"


class Notes:
    """The findings of a publication's recipes, each under the key of what it rests on.

    To be opened before the house is read: what is edited from then on is checked once more.
    """

    def __init__(self, publication: Publication) -> None:
        self._publication = publication
        before = load(publication.output.read(CHECKED))
        self._kept = dict(before.recipes)
        self._looker = Looker(publication.root, before.stamps)
        self._grounds = self._now(self._looker)
        self._changed = bool(self._looker.renewed)

    def known(self, name: str, digest: str) -> Kept | None:
        """What is noted of a recipe whose files have this digest; None where it must be checked."""
        kept = self._kept.get(name)
        return kept if kept and kept.keys == self._key(digest) else None

    def note(self, kept: Kept, digest: str) -> None:
        """Note what was found in a recipe whose files had this digest."""
        self._kept[kept.name] = Kept(
            name=kept.name,
            keys=self._key(digest),
            records=kept.records,
            answered=kept.answered,
            entry=kept.entry,
        )
        self._changed = True

    def save(self) -> None:
        """Write the notes, unless what all recipes rest on has changed meanwhile, or none can be written."""
        looker = Looker(self._publication.root, self._looker.stamps)
        if not self._changed or self._now(looker) != self._grounds:
            return
        recipes = {
            name: kept for name, kept in self._kept.items() if kept.keys[_SCOPE].startswith(self._grounds)
        }
        with suppress(OSError, Refused):  # a check is no less true for it
            data = dump(Manifest(recipes=recipes, stamps=looker.stamps))
            self._publication.output.write(CHECKED, data, _THROUGH)
            self._changed = False

    def _now(self, looker: Looker) -> str:
        inputs = grounds(self._publication.templates, self._publication.tables, looker.digest)
        return fingerprint(in_scope(inputs, SCOPES[_SCOPE]))

    def _key(self, digest: str) -> dict[str, str]:
        return {_SCOPE: f"{self._grounds} {digest}"}
