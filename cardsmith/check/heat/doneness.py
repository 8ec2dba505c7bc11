"""How hot the inside of meat, fish and egg gets by the steps, against the published minimums."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction

from cardsmith.check.fields import Field
from cardsmith.check.heat.remarks import (
    LEFTOVERS,
    PORK,
    WARM,
    asked_hotter,
    chart_told,
    is_unsafe,
    reheated,
    remarked,
)
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.dangers.spoilage import is_animal, is_custard
from cardsmith.facts.foods.roles import EGGS
from cardsmith.facts.method.clauses import Deed
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.facts.method.doneness import (
    EGG_DISH,
    FAHRENHEIT,
    ROUNDED,
    Minimum,
    is_paired,
    least,
    minimum,
    minimums,
)  # fmt: skip
from cardsmith.facts.method.events import READS, Event, Heat
from cardsmith.facts.method.underdone import Sense, Underdone, is_done, underdone
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import Measured, Purpose
from cardsmith.measure.patterns import is_of
from cardsmith.measure.quantity import Bound
from cardsmith.recipe.model import Ingredient
from cardsmith.regex import regex

CHART = "FoodSafety.gov Safe Minimum Cooking Temperatures; doneness.csv"
INSIDE = frozenset({Purpose.CORE, Purpose.OTHER})
OF_EGG = INSIDE | {Purpose.CUSTARD, Purpose.MILK}
WHOLE_STEAK = ("key:*steak", "key:filet-mignon")
HOUR = 3600
A_MINUTE = Fraction(60)  # that a cake or a custard stays as hot as in the oven: common practice, no source
IN_POT = {Purpose.PAN, Purpose.WATER}
IN_WATER = regex(r"\bwater\b[^,]*$")
RISEN = 55  # °C: no dough rises so warm, but meat that rests does
COOL_PAN = 105  # °C: no pan over heat is so cool, so the thermometer stands in what it holds
POURED = ("role:stock", "key:water", "role:alcohol", "role:milk", "key:*-juice", "role:liquid")


def animals(subject: Subject) -> Iterator[tuple[int, Ingredient, Minimum]]:
    """The lines that have a published minimum or sign, and are not ready to eat."""
    known = dish(subject.recipe, subject.larder)
    for place, line in enumerate(subject.recipe.ingredients):
        wanted = minimum(line, known.foods[place].food)
        if wanted is not None and wanted.food in {"whole cuts", "game"} and _is_minced(known, place):
            wanted = next(chart_row for chart_row in minimums() if chart_row.food == "ground meat")
        if wanted is None or (wanted.least is None and wanted.cue is None):
            continue
        if not line.for_use and not known.foods[place].ready:
            yield place, line, wanted


def _is_minced(known: Dish, place: int) -> bool:
    """Whether a step grinds a cut: venison shoulder through the mincer."""
    clauses = (clause for clause in known.histories.clauses if clause.verb in {"mince", "grind"})
    return any(mention.line == place for clause in clauses for mention in clause.mentions)


@frozen
class ThermometerReading:
    """A temperature of the food's inside in a step, and how long the food is held there, in seconds."""

    span: Measured
    step: int
    at: int
    held: Fraction


def readings(subject: Subject, place: int) -> Iterator[ThermometerReading]:
    """What the steps say of the inside of a food, from the first heat that it meets."""
    known = dish(subject.recipe, subject.larder)
    line, egg = known.line(place), is_of(known.foods[place].food, EGGS)
    events = known.history(place).events
    elsewhere = [
        event
        for other in range(len(known.foods))
        if other != place and least(known.foods[other].food) is not None
        for event in known.history(other).events
        if event not in events
    ]
    reached = _reached(subject, known, events) or _spoken_of(subject, place)
    for at_step, begins in sorted(reached.items()):
        step = subject.steps[at_step]
        for at, span in step.temperatures(begins):
            mine = any(event.step == at_step and event.start <= at < event.end for event in events)
            if not mine and any(
                event.step == at_step and event.start <= at < event.end for event in elsewhere
            ):
                continue  # it stands in another pot
            if _is_of_air(known, at_step, at) or _cools_to(step.sentence(at), span):
                continue
            wanted = OF_EGG if egg else INSIDE
            in_pan = (
                span.purpose in IN_POT
                and span.quantity.high <= COOL_PAN
                and not IN_WATER.search(step.before(at))
            )
            risen = span.purpose is Purpose.PROOF and span.quantity.low >= RISEN
            inside = span.purpose is Purpose.CORE or risen or (mine and (span.purpose in wanted or in_pan))
            if inside and (_is_of_all(step, at) or not _names_another(subject, line, step.sentence(at))):
                yield ThermometerReading(span=span, step=at_step, at=at, held=_held(step, at, span))


