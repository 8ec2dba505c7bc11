"""Where the water went: mass and solids from the formula through mixing, heat and drying.

Solids stay: what a finished piece has lost is water (and a little gas, alcohol and crumbs). So the solids
of the formula and one weighing give the moisture, and more solids out than went in are a weighing slip.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise

from cardsmith.bench.conditions import heating
from cardsmith.bench.formula.changes import grams
from cardsmith.bench.formula.composition import held
from cardsmith.bench.model import Trial
from cardsmith.bench.wording import figure, share
from cardsmith.facts.kinds import loss_said_by
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import OURS, Tables

# A kitchen scale shows 1 g, and gas and splashes leave: under one per cent nothing is claimed.
SLACK = Fraction(1, 100)
# How far the water of a food may be from that of its like, as a share of it (common practice, no source).
LIKE = Fraction(1, 20)


@frozen
class Mixture:
    """A formula's mass and water, in grams. ``unknown`` are foods whose water no table gives.

    ``water_low`` takes them as dry, ``water_high`` as all water; foods that another food of the table stands
    for are a twentieth drier and wetter than it. ``unweighed`` have no weight at all.
    """

    mass: Fraction
    water_low: Fraction
    water_high: Fraction
    stood_for: tuple[str, ...] = ()  # foods whose water is that of another food of SR 28
    unknown: tuple[str, ...] = ()
    unweighed: tuple[str, ...] = ()

    @property
    def solids(self) -> tuple[Fraction, Fraction]:
        """The least and the most solids as a share of the mass."""
        if not self.mass:
            return Fraction(0), Fraction(0)
        return 1 - self.water_high / self.mass, 1 - self.water_low / self.mass


def mixture(lines: tuple[Ingredient, ...]) -> Mixture:
    """The sum of the lines that go into the mixture; what is only for the pan stays out."""
    mass = low = high = Fraction(0)
    unknown, unweighed, stood_for = [], [], []
    for line in lines:
        if line.for_use or line.optional:
            continue
        weight = grams(line)
        if weight is None:
            unweighed.append(line.item)
            continue
        mass += weight
        water = water_share(line)
        if water is None:
            unknown.append(line.item)
            high += weight
            continue
        known = held(line.food)
        like = known is not None and bool(known.stands_in)
        stood_for += [f"{line.item} ({known.stands_in})"] if known and like else []
        low += weight * max(water - (LIKE if like else 0), Fraction(0))
        high += weight * min(water + (LIKE if like else 0), Fraction(1))
    return Mixture(
        mass=mass,
        water_low=low,
        water_high=high,
        stood_for=tuple(stood_for),
        unknown=tuple(unknown),
        unweighed=tuple(unweighed),
    )


def water_share(line: Ingredient) -> Fraction | None:
    """The water in a food as a share: by SR 28 or a food of it that stands for this one, else by its roles.

    None where neither says.
    """
    known = held(line.food)
    if known and "water" in known.composition.per_100:
        return known.composition.per_100["water"] / 100
    if line.food is not None and line.food.share("salt") == 1:
        return Fraction(0)  # dry salt, whatever its grain (SR 28, food 02047: 0.2 g in 100 g)
    return line.food.share("water") if line.food and line.food.share("water") else None


@frozen
class Balance:
    """One trial's masses in grams, shares of one for the rest; None where a weighing is missing."""

    mixture: Mixture
    mixed: Fraction | None
    into: Fraction | None
    out: Fraction | None  # cold where that was weighed, else as it came out
    loss: Fraction | None  # of what went in
    moisture: tuple[Fraction, Fraction] | None  # least and most water in the finished piece
    measured_moisture: Fraction | None
    heating: str  # how long it was in the heat, and how hot that truly was; empty where no record tells
    slips: tuple[str, ...]

    @property
    def solids_in(self) -> tuple[Fraction, Fraction] | None:
        """Grams of solids that went into the oven."""
        if self.into is None:
            return None
        low, high = self.mixture.solids
        return self.into * low, self.into * high


def balance(trial: Trial) -> Balance:
    """The mass balance of one trial, and the weighings in it that contradict each other."""
    mixed = mixture(trial.ingredients)
    into = trial.value("in")
    out = trial.value("cooled") or trial.value("out")
    loss = 1 - out / into if into and out is not None else None
    moisture = None
    if into and out and not mixed.unweighed:
        low, high = mixed.solids
        moisture = (1 - into * high / out, 1 - into * low / out)
    balance = Balance(
        mixture=mixed,
        mixed=trial.value("mixed"),
        into=into,
        out=out,
        loss=loss,
        moisture=moisture,
        measured_moisture=trial.value("moisture"),
        heating=heating(trial),
        slips=(),
    )
    slips = tuple(_slips(trial, balance))
    return replace(
        balance, moisture=(max(moisture[0], Fraction(0)), moisture[1]) if moisture else None, slips=slips
    )


