"""Amounts: numbers with their unit, ranges, sums, and what the words beside them say.

    amount  = [bound] ends
    ends    = "between" number "and" number unit | sum [joint sum] | number joint number unit
            | number unit "or two"
    joint   = "to" | "or" | a dash | "-to-"            two sizes that are one in two systems are the first
    sum     = term { ["plus" | "and" | "+" | "minus" | "less"] term }      of one dimension
    term    = number ["-"] { size | bound | handling } unit

>>> def ends(text):
...     one = amount_in(text).quantity
...     return str(one.unit.from_base(one.low)), str(one.unit.from_base(one.high)), one.bound
>>> ends("about 2 cups")
('2', '2', <Bound.ABOUT: 'about'>)
>>> ends("between 2 and 3 cups")[:2], ends("500 g to 1 kg mussels")[:2], ends("a minute or two")[:2]
(('2', '3'), ('500', '1000'), ('1', '2'))
>>> ends("6-to-8 cups")[:2], ends("2 or 3 lb")[:2]
(('6', '8'), ('2', '3'))
>>> ends("1 lb 2 oz plums")[0], ends("a pound and a half")[0], ends("1 cup less 2 tbsp")[0], ends("1 h 30")[0]
('9/8', '3/2', '7/8', '3/2')
>>> ends("2 large heaped teaspoons")[2], amount_in("1 packed cup").handling, amount_in("9-inch").joined
(<Bound.HEAPING: 'heaping'>, 'packed', True)
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from cardsmith.language.faults import Fault, fault_at
from cardsmith.language.figures.bounds import bound_after, bound_before
from cardsmith.language.figures.numbers import Form
from cardsmith.language.figures.terms import ONE, SIZES, Amount, size_at, term_at
from cardsmith.language.tokens import DASHES, TILDES, TokenKind, Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System, units

__all__ = [
    "ONE",
    "SIZES",
    "Amount",
    "amount_at",
    "ends_at",
    "joint_at",
    "nothing",
    "reversed_range",
    "size_at",
]

_CLOSING = frozenset({"", ".", ",", ";", ")", "to", "until", "or", "total", "in"})
SAME = Fraction(1, 10)  # two sizes nearer than this are one size in two systems
_SUBUNITS = {"hour": "minute", "minute": "second"}  # 1 h 30


@lru_cache(maxsize=1 << 12)  # several productions ask about one place
def amount_at(tokens: Tokens, at: int, measures: System = System.US) -> Amount | None:
    """The amount that begins at token ``at``, its bound included; None where none does."""
    bound, place = bound_before(tokens, at)
    total = _ends(tokens, place, measures)
    if total is None and place > at:
        bound, place = Bound.EXACTLY, at  # "a scant cup": the article is the number
        total = _ends(tokens, place, measures)
    quantity = total.quantity if total else None
    if total is None or quantity is None:
        return total
    if total.article and bound is not Bound.EXACTLY:
        total = replace(total, form=Form.WORDS)  # "a scant cup"
    if quantity.is_vague and bound.is_unlevel:
        bound = Bound.EXACTLY  # "a good glug": its author's words say it
    if quantity.bound is Bound.EXACTLY:
        own_bound = bound if bound is not Bound.EXACTLY else bound_after(tokens, total.end)[0]
        quantity = quantity if own_bound is Bound.EXACTLY else replace(quantity, bound=own_bound)
    if place > at:
        quantity = replace(quantity, written=tokens.between(at, total.end))
    same = quantity is total.quantity and total.first == at
    return total if same else replace(total, first=at, quantity=quantity)


def _ends(tokens: Tokens, at: int, measures: System) -> Amount | None:
    """One sum, or the two ends of a range."""
    if tokens[at].low in {"between", "from"}:
        closing = "and" if tokens[at].low == "between" else "to"
        return ends_at(tokens, at + 1, measures, closing=closing, first=at)
    first = _sum(tokens, at, measures)
    if first is None or first.quantity is None or first.quantity.is_range:
        return first
    place = joint_at(tokens, first.end)
    if place is None or (first.article and not first.has_unit):
        return first
    second = _sum(tokens, place, measures)
    if second is None or (second.article and not (second.has_unit and first.has_unit)):
        return first
    if tokens[at - 1].low == "from" and _runs_down(first, second):
        return first
    if first.has_unit and tokens[first.end].low == "or":
        return _or_two(tokens, first, second) or first  # alternatives: "1 cup or 240 ml"
    return _range(tokens, first, second) or first


def ends_at(
    tokens: Tokens, at: int, measures: System, *, closing: str, first: int | None = None
) -> Amount | None:
    """The two ends from token ``at`` on, behind "between" (``closing`` is "and") or "from" ("to").

    The amount begins at token ``first`` where that word belongs to it.
    """
    low = _sum(tokens, at, measures)
    if low is None or low.quantity is None or tokens[low.end].low != closing:
        return None
    high = _sum(tokens, low.end + 1, measures)
    if high is None or (closing == "to" and _runs_down(low, high)):
        return None
    return _range(tokens, replace(low, first=at if first is None else first), high)


def _runs_down(first: Amount, second: Amount) -> bool:
    """Whether two sizes are a way down: "reduce it from 6 quarts to 1 quart"."""
    if first.quantity is None or second.quantity is None or not (first.has_unit and second.has_unit):
        return False
    return first.quantity.low > second.quantity.high


def joint_at(tokens: Tokens, at: int) -> int | None:
    """Where the upper end of a range begins, after "to", "or", a dash or "- to"."""
    place = at
    if tokens[place].text in TILDES and tokens[place - 1].is_number:
        return place + 1
    if tokens[place].text in DASHES:
        place += 1
        if tokens[place].text in DASHES:
            place += 1  # a dash typed as two hyphens
    if tokens[place].low in {"to", "or"}:
        place += 1
        if tokens[place].text in DASHES and tokens[place].glued:
            place += 1
    return place if place > at else None


def _or_two(tokens: Tokens, low: Amount, high: Amount) -> Amount | None:
    """``a minute or two``: a range whose unit stands behind its lower end; None before a noun of its own."""
    lower, upper = low.quantity, high.quantity
    after = tokens[high.end]
    if lower is None or upper is None or high.has_unit or lower.is_range:
        return None
    free = after.kind is not TokenKind.WORD or after.low in words_of("stop") | {"longer", "later", "at"}
    value = lower.unit.from_base(lower.low)
    if not free or after.is_number or upper.low != value + 1 or lower.dimension is Dimension.COUNT:
        return None
    top = lower.unit.to_base(upper.low)
    written = tokens.between(low.first, high.end)
    form = Form.WORDS if low.form is Form.ARTICLE else low.form
    return replace(
        low, quantity=replace(lower, high=top, written=written), end=high.end, dotted=False, form=form
    )


def _range(tokens: Tokens, low: Amount, high: Amount) -> Amount | None:
    """Both as one range: of one unit where the first has none, else of one dimension."""
    lower, upper = low.quantity, high.quantity
    if lower is None or upper is None:
        faults = low.faults + high.faults
        return replace(low, quantity=None, end=high.end, faults=faults)
    if not low.has_unit and high.has_unit and not upper.is_range:
        added = sum((term.low for term in upper.terms[1:]), Fraction(0))  # "1 to 2 cups plus 2 tablespoons"
        low_end = upper.unit.to_base(lower.low) + added
        lower = replace(lower, low=low_end, high=low_end, unit=upper.unit)
    elif low.has_unit and not high.has_unit:
        return None
    if lower.dimension is not upper.dimension or (lower.is_vague is not upper.is_vague):
        return None
    if lower.dimension is Dimension.COUNT and lower.unit is not upper.unit:
        return None
    written = tokens.between(low.first, high.end)
    systems = {lower.unit.system, upper.unit.system}
    if len(systems) > 1 and System.ANY not in systems and abs(upper.high - lower.low) <= SAME * upper.high:
        return replace(low, quantity=replace(lower, written=written), end=high.end)  # "450 g to 1 lb"
    faults = low.faults + high.faults
    if lower.low > upper.high:
        faults += (reversed_range(tokens, low.first, high.end),)
    ends = sorted((lower.low, upper.high))
    unit = lower.unit if low.has_unit else upper.unit
    quantity = replace(
        upper,
        low=ends[0],
        high=ends[1],
        unit=unit,
        high_unit=upper.unit if upper.unit is not unit else None,
        written=written,
        bound=lower.bound if lower.bound is not Bound.EXACTLY else upper.bound,
        terms=(),
    )
    return replace(high, quantity=quantity, first=low.first, form=low.form, faults=faults)


def _sum(tokens: Tokens, at: int, measures: System) -> Amount | None:
    total = term_at(tokens, at, measures)
    while total is not None and (longer := _longer(tokens, total, measures)):
        total = longer
    return total


def _longer(tokens: Tokens, first: Amount, measures: System) -> Amount | None:
    """``first`` with the term that is added to it: "2 lb 4 oz", "½ cup plus 1 tablespoon", "1 h 30"."""
    if not first.has_unit or first.quantity is None or first.quantity.is_vague:
        return None
    comma = tokens[first.end].text == "," and tokens[first.end + 1].low in {"plus", "minus", "less", "+"}
    joint = tokens[first.end + comma]
    parted = joint.text == "−" and not joint.glued  # "100 g−120 g" is a range
    said = joint.low in {"plus", "minus", "less"} or joint.text == "+" or parted
    also = joint.low in {"and", "&", ","}
    second = term_at(tokens, first.end + comma + (said or also), measures)
    if second is None or second.quantity is None or second.article:
        return None
    virgin = tokens[second.end + 1].text in DASHES or tokens[second.end + 1].low == "virgin"
    if comma and tokens[second.end].low in {"for", "to", "more", "extra"} and not virgin:
        return None  # "1 cup, plus 2 tbsp for dusting"; but extra-virgin oil
    mine, other = first.quantity, second.quantity
    if mine.unit.name == "hour" and tokens[second.unit_first].low == "m":
        other = replace(other, low=other.low * 60 / 1000, high=other.high * 60 / 1000, unit=units()["minute"])
    if not second.has_unit:
        return _minutes(tokens, first, second) if not (said or also) else None
    if said or joint.low in {"and", "&"}:
        mine = _as_volume(mine, other)
    if mine.dimension is not other.dimension or mine.dimension is Dimension.COUNT or other.is_vague:
        return None
    alike = (mine.unit.system is System.METRIC) is (other.unit.system is System.METRIC)
    smaller = alike and mine.unit.size > other.unit.size
    if not said and not (smaller and mine.dimension is not Dimension.LENGTH):
        return None  # "1 cup, 240 ml" states one amount twice
    if joint.text == "," and mine.dimension is Dimension.DURATION and tokens[second.end].low not in _CLOSING:
        return None  # "bake 1 hour, 10 minutes a side"
    minus = joint.low in {"minus", "less"} or joint.text == "−"
    added = -other.low if minus else other.low
    faults = first.faults + second.faults
    if mine.low + added <= 0:
        faults += (nothing(tokens, first.first, second.end),)
    total = replace(
        mine,
        low=mine.low + added,
        high=mine.high + added,
        written=tokens.between(first.first, second.end),
        bound=mine.bound if mine.bound is not Bound.EXACTLY else other.bound,
        terms=(*(mine.terms or (mine,)), replace(other, low=added, high=added)),
    )
    return replace(first, quantity=total, end=second.end, dotted=second.dotted, faults=faults)


def _minutes(tokens: Tokens, first: Amount, second: Amount) -> Amount | None:
    """``1 h 30``: minutes whose unit is understood, since they fill up an hour."""
    assert first.quantity is not None  # the caller has looked
    assert second.quantity is not None
    below = _SUBUNITS.get(first.quantity.unit.name)
    value = second.quantity.low
    if below is None or not 0 < value < 60 or value.denominator != 1:
        return None
    after = tokens[second.end]
    abbreviated = len(tokens[first.unit_first].text) <= 3
    if after.is_number or after.low in {"x", "×"} or (after.glued and after.text in DASHES):
        return None
    if not (
        abbreviated
        or after.low in {"", ",", ".", ";", ")", "to", "until", "or", "and"}
        or after.text in DASHES
    ):
        return None  # "in the first hour 20 people came"
    added = units()[below].to_base(value)
    quantity = replace(
        first.quantity,
        low=first.quantity.low + added,
        high=first.quantity.high + added,
        written=tokens.between(first.first, second.end),
    )
    return replace(first, quantity=quantity, end=second.end, dotted=False)


def _as_volume(stick: Quantity, other: Quantity) -> Quantity:
    """Sticks of butter as cups, where a volume is added to them: "1 stick plus 2 tablespoons".

    A stick is half a cup: 113 g of the 227 g (USDA SR 28, food 01145, weights 4 and 3).
    """
    if stick.unit.name != "stick" or other.dimension is not Dimension.VOLUME:
        return stick
    cup = units()["cup"]
    return replace(stick.times(cup.size / 2), unit=cup)


# --- faults -------------------------------------------------------------------------------------------


def reversed_range(tokens: Tokens, first: int, end: int) -> Fault:
    """The fault of a range that runs downwards."""
    what = "the range “{}” runs downwards"
    return fault_at(tokens, first, end, "range-reversed", what, "the smaller end first")


def nothing(tokens: Tokens, first: int, end: int) -> Fault:
    """The fault of an amount of nothing or less."""
    what = "“{}” is not an amount of anything"
    return fault_at(tokens, first, end, "unreadable-amount", what, "an amount above 0")
