"""A printed card as plain words and figures: what a proof is compared by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from cardsmith.frozen import frozen


@frozen
class FieldNumber:
    """One number of a text: as the author measured it, and as each column prints it."""

    author: str
    us: str
    metric: str


@frozen
class ProofField:
    """One text of a card: a title, a line of a list, a step. Spaces are single and plain."""

    kind: str  # title, headnote, makes, serves, part, line, step, equipment, caution, storage, note, foot …
    at: int  # counts from 0 within its kind
    place: str  # as a reader finds it: "step 3"
    words: Mapping[str, str] = field(hash=False)  # by cell; a line has us, metric, item, prep and note
    key: str = ""  # what identifies it while its words change: a fact's label, a line's food
    part: str = ""  # the component it belongs to
    figures: tuple[FieldNumber, ...] = ()

    @property
    def spot(self) -> tuple[str, int]:
        """Where it stands among all fields."""
        return self.kind, self.at

    @property
    def text(self) -> str:
        """All its words."""
        return " ".join(words for words in self.words.values() if words)
