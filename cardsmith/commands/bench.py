"""``cardsmith bench …``: sheets, history, tastings, teardowns and reports of one recipe."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from cardsmith.bench.file.load import read_trials
from cardsmith.bench.model import Tasting, Trials
from cardsmith.commands.pack import pack
from cardsmith.commands.terminal import AS_JSON, FINE, FOUND, Command, CommandGroup, code_of, json_of, say
from cardsmith.engine.machine.output import TEMPORARY
from cardsmith.files.reading import Reader
from cardsmith.finding import CardsmithError, Severity
from cardsmith.frozen import frozen
from cardsmith.house.publication import Publication
from cardsmith.house.style import House
from cardsmith.recipe.folder import NAME
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe

if TYPE_CHECKING:
    from cardsmith.measure.larder import Larder
    from cardsmith.render.papers.bench import TrialPicture
    from cardsmith.render.typesetter import Typesetter


@frozen
class Bench:
    """What stands in one recipe's folder."""

    name: str
    folder: Path
    recipe: Recipe | None
    trials: Trials | None
    larder: Larder

    @property
    def title(self) -> str:
        """The recipe's title, else its folder's name."""
        return self.recipe.title if self.recipe else self.name.replace("-", " ").capitalize()

    @property
    def kind(self) -> str:
        """The recipe's kind; empty where unknown."""
        return _kind(self.recipe)

    def need_trials(self) -> Trials:
        """The trials.

        Raises:
            CardsmithError: there are none.
        """
        if self.trials is None or not self.trials.trials:
            raise CardsmithError(f"there are no trials in {self.folder / 'trials.yaml'}")
        return self.trials


def _open(publication: Publication, name: str) -> Bench:
    """The bench of a recipe; faults of its trials are printed, and end the command where they are errors."""
    folder = publication.recipes / name
    if not NAME.fullmatch(name) or not folder.is_dir():
        raise publication.unknown(name)
    larder = publication.larder()
    file = publication.file(name)
    recipe, trials = _recipe(publication, name, larder), None
    trials_file = publication.bench(file)
    if trials_file:
        trials, findings = read_trials(name, *trials_file, larder)
        worth = [finding for finding in findings if finding.severity is not Severity.NOTE]
        if worth:
            say(worth, {trials_file[1]: trials_file[0].decode("utf-8", errors="replace")}, as_json=False)
        if code_of(worth):
            raise CardsmithError(f"{trials_file[1]} has errors; mend them first")
    return Bench(name=name, folder=folder, recipe=recipe, trials=trials, larder=larder)


def _typesetter(publication: Publication) -> Typesetter:
    from cardsmith.render.papers.bench import STYLE  # noqa: PLC0415
    from cardsmith.render.typesetter import Typesetter  # noqa: PLC0415

    return Typesetter(publication.templates, publication.output.place(TEMPORARY), STYLE)


def _write(publication: Publication, name: str, file: str, data: bytes) -> None:
    target = f"bench/{name}/{file}"
    publication.output.write(target, data)
    click.echo(f"wrote {publication.shown(publication.build / target)}")


@click.group(
    cls=CommandGroup,
    examples=[
        "cardsmith bench sheet butter-cake       before a trial",
        "cardsmith bench history butter-cake     after it",
        "cardsmith bench report butter-cake      for whoever asks",
    ],
)
def bench() -> None:
    """Trials, tastings and teardowns of a recipe: recipes/NAME/trials.yaml and teardown.yaml."""


