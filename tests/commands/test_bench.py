"""The bench's commands as a user meets them, with their exit codes."""

from __future__ import annotations

import json
import shutil
import sys
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from cardsmith.commands.bench import bench
from cardsmith.commands.main import FINE, FOUND, MISUSED, main

ROOT = Path(__file__).parents[2]


@pytest.fixture
def publication(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("seeded-crackers", "ferry-butter-cake"):
        shutil.copytree(ROOT / "recipes" / name, tmp_path / "recipes" / name)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("command", "says"),
    [
        ("history seeded-crackers", "Formulas in baker's percent"),
        ("history seeded-crackers --basis total", "Formulas in percent of total"),
        ("taste ferry-butter-cake day-three", "6 tasters: too few to claim a difference"),
        ("taste seeded-crackers", "9 of 12 tasters were right"),
        ("levers ferry-butter-cake --trial 4", "gummy: less liquid"),
        ("next seeded-crackers", "Too few to say anything"),
        ("teardown seeded-crackers", "grams per 100 g of product"),
    ],
)
def test_what_is_asked_is_answered_as_text_and_as_json(
    publication: Path, capsys: pytest.CaptureFixture[str], command: str, says: str
) -> None:
    assert main(["bench", *command.split()]) == FINE
    assert says in capsys.readouterr().out
    assert main(["bench", *command.split(), "--json"]) == FINE
    assert json.loads(capsys.readouterr().out)


@pytest.mark.parametrize(
    ("command", "needs_it"),
    [
        ("bench taste ferry-butter-cake day-three", True),
        ("bench teardown seeded-crackers", True),
        ("bench next seeded-crackers", True),
        ("bench report ferry-butter-cake", True),
        ("bench taste seeded-crackers", False),  # exact, in fractions
        ("bench history seeded-crackers", False),
        ("bench levers ferry-butter-cake --trial 4", False),
        ("check seeded-crackers ferry-butter-cake", False),
    ],
)
def test_without_scipy_what_needs_it_names_the_extra_and_the_rest_works(
    publication: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    command: str,
    needs_it: bool,
) -> None:
    for module in ("scipy", "scipy.stats", "scipy.optimize", "scipy.linalg"):
        monkeypatch.setitem(sys.modules, module, None)  # as where it is not installed
    assert main(command.split()) == (MISUSED if needs_it else FINE)
    assert ("'cardsmith[bench]'" in capsys.readouterr().err) is needs_it


