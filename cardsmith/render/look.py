"""The typefaces a house names in ``look.css``, for what no style sheet reaches: drawn figures and plots.

A style sheet needs none of this: it says ``@import url("look.css")`` and ``font-family: var(--text)``. A page
that must stand by itself has the look put in its place (`whole_style`).
"""

from __future__ import annotations

import re
from collections.abc import Set
from contextlib import suppress
from functools import cache
from io import BytesIO
from pathlib import Path

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen

_COLOUR = re.compile(r"--(accent|tint):\s*([^;}]+)")
_FAMILY = re.compile(r'--(text|display):\s*"([^"]+)"')
_DISPLAYS = re.compile(r"--display:\s*([^;}]+)")
_SOURCE = re.compile(r'src:\s*url\("([^"]+)"\)')  # of an @font-face
PRINT = (".ttf", ".otf")
# The end of a file's name that tells a cut: names of weights as in OpenType 1.9, OS/2 usWeightClass.
_WEIGHTS = r"Thin|(?:Extra|Semi|Demi|Ultra)?(?:Light|Bold)|Regular|Medium|Black|Heavy"
_CUT = re.compile(rf"-(?:(?:{_WEIGHTS})(?:Italic)?|Italic)$")
_IMPORT = '@import url("look.css");'


@frozen
class Look:
    """The first family of each list of the house: ``Fira Sans``, as its font files name themselves."""

    text: str
    display: str
    displays: tuple[str, ...]  # all of that list, in its order
    accent: tuple[int, int, int] | None = None  # levels of red, green and blue; None where it names no colour
    tint: tuple[int, int, int] | None = None  # behind the second system of a list


@cache
def look(templates: Path) -> Look:
    """The look of the house whose templates these are.

    Raises:
        CardsmithError: look.css doesn't name a family first, in quotation marks.
    """
    file = templates / "look.css"
    sheet = file.read_text(encoding="utf-8")
    named = dict(_FAMILY.findall(sheet))
    for key in ("text", "display"):
        if key not in named:
            raise CardsmithError(f'{file}: --{key} names no family; write --{key}: "Fira Sans", sans-serif')
    families = _DISPLAYS.findall(sheet)[0].split(",")
    displays = tuple(family.strip().strip('"') for family in families)
    colours = dict(reversed(_COLOUR.findall(sheet)))  # the first of each
    return Look(
        **named,
        displays=displays,
        accent=_levels(colours.get("accent", "")),
        tint=_levels(colours.get("tint", "")),
    )


def _levels(written: str) -> tuple[int, int, int] | None:
    """A colour of the house as the typesetter will paint it, opaque."""
    from tinycss2 import color4  # noqa: PLC0415 - only for print

    colour = color4.parse_color(written.strip())
    if colour is None or colour == "currentcolor":
        return None
    red, green, blue = (round(value * 255) for value in colour.to("srgb").coordinates)
    return red, green, blue


def need_fonts(templates: Path) -> None:
    """Pass where every font that the house names is there: without one, type would be set in what is left.

    Print needs the regular cut of the text's family, a file of the display's, and each cut that pages have.

    Raises:
        CardsmithError: what is lost, and where it is named, a line each.
    """
    sheet, web, named = templates / "look.css", templates / "look-web.css", look(templates)
    fonts = {file.stem for file in (templates / "fonts").rglob("*") if file.suffix in PRINT}
    text, display = (family.replace(" ", "") for family in (named.text, named.display))
    lost = {}
    if f"{text}-Regular" not in fonts:
        lost[f"fonts/{text}-Regular.ttf"] = f'{sheet}: --text is "{named.text}"'
    if not any(font.startswith(display) for font in fonts | {text}):
        lost[f"fonts/{display}-….ttf"] = f'{sheet}: --display is "{named.display}"'
    lines = web.read_text(encoding="utf-8").splitlines() if web.is_file() else []
    for number, line in enumerate(lines, start=1):
        for source in _SOURCE.findall(line):
            place, cut = f"{web}:{number}: a page takes {source}", Path(source).stem
            if not (templates / source).is_file():
                lost[source] = place
            of_house = cut.startswith((text, display)) and _CUT.search(cut)
            if of_house and cut not in fonts and cut not in _cuts(templates):
                lost.setdefault(f"fonts/{cut}.ttf", f"{place}, and paper the same cut")
    if lost:
        remedy = "put the file back, or name another"
        raise CardsmithError("\n".join(f"{why}; there is no {file}: {remedy}" for file, why in lost.items()))


@cache
def _cuts(templates: Path) -> Set[str]:
    """What the fonts for print call themselves, whatever their files are named: PostScript names."""
    from fontTools.ttLib import TTFont, TTLibError  # noqa: PLC0415 - only where a file seems lost

    cuts = set()
    for file in (templates / "fonts").rglob("*"):
        if file.suffix in PRINT:
            with suppress(TTLibError):
                names = TTFont(BytesIO(file.read_bytes()), lazy=True)["name"]
                cuts.add(str(names.getDebugName(6)))
    return cuts


def whole_style(templates: Path, name: str) -> str:
    """The style sheet ``name`` below ``templates`` with the look of the house in place of its import."""
    sheet = (templates / name).read_text(encoding="utf-8")
    return sheet.replace(_IMPORT, (templates / "look.css").read_text(encoding="utf-8"), 1)
