"""``cardsmith build``: what needs it is made, the rest left alone."""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from cardsmith.check.report import counted, totals
from cardsmith.commands.terminal import AS_JSON, BROKEN, FOUND, MISUSED, Command, code_of, say
from cardsmith.engine.machine.messages import trace
from cardsmith.engine.machine.output import held
from cardsmith.finding import Severity
from cardsmith.house.publication import Publication, card_files
from cardsmith.house.strays import strays

if TYPE_CHECKING:
    from cardsmith.engine.built import Built

TOLD = 200  # findings told one by one; more are more than anyone reads from a terminal
SLOWEST = 10  # cards that --timing names


@click.command(
    cls=Command,
    examples=[
        "cardsmith build                   every card of this publication",
        "cardsmith build rye-crackers      one card",
        "cardsmith build --why             say why each card is made again",
        "cardsmith build --on 10.0.0.5:8786   by the workers of a Dask scheduler, the same to the byte",
    ],
)
@click.argument("recipes", nargs=-1)
@click.option("--why", is_flag=True, help="Say why each card is made again: what changed.")
@click.option("--timing", is_flag=True, help="Say which cards took longest, and what of them.")
@click.option(
    "--jobs", type=click.IntRange(1, 256), help="How many cards to make at a time (default: one a processor)."
)
@click.option("--serial", is_flag=True, help="Make one card after another, in this process.")
@click.option(
    "--on", "address", metavar="ADDRESS", default="", help="Have them made by a Dask scheduler's workers."
)
@click.option("--pages", is_flag=True, help="Make web pages only; the next build makes the cards on paper.")
@AS_JSON
@click.pass_obj
def build(
    publication: Publication,
    recipes: tuple[str, ...],
    why: bool,
    timing: bool,
    jobs: int | None,
    serial: bool,
    address: str,
    pages: bool,
    as_json: bool,
) -> int:
    """Check RECIPES, rewrite them in both systems, and write HTML and PDF cards under build/.

    A card is made anew where its recipe, picture or trials, the house file, a template, a font, a table or
    cardsmith itself changed in a way that shows, or where its files are not as they were written.
    """
    from cardsmith.commands.progress import progress  # noqa: PLC0415
    from cardsmith.engine import build as engine  # noqa: PLC0415 - for the other commands' sake

    if address and (jobs or serial):
        raise click.UsageError(
            "with --on its workers say how many cards at a time: leave out --jobs, --serial"
        )
    files = card_files(publication, recipes)
    workers = 1 if serial else jobs or os.cpu_count() or 1

    def waiting() -> None:
        click.echo("another build is at work here; waiting for its end", err=True)

    for folder in engine.FOLDERS:
        publication.output.place(folder)
    with held(publication.build, waiting):
        building = engine.Building(publication)
        wanted = ("page",) if pages else ()
        with engine.makers(building, workers, address) as (start, at_a_time):
            made = building.build(files, start, at_a_time, wanted)
            built = sorted(progress(made, len(files), shown=not as_json), key=lambda recipe: recipe.name)
        astray = () if recipes else tuple(building.noticed((*strays(publication), *building.shared())))
        report = building.finish([*built, *astray], whole=not recipes)
    lacking = engine.lacking()
    tell(publication, [*built, *astray], why=why, as_json=as_json)
    if why and not as_json and building.why_site:
        click.echo(f"the site's other pages: {'; '.join(building.why_site)}")
    if lacking:
        click.echo(lacking, err=True)
    findings = [finding for recipe in (*built, *astray) for finding in recipe.findings]
    if not as_json:
        click.echo("\n" * why, nl=False)
        click.echo(_summary(publication, built))
        click.echo(f"findings: {counted(findings)}; all of them in {publication.shown(report)}")
        click.echo(slowest(built) if timing else "", nl=False)
    faults = [recipe.fault for recipe in built if recipe.fault]
    for fault in faults:
        click.echo(trace(fault), err=True, nl=False)
    if faults:
        return MISUSED if all(isinstance(fault, OSError) for fault in faults) else BROKEN
    return FOUND if lacking else code_of(findings)


def slowest(built: Sequence[Built]) -> str:
    """The cards that took the most processor time, and what each spent it on; empty where none was made."""
    made = sorted((recipe for recipe in built if recipe.took), key=lambda recipe: -sum(recipe.took.values()))
    if not made:
        return ""
    whole = sum(sum(recipe.took.values()) for recipe in made)
    lines = [
        f"{whole:.1f} s of a processor for {len(made)} cards, {whole / len(made):.2f} s each; the slowest:"
    ]
    for recipe in made[:SLOWEST]:
        parts = ", ".join(f"{what} {seconds:.2f}" for what, seconds in recipe.took.items())
        lines.append(f"  {sum(recipe.took.values()):6.2f} s  {recipe.name} ({parts})")
    return "\n".join([*lines, ""])


def tell(publication: Publication, built: list[Built], *, why: bool, as_json: bool) -> None:
    """Print the findings of the cards looked at, and errors of any other; with --json, all findings.

    Where there are a great many, only errors are printed one by one; of the rest, a count for each check.
    """
    from cardsmith.engine.reporting import sources_of  # noqa: PLC0415

    shown = {
        recipe: [
            finding
            for finding in recipe.findings
            if recipe.why or as_json or finding.severity is Severity.ERROR
        ]
        for recipe in built
    }
    grouped = not as_json and sum(map(len, shown.values())) > TOLD
    every = [finding for findings in shown.values() for finding in findings]
    if grouped:
        shown = {
            recipe: [each for each in findings if each.severity is Severity.ERROR]
            for recipe, findings in shown.items()
        }
    sources = (
        {} if as_json else sources_of(publication, [recipe for recipe, findings in shown.items() if findings])
    )
    say([finding for findings in shown.values() for finding in findings], sources, as_json=as_json)
    click.echo(totals(every) if grouped else "", nl=False)
    for recipe in built if why and not as_json else ():
        if recipe.why:
            made = ", ".join(recipe.made) or (
                "nothing: its files stay as they are" if recipe.files else "no card"
            )
            click.echo(f"{recipe.name}: {'; '.join(recipe.why)} → {made}")


def _summary(publication: Publication, built: list[Built]) -> str:
    with_card = [recipe for recipe in built if recipe.files]
    anew = sum(1 for recipe in with_card if recipe.made)
    place = publication.shown(publication.build / "cards")
    if anew == len(built):
        return f"{anew} of {len(built)} cards written to {place}/"
    return f"{anew} of {len(built)} cards written to {place}/, {len(with_card) - anew} as they were"
