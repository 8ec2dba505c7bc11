"""A drafted recipe as a file: YAML as a person writes it, in the order of the schema."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from cardsmith.bench.file.yaml_text import plain_text
from cardsmith.draft.making.fields import Item
from cardsmith.draft.making.line_fields import in_fields
from cardsmith.draft.making.recipe import DraftedPart, DraftedRecipe
from cardsmith.recipe.file.yaml_traps import in_list

WIDTH = 100  # characters of a line
_RECORDS = {"yield": ("makes", "serves", "piece"), "time": ("active", "total", "prep", "cook")}
_LISTS = frozenset({"equipment", "claims", "keywords"})
_BLOCKS = frozenset({"notes", "cautions"})
_BEFORE = ("title", "kind", "headnote", "yield", "time", "equipment")
_BEHIND = ("storage", "notes", "cautions", "claims", "credit", "course", "cuisine", "keywords", "measures")


def as_yaml(recipe: DraftedRecipe, source: str) -> str:
    """The text of a recipe file; ``source`` is the draft's name, which its first comment tells."""
    rows = [f"# Drafted from {source}; “line 3” in a comment is line 3 there."]
    for key in _BEFORE:
        rows += _field(recipe, key)
    rows += _lists(recipe)
    for key in _BEHIND:
        rows += _field(recipe, key)
    rows += _commented(recipe.last, "")
    return "\n".join(rows) + "\n"


def _field(recipe: DraftedRecipe, key: str) -> Iterator[str]:
    """A key with its value, the comments on it above."""
    if key in _RECORDS:
        yield from _record(recipe, key)
        return
    items = recipe.fields.get(key, ())
    if not items:
        return
    yield from _commented(tuple(comment for item in items for comment in item.above), "")
    if (
        key in _LISTS
        and len(inline := f"{key}: [{', '.join(in_list(item.text) for item in items)}]") <= WIDTH
    ):
        yield inline
    elif key in _LISTS | _BLOCKS:
        yield f"{key}:"
        for item in items:
            yield from _item(item.text, "  ")
    else:
        yield from _text(key, " ".join(item.text for item in items))


def _record(recipe: DraftedRecipe, key: str) -> Iterator[str]:
    record = {name: recipe.fields[name][0] for name in _RECORDS[key] if name in recipe.fields}
    if not record:
        return
    yield from _commented(tuple(comment for item in record.values() for comment in item.above), "")
    yield f"{key}: {{{', '.join(f'{name}: {in_list(item.text)}' for name, item in record.items())}}}"


def _text(key: str, text: str) -> Iterator[str]:
    """A key with one text: on its line, or folded where it is long."""
    plain = f"{key}: {plain_text(text)}"
    if len(plain) <= WIDTH and key != "headnote":
        yield plain
        return
    yield f"{key}: >"
    yield from _folded(text, "  ")


def _folded(text: str, lead: str) -> Iterator[str]:
    yield from textwrap.wrap(
        text,
        WIDTH,
        initial_indent=lead,
        subsequent_indent=lead,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _item(text: str, lead: str) -> Iterator[str]:
    """An item of a list: on one line, or folded where it is long."""
    plain = f"{lead}- {plain_text(text)}"
    if len(plain) <= WIDTH:
        yield plain
        return
    yield f"{lead}- >"
    yield from _folded(text, f"{lead}  ")


def _commented(comments: tuple[str, ...], lead: str) -> Iterator[str]:
    yield from (f"{lead}# {comment}" for comment in comments)


def _lists(recipe: DraftedRecipe) -> Iterator[str]:
    beside, *named = recipe.parts
    if not named:
        yield from _part_lists(beside, "")
        return
    apart = bool(beside.steps) and any(part.steps for part in named)
    if beside.ingredients and not apart:
        yield from _list("ingredients", beside.ingredients, "")
    yield "parts:"
    if apart:
        yield from _dashed(_part_lists(beside, "    "))
    for part in named:
        assert part.name is not None
        yield from _commented(part.name.above, "  ")
        yield f"  - name: {plain_text(part.name.text)}"
        yield from _part_lists(part, "    ")
    if beside.steps and not apart:
        yield from _list("steps", beside.steps, "")


def _dashed(rows: Iterator[str]) -> Iterator[str]:
    """The lines of a part without a name, behind the dash of a list."""
    first = True
    for row in rows:
        yield f"  - {row.lstrip()}" if first and not row.lstrip().startswith("#") else row
        first = first and row.lstrip().startswith("#")


def _part_lists(part: DraftedPart, lead: str) -> Iterator[str]:
    yield from _list("ingredients", part.ingredients, lead)
    yield from _list("steps", part.steps, lead)


def _list(key: str, items: tuple[Item, ...], lead: str) -> Iterator[str]:
    if not items:
        return
    yield f"{lead}{key}:"
    for item in items:
        yield from _commented(item.above, f"{lead}  ")
        if item.key_name:
            yield f"{lead}  - {_keyed(item)}"
        else:
            yield from _item(item.text, f"{lead}  ")


def _keyed(item: Item) -> str:
    """A line of the list as keys: what steps draw on has one of its own."""
    amount, food, prep = in_fields(item.text)
    pairs = (("key", item.key_name), ("amount", amount), ("item", food), ("prep", prep))
    return f"{{{', '.join(f'{key}: {in_list(text)}' for key, text in pairs if text)}}}"
