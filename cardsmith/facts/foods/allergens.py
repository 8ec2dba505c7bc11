"""The allergens of a list, by the law of a market: what it holds, what it may hold, and what nobody knows.

The one computation that card, page, statement and the collection's filters ask.
"""

from __future__ import annotations

import enum
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache

from cardsmith.facts.foods.foods import Identity, alternatives, identity
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.measure.patterns import cell
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table
from cardsmith.regex import regex
from cardsmith.words import Said, joined


@enum.unique
class Because(enum.StrEnum):
    """Why a list may hold an allergen, rather than holds it."""

    LABEL = "label"  # brands differ: the pack that is bought decides
    ALTERNATIVE = "alternative"  # comes with what the line offers instead
    OPTIONAL = "optional"  # comes with a line that may be left out
    GUESSED = "guessed"  # the larder knows the food by its noun or class alone


@frozen
class Class:
    """One class of a market's law, and the words that name it."""

    name: str
    printed: str
    naming: re.Pattern[str]
    names_the_kind: bool  # the nut or the cereal itself is named, not the class alone


@frozen
class AllergenSource:
    """One line that holds an allergen, or may."""

    item: str
    kind: str  # the nut, the cereal, the fish where the law wants it named
    because: Because | None  # None where it is certain


@frozen
class Held:
    """One class with all that it comes from."""

    allergen: Class
    sources: tuple[AllergenSource, ...]

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds to name, each once: almond, walnut."""
        return tuple(dict.fromkeys(source.kind for source in self.sources if source.kind))

    @property
    def kinds_by_law(self) -> tuple[str, ...]:
        """The same in the number of the law: in Europe hazelnuts and oats, in the US hazelnut."""
        european = self.allergen.name in ("nuts", "cereals containing gluten")
        return tuple(_EU_PLURALS.get(kind, kind) if european else kind for kind in self.kinds)


@frozen
class Allergens:
    """The allergens of a list, in the order of the law."""

    market: str
    certain: tuple[Held, ...]
    possible: tuple[Held, ...]  # in no certain class
    besides: tuple[Held, ...]  # what may be there of a class that is certain: other nuts
    unknown: tuple[str, ...]  # items of which nobody can say what they hold

    @property
    def names(self) -> tuple[str, ...]:
        """What a card lists, each class by its name in the law: milk, possibly wheat; alphabetical."""
        return self._listed(lambda held: Said(held.allergen.name))

    @property
    def with_kinds(self) -> tuple[str, ...]:
        """The same with each cereal and nut by its name: cereals containing gluten (wheat, oat)."""
        return self._listed(_with_kinds)

    def _listed(self, text: Callable[[Held], Said]) -> tuple[str, ...]:
        perhaps = sorted(map(text, self.possible))
        return (*sorted(map(text, self.certain)), *(Said("possibly {name}", name=name) for name in perhaps))


@cache
def classes(market: str) -> Mapping[str, Class]:
    """The classes of ``us`` or ``eu``, in the order of the law."""
    return {
        row["class"]: Class(
            name=row["class"],
            printed=row["printed"],
            naming=regex(rf"\b(?:{row['words']})(?:s|es)?\b", re.IGNORECASE),
            names_the_kind=row["names_the_kind"] == "yes",
        )
        for row in table("allergen_classes")
        if row["jurisdiction"].lower() == market
    }


def usual(food: Food, market: str) -> tuple[str, ...]:
    """What the usual make of a compound food holds: as the house says, else as our table does."""
    own = next(iter(food.own.get("compounds", ())), None)
    return cell(own[f"{market}_allergens"]) if own else _usual(market).get(food.key, ())


@cache
def _usual(market: str) -> Mapping[str, tuple[str, ...]]:
    return {row["food"]: cell(row[f"{market}_allergens"]) for row in table("compounds")}


def allergens(lines: Iterable[Ingredient], market: str, larder: Larder) -> Allergens:
    """The allergens of ``lines`` by the law of ``market``: us (FALCPA, nine) or eu (FIC, fourteen).

    Certain is what every pack of a food holds. What depends on the maker, on an alternative, on a line that
    may be left out, or on a guess at what the food is, is possible; a food nobody knows is unknown.
    """
    sure: dict[str, list[AllergenSource]] = {}
    perhaps: dict[str, list[AllergenSource]] = {}
    unknown: list[str] = []
    for line in lines:
        food_identity = identity(line, larder)
        if food_identity.food is None and line.item:
            unknown.append(line.item)
        for name, source in _of_line(line, food_identity, market, larder):
            (sure if source.because is None else perhaps).setdefault(name, []).append(source)
    return Allergens(
        market=market,
        certain=_ordered(sure, market),
        possible=_ordered({name: sources for name, sources in perhaps.items() if name not in sure}, market),
        besides=_ordered({name: sources for name, sources in perhaps.items() if name in sure}, market),
        unknown=tuple(dict.fromkeys(unknown)),
    )


def _of_line(
    line: Ingredient, food_identity: Identity, market: str, larder: Larder
) -> Iterator[tuple[str, AllergenSource]]:
    for name, because in _of_food(food_identity, market):
        yield name, _source(name, food_identity, market, Because.OPTIONAL if line.optional else because)
    for other in alternatives(line, larder):
        for name, _ in _of_food(other, market):
            yield name, _source(name, other, market, Because.ALTERNATIVE)


def _of_food(food_identity: Identity, market: str) -> Iterator[tuple[str, Because | None]]:
    certain = food_identity.certain(market)
    yield from ((name, None) for name in certain)
    doubt = Because.LABEL if food_identity.is_sure else Because.GUESSED
    made = usual(food_identity.food, market) if food_identity.food else ()
    names = dict.fromkeys((*food_identity.possible(market), *made))
    yield from ((name, doubt) for name in names if name not in (*certain, *food_identity.keeps))


def _source(name: str, food_identity: Identity, market: str, because: Because | None) -> AllergenSource:
    return AllergenSource(
        item=food_identity.item,
        kind=kind(classes(market)[name], food_identity.item, food_identity.food),
        because=because,
    )


def kind(class_: Class, item: str, food: Food | None) -> str:
    """The nut, fish or cereal itself, where the law wants it named; empty where it doesn't."""
    if not class_.names_the_kind or food is None:
        return ""
    match = class_.naming.search(food.name) or class_.naming.search(item)
    if match:
        own_words = words(match.group())
        return own_words[0] if len(own_words) == 1 else match.group().lower()
    if class_.name == "cereals containing gluten":
        return "wheat" if "wheat" in food.us_allergens else ""
    return food.name if class_.name in ("fish", "crustacean shellfish") else ""


