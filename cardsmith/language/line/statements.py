"""What an ingredient line states: amounts, of one or of all.

    stated   = amount [bound] [share]
    share    = "each" | "apiece" | "per" piece | ["in"] "total" | "in all" | "altogether"

>>> shown(stated(tokens := tokenize("2 cups or so"), food_amount(tokens, 0, System.US)))
'2 cup'
"""

from __future__ import annotations

import enum
from dataclasses import replace
from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault
from cardsmith.language.figures.amounts import ONE, SAME, Amount, amount_at
from cardsmith.language.figures.bounds import bound_after
from cardsmith.language.figures.numbers import number_at
from cardsmith.language.spans import Share
from cardsmith.language.tokens import DASHES, Tokens
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System, Unit

FOODS = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.COUNT, Dimension.LENGTH})
ALSO = frozenset({"/", "=", "|", "⁄", "∕"})
BAR = Unit(
    name="bar", plural="bars", symbol="bar", dimension=Dimension.COUNT, system=System.CONTAINER,
    size=Fraction(1), source="common practice, no source",
)  # fmt: skip
LEVEL = Fraction(1, 50)  # a cup and its 240 ml lie nearer than this
_COUNTED = frozenset({"ea", "no", "nos", "nr", "numbers"})
_EACH = (("each",), ("ea", "."), ("ea",), ("apiece",), ("a", "piece"))
_TOTAL = (
    ("total", "weight"), ("in", "total"), ("total",), ("altogether",), ("in", "all"), ("all", "together"),
    ("all", "told"),
    ("combined",), ("together",),
)  # fmt: skip
_SHARES = frozenset(spelled[0] for spelled in (*_EACH, *_TOTAL)) | {"per"}
_PER_WHOM = frozenset("person serving portion head pound lb lbs ounce oz kilo kg day batch guest".split())


@enum.unique
class Role(enum.StrEnum):
    """What a statement is to its line."""

    MAIN = "main"
    BESIDE = "beside"  # the same food said again
    ALTERNATIVE = "alternative"  # another food or form, with its own amount
    FOR_USE = "for use"  # a part, or an extra, with a use of its own


@frozen
class Statement:
    """An amount of a line, as the author gave it: of one where ``share`` is EACH."""

    quantity: Quantity
    start: int  # characters; the same as ``end`` where the number is understood: "400 g tin"
    end: int
    role: Role = Role.MAIN
    share: Share = Share.ALL
    said: bool = False  # whether the author said "each" or "in all"
    of: str = ""  # another food that it counts, or its use: "lemons", "for dusting"
    words: str = ""  # what fills it: "packed leaves"
    size: str = ""  # of what it counts, where it stands in brackets: "5 large"


@frozen
class Head:
    """What stands before the food; the first statement is the main one."""

    statements: tuple[Statement, ...] = ()
    end: int = 0  # the token after it
    size: str = ""
    handling: str = ""
    note: str = ""  # a word about the counted noun: "2 thick slices"
    noun: str = ""  # the counted noun as written, which may turn out to be the food
    notes: tuple[str, ...] = ()  # other words from its brackets
    faults: tuple[Fault, ...] = ()

    @property
    def main(self) -> Statement | None:
        """The first statement."""
        return self.statements[0] if self.statements else None

    @property
    def counts(self) -> bool:
        """Whether the line counts something."""
        return self.main is not None and self.main.quantity.dimension is Dimension.COUNT

    @property
    def contained(self) -> bool:
        """Whether what it counts are containers."""
        return self.main is not None and self.main.quantity.unit.system is System.CONTAINER


def shown(statement: Statement) -> str:
    """A statement in short, for examples: ``3/2-2 pound each``."""
    unit = statement.quantity.unit
    ends = [str(unit.from_base(end)) for end in (statement.quantity.low, statement.quantity.high)]
    each, of = " each" if statement.share is Share.EACH else "", f" of {statement.of}" if statement.of else ""
    return f"{'-'.join(dict.fromkeys(ends))} {unit.name}{each}{of}"


