"""Plain text and Markdown, row by row: headings, bullets, numbers of a list, rows of a table, quoted mail."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cardsmith.draft.lines import LOW, Draft, DraftLine, ListMark
from cardsmith.language.figures.list_marks import bulleted, numbered
from cardsmith.regex import regex

MARKDOWN = (".md", ".markdown")
TAB = 4  # columns
LONGEST_BOLD = 8  # words of a heading in bold letters
LONGEST_HEADING = 5  # words of it
_HEADING = regex(r"(?P<level>#+)\s+(?P<text>.*?)[\s#]*")
_SET_OFF = regex(r"(?P<mark>[-=*]{2,}|[~+=*]+)\s+(?P<text>\S.*?)\s+(?P=mark)")  # -- The sauce --
_BOLD = regex(r"(?P<mark>\*\*|__)(?P<text>[^*_]+)(?P=mark)")
_UNDERLINE = regex(r"=+|-+")
_CELL = regex(r"\S+(?: {1,2}\S+)*")
_MAIL_HEADING = regex(r"(?i)(?:from|sent|to|date|subject|von|gesendet|an|datum|betreff):\s")
_TABLE = regex(r"\|(?P<cells>.*)\|")
_QUOTED = regex(r"(?:>\s?)+")
_STRONG = regex(r"(?P<mark>\*\*|__|\*|_)(?P<text>(?:(?!(?P=mark)).)+)(?P=mark)(?P<colon>:?)")
_LATER_LABEL = regex(
    r"(?<=\S)\s+(?P<mark>\*\*|__)(?P<label>[^*_:]+)(?::(?P=mark)|(?P=mark):)\s*(?=\S)"
)  # of several in one row
_LABEL = regex(
    r"(?P<mark>\*\*|__)(?P<label>(?:(?!(?P=mark)).)+?)(?P<colon>:?)(?P=mark)(?P<after>:?)\s*(?P<rest>\S.*)"
)


def read_plain_text(text: str, name: str) -> Draft:
    """The lines of a text.

    >>> [(line.text, str(line.mark)) for line in read_plain_text("# Soup\\n- 2 leeks\\n1. Chop.", "").lines]
    [('Soup', 'heading'), ('2 leeks', 'bullet'), ('Chop.', 'number')]
    """
    rows = text.split("\n")
    lines: list[DraftLine] = []
    gap = True
    for number, row in enumerate(rows, start=1):
        if not row.strip(" \t>"):
            gap = True
            continue
        if lines and not gap and (level := _underlined(row, lines[-1])):
            lines[-1] = _as_heading(lines[-1], level)
            lines.append(_ruled(row, number, gap=False))
            continue
        above, below = rows[max(0, number - 3) : number - 1], rows[number : number + 2]
        beside = (_next_worded(above[::-1]), _next_worded(below))
        quoted = row.lstrip().startswith(">")
        barred = "" if quoted else _barred(row, beside) or _aligned(row, beside)
        line = line_of(barred or row, number, gap=gap)
        lines.append(replace(line, written=row.strip(), wrapped=not barred))
        gap = False
    marked = _set_in(lines) if name.lower().endswith(MARKDOWN) else lines
    return Draft(name=name, lines=tuple(_below_headings(marked)))


def _set_in(lines: list[DraftLine]) -> list[DraftLine]:
    """The lines of Markdown, where one that is quoted alone is set in, and of no other mail."""
    marked = list(lines)
    for at, line in enumerate(lines):
        beside = lines[max(0, at - 1) : at] + lines[at + 1 : at + 2]
        introduced = at > 0 and lines[at - 1].text.endswith(":")
        if line.quoted and not introduced and not any(line.quoted for line in beside):
            marked[at] = replace(line, quoted=False)
    return marked


def _below_headings(lines: list[DraftLine]) -> Iterator[DraftLine]:
    """The lines, those below the heading of another mail as quoted ones: From, Sent, Subject in rows."""
    heads = [bool(_MAIL_HEADING.match(line.written)) for line in lines]
    headed = False
    for at, line in enumerate(lines):
        headed = headed or (at > 1 and heads[at - 2] and heads[at - 1])
        if not headed or heads[at] or line.quoted:
            yield line
        else:
            text = line.written
            yield DraftLine(number=line.number, text=text, written=text, gap=line.gap, quoted=True)


def line_of(row: str, number: int, *, gap: bool) -> DraftLine:
    """One row that is not blank, its marks read."""
    wide = row.expandtabs(TAB)
    written = row.strip()
    indent = len(wide) - len(wide.lstrip())
    quote = _QUOTED.match(written)
    if quote and quote.end() < len(written):
        text = written[quote.end() :].strip()
        return DraftLine(number=number, text=text, written=written, gap=gap, indent=indent, quoted=True)
    if not any(map(str.isalnum, written)):
        return _ruled(row, number, gap=gap)
    if heading := _heading(written):
        text, level = heading
        mark = ListMark.HEADING if level else ListMark.NONE
        return DraftLine(
            number=number, text=text, written=written, mark=mark, level=level, gap=gap, indent=indent
        )
    if cells := _cells(row):
        text = " ".join(filter(None, cells))
        return DraftLine(
            number=number, text=text, written=written, mark=ListMark.ROW, gap=gap, indent=indent, cells=cells
        )
    mark, text = marked(written.lstrip("*=_~") if _is_starred(written) else written)
    return DraftLine(number=number, text=_bare(text), written=written, mark=mark, gap=gap, indent=indent)


def _heading(written: str) -> tuple[str, int] | None:
    """The words and the level of a heading; level 0 for a sentence set off by marks as headings are."""
    if heading := _HEADING.fullmatch(written):
        return _bare(heading["text"]), len(heading["level"])
    bold = _BOLD.fullmatch(written)
    bare = bold["text"] if bold and not any(map(str.isnumeric, bold["text"])) else ""
    if bare and len(bare.split()) <= LONGEST_BOLD and not bare.endswith("."):
        return bare, LOW
    if set_off := _SET_OFF.fullmatch(written):
        text, mark = set_off["text"], set_off["mark"]
        level = LOW - (len(mark) > 1 and mark[0] in "*=")  # *** the loudest ***
        return _bare(text), level if len(text.split()) <= LONGEST_HEADING else 0
    return None


def marked(text: str) -> tuple[ListMark, str]:
    """The mark of a list that a text begins with, and the text without it."""
    if end := bulleted(text):
        inner = text[end:].strip()
        mark, rest = marked(inner) if numbered(inner) else (ListMark.BULLET, inner)
        return mark, rest
    if end := numbered(text):
        return ListMark.NUMBER, text[end:].strip()
    return ListMark.NONE, text


def _bare(text: str) -> str:
    """A text without the marks of emphasis around all of it, or around the label that it begins with."""
    if whole := _STRONG.fullmatch(text):
        return f"{whole['text'].strip()}{whole['colon']}"
    text = _LATER_LABEL.sub(r" | \g<label>: ", text)  # **Serves:** 4 **Time:** 10 min
    if label := _LABEL.fullmatch(text):
        colon = label["colon"] or label["after"]
        return f"{label['label']}{colon} {label['rest']}" if colon else text
    return text


def _next_worded(rows: list[str]) -> str:
    """The first row, or the one behind a rule of dashes."""
    return next((row for row in rows if not row.strip() or any(map(str.isalnum, row))), "")


def _barred(row: str, beside: tuple[str, str]) -> str:
    """A row with bars inside as one between bars, where a row beside it has as many; else nothing."""
    bars, closed = row.count("|"), row.strip().startswith("|")
    alike = (row for row in beside if row.count("|") == bars)
    if bars < 2 or all(closed and row.strip().startswith("|") for row in alike):
        return ""
    return f"|{row.strip()}|"


def _aligned(row: str, beside: tuple[str, str]) -> str:
    """A row of three columns with blanks between, beside one with the same, as one between bars."""
    own = _columns(row)
    for other in map(_columns, beside):
        most = max(own, other, key=len)
        if (
            min(len(own), len(other)) > 1
            and len(most) > 2
            and set(own) <= set(most)
            and set(other) <= set(most)
        ):
            return f"|{'|'.join(own.get(start, '') for start in most)}|"
    return ""


def _columns(row: str) -> dict[int, str]:
    """The cells of a row between wide gaps, by where each begins."""
    return {cell.start(): cell[0] for cell in _CELL.finditer(row)} if not {"|", "\t"} & set(row) else {}


def _is_starred(text: str) -> bool:
    """Whether a line begins with marks that nothing closes, as some set before a title."""
    return text.startswith(("**", "==", "__")) and text[:2] not in text[2:].lstrip(text[0])


def _cells(row: str) -> tuple[str, ...]:
    """The cells of a row between bars, or with tabs between; none where it is no such row."""
    table = _TABLE.fullmatch(row.strip())
    if table:
        return tuple(cell.strip() for cell in table["cells"].split("|"))
    cells = tuple(cell.strip() for cell in row.strip().split("\t"))
    return cells if len(cells) > 1 else ()


def _underlined(row: str, before: DraftLine) -> int:
    """The level of the heading that a row of dashes below a line makes of it; 0 for none."""
    if before.mark is not ListMark.NONE or not _UNDERLINE.fullmatch(row.strip()) or len(row.strip()) < 3:
        return 0
    return 1 if row.strip().startswith("=") else 2


def _as_heading(line: DraftLine, level: int) -> DraftLine:
    return DraftLine(
        number=line.number,
        text=line.text,
        written=line.written,
        mark=ListMark.HEADING,
        level=level,
        gap=line.gap,
    )


def _ruled(row: str, number: int, *, gap: bool) -> DraftLine:
    return DraftLine(number=number, text=row.strip(), written=row.strip(), mark=ListMark.RULE, gap=gap)
