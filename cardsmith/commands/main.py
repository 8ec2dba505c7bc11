"""The command line: parse, call, print. Exit 0 is fine, 1 findings at error, 2 misuse, 3 a fault of ours."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cardsmith.check.report import MANY, as_records, counted, totals
from cardsmith.commands.terminal import (
    AS_JSON,
    BROKEN,
    FINE,
    FOUND,
    IN_EDITION,
    MISUSED,
    Command,
    code_of,
    json_of,
    say,
)
from cardsmith.engine.machine.messages import own_fault, refusal, trace, unmet
from cardsmith.finding import CardsmithError, Severity
from cardsmith.house.publication import Publication, means_all, named_files

if TYPE_CHECKING:
    from cardsmith.house.style import House
    from cardsmith.reference import Tables

ELSEWHERE = {  # commands of other modules: which, and the first sentence of their help, read unloaded
    "bench": (
        "bench",
        "Trials, tastings and teardowns of a recipe: recipes/NAME/trials.yaml and teardown.yaml.",
    ),
    "booklet": (
        "paper.booklet",
        "Bind the cards of RECIPES into a booklet with cover, contents and index: build/booklets/.",
    ),
    "build": (
        "build",
        "Check RECIPES, rewrite them in both systems, and write HTML and PDF cards under build/.",
    ),
    "draft": (
        "draft",
        "Make a recipe file of each recipe in FILE, a text, mail or Word file, or - for standard input.",
    ),
    "handover": (
        "paper.handover",
        "Write a folder for a layout desk: the cards of RECIPES, their pictures and words, what is open.",
    ),
    "larder": (
        "larder",
        "Show what the larder knows of WORD: names, weights, roles, allergens, sources; or add to them.",
    ),
    "portion": (
        "portion",
        "Say what a portion of NAME costs, what it holds and what it must declare, with the working.",
    ),
    "preview": (
        "preview",
        "Show the site in a browser on this machine, and build what changes, until Ctrl-C.",
    ),
    "proof": (
        "paper.proof",
        "Write the proof of NAME for an editor to sign: build/cards/NAME/NAME-proof.pdf.",
    ),
    "ready": ("ready", "Say what this machine lacks for a build, and what to do about each lack."),
    "sheets": (
        "paper.sheets",
        "Put the press files of RECIPES on sheets of stock, with cut marks, backs behind their fronts.",
    ),
    "text": (
        "text",
        "Write RECIPE as an editor mails it; `cardsmith draft` makes the same recipe of it again.",
    ),
    "tidy": (
        "tidy",
        "Apply the house style to RECIPE's file: no number changes, nor anything outside what is said.",
    ),
}


class Commands(click.Group):
    """The commands, the larger loaded when asked for: a build with nothing to do loads little."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """All names."""
        return sorted({*super().list_commands(ctx), *ELSEWHERE})

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name."""
        if cmd_name in ELSEWHERE:
            module, _ = ELSEWHERE[cmd_name]
            command: click.Command = getattr(import_module(f"cardsmith.commands.{module}"), cmd_name)
            return command
        return super().get_command(ctx, cmd_name)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """A line for each, and none of them loaded for it."""
        others = {name: click.Command(name, help=summary) for name, (_, summary) in ELSEWHERE.items()}
        click.Group(commands={**self.commands, **others}).format_commands(ctx, formatter)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="cardsmith")
@click.option(
    "--publication",
    "root",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path(),
    help="The folder that holds recipes/ (default: the one you are in).",
)
@click.pass_context
def cardsmith(context: click.Context, root: Path) -> None:
    """Turn recipes in YAML into checked cards in US and metric measures: HTML pages and print PDF.

    A publication is a folder with recipes/NAME/recipe.yaml and a house style in templates/.
    `cardsmith new NAME` starts one; `cardsmith build` writes its cards under build/.
    """
    context.obj = Publication(root=root.resolve())


