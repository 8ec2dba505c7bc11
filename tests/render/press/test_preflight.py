"""A press file spoiled in one place comes back with that one reason, and with the place."""

from __future__ import annotations

import io
from collections.abc import Callable

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from cardsmith.house.paper import card_size
from cardsmith.house.printers import printer
from cardsmith.house.style import House
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.press.pdf import press_pdf
from cardsmith.render.press.preflight import examined, screen_faults
from cardsmith.render.press.version import Version
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card

SIZE, OFFSET = card_size("5x7"), printer("offset")
VERSION = Version(recipe="caraway-rye-crackers", mark="3f9a1c22", proof=2, date="2026-04-02")


@pytest.fixture(scope="module")
def files(cards: dict[str, Callable[[], Card]], house: House, typesetter: Typesetter) -> tuple[bytes, bytes]:
    layout = lay_out_card(card_view(cards["crackers"](), house), typesetter, house.card, {})
    tagged = typesetter.write(layout.document)
    return press_pdf(tagged, typesetter, SIZE, OFFSET, VERSION), screened(tagged)


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


def add_tinted_hairline(pdf: Pdf) -> None:
    pdf.pages[0].contents_add(b"q 0 0 0 0.4 k 10 10 200 0.4 re f Q")


def add_tinted_stroke(pdf: Pdf) -> None:
    pdf.pages[0].contents_add(b"q 0.5 0 0 0.5 0 0 cm 0 0 0 0.85 K 1 w 10 10 m 200 10 l S Q")


def add_rule_of_four_plates(pdf: Pdf) -> None:
    pdf.pages[0].contents_add(b"q 0.9 0.45 0.45 0.35 k 10 10 200 2.5 re f Q")


def add_hairline_seen_through(pdf: Pdf) -> None:
    state(pdf, ca=0.5)
    pdf.pages[1].contents_add(b"q /Spoilt gs 0 0 0 1 k 10 10 200 0.4 re f Q")


def plate(pdf: Pdf, name: Name) -> None:
    """A plate of this name, as a colour of the second page."""
    page = pdf.pages[1].obj
    page.Resources = pdf.make_indirect(Dictionary(dict(page.Resources.items())))
    function = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0, 0, 0, 0], C1=[0, 1, 0, 0], N=1)
    page.Resources.ColorSpace = Dictionary(Spoilt=Array([Name.Separation, name, Name.DeviceCMYK, function]))


def print_with_a_strange_ink(pdf: Pdf) -> None:
    plate(pdf, Name.Gold)
    pdf.pages[1].contents_add(b"q /Spoilt cs 1 scn 10 10 20 20 re f Q")


def rule_in_a_tint_of_a_plate(pdf: Pdf) -> None:
    plate(pdf, Name.Gold)
    pdf.pages[1].contents_add(b"q /Spoilt cs 0.4 scn 10 10 200 0.4 re f Q")


def stand_in_for_an_ink_in_rgb(pdf: Pdf) -> None:
    function = Dictionary(FunctionType=2, Domain=[0, 1], C0=[1, 1, 1], C1=[0, 0, 1], N=1)
    hold(pdf, Name.ColorSpace, Array([Name.Separation, Name.Harbour, Name.DeviceRGB, function]))


def set_type_on_every_plate(pdf: Pdf) -> None:
    plate(pdf, Name.All)
    font = next(iter(pdf.pages[1].Resources.Font.keys()))
    pdf.pages[1].contents_add(f"q /Spoilt cs 1 scn BT {font} 9 Tf <0001> Tj ET Q".encode())


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


def trap(pdf: Pdf) -> None:
    pdf.docinfo["/Trapped"] = Name.Unknown


def say_nothing_of_trapping(pdf: Pdf) -> None:
    del pdf.docinfo["/Trapped"]


def drop_bleed_box(pdf: Pdf) -> None:
    del pdf.pages[1].obj["/BleedBox"]


def hold(pdf: Pdf, kind: Name, spoilt: object) -> None:
    """A resource of the second page alone, which nothing is drawn with yet."""
    page = pdf.pages[1].obj
    page.Resources = pdf.make_indirect(Dictionary(dict(page.Resources.items())))
    page.Resources[kind] = Dictionary({**dict(page.Resources[kind].items()), "/Spoilt": spoilt})


def state(pdf: Pdf, **keys: object) -> None:
    hold(pdf, Name.ExtGState, Dictionary(Type=Name.ExtGState, **keys))


def add_curve(pdf: Pdf) -> None:
    state(pdf, TR=Name.Identity)


def add_second_curve(pdf: Pdf) -> None:
    state(pdf, TR2=Name.Identity)


def add_halftone(pdf: Pdf) -> None:
    screen = Dictionary(Type=Name.Halftone, HalftoneType=6, Width=2, Height=2)
    state(pdf, HT=pdf.make_stream(b"\0\x40\x80\xc0", screen))


def add_halftone_with_a_curve(pdf: Pdf) -> None:
    dots = {"Frequency": 60, "Angle": 45, "SpotFunction": Name.Round, "TransferFunction": Name.Identity}
    state(pdf, HT=Dictionary(Type=Name.Halftone, HalftoneType=1, **dots))


