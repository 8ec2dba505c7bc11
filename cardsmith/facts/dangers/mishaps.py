"""Deeds that endanger cook or eater, read off the steps: wet food into hot fat, a used marinade served."""

from __future__ import annotations

from cardsmith.facts.foods.roles import FRYING_FATS
from cardsmith.facts.method.clauses import HEATING, Clause, Deed
from cardsmith.facts.method.dish import Dish
from cardsmith.language.spans import Purpose
from cardsmith.language.stops import sentences
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.regex import regex

THAWS = regex(r"\b(?:thaw|defrost)\w*|\bpat\b.*\bdry\b")


def deep_fat(dish: Dish, _place: int) -> bool:
    """Whether food is fried in a bath of fat: by a word, the heat of the fat, or how much of it there is."""
    return any(_is_deep(dish, clause) for clause in dish.histories.clauses)


def fat_listed(dish: Dish, _place: int) -> bool:
    """Whether the list has fat that could catch fire."""
    return any(is_of(identity.food, (*FRYING_FATS, "key:*butter", "key:ghee")) for identity in dish.foods)


def _is_deep(dish: Dish, clause: Clause) -> bool:
    if _UNDEEP.search(clause.text):
        return False
    if _DEEP.search(clause.text):
        return True
    hot = any(span.purpose is Purpose.FAT and span.quantity.low >= _FRYING for span in clause.temperatures)
    full = _FAT.search(clause.text) and _HALF_FULL.search(clause.text)
    return (hot or full is not None) and _is_much(dish)


def _is_much(dish: Dish) -> bool:
    """Whether the list has more fat than a film: over a cup, or no measure of it."""
    fats = [
        line.amount
        for place, line in enumerate(dish.recipe.ingredients)
        if is_of(dish.foods[place].food, FRYING_FATS)
    ]
    return not fats or any(amount is None or amount.high >= _MUCH for amount in fats)


_MUCH = 200  # g or ml: a cup; common practice, no source
_FRYING = 150  # °C
_DEEP = regex(r"\b(?:deep[- ]fr(?!eez)\w+|fryer|submerge\w* (?:\w+ ){0,4}(?:oil|fat))\b")
_UNDEEP = regex(r"\bair[- ]fr\w+\b")
_FAT = regex(r"\b(?:oil|fat|lard|shortening|dripping|tallow)\b")
_HALF_FULL = regex(
    r"\b(?:half[- ]fill|fill (?:\w+ ){0,5}(?:with|half)|to a depth"
    r"|deep (?:\w+ ){0,3}(?:pan|pot|saucepan))\b"
)


def wet_into_fat(dish: Dish, place: int) -> bool:
    """Something straight from water, or a bird still frozen, goes into a bath of hot fat."""
    if not deep_fat(dish, place):
        return False
    thawed = any(THAWS.search(clause.text) for clause in dish.histories.clauses)
    birds = (dish.line(at).text.lower() for at, food in enumerate(dish.foods) if is_of(food.food, _BIRD))
    if not thawed and any("frozen" in text and "thawed" not in text for text in birds):
        return True
    for at, clause in enumerate(dish.histories.clauses):
        if _NEVER.search(clause.text):
            continue
        if _WET.search(clause.text) and (_FAT.search(clause.text) or _follows_fat(dish, at)):
            return True
        if _FROZEN_BIRD.search(clause.text) and _FAT.search(clause.text):
            return True
    return False


def _follows_fat(dish: Dish, at: int) -> bool:
    """Whether the clause, or one near it, speaks of the fat or of frying."""
    near = dish.histories.clauses[max(at - 2, 0) : at + 3]
    return any(_FAT.search(clause.text) or "fry" in clause.text for clause in near)


_NEVER = regex(r"\b(?:never|not (?:put|lower|drop|add)|don't (?:put|lower|drop|add))\b")
_WET = regex(
    r"\b(?:still wet|(?<!longer )dripping(?: wet)?|(?:straight|direct(?:ly)?) (?:out of|from) the"
    r" (?:\w+ )?(?:freezer|water|brine|marinade)"
    r"|(?:lower|drop|tip|slide|put|add|scoop|lift) (?:\w+ ){0,4}(?:wet|frosty|undried)\b"
    r"|(?:lower|drop|tip|slide|put) (?:in )?(?:the |them |it )?(?:\w+ ){0,2}(?:in )?wet"
    r"|out of the water (?:and )?(?:straight )?into|without (?:drying|thawing)"
    r"|(?:do not|don't) (?:dry|thaw|pat))"
)
_BIRD = ("role:poultry",)
_FROZEN_BIRD = regex(r"\bfrozen (?:turkey|bird|chicken|duck|goose)\b")


