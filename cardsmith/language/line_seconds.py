"""Amounts behind the food: its size said again, more for another use, something else instead; or a fault.

    size     = amount [share]                          4 fillets, 1½ lb. total · 1 goose, about 4 kg
    use      = ("plus" | "and" | "") head use          plus 2 tbsp for dusting · 1 cup reserved
    instead  = "or" head food                          or 1 tsp dried
    fault    = ("plus" | "and" | "+") head food        second-amount: no sum counts it
             | ("with" | "in" | "," | "") head food    several-foods: a line each

>>> from cardsmith.measure.larder import load_larder
>>> def read(text):
...     tokens = tokenize(text)
...     head = head_at(tokens, 0, System.US)
...     found = seconds_in(tokens, pieces_of(tokens, head.end), head, load_larder(), System.US)
...     return [(one.what, one.text) for one in found]
>>> read("4 salmon fillets, 1½ lb. total"), read("60g butter, plus 10g for greasing the tin")
([('size', '1½ lb. total')], [('use', 'plus 10g for greasing the tin')])
>>> read("1 tbsp cornstarch mixed with 1 tbsp water"), read("2 eggs plus 1 yolk")
([('several-foods', '1 tbsp water')], [('second-amount', '1 yolk')])
>>> read("15g fresh yeast or 7g dried"), read("3 limes, 2 juiced and 1 cut into wedges")
([('instead', '7g dried')], [])
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from cardsmith.finding import Severity
from cardsmith.language.amounts import ONE
from cardsmith.language.bounds import bound_behind
from cardsmith.language.faults import Fault
from cardsmith.language.line_heads import head_at
from cardsmith.language.line_marks import PARTS
from cardsmith.language.line_numerals import is_name
from cardsmith.language.line_statements import Head, Role, Statement, share_at
from cardsmith.language.line_tails import Piece, pieces_of
from cardsmith.language.numbers import ARTICLES, NUMBER_WORDS, Form, number_at
from cardsmith.language.spans import Share
from cardsmith.language.tokens import DASHES, TokenKind, Tokens, tokenize
from cardsmith.measure.larder import Larder, words
from cardsmith.measure.units import Dimension, System
from cardsmith.regex import regex

__all__ = ["Second", "pieces_of", "seconds_in", "tokenize"]

_BEGINS = NUMBER_WORDS | ARTICLES | {"quarter"}
_ADDING = frozenset({"plus", "and", "+", "&"})
_INTO = frozenset({"into", "in", "to", "of", "by", "at", "from", "per", "every", "until", "for", "within"})
_VAGUE = frozenset({"few", "little", "bit", "lot", "good", "touch"})  # "a few kept back"
_USE = regex(
    r"\b(?:more|extra|additional|for|to\s+\w+|as\s+(?:needed|required)|reserved|kept\s+back|set\s+aside)\b",
    re.IGNORECASE,
)
_AFTER_A_SIZE = frozenset({"dressed weight", "in weight", "trimmed weight", "unpeeled weight"})
_ENDS = regex(r"\s+(?:and|or|plus|with|mixed|dissolved)\s+|,", re.IGNORECASE)
_LIST = regex(r"\s*,\s*(?:and\s+)?|\s+and\s+", re.IGNORECASE)
_FIGURE = regex(r"[\d¼-¾⅐-⅞]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Second:
    """An amount behind the food, from token ``first``, its joint included, up to ``end``."""

    what: str  # size, use, instead, or the name of a fault
    piece: int  # which
    first: int
    end: int
    after: int  # where to look for the next
    text: str
    statements: tuple[Statement, ...] = ()
    fault: Fault | None = None


def seconds_in(
    tokens: Tokens, pieces: Sequence[Piece], head: Head, larder: Larder, measures: System
) -> tuple[Second, ...]:
    """Every further amount in ``pieces``, the rest of a line after its ``head``."""
    return tuple(_seconds(tokens, pieces, head, larder, measures))


def _seconds(
    tokens: Tokens, pieces: Sequence[Piece], head: Head, larder: Larder, measures: System
) -> Iterator[Second]:
    for index, piece in enumerate(pieces):
        at, instead = piece.first, False
        while at < piece.end:
            token = tokens[at]
            if not (token.is_number or token.low in _BEGINS or token.text == "."):
                at += 1
                continue
            number = number_at(tokens, at)
            found = None
            if number is not None and not _in_a_name(tokens, at, number.end):
                found = _second_at(tokens, piece, index, at, head, larder, measures, instead=instead)
            if found is not None:
                yield found
                instead = instead or found.what == "instead"
            at = max(found.after if found else 0, number.end if number else 0, at + 1)
            if found is not None and found.fault is not None:
                return  # one fault says that the line is to be taken apart


def _in_a_name(tokens: Tokens, at: int, end: int) -> bool:
    """Whether a number is part of a name: 7-grain, half-and-half."""
    if tokens[at].is_number:
        return is_name(tokens, at)
    return tokens[end].text in DASHES and tokens[end].glued and tokens[end + 1].kind is TokenKind.WORD


def _second_at(
    tokens: Tokens,
    piece: Piece,
    index: int,
    at: int,
    head: Head,
    larder: Larder,
    measures: System,
    *,
    instead: bool,
) -> Second | None:
    whole = None if tokens[at].is_number else larder.find(tokens.between(piece.first, piece.end))
    if whole is not None and tokens[at].low in words(whole.name):
        return None  # "half and half" is a name
    _, begin = bound_behind(tokens, at, limit=False)
    begin = max(begin, piece.first)
    if index == 0 and begin == piece.first and not head.statements:
        return None
    found = head_at(tokens, begin, measures)
    if found.main is None or (tokens[at].low in ARTICLES and tokens[at + 1].low in _VAGUE):
        return None
    article = number_at(tokens, at)
    is_article = article is not None and article.form is Form.ARTICLE
    joint = tokens[begin - 1].low if begin > piece.first else ""
    quantity = found.main.quantity
    share, said, after = share_at(tokens, found.end, piece.end)
    rest = tokens.between(after, piece.end) if after < piece.end else ""
    if index and begin == piece.first and not is_article and (not rest or rest.lower() in _AFTER_A_SIZE):
        return _size(tokens, piece, index, found, head, share, said=said)
    if quantity.dimension is Dimension.LENGTH:
        return None
    bare = quantity.unit is ONE
    food = larder.find(_ENDS.split(rest, maxsplit=1)[0].removeprefix("of ")) if rest else None
    noun = larder.find(found.noun) if found.noun else None
    known = food is not None or noun is not None
    text = tokens.between(begin, piece.end)
    first = begin - 1 if joint in _ADDING or joint == "or" else begin
    make = _Maker(tokens=tokens, piece=index, first=first, end=piece.end, after=found.end, text=text)
    if instead and joint in {*_ADDING, "or"} and (known or not is_article):
        return make.of("instead", _roles(found, Role.ALTERNATIVE, rest))
    if joint == "or":
        if (bare and not rest) or (is_article and not known and bare):
            return None
        return make.of("instead", _roles(found, Role.ALTERNATIVE, rest))
    if joint == "of" and tokens[begin - 2].low in PARTS and not rest:
        first = begin - 3 if tokens[begin - 3].low in _ADDING else begin - 2
        used = make.of("use", _roles(found, Role.FOR_USE, tokens.between(begin - 2, begin)))
        return replace(used, first=first, text=tokens.between(begin - 2, piece.end))  # "and juice of half"
    use = _USE.search(rest)
    described = rest[: use.start()].strip() if use else rest
    if use and (joint in _ADDING or (index and begin == piece.first)) and not _FIGURE.search(described):
        other = larder.find(described) if described else None
        mine = _named(tokens, piece, head, larder) if index == 0 else _named_first(tokens, head, larder)
        if (other is None or other is mine) or (mine is not None and other.food is mine):
            used = tokens.between(begin - 1 if joint in _ADDING else begin, piece.end)
            statements = _roles(found, Role.FOR_USE, rest[use.start() :])
            return replace(make.of("use", statements), text=used)
    weighed = quantity.dimension in {Dimension.MASS, Dimension.VOLUME} or found.contained
    if joint in _ADDING:
        if (is_article and not known) or (bare and index and not known):
            return None
        return make.fault("second-amount")
    if weighed and not is_article:
        if joint in {"per", "into", "every"} or (not rest and not noun):
            return None
        return make.fault("several-foods")
    if joint in _INTO or not known or (tokens[begin - 1].low in PARTS):
        return None
    return make.fault("several-foods")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Maker:
    """The places of a further amount, for whatever it turns out to be."""

    tokens: Tokens
    piece: int
    first: int
    end: int
    after: int
    text: str

    def of(self, what: str, statements: tuple[Statement, ...]) -> Second:
        """It as a size, a use or an alternative."""
        return Second(
            what=what,
            piece=self.piece,
            first=self.first,
            end=self.end,
            after=self.after if what == "instead" else self.end,
            text=self.text,
            statements=statements,
        )

    def fault(self, name: str) -> Second:
        """It as a fault: a line of its own is missing."""
        tokens = self.tokens
        whole = tokens.between(self.first, self.end)
        added = name == "second-amount"
        fault = Fault(
            name=name,
            severity=Severity.ERROR,
            start=tokens[self.first].start,
            end=tokens[self.end - 1].end,
            what=f"“{whole}” would be left out of every sum and every batch"
            if added
            else f"“{self.text}” is another food with an amount of its own",
            instead=_lines(self.text) + (", or one amount of both" if added else ""),
        )
        return replace(self.of(name, ()), fault=fault)


def _lines(text: str) -> str:
    """The lines to write for foods with amounts of their own: "a carrot and a stalk of celery"."""
    parts = [one for one in _LIST.split(text) if one]
    apart = all(number_at(tokenize(one), 0) is not None for one in parts)
    return "a line of its own for " + " and for ".join(f"“{one}”" for one in (parts if apart else [text]))


def _size(
    tokens: Tokens, piece: Piece, index: int, found: Head, head: Head, share: Share, *, said: bool
) -> Second | None:
    """A piece that is nothing but an amount: the size of what is counted, or the amount said again."""
    assert found.main is not None  # the caller has looked
    quantity = found.main.quantity
    if quantity.unit is ONE or head.main is None or found.main.start == found.main.end:
        return None
    single = head.counts and head.main.quantity.high == 1
    each = share is Share.EACH or (single and not said) or quantity.dimension is Dimension.LENGTH
    statements = tuple(
        replace(one, role=Role.BESIDE, share=Share.EACH if each and head.counts else Share.ALL, said=said)
        for one in found.statements
    )
    return Second(
        what="size",
        piece=index,
        first=piece.first,
        end=piece.end,
        after=piece.end,
        text=tokens.between(piece.first, piece.end),
        statements=statements,
    )


def _roles(found: Head, role: Role, of: str) -> tuple[Statement, ...]:
    """The statements of a further amount; its main one has the role."""
    return tuple(
        replace(one, role=role, of=of) if number == 0 else one for number, one in enumerate(found.statements)
    )


def _named(tokens: Tokens, piece: Piece, head: Head, larder: Larder) -> object:
    """The food that the first piece names before its joint."""
    del head
    named = re.split(r"\s+(?:plus|and|\+|&)\s+", tokens.between(piece.first, piece.end))[0]
    match = larder.find(named)
    return match.food if match else None


def _named_first(tokens: Tokens, head: Head, larder: Larder) -> object:
    first = pieces_of(tokens, head.end)
    return _named(tokens, first[0], head, larder) if first else None