def food_amount(tokens: Tokens, at: int, measures: System) -> Amount | None:
    """The amount at ``at`` with the bound behind it: "2 cups or so", "¾ cup, scant,"."""
    first = amount_at(tokens, at, measures)
    if first is None or first.quantity is None:
        return first
    quantity = first.quantity
    if quantity.unit.name == "bar":  # a pressure in a step, chocolate in a list
        first = replace(first, quantity=replace(quantity.times(1 / quantity.unit.size), unit=BAR))
    elif quantity.unit is ONE and tokens[first.end].low == "bars":
        bars = replace(quantity, unit=BAR)
        first = replace(first, quantity=bars, unit_first=first.end, end=first.end + 1, has_unit=True)
    elif quantity.dimension is Dimension.DURATION:
        number = number_at(tokens, first.first)
        after = tokens[first.end]
        if number is not None and after.text in DASHES and after.glued and not first.joined:
            worth = quantity.unit.from_base(quantity.low)  # "1 day-old baguette"
            written = tokens.between(at, number.end)
            count = replace(quantity, low=worth, high=worth, unit=ONE, written=written)
            return replace(first, quantity=count, end=number.end, unit_first=number.end, has_unit=False)
    elif quantity.unit is ONE and (end := _counted_at(tokens, first.end)):
        first = replace(first, end=end)  # "12 ea", "3 nos"
    elif quantity.unit is ONE and tokens[first.end].low == "brace":
        pair = replace(quantity, low=quantity.low * 2, high=quantity.high * 2)
        first = replace(first, quantity=pair, end=first.end + 1)
    _, end = bound_after(tokens, first.end)
    if end > first.end and tokens[first.end].text == "," and tokens[end].text == ",":
        end += 1
    return replace(first, end=end) if end > first.end else first


def _counted_at(tokens: Tokens, at: int) -> int:
    """Where a word that says only that things are counted ends, its stop included; 0 where none begins."""
    if tokens[at].low not in _COUNTED:
        return 0
    stop = tokens[at + 1].text == "." and tokens[at + 1].glued
    return 0 if tokens[at + 1 + stop].is_number else at + 1 + stop  # "1 No. 10 can"


def stated(tokens: Tokens, amount: Amount, **more: object) -> Statement:
    """The statement of an amount."""
    assert amount.quantity is not None  # the caller has looked
    start, end = tokens[amount.first].start, tokens[amount.end - 1].end
    statement = Statement(quantity=amount.quantity, start=start, end=end)
    return replace(statement, **more) if more else statement  # type: ignore[arg-type]


def is_volume(main: Statement) -> bool:
    """Whether a line's amount is a volume of agreed size."""
    return main.quantity.dimension is Dimension.VOLUME and not main.quantity.is_vague


def bounded_alike(quantity: Quantity, first: Quantity) -> Quantity:
    """``quantity``, which says ``first`` again, with its bound: "about 115 g/4 oz".

    No weight is heaped, and no volume that measures what a scant cup holds is scant.
    """
    level = (
        first.dimension is quantity.dimension and abs(quantity.middle - first.middle) <= LEVEL * first.middle
    )
    shares_bound = level or not first.bound.is_unlevel
    return (
        replace(quantity, bound=first.bound) if shares_bound and quantity.bound is Bound.EXACTLY else quantity
    )


def is_same(quantity: Quantity, other: Quantity) -> bool:
    """Whether two sizes may be one in two systems."""
    near = abs(quantity.middle - other.middle) <= SAME * other.middle
    return quantity.dimension is other.dimension is not Dimension.COUNT and near


def share_at(tokens: Tokens, at: int, end: int) -> tuple[Share, bool, int]:
    """Whether the words at ``at`` say "each" or "in all", whether they say either, and where they end."""
    place = at + (tokens[at].text == "," and at + 1 < end)
    if tokens[place].low not in _SHARES:
        return Share.ALL, False, at
    for spelled in _EACH:
        if tokens.words(place, *spelled) and place + len(spelled) <= end:
            return Share.EACH, True, place + len(spelled)
    per = tokens[place].low == "per" and tokens[place + 1].low not in _PER_WHOM
    if per and place + 2 <= end:
        return Share.EACH, True, place + 2
    for spelled in _TOTAL:
        if tokens.words(place, *spelled) and place + len(spelled) <= end:
            return Share.ALL, True, place + len(spelled)
    return Share.ALL, False, at
