"""Running text read: what each numeral of a sentence is, in the order of the text.

    text    = { words | reading }
    reading = clock | heat | series | size | amount | percent | bare heat | telling | elided | unread
    clock   = clock.py: a time of day, or a time written with marks
    heat    = temperatures.py: a temperature with its purpose (purposes.py), on every scale it is said on
    series  = shared_units.py: several numbers before one unit
    size    = measured.py: several edges
    amount  = measured.py: of food; a vessel's size, a time, a length, a pressure, a power
    percent = number ["to" number] ("%" | "percent" | "per cent")
    bare    = without_scale.py: a heat without its scale, which is unread
    elided  = elided.py: a number whose unit the text has just said
    telling = without_unit.py: a count, a reference, a share, how often, part of a name

What fits none of these is unread, and a fault that quotes it and says what to write.

>>> def read(text):
...     return [f"{one.kind}: {one.text}" for one in readings(text)]
>>> read("Roast 20 minutes at 220 °C, then 1 hour at 180.")
['duration: 20 minutes', 'temperature: 220 °C', 'duration: 1 hour', 'unread: 180']
>>> read("Heat 1 tablespoon oil in a 10-inch skillet.")
['amount: 1 tablespoon', 'vessel: 10-inch']
>>> read("Start at 2 pm; use 70 % chocolate, half the cream and a 3 to 4% brine.")
['clock: 2 pm', 'name: 70 %', 'ratio: half', 'percent: 3 to 4%']
>>> read("Butter a 9 by 13-inch pan"), read("Pans of 1, 2 and 4 quarts"), read("Cut 8 wedges")
(['vessel: 9 by 13-inch'], ['vessel: 1', 'vessel: 2', 'vessel: 4 quarts'], ['count: 8'])
>>> read("Add 200 flour.")
['unread: 200']
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from cardsmith.language.faults import Fault
from cardsmith.language.figures.amounts import joint_at
from cardsmith.language.figures.bounds import bound_after, bound_before, bound_behind
from cardsmith.language.figures.clock import Moment, moment_at
from cardsmith.language.figures.draft_marks import doubts
from cardsmith.language.figures.heat import heat_at
from cardsmith.language.figures.numbers import ARTICLES, NUMBER_WORDS, Form, Number, number_at
from cardsmith.language.figures.rates import rate_at, unit_alone_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import noun_at, phrase_at
from cardsmith.language.prose.elided import elided
from cardsmith.language.prose.measured import count_of_sized_at, measure_at, measure_of, ranged_at, size_at
from cardsmith.language.prose.reading import Reading, TokenReading, unread
from cardsmith.language.prose.references import half_and_half_at, reference_at
from cardsmith.language.prose.shared_units import series_at
from cardsmith.language.prose.temperatures import said_apart, temperature_of
from cardsmith.language.prose.without_scale import bare_heat
from cardsmith.language.prose.without_unit import telling_at
from cardsmith.language.spans import Kind, Purpose
from cardsmith.language.tokens import DASHES, SLASHES, Tokens, tokenize
from cardsmith.language.word_classes import words_of
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import System
from cardsmith.reference import OURS, Tables

_PERCENT = frozenset({"%", "percent", "pct"})
_SMUDGES = frozenset({"l", "I", "O", "o", "]"})
_REPEATED = {"twice": 2, "thrice": 3}
_OPENING = (
    NUMBER_WORDS | ARTICLES | frozenset(_REPEATED)
    | {"between", "quarter", "third", "gas", "gm", "reg", "regulo", "mark", "fan", "convection", "minus", "."}
    | {"per", "every", "each", "to", "inch"}
)  # fmt: skip
# What "over", "under" and "above" say of these is a place, not a bound: "pour over 1 cup".
_PLACED = frozenset({Kind.AMOUNT, Kind.COUNT, Kind.LENGTH, Kind.VESSEL, Kind.PERCENT, Kind.RATIO})


@lru_cache(maxsize=1 << 11)
def readings(text: str, measures: System = System.US, tables: Tables = OURS) -> tuple[Reading, ...]:
    """Every numeral of ``text`` in order, each in exactly one reading."""
    tokens = tokenize(text, tables)
    asked = doubts(tokens)
    in_order = _said_before(
        [_placed(tokens, part) for part in said_apart(tokens, list(_parts(tokens, measures)))]
    )
    return tuple(_with_doubts(reading, asked) for reading in in_order) if asked else tuple(in_order)


def _said_before(read: list[Reading]) -> Iterator[Reading]:
    """``read``, a heat of no purpose with that of the same heat: "baked at 170 °C; at 170 °C they split"."""
    purposes: dict[object, set[Purpose]] = {}
    for reading in read:
        if reading.kind is Kind.TEMPERATURE and reading.purpose and reading.purpose is not Purpose.OTHER:
            purposes.setdefault(_heats(reading), set()).add(reading.purpose)
    for reading in read:
        same = purposes.get(_heats(reading), set()) if reading.purpose is Purpose.OTHER else set()
        yield replace(reading, purpose=next(iter(same))) if len(same) == 1 else reading


def _heats(reading: Reading) -> object:
    return tuple((side.low, side.high, side.unit, side.fan) for side in reading.sides)


def _with_doubts(reading: Reading, asked: tuple[Fault, ...]) -> Reading:
    """A reading with the questions of its figures, unless it can't be read at all."""
    inside = tuple(fault for fault in asked if reading.start <= fault.start < reading.end)
    return replace(reading, faults=reading.faults + inside) if inside and not reading.faults else reading


