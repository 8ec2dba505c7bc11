"""Numbers as cooks write them: ``1½``, ``1-1/2``, ``.5``, ``two thirds``. Exact, or a fault."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from cardsmith.finding import Finding, Severity, Where
from cardsmith.regex import regex

LONGEST = 12  # digits; more is a slip of the keyboard, not an amount
SPACES = " \t\u00a0\u2009\u202f"  # plain, tabulator, no-break, thin, narrow no-break
SPACE = f"[{SPACES}]"
VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
# What a scoop, a rule or a cook divides by; 180/160 is two temperatures, not a fraction.
DENOMINATORS = frozenset({2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 16, 32, 64})
WHOLES = (
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip
PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4,
    "fourths": 4, "fifth": 5, "fifths": 5, "sixth": 6, "sixths": 6, "eighth": 8, "eighths": 8,
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """Something wrong in a line of text, from ``start`` up to ``end``, before it has a place in a file."""

    name: str
    severity: Severity
    start: int
    end: int
    what: str
    instead: str

    def finding(self, where: Where) -> Finding:
        """The fault as a finding, for a text that begins at ``where``."""
        return Finding(
            name=self.name,
            severity=self.severity,
            where=where.at(self.start),
            what=self.what,
            instead=self.instead,
            width=max(1, self.end - self.start),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberFound:
    """A number and where it ends; ``value`` is None where the faults say why it cannot be read."""

    value: Fraction | None
    end: int
    faults: tuple[Fault, ...] = ()
    spelled: bool = False  # in letters: "two", "a"


_NUMERAL = regex(
    rf"(?P<whole>[0-9]+)(?:{SPACE}*|-|{SPACE}+and{SPACE}+)(?P<vulgar>[{VULGAR}])"
    rf"|(?P<mixed>[0-9]+)(?:{SPACE}+|-|{SPACE}+and{SPACE}+)(?P<top>[0-9]+)[/⁄](?P<bottom>[0-9]+)"
    rf"|(?P<with_part>[0-9]+){SPACE}+and{SPACE}+an?{SPACE}+(?P<part>half|quarter|third)\b"
    r"|(?P<over>[0-9]+)[/⁄](?P<under>[0-9]+)"
    rf"|(?P<alone>[{VULGAR}])"
    r"|(?P<decimal>[0-9]*\.[0-9]+)"
    r"|(?P<comma>[0-9]+(?:,[0-9]+)+)"
    r"|(?P<integer>[0-9]+)"
)
_RUN_ON = regex(rf"[0-9{VULGAR}⁄]|//|[/.,'’][0-9{VULGAR}]|/(?={SPACE}*$)")
_RUN = regex(rf"[0-9{VULGAR}⁄/.,'’]*[0-9{VULGAR}⁄/]")
_APART = regex(rf"{SPACE}*[/⁄]{SPACE}*[0-9]+")
WHOLE_WORD = "|".join(WHOLES)
_PART_WORD = "|".join(sorted(PARTS, key=len, reverse=True))
_SPELLED = regex(
    rf"(?P<half_dozen>half{SPACE}+(?:a{SPACE}+)?dozen)"
    rf"|(?P<and_a>an?|{WHOLE_WORD}){SPACE}+and{SPACE}+(?:a{SPACE}+|one{SPACE}+)?(?P<and_part>half|quarter|third)"
    rf"|(?P<count>an?|{WHOLE_WORD})(?:{SPACE}+|-)(?P<part>{_PART_WORD})(?:{SPACE}+of)?(?:{SPACE}+an?)?"
    rf"|(?P<bare>half|quarter)(?:{SPACE}+of)?(?:{SPACE}+an?)?"
    rf"|(?P<plain>an?|{WHOLE_WORD})",
    re.IGNORECASE,
)
_INSIDE_A_WORD = regex(
    r"[^\W_]|-(?!inch|foot|cup|pound|ounce|quart|pint|gallon|lit|cent|mill|kilo|gram|min|hour|day|week)[^\W\d_]",
    re.IGNORECASE,
)
_DOZEN = regex(rf"{SPACE}+dozen(?![A-Za-z])", re.IGNORECASE)


def vulgar(character: str) -> Fraction:
    """The exact value of a vulgar-fraction character (Unicode compatibility decomposition)."""
    top, bottom = unicodedata.normalize("NFKC", character).split("⁄")
    return Fraction(int(top), int(bottom))


@lru_cache(maxsize=1 << 10)  # asked at one place as a temperature, as a side of a pan, and as an amount
def number_at(text: str, start: int) -> NumberFound | None:
    """The number in figures that begins at ``start``; None where none does."""
    match = _NUMERAL.match(text, start)
    if match is None:
        return None
    if any(len(run) > LONGEST for run in re.findall("[0-9]+", match[0])):
        return _refused(
            start,
            match.end(),
            "number-too-long",
            f"a number of {len(match[0])} characters",
            "a shorter number",
        )
    run = _APART.match(text, match.end())
    if run or _RUN_ON.match(text, match.end()):
        run = run or _RUN.match(text, match.end())
        return _unreadable(text, start, run.end() if run else match.end())
    if match["comma"]:
        return _comma(match["comma"], start)
    value = _value(match)
    if value is None:
        return _unreadable(text, start, match.end())
    dozen = _DOZEN.match(text, match.end())
    return NumberFound(value=value * 12 if dozen else value, end=(dozen or match).end())


def _value(match: re.Match[str]) -> Fraction | None:
    """The value of a numeral without a comma; None for a fraction no cook would write."""
    if match["whole"]:
        return int(match["whole"]) + vulgar(match["vulgar"])
    if match["mixed"]:
        part = _ratio(match["top"], match["bottom"])
        return int(match["mixed"]) + part if part is not None and part < 1 else None
    if match["with_part"]:
        return int(match["with_part"]) + Fraction(1, PARTS[match["part"]])
    if match["over"]:
        return _ratio(match["over"], match["under"])
    if match["alone"]:
        return vulgar(match["alone"])
    return Fraction(match["decimal"] or match["integer"])


def _ratio(top: str, bottom: str) -> Fraction | None:
    return Fraction(int(top), int(bottom)) if int(bottom) in DENOMINATORS else None


def _comma(written: str, start: int) -> NumberFound:
    """A decimal comma is read with a warning; groups of three are thousands, and asked about too."""
    groups = written.split(",")
    end = start + len(written)
    thousands = len(groups[0]) <= 3 and groups[0] != "0" and all(len(group) == 3 for group in groups[1:])
    if not thousands and len(groups) > 2:
        return _unreadable(written, start, end, shown=written)
    plain = "".join(groups) if thousands else ".".join(groups)
    fault = Fault(
        name="thousands-comma" if thousands else "decimal-comma",
        severity=Severity.WARNING,
        start=start,
        end=end,
        what=f"“{written}” is read as {plain}",
        instead=f"“{plain}”, or “{'.'.join(groups)}” if that is meant" if thousands else f"“{plain}”",
    )
    return NumberFound(value=Fraction(plain), end=end, faults=(fault,))


@lru_cache(maxsize=1 << 10)
def spelled_at(text: str, start: int) -> NumberFound | None:
    """The number in letters that begins at ``start`` ("two", "half a", "a third of a"), if any."""
    match = _SPELLED.match(text, start)
    while match and _INSIDE_A_WORD.match(text, match.end()):
        # A longer reading may end inside a word ("a half" in "a halfway"); the shorter one may still do.
        shorter = _SPELLED.match(text, start, match.end() - 1)
        match = shorter if shorter and shorter.end() < match.end() else None
    if match is None:
        return None
    value: Fraction
    if match["half_dozen"]:
        return NumberFound(value=Fraction(6), end=match.end(), spelled=True)
    if match["and_a"]:
        value = _whole(match["and_a"]) + Fraction(1, PARTS[match["and_part"].lower()])
    elif match["count"]:
        value = _whole(match["count"]) / PARTS[match["part"].lower()]
    elif match["bare"]:
        value = Fraction(1, PARTS[match["bare"].lower()])
    else:
        value = _whole(match["plain"])
    dozen = _DOZEN.match(text, match.end())
    if dozen:
        return NumberFound(value=value * 12, end=dozen.end(), spelled=True)
    return NumberFound(value=value, end=match.end(), spelled=True)


def _whole(word: str) -> Fraction:
    return Fraction(1) if word.lower() in {"a", "an"} else Fraction(WHOLES.index(word.lower()) + 1)


def _unreadable(text: str, start: int, end: int, *, shown: str = "") -> NumberFound:
    what = f"“{shown or text[start:end]}” can't be read as a number"
    return _refused(start, end, "unreadable-amount", what, "a number such as 1 1/2, ½ or 0.5")


def _refused(start: int, end: int, name: str, what: str, instead: str) -> NumberFound:
    fault = Fault(name=name, severity=Severity.ERROR, start=start, end=end, what=what, instead=instead)
    return NumberFound(value=None, end=end, faults=(fault,))


def in_words(value: Fraction) -> str:
    """``value`` as a cook writes it: ``1½``, ``⅜``, ``3``; a plain fraction where no character fits."""
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    for character in VULGAR:
        if vulgar(character) == part:
            return f"{whole or ''}{character}"
    return f"{f'{whole} ' if whole else ''}{part.numerator}/{part.denominator}"
