"""Measures in running text, in both systems, as an editor would write them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from types import MappingProxyType

from cardsmith.finding import Where
from cardsmith.house.style import House
from cardsmith.language.spans import KEEPING, Draw, Kind, Measured, Protected, Purpose, Span, Words
from cardsmith.language.tokens import DASHES
from cardsmith.measure.larder import words as larder_words
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import COLUMNS, WEIGHED, Dimension, System, unit_words
from cardsmith.recipe.mentions.tied import MORE
from cardsmith.regex import regex
from cardsmith.rewrite.card.model import Rewritten, Timed
from cardsmith.rewrite.printed import DEGREES, Dual, Printed, dual_of
from cardsmith.rewrite.rounding.dual import in_column
from cardsmith.rewrite.rounding.food_amount import FoodAmount
from cardsmith.rewrite.rounding.printable import own_term
from cardsmith.rewrite.rounding.sizes import size
from cardsmith.rewrite.rounding.temperature import (
    MINIMA,
    change,
    is_of_edition,
    is_said_again,
    point,
    setting,
)
from cardsmith.rewrite.wording import Style, begins_with_vowel

APART = Fraction(1, 10)  # what is said again is the first within a tenth; "½ inch (1 cm)" within three
THIN, THIN_APART = Fraction(127, 10), Fraction(3, 10)  # mm: half an inch
NO_ITEMS: Mapping[str, str] = MappingProxyType({})
OF_THE = regex(r" of (?:the|your)(?= )")
# A weight or a volume before one of these describes it: 3½-ounce (100 g) pieces.
PIECES = frozenset(
    "piece pieces portion portions ball balls bun buns roll rolls loaf loaves round rounds batch batches "
    "scoop scoops patty patties bar bars block blocks dollop dollops "
    "pack packs packet packets package packages tin tins jar jars bag bags box boxes tub tubs "
    "spoon spoons spoonful spoonfuls".split()
)
FILLED = frozenset({Bound.SCANT, Bound.GENEROUS, Bound.ROUNDED, Bound.HEAPING})  # by hand
PRIMES = frozenset("′'’m")  # a draft's marks of minutes
SIZES = frozenset({Dimension.LENGTH, Dimension.PRESSURE})
SAME_SETTING = 5  # °C that two figures of one setting may lie apart
SAME_READING = 1  # °C that two figures of one reading may: 190 °C and 375 °F
ARTICLE = regex(r"\b(a)n?(?=[ \u00a0]$)", re.IGNORECASE)


def rewrite_spans(
    spans: tuple[Span, ...], amounts: Mapping[Where, Dual], house: House, items: Mapping[str, str] = NO_ITEMS
) -> tuple[Words | Protected | Rewritten, ...]:
    """The spans of a step or a headnote with every measure in both systems.

    ``items`` names each keyed ingredient, so that an amount can follow the whole phrase it belongs to.
    """
    written = [_rewritten(spans, place, amounts, house) for place in range(len(spans))]
    for place, (span, (drawn, following)) in enumerate(zip(spans, pairwise([*written, None]), strict=True)):
        if isinstance(span, Draw) and isinstance(drawn, Rewritten) and isinstance(following, Words):
            phrase = _phrase(following.text, items.get(span.key, "")) if drawn.in_brackets else ""
            written[place] = replace(drawn, lead=f"{span.text}{phrase} (") if phrase else drawn
            written[place + 1] = replace(following, text=following.text[len(phrase) :])
    depth = 0
    for place, piece in enumerate(written):
        if isinstance(piece, Rewritten):
            written[place] = replace(piece, in_brackets=True) if depth > 0 else piece
        else:
            depth = max(depth + piece.text.count("(") - piece.text.count(")"), 0)
    for place, (before, piece) in enumerate(pairwise(written)):
        if isinstance(before, Words) and isinstance(piece, Rewritten) and not piece.lead:
            text = with_article(before.text, piece.amount.of(piece.order[0]))
            written[place] = replace(before, text=text) if text != before.text else before
        if isinstance(before, Rewritten) and isinstance(piece, Words) and before.style is Style.BEFORE_NOUN:
            apart = piece.text[:1] in DASHES and piece.text[1:2].isalpha()  # 1-inch (2.5 cm) thick
            written[place + 1] = replace(piece, text=f" {piece.text[1:]}") if apart else piece
    return tuple(written)


def with_article(text: str, printed: Printed) -> str:
    """``text`` with the *a* or *an* at its end as the number after it wants: a 20 cm tin is an 8-inch one."""
    return ARTICLE.sub(r"\1n" if begins_with_vowel(printed) else r"\1", text)


def _phrase(following: str, item: str) -> str:
    """`` of the butter``, where the words after a draw only name what it is drawn from; else empty."""
    match = OF_THE.match(following)
    if not match:
        return ""
    names = set(larder_words(item))
    end = match.end()
    for word in re.finditer(r" ([\w’'-]+)", following):
        if word.start() < match.end():
            continue
        if word.start() != end or not set(larder_words(word[1])) <= names:
            break
        end = word.end()
    return following[:end] if end > match.end() else ""


def _rewritten(
    spans: tuple[Span, ...], place: int, amounts: Mapping[Where, Dual], house: House
) -> Words | Protected | Rewritten:
    span = spans[place]
    if isinstance(span, Words | Protected):
        return span
    if isinstance(span, Draw):
        return _draw(span, amounts.get(span.where), house)
    before = spans[place - 1] if place else None
    written = _measured(span, before.text if isinstance(before, Words) else "", house)
    if not isinstance(written, Rewritten):
        return written
    if _is_rate(span):
        return _as_rate(written, span, house)
    figure = (
        "".join(span_before.text for span_before in spans[max(place - 2, 0) : place])
        .rstrip()[-1:]
        .isnumeric()
    )
    return _in_words(written, span, behind_figure=figure)


def _is_rate(span: Measured) -> bool:
    """Whether the number of one goes unsaid: minutes per pound."""
    quantity = span.quantity
    unit = quantity.written.lower().removeprefix("the ")
    named = unit in unit_words(quantity.unit.system) and not span.adjective  # "inch slices" are of 1 inch
    return named and quantity.low == quantity.high == quantity.unit.size


def _as_rate(written: Rewritten, span: Measured, house: House) -> Rewritten:
    """Per pound (450 g), to the pound, a pound, never 1 pound, where that is the first column's unit."""
    unit, first = span.quantity.unit, house.order[0]
    article = span.text.lower().split()[0]
    if unit.system is not COLUMNS[first]:
        return replace(written, lead="per ") if article in {"a", "an"} else written
    leads = f"{article} " if article in {"a", "an", "the"} else ""
    column = replace(written.amount.of(first), words=f"{leads}{unit.name}")
    us, metric = (column if system == first else written.amount.of(system) for system in ("us", "metric"))
    return replace(written, amount=replace(written.amount, us=us, metric=metric))


