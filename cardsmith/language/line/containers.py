"""Things counted that have a size of their own: cans, packets, whole birds.

    box  = number (bracket | ["x"] sizes | edges) [size] [noun]   the size is that of each
         | number ("No." | "#") number container
         | number " - " size [noun]             several things of a size, a dash between blanks
    also = ("/" | "=" | "|" | ["," ] "or") amount                 in another system or dimension

>>> from cardsmith.language.line.heads import told
>>> told("2 (400 g) cans tomatoes"), told("1 No. 2½ can tomatoes")
(['2 can', '400 gram each'], ['1 can'])
>>> told("3 6oz salmon fillets"), told("4oz/110g/1 stick butter")
(['3 one', '6 ounce each'], ['4 ounce', '110 gram', '1 stick'])
>>> told("One 12- to 14-pound turkey"), told("1 3-by-4-inch piece kombu")
(['1 one', '12-14 pound each'], ['1 piece'])
>>> told("2 - 6-ounce salmon fillets"), told("2 - 3 lb. chickens"), told("2 - 3 lb potatoes")
(['2 one', '6 ounce each'], ['2 one', '3 pound each'], ['2-3 pound'])
>>> told("½ (60 g) onion"), told("3 (60 g) onions")
(['1/2 one', '60 gram'], ['3 one', '60 gram each'])
"""

from __future__ import annotations

from collections.abc import Set
from dataclasses import replace

from cardsmith.language.faults import fault_at
from cardsmith.language.figures.amounts import ONE, Amount, size_at
from cardsmith.language.figures.numbers import Form, number_at
from cardsmith.language.figures.sizes import as_adjective, edges_at, parted_count
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.line.brackets import bracket_in, brackets_at
from cardsmith.language.line.statements import (
    ALSO,
    BAR,
    FOODS,
    Head,
    Role,
    Statement,
    bounded_alike,
    food_amount,
    share_at,
    stated,
)
from cardsmith.language.noun_phrases import is_plural, phrase_at
from cardsmith.language.spans import Share
from cardsmith.language.tokens import DASHES, SLASHES, Tokens
from cardsmith.measure.larder import words as larder_words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System, Unit, units

SIZED = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH})
# Pieces that come in a size of their own, as containers do: a 2 kg piece of gammon.
FORMED = frozenset({"piece", "wheel", "log", "loaf", "roll", "ball", "crown", "length", "slab"})
PORTIONS = frozenset("fillet steak chop cutlet breast thigh shank escalope".split())
_WHOLE = frozenset({"chicken", "duck", "hen", "rabbit", "lobster"})
TIMES = frozenset({"x", "×", "@"})
_NO_RANGE = 4  # times its lower end: no can holds 1 to 15 ounces
_NUMBERED = frozenset({"no", "nr", "#"})


def boxed(tokens: Tokens, first: Amount, measures: System) -> Head | None:
    """``2 (400 g) cans``, ``2 x 400 g cans``, ``1 8-oz wheel``, ``4 x 6-packs``, ``1 No. 10 can``."""
    assert first.quantity is not None  # the caller has looked
    opened = tokens[first.end].text == "("
    if edges := edges_at(tokens, first.end + opened):  # "1 (3 x 4-inch) piece"
        edges += opened and tokens[edges].text == ")"
        note = (tokens.between(first.end, edges).strip("()"),)
        return _of_nouns(
            tokens, first, noun_at(tokens, edges, measures) or (first.quantity.unit, edges), (), note
        )
    if tokens[first.end + 1].text in DASHES and tokens[first.end + 2].low in {"size", "sized"}:
        piece = noun_at(tokens, first.end + 3, measures)  # "a thumb-sized piece"
        note = (tokens.between(first.end, first.end + 3),)
        return _of_nouns(tokens, first, piece, (), note) if piece else None
    inside = brackets_at(tokens, first.end)
    if inside is not None:
        return _boxed_in_brackets(tokens, first, inside, measures)
    times = tokens[first.end].low in TIMES
    each = None if first.article and times else food_amount(tokens, first.end + times, measures)
    if tokens[first.end].low in _NUMBERED and tokens[_number_of(tokens, first.end)].is_number:
        numbered = numbered_at(tokens, first.end, measures)
        if numbered is None:
            return None
        can, end = numbered
        return _of_nouns(tokens, first, can, (), (tokens.between(first.end, end),))
    if each is None or each.article or tokens[first.end].text in "([":
        return None
    if each.quantity is None or not each.has_unit or each.quantity.dimension not in FOODS:
        return _two_numbers(tokens, first, each) if _run_on(tokens, each) else None
    if each.quantity.dimension is Dimension.COUNT:
        if not (times and each.joined and each.quantity.unit.system is System.CONTAINER):
            return _two_numbers(tokens, first, each)
        pieces = replace(each.quantity, unit=ONE)
        held = stated(tokens, each, role=Role.BESIDE, share=Share.EACH, quantity=pieces)
        return _of_nouns(tokens, first, (each.quantity.unit, each.end), (held,))
    sizes, end = _sizes(tokens, each, measures)
    said_each, _, after = share_at(tokens, end, len(tokens))
    end = after if said_each is Share.EACH else end  # "12 @ 10 oz ea"
    noun = noun_at(tokens, end, measures)
    holder = noun if noun and _holds(noun[0], each.quantity) else None
    length = each.quantity.dimension is Dimension.LENGTH
    ranged = each.quantity.dimension is Dimension.MASS and each.quantity.is_range
    said = first.article or first.form is Form.WORDS or ranged  # "one 3½–4 lb chicken", "1 12–15 lb turkey"
    said = said or (each.quantity.dimension is Dimension.MASS and is_portion(tokens, end))
    if holder is None and not (times or each.joined or length or said):
        if noun is None:
            return _two_numbers(tokens, first, each)
        holder = noun
    whole = each.quantity.dimension is Dimension.MASS  # "a 1.2 kg chicken", but no "500 ml cream"
    if holder is None and first.article and not (times or each.joined or length or whole):
        return None
    plain = bool(times or each.joined)  # "4 x 150 g", "two 1¼-pound lobsters"
    held_sizes = tuple(
        stated(tokens, amount, role=Role.BESIDE, share=Share.EACH, said=plain) for amount in sizes
    )
    head = _of_nouns(tokens, first, holder or (first.quantity.unit, end), held_sizes)
    faults = head.faults + tuple(fault for amount in sizes for fault in amount.faults)
    return replace(head, end=holder[1] if holder else end, faults=faults)


