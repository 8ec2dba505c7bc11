"""Pages of a booklet side by side: as a reader sees them open, and as a press prints them on a sheet.

The fold and the cuts are marked outside the bleed, as on a page of a card (`press/pdf.py`), and over each
page stands a bar of the inks; each sheet is PDF/X-4 (ISO 15930-7:2010) like the pages it is made of.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from fractions import Fraction

import pikepdf
from pikepdf import Array, Dictionary, Name

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.paper import POINTS, CardSize, SheetSize
from cardsmith.house.printers import Printer
from cardsmith.render.booklet.plan import openings
from cardsmith.render.booklet.signatures import Spread
from cardsmith.render.press.conversion import into_inks, registration
from cardsmith.render.press.patches import HIGH, WIDE, patches_of
from cardsmith.render.press.pdf import intend
from cardsmith.render.press.recolouring import SPOT
from cardsmith.render.press.slug import draw_slugs
from cardsmith.render.press.version import Version
from cardsmith.render.press.x4 import declare
from cardsmith.render.typesetter import Typesetter

_MARK, _GAP, _SLUG = Fraction(14), Fraction(3), Fraction(14)  # points: a mark, its distance, the line of type
_SHORTEST_MARK = Fraction(3)  # points of it that must print
_CLEAR = Fraction(4)  # points between the outer cut marks and a bar
_DASHES = "[3 2] 0 d"  # of a fold mark

_Box = tuple[Fraction, Fraction, Fraction, Fraction]


@frozen
class Leaves:
    """What is to be known of the leaves of a booklet to lay two pages side by side."""

    size: CardSize  # of a page, cut
    bleed: Fraction
    milled: Fraction = Fraction(0)  # from the fold to a page's inner edge: what is ground off before gluing
    spine: Fraction = Fraction(0)  # between the two pages of a cover; 0 for a fold
    paper: SheetSize | None = None  # that it is printed on; None for a sheet just as large as it needs

    def __post_init__(self) -> None:
        if self.mark < _SHORTEST_MARK:
            raise CardsmithError(
                f"two pages of {self.size.shown} with bleed and marks do not fit {self.sheet.shown}; "
                "take larger paper, or leave --on out"
            )

    @property
    def width(self) -> Fraction:
        """Of two pages and what lies between them."""
        return 2 * (self.size.width + self.milled) + self.spine

    @property
    def across(self) -> Fraction:
        """The width of the sheet as it lies: with room for bleed and marks, or that of the paper."""
        own = self.width + 2 * (self.bleed + _GAP + _MARK)
        return self._paper[0] if self.paper else own

    @property
    def down(self) -> Fraction:
        """Its height; the line of type stands beside the marks of the foot."""
        own = self.size.height + 2 * (self.bleed + _GAP + _MARK)
        return self._paper[1] if self.paper else own

    @property
    def left(self) -> Fraction:
        """From the sheet's edge to the cut, left and right."""
        return (self.across - self.width) / 2

    @property
    def foot(self) -> Fraction:
        """From the sheet's edge to the cut, at the foot and at the head."""
        return (self.down - self.size.height) / 2

    @property
    def mark(self) -> Fraction:
        """How long its marks are: as long as usual, or as the paper leaves room for."""
        least = min(self.left, self.foot) - self.bleed - _GAP - (self.paper.margin if self.paper else 0)
        return min(_MARK, least)

    @property
    def sheet(self) -> SheetSize:
        """What it is printed on, upright as any sheet is told."""
        narrow, wide = sorted((self.across, self.down))
        own = SheetSize(name="spread", shown="a spread", width=narrow, height=wide, margin=Fraction(0))
        return self.paper or own

    @property
    def _paper(self) -> tuple[Fraction, Fraction]:
        """The paper, turned as two pages beside each other lie."""
        assert self.paper is not None
        lying = self.width > self.size.height
        edges = (self.paper.width, self.paper.height)
        return (max(edges), min(edges)) if lying else (min(edges), max(edges))


