"""Figures in the steps that plainly draw on the list, though no link says so.

A cook who has weighed 330 g of sugar is not told to beat in 360 ml of it: where the amounts that the steps
take of a line come to the whole of it, each is a draw, and prints as its line does. Where they don't, "50 g
of the sugar" is a draw still, and the one that equals its line; of the others nobody can say whether they are
of the list, and they stay measures by themselves.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.language.spans import Draw, Kind, Measured, Share, Span
from cardsmith.measure.larder import words
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import WEIGHED
from cardsmith.recipe.mentions.mentions import How, Mentions, grouped
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Ingredient, Recipe

OF_THE = frozenset({"of", "the"})
# What may follow "50 g of the sugar"; a noun makes another thing of it: "of the butter sauce".
FOLLOWING = frozenset(
    "and or in into on onto over with to until till for from at by then through evenly together while".split()
)
MORE = frozenset({"more", "extra", "additional"})  # between a number and its unit: "1 more cup"


@frozen
class Loose:
    """A measure right before the name of a food, and the lines that it may be of."""

    span: Measured
    lines: tuple[int, ...]
    of_the: bool  # "50 g of the sugar"


def tied(recipe: Recipe, mentions: Mentions) -> Recipe:
    """``recipe`` with those figures as draws; the very same recipe where there are none."""
    lines = recipe.ingredients
    drawn_on = {span.key for step in recipe.steps for span in step.spans if isinstance(span, Draw)}
    meant = ((_line(loose, lines), loose) for loose in _loose(recipe, mentions))
    taken = grouped((place, span) for place, span in meant if place is not None)
    draws: dict[Where, Draw] = {}
    keys: dict[Where, str] = {}
    for place, figures in taken.items():
        line = lines[place]
        drawn = {} if line.key in drawn_on else _drawn(line, figures)
        if drawn:
            keys[line.where] = line.key or f"line {place + 1}"  # no author's key has a blank
            draws |= {where: replace(draw, key=keys[line.where]) for where, draw in drawn.items()}
    return _with(recipe, draws, keys) if draws else recipe


def _with(recipe: Recipe, draws: Mapping[Where, Draw], keys: Mapping[Where, str]) -> Recipe:
    def drawn(span: Span) -> Span:
        return draws.get(span.where, span) if isinstance(span, Measured) else span

    parts = tuple(
        replace(
            part,
            ingredients=tuple(replace(line, key=keys.get(line.where, line.key)) for line in part.ingredients),
            steps=tuple(replace(step, spans=tuple(map(drawn, step.spans))) for step in part.steps),
        )
        for part in recipe.parts
    )
    return replace(recipe, parts=parts)


def _loose(recipe: Recipe, mentions: Mentions) -> Iterator[Loose]:
    places = Counter(
        span.where for step in recipe.steps for span in step.spans if isinstance(span, Measured | Draw)
    )
    for number, step in enumerate(recipe.steps):
        by_name = [mention for mention in mentions.by_step.get(number, ()) if mention.how is How.NAME]
        named = grouped((mention.start, mention.line) for mention in by_name)
        ends = {mention.start: mention.end for mention in by_name}
        starts = sorted(named)
        text = "".join(span.text for span in step.spans)
        end = 0
        for span in step.spans:
            end += len(span.text)
            if not isinstance(span, Measured) or not _is_exact(span) or places[span.where] > 1:
                continue
            place = bisect_left(starts, end)
            if place < len(starts) and _joins(between := text[end : starts[place]]):
                follows = re.match(r"\s+([\w'’]+)", text[ends[starts[place]] :])
                whole_name = follows is None or follows[1].lower() in FOLLOWING
                of_the = whole_name and set(words(between)) >= OF_THE
                yield Loose(span=span, lines=tuple(dict.fromkeys(named[starts[place]])), of_the=of_the)


def _is_exact(span: Measured) -> bool:
    """One weight or volume and nothing beside it: no range, no bound, no second figure, no word between."""
    amount = span.quantity
    if not MORE.isdisjoint(span.text.lower().split()):
        return False  # "1 more cup" says that there was one before
    plain = amount.dimension in WEIGHED and amount.bound is Bound.EXACTLY and not amount.is_range
    return plain and span.kind is Kind.AMOUNT and not (span.adjective or span.stated or amount.is_vague)


def _joins(between: str) -> bool:
    """Whether only small words and descriptions stand between an amount and its food."""
    small = descriptors() | {"of", "the", "your", "this"}
    return set(words(between)) <= small and not re.search(r"[,.;:()]", between)


def _line(loose: Loose, lines: tuple[Ingredient, ...]) -> int | None:
    """The one line that a measure is of; of several that may be meant, the one that lists as much."""
    if len(loose.lines) == 1:
        return loose.lines[0]
    alike = [
        line for line in loose.lines if any(_same(loose.span.quantity, size) for size in _sizes(lines[line]))
    ]
    return alike[0] if len(alike) == 1 else None


def _sizes(line: Ingredient) -> tuple[Quantity, ...]:
    """All that a line says of the whole of it, as weight or volume."""
    stated = (
        quantity
        for quantity, share in zip(line.stated, line.stated_shares, strict=False)
        if share is Share.ALL
    )
    amounts = (*((line.amount,) if line.amount else ()), *stated)
    whole = line.amount is not None and line.amount.dimension in WEIGHED and line.container is None
    return tuple(
        quantity for quantity in amounts if whole and quantity.dimension in WEIGHED and not quantity.is_range
    )


def _same(quantity: Quantity, other: Quantity) -> bool:
    return (quantity.dimension, quantity.low, quantity.high) == (other.dimension, other.low, other.high)


def _drawn(line: Ingredient, figures: Sequence[Loose]) -> dict[Where, Draw]:
    """The draws on one line, by place: all figures where they come to it, else those surely of it."""
    whole = _shares(line, figures)
    if whole is not None and sum(whole) == 1:
        return _as_draws(line, figures, whole, alone=False)
    equal = [figure for figure in figures if _shares(line, [figure]) == [Fraction(1)]]
    sure = [figure for figure in figures if figure.of_the] or (equal if len(equal) == 1 else [])
    shares = _shares(line, sure)
    return {} if shares is None or sum(shares) > 1 else _as_draws(line, sure, shares, alone=True)


def _as_draws(
    line: Ingredient, figures: Sequence[Loose], shares: Sequence[Fraction], *, alone: bool
) -> dict[Where, Draw]:
    by_where: dict[Where, Draw] = {}
    for figure, share in zip(figures, shares, strict=True):
        span, amount = figure.span, line.amount
        taken = replace(amount.times(share), written=span.quantity.written) if amount else None
        by_where[span.where] = Draw(where=span.where, text=span.text, key="", amount=taken, alone=alone)
    return by_where


def _shares(line: Ingredient, figures: Sequence[Loose]) -> list[Fraction] | None:
    """What each takes of the whole line; None where one is of a dimension that the line doesn't say."""
    for size in _sizes(line):
        if all(figure.span.quantity.dimension is size.dimension for figure in figures):
            return [figure.span.quantity.low / size.low for figure in figures]
    return None
