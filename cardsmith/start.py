"""Start a publication, or a recipe in one."""

from __future__ import annotations

import os
import re
from pathlib import Path

from cardsmith.bench.draft import draft
from cardsmith.bench.load import read_trials
from cardsmith.finding import CardsmithError, Severity
from cardsmith.measure.larder import load_larder
from cardsmith.publication import Publication, plain_name
from cardsmith.reading import Refused, lies_below, read_plain
from cardsmith.recipe.folder import NAME
from cardsmith.writing import write_whole

PLAIN = "plain"  # below templates/: the look a new publication begins with, where it differs
_FONTS = ("fonts/", "webfonts/")


def start(publication: Publication, name: str) -> tuple[Path, ...]:
    """Write a recipe that cooks as it stands, with the house style where there is none; the files written.

    Raises:
        CardsmithError: the name cannot be a folder and an address, or the recipe is there already.
    """
    if not NAME.fullmatch(name):
        raise CardsmithError(
            f"a name is small letters, digits and hyphens: {plain_name(name)!r}, not {name[:120]!r}"
        )
    file = _new_file(publication, name, "nothing was changed")
    written: list[Path] = []
    if not any(map(os.path.lexists, (publication.recipes, publication.root / "templates"))):
        written += _house_style(publication)
    starter = read_plain(
        publication.templates / "recipe.yaml", publication.templates, "templates/recipe.yaml"
    )
    title = name.replace("-", " ").capitalize()
    write_whole(file, (starter or b"").replace(b"TITLE", title.encode(), 1))
    return (*written, file)


def start_from_trial(publication: Publication, name: str, number: int) -> tuple[Path, ...]:
    """Write the recipe of a trial that stands in ``recipes/NAME/trials.yaml``; the file written.

    Raises:
        CardsmithError: there are no such trials, they have errors, or the recipe is there already.
    """
    file = publication.file(name)
    bench = publication.bench(file) if NAME.fullmatch(name) else None
    if bench is None:
        raise CardsmithError(f"there is no {publication.shown(file.with_name('trials.yaml'))}")
    differs = f"nothing was changed. `cardsmith check {name}` lists where it differs from its trial"
    file = _new_file(publication, name, differs)
    trials, findings = read_trials(name, *bench, load_larder())
    errors = [one for one in findings if one.severity is Severity.ERROR]
    if trials is None or errors:
        raise CardsmithError(str(errors[0]) if errors else f"{bench[1]} holds no trials")
    write_whole(file, draft(trials, number, name.replace("-", " ").capitalize()).encode())
    return (file,)


def _new_file(publication: Publication, name: str, there: str) -> Path:
    """The recipe file to be written; refused where one is there, or where it would be written elsewhere."""
    file = publication.file(name)
    if not lies_below(file.parent, publication.recipes):
        what = "leads by a symbolic link out of the recipes"
        raise Refused(publication.shown(file.parent), what, "put a folder in its place, or take another name")
    if os.path.lexists(file):
        raise CardsmithError(f"{publication.shown(file)} is there already; {there}")
    return file


def _house_style(publication: Publication) -> list[Path]:
    """Copy the shipped templates with the plain look over them, under the new publication's own name."""
    written: list[Path] = []
    for name, file in _plain_house(publication.templates).items():
        target = publication.root / "templates" / name
        data = file.read_bytes()
        write_whole(target, _renamed(data, publication) if name == "house.yaml" else data)
        written.append(target)
    ignore = publication.root / ".gitignore"
    if not os.path.lexists(ignore):
        write_whole(ignore, b"/build/\n")
        written.append(ignore)
    return written


def _plain_house(templates: Path) -> dict[str, Path]:
    """The files of a new publication's templates: the shared ones, and in their place those of ``plain/``.

    Of fonts it takes none but the plain look's.
    """
    shared, plain = _files(templates), _files(templates / PLAIN)
    kept = {name: file for name, file in shared.items() if not name.startswith((f"{PLAIN}/", *_FONTS))}
    return dict(sorted({**kept, **plain}.items()))


def _files(folder: Path) -> dict[str, Path]:
    return {file.relative_to(folder).as_posix(): file for file in folder.rglob("*") if file.is_file()}


def _renamed(house: bytes, publication: Publication) -> bytes:
    """The house file with the folder's name for the publication's, and its other words left to write."""
    title = " ".join(re.findall(r"[^\W_]+", publication.root.name)).title() or "Our test kitchen"
    text = house.decode("utf-8")
    words = (("name", title), ("tagline", '""'), ("credit", f"{title} test kitchen"))
    for key, value in (*words, ("site", '{address: "", tag: ""}')):
        text = re.sub(rf"(?m)^{key}: .*$", f"{key}: {value}", text, count=1)
    return text.encode()
