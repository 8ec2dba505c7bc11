"""What a side leaves empty, shared out: air between rows and between steps, and the last block at the foot.

Where the text runs on over several sides, the last block alone moves.

Lengths are whole quarters of a line, or halves of one above and below a row: every line keeps to the grid.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from cardsmith.render.card.blocks import PIXEL
from cardsmith.render.card.fit import Layout, left_below
from cardsmith.render.card.view import CardView
from cardsmith.render.sizes import quarter

NO_AIR: Mapping[str, str] = {"row_air": "0pt", "step_air": "0pt", "front_drop": "0pt", "back_drop": "0pt"}
_LEFT = 2  # quarters that stay empty in any case
_ROW = 2  # quarters that may be added between two rows
_STEP = 3  # and between two steps
_OF_SIDE = 0.25  # of a side's height, at most between a last block at the foot and what stands before it


def airy(view: CardView, layout: Layout) -> Mapping[str, str]:
    """The air of a layout's two sides, or of its only one, in CSS."""
    setting = layout.setting
    step = float(quarter(setting.text))
    on_front, on_back = (_quarters(left_below(layout.document, name), step) for name in ("front", "back"))
    most = int(_OF_SIDE * PIXEL * float(layout.document.pages[0]._page_box.height) / step)
    if not setting.sides and setting.text_pages > 1:  # more between rows or steps would move all that follows
        return {**NO_AIR, "back_drop": f"{min(on_back, most) * step:.6g}pt"}
    rows = sum(len(part.rows) for part in view.parts)
    steps = len(view.numbers)
    beside = setting.photo and setting.photo.flowed and setting.photo.name == "method"
    if beside:
        most = on_back  # with a picture at its head the notes stand at its foot, not afloat
    between_steps = min(_STEP, on_back // steps) if steps and not beside else 0
    on_back -= between_steps * steps
    if not setting.sides:
        on_front = on_back
    of_lists = rows + sum(bool(part.rows) for part in view.parts)  # the head of a list is a row too
    between_rows = min(_ROW, on_front // (of_lists + 1))
    on_front -= between_rows * (of_lists + 1)
    if not setting.sides:
        on_back, on_front = on_front, 0
    lengths = {
        "row_air": Fraction(between_rows, 2),
        "step_air": between_steps,
        "front_drop": min(on_front, most) if view.equipment else 0,
        "back_drop": min(on_back, most),
    }
    return {name: f"{float(count) * step:.6g}pt" for name, count in lengths.items()}


def _quarters(left: float, step: float) -> int:
    """Whole quarters of a line that can be shared out."""
    return max(int(left / step) - _LEFT, 0)
