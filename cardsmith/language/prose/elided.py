"""A number whose unit its sentence has just said: "20 minutes, then 10 more", "2 tbsp cocoa and 1 of sugar".

    elided  = slot, behind a measure of the sentence (a time: or of the one before)
    further = "another" number | number ("more" | "longer" | "extra")
    other   = ("other" | "remaining") number | "keep" number ("back" | "for" | stop)
            | ("not" | "instead of" | "rather than" | "nearer" | "with") number
    end     = joint bound number (stop | "if") | joint number bound           2 hours, and no more than 24
    used    = joint number ("of" | "for" | "if" | "when")                     2 tbsp cocoa and 1 of sugar
    time    = "every" number | ("after" | "within") number | "for" number, where the time before has it too
            | joint number preposition, one that the time before has too      3 minutes on one side, 2 on
            | joint number "for" [article] adjective                          4 for a thick steak
            | time-verb ["it"] number stop | adjective number stop            then rest 10. · the large 25.
            | number "in all" | "plus" number | number ("is" | "will")        10 minutes; 20 is better
            | "for the first" number | ("For" | "If") … "," number stop       for a crisp one, 15.
            | unit "or" number | ("(" | ",") number height                    every day or two

Elided is the unit of the last number before, so that no count stands between; a time may stand farther off,
where a verb or a preposition asks for one. The number is at most four times the one before, and at least a
quarter, but that a further time may be short and an upper end any. A time that is not spent as well (the
first 25, not 20) prints as told.

>>> def read(*texts):
...     found = [elided_in(text) for text in texts]
...     return [one and (one.sides[0].unit.name if one.sides else str(one.kind)) for one in found]
>>> read("Fry it in 1 tbsp of the oil; keep the other 3 for later.", "Add 1 tbsp cocoa and 1 of sugar.")
['tablespoon', 'tablespoon']
>>> read("Add the milk a tablespoon at a time, up to 4.", "Allow 125 g a head, 100 if there is a pudding.")
['tablespoon', 'gram']
>>> read("Add 2 tbsp water, and another 2 if it is dry.", "Roll it to 5 mm, or 3 for crackers.")
['tablespoon', 'millimetre']
>>> read("Start with 90 g of the water; with 85 it cracks.", "Weigh one of 400 g and one of 200.")
['gram', 'gram']
>>> read("Add 1 tbsp oil and the other 3 eggs.", "Add 1 tbsp oil and 3 of the eggs.")
[None, None]
>>> read("Cut 2 cm slices, or 8 if it is long.", "Beat in 50 g of butter and the yolks, then 2 more.")
[None, None]
>>> read("Fry 4 at a time in 2 tbsp oil, then 3.")
[None]
>>> read("Bake 20 minutes, then 20 to 25 more.", "Mix 5 minutes on first speed and 3 on second.")
['minute', 'minute']
>>> read("Steam for 8 minutes instead of 5.", "Cook 2 hours, and up to 4.", "Simmer 5 minutes, then rest 10.")
['count', 'hour', 'minute']
>>> read("Bake for 40 minutes. Leave the door shut for the first 25.", "Leave it 10 minutes; 20 is better.")
['count', 'count']
>>> read("Bake for 30 minutes, turning the tin after 20.", "Cook on low for 8 hours or on high for 4.")
['minute', 'hour']
>>> read("Roast 15 minutes to the pound, plus 20.", "Best within 48 hours, though it holds for 72.")
['minute', 'hour']
>>> read("Chill for at least 2 hours and no more than 24.", "Bake the small ones 18 minutes, the large 25.")
['hour', 'minute']
>>> read("Sear 3 minutes a side, 4 for a thick steak.", "Fry 3 minutes a side, 4 for each guest.")
['minute', None]
>>> read("Boil 8 minutes, enough for 4.", "Bake 20 minutes, then 180 more.", "Stir 5 minutes, add 4 more.")
[None, None, None]
>>> read("Fry 4 cakes for 3 minutes, then another 4.", "Beat 5 minutes, then add another 4.")
[None, None]
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.language.figures.amounts import Amount, amount_at
from cardsmith.language.figures.bounds import bound_after, bound_behind
from cardsmith.language.figures.numbers import ARTICLES, Form, Number, number_at
from cardsmith.language.figures.unit_words import scale_at, unit_at
from cardsmith.language.noun_phrases import is_plural, noun_at, phrase_at, vessel_at
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System, Unit

_FARTHEST = 40  # tokens; so that time grows with the length of a text
_MOST_TIMES = 4  # measures of one sentence that differ by more are no pair (common practice, no source)
_NEAR = 12  # tokens between a time and the height it is for
_JOINTS = frozenset({"and", "or", "then", "but", ",", ";", ":", "("})
_FURTHER = frozenset({"more", "longer", "extra"})
_OTHERS = frozenset({"other", "remaining"})
_KEEPING = frozenset("keep keeping save saving reserve reserving hold holding set setting".split())
_ASIDE = frozenset({"back", "aside", "for", "by"})
_USES = frozenset({"for", "if", "when"})
_NEARING = frozenset({"nearer", "closer", "better", "with"})
_EDGES = frozenset("wide long thick deep high apart around between from along".split())
_CONTRASTS = {"not": (), "of": ("instead",), "than": ("rather",)}
_PREPOSITIONS = _USES | frozenset("on at by with without from in uncovered covered".split())
_IN_ALL = (("in", "all"), ("in", "total"), ("total",), ("altogether",))
_ADDING = frozenset({"plus", "+"})
_HEIGHTS = frozenset({"from", "at", "above", "over", "below", "under", "between"})
_BEFORE_MORE = _JOINTS | frozenset("for another about within to it them everything".split())
_LASTS = frozenset("hold holds keep keeps last lasts".split())
_VERBS = frozenset("is are will would does makes gives".split())
_ENDS = frozenset({"first", "last", "final"})
_WITHIN = frozenset({"in", "for", "during", "over"})
_ADDED = frozenset({"a", "further", "additional", "extra"})
_STATES = frozenset({"frozen", "fresh", "chilled", "cold", "raw", "thawed"})
_OPENING = frozenset({"for", "if", "with"})
_SPELL = frozenset({"second", "minute", "hour", "day", "week", "fortnight", "month", "night", "year"})
_FOLLOWING = frozenset({"next", "following", "second", "same"})


@frozen(kw_only=False)
class _Before:
    """A measure that stands before a number, and what stands between the two."""

    value: Fraction
    unit: Unit
    first: int
    end: int  # the token after it
    stops: int  # how many sentences end between
    is_last: bool  # no other number stands between


@frozen(kw_only=False)
class _Bare:
    """A number without a unit, and the words at it."""

    first: int
    end: int
    before: str  # the token before it
    bound: Bound
    opens: int  # where the bound before it begins
    past: int  # past "more", or the bound behind it
    of: bool
    closes: bool  # its clause ends here
    kept: bool  # "keep 2 back"

    def is_further(self, tokens: Tokens) -> bool:
        """``another 5``, ``5 more``."""
        return self.before == "another" or tokens[self.end].low in _FURTHER

    def says_bound(self, tokens: Tokens) -> bool:
        """``24 tops``."""
        return self.past > self.end and tokens[self.end].low not in _FURTHER


def elided(tokens: Tokens, number: Number, high: Number | None, measures: System) -> TokenReading | None:
    """A bare number (or a range up to ``high``) whose unit the text has said, if it is one."""
    last = high or number
    if number.value is None or last.value is None or number.form is Form.ARTICLE:
        return None
    bare = _bare(tokens, number.first, last.end)
    count = TokenReading(bare.first, bare.end, Kind.COUNT, low=number.value, high=last.value)
    if bare.before == "or" and tokens[bare.first - 2].low in _SPELL:
        return count
    noun = () if bare.kept else _noun(tokens, bare.past + bare.of)
    if (noun and not bare.of) or (bare.of and (not noun or any(map(is_plural, noun)))):
        return None
    if tokens.words(bare.end, "at", "a", "time"):
        return None
    for said in _said_before(tokens, bare.first, measures):
        kind = _kind(tokens, bare, said, last.value)
        if kind is Kind.COUNT:
            return count
        if kind is not None:
            written = tokens.between(bare.first, bare.end)
            ends = said.unit.to_base(number.value), said.unit.to_base(last.value)
            side = Quantity(low=ends[0], high=ends[1], unit=said.unit, written=written)
            return TokenReading(bare.first, bare.end, kind, sides=(side,), noun=" ".join(noun))
    return None


def _noun(tokens: Tokens, at: int) -> tuple[str, ...]:
    """The noun phrase at token ``at``; a word of how something is left is none: "20 more uncovered"."""
    words = phrase_at(tokens, at).words
    return () if len(words) == 1 and words[0].endswith(("ed", "ly")) else words


def _bare(tokens: Tokens, first: int, end: int) -> _Bare:
    bound, opens = bound_behind(tokens, first, limit=True)
    behind, past = bound_after(tokens, end)
    past += behind is Bound.EXACTLY and tokens[end].low in _FURTHER
    closes = tokens.is_stop(past) or tokens[past].text in {",", ")"}
    before, of = tokens[first - 1].low, tokens[end].low == "of"
    kept = before in _KEEPING and (closes or tokens[end].low in _ASIDE)
    kept |= before in {"back", "aside"} and tokens[first - 2].low in _KEEPING
    return _Bare(first, end, before, bound, opens, past, of, closes, kept)


def _kind(tokens: Tokens, bare: _Bare, said: _Before, value: Fraction) -> Kind | None:
    """What a bare number measures after a measure that has a unit; None where it does not share the unit."""
    timed = said.unit.dimension is Dimension.DURATION
    kind = _of_time(tokens, bare, said) if timed else _of_measure(tokens, bare, said)
    least = 0 if timed and (bare.is_further(tokens) or bare.before == "every") else said.value / _MOST_TIMES
    upper = bare.bound is Bound.AT_MOST and bare.closes and tokens[bare.opens - 1].low in _JOINTS
    ranged = timed and (upper or _is_other_end(tokens, bare, said))
    near = ranged or least <= value <= said.value * _MOST_TIMES
    return kind if near else None


# --- what was said ----------------------------------------------------------------------------------------


def _said_before(tokens: Tokens, first: int, measures: System) -> Iterator[_Before]:
    """The last number before, if it measures, and the nearest time, in the sentence or the one before."""
    stops, numbers, place = 0, 0, first
    while place > max(0, first - _FARTHEST) and stops < 2:
        place -= 1
        stops += tokens.is_stop(place) and tokens[place].text != ";"
        number = number_at(tokens, place)
        if number is None or number.value is None:
            if tokens[place].low == "day" and tokens[place - 1].low in _FOLLOWING:
                unit_found = unit_at(tokens, place)
                assert unit_found is not None  # a day is a unit
                yield _Before(Fraction(1), unit_found.unit, place, place + 1, stops, is_last=False)
            continue
        amount = _whole(tokens, place, measures)
        size = amount.quantity if amount is not None and amount.has_unit and amount.end <= first else None
        if size is None or amount is None or size.dimension is Dimension.COUNT:
            listed = tokens[place - 1].low in _JOINTS and tokens[number.end].low in _USES | {"of"}
            numbers += number.form is not Form.ARTICLE and not listed  # 600 g: 400 for the base, 200 for
            continue
        place = amount.first
        if size.dimension is Dimension.DURATION and number.form is not Form.ARTICLE:
            unit = size.high_unit or size.unit
            yield _Before(unit.from_base(size.high), unit, place, amount.end, stops, is_last=not numbers)
            return
        if not numbers and not stops and _may_share(tokens, amount, size):
            unit = size.high_unit or size.unit
            yield _Before(unit.from_base(size.middle), unit, place, amount.end, stops, is_last=True)
        numbers += 1


def _whole(tokens: Tokens, at: int, measures: System) -> Amount | None:
    """The amount that holds the numeral at token ``at``, from its first token on."""
    amount = amount_at(tokens, at, measures)
    while amount is not None:
        wider = (amount_at(tokens, amount.first - back, measures) for back in (1, 2) if amount.first >= back)
        longer = next((other for other in wider if other is not None and other.end == amount.end), None)
        if longer is None:
            return amount
        amount = longer
    return None


def _may_share(tokens: Tokens, amount: Amount, size: Quantity) -> bool:
    """Whether a weight, a volume or a length may lend its unit: it is no vessel's, and no pressure."""
    if size.dimension not in WEIGHED | {Dimension.LENGTH} or size.is_vague or amount.joined:
        return False
    things = size.dimension is Dimension.LENGTH and any(
        map(is_plural, phrase_at(tokens, amount.end).words)
    )  # "cut 2 cm slices, or 8 if the loaf is long" may count
    pressed = "pressure" in noun_at(tokens, amount.end)  # at 10 pounds pressure, 11 by a dial
    return not things and not pressed and vessel_at(tokens, amount.end) is None


