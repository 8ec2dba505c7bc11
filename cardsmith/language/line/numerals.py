"""Every numeral of an ingredient line has its place: a statement, a name, a cut, a remark. Else a fault.

    name     = number "%" | zeros | letters number | "No." number | "size" number | number "-" word
             | number "/" number                                     80/20, 16/20
             | number ":" number                                     syrup (2:1)
             | weight or volume state                                200 g peeled, 1 cup once mashed
             | user amount | amount ("of them" | doing)               I use about 1 tsp, ½ tsp is plenty
    cut      = length | time | temperature | ("into" | "in") number noun | number word     in a preparation

>>> kinds("200 g 70% dark chocolate, cut into 8 squares")
[('200 g', 'amount'), ('70%', 'name'), ('8 squares', 'count')]
>>> kinds("2 bananas, about 200 g peeled"), kinds("2 bananas, 50 g walnuts")
([('2', 'amount'), ('200 g', 'name')], [('2', 'amount'), ('50 g', 'unread')])
>>> kinds("1 lb 16/20 shrimp"), kinds("250 g T55 flour")
([('1 lb', 'amount'), ('16', 'name'), ('20', 'name')], [('250 g', 'amount'), ('55', 'name')])
"""

from __future__ import annotations

from collections.abc import Iterable

from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault, refused
from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.numbers import NUMBER_WORDS, number_at
from cardsmith.language.figures.sizes import CROSSES, edges_at
from cardsmith.language.figures.unit_words import scale_at
from cardsmith.language.line.statements import share_at
from cardsmith.language.spans import Kind, Share
from cardsmith.language.tokens import DASHES, LONG_DASHES, SLASHES, TokenKind, Tokens, tokenize
from cardsmith.language.word_classes import words_of
from cardsmith.measure.units import WEIGHED, Dimension, System

_BEFORE_A_NUMBER = frozenset("no nr number type size grade tipo stage # nos u class p pp page".split())
_CUTS = {
    Dimension.LENGTH: Kind.LENGTH,
    Dimension.DURATION: Kind.DURATION,
    Dimension.RATIO: Kind.PERCENT,
    Dimension.PRESSURE: Kind.PRESSURE,
    Dimension.POWER: Kind.POWER,
    Dimension.ENERGY: Kind.ENERGY,
}
_QUOTES = frozenset("\"“”'‘’")
# What of a food an amount weighs or fills: what is left of it, or what there was before.
_STATES = words_of("state of a food")
# A separate clause about an amount that is not the line's.
_USERS = frozenset("use used add added need want take like prefer".split())
_DOINGS = frozenset("is are was will should gives makes fills serves feeds does".split())
_PARTED = words_of("parted")
_AROUND_STATES = words_of("around a state")


@frozen
class Stretch:
    """A stretch of a line; ``kind`` is what its numeral is, None where it holds none."""

    start: int
    end: int
    kind: Kind | None = None


def kinds(text: str) -> list[tuple[str, str]]:
    """The numerals of ``text`` and their kinds, for examples: the first as its statement."""
    tokens = tokenize(text)
    first = amount_at(tokens, 0)
    end = tokens[first.end - 1].end if first else 0
    in_line = stretches(tokens, [(0, end)], len(text.partition(",")[0]), System.US)
    return [(text[stretch.start : stretch.end], stretch.kind.value) for stretch in in_line if stretch.kind]


