"""When a recipe is too long for its cards: by how many lines, and which text to cut."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from markupsafe import Markup, escape

from cardsmith.house.paper import CardSize
from cardsmith.house.settings import CardStyle
from cardsmith.render import audit
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.view import CardView
from cardsmith.render.typesetter import LayoutError

_TRIES = 12  # layouts of shortened texts tried to find how much is enough
_HEADNOTE = "the headnote"


class Overfull(LayoutError):  # noqa: N818 - the name says what is the matter
    """The text runs past the last card; ``cuts`` are lines to cut from texts by name, tested to be enough.

    Empty where no cut would do: then the card needs a larger size, or more cards.
    """

    def __init__(
        self, said: str, *, lines: int, instead: str, cuts: Mapping[str, int], letters_in_a_line: float
    ) -> None:
        super().__init__(said)
        self.lines = lines
        self.instead = instead
        self.cuts = cuts
        self.letters_in_a_line = letters_in_a_line


def overfull(
    view: CardView, layout: Layout, size: CardSize, style: CardStyle, lay_out: Callable[[CardView], Layout]
) -> Overfull:
    """The fault of a layout with too many pages; ``lay_out`` tries a shortened card."""
    per_line = _letters_in_a_line(layout)
    lines, enough = _over(layout), False
    for _ in range(_TRIES):
        cuts = _cuts(view, lines, per_line)
        if sum(cuts.values()) < lines:
            break
        tried = lay_out(_shortened(view, cuts, per_line))
        if enough := tried.fits:
            break
        lines += max(1, _over(tried))
    counted = f"{lines} line{'s' if lines > 1 else ''}"
    held = f"{style.cards} card{'s' if style.cards > 1 else ''} of {size.shown}"
    sides = "both sides" if style.sides == 2 else "one side"
    text = f"{float(layout.setting.text):g} pt"
    said = f"{view.plain_title}: {counted} too many for {held}, printed on {sides}, at {text}"
    cut_list = ", ".join(f"{count} from {name}" for name, count in cuts.items())
    roomier = f"take a larger card, or allow {-(-layout.pages // style.sides)} cards"
    return Overfull(
        said,
        lines=lines,
        instead=f"cut {counted}, such as {cut_list}; or {roomier}" if enough else roomier,
        cuts=cuts if enough else {},
        letters_in_a_line=per_line,
    )


def _over(layout: Layout) -> int:
    """Lines past the last page."""
    return len(
        {
            (line.page, round(line.baseline))
            for line in audit.lines(layout.document)
            if line.page > layout.setting.pages and not line.furniture
        }
    )


def _cuts(view: CardView, lines: int, per_line: float) -> dict[str, int]:
    """This many lines cut from the longest texts, at most a third of each, by name."""
    room = {name: int(len(text) * 2 / 3 / per_line) for name, text in _texts(view)}
    cuts: dict[str, int] = {}
    for name in sorted(room, key=lambda name: -room[name]):
        taken = min(room[name], lines - sum(cuts.values()))
        if taken > 0:
            cuts[name] = taken
    return cuts


def _shortened(view: CardView, cuts: Mapping[str, int], per_line: float) -> CardView:
    def cut(text: Markup, name: str) -> Markup:
        if name not in cuts:
            return text
        words = text.striptags().split()
        kept, gone = len(words), 0.0
        while kept > 1 and gone < cuts[name] * per_line:
            kept -= 1
            gone += len(words[kept]) + 1
        return escape(" ".join(words[:kept]))

    parts = tuple(
        replace(
            part,
            steps=tuple(replace(step, text=cut(step.text, f"step {step.number}")) for step in part.steps),
        )
        for part in view.parts
    )
    return replace(view, headnote=cut(view.headnote, _HEADNOTE), parts=parts)


def _texts(view: CardView) -> Iterator[tuple[str, str]]:
    """What could be cut, each with its name."""
    yield _HEADNOTE, view.headnote.striptags()
    for part in view.parts:
        for step in part.steps:
            yield f"step {step.number}", step.text.striptags()


def _letters_in_a_line(layout: Layout) -> float:
    """The mean of the longer half of the lines."""
    lengths = sorted(len(line.text) for line in audit.lines(layout.document) if not line.furniture)
    longer = lengths[len(lengths) // 2 :] or [1]
    return sum(longer) / len(longer)