@cardsmith.command(
    cls=Command,
    examples=[
        "cardsmith new rye-crackers        in an empty folder: a publication with its first recipe",
        "cardsmith new rye-crackers --look newspaper   the same with another look",
        "cardsmith new plum-tart           in a publication: one recipe more",
        "cardsmith new plum-tart --from-trial 14   the recipe of a trial in its trials.yaml",
    ],
)
@click.argument("name")
@click.option("--from-trial", "trial", type=int, metavar="TRIAL", help="Write it from a trial of NAME.")
@click.option("--look", metavar="LOOK", help="A publication's: cookbook, newspaper, plain or quarterly.")
@click.pass_obj
def new(publication: Publication, name: str, trial: int | None, look: str | None) -> int:
    """Start a recipe NAME; in an empty folder, a publication with its house style too."""
    from cardsmith.house.start import start  # noqa: PLC0415

    if trial is not None:
        return _from_trial(publication, name, trial)
    for file in start(publication, name, look or ""):
        click.echo(f"wrote {publication.shown(file)}")
    click.echo(
        f"\nNow write {publication.shown(publication.file(name))}: what stands in ‹ › is yours to say."
    )
    click.echo(f"`cardsmith check {name}` says what is missing, `cardsmith build {name}` sets the card.")
    return FINE


def _from_trial(publication: Publication, name: str, number: int) -> int:
    """Write the recipe of a trial of NAME; where one is there, say what would make it the trial's."""
    from cardsmith.bench.file.adoption import to_adopt  # noqa: PLC0415
    from cardsmith.bench.file.draft import draft  # noqa: PLC0415
    from cardsmith.bench.file.load import read_trials  # noqa: PLC0415
    from cardsmith.house.start import start_with  # noqa: PLC0415
    from cardsmith.recipe.folder import NAME  # noqa: PLC0415
    from cardsmith.recipe.load import read_recipe  # noqa: PLC0415

    file, larder = publication.file(name), publication.larder()
    bench = publication.bench(file) if NAME.fullmatch(name) else None
    if bench is None:
        raise CardsmithError(f"there is no {publication.shown(file.with_name('trials.yaml'))}")
    trials, findings = read_trials(name, *bench, larder)
    errors = [finding for finding in findings if finding.severity is Severity.ERROR]
    if trials is None or errors:
        raise CardsmithError(str(errors[0]) if errors else f"{bench[1]} holds no trials")
    text = draft(trials, number, name.replace("-", " ").capitalize())
    written = start_with(publication, name, text)
    if written is not None:
        click.echo(f"wrote {publication.shown(written)}")
        click.echo(f"\n`cardsmith check {name}` says what it lacks, `cardsmith build {name}` sets the card.")
        return FINE
    recipe, _ = read_recipe(name, publication.read(file), publication.shown(file), larder)
    trial = trials.get(number)
    if recipe is None or trial is None:
        raise CardsmithError(f"{publication.shown(file)} can't be read; `cardsmith check {name}` says why")
    changes = to_adopt(recipe, trials, trial)
    if not changes:
        click.echo(f"{publication.shown(file)} is the recipe of trial {number} already")
        return FINE
    click.echo(f"{publication.shown(file)} stays as it is. To make it the recipe of trial {number}:")
    click.echo("\n".join(f"  {line}" for line in changes))
    whole = f"bench/{name}/trial-{number}-recipe.yaml"
    publication.output.write(whole, text.encode())
    click.echo(f"The trial's recipe as a whole, to copy from: {publication.shown(publication.build / whole)}")
    return FOUND


