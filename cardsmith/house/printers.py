"""Printers: how each press wants its files, from ``printer_profiles.csv``, of ours and the house's own.

And the second ink of a house: its colour on a press, as a plate of its own or as a build of two inks.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator
from dataclasses import field
from fractions import Fraction
from functools import cache
from typing import Annotated

from cardsmith.files.reading import Refused, read_plain
from cardsmith.finding import CardsmithError, Finding, Where
from cardsmith.frozen import frozen
from cardsmith.house.kinds import as_once, as_share, as_words
from cardsmith.house.own.tables import NO_TABLES, OwnTables, Row, fault_of, filled, misnamed
from cardsmith.house.paper import length
from cardsmith.recipe.schema.kinds import Lines, TextKind, UnfitError
from cardsmith.reference import profile
from cardsmith.regex import regex

PRINTERS = "printer_profiles"
_PLAIN = regex(r"[A-Za-z0-9_][A-Za-z0-9 ._()-]*\.(?:icc|icm)", re.IGNORECASE)
_WHOLE = regex(r"\d{1,4}")
_MUST = ("shown", "condition", "condition_name", "registry", "licence", "source")
# An ICC profile begins with 128 bytes of its own (ISO 15076-1, 7.2): its class, its colours, its signature.
_CLASS, _COLOURS, _SIGNATURE = slice(12, 16), slice(16, 20), slice(36, 40)
# What a press takes; common practice, no source. Newsprint takes 220 to 260 %, coated sheets 300 to 340 %;
# over 360 % doesn't dry. Cuts stand off by up to a millimetre. 100 dots an inch do for a coarse newspaper.
INK = (180, 360)  # per cent, the sum of four inks
BLEED = (Fraction(43, 10), Fraction(285, 10))  # points: 1.5 and 10 mm, and a hair
RESOLUTION = (100, 1200)  # dots per inch
# Names that mean something else to a press (ISO 32000-1, 8.6.6.4).
_TAKEN = frozenset({"all", "none", "cyan", "magenta", "yellow", "black"})


@frozen
class Printer:
    """How one press wants its files."""

    name: str
    shown: str
    condition: str  # identifier of the printing condition in the registry
    condition_name: str
    registry: str
    icc: str  # the file's name
    profile: bytes = field(repr=False)  # what stands in it
    bleed: Fraction  # points
    marks: bool
    resolution: int  # dots per inch of a photo at size, at least
    ink_limit: Fraction  # sum of all inks of one colour, 3.3 for 330 %


def _as_ink(text: str) -> Fraction:
    if not 0 <= (share := as_share(text)) <= 1:
        raise UnfitError(f"“{text}” is not a share of an ink", "0 to 100")
    return share


def _as_four(inks: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    if len(inks) != 4 or not any(inks):
        raise UnfitError(
            "it takes cyan, magenta, yellow and black, in per cent, not all 0", "cmyk: [90, 45, 45, 35]"
        )
    return inks


def _as_name(text: str) -> str:
    if (name := as_words(text).strip()).casefold() in _TAKEN:
        raise UnfitError(
            f"“{name}” is the name of another plate", "the name of the spot ink, as it is ordered"
        )
    return name


@frozen
class AccentInk:
    """What ``--accent`` of ``look.css`` is printed with; without inks, in black wherever it is fine."""

    name: Annotated[
        str,
        TextKind(made=_as_name),
        "The spot ink, as it is ordered from the printer: a plate of its own. Without it the colour is "
        "built of the inks below.",
        "Harbour blue",
    ] = ""
    cmyk: Annotated[
        tuple[Fraction, ...],  # four shares, 0 to 1
        Lines(noun="ink", text=TextKind(made=_as_ink), made=_as_four),
        "Cyan, magenta, yellow and black in per cent: what stands for the spot ink where there is none of "
        "it. Without a name, two inks at most, one of them at 100.",
        "[90, 45, 45, 35]",
    ]
    printers: Annotated[
        tuple[str, ...],
        Lines(noun="printer", text=TextKind(made=as_words), made=as_once),
        "The printers that run the spot ink, where not all of the house's do.",
        "[offset]",
    ] = ()

    def __post_init__(self) -> None:
        if self.cmyk and not self.name and not self.sharp:
            what = "type in a build of tints, or of more than two inks, prints with coloured or ragged edges"
            raise UnfitError(
                what, "name: the spot ink's name; or cmyk with two inks at most, one of them at 100"
            )

    @property
    def sharp(self) -> bool:
        """Whether small type may be set in the build: of two inks at most, one of them solid.

        Common practice, no source: more plates show where they are out of register, tints fray an edge.
        """
        return sum(ink > 0 for ink in self.cmyk) <= 2 and 1 in self.cmyk


NO_ACCENT_INK = AccentInk(cmyk=())


def printer(name: str, own: OwnTables = NO_TABLES) -> Printer:
    """The printer of a name, with its profile.

    Raises:
        CardsmithError: no such printer.
    """
    row = own.row(PRINTERS, name, "printer")
    cells = row.cells
    stated = ("name", "shown", "condition", "condition_name", "registry", "icc")
    return Printer(
        **{key: cells[key] for key in stated},
        profile=_ours(cells["icc"]) if row.where is None else _theirs(own, cells["icc"]),
        bleed=length(cells["bleed"]),
        marks=cells["marks"] == "yes",
        resolution=int(cells["resolution"]),
        ink_limit=Fraction(cells["ink_limit"]) / 100,
    )


@cache
def _ours(name: str) -> bytes:
    try:
        return profile(name)
    except OSError as fault:
        raise CardsmithError(f"colour profile {name}: not there; install cardsmith again") from fault


def _theirs(own: OwnTables, name: str) -> bytes:
    """A profile beside the house's tables; empty where there is none.

    Raises:
        Refused: it lies by a link outside the folder, or is none to be read.
    """
    return read_plain(own.folder / name, own.folder, str(own.folder / name)) or b""


def printer_faults(own: OwnTables) -> Iterator[Finding]:
    """What is wrong with the house's own printers, row by row."""
    for row, where in own.placed(PRINTERS):
        yield from misnamed(row, where)
        yield from filled(row, where, _MUST)
        yield from _value_faults(row, where)
        yield from _profile_faults(row, where, own)