def add_named_halftone(pdf: Pdf) -> None:
    dots = Dictionary(Type=Name.Halftone, HalftoneType=1, Frequency=60, Angle=45, SpotFunction=Name.Round)
    dots.HalftoneName = pikepdf.String("Coarse")
    state(pdf, HT=dots)


def add_halftone_phase(pdf: Pdf) -> None:
    state(pdf, HTP=Array([0, 1]))


def picture(pdf: Pdf, data: bytes = b"\x80" * 12, **keys: object) -> Stream:
    """A picture of two dots by six, in grey, on the second page alone."""
    made = pdf.make_stream(
        data,
        Type=Name.XObject,
        Subtype=Name.Image,
        Width=2,
        Height=6,
        ColorSpace=Name.DeviceGray,
        BitsPerComponent=8,
        **keys,
    )
    hold(pdf, Name.XObject, made)
    return made


def pack_by_lzw(pdf: Pdf) -> None:
    """Codes of nine bits: clear, each byte, end of data (ISO 32000-1, 7.4.4.2)."""
    bits = "".join(f"{code:09b}" for code in (256, *b"\x80" * 12, 257))
    bits += "0" * (-len(bits) % 8)
    packed = bytes(int(bits[place : place + 8], 2) for place in range(0, len(bits), 8))
    picture(pdf).write(packed, filter=Name.LZWDecode)


def open_at_a_page(pdf: Pdf) -> None:
    pdf.Root.OpenAction = Array([pdf.pages[1].obj, Name.Fit])


def stand_in_for_a_picture(pdf: Pdf) -> None:
    picture(
        pdf, OPI=Dictionary({"/2.0": Dictionary(Type=Name.OPI, Version=2.0, F=pikepdf.String("fine.tif"))})
    )


def add_alternate(pdf: Pdf) -> None:
    coarse = pdf.make_stream(b"\0", Subtype=Name.Image, Width=1, Height=1, ColorSpace=Name.DeviceGray)
    picture(pdf, Alternates=Array([Dictionary(Image=coarse, DefaultForPrinting=True)]))


def group(pdf: Pdf, space: object) -> Stream:
    """A drawing blended by itself."""
    made = Dictionary(S=Name.Transparency, CS=space)
    return pdf.make_stream(b"", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 9, 9], Group=made)


def blend_in_rgb(pdf: Pdf) -> None:
    pdf.pages[1].obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)


def blend_in_a_profile_of_rgb(pdf: Pdf) -> None:
    profile = pdf.make_stream(b"no matter what", N=3)
    pdf.pages[1].obj.Group = Dictionary(S=Name.Transparency, CS=Array([Name.ICCBased, profile]))


def mask_in_rgb(pdf: Pdf) -> None:
    state(pdf, SMask=Dictionary(S=Name.Luminosity, G=group(pdf, Name.DeviceRGB)))


def shade_in_rgb(pdf: Pdf) -> None:
    """A pattern nobody paints with yet."""
    function = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0, 0, 0], C1=[1, 0, 0], N=1)
    shading = Dictionary(ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=[0, 0, 9, 0], Function=function)
    hold(pdf, Name.Pattern, Dictionary(PatternType=2, Shading=shading))


def shade_in_lab(pdf: Pdf) -> None:
    lab = Array([Name.Lab, Dictionary(WhitePoint=[0.9642, 1, 0.8249])])
    shading = Dictionary(ShadingType=2, ColorSpace=lab, Coords=[0, 0, 9, 0])
    hold(pdf, Name.Shading, pdf.make_indirect(shading))


def add_script_by_name(pdf: Pdf) -> None:
    script = Dictionary(S=Name.JavaScript, JS=pikepdf.String("app.beep()"))
    pdf.Root.Names = Dictionary(JavaScript=Dictionary(Names=Array([pikepdf.String("x"), script])))


def act_on_opening_a_page(pdf: Pdf) -> None:
    pdf.pages[1].obj.AA = Dictionary(O=Dictionary(S=Name.Named, N=Name.Print))


def attach_a_file(pdf: Pdf) -> None:
    pdf.attachments["recipe.yaml"] = b"title: x"


def draw_in_postscript(pdf: Pdf) -> None:
    program = pdf.make_stream(b"showpage", Type=Name.XObject, Subtype=Name.PS)
    hold(pdf, Name.XObject, program)