@bench.command(
    cls=Command,
    examples=[
        "cardsmith bench sheet rye-crackers                      the next trial, from the latest kept",
        'cardsmith bench sheet butter-cake --from 7 --change "2 tsp baking powder" --why "cracked"',
        'cardsmith bench sheet butter-cake --method "bake at 325 °F"',
    ],
)
@click.argument("name")
@click.option("--from", "parent", type=int, metavar="TRIAL", help="The trial to start from.")
@click.option("--change", "changes", multiple=True, metavar="TEXT", help="One change, as in trials.yaml.")
@click.option("--method", multiple=True, metavar="TEXT", help="What is done otherwise.")
@click.option("--why", default="", metavar="TEXT", help="Why.")
@click.option("--expect", default="", metavar="TEXT", help="What it should give.")
@AS_JSON
@click.pass_obj
def sheet(
    publication: Publication,
    name: str,
    parent: int | None,
    changes: tuple[str, ...],
    method: tuple[str, ...],
    why: str,
    expect: str,
    as_json: bool,
) -> int:
    """Print a sheet for the next trial of NAME: targets, blanks and what changed, on one page if it fits."""
    from cardsmith.bench.papers.sheet import plan  # noqa: PLC0415

    here = _open(publication, name)
    view = plan(
        here.recipe,
        here.trials,
        here.larder,
        parent=parent,
        changes=changes,
        method=method,
        why=why,
        expect=expect,
    )
    if as_json:
        rows = [
            {"item": row.item, "target": row.target, "changed": row.changed, "part": row.heading}
            for block in view.blocks
            for row in block
        ]
        record = {"trial": view.number, "from": view.start, "changes": view.changes, "flag": view.flag}
        click.echo(json_of({**record, "ingredients": rows, "total": view.total}))
        return FINE
    from cardsmith.render.papers.bench import sheet_pdf  # noqa: PLC0415

    if view.flag:
        click.echo(view.flag, err=True)
    data = sheet_pdf(view, _typesetter(publication), publication.house().language)
    _write(publication, name, f"trial-{view.number}-sheet.pdf", data)
    return FINE


@bench.command(
    cls=Command,
    examples=[
        "cardsmith bench history butter-cake",
        "cardsmith bench history meringue-shells --basis total",
        "cardsmith bench history butter-cake --page          a web page, with the trials' photos",
    ],
)
@click.argument("name")
@click.option("--basis", type=click.Choice(["bakers", "total"]), help="Percent of the flour or of the total.")
@click.option("--page", is_flag=True, help="Write it as a web page, with the trials' photos.")
@AS_JSON
@click.pass_obj
def history(publication: Publication, name: str, basis: str | None, page: bool, as_json: bool) -> int:
    """Lay all trials of NAME side by side: formulas, measures, what each change did, the family tree."""
    from cardsmith.bench.history.text import record_of, text_of  # noqa: PLC0415
    from cardsmith.bench.history.trials import BAKERS, TOTAL  # noqa: PLC0415
    from cardsmith.bench.history.trials import history as of  # noqa: PLC0415

    here = _open(publication, name)
    past = of(here.need_trials(), {"bakers": BAKERS, "total": TOTAL}.get(basis or "", ""))
    if page:
        from cardsmith.bench.history.view import history_view  # noqa: PLC0415
        from cardsmith.render.papers.bench import history_html  # noqa: PLC0415

        house, pictures = publication.house(), _pictures(publication, here)
        html = history_html(history_view(past, here.title), publication.templates, house.language, pictures)
        _write(publication, name, "history.html", html.encode())
        return FINE
    click.echo(json_of(record_of(past)) if as_json else text_of(past))
    return FINE


@bench.command(cls=Command, examples=["cardsmith bench report butter-cake"])
@click.argument("name")
@click.pass_obj
def report(publication: Publication, name: str) -> int:
    """Write the trial report of NAME as a web page and as PDF, with plots."""
    from cardsmith.bench.papers.report import report as of  # noqa: PLC0415
    from cardsmith.render.papers.bench import report_html, report_pdf  # noqa: PLC0415

    here, house = _open(publication, name), publication.house()
    view = of(here.need_trials(), here.title, here.kind, house, here.larder)
    pictures = _pictures(publication, here)
    page = report_html(view, publication.templates, house.language, pictures)
    paper = report_pdf(view, _typesetter(publication), house.language, pictures)
    _write(publication, name, "report.html", page.encode())
    _write(publication, name, "report.pdf", paper)
    return FINE


