"""Sheets: press files of several cards imposed on sheets of stock, for a guillotine; PDF/X-4 again.

What a sheet adds is drawn in the margin: cut marks and targets on every plate, a bar of the inks, and a slug
in black.
"""

from __future__ import annotations

import hashlib
import io
import uuid
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from fractions import Fraction

import pikepdf
from markupsafe import escape
from pikepdf import Array, Dictionary, Name

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize, SheetSize
from cardsmith.house.printers import Printer
from cardsmith.render.look import look
from cardsmith.render.press.conversion import into_inks, registration
from cardsmith.render.press.pdf import intend
from cardsmith.render.press.recolouring import SPOT
from cardsmith.render.press.version import Version, read_version
from cardsmith.render.sheets.imposition import (
    FLIPS,
    MARK_GAP,
    SLUG_LINE,
    Grid,
    PrintRun,
    SheetPlaces,
    SheetPoint,
    arranged,
    backs_upside_down,
    best_grid,
)
from cardsmith.render.sheets.marks import CLEAR, ENDS, bars, marks_of, written
from cardsmith.render.typesetter import Typesetter

_SLUG_TYPE = 6  # points
_WRITER = "cardsmith"


@frozen
class Leaf:
    """One piece of card stock: a card, or one of its continuations."""

    version: Version
    number: int  # of the leaf within its recipe, from 1
    of: int
    front: int  # page of the press file, from 0
    back: int | None  # None where it is printed on one side
    file: int  # which of the press files

    def __str__(self) -> str:
        part = f" card {self.number} of {self.of}" if self.of > 1 else ""
        return f"{self.version.recipe}{part} {self.version.short}"


@frozen
class Order:
    """How the sheets are to be made."""

    sheet: SheetSize
    flip: str = "long"  # over which edge the duplex printer turns the sheet: long, short
    copies: int = 1
    order: str = "reading"  # reading, stack, repeat: see `arranged`


@frozen
class Imposed:
    """Imposed sheets, and how to print them."""

    data: bytes
    grid: Grid
    run: PrintRun
    duplex: bool


def leaves_of(file: int, version: Version, pages: int, sides: int) -> tuple[Leaf, ...]:
    """The pages of a press file as they are printed on one or two sides; the last back may be blank."""
    fronts = range(0, pages, sides)
    return tuple(
        Leaf(
            version=version,
            number=number,
            of=len(fronts),
            front=front,
            back=front + 1 if sides == 2 and front + 1 < pages else None,
            file=file,
        )
        for number, front in enumerate(fronts, 1)
    )


def impose(
    presses: Sequence[bytes],
    size: CardSize,
    made_for: Printer,
    sides: int,
    order: Order,
    typesetter: Typesetter,
) -> Imposed:
    """The press files on sheets; same files and order, same bytes.

    Raises:
        CardsmithError: a card does not fit the sheet, or a press file is of another size or printer.
    """
    grid = best_grid(order.sheet, size, made_for.bleed)
    with ExitStack() as opened:
        files = [opened.enter_context(pikepdf.open(io.BytesIO(data))) for data in presses]
        versions = [_version_of(pdf, size, made_for) for pdf in files]
        day = max(_day_of(pdf) for pdf in files)
        leaves = [
            leaf
            for number, (pdf, version) in enumerate(zip(files, versions, strict=True))
            for leaf in leaves_of(number, version, len(pdf.pages), sides)
        ]
        run = arranged(range(len(leaves)), grid.count, copies=order.copies, order=order.order)
        # A one-sided sheet among two-sided ones would put a duplex printer out of step.
        duplex = any(leaf.back is not None for leaf in leaves)
        pdf = opened.enter_context(pikepdf.new())
        slugs = opened.enter_context(
            pikepdf.open(io.BytesIO(_slugs(typesetter, grid, leaves, run, order, made_for, duplex=duplex)))
        )
        into_inks(slugs, made_for)
        intend(pdf, made_for)
        stamps = [pdf.copy_foreign(page.as_form_xobject()) for page in slugs.pages]
        press = _Drawn(pdf, files, made_for.bleed)
        marks = pdf.make_stream(marks_of(grid).encode())
        colours = Dictionary(Registration=registration(pdf))
        if spot := _spot_of(files):
            colours[SPOT] = pdf.copy_foreign(spot)
        bar = bars(grid, str(SPOT)[1:] if spot else "")
        turned = backs_upside_down(grid, order.flip)
        for number, sheet in enumerate(run.sheets):
            for side in range(1 + duplex):
                page = _blank(pdf, grid, marks, colours)
                drawing = [bar]
                for place, leaf in _standing(sheet, leaves):
                    shown = leaf.back if side else leaf.front
                    if shown is not None:
                        called = Name(f"/Card{leaf.file + 1}Page{shown + 1}")  # a name of chance otherwise
                        name = page.add_resource(press.form(leaf.file, shown), Name.XObject, called)
                        at = grid.back(place) if side else grid.front(place)
                        drawing.append(f"q {_moved(at, press.origin(leaf.file, shown))} cm {name} Do Q")
                stamp = stamps[number * (1 + duplex) + side]
                name = page.add_resource(stamp, Name.XObject, Name.Slug)
                drawing.append(f"q {_slug_place(grid)} cm {name} Do Q")
                half_turn = f"-1 0 0 -1 {written(grid.width)} {written(grid.height)} cm\n"
                # Marks and cards turn together; the grid stands in the middle, so marks stay where they are.
                turn = half_turn if side and turned else ""
                page.contents_add(f"q {turn}{chr(10).join(drawing)}\nQ".encode())
        _finish(pdf, versions, order, day, duplex=duplex)
        out = io.BytesIO()
        pdf.save(
            out,
            deterministic_id=True,
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
            force_version="1.6",
        )
    return Imposed(data=out.getvalue(), grid=grid, run=run, duplex=duplex)


