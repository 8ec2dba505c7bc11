"""What an ingredient line states: how much, of what size, in which containers, and the same said again.

    head     = sizes { bracket | also } | box | vague word
    sizes    = amount { also }
    box      = as in `containers`
             | sizes noun                                         one of them
             | edges noun                                         likewise: 3 by 4 inch piece
             | number ["x" number "-"] container ["of" head]      what each holds
    bracket  = as in `statements`

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

from cardsmith.language.faults import Fault, fault_at
from cardsmith.language.figures.amounts import ONE, Amount, size_at
from cardsmith.language.figures.bounds import bound_before
from cardsmith.language.figures.numbers import ARTICLES, number_at, of_a, unreadable
from cardsmith.language.figures.sizes import CROSSES, edges_at, two_ways
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.line.brackets import Bracket, bracket_in, brackets_at, with_bracket, without_counts
from cardsmith.language.line.containers import (
    boxed,
    dashed,
    holder_at,
    noun_at,
    numbered_at,
    said_again,
)
from cardsmith.language.line.numerals import is_name
from cardsmith.language.line.statements import (
    FOODS,
    Head,
    Role,
    Statement,
    food_amount,
    is_volume,
    shown,
    stated,
)
from cardsmith.language.noun_phrases import is_plural
from cardsmith.language.spans import Share
from cardsmith.language.tokens import DASHES, SLASHES, TokenKind, Tokens, tokenize
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System, Unit

_FEW = frozenset({"few", "several", "some"})
_OF_LIQUIDS = frozenset({"can", "tin", "jar", "bottle"})


def told(text: str, measures: System = System.US) -> list[str]:
    """The statements at the beginning of ``text`` in short, for examples."""
    return [shown(statement) for statement in head_at(tokenize(text), 0, measures).statements]


def head_at(tokens: Tokens, at: int, measures: System) -> Head:
    """The statements that begin at token ``at``; an empty head where a line begins with its food."""
    if tokens.words(at, "half", "and", "half"):
        return Head(end=at)  # a cream
    first = food_amount(tokens, at, measures)
    if first is None or (first.article and not first.has_unit and tokens[first.end].low in _FEW):
        return _vague(tokens, at, measures)
    edges = edges_at(tokens, at) if tokens[first.end].low in CROSSES else None
    piece = noun_at(tokens, edges, measures) if edges else None
    several = first.quantity is not None and first.quantity.low > 1
    if edges and piece and (tokens[first.end].low == "by" or (several and _is_one(tokens, piece))):
        note = tokens.between(at, edges)  # "3 by 4 inch piece of ginger"
        return Head(statements=(_one(tokens, at, piece[0]),), end=piece[1], notes=(note,))
    if at == 0 and (fault := two_ways(tokens, first)):
        return Head(end=first.end, faults=(fault,))
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
    if first.joined and (holder := noun_at(tokens, first.end, measures)):
        note = tokens.between(first.first, first.end)  # "6-rib piece of beef"
        return Head(statements=(_one(tokens, at, holder[0]),), end=holder[1], notes=(note,))
    if not first.has_unit and first.quantity.low < 1:
        first = replace(first, end=of_a(tokens, first.end))  # "½ a medium onion", "½ a 400 g tin"
    head = (None if first.has_unit else boxed(tokens, first, measures)) or _counted(tokens, first)
    return _nested(tokens, _with_sizes(tokens, head, measures), measures)


def _is_one(tokens: Tokens, noun: tuple[Unit, int]) -> bool:
    """Whether a noun stands for one thing: "2 × 2 cm piece" is no two."""
    unit, end = noun
    return tokens[end - 1].low == unit.name


def _one(tokens: Tokens, at: int, unit: Unit) -> Statement:
    """One of a noun whose number is understood."""
    start = tokens[at].start
    quantity = Quantity(low=Fraction(1), high=Fraction(1), unit=unit, written="1")
    return Statement(quantity=quantity, start=start, end=start)


def _vague(tokens: Tokens, at: int, measures: System) -> Head:
    """``pinch of salt``, ``a few drops``, ``#10 can``: one, where no number or only an article says it."""
    if tokens[at + 1].text in DASHES and tokens[at + 2].low in {"size", "sized"}:
        holder = noun_at(tokens, at + 3, measures)  # "thumb-sized piece of ginger"
        if holder is not None and holder[0].system is not System.CONTAINER:
            note = (tokens.between(at, at + 3),)
            return Head(statements=(_one(tokens, at, holder[0]),), end=holder[1], notes=note)
    numbered = numbered_at(tokens, at, measures)
    if numbered is not None and numbered[0][0].system is System.CONTAINER:
        (can, end), past = numbered
        noted = (tokens.between(at, past),)
        return Head(statements=(_one(tokens, at, can),), end=end, noun=tokens[end - 1].text, notes=noted)
    bound, place = bound_before(tokens, at)
    place += tokens[place].low in ARTICLES and tokens[place + 1].low in _FEW
    place += tokens[place].low in _FEW  # "a few drops"
    size = size_at(tokens, place)
    unit_found = unit_at(tokens, place, measures) or (size and unit_at(tokens, size[1], measures)) or None
    if unit_found is None or unit_found.unit.system is not System.VAGUE:
        return Head(end=at)
    if tokens[unit_found.end].kind is not TokenKind.WORD and at == 0:
        return Head(end=at)
    base = unit_found.unit.size
    written = tokens.between(at, unit_found.end)
    quantity = Quantity(low=base, high=base, unit=unit_found.unit, written=written, bound=bound)
    start, end = tokens[at].start, tokens[unit_found.end - 1].end
    named = size[0] if size and size[1] <= unit_found.first else ""
    return Head(
        statements=(Statement(quantity=quantity, start=start, end=end),), end=unit_found.end, size=named
    )


