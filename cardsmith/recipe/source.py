"""Bytes of a recipe file become a tree of text scalars, each with its line and column; nothing is guessed.

Every scalar stays the text that was typed: ``no``, ``0123``, ``1.50`` and ``2026-01-02`` are words, not values.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from cardsmith.finding import Finding, Severity, Where
from cardsmith.recipe import traps

if TYPE_CHECKING:
    from ruamel.yaml.events import Event

MAX_BYTES = 1_000_000
MAX_DEPTH = 12  # the house schema needs five
MAX_MENDS = 50
READ_AGAIN = 8_000_000  # characters read in all while mending, so that a hostile file ends soon

# Characters no editor shows: C0 and C1 controls, line and paragraph separators, writing-direction
# overrides, stray byte order marks. Tab and line feed are dealt with elsewhere.
_UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff\ufffe\uffff]")
_ESCAPED = re.compile(r"\\.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scalar:
    """One text. ``spots`` says where in the file each line of it begins: (offset, line, column)."""

    text: str
    where: Where
    style: str = ""  # "", ', ", | or >
    spots: tuple[tuple[int, int, int], ...] = ()

    def place(self, offset: int) -> Where:
        """Where in the file the character at ``offset`` of the text stands."""
        start, line, column = max(
            (spot for spot in self.spots if spot[0] <= offset),
            default=(0, self.where.line, self.where.column),
        )
        return replace(self.where, line=line, column=column + offset - start)

    def piece(self, start: int, end: int, field: str = "") -> Scalar:
        """The part of the text from ``start`` to ``end`` with its own places."""
        where = replace(self.place(start), field=field or self.where.field)
        later = tuple((at - start, line, column) for at, line, column in self.spots if start < at < end)
        return replace(
            self, text=self.text[start:end], where=where, spots=((0, where.line, where.column), *later)
        )

    def lines(self) -> tuple[Scalar, ...]:
        """The lines as they stand in the file, stripped; blank ones left out."""
        ends = [spot[0] for spot in self.spots[1:]] + [len(self.text)]
        starts = [spot[0] for spot in self.spots] or [0]
        found = []
        for start, end in zip(starts, ends, strict=True):
            piece = self.text[start:end]
            if piece.strip():
                found.append(self.piece(start, start + len(piece.rstrip())))
        return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sequence:
    """A list; ``flow`` for one written in square brackets."""

    items: tuple[Node, ...]
    where: Where
    flow: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Mapping:
    """Keys with their values, in order; ``flow`` for one written in braces."""

    entries: tuple[tuple[Scalar, Node], ...]
    where: Where
    flow: bool = False

    def get(self, key: str) -> Node | None:
        """The value of ``key``."""
        return next((node for name, node in self.entries if name.text == key), None)


Node = Scalar | Sequence | Mapping


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A file read: its text, its tree as far as one could be made, and its faults."""

    file: str
    text: str
    root: Node | None
    findings: tuple[Finding, ...]


def read_source(data: bytes, file: str) -> Source:
    """The tree of a YAML file. Faults of the content are findings; nothing raises.

    Where the file breaks YAML's rules, its text is mended in memory, only to read on to the next fault.
    """
    if len(data) > MAX_BYTES:
        what = f"the file has {len(data):,} bytes; a recipe has a few thousand"
        found = _error(
            "file-too-large",
            Where(file=file),
            what,
            f"keep it under {MAX_BYTES:,} bytes; photos stand beside it",
        )
        return Source(file=file, text="", root=None, findings=(found,))
    text, findings = _decoded(data, file)
    lines = text.split("\n")
    budget = READ_AGAIN
    done: set[int] = set()  # rows mended: each once, so that mending ends
    result = _composed(lines, file)
    for _ in range(MAX_MENDS):
        if not isinstance(result, _Broken):
            break
        mended = None
        for mend in traps.mends(lines, result.rows, result.problem):
            budget -= len(text)
            if budget < 0:
                break
            if not mend.all_at_once and not done.isdisjoint(mend.changes):
                continue
            trial = [mend.changes.get(row, line) for row, line in enumerate(lines)]
            after = _composed(trial, file)
            if not isinstance(after, _Broken) or after.row > mend.last_row:
                mended = mend, trial, after
                break
        if mended is None:
            findings.append(_unmended(result, lines, file))
            break
        mend, lines, result = mended
        done |= set() if mend.all_at_once else set(mend.changes)
        findings.append(_trap(mend, file))
    if isinstance(result, _Broken):
        return Source(file=file, text=text, root=None, findings=tuple(findings))
    root, more = result
    findings += more
    if root is None and not findings:
        findings.append(
            _error(
                "empty-file",
                Where(file=file),
                "the file is empty",
                "begin with a line such as: title: Rye crackers",
            )
        )
    return Source(file=file, text=text, root=root, findings=tuple(findings))


