"""What follows the food of an ingredient line: its preparation, and the remarks cooks add.

    tail     = { ("," | ";" | " – ") piece }
    piece    = "divided" | "optional" | "to taste" | "for" use | "to serve" | "or" words | preparation

>>> found = remarks_of(("softened", "divided", "plus more for the pan", "or oil"))
>>> found.prep, found.divided, found.alternatives
(('softened', 'plus more for the pan'), True, ('oil',))
>>> item_and_rest("oil for frying"), item_and_rest("salt to taste")
(('oil', ('for frying',)), ('salt', ('to taste',)))
"""

from __future__ import annotations

import re

from cardsmith.frozen import frozen
from cardsmith.language.tokens import DASHES, Tokens
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
_SO_WARM_LAST = regex(  # water at 26 °C, butter at room temperature, levain at 100 % hydration
    r"\s+(?:at|@) (?:about |around )?(?:room temp(?:erature|\.)?|\d+\s*(?:%|per ?cent) hydration"
    r"|\d[\d\s–-]*(?:to \d+)?\s*[°º˚]?\s*[CF℃℉])$",
    re.IGNORECASE,
)
_FOR_USE_LAST = regex(rf"\s+(?P<use>{_FOR_USE})\s*$", re.IGNORECASE)
_TO_MAKE_LAST = regex(r"\s+to (?:make|form) an? (?:\w+ )?(?:dough|batter|paste|sauce)$", re.IGNORECASE)
_TO_TASTE = regex(r"(?:or\s+)?(?:to|for)\s+(?:your\s+)?taste", re.IGNORECASE)
_TO_TASTE_LAST = regex(r"\s+(?:or\s+)?to\s+taste\s*$", re.IGNORECASE)
_OPTIONAL = regex(r"optional|if (?:desired|you like|liked|you wish|using)", re.IGNORECASE)
_DIVIDED = regex(
    r"\bdivided\b(?:\s+use)?(?:\s+and\s+|(?!\s+(?:in|into|among|between)\b))|\s+and\s+divided$", re.IGNORECASE
)
_PLUS_MORE = regex(
    r"\s+(?=(?:plus|\+|and|with)\s+(?:\w+\s+)?(?:more|extra|additional)\b)", re.IGNORECASE
)  # fmt: skip
_OR = regex(r"or\s+(?!to\s+taste|more\b|less\b|as\b|so\b|until\b|about\b|use\b)", re.IGNORECASE)


@frozen
class Remarks:
    """What the words after the food say."""

    prep: tuple[str, ...] = ()
    divided: bool = False
    optional: bool = False
    to_taste: bool = False
    for_use: str = ""
    alternatives: tuple[str, ...] = ()


@frozen(kw_only=False)
class Piece:
    """The tokens of a line between two commas."""

    first: int
    end: int


def pieces_of(tokens: Tokens, first: int) -> tuple[Piece, ...]:
    """The tokens from ``first`` on, cut at commas, semicolons and dashes between blanks, outside brackets."""
    cuts = []
    depth = 0
    for at in range(first, len(tokens)):
        depth += (tokens[at].text == "(") - (tokens[at].text == ")")
        if depth <= 0 and _is_cut(tokens, at):
            cuts.append(at)
    begins = [first, *(at + 1 for at in cuts)]
    ends = [*cuts, len(tokens)]
    return tuple(Piece(begin, end) for begin, end in zip(begins, ends, strict=True) if begin < end)


def _is_cut(tokens: Tokens, at: int) -> bool:
    token, before, after = tokens[at], tokens[at - 1], tokens[at + 1]
    if token.text == ";" or (token.text == ":" and not after.glued):
        return True
    if token.text == ",":
        return not (before.is_number and token.glued and after.is_number and after.glued)
    return token.text in DASHES and not token.glued and not after.glued


def item_and_rest(text: str) -> tuple[str, tuple[str, ...]]:
    """The food's own words, and remarks that follow without a comma ("oil for frying")."""
    rest: list[str] = []
    more = _PLUS_MORE.search(text)
    if more:
        rest.append(re.sub(r"^\+", "plus", text[more.end() :]))
        text = text[: more.start()]
    for last in (_TO_TASTE_LAST, _FOR_USE_LAST, _SO_WARM_LAST, _TO_MAKE_LAST):
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
