"""What lies among the recipes and, for its name, can't be read as one; the others are read all the same."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from cardsmith.finding import Finding, Where, error
from cardsmith.house.publication import Publication, plain_name, printable
from cardsmith.recipe.folder import NAME

FILE = "recipe.yaml"
ENDINGS = (".yaml", ".yml")
_OTHERS = ("prices",)  # what else may stand in recipes/ itself


def strays(publication: Publication) -> tuple[Finding, ...]:
    """A finding for each folder whose name can't be an address, and each recipe in a file of another name."""
    if not publication.recipes.is_dir():
        return ()
    return tuple(
        finding
        for place in sorted(publication.recipes.iterdir())
        if not place.name.startswith(".")
        for finding in (_folder(publication, place) if place.is_dir() else _file(publication, place))
    )


def _folder(publication: Publication, folder: Path) -> Iterator[Finding]:
    recipes = [file for file in sorted(folder.glob("*")) if _is_recipe(file)]
    if not recipes:
        return
    named = next((file for file in recipes if file.name == FILE), None)
    if named is None:
        yield _misnamed(publication, recipes[0], "only recipe.yaml is read", f"rename it to {FILE}")
    elif not NAME.fullmatch(folder.name):
        rule = "a recipe's folder has small letters, digits and hyphens, at most 100"
        yield _misnamed(publication, named, rule, f"rename the folder, such as {plain_name(folder.name)}")


def _file(publication: Publication, file: Path) -> Iterator[Finding]:
    if file.suffix.lower() in ENDINGS and file.stem not in _OTHERS:
        remedy = f"move it to recipes/{plain_name(file.stem)}/{FILE}"
        yield _misnamed(publication, file, "each recipe has a folder of its own", remedy)


def _is_recipe(file: Path) -> bool:
    """Whether a file is called recipe, whatever its letters are and however its ending is written."""
    return file.suffix.lower() in ENDINGS and file.stem.lower() == "recipe" and file.is_file()


def _misnamed(publication: Publication, file: Path, rule: str, remedy: str) -> Finding:
    where = Where(file=printable(publication.shown(file)))
    return error("recipe-misnamed", where, f"it is left out, for its name: {rule}", remedy)
