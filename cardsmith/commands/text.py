"""``cardsmith text``: a recipe as an editor mails it."""

from __future__ import annotations

import sys

import click

from cardsmith.commands.terminal import FINE, FOUND, Command, say
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, named_files

_FORMS = ("text", "markdown", "docx")
_SYSTEMS = {"us": ("us",), "metric": ("metric",), "both": ("us", "metric")}


@click.command(
    cls=Command,
    examples=[
        "cardsmith text lemon-curd                         the author's words, to paste into a mail",
        "cardsmith text lemon-curd --as docx               a Word file, build/text/lemon-curd.docx",
        "cardsmith text lemon-curd --measures metric       in the measures of its card",
    ],
)
@click.argument("recipe")
@click.option("--as", "form", type=click.Choice(_FORMS), default="text", help="The form.")
@click.option(
    "--measures", type=click.Choice(tuple(_SYSTEMS)), help="Those of the card; else the author's own."
)
@click.pass_obj
def text(publication: Publication, recipe: str, form: str, measures: str | None) -> int:
    """Write RECIPE as an editor mails it; `cardsmith draft` makes the same recipe of it again."""
    from cardsmith.draft.outward.rows import as_printed, as_written  # noqa: PLC0415
    from cardsmith.draft.outward.written import FORMS  # noqa: PLC0415
    from cardsmith.flow import prepare  # noqa: PLC0415

    ((name, file),) = named_files(publication, (recipe,)).items()
    house, shown = publication.house(), publication.shown(file)
    prepared = prepare(name, publication.read(file), shown, publication.larder(), house)
    if prepared.recipe is None or (measures and not prepared.printable):
        say(prepared.findings, {shown: prepared.source}, as_json=False)
        return FOUND
    if measures and prepared.card is not None:
        lacking = [system for system in _SYSTEMS[measures] if system not in house.order]
        if lacking:
            raise CardsmithError(f"this house prints no {lacking[0]} measures; see order: in house.yaml")
        systems = tuple(system for system in house.order if system in _SYSTEMS[measures])
        rows = as_printed(prepared.card, systems)
    else:
        rows = as_written(prepared.recipe)
    ending, written = FORMS[form]
    if form != "docx":
        sys.stdout.write(written(rows).decode())
        return FINE
    place = f"text/{name}.{ending}"
    publication.output.write(place, written(rows))
    click.echo(f"wrote {publication.shown(publication.build / place)}")
    return FINE
