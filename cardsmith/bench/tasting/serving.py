"""Who is served what, in which order and under which code: balanced, and always the same for one seed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from typing import TypeVar

from cardsmith.bench.model import Tasting
from cardsmith.frozen import frozen

T = TypeVar("T")
CODES = tuple(str(code) for code in range(101, 1000) if len(set(str(code))) == 3)
# Every order of two samples in three cups, and of a reference before two.
TRIANGLES = ((0, 0, 1), (0, 1, 0), (1, 0, 0), (1, 1, 0), (1, 0, 1), (0, 1, 1))
DUO_TRIOS = ((0, 0, 1), (0, 1, 0), (1, 0, 1), (1, 1, 0))
REFERENCE = "R"


@frozen
class Cup:
    """One sample as it is set down; the reference of a duo-trio bears an R."""

    code: str
    trial: int


@frozen
class Serving:
    """What one taster gets, in order."""

    taster: int
    cups: tuple[Cup, ...]

    def trial_of(self, code: str) -> int | None:
        """The trial under a code."""
        return next((cup.trial for cup in self.cups if cup.code == code), None)


def shuffled(items: Iterable[T], seed: str) -> tuple[T, ...]:
    """The items in an order that follows from the seed alone, on every machine and in every release."""
    keyed = [(hashlib.sha256(f"{seed}/{place}".encode()).digest(), item) for place, item in enumerate(items)]
    return tuple(item for _, item in sorted(keyed, key=lambda pair: pair[0]))


def balanced_orders(samples: int) -> tuple[tuple[int, ...], ...]:
    """Orders in which each sample stands equally often in each place and after each other sample.

    A Williams design (E. J. Williams, Australian Journal of Scientific Research A 2, 1949): as many orders
    as samples, twice as many where their number is odd.
    """
    first = [0]
    for step in range(1, samples):
        first.append((step + 1) // 2 if step % 2 else samples - step // 2)
    rows = [tuple((sample + shift) % samples for sample in first) for shift in range(samples)]
    return tuple(rows) if samples % 2 == 0 else (*rows, *(row[::-1] for row in rows))


def _orders(tasting: Tasting) -> Iterator[tuple[int, ...]]:
    """An order for each taster: whole rounds of all orders, each round shuffled anew."""
    designs = {"triangle": TRIANGLES, "duo-trio": DUO_TRIOS}
    design: Sequence[tuple[int, ...]] = designs.get(tasting.test, balanced_orders(len(tasting.trials)))
    for start in range(0, tasting.tasters, len(design)):
        yield from shuffled(design, f"{tasting.seed}/{tasting.name}/round {start}")


def servings(tasting: Tasting) -> tuple[Serving, ...]:
    """What every taster is served.

    Where samples are scored or preferred, one trial bears one code for all; in a test of difference each
    cup has a code of its own, so that two cups of one trial can't be matched by their codes.
    """
    codes = iter(shuffled(CODES, f"{tasting.seed}/{tasting.name}/codes"))
    shared = {place: next(codes) for place in range(len(tasting.trials))}
    own = tasting.test in {"triangle", "duo-trio"}
    orders = []
    for taster, order in zip(range(1, tasting.tasters + 1), _orders(tasting), strict=False):
        cups = []
        for place, sample in enumerate(order):
            code = next(codes) if own else shared[sample]
            if tasting.test == "duo-trio" and place == 0:
                code = REFERENCE
            cups.append(Cup(code=code, trial=tasting.trials[sample]))
        orders.append(Serving(taster=taster, cups=tuple(cups)))
    return tuple(orders)


def right_code(tasting: Tasting, serving: Serving) -> str:
    """The right answer's code: the odd one of three, or the one that matches the reference.

    Raises:
        ValueError: a test in which no answer is right or wrong.
    """
    trials = [cup.trial for cup in serving.cups]
    if tasting.test == "triangle":
        return next(cup.code for cup in serving.cups if trials.count(cup.trial) == 1)
    if tasting.test == "duo-trio":
        return next(cup.code for cup in serving.cups[1:] if cup.trial == trials[0])
    raise ValueError(f"a {tasting.test} test has no right answer")
