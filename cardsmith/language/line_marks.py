"""How an ingredient line opens, and the marks of a draft that no printed line may hold.

    opening  = [bullet] ["(optional)" | "optional:"] [squeezed | vague]
    squeezed = [words] fruit-part ["and" [words] fruit-part] ("of" | "from")   finely grated zest and juice of
    vague    = "a few" | "some" | "several" | "a little" … ["of"]
    draft    = "TK" | "??" | "[" words "]" | "editor:" …

>>> from cardsmith.language.tokens import tokenize
>>> opening_of(tokenize("finely grated zest and juice of 2 limes")).squeezed
'finely grated zest and juice'
>>> [fault.what for fault in drafts(tokenize("1 cup sugar [was 1¼ in v2]"))]
['“[was 1¼ in v2]” is a note to the desk']
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cardsmith.finding import Severity
from cardsmith.language.faults import Fault
from cardsmith.language.numbers import number_at
from cardsmith.language.tokens import DASHES, TokenKind, Tokens
from cardsmith.language.unit_words import unit_at
from cardsmith.measure.units import Dimension

PARTS = frozenset({"juice", "zest", "rind", "peel"})
_BULLETS = frozenset("*•") | DASHES
_STRAY = frozenset("*•@%&`>|")  # before a number they say nothing
_VAGUE = frozenset({"few", "little", "bit", "lot"})
_VAGUE_ALONE = frozenset({"some", "several", "many", "few"})
_PLACEHOLDERS = frozenset({"TK", "TKTK", "TBC", "TBD", "XX", "XXX", "FIXME", "TODO", "QUERY"})
_DESK = frozenset({"editor", "editors", "ed", "eds", "query", "author", "tester", "copydesk"})
_BEGINS = _PLACEHOLDERS | {"?", "["}
_LOOKALIKES = frozenset({"l", "I"})  # of a 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """Where the amount of a line begins, and what stands before it."""

    at: int
    optional: bool = False
    squeezed: str = ""  # "finely grated zest and juice"
    parts: tuple[str, ...] = ()  # zest, juice
    vague: int = 0  # the token after "a few"; 0 where nothing vague is said
    minus: bool = False
    lookalike: bool = False  # a letter stands where the figure should


def opening_of(tokens: Tokens) -> Opening:
    """What stands before the amount of a line."""
    at = 0
    if tokens[0].text in _BULLETS and len(tokens) > 1 and not tokens[1].glued:
        at = 1
    optional = 0
    if tokens.words(at, "(", "optional", ")"):
        optional = 3
    elif tokens.words(at, "optional", ":"):
        optional = 2
    at += optional
    while tokens[at].text in _STRAY and number_at(tokens, at + 1) is not None:
        at += 1  # "*200 g flour"
    minus = tokens[at].text in DASHES and number_at(tokens, at + 1) is not None
    if minus:
        return Opening(at=at + 1, optional=bool(optional), minus=True)
    squeezed = _squeezed(tokens, at)
    if squeezed:
        end, parts = squeezed
        written = tokens.between(at, end - 1)
        return Opening(at=end, optional=bool(optional), squeezed=written, parts=parts)
    looks = tokens[at].text in _LOOKALIKES and tokens[at + 2].kind is TokenKind.WORD
    unit = unit_at(tokens, at + 1) if looks else None
    food = unit is not None and unit.unit.dimension in {Dimension.MASS, Dimension.VOLUME, Dimension.COUNT}
    return Opening(at=at, optional=bool(optional), vague=_vague(tokens, at), lookalike=food)


def _squeezed(tokens: Tokens, at: int) -> tuple[int, tuple[str, ...]] | None:
    """Where "juice of" ends, and which parts of the fruit it names; a number follows."""
    place, parts = at, []
    while True:
        for _ in range(3):
            if tokens[place].low in PARTS or tokens[place].kind is not TokenKind.WORD:
                break
            place += 1
        if tokens[place].low not in PARTS:
            return None
        parts.append(tokens[place].low.replace("rind", "zest"))
        place += 1
        if tokens[place].low not in {"and", "&"}:
            break
        place += 1
    if tokens[place].low not in {"of", "from"} or number_at(tokens, place + 1) is None:
        return None
    return place + 1, tuple(parts)


def _vague(tokens: Tokens, at: int) -> int:
    """Where "a few", "some", "several of" ends; 0 where none begins."""
    end = 0
    if tokens[at].low == "a" and tokens[at + 1].low in _VAGUE:
        end = at + 2
    elif tokens[at].low in _VAGUE_ALONE:
        end = at + 1
    return end + 1 if end and tokens[end].low == "of" else end


def drafts(tokens: Tokens) -> Iterator[Fault]:
    """The faults of what a writer or an editor left in a line for later."""
    if not any(token.text in _BEGINS or token.low in _DESK for token in tokens.all):
        return
    at = 0
    while at < len(tokens):
        end = _draft(tokens, at)
        if end > at:
            written = tokens.between(at, end)
            yield Fault(
                name="draft-note",
                severity=Severity.ERROR,
                start=tokens[at].start,
                end=tokens[end - 1].end,
                what=f"“{written}” is a note to the desk",
                instead="the amount that was measured, and the note elsewhere",
            )
        at = max(end, at + 1)


def decimal_commas(tokens: Tokens) -> Iterator[Fault]:
    """The questions of commas that are read as decimal points: "1,5 kg"."""
    if "," not in tokens.text:
        return
    for at in range(1, len(tokens) - 1):
        whole, comma, tenths = tokens[at - 1], tokens[at], tokens[at + 1]
        figures = whole.kind is tenths.kind is TokenKind.DIGITS and comma.glued and tenths.glued
        if comma.text != "," or not figures or (len(tenths.text) == 3 and int(whole.text)):
            continue
        plain = f"{whole.text}.{tenths.text}"
        yield Fault(
            name="decimal-comma",
            severity=Severity.WARNING,
            start=whole.start,
            end=tenths.end,
            what=f"“{whole.text},{tenths.text}” is read as {plain}",
            instead=f"“{plain}”",
        )


def _draft(tokens: Tokens, at: int) -> int:
    """Where the note that begins at ``at`` ends; 0 where none begins."""
    token = tokens[at]
    if token.text == "[":
        close = next(
            (place for place in range(at, len(tokens)) if tokens[place].text == "]"), len(tokens) - 1
        )
        return close + 1
    if token.text == "?":
        end = at + 1
        while tokens[end].text == "?":
            end += 1
        return end
    if token.text in _PLACEHOLDERS:
        return at + 1
    if token.low in _DESK and tokens[at + 1].text == ":":
        return next((place for place in range(at, len(tokens)) if tokens[place].text == ")"), len(tokens))
    return 0
