"""What of a dish spoils when it stands warm: by its foods, what heat they met, and what they lie in.

FDA Food Code 1-201.10 (food that needs time and temperature control): food from animals, raw or heated;
plants that were heated; sprouts, cut melons, cut leafy greens and cut tomatoes; garlic in oil. What is dry,
sweet or sour enough, and what bakes to a crumb, keeps.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from fractions import Fraction

from cardsmith.facts.foods.roles import ANIMAL, EGGS, YOLKS
from cardsmith.facts.method.dish import Dish
from cardsmith.facts.method.events import Heat
from cardsmith.last_result import remembered
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.weighed import weigh
from cardsmith.regex import regex

KEEPS = (  # dried or cured, and what only flavours
    "key:prosciutto", "key:serrano-ham", "key:salami", "key:pepperoni", "key:nduja", "key:dry-chorizo",
    "key:bonito-flakes", "key:dried-shrimp", "key:anchovy-*", "key:bacon", "role:condiment",
)  # fmt: skip
STOCK = ("role:stock",)
POURED = ("role:liquid", "role:stock", "key:water", "key:ice")
SOFT_DAIRY = ("role:cream", "key:cream-cheese", "key:mascarpone", "key:*ricotta", "key:cottage-cheese")
CULTURED = ("key:*yogurt*", "key:*kefir*", "key:*buttermilk", "key:creme-fraiche", "key:quark")
MILKY = ("role:cream", "role:milk")
STARCHES = ("role:rice", "role:legume", "role:grain")
PLANTS = (*STARCHES, "role:vegetable", "role:allium")
CUT = (
    "key:cantaloupe", "key:*melon", "key:*tomato", "key:*-lettuce", "key:*spinach", "key:*-sprouts",
)  # fmt: skip
DRY = ("key:dried-*", "key:*-powder", "key:*-flakes", "key:*-flour", "key:*noodle*", "key:popcorn")
CRISP = regex(r"\b(?:dehydrat\w*|crisp|brittle|leathery|bone[- ]dry|dry to the touch|snaps?|cracks?)\b")
A_CRUMB = Fraction(3, 20)  # of flour: a dough or a batter, which bakes dry enough; common practice, no source
A_MAIN_FOOD = Fraction(1, 5)  # of the whole; less only flavours it: common practice, no source
SWEET = Fraction(9, 20)  # of sugar: a jam or a candy; common practice, no source
MOIST = Fraction(3, 10)  # of water; less is a bar or a cracker: common practice, no source
WET = Fraction(1, 4)  # of milk, cream and soft cheese beside egg: a custard; common practice, no source


@remembered
def shares(dish: Dish) -> Mapping[str, Fraction]:
    """The share of each role in what is weighed of the list, lines for the pan or to serve left out."""
    return _shares_of(dish, range(len(dish.recipe.ingredients)))


def _shares_of(dish: Dish, lines: Collection[int]) -> Mapping[str, Fraction]:
    grams: dict[str, Fraction] = {}
    whole = Fraction(0)
    for place, line in enumerate(dish.recipe.ingredients):
        counts = line.amount is not None and not line.for_use and place in lines
        mass = weigh(line, line.amount) if line.amount is not None and counts else None
        food = dish.foods[place].food
        if mass is None or food is None:
            continue
        whole += mass.grams
        for role, share in food.roles.items():
            grams[role] = grams.get(role, Fraction(0)) + mass.grams * share
    return {role: mass / whole for role, mass in grams.items()} if whole else {}


def _share_of(dish: Dish, places: list[int]) -> Fraction:
    """The share of some lines in what is weighed, what is poured left out; 1 where one has no weight."""
    weights = {
        at: mass.grams
        for at, line in enumerate(dish.recipe.ingredients)
        if line.amount is not None
        and not is_of(dish.foods[at].food, POURED)
        and (mass := weigh(line, line.amount)) is not None
    }
    whole = sum(weights.values(), Fraction(0))
    mine = sum((weights.get(place, whole) for place in places), Fraction(0))
    return mine / whole if whole else Fraction(bool(places))


def is_animal(dish: Dish, place: int) -> bool:
    """Whether a line is meat, fish or bones that spoil, raw or cooked."""
    food = dish.foods[place].food
    return is_of(food, (*ANIMAL, "role:bone")) and not is_of(food, KEEPS) and not dish.line(place).for_use


def _sort(dish: Dish, place: int) -> str:
    food = dish.foods[place].food
    return next((name for name in ("poultry", "fish", "shellfish") if is_of(food, (f"role:{name}",))), "meat")


def heated(dish: Dish, place: int) -> bool:
    """Whether heat got through some portion of a line, or it is bought cooked."""
    done = {Heat.COOKED, Heat.PASTEURISED, Heat.UNKNOWN}
    return bool(dish.foods[place].ready) or any(event.heat in done for event in dish.history(place).events)


def spoils(dish: Dish, place: int) -> str:
    """What a line is that spoils warm, in words; empty where it keeps by itself."""
    line, food = dish.line(place), dish.foods[place].food
    if line.for_use or food is None:
        return ""
    if is_animal(dish, place):
        return f"{_sort(dish, place)} ({line.item})"
    if is_of(food, DRY) and not heated(dish, place):
        return ""
    if is_of(food, SOFT_DAIRY) and not any(event.heat is Heat.COOKED for event in dish.history(place).events):
        return line.item
    if is_of(food, STOCK):
        return line.item
    if is_of(food, PLANTS) and _is_cooked_moist(dish, place):
        return f"cooked {line.item}" if not line.item.startswith("cooked") else line.item
    return f"cut {line.item}" if is_of(food, CUT) and not is_of(food, DRY) else ""


def needs_heat(dish: Dish, place: int) -> bool:
    """Whether a line spoils only once it was heated: a plant that is no cut melon, tomato or leaf."""
    food = dish.foods[place].food
    return is_of(food, PLANTS) and not is_of(food, CUT) and not dish.foods[place].ready


def _is_cooked_moist(dish: Dish, place: int) -> bool:
    """Heated with water, its own or another's, and not dried till it keeps."""
    events = dish.history(place).events
    if not heated(dish, place) or any(CRISP.search(event.text) for event in events):
        return False
    boiled = bool(dish.foods[place].ready) or any(event.verb in _WETLY for event in events)
    return boiled or shares(dish).get("water", MOIST) >= MOIST


