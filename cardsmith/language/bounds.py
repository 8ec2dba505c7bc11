"""Words that say how a number is meant: ``about``, ``up to``, ``at least``, ``scant``, ``or so``."""

from __future__ import annotations

from functools import cache

from cardsmith.language.tokens import Tokens, tokenize
from cardsmith.measure.quantity import Bound
from cardsmith.reference import table

_SIGNS = {"~": Bound.ABOUT, "≈": Bound.ABOUT, "<": Bound.AT_MOST, "≤": Bound.AT_MOST, ">": Bound.AT_LEAST,
          "≥": Bound.AT_LEAST}  # fmt: skip


_RAISING = frozenset("turn turned bring brought crank heat warm go come get move step raise".split())
_DENIALS = frozenset("not never don't don’t cannot can't can’t shouldn't shouldn’t mustn't mustn’t".split())


@cache
def _phrases(place: str) -> tuple[tuple[tuple[str, ...], Bound], ...]:
    """The phrases that stand ``before`` or ``after`` a number, the longest first, each with its meaning."""
    rows = (row for row in table("bounds") if row["place"] == place)
    spelled = [
        (tuple(token.low for token in tokenize(row["words"]).all), Bound(row["bound"])) for row in rows
    ]
    return tuple(sorted(spelled, key=lambda one: -len(one[0])))


def bound_before(tokens: Tokens, at: int) -> tuple[Bound, int]:
    """The bound that begins at token ``at``, and where the number after it begins."""
    place = at
    said = Bound.EXACTLY
    while True:
        if tokens[place].text in _SIGNS:
            said, place = _SIGNS[tokens[place].text], place + 1
            continue
        found = next((one for one in _phrases("before") if tokens.words(place, *one[0])), None)
        if found is None:
            return said, place
        if said in {Bound.EXACTLY, Bound.ABOUT}:
            said = found[1]
        place += len(found[0])


def bound_behind(tokens: Tokens, at: int, *, limit: bool) -> tuple[Bound, int]:
    """The bound that ends just before token ``at``, and where it begins.

    ``limit`` says that "over", "under" and "within" are bounds of what is measured, a heat or a time, rather
    than places: "pour over 1 cup".
    """
    if tokens[at - 1].text in _SIGNS:
        return _SIGNS[tokens[at - 1].text], at - 1
    phrases = _phrases("before") + _phrases("before in a sentence")
    phrases += _phrases("before a limit") if limit else ()
    place, said = at, Bound.EXACTLY
    while True:
        found = next((one for one in phrases if tokens.words(place - len(one[0]), *one[0])), None)
        if found is None or (found[0] == ("up", "to") and _is_turned(tokens, place - 2)):
            return _denied(tokens, place, said), place
        if said in {Bound.EXACTLY, Bound.ABOUT}:
            said = found[1]
        place -= len(found[0])


def _is_turned(tokens: Tokens, at: int) -> bool:
    """Whether "up" belongs to a verb: "turn the oven up to 240 °C"."""
    return any(tokens[place].low in _RAISING for place in range(max(0, at - 4), at))


def _denied(tokens: Tokens, at: int, said: Bound) -> Bound:
    """A bound turned round by a *not* before it: "not … for more than 1 hour" is at most."""
    before = {tokens[place].low for place in range(max(0, at - 8), at)}
    return Bound.AT_MOST if said is Bound.AT_LEAST and before & _DENIALS else said


def bound_after(tokens: Tokens, at: int) -> tuple[Bound, int]:
    """The bound that begins at token ``at``, behind a measure: "or so", "or below"; and where it ends."""
    found = next((one for one in _phrases("after") if tokens.words(at, *one[0])), None)
    return (Bound.EXACTLY, at) if found is None else (found[1], at + len(found[0]))