# --- a weight, a volume, a length -------------------------------------------------------------------------


def _of_measure(tokens: Tokens, bare: _Bare, said: _Before) -> Kind | None:
    """What the words at a number make of it behind a measure that no other number parts from it."""
    before, length = bare.before, said.unit.dimension is Dimension.LENGTH
    uses = tokens[bare.past].low in _USES
    joined = tokens[bare.opens - 1].low in _JOINTS
    things = any(is_plural(tokens[at].low) for at in range(_past_noun(tokens, said.end), bare.first))
    if bare.is_further(tokens):
        free = before == "another" or before in _JOINTS
        is_measure = free and not things and not _asks_for_time(tokens, bare)
    elif before in _OTHERS:
        is_measure = not bare.of and (uses or bare.closes)
    elif bare.kept or before in _KEEPING:
        is_measure = bare.kept
    elif bare.bound is not Bound.EXACTLY or bare.says_bound(tokens):
        is_measure = joined and (uses or bare.closes)
    else:
        near = before in _NEARING and tokens[bare.first].is_number and not things
        edge = length and tokens[bare.end].low in _EDGES
        used = (
            bare.of
            or uses
            or edge
            or tokens[bare.end].low in _VERBS
            or _shares_preposition(tokens, bare, said)
        )
        listed = before in _JOINTS and used
        parts = before in {"of", "at"} and tokens[said.first - 1].low == before  # one of 400 g and one of 200
        is_measure = (_is_contrast(tokens, bare) and bare.closes) or near or listed or (parts and bare.closes)
    return (Kind.LENGTH if length else Kind.AMOUNT) if is_measure else None


