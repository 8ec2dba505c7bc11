"""Pictures beside a recipe: refused with a reason or made ready, cropped to their focus and scaled once.

JPEG and PNG become upright sRGB JPEG of the size and shape they print at, without the camera's notes (EXIF
may hold a place and a name); SVG stays a drawing.
"""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from fractions import Fraction
from typing import Any

from PIL import ExifTags, Image, ImageCms, ImageFile, ImageOps, UnidentifiedImageError

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.render.pictures.drawings import drawn_size, inspect_drawing
from cardsmith.render.pictures.shapes import Unfit

RESOLUTION = 300  # dots per inch at size; common practice, no source
MOST_BYTES = 40_000_000
MOST_DOTS = 100_000_000
_OVER = f"over {MOST_DOTS // 1_000_000} million"
_SMALLER = "scale it down; a card of 5 inches needs 1500 dots across"
VERSION = 2  # of what `ready` makes: part of its key in the cache
_QUALITY = 92
_KINDS = {"JPEG": (".jpg", ".jpeg"), "PNG": (".png",)}
_ON_ITS_SIDE = (5, 6, 7, 8)  # turned by a quarter (Exif 2.32, Orientation)
_PLACE = re.compile(r"(\d{1,3})% (\d{1,3})%")


class PictureRefused(CardsmithError):  # noqa: N818 - the name says what is the matter
    """A picture that cannot be printed as it is, and what to do about it."""

    def __init__(self, what: str, instead: str) -> None:
        super().__init__(f"{what}; {instead}")
        self.what, self.instead = what, instead


@frozen
class Box:
    """The place a photo fills, in points, what is cut off with the bleed included."""

    width: Fraction
    height: Fraction

    @property
    def dots(self) -> tuple[int, int]:
        """At the resolution of print."""
        return round(self.width * RESOLUTION / 72), round(self.height * RESOLUTION / 72)


def is_drawing(name: str) -> bool:
    """Whether a file is one that stays a drawing."""
    return name.lower().endswith(".svg")


def shape_of(name: str, data: bytes) -> Fraction:
    """The width of a picture over its height, as it stands upright.

    Raises:
        PictureRefused: as `inspect`, of which this looks at the head of the file alone.
    """
    if is_drawing(name):
        return Fraction(*drawn_size(data))
    with _quietly():
        image = _opened(name, data)
        turned = image.getexif().get(ExifTags.Base.Orientation, 1) in _ON_ITS_SIDE
        return Fraction(image.height, image.width) if turned else Fraction(image.width, image.height)


def inspect(name: str, data: bytes) -> bytes:
    """A picture that may be used: a photo, from which `ready` makes a new one, or a drawing's shapes.

    Raises:
        PictureRefused: of another kind than its name says, broken, or over a limit.
    """
    if is_drawing(name):
        try:
            return inspect_drawing(data)
        except Unfit as unfit:
            raise PictureRefused(f"{name} {unfit.what}", unfit.instead) from unfit
    with _quietly():
        _photo(name, data)
    return data


def _photo(name: str, data: bytes) -> Any:
    """A photo, fully decoded."""
    if len(data) > MOST_BYTES:
        raise PictureRefused(
            f"{name} has {len(data) // 1_000_000} MB, over {MOST_BYTES // 1_000_000}", "save it as JPEG"
        )
    image = _opened(name, data)
    width, height = image.size
    if width * height > MOST_DOTS:
        raise PictureRefused(f"{name} has {width} × {height} dots, {_OVER}", _SMALLER)
    if image.mode == "CMYK" and not image.info.get("icc_profile"):
        raise PictureRefused(f"{name} is in CMYK without a profile", "save it as sRGB, or with its profile")
    if image.mode.startswith(("I", "F")):
        raise PictureRefused(f"{name} has 16 or more bits of grey", "save it with 8 bits a channel")
    lenient = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False  # WeasyPrint turns it on, and then half a photo would pass
    try:
        image.load()
    except (OSError, SyntaxError, ValueError) as fault:
        raise PictureRefused(f"{name} is broken ({fault})", "export it once more") from fault
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = lenient
    return image


def ready(name: str, data: bytes, focus: str, box: Box) -> bytes:
    """The picture cropped to ``box`` about its focus (CSS object-position), never scaled up; as JPEG.

    Raises:
        PictureRefused: as `inspect`.
    """
    with _quietly():
        return cropped(_upright(name, data), focus, box)


def cropped(image: Any, focus: str, box: Box) -> bytes:
    """As `ready`, of a picture that is decoded already."""
    return _scaled(image.crop(crop_of(image.size, box, focus)), box)


# What a picture is made of, how (all that it rests on besides), and its making → it, perhaps as made before.
Keep = Callable[[bytes, str, Callable[[], bytes]], bytes]


def at_once(_of: bytes, _how: str, make: Callable[[], bytes]) -> bytes:
    """The picture made, nothing kept: the plainest `Keep`."""
    return make()


def kept_ready(keep: Keep, name: str, data: bytes, focus: str, box: Box) -> bytes:
    """As `ready`, unless it is kept.

    Raises:
        PictureRefused: as `inspect`.
    """
    return keep(data, f"{focus} {box.width} {box.height}", lambda: ready(name, data, focus, box))