_WETLY = frozenset({"boil", "simmer", "steam", "poach", "braise", "stew", "cook"})


def spoiling(dish: Dish) -> str:
    """What makes the finished dish spoil at room temperature; empty where nothing does."""
    places = range(len(dish.recipe.ingredients))
    animal = next((spoils(dish, place) for place in places if is_animal(dish, place)), "")
    if animal:
        return "" if _is_dried(dish) else animal
    roles = shares(dish)
    raw = next((place for place in places if _is_raw_egg(dish, place)), None)
    if raw is not None and roles.get("sugar", Fraction(0)) < SWEET:
        return f"raw {dish.line(raw).item}"
    sweet = roles.get("sugar", Fraction(0)) >= SWEET or roles.get("chocolate", Fraction(0)) >= WET
    if sweet:
        return ""
    crumb = roles.get("flour", Fraction(0)) >= A_CRUMB
    return next(
        filter(
            None,
            (*_soft(dish, places), _set_with_egg(dish, roles), *_fillings(dish, places), _milky(dish, roles)),
        ),
        "",
    ) or ("" if crumb or _is_sour(roles) else _of_plants(dish, places))


def _is_raw_egg(dish: Dish, place: int) -> bool:
    """Egg that stays raw in what is served; a lick of it on a crust bakes."""
    egg = is_of(dish.foods[place].food, (*EGGS, *YOLKS)) and not dish.line(place).for_use
    return egg and dish.is_raw(place)


def _is_dried(dish: Dish) -> bool:
    """Meat that is dried for hours until it keeps, for which other rules ask; patted dry it is as it was."""
    return any(
        event.verb == "dehydrate"
        or (event.verb == "dry" and (event.seconds >= AN_HOUR or CRISP.search(event.text) is not None))
        for place in range(len(dish.foods))
        if is_animal(dish, place)
        for event in dish.history(place).events
    )


AN_HOUR = 3600  # seconds: no strip of meat dries in less; common practice, no source