def frozen_into_fat(dish: Dish, place: int) -> bool:
    """Something listed as frozen goes into a bath of hot fat, and no clause thaws or dries it."""
    thawed = any(THAWS.search(clause.text) for clause in dish.histories.clauses)
    frozen = any("frozen" in line.text.lower() for line in dish.recipe.ingredients)
    return deep_fat(dish, place) and frozen and not thawed


def used_marinade(dish: Dish, place: int) -> bool:
    """What raw meat lay in is served with the cooked meat, and was not boiled."""
    if dish.foods[place].ready:
        return False
    lay = gone = False
    clauses = dish.histories.clauses
    for number, clause in enumerate(clauses):
        if not lay:
            if _KEPT_ASIDE.search(clause.text):
                return False
            lay = _lies_in(dish, clauses, number, place)
        elif _BOILS_IT.search(clause.text):
            return False
        elif _THROWN.search(clause.text) or (gone and not _USED.search(clause.text)):
            gone = True  # what is poured later is another
        elif (_SERVES_IT.search(clause.text) and not _SAFE.search(clause.text)) or _serves_rest(
            dish, clauses, number, place
        ):
            cooked_after = any(
                later.deed in (Deed.COOK, Deed.BOIL) or _COOKS.search(later.text)
                for later in clauses[number + 1 :]
            )
            if not cooked_after and clause.deed not in HEATING:
                return True
    return False


def _serves_rest(dish: Dish, clauses: tuple[Clause, ...], number: int, place: int) -> bool:
    """Whether the rest of what the raw meat lay in is served by its own name: the buttermilk."""
    clause = clauses[number]
    if not (_REST.search(clause.text) and _DRESSES.search(clause.text)) or dish.line(place).divided:
        return False
    first = next((before for before in clauses[:number] if before.speaks_of(place)), clause)
    lay = {
        mention.line
        for before in clauses[:number]
        if before.step == first.step
        for mention in before.mentions
        if mention.line != place and is_of(dish.foods[mention.line].food, _POURED)
    }
    kept = {line for line in lay if dish.line(line).divided or dish.line(line).key}
    return first.step < clause.step and any(mention.line in lay - kept for mention in clause.mentions)


_POURED = (
    "role:liquid",
    "role:milk",
    "key:*yogurt*",
    "role:oil",
    "role:acid",
    "role:condiment",
    "role:alcohol",
)
_REST = regex(r"\b(?:rest of|remain\w*|left[- ]?over|what is left|left in the|from the (?:bowl|dish|bag))\b")
_DRESSES = regex(r"\b(?:serve|spoon|drizzle|pour|brush|baste|dress|toss|finish|glaze|coat|dip)\w*\b")


def _lies_in(dish: Dish, clauses: tuple[Clause, ...], number: int, place: int) -> bool:
    """Whether the raw meat goes into something and waits there: by the word, or for a time in the cold."""
    clause = clauses[number]
    if _MARINATES.search(clause.text):
        return True
    if not clause.speaks_of(place) or clause.deed is not Deed.MIX:
        return False
    waits = (later for later in clauses[number : number + 4] if later.step == clause.step)
    return any(later.seconds or _WAITS.search(later.text) for later in waits)


