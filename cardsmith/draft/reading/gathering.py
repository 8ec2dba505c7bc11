"""Lines gathered one behind the other, numbered as they come: for files that have paragraphs, not rows."""

from __future__ import annotations

from dataclasses import replace

from cardsmith.draft.lines import DraftLine, ListMark, Sort
from cardsmith.draft.reading.characters import cleaned
from cardsmith.draft.reading.plain import line_of

_MARKS = {ListMark.BULLET: "- ", ListMark.NUMBER: "1. "}


class Gathering:
    """The lines so far; a class only to number them."""

    def __init__(self) -> None:
        self.lines: list[DraftLine] = []
        self.gap = True

    def blank(self) -> None:
        """Takes an empty paragraph."""
        self.gap = True

    def add(
        self, text: str, mark: ListMark = ListMark.NONE, level: int = 0, said: Sort | None = None
    ) -> None:
        """Takes a paragraph; a break within it begins a line of its own."""
        rows = [row for row in cleaned(text).split("\n") if row.strip()]
        if not rows:
            self.blank()
        for at, row in enumerate(rows):
            line = line_of(row, len(self.lines) + 1, gap=self.gap or mark is ListMark.HEADING)
            if mark is not ListMark.NONE and line.mark is not ListMark.RULE and not (at and mark in _MARKS):
                line = replace(
                    line,
                    mark=mark,
                    level=level,
                    written=f"{_MARKS.get(mark, '')}{line.written}"
                    if line.mark is ListMark.NONE
                    else line.written,
                )
            self.lines.append(replace(line, said=said, wrapped=False))
            self.gap = mark is ListMark.HEADING

    def add_row(self, cells: tuple[str, ...]) -> None:
        """Takes a row of a table; cells that hold several lines are no row, and follow each other."""
        texts = tuple(cleaned(cell).strip() for cell in cells)
        if any("\n" in cell for cell in texts) or sum(map(bool, texts)) < 2:
            for cell in texts:
                self.add(cell)
            return
        text = " ".join(filter(None, texts))
        number = len(self.lines) + 1
        written = " | ".join(texts)
        self.lines.append(
            DraftLine(number=number, text=text, written=written, mark=ListMark.ROW, gap=self.gap, cells=texts)
        )
        self.gap = False

    def beside(self, what: str, text: str) -> None:
        """Takes what stands beside the last line: a comment on it, words that were taken out of it."""
        if any(map(str.isalnum, text)):
            last = next((line.number for line in reversed(self.lines) if line.said is not Sort.KEPT), 0)
            place = f" on line {last}" if last else ""
            self.add(f"{what}{place}: {' '.join(text.split())}", said=Sort.KEPT)

    def take(self, lines: tuple[DraftLine, ...]) -> None:
        """Takes the lines of another draft, numbered on."""
        start = len(self.lines)
        self.lines += [replace(line, number=start + at) for at, line in enumerate(lines, start=1)]
        self.gap = True
