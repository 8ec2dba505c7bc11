"""Numbers as cooks write them: ``1½``, ``1-1/2``, ``.5``, ``two and three-quarters``, ``half a dozen``.

    number   = figures | words | article
    figures  = sign | digits sign | digits [-] fraction | digits "and" fraction | fraction | decimal | digits
             | digits { blank digits }                                            thousands: 1 000
    fraction = digits "/" digits
    words    = whole ["and" part] | part | "half" ["a"] | "a couple"
             | ["a"] "half" ["a"] "dozen" | whole "dozen"
    whole    = one … nineteen | twenty … ninety ["-" one … nine] | whole "hundred" ["and" whole] …
    part     = ("a" | whole) ["-"] ("half" | "third" | "quarter" | "eighth" …)
    article  = "a" | "an"

>>> def value(text):
...     return str(number_in(text).value)
>>> value("12 wedges"), value("½ cup"), value("1½ cups"), value("1-1/2"), value("2 and ½"), value("1.25 kg")
('12', '1/2', '3/2', '3/2', '5/2', '5/4')
>>> value("3/4 cup"), value("two and three-quarters"), value("half a dozen"), value("a dozen and a half")
('3/4', '11/4', '6', '18')
>>> value("half-a-dozen"), value("a half-dozen"), value("one-and-a-half")
('6', '6', '3/2')
>>> value("twenty-five"), value("two hundred and twenty"), value("three-quarters"), value("an eighth")
('25', '220', '3/4', '1/8')
>>> value("1 000 ml"), value("10 050 g"), value("2 400 g cans"), value("1\u202f250 g")
('1000', '10050', '2', '1250')
>>> number_in("a cup").form
<Form.ARTICLE: 'article'>
"""

from __future__ import annotations

import enum
from fractions import Fraction
from functools import lru_cache

from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault, fault_at
from cardsmith.language.tokens import DASHES, SLASHES, Token, TokenKind, Tokens, numeric, tokenize

_NARROW = frozenset({"\u2009", "\u202f"})  # blanks that ISO 80000-1 parts thousands with
LONGEST = 12  # digits; more is a slip of the keyboard, not an amount
# What a scoop, a rule or a cook divides by; 180/160 is two temperatures, not a fraction.
DENOMINATORS = frozenset({2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 16, 32, 64})
ONES = {
    word: number
    for number, word in enumerate(
        "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
        "sixteen seventeen eighteen nineteen".split()
    )
}
TENS = {
    word: 10 * number
    for number, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), 2)
}
SCALES = {"hundred": 100, "thousand": 1000}
PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4,
    "fifth": 5, "fifths": 5, "sixth": 6, "sixths": 6, "eighth": 8, "eighths": 8, "sixteenth": 16,
    "sixteenths": 16,
}  # fmt: skip
_THIRDS = frozenset(
    {"lower", "upper", "bottom", "top", "middle", "remaining", "outer", "inner"}
)  # of an oven
ARTICLES = frozenset({"a", "an"})
DOZENS = frozenset({"dozen", "doz", "dz"})
ORDINALS = frozenset({"st", "nd", "rd", "th", "ths", "rds"})  # 3/4th, 2/3rds
_AND = frozenset({"and", "&"})
NUMBER_WORDS = frozenset({*ONES, *TENS, *SCALES, *DOZENS, "half", "couple"})


@enum.unique
class Form(enum.StrEnum):
    """How a number is written."""

    FIGURES = "figures"
    WORDS = "words"
    ARTICLE = "article"  # "a", "an": a number only before a unit


@frozen(kw_only=False)
class Number:
    """A number and the tokens it stands in; ``value`` is None where the faults say why it can't be read."""

    value: Fraction | None
    first: int
    end: int  # one past its last token
    form: Form = Form.FIGURES
    faults: tuple[Fault, ...] = ()
    about: bool = False  # "a couple"


def number_in(text: str) -> Number:
    """The number that begins ``text``.

    Raises:
        ValueError: none does.
    """
    number = number_at(tokenize(text), 0)
    if number is None:
        raise ValueError(f"{text!r} begins with no number")
    return number


