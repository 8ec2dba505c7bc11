"""What an amount in a sentence measures: food, a vessel, a length, a time, a pressure, a height.

    measure = amount [noun] { again }
    size    = edges (sizes.py) [noun] { again }
    again   = "(" amount { ("/" | "," | ";" | "or") amount } ")" | "/" amount
            | ("," | ";") amount                                          of another system, all in brackets

A vessel's size stands before its noun or in brackets behind it (noun_phrases.py); its ounces are fluid ones.
Pounds of pressure are no weight. A tin of tomatoes is food, however much it looks like a vessel.

>>> def kinds(*texts):
...     return [str(measured_in(text).kind) for text in texts]
>>> kinds("6-ounce ramekins", "1 tbsp oil in a skillet", "400 g tin of tomatoes", "2 cm thick")
['vessel', 'amount', 'amount', 'length']
>>> kinds("10 pounds pressure", "3,000 feet", "twenty minutes", "800 watts")
['pressure', 'altitude', 'duration', 'power']
>>> measured_in("13 x 9 inch (33 x 23 cm) pan").noun, len(measured_in("1 cup/250 ml stock").stated)
('pan', 1)
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.language.figures.amounts import Amount, amount_at, ends_at, nothing
from cardsmith.language.figures.bounds import bound_after, bound_behind
from cardsmith.language.figures.numbers import NUMBER_WORDS, number_at
from cardsmith.language.figures.pressures import is_pressure
from cardsmith.language.figures.rates import is_definition
from cardsmith.language.figures.sizes import (
    are_several,
    are_steps,
    counted_apart,
    lengths,
    may_be_several,
    sides_at,
    two_ways_in_text,
)
from cardsmith.language.noun_phrases import noun_at, phrase_at, vessel_at, vessel_before
from cardsmith.language.prose.reading import TokenReading, unread
from cardsmith.language.prose.references import reference_at
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, SLASHES, Tokens
from cardsmith.language.word_classes import vessel_words, words_of
from cardsmith.measure.larder import load_larder
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System, units

_CUP = Fraction(250)  # ml; a cup may be the vessel
_HIGH = Fraction(137_160)  # mm, 450 feet; a length from here on is one above the sea
_WELLS = frozenset({"muffin", "cupcake", "popover", "madeleine", "mini-muffin"})  # tins of so many cups
_FLUID = {"ounce": "fluid ounce", "imperial ounce": "imperial fluid ounce"}
_ARTICLE_TIMES = frozenset({"hour", "minute", "week", "fortnight", "day", "month", "year"})
_LENGTHS = frozenset({"inch", "centimetre"})  # a foot, a yard are more than lengths
_OF_TIME = frozenset("ahead chilled covered early frozen later longer more refrigerated sooner".split())
_FROM = frozenset({"from", "in", "into", "with", "over"})  # before what holds it
_GRID = frozenset({"grid", "grids"})
_CUTTING = frozenset({"cut", "cutting", "slice", "score", "mark", "portion"})  # "cut 4 by 6"
_SETTING = frozenset({"set", "arrange", "lay", "place", "space", "line", "them", "rolls", "balls", "buns"})
_FARTHEST = 40  # tokens; so that time grows with the length of a text
_NEAR = 8  # tokens between a verb and its time
_FAR_APART = Fraction(120_000)  # mm; "for every 300 m above 900 m"
_LASTING = frozenset({"every", "for", "another", "after"})
_MOST_IN_A_ROW = 12
_EDGES = frozenset({"thick", "deep", "wide", "long", "apart", "high", "of"})
_PLAIN = {
    Dimension.DURATION: Kind.DURATION,
    Dimension.POWER: Kind.POWER,
    Dimension.ENERGY: Kind.ENERGY,
    Dimension.PRESSURE: Kind.PRESSURE,
}


# --- one amount -----------------------------------------------------------------------------------------


def measure_at(tokens: Tokens, at: int, measures: System, *, series: bool) -> TokenReading | None:
    """The amount with a unit that begins at token ``at``; ``series`` says that a reference stands before."""
    amount = amount_at(tokens, at, measures)
    if amount is None:
        return None
    if amount.quantity is None:
        return TokenReading(at, amount.end, Kind.UNREAD, faults=amount.faults)
    if not amount.has_unit or amount.quantity.dimension is Dimension.RATIO:
        return None
    if amount.quantity.unit.name == "bar" and noun_at(tokens, amount.end) not in {"", "pressure"}:
        return None  # of chocolate
    if amount.quantity.dimension is Dimension.COUNT:
        return None if amount.article else _counted(tokens, amount, amount.quantity, series=series)
    if amount.quantity.dimension is Dimension.VOLUME and is_definition(tokens, amount):
        worth = amount.quantity.unit.from_base(amount.quantity.low)
        return TokenReading(amount.first, amount.end, Kind.NAME, low=worth, high=worth)
    if amount.article and not _article_counts(tokens, amount, amount.quantity):
        return None
    return measure_of(tokens, amount, measures)


def count_of_sized_at(tokens: Tokens, at: int, measures: System) -> TokenReading | None:
    """The count of ``2 - 9-inch layers``."""
    number = counted_apart(tokens, at, measures)
    if number is None or number.value is None:
        return None
    value = number.value
    return TokenReading(at, number.end, Kind.COUNT, low=value, high=value)


def ranged_at(tokens: Tokens, at: int, measures: System) -> TokenReading | None:
    """``between 3 and 4 cups``."""
    amount = amount_at(tokens, at, measures)
    if amount is None or amount.quantity is None or not amount.has_unit or amount.first != at:
        return None
    return measure_of(tokens, amount, measures)


def _counted(tokens: Tokens, amount: Amount, quantity: Quantity, *, series: bool) -> TokenReading | None:
    """A count of pieces or containers: "2 cloves", "3 slices". Vague ones are amounts of food."""
    number = number_at(tokens, amount.first)
    reading = reference_at(tokens, number, None, series=series) if number else None
    if reading is not None:
        return reading  # a size 1 ladle, a #40 scoop
    if quantity.is_vague:
        noun = noun_at(tokens, amount.end)
        return TokenReading(amount.first, amount.end, Kind.AMOUNT, sides=(quantity,), noun=noun)
    singular = tokens.between(amount.unit_first, amount.end).lower() == quantity.unit.name
    if singular and quantity.low > 1:
        return None  # "an 8 round pan"
    end = number.end if number and not quantity.is_range else amount.unit_first
    noun = tokens.between(amount.unit_first, amount.end)
    return TokenReading(amount.first, end, Kind.COUNT, low=quantity.low, high=quantity.high, noun=noun)


def _article_counts(tokens: Tokens, amount: Amount, quantity: Quantity) -> bool:
    """``a cup of stock``, ``an hour``; but not "once a day", "10 minutes a pound", "a cup" to drink from."""
    before = tokens[amount.first - 1]
    if before.low in words_of("rate") or before.is_number:
        return False
    if len(tokens.between(amount.unit_first, amount.end).rstrip(".")) == 1:
        return False  # "a t" is a slip
    after = tokens[amount.end].low
    if quantity.dimension is Dimension.PRESSURE:
        return before.low in {"at", "to"}  # but "in a bar of eight stools"
    if quantity.dimension is Dimension.DURATION:
        free = after in _OF_TIME or not phrase_at(tokens, amount.end).words
        return quantity.unit.name in _ARTICLE_TIMES and free
    if quantity.dimension is Dimension.LENGTH:
        return after in _EDGES or (
            quantity.unit.name in _LENGTHS and after in words_of("stop") | {"", ".", ",", ";"}
        )
    if vessel_at(tokens, amount.end) is not None:
        return True  # a quart jar
    if (
        after not in words_of("stop")
        and load_larder(tokens.tables).find(noun_at(tokens, amount.end)) is not None
    ):
        return True  # a cup flour
    if before.low in _FROM and quantity.unit.name == "cup" and after != "of":
        return False  # "pour it from a cup": a vessel
    if quantity.low > _CUP and before.low == "to" and after in words_of("stop"):
        return True  # "boil down to a pint and strain"
    return after in {"", ".", ",", ";", "of", ")"} or tokens.words(amount.end, "at", "a", "time")


def measure_of(tokens: Tokens, amount: Amount, measures: System) -> TokenReading:
    """What ``amount`` measures where it stands, with all that says it again."""
    quantity = amount.quantity
    assert quantity is not None  # the callers have looked
    if _are_minutes(tokens, amount):
        minute, metre = units()["minute"].size, quantity.unit.size
        low, high = quantity.low / metre * minute, quantity.high / metre * minute
        quantity = replace(quantity, low=low, high=high, unit=units()["minute"])
    end = _without_stop(tokens, amount)
    if end < amount.end:
        quantity = replace(quantity, written=quantity.written.removesuffix("."))
    faults = amount.faults
    inside = quantity.bound is not Bound.EXACTLY and bound_after(tokens, end)[0] is Bound.EXACTLY
    if asked := two_ways_in_text(tokens, amount):
        faults += (asked,)
    if quantity.low <= 0 and quantity.dimension in WEIGHED:
        faults += (nothing(tokens, amount.first, end),)
    kind, quantity, noun = _kind(tokens, amount, quantity, end)
    if kind is Kind.VESSEL and quantity.unit.name == "cup" and _WELLS & set(noun.split()):
        count = quantity.unit.from_base(quantity.low)
        # a 12-cup muffin tin
        return TokenReading(amount.first, end, Kind.NAME, low=count, high=count, noun=noun)
    part = TokenReading(
        amount.first,
        end,
        kind,
        sides=(quantity,),
        adjective=amount.joined or (kind in {Kind.LENGTH, Kind.VESSEL} and _describes(tokens, end)),
        noun=noun,
        says_bound=inside,
        behind=amount.handling,
        faults=faults,
    )
    return _weighed(_with_again(tokens, part, measures), amount.quantity)


def _are_minutes(tokens: Tokens, amount: Amount) -> bool:
    """Whether "m" stands for minutes: "fold every 30 m", "bake 45m"."""
    size = amount.quantity
    metres = size is not None and size.unit.name == "metre" and size.high <= _FAR_APART
    if not metres or tokens[amount.unit_first].text != "m" or tokens[amount.end].low in _EDGES | {"above"}:
        return False
    near = {tokens[at].low for at in range(max(0, amount.first - _NEAR), amount.first)}
    return tokens[amount.first - 1].low in _LASTING or not near.isdisjoint(words_of("time verb"))


def _weighed(part: TokenReading, written: Quantity | None) -> TokenReading:
    """``part`` with its ounces as the weight they are, where grams say so: 12-ounce (340 g) jars."""
    if written is None or written.dimension is part.sides[0].dimension:
        return part
    if all(quantity.dimension is not written.dimension for quantity in part.stated):
        return part
    side = replace(part.sides[0], low=written.low, high=written.high, unit=written.unit)
    return replace(part, sides=(side, *part.sides[1:]))


def _without_stop(tokens: Tokens, amount: Amount) -> int:
    """Where an amount ends, the stop that ends its sentence left out: "Add 5 oz. Stir"."""
    after = tokens[amount.end]
    if amount.joined and phrase_at(tokens, amount.end).words:
        return amount.end  # a 6-qt. Dutch oven
    ends = after.low == "" or (after.text[:1].isupper() and not after.glued)
    return amount.end - 1 if amount.dotted and ends else amount.end


# --- kinds ----------------------------------------------------------------------------------------------


def _kind(tokens: Tokens, amount: Amount, quantity: Quantity, end: int) -> tuple[Kind, Quantity, str]:
    """What an amount measures, by the words around it; and the quantity as that reads it, with its noun."""
    dimension = quantity.dimension
    if dimension in _PLAIN:
        return _PLAIN[dimension], quantity, ""
    if dimension is Dimension.MASS and is_pressure(tokens, end):
        unit = units()["pound per square inch"]
        scale = unit.size / quantity.unit.size
        return (
            Kind.PRESSURE,
            replace(quantity, low=quantity.low * scale, high=quantity.high * scale, unit=unit),
            "",
        )
    if dimension is Dimension.LENGTH and quantity.high >= _HIGH:
        return Kind.ALTITUDE, quantity, ""
    if dimension in WEIGHED and (food := _contained(tokens, end)):
        return Kind.AMOUNT, quantity, food
    vessel = _vessel(tokens, amount.first, end)
    if vessel:
        return Kind.VESSEL, _capacity(quantity, vessel), vessel
    return (Kind.LENGTH if dimension is Dimension.LENGTH else Kind.AMOUNT), quantity, noun_at(tokens, end)


def _contained(tokens: Tokens, end: int) -> str:
    """The food of "400 g tin of tomatoes"; empty where a vessel is not bought full."""
    phrase = vessel_at(tokens, end)
    if phrase is None or len(phrase.words) > 1 or phrase.head not in words_of("food container"):
        return ""
    food = noun_at(tokens, phrase.end) if tokens[phrase.end].low == "of" else ""
    return food if food and load_larder(tokens.tables).find(food) is not None else ""


def _vessel(tokens: Tokens, first: int, end: int) -> str:
    """The vessel that a size at these tokens belongs to; empty where it belongs to no vessel."""
    closed = tokens[first - 1].text == "(" and tokens[end].text == ")"  # 2 (9 x 5-inch) loaf pans
    phrase = vessel_at(tokens, end + closed)
    if phrase is not None:
        return " ".join(phrase.words)
    named = noun_at(tokens, end).removesuffix(" each").split()
    if not closed and named and load_larder(tokens.tables).find(named[-1]) is not None:
        return ""  # "two pots of 5 quarts salted water each"
    return vessel_before(tokens, first) or _deep(tokens, first, end)


def _deep(tokens: Tokens, first: int, end: int) -> str:
    """The vessel of a second size: "20 cm square tin, 5 cm deep"."""
    place = bound_behind(tokens, first, limit=False)[1] - 1
    if tokens[end].low not in {"deep", "across", "wide", "high"} or tokens[place].text != ",":
        return ""
    word = tokens[place - 1].low
    return word if word in vessel_words(tokens.tables) else ""


def _capacity(quantity: Quantity, vessel: str) -> Quantity:
    """A vessel's ounces are fluid ones: a 6-ounce ramekin holds 6 fluid ounces."""
    fluid = _FLUID.get(quantity.unit.name)
    if fluid is None or vessel.rsplit(maxsplit=1)[-1] not in words_of("capacity"):
        return quantity
    unit = units()[fluid]
    scale = unit.size / quantity.unit.size
    return replace(quantity, low=quantity.low * scale, high=quantity.high * scale, unit=unit)


