"""From screen colours to printing inks: every colour of a PDF becomes CMYK, and its text black ink alone.

Black text overprints: the tint under it is printed through, so that no white shows beside a letter where the
plates are out of register (ISO 32000-1, 8.6.7). Nothing else does; white that overprints would vanish.

Named colours of a house come from a table, greys are black ink, all others go through the printer's profile
(relative colorimetric with black point compensation, ISO 15076-1).
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any

import pikepdf
from pikepdf import Array, ContentStreamInstruction, Dictionary, Name, Operator, Stream
from PIL import Image, ImageCms, ImageMath

from cardsmith.house.printers import Printer
from cardsmith.reference import table

Inks = tuple[float, float, float, float]  # cyan, magenta, yellow, black, each 0 to 1
Colour = tuple[float, ...]  # one, three or four components, 0 to 1
Paint = Inks | str  # inks, or the name of a pattern
BLACK: Inks = (0.0, 0.0, 0.0, 1.0)
PAPER: Inks = (0.0, 0.0, 0.0, 0.0)
_FULL = 255  # a level, for all of one ink
_JPEG_QUALITY = 93
_COLOURS = {"g", "rg", "k", "sc", "scn", "G", "RG", "K", "SC", "SCN"}
_SPACES = {"cs", "CS"}
_BEGINS_PATH = {"m", "re"}
_ENDS_PATH = {"f", "F", "f*", "B", "B*", "b", "b*", "S", "s", "n"}
_SHOWS_TEXT = {"Tj", "TJ", "'", '"'}
_PAINTS_AS_IT_IS = {"Do", "sh", "INLINE IMAGE"}
_MARKED = {"BDC", "BMC", "EMC", "DP", "MP"}  # carries a screen file's tags; useless to a press
_OVERPRINT = {True: Name.OverprintOn, False: Name.OverprintOff}


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


def _inked(picture: Any, made_for: Printer) -> Any:
    """An sRGB picture in CMYK, nowhere with more ink than the press takes.

    How much black stands for the three other inks is the profile's own affair. Where it lays down more than
    this press takes, the three give way in the ratio they have, and black stays.
    """
    inked: Any = ImageCms.applyTransform(picture, _transform(made_for.profile))
    most = int(made_for.ink_limit * _FULL)
    if not share_over(inked, made_for.ink_limit):
        return inked
    cyan, magenta, yellow, black = inked.split()

    def thinned(of: Any) -> Any:
        """One of the colours where together they have only what black leaves; rounded down."""
        share = of["float"](most - of["k"]) / of["max"](of["c"] + of["m"] + of["y"], 1)
        return of["convert"](of["min"](of["one"] * share, of["one"]), "L")

    given = {"c": cyan, "m": magenta, "y": yellow, "k": black}
    colours = [ImageMath.lambda_eval(thinned, one=one, **given) for one in (cyan, magenta, yellow)]
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
    one = Image.new("RGB", (1, 1), levels)
    cyan, magenta, yellow, black = _inked(one, made_for).getpixel((0, 0))
    return (_share(cyan), _share(magenta), _share(yellow), _share(black))


def _share(level: int) -> float:
    return round(level / 255, 3)


def into_inks(pdf: pikepdf.Pdf, made_for: Printer) -> None:
    """Change every colour of the PDF, in place: pages, drawings, gradients, photos, transparency."""
    masks = {mask.G.objgen for mask in _soft_masks(pdf)}
    forms = [
        item
        for item in pdf.objects
        if isinstance(item, Stream)
        and item.objgen not in masks
        and (item.get(Name.Subtype) == Name.Form or item.get(Name.PatternType) == 1)
    ]
    for form in forms:
        form.write(pikepdf.unparse_content_stream(_recoloured(form, made_for)))
        _resources(form)
    for page in pdf.pages:
        page.Contents = pdf.make_stream(pikepdf.unparse_content_stream(_recoloured(page, made_for)))
        _resources(page)
    for item in pdf.objects:
        if isinstance(item, Stream) and item.get(Name.Subtype) == Name.Image:
            _photo(item, made_for)
        elif isinstance(item, Dictionary | Stream):
            if item.get(Name.ShadingType) is not None and item.ColorSpace == Name.DeviceRGB:
                item.ColorSpace = Name.DeviceCMYK
                _gradient(item.Function, made_for)
            group = item.get(Name.Group)
            if group is not None and item.objgen not in masks and group.get(Name.CS) == Name.DeviceRGB:
                group.CS = Name.DeviceCMYK


def _soft_masks(pdf: pikepdf.Pdf) -> Iterator[Any]:
    for item in pdf.objects:
        if isinstance(item, Dictionary):
            mask = item.get(Name.SMask)
            if isinstance(mask, Dictionary) and Name.G in mask:
                yield mask
            for state in _values(item.get(Name.ExtGState)):
                mask = state.get(Name.SMask)
                if isinstance(mask, Dictionary) and Name.G in mask:
                    yield mask


def _values(item: Any) -> list[Any]:
    return [item[key] for key in item.keys()] if isinstance(item, Dictionary) else []  # noqa: SIM118


def _resources(holder: Any) -> None:
    """Take out colour spaces that nothing uses any more; name the two states of overprint."""
    given = holder.get(Name.Resources)
    if given is None:
        return
    if Name.ColorSpace in given:
        del given[Name.ColorSpace]
    if Name.ExtGState not in given:
        given.ExtGState = Dictionary()
    for on, name in _OVERPRINT.items():
        # Mode 1: a plate on which black has no ink keeps what is there (ISO 32000-1, table 58).
        given.ExtGState[name] = Dictionary(Type=Name.ExtGState, OP=on, op=on, OPM=1 if on else 0)


def _gradient(function: Any, made_for: Printer) -> None:
    for part in function.get(Name.Functions, ()):
        _gradient(part, made_for)
    for key in (Name.C0, Name.C1):
        if key in function and len(function[key]) == 3:
            inks = inks_of(tuple(float(value) for value in function[key]), made_for)
            function[key] = Array([round(value, 4) for value in inks])


def _photo(image: Stream, made_for: Printer) -> None:
    space = image.get(Name.ColorSpace)
    if space in (Name.DeviceGray, Name.DeviceCMYK) or image.get(Name.ImageMask):
        return
    picture = pikepdf.PdfImage(image).as_pil_image().convert("RGB")
    out = io.BytesIO()
    _inked(picture, made_for).save(out, "JPEG", quality=_JPEG_QUALITY, subsampling=0, icc_profile=None)
    image.write(out.getvalue(), filter=Name.DCTDecode)
    image.ColorSpace = Name.DeviceCMYK
    image.BitsPerComponent = 8
    image.Decode = Array([1, 0] * 4)  # the JPEG is stored inverted, as its Adobe marker tells other programs
    image.Interpolate = False


@dataclass(slots=True)
class _Colours:
    """Colours asked for and colours set, by ``fill`` and ``stroke``; one that is missing is unchanged."""

    asked: dict[str, Paint] = field(default_factory=dict)
    given: dict[str, Paint] = field(default_factory=dict)
    overprints: bool = False

    def copy(self) -> _Colours:
        return _Colours(dict(self.asked), dict(self.given), self.overprints)

    def overprint(self, on: bool) -> list[ContentStreamInstruction]:
        """The operators that turn overprint on or off, where it is not so already."""
        if on == self.overprints:
            return []
        self.overprints = on
        return [ContentStreamInstruction([_OVERPRINT[on]], Operator("gs"))]

    def setting(self, which: str, paint: Paint | None) -> list[ContentStreamInstruction]:
        """The operators that set a colour, where it is not set already."""
        if paint is None or paint == self.given.get(which):
            return []
        self.given[which] = paint
        space, inks, pattern = ("cs", "k", "scn") if which == "fill" else ("CS", "K", "SCN")
        if isinstance(paint, str):
            return [
                ContentStreamInstruction([Name.Pattern], Operator(space)),
                ContentStreamInstruction([Name(paint)], Operator(pattern)),
            ]
        return [ContentStreamInstruction(list(paint), Operator(inks))]

    def both(self) -> list[ContentStreamInstruction]:
        """The operators that set the colours asked for."""
        return [one for which in ("fill", "stroke") for one in self.setting(which, self.asked.get(which))]


def _recoloured(holder: Any, made_for: Printer) -> list[Any]:
    """The drawing with colours set only before something is painted: text in black, the rest in inks."""
    out: list[Any] = []
    stack: list[_Colours] = []
    state, inside_path = _Colours(), False
    for instruction in pikepdf.parse_content_stream(holder):
        name = str(instruction.operator)
        if name in _COLOURS:
            which = "fill" if name.islower() else "stroke"
            if paint := _paint(list(instruction.operands), made_for):
                state.asked[which] = paint
            continue
        if name in _SPACES or name in _MARKED:
            continue
        if name == "q":
            stack.append(state.copy())
        elif name == "Q":
            state = stack.pop()
        elif name in _SHOWS_TEXT:
            paint = _text_paint(state.asked.get("fill"))
            out += state.setting("fill", paint) + state.overprint(paint == BLACK)
        elif name in _BEGINS_PATH and not inside_path:
            # Inside a path no colour may be set (ISO 32000-1, figure 9), so before we know what it is for.
            out += state.both() + state.overprint(False)
            inside_path = True
        elif name in _ENDS_PATH:
            inside_path = False
        elif name in _PAINTS_AS_IT_IS:
            out += state.both() + state.overprint(False)
        out.append(instruction)
    return out


def _paint(operands: list[Any], made_for: Printer) -> Paint | None:
    if operands and isinstance(operands[-1], Name):
        return str(operands[-1])
    return inks_of(tuple(float(value) for value in operands), made_for) if operands else None


def _text_paint(asked: Paint | None) -> Inks:
    """White stays white; all other text is black ink, since colours out of register blur small type."""
    return PAPER if asked == PAPER else BLACK
