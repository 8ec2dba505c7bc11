"""A card for a printer of the house's own: what its press file declares, holds, and rests on."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from cardsmith.commands.main import FINE, MISUSED, main
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
ICC = ROOT / "cardsmith/reference/icc"
TABLES = "templates/tables"
ROWS = {
    "printer_profiles": (
        "name,shown,condition,condition_name,registry,icc,licence,bleed,marks,resolution,ink_limit,source\n"
        "quayside,Quayside Press,QP 7,Quayside uncoated,http://www.color.org,quayside.icc,zlib,"
        "5 mm,yes,250,220,ours\n"
    ),
    "card_sizes": "name,shown,width,height,columns,top,side,foot,source\n"
    "pocket,Pocket,128 mm,182 mm,1,9 mm,9 mm,13 mm,ours\n",
    "sheet_sizes": "name,shown,width,height,margin,source\nstock,Stock,330 mm,480 mm,5 mm,ours\n",
}
PRESS = "build/cards/lemon-curd/lemon-curd-press.pdf"
LIMIT = 2.2
needs_ghostscript = pytest.mark.skipif(
    shutil.which("gs") is None, reason="inks are drawn by Ghostscript: apt-get install ghostscript"
)


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A publication whose one card has a nearly black photo and goes to a printer that takes little ink."""
    root = tmp_path_factory.mktemp("quay") / "kitchen"
    copy_templates(root / "templates")
    shutil.copytree(ROOT / "recipes/lemon-curd", root / "recipes/lemon-curd")
    (root / TABLES).mkdir()
    for name, text in ROWS.items():
        (root / TABLES / f"{name}.csv").write_text(text, encoding="utf-8")
    shutil.copy(ICC / "FOGRA39L_coated.icc", root / TABLES / "quayside.icc")
    change(root / "templates/house.yaml", {"size: 5x7": "size: pocket", "[offset]": "[quayside, newsprint]"})
    change(root / "recipes/lemon-curd/recipe.yaml", {"lemon-curd.svg": "night.jpg"})
    shades = [Image.linear_gradient("L").point(lambda level, by=by: level // by) for by in (9, 12, 7)]
    Image.merge("RGB", shades).resize((1800, 1800)).save(root / "recipes/lemon-curd/night.jpg", quality=95)
    assert main(["--publication", str(root), "build"]) == FINE
    return root


def change(file: Path, words: dict[str, str]) -> None:
    text = file.read_text("utf-8")
    for old, new in words.items():
        assert old in text
        text = text.replace(old, new)
    file.write_text(text, "utf-8")


def test_the_output_intent_is_the_printers(root: Path) -> None:
    for ending, condition, profile in (
        ("", "QP 7", root / TABLES / "quayside.icc"),
        ("-newsprint", "CGATS TR 002", ICC / "TR002_newsprint.icc"),
    ):
        with pikepdf.open(root / PRESS.replace(".pdf", f"{ending}.pdf")) as pdf:
            (intent,) = pdf.Root.OutputIntents
            assert intent.OutputConditionIdentifier == condition
            assert intent.DestOutputProfile.read_bytes() == profile.read_bytes()
            trim, bleed = pdf.pages[0].trimbox, pdf.pages[0].bleedbox
            past = 5 / 25.4 * 72 if condition == "QP 7" else 9
            assert float(trim[0] - bleed[0]) == pytest.approx(past, abs=0.01)
            assert float(trim[2] - trim[0]) == pytest.approx(128 / 25.4 * 72, abs=0.01)


def inks_within_the_cut(file: Path, folder: Path) -> list[Image.Image]:
    """The four plates of each page at 72 dots an inch, as they lie within the bleed."""
    command = "gs -q -dBATCH -dNOPAUSE -dSAFER -sDEVICE=tiff32nc -r72 -dUseBleedBox -dOverprint=/simulate"
    subprocess.run([*command.split(), "-sOutputFile=page-%d.tif", str(file)], cwd=folder, check=True)
    return [Image.open(page) for page in sorted(folder.glob("page-*.tif"))]


@needs_ghostscript
@pytest.mark.parametrize(("ending", "limit"), [("", LIMIT), ("-newsprint", 2.4)])
def test_no_spot_has_more_ink_than_the_press_takes(
    root: Path, tmp_path: Path, ending: str, limit: float
) -> None:
    """Through its profile alone the photo would have up to 316 %; storing it as JPEG moves a dot a little."""
    pages = inks_within_the_cut(root / PRESS.replace(".pdf", f"{ending}.pdf"), tmp_path)
    sums = [sum(dot) / 255 for page in pages for dot in page.convert("CMYK").get_flattened_data()]
    assert max(sums) <= limit + 0.1
    assert max(sums) > limit - 0.3  # the photo is there, and as dark as may be


def test_sheets_and_their_intent_are_the_houses(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--publication", str(root), "sheets", "--on", "stock"]) == FINE
    assert "all-on-stock.pdf: 1 sheet\n4 to a sheet" in capsys.readouterr().out
    with pikepdf.open(root / "build/sheets/all-on-stock.pdf") as pdf:
        assert pdf.Root.OutputIntents[0].OutputConditionIdentifier == "QP 7"
        width, height = (float(edge) for edge in pdf.pages[0].mediabox[2:])
        assert sorted((width, height)) == pytest.approx([330 / 25.4 * 72, 480 / 25.4 * 72])
    assert main(["--publication", str(root), "sheets", "--printer", "quay"]) == MISUSED
    assert "there is no printer 'quay'; printers: quayside, offset," in capsys.readouterr().err


def rebuilt(root: Path, capsys: pytest.CaptureFixture[str]) -> str:
    capsys.readouterr()
    assert main(["--publication", str(root), "build", "--why"]) == FINE
    return capsys.readouterr().out


def test_a_changed_row_or_profile_makes_the_card_anew(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Paper alone; until then the old press file is not given out."""
    assert "changed" not in rebuilt(root, capsys)
    row = "tables/printer_profiles.csv"
    change(root / TABLES / "printer_profiles.csv", {"QP 7": "QP 8"})
    assert main(["--publication", str(root), "sheets", "--on", "stock"]) == MISUSED
    assert f"{row} changed" in capsys.readouterr().err
    assert f"{row} changed → paper" in rebuilt(root, capsys)
    with pikepdf.open(root / PRESS) as pdf:
        assert pdf.Root.OutputIntents[0].OutputConditionIdentifier == "QP 8"
    shutil.copy(ICC / "TR006_coated.icc", root / TABLES / "quayside.icc")
    assert "tables/quayside.icc changed → paper" in rebuilt(root, capsys)
    with pikepdf.open(root / PRESS) as pdf:
        profile = pdf.Root.OutputIntents[0].DestOutputProfile.read_bytes()
    assert profile == (ICC / "TR006_coated.icc").read_bytes()
    (root / TABLES / "notes.md").write_text("Asked the press for its profile.", "utf-8")
    assert "changed" not in rebuilt(root, capsys)
