"""The beginning of an ingredient line: how much, in what containers, and the sizes given beside it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from cardsmith.finding import Severity
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System, Unit, units
from cardsmith.recipe.amounts import ONE, AmountFound, amount_at, unit_at
from cardsmith.recipe.model import Container
from cardsmith.recipe.numbers import SPACE, Fault
from cardsmith.regex import regex

SAME = Fraction(1, 10)  # two sizes nearer than this are one size in two systems
_UNIT_GAP = regex(rf"[-‑]|{SPACE}*")
_ARTICLE = regex(rf"^an?{SPACE}+", re.IGNORECASE)
_SPACES = regex(f"{SPACE}*")
_TIMES = regex(rf"{SPACE}*[x×]{SPACE}*(?=[0-9])", re.IGNORECASE)
_OPEN = regex(rf"{SPACE}*\(")
_SEPARATOR = regex(rf"{SPACE}*(?:[/;,=]|\bor\b)?{SPACE}*(?:or{SPACE}+)?", re.IGNORECASE)
_ALSO = regex(rf"(?:{SPACE}*+[/=|]|(?:{SPACE}*+,)?{SPACE}++or\b){SPACE}*", re.IGNORECASE)
_EACH = regex(rf"{SPACE}*(?:each|apiece|per{SPACE}+\w+)\b", re.IGNORECASE)
_TOTAL = regex(
    rf"{SPACE}*+,?{SPACE}*+(?:(?:in{SPACE}+)?total(?:{SPACE}+weight)?|altogether|in{SPACE}+all)\b",
    re.IGNORECASE,
)
_WORD_AFTER = regex(rf"{SPACE}+\w")
_NOUN_GAP = regex(rf"{SPACE}*(?:(?:extra[- ]large|small|medium|large){SPACE}+)?|-")
_SIZE_LEFT = regex(
    rf"{SPACE}*+(?:extra[- ]large|small|medium|large)?(?:[- ]sized?|(?<= )sized?)?{SPACE}*+$", re.IGNORECASE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """An amount in brackets; ``each`` or ``total`` where the author said which."""

    quantity: Quantity
    each: bool = False
    total: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What stands before the food."""

    amounts: tuple[Quantity, ...] = ()  # in the author's order
    container: Container | None = None
    size: str = ""
    form: str = ""
    end: int = 0
    noun: str = ""  # the counted unit word, which may turn out to be the food itself
    note: str = ""  # a word about it: "2 thick slices"
    described: str = ""  # the size of one, where it is a length: "(5 cm) piece"
    faults: tuple[Fault, ...] = ()


def stated_in(text: str, start: int, end: int, measures: System) -> tuple[Stated, ...] | None:
    """The amounts that make up all of ``text[start:end]``, else None."""
    found: list[Stated] = []
    place = start
    while place < end:
        gap = _SEPARATOR.match(text, place) if found else _SPACES.match(text, place)
        place = gap.end() if gap else place
        one = amount_at(text[:end], place, measures)
        if one is None or one.quantity is None or one.faults:
            return None
        each, total = _EACH.match(text[:end], one.end), _TOTAL.match(text[:end], one.end)
        said = each or total
        place = said.end() if said else one.end
        if not one.unit_written and not (
            one.quantity.bound is not Bound.EXACTLY or _SIZE_LEFT.match(text[:end], place)
        ):
            return None
        if not one.unit_written:
            rest = _SIZE_LEFT.match(text[:end], place)
            place = rest.end() if rest else place
        found.append(Stated(quantity=one.quantity, each=bool(each), total=bool(total)))
    return tuple(found) or None


def brackets_at(text: str, start: int) -> tuple[int, int] | None:
    """Where the inside of the brackets that open at ``start`` begins and ends; None where none do."""
    opened = _OPEN.match(text, start)
    if opened is None:
        return None
    depth = 1
    for place in range(opened.end(), len(text)):
        depth += {"(": 1, ")": -1}.get(text[place], 0)
        if depth == 0:
            return opened.end(), place
    return None


def head_at(text: str, start: int, measures: System) -> Head:
    """The amounts at ``start``; an empty head where the line begins with the food."""
    first = amount_at(text, start, measures)
    if first is None:
        return _bare_vague(text, start, measures)
    if first.quantity is None:
        unit = _UNIT_GAP.match(text, first.end)
        found = unit_at(text, unit.end(), measures) if unit else None
        return Head(end=found.end if found else first.end, faults=first.faults)
    head = _contained(text, first, measures) or _counted(text, first)
    return _with_sizes(text, head, measures)


