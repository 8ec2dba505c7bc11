"""What all recipes rest on beside their own files: code, tables, templates, fonts, libraries, by digest."""

from __future__ import annotations

import ctypes
import os
import re
import sys
from collections.abc import Callable, Mapping
from fnmatch import translate
from functools import cache
from pathlib import Path

from cardsmith.engine.freshness.fingerprint import fingerprint
from cardsmith.frozen import frozen

PACKAGE = Path(__file__).parents[2]
HOUSE = "templates/house.yaml"
# Tables that only printing reads; every other one may change what is said or written on a card.
_FOR_PRINT = ("reference/card_sizes.csv", "reference/printer_profiles.csv", "reference/palette_cmyk.csv")
_OWN_FOR_PRINT = ("tables/card_sizes.csv", "tables/printer_profiles.csv", "tables/*.icc", "tables/*.icm")
_PRINT_TABLES = (
    *(*_FOR_PRINT, "reference/icc/*", "reference/sheet_sizes.csv"),
    *(*_OWN_FOR_PRINT, "tables/sheet_sizes.csv"),
)
_WORDS = "reference/fixed_words.csv"  # that templates place beside a recipe's own
_NEAR = "reference/near_faces.csv"
_TERMS = "templates/fonts/*-OFL.txt"  # licences that the site hands on
IMAGING = "pillow"  # makes photos ready for page and paper
_DRAWERS = (IMAGING, "fonttools", "resvg_py")  # make the pictures of a page
_SETTERS = (
    "weasyprint",
    "pydyf",
    "tinycss2",
    "tinyhtml5",
    "cssselect2",
    "fonttools",
    "pyphen",
    "pikepdf",
    IMAGING,
)
TYPE = "pango and harfbuzz"  # libraries of the machine's own, not of Python
_SYSTEM = ("libpango-1.0.so.0", "libharfbuzz.so.0", "libpangoft2-1.0.so.0", "libharfbuzz-subset.so.0")
_WRITERS = ("babel", "jinja2", "markupsafe", "rjsmin", "python")
_READERS = ("ruamel_yaml", "ruamel_yaml_clib", "markdown_it_py", "pint", "python")


@frozen
class Scope:
    """Which grounds one step of making a card rests on: patterns of names, less those of ``never``."""

    of: tuple[str, ...]
    never: tuple[str, ...] = ()

    def holds(self, name: str) -> bool:
        """Whether a change of the ground of this name may change what the step makes."""
        return _any_of(self.of)(name) is not None and _any_of(self.never)(name) is None


@cache
def _any_of(patterns: tuple[str, ...]) -> Callable[[str], re.Match[str] | None]:
    """One expression for all: every build asks each scope about each of some hundred grounds."""
    return re.compile("|".join(map(translate, patterns)) or "(?!)").match


# A template of no known use is taken to matter to every product; tests hold what each one really reads.
_ELSEWHERE = (
    *("templates/bench/*", "templates/portion/*", "templates/booklet/*", "templates/looks/*"),
    *("templates/recipe.yaml", "*.md", "*-OFL.txt"),
)
_PRINT_ONLY = ("templates/print*", "templates/fonts/*", "templates/ruler*", "templates/_page*")
_PAGE_ONLY = ("templates/webfonts/*", "templates/site/*", "templates/look-web*")
_PROOF_ONLY = ("templates/proof*",)
_COLLECTION_ONLY = tuple(
    f"templates/site/{name}*"
    for name in (
        "404.",
        "_frame.",
        "_items.",
        "allergens.",
        "collection.",
        "files/embed.",
        "files/next.",
        "files/quarter.",
        "files/asked.",
        "files/find.",
        "files/icon",
        "files/minisearch",
        "groups.",
        "home.",
        "moved.",
    )
)
_RECIPE_PAGE_ONLY = tuple(
    f"templates/site/{name}.*" for name in ("card", "dom", "embed", "embed-page", "fragment", "stove")
)
SCOPES: Mapping[str, Scope] = {
    # Reading, checking, rewriting: what a recipe means.
    "judging": Scope(
        of=("cardsmith", "reference/*", "tables/*", HOUSE, *(f"library/{name}" for name in _READERS)),
        never=(*_PRINT_TABLES, "tables/*.md", "tables/*.txt"),
    ),
    "page": Scope(
        of=(
            *("cardsmith", "templates/*", _WORDS, _NEAR),
            *(f"library/{name}" for name in (*_WRITERS, *_DRAWERS)),
        ),
        never=(HOUSE, *_ELSEWHERE, *_PRINT_ONLY, *_PROOF_ONLY, *_COLLECTION_ONLY),
    ),
    "paper": Scope(
        of=(
            *("cardsmith", "templates/*", _WORDS, *_PRINT_TABLES),
            *(f"library/{name}" for name in (*_WRITERS, *_SETTERS, TYPE)),
        ),
        never=(HOUSE, *_ELSEWHERE, *_PAGE_ONLY, *_PROOF_ONLY),
    ),
}

