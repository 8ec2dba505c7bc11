"""The larder: what it knows of a food, whose rows these are, and rows added to the house's own."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from cardsmith.commands.terminal import AS_JSON, FINE, FOUND, Command, CommandGroup, json_of
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication
from cardsmith.measure.larder import Food, HouseholdMeasure, Larder, load_larder, search
from cardsmith.rewrite.wording import decimal_text

SHOW = "show"
NOT_WEIGHED = "What does it weigh, such as 1 cup = 118 g, 121 g? (empty: not weighed)"


class WordsOrCommand(CommandGroup):
    """What is no command of the group is a word to look up."""

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name, else the one that looks words up."""
        return super().get_command(ctx, cmd_name) or super().get_command(ctx, SHOW)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that is meant, and what it is given."""
        return super().resolve_command(ctx, args if args[0] in self.commands else [SHOW, *args])

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """The arguments; an option that stands first is one of looking up."""
        looked_up = args and args[0].startswith("-") and args[0] not in ctx.help_option_names
        return super().parse_args(ctx, [SHOW, *args] if looked_up else args)


@click.group(
    cls=WordsOrCommand,
    subcommand_metavar="WORD... | add NAME",
    examples=[
        "cardsmith larder rye",
        "cardsmith larder buttermilk --json",
        'cardsmith larder add "Fenwick blue"      asks for what it needs',
    ],
)
def larder() -> None:
    """Show what the larder knows of WORD: names, weights, roles, allergens, sources; or add to them."""


@larder.command(
    SHOW,
    cls=Command,
    hidden=True,
    examples=["cardsmith larder rye", "cardsmith larder buttermilk --json"],
)
@click.argument("word", nargs=-1, required=True)
@AS_JSON
@click.pass_obj
def show(publication: Publication, word: tuple[str, ...], as_json: bool) -> int:
    """Show what the larder knows of WORD, and whose rows these are."""
    text, known = " ".join(word), publication.larder()
    foods = search(known, text)
    if as_json:
        records = [_record(food, publication) for food in foods]
        click.echo(json_of(records))
    else:
        for food in foods:
            click.echo(_text(food, publication))
    if not foods:
        near = ", ".join(known.nearest(text))
        click.echo(
            f"nothing in the larder is called {text}" + (f"; nearest: {near}" if near else ""), err=True
        )
    return FINE if foods else FOUND


def _record(food: Food, publication: Publication) -> dict[str, Any]:
    return {
        "key": food.key,
        "name": food.name,
        "uk_name": food.uk_name,
        "aliases": food.aliases,
        "roles": {role: float(share) for role, share in food.roles.items()},
        "us_allergens": food.us_allergens,
        "eu_allergens": food.eu_allergens,
        "measures": [
            {
                "form": measure.form,
                "amount": float(measure.amount),
                "measure": measure.measure,
                "grams": float(measure.grams),
            }
            | {"source": measure.source, "house": _shown(measure.place, publication)}
            for measure in food.measures
        ],
        "source": food.source,
        "house": _shown(food.place, publication),
    }


def _text(food: Food, publication: Publication) -> str:
    names = ", ".join(dict.fromkeys(name for name in (food.uk_name, *food.aliases) if name))
    roles = ", ".join(f"{role} {float(share) * 100:g} %" for role, share in food.roles.items())
    allergens = ", ".join(dict.fromkeys((*food.us_allergens, *food.eu_allergens)))
    lines = [food.name + (f"  (also {names})" if names else "")]
    lines += [
        f"  {_measure(measure)}  [{_whose(measure.place, measure.source, publication)}]"
        for measure in food.measures
    ]
    lines.append(f"  acts as {roles}" if roles else "  no role in a formula")
    lines.append(f"  allergens: {allergens or 'none'}")
    lines.append(f"  row: {_whose(food.place, food.source, publication)}{_in_place(food)}")
    return "\n".join(lines)


def _measure(measure: HouseholdMeasure) -> str:
    amount = f"{decimal_text(measure.amount)} {measure.measure}" + (
        f", {measure.form}" if measure.form else ""
    )
    low, high = measure.grams_low or measure.grams, measure.grams_high or measure.grams
    ends = f" ({decimal_text(low)} to {decimal_text(high)} g)" if low < high else ""
    return f"{amount} = {decimal_text(measure.grams)} g{ends}"


def _whose(place: str, source: str, publication: Publication) -> str:
    return f"the house's, {_shown(place, publication)}: {source}" if place else source


def _in_place(food: Food) -> str:
    """Whether a food of the house stands in place of one of ours."""
    ours = food.place and food.key in load_larder().foods
    return f" - in place of our own {food.key}" if ours else ""


def _shown(place: str, publication: Publication) -> str:
    return publication.shown(Path(place)) if place else ""


# --- adding -------------------------------------------------------------------------------------------


@larder.command(
    cls=Command,
    examples=[
        'cardsmith larder add "Fenwick blue"      asks on a terminal for what it needs',
        'cardsmith larder add "Fenwick blue" --role cheese --allergens milk --weighs "1 cup = 120 g" '
        '--source "weighed here, n = 5"',
        'cardsmith larder add "rye flour" --weighs "1 cup = 101 g, 104 g, 99 g" --source "weighed here"',
        'cardsmith larder add "rye flour" --weighings kitchen/weighings.csv --source "weighed here"',
    ],
)
@click.argument("name")
@click.option("--role", "roles", multiple=True, metavar="ROLE", help="What it mainly is; more as water:0.42.")
@click.option("--allergens", metavar="NAMES", help="By US law: milk, or milk,?egg, or none.")
@click.option("--eu-allergens", metavar="NAMES", help="Where EU law names others than follow from these.")
@click.option("--origin", metavar="NAMES", help="Where it comes from: milk, plant, fish …")
@click.option("--also", multiple=True, metavar="NAME", help="Another name for it.")
@click.option("--aisle", default="", metavar="AISLE", help="Where a shop keeps it (default: as its like).")
@click.option("--state", default="", metavar="STATE", help="How it fills a cup (default: as its like).")
@click.option("--weighs", multiple=True, metavar="WEIGHT", help='"1 cup = 118 g, 121 g, 120 g"')
@click.option(
    "--weighings",
    type=click.Path(dir_okay=False, path_type=Path),
    help="A CSV file with the columns food and weighed.",
)
@click.option("--source", metavar="WORDS", help="Who says so: weighed here; the maker's label.")
@click.option("--replace", is_flag=True, help="Write over rows that the house has of it.")
@click.pass_obj
def add(
    publication: Publication,
    name: str,
    roles: tuple[str, ...],
    allergens: str | None,
    eu_allergens: str | None,
    origin: str | None,
    also: tuple[str, ...],
    aisle: str,
    state: str,
    weighs: tuple[str, ...],
    weighings: Path | None,
    source: str | None,
    replace: bool,
) -> int:
    """Add the food NAME, or what it weighs, to the house's own larder (templates/tables/)."""
    from cardsmith.house.own import additions  # noqa: PLC0415
    from cardsmith.house.own.weighed import weighed_in  # noqa: PLC0415
    from cardsmith.house.own.weighed import weighings as listed  # noqa: PLC0415

    if not publication.tables.is_relative_to(publication.root):
        raise CardsmithError(
            "there is no house here to add to; go to the folder that holds templates/, "
            "or `cardsmith new plum-tart` starts a publication"
        )
    own = publication.house().tables
    known = load_larder(own.reference)
    food = additions.known_as(name, known)
    new = food is None or bool(roles or allergens)
    if new and not roles:
        roles = _split(_asked("--role", "What is it mainly, such as cheese, flour or fruit?"))
    if new and allergens is None:
        allergens = _asked("--allergens", "Which allergens does every pack of it hold, by US law; or none?")
    weighed = [weighed_in(weighing) for weighing in weighs]
    if weighings:
        weighed += listed(weighings.read_bytes(), str(weighings), name)
    if not weighed and sys.stdin.isatty():
        answer = click.prompt(NOT_WEIGHED, "", show_default=False, prompt_suffix=" ")
        weighed += [weighed_in(answer)] if answer else []
    if not new and not weighed:
        raise CardsmithError(f"{name} is in the larder already; what it weighs is said by --weighs")
    source = source or _asked("--source", "Who says so, such as: weighed here, or the maker's label?")
    rows: dict[str, list[dict[str, str]]] = {}
    key = food.key if food else ""
    if new:
        row = additions.food_row(
            additions.NewFood(
                name=name,
                roles=roles,
                allergens=_split(allergens or ""),
                eu_allergens=_split(eu_allergens or ""),
                origin=_split(origin or ""),
                also=also,
                aisle=aisle,
                state=state,
                source=source,
            )
        )
        key = key or row["key"]
        rows[additions.FOODS] = [{**row, "key": key}]
    if weighed:
        rows[additions.MEASURES] = [additions.measure_row(key, each, source) for each in weighed]
    for added in additions.add(own, rows, overwrite=replace):
        place = f"{publication.shown(added.file)}:{added.line}"
        what = "replaced" if added.replaced else "wrote"
        click.echo(f"{what} {place}: {_cells(added.cells)}{_instead(added.cells, food, known)}")
    for each in weighed:
        click.echo(f"  {each.told}")
    return FINE


def _asked(option: str, question: str) -> str:
    """The answer to a question on a terminal.

    Raises:
        CardsmithError: nobody can be asked.
    """
    if not sys.stdin.isatty():
        raise CardsmithError(f"{option} is missing; {question}")
    answer: str = click.prompt(question, prompt_suffix=" ")
    return answer


def _split(text: str) -> tuple[str, ...]:
    return tuple(filter(None, (item.strip() for item in text.split(","))))


def _cells(cells: Mapping[str, str]) -> str:
    return ", ".join(cell for cell in cells.values() if cell)


def _instead(cells: Mapping[str, str], food: Food | None, known: Larder) -> str:
    """What to say of the row of ours that this one replaces; empty where it replaces none."""
    if food is None or food.place:
        return ""
    if "name" in cells:
        return f" - in place of our own {food.key}"
    same = (
        measure
        for measure in known.foods[food.key].measures
        if (measure.form, measure.measure) == (cells["form"], cells["measure"]) and not measure.place
    )
    return "".join(f" - in place of ours: {_measure(measure)} [{measure.source}]" for measure in same)
