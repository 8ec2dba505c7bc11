"""Whom a dish is for: babies under a year, children under four, by what its texts say."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from cardsmith.facts.dish import Dish
from cardsmith.facts.phrases import Phrases, phrases
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from cardsmith.regex import regex


def for_babies(one: Dish, _place: int) -> bool:
    """Whether a text says that babies under a year eat it."""
    return any(_says(text, _told("babies")) for text in _texts(one.recipe))


def for_toddlers(one: Dish, place: int) -> bool:
    """Whether a text says that children under four eat it."""
    return for_babies(one, place) or any(_says(text, _told("toddlers")) for text in _texts(one.recipe))


def _texts(recipe: Recipe) -> Iterator[str]:
    yield from (recipe.title, recipe.headnote, *(note.text for note in recipe.notes))
    yield from (*(part.name for part in recipe.parts), *(word.text for word in recipe.keywords))
    yield from (step.text for step in recipe.steps)


def _says(text: str, wanted: Phrases) -> bool:
    """Whether a sentence speaks of such readers and doesn't keep it from them."""
    plain = text.replace("’", "'")
    if not wanted.search(plain):
        return False
    return any(
        wanted.search(sentence) and not _told("kept from").search(sentence)
        for sentence in _SENTENCE.split(plain)
    )


_SENTENCE = regex(r"[.;!?]\s")


@cache
def _told(sort: str) -> Phrases:
    found = phrases("|".join(row["words"] for row in table("reader_words") if row["sort"] == sort))
    if found is None:
        raise ValueError(f"reader_words.csv has no words for {sort}")
    return found
