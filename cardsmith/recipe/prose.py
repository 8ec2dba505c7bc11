"""Steps and headnotes: CommonMark's inline marks, and every measure in the running text."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from itertools import groupby
from typing import TYPE_CHECKING
from urllib.parse import unquote

from cardsmith.finding import Finding, Severity, Where
from cardsmith.language.spans import Draw, Measured, Protected, Span, Words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.amounts import amount_at
from cardsmith.recipe.model import Step
from cardsmith.recipe.numbers import SPACE, Fault, number_at, spelled_at
from cardsmith.recipe.passages import passages
from cardsmith.regex import regex

_MARKED = regex(r"[\\`*_\[&]")  # what begins any mark that is read; most steps have none
LONGEST_STEP = 2_000  # characters; a long one has five hundred
_REST = regex(r"\b(?:rest|remaining|remainder|leftover|left over|what is left)\b", re.IGNORECASE)
_ALL = regex(r"\s*(?:all|the whole|everything)\b", re.IGNORECASE)
_LEAD = regex(
    rf"{SPACE}*(?:(?:the|another|a{SPACE}+further|all|remaining|other|last|first){SPACE}+)*", re.IGNORECASE
)
_HALF = regex(rf"(?:the{SPACE}+|one{SPACE}+|a{SPACE}+)?(?:other{SPACE}+|first{SPACE}+)?half\b", re.IGNORECASE)
_PERCENT = regex(rf"(?P<number>[0-9]{{1,3}}){SPACE}*(?:%|percent\b|per{SPACE}cent\b)", re.IGNORECASE)


if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """Visible text of one kind; ``places`` says where each character stands in the source."""

    text: str
    places: tuple[int, ...]
    kind: str = "text"  # text, code, link
    emphasis: str = ""
    target: str = ""


@cache
def _markdown() -> MarkdownIt:
    """Emphasis, code spans, links, escapes and entities of CommonMark 0.31; no HTML, no images."""
    from markdown_it import MarkdownIt  # noqa: PLC0415 - a text without any mark is read without it

    rules = ["emphasis", "backticks", "link", "entity", "escape"]
    markdown = MarkdownIt("zero").enable(rules).disable("text_join")
    markdown.validateLink = lambda url: True  # type: ignore[method-assign]  # javascript: too is told
    return markdown


def read_step(
    text: str, where: Where, measures: System | str = System.US
) -> tuple[Step, tuple[Finding, ...]]:
    """The spans of a step, and what is wrong with its numbers and links.

    The texts of the spans, joined, are the text that is printed.
    """
    findings: list[Finding] = []
    spans: list[Span] = []
    if len(text) > LONGEST_STEP:
        long = Finding(
            name="step-too-long",
            severity=Severity.ERROR,
            where=where,
            what=f"the step has {len(text)} characters",
            instead=f"steps of at most {LONGEST_STEP}",
        )
        return Step(where=where, text=text, spans=(Words(text=text),)), (long,)
    for kind, group in groupby(_runs(text), key=lambda run: run.kind):
        runs = list(group)
        if kind == "text":
            found, faults = _plain(runs, where, text, System(measures))
            spans += found
            findings += faults
        for run in runs if kind != "text" else ():
            at = _at(where, text, run.places[0] if run.places else 0)
            if kind == "code":
                spans.append(Protected(text=run.text))
                continue
            if not run.target.startswith("#"):
                findings.append(_bad_target(run, at))
                spans.append(Words(text=run.text))
                continue
            spans += _drawn(run, where, text, System(measures))
    return Step(where=where, text=text, spans=tuple(spans)), tuple(findings)


@lru_cache(maxsize=1 << 10)
def read_prose(text: str, where: Where, measures: System | str = System.US) -> tuple[Span, ...]:
    """The spans of a headnote or a storage note; links are plain text here. Every stage reads them again."""
    if len(text) > LONGEST_STEP:
        return (Words(text=text),)
    runs = [
        run if run.kind == "code" else _Run(text=run.text, places=run.places, emphasis=run.emphasis)
        for run in _runs(text)
    ]
    spans: list[Span] = []
    for kind, group in groupby(runs, key=lambda run: run.kind):
        if kind == "code":
            spans += [Protected(text=run.text) for run in group]
        else:
            spans += _plain(list(group), where, text, System(measures))[0]
    return tuple(spans)


def stray_links(text: str, where: Where) -> tuple[Finding, ...]:
    """Links of a headnote or a storage note that lead elsewhere than to an ingredient; none is printed."""
    links = [run for run in (_runs(text) if len(text) <= LONGEST_STEP else ()) if run.kind == "link"]
    return tuple(_bad_target(run, where) for run in links if not run.target.startswith("#"))


def visible(text: str) -> str:
    """What a reader sees of ``text``, without its marks."""
    return "".join(run.text for run in _runs(text))


def _runs(text: str) -> list[_Run]:
    """The visible stretches of ``text`` in order."""
    flat = re.sub(r"[\r\n\t\v\f\x85\u2028\u2029]", " ", text.replace("\0", "\ufffd"))
    if not _MARKED.search(flat):
        return [_Run(text=flat, places=tuple(range(len(flat))))] if flat else []
    tokens = _markdown().parseInline(flat)[0].children or []
    runs: list[_Run] = []
    emphasis: list[str] = []
    link: list[_Run] | None = None
    target = ""
    cursor = 0
    for token in tokens:
        if token.type in {"em_open", "strong_open"}:
            emphasis.append(token.type.removesuffix("_open"))
        elif token.type in {"em_close", "strong_close"}:
            emphasis.pop()
        elif token.type == "link_open":
            link, target = [], unquote(str(token.attrs["href"]))
        elif token.type == "link_close" and link is not None:
            runs.append(
                _Run(
                    text="".join(run.text for run in link),
                    places=tuple(place for run in link for place in run.places),
                    kind="link",
                    target=target,
                )
            )
            link = None
        else:
            start = flat.find(token.markup if token.type == "text_special" else token.content, cursor)
            run = _run(token, max(start, cursor), emphasis)
            cursor = max(start, cursor) + len(token.markup if token.type == "text_special" else token.content)
            (runs if link is None else link).append(run)
    return [run for run in runs if run.text]


def _run(token: Token, start: int, emphasis: list[str]) -> _Run:
    special = token.type == "text_special"
    places = tuple(start + (0 if special else offset) for offset in range(len(token.content)))
    if token.type == "code_inline":
        return _Run(text=token.content, places=places, kind="code")
    strongest = "strong" if "strong" in emphasis else "em" if emphasis else ""
    return _Run(text=token.content, places=places, emphasis=strongest)


def _at(where: Where, text: str, offset: int) -> Where:
    """Where ``offset`` of a text that begins at ``where`` stands, over line breaks too."""
    before = text[:offset]
    if "\n" not in before:
        return where.at(offset)
    column = offset - before.rindex("\n")
    return Where(file=where.file, line=where.line + before.count("\n"), column=column, field=where.field)


def _plain(runs: list[_Run], where: Where, source: str, measures: System) -> tuple[list[Span], list[Finding]]:
    """Plain text cut at its measures; emphasis may begin or end inside one ("**350** °F")."""
    text = "".join(run.text for run in runs)
    places = [place for run in runs for place in run.places]
    marks = [run.emphasis for run in runs for _ in run.text]
    found, faults = passages(text, measures)
    spans: list[Span] = []
    done = 0
    for one in found:
        spans += _worded(text, marks, done, one.start)
        spans.append(
            Measured(
                where=_at(where, source, places[one.start]),
                text=text[one.start : one.end],
                sides=one.sides,
                stated=one.stated,
                purpose=one.purpose,
                adjective=one.adjective,
            )
        )
        done = one.end
    spans += _worded(text, marks, done, len(text))
    findings = [_finding(fault, where, source, places) for fault in faults]
    return spans, findings


def _worded(text: str, marks: list[str], start: int, end: int) -> list[Span]:
    return [
        Words(text="".join(text[at] for at in group), emphasis=mark)
        for mark, group in groupby(range(start, end), key=lambda at: marks[at])
    ]


def _finding(fault: Fault, where: Where, source: str, places: list[int]) -> Finding:
    start = places[min(fault.start, len(places) - 1)]
    return Finding(
        name=fault.name,
        severity=fault.severity,
        where=_at(where, source, start),
        what=fault.what,
        instead=fault.instead,
        width=max(1, places[min(fault.end, len(places)) - 1] + 1 - start),
    )


def _bad_target(run: _Run, where: Where) -> Finding:
    return Finding(
        name="link-target",
        severity=Severity.ERROR,
        where=where,
        what=f"the link “{run.text}” leads to “{run.target}”",
        instead="a link to an ingredient's key, such as [50 g](#seeds), or plain words",
        width=max(1, len(run.text)),
    )


def _drawn(run: _Run, where: Where, source: str, measures: System) -> list[Span]:
    """What a link draws from an ingredient: an amount, a share, the rest, or nothing but its name.

    Words before an amount ("the remaining 20 g") stay words, so that the draw begins with its number.
    """
    text, key = run.text, run.target[1:]
    lead = _LEAD.match(text)
    begin = lead.end() if lead else 0
    amount = _amount_drawn(text, begin, measures)
    if amount is not None:
        draw = Draw(where=_at(where, source, run.places[begin]), text=text[begin:], key=key, amount=amount)
        return [Words(text=text[:begin]), draw] if begin else [draw]
    rest = _REST.search(text) is not None
    share = None if rest else _share(text, begin)
    return [Draw(where=_at(where, source, run.places[0]), text=text, key=key, share=share, rest=rest)]


def _amount_drawn(text: str, start: int, measures: System) -> Quantity | None:
    """The amount at the beginning of a link's text; a plain count too ("2 of the eggs", "1 egg")."""
    found = amount_at(text, start, measures)
    if found is None or found.quantity is None or (found.article and not found.unit_written):
        return None
    quantity = found.quantity
    if not found.unit_written and (quantity.low < 1 or quantity.low.denominator != 1):
        return None  # "half", "1/3 of the butter": shares
    return quantity if quantity.dimension in {Dimension.MASS, Dimension.VOLUME, Dimension.COUNT} else None


def _share(text: str, start: int) -> Fraction | None:
    percent = _PERCENT.match(text, start)
    if percent:
        return Fraction(int(percent["number"]), 100)
    if _ALL.match(text):
        return Fraction(1)
    if _HALF.match(text):
        return Fraction(1, 2)
    number = number_at(text, start) or spelled_at(text, start)
    if number is None or number.value is None or not 0 < number.value < 1:
        return None
    return number.value