def _value_faults(row: Row, where: Where) -> Iterator[Finding]:
    """Findings for values that no press has."""
    cells = row.cells
    if cells["marks"] not in ("yes", "no"):
        yield fault_of(where, f"{row.name}: marks are “{cells['marks']}”", "marks yes or no")
    for key, (least, most), unit in (("ink_limit", INK, " %"), ("resolution", RESOLUTION, " dots per inch")):
        match = _WHOLE.fullmatch(cells[key])
        if match is None or not least <= int(cells[key]) <= most:
            what = f"{row.name}: its {key}, “{cells[key]}”, is none that a press has"
            yield fault_of(where, what, f"a whole number from {least} to {most}{unit}")
    yield from _bleed_faults(row, where)


def _bleed_faults(row: Row, where: Where) -> Iterator[Finding]:
    try:
        bleed = length(row.cells["bleed"])
    except CardsmithError:
        bleed = Fraction(0)
    if bleed < BLEED[0]:
        what = f"{row.name}: with a bleed of “{row.cells['bleed']}” a cut that is off a little shows white"
        yield fault_of(where, what, "a bleed of 1.5 mm or more; 3 mm and 0.125 in are usual")
    if bleed > BLEED[1]:
        what = f"{row.name}: a bleed of “{row.cells['bleed']}” is more than a card is drawn with"
        yield fault_of(where, what, "a bleed of 10 mm or less; 3 mm and 0.125 in are usual")


def _profile_faults(row: Row, where: Where, own: OwnTables) -> Iterator[Finding]:
    """A profile that is not there, can't be read, or turns no colours into four inks."""
    name = row.cells["icc"]
    if not _PLAIN.fullmatch(name):
        what = f"{row.name}: “{name}” cannot be the name of a profile"
        yield fault_of(where, what, f"the name of an ICC profile in {own.folder}, such as press.icc")
        return
    try:
        data = _theirs(own, name)
    except Refused as refused:
        yield fault_of(where, f"{row.name}: {refused}", "the name of a profile beside this table")
        return
    if not data:
        yield fault_of(
            where, f"{row.name}: there is no {name} in {own.folder}", "its name, or put the profile there"
        )
    elif said := unfit(data):
        yield fault_of(
            where, f"{row.name}: {name} {said}", "a profile of four inks from whoever runs the press"
        )


@cache
def unfit(data: bytes) -> str:
    """What keeps an ICC profile from turning screen colours into four inks; empty where nothing does."""
    if data[_SIGNATURE] != b"acsp":
        return "is not an ICC profile"
    kind, colours = (data[part].decode("latin-1").strip() for part in (_CLASS, _COLOURS))
    if kind != "prtr" or colours != "CMYK":
        return f"is a profile of class “{kind}” for {colours}, not of a printer for CMYK"
    from PIL import ImageCms  # noqa: PLC0415 - only where a house has a printer of its own

    try:
        profile = ImageCms.ImageCmsProfile(io.BytesIO(data))
        intent = ImageCms.Intent.RELATIVE_COLORIMETRIC
        leads = ImageCms.isIntentSupported(profile, intent, ImageCms.Direction.OUTPUT) == 1
        ImageCms.buildTransform(ImageCms.createProfile("sRGB"), profile, "RGB", "CMYK", intent)
    except (ImageCms.PyCMSError, OSError, ValueError) as fault:
        return f"can't be read as an ICC profile ({fault})"
    return "" if leads else "has no table that leads from colours to inks"


def strange_printers(ink: AccentInk, known: Iterable[Printer], where: Where) -> Iterator[Finding]:
    """Printers of the second ink to which the house sends no cards."""
    names = [printer.name for printer in known]
    for name in ink.printers:
        if name not in names:
            what = f"accent_ink names {name}, to which this house sends no cards"
            yield fault_of(where, what, f"printers: [{', '.join(names)}] in accent_ink, or leave them out")
