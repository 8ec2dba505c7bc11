"""What differs from trial to trial and may move the aim: foods by their share, true heat, time in the heat.

Half a batch is the same formula: amounts are told at the size of one. Trials are compared only where all else
is alike: the other foods, the method, hands, place and oven.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from cardsmith.bench.formula.changes import grams, same_food, split
from cardsmith.bench.log import HEATS, MINUTE, accounts_for, in_heat, measured_in
from cardsmith.bench.model import Factor, FactorKind, Trial, Trials, Verb
from cardsmith.finding import Finding, Severity, error
from cardsmith.frozen import frozen
from cardsmith.language.quantities import read_quantity, read_temperature
from cardsmith.measure.larder import Larder, words
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.file.texts import text_of
from cardsmith.recipe.file.tree import Mapping, Node, Scalar
from cardsmith.recipe.model import Ingredient, Text
from cardsmith.recipe.weighed import weigh

MOST_FACTORS = 5  # the corners of their ranges are 32
HEAT = Factor(name="true heat", kind=FactorKind.HEAT)
TIME = Factor(name="bake time", kind=FactorKind.TIME)


def read_factor(item: Node, larder: Larder) -> tuple[Factor | None, tuple[Finding, ...]]:
    """A lever that the cook allows, with its range: a food, the true heat, or the time in it."""
    if isinstance(item, Scalar):
        return _of_food(Text(text=" ".join(item.text.split()), where=item.where), larder)
    if not isinstance(item, Mapping):
        return None, ()
    if (line := text_of(item, "line")) is not None:
        return _of_food(line, larder)
    if (heat := text_of(item, "heat")) is not None:
        quantity = read_temperature(heat.text)
        return _ranging(HEAT, quantity, Fraction(1), heat, "heat: 150 to 170 °C")
    if (time := text_of(item, "time")) is not None:
        quantity, _ = read_quantity(time.text, time.where)
        timed = quantity if quantity is not None and quantity.dimension is Dimension.DURATION else None
        return _ranging(TIME, timed, Fraction(MINUTE), time, "time: 24 to 30 min")
    return None, ()


def _ranging(
    factor: Factor, quantity: Quantity | None, unit: Fraction, text: Text, instead: str
) -> tuple[Factor | None, tuple[Finding, ...]]:
    if quantity is None or not quantity.is_range:
        return None, (_rangeless(text, instead),)
    return replace(factor, low=quantity.low / unit, high=quantity.high / unit), ()


def _of_food(text: Text, larder: Larder) -> tuple[Factor | None, tuple[Finding, ...]]:
    verb, written, target = split(text.text)
    line, faults = read_line(written or text.text, text.where, larder)
    if line is None or any(fault.severity is Severity.ERROR for fault in faults):
        return None, faults
    instead, _ = read_line(target, text.where, larder) if verb is Verb.SWAP else (None, ())
    ends = _ends(line)
    if verb not in {Verb.AMOUNT, Verb.ADD, Verb.SWAP} or ends is None or ends[0] >= ends[1]:
        return None, (_rangeless(text, f"the least and the most: 100 to 140 g {line.item or 'water'}"),)
    name = f"{line.item} for {instead.item}" if instead else line.item
    factor = Factor(name=name, kind=FactorKind.FOOD, line=line, instead=instead, low=ends[0], high=ends[1])
    return factor, ()


def _ends(line: Ingredient) -> tuple[Fraction, Fraction] | None:
    """The least and the most of a line in grams; “up to 20 g” begins with nothing."""
    if line.amount is None:
        return None
    low, high = (
        weigh(line, replace(line.amount, low=end, high=end)) for end in (line.amount.low, line.amount.high)
    )
    if low is None or high is None:
        return None
    return Fraction(0) if line.amount.bound is Bound.AT_MOST else low.grams, high.grams


def _rangeless(text: Text, instead: str) -> Finding:
    what = f"“{text.text}” doesn't say how far it may change"
    return error("lever-without-range", text.where, what, instead, text.text)


@frozen
class TrialSetting:
    """Where one trial stands: a value of each factor, and all that must be alike in another to compare.

    Foods are in grams at the size of one formula. None where the trial doesn't tell a value.
    """

    values: tuple[Fraction | None, ...]
    alike: Hashable

    @property
    def known(self) -> tuple[Fraction, ...] | None:
        """The values, where the trial tells all of them."""
        known = tuple(value for value in self.values if value is not None)
        return known if len(known) == len(self.values) else None


def setting(trials: Trials, trial: Trial, factors: Sequence[Factor], start: Trial) -> TrialSetting:
    """Where a trial stands among ``factors``, at the size of the formula of ``start``."""
    lines, size = trial.ingredients, size_of(trial, start, factors)
    values: list[Fraction | None] = []
    for factor in factors:
        match factor.kind:
            case FactorKind.HEAT:
                values.append(trial.oven.heat)
            case FactorKind.TIME:
                lasted = in_heat(trial)
                values.append(lasted / MINUTE if lasted is not None else None)
            case FactorKind.FOOD:
                mass = mass_of(lines, factor.line) if factor.line else None
                values.append(mass * size if mass is not None else None)
    kinds = {factor.kind for factor in factors}
    return TrialSetting(
        values=tuple(values),
        alike=(
            frozenset(_others(lines, factors, size)),
            frozenset(_method(trials, trial)),
            tuple(step.text for part in trial.parts for step in part.steps),
            (trial.cook, trial.kitchen, trial.oven.name, trial.oven.fan, trial.cooked_from),
            None if FactorKind.HEAT in kinds else (trial.oven.heat, trial.oven.dial),
            None if FactorKind.TIME in kinds else in_heat(trial),
        ),
    )


def size_of(trial: Trial, start: Trial, factors: Sequence[Factor]) -> Fraction:
    """How many times larger the formula of ``start`` is: 2 for half a batch.

    Told by the foods of both that no factor changes: the ratio that holds for most of their mass.
    """
    ours, theirs = (_masses(trial.ingredients, factors) for trial in (trial, start))
    ratios = sorted((theirs[name] / ours[name], theirs[name]) for name in ours.keys() & theirs.keys())
    half, so_far = sum((mass for _, mass in ratios), Fraction(0)) / 2, Fraction(0)
    for ratio, mass in ratios:
        so_far += mass
        if so_far >= half:
            return ratio
    return Fraction(1)


def _masses(lines: Iterable[Ingredient], factors: Sequence[Factor]) -> dict[Hashable, Fraction]:
    """Grams of each food that no factor changes, where it has a weight."""
    levels: dict[Hashable, Fraction] = {}
    for line in lines:
        mass = grams(line)
        if not line.for_use and mass and not _is_factor(line, factors):
            levels[_name(line)] = levels.get(_name(line), Fraction(0)) + mass
    return levels


def _name(line: Ingredient) -> Hashable:
    return line.food.key if line.food else frozenset(words(line.item))


def _is_factor(line: Ingredient, factors: Sequence[Factor]) -> bool:
    return any(
        food is not None and same_food(line, food)
        for factor in factors
        for food in (factor.line, factor.instead)
    )


def mass_of(lines: Iterable[Ingredient], food: Ingredient) -> Fraction | None:
    """Grams of one food in a formula; None where a line of it can't be weighed."""
    weights = [grams(line) for line in lines if not line.for_use and same_food(line, food)]
    known = [mass for mass in weights if mass is not None]
    return sum(known, Fraction(0)) if len(known) == len(weights) else None


