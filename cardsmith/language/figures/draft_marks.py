"""How an ingredient line opens, and the marks of a draft that no printed line may hold.

    bullet   = a dot, a box, a dash or a star | number ("." | ")") | letter ")"
    opening  = ["(optional)" | "optional:"] [squeezed | vague]
    squeezed = [words] fruit-part ["and" [words] fruit-part] ("of" | "from")   finely grated zest and juice of
    vague    = "a few" | "some" | "several" | "a little" … ["of"]
    draft    = "TK" | "??" | "[" words "]" | "editor:" …

>>> without_bullet("▢ 2 eggs"), without_bullet("3) 2 eggs"), without_bullet("-2 eggs")
('  2 eggs', '   2 eggs', '-2 eggs')
>>> from cardsmith.language.tokens import tokenize
>>> opening_of(tokenize("finely grated zest and juice of 2 limes")).squeezed
'finely grated zest and juice'
>>> [fault.what for fault in drafts(tokenize("1 cup sugar [was 1¼ in v2]"))]
['“[was 1¼ in v2]” is a note to the desk']
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import gcd

from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault, fault_at
from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.figures.numbers import NUMBER_WORDS, number_at
from cardsmith.language.figures.unit_words import scale_at, unit_at
from cardsmith.language.tokens import BLANKS, DASHES, SLASHES, TokenKind, Tokens, tokenize
from cardsmith.measure.units import Dimension, System
from cardsmith.regex import regex

PARTS = frozenset({"juice", "zest", "rind", "peel", "pulp", "flesh", "seeds"})
_SPACES = rf"[{BLANKS}]"
_DOTS = "•·∙⋅●○◦◯▪▫■□▢◻◼◽◾⬜☐☑☒✓✔✗✘‣⁃➢➤►▶▸▹◆◇❖★☆❏❑"
# A dash is a bullet only before a blank; "1." and "a)" only before a number; "1. 5 kg" may be 1.5.
_BULLET = regex(
    rf"{_SPACES}*(?:"
    rf"[{_DOTS}]+{_SPACES}*"
    rf"|[*{re.escape(''.join(sorted(DASHES)))}]{_SPACES}+"
    rf"|\[{_SPACES}?[xX✓]?\]{_SPACES}+"
    rf"|(?:\d{{1,2}}[.)]|[a-z]\)){_SPACES}+(?=[\d¼-¾⅐-⅞]|(?:an?|{'|'.join(sorted(NUMBER_WORDS))})\b)"
    rf"(?!(?<=\.{_SPACES})\d+{_SPACES}*(?:kg|kilo\w*|l|lit\w+|dl|cm)\b)"
    r")",
    re.IGNORECASE,
)
_STOP = regex(r"(?<![^\W\d_])(?<=\S)[.;,]\s*$|(?<=[^\W\d_]{2})[.;,]\s*$")
_SQUARE = regex(r"\[(?P<inside>[^\[\]()]*)\]")
_SIDES = regex(r"\s*[;,=]\s*|\s+/\s+|(?<=[a-z.])/(?=[\d¼-¾⅐-⅞])", re.IGNORECASE)
_STRAY = frozenset("*•@%&`>|")  # before a number they say nothing
_VAGUE = frozenset({"few", "little", "bit", "lot"})
_VAGUE_ALONE = frozenset({"some", "several", "many", "few"})
_PLACEHOLDERS = frozenset({"TK", "TKTK", "TBC", "TBD", "XX", "XXX", "FIXME", "TODO", "QUERY"})
_DESK = frozenset({"editor", "editors", "ed", "eds", "query", "author", "tester", "copydesk"})
_BEGINS = _PLACEHOLDERS | {"?", "["}
_MARKS = _DESK | {beginning.lower() for beginning in _BEGINS}
_LOOKALIKES = frozenset("l I i S s Z z B O o".split())  # of 1, 5, 2, 8 and 0


@frozen
class Opening:
    """Where the amount of a line begins, and what stands before it."""

    at: int
    optional: bool = False
    squeezed: str = ""  # "finely grated zest and juice"
    parts: tuple[str, ...] = ()  # zest, juice
    vague: int = 0  # the token after "a few"; 0 where nothing vague is said
    minus: bool = False
    lookalike: bool = False  # a letter stands where the figure should


def without_bullet(text: str) -> str:
    """``text`` with blanks for the bullets that a list gives its lines, so that places stay."""
    at = 0
    while (mark := _BULLET.match(text, at)) and mark.end() < len(text):
        at = mark.end()
    return " " * at + text[at:]


def without_stop(text: str) -> str:
    """``text`` with a blank for the stop that ends it; that of a letter belongs to it.

    >>> without_stop("3 cans beans, 15 oz each."), without_stop("Eggs - 2;"), without_stop("milk, 1 c.")
    ('3 cans beans, 15 oz each ', 'Eggs - 2 ', 'milk, 1 c.')
    """
    return _STOP.sub(lambda stop: " " * len(stop[0]), text)


def with_round_brackets(text: str) -> str:
    """``text`` with round brackets for square ones that hold amounts alone: "50 g [2 oz]".

    >>> with_round_brackets("50 g [2 oz] oats"), with_round_brackets("1 cup oats [1 cup before]")
    ('50 g (2 oz) oats', '1 cup oats [1 cup before]')
    """

    def rounded(match: re.Match[str]) -> str:
        alone = all(_is_amount(part) for part in _SIDES.split(match["inside"].strip()))
        return f"({match['inside']})" if alone else match[0]

    return _SQUARE.sub(rounded, text) if "[" in text else text


def _is_amount(text: str) -> bool:
    """Whether all of ``text`` is an amount with a unit: "about 2 oz", "400 g each"."""
    tokens = tokenize(text)
    end = len(tokens) - (tokens[len(tokens) - 1].low == "each")
    amount = amount_at(tokens, 0)
    return amount is not None and amount.quantity is not None and amount.has_unit and amount.end == end


def opening_of(tokens: Tokens) -> Opening:
    """What stands before the amount of a line."""
    at = optional = 0
    if tokens.words(at, "(", "optional", ")"):
        optional = 3
    elif tokens.words(at, "optional", ":"):
        optional = 2
    at += optional
    while tokens[at].text in _STRAY and number_at(tokens, at + 1) is not None:
        at += 1  # "*200 g flour"
    if tokens[at].low == "another" and number_at(tokens, at + 1) is not None:
        at += 1  # "another 3 tbsp flour"
    minus = tokens[at].text in DASHES and number_at(tokens, at + 1) is not None
    if minus:
        return Opening(at=at + 1, optional=bool(optional), minus=True)
    squeezed = _squeezed(tokens, at)
    if squeezed:
        end, parts = squeezed
        written = tokens.between(at, end - 1)
        return Opening(at=end, optional=bool(optional), squeezed=written, parts=parts)
    unit = unit_at(tokens, at + 1) if tokens[at].text in _LOOKALIKES else None
    unit = unit if unit and tokens[unit.end].kind is TokenKind.WORD else None
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
    end += end > 0 and tokens[end].low == "of"
    unit = unit_at(tokens, end) if end else None
    return 0 if unit is not None and unit.unit.system is System.VAGUE else end  # a few drops


def drafts(tokens: Tokens) -> Iterator[Fault]:
    """The faults of what a writer or an editor left in a line for later."""
    if _MARKS.isdisjoint(tokens.low):
        return
    at = 0
    while at < len(tokens):
        end = _draft(tokens, at)
        if end > at:
            instead = "the amount that was measured, and the note elsewhere"
            yield fault_at(tokens, at, end, "draft-note", "“{}” is a note to the desk", instead)
        at = max(end, at + 1)


def decimal_commas(tokens: Tokens) -> Iterator[Fault]:
    """The questions of commas that are read as decimal points, but before a metric unit: "1,5 cups".

    Who writes "1,5 kg" means nothing else; "1,5 cups" may have been 1 or 5.
    """
    if "," not in tokens.text:
        return
    for at, comma in enumerate(tokens.all):
        if comma.text != ",":
            continue
        whole, tenths = tokens[at - 1], tokens[at + 1]
        figures = whole.kind is tenths.kind is TokenKind.DIGITS and comma.glued and tenths.glued
        if not figures or (len(tenths.text) == 3 and int(whole.text)):
            continue
        if _is_metric(tokens, at + 2):
            continue
        plain = f"{whole.text}.{tenths.text}"
        severity = Severity.NOTE if len(tenths.text) < 3 else Severity.WARNING  # no thousands have so few
        what = f"“{{}}” is read as {plain}"
        yield fault_at(tokens, at - 1, at + 2, "decimal-comma", what, f"“{plain}”", severity)


def doubts(tokens: Tokens) -> tuple[Fault, ...]:
    """The questions of figures that may have been meant otherwise."""
    return (*decimal_commas(tokens), *_closed_up(tokens))


def _closed_up(tokens: Tokens) -> Iterator[Fault]:
    """The questions of mixed numbers that lost their blank: "11/2 cups" is 5½ cups, and was 1 1/2."""
    if not any(slash in tokens.text for slash in SLASHES):
        return
    for at, slash in enumerate(tokens.all):
        if slash.text not in SLASHES or not slash.glued or len(tokens[at - 1].text) < 2:
            continue
        number = number_at(tokens, at - 1)
        if number is None or number.value is None or number.value <= 1 or number.end != at + 2:
            continue
        figures, bottom = tokens[at - 1].text, tokens[at + 1].text
        wholes = (
            (figures[:-last], figures[-last:])
            for last in (1, 2)
            if figures[-last] != "0" and gcd(int(figures[-last:]), int(bottom)) == 1
        )
        meant = next((pair for pair in wholes if pair[0].strip("0") and int(pair[1]) < int(bottom)), None)
        if meant is not None:
            whole = f"{meant[0]} {meant[1]}/{bottom}"
            what = f"“{{}}” is read as {figures} over {bottom}; was “{whole}” meant?"
            instead = f"“{whole}”, with a space before the fraction"
            yield fault_at(tokens, at - 1, at + 2, "fraction-closed-up", what, instead, Severity.WARNING)


def _is_metric(tokens: Tokens, at: int) -> bool:
    """Whether a metric unit, a scale or a percent sign follows a figure."""
    unit_found = unit_at(tokens, at) or scale_at(tokens, at)
    return tokens[at].text == "%" or (unit_found is not None and unit_found.unit.system is System.METRIC)


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
