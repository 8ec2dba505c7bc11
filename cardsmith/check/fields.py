"""Where the words of a field stand in the author's file: the title, the headnote, the storage note."""

from __future__ import annotations

import re

from cardsmith.finding import Where
from cardsmith.recipe.model import Recipe, Text


def field(recipe: Recipe, name: str, text: str) -> Text:
    """A top-level field with its place; that of the whole recipe where the file does not show it."""
    for number, line in enumerate(recipe.source.splitlines(), 1):
        match = re.match(rf"{name}[ \t]*:[ \t]*", line)
        if match:
            column = match.end() + 1 if line[match.end() :].startswith(text[:1]) else 1
            return Text(
                text=text, where=Where(file=recipe.where.file, line=number, column=column, field=name)
            )
    return Text(text=text, where=recipe.where)


def spot(recipe: Recipe, name: str, phrase: str) -> Text:
    """``phrase`` within a field that may run over several lines; the field where a line breaks it up."""
    start = field(recipe, name, "").where
    lines = recipe.source.splitlines()
    for number in range(start.line, len(lines) + 1 if start.line else 0):
        line = lines[number - 1]
        if number > start.line and line[:1].strip():
            break  # the next field
        column = line.find(phrase)
        if column >= 0:
            return Text(text=phrase, where=Where(file=start.file, line=number, column=column + 1, field=name))
    return Text(text=phrase, where=start)
