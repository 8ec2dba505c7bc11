"""A small strict reader of printed amounts, written from how cookbooks print and from nothing else.

`readings(text)` finds every figure of a text with what it measures, in order: "9-by-13-inch (23 × 33 cm)",
"½ cup + 1 tbsp", "4 (6 oz each)", "350 °F (175 °C)", "an hour and a half", "half a dozen". A reader of its own
keeps the measure of the printed page apart from the reader under measure. What it can't place stays in the
words left over (`words_between`), so that a strict caller may say that it cannot read.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

End = tuple[Fraction, Fraction]

GLYPHS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅙": "1/6", "⅚": "5/6", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
}  # fmt: skip
ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
).split()
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
SMALL = {word: value for value, word in enumerate(ONES)} | {
    word: 20 + 10 * place for place, word in enumerate(TENS)
}
PARTS = {
    "half": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4,
    "eighth": 8, "eighths": 8,
}  # fmt: skip

# Unit by its spellings. The spellings that are also common words stand behind a figure only.
MEASURES = {
    "gram": r"g|gms?|grams?|grammes?", "kilogram": r"kgs?|kilos?|kilograms?", "milligram": r"mg",
    "fluid ounce": r"fl\.?\ ?oz\.?|fluid[\ -]ounces?",
    "pound per square inch": r"psi|pounds?\ per\ square\ inch|lbs?\.?\ per\ sq\.?\ in\.?"
                             r"|(?:pounds?|lbs?\.?)\ (?:of\ )?pressure",
    "kilopascal": r"kpa", "bar": r"bar",
    "ounce": r"ozs?\.?|ounces?", "pound": r"lbs?\.?|pounds?",
    "millilitre": r"mls?\.?|millilit(?:er|re)s?", "centilitre": r"cls?|centilit(?:er|re)s?",
    "decilitre": r"dls?|decilit(?:er|re)s?", "litre": r"l|ltrs?|lit(?:er|re)s?",
    "teaspoon": r"tsps?\.?|teasp\.?|teaspoon(?:ful)?s?", "tablespoon": r"tbsps?\.?|tbs?\.?|tablesp\.?|tablespoon(?:ful)?s?",
    "cup": r"(?-i:c\.)|cup(?:ful)?s?", "pint": r"pints?|pt\.?", "quart": r"quarts?|qts?\.?", "gallon": r"gallons?|gal\.?",
    "gill": r"gills?",
    "millimetre": r"mm|millimet(?:er|re)s?", "centimetre": r"cms?|centimet(?:er|re)s?",
    "foot": r"ft\.?|feet|foot",
    "inch": r"inch(?:es)?|in\.|in(?!\ +(?:the|an?|all|total|its|your|one|each|this|it|two|three|four|\d)\b)|[\"″]",
    "minute": r"minutes?|mins?\.?", "second": r"seconds?|secs?\.?|s", "hour": r"hours?|hrs?\.?|h(?=\d)|h",
    "day": r"days?", "week": r"weeks?", "month": r"months?", "year": r"years?",
    "metre": r"met(?:er|re)s?|m",
    "watt": r"watts?|w", "percent": r"%|per\ ?cent",
    "celsius": r"[°˚º]\ ?c|℃|deg(?:rees?|\.)?\ (?:c|celsius)|celsius|c",
    "fahrenheit": r"[°˚º]\ ?f|℉|deg(?:rees?|\.)?\ (?:f|fahrenheit)|fahrenheit|f",
    "degree": r"[°˚º]|deg(?:rees?|\.)?",
    "dozen": r"dozen",
}  # fmt: skip
UNITS = {
    name: re.compile(rf"(?:{spelt})(?:(?![\w%])|(?<=h)(?=\d))", re.I | re.X)
    for name, spelt in MEASURES.items()
}
SPELT_OUT = (
    "hour",
    "minute",
    "cup",
    "litre",
    "teaspoon",
    "tablespoon",
    "pound",
    "pint",
    "day",
    "week",
    "month",
)

SPACE = r"[ \u00a0\u2009\u202f\t]"
WORD_NUMBER = (
    rf"(?:(?:a|{'|'.join(ONES[1:])})\ hundred(?:(?:\ and)?\ (?:(?:{'|'.join(TENS)})(?:-(?:{'|'.join(ONES[1:10])}))?"
    rf"|{'|'.join(sorted(ONES, key=len, reverse=True))}))?"
    rf"|(?:{'|'.join(TENS)})(?:-(?:{'|'.join(ONES[1:10])}))?|{'|'.join(sorted(ONES, key=len, reverse=True))})"
)
PART_WORD = "|".join(sorted(PARTS, key=len, reverse=True))
NUMBER = re.compile(
    rf"""(?P<both>half[ -]and[ -]half\b)
    | \b(?P<dozens>(?:half[ -]a|a[ ]half|a)[ -]dozen)\b
    | (?P<mixed>\d+(?:{SPACE}|-|\ and\ )?)(?P<glyph>[{"".join(GLYPHS)}])
    | (?P<bare>[{"".join(GLYPHS)}])
    | (?P<whole>\d+)(?:{SPACE}|-|\ and\ )(?P<over>\d{{1,2}}[/⁄]\d{{1,2}})(?![\d/])
    | (?P<slashed>\d{{1,2}}[/⁄]\d{{1,2}})(?![\d/])
    | (?P<figure>\d{{1,3}}(?:,\d{{3}})+(?!\d)|\d+[.,]\d+|\d+)
    | \b(?P<wordsand>{WORD_NUMBER})\ and\ (?:an?\ |one-|one\ )?(?P<andpart>half|quarter|third)\b
    | \b(?P<wordsmany>{WORD_NUMBER})\ and\ (?P<manytop>two|three)[ -](?P<manypart>thirds|quarters|fourths)\b
    | \b(?P<top>an?|one|two|three|\d)[ -](?P<part>{PART_WORD})\b(?![ -]and[ -]half\b)
    | \b(?P<words>{WORD_NUMBER})\b
    | \b(?P<twice>twice)\b
    | \b(?P<half>half)\b
    """,
    re.X | re.I,
)
BOUNDS = {
    "about": r"about|approx(?:\.|imately)?|roughly|around|~|≈|c\.(?=\ ?\d)|circa|nearly|almost",
    "at most": r"up\ to|no\ more\ than|not\ more\ than|at\ most|maximum|less\ than|under|within|below|max\.?|no\ longer\ than",
    "at least": r"at\ least|no\ less\ than|not\ less\ than|(?:a\ )?minimum(?:\ of)?|min\.(?=\ \d)|more\ than|above|over",
    "scant": r"(?:a\ )?scant|bare(?=\ )|just\ under|(?:a\ )?short(?=\ \d)",
    "heaping": r"(?:a\ )?heap(?:ing|ed)|(?:a\ )?generous|(?:a\ )?rounded|a\ good(?=\ )",
}  # fmt: skip
AFTER = {
    "about": r"or\ so|approx\.?(?:imately)?",
    "at least": r"(?<=[\d½¼¾⅓⅔])\+(?=\ )|or\ (?:more|above|higher|longer|over|hotter)|minimum|and\ up",
    "at most": r"or\ (?:less|below|colder|lower|under|fewer)|maximum",
}
LEXER: list[tuple[str, str, re.Pattern[str]]] = [
    *(("after", name, re.compile(rf"(?:{words})(?!\w)", re.I | re.X)) for name, words in AFTER.items()),
    *(("bound", name, re.compile(rf"(?:{words})(?!\w)", re.I | re.X)) for name, words in BOUNDS.items()),
    ("between", "", re.compile(r"between\b", re.I)),
    ("each", "", re.compile(r"each\b|apiece\b", re.I)),
    ("all", "", re.compile(r"(?:in\ (?:all|total)|total|altogether)\b", re.I | re.X)),
    ("fan", "", re.compile(r"fan(?:[- ]forced)?\b|convection\b", re.I)),
    ("gas", "", re.compile(r"gas(?:\ mark)?\ (?=[\d¼½])", re.I | re.X)),
    ("times", "", re.compile(r"[×x](?=\ ?[\d¼½⅓])|by(?=[- ]\d)", re.I | re.X)),
    ("plus", "", re.compile(r"plus\b|\+|&")),
    ("minus", "", re.compile(r"(?:minus|less)\b", re.I)),
    ("to", "", re.compile(r"to\b", re.I)),
    ("or", "", re.compile(r"or\b", re.I)),
    ("and", "", re.compile(r"and\b", re.I)),
    ("dash", "", re.compile(r"[-–—‑−‐]")),
    ("slash", "", re.compile(r"/")),
    ("open", "", re.compile(r"[(\[]")),
    ("close", "", re.compile(r"[)\]]")),
    ("comma", "", re.compile(r"[,;:]")),
    ("word", "", re.compile(r"[^\W\d_]+(?:['’.-][^\W\d_]+)*|\S")),
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A figure of a text with its unit; `sides` holds the ends of each side, of which most have one.

    `join` says how it hangs on the reading before it: plus, minus, times, slash, or; `of` is each, all, or empty
    where the text doesn't say. `depth` counts brackets, `start` and `end` are places in the text.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    kind: str
    text: str
    name: str = ""
    value: Fraction = Fraction(0)
    start: int = 0
    end: int = 0


def worded(text: str) -> Fraction:
    """The value of a whole number in words."""
    total = Fraction(0)
    for word in re.split(r"[ -]", text.lower()):
        if word == "hundred":
            total *= 100
        elif word != "and":
            total += 1 if word == "a" else SMALL[word]
    return total


def number(match: re.Match[str]) -> Fraction:
    """The value of one match of `NUMBER`."""
    found = {name: text for name, text in match.groupdict().items() if text is not None}
    if "both" in found or "half" in found:
        return Fraction(1, 2)
    if "dozens" in found:
        return Fraction(6 if "half" in found["dozens"].lower() else 12)
    if "twice" in found:
        return Fraction(2)
    if "glyph" in found:
        return Fraction(re.sub(r"\D", "", found["mixed"])) + Fraction(GLYPHS[found["glyph"]])
    if "bare" in found:
        return Fraction(GLYPHS[found["bare"]])
    if "over" in found:
        return Fraction(found["whole"]) + _over(found["over"])
    if "slashed" in found:
        return _over(found["slashed"])
    if "figure" in found:
        text = found["figure"]
        if re.fullmatch(r"\d{1,3}(?:,\d{3})+", text):
            return Fraction(text.replace(",", ""))
        return Fraction(text.replace(",", "."))
    if "andpart" in found:
        return worded(found["wordsand"]) + Fraction(1, PARTS[found["andpart"].lower()])
    if "manypart" in found:
        return worded(found["wordsmany"]) + Fraction(
            SMALL[found["manytop"].lower()], PARTS[found["manypart"].lower()]
        )
    if "part" in found:
        top = found["top"].lower()
        share = Fraction(1, PARTS[found["part"].lower()])
        return share * (1 if top in ("a", "an") else int(top) if top.isdigit() else SMALL[top])
    return worded(found["words"])


def _over(text: str) -> Fraction:
    top, bottom = re.split("[/⁄]", text)
    return Fraction(int(top), int(bottom) or 1)


def unit_at(text: str, place: int) -> tuple[str, int] | None:
    """The unit that begins here, and where it ends; the longest spelling wins."""
    found = [(match.end(), name) for name, spelt in UNITS.items() if (match := spelt.match(text, place))]
    if not found:
        return None
    end, name = max(found)
    if name == "celsius" and text[place:end] == "c" and text[end : end + 1] == ".":
        return "cup", end + 1
    return name, end


def tokens(text: str) -> list[Token]:
    """The text in figures, units and the words that join them."""
    made: list[Token] = []
    place = 0
    while place < len(text):
        if text[place].isspace():
            place += 1
            continue
        last = made[-1] if made else None
        if last is not None and (last.kind in ("number", "article") or last.text == "+"):
            hyphen = place
            while hyphen < len(text) and text[hyphen] in "-‑‐" and hyphen == last.end:
                hyphen += 1
            unit = unit_at(text, hyphen)
            if unit is not None:
                made.append(
                    Token(kind="unit", text=text[hyphen : unit[1]], name=unit[0], start=place, end=unit[1])
                )
                place = unit[1]
                continue
        glued = place > 0 and (text[place - 1].isalpha() and text[place].isdigit())
        match = NUMBER.match(text, place)
        if match and not (place > 0 and text[place - 1].isalpha() and text[place].isalpha()):
            if not glued or (made and made[-1].kind in ("unit", "times", "to", "word")):
                made.append(
                    Token(
                        kind="number", text=match.group(), value=number(match), start=place, end=match.end()
                    )
                )
                place = match.end()
                continue
        made.append(_lexed(text, place, last))
        place = made[-1].end
    return made


ARTICLE = re.compile(rf"(?:an?|per|every|of\ an?)\ (?=(?:{'|'.join(SPELT_OUT)})\b)", re.I | re.X)


def _lexed(text: str, place: int, last: Token | None) -> Token:
    article = ARTICLE.match(text, place)
    if article:
        kind = "of" if last is not None and last.kind == "number" else "article"
        return Token(kind=kind, text=article.group(), value=Fraction(1), start=place, end=article.end() - 1)
    for kind, name, pattern in LEXER:
        match = pattern.match(text, place)
        if match:
            return Token(kind=kind, text=match.group(), name=name, start=place, end=match.end())
    return Token(kind="word", text=text[place], start=place, end=place + 1)


class _Walk:
    """One walk through the tokens; `place` is the token to be read next."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = tokens(text)
        self.place = 0
        self.used: set[int] = set()

    def kind(self, ahead: int = 0) -> str:
        place = self.place + ahead
        return self.tokens[place].kind if 0 <= place < len(self.tokens) else ""

    def take(self) -> Token:
        self.used.add(self.place)
        self.place += 1
        return self.tokens[self.place - 1]


