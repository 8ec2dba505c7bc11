"""Every paper of a house is set in the house's own type: the plain house has none of the demo's."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pikepdf
import pytest

from cardsmith.commands.main import FINE, main
from cardsmith.render.look import whole_style

TRIALS = """\
trials:
  - trial: 1
    date: 2026-03-02
    ingredients: [200 g whole-grain rye flour, 4 g fine salt, 110 g water]
    measured: {height: 2.2 mm}
  - trial: 2
    date: 2026-03-03
    from: 1
    change: [120 g water]
    measured: {height: 2.4 mm}
"""


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory, filled_in: Callable[[Path], None]) -> Path:
    """A new publication with all its papers made."""
    root = tmp_path_factory.mktemp("plain")
    at = ["--publication", str(root)]
    assert main([*at, "new", "rye-crackers"]) == FINE
    filled_in(root / "recipes/rye-crackers/recipe.yaml")
    assert main([*at, "build"]) == FINE
    (root / "recipes/rye-crackers/trials.yaml").write_text(TRIALS, encoding="utf-8")
    for command in (
        ["proof", "rye-crackers"],
        ["portion", "rye-crackers", "--page"],
        ["bench", "sheet", "rye-crackers"],
        ["bench", "report", "rye-crackers"],
        ["build"],
        ["sheets", "--on", "letter"],
    ):
        assert main([*at, *command]) == FINE, command
    return root


def faces(holder: pikepdf.Object, seen: set[tuple[int, int]] | None = None) -> Iterator[str]:
    """The names of fonts in a page's resources, those of drawings on it too; without their subset's tag."""
    seen = set() if seen is None else seen
    resources = holder.get("/Resources", pikepdf.Dictionary())
    for font in resources.get("/Font", pikepdf.Dictionary()).values():
        yield str(font.BaseFont).rpartition("+")[2].lstrip("/")
    for drawing in resources.get("/XObject", pikepdf.Dictionary()).values():
        if drawing.objgen not in seen:
            seen.add(drawing.objgen)
            yield from faces(drawing, seen)


@pytest.mark.parametrize(
    "paper",
    [
        "cards/rye-crackers/rye-crackers-proof.pdf",
        "portion/rye-crackers/rye-crackers-portion.pdf",
        "bench/rye-crackers/trial-3-sheet.pdf",
        "bench/rye-crackers/report.pdf",
        "sheets/all-on-letter.pdf",
    ],
)
def test_papers_of_a_plain_house_are_in_its_type(paper: str, plain: Path) -> None:
    with pikepdf.open(plain / "build" / paper) as pdf:
        found = {name for page in pdf.pages for name in faces(page.obj)}
    assert found
    assert {name for name in found if not name.startswith("Alegreya-Sans")} == set()


@pytest.mark.parametrize("name", ["bench/bench.css", "portion/portion.css", "proof/proof.css"])
def test_style_sheets_name_no_face_and_stand_by_themselves_with_the_look(name: str, plain: Path) -> None:
    templates = Path(__file__).parents[2] / "templates"
    assert '"Fira' not in (templates / name).read_text(encoding="utf-8")
    for house in (templates, plain / "templates"):
        style = whole_style(house, name)
        assert "@import" not in style
        assert (house / "look.css").read_text(encoding="utf-8") in style


def test_the_report_for_a_browser_names_the_houses_type_in_its_plots_too(plain: Path) -> None:
    page = (plain / "build/bench/rye-crackers/report.html").read_text(encoding="utf-8")
    assert '--text: "Alegreya Sans"' in page
    assert "Fira" not in page
