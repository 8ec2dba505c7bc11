"""A recipe file tidied: every change with its place, and the file's text after all of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher
from itertools import pairwise

from cardsmith.draft.tidy.change import Change, harmless
from cardsmith.draft.tidy.figures import figures
from cardsmith.draft.tidy.names import second_names
from cardsmith.draft.tidy.order import moved, orders
from cardsmith.draft.tidy.parts import parted
from cardsmith.draft.tidy.words import dashes, in_house_words
from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.tree import Mapping, Node, Scalar, Sequence
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.model import Ingredient, Recipe, Step

MOVED = "order of use"
PARTED = "a subhead is a part"
_LISTED = "ingredients"
_RUNNING = frozenset({"title", "headnote", "steps", "storage", "notes", "equipment", "cautions"})
_Found = tuple[Scalar, bool, tuple[Change, ...]]  # a text, whether it is a line of a list, its changes


@frozen
class TidyChange:
    """One change as it is told: its line, what stood there, what stands there now, by which rule."""

    line: int
    old: str
    new: str
    rule: str

    def __str__(self) -> str:
        new = self.new if self.rule in (MOVED, PARTED) else f"“{self.new}”"
        return f"line {self.line}: “{self.old}” → {new} ({self.rule})"


@frozen
class Tidied:
    """A file after its changes."""

    text: str
    changes: tuple[TidyChange, ...]
    published: bool = False


def tidied(data: bytes, file: str, larder: Larder, language: str) -> Tidied:
    """The text of a recipe file in the house's style.

    Raises:
        CardsmithError: the file can't be read as a recipe.
    """
    before, _ = _read(data, file, larder)
    rows, heads = parted(data.decode("utf-8-sig").split("\n"))
    changes = [TidyChange(line=line, old=old, new=f"the part {new}", rule=PARTED) for line, old, new in heads]
    changes += _worded(rows, _in_style(*_reread(rows, file, larder), larder, language), larder)
    changes += _named(rows, file, larder)
    changes += _ordered(rows, _reread(rows, file, larder)[0], larder)
    after = "\n".join(rows)
    again, _ = read_recipe("tidy", after.encode(), file, larder)
    if again is None or _amounts(again) != _amounts(before):
        raise AssertionError(f"tidying {file} would have changed a number")
    return Tidied(
        text=after,
        changes=tuple(sorted(changes, key=lambda change: change.line)),
        published=before.published is not None,
    )


def _read(data: bytes, file: str, larder: Larder) -> tuple[Recipe, Mapping]:
    """The recipe of a file, and its tree."""
    source = read_source(data, file)
    recipe, _ = read_recipe("tidy", data, file, larder)
    root = shaped(source.root, source.text.split("\n"))[0] if source.root is not None else None
    if recipe is None or root is None or any(finding.name == "not-utf-8" for finding in source.findings):
        raise CardsmithError(f"{file} can't be read as a recipe; `cardsmith check` says why")
    return recipe, root


def _amounts(recipe: Recipe) -> list[str]:
    """All amounts of the lists, in any order."""
    sizes = [(line.amount, *line.stated) for line in recipe.ingredients]
    figures = (
        [(quantity.low, quantity.high, quantity.unit.name) for quantity in each if quantity] for each in sizes
    )
    return sorted(str(figure) for figure in figures if figure)


# --- words --------------------------------------------------------------------------------------------


def _reread(rows: list[str], file: str, larder: Larder) -> tuple[Recipe, Mapping]:
    return _read("\n".join(rows).encode(), file, larder)


def _in_style(recipe: Recipe, root: Mapping, larder: Larder, language: str) -> Iterator[_Found]:
    """Units, fractions, ranges, dashes and words as the house has them."""
    for key, text in _texts(root, ""):
        on_one_line = text.on_one_line().text
        edits = [*in_house_words(on_one_line, language, larder.tables)]
        edits += figures(on_one_line, listed=key == _LISTED) if key != "title" else ()
        edits += dashes(on_one_line, language) if key != _LISTED else ()
        yield text.on_one_line(), key == _LISTED, tuple(edits)


def _worded(rows: list[str], texts: Iterable[_Found], larder: Larder) -> Iterator[TidyChange]:
    """The changes of texts, made in the rows, but for those that would touch a number or a food."""
    for text, listed, changes in tuple(texts):
        chosen = tuple(harmless(text.text, changes, larder, listed=listed))
        for change in reversed(chosen):  # from the end, so that places before stay
            if made := _made(rows, text, change):
                yield made


def _named(rows: list[str], file: str, larder: Larder) -> Iterator[TidyChange]:
    """One name for one thing; where a step would speak of another line then, its name stays."""
    recipe, _ = _reread(rows, file, larder)
    meant, foods = _meant(recipe, larder), _foods(recipe, larder)
    whole = list(rows)
    changes = [
        change
        for kind in (Ingredient, Step)  # lists first: the steps follow what a line is called then
        for place in tuple(_second(whole, file, larder, kind))
        for change in _worded(whole, (place,), larder)
    ]
    if _foods(_reread(whole, file, larder)[0], larder) == foods:
        rows[:] = whole
        yield from changes
        return
    for place in tuple(_second(rows, file, larder, (Ingredient, Step))):
        after = list(rows)
        changes = list(_worded(after, (place,), larder))
        if changes and _meant(_reread(after, file, larder)[0], larder) == meant:
            rows[:] = after
            yield from changes


def _second(rows: list[str], file: str, larder: Larder, kinds: type | tuple[type, ...]) -> Iterator[_Found]:
    """The texts of some kinds that call a food by a second name, each with its change, from the end."""
    recipe, root = _reread(rows, file, larder)
    texts = {(text.where.line, text.where.column): (key, text) for key, text in _texts(root, "")}
    for place, change in reversed(tuple(second_names(recipe, larder))):
        key, text = texts.get((place.where.line, place.where.column), ("", None))
        if text is not None and isinstance(place, kinds):
            yield text.on_one_line(), key == _LISTED, (change,)


def _meant(recipe: Recipe, larder: Larder) -> set[tuple[int, int]]:
    """Which step speaks of which line."""
    return {(mention.step, mention.line) for mention in read_mentions(recipe, larder).found}


def _foods(recipe: Recipe, larder: Larder) -> set[tuple[int, str]]:
    """Which step speaks of which food."""
    lines = ((step, recipe.ingredients[line]) for step, line in _meant(recipe, larder))
    return {(step, line.food.key if line.food else line.text) for step, line in lines}


def _texts(node: Node, key: str) -> Iterator[tuple[str, Scalar]]:
    """The texts that have a style, with the key that they stand under."""
    match node:
        case Scalar() if key == _LISTED or key in _RUNNING:
            yield key, node
        case Sequence(items=items):
            for item in items:
                yield from _texts(item, key)
        case Mapping(entries=entries):
            for name, value in entries:
                inner = name.text if key != _LISTED else "" if name.text == "key" else _LISTED
                yield from _texts(value, inner)
        case _:
            return


def _made(rows: list[str], text: Scalar, change: Change) -> TidyChange | None:
    """A change made in its row; None where the row has other words there, as an escape of YAML has."""
    old = text.text[change.start : change.end]
    where = text.place(change.start)
    row, column = where.line - 1, where.column - 1
    if not 0 <= row < len(rows) or rows[row][column : column + len(old)] != old:
        return None
    rows[row] = rows[row][:column] + change.new + rows[row][column + len(old) :]
    start, end = _around(text.text, change)
    return TidyChange(
        line=where.line,
        old=text.text[start:end],
        new=text.text[start : change.start] + change.new + text.text[change.end : end],
        rule=change.rule,
    )


def _around(text: str, change: Change) -> tuple[int, int]:
    """A change with the word before and behind it, so that one sees what it is of."""
    start = text.rfind(" ", 0, max(change.start - 1, 0)) + 1
    end = text.find(" ", change.end + 1)
    return start, end if end > 0 else len(text)


# --- order --------------------------------------------------------------------------------------------


def _ordered(rows: list[str], recipe: Recipe, larder: Larder) -> Iterator[TidyChange]:
    """Lists put in order, where each line of theirs has rows of its own."""
    for part, order in orders(recipe, larder):
        starts = [line.where.line - 1 for line in part.ingredients]
        if any(after <= before for before, after in pairwise(starts)):
            continue  # several in one row
        lead = _indent(rows[starts[-1]])
        end = starts[-1] + 1
        while end < len(rows) and rows[end].strip() and _indent(rows[end]) > lead:
            end += 1
        rows[:] = moved(rows, starts, order, end)
        stay = SequenceMatcher(None, range(len(order)), order, autojunk=False).get_matching_blocks()
        settled = {number for block in stay for number in order[block.b : block.b + block.size]}
        for place, number in enumerate(order):
            if number not in settled:
                before = part.ingredients[order[place - 1]].text if place else ""
                new = f"below “{before}”" if before else "first of the list"
                yield TidyChange(
                    line=starts[number] + 1, old=part.ingredients[number].text, new=new, rule=MOVED
                )


def _indent(row: str) -> int:
    return len(row) - len(row.lstrip())
