"""What all commands share: exit codes, examples in the help, findings as text or JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import click

from cardsmith.check.report import as_records, as_text
from cardsmith.finding import Finding, Severity

FINE, FOUND, MISUSED, BROKEN = 0, 1, 2, 3
IN_EDITION = click.option(
    "--edition", metavar="EDITION", default="", help="One of the house's editions: us, uk, eu or au."
)
AS_JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON for a program to read.")


class Command(click.Command):
    """A command whose help ends with examples, kept line by line."""

    def __init__(self, *args: Any, examples: Sequence[str] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.examples = examples

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The examples as a section of their own."""
        if self.examples:
            with formatter.section("Examples"):
                formatter.write_text("")
                for line in self.examples:
                    formatter.write(f"  {line}\n")


class CommandGroup(Command, click.Group):
    """Commands under one name, with examples of their own."""


def json_of(record: object) -> str:
    """A record as a program reads it."""
    import json  # noqa: PLC0415 - most commands print text

    return json.dumps(record, indent=2, ensure_ascii=False)


def say(findings: Sequence[Finding], sources: Mapping[str, str], *, as_json: bool) -> None:
    """Print findings, each with its line, or as JSON."""
    if as_json:
        click.echo(json_of({"findings": as_records(findings)}))
    elif findings:
        click.echo(as_text(findings, sources))


def code_of(findings: Sequence[Finding]) -> int:
    """1 where any finding is an error, else 0."""
    return FOUND if any(finding.severity is Severity.ERROR for finding in findings) else FINE
