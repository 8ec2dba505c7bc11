"""Recipes drawn first and laid out in many manners after, so that what each line is, is known.

python -m tests.draft.layouts 300      # how many land in their place, and which do not
"""

# ruff: noqa: T201 - a script that prints for its reader

from __future__ import annotations

import random
import sys
import textwrap
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from cardsmith.draft.drafting import Drafted, draft_of
from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.tokens import tokenize
from cardsmith.measure.larder import Larder, load_larder
from tests.draft.files import made

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
    """Draws recipes and lays them out; a class to hold its dice."""

    def __init__(self, seed: int) -> None:
        self.dice = random.Random(seed)

    def chance(self, of: float) -> bool:
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
        kind = self.dice.choice(
            ("text", "text", "text", "windows", "wide", "markdown", "docx", "odt", "rtf", "html", "mail")
        )
        self.kind = kind
        self.rich = kind in ("markdown", "docx", "odt", "html")
        self.rows_only = kind in ("text", "windows", "wide", "markdown", "mail", "rtf")
        self.capitals = self.chance(0.2)
        self.labelled = self.chance(0.7)
        self.one_block = len(meant.parts) == 1 and self.chance(0.15)
        self.spaced = self.chance(0.8)  # blank lines between the paragraphs of the recipe
        self.greeted = kind == "mail" or self.chance(0.15)
        rows = list(self._recipe(meant))
        rows = list(self._greeted(rows)) if self.greeted else rows
        rows = [*self._heading(meant), *rows] if kind == "mail" else rows
        if self.rows_only and kind != "rtf" and self.chance(0.3):
            width = self.dice.randint(58, 76)
            rows = [row for told in rows for row in self._wrapped(told, width)]
        if kind in ("text", "markdown", "mail") and self.chance(0.3):
            rows = [row.replace("'", "’") for row in rows]
        return Layout(kind=kind, rows=tuple(rows), meant=meant, one_block=self.one_block)

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
                return " " * 24 + title if self.rows_only else title
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
        told = self.subhead.format(name) if hasattr(self, "subhead") else ""
        if not told:
            self.subhead = self.dice.choice(SUBHEADS)
            told = self.subhead.format(name)
        told = told[:1].upper() + told[1:]
        return told.upper() if self.capitals else told

    # --- the list -----------------------------------------------------------------------------------

    def _list(self, parts: Sequence[MeantPart], *, headed: bool = True) -> Iterator[str]:
        if headed and self.labelled:
            yield self._label(LIST_LABELS)
            yield from [""] * self.chance(0.5)
        if not hasattr(self, "manner"):
            self.manner = self.dice.choice(("lines",) * 7 + ("table", "tabs", "last", "paragraph", "columns"))
            self.mark = self.dice.choice(MARKS)
            self.order = self.dice.choice((0, 1))
            self.dots = self.dice.choice((": ", " - ", " ........ ", "    "))
        for part in parts:
            if headed and part.name:
                yield self._subhead(part.name, 2)
            yield from self._listed(part.lines)
            if part.name and self.spaced:
                yield ""

    def _listed(self, lines: Sequence[str]) -> Iterator[str]:
        split = [(line, *self._split(line)) for line in lines]
        match self.manner:
            case "table" if self.kind in ("text", "markdown", "docx", "windows"):
                if all("," not in line for line in lines):
                    cells = [(amount, food) for _, amount, food in split]
                else:
                    cells = [(amount, *self._prep(food)) for _, amount, food in split]
                for row in cells:
                    told = (row[1], row[0], *row[2:]) if self.order else row
                    yield f"| {' | '.join(told)} |"
            case "tabs" if self.rows_only:
                yield from (f"{amount}\t{food}" for _, amount, food in split)
            case "last" if all(amount for _, amount, _ in split):
                yield from (f"{food}{self.dots}{amount}" for _, amount, food in split)
            case "paragraph" if not any("," in line for line in lines):
                yield ", ".join(lines) + self.dice.choice(("", "."))
            case "columns" if self.rows_only and all(amount for _, amount, _ in split):
                half = (len(lines) + 1) // 2
                for at in range(half):
                    right = lines[half + at] if half + at < len(lines) else ""
                    yield f"{lines[at]:<48}   {right}".rstrip() if right else lines[at]
            case _:
                yield from (f"{self._mark(self.mark)}{line}" for line in lines)

    def _mark(self, mark: str) -> str:
        """A bullet; in a file with lists of its own, the mark that makes one."""
        return "* " if mark and self.rich else mark

    def _split(self, line: str) -> tuple[str, str]:
        tokens = tokenize(line)
        found = amount_at(tokens, 0)
        end = found.end if found is not None and found.quantity is not None else 0
        if not end or tokens[end].text == "(" or line.startswith(("2 x", "juice", "zest")):
            return "", line
        start = tokens[end].start
        return line[:start].strip(), line[start:].strip()

    def _prep(self, food: str) -> tuple[str, str]:
        name, _, prep = food.partition(", ")
        return name, prep

    # --- the method ---------------------------------------------------------------------------------

    def _method(self, parts: Sequence[MeantPart], *, headed: bool = True) -> Iterator[str]:
        if headed and self.labelled:
            yield self._label(STEP_LABELS)
            yield from [""] * self.chance(0.5)
        if not hasattr(self, "steps"):
            self.steps = self.dice.choice(("paragraphs", "lines", "numbers", "numbers", "marks"))
            self.number = self.dice.choice(NUMBERS)
            self.subheads = self.chance(0.5)
        if self.one_block:
            steps = [step for part in parts for step in part.steps]
            numbered = self.chance(0.4)
            told = (f"{at}. {step}" for at, step in enumerate(steps, start=1)) if numbered else steps
            yield " ".join(told)
            return
        at = 0
        for part in parts:
            if headed and part.name and self.subheads:
                yield self._subhead(part.name, 2)
            for step in part.steps:
                at += 1
                match self.steps:
                    case "numbers":
                        yield f"{self.number.format(at)}{step}" if self.rows_only else f"{at}. {step}"
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
        if self.rows_only and self.chance(0.3):
            yield ""
            yield "On Mon, 4 May 2026 at 17:02, Hal Tarn wrote:"
            yield "> Where is it? We need 2 eggs more."
            yield "> H."

    def _wrapped(self, row: str, width: int) -> list[str]:
        if len(row) <= width or row.startswith(("|", "#", "On ", ">")) or "   " in row or "\t" in row:
            return [row]
        mark = next((one for one in MARKS if one and row.startswith(one)), "")
        return textwrap.wrap(row, width, subsequent_indent=" " * len(mark), break_on_hyphens=False)


