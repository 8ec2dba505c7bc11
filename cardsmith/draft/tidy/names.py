"""One name for one thing: a food is called in the steps, and in later lines, what its first line calls it."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.check.words.references import is_second_name
from cardsmith.draft.tidy.change import Change
from cardsmith.draft.tidy.words import INVARIANT
from cardsmith.language.declension import many, one
from cardsmith.language.nouns import is_plural
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.measure.units import Dimension
from cardsmith.recipe.mentions.mentions import How, visible
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.model import Ingredient, Recipe, Step

RULE = "one name for one thing"
LONGEST = 3  # words of a name


def second_names(recipe: Recipe, larder: Larder) -> Iterator[tuple[Step | Ingredient, Change]]:
    """The lines and steps that call a food by another name than its first line, each with the change."""
    yield from _in_lists(recipe)
    for mention in read_mentions(recipe, larder).found:
        line, step = recipe.ingredients[mention.line], recipe.steps[mention.step]
        name = step.text[mention.start : mention.end]
        if mention.how is not How.NAME or visible(step.spans) != step.text or not is_second_name(line, name):
            continue
        if _is_name(line.item, line.food):
            name_told = as_counted(line.item, name) if _is_counted(line) else _as_capital(line.item, name)
            yield step, Change(mention.start, mention.end, name_told, RULE)


def _in_lists(recipe: Recipe) -> Iterator[tuple[Ingredient, Change]]:
    """Lines whose item is another name of a food that a line before has."""
    first: dict[str, str] = {}
    for line in recipe.ingredients:
        if line.food is None or not _is_name(line.item, line.food):
            continue
        name = first.setdefault(line.food.key, line.item)
        start = line.text.find(line.item)
        if start >= 0 and _names_one(name, line.item):
            yield line, Change(start, start + len(line.item), as_counted(name, line.item), RULE)


def _is_name(item: str, food: Food | None) -> bool:
    """Whether an item is a name of its food and no more."""
    names = {words(name) for name in (food.name, food.uk_name, *food.aliases)} if food else set()
    return words(item) in names and len(item.split()) <= LONGEST


def _names_one(first: str, other: str) -> bool:
    """Whether two names differ by more than their number."""
    return not set(words(first)) & set(words(other))


def as_counted(name: str, written: str) -> str:
    """A name in the number and with the capital of the one that it stands for.

    >>> as_counted("spring onions", "scallion"), as_counted("courgettes", "Zucchini")
    ('spring onion', 'Courgettes')
    """
    *before, last = name.split()
    noun = written.rsplit(maxsplit=1)[-1].lower()
    if one(noun) != many(noun) and not noun.endswith(INVARIANT):
        last = many(last) if is_plural(noun) else one(last)
    return _as_capital(" ".join((*before, last)), written)


def _as_capital(name: str, written: str) -> str:
    return name[:1].upper() + name[1:] if written[:1].isupper() else name[:1].lower() + name[1:]


def _is_counted(line: Ingredient) -> bool:
    """Whether a line counts its food; what is weighed has its name in one number, "200 g shrimp"."""
    return line.amount is None or line.amount.dimension is Dimension.COUNT
