"""A small strict reader of printed amounts, written from how cookbooks print and from nothing else.

`readings(text)` finds every figure of a text with what it measures, in order: "9-by-13-inch (23 × 33 cm)",
"½ cup + 1 tbsp", "4 (6 oz each)", "350 °F (175 °C)", "an hour and a half", "half a dozen". A reader of its
own keeps the measure of the printed page apart from the reader under measure. What it can't place stays in
the words left over (`words_between`), so that a strict caller may say that it cannot read.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from tests.printed.printed_tokens import NUMBER, SPELT_OUT, Token, number, tokens, unit_at

End = tuple[Fraction, Fraction]
LENGTHS = ("inch", "centimetre", "millimetre")
SCALES = ("celsius", "fahrenheit")
JOINTS = ("plus", "minus", "times", "slash", "or", "and", "comma", "to", "of")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A figure of a text with its unit; `sides` holds the ends of each side, of which most have one.

    `join` says how it hangs on the reading before it: plus, minus, times, slash, or; `of` is each, all, or
    empty where the text doesn't say. `depth` counts brackets, `start` and `end` are places in the text.
    """

    sides: tuple[End, ...]
    unit: str = ""
    high_unit: str = ""
    of: str = ""
    bound: str = "exactly"
    join: str = ""
    depth: int = 0
    fan: bool = False
    article: bool = False  # "a cup", "per pound": one, without a figure
    start: int = 0
    end: int = 0

    @property
    def low(self) -> Fraction:
        return self.sides[0][0]

    @property
    def high(self) -> Fraction:
        return self.sides[0][1]


