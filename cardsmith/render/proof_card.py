"""The card inside its proof: its own pages at size, with the cut drawn and what changed marked.

The pages are those of the screen file, not set again. Where a changed word stands is read from a second
layout, in which it is wrapped in an element that takes no room; it is used only if every line of that layout
stands where it does in the first.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import pikepdf
from pikepdf import Array, Name
from PIL import Image

from cardsmith.house import CardStyle
from cardsmith.render import audit
from cardsmith.render.fit import Layout
from cardsmith.render.pdf import print_html
from cardsmith.render.press import cut_marks
from cardsmith.render.proof_words import GAP
from cardsmith.render.ruler import ruler
from cardsmith.render.sizes import CardSize, card_size
from cardsmith.render.typesetter import LayoutError, Typesetter
from cardsmith.render.view import CardView

MARGIN = Fraction(20)  # points around the cut, for its marks and the change bars
_PIXEL = 0.75  # points
_BAR, _BAR_AWAY = 2.0, 7.0  # points: how thick a change bar is, and how far from the cut
_NEAR = 0.02  # CSS px: as near as two layouts of the same line come
_TAGS = {"BDC", "BMC", "EMC", "DP", "MP"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A marked word on a page; CSS px from the top left of the cut."""

    page: int  # from 1
    left: float
    right: float
    top: float
    baseline: float
    gap: bool  # words went out beside it; at its end where ``at_end``
    at_end: bool


