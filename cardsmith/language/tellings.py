"""Numbers without a unit that measure nothing: counts, references, shares, times, parts of names.

    reference = word-of-reference ["no."] number { ("," | "and" | "to") number } | "#" number | number "nd" | year
    share     = part ("of" | "the" | "full" …) | "by" part | number "part(s)" | number ":" number
    times     = number "times" | "twice"
    name      = number "-" word | number "%" named food | currency number | "pH" … number | "one" as a pronoun
    count     = number { adjective } plural noun | 1 { adjective } noun | number "of the" noun

>>> [one.kind.value for one in (told_in("8 equal pieces"), told_in("one third of the whites"), told_in("4 times"))]
['count', 'ratio', 'times']
>>> told_in("200 flour") is None
True
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from cardsmith.language.numbers import Form, Number, number_at
from cardsmith.language.phrases import is_plural, phrase_at
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, TokenKind, Tokens, tokenize
from cardsmith.language.unit_words import unit_at
from cardsmith.language.word_classes import words_of
from cardsmith.measure.larder import Food, load_larder

CURRENCIES = frozenset("$£€¥₹")
ORDINALS = frozenset({"st", "nd", "rd", "th"})
_YEAR_BEFORE = frozenset(
    "in since from until of by our the circa during before after summer winter spring".split()
)
_PIECELESS = frozenset({"liquid", "powder", "granule", "paste"})  # states of food that nobody counts
_MOST_COUNTED = 40  # pieces of a small food; more of them are weighed (common practice, no source)
_MOST_WORDED = 12  # a number word up to twelve counts people, ends, sides: "cut in two"
_SMALL_FOODS = frozenset({"grain", "seed", "legume", "spice"})
_ALL = frozenset({"other", "all", "these", "those", "both"})
_PRONOUN_BEFORE = frozenset(
    "the this that another other each every any no a which soggy good big first last".split()
)


@dataclass(frozen=True, slots=True)
class Telling:
    """A number that prints as it stands, and the tokens it stands in."""

    kind: Kind
    low: Fraction
    high: Fraction
    first: int
    end: int
    noun: str = ""


def told_in(text: str) -> Telling | None:
    """What the number that begins ``text`` tells; None where it lacks something."""
    tokens = tokenize(text)
    number = number_at(tokens, 0)
    return telling_at(tokens, number, None) if number else None


def reference_at(tokens: Tokens, number: Number, high: Number | None, *, series: bool) -> Telling | None:
    """A number that refers to something: a step, a size by number, a year."""
    last = high or number
    found = _reference(tokens, number, last.end, series) if number.value is not None else None
    if found is None or number.value is None or last.value is None:
        return None
    return Telling(found[0], number.value, last.value, number.first, found[1], found[2])


def telling_at(
    tokens: Tokens, number: Number, high: Number | None, *, series: bool = False
) -> Telling | None:
    """What a bare number (or a range up to ``high``) tells; None where it is no such thing.

    ``series`` says that the number before it in the same list was a reference: "steps 2 and 3".
    """
    if number.value is None:
        return None
    last = high or number
    value = last.value if last.value is not None else number.value
    for production in (_reference, _name, _share, _times, _count):
        found = production(tokens, number, last.end, series)
        if found is not None:
            kind, end, noun = found
            return Telling(kind, number.value, value, number.first, end, noun)
    return None


Found = tuple[Kind, int, str] | None


def _reference(tokens: Tokens, number: Number, end: int, series: bool) -> Found:
    first = number.first
    after = tokens[end]
    if after.glued and after.low in ORDINALS:
        named = tokens[end + 1].text[:1].isupper() or tokens.words(end + 1, "of")
        return (Kind.NAME if named else Kind.REFERENCE), end + 1, ""
    if after.glued and after.low == "s" and number.value is not None and number.value >= 1000:
        return Kind.REFERENCE, end + 1, ""
    if tokens[first - 1].text == "#":
        return Kind.REFERENCE, end, "number"
    lettered = after.glued and after.kind is TokenKind.WORD and len(after.text) == 1
    stop = end + 1 if lettered else end
    place = first - 1
    while tokens[place].text in {".", "(", ":", "°"} or (
        tokens[place].low in {"no", "number", "to"} and place > 0
    ):
        if tokens[place].low in {"no", "number"}:
            return Kind.REFERENCE, stop, "number"
        if tokens[place].low == "to" and tokens[place - 1].low != "dial":
            break
        place -= 1
    word = tokens[place].low
    if (
        word in words_of("reference")
        and number.form is not Form.ARTICLE
        and not _counts_next(tokens, place, end)
    ):
        return Kind.REFERENCE, stop, word
    if series and tokens[first - 1].low in {"and", ",", "or", "of", "to"} and not _noun(tokens, end):
        return Kind.REFERENCE, stop, ""
    return (Kind.REFERENCE, end, "year") if _is_year(tokens, number, end) else None


def _counts_next(tokens: Tokens, place: int, end: int) -> bool:
    """Whether the number behind a word of reference counts what follows: "add to the bowl 2 eggs"."""
    phrase = phrase_at(tokens, end)
    if not phrase.words:
        return False
    return tokens[place].low in {"bag", "no", "layer", "layers", "row"} or is_plural(phrase.words[-1])


def _is_year(tokens: Tokens, number: Number, end: int) -> bool:
    value = number.value
    if value is None or not 1500 <= value <= 2099 or value.denominator != 1 or number.end - number.first != 1:
        return False
    if number.form is not Form.FIGURES or "," in tokens.between(number.first, end):
        return False
    if load_larder().find(" ".join(phrase_at(tokens, end).words)) is not None:
        return False
    return tokens[number.first - 1].low in _YEAR_BEFORE or tokens[number.first - 1].text in {"(", ","}


def _name(tokens: Tokens, number: Number, end: int, series: bool) -> Found:
    first = number.first
    before = tokens[first - 1]
    if tokens.words(first, "half", "and", "half") or tokens.words(first, "half", "-", "and", "-", "half"):
        return Kind.NAME, first + (3 if tokens[first + 1].low == "and" else 5), "half-and-half"
    if before.text in CURRENCIES or (tokens[end].glued and tokens[end].text in CURRENCIES):
        return Kind.NAME, end, ""
    if tokens[first].text.startswith("00") and number.end == first + 1:
        return Kind.NAME, end, tokens[first].text  # a type of flour
    if tokens[end].text in {"°", "º"} or tokens[end].low in {"degree", "degrees"}:
        return Kind.NAME, end + 1, "angle"  # heat.py has refused it
    if (
        tokens.words(end, "out", "of")
        or tokens.words(first - 2, "out", "of")
        or tokens.words(end, "times", "out")
    ):
        return Kind.NAME, end, ""  # nine times out of ten
    if any(tokens[place].low == "ph" for place in range(max(first - 5, 0), first)):
        return Kind.NAME, end, "pH"
    if before.kind is TokenKind.WORD and tokens[first].glued:
        return Kind.NAME, end, before.text  # T55
    if (
        before.text in DASHES
        and tokens[first].glued
        and before.glued
        and tokens[first - 2].kind is TokenKind.WORD
    ):
        return Kind.NAME, end, ""  # U-10
    dash = tokens[end].text in DASHES and tokens[end].glued and tokens[end + 1].glued
    if dash and tokens[end + 1].kind is TokenKind.WORD and tokens[end + 1].low not in {"to", "or"}:
        place = end + 2
        while tokens[place].text in DASHES and tokens[place].glued:
            place += 2
        return Kind.NAME, place, tokens.between(first, place)  # a 3-tined fork, 2-day-old bread
    if tokens[first].low == "one" and number.end == first + 1:
        return _one(tokens, first, end)
    return None


def _one(tokens: Tokens, first: int, end: int) -> Found:
    """The pronoun: "the other one", "one of my favourites", "one more thing"."""
    before, after = tokens[first - 1].low, tokens[end].low
    if after == "another" or (
        after == "of" and tokens[end + 1].low in {"my", "our", "those", "these", "his", "her"}
    ):
        return Kind.NAME, end, ""
    if after == "more" and tokens[end + 1].low in {"thing", "word", "note"}:
        return Kind.NAME, end, ""
    if before in _PRONOUN_BEFORE and not phrase_at(tokens, end).words:
        return Kind.NAME, end, ""
    return None


def _share(tokens: Tokens, number: Number, end: int, series: bool) -> Found:
    value, after = number.value, tokens[end]
    if value is None:
        return None
    if after.low in words_of("share"):
        return Kind.RATIO, end + 1, "part"
    if (
        after.low == "to"
        and (one := number_at(tokens, end + 1))
        and tokens[one.end].low in {"ratio", "mixture"}
    ):
        return Kind.RATIO, one.end, ""
    if after.low in {"times", "×", "x"} and tokens[end + 1].low in {
        "the",
        "as",
        "everything",
        "that",
        "its",
        "more",
    }:
        return Kind.RATIO, end + 1, ""
    if value < 1 and number.form is Form.WORDS:
        return Kind.RATIO, end, ""
    if value < 1 and (after.low in {"of", "full", "the", "way"} or tokens[number.first - 1].low == "by"):
        return (Kind.RATIO, end, "") if not _weighed(tokens, end) else None
    return None


def _weighed(tokens: Tokens, end: int) -> bool:
    """Whether "½ of salt" stands for an amount whose unit is missing: no article before the food."""
    if tokens[end].low != "of" or tokens[end + 1].low in {
        "the",
        "your",
        "it",
        "them",
        "each",
        "this",
        "that",
    }:
        return False
    food = _food(phrase_at(tokens, end + 1).words)
    return food is not None and food.state in _PIECELESS


def _times(tokens: Tokens, number: Number, end: int, series: bool) -> Found:
    place = end
    while tokens[place].low in {
        "more",
        "single",
        "double",
        "short",
        "long",
        "further",
        "extra",
        "quick",
        "one-second",
    }:
        place += 1
    word = tokens[place].low
    if word in words_of("occasion") and number.form is not Form.ARTICLE:
        return Kind.TIMES, end, word
    if tokens[end].text in {"×", "x"}:
        each = number_at(tokens, end + 1)
        joined = each is not None and tokens[each.end].text in DASHES
        return (Kind.TIMES, end, "") if each is None or unit_at(tokens, each.end + joined) else None
    return None


def _count(tokens: Tokens, number: Number, end: int, series: bool) -> Found:
    value = number.value
    if value is None or number.form is Form.ARTICLE:
        return None
    if tokens[end].low == "of" and tokens[end + 1].low in {"the", "these", "those", "your", "them", "each"}:
        noun = phrase_at(tokens, end + 2).words
        food = _food(noun)
        counted = not noun or any(map(is_plural, noun)) or value <= _MOST_WORDED
        return (Kind.COUNT, end, " ".join(noun)) if counted and not _is_weighed(food, noun, value) else None
    noun = _noun(tokens, end)
    if noun and countable(noun, value):
        return Kind.COUNT, end, " ".join(noun)
    before, earlier = tokens[number.first - 1].low, tokens[number.first - 2].low
    if not noun and (
        before in _ALL
        or (
            before in {"first", "last", "next"}
            and earlier == "the"
            and (tokens[number.first - 3].low not in {"for", "in"})
        )
    ):
        return Kind.COUNT, end, ""
    if _stepwise(tokens, number, end):
        return Kind.COUNT, end, ""
    in_words = number.form is Form.WORDS and value <= _MOST_WORDED and value.denominator == 1
    if in_words and not noun and not _short_of_time(tokens, number.first):
        return Kind.COUNT, end, ""
    if (food := _food(noun)) is None and _is_yield(tokens, number.first):
        return Kind.COUNT, end, ""
    del food
    if tokens[number.first - 1].low == "into" and not noun and value.denominator == 1:
        return Kind.COUNT, end, ""
    return None


def _is_yield(tokens: Tokens, first: int) -> bool:
    """Whether a number says how many a recipe makes or feeds: "serves 2 as a main, 4 as a side"; "For 6, use"."""
    if tokens[first - 1].low == "for" and first == 1:
        return True
    return any(tokens[place].low in words_of("makes") for place in range(max(0, first - 9), first))


def _past_size(tokens: Tokens, end: int) -> int:
    """Past the size of one, before its noun: "four sterilised 300 ml jars", "1 (23 cm) tart shell"."""
    place = end
    while (
        tokens[place].kind is TokenKind.WORD and tokens[place].low not in words_of("stop") and place < end + 3
    ):
        place += 1
    opened = tokens[place].text == "("
    number = number_at(tokens, place + opened)
    unit = unit_at(tokens, number.end + (tokens[number.end].text in DASHES)) if number else None
    if unit is None:
        return end
    return unit.end + (opened and tokens[unit.end].text == ")")


def _noun(tokens: Tokens, end: int) -> tuple[str, ...]:
    """The words of the noun phrase behind a number, as far as the first plural."""
    words = phrase_at(tokens, _past_size(tokens, end)).words
    plural = next((place for place, word in enumerate(words) if is_plural(word)), None)
    return words if plural is None else words[: plural + 1]


def countable(noun: tuple[str, ...], number: Fraction) -> bool:
    """Whether ``number`` of a thing can be counted: 8 wedges, 1 onion; never 200 flour, 75 butter, 200 oats."""
    food = _food(noun)
    if _is_weighed(food, noun, number):
        return False
    if is_plural(noun[-1]):
        return True
    if food is not None:
        return number <= 1 and food.state not in _PIECELESS
    return number <= 1


def _is_weighed(food: Food | None, noun: tuple[str, ...], number: Fraction) -> bool:
    """Whether so many of a food are an amount whose unit is missing."""
    if food is None:
        return False
    pieces = any(row.measure not in {"cup", "tablespoon", "teaspoon"} for row in food.measures)
    if food.state in _PIECELESS:
        return not (is_plural(noun[-1]) and pieces)
    if food.aisle in {"legume", "spice"} or number > _MOST_COUNTED:
        return not pieces or number > _MOST_COUNTED
    return False


def _food(noun: tuple[str, ...]) -> Food | None:
    match = load_larder().find(" ".join(noun)) if noun else None
    return match.food if match else None


def _stepwise(tokens: Tokens, number: Number, end: int) -> bool:
    """``one at a time``, ``1 by 1``, ``two by two``, ``5 or 6 at a time``, ``4 each``."""
    after, before = tokens[end].low, tokens[number.first - 1].low
    if after == "at" and tokens.words(end + 1, "a", "time"):
        return True
    if after == "by" and (other := number_at(tokens, end + 1)) and other.value == number.value:
        return True
    first = number_at(tokens, number.first - 2)
    return before == "by" and first is not None and first.value == number.value


def _short_of_time(tokens: Tokens, first: int) -> bool:
    """Whether a number behind "for" lacks minutes: "simmer for five", but "dinner for two"."""
    if tokens[first - 1].low not in {"for", "another", "about"}:
        return False
    return any(tokens[place].low in words_of("time verb") for place in range(max(0, first - 7), first))