def test_papers_are_written_under_build(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert (
        main(["bench", "sheet", "ferry-butter-cake", "--from", "6", "--change", "2 tsp baking powder"])
        == FINE
    )
    assert main(["bench", "report", "ferry-butter-cake"]) == FINE
    assert main(["bench", "taste", "ferry-butter-cake", "--ballots"]) == FINE
    written = sorted(file.name for file in (publication / "build/bench/ferry-butter-cake").iterdir())
    papers = ["ballots-day-three.pdf", "report.html", "report.pdf", "serving-order-day-three.pdf"]
    assert written == [*papers, "trial-8-sheet.pdf"]
    assert "wrote build/bench/ferry-butter-cake/report.pdf" in capsys.readouterr().out


def test_a_second_change_is_flagged_and_printed_all_the_same(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    changes = ["--change", "2 tsp baking powder", "--change", "4 large eggs"]
    assert main(["bench", "sheet", "ferry-butter-cake", *changes]) == FINE
    assert "2 things change" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("command", "told"),
    [
        (
            "history plum-tart",
            "there is no recipe 'plum-tart'; recipes here: ferry-butter-cake, seeded-crackers",
        ),
        ("history ../seeded-crackers", "there is no recipe"),
        ("taste ferry-butter-cake salt", "there is no tasting 'salt'; tastings here: day-three"),
        ("sheet ferry-butter-cake --from 99", "there is no trial 99"),
        ("teardown ferry-butter-cake", "there is no recipes/ferry-butter-cake/teardown.yaml"),
    ],
)
def test_misuse_is_told_in_a_line(
    publication: Path, capsys: pytest.CaptureFixture[str], command: str, told: str
) -> None:
    assert main(["bench", *command.split()]) == MISUSED
    assert told in capsys.readouterr().err


def test_trials_with_errors_are_not_worked_with(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = publication / "recipes/ferry-butter-cake/trials.yaml"
    file.write_text(
        file.read_text(encoding="utf-8").replace("[2½ tsp baking powder]", "[2 tsp yeast]"), "utf-8"
    )
    assert main(["bench", "history", "ferry-butter-cake"]) == MISUSED
    found = capsys.readouterr()
    assert "change-of-nothing" in found.out
    assert "mend them first" in found.err


def test_a_label_that_clashes_is_found(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = publication / "recipes/seeded-crackers/teardown.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("total_fat: 7 g", "total_fat: 20 g"), "utf-8")
    assert main(["bench", "teardown", "seeded-crackers"]) == FOUND
    assert "These can't all be true" in capsys.readouterr().out


def test_a_recipe_is_written_from_its_trial_and_never_over_another(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = publication / "recipes/seeded-crackers/recipe.yaml"
    before = file.read_bytes()
    assert main(["new", "seeded-crackers", "--from-trial", "2"]) == FOUND
    assert file.read_bytes() == before
    assert "stays as it is" in capsys.readouterr().out
    file.unlink()
    assert main(["new", "seeded-crackers", "--from-trial", "6"]) == FINE
    text = file.read_text(encoding="utf-8")
    assert "  - 60 g sesame seeds  # 40 g in the dough, 20 g on top\n" in text
    assert text.endswith("tested: {trial: 6}\n")
    assert main(["new", "plum-tart", "--from-trial", "6"]) == MISUSED


@pytest.mark.parametrize("name", sorted(bench.commands))
def test_every_command_shows_an_example(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bench", name, "--help"]) == FINE
    assert f"cardsmith bench {name}" in capsys.readouterr().out


def test_a_start_that_nobody_changed_gives_way_to_the_recipe_of_a_trial(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = publication / "recipes/seeded-crackers/recipe.yaml"
    file.unlink()
    assert main(["new", "seeded-crackers"]) == FINE
    assert main(["new", "seeded-crackers", "--from-trial", "6"]) == FINE
    assert file.read_text(encoding="utf-8").endswith("tested: {trial: 6}\n")
    assert main(["new", "seeded-crackers", "--from-trial", "6"]) == FINE
    assert "is the recipe of trial 6 already" in capsys.readouterr().out
    assert main(["new", "seeded-crackers", "--from-trial", "2"]) == FOUND
    told = capsys.readouterr().out
    assert "line 4: 200 g all-purpose flour → 250 g all-purpose flour" in told
    whole = publication / "build/bench/seeded-crackers/trial-2-recipe.yaml"
    assert "  - 250 g all-purpose flour" in whole.read_text(encoding="utf-8")


def test_photos_of_trials_stand_in_report_and_history(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = publication / "recipes/seeded-crackers"
    Image.new("RGB", (1600, 1200), "tan").save(folder / "whole.jpg")
    (folder / "cut.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>', "utf-8")
    file = folder / "trials.yaml"
    text = file.read_text(encoding="utf-8")
    named = "    date: 2026-03-10\n    photos: [whole.jpg, cut.svg, lost.jpg]\n"
    file.write_text(text.replace("    date: 2026-03-10\n", named), "utf-8")
    assert main(["bench", "report", "seeded-crackers"]) == FINE
    told = capsys.readouterr().out
    assert "there is no lost.jpg beside the trials" in told
    assert "[photo-missing]" in told
    assert main(["bench", "history", "seeded-crackers", "--page"]) == FINE
    papers = publication / "build/bench/seeded-crackers"
    page, history = ((papers / name).read_text("utf-8") for name in ("report.html", "history.html"))
    for shown, times in ((page, 2), (history, 1)):  # beside its trial, and in the history's row
        assert shown.count('alt="Trial 6: whole.jpg"') == times
        assert "data:image/jpeg;base64," in shown
    assert page.count('alt="Trial 6: cut.svg"') == 1
    with pikepdf.open(papers / "report.pdf") as pdf:
        streams = [one for one in pdf.objects if isinstance(one, pikepdf.Stream)]
        sizes = [(int(one.Width), int(one.Height)) for one in streams if one.get("/Subtype") == "/Image"]
        assert sizes == [(667, 500)]  # whole, at 300 dots an inch
