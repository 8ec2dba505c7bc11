"""The one place where printed terms become words: vulgar fractions, plurals, bounds, no-break spaces.

A list has ``½ cup + 1 tbsp``, a sentence ``½ cup plus 1 tablespoon``, and before a noun it is ``9-inch``. The
words are those of one language (`cardsmith.words`), whose table has each by its American English.
"""

from __future__ import annotations

import enum
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from cardsmith.language.spans import Share
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import SIZED, Dimension, System, Unit, spoken
from cardsmith.rewrite.printed import DEGREES, Printed, Term, Terms
from cardsmith.words import FIRST, FixedWords, fixed_words

NO_BREAK = "\u00a0"
ENGLISH = fixed_words(FIRST)  # in which a card is read back and judged
VULGAR = {
    Fraction(1, 8): "⅛",
    Fraction(1, 4): "¼",
    Fraction(1, 3): "⅓",
    Fraction(3, 8): "⅜",
    Fraction(1, 2): "½",
    Fraction(5, 8): "⅝",
    Fraction(2, 3): "⅔",
    Fraction(3, 4): "¾",
    Fraction(7, 8): "⅞",
}
MARKED = frozenset({1, 2, 3, 4, 8, 16, 32})  # parts that spoons, scales and rules are marked in
SPELLED = frozenset(
    {Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH}
)  # US units that a sentence spells out
BARE = frozenset({"one", SIZED})  # counts that need no word: the food's name follows
READ = DEGREES | {Dimension.PRESSURE}  # off an instrument, in decimals
LONG_WAY = frozenset({"foot", "metre"})  # thousands of these are parted
SPOONED = frozenset({"teaspoon", "tablespoon", "cup"})  # of which no label has decimals
HELD = 9  # letters in brackets that stand on one line
BOUNDS = {
    Bound.EXACTLY: "",
    Bound.ABOUT: "about",
    Bound.AT_LEAST: "at least",
    Bound.AT_MOST: "up to",
    Bound.SCANT: "scant",
    Bound.GENEROUS: "generous",
    Bound.ROUNDED: "rounded",
    Bound.HEAPING: "heaping",
}
WEIGHED_BOUNDS = {
    Bound.SCANT: "just under",
    Bound.GENEROUS: "just over",
    Bound.ROUNDED: "more than",
    Bound.HEAPING: "more than",
}
SHARES = {Share.EACH: "{size} each", Share.ALL: "{size} in all"}


@enum.unique
class Style(enum.Enum):
    """Where a measure stands."""

    LIST = enum.auto()
    SENTENCE = enum.auto()
    BEFORE_NOUN = enum.auto()


def short(printed: Printed, say: FixedWords = ENGLISH) -> str:
    """As in a list: ``½ cup + 1 tbsp``, ``2 (14-ounce) cans``, ``4 (6 oz each)``."""
    return _whole(printed, Style.LIST, say)


def long(printed: Printed, style: Style = Style.SENTENCE, say: FixedWords = ENGLISH) -> str:
    """As in a sentence: ``½ cup plus 1 tablespoon``; before a noun ``9-by-13-inch``."""
    return _whole(printed, style, say)


def in_a_line(item: str, *columns: Printed, sized: bool = False, say: FixedWords = ENGLISH) -> str:
    """A line of a list in running text, its columns in the order of the house.

    ``1⅔ cups (200 g) flour``; a count is said once, before what is counted, and its weight behind it: ``4
    fillets haddock (1½ lb / 700 g in all)``. ``sized``: the item is of a size that is sold (large eggs), so
    that nobody takes the weight of all for that of one.
    """
    first, *others = columns
    if any((first.low, first.high) != (other.low, other.high) for other in others):
        return f"{short(first, say)} ({', '.join(short(other, say) for other in others)}) {item}"
    beside = tuple(dict.fromkeys(size for column in columns for size in column.beside))
    if first.is_container:
        return f"{short(replace(first, beside=beside), say)} {item}"
    counted = replace(first, beside=())
    if sized:
        beside = tuple(
            replace(printed, share=None if printed.share is Share.ALL else printed.share)
            for printed in beside
        )
    return f"{short(counted, say)} {item}{_brackets(replace(first, beside=beside), say)}"


def bound_text(printed: Printed, say: FixedWords = ENGLISH) -> str:
    """``about`` and the like, with a space after it; a limit of temperature is *at most* that.

    What is scant, generous or heaping was filled by hand; a weight is under, over or more than that.
    """
    if printed.bound is Bound.AT_MOST and printed.dimension in DEGREES:
        return f"{say('at most')} "
    weighed = printed.dimension is Dimension.MASS
    word = (WEIGHED_BOUNDS if weighed else BOUNDS).get(printed.bound, BOUNDS[printed.bound])
    return f"{say(word)} " if word else ""


def figure(printed: Printed, say: FixedWords = ENGLISH) -> tuple[str, str]:
    """The short form as its first number and the rest, so that a column can align on the figure."""
    return _figure(*_parts(printed, Style.LIST, say))


