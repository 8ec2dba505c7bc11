"""Preflight: reading a finished PDF as a printer would, independently of what wrote it.

Sources: ISO 15930-7:2010 (PDF/X-4) and ISO 14289-1:2014 (PDF/UA-1) for what must be there; resolution, ink
limit and bleed are the printer's own, from ``reference/printer_profiles.csv`` or the house's row.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize, SheetSize
from cardsmith.house.printers import Printer
from cardsmith.render.press.accent import NO_ACCENT, Accent
from cardsmith.render.press.content import Painted, painted
from cardsmith.render.press.inks import share_over
from cardsmith.render.press.prohibited import prohibited
from cardsmith.render.press.recolouring import HAIR, RULE

_SLACK = 0.01  # points; boxes are written to four decimals
_INK_SLACK = 0.005
# A photo is stored as JPEG, which moves the inks of a dot by some levels each.
_PHOTO_SLACK, _STRAY_DOTS = Fraction(1, 10), 0.001
_BLACK, _PAPER = (0.0, 0.0, 0.0, 1.0), (0.0, 0.0, 0.0, 0.0)
_EVERY_PLATE = "All"  # for marks outside the card (ISO 32000-1, 8.6.6.4)
_PRINTS, _HIDDEN = (
    0b100,
    0b100011,
)  # flags of a link: on paper; invisible, hidden, not on a screen (table 165)
_LEVELS = {f"/H{level}": level for level in range(1, 7)}
_ENCRYPTED = "it is encrypted"


class Unprintable(CardsmithError):  # noqa: N818 - the name says what is the matter
    """A finished file failed its preflight and must not be written."""


@frozen
class Coarse:
    """A photo with a lower resolution at size than the printer asks for."""

    page: int
    resolution: int


@frozen
class Examined:
    """The findings of a preflight of a press file."""

    faults: tuple[str, ...] = ()  # it would come back
    coarse: tuple[Coarse, ...] = ()  # photos of low resolution, each once a page


def examined(data: bytes, size: CardSize, made_for: Printer, accent: Accent = NO_ACCENT) -> Examined:
    """A complete preflight of a press file."""
    try:
        with pikepdf.open(io.BytesIO(data)) as pdf:
            drawn = [tuple(painted(page)) for page in pdf.pages]
            return Examined(
                faults=(
                    *_file_faults(pdf, made_for),
                    *_of_pages(_box_faults(page, size, made_for) for page in pdf.pages),
                    *_paint_faults(drawn, made_for, accent),
                ),
                coarse=tuple(
                    Coarse(page=number, resolution=int(painted.resolution))
                    for number, things in enumerate(drawn, 1)
                    for painted in things
                    if painted.what == "image" and painted.resolution < made_for.resolution - 0.5
                ),
            )
    except pikepdf.PasswordError:
        return Examined(faults=(_ENCRYPTED,))


def sheet_faults(
    data: bytes, sheet: SheetSize, made_for: Printer, accent: Accent = NO_ACCENT
) -> tuple[str, ...]:
    """The faults of imposed sheets; the cards on them have passed one by one."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return (
            *_file_faults(pdf, made_for),
            *_of_pages(_paper_faults(page, sheet) for page in pdf.pages),
            *_paint_faults((painted(page) for page in pdf.pages), made_for, accent),
        )


def _file_faults(pdf: pikepdf.Pdf, made_for: Printer) -> Iterator[str]:
    """The faults that concern the whole document."""
    yield from _metadata_faults(pdf)
    yield from _intent_faults(pdf, made_for)
    yield from _font_faults(pdf)
    yield from prohibited(pdf)


def _of_pages(faults: Iterable[Iterable[str]]) -> Iterator[str]:
    """Each fault once a page, with the number of the page."""
    for number, on_page in enumerate(faults, 1):
        yield from (f"page {number}: {fault}" for fault in dict.fromkeys(on_page))


def _paper_faults(page: pikepdf.Page, sheet: SheetSize) -> Iterator[str]:
    left, foot, right, top = (float(edge) for edge in page.mediabox)
    lying = right - left > top - foot
    wanted = (sheet.height, sheet.width) if lying else (sheet.width, sheet.height)
    if not _same((right - left, top - foot), wanted):
        yield f"a page of {right - left:.1f} × {top - foot:.1f} pt, not {sheet.shown}"
    if Name.TrimBox not in page or int(page.obj.get(Name.Rotate, 0)):
        yield "a page without a TrimBox, or on its side"