def _bare_vague(text: str, start: int, measures: System) -> Head:
    """``pinch of salt``, ``handful parsley``: one, where the article was left out."""
    unit = unit_at(text, start, measures)
    if unit is None or unit.word.unit.system is not System.VAGUE or not _WORD_AFTER.match(text, unit.end):
        return Head(end=start)
    size = unit.word.unit.size
    one = Quantity(low=size, high=size, unit=unit.word.unit, written=text[start : unit.end])
    return Head(amounts=(one,), end=unit.end)


def _counted(text: str, first: AmountFound) -> Head:
    assert first.quantity is not None  # the caller has looked
    unit = first.quantity.unit
    holds = unit.system is System.CONTAINER
    return Head(
        amounts=(first.quantity,),
        container=Container(count=first.quantity, word=unit.name, each=None) if holds else None,
        size=first.size,
        form=first.form,
        end=first.end,
        noun=text[first.unit_start : first.end]
        if unit is not ONE and unit.dimension is Dimension.COUNT
        else "",
        note=first.note,
        faults=first.faults,
    )


def _contained(text: str, first: AmountFound, measures: System) -> Head | None:
    """``2 (400 g) cans``, ``2 x 400 g cans``, ``one 400 g can``, ``a 5 cm piece``."""
    if first.quantity is None:
        return None
    size = first.quantity
    if first.unit_written:
        holder = _holder_at(text, first.end, size, measures)
        if holder is None:
            return None
        one = Quantity(low=ONE.size, high=ONE.size, unit=holder[0], written="1")
        return _boxes(text, first, one, size, holder)
    inside = brackets_at(text, first.end)
    if inside is not None:
        stated = stated_in(text, *inside, measures)
        if stated is None or stated[0].total or stated[0].quantity.dimension is Dimension.COUNT:
            return None
        end = inside[1] + 1
        holder = _noun_at(text, end, measures) or (ONE, end)
        head = _boxes(text, first, first.quantity, stated[0].quantity, holder)
        if holder[0] is ONE and first.quantity.high != 1 and not stated[0].each and not head.described:
            head = replace(head, faults=(*head.faults, _ask_size(stated[0].quantity, inside)))
        more = tuple(_each(first.quantity, other.quantity) for other in stated[1:])
        return replace(head, amounts=head.amounts + more)
    times = _TIMES.match(text, first.end)
    gap = times or _SPACES.match(text, first.end)
    each = amount_at(text, gap.end(), measures) if gap and gap.end() > first.end else None
    if each is None or each.article:
        return None
    if each.quantity is None or not each.unit_written:
        return _two_numbers(text, first, each)
    holder = _holder_at(text, each.end, each.quantity, measures)
    if holder is None and not (times or each.joined) and each.quantity.dimension is not Dimension.LENGTH:
        return _two_numbers(text, first, each)
    first = replace(first, faults=first.faults + each.faults)
    return _boxes(text, first, size, each.quantity, holder or (ONE, each.end))


def _two_numbers(text: str, first: AmountFound, second: AmountFound) -> Head:
    written = text[first.start : second.end]
    fault = Fault(
        name="unreadable-amount",
        severity=Severity.ERROR,
        start=first.start,
        end=second.end,
        what=f"“{written}” holds two numbers in a row",
        instead="one amount, or a count and a size such as 2 (400 g) cans",
    )
    return Head(end=second.end, faults=(*first.faults, *second.faults, fault))


def _noun_at(text: str, start: int, measures: System) -> tuple[Unit, int] | None:
    """The counted unit word after ``start``, if one stands there."""
    gap = _NOUN_GAP.match(text, start)
    found = unit_at(text, gap.end() if gap else start, measures)
    if found is None or found.word.unit.dimension is not Dimension.COUNT:
        return None
    return found.word.unit, found.end


def _holder_at(text: str, start: int, size: Quantity, measures: System) -> tuple[Unit, int] | None:
    """The noun that ``size`` describes: a container or a piece; for a length any counted noun."""
    noun = _noun_at(text, start, measures)
    if noun is None or size.dimension not in {Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH}:
        return None
    unit = noun[0]
    fits = unit.system is System.CONTAINER or unit.name == "piece" or size.dimension is Dimension.LENGTH
    return noun if fits else None


def _each(count: Quantity, each: Quantity) -> Quantity:
    return replace(each, low=count.low * each.low, high=count.high * each.high)