def _in_words(written: Rewritten, span: Measured, *, behind_figure: bool) -> Rewritten:
    """A number before its noun as its author spelled it, where it is part of one, or stands behind a figure.

    "4 half-pint jars", never 4½; "24 three-inch cookies", never 243.
    """
    quantity = span.quantity
    spelled = quantity.written[:1].isalpha() and quantity.unit.system is System.US
    part = spelled and (quantity.low < quantity.unit.size or behind_figure)
    single = len(span.sides) == 1 and not quantity.is_range  # several edges stand in figures, each of them
    if not (part and single) or written.style is not Style.BEFORE_NOUN or quantity.dimension in DEGREES:
        return written
    return replace(
        written,
        amount=replace(
            written.amount, us=replace(written.amount.us, words=quantity.written.removeprefix(written.lead))
        ),
    )


def _draw(span: Draw, dual: Dual | None, house: House) -> Words | Rewritten:
    """A draw prints the amount drawn; *the rest* and shares keep their words and add it."""
    if dual is None:
        return Words(text=span.text)
    shared = span.rest or span.share is not None
    words = span.text.removeprefix(span.amount.written) if span.amount else ""
    return Rewritten(
        amount=_said_once(dual),
        order=house.order,
        where=span.where,
        lead=f"{span.text} (" if shared else "",
        tail=")" if shared else words,
        in_brackets=shared,
        ingredient=span.key,
    )


def _said_once(dual: Dual) -> Dual:
    """A number of pieces alone; what they weigh stands in the list."""
    us, metric = dual.us, dual.metric
    if us.dimension is not Dimension.COUNT or (us.low, us.high) != (metric.low, metric.high):
        return dual
    return replace(dual, us=replace(us, beside=()), metric=replace(metric, beside=()))


def _measured(span: Measured, before: str, house: House) -> Words | Rewritten:
    quantity = span.quantity
    if quantity.dimension is Dimension.DURATION:
        primed = span.text[-1:] in PRIMES and quantity.unit.name == "minute"
        return Timed(text=f"{span.text[:-1].rstrip()} minutes" if primed else span.text, quantity=quantity)
    no_dial = quantity.unit.system is System.GAS and setting(quantity, quantity.low, house.reference) is None
    # An altitude may begin at nothing, 0 to 1,000 feet; an amount of food that does has no share to print.
    least = quantity.high if quantity.dimension in SIZES else quantity.low
    nothing = quantity.dimension not in DEGREES and least <= 0
    if quantity.is_vague or quantity.unit.system is System.UNKNOWN or no_dial or nothing:
        return Words(text=span.text)
    if quantity.dimension not in DEGREES | SIZES | WEIGHED:
        return Words(text=span.text)
    if not span.says_bound and any(side.bound is not Bound.EXACTLY for side in span.sides):
        span = replace(span, sides=tuple(replace(side, bound=Bound.EXACTLY) for side in span.sides))
    between = quantity.is_range and span.text.lower().startswith("between ")
    us, metric = (_in_column(span, house, system) for system in ("us", "metric"))
    if between:
        us, metric = replace(us, between=True), replace(metric, between=True)
    if before.split()[-1:] == ["per"]:
        us, metric = (
            _one_unsaid(printed) if house.order[0] == system else printed
            for system, printed in (("us", us), ("metric", metric))
        )
    point_ = quantity.dimension is Dimension.TEMPERATURE
    return Rewritten(
        amount=dual_of(span.text, span.sides, us, metric),
        order=house.order,
        where=span.where,
        lead=span.text[: len("between ")] if between else _lead(span),
        tail=f" {span.behind}" if span.behind else "",
        style=Style.BEFORE_NOUN if _describes(span, before) else Style.SENTENCE,
        purpose=span.purpose or (Purpose.OTHER if point_ else None),
    )


