"""The pans, pots and glasses that a recipe names, and what each of them holds."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from cardsmith.check.subject import Subject
from cardsmith.language.spans import Measured
from cardsmith.measure.pans import Pan, pans
from cardsmith.measure.units import Dimension
from cardsmith.recipe.mentions import visible
from cardsmith.recipe.model import Step, Text
from cardsmith.recipe.numbers import WHOLES
from cardsmith.recipe.steps import read_step
from cardsmith.regex import regex
from cardsmith.remember import remembered

DEPTH = {"loaf": Fraction(65), "round": Fraction(50), "square": Fraction(50), "rectangle": Fraction(50)}  # mm
MUFFIN_CUP = Fraction(110)  # ml, to the brim: common practice, no source
_ADJECTIVES = (
    r"(?:\([^)]*\)\s*)?"
    r"(?:(?!(?:of|to|in|into|on|onto|the|an?|and|with|from|over|for|more)\b)(?:[\w-]+|,)\s+){0,4}?"
)
_PAN = regex(
    rf"^\s*(?P<told>{_ADJECTIVES}(?:(?P<shape>loaf|round|square|cake|springform|brownie|baking)\s+)*"
    r"(?:pan|tin|dish)s?)\b",
    re.IGNORECASE,
)
_NO_PAN = regex(r"\b(?:frying|roasting|sheet|sauce|pie|tart|flan|muffin)\b", re.IGNORECASE)
_DEEP = regex(r"^[- ]*(?:deep|depth|high|tall)\b", re.IGNORECASE)
_CUP = regex(
    rf"^\s*{_ADJECTIVES}(?:ramekin|glass|jar|bottle|mou?ld|dariole|pudding basin|cup|pot)(?:e?s)\b",
    re.IGNORECASE,
)
_POT = regex(rf"^\s*{_ADJECTIVES}(?:saucepan|stockpot|pot|casserole|dutch oven|kettle)\b(?!s)", re.IGNORECASE)
_MUFFIN = regex(rf"\b(?P<count>\d+|{'|'.join(WHOLES)})[- ]cup (?:[\w-]+ )?muffin (?:pan|tin)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Vessel:
    """A vessel the steps name: how many, of what volume each in ml, and where."""

    sort: str  # pan, pot, cup
    told: str  # "9-inch round cake pan"
    count: int
    volume: Fraction
    place: Measured | Text
    step: int | None  # its place in ``recipe.steps``; None where only the equipment names it


def vessels(step: Step, place: int | None) -> Iterator[Vessel]:
    """Every vessel with a size in a step."""
    text = visible(step.spans)
    measured: list[tuple[int, Measured]] = []
    at = 0
    for span in step.spans:
        if isinstance(span, Measured):
            measured.append((at, span))
        at += len(span.text)
    for number_, (at, span) in enumerate(measured):
        after = text[at + len(span.text) :]
        deep = next(
            (one for start, one in measured[number_ + 1 :] if _DEEP.match(text[start + len(one.text) :])),
            None,
        )
        found = _pan(span, after, deep) or _hollow(span, after)
        if found is not None:
            sort, told, volume = found
            yield Vessel(sort=sort, told=told, count=_count(text[:at]), volume=volume, place=span, step=place)
    for match in _MUFFIN.finditer(text) if "muffin" in text else ():
        words = match.group("count").lower()
        count = int(words) if words.isdecimal() else WHOLES.index(words) + 1
        here = Text(text=step.text, where=step.where)
        yield Vessel(sort="pan", told=match.group(), count=count, volume=MUFFIN_CUP, place=here, step=place)


def _count(before: str) -> int:
    """The number just before a size: "four 180 ml ramekins"."""
    match = re.search(rf"\b({'|'.join(WHOLES)}|\d+)\s+(?:[a-z]+,?\s+)?$", before, re.IGNORECASE)
    if match is None:
        return 1
    told = match.group(1).lower()
    return int(told) if told.isdecimal() else WHOLES.index(told) + 1


def _pan(span: Measured, after: str, deep: Measured | None) -> tuple[str, str, Fraction] | None:
    match = _PAN.match(after)
    if (
        match is None
        or span.quantity.dimension is not Dimension.LENGTH
        or _NO_PAN.search(match.group("told"))
    ):
        return None
    words = match.group("told").lower()
    edges = tuple(side.high for side in span.sides)
    if "loaf" in words:
        shape = "loaf"
    elif len(edges) > 1:
        shape = "rectangle"
    elif "square" in words:
        shape = "square"
    elif re.search(r"\b(?:round|cake|springform)\b", words):
        shape = "round"
    else:
        return None
    if shape == "loaf" and len(edges) == 1:
        return None
    depth = deep.quantity.high if deep is not None else _depth(shape, edges)
    volume = Pan(shape=shape, edges=edges[:2], depth=depth).volume
    return ("pan", f"{span.text} {match.group('told').strip()}", volume) if volume else None


def _depth(shape: str, edges: tuple[Fraction, ...]) -> Fraction:
    """The depth of the pan sold in that size; the usual one where none is."""
    for sold in pans():
        for one in (sold.us, sold.metric):
            near = len(one.edges) == len(edges[:2]) and all(
                abs(mine - theirs) <= 6
                for mine, theirs in zip(sorted(one.edges), sorted(edges[:2]), strict=True)
            )
            if one.shape == shape and near and one.depth:
                return one.depth
    return DEPTH[shape]


def _hollow(span: Measured, after: str) -> tuple[str, str, Fraction] | None:
    if span.quantity.dimension is not Dimension.VOLUME:
        return None
    for sort, words in (("cup", _CUP), ("pot", _POT)):
        match = words.match(after)
        if match is not None:
            return sort, f"{span.text} {match.group().strip()}", span.quantity.high
    return None


@remembered  # several checks ask about the same recipe in turn
def all_vessels(subject: Subject) -> tuple[Vessel, ...]:
    """The vessels of the steps; those of the equipment where the steps give none of their sort a size."""
    found = [one for place, step in enumerate(subject.recipe.steps) for one in vessels(step, place)]
    sorts = {one.sort for one in found}
    for thing in (one for one in subject.recipe.equipment if re.search(r"\d", one.text)):
        step, _ = read_step(thing.text, thing.where, subject.recipe.measures)
        found += [one for one in vessels(step, None) if one.sort not in sorts]
    return tuple(found)