def _error(name: str, where: Where, what: str, instead: str, width: int = 1) -> Finding:
    return Finding(name=name, severity=Severity.ERROR, where=where, what=what, instead=instead, width=width)


def _trap(mend: traps.Mend, file: str) -> Finding:
    where = Where(file=file, line=mend.row + 1, column=mend.column + 1)
    return _error(mend.name, where, mend.what, mend.instead, mend.width)


def _decoded(data: bytes, file: str) -> tuple[str, list[Finding]]:
    """Strict UTF-8 with any line ends; what isn't UTF-8 is told line by line and read as Windows would."""
    findings: list[Finding] = []
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        instead = "save the file as UTF-8 (your editor offers it under 'Save with encoding')"
        return "", [_error("not-utf-8", Where(file=file, line=1), "the file is UTF-16", instead)]
    rows = []
    for number, raw in enumerate(data.removeprefix(b"\xef\xbb\xbf").split(b"\n"), start=1):
        try:
            row = raw.decode("utf-8")
        except UnicodeDecodeError as fault:
            column = len(raw[: fault.start].decode("utf-8")) + 1
            row = raw.decode("cp1252", errors="replace")
            character = bytes([raw[fault.start]]).decode("cp1252", errors="replace")
            what = f"byte {raw[fault.start]:#04x} isn't UTF-8 (in Windows-1252 it would be {character!r})"
            where = Where(file=file, line=number, column=column)
            findings.append(
                _error("not-utf-8", where, what, "save the file as UTF-8 and check this character")
            )
        rows.append(row.removesuffix("\r"))
    text = "\n".join(rows).replace("\r", "\n")
    for number, line in enumerate(text.split("\n"), start=1):
        for match in _UNSEEN.finditer(line):
            where = Where(file=file, line=number, column=match.start() + 1)
            what = f"an invisible character, U+{ord(match[0]):04X}, stands here"
            findings.append(
                _error("control-character", where, what, "delete it; it most likely came with a paste")
            )
    return _UNSEEN.sub(" ", text), findings


@dataclass(frozen=True, slots=True, kw_only=True)
class _Broken:
    """Where YAML gave up: ``row`` is the first suspect, ``rows`` all of them, likeliest first; 0-based."""

    row: int
    column: int
    rows: tuple[int, ...]
    problem: str


class _Refused(Exception):  # noqa: N818 - an internal signal, caught below
    def __init__(self, row: int, column: int, problem: str) -> None:
        super().__init__(problem)
        self.row, self.column, self.problem = row, column, problem


def _unmended(broken: _Broken, lines: list[str], file: str) -> Finding:
    where = Where(file=file, line=min(broken.row, len(lines) - 1) + 1, column=broken.column + 1)
    if broken.problem == "depth":
        what = f"lists are nested more than {MAX_DEPTH} deep"
        return _error(
            "yaml-depth", where, what, "write the recipe as in the example: parts, then lists of lines"
        )
    what = f"this can't be read as YAML ({broken.problem})"
    return _error(
        "yaml-syntax", where, what, "compare indentation, dashes, colons and quotes with the lines above"
    )


def _composed(lines: list[str], file: str) -> tuple[Node | None, list[Finding]] | _Broken:
    from ruamel.yaml import YAML  # noqa: PLC0415 - commands that read no recipe start without it
    from ruamel.yaml.error import MarkedYAMLError, YAMLError  # noqa: PLC0415

    builder = _Builder(lines, file)
    try:
        return builder.document(YAML(typ="safe", pure=True).parse("\n".join(lines) + "\n"))
    except _Refused as refused:
        return _Broken(row=refused.row, column=refused.column, rows=(refused.row,), problem=refused.problem)
    except MarkedYAMLError as fault:
        return _broken(fault, builder.last_row, lines)
    except (YAMLError, ValueError) as fault:  # ValueError: an escape beyond Unicode, "\\UFFFFFFFF"
        row = builder.last_row
        return _Broken(row=row, column=0, rows=(row, row + 1), problem=str(fault).splitlines()[0])


def _broken(fault: Any, last_row: int, lines: list[str]) -> _Broken:
    """The suspects in likely order: what was being scanned, where it failed, what came before."""
    problem, context = fault.problem_mark, fault.context_mark
    scanning = context is not None and (fault.context or "").startswith("while scanning a")
    first = context if scanning else (problem or context)
    before = next((row for row in range(min(first.line, len(lines)) - 1, -1, -1) if lines[row].strip()), 0)
    rows = [first.line, last_row, before]
    rows += [mark.line for mark in (problem, context) if mark is not None]
    known = dict.fromkeys(row for row in rows if row < len(lines))
    return _Broken(row=first.line, column=first.column, rows=tuple(known), problem=str(fault.problem))