def _slips(trial: Trial, balance: Balance) -> Iterator[str]:
    """Weighings that contradict each other, each in a sentence."""
    formula = balance.mixture
    chain = [("mixed", balance.mixed), ("in", balance.into), ("out", trial.value("out"))]
    chain += [("cooled", trial.value("cooled"))]
    if balance.mixed and not formula.unweighed and balance.mixed > formula.mass * (1 + 2 * SLACK):
        yield (f"the mixture weighed {figure(balance.mixed)} g and its formula only {figure(formula.mass)} g")
    weighed = [(name, value) for name, value in chain if value is not None]
    for (name, value), (later, after) in pairwise(weighed):
        if after > value * (1 + SLACK / 2):
            yield f"{later} ({figure(after)} g) is more than {name} ({figure(value)} g)"
    solids = balance.solids_in
    if solids and balance.out and not formula.unweighed and balance.out < solids[0] * (1 - SLACK):
        yield (
            f"{figure(balance.out)} g came out, but the solids that went in weigh {figure(solids[0])} g: "
            "water alone can't have gone"
        )
    if balance.moisture and balance.measured_moisture is not None:
        low, high = balance.moisture
        if not low - 2 * SLACK <= balance.measured_moisture <= high + 2 * SLACK:
            shown = share(low) if low == high else f"{share(low)} to {share(high)}"
            yield (
                f"{share(balance.measured_moisture)} moisture was measured, and the weighings leave {shown}"
            )
    pieces, piece = trial.value("pieces"), trial.value("piece")
    if pieces and piece and balance.out and pieces * piece > balance.out * (1 + 3 * SLACK):
        yield (
            f"{figure(pieces)} pieces of {figure(piece)} g are {figure(pieces * piece)} g, "
            f"more than the {figure(balance.out)} g that came out"
        )


@cache
def _losses(tables: Tables) -> dict[str, tuple[Fraction, Fraction]]:
    return {
        row["kind"]: (Fraction(row["low"]) / 100, Fraction(row["high"]) / 100)
        for row in tables.rows("kind_losses")
        if row["low"] and row["high"]
    }


def usual_loss(kind: str, tables: Tables = OURS) -> tuple[Fraction, Fraction] | None:
    """What a kind usually loses between list and plate, as shares of the list; None where no table says."""
    return _losses(tables).get(kind)


def expected(balance: Balance, kind: str, tables: Tables = OURS) -> str:
    """The loss of the whole list against what is usual for its kind, in a sentence; empty where unknown."""
    usual, mass = usual_loss(kind, tables), balance.mixture.mass
    if usual is None or balance.out is None or not mass or balance.mixture.unweighed:
        return ""
    lost = 1 - balance.out / mass
    place = "as is usual" if usual[0] <= lost <= usual[1] else "unlike what is usual"
    span = f"{figure(usual[0] * 100)} to {share(usual[1])}"
    return f"From list to finished it lost {share(lost)}, {place} ({span}; {loss_said_by(kind, tables)})."


def balance_in_words(balance: Balance) -> tuple[str, ...]:
    """The balance in sentences, for a report."""
    formula = balance.mixture
    lines = []
    if formula.unweighed:
        return (f"No balance: {listed(formula.unweighed)} can't be weighed.", *balance.slips)
    water = (
        f"{figure(formula.water_low)} g"
        if formula.water_low == formula.water_high
        else f"{figure(formula.water_low)} to {figure(formula.water_high)} g"
    )
    lines.append(f"The formula weighs {figure(formula.mass)} g, of it {water} water.")
    if formula.stood_for:
        lines.append(f"By another food of the table: {listed(formula.stood_for)}.")
    if formula.unknown:
        lines.append(f"No table gives the water of {listed(formula.unknown)}.")
    if balance.mixed is not None and balance.mixed < formula.mass:
        lines.append(f"{share(1 - balance.mixed / formula.mass)} stayed in the bowl.")
    if balance.into is not None and balance.out is not None and balance.loss is not None:
        lines.append(
            f"{figure(balance.into)} g went in and {figure(balance.out)} g came out: "
            f"{share(balance.loss)} lost" + (f" in {balance.heating}." if balance.heating else ".")
        )
    if balance.moisture is not None:
        low, high = balance.moisture
        water = share(low) if low == high else f"between {share(low)} and {share(high)}"
        lines.append(f"By the weighings a finished piece holds {water} water.")
    return (*lines, *(f"Weighing slip? {slip[0].upper()}{slip[1:]}." for slip in balance.slips))
