"""A printed recipe held against the trial it rests on: amounts, times, temperatures.

Every make of the trial's formula counts as evidence, not only the first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from cardsmith.bench.changes import grams, same_food
from cardsmith.bench.model import Trial
from cardsmith.finding import Where
from cardsmith.language.spans import Measured, Purpose
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Ingredient, Step
from cardsmith.recipe.steps import read_step
from cardsmith.regex import regex

SAME, SAME_ACROSS = Fraction(1, 200), Fraction(3, 100)  # one measure; a weight against a cup of the larder
OTHER_BATCH = Fraction(1, 50)
NEAR = Fraction(3)  # °C: the steps of an oven's dial in the two scales differ by as much
MINUTE = 60
_WORD = regex(r"[A-Za-z]{3,}")
_CLAUSE = regex(r",|\b(?:and|then|or)\b")
_SENTENCE = regex(r"(?<=[.!?;])\s+")


@dataclass(frozen=True, slots=True, kw_only=True)
class FoodTotal:
    """The total of one food in a list. ``size`` is exact in base units; None where it can't be summed."""

    line: Ingredient  # the first that has it
    size: Fraction | None
    dimension: Dimension | None
    grams: Fraction | None

    @property
    def text(self) -> str:
        """As written, of the first line."""
        return self.line.amount.written if self.line.amount else self.line.text


def totals(lines: Iterable[Ingredient]) -> tuple[FoodTotal, ...]:
    """The total of each food in a list, without what is only for the pan or to taste."""
    found: list[list[Ingredient]] = []
    for line in lines:
        if line.for_use or line.to_taste or line.amount is None:
            continue
        known = next((group for group in found if same_food(group[0], line)), None)
        if known is None:
            found.append([line])
        else:
            known.append(line)
    return tuple(_total(group) for group in found)