def is_name(tokens: Tokens, at: int) -> bool:
    """Whether the number at ``at`` is part of a name: 70 %, "00", T55, No. 2, 7-grain, five-spice, 16/20."""
    token, before, after = tokens[at], tokens[at - 1], tokens[at + 1]
    if not token.is_number:
        number = number_at(tokens, at)
        end = number.end if number else at
        return tokens[end].text in DASHES and tokens[end].glued and tokens[end + 1].kind is TokenKind.WORD
    if (
        token.kind is TokenKind.DIGITS
        and token.text.startswith("00")
        and not (after.glued and after.text in ".,")
    ):
        return True
    if before.text in _QUOTES and after.text in _QUOTES and before.text:
        return True
    if token.glued and before.kind is TokenKind.WORD and before.low not in {"x"}:
        return True
    hyphened = before.text in DASHES and before.text not in LONG_DASHES  # "Flour—3 cups" is parted
    if token.glued and hyphened and before.glued and tokens[at - 2].kind is TokenKind.WORD:
        return tokens[at - 2].low not in {"to"}
    named = tokens[at - 2].low if before.text == "." else before.low
    if named in _BEFORE_A_NUMBER:
        return True
    number = number_at(tokens, at)
    end = number.end if number else at + 1
    if tokens[end].text == "%" or tokens[end].low in {"percent", "pct"} or tokens.words(end, "per", "cent"):
        return True
    ranged = tokens[end].text in DASHES or tokens[end].low in {"to", "or"}
    high = number_at(tokens, end + 1) if ranged else None
    if high is not None and tokens[high.end].text == "%":
        return True
    sifted = tokens[end].glued and tokens[end].text == "X" and not tokens[end + 1].is_number  # 10X sugar
    if sifted or _is_of_ratio(tokens, at, end):
        return True
    if tokens[end].text in SLASHES and tokens[end].glued and tokens[end + 1].is_number:
        return amount_at(tokens, end + 1) is not None and not _has_unit(tokens, end + 1)
    if token.glued and before.text in SLASHES and tokens[at - 2].is_number:
        return not _has_unit(tokens, at)
    hyphen = tokens[end].text in DASHES and tokens[end].glued and tokens[end + 1].glued
    if hyphen and tokens[end + 1].kind is TokenKind.WORD and tokens[end + 1].low != "to":
        amount = amount_at(tokens, at)
        weighed = {Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH}
        return amount is None or amount.quantity is None or amount.quantity.dimension not in weighed
    return False


def _is_of_ratio(tokens: Tokens, at: int, end: int) -> bool:
    """Whether a number is a side of a ratio that names a food: "rich syrup (2:1)"."""
    first = tokens[end].text == ":" and tokens[end].glued and tokens[end + 1].glued
    second = tokens[at - 1].text == ":" and tokens[at - 1].glued and tokens[at].glued
    return (first and tokens[end + 1].is_number) or (second and tokens[at - 2].is_number)


def is_told(tokens: Tokens, at: int, end: int) -> bool:
    """Whether an amount belongs to a clause of its own: "I use 1 tsp", "½ tsp is plenty", "25 g of them"."""
    before, after = tokens[bound_behind(tokens, at, limit=False)[1] - 1].low, tokens[end].low
    part = after == "of" and tokens[end + 1].low in {"them", "it", "this", "these", "which"}
    return part or before in _USERS or after in _DOINGS


def says_state(tokens: Tokens, at: int, end: int) -> bool:
    """Whether nothing but a state of the food stands in the tokens: "peeled", "once trimmed", "of flesh"."""
    words = [tokens[place].low for place in range(at, end)]
    return not _STATES.isdisjoint(words) and set(words) <= _STATES | _AROUND_STATES


def _has_unit(tokens: Tokens, at: int) -> bool:
    amount = amount_at(tokens, at)
    return amount is not None and amount.has_unit


