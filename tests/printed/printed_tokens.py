"""Printed text in figures, units and the words that join them, for the strict reader of printed amounts."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

GLYPHS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
    "⅞": "7/8",
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
    "teaspoon": r"tsps?\.?|teasp\.?|teaspoon(?:ful)?s?",
    "tablespoon": r"tbsps?\.?|tbs?\.?|tablesp\.?|tablespoon(?:ful)?s?",
    "cup": r"(?-i:c\.)|cup(?:ful)?s?", "pint": r"pints?|pt\.?", "quart": r"quarts?|qts?\.?",
    "gallon": r"gallons?|gal\.?",
    "gill": r"gills?",
    "millimetre": r"mm|millimet(?:er|re)s?", "centimetre": r"cms?|centimet(?:er|re)s?",
    "foot": r"ft\.?|feet|foot",
    "inch": r"inch(?:es)?|in\.|[\"″]"
            r"|in(?!\ +(?:the|an?|all|total|its|your|one|each|this|it|two|three|four|\d)\b)",
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
    rf"(?:(?:a|{'|'.join(ONES[1:])})\ hundred(?:(?:\ and)?\ "
    rf"(?:(?:{'|'.join(TENS)})(?:-(?:{'|'.join(ONES[1:10])}))?"
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
    "at most": r"up\ to|no\ more\ than|not\ more\ than|at\ most|maximum|less\ than|under|within|below|max\.?"
               r"|no\ longer\ than",
    "at least": r"at\ least|no\ less\ than|not\ less\ than|(?:a\ )?minimum(?:\ of)?|min\.(?=\ \d)"
                r"|more\ than|above|over",
    "scant": r"(?:a\ )?scant|bare(?=\ )|just\ under|(?:a\ )?short(?=\ \d)",
    "heaping": r"(?:a\ )?heap(?:ing|ed)|(?:a\ )?generous|(?:a\ )?rounded|a\ good(?=\ )|just\ over",
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


def _begins(text: str, place: int, last: Token | None) -> bool:
    """Whether a figure may begin here, and not within a word."""
    if place == 0 or not text[place - 1].isalpha():
        return True
    return text[place].isdigit() and last is not None and last.kind in ("unit", "times", "to", "word")


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
        match = NUMBER.match(text, place)
        if match and _begins(text, place, last):
            token = Token(
                kind="number", text=match.group(), value=number(match), start=place, end=match.end()
            )
            made.append(token)
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