def _total(group: list[Ingredient]) -> FoodTotal:
    amounts = [line.amount for line in group if line.amount is not None]
    weights = [grams(line) for line in group]
    one = len({amount.dimension for amount in amounts}) == 1
    return FoodTotal(
        line=group[0],
        size=sum((amount.middle for amount in amounts), Fraction(0)) if one else None,
        dimension=amounts[0].dimension if one else None,
        grams=sum((weight or Fraction(0) for weight in weights), Fraction(0)) if all(weights) else None,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """The list compared with the trial's: the batch as a multiple of it, and amounts that don't match."""

    factor: Fraction
    unlike: tuple[tuple[FoodTotal, FoodTotal], ...]  # printed, tested
    untested: tuple[FoodTotal, ...]
    missing: tuple[FoodTotal, ...]


def compared(printed: Iterable[Ingredient], trial: Trial) -> Compared:
    """The printed list against the trial's formula, at the batch size that fits most of its lines."""
    from statistics import median  # noqa: PLC0415 - it loads much, and most recipes name no trial

    mine, tested = totals(printed), totals(trial.ingredients)
    pairs = [(one, two) for one in mine for two in tested if same_food(one.line, two.line)]
    ratios = {id(one): _ratio(one, two) for one, two in pairs}
    known = [ratio[0] for ratio in ratios.values() if ratio]
    factor = Fraction(median(known)) if known else Fraction(1)
    if abs(factor - 1) <= OTHER_BATCH:
        factor = Fraction(1)
    return Compared(
        factor=factor,
        unlike=tuple(
            (one, two)
            for one, two in pairs
            if (ratio := ratios[id(one)]) and abs(ratio[0] / factor - 1) > ratio[1]
        ),
        untested=tuple(one for one in mine if all(one is not paired for paired, _ in pairs)),
        missing=tuple(two for two in tested if all(two is not paired for _, paired in pairs)),
    )


def _ratio(one: FoodTotal, two: FoodTotal) -> tuple[Fraction, Fraction] | None:
    """Printed by tested, and how far it may be from the batch's; None where nothing can be compared."""
    if one.size is not None and two.size and one.dimension is two.dimension:
        return one.size / two.size, SAME
    if one.grams is not None and two.grams:
        return one.grams / two.grams, SAME_ACROSS
    return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Witness:
    """What the log of one make says lasted how long (in seconds), or how hot it was (°C)."""

    trial: int
    stems: frozenset[str]
    value: Fraction


def _stem(word: str) -> str:
    """One form for bake, baked and baking, not necessarily an English word."""
    plain = word.lower()
    for ending in ("ing", "ed", "es", "s", "e"):
        if plain.endswith(ending) and len(plain) - len(ending) >= 3:
            plain = plain.removesuffix(ending)
            break
    return plain[:-1] if len(plain) > 3 and plain[-1] == plain[-2] else plain


def _stems(text: str) -> tuple[str, ...]:
    return tuple(_stem(word) for word in _WORD.findall(text))


def _verbs(before: str) -> tuple[str, ...]:
    """The words that begin the clauses of the last sentence, the nearest first: in a method, its verbs."""
    clauses = _CLAUSE.split(_SENTENCE.split(before)[-1])
    return tuple(stems[0] for clause in reversed(clauses) if (stems := _stems(clause)))


def durations(makes: Iterable[Trial]) -> tuple[Witness, ...]:
    """How long everything took: from each entry to every later one, and what an entry itself says.

    An entry is identified by its first two words, a time inside it by the first verb of its clause.
    """
    found: list[Witness] = []
    for trial in makes:
        for place, entry in enumerate(trial.process):
            opening = frozenset(_stems(entry.text)[:2])
            for later in trial.process[place + 1 :]:
                if entry.minute is not None and later.minute is not None:
                    lasted = Fraction((later.minute - entry.minute) * MINUTE)
                    found.append(Witness(trial=trial.number, stems=opening, value=lasted))
            for span in _measured(entry.text, Dimension.DURATION):
                said = frozenset(_verbs(entry.text[: entry.text.find(span.text)])[:1])
                ends = {span.quantity.low, span.quantity.high}
                found += [Witness(trial=trial.number, stems=said, value=end) for end in sorted(ends)]
    return tuple(found)


def temperatures(makes: Iterable[Trial]) -> tuple[Fraction, ...]:
    """Every temperature that was set or read, in °C."""
    found: list[Fraction] = []
    for trial in makes:
        found += [trial.oven.set.middle] if trial.oven.set else []
        found += [value for name in ("core", "mixture") if (value := trial.value(name)) is not None]
        for entry in trial.process:
            for span in _measured(entry.text, Dimension.TEMPERATURE):
                found += [span.quantity.low, span.quantity.high]
    return tuple(found)


def _measured(text: str, dimension: Dimension) -> Iterator[Measured]:
    step, _ = read_step(text, Where(file=""))  # a log has no findings of its own
    for span in step.spans:
        if isinstance(span, Measured) and span.quantity.dimension is dimension:
            yield span


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """Whether the makes confirm one printed measure; ``seen`` is what they recorded instead."""

    borne_out: bool
    seen: tuple[Fraction, ...]


def judge_duration(step: Step, span: Measured, witnesses: tuple[Witness, ...]) -> Evidence:
    """One printed time against the log, matched by the nearest verb before it that identifies an entry."""
    for stem in _verbs(step.text[: max(step.text.find(span.text), 0)]):
        known = [one for one in witnesses if stem in one.stems]
        if known:
            low, high = span.quantity.low, span.quantity.high
            slack = max(Fraction(MINUTE), high / 10) if low == high else Fraction(0)
            seen = tuple(sorted({one.value for one in known}))
            return Evidence(borne_out=any(low - slack <= one <= high + slack for one in seen), seen=seen)
    return Evidence(borne_out=False, seen=())


def judge_temperature(span: Measured, read: tuple[Fraction, ...]) -> Evidence:
    """One printed temperature against everything that was set or read; safety limits are a floor."""
    low, high = span.quantity.low - NEAR, span.quantity.high + NEAR
    borne_out = any(low <= one <= high for one in read)
    if span.purpose is Purpose.CORE:
        borne_out = any(low <= one for one in read if one < 110)
    return Evidence(borne_out=borne_out, seen=tuple(sorted(set(read))))
