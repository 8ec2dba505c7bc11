"""``cardsmith ready``: asks the machine, and says what it lacks before a build fails."""

from __future__ import annotations

import json

import click

from cardsmith.commands.terminal import AS_JSON, FINE, FOUND, Command
from cardsmith.engine.machine.questions import answers_of, terminal_encoding
from cardsmith.house.publication import Publication


@click.command(
    cls=Command,
    examples=[
        "cardsmith ready                   a line for each thing a build needs of this machine",
        "cardsmith ready --json            the same, for a program",
    ],
)
@AS_JSON
@click.pass_obj
def ready(publication: Publication, as_json: bool) -> int:
    """Say what this machine lacks for a build, and what to do about each lack."""
    answers = list(answers_of(publication))
    lacking = sum(1 for answer in answers if not answer.fine)
    if as_json:
        records = [
            {"asked": answer.asked, "found": answer.found, "ready": answer.fine, "instead": answer.instead}
            for answer in answers
        ]
        click.echo(json.dumps({"ready": not lacking, "answers": records}, indent=2))
    else:
        for answer in answers:
            click.echo(_shown(answer.line()))
        click.echo(f"\n{lacking} of {len(answers)} lacking" if lacking else "\nready to build")
    return FOUND if lacking else FINE


def _shown(line: str) -> str:
    """The line, in what the terminal can show: it is asked about here, so it may not fail here."""
    try:
        line.encode(terminal_encoding())
    except (UnicodeEncodeError, LookupError):
        return line.encode("ascii", "backslashreplace").decode()
    return line
