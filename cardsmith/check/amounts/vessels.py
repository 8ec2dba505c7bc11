"""The pans, pots and glasses that a recipe names, and what each of them holds."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from cardsmith.check.fields import Field
from cardsmith.check.subject import Subject
from cardsmith.frozen import frozen
from cardsmith.language.figures.extents import Extent, extent_behind
from cardsmith.language.spans import Kind, Measured
from cardsmith.last_result import remembered
from cardsmith.measure.pans import Pan, pans
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Text
from cardsmith.reference import Tables
from cardsmith.regex import regex

DEPTH = {"loaf": Fraction(65), "round": Fraction(50), "square": Fraction(50), "rectangle": Fraction(50)}  # mm
TAPER = Fraction(86, 100)  # of its rim's box: 6 US cups in 8½ by 4½ inches, 8 in 9 by 5: common practice
MUFFIN_CUP = Fraction(110)  # ml, to the brim: common practice, no source
_PANS = frozenset("pan pans tin tins dish dishes".split())
_NO_PANS = frozenset("frying roasting sheet sauce pie tart flan muffin".split())
_CUPS = frozenset("ramekins glasses jars bottles moulds molds darioles basins cups pots".split())
_POTS = frozenset("saucepan stockpot pot casserole oven kettle pan wok fryer".split())  # a Dutch oven
_BESIDE = regex(r"\s+(?:[a-z]+,?\s+)?", re.IGNORECASE)


@frozen
class Vessel:
    """A vessel the steps name: how many, of what volume each in ml, and where."""

    sort: str  # pan, pot, cup
    told: str  # "9-inch round cake pan"
    count: int
    volume: Fraction
    place: Text
    step: int | None  # its place in ``recipe.steps``; None where only the equipment names it
    edges: tuple[Fraction, ...] = ()  # mm, of a pan
    depth: Fraction | None = None  # mm, where it is said


def vessels(text: Field, place: int | None) -> Iterator[Vessel]:
    """Every vessel with a size in a text."""
    for at, span in text.measures(Kind.VESSEL):
        noun = _described(text, at, span)
        sort_and_volume = _pan(text, at, span, noun) or _hollow(span, noun)
        if sort_and_volume is not None:
            sort, volume = sort_and_volume
            in_words = f"{span.text} {span.noun}"
            is_pan = sort == "pan"
            yield Vessel(
                sort=sort,
                told=in_words,
                count=_count(text, at),
                volume=volume,
                place=text.spot(span.text, at),
                step=place,
                edges=tuple(side.high for side in span.sides) if is_pan else (),
                depth=_said_depth(text, at) if is_pan else None,
            )
    for at, wells in text.told(Kind.NAME):
        if "muffin" in wells.noun.split():
            in_words, count = f"{wells.text} {wells.noun}", int(wells.high) * _count(text, at)
            yield Vessel(
                sort="pan",
                told=in_words,
                count=count,
                volume=MUFFIN_CUP,
                place=text.spot(in_words, at),
                step=place,
            )


def _described(text: Field, at: int, span: Measured) -> list[str]:
    """The words of a vessel; those before it too where the size stands behind: "loaf pan (9 x 5 in)"."""
    behind = not text.text[at + len(span.text) :].lower().lstrip(" -").startswith(span.noun.split(" ")[0])
    before = re.findall(r"[a-z]+", text.text[:at].lower())[-3:] if behind else []
    return [*before, *span.noun.split()]


def _count(text: Field, at: int) -> int:
    """The number just before a size: "four 180 ml ramekins"."""
    for place, figure in text.told(Kind.COUNT, 0, at):
        if _BESIDE.fullmatch(text.text, place + len(figure.text), at):
            return int(figure.high)
    return 1


def _pan(text: Field, at: int, span: Measured, noun: list[str]) -> tuple[str, Fraction] | None:
    if span.quantity.dimension is not Dimension.LENGTH or not _PANS & {noun[-1]} or _NO_PANS & set(noun):
        return None
    edges = tuple(side.high for side in span.sides)
    if {"round", "springform"} & set(noun) and len(edges) > 1:  # as wide as deep: "8 × 2-inch round pan"
        volume = Pan(shape="round", edges=edges[:1], depth=edges[1]).volume
        return ("pan", volume) if volume else None
    if "loaf" in noun:
        shape = "loaf"
    elif len(edges) > 1:
        shape = "rectangle"
    elif "square" in noun:
        shape = "square"
    elif {"round", "cake", "springform"} & set(noun):
        shape = "round"
    else:
        return None
    if (shape == "loaf" and len(edges) == 1) or _is_depth(text, at, span):
        return None
    depth = _said_depth(text, at) or _depth(shape, edges, text.recipe.tables)
    volume = Pan(shape=shape, edges=edges[:2], depth=depth).volume
    return ("pan", volume * (TAPER if shape == "loaf" else 1)) if volume else None


def _said_depth(text: Field, at: int) -> Fraction | None:
    """How deep a text says that the pan is whose size stands at a place; None where it doesn't."""
    lengths = text.measures(Kind.LENGTH, Kind.VESSEL, start=at + 1)
    return next(
        (measured.quantity.high for place, measured in lengths if _is_depth(text, place, measured)), None
    )


def _is_depth(text: Field, at: int, span: Measured) -> bool:
    return extent_behind(text.text, at + len(span.text), span.behind) is Extent.DEEP


def _depth(shape: str, edges: tuple[Fraction, ...], tables: Tables) -> Fraction:
    """The depth of the pan sold in that size; the usual one where none is."""
    for sold in pans(tables):
        for pan in (sold.us, sold.metric):
            near = len(pan.edges) == len(edges[:2]) and all(
                abs(mine - theirs) <= 6
                for mine, theirs in zip(sorted(pan.edges), sorted(edges[:2]), strict=True)
            )
            if pan.shape == shape and near and pan.depth:
                return pan.depth
    return DEPTH[shape]


def _hollow(span: Measured, noun: list[str]) -> tuple[str, Fraction] | None:
    if span.quantity.dimension is not Dimension.VOLUME:
        return None
    for sort, nouns in (("cup", _CUPS), ("pot", _POTS)):
        if noun[-1] in nouns:
            return sort, span.quantity.high
    return None


@remembered  # several checks ask about the same recipe in turn
def all_vessels(subject: Subject) -> tuple[Vessel, ...]:
    """The vessels of the steps; those of the equipment where the steps give none of their sort a size."""
    sized = [vessel for place, step in enumerate(subject.steps) for vessel in vessels(step, place)]
    sorts = {vessel.sort for vessel in sized}
    listed = [vessel for text in subject.fields if text.name == "equipment" for vessel in vessels(text, None)]
    deep = {vessel.edges: vessel for vessel in listed if vessel.depth is not None}
    sized = [
        replace(vessel, volume=deep[vessel.edges].volume, depth=deep[vessel.edges].depth)
        if vessel.depth is None and vessel.edges in deep
        else vessel
        for vessel in sized
    ]
    return (*sized, *(vessel for vessel in listed if vessel.sort not in sorts))
