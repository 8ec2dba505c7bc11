"""The typefaces a house names in ``look.css``, for what no style sheet reaches: drawn figures and plots.

A style sheet needs none of this: it says ``@import url("look.css")`` and ``font-family: var(--text)``. A page
that must stand by itself has the look put in its place (`whole_style`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from cardsmith.finding import CardsmithError

_FAMILY = re.compile(r'--(text|display):\s*"([^"]+)"')
_IMPORT = '@import url("look.css");'


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


def whole_style(templates: Path, name: str) -> str:
    """The style sheet ``name`` below ``templates`` with the look of the house in place of its import."""
    sheet = (templates / name).read_text(encoding="utf-8")
    return sheet.replace(_IMPORT, (templates / "look.css").read_text(encoding="utf-8"), 1)
