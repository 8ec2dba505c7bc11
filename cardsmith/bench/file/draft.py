"""A recipe file written from a trial: its lines unchanged, with their comments."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.bench.conditions import heating
from cardsmith.bench.file.yaml_text import plain_text
from cardsmith.bench.model import Trial, Trials, Verb
from cardsmith.finding import CardsmithError, Where
from cardsmith.recipe.model import Part
from cardsmith.regex import regex

_COMMENT = regex(r"\s#(?=\s)(?P<text>.*)$")


def draft(trials: Trials, number: int, title: str) -> str:
    """The recipe of a trial as YAML text.

    Changes of method, and the heat it met, stand above the steps as comments, for the author to work in.

    Raises:
        CardsmithError: there is no such trial.
    """
    trial = trials.get(number)
    if trial is None:
        known = ", ".join(str(trial.number) for trial in trials.trials) or "none"
        raise CardsmithError(f"there is no trial {number}; trials here: {known}")
    rows = trials.source.split("\n")
    lines = [f"title: {plain_text(title)}"]
    pieces = trial.value("pieces")
    lines += [f"yield: {{makes: {pieces} pieces}}"] if pieces else []
    named = len(trial.parts) > 1 or any(part.name for part in trial.parts)
    if named:
        lines.append("parts:")
    for part in trial.parts:
        if named:
            lines.append(f"  - name: {plain_text(part.name)}")
        indent = "    " if named else ""
        last = part is trial.parts[-1]
        lines += [indent + line for line in _part(part, rows, method_of(trials, trial) if last else ())]
    lines.append(f"tested: {{trial: {number}}}")
    return "\n".join(lines) + "\n"


def _part(part: Part, rows: list[str], otherwise: tuple[str, ...]) -> Iterator[str]:
    yield "ingredients:"
    for line in part.ingredients:
        yield from _with_comments(line.text, line.where, rows)
    for text in otherwise:
        yield f"# {text}"
    if part.steps:
        yield "steps:"
        for step in part.steps:
            yield from _with_comments(step.text, step.where, rows)


def method_of(trials: Trials, trial: Trial) -> tuple[str, ...]:
    """The changes of method of this trial and its ancestors, the oldest first, and the heat that it met."""
    lineage = [trial]
    while (parent := trials.get(lineage[-1].parent or 0)) is not None:
        lineage.append(parent)
    changed = [
        f"trial {trial.number} did: {change.text}"
        for trial in reversed(lineage)
        for change in trial.changes
        if change.verb is Verb.METHOD
    ]
    heat = heating(trial)
    return (*changed, *([f"trial {trial.number} did: {heat}"] if heat else []))


def _with_comments(text: str, where: Where, rows: list[str]) -> Iterator[str]:
    """A list item with the comment lines right above it and the comment behind it."""
    row = rows[where.line - 1] if 0 < where.line <= len(rows) else ""
    own = row.lstrip().startswith("- ")  # in a list in brackets a comment belongs to all of it
    above: list[str] = []
    place = where.line - 2
    while own and place >= 0 and rows[place].lstrip().startswith("#"):
        above.append(rows[place].strip())
        place -= 1
    yield from (f"  {comment}" for comment in reversed(above))
    behind = _COMMENT.search(row) if own else None
    yield f"  - {plain_text(text)}" + (f"  #{behind['text'].rstrip()}" if behind else "")
