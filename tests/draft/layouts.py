"""Recipes drawn first and laid out in many manners after, so that what each line is, is known."""

from __future__ import annotations

import random
import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path

from cardsmith.frozen import frozen
from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.tokens import tokenize

FOLDER = Path(__file__).parent / "layouts"


def _rows(name: str) -> list[str]:
    return (FOLDER / f"{name}.txt").read_text(encoding="utf-8").splitlines()


LINES, STEPS, HEADNOTES = _rows("lines"), _rows("steps"), _rows("headnotes")
OTHERS: dict[str, list[str]] = {}
for _row in _rows("others"):
    _kind, _, _text = _row.partition("|")
    OTHERS.setdefault(_kind, []).append(_text)

LIST_LABELS = (
    "Ingredients", "INGREDIENTS", "Ingredients:", "You will need", "What you need:", "Shopping list",
)  # fmt: skip
STEP_LABELS = ("Method", "METHOD", "Method:", "Directions", "What to do", "Instructions:", "How to make it")
MARKS = ("", "- ", "* ", "• ", "– ", "·  ", "[ ] ", "— ", "o ")
NUMBERS = ("{}. ", "{}) ", "({}) ", "Step {}: ", "STEP {} - ", "{}.- ")
WIDTHS = (40, 44, 40)  # of columns set with blanks
KINDS = ("text", "text", "text", "windows", "wide", "markdown", "docx", "odt", "rtf", "html", "mail")
IN_ROWS = frozenset({"text", "windows", "wide", "markdown", "mail", "rtf"})  # kinds whose rows are as typed
WITH_HEADINGS = frozenset({"markdown", "docx", "odt", "html"})
LISTS = ("lines",) * 7 + ("table", "tabs", "aligned", "last", "paragraph", "columns")
SUBHEADS = ("For the {}:", "For the {}", "{}:", "{}", "To make the {}:", "-- {} --")


@frozen
class MeantPart:
    """A component as it was drawn; the name of a recipe's only one is empty."""

    name: str
    lines: tuple[str, ...]
    steps: tuple[str, ...]


@frozen
class Meant:
    """A recipe as it was drawn, before any layout."""

    fields: dict[str, str]
    parts: tuple[MeantPart, ...]


@frozen
class Layout:
    """A recipe as it was laid out: rows of a file of a kind."""

    kind: str
    rows: tuple[str, ...]
    meant: Meant
    one_block: bool  # whether the steps follow each other in one paragraph


