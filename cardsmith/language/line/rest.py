"""The rest of an ingredient line behind its amount: brackets, an amount at the end, pieces between commas.

>>> from cardsmith.measure.larder import load_larder
>>> def read(text):
...     tokens = tokenize(text)
...     rest = rest_of(tokens, head_at(tokens, 0, System.US), load_larder(), System.US)
...     words = [words for words, _ in rest.pieces]
...     return [shown(one) for one in rest.head.statements], words, rest.head.notes
>>> read("1 can (20 oz., No. 2 size) pineapple, drained")
(['1 can', '20 ounce each'], ['pineapple', 'drained'], ('No. 2 size',))
>>> read("Shallots, peeled, 5 lb tub x 2"), read("Duck legs (8 oz) 12 ea")
((['2 tub', '5 pound each'], ['Shallots', 'peeled'], ()), (['12 one', '8 ounce each'], ['Duck legs'], ()))
>>> read("pork chops, 6 (225 g each)")
(['6 one', '225 gram each'], ['pork chops'], ())
"""

from __future__ import annotations

import re
from dataclasses import replace

from cardsmith.language.faults import refused
from cardsmith.language.figures.bounds import bound_after, bound_behind
from cardsmith.language.figures.draft_marks import doubts, drafts
from cardsmith.language.figures.terms import BOUND_WORDS
from cardsmith.language.line.brackets import (
    Bracket,
    bracket_in,
    brackets_at,
    in_unit_of,
    with_bracket,
    without_counts,
)
from cardsmith.language.line.heads import head_at, head_in, is_part_of_a_box, is_source, with_pack
from cardsmith.language.line.last_amounts import Rest, read_last
from cardsmith.language.line.numerals import says_state
from cardsmith.language.line.preparation import pieces_of
from cardsmith.language.line.second_amounts import seconds_in
from cardsmith.language.line.statements import Head, Role, Statement, food_amount, is_same, is_volume, shown
from cardsmith.language.line.unclear_sizes import other_measure
from cardsmith.language.spans import Share
from cardsmith.language.tokens import DASHES, Tokens, tokenize
from cardsmith.measure.larder import Larder
from cardsmith.measure.larder import words as words_of
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import WEIGHED, Dimension, System
from cardsmith.regex import regex

__all__ = ["Rest", "rest_of", "shown"]

_TIDY = regex(r"\s+([,;])")
_JOINTS = frozenset({"plus", "and", "or", "+", "&"})
_SHELLED = frozenset({"shelled", "podded"})
_IN_SHELLS = frozenset("pod pods shell shells unshelled".split())
_OF = frozenset({"of", "de", "di"})  # behind a cucharada, an etto


def rest_of(tokens: Tokens, head: Head, larder: Larder, measures: System) -> Rest:
    """What stands behind ``head``, read; the head comes back with what is said of it there."""
    rest = Rest(text=tokens.text, head=head, faults=[*head.faults, *drafts(tokens)])
    asked = doubts(tokens)
    start = head.end
    if not head.statements and not rest.faults:
        read_last(tokens, rest, start, measures)
    rest.faults += asked
    _brackets(tokens, rest, start, measures)
    left = tokens if rest.text == tokens.text else tokenize(rest.text, tokens.tables)
    place = tokens[start].start if start < len(tokens) else len(tokens.text)
    at = next((left_index for left_index in range(len(left)) if left[left_index].start >= place), len(left))
    at = _joints(left, at, rest)
    pieces = pieces_of(left, at)
    seconds = tuple(seconds_in(left, pieces, rest.head, larder, measures))
    for index, piece in enumerate(pieces):
        end = piece.end
        for note in (second for second in seconds if second.piece == index):
            if note.fault is not None:
                rest.faults.append(note.fault)
                continue
            end = min(end, note.first)
            if note.what == "size" and note.text:
                rest.notes.append(note.text)
            if note.what == "use":
                rest.uses.append(re.sub(r"^\+", "plus", tidy(note.text)))
            if note.what == "instead" and note.text:
                rest.alternatives.append(tidy(note.text))
        words = tidy(left.between(piece.first, end))
        if words:
            rest.pieces.append((words, left[piece.first].start))
    more = tuple(statement for second in seconds for statement in second.statements)
    stated = rest.head.statements
    if not more:
        return rest
    later = sorted((*stated[1:], *more), key=lambda statement: statement.start)
    rest.head = replace(rest.head, statements=(*stated[:1], *later) if stated else more)
    return rest


