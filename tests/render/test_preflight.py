"""A press file spoiled in one place comes back with that one reason."""

from __future__ import annotations

import io
from collections.abc import Callable

import pikepdf
import pytest
from pikepdf import Array, Name, Pdf

from cardsmith.house import House
from cardsmith.render.pdf import lay_out_card, screen_pdf
from cardsmith.render.preflight import press_faults, screen_faults
from cardsmith.render.press import Version, press_pdf, printer
from cardsmith.render.sizes import card_size
from cardsmith.render.typesetter import Typesetter
from cardsmith.render.view import card_view
from cardsmith.rewrite.card import Card

SIZE, OFFSET = card_size("5x7"), printer("offset")
VERSION = Version(recipe="caraway-rye-crackers", mark="3f9a1c22", proof=2, date="2026-04-02")


@pytest.fixture(scope="module")
def files(cards: dict[str, Callable[[], Card]], house: House, typesetter: Typesetter) -> tuple[bytes, bytes]:
    layout = lay_out_card(card_view(cards["short"](), house), typesetter, house.card, {})
    return press_pdf(layout, typesetter, SIZE, OFFSET, VERSION), screen_pdf(layout, typesetter)


def shift_trim(pdf: Pdf) -> None:
    pdf.pages[0].obj.TrimBox = Array([0, 0, 360, 500])


def drop_intent(pdf: Pdf) -> None:
    del pdf.Root["/OutputIntents"]


def add_rgb(pdf: Pdf) -> None:
    pdf.pages[0].contents_add(b"1 0 0 rg 10 10 20 20 re f", prepend=False)


def add_script(pdf: Pdf) -> None:
    pdf.Root.OpenAction = pikepdf.Dictionary(S=Name.JavaScript, JS="app.beep()")


def unembed_fonts(pdf: Pdf) -> None:
    for each in pdf.objects:
        if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/FontDescriptor":
            for key in ("/FontFile", "/FontFile2", "/FontFile3"):
                if key in each:
                    del each[key]


@pytest.mark.parametrize("spoil", [shift_trim, drop_intent, add_rgb, add_script, unembed_fonts])
def test_a_spoiled_press_file_is_refused(spoil: Callable[[Pdf], None], files: tuple[bytes, bytes]) -> None:
    press, _ = files
    assert press_faults(press, SIZE, OFFSET) == ()
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(press)) as pdf:
        spoil(pdf)
        pdf.save(out)
    assert press_faults(out.getvalue(), SIZE, OFFSET)


def test_a_screen_file_is_no_press_file(files: tuple[bytes, bytes]) -> None:
    _, screen = files
    assert press_faults(screen, SIZE, OFFSET)


def test_a_screen_file_needs_its_title_and_language(files: tuple[bytes, bytes]) -> None:
    _, screen = files
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        language, title = str(pdf.Root.Lang), str(pdf.docinfo["/Title"])
        del pdf.Root["/Lang"]
        pdf.save(out)
    assert screen_faults(screen, title, language) == ()
    assert screen_faults(out.getvalue(), title, language)
    assert screen_faults(screen, "Another card", language)
