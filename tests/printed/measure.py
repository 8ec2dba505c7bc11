"""The whole path measured: from a drawn meaning to the printed page, and back by a reader of its own.

    python -m tests.printed.measure lines --seed 7 -n 400
    python -m tests.printed.measure sentences --seed 7 -n 400

Prints how many were printed right, wrong without a word (the worst), wrong with a word, asked rightly, not
asked although needed, asked or stopped needlessly, and unreadable; then causes, and kinds of construction,
with samples.
"""

# ruff: noqa: T201 - a script that prints for its reader

from __future__ import annotations

import argparse
import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from tests.language.meaning import line_meanings, sentence_meanings
from tests.language.meaning.statements import Drawn as Line
from tests.printed import compare_lines, compare_sentences
from tests.printed.adapter import Shown, line_as_printed, sentence_as_printed
from tests.printed.meant import Extent, densities, meaning

RIGHT, SILENT, WARNED = "printed right", "printed wrong without a word", "printed wrong with a word"
ASKED, UNASKED = "asked rightly", "not asked although needed"
NEEDLESS, UNREADABLE = "asked or stopped needlessly", "unreadable for this reader"
VERDICTS = (RIGHT, SILENT, WARNED, ASKED, UNASKED, NEEDLESS, UNREADABLE)

