"""The faces of type a house names in ``look.css``, for what no style sheet reaches: drawn figures and plots.

A style sheet needs none of this: it says ``@import url("look.css")`` and ``font-family: var(--text)``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from cardsmith.finding import CardsmithError

_FAMILY = re.compile(r'--(text|display):\s*"([^"]+)"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """The first family of each list of the house: ``Fira Sans``, as its font files name themselves."""

    text: str
    display: str


@cache
def look(templates: Path) -> Look:
    """The look of the house whose templates these are.

    Raises:
        CardsmithError: look.css doesn't name a family first, in quotation marks.
    """
    file = templates / "look.css"
    named = dict(_FAMILY.findall(file.read_text(encoding="utf-8")))
    for key in ("text", "display"):
        if key not in named:
            raise CardsmithError(f'{file}: --{key} names no family; write --{key}: "Fira Sans", sans-serif')
    return Look(**named)
