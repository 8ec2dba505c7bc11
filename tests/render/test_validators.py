"""What programs that know nothing of this one say of its files.

qpdf reads the structure (``qpdf --check``); pdfua tries a part of PDF/UA-1's rules, 16 of 106. No validator
of PDF/X-4 stands in Debian or on PyPI: PDFBox's preflight knows PDF/A-1b alone, whose rules a PDF/X-4 file
breaks by right (it may be transparent, and says nothing of PDF/A), so it is not asked.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cardsmith.house.paper import sheet_size
from cardsmith.house.printers import printer
from cardsmith.house.style import House
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.press.pdf import press_pdf
from cardsmith.render.press.version import Version
from cardsmith.render.sheets.pdf import Order, impose
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card


@pytest.fixture(scope="module", params=["short", "photo", "pie"])
def files(
    request: pytest.FixtureRequest,
    cards: dict[str, Callable[[], Card]],
    house: House,
    typesetter: Typesetter,
    pictures: dict[str, bytes],
    tmp_path_factory: pytest.TempPathFactory,
) -> dict[str, Path]:
    """One card as it leaves, for screen and press and on a sheet."""
    size, offset = house.card.size, printer("offset")
    layout = lay_out_card(card_view(cards[request.param](), house), typesetter, house.card, pictures)
    press = press_pdf(
        typesetter.write(layout.document),
        typesetter,
        size,
        offset,
        Version(recipe="x", mark="0", date="2026-04-02"),
    )
    order = Order(sheet=sheet_size("letter"))
    made = {
        "screen": screened(typesetter.write(layout.document)),
        "press": press,
        "sheet": impose([press], size, offset, house.card.sides, order, typesetter).data,
    }
    folder = tmp_path_factory.mktemp("files")
    for name, data in made.items():
        (folder / f"{name}.pdf").write_bytes(data)
    return {name: folder / f"{name}.pdf" for name in made}


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="structure is read by qpdf: apt-get install qpdf")
@pytest.mark.parametrize("kind", ["screen", "press", "sheet"])
def test_the_structure_is_sound(kind: str, files: dict[str, Path]) -> None:
    done = subprocess.run(["qpdf", "--check", str(files[kind])], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_screen_file_breaks_no_rule_of_accessibility(files: dict[str, Path]) -> None:
    command = str(Path(sys.executable).with_name("pdfua"))  # of the test extra
    done = subprocess.run(
        [command, "check", str(files["screen"])], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout
    assert "PASS (no findings)" in done.stdout
