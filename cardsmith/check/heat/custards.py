"""Heat that spoils a dish by its place in the order: a custard that boils, meat carved before it cooks."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.fields import oven_settings
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.dangers.spoilage import is_animal, is_custard
from cardsmith.facts.foods.roles import YOLKS
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.facts.method.events import Event
from cardsmith.finding import Severity
from cardsmith.measure.patterns import is_of
from cardsmith.regex import regex

MILK = ("role:milk", "role:cream")
BOUND = (
    "role:starch",
    "role:flour",
    "role:rice",
    "role:grain",
    "role:legume",
    "role:vegetable",
    "role:cheese",
)
CURDLES = 90  # °C: a custard without starch is done at 82 to 84 and curdles soon after; ratios.csv
BOILS = regex(
    r"\b(?:boil|boils|boiling|rolling boil|bubbles? (?:\w+ )?(?:hard|vigorously|all over|fiercely)"
    r"|simmer (?:\w+ ){0,3}(?:hard|vigorously|boil))\b"
)
UNBOILED = regex(
    r"\b(?:(?:without|never|not|don['’]t|do not|before|nearly|almost|below|about to|prevent\w*|if it)"
    r" (?:\w+ ){0,3}boil\w*|boiling water|boiled|off the boil)"
)
BAKED = frozenset({"bake", "steam", "roast"})


@check(
    "custard-boils",
    Severity.ERROR,
    why="Yolks alone set at 82 °C and curdle a few degrees above; only starch lets a custard boil.",
    source="ratios.csv: crème anglaise 82 to 84 °C (180 to 183 °F); common practice, no source for the boil",
    remedy="cook it until it coats a spoon and reads 82 °C (180 °F), and take it off before it boils",
)
def custard_boils(subject: Subject) -> Iterator[Query]:
    """Egg and milk without starch that are brought to a boil on the stove."""
    known = dish(subject.recipe, subject.larder)
    if not is_custard(known):
        return
    for place in range(len(known.foods)):
        if not is_of(known.foods[place].food, YOLKS) or known.foods[place].ready:
            continue
        event = next(
            (heat_event for heat_event in known.history(place).events if _boils(known, heat_event)), None
        )
        if event is not None:
            yield query(subject.steps[event.step], "a custard that no starch binds is boiled, and curdles")
            return


def _boils(known: Dish, event: Event) -> bool:
    foods = [known.foods[line].food for line in event.lines]
    if event.verb in BAKED or not any(is_of(food, MILK) for food in foods):
        return False
    if any(is_of(food, BOUND) for food in foods):
        return False
    hot = event.celsius is not None and event.celsius >= CURDLES
    return hot or BOILS.search(UNBOILED.sub(" ", event.text)) is not None


@check(
    "custard-oven-too-hot",
    Severity.WARNING,
    why="A custard is done at 77 to 82 °C inside; in a fierce oven its edge curdles before its middle sets.",
    source="common practice, no source: 140 to 170 °C (275 to 340 °F), in a bath of hot water",
    remedy="bake it at about 150 °C (300 °F), in a bath of hot water, until the middle trembles",
)
def custard_oven_too_hot(subject: Subject) -> Iterator[Query]:
    """A plain custard, with neither crust nor bread, that bakes above 200 °C: an error from 230 °C on."""
    known = dish(subject.recipe, subject.larder)
    if not is_custard(known) or any(is_of(food.food, BOUND) for food in known.foods):
        return
    eggs = [at for at in range(len(known.foods)) if is_of(known.foods[at].food, YOLKS)]
    if not any(event.verb in BAKED for at in eggs for event in known.history(at).events):
        return
    for step, at, span in oven_settings(subject.steps):
        if span.quantity.low > FIERCE:
            grave = span.quantity.low >= SCORCHING
            what = f"“{span.text}” for a custard: it curdles at its edge before the middle sets"
            yield query(step.spot(span.text, at), what, severity=Severity.ERROR if grave else None)
            return


FIERCE, SCORCHING = 200, 230  # °C: common practice, no source


@check(
    "rest-before-cooking",
    Severity.ERROR,
    why="Meat rests and is carved when it is done; the other way round it is carved raw.",
    source="FoodSafety.gov chart: rest after cooking; common practice, no source for the order",
    remedy="put the step that rests or carves after the one that cooks",
)
def rest_before_cooking(subject: Subject) -> Iterator[Query]:
    """Meat that is carved, or rested to be carved, before the step that roasts it."""
    known = dish(subject.recipe, subject.larder)
    for place in range(len(known.foods)):
        if not is_animal(known, place) or known.foods[place].ready:
            continue
        events = [
            event
            for event in known.history(place).events
            if event.verb in COOKS or event.seconds >= TEN_MINUTES
        ]
        first = min(((event.step, event.start) for event in events), default=None)
        for step in subject.steps if first is not None else ():
            for begins, ends, _ in step.cuts:
                sentence = step.text[begins:ends].lower()
                early = first is not None and (step.number - 1, begins) < first
                if early and RESTS.search(sentence) and not RAW.search(sentence):
                    yield query(
                        step.spot(step.text[begins:ends], begins), "it rests or is carved before it cooks"
                    )
                    return


COOKS = frozenset({"roast", "bake", "grill", "cook", "braise", "smoke", "barbecue", "fry"})
TEN_MINUTES = Fraction(600)
RESTS = regex(r"\b(?:carve\b|rest\b[^.;]*\b(?:carv\w+|slic\w+|foil|juices|before serving)\b)")
RAW = regex(r"\b(?:refrigerat\w*|chill\w*|room temperature|marinat\w*|dry[- ]brin\w*)\b")
