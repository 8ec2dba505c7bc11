"""From a colour of the screen to printing inks, for one press.

Named colours come from a table, greys are black ink, all others go through the printer's profile (relative
colorimetric with black point compensation, ISO 15076-1).
"""

from __future__ import annotations

import io
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any

from PIL import Image, ImageCms, ImageMath

from cardsmith.house.printers import Printer
from cardsmith.reference import table

Inks = tuple[float, float, float, float]  # cyan, magenta, yellow, black, each 0 to 1
Colour = tuple[float, ...]  # one, three or four components, 0 to 1
BLACK: Inks = (0.0, 0.0, 0.0, 1.0)
PAPER: Inks = (0.0, 0.0, 0.0, 0.0)
_FULL = 255  # a level, for all of one ink


@lru_cache(maxsize=8)
def _transform(profile: bytes) -> Any:
    return ImageCms.buildTransform(
        ImageCms.createProfile("sRGB"),
        ImageCms.ImageCmsProfile(io.BytesIO(profile)),
        "RGB",
        "CMYK",
        ImageCms.Intent.RELATIVE_COLORIMETRIC,
        ImageCms.Flags.BLACKPOINTCOMPENSATION,
    )


def inked(picture: Any, made_for: Printer) -> Any:
    """An sRGB picture in CMYK, nowhere with more ink than the press takes.

    How much black stands for the three other inks is the profile's own affair. Where it lays down more than
    this press takes, the three give way in the ratio they have, and black stays (`within_limit`).
    """
    return within_limit(ImageCms.applyTransform(picture, _transform(made_for.profile)), made_for)


def within_limit(inked: Any, made_for: Printer) -> Any:
    """A picture in inks, thinned where they are more than the press takes; the same where they never are."""
    most = int(made_for.ink_limit * _FULL)
    if not share_over(inked, made_for.ink_limit):
        return inked
    cyan, magenta, yellow, black = inked.split()

    def thinned(of: Any) -> Any:
        """One of the colours where together they have only what black leaves; rounded down."""
        share = of["float"](most - of["k"]) / of["max"](of["c"] + of["m"] + of["y"], 1)
        return of["convert"](of["min"](of["one"] * share, of["one"]), "L")

    given = {"c": cyan, "m": magenta, "y": yellow, "k": black}
    colours = [ImageMath.lambda_eval(thinned, one=colour, **given) for colour in (cyan, magenta, yellow)]
    return Image.merge("CMYK", [*colours, black])


def share_over(picture: Any, limit: Fraction) -> float:
    """The share of a CMYK picture's dots with more ink than ``limit``, the sum of the four."""
    cyan, magenta, yellow, black = picture.split()
    over = ImageMath.lambda_eval(
        lambda of: of["convert"]((of["c"] + of["m"] + of["y"] + of["k"] > int(limit * _FULL)) * _FULL, "L"),
        c=cyan,
        m=magenta,
        y=yellow,
        k=black,
    )
    return float(over.histogram()[_FULL] / (picture.width * picture.height))


@cache
def _palette(condition: str) -> dict[str, Inks]:
    """Named colours in inks, as they are mixed for a printing condition."""
    rows = (row for row in table("palette_cmyk") if row["condition"] in ("", condition))
    return {row["srgb"]: _row_inks(row) for row in rows}


def _row_inks(row: dict[str, str]) -> Inks:
    cyan, magenta, yellow, black = (float(row[ink]) / 100 for ink in ("cyan", "magenta", "yellow", "black"))
    return (cyan, magenta, yellow, black)


@lru_cache(maxsize=2_000)
def inks_of(colour: Colour, made_for: Printer) -> Inks:
    """Inks for a grey, an sRGB colour, or inks already."""
    if len(colour) == 4:
        return (colour[0], colour[1], colour[2], colour[3])
    red, green, blue = colour if len(colour) == 3 else colour * 3
    levels = tuple(round(value * 255) for value in (red, green, blue))
    if named := _palette(made_for.condition).get("#" + "".join(f"{level:02x}" for level in levels)):
        return named
    if len(set(levels)) == 1:
        return (0.0, 0.0, 0.0, round(1 - red, 3))
    dot = Image.new("RGB", (1, 1), levels)
    cyan, magenta, yellow, black = inked(dot, made_for).getpixel((0, 0))
    return (_share(cyan), _share(magenta), _share(yellow), _share(black))


def _share(level: int) -> float:
    return round(level / 255, 3)