def is_portion(tokens: Tokens, at: int, nouns: Set[str] = PORTIONS) -> bool:
    """Whether a food cut in portions begins at ``at``: "3 6oz salmon fillets", but not "2 3 oz almonds"."""
    return not nouns.isdisjoint(larder_words(phrase_at(tokens, at).head)[-1:])


def numbered_at(tokens: Tokens, at: int, measures: System) -> tuple[tuple[Unit, int], int] | None:
    """The container known by a number at ``at``, with its end, and the end of its number: "#10 can"."""
    number = number_at(tokens, _number_of(tokens, at)) if tokens[at].low in _NUMBERED else None
    holder = noun_at(tokens, number.end, measures) if number else None
    return (holder, number.end) if number and holder else None


def _number_of(tokens: Tokens, at: int) -> int:
    return at + 1 + (tokens[at + 1].text == ".")


def _boxed_in_brackets(
    tokens: Tokens, first: Amount, inside: tuple[int, int], measures: System
) -> Head | None:
    assert first.quantity is not None  # the caller has looked
    bracket = bracket_in(tokens, *inside, measures)
    if tokens[inside[0]].low in _NUMBERED and (can := noun_at(tokens, inside[1] + 1, measures)):
        return _of_nouns(tokens, first, can, (), (tokens.between(*inside),))  # 1 (No. 2½) can
    if (
        bracket is None
        or not bracket.statements
        or bracket.statements[0].quantity.dimension is Dimension.COUNT
    ):
        return None
    holder = noun_at(tokens, inside[1] + 1, measures) or (first.quantity.unit, inside[1] + 1)
    part = first.quantity.high < 1 and holder[0].system is not System.CONTAINER  # ½ (60 g) onion
    last = tokens[inside[1] + 1].text in {"", ","}  # "3 (300 g)", the food on another line
    share = Share.ALL if part or last else Share.EACH
    each = tuple(
        replace(statement, role=Role.BESIDE, share=statement.share if statement.said else share)
        for statement in bracket.statements
    )
    head = _of_nouns(tokens, first, holder, each, bracket.notes)
    return replace(head, faults=head.faults + bracket.faults)


