"""A publication starts with a look of its own, which must hold what the demo publication's holds."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from cardsmith.commands.main import main
from cardsmith.house.publication import Publication
from cardsmith.house.start import start

SHARED = Path(__file__).parents[2] / "templates"
FACE = "Alegreya"


@pytest.fixture(scope="module")
def started(tmp_path_factory: pytest.TempPathFactory, filled_in: Callable[[Path], None]) -> Publication:
    publication = Publication(root=tmp_path_factory.mktemp("north quay"))
    start(publication, "oat-squares")
    filled_in(publication.file("oat-squares"))
    return publication


def names(folder: Path) -> set[str]:
    return {file.relative_to(folder).as_posix() for file in folder.rglob("*") if file.is_file()}


def test_the_plain_look_lies_over_the_shared_files(started: Publication) -> None:
    plain = names(SHARED / "plain")
    shared = {name for name in names(SHARED) if not re.match(r"(plain|fonts|webfonts)/", name)}
    assert names(started.templates) == plain | shared
    for name in plain | shared - {"house.yaml"}:
        source = SHARED / ("plain" if name in plain else "") / name
        assert (started.templates / name).read_bytes() == source.read_bytes(), name


def test_the_plain_look_holds_only_what_differs() -> None:
    for name in names(SHARED / "plain") & names(SHARED):
        assert (SHARED / "plain" / name).read_bytes() != (SHARED / name).read_bytes(), name


def test_every_font_has_its_licence(started: Publication) -> None:
    fonts = started.templates / "fonts"
    assert "SIL Open Font License, Version 1.1" in (fonts / "AlegreyaSans-OFL.txt").read_text("utf-8")
    files = [*fonts.glob("*.ttf"), *(started.templates / "webfonts").iterdir()]
    assert len(files) == 7
    assert all(file.name.startswith("AlegreyaSans-") for file in files)


def test_a_new_publication_is_set_in_its_own_fonts(
    started: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(started.root)
    assert main(["build", "--serial"]) == 0
    cards = started.build / "cards/oat-squares"
    for kind in ("press", "screen"):
        with pikepdf.open(cards / f"oat-squares-{kind}.pdf") as pdf:
            found = {str(one.BaseFont) for one in pdf.objects if _is_font(one)}
        assert found
        assert all(FACE in font for font in found), found
    page = (cards / "oat-squares.html").read_bytes()
    assert len(page) < 100_000
    assert b"Alegreya Sans" in page
    assert b"Fira" not in page
    assert b"webfonts/" not in page
    command = ["pdftotext", "-layout", str(cards / "oat-squares-screen.pdf"), "-"]
    text = subprocess.run(command, capture_output=True, check=True).stdout.decode()
    rows = re.findall(r"(?m)^ *[\d½⅓⅔¼¾]+ \w+ .*\b\d+ g +[a-z]", text)
    assert len(rows) >= 3, "amounts stand before what they measure"


def _is_font(one: object) -> bool:
    return isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/Font" and "/BaseFont" in one


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_from_the_paper(scheme: str) -> None:
    """WCAG 2.2, 1.4.6 (AAA) asks 7 : 1; its definition of "contrast ratio" gives the sum."""
    css = "".join((SHARED / "plain" / name).read_text("utf-8") for name in ("look.css", "look-web.css"))
    light, dark = css.split("@media (prefers-color-scheme: dark)")
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{3})\b", light))
    if scheme == "dark":
        colours |= dict(re.findall(r"--(\w+): (#[0-9a-f]{3})\b", dark))
    assert set(colours) == {"ink", "soft", "rule", "accent", "paper", "edge"}
    for name in ("ink", "soft", "accent"):
        low, high = sorted(_luminance(colours[one]) for one in (name, "paper"))
        assert (high + 0.05) / (low + 0.05) >= 7, name


def _luminance(colour: str) -> float:
    levels = [int(digit * 2, 16) / 255 for digit in colour[1:]]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in levels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
