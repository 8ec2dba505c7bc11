"""Something wrong in a line of text, before the text has a place in a file."""

from __future__ import annotations

from cardsmith.finding import Finding, Severity, Where
from cardsmith.frozen import frozen
from cardsmith.language.tokens import Tokens


@frozen
class Fault:
    """Something wrong from character ``start`` up to ``end``."""

    name: str
    severity: Severity
    start: int
    end: int
    what: str
    instead: str

    def finding(self, where: Where) -> Finding:
        """The fault as a finding, for a text that begins at ``where``."""
        return Finding(
            name=self.name,
            severity=self.severity,
            where=where.at(self.start),
            what=self.what,
            instead=self.instead,
            width=max(1, self.end - self.start),
        )


def refused(
    name: str, start: int, end: int, what: str, instead: str, severity: Severity = Severity.ERROR
) -> Fault:
    """A fault for which a text does not print, unless it is less severe."""
    return Fault(name=name, severity=severity, start=start, end=end, what=what, instead=instead)


def fault_at(
    tokens: Tokens,
    first: int,
    end: int,
    name: str,
    what: str,
    instead: str,
    severity: Severity = Severity.ERROR,
) -> Fault:
    """The fault of the tokens from ``first`` up to ``end``, whose text stands for the ``{}`` of ``what``."""
    what = what.replace("{}", tokens.between(first, end))
    return refused(name, tokens[first].start, tokens[end - 1].end, what, instead, severity)
