"""Where YAML trips a cook: what is wrong with a line in plain words, and the line mended.

Works on lines of text alone. `mends` offers changes, the likeliest first; the reader keeps the first
one that lets it read further.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

# indentation and dashes, then perhaps a key, then the text
_LINE = re.compile(r"(?P<lead>\s*(?:-\s+)*)(?:(?P<key>[A-Za-z_][\w-]*):(?:\s+|$))?(?P<value>.*)")
_DASH = re.compile(r"(\s*)-(?=[^\s-])")
_GLUED_KEY = re.compile(r"(?P<lead>\s*(?:-\s+)?)(?P<key>[a-z_]+):(?=[^\s/])")
_FLOW_ENTRY = re.compile(r"(?:^|,)\s*(?P<key>[a-z_]+):\s+")
_BLOCK = re.compile(r"[|>][+-]?[1-9]?[+-]?(\s+#.*)?")  # the head of a block of text
_SIGNS = {
    "*": ("yaml-asterisk", "begins with an asterisk, which YAML takes for a reference"),
    "&": ("yaml-sign", "begins with &, which YAML takes for a name tag"),
    "@": ("yaml-sign", "begins with @, which YAML keeps for itself"),
    "`": ("yaml-sign", "begins with a backtick, which YAML keeps for itself"),
    "%": ("yaml-sign", "begins with %, which YAML keeps for itself"),
    "!": ("yaml-sign", "begins with !, which YAML takes for a type"),
    "|": ("yaml-sign", "begins with |, which YAML takes for a block of text"),
    ">": ("yaml-sign", "begins with >, which YAML takes for a block of text"),
    "?": ("yaml-sign", "begins with ?, which YAML takes for a key"),
    "]": ("yaml-bracket", "begins with a bracket, which YAML takes for the end of a list"),
    "}": ("yaml-bracket", "begins with a brace, which YAML takes for the end of a list"),
    ",": ("yaml-sign", "begins with a comma, which YAML keeps for lists"),
    "[": ("yaml-bracket", "begins with [, which YAML takes for a list"),
    "{": ("yaml-bracket", "begins with {, which YAML takes for a list of keys"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Mend:
    """One way to read on: which rows change (0-based), and what to tell the author."""

    name: str
    row: int
    column: int
    width: int
    what: str
    instead: str
    changes: Mapping[int, str]
    all_at_once: bool = False  # whether the whole file changes, so that faults may remain anywhere

    @property
    def last_row(self) -> int:
        """The last row that changes: reading must get beyond it for the mend to count."""
        return -1 if self.all_at_once else max(self.changes)


def quoted(text: str) -> str:
    """``text`` in the quotes that need no escapes: double, or single where it holds a double one."""
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    return "'" + text.replace("'", "''") + "'"


def mends(lines: Sequence[str], rows: Sequence[int], problem: str) -> Iterator[Mend]:
    """Mends to try for a file that stopped being YAML at one of ``rows``, the likeliest first."""
    if "\\t" in problem or "tab" in problem:
        yield from _tabs(lines)
    for row in rows:
        yield from _spaces(lines, row)
        yield from _entry(lines, row)
    for row in rows:
        yield from _indents(lines, row)
    for row in rows[:1]:
        yield from _last_resort(lines, row)


def _mend(
    name: str, lines: Sequence[str], row: int, what: str, mended: str, column: int | None = None
) -> Mend:
    start = len(lines[row]) - len(lines[row].lstrip()) if column is None else column
    width = max(1, len(lines[row].rstrip()) - start)
    instead = f"write: {mended.strip()}"
    return Mend(
        name=name, row=row, column=start, width=width, what=what, instead=instead, changes={row: mended}
    )


def _tabs(lines: Sequence[str]) -> Iterator[Mend]:
    """Tabs at the beginning of lines, all at once."""
    changes = {}
    for row, line in enumerate(lines):
        lead = line[: len(line) - len(line.lstrip())]
        if "\t" in lead:
            changes[row] = lead.replace("\t", "  ") + line.lstrip()
    if changes:
        first = min(changes)
        others = f", and so are {len(changes) - 1} more lines" if len(changes) > 1 else ""
        yield Mend(
            name="yaml-tab",
            row=first,
            column=lines[first].index("\t"),
            width=1,
            what=f"this line is indented with a tab{others}; YAML knows only spaces",
            instead=f"use two spaces for each level: {changes[first].rstrip()}",
            changes=changes,
            all_at_once=True,
        )


def _spaces(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """A dash or a colon with no space after it."""
    line = lines[row]
    if dash := _DASH.match(line):
        mended = f"{dash[1]}- {line[dash.end() :]}"
        for whole in (mended, _text_quoted(mended)):
            yield _mend("yaml-dash", lines, row, "a dash that begins a line needs a space after it", whole)
    if glued := _GLUED_KEY.match(line):
        mended = f"{line[: glued.end()]} {line[glued.end() :]}"
        what = f"{glued['key']}: needs a space after the colon"
        for whole in (mended, _text_quoted(mended)):
            yield _mend("yaml-colon", lines, row, what, whole, glued.start("key"))


def _text_quoted(line: str) -> str:
    """The line with its text, after dashes and a key, in quotes."""
    match = _LINE.match(line)
    return line[: match.start("value")] + quoted(match["value"].rstrip()) if match else line


def _entry(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """Text that YAML reads as something else: begin, quotes, colon and space."""
    line = lines[row]
    match = _LINE.match(line)
    if match is None or not match["value"]:
        return
    value, column = match["value"].rstrip(), match.start("value")
    before = line[:column]
    whole = before + quoted(value)
    if value[0] in "\"'":
        yield from _quotes(lines, row, before, value)
        return
    if value[0] == "{" and value[-1] == "}":
        mended = before + "{" + _flow(value[1:-1]) + "}"
        what = "a text between braces holds a character that YAML takes for its own"
        if mended != line:
            yield _mend("yaml-colon", lines, row, what, mended, column)
    if value[0] in "[{" and value[-1] not in "]}":
        closing = "]" if value[0] == "[" else "}"
        if closing not in value:
            what = f"the {value[0]} is never closed"
            yield _mend("yaml-bracket", lines, row, what, line.rstrip() + closing, column)
    if value[0] in _SIGNS and not _BLOCK.fullmatch(value):
        name, what = _SIGNS[value[0]]
        yield _mend(name, lines, row, f"this text {what}", whole, column)
        return
    colon = re.search(r":(?=\s|$)", value)
    if colon:
        what = "a colon and a space inside a text begin a new key for YAML"
        yield _mend("yaml-colon", lines, row, what, whole, column + colon.start())


def _quotes(lines: Sequence[str], row: int, before: str, value: str) -> Iterator[Mend]:
    mark = value[0]
    column = len(before)
    name = "double quote" if mark == '"' else "apostrophe"
    closed = value.find(mark, 1)
    if closed < 0:
        what = f"the text begins with a {name} that is never closed".replace("a a", "an a")
        mended = before + value + mark if mark == '"' else before + quoted(value)
        yield _mend("yaml-quote", lines, row, what, mended, column)
    else:
        what = f"the text goes on after its closing {name}"
        yield _mend("yaml-quote", lines, row, what, before + quoted(value), column)


def _flow(inside: str) -> str:
    """The entries of a flow mapping with quotes round each text that needs them."""
    starts = list(_FLOW_ENTRY.finditer(inside))
    ends = [match.start() for match in starts[1:]] + [len(inside)]
    entries = []
    for match, end in zip(starts, ends, strict=True):
        text = inside[match.end() : end].strip()
        plain = text[:1] in ('"', "[", "{") or re.fullmatch(r"\w[^:,\[\]{}#\"]*", text)
        entries.append(f"{match['key']}: {text if plain else quoted(text)}")
    return ", ".join(entries)


def _indents(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """Another indentation: that of a line above, or one level deeper than the line before."""
    line = lines[row]
    if not line.strip():
        return
    here = len(line) - len(line.lstrip())
    above = [text for text in lines[:row] if text.strip()]
    if not above:
        return
    before = above[-1]
    deeper = len(before) - len(before.lstrip()) + 2
    if re.search(r"[|>][+-]?\s*$", before):  # a block of text that was not indented at all
        run = [row]
        while run[-1] + 1 < len(lines) and (text := lines[run[-1] + 1]).strip():
            if re.match(r"\s*(?:- |[a-z_]+:)", text):
                break
            run.append(run[-1] + 1)
        changes = {at: " " * deeper + lines[at].lstrip() for at in run}
        yield Mend(
            name="yaml-indent",
            row=row,
            column=here,
            width=len(line.strip()),
            what="the text below | or > must stand further in than its key",
            instead=f"indent it by two spaces: {changes[row]}",
            changes=changes,
        )
    levels = {len(text) - len(text.lstrip()) for text in above[-40:]} | {deeper}
    for level in sorted(levels - {here}, key=lambda level: (abs(level - here), level)):
        mended = " " * level + line.lstrip()
        what = f"this line is indented by {here} spaces, which fits nothing above it"
        yield Mend(
            name="yaml-indent",
            row=row,
            column=0,
            width=max(1, here),
            what=what,
            instead=f"indent it by {level}: {mended.rstrip()}",
            changes={row: mended},
        )


def _last_resort(lines: Sequence[str], row: int) -> Iterator[Mend]:
    match = _LINE.match(lines[row])
    if match and match["value"]:
        yield _mend(
            "yaml-syntax", lines, row, "YAML can't read this line as it stands", _text_quoted(lines[row])
        )


def flow_item(text: str) -> str:
    """``text`` as it must stand in a list in square brackets."""
    plain = re.fullmatch(r"[\w][^:,\[\]{}#\"']*", text)
    return text if plain else quoted(text)