def stretches(
    tokens: Tokens, taken: Iterable[tuple[int, int]], food_end: int, measures: System
) -> tuple[Stretch, ...]:
    """A text in stretches that join to it, each numeral in one; ``taken`` are those of its statements.

    What stands before ``food_end`` names the food; behind it numerals may say how it is cut.
    """
    taken = _joined(taken)
    known = [Stretch(start=start, end=end, kind=Kind.AMOUNT) for start, end in taken]
    inside = list(known)
    at = 0
    while at < len(tokens):
        token = tokens.all[at]
        if not (token.is_number or token.low in NUMBER_WORDS or token.text == "."):
            at += 1
            continue
        box = next((stretch for stretch in inside if stretch.start <= token.start < stretch.end), None)
        if box is not None:
            while at < len(tokens) and tokens[at].start < box.end:
                at += 1
            continue
        measured = _numeral(tokens, at, measures)
        if measured == at:
            at += 1
            continue
        stop = next((stretch.start for stretch in inside if stretch.start >= token.start), len(tokens.text))
        while measured > at + 1 and tokens[measured - 1].end > stop:
            measured -= 1
        kind = _kind(tokens, at, measured, measures, in_food=token.start < food_end)
        if kind is Kind.COUNT and not taken and _ends_line(tokens, measured):
            kind = Kind.UNREAD  # "thyme, ½ bu": the amount of the line, of something unknown
        known.append(Stretch(start=token.start, end=tokens[measured - 1].end, kind=kind))
        at = measured
    return tuple(_filled(sorted(known, key=lambda stretch: stretch.start), len(tokens.text)))


def _ends_line(tokens: Tokens, end: int) -> bool:
    """Whether a number with one word behind it, which is no deed, ends a piece outside brackets."""
    word = tokens[end]
    ended = tokens[end + 1].text in {"", ",", ";"}
    return word.kind is TokenKind.WORD and ended and not word.low.endswith("ed") and not _depth(tokens, end)


