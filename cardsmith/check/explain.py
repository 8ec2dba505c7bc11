"""What a check is for, told to an author."""

from __future__ import annotations

import difflib

from cardsmith.check.run import BY_NAME, CHECKS
from cardsmith.finding import CardsmithError


def explained(name: str) -> str:
    """Why the check exists, on what it rests, and what to do.

    Raises:
        CardsmithError: there is no such check.
    """
    known = BY_NAME.get(name)
    if known is None:
        near = difflib.get_close_matches(name, BY_NAME, 1)
        hint = f"did you mean {near[0]!r}?" if near else "`cardsmith explain` lists them all"
        raise CardsmithError(f"there is no check {name!r}; {hint}")
    return "\n".join(
        [
            f"{known.name} ({known.severity})",
            f"  {known.about}",
            f"  why:     {known.why}",
            f"  source:  {known.source}",
            f"  instead: {known.remedy}",
        ]
    )


def catalogue() -> str:
    """Every check in its order, one a line."""
    width = max(len(one.name) for one in CHECKS)
    return "\n".join(f"{one.name:<{width}}  {one.severity:<7}  {one.about}" for one in CHECKS)
