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


def _kinds(name: str) -> dict[str, list[str]]:
    """The rows of a file by the word before their bar."""
    found: dict[str, list[str]] = {}
    for row in _rows(name):
        kind, _, text = row.partition("|")
        found.setdefault(kind, []).append(text)
    return found


OTHERS = _kinds("others") | {
    "line": _rows("lines"), "step": _rows("steps"), "headnote": _rows("headnotes"),
}  # fmt: skip
BENCH = _kinds("bench")  # as cooks write for themselves: small letters, few words, no stops

LIST_LABELS = (
    "Ingredients", "INGREDIENTS", "Ingredients:", "You will need", "What you need:", "Shopping list",
    "Ingredients for one batch", "What goes in", "INGREDIENTS -", "~ Ingredients ~", "[Ingredients]",
)  # fmt: skip
STEP_LABELS = (
    "Method", "METHOD", "Method:", "Directions", "What to do", "Instructions:", "How to make it", "Method -",
    "~ Method ~", "[Method]", "Procedure", "Steps:",
)  # fmt: skip
BENCH_LABELS = (("ingredients", "method"), ("ingr:", "method:"), ("need", "do"), ("ings", "how"))
MARKS = (
    "", "- ", "* ", "• ", "– ", "·  ", "[ ] ", "— ", "o ", "+ ", "» ", "-", "•", "~ ",
)  # fmt: skip
NUMBERS = (
    "{}. ", "{}) ", "({}) ", "Step {}: ", "STEP {} - ", "{}.- ", "{} - ", "{}: ", "#{} ", "{}.",
    "Step {}. ", "{}/ ", "[{}] ",
)  # fmt: skip
WIDTHS = (40, 44, 40)  # of columns set with blanks
KINDS = ("text", "text", "text", "windows", "wide", "markdown", "docx", "odt", "rtf", "html", "mail")
IN_ROWS = frozenset({"text", "windows", "wide", "markdown", "mail", "rtf"})  # kinds whose rows are as typed
WITH_HEADINGS = frozenset({"markdown", "docx", "odt", "html"})
LISTS = ("lines",) * 7 + ("table", "tabs", "aligned", "last", "paragraph", "columns", "numbered")
SUBHEADS = (
    "For the {}:", "For the {}", "{}:", "{}", "To make the {}:", "-- {} --", "[{}]", "* {} *", "{} -",
    "for {}", "{} ingredients:", "= {} =",
)  # fmt: skip
TITLES = (
    "{}", "{}", "{}", "Recipe: {}", "*** {} ***", "== {} ==", "Title: {}", "RECIPE – {}", "“{}”", "{}:",
    "{}.", "_{}_",
)  # fmt: skip
WITH_YIELD = ("{} -- {}", "{} – {}", "{} ({})", "{}, {}", "{} | {}", "{}: {}", "{} / {}")
BETWEEN_FACTS = (" | ", "; ", ", ", " / ", " · ", ". ", "   ", " - ")
BETWEEN_RECIPES = ("", "", "* * *", "-----", "=====", "~~~~~~~~", "___________", "###", "\f", "- 2 -", "…")
NUMBERED_TITLES = ("{0}. {1}", "{0}) {1}", "Recipe {0}: {1}", "RECIPE {0} – {1}", "No. {0} {1}")
_SENT = "From: Hal Tarn <hal@pellwick.example>\nSent: 4 May 2026 17:02\nTo: Dorrit Marsh\nSubject: tart\n"
QUOTES = (  # the rows above a quoted mail, and the mark before its own
    ("On Mon, 4 May 2026 at 17:02, Hal Tarn wrote:", "> "),
    (f"-----Original Message-----\n{_SENT}", ""),
    ("Am 04.05.2026 um 17:02 schrieb Hal Tarn:", "> "),
    (f"________________________________\n{_SENT}", ""),
)


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
        self.bench = self.in_rows and self.kind != "markdown" and self.chance(0.3)
        self.small = self.bench and self.chance(0.5)  # no capitals at all
        self.texts = OTHERS | BENCH if self.bench else OTHERS
        self.capitals = self.chance(0.2)
        self.labelled = self.chance(0.3 if self.bench else 0.7)
        self.list_label, self.step_label = dice.choice(LIST_LABELS), dice.choice(STEP_LABELS)
        if self.bench:
            self.list_label, self.step_label = dice.choice(BENCH_LABELS)
        self.spaced = self.chance(0.8)  # blank lines between the parts of a list
        self.greeted = self.kind == "mail" or self.chance(0.15)
        self.forwarded = self.kind in ("text", "mail") and self.chance(0.1)
        self.one_block = self.chance(0.12)
        self.subhead, self.mark, self.number = map(dice.choice, (SUBHEADS, MARKS, NUMBERS))
        self.lists = "lines" if self.bench else dice.choice(LISTS)
        self.food_first = self.chance(0.5)
        self.leaders = dice.choice((": ", " - ", " ........ ", "    ", ", ", " – ", "  "))
        self.steps = dice.choice(("paragraphs", "lines", "numbers", "numbers", "marks", "headed"))
        self.parts_in_method = self.chance(0.5)
        self.title, self.after_title = dice.choice(TITLES), self.chance(0.8)

    def chance(self, of: float) -> bool:
        """Whether the dice fall so, which they do as often as ``of``."""
        return self.dice.random() < of

    def meant(self) -> Meant:
        """A recipe, drawn."""
        dice, texts = self.dice, self.texts
        fields = {"title": dice.choice(texts["title"])}
        for key, of in (("yield", 0.7), ("time", 0.4), ("equipment", 0.25), ("storage", 0.4), ("desk", 0.25)):
            if self.chance(of):
                fields[key] = dice.choice(texts[key])
        if self.chance(0.1 if self.bench else 0.5):
            fields["headnote"] = dice.choice(texts["headnote"])
        if self.chance(0.15):
            fields["note"] = dice.choice(texts["note"])
        names = dice.sample(texts["part"], 2) if self.chance(0.3) else [""]
        count = len(names)
        lines = self._drawn("line", dice.randint(3, 7) * count)
        steps = self._drawn("step", dice.randint(2, 5) * count)
        parts = (
            MeantPart(name=name, lines=tuple(lines[at::count]), steps=tuple(steps[at::count]))
            for at, name in enumerate(names)
        )
        told = {key: text.lower() if self.small else text for key, text in fields.items()}
        return Meant(fields=told, parts=tuple(parts))

    def _drawn(self, kind: str, count: int) -> list[str]:
        """Lines or steps; those of the bench mixed with others that nobody polished."""
        among = self.texts[kind]
        if self.bench:
            among = [*among, *self.dice.sample(OTHERS[kind], len(among) // 2)]
        drawn = self.dice.sample(among, min(count, len(among)))
        return [one.lower().rstrip(".") for one in drawn] if self.small else drawn

    def layout(self) -> Layout:
        """A recipe, drawn and laid out."""
        meant = self.meant()
        self.one_block = self.one_block and len(meant.parts) == 1 and not self.bench
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
        dice = self.dice
        self.one_block = self.forwarded = False
        self.kind = "text" if self.kind == "mail" else self.kind
        lettered = self.in_rows and self.chance(0.3)
        self.greeted = True  # so that no name stands below each
        manner = "# {}" if self.rich and self.chance(0.5) else self.title
        rule = dice.choice(BETWEEN_RECIPES) if self.in_rows else ""
        numbered = dice.choice(NUMBERED_TITLES) if self.chance(0.15) else ""
        capitals = self.chance(0.3)
        rows: list[str] = []
        titles = [one.lower() if self.small else one for one in dice.sample(self.texts["title"], count)]
        for at, title in enumerate(titles, start=1):
            meant = self.meant()
            _, *below = self._recipe(meant)
            told = title.upper() if capitals else title
            told = numbered.format(at, told) if numbered and "#" not in manner else manner.format(told)
            rows += [told, *below, "", *([rule] if rule and at < count else []), ""]
        return self.kind, tuple(self._greeted(rows) if lettered else rows), tuple(titles)

    # --- the recipe ---------------------------------------------------------------------------------

    def _recipe(self, meant: Meant) -> Iterator[str]:
        dice, fields = self.dice, meant.fields
        told = {key: fields[key] for key in ("yield", "time", "equipment") if key in fields}
        title = self._title(fields["title"])
        if "yield" in told and not title.startswith("#") and title[-1].isalpha() and self.chance(0.15):
            title = dice.choice(WITH_YIELD).format(title, told.pop("yield"))
        yield title
        yield from [""] * self.after_title
        if "yield" in told and "time" in told and self.chance(0.3):
            told["yield"] += dice.choice(BETWEEN_FACTS) + told.pop("time")
        early, late = [], []
        for row in told.values():
            (early if self.chance(0.8) else late).append(row)
        headnote = [fields["headnote"], ""] if "headnote" in fields else []
        before = [*headnote, *early, ""] if self.chance(0.8) else [*early, "", *headnote]
        yield from before if headnote or early else [""] * (not self.after_title)
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
        tail = [late, *([fields[key]] for key in ("storage", "note") if key in fields)]
        if whole and "desk" in fields:
            tail.append([fields["desk"]])
        for told_late in tail:
            yield from told_late
            yield from [""] * self.chance(0.7)
        if self.chance(0.1) and not self.greeted:
            yield ""
            yield dice.choice(OTHERS["name"])

    def _title(self, title: str) -> str:
        if self.rich and self.chance(0.8):
            return f"# {title}"
        if self.bench:
            return title
        if self.chance(0.15):
            return title.upper()
        if self.chance(0.1) and self.in_rows:
            return " " * 24 + title
        return self.title.format(title)

    def _label(self, label: str) -> str:
        return f"## {label.strip('~[]-: ')}" if self.rich and self.chance(0.8) else label

    def _subhead(self, name: str, level: int) -> str:
        if self.rich and self.chance(0.7):
            return f"{'#' * (level + 1)} {name.capitalize()}"
        told = self.subhead.format(name)
        if self.rich and told.startswith("*"):
            told = f"{name}:"
        if self.small:
            return told
        told = told[:1].upper() + told[1:]
        return told.upper() if self.capitals else told

    # --- the list -----------------------------------------------------------------------------------

    def _list(self, parts: Sequence[MeantPart], *, headed: bool = True) -> Iterator[str]:
        if headed and self.labelled:
            yield self._label(self.list_label)
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
            case "table" if self.kind in ("text", "markdown", "docx", "windows", "html"):
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
                yield self.dice.choice((", ", "; ")).join(lines) + self.dice.choice(("", "."))
            case "columns" if self.in_rows and all(amount for _, amount, _ in split):
                half = (len(lines) + 1) // 2
                for at in range(half):
                    right = lines[half + at] if half + at < len(lines) else ""
                    yield f"{lines[at]:<48}   {right}".rstrip() if right else lines[at]
            case "numbered" if self.labelled:
                yield from (f"{at}. {line}" for at, line in enumerate(lines, start=1))
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
            yield self._label(self.step_label)
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
                    case "headed" if self.in_rows:
                        yield from (f"Step {at}", step, "")
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
            lead, mark = dice.choice(QUOTES)
            yield ""
            yield from lead.split("\n")
            yield f"{mark}Where is it? We need 2 eggs more."
            yield f"{mark}H."

    def _wrapped(self, row: str, width: int) -> list[str]:
        if len(row) <= width or row.startswith(("|", "#", "On ", ">")) or "   " in row or "\t" in row:
            return [row]
        mark = next((one for one in MARKS if one and row.startswith(one)), "")
        return textwrap.wrap(row, width, subsequent_indent=" " * len(mark), break_on_hyphens=False)