def opened_as_book(screen: bytes) -> bytes:
    """The same file, which a viewer opens two pages at a time, odd ones right (ISO 32000-1, table 28)."""
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        pdf.Root.PageLayout = Name.TwoPageRight
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def reader_spreads(screen: bytes, title: str) -> bytes:
    """The cut pages of a screen file as a reader sees them, two and two; first and last stand alone."""
    with pikepdf.open(io.BytesIO(screen)) as source, pikepdf.new() as pdf:
        drawn = [pdf.copy_foreign(page.as_form_xobject()) for page in source.pages]
        for opening in openings(len(drawn)):
            shown = [drawn[number - 1] for number in opening if number is not None]
            widths = [float(form.BBox[2]) - float(form.BBox[0]) for form in shown]
            height = float(shown[0].BBox[3]) - float(shown[0].BBox[1])
            page = pdf.add_blank_page(page_size=(sum(widths), height))
            x = 0.0
            for place, (form, width) in enumerate(zip(shown, widths, strict=True)):
                name = page.add_resource(form, Name.XObject, Name(f"/Page{place}"))
                at = f"{x - float(form.BBox[0]):.4f} {-float(form.BBox[1]):.4f}"
                page.contents_add(f"q 1 0 0 1 {at} cm {name} Do Q".encode())
                x += width
        pdf.docinfo = pdf.make_indirect(Dictionary(Title=title))
        pdf.Root.Lang = source.Root.Lang
        pdf.Root.ViewerPreferences = Dictionary(DisplayDocTitle=True)
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def printer_spreads(
    press: bytes,
    sides: Sequence[Spread],
    leaves: Leaves,
    made_for: Printer,
    version: Version,
    typesetter: Typesetter,
) -> bytes:
    """The pages of a press file on the sides of sheets, front and back in turn, to be folded once.

    A page that moves to the fold keeps its bleed outside and loses inside what lies beyond the fold.
    """
    with pikepdf.open(io.BytesIO(press)) as source, pikepdf.new() as pdf:
        pdf.docinfo = pdf.make_indirect(Dictionary(Title=str(source.docinfo.get(Name.Title, ""))))
        for _ in sides:
            _blank(pdf, leaves)
        lines = tuple(_line(side, sides, leaves.spine, version, made_for) for side in sides)
        draw_slugs(pdf, typesetter, lines, float(leaves.width), float(leaves.bleed + _SLUG - 3))
        into_inks(pdf, made_for)  # of the slugs alone: the pages are in inks already
        pages = [_page(pdf, page, leaves) for page in source.pages]
        colour = registration(pdf)
        marks = _marks(leaves)
        given = source.pages[0].Resources.get(Name.ColorSpace, Dictionary()).get(SPOT)
        plate = pdf.copy_foreign(given) if given is not None else None
        bar = _bars(leaves, patches_of(str(SPOT)[1:] if plate is not None else ""))
        for page, side in zip(pdf.pages, sides, strict=True):
            for left, number in ((True, side.left), (False, side.right)):
                _place(page, pages[number - 1], leaves, side.creep, left=left)
            name = page.add_resource(colour, Name.ColorSpace, Name.Registration)
            page.contents_add(f"q {name} CS 1 SCN 0.25 w\n{marks}\nQ".encode())
            if plate is not None:
                page.add_resource(plate, Name.ColorSpace, SPOT)
            page.contents_add(bar.encode())
        intend(pdf, made_for)
        declare(pdf, str(version), version.day)
        # Unscaled; each sheet is turned over its upright edge (ISO 32000-1, table 150).
        turned = Name.DuplexFlipLongEdge if leaves.down > leaves.across else Name.DuplexFlipShortEdge
        pdf.Root.ViewerPreferences = Dictionary(
            PrintScaling=Name("/None"), Duplex=turned if len(sides) > 1 else Name.Simplex
        )
        out = io.BytesIO()
        pdf.save(
            out,
            deterministic_id=True,
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
            force_version="1.6",
        )
    return out.getvalue()


@frozen
class _Page:
    """A page as a drawing, and where its cut begins in it."""

    form: pikepdf.Object
    left: Fraction
    foot: Fraction


def _page(pdf: pikepdf.Pdf, page: pikepdf.Page, leaves: Leaves) -> _Page:
    left, foot, *_ = (Fraction(str(edge)) for edge in page.trimbox)
    form = pdf.copy_foreign(page.as_form_xobject())
    # A drawing made of a page ends at its cut; ours keeps its bleed, and loses its marks and slug.
    right, top = left + leaves.size.width, foot + leaves.size.height
    form.BBox = _array((left - leaves.bleed, foot - leaves.bleed, right + leaves.bleed, top + leaves.bleed))
    return _Page(form=form, left=left, foot=foot)