def _version_of(pdf: pikepdf.Pdf, size: CardSize, made_for: Printer) -> Version:
    with pdf.open_metadata() as metadata:
        version = read_version(str(metadata.get("dc:identifier", "")))
    intent = pdf.Root.get(Name.OutputIntents, [Dictionary()])[0]
    if str(intent.get(Name.OutputConditionIdentifier)) != made_for.condition:
        raise CardsmithError(f"the press file of {version.recipe} is for another printer; build it again")
    for page in pdf.pages:
        left, foot, right, top = (Fraction(str(edge)) for edge in page.trimbox)
        off = max(abs(right - left - size.width), abs(top - foot - size.height))
        past = abs(left - Fraction(str(page.bleedbox[0])) - made_for.bleed)
        if max(off, past) > Fraction(1, 100):
            raise CardsmithError(
                f"the press file of {version.recipe} is not {size.shown} with the bleed of "
                f"{made_for.name}; build it again"
            )
    return version


def _day_of(pdf: pikepdf.Pdf) -> str:
    """The date of a press file; sheets have that of their newest."""
    with pdf.open_metadata() as metadata:
        return str(metadata["xmp:CreateDate"]).partition("T")[0]


def _spot_of(files: Sequence[pikepdf.Pdf]) -> pikepdf.Object | None:
    """The colour space of the second ink, where it is a plate of its own.

    Raises:
        CardsmithError: the press files have different ones, so the house changed its ink between them.
    """
    spaces = [pdf.pages[0].Resources.get(Name.ColorSpace, Dictionary()).get(SPOT) for pdf in files]
    kinds = {(str(space[1]), *map(float, space[3].C1)) if space is not None else () for space in spaces}
    if len(kinds) > 1:
        raise CardsmithError("the press files of these cards print different second inks; build them again")
    return spaces[0]


class _Drawn:
    """Pages of press files as drawings to place, each copied once however often it stands."""

    def __init__(self, pdf: pikepdf.Pdf, files: Sequence[pikepdf.Pdf], bleed: Fraction) -> None:
        self._pdf, self._files, self._bleed = pdf, files, bleed
        self._forms: dict[tuple[int, int], pikepdf.Object] = {}

    def form(self, file: int, page: int) -> pikepdf.Object:
        if (file, page) not in self._forms:
            form = self._pdf.copy_foreign(self._files[file].pages[page].as_form_xobject())
            left, foot, right, top = (Fraction(str(edge)) for edge in self._files[file].pages[page].trimbox)
            # A drawing made of a page ends at its cut; ours keeps its bleed, and loses its marks and slug.
            form.BBox = Array(
                [
                    round(float(edge), 4)
                    for edge in (
                        left - self._bleed,
                        foot - self._bleed,
                        right + self._bleed,
                        top + self._bleed,
                    )
                ]
            )
            self._forms[file, page] = form
        return self._forms[file, page]

    def origin(self, file: int, page: int) -> SheetPoint:
        left, foot, *_ = (Fraction(str(edge)) for edge in self._files[file].pages[page].trimbox)
        return left, foot


def _standing(sheet: SheetPlaces, leaves: Sequence[Leaf]) -> Iterator[tuple[int, Leaf]]:
    for place, index in enumerate(sheet):
        if index is not None:
            yield place, leaves[index]


def _moved(to: SheetPoint, origin: SheetPoint) -> str:
    return f"1 0 0 1 {written(to[0] - origin[0])} {written(to[1] - origin[1])}"


def _blank(pdf: pikepdf.Pdf, grid: Grid, marks: pikepdf.Stream, colours: Dictionary) -> pikepdf.Page:
    page = pdf.add_blank_page(page_size=(float(grid.width), float(grid.height)))
    box = Array([0, 0, round(float(grid.width), 4), round(float(grid.height), 4)])
    page.mediabox = page.bleedbox = page.trimbox = box
    page.Resources = Dictionary(ColorSpace=colours)
    page.Contents = marks
    return page


def _slug_size(grid: Grid) -> tuple[Fraction, int]:
    """The slug's width and its lines."""
    length = grid.card_width if grid.slug_at_foot else grid.card_height
    return length - 2 * (CLEAR + ENDS), int(grid.slug_room / SLUG_LINE)


