"""The files of a house's style, inspected before use: they must lie inside the templates and be sound text.

What stands in `templates/` is published as it is, so a link may not bring in what lies elsewhere, and a style
sheet may not have a reader's machine ask another host.
"""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Iterator
from pathlib import Path

from cardsmith.files.reading import LARGEST, Refused, lies_below, read_plain
from cardsmith.finding import CardsmithError
from cardsmith.regex import regex

MAX_BYTES = 2_000_000  # of a template or a style sheet; the longest of the demo has 40,000
TABLES = "tables"  # the folder of the house's own rows, beside house.yaml
MAX_CHARACTER = 0x10FFFF
_FREE = "fonts"  # may be a link to where a publication keeps its type: nothing but type is read from it
_TYPE = (".ttf", ".otf", ".ttc", ".woff", ".woff2")
_LARGE = (*_TYPE, ".icc", ".icm")  # a printer's profile has some three million bytes
FOLDER = r"[A-Za-z0-9_-][A-Za-z0-9._-]*(?:/[A-Za-z0-9_-][A-Za-z0-9._-]*)*"  # below a publication
_TABLES = regex(rf"""(?m)^tables:[ \t]+(["']?)(?P<folder>{FOLDER})\1[ \t]*(?:#.*)?$""")
_STYLE = (".css", ".css.j2")
_SET = (".j2", ".css", ".js")  # what type and pages are set with
# Of commands other than a build, which say themselves what they miss.
_APART = ("looks/", "bench/", "booklet/", "portion/", "proof/")
_COMMENT = regex(r"(?s)/\*.*?\*/")
_ESCAPE = regex(r"\\(?:(?P<code>[0-9A-Fa-f]{1,6})\s?|(?P<sign>.))")  # CSS Syntax 3, 4.3.7
_LEFT_OUT = str.maketrans("", "", "\t\r\n\f")  # may stand anywhere in an address (URL Standard, 4.4)
_SIGNS = ("http", "ftp:", "file:", "ws:", "wss:", "javascript:", "blob:", "//", "\\")
_ELSEWHERE = regex(
    r"""["'(]\s*(?P<target>(?:(?:https?|ftp|file|wss?|javascript|blob):|[/\\]{2}(?=[^\s/]))[^"')]{0,80})"""
)
_NAME = "http://www.w3.org/"  # of XML's vocabularies, in a drawing embedded in a style: never fetched


def house_folder(publication: Path) -> Path:
    """The folder of house style in use: the publication's own ``templates/``, else the one shipped here."""
    own = publication / "templates"
    return own if os.path.lexists(own / "house.yaml") else shipped_folder()


def shipped_folder() -> Path:
    """The house style that comes with cardsmith."""
    package = Path(__file__).parents[1]
    inside = package / "templates"  # in an installed wheel
    return inside if inside.is_dir() else package.parent / "templates"


def need_files(folder: Path) -> None:
    """Pass where a house's style has every file that this version sets cards and their pages with.

    One that was begun with an older version lacks what has been added since.

    Raises:
        CardsmithError: all that it lacks, and where each is to be had.
    """
    shipped = shipped_folder()
    names = (file.relative_to(shipped).as_posix() for file in shipped.rglob("*") if file.name.endswith(_SET))
    lost = sorted(name for name in names if not name.startswith(_APART) and not (folder / name).exists())
    if lost:
        names_lost = ", ".join(lost)
        raise CardsmithError(
            f"{folder} lacks {names_lost}, with which this version sets cards and pages; copy "
            f"{'it' if len(lost) == 1 else 'each'} to the same place there from {shipped}"
        )


def tables_folder(publication: Path) -> Path:
    """Where the house's own rows stand: where the house file says, else in ``tables`` beside it.

    It is found without reading all of the file, since a build asks for it also where there is nothing to do.
    Who reads the house says what may be wrong with either.
    """
    folder = house_folder(publication)
    try:
        house = read_plain(folder / "house.yaml", folder, "house.yaml") or b""
    except Refused:
        house = b""
    named = _TABLES.search(house.decode("utf-8", "replace"))
    return publication / named["folder"] if named else folder / TABLES


def look_over(folder: Path) -> None:
    """Check that the files of a house's style may be used.

    Raises:
        CardsmithError: one is outside the templates or not a plain file, is too large, or no sound style.
    """
    for file in _files(str(folder), folder):
        size = file.stat().st_size
        if size > (LARGEST if file.name.endswith(_LARGE) else MAX_BYTES):
            said = f"has {size // 1_000_000:,} MB, which no file of a house's style has reason to"
            raise Refused(file.path, said, "take it out of the templates")
        if file.name.endswith(_STYLE):
            _look_over_style(Path(file.path))


def _files(place: str, folder: Path) -> Iterator[os.DirEntry[str]]:
    with os.scandir(place) as entries:
        for entry in entries:
            if entry.is_symlink():
                if entry.name == _FREE and place == str(folder):
                    continue
                if not lies_below(entry.path, folder):
                    said = "leads by a symbolic link out of the templates"
                    raise Refused(entry.path, said, "put the file itself there; nothing outside is read")
            if entry.is_dir():
                if not entry.is_symlink():  # a link inside the templates: its target is inspected itself
                    yield from _files(entry.path, folder)
            elif entry.is_file():
                yield entry
            elif not stat.S_ISLNK(entry.stat(follow_symlinks=False).st_mode):
                raise Refused(entry.path, "is a pipe or a device", "put a file there")


def _look_over_style(file: Path) -> None:
    try:
        text = file.read_bytes().decode("utf-8")
    except UnicodeDecodeError as fault:
        raise CardsmithError(f"{file} is not UTF-8 at byte {fault.start}; save it as UTF-8") from fault
    if "\0" in text:
        raise CardsmithError(f"{file} holds a NUL character; take it out")
    if address := elsewhere(text):
        raise CardsmithError(
            f"{file}: a style may not ask another place: {address}; put the file into the templates and name "
            'it from there, such as url("webfonts/Name.woff2")'
        )


def elsewhere(style: str) -> str:
    """The first address of a style sheet that leads to another host or disk, however written; or empty."""
    plain = _ESCAPE.sub(_unescaped, style) if "\\" in style else style
    plain = plain.lower()
    for text in (plain, _COMMENT.sub("", plain)):  # what looks like a comment may stand inside an address
        whole = text.translate(_LEFT_OUT)
        if any(sign in whole for sign in _SIGNS):
            for match in _ELSEWHERE.finditer(whole):
                if not match["target"].startswith(_NAME):
                    return match["target"]
    return ""


def _unescaped(escape: re.Match[str]) -> str:
    code, sign = escape["code"], escape["sign"]
    return sign or (chr(int(code, 16)) if int(code, 16) <= MAX_CHARACTER else "\ufffd")