def separated(name: str, data: bytes, focus: str, box: Box, profile: bytes) -> bytes | None:
    """The picture as `ready` has it, in its own inks, as TIFF; None where these are not those of ``profile``.

    Raises:
        PictureRefused: as `inspect`.
    """
    if is_drawing(name):
        return None
    with _quietly():
        image = _upright(name, data)
        if image.mode != "CMYK" or image.info.get("icc_profile") != profile:
            return None
        image = image.crop(crop_of(image.size, box, focus))
        wide, high = (max(1, dots) for dots in box.dots)
        if image.width > wide:
            image = image.resize((wide, high), Image.Resampling.LANCZOS)
        out = io.BytesIO()
        image.save(out, "TIFF")  # no loss: the press file has it as JPEG, once
        return out.getvalue()


def whole(name: str, data: bytes, box: Box) -> bytes:
    """The whole picture, as large as goes into ``box``, never scaled up; as JPEG.

    Raises:
        PictureRefused: as `inspect`.
    """
    with _quietly():
        image = _upright(name, data)
        scale = min(box.width / image.width, box.height / image.height)
        return _scaled(image, Box(width=image.width * scale, height=image.height * scale))


def _upright(name: str, data: bytes) -> Any:
    image = _photo(name, data)
    ImageOps.exif_transpose(image, in_place=True)
    return image


def _scaled(image: Any, box: Box) -> bytes:
    wide, high = (max(1, dots) for dots in box.dots)
    image = _in_srgb(_nearer(image, wide))
    if image.width > wide:
        image = image.resize((wide, high), Image.Resampling.LANCZOS)
    return _as_jpeg(image)


def _as_jpeg(image: Any) -> bytes:
    """The buffer is sized by hand: the library allows one byte a dot, which fine grain exceeds."""
    out, piece = io.BytesIO(), ImageFile.MAXBLOCK
    image.info.clear()  # a comment, or whatever else a library takes over from the picture it was made of
    ImageFile.MAXBLOCK = max(piece, 4 * image.width * image.height)
    try:
        image.save(out, "JPEG", quality=_QUALITY, subsampling=0, optimize=True)
    finally:
        ImageFile.MAXBLOCK = piece
    return out.getvalue()


def _nearer(image: Any, wide: int) -> Any:
    """A photo far larger than its place, reduced to twice its width or more: fewer dots convert faster."""
    factor = image.width // (2 * wide)
    if factor < 2 or image.mode not in ("RGB", "RGBA", "L", "CMYK"):
        return image
    if image.mode == "RGBA":  # weighted by opacity: what is invisible must not colour what is visible
        return image.convert("RGBa").reduce(factor).convert("RGBA")
    return image.reduce(factor)


@contextmanager
def _quietly() -> Iterator[None]:
    """Without the library's own warnings: the faults that matter are refused here, with a remedy."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


def crop_of(size: tuple[int, int], box: Box, focus: str) -> tuple[int, int, int, int]:
    """The largest part of the box's shape, placed so that the focus keeps its share on either side."""
    width, height = size
    wide = min(Fraction(width), height * box.width / box.height)
    high = min(Fraction(height), width * box.height / box.width)
    match = _PLACE.fullmatch(focus)
    across, down = (min(int(part), 100) for part in match.groups()) if match else (50, 50)
    left, top = round((width - wide) * across / 100), round((height - high) * down / 100)
    return left, top, left + max(1, round(wide)), top + max(1, round(high))


def _opened(name: str, data: bytes) -> Any:
    try:
        image = Image.open(io.BytesIO(data), formats=list(_KINDS))
    except UnidentifiedImageError as fault:
        raise PictureRefused(f"{name} is not a JPEG, PNG or SVG", "export it as one of these") from fault
    except Image.DecompressionBombError as fault:  # from its header, before any pixel is decoded
        raise PictureRefused(f"{name} has far more dots than a photo, {_OVER}", _SMALLER) from fault
    except (OSError, SyntaxError, ValueError) as fault:
        raise PictureRefused(f"{name} cannot be opened ({fault})", "export it once more") from fault
    endings = _KINDS[str(image.format)]
    if not name.lower().endswith(endings):
        raise PictureRefused(
            f"{name} is a {image.format}",
            f"name it {name.rpartition('.')[0] or name}{endings[0]}",
        )
    return image


def _in_srgb(image: Any) -> Any:
    """In sRGB, by the picture's own profile where it has one; on white where it is transparent."""
    profile = image.info.get("icc_profile")
    if "A" in image.getbands() or "transparency" in image.info:
        image = image.convert("RGBA")
        paper = Image.new("RGBA", image.size, "white")
        image = Image.alpha_composite(paper, image).convert("RGB")
    elif image.mode not in ("RGB", "CMYK"):
        image, profile = image.convert("RGB"), None
    if profile:
        try:
            return ImageCms.profileToProfile(
                image,
                ImageCms.ImageCmsProfile(io.BytesIO(profile)),
                ImageCms.createProfile("sRGB"),
                ImageCms.Intent.RELATIVE_COLORIMETRIC,
                outputMode="RGB",
                flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
            )
        except (ImageCms.PyCMSError, OSError, ValueError):
            return image.convert("RGB")  # a profile of another kind than the picture: as if it had none
    return image.convert("RGB")
