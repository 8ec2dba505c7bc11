"""How a time in a sentence is spent: a moment inside another time, once a side, beside other work.

    moment = before ["about" | "the"] time | time after | "the" ("first" | "last" | "final") time
           | "(" … time … ("feet" | "altitude" | …) … ")", a time for kitchens higher up
           | ("keeps" | "they stay" | "will last" | "good" | …) [up to three words] time, how long it keeps
    sides  = time … ("each" | "per" | "a" | "both") ("side" | "sides"), before a comma
    each   = time ["for"] "each"
    beside = "while" | "meanwhile" | "at the same time" | "as soon as", anywhere in the sentence

>>> def told(text, time):
...     return spending(text, text.index(time), text.index(time) + len(time))
>>> told("Fold it after 30 minutes.", "30 minutes").is_moment, told("Rest for 1 hour.", "1 hour").is_moment
(True, False)
>>> told("Baste in the last 5 minutes.", "5 minutes").is_moment, told("Start 1 day ahead.", "1 day").is_moment
(True, True)
>>> told("Process 10 minutes (15 minutes above 1,000 feet).", "15 minutes").is_moment
True
>>> told("It keeps crisp for 2 weeks.", "2 weeks").is_moment, told("Keep hot for 1 hour.", "1 hour").is_moment
(True, False)
>>> told("Fry for 3 minutes on each side, then rest.", "3 minutes").sides
2
>>> told("Fry in batches for 3 minutes each.", "3 minutes").is_each
True
>>> told("Chop the nuts while it bakes for 20 minutes.", "20 minutes").is_beside
True
"""

from __future__ import annotations

from cardsmith.frozen import frozen
from cardsmith.language.tokens import ENDS, Tokens, tokenize
from cardsmith.language.word_classes import words_of

_FILLING = frozenset({"about", "the"})
_ENDS_OF_A_TIME = frozenset({"first", "last", "final"})
_SIDES = frozenset({("each", "side"), ("per", "side"), ("a", "side"), ("both", "sides")})
_HIGHER = frozenset("feet foot ft metres meters altitude altitudes elevation elevations".split())
_LASTS = frozenset("keeps lasts holds stays good".split())
_LAST = frozenset("keep last hold stay".split())  # of what stands before them: an order has nothing there
_WHAT_LASTS = frozenset("will they these those should leftovers".split())
_BETWEEN = 3  # words that may stand between: keeps *well chilled for* 2 days
_BESIDE = (("while",), ("meanwhile",), ("at", "the", "same", "time"), ("as", "soon", "as"))


@frozen
class Spending:
    """What the words around a time say of it."""

    is_moment: bool  # a point inside another time, or a time that is not spent here
    sides: int  # how many sides it is spent on
    is_each: bool  # whether it is spent on each of several
    is_beside: bool  # whether something else is done meanwhile


def spending(sentence: str, start: int, end: int) -> Spending:
    """How the time that stands from ``start`` up to ``end`` in its sentence is spent."""
    tokens = tokenize(sentence)
    first = sum(token.end <= start for token in tokens.all)
    after = sum(token.start < end for token in tokens.all)
    each = after + (tokens[after].low == "for")
    return Spending(
        is_moment=_is_behind(tokens, first)
        or _is_before(tokens, after)
        or _is_higher(tokens, first, after)
        or _is_of_keeping(tokens, first),
        sides=2 if _has_sides(tokens, after) else 1,
        is_each=tokens[each].low == "each",
        is_beside=any(_says(tokens, *words) for words in _BESIDE),
    )


def _says(tokens: Tokens, *words: str) -> bool:
    """Whether some words stand anywhere in a text, in a row."""
    return words[0] in tokens.low and any(tokens.words(at, *words) for at in range(len(tokens)))


def _is_behind(tokens: Tokens, first: int) -> bool:
    """Whether the words before a time make a moment of it: "after 30 minutes", "the last 5 minutes"."""
    at = first - 1
    if tokens[at].low in _ENDS_OF_A_TIME and tokens[at - 1].low == "the":
        return True
    at -= tokens[at].low in _FILLING
    return tokens[at].low in words_of("moment before") or tokens.words(at - 1, "up", "to")


def _is_before(tokens: Tokens, after: int) -> bool:
    """Whether those after it do: "1 hour before serving", "3 days in advance"."""
    said = tokens[after].low in words_of("moment after")
    return said or tokens.words(after, "in", "advance") or tokens.words(after, "to", "go")


def _is_of_keeping(tokens: Tokens, first: int) -> bool:
    """Whether a time is how long the food lasts: "it keeps a month", "they will stay crisp for 2 weeks"."""
    for at in range(first - 1, max(first - 2 - _BETWEEN, -1), -1):
        if tokens[at].text in ENDS or tokens[at].text in ",:":
            return False
        if tokens[at].low in _LASTS or (tokens[at].low in _LAST and at and tokens[at - 1].low in _WHAT_LASTS):
            return True
    return False


def _is_higher(tokens: Tokens, first: int, after: int) -> bool:
    """Whether a bracket around it gives the times for kitchens at other altitudes."""
    marks = [tokens[at].text for at in range(first)]
    if marks.count("(") <= marks.count(")"):
        return False
    begins = len(marks) - marks[::-1].index("(")
    ends = next((at for at in range(after, len(tokens)) if tokens[at].text == ")"), len(tokens))
    return any(tokens[at].low in _HIGHER for at in range(begins, ends))


def _has_sides(tokens: Tokens, after: int) -> bool:
    for at in range(after, len(tokens)):
        if tokens[at].text == "," or tokens[at].text in ENDS:
            return False
        if (tokens[at].low, tokens[at + 1].low) in _SIDES:
            return True
    return False
