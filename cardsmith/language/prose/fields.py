"""A field of running text as spans: its marks read, and each numeral of it in one span.

The texts of the spans, joined, are the text that is printed.

>>> [type(span).__name__ for span in read_prose("Bake *8 rolls* at 200 °C.", Where(file=""))]
['Words', 'Told', 'Words', 'Words', 'Measured', 'Words']
"""

from __future__ import annotations

from functools import lru_cache
from itertools import chain, groupby

from cardsmith.finding import Finding, Severity, Where, error
from cardsmith.language.commonmark import Run, place_of, runs_of
from cardsmith.language.faults import Fault
from cardsmith.language.prose.draws import drawn
from cardsmith.language.prose.reading import Reading
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind, Measured, Protected, Span, Told, Unread, Words
from cardsmith.measure.units import System
from cardsmith.reference import OURS, Tables

LONGEST_TEXT = 2_000  # characters; a long step has five hundred
Findings = tuple[Finding, ...]


def read_spans(
    text: str, where: Where, measures: System = System.US, tables: Tables = OURS
) -> tuple[tuple[Span, ...], Findings]:
    """The spans of a step, and what is wrong with its numbers and links."""
    if len(text) > LONGEST_TEXT:
        what = f"the step has {len(text)} characters"
        instead = f"steps of at most {LONGEST_TEXT}"
        return (Words(text=text),), (error("step-too-long", where, what, instead),)
    spans: list[Span] = []
    findings: list[Finding] = []
    for kind, group in groupby(runs_of(text), key=lambda run: run.kind):
        runs = list(group)
        if kind == "text":
            read, faults = _plain(runs, where, text, measures, tables)
            spans += read
            findings += faults
        for run in runs if kind != "text" else ():
            at = place_of(where, text, run.places[0] if run.places else 0)
            if kind == "code":
                spans.append(Protected(text=run.text))
            elif run.target.startswith("#"):
                spans += drawn(run, where, text, measures)
            else:
                findings.append(_bad_target(run, at))
                spans.append(Words(text=run.text))
    return tuple(spans), tuple(findings)


def read_prose(
    text: str, where: Where, measures: System | str = System.US, tables: Tables = OURS
) -> tuple[Span, ...]:
    """The spans of a headnote, a note or a storage text; links are plain text here."""
    return _unlinked(text, where, System(measures), tables)[0]


def unread_in(
    text: str, where: Where, measures: System, severity: Severity, tables: Tables = OURS
) -> Findings:
    """What can't be read of a field that is no step: at most ``severity``, lower in remarks to readers.

    A number in words there is mostly part of a story: "she always made forty".
    """
    findings = _unlinked(text, where, measures, tables)[1]
    lowered = severity is not Severity.ERROR
    return tuple(
        Finding(
            name=finding.name,
            severity=_lowered(finding, severity)
            if lowered and finding.severity is Severity.ERROR
            else finding.severity,
            where=finding.where,
            what=finding.what,
            instead=finding.instead,
            width=finding.width,
        )
        for finding in findings
    )


def _lowered(finding: Finding, severity: Severity) -> Severity:
    worded = finding.name == "number-unread" and not any(character.isdigit() for character in finding.what)
    return Severity.NOTE if worded else severity


@lru_cache(maxsize=1 << 10)  # the loader, the card and the checks ask about the same text
def _unlinked(text: str, where: Where, measures: System, tables: Tables) -> tuple[tuple[Span, ...], Findings]:
    if len(text) > LONGEST_TEXT:
        return (Words(text=text),), ()
    runs = [
        run if run.kind == "code" else Run(text=run.text, places=run.places, emphasis=run.emphasis)
        for run in runs_of(text)
    ]
    spans: list[Span] = []
    findings: list[Finding] = []
    for kind, group in groupby(runs, key=lambda run: run.kind):
        if kind == "code":
            spans += [Protected(text=run.text) for run in group]
            continue
        read, faults = _plain(list(group), where, text, measures, tables)
        spans += read
        findings += faults
    return tuple(spans), tuple(findings)


def stray_links(text: str, where: Where) -> Findings:
    """Links of a headnote or a storage note that lead elsewhere than to an ingredient; none is printed."""
    links = [run for run in (runs_of(text) if len(text) <= LONGEST_TEXT else ()) if run.kind == "link"]
    return tuple(_bad_target(run, where) for run in links if not run.target.startswith("#"))


def _plain(
    runs: list[Run], where: Where, source: str, measures: System, tables: Tables
) -> tuple[list[Span], list[Finding]]:
    """Plain text cut at its numerals; emphasis may begin or end inside one ("**350** °F")."""
    text = "".join(run.text for run in runs)
    places = list(chain.from_iterable(run.places for run in runs))
    by_emphasis = groupby(runs, key=lambda run: run.emphasis)
    stretches = [("".join(run.text for run in group), emphasis) for emphasis, group in by_emphasis]
    spans: list[Span] = []
    findings: list[Finding] = []
    done = 0
    for reading in readings(text, measures, tables):
        spans += _worded(stretches, done, reading.start)
        emphasis = _worded(stretches, reading.start, reading.start + 1)[0].emphasis
        spans.append(_span(reading, place_of(where, source, places[reading.start]), emphasis))
        findings += [_finding(fault, where, source, places) for fault in reading.faults]
        done = reading.end
    spans += _worded(stretches, done, len(text))
    return spans, findings


def _span(reading: Reading, where: Where, emphasis: str) -> Span:
    if reading.sides:
        return Measured(
            where=where,
            text=reading.text,
            sides=reading.sides,
            stated=reading.stated,
            kind=reading.kind,
            purpose=reading.purpose,
            adjective=reading.adjective,
            noun=reading.noun,
            says_bound=reading.says_bound,
            behind=reading.behind,
        )
    if reading.kind is Kind.UNREAD:
        return Unread(
            text=reading.text,
            emphasis=emphasis,
            low=reading.low,
            high=reading.high,
            noun=reading.noun,
            instead=reading.instead,
        )
    return Told(
        text=reading.text,
        emphasis=emphasis,
        kind=reading.kind,
        low=reading.low,
        high=reading.high,
        noun=reading.noun,
    )


def _worded(stretches: list[tuple[str, str]], start: int, end: int) -> list[Words]:
    """The text from ``start`` to ``end`` of stretches, each with its emphasis."""
    worded: list[Words] = []
    for text, emphasis in stretches:
        if piece := text[max(start, 0) : max(end, 0)]:
            worded.append(Words(text=piece, emphasis=emphasis))
        start, end = start - len(text), end - len(text)
    return worded


def _finding(fault: Fault, where: Where, source: str, places: list[int]) -> Finding:
    start = places[min(fault.start, len(places) - 1)]
    return Finding(
        name=fault.name,
        severity=fault.severity,
        where=place_of(where, source, start),
        what=fault.what,
        instead=fault.instead,
        width=max(1, places[min(fault.end, len(places)) - 1] + 1 - start),
    )


def _bad_target(run: Run, where: Where) -> Finding:
    what = f"the link “{run.text}” leads to “{run.target}”"
    instead = "a link to an ingredient's key, such as [50 g](#seeds), or plain words"
    return error("link-target", where, what, instead, run.text)
