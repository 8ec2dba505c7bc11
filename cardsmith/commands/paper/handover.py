"""``cardsmith handover``: one folder for a layout desk."""

from __future__ import annotations

import click

from cardsmith.commands.paper.choice import OF_ALL, OF_ISSUE, called, chosen
from cardsmith.commands.terminal import FINE, FOUND, IN_EDITION, Command, say
from cardsmith.house.publication import Publication


@click.command(
    cls=Command,
    examples=[
        "cardsmith handover rye-crackers            one card: PDF, pictures, text, queries, a cover note",
        "cardsmith handover rye-crackers plum-tart  two in one folder",
        'cardsmith handover --issue "Summer 2026"   all cards of an issue',
    ],
)
@click.argument("recipes", nargs=-1)
@OF_ALL
@OF_ISSUE
@IN_EDITION
@click.pass_obj
def handover(
    publication: Publication, recipes: tuple[str, ...], every: bool, issue: str | None, edition: str
) -> int:
    """Write a folder for a layout desk: the cards of RECIPES, their pictures and words, what is open.

    For each card a press and a screen PDF, the picture as given and as used, the text as DOCX with named
    styles and as plain text, and the open queries; beside them a cover note with checksums. A recipe with
    errors is not handed over.
    """
    from cardsmith.engine.products.handing_over import hand_over  # noqa: PLC0415 - the typesetter

    files = chosen(publication, recipes, every=every, issue=issue)
    key = publication.house().in_edition(edition).edition
    folder = f"handover/{called(recipes, files, issue)}{f'-{key}' if key else ''}"
    publication.output.place(folder)
    made = hand_over(publication, files, key)
    if made.findings:
        say(made.findings, made.sources, as_json=False)
        click.echo("not handed over: a card with errors does not print, so mend them first", err=True)
        return FOUND
    whole = {f"{folder}/{name}": data for name, data in made.files.items()}
    publication.output.replace(whole)
    publication.output.sweep(folder, set(whole))
    shown = publication.shown(publication.build / folder)
    click.echo(f"wrote {shown}: {len(made.files)} files of {len(files)} card{'' if len(files) == 1 else 's'}")
    click.echo(f"{shown}/cover-note.txt says what each is for")
    return FINE