def changed_spots(
    layout: Layout,
    marked: CardView,
    typesetter: Typesetter,
    style: CardStyle,
    photos: Mapping[str, bytes],
) -> tuple[Spot, ...]:
    """Where the marked words of a card stand in its layout.

    Raises:
        LayoutError: the marks moved a line, so that nobody can say where the words stand.
    """
    size = card_size(style.size)
    rulers = {
        f"ruler-{unit}.svg": ruler(typesetter.templates, size.text_width, unit) for unit in ("in", "cm")
    }
    html = print_html(marked, typesetter, style, layout.setting, photos)
    document = typesetter.lay_out(html, {**photos, **rulers})
    if not _same(_rows(layout.document), _rows(document)):
        raise LayoutError(f"{marked.plain_title}: marking its changes moves the lines of the card")
    return tuple(
        spot for number, page in enumerate(document.pages, 1) for spot in _spots(page._page_box, number)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """A line of text whole, however many runs it is set in."""

    page: int
    letters: str
    baseline: float
    left: float
    right: float


def _rows(document: Any) -> list[_Row]:
    rows: dict[tuple[int, int], list[audit.Line]] = {}
    for line in audit.lines(document):
        rows.setdefault((line.page, round(line.baseline * 10)), []).append(line)
    told = []
    for (page, _), runs in sorted(rows.items()):
        runs.sort(key=lambda run: run.left)
        letters = "".join("".join(run.text.split()) for run in runs)
        right = max(run.right for run in runs)
        told.append(
            _Row(page=page, letters=letters, baseline=runs[0].baseline, left=runs[0].left, right=right)
        )
    return told


def _same(one: list[_Row], other: list[_Row]) -> bool:
    return len(one) == len(other) and all(
        (first.page, first.letters) == (second.page, second.letters)
        and abs(first.baseline - second.baseline) <= _NEAR
        and abs(first.left - second.left) <= _NEAR
        and abs(first.right - second.right) <= 1  # a space at the end of a line may count with either run
        for first, second in zip(one, other, strict=True)
    )


def _spots(box: Any, page: int) -> Iterator[Spot]:
    box = getattr(box, "_box", box)  # placeholders of positioned boxes
    text = getattr(box, "text", None)
    if box.element_tag == "ins" and isinstance(text, str) and text.strip():
        words = (box.element.get("class") or "").split()
        baseline = float(box.position_y + box.baseline)
        yield Spot(
            page=page,
            left=float(box.position_x),
            right=float(box.position_x + box.width),
            top=baseline - 0.7 * float(box.style["font_size"]),
            baseline=baseline,
            gap=GAP in words,
            at_end="end" in words,
        )
    for child in getattr(box, "children", ()):
        yield from _spots(child, page)


# --- on paper -----------------------------------------------------------------------------------------


def placeholder(page: int) -> bytes:
    """A picture that stands in for a page of the card; its width in dots says which."""
    out = io.BytesIO()
    Image.new("L", (page, 1), 255).save(out, "PNG")
    return out.getvalue()


def box_of(size: CardSize) -> tuple[Fraction, Fraction]:
    """The room a page takes on the proof, in points: the card and what is drawn around it."""
    return size.width + 2 * MARGIN, size.height + 2 * MARGIN


def with_card(proof: bytes, card: bytes, size: CardSize, spots: Sequence[Spot]) -> bytes:
    """The proof with each placeholder turned into its page of the card, at 1:1.

    A placeholder is a picture one dot high, drawn in a box as large as `box_of` says.

    Raises:
        ValueError: the proof has no place for some page.
    """
    with pikepdf.open(io.BytesIO(proof)) as pdf, pikepdf.open(io.BytesIO(card)) as source:
        forms = {}
        for number, page in enumerate(source.pages, 1):
            _untag(source, page)
            forms[number] = _form(pdf, page, size, [one for one in spots if one.page == number])
        placed = set()
        for sheet in pdf.pages:
            resources: Any = sheet.get(Name.Resources, pikepdf.Dictionary())
            pictures: Any = resources.get(Name.XObject, pikepdf.Dictionary())
            for name in list(pictures.keys()):
                picture = pictures[name]
                if picture.get(Name.Subtype) == Name.Image and int(picture.Height) == 1:
                    number = int(picture.Width)
                    pictures[name] = forms[number]
                    placed.add(number)
        if placed != set(forms):
            raise ValueError(f"pages {sorted(set(forms) - placed)} of the card have no place on the proof")
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def _form(pdf: pikepdf.Pdf, page: pikepdf.Page, size: CardSize, spots: Sequence[Spot]) -> Any:
    """A page with its marks as a drawing that fills the unit square, as a picture does."""
    left, foot = float(page.mediabox[0]), float(page.mediabox[1])
    width, height, margin = float(size.width), float(size.height), float(MARGIN)
    drawing = "\n".join(
        [
            f"q {left:.4f} {foot:.4f} {width:.4f} {height:.4f} re W n /Card Do Q",
            f"q 1 0 0 1 {left:.4f} {foot:.4f} cm 0 G 0 g",
            f"q 0.3 w [1.5 1.5] 0 d 0.45 G 0 0 {width:.4f} {height:.4f} re S Q",
            f"0.3 w {cut_marks((0.0, 0.0, width, height), 0.0)}",
            *_bars(spots, width, height),
            *(_mark(one, height) for one in spots),
            "Q",
        ]
    )
    form = pdf.make_stream(drawing.encode())
    form.Type, form.Subtype = Name.XObject, Name.Form
    box = [left - margin, foot - margin, left + width + margin, foot + height + margin]
    wide, high = width + 2 * margin, height + 2 * margin
    form.BBox = Array([round(edge, 4) for edge in box])
    form.Matrix = Array([1 / wide, 0, 0, 1 / high, -box[0] / wide, -box[1] / high])
    form.Resources = pikepdf.Dictionary(
        XObject=pikepdf.Dictionary(Card=pdf.copy_foreign(page.as_form_xobject()))
    )
    return pdf.make_indirect(form)


def _untag(source: pikepdf.Pdf, page: pikepdf.Page) -> None:
    """Take away the tags of the page's content: on the proof it is one figure (ISO 14289-1:2014, 7.1)."""
    kept = [one for one in pikepdf.parse_content_stream(page) if str(one.operator) not in _TAGS]
    page.obj.Contents = source.make_stream(pikepdf.unparse_content_stream(kept))


def _bars(spots: Sequence[Spot], width: float, height: float) -> Iterator[str]:
    """A bar beside every line with a mark, on the side it stands nearer to; lines that touch share one."""
    middle = width / _PIXEL / 2
    for right in (False, True):
        spans = sorted((one.top - 1, one.baseline + 3) for one in spots if (one.left > middle) is right)
        joined: list[tuple[float, float]] = []
        for top, foot in spans:
            if joined and top <= joined[-1][1] + 4:
                joined[-1] = (joined[-1][0], max(joined[-1][1], foot))
            else:
                joined.append((top, foot))
        x = width + _BAR_AWAY - _BAR if right else -_BAR_AWAY
        for top, foot in joined:
            y, high = height - foot * _PIXEL, (foot - top) * _PIXEL
            yield f"{x:.4f} {y:.4f} {_BAR} {high:.4f} re f"


def _mark(spot: Spot, height: float) -> str:
    """A line under a new word; a wedge under the line where words went out."""
    y = height - spot.baseline * _PIXEL - 1.6
    left, right = spot.left * _PIXEL, spot.right * _PIXEL
    if not spot.gap:
        return f"{left:.4f} {y - 0.4:.4f} {right - left:.4f} 0.8 re f"
    x = right + 1 if spot.at_end else left - 1
    return f"{x:.4f} {y + 1:.4f} m {x - 2:.4f} {y - 2.5:.4f} l {x + 2:.4f} {y - 2.5:.4f} l f"
