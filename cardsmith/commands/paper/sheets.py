"""``cardsmith sheets``: puts finished press files on sheets of card stock."""

from __future__ import annotations

import click

from cardsmith.commands.paper.choice import OF_ISSUE, called, chosen
from cardsmith.commands.terminal import FINE, IN_EDITION, Command
from cardsmith.engine.machine.output import TEMPORARY
from cardsmith.engine.products.press_files import press_files
from cardsmith.finding import CardsmithError
from cardsmith.house.paper import sheet_size
from cardsmith.house.printers import printer as printer_of
from cardsmith.house.publication import Publication
from cardsmith.render.sheets.imposition import FLIPS, ORDERS


@click.command(
    cls=Command,
    examples=[
        "cardsmith sheets --on letter                       one of every card",
        "cardsmith sheets rye-crackers --on a4 --copies 20  twenty of one",
        "cardsmith sheets --on sra3 --copies 50 --order stack   fifty sets, cut and stacked in order",
        "cardsmith sheets --on 12x18 --copies 50 --order repeat each sheet full of one card",
        'cardsmith sheets --issue "Summer 2026"             those of one issue',
    ],
)
@click.argument("recipes", nargs=-1)
@OF_ISSUE
@click.option(
    "--on", "sheet", default="a4", show_default=True, metavar="SHEET", help="letter, a4, sra3, 12x18."
)
@click.option(
    "--flip",
    type=click.Choice(FLIPS),
    default="long",
    show_default=True,
    help="The edge over which your printer turns the sheet.",
)
@click.option("--copies", type=click.IntRange(1, 10_000), default=1, show_default=True, help="Of each card.")
@click.option(
    "--order",
    type=click.Choice(ORDERS),
    default="reading",
    show_default=True,
    help="Along the rows, down through the stacks of cut cards, or one card all over each sheet.",
)
@IN_EDITION
@click.option(
    "--printer", metavar="NAME", help="Whose press files (default: the first printer of the house)."
)
@click.pass_obj
def sheets(
    publication: Publication,
    recipes: tuple[str, ...],
    issue: str | None,
    sheet: str,
    flip: str,
    copies: int,
    order: str,
    edition: str,
    printer: str | None,
) -> int:
    """Put the press files of RECIPES on sheets of stock, with cut marks, backs behind their fronts.

    Run `cardsmith build` first. A card turns like the page of a book. Print at actual size.
    """
    from cardsmith.render.press.accent import accent_on  # noqa: PLC0415
    from cardsmith.render.press.preflight import sheet_faults  # noqa: PLC0415
    from cardsmith.render.sheets.pdf import Order, impose  # noqa: PLC0415
    from cardsmith.render.typesetter import Typesetter  # noqa: PLC0415

    house = publication.house().in_edition(edition)
    wanted = Order(sheet=sheet_size(sheet, house.tables), flip=flip, copies=copies, order=order)
    made_for = printer_of(printer, house.tables) if printer else house.card.printers[0]
    whose = _ending(tuple(printer.name for printer in house.card.printers), made_for.name)
    files = chosen(publication, recipes, every=not recipes and issue is None, issue=issue)
    key = f"-{house.edition}" if house.edition else ""
    written = f"sheets/{called(recipes, files, issue)}{key}-on-{wanted.sheet.name}{whose}.pdf"
    publication.output.place(written)
    imposed = impose(
        press_files(publication, files, whose, house.edition),
        house.card.size,
        made_for,
        house.card.sides,
        wanted,
        Typesetter(publication.templates, publication.output.place(TEMPORARY)),
    )
    accent = accent_on(house.accent_ink, publication.templates, made_for)
    if faults := sheet_faults(imposed.data, wanted.sheet, made_for, accent):
        raise CardsmithError(f"the sheets fail their preflight: {'; '.join(faults)}")
    publication.output.write(written, imposed.data)
    shown = publication.shown(publication.build / written)
    count, times = len(imposed.run.sheets), imposed.run.times
    turned = f", duplex, turned over the {flip} edge" if imposed.duplex else ", on one side"
    often = f", to be printed {times} times" if times > 1 else ""
    click.echo(f"wrote {shown}: {count} sheet{'' if count == 1 else 's'}{often}")
    click.echo(f"{imposed.grid.count} to a sheet{turned}; print at actual size")
    return FINE


def _ending(printers: tuple[str, ...], printer: str) -> str:
    """How the name of a printer's press files ends; the first has the plain name.

    Raises:
        CardsmithError: the house has no such printer.
    """
    if printer not in printers:
        raise CardsmithError(
            f"the house sends to {', '.join(printers)}; add {printer} to printers in house.yaml"
        )
    return "" if printer == printers[0] else f"-{printer}"
