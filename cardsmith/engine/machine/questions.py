"""The machine asked for what a build needs of it: versions, libraries, fonts, room on the disk."""

from __future__ import annotations

import ctypes
import os
import shutil
import sys
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

from cardsmith.engine.machine import ready as asks
from cardsmith.engine.machine.ready import Requirement
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication

_PACKAGE = "cardsmith"
_TYPESETTER = "weasyprint"  # brings libraries of its own, the one for fonts among them
_FONTS = (".ttf", ".otf")


def answers_of(publication: Publication) -> Iterator[Requirement]:
    """All answers of this machine, for one publication."""
    yield asks.python(sys.version_info[:3], str(metadata.metadata(_PACKAGE)["Requires-Python"] or ""))
    yield from outdated(all_of_them=True)
    yield from asks.system_libraries(
        {library.file: _version(library.file) for library in asks.SYSTEM_LIBRARIES}
    )
    yield from _house(publication)
    yield asks.room(shutil.disk_usage(_nearest(publication.build)).free, publication.shown(publication.build))
    yield asks.writable(_may_write(publication.build), publication.shown(publication.build))
    yield asks.terminal(terminal_encoding())
    yield asks.processors(
        len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    )


def outdated(*, all_of_them: bool = False) -> tuple[Requirement, ...]:
    """The Python libraries that are not there or older than cardsmith needs; or all of them."""
    wanted = asks.needs(metadata.requires(_PACKAGE) or ())
    if _installed(_TYPESETTER):
        wanted = asks.needs(metadata.requires(_TYPESETTER) or ()) | wanted
    libraries = asks.libraries(wanted, {name: version for name in wanted if (version := _installed(name))})
    return tuple(library for library in libraries if all_of_them or not library.fine)


def _installed(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return ""


def _version(file: str) -> str | None:
    """The version of a library of the system; empty where it gives none, None where it does not open."""
    try:
        library = ctypes.CDLL(file)
    except OSError:
        return None
    tell = getattr(library, "pango_version_string", None) if "pango-" in file else None
    if tell is None:
        return ""
    tell.restype = ctypes.c_char_p
    return bytes(tell()).decode("ascii", "replace")


def _house(publication: Publication) -> Iterator[Requirement]:
    from cardsmith.render.look import look  # noqa: PLC0415 - the other commands need none of this

    folder = publication.templates / "fonts"
    try:
        house, named = publication.house(), look(publication.templates)
    except (CardsmithError, OSError) as fault:
        yield asks.house(str(fault))
        return
    yield asks.house("")
    files = sorted(file for file in folder.glob("*") if file.suffix.lower() in _FONTS)
    if _installed("fonttools"):
        glyphs = {file.name: _glyphs(file) for file in files}
        yield from asks.fonts(glyphs, (named.text, named.display), publication.shown(folder))
    for printer in house.card.printers:
        yield asks.profile(printer.icc, printer.profile)


def _glyphs(file: Path) -> frozenset[str] | None:
    """Which of `asks.GLYPHS` a file of type has; None where it is no sound one."""
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - the typesetter's own library of fonts

    try:
        with TTFont(file) as font:
            known = font.getBestCmap() or {}
            font["glyf" if "glyf" in font else "CFF "]  # the outlines themselves
    except Exception:  # fontTools raises whatever its tables meet
        return None
    return frozenset(glyph for glyph in asks.GLYPHS if ord(glyph) in known)


def _nearest(folder: Path) -> Path:
    """The folder, or the nearest above it that is there."""
    return next(parent for parent in (folder, *folder.parents) if parent.exists())


def _may_write(folder: Path) -> bool:
    nearest = _nearest(folder)
    return nearest.is_dir() and os.access(nearest, os.W_OK | os.X_OK)


def terminal_encoding() -> str:
    """The encoding of what prints; empty where it gives none."""
    return getattr(sys.stdout, "encoding", None) or ""
