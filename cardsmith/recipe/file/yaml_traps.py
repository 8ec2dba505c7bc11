"""Where YAML trips a cook: what is wrong with a line in plain words, and the line mended.

Works on lines of text alone. `mends` offers changes, the likeliest first; the reader keeps the first
one that lets it read further.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from cardsmith.frozen import frozen
from cardsmith.recipe.schema.recipe import KEYS
from cardsmith.regex import regex

_LEAD = regex(r"\s*(?P<dash>(?:-\s+)*)")
_ANY_KEY = regex(r"[A-Za-z_][\w-]*:(?:\s+|$)")
_BLOCK = regex(r"[|>][+-]?[1-9]?[+-]?(\s+#.*)?")  # the head of a block of text
_BLOCK_END = regex(r"(?:^|\s)[|>][+-]?\s*$")
_TEXT_AFTER_BLOCK = regex(r"(?P<head>[|>][+-]?)\s+(?=[^\W\d_]{2})")
_DASH = regex(r"(?P<lead>\s*)-(?=[^\s-])")
_BULLET = regex(r"(?P<lead>\s*)[*•]\s+(?=\S)")
_KEY = "|".join(sorted(KEYS, key=lambda key: (-len(key), key)))
_KNOWN_KEY = regex(rf"(?:{_KEY}):(?:\s+|$)")
_GLUED_KEY = regex(rf"(?P<lead>\s*(?:-\s+)?)(?P<key>{_KEY}):(?=[^\s/])")
_BARE_KEY = regex(rf"(?P<lead>\s*(?:-\s+)?)(?P<key>{_KEY})\s+(?=\S)")
_FLOW_ENTRY = regex(r"(?:^|,)\s*(?P<key>[a-z_]+):\s+")
_COLON = regex(r":(?=\s|$)")
_SIGNS = {
    "*": ("yaml-asterisk", "an asterisk, which YAML takes for a reference"),
    "&": ("yaml-sign", "&, which YAML takes for the name of a value"),
    "@": ("yaml-sign", "@, which YAML keeps for itself"),
    "`": ("yaml-sign", "a backtick, which YAML keeps for itself"),
    "%": ("yaml-sign", "%, which YAML keeps for itself"),
    "!": ("yaml-sign", "!, which YAML takes for a type"),
    "|": ("yaml-sign", "a bar, which YAML takes for a block of text"),
    ">": ("yaml-sign", ">, which YAML takes for a block of text"),
    "?": ("yaml-sign", "?, which YAML takes for a key"),
    ",": ("yaml-sign", "a comma, which YAML keeps for lists"),
    "[": ("yaml-bracket", "[, which YAML takes for a list"),
    "]": ("yaml-bracket", "], which YAML takes for the end of a list"),
    "{": ("yaml-bracket", "{, which YAML takes for a list of keys"),
    "}": ("yaml-bracket", "}, which YAML takes for the end of a list"),
}


@frozen
class Mend:
    """One way to read on: which rows change (from 0), and what to tell the author."""

    name: str
    row: int
    column: int
    width: int
    what: str
    instead: str
    changes: Mapping[int, str]
    all_at_once: bool = False  # whether rows change all over the file, so that faults may remain anywhere

    @property
    def last_row(self) -> int:
        """The row that reading must get beyond for the mend to count."""
        return -1 if self.all_at_once else max(self.changes)


def quoted(text: str) -> str:
    """``text`` in the quotes that need no escapes: double, or single where it holds a double one."""
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    return "'" + text.replace("'", "''") + "'"


def in_list(text: str) -> str:
    """``text`` as it must stand inside brackets or braces: in quotes where it needs them."""
    return text if re.fullmatch(r"\w[^:,\[\]{}#\"']*", text) else quoted(text)


def mends(lines: Sequence[str], rows: Sequence[int], problem: str) -> Iterator[Mend]:
    """Mends to try for a file that stopped being YAML at one of ``rows``, the likeliest first."""
    if problem in ("depth", "size"):
        return
    if problem == "directive":
        yield from _directives(lines)
    if "\\t" in problem:
        yield from _tabs(lines)
    for row in rows:
        yield from _spaces(lines, row)
        yield from _wrapped(lines, row)
        yield from _entry(lines, row)
    for row in rows:
        yield from _unindented_block(lines, row)
        yield from _indents(lines, row)
    for row in rows:
        yield from _without_colon(lines, row)
    for row in rows[:1]:
        what = "YAML can't read this line as it stands"
        yield _mend("yaml-syntax", lines, row, what, _text_quoted(lines[row]))


def _mend(
    name: str, lines: Sequence[str], row: int, what: str, mended: str, column: int | None = None
) -> Mend:
    """The mend of one row, underlined from ``column`` to its end."""
    start = _depth(lines[row]) if column is None else column
    width = max(1, len(lines[row].rstrip()) - start)
    changes = {row: mended}
    instead = f"write: {mended.strip()}"
    return Mend(name=name, row=row, column=start, width=width, what=what, instead=instead, changes=changes)


def _depth(line: str) -> int:
    return len(line) - len(line.lstrip())


def _value(line: str) -> int:
    """Where the text of a line begins: after the indentation, a dash and a key, if there is one.

    After a dash only a key of the schema counts: "- Glaze: whisk the sugar" is all text.
    """
    lead = _LEAD.match(line)
    assert lead is not None  # every line has an indentation, if only of no space
    key = (_KNOWN_KEY if lead["dash"] else _ANY_KEY).match(line, lead.end())
    return key.end() if key else lead.end()


def _text_quoted(line: str) -> str:
    """The line with its text, after dashes and a key, in quotes."""
    start = _value(line)
    return line[:start] + quoted(line[start:].rstrip())


def _directives(lines: Sequence[str]) -> Iterator[Mend]:
    """Lines before the recipe that tell YAML how to read it."""
    for row, line in enumerate(lines):
        if line.startswith("%"):
            mend = _mend("yaml-sign", lines, row, "a line that begins with % is an order to YAML", "")
            yield replace(mend, instead="the recipe without this line")


def _tabs(lines: Sequence[str]) -> Iterator[Mend]:
    """Tabs before the text of lines, all at once."""
    changes = {}
    for row, line in enumerate(lines):
        start = _value(line)
        if "\t" in line[:start]:
            inner = line[_depth(line) : start].replace("\t", " ")
            changes[row] = line[: _depth(line)].replace("\t", "  ") + inner + line[start:]
    if changes:
        first = min(changes)
        others = f", like {len(changes) - 1} more" if len(changes) > 1 else ""
        yield Mend(
            name="yaml-tab",
            row=first,
            column=lines[first].index("\t"),
            width=1,
            what=f"this line has a tab before its text{others}; YAML knows only spaces",
            instead="two spaces for each level of indentation, and one after a dash or a colon",
            changes=changes,
            all_at_once=True,
        )


def _spaces(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """A dash or a colon with no space after it, or another bullet for the dash."""
    line = lines[row]
    if _DASH.match(line):
        yield from _dashes(lines, row)
    if bullet := _BULLET.match(line):
        mended = f"{bullet['lead']}- {line[bullet.end() :]}"
        for whole in (mended, _text_quoted(mended)):
            yield _mend("yaml-dash", lines, row, "the lines of a list begin with a dash", whole)
    if glued := _GLUED_KEY.match(line):
        mended = f"{line[: glued.end()]} {line[glued.end() :]}"
        what = f"{glued['key']}: needs a space after its colon"
        for whole in (mended, _text_quoted(mended)):
            yield _mend("yaml-colon", lines, row, what, whole, glued.start("key"))


def _dashes(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """Dashes with no space after them, in one line or in several that follow each other."""
    run = [row]
    while run[-1] + 1 < len(lines) and _DASH.match(lines[run[-1] + 1]):
        run.append(run[-1] + 1)
    what = "the dash that begins a line needs a space after it"
    if len(run) > 1:
        what += f", here and in {len(run) - 1} more"
    spaced = {at: _DASH.sub(r"\1- ", lines[at], count=1) for at in run}
    for changes in (spaced, {at: _text_quoted(line) for at, line in spaced.items()}):
        yield replace(_mend("yaml-dash", lines, row, what, changes[row]), changes=changes)


def _without_colon(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """A key with no colon at all."""
    line = lines[row]
    if key := _BARE_KEY.match(line):
        mended = f"{line[: key.end('key')]}: {line[key.end() :]}"
        what = f"{key['key']} needs a colon and a space after it"
        yield _mend("yaml-colon", lines, row, what, mended, key.start("key"))


def _wrapped(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """A text over several lines with a colon and space in it, or a sign that YAML takes for its own."""
    first = row
    while first > 0 and lines[first].strip() and _value(lines[first]) == _depth(lines[first]):
        first -= 1
    start, depth = _value(lines[first]), _depth(lines[first])
    last = first
    while last + 1 < len(lines) and _depth(lines[last + 1]) > depth and _is_text(lines[last + 1]):
        last += 1
    if (
        last > first
        and not lines[first][start:].strip()
        and start > depth
        and not _starts_list(lines[first + 1])
    ):
        what = "a text of several lines needs a bar after its key, or YAML runs them together"
        yield _mend("yaml-block", lines, first, what, f"{lines[first].rstrip()} |")
        return
    texts = [lines[first][start:].strip(), *(line.strip() for line in lines[first + 1 : last + 1])]
    colon = next((at for at, text in enumerate(texts) if _COLON.search(text)), None)
    if (
        last == first
        or not texts[0]
        or texts[0][0] in "\"'|>{"
        or (colon is None and texts[0][0] not in _SIGNS)
    ):
        return
    whole = quoted(" ".join(texts))
    inner = [text.replace("'", "''") if whole[0] == "'" else text for text in texts]
    changes = {
        first + at: f"{lines[first + at][: _depth(lines[first + at])]}{text}" for at, text in enumerate(inner)
    }
    changes[first] = lines[first][:start] + whole[0] + inner[0]
    changes[last] += whole[0]
    if colon is None:
        name, sign = _SIGNS[texts[0][0]]
        what, place = f"this text begins with {sign}", (first, start)
    else:
        name, what = "yaml-colon", "a colon and a space inside a text begin a new key for YAML"
        at = first + colon
        match = _COLON.search(lines[at], start if colon == 0 else 0)
        place = (at, match.start() if match else 0)
    yield Mend(
        name=name,
        row=place[0],
        column=place[1],
        width=1,
        what=what,
        instead=f"write: {(lines[first][:start] + whole).strip()}",
        changes=changes,
    )


def _starts_list(line: str) -> bool:
    return line.lstrip()[:1] in ("-", "*", "•")


def _is_text(line: str) -> bool:
    """Whether a line may go on with the text of the line before: no blank, dash or key of the schema."""
    return bool(line.strip()) and not _KNOWN_KEY.match(line, _depth(line)) and line.lstrip()[:2] != "- "


def _entry(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """Text that YAML reads as something else, by its first sign, its quotes, or a colon and space in it."""
    column = _value(lines[row])
    before, value = lines[row][:column], lines[row][column:].rstrip()
    if not value:
        return
    if value[0] in "\"'":
        yield from _quotes(lines, row, before, value)
    elif value[0] in "[{":
        yield from _brackets(lines, row, before, value)
    elif text := _TEXT_AFTER_BLOCK.match(value):
        what = f"after {text['head']} the text begins on the next line"
        yield _mend("yaml-sign", lines, row, what, before + value[text.end() :], column)
    elif value[0] in _SIGNS and not _BLOCK.fullmatch(value):
        name, sign = _SIGNS[value[0]]
        yield _mend(name, lines, row, f"this text begins with {sign}", before + quoted(value), column)
    elif colon := _COLON.search(value):
        what = "a colon and a space inside a text begin a new key for YAML"
        yield _mend("yaml-colon", lines, row, what, before + quoted(value), column + colon.start())


def _quotes(lines: Sequence[str], row: int, before: str, value: str) -> Iterator[Mend]:
    """Quotes that are never closed, or closed before the end of the text."""
    mark = value[0]
    name = "a double quote" if mark == '"' else "an apostrophe"
    if value.count(mark) == 1:
        what = f"the text begins with {name} that is never closed"
        mended = before + value + mark if mark == '"' else before + quoted(value)
    elif "\\" in value and value[-1] == mark:
        what = "a backslash between double quotes is a command to YAML"
        mended = before + quoted(value[1:-1])
    elif value.count(mark) % 2 and value[-1] == mark:
        what = f"{name} inside the text closes it"
        mended = before + quoted(value[1:-1])
    else:
        what = "the text goes on after the quotes it begins with"
        mended = before + quoted(value)
    yield _mend("yaml-quote", lines, row, what, mended, len(before))


def _brackets(lines: Sequence[str], row: int, before: str, value: str) -> Iterator[Mend]:
    """Brackets and braces: entries that need quotes, one that is never closed, or text that is no list."""
    column = len(before)
    closing = "]" if value[0] == "[" else "}"
    if value[0] == "{" and (mended := before + "{" + _flow(value.strip("{}")) + "}") != before + value:
        if value[-1] == closing:
            what = "a text between braces holds a sign that YAML takes for its own"
            yield _mend("yaml-colon", lines, row, what, mended, column)
        else:
            yield _mend("yaml-bracket", lines, row, "the { is never closed", mended, column)
    if closing not in value:
        yield _mend(
            "yaml-bracket", lines, row, f"the {value[0]} is never closed", before + value + closing, column
        )
    name, sign = _SIGNS[value[0]]
    yield _mend(name, lines, row, f"this text begins with {sign}", before + quoted(value), column)


def _flow(inside: str) -> str:
    """The entries of a mapping in braces, with quotes round each text that needs them."""
    starts = list(_FLOW_ENTRY.finditer(inside))
    if not starts:
        return inside
    ends = [match.start() for match in starts[1:]] + [len(inside)]
    entries = []
    for match, end in zip(starts, ends, strict=True):
        text = inside[match.end() : end].strip()
        closed = text[:1] in ('"', "'", "[", "{") and text[-1:] in ('"', "'", "]", "}")
        entries.append(f"{match['key']}: {text if closed else in_list(text)}")
    return ", ".join(entries)


def _unindented_block(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """Text under | or > that stands no further in than its key."""
    before = _line_before(lines, row)
    if not before or not _BLOCK_END.search(before):
        return
    run = [row]
    while run[-1] + 1 < len(lines) and not re.match(r"\s*(?:$|- |[a-z_]+:)", lines[run[-1] + 1]):
        run.append(run[-1] + 1)
    deeper = " " * (_depth(before) + 2)
    changes = {at: deeper + lines[at].lstrip() for at in run}
    yield Mend(
        name="yaml-indent",
        row=row,
        column=_depth(lines[row]),
        width=max(1, len(lines[row].strip())),
        what="the text under | or > stands no further in than its key",
        instead=f"indent it by two more spaces, from “{lines[row].strip()[:30]}” on",
        changes=changes,
    )


def _line_before(lines: Sequence[str], row: int) -> str:
    return next((line for line in reversed(lines[:row]) if line.strip()), "")


def _indents(lines: Sequence[str], row: int) -> Iterator[Mend]:
    """Another indentation: one level deeper than the line before, or that of a line above."""
    line = _DASH.sub(r"\1- ", lines[row], count=1)
    before = _line_before(lines, row)
    if not line.strip() or not before:
        return
    here = _depth(line)
    deeper = _depth(before) + 2
    levels = {_depth(text) for text in lines[max(0, row - 40) : row] if text.strip()} | {deeper}
    for level in sorted(levels - {here}, key=lambda level: (abs(level - here), -level)):
        yield Mend(
            name="yaml-indent",
            row=row,
            column=0,
            width=max(1, here),
            what=f"an indentation of {_spaces_in(here)} doesn't fit the lines above",
            instead=f"{_spaces_in(level)} before “{line.strip()[:30]}”",
            changes={row: " " * level + line.lstrip()},
        )


def _spaces_in(count: int) -> str:
    return "no spaces" if count == 0 else "1 space" if count == 1 else f"{count} spaces"