def _pictures(publication: Publication, here: Bench) -> tuple[TrialPicture, ...]:
    """The photos of the trials; what is wrong with one is printed, and it is left out."""
    from cardsmith.engine.products.trial_photos import trial_photos  # noqa: PLC0415

    trials = here.need_trials()
    photos = trial_photos(Reader(publication.root), here.folder / "trials.yaml", trials)
    if photos.findings:
        say(photos.findings, {trials.where.file: trials.source}, as_json=False)
    return photos.pictures


@bench.command(
    cls=Command,
    examples=[
        "cardsmith bench taste butter-cake day-three             what came back, and what may be said of it",
        "cardsmith bench taste butter-cake day-three --ballots   ballots and serving order to print",
    ],
)
@click.argument("name")
@click.argument("tasting", required=False)
@click.option("--ballots", "printing", is_flag=True, help="Write ballots and serving order instead.")
@AS_JSON
@click.pass_obj
def taste(publication: Publication, name: str, tasting: str | None, printing: bool, as_json: bool) -> int:
    """Work out a TASTING of NAME, or print its ballots; without TASTING, all of them."""
    from cardsmith.bench.tasting.panel import outcome  # noqa: PLC0415
    from cardsmith.bench.wording import sample  # noqa: PLC0415

    trials = _open(publication, name).need_trials()
    chosen = _tastings(trials, tasting)
    if printing:
        return _print_ballots(publication, name, chosen, publication.house())
    records = []
    for tried in chosen:
        result = outcome(tried)
        records.append(
            {
                "tasting": tried.name,
                "test": tried.test,
                "answers": result.answers,
                "right": result.right,
                "p": float(result.p) if result.p is not None else None,
                "conclusion": result.conclusion,
                "words": [
                    {"trial": trial or None, "code": code, "said": said}
                    | {"sample": None if trial is None else sample(trial)}
                    for trial, code, said in result.words
                ],
            }
        )
        if not as_json:
            lines = [f"  {line}" for line in result.conclusion]
            lines += [f"  {code}: {said}" for _, code, said in result.words]
            click.echo("\n".join([f"{tried.name} ({tried.test}): {tried.question}", *lines]))
    if as_json:
        click.echo(json_of(records))
    return FINE


def _tastings(trials: Trials, name: str | None) -> tuple[Tasting, ...]:
    if name is None:
        return trials.tastings
    tasting = trials.tasting(name)
    if tasting is None:
        known = ", ".join(tasting.name for tasting in trials.tastings) or "none"
        raise CardsmithError(f"there is no tasting {name!r}; tastings here: {known}")
    return (tasting,)


def _print_ballots(publication: Publication, name: str, tastings: tuple[Tasting, ...], house: House) -> int:
    from cardsmith.bench.tasting.ballots import ballots  # noqa: PLC0415
    from cardsmith.render.papers.bench import ballots_pdf, serving_pdf  # noqa: PLC0415

    typesetter = _typesetter(publication)
    for tasting in tastings:
        plain = "-".join(
            "".join(letter if letter.isalnum() else " " for letter in tasting.name).lower().split()
        )
        view = ballots(tasting)
        for paper, made in (("serving-order", serving_pdf), ("ballots", ballots_pdf)):
            _write(publication, name, f"{paper}-{plain}.pdf", made(view, typesetter, house.language))
    return FINE


