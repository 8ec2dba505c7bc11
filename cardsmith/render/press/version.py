"""Which version of a recipe a press file holds, written into it and read from it again."""

from __future__ import annotations

import re

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen


@frozen
class Version:
    """Which recipe a press file holds, for its slug and its dates."""

    recipe: str  # the folder's name
    mark: str  # begins the hash of the recipe file
    proof: int = 0  # number of the last proof; 0 for none
    date: str = ""  # of that proof, else of the last trial: 2026-04-02; empty where there is none
    made: str = ""  # the day on which the file is written; nowhere in its text

    def __str__(self) -> str:
        issued = f"proof {self.proof}" if self.proof else "no proof issued"
        return f"{self.recipe} · version {self.mark} · {issued} · {self.date or 'undated'}"

    @property
    def day(self) -> str:
        """The date of the document: its own, else the day on which it is written; never one made up."""
        if not (day := self.date or self.made):
            raise ValueError(f"{self.recipe}: a press file must have a date")
        return day

    @property
    def short(self) -> str:
        """The short form: the mark, and the proof if there is one."""
        return f"{self.mark} proof {self.proof}" if self.proof else self.mark


_VERSION = re.compile(r"(.+) · version (\w+) · (?:proof (\d+)|no proof issued) · (?:([\d-]+)|undated)")


def read_version(text: str) -> Version:
    """A version from its text, as a press file holds it in ``dc:identifier``.

    Raises:
        CardsmithError: the text is no version.
    """
    match = _VERSION.fullmatch(text)
    if match is None:
        raise CardsmithError(f"{text!r} names no version of a recipe; build the card again")
    recipe, mark, proof, date = match.groups()
    return Version(recipe=recipe, mark=mark, proof=int(proof or 0), date=date or "")