def _blank(pdf: pikepdf.Pdf, leaves: Leaves) -> None:
    page = pdf.add_blank_page(page_size=(float(leaves.across), float(leaves.down)))
    page.mediabox = _array((Fraction(0), Fraction(0), leaves.across, leaves.down))
    trim = _trim(leaves)
    page.trimbox = _array(trim)
    page.bleedbox = _array(
        (trim[0] - leaves.bleed, trim[1] - leaves.bleed, trim[2] + leaves.bleed, trim[3] + leaves.bleed)
    )


def _trim(leaves: Leaves) -> _Box:
    """What is cut at the outer edges of a spread."""
    left, foot = leaves.left, leaves.foot
    return (left, foot, left + leaves.width, foot + leaves.size.height)


def _place(page: pikepdf.Page, drawn: _Page, leaves: Leaves, creep: Fraction, *, left: bool) -> None:
    """Draw one page on its half, no further than the fold, or than the edge of a spine."""
    trim = _trim(leaves)
    middle = (trim[0] + trim[2]) / 2
    inner = middle + (-1 if left else 1) * (leaves.milled + leaves.spine / 2)
    at = inner - leaves.size.width + creep if left else inner - creep
    ends = inner if leaves.spine else middle
    half = (trim[0] - leaves.bleed, ends) if left else (ends, trim[2] + leaves.bleed)
    foot, high = trim[1] - leaves.bleed, leaves.size.height + 2 * leaves.bleed
    name = page.add_resource(drawn.form, Name.XObject, Name.LeftPage if left else Name.RightPage)
    page.contents_add(
        (
            f"q {_at(half[0])} {_at(foot)} {_at(half[1] - half[0])} {_at(high)} re W n "
            f"1 0 0 1 {_at(at - drawn.left)} {_at(trim[1] - drawn.foot)} cm {name} Do Q"
        ).encode()
    )


def _marks(leaves: Leaves) -> str:
    """Cut marks at the four outer corners; dashes over and under each fold."""
    left, foot, right, top = _trim(leaves)
    near, far = leaves.bleed + _GAP, leaves.bleed + _GAP + leaves.mark
    lines = []
    for x, way in ((left, -1), (right, 1)):
        for y in (foot, top):
            lines.append(f"{_at(x + way * near)} {_at(y)} m {_at(x + way * far)} {_at(y)} l S")
    middle = (left + right) / 2
    folds = [middle - leaves.spine / 2, middle + leaves.spine / 2] if leaves.spine else [middle]
    for x, dashes in [(left, "[] 0 d"), (right, "[] 0 d"), *((fold, _DASHES) for fold in folds)]:
        for y, way in ((foot, -1), (top, 1)):
            lines.append(f"{dashes} {_at(x)} {_at(y + way * near)} m {_at(x)} {_at(y + way * far)} l S")
    return "\n".join(lines)


def _bars(leaves: Leaves, patches: Sequence[str]) -> str:
    """A bar of the inks over each page, since a press sets its ink in zones across the sheet."""
    left, _, right, top = _trim(leaves)
    wide = min(WIDE, (leaves.size.width - 2 * _CLEAR) / len(patches))
    at, high = top + leaves.bleed + _GAP, min(HIGH, leaves.mark)
    drawn = [
        f"{patch} {_at(start + number * wide)} {_at(at)} {_at(wide)} {_at(high)} re f"
        for start in (left + _CLEAR, right - _CLEAR - len(patches) * wide)
        for number, patch in enumerate(patches)
    ]
    return "\n".join(["q", *drawn, "Q"])


def _line(side: Spread, sides: Sequence[Spread], spine: Fraction, version: Version, made_for: Printer) -> str:
    """What a sheet says of itself beside its marks."""
    imprint = f"{version.recipe} {version.short} · {made_for.shown}"
    if len(sides) == 1:
        return f"cover, outside: back, spine {_millimetres(spine)}, front · {imprint}"
    face = "front" if side.front else "back"
    sheets = max(spread.sheet for spread in sides if spread.signature == side.signature)
    of = f"signature {side.signature}, " if any(spread.signature > 1 for spread in sides) else ""
    moved = f" · moved {_millimetres(side.creep)} to the fold" if side.creep else ""
    return (
        f"{of}sheet {side.sheet} of {sheets}, {face}: pages {side.left} and {side.right}{moved} · {imprint}"
    )


def _millimetres(points: Fraction) -> str:
    return f"{float(points / POINTS['mm']):.2f} mm"


def _at(value: Fraction) -> str:
    return f"{float(value):.4f}"


def _array(edges: Sequence[Fraction]) -> Array:
    return Array([round(float(edge), 4) for edge in edges])
