"""The README's pictures of a card and a page show what is made today.

To draw them anew: ``python tests/test_pictures.py``; then look at them.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageOps, ImageStat

from cardsmith.commands.main import main
from tests.demo import copy_templates

ROOT = Path(__file__).parents[1]
PICTURES = ROOT / "recipes/pictures"
SHOWN = "lemon-curd"
GROUND, EDGE = "#e9e6df", "#c9c4b8"
COLOURS = 96  # enough for flat drawings and type, and a fifth of the bytes
LARGEST = 150_000  # bytes
# Grey levels of 255: what another release of a rasteriser changes stays below, a moved line does not.
ALIKE, ANYWHERE = 2.5, 40


def built(root: Path) -> Path:
    """The card and the page of the recipe shown, in a copy of the demo at ``root``; its build folder."""
    shutil.copytree(ROOT / "recipes", root / "recipes")
    copy_templates(root / "templates")
    assert main(["--publication", str(root), "build", SHOWN]) == 0
    return root / "build"


def card(build: Path, work: Path) -> Image.Image:
    """Both sides of the printed card, beside each other."""
    file = build / f"cards/{SHOWN}/{SHOWN}-screen.pdf"
    subprocess.run(["pdftoppm", "-r", "96", "-png", file, work / "side"], check=True)
    sides = [ImageOps.expand(Image.open(one).convert("RGB"), 1, EDGE) for one in sorted(work.glob("side*"))]
    gap = 24
    width, height = sum(one.width + gap for one in sides) + gap, sides[0].height + 2 * gap
    whole = Image.new("RGB", (width, height), GROUND)
    for at, one in enumerate(sides):
        whole.paste(one, (gap + at * (one.width + gap), gap))
    return whole


def page(build: Path, work: Path) -> Image.Image:
    """The upper part of the recipe's page, as a browser shows it."""
    target = work / "page.png"
    command = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"]
    address = (build / f"site/recipes/{SHOWN}/index.html").as_uri()
    window = ["--window-size=1100,1180", f"--user-data-dir={work / 'browser'}"]
    subprocess.run(
        [*command, *window, f"--screenshot={target}", address], check=True, capture_output=True, timeout=120
    )
    whole = Image.open(target).convert("RGB")
    return ImageOps.expand(whole.resize((whole.width * 7 // 10, whole.height * 7 // 10)), 1, EDGE)


DRAWN = {"card": card, "page": page}
TOOLS = {"card": "pdftoppm", "page": "chromium"}


@pytest.fixture(scope="module")
def build(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(tmp_path_factory.mktemp("demo"))


@pytest.mark.parametrize("name", DRAWN)
def test_a_picture_of_the_readme_is_fresh_and_small(name: str, build: Path, tmp_path: Path) -> None:
    file = PICTURES / f"{name}.png"
    assert file.stat().st_size < LARGEST
    if shutil.which(TOOLS[name]) is None:
        assert not os.environ.get("CARDSMITH_WEB_TOOLS_REQUIRED")
        pytest.skip(f"{TOOLS[name]} is missing")
    now, shown = DRAWN[name](build, tmp_path), Image.open(file).convert("RGB")
    assert now.size == shown.size
    apart = ImageChops.difference(now.convert("L"), shown.convert("L"))
    small = apart.resize((apart.width // 8, apart.height // 8), Image.Resampling.BOX)
    assert ImageStat.Stat(apart).mean[0] < ALIKE
    assert small.getextrema()[1] < ANYWHERE, f"{file} shows what is no longer so: python {__file__}"


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        made = built(Path(folder))
        for name in sys.argv[1:] or DRAWN:
            drawn = DRAWN[name](made, Path(folder))
            drawn.quantize(COLOURS, dither=Image.Dither.NONE).save(PICTURES / f"{name}.png", optimize=True)