_MARINATES = regex(r"\bmarinat\w+|\bin the marinade\b|\bbrine for\b")
_WAITS = regex(r"\b(?:refrigerat\w*|chill|overnight|stand|steep)\b")
_BOILS_IT = regex(
    r"\b(?:boil|simmer|reduce|bring)\b.*\b(?:marinade|juices|liquid)\b|\bmarinade\b.*\b(?:boil|simmer|reduce)"
)
_COOKS = regex(r"\b(?:roast|bake|braise|grill|simmer|boil) (?!(?:in|it|them)?$)")
_THROWN = regex(r"\b(?:throw away|discard|bin) (?:\w+ ){0,3}marinade\b")
_USED = regex(r"\b(?:used marinade|marinade left in|marinade from the bowl)\b")
_KEPT_ASIDE = regex(
    r"\b(?:pour|spoon|put|ladle|tip)\b.*\b(?:of (?:this|it|that)|half|third|quarter|some)\b.*"
    r"\binto (?:a|another)\b|"
    r"\b(?:reserve|keep back|set aside|save|keep)\b.*"
    r"\b(?:marinade|of it|for (?:serving|the sauce))\b"
)
_SERVES_IT = regex(
    r"\b(?:serve|spoon|drizzle|pour|brush|baste|dress|toss|finish|glaze|coat|with|dip)\b.*"
    r"\b(?:marinade|(?:liquid|mixture|juices|contents|rest|what (?:is|was)|what remains)"
    r" (?:\w+ ){0,2}(?:from|of|in) the (?:bowl|dish|bag))\b"
)
_SAFE = regex(
    r"\b(?:boiled|unused|fresh|simmered|reduced|syrupy|set aside|kept aside|throw|discard\w*|bin)\b"
    r"|\bmarinade\b.*\b(?:over the (?:raw|meat and)|chill|for the first)\b"
)


def tasted_raw(dish: Dish, place: int) -> bool:
    """Whether a step has the cook taste what it is mixed into before any heat reaches it."""
    clauses = dish.histories.clauses
    heated = {(event.step, event.start) for event in dish.history(place).events}
    first = next((at for at, clause in enumerate(clauses) if clause.speaks_of(place)), len(clauses))
    for clause in clauses[first:] if not dish.foods[place].ready else ():
        if (clause.step, clause.start) in heated or clause.deed in HEATING:
            return False
        if _TASTES.match(clause.text):
            return True
    return False


_TASTES = regex(r"\W*taste (?:it|a (?:little|bit|pinch)|the (?:mixture|meat|filling|forcemeat|farce))\b")


def dry_ice_in_food(dish: Dish, _place: int) -> bool:
    """Whether a sentence puts dry ice where it is eaten or drunk, or into what is shut."""
    recipe = dish.recipe
    texts = (
        *(step.text for step in recipe.steps),
        recipe.storage,
        recipe.headnote,
        *(n.text for n in recipe.notes),
    )
    ordinary = any("ice" in words(line.item) and "dry" not in words(line.item) for line in recipe.ingredients)
    for text in texts:
        for sentence in sentences(text.lower()):
            named = "dry ice" in sentence or (not ordinary and _PIECES.search(sentence) is not None)
            eaten = _INTO_FOOD.search(sentence) and not _APART.search(sentence)
            if named and (eaten or (_SHUT_IN.search(sentence) and not _FORBIDS.search(sentence))):
                return True
    return False


_PIECES = regex(r"\b(?:the|that|this|some|any) ice\b")
_INTO_FOOD = regex(
    r"\b(?:in|into|to|inside|over)\s+(?:(?:the|a|an|each|every|their|your|its|all|individual|serving|tall|small)\s+){0,3}"
    r"(?:tumblers?|glass(?:es)?|mugs?|drinks?|punch|(?:punch |soup )?bowl|jugs?|jars?|bottles?|flasks?"
    r"|cocktails?|pitcher|thermos|soup|shaker|mixture|dessert|ice cream|sorbet|cider|juice|lemonade|coffee"
    r")\b"
    r"|\bin(?:to)? (?:each|every one|them all)\b"
)
_SHUT_IN = regex(
    r"\bice\b.*\b(?:seal|screw|close|shut)\w*\b.*\b(?:lid|cap|tight\w*|box|bottle|jar|flask|container)\b"
    r"|\bice\b.*\b(?:airtight|tightly|sealed|closed)\b"
)
_FORBIDS = regex(r"\b(?:never|not|don['’]t|out of|no)\b")
_APART = regex(
    r"\b(?:(?:outer|larger|wider|bigger|lower|second) (?:\w+ )?(?:bowl|pan|basin|tub|tray|dish|vessel)"
    r"|under|around|beneath|never|not|don['’]t|out of|keep\w*|gone"
    r"|no|vent\w*|vanish\w*|without|outside|stand\w* the|set\w* the bowl|rather than)\b"
)