@cardsmith.command(
    cls=Command,
    examples=[
        "cardsmith check                   every recipe of this publication",
        "cardsmith check rye-crackers      one recipe by its name",
        "cardsmith check draft.yaml --json one file, for a program",
        "cardsmith check --edition uk      with what is asked of that edition, and of no other",
        "cardsmith check --sarif           every recipe, for a code host that shows findings in place",
    ],
)
@click.argument("recipes", nargs=-1)
@AS_JSON
@IN_EDITION
@click.option("--sarif", is_flag=True, help="Print SARIF 2.1.0 for a code host or an editor to read.")
@click.pass_obj
def check(
    publication: Publication, recipes: tuple[str, ...], as_json: bool, edition: str, sarif: bool
) -> int:
    """Read RECIPES as a copy editor and a careful cook would, and say what to change.

    Errors stop a card from printing, warnings ask for an answer, notes are style.
    """
    from cardsmith.check.shared_titles import titles_shared  # noqa: PLC0415
    from cardsmith.commands.progress import progress  # noqa: PLC0415
    from cardsmith.engine.checking import check_files, check_prices, notes_of  # noqa: PLC0415
    from cardsmith.house.strays import strays  # noqa: PLC0415

    files, whole = named_files(publication, recipes), means_all(recipes)
    house = publication.house().with_edition(edition) if edition else publication.house()
    notes = None if edition else notes_of(publication, files)  # they are of all editions together
    checked_in_turn = progress(
        check_files(publication, files, house, notes=notes), len(files), noun="recipes", shown=True
    )
    checked = list(checked_in_turn)
    if whole:
        checked.append(check_prices(publication, house.reference, notes))
    findings = [finding for recipe in checked for finding in recipe.findings]
    findings += strays(publication) if whole else ()
    findings += titles_shared(recipe.titled for recipe in checked if recipe.titled)
    sources = {shown: text for recipe in checked for shown, text in recipe.sources.items()}
    if sarif:
        from cardsmith.check.sarif import as_sarif  # noqa: PLC0415

        silenced = [answered for recipe in checked for answered in recipe.silenced]
        click.echo(json_of(as_sarif(findings, sources, silenced)))
        return code_of(findings)
    say(findings, sources, as_json=as_json)
    if not as_json:
        click.echo(totals(findings) if len(files) >= MANY else "", nl=False)
        click.echo(f"{len(files)} recipe{'' if len(files) == 1 else 's'} checked: {counted(findings)}")
    return code_of(findings)


@cardsmith.command(
    cls=Command,
    examples=[
        'cardsmith convert "2 cups rye flour"',
        'cardsmith convert "350 F oven"',
        'cardsmith convert "9x13 inch pan"',
        'cardsmith convert "100 g egg whites"',
    ],
)
@click.argument("asked", nargs=-1, required=True)
@AS_JSON
@click.pass_obj
def convert(publication: Publication, asked: tuple[str, ...], as_json: bool) -> int:
    """Convert an amount, a temperature, a length or a pan, and say what the answer rests on."""
    from cardsmith.measure.larder import load_larder  # noqa: PLC0415
    from cardsmith.rewrite.convert import convert as answer_to  # noqa: PLC0415

    text = " ".join(asked)
    house = publication.house()
    answer = answer_to(text, load_larder(house.reference), house)
    if answer is None:
        raise CardsmithError(
            f"no measure found in {text!r}; write a number, a unit and an ingredient: 2 cups rye flour"
        )
    if as_json:
        fields = {"asked": text, "us": answer.us, "metric": answer.metric, "exact": answer.exact}
        record = {**fields, "assumed": answer.assumed, "findings": as_records(answer.findings)}
        click.echo(json_of(record))
        return code_of(answer.findings)
    click.echo(f"US      {answer.us}\nmetric  {answer.metric}")
    if answer.exact:
        click.echo(f"exact   {answer.exact}")
    for note in answer.assumed:
        click.echo(f"assumes {note}")
    for finding in answer.findings:
        click.echo(f"{finding.severity}: {finding.what} - {finding.instead}", err=True)
    return code_of(answer.findings)


