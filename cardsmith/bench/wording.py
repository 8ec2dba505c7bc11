"""Numbers and changes as the bench says them: −25 %, +4 mm, 12.5 g."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from cardsmith.bench.model import BOUGHT
from cardsmith.language.listing import listed
from cardsmith.reference import table

LABELS = {row["name"]: row["label"] for row in table("bench_measures")}
UNITS = {row["name"]: row["unit"] for row in table("bench_measures")}
_SCALE = {"percent": 100}
_DIMENSIONS = {row["name"]: row["dimension"] for row in table("bench_measures")}


def figure(value: Fraction | float, places: int = 1) -> str:
    """``value`` to so many decimals without trailing zeros; halves go away from zero."""
    exact = Fraction(value)
    scaled = abs(exact) * 10**places
    whole = int(scaled + Fraction(1, 2))
    text = f"{whole // 10**places}.{whole % 10**places:0{places}d}" if places else str(whole)
    text = text.rstrip("0").rstrip(".") if places else text
    return f"−{text}" if exact < 0 and whole else text


def signed(value: Fraction | float, places: int = 1) -> str:
    """``+4`` or ``−4``; ``±0`` for what rounds to nothing."""
    text = figure(value, places)
    if text == "0":
        return "±0"
    return text if text.startswith("−") else f"+{text}"


def share(value: Fraction | float, places: int = 1) -> str:
    """A share of one as per cent: ``12.5 %``."""
    return f"{figure(Fraction(value) * 100, places)} %"


def span(ends: tuple[Fraction, Fraction]) -> str:
    """Two shares of one: ``3.1 to 3.4 %``, or ``3.1 %`` where they print alike."""
    low, high = (share(end) for end in ends)
    return low if low == high else f"{low.removesuffix(' %')} to {high}"


def measured(name: str, value: Fraction, *, difference: bool = False) -> str:
    """A measured value with its unit: ``31 mm``; as a difference ``−4 mm``."""
    places = 2 if _DIMENSIONS[name] == "number" else 1
    shown = value * _SCALE.get(_DIMENSIONS[name], 1)
    number = signed(shown, places) if difference else figure(shown, places)
    points = "point" if number.lstrip("+−") == "1" else "points"
    unit = points if difference and UNITS[name] == "%" else UNITS[name]
    return f"{number} {unit}".strip()


def sample(trial: int) -> str:
    """``trial 6``; ``the bought one``."""
    return f"trial {trial}" if trial != BOUGHT else "the bought one"


def samples(trials: Sequence[int]) -> str:
    """``trials 4 and 6``; ``trial 6 and the bought one``."""
    if BOUGHT in trials or len(trials) < 2:
        return listed([sample(trial) for trial in trials])
    return f"trials {listed([str(trial) for trial in trials])}"


def several(count: int, noun: str) -> str:
    """``1 taster``, ``6 tasters``."""
    return f"{count} {noun}{'' if count == 1 else 's'}"
