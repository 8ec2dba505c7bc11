"""Numbers that count things: ``8 wedges``, ``the 4 corners``, ``one at a time``; never ``200 flour``.

    count = number { adjective } plural noun | 1 { adjective } noun | number [size] "of the" noun
          | "other" number | number "at a time" | number "by" number | "into" number | "children under" number
          | number ("to" | "per" | "a" | "in each") vessel  8 to a tin, 3 a head
          | number ("in" | "on") "each"                     6 to 8 on each
          | number "of", after a number of things "of"      2 layers of paper and 1 of foil
          | a number word up to twelve | "serves" … number | "in" number, after "in N additions"

Which nouns can be counted is for nouns.py to say.

>>> counted_in("8 equal pieces").noun, counted_in("1 ripe banana").noun, counted_in("2 of the eggs").noun
('equal pieces', 'ripe banana', 'eggs')
>>> [counted_in(text) is not None for text in ("2 at a time", "2 by 2", "two", "2 medium", "two flours")]
[True, True, True, True, True]
>>> counted_in("8 to a buttered tin") is not None, counted_in("8 in a hot pan") is None
(True, True)
>>> counted_in("6 on each of 2 trays") is not None, counted_in("6 on each side") is None
(True, True)
>>> counted_in("200 flour") is None, counted_in("75 butter") is None, counted_in("9 by 13 pan") is None
(True, True, True)
"""

from __future__ import annotations

from fractions import Fraction

from cardsmith.language.figures.amounts import size_at
from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.numbers import DOZENS, Form, Number, number_at
from cardsmith.language.figures.sizes import edges_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import is_plural, phrase_at, vessel_at
from cardsmith.language.nouns import countable, is_counted
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.prose.references import Found, told
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, TokenKind, Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.larder import load_larder
from cardsmith.measure.units import Dimension
from cardsmith.reference import Tables

_FARTHEST = 40  # tokens; so that time grows with the length of a text
_MOST_FOODS = 40  # more of a food in a sentence are weighed: "tip in 200 chopped carrots"
_MOST_WORDED = 12  # a number word up to twelve counts people, ends, sides: "cut in two"
_ALL = frozenset({"other", "all", "these", "those", "both"})
_OF_THE = frozenset({"the", "these", "those", "your", "them", "each"})
_PARTS = frozenset({"additions", "parts", "goes", "batches", "lots", "stages", "portions", "halves"})
_MEALS = frozenset("breakfast brunch lunch tea dinner supper meal feast enough".split())
_SIDES = frozenset({"above", "below"})  # of a heat, a height
_MORE = frozenset({"more", "extra", "further", "additional"})
_DIVIDING = frozenset("cut cutting fold divide divided split tear break slice".split())
_KEEPING = frozenset({"keep", "reserve", "save", "set"})
_GIVING = frozenset({"to", "at", "for", "about", "from", "by"})  # a heat, a time
_EACH = frozenset({"per", "a", "an"})
_SHARING = frozenset("row line layer person head guest serving portion plate".split())
_JOINTS = frozenset({"and", "or", ",", "plus", "&"})
_THERE = frozenset({"there'll", "there’ll", "you'll", "you’ll", "will", "should"})
_INSTEAD = frozenset({"otherwise", "else"})
_USING = frozenset({"use", "take"})
_AFTER_ALL = frozenset({",", "otherwise", "or", "instead", ")"})
_FAR_OF = 6  # tokens; "of greased baking paper and"
_ONE_OF = frozenset({"a", "an", "each", "every", "one", "the"})
_YOUNG = frozenset("child children kid kids baby babies infant infants toddler toddlers".split())
_AGED = frozenset({"under", "over", "below", "above"})
_PEOPLE = frozenset("table party crowd group groups family team row rows batch batches stack stacks".split())


def count_at(tokens: Tokens, number: Number, high: Number | None) -> TokenReading | None:
    """A bare number (or a range up to ``high``) as a count; None where it counts nothing."""
    last = high or number
    return told(number, last, _of_noun(tokens, number, last.end) or _without_noun(tokens, number, last.end))


