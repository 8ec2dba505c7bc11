"""One number with its unit, and what the words between them say: ``2 heaped teaspoons``, ``9-inch``.

    term = number ["+" | "or more"] ["-"] { size | bound | handling | note } unit [ "and a half" ]
         | bound unit
    size = "small" | "medium-sized" | "extra-large" …

>>> from cardsmith.language.tokens import tokenize
>>> term = term_at(tokenize("2 large heaped teaspoons"), 0, System.US)
>>> term.size, term.quantity.bound, term.quantity.unit.name
('large', <Bound.HEAPING: 'heaping'>, 'teaspoon')
>>> term_at(tokenize("1 lightly packed cup"), 0, System.US).handling
'lightly packed'
>>> term_at(tokenize("2 or more cups"), 0, System.US).quantity.bound
<Bound.AT_LEAST: 'at least'>
>>> size_at(tokenize("medium-sized eggs"), 0)
('medium', 3)
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault, fault_at
from cardsmith.language.figures.bounds import bound_after
from cardsmith.language.figures.numbers import PARTS, Form, Number, number_at, of_a
from cardsmith.language.figures.unit_words import UnitFound, unit_at
from cardsmith.language.noun_phrases import vessel_at
from cardsmith.language.tokens import DASHES, TokenKind, Tokens
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System, Unit

ONE = Unit(
    name="one",
    plural="",
    symbol="",
    dimension=Dimension.COUNT,
    system=System.ANY,
    size=Fraction(1),
    source="definition",
)
SHORT_SIZES = {"sm": "small", "md": "medium", "med": "medium", "lg": "large", "xl": "extra-large"}
SIZES = frozenset({"small", "medium", "large", "extra-large", "jumbo", *SHORT_SIZES})
BOUND_WORDS = {
    "heaping": Bound.HEAPING, "heaped": Bound.HEAPING, "rounded": Bound.ROUNDED, "generous": Bound.GENEROUS,
    "good": Bound.GENEROUS, "big": Bound.HEAPING, "scant": Bound.SCANT, "bare": Bound.SCANT,
    "level": Bound.EXACTLY, "full": Bound.EXACTLY, "whole": Bound.EXACTLY,
}  # fmt: skip
_HANDLING = frozenset({"packed", "sifted"})
_HOW_PACKED = frozenset({"firmly", "lightly", "loosely", "tightly", "well"})
_NOTES = frozenset("fat plump thick thin fresh heavy long short tender young more extra additional".split())
_LARGE = frozenset({"kilogram", "litre", "cup", "pound", "quart", "pint", "gallon", "tablespoon", "teaspoon"})


@frozen(kw_only=False)
class Amount:
    """An amount, the tokens it stands in, and what the words around its unit say."""

    quantity: Quantity | None  # None where the faults say why it cannot be read
    first: int
    end: int
    unit_first: int  # where the unit word begins
    has_unit: bool = True  # False for a bare number
    form: Form = Form.FIGURES  # of the first number
    joined: bool = False  # by a hyphen: "9-inch"
    dotted: bool = False  # its last token is a stop that may end the sentence
    size: str = ""  # small, medium, large
    handling: str = ""  # packed, sifted
    note: str = ""  # another word before the unit: "2 thick slices"
    faults: tuple[Fault, ...] = ()

    @property
    def article(self) -> bool:
        """Whether "a" stands for the number: an amount only by its noun."""
        return self.form is Form.ARTICLE


def term_at(tokens: Tokens, at: int, measures: System) -> Amount | None:
    """The number with its unit that begins at token ``at``; None where none does."""
    number = number_at(tokens, at)
    if number is None and (unit := _bare_unit(tokens, at, measures)):
        return unit
    if number is None:
        return None
    if number.value is None:
        return Amount(None, at, number.end, number.end, has_unit=False, faults=number.faults)
    place, bound = number.end, Bound.EXACTLY
    if tokens[place].text == "+" and tokens[place].glued and not tokens[place + 1].is_number:
        place, bound = place + 1, Bound.AT_LEAST  # 2+ cups
    bound_behind, after = bound_after(tokens, place)
    if after == place and number.value < 1 and number.form is Form.FIGURES:
        after = of_a(tokens, place)  # ½ a tablespoon
    if after > place and unit_at(tokens, after, measures):
        place, bound = after, bound_behind  # 2 or more cups
    if number.about:
        bound = Bound.ABOUT
    number = number if number.end == place else replace(number, end=place)
    return _with_unit(tokens, number, measures, bound)


def _bare_unit(tokens: Tokens, at: int, measures: System) -> Amount | None:
    """``scant teaspoon``: one, where the article was left out after a word that qualifies."""
    if tokens[at].low not in BOUND_WORDS:
        return None
    bound = BOUND_WORDS[tokens[at].low]
    unit_found = unit_at(tokens, at + 1, measures)
    if unit_found is None or unit_found.unit.dimension not in WEIGHED:
        return None
    size = unit_found.unit.size
    quantity = Quantity(
        low=size, high=size, unit=unit_found.unit, written=tokens.between(at, unit_found.end), bound=bound
    )
    return Amount(quantity, at, unit_found.end, unit_found.first, form=Form.WORDS, dotted=unit_found.dotted)


def _with_unit(tokens: Tokens, number: Number, measures: System, bound: Bound) -> Amount:
    assert number.value is not None  # the caller has looked
    halves = _halves(tokens, number, measures)
    value = number.value
    if halves is not None:
        value, number = value / 2, replace(number, value=value / 2, end=halves)
    around, unit_found, joined = _unit_after(tokens, number, measures)
    unit, end = (unit_found.unit, unit_found.end) if unit_found else (ONE, number.end)
    if unit_found:
        part = and_a_part(tokens, end)
        if part:
            value, end = value + part[0], part[1]
    base = unit.to_base(value)
    faults = number.faults
    if unit.dimension is Dimension.COUNT or unit.system is System.VAGUE:
        around = _described(around, unit)
    if unit_found:
        faults += _doubts(tokens, number, unit_found)
    return Amount(
        Quantity(
            low=base,
            high=base,
            unit=unit,
            written=tokens.between(number.first, end),
            bound=around.bound if around.bound is not Bound.EXACTLY else bound,
        ),
        number.first,
        end,
        unit_found.first if unit_found else number.end,
        has_unit=unit_found is not None,
        form=Form.WORDS if around.bound is not Bound.EXACTLY and number.form is Form.ARTICLE else number.form,
        joined=joined,
        dotted=unit_found is not None and unit_found.dotted and end == unit_found.end,
        size=around.size,
        handling=around.handling,
        note=around.note,
        faults=faults,
    )


def _halves(tokens: Tokens, number: Number, measures: System) -> int | None:
    """Where "half-" ends in "3 half-pints", "1 half-pint figs", but not in "two half-pint jars"."""
    if tokens[number.end].low != "half" or number.form is Form.ARTICLE:
        return None
    place = number.end + 1 + (tokens[number.end + 1].text in DASHES)
    unit = unit_at(tokens, place, measures)
    if unit is None:
        return None
    holder = unit_at(tokens, unit.end, measures)
    single = number.value == 1 and not (holder and holder.unit.system is System.CONTAINER)
    return place if single or tokens[unit.end - 1].low.endswith("s") else None


@frozen(kw_only=False)
class _Around:
    """The words between a number and its unit."""

    size: str = ""
    handling: str = ""
    note: str = ""
    bound: Bound = Bound.EXACTLY
    filling: str = ""  # the word that gives the bound: "heaping"


def _described(around: _Around, unit: Unit) -> _Around:
    """The words before what is counted, not filled: "2 big slices", "1 big bunch", "1 generous handful".

    What has no agreed size keeps them in its author's words.
    """
    if around.bound is Bound.EXACTLY:
        return around
    note = around.note if unit.system is System.VAGUE else f"{around.filling} {around.note}".strip()
    return replace(around, bound=Bound.EXACTLY, note=note)


def _unit_after(tokens: Tokens, number: Number, measures: System) -> tuple[_Around, UnitFound | None, bool]:
    """The unit after a number, past a hyphen and past words such as "heaping", "large", "packed"."""
    place = number.end
    joined = tokens[place].text in DASHES and (tokens[place].glued or tokens[place + 1].glued)
    place += joined
    around = _Around()
    while True:
        unit_found = unit_at(tokens, place, measures)
        word = tokens[place].low
        shape = word == "round" and number.value != 1 and tokens[place + 1].kind is TokenKind.WORD
        if unit_found is not None and not shape:  # "24 round wrappers"
            return around, unit_found, joined
        if joined and around == _Around():
            return _Around(), None, False
        if word in BOUND_WORDS:
            around = replace(around, bound=BOUND_WORDS[word], filling=word)
        elif word == "well" and (bound := _after_adverb(tokens, place)):
            place = bound
            around = replace(around, bound=BOUND_WORDS[tokens[place].low], filling=tokens[place].low)
        elif word in _HOW_PACKED and tokens[place + 1].low == "packed":
            place += 1
            around = replace(around, handling=f"{word} packed")
        elif word in _HANDLING:
            around = replace(around, handling=word)
        elif word in _NOTES:
            around = replace(around, note=f"{around.note} {word}".strip())
        elif size := size_at(tokens, place):
            place = size[1] - 1
            around = replace(around, size=size[0])
        else:
            return _Around(), None, False
        place += 1


def _after_adverb(tokens: Tokens, at: int) -> int:
    """Where the word that "well" strengthens stands, as in "well-heaped"; 0 for none."""
    place = at + 1 + (tokens[at + 1].text in DASHES)
    return place if tokens[place].low in BOUND_WORDS else 0


def size_at(tokens: Tokens, at: int) -> tuple[str, int] | None:
    """A size class (large, extra-large, medium-sized) and where it ends."""
    word, end = tokens[at].low, at + 1
    if word in {"extra", "x"} and tokens[at + (2 if tokens[at + 1].text in DASHES else 1)].low == "large":
        word, end = "extra-large", at + (3 if tokens[at + 1].text in DASHES else 2)
    if word not in SIZES:
        return None
    end += word in SHORT_SIZES and tokens[end].text == "."
    dash = tokens[end].text in DASHES and tokens[end].glued
    if tokens[end + dash].low in {"size", "sized"}:
        end += dash + 1
    elif dash and tokens[end + 1].low in SIZES:
        return f"{word}-{tokens[end + 1].low}", end + 2  # medium-large
    return SHORT_SIZES.get(word, word), end


def and_a_part(tokens: Tokens, end: int) -> tuple[Fraction, int] | None:
    """The half of "a pound and a half", "1 cup and one quarter"; no unit or food may follow of its own."""
    if tokens[end].low != "and" or tokens[end + 1].low not in {"a", "one", "an"}:
        return None
    bottom = PARTS.get(tokens[end + 2].low)
    after = tokens[end + 3]
    if bottom is None or (after.kind is TokenKind.WORD and unit_at(tokens, end + 3)):
        return None
    return Fraction(1, bottom), end + 3


def _doubts(tokens: Tokens, number: Number, unit_found: UnitFound) -> tuple[Fault, ...]:
    """What a unit and its number leave open: T for a spoon, a point or a comma that may part thousands."""
    unit = unit_found.unit
    faults: list[Fault] = []
    capital = unit_found.word.word.rstrip(".") == "T" and tokens.text.isupper()  # of a line in capitals
    if unit_found.word.doubtful or capital:
        what, instead = f"“{{}}” is read as {unit.name}", f"“{unit.symbol}”"
        faults.append(
            fault_at(
                tokens, unit_found.first, unit_found.end, "doubtful-unit", what, instead, Severity.WARNING
            )
        )
    if (fault := _or_another(tokens, number, unit_found)) is not None:
        faults.append(fault)
    written = tokens.between(number.first, number.end)
    tail = written.rpartition("." if "." in written else ",")
    thousands = tail[0].isdecimal() and int(tail[0]) and len(tail[2]) == 3
    if thousands and number.value is not None and "." in written and unit.name in {"gram", "millilitre"}:
        faults.append(_may_be(tokens, number, "thousands-point", written.replace(".", "")))
    if thousands and "," in written and unit.name in _LARGE:
        faults.append(_may_be(tokens, number, "thousands-comma", written.replace(",", ".")))
    return tuple(faults)


def _or_another(tokens: Tokens, number: Number, unit_found: UnitFound) -> Fault | None:
    """The fault of a number with two units: "1 tsp or tbsp"; "a pint or quart jar" is any of both."""
    parted = tokens[unit_found.end].low == "or" and number.form is not Form.ARTICLE
    other = unit_at(tokens, unit_found.end + 1) if parted and unit_found.unit.dimension in WEIGHED else None
    if other is None or other.unit is unit_found.unit:
        return None
    if other.unit.dimension is not unit_found.unit.dimension or vessel_at(tokens, other.end) is not None:
        return None
    first, second = (tokens.between(unit.first, unit.end) for unit in (unit_found, other))
    what = f"“{first} or {second}” leaves open which of them is meant"
    instead = f"“{tokens.between(number.first, unit_found.end)}”, if that is meant"
    return fault_at(tokens, number.first, other.end, "doubtful-unit", what, instead)


def _may_be(tokens: Tokens, number: Number, name: str, other: str) -> Fault:
    """The question of a mark that parts thousands in one country and tenths in another."""
    plain = f"{float(number.value or 0):g}"
    what, instead = f"“{{}}” is read as {plain}", f"“{plain}”, or “{other}” if that is meant"
    return fault_at(tokens, number.first, number.end, name, what, instead, Severity.WARNING)
