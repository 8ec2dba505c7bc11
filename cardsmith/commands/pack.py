"""``cardsmith bench pack``: a cross-test sent out, and read back as a trial."""

from __future__ import annotations

from pathlib import Path

import click

from cardsmith.bench.file.schema import COLUMNS
from cardsmith.commands.terminal import FINE, Command, code_of, say
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication
from cardsmith.recipe.folder import NAME


@click.command(
    cls=Command,
    examples=[
        'cardsmith bench pack rye-crackers --for "R. Ayre" --column us    a folder to send',
        "cardsmith bench pack rye-crackers --read form.yaml               the filled form, as a trial",
    ],
)
@click.argument("name")
@click.option("--for", "tester", default="", metavar="WHO", help="Who is to cook it.")
@click.option("--column", type=click.Choice(COLUMNS), help="The column to cook from.")
@click.option(
    "--read", "form", type=click.Path(path_type=Path), metavar="FILE", help="A form that came back."
)
@click.pass_obj
def pack(publication: Publication, name: str, tester: str, column: str | None, form: Path | None) -> int:
    """Write a cross-test of NAME: the card in one column and a form; or read the filled form as a trial."""
    from cardsmith.engine.products.packs import read_pack, write_pack  # noqa: PLC0415

    if not NAME.fullmatch(name) or not publication.file(name).is_file():
        raise publication.unknown(name)
    if form is not None and (tester or column):
        raise CardsmithError("--read takes a filled form, which says who cooked from which column")
    if form is None and not (tester.strip() and column):
        raise CardsmithError(f'say for whom and from which column: --for "R. Ayre" --column {COLUMNS[1]}')
    outcome = (
        read_pack(publication, name, form)
        if form is not None
        else write_pack(publication, name, tester, column or "")
    )
    if outcome.findings:
        say(outcome.findings, outcome.sources, as_json=False)
    for file in outcome.written:
        click.echo(f"wrote {publication.shown(file)}")
    if outcome.trial is not None:
        click.echo(f"\nThe form is trial {outcome.trial.number}; `cardsmith bench history {name}` shows it.")
    return code_of(outcome.findings) if not outcome.written else FINE
