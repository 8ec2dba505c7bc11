"""Hold the drawn sentences against an independent count of their figures; run alone, it prints 40 to read."""

# ruff: noqa: T201 - a script that prints for its reader

from __future__ import annotations

import csv
import json
import re
import sys
from fractions import Fraction
from pathlib import Path
from random import Random

from tests.language.meaning.sentence_meanings import SLOT, Drawn, draw_sentences, read_templates
from tests.language.meaning.sentence_pen import ONES, TENS, VULGAR, Entry

HAND = Path(__file__).with_name("sentences_by_hand.csv")
SMALL = {word: number for number, word in enumerate(ONES)} | {
    word: 10 * number for number, word in enumerate(TENS) if word != "_"
}
WORD = "|".join(sorted(SMALL, key=len, reverse=True))
TOKEN = re.compile(
    rf"""(?P<clock>\d{{1,2}}[:.]\d\d(?=\s?[ap]\.?m|\s?[AP]M)|\b\d\d:\d\d\b)
    | (?P<both_halves>\bhalf[ -]and[ -]half\b)
    | (?P<mixed>\d+[ -](?P<over>\d/\d)(?!\d)) | (?P<slashed>(?<![\d/])[1-9]/[2-9](?!\d))
    | (?P<vulgar>\d*\ ?[{"".join(VULGAR)}])
    | (?P<dozen>\b(?:(?P<dozens>\d+|half\ a|{WORD}|a)\ )dozen\b)
    | (?P<share>\b(?!a\ half[ -]and)(?P<top>a|one|two|three|[123])[ -](?P<bottom>half|thirds?|quarters?)\b)
    | (?P<digits>\d{{1,3}}(?:,\d{{3}})+|\d+(?:\.\d+)?)
    | (?P<hundreds>\b(?:(?P<lead>{WORD}|a)\ )hundred(?:\ (?:and\ )?(?P<tail>(?:{WORD})(?:-(?:{WORD}))?))?\b)
    | (?P<half>\bhalf\b) | (?P<twice>\btwice\b)
    | (?P<words>\b(?:{WORD})(?:-(?:{WORD}))?\b)
    """,
    re.VERBOSE | re.IGNORECASE,
)
SHARES = {"half": 2, "third": 3, "quarter": 4}


def spelt_value(words: str) -> Fraction:
    """The value of one or two number words below a hundred."""
    return Fraction(sum(SMALL[word] for word in words.lower().split("-")))


def value_of(token: re.Match[str]) -> Fraction | str:
    """What one figure of a text is worth, read apart from the generator."""
    text = token.group()
    match token.lastgroup:
        case "clock":
            return text
        case "mixed":
            whole, part = re.split(r"[ -]", token["mixed"])
            return Fraction(whole) + Fraction(part)
        case "slashed":
            return Fraction(text)
        case "vulgar":
            return Fraction(text[:-1].strip() or 0) + VULGAR[text[-1]]
        case "digits":
            return Fraction(text.replace(",", ""))
        case "half" | "both_halves":
            return Fraction(1, 2)
        case "twice":
            return Fraction(2)
        case "words":
            return spelt_value(text)
    if token["dozen"]:
        lead = token["dozens"].lower()
        return 12 * {"a": Fraction(1), "half a": Fraction(1, 2)}.get(lead, None or number(lead))
    if token["share"]:
        return number(token["top"]) / SHARES[token["bottom"].lower().rstrip("s")]
    return 100 * number(token["lead"]) + (spelt_value(token["tail"]) if token["tail"] else 0)


def number(text: str) -> Fraction:
    """A whole number in figures or words; "a" is one."""
    text = text.lower()
    if text in {"a", "half a"}:
        return Fraction(1)
    return Fraction(text) if text.isdigit() else spelt_value(text)


def clock_takes(entry: Entry, figures: list[Fraction | str]) -> bool:
    """Whether a clock's value is told by its figure, with the half of the day left open."""
    hour, minute = map(int, str(entry.low).split(":"))
    if len(figures) != 1:
        return False
    (shown,) = figures
    if isinstance(shown, str):
        shown_hour, shown_minute = map(int, re.split("[:.]", shown))
    else:
        shown_hour, shown_minute = int(shown), 0
    return shown_minute == minute and (shown_hour - hour) % 12 == 0


