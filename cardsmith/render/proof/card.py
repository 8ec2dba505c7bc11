"""The card inside its proof: its own pages at size, with the cut drawn and what changed marked.

The pages are those of the screen file, not set again. Where a changed word stands is found by counting
letters: those of the same page with its changed words wrapped are those of the layout, in order.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from html.parser import HTMLParser
from typing import Any

import pikepdf
from pikepdf import Array, Name
from PIL import Image

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.house.settings import CardStyle
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import print_html
from cardsmith.render.card.view import CardView
from cardsmith.render.press.pdf import cut_marks
from cardsmith.render.proof.card_fields import ENTRY
from cardsmith.render.proof.marks import MARGIN, Mark, Spot, drawn
from cardsmith.render.typesetter import LayoutError, Typesetter

HYPHEN = "\u2010"  # set where a word is broken; no typeset text holds it
_TAGS = {"BDC", "BMC", "EMC", "DP", "MP"}


@frozen
class _Marked:
    """A marked word: which letters of the card it is, counted without spaces from the first."""

    start: int
    end: int
    shown: tuple[tuple[Mark, int], ...]  # each with its entry in the list of changes


def changed_spots(
    layout: Layout, marked: CardView, typesetter: Typesetter, style: CardStyle, photos: Mapping[str, bytes]
) -> tuple[Spot, ...]:
    """Where the marked words of a card stand in its layout, which was made without the marks.

    Raises:
        LayoutError: the letters of template and layout are in different orders, so the words can't be found.
    """
    body = _BodyLetters()
    body.feed(print_html(marked, typesetter, style, layout.setting))
    body.close()
    runs = [run for run in _runs(layout.document) if run.letters]
    if "".join(run.letters for run in runs) != "".join(body.letters):
        raise LayoutError(f"{marked.plain_title}: its words can't be found again on the card")
    spots: list[Spot] = []
    reached = 0
    for run in runs:
        end = reached + len(run.letters)
        for word in body.marked:
            start, stop = max(word.start, reached), min(word.end, end)
            if start < stop:
                for mark, entry in word.shown:
                    # What stood before or after is shown once, even where a word is broken over two lines.
                    inside = {Mark.BEFORE: start == word.start, Mark.AFTER: stop == word.end}
                    if inside.get(mark, True):
                        spots.append(_spot(run, start - reached, stop - reached, mark, entry))
        reached = end
    return tuple(spots)


class _BodyLetters(HTMLParser):
    """The letters of a page's body in order, without spaces, and which of them stand inside marks."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.letters: list[str] = []
        self.marked: list[_Marked] = []
        self._inside = False
        self._opened: tuple[int, tuple[tuple[Mark, int], ...]] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._inside = self._inside or tag == "body"
        if tag == "ins":
            self._opened = (len(self.letters), _shown(dict(attrs).get("class") or ""))

    def handle_endtag(self, tag: str) -> None:
        if tag == "ins" and self._opened:
            start, shown = self._opened
            self.marked.append(_Marked(start=start, end=len(self.letters), shown=shown))
            self._opened = None

    def handle_data(self, data: str) -> None:
        if self._inside:
            self.letters += "".join(data.split())


def _shown(classes: str) -> tuple[tuple[Mark, int], ...]:
    """The marks of a word by its classes: ``changed entry-3``."""
    shown = []
    for name_and_entry in classes.split():
        name, _, entry = name_and_entry.rpartition(ENTRY)
        shown.append((Mark(name), int(entry)))
    return tuple(shown)


@frozen
class _Run:
    """A run of text on a page, as the typesetter holds it."""

    page: int
    box: Any
    letters: str


def _runs(document: Any) -> Iterator[_Run]:
    """The card's own text in the order it is written; generated text and repeated table heads left out."""
    heads: set[int] = set()
    for number, page in enumerate(document.pages, 1):
        yield from _runs_below(page._page_box, number, heads)


def _runs_below(box: Any, page: int, heads: set[int]) -> Iterator[_Run]:
    box = getattr(box, "_box", box)  # placeholders of positioned boxes
    if "::" in str(box.element_tag) or type(box).__name__ == "MarginBox":
        return
    if box.element_tag == "thead" and box.element is not None:
        if id(box.element) in heads:
            return
        heads.add(id(box.element))
    text = getattr(box, "text", None)
    if isinstance(text, str):
        yield _Run(page=page, box=box, letters="".join(text.removesuffix(HYPHEN).split()))
    for child in getattr(box, "children", ()):
        yield from _runs_below(child, page, heads)


def _spot(run: _Run, start: int, end: int, mark: Mark, entry: int) -> Spot:
    """Letters ``start`` to ``end`` of a run, measured with the run's own type."""
    places = [place for place, letter in enumerate(run.box.text) if not letter.isspace()]
    first, last = places[start], places[end - 1] + 1
    right = _width(run.box, run.box.text[:last])
    baseline = float(run.box.position_y + run.box.baseline)
    left = float(run.box.position_x)
    return Spot(
        page=run.page,
        left=left + right - _width(run.box, run.box.text[first:last]),
        right=left + right,
        top=baseline - 0.7 * float(run.box.style["font_size"]),
        baseline=baseline,
        mark=mark,
        entry=entry,
    )


def _width(box: Any, text: str) -> float:
    """How wide a text is in the type of a box, in CSS px."""
    from weasyprint.text.line_break import split_first_line  # noqa: PLC0415 - as in `typesetter`

    return float(split_first_line(text, box.style, None, None, box.justification_spacing)[3])


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
            forms[number] = _form(pdf, page, size, [spot for spot in spots if spot.page == number])
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
            drawn(spots, size),
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
    kept = [
        operation for operation in pikepdf.parse_content_stream(page) if str(operation.operator) not in _TAGS
    ]
    page.obj.Contents = source.make_stream(pikepdf.unparse_content_stream(kept))