def _joints(tokens: Tokens, at: int, rest: Rest) -> int:
    """Past the "of" and the "each:" between an amount and its food."""
    if not rest.head.statements:
        return at
    if tokens[at].low in _OF and tokens[at + 1].text not in DASHES:  # but de-boned
        rest.between = "of"
        at += 1
    if tokens[at].low in {"each", "apiece"}:
        rest.each = True
        at += 1
        at += tokens[at].text == ":"
        at += tokens[at].low == "of"
    return at


def tidy(text: str) -> str:
    """``text`` in one line, without blanks before its commas."""
    return _TIDY.sub(r"\1", " ".join(text.split())).strip(" :=|")


# --- brackets -----------------------------------------------------------------------------------------


def _brackets(tokens: Tokens, rest: Rest, start: int, measures: System) -> None:
    """Read and blank out every pair of brackets from token ``start`` on."""
    if "(" not in tokens.text and ")" not in tokens.text:
        return
    unpaired = -1
    at = start
    while at < len(tokens):
        text = tokens[at].text
        inside = brackets_at(tokens, at) if text == "(" and rest.text[tokens[at].start] == "(" else None
        if inside is None:
            stands = rest.text[tokens[at].start : tokens[at].end] == text
            if text in {"(", ")"} and unpaired < 0 and stands:
                unpaired = tokens[at].start
            at += 1
            continue
        second = _says_a_second_again(tokens, rest, at, measures)
        if not second and _bracket(tokens, rest, inside, measures):
            rest.blank(tokens[at].start, tokens[inside[1]].end)
        at = inside[1] + 1
    if unpaired >= 0:
        what = f"the bracket “{tokens.text[unpaired]}” has no partner"
        rest.faults.append(
            refused("bracket-unpaired", unpaired, unpaired + 1, what, "both brackets, or none")
        )


def _says_a_second_again(tokens: Tokens, rest: Rest, at: int, measures: System) -> bool:
    """Whether the brackets at ``at`` belong to a second amount: "plus 1 tbsp (14 g) for the pan"."""
    for first in range(at - 1, max(at - 5, rest.head.end), -1):
        start = tokens[first].start
        if not tokens[first].is_number or rest.text[start] == " ":
            continue
        amount = food_amount(tokens, first, measures)
        if amount is not None and amount.end == at and amount.has_unit and amount.quantity is not None:
            joint = bound_behind(tokens, first, limit=False)[1] - 1
            boxed = amount.quantity.unit.system is System.CONTAINER and tokens[joint].low == "or"
            return (amount.quantity.dimension in WEIGHED and tokens[joint].low in _JOINTS) or boxed
    return False


def _of_whole(main: Statement | None, bracket: Bracket) -> tuple[Bracket, list[str], list[str]]:
    """Brackets behind an amount without what they count, uses in its unit, and both in words."""
    if main is None or main.quantity.dimension not in WEIGHED:
        return bracket, [], []
    bracket, counts = without_counts(bracket) if is_volume(main) else (bracket, [])
    bracket, uses = in_unit_of(bracket, main.quantity)
    return bracket, counts, uses


def _is_of_a_cut(tokens: Tokens, rest: Rest, first: int, bracket: Bracket) -> bool:
    """Whether brackets give the length of a cut again, which stays where it is: "1½-inch (4 cm) cubes"."""
    if any(statement.quantity.dimension is not Dimension.LENGTH for statement in bracket.statements):
        return False
    named = all(tokens[at].text != "," for at in range(rest.head.end, first))
    return not (rest.head.counts and named)


def _is_before(main: Statement, bracket: Bracket) -> bool:
    """Whether brackets give what was bought, not the amount again: "4 cups crushed (about 8 cups whole)"."""
    return any(
        statement.quantity.dimension is main.quantity.dimension is Dimension.VOLUME
        and "whole" in words_of(statement.words)
        and not is_same(statement.quantity, main.quantity)
        for statement in bracket.statements
    )


def _is_ea(tokens: Tokens, main: Statement) -> bool:
    """Whether a count is said by the piece, as order sheets say it: "12 ea"."""
    return tokens.text[main.start : main.end].lower().rstrip(".").endswith("ea")


