"""A house's own rows beside ours: tables named and headed like those of ``reference/``, in its own folder.

Where a row of the house and one of ours have the same name, the house's stands.
"""

from __future__ import annotations

import csv
import difflib
import io
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field
from functools import cache
from pathlib import Path

from cardsmith.files.reading import read_plain
from cardsmith.finding import CardsmithError, Finding, Where, error, in_order
from cardsmith.frozen import frozen
from cardsmith.recipe.file.tree import UNSEEN
from cardsmith.reference import OURS, Tables, table
from cardsmith.regex import regex

# The tables of printing that a house may have rows of, and what a row is; for those of facts, fact_tables.py.
PRINTING: Mapping[str, str] = {
    "printer_profiles": "a printer, with its profile in the same folder",
    "sheet_sizes": "a sheet to print on",
    "card_sizes": "a size of card",
}
MAX_BYTES = 120_000  # some thousand rows; csv refuses longer cells
MAX_TOLD = 50  # faults told one by one; a house file has some sixty values
MAX_LINE = 200  # characters of what a fault says
_CALLED = regex(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_EMPTY = {  # what to write into a cell that may not be empty
    "licence": "under which terms its profile may be handed on, for every press file carries it",
    "source": "who says so and where, or: common practice, no source",
}
OTHERS = (".icc", ".icm", ".md", ".txt")  # may stand beside the tables: what rows name, licences, notes


@frozen
class Row:
    """One row of a table, its cells as text by their column."""

    cells: Mapping[str, str]
    where: Where | None = None  # in the house's table; None for a row of ours

    @property
    def name(self) -> str:
        """What the row is called: its first cell."""
        return next(iter(self.cells.values()))


@frozen
class TableShape:
    """The columns of a table, those that every file of it must have, and those that tell rows apart."""

    columns: tuple[str, ...]
    needed: frozenset[str]
    keys: tuple[tuple[str, ...], ...]


@cache
def shape_of(name: str) -> TableShape | None:
    """That of a table which a house may have; None where it may have none of that name."""
    if name in PRINTING:
        columns = tuple(table(name)[0])
        return TableShape(columns=columns, needed=frozenset(columns), keys=(columns[:1],))
    from cardsmith.house.own.fact_tables import FACTS  # noqa: PLC0415 - few houses have any

    if name not in FACTS:
        return None
    fields = FACTS[name].columns.fields
    needed = frozenset(field.name for field in fields if field.required)
    return TableShape(columns=tuple(field.name for field in fields), needed=needed, keys=FACTS[name].keys)


def house_rows(folder: Path, name: str) -> tuple[tuple[Row, ...], tuple[Finding, ...]]:
    """The house's rows of a table in ``folder``, and all that is wrong with its form; none where it has none.

    A column that may be empty may be left out. What begins with # is a remark.

    Raises:
        Refused: the file lies by a link outside the folder, or is none to be read.
    """
    file = folder / f"{name}.csv"
    data = read_plain(file, folder, str(file)) if shape_of(name) else None
    return ((), ()) if data is None else rows_in(data, str(file), name)


def rows_in(data: bytes, file: str, name: str) -> tuple[tuple[Row, ...], tuple[Finding, ...]]:
    """The rows in the bytes of a table's file, and all that is wrong with its form."""
    shape = shape_of(name)
    assert shape is not None  # the callers have looked
    text, fault = _text(data, file)
    if fault is not None:
        return (), (fault,)
    (first, head), *lines = list(lines_of(text)) or [(1, ())]
    if len(set(head)) < len(head) or not shape.needed <= set(head) <= set(shape.columns):
        return (), (_of_head(head, shape, Where(file=file, line=first)),)
    rows: list[Row] = []
    findings: list[Finding] = []
    for line, cells in lines:
        where = Where(file=file, line=line)
        if len(cells) == len(head):
            given = dict(zip(head, cells, strict=True))
            rows.append(Row(cells={column: given.get(column, "") for column in shape.columns}, where=where))
        else:
            what = f"the row has {len(cells)} cells, the head {len(head)}"
            findings.append(fault_of(where, what, "a cell for each column, in quotes where it has a comma"))
    return tuple(rows), (*findings, *_twice(rows, shape))


@frozen
class OwnTables:
    """A house's own rows by their table, the folder they stand in, and what is wrong with them."""

    folder: Path = Path()
    reference: Tables = OURS  # our tables with the facts among these rows joined to them
    rows: Mapping[str, tuple[Row, ...]] = field(default_factory=dict)
    faults: tuple[Finding, ...] = ()

    def joined(self, name: str) -> tuple[Row, ...]:
        """The house's rows of a table, then those of ours that none of them replaces."""
        own = self.rows.get(name, ())
        taken = {row.name for row in own}
        ours = (Row(cells=cells) for cells in table(name))
        return (*own, *(row for row in ours if row.name not in taken))

    def row(self, name: str, called: str, noun: str) -> Row:
        """The row of a table that is called so; ``noun`` is what a row of it is.

        Raises:
            CardsmithError: there is none.
        """
        rows = self.joined(name)
        if own_row := next((row for row in rows if row.name == called), None):
            return own_row
        known = ", ".join(row.name for row in rows)
        raise CardsmithError(f"there is no {noun} {called!r}; {noun}s: {known}")

    @property
    def has_facts(self) -> bool:
        """Whether there are rows of other tables than those of printing."""
        return not self.rows.keys() <= PRINTING.keys()

    def placed(self, name: str) -> Iterator[tuple[Row, Where]]:
        """The house's rows of a table, each with its place."""
        yield from ((row, row.where) for row in self.rows.get(name, ()) if row.where)


NO_TABLES = OwnTables()


def read_tables(folder: Path) -> OwnTables:
    """All of a house's own rows, and what is wrong with the form of its tables.

    Raises:
        Refused: as `house_rows`.
    """
    read = {file.stem: house_rows(folder, file.stem) for file in sorted(folder.glob("*.csv"))}
    faults = (fault for _, findings in read.values() for fault in findings)
    rows = {name: rows for name, (rows, _) in read.items() if rows}
    return OwnTables(folder=folder, rows=rows, faults=(*faults, *strays(folder)))


def strays(folder: Path) -> Iterator[Finding]:
    """A finding for each file of the folder that nothing would read."""
    for file in sorted(folder.glob("*")):
        is_table = file.suffix == ".csv"
        known = shape_of(file.stem) is not None if is_table else file.suffix.lower() in OTHERS
        if not known and not file.name.startswith("."):
            what = "nothing reads this file: it is called like no table that a house may have"
            yield fault_of(
                Where(file=str(file)), what, f"{_near(file.stem)}.csv" if is_table else "a table's name"
            )


def fault_of(where: Where, what: str, instead: str) -> Finding:
    """What is wrong with a row of a house's table; ``instead`` is what to write."""
    return error("unfit-row", where, what, f"write {instead}")


def refusal(faults: Iterable[Finding]) -> CardsmithError:
    """All that is wrong with a house's files, a line each: where, what, and what to write instead."""
    lines = [
        f"{finding.where}: {_short(finding.what)}; {_short(finding.instead)}"
        for finding in in_order(tuple(faults))
    ]
    more = [f"and {len(lines) - MAX_TOLD} more"] if len(lines) > MAX_TOLD else []
    return CardsmithError("\n".join([*lines[:MAX_TOLD], *more]))


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= MAX_LINE else f"{line[:MAX_LINE]}…"


def misnamed(row: Row, where: Where) -> Iterator[Finding]:
    """A finding where a name can't be part of a file's name or of a style."""
    if not _CALLED.fullmatch(row.name):
        instead = "a name of small letters and digits, with hyphens between them"
        yield fault_of(where, f"“{row.name}” cannot be the name of a row", instead)


def filled(row: Row, where: Where, columns: Iterable[str]) -> Iterator[Finding]:
    """A finding for each of these cells that is empty."""
    for column in columns:
        if not row.cells[column]:
            yield fault_of(
                where, f"{row.name or 'a row'}: its {column} is empty", _EMPTY.get(column, f"its {column}")
            )


def _text(data: bytes, file: str) -> tuple[str, Finding | None]:
    where = Where(file=file)
    if len(data) > MAX_BYTES:
        return "", fault_of(where, f"the table has {len(data):,} bytes", f"at most {MAX_BYTES:,}")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        at = Where(file=file, line=data.count(b"\n", 0, fault.start) + 1)
        return "", fault_of(at, "this is not UTF-8", "the same table saved as UTF-8")
    if unseen := UNSEEN.search(text):
        at = Where(file=file, line=text.count("\n", 0, unseen.start()) + 1)
        what = f"an invisible character (U+{ord(unseen[0]):04X}) stands here"
        return "", fault_of(at, what, "the row without it")
    return text, None


def _near(name: str) -> str:
    """The tables that a house may have whose names are like this one, or all of them."""
    from cardsmith.house.own.fact_tables import FACTS  # noqa: PLC0415 - as above

    known = (*FACTS, *PRINTING)
    return ".csv or ".join(difflib.get_close_matches(name.lower(), known, n=1, cutoff=0.6) or known)


def lines_of(text: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The cells of each row that has any, and the line it begins in."""
    reader = csv.reader(io.StringIO(text, newline=""))
    line = 1
    for cells in reader:
        if cells and not cells[0].startswith("#"):
            yield line, tuple(cell.strip() for cell in cells)
        line = reader.line_num + 1


def _of_head(head: tuple[str, ...], shape: TableShape, where: Where) -> Finding:
    lacking = [name for name in shape.columns if name in shape.needed and name not in head]
    strange = [name for name in head if name not in shape.columns]
    if lacking or strange:
        what = f"column {(lacking or strange)[0]!r} is {'missing' if lacking else 'unknown'}"
    else:
        what = "a column stands twice"
    return fault_of(where, what, f"the columns {','.join(shape.columns)}")


def _twice(rows: list[Row], shape: TableShape) -> Iterator[Finding]:
    for key in shape.keys:
        first: dict[tuple[str, ...], Row] = {}
        for row in rows:
            before = first.setdefault(tuple(row.cells[column] for column in key), row)
            if before is not row and row.where and before.where:
                called = ", ".join(filter(None, (row.cells[column] for column in key)))
                what = f"“{called}” stands in line {before.where.line} already"
                yield fault_of(row.where, what, "another name, or one row of the two")
