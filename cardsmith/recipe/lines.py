"""One ingredient line, as a cook writes it: amount, food, preparation. What can't be read is a finding."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from cardsmith.finding import Finding, Severity, Where
from cardsmith.measure.larder import Food, Larder, Match
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.amounts import ONE, SIZES
from cardsmith.recipe.foods import (
    match_of,
    named_by,
    noun_as_food,
    noun_as_unit,
    second_amounts,
    two_foods,
    with_alternatives,
)
from cardsmith.recipe.heads import Head, head_at, with_stated
from cardsmith.recipe.model import Ingredient, Text
from cardsmith.recipe.numbers import SPACE, Fault
from cardsmith.recipe.spelling import misspelled_unit
from cardsmith.recipe.tails import Piece, Remarks, Tail, item_and_rest, remarks_of, tail_of
from cardsmith.regex import regex

LONGEST_LINE = 300  # characters; a longer one is a paragraph that lost its way
_BULLET = regex(rf"{SPACE}*(?:[-*•–—]{SPACE}+)?")
_OPTIONAL_FIRST = regex(rf"{SPACE}*(?:\(optional\)|optional:){SPACE}*", re.IGNORECASE)
_JUICE = regex(
    rf"(?P<what>(?:[\w-]+{SPACE}+){{0,2}}?(?P<kind>(?:juice|zest|rind|peel)(?:{SPACE}+and{SPACE}+"
    rf"(?:[\w-]+{SPACE}+){{0,2}}(?:juice|zest|rind|peel))?)){SPACE}+(?:of|from){SPACE}+(?=[^a-z]|an?\b|half|one|two)",
    re.IGNORECASE,
)
_OF = regex(rf"{SPACE}*of{SPACE}+", re.IGNORECASE)
_SIZE = regex(rf"(?P<size>{SIZES})(?:[- ]sized?)?{SPACE}+(?=\S)", re.IGNORECASE)
_PACKED = regex(rf"(?:(?:firmly|tightly|well){SPACE}+)?(?P<form>packed|spooned|scooped)\b", re.IGNORECASE)
_VAGUE_COUNT = regex(
    rf"(?:a{SPACE}+(?:few|little|bit|couple|lot)|some|several|many)\b(?:{SPACE}+of\b)?{SPACE}*", re.IGNORECASE
)
_NO_WORD = regex(rf"(?:[a-z]{{1,2}}|[b-df-hj-np-tv-xz]{{3}})\b\.?(?={SPACE}+\w)")
_SHORT_SIZES = {"sm": "small", "md": "medium", "lg": "large", "xl": "extra-large"}
_ZEROS = regex(rf"0{{2,}}{SPACE}")  # a type of flour
_MINUS = regex("[-−–](?=[0-9¼-¾⅐-⅞])")


def read_line(
    text: str, where: Where, larder: Larder, measures: System | str = System.US
) -> tuple[Ingredient, tuple[Finding, ...]]:
    """The ingredient that ``text`` (one line, beginning at ``where``) names, and what is wrong with it.

    Always an ingredient, so that one bad line never hides the others; findings of severity error say
    that its numbers must not be used.
    """
    measures = System(measures)
    flat = re.sub(r"[\r\n\v\f\x1c-\x1e\x85\u2028\u2029]", " ", text)
    faults = _outer_faults(flat)
    if faults:
        return _bare(where, text), tuple(fault.finding(where) for fault in faults)
    bullet = _BULLET.match(flat)
    start = bullet.end() if bullet else 0
    optional = _OPTIONAL_FIRST.match(flat, start)
    start = optional.end() if optional else start
    juice = _JUICE.match(flat, start)
    begin = juice.end() if juice else start
    vague = None if juice else _VAGUE_COUNT.match(flat, begin)
    head = _head(flat, begin, measures)
    if vague:
        head = Head(end=vague.end(), faults=(_vague_count(vague),))
    if juice and not head.amounts:
        juice, head = None, head_at(flat, start, measures)
    of = _OF.match(flat, head.end) if head.amounts else None
    tail = tail_of(flat, of.end() if of else head.end, measures)
    line, found = _assembled(flat, head, tail, larder=larder, measures=measures, between="of" if of else "")
    if juice:
        line = _squeezed(line, juice["what"], juice["kind"], larder)
    market = "eu" if measures is System.IMPERIAL else "us"
    line = replace(line, where=where, text=text, market=market, optional=line.optional or bool(optional))
    return line, tuple(fault.finding(where) for fault in found)


def read_ingredient_fields(
    fields: Mapping[str, Text], where: Where, larder: Larder, measures: System | str = System.US
) -> tuple[Ingredient, tuple[Finding, ...]]:
    """The ingredient of a mapping: ``amount``, ``item``, ``prep`` and ``key`` (any may be missing).

    ``text`` of the result is the line a cook would have written. Each finding stands in its own field.
    """
    measures = System(measures)
    amount, item, prep = (fields.get(name) for name in ("amount", "item", "prep"))
    findings: list[Finding] = []
    head = Head()
    if amount is not None and amount.text.strip():
        head, faults = _whole_amount(amount.text, measures)
        findings += [fault.finding(amount.where) for fault in faults]
    written = item.text if item else ""
    tail = tail_of(written, 0, measures)
    line, faults = _assembled(
        written, head, tail, larder=larder, measures=measures, after=prep.text if prep else ""
    )
    at = item.where if item else where
    findings += [fault.finding(at) for fault in faults if fault not in head.faults]
    text = " ".join(part for part in (amount.text.strip() if amount else "", written.strip()) if part)
    if prep and prep.text.strip():
        text = f"{text}, {prep.text.strip()}"
    key = fields["key"].text.strip() if "key" in fields else ""
    market = "eu" if measures is System.IMPERIAL else "us"
    return replace(line, where=where, text=text, key=key, market=market), tuple(findings)


def _head(text: str, start: int, measures: System) -> Head:
    """The amounts at ``start``; "00 flour" has none, and nothing less than nothing can be weighed."""
    if _ZEROS.match(text, start):
        return Head(end=start)
    sign = _MINUS.match(text, start)
    head = head_at(text, sign.end() if sign else start, measures)
    if head.amounts and (sign or any(one.low <= 0 for one in head.amounts)):
        fault = _nothing(text[start : head.end], start)
        return Head(end=head.end, faults=(*head.faults, fault))
    return head


def _nothing(written: str, start: int) -> Fault:
    return Fault(
        name="unreadable-amount",
        severity=Severity.ERROR,
        start=start,
        end=start + len(written),
        what=f"“{written}” is no amount of anything",
        instead="an amount above 0",
    )


def _whole_amount(text: str, measures: System) -> tuple[Head, tuple[Fault, ...]]:
    start = len(text) - len(text.lstrip())
    head = _head(text, start, measures)
    left = text[head.end :].strip()
    if left.lower() in {"to taste", "divided", "each"} or (not left and head.amounts):
        return head, head.faults
    if head.faults:
        return head, head.faults
    size = _SIZE.match(f"{left} x")
    if head.amounts and size and size.end() > len(left):
        return replace(head, size=size["size"].lower()), head.faults
    fault = Fault(
        name="unreadable-amount",
        severity=Severity.ERROR,
        start=len(text) - len(text[head.end :].lstrip()) if head.amounts else start,
        end=len(text.rstrip()),
        what=f"“{left or text.strip()}” can't be read as an amount",
        instead="an amount such as 70 g or 1 1/2 cups",
    )
    return Head(), (fault,)


def _bare(where: Where, text: str) -> Ingredient:
    return Ingredient(where=where, text=text, item=text.strip()[:LONGEST_LINE], food=None)


def _outer_faults(text: str) -> tuple[Fault, ...]:
    """Faults for which the line is not read at all."""
    if not text.strip():
        return (
            Fault(
                name="empty-line",
                severity=Severity.ERROR,
                start=0,
                end=1,
                what="the line is empty",
                instead="an ingredient, or nothing at all",
            ),
        )
    if len(text) > LONGEST_LINE:
        long_number = re.search(r"[0-9]{13,}", text)
        return (
            Fault(
                name="number-too-long" if long_number else "line-too-long",
                severity=Severity.ERROR,
                start=long_number.start() if long_number else LONGEST_LINE,
                end=long_number.end() if long_number else len(text),
                what=f"the line has {len(text)} characters",
                instead=f"one ingredient in at most {LONGEST_LINE}",
            ),
        )
    return ()


def _vague_count(match: re.Match[str]) -> Fault:
    return Fault(
        name="vague-count",
        severity=Severity.WARNING,
        start=match.start(),
        end=match.end(),
        what=f"“{match[0].strip()}” is no amount",
        instead="how many, or how much",
    )


def _assembled(
    text: str, head: Head, tail: Tail, *, larder: Larder, measures: System, between: str = "", after: str = ""
) -> tuple[Ingredient, tuple[Fault, ...]]:
    """Head and tail put together; ``where`` and ``text`` are left to the caller."""
    for stated, inside in tail.stated:
        head = with_stated(head, stated, inside)
    head, pieces = _amount_after(head, tail.pieces, measures)
    faults = list(head.faults)
    if tail.open_bracket >= 0:
        faults.append(_unpaired(text, tail.open_bracket))
    named, count = named_by(pieces, larder)
    head, named = noun_as_food(head, named, between, larder)
    slip = _unit_slip(text, head, named, larder, measures)
    if slip:
        faults.append(slip)
        named = replace(named, text=named.text[slip.end - slip.start :].strip())
        head = Head()
    item, following = item_and_rest(named)
    if not item and all(fault.severity is not Severity.ERROR for fault in faults):
        faults.append(_no_food(text))
    size = _SIZE.match(item) if _counts(head) else None
    if size:
        item = item[size.end() :]
        head = replace(head, size=head.size or size["size"].lower())
    later = (piece.text for piece in pieces[count:])
    remarks = remarks_of((*following, *later, *tail.notes, *filter(None, after.split(","))))
    item, alternatives = with_alternatives(item, larder)
    remarks = replace(remarks, alternatives=alternatives + remarks.alternatives)
    faults += two_foods(item, named, larder)
    head, item, match = noun_as_unit(head, item, match_of(item, head, larder), larder, measures)
    faults += second_amounts(named, pieces[count:], match, larder, measures)
    if head.note:
        remarks = replace(remarks, prep=(head.note, *remarks.prep))
    item = " ".join(part for part in (head.described, head.form, item) if part)
    return _ingredient(head, item, match, remarks), tuple(faults)


def _ingredient(head: Head, item: str, match: Match | None, remarks: Remarks) -> Ingredient:
    amount = _truth(head.amounts)
    counted = head.container.count if head.container else None
    form = match.form if match else ""
    handled = next((found for words in remarks.prep if (found := _PACKED.match(words))), None)
    if handled or head.form:
        form = handled["form"].lower() if handled else head.form.split()[-1]
    return Ingredient(
        where=Where(file=""),
        text="",
        item=item,
        food=match.food if match else None,
        form=form,
        amount=amount,
        stated=tuple(one for one in head.amounts if one is not amount and one is not counted),
        container=head.container,
        size=head.size.replace(" ", "-"),
        prep=", ".join(remarks.prep),
        divided=remarks.divided,
        optional=remarks.optional,
        to_taste=remarks.to_taste,
        for_use=remarks.for_use,
        alternatives=remarks.alternatives,
    )


def _truth(amounts: tuple[Quantity, ...]) -> Quantity | None:
    """The weight where one was written, else the volume, else the first."""
    for dimension in (Dimension.MASS, Dimension.VOLUME):
        for amount in amounts:
            if amount.dimension is dimension and not amount.is_vague:
                return amount
    return amounts[0] if amounts else None


def _counts(head: Head) -> bool:
    return head.container is not None or (bool(head.amounts) and head.amounts[0].dimension is Dimension.COUNT)


def _amount_after(head: Head, pieces: tuple[Piece, ...], measures: System) -> tuple[Head, tuple[Piece, ...]]:
    """A line that gives its amount last: "butter, 200 g"."""
    if head.amounts or head.faults:
        return head, pieces
    for place, piece in enumerate(pieces[1:], start=1):
        late = head_at(piece.text, 0, measures)
        if late.amounts and not piece.text[late.end :].strip() and late.amounts[0].unit is not ONE:
            if any(one.low <= 0 for one in late.amounts):
                return replace(head, faults=(_nothing(piece.text, piece.start),)), pieces
            begins = piece.start
            faults = tuple(
                replace(one, start=one.start + begins, end=one.end + begins) for one in late.faults
            )
            return replace(late, end=head.end, faults=faults), pieces[:place] + pieces[place + 1 :]
    return head, pieces


def _squeezed(line: Ingredient, what: str, kind: str, larder: Larder) -> Ingredient:
    """``juice of 1 lemon``: counted by the fruit, and the juice is the food where it alone is used."""
    kind = kind.lower().replace("rind", "zest")
    parts = [word for word in ("zest", "juice") if word in kind]
    match = larder.find(f"{line.item} {parts[0]}") if len(parts) == 1 else None
    food: Food | None = match.food if match else line.food
    return replace(
        line,
        food=food,
        form=" and ".join(parts) or "peel",
        prep=", ".join(part for part in (what[0].lower() + what[1:], line.prep) if part),
    )


def _unpaired(text: str, place: int) -> Fault:
    return Fault(
        name="bracket-unpaired",
        severity=Severity.ERROR,
        start=place,
        end=place + 1,
        what=f"the bracket “{text[place]}” has no partner",
        instead="both brackets, or none",
    )


def _unit_slip(text: str, head: Head, named: Piece, larder: Larder, measures: System) -> Fault | None:
    """The fault of a unit word that is misspelled, unknown or broken in two."""
    if not head.amounts or head.container is not None:
        return None
    stray = re.match(r"s\b", named.text)
    if head.amounts[0].unit is not ONE:
        return _no_unit("unit-misspelled", named, stray, "the unit in one word") if stray else None
    slip = misspelled_unit(named, larder, measures)
    if slip:
        return slip
    letters = _no_word(named, larder)
    if letters:
        size = _SHORT_SIZES.get(letters[0].rstrip("."))
        return _no_unit(
            "unit-unknown", named, letters, f"“{size}”" if size else "a unit, such as g, ml or tsp"
        )
    if not text[: named.start] or not text[named.start - 1].isdigit():
        return None
    glued = re.match(r"[^\W\d_]+", named.text)
    return _no_unit("unit-unknown", named, glued, "a unit, or a space before the food") if glued else None


def _no_word(named: Piece, larder: Larder) -> re.Match[str] | None:
    """Letters after a bare number that no English word begins with, before a food: "110 xg water"."""
    letters = _NO_WORD.match(named.text)
    known = letters and larder.find(named.text[letters.end() :]) and not larder.find(named.text)
    return letters if known else None


def _no_unit(name: str, named: Piece, word: re.Match[str], instead: str) -> Fault:
    return Fault(
        name=name,
        severity=Severity.ERROR,
        start=named.start,
        end=named.start + word.end(),
        what=f"“{word[0]}” is no unit",
        instead=instead,
    )


def _no_food(text: str) -> Fault:
    return Fault(
        name="food-missing",
        severity=Severity.ERROR,
        start=0,
        end=len(text),
        what="the line names no food",
        instead="an amount and a food, such as “200 g rye flour”",
    )