@cardsmith.command(
    cls=Command,
    examples=[
        "cardsmith scale rye-crackers --by 1.5",
        "cardsmith scale rye-crackers --makes 90",
        'cardsmith scale butter-cake --from "23 cm round" --to "20 cm square"',
    ],
)
@click.argument("recipe")
@click.option("--by", "times", metavar="NUMBER", help="How many times the batch: 1.5, 1/2.")
@click.option("--makes", metavar="NUMBER", help="How many pieces it should make.")
@click.option("--from", "pan", metavar="PAN", help="The pan it is written for.")
@click.option("--to", "other_pan", metavar="PAN", help="The pan you have.")
@IN_EDITION
@AS_JSON
@click.pass_obj
def scale(
    publication: Publication,
    recipe: str,
    times: str | None,
    makes: str | None,
    pan: str | None,
    other_pan: str | None,
    edition: str,
    as_json: bool,
) -> int:
    """Print RECIPE in another size, from its author's amounts, and say what does not scale."""
    from cardsmith.flow import of_edition, prepare  # noqa: PLC0415
    from cardsmith.measure.larder import load_larder  # noqa: PLC0415
    from cardsmith.readback.card import read_again  # noqa: PLC0415
    from cardsmith.rewrite.batches.resize import resize  # noqa: PLC0415

    house = publication.house()
    larder = load_larder(house.reference)
    ((name, file),) = named_files(publication, (recipe,)).items()
    prepared = prepare(name, publication.read(file), publication.shown(file), larder, house)
    prepared, house = of_edition(prepared, house, edition)
    if prepared.recipe is None or not prepared.printable:
        say(prepared.findings, {publication.shown(file): prepared.source}, as_json=as_json)
        return FOUND
    made = resize(prepared.recipe, larder, house, times=times, makes=makes, pans=(pan, other_pan))
    resized = read_again(made, house, larder)
    if as_json:
        click.echo(json_of(resized.record()))
        return FINE
    click.echo(resized.text(house))
    return FINE


@cardsmith.command(
    cls=Command,
    examples=[
        "cardsmith explain                 every check, one a line, and what else can be explained",
        "cardsmith explain scale-missing   why a check exists, its source, what to write instead",
        "cardsmith explain kinds           every kind of recipe, and what is usual for it",
        "cardsmith explain recipe.yaml     every key of a file, each with an example",
        "cardsmith explain printers        every printer there is, whose it is, and what it takes",
    ],
)
@click.argument("name", required=False)
@click.pass_obj
def explain(publication: Publication, name: str | None) -> int:
    """Explain NAME: a check, a kind of recipe, or a file and its keys; without it, list them all."""
    from cardsmith.check.explain import catalogue, explained  # noqa: PLC0415
    from cardsmith.house.print_tables import LISTS, rows_told  # noqa: PLC0415
    from cardsmith.reference import OURS  # noqa: PLC0415

    def tables() -> Tables:
        house = _sound_house(publication)
        return house.reference if house else OURS

    if name and name in LISTS:
        click.echo(rows_told(name, _sound_house(publication), publication.shown))
        return FINE
    click.echo(explained(name, tables) if name else catalogue())
    return FINE


def _sound_house(publication: Publication) -> House | None:
    """The house; None where its files have faults, which are printed: `explain` must help to mend them."""
    try:
        return publication.house()
    except CardsmithError as fault:
        click.echo(
            f"cardsmith: {fault}\nUntil that is mended, rows of the house are left out here.\n", err=True
        )
        return None


@cardsmith.command(cls=Command, examples=["cardsmith schema > recipe.schema.json"])
def schema() -> int:
    """Print the JSON Schema of a recipe file, for an editor that completes and checks as you type."""
    from cardsmith.recipe.schema.json_schema import json_schema  # noqa: PLC0415

    click.echo(json_of(json_schema()))
    return FINE


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; the exit code."""
    try:
        code = cardsmith.main(args=arguments, prog_name="cardsmith", standalone_mode=False)
    except click.exceptions.Abort:
        click.echo("stopped", err=True)
        return FOUND
    except click.ClickException as misuse:
        misuse.show()
        return MISUSED
    except CardsmithError as fault:
        click.echo(f"cardsmith: {fault}", err=True)
        return MISUSED
    except OSError as fault:
        click.echo(f"{trace(fault)}cardsmith: {refusal(fault)}", err=True)
        return MISUSED
    except Exception as fault:
        if lacking := unmet():
            click.echo(f"{trace(fault)}cardsmith: {lacking}", err=True)
            return MISUSED
        click.echo(f"{trace(fault)}cardsmith: {own_fault(fault)}", err=True)
        return BROKEN
    return code if isinstance(code, int) else FINE
