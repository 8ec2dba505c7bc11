"""A PDF in printing inks: pages, drawings, gradients, photos, transparency."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream
from PIL import Image

from cardsmith.files.reading import digest_of
from cardsmith.house.printers import Printer
from cardsmith.render.press.accent import NO_ACCENT, Accent
from cardsmith.render.press.inks import inked, inks_of, within_limit
from cardsmith.render.press.paths import Matrix, times
from cardsmith.render.press.recolouring import IDENTITY, OVERPRINT, SPOT, Inking, Recolouring

_JPEG_QUALITY = 93


def into_inks(
    pdf: pikepdf.Pdf,
    made_for: Printer,
    accent: Accent = NO_ACCENT,
    separations: Mapping[str, bytes] = MappingProxyType({}),
) -> None:
    """Change every colour of the PDF, in place.

    ``separations`` are pictures in the inks of this press, by the digest of the picture in the PDF that each
    stands for.
    """
    _Drawings(pdf, Inking(made_for=made_for, accent=accent)).convert()
    masks = {mask.G.objgen for mask in _soft_masks(pdf)}
    for item in pdf.objects:
        if isinstance(item, Stream) and item.get(Name.Subtype) == Name.Image:
            _photo(item, made_for, separations)
        elif isinstance(item, Dictionary | Stream):
            if item.get(Name.ShadingType) is not None and item.ColorSpace == Name.DeviceRGB:
                item.ColorSpace = Name.DeviceCMYK
                _gradient(item.Function, made_for)
            group = item.get(Name.Group)
            if group is not None and item.objgen not in masks and group.get(Name.CS) == Name.DeviceRGB:
                group.CS = Name.DeviceCMYK


class _Drawings:
    """The content of pages, and of the forms and tiles that they place; each is rewritten once."""

    def __init__(self, pdf: pikepdf.Pdf, inking: Inking) -> None:
        self._pdf, self._inking = pdf, inking
        self._done = {mask.G.objgen for mask in _soft_masks(pdf)}
        spot = inking.accent.spot
        self._plate = separation(pdf, spot, inking.accent.inks or (0, 0, 0, 1)) if spot else None

    def convert(self) -> None:
        for page in self._pdf.pages:
            given = page.get(Name.Resources)
            page.Contents = self._pdf.make_stream(self._recoloured(page, given, IDENTITY, picture=False))
            self._resources(page)
        for item in self._pdf.objects:
            if (
                isinstance(item, Stream)
                and item.objgen not in self._done
                and (item.get(Name.Subtype) == Name.Form or item.get(Name.PatternType) == 1)
            ):
                # Not placed by a page itself: part of a tile, whose size on the page is not known here.
                self._form(item, IDENTITY, picture=True)

    def _form(self, form: Any, matrix: Matrix, *, picture: bool) -> None:
        if form.objgen in self._done:
            return
        self._done.add(form.objgen)
        if Name.Matrix in form:
            a, b, c, d, e, f = (float(value) for value in form.Matrix)
            matrix = times((a, b, c, d, e, f), matrix)
        form.write(self._recoloured(form, form.get(Name.Resources), matrix, picture=picture))
        self._resources(form)

    def _recoloured(self, holder: Any, resources: Any, matrix: Matrix, *, picture: bool) -> bytes:
        placed: list[tuple[Any, Matrix, bool]] = []

        def drawn(name: Name, at: Matrix, in_picture: bool) -> None:
            item = resources.XObject[name]
            if item.get(Name.Subtype) == Name.Form:
                placed.append((item, at, in_picture))

        out = Recolouring(self._inking, drawn, matrix=matrix, picture=picture).of(holder)
        for form, at, in_picture in placed:
            self._form(form, at, picture=in_picture)
        return pikepdf.unparse_content_stream(out)

    def _resources(self, holder: Any) -> None:
        """Colour spaces that nothing uses any more go; the second ink and two states of overprint come."""
        given = holder.get(Name.Resources)
        if given is None:
            return
        if Name.ColorSpace in given:
            del given[Name.ColorSpace]
        if self._plate is not None:
            given.ColorSpace = Dictionary({str(SPOT): self._plate})
        if Name.ExtGState not in given:
            given.ExtGState = Dictionary()
        for on, name in OVERPRINT.items():
            # Mode 1: a plate on which black has no ink keeps what is there (ISO 32000-1, table 58).
            given.ExtGState[name] = Dictionary(Type=Name.ExtGState, OP=on, op=on, OPM=1 if on else 0)


def separation(pdf: pikepdf.Pdf, name: str, instead: tuple[float, ...]) -> pikepdf.Object:
    """The colour space of one plate; ``instead`` are the inks that stand for it (ISO 32000-1, 8.6.6.4)."""
    full = [round(float(share), 4) for share in instead]
    function = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0, 0, 0, 0], C1=full, N=1)
    plate = Array([Name.Separation, Name("/" + name), Name.DeviceCMYK, pdf.make_indirect(function)])
    return pdf.make_indirect(plate)


def registration(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """The colour that stands on every plate."""
    return separation(pdf, "All", (1, 1, 1, 1))


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


def _gradient(function: Any, made_for: Printer) -> None:
    for part in function.get(Name.Functions, ()):
        _gradient(part, made_for)
    for key in (Name.C0, Name.C1):
        if key in function and len(function[key]) == 3:
            inks = inks_of(tuple(float(value) for value in function[key]), made_for)
            function[key] = Array([round(value, 4) for value in inks])


def _photo(image: Stream, made_for: Printer, separations: Mapping[str, bytes]) -> None:
    space = image.get(Name.ColorSpace)
    if space in (Name.DeviceGray, Name.DeviceCMYK) or image.get(Name.ImageMask):
        return
    if separation := separations.get(digest_of(image.read_raw_bytes())):
        picture = within_limit(Image.open(io.BytesIO(separation)), made_for)
    else:
        picture = inked(pikepdf.PdfImage(image).as_pil_image().convert("RGB"), made_for)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=_JPEG_QUALITY, subsampling=0, icc_profile=None)
    image.write(out.getvalue(), filter=Name.DCTDecode)
    image.ColorSpace = Name.DeviceCMYK
    image.BitsPerComponent = 8
    image.Decode = Array([1, 0] * 4)  # the JPEG is stored inverted, as its Adobe marker tells other programs
    image.Interpolate = False
