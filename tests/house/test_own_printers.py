"""Printers, sheets and cards of a house's own: what is wrong with a row is told, all in one run."""

from __future__ import annotations

import shutil
from fractions import Fraction
from pathlib import Path

import pytest
from PIL import ImageCms

from cardsmith.finding import CardsmithError
from cardsmith.house.paper import card_size, sheet_size
from cardsmith.house.print_tables import COLUMNS, LISTS, rows_told
from cardsmith.house.printers import INK, printer, unfit
from cardsmith.house.publication import Publication
from cardsmith.house.style import House, load_house
from cardsmith.reference import table

ROOT = Path(__file__).parents[2]
ICC = ROOT / "cardsmith/reference/icc"
PRINTER = {
    "name": "quayside",
    "shown": "Quayside Press",
    "condition": "QP 7",
    "condition_name": "Quayside uncoated",
    "registry": "http://www.color.org",
    "icc": "quayside.icc",
    "licence": "zlib",
    "bleed": "5 mm",
    "marks": "yes",
    "resolution": "250",
    "ink_limit": "220",
    "source": "the press's own sheet of 2026",
}
CARD = {
    "name": "pocket",
    "shown": "Pocket",
    "width": "128 mm",
    "height": "182 mm",
    "columns": "1",
    "top": "9 mm",
    "side": "9 mm",
    "foot": "13 mm",
    "source": "ours",
}
SHEET = {
    "name": "stock",
    "shown": "Stock",
    "width": "330 mm",
    "height": "480 mm",
    "margin": "5 mm",
    "source": "ours",
}
TABLES = {"printer_profiles": PRINTER, "card_sizes": CARD, "sheet_sizes": SHEET}


def publication(folder: Path, *, named: str = "", **changed: dict[str, str]) -> Path:
    """A publication whose house has a printer, a card and a sheet of its own, with changes to their cells."""
    shutil.copytree(ROOT / "templates", folder / "templates", ignore=shutil.ignore_patterns("plain"))
    rows = folder / (named or "templates/tables")
    rows.mkdir(parents=True)
    for name, cells in TABLES.items():
        row = cells | changed.get(name, {})
        text = ",".join(row) + "\n" + ",".join(f'"{cell}"' for cell in row.values()) + "\n"
        (rows / f"{name}.csv").write_text(text, encoding="utf-8")
    shutil.copy(ICC / "FOGRA29L_uncoated.icc", rows / "quayside.icc")
    house = folder / "templates/house.yaml"
    text = house.read_text(encoding="utf-8")
    text = text.replace("size: 5x7", "size: pocket").replace(
        "printers: [offset]", "printers: [quayside, offset]"
    )
    house.write_text(text + (f"tables: {named}\n" if named else ""), encoding="utf-8")
    return folder


def refused(folder: Path, **changed: dict[str, str]) -> str:
    with pytest.raises(CardsmithError) as told:
        load_house(publication(folder, **changed))
    return str(told.value)


def proves_own(house: House) -> bool:
    quayside, offset = house.card.printers
    assert (house.card.size.name, float(house.card.size.width)) == ("pocket", pytest.approx(128 * 72 / 25.4))
    assert (quayside.name, quayside.condition, offset.condition) == ("quayside", "QP 7", "FOGRA39")
    assert (quayside.ink_limit, quayside.resolution) == (Fraction(22, 10), 250)
    assert quayside.profile == (ICC / "FOGRA29L_uncoated.icc").read_bytes()
    assert house.card.bleed == quayside.bleed == Fraction(5) * 720 / 254
    return sheet_size("stock", house.tables).margin == Fraction(5) * 720 / 254


def test_a_house_prints_on_its_own(tmp_path: Path) -> None:
    assert proves_own(load_house(publication(tmp_path)))


def test_its_rows_stand_where_the_house_says(tmp_path: Path) -> None:
    assert proves_own(load_house(publication(tmp_path, named="kitchen/rows")))


@pytest.mark.parametrize("named", ["../rows", "/rows", "a b", "."])
def test_a_folder_outside_is_refused(tmp_path: Path, named: str) -> None:
    house = publication(tmp_path) / "templates/house.yaml"
    house.write_text(house.read_text("utf-8") + f"tables: '{named}'\n", "utf-8")
    with pytest.raises(CardsmithError, match="is not a folder of the publication"):
        load_house(tmp_path)


def test_a_key_in_another_form_is_told(tmp_path: Path) -> None:
    house = publication(tmp_path, named="kitchen/rows") / "templates/house.yaml"
    house.write_text(house.read_text("utf-8").replace("tables: kitchen", '"tables": kitchen'), "utf-8")
    with pytest.raises(CardsmithError, match="write on a line of its own: tables: kitchen/rows"):
        load_house(tmp_path)


