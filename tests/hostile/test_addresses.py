"""Links to scripts, other hosts and files of the machine, in words and for pictures: told, never followed."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FOUND
from cardsmith.finding import Severity
from cardsmith.flow import prepare
from cardsmith.house.style import load_house
from cardsmith.language.commonmark import visible
from cardsmith.measure.larder import load_larder

ROOT = Path(__file__).parents[2]
LARDER, HOUSE = load_larder(), load_house(ROOT)
RECIPE = """\
title: Rye thins
headnote: {headnote}
ingredients:
  - {{key: rye, amount: 200 g, item: rye flour}}
steps:
  - {step}
storage: {storage}
"""
FIELDS = ("headnote", "step", "storage")
LINKS = (
    "[here](javascript:alert(1))",
    "[here](JaVaScRiPt:alert(1))",
    "[here](java&#115;cript:alert(1))",
    "[here](vbscript:x)",
    "[here](data:text/html,<script>1</script>)",
    "[here](file:///etc/hostname)",
    "[here](http://h.invalid/)",
    "[here](//h.invalid/)",
    "[here](../../secret)",
    "[here](mailto:a@h.invalid)",
    "![here](http://h.invalid/a.png)",
    "![here](file:///etc/hostname)",
)


def _prepared(**fields: str) -> tuple[str, ...]:
    words = {"headnote": "Thin.", "step": "Mix the flour.", "storage": "In a tin."} | fields
    prepared = prepare("x", RECIPE.format(**words).encode(), "x.yaml", LARDER, HOUSE)
    assert prepared.printable is not any(one.severity is Severity.ERROR for one in prepared.findings)
    return tuple(f"{one.where.line} {one.what}" for one in prepared.findings if one.name == "link-target")


@pytest.mark.parametrize("link", LINKS)
@pytest.mark.parametrize("field", FIELDS)
def test_a_link_elsewhere_is_told_and_keeps_its_words(field: str, link: str) -> None:
    (told,) = _prepared(**{field: f"'See {link} for more.'"})
    line = {"headnote": 2, "step": 6, "storage": 7}[field]
    assert told.startswith(f"{line} the link “here” leads to “")
    assert visible(f"See {link} for more.") == f"See {'!' * link.startswith('!')}here for more."


@pytest.mark.parametrize(
    "words", ["<http://h.invalid/>", "http://h.invalid", "<img src=x>", "[a][b]", "`[a](b)`"]
)
@pytest.mark.parametrize("field", FIELDS)
def test_what_is_no_link_stays_words(field: str, words: str) -> None:
    assert not _prepared(**{field: f"'See {words} for more.'"})


def test_a_link_to_an_ingredient_is_none_elsewhere() -> None:
    assert not _prepared(headnote="'With [rye](#rye).'", step="'Mix [the flour](#rye).'")


PICTURES = (
    "http://h.invalid/a.jpg", "https://h.invalid/a.svg", "//h.invalid/a.jpg", "file:///etc/hostname",
    "data:image/png;base64,AAAA", "javascript:x", "/etc/hostname", "~/a.jpg", "../secret.svg",
    "a/../../secret.svg", "..", "C:\\a.jpg", "\\\\h\\a.jpg",
)  # fmt: skip


@pytest.mark.parametrize("picture", PICTURES)
def test_a_picture_elsewhere_is_told_by_check_and_build(
    picture: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "recipes/mustard-dressing"
    shutil.copytree(ROOT / "recipes/mustard-dressing", folder)
    (folder.parent / "secret.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"/>', encoding="utf-8")
    file = folder / "recipe.yaml"
    text = file.read_text(encoding="utf-8").replace("file: mustard-dressing.svg", f"file: '{picture}'")
    assert picture in text
    file.write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    for command in (["check"], ["build", "--serial"]):
        assert main(command) == FOUND
        told = capsys.readouterr().out
        assert f"the picture “{picture}” is none beside the recipe [photo-refused]" in told
        assert "put the picture into the recipe's folder and write its name alone" in told
    assert not list(tmp_path.glob("build/cards/*/*"))


@pytest.mark.parametrize(
    "picture", ["a.jpg", "photos/a.jpg", "a..b.jpg", "rye: above.jpg", "a b.jpg", "é.jpg"]
)
def test_a_name_beside_the_recipe_is_let_pass(picture: str) -> None:
    text = f"title: Rye thins\nphoto: {{file: '{picture}', alt: A stack of thins}}\n"
    prepared = prepare("x", text.encode(), "x.yaml", LARDER, HOUSE)
    assert "photo-refused" not in {one.name for one in prepared.findings}
