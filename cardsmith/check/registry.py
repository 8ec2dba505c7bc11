"""How a check is written down: one small function with its permanent name, why, source and remedy."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Protocol

from cardsmith.check.subject import Subject
from cardsmith.finding import Finding, Severity, Where
from cardsmith.frozen import frozen

PRACTICE = "common practice, no source"  # the source of a rule of thumb


class Placed(Protocol):
    """Anything an author wrote that knows its text and where it stands."""

    @property
    def where(self) -> Where:
        """Where it stands."""
        ...

    @property
    def text(self) -> str:
        """As written."""
        ...


@frozen
class Query:
    """What a check asks about one place; the registry adds the check's name and severity."""

    where: Where
    width: int
    what: str
    instead: str  # empty: the check's remedy
    severity: Severity | None  # None: the check's own


def query(place: Placed | Where, what: str, instead: str = "", severity: Severity | None = None) -> Query:
    """A query about ``place``: ``what`` is wrong, with the evidence, and what to write ``instead``."""
    if isinstance(place, Where):
        return Query(where=place, width=1, what=what, instead=instead, severity=severity)
    width = max(len(place.text.splitlines()[0]) if place.text else 1, 1)
    return Query(where=place.where, width=width, what=what, instead=instead, severity=severity)


Function = Callable[[Subject], Iterator[Query]]


@frozen
class Check:
    """One check. ``acceptable`` is False where an author's reason cannot make the card right or safe."""

    name: str
    severity: Severity
    about: str  # what it looks for: the function's docstring
    why: str
    source: str
    remedy: str
    acceptable: bool
    function: Function

    def __call__(self, subject: Subject) -> Iterator[Finding]:
        """The findings of this check on one recipe.

        Raises:
            Exception: whatever a faulty check raises, with the check's name added. That is our defect,
                never the author's.
        """
        try:
            for asked in self.function(subject):
                yield Finding(
                    name=self.name,
                    severity=asked.severity or self.severity,
                    where=asked.where,
                    what=asked.what,
                    instead=asked.instead or self.remedy,
                    width=asked.width,
                )
        except Exception as defect:
            defect.add_note(f"in the check {self.name!r}, on {subject.recipe.name!r}")
            raise


_taken: set[str] = set()


def check(
    name: str, severity: Severity, *, why: str, source: str, remedy: str, acceptable: bool = True
) -> Callable[[Function], Check]:
    """Register a function as the check ``name``: the fault in words, kebab-case, never changed again.

    Raises:
        ValueError: the name is taken or misspelled, or the why, source, remedy or docstring is missing.
    """

    def register(function: Function) -> Check:
        about = " ".join((function.__doc__ or "").split())
        if not re.fullmatch(r"[a-z]+(-[a-z]+)*", name):
            raise ValueError(f"{name!r}: a check is named in lower-case words joined by hyphens")
        if name in _taken:
            raise ValueError(f"two checks are named {name!r}")
        for field, text in (("why", why), ("source", source), ("remedy", remedy), ("docstring", about)):
            if not text.strip():
                raise ValueError(f"the check {name!r} has no {field}")
        _taken.add(name)
        return Check(
            name=name,
            severity=severity,
            about=about,
            why=why,
            source=source,
            remedy=remedy,
            acceptable=acceptable,
            function=function,
        )

    return register
