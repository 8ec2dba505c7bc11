"""What every stage says about an author's work: where, what is wrong, and what to write instead."""

from __future__ import annotations

import enum
from dataclasses import dataclass, field

from cardsmith.frozen import frozen


class CardsmithError(Exception):
    """A fault in how cardsmith was asked to work (not in a recipe): one line, exit code 2."""


@enum.unique
class Severity(enum.StrEnum):
    """How much a finding matters; ``rank`` orders them, the gravest first."""

    ERROR = "error"  # the card must not print
    WARNING = "warning"  # a query the author must answer
    NOTE = "note"  # style

    @property
    def rank(self) -> int:
        """0 for the gravest."""
        return list(Severity).index(self)


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Where:
    """A place in an author's file; line and column count from 1, 0 means unknown."""

    file: str
    line: int = 0
    column: int = 0
    field: str = ""  # path inside the recipe: parts[0].ingredients[2]

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        return place if self.column or not self.line else f"{self.file}:{self.line}"

    def at(self, offset: int) -> Where:
        """The same line, ``offset`` characters further right."""
        return Where(file=self.file, line=self.line, column=self.column + offset, field=self.field)


@frozen
class Finding:
    """One fault or query. ``name`` is permanent: it is what ``accepted:`` and ``explain`` refer to."""

    name: str  # the fault in words: scale-missing
    severity: Severity
    where: Where
    what: str  # what is wrong, with the evidence
    instead: str  # what to write instead
    width: int = field(default=1)  # characters to underline from where.column on

    def __str__(self) -> str:
        return f"{self.where}: {self.severity}: {self.what} - {self.instead} [{self.name}]"


def error(name: str, where: Where, what: str, instead: str, about: str = "") -> Finding:
    """A finding at error; ``about`` is the text that stands there, all of which is underlined."""
    width = max(1, len(about))
    return Finding(name=name, severity=Severity.ERROR, where=where, what=what, instead=instead, width=width)


def in_order(findings: tuple[Finding, ...] | list[Finding]) -> tuple[Finding, ...]:
    """Findings as a reader wants them: by place, then the gravest first, each once."""
    unique = dict.fromkeys(findings)
    return tuple(
        sorted(unique, key=lambda finding: (finding.where, finding.severity.rank, finding.name, finding.what))
    )
