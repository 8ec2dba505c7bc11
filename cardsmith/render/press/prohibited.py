"""What a press file may not hold, whether it is drawn or not: each object is examined once.

Source: ISO 15930-7:2010 (PDF/X-4), the clauses named beside each rule from memory; the keys are those of
ISO 32000-1:2008. RGB is kept out by this house where the standard would let it through with a profile: a
printer's own conversion is not ours to check.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream

_SKIPPED = {"/Parent", "/P", "/W", "/Widths", "/FontBBox", "/MediaBox", "/BleedBox", "/TrimBox"}
_FILTERS = {"/LZWDecode": "data packed by LZW", "/Crypt": "encrypted data"}
# Keys that are wrong wherever they stand.
_KEYS = {
    "/OPI": "an image that stands in for another (OPI)",  # 6.10
    "/Alternates": "alternates of an image",  # 6.11
    "/TR": "a transfer function",  # 6.12
    "/HTP": "halftone phases",  # 6.12
    "/HalftoneName": "a halftone by name",  # 6.12
    "/OpenAction": "an action",  # 6.17
    "/AA": "an action",  # 6.17
    "/JavaScript": "an action",  # 6.17
    "/EmbeddedFiles": "files attached",  # a rule of this house
}
_ACTIONS = {
    f"/{name}"
    for name in (
        "GoTo GoToR GoToE Launch Thread URI Sound Movie Hide Named SubmitForm ResetForm ImportData "
        "JavaScript SetOCGState Rendition Trans GoTo3DView"
    ).split()
}  # ISO 32000-1, table 198
_PLATES = (Name.Separation, Name.DeviceN)
_HALFTONES = (1, 5)  # 6.12


def prohibited(pdf: pikepdf.Pdf) -> Iterator[str]:
    """Each prohibited thing, with the page on which it is used."""
    for item in pdf.objects:
        if isinstance(item, Dictionary | Stream | Array):
            for fault in dict.fromkeys(fault for inner in _within(item) for fault in _faults(inner)):
                yield f"{fault} ({place(pdf, item)})"


def _within(item: Any) -> Iterator[Any]:
    """An object with all that stands directly in it, but numbers in long rows."""
    if isinstance(item, Dictionary | Stream):
        yield item
        values = [item[key] for key in item.keys() if key not in _SKIPPED]  # noqa: SIM118
    else:
        values = list(item)
    for value in values:
        if isinstance(value, Dictionary | Array) and not value.is_indirect:
            yield from _within(value)


def _faults(item: Any) -> Iterator[str]:
    for key in item.keys():  # noqa: SIM118 - a PDF's dictionary iterates otherwise
        if key in _KEYS:
            yield _KEYS[key]
    for packed in _several(item.get(Name.Filter)):
        if str(packed) in _FILTERS:
            yield _FILTERS[str(packed)]
    if str(item.get(Name.S)) in _ACTIONS:
        yield "an action"
    if item.get(Name.TR2, Name.Default) != Name.Default:
        yield "a transfer function"
    if Name.HalftoneType in item and int(item.HalftoneType) not in _HALFTONES:
        yield f"a halftone of type {int(item.HalftoneType)}"
    if Name.TransferFunction in item:
        yield "a transfer function"
    if item.get(Name.Subtype) == Name.PS or item.get("/Subtype2") == Name.PS:
        yield "a drawing in PostScript"  # 6.9
    if Name.Ref in item and item.get(Name.Subtype) == Name.Form:
        yield "a drawing from another file"  # 6.9
    if item.get(Name.S) == Name.Transparency and not inked(item.get(Name.CS, Name.DeviceCMYK)):
        yield f"transparency blended in {space(item.CS)}"
    yield from _plate_faults(item.get(Name.ColorSpace))
    if Name.ShadingType in item and not inked(item.get(Name.ColorSpace)):
        yield f"a gradient in {space(item.get(Name.ColorSpace))}"


def inked(colours: Any) -> bool:
    """Whether a colour space is one of inks; an ICC profile counts by the number of its channels."""
    if isinstance(colours, Array):
        if colours[0] == Name.ICCBased:
            return int(colours[1].get(Name.N, 0)) in (1, 4)
        return colours[0] in (Name.Separation, Name.DeviceN)
    return colours in (Name.DeviceCMYK, Name.DeviceGray)


def space(colours: Any) -> str:
    """The name of a colour space."""
    if isinstance(colours, Array):
        profiled = colours[0] == Name.ICCBased
        return f"a profile of {colours[1].get(Name.N)} channels" if profiled else str(colours[0])[1:]
    return str(colours)[1:] if colours is not None else "no colour space"


def place(pdf: pikepdf.Pdf, item: Any) -> str:
    """Where an object is used: the first page from which it is reached, else the document."""
    for number, page in enumerate(pdf.pages, 1):
        if _reaches(page.obj, item.objgen):
            return f"page {number}"
    return "the document"


def _reaches(start: Any, wanted: tuple[int, int]) -> bool:
    seen: set[tuple[int, int]] = set()
    open_ones = [start]
    while open_ones:
        item = open_ones.pop()
        if item.is_indirect:
            if item.objgen == wanted:
                return True
            if item.objgen in seen:
                continue
            seen.add(item.objgen)
        if isinstance(item, Dictionary | Stream):
            values = [item[key] for key in item.keys() if key != "/Parent"]  # noqa: SIM118
        else:
            values = list(item)
        open_ones += [value for value in values if isinstance(value, Dictionary | Stream | Array)]
    return False


def _plate_faults(given: Any) -> Iterator[str]:
    """Of one colour space, or all that a page names: plates for which colours of a screen would stand in."""
    spaces = [given[key] for key in given.keys()] if isinstance(given, Dictionary) else [given]  # noqa: SIM118
    for colours in spaces:
        if isinstance(colours, Array) and colours[0] in _PLATES and not inked(colours[2]):
            yield f"a plate whose stand-in is in {space(colours[2])}"


def _several(value: Any) -> list[Any]:
    if value is None:
        return []
    return list(value) if isinstance(value, Array) else [value]
