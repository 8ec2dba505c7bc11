"""Plants that need their time: leaves that sting unless they are boiled long, vegetables that salt keeps."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.facts.method.clauses import Deed
from cardsmith.facts.method.dish import UNTOUCHED, Dish
from cardsmith.facts.method.events import Heat
from cardsmith.language.stops import sentences
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.weighed import weigh
from cardsmith.regex import regex

LONG = 30 * 60  # s; three quarters of an hour is the usual advice for taro leaves
DAYS = 3 * 24 * 60 * 60  # s without cold, after which what keeps a vegetable is its salt and its acid
LEAST_SALT = Fraction(1, 100)  # less than half of the published 2.25 to 2.5 %
_SOURED = ("role:vinegar", "role:flour", "role:yeast-instant", "role:yeast-active-dry", "role:levain")
_COLD = regex(r"\b(?:refrigerat\w*|fridge|chill\w*|cold|freez\w*|dry|dried|oil)\b")


def cooked_briefly(dish: Dish, place: int) -> bool:
    """Whether all its cooking comes to less than half an hour; not under pressure or without a time."""
    events = dish.history(place).events
    if any("pressure" in event.text for event in events):
        return False
    cooked = sum((event.seconds for event in events if event.heat is Heat.COOKED), Fraction(0))
    return 0 < cooked < LONG or dish.heat(place) in UNTOUCHED


def undersalted(dish: Dish, _place: int) -> bool:
    """Whether vegetables stand for days without cold, in less than a hundredth of salt and no vinegar."""
    clauses = dish.histories.clauses
    stands = (clause for clause in clauses if clause.deed is Deed.LEAVE and clause.seconds >= DAYS)
    if all(_COLD.search(clause.text) for clause in stands):
        return False
    vegetables = salt = other = Fraction(0)
    for place, known in enumerate(dish.foods):
        line, food = dish.line(place), known.food
        if food is None or is_of(food, _SOURED):
            return False
        mass = weigh(line, line.amount) if line.amount is not None else None
        if mass is None and food.share("salt"):
            return False
        grams = mass.grams if mass is not None else Fraction(0)
        plant = food.share("vegetable") or food.share("allium") or food.share("liquid")
        vegetables, other = (vegetables + grams, other) if plant else (vegetables, other + grams)
        salt += grams * food.share("salt")
    return vegetables > other and 0 < salt < vegetables * LEAST_SALT


def vegetables_salted(dish: Dish, _place: int) -> bool:
    """Vegetables lie in salt: no dough that ferments."""
    foods = [food.food for food in dish.foods]
    return any(is_of(food, ("role:vegetable", "role:fruit")) for food in foods) and not any(
        is_of(
            food,
            ("role:flour", "role:yeast-instant", "role:yeast-active-dry", "role:yeast-fresh", "role:levain"),
        )
        for food in foods
    )


def vegetables_souring(dish: Dish, place: int) -> bool:
    """They lie in salt for days, with no vinegar: a ferment."""
    sour = any(is_of(food.food, ("role:vinegar",)) for food in dish.foods)
    days = any(clause.seconds >= _DAYS for clause in dish.histories.clauses)
    return vegetables_salted(dish, place) and days and not sour


_DAYS = 2 * 86400  # s


def picked_by_reader(dish: Dish, _place: int) -> bool:
    """Whether a sentence sends the reader out to pick the mushrooms of the list, and nobody names them."""
    if not any(is_of(food.food, _MUSHROOMS) for food in dish.foods):
        return False
    recipe = dish.recipe
    texts = (recipe.headnote, *(note.text for note in recipe.notes), *(step.text for step in recipe.steps))
    lines = (line.text for line in recipe.ingredients)
    mentioned = (said for text in (*texts, *lines) for said in sentences(text.lower(), whole=True))
    return any(
        _PICKS.search(said) and _OUTDOORS.search(said) and not _NAMED.search(said) for said in mentioned
    )


_MUSHROOMS = ("key:*mushroom*", "key:*chanterelle*", "key:*morel*", "key:*porcini*", "key:truffle")
_PICKS = regex(
    r"\b(?:pick|gather|collect|forage|hunt|find|bring home|carry home|fill (?:your|a|the) \w*basket)\b"
)
_OUTDOORS = regex(
    r"\b(?:woods?|woodland|forests?|meadows?|fields?|hedges?|pastures?|walks?|rambles?|moss|birch\w*|beech\w*|pines?"
    r"|after (?:the )?rain|under (?:the )?trees|basket|yourself)\b"
)
_NAMED = regex(
    r"\b(?:never|not|don['’]t|nobody|expert\w*|licensed|knows|identif\w*|shop\w*|market|grocer\w*|buy)\b"
)