# Findings about a figure or its unit. What isn't named here is about foods, cues, words, safety.
ABOUT_NUMBERS = set(
    """number-unread several-foods second-amount two-ingredients two-foods unreadable-amount
    unit-unknown unit-misspelled
    container-size-doubtful thousands-point thousands-comma doubtful-unit sizes-disagree
    weight-volume-disagree weight-count-disagree magnitude-slip decimal-comma
    fraction-closed-up scale-missing scale-implausible own-conversion-off unit-missing ounce-of-liquid
    fluid-ounce-of-solid
    volume-too-coarse draft-note range-backwards range-reversed amount-missing unit-ambiguous fan-setting-off
    oven-off-dial stage-temperature-disagree reads-otherwise""".split()
)
# Findings about a figure that a sensible copy editor raises though the meaning is plain.
SENSIBLE = {
    "missing-density",
    "container-without-size",
    "vague-measure",
    "flour-by-volume",
    "brown-sugar-unpacked",
    "unknown-ingredient",
}
# Stops that come of a recipe of one line or one step, and say nothing of it.
OF_THE_FRAME = set(
    """never-cooked staple-not-cooked gelatine-not-soaked not-left-to-set
    claim-untrue-in-text kept-cold-too-long
    used-not-listed oven-not-heated listed-not-used set-aside-never-used
    prose-amount-disagrees
    oven-temperature-missing doneness-too-low held-in-danger left-out-too-long perishable-kept-warm left-over
    gelatine-not-dissolved low-gelatine review-needed
    poisonous-part unsafe-as-written low-acid-canned pickle-kept-warm beans-underboiled long-hold-too-low
    active-over-total drawn-too-much""".split()
)
WEIGHED_APART = Fraction(1, 10)
FIELDS = ("step", "storage", "headnote", "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One drawn text with what was printed and how it was judged."""

    kind: str
    text: str
    shown: Shown
    verdict: str
    faults: tuple[str, ...]
    remarks: tuple[str, ...]

    def __str__(self) -> str:
        shown = self.shown
        page = f"{shown.us!r} | {shown.metric!r} | {shown.item!r}" if shown.item else repr(shown.us)
        page = page.replace("\\xa0", " ").replace("\\u202f", " ")
        said = f"  stops {', '.join(shown.stops)}" if shown.stops else ""
        asks = [ask for ask in shown.asks if ask in ABOUT_NUMBERS | SENSIBLE]
        said += f"  asks {', '.join(asks)}" if asks else ""
        return f"{self.text!r}\n        -> {page}{said}" + "".join(
            f"\n        ! {one}" for one in self.faults
        )


def judged(
    kind: str, text: str, shown: Shown, found: list[str], *, asked: bool, plain_pair: bool = True
) -> Case:
    """The verdict on one text; `found` holds faults and remarks, `plain_pair` that its pair agrees."""
    faults = tuple(one for one in found if not one.startswith("remark"))
    remarks = tuple(one for one in found if one.startswith("remark"))
    stops = [one for one in shown.stops if one not in OF_THE_FRAME | SENSIBLE]
    asks = [one for one in shown.asks if one in ABOUT_NUMBERS]
    if not plain_pair:
        asks = [one for one in asks if "disagree" not in one]
    if asked:
        about = [one for one in (*shown.stops, *shown.asks) if one in ABOUT_NUMBERS]
        verdict = ASKED if stops or about else UNASKED
    elif stops:
        verdict = NEEDLESS
    elif any("unreadable" in one for one in faults):
        verdict = UNREADABLE
    elif faults:
        verdict = WARNED if asks or any(one in ABOUT_NUMBERS for one in shown.asks) else SILENT
    else:
        verdict = NEEDLESS if asks else RIGHT
    if verdict in (ASKED, UNASKED, NEEDLESS):
        faults = ()
    return Case(kind=kind, text=text, shown=shown, verdict=verdict, faults=faults, remarks=remarks)


def pair_agrees(drawn: Line) -> bool:
    """Whether all that the drawn line says of its amount agrees: a query on a pair is needless.

    Two figures of one dimension to 5 %, a weight and a volume to 10 % of what SR 28 weighs, if it does.
    """
    totals = meaning(drawn).totals()
    return not any(_apart(one, other, drawn.food) for one in totals for other in totals)


def _apart(one: Extent, other: Extent, food: str) -> bool:
    if one.dimension == other.dimension:
        return abs(one.low - other.low) > abs(other.low) / 20
    known = densities(food) if (one.dimension, other.dimension) == ("mass", "volume") else ()
    return bool(known) and all(
        abs(one.low / other.low - density) > density * WEIGHED_APART for density in known
    )


def line_cases(seed: int, number: int, measures: str) -> Iterator[Case]:
    for drawn in line_meanings.draw_lines(seed, number):
        shown = line_as_printed(drawn.text, measures)
        found = [] if drawn.asked else compare_lines.faults(drawn, shown.us, shown.metric, shown.item)
        kind = drawn.kind.split(" + ")[0]
        yield judged(kind, drawn.text, shown, found, asked=drawn.asked, plain_pair=pair_agrees(drawn))


def sentence_cases(seed: int, number: int) -> Iterator[Case]:
    """Of the drawn texts, those whose field the page of one sentence can show."""
    drawn_texts = [one for one in sentence_meanings.draw_sentences(seed, 2 * number) if one.field in FIELDS]
    for drawn in drawn_texts[:number]:
        shown = sentence_as_printed(drawn.text, drawn.field)
        asked = any(entry.kind == "unread" for entry in drawn.entries)
        found = [] if asked else compare_sentences.faults(drawn, shown.us)
        yield judged(f"{drawn.field}: {drawn.kind}", drawn.text, shown, found, asked=asked)


def report(cases: list[Case]) -> Iterator[str]:
    """The whole report, line by line."""
    counts = Counter(case.verdict for case in cases)
    yield f"{len(cases)} texts"
    for verdict in VERDICTS:
        yield f"  {counts[verdict]:4d}  {counts[verdict] / len(cases):6.1%}  {verdict}"
    yield from _by_cause(cases)
    yield from _needless(cases)
    yield from _by_kind(cases)
    yield from _findings(cases)
    yield "\nEVERY TEXT PRINTED WRONG WITHOUT A WORD"
    for case in cases:
        if case.verdict == SILENT:
            yield f"    [{case.kind}] {case}"


def _causes(case: Case) -> Iterable[str]:
    for fault in case.faults or case.remarks:
        yield re.sub(r"'.*'|\(.*?\)|[-+]?\d+(?:\.\d+)?( to \d+\.\d+)?", "…", fault)


def _by_cause(cases: list[Case]) -> Iterator[str]:
    for verdict in (SILENT, WARNED, UNREADABLE, RIGHT):
        causes: dict[str, list[Case]] = defaultdict(list)
        for case in cases:
            if case.verdict == verdict:
                for cause in _causes(case):
                    causes[cause].append(case)
        yield f"\nCAUSES, {verdict}" if verdict != RIGHT else "\nREMARKS on texts printed right"
        for cause, those in sorted(causes.items(), key=lambda pair: -len(pair[1])):
            yield f"  {len(those):4d}  {cause}"
            if verdict == RIGHT:
                yield from (f"      {case}" for case in those[:3])


def _needless(cases: list[Case]) -> Iterator[str]:
    """Stops (in capitals) and asks that made a text count as asked or stopped needlessly."""
    names: dict[str, list[Case]] = defaultdict(list)
    for case in cases:
        if case.verdict == NEEDLESS:
            said = {one.upper() for one in case.shown.stops if one not in OF_THE_FRAME | SENSIBLE}
            for name in said | {one for one in case.shown.asks if one in ABOUT_NUMBERS}:
                names[name].append(case)
    yield "\nASKED OR STOPPED NEEDLESSLY, by finding (stops in capitals)"
    for name, those in sorted(names.items(), key=lambda pair: -len(pair[1])):
        yield f"  {len(those):4d}  {name}   e.g. " + " / ".join(repr(case.text) for case in those[:4])


def _by_kind(cases: list[Case]) -> Iterator[str]:
    kinds: dict[str, list[Case]] = defaultdict(list)
    for case in cases:
        kinds[case.kind.split(" + ")[0]].append(case)
    yield "\nBY KIND OF CONSTRUCTION, three samples of each verdict but printed right and asked rightly"
    for kind, those in sorted(kinds.items()):
        counts = Counter(case.verdict for case in those)
        yield f"  {kind}: " + ", ".join(
            f"{counts[verdict]} {verdict}" for verdict in VERDICTS if counts[verdict]
        )
        for verdict in VERDICTS:
            if verdict not in (RIGHT, ASKED):
                samples = [case for case in those if case.verdict == verdict][:3]
                yield from (f"    {verdict}: {case}" for case in samples)


def _findings(cases: list[Case]) -> Iterator[str]:
    """Names of findings on texts that need no question, with counts and a sample."""
    yield "\nFINDINGS on texts that need no question (stops in capitals)"
    met: dict[str, list[Case]] = defaultdict(list)
    for case in cases:
        if case.verdict not in (ASKED, UNASKED):
            for name in {one.upper() for one in case.shown.stops} | set(case.shown.asks):
                met[name].append(case)
    for name, those in sorted(met.items(), key=lambda pair: -len(pair[1])):
        about = " (about the figure)" if name.lower() in ABOUT_NUMBERS else ""
        yield f"  {len(those):4d}  {name}{about}   e.g. " + " / ".join(repr(case.text) for case in those[:3])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("what", choices=("lines", "sentences"))
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("-n", type=int, default=400)
    parser.add_argument("--measures", default="us", help="what the recipe says its cups and spoons are")
    given = parser.parse_args()
    if 900 <= given.seed <= 999:
        parser.error("seeds from 900 to 999 are kept unread")
    cases = (
        line_cases(given.seed, given.n, given.measures)
        if given.what == "lines"
        else sentence_cases(given.seed, given.n)
    )
    print(f"{given.what}, seed {given.seed}")
    for line in report(list(cases)):
        print(line)


if __name__ == "__main__":
    main()