def figures(printed: Printed, say: FixedWords = ENGLISH) -> tuple[tuple[str, str], ...]:
    """`figure`, and what stands in brackets behind it likewise: ``4``, ``cloves``; ``(14``, ``g in all)``.

    The words are those of `figure`, for two lines; one pair where nothing stands there, or no figure first.
    No line ends in brackets.
    """
    size = printed.beside[0] if printed.beside else None
    if size is None or size.words or size.bound is not Bound.EXACTLY:
        return (figure(printed, say),)
    if printed.is_container or printed.across:
        return (figure(printed, say),)
    lead = f"({_parts(size, Style.LIST, say)[0]}"
    rest = _brackets(printed, say).removeprefix(f" {lead}").replace(" ", NO_BREAK)
    return figure(replace(printed, beside=()), say), _figure(lead, rest)


def _figure(number: str, rest: str) -> tuple[str, str]:
    return number, rest.lstrip(f" {NO_BREAK}")


def begins_with_vowel(printed: Printed) -> bool:
    """Whether the number is said with a vowel first: eight, eighty, eleven, eighteen."""
    whole = int(printed.low[0].number)
    return printed.bound is Bound.EXACTLY and (str(whole)[0] == "8" or whole in {11, 18})


@lru_cache(maxsize=4096)
def fraction_text(number: Fraction) -> str:
    """``1½`` for 3/2; a fraction without a character of its own is set with U+2044: ``1⁄16``."""
    whole, part = divmod(number, 1)
    if not part:
        return str(whole)
    glyph = VULGAR.get(part)
    if glyph:
        return f"{whole or ''}{glyph}"
    written = f"{part.numerator}\u2044{part.denominator}"
    return f"{whole}\u2009{written}" if whole else written


@lru_cache(maxsize=4096)
def decimal_text(number: Fraction) -> str:
    """``2.5`` for 5/2. The number must have a finite decimal form, as every rung of a ladder has."""
    scaled = number
    places = 0
    while scaled.denominator != 1 and places < 9:
        scaled, places = scaled * 10, places + 1
    if scaled.denominator != 1:
        raise ValueError(f"{number} has no short decimal form")
    text = str(abs(scaled.numerator)).rjust(places + 1, "0")
    sign = "\u2212" if number < 0 else ""
    return sign + (f"{text[:-places]}.{text[-places:]}" if places else text)


def _number(term: Term, say: FixedWords) -> str:
    """Decimals for metric units and for parts that no tool is marked in, fractions for all else."""
    unit, number = term.unit, term.number
    if unit.name in LONG_WAY and number.denominator == 1 and number >= 1000:
        return say.number(f"{number.numerator:,}")
    decimal = unit.system is System.METRIC or unit.dimension in READ or number.denominator not in MARKED
    return say.number(decimal_text(number)) if decimal and _is_finite(number) else fraction_text(number)


def _is_finite(number: Fraction) -> bool:
    """Whether a number has a short decimal form."""
    return 10**9 % number.denominator == 0


def _unit(term: Term, style: Style, say: FixedWords) -> str:
    """The unit's word after its number: one and less takes the singular, ``½ cup``."""
    return term.word or say.heading(_english_unit(term, style))


def _english_unit(term: Term, style: Style) -> str:
    unit = spoken(term.unit)
    if unit.system is System.METRIC and unit.dimension is not Dimension.COUNT:
        return unit.symbol
    many = term.number > 1
    if unit.dimension is Dimension.COUNT:
        return "" if unit.name in BARE else unit.plural if many else unit.symbol
    many = many and style is not Style.BEFORE_NOUN
    if unit.name == "cup":
        return unit.plural if many else unit.name
    if unit.dimension not in SPELLED or style is Style.LIST:
        return unit.symbol
    return unit.plural if many else unit.name


def _after(term: Term, style: Style, say: FixedWords) -> str:
    """What follows the number of a term."""
    unit = _unit(term, style, say)
    return f"{NO_BREAK}{unit}" if unit else ""


def _sum(terms: Terms, style: Style, say: FixedWords) -> str:
    """What follows the first number of a sum: `` cup + 1 tbsp``."""
    text = _after(terms[0], style, say)
    pounds_and_ounces = [term.unit.name for term in terms] == ["pound", "ounce"]
    joint = " " if pounds_and_ounces else f"{NO_BREAK}+ " if style is Style.LIST else f" {say('plus')} "
    for term in terms[1:]:
        more = replace(term, number=abs(term.number))
        text += joint if term.number > 0 else f" {say('minus')} "
        text += f"{_number(more, say)}{_after(more, style, say)}"
    return text


def _range(printed: Printed, style: Style, say: FixedWords) -> str:
    """What follows the first number of a range: its unit is said once where both ends have the same."""
    low, high = printed.low, printed.high
    joint = say("and" if printed.between else "to")
    ends = f" {joint} {_number(high[0], say)}{_sum(high, style, say)}"
    same = len(low) == len(high) == 1 and _unit_of(low[0]) == _unit_of(high[0])
    return ends if same else f"{_sum(low, style, say)}{ends}"


