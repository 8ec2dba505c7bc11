"""Words that say how a number is meant: ``about``, ``up to``, ``at least``, ``scant``, ``or so``.

    before = a phrase of bounds.csv, or a sign such as ~ or ≥, then the number
    after  = the measure, then a phrase of bounds.csv

>>> bound_before(tokenize("at least 2 cups"), 0)
(<Bound.AT_LEAST: 'at least'>, 2)
>>> bound_behind(tokenize("no more than 5 g"), 3, limit=False)
(<Bound.AT_MOST: 'at most'>, 0)
>>> bound_after(tokenize("or so"), 0)
(<Bound.ABOUT: 'about'>, 2)
"""

from __future__ import annotations

from functools import cache

from cardsmith.language.tokens import Tokens, tokenize
from cardsmith.measure.quantity import Bound
from cardsmith.reference import table

_SIGNS = {"~": Bound.ABOUT, "≈": Bound.ABOUT, "<": Bound.AT_MOST, "≤": Bound.AT_MOST, ">": Bound.AT_LEAST,
          "≥": Bound.AT_LEAST}  # fmt: skip


_RAISING = frozenset("turn turned bring brought crank heat warm go come get move step raise".split())
_BEYOND = frozenset("more longer over above past passed beyond higher hotter".split())
_DENIALS = frozenset("not never don't don’t cannot can't can’t shouldn't shouldn’t mustn't mustn’t".split())


BoundWords = tuple[tuple[str, ...], Bound]


@cache
def _starting(*places: str) -> dict[str, list[BoundWords]]:
    """The phrases that stand ``before`` or ``after`` a number, by their first word, the longest first."""
    by_word: dict[str, list[BoundWords]] = {}
    for words, bound in _phrases(places):
        by_word.setdefault(words[0], []).append((words, bound))
    return by_word


@cache
def _ending(*places: str) -> dict[str, list[BoundWords]]:
    """The same by their last word."""
    by_word: dict[str, list[BoundWords]] = {}
    for words, bound in _phrases(places):
        by_word.setdefault(words[-1], []).append((words, bound))
    return by_word


def _phrases(places: tuple[str, ...]) -> list[BoundWords]:
    rows = (row for row in table("bounds") if row["place"] in places)
    spelled = [
        (tuple(token.low for token in tokenize(row["words"]).all), Bound(row["bound"])) for row in rows
    ]
    return sorted(spelled, key=lambda phrase: -len(phrase[0]))


def bound_before(tokens: Tokens, at: int) -> tuple[Bound, int]:
    """The bound that begins at token ``at``, and where the number after it begins."""
    place = at
    said = Bound.EXACTLY
    while True:
        if tokens[place].text in _SIGNS:
            said, place = _SIGNS[tokens[place].text], place + 1
            continue
        phrases = _starting("before").get(tokens[place].low, ())
        found_phrase = next((phrase for phrase in phrases if tokens.words(place, *phrase[0])), None)
        if found_phrase is None:
            return said, place
        if said in {Bound.EXACTLY, Bound.ABOUT}:
            said = found_phrase[1]
        place += len(found_phrase[0])


def bound_behind(tokens: Tokens, at: int, *, limit: bool) -> tuple[Bound, int]:
    """The bound that ends just before token ``at``, and where it begins.

    ``limit`` says that "over", "under" and "within" are bounds of what is measured, a heat or a time, rather
    than places: "pour over 1 cup".
    """
    if tokens[at - 1].text in _SIGNS:
        return _SIGNS[tokens[at - 1].text], at - 1
    places = ("before", "before in a sentence", *(("before a limit",) if limit else ()))
    place, said = at, Bound.EXACTLY
    while True:
        phrases = _ending(*places).get(tokens[place - 1].low, ())
        last_phrase = next(
            (phrase for phrase in phrases if tokens.words(place - len(phrase[0]), *phrase[0])), None
        )
        if last_phrase is None or (last_phrase[0] == ("up", "to") and _is_turned(tokens, place - 2)):
            return said, place
        if said in {Bound.EXACTLY, Bound.ABOUT}:
            said = last_phrase[1]
        place -= len(last_phrase[0])
        if said is Bound.AT_LEAST and last_phrase[0][0] in _BEYOND and tokens.has_said(_DENIALS, place, 9):
            said = Bound.AT_MOST  # "do not keep it for more than 1 hour"


def _is_turned(tokens: Tokens, at: int) -> bool:
    """Whether "up" belongs to a verb: "turn the oven up to 240 °C"."""
    return any(tokens[place].low in _RAISING for place in range(max(0, at - 4), at))


def bound_after(tokens: Tokens, at: int) -> tuple[Bound, int]:
    """The bound that begins at token ``at``, behind a measure: "or so", "or below"; and where it ends."""
    phrases = _starting("after").get(tokens[at].low, ())
    first_phrase = next((phrase for phrase in phrases if tokens.words(at, *phrase[0])), None)
    return (Bound.EXACTLY, at) if first_phrase is None else (first_phrase[1], at + len(first_phrase[0]))