@lru_cache(maxsize=1 << 12)  # several productions ask about one place
def number_at(tokens: Tokens, at: int) -> Number | None:
    """The number that begins at token ``at``; None where none does."""
    token = tokens[at]
    pointed = token.text == "." and tokens[at + 1].is_number and tokens[at + 1].glued
    if token.is_number or (pointed and tokens[at - 1].text != "."):  # "butter ...1 stick"
        return _dozens(tokens, _figures(tokens, at))
    return _dozens(tokens, _in_words(tokens, at)) if token.kind is TokenKind.WORD else None


# --- figures ------------------------------------------------------------------------------------------


def _figures(tokens: Tokens, at: int) -> Number:
    run = _run(tokens, at)
    if any(len(tokens[place].text) > LONGEST for place in range(at, run)):
        what = f"a number of {len(tokens.between(at, run))} characters"
        fault = fault_at(tokens, at, run, "number-too-long", what, "a shorter number")
        return Number(None, at, run, faults=(fault,))
    parts = _counted_parts(tokens, at)
    return parts or _fraction(tokens, at) or _mixed(tokens, at) or _decimal(tokens, at)


def _counted_parts(tokens: Tokens, at: int) -> Number | None:
    """``3 quarters of a cup``."""
    bottom = PARTS.get(tokens[at + 1].low, 0)
    if tokens[at].kind is not TokenKind.DIGITS or not tokens[at + 1].low.endswith("s") or not bottom:
        return None
    top, end = int(tokens[at].text), of_a(tokens, at + 2)
    return Number(Fraction(top, bottom), at, end, Form.WORDS) if top < bottom and end == at + 4 else None


def _run(tokens: Tokens, at: int) -> int:
    """Where the figures that stand together without a blank end: ``3/4/5``, ``1.2.3``."""
    end = at + 1
    while tokens[end].glued and (
        tokens[end].is_number
        or ((tokens[end].text in SLASHES or tokens[end].text in ".,'’") and _digit(tokens, end + 1))
    ):
        end += 1
    return end


def _digit(tokens: Tokens, at: int) -> bool:
    return tokens[at].is_number and tokens[at].glued


def _sign(token: Token) -> Fraction | None:
    """The value of a number in one character."""
    digits = numeric(token.text)
    top, _, bottom = digits.partition("/")
    if not (top.isdigit() and (not bottom or bottom.isdigit())):
        return None
    return Fraction(int(top), int(bottom or 1))


def _over(tokens: Tokens, at: int) -> tuple[Fraction, int] | None:
    """A fraction with a slash, without blanks, and where it ends."""
    top, slash, bottom = tokens[at], tokens[at + 1], tokens[at + 2]
    if top.kind is not TokenKind.DIGITS or slash.text not in SLASHES or bottom.kind is not TokenKind.DIGITS:
        return None
    if not (slash.glued and bottom.glued) or int(bottom.text) not in DENOMINATORS:
        return None
    ordinal = tokens[at + 3].glued and tokens[at + 3].low in ORDINALS
    return Fraction(int(top.text), int(bottom.text)), at + 3 + ordinal


def _part(tokens: Tokens, at: int) -> tuple[Fraction, int] | None:
    """What may follow a whole number: ``½`` or ``1/2``; it must be less than one."""
    if tokens[at].kind is TokenKind.SIGN:
        value = _sign(tokens[at])
        return (value, at + 1) if value is not None and value < 1 else None
    over = _over(tokens, at)
    return over if over and over[0] < 1 else None


def _fraction(tokens: Tokens, at: int) -> Number | None:
    over = _over(tokens, at)
    if over is None or _continues(tokens, over[1]):
        return None
    return Number(over[0], at, over[1])


def _continues(tokens: Tokens, end: int) -> bool:
    """Whether figures go on without a blank, so that what was read is part of something else."""
    token = tokens[end]
    if not token.glued:
        return False
    return token.is_number or (token.text in SLASHES and _digit(tokens, end + 1))


def _mixed(tokens: Tokens, at: int) -> Number | None:
    """``1½``, ``1 1/2``, ``1-1/2``, ``1 and ½``, ``2 and a half``."""
    if tokens[at].kind is not TokenKind.DIGITS:
        return None
    whole = int(tokens[at].text)
    after = tokens[at + 1]
    place = at + 1
    if after.text in DASHES and after.glued and tokens[at + 2].glued:
        place = at + 2
    elif after.low in _AND:
        place = at + 2
        named = _named_part(tokens, place)
        if named:
            return Number(whole + named[0], at, named[1])
    part = _part(tokens, place)
    if part is None or _continues(tokens, part[1]):
        return None
    return Number(whole + part[0], at, part[1])


