"""Words of the house: its names for foods, its spelling, and in the steps the name that the list has."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.check.words.references import is_second_name
from cardsmith.check.words.style import any_of, house_words
from cardsmith.draft.tidy.change import Change
from cardsmith.measure.larder import Larder
from cardsmith.recipe.mentions.mentions import How, visible
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.model import Recipe
from cardsmith.reference import Tables, table

AMERICAN = "en-US"


def in_house_words(text: str, language: str, tables: Tables) -> Iterator[Change]:
    """The words for which a house of this language has others; not right behind a number."""
    rows = house_words(language, tables)
    for match in any_of(tuple(rows)).finditer(text) if rows else ():
        word = rows[match.group().lower()]["house"]
        if word and not text[: match.start()].rstrip()[-1:].isnumeric():
            yield Change(match.start(), match.end(), _like(word, match.group()), "the house's words")
    wrong, right = ("uk", "us") if language == AMERICAN else ("us", "uk")
    pairs = {row[wrong].lower(): row[right] for row in table("spelling_pairs")}
    for match in any_of(tuple(pairs)).finditer(text):
        yield Change(
            match.start(), match.end(), _like(pairs[match.group().lower()], match.group()), "spelling"
        )


def _like(word: str, written: str) -> str:
    """A word in the number and with the capital of the one that it stands for."""
    plural = written.lower().endswith("s") and not word.endswith(("s", "i", "o"))
    told = f"{word}s" if plural else word
    return told[:1].upper() + told[1:] if written[:1].isupper() else told


def second_names(recipe: Recipe, larder: Larder) -> Iterator[tuple[int, Change]]:
    """In the steps, by their place, other names of foods than the list has."""
    for one in read_mentions(recipe, larder).found:
        line, step = recipe.ingredients[one.line], recipe.steps[one.step]
        if one.how is not How.NAME or visible(step.spans) != step.text:
            continue
        name = step.text[one.start : one.end]
        item = line.item.lower()
        plural = name.endswith("s") == item.endswith("s")
        if is_second_name(line, name) and plural and len(item.split()) <= 3:
            yield one.step, Change(one.start, one.end, item, "one name for one thing")
