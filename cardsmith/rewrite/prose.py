"""Measures in running text, in both systems, as an editor would write them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from types import MappingProxyType

from cardsmith.finding import Where
from cardsmith.house import House
from cardsmith.language.spans import Draw, Measured, Protected, Purpose, Span, Words
from cardsmith.measure.larder import words as larder_words
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.regex import regex
from cardsmith.rewrite.capacity import capacity_text, is_vessel
from cardsmith.rewrite.card import Dual, Rewritten, Timed
from cardsmith.rewrite.dual import single_dual
from cardsmith.rewrite.length import is_pan, length_text
from cardsmith.rewrite.printable import Subject
from cardsmith.rewrite.ranges import dual_range
from cardsmith.rewrite.temperature import change_text, oven_extras, temperature_text
from cardsmith.rewrite.wording import NO_BREAK, WORDS, Term, range_text, terms_text

MOST_PARTS = 10  # tenths in metric, eighths in US units; a finer figure was added up, not written
NO_ITEMS: Mapping[str, str] = MappingProxyType({})
OF_THE = regex(r" of (?:the|your)(?= )")
# After these a length is a noun ("2 mm thick"); before any other word it describes one ("a 2 cm dice").
NOUN_FOLLOWERS = frozenset(
    "thick deep wide long high tall apart across from of and or in to at until then by above below on with "
    "for between inside all per so".split()
)

# A weight or a volume before one of these describes it: 3½-ounce (100 g) pieces.
PIECES = frozenset(
    "piece pieces portion portions ball balls bun buns roll rolls loaf loaves round rounds batch batches "
    "scoop scoops patty patties bar bars block blocks dollop dollops".split()
)
ARTICLE = regex(r"\b(a)n?(?=[ \u00a0]$)", re.IGNORECASE)
SAID_WITH_A_VOWEL = regex(r"8|1[18](?![0-9])")  # eight, eighty, eleven, eighteen


def rewrite_spans(
    spans: tuple[Span, ...], amounts: Mapping[Where, Dual], house: House, items: Mapping[str, str] = NO_ITEMS
) -> tuple[Words | Protected | Rewritten, ...]:
    """The spans of a step or a headnote with every measure in both systems.

    ``items`` names each keyed ingredient, so that an amount can follow the whole phrase it belongs to.
    """
    written = [_rewritten(spans, place, amounts, house) for place in range(len(spans))]
    for place, span in enumerate(spans):
        following = written[place + 1] if place + 1 < len(written) else None
        drawn = written[place]
        if isinstance(span, Draw) and isinstance(drawn, Rewritten) and isinstance(following, Words):
            phrase = _phrase(following.text, items.get(span.key, "")) if drawn.text != drawn.author else ""
            if phrase and drawn.text.startswith(f"{span.text} ("):
                amount = drawn.text.removeprefix(span.text)
                written[place] = replace(drawn, text=f"{span.text}{phrase}{amount}")
                written[place + 1] = replace(following, text=following.text.removeprefix(phrase))
    for place, (before, one) in enumerate(pairwise(written)):
        if isinstance(before, Words) and isinstance(one, Rewritten):
            written[place] = replace(before, text=ARTICLE.sub(_article(one.text), before.text))
    return tuple(written)


def _article(number: str) -> str:
    """What ``a`` and ``an`` become before a rewritten number: a 20 cm tin is an 8-inch one."""
    return r"\1n" if SAID_WITH_A_VOWEL.match(number) else r"\1"


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
    return _measured(span, _before(spans, place), _following(spans, place), house)


def _before(spans: tuple[Span, ...], place: int) -> str:
    before = spans[place - 1] if place else None
    return before.text if isinstance(before, Words | Protected) else ""


def _following(spans: tuple[Span, ...], place: int) -> str:
    after = spans[place + 1] if place + 1 < len(spans) else None
    return after.text if isinstance(after, Words | Protected) else ""


def _draw(span: Draw, dual: Dual | None, house: House) -> Words | Rewritten:
    """A draw prints the amount drawn; *the rest* and shares keep their words and add it."""
    if dual is None or dual.us is None or dual.metric is None:
        return Words(text=span.text)
    us, metric = dual.us.long or dual.us.text, dual.metric.long or dual.metric.text
    both = _both(us, metric, house, inside=bool(span.rest or span.share is not None))
    if span.rest or span.share is not None:
        text = f"{span.text} ({both})"
    else:
        words = span.text.removeprefix(span.amount.written) if span.amount else ""
        text = f"{both}{words}"
    return Rewritten(
        text=text,
        metric=metric,
        us=us,
        author=dual.author,
        where=span.where,
        exact=dual.exact,
        ingredient=span.key,
        dimension=dual.dimension,
        us_error=dual.us_error,
        metric_error=dual.metric_error,
        assumed=dual.assumed,
    )


def _both(us: str, metric: str, house: House, *, inside: bool) -> str:
    """``325 °F (160 °C)``, or ``325 °F / 160 °C`` where brackets stand around it already."""
    first, second = (us, metric) if house.order[0] == "us" else (metric, us)
    if first == second:
        return first
    return f"{first} / {second}" if inside else f"{first} ({second})"


def _measured(span: Measured, before: str, following: str, house: House) -> Words | Rewritten:
    quantity = span.quantity
    dimension = quantity.dimension
    if dimension is Dimension.DURATION:
        return Timed(text=span.text, low=quantity.low, high=quantity.high)
    if quantity.is_vague or quantity.unit.system is System.UNKNOWN:
        return Words(text=span.text)
    if dimension is Dimension.TEMPERATURE:
        us, metric = (temperature_text(quantity, span.purpose, system) for system in ("us", "metric"))
        if span.purpose is Purpose.OVEN:
            metric += oven_extras(quantity, house.oven)
    elif dimension is Dimension.TEMPERATURE_CHANGE:
        us, metric = (change_text(quantity, span.purpose, system) for system in ("us", "metric"))
    elif dimension is Dimension.LENGTH:
        us, metric = _sizes(span, following)
    elif dimension in {Dimension.MASS, Dimension.VOLUME}:
        us, metric = _loose(span, following, house)
        if not quantity.is_range and (ARTICLE.search(before) or _first_word(following) in PIECES):
            us = _describing(us)
    else:
        return Words(text=span.text)
    bound = f"{quantity.bound} " if span.says_bound else ""
    return Rewritten(
        text=bound + _both(us, metric, house, inside=False),
        metric=metric,
        us=us,
        author=span.text,
        where=span.where,
        purpose=span.purpose or (Purpose.OTHER if dimension is Dimension.TEMPERATURE else None),
        exact=quantity.low,
        dimension=dimension,
    )


def _sizes(span: Measured, following: str) -> tuple[str, str]:
    """``9-by-13-inch (23 × 33 cm)`` before a noun, ``1⁄16 inch (2 mm)`` elsewhere."""
    pan = is_pan(span.sides, following)
    describes = span.adjective or _first_word(following) not in NOUN_FOLLOWERS | {""}
    us = [length_text(side, "us", long=True, pan=pan) for side in span.sides]
    metric = [length_text(side, "metric", long=False, pan=pan) for side in span.sides]
    inches = _joined(us, " by ")
    if describes:
        inches = _describing(inches)
    return inches, _joined(metric, " × ")


def _first_word(following: str) -> str:
    match = re.match(r"[ \u00a0]([a-z]+)", following)
    return match[1] if match else ""


def _describing(measure: str) -> str:
    """``9 by 13 inches`` as it stands before a noun: ``9-by-13-inch``."""
    number, _, unit = measure.rpartition(NO_BREAK)
    singular = {"inches": "inch"}.get(unit, unit.removesuffix("s"))
    simple = number and NO_BREAK not in number
    return f"{number}-{singular}".replace(" ", "-") if simple else measure


def _joined(sides: list[str], joint: str) -> str:
    """Several edges with their unit said once: ``23 × 33 cm``."""
    units = {side.rpartition(NO_BREAK)[2].removesuffix("es") for side in sides}
    if len(sides) == 1 or len(units) > 1:
        return joint.join(sides)
    return joint.join([*(side.rpartition(NO_BREAK)[0] for side in sides[:-1]), sides[-1]])


def _loose(span: Measured, following: str, house: House) -> tuple[str, str]:
    """A weight or volume in prose that is tied to no ingredient: weights stay weights, volumes volumes.

    The author's own figure stays in its own system; only the other is computed.
    """
    quantity = span.quantity
    if quantity.dimension is Dimension.VOLUME and not quantity.is_range and is_vessel(following):
        return capacity_text(quantity, "us"), capacity_text(quantity, "metric")
    low = Subject(exact=quantity.low, dimension=quantity.dimension, unit=quantity.unit, food=None)
    high = low.times(quantity.high / quantity.low) if quantity.low else low
    dual = (
        dual_range(low, high, span.text, house) if quantity.is_range else single_dual(low, span.text, house)
    )
    us, metric = dual.us, dual.metric
    if us is None or metric is None:
        raise AssertionError("a weight or a volume prints in both systems")
    own = own_text(quantity, long=True)
    in_us = quantity.unit.system is System.US
    return (
        own if own and in_us else us.long or us.text,
        own if own and not in_us else metric.long or metric.text,
    )


def own_text(quantity: Quantity, *, long: bool) -> str:
    """The author's figure in the author's unit, spelled the house way; empty where it was added up."""
    if quantity.unit.name not in WORDS or quantity.unit.system not in {System.US, System.METRIC}:
        return ""
    low, high = (
        Term(number=quantity.unit.from_base(end), unit=quantity.unit.name)
        for end in (quantity.low, quantity.high)
    )
    if any(term.number.denominator > MOST_PARTS for term in (low, high)):
        return ""
    return range_text(low, high, long=long) if quantity.is_range else terms_text((low,), long=long)
