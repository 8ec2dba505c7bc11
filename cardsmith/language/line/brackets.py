"""Amounts in brackets on an ingredient line: a size of each or of all, or one size said again.

    bracket  = "(" [lead] said { (";" | "," | "/" | "=" | "or") said } ")"
    lead     = "each" ["with" | "of"] | "from" | state "weight" [":" | "of"]
    said     = amount [share] [fills | "for" use]

>>> inside("(14 oz/398 mL)"), inside("(6 oz/170 g each)"), inside("(from 2 lemons)")
(['14 ounce', '398 millilitre'], ['6 ounce each', '170 gram each'], ['2 one of lemons'])
>>> inside("(½ cup for the custard, ¼ cup for the top)")
['1/2 cup of for the custard', '1/4 cup of for the top']
>>> inside("(drained weight 165 g)")
['165 gram']
>>> inside("(21–25 per pound)"), inside("(70% cocoa)")
([], [])
"""

from __future__ import annotations

from dataclasses import replace

from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault
from cardsmith.language.figures.amounts import ONE, Amount, size_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.line.statements import (
    ALSO,
    FOODS,
    Head,
    Role,
    Statement,
    bounded_alike,
    food_amount,
    is_same,
    share_at,
    shown,
    stated,
)
from cardsmith.language.nouns import countable, is_plural
from cardsmith.language.spans import Share
from cardsmith.language.tokens import TokenKind, Tokens, tokenize
from cardsmith.language.word_classes import words_of
from cardsmith.measure.larder import form_of, load_larder
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System

_WITH = frozenset({"with", "without"})
WEIGHTS = frozenset("drained net dry dressed cooked trimmed peeled shelled".split())
_HUSKS = words_of("husk")
# After a size in brackets: how a cup is filled, or what of the food fills it.
_FILLS = words_of("fills a measure")


@frozen
class Bracket:
    """What stands in brackets, where that is an amount."""

    statements: tuple[Statement, ...] = ()
    notes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()


def inside(text: str, measures: System = System.US) -> list[str]:
    """The statements of a text in brackets in short, for examples."""
    tokens = tokenize(text)
    bracket = bracket_in(tokens, 1, len(tokens) - 1, measures)
    return [shown(statement) for statement in bracket.statements] if bracket else []


def with_bracket(head: Head, bracket: Bracket) -> Head:
    """``head`` with what brackets say: sizes of each where they say so, or tell one size again."""
    bracket = _weighed_pieces(bracket)
    alone = all(statement.quantity.dimension in WEIGHED for statement in bracket.statements)
    for said in bracket.statements:
        if alone and _tells_piece(head, said):
            bracket = replace(bracket, notes=(*bracket.notes, f"{said.quantity.written} each"))
            continue
        statement = _bounded(head, _shared(head, said))
        head = replace(head, statements=(*head.statements, statement))
    size = head.size or next((said.size for said in bracket.statements if said.size), "")
    return replace(head, size=size, notes=head.notes + bracket.notes, faults=head.faults + bracket.faults)


def without_counts(bracket: Bracket) -> tuple[Bracket, list[str]]:
    """Brackets behind a volume without what it was cut from, and that in words: "2 cups onion (1 large)"."""
    counts = [
        statement
        for statement in bracket.statements
        if statement.quantity.dimension is Dimension.COUNT
        and statement.quantity.unit.system is System.ANY
        and statement.quantity.unit.name != "stick"
        and not statement.of
    ]
    kept = tuple(statement for statement in bracket.statements if statement not in counts)
    return replace(bracket, statements=kept), [
        f"{statement.quantity.written} {statement.size}".strip() for statement in counts
    ]


def in_unit_of(bracket: Bracket, whole: Quantity) -> tuple[Bracket, list[str]]:
    """Bare numbers for a use in the unit of the ``whole``, and all uses in words: "(3 for the onions)"."""
    bare = [
        statement.role is Role.FOR_USE and statement.quantity.unit is ONE for statement in bracket.statements
    ]
    if not all(bare) or whole.terms or whole.is_vague:
        return bracket, []
    unit = whole.high_unit or whole.unit
    statements = tuple(
        replace(
            statement,
            quantity=replace(
                statement.quantity,
                low=unit.to_base(statement.quantity.low),
                high=unit.to_base(statement.quantity.high),
                unit=unit,
                written=f"{statement.quantity.written} {unit.symbol}",
            ),
        )
        for statement in bracket.statements
    )
    notes = [", ".join(f"{statement.quantity.written} {statement.of}" for statement in statements)]
    return replace(bracket, statements=statements), notes


