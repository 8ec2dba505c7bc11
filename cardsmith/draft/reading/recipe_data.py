"""What a page's own data say of a recipe: schema.org's Recipe in JSON-LD, line by line."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from cardsmith.draft.lines import ListMark, Sort
from cardsmith.draft.reading.gathering import Gathering
from cardsmith.regex import regex

_TAG = regex(r"<[^<>]*>")
# ISO 8601: PT1H30M, P1DT2H
_SPAN = regex(r"P(?:(?P<d>\d+)D)?(?:T(?:(?P<h>\d+)H)?(?:(?P<min>\d+)M)?(?:\d+S)?)?")
_TIMES = {"prepTime": "Active", "totalTime": "Total", "cookTime": "Cook time"}
_TEXTS = {"recipeCuisine": "Cuisine", "keywords": "Keywords"}
_LEFT_OUT = frozenset(
    "@context @id @type name description recipeYield author recipeIngredient ingredients recipeInstructions "
    "image url datePublished dateModified mainEntityOfPage publisher aggregateRating review video isPartOf "
    "inLanguage thumbnailUrl headline dateCreated interactionStatistic tool supply".split()
)  # of these, what is not read is no part of the recipe's text
MOST_LEVELS = 8
MOST_LINES = 400


def recipes_in(text: str, found: Gathering) -> None:
    """Takes the lines of every recipe in a script of data; data that can't be read are none."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        return
    for recipe in _recipes(data, 0):
        for line, mark, said in _lines(recipe):
            if len(found.lines) < MOST_LINES:
                found.add(line, mark, said=said)
        found.blank()


def _recipes(node: Any, depth: int) -> Iterator[dict[str, Any]]:
    if depth > MOST_LEVELS:
        return
    if isinstance(node, list):
        for one in node:
            yield from _recipes(one, depth + 1)
    elif isinstance(node, dict):
        if "Recipe" in _listed(node.get("@type")):
            yield node
        elif "@graph" in node:
            yield from _recipes(node["@graph"], depth + 1)


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]


def _words(value: Any) -> str:
    """A value as plain text: without the marks of HTML that some pages leave in their data."""
    import html  # noqa: PLC0415 - as the page

    if isinstance(value, dict):
        value = value.get("name") or value.get("text") or ""
    return " ".join(html.unescape(_TAG.sub(" ", str(value))).split())


def _lines(recipe: dict[str, Any]) -> Iterator[tuple[str, ListMark, Sort | None]]:
    """The lines of one recipe in the order of a card, each with what the data say it is."""
    yield _words(recipe.get("name", "")), ListMark.NONE, Sort.TITLE
    yield _words(recipe.get("description", "")), ListMark.NONE, Sort.HEADNOTE
    for author in _listed(recipe.get("author"))[:1]:
        yield f"By: {_words(author)}" if _words(author) else "", ListMark.NONE, Sort.CREDIT
    yields = [_words(one) for one in _listed(recipe.get("recipeYield"))]
    if yields:
        yield f"Yield: {max(yields, key=len)}", ListMark.NONE, Sort.YIELD
    for key, label in _TIMES.items():
        if told := _span(_words(recipe.get(key, ""))):
            yield f"{label}: {told}", ListMark.NONE, Sort.TIME
    for tool in _listed(recipe.get("tool")):
        yield _words(tool), ListMark.BULLET, Sort.EQUIPMENT
    for line in _listed(recipe.get("recipeIngredient", recipe.get("ingredients"))):
        yield _words(line), ListMark.BULLET, Sort.INGREDIENT
    yield from _steps(recipe.get("recipeInstructions"), 0)
    for key, label in _TEXTS.items():
        told = ", ".join(filter(None, map(_words, _listed(recipe.get(key)))))
        yield f"{label}: {told}" if told else "", ListMark.NONE, Sort.LABELLED
    for key, value in recipe.items():
        if key not in {*_LEFT_OUT, *_TIMES, *_TEXTS} and (told := _told(value)):
            yield f"{key}: {told}", ListMark.NONE, Sort.KEPT


def _told(value: Any) -> str:
    """A value that is no part of a card, for a comment."""
    inner = value if isinstance(value, dict) else {"": value}
    return "; ".join(f"{key} {_words(one)}".strip() for key, one in inner.items() if not key.startswith("@"))


def _steps(node: Any, depth: int) -> Iterator[tuple[str, ListMark, Sort | None]]:
    for one in _listed(node) if depth < MOST_LEVELS else ():
        if isinstance(one, dict) and "itemListElement" in one:
            if "HowToSection" in _listed(one.get("@type")):
                yield _words(one.get("name", "")), ListMark.NONE, Sort.PART
            yield from _steps(one["itemListElement"], depth + 1)
        elif isinstance(one, dict):
            yield _words(one.get("text") or one.get("name") or ""), ListMark.NUMBER, Sort.STEP
        else:
            for row in str(one).split("\n"):
                yield _words(row), ListMark.NUMBER, Sort.STEP


def _span(text: str) -> str:
    """A length of time as people write it: PT1H30M is 1 h 30 min; what is written so already stays."""
    found = _SPAN.fullmatch(text)
    if found is None:
        return text
    units = (("d", "day" if found["d"] == "1" else "days"), ("h", "h"), ("min", "min"))
    return " ".join(f"{int(found[key])} {unit}" for key, unit in units if found[key] and int(found[key]))
