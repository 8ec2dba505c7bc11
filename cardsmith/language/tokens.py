"""A text cut into tokens: figures, fraction signs, words and marks. Blanks part them and are no tokens.

    token  = digits | sign | word | mark
    digits = 0 … 9, one or more
    sign   = a number in one character, such as ½ or ²
    word   = letters, with apostrophes inside
    mark   = any other character

>>> [str(token.kind) for token in tokenize("Bake 10 min.").all]
['word', 'digits', 'word', 'mark']
>>> [token.text for token in tokenize("1½ cups, don’t pack").all]
['1', '½', 'cups', ',', 'don’t', 'pack']
"""

from __future__ import annotations

import enum
import re
import unicodedata
from collections.abc import Set
from functools import lru_cache
from typing import NamedTuple

from cardsmith.reference import OURS, Tables
from cardsmith.regex import regex

BLANKS = " \t\n\r\v\f\u00a0\u1680\u2000-\u200b\u2028\u2029\u202f\u205f\u3000\u00ad\ufeff"
# Numbers that are no digits.
_SIGNS = "\u00b2\u00b3\u00b9\u00bc-\u00be\u2070\u2074-\u2079\u2080-\u2089\u2150-\u218b\u2460-\u249b\u3007"


@enum.unique
class TokenKind(enum.StrEnum):
    """The kinds of token; the pattern of each stands in `PATTERNS`."""

    DIGITS = "digits"
    SIGN = "sign"  # ½, ², Ⅳ: a number in one character
    WORD = "word"
    MARK = "mark"  # any other character: a stop, a bracket, a dash, a degree sign


PATTERNS = (
    (TokenKind.DIGITS, r"\d+"),
    (TokenKind.SIGN, rf"[{_SIGNS}]"),
    (TokenKind.WORD, rf"[^\W\d_ªº{_SIGNS}]+(?:['’][^\W\d_ªº{_SIGNS}]+)*"),
    (TokenKind.MARK, rf"[^{BLANKS}]"),
)
_KINDS = (None, *(kind for kind, _ in PATTERNS))  # by the number of the group that matched
_TOKEN = regex("|".join(f"(?P<{kind}>{pattern})" for kind, pattern in PATTERNS))
_FIGURE = regex(rf"[\d{_SIGNS}]")
DASHES = frozenset("-‐‑‒–—―−")
LONG_DASHES = frozenset("—―")  # part a sentence, never a word
TILDES = frozenset("~～〜∼")  # between two numbers a range, before one "about"
SLASHES = frozenset("/⁄∕")
ABBREVIATIONS = frozenset({"approx", "ca", "no", "max", "vol", "fig", "pp"})  # before a number
_AFTER_ABBREVIATION = frozenset({"C", "F", ",", "("})
_INSIDE = frozenset(".,\u2044")  # a numeral, between its figures
_CLOSERS = frozenset(")]”’")
ENDS = frozenset(".;!?")  # of a clause, where a blank or nothing follows


class Token(NamedTuple):
    """One token; ``glued`` where no blank parts it from the one before."""

    kind: TokenKind
    text: str
    low: str  # in small letters
    start: int
    end: int
    glued: bool

    @property
    def is_number(self) -> bool:
        """Whether it is a numeral, or part of one, in figures."""
        return self.kind in (TokenKind.DIGITS, TokenKind.SIGN)


END = Token(TokenKind.MARK, "", "", -1, -1, False)


