"""The larder's commands: whose a row is, and rows added to the house's own."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from cardsmith.commands.main import FINE, MISUSED, main
from cardsmith.house.publication import Publication

CHEESE = [
    "--role",
    "cheese",
    "--role",
    "water:0.42",
    "--allergens",
    "milk",
    "--source",
    "weighed here, n = 5",
]
HONEY = ("larder", "add", "honey", "--source", "here")
HEAD = "key,name,aisle,state,us_print,roles,us_allergens,eu_allergens,origin,source"


@pytest.fixture
def tables(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of a new publication's own tables."""
    folder = tmp_path / "north-quay"
    folder.mkdir()
    monkeypatch.chdir(folder)
    assert main(["new", "oat-squares"]) == FINE
    return folder / "templates/tables"


def rows(file: Path) -> list[dict[str, str]]:
    with file.open(encoding="utf-8", newline="") as text:
        return list(csv.DictReader(text))


def test_a_food_is_added_with_its_weight(tables: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["larder", "add", "Fenwick blue", *CHEESE, "--weighs", "1 cup, crumbled = 120 g"]) == FINE
    assert "wrote templates/tables/larder.csv:2: fenwick-blue" in capsys.readouterr().out
    (food,) = rows(tables / "larder.csv")
    assert food == {
        "key": "fenwick-blue",
        "name": "Fenwick blue",
        "roles": "cheese:1|water:0.42",
        "aisle": "dairy",
        "state": "solid",
        "us_print": "weight",
        "origin": "milk",
        "us_allergens": "milk",
        "eu_allergens": "milk",
        "source": "weighed here, n = 5",
    }
    (weight,) = rows(tables / "larder_measures.csv")
    assert weight["grams"] == "120"
    assert main(["larder", "fenwick"]) == FINE
    told = capsys.readouterr().out
    whose = "the house's, templates/tables/larder_measures.csv:2: weighed here, n = 5"
    assert f"1 cup, crumbled = 120 g  [{whose}]" in told
    assert "allergens: milk" in told
    assert "row: the house's, templates/tables/larder.csv:2: weighed here, n = 5" in told


def test_repeated_weighings_become_a_mean_with_its_spread(
    tables: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*HONEY, "--weighs", "1 cup = 338 g, 341, 340 g"]) == FINE
    told = capsys.readouterr().out
    assert "1 cup = 339.7 g (n = 3, 338 to 341 g, standard deviation 1.5 g)" in told
    assert "in place of ours: 1 cup = 339 g [USDA SR 28" in told
    (row,) = rows(tables / "larder_measures.csv")
    assert (row["grams"], row["grams_low"], row["grams_high"]) == ("339.7", "338", "341")
    assert row["source"] == "here; n = 3, standard deviation 1.5 g"
    assert main(["larder", "honey", "--json"]) == FINE
    found = {one["key"]: one for one in json.loads(capsys.readouterr().out)}
    assert found["honey"]["measures"][0]["house"] == "templates/tables/larder_measures.csv:2"
    assert found["honey"]["house"] == ""


def test_a_list_of_weighings_is_read(tables: Path, tmp_path: Path) -> None:
    listed = tmp_path / "weighings.csv"
    listed.write_text("food,weighed\nhoney,1 cup = 338 g\nhoney,1 cup = 342 g\n", encoding="utf-8")
    assert main([*HONEY, "--weighings", str(listed)]) == FINE
    (row,) = rows(tables / "larder_measures.csv")
    assert row["source"] == "here; n = 2, standard deviation 2.8 g"


KEPT = f"""\
# the dairy next door\r
{HEAD}\r
tarn-crowdie,Tarn crowdie,dairy,paste,weight,cheese:1,milk,milk,milk,"label, 2026"\r
\r
# bought twice a year\r
fell-cheddar,Fell cheddar,dairy,solid,weight,cheese:1,milk,milk,milk,label"""


