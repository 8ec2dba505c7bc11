"""``cardsmith portion`` as a user meets it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cardsmith.commands.main import FINE, FOUND, MISUSED, main

RECIPE = """\
title: Rye thins
kind: cracker
yield: {makes: 40 crackers, serves: 8, piece: 7 g}
ingredients:
  - 200 g whole-grain rye flour
  - 4 g fine salt
  - 110 g water
  - 30 g olive oil
steps:
  - Mix, roll and bake.
"""
PRICES = """\
ingredient,price,pack,currency,supplier,date
whole-grain rye flour,5.00,1 kg,EUR,mill,2026-03-01
fine salt,1.00,1 kg,EUR,shop,2026-03-02
olive oil,12.00,1 kg,EUR,shop,2026-03-02
"""


@pytest.fixture
def publication(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "recipes/thins"
    folder.mkdir(parents=True)
    (folder / "recipe.yaml").write_text(RECIPE, encoding="utf-8")
    (tmp_path / "recipes/prices.csv").write_text(PRICES, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_all_three_are_printed(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["portion", "thins"]) == FINE
    told = capsys.readouterr().out
    assert "batch 1.36 EUR, portion 0.17 EUR, piece 0.034 EUR (prices of 2026-03-01 to 2026-03-02" in told
    assert "at a food cost of 30 % a portion sells for 0.57 EUR" in told
    assert "US, 21 CFR 101.9" in told
    assert "Ingredients: dark RYE flour" in told


def test_json_is_for_programs(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["portion", "thins", "--json", "--food-cost", "25 %"]) == FINE
    told = json.loads(capsys.readouterr().out)
    assert told["cost"]["batch"] == 1.364
    assert told["cost"]["selling_price"] == pytest.approx(1.364 / 8 / 0.25)


@pytest.mark.parametrize("share", ["0", "many", "-3", "30 percent of it"])
def test_a_share_that_is_none_is_misuse(
    publication: Path, share: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["portion", "thins", f"--food-cost={share}"]) == MISUSED
    assert "--food-cost 30" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("file", "text", "told"),
    [
        ("prices.csv", PRICES.replace("5.00", "five"), "recipes/prices.csv:2"),
        ("thins/portion.yaml", "eaten: {lard: 10 %}", "no list has “lard”"),
    ],
)
def test_a_file_that_cannot_be_read_stops_it(
    publication: Path, file: str, text: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (publication / "recipes" / file).write_text(text, encoding="utf-8")
    assert main(["portion", "thins"]) == FOUND
    assert told in capsys.readouterr().out


def test_what_the_kitchen_states_is_read(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (publication / "recipes/thins/portion.yaml").write_text(
        "finished: 250 g\nrejects: 5 %\n", encoding="utf-8"
    )
    assert main(["portion", "thins"]) == FINE
    told = capsys.readouterr().out
    assert "the finished batch weighs 250 g (stated)" in told
    assert "5 % can't be served (stated)" in told


def test_a_page_is_written(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["portion", "thins", "--page"]) == FINE
    folder = publication / "build/portion/thins"
    assert sorted(file.name for file in folder.iterdir()) == ["thins-portion.html", "thins-portion.pdf"]
    page = (folder / "thins-portion.html").read_text(encoding="utf-8")
    assert "<strong>RYE</strong>" in page or "<strong>rye</strong>" in page
    assert (folder / "thins-portion.pdf").read_bytes().startswith(b"%PDF")