def _counted(tokens: Tokens, first: Amount) -> Head:
    """A count with its noun, or a bare number."""
    assert first.quantity is not None  # the caller has looked
    counted = first.has_unit and first.quantity.dimension is Dimension.COUNT
    return Head(
        statements=(stated(tokens, first),),
        end=first.end,
        size=first.size,
        handling=first.handling,
        note=first.note,
        noun=tokens.between(first.unit_first, first.end) if counted else "",
        faults=first.faults,
    )


def _measured(tokens: Tokens, first: Amount, measures: System) -> Head:
    """A weight, a volume or a length, and the noun whose size it is: "400 g tin", "2 cm piece"."""
    if boxed := dashed(tokens, first, measures):
        return boxed
    head = _with_sizes(tokens, _and_a_pinch(tokens, _counted(tokens, first), measures), measures)
    holder = holder_at(tokens, head.end, head.statements[0].quantity, measures)
    if holder is None or any(statement.share is Share.EACH for statement in head.statements):
        return head
    if is_plural(tokens[holder[1] - 1].low):
        head = replace(head, faults=(*head.faults, _how_many(tokens, first.first, holder[1])))
    if head.statements[0].quantity.dimension is Dimension.LENGTH:
        return replace(head, end=holder[1], noun=tokens.between(holder[1] - 1, holder[1]))
    each = tuple(replace(statement, role=Role.BESIDE, share=Share.EACH) for statement in head.statements)
    box = replace(head, statements=(_one(tokens, first.first, holder[0]), *each), end=holder[1])
    return _with_sizes(tokens, box, measures)


def _and_a_pinch(tokens: Tokens, head: Head, measures: System) -> Head:
    """``head`` with what no spoon measures, in words: "½ teaspoon plus a pinch"."""
    joined = tokens[head.end].low in {"plus", "and", "+", "&"}
    more = food_amount(tokens, head.end + 1, measures) if joined else None
    if more is None or more.quantity is None or not (more.article and more.quantity.is_vague):
        return head
    return replace(head, end=more.end, notes=(*head.notes, tokens.between(head.end, more.end)))


def _how_many(tokens: Tokens, first: int, end: int) -> Fault:
    """The fault of "2-inch pieces" that nobody counted."""
    instead = f"their number, as in “2 ({tokens.between(first, end - 1)}) {tokens[end - 1].text}”"
    return fault_at(tokens, first, end, "number-unread", "“{}” doesn’t say how many", instead)


def head_in(tokens: Tokens, first: int, end: int, measures: System) -> Bracket | None:
    """A count with the size of each, in brackets: "(one ¼-ounce envelope)"."""
    if edges_at(tokens, first):
        return None  # "(3 x 4 inches)"
    head = head_at(tokens, first, measures)
    if head.end != end or not head.counts or len(head.statements) < 2:
        return None
    return Bracket(statements=head.statements, notes=head.notes, faults=head.faults)