def _past_noun(tokens: Tokens, end: int) -> int:
    return phrase_at(tokens, end + (tokens[end].low == "of")).end


def _is_contrast(tokens: Tokens, bare: _Bare) -> bool:
    contrasts = _CONTRASTS.get(bare.before)
    return contrasts is not None and (not contrasts or tokens[bare.first - 2].low in contrasts)


def _asks_for_time(tokens: Tokens, bare: _Bare) -> bool:
    """Whether a verb right before it takes time: "stir in 50 g butter and simmer another 20"."""
    place = bare.opens - 1
    return tokens[place - (tokens[place].low in {"it", "them"})].low in words_of("time verb")


# --- a time -----------------------------------------------------------------------------------------------


def _of_time(tokens: Tokens, bare: _Bare, said: _Before) -> Kind | None:
    """What the words at a number make of it behind a time: another time, or one that is not spent as well."""
    if bare.of:
        return None
    spent = not said.stops and (
        _is_regular(tokens, bare)
        or _is_other_end(tokens, bare, said)
        or _is_longer(tokens, bare)
        or _is_parallel(tokens, bare, said)
        or _lasts(tokens, bare, said)
        or (bare.says_bound(tokens) and bare.closes and bare.before in _JOINTS)
        or _is_higher_up(tokens, bare)
        or (bare.before in _NEARING and said.is_last)
    )
    if spent:
        return Kind.DURATION
    joined = bare.bound is not Bound.EXACTLY and tokens[bare.opens - 1].low in _JOINTS
    other = not said.stops and said.is_last and (_is_contrast(tokens, bare) or joined)
    return Kind.COUNT if other or _is_apart(tokens, bare) else None


