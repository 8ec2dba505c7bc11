"""Figures in the steps that plainly draw on the list, though no link says so.

A cook who has weighed 330 g of sugar is not told to beat in 360 ml of it: where the amounts that the steps
take of a line come to the whole of it, each is a draw, and prints as its line does. Where they don't, nobody
can say which of them are of the list, and they stay measures by themselves.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace

from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.language.spans import Draw, Kind, Measured, Share, Span
from cardsmith.measure.larder import words
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import WEIGHED
from cardsmith.recipe.mentions.mentions import How, Mentions, grouped
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Ingredient, Recipe

MORE = frozenset({"more", "extra", "additional"})  # between a number and its unit: "1 more cup"


@frozen
class Loose:
    """A measure right before the name of a food, and the lines that it may be of."""

    span: Measured
    lines: tuple[int, ...]


def tied(recipe: Recipe, mentions: Mentions) -> Recipe:
    """``recipe`` with those figures as draws; the very same recipe where there are none."""
    lines = recipe.ingredients
    drawn_on = {span.key for step in recipe.steps for span in step.spans if isinstance(span, Draw)}
    meant = ((_line(loose, lines), loose.span) for loose in _loose(recipe, mentions))
    taken = grouped((place, span) for place, span in meant if place is not None)
    draws: dict[Where, Draw] = {}
    keys: dict[Where, str] = {}
    for place, spans in taken.items():
        line = lines[place]
        if line.key in drawn_on or (amounts := _shares(line, [span.quantity for span in spans])) is None:
            continue
        keys[line.where] = line.key or f"line {place + 1}"  # no author's key has a blank
        for span, amount in zip(spans, amounts, strict=True):
            draws[span.where] = Draw(where=span.where, text=span.text, key=keys[line.where], amount=amount)
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
        named = grouped(
            (one.start, one.line) for one in mentions.by_step.get(number, ()) if one.how is How.NAME
        )
        starts = sorted(named)
        text = "".join(span.text for span in step.spans)
        end = 0
        for span in step.spans:
            end += len(span.text)
            if not isinstance(span, Measured) or not _is_exact(span) or places[span.where] > 1:
                continue
            place = bisect_left(starts, end)
            if place < len(starts) and _joins(text[end : starts[place]]):
                yield Loose(span=span, lines=tuple(dict.fromkeys(named[starts[place]])))


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
        one for one in loose.lines if any(_same(loose.span.quantity, size) for size in _sizes(lines[one]))
    ]
    return alike[0] if len(alike) == 1 else None


def _sizes(line: Ingredient) -> tuple[Quantity, ...]:
    """All that a line says of the whole of it, as weight or volume."""
    stated = (one for one, share in zip(line.stated, line.stated_shares, strict=False) if share is Share.ALL)
    amounts = (*((line.amount,) if line.amount else ()), *stated)
    whole = line.amount is not None and line.amount.dimension in WEIGHED and line.container is None
    return tuple(one for one in amounts if whole and one.dimension in WEIGHED and not one.is_range)


def _same(one: Quantity, other: Quantity) -> bool:
    return (one.dimension, one.low, one.high) == (other.dimension, other.low, other.high)


def _shares(line: Ingredient, taken: list[Quantity]) -> tuple[Quantity, ...] | None:
    """What is taken each time as a share of the line's amount; None where it doesn't come to all of it."""
    for size in _sizes(line):
        alike = all(one.dimension is size.dimension for one in taken)
        if line.amount and alike and sum(one.low for one in taken) == size.low:
            return tuple(replace(line.amount.times(one.low / size.low), written=one.written) for one in taken)
    return None
