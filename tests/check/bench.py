"""A recipe from a few lines of text, for tests: read by the real readers, checked by the real checks."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from cardsmith.check.fields import Field, read
from cardsmith.check.run import BY_NAME
from cardsmith.check.subject import Subject
from cardsmith.finding import Finding, Where
from cardsmith.house.style import House, load_house
from cardsmith.measure.larder import load_larder
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.fields.steps import read_step
from cardsmith.recipe.model import Ingredient, Part, Recipe, Step, Text, Time, Yield

HERE = Where(file="recipe.yaml", line=1, column=1)


@cache
def house() -> House:
    return load_house(Path(__file__).parents[2])


def ingredient(text: str, number: int = 1) -> Ingredient:
    """One line; ``#seeds 70 g sesame seeds`` gives it the key ``seeds``."""
    key = ""
    if text.startswith("#"):
        key, _, text = text[1:].partition(" ")
    line, _ = read_line(text, Where(file="recipe.yaml", line=number, column=5), load_larder())
    return Ingredient(**{name: getattr(line, name) for name in line.__dataclass_fields__} | {"key": key})


def part(name: str, ingredients: list[str], steps: list[str]) -> Part:
    lines = tuple(ingredient(text, number) for number, text in enumerate(ingredients, 1))
    read: list[Step] = []
    for number, text in enumerate(steps, 101):
        step, _ = read_step(text, Where(file="recipe.yaml", line=number, column=5), "us")
        read.append(step)
    return Part(where=HERE, name=name, ingredients=lines, steps=tuple(read))


def recipe(
    ingredients: list[str] | None = None,
    steps: list[str] | None = None,
    *,
    kind: str = "",
    parts: tuple[Part, ...] = (),
    title: str = "A dish",
    **fields: object,
) -> Recipe:
    """A complete recipe; any field may be replaced."""
    whole: dict[str, object] = {
        "where": HERE,
        "name": "a-dish",
        "title": title,
        "parts": parts or (part("", ingredients or [], steps or []),),
        "kind": Text(text=kind, where=HERE) if kind else None,
        "headnote": "A plain dish, " + "with a good deal to be said of it " * 5,
        "yields": Yield(where=HERE, makes=Text(text="1 dish", where=HERE), makes_item="dish"),
        "time": Time(
            where=HERE, active=quantity(10, units()["minute"]), total=quantity(20, units()["minute"])
        ),
        "storage": "Keeps three days.",
    }
    return Recipe(**{**whole, **fields})  # type: ignore[arg-type]


def field(text: str, name: str = "storage") -> Field:
    """One field of a recipe, read."""
    return read(recipe(), name, text, HERE)


def found(name: str, subject: Recipe) -> tuple[Finding, ...]:
    """What one check says about a recipe."""
    return tuple(BY_NAME[name](Subject(recipe=subject, larder=load_larder(), house=house())))


def lines(name: str, *ingredients: str) -> tuple[Finding, ...]:
    """What one check says about a list whose steps use everything."""
    return found(name, recipe(list(ingredients), ["Stir everything together."]))


def steps(name: str, *texts: str) -> tuple[Finding, ...]:
    """What one check says about steps."""
    return found(name, recipe([], list(texts)))