def _of_noun(tokens: Tokens, number: Number, end: int) -> Found:
    """A count of the noun that follows; a yield may count any number of a food."""
    value = number.value
    assert value is not None  # the caller has looked
    if tokens[end].low == "of" and tokens[end + 1].low in _OF_THE:
        noun = phrase_at(tokens, end + 2).words
        counted = not noun or any(map(is_plural, noun)) or value <= _MOST_WORDED
        return (
            (Kind.COUNT, end, " ".join(noun))
            if counted and (not noun or _counts(noun, value, tokens.tables))
            else None
        )
    noun = noun_of_count(tokens, end)
    before = tokens[number.first - 1].low
    if not noun or before in _SIDES or (before == "at" and value > _MOST_FOODS):
        return None  # "above 43 kills the yeast", "bake at 120 crackers a tray"
    if value <= _MOST_WORDED and tokens.words(phrase_at(tokens, end).end, "at", "a", "time"):
        return Kind.COUNT, end, " ".join(noun)  # cook one bread at a time
    worded = number.form is Form.WORDS and value <= _MOST_WORDED  # "whisk the two flours": kinds of them
    many = is_plural(noun[-1]) and (worded or _is_yield(tokens, number.first))
    return (Kind.COUNT, end, " ".join(noun)) if many or _counts(noun, value, tokens.tables) else None


def _counts(noun: tuple[str, ...], value: Fraction, tables: Tables) -> bool:
    """Whether so many of a thing can be counted; of what is no food, any number of a plural."""
    larder, name = load_larder(tables), " ".join(noun)
    if larder.find(name) is not None:
        return value <= _MOST_FOODS and countable(name, value, larder)
    many = is_plural(noun[-1]) or is_counted(noun[-1])  # "30 biscotti"
    return (value <= 1 or many) and countable(name, min(value, Fraction(1)), larder)


def noun_of_count(tokens: Tokens, end: int) -> tuple[str, ...]:
    """The words of the noun phrase behind a number, as far as the first plural."""
    more = tokens[end].low in _MORE and tokens[end + 1].low not in words_of("stop")
    past = _past_size(tokens, end + more)
    words = phrase_at(tokens, past).words
    if not words and tokens[past - 1].text == ")":
        words = phrase_at(
            tokens, end + more
        ).words  # 2 clean bottles (750 ml): the noun stands before the size
    if not words and past > end + more and tokens[past].low == "can":
        return ("can",)  # 1 28-ounce can
    plural = next((place for place, word in enumerate(words) if is_plural(word)), None)
    if plural is None and words:
        joint = phrase_at(tokens, past).end
        other = phrase_at(tokens, joint + 1).words if tokens[joint].low in {"or", "and"} else ()
        if any(map(is_plural, other)):
            return noun_of_count(tokens, joint + 1)  # 4 zip-top or vacuum bags
    return words if plural is None else words[: plural + 1]


def _past_size(tokens: Tokens, end: int) -> int:
    """Past the size of one, before its noun: "four sterilised 300 ml jars", "1 (23 cm) tart shell"."""
    place = end
    stops = words_of("stop")
    while place < end + 4 and (
        (tokens[place].kind is TokenKind.WORD and tokens[place].low not in stops)
        or (tokens[place].text == "," and place > end and number_at(tokens, place + 2) is not None)
    ):  # two clean, hot 250 ml jars
        if number_at(tokens, place) is not None:
            break  # three one-quart jars
        place += 1
        joined = tokens[place].text in DASHES and tokens[place].glued and tokens[place + 1].glued
        place += joined  # two loose-bottomed 20 cm tins
    opened = tokens[place].text == "("
    if place == end and (edges := edges_at(tokens, place + opened)):
        return edges + (opened and tokens[edges].text == ")")  # 2 (9 x 5-inch) loaf pans
    number = number_at(tokens, place + opened)
    unit = unit_at(tokens, number.end + (tokens[number.end].text in DASHES)) if number else None
    if number is None or unit is None or number.form is Form.ARTICLE:
        return end  # "8 triangles a sheet" has no size
    last = unit.end
    again = number_at(tokens, last + 1) if opened and tokens[last].text == "/" else None
    if again is not None and (other := unit_at(tokens, again.end + (tokens[again.end].text in DASHES))):
        last = other.end  # 4 (6-oz / 180 ml) ramekins
    return last + (opened and tokens[last].text == ")")