def _weighed_pieces(bracket: Bracket) -> Bracket:
    """Pieces of one that is weighed beside them, in words: "2 racks of lamb (8 ribs each, 1½ lb each)"."""
    of_each = [
        statement for statement in bracket.statements if statement.said and statement.share is Share.EACH
    ]
    counts = [statement for statement in of_each if statement.quantity.dimension is Dimension.COUNT]
    if not counts or all(statement.quantity.dimension not in WEIGHED for statement in of_each):
        return bracket
    notes = tuple(f"{statement.quantity.written} each" for statement in counts)
    kept = tuple(statement for statement in bracket.statements if statement not in counts)
    return replace(bracket, statements=kept, notes=bracket.notes + notes)


def _tells_piece(head: Head, statement: Statement) -> bool:
    """Whether it says how large a piece is of a food that is weighed, not counted: "(about 100 g each)"."""
    main = head.main
    weighed = main is not None and {main.quantity.dimension, statement.quantity.dimension} <= WEIGHED
    return weighed and statement.said and statement.share is Share.EACH


def _bounded(head: Head, statement: Statement) -> Statement:
    """``statement`` with the bound of the size that it says again: "about 1 lb (450 g)"."""
    same = next(
        (size.quantity for size in head.statements if is_same(statement.quantity, size.quantity)), None
    )
    return replace(statement, quantity=bounded_alike(statement.quantity, same)) if same else statement


def _shared(head: Head, statement: Statement) -> Statement:
    """``statement``, given in brackets behind ``head``, as a size of each or of all."""
    if statement.role is not Role.MAIN:
        return statement
    statement = replace(statement, role=Role.BESIDE)
    if statement.said or not head.counts:
        return statement if head.counts else replace(statement, share=Share.ALL)
    sizes = [size.quantity for size in head.statements if size.share is Share.EACH]
    known = next((size for size in sizes if size.dimension is statement.quantity.dimension), None)
    if known is not None and known.dimension is not Dimension.COUNT:
        return replace(statement, share=Share.EACH if is_same(statement.quantity, known) else Share.ALL)
    single = head.contained and head.main is not None and head.main.quantity.high == 1
    if single and any(size.dimension is Dimension.COUNT for size in sizes):
        return statement  # "1 box (2 sheets, 8 oz)": of all that the box holds
    each = single or statement.quantity.dimension is Dimension.LENGTH
    return replace(statement, share=Share.EACH if each else Share.ALL)


def brackets_at(tokens: Tokens, at: int) -> tuple[int, int] | None:
    """The first token inside the brackets that open at ``at``, and the closing one; None where none do."""
    if tokens[at].text != "(":
        return None
    depth = 0
    for place in range(at, len(tokens)):
        depth += {"(": 1, ")": -1}.get(tokens[place].text, 0)
        if depth == 0:
            return at + 1, place
    return None


def bracket_in(tokens: Tokens, first: int, end: int, measures: System) -> Bracket | None:
    """The statements in the tokens from ``first`` up to ``end``; None where no amount begins there."""
    statements: list[Statement] = []
    faults: tuple[Fault, ...] = ()
    each = tokens[first].low == "each"
    place = first + each + (each and tokens[first + 1].low in {"with", "of", "about"})
    counted = tokens[place].low == "from"
    weighed = _weight_at(tokens, place + counted)
    words_before, place = tokens.between(place + counted, weighed).rstrip(" :"), weighed
    notes = [words_before] if words_before else []
    while place < end:
        amount = food_amount(tokens, place, measures)
        if amount is not None and (amount.end > end or amount.quantity is None or amount.article):
            amount = None
        stop = _stop(tokens, amount.end if amount else place, end)
        said = _said(tokens, amount, stop, each=each, counted=counted) if amount else None
        if amount is not None and said is not None:
            statements.append(said)
            faults += amount.faults
        elif statements:
            notes.append(tokens.between(place, stop))
        else:
            return None
        place = stop + 1 + (tokens[stop + 1].low == "or")
    if not statements:
        return None
    if _each_follows(tokens, end):
        statements = [replace(statement, share=Share.EACH, said=True) for statement in statements]
    return Bracket(statements=_shared_alike(statements), notes=tuple(notes), faults=faults)


def _weight_at(tokens: Tokens, at: int) -> int:
    """Where the words that say which weight follows end: "drained weight", "net wt:"; ``at`` for none."""
    if tokens[at].low not in WEIGHTS or tokens[at + 1].low not in {"weight", "wt"}:
        return at
    end = at + 2
    while tokens[end].text in {".", ":"} or tokens[end].low == "of":
        end += 1
    return end


def _each_follows(tokens: Tokens, closing: int) -> bool:
    """Whether "each" stands behind closed brackets, of what stands in them too: "10 oz (280 g) each"."""
    share, said, after = share_at(tokens, closing + 1, len(tokens))
    ended = tokens[after].text in {"", ",", ";", ")", "("}
    return tokens[closing].text == ")" and said and share is Share.EACH and ended