# --- what became of it --------------------------------------------------------------------------------


def _telling(text: str) -> tuple[str, ...]:
    """The words of a text in any order, as a table or an amount behind its food turns them."""
    letters = "".join(one if one.isalnum() or one in "½¾⅓" else " " for one in text.lower())
    return tuple(sorted(letters.split()))


@frozen
class Placed:
    """What of a layout landed in its place, and what did not."""

    of: Counter[str]
    right: Counter[str]
    wrong: tuple[str, ...]


def placed(layout: Layout, drafted: Drafted) -> Placed:
    """Each drawn line among the ingredients, each step among the steps, and each in its part."""
    trees: list[dict[str, Any]] = [YAML(typ="safe", pure=True).load(file.text) for file in drafted.files]
    parts = [part for tree in trees for part in (tree, *tree.get("parts", ()))]
    listed = [(part, one) for part in parts for one in part.get("ingredients", ())]
    named = [
        (_telling(part.get("name", "")), _telling(one if isinstance(one, str) else " ".join(one.values())))
        for part, one in listed
    ]
    lines = Counter(told for _, told in named)
    steps = [" ".join(step.split()) for part in parts for step in part.get("steps", ())]
    run = " ".join(steps)
    of, right, wrong = Counter[str](), Counter[str](), []
    for part in layout.meant.parts:
        for line in part.lines:
            told = _telling(line)
            _judge(of, right, wrong, "ingredient", line.strip(), holds=lines[told] > 0)
            if part.name:
                holds = any(one == told and set(_telling(part.name)) <= set(name) for name, one in named)
                _judge(of, right, wrong, "in its part", line, holds=holds)
            lines[told] -= 1
        for step in part.steps:
            plain = step.replace("'", "’")
            holds = {step, plain} & set(steps) if not layout.one_block else step in run or plain in run
            _judge(of, right, wrong, "step", step, holds=bool(holds))
    further = sum(len(part.steps) for part in layout.meant.parts) - len(steps)
    if further < 0 and not layout.one_block:
        _judge(of, right, wrong, "no other step", f"{-further} more steps", holds=False)
    if extra := +lines:
        _judge(of, right, wrong, "no other ingredient", f"{list(extra)}", holds=False)
    for key in ("title", "yield", "time", "headnote", "storage", "equipment"):
        if told := layout.meant.fields.get(key, ""):
            found = " ".join(str(tree.get(key, "")) for tree in trees)
            holds = _told(key, told) <= set(_telling(found))
            _judge(of, right, wrong, key, told, holds=holds)
    if desk := layout.meant.fields.get("desk", ""):
        holds = not any(set(_telling(desk)) <= set(_telling(text)) for text in (*steps, *map(str, listed)))
        _judge(of, right, wrong, "desk", desk, holds=holds)
    _judge(of, right, wrong, "one recipe", f"{len(trees)} recipes", holds=len(trees) == 1)
    return Placed(of=of, right=right, wrong=tuple(wrong))


def _told(key: str, text: str) -> set[str]:
    """What of a field its key does not say itself."""
    words = set(_telling(text))
    if key in ("yield", "time"):
        return {word for word in words if any(map(str.isdigit, word))}
    return words - set("storage equipment you also need".split())


def _judge(
    of: Counter[str], right: Counter[str], wrong: list[str], what: str, text: str, *, holds: bool
) -> None:
    of[what] += 1
    right[what] += holds
    if not holds:
        wrong.append(f"{what}: {text}")


def drafted_of(layout: Layout, larder: Larder) -> Drafted:
    """What is made of a layout."""
    ending, data = made(layout.kind, layout.rows)
    return draft_of(data, f"drawn.{ending}", larder)


def _measure(seeds: range, *, show: bool) -> None:
    larder = load_larder()
    of, right = Counter[str](), Counter[str]()
    for seed in seeds:
        layout = Writer(seed).layout()
        try:
            found = placed(layout, drafted_of(layout, larder))
        except (CardsmithError, AssertionError) as fault:
            print(f"== {seed} {layout.kind}: {fault}")
            of["drafted"] += 1
            continue
        of += found.of
        right += found.right
        if found.wrong and show:
            print(f"== {seed} {layout.kind}")
            print("\n".join(f"   {one}" for one in found.wrong))
    for what, number in of.most_common():
        print(f"{what}: {right[what]} of {number}, {100 * right[what] / number:.1f} %")


if __name__ == "__main__":
    first, *more = map(int, sys.argv[1:])
    if more:
        layout = Writer(first).layout()
        print("\n".join(layout.rows))
        print("-----")
        print("\n".join(file.text for file in drafted_of(layout, load_larder()).files))
    else:
        _measure(range(first), show=True)