def _others(
    lines: Sequence[Ingredient], factors: Sequence[Factor], size: Fraction
) -> Iterator[tuple[Hashable, Fraction | None]]:
    """Each food that no factor changes with its grams; of a swap, both foods together."""
    for name, mass in _masses(lines, factors).items():
        yield name, mass * size
    for line in lines:
        if not line.for_use and grams(line) is None and not _is_factor(line, factors):
            yield _name(line), None
    for factor in factors:
        if factor.line is not None and factor.instead is not None:
            both = [mass_of(lines, food) for food in (factor.line, factor.instead)]
            yield factor.name, None if both[0] is None or both[1] is None else (both[0] + both[1]) * size


def _method(trials: Trials, trial: Trial) -> Iterator[str]:
    """What is done otherwise, since the first formula; heat and time aside, where the trial records them."""
    parent = trials.get(trial.parent) if trial.parent is not None else None
    if parent is not None:
        yield from _method(trials, parent)
    for change in trial.changes:
        if change.verb is Verb.METHOD:
            oven, timed = accounts_for(change.text)
            recorded = (not oven or trial.oven.dial is not None) and (not timed or in_heat(trial) is not None)
            if not (recorded and is_only_heat(change.text)):
                yield change.text


# Words that say no more than an oven's heat and a time in it; all that is measured aside.
_HEATING = frozenset(
    "baked roasted dried fried oven dial set to at for in the a an and of it longer shorter hotter cooler "
    "lower instead only".split()
) | frozenset(HEATS)


def is_only_heat(text: str) -> bool:
    """Whether a change of method changes nothing but heat and time."""
    rest = text
    for dimension in (Dimension.TEMPERATURE, Dimension.DURATION):
        for span in measured_in(text, dimension):
            rest = rest.replace(span.text, " ", 1)
    said = "".join(letter if letter.isalnum() else " " for letter in rest).lower().split()
    return rest != text and set(said) <= _HEATING


def changed_foods(trials: Trials) -> tuple[Factor, ...]:
    """A factor for each food whose amount a trial changed, where the cook names none."""
    factors: list[Factor] = []
    for trial in trials.trials:
        for change in trial.changes:
            line = change.after
            if change.verb is Verb.AMOUNT and line is not None and not _is_factor(line, factors):
                factors.append(Factor(name=line.item, kind=FactorKind.FOOD, line=line))
    return tuple(factors)