def is_part_of_a_box(tokens: Tokens, first: int, measures: System) -> bool:
    """Whether brackets say which part of a box the line takes: "1 pie crust (half of a 14.1-oz package)"."""
    part = food_amount(tokens, first, measures)
    number = number_at(tokens, first)
    if part is None or number is None or number.value is None or number.value >= 1:
        return False
    return tokens[number.end - 1].low in ARTICLES and tokens[number.end].is_number


def is_source(head: Head, bracket: Bracket) -> bool:
    """Whether brackets name what the food comes in: "12 sheets filo (270 g pack)", "2 cups (12-oz bag)"."""
    box, main = bracket.statements[0].quantity, head.main
    sized = box.unit.system is System.CONTAINER and len(bracket.statements) > 1
    if main is None or not sized or head.contained:
        return False
    return is_volume(main) or (head.counts and box.high == 1 and main.quantity.high > 1)


def with_pack(head: Head, bracket: Bracket) -> Head:
    """``head``, a volume, with the weight of the one pack that fills it: "2¼ tsp gelatine (one ¼-oz packet)".

    What a can or a jar weighs has its liquid in it.
    """
    box, *sizes = bracket.statements
    drained = box.quantity.unit.name in _OF_LIQUIDS or box.quantity.high != 1
    if drained or head.main is None or not is_volume(head.main):
        return head
    weights = (replace(statement, role=Role.BESIDE, share=Share.ALL) for statement in sizes)
    return replace(head, statements=(*head.statements, *weights))


def _held(tokens: Tokens, head: Head, measures: System) -> Head:
    """``head`` with the container that stands behind its sizes: "2 8-oz (227 g) blocks"."""
    each = next((statement for statement in head.statements if statement.share is Share.EACH), None)
    if each is None or head.main is None or head.main.quantity.unit is not ONE:
        return head
    holder = holder_at(tokens, head.end, each.quantity, measures)
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
        statement = stated(tokens, size, role=Role.BESIDE, share=Share.EACH)
        return replace(head, statements=(*head.statements, statement), end=size.end)
    inner = head_at(tokens, head.end + 1, measures)
    each = tuple(replace(statement, role=Role.BESIDE, share=Share.EACH) for statement in inner.statements)
    return replace(head, statements=head.statements + each, end=inner.end, faults=head.faults + inner.faults)


def _torn(tokens: Tokens, first: Amount) -> Head:
    """A fraction that nobody can put together: "1//2", "1 / 2"."""
    end = first.end
    while tokens[end].text in SLASHES:
        end += 1
    end += tokens[end].is_number
    unit = unit_at(tokens, end)
    return Head(end=unit.end if unit else end, faults=unreadable(tokens, first.first, end).faults)


def _are_sizes(tokens: Tokens, head: Head, first: int, bracket: Bracket, measures: System) -> bool:
    """Whether brackets say sizes alone, and not what else the line's words will tell (`rest`)."""
    if is_part_of_a_box(tokens, first, measures) or is_source(head, bracket):
        return False
    return head.main is None or not is_volume(head.main) or not without_counts(bracket)[1]


def _with_sizes(tokens: Tokens, head: Head, measures: System) -> Head:
    """``head`` with the sizes that follow it in brackets, after a slash or after "or"."""
    while head.statements:
        if inside := brackets_at(tokens, head.end):
            bracket = bracket_in(tokens, *inside, measures) or head_in(tokens, *inside, measures)
            if bracket is None or not _are_sizes(tokens, head, inside[0], bracket, measures):
                return head
            head = _held(tokens, with_bracket(replace(head, end=inside[1] + 1), bracket), measures)
            continue
        also = said_again(tokens, head.end, head.statements[-1].quantity, measures)
        if also is None:
            return head
        boxed = any(statement.share is Share.EACH for statement in head.statements)
        share = Share.EACH if boxed else Share.ALL
        more = stated(tokens, also, role=Role.BESIDE, share=share)
        head = replace(
            head, statements=(*head.statements, more), end=also.end, faults=head.faults + also.faults
        )
    return head