def _cools_to(sentence: str, span: Measured) -> bool:
    """Whether a heat is what food is cooled below: "in an ice bath until it is below 70 °F"."""
    return span.quantity.bound is Bound.AT_MOST and COOLING.search(sentence) is not None


COOLING = regex(r"\b(?:ice|iced|cool\w*|chill\w*|refrigerat\w*)\b", re.IGNORECASE)


def _is_of_air(known: Dish, step: int, at: int) -> bool:
    """Whether a heat is that of the air in which food dries, as nothing says that the food reads it."""
    clause = next(
        (later for later in known.histories.clauses if later.step == step and later.start <= at < later.end),
        None,
    )
    return clause is not None and clause.deed is Deed.DRY and not clause.says(READS)


def _spoken_of(subject: Subject, place: int) -> Mapping[int, int]:
    """The steps from the first that names a food whose history is lost, where no other food has a minimum."""
    uses = subject.mentions.steps_of(place)
    weights = {
        animal: subject.masses[animal].grams for animal, _, _ in animals(subject) if animal in subject.masses
    }
    alone = list(weights) == [place]
    return dict.fromkeys(range(uses[0], len(subject.steps)), 0) if uses and alone else {}


def _reached(subject: Subject, known: Dish, events: tuple[Event, ...]) -> Mapping[int, int]:
    """The steps that heat a food, and those of the same part after them, with where each begins to."""
    starts: dict[int, int] = {}
    for event in events:
        starts[event.step] = min(event.start, starts.get(event.step, event.start))
    parts = {clause.step: clause.part for clause in known.histories.clauses}
    first = min(starts, default=len(subject.steps))
    for later in range(first, len(subject.steps)):
        if parts.get(later) == parts.get(first):
            starts.setdefault(later, 0)
    return starts


def _held(step: Field, at: int, span: Measured) -> Fraction:
    """How long, in seconds, the sentence holds the food at its temperature; 0 where it does not."""
    begins, ends = step.sentence_at(at)
    hold = HOLD.search(step.text, begins, ends)
    if hold:
        return step.surely(hold.start(), ends)
    return step.surely(at, ends) if FOR.match(step.text, at + len(span.text), ends) else Fraction(0)


HOLD = regex(r"\b(?:hold|held|keep|kept|maintain\w*|stays?|stayed|been|has read)\b", re.IGNORECASE)
FOR = regex(r"[^,.;]{0,24}? for (?:at least )?")


def _is_of_all(step: Field, at: int) -> bool:
    """Whether a reading is of the dish, not of the food before it: "prawns pink and the middle 75 °C"."""
    return MIDDLE.search(step.before(at)) is not None


MIDDLE = regex(r"(?:,|\band) (?:the|its) (?:very )?(?:middle|cent(?:re|er)|inside|filling)(?: [\w']+){0,4} $")


def _names_another(subject: Subject, line: Ingredient, sentence: str) -> bool:
    """Whether a sentence speaks of another animal food and not of this one."""
    lowered = sentence.lower()

    def named(other: Ingredient) -> bool:
        return any(
            word in lowered for word in re.findall(r"[a-z]{4,}", other.item.lower()) if word not in _PLAIN
        )

    if named(line):
        return False
    return any(named(other) for _, other, _ in animals(subject) if other is not line)


_PLAIN = frozenset(
    {"boneless", "skinless", "bone", "skin", "large", "whole", "fresh", "lean", "ground", "fillet"}
)


def texts(known: Dish, events: tuple[Event, ...]) -> tuple[str, ...]:
    """The words of the deeds that reached a food, with those of what follows each in its step."""
    steps = {event.step for event in events}
    first = min(((event.step, event.start) for event in events), default=(0, 0))
    return tuple(
        clause.text
        for clause in known.histories.clauses
        if clause.step in steps and (clause.step, clause.start) >= first
    )


def _is_mixed(known: Dish, event: Event) -> bool:
    """Whether egg is heated with what makes a custard or a curd of it."""
    return event.heat is Heat.COOKED and any(
        is_of(known.foods[line].food, STIRRED_IN) for line in event.lines
    )


STIRRED_IN = ("role:milk", "role:cream", "role:sugar", "role:acid")