def _shared_alike(statements: list[Statement]) -> tuple[Statement, ...]:
    """What the last says of each or of all holds for the same size before it: "(6 oz/170 g each)"."""
    first = statements[0].quantity
    statements = [
        replace(statement, quantity=bounded_alike(statement.quantity, first))
        if is_same(statement.quantity, first)
        else statement
        for statement in statements
    ]
    last = statements[-1]
    return tuple(
        replace(statement, share=last.share, said=True)
        if last.said
        and not statement.said
        and statement.role is last.role
        and is_same(statement.quantity, last.quantity)
        else statement
        for statement in statements
    )


def _stop(tokens: Tokens, at: int, end: int) -> int:
    """Where one saying in brackets ends: at a comma, a semicolon, a slash, a sign or "or"."""
    place = at
    while place < end:
        token = tokens[place]
        if (token.text in {",", ";"} | ALSO) and not (token.text == "/" and tokens[place - 1].is_number):
            return place
        if token.low == "or" and tokens[place + 1].low not in {"so", "more", "less", "larger", "smaller"}:
            return place
        place += 1
    return end


def _said(tokens: Tokens, amount: Amount, end: int, *, each: bool, counted: bool) -> Statement | None:
    """An amount in brackets with the words after it; None where they make it a figure of something else."""
    assert amount.quantity is not None  # the caller has looked
    if amount.quantity.dimension not in FOODS or (counted and amount.quantity.dimension in WEIGHED):
        return None  # "from 1/3 cup kernels" is another food
    share, said, place = share_at(tokens, amount.end, end)
    if each or (amount.joined and amount.quantity.dimension in WEIGHED):
        share, said = Share.EACH, True  # "2 (1- to 1½-lb) lobsters"
    rest = tokens.between(place, end)
    words = [tokens[at].low for at in range(place, end)]
    statement = stated(tokens, amount, share=share, said=said)
    if words and (words[0] == "for" or words[-1] in {"reserved", "kept"}):
        return replace(statement, role=Role.FOR_USE, of=rest)
    if not amount.has_unit:
        return _count_said(tokens, statement, place, end)
    if amount.quantity.dimension is Dimension.COUNT:
        of = (rest or amount.quantity.unit.name) if counted else ""  # from 1 sleeve
        return replace(statement, of=of) if len(words) < 3 else None
    if words == ["shelled"] or (words and words[0] in _WITH and set(words[1:]) <= _HUSKS):
        return replace(statement, words=rest)  # eggs without shells, dates with their stones
    if words and amount.quantity.dimension is not Dimension.VOLUME:
        return None  # "240 g drained" weighs something else
    if all(word in _FILLS or form_of(word) or word in {"and", "whole", "fresh"} for word in words):
        return replace(statement, words=rest)
    return None


def _count_said(tokens: Tokens, statement: Statement, place: int, end: int) -> Statement | None:
    """A bare number in brackets: "about 2", "1 medium", "from 2 lemons", "1 juicy lime"."""
    size = size_at(tokens, place)
    after = size[1] if size else place
    if after >= end:
        is_said = size or statement.said or statement.quantity.bound is not Bound.EXACTLY
        statement = replace(statement, size=size[0]) if size else statement
        return statement if is_said or _counts_before(tokens, statement) else None
    if statement.said and statement.share is Share.EACH:
        return None  # "1 each red, yellow and green" lists what is counted
    words = [tokens[at] for at in range(after, end)]
    if any(word.kind is not TokenKind.WORD for word in words) or len(words) > 4:
        return None
    if {"per", "in", "to", "if", "or"} & {word.low for word in words}:
        return None
    return replace(statement, of=tokens.between(after, end))


def _counts_before(tokens: Tokens, statement: Statement) -> bool:
    """Whether a bare number in brackets counts what was weighed or bunched: "1 lb plums (5 or 6)".

    "75 g butter (3)" lacks a unit, and so does "200 g oats (3)".
    """
    bracket = next(place for place in range(len(tokens)) if tokens[place].end > statement.start) - 1
    first = bracket
    while first > 0 and tokens[first - 1].kind is TokenKind.WORD and not _is_measured(tokens, first - 1):
        first -= 1
    noun = tokens.between(first, bracket)
    whole = statement.quantity.low.denominator == 1 and statement.quantity.low >= 1
    plural = bracket > 0 and is_plural(tokens[bracket - 1].text)
    measured = any(_is_measured(tokens, place) for place in range(bracket))
    return (
        whole and plural and measured and countable(noun, statement.quantity.high, load_larder(tokens.tables))
    )


def _is_measured(tokens: Tokens, at: int) -> bool:
    """Whether a unit of weight or volume stands at a token, or one of several things: a bunch, a bag."""
    unit = unit_at(tokens, at)
    if unit is None:
        return False
    several = unit.unit.system in {System.VAGUE, System.CONTAINER} and tokens[at - 1].is_number
    return unit.unit.dimension in WEIGHED or several
