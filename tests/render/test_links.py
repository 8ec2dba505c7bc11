"""A link on a card: on a screen it is told and can be followed, on paper it is ink alone."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Name

from cardsmith.house.paper import card_size
from cardsmith.house.printers import printer
from cardsmith.render.press.pdf import press_pdf
from cardsmith.render.press.preflight import examined, screen_faults
from cardsmith.render.press.version import Version
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import Typesetter

ADDRESS = "https://pellwick.example/recipes/rye-crackers/"
PAGE = f"""<!DOCTYPE html><html lang="en-US"><head><title>Rye crackers</title><style>
@page {{ size: 360pt 504pt; bleed: 9pt; margin: 30pt;
  @bottom-left {{ content: "Rye"; font-family: 'Fira Sans' }} }}
body {{ margin: 0; font: 10pt 'Fira Sans'; color: #111 }} a {{ color: #17525c }}
</style></head><body><h1>Rye crackers</h1>
<p>Corrected at <a href="{ADDRESS}">pellwick.example/recipes/rye-crackers</a>.</p>
<p>Its notes are <a href="{ADDRESS}#notes">there too</a>.</p></body></html>"""
SIZE, OFFSET = card_size("5x7"), printer("offset")


@pytest.fixture(scope="module")
def tagged(typesetter: Typesetter) -> bytes:
    return typesetter.write(typesetter.lay_out(PAGE, {}, styled=False))


@pytest.fixture(scope="module")
def screen(tagged: bytes) -> bytes:
    return screened(tagged)


def test_a_link_is_tagged_and_told(screen: bytes) -> None:
    """ISO 14289-1, 7.18.5: a Link element holds it, and its Contents say where it leads."""
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        first, second = pdf.pages[0].Annots
        assert str(first.A.URI) == ADDRESS
        assert str(first.Contents) == ADDRESS
        assert str(second.Contents) == f"{ADDRESS}#notes"
        numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
        parents = {int(numbers[place]): numbers[place + 1] for place in range(0, len(numbers), 2)}
        for link in (first, second):
            element = parents[int(link.StructParent)]
            assert element.get(Name.S) == Name.Link
            assert any(
                isinstance(kid, pikepdf.Dictionary)
                and kid.Type == Name.OBJR
                and kid.Obj.objgen == link.objgen
                for kid in element.K
            )
            assert any(isinstance(kid, int) for kid in element.K), "and its words"


def test_a_link_stands_where_its_words_are(screen: bytes) -> None:
    """Another program finds the words within the link (poppler's pdftotext)."""
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        left, one, right, other = (float(edge) for edge in pdf.pages[0].Annots[0].Rect)
    top, high = 504 - max(one, other), abs(one - other)
    box = f"-x {left:.0f} -y {top:.0f} -W {right - left:.0f} -H {high:.0f} -r 72"
    told = subprocess.run(
        ["pdftotext", *box.split(), "-", "-"], input=screen, capture_output=True, check=True
    )
    assert told.stdout.decode().strip() == "pellwick.example/recipes/rye-crackers"


def test_the_screen_file_passes(screen: bytes, tmp_path: Path) -> None:
    faults = screen_faults(screen, "Rye crackers", "en-US")
    assert faults == ()
    (tmp_path / "x.pdf").write_bytes(screen)
    command = [str(Path(sys.executable).with_name("pdfua")), "check", str(tmp_path / "x.pdf")]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize(
    ("key", "told"),
    [
        ("/Contents", "a link that does not say where it leads"),
        ("/StructParent", "a link outside the tags"),
        ("/F", "a link that is not there for everyone"),
    ],
)
def test_a_dumb_link_is_found(key: str, told: str, screen: bytes) -> None:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        del pdf.pages[0].Annots[0][key]
        pdf.save(out)
    assert screen_faults(out.getvalue(), "Rye crackers", "en-US") == (told,)


def test_a_link_in_other_tags_and_a_level_left_out_are_found(screen: bytes) -> None:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        for item in pdf.objects:
            if isinstance(item, pikepdf.Dictionary) and item.get(Name.S) in (Name.Link, Name.H1):
                item.S = Name.H3 if item.S == Name.H1 else Name.Span
        pdf.save(out)
    found = screen_faults(out.getvalue(), "Rye crackers", "en-US")
    assert found == ("a heading of level 3 below one of level 0", "a link that is not tagged as one")


def test_paper_has_no_links(tagged: bytes, typesetter: Typesetter) -> None:
    press = press_pdf(
        tagged, typesetter, SIZE, OFFSET, Version(recipe="rye-crackers", mark="0", date="2026-04-02")
    )
    assert examined(press, SIZE, OFFSET).faults == ()
    for word in (
        b"/Link",
        b"/URI",
        b"/Annot",
        b"/StructTreeRoot",
        b"/MarkInfo",
        b"/StructParents",
        b"/Outlines",
    ):
        with pikepdf.open(io.BytesIO(press)) as pdf:
            plain = io.BytesIO()
            pdf.save(plain, object_stream_mode=pikepdf.ObjectStreamMode.disable, qdf=True)
        assert word not in plain.getvalue()
    text = subprocess.run(
        ["pdftotext", "-", "-"], input=press, capture_output=True, check=True
    ).stdout.decode()
    assert "pellwick.example/recipes/rye-crackers" in text
