"""Lines and sentences as drafts have them, written beside what they mean, and judged on the printed page.

    python -m tests.printed.drafts lines
    python -m tests.printed.drafts sentences

The drawn texts share one imagination; these were written from many hands (family cards, prep lists,
newspapers, British, Australian and Indian kitchens, scans, e-mail), meaning first, the reader's code unseen.
What a text says stands in `said`, a term each between semicolons, or `?` where an editor must ask:

- of a line: `2 can; each 400 gram` · `beside about 3 pound` · `or 3 whole` · `for 20 gram` · `nothing`
- of a sentence: `oven 180 celsius; = oven 4 gas_mark` · `time 20-25 minute` · `count 2` · `unread 350`;
  `any` is a temperature whose purpose may be read in several ways.
"""

# ruff: noqa: T201 - a script that prints for its reader

from __future__ import annotations

import csv
import sys
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from cardsmith.language.prose.sentences import readings
from tests.language.meaning.sentence_meanings import Drawn as Sentence
from tests.language.meaning.sentence_pen import Entry
from tests.language.meaning.statements import NOTHING, Statement, say
from tests.language.meaning.statements import Drawn as Line
from tests.printed import compare_lines, compare_sentences
from tests.printed.adapter import line_as_printed, sentence_as_printed
from tests.printed.measure import Case, judged, report

FOLDER = Path(__file__).parent / "drafts"
BOUNDS = {
    "about": "about", "least": "at least", "most": "at most", "scant": "scant", "heaping": "heaping",
    "generous": "generous", "rounded": "rounded",
}  # fmt: skip
ROLES = {"each": "beside", "beside": "beside", "or": "alternative", "for": "for use"}
PLAIN = {"time": "duration"}
KINDS = """amount length vessel count ratio percent reference name times clock difference pressure altitude
power unread""".split()


def rows(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


def ends(figure: str) -> tuple[Fraction, Fraction]:
    """The ends of `3`, `3-4`, `-18` and `5/2`."""
    low, _, high = figure[1:].partition("-")
    low = figure[0] + low
    return Fraction(low), Fraction(high or low)


def statement(term: str) -> Statement:
    """One term of a line: role, bound, figure, unit."""
    if term == "nothing":
        return NOTHING
    words = term.split()
    role = words.pop(0) if words[0] in ROLES else ""
    bound = BOUNDS[words.pop(0)] if words[0] in BOUNDS else "exactly"
    low, high = ends(words[0])
    return say(
        low, words[1].replace("_", " "), high=high, bound=bound,
        of="each" if role == "each" else "all", role=ROLES.get(role, "main"),
    )  # fmt: skip


def entry(term: str) -> Entry:
    """One term of a sentence: `=`, kind or purpose, figure, unit, bound."""
    words = term.split()
    same = words[0] == "="
    kind, figure, *rest = words[same:]
    bound = BOUNDS[rest.pop()] if rest and rest[-1] in BOUNDS else "exactly"
    if kind == "clock":
        return Entry(kind=kind, low=figure, high=figure)
    low, high = ends(figure)
    plain = PLAIN.get(kind, kind)
    heat = kind not in KINDS and kind not in PLAIN
    return Entry(
        kind="temperature" if heat else plain, low=low, high=high, bound=bound, same=same,
        unit=rest[0].replace("_", " ") if rest else "", purpose=kind if heat else "",
    )  # fmt: skip


def line_cases() -> Iterator[Case]:
    for row in rows("lines.csv"):
        asked = row["said"] == "?"
        said = () if asked else tuple(statement(term) for term in row["said"].split("; "))
        drawn = Line(text=row["text"], kind=row["hand"], statements=said, food=row["food"], asked=asked)
        shown = line_as_printed(drawn.text, row["measures"])
        found = [] if asked else compare_lines.faults(drawn, shown.us, shown.metric, shown.item)
        yield judged(drawn.kind, drawn.text, shown, found, asked=asked)


def purposes_off(drawn: Sentence) -> list[str]:
    """Temperatures that the page shows right and the checks would take for another thing's."""
    read = [one.purpose for one in readings(drawn.text) if one.kind.value == "temperature"]
    meant = [one.purpose for one in drawn.entries if one.kind == "temperature" and not one.same]
    if len(read) != len(meant):
        return []
    return [
        f"purpose {got.value if got else 'none'} for {want}"
        for got, want in zip(read, meant, strict=True)
        if want != "any" and (got is None or got.value != want)
    ]


def sentence_cases() -> Iterator[Case]:
    for row in rows("sentences.csv"):
        entries = tuple(entry(term) for term in row["said"].split("; "))
        drawn = Sentence(text=row["text"], field=row["field"], kind=row["hand"], entries=entries)
        shown = sentence_as_printed(drawn.text, drawn.field)
        asked = any(one.kind == "unread" for one in entries)
        found = [] if asked else compare_sentences.faults(drawn, shown.us)
        yield judged(drawn.kind, drawn.text, shown, found + purposes_off(drawn), asked=asked)


if __name__ == "__main__":
    for line in report(list(line_cases() if sys.argv[1:] == ["lines"] else sentence_cases())):
        print(line)
