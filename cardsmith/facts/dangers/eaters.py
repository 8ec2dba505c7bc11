"""Whom a dish is for: babies under a year, children under four, by what its texts say."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.method.dish import Dish
from cardsmith.language.stops import sentences
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from cardsmith.regex import regex


def for_babies(dish: Dish, _place: int) -> bool:
    """Whether a text says that babies under a year eat it."""
    return any(_says(text, _told("babies")) for text in _texts(dish.recipe))


def for_toddlers(dish: Dish, place: int) -> bool:
    """Whether a text says that children under four eat it."""
    return for_babies(dish, place) or any(_says(text, _told("toddlers")) for text in _texts(dish.recipe))


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
        wanted.search(sentence) and not _told("kept from").search(sentence) for sentence in sentences(plain)
    )


@cache
def _told(sort: str) -> Phrases:
    known = phrases("|".join(row["words"] for row in table("reader_words") if row["sort"] == sort))
    if known is None:
        raise ValueError(f"reader_words.csv has no words for {sort}")
    return known


def eats_dough(dish: Dish, place: int) -> bool:
    """Whether a sentence offers dough or batter of raw flour to be eaten as it is."""
    if dish.foods[place].ready or dish.line(place).for_use:
        return False
    texts = (*_texts(dish.recipe), dish.recipe.storage)
    return any(_offers_dough(sentence) for text in texts for sentence in sentences(text.lower(), whole=True))


def _offers_dough(sentence: str) -> bool:
    if _TOOLS.search(sentence) and _FORBIDDEN.search(sentence) is None:
        return True
    if not (_DOUGH.search(sentence) and _RAW.search(sentence)):
        return False
    return _EATEN.search(sentence) is not None and _FORBIDDEN.search(sentence) is None


_TOOLS = regex(
    r"\b(?:children|kids|child|little ones?|little cooks?|grandchild\w*|helpers?|youngest|toddlers?"
    r"|daughters?|sons?)\b"
    r".*\b(?:lick|clean|scrape|polish|fight over|finish)\w* (?:\w+ ){0,3}(?:beaters?|whisk|bowl|spoon"
    r"|spatula|paddle)\b"
)
_DOUGH = regex(
    r"\b(?:dough|batter|(?:cookie|cake|biscuit|brownie) mix(?:ture)?|(?:some|half|most|a little"
    r"|the rest) of it)\b"
)
_RAW = regex(
    r"\b(?:raw|unbaked|uncooked|as it is|as is|off the spoon|from the (?:bowl|spoon|beaters?|whisk|log)"
    r"|never (?:sees the oven|gets? baked|reach\w* the oven)|out of the (?:bowl|tub)|before (?:it is"
    r"|it['’]s|they are) baked|without baking)\b"
)
_EATEN = regex(
    r"\b(?:eat|eats|eating|eaten|nibbl\w+|snack\w*|give|offer|hand|share|treat|enjoy\w*|serve|delicious|lick\w*"
    r"|likes?|loves?|fond of|(?:into|on|over|through) (?:\w+ )?(?:ice cream|yogh?urt)"
    r"|keep\w* (?:\w+ ){1,5}for"
    r"|good (?:over|on|with|to eat|by the)|(?:let|leave) (?:\w+ ){1,4}(?:have|finish|eat))\b"
)
_FORBIDDEN = regex(
    r"\b(?:never|not|don['’]t|do not|nobody|avoid|rather than|instead of|tempt\w*|unsafe|safe)"
    r" (?:\w+ ){0,4}(?:eat\w*|tast\w+|nibbl\w+|give|lick\w*|raw|to)\b|\bheat-treated\b|\bfreez\w+\b"
)