def _without_noun(tokens: Tokens, number: Number, end: int) -> Found:
    """A count whose noun stands earlier, or nowhere."""
    value, first = number.value, number.first
    assert value is not None  # the caller has looked
    noun = noun_of_count(tokens, end)
    whole = value.denominator == 1
    alone = _is_of_all, _is_of_people, _is_age
    if not noun and (any(said(tokens, first) for said in alone) or _is_again(tokens, first, end)):
        return Kind.COUNT, end, ""
    if _is_stepwise(tokens, number, end) or (whole and _is_by_vessel(tokens, number, end)):
        return Kind.COUNT, end, ""
    pronoun = (
        tokens[first - 1].low == "the" and load_larder(tokens.tables).find(" ".join(noun)) is None
    )  # "which of the two did it"
    if number.form is Form.WORDS and whole and value <= _MOST_WORDED and (not noun or pronoun):
        return None if _is_short_of_time(tokens, first) else (Kind.COUNT, end, "")
    counted = tokens[first - 1].low == "the" and tokens[first - 2].low not in {"for", "in"}
    if counted and not noun and whole and value <= _MOST_WORDED:
        return Kind.COUNT, end, ""  # "then the 2 go back in"
    place = bound_behind(tokens, first, limit=False)[1] - 1
    if whole and not noun and tokens[place].low in {"be", "get", "have"} and tokens[place - 1].low in _THERE:
        return Kind.COUNT, end, ""  # "there'll be 12 by the end", "you should get about 40"
    if not noun and tokens[end - 1].low in DOZENS:
        return Kind.COUNT, end, ""
    if whole and not noun and tokens.words(end, "in", "all") and not _is_timed(tokens, first):
        return Kind.COUNT, end, ""  # cut 5 cm circles, 24 in all
    if whole and not noun and _is_instead(tokens, first, end):
        return Kind.COUNT, end, ""
    sized = size_at(tokens, end)
    if sized is not None and not phrase_at(tokens, sized[1]).words and whole:
        return Kind.COUNT, end, ""  # "use 2 medium", of the eggs just named
    if _is_yield(tokens, first) and load_larder(tokens.tables).find(" ".join(noun)) is None:
        return Kind.COUNT, end, ""
    if not noun and whole and (tokens[first - 1].low == "into" or _is_cut(tokens, first, value)):
        return Kind.COUNT, end, ""
    return None


def _is_cut(tokens: Tokens, first: int, value: Fraction) -> bool:
    """``cut each strip in 5``: parts."""
    if tokens[first - 1].low != "in" or not 2 <= value <= _MOST_FOODS:
        return False
    return any(tokens[place].low in _DIVIDING for place in range(max(0, first - 7), first - 1))


def _is_of_all(tokens: Tokens, first: int) -> bool:
    """``the other 3``, ``the first 2``; "for the first 10" lacks minutes, unless the sentence has some."""
    before, earlier = tokens[first - 1].low, tokens[first - 2].low
    if before in _ALL:
        return True
    in_time = tokens[first - 3].low in {"for", "in"} and not _is_timed(tokens, first)
    return before in {"first", "last", "next"} and earlier == "the" and not in_time


def _is_timed(tokens: Tokens, first: int) -> bool:
    """Whether the sentence names a time before: "bake 30 minutes, with the door shut for the first 25"."""
    for place in range(first - 1, max(-1, first - _FARTHEST), -1):
        if tokens.is_stop(place):
            return False
        unit = unit_at(tokens, place) if tokens[place - 1].is_number else None
        if unit is not None and unit.unit.dimension is Dimension.DURATION:
            return True
    return False


def _is_of_people(tokens: Tokens, first: int) -> bool:
    """``a table of 200``, ``dinner for 8``, ``3 rows of 5``."""
    joint, noun = tokens[first - 1].low, tokens[first - 2].low
    return (joint == "of" and noun in _PEOPLE) or (joint == "for" and noun in _MEALS)


def _is_age(tokens: Tokens, first: int) -> bool:
    """``children under 4``: years."""
    return tokens[first - 1].low in _AGED and tokens[first - 2].low in _YOUNG


def _is_again(tokens: Tokens, first: int, end: int) -> bool:
    """Whether a number counts what the sentence counted before: "in 3 additions … in 2", "keep 1 for".

    Likewise the layer of "2 layers of paper and 1 of foil"; that of "2 cups of milk and 1 of cream" is a cup.
    """
    before, after = tokens[first - 1].low, tokens[end].low
    if after == "of" and before in _JOINTS:
        return _is_of_things(tokens, first - 1)
    if after == "more" and tokens.is_stop(end + 1):
        return _is_more(tokens, first)
    parts = before == "in" and (tokens.is_stop(end) or after == ",")
    kept = before in _KEEPING and after in {"for", "aside", "back"}
    place = first - 2
    while place > 0 and (parts or kept) and not tokens.is_stop(place):
        if (parts and tokens[place].low in _PARTS) or (kept and tokens.words(place, "of", "the")):
            return True
        place -= 1
    return False


def _is_more(tokens: Tokens, first: int) -> bool:
    """Whether the last number before counts things or turns: "add 2 eggs, then 2 more", "pulse 5 more"."""
    place = first - 1
    while place > 0 and not tokens.is_stop(place) and number_at(tokens, place) is None:
        place -= 1
    number = number_at(tokens, place) if tokens[place].is_number else None
    if number is None:
        return False
    turns = tokens[number.end].low in words_of("occasion")
    return turns or (unit_at(tokens, number.end) is None and _noun_counted(tokens, place))


