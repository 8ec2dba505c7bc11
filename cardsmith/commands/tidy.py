"""``cardsmith tidy``: the house style applied to a recipe file, its numbers untouched."""

from __future__ import annotations

import click

from cardsmith.commands.terminal import FINE, Command
from cardsmith.files.writing import write_whole
from cardsmith.house.publication import Publication, named_files


@click.command(
    cls=Command,
    examples=[
        "cardsmith tidy lemon-curd         units, words, fractions the house way; the list in order of use",
        "cardsmith tidy lemon-curd --dry   say what would change, and change nothing",
    ],
)
@click.argument("recipe")
@click.option("--dry", is_flag=True, help="Say what would change; change nothing.")
@click.pass_obj
def tidy(publication: Publication, recipe: str, dry: bool) -> int:
    """Apply the house style to RECIPE's file: no number changes, nor anything outside what is said."""
    from cardsmith.draft.tidy.tidied import tidied  # noqa: PLC0415

    house = publication.house()
    ((_, file),) = named_files(publication, (recipe,)).items()
    shown = publication.shown(file)
    done = tidied(publication.read(file), shown, publication.larder(), house.language)
    for change in done.changes:
        click.echo(f"{shown}: {change}")
    if not done.changes:
        click.echo(f"{shown} is in the house's style already")
        return FINE
    if not dry:
        write_whole(file, done.text.encode())
    if done.published:
        click.echo(f"{shown} is published: `cardsmith check` tells what a changed word in print asks for")
    count = f"{len(done.changes)} change{'s' * (len(done.changes) != 1)}"
    click.echo(f"{count}{': nothing was written' if dry else ''}")
    return FINE