def _decimal(tokens: Tokens, at: int) -> Number:
    end = _run(tokens, at)
    token = tokens[at]
    if token.kind is TokenKind.SIGN:
        value = _sign(token)
        if value is None or end > at + 1:
            return unreadable(tokens, at, end)
        return Number(value, at, end)
    text = tokens.between(at, end)
    if "," in text:
        return _comma(tokens, at, end)
    if end == at + 1 and token.kind is TokenKind.DIGITS:
        thousands, end = _thousands(tokens, at)
        return Number(Fraction(thousands), at, end)
    if text.count(".") == 1 and text.replace(".", "").isdecimal():
        whole, _, tenths = text.partition(".")
        return Number(Fraction(f"{int(whole or 0)}.{tenths}"), at, end)
    slashes = [place for place in range(at, end) if tokens[place].text in SLASHES]
    return _decimal_before(tokens, at, slashes[0], end) if len(slashes) == 1 else unreadable(tokens, at, end)


def _thousands(tokens: Tokens, at: int) -> tuple[int, int]:
    """``1 000``: a whole number whose thousands a blank parts, and where it ends.

    Three figures behind a blank are a size of their own ("2 400 g cans"), unless they begin with a nought
    or the blank is a narrow one.
    """
    value, end = int(tokens[at].text), at + 1
    while value and len(tokens[at].text) <= 3 and tokens[end].kind is TokenKind.DIGITS:
        group, blank = tokens[end].text, tokens.text[tokens[end - 1].end : tokens[end].start]
        if len(group) != 3 or not (group.startswith("0") or blank in _NARROW) or tokens[end].glued:
            break
        value, end = value * 1000 + int(group), end + 1
    return value, end


def _decimal_before(tokens: Tokens, at: int, slash: int, end: int) -> Number:
    """The first of two numbers with a slash between: ``180/160``; nothing can be divided by nothing."""
    text, other = tokens.between(at, slash), tokens[slash + 1].text
    if text.replace(".", "", 1).isdecimal() and other.strip("0"):
        return Number(Fraction(text), at, slash)
    return unreadable(tokens, at, end)


def _comma(tokens: Tokens, at: int, end: int) -> Number:
    """``1,200`` in thousands, ``1,5`` with a decimal comma; what is neither can't be read."""
    text = tokens.between(at, end)
    groups = text.split(",")
    if not all(group.isdecimal() for group in groups):
        return unreadable(tokens, at, end)
    if len(groups[0]) <= 3 and int(groups[0]) and all(len(group) == 3 for group in groups[1:]):
        return Number(Fraction(int("".join(groups))), at, end)
    if len(groups) > 2:
        return unreadable(tokens, at, end)
    return Number(Fraction(f"{int(groups[0])}.{groups[1]}"), at, end)


# --- words --------------------------------------------------------------------------------------------


def _in_words(tokens: Tokens, at: int) -> Number | None:
    word = tokens[at].low
    if word in ARTICLES:
        return _after_article(tokens, at)
    if word == "half":
        dashed = tokens[at + 1].text in DASHES and tokens[at + 2].low in ARTICLES  # half-a-dozen
        return Number(Fraction(1, 2), at, at + 3 if dashed else of_a(tokens, at + 1), Form.WORDS)
    if word == "dozen":
        return Number(Fraction(12), at, at + 1, Form.WORDS)  # "by the dozen"
    if word == "third" and tokens[at - 1].low in _THIRDS:
        return Number(Fraction(1, 3), at, at + 1, Form.WORDS)
    if word == "quarter" and tokens[at + 1].low != "the":
        return Number(Fraction(1, 4), at, of_a(tokens, at + 1), Form.WORDS)
    whole = _whole(tokens, at)
    if whole is None:
        return None
    value, end = whole
    part = _named_part(tokens, at)
    if part:
        return Number(part[0], at, of_a(tokens, part[1]), Form.WORDS)
    joint = end + _is_dash(tokens, end)  # one-and-a-half
    if tokens[joint].low == "and":
        place = joint + 1 + _is_dash(tokens, joint + 1)
        joined = _named_part(tokens, place) or _part(tokens, place)
        if joined:
            return Number(value + joined[0], at, joined[1], Form.WORDS)
    return Number(Fraction(value), at, end, Form.WORDS)


