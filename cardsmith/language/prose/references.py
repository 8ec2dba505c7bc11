"""Numbers that refer to something, and numbers that are part of a name or a turn of phrase.

    reference = word-of-reference ["no."] number [letter] { ("," | "and" | "to") number }
              | "#" number | number ("st" | "nd" | "rd" | "th") | number "s" | year | date
              | number "." before a capital
    name      = "half and half" | number "-" word | currency number | "pH" … number | letter number
              | number "degrees" of an angle | number "rpm" | "one" as a pronoun | "out of" number

>>> [str(referred_in(text).kind) for text in ("step 3", "#10 tip", "the 2nd rise", "in 1987", "1. Heat oil")]
['reference', 'reference', 'reference', 'reference', 'reference']
>>> [str(referred_in(text).kind) for text in ("a 3-tined fork", "T55", "pH 4.2", "$3", "one more thing")]
['name', 'name', 'name', 'name', 'name']
>>> half_and_half_at(tokenize("a half-and-half custard"), 0).noun, referred_in("add 3 eggs") is None
('half-and-half', True)
"""

from __future__ import annotations

from fractions import Fraction

from cardsmith.language.figures.numbers import ORDINALS, Form, Number, number_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.noun_phrases import is_plural, phrase_at
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, SLASHES, TokenKind, Tokens
from cardsmith.language.word_classes import words_of
from cardsmith.measure.larder import load_larder
from cardsmith.measure.units import Dimension

_FARTHEST = 40  # tokens; so that time grows with the length of a text
_WHOLE = 100  # the flour of a baker's percentages
CURRENCIES = frozenset("$£€¥₹")
_MONTHS = frozenset(
    "January February March April May June July August September October November December "
    "Jan Feb Mar Apr Aug Sep Sept Oct Nov Dec".split()
)
_YEAR_BEFORE = frozenset(
    "in since from until of by our the circa during before after summer winter spring".split()
)
_APOSTROPHES = frozenset("'’‘")
_DIGITS_OF_SHORT = 2
_PRONOUN_BEFORE = frozenset(
    "the this that another other each every any no a which soggy good big first last".split()
)
_OF_MACHINES = frozenset({"rpm", "volt", "volts", "hertz", "amps"})  # the same in every kitchen
_MOMENTS = frozenset({"hour", "minute", "week", "month"})
_ANY_TIME = frozenset({"the", "first", "last", "half", "every", "each", "per", "full", "whole", "quarter"})
_MINE = frozenset({"my", "our", "those", "these", "his", "her"})
_ANY_NUMBER = frozenset(
    {"bag", "no", "layer", "layers", "row"}
)  # a count may follow them: "in a bag 2 limes"


Found = tuple[Kind, int, str] | None  # the kind, where it ends, and its noun


def reference_at(tokens: Tokens, number: Number, high: Number | None, *, series: bool) -> TokenReading | None:
    """A number (or a range up to ``high``) that refers to something: a step, a size by number, a year.

    ``series`` says that the number before it in the same list was a reference: "steps 2 and 3".
    """
    last = high or number
    reference = _reference(tokens, number, last.end, series=series) if number.value is not None else None
    return told(number, last, reference)


def name_at(tokens: Tokens, number: Number, high: Number | None) -> TokenReading | None:
    """A number that is part of a name or a turn of phrase."""
    last = high or number
    return told(number, last, _name(tokens, number, last.end) or _pronoun(tokens, number, last.end))


def half_and_half_at(tokens: Tokens, at: int) -> TokenReading | None:
    """Half-and-half, which is a cream, or how a thing is shared; an article may stand before it."""
    article = tokens[at].low in {"a", "the"}
    place = at + article
    if tokens[place].low != "half":
        return None
    plain = tokens.words(place, "half", "and", "half")
    if not plain and not tokens.words(place, "half", "-", "and", "-", "half"):
        return None
    half, end = Fraction(1, 2), place + (3 if plain else 5)
    return TokenReading(place, end, Kind.NAME, low=half, high=half, noun="half-and-half")


def told(number: Number, last: Number, reference: Found) -> TokenReading | None:
    """A number (or a range up to ``last``) as what was found of it; None where nothing was."""
    if reference is None or number.value is None or last.value is None:
        return None
    return TokenReading(
        number.first, reference[1], reference[0], low=number.value, high=last.value, noun=reference[2]
    )


# --- references -----------------------------------------------------------------------------------------


