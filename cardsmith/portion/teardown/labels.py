"""What the labels of a bought product say of its formula, as rows of a linear programme.

The unknowns are the grams of each food that is mixed for 100 g of the finished product, water among them,
and the grams of water that leave on the way. Every row holds for the true formula whatever the maker chose
where a rule leaves a choice: figures are taken back to all that they may stand for, shares and the order to
the mixture or the finished food as the label's own law has it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from fractions import Fraction
from itertools import pairwise

from cardsmith.bench.wording import share
from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food
from cardsmith.portion.energy import factors
from cardsmith.portion.estimate import UNKNOWN, Estimate
from cardsmith.portion.label import SMALL, WATER_ALLOWANCE, Range

PRODUCT = 100  # grams of the finished food
# Where no loss is told, no more than this is thought to have left: as of stock (common practice, no source).
MOST_LOST = Fraction(9, 10)
LOST = -1  # the place of the water that leaves, behind all foods
_ENERGY = {"protein": "protein", "carbohydrate": "total carbohydrate", "fat": "total fat"}


@frozen
class LabelFood:
    """One food of the labels; ``holds`` is per 100 g of it, empty where no table knows it."""

    where: Where
    text: str
    food: Food | None
    holds: Mapping[str, Estimate] = field(hash=False)
    water: Range  # the least and the most water in it, shares of one

    @property
    def is_water(self) -> bool:
        """Whether it is plain water, of which a label lists what is left, or nothing."""
        return self.food is not None and self.food.share("water") == 1


@frozen
class LabelFigure:
    """One figure of a panel: what it may stand for in so many grams of the product."""

    nutrient: str
    text: str  # total fat 7 g
    held: Range
    grams: Range


@frozen
class LabelShare:
    """The share that a label prints behind one food, of one; None where it says no least or no most."""

    text: str
    low: Fraction | None
    high: Fraction | None


@frozen
class Label:
    """One label of the product. Foods are places in the list of all foods."""

    law: str  # US or EU
    listed: tuple[int, ...]  # in its order
    small: tuple[int, ...]  # behind "contains 2 % or less of"
    shares: Mapping[int, LabelShare] = field(hash=False)
    figures: tuple[LabelFigure, ...]

    @property
    def is_list(self) -> bool:
        """Whether it lists ingredients at all."""
        return bool(self.listed or self.small)


@frozen
class Teardown:
    """A product's labels and what was measured of it. One of the foods is water; pieces in grams."""

    product: str
    foods: tuple[LabelFood, ...]
    labels: tuple[Label, ...]
    moisture: Range | None = None  # of the finished food, shares of one
    loss: Range | None = None  # of what was mixed
    allowance: Fraction = Fraction(0)
    pieces: tuple[Fraction, ...] = ()
    sizes: tuple[str, ...] = ()
    bought: tuple[str, ...] = ()

    @property
    def water(self) -> int:
        """The place of water among the foods."""
        return next(at for at, food in enumerate(self.foods) if food.is_water)

    @property
    def lists_water(self) -> bool:
        """Whether any label lists water."""
        return any(self.water in (*label.listed, *label.small) for label in self.labels)


@frozen
class Linear:
    """``constant`` and so much of each unknown, by its place; `LOST` is the water that leaves."""

    of: Mapping[int, Fraction] = field(hash=False)
    constant: Fraction = Fraction(0)

    def __sub__(self, other: Linear) -> Linear:
        of = {
            at: self.of.get(at, Fraction(0)) - other.of.get(at, Fraction(0)) for at in (*self.of, *other.of)
        }
        return Linear(of=of, constant=self.constant - other.constant)

    def times(self, factor: Fraction) -> Linear:
        """So many times as much."""
        return Linear(
            of={at: value * factor for at, value in self.of.items()}, constant=self.constant * factor
        )


@frozen
class Constraint:
    """``amount`` is no more than nothing; the name is shown where it contradicts others.

    Without a name it is our assumption, which stands whatever contradicts it.
    """

    name: str
    amount: Linear


Statements = tuple[Constraint, ...]


def _gram(value: Fraction | int) -> Linear:
    return Linear(of={}, constant=Fraction(value))


def _no_more(name: str, amount: Linear, most: Linear) -> Constraint:
    return Constraint(name=name, amount=amount - most)


MIXTURE = Linear(of={LOST: Fraction(1)}, constant=Fraction(PRODUCT))  # what was mixed


def statements(taken: Teardown) -> Statements:
    """All that the scale and the labels say, but for the order of the lists."""
    rows = [*_scale(taken)]
    for label in taken.labels:
        rows += [*_unlisted_water(taken, label), *_shares(taken, label), *_panel(taken, label)]
    return tuple(rows)


def orders(taken: Teardown, label: Label) -> tuple[Statements, ...]:
    """The order of one label's list, in every way that its law lets it come about; one of them is true.

    By EU law what is under 2 % of the finished food may stand last in any order, and no line says so: the
    list is in order down to some food, and below it none has more than 2 %.
    """
    listed = label.listed
    if label.law == "US":
        return (tuple(_in_order(taken, label, listed)),)
    name = "the order of the EU label"
    small = _gram(SMALL * PRODUCT)
    ways = []
    for ordered in range(len(listed), -1, -1):
        rows = [
            Constraint(name=name, amount=constraint.amount)
            for constraint in _in_order(taken, label, listed[:ordered])
        ]
        rows += [_no_more(name, small, _placed(taken, label, at, most=True)) for at in listed[:ordered][-1:]]
        rows += [_no_more(name, _placed(taken, label, at, most=False), small) for at in listed[ordered:]]
        ways.append(tuple(rows))
    return tuple(ways)