def _unit_of(term: Term) -> tuple[Unit, str]:
    return term.unit, term.word


def _whole(printed: Printed, style: Style, say: FixedWords) -> str:
    return "".join(_parts(printed, style, say))


def _parts(printed: Printed, style: Style, say: FixedWords) -> tuple[str, str]:
    """The first number with its bound, and all that follows it."""
    if printed.words:
        return "", bound_text(printed, say) + printed.words + _brackets(printed, say)
    lead = bound_text(printed, say) + (f"{say(printed.fan_word)} " if printed.fan else "")
    number = lead + _number(printed.low[0], say)
    if style is Style.BEFORE_NOUN and printed.low[0].unit.system is System.US:
        if len(printed.low) == 1 and len(printed.high) == 1:
            return number, _hyphened(printed, say)
        style = Style.SENTENCE
    if printed.is_container:
        return number, _container(printed, say)
    if printed.across:
        return number, _edges(printed, style, say)
    if printed.is_range:
        return number, _range(printed, style, say) + _brackets(printed, say)
    return number, _sum(printed.low, style, say) + _brackets(printed, say) + _settings(printed, say)


def _hyphened(printed: Printed, say: FixedWords) -> str:
    """What follows the first number before a noun: ``-inch``, ``- to 3-inch``, ``-by-13-inch``."""
    ends = (_unit(end[0], Style.BEFORE_NOUN, say) for end in (printed.low, printed.high))
    low, high = (end.replace(" ", "-") for end in ends)
    if printed.is_range:
        return f"-{low if low != high else ''} {say('to')} {_number(printed.high[0], say)}-{high}"
    edges = (f"-{say('by')}-{_number(other.low[0], say)}" for other in printed.across)
    return "".join(edges) + f"-{high}"


def _edges(printed: Printed, style: Style, say: FixedWords) -> str:
    """What follows the first number of a size with several edges: `` by 13 inches``."""
    edges = (printed, *printed.across)
    joint = " × " if printed.low[0].unit.system is System.METRIC else f" {say('by')} "
    once = len({edge.low[0].unit for edge in edges}) == 1 and not any(edge.is_range for edge in edges)
    units = ["" if once and edge is not edges[-1] else _range_or_sum(edge, style, say) for edge in edges]
    numbers = ["", *(_number(edge.low[0], say) for edge in edges[1:])]
    return joint.join(f"{number}{unit}" for number, unit in zip(numbers, units, strict=True))


def _range_or_sum(printed: Printed, style: Style, say: FixedWords) -> str:
    return _range(printed, style, say) if printed.is_range else _sum(printed.low, style, say)


def _container(printed: Printed, say: FixedWords) -> str:
    """What follows the number of cans: `` (14-ounce) cans``."""
    count = f" {say('to')} {_number(printed.high[0], say)}" if printed.is_range else ""
    sizes = " / ".join(_can(other, say) for other in printed.beside)
    return f"{count} ({sizes}) {_unit(printed.high[0], Style.LIST, say)}"


def _can(size: Printed, say: FixedWords) -> str:
    """The size of one can as its label has it: 14.5-ounce, ¼-ounce."""
    if size.low[0].unit.system is not System.US:
        return _whole(size, Style.LIST, say)
    numbers = [terms[0].number for terms in (size.low, size.high)]  # of labels, which have no thirds
    spooned = size.low[0].unit.name in SPOONED
    ends = [
        fraction_text(number)
        if (spooned or number < 1) and number.denominator in MARKED
        else say.number(decimal_text(number))
        for number in numbers
    ]
    unit = _unit(size.high[0], Style.BEFORE_NOUN, say).replace(" ", "-")
    return bound_text(size, say) + f"- {say('to')} ".join(dict.fromkeys(ends)) + f"-{unit}"


def _brackets(printed: Printed, say: FixedWords) -> str:
    """What stands beside a count, and whether it is of each or of all; one piece needs no word."""
    if not printed.beside:
        return ""
    share = printed.beside[-1].share if printed.high[0].number > 1 else None
    size = " / ".join(_whole(other, Style.LIST, say) for other in printed.beside)
    held = size.replace(" ", NO_BREAK) if len(size) <= HELD else size
    return f" ({say(SHARES[share], size=held) if share else held})"


def _settings(printed: Printed, say: FixedWords) -> str:
    return f", {settings_text(printed, say)}" if printed.settings else ""


def settings_text(printed: Printed, say: FixedWords = ENGLISH) -> str:
    """The other settings of an oven: ``fan 160 °C, gas 4``."""
    return ", ".join(
        f"{say('gas')} {fraction_text(setting.low[0].number)}"
        if setting.low[0].unit.system is System.GAS
        else _whole(setting, Style.SENTENCE, say)
        for setting in printed.settings
    )


def unbound(printed: Printed) -> Printed:
    """The same without its bound, which stands before both systems of a sentence once."""
    return replace(printed, bound=Bound.EXACTLY) if printed.bound is not Bound.EXACTLY else printed
