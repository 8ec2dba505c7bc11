"""The rest of an ingredient line: the food's name, its preparation, and the remarks cooks add."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from cardsmith.measure.units import System
from cardsmith.recipe.heads import Stated, brackets_at, stated_in
from cardsmith.recipe.numbers import SPACE
from cardsmith.regex import regex

_PLACES = (
    "pan|pans|tin|tins|dish|dishes|mold|mould|molds|moulds|bowl|grill|griddle|skillet|tray|trays|sheet|sheets|"
    "surface|work surface|worktop|board|counter|top|topping|tops|table|pot|baking sheet|baking dish|cake pan|"
    "loaf pan|ramekins|crust|syrup|glaze"
)
_DOINGS = (
    "dusting|greasing|(?:deep[- ]|shallow[- ])?frying|brushing|rolling|sprinkling|serving|garnish|garnishing|"
    "drizzling|coating|kneading|oiling|buttering|basting|dipping|decorating|decoration|finishing|dredging|"
    "rolling out|shaping|saut[eé]ing|searing|brining|soaking|boiling|poaching|spreading|sealing|egg wash"
)
_FOR_USE = (
    rf"for (?:(?:the|a|your) )?(?:\w+ )?(?:{_PLACES})(?: and (?:the )?(?:{_PLACES}))?|"
    rf"for (?:(?:the|lightly) )?(?:{_DOINGS})(?: (?:and|or) (?:{_DOINGS}))?(?: the (?:{_PLACES}))?|"
    r"to (?:serve|finish|garnish|decorate|sprinkle|drizzle|grease the \w+|dust|glaze|coat|brush)|"
    "as (?:needed|required)"
)
FOR_USE = regex(rf"(?:{_FOR_USE})", re.IGNORECASE)
_FOR_USE_LAST = regex(rf"{SPACE}+(?P<use>{_FOR_USE}){SPACE}*$", re.IGNORECASE)
_TO_TASTE = regex(rf"(?:or{SPACE}+)?(?:to|for){SPACE}+(?:your{SPACE}+)?taste", re.IGNORECASE)
_TO_TASTE_LAST = regex(rf"{SPACE}+(?:or{SPACE}+)?to{SPACE}+taste{SPACE}*$", re.IGNORECASE)
_OPTIONAL = regex(r"optional|if (?:desired|you like|liked|you wish|using)", re.IGNORECASE)
_DIVIDED = regex(
    rf"divided(?:{SPACE}+use)?(?:{SPACE}+and{SPACE}+)?|{SPACE}+and{SPACE}+divided$", re.IGNORECASE
)
_PLUS_MORE = regex(
    rf"{SPACE}+(?=(?:plus|\+|and|with){SPACE}+(?:(?:\w+{SPACE}+)?(?:more|extra|additional)\b|[0-9¼-¾⅐-⅞][^,]*\bfor\b))",
    re.IGNORECASE,
)
_OR = regex(rf"or{SPACE}+(?!to{SPACE}+taste|more\b|less\b|as\b|so\b|until\b|about\b|use\b)", re.IGNORECASE)
_CUT = regex(r"(?<![0-9]),|,(?![0-9])|(?<=[ \t])[–—-](?=[ \t])|;")


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A stretch of the line and where it begins."""

    text: str
    start: int

    @property
    def end(self) -> int:
        """One past its last character."""
        return self.start + len(self.text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Remarks:
    """What the words after the food say."""

    prep: tuple[str, ...] = ()
    divided: bool = False
    optional: bool = False
    to_taste: bool = False
    for_use: str = ""
    alternatives: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Tail:
    """The rest of a line, cut at its commas, its brackets read."""

    pieces: tuple[Piece, ...]
    notes: tuple[str, ...] = ()  # brackets that hold no amount
    stated: tuple[tuple[tuple[Stated, ...], tuple[int, int]], ...] = field(default=())
    open_bracket: int = -1  # where a bracket opens or closes without its partner


def tail_of(text: str, start: int, measures: System) -> Tail:
    """``text`` from ``start`` on, without its brackets, in pieces between commas."""
    left = list(text)
    notes: list[str] = []
    stated: list[tuple[tuple[Stated, ...], tuple[int, int]]] = []
    unpaired = -1
    place = start
    while place < len(text):
        if text[place] == ")" and unpaired < 0:
            unpaired = place
        inside = brackets_at(text, place) if text[place] == "(" else None
        if text[place] == "(" and inside is None and unpaired < 0:
            unpaired = place
        if inside is None:
            place += 1
            continue
        amounts = stated_in(text, *inside, measures)
        words = text[inside[0] : inside[1]].strip()
        if amounts:
            stated.append((amounts, inside))
        elif "%" not in words:
            notes.append(words)
        if amounts or "%" not in words:
            left[place : inside[1] + 1] = " " * (inside[1] + 1 - place)
        place = inside[1] + 1
    plain = "".join(left)
    return Tail(
        pieces=tuple(_pieces(plain, start)), notes=tuple(notes), stated=tuple(stated), open_bracket=unpaired
    )


def _pieces(text: str, start: int) -> list[Piece]:
    cuts = [match.span() for match in _CUT.finditer(text, start)]
    begins = [start, *(end for _, end in cuts)]
    ends = [*(begin for begin, _ in cuts), len(text)]
    return [
        piece for begin, end in zip(begins, ends, strict=True) if (piece := _trimmed(text, begin, end)).text
    ]


def _trimmed(text: str, begin: int, end: int) -> Piece:
    inner = text[begin:end]
    return Piece(text=" ".join(inner.split()), start=begin + len(inner) - len(inner.lstrip()))


def item_and_rest(piece: Piece) -> tuple[str, tuple[str, ...]]:
    """The food's own words in ``piece``, and remarks that follow without a comma ("oil for frying")."""
    text, rest = piece.text, []
    more = _PLUS_MORE.search(text)
    if more:
        rest.append(re.sub(r"^\+", "plus", text[more.end() :]))
        text = text[: more.start()]
    for last in (_TO_TASTE_LAST, _FOR_USE_LAST):
        match = last.search(text)
        if match:
            rest.insert(0, match[0].strip())
            text = text[: match.start()]
    return text.strip(), tuple(rest)


def remarks_of(pieces: tuple[str, ...]) -> Remarks:
    """Flags and preparation from the words after the food, in their order."""
    prep: list[str] = []
    alternatives: list[str] = []
    divided = optional = to_taste = False
    for_use = ""
    for piece in pieces:
        words = piece.strip()
        if cut := _DIVIDED.search(words):
            divided = True
            words = (words[: cut.start()] + words[cut.end() :]).strip()
        if not words:
            continue
        if _TO_TASTE.fullmatch(words):
            to_taste = True
        elif _OPTIONAL.fullmatch(words):
            optional = True
        elif FOR_USE.fullmatch(words):
            for_use = f"{for_use}, {words}" if for_use else words
        elif match := _OR.match(words):
            alternatives.append(words[match.end() :])
        else:
            prep.append(words)
    return Remarks(
        prep=tuple(prep),
        divided=divided,
        optional=optional,
        to_taste=to_taste,
        for_use=for_use,
        alternatives=tuple(alternatives),
    )