def _placed(tokens: Tokens, part: TokenReading) -> Reading:
    """``part`` by its characters, with the bound that the words beside it say."""
    start, end = tokens[part.first].start, tokens[part.end - 1].end
    bound = _bound(tokens, part)
    sides = tuple(
        replace(side, bound=bound) if side.bound is Bound.EXACTLY and bound is not Bound.EXACTLY else side
        for side in part.sides
    )
    return Reading(
        start=start,
        end=end,
        text=tokens.text[start:end],
        kind=part.kind,
        sides=sides,
        stated=part.stated,
        low=part.low,
        high=part.high,
        bound=sides[0].bound if sides else bound,
        purpose=part.purpose,
        adjective=part.adjective,
        noun=part.noun,
        says_bound=part.says_bound,
        behind=part.behind,
        instead=part.instead,
        faults=part.faults,
    )


def _bound(tokens: Tokens, part: TokenReading) -> Bound:
    limit = tokens[part.first - 1].low == "within" or part.kind not in _PLACED
    bound = bound_behind(tokens, part.first, limit=limit)[0]
    if bound is Bound.EXACTLY:
        bound = bound_after(tokens, part.end)[0]
    if bound is Bound.EXACTLY and part.kind is Kind.AMOUNT and tokens[part.end].low == "of":
        after = phrase_at(tokens, part.end + 1).end
        bound = (
            bound_after(tokens, after)[0] if tokens[after].text == "," else bound
        )  # "4 g of salt, no more"
    return bound


def _parts(tokens: Tokens, measures: System) -> Iterator[TokenReading]:
    at, referred = 0, -3  # where the last reference ends
    while at < len(tokens):
        series = at <= referred + 2 and not tokens.is_stop(referred)  # "steps 2 and 3", "2, 3, and 4"
        parts = _parts_at(tokens, at, measures, series=series) if _may_open(tokens, at) else ()
        if not parts:
            at += 1
            continue
        yield from parts
        at = parts[-1].end
        referred = at if parts[-1].kind is Kind.REFERENCE else -3


def _may_open(tokens: Tokens, at: int) -> bool:
    """Whether a reading may begin with the token at ``at``."""
    token = tokens[at]
    marked = token.text in DASHES | SLASHES and tokens[at + 1].glued
    return token.is_number or token.low in _OPENING or marked


def _parts_at(tokens: Tokens, at: int, measures: System, *, series: bool) -> tuple[TokenReading, ...]:
    """The reading that begins at token ``at``, in parts where one unit serves several numbers."""
    number = number_at(tokens, at)
    if number is not None and number.value is not None and _is_smudged(tokens, at):
        return (unread(tokens, at, number.end, number.value, instead="the whole number in figures"),)
    part = _marked(tokens, at, measures)
    if part is not None:
        return (part,)
    if number is None:
        ranged = ranged_at(tokens, at, measures) if tokens[at].low == "between" else None
        return (ranged,) if ranged else ()
    if (
        number.form is Form.ARTICLE
        and number_at(tokens, max(bound_before(tokens, at)[1], at + 1)) is not None
    ):
        return ()  # "a 9-inch pan", "a minimum of 75 °C": the article stays a word
    several = () if series or number.form is Form.ARTICLE else series_at(tokens, at, measures)
    if several:
        return several
    part = (
        _decade(tokens, number)
        or count_of_sized_at(tokens, at, measures)
        or size_at(tokens, at, measures)
        or measure_at(tokens, at, measures, series=series)
        or _percent(tokens, number)
        or _without_unit(tokens, number, measures, series=series)
    )
    return (part,) if part else ()


def _marked(tokens: Tokens, at: int, measures: System) -> TokenReading | None:
    """What needs no number first: "twice", half-and-half, a time of day, a temperature with its scale."""
    word = tokens[at].low
    if word in _REPEATED:
        ratio = tokens[at + 1].low in {"as", "the"}
        value = Fraction(_REPEATED[word])
        return TokenReading(at, at + 1, Kind.RATIO if ratio else Kind.TIMES, low=value, high=value)
    rate = rate_at(tokens, at, measures) or unit_alone_at(tokens, at)
    if rate is not None:
        return measure_of(tokens, rate, measures)
    name = half_and_half_at(tokens, at)
    if name is not None:
        return name
    moment = moment_at(tokens, at)
    if moment is not None:
        return _moment(tokens, moment)
    heat = heat_at(tokens, at)
    return temperature_of(tokens, heat) if heat is not None else None


