"""``cardsmith booklet``: binds cards into a booklet, to read and to print."""

from __future__ import annotations

from fractions import Fraction

import click

from cardsmith.commands.paper.choice import OF_ALL, OF_ISSUE, called, chosen
from cardsmith.commands.terminal import FINE, FOUND, IN_EDITION, Command, say
from cardsmith.finding import CardsmithError
from cardsmith.house.paper import POINTS, length, sheet_size
from cardsmith.house.printers import printer as printer_of
from cardsmith.house.publication import Publication

_BINDINGS = ("saddle", "perfect")
_THICKNESS = "0.1 mm"  # of uncoated paper of 80 to 90 g/m²; common practice, no source
_THICKEST = length("0.6 mm")
_SIGNATURES = ("4", "8", "12", "16", "20", "24", "28", "32")


def _thickness(context: click.Context, option: click.Parameter, value: str) -> Fraction:
    try:
        thickness = length(value)
    except CardsmithError as fault:
        raise click.BadParameter(f"write it as {_THICKNESS}") from fault
    if not 0 < thickness <= _THICKEST:
        raise click.BadParameter(f"paper is at most 0.6 mm thick; write it as {_THICKNESS}")
    return thickness


@click.command(
    cls=Command,
    examples=[
        'cardsmith booklet --issue "Summer 2026"               the cards of an issue, stitched',
        "cardsmith booklet --all --binding perfect             all of them, glued into a cover",
        'cardsmith booklet rye-crackers plum-tart --title "Two bakes" --paper "0.12 mm" --on letter',
    ],
)
@click.argument("recipes", nargs=-1)
@OF_ALL
@OF_ISSUE
@IN_EDITION
@click.option("--title", metavar="WORDS", help="On its cover (default: the issue, or the publication).")
@click.option(
    "--binding",
    type=click.Choice(_BINDINGS),
    default=_BINDINGS[0],
    show_default=True,
    help="Stitched through the fold, or signatures glued into a cover.",
)
@click.option(
    "--paper",
    "thickness",
    default=_THICKNESS,
    show_default=True,
    callback=_thickness,
    metavar="THICKNESS",
    help="How thick a sheet is: inner sheets move to the fold by it.",
)
@click.option(
    "--signature",
    type=click.Choice(_SIGNATURES),
    default="16",
    show_default=True,
    help="Pages of a signature that is glued.",
)
@click.option(
    "--on", "sheet", metavar="SHEET", help="Paper to print on: letter, a4, sra3 (default: as needed)."
)
@click.option("--printer", metavar="NAME", help="Whose inks and bleed (default: the first of the house).")
@click.pass_obj
def booklet(
    publication: Publication,
    recipes: tuple[str, ...],
    every: bool,
    issue: str | None,
    edition: str,
    title: str | None,
    binding: str,
    thickness: Fraction,
    signature: str,
    sheet: str | None,
    printer: str | None,
) -> int:
    """Bind the cards of RECIPES into a booklet with cover, contents and index: build/booklets/.

    They stand as you name them; those of --all or of an issue by their titles. Three files: its pages for a
    screen, the same as a reader sees them open, and on sheets to print on both sides and fold, blanks and
    creep allowed for; a glued one has its cover as a fourth. A recipe with errors is not bound.
    """
    from cardsmith.engine.products.binding import BookletOrder  # noqa: PLC0415 - the typesetter
    from cardsmith.engine.products.binding import booklet as bound  # noqa: PLC0415
    from cardsmith.render.booklet.plan import Binding  # noqa: PLC0415

    house = publication.house().in_edition(edition)
    files = chosen(publication, recipes, every=every, issue=issue)
    name = called(recipes, files, issue) + (f"-{house.edition}" if house.edition else "")
    made_for = printer_of(printer, house.tables) if printer else house.card.printers[0]
    order = BookletOrder(
        name=name,
        title=title or "",
        binding=Binding(binding),
        thickness=thickness,
        signature=int(signature),
        printer=made_for,
        paper=sheet_size(sheet, house.tables) if sheet else None,
        as_named=bool(recipes),
    )
    folder = f"booklets/{name}-{binding}"
    publication.output.place(folder)
    made = bound(publication, files, order, house.edition)
    if made.findings:
        say(made.findings, made.sources, as_json=False)
        click.echo("not bound: a card with errors does not print, so mend them first", err=True)
        return FOUND
    whole = {f"{folder}/{name}": data for name, data in made.files.items()}
    publication.output.replace(whole)
    publication.output.sweep(folder, set(whole))
    for path in whole:
        click.echo(f"wrote {publication.shown(publication.build / path)}")
    click.echo(f"{made.pages} pages on {made.sheets} sheets, both sides, turned over the upright edge")
    if made.creep:
        click.echo(f"the innermost sheet moves {_millimetres(made.creep)} to the fold")
    if made.spine:
        click.echo(f"the spine is {_millimetres(made.spine)} wide, and 3 mm of each fold are milled off")
    return FINE


def _millimetres(points: Fraction) -> str:
    return f"{float(points / POINTS['mm']):.2f} mm"
