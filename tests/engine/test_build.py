"""Building again: nothing to do is nothing done, the report is of all, a fault costs one card."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FINE, MISUSED
from cardsmith.engine import build as engine
from cardsmith.engine.build import Building, Built
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.engine.products import job
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, named_files
from cardsmith.house.strays import strays
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
NAMES = ("lemon-curd", "mustard-dressing", "white-bean-salad")


@pytest.fixture(autouse=True)
def same_code(monkeypatch: pytest.MonkeyPatch) -> None:
    """The code's digest stands still, whoever edits it meanwhile; pages only, since type is slow to set."""
    real = engine.grounds
    monkeypatch.setattr(engine, "grounds", lambda *given: real(*given) | {"cardsmith": "as it is"})
    monkeypatch.setattr(job, "PRODUCTS", tuple(one for one in job.PRODUCTS if one.name == "page"))


@pytest.fixture
def publication(tmp_path: Path) -> Publication:
    return copied(tmp_path / "kitchen")


def copied(root: Path) -> Publication:
    """A publication of a few recipes of the demo."""
    copy_templates(root / "templates")
    for name in NAMES:
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    return Publication(root=root)


def built(publication: Publication, *names: str) -> dict[str, Built]:
    with held(publication.build, lambda: None):
        building = Building(publication)
        found = list(building.build(named_files(publication, names), lambda jobs: InProcess(), 1))
        building.finish(found, whole=not names)
    return {one.name: one for one in found}


def files(publication: Publication) -> dict[str, bytes]:
    """Everything in build/ but what a machine keeps for itself."""
    found = (file for file in publication.build.rglob("*") if file.is_file())
    return {
        file.relative_to(publication.build).as_posix(): file.read_bytes()
        for file in found
        if ".cache" not in file.parts
    }


def made(found: dict[str, Built]) -> set[str]:
    return {name for name, one in found.items() if one.made}


def test_a_second_build_makes_nothing_and_touches_nothing(publication: Publication) -> None:
    assert made(built(publication)) == set(NAMES)
    before = {file: file.stat().st_mtime_ns for file in publication.build.rglob("*.html")}
    assert all(not one.why for one in built(publication).values())
    assert before == {file: file.stat().st_mtime_ns for file in publication.build.rglob("*.html")}


def edited(publication: Publication) -> None:
    file = publication.file("lemon-curd")
    file.write_text(file.read_text("utf-8").replace("title: ", "title: Sharp ", 1), "utf-8")


def test_the_report_tells_of_the_whole_publication_whichever_recipes_were_named(
    publication: Publication,
) -> None:
    for name in NAMES:  # a finding in each, so that none is missed for want of one
        file = publication.file(name)
        file.write_text(file.read_text("utf-8") + "\nno_such_key: 1\n", "utf-8")
    built(publication)
    edited(publication)
    built(publication, "lemon-curd")
    partly = files(publication)
    told = [one["file"] for one in json.loads(partly["report.json"])["findings"]]
    assert set(told) >= {f"recipes/{name}/recipe.yaml" for name in NAMES}
    built(publication)
    assert files(publication) == partly
    shutil.rmtree(publication.build)
    built(publication)
    assert files(publication) == partly


def test_a_damaged_manifest_costs_a_build_and_nothing_else(publication: Publication) -> None:
    built(publication)
    before = files(publication)
    (publication.build / ".cache/manifest").write_bytes(b"\x00\xff broken")
    assert made(built(publication)) == set(NAMES)
    assert files(publication) == before


