"""The noun phrase behind a number, and the vessel that a size belongs to: grammar, not distance.

    phrase = { word } up to a preposition, a determiner, a conjunction, a mark or a number

A size stands before its vessel ("six 6-ounce ramekins", "a 2-quart baking dish"), or behind it in brackets or
after "of" ("two baking sheets (13 x 18 in.)"). "1 tablespoon oil in a skillet" is oil: "in" ends the phrase.

>>> from cardsmith.language.tokens import tokenize
>>> phrase_at(tokenize("olive oil in a skillet"), 0).words
('olive', 'oil')
>>> vessel_at(tokenize("heavy, ovenproof skillet"), 0).head, vessel_at(tokenize("pan drippings"), 0)
('skillet', None)
"""

from __future__ import annotations

from cardsmith.frozen import frozen
from cardsmith.language.tokens import DASHES, TokenKind, Tokens
from cardsmith.language.word_classes import vessel_words, words_of

LONGEST_PHRASE = 6  # words
_MOST_WORDS = 4  # of these between a comma and the noun: "hot, sterilised half-pint jars"
_BETWEEN = frozenset({"about", "around", "roughly", "approximately", "from"})
_DETERMINERS = frozenset({"the", "your", "a", "an"})
_JOINING = frozenset({"measuring", "of", "holding", ":"})
_PLURALS = frozenset(
    {"people", "children", "geese", "mice", "feet", "teeth", "halves", "leaves", "loaves", "knives"}
)


@frozen(kw_only=False)
class Phrase:
    """The words of a noun phrase and the tokens they stand in."""

    words: tuple[str, ...]  # in small letters
    first: int
    end: int

    @property
    def head(self) -> str:
        """Its noun, the last word."""
        return self.words[-1] if self.words else ""


def phrase_at(tokens: Tokens, at: int) -> Phrase:
    """The noun phrase that begins at token ``at``; empty where none does."""
    phrase: list[str] = []
    place = at
    while len(phrase) < LONGEST_PHRASE:
        token = tokens[place]
        if token.text in DASHES and phrase and token.glued and tokens[place + 1].glued:
            place += 1
            continue
        if token.text == "," and phrase and _adjective_follows(tokens, place + 1, phrase[-1]):
            place += 1
            continue
        if token.kind is not TokenKind.WORD or token.low in words_of("stop"):
            break
        if phrase and phrase[-1] in vessel_words(tokens.tables) and token.low in _verbs():
            break  # "in a 10-inch pan bake 5 minutes less", "in a 3-quart saucepan bring sugar to a boil"
        phrase.append(token.low)
        place += 1
    while place > at and tokens[place - 1].text in DASHES | {","}:
        place -= 1
    return Phrase(tuple(phrase), at, place)


def _verbs() -> frozenset[str]:
    """What a cook may be told to do right behind a vessel; "brown" and "cream" are no such words."""
    return words_of("time verb") | words_of("vessel verb")


def noun_at(tokens: Tokens, at: int) -> str:
    """What a measure that ends at token ``at`` is of: "oil" for "of the oil"; empty for none."""
    place = at + 1 if tokens[at].low == "of" else at
    while tokens[place].low in _DETERMINERS:
        place += 1
    return " ".join(phrase_at(tokens, place).words)


def _adjective_follows(tokens: Tokens, at: int, before: str) -> bool:
    """Whether a comma parts two adjectives: "a heavy, ovenproof skillet", "sixteen small, dark squares"."""
    if tokens[at].kind is not TokenKind.WORD or tokens[at].low in words_of("stop"):
        return False
    described = before in words_of("adjective")
    for place in range(at + 1, at + 1 + _MOST_WORDS * described):
        if tokens[place].text in DASHES:
            continue
        if tokens[place].kind is not TokenKind.WORD or tokens[place].low in words_of("stop"):
            return False
        if tokens[place].low in vessel_words(tokens.tables) or is_plural(tokens[place].low):
            return True
    return tokens[at + 1].low in vessel_words(tokens.tables)


def vessel_at(tokens: Tokens, at: int) -> Phrase | None:
    """The phrase at ``at``, if its noun is a vessel: "heavy ovenproof skillet"; "pan drippings" are food."""
    joined = tokens[at].text in DASHES and tokens[at].glued and tokens[at + 1].glued
    phrase = phrase_at(tokens, at + joined)  # a 20-cm-square tin
    return phrase if phrase.head in vessel_words(tokens.tables) or _dutch(phrase) else None


def _dutch(phrase: Phrase) -> bool:
    return phrase.words[-2:] == ("dutch", "oven")


def vessel_before(tokens: Tokens, at: int) -> str:
    """The vessel whose size begins at token ``at`` in brackets or behind "of" or a colon; empty for none."""
    place = at - 1
    opened = tokens[place].text in {"(", "["}
    if opened:
        place -= 1
    while tokens[place].low in _BETWEEN | _JOINING or tokens[place].text == "~":
        opened = opened or tokens[place].low in _JOINING
        place -= 1
    if not opened:
        return ""
    word = tokens[place].low
    return word if word in vessel_words(tokens.tables) else ""


def is_plural(word: str) -> bool:
    """Whether a word is, by its ending, the plural of something."""
    if word in _PLURALS:
        return True
    return len(word) > 2 and word.endswith("s") and not word.endswith(("ss", "us", "is"))