def _moment(tokens: Tokens, moment: Moment) -> TokenReading:
    if moment.kind is Kind.UNREAD:
        instead = f"“{moment.low} h {moment.high} min”, or the time of day"
        return unread(tokens, moment.first, moment.end, moment.low, instead=instead)
    return TokenReading(
        moment.first,
        moment.end,
        moment.kind,
        sides=(moment.quantity,) if moment.quantity else (),
        low=moment.low,
        high=moment.high,
    )


def _decade(tokens: Tokens, number: Number) -> TokenReading | None:
    """``the 1930s``, which are no seconds."""
    after = tokens[number.end]
    if not (after.glued and after.low == "s" and (number.value or 0) >= 1000):
        return None
    return reference_at(tokens, number, None, series=False)


def _again(tokens: Tokens, number: Number, end: int) -> TokenReading | None:
    """A number that its sentence has measured before: "at 11 pounds …, the gauge never below 11"."""
    for at in range(number.first - 1, max(number.first - _FARTHEST, -1), -1):
        if tokens.is_stop(at) and tokens[at].text != ";":
            return None
        earlier = number_at(tokens, at) if tokens[at].is_number else None
        if earlier is None or earlier.value is None or earlier.value != number.value:
            continue
        if unit_at(tokens, earlier.end) is not None:
            bound, low = tokens[number.first - 1].low in _BOUNDS, earlier.value
            return TokenReading(number.first, end, Kind.COUNT, low=low, high=low) if bound else None
    return None


_BOUNDS = frozenset({"below", "above", "under", "over", "at", "beyond", "past"})
_FARTHEST = 40  # tokens; so that time grows with the length of a text


def _percent(tokens: Tokens, number: Number) -> TokenReading | None:
    high = _upper(tokens, number)
    last = high or number
    end = _past_percent(tokens, last.end)
    if end is None:
        return None
    joint = joint_at(tokens, end)
    upper = number_at(tokens, joint) if joint is not None else None
    upper_end = _past_percent(tokens, upper.end) if upper else None
    if upper and upper.value is not None and upper_end is not None and upper.value > (last.value or 0):
        last, end = upper, upper_end
    if number.value is None or last.value is None:
        return None
    kind = _percent_kind(tokens, number.first, end)
    return TokenReading(number.first, end, kind, low=number.value, high=last.value, noun=noun_at(tokens, end))


def _past_percent(tokens: Tokens, at: int) -> int | None:
    if tokens[at].low in _PERCENT:
        return at + 1
    return at + 2 if tokens.words(at, "per", "cent") else None


def _percent_kind(tokens: Tokens, first: int, end: int) -> Kind:
    near = {tokens[at].low for at in range(max(0, first - 8), end + 4)}
    if "power" in near or ("microwave" in near and tokens[first - 1].text == "("):
        return Kind.POWER
    named = tokens[end].low in words_of("named percent") or tokens[end + 1].low in {"chocolate", "cocoa"}
    return Kind.NAME if named else Kind.PERCENT


def _upper(tokens: Tokens, number: Number) -> Number | None:
    """The upper end of a range of bare numbers: "5 or 6", "4–6"."""
    joint = joint_at(tokens, number.end)
    if joint is None or number.form is Form.ARTICLE:
        return None
    high = number_at(tokens, joint)
    if high is None or high.value is None or number.value is None or high.form is Form.ARTICLE:
        return None
    return high if high.value > number.value else None


def _without_unit(tokens: Tokens, number: Number, measures: System, *, series: bool) -> TokenReading | None:
    """A bare number: a heat without its scale, what it tells, else unread."""
    if number.value is None:
        return TokenReading(number.first, number.end, Kind.UNREAD, faults=number.faults)
    if number.form is Form.ARTICLE:
        return None
    high = _upper(tokens, number)
    last = high or number
    if _is_torn(tokens, number):
        return unread(tokens, number.first, number.end + 1, number.value, instead="the whole fraction: ½")
    reading = elided(tokens, number, high, measures) or bare_heat(tokens, number, high)
    if reading is not None:
        return reading
    reading = telling_at(tokens, number, high, series=series) or _again(tokens, number, last.end)
    return reading or unread(tokens, number.first, last.end, number.value, last.value)


def _is_smudged(tokens: Tokens, at: int) -> bool:
    """Whether a letter, or a note, stands for a number's first figure: "l0 minutes", "[smudge]5 minutes"."""
    return tokens[at].is_number and tokens[at].glued and tokens[at - 1].text in _SMUDGES


def _is_torn(tokens: Tokens, number: Number) -> bool:
    """Whether half of a fraction is missing: "the 1/ cup"."""
    slash = tokens[number.end]
    return slash.text in SLASHES and slash.glued and not tokens[number.end + 1].glued


__all__ = ["Reading", "readings"]