class _Builder:
    """Builds nodes from parser events; a class only because the events are a stream with a state."""

    def __init__(self, lines: list[str], file: str) -> None:
        self.lines = lines
        self.file = file
        self.last_row = 0
        self.findings: list[Finding] = []

    def document(self, events: Iterator[Event]) -> tuple[Node | None, list[Finding]]:
        """The one document of the stream."""
        root: Node | None = None
        documents = 0
        for event in events:
            kind = type(event).__name__
            if kind == "DocumentStartEvent":
                documents += 1
                row, column = event.start_mark.line, event.start_mark.column
                if event.version or event.tags:  # type: ignore[attr-defined]
                    raise _Refused(row, column, "directive")
                if documents > 1:
                    where = Where(file=self.file, line=row + 1, column=column + 1)
                    what = "a second document begins here (a line of three dashes)"
                    self.findings.append(
                        _error(
                            "several-documents", where, what, "keep one recipe in a file and drop the dashes"
                        )
                    )
                    break
            elif kind not in ("StreamStartEvent", "StreamEndEvent", "DocumentEndEvent"):
                root = self.node(event, events, "", 0)
        return root, self.findings

    def node(self, event: Any, events: Iterator[Event], field: str, depth: int) -> Node:
        """One node and all below it."""
        row, column = event.start_mark.line, event.start_mark.column
        self.last_row = row
        kind = type(event).__name__
        if kind == "AliasEvent":
            raise _Refused(row, column, "alias")
        if event.anchor is not None:
            raise _Refused(row, column, "anchor")
        if event.tag is not None:
            raise _Refused(row, column, "tag")
        if depth > MAX_DEPTH:
            raise _Refused(row, column, "depth")
        where = Where(file=self.file, line=row + 1, column=column + 1, field=field)
        if kind == "ScalarEvent":
            return self.scalar(event, where)
        if kind == "SequenceStartEvent":
            items: list[Node] = []
            while type(item := next(events)).__name__ != "SequenceEndEvent":
                items.append(self.node(item, events, f"{field}[{len(items)}]", depth + 1))
            return Sequence(items=tuple(items), where=where, flow=bool(event.flow_style))
        return self.mapping(event, events, where, depth)

    def mapping(self, event: Any, events: Iterator[Event], where: Where, depth: int) -> Mapping:
        """A mapping; a key that stands twice is a finding and the first one holds."""
        entries: dict[str, tuple[Scalar, Node]] = {}
        while type(item := next(events)).__name__ != "MappingEndEvent":
            key = self.node(item, events, where.field, depth + 1)
            name = key.text if isinstance(key, Scalar) else ""
            field = f"{where.field}.{name}" if where.field else name
            value = self.node(next(events), events, field, depth + 1)
            if not isinstance(key, Scalar):
                self.findings.append(
                    _error("yaml-syntax", key.where, "a list can't be a key", "put a word before the colon")
                )
            elif name == "<<":
                self.findings.append(
                    _error(
                        "yaml-merge",
                        key.where,
                        "<< merges another entry, which cardsmith doesn't read",
                        "write the lines out here",
                        2,
                    )
                )
            elif name in entries:
                first = entries[name][0].where.line
                self.findings.append(
                    _error(
                        "duplicate-key",
                        key.where,
                        f"{name!r} stands here a second time; the first is on line {first}",
                        "keep one of the two",
                        len(name),
                    )
                )
            else:
                entries[name] = (replace(key, where=replace(key.where, field=field)), value)
        return Mapping(entries=tuple(entries.values()), where=where, flow=bool(event.flow_style))

    def scalar(self, event: Any, where: Where) -> Scalar:
        """A text with the place of each of its lines."""
        style = event.style or ""
        block = style in ("|", ">")
        text = event.value.rstrip("\n") if block else event.value
        spots: list[tuple[int, int, int]] = []
        at = 0
        last = min(event.end_mark.line, len(self.lines) - 1)
        for row in range(event.start_mark.line + block, last + 1):
            line = self.lines[row]
            begin = (
                event.start_mark.column + (style in ("'", '"')) if row + 1 == where.line and not block else 0
            )
            shown = line[begin : event.end_mark.column if row == last and not block else None]
            stripped = shown.strip()
            if row == last and style in ("'", '"'):
                stripped = stripped[:-1].rstrip()
            while at < len(text) and text[at].isspace():
                at += 1
            if not stripped:
                continue
            if row > event.start_mark.line + block and not text.startswith(stripped, at):
                break  # escapes have changed the text: keep the places found so far
            column = begin + len(shown) - len(shown.lstrip()) + 1
            spots.append((at if spots else 0, row + 1, column if spots or at == 0 else column - at))
            at += len(stripped)
        if spots:
            where = replace(where, line=spots[0][1], column=spots[0][2])
        return Scalar(text=text, where=where, style=style, spots=tuple(spots))
