"""The command line as a user meets it: in process, in an empty folder, with its exit codes."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import click
import pytest

from cardsmith.check.report import MANY
from cardsmith.commands.main import ELSEWHERE, FINE, FOUND, MISUSED, cardsmith, main
from cardsmith.engine.freshness.inputs import libraries

GOOD = """\
title: Rye thins
kind: cracker
headnote: >
  Thin, dark and brittle, the thins to put under a strong cheese or beside a bowl of soup. They are rolled
  between sheets of parchment, so that no flour is needed, and baked until they snap; a pale one is leathery.
yield: {makes: 30 crackers}
time: {active: 20 min, total: 1 h}
ingredients:
  - 200 g whole-grain rye flour
  - 4 g fine salt
  - 110 g water
  - 30 g olive oil
steps:
  - Heat the oven to 160 °C with a rack in the middle.
  - Mix the flour, salt, water and oil to a firm dough, and roll it to 2 mm.
  - Bake for 25 to 30 minutes, until dry and crisp.
storage: Keeps two weeks in an airtight tin.
"""


@pytest.fixture
def publication(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "north-quay"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


def write(publication: Path, name: str, text: str) -> Path:
    file = publication / "recipes" / name / "recipe.yaml"
    file.parent.mkdir(parents=True)
    file.write_text(text, encoding="utf-8")
    return file


def test_new_in_an_empty_folder_starts_a_publication_that_builds(
    publication: Path, capsys: pytest.CaptureFixture[str], filled_in: Callable[[Path], None]
) -> None:
    assert main(["new", "oat-squares"]) == FINE
    assert "name: North Quay" in (publication / "templates/house.yaml").read_text(encoding="utf-8")
    assert main(["build"]) == FOUND
    assert capsys.readouterr().out.count("[placeholder-left]") == 2
    assert not (publication / "build/cards/oat-squares").exists()
    filled_in(publication / "recipes/oat-squares/recipe.yaml")
    assert main(["build"]) == FINE
    cards = publication / "build/cards/oat-squares"
    assert sorted(file.name for file in cards.iterdir()) == [
        "oat-squares-fragment.html",
        "oat-squares-press.pdf",
        "oat-squares-screen.pdf",
        "oat-squares.html",
        "oat-squares.json",
        "oat-squares.jsonld",
    ]
    page = (cards / "oat-squares.html").read_text(encoding="utf-8")
    assert "Oat squares" in page
    assert "North Quay" in page
    assert "nothing found" in capsys.readouterr().out


def test_new_changes_nothing_that_is_there(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = write(publication, "thins", GOOD)
    assert main(["new", "thins"]) == MISUSED
    assert file.read_text(encoding="utf-8") == GOOD
    assert "is there already; nothing was changed" in capsys.readouterr().err


def test_new_wants_a_name_that_can_be_an_address(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "Mum's Scones"]) == MISUSED
    assert "'mum-s-scones', not \"Mum's Scones\"" in capsys.readouterr().err


def test_check_is_quiet_on_a_sound_recipe(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(publication, "thins", GOOD)
    assert main(["check"]) == FINE
    assert capsys.readouterr().out == "1 recipe checked: nothing found\n"


def test_check_shows_the_line_and_what_to_write(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(publication, "thins", GOOD.replace("160 °C", "325"))
    assert main(["check", "thins"]) == FOUND
    told = capsys.readouterr().out
    assert "recipes/thins/recipe.yaml:14:22: error:" in told
    assert "   14 |   - Heat the oven to 325 with a rack in the middle." in told
    assert "write “325 °F” if you mean it so" in told


def test_check_json_is_for_programs(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(publication, "thins", GOOD.replace("160 °C", "325"))
    assert main(["check", "--json"]) == FOUND
    (finding,) = json.loads(capsys.readouterr().out)["findings"]
    assert (finding["name"], finding["severity"], finding["line"]) == ("scale-missing", "error", 14)


def test_build_prints_no_card_with_errors_and_takes_the_old_one_away(publication: Path) -> None:
    file = write(publication, "thins", GOOD)
    assert main(["build"]) == FINE
    card = publication / "build/cards/thins/thins.html"
    assert card.is_file()
    file.write_text(GOOD.replace("160 °C", "325"), encoding="utf-8")
    assert main(["build"]) == FOUND
    assert not card.exists()
    report = json.loads((publication / "build/report.json").read_text(encoding="utf-8"))
    assert [one["name"] for one in report["findings"]] == ["scale-missing"]
    log = json.loads((publication / "build/report.sarif").read_text(encoding="utf-8"))
    assert [one["ruleId"] for one in log["runs"][0]["results"]] == ["scale-missing"]


def test_a_card_goes_with_its_recipe(publication: Path) -> None:
    write(publication, "thins", GOOD)
    thick = write(publication, "thicks", GOOD.replace("thins", "thicks"))
    assert main(["build"]) == FINE
    thick.unlink()
    assert main(["build"]) == FINE
    assert [folder.name for folder in (publication / "build/cards").iterdir()] == ["thins"]


def test_without_pango_the_page_is_written_and_the_packages_are_named(
    publication: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(library: str) -> None:
        raise OSError(library)

    monkeypatch.setattr("ctypes.CDLL", none)
    libraries.cache_clear()
    write(publication, "thins", GOOD)
    try:
        assert main(["build"]) == FOUND
    finally:
        libraries.cache_clear()
    made = {file.name for file in (publication / "build/cards/thins").iterdir()}
    assert made == {"thins.html", "thins-fragment.html", "thins.json", "thins.jsonld"}
    assert "apt-get install" in (told := capsys.readouterr().err)
    assert "libpango-1.0-0" in told


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("2 cups rye flour", ["US      2\u00a0cups", "metric  205\u00a0g", "USDA SR 28, food 20064"]),
        ("350 F oven", ["350\u00a0°F", "180\u00a0°C", "oven's dial"]),
        ("9x13 inch pan", ["9-by-13-inch", "23 × 33\u00a0cm"]),
        ("100 g egg whites", ["US      3", "metric  100\u00a0g"]),
        ("3 tbsp", ["3\u00a0tbsp", "45\u00a0ml"]),
        ("10 psi", ["10\u00a0psi", "69\u00a0kPa"]),
        ("2 bushels", ["18.62 gal", "70.48 L", "NIST SP 811"]),
        ("40 gallons/minute", ["40 gal/min", "151.4 L/min"]),
    ],
)
def test_convert_answers_and_says_what_it_assumed(
    asked: str, told: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["convert", asked]) == FINE
    answer = capsys.readouterr().out
    for words in told:
        assert words in answer


def test_convert_says_what_it_needs(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["convert", "hello"]) == MISUSED
    assert "write a number, a unit and an ingredient" in capsys.readouterr().err


def test_larder_shows_weights_with_their_sources(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["larder", "buttermilk"]) == FINE
    told = capsys.readouterr().out
    assert "1 cup = 245 g  [USDA SR 28" in told
    assert "allergens: milk" in told


def test_larder_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["larder", "honey", "--json"]) == FINE
    foods = json.loads(capsys.readouterr().out)
    honey = next(food for food in foods if food["key"] == "honey")
    assert {"form": "", "amount": 1.0, "measure": "cup", "grams": 339.0}.items() <= honey["measures"][
        0
    ].items()


def test_larder_names_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["larder", "buttermlik"]) == FOUND
    assert "nearest: buttermilk" in capsys.readouterr().err


def test_scale_goes_from_the_authors_amounts(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(publication, "thins", GOOD)
    assert main(["scale", "thins", "--makes", "45", "--json"]) == FINE
    record = json.loads(capsys.readouterr().out)
    assert record["factor"] == "3/2"
    assert record["ingredients"][0]["metric"] == "300\u00a0g"
    assert any("25 to 30 minutes" in note for note in record["does_not_scale"])


def test_scale_to_another_pan_goes_by_area(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(publication, "thins", GOOD)
    assert main(["scale", "thins", "--from", "20 cm round", "--to", "20 cm square", "--json"]) == FINE
    factor = json.loads(capsys.readouterr().out)["factor"]
    numerator, denominator = map(int, factor.split("/"))
    assert numerator / denominator == pytest.approx(
        4 / 3.14159265, rel=1e-6
    )  # geometry: a square on its circle


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ([], "say one of"),
        (["--by", "2", "--makes", "9"], "say one of"),
        (["--by", "0"], "out of reach"),
        (["--by", "lots"], "is not a number"),
        (["--from", "9 inch round"], "--to is missing"),
        (["--from", "big", "--to", "9 inch round"], "names no pan"),
    ],
)
def test_scale_says_what_it_needs(
    options: list[str], told: str, publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(publication, "thins", GOOD)
    assert main(["scale", "thins", *options]) == MISUSED
    assert told in capsys.readouterr().err


def test_explain_gives_reason_and_source(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "scale-missing"]) == FINE
    told = capsys.readouterr().out
    assert "why:" in told
    assert "source:" in told


@pytest.mark.parametrize(("name", "says"), [("kinds", "cookie"), ("printers", "offset (ours)")])
def test_explain_helps_while_the_house_file_has_faults(
    publication: Path, capsys: pytest.CaptureFixture[str], name: str, says: str
) -> None:
    templates = publication / "templates"
    templates.mkdir()
    (templates / "house.yaml").write_text("lnguage: en\n", encoding="utf-8")
    assert main(["check"]) == MISUSED
    capsys.readouterr()
    assert main(["explain", name]) == FINE
    printed = capsys.readouterr()
    assert says in printed.out
    assert "there is no key “lnguage”; write: language:" in printed.err
    assert "left out here" in printed.err


def test_explain_offers_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "scale-mising"]) == MISUSED
    assert "did you mean 'scale-missing'?" in capsys.readouterr().err


def test_misuse_is_exit_code_2(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bake"]) == MISUSED
    assert main(["check"]) == MISUSED
    assert "`cardsmith new NAME` starts one" in capsys.readouterr().err
    write(publication, "thins", GOOD)
    assert main(["check", "thinz"]) == MISUSED
    assert "there is no recipe 'thinz'; recipes here: thins" in capsys.readouterr().err


@pytest.mark.parametrize("name", cardsmith.list_commands(click.Context(cardsmith)))
def test_every_command_has_help_with_examples_and_a_line_in_the_readme(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([name, "--help"]) == FINE
    told = capsys.readouterr().out
    assert "Examples:" in told
    assert f"cardsmith {name}" in told
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    assert f"`cardsmith {name}" in readme


@pytest.mark.parametrize("name", ELSEWHERE)
def test_a_command_of_another_module_is_listed_with_its_own_first_sentence(name: str) -> None:
    command = cardsmith.get_command(click.Context(cardsmith), name)
    assert command
    assert ELSEWHERE[name][1] == command.get_short_help_str(limit=1_000)


def test_check_sarif_is_for_code_hosts(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(publication, "thins", GOOD.replace("160 °C", "325"))
    assert main(["check", "--sarif"]) == FOUND
    (result,) = json.loads(capsys.readouterr().out)["runs"][0]["results"]
    place = result["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"] == "recipes/thins/recipe.yaml"
    assert place["region"] == {"startLine": 14, "startColumn": 22, "endColumn": 25}


def test_a_bad_name_stops_neither_check_nor_build_of_the_others(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(publication, "thins", GOOD)
    write(publication, "Second_One", GOOD)
    for command in (["check"], ["build", "--serial", "--pages"]):
        assert main(command) == FOUND
        told = capsys.readouterr().out
        assert "recipes/Second_One/recipe.yaml: error: it is left out, for its name" in told
        assert "rename the folder, such as second-one" in told
    assert (publication / "build/cards/thins/thins.html").is_file()


def test_a_check_of_many_ends_with_totals_and_the_worst_files(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in range(MANY):
        text = GOOD.replace("title: ", f"title: No. {number} ")
        write(publication, f"thins-{number}", text if number else text.replace("160 °C", "325"))
    assert main(["check"]) == FOUND
    found = capsys.readouterr().out
    assert "By check\n  1  scale-missing (error)\n" in found
    assert "\nMost to mend\n  recipes/thins-0/recipe.yaml: 1 error" in found
    assert found.splitlines()[-1].startswith(f"{MANY} recipes checked: 1 error")
    assert main(["check", "thins-0", "thins-1"]) == FOUND
    assert "By check" not in capsys.readouterr().out


def test_two_recipes_with_one_title_are_told_and_an_answer_is_heard(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = [write(publication, name, GOOD) for name in ("thins", "wafers")]
    for command in (["check"], ["build", "--serial", "--pages", "--json"], ["build", "--serial", "--json"]):
        assert main(command) == FINE
        assert capsys.readouterr().out.count("is the title of recipes/") == len(files)
    assert len(list((publication / "build/site/recipes").iterdir())) == len(files)
    files[1].write_text(GOOD + "accepted: {title-shared: Two mills and two bakers.}\n", encoding="utf-8")
    for command in (["check"], ["build", "--serial", "--pages", "--json"]):
        assert main(command) == FINE
        told = capsys.readouterr().out
        assert "is the title of" not in told
        assert "accepted-" not in told