class Writer:
    """Draws a recipe and lays it out; a class to hold its dice and the manners that they fell on."""

    def __init__(self, seed: int) -> None:
        dice = self.dice = random.Random(seed)
        self.kind = dice.choice(KINDS)
        self.rich = self.kind in WITH_HEADINGS
        self.in_rows = self.kind in IN_ROWS
        self.capitals = self.chance(0.2)
        self.labelled = self.chance(0.7)
        self.spaced = self.chance(0.8)  # blank lines between the parts of a list
        self.greeted = self.kind == "mail" or self.chance(0.15)
        self.forwarded = self.kind in ("text", "mail") and self.chance(0.1)
        self.one_block = self.chance(0.12)
        self.subhead, self.mark, self.number = map(dice.choice, (SUBHEADS, MARKS, NUMBERS))
        self.lists = dice.choice(LISTS)
        self.food_first = self.chance(0.5)
        self.leaders = dice.choice((": ", " - ", " ........ ", "    "))
        self.steps = dice.choice(("paragraphs", "lines", "numbers", "numbers", "marks"))
        self.parts_in_method = self.chance(0.5)

    def chance(self, of: float) -> bool:
        """Whether the dice fall so, which they do as often as ``of``."""
        return self.dice.random() < of

    def meant(self) -> Meant:
        """A recipe, drawn."""
        dice = self.dice
        fields = {"title": dice.choice(OTHERS["title"])}
        for key, of in (("yield", 0.7), ("time", 0.4), ("equipment", 0.25), ("storage", 0.4), ("desk", 0.25)):
            if self.chance(of):
                fields[key] = dice.choice(OTHERS[key])
        if self.chance(0.5):
            fields["headnote"] = dice.choice(HEADNOTES)
        names = dice.sample(OTHERS["part"], 2) if self.chance(0.3) else [""]
        lines = dice.sample(LINES, dice.randint(3, 7) * len(names))
        steps = dice.sample(STEPS, dice.randint(2, 5) * len(names))
        count = len(names)
        parts = (
            MeantPart(name=name, lines=tuple(lines[at::count]), steps=tuple(steps[at::count]))
            for at, name in enumerate(names)
        )
        return Meant(fields=fields, parts=tuple(parts))

    def layout(self) -> Layout:
        """A recipe, drawn and laid out."""
        meant = self.meant()
        self.one_block = self.one_block and len(meant.parts) == 1
        rows = list(self._recipe(meant))
        if self.in_rows and self.kind != "rtf" and self.chance(0.3):
            width = self.dice.randint(58, 76)
            rows = [row for told in rows for row in self._wrapped(told, width)]
        if self.kind in ("text", "markdown", "mail") and self.chance(0.3):
            rows = [row.replace("'", "’") for row in rows]
        if self.forwarded:
            rows = ["Begin forwarded message:", "", *(f"> {row}".rstrip() for row in rows)]
        rows = list(self._greeted(rows)) if self.greeted else rows
        rows = [*self._heading(meant), *rows] if self.kind == "mail" else rows
        return Layout(kind=self.kind, rows=tuple(rows), meant=meant, one_block=self.one_block)

    def collection(self, count: int) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
        """Several recipes in one file: its kind, its rows, the titles, all set in one manner."""
        self.one_block = self.forwarded = False
        self.greeted = True  # so that no name stands below each
        self.kind = "text" if self.kind == "mail" else self.kind
        manner = self.dice.choice(("{}", "# {}" if self.rich else "{}"))
        capitals = self.chance(0.3)
        rows: list[str] = []
        titles = self.dice.sample(OTHERS["title"], count)
        for title in titles:
            meant = self.meant()
            _, *below = self._recipe(meant)
            rows += [manner.format(title.upper() if capitals else title), *below, "", ""]
        return self.kind, tuple(rows), tuple(titles)

    # --- the recipe ---------------------------------------------------------------------------------

    def _recipe(self, meant: Meant) -> Iterator[str]:
        dice, fields = self.dice, meant.fields
        yield self._title(fields["title"])
        yield ""
        early, late = [], []
        for key in ("yield", "time", "equipment"):
            if key in fields:
                (early if self.chance(0.8) else late).append(fields[key])
        headnote = [fields["headnote"], ""] if "headnote" in fields else []
        before = [*headnote, *early, ""] if self.chance(0.8) else [*early, "", *headnote]
        yield from before
        whole = len(meant.parts) > 1 and self.chance(0.4)  # each part with its list and its steps in turn
        if whole:
            for part in meant.parts:
                yield self._subhead(part.name, 2)
                yield from self._list([part], headed=False)
                yield ""
                yield from self._method([part], headed=False)
                yield ""
        else:
            backwards = self.labelled and self.chance(0.06)
            blocks = [list(self._list(meant.parts)), list(self._method(meant.parts))]
            desk = [fields["desk"], ""] if "desk" in fields else []
            for at, block in enumerate(reversed(blocks) if backwards else blocks):
                yield from block
                yield ""
                yield from desk if at == 0 else ()
        yield from late
        yield ""
        if "storage" in fields:
            yield fields["storage"]
        if whole and "desk" in fields:
            yield ""
            yield fields["desk"]
        if self.chance(0.1) and not self.greeted:
            yield ""
            yield dice.choice(OTHERS["name"])

    def _title(self, title: str) -> str:
        if self.rich and self.chance(0.8):
            return f"# {title}"
        manner = self.dice.choice(("plain", "plain", "capitals", "centred", "labelled", "starred"))
        match manner:
            case "capitals":
                return title.upper()
            case "centred":
                return " " * 24 + title if self.in_rows else title
            case "labelled":
                return f"Recipe: {title}"
            case "starred":
                return f"*** {title} ***"
        return title

    def _label(self, labels: Sequence[str]) -> str:
        label = self.dice.choice(labels)
        return f"## {label}" if self.rich and self.chance(0.8) else label

    def _subhead(self, name: str, level: int) -> str:
        if self.rich and self.chance(0.7):
            return f"{'#' * (level + 1)} {name.capitalize()}"
        told = self.subhead.format(name)
        told = told[:1].upper() + told[1:]
        return told.upper() if self.capitals else told

    # --- the list -----------------------------------------------------------------------------------

    def _list(self, parts: Sequence[MeantPart], *, headed: bool = True) -> Iterator[str]:
        if headed and self.labelled:
            yield self._label(LIST_LABELS)
            yield from [""] * self.chance(0.5)
        for part in parts:
            if headed and part.name:
                yield self._subhead(part.name, 2)
            yield from self._listed(part.lines)
            if part.name and self.spaced:
                yield ""

    def _listed(self, lines: Sequence[str]) -> Iterator[str]:
        split = [(line, *self._split(line)) for line in lines]
        amounts = [amount or line.startswith(("1 (", "2 x")) for line, amount, _ in split]
        match self.lists:
            case "table" if self.kind in ("text", "markdown", "docx", "windows"):
                for row in self._cells(split):
                    yield f"| {' | '.join(row)} |"
            case "aligned" if self.kind in ("text", "windows", "wide", "mail") and not self.forwarded:
                for row in self._cells(split):
                    yield "".join(
                        f"{cell:<{width}}" for cell, width in zip(row, WIDTHS, strict=False)
                    ).rstrip()
            case "tabs" if self.in_rows:
                yield from (f"{amount}\t{food}" for _, amount, food in split)
            case "last" if all(amount for _, amount, _ in split):
                yield from (f"{food}{self.leaders}{amount}" for _, amount, food in split)
            case "paragraph" if not any("," in line for line in lines) and all(amounts[1:]):
                yield ", ".join(lines) + self.dice.choice(("", "."))
            case "columns" if self.in_rows and all(amount for _, amount, _ in split):
                half = (len(lines) + 1) // 2
                for at in range(half):
                    right = lines[half + at] if half + at < len(lines) else ""
                    yield f"{lines[at]:<48}   {right}".rstrip() if right else lines[at]
            case _:
                yield from (f"{self._mark(self.mark)}{line}" for line in lines)

    def _mark(self, mark: str) -> str:
        """A bullet; in a file with lists of its own, the mark that makes one."""
        return "* " if mark and self.rich else mark

    def _cells(self, split: Sequence[tuple[str, str, str]]) -> Iterator[tuple[str, ...]]:
        """Amount, food and, where any line has one, preparation, in the order of this list."""
        prepared = any("," in line for line, _, _ in split)
        for _, amount, food in split:
            name, _, prep = food.partition(", ") if prepared else (food, "", "")
            told = (name, amount) if self.food_first else (amount, name)
            yield (*told, prep) if prepared else told

    def _split(self, line: str) -> tuple[str, str]:
        tokens = tokenize(line)
        found = amount_at(tokens, 0)
        end = found.end if found is not None and found.quantity is not None else 0
        if not end or tokens[end].text == "(" or line.startswith(("2 x", "juice", "zest")):
            return "", line
        start = tokens[end].start
        return line[:start].strip(), line[start:].strip()

    # --- the method ---------------------------------------------------------------------------------

    def _method(self, parts: Sequence[MeantPart], *, headed: bool = True) -> Iterator[str]:
        if headed and self.labelled:
            yield self._label(STEP_LABELS)
            yield from [""] * self.chance(0.5)
        if self.one_block:
            steps = [step for part in parts for step in part.steps]
            numbered = self.chance(0.4)
            told = (f"{at}. {step}" for at, step in enumerate(steps, start=1)) if numbered else steps
            yield " ".join(told)
            return
        at = 0
        for part in parts:
            if headed and part.name and self.parts_in_method:
                yield self._subhead(part.name, 2)
            for step in part.steps:
                at += 1
                match self.steps:
                    case "numbers":
                        yield f"{self.number.format(at)}{step}" if self.in_rows else f"{at}. {step}"
                    case "marks":
                        yield f"{'* ' if self.rich else '- '}{step}"
                    case _:
                        yield step
                        yield from [""] * (self.steps == "paragraphs")

    # --- the letter around it -----------------------------------------------------------------------

    def _heading(self, meant: Meant) -> Iterator[str]:
        yield f"Subject: {self.dice.choice(('Re: ', 'Fwd: ', ''))}{meant.fields['title'].lower()}"
        yield "From: Dorrit Marsh <dorrit@pellwick.example>"

    def _greeted(self, rows: list[str]) -> Iterator[str]:
        dice = self.dice
        yield dice.choice(OTHERS["greeting"])
        yield ""
        yield dice.choice(OTHERS["letter"])
        yield ""
        yield from rows
        yield ""
        yield dice.choice(OTHERS["closing"])
        yield dice.choice(OTHERS["name"])
        if self.in_rows and self.chance(0.3):
            yield ""
            yield "On Mon, 4 May 2026 at 17:02, Hal Tarn wrote:"
            yield "> Where is it? We need 2 eggs more."
            yield "> H."

    def _wrapped(self, row: str, width: int) -> list[str]:
        if len(row) <= width or row.startswith(("|", "#", "On ", ">")) or "   " in row or "\t" in row:
            return [row]
        mark = next((one for one in MARKS if one and row.startswith(one)), "")
        return textwrap.wrap(row, width, subsequent_indent=" " * len(mark), break_on_hyphens=False)
