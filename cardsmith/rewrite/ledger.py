"""Every number of a card with its origin: the table the proof prints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from cardsmith.measure.units import Dimension
from cardsmith.rewrite.card import Card, Dual, Rewritten


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One number: where it stands, what the author measured, what is printed and how far that is off."""

    place: str  # "list, Dough" or "step 3"
    what: str  # the ingredient, or the words of the step
    author: str
    exact: Fraction | None  # in base units of ``dimension``
    dimension: Dimension | None
    us: str
    metric: str
    us_error: Fraction | None  # printed over exact, less one; None where the author's figure stands
    metric_error: Fraction | None
    basis: str  # what the step between mass, volume and count rests on


def entries(card: Card) -> tuple[Entry, ...]:
    """Every amount of the lists, then every measure of the steps, in reading order."""
    return (*_of_lists(card), *_of_steps(card))


def _of_lists(card: Card) -> Iterator[Entry]:
    for part in card.parts:
        place = f"list, {part.name}" if part.name else "list"
        for line in part.ingredients:
            if line.amount:
                yield _entry(place, line.item, line.amount)


def _of_steps(card: Card) -> Iterator[Entry]:
    for part in card.parts:
        for step in part.steps:
            for span in step.spans:
                if isinstance(span, Rewritten):
                    yield Entry(
                        place=f"step {step.number}",
                        what=span.text,
                        author=span.author,
                        exact=span.exact,
                        dimension=span.dimension,
                        us=span.us,
                        metric=span.metric,
                        us_error=span.us_error,
                        metric_error=span.metric_error,
                        basis=span.purpose.value if span.purpose else span.assumed,
                    )


def _entry(place: str, what: str, dual: Dual) -> Entry:
    return Entry(
        place=place,
        what=what,
        author=dual.author,
        exact=dual.exact,
        dimension=dual.dimension,
        us=dual.us.text if dual.us else "",
        metric=dual.metric.text if dual.metric else "",
        us_error=dual.us_error,
        metric_error=dual.metric_error,
        basis=dual.assumed,
    )