def _in_order(taken: Teardown, label: Label, listed: Sequence[int]) -> Iterator[Constraint]:
    for first, second in pairwise(listed):
        name = f"the order: {taken.foods[first].text} before {taken.foods[second].text}"
        above = _placed(taken, label, first, most=True)
        yield _no_more(name, _placed(taken, label, second, most=False), above)


def _placed(taken: Teardown, label: Label, at: int, *, most: bool) -> Linear:
    """The amount by which a food has its place: as mixed; of water what the finished food keeps of it.

    By US law water too has its place as mixed, but a maker may go by what is left: the least that it may
    be listed for is what is left, and the most all of it.
    """
    if at == taken.water and not (most and label.law == "US"):
        return kept_water(taken)
    return Linear(of={at: Fraction(1)})


def kept_water(taken: Teardown) -> Linear:
    """The finished food less all other foods as mixed: Regulation (EU) 1169/2011, Annex VII, A 1."""
    return Linear(
        of={at: Fraction(-1) for at in range(len(taken.foods)) if at != taken.water},
        constant=Fraction(PRODUCT),
    )


def moisture(taken: Teardown, *, most: bool) -> Linear:
    """The water in the finished food: in its ingredients, less what left."""
    of = {at: food.water.high if most else food.water.low for at, food in enumerate(taken.foods)}
    return Linear(of={**of, LOST: Fraction(-1)})


def _scale(taken: Teardown) -> Iterator[Constraint]:
    yield _no_more("no more water leaves than there is", _gram(0), moisture(taken, most=True))
    if taken.moisture is not None:
        name = "the measured moisture"
        low, high = taken.moisture.low * PRODUCT, taken.moisture.high * PRODUCT
        yield _no_more(name, _gram(low), moisture(taken, most=True))
        yield _no_more(name, moisture(taken, most=False), _gram(high))
    lost = Linear(of={LOST: Fraction(1)})
    loss = taken.loss or Range(low=Fraction(0), high=MOST_LOST)
    name = "the loss" if taken.loss else ""
    yield _no_more(name, MIXTURE.times(loss.low), lost)
    yield _no_more(name, lost, MIXTURE.times(loss.high))


def _unlisted_water(taken: Teardown, label: Label) -> Iterator[Constraint]:
    """Water that a label doesn't list: all that was added has left (FDA's Food Labeling Guide, on lists of
    ingredients), or no more of it is left than the EU allows."""
    if not label.is_list:
        return
    kept = kept_water(taken)
    if taken.water in (*label.listed, *label.small):
        if label.law == "EU":
            yield _no_more("listed water is left", _gram(0), kept)
        return
    most = WATER_ALLOWANCE * PRODUCT if label.law == "EU" else Fraction(0)
    yield _no_more("water is not listed", kept, _gram(most))


def _shares(taken: Teardown, label: Label) -> Iterator[Constraint]:
    """Percentages are of the finished food (21 CFR 102.5(b); Regulation (EU) 1169/2011, Annex VIII).

    A mere most on a US label, as of what makes up 2 % or less, is of the mixture, by which its order goes.
    """
    for at, said in label.shares.items():
        name = f"{said.text} of {taken.foods[at].text}"
        amount = _placed(taken, label, at, most=False)
        if said.low is not None:
            yield _no_more(name, _gram(said.low * PRODUCT), _placed(taken, label, at, most=True))
        if said.high is not None:
            of_mixture = label.law == "US" and said.low is None
            yield _no_more(name, amount, (MIXTURE if of_mixture else _gram(PRODUCT)).times(said.high))


def _panel(taken: Teardown, label: Label) -> Iterator[Constraint]:
    """Each nutrient between the ends of its figure, in a serving that may itself be rounded."""
    for figure in label.figures:
        pairs = [content(food, figure.nutrient) for food in taken.foods]
        slack = taken.allowance
        least = {at: low / 100 * (1 - slack) for at, (low, _) in enumerate(pairs)}
        yield _no_more(figure.text, Linear(of=least), _gram(figure.held.high * PRODUCT / figure.grams.low))
        most = {at: high / 100 * (1 + slack) for at, (_, high) in enumerate(pairs) if high is not None}
        if len(most) == len(pairs):
            yield _no_more(figure.text, _gram(figure.held.low * PRODUCT / figure.grams.high), Linear(of=most))


def content(food: LabelFood, nutrient: str) -> tuple[Fraction, Fraction | None]:
    """Least and most of a nutrient in 100 g; None for the most where the table has no value.

    US calories may be worked out by each food's own factors, by 4, 4 and 9 kcal, or by these without the
    carbohydrate that is fibre (21 CFR 101.9(c)(1)(i)): all of these.
    """
    held = food.holds.get(nutrient, UNKNOWN)
    if food.is_water:  # of the minerals that the table gives water, a maker's may have none
        return Fraction(0), held.high
    if nutrient != "calories" or held.high is None:
        return held.low, held.high
    by = factors("US")
    parts = {part: food.holds.get(name, UNKNOWN) for part, name in _ENERGY.items()}
    fibre = food.holds.get("dietary fiber", UNKNOWN)
    if any(part.high is None for part in parts.values()):
        return Fraction(0), None
    general = sum((by[part].kcal * estimate.likely for part, estimate in parts.items()), Fraction(0))
    undigested = parts["carbohydrate"].likely if fibre.high is None else fibre.high
    digested = general - by["carbohydrate"].kcal * min(undigested, parts["carbohydrate"].likely)
    return min(held.low, digested), max(held.high, general)


def told_share(low: Fraction | None, high: Fraction | None) -> str:
    """``14 %``, ``2 % or less``: a printed share, of one."""
    if low is None:
        return f"{share(high or 0)} or less"
    if high is None:
        return f"at least {share(low)}"
    return share(low) if low == high else f"{share(low)} to {share(high)}"