# What the pages of the collection rest on, beside what each recipe tells of itself.
COLLECTION = Scope(
    of=(
        *("cardsmith", HOUSE, "templates/site/*", "templates/look*", "templates/webfonts/*", _TERMS),
        *("reference/allergen_classes.csv", "reference/search_words.csv", _WORDS, _NEAR),
        *("reference/editions.csv", "reference/edition_cans.csv"),  # whose seasons its readers have
        *(f"library/{name}" for name in _WRITERS),
    ),
    never=_RECIPE_PAGE_ONLY,
)


def grounds(templates: Path, own: Path, digest: Callable[[Path], str]) -> dict[str, str]:
    """The digest of every ground by its name; ``digest`` gives that of a file.

    ``own`` is the folder of the house's tables, which need not be there.
    """
    rows = {file: f"tables/{name}" for name, file in _below(own)}
    styles = {file: f"templates/{name}" for name, file in _below(templates)}
    return {name: digest(file) for file, name in {**styles, **rows}.items()} | installed(digest)


def templates_of(folder: Path) -> dict[str, Path]:
    """Every file of a house's style that a recipe's products rest on, by its path below its folder."""
    scopes = (SCOPES["page"], SCOPES["paper"])
    return {
        name: file
        for name, file in _below(folder)
        if any(scope.holds(f"templates/{name}") for scope in scopes)
    }


def installed(digest: Callable[[Path], str]) -> dict[str, str]:
    """The grounds that no publication has of its own: code, our tables, libraries."""
    tables = [(name, file) for name, file in _below(PACKAGE / "reference") if not name.endswith(".py")]
    digests = {f"reference/{name}": digest(file) for name, file in tables}
    code = [(name, digest(file)) for name, file in _below(PACKAGE) if name.endswith(".py")]
    digests["cardsmith"] = fingerprint(code)
    digests |= {f"library/{name}": version for name, version in libraries().items()}
    return digests


def in_scope(digests: Mapping[str, str], scope: Scope) -> dict[str, str]:
    """Those of the grounds that a step rests on."""
    return {name: digest for name, digest in sorted(digests.items()) if scope.holds(name)}


def _below(folder: Path) -> list[tuple[str, Path]]:
    """Every file by its path below ``folder``, in order, linked folders too; no caches, nothing hidden."""
    files: list[tuple[str, Path]] = []
    seen = set()  # a link may lead back up
    for place, folders, names in os.walk(folder, followlinks=True):
        true = os.path.realpath(place)
        if true in seen:
            folders.clear()
            continue
        seen.add(true)
        folders[:] = [name for name in folders if name != "__pycache__" and not name.startswith(".")]
        start = place[len(str(folder)) :].lstrip("/")
        files += [
            (f"{start}/{name}".lstrip("/"), Path(place, name)) for name in names if not name.startswith(".")
        ]
    return sorted((name, file) for name, file in files if file.is_file())


@cache
def libraries() -> Mapping[str, str]:
    """The versions of installed libraries, by the names of their folders: reading their metadata is slow."""
    versions: dict[str, str] = {}
    for folder in map(Path, sys.path):
        for metadata in folder.glob("*.dist-info") if folder.is_dir() else ():
            name, _, version = metadata.name.removesuffix(".dist-info").partition("-")
            versions.setdefault(name.lower(), version)
    wanted = (*_SETTERS, *_WRITERS, *_READERS, *_DRAWERS)
    known = {name: versions.get(name, "") for name in wanted}
    return known | {TYPE: _type(), "python": ".".join(map(str, sys.version_info[:2]))}


def _type() -> str:
    """The versions of what sets type and picks a font's letters; empty where any part of it is missing."""
    try:
        pango, harfbuzz, *_ = map(ctypes.CDLL, _SYSTEM)
        functions = (pango.pango_version_string, harfbuzz.hb_version_string)
        for function in functions:
            function.restype = ctypes.c_char_p
        return " ".join(bytes(function()).decode("ascii") for function in functions)
    except (OSError, AttributeError):
        return ""
