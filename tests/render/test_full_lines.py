"""A line ends where the next word has no room, also where a text goes on in another element."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cardsmith.render.typesetter import Typesetter

TEXT = "enough to coat the spatula and reads <b>170&nbsp;°F</b> in the middle"
WIDTHS = [quarter / 4 for quarter in range(640, 840)]  # points: by the space before the measure, and less


def lines(box: Any) -> Iterator[str]:
    if type(box).__name__ == "LineBox":
        yield words(box)
        return
    for child in getattr(box, "children", ()):
        yield from lines(child)


def words(box: Any) -> str:
    return getattr(box, "text", "") + "".join(map(words, getattr(box, "children", ())))


def test_no_line_ends_after_its_first_word(typesetter: Typesetter) -> None:
    paragraphs = "".join(f'<p style="width: {width}pt">{TEXT}</p>' for width in WIDTHS)
    style = '@page { size: 4in 300in; margin: 0 } body { font: 11pt "Fira Sans" } p { margin: 0 }'
    head = f'<html lang="en"><head><title>x</title><style>{style}</style></head>'
    document = typesetter.lay_out(f"{head}<body>{paragraphs}</body></html>", {}, styled=False)
    found = list(lines(document.pages[0]._page_box))
    assert len(found) == 2 * len(WIDTHS)
    assert all(line.startswith("enough to coat the spatula and") for line in found[::2])