def test_one_card_that_cannot_be_made_stops_no_other(
    publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = job.make

    def faulty(one: job.Job) -> job.Made:
        if one.name == "lemon-curd":
            raise RuntimeError("a fault of ours")
        return real(one)

    monkeypatch.setattr(job, "make", faulty)
    found = built(publication)
    assert made(found) == set(NAMES) - {"lemon-curd"}
    assert [one.name for one in found["lemon-curd"].findings] == ["build-failed"]
    monkeypatch.setattr(job, "make", real)
    assert made(built(publication)) == {"lemon-curd"}


def test_a_lost_font_stops_the_build_before_any_card_and_is_named(publication: Publication) -> None:
    built(publication)
    before = files(publication)
    (publication.templates / "fonts/FiraSans-SemiBold.ttf").unlink()
    style = publication.templates / "look.css"
    style.write_bytes(style.read_bytes() + b"/* so that a card is due */")
    with pytest.raises(CardsmithError, match=r"look-web\.css:6: .* no fonts/FiraSans-SemiBold\.ttf"):
        built(publication)
    assert files(publication) == before


def test_a_recipe_left_out_for_its_name_stops_no_other_and_stays_in_the_report(
    publication: Publication,
) -> None:
    bad = publication.recipes / "Lemon_Curd"
    shutil.copytree(publication.recipes / "lemon-curd", bad)

    def reported() -> tuple[int, int]:
        with held(publication.build, lambda: None):
            building = Building(publication)
            found = list(building.build(named_files(publication, ()), lambda jobs: InProcess(), 1))
            report = building.finish([*found, *building.noticed(strays(publication))], whole=True)
        return len(made({one.name: one for one in found})), report.read_text().count("recipe-misnamed")

    assert [reported(), reported()] == [(len(NAMES), 1), (0, 1)]
    shutil.rmtree(bad)
    assert reported() == (0, 0)


def test_two_clones_give_the_same_bytes(tmp_path: Path) -> None:
    one, other = copied(tmp_path / "here"), copied(tmp_path / "a folder elsewhere")
    built(one)
    built(other)
    assert files(one) == files(other)


@pytest.mark.parametrize(
    ("fault", "code", "said"),
    [
        (RuntimeError("a fault of ours"), 3, "RuntimeError: a fault of ours"),
        (OSError(28, "No space left on device"), 2, "make room on the disk"),
        (MemoryError(), 3, "it takes more memory than a card may"),
    ],
)
def test_the_command_tells_a_fault_from_a_refusal_and_shows_its_trace_when_asked(
    publication: Publication,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    fault: Exception,
    code: int,
    said: str,
) -> None:
    def faulty(one: job.Job) -> job.Made:
        raise fault

    monkeypatch.setattr(job, "make", faulty)
    command = ["--publication", str(publication.root), "build", NAMES[0], "--serial"]
    monkeypatch.delenv("CARDSMITH_TRACE", raising=False)
    assert main(command) == code
    told = capsys.readouterr()
    assert said in told.out
    assert "Traceback" not in told.out + told.err
    monkeypatch.setenv("CARDSMITH_TRACE", "1")
    assert main(command) == code
    assert "in faulty" in capsys.readouterr().err


def test_a_house_begun_before_an_update_is_told_of_every_file_that_came_since(
    publication: Publication, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("print-more.css", "proof/proof.html.j2", "site/quarter.js"):
        (publication.templates / name).unlink()
    root = ["--publication", str(publication.root)]
    assert main([*root, "build", NAMES[0], "--serial"]) == MISUSED
    told = capsys.readouterr().err
    assert f"{publication.templates} lacks print-more.css, site/quarter.js" in told
    assert f"copy each to the same place there from {ROOT / 'templates'}" in told
    for name in ("print-more.css", "site/quarter.js"):
        shutil.copy(ROOT / "templates" / name, publication.templates / name)
    assert main([*root, "build", NAMES[0], "--serial"]) == FINE
    capsys.readouterr()
    assert main([*root, "proof", NAMES[0]]) == MISUSED
    lost = "proof/proof.html.j2"
    wanted = f"{publication.templates / lost}: No such file or directory; copy it there from "
    assert wanted + str(ROOT / "templates" / lost) in capsys.readouterr().err
