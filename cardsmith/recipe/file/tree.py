"""YAML as a tree of text scalars, each with its line and column; a place where YAML breaks is a value too.

Every scalar stays the text that was typed: ``no``, ``0123``, ``1.50`` and ``2026-01-02`` are words.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from cardsmith.finding import Finding, Severity, Where
from cardsmith.frozen import frozen
from cardsmith.recipe.file.events import events
from cardsmith.recipe.file.yaml_traps import quoted
from cardsmith.regex import regex

if TYPE_CHECKING:
    from ruamel.yaml.events import Event

MAX_TOLD = 200  # findings about one file's tree
MAX_NODES = 8_000  # keys, texts and lists; a long recipe has 300
MAX_DEPTH = 12  # the house schema needs five
# Characters no editor shows: C0 and C1 controls, line and paragraph separators, writing-direction
# overrides, stray byte order marks, halves of surrogate pairs. Tab and line feed are dealt with elsewhere.
UNSEEN = regex(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff\ufeff\ufffe\uffff]"
)
_QUOTES = ("'", '"')
_EATEN = regex(r"\s+(?P<comment>#(?=[^\s#]).*)")  # "2 #10 cans": no comment has a word glued on
_INDENT = regex(r"\s*")
_GLUED_ITEM = regex(r"\s*-(?=[^\s-])")
_NEW_ITEM = regex(r"\s*(?:- |[a-z_]+: )")


@frozen
class Scalar:
    """One text. ``spots`` says where in the file each line of it begins: (offset, line, column)."""

    text: str
    where: Where
    style: str = ""  # "" plain, else ' " | >
    spots: tuple[tuple[int, int, int], ...] = ()

    def place(self, offset: int) -> Where:
        """Where in the file the character at ``offset`` of the text stands."""
        before = [spot for spot in self.spots if spot[0] <= offset]
        start, line, column = before[-1] if before else (0, self.where.line, self.where.column)
        return replace(self.where, line=line, column=column + offset - start)

    def piece(self, start: int, end: int, field: str = "") -> Scalar:
        """The part of the text from ``start`` to ``end`` with its own places."""
        where = replace(self.place(start), field=field or self.where.field)
        later = tuple((at - start, line, column) for at, line, column in self.spots if start < at < end)
        spots = ((0, where.line, where.column), *later)
        return replace(self, text=self.text[start:end], where=where, spots=spots)

    def lines(self) -> tuple[Scalar, ...]:
        """The lines as they stand in the file, stripped; blank ones left out."""
        spots = self.spots or ((0, self.where.line, self.where.column),)
        ends = [*(spot[0] for spot in spots[1:]), len(self.text)]
        scalars = []
        for (start, line, column), end in zip(spots, ends, strict=True):
            for part in self.text[start:end].split("\n"):  # more than one only by an escape
                if text := part.strip():
                    where = replace(self.where, line=line, column=column)
                    scalars.append(Scalar(text=text, where=where, spots=((0, line, column),)))
        return tuple(scalars)

    def on_one_line(self) -> Scalar:
        """The text with its lines joined by single spaces."""
        return run_together(self.lines()) if len(self.spots) > 1 or "\n" in self.text else self


def run_together(lines: tuple[Scalar, ...]) -> Scalar:
    """Lines, at least one, joined by single spaces; each keeps its place."""
    offset, spots = 0, []
    for line in lines:
        spots.append((offset, line.where.line, line.where.column))
        offset += len(line.text) + 1
    return Scalar(text=" ".join(line.text for line in lines), where=lines[0].where, spots=tuple(spots))


@frozen
class Sequence:
    """A list; ``flow`` for one written in square brackets."""

    items: tuple[Node, ...]
    where: Where
    flow: bool = False


@frozen
class Mapping:
    """Keys with their values, in order; ``flow`` for one written in braces."""

    entries: tuple[tuple[Scalar, Node], ...]
    where: Where
    flow: bool = False

    def get(self, key: str) -> Node | None:
        """The value of ``key``."""
        return next((node for name, node in self.entries if name.text == key), None)


Node = Scalar | Sequence | Mapping


@frozen
class Tree:
    """The one document of a file (None where it is empty) and what is wrong with it short of its syntax."""

    root: Node | None
    findings: tuple[Finding, ...]


@frozen
class Broken:
    """Where YAML gave up: ``row`` is the first suspect, ``rows`` all of them, likeliest first; from 0."""

    row: int
    column: int
    rows: tuple[int, ...]
    problem: str


class _Refused(Exception):  # noqa: N818 - a signal inside this module
    def __init__(self, mark: Any, problem: str, place: tuple[int, int] | None = None) -> None:
        super().__init__(problem)
        row, column = place or (mark.line, mark.column)
        rows = tuple(dict.fromkeys((row, mark.line)))
        self.broken = Broken(row=row, column=column, rows=rows, problem=problem)


def tree_of(lines: list[str], shown: list[str], file: str) -> Tree | Broken:
    """The tree of the YAML in ``lines``.

    ``shown`` are the lines as the author sees them, where ``lines`` were mended to read on: places are
    given in these.
    """
    from ruamel.yaml.error import MarkedYAMLError, YAMLError  # noqa: PLC0415 - as in events

    builder = _Builder(lines, shown, file)
    try:
        return builder.document(events("\n".join(lines) + "\n"))
    except _Refused as refused:
        return refused.broken
    except MarkedYAMLError as fault:
        return _broken(fault, builder.last_row, lines)
    except (YAMLError, ValueError, OverflowError) as fault:  # "\UFFFFFFFF" is beyond Unicode
        row = builder.last_row
        return Broken(row=row, column=0, rows=(row, row + 1), problem=str(fault).split("\n", maxsplit=1)[0])


def _broken(fault: Any, last_row: int, lines: list[str]) -> Broken:
    """The suspects in likely order: what was being scanned, where it failed, what came before."""
    problem, context = fault.problem_mark, fault.context_mark
    scanning = context is not None and (fault.context or "").startswith("while scanning a")
    first = context if scanning else (problem or context)
    before = next((row for row in range(min(first.line, len(lines)) - 1, -1, -1) if lines[row].strip()), 0)
    rows = [first.line, last_row, before]
    rows += [mark.line for mark in (problem, context) if mark is not None]
    known = dict.fromkeys(row for row in rows if row < len(lines))
    return Broken(row=first.line, column=first.column, rows=tuple(known), problem=str(fault.problem))


def _depth(line: str) -> int:
    indent = _INDENT.match(line)
    return indent.end() if indent else 0


class _Builder:
    """Builds nodes from parser events; a class only because the events are a stream with a state."""

    def __init__(self, lines: list[str], shown: list[str], file: str) -> None:
        self.lines = lines
        self.shown = shown
        self.file = file
        self.last_row = 0
        self.nodes = 0
        self.findings: list[Finding] = []

    def tell(self, name: str, where: Where, what: str, instead: str, width: int = 1) -> None:
        severity = Severity.WARNING if name == "yaml-comment" else Severity.ERROR
        finding = Finding(name=name, severity=severity, where=where, what=what, instead=instead, width=width)
        if len(self.findings) < MAX_TOLD:
            self.findings.append(finding)

    def where(self, row: int, column: int, field: str = "") -> Where:
        """A place of the mended text as a place of the author's."""
        if row < len(self.lines) and self.lines[row] != self.shown[row]:
            shown_at = self.shown[row].find(self.lines[row][column : column + 12].rstrip("\"' "))
            column = shown_at if shown_at >= 0 else column
        return Where(file=self.file, line=row + 1, column=column + 1, field=field)

    def document(self, events: Iterator[Event]) -> Tree:
        """The one document of the stream."""
        root: Node | None = None
        documents = 0
        for event in events:
            kind = type(event).__name__
            if kind == "DocumentStartEvent":
                documents += 1
                if event.version or event.tags:  # type: ignore[attr-defined]
                    raise _Refused(event.start_mark, "directive")
                if documents > 1:
                    where = self.where(event.start_mark.line, event.start_mark.column)
                    what = "a second document begins at these dashes"
                    self.tell("several-documents", where, what, "one recipe in a file, without the dashes", 3)
                    break
            elif kind not in ("StreamStartEvent", "StreamEndEvent", "DocumentEndEvent"):
                root = self.node(event, events, "", 0)
        return Tree(root=root, findings=tuple(self.findings))

    def node(self, event: Any, events: Iterator[Event], field: str, depth: int) -> Node:
        """One node and all below it."""
        self.last_row = event.start_mark.line
        kind = type(event).__name__
        if kind == "AliasEvent":
            raise _Refused(event.start_mark, "alias")
        if event.anchor is not None or event.tag is not None:
            raise _Refused(event.start_mark, "anchor" if event.tag is None else "tag")
        self.nodes += 1
        if depth > MAX_DEPTH or self.nodes > MAX_NODES:
            raise _Refused(event.start_mark, "depth" if depth > MAX_DEPTH else "size")
        if kind == "ScalarEvent":
            return self.scalar(event, field)
        where = self.where(event.start_mark.line, event.start_mark.column, field)
        if kind == "MappingStartEvent":
            return self.mapping(event, events, where, depth)
        items: list[Node] = []
        while type(item := next(events)).__name__ != "SequenceEndEvent":
            items.append(self.node(item, events, f"{field}[{len(items)}]", depth + 1))
        return Sequence(items=tuple(items), where=where, flow=bool(event.flow_style))

    def mapping(self, event: Any, events: Iterator[Event], where: Where, depth: int) -> Mapping:
        """A mapping; of a key that stands twice the first holds, and the second is a finding."""
        entries: dict[str, tuple[Scalar, Node]] = {}
        while type(item := next(events)).__name__ != "MappingEndEvent":
            key = self.node(item, events, where.field, depth + 1)
            mark = item.start_mark
            if self.lines[mark.line][: mark.column].endswith("? "):
                raise _Refused(event.start_mark, "a question mark that begins a key")
            name = key.text if isinstance(key, Scalar) else ""
            field = f"{where.field}.{name}" if where.field else name
            value = self.node(next(events), events, field, depth + 1)
            if not isinstance(key, Scalar):
                self.tell("yaml-syntax", key.where, "a list can't be a key", "a word before the colon")
            elif name == "<<":
                what = "<< copies another entry, which a recipe can't"
                self.tell("yaml-merge", key.where, what, "the lines themselves, written out here", 2)
            elif name in entries:
                what = f"{name} stands here again; it is on line {entries[name][0].where.line} already"
                self.tell("duplicate-key", key.where, what, "one of the two", max(1, len(name)))
            else:
                where_key = Where(file=self.file, line=key.where.line, column=key.where.column, field=field)
                scalar = Scalar(text=key.text, where=where_key, style=key.style, spots=key.spots)
                entries[name] = (scalar, value)
        return Mapping(entries=tuple(entries.values()), where=where, flow=bool(event.flow_style))

    def scalar(self, event: Any, field: str) -> Scalar:
        """A text with the place of each of its lines."""
        start, style = event.start_mark, event.style or ""
        text = event.value.rstrip("\n") if style in ("|", ">") else event.value
        spots = tuple(self.spots(event, style, text))
        if spots:
            where = Where(file=self.file, line=spots[0][1], column=spots[0][2], field=field)
        else:
            where = self.where(start.line, start.column + (style in _QUOTES), field)
        scalar = Scalar(text=text, where=where, style=style, spots=spots)
        if unseen := UNSEEN.search(text):
            what = f"the escape in this text stands for an invisible character (U+{ord(unseen[0]):04X})"
            self.tell("control-character", where, what, "the text without it")
            scalar = replace(scalar, text=UNSEEN.sub(" ", text))
        if not style:
            self.eaten(event, scalar)
            self.joined(event)
        elif style in _QUOTES and event.end_mark.line > start.line:
            depth = _depth(self.lines[start.line])
            later = self.lines[start.line + 1 : event.end_mark.line + 1]
            if any(_NEW_ITEM.match(line) and _depth(line) <= depth for line in later):
                raise _Refused(
                    start, "a quote that closes lines further down"
                )  # it closes at some other quote, lines further down
        return scalar

    def joined(self, event: Any) -> None:
        """Refuses a plain text that has run on over the next item of its list."""
        start = event.start_mark
        alone = start.column == _depth(self.lines[start.line]) if start.line < len(self.lines) else False
        if alone and _GLUED_ITEM.match(self.lines[start.line]):
            if event.end_mark.line > start.line:
                raise _Refused(start, "a dash inside a text")
            return
        for row in range(start.line + 1, min(event.end_mark.line + 1, len(self.lines))):
            line = self.lines[row]
            glued = _GLUED_ITEM.match(line) and self.in_list(start) and _depth(line) < start.column
            if glued or line.lstrip().startswith("- "):
                raise _Refused(start, "a dash inside a text", (row, _depth(line)))

    def in_list(self, mark: Any) -> bool:
        """Whether a text follows the dash of a list."""
        return bool(self.lines[mark.line][: mark.column].rstrip().endswith("-"))

    def spots(self, event: Any, style: str, text: str) -> Iterator[tuple[int, int, int]]:
        """Offset, line and column of each line of a text; escapes end the search, since they change it."""
        start, end = event.start_mark, event.end_mark
        block = style in ("|", ">")
        at = 0
        for row in range(start.line + block, min(end.line, len(self.lines) - 1) + 1):
            begin = start.column + (style in _QUOTES) if row == start.line else 0
            stop = end.column - (style in _QUOTES) if row == end.line and not block else None
            piece = self.lines[row][begin:stop]
            stripped = piece.strip()
            while at < len(text) and text[at].isspace():
                at += 1
            if not stripped or at >= len(text):
                continue
            if not text.startswith(stripped, at):
                if row == start.line:  # an escape in the first line: its beginning still stands
                    yield 0, row + 1, self.where(row, begin).column
                return
            place = self.where(row, begin + len(piece) - len(piece.lstrip()))
            yield at, place.line, place.column
            at += len(stripped)

    def eaten(self, event: Any, scalar: Scalar) -> None:
        """Text after a plain scalar that YAML drops as a comment, though it looks like more text."""
        row = event.end_mark.line
        if row >= len(self.lines):
            return
        match = _EATEN.match(self.lines[row], event.end_mark.column)
        if match:
            where = self.where(row, match.start("comment"))
            what = f"“{match['comment'].rstrip()}” is a comment for YAML and won't be printed"
            instead = f"the text in quotes: {quoted((scalar.text + match[0]).strip())}"
            self.tell("yaml-comment", where, what, instead, len(match["comment"].rstrip()))


def mappings_of(node: Mapping, key: str) -> tuple[Mapping, ...]:
    """The mappings in the list under a key."""
    value = node.get(key)
    items = value.items if isinstance(value, Sequence) else ()
    return tuple(item for item in items if isinstance(item, Mapping))