def _is_dash(tokens: Tokens, at: int) -> bool:
    """Whether a dash joins two words at token ``at``."""
    return tokens[at].text in DASHES and tokens[at].glued and tokens[at + 1].glued


def _after_article(tokens: Tokens, at: int) -> Number:
    after = tokens[at + 1].low
    if after == "couple":
        end = at + 3 if tokens[at + 2].low == "of" else at + 2
        return Number(Fraction(2), at, end, Form.WORDS, about=True)
    if after in SCALES:
        whole = _whole(tokens, at + 1)
        if whole:
            return Number(Fraction(whole[0]), at, whole[1], Form.WORDS)
    part = _named_part(tokens, at)
    if part:
        return Number(part[0], at, of_a(tokens, part[1]), Form.WORDS)
    return Number(Fraction(1), at, at + 1, Form.ARTICLE)


def of_a(tokens: Tokens, end: int) -> int:
    """Past the *of a* of "three-quarters of a cup", which adds nothing."""
    if tokens[end].low == "of" and tokens[end + 1].low in ARTICLES:
        return end + 2
    return end + 1 if tokens[end].low in ARTICLES else end


def _named_part(tokens: Tokens, at: int) -> tuple[Fraction, int] | None:
    """``three-quarters``, ``a half``, ``one eighth``, and where it ends; it is less than one."""
    if tokens[at].low in ARTICLES:
        top, end = 1, at + 1
    else:
        whole = _whole(tokens, at)
        if whole is None:
            return None
        top, end = whole
    if tokens[end].text in DASHES and tokens[end].glued:
        end += 1
    bottom = PARTS.get(tokens[end].low)
    if bottom is None or not 0 < top < bottom:
        return None
    return Fraction(top, bottom), end + 1


def _whole(tokens: Tokens, at: int) -> tuple[int, int] | None:
    """A whole number in words and where it ends: ``two hundred and twenty``."""
    first = _below_hundred(tokens, at)
    if first is None and tokens[at].low in SCALES:
        first = (1, at)
    if first is None:
        return None
    total, end = first
    while tokens[end].low in SCALES:
        total, end = total * SCALES[tokens[end].low], end + 1
        rest = _below_hundred(tokens, end + 1 if tokens[end].low == "and" else end)
        if rest:
            higher = rest[1] if tokens[rest[1]].low in SCALES else None
            total, end = (
                total + rest[0] * (SCALES[tokens[higher].low] if higher else 1),
                (higher + 1 if higher else rest[1]),
            )
    return total, end


def _below_hundred(tokens: Tokens, at: int) -> tuple[int, int] | None:
    word = tokens[at].low
    if word in ONES:
        return ONES[word], at + 1
    if word not in TENS:
        return None
    dash = tokens[at + 1].text in DASHES and tokens[at + 1].glued
    place = at + 2 if dash else at + 1
    units = ONES.get(tokens[place].low, 0)
    return (TENS[word] + units, place + 1) if 0 < units < 10 else (TENS[word], at + 1)


def _dozens(tokens: Tokens, number: Number | None) -> Number | None:
    """A number of dozens in ones: ``2 dozen``, ``half a dozen``, ``a dozen and a half``."""
    if number is None or number.value is None:
        return number
    end, value = number.end, number.value
    end += tokens[end].text in DASHES and tokens[end].glued and tokens[end + 1].glued  # "half-a-dozen"
    if tokens[end].low not in DOZENS:
        return number
    end += 1 + (tokens[end].low != "dozen" and tokens[end + 1].text == "." and not tokens.is_stop(end + 1))
    part = _named_part(tokens, end + 1) if tokens[end].low == "and" else None
    if part:
        value, end = value + part[0], part[1]
    return Number(value * 12, number.first, end, Form.WORDS, number.faults, number.about)


# --- what can't be read -------------------------------------------------------------------------------


def unreadable(tokens: Tokens, at: int, end: int) -> Number:
    """The tokens from ``at`` up to ``end`` as a number that can't be read."""
    what, instead = "“{}” can't be read as a number", "a number such as 1 1/2, ½ or 0.5"
    return Number(None, at, end, faults=(fault_at(tokens, at, end, "unreadable-amount", what, instead),))
