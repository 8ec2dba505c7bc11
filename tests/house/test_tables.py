"""A house's own rows: their form, their places, and how they join ours."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.files.reading import Refused
from cardsmith.house.own.tables import house_rows, read_tables
from cardsmith.reference import table

HEAD = "name,shown,width,height,margin,source"
ROW = "a3,A3,297 mm,420 mm,4 mm,ISO 216"


def written(folder: Path, text: str, name: str = "sheet_sizes.csv") -> Path:
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8", newline="")
    return folder


def test_a_row_knows_its_cells_and_its_line(tmp_path: Path) -> None:
    text = f'{HEAD}\n"b3","B3\nlarge",353 mm,500 mm,4 mm,ISO 216\n\n{ROW}\n'
    rows, faults = house_rows(written(tmp_path, text), "sheet_sizes")
    assert faults == ()
    assert [(row.name, row.where.line) for row in rows if row.where] == [("b3", 2), ("a3", 5)]
    assert rows[1].cells["height"] == "420 mm"


def test_columns_stand_in_any_order(tmp_path: Path) -> None:
    text = "source,name,margin,shown,height,width\nISO 216,a3,4 mm,A3,420 mm,297 mm\n"
    (row,), faults = house_rows(written(tmp_path, text), "sheet_sizes")
    assert (row.name, faults) == ("a3", ())
    assert tuple(row.cells) == tuple(table("sheet_sizes")[0])


def test_no_folder_has_no_rows(tmp_path: Path) -> None:
    own = read_tables(tmp_path / "tables")
    assert (own.rows, own.faults) == ({}, ())
    assert [row.cells for row in own.joined("sheet_sizes")] == list(table("sheet_sizes"))


def test_the_houses_row_stands_in_place_of_ours(tmp_path: Path) -> None:
    own = read_tables(written(tmp_path, f"{HEAD}\n{ROW}\na4,Our A4,210 mm,297 mm,9 mm,measured here\n"))
    names = [row.name for row in own.joined("sheet_sizes")]
    assert names == ["a3", "a4", "letter", "sra3", "12x18"]
    assert own.row("sheet_sizes", "a4", "sheet").cells["margin"] == "9 mm"
    assert [row.where is None for row in own.joined("sheet_sizes")] == [False, False, True, True, True]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "1: column 'name' is missing"),
        (f"{HEAD}\na3,A3,297 mm\n", "2: the row has 3 cells, the head 6"),
        (f"{HEAD}\n{ROW}, sheets\n", "2: the row has 7 cells, the head 6"),
        (f"{HEAD},notes\n{ROW},none\n", "1: column 'notes' is unknown"),
        (f"{HEAD},name\n{ROW},a3\n", "1: a column stands twice"),
        ("name,shown\na3,A3\n", "1: column 'width' is missing"),
        (f"{HEAD}\n{ROW}\n{ROW}\n", "3: “a3” stands in line 2 already"),
        (f"{HEAD}\n{ROW}\x07\n", "2: an invisible character (U+0007) stands here"),
        (HEAD + "\n" + "a" * 130_000, ": the table has 130,038 bytes"),
    ],
)
def test_what_is_wrong_with_a_table_is_told_with_its_line(tmp_path: Path, text: str, told: str) -> None:
    (fault,) = read_tables(written(tmp_path, text)).faults
    assert f"sheet_sizes.csv:{told}".replace("csv::", "csv:") in str(fault).replace(": error", "", 1)
    assert fault.instead.startswith("write ")


def test_another_encoding_is_told_with_its_line(tmp_path: Path) -> None:
    (tmp_path / "sheet_sizes.csv").write_bytes(
        f"{HEAD}\n{ROW}\nb3,B3 gro\xdf,1 mm,1 mm,1 mm,x\n".encode("latin-1")
    )
    (fault,) = read_tables(tmp_path).faults
    assert (fault.where.line, fault.what) == (3, "this is not UTF-8")


def test_a_file_that_nothing_reads_is_told(tmp_path: Path) -> None:
    written(tmp_path, "x", "printers.csv")
    written(tmp_path, "x", "notes.md")
    (fault,) = read_tables(tmp_path).faults
    assert fault.where.file.endswith("printers.csv")
    assert fault.instead == "write printer_profiles.csv"


def test_a_table_may_not_lie_elsewhere(tmp_path: Path) -> None:
    (tmp_path / "tables").mkdir()
    (tmp_path / "tables/sheet_sizes.csv").symlink_to(
        written(tmp_path / "away", f"{HEAD}\n") / "sheet_sizes.csv"
    )
    with pytest.raises(Refused, match="symbolic link"):
        read_tables(tmp_path / "tables")