def test_remarks_order_and_line_ends_are_kept(tables: Path) -> None:
    tables.mkdir()
    file = tables / "larder.csv"
    file.write_bytes(KEPT.encode())
    assert main(["larder", "add", "Fenwick blue", *CHEESE, "--weighs", "1 cup = 120 g"]) == FINE
    added = b"fenwick-blue,Fenwick blue,dairy,solid,weight,cheese:1|water:0.42,milk,milk,milk,"
    added += b'"weighed here, n = 5"'
    assert file.read_bytes() == KEPT.encode() + b"\r\n" + added + b"\r\n"


def test_nothing_is_written_over_without_saying(tables: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tables.mkdir()
    (tables / "larder.csv").write_bytes(KEPT.encode())
    again = ["larder", "add", "Tarn crowdie", *CHEESE]
    assert main([*again, "--weighs", "1 cup = 240 g"]) == MISUSED
    assert "larder.csv:3: tarn-crowdie is there already; --replace writes over it" in capsys.readouterr().err
    assert (tables / "larder.csv").read_bytes() == KEPT.encode()
    assert not (tables / "larder_measures.csv").exists()
    assert main([*again, "--weighs", "1 cup = 240 g", "--replace"]) == FINE
    assert "replaced templates/tables/larder.csv:3: tarn-crowdie" in capsys.readouterr().out
    text = (tables / "larder.csv").read_text(encoding="utf-8")
    assert [line.partition(",")[0] for line in text.splitlines()] == [
        *("# the dairy next door", "key", "tarn-crowdie", "", "# bought twice a year", "fell-cheddar")
    ]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (["Fenwick blue"], "--role is missing"),
        (["Fenwick blue", "--role", "cheese"], "--allergens is missing"),
        (["Fenwick blue", "--role", "cheese", "--allergens", "milk"], "--source is missing"),
        (["Fenwick blue", *CHEESE, "--weighs", "1 cup"], "'1 cup' says no weight"),
        (
            ["Fenwick blue", *CHEESE, "--weighs", "1 cup = 900 g"],
            "900 g for 1 cup is not a weight of a solid",
        ),
        (["Fenwick blue", *CHEESE, "--also", "blue cheese"], "“blue cheese” is a name of blue-cheese"),
        (["Fenwick blue", "--role", "chese", "--allergens", "none", "--source", "x"], "no food mainly does"),
        (["honey", "--source", "here"], "honey is in the larder already"),
    ],
    ids=lambda one: one if isinstance(one, str) else "",
)
def test_what_is_lacking_or_wrong_is_told_and_nothing_written(
    tables: Path, given: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["larder", "add", *given]) == MISUSED
    assert said in capsys.readouterr().err
    assert not tables.exists()


def test_without_a_house_nothing_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["larder", "add", "Fenwick blue", *CHEESE]) == MISUSED
    assert "there is no house here to add to" in capsys.readouterr().err
    assert main(["larder", "honey"]) == FINE
    assert list(tmp_path.iterdir()) == []


def test_on_a_terminal_it_asks(tables: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = iter(["cheese", "milk", "1 cup = 118 g, 121 g", "weighed here"])
    monkeypatch.setattr("cardsmith.commands.larder.click.prompt", lambda *_, **__: next(answers))
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    assert main(["larder", "add", "Fenwick blue"]) == FINE
    (food,) = rows(tables / "larder.csv")
    assert (food["roles"], food["source"]) == ("cheese:1", "weighed here")
    larder = Publication(root=tables.parents[1]).larder()
    assert larder.foods["fenwick-blue"].measures[0].grams_high == 121


def test_a_folder_that_the_house_names_is_written_to(tables: Path) -> None:
    house = tables.with_name("house.yaml")
    house.write_text(house.read_text(encoding="utf-8") + "\ntables: kitchen/tables\n", encoding="utf-8")
    assert main(["larder", "add", "Fenwick blue", *CHEESE, "--weighs", "1 cup = 120 g"]) == FINE
    assert rows(tables.parents[1] / "kitchen/tables/larder.csv")
    assert not tables.exists()