def _boxes(text: str, first: AmountFound, count: Quantity, each: Quantity, holder: tuple[Unit, int]) -> Head:
    """So many containers of one size; the amount is their sum, for a length the count itself."""
    unit, end = holder
    written = text[first.start : end]
    if each.dimension is Dimension.LENGTH:
        return _sized(first, count, each, holder)
    count = replace(count, unit=unit, written=written if count.written == "1" else count.written)
    return Head(
        amounts=(replace(_each(count, each), written=written),),
        container=Container(count=count, word="" if unit is ONE else unit.name, each=each),
        size=first.size,
        end=end,
        faults=first.faults,
    )


def _sized(first: AmountFound, count: Quantity, each: Quantity, holder: tuple[Unit, int]) -> Head:
    """Pieces of one length: the length stays with the food's words, since no weight follows from it."""
    unit, end = holder
    piece = unit is ONE or unit.name == "piece"
    noun = f" {unit.name if count.high <= 1 else unit.plural}" if piece and unit is not ONE else ""
    count = replace(count, unit=units()["piece"] if piece else unit)
    return Head(
        amounts=(count,),
        described=f"({_ARTICLE.sub('', each.written)}){noun}",
        size=first.size,
        end=end,
        faults=first.faults,
    )


def _with_sizes(text: str, head: Head, measures: System) -> Head:
    """``head`` with the sizes that follow in brackets, after a slash or after "or"."""
    while head.amounts:
        inside = brackets_at(text, head.end)
        stated = stated_in(text, *inside, measures) if inside else None
        if inside and stated:
            head = _held(text, with_stated(replace(head, end=inside[1] + 1), stated, inside), measures)
            continue
        also = _ALSO.match(text, head.end)
        one = amount_at(text, also.end(), measures) if also else None
        if one is None or one.quantity is None or not one.unit_written or one.article:
            return head
        if one.quantity.dimension not in {Dimension.MASS, Dimension.VOLUME}:
            return head
        unit, last = one.quantity.unit, head.amounts[-1].unit
        if (unit.system, unit.dimension) == (last.system, last.dimension):
            return head
        head = replace(
            head, amounts=(*head.amounts, one.quantity), end=one.end, faults=head.faults + one.faults
        )
    return head


def _held(text: str, head: Head, measures: System) -> Head:
    """``head`` with the container that stands after its sizes: "12 oz (340 g) package"."""
    first = head.amounts[0]
    one = replace(first, low=ONE.size, high=ONE.size, written="1")
    box = head.container or Container(count=one, word="", each=first)
    noun = _holder_at(text, head.end, box.each, measures) if box.each and not box.word else None
    if noun is None:
        return head
    unit, end = noun
    return replace(head, container=replace(box, count=replace(box.count, unit=unit), word=unit.name), end=end)


def with_stated(head: Head, stated: tuple[Stated, ...], inside: tuple[int, int]) -> Head:
    """``head`` with amounts in brackets added: each times the count, or the whole."""
    for one in stated:
        first = head.amounts[0] if head.amounts else None
        counts = first is not None and first.dimension is Dimension.COUNT
        several = first is not None and first.high != 1
        open_box = counts and head.container is not None and head.container.each is None
        if _is_of_one(one, head):
            assert head.container is not None  # that is what it is one of
            head = replace(head, amounts=(*head.amounts, _each(head.container.count, one.quantity)))
        elif first is not None and counts and (one.each or open_box) and not one.total:
            if open_box and several and not one.each:
                head = replace(head, faults=(*head.faults, _ask_size(one.quantity, inside)))
            total = _each(first, one.quantity)
            word = head.container.word if head.container else ""
            box = head.container if head.container and head.container.each else None
            head = replace(
                head,
                amounts=(*head.amounts, total),
                container=box or Container(count=first, word=word, each=one.quantity),
            )
        else:
            head = replace(head, amounts=(*head.amounts, one.quantity))
    return head


def _is_of_one(one: Stated, head: Head) -> bool:
    """Whether an amount in brackets says the size of one of several again: "2 8-oz (227 g) blocks"."""
    box = head.container
    if box is None or box.each is None or box.count.high == 1 or one.total:
        return False
    same = one.quantity.dimension is box.each.dimension
    return same and abs(one.quantity.middle - box.each.middle) <= SAME * box.each.middle


def _ask_size(each: Quantity, inside: tuple[int, int]) -> Fault:
    return Fault(
        name="container-size-doubtful",
        severity=Severity.WARNING,
        start=inside[0],
        end=inside[1],
        what=f"“{each.written}” is read as the size of one",
        instead=f"“{each.written} each”, or “{each.written} in total”",
    )
