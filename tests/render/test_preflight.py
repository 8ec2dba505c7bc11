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
    return press_pdf(typesetter.write(layout.document), typesetter, SIZE, OFFSET, VERSION), screen_pdf(
        layout, typesetter
    )


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


def drop_bleed(pdf: Pdf) -> None:
    pdf.pages[1].obj.BleedBox = pdf.pages[1].obj.TrimBox


def drop_trim(pdf: Pdf) -> None:
    del pdf.pages[0].obj["/TrimBox"]


def shrink_sheet(pdf: Pdf) -> None:
    pdf.pages[0].obj.MediaBox = pdf.pages[0].obj.TrimBox


def rename_condition(pdf: Pdf) -> None:
    pdf.Root.OutputIntents[0].OutputConditionIdentifier = "FOGRA51"


def spoil_profile(pdf: Pdf) -> None:
    pdf.Root.OutputIntents[0].DestOutputProfile = pdf.make_stream(b"no profile" * 9, N=4)


def add_rich_black_text(pdf: Pdf) -> None:
    font = next(iter(pdf.pages[0].Resources.Font.keys()))
    pdf.pages[0].contents_add(f"q BT {font} 9 Tf 1 1 1 1 k <0001> Tj ET Q".encode())


def add_black_text_that_knocks_out(pdf: Pdf) -> None:
    font = next(iter(pdf.pages[0].Resources.Font.keys()))
    pdf.pages[0].contents_add(f"q BT {font} 9 Tf 0 0 0 1 k /OverprintOff gs <0001> Tj ET Q".encode())


def add_white_that_overprints(pdf: Pdf) -> None:
    pdf.pages[0].contents_add(b"q /OverprintOn gs 0 0 0 0 k 10 10 20 20 re f Q")


def add_too_much_ink(pdf: Pdf) -> None:
    pdf.pages[0].contents_add(b"q 1 1 1 1 k 10 10 20 20 re f Q")


def add_link(pdf: Pdf) -> None:
    pdf.pages[0].obj.Annots = Array([pikepdf.Dictionary(Subtype=Name.Link, Rect=[0, 0, 9, 9])])


def rename_font(pdf: Pdf) -> None:
    for each in pdf.objects:
        if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/FontDescriptor":
            each.FontName = Name.Whole


def add_machine_font(pdf: Pdf) -> None:
    font = pikepdf.Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
    pdf.pages[0].Resources.Font["/Machine"] = pdf.make_indirect(font)


def forget_standard(pdf: Pdf) -> None:
    with pdf.open_metadata(set_pikepdf_as_editor=False) as metadata:
        del metadata["pdfxid:GTS_PDFXVersion"]


def forget_trapping(pdf: Pdf) -> None:
    with pdf.open_metadata(set_pikepdf_as_editor=False) as metadata:
        del metadata["pdf:Trapped"]


def add_curve(pdf: Pdf) -> None:
    pdf.pages[0].Resources.ExtGState["/Curve"] = pdf.make_indirect(pikepdf.Dictionary(TR=Name.Identity))


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (shift_trim, "cut to 360.0 × 500.0 pt, not 5 × 7 in"),
        (drop_trim, "no TrimBox"),
        (drop_bleed, "a bleed of 0.00 pt"),
        (shrink_sheet, "the bleed leaves the sheet"),
        (drop_intent, "not one PDF/X output intent"),
        (rename_condition, "made for FOGRA51"),
        (spoil_profile, "holds no CMYK printer profile"),
        (add_rgb, "in DeviceRGB"),
        (add_rich_black_text, "not in black ink alone"),
        (add_black_text_that_knocks_out, "black text that does not overprint"),
        (add_white_that_overprints, "that overprints"),
        (add_too_much_ink, "shape with 400% of ink"),
        (add_script, "it holds actions"),
        (add_link, "links or notes"),
        (add_curve, "transfer curves"),
        (unembed_fonts, "is not embedded"),
        (add_machine_font, "the font Helvetica is not embedded"),
        (rename_font, "is not a subset"),
        (forget_standard, "pdfxid:GTS_PDFXVersion"),
        (forget_trapping, "pdf:Trapped"),
    ],
)
def test_a_spoiled_press_file_is_refused(
    spoil: Callable[[Pdf], None], told: str, files: tuple[bytes, bytes]
) -> None:
    press, _ = files
    assert press_faults(press, SIZE, OFFSET) == ()
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(press)) as pdf:
        spoil(pdf)
        pdf.save(out)
    assert told in "; ".join(press_faults(out.getvalue(), SIZE, OFFSET))


def test_text_outside_all_tags_is_found(files: tuple[bytes, bytes]) -> None:
    _, screen = files
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        language, title = str(pdf.Root.Lang), str(pdf.docinfo["/Title"])
        font = next(iter(pdf.pages[0].Resources.Font.keys()))
        pdf.pages[0].contents_add(f"q BT {font} 9 Tf <0001> Tj ET Q".encode())
        pdf.save(out)
    assert screen_faults(out.getvalue(), title, language) == ("text that is neither tagged nor an artifact",)


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
