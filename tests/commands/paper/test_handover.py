"""``cardsmith handover`` as a layout desk meets it: nothing is read here with a module of ours."""

from __future__ import annotations

import hashlib
import re
import shutil
import subprocess
from collections import Counter
from pathlib import Path

import pytest
from docx import Document
from PIL import Image

from cardsmith.commands.main import FINE, FOUND, MISUSED, main
from tests.demo import copy_templates

HERE = Path(__file__).parents[3]
NAMES = ("lemon-curd", "mustard-dressing", "seeded-crackers")
PHOTO = "photo: {file: dressing.png, alt: A jar of dressing}\n"


@pytest.fixture(scope="module")
def publication(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three recipes: with a drawing, with a photo, with trials."""
    root = tmp_path_factory.mktemp("publication")
    copy_templates(root / "templates")
    for name in NAMES:
        shutil.copytree(HERE / "recipes" / name, root / "recipes" / name)
    file = root / "recipes/mustard-dressing/recipe.yaml"
    text = re.sub(r"(?m)^photo:.*\n(?:  .*\n)*", "", file.read_text(encoding="utf-8"))
    file.write_text(text + PHOTO, encoding="utf-8")
    Image.new("RGB", (1800, 1200), (196, 150, 60)).save(file.with_name("dressing.png"))
    return root


@pytest.fixture(scope="module")
def folder(publication: Path) -> Path:
    assert main(["--publication", str(publication), "handover", "--all"]) == FINE
    return publication / "build/handover/all"


def letters(text: str) -> str:
    """Without spaces, the hyphen of a divided word and the case that small capitals hide."""
    return "".join(text.replace("\u2010", "").split()).casefold()


def printed(file: Path) -> str:
    """The words of a tagged PDF in the order of its structure, which page heads are no part of."""
    command = ["pdfinfo", "-struct-text", file]
    told = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    return "".join(re.findall(r'^\s*"(.*)"$', told, re.MULTILINE))


@pytest.mark.parametrize("name", NAMES)
def test_the_text_equals_the_card_word_for_word(name: str, folder: Path) -> None:
    card = letters(printed(folder / f"{name}-screen.pdf"))
    paragraphs = [one.text for one in Document(str(folder / f"{name}.docx")).paragraphs]
    assert Counter(letters("".join(paragraphs))) == Counter(card)
    assert all(letters(one) in card for one in paragraphs)
    plain = (folder / f"{name}.txt").read_text(encoding="utf-8")
    assert [line for line in plain.splitlines() if line] == paragraphs


@pytest.mark.parametrize("look", ["plain", "newspaper", "cookbook"])
def test_the_text_is_the_cards_in_every_look_and_edition(look: str, tmp_path: Path) -> None:
    """Whatever order a look sets the cells of its list in: the copy has the name first, then the amounts."""
    assert main(["--publication", str(tmp_path), "new", "first-card", "--look", look]) == FINE
    style = tmp_path / "templates/house.yaml"
    lines = [one for one in style.read_text(encoding="utf-8").splitlines() if not one.startswith("editions:")]
    style.write_text("\n".join([*lines, "editions: {us: {}, uk: {}}", ""]), encoding="utf-8")
    shutil.copytree(HERE / "recipes/white-bean-salad", tmp_path / "recipes/white-bean-salad")
    for edition, ending in (("us", ""), ("uk", "-uk")):
        asked = ["handover", "white-bean-salad", "--edition", edition]
        assert main(["--publication", str(tmp_path), *asked]) == FINE
        made = tmp_path / f"build/handover/white-bean-salad{ending}"
        card = letters(printed(made / f"white-bean-salad{ending}-screen.pdf"))
        paragraphs = [one.text for one in Document(str(made / f"white-bean-salad{ending}.docx")).paragraphs]
        assert Counter(letters("".join(paragraphs))) == Counter(card)
        assert all(letters(cell) in card for one in paragraphs for cell in one.split("\t"))
        assert ("2 (400\u00a0g) tins" in "".join(paragraphs)) is (edition == "uk")


@pytest.mark.parametrize("name", NAMES)
def test_every_paragraph_has_a_named_style_and_nothing_is_set_by_hand(name: str, folder: Path) -> None:
    document = Document(str(folder / f"{name}.docx"))
    styles = {one.style.name for one in document.paragraphs}
    assert {"Recipe Title", "Ingredient", "Step", "Note"} <= styles
    assert "Normal" not in styles
    for paragraph in document.paragraphs:
        assert paragraph._p.pPr.pStyle is not None
        assert len(paragraph._p.pPr) == 1
        assert all(run._r.rPr is None or len(run._r.rPr) == 1 for run in paragraph.runs)
    named = {run.style.name for one in document.paragraphs for run in one.runs}
    assert {"US Amount", "Metric Amount", "Ingredient Name", "Label", "Step Number"} <= named


def test_the_sums_are_those_of_all_files(folder: Path) -> None:
    note = (folder / "cover-note.txt").read_text(encoding="utf-8")
    lines = (folder / "SHA256SUMS").read_text(encoding="utf-8").splitlines()
    told = {name: digest for digest, name in (line.split("  ", 1) for line in lines)}
    there = {str(file.relative_to(folder)) for file in folder.rglob("*") if file.is_file()}
    assert set(told) == there - {"cover-note.txt", "SHA256SUMS"}
    for name, digest in told.items():
        assert hashlib.sha256((folder / name).read_bytes()).hexdigest() == digest
        assert f"{digest}  {name}" in note
        assert f"  {name}: " in " ".join(note.split("\n")) or name in note
    subprocess.run(["sha256sum", "--check", "--quiet", "SHA256SUMS"], cwd=folder, check=True)


def test_the_picture_is_there_as_given_and_as_used(publication: Path, folder: Path) -> None:
    """A photo in the dots and the colours of each file; a drawing as it is drawn."""
    given = folder / "pictures/mustard-dressing-given-dressing.png"
    assert given.read_bytes() == (publication / "recipes/mustard-dressing/dressing.png").read_bytes()
    (screen,) = folder.glob("pictures/mustard-dressing-used-screen.*")
    (press,) = folder.glob("pictures/mustard-dressing-used-press.*")
    with Image.open(screen) as image:
        assert image.mode == "RGB"
        assert all(
            abs(one - other) < 4 for one, other in zip(image.getpixel((9, 9)), (196, 150, 60), strict=True)
        )
        shape = image.size
    with Image.open(press) as image:
        assert image.mode == "CMYK"
        assert image.size == shape
    assert "<svg" in (folder / "pictures/lemon-curd-used-lemon-curd.svg").read_text(encoding="utf-8")


def test_the_queries_are_in_words(folder: Path) -> None:
    text = (folder / "seeded-crackers-queries.txt").read_text(encoding="utf-8")
    assert "1. Note: Line 10 of the list\n   “10 g honey”" in text


def test_same_recipes_same_bytes_and_nothing_old_stays(publication: Path, folder: Path) -> None:
    before = {file: file.read_bytes() for file in folder.rglob("*") if file.is_file()}
    (folder / "pictures/old.jpg").write_bytes(b"old")
    assert main(["--publication", str(publication), "handover", "--all"]) == FINE
    assert {file: file.read_bytes() for file in folder.rglob("*") if file.is_file()} == before


def test_the_files_are_those_of_a_build(publication: Path, folder: Path) -> None:
    assert main(["--publication", str(publication), "build", "lemon-curd"]) == FINE
    for kind in ("screen", "press"):
        built = publication / f"build/cards/lemon-curd/lemon-curd-{kind}.pdf"
        assert built.read_bytes() == (folder / f"lemon-curd-{kind}.pdf").read_bytes()


def test_a_card_with_errors_is_not_handed_over(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    draft = publication / "recipes/draft"
    shutil.copytree(publication / "recipes/lemon-curd", draft)
    file = draft / "recipe.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("title: ", "title: Draft ", 1) + "nonsense: 1\n")
    try:
        assert main(["--publication", str(publication), "handover", "draft", "lemon-curd"]) == FOUND
    finally:
        shutil.rmtree(draft)
    told = capsys.readouterr()
    assert "unknown-key" in told.out
    assert "not handed over" in told.err
    assert not (publication / "build/handover/draft-and-1-more").exists()


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ([], "nothing is chosen: write names of recipes, or --all, or --issue ISSUE"),
        (["lemon-curd", "--all"], "chosen in two ways at once"),
        (["shortbread"], "there is no recipe 'shortbread'; recipes here: lemon-curd"),
        (["--issue", "Winter 1999"], "no recipe is of the issue 'Winter 1999'; issues here:"),
    ],
)
def test_misuse_says_what_to_do(
    asked: list[str], told: str, publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--publication", str(publication), "handover", *asked]) == MISUSED
    assert told in capsys.readouterr().err


def test_an_issue_is_handed_over_by_its_name(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = publication / "recipes/lemon-curd/recipe.yaml"
    before = file.read_text(encoding="utf-8")
    file.write_text(before + "issue: Autumn 2031\n", encoding="utf-8")
    try:
        assert main(["--publication", str(publication), "handover", "--issue", "autumn  2031"]) == FINE
    finally:
        file.write_text(before, encoding="utf-8")
    assert "wrote build/handover/autumn-2031: 9 files of 1 card" in capsys.readouterr().out
