"""``cardsmith booklet`` as a user meets it, its files read with other programs."""

from __future__ import annotations

import datetime
import os
import re
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest

from cardsmith.commands.main import FINE, FOUND, MISUSED, main
from tests.demo import copy_templates

HERE = Path(__file__).parents[3]
TITLES = {
    "lemon-curd": "Sharp lemon curd",
    "mustard-dressing": "Mustard dressing",
    "seeded-crackers": "Seeded rye crackers",
}


@pytest.fixture(scope="module")
def publication(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("publication")
    copy_templates(root / "templates")
    for name in TITLES:
        shutil.copytree(HERE / "recipes" / name, root / "recipes" / name)
    return root


def run(publication: Path, *asked: str) -> int:
    return main(["--publication", str(publication), "booklet", *asked])


@pytest.fixture(scope="module")
def saddle(publication: Path) -> Path:
    assert run(publication, "--all", "--title", "Three <small> bakes") == FINE
    return publication / "build/booklets/all-saddle"


@pytest.fixture(scope="module")
def perfect(publication: Path) -> Path:
    assert run(publication, *TITLES, "--binding", "perfect", "--signature", "8") == FINE
    return publication / "build/booklets/lemon-curd-and-2-more-perfect"


def words(file: Path, *more: str) -> list[str]:
    """The text of each page, its spaces made single."""
    command = ["pdftotext", *more, file, "-"]
    text = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    return [" ".join(page.split()) for page in text.split("\f")[:-1]]


def test_all_cards_stand_by_their_titles_and_named_ones_as_named(saddle: Path, perfect: Path) -> None:
    def listed(file: Path) -> list[str]:
        contents = next(page for page in words(file) if page.startswith("Contents"))
        return sorted(TITLES.values(), key=contents.index)

    named = perfect / "lemon-curd-and-2-more-pages.pdf"
    assert listed(saddle / "all-pages.pdf") == ["Mustard dressing", "Seeded rye crackers", "Sharp lemon curd"]
    assert listed(named) == list(TITLES.values())


def test_contents_index_and_folios_agree_with_the_pages(saddle: Path) -> None:
    pages = words(saddle / "all-pages.pdf")
    assert len(pages) % 4 == 0
    contents = next(page for page in pages if page.startswith("Contents"))
    index = next(page for page in pages if page.startswith("Index"))
    for title in TITLES.values():
        told = re.search(rf"{title}[ .]*(\d+)", contents)
        assert told is not None
        number = int(told[1])
        assert number % 2 == 0, "the list lies open beside the method"
        assert f"{title} " in pages[number - 1]
        assert "Ingredients" in pages[number - 1]
        assert f"{number} Three <small> bakes" in pages[number - 1]
        assert f"{title} {number + 1}" in pages[number] or not pages[number], "a picture covers it"
        assert f"{title} {number}" in index
    crackers, dressing = (
        next(number for number, page in enumerate(pages, 1) if f"{TITLES[name]} " in page and number > 3)
        for name in ("seeded-crackers", "mustard-dressing")
    )
    assert f"honey {dressing}, {crackers}" in index


def test_links_and_bookmarks_lead_to_the_cards(saddle: Path) -> None:
    with pikepdf.open(saddle / "all-pages.pdf") as pdf:
        with pdf.open_outline() as outline:
            titles = [one.title for one in outline.root]
        assert {*TITLES.values(), "Contents", "Index"} <= set(titles)
        links = [one for page in pdf.pages for one in page.get("/Annots", []) if one.Subtype == "/Link"]
        inside = [one for one in links if "/Dest" in one or one.get("/A", {}).get("/S") == "/GoTo"]
        assert len(inside) > 2 * len(TITLES)
        assert pdf.Root.PageLayout == "/TwoPageRight"


def test_the_sheets_hold_the_pages_that_a_fold_puts_in_order(saddle: Path) -> None:
    """Half by half, as poppler reads them: the outermost sheet has the covers, the innermost the middle."""
    pages = words(saddle / "all-pages.pdf")
    file = saddle / "all-printer-spreads.pdf"
    with pikepdf.open(file) as pdf:
        width, height = (round(float(edge)) for edge in pdf.pages[0].mediabox[2:])
        sides = len(pdf.pages)
    assert sides == len(pages) // 2
    across = ["-x", "0", "-y", "0", "-H", str(height), "-W", str(width // 2)]
    lefts = words(file, *across)
    rights = words(file, "-x", str(width // 2), *across[2:])
    first, last = 1, len(pages)
    for left, right in zip(lefts, rights, strict=True):
        front = (first % 2) == 1
        wanted = (last, first) if front else (first, last)
        for number, found in zip(wanted, (left, right), strict=True):
            held = pages[number - 1]
            assert set(held.split()) <= set(found.split()), number
        first, last = first + 1, last - 1


def test_a_reader_sees_two_pages_at_a_time(saddle: Path) -> None:
    pages = words(saddle / "all-pages.pdf")
    with pikepdf.open(saddle / "all-reader-spreads.pdf") as pdf:
        assert len(pdf.pages) == len(pages) // 2 + 1


def test_a_glued_booklet_has_its_cover_as_a_sheet_with_a_spine(perfect: Path) -> None:
    names = sorted(file.name.removeprefix("lemon-curd-and-2-more-") for file in perfect.iterdir())
    assert names == ["cover.pdf", "pages.pdf", "printer-spreads.pdf", "reader-spreads.pdf"]
    pages = words(perfect / "lemon-curd-and-2-more-pages.pdf")
    assert "3 recipes" in pages[0]
    assert pages[1] == ""
    assert (
        pages[2] == "Pellwick Quarterly Plain cooking from a small harbor"
    )  # the body's first page: its title
    assert "Contents" in pages[4]
    with pikepdf.open(perfect / "lemon-curd-and-2-more-cover.pdf") as pdf:
        (cover,) = pdf.pages
        left, _, right, _ = (float(edge) for edge in cover.trimbox)
        leaves = (len(pages) - 4) / 2
        assert right - left == pytest.approx(2 * 360 + leaves * 0.1 / 25.4 * 72, abs=0.01)


def test_a_booklet_of_an_edition_has_its_words(tmp_path: Path) -> None:
    copy_templates(tmp_path / "templates")
    with (tmp_path / "templates/house.yaml").open("a", encoding="utf-8") as style:
        style.write("editions: {us: {}, uk: {}}\n")
    shutil.copytree(HERE / "recipes/mustard-dressing", tmp_path / "recipes/mustard-dressing")
    assert run(tmp_path, "mustard-dressing", "--edition", "uk") == FINE
    folder = tmp_path / "build/booklets/mustard-dressing-uk-saddle"
    told = " ".join(words(folder / "mustard-dressing-uk-pages.pdf"))
    assert "Makes" in told
    assert "Yield" not in told


def test_same_recipes_same_bytes(publication: Path, saddle: Path) -> None:
    before = {file.name: file.read_bytes() for file in saddle.iterdir()}
    assert run(publication, "--all", "--title", "Three <small> bakes") == FINE
    assert {file.name: file.read_bytes() for file in saddle.iterdir()} == before


def test_thicker_paper_moves_inner_pages_further(
    publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(publication, "lemon-curd", "seeded-crackers", "--paper", "0.25 mm") == FINE
    told = capsys.readouterr().out
    sheets = int(re.search(r"pages on (\d+) sheets", told)[1])  # type: ignore[index]
    assert f"moves {(sheets - 1) * 0.25:.2f} mm to the fold" in told


def test_a_booklet_of_cards_without_a_date_has_that_of_its_making(publication: Path) -> None:
    assert run(publication, "mustard-dressing") == FINE
    file = publication / "build/booklets/mustard-dressing-saddle/mustard-dressing-printer-spreads.pdf"
    with pikepdf.open(file) as pdf:
        day = datetime.datetime.fromtimestamp(int(os.environ["SOURCE_DATE_EPOCH"]), datetime.UTC)
        assert str(pdf.docinfo.CreationDate).startswith(f"D:{day:%Y%m%d}")


def test_a_card_with_errors_is_not_bound(publication: Path, capsys: pytest.CaptureFixture[str]) -> None:
    draft = publication / "recipes/draft"
    shutil.copytree(publication / "recipes/mustard-dressing", draft)
    file = draft / "recipe.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "nonsense: 1\n", encoding="utf-8")
    try:
        assert run(publication, "draft", "lemon-curd") == FOUND
    finally:
        shutil.rmtree(draft)
    told = capsys.readouterr()
    assert "unknown-key" in told.out
    assert "not bound" in told.err
    assert not (publication / "build/booklets/draft-and-1-more-saddle").exists()


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ([], "nothing is chosen: write names of recipes, or --all, or --issue ISSUE"),
        (["lemon-curd", "--issue", "Summer 2026"], "chosen in two ways at once"),
        (["shortbread"], "there is no recipe 'shortbread'; recipes here: lemon-curd"),
        (["--issue", "Winter 1999"], "no recipe is of the issue 'Winter 1999'; issues here: Summer 2026"),
        (["--all", "--paper", "thin"], "write it as 0.1 mm"),
        (["--all", "--paper", "3 mm"], "paper is at most 0.6 mm thick"),
        (["--all", "--printer", "letterpress"], "printers: offset"),
        (["--all", "--on", "a0"], "sheets: letter, a4, sra3, 12x18"),
        (["--all", "--signature", "6"], "'6' is not one of"),
    ],
)
def test_misuse_says_what_to_do(
    asked: list[str], told: str, publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(publication, *asked) == MISUSED
    assert told in capsys.readouterr().err