def _is_of_what_is_left(tokens: Tokens, first: int, head: Head, bracket: Bracket) -> bool:
    """Whether brackets weigh what is left: "1 jar (16 oz) peppers, drained (12 oz)"."""
    sizes = [statement.quantity for statement in head.statements if statement.quantity.dimension in WEIGHED]
    state = tokens[first - 3].text == "," and says_state(tokens, first - 2, first - 1)
    left = [statement.quantity for statement in bracket.statements]
    return (
        state
        and bool(sizes)
        and all(
            inner.dimension in WEIGHED and not any(is_same(inner, size) for size in sizes) for inner in left
        )
    )


def _is_of_pods(tokens: Tokens, first: int, bracket: Bracket) -> bool:
    """Whether brackets say what is shelled from what the line weighs: "1 lb peas in pod (1 cup shelled)"."""
    shelled = any(not _SHELLED.isdisjoint(words_of(statement.words)) for statement in bracket.statements)
    return shelled and any(tokens[at].low in _IN_SHELLS for at in range(first))


def _remark_in(
    tokens: Tokens, head: Head, first: int, words: str, bracket: Bracket | None, measures: System
) -> str:
    """The remark that brackets hold in spite of their figures, which tell no amount of the line; or none."""
    if is_part_of_a_box(tokens, first, measures):
        return words
    if bracket is None or head.main is None:
        return ""
    if _is_of_pods(tokens, first, bracket):
        return words
    cut_from = is_volume(head.main) and not without_counts(bracket)[0].statements
    if cut_from or _is_before(head.main, bracket):
        return words
    return f"{words} {tokens[first - 2].low}" if _is_of_what_is_left(tokens, first, head, bracket) else ""


def _bracket(tokens: Tokens, rest: Rest, inside: tuple[int, int], measures: System) -> bool:
    """Take up what stands in one pair of brackets; False where it belongs to the food's name."""
    first, end = inside
    words = tokens.between(first, end).strip()
    if words.lower() == "each" and rest.head.statements:
        rest.each = True
        return True
    bound, stop = bound_after(tokens, first)
    if words.lower() in BOUND_WORDS:  # "1 tbsp (heaped) flour"
        bound, stop = BOUND_WORDS[words.lower()], end
    main = rest.head.main
    if bound is not Bound.EXACTLY and stop == end and main is not None:
        bounded = replace(main, quantity=replace(main.quantity, bound=bound))
        rest.head = replace(rest.head, statements=(bounded, *rest.head.statements[1:]))
        return True
    if main is not None and (measured := other_measure(tokens, inside, main, measures)):
        rest.head = replace(rest.head, statements=(measured, *rest.head.statements[1:]))
        return True
    if tokens[first].low == "or":
        other = head_at(tokens, first + 1, measures)
        if other.statements:
            of = tokens.between(other.end, end)
            instead = replace(other.statements[0], role=Role.ALTERNATIVE, of=of)
            rest.head = replace(rest.head, statements=(*rest.head.statements, instead))
            rest.alternatives.append(tokens.between(first + 1, end))
            return True
    bracket = bracket_in(tokens, first, end, measures) or head_in(tokens, first, end, measures)
    if bracket is not None and _is_of_a_cut(tokens, rest, first, bracket):
        return False
    if bracket is not None and is_source(rest.head, bracket):
        rest.head, rest.notes = with_pack(rest.head, bracket), [*rest.notes, words]
        return True
    if remark := _remark_in(tokens, rest.head, first, words, bracket, measures):
        rest.notes.append(remark)
        return True
    if bracket is not None:
        bracket, counts, uses = _of_whole(main, bracket)
        rest.notes += counts + uses
        if main is not None and tokens[first].start < main.start and _is_ea(tokens, main):
            sized = tuple(replace(statement, share=Share.EACH, said=True) for statement in bracket.statements)
            bracket = replace(bracket, statements=sized)  # "Duck legs (8 oz) 12 ea"
        rest.head = with_bracket(rest.head, bracket)
        rest.faults += bracket.faults
        rest.notes += [statement.words for statement in bracket.statements if statement.words]
        rest.notes += (
            [tokens.between(first, end)]
            if any(statement.of for statement in bracket.statements if not uses)
            else []
        )
        return True
    sorts = any(tokens[at].low == "or" for at in range(first, end))  # milk (2% or whole)
    if "%" in words and not sorts and not re.fullmatch(r"[\d.,]+\s*%", words):
        return False
    rest.notes.append(words)
    return True
