"""Whether a machine has what a build needs: what is asked of it, and what to do about each lack.

Pure: what the machine answers is gathered by `cardsmith.engine.machine.questions`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from cardsmith.frozen import frozen

# Bytes. Measured: the demo's 18 cards with their site and drawings take 8 million; one recipe with a grainy
# photo of 24 million dots takes 14 million with its proof and report, so 40 of them 560 million.
ROOM = 600_000_000
# What stands on cards beside letters and figures: fractions, degrees, times, dashes, quotes, primes.
GLYPHS = "½⅓⅔¼¾⅛⅜⅝⅞⁄°×−–—…‘’“”″·"
_NEED = re.compile(r"(?P<name>[A-Za-z0-9._-]+)(?:\[\w+\])?\s*(?P<sign>>=|==)\s*(?P<version>[0-9.]+)$")
_PROFILE = slice(36, 40)  # ICC.1:2022, 7.2.9: the signature of every profile
_TOUCHED = "its file is damaged; copy it again from where it came"


@frozen
class Requirement:
    """One thing asked of the machine, and what it answered; ``instead`` says what to do, empty where fine."""

    asked: str
    found: str
    instead: str = ""

    @property
    def fine(self) -> bool:
        """Whether nothing is lacking here."""
        return not self.instead

    def line(self) -> str:
        """The answer as a line of text."""
        answer = f"{'ready' if self.fine else 'LACKS'}  {self.asked}: {self.found}"
        return answer if self.fine else f"{answer}; {self.instead}"


@frozen
class SystemLibrary:
    """A library of the system that WeasyPrint opens; ``least`` is the oldest version that serves."""

    name: str
    file: str  # as the linker of a Linux knows it
    debian: str  # the package that brings it
    least: tuple[int, ...] = ()


# Source: WeasyPrint's documentation, "First Steps" (Pango 1.44, and what Alpine needs beside it).
SYSTEM_LIBRARIES = (
    SystemLibrary(name="Pango", file="libpango-1.0.so.0", debian="libpango-1.0-0", least=(1, 44)),
    SystemLibrary(name="Pango for FreeType", file="libpangoft2-1.0.so.0", debian="libpangoft2-1.0-0"),
    SystemLibrary(name="GObject", file="libgobject-2.0.so.0", debian="libglib2.0-0"),
    SystemLibrary(name="HarfBuzz", file="libharfbuzz.so.0", debian="libharfbuzz0b"),
    SystemLibrary(name="HarfBuzz subsetter", file="libharfbuzz-subset.so.0", debian="libharfbuzz-subset0"),
    SystemLibrary(name="fontconfig", file="libfontconfig.so.1", debian="libfontconfig1"),
)


def numbers(version: str) -> tuple[int, ...]:
    """The numbers of a version: (1, 50, 12) for ``1.50.12``; what follows them is left out."""
    match = re.match(r"[0-9]+(?:\.[0-9]+)*", version)
    return tuple(int(number) for number in match[0].split(".")) if match else ()


def _dotted(version: tuple[int, ...]) -> str:
    return ".".join(map(str, version))


def _at_least(version: tuple[int, ...], least: tuple[int, ...]) -> bool:
    return version + (0,) * (len(least) - len(version)) >= least


def python(version: tuple[int, ...], wanted: str) -> Requirement:
    """Python itself; ``wanted`` as a package states it: ``>=3.11``."""
    least = numbers(wanted.lstrip(">= "))
    lacks = "" if _at_least(version, least) else f"install Python {_dotted(least)} or newer"
    return Requirement(asked="Python", found=_dotted(version), instead=lacks)


def needs(requirements: Iterable[str]) -> dict[str, tuple[str, str]]:
    """Libraries as a package requires them, without those of its extras: ``{"click": (">=", "8.1")}``."""
    plain = (_NEED.match(requirement) for requirement in requirements if ";" not in requirement)
    return {match["name"]: (match["sign"], match["version"]) for match in plain if match}


def libraries(wanted: Mapping[str, tuple[str, str]], there: Mapping[str, str]) -> Iterator[Requirement]:
    """Each Python library wanted beside the version that is there."""
    for name, (sign, version) in wanted.items():
        installed, least = there.get(name, ""), numbers(version)
        exact = sign == "=="
        width = max(len(least), len(numbers(installed)))
        padded = [parts + (0,) * (width - len(parts)) for parts in (numbers(installed), least)]
        fits = bool(installed) and (padded[0] == padded[1] if exact else padded[0] >= padded[1])
        yield Requirement(
            asked=f"library {name}",
            found=installed or "not there",
            instead="" if fits else f"python -m pip install '{name}{sign}{version}'",
        )


def system_libraries(there: Mapping[str, str | None]) -> Iterator[Requirement]:
    """Each of `SYSTEM_LIBRARIES` by the version of its file in ``there``, None if absent."""
    for library in SYSTEM_LIBRARIES:
        version = there.get(library.file)
        old = bool(version) and not _at_least(numbers(version or ""), library.least)
        get = (
            f"on Debian or Ubuntu, apt-get install {library.debian}; with Homebrew, brew install pango; "
            f"elsewhere the package that holds {library.file}"
        )
        yield Requirement(
            asked=library.name,
            found="not there" if version is None else version or "there",
            instead=get if version is None else f"needs {_dotted(library.least)}: {get}" if old else "",
        )


def fonts(
    there: Mapping[str, frozenset[str] | None], families: Iterable[str], folder: str
) -> Iterator[Requirement]:
    """The house's files of type: the characters of `GLYPHS` each has, by its file; None for what is no font.

    ``families`` are those that the look names first, and each needs a file: ``Fira Sans`` as FiraSans-….
    """
    for name in (name for name, glyphs in there.items() if glyphs is None):
        yield Requirement(asked=f"font {name}", found="cannot be read", instead=_TOUCHED)
    sound = {name: glyphs for name, glyphs in there.items() if glyphs is not None}
    for family in dict.fromkeys(families):
        files = [name for name in sound if name.startswith(family.replace(" ", "") + "-")]
        missing = f"put {family.replace(' ', '')}-Regular.ttf into {folder}, or name another in look.css"
        yield Requirement(
            asked=f"typeface {family}",
            found=f"{len(files)} files" if files else "not there",
            instead="" if files else missing,
        )
    lost = "".join(glyph for glyph in GLYPHS if not any(glyph in glyphs for glyphs in sound.values()))
    yield Requirement(
        asked="characters of a card",
        found=f"no font has {' '.join(lost)}" if lost else f"all {len(GLYPHS)} in the house's fonts",
        instead=f"put a font that has them into {folder}" if lost else "",
    )


def profile(name: str, data: bytes | None) -> Requirement:
    """A colour profile that a printer of the house asks for."""
    sound = data is not None and data[_PROFILE] == b"acsp"
    state = "there" if sound else "not there" if data is None else "cannot be read"
    return Requirement(
        asked=f"colour profile {name}", found=state, instead="" if sound else "install cardsmith again"
    )


def house(fault: str) -> Requirement:
    """The house's own style, by what is wrong with it."""
    return Requirement(asked="house style", found=fault or "read", instead=fault and "mend it as it says")


def room(free: int, folder: str) -> Requirement:
    """Bytes that are free where the build is written."""
    room = f"{free // 1_000_000:,} MB free"
    lacks = f"make room: a build may need {ROOM // 1_000_000} MB"
    return Requirement(asked=f"room for {folder}", found=room, instead="" if free >= ROOM else lacks)


def writable(may: bool, folder: str) -> Requirement:
    """Whether files may be written where the build goes."""
    lacks = "give yourself the right to it, or copy the publication to a folder of your own"
    state = "may be written" if may else "may not be written"
    return Requirement(asked=folder, found=state, instead="" if may else lacks)


def terminal(encoding: str) -> Requirement:
    """Whether messages can be shown with their fractions and degrees."""
    try:
        GLYPHS.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        lacks = "set PYTHONUTF8=1, or a language with UTF-8 such as LANG=C.UTF-8"
        return Requirement(asked="terminal", found=f"{encoding or 'unknown'}: no ½ and no °", instead=lacks)
    return Requirement(asked="terminal", found=encoding)


def processors(count: int) -> Requirement:
    """How many cards are made at a time."""
    return Requirement(asked="processors", found=f"{count}, so many cards at a time")
