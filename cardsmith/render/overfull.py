"""When a card is too long for its cards: by how many lines, and which text to cut."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.house import CardStyle
from cardsmith.render import audit
from cardsmith.render.fit import Layout
from cardsmith.render.sizes import CardSize
from cardsmith.render.typesetter import LayoutError
from cardsmith.render.view import CardView

_SUGGESTED = 3


class Overfull(LayoutError):  # noqa: N818 - the name says what is the matter
    """The text runs past the last card."""

    def __init__(self, said: str, *, lines: int, instead: str) -> None:
        super().__init__(said)
        self.lines = lines
        self.instead = instead


def overfull(view: CardView, layout: Layout, size: CardSize, style: CardStyle) -> Overfull:
    """What to say of a layout with more pages than it may have."""
    found = audit.lines(layout.document)
    over = {
        (line.page, round(line.baseline))
        for line in found
        if line.page > layout.setting.pages and not line.furniture
    }
    lines = len(over)
    held = f"{style.cards} card{'s' if style.cards > 1 else ''} of {size.shown}"
    sides = "both sides" if style.sides == 2 else "one side"
    text = f"{float(layout.setting.text):g} pt"
    said = f"{view.plain_title}: {lines} lines too many for {held}, printed on {sides}, at {text}"
    per_line = _letters_in_a_line(layout)
    longest = sorted(_texts(view), key=lambda one: -len(one[1]))[:_SUGGESTED]
    told = ", ".join(f"{name} ({max(1, round(len(words) / per_line))} lines)" for name, words in longest)
    return Overfull(said, lines=lines, instead=f"cut {lines} lines; the longest texts are {told}")


def _texts(view: CardView) -> Iterator[tuple[str, str]]:
    """What could be cut, each with its name."""
    yield "the headnote", view.headnote.striptags()
    for part in view.parts:
        for step in part.steps:
            yield f"step {step.number}", step.text.striptags()
    for note in view.notes:
        yield note.label.lower(), note.text.striptags()


def _letters_in_a_line(layout: Layout) -> float:
    """The mean of the longer half of the lines."""
    lengths = sorted(len(line.text) for line in audit.lines(layout.document) if not line.furniture)
    longer = lengths[len(lengths) // 2 :] or [1]
    return sum(longer) / len(longer)