def _describes(tokens: Tokens, end: int) -> bool:
    """Whether a length stands before the noun it describes: "a 23 cm tin", but "2 cm thick"."""
    if tokens[end - 1].low in {"inches", "feet", "centimetres", "centimeters"}:
        return False
    return bool(phrase_at(tokens, end).words)


# --- sizes of several edges -----------------------------------------------------------------------------


def size_at(tokens: Tokens, at: int, measures: System) -> TokenReading | None:
    """``9 by 13 inches``, ``33 × 23 × 5 cm``; without a unit it is unread."""
    sides = sides_at(tokens, at, measures)
    if sides is None:
        return None
    first, last = sides[0].quantity, sides[-1].quantity
    assert first is not None  # sides_at has looked
    assert last is not None
    if not sides[-1].has_unit:
        if are_steps(tokens, sides):
            return None
        closed = tokens.is_stop(sides[-1].end) or tokens[sides[-1].end].text in {",", ")"}
        cut = tokens[at - 1].low in _CUTTING and closed
        grid = (
            cut or _GRID & {tokens[sides[-1].end].low, tokens[at - 2].low} or tokens[at - 1].low in _SETTING
        )
        if grid and max(side.quantity.high for side in sides if side.quantity) <= _MOST_IN_A_ROW:
            # a grid of 3 by 4
            return TokenReading(at, sides[-1].end, Kind.NAME, low=first.low, high=first.low)
        if all(tokens[side.first].low in NUMBER_WORDS for side in sides):
            return TokenReading(at, sides[-1].end, Kind.COUNT, low=first.low, high=first.low)  # six by four
        written = tokens.between(at, sides[-1].end)
        instead = f"“{written}-inch” or “{written} cm”"
        return unread(tokens, at, sides[-1].end, first.low, instead=instead)
    if last.dimension is not Dimension.LENGTH or are_several(tokens, sides):
        return None
    if may_be_several(tokens, sides):
        size = tokens.between(sides[1].first, sides[1].end)
        count = tokens.between(at, sides[0].end)
        instead = f"“{count} pieces, each {size}”, or “{count}-by-{size}”"
        return unread(tokens, at, sides[-1].end, first.low, instead=instead)
    end = _without_stop(tokens, sides[-1])
    vessel = _vessel(tokens, at, end)
    part = TokenReading(
        at,
        end,
        Kind.VESSEL if vessel else Kind.LENGTH,
        sides=lengths(sides),
        adjective=sides[-1].joined or _describes(tokens, end),
        noun=vessel,
        faults=tuple(fault for side in sides for fault in side.faults),
    )
    return _with_again(tokens, part, measures)


