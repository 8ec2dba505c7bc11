"""How long meat stays in a water bath, against the time that its thickness needs."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.fields import Field
from cardsmith.check.heat.doneness import SEARS, WHOLE_STEAK, animals
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.facts.method.dish import dish
from cardsmith.facts.method.doneness import bath_needs, bath_time
from cardsmith.facts.method.events import Event, Heat
from cardsmith.finding import Severity
from cardsmith.language.spans import Measured
from cardsmith.measure.larder import Food
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Text


@check(
    "bath-time-unsure",
    Severity.WARNING,
    why="A water bath heats the middle of the food slowly: twice the thickness takes four times as long.",
    source="bath_times.csv: published times to the middle by thickness; doneness_pairs.csv for how long then",
    remedy="say how thick the pieces are, and give the published time for that thickness",
    acceptable=False,
)
def bath_time_unsure(subject: Subject) -> Iterator[Query]:
    """Meat in a water bath without the time for its thickness; an error where that is too short."""
    known = dish(subject.recipe, subject.larder)
    for place, line, wanted in animals(subject):
        baths = [heat_event for heat_event in known.history(place).events if heat_event.bath is not None]
        if not baths or wanted.least is None or known.heat(place) is not Heat.UNKNOWN:
            continue
        if wanted.food == "fish":
            continue  # usually served below the minimum: the card warns
        if is_of(known.foods[place].food, WHOLE_STEAK) and any(
            SEARS.search(event.text) for event in known.history(place).events
        ):
            continue  # a whole steak that is seared may be served so: FDA Food Code 3-401.11(C)
        event = max(baths, key=lambda heat_event: heat_event.seconds)
        where = _span_of(subject, event)
        thickness = known.histories.thickness
        size = thickness if thickness is not None else THIN
        need = bath_needs(known.foods[place].food, event.bath or Fraction(0), size)
        if need is None and bath_time(size) is not None:
            heat = number(round(event.bath or Fraction(0)))
            what = f"no time makes {line.item} safe in a bath at a temperature of {heat} °C"
            yield query(where, what, severity=Severity.ERROR)
        elif need is not None and 0 < event.seconds < need:
            what = f"{line.item} at {number(size)} mm: {_minutes(need)} in this bath"
            grave = event.seconds < need * SURELY_SHORT
            severity = Severity.ERROR if grave else Severity.WARNING
            yield query(where, f"{what}, not {_minutes(event.seconds)}", severity=severity)
        elif not _is_long(known.foods[place].food, event) and not any(
            (heat_event.celsius or 0) >= wanted.least for heat_event in known.history(place).events
        ):  # a thermometer in the middle makes a time needless
            yield query(where, f"how long until the middle of the {line.item} is as hot as the bath?")
        return


def _is_long(food: Food | None, event: Event) -> bool:
    """Whether it lies there as long as the thickest slab of the table needs: 36 hours for short ribs."""
    need = bath_needs(food, event.bath or Fraction(0), THICK)
    return need is not None and event.seconds >= need


THICK = Fraction(60)  # mm, the last row of bath_times.csv
SURELY_SHORT = Fraction(
    3, 4
)  # the table is for a wide slab; a small piece warms sooner: common practice, no source
THIN = Fraction(15)  # mm: few pieces that are cooked in a bath are thinner; common practice, no source


def _span_of(subject: Subject, event: Event) -> Text | Measured | Field:
    step = subject.steps[event.step]
    spans = step.temperatures(event.start, event.end) or step.times(event.start, event.end)
    return spans[0][1] if spans else step


def _minutes(seconds: Fraction) -> str:
    return f"{number(round(seconds / 60))} minutes"
