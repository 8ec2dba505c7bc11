"""What an edition asks of a recipe's author, as findings."""

from __future__ import annotations

from cardsmith.finding import Finding, Severity, Where

ASKS = "edition-asks"


def asked(
    where: Where,
    what: str,
    instead: str,
    about: str = "",
    *,
    name: str = ASKS,
    severity: Severity = Severity.WARNING,
) -> Finding:
    """A query of an edition; ``about`` is the text that it points at."""
    return Finding(
        name=name, severity=severity, where=where, what=what, instead=instead, width=max(1, len(about))
    )