def _soft(dish: Dish, places: range) -> Iterator[str]:
    """Cream and soft cheese that no heat reached."""
    for place in places:
        if is_of(dish.foods[place].food, SOFT_DAIRY):
            yield spoils(dish, place)


def _fillings(dish: Dish, places: range) -> Iterator[str]:
    """Custards that were cooked by themselves, whatever crumb they fill in the end."""
    for place in places:
        cooked = [event for event in dish.history(place).events if event.heat in _DONE]
        if cooked and is_of(dish.foods[place].food, YOLKS):
            yield _set_with_egg(dish, _shares_of(dish, cooked[-1].lines))


_DONE = frozenset({Heat.COOKED, Heat.PASTEURISED})


def is_custard(dish: Dish) -> bool:
    """Whether egg sets or binds the dish, and no crumb does."""
    return bool(_set_with_egg(dish, shares(dish)))


def _set_with_egg(dish: Dish, roles: Mapping[str, Fraction]) -> str:
    """A custard, a curd or a mayonnaise: egg in milk, cream, cheese, butter or oil, and little flour."""
    kind = dish.recipe.kind.text if dish.recipe.kind else ""
    pie = kind == "pie" or _PIE.search(dish.recipe.title) is not None
    if roles.get("flour", Fraction(0)) >= A_CRUMB and not pie:
        return ""
    egg = sum((roles.get(role, Fraction(0)) for role in ("egg", "egg-yolk")), Fraction(0))
    wet = sum((roles.get(role, Fraction(0)) for role in ("milk", "cream", "cheese")), Fraction(0))
    fat = sum((roles.get(role, Fraction(0)) for role in ("butter", "oil")), Fraction(0))
    if egg and wet >= (A_CRUMB if pie else WET):
        return CUSTARD
    if egg >= A_MAIN_FOOD / 2 and fat >= A_MAIN_FOOD / 2 and roles.get("flour", Fraction(0)) < A_CRUMB / 3:
        return "egg with butter or oil"
    return ""


CUSTARD = "a filling of milk and egg"
_PIE = regex(r"\b(?:pie|tart|tarts|tartlets?|quiche|flan|cheesecake)\b", re.IGNORECASE)


def _milky(dish: Dish, roles: Mapping[str, Fraction]) -> str:
    """Milk and cream that were heated, in a pudding, a sauce or a soup; sour milk keeps by its acid."""
    wet = sum((roles.get(role, Fraction(0)) for role in ("milk", "cream")), Fraction(0))
    mild = (
        not any(is_of(food.food, CULTURED) for food in dish.foods)
        and not _is_sour(roles)
        and not _is_preserved(dish)
    )
    if wet < WET or roles.get("flour", Fraction(0)) >= A_CRUMB or not mild:
        return ""
    return next(
        (dish.line(place).item for place, food in enumerate(dish.foods) if is_of(food.food, MILKY)), ""
    )


def _is_sour(roles: Mapping[str, Fraction]) -> bool:
    """A pickle or a preserve, for which other rules ask."""
    return roles.get("vinegar", Fraction(0)) >= Fraction(1, 8)


def _of_plants(dish: Dish, places: range) -> str:
    """Cooked rice, pulses or vegetables, cut melon, tomatoes or leaves, where they are a main food."""
    if _is_preserved(dish):
        return ""
    of_plants = [place for place in places if spoils(dish, place)]
    return spoils(dish, of_plants[0]) if of_plants and _share_of(dish, of_plants) >= A_MAIN_FOOD else ""


def _is_preserved(dish: Dish) -> bool:
    """Dried, fermented or heated in its jar, for which other rules ask."""
    lives = any(is_of(food.food, LIVE) for food in dish.foods)  # a brew of yeast, which eats its sugar
    return lives or any(_PRESERVES.search(clause.text) for clause in dish.histories.clauses)


LIVE = ("role:yeast-instant", "role:yeast-active-dry", "role:yeast-fresh", "key:*kefir-grain*", "key:*scoby*")
_PRESERVES = regex(
    r"\b(?:dehydrat\w*|ferment\w*|fizz\w*|cann(?:er|ing)|process the (?:\w+ )?jars|headspace|"
    r"dry (?:\w+ ){0,4}(?:oven|racks?))\b"
)
