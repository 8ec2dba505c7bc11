"""Printers: how each press wants its files, from ``printer_profiles.csv``, of ours and the house's own."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import field
from fractions import Fraction
from functools import cache
from importlib import resources

from cardsmith.files.reading import Refused, read_plain
from cardsmith.finding import CardsmithError, Finding, Where
from cardsmith.frozen import frozen
from cardsmith.house.paper import length
from cardsmith.house.tables import NO_TABLES, OwnTables, Row, fault_of, filled, misnamed
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


def printer(name: str, own: OwnTables = NO_TABLES) -> Printer:
    """The printer of a name, with its profile.

    Raises:
        CardsmithError: no such printer.
    """
    row = own.row(PRINTERS, name, "printer")
    cells = row.cells
    told = ("name", "shown", "condition", "condition_name", "registry", "icc")
    return Printer(
        **{key: cells[key] for key in told},
        profile=_ours(cells["icc"]) if row.where is None else _theirs(own, cells["icc"]),
        bleed=length(cells["bleed"]),
        marks=cells["marks"] == "yes",
        resolution=int(cells["resolution"]),
        ink_limit=Fraction(cells["ink_limit"]) / 100,
    )


@cache
def _ours(name: str) -> bytes:
    try:
        return resources.files("cardsmith.reference").joinpath("icc", name).read_bytes()
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
    """Values that no press has."""
    cells = row.cells
    if cells["marks"] not in ("yes", "no"):
        yield fault_of(where, f"{row.name}: marks are “{cells['marks']}”", "marks yes or no")
    for key, (least, most), unit in (("ink_limit", INK, " %"), ("resolution", RESOLUTION, " dots per inch")):
        found = _WHOLE.fullmatch(cells[key])
        if found is None or not least <= int(cells[key]) <= most:
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
        what = f"{row.name}: “{name}” is no name of a profile"
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
        return "is no ICC profile"
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
