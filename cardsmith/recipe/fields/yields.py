"""What comes out and how long it takes: ``makes: about 24 (3-inch) biscuits``, ``total: 1 h 40 min``."""

from __future__ import annotations

import re
from dataclasses import replace

from cardsmith.finding import Finding, error
from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.quantities import read_quantity
from cardsmith.language.tokens import tokenize
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.file.texts import text_of
from cardsmith.recipe.file.tree import Mapping
from cardsmith.recipe.model import Text, Time, Yield
from cardsmith.regex import regex

_EATERS = regex(
    r"(?:people|persons|portions|servings|guests)?(?:\s*\b(?:as|with|and|for|if|when)\b[a-z ,’'-]+)?"
    r"(?:\s*\([^()]*\))?",  # the size of one, which is read as any text is
    re.IGNORECASE,
)
MOST = 100_000  # pieces, or people; common practice, no source
# What people write before the number of what comes out, or of those whom it feeds.
_MAKES = regex(r"(?:makes|yields?|gives|cuts into):?\s+", re.IGNORECASE)
_FEEDS = regex(r"(?:serves|feeds|servings|portions):?\s+", re.IGNORECASE)
# What a time is spent on, and what joins two of them.
_DONE = frozenset(
    "- of work working hands on active preparation prep preparing cooking baking waiting resting "
    "chilling cooling soaking rising proving proofing fermenting marinating freezing drying".split()
)
_WAITS = frozenset("overnight plus +".split())  # "1 h, plus overnight chilling": how long is for the card
_A_TIME = "a time: 35 min, or 1 h 40 min"
_POSSESSIVE = regex(r"['’](?:s\b)?")
_ADDED = frozenset({"and", "plus", "+", ",", "&"})
_SIZES = (Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH)


def read_yield(node: Mapping, measures: System) -> tuple[Yield, tuple[Finding, ...]]:
    """The yield; a number that can't be read is a finding."""
    makes, serves, piece = (text_of(node, key) for key in ("makes", "serves", "piece"))
    if serves is None and makes is not None and _FEEDS.match(makes.text):
        makes, serves = None, makes
    makes, serves = _without(_MAKES, makes), _without(_FEEDS, serves)
    made, item, of_makes = _number(makes, measures, "a number first: 60 crackers")
    fed, left, of_serves = _number(serves, measures, "a number: 10, or 4 to 6")
    if serves is not None and not _says_who(left, measures):
        fed, of_serves = None, (_unread(serves, "a number: 10, or 4 to 6"),)
    if fed is not None and made is None and not item:
        of_makes = ()  # "with slices for a sandwich": how many it feeds is said
    size, of_piece = _quantity(
        _without_words(piece, measures), measures, _SIZES, "the weight or size of one: 6 g"
    )
    of_makes, of_serves = (
        (*said, *_beyond(text, number))
        for text, number, said in ((makes, made, of_makes), (serves, fed, of_serves))
    )
    yields = Yield(
        where=node.where,
        makes=makes,
        makes_count=made.low if made else None,
        makes_high=made.high if made and made.is_range else None,
        makes_item=item,
        serves=serves,
        serves_low=fed.low if fed else None,
        serves_high=fed.high if fed else None,
        serves_words=left if fed else "",
        piece=size,
    )
    return yields, (*of_makes, *of_serves, *of_piece)


def _says_who(left: str, measures: System) -> bool:
    """Whether words behind how many say who they are, or how many others: as a main, 4 as a starter."""
    first, *others = _OR_ELSE.split(left)
    tokens = [tokenize(other.strip()) for other in others]
    counts = [amount_at(other, 0, measures) for other in tokens]
    return (not first or _EATERS.fullmatch(first) is not None) and all(
        count is not None and not count.has_unit and _EATERS.fullmatch(other.between(count.end, len(other)))
        for count, other in zip(counts, tokens, strict=True)
    )


_OR_ELSE = regex(r",| or (?=\S+ (?:as|for|if|when)\b)", re.IGNORECASE)


def _without(lead: re.Pattern[str], text: Text | None) -> Text | None:
    """A text without the verb before its number, which the card prints by itself."""
    match = lead.match(text.text) if text is not None else None
    if text is None or match is None:
        return text
    where = replace(text.where, column=text.where.column + match.end())
    return Text(text=text.text[match.end() :], where=where)