def dashed(tokens: Tokens, first: Amount, measures: System) -> Head | None:
    """``1 - 15 oz. can``, ``2 - 6-ounce fillets``: a count and a size, which a dash between blanks parts.

    No can holds 1 to 15 ounces, and several things need a count.
    """
    number = number_at(tokens, first.first)
    size = food_amount(tokens, number.end + 1, measures) if number else None
    if number is None or number.value is None or tokens[number.end].text not in DASHES:
        return None
    if size is None or size.quantity is None or first.quantity is None:
        return None
    holder = holder_at(tokens, size.end, size.quantity, measures)
    far = number.end == first.first + 1 and first.quantity.high >= _NO_RANGE * first.quantity.low
    sized = as_adjective(tokens, size)
    boxed = far and (sized or (holder is not None and holder[0].system is System.CONTAINER))
    pounds = (
        size.quantity.unit.name == "pound"
    )  # "2 - 3 lb. chickens", but "2 - 3 lb. chicken breasts" are weighed
    named = holder is not None or sized or is_portion(tokens, size.end, _WHOLE if pounds else PORTIONS)
    several = named and any(map(is_plural, phrase_at(tokens, size.end).words[:3]))
    if not (boxed or (several and parted_count(tokens, number.first))):
        return None
    written = tokens.between(number.first, number.end)
    quantity = Quantity(low=number.value, high=number.value, unit=ONE, written=written)
    count = replace(size, quantity=quantity, first=number.first, end=number.end)
    each = stated(tokens, size, role=Role.BESIDE, share=Share.EACH)
    return _of_nouns(tokens, count, holder or (ONE, size.end), (each,))


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


def _sizes(tokens: Tokens, first: Amount, measures: System) -> tuple[tuple[Amount, ...], int]:
    """One size, and the same in other units: "14-oz/398-ml"."""
    amounts = [first]
    while again := said_again(tokens, amounts[-1].end, amounts[-1].quantity, measures):
        amounts.append(again)
    return tuple(amounts), amounts[-1].end


def said_again(tokens: Tokens, at: int, last: Quantity | None, measures: System) -> Amount | None:
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
    amount = food_amount(tokens, place, measures)
    if amount is None or amount.quantity is None or not amount.has_unit or amount.article or last is None:
        return None
    unit = amount.quantity.unit
    lengths = unit.dimension is last.dimension is Dimension.LENGTH
    stick = unit is units()["stick"] and last.dimension in WEIGHED  # 4 oz/110 g/1 stick butter
    if not (unit.dimension in WEIGHED or lengths or stick) or amount.quantity.is_vague:
        return None
    same = (unit.system, unit.dimension) == (last.unit.system, last.unit.dimension)
    if same and (unit is last.unit or tokens[at].text not in SLASHES):
        return None  # but 1.2 litres/2 pints/5 cups
    return replace(amount, quantity=bounded_alike(amount.quantity, last))


def noun_at(tokens: Tokens, at: int, measures: System) -> tuple[Unit, int] | None:
    """The counted noun at ``at``, past a hyphen and a size, if one stands there."""
    place = at + (tokens[at].text in DASHES and tokens[at].glued)
    size = size_at(tokens, place)
    place = size[1] if size else place
    if tokens[place].low in {"bar", "bars"}:
        return BAR, place + 1
    unit_found = unit_at(tokens, place, measures)
    if (
        unit_found is None
        or unit_found.unit.dimension is not Dimension.COUNT
        or unit_found.unit.system is System.VAGUE
    ):
        return None
    return unit_found.unit, unit_found.end


def _holds(unit: Unit, size: Quantity) -> bool:
    """Whether a noun can have a size: a container or a formed piece; a length can be that of any."""
    return unit.system is System.CONTAINER or unit.name in FORMED or size.dimension is Dimension.LENGTH


def holder_at(tokens: Tokens, at: int, size: Quantity, measures: System) -> tuple[Unit, int] | None:
    """The noun at ``at`` of which one can have the size before it, and where it ends."""
    noun = noun_at(tokens, at, measures)
    if noun is None and size.dimension is Dimension.LENGTH:
        vague = unit_at(tokens, at, measures)  # "1-inch knob of ginger" is a piece
        counted = vague is not None and vague.unit.dimension is Dimension.COUNT
        noun = (units()["piece"], vague.end) if vague is not None and counted else None
    if noun is None or size.dimension not in SIZED or size.is_vague:
        return None
    return noun if _holds(noun[0], size) else None


def _run_on(tokens: Tokens, second: Amount) -> bool:
    """Whether a second number belongs to no name: "2 3 cups", but not "1 00 loaf" or "1 7-grain loaf"."""
    after = tokens[second.end]
    hyphened = after.text in DASHES and after.glued
    zeros = tokens[second.first].text.startswith("00")
    percent = second.quantity is not None and second.quantity.dimension is Dimension.RATIO
    return not (hyphened or zeros or percent or after.text == "%" or second.joined)


def _two_numbers(tokens: Tokens, first: Amount, second: Amount) -> Head:
    """The fault of two numbers without a unit, of which neither need be the size."""
    what, instead = (
        "“{}” holds two numbers in a row",
        "one amount, or a count and a size such as 2 (400 g) cans",
    )
    fault = fault_at(tokens, first.first, second.end, "unreadable-amount", what, instead)
    return Head(end=second.end, faults=(*first.faults, *second.faults, fault))