def _slug_place(grid: Grid) -> str:
    """The matrix that lays the slug between the targets of the first column or the last row."""
    _, lines = _slug_size(grid)
    along = CLEAR + ENDS
    if grid.slug_at_foot:
        below = grid.foot - grid.bleed - MARK_GAP - lines * SLUG_LINE
        return f"1 0 0 1 {written(grid.left + along)} {written(below)}"
    return f"0 1 -1 0 {written(grid.left - grid.bleed - MARK_GAP)} {written(grid.foot + along)}"


def _slugs(
    typesetter: Typesetter,
    grid: Grid,
    leaves: Sequence[Leaf],
    run: PrintRun,
    order: Order,
    made_for: Printer,
    *,
    duplex: bool,
) -> bytes:
    """One page for each side of each sheet: what stands on it, which sheet and which side it is."""
    width, lines = _slug_size(grid)
    sides = ("front", "back") if duplex else ("front",)
    turned = f", turned over its {order.flip} edge" if duplex else ""
    times = f" · print {run.times} times" if run.times > 1 else ""
    for brief, inks in (
        (False, f"{made_for.shown}, {made_for.condition}"),
        (True, f"{made_for.shown}, {made_for.condition}"),
        (True, made_for.condition),
    ):
        texts = []
        for number, sheet in enumerate(run.sheets, 1):
            names = dict.fromkeys(str(leaf) for _, leaf in _standing(sheet, leaves))
            held = f"{len(names)} different cards" if brief and len(names) > 1 else " · ".join(names)
            texts += [
                f"Sheet {number} of {len(run.sheets)}, {side}{times} · {order.sheet.shown}{turned} · "
                f"{inks} · {held}"
                for side in sides
            ]
        html = _slug_html(texts, width, lines, look(typesetter.templates).text)
        document = typesetter.lay_out(html, {}, styled=False)
        if len(document.pages) == len(texts):
            break
    else:
        raise CardsmithError(
            "the names of these cards are too long for the sheet's slug; print fewer at once"
        )
    return typesetter.write(document, "pdf/x-4")


def _slug_html(texts: Sequence[str], width: Fraction, lines: int, face: str) -> str:
    paragraphs = "".join(f"<p>{escape(text)}</p>" for text in texts)
    return (
        '<!DOCTYPE html><html lang="en"><head><title>slug</title><style>'
        f"@page {{ size: {float(width):.8g}pt {float(lines * SLUG_LINE):.8g}pt; margin: 0 }} "
        f"body {{ margin: 0; font: {_SLUG_TYPE}pt/{float(SLUG_LINE):g}pt '{face}' }} "
        "p { margin: 0; break-after: page; overflow-wrap: anywhere; orphans: 1; widows: 1 } "
        f"p:last-child {{ break-after: auto }}</style></head><body>{paragraphs}</body></html>"
    )


def _finish(pdf: pikepdf.Pdf, versions: Sequence[Version], order: Order, day: str, *, duplex: bool) -> None:
    """What PDF/X-4 asks of a file, and what a print dialogue takes from it."""
    said = "\n".join(str(version) for version in versions) + repr(order)
    names = ", ".join(dict.fromkeys(version.recipe for version in versions))
    stamp = f"{day}T00:00:00+00:00"
    pdf.docinfo = pdf.make_indirect(
        Dictionary(
            Title=f"Cards on {order.sheet.shown}: {names}",
            Producer=_WRITER,
            Trapped=Name("/False"),
            CreationDate=f"D:{day.replace('-', '')}000000+00'00'",
            ModDate=f"D:{day.replace('-', '')}000000+00'00'",
        )
    )
    with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
        metadata.register_xml_namespace("http://www.npes.org/pdfx/ns/id/", "pdfxid")
        metadata["pdfxid:GTS_PDFXVersion"] = "PDF/X-4"
        metadata["pdf:Trapped"] = "False"
        metadata["pdf:Producer"] = _WRITER
        metadata["dc:title"] = f"Cards on {order.sheet.shown}: {names}"
        for key in ("xmp:CreateDate", "xmp:ModifyDate", "xmp:MetadataDate"):
            metadata[key] = stamp
        metadata["xmpMM:DocumentID"] = f"xmp.did:{uuid.UUID(hashlib.sha256(said.encode()).hexdigest()[:32])}"
        metadata["xmpMM:VersionID"] = "1"
        metadata["xmpMM:RenditionClass"] = "default"
    # Unscaled, else no card is 5 × 7 in; turned as the sheets were laid out (ISO 32000-1, table 150).
    pdf.Root.ViewerPreferences = Dictionary(PrintScaling=Name("/None"), DisplayDocTitle=True)
    edge = {"long": Name.DuplexFlipLongEdge, "short": Name.DuplexFlipShortEdge}
    assert set(edge) == set(FLIPS)
    pdf.Root.ViewerPreferences.Duplex = edge[order.flip] if duplex else Name.Simplex
