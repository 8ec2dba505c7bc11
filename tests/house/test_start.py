"""A publication starts with a look of its own, which must hold what the demo publication's holds."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from cardsmith.commands.main import main
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication
from cardsmith.house.start import SHARED as SHARED_LOOK
from cardsmith.house.start import looks, start

SHARED = Path(__file__).parents[2] / "templates"
FACE = "Alegreya"
ACCENT = 6.5  # to 1: between the 4.5 of WCAG 2.2, 1.4.3 (AA) and the 7 of text, for labels of two words


@pytest.fixture(scope="module")
def started(tmp_path_factory: pytest.TempPathFactory, filled_in: Callable[[Path], None]) -> Publication:
    publication = Publication(root=tmp_path_factory.mktemp("north quay"))
    start(publication, "oat-squares")
    filled_in(publication.file("oat-squares"))
    return publication


def names(folder: Path) -> set[str]:
    return {file.relative_to(folder).as_posix() for file in folder.rglob("*") if file.is_file()}


@pytest.mark.parametrize("look", looks(SHARED))
def test_a_look_lies_over_the_shared_files(look: str, tmp_path: Path) -> None:
    publication = Publication(root=tmp_path)
    start(publication, "oat-squares", look)
    own = names(SHARED / "looks" / look) - {"house-keys.yaml"}
    left = "looks/" if look == SHARED_LOOK else "(looks|fonts|webfonts)/"
    shared = {name for name in names(SHARED) if not re.match(left, name)}
    assert names(publication.templates) == own | shared
    for name in own | shared - {"house.yaml"}:
        source = SHARED / (f"looks/{look}" if name in own else "") / name
        assert (publication.templates / name).read_bytes() == source.read_bytes(), name


@pytest.mark.parametrize("look", [one for one in looks(SHARED) if one != SHARED_LOOK])
def test_a_look_holds_only_what_differs(look: str) -> None:
    own = SHARED / "looks" / look
    for name in names(own) & names(SHARED):
        assert (own / name).read_bytes() != (SHARED / name).read_bytes(), name


@pytest.mark.parametrize(("look", "size"), [("plain", "a5"), ("cookbook", "page"), ("newspaper", "5x7")])
def test_a_look_has_its_own_page_and_places(look: str, size: str, tmp_path: Path) -> None:
    publication = Publication(root=tmp_path)
    start(publication, "oat-squares", look)
    card = publication.house().card
    assert card.size.name == size
    assert card.places
    assert publication.house().name == " ".join(re.findall(r"[^\W_]+", tmp_path.name)).title()


def test_an_unknown_look_lists_the_known(tmp_path: Path) -> None:
    with pytest.raises(CardsmithError, match="are cookbook, newspaper, plain, quarterly"):
        start(Publication(root=tmp_path), "oat-squares", "gothic")
    assert not list(tmp_path.iterdir())


def test_a_look_is_for_a_publication_that_begins(tmp_path: Path) -> None:
    start(Publication(root=tmp_path), "oat-squares")
    with pytest.raises(CardsmithError, match="begin another in an empty folder"):
        start(Publication(root=tmp_path), "plum-tart", "newspaper")
    assert not (tmp_path / "recipes/plum-tart").exists()


@pytest.mark.parametrize("look", looks(SHARED))
def test_every_font_of_a_look_has_its_licence(look: str) -> None:
    folder = SHARED if look == SHARED_LOOK else SHARED / "looks" / look
    licences = {file.name.removesuffix("-OFL.txt") for file in (folder / "fonts").glob("*-OFL.txt")}
    for file in licences:
        text = (folder / f"fonts/{file}-OFL.txt").read_text("utf-8")
        assert "SIL Open Font License, Version 1.1" in text
        assert "with Reserved Font Name" not in text, "the cuts and subsets are changed fonts under its name"
    cuts = [*(folder / "fonts").glob("*.ttf"), *(folder / "webfonts").iterdir()]
    assert {file.name.partition("-")[0] for file in cuts} == licences


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
    assert len(page) < 120_000
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
@pytest.mark.parametrize("look", looks(SHARED))
def test_text_stands_out_from_the_paper(look: str, scheme: str) -> None:
    """WCAG 2.2, 1.4.6 (AAA) asks 7 : 1; its definition of "contrast ratio" gives the sum."""
    folder = SHARED if look == SHARED_LOOK else SHARED / "looks" / look
    css = "".join((folder / name).read_text("utf-8") for name in ("look.css", "look-web.css"))
    light, dark = css.split("@media (prefers-color-scheme: dark)")
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})\b", light))
    if scheme == "dark":
        colours |= dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})\b", dark))
    assert set(colours) - {"tint"} == {"ink", "soft", "rule", "accent", "paper", "edge"}
    for name in ("ink", "soft", "accent"):
        assert _contrast(colours[name], colours["paper"]) >= (7 if name != "accent" else ACCENT), name


@pytest.mark.parametrize("look", [one for one in looks(SHARED) if one != SHARED_LOOK])
def test_what_is_printed_stands_out_from_card_and_tint(look: str) -> None:
    css = (SHARED / "looks" / look / "look.css").read_text("utf-8")
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})\b", css))
    for name in ("ink", "soft"):
        assert _contrast(colours[name], colours.get("tint", "#fff")) >= 7, name
    assert _contrast(colours["accent"], "#ffffff") >= ACCENT  # in it, or white on it


def _contrast(one: str, other: str) -> float:
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    digits = [2 * one for one in colour[1:]] if len(colour) == 4 else re.findall("..", colour[1:])
    levels = [int(one, 16) / 255 for one in digits]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in levels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
