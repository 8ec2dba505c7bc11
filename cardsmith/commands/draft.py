"""``cardsmith draft``: what arrives as text, mail or Word made a recipe file, every line accounted for."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from difflib import unified_diff
from pathlib import Path

import click

from cardsmith.commands.terminal import FINE, Command
from cardsmith.draft.drafting import Drafted, draft_of, folder_name
from cardsmith.draft.reading.read import LARGEST
from cardsmith.finding import CardsmithError, Severity
from cardsmith.house.publication import Publication, named_files
from cardsmith.measure.larder import Larder

STANDARD_INPUT = "-"


@click.command(
    cls=Command,
    examples=[
        "cardsmith draft soup.txt                  recipes/pearl-barley-soup/recipe.yaml, and what to settle",
        "cardsmith draft letter.eml scones.docx    several files; one may hold several recipes",
        "cardsmith draft soup.txt --into broth     into a recipe that is there: what it lacks, what differs",
        "cardsmith draft inbox/ --dry --why        a folder: what each line would become, and why",
    ],
)
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@click.option("--why", is_flag=True, help="Say of every line what it became, and by what reading.")
@click.option(
    "--into", "recipe", metavar="NAME", help="Put what NAME lacks into its file; say the difference."
)
@click.option("--dry", is_flag=True, help="Print what would be written; write nothing.")
@click.pass_obj
def draft(publication: Publication, files: tuple[str, ...], why: bool, recipe: str | None, dry: bool) -> int:
    """Make a recipe file of each recipe in FILE, a text, mail or Word file, or - for standard input.

    No figure and no word is altered, and none is lost: what has no place in a recipe stays as a comment.
    What is missing is left out, and `cardsmith check` asks for it.
    """
    from cardsmith.house.start import start_house, write_new  # noqa: PLC0415

    larder = publication.larder()
    made = _made(files, larder)
    if recipe is not None:
        return _into(publication, recipe, made, why=why, dry=dry)
    named = _named(made)
    if dry:
        for drafted in made:
            _tell(drafted, why=why)
        for name, text in named:
            click.echo(f"\n{publication.shown(publication.file(name))} would be:\n\n{text}", nl=False)
        return FINE
    for name, _ in named:
        if os.path.lexists(file := publication.file(name)):
            raise CardsmithError(
                f"{publication.shown(file)} is there already; nothing was written. "
                f"--into {name} puts the draft into it, and another title makes another recipe"
            )
    house = start_house(publication)
    if house:
        click.echo(
            f"wrote the {len(house)} files of a new house in {publication.shown(publication.templates)}"
        )
    for file in write_new(publication, dict(named)):
        click.echo(f"wrote {publication.shown(file)}")
    for drafted in made:
        _tell(drafted, why=why)
    _settle(publication, tuple(name for name, _ in named))
    return FINE


def _made(files: tuple[str, ...], larder: Larder) -> list[Drafted]:
    """All drafts; where some can't be read, all of these are named, and nothing is made of any."""
    made: list[Drafted] = []
    faults: list[str] = []
    for name, data in _read(files):
        try:
            made.append(draft_of(data, name, larder))
        except CardsmithError as fault:
            faults.append(str(fault))
    if faults:
        others = f"\nnothing was written; {len(made)} more can be read" * bool(made)
        raise CardsmithError("\n".join(faults) + others)
    return made


def _into(publication: Publication, recipe: str, made: list[Drafted], *, why: bool, dry: bool) -> int:
    """Put one draft into a recipe that is there: nothing of the file goes, and what comes is shown."""
    from cardsmith.draft.making.merged import merged  # noqa: PLC0415
    from cardsmith.files.writing import write_whole  # noqa: PLC0415

    drafted = [file for letter in made for file in letter.files]
    if len(drafted) != 1:
        raise CardsmithError(
            f"--into takes one recipe, and here are {len(drafted)}; give one draft at a time"
        )
    ((name, file),) = named_files(publication, (recipe,)).items()
    shown = publication.shown(file)
    own = publication.text(file)
    text = merged(own, drafted[0].text, shown)
    for letter in made:
        _tell(letter, why=why)
    rows = unified_diff(own.splitlines(), text.splitlines(), shown, f"{shown} (with the draft)", lineterm="")
    click.echo("\n" + ("\n".join(rows) or f"{shown} has all of it already"))
    if dry or text == own:
        return FINE
    write_whole(file, text.encode())
    _settle(publication, (name,))
    return FINE


def _read(files: tuple[str, ...]) -> Iterator[tuple[str, bytes]]:
    """The drafts by name, those of a folder in their order."""
    for word in files:
        if word == STANDARD_INPUT:
            yield "standard input", sys.stdin.buffer.read(LARGEST + 1)
            continue
        path = Path(word)
        if path.is_dir():
            inside = sorted(
                path for path in path.iterdir() if path.is_file() and not path.name.startswith(".")
            )
            if not inside:
                raise CardsmithError(f"the folder {path} holds no file")
            for file in inside:
                yield file.name, _bytes(file)
        else:
            yield path.name, _bytes(path)


def _bytes(file: Path) -> bytes:
    from cardsmith.files.reading import read_plain  # noqa: PLC0415

    data = read_plain(file.absolute(), file.absolute().parent, str(file))
    if data is None:
        raise CardsmithError(f"there is no file {str(file)!r}")
    return data


def _named(made: list[Drafted]) -> list[tuple[str, str]]:
    """The files of all drafts, none of one name."""
    named: dict[str, str] = {}
    for drafted in made:
        for file in drafted.files:
            name = file.name
            if name in named:
                name = folder_name(f"{name} {drafted.draft.name}")
            if name in named:
                raise CardsmithError(f"two drafts would both be {name}; give one of them another title")
            named[name] = file.text
    return list(named.items())


def _tell(drafted: Drafted, *, why: bool) -> None:
    """Say what became of the lines of a draft, and which readings are not sure."""
    click.echo(f"\n{drafted.draft.name}: {drafted.count}")
    for remark in drafted.draft.remarks:
        click.echo(f"  {remark}")
    for line in drafted.sorted_ if why else drafted.unsure:
        text = line.block.text if len(line.block.text) <= 60 else f"{line.block.text[:59]}…"
        else_ = f"; or {line.else_}?" if line.else_ else ""
        lead = "" if why else "not sure: "
        click.echo(f"  {lead}line {line.block.number}: {line.sort}{else_}: {text}")
        if why:
            click.echo(f"      {line.reason}")


def _settle(publication: Publication, names: tuple[str, ...]) -> None:
    """What is to be settled in the new files: errors, then what wants an answer; style is counted."""
    from cardsmith.check.report import counted  # noqa: PLC0415
    from cardsmith.engine.checking import check_files  # noqa: PLC0415

    files = {name: publication.file(name) for name in names}
    for name, checked in zip(names, check_files(publication, files, publication.house()), strict=True):
        shown = publication.shown(publication.file(name))
        click.echo(f"\n{shown}: {counted(checked.findings)}")
        for finding in sorted(checked.findings, key=lambda finding: finding.severity.rank):
            if finding.severity is not Severity.NOTE:
                click.echo(f"  line {finding.where.line}: {finding.severity}: {finding.what}")
                click.echo(f"      → {finding.instead}")
        click.echo(f"  `cardsmith check {name}` says it again, with notes of style.")
