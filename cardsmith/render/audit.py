"""Counting the words in and out: a layout engine can drop text silently, a card must not."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser
from typing import Any

from markupsafe import Markup

from cardsmith.frozen import frozen

_SAFE = 12.0  # CSS px, 1/8 in: anything nearer the edge may be cut off (common practice, no source)
_SLACK = 1.5  # CSS px: letters may lean over the edge of the text area


@frozen
class TextRun:
    """A run of text on a page; CSS px from the top left of the trimmed page."""

    page: int
    text: str
    left: float
    right: float
    top: float  # of the letters, about the height of a capital above the baseline
    baseline: float
    marker: bool  # the number before a step
    furniture: bool  # a page's head or foot, a step's number: generated, not the card's own words
    family: str  # the first family of type that it asks for


def lines(document: Any) -> tuple[TextRun, ...]:
    """Every run of text of a laid-out document."""
    heads: set[int] = set()
    return tuple(
        line
        for number, page in enumerate(document.pages, 1)
        for line in _walk(page._page_box, number, heads, furniture=False)
    )


def _walk(box: Any, page: int, heads: set[int], *, furniture: bool) -> Iterator[TextRun]:
    """Text below ``box``; ``heads`` are the table heads met so far, which repeat on every page of a table."""
    box = getattr(box, "_box", box)  # placeholders of positioned boxes
    generated = furniture or "::" in str(box.element_tag) or type(box).__name__ == "MarginBox"
    if box.element_tag == "thead" and box.element is not None:
        generated = generated or id(box.element) in heads
        heads.add(id(box.element))
    text = getattr(box, "text", None)
    if isinstance(text, str) and text.strip():
        baseline = float(box.position_y + box.baseline)
        yield TextRun(
            page=page,
            text=text,
            left=float(box.position_x),
            right=float(box.position_x + box.width),
            top=baseline - 0.65 * float(box.style["font_size"]),
            baseline=baseline,
            marker=str(box.element_tag).endswith("::marker"),
            furniture=generated,
            family=str(box.style["font_family"][0]),
        )
    for child in getattr(box, "children", ()):
        yield from _walk(child, page, heads, furniture=generated)


def faults(document: Any, html: str, texts: Iterable[Markup], numbers: Iterable[int]) -> tuple[str, ...]:
    """What is wrong with a layout of ``html``; ``texts`` and ``numbers`` are those of the card.

    Words the template left out or the layout lost, steps misnumbered, words off the page or over others.
    """
    runs = lines(document)
    body = _body(html)
    checks = (
        _left_out(texts, body),
        _uneven(body, _letters("".join(_unhyphenated(line.text) for line in runs if not line.furniture))),
        _misnumbered(runs, list(numbers)),
        _outside(document, runs),
        _overlapping(runs),
    )
    return tuple(fault for fault in checks if fault)


def _letters(text: str) -> str:
    """Text without spaces, which line breaks and tables change."""
    return re.sub(r"\s+", "", text)


def _unhyphenated(text: str) -> str:
    """Without the hyphen set where a word is broken (U+2010, which no typeset text holds)."""
    return text.removesuffix("\u2010")


class _BodyText(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.inside = False
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.inside = self.inside or tag == "body"

    def handle_data(self, data: str) -> None:
        if self.inside:
            self.text.append(data)


def _body(html: str) -> str:
    parser = _BodyText()
    parser.feed(html)
    parser.close()
    return _letters("".join(parser.text))


def _left_out(texts: Iterable[Markup], body: str) -> str:
    missing = [plain for text in texts if _letters(plain := text.striptags()) not in body]
    return f"left out by the template: {', '.join(map(repr, missing))}" if missing else ""


def _uneven(wanted: str, printed: str) -> str:
    """Letters are counted, so neither the order of cells nor a hyphenated word matters."""
    if Counter(wanted) == Counter(printed):
        return ""
    start = next((place for place in range(len(wanted)) if wanted[place : place + 12] not in printed), 0)
    lost, extra = Counter(wanted) - Counter(printed), Counter(printed) - Counter(wanted)
    return (
        f"the layout lost {lost.total()} letters and added {extra.total()}, "
        f"first near {wanted[max(0, start - 20) : start + 60]!r}"
    )


def _misnumbered(runs: Iterable[TextRun], numbers: list[int]) -> str:
    printed = [line.text.strip(" .") for line in runs if line.marker]
    return "" if printed == [str(number) for number in numbers] else f"steps numbered {', '.join(printed)}"


def _outside(document: Any, runs: Iterable[TextRun]) -> str:
    """Words that leave the text area, or a head or foot that comes too near the cut."""
    areas = {number: _areas(page) for number, page in enumerate(document.pages, 1)}
    out = []
    for line in runs:
        left, top, right, foot = areas[line.page][line.furniture and not line.marker]
        if line.left < left or line.top < top or line.right > right or line.baseline > foot:
            out.append(line)
    return f"off the page: {_named(out)}" if out else ""


def _areas(page: Any) -> tuple[tuple[float, float, float, float], tuple[float, float, float, float]]:
    """Left, top, right and foot of what the page's text, and its head and foot, must keep within."""
    box = page._page_box
    left, top = float(box.content_box_x()), float(box.content_box_y())
    text = (left, top, left + float(box.width), top + float(box.height))
    text = (text[0] - _SLACK, text[1] - _SLACK, text[2] + _SLACK, text[3] + _SLACK)
    return text, (_SAFE, _SAFE, page.width - _SAFE, page.height - _SAFE)


def _overlapping(runs: tuple[TextRun, ...]) -> str:
    ordered = sorted(runs, key=lambda line: (line.page, line.top))
    hit = [
        line
        for place, line in enumerate(ordered)
        for other in _below(ordered, place)
        if min(line.right, other.right) - max(line.left, other.left) > 1
    ]
    return f"over other words: {_named(hit)}" if hit else ""


def _below(ordered: list[TextRun], place: int) -> Iterator[TextRun]:
    """The lines that begin above this one's baseline; the order is sorted by page and top."""
    line = ordered[place]
    for other in ordered[place + 1 :]:
        if other.page != line.page or other.top >= line.baseline - 0.5:
            return
        yield other


def _named(runs: Iterable[TextRun]) -> str:
    return ", ".join(f"{line.text.strip()!r} (page {line.page})" for line in runs)