def _reference(tokens: Tokens, number: Number, end: int, *, series: bool) -> Found:
    first, after = number.first, tokens[end]
    if after.glued and after.low in ORDINALS:
        named = tokens[end + 1].text[:1].isupper() or tokens.words(end + 1, "of")
        return (Kind.NAME if named else Kind.REFERENCE), end + 1, ""
    if after.glued and after.low == "s" and number.value is not None and number.value >= 1000:
        return Kind.REFERENCE, end + 1, ""  # the 1930s
    if tokens[first - 1].text == "#":
        return Kind.REFERENCE, end, "number"
    if tokens[end].low == "on" and "dial" in (tokens[end + 1].low, tokens[end + 2].low):
        return Kind.REFERENCE, end, "dial"  # 5 on the dial
    begins = first == 0 or tokens.is_stop(first - 1)
    if begins and after.text in {".", ")"} and tokens[end + 1].text[:1].isupper():
        return Kind.REFERENCE, end, "step"  # "1. Heat the oven": a step numbered by hand
    date = _date(tokens, number, end)
    if date:
        return Kind.REFERENCE, date, "date"
    lettered = after.glued and after.kind is TokenKind.WORD and len(after.text) == 1
    stop = end + 1 if lettered else end
    word = _word_of_reference(tokens, number, end)
    if word:
        joined = tokens[stop].text in SLASHES or (tokens[stop].text in DASHES and tokens[stop].glued)
        other = number_at(tokens, stop + 1) if joined else None  # type 45/55, pp. 112–13
        return Kind.REFERENCE, other.end if other else stop, word
    listed = series and tokens[first - 1].low in {"and", ",", "or", "of", "to"}
    if listed and not phrase_at(tokens, end).words:
        return Kind.REFERENCE, stop, ""
    return (Kind.REFERENCE, end, "year") if _is_year(tokens, number, end) else None


def _date(tokens: Tokens, number: Number, end: int) -> int | None:
    """Where a date's number ends: "4 May", "May 4, 2026", "2026-02-16"; None where there is no date."""
    first = number.first
    last = first - 1 - (tokens[first - 1].text == "." and tokens[first - 2].text in _MONTHS)  # Dec. 24
    behind = [tokens[place] for place in range(last, last - 3, -1)]
    counts = unit_at(tokens, end) is not None or any(map(is_plural, phrase_at(tokens, end).words[:1]))
    of_month = tokens[end].text in _MONTHS or (behind[0].text in _MONTHS and not counts)  # "March 3 eggs in"
    year = behind[0].text == "," and behind[1].is_number and behind[2].text in _MONTHS
    if number.end - first == 1 and (of_month or year):
        return end
    dashes = tokens[number.end].text in DASHES and tokens[number.end + 2].text in DASHES
    whole = all(tokens[number.end + step].is_number and tokens[number.end + step].glued for step in (1, 3))
    return number.end + 4 if dashes and whole and len(tokens[first].text) == 4 else None


def _word_of_reference(tokens: Tokens, number: Number, end: int) -> str:
    """The word that a number names one of: "step 3", "a No. 10 tip", "dial to 6"; empty where none."""
    if number.form is Form.ARTICLE:
        return ""
    place = number.first - 1
    while tokens[place].text in {".", "(", ":", "°"} or (
        tokens[place].low in {"no", "number", "to", "of"} and place >= 0
    ):
        if tokens[place].low in {"no", "number"}:
            return "number"
        if tokens[place].low in {"to", "of"} and tokens[place - 1].low != "dial":
            break
        place -= 1
    word = tokens[place].low
    if word not in words_of("reference") and not _is_moment(tokens, place):
        return ""
    # "Figure 2 shows", "Recipe 14b uses": a capital heads a title, and what follows is its verb
    titled = tokens[place].text[:1].isupper() and place == number.first - 1
    return word if titled or not _counts_next(tokens, place, end) else ""


def _is_moment(tokens: Tokens, place: int) -> bool:
    """Whether an hour or a minute is named by its number: "around hour 6 or 7"; but "1 hour 75" lacks one."""
    before = tokens[place - 1]
    measured = before.is_number or number_at(tokens, place - 1) is not None or before.low in _ANY_TIME
    return tokens[place].low in _MOMENTS and not measured and place > 0


def _counts_next(tokens: Tokens, place: int, end: int) -> bool:
    """Whether the number behind a word of reference counts what follows: "add to the bowl 2 eggs"."""
    phrase = phrase_at(tokens, end)
    if not phrase.words:
        return False
    return tokens[place].low in _ANY_NUMBER or is_plural(phrase.words[-1])


