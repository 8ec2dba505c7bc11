"""A cross-test as a user meets it: a folder goes out, a form comes back."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from PIL import Image

from cardsmith.bench.file.load import read_trials
from cardsmith.commands.main import FINE, FOUND, MISUSED, main
from cardsmith.measure.larder import load_larder

ROOT = Path(__file__).parents[2]
OUT = "build/bench/seeded-crackers/pack-r-ayre-us"
ASKED = ["bench", "pack", "seeded-crackers", "--for", "R. Ayre", "--column", "us"]


@pytest.fixture(scope="module")
def sent(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A publication with a pack written."""
    root = tmp_path_factory.mktemp("quay")
    shutil.copytree(ROOT / "recipes/seeded-crackers", root / "recipes/seeded-crackers")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(root)
        assert main(ASKED) == FINE
    return root


@pytest.fixture
def publication(sent: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    root = tmp_path / "quay"
    shutil.copytree(sent, root)
    monkeypatch.chdir(root)
    return root


def words(pdf: Path) -> str:
    read = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True)
    return " ".join(read.stdout.decode().split())


def test_a_pack_holds_the_card_in_one_column_and_a_form_of_two_kinds(sent: Path) -> None:
    assert sorted(file.name for file in (sent / OUT).iterdir()) == ["card.pdf", "form.pdf", "form.yaml"]
    card = words(sent / OUT / "card.pdf")
    assert "325 °F" in card
    assert "1⅔ cups" in card
    for metric in ("160 °C", "200 g", "40 g", "agree within"):
        assert metric not in card
    paper = words(sent / OUT / "form.pdf")
    assert "cross-test from the US column" in paper
    assert "7. Cool on the pans" in paper


def fill(form: Path, **answers: str) -> Path:
    text = form.read_text(encoding="utf-8")
    for key, answer in answers.items():
        lines = text.split("\n")
        at = next(place for place, line in enumerate(lines) if line.lstrip().startswith(f"{key}:"))
        lines[at] = f"{lines[at].partition(':')[0]}: {answer}"
        text = "\n".join(lines)
    form.write_text(text, encoding="utf-8")
    return form


def test_a_filled_form_becomes_a_trial_once(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    form = fill(publication / OUT / "form.yaml", date="2026-05-02", set="325 °F", photos="[whole.jpg]")
    Image.new("RGB", (80, 60), "tan").save(form.with_name("whole.jpg"))
    folder = publication / "recipes/seeded-crackers"
    before = (folder / "trials.yaml").read_text(encoding="utf-8")
    assert main(["bench", "pack", "seeded-crackers", "--read", str(form)]) == FINE
    assert "The form is trial 9" in capsys.readouterr().out
    data = (folder / "trials.yaml").read_bytes()
    found, findings = read_trials("seeded-crackers", data, "trials.yaml", load_larder())
    assert found is not None
    assert list(findings) == []
    assert [one.text for one in found.trials[-1].photos] == ["trial-9-whole.jpg"]
    assert (folder / "trial-9-whole.jpg").read_bytes() == form.with_name("whole.jpg").read_bytes()
    assert set(before.split("\n")) <= set(data.decode().split("\n"))
    assert main(["bench", "pack", "seeded-crackers", "--read", str(form)]) == MISUSED
    assert "this form is trial 9 already" in capsys.readouterr().err
    assert (folder / "trials.yaml").read_bytes() == data


def test_a_faulty_form_is_told_and_writes_nothing(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = publication / "recipes/seeded-crackers"
    before = {file.name: file.read_bytes() for file in folder.iterdir() if file.is_file()}
    form = fill(publication / OUT / "form.yaml", date="2026-05-02", set="hot", photos="[lost.jpg]")
    assert main(["bench", "pack", "seeded-crackers", "--read", str(form)]) == FOUND
    told = capsys.readouterr().out
    assert "“hot” is not a temperature" in told
    assert f"{form}:15:8" in told
    fill(form, set="325 °F")
    assert main(["bench", "pack", "seeded-crackers", "--read", str(form)]) == FOUND
    assert "there is no lost.jpg beside the form" in capsys.readouterr().out
    assert {file.name: file.read_bytes() for file in folder.iterdir() if file.is_file()} == before


def test_a_card_with_errors_is_not_sent_out(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = publication / "recipes/seeded-crackers/recipe.yaml"
    file.write_text(file.read_text("utf-8").replace("160 °C (325 °F)", "160"), "utf-8")
    shutil.rmtree(publication / "build")
    assert main(ASKED) == FOUND
    assert "scale-missing" in capsys.readouterr().out
    assert not (publication / OUT).exists()


@pytest.mark.parametrize(
    ("command", "told"),
    [
        ("bench pack seeded-crackers", "say for whom and from which column"),
        ("bench pack plum-tart --for RA --column us", "there is no recipe 'plum-tart'"),
        ("bench pack seeded-crackers --read lost.yaml", "there is no lost.yaml"),
        ("bench pack seeded-crackers --read a.yaml --column us", "--read takes a filled form"),
    ],
)
def test_misuse_is_told_in_a_line(
    publication: Path, capsys: pytest.CaptureFixture[str], command: str, told: str
) -> None:
    assert main(command.split()) == MISUSED
    assert told in capsys.readouterr().err
