"""A card as schema.org ``Recipe`` in JSON-LD: only what the page shows, in the words in which it shows it.

Source: schema.org (Recipe, HowToStep, HowToSection, NutritionInformation, RestrictedDiet); the guides of
search engines: developers.google.com/search/docs/appearance/structured-data/recipe (name and image, a
step's name and address; exact times, no ranges) and
yandex.com/support/webmaster/supported-schemas/recipe.html (name and recipeIngredient; recipeYield as a
number of servings), both seen in stored copies and in part; the rest of what they recommend (author, dates,
category, cuisine, keywords, nutrition) from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from cardsmith.facts.foods.claims import diet
from cardsmith.house.style import House
from cardsmith.language.stops import stops
from cardsmith.render.typeset import NO_BREAK, marks
from cardsmith.rewrite.card.model import Card, CardPart, CardStep, Spans
from cardsmith.rewrite.card.model import plain as joined
from cardsmith.rewrite.card.summary import outline
from cardsmith.rewrite.wording import ENGLISH, fraction_text
from cardsmith.site.entry import OTHER, course_of
from cardsmith.words import FixedWords, around_english, fixed_words

DIETS = {"vegan": "VeganDiet", "vegetarian": "VegetarianDiet", "gluten-free": "GlutenFreeDiet"}
_SIGN = ", until "
_VOCABULARY = "https://schema.org/"


def recipe_data(
    card: Card,
    house: House,
    *,
    address: str = "",
    images: tuple[str, ...] = (),
    nutrition: Mapping[str, str] | None = None,
) -> dict[str, Any]:
    """The card for machines; what is not known is left out.

    ``address`` is the page's on the web, ``images`` those of its photo in each shape.
    """
    recipe = card.recipe
    say, prose = fixed_words(house.language), around_english(house.language)
    # Hands-on time is not prepTime, nor the rest cookTime: each is given where the recipe says it, at its
    # longer end, since there are no ranges.
    course = course_of(recipe)
    record = {
        "@context": _VOCABULARY.rstrip("/"),
        "@type": "Recipe",
        "name": marks(recipe.title),
        "url": address,
        "image": list(images),
        "author": _author(card.credit, house),
        "publisher": {"@type": "Organization", "name": marks(house.name)},
        "datePublished": recipe.published.date if recipe.published else "",
        "dateModified": _modified(card),
        "inLanguage": house.language,
        "description": plain(card.headnote, prose),
        **{
            key: iso_duration(time.high)
            for key, name in (("prepTime", "prep"), ("cookTime", "cook"), ("totalTime", "total"))
            if (time := getattr(recipe.time, name, None))
        },
        "recipeYield": list(yields(card, house, say)),
        "recipeCategory": "" if course == OTHER else say.heading(course),
        "recipeCuisine": marks(recipe.cuisine),
        "keywords": ", ".join(marks(word.text) for word in recipe.keywords),
        "recipeIngredient": list(ingredient_lines(card, house, say)),
        "recipeInstructions": _instructions(card.parts, address, prose),
        "tool": [spaced(marks(item)) for item in card.equipment],
        "nutrition": dict(nutrition or {}),
        "suitableForDiet": [
            f"{_VOCABULARY}{DIETS[claim.name]}"
            for claim in map(diet, card.claims)
            if claim and claim.name in DIETS
        ],
    }
    return {name: value for name, value in record.items() if value}


def ingredient_lines(card: Card, house: House, say: FixedWords) -> Iterable[str]:
    """``1⅔ cups (200 g) flour, sifted`` and ``3 large eggs (150 g)``, as a reader would say them."""
    for line in (line for part in card.parts for line in part.ingredients):
        yield spaced(marks(line.in_words(house.order, say))).strip()


def yields(card: Card, house: House, say: FixedWords) -> tuple[str, ...]:
    """How many it serves as a bare number, which search engines ask for first, and what it makes."""
    given, outlined = card.recipe.yields, outline(card, house, say)
    serves = outlined["serves"]
    if given and given.serves_low and given.serves_high in (None, given.serves_low):
        serves = fraction_text(given.serves_low)
    return tuple(spaced(marks(text)) for text in (serves, outlined["makes"]) if text)


def _instructions(parts: tuple[CardPart, ...], address: str, prose: FixedWords) -> list[dict[str, Any]]:
    """Steps, under the name of their part where parts have names."""
    made: list[dict[str, Any]] = []
    for part in parts:
        steps = [_step(step, address, prose) for step in part.steps]
        if part.name and steps:
            made.append({"@type": "HowToSection", "name": spaced(marks(part.name)), "itemListElement": steps})
        else:
            made += steps
    return made


def _step(step: CardStep, address: str, prose: FixedWords) -> dict[str, Any]:
    text = plain(step.spans, prose)
    record = {"@type": "HowToStep", "name": step_name(text), "text": text}
    return {**record, "url": f"{address}#s{step.number}"} if address else record


def step_name(text: str) -> str:
    """What a step is about: its first sentence, less the sign of doneness; no number of it is cut."""
    end = next((start for start, _ in stops(text)), len(text))
    return text[:end].partition(_SIGN)[0].rstrip(".")


def _author(credit: str, house: House) -> dict[str, str]:
    """The house's own credit is an organisation, a by-line a person (common practice, no source)."""
    kind = "Organization" if not credit or credit in (house.credit, house.name) else "Person"
    return {"@type": kind, "name": spaced(marks(credit or house.name))}


def _modified(card: Card) -> str:
    """The day of the last correction; a recipe that was never corrected was last changed when published."""
    recipe = card.recipe
    if recipe.published is None:
        return ""
    return max((recipe.published.date, *(correction.date for correction in recipe.corrections)))


def iso_duration(seconds: Fraction) -> str:
    """``PT1H45M``; days are days of 24 hours. Source: ISO 8601-1:2019, 5.5.2."""
    minutes, left = divmod(round(seconds), 60)
    days, hours, minutes = minutes // 1440, minutes // 60 % 24, minutes % 60
    day = f"{days}D" if days else ""
    parts = ((hours, "H"), (minutes, "M"), (left, "S"))
    clock = "".join(f"{number}{letter}" for number, letter in parts if number)
    return f"P{day}{f'T{clock}' if clock else ''}" if day or clock else "PT0S"


def plain(spans: Spans, say: FixedWords = ENGLISH) -> str:
    """Running text without its emphasis, its spaces as a keyboard has them."""
    return spaced(marks(joined(spans, say))).strip()


def spaced(text: str) -> str:
    """Text with plain spaces: no-break spaces matter in print only."""
    return text.replace(NO_BREAK, " ").replace("\u2009", " ")
