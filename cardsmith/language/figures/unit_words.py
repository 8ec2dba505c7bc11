"""Unit words in a text, the longest first: ``tbsp.``, ``fl. oz``, ``fluid-ounce``, ``degrees C``.

    unit  = words of units.csv, in any case but for single letters, with the stop of an abbreviation
    scale = words of units.csv that measure heat

>>> unit_at(tokenize("fl. oz. of milk"), 0).unit.name, unit_at(tokenize("Tbsp"), 0).unit.name
('fluid ounce', 'tablespoon')
>>> scale_at(tokenize("degrees C"), 0).unit.name
'degree Celsius'
>>> unit_at(tokenize("in a bag"), 0) is None
True
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache, lru_cache

from cardsmith.frozen import frozen
from cardsmith.language.tokens import DASHES, TokenKind, Tokens, tokenize
from cardsmith.measure.units import Dimension, System, Unit, UnitWord, temperature_words, unit_words

# Unit words by their tokens in small letters, without stops; none for the mere beginning of one.
Index = dict[tuple[str, ...], list[UnitWord]]
# "in" is an inch only where a length can stand: "a 2 in piece", never "2 in a bag".
_AFTER_PREPOSITION = frozenset(
    "a an the this that each your our her his my another all turn one half its their hot cold boiling "
    "iced warm humid damp dry wet rainy muggy weather winter summer spring autumn total halves batches turns "
    "stages additions oil butter milk water brine stock syrup".split()
)
# A number in words goes before "in" as any word does, "stir half in", but for what has such a size.
_SIZED = frozenset(
    "thick wide long deep high tall apart across square piece pieces cube cubes round rounds strip strips "
    "slice slices chunk chunks length lengths from below above cake pie tart springform skillet pan tin "
    "dish".split()
)
_GOES_ON = frozenset(
    "and or for until till about in with then to".split()
)  # in small letters, after a scale's stop
_FEWEST_NO_INCHES = 3  # figures; nothing on a card is 100 inches long (common practice, no source)
_QUOTES = frozenset("\"″”'′’")


@frozen(kw_only=False)
class UnitFound:
    """A unit word and the tokens it stands in."""

    word: UnitWord
    first: int
    end: int  # one past its last token, a stop of its own included
    dotted: bool = False  # its last token is a stop, which may end the sentence too

    @property
    def unit(self) -> Unit:
        """What it means."""
        return self.word.unit


@cache
def _index(measures: System) -> Index:
    return _by_tokens(unit_words(measures))


@cache
def _scales() -> Index:
    return _by_tokens(temperature_words())


def _by_tokens(words: dict[str, UnitWord]) -> Index:
    index: Index = {}
    for word in words.values():
        spelled = tuple(token.low for token in tokenize(word.word).all if token.text != ".")
        index.setdefault(spelled, []).append(word)
        for length in range(1, len(spelled)):
            index.setdefault(spelled[:length], [])
    return index


@lru_cache(maxsize=1 << 12)  # several productions ask about one place
def unit_at(tokens: Tokens, at: int, measures: System = System.US) -> UnitFound | None:
    """The unit of an amount, a length, a time, a pressure or a power that begins at token ``at``."""
    unit_found = _longest(tokens, at, _index(measures))
    if unit_found is None or not _stands(tokens, unit_found):
        return None
    return unit_found


def scale_at(tokens: Tokens, at: int) -> UnitFound | None:
    """The scale of a temperature that begins at token ``at``; ``degree`` where only that is said."""
    scale = _longest(tokens, at, _scales())
    dot = scale is not None and tokens[scale.end].text == "." and tokens[scale.end].glued
    if scale is None or not dot or tokens[scale.end + 1].text not in _GOES_ON:
        return scale
    return replace(scale, end=scale.end + 1, dotted=True)  # "325 degrees F. and bake"


def _longest(tokens: Tokens, at: int, index: Index) -> UnitFound | None:
    spelled: tuple[str, ...] = ()
    best: UnitFound | None = None
    place = at
    while True:
        token = tokens[place]
        spelled = (*spelled, token.low)
        words = index.get(spelled)
        if words is None or token.kind is TokenKind.DIGITS:
            return best
        place += 1
        dot = tokens[place].text == "." and tokens[place].glued and token.kind is TokenKind.WORD
        word = _spelled_so(words, tokens.between(at, place), dot=dot) if words else None
        if word is not None:
            dotted = dot and _abbreviates(words)
            best = UnitFound(word, at, place + 1 if dotted else place, dotted)
        if dot:
            place += 1
        if tokens[place].text in DASHES and tokens[place].glued and tokens[place + 1].glued:
            place += 1  # 6-fluid-ounce


def _spelled_so(words: list[UnitWord], written: str, *, dot: bool) -> UnitWord | None:
    """The word as it is written; capitals, and a stop, matter only in single letters: T, t, C, c., l."""
    plain = written.replace(".", "")
    if len(plain) == 1:
        same = [word for word in words if word.word.strip(".") == plain]
        return next((word for word in same if word.word.endswith(".") is dot), same[0] if same else None)
    exact = [word for word in words if word.word.strip(".") == plain]
    return (exact or words)[0]


def _abbreviates(words: list[UnitWord]) -> bool:
    """Whether a stop may belong to the word: tbsp. and oz., but never cup."""
    return any(word.word.endswith(".") for word in words)


def _stands(tokens: Tokens, unit_found: UnitFound) -> bool:
    """Whether a unit word means what it says where it stands."""
    after = tokens[unit_found.end]
    token = tokens[unit_found.first]
    unit = unit_found.unit
    one_letter = len(tokens.between(unit_found.first, unit_found.end).rstrip(".")) == 1
    if token.text == "#" and after.is_number and after.glued and not token.glued:
        return False  # "1 #2 can"
    if token.text in _QUOTES or token.text == "#":
        return unit.dimension is not Dimension.LENGTH or token.glued
    counted = unit.dimension is Dimension.COUNT
    if (counted or one_letter) and after.text in DASHES and after.glued and tokens[unit_found.end + 1].glued:
        follows = tokens[unit_found.end + 1]
        return not (follows.kind is TokenKind.WORD and follows.low not in {"to", "or"})  # "2 T-bone steaks"
    if token.low == "in" and not unit_found.dotted:
        ends = after.low == "" or after.text in ".;:" or after.is_number or after.low in _AFTER_PREPOSITION
        before = tokens[unit_found.first - 1]
        if before.kind is TokenKind.WORD and not token.glued and after.low not in _SIZED:
            return False
        part = before.kind is TokenKind.SIGN and not after.low  # "trimmed to ¼ in"
        whole = before.kind is TokenKind.DIGITS and not (
            before.glued and tokens[unit_found.first - 2].text == "."
        )
        many = whole and len(before.text) >= _FEWEST_NO_INCHES  # "nearer 300 in May"
        return not (ends or many) or token.glued or part
    return True