def readings(text: str) -> tuple[Reading, ...]:
    """Every figure of the text, in order, with what it measures."""
    return _walked(text)[0]


def words_between(text: str) -> tuple[str, ...]:
    """The words and signs that are no part of an amount."""
    return _walked(text)[1]


def _walked(text: str) -> tuple[tuple[Reading, ...], tuple[str, ...]]:
    walk = _Walk(text)
    found: list[Reading] = []
    depth, bound, join, between, each, gas, left = 0, "exactly", "", False, False, False, []
    while walk.place < len(walk.tokens):
        token = walk.tokens[walk.place]
        if token.kind in ("number", "article") and not (token.kind == "article" and walk.kind(1) != "unit"):
            reading = _quantity(walk, between=between, gas=gas, negative=_negative(walk))
            reading = replace(reading, depth=depth, join=join, of=reading.of or ("each" if each else ""))
            if reading.bound == "exactly" and bound != "exactly":
                reading = replace(reading, bound=bound)
            found.append(reading)
            bound, join, each, gas = "exactly", "", False, False
            continue
        walk.place += 1
        match token.kind:
            case "open":
                depth += 1
            case "close":
                depth = max(0, depth - 1)
            case "bound":
                bound = token.name
                measure = unit_at(text, token.end + 1) if bound in ("scant", "heaping") else None
                if measure and measure[0] in SPELT_OUT:  # a scant cup
                    one = (Fraction(1), Fraction(1))
                    found.append(
                        Reading(
                            sides=(one,),
                            unit=measure[0],
                            bound=bound,
                            depth=depth,
                            join=join,
                            start=token.start,
                            end=measure[1],
                        )
                    )
                    while walk.kind() and walk.tokens[walk.place].start < measure[1]:
                        walk.place += 1
                    bound, join = "exactly", ""
            case "between":
                between = True
            case "gas":
                gas = True
            case "each" | "all":
                if found and _near(walk, found[-1], token):
                    found[-1] = replace(found[-1], of=token.kind)
                elif token.kind == "each" and walk.kind() in ("number", "bound"):
                    each = True
                else:
                    left.append(token.text)
            case "fan":
                if walk.kind() == "number":
                    join = "fan"
                elif (
                    found and found[-1].unit in ("celsius", "fahrenheit") and token.start - found[-1].end < 3
                ):
                    found[-1] = replace(found[-1], fan=True)
            case "after":
                if found:
                    found[-1] = replace(found[-1], bound=token.name)
            case "plus" | "minus" | "times" | "slash" | "or" | "and":
                join = token.kind
            case "comma" | "to" | "dash" | "of":
                join = join if token.kind == "dash" else token.kind
            case _:
                join = ""
                left.append(token.text)
        if token.kind == "word" and token.text not in (".",):
            bound, between = "exactly", False
    return tuple(_fans(found)), tuple(left)


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
    first = walk.take()
    start, low = first.start, -first.value if negative else first.value
    bound = "exactly"
    if walk.kind() == "after" and walk.kind(1) not in ("", "close") and walk.tokens[walk.place].text == "+":
        walk.take()
        bound = "at least"
    heap = walk.kind() == "bound" and walk.tokens[walk.place].name in ("heaping", "scant")
    if heap or (
        walk.kind() == "word" and walk.tokens[walk.place].text in ("level", "whole") and _unit_ahead(walk)
    ):
        bound = walk.tokens[walk.place].name or bound
        unit = unit_at(walk.text, walk.tokens[walk.place].end + 1)
        if unit is not None:
            walk.take()
            while walk.kind() and walk.tokens[walk.place].start < unit[1]:
                walk.take()
            return Reading(sides=((low, low),), unit=unit[0], bound=bound, start=start, end=unit[1])
    if walk.kind() == "after" and walk.tokens[walk.place].text == "or more" and _unit_ahead(walk):
        unit = unit_at(walk.text, walk.tokens[walk.place].end + 1)
        walk.take()
        while unit and walk.kind() and walk.tokens[walk.place].start < unit[1]:
            walk.take()
        return Reading(
            sides=((low, low),),
            unit=unit[0] if unit else "",
            bound="at least",
            start=start,
            end=walk.tokens[walk.place - 1].end,
        )
    unit_token = _ending(walk)
    unit, end = (unit_token.name, unit_token.end) if unit_token else ("", first.end)
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
        sign = walk.tokens[walk.place - 1]
        glued = walk.kind(-2) == "to" and walk.tokens[walk.place - 2].end == sign.start
        minus = not glued and sign.kind in ("dash", "minus") and walk.kind(-2) in ("to", "and", "dash")
        last = walk.take()
        high = -last.value if minus else last.value
        last_unit = _ending(walk)
        end = last_unit.end if last_unit else last.end
        if last_unit is not None and last_unit.name == "hour":
            high, name, end = _clocked(walk, high, end)
            last_unit = replace(last_unit, name=name)
        if last_unit is not None and unit in ("", "degree"):
            unit = last_unit.name
        elif last_unit is not None and last_unit.name != unit:
            high_unit = last_unit.name
    sides: list[End] = [(low, high)]
    while walk.kind() == "times" or (walk.kind() == "dash" and walk.kind(1) == "times"):
        mark = walk.place
        if walk.kind() == "dash":
            walk.take()
        walk.take()
        if walk.kind() == "dash":
            walk.take()
        if walk.kind() != "number":
            walk.place = mark
            break
        side = walk.take()
        side_unit = _ending(walk)
        name = side_unit.name if side_unit else ""
        if name not in ("", "inch", "centimetre", "millimetre") and not unit:
            walk.place = mark  # two tins of 400 g: a count, then a size
            break
        if name in ("inch", "centimetre", "millimetre") and low <= 4 and side.value > 3 * low:
            walk.place = mark  # two tins of 18 cm
            break
        sides.append((side.value, side.value))
        unit, end = unit or name, side_unit.end if side_unit else side.end
    return Reading(
        sides=tuple(sides), unit="gas mark" if gas and not unit else unit, high_unit=high_unit, bound=bound,
        article=first.kind == "article", start=start, end=end,
    )  # fmt: skip


def _unit_ahead(walk: _Walk) -> bool:
    return unit_at(walk.text, walk.tokens[walk.place].end + 1) is not None


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
    walk.used -= set(range(mark, walk.place))
    walk.place = mark
    return hours, "hour", end