def _is_year(tokens: Tokens, number: Number, end: int) -> bool:
    value = number.value
    if _is_short_year(tokens, number, end):
        return True
    if value is None or not 1500 <= value <= 2099 or value.denominator != 1 or number.end - number.first != 1:
        return False
    if number.form is not Form.FIGURES or "," in tokens.between(number.first, end):
        return False
    if load_larder(tokens.tables).find(" ".join(phrase_at(tokens, end).words)) is not None:
        return False
    return tokens[number.first - 1].low in _YEAR_BEFORE or tokens[number.first - 1].text in {"(", ","}


def _is_short_year(tokens: Tokens, number: Number, end: int) -> bool:
    """``in '74``, ``the summer of ’62``."""
    mark, text = tokens[number.first - 1], tokens.between(number.first, number.end)
    quoted = tokens[end].text in _APOSTROPHES
    short = mark.text in _APOSTROPHES and tokens[number.first].glued and not mark.glued and not quoted
    return short and len(text) == _DIGITS_OF_SHORT and text.isdecimal()


# --- names ----------------------------------------------------------------------------------------------


def _name(tokens: Tokens, number: Number, end: int) -> Found:
    first = number.first
    before, after = tokens[first - 1], tokens[end]
    if before.text in CURRENCIES or (after.glued and after.text in CURRENCIES):
        return Kind.NAME, end, ""
    if tokens[first].text.startswith("00") and number.end == first + 1:
        return Kind.NAME, end, tokens[first].text  # a type of flour
    if after.text in {"°", "º"} or after.low in {"degree", "degrees"}:
        return Kind.NAME, end + 1, "angle"  # heat.py has refused it
    opened = end + (after.text == "(")
    if any(tokens.words(place, "out", "of") for place in (opened, first - 2)) or tokens.words(
        end, "times", "out"
    ):
        return Kind.NAME, end, ""  # nine times out of ten
    if _is_acidity(tokens, first):
        return Kind.NAME, end, "pH"
    if after.low in _OF_MACHINES or after.text == "V":
        return Kind.NAME, end + 1, after.low
    if _is_percentage(tokens, first) or after.low == "ppm":
        return Kind.NAME, end, "per cent"
    if before.kind is TokenKind.WORD and tokens[first].glued:
        return Kind.NAME, end, before.text  # T55
    dashed = before.text in DASHES and before.glued and tokens[first].glued
    if dashed and tokens[first - 2].kind is TokenKind.WORD:
        return Kind.NAME, end, ""  # U-10
    return _compound(tokens, first, end)


def _is_acidity(tokens: Tokens, first: int) -> bool:
    """``pH 4.2``, ``a pH of 3.8``."""
    for place in range(first - 1, max(first - 6, -1), -1):
        if tokens[place].low == "ph":
            return True
        if tokens[place].text in {";", ",", "."}:
            return False
    return False


def _is_percentage(tokens: Tokens, first: int) -> bool:
    """``Percentages on flour: water 54, salt 2``; ``flour 100, water 70``."""
    for place in range(first - 1, max(-1, first - _FARTHEST), -1):
        if tokens.is_stop(place) and tokens[place].text != ":":
            return False
        whole = number_at(tokens, place + 1) if tokens[place].low == "flour" else None
        unit = unit_at(tokens, whole.end) if whole else None
        weighed = unit is not None and unit.unit.dimension is not Dimension.RATIO
        baker = whole is not None and whole.value == _WHOLE and not weighed
        if baker or tokens[place].low in {"percentage", "percentages"}:
            return tokens[first - 1].kind is TokenKind.WORD
    return False


def _compound(tokens: Tokens, first: int, end: int) -> Found:
    """A number joined to a word: a 3-tined fork, 2-day-old bread."""
    dash = tokens[end].text in DASHES and tokens[end].glued and tokens[end + 1].glued
    if not dash or tokens[end + 1].kind is not TokenKind.WORD or tokens[end + 1].low in {"to", "or", "and"}:
        return None
    place = end + 2
    while tokens[place].text in DASHES and tokens[place].glued and tokens[place + 1].kind is TokenKind.WORD:
        place += 2
    return Kind.NAME, place, tokens.between(first, place)


def _pronoun(tokens: Tokens, number: Number, end: int) -> Found:
    """ "One" that counts nothing: "the other one", "one of my favourites", "one more thing"."""
    first = number.first
    if tokens[first].low != "one" or number.end != first + 1:
        return None
    before, after, next_one = tokens[first - 1].low, tokens[end].low, tokens[end + 1].low
    if after == "another" or (after == "of" and next_one in _MINE):
        return Kind.NAME, end, ""
    if after == "more" and next_one in {"thing", "word", "note"}:
        return Kind.NAME, end, ""
    if before in _PRONOUN_BEFORE and not phrase_at(tokens, end).words:
        return Kind.NAME, end, ""
    return None