def _is_regular(tokens: Tokens, bare: _Bare) -> bool:
    """``turning every 5``; but "take out every one"."""
    return bare.before == "every" and tokens[bare.first].low != "one"


def _is_other_end(tokens: Tokens, bare: _Bare, said: _Before) -> bool:
    """``at least 2 hours and no more than 24``: right behind the time, its other end."""
    comma = tokens[bare.opens - 2].text == ","
    right = bare.opens - 1 - comma == said.end and tokens[bare.opens - 1].low in _JOINTS
    return bare.bound is Bound.AT_MOST and right and not said.stops


def _is_longer(tokens: Tokens, bare: _Bare) -> bool:
    """``then 20 to 25 more``, ``another 5``, ``rest 10.``; but "stir in 4 more" counts what goes in."""
    if any(tokens.words(bare.end, *words) for words in _IN_ALL):
        return True  # "5 minutes a side, 10 in all"
    place = bare.opens - 1
    may_follow = tokens[place].low in _BEFORE_MORE | words_of("time verb") | words_of("cooking verb")
    may_follow |= tokens[place].low == "in" and scale_at(tokens, place - 1) is not None  # "to 5 °C in 4 more"
    if "another" in (bare.before, tokens[bare.first - 2].low):
        return may_follow and not _counts_before(tokens, bare.first)
    if tokens[bare.end].low in _FURTHER:
        return may_follow
    sized = tokens[bare.first].is_number and _is_of_size(tokens, bare)
    return tokens[place].low in _ADDING or (bare.closes and (sized or _asks_for_time(tokens, bare)))


