"""Eggs that are eaten raw or with a soft yolk: by what heat they met, a word, or a time in the shell."""

from __future__ import annotations

from cardsmith.facts.foods.roles import EGGS
from cardsmith.facts.method.dish import Dish
from cardsmith.facts.method.events import Event, Heat
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.regex import regex

SOFT = 480  # seconds; an egg that boils for less has a soft yolk: common practice, no source


def raw_egg(dish: Dish, place: int) -> bool:
    """Raw, or browned on top alone, as a torch does."""
    torched = dish.history(place).served and dish.heat(place) is Heat.SEARED
    return dish.is_raw(place) or (torched and not dish.foods[place].ready)


def soft_egg(dish: Dish, place: int) -> bool:
    """Cooked, and its yolk or its sauce left runny: by a word, a time, or a bowl over simmering water."""
    if dish.foods[place].ready or raw_egg(dish, place) or not dish.history(place).served:
        return False
    for events in dish.history(place).portions:
        if any(event.heat is Heat.PASTEURISED or (event.celsius or 0) >= _EGG_SAFE for event in events):
            continue
        soft = [number for number, event in enumerate(events) if _leaves_soft(event)]
        done = soft and any(_cooks_on(event) for event in events[soft[-1] + 1 :])
        runny = (bool(soft) and not done) or _is_soft_boiled(dish, events)
        if runny and not any(_FIRM.search(event.text) for event in events):
            return True
    return False


def egg_in_microwave(dish: Dish, place: int) -> bool:
    """Whole in a microwave, its yolk neither pricked nor stirred: steam bursts it there, or in the mouth."""
    clauses = dish.histories.clauses
    heats = any(_MICROWAVE.search(event.text) for event in dish.history(place).events)
    mixed = any(
        clause.verb in _MIXES and any(mention.line == place for mention in clause.mentions)
        for clause in clauses
    )
    broken = any(_PRICKED.search(clause.text) for clause in clauses)
    prepared = _PRICKED.search(dish.line(place).text.lower()) is not None
    others = {
        line for event in dish.history(place).events if _MICROWAVE.search(event.text) for line in event.lines
    }
    return (
        heats
        and not (mixed or broken or prepared)
        and not any(is_of(dish.foods[line].food, _BATTER) for line in others)
    )


_MICROWAVE = regex(r"\bmicrowav\w*")
_MIXES = frozenset(words("whisk beat mix stir blend scramble fold combine froth"))
_PRICKED = regex(
    r"\b(?:prick\w*|pierc\w*|scrambl\w*|pok(?:e|ed|ing)|beaten|whisked|(?:break|burst|pop)\w* the yolks?)\b"
)
_BATTER = ("role:flour", "role:milk", "role:cream")
_EGG_SAFE = 71
_SOFTLY = regex(
    r"\b(?:runny|soft[- ]boil\w*|poach\w* (?:the )?eggs?|sunny side|over easy|jammy|soft yolks?|coddle\w*"
    r"|still liquid|hollandaise|zabaglione|sabayon|carbonara)\b"
)
_FIRM = regex(
    r"\b(?:(?:no longer|not|never) (?:still )?runny|hard|firm yolks?|yolks? (?:are |is )?(?:firm|set))\b"
)
_GENTLE = regex(r"\bover (?:a pan of |barely )*(?:gently )?simmering water\b")


def _leaves_soft(event: Event) -> bool:
    if _SOFTLY.search(event.text) or event.verb in {"poach", "coddle"}:
        return True
    return event.verb in {"whisk", "beat", "stir"} and _GENTLE.search(event.text) is not None


def _cooks_on(event: Event) -> bool:
    """Whether a later deed cooks what was left soft: sponge whisked over water, then baked."""
    return event.heat is Heat.COOKED and not _leaves_soft(event)


def _is_soft_boiled(dish: Dish, events: tuple[Event, ...]) -> bool:
    """Boiled in the shell and not cooked otherwise, for less time than makes a yolk firm."""
    cooked = [event for event in events if event.heat is Heat.COOKED]
    others = {line for event in cooked for line in event.lines}
    alone = all(
        is_of(dish.foods[line].food, (*EGGS, "key:water", "role:salt", "role:vinegar")) for line in others
    )
    longest = max((event.seconds for event in cooked), default=0)
    return alone and 0 < longest < SOFT and any(_BOILS.search(event.text) for event in cooked)


_BOILS = regex(r"\b(?:boil\w*|simmer\w*|water)\b")
