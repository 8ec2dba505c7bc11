"""What the log of a trial tells: how long each thing took, how hot it was, how long it was in the heat.

An entry lasts until the next one that is not done meanwhile (pans turned, the dial lowered). Words that mean
the same thing there, such as rest, stand and leave, are rows of ``log_words.csv``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import cache

from cardsmith.bench.model import Clocked, Trial
from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.language.spans import Measured, Purpose
from cardsmith.language.stops import stops
from cardsmith.measure.units import Dimension
from cardsmith.recipe.fields.steps import read_step
from cardsmith.reference import table
from cardsmith.regex import regex

MINUTE = 60
# What counts as the time in the heat: of several, the first that a log has.
HEATS = ("bake", "fry", "dry", "boil", "cook")
_STAYS = frozenset({*HEATS, "rest", "rise", "chill", "freeze", "cool"})
_WORD = regex(r"[A-Za-zé]{2,}(?:-[A-Za-z]+)*")
_CLAUSE = regex(r",|\b(?:and|then|or)\b")


@frozen
class Witness:
    """What the log of one trial says lasted how long, in seconds; ``whole`` from its beginning to its end."""

    trial: int
    deeds: frozenset[str]
    value: Fraction
    whole: bool = True


@frozen
class RecordedHeat:
    """A temperature that a trial records, in °C. ``dial`` is None where it was read, not set.

    ``met`` is what the food met: the dial with the oven's offset where that is known, else the dial alone.
    """

    trial: int
    met: Fraction
    dial: Fraction | None = None
    offset: Fraction | None = None


def _stem(word: str) -> str:
    """One form for bake, baked and baking, not necessarily an English word."""
    plain = word.lower()
    for ending in ("ing", "ed", "es", "s", "e"):
        if plain.endswith(ending) and len(plain) - len(ending) >= 3:
            plain = plain.removesuffix(ending)
            break
    return plain[:-1] if len(plain) > 3 and plain[-1] == plain[-2] else plain


@cache
def _meanings() -> dict[str, str]:
    return {_stem(row["word"]): row["means"] for row in table("log_words")}


_NO_DEED = frozenset({"during", "filler", "helper", "read", "longer", "oven"})


def _stems(text: str) -> tuple[str, ...]:
    return tuple(_stem(word) for word in _WORD.findall(text))


def _deeds(text: str, words: int) -> tuple[str, ...]:
    """What the first words of a clause say is done: let stand and leave to rest are both a rest.

    In the oven it bakes, and so it does where all that is said is: in. An oven spoken of first heats up.
    """
    every = _stems(text)
    stems = [stem for stem in every if _meanings().get(stem) != "filler"]
    if not stems:
        return ("bake",) if every[:1] == ("in",) else ()
    first = _meanings().get(stems[0])
    if first == "oven":
        return ("heat",) if every[0] == stems[0] else ("bake",)
    if first == "helper":
        known = [_meanings().get(stem, "") for stem in stems[1:]]
        return (next((deed for deed in known if deed and deed not in _NO_DEED), "rest"),)
    return tuple(_deed(stem) for stem in stems[:words])


def _deed(stem: str) -> str:
    means = _meanings().get(stem, "")
    return means if means and means not in _NO_DEED else stem


def clause_deeds(before: str) -> tuple[str, ...]:
    """What the clauses of the last sentence say is done, the nearest first."""
    begins = max((end for _, end in stops(before)), default=0)
    clauses = _CLAUSE.split(before[begins:])
    return tuple(deeds[0] for clause in reversed(clauses) if (deeds := _deeds(clause, 1)))


def _says(text: str, means: str) -> bool:
    return any(_meanings().get(stem) == means for stem in _stems(text))


def _meanwhile(entry: Clocked) -> bool:
    """Whether an entry tells what is done while the one before it goes on: the pans turned."""
    first = next((stem for stem in _stems(entry.text) if _meanings().get(stem) != "filler"), "")
    known = set(_meanings().values()) - _NO_DEED
    return _meanings().get(first) == "during" and known.isdisjoint(_deeds(entry.text, 2))


def durations(makes: Iterable[Trial]) -> tuple[Witness, ...]:
    """How long everything took: from an entry to the one that ends it, and what an entry itself says.

    An entry is identified by its first two words, a time inside it by what its clause says is done.
    """
    return tuple(
        witness
        for trial in makes
        for place in range(len(trial.process))
        for witness in _of_entry(trial, place)
    )


def _of_entry(trial: Trial, place: int) -> Iterator[Witness]:
    entry = trial.process[place]
    deeds = frozenset(_deeds(entry.text, 2))
    for later in trial.process[place + 1 :]:
        if entry.minute is None or later.minute is None:
            continue
        whole = not _meanwhile(later)
        lasted = Fraction((later.minute - entry.minute) * MINUTE)
        yield Witness(trial=trial.number, deeds=deeds, value=lasted, whole=whole)
        if whole:
            break
    for span in measured_in(entry.text, Dimension.DURATION):
        said = frozenset(clause_deeds(entry.text[: entry.text.find(span.text)])[:1])
        for end in sorted({span.quantity.low, span.quantity.high}):
            yield Witness(trial=trial.number, deeds=said, value=end)


def lasted(trial: Trial, place: int) -> Fraction | None:
    """How long the food was left to itself at an entry: baked, rested, cooled; in seconds, by the clock.

    None where the entry tells of hands at work, or no later one ends it.
    """
    deeds = _deeds(trial.process[place].text, 1)
    stays = (
        [witness.value for witness in _of_entry(trial, place) if witness.whole] if set(deeds) & _STAYS else []
    )
    return stays[0] if stays else None


def in_heat(trial: Trial) -> Fraction | None:
    """How long it was in the oven, in seconds, by its log; where there was none, in the fat, dryer or pot.

    What stands in the log twice (a hot and a cooler oven) adds up. None where the log doesn't tell.
    """
    for heat in HEATS:
        places = [at for at, entry in enumerate(trial.process) if _deeds(entry.text, 1) == (heat,)]
        stays = [_stay(trial, place, heat) for place in places]
        known = [stay for stay in stays if stay is not None]
        if stays:
            return sum(known, Fraction(0)) if len(known) == len(stays) else None
    return None


def _stay(trial: Trial, place: int, heat: str) -> Fraction | None:
    """How long one entry of the log was in the heat: by the clock, else as it says."""
    return next(
        (witness.value for witness in _of_entry(trial, place) if heat in witness.deeds and witness.whole),
        None,
    )


def heats(makes: Iterable[Trial]) -> tuple[RecordedHeat, ...]:
    """Every temperature that was set or read; an oven's in the log is its dial's, unless read there."""
    heats: list[RecordedHeat] = []
    for trial in makes:
        if trial.oven.set is not None:
            heats.append(_dialled(trial, trial.oven.set.middle))
        read = [value for name in ("core", "mixture") if (value := trial.value(name)) is not None]
        for entry in trial.process:
            for span in measured_in(entry.text, Dimension.TEMPERATURE):
                ends = (span.quantity.low, span.quantity.high)
                if span.purpose is Purpose.OVEN and not _says(entry.text, "read"):
                    heats += [_dialled(trial, end) for end in ends]
                else:
                    read += ends
        heats += [RecordedHeat(trial=trial.number, met=value) for value in read]
    return tuple(dict.fromkeys(heats))


def _dialled(trial: Trial, dial: Fraction) -> RecordedHeat:
    offset = trial.oven.offset
    return RecordedHeat(trial=trial.number, met=dial + (offset or 0), dial=dial, offset=offset)


def accounts_for(text: str) -> tuple[bool, bool]:
    """Whether a change of method says another oven temperature, and another time in the heat."""
    oven = any(span.purpose is Purpose.OVEN for span in measured_in(text, Dimension.TEMPERATURE))
    timed = _says(text, "longer") or any(True for _ in measured_in(text, Dimension.DURATION))
    in_it = any(_meanings().get(stem) in HEATS for stem in _stems(text))
    return oven, timed and in_it


def measured_in(text: str, dimension: Dimension) -> Iterator[Measured]:
    """What a sentence of the log measures in one dimension."""
    step, _ = read_step(text, Where(file=""))  # a log has no findings of its own
    for span in step.spans:
        if isinstance(span, Measured) and span.quantity.dimension is dimension:
            yield span