def _one_unsaid(printed: Printed) -> Printed:
    """``per pound``, not per 1 pound."""
    term, *more = printed.high
    single = not more and printed.low == printed.high and term.number == 1 and not printed.words
    return replace(printed, words=term.unit.name) if single else printed


def _lead(span: Measured) -> str:
    """What goes before the number: "another", or the article of "a heaped tablespoon", "a quart jar"."""
    named = (span.says_bound and span.quantity.bound in FILLED) or span.kind is Kind.VESSEL
    article = named and span.text.lower().startswith("a ")
    return "another " if _is_more(span.text) else "a " if article else ""


def _is_more(text: str) -> bool:
    """Whether an amount comes on top of another: "1 more cup", "2 extra spoons"; not "1 or more cups"."""
    words = text.lower().split()
    return any(word in MORE and before not in {"or", ""} for before, word in pairwise(["", *words]))


def _in_column(span: Measured, house: House, system: str) -> Printed:
    quantity = span.quantity
    if quantity.dimension is Dimension.TEMPERATURE:
        return point(
            _setting(span, system, house), span.purpose, system, house.oven, house.reference, house.edition
        )
    if quantity.dimension is Dimension.TEMPERATURE_CHANGE:
        return change(quantity, span.purpose, system)
    kind, sides = span.kind, _own_sides(span, system)
    if quantity.dimension in SIZES or (kind is Kind.VESSEL and quantity.dimension is Dimension.VOLUME):
        return size(sides, kind, system, house.reference)
    return as_measured(sides[0], house, system)


def _own_sides(span: Measured, system: str) -> tuple[Quantity, ...]:
    """The measure as its author said it in this column's units, if that means the same, else as first."""
    for own in (span.sides, *span.said_again()):
        alike = all(_is_same(quantity, first) for quantity, first in zip(own, span.sides, strict=True))
        if alike and all(quantity.unit.system is COLUMNS[system] for quantity in own):
            return tuple(replace(quantity, bound=span.quantity.bound) for quantity in own)
    return span.sides


def _setting(span: Measured, system: str, house: House) -> Quantity:
    """The heat that the author gave on this column's scale, if it means the same.

    A limit of safety does so only to the nearest degree, and gives way to a stricter one of the edition.
    """
    own = next((quantity for quantity in span.stated if quantity.unit.system is COLUMNS[system]), None)
    if own is None:
        return span.quantity
    if span.purpose in MINIMA | KEEPING:
        kept = is_said_again(own, span.quantity) and not is_of_edition(span.quantity, house.edition)
        return replace(own, bound=span.quantity.bound) if kept else span.quantity
    apart = max(abs(own.low - span.quantity.low), abs(own.high - span.quantity.high))
    most = SAME_SETTING if span.purpose is Purpose.OVEN else SAME_READING
    return replace(own, bound=span.quantity.bound) if apart <= most else span.quantity


def _is_same(quantity: Quantity, first: Quantity) -> bool:
    """Whether a size said again may be the first, rounded; a check asks about others.

    "Just over 2½ lb" is more than it says: 1.2 kg is as many pounds as it is.
    """
    if quantity.bound not in {first.bound, Bound.EXACTLY, Bound.ABOUT}:
        return False
    thin = first.dimension is Dimension.LENGTH and first.middle <= THIN
    near = abs(quantity.middle - first.middle) <= (THIN_APART if thin else APART) * first.middle
    return quantity.dimension is not first.dimension or near


def as_measured(quantity: Quantity, house: House, system: str) -> Printed:
    """A weight or a volume tied to no ingredient: weights stay weights, volumes volumes.

    The author's own figure stays in its own column; only the other is computed.
    """
    ends = [(quantity.low, quantity.unit), (quantity.high, quantity.high_unit or quantity.unit)]
    low, high = (own_term(quantity, end, COLUMNS[system], unit) for end, unit in ends)
    if low and high:
        return Printed(low=(low,), high=(high,), bound=quantity.bound)
    return replace(in_column(FoodAmount(amount=quantity), house, system), bound=quantity.bound)


def _describes(span: Measured, before: str) -> bool:
    """Whether the measure stands before its noun: 9-by-13-inch pan, a 3⅓-pound chicken, (2-inch) piece."""
    amount = span.kind is Kind.AMOUNT and span.quantity.dimension in WEIGHED
    named = span.noun.split(" ")[0] in PIECES or ARTICLE.search(before) is not None
    opens = before == "(" and span.quantity.dimension is Dimension.LENGTH
    return span.adjective or (amount and named) or opens
