"""What a check is for, told to an author."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from cardsmith.check.run import BY_NAME, CHECKS
from cardsmith.finding import CardsmithError
from cardsmith.reference import table


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """A faulty draft and the mended one. Steps are parted by `` / ``, the list from them by `` | ``."""

    name: str
    place: str  # line, step, list, method, or card: shown only
    kind: str  # the kind of recipe it is a fault in
    faulty: str
    mended: str
    source: str  # each is invented


EXAMPLES = {row["name"]: Example(**row) for row in table("check_examples")}
READING = {row["name"]: row for row in table("reading_findings")}  # findings of stages that are no checks
ANSWER_IN_VAIN = "A reason under accepted: does not silence it at error: only a change of the recipe does."


def explained(name: str) -> str:
    """Why the check exists, on what it rests, what to do, and an example.

    Raises:
        CardsmithError: there is no such check.
    """
    known = BY_NAME.get(name)
    if known is None and name in READING:
        row = READING[name]
        return f"{name} (said while reading or rounding)\n  {row['about']}\n  instead: {row['instead']}"
    if known is None:
        near = difflib.get_close_matches(name, [*BY_NAME, *READING], 1)
        hint = f"did you mean {near[0]!r}?" if near else "`cardsmith explain` lists them all"
        raise CardsmithError(f"there is no check {name!r}; {hint}")
    told = [
        f"{known.name} ({known.severity})",
        f"  {known.about}",
        f"  why:     {known.why}",
        f"  source:  {known.source}",
        f"  instead: {known.remedy}",
    ]
    example = EXAMPLES.get(name)
    if example:
        kind = f" (kind: {example.kind})" if example.kind else ""
        told += [f"  example: {example.faulty}{kind}", f"           → {example.mended}"]
    return "\n".join(told if known.acceptable else [*told, f"  {ANSWER_IN_VAIN}"])


def catalogue() -> str:
    """Every check in its order, one a line."""
    width = max(len(one.name) for one in CHECKS)
    return "\n".join(f"{one.name:<{width}}  {one.severity:<7}  {one.about}" for one in CHECKS)


def markdown_catalogue() -> str:
    """The catalogue as a Markdown table, for the README."""
    rows = [f"| `{one.name}` | {one.severity} | {one.about} |" for one in CHECKS]
    return "\n".join(["| check | severity | what it looks for |", "| --- | --- | --- |", *rows])