def _ordered(by_class: Mapping[str, list[AllergenSource]], market: str) -> tuple[Held, ...]:
    return tuple(
        Held(allergen=class_, sources=tuple(dict.fromkeys(by_class[name])))
        for name, class_ in classes(market).items()
        if name in by_class
    )


# Regulation (EU) 1169/2011, Annex II, points 1 and 8.
_EU_PLURALS = {
    "oat": "oats",
    "almond": "almonds",
    "hazelnut": "hazelnuts",
    "walnut": "walnuts",
    "cashew": "cashews",
    "pecan": "pecan nuts",
    "brazil nut": "Brazil nuts",
    "pistachio": "pistachio nuts",
    "macadamia": "macadamia nuts",
}
# Where both laws mean much the same, one word stands for either; it covers what any of the two lists.
_SAME = {"nuts": "tree nuts", "soya": "soy", "crustaceans": "crustacean shellfish"}
_ELSEWHERE = {american: european for european, american in _SAME.items()}


def in_one_word(
    lines: Iterable[Ingredient], larder: Larder, laws: tuple[str, ...] = ("US",)
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The words of both laws together, those certain and those possible, for filters; alphabetical.

    Where both mean the same, the word is that of the house's ``laws``.
    """
    listed = tuple(lines)
    both = [allergens(listed, market, larder) for market in ("us", "eu")]
    sure = {word_by_law(_word(held), laws) for other in both for held in other.certain}
    perhaps = {word_by_law(_word(held), laws) for other in both for held in other.possible} - sure
    return tuple(sorted(sure)), tuple(sorted(perhaps))


def word_by_law(word: str, laws: tuple[str, ...]) -> str:
    """The word of a filter in a house of these laws: tree nuts in the US, elsewhere nuts."""
    return word if "US" in laws else _ELSEWHERE.get(word, word)


def named_by_both(us: Allergens, eu: Allergens) -> frozenset[str]:
    """The names, as either list has them, of foods that the other law's list has too, in its own words.

    Egg and eggs are the same food, and wheat alone is the same as cereals containing gluten.
    """
    keys = [{_same_food(held, sure=sure) for held, sure in _held(other)} for other in (us, eu)]
    same = keys[0] & keys[1]
    return frozenset(
        name
        for other in (us, eu)
        for held, sure in _held(other)
        if _same_food(held, sure=sure) in same
        for name in _names(held, sure=sure)
    )


def _held(listed: Allergens) -> Iterator[tuple[Held, bool]]:
    """Each class, and whether it is certain."""
    yield from ((held, True) for held in listed.certain)
    yield from ((held, False) for held in listed.possible)


def _names(held: Held, *, sure: bool) -> tuple[str, str]:
    """Both ways in which a card may name a class."""
    lead = "" if sure else "possibly "
    return f"{lead}{held.allergen.name}", f"{lead}{_with_kinds(held)}"


def _with_kinds(held: Held) -> Said:
    name = Said(held.allergen.name)
    if not held.kinds:
        return name
    return Said("{name} ({kinds})", name=name, kinds=joined(", ", *map(Said, held.kinds_by_law)))


def _same_food(held: Held, *, sure: bool) -> tuple[str, bool]:
    """What two classes share that mean the same foods under either law."""
    is_wheat = held.allergen.printed == "gluten" and all(source.kind == "wheat" for source in held.sources)
    return "wheat" if is_wheat else _word(held), sure


def _word(held: Held) -> str:
    return _SAME.get(held.allergen.printed, held.allergen.printed)


def named_by_law() -> dict[str, tuple[str, ...]]:
    """What either law calls an allergen or a food that is one, each with the words of the filters."""
    by_name: dict[str, set[str]] = {}
    for row in table("allergen_classes"):
        word = _SAME.get(row["printed"], row["printed"])
        for name in (row["class"], row["printed"], word, *cell(row["words"])):
            by_name.setdefault(name, set()).add(word)
    return {name: tuple(sorted(words)) for name, words in by_name.items()}
