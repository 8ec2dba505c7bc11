"""The air of a setting, and what a side leaves empty: between rows and steps, and before the last block.

Where the text runs on over several sides, the last block alone moves.

Lengths are whole quarters of a line, or halves of one above and below a row: every line keeps to the grid.
"""

from __future__ import annotations

from collections.abc import Mapping

from cardsmith.render.card.blocks import PIXEL
from cardsmith.render.card.fit import Layout, left_below
from cardsmith.render.card.setting import Setting
from cardsmith.render.card.view import CardView
from cardsmith.render.sizes import quarter

_LEFT = 2  # quarters that stay empty in any case
_ROW = 2  # quarters that may be added between two rows
_STEP = 3  # and between two steps
_OF_SIDE = 0.22  # of a side's height, at most between a last block at the foot and what stands before it


def air_of(
    setting: Setting, rows: int = 0, steps: int = 0, front_drop: int = 0, back_drop: int = 0
) -> Mapping[str, str]:
    """The air of a setting in CSS, with so many quarters of a line more; drops are before the last blocks."""
    step = float(quarter(setting.text))
    counts = {
        "row_air": (setting.row_air + rows) / 2,  # above and below each
        "step_air": setting.air + steps,
        "front_drop": front_drop,
        "back_drop": back_drop,
    }
    return {name: f"{count * step:.6g}pt" for name, count in counts.items()}


def airy(view: CardView, layout: Layout) -> Mapping[str, str]:
    """The air of a layout's two sides, or of its only one, in CSS."""
    setting = layout.setting
    step = float(quarter(setting.text))
    on_front, on_back = (_quarters(left_below(layout.document, name), step) for name in ("front", "back"))
    most = int(_OF_SIDE * PIXEL * float(layout.document.pages[0]._page_box.height) / step)
    if not setting.sides and setting.text_pages > 1:  # more between rows or steps would move all that follows
        return air_of(setting, back_drop=min(on_back, most))
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
    return air_of(
        setting,
        rows=between_rows,
        steps=between_steps,
        front_drop=min(on_front, most) if view.equipment else 0,
        back_drop=min(on_back, most),
    )


def _quarters(left: float, step: float) -> int:
    """Whole quarters of a line that can be shared out."""
    return max(int(left / step) - _LEFT, 0)
