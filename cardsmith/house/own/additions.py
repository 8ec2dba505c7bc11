"""Rows added to a house's larder: what a new food needs, worked out from a few words, put into its tables.

Rows, remarks and their order stay as they are; a row is replaced only where that is asked for.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from cardsmith.files.reading import Refused, lies_below, read_plain
from cardsmith.files.writing import write_whole
from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.own.fact_tables import FACTS
from cardsmith.house.own.facts import BOTH_LAWS, with_facts
from cardsmith.house.own.tables import OwnTables, Row, lines_of, refusal, rows_in
from cardsmith.house.own.weighed import Weighed
from cardsmith.measure.food import SHOWN_AS
from cardsmith.measure.larder import Food, Larder, parts, words
from cardsmith.reference import folder, table

FOODS, MEASURES = "larder", "larder_measures"


@frozen
class NewFood:
    """What a kitchen says of a food; what it leaves open is taken from foods of ours that do the same."""

    name: str
    roles: tuple[str, ...]  # cheese, water:0.42
    allergens: tuple[str, ...]  # by US law; none where it has none
    source: str
    eu_allergens: tuple[str, ...] = ()
    origin: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    aisle: str = ""
    state: str = ""


@frozen
class Added:
    """A row as it was written: its file, its line, and whether it took the place of one of the house's."""

    file: Path
    line: int
    table: str
    cells: Mapping[str, str]
    replaced: bool


def known_as(name: str, larder: Larder) -> Food | None:
    """The food that has exactly this name; None where there is none."""
    match = larder.find(name)
    return match.food if match and words(match.name) == words(name) and not match.form else None


def food_row(new: NewFood) -> dict[str, str]:
    """The row of a food in the house's larder.

    Raises:
        CardsmithError: no food of ours does what it does.
    """
    main = new.roles[0].partition(":")[0]
    alike = [row for row in _ours() if row["roles"].partition(":")[0] == main]
    if not alike:
        known = ", ".join(sorted({row["roles"].partition(":")[0] for row in _ours()} - {""}))
        raise CardsmithError(f"no food mainly does what {main!r} says; roles: {known}")
    shelf = Counter((row["aisle"], row["state"], row["us_print"]) for row in alike).most_common(1)[0][0]
    return {
        "key": "-".join(words(new.name)),
        "name": new.name,
        "aliases": "|".join(new.also),
        "aisle": new.aisle or shelf[0],
        "state": new.state or shelf[1],
        "us_print": shelf[2],
        "roles": "|".join(role if ":" in role else f"{role}:1" for role in new.roles),
        "us_allergens": "|".join(new.allergens),
        "eu_allergens": "|".join(new.eu_allergens or map(_by_eu_law, new.allergens)),
        "origin": "|".join(new.origin or _origins(new, alike)),
        "source": new.source,
    }


def _ours() -> Iterator[dict[str, str]]:
    for name in folder("larder"):
        yield from ({**row, "aisle": name.partition("/")[2]} for row in table(name))


def _by_eu_law(name: str) -> str:
    sure = name.removeprefix("?")
    return f"{'?' * name.startswith('?')}{BOTH_LAWS.get(sure, 'nuts' if sure == 'tree nuts' else sure)}"


def _origins(new: NewFood, alike: list[dict[str, str]]) -> tuple[str, ...]:
    """Where its sure allergens come from, else where most foods do that do the same."""
    shown = tuple(origin for origin, names in SHOWN_AS.items() if names & {*new.allergens, *new.eu_allergens})
    return shown or parts(Counter(row["origin"] for row in alike).most_common(1)[0][0])


def measure_row(key: str, weighed: Weighed, source: str) -> dict[str, str]:
    """The row of a weighing: its mean, the least and the most, and in its source how often and the spread."""
    several = len(weighed.grams) > 1
    return {
        "key": key,
        "form": weighed.form,
        "measure": weighed.measure,
        "amount": _cell(weighed.amount),
        "grams": _cell(weighed.mean),
        "grams_low": _cell(min(weighed.grams)) if several else "",
        "grams_high": _cell(max(weighed.grams)) if several else "",
        "source": f"{source}; {weighed.spread}" if several else source,
    }


def _cell(number: Fraction) -> str:
    """As a decimal where it has one of six places, else as a fraction."""
    text = f"{float(number):.6f}".rstrip("0").rstrip(".")
    return text if number.denominator > 1000 or Fraction(text) == number else str(number)


def add(own: OwnTables, rows: Mapping[str, list[dict[str, str]]], *, overwrite: bool) -> tuple[Added, ...]:
    """Put rows into the house's tables, or none of them where any would be wrong there.

    Raises:
        CardsmithError: a row is there already and may not be overwritten, or it is none of such a table.
    """
    texts: dict[str, bytes] = {}
    added: list[Added] = []
    for name, some in rows.items():
        file = own.folder / f"{name}.csv"
        if not lies_below(file, own.folder):
            raise Refused(str(file), "leads by a symbolic link out of where it stands", "put the file there")
        text = (read_plain(file, own.folder, str(file)) or b"").decode("utf-8-sig")
        for cells in some:
            text, line, replaced = _with_row(text, name, cells, str(file), overwrite=overwrite)
            added.append(Added(file=file, line=line, table=name, cells=cells, replaced=replaced))
        texts[name] = text.encode()
    _pass(own, texts)
    for name, data in texts.items():
        own.folder.mkdir(parents=True, exist_ok=True)
        write_whole(own.folder / f"{name}.csv", data)
    return tuple(added)


def _pass(own: OwnTables, texts: Mapping[str, bytes]) -> None:
    """Refuse texts that would be wrong as the house's tables."""
    read = {name: rows_in(data, str(own.folder / f"{name}.csv"), name) for name, data in texts.items()}
    rows: dict[str, tuple[Row, ...]] = {
        **own.rows,
        **{name: rows_read for name, (rows_read, _) in read.items()},
    }
    faults = [fault for _, findings in read.values() for fault in findings]
    faults += with_facts(replace(own, rows=rows, faults=())).faults
    if faults:
        raise refusal(faults)


def _with_row(
    text: str, name: str, cells: Mapping[str, str], file: str, *, overwrite: bool
) -> tuple[str, int, bool]:
    """The text of a table with one row more, its line, and whether it stands in another's place."""
    columns = [column.name for column in FACTS[name].columns.fields]
    end = "\r\n" if "\r\n" in text else "\n"
    if not text.strip():
        fields = FACTS[name].columns.fields
        text = _line([key.name for key in fields if key.required or cells.get(key.name)], end)
    text = text if text.endswith("\n") else f"{text}{end}"
    (_, head), *rows = lines_of(text)
    lacking = [column for column in columns if cells.get(column) and column not in head]
    if lacking:
        raise CardsmithError(f"{file}: its first line lacks {', '.join(lacking)}; add it there first")
    row = _line([cells.get(column, "") for column in head], end)
    key = FACTS[name].keys[0]
    wanted = [cells.get(column, "") for column in key]
    lines = [f"{line}\n" for line in text.split("\n")[:-1]]
    for first, written in rows:
        given = dict(zip(head, written, strict=False))
        if [given.get(column, "") for column in key] != wanted:
            continue
        if not overwrite:
            called = ", ".join(filter(None, wanted))
            raise CardsmithError(f"{file}:{first}: {called} is there already; --replace writes over it")
        last = first + "".join(written).count("\n")
        return "".join((*lines[: first - 1], row, *lines[last:])), first, True
    return text + row, len(lines) + 1, False


def _line(cells: list[str], end: str) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator=end).writerow(cells)
    return out.getvalue()