# --- said again -----------------------------------------------------------------------------------------


def _with_again(tokens: Tokens, part: TokenReading, measures: System) -> TokenReading:
    """``part`` with the same amount in other units: in brackets, or behind a slash."""
    while True:
        if extent := _extent_before_bracket(tokens, part):
            part = replace(part, end=part.end + 2, behind=extent)
        opened = tokens[part.end].text in {"(", "["}
        listed = tokens[part.first - 1].text in {"(", "["} and tokens[part.end].text in {",", ";"}
        if not opened and not listed and tokens[part.end].text not in SLASHES:
            return part
        stated, place = _stated(tokens, part, measures, opened=opened)
        closed = not (opened or listed) or tokens[place].text in {")", "]"}
        if not stated or not closed or not _alike(part.sides[0], stated):
            return part
        if listed and any(quantity.unit.system is part.sides[0].unit.system for quantity in stated):
            return part  # "(20 minutes; 1 hour for beans)"
        part = replace(part, end=place + opened, stated=part.stated + tuple(stated))
        vessel = _vessel(tokens, part.first, part.end) if part.kind in {Kind.AMOUNT, Kind.LENGTH} else ""
        if vessel and not _contained(tokens, part.end):
            sides = tuple(_capacity(side, vessel) for side in part.sides)
            part = replace(part, kind=Kind.VESSEL, noun=vessel, sides=sides)
        if part.kind in {Kind.LENGTH, Kind.VESSEL} and not part.adjective:
            part = replace(part, adjective=_describes(tokens, part.end))