def eggs_of_custard(known: Dish) -> Iterator[tuple[int, Ingredient]]:
    """The first line of egg that is heated in a custard, a curd or an ice cream."""
    kind = known.recipe.kind.text if known.recipe.kind else ""
    if THIN.search(f"{known.recipe.title} {kind}"):
        return  # a film of batter is done before a thermometer could stand in it
    if kind in {"custard", "curd", "ice-cream"} or is_custard(known):
        for place, line in enumerate(known.recipe.ingredients):
            egg = is_of(known.foods[place].food, EGGS) and not known.foods[place].ready
            if egg and any(_is_mixed(known, event) for event in known.history(place).events):
                yield place, line
                return


THIN = regex(r"\b(?:pancakes?|cr[eê]pes?|blinis?|pannekoeken|waffles?)\b", re.IGNORECASE)


@check(
    "doneness-too-low",
    Severity.ERROR,
    why="Below the published minimum the food may still carry what makes people ill.",
    source=CHART + "; doneness_pairs.csv for longer times at lower temperatures",
    remedy="write the published minimum, or a published pair of temperature and time held",
    acceptable=False,
)
def doneness_too_low(subject: Subject) -> Iterator[Query]:
    """Meat, fish, egg or leftovers below the published minimum, or below what the recipe's headnote asks.

    A whole beef steak seared on both sides may stay pink (FDA Food Code 3-401.11(C)); the card warns.
    """
    known = dish(subject.recipe, subject.larder)
    for place, line, wanted in animals(subject):
        if wanted.least is None:
            continue
        steak = is_of(known.foods[place].food, WHOLE_STEAK) and wanted.food == "whole cuts"
        if steak and any(SEARS.search(event.text) for event in known.history(place).events):
            continue
        low = _too_low(subject, known, place, wanted.least)
        if low is not None:
            what = f"“{low.text}” is too low for {line.item}: {wanted.food} needs {chart_told(wanted.least)}"
            pork = is_of(known.foods[place].food, PORK) or "boar" in line.item.lower()
            rare = wanted.food in {"whole cuts", "game"} and not pork
            if not rare:
                yield query(low, what)
            elif not _is_called_rare(subject, low):
                yield query(low, what, "say that it is served rare, or cook it so hot", Severity.WARNING)
        else:
            yield from _underdone(subject, known, place, line, wanted)
    for place, line in eggs_of_custard(known):
        low = _too_low(subject, known, place, EGG_DISH)
        if low is not None:
            yield query(low, f"“{low.text}” is too low for {line.item}: egg needs {chart_told(EGG_DISH)}")
    yield from _egg_dish(subject, known)
    yield from _stuffed(subject)
    yield from remarked(subject, list(animals(subject)))
    yield from reheated(subject)
    yield from asked_hotter(subject)


def _egg_dish(subject: Subject, known: Dish) -> Iterator[Query]:
    """Any other dish with egg, an omelette or a filled pie, whose middle is called done below 160 °F."""
    custards = [place for place, _ in eggs_of_custard(known)]
    for place, line in enumerate(subject.recipe.ingredients):
        food, events = known.foods[place], known.history(place).events
        if custards or food.ready or line.for_use or not is_of(food.food, EGGS):
            continue
        low = _too_low(subject, known, place, EGG_DISH)
        mine = [event for event in events if event.celsius is not None and event.heat is Heat.COOKED]
        core = low is not None and low.purpose is Purpose.CORE and low.quantity.low > WARM
        alone = bool(events) and not any(is_animal(known, other) for other in range(len(known.foods)))
        if low is not None and core and (alone or any(event.celsius == low.quantity.low for event in mine)):
            yield query(low, f"“{low.text}” is too low for {line.item}: egg needs {chart_told(EGG_DISH)}")
            return


def _is_called_rare(subject: Subject, low: Measured) -> bool:
    """Whether the author says that whole beef, lamb or venison is served rare: the card has its caution.

    FDA Food Code 3-401.11(D) and 3-603.11: raw or undercooked with the consumer's advice.
    """
    step = next((field for field in subject.steps if field.where.line == low.where.line), None)
    near = [step.text] if step is not None else [field.text for field in subject.steps]
    return any(underdone(text.lower()) is not None for text in (*near, subject.recipe.headnote))


SEARS = regex(r"\b(?:sear|brown|crust|grill|pan-fry|fry)")


def _stuffed(subject: Subject) -> Iterator[Query]:
    """Stuffing that cooks inside a bird and is called done below 165 °F."""
    for step in subject.steps:
        before = 0
        for at, span in step.temperatures():
            stuffing = "stuffing" in step.text[before:at]
            if stuffing and WARM < span.quantity.low < LEFTOVERS - ROUNDED:
                yield query(span, f"“{span.text}” is too low for stuffing: it needs {chart_told(LEFTOVERS)}")
            before = at + len(span.text)


