"""Numbers without a unit that measure nothing: references, names, shares, how often, counts.

    telling = reference | name (references.py) | share | times | count (counts.py)
    share   = part ("of" | "the" | "full" …) | "by" [bound] part | number "part(s)" | number "times as"
            | number "of" number | number "to" number ("ratio" | "mixture")
            | ("ratio" | "proportion(s)") "of" number "to" number
    times   = number "times" | number "×" duration

>>> [str(told_in(text).kind) for text in ("one third of the whites", "3 parts oil", "2 times as long")]
['ratio', 'ratio', 'ratio']
>>> str(told_in("3 of 12 cracked").kind), told_in("200 of 350 flour")
('ratio', None)
>>> [str(told_in(text).kind) for text in ("4 times", "2 × 45 min", "8 pieces", "4 x 150 ml moulds")]
['times', 'times', 'count', 'count']
>>> told_in("200 flour") is None
True
"""

from __future__ import annotations

from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.numbers import Form, Number, number_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import phrase_at
from cardsmith.language.prose.counts import count_at
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.prose.references import Found, name_at, reference_at, told
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, SLASHES, Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.larder import load_larder
from cardsmith.measure.units import Dimension

_POURED = frozenset({"liquid", "powder", "granule", "paste"})  # states of food that nobody counts
_RATIOS = frozenset({"ratio", "ratios", "proportion", "proportions"})
_HUNDRED = 100  # of which 50/50 and 80/20 are the parts
_MULTIPLIED = frozenset({"the", "as", "everything", "that", "its", "more"})
_BETWEEN = frozenset("more single double short long further extra quick one-second".split())
_DEFINITE = frozenset({"the", "your", "it", "them", "each", "this", "that"})


def telling_at(tokens: Tokens, number: Number, high: Number | None, *, series: bool) -> TokenReading | None:
    """What a bare number (or a range up to ``high``) means without a unit; None where it needs one.

    ``series`` says that the number before it in the same list was a reference: "steps 2 and 3".
    """
    if number.value is None:
        return None
    last = high or number
    reading = reference_at(tokens, number, high, series=series) or name_at(tokens, number, high)
    if reading is not None:
        return reading
    said = _share(tokens, number, last.end) or _times(tokens, number, last.end)
    return told(number, last, said) or count_at(tokens, number, high)


def _share(tokens: Tokens, number: Number, end: int) -> Found:
    value, after = number.value, tokens[end]
    assert value is not None  # the caller has looked
    if after.low in words_of("share"):
        return Kind.RATIO, end + 1, "part"
    if tokens[number.first - 1].low == "to" and tokens[number.first - 2].low in {"part", "parts"}:
        return Kind.RATIO, end, "part"  # 1 part to 3 of soda water
    other = number_at(tokens, end + 1) if after.low == "to" else None
    falling = other is not None and (other.value or value) < value and tokens.is_stop(other.end)
    if other and (falling or tokens[other.end].low in {"ratio", "mixture"}):
        return Kind.RATIO, other.end, ""  # "oil and vinegar, 3 to 1"
    if tokens[number.first - 1].low == "of" and tokens[number.first - 2].low in _RATIOS:
        return Kind.RATIO, end, ""
    rest = number_at(tokens, end + 1) if after.text in SLASHES and after.glued else None
    if rest and rest.value is not None and value + rest.value == _HUNDRED:
        return Kind.RATIO, rest.end, ""
    whole = number_at(tokens, end + 1) if after.low == "of" else None
    if whole and whole.value is not None and whole.value > value and not _measures(tokens, whole.end):
        return Kind.RATIO, whole.end, ""
    if after.low in {"times", "×", "x"} and tokens[end + 1].low in _MULTIPLIED:
        return Kind.RATIO, end + 1, ""
    if value >= 1:
        return None
    if number.form is Form.WORDS:
        return Kind.RATIO, end, ""
    before = tokens[bound_behind(tokens, number.first, limit=False)[1] - 1].low
    shared = after.low in {"of", "full", "the", "way"} or before == "by"
    return (Kind.RATIO, end, "") if shared and not _is_weighed(tokens, end) else None


def _measures(tokens: Tokens, at: int) -> bool:
    """Whether a unit or a food follows: "3 of 12 cracked" is a share, "200 of 350 flour" is not."""
    return unit_at(tokens, at) is not None or _is_food(tokens, at)


def _is_food(tokens: Tokens, at: int) -> bool:
    return load_larder(tokens.tables).find(" ".join(phrase_at(tokens, at).words)) is not None


def _is_weighed(tokens: Tokens, end: int) -> bool:
    """Whether "½ of salt" stands for an amount whose unit is missing: no article before the food."""
    if tokens[end].low != "of" or tokens[end + 1].low in _DEFINITE:
        return False
    match = load_larder(tokens.tables).find(" ".join(phrase_at(tokens, end + 1).words))
    return match is not None and match.food.state in _POURED


def _times(tokens: Tokens, number: Number, end: int) -> Found:
    place = end
    while tokens[place].low in _BETWEEN:
        place += 1
    if tokens[place].low in words_of("occasion") and number.form is not Form.ARTICLE:
        return Kind.TIMES, end, tokens[place].low
    return _crossed(tokens, end) if tokens[end].text in {"×", "x"} else None


def _crossed(tokens: Tokens, end: int) -> Found:
    """``2 × 45 min`` is how often; ``4 x 150 ml moulds`` is how many."""
    each = number_at(tokens, end + 1)
    if each is None:
        return Kind.TIMES, end, ""
    unit = unit_at(tokens, each.end + (tokens[each.end].text in DASHES))
    if unit is None:
        return None
    kind = Kind.TIMES if unit.unit.dimension is Dimension.DURATION else Kind.COUNT
    return kind, end, " ".join(phrase_at(tokens, unit.end).words)
