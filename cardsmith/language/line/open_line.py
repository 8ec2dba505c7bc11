"""An ingredient line while it is read: what is left of its text, and what was found.

>>> rest = Rest(text="pork chops, 6 (225 g each)", head=Head())
>>> rest.blank(10, 26)
>>> rest.text.rstrip()
'pork chops'
"""

from __future__ import annotations

from dataclasses import dataclass, field

from cardsmith.language.faults import Fault
from cardsmith.language.line.statements import Head


@dataclass(slots=True, kw_only=True)
class Rest:
    """A line behind its amount while it is read: what is found in its brackets is blanked out of it."""

    text: str
    head: Head
    pieces: list[tuple[str, int]] = field(default_factory=list)  # words and where they begin
    notes: list[str] = field(default_factory=list)  # brackets that hold no amount
    uses: list[str] = field(default_factory=list)  # more of the same, with its amount
    alternatives: list[str] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    between: str = ""  # "of"
    each: bool = False  # whether the amount is that of each food

    def blank(self, start: int, end: int) -> None:
        """Take the characters from ``start`` up to ``end`` out; the others keep their places."""
        self.text = self.text[:start] + " " * (end - start) + self.text[end:]

    def part(self, place: int) -> None:
        """Set a comma at ``place``, which is blank."""
        self.text = self.text[:place] + "," + self.text[place + 1 :]
