"""A line ends where the next word has no room, also where a text goes on in another element."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from cardsmith.render.typesetter import Typesetter

WIDTHS = [quarter / 4 for quarter in range(640, 840)]  # points: by the space before the measure, and less


def lines(box: Any) -> Iterator[str]:
    if type(box).__name__ == "LineBox":
        yield words(box)
        return
    for child in getattr(box, "children", ()):
        yield from lines(child)


def words(box: Any) -> str:
    return getattr(box, "text", "") + "".join(map(words, getattr(box, "children", ())))


@pytest.mark.parametrize(
    ("text", "first"),
    [
        # Its space is dropped at the end of a line.
        (
            "enough to coat the spatula and reads <b>170&nbsp;°F</b> in the middle",
            "enough to coat the spatula",
        ),
        # A space that holds goes to the next line, with its word.
        ("temperature with parchment between. Do&nbsp;<b>not freeze</b>", "temperature with parchment"),
        (" Keep at room temperature, or in&nbsp;<b>a cold place</b>", "Keep at room temperature,"),
    ],
)
def test_no_line_ends_at_its_first_word(text: str, first: str, typesetter: Typesetter) -> None:
    paragraphs = "".join(f'<p style="width: {width}pt">{text}</p>' for width in WIDTHS)
    style = (
        '@page { size: 4in 400in; margin: 0 } body { font: 11pt "Fira Sans" } p { margin: 0; hyphens: auto }'
    )
    head = f'<html lang="en"><head><title>x</title><style>{style}</style></head>'
    document = typesetter.lay_out(f"{head}<body>{paragraphs}</body></html>", {}, styled=False)
    found = list(lines(document.pages[0]._page_box))
    assert len(found) == 2 * len(WIDTHS)
    assert all(line.startswith(first) for line in found[::2])