def _joined(taken: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Places that overlap as one."""
    joined: list[tuple[int, int]] = []
    for start, end in sorted(taken):
        if start >= end:
            continue
        if joined and start < joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def _filled(marked: list[Stretch], length: int) -> list[Stretch]:
    whole: list[Stretch] = []
    at = 0
    for stretch in marked:
        if stretch.start > at:
            whole.append(Stretch(start=at, end=stretch.start))
        whole.append(stretch)
        at = stretch.end
    if at < length:
        whole.append(Stretch(start=at, end=length))
    return whole


def _numeral(tokens: Tokens, at: int, measures: System) -> int:
    """Where the numeral at ``at`` ends, its unit included; ``at`` where none begins.

    A number word is one only before a unit of weight or volume: "half" and "one" are words in most places.
    """
    token = tokens[at]
    pointed = token.text == "." and tokens[at + 1].is_number and tokens[at + 1].glued
    figure = token.is_number or (pointed and tokens[at - 1].text != ".")
    amount = amount_at(tokens, at, measures) if figure or token.low in NUMBER_WORDS else None
    if figure:
        if edges := edges_at(tokens, at):
            return edges
        if is_name(tokens, at):
            number = number_at(tokens, at)
            end = number.end if number else at + 1
            return end + (tokens[end].text == "%")
        scale = scale_at(tokens, amount.end) if amount else None
        return max(scale.end if scale else amount.end if amount else at + 1, at + 1)
    if amount is None or amount.article or amount.quantity is None or not amount.has_unit:
        return at
    number = number_at(tokens, at)
    if number is None and not any(tokens[place].is_number for place in range(at, amount.end)):
        return at
    weighed = amount.quantity.dimension in WEIGHED and not amount.quantity.is_vague
    return amount.end if weighed else at


def _kind(tokens: Tokens, at: int, end: int, measures: System, *, in_food: bool) -> Kind:
    if edges_at(tokens, at):
        return Kind.LENGTH
    if tokens[at].is_number and is_name(tokens, at):
        return Kind.NAME
    number = number_at(tokens, at)
    if number is not None and number.value is not None:
        ranged = amount_at(tokens, at, measures)
        place = ranged.end if ranged and not ranged.has_unit else number.end
        if scale_at(tokens, place):
            return Kind.TEMPERATURE
    amount = amount_at(tokens, at, measures)
    if amount is None or amount.quantity is None:
        return Kind.UNREAD
    if amount.quantity.dimension in _CUTS:
        timed = in_food and amount.quantity.dimension not in {Dimension.LENGTH, Dimension.RATIO}
        return Kind.UNREAD if timed and not amount.joined else _CUTS[amount.quantity.dimension]
    bracket = _depth(tokens, at) > 0
    alone = not amount.has_unit and tokens[at - 1].kind is not TokenKind.WORD
    if bracket and alone and (tokens[end].text == ")" or tokens[end].low in CROSSES):
        return Kind.UNREAD  # of what? "butter (3)", "pastry (9 by 13)"
    listed = tokens[end].low == "each" and tokens[end + 1].kind is TokenKind.WORD
    if bracket and listed and _is_weighed(tokens):
        return Kind.UNREAD  # "3 cups berries (1 each raspberries, currants)"
    before = tokens[bound_behind(tokens, at, limit=False)[1] - 1].low  # from about 2 lemons
    if amount.quantity.dimension in WEIGHED:
        place = bound_behind(tokens, at, limit=False)[1] - 1
        boiled = before == "to" and (tokens[place - 1].low.endswith("ed") or tokens[place - 1].low == "down")
        cut = (
            boiled
            or before in {"into", "in", "per", "every", "each", "from", "make", "fill"}
            or (amount.joined and not in_food)
            or (not in_food and _is_of_each(tokens, end))
        )
        stop = next((index for index in range(end, len(tokens)) if tokens[index].text == ","), len(tokens))
        poured = amount.quantity.unit.name == "ounce" and not _is_weighed(tokens, Dimension.MASS)
        is_for_reader = not (in_food or poured) and is_told(
            tokens, at, amount.end
        )  # 8 oz of juice may be a cup
        return Kind.NAME if bracket or cut or is_for_reader or says_state(tokens, end, stop) else Kind.UNREAD
    cut = before in {"into", "in", "per", "every", "to", "of", "from"}
    word = amount.has_unit or tokens[end].kind is TokenKind.WORD
    if before in {"into", "in"} and not word and not in_food and _is_parted(tokens, at):
        return Kind.COUNT
    if bracket or before == "from" or (word and (cut or not in_food)):
        return Kind.COUNT  # liquid from 1 (400 g) tin
    return Kind.UNREAD


def _is_of_each(tokens: Tokens, end: int) -> bool:
    """Whether an amount is that of one serving or one piece, which no batch changes.

    "About 200 ml for each drink", "1 kg potatoes, about 100 g each".
    """
    share, said, _ = share_at(tokens, end, len(tokens))
    of_piece = said and share is Share.EACH
    return of_piece or (tokens[end].low == "for" and tokens[end + 1].low in {"each", "every"})


def _is_weighed(tokens: Tokens, *dimensions: Dimension) -> bool:
    """Whether a line begins with a weight or a volume, or with what has one of the dimensions."""
    first = amount_at(tokens, 0)
    return (
        first is not None
        and first.quantity is not None
        and first.quantity.dimension in (dimensions or WEIGHED)
    )


def _is_parted(tokens: Tokens, at: int) -> bool:
    """``cut into 6``: pieces; but "diced into 2" lacks a length."""
    number = number_at(tokens, at)
    parts = number is not None and number.value is not None and number.value.denominator == 1
    return parts and tokens[at - 2].low in _PARTED


def _depth(tokens: Tokens, at: int) -> int:
    """In how many brackets a token stands."""
    marks = [tokens[place].text for place in range(at)]
    return marks.count("(") + marks.count("[") - marks.count(")") - marks.count("]")


def unread(text: str, marked: Iterable[Stretch]) -> list[Fault]:
    """The faults of numerals that have no place in a line."""
    what = "“{}” has no place in this line"
    return [
        refused(
            "number-unread",
            stretch.start,
            stretch.end,
            what.format(text[stretch.start : stretch.end]),
            _instead(text, stretch),
        )
        for stretch in marked
        if stretch.kind is Kind.UNREAD
    ]


def _instead(text: str, stretch: Stretch) -> str:
    written = text[stretch.start : stretch.end]
    if text[: stretch.start].endswith("(") and text[stretch.end :].startswith(")"):
        return f"“(about {written})”, if so many are counted, or its unit: “({written} tbsp)”"
    return "what it measures, or what is counted: “200 g flour”, “cut into 8 wedges”"
