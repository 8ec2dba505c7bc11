"""What the method leaves of a danger: whether what is eaten is still raw, underdone, whole or fresh."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction

from cardsmith.facts.dangers.eaters import eats_dough, for_babies, for_toddlers
from cardsmith.facts.dangers.eggs import egg_in_microwave, raw_egg, soft_egg
from cardsmith.facts.dangers.mishaps import (
    THAWS,
    deep_fat,
    dry_ice_in_food,
    fat_listed,
    frozen_into_fat,
    tasted_raw,
    used_marinade,
    wet_into_fat,
)
from cardsmith.facts.dangers.plants import (
    cooked_briefly,
    picked_by_reader,
    undersalted,
    vegetables_salted,
    vegetables_souring,
)
from cardsmith.facts.dangers.vessels import (
    blended_hot,
    bottle_bomb,
    cooker_misused,
    foam_vented,
    glass_shocked,
    sealed_ferment,
)
from cardsmith.facts.foods.roles import EGGS
from cardsmith.facts.method.dish import UNTOUCHED, WIPED, Dish, dish
from cardsmith.facts.method.events import THROUGH, Event, Heat
from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind, Told
from cardsmith.measure.larder import Larder, words
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.model import Recipe
from cardsmith.regex import regex

FLOURS = ("role:wheat-flour", "role:rye-flour")
BOILED = 600  # seconds at a full boil destroy the toxin of beans: Kansas State Extension (after the FDA)
STRONG = 5  # % of acid in vinegar: USDA Complete Guide to Home Canning (memory)


@frozen
class Exposure:
    """A raw or underdone food in what is eaten."""

    line: int  # in recipe.ingredients
    sort: str  # egg, fish, shellfish, meat, poultry, flour, sprouts, beans
    heat: Heat


def exposures(recipe: Recipe, larder: Larder) -> tuple[Exposure, ...]:
    """Every food that is dangerous raw and is eaten raw or underdone, in the order of the list."""
    known = dish(recipe, larder)
    return tuple(
        Exposure(line=place, sort=sort, heat=known.heat(place))
        for place in range(len(recipe.ingredients))
        for sort, foods, state in _SORTS
        if is_of(known.foods[place].food, foods) and STATES[state](known, place)
    )


def _any(_dish: Dish, _place: int) -> bool:
    return True


def _raw(known: Dish, place: int) -> bool:
    return known.is_raw(place)


def _raw_flour(known: Dish, place: int) -> bool:
    """Eaten raw, or heated dry and alone, which makes it no safer; what dusts the board is not eaten."""
    if known.line(place).for_use or known.foods[place].ready or not known.history(place).served:
        return False
    return any(
        all(event.is_alone or event.heat in UNTOUCHED for event in events)
        for events in known.history(place).portions
    )


def _unheated(known: Dish, place: int) -> bool:
    """Eaten raw, and nothing that its steps say could have cooked it."""
    if known.line(place).for_use or known.is_heard_cooking(place) or _is_baked_later(known.recipe):
        return False
    return known.is_raw(place)


def _is_baked_later(recipe: Recipe) -> bool:
    """Whether the recipe makes a dough, a batter or a starter for another: pizza dough, shortcrust pastry."""
    makes = recipe.yields.makes_item if recipe.yields else ""
    names = {words(text)[-1] for text in (recipe.title, makes) if words(text)}
    return bool(names & _DOUGHS) and not _EATEN_RAW.search(f"{recipe.title} {recipe.headnote}")


_DOUGHS = frozenset(words("dough pastry batter base starter crust shell case noodles pasta tortilla"))
_EATEN_RAW = regex(r"\b(?:edible|raw|no-bake|eat(?:en)? as it is|by the spoon|spoonful)\b", re.IGNORECASE)


def _raw_fish(known: Dish, place: int) -> bool:
    return _is_raw_or_seared(known, place) and not known.foods[place].ready


def _raw_shellfish(known: Dish, place: int) -> bool:
    return known.is_raw(place) and not is_of(known.foods[place].food, ("role:bone", "role:flavouring"))


def _raw_meat(known: Dish, place: int) -> bool:
    """Raw, seared or taken off pink; neither cured nor bones, and no thermometer that passes."""
    food = known.foods[place].food
    cured = food is not None and (food.is_mainly("bone") or food.share("salt") >= Fraction(1, 100))
    return not cured and not known.foods[place].ready and _is_raw_or_seared(known, place)


def _is_raw_or_seared(known: Dish, place: int) -> bool:
    """Eaten raw inside; what is dried has a caution of its own."""
    exposed = known.history(place).served and known.heat(place) in UNTOUCHED | {Heat.SEARED}
    return exposed and not _dried_raw(known, place)


def _dried_raw(known: Dish, place: int) -> bool:
    """Dried, hung or smoked until it keeps, and neither before nor after heated as published."""
    if known.foods[place].ready or _is_cured(known):
        return False
    slow = any(_is_drying(event) and event.verb not in _DRYING for event in known.history(place).events)
    if known.heat(place) is Heat.PASTEURISED and not slow:
        return False
    for events in known.history(place).portions:
        dried = next((at for at, event in enumerate(events) if _is_drying(event)), None)
        others = [event for at, event in enumerate(events) if dried is not None and not _is_drying(event)]
        done = any(event.heat in _DONE for event in others)
        read = [event.celsius for event in others if event.celsius is not None]
        if dried is not None and (not done or (read and max(read) < THROUGH - _PRINTED)):
            return True
    return _hangs(known, place)


def _is_drying(event: Event) -> bool:
    """Dried, or smoked until it is as dry as jerky."""
    return (
        (event.verb in _DRYING and not WIPED.search(event.text))
        or _DRIES.search(event.text) is not None
        or (event.verb == "smoke" and _LEATHERY.search(event.text) is not None)
    )


def _hangs(known: Dish, place: int) -> bool:
    """Whether meat dries in the air, which is no heat at all."""
    return not known.history(place).events and any(
        _AIRS.search(clause.text) for clause in known.histories.clauses
    )


def _is_cured(known: Dish) -> bool:
    return any(is_of(food.food, ("role:curing-salt",)) for food in known.foods)


_PRINTED = 1  # °C: charts print 160 °F as 71 °C
_DONE = frozenset({Heat.COOKED, Heat.PASTEURISED})
_DRYING = frozenset({"dry", "dehydrate"})
_DRIES = regex(r"\b(?:(?:lay|set|spread|hang|arrange)\b.* (?:and|to) dry|dehydrator trays?)\b")
_LEATHERY = regex(r"\b(?:leathery|dry|dried|hard|brittle|cracks?|bends?)\b")
_AIRS = regex(
    r"\b(?:(?:dry|dries|leave|hang)\b.*\b(?:in the sun|airy|outdoors|in the air|by the window)\b"
    r"|(?:leave|hang)\b.*\buntil (?:dry|hard|leathery)\b)"
)


def _not_boiled(known: Dish, place: int) -> bool:
    """No ten minutes at a full boil, and no pressure cooker."""
    if known.foods[place].ready or not known.recipe.steps:
        return False
    return not any(
        (event.boils and event.seconds >= BOILED) or "pressure" in event.text
        for event in known.history(place).events
    )


def _whole_for_toddlers(known: Dish, place: int) -> bool:
    return _whole(known, place) and for_toddlers(known, place)


def _still_frozen(known: Dish, place: int) -> bool:
    """Listed as frozen, and no clause thaws it."""
    frozen = regex(r"\bfrozen\b", re.IGNORECASE).search(known.line(place).text)
    thawed = any(THAWS.search(clause.text) for clause in known.histories.clauses)
    return bool(frozen) and not thawed and not regex(r"\bthawed\b", re.I).search(known.line(place).text)


def _raw_milk_listed(known: Dish, _place: int) -> bool:
    raw_milk = regex(
        r"\b(?:raw[- ]milk|unpasteuri[sz]ed|raw (?:cow|goat|sheep|ewe)\S* milk)\b", re.IGNORECASE
    )
    return any(raw_milk.search(line.text) for line in known.recipe.ingredients)


def _alcohol_left(known: Dish, place: int) -> bool:
    """Never cooked, or for less than an hour: USDA retention table."""
    return not any(event.heat in _DONE and event.seconds >= _AN_HOUR for event in known.history(place).events)


_AN_HOUR = 3600


def _jarred(known: Dish, _place: int) -> bool:
    return any(_JARS.search(clause.text) for clause in known.histories.clauses)


_JARS = regex(r"\b(?:canner|process (?:\w+ ){0,4}jars?|process in|boiling[- ]water bath)\b")


def _bony(known: Dish, place: int) -> bool:
    """Fish or fowl with what bones it has: not boned by its seller, nor by a step."""
    food = known.foods[place].food
    text = f"{known.line(place).text} {food.name if food else ''}"
    if _BONELESS.search(text):
        return False
    return not any(_BONES_IT.search(clause.text) for clause in known.histories.clauses)


_BONELESS = regex(
    r"\b(?:canned|tinned|boneless|boned|pin-boned|breasts?|ground|mince\w*|fingers?|smoked salmon|roe)\b",
    re.I,
)
_BONES_IT = regex(
    r"\b(?:remov\w*|take out|pick\w*|pull out|discard\w*|check\w*|feel\w*|lift out|free)\b.*\bbones?\b"
)


def _whole(known: Dish, place: int) -> bool:
    """Neither cut nor ground in the list or the steps, nor a paste or flour."""
    line = known.line(place)
    food = known.foods[place].food
    text = f"{line.text} {food.name if food else ''}"
    if _CUT.search(text) or "coconut" in text:
        return False
    return not any(
        _CUT_IT.search(clause.text) for clause in known.histories.clauses if clause.speaks_of(place)
    )


_CUT = regex(
    r"\b(?:chopped|sliced|slivered|ground|flaked|crushed|quartered|butter|flour|paste|shredded|finely|halved|diced)\b",
    re.IGNORECASE,
)
_CUT_IT = regex(r"\b(?:chop|slice|grind|crush|quarter|blend|blitz|purée|mash|mince|process|dice|cut)\b")


def _fresh(known: Dish, place: int) -> bool:
    """Moist, not dried."""
    food = known.foods[place].food
    dried = regex(r"\b(?:dried|powder|flakes)\b|^bay leaf", re.IGNORECASE)
    return not dried.search(food.name if food else "") and "dried" not in known.line(place).text


def _unknown_food(known: Dish, _place: int) -> bool:
    """Whether the food of any line is unknown."""
    return any(food.food is None for food in known.foods)


def _raw_bought(known: Dish, place: int) -> bool:
    return not known.foods[place].ready


def _hot_sugar(known: Dish, place: int) -> bool:
    """Boiled to candy or caramel, with nothing in the pot that would keep it cool."""
    if any(_TURNS.search(clause.text) and clause.speaks_of(place) for clause in known.histories.clauses):
        return True
    for event in known.history(place).events:
        if _BROWNS.search(event.text) and all(is_of(known.foods[at].food, _SYRUP) for at in event.lines):
            return True
        hot = event.syrup is not None and event.syrup >= 110
        if hot or (event.heat is not Heat.RAW and _CARAMEL.search(event.text)):
            others = [known.foods[line].food for line in event.lines]
            if hot or not any(is_of(food, _CROWDED) for food in others):
                return True
    return False


def _whole_in_candy(known: Dish, place: int) -> bool:
    """Whole, in sugar that sets hard."""
    sugars = (at for at, food in enumerate(known.foods) if is_of(food.food, ("role:sugar",)))
    return _whole(known, place) and any(_hot_sugar(known, at) for at in sugars)


_CARAMEL = regex(
    r"\b(?:caramel\w*(?! (?:sauce|cand|chip|sweet))|amber|hard[- ]crack|soft[- ]crack|hard[- ]ball"
    r"|spun sugar|molten|mahogany)\b"
)
_TURNS = regex(
    r"\b(?:melt\w*)\b.*\b(?:dark|brown|golden)\b|"
    r"\b(?:to|into|until)\b.*\b(?:caramel|amber)\b(?! (?:sauce|cand))"
)
_BROWNS = regex(r"\b(?:brown|golden|colou?r of|copper\w*|dark|mahogany)\b")
_SYRUP = ("role:sugar", "key:water", "role:butter", "role:salt", "role:acid")
_CROWDED = (
    "role:vegetable",
    "role:allium",
    "role:meat",
    "role:poultry",
    "role:fish",
    "role:flour",
    "role:fruit",
)


def _flamed(known: Dish, place: int) -> bool:
    lit = any(event.heat is Heat.FLAMED for event in known.history(place).events)
    return lit or any(_FLAMES.search(clause.text) for clause in known.histories.clauses)


_FLAMES = regex(
    r"\b(?:tilt|tip)\w*\b[^,.;]*\b(?:flame|burner|gas)\b"
    r"|\b(?:flames?|fire)\b.*\b(?:die|dies|died|go out|goes out|gone out|subside)|\bcatch\w* (?:fire|light)\b"
)


def _rice_kept(known: Dish, place: int) -> bool:
    food = known.foods[place].food
    return not (food is not None and ("noodle" in food.key or "paper" in food.key or "flour" in food.key))


def _strength_untold(known: Dish, _place: int) -> bool:
    """Something in the list keeps by its vinegar, and the recipe does not say both 5 % and refrigerate."""
    recipe = known.recipe
    if not any(is_of(food.food, ("role:vegetable", "role:allium", "role:fruit")) for food in known.foods):
        return False
    remarks = (
        *(line.text for line in recipe.ingredients),
        *(note.text for note in recipe.notes),
        recipe.storage,
    )
    read = [spans_of(recipe, text, recipe.where) for text in remarks]
    strong = any(
        isinstance(span, Told) and span.kind is Kind.PERCENT and span.low == STRONG
        for spans in (*(step.spans for step in recipe.steps), *read)
        for span in spans
    )
    spoken = " ".join((*(clause.text for clause in known.histories.clauses), *remarks))
    return not (strong and _COLD.search(spoken))


_COLD = regex(r"\b(?:refrigerat\w*|fridge|chill\w*)", re.IGNORECASE)

STATES: Mapping[str, Callable[[Dish, int], bool]] = {
    "": _any,
    "raw": _raw,
    "raw egg": raw_egg,
    "raw fish": _raw_fish,
    "raw shellfish": _raw_shellfish,
    "raw flour": _raw_flour,
    "raw meat": _raw_meat,
    "raw bought": _raw_bought,
    "unheated": _unheated,
    "dried raw": _dried_raw,
    "soft egg": soft_egg,
    "not boiled": _not_boiled,
    "fresh": _fresh,
    "whole": _whole,
    "hot sugar": _hot_sugar,
    "whole in candy": _whole_in_candy,
    "flamed": _flamed,
    "wet into fat": wet_into_fat,
    "frozen into fat": frozen_into_fat,
    "deep fat": deep_fat,
    "used marinade": used_marinade,
    "cooked briefly": cooked_briefly,
    "picked by the reader": picked_by_reader,
    "undersalted": undersalted,
    "egg in the microwave": egg_in_microwave,
    "fat listed": fat_listed,
    "dry ice in food": dry_ice_in_food,
    "for babies": for_babies,
    "dough eaten raw": eats_dough,
    "whole for toddlers": _whole_for_toddlers,
    "for toddlers": for_toddlers,
    "still frozen": _still_frozen,
    "raw milk listed": _raw_milk_listed,
    "tasted raw": tasted_raw,
    "alcohol left": _alcohol_left,
    "bony": _bony,
    "cooker misused": cooker_misused,
    "blended hot": blended_hot,
    "glass shocked": glass_shocked,
    "sealed ferment": sealed_ferment,
    "ferment sealed for days": bottle_bomb,
    "foam vented": foam_vented,
    "jars for the shelf": _jarred,
    "unknown food": _unknown_food,
    "vegetables salted": vegetables_salted,
    "vegetables souring": vegetables_souring,
    "rice kept": _rice_kept,
    "strength untold": _strength_untold,
}
_SORTS = (
    ("egg", EGGS, "raw egg"),
    ("egg", EGGS, "soft egg"),
    ("fish", ("role:fish",), "raw fish"),
    ("shellfish", ("role:shellfish",), "raw shellfish"),
    ("meat", ("role:meat",), "raw meat"),
    ("poultry", ("role:poultry",), "raw meat"),
    ("flour", FLOURS, "raw flour"),
    ("sprouts", ("key:alfalfa-sprouts", "key:mung-bean-sprouts", "key:sprouted-mung"), "raw"),
    ("beans", ("key:dried-kidney-bean", "key:dried-cannellini-bean", "key:dried-fava-bean"), "not boiled"),
)
