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

_LOOKS = "looks"  # below templates/: what a look has of its own, a folder each
SHARED = "quarterly"  # the look of the shared files themselves, with their fonts
FIRST = "plain"
_KEYS = "house-keys.yaml"  # in a look's folder: lines in place of those of house.yaml with the same keys
_FONTS = ("fonts/", "webfonts/")


def looks(templates: Path) -> tuple[str, ...]:
    """The looks that a publication may begin with."""
    return tuple(sorted([SHARED, *(folder.name for folder in (templates / _LOOKS).glob("*/"))]))


def start(publication: Publication, name: str, look: str = "") -> tuple[Path, ...]:
    """Write the start of a recipe, with the house style where there is none; the files written.

    ``look`` is one of `looks`, for a publication that begins; empty for the plain one.

    Raises:
        CardsmithError: the name cannot be a folder and an address, the recipe is there already, there is no
            such look, or a look is wanted where there is one.
    """
    if not NAME.fullmatch(name):
        raise CardsmithError(
            f"a name is small letters, digits and hyphens: {plain_name(name)!r}, not {name[:120]!r}"
        )
    file = _new_file(publication, name, "nothing was changed")
    written = start_house(publication, look)
    write_whole(file, _starter(publication, name))
    return (*written, file)


def start_house(publication: Publication, look: str = "") -> tuple[Path, ...]:
    """Write the house style of a new publication; nothing where one is there; the files written.

    Raises:
        CardsmithError: there is no such look, or one is wanted where a house has its own.
    """
    if not any(map(os.path.lexists, (publication.recipes, publication.root / "templates"))):
        return tuple(_house_style(publication, look or FIRST))
    if look:
        raise CardsmithError("the publication has its look in templates/; begin another in an empty folder")
    return ()


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


def _house_style(publication: Publication, look: str) -> list[Path]:
    """Copy the shipped templates with a look over them, under the new publication's own name."""
    known = looks(publication.templates)
    if look not in known:
        raise CardsmithError(f"there is no look {plain_name(look)!r}; there are {', '.join(known)}")
    written: list[Path] = []
    keys = publication.templates / _LOOKS / look / _KEYS
    for name, file in _house(publication.templates, look).items():
        target = publication.root / "templates" / name
        data = file.read_bytes()
        if name == "house.yaml":
            data = _renamed(_laid_over(data, keys.read_bytes() if keys.is_file() else b""), publication)
        write_whole(target, data)
        written.append(target)
    ignore = publication.root / ".gitignore"
    if not os.path.lexists(ignore):
        write_whole(ignore, b"/build/\n")
        written.append(ignore)
    return written


def _house(templates: Path, look: str) -> dict[str, Path]:
    """The files of a new publication's templates: the shared ones, and in their place those of a look.

    It takes no fonts but the look's.
    """
    shared, own = _files(templates), _files(templates / _LOOKS / look)
    left = (f"{_LOOKS}/", *(() if look == SHARED else _FONTS))
    kept = {name: file for name, file in shared.items() if not name.startswith(left)}
    return {name: file for name, file in sorted({**kept, **own}.items()) if name != _KEYS}


def _files(folder: Path) -> dict[str, Path]:
    return {file.relative_to(folder).as_posix(): file for file in folder.rglob("*") if file.is_file()}


def _laid_over(house: bytes, keys: bytes) -> bytes:
    """The house file with other lines for the keys that a look sets; a key that it lacks comes last."""
    text = house.decode("utf-8")
    for line in keys.decode("utf-8").splitlines():
        key = re.match(r"\w+(?=: )", line)
        if key:
            there = re.search(rf"(?m)^{key[0]}: .*$", text)
            start, end = there.span() if there else (len(text), len(text))
            text = f"{text[:start]}{line}{text[end:]}" if there else f"{text}\n{line}\n"
    return text.encode()


def _renamed(house: bytes, publication: Publication) -> bytes:
    """The house file named after the folder, its other texts left to be written."""
    title = " ".join(re.findall(r"[^\W_]+", publication.root.name)).title() or "Our test kitchen"
    text = house.decode("utf-8")
    words = (("name", title), ("tagline", '""'), ("credit", f"{title} test kitchen"))
    for key, value in (*words, ("site", '{address: "", tag: ""}')):
        text = re.sub(rf"(?m)^{key}: .*$", f"{key}: {value}", text, count=1)
    # Allergens follow its language; it has no issue and no editions yet, and the plain look is black alone.
    return re.sub(r"(?m)^(?:allergens|issue|accent_ink|editions): .*\n", "", text).encode()