def draw_from_another_file(pdf: Pdf) -> None:
    form = group(pdf, Name.DeviceCMYK)
    form.Ref = Dictionary(F=pikepdf.String("other.pdf"), Page=0)
    hold(pdf, Name.XObject, form)


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (shift_trim, "page 1: cut to 360.0 × 500.0 pt, not 5 × 7 in"),
        (drop_trim, "page 1: no TrimBox"),
        (drop_bleed, "page 2: a bleed of 0.00 pt"),
        (drop_bleed_box, "page 2: no BleedBox"),
        (shrink_sheet, "page 1: the bleed leaves the sheet"),
        (drop_intent, "not one PDF/X output intent"),
        (rename_condition, "made for FOGRA51"),
        (spoil_profile, "holds no CMYK printer profile"),
        (add_rgb, "page 1: shape in DeviceRGB"),
        (add_rich_black_text, "page 1: text in C 100% M 100% Y 100% K 100%, neither in black ink alone nor"),
        (add_black_text_that_knocks_out, "page 1: black text that does not overprint"),
        (add_white_that_overprints, "page 1: shape in C 0% M 0% Y 0% K 0% that overprints"),
        (add_tinted_hairline, "page 1: a hairline of 0.4 pt in C 0% M 0% Y 0% K 40%, a tint"),
        (add_tinted_stroke, "page 1: a hairline of 0.5 pt in C 0% M 0% Y 0% K 85%, a tint"),
        (add_rule_of_four_plates, "page 1: a rule of 2.5 pt in C 90% M 45% Y 45% K 35%, on more plates"),
        (add_hairline_seen_through, "page 2: shape that is 50% opaque, a tint"),
        (print_with_a_strange_ink, "page 2: shape on a plate of its own, Gold"),
        (rule_in_a_tint_of_a_plate, "page 2: shape in 40% of Gold, a tint"),
        (stand_in_for_an_ink_in_rgb, "a plate whose stand-in is in DeviceRGB (page 2)"),
        (set_type_on_every_plate, "page 2: text on every plate"),
        (add_too_much_ink, "page 1: shape with 400% of ink"),
        (add_script, "an action (the document)"),
        (add_script_by_name, "an action (the document)"),
        (act_on_opening_a_page, "an action (page 2)"),
        (attach_a_file, "files attached (the document)"),
        (add_link, "page 1: links or notes"),
        (add_curve, "a transfer function (page 2)"),
        (add_second_curve, "a transfer function (page 2)"),
        (add_halftone, "a halftone of type 6 (page 2)"),
        (add_halftone_with_a_curve, "a transfer function (page 2)"),
        (add_named_halftone, "a halftone by name (page 2)"),
        (add_halftone_phase, "halftone phases (page 2)"),
        (open_at_a_page, "an action (the document)"),
        (pack_by_lzw, "data packed by LZW (page 2)"),
        (stand_in_for_a_picture, "an image that stands in for another (OPI) (page 2)"),
        (add_alternate, "alternates of an image (page 2)"),
        (blend_in_rgb, "transparency blended in DeviceRGB (page 2)"),
        (blend_in_a_profile_of_rgb, "transparency blended in a profile of 3 channels (page 2)"),
        (mask_in_rgb, "transparency blended in DeviceRGB (page 2)"),
        (shade_in_rgb, "a gradient in DeviceRGB (page 2)"),
        (shade_in_lab, "a gradient in Lab (page 2)"),
        (draw_in_postscript, "a drawing in PostScript (page 2)"),
        (draw_from_another_file, "a drawing from another file (page 2)"),
        (unembed_fonts, "is not embedded"),
        (add_machine_font, "the font Helvetica is not embedded"),
        (rename_font, "is not a subset"),
        (forget_standard, "pdfxid:GTS_PDFXVersion"),
        (forget_trapping, "pdf:Trapped is None, not False"),
        (say_nothing_of_trapping, "Trapped is None in the document's information"),
        (trap, "Trapped is /Unknown in the document's information"),
    ],
)
def test_a_spoiled_press_file_is_refused(
    spoil: Callable[[Pdf], None], told: str, files: tuple[bytes, bytes]
) -> None:
    press, _ = files
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(press)) as pdf:
        spoil(pdf)
        # As it stands: else data packed by LZW would be packed anew.
        pdf.save(out, stream_decode_level=pikepdf.StreamDecodeLevel.none, compress_streams=False)
    assert told in "; ".join(examined(out.getvalue(), SIZE, OFFSET).faults)


def test_a_sound_press_file_passes(files: tuple[bytes, bytes]) -> None:
    press, _ = files
    assert examined(press, SIZE, OFFSET).faults == ()


def test_text_left_white_in_a_dark_ground_passes(files: tuple[bytes, bytes]) -> None:
    press, _ = files
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(press)) as pdf:
        font = next(iter(pdf.pages[0].Resources.Font.keys()))
        pdf.pages[0].contents_add(f"q BT {font} 9 Tf 0 0 0 0 k /OverprintOff gs <0001> Tj ET Q".encode())
        pdf.save(out)
    assert examined(out.getvalue(), SIZE, OFFSET).faults == ()


@pytest.mark.parametrize("user", ["", "secret"], ids=["opens", "locked"])
def test_an_encrypted_file_is_refused(user: str, files: tuple[bytes, bytes]) -> None:
    """With a password for its owner alone, or for whoever opens it."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(files[0])) as pdf:
        pdf.save(out, encryption=pikepdf.Encryption(owner="owner", user=user))
    assert "it is encrypted" in examined(out.getvalue(), SIZE, OFFSET).faults


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
    assert examined(screen, SIZE, OFFSET).faults


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