class _Walk:
    """One walk through the tokens; `place` is the token to be read next."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = tokens(text)
        self.place = 0
        self.found: list[Reading] = []
        self.left: list[str] = []
        self.depth = 0
        self.bound, self.join = "exactly", ""
        self.between = self.each = self.gas = False

    def hung(self, reading: Reading) -> Reading:
        """A reading with what the words before it say of it; they are used up."""
        bound = self.bound if reading.bound == "exactly" else reading.bound
        of = reading.of or ("each" if self.each else "")
        made = replace(reading, depth=self.depth, join=self.join, of=of, bound=bound)
        self.bound, self.join, self.each, self.gas = "exactly", "", False, False
        return made

    def kind(self, ahead: int = 0) -> str:
        place = self.place + ahead
        return self.tokens[place].kind if 0 <= place < len(self.tokens) else ""

    def take(self) -> Token:
        self.place += 1
        return self.tokens[self.place - 1]

    def text_here(self) -> str:
        return self.tokens[self.place].text if self.kind() else ""

    def skip_to(self, end: int) -> None:
        """Pass over every token that begins before a place of the text."""
        while self.kind() and self.tokens[self.place].start < end:
            self.place += 1


def readings(text: str) -> tuple[Reading, ...]:
    """Every figure of the text, in order, with what it measures."""
    return _walked(text)[0]


def words_between(text: str) -> tuple[str, ...]:
    """The words and signs that are no part of an amount."""
    return _walked(text)[1]


def _walked(text: str) -> tuple[tuple[Reading, ...], tuple[str, ...]]:
    walk = _Walk(text)
    while walk.place < len(walk.tokens):
        kind = walk.kind()
        if kind == "number" or (kind == "article" and walk.kind(1) == "unit"):
            reading = _quantity(walk, between=walk.between, gas=walk.gas, negative=_negative(walk))
            walk.found.append(walk.hung(reading))
        else:
            _passed(walk, walk.take())
    return tuple(_fans(walk.found)), tuple(walk.left)


def _passed(walk: _Walk, token: Token) -> None:
    """What a word or sign says of the figure before it, or of the one to come."""
    kind, last = token.kind, walk.found[-1] if walk.found else None
    if kind in ("open", "close"):
        walk.depth = max(0, walk.depth + (1 if kind == "open" else -1))
    elif kind == "bound":
        walk.bound = token.name
        _unfigured(walk, token)
    elif kind in ("between", "gas"):
        walk.between, walk.gas = walk.between or kind == "between", kind == "gas"
    elif kind in ("each", "all"):
        _shared(walk, token)
    elif kind == "fan" and walk.kind() == "number":
        walk.join = "fan"
    elif kind == "fan" and last and last.unit in SCALES and token.start - last.end < 3:
        walk.found[-1] = replace(last, fan=True)
    elif kind == "after" and last:
        walk.found[-1] = replace(last, bound=token.name)
    elif kind in JOINTS:
        walk.join = kind
    elif kind == "word":
        walk.join = ""
        walk.left.append(token.text)
        if token.text != ".":
            walk.bound, walk.between = "exactly", False


def _unfigured(walk: _Walk, token: Token) -> None:
    """A measure without a figure: a scant cup."""
    measure = unit_at(walk.text, token.end + 1) if token.name in ("scant", "heaping") else None
    if measure and measure[0] in SPELT_OUT:
        one = (Fraction(1), Fraction(1))
        reading = Reading(sides=(one,), unit=measure[0], start=token.start, end=measure[1])
        walk.skip_to(measure[1])
        walk.found.append(walk.hung(reading))


def _shared(walk: _Walk, token: Token) -> None:
    """What "each" and "in all" belong to: the figure before, or the one after."""
    if walk.found and _near(walk, walk.found[-1], token):
        walk.found[-1] = replace(walk.found[-1], of=token.kind)
    elif token.kind == "each" and walk.kind() in ("number", "bound"):
        walk.each = True
    else:
        walk.left.append(token.text)


def _near(walk: _Walk, last: Reading, token: Token) -> bool:
    """Whether nothing but words of the same bracket stands between a reading and "each" or "in all"."""
    return not re.search(r"[()\[\].;]|,", walk.text[last.end : token.start]) and token.start - last.end < 30


def _fans(found: list[Reading]) -> list[Reading]:
    return [
        replace(each, fan=True, join="")
        if each.join == "fan" and each.unit in ("celsius", "fahrenheit")
        else each
        for each in found
    ]


def _negative(walk: _Walk) -> bool:
    """Whether the dash or word before the figure makes it negative: it touches it and joins nothing."""
    if walk.place == 0:
        return False
    before, token = walk.tokens[walk.place - 1], walk.tokens[walk.place]
    if before.kind == "minus" and before.text.lower() == "minus":
        unit = unit_at(walk.text, token.end + (walk.text[token.end : token.end + 1] == " "))
        return (
            walk.place < 2
            or walk.kind(-2) not in ("number", "unit")
            or (unit is not None and unit[0] in ("celsius", "fahrenheit"))
        )
    if before.kind != "dash" or before.end != token.start:
        return False
    if walk.place >= 2 and walk.tokens[walk.place - 2].end == before.start and walk.kind(-2) != "open":
        return False
    return walk.place < 2 or walk.kind(-2) not in ("number", "unit") or before.text == "−"


def _ranged(walk: _Walk, first: Token, *, between: bool) -> bool:
    """Whether the next tokens go on to the high end of a range, and take the word or dash if they do."""
    ahead = walk.kind()
    if ahead == "dash" and walk.kind(1) == "to":  # 8- to 10-ounce
        walk.take()
        ahead = "to"
    fits = ahead in ("dash", "to") or (between and ahead == "and")
    pages = re.search(r"\b(?:steps|pages|pp\.) $", walk.text[: first.start], re.I)
    fits = fits or (ahead == "or" and walk.kind(-1) == "number") or bool(ahead == "and" and pages)
    if not fits:
        return False
    dash = walk.tokens[walk.place]
    if (
        ahead == "to"
        and walk.kind(1) == "dash"
        and walk.tokens[walk.place + 1].start == dash.end
        and walk.kind(2) == "number"
    ):
        walk.take()  # ⅛-to-¼-inch
        walk.take()
        return True
    signed = walk.kind(1) in ("dash", "minus") and walk.kind(2) == "number"
    if walk.kind(1) != "number" and not signed and walk.kind(1) != "article":
        return False
    following = walk.tokens[walk.place + (2 if signed else 1)]
    if ahead == "or" and following.value <= first.value:
        return False
    if ahead == "dash" and dash.text == "−":
        return False
    if walk.kind(1) == "article" and walk.kind(2) != "unit":
        return False
    walk.take()
    if signed:
        walk.take()
    return True


def _ending(walk: _Walk) -> Token | None:
    """The unit behind a figure, after "of a" or a word for the heap if there is one."""
    if walk.kind() == "of" and walk.kind(1) == "unit":
        walk.take()
    if walk.kind() == "of":
        after = walk.tokens[walk.place]
        unit = unit_at(walk.text, after.end + 1)
        if unit is not None:
            walk.take()
            while walk.kind() and walk.tokens[walk.place].start < unit[1]:
                walk.take()
            return Token(kind="unit", text=unit[0], name=unit[0], start=after.end + 1, end=unit[1])
    return walk.take() if walk.kind() == "unit" else None


def _quantity(walk: _Walk, *, between: bool, gas: bool, negative: bool) -> Reading:
    """One figure with its unit, its other end and its other sides."""
    first = walk.take()
    start, low, bound = first.start, -first.value if negative else first.value, "exactly"
    if walk.text_here() == "+" and walk.kind() == "after" and walk.kind(1) not in ("", "close"):
        walk.take()
        bound = "at least"
    worded = _with_words(walk, low, start)
    if worded is not None:
        return worded
    ending = _ending(walk)
    unit, end = (ending.name, ending.end) if ending else ("", first.end)
    if unit and walk.kind() == "and":  # an hour and a half
        half = NUMBER.match(walk.text, walk.tokens[walk.place].end + 1)
        if half and half.groupdict()["part"] and low == 1:
            walk.take()
            walk.take()
            return Reading(sides=((low + number(half),) * 2,), unit=unit, start=start, end=half.end())
    if unit == "dozen":
        return Reading(sides=((low * 12,) * 2,), start=start, end=end)
    if unit == "hour":
        low, unit, end = _clocked(walk, low, end)
    high, high_unit = low, ""
    if _ranged(walk, first, between=between):
        high, last_unit, end = _high_end(walk)
        if unit in ("", "degree"):
            unit = last_unit or unit
        elif last_unit:
            high_unit = last_unit
    sides, unit, end = _sides(walk, (low, high), unit, end)
    return Reading(
        sides=sides, unit="gas mark" if gas and not unit else unit, high_unit=high_unit, bound=bound,
        article=first.kind == "article", start=start, end=end,
    )  # fmt: skip


def _with_words(walk: _Walk, low: Fraction, start: int) -> Reading | None:
    """A figure and its unit with a word between: 2 heaping tbsp, 1 level tsp, 2 or more cups."""
    text, kind = walk.text_here(), walk.kind()
    name = walk.tokens[walk.place].name if kind else ""
    heap = kind == "bound" and name in ("heaping", "scant")
    if not heap and text not in ("level", "whole", "or more"):
        return None
    unit = unit_at(walk.text, walk.tokens[walk.place].end + 1)
    if unit is None:
        return None
    walk.skip_to(unit[1])
    bound = name if heap else "at least" if text == "or more" else "exactly"
    return Reading(sides=((low, low),), unit=unit[0], bound=bound, start=start, end=unit[1])


def _high_end(walk: _Walk) -> tuple[Fraction, str, int]:
    """The high end of a range behind its dash or word, with its unit and where it ends."""
    sign = walk.tokens[walk.place - 1]
    glued = walk.kind(-2) == "to" and walk.tokens[walk.place - 2].end == sign.start
    minus = not glued and sign.kind in ("dash", "minus") and walk.kind(-2) in ("to", "and", "dash")
    last = walk.take()
    high = -last.value if minus else last.value
    ending = _ending(walk)
    if ending is None:
        return high, "", last.end
    if ending.name == "hour":
        return _clocked(walk, high, ending.end)
    return high, ending.name, ending.end


def _sides(walk: _Walk, first: End, unit: str, end: int) -> tuple[tuple[End, ...], str, int]:
    """The sides of a size: 9-by-13-inch, 23 × 33 cm."""
    sides = [first]
    while walk.kind() == "times" or (walk.kind() == "dash" and walk.kind(1) == "times"):
        mark = walk.place
        while walk.kind() in ("times", "dash"):
            walk.take()
        if walk.kind() != "number":
            walk.place = mark
            break
        side = walk.take()
        ending = _ending(walk)
        name = ending.name if ending else ""
        tins_of_grams = name not in ("", *LENGTHS) and not unit
        tins_of_inches = name in LENGTHS and first[0] <= 4 and side.value > 3 * first[0]
        if tins_of_grams or tins_of_inches:  # 2 × 400 g is a count, then a size
            walk.place = mark
            break
        sides.append((side.value, side.value))
        unit, end = unit or name, ending.end if ending else side.end
    return tuple(sides), unit, end


def _clocked(walk: _Walk, hours: Fraction, end: int) -> tuple[Fraction, str, int]:
    """Hours with the minutes behind them, in minutes; hours alone stay hours."""
    mark = walk.place
    if walk.kind() in ("and", "comma") and walk.kind(1) == "number":
        walk.take()
    if walk.kind() == "number" and walk.tokens[walk.place].value < 60:
        minutes = walk.take()
        if walk.kind() == "unit" and walk.tokens[walk.place].name in ("minute", "metre"):
            return hours * 60 + minutes.value, "minute", walk.take().end
        glued = mark == walk.place - 1 and walk.kind() != "unit"
        if glued and minutes.value.denominator == 1 and minutes.value >= 5:
            return hours * 60 + minutes.value, "minute", minutes.end
    walk.place = mark
    return hours, "hour", end
