"""A yield against what is counted beside it: rows that a slab is cut in, skewers and jars at hand."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from cardsmith.check.amounts.volumes import impossible
from cardsmith.check.registry import Query, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind
from cardsmith.measure.larder import words
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Yield
from cardsmith.regex import regex

GRAVE = Fraction(3, 2)  # times another figure of the same recipe, from which one of them prints wrong


def by_rows(subject: Subject, yields: Yield) -> Iterator[Query]:
    """A slab cut in so many rows by so many that gives another number of pieces: "cut 6 by 4"."""
    if yields.makes_count is None or yields.makes is None or yields.makes_high is not None:
        return
    for step in subject.steps:
        for (at, rows), (then, each) in pairwise(step.told(Kind.COUNT)):
            between = step.text[at + len(rows.text) : then].strip().lower()
            made = rows.high * each.high
            cuts = CUTS.search(step.before(at)) is not None and between == "by"
            if (
                cuts
                and made != yields.makes_count
                and yields.makes_count > 1
                and not rows.noun
                and not each.noun
            ):
                what = f"{rows.text} by {each.text} gives {number(made)} pieces"
                more, less = max(made, yields.makes_count), min(made, yields.makes_count)
                severity = Severity.ERROR if more >= less * GRAVE else None
                yield query(
                    step.spot(rows.text, at), f"{what}, the yield says {yields.makes.text}", "", severity
                )
                return


CUTS = regex(r"\b(?:cut|mark|score|slice|divide)\b[^.;]*$", re.IGNORECASE)


def by_equipment(subject: Subject, yields: Yield) -> Iterator[Query]:
    """Fewer skewers, jars or hollows of a tin at hand than are made, and no word of a second batch."""
    if yields.makes_count is None or yields.makes is None or yields.makes_count <= 1:
        return
    names = {word for word in words(yields.makes_item) if len(word) > 2}
    if any(AGAIN.search(step.text) for step in subject.steps):
        return
    for text in subject.fields:
        for _, figure in text.told(Kind.COUNT) if text.name == "equipment" else ():
            noun = words(figure.noun)[-1:] if figure.noun else ()
            mine = set(noun) & names
            if mine and 1 < figure.high < yields.makes_count:
                severity = Severity.ERROR if yields.makes_count >= figure.high * GRAVE else None
                what = f"the yield says {yields.makes.text}, and there are {figure.text} {figure.noun}"
                yield query(yields.makes, what, "mend the number that is wrong", severity)
                return


def by_piece(subject: Subject, yields: Yield) -> Iterator[Query]:
    """Pieces whose weight only a step gives: "drop in mounds (about 1 oz each)", "roll in balls of 38 g"."""
    if (
        yields.piece is not None
        or yields.makes_count is None
        or yields.makes is None
        or yields.makes_count <= 1
    ):
        return
    for step in subject.steps:
        for at, size in step.measures(Kind.AMOUNT):
            behind = step.text[at + len(size.text) :].lstrip()
            if size.quantity.dimension is Dimension.MASS and (
                (EACH.match(behind) and SHAPED.search(step.before(at))) or OF_PIECES.search(step.before(at))
            ):
                yield from impossible(subject, yields.makes, yields.makes_count * size.quantity.low, None)
                return


EACH = regex(r"each\b", re.IGNORECASE)
OF_PIECES = regex(
    r"\b(?:drop|scoop|shape|roll|form|portion)\b[^.;]*\b(?:mounds|balls) of (?:about |roughly )?$",
    re.IGNORECASE,
)
SHAPED = regex(
    r"\b(?:drop|scoop|shape|roll|form|divide|portion)\b[^.;]*\b(?:mounds?|balls?|pieces?|portions?|buns?|rolls?"
    r"|cookies|biscuits|rounds?|patties|heaps?|scoops)\b[^.;]*$",
    re.IGNORECASE,
)

AGAIN = regex(
    r"\b(?:batch\w*|in turn|repeat|again|at a time|second (?:tin|pan|tray)|the rest of the)\b", re.IGNORECASE
)
