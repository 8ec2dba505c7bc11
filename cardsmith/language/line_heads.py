"""What an ingredient line states: how much, of what size, in which containers, and the same said again.

    head     = box | sizes { bracket | also } | vague word
    sizes    = amount { ("/" | "=" | "|" | "or") amount }         in another system or dimension
    also     = ("/" | "=" | "|" | ["," ] "or") amount
    box      = number (bracket | ["x"] sizes) [size] [noun]       the size is that of each
             | sizes noun                                         one of them
             | number ["x" number "-"] container ["of" head]      what each holds
             | number "No." digits container
    bracket  = as in `line_statements`

>>> told("2 (400 g) cans tomatoes")
['2 can', '400 gram each']
>>> told("1 (3½- to 4-lb.) chicken"), told("One 12- to 14-pound turkey")
(['1 one', '7/2-4 pound each'], ['1 one', '12-14 pound each'])
>>> told("400g tin tomatoes"), told("4 x 6-packs of 30 g rolls")
(['1 tin', '400 gram each'], ['4 pack', '6 one each', '30 gram each'])
>>> told("110g/4oz/½ cup caster sugar"), told("1½ sticks (12 tablespoons; 170 g) butter")
(['110 gram', '4 ounce', '1/2 cup'], ['3/2 stick', '12 tablespoon', '170 gram'])
>>> told("12 oz (340 g) package bacon"), told("2 packs of 6 × 40 g fish fingers")
(['1 package', '12 ounce each', '340 gram each'], ['2 pack', '6 one each', '40 gram each'])
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.finding import Severity
from cardsmith.language.amounts import ONE, Amount, size_at
from cardsmith.language.bounds import bound_before
from cardsmith.language.faults import Fault
from cardsmith.language.line_numerals import is_name
from cardsmith.language.line_statements import (
    ALSO,
    BAR,
    FOODS,
    Bracket,
    Head,
    Role,
    Statement,
    bracket_in,
    brackets_at,
    food_amount,
    shown,
    stated,
    with_bracket,
)
from cardsmith.language.numbers import ARTICLES, Form, number_at
from cardsmith.language.sizes import edges_at
from cardsmith.language.spans import Share
from cardsmith.language.tokens import DASHES, SLASHES, TokenKind, Tokens, tokenize
from cardsmith.language.unit_words import unit_at
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System, Unit

SIZED = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH})
# Pieces that come in a size of their own, as containers do: a 2 kg piece of gammon.
FORMED = frozenset({"piece", "wheel", "log", "loaf", "roll", "ball", "crown", "length", "slab"})
TIMES = frozenset({"x", "×"})


def told(text: str, measures: System = System.US) -> list[str]:
    """The statements at the beginning of ``text`` in short, for examples."""
    return [shown(one) for one in head_at(tokenize(text), 0, measures).statements]


def head_at(tokens: Tokens, at: int, measures: System) -> Head:
    """The statements that begin at token ``at``; an empty head where a line begins with its food."""
    first = food_amount(tokens, at, measures)
    if first is None:
        return _vague(tokens, at, measures)
    edges = edges_at(tokens, at) if tokens[first.end].low == "by" else None
    if edges and (piece := _noun_at(tokens, edges, measures)):
        note = tokens.between(at, edges)  # "3 by 4 inch piece of ginger"
        return Head(statements=(_one(tokens, at, piece[0]),), end=piece[1], notes=(note,))
    if first.quantity is None:
        unit = unit_at(tokens, first.end, measures)
        return Head(end=unit.end if unit else first.end, faults=first.faults)
    if first.quantity.dimension not in FOODS or (not first.has_unit and is_name(tokens, at)):
        return Head(end=at)
    if not first.has_unit and tokens[first.end].text in SLASHES:
        return _torn(tokens, first)
    if first.has_unit and first.quantity.dimension is not Dimension.COUNT:
        return _measured(tokens, first, measures)
    if first.joined and first.quantity.unit.system is System.CONTAINER:
        held = replace(first.quantity, unit=ONE)  # "6-pack rolls": one of six
        each = stated(tokens, first, role=Role.BESIDE, share=Share.EACH, quantity=held)
        box = Head(statements=(_one(tokens, at, first.quantity.unit), each), end=first.end)
        return _nested(tokens, _with_sizes(tokens, box, measures), measures)
    if first.joined and (holder := _noun_at(tokens, first.end, measures)):
        note = tokens.between(first.first, first.end)  # "6-rib piece of beef"
        return Head(statements=(_one(tokens, at, holder[0]),), end=holder[1], notes=(note,))
    head = (None if first.has_unit else _boxed(tokens, first, measures)) or _counted(tokens, first)
    return _nested(tokens, _with_sizes(tokens, head, measures), measures)


def _one(tokens: Tokens, at: int, unit: Unit) -> Statement:
    """One of a noun whose number is understood."""
    start = tokens[at].start
    quantity = Quantity(low=Fraction(1), high=Fraction(1), unit=unit, written="1")
    return Statement(quantity=quantity, start=start, end=start)


def _vague(tokens: Tokens, at: int, measures: System) -> Head:
    """``pinch of salt``, ``small bunch of parsley``: one, where the article was left out."""
    if tokens[at + 1].text in DASHES and tokens[at + 2].low in {"size", "sized"}:
        holder = _noun_at(tokens, at + 3, measures)  # "thumb-sized piece of ginger"
        if holder is not None and holder[0].system is not System.CONTAINER:
            note = (tokens.between(at, at + 3),)
            return Head(statements=(_one(tokens, at, holder[0]),), end=holder[1], notes=note)
    bound, place = bound_before(tokens, at)
    size = size_at(tokens, place)
    found = unit_at(tokens, place, measures) or (size and unit_at(tokens, size[1], measures)) or None
    if found is None or found.unit.system is not System.VAGUE or tokens[found.end].kind is not TokenKind.WORD:
        return Head(end=at)
    base = found.unit.size
    written = tokens.between(at, found.end)
    one = Quantity(low=base, high=base, unit=found.unit, written=written, bound=bound)
    start, end = tokens[at].start, tokens[found.end - 1].end
    named = size[0] if size and size[1] <= found.first else ""
    return Head(statements=(Statement(quantity=one, start=start, end=end),), end=found.end, size=named)


def _counted(tokens: Tokens, first: Amount) -> Head:
    """A count with its noun, or a bare number."""
    assert first.quantity is not None  # the caller has looked
    counted = first.has_unit and first.quantity.dimension is Dimension.COUNT
    end = first.end
    if not first.has_unit and first.quantity.low < 1:  # "½ a medium onion"
        of = tokens[end].low == "of" and tokens[end + 1].low in ARTICLES
        end += 2 if of else tokens[end].low in ARTICLES
    return Head(
        statements=(stated(tokens, first),),
        end=end,
        size=first.size,
        handling=first.handling,
        note=first.note,
        noun=tokens.between(first.unit_first, first.end) if counted else "",
        faults=first.faults,
    )


def _measured(tokens: Tokens, first: Amount, measures: System) -> Head:
    """A weight, a volume or a length, and the noun whose size it is: "400 g tin", "2 cm piece"."""
    if boxed := _dashed(tokens, first, measures):
        return boxed
    head = _with_sizes(tokens, _counted(tokens, first), measures)
    holder = _holder_at(tokens, head.end, head.statements[0].quantity, measures)
    if holder is None or any(one.share is Share.EACH for one in head.statements):
        return head
    if head.statements[0].quantity.dimension is Dimension.LENGTH:
        return replace(head, end=holder[1], noun=tokens.between(holder[1] - 1, holder[1]))
    each = tuple(replace(one, role=Role.BESIDE, share=Share.EACH) for one in head.statements)
    box = replace(head, statements=(_one(tokens, first.first, holder[0]), *each), end=holder[1])
    return _with_sizes(tokens, box, measures)


def _dashed(tokens: Tokens, first: Amount, measures: System) -> Head | None:
    """``1 - 15 oz. can``: a count and a size, since no can holds 1 to 15 ounces."""
    assert first.quantity is not None  # the caller has looked
    dash = first.first + 1
    if tokens[dash].text not in DASHES or first.quantity.high < 4 * first.quantity.low:
        return None
    holder = _holder_at(tokens, first.end, first.quantity, measures)
    size = food_amount(tokens, dash + 1, measures)
    number = number_at(tokens, first.first)
    if holder is None or size is None or number is None or number.value is None:
        return None
    if holder[0].system is not System.CONTAINER or number.end != dash:
        return None
    written = tokens.between(first.first, dash)
    count = Quantity(low=number.value, high=number.value, unit=holder[0], written=written)
    main = Statement(quantity=count, start=tokens[first.first].start, end=tokens[first.first].end)
    each = stated(tokens, size, role=Role.BESIDE, share=Share.EACH)
    return Head(statements=(main, each), end=holder[1], noun=tokens[holder[1] - 1].text, faults=size.faults)


def _boxed(tokens: Tokens, first: Amount, measures: System) -> Head | None:
    """``2 (400 g) cans``, ``2 x 400 g cans``, ``1 8-oz wheel``, ``4 x 6-packs``, ``1 No. 10 can``."""
    assert first.quantity is not None  # the caller has looked
    opened = tokens[first.end].text == "("
    if edges := edges_at(tokens, first.end + opened):  # "1 (3 x 4-inch) piece"
        edges += opened and tokens[edges].text == ")"
        note = (tokens.between(first.end, edges).strip("()"),)
        return _of_nouns(
            tokens, first, _noun_at(tokens, edges, measures) or (first.quantity.unit, edges), (), note
        )
    if tokens[first.end + 1].text in DASHES and tokens[first.end + 2].low in {"size", "sized"}:
        piece = _noun_at(tokens, first.end + 3, measures)  # "a thumb-sized piece"
        note = (tokens.between(first.end, first.end + 3),)
        return _of_nouns(tokens, first, piece, (), note) if piece else None
    inside = brackets_at(tokens, first.end)
    if inside is not None:
        return _boxed_in_brackets(tokens, first, inside, measures)
    times = tokens[first.end].low in TIMES
    each = None if first.article and times else food_amount(tokens, first.end + times, measures)
    if tokens.words(first.end, "no", ".") and tokens[first.end + 2].is_number:
        holder = _noun_at(tokens, first.end + 3, measures)
        note = (tokens.between(first.end, first.end + 3),)
        return _of_nouns(tokens, first, holder, (), note) if holder else None
    if each is None or each.article or tokens[first.end].text in "([":
        return None
    if each.quantity is None or not each.has_unit or each.quantity.dimension not in FOODS:
        return _two_numbers(tokens, first, each, measures) if _run_on(tokens, each) else None
    if each.quantity.dimension is Dimension.COUNT:
        if not (times and each.joined and each.quantity.unit.system is System.CONTAINER):
            return _two_numbers(tokens, first, each, measures)
        pieces = replace(each.quantity, unit=ONE)
        held = stated(tokens, each, role=Role.BESIDE, share=Share.EACH, quantity=pieces)
        return _of_nouns(tokens, first, (each.quantity.unit, each.end), (held,))
    sizes, end = _sizes(tokens, each, measures)
    noun = _noun_at(tokens, end, measures)
    holder = noun if noun and _holds(noun[0], each.quantity) else None
    length = each.quantity.dimension is Dimension.LENGTH
    said = first.article or first.form is Form.WORDS  # "one 3½–4 lb chicken"
    if holder is None and not (times or each.joined or length or said):
        if noun is None:
            return _two_numbers(tokens, first, each, measures)
        holder = noun
    if holder is None and first.article and not (times or each.joined or length):
        return None
    held_sizes = tuple(stated(tokens, one, role=Role.BESIDE, share=Share.EACH) for one in sizes)
    head = _of_nouns(tokens, first, holder or (first.quantity.unit, end), held_sizes)
    faults = head.faults + tuple(fault for one in sizes for fault in one.faults)
    return replace(head, end=holder[1] if holder else end, faults=faults)


def _boxed_in_brackets(
    tokens: Tokens, first: Amount, inside: tuple[int, int], measures: System
) -> Head | None:
    assert first.quantity is not None  # the caller has looked
    found = bracket_in(tokens, *inside, measures)
    if found is None or not found.statements or found.statements[0].quantity.dimension is Dimension.COUNT:
        return None
    if found.statements[0].said and found.statements[0].share is Share.ALL:
        return None
    each = tuple(replace(one, role=Role.BESIDE, share=Share.EACH) for one in found.statements)
    holder = _noun_at(tokens, inside[1] + 1, measures) or (first.quantity.unit, inside[1] + 1)
    head = _of_nouns(tokens, first, holder, each, found.notes)
    return replace(head, faults=head.faults + found.faults)


def _of_nouns(
    tokens: Tokens,
    first: Amount,
    holder: tuple[Unit, int],
    each: tuple[Statement, ...],
    notes: tuple[str, ...] = (),
) -> Head:
    """A number of nouns, and the sizes of each."""
    assert first.quantity is not None  # the caller has looked
    unit, end = holder
    main = stated(tokens, first)
    main = replace(main, quantity=replace(main.quantity, unit=unit))
    return Head(
        statements=(main, *each),
        end=end,
        size=first.size,
        noun=tokens[end - 1].text if unit is not ONE else "",
        notes=notes,
        faults=first.faults,
    )


def head_in(tokens: Tokens, first: int, end: int, measures: System) -> Bracket | None:
    """A count with the size of each, in brackets: "(one ¼-ounce envelope)"."""
    if edges_at(tokens, first):
        return None  # "(3 x 4 inches)"
    head = head_at(tokens, first, measures)
    if head.end != end or not head.counts or len(head.statements) < 2:
        return None
    return Bracket(statements=head.statements, notes=head.notes, faults=head.faults)


def _held(tokens: Tokens, head: Head, measures: System) -> Head:
    """``head`` with the container that stands behind its sizes: "2 8-oz (227 g) blocks"."""
    each = next((one for one in head.statements if one.share is Share.EACH), None)
    if each is None or head.main is None or head.main.quantity.unit is not ONE:
        return head
    holder = _holder_at(tokens, head.end, each.quantity, measures)
    if holder is None:
        return head
    main = replace(head.main, quantity=replace(head.main.quantity, unit=holder[0]))
    noun = tokens[holder[1] - 1].text
    return replace(head, statements=(main, *head.statements[1:]), end=holder[1], noun=noun)


def _nested(tokens: Tokens, head: Head, measures: System) -> Head:
    """What each container holds: "2 packs of 6 × 40 g", "2 bottles of 750 ml"."""
    if not head.contained or tokens[head.end].low != "of":
        return head
    size = food_amount(tokens, head.end + 1, measures)
    if size is None or size.quantity is None or size.article or size.quantity.dimension not in FOODS:
        return head
    if size.has_unit:
        one = stated(tokens, size, role=Role.BESIDE, share=Share.EACH)
        return replace(head, statements=(*head.statements, one), end=size.end)
    inner = head_at(tokens, head.end + 1, measures)
    each = tuple(replace(one, role=Role.BESIDE, share=Share.EACH) for one in inner.statements)
    return replace(head, statements=head.statements + each, end=inner.end, faults=head.faults + inner.faults)


def _run_on(tokens: Tokens, second: Amount) -> bool:
    """Whether a second number belongs to no name: "2 3 cups", but not "1 00 loaf" or "1 7-grain loaf"."""
    after = tokens[second.end]
    hyphened = after.text in DASHES and after.glued
    zeros = tokens[second.first].text.startswith("00")
    percent = second.quantity is not None and second.quantity.dimension is Dimension.RATIO
    return not (hyphened or zeros or percent or after.text == "%" or second.joined)


def _two_numbers(tokens: Tokens, first: Amount, second: Amount, measures: System) -> Head:
    del measures
    fault = Fault(
        name="unreadable-amount",
        severity=Severity.ERROR,
        start=tokens[first.first].start,
        end=tokens[second.end - 1].end,
        what=f"“{tokens.between(first.first, second.end)}” holds two numbers in a row",
        instead="one amount, or a count and a size such as 2 (400 g) cans",
    )
    return Head(end=second.end, faults=(*first.faults, *second.faults, fault))


def _torn(tokens: Tokens, first: Amount) -> Head:
    """A fraction that nobody can put together: "1//2", "1 / 2"."""
    end = first.end
    while tokens[end].text in SLASHES:
        end += 1
    end += tokens[end].is_number
    fault = Fault(
        name="unreadable-amount",
        severity=Severity.ERROR,
        start=tokens[first.first].start,
        end=tokens[end - 1].end,
        what=f"“{tokens.between(first.first, end)}” can't be read as a number",
        instead="a number such as 1 1/2, ½ or 0.5",
    )
    unit = unit_at(tokens, end)
    return Head(end=unit.end if unit else end, faults=(fault,))


def _noun_at(tokens: Tokens, at: int, measures: System) -> tuple[Unit, int] | None:
    """The counted noun at ``at``, past a hyphen and a size, if one stands there."""
    place = at + (tokens[at].text in DASHES and tokens[at].glued)
    size = size_at(tokens, place)
    place = size[1] if size else place
    if tokens[place].low in {"bar", "bars"}:
        return BAR, place + 1
    found = unit_at(tokens, place, measures)
    if found is None or found.unit.dimension is not Dimension.COUNT or found.unit.system is System.VAGUE:
        return None
    return found.unit, found.end


def _holds(unit: Unit, size: Quantity) -> bool:
    """Whether a noun can have a size: a container or a formed piece; a length can be that of any."""
    return unit.system is System.CONTAINER or unit.name in FORMED or size.dimension is Dimension.LENGTH


def _holder_at(tokens: Tokens, at: int, size: Quantity, measures: System) -> tuple[Unit, int] | None:
    noun = _noun_at(tokens, at, measures)
    if noun is None or size.dimension not in SIZED or size.is_vague:
        return None
    return noun if _holds(noun[0], size) else None


def _sizes(tokens: Tokens, first: Amount, measures: System) -> tuple[tuple[Amount, ...], int]:
    """One size, and the same in other units: "14-oz/398-ml"."""
    found = [first]
    while also := _also(tokens, found[-1].end, found[-1].quantity, measures):
        found.append(also)
    return tuple(found), found[-1].end


def _also(tokens: Tokens, at: int, last: Quantity | None, measures: System) -> Amount | None:
    """A size after a slash, a sign or "or", in another system or dimension than ``last``."""
    place = at
    if tokens[place].text in ALSO and tokens[place].text:
        place += 1
    else:
        comma = tokens[place].text == ","
        place += comma
        if tokens[place].low != "or" and not (comma and tokens[place].is_number):
            return None
        place += tokens[place].low == "or"
    one = food_amount(tokens, place, measures)
    if one is None or one.quantity is None or not one.has_unit or one.article or last is None:
        return None
    unit = one.quantity.unit
    lengths = unit.dimension is last.dimension is Dimension.LENGTH
    if (unit.dimension not in {Dimension.MASS, Dimension.VOLUME} and not lengths) or one.quantity.is_vague:
        return None
    same = (unit.system, unit.dimension) == (last.unit.system, last.unit.dimension)
    return None if same else one


def _with_sizes(tokens: Tokens, head: Head, measures: System) -> Head:
    """``head`` with the sizes that follow it in brackets, after a slash or after "or"."""
    while head.statements:
        inside = brackets_at(tokens, head.end)
        found = None
        if inside:
            found = bracket_in(tokens, *inside, measures) or head_in(tokens, *inside, measures)
        if inside and found and found.statements:
            head = _held(tokens, with_bracket(replace(head, end=inside[1] + 1), found), measures)
            continue
        also = _also(tokens, head.end, head.statements[-1].quantity, measures)
        if also is None:
            return head
        boxed = any(one.share is Share.EACH for one in head.statements)
        share = Share.EACH if boxed else Share.ALL
        more = stated(tokens, also, role=Role.BESIDE, share=share)
        head = replace(
            head, statements=(*head.statements, more), end=also.end, faults=head.faults + also.faults
        )
    return head
