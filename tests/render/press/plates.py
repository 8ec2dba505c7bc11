"""The plates of a page, as Ghostscript separates it: what each ink is asked to print, dot by dot."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest
from PIL import Image

needs_ghostscript = pytest.mark.skipif(
    shutil.which("gs") is None, reason="plates are drawn by Ghostscript: apt-get install ghostscript"
)
INKS = ("Cyan", "Magenta", "Yellow", "Black")


def plates_of(
    data: bytes, folder: Path, *, page: int = 1, dots: int = 144, overprint: str = "simulate"
) -> Mapping[str, Image.Image]:
    """A picture for each ink by its name, 0 where it is solid and 255 where there is none.

    ``dots`` are to the inch, without smoothing; the whole sheet of a page is shown, its MediaBox.
    """
    (folder / "page.pdf").write_bytes(data)
    for old in folder.glob("plate*.tif"):
        old.unlink()
    command = (
        f"gs -q -dBATCH -dNOPAUSE -dSAFER -sDEVICE=tiffsep -r{dots} -dOverprint=/{overprint} "
        f"-dFirstPage={page} -dLastPage={page} -dGraphicsAlphaBits=1 -dTextAlphaBits=1"
    )
    subprocess.run([*command.split(), "-sOutputFile=plate.tif", "page.pdf"], cwd=folder, check=True)
    found = {}
    for file in folder.glob("plate(*).tif"):
        with Image.open(file) as plate:
            found[file.stem.removeprefix("plate(").removesuffix(")")] = plate.convert("L")
    return found


def levels(plate: Image.Image) -> set[int]:
    """The levels on a plate, but for those of an edge's few dots."""
    return {level for level, count in enumerate(plate.histogram()) if count > 20}


def inked(plate: Image.Image) -> int:
    """How many dots have any ink."""
    return sum(plate.histogram()[:255])


def is_solid(plate: Image.Image) -> bool:
    """Whether it has full ink and none, and no tint between."""
    return sum(plate.histogram()[1:255]) == 0