class Tokens(dict[int, Token]):
    """The tokens of one text by their places; places beyond its ends hold `END`.

    A dictionary, since a line asks for a place 150 times. Told apart as objects, so that readers can remember
    what they found at one.
    """

    __slots__ = ("all", "low", "tables", "text")
    __hash__ = object.__hash__  # type: ignore[assignment]
    __eq__ = object.__eq__

    def __init__(self, text: str, tokens: tuple[Token, ...], tables: Tables = OURS) -> None:
        super().__init__(enumerate(tokens))
        self.text = text
        self.all = tokens
        self.low = tuple([token.low for token in tokens])  # their texts in small letters
        self.tables = tables  # which words are foods

    def __missing__(self, at: int) -> Token:
        return END

    def words(self, at: int, *words: str) -> bool:
        """Whether the tokens from ``at`` on are ``words``, one or more, in small letters."""
        return at >= 0 and self.low[at : at + len(words)] == words

    def between(self, first: int, end: int) -> str:
        """The text of the tokens from ``first`` up to ``end``, as written."""
        return self.text[self[first].start : self[end - 1].end] if first < end else ""

    def has_said(self, words: Set[str], at: int, farthest: int) -> bool:
        """Whether the sentence has said one of ``words`` at most so many tokens before ``at``."""
        for place in range(at - 1, max(-1, at - farthest), -1):
            if self.is_stop(place):
                return False
            if self[place].low in words:
                return True
        return False

    def past_bracket(self, at: int) -> int:
        """Past the few tokens in brackets that open at ``at``; ``at`` where none do, or none close."""
        closes = range(at, at + 8) if self[at].text in {"(", "["} else ()
        return next((place + 1 for place in closes if self[place].text in {")", "]"}), at)

    def is_stop(self, at: int) -> bool:
        """Whether the token at ``at`` ends a sentence or a clause: a stop, then a blank.

        A point before a small letter, a scale or a mark ends an abbreviation ("12 min. at", "84 deg. F"), and
        so does one in "approx. 15". `stops` answers the same for texts in small letters, which are searched
        for words: there a point before a small letter is an end. A test holds the two together.
        """
        token, after = self[at], self[at + 1]
        if token is END or after is END:
            return token is END or token.text in ENDS
        if token.text not in ENDS or (after.glued and after.text not in _CLOSERS):
            return False
        if token.text != ".":
            return True
        abbreviated = after.is_number and self[at - 1].low in ABBREVIATIONS
        remark = after.text == "(" and self[at + 2].text[:1].isupper()  # "up to 2 days. (No tasting.)"
        shortened = after.text in _AFTER_ABBREVIATION and not remark
        return not (abbreviated or after.text[:1].islower() or shortened)


@lru_cache(maxsize=1 << 12)
def tokenize(text: str, tables: Tables = OURS) -> Tokens:
    """The tokens of ``text`` in order; every character but blanks lies in one."""
    tokens: list[Token] = []
    end = 0
    for match in _TOKEN.finditer(text):
        written, (start, stop) = match[0], match.span()
        kind = _KINDS[match.lastindex or 0]
        tokens.append(Token._make((kind, written, written.lower(), start, stop, start == end)))
        end = stop
    if tokens:
        first = tokens[0]
        tokens[0] = Token(first.kind, first.text, first.low, first.start, first.end, False)
    return Tokens(text, tuple(tokens), tables)


def figures(text: str) -> int:
    """How many characters of ``text`` are figures or numbers in one."""
    return len(_FIGURE.findall(text))


def numerals(text: str) -> tuple[tuple[int, int], ...]:
    """Where each numeral in figures begins and ends, with the points, commas and slashes inside it.

    >>> [text[start:end] for text in ["1½ or 2.5 to 1,000; 3⁄16"] for start, end in numerals(text)]
    ['1½', '2.5', '1,000', '3⁄16']
    """
    tokens = tokenize(text)
    places: list[tuple[int, int]] = []
    for at, token in enumerate(tokens.all):
        if not token.is_number:
            continue
        before, inner = tokens[at - 1], tokens[at - 2]
        joined = before.glued and before.text in _INSIDE and inner.is_number
        if places and token.glued and (before.is_number or joined):
            places[-1] = (places[-1][0], token.end)
        else:
            places.append((token.start, token.end))
    return tuple(places)


def numeric(sign: str) -> str:
    """A number in one character as digits, with a slash where it is a fraction: ``½`` is ``1/2``."""
    return unicodedata.normalize("NFKC", sign).replace("\u2044", "/").rstrip(".")


def flat(text: str) -> str:
    """``text`` in one line: each break and control a blank, so that places stay."""
    return re.sub(r"[\r\n\t\v\f\x1c-\x1e\x85\u2028\u2029]", " ", text.replace("\0", "\ufffd"))
