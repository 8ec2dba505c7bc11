"""The tables of printing that a house may have rows of: their columns, and how all rows are listed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from cardsmith.frozen import frozen
from cardsmith.house.own.tables import NO_TABLES, Row
from cardsmith.house.paper import CARDS, SHEETS
from cardsmith.house.printers import INK, PRINTERS, RESOLUTION
from cardsmith.house.style import House
from cardsmith.recipe.schema.kinds import Key, Record, TextKind, entry
from cardsmith.reference import table


def _need(name: str, about: str, example: str, *choices: str) -> Key:
    return entry(name, TextKind(choices=choices), about, example, required=True)


_NAME = _need("name", "What house.yaml calls it: small letters, digits, hyphens.", "quayside")
_SOURCE = _need("source", "Who says so, and where.", "the press's data sheet of 2026")
_LENGTH = "A length in mm, in or pt"
COLUMNS: Mapping[str, Record] = {
    PRINTERS: Record(
        fields=(
            _NAME,
            _need("shown", "As the slug of a press file has it.", "Quayside Press"),
            _need("condition", "The printing condition, as its registry has it.", "CGATS TR 006"),
            _need("condition_name", "The same in words.", "CGATS TR 006 Coated"),
            _need("registry", "Who keeps the list of conditions.", "http://www.color.org"),
            _need(
                "icc", "The file of its ICC profile, beside this table: a printer's, for CMYK.", "press.icc"
            ),
            _need("licence", "Under which terms that file may be handed on, in every press file.", "zlib"),
            _need("bleed", "What is printed past the cut: 1.5 to 10 mm.", "3 mm"),
            _need("marks", "Whether we draw cut marks.", "yes", "yes", "no"),
            _need(
                "resolution",
                "Dots per inch that a photo must have at size: {} to {}.".format(*RESOLUTION),
                "300",
            ),
            _need(
                "ink_limit",
                "The sum of the four inks in per cent, at most: {} to {}. A photo is held to it; how much "
                "black stands for the other inks is its profile's affair.".format(*INK),
                "300",
            ),
            _SOURCE,
        )
    ),
    SHEETS: Record(
        fields=(
            _NAME,
            _need("shown", "Its name in messages.", "SRA3"),
            _need("width", f"{_LENGTH}: the shorter edge.", "320 mm"),
            _need("height", f"{_LENGTH}.", "450 mm"),
            _need("margin", f"{_LENGTH}: what the machine can't print, at each edge.", "4 mm"),
            _SOURCE,
        )
    ),
    CARDS: Record(
        fields=(
            _NAME,
            _need("shown", "As a reader knows it.", "5 × 7 in"),
            _need("width", f"{_LENGTH}, as cut.", "128 mm"),
            _need("height", f"{_LENGTH}, as cut.", "182 mm"),
            _need("columns", "Of text.", "1", "1", "2"),
            _need("top", f"{_LENGTH}: the margin above the text.", "9 mm"),
            _need("side", f"{_LENGTH}: the margin at each side.", "9 mm"),
            _need("foot", f"{_LENGTH}: the margin below, with the card's foot.", "13 mm"),
            _SOURCE,
        )
    ),
}


@frozen
class PrintList:
    """All rows of a table of printing, as they are asked for and told."""

    table: str
    about: str
    used: Callable[[House], tuple[str, ...]]  # the names that a house uses
    told: Callable[[Mapping[str, str]], tuple[str, ...]]  # what stands in a row


LISTS: Mapping[str, PrintList] = {
    "printers": PrintList(
        table=PRINTERS,
        about="every printer that card: {printers: [...]} in house.yaml may name",
        used=lambda house: tuple(printer.name for printer in house.card.printers),
        told=lambda cells: (
            "{shown}: {condition} ({condition_name})".format_map(cells),
            "ink at most {ink_limit} %, bleed {bleed}, photos at {resolution} dots per inch, ".format_map(
                cells
            )
            + ("with cut marks" if cells["marks"] == "yes" else "without cut marks"),
            "profile: {icc}, {licence}".format_map(cells),
        ),
    ),
    "sheets": PrintList(
        table=SHEETS,
        about="every sheet that `cardsmith sheets --on` and proof: {paper: ...} in house.yaml may name",
        used=lambda house: (house.proof.paper.name,),
        told=lambda cells: ("{shown}: {width} × {height}, unprinted margin {margin}".format_map(cells),),
    ),
    "cards": PrintList(
        table=CARDS,
        about="every size that card: {size: ...} in house.yaml may name",
        used=lambda house: (house.card.size.name,),
        told=lambda cells: ("{shown}: {width} × {height}, columns: {columns}".format_map(cells),),
    ),
}


def rows_told(name: str, house: House | None = None, shown: Callable[[Path], str] = str) -> str:
    """All rows of a list: the house's own first, whose each is, and which of them the house uses.

    Without a house, ours. ``shown`` says a path as messages have it.
    """
    asked = LISTS[name]
    own = house.tables if house else NO_TABLES
    used = asked.used(house) if house else ()
    ours = {row["name"] for row in table(asked.table)}
    lines = [f"{name}: {asked.about}"]
    for row in own.joined(asked.table):
        uses = ", in use" if row.name in used else ""
        lines += ["", f"{row.name} ({_whose(row, ours, shown)}{uses})"]
        lines += [f"    {line}" for line in (*asked.told(row.cells), f"source: {row.cells['source']}")]
    return "\n".join([*lines, "", f"A house may bring more: `cardsmith explain {asked.table}.csv`."])


def _whose(row: Row, ours: set[str], shown: Callable[[Path], str]) -> str:
    if row.where is None:
        return "ours"
    place = f"{shown(Path(row.where.file))}:{row.where.line}"
    return f"the house's, {place}{', in place of ours' if row.name in ours else ''}"
