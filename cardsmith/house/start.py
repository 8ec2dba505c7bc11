"""Start a publication, or a recipe in one."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from pathlib import Path

from cardsmith.files.reading import Refused, lies_below, read_plain
from cardsmith.files.writing import write_whole
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, plain_name
from cardsmith.recipe.folder import NAME

PLAIN = "plain"  # below templates/: the look a new publication begins with, where it differs
_FONTS = ("fonts/", "webfonts/")


def start(publication: Publication, name: str) -> tuple[Path, ...]:
    """Write the start of a recipe, with the house style where there is none; the files written.

    Raises:
        CardsmithError: the name cannot be a folder and an address, or the recipe is there already.
    """
    if not NAME.fullmatch(name):
        raise CardsmithError(
            f"a name is small letters, digits and hyphens: {plain_name(name)!r}, not {name[:120]!r}"
        )
    file = _new_file(publication, name, "nothing was changed")
    written = start_house(publication)
    write_whole(file, _starter(publication, name))
    return (*written, file)


def start_house(publication: Publication) -> tuple[Path, ...]:
    """Write the house style of a new publication; nothing where one is there; the files written."""
    if any(map(os.path.lexists, (publication.recipes, publication.root / "templates"))):
        return ()
    return tuple(_house_style(publication))


def write_new(publication: Publication, texts: Mapping[str, str]) -> tuple[Path, ...]:
    """Write recipes by their names, all of them or none; the files written.

    Raises:
        CardsmithError: one of them is there already.
    """
    files = {_new_file(publication, name, "nothing was written"): text for name, text in texts.items()}
    for file, text in files.items():
        write_whole(file, text.encode())
    return tuple(files)


def start_with(publication: Publication, name: str, text: str) -> Path | None:
    """Write a recipe of this text, also over a start that nobody has changed; None where another is there."""
    file = publication.file(name)
    if os.path.lexists(file) and publication.text(file).encode() != _starter(publication, name):
        return None
    if not os.path.lexists(file):
        _new_file(publication, name, "nothing was changed")
    write_whole(file, text.encode())
    return file


def _starter(publication: Publication, name: str) -> bytes:
    """What a new recipe of a name begins as."""
    starter = read_plain(
        publication.templates / "recipe.yaml", publication.templates, "templates/recipe.yaml"
    )
    return (starter or b"").replace(b"TITLE", name.replace("-", " ").capitalize().encode(), 1)


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

    It takes no fonts but the plain look's.
    """
    shared, plain = _files(templates), _files(templates / PLAIN)
    kept = {name: file for name, file in shared.items() if not name.startswith((f"{PLAIN}/", *_FONTS))}
    return dict(sorted({**kept, **plain}.items()))


def _files(folder: Path) -> dict[str, Path]:
    return {file.relative_to(folder).as_posix(): file for file in folder.rglob("*") if file.is_file()}


def _renamed(house: bytes, publication: Publication) -> bytes:
    """The house file named after the folder, its other texts left to be written."""
    title = " ".join(re.findall(r"[^\W_]+", publication.root.name)).title() or "Our test kitchen"
    text = house.decode("utf-8")
    words = (("name", title), ("tagline", '""'), ("credit", f"{title} test kitchen"))
    for key, value in (*words, ("site", '{address: "", tag: ""}')):
        text = re.sub(rf"(?m)^{key}: .*$", f"{key}: {value}", text, count=1)
    # Allergens follow its language; the plain look is black alone.
    return re.sub(r"(?m)^(?:allergens|accent_ink): .*\n", "", text).encode()