def _extent_before_bracket(tokens: Tokens, part: TokenReading) -> str:
    """The "thick" of "1-inch-thick (2.5 cm) slices"; empty where none stands before brackets."""
    dash, word, bracket = (tokens[part.end + at] for at in range(3))
    joined = dash.text in DASHES and word.low in _EDGES and bracket.text == "("
    return word.low if joined and part.kind in {Kind.LENGTH, Kind.VESSEL} else ""


def _stated(
    tokens: Tokens, part: TokenReading, measures: System, *, opened: bool
) -> tuple[list[Quantity], int]:
    """The quantities that say ``part`` again, and where they end."""
    place = part.end + 1
    again = sides_at(tokens, place, measures) if part.kind in {Kind.LENGTH, Kind.VESSEL} else None
    if again and again[-1].has_unit and len(part.sides) == 1:
        return [], place  # "to 1 cm (20 × 20 cm)" is no thickness again
    if again and again[-1].has_unit:
        return list(lengths(again)), again[-1].end
    stated: list[Quantity] = []
    paired = tokens[part.first].low == "between"
    both = ends_at(tokens, place, measures, closing="and") if paired else None  # (300 and 1,800 m)
    while not again and (other := both or amount_at(tokens, place, measures)) is not None:
        if other.quantity is None or not other.has_unit or other.article:
            break
        stated.append(other.quantity)
        place, both = other.end, None
        more = tokens[place].text in SLASHES | {",", ";", "x", "×"} or tokens[place].low in {"or", "by"}
        if not opened or not more:
            break
        place += 1
    return stated, place


def _alike(quantity: Quantity, others: list[Quantity]) -> bool:
    """Whether quantities may be one amount in several units: lengths, or weights and volumes."""
    families = {Dimension.MASS: "food", Dimension.VOLUME: "food"}
    mine = families.get(quantity.dimension, quantity.dimension.value)
    return all(families.get(other.dimension, other.dimension.value) == mine for other in others)