def _too_low(subject: Subject, known: Dish, place: int, least: Fraction) -> Measured | None:
    """The hottest reading of a food, where none of them, nor a time at one, makes it safe."""
    food = known.foods[place].food
    if known.heat(place) is Heat.PASTEURISED and _is_bathed(known, place):
        return None  # its time in the bath is as long as its thickness needs
    all_readings = list(readings(subject, place))
    baked = is_of(food, EGGS) and any(event.verb == "bake" for event in known.history(place).events)
    slow = A_MINUTE if baked else Fraction(0)
    for reading in all_readings:
        hot = reading.span.quantity.low
        if hot + ROUNDED >= least or is_paired(food, hot, max(reading.held, slow)):
            return None
    return max(
        (reading.span for reading in all_readings), key=lambda measured: measured.quantity.low, default=None
    )


def _is_bathed(known: Dish, place: int) -> bool:
    """Whether a food is cooked in a water bath."""
    return any(event.bath is not None for event in known.history(place).events)


def _underdone(
    subject: Subject, known: Dish, place: int, line: Ingredient, wanted: Minimum
) -> Iterator[Query]:
    """What the author's words leave underdone, where no thermometer and no later sign passes it."""
    if wanted.least is None or known.heat(place) is Heat.PASTEURISED:
        return
    left = _left(subject, known, place, line)
    if left is not None and is_unsafe(known.foods[place].food, wanted, left.sense, line.text):
        what = f"“{left.words}” is underdone for {line.item}: {wanted.food} needs"
        yield query(line, f"{what} {chart_told(wanted.least)}")


def _left(subject: Subject, known: Dish, place: int, line: Ingredient) -> Underdone | None:
    """How the last words about its inside leave a food; None where a later deed or sign finishes it."""
    events = known.history(place).events
    cooked = {
        (event.step, event.start) for event in events if event.heat is Heat.COOKED and event.left is None
    }
    steps = {event.step for event in events}
    first = min(((event.step, event.start) for event in events), default=(0, 0))
    left = None
    for clause in known.histories.clauses:
        if (clause.step, clause.start) < first:
            continue
        sign = underdone(clause.text)
        if clause.step not in steps and (
            sign is None or sign.sense is Sense.SOFT or clause.deed is not Deed.SERVE
        ):
            continue  # but "serve while the middle is rosy"
        if sign is not None and not _names_another(subject, line, clause.text):
            left = sign
        elif is_done(clause.text) or (clause.step, clause.start) in cooked:
            left = None
    return left


@check(
    "rest-missing",
    Severity.WARNING,
    why="At 145 °F a whole cut is safe only after it has stayed hot for three minutes.",
    source=CHART,
    remedy="write “rest for at least 3 minutes” after the temperature",
)
def rest_missing(subject: Subject) -> Iterator[Query]:
    """A whole cut taken off between 145 and 150 °F (63 to 66 °C) and not rested for three minutes."""
    known = dish(subject.recipe, subject.larder)
    for place, line, wanted in animals(subject):
        if not wanted.rest or wanted.least is None or _is_bathed(known, place):
            continue  # in a bath it has stayed so hot, for which baths.py asks
        best = max(readings(subject, place), key=lambda reading: reading.span.quantity.low, default=None)
        top = FAHRENHEIT.to_base(Fraction(150))
        if best is None or not wanted.least <= best.span.quantity.low + ROUNDED <= top:
            continue
        rests, at_once = _rests(known, best, wanted.rest)
        if not rests:
            severity = Severity.ERROR if at_once else None
            what = f"the {line.item} is taken off at “{best.span.text}” and not rested"
            yield query(best.span, what, severity=severity)


def _rests(known: Dish, reading: ThermometerReading, least: Fraction) -> tuple[bool, bool]:
    """Whether a later clause lets it rest, for long enough or for no stated time; whether one forbids it."""
    later = [
        clause for clause in known.histories.clauses if (clause.step, clause.end) > (reading.step, reading.at)
    ]
    rests = any(
        _RESTS.search(_UNRESTED.sub(" ", clause.text)) is not None and not 0 < clause.seconds < least
        for clause in later
    )
    return rests, any(_UNRESTED.search(clause.text) or _AT_ONCE.search(clause.text) for clause in later)


_RESTS = regex(r"\b(?:rest\w*|stand|leave|cool)\b")
_UNRESTED = regex(r"\b(?:not|don['’]t|never|no need to|without|skip\w*) (?:\w+ ){0,3}(?:rest\w*|stand\w*)\b")
_AT_ONCE = regex(
    r"\b(?:carve|slice|cut)\b.*\b(?:at once|immediately|straight (?:away|off|from)|right away|hot from the)\b"
)