def _is_of_size(tokens: Tokens, bare: _Bare) -> bool:
    """``the large 25``, ``pints 15``, ``for an 8-inch 40``; but "serves 4", "4 times 2"."""
    if bare.before in words_of("makes") | words_of("occasion"):
        return False
    named = bare.before in words_of("adjective") | _STATES
    return named or is_plural(bare.before) or unit_at(tokens, bare.first - 1) is not None


def _counts_before(tokens: Tokens, first: int) -> bool:
    """Whether the sentence counts something before, of which "another 4" may be more."""
    for place in range(first - 1, max(-1, first - _FARTHEST), -1):
        if tokens.is_stop(place):
            return False
        number = number_at(tokens, place) if tokens[place].is_number else None
        if number is not None and is_plural(tokens[number.end].low) and unit_at(tokens, number.end) is None:
            return True
    return False


def _is_parallel(tokens: Tokens, bare: _Bare, said: _Before) -> bool:
    """``5 minutes on first speed and 3 on second``, ``6 minutes for rare, 8 for medium``."""
    preposition = tokens[bare.end].low
    before = bare.first - 1 - (bare.before == "another" and tokens[bare.first - 2].low == "then")
    joint = tokens[before].low
    if joint not in _JOINTS or preposition not in _PREPOSITIONS:
        return False
    if tokens[bare.end + 1].is_number:
        return False
    alone = (joint, preposition) in {("or", "by"), ("(", "if"), ("(", "when"), ("then", "on")}
    # "within 2 hours, or 1 if the room is above 90 °F"
    alone |= tokens[said.first - 1].low == "within" and joint in {"or", ","} and preposition in {"if", "when"}
    alone |= preposition in {"covered", "uncovered"} or _is_for_another(tokens, bare.end)
    return alone or _shares_preposition(tokens, bare, said)


def _is_for_another(tokens: Tokens, at: int) -> bool:
    """``(3 minutes,) 4 for a thick steak``; but "4 for a big plate" counts."""
    place = at + 1 + (tokens[at + 1].low in ARTICLES)
    other = tokens[place].low in words_of("adjective") | _STATES and vessel_at(tokens, place) is None
    return tokens[at].low == "for" and other


def _shares_preposition(tokens: Tokens, bare: _Bare, said: _Before) -> bool:
    """Whether the preposition behind a number stands behind the measure before it too."""
    preposition, between = tokens[bare.end].low, range(said.end, bare.first - 1)
    return preposition in _PREPOSITIONS and any(tokens[place].low == preposition for place in between)


def _lasts(tokens: Tokens, bare: _Bare, said: _Before) -> bool:
    """``turning it after 20``, ``within a further 4``, ``low for 8 hours or high for 4``."""
    place = bound_behind(tokens, bare.first, limit=False)[1] - 1
    while tokens[place].low in _ADDED:
        place -= 1
    if tokens[place].low in {"after", "within"}:
        return True
    begins = next((at + 1 for at in range(said.end - 1, -1, -1) if tokens.is_stop(at)), 0)
    return tokens[place].low == "for" and (
        any(tokens[at].low == "for" for at in range(begins, said.end))
        or tokens[said.end - 2].low in _FOLLOWING
        or tokens[place - 1].low in _LASTS | words_of("time verb")
        or (tokens[place - 1].low in _JOINTS and tokens[bare.end].low in _USES)
    )


def _is_higher_up(tokens: Tokens, bare: _Bare) -> bool:
    """``(15 from 1,001 to 6,000 ft, 20 above that)``: the time of a kitchen at another height."""
    if bare.before not in {"(", ","} or tokens[bare.end].low not in _HEIGHTS:
        return False
    if tokens[bare.end + 1].low in {"that", "this"}:
        return True
    units = (unit_at(tokens, at) for at in range(bare.end, bare.end + _NEAR))
    return any(unit_found is not None and unit_found.unit.name in {"foot", "metre"} for unit_found in units)


def _is_apart(tokens: Tokens, bare: _Bare) -> bool:
    """``20 is better``, ``of which 15 are yours``, ``for the first 25``, ``For a crisp one, 15.``"""
    before = tokens[bare.first - 1]
    begins = tokens.is_stop(bare.first - 1) or before.text in _JOINTS or before.low == "though"
    if begins and tokens[bare.end].low in _VERBS:
        return True
    if tokens.words(bare.first - 2, "of", "which"):
        return True
    if before.low in _ENDS and tokens[bare.first - 2].low == "the":
        return tokens[bare.first - 3].low in _WITHIN
    opens = next((place + 1 for place in range(bare.first - 1, -1, -1) if tokens.is_stop(place)), 0)
    return tokens[opens].low in _OPENING and before.text == "," and tokens.is_stop(bare.end)