def screen_faults(data: bytes, title: str, language: str) -> tuple[str, ...]:
    """What keeps a screen file from being accessible, as far as a program can tell."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        root = pdf.Root
        with pdf.open_metadata() as metadata:
            asked = [
                ("no PDF/UA-1 identifier", metadata.get("pdfuaid:part") == "1"),
                ("the title is not the card's", metadata.get("dc:title") == title),
            ]
        asked += [
            ("the language is not the house's", str(root.get(Name.Lang)) == language),
            ("the title is not shown", _flag(root, Name.ViewerPreferences, Name.DisplayDocTitle)),
            ("it is not tagged", _flag(root, Name.MarkInfo, Name.Marked)),
            ("no tag tree", Name.StructTreeRoot in root),
            ("no bookmarks", Name.Outlines in root),
        ]
        faults = [fault for fault, right in asked if not right]
        if Name.StructTreeRoot in root:
            faults += _tag_faults(root.StructTreeRoot)
            faults += _heading_faults(root.StructTreeRoot)
        for page in pdf.pages:
            if page.get(Name.Tabs) != Name.S:
                faults.append("tabs do not follow the tags")
            if _untagged(page):
                faults.append("text that is neither tagged nor an artifact")
            faults += _link_faults(page, root)
        return (*dict.fromkeys(faults), *_font_faults(pdf))


def _heading_faults(tree: Any) -> Iterator[str]:
    """Headings that leave out a level on the way down (ISO 14289-1, 7.4.2)."""
    above = 0
    for level in _headings(tree):
        if level > above + 1:
            yield f"a heading of level {level} below one of level {above}"
        above = level


def _headings(element: Any) -> Iterator[int]:
    kids = element.get(Name.K)
    for kid in list(kids) if isinstance(kids, Array) else [kids]:
        if isinstance(kid, Dictionary) and Name.S in kid:
            if (kind := str(kid.S)) in _LEVELS:
                yield _LEVELS[kind]
            yield from _headings(kid)


def _untagged(page: pikepdf.Page) -> bool:
    """Whether text stands outside all marked content (ISO 14289-1, 7.1)."""
    depth = 0
    for instruction in pikepdf.parse_content_stream(page, "BDC BMC EMC Tj TJ ' \""):
        name = str(instruction.operator)
        depth += {"BDC": 1, "BMC": 1, "EMC": -1}.get(name, 0)
        if depth == 0 and name in {"Tj", "TJ", "'", '"'}:
            return True
    return False


def _link_faults(page: pikepdf.Page, root: Any) -> Iterator[str]:
    """Links that are not tagged or have no description (ISO 14289-1, 7.18.1 and 7.18.5)."""
    parents = root.StructTreeRoot.ParentTree.Nums if Name.StructTreeRoot in root else []
    elements = {int(parents[place]): parents[place + 1] for place in range(0, len(parents), 2)}
    for link in page.get(Name.Annots, ()):
        if not str(link.get(Name.Contents, "")):
            yield "a link that does not say where it leads"
        if Name.StructParent not in link:
            yield "a link outside the tags"
        elif elements[int(link.StructParent)].get(Name.S) != Name.Link:
            yield "a link that is not tagged as one"
        if not int(link.get(Name.F, 0)) & _PRINTS or int(link.get(Name.F, 0)) & _HIDDEN:
            yield "a link that is not there for everyone"


def _flag(root: Any, holder: Name, name: Name) -> bool:
    return holder in root and bool(root[holder].get(name, False))


def _metadata_faults(pdf: pikepdf.Pdf) -> Iterator[str]:
    with pdf.open_metadata() as metadata:
        wanted = {
            "pdfxid:GTS_PDFXVersion": "PDF/X-4",
            "pdf:Trapped": "False",
        }
        for key, value in wanted.items():
            if str(metadata.get(key)) != value:
                yield f"{key} is {metadata.get(key)}, not {value}"
        for key in ("dc:title", "xmp:CreateDate", "xmp:ModifyDate", "xmp:MetadataDate", "xmpMM:DocumentID"):
            if not metadata.get(key):
                yield f"no {key} in the metadata"
        for key in ("xmpMM:VersionID", "xmpMM:RenditionClass"):
            if not metadata.get(key):
                yield f"no {key} in the metadata"
    if Name.ID not in pdf.trailer:
        yield "no file identifier"
    if pdf.is_encrypted:
        yield _ENCRYPTED  # ISO 15930-7, 6.15 (memory)
    # Whether colours were trapped must be said, in both places alike (ISO 15930-7, 6.8, memory).
    if (trapped := pdf.docinfo.get(Name.Trapped)) != Name("/False"):
        yield f"Trapped is {trapped} in the document's information, not False"
    if pdf.pdf_version < "1.4" or pdf.pdf_version > "1.6":
        yield f"PDF {pdf.pdf_version}, not 1.6"


def _intent_faults(pdf: pikepdf.Pdf, made_for: Printer) -> Iterator[str]:
    intents = list(pdf.Root.get(Name.OutputIntents, ()))
    if len(intents) != 1 or intents[0].get(Name.S) != Name.GTS_PDFX:
        yield "not one PDF/X output intent"
        return
    intent = intents[0]
    if str(intent.get(Name.OutputConditionIdentifier)) != made_for.condition:
        yield f"made for {intent.get(Name.OutputConditionIdentifier)}, not {made_for.condition}"
    profile = intent.get(Name.DestOutputProfile)
    # An ICC profile names its class at byte 12 and its colour space at byte 16 (ISO 15076-1, 7.2).
    if profile is None or (held := profile.read_bytes())[12:20] != b"prtrCMYK":
        yield "the output intent holds no CMYK printer profile"
    elif held != made_for.profile:
        yield f"the output intent holds another profile than {made_for.icc}"


def _box_faults(page: pikepdf.Page, size: CardSize, made_for: Printer) -> Iterator[str]:
    for name in ("/TrimBox", "/BleedBox", "/MediaBox"):
        if name not in page:
            yield f"no {name[1:]}"
            return
    trim, bleed, media = (
        [float(edge) for edge in page[name]] for name in ("/TrimBox", "/BleedBox", "/MediaBox")
    )
    if not _same((trim[2] - trim[0], trim[3] - trim[1]), (size.width, size.height)):
        yield f"cut to {trim[2] - trim[0]:.1f} × {trim[3] - trim[1]:.1f} pt, not {size.shown}"
    past = (trim[0] - bleed[0], trim[1] - bleed[1], bleed[2] - trim[2], bleed[3] - trim[3])
    if not _same(past, (made_for.bleed,) * 4):
        yield f"a bleed of {min(past):.2f} pt, not {float(made_for.bleed):.2f}"
    if media[0] > bleed[0] or media[1] > bleed[1] or media[2] < bleed[2] or media[3] < bleed[3]:
        yield "the bleed leaves the sheet"
    if Name.ArtBox in page:
        yield "both a TrimBox and an ArtBox"
    if Name.Annots in page:
        yield "links or notes on the card"  # none inside the bleed (ISO 15930-7, memory)


def _same(actual: tuple[float, ...], wanted: tuple[Fraction, ...]) -> bool:
    return all(abs(edge - float(asked)) <= _SLACK for edge, asked in zip(actual, wanted, strict=True))


def _font_faults(pdf: pikepdf.Pdf) -> Iterator[str]:
    described = 0
    for item in pdf.objects:
        if not isinstance(item, Dictionary) or item.get(Name.Type) != Name.FontDescriptor:
            continue
        described += 1
        name = str(item.FontName)[1:]
        if not any(key in item for key in (Name.FontFile, Name.FontFile2, Name.FontFile3)):
            yield f"the font {name} is not embedded"
        if name[6:7] != "+":
            yield f"the font {name} is not a subset"
    if not described:
        yield "no fonts"
    for item in pdf.objects:
        if isinstance(item, Dictionary) and item.get(Name.Type) == Name.Font:
            if item.get(Name.Subtype) == Name.Type0 and Name.ToUnicode not in item:
                yield f"the font {str(item.BaseFont)[1:]} does not say which letters it draws"
            if item.get(Name.Subtype) != Name.Type0 and Name.FontDescriptor not in item:
                yield f"the font {str(item.get(Name.BaseFont, item.Subtype))[1:]} is not embedded"


def _paint_faults(drawn: Iterable[Iterable[Painted]], made_for: Printer, accent: Accent) -> Iterator[str]:
    return _of_pages(
        (fault for painted in things for fault in _faults_of(painted, made_for, accent)) for things in drawn
    )


def _faults_of(painted: Painted, made_for: Printer, accent: Accent) -> Iterator[str]:
    yield from _ink_faults(painted, made_for)
    yield from _fine_faults(painted, accent)
    yield from _plate_faults(painted, accent)


def _ink_faults(painted: Painted, made_for: Printer) -> Iterator[str]:
    if not painted.printable:
        yield f"{painted.what} in {painted.space}"
    if painted.inks and sum(painted.inks) > float(made_for.ink_limit) + _INK_SLACK:
        yield f"{painted.what} with {sum(painted.inks):.0%} of ink, over {float(made_for.ink_limit):.0%}"
    if painted.image is not None and painted.space == "DeviceCMYK":
        picture = pikepdf.PdfImage(painted.image).as_pil_image()
        if (share := share_over(picture, made_for.ink_limit + _PHOTO_SLACK)) > _STRAY_DOTS:
            yield f"an image with over {float(made_for.ink_limit):.0%} of ink on {share:.1%} of it"
    if painted.what == "text" and painted.inks == _BLACK and not painted.overprints:
        yield "black text that does not overprint"
    if painted.overprints and (painted.what != "text" or painted.inks != _BLACK):
        colour = _percents(painted.inks) if painted.inks else painted.space
        yield f"{painted.what} in {colour} that overprints"


def _fine_faults(painted: Painted, accent: Accent) -> Iterator[str]:
    """Type and rules that would break up into dots, or show where plates are out of register."""
    if painted.what == "text":
        if painted.space not in ("DeviceCMYK", "DeviceGray", "Separation"):
            yield f"text in {painted.space}"
        elif painted.inks not in ((), _BLACK, _PAPER) and not _is_build(painted.inks, accent):
            yield f"text in {_percents(painted.inks)}, neither in black ink alone nor in the second ink"
    thin = painted.what in ("shape", "line") and not painted.picture and 0 < painted.thick <= RULE
    if thin and any(painted.inks[:3]) and not _is_build(painted.inks, accent):
        yield f"a rule of {painted.thick:.2g} pt in {_percents(painted.inks)}, on more plates than one"
    hair = thin and painted.thick <= HAIR
    if hair and painted.inks and not any(painted.inks[:3]) and 0 < painted.inks[3] < 1:
        yield f"a hairline of {painted.thick:.2g} pt in {_percents(painted.inks)}, a tint"
    if painted.what == "text" or hair:
        if painted.plate and 0 < painted.tint < 1:
            yield f"{painted.what} in {painted.tint:.0%} of {painted.plate}, a tint"
        if painted.opacity < 1:
            yield f"{painted.what} that is {painted.opacity:.0%} opaque, a tint"


def _plate_faults(painted: Painted, accent: Accent) -> Iterator[str]:
    if painted.plate and painted.plate not in (accent.spot, _EVERY_PLATE):
        yield f"{painted.what} on a plate of its own, {painted.plate}"
    if painted.plate == _EVERY_PLATE and painted.what != "line":
        yield f"{painted.what} on every plate, which is for marks alone"


def _is_build(inks: tuple[float, ...], accent: Accent) -> bool:
    return accent.fine and not accent.spot and inks == accent.inks


def _percents(inks: tuple[float, ...]) -> str:
    return " ".join(f"{letter} {value:.0%}" for letter, value in zip("CMYK", inks, strict=True))


def _tag_faults(element: Any) -> list[str]:
    faults: list[str] = []
    kind = element.get(Name.S)
    if kind == Name.Figure and not str(element.get(Name.Alt, "")):
        faults.append("a picture without alternative text")
    kids = element.get(Name.K)
    for kid in list(kids) if isinstance(kids, Array) else [kids]:
        if isinstance(kid, Dictionary):
            faults += _tag_faults(kid)
    if kind == Name.TH:
        given = element.get(Name.A)
        attributes = list(given) if isinstance(given, Array) else [given]
        if not any(isinstance(owner, Dictionary) and Name.Scope in owner for owner in attributes):
            faults.append("a heading cell without a scope")
    return faults
