"""``cardsmith portion``: reads what stands beside a recipe, works the portion out, prints it."""

from __future__ import annotations

import re
from fractions import Fraction

import click

from cardsmith.commands.terminal import AS_JSON, FINE, FOUND, IN_EDITION, Command, code_of, json_of, say
from cardsmith.engine.machine.output import TEMPORARY
from cardsmith.engine.products.portions import portion_of
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, card_files
from cardsmith.portion.portion import Portion
from cardsmith.portion.report import record, text

_PERCENT = re.compile(r"(\d{1,2}(?:\.\d+)?)\s*%?")


@click.command(
    cls=Command,
    examples=[
        "cardsmith portion rye-crackers                   cost, nutrition and ingredient statement",
        'cardsmith portion rye-crackers --food-cost "28 %"  the selling price at that share',
        "cardsmith portion rye-crackers --json            for a program",
        "cardsmith portion rye-crackers --page            a page and a PDF under build/portion/",
    ],
)
@click.argument("name")
@click.option("--food-cost", metavar="PERCENT", help="The share of the selling price that food may cost.")
@click.option("--page", is_flag=True, help="Write it as a page and as PDF too.")
@IN_EDITION
@AS_JSON
@click.pass_obj
def portion(
    publication: Publication, name: str, food_cost: str | None, page: bool, edition: str, as_json: bool
) -> int:
    """Say what a portion of NAME costs, what it holds and what it must declare, with the working.

    An estimate from tables: prices from recipes/prices.csv, contents from USDA SR 28, losses from its trials,
    and what is stated in portion.yaml beside the recipe. What is missing is named, never taken as zero.
    """
    ((recipe, file),) = card_files(publication, (name,)).items()
    portion, findings, sources = portion_of(publication, recipe, file, _share(food_cost), edition)
    errors = [finding for finding in findings if code_of([finding])]
    if portion is None or errors:
        say(errors, sources, as_json=as_json)
        return FOUND
    click.echo(json_of(record(portion)) if as_json else text(portion))
    if page:
        _write(publication, recipe, portion, edition)
    return FINE


def _share(text: str | None) -> Fraction | None:
    if text is None:
        return None
    match = _PERCENT.fullmatch(text.strip())
    if match is None or not Fraction(match[1]):
        raise CardsmithError(f"--food-cost {text!r} is not a share; write per cent: --food-cost 30")
    return Fraction(match[1]) / 100


def _write(publication: Publication, name: str, portion: Portion, edition: str) -> None:
    from cardsmith.render.papers.portion import STYLE, portion_html, portion_pdf  # noqa: PLC0415 - the typesetter
    from cardsmith.render.typesetter import Typesetter  # noqa: PLC0415

    house = publication.house().in_edition(edition)
    language, stem = house.language, f"{name}-{house.edition}" if house.edition else name
    typesetter = Typesetter(publication.templates, publication.output.place(TEMPORARY), STYLE)
    files = {
        f"portion/{name}/{stem}-portion.html": portion_html(
            portion, publication.templates, language
        ).encode(),
        f"portion/{name}/{stem}-portion.pdf": portion_pdf(portion, typesetter, language),
    }
    publication.output.replace(files)
    click.echo(f"wrote {publication.shown(publication.build / 'portion' / name)}/", err=True)
