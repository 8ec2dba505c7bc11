"""Hold the drawn lines against their own words; the reader of numerals here shares nothing with the writer.

Run alone: `python -m tests.language.meaning.check_lines`.

Every numeral in a text must spell an end of a statement, or belong to
the food's name or to a size of cut; every end but an unwritten 1 must stand in the text. Forty samples are
printed to be read.
"""

import csv
import json
import re
import sys
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from random import Random

from tests.language.meaning.line_meanings import CONSTRUCTIONS, Drawn, Statement, draw_lines
from tests.language.meaning.line_pen import foods

GLYPHS = {"½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8"}
ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
).split()
TENS = "- - twenty thirty forty fifty sixty seventy eighty ninety".split()
PARTS = {
    "half": 2,
    "third": 3,
    "thirds": 3,
    "quarter": 4,
    "quarters": 4,
    "fourth": 4,
    "fourths": 4,
    "eighth": 8,
}
WORDS = (
    {word: Fraction(place) for place, word in enumerate(ONES)}
    | {word: Fraction(place * 10) for place, word in enumerate(TENS) if word != "-"}
    | {word: Fraction(1, part) for word, part in PARTS.items()}
    | {"hundred": Fraction(100), "dozen": Fraction(12)}
)
ATOM = re.compile(
    r"(?P<slash>\d+[/⁄]\d+)(?!\d)|(?P<thousand>\d{1,2},\d{3})(?!\d)|(?P<decimal>\d*[.,]\d+)|(?P<whole>\d+)|(?P<glyph>[½⅓⅔¼¾⅛⅜⅝])|"
    r"\b(?P<share>(?:one|two|three)[\s-](?:half|thirds?|quarters?|fourths?|eighth))\b|"
    rf"\b(?P<article>an?)(?=\s\w+\sand\sa\s)|\b(?P<word>{'|'.join(WORDS)})\b",
    re.IGNORECASE,
)
JOINT = re.compile(r"[\s-]*|[\s-]*and[\s-]*(?:an?\s)?|[\s-]an?[\s-]|\s\w+\sand\sa\s", re.IGNORECASE)
CUT = re.compile(r"cut into \S+(?:[\s-]|-)(?:inch|cm) \w+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Atom:
    """One figure or number word and where it stands."""

    value: Fraction
    word: str
    start: int
    end: int


def atoms(text: str) -> list[Atom]:
    """Return the figures and number words of a text in order."""
    found = []
    for match in ATOM.finditer(text):
        word = match[0].casefold()
        match match.lastgroup:
            case "slash":
                value = Fraction(word.replace("⁄", "/"))
            case "thousand":
                value = Fraction(word.replace(",", ""))
            case "decimal" | "whole":
                value = Fraction(word.replace(",", "."))
            case "glyph":
                value = Fraction(GLYPHS[word])
            case "share":
                count, part = re.split(r"[\s-]", word)
                value = WORDS[count] * WORDS[part]
            case "article":
                value = Fraction(1)
            case _:
                value = WORDS[word]
        found.append(Atom(value=value, word=word, start=match.start(), end=match.end()))
    return found


def spells(run: list[Atom], text: str, wanted: Fraction) -> bool:
    """Tell whether a run of neighbours in the text spells a figure."""
    totals = {run[0].value}
    for before, atom in pairwise(run):
        if not JOINT.fullmatch(text[before.end : atom.start]):
            return False
        if atom.word in ("hundred", "dozen"):
            totals = {total * atom.value for total in totals}
        elif atom.value < 1 or not atom.word.isdigit():
            totals = {
                total + atom.value
                for total in totals
                if total % 10 == 0 or (atom.value < 1 and total % 1 == 0)
            }
        else:
            return False
    return wanted in totals


def unaccounted(drawn: Drawn) -> str:
    """Return what is wrong between the numerals of a line and its statements, or nothing."""
    text = re.sub(r"\s+", " ", drawn.text)
    text = CUT.sub("", text.replace(drawn.food, " ~ ") if atoms(drawn.food) else text)
    wanted = [
        abs(end)
        for entry in drawn.statements
        for end in (
            [entry.low] if (entry.low, entry.high_unit) == (entry.high, "") else [entry.low, entry.high]
        )
        if end
    ]
    left = atoms(text)
    for end in sorted(wanted, key=lambda end: end == 1):  # a 1 may be unwritten, so it takes what is left
        runs = ((i, j) for i in range(len(left)) for j in range(min(len(left), i + 5), i, -1))
        place = next((pair for pair in runs if spells(left[slice(*pair)], text, end)), None)
        if place:
            del left[slice(*place)]
            wanted.remove(end)
    missing = [end for end in wanted if end != 1]
    return (
        f"not in a statement: {[atom.word for atom in left]}; not in the text: {missing}"
        if left or missing
        else ""
    )


def by_hand() -> list[Drawn]:
    """Return the lines decided by hand."""
    with (Path(__file__).parent / "lines_by_hand.csv").open(encoding="utf-8", newline="") as table:
        return [
            Drawn(
                text=row["text"],
                kind=row["id"],
                statements=tuple(
                    Statement(**(entry | {"low": Fraction(entry["low"]), "high": Fraction(entry["high"])}))
                    for entry in json.loads(row["reading"])
                ),
                food=row["food"],
                asked=row["asked"] == "yes",
            )
            for row in csv.DictReader(table)
        ]


def said(line: Drawn) -> str:
    """Return a line with its statements, its food and its construction, to be read by eye."""
    shown = "; ".join(
        f"{entry.low}{f'..{entry.high}' if entry.high != entry.low else ''} {entry.unit}"
        f"{f' to {entry.high_unit}' if entry.high_unit else ''} {entry.of} {entry.bound} {entry.role}"
        for entry in line.statements
    )
    return f"{'?' if line.asked else ' '} {line.text}\n      {shown}  [{line.food}] {line.kind}"


def main() -> None:
    """Check 2,000 lines of each of five seeds, then print what was drawn and forty samples."""
    drawn = [line for seed in range(1, 6) for line in draw_lines(seed, 2000)]
    wrong = [f"{line.text!r} ({line.kind}): {trouble}" for line in drawn if (trouble := unaccounted(line))]
    loose = [f"{line.kind} {line.text!r}: {trouble}" for line in by_hand() if (trouble := unaccounted(line))]
    kinds = Counter(line.kind.split(" + ")[0] for line in drawn)
    report = [
        *wrong,
        f"{len(drawn)} lines, {len({line.text for line in drawn})} different, {len(wrong)} unaccounted for",
        f"{len(CONSTRUCTIONS)} constructions, {len(kinds)} drawn, the rarest {min(kinds.values())} times",
        f"{len(foods())} foods, {sum(line.asked for line in drawn)} lines asked about",
        f"{len(by_hand())} lines by hand; {len(loose)} hold a numeral outside their statements:",
        *loose,
        *(said(line) for line in Random().sample(drawn, 40)),
    ]
    sys.stdout.write("\n".join(report) + "\n")
    assert not wrong, f"{len(wrong)} lines hold a numeral nobody can account for"


if __name__ == "__main__":
    main()
