"""Every published table: readable, complete, and with its source in each row."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from cardsmith.reference import OURS, Tables, folder, row_of, table

FOLDER = Path(__file__).parents[2] / "cardsmith/reference"
ITS_OWN_SOURCE = {"usda_sr28"}  # folders that hold a published table as it is, named for its source
TABLES = sorted(path.relative_to(FOLDER).with_suffix("").as_posix() for path in FOLDER.rglob("*.csv"))


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_square_and_every_row_names_its_source(name: str) -> None:
    rows = table(name)
    assert rows
    columns = set(rows[0])
    for row in rows:
        assert set(row) == columns, row  # a comma too many shows as a None key
        assert None not in row.values(), row
        if name.partition("/")[0] not in ITS_OWN_SOURCE:
            assert row["source"].strip(), row
            assert all(cell == cell.strip() for cell in row.values()), row


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_plain_utf_8_with_no_repeated_row(name: str) -> None:
    text = (FOLDER / f"{name}.csv").read_bytes().decode("utf-8")
    assert not text.startswith("\ufeff")
    assert text.endswith("\n")
    lines = [line for line in text.splitlines() if line]
    assert len(set(lines)) == len(lines), sorted(line for line in lines if lines.count(line) > 1)


def test_a_folder_is_listed_in_order() -> None:
    names = folder("larder")
    assert names == tuple(sorted(names))
    assert all(name.startswith("larder/") for name in names)
    assert set(names) <= set(TABLES)


@pytest.mark.parametrize(
    "path", sorted((Path(__file__).parents[1] / "data").glob("*.csv")), ids=lambda path: path.stem
)
def test_outside_tables_name_their_source_too(path: Path) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows
    assert all(row["source"].strip() for row in rows)


def test_a_row_found_by_its_key_is_that_of_the_table() -> None:
    rows = table("usda_sr28/foods")
    assert all(row_of("usda_sr28/foods", row["ndb_no"]) == row for row in rows)
    assert row_of("usda_sr28/foods", "00000") is None


OWN = {"kinds": [{"kind": "cracker", "about": "ours is thicker", "aliases": "", "source": "here"}]}
KEYS = {"kinds": (("kind",),)}


def test_a_row_of_a_house_stands_first_and_in_place_of_ours() -> None:
    tables = Tables.of(OWN, KEYS)
    assert tables.rows("kinds")[0]["about"] == "ours is thicker"
    assert [row["kind"] for row in tables.rows("kinds")].count("cracker") == 1
    assert len(tables.rows("kinds")) == len(table("kinds"))
    assert tables.row("kinds", "cracker") == OWN["kinds"][0]
    assert tables.row("kinds", "scone") == row_of("kinds", "scone")
    assert tables.row("kinds", "nothing") is None


def test_tables_are_equal_by_what_a_house_says() -> None:
    assert Tables.of({}, KEYS) == OURS
    assert Tables.of(OWN, KEYS) == Tables.of(OWN, KEYS) != OURS
    assert hash(Tables.of(OWN, KEYS)) == hash(Tables.of(OWN, KEYS))
    assert OURS.rows("kinds") is table("kinds")
    assert {row["key"] for row in OURS.rows("larder")} == {
        row["key"] for name in folder("larder") for row in table(name)
    }
