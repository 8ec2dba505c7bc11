"""The press file: the laid-out card as PDF/X-4 in inks, with bleed, marks, slug and output intent.

Source for what the file must hold: ISO 15930-7:2010 (PDF/X-4); boxes and marks as printers ask for them,
common practice, no source.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

import pikepdf
from pikepdf import Array, Dictionary, Name

from cardsmith.finding import CardsmithError
from cardsmith.house.paper import CardSize
from cardsmith.house.printers import Printer
from cardsmith.render.press.accent import NO_ACCENT, Accent
from cardsmith.render.press.conversion import into_inks, registration
from cardsmith.render.press.slug import draw_slugs
from cardsmith.render.press.version import Version
from cardsmith.render.press.x4 import declare, pages_alone
from cardsmith.render.typesetter import Typesetter

_MARK = Fraction(14)  # points, length of a cut mark
_GAP = Fraction(3)  # points between the bleed and a mark
_HAIR = Fraction(1, 100)  # points
_SLUG = Fraction(14)  # points below the bleed


def press_pdf(
    tagged: bytes,
    typesetter: Typesetter,
    size: CardSize,
    made_for: Printer,
    version: Version,
    accent: Accent = NO_ACCENT,
    separations: Mapping[str, bytes] = MappingProxyType({}),
) -> bytes:
    """The card for a press, from its tagged file with the bleed around it (`Typesetter.write`).

    ``separations`` are pictures in its own inks (`into_inks`). Same card, printer and version, same bytes.
    """
    with pages_alone(tagged) as pdf:
        count = len(pdf.pages)
        lines = tuple(
            f"{version} · {made_for.shown}, {made_for.condition} · page {number} of {count}"
            for number in range(1, count + 1)
        )
        for page in pdf.pages:
            _frame(page, size, made_for)
        # Drawn over the page before conversion, so that its colours become inks with the card's.
        draw_slugs(pdf, typesetter, lines, float(size.width), float(made_for.bleed + _SLUG - 3))
        into_inks(pdf, made_for, accent, separations)
        if made_for.marks:
            for page in pdf.pages:
                _draw_marks(pdf, page, made_for)
        intend(pdf, made_for)
        declare(pdf, str(version), version.day)
        out = io.BytesIO()
        pdf.save(
            out,
            deterministic_id=True,
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
            force_version="1.6",
        )
    return out.getvalue()


def _frame(page: pikepdf.Page, size: CardSize, made_for: Printer) -> None:
    """The cut, the bleed and the sheet of one page; nothing else is boxed."""
    left, foot = Fraction(str(page.trimbox[0])), Fraction(str(page.trimbox[1]))
    trim = (left, foot, left + size.width, foot + size.height)
    if made_for.bleed > (drawn := left - Fraction(str(page.mediabox[0]))) + _HAIR:
        raise CardsmithError(
            f"{made_for.name}: the card is drawn {float(drawn):g} pt past the cut, no further"
        )
    outside = made_for.bleed + (_GAP + _MARK if made_for.marks else 0)
    sheet = _grown(trim, outside)
    page.trimbox = _box(trim)
    page.bleedbox = _box(_grown(trim, made_for.bleed))
    page.mediabox = _box((sheet[0], min(sheet[1], foot - made_for.bleed - _SLUG), sheet[2], sheet[3]))
    clip = " ".join(f"{float(value):.4f}" for value in (left - made_for.bleed, foot - made_for.bleed))
    wide, high = size.width + 2 * made_for.bleed, size.height + 2 * made_for.bleed
    # Anything drawn past this printer's bleed would run into the marks.
    page.contents_add(f"q {clip} {float(wide):.4f} {float(high):.4f} re W n".encode(), prepend=True)
    page.contents_add(b"Q")


def _grown(box: tuple[Fraction, ...], by: Fraction) -> tuple[Fraction, ...]:
    return (box[0] - by, box[1] - by, box[2] + by, box[3] + by)


def _box(edges: tuple[Fraction, ...]) -> Array:
    return Array([round(float(edge), 4) for edge in edges])


def cut_marks(trim: tuple[float, float, float, float], bleed: float, long: float = float(_MARK)) -> str:
    """Drawing operators for the corners of a cut, clear of the bleed; the colour is set by the caller."""
    left, foot, right, top = trim
    near, far = bleed + float(_GAP), bleed + float(_GAP) + long
    ends = [(left, -1, foot, -1), (right, 1, foot, -1), (left, -1, top, 1), (right, 1, top, 1)]
    lines = []
    for x, to_side, y, to_end in ends:
        lines.append(f"{x + to_side * near:.4f} {y:.4f} m {x + to_side * far:.4f} {y:.4f} l S")
        lines.append(f"{x:.4f} {y + to_end * near:.4f} m {x:.4f} {y + to_end * far:.4f} l S")
    return "\n".join(lines)


def _draw_marks(pdf: pikepdf.Pdf, page: pikepdf.Page, made_for: Printer) -> None:
    name = page.add_resource(registration(pdf), Name.ColorSpace, Name.Registration)
    left, foot, right, top = (float(edge) for edge in page.trimbox)
    marks = cut_marks((left, foot, right, top), float(made_for.bleed))
    page.contents_add(f"q {name} CS 1 SCN 0.25 w\n{marks}\nQ".encode())


def intend(pdf: pikepdf.Pdf, made_for: Printer) -> None:
    """Declare the printing condition the colours are meant for, with its profile (ISO 32000-1, 14.11.5)."""
    profile = pdf.make_stream(made_for.profile, N=4, Alternate=Name.DeviceCMYK)
    pdf.Root.OutputIntents = Array(
        [
            Dictionary(
                Type=Name.OutputIntent,
                S=Name.GTS_PDFX,
                OutputConditionIdentifier=made_for.condition,
                RegistryName=made_for.registry,
                Info=made_for.condition_name,
                DestOutputProfile=profile,
            )
        ]
    )
