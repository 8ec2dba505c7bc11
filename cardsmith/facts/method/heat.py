"""The history of each line: what heat it met after it went in, and how far that got it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from cardsmith.facts.foods.foods import Identity, identities
from cardsmith.facts.foods.roles import ANIMAL, EGGS
from cardsmith.facts.method.clauses import Clause, clauses
from cardsmith.facts.method.doneness import bath_needs, is_paired, least
from cardsmith.facts.method.events import RANK, Event, Heat
from cardsmith.facts.method.mixtures import Walker
from cardsmith.facts.method.underdone import Sense
from cardsmith.frozen import frozen
from cardsmith.language.figures.extents import Extent, extent_behind
from cardsmith.language.spans import Kind, Measured, Purpose, Span
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Food, Larder
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.mentions.mentions import How
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.model import Recipe

FLOURS = ("role:flour",)
MEDIA = (  # what food is cooked in, and what is no dish by itself
    "role:oil", "key:lard", "key:beef-tallow", "key:vegetable-shortening", "key:*-fat", "key:ghee",
    "key:water", "key:*butter", "key:*-salt",
)  # fmt: skip


@frozen
class History:
    """What happened to one line, in order; each portion that went its own way by itself."""

    line: int  # in recipe.ingredients
    portions: tuple[tuple[Event, ...], ...]
    is_named: bool  # whether any step speaks of it; one that none does goes the way of its part
    served: bool  # whether it gets into the dish, as far as the steps tell

    @property
    def events(self) -> tuple[Event, ...]:
        """Every event, of all portions."""
        return tuple(dict.fromkeys(event for events in self.portions for event in events))


@frozen
class Histories:
    """The histories of all lines, and what marinated raw."""

    lines: tuple[History, ...]
    clauses: tuple[Clause, ...]
    thickness: Fraction | None  # millimetres that the recipe gives its meat, for a bath


@remembered
def histories(recipe: Recipe, larder: Larder) -> Histories:
    """The history of every line, by its place in ``recipe.ingredients``."""
    mentions = read_mentions(recipe, larder)
    method = clauses(recipe, mentions)
    foods = identities(recipe, larder)
    walker = Walker(
        recipe,
        mentions.strangers,
        named=(mention.line for mention in mentions.found if mention.how is not How.CUE),
        media=_lines_of(foods, MEDIA),
        flours=_lines_of(foods, FLOURS),
        eggs=_lines_of(foods, EGGS),
        flesh=_lines_of(foods, ANIMAL),
    )
    walker.walk(method)
    of_part = _main_events(walker)
    lines = []
    for place in range(len(recipe.ingredients)):
        portions = walker.portions.get(place)
        named = bool(portions)
        events = (
            tuple(tuple(part.events) for part in portions.values())
            if portions
            else (of_part.get(walker.lines[place], ()),)
        )
        lines.append(History(line=place, portions=events, is_named=named, served=bool(recipe.steps)))
    return Histories(lines=tuple(lines), clauses=method, thickness=_thickness(recipe, method))


def _lines_of(foods: tuple[Identity, ...], wanted: tuple[str, ...]) -> frozenset[int]:
    return frozenset(place for place, identity in enumerate(foods) if is_of(identity.food, wanted))


def _main_events(walker: Walker) -> Mapping[int, tuple[Event, ...]]:
    """What happens to the most heated food of each part, for lines that no step names."""
    by_place: dict[int, tuple[Event, ...]] = {}
    for place, portions in walker.portions.items():
        for other in portions.values():
            part = walker.lines[place]
            if len(other.events) > len(by_place.get(part, ())):
                by_place[part] = tuple(other.events)
    return by_place


def most(history: History, food: Food | None, *, thickness: Fraction | None = None) -> Heat:
    """How far heat got the portion of a line that met the least of it.

    A temperature of the food's inside tells more than a verb: roasted to 125 °F is warmed. `Heat.UNKNOWN`
    where a bath's temperature is given without a time that a published table has for the thickness.
    """
    if not history.served:
        return Heat.UNKNOWN
    reached = [_reached(events, food, thickness) for events in history.portions]
    return min(reached, key=RANK.__getitem__, default=Heat.UNKNOWN)


def _reached(events: tuple[Event, ...], food: Food | None, thickness: Fraction | None) -> Heat:
    best = Heat.RAW
    short = False  # a thermometer, or the author, says that it is not done
    for heat_event in events:
        coats = heat_event.has_flesh and is_of(food, EGGS)  # the crumb of a cutlet is hotter than its inside
        event = replace(heat_event, celsius=None) if coats else heat_event
        heat = _of(event, food, thickness)
        if heat is Heat.PASTEURISED:
            return heat
        if event.celsius is not None and least(food) is not None:
            short = True
            continue
        if event.bath is not None and heat is not Heat.COOKED:
            return Heat.UNKNOWN
        if event.left is not None and is_left_raw(food, event.left):
            short = True
            continue
        if heat is Heat.COOKED and short and event.verb in _DONE_AFTER:
            short = False
        best = max(best, heat, key=RANK.__getitem__)
    return Heat.WARMED if short else best


def is_left_raw(food: Food | None, left: Sense) -> bool:
    """Whether the author's words for the inside of a food leave it short of its published minimum."""
    if least(food) is None or is_of(food, EGGS):
        return False
    return not (is_of(food, ("role:fish",)) and left is Sense.PINK)  # salmon is pink when it is done


_DONE_AFTER = frozenset({"boil", "simmer", "braise", "stew", "bake", "poach", "steam"})


def _of(event: Event, food: Food | None, thickness: Fraction | None) -> Heat:
    """How far one event got a food."""
    is_pasteurized = event.celsius is not None and is_paired(food, event.celsius, event.held)
    if event.bath is not None and not (is_pasteurized and event.held):
        return _in_bath(event, food, thickness)
    if event.celsius is None or least(food) is None:
        return event.heat
    if is_paired(food, event.celsius, event.held):
        return Heat.PASTEURISED
    return Heat.WARMED


def _in_bath(event: Event, food: Food | None, thickness: Fraction | None) -> Heat:
    """A bath's heat is the core's only after the published time for the thickness, and holds from then on."""
    if least(food) is None:
        return Heat.COOKED
    if thickness is None or event.bath is None:
        return Heat.UNKNOWN
    need = bath_needs(food, event.bath, thickness)
    return Heat.PASTEURISED if need is not None and event.seconds >= need else Heat.UNKNOWN


def _thickness(recipe: Recipe, method: tuple[Clause, ...]) -> Fraction | None:
    """The greatest thickness, in mm, that a recipe gives; None where no bath asks, or none is given."""
    if not any(measured.purpose is Purpose.BATH for clause in method for measured in clause.temperatures):
        return None
    listed = (spans_of(recipe, line.text, line.where) for line in recipe.ingredients)
    thicknesses = (
        value for spans in (*(step.spans for step in recipe.steps), *listed) for value in _thick(spans)
    )
    return max(thicknesses, default=None)


def _thick(spans: Sequence[Span]) -> Iterator[Fraction]:
    """The lengths that "thick" follows."""
    for span, after in pairwise((*spans, None)):
        if not isinstance(span, Measured) or span.kind is not Kind.LENGTH or after is None:
            continue
        if extent_behind(after.text, 0, span.behind) is Extent.THICK:
            yield span.quantity.high
