"""Something wrong in a line of text, before the text has a place in a file."""

from __future__ import annotations

from cardsmith.finding import Finding, Severity, Where
from cardsmith.frozen import frozen


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