def takes(entry: Entry, figures: list[Fraction | str]) -> bool:
    """Whether just these figures, in order, could be the words of this entry."""
    if entry.kind == "clock":
        return clock_takes(entry, figures)
    low, high = Fraction(entry.low), Fraction(entry.high)
    signless = [abs(low), abs(high)]
    if any(isinstance(each, str) for each in figures):
        return False
    values = [Fraction(each) for each in figures]
    if low == high:
        if len(values) == 0:
            return low == 1
        if len(values) == 1:
            return values[0] == abs(low) or (values[0] == low - 1 and entry.unit in {"hour", "cup"})
        if len(values) == 2:
            plus = values[0] + values[1] == low and values[1] == Fraction(1, 2)
            return plus or 60 * values[0] + values[1] == low
        return False
    if len(values) == 1 and entry.unit == "minute":
        return values[0] == low and high == 60
    if len(values) == 2:
        return values == signless or values == [low, high / 60]
    return len(values) == 4 and [60 * values[0] + values[1], 60 * values[2] + values[3]] == [low, high]


def covered(figures: list[Fraction | str], entries: tuple[Entry, ...]) -> bool:
    """Whether the entries, in order, take every figure once and none is left."""
    if not entries:
        return not figures
    return any(
        takes(entries[0], figures[:length]) and covered(figures[length:], entries[1:])
        for length in range(min(4, len(figures)) + 1)
    )


def figures_of(text: str) -> list[Fraction | str]:
    """The values of the figures and number words of a text, in order."""
    return [value_of(token) for token in TOKEN.finditer(text)]


UNIT = (
    r"\b(?:a|an) (?:second|minute|hour|day|week|month|cup|inch|foot|teaspoon|tablespoon|gram|litre|pound)\b"
)
IN_NAMES = re.compile(r"lower third of the oven|a side\b")


def stray_figures() -> list[str]:
    """Templates whose own words hold a number: truth would miss it."""
    bare = []
    for templates in read_templates().values():
        for template in templates:
            words = IN_NAMES.sub("", SLOT.sub("_", template))
            if TOKEN.search(words) or re.search(UNIT, words):
                bare.append(template)
    return bare


def check(seeds: range, number_each: int) -> list[Drawn]:
    """Draw, assert that each figure stands in one entry, and hand back what was drawn."""
    drawn = [one for seed in seeds for one in draw_sentences(seed, number_each)]
    wrong = [one for one in drawn if not covered(figures_of(one.text), one.entries)]
    for one in wrong[:20]:
        print("UNCOVERED", one.text, figures_of(one.text), one.entries, sep="\n   ")
    assert not wrong, f"{len(wrong)} of {len(drawn)} texts hold a figure without an entry"
    assert not stray_figures(), stray_figures()
    return drawn


EXCUSED = {  # rows whose figures this count can't read
    "H009", "H056",  # quarter of an hour, without an article
    "H059",  # a minute or two
    "H072",  # half past six
    "H080",  # three half-pint jars
    "H198",  # a half dozen
}  # fmt: skip


def check_by_hand() -> int:
    """Assert the same of the sentences read by hand, and hand back their number."""
    rows = list(csv.DictReader(HAND.open(encoding="utf-8")))
    for row in rows:
        entries = tuple(Entry(**statement) for statement in json.loads(row["reading"]))
        assert covered(figures_of(row["text"]), entries) or row["id"] in EXCUSED, row
        unread = any(each.kind == "unread" for each in entries)
        assert row["asked"] == "yes" or not unread, row
        assert bool(row["reason"]) == (row["asked"] == "yes"), row
    return len(rows)


def main() -> None:
    """Check 2,000 texts of each of five seeds and print 40 to read as a cook."""
    drawn = check(range(1, 6), 2000)
    templates = read_templates()
    print(
        f"{len(drawn)} drawn, {len({one.text for one in drawn})} different, {len(templates)} constructions,"
        f" {sum(map(len, templates.values()))} templates,"
        f" {check_by_hand()} by hand\n"
    )
    for one in Random(sys.argv[1] if len(sys.argv) > 1 else 0).sample(drawn, 40):
        said = "; ".join(
            f"{each.kind} {each.low}" + (f"..{each.high}" if each.low != each.high else "")
            + f" {each.unit}".rstrip() + (f" @{each.purpose}" if each.purpose else "")
            + (f" ~{each.bound}" if each.bound != "exactly" else "") + (" =" if each.same else "")
            for each in one.entries
        )  # fmt: skip
        print(f"[{one.field}: {one.kind}] {one.text}\n      {said}")


if __name__ == "__main__":
    main()
