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


def recipes_in(text: str, gathering: Gathering) -> None:
    """Takes the lines of every recipe in a script of data; data that can't be read are none."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        return
    for recipe in _recipes(data, 0):
        for line, mark, said in _lines(recipe):
            if len(gathering.lines) < MOST_LINES:
                gathering.add(line, mark, said=said)
        gathering.blank()


def _recipes(node: Any, depth: int) -> Iterator[dict[str, Any]]:
    if depth > MOST_LEVELS:
        return
    if isinstance(node, list):
        for child in node:
            yield from _recipes(child, depth + 1)
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
    yields = [_words(given) for given in _listed(recipe.get("recipeYield"))]
    if yields:
        yield f"Yield: {max(yields, key=len)}", ListMark.NONE, Sort.YIELD
    for key, label in _TIMES.items():
        if span := _span(_words(recipe.get(key, ""))):
            yield f"{label}: {span}", ListMark.NONE, Sort.TIME
    for tool in _listed(recipe.get("tool")):
        yield _words(tool), ListMark.BULLET, Sort.EQUIPMENT
    for line in _listed(recipe.get("recipeIngredient", recipe.get("ingredients"))):
        yield _words(line), ListMark.BULLET, Sort.INGREDIENT
    yield from _steps(recipe.get("recipeInstructions"), 0)
    for key, label in _TEXTS.items():
        span = ", ".join(filter(None, map(_words, _listed(recipe.get(key)))))
        yield f"{label}: {span}" if span else "", ListMark.NONE, Sort.LABELLED
    for key, value in recipe.items():
        if key not in {*_LEFT_OUT, *_TIMES, *_TEXTS} and (span := _told(value)):
            yield f"{key}: {span}", ListMark.NONE, Sort.KEPT


def _told(value: Any) -> str:
    """A value that is no part of a card, for a comment."""
    inner = value if isinstance(value, dict) else {"": value}
    return "; ".join(
        f"{key} {_words(value)}".strip() for key, value in inner.items() if not key.startswith("@")
    )


def _steps(node: Any, depth: int) -> Iterator[tuple[str, ListMark, Sort | None]]:
    for child in _listed(node) if depth < MOST_LEVELS else ():
        if isinstance(child, dict) and "itemListElement" in child:
            if "HowToSection" in _listed(child.get("@type")):
                yield _words(child.get("name", "")), ListMark.NONE, Sort.PART
            yield from _steps(child["itemListElement"], depth + 1)
        elif isinstance(child, dict):
            yield _words(child.get("text") or child.get("name") or ""), ListMark.NUMBER, Sort.STEP
        else:
            for row in str(child).split("\n"):
                yield _words(row), ListMark.NUMBER, Sort.STEP


def _span(text: str) -> str:
    """A length of time as people write it: PT1H30M is 1 h 30 min; what is written so already stays."""
    match = _SPAN.fullmatch(text)
    if match is None:
        return text
    units = (("d", "day" if match["d"] == "1" else "days"), ("h", "h"), ("min", "min"))
    return " ".join(f"{int(match[key])} {unit}" for key, unit in units if match[key] and int(match[key]))
