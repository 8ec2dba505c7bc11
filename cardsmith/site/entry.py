"""What the collection knows of a recipe: just enough for indexes, search, feed and redirects."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields, replace
from functools import cache
from typing import Any

from cardsmith.check.shared_titles import answers
from cardsmith.facts.foods.roles import role_class
from cardsmith.facts.kinds import kind_of
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.measure.larder import Food
from cardsmith.recipe.model import Recipe
from cardsmith.reference import Tables
from cardsmith.render.typeset import marks
from cardsmith.rewrite.card.model import Card, Spans
from cardsmith.rewrite.card.model import plain as joined
from cardsmith.rewrite.card.summary import outline, yield_sentences
from cardsmith.words import FIRST, fixed_words

OTHER = "Other recipes"  # for recipes without a kind or a part of the meal


@frozen
class Noted:
    """A correction as readers see it."""

    date: str  # 2026-06-20
    what: str


@frozen
class Entry:
    """One recipe in the collection. All texts are plain, with typographic marks."""

    name: str
    title: str
    headnote: str
    group: str  # its kind in words: Quick breads
    course: str  # part of the meal: Dessert
    cuisine: str
    makes: str
    serves: str
    active: str  # 35 minutes
    total: str
    total_seconds: int | None  # the longer end of a range; None where no time is stated
    sure_allergens: tuple[str, ...]  # of both laws, a word each
    possible_allergens: tuple[str, ...]  # those that hang on what is bought, or which alternative is taken
    unknown_foods: tuple[str, ...]  # ingredients whose allergens are unknown
    claims: tuple[str, ...]
    keywords: tuple[str, ...]
    ingredients: tuple[str, ...]
    other_names: tuple[str, ...]  # further names of the ingredients, for search
    foods: tuple[str, ...]  # by their names in the larder, without water, salt and what seasons and raises
    published: str  # 2026-06-01; empty: not yet
    corrections: tuple[Noted, ...]  # in the order of their dates
    formerly: tuple[str, ...]  # names it was published under, the oldest first
    picture: str = ""  # the file in its folder of the site that shows it; empty for none
    shares_title: bool = False  # it says why another recipe may have its title
    edition: str = ""  # which of the further editions it is, whose key ends its name
    editions: tuple[Entry, ...] = ()  # the further ones

    @property
    def updated(self) -> str:
        """The day of publication or of the last correction; empty before publication."""
        return (
            max((self.published, *(correction.date for correction in self.corrections)))
            if self.published
            else ""
        )

    @property
    def first_name(self) -> str:
        """The name it was first published under, which never changes."""
        return self.formerly[0] if self.formerly else self.name

    def record(self) -> dict[str, Any]:
        """The entry as JSON values, equal before writing and after reading."""
        values_of = {field.name: getattr(self, field.name) for field in fields(self)}
        values = {
            name: list(value) if isinstance(value, tuple) else value for name, value in values_of.items()
        }
        corrections = [[correction.date, correction.what] for correction in self.corrections]
        return values | {
            "corrections": corrections,
            "editions": [edition.record() for edition in self.editions],
        }


def entry_from(record: Mapping[str, Any]) -> Entry:
    """The entry that gave ``record``.

    Raises:
        TypeError: the record is of another version of this class.
    """
    values: dict[str, Any] = {
        name: tuple(value) if isinstance(value, list) else value for name, value in record.items()
    }
    values["corrections"] = tuple(Noted(date=date, what=what) for date, what in record["corrections"])
    values["editions"] = tuple(map(entry_from, record.get("editions", ())))
    return Entry(**values)


def entry_of(card: Card, house: House, picture: str = "") -> Entry:
    """What the collection should know of a card; ``picture`` is the file beside its page that shows it."""
    recipe, say = card.recipe, fixed_words(house.language)
    makes, serves = yield_sentences(card, house, say)
    outlined = outline(card, house, say)
    total = recipe.time.total if recipe.time else None
    foods = [line.food for line in recipe.ingredients if line.food]
    food_names = (name for food in foods for name in (food.name, food.uk_name, *food.aliases))
    named = _unique(marks(line.item) for part in card.parts for line in part.ingredients)
    return Entry(
        name=recipe.name,
        title=marks(recipe.title),
        headnote=plain(card.headnote).strip(),
        group=group_of(recipe),
        course=course_of(recipe),
        cuisine=recipe.cuisine,
        makes=marks(makes),
        serves=marks(serves),
        active=marks(outlined["active"]),
        total=marks(outlined["total"]),
        total_seconds=round(total.high) if total else None,
        sure_allergens=card.sure_allergens,
        possible_allergens=card.possible_allergens,
        unknown_foods=card.unknown_foods,
        claims=card.claims,
        keywords=_unique(word.text for word in recipe.keywords),
        ingredients=named,
        other_names=_unique(name for name in food_names if name not in named),
        foods=_unique(_name_of(food, house) for food in foods if _is_of_weight(food)),
        published=recipe.published.date if recipe.published else "",
        corrections=tuple(
            Noted(date=correction.date, what=marks(correction.what)) for correction in recipe.corrections
        ),
        formerly=_unique(name.text for name in recipe.formerly),
        picture=picture,
        shares_title=answers(recipe),
    )


def _is_of_weight(food: Food) -> bool:
    """Whether one would cook another dish for its sake."""
    seasons = role_class(food) not in {"governing", "other"} and not food.is_mainly("herb")
    return not seasons and food.share("water") < 1


def _name_of(food: Food, house: House) -> str:
    return food.name if house.language == FIRST else food.uk_name or food.name


def of_edition(entry: Entry, edition: str) -> Entry:
    """The entry of a further edition: its key ends the names it has and had."""
    formerly = tuple(f"{name}/{edition}" for name in entry.formerly)
    return replace(entry, name=f"{entry.name}/{edition}", formerly=formerly, edition=edition)


def course_of(recipe: Recipe) -> str:
    """The part of the meal that the author states, else the usual one of the recipe's kind."""
    return marks(recipe.course) or _row(recipe).get("course", OTHER)


def group_of(recipe: Recipe) -> str:
    """The kind in words, as a heading: ``Quick breads``."""
    return _row(recipe).get("heading", OTHER)


def plain(spans: Spans) -> str:
    """Running text without its emphasis."""
    return marks(joined(spans))


def _row(recipe: Recipe) -> Mapping[str, str]:
    return _groups(recipe.tables).get(kind_of(recipe), {})


@cache
def _groups(tables: Tables) -> Mapping[str, Mapping[str, str]]:
    return {row["kind"]: row for row in tables.rows("kind_groups")}


def _unique(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(text for text in texts if text))