def _without_words(text: Text | None, measures: System) -> Text | None:
    """The size at the head of a text, without what it is of: 83 g, of dough or raw."""
    tokens = tokenize(text.text) if text is not None else None
    amount = amount_at(tokens, 0, measures) if tokens is not None else None
    if text is None or tokens is None or amount is None or not amount.has_unit or amount.end >= len(tokens):
        return text
    behind = text.text[tokens[amount.end].start :]
    if any(letter.isnumeric() for letter in behind) or not behind[:1].isalpha():
        return text
    return replace(text, text=tokens.between(0, amount.end))


def _beyond(text: Text | None, number: Quantity | None) -> tuple[Finding, ...]:
    if text is None or number is None or 0 < number.low <= number.high <= MOST:
        return ()
    said = _unread(text, f"how many it makes or serves, from one to {MOST:,}")
    return (replace(said, what=f"no recipe makes or serves “{text.text}”"),)


def read_time(node: Mapping, measures: System) -> tuple[Time, tuple[Finding, ...]]:
    """Hands-on and whole time, and those of making ready and of cooking."""
    by_key = {key: _spent(text_of(node, key), measures) for key in ("active", "total", "prep", "cook")}
    given = {key: time for key, (time, _) in by_key.items()}
    return Time(where=node.where, **given), tuple(
        finding for _, faults in by_key.values() for finding in faults
    )


def _spent(text: Text | None, measures: System) -> tuple[Quantity | None, tuple[Finding, ...]]:
    """A time, and what it is spent on: "30 minutes' work and 3 weeks' waiting" is both together."""
    worded = _worded(text, measures) if text is not None else None
    if worded is not None:
        return worded, ()
    waits = text is not None and not _WAITS.isdisjoint(text.text.lower().replace(",", " ").split())
    instead = "all of it in figures, the wait too: 12 h, or 12 to 16 h" if waits else _A_TIME
    return _quantity(text, measures, (Dimension.DURATION,), instead)


def _worded(text: Text, measures: System) -> Quantity | None:
    """Times with words for what is done then, added up; None where there are other words, or none."""
    tokens = tokenize(_POSSESSIVE.sub("", text.text))
    whole: Quantity | None = None
    at, worded = 0, False
    while True:
        amount = amount_at(tokens, at, measures)
        quantity = amount.quantity if amount is not None and amount.has_unit and not amount.faults else None
        if amount is None or quantity is None or quantity.dimension is not Dimension.DURATION:
            return None
        whole, at = whole.plus(quantity) if whole is not None else quantity, amount.end
        while tokens[at].low in _DONE:
            at, worded = at + 1, True
        if at >= len(tokens):
            return replace(whole, written=text.text) if worded else None
        if tokens[at].low not in _ADDED:
            return None
        at += 1


def is_count(text: str, measures: System) -> bool:
    """Whether a text is a count and nothing more: "24", "about 48"."""
    tokens = tokenize(text.strip())
    amount = amount_at(tokens, 0, measures)
    return amount is not None and not amount.has_unit and amount.end == len(tokens)


def _number(
    text: Text | None, measures: System, instead: str
) -> tuple[Quantity | None, str, tuple[Finding, ...]]:
    """A count (or a range of one) and the words after it.

    An amount of another dimension ("840 ml") has no count: it is all words.
    """
    if text is None:
        return None, "", ()
    tokens = tokenize(text.text)
    amount = amount_at(tokens, 0, measures)
    if amount is None or (amount.quantity is None and not amount.faults):
        return None, "", (_unread(text, instead),)
    faults = tuple(fault.finding(text.where) for fault in amount.faults)
    if amount.quantity is None or amount.quantity.dimension is not Dimension.COUNT:
        return None, text.text, faults
    place = amount.unit_first if amount.has_unit else amount.end
    words = text.text[tokens[place].start :] if place < len(tokens) else ""
    return amount.quantity, words.strip(), faults


def _quantity(
    text: Text | None, measures: System, allowed: tuple[Dimension, ...], instead: str
) -> tuple[Quantity | None, tuple[Finding, ...]]:
    """All of a text as an amount of one of the dimensions."""
    if text is None:
        return None, ()
    quantity, findings = read_quantity(text.text, text.where, measures)
    findings = tuple(
        replace(finding, instead=instead) if finding.name == "unreadable-amount" else finding
        for finding in findings
    )
    if quantity is None or quantity.dimension in allowed:
        return quantity, findings
    wrong = _unread(text, instead)
    return None, (*findings, replace(wrong, what=f"“{text.text}” has no unit that fits here"))


def _unread(text: Text, instead: str) -> Finding:
    what = f"“{text.text}” can't be read as a number"
    return error("unreadable-amount", text.where, what, instead, text.text)