@pytest.mark.parametrize(
    ("name", "cells", "told"),
    [
        ("printer_profiles", {"icc": "other.icc"}, "quayside: there is no other.icc in"),
        ("printer_profiles", {"icc": "../quayside.icc"}, "cannot be the name of a profile"),
        ("printer_profiles", {"licence": ""}, "quayside: its licence is empty; write under which terms"),
        ("printer_profiles", {"source": ""}, "quayside: its source is empty; write who says so"),
        ("printer_profiles", {"condition": ""}, "quayside: its condition is empty"),
        ("printer_profiles", {"ink_limit": "2.2"}, "its ink_limit, “2.2”, is none that a press has"),
        ("printer_profiles", {"ink_limit": "400"}, f"write a whole number from {INK[0]} to {INK[1]} %"),
        ("printer_profiles", {"ink_limit": "90"}, "its ink_limit, “90”, is none"),
        (
            "printer_profiles",
            {"bleed": "1 mm"},
            "with a bleed of “1 mm” a cut that is off a little shows white",
        ),
        ("printer_profiles", {"bleed": "three"}, "with a bleed of “three”"),
        ("printer_profiles", {"bleed": "12 mm"}, "a bleed of “12 mm” is more than a card is drawn with"),
        ("printer_profiles", {"marks": "some"}, "marks are “some”; write marks yes or no"),
        ("printer_profiles", {"resolution": "30"}, "its resolution, “30”, is none"),
        ("printer_profiles", {"name": "Quay/side"}, "“Quay/side” cannot be the name of a row"),
        ("card_sizes", {"width": "128"}, "pocket: its width, “128”, is not a length; write a width such as"),
        ("card_sizes", {"columns": "3"}, "pocket: a card has no “3” columns"),
        ("card_sizes", {"columns": "2", "side": "30 mm"}, "leave 30 mm to a column, under 35 mm"),
        ("card_sizes", {"top": "80 mm", "foot": "90 mm"}, "leave 12 mm of height"),
        ("card_sizes", {"width": "9000 mm"}, "pocket: its width, “9000 mm”, is not a length"),
        ("sheet_sizes", {"width": "500 mm"}, "stock: it is 500 mm wide and 480 mm high"),
        (
            "sheet_sizes",
            {"width": "140 mm", "height": "190 mm"},
            "stock: less its margins it is smaller than",
        ),
    ],
)
def test_what_is_wrong_with_a_row(tmp_path: Path, name: str, cells: dict[str, str], told: str) -> None:
    (line,) = (one for one in refused(tmp_path, **{name: cells}).splitlines() if f"{name}.csv:2: " in one)
    assert told in line
    assert "; write " in line


def test_all_is_told_in_one_run(tmp_path: Path) -> None:
    changed = {"printer_profiles": {"licence": "", "bleed": "1 mm"}, "card_sizes": {"columns": "0"}}
    (folder := tmp_path / "x").mkdir()
    house = publication(folder, **changed) / "templates/house.yaml"
    house.write_text(house.read_text("utf-8").replace("sides: 2", "sides: 3"), "utf-8")
    with pytest.raises(CardsmithError) as told:
        load_house(folder)
    said = str(told.value).splitlines()
    assert [line.partition(":")[0].rpartition("/")[2] for line in said] == [
        *("house.yaml", "card_sizes.csv", "printer_profiles.csv", "printer_profiles.csv"),
    ]


def test_a_profile_that_makes_no_inks(tmp_path: Path) -> None:
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    inks = (ICC / "FOGRA39L_coated.icc").read_bytes()
    assert unfit(inks) == ""
    assert unfit(b"not a profile" * 20) == "is not an ICC profile"
    assert unfit(srgb) == "is a profile of class “mntr” for RGB, not of a printer for CMYK"
    assert unfit(inks[:300]).startswith("can't be read as an ICC profile")
    assert unfit(inks.replace(b"B2A", b"XXX")) != ""
    folder = publication(tmp_path) / "templates/tables"
    (folder / "quayside.icc").write_bytes(srgb)
    with pytest.raises(CardsmithError, match="is a profile of class"):
        load_house(tmp_path)


def test_ours_pass_the_same_checks() -> None:
    for row in table("printer_profiles"):
        made = printer(row["name"])
        assert unfit(made.profile) == ""
        assert INK[0] <= made.ink_limit * 100 <= INK[1]
        assert row["licence"]
        assert row["source"]
    assert all(card_size(row["name"]).column_width >= 100 for row in table("card_sizes"))


def test_the_columns_told_are_those_of_the_tables(tmp_path: Path) -> None:
    """Their examples together are rows that pass."""
    assert [one.table for one in LISTS.values()] == list(COLUMNS)
    rows = {}
    for name, record in COLUMNS.items():
        assert [field.name for field in record.fields] == list(table(name)[0])
        rows[name] = {field.name: field.example.partition(": ")[2] for field in record.fields}
    rows["printer_profiles"]["icc"] = "quayside.icc"
    called = {"name": "pocket"}
    house = load_house(publication(tmp_path, **rows | {"card_sizes": rows["card_sizes"] | called}))
    assert house.card.printers[0].condition == "CGATS TR 006"


def test_the_list_says_whose_each_row_is(tmp_path: Path) -> None:
    root = publication(tmp_path, sheet_sizes={"name": "a4"})
    found = Publication(root=root)
    told = rows_told("printers", found.house(), found.shown)
    assert "quayside (the house's, templates/tables/printer_profiles.csv:2, in use)\n" in told
    assert "    ink at most 220 %, bleed 5 mm, photos at 250 dots per inch, with cut marks\n" in told
    assert "    profile: quayside.icc, zlib\n" in told
    assert "offset (ours, in use)\n" in told
    assert "newsprint (ours)\n" in told
    told = rows_told("sheets", found.house(), found.shown)
    assert "a4 (the house's, templates/tables/sheet_sizes.csv:2, in place of ours)\n" in told
    assert "letter (ours, in use)\n" in told
    assert "pocket (the house's, templates/tables/card_sizes.csv:2, in use)\n" in rows_told(
        "cards", found.house(), found.shown
    )
