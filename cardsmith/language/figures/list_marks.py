"""What a list puts before its lines: bullets, boxes to tick, the number of a step or of a recipe.

>>> "- 2 eggs"[bulleted("- 2 eggs") :], "o 4 eggs"[bulleted("o 4 eggs") :], bulleted("-2 to 4 °C")
('2 eggs', '4 eggs', 0)
>>> "Step 3 - Fold."[numbered("Step 3 - Fold.") :], "12) Bake."[numbered("12) Bake.") :], numbered("1.5 kg")
('Fold.', 'Bake.', 0)
>>> "b) Fold in."[numbered("b) Fold in.") :], numbered("a pinch")
('Fold in.', 0)
>>> "371.--Date bread"[numbered("371.--Date bread") :], numbered("12.-2 rolls")
('Date bread', 0)
"""

from __future__ import annotations

from cardsmith.frozen import frozen
from cardsmith.language.figures.numbers import NUMBER_WORDS
from cardsmith.language.tokens import TokenKind, Tokens, tokenize
from cardsmith.regex import regex

_BULLET = regex(r"(?:[•◦‣▪▫●○■□◆◇▢☐☑✅✓✔✗✘∙·⁃➢➤►▸▶→»*+]|[-‐‑‒–—―−]|o|\[[ xX✓]?\])\s+")
_GLUED = regex(r"[•◦‣▪▫●○■□◆◇▢☐☑∙➢➤►▸▶→](?=\w)")
_COUNTED = regex(
    r"(?P<lead>(?i:recipe |no\. ?)?[#\[(]?(?:\d{1,2}\.)?)(?P<number>\d{1,2})"
    r"(?P<behind>[\])]?\s*[-–—:/.]?)\s*(?P<rest>\S.*)"
)
_STEPS = frozenset({"step", "stage"})
_BEHIND = frozenset(".):")
_DASHES = frozenset("-–—")
FIGURES = 4
MOST = 99  # steps; a longer number is an amount or a year


def bulleted(text: str) -> int:
    """Where a line goes on behind its bullet; 0 where it has none."""
    match = _BULLET.match(text) or _GLUED.match(text)
    return match.end() if match and match.end() < len(text) else 0


def numbered(text: str) -> int:
    """Where a line goes on behind the number that a list gives it; 0 where it has none."""
    tokens = tokenize(text)
    number = _number_at(tokens, 0)
    return _start(tokens, number[1], text) if number else 0


def _start(tokens: Tokens, at: int, text: str) -> int:
    return tokens[at].start if at < len(tokens) else len(text)


def _number_at(tokens: Tokens, at: int) -> tuple[int, int] | None:
    """The number of a step that begins at a token, and the token behind its mark."""
    place = at + (tokens[at].low in _STEPS)
    opened = tokens[place].text == "("
    place += opened
    token, behind = tokens[place], tokens[place + 1]
    value = _value(token.text, named=place > at)
    if len(token.text) == 1 and "a" <= token.text.lower() <= "z" and behind.text == ")" and behind.glued:
        value = ord(token.text.lower()) - ord("a") + 1
    if value is None:
        return None
    if place == at and (end := _dashed(tokens, place + 1)):
        return value, end
    if value > MOST:
        return None
    closed = behind.text in _BEHIND and (behind.glued or place > at)
    if closed and not (opened and behind.text != ")") and not tokens[place + 2].glued:
        return value, place + 2
    if place == at or opened or behind.glued or behind.is_number:
        return None
    dashed = behind.text in _DASHES and not tokens[place + 2].glued  # "Step 2 - Bake."
    return value, place + 1 + dashed


def _dashed(tokens: Tokens, at: int) -> int:
    """The token behind the stop and the dashes that follow the number of a recipe; 0 where none do."""
    end = at + 1
    while tokens[end].text in _DASHES and tokens[end].glued:
        end += 1
    return end if tokens[at].text == "." and end > at + 1 and not tokens[end].is_number else 0


def _value(text: str, *, named: bool) -> int | None:
    if text.isascii() and text.isdigit() and len(text) <= FIGURES:
        return int(text)
    return 1 if named and text.lower() in NUMBER_WORDS else None  # which of them, nobody asks


def numbered_within(text: str) -> tuple[int, ...]:
    """Where each numbered step of a text begins, of "1. Whisk. 2. Bake."; none where they don't count up.

    >>> [text[start:] for text in ["1. Heat to 50 °C. 2. Roll."] for start in numbered_within(text)]
    ['1. Heat to 50 °C. 2. Roll.', '2. Roll.']
    >>> numbered_within("Bake at 200. 2. Turn.")
    ()
    """
    tokens = tokenize(text)
    starts: list[int] = []
    for at, token in enumerate(tokens.all):
        begins = at == 0 or tokens.is_stop(at - 1) or tokens[at - 1].text in ";:)"
        number = _number_at(tokens, at) if begins and token.kind is not TokenKind.MARK else None
        if number and number[0] == len(starts) + 1 and number[1] < len(tokens):
            starts.append(token.start)
    return tuple(starts) if len(starts) > 1 and starts[0] == 0 else ()


@frozen
class CountedLine:
    """A line that begins with a number, which only the lines beside it tell to be that of a list."""

    manner: tuple[str, str]  # the marks before the number, and behind it
    number: int
    rest: str


def counted_line(text: str) -> CountedLine | None:
    """A line that may count: "#2 Fold", "2/ Fold", "2 Fold", "1.2 30 g butter", "Recipe 2: Bread".

    >>> counted_line("1.2 30 g butter").manner, counted_line("2/ Fold").rest, counted_line("Fold")
    (('1.', ''), 'Fold', None)
    """
    match = _COUNTED.fullmatch(text)
    if match is None:
        return None
    manner = (match["lead"], match["behind"].replace(" ", ""))
    return CountedLine(manner=manner, number=int(match["number"]), rest=match["rest"])


def sentence_starts(text: str) -> tuple[int, ...]:
    """Where each sentence of a text begins.

    >>> sentence_starts("Bake. Cool for approx. 5 min. Serve.")
    (0, 6, 30)
    """
    tokens = tokenize(text)
    starts = [tokens[0].start] if len(tokens) else []
    for at in range(len(tokens) - 1):
        if tokens[at].text in (".", "!", "?") and tokens.is_stop(at) and not tokens[at + 1].glued:
            starts.append(tokens[at + 1].start)
    return tuple(starts)
