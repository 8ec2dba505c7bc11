"""What an amount leaves open about its food: a missing unit, several foods, a share, a number a head.

>>> from cardsmith.language.line.read import read_text
>>> from cardsmith.measure.larder import load_larder
>>> def asked(text):
...     return [fault.name for fault in read_text(text, load_larder()).faults]
>>> asked("200 flour"), asked("75 g pasta a head"), asked("300 g pasta (75 g per head)")
(['number-unread'], ['number-unread'], [])
>>> asked("300 g broccoli, about a head"), asked("1 lb cauliflower (a head)")
([], [])
>>> asked("2 cupps flour"), asked("500 g equal parts butter and sugar")
(['unit-misspelled'], ['several-foods'])
"""

from __future__ import annotations

import re

from cardsmith.language.faults import Fault, refused
from cardsmith.language.figures.amounts import ONE
from cardsmith.language.figures.numbers import DOZENS
from cardsmith.language.line.foods import listed_in, pair_in
from cardsmith.language.line.statements import Head, Role
from cardsmith.language.line.unit_slips import glued_word, misspelled, no_word
from cardsmith.language.nouns import countable
from cardsmith.language.spans import Share
from cardsmith.language.tokens import Tokens
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import System
from cardsmith.regex import regex

_AND_FIRST = regex(r"(?:and|&|plus|\+)\s+", re.IGNORECASE)
_ALIKE = regex(
    r"(?:(?:in )?equal|the same) (?:weights?|amounts?|parts?|quantit(?:y|ies)|measures?)(?: of)?\b",
    re.IGNORECASE,
)
# "A head" is one of something too: "300 g broccoli, about a head".
_PER_HEAD = regex(
    r"\b(?:per|(?<=[a-z] )(?<!about )(?<!of )(?<!half )(?<!or )a)\s+(?:person|head|guest)\b(?!\s+of)",
    re.IGNORECASE,
)
_SHARE_LAST = regex(r"(?<=[^\W\d_]\s)[\d.,]+\s*%$")
_PER_VESSEL = regex(
    r"\bper\s+(?:jar|bottle|cup|pint|quart|gallon|lit(?:re|er)|kilo|kg|pound|lb)\.?$", re.IGNORECASE
)
PER_SERVING = regex(
    r"\b(?:per\s+(?:serving|portion|drink|glass|plate|bowl)|for\s+(?:each|every)\s+\w+)\b", re.IGNORECASE
)


def questions_of(
    tokens: Tokens, head: Head, item: str, texts: list[str], place: int, larder: Larder
) -> list[Fault]:
    """What an amount leaves open about its food: two foods that share it, a number without a unit."""
    main = head.main
    faults: list[Fault] = []
    later = next(
        (text for text in texts[1:] if (food := _AND_FIRST.match(text)) and larder.find(text[food.end() :])),
        "",
    )
    if later:
        what = f"“{later}” names another food"
        start = max(tokens.text.find(later), 0)
        faults.append(refused("two-ingredients", start, start + len(later), what, "a line of its own for it"))
    if main is None and (share := _SHARE_LAST.search(item)):  # of what? a formula's flour is not listed so
        start = max(tokens.text.find(share[0]), 0)
        what, instead = (
            f"“{share[0]}” is a share, and no amount",
            f"the weight, and behind it “({share[0]})”",
        )
        faults.append(refused("number-unread", start, start + len(share[0]), what, instead))
    if main is not None and (alike := _ALIKE.match(item)):
        faults.append(_of_several(tokens, place, item[alike.end() :], texts))
    if main is None or later or main.role not in {Role.MAIN, Role.BESIDE}:
        return faults
    pair = pair_in(item, larder) or listed_in([item, *texts[1:]], larder) if texts else ()
    if pair:
        lines = " and ".join(f"a line for “{name}”" for name in pair)
        end = min(place + len(item), len(tokens.text))
        faults.append(refused("two-ingredients", place, end, f"“{item}” names two foods", lines))
    if main.role is not Role.MAIN:
        return faults
    per = (
        _outside(_PER_HEAD.search(tokens.text)) or PER_SERVING.search(tokens.text) or _PER_VESSEL.search(item)
    )
    if per:
        what = f"“{main.quantity.written} … {per[0]}” doesn’t say how many in all"
        faults.append(refused("number-unread", *per.span(), what, "the amount for the whole recipe"))
    sized = head.size or any(statement.share is Share.EACH for statement in head.statements)
    dozens = not DOZENS.isdisjoint(main.quantity.written.lower().rstrip(".").split())
    bare = main.quantity.unit is ONE and main.start < main.end and not (sized or dozens)
    if bare and item and not countable(item, main.quantity.high, larder):
        written = main.quantity.written
        what, instead = f"“{written}” of “{item}” lacks a unit", f"“{written} g {item}”, or what it is"
        faults.append(refused("number-unread", main.start, main.end, what, instead))
    return faults


def _of_several(tokens: Tokens, place: int, first: str, texts: list[str]) -> Fault:
    """The fault of "equal weights (150 g each) of butter, sugar and flour"."""
    named = ", ".join(filter(None, (first.strip(), *texts[1:])))
    what, instead = (
        f"“{named}” are several foods of one amount",
        "a line of its own for each, with its amount",
    )
    return refused("several-foods", place, len(tokens.text), what, instead)


def _outside(match: re.Match[str] | None) -> re.Match[str] | None:
    """``match``, unless brackets hold it with an amount of its own: "300 g pasta (75 g per head)"."""
    if match is None:
        return None
    before = match.string[: match.start()]
    opened = before.rpartition("(")[2] if before.count("(") > before.count(")") else ""
    return None if any(map(str.isdecimal, opened)) else match


def slip_of(text: str, head: Head, named: str, place: int, larder: Larder, measures: System) -> Fault | None:
    """The fault of a unit word that is misspelled, unknown or broken in two."""
    if head.main is None or head.contained or head.main.start == head.main.end:
        return None
    if head.main.quantity.unit is not ONE:
        broken = re.match(r"s\b", named)
        return _no_unit("unit-misspelled", place, "s", "the unit in one word") if broken else None
    if slip := misspelled(named, larder, measures):
        return _no_unit("unit-misspelled", place, *slip)
    glued = place > 0 and text[place - 1].isdigit()
    unknown = no_word(named, larder) or (glued_word(named) if glued else None)
    return _no_unit("unit-unknown", place, *unknown) if unknown else None


def _no_unit(name: str, place: int, word: str, instead: str) -> Fault:
    return refused(name, place, place + len(word), f"“{word}” is not a unit", instead)
