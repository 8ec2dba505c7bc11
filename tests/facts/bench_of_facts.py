"""Recipes from a few lines of text, read by the real readers, for tests of the room of facts."""

from __future__ import annotations

from cardsmith.finding import Where
from cardsmith.language.spans import Measured  # noqa: F401
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.fields.steps import read_step
from cardsmith.recipe.model import Ingredient, Part, Recipe, Step, Text

HERE = Where(file="recipe.yaml", line=1, column=1)


def larder() -> Larder:
    return load_larder()


def line(text: str, number: int = 1, *, optional: bool = False) -> Ingredient:
    """One line; ``#oil 45 g olive oil`` gives it the key ``oil``."""
    key = ""
    if text.startswith("#"):
        key, _, text = text[1:].partition(" ")
    read, _ = read_line(text, Where(file="recipe.yaml", line=number, column=5), larder())
    told = {name: getattr(read, name) for name in read.__dataclass_fields__} | {"key": key}
    return Ingredient(**(told | {"optional": optional or read.optional}))


def part(name: str, ingredients: str, *steps: str) -> Part:
    """A part from its list, lines joined by ``;``, and its steps."""
    listed = tuple(
        line(text.strip(), number) for number, text in enumerate(filter(str.strip, ingredients.split(";")), 1)
    )
    read: list[Step] = []
    for number, text in enumerate(steps, 101):
        step, _ = read_step(text, Where(file="recipe.yaml", line=number, column=5), "us")
        read.append(step)
    return Part(where=HERE, name=name, ingredients=listed, steps=tuple(read))


def dish(ingredients: str, *steps: str, title: str = "A dish", **fields: object) -> Recipe:
    """A recipe of one part."""
    return of_parts(part("", ingredients, *steps), title=title, **fields)


def of_parts(*parts: Part, title: str = "A dish", **fields: object) -> Recipe:
    """A recipe of several parts; ``claims`` may be given as texts."""
    claims = tuple(Text(text=one, where=HERE) for one in fields.pop("claims", ()))  # type: ignore[attr-defined]
    told: dict[str, object] = {
        "where": HERE,
        "name": "a-dish",
        "title": title,
        "parts": parts,
        "claims": claims,
    }
    return Recipe(**(told | fields))  # type: ignore[arg-type]