@bench.command(
    cls=Command,
    examples=["cardsmith bench levers butter-cake", "cardsmith bench levers butter-cake --trial 4"],
)
@click.argument("name")
@click.option(
    "--trial", "number", type=int, metavar="TRIAL", help="Whose faults (default: the latest with any)."
)
@AS_JSON
@click.pass_obj
def levers(publication: Publication, name: str, number: int | None, as_json: bool) -> int:
    """List what could be tried for the faults of a trial of NAME, and what was tried."""
    from cardsmith.bench.formula.levers import suggestions, tried  # noqa: PLC0415

    here = _open(publication, name)
    trials = here.need_trials()
    named = [trial for trial in trials.trials if trial.faults and number in (None, trial.number)]
    if not named:
        click.echo("no verdict names a fault", err=True)
        return FOUND
    suggested = list(suggestions(trials, named[-1], here.kind, here.larder.tables))
    if as_json:
        records = [
            {
                "fault": suggestion.lever.fault,
                "lever": suggestion.lever.text,
                "tried": suggestion.tried,
                "usual": suggestion.usual,
            }
            | {"source": suggestion.lever.source}
            for suggestion in suggested
        ]
        click.echo(json_of(records))
        return FINE
    click.echo(f"Trial {named[-1].number}: {', '.join(fault.text for fault in named[-1].faults)}")
    click.echo("\n".join(f"  {suggestion.lever.fault}: {suggestion.text}" for suggestion in suggested))
    click.echo("Common practice, no source; which to try is the cook's call. Changed so far:")
    click.echo("\n".join(f"  {line}" for line in tried(trials)))
    return FINE


@bench.command(
    name="next",
    cls=Command,
    examples=[
        "cardsmith bench next butter-cake",
        'cardsmith bench next butter-cake --change "2 tsp baking powder"      what that should give',
    ],
)
@click.argument("name")
@click.option("--from", "parent", type=int, metavar="TRIAL", help="The trial to start from.")
@click.option("--change", "changes", multiple=True, metavar="TEXT", help="One change, as in trials.yaml.")
@click.option("--method", multiple=True, metavar="TEXT", help="Another heat or time.")
@AS_JSON
@click.pass_obj
def next_(
    publication: Publication,
    name: str,
    parent: int | None,
    changes: tuple[str, ...],
    method: tuple[str, ...],
    as_json: bool,
) -> int:
    """Say what moves the aim of NAME, which trials would tell most, and what a change should give."""
    from cardsmith.bench.next.text import record_of, text_of  # noqa: PLC0415
    from cardsmith.bench.next.trial import next_trial  # noqa: PLC0415

    here = _open(publication, name)
    advice = next_trial(here.need_trials(), here.larder, parent=parent, changes=changes, method=method)
    click.echo(json_of(record_of(advice)) if as_json else text_of(advice, name))
    return FINE


@bench.command(cls=Command, examples=["cardsmith bench teardown seeded-crackers"])
@click.argument("name")
@AS_JSON
@click.pass_obj
def teardown(publication: Publication, name: str, as_json: bool) -> int:
    """Say what the label in recipes/NAME/teardown.yaml allows of each ingredient, and a first formula."""
    from cardsmith.portion.teardown.load import read_teardown  # noqa: PLC0415
    from cardsmith.portion.teardown.programme import feasible  # noqa: PLC0415
    from cardsmith.portion.teardown.text import in_words, record  # noqa: PLC0415

    file = publication.recipes / name / "teardown.yaml"
    if not NAME.fullmatch(name) or not file.is_file():
        raise CardsmithError(f"there is no {publication.shown(file)}")
    data = publication.read(file)
    shown = publication.shown(file)
    larder = publication.larder()
    taken, findings = read_teardown(data, shown, larder)
    if findings:
        say(findings, {shown: data.decode("utf-8", errors="replace")}, as_json=as_json)
    if taken is None or code_of(findings):
        return FOUND
    allowed = feasible(taken)
    if as_json:
        click.echo(json_of(record(taken, allowed)))
    else:
        click.echo(in_words(taken, allowed, _kind(_recipe(publication, name, larder)), larder.tables))
    return FOUND if allowed.clash else FINE


def _recipe(publication: Publication, name: str, larder: Larder) -> Recipe | None:
    """The recipe in the folder; None where there is none, or none that can be read."""
    file = publication.file(name)
    if not file.is_file():
        return None
    return read_recipe(name, publication.read(file), publication.shown(file), larder)[0]


def _kind(recipe: Recipe | None) -> str:
    return recipe.kind.text if recipe and recipe.kind else ""


bench.add_command(pack)