def _is_instead(tokens: Tokens, first: int, end: int) -> bool:
    """``with large eggs use 3, otherwise 4``: of what the sentence counted, or is to be used in pieces."""
    before = tokens[first - 1].low
    if before not in _INSTEAD | _USING or not (tokens.is_stop(end) or tokens[end].low in _AFTER_ALL):
        return False
    place = first - 2
    while place >= 0 and not tokens.is_stop(place):
        if before in _INSTEAD and number_at(tokens, place) is not None and tokens[place].is_number:
            return _noun_counted(tokens, place)
        if before in _USING and _counts_alone(tokens, place):
            return True
        place -= 1
    return False


def _noun_counted(tokens: Tokens, place: int) -> bool:
    """Whether the number at ``place`` counts things, or stands alone behind "use"."""
    number = number_at(tokens, place)
    if number is None:
        return False
    noun = noun_of_count(tokens, number.end)
    counted = bool(noun) and number.value is not None and _counts(noun, number.value, tokens.tables)
    return counted or _is_instead(tokens, number.first, number.end)


def _counts_alone(tokens: Tokens, place: int) -> bool:
    """Whether the plural of something that is counted stands at ``place``: eggs, limes."""
    word = tokens[place].low
    return is_plural(word) and countable(word, Fraction(2), load_larder(tokens.tables))


def _is_of_things(tokens: Tokens, joint: int) -> bool:
    """Whether the phrase that ends at a joint is a number of things "of" something."""
    of = next((at for at in range(joint - 1, max(joint - _FAR_OF, 0), -1) if tokens[at].low == "of"), 0)
    number = number_at(tokens, of - 2)
    if number is None or number.end != of - 1:
        return False
    unit = unit_at(tokens, of - 1)
    return is_plural(tokens[of - 1].low) and (unit is None or unit.unit.dimension is Dimension.COUNT)


def _is_yield(tokens: Tokens, first: int) -> bool:
    """Whether a number says how many a recipe makes or feeds: "serves 2 as a main, 4 as a side"."""
    if tokens[first - 1].low == "for" and first == 1:
        return True
    if tokens[first - 1].low in {"at", "to"}:
        return False  # "makes 2 at 800"
    for place in range(first - 1, max(-1, first - 10), -1):
        if tokens.is_stop(place):
            return False
        if tokens[place].low in words_of("makes"):
            return True
    return False


def _is_by_vessel(tokens: Tokens, number: Number, end: int) -> bool:
    """``8 to a tin``, ``12 per tray``, ``4 in each dish``; but "for 8 in each" lacks minutes."""
    joint, of = tokens[end].low, tokens[end + 1].low
    shared = joint in {"to", *_EACH} or (joint in {"in", "on"} and of in {"each", "every"})
    if not shared or tokens[number.first - 1].low in _GIVING or (number.value or 0) > _MOST_FOODS:
        return False
    at = end + 1 + (of in _ONE_OF)
    if joint in {"in", "on"} and (tokens.is_stop(at) or tokens[at].low in {"", ",", "of"}):
        return True  # "6 on each", "6 on each of 2 trays"
    return tokens[at].low in _SHARING or any(vessel_at(tokens, place) is not None for place in (at, end + 1))


def _is_stepwise(tokens: Tokens, number: Number, end: int) -> bool:
    """``one at a time``, ``1 by 1``, ``5 or 6 at a time``; "adding it 10 at a time" lacks its unit."""
    after, before = tokens[end].low, tokens[number.first - 1].low
    if after == "at" and tokens.words(end + 1, "a", "time"):
        return before != "it" or not tokens[number.first].is_number
    cuts = any(tokens[place].low in _CUTTING for place in range(max(0, number.first - 7), number.first))
    if after == "by" and (other := number_at(tokens, end + 1)):
        return cuts or number.value == other.value
    first = number_at(tokens, number.first - 2) if before == "by" else None
    return first is not None and (cuts or first.value == number.value)


_CUTTING = frozenset({"cut", "mark", "score", "divide", "slice"})


def _is_short_of_time(tokens: Tokens, first: int) -> bool:
    """Whether a number behind "for" lacks minutes: "simmer for five", but "dinner for two"."""
    if tokens[first - 1].low not in {"for", "another", "about"}:
        return False
    return any(tokens[place].low in words_of("time verb") for place in range(max(0, first - 7), first))
