"""Trials of an invented oat thin for tests of the fit: the same but for water, oil, heat and time."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from cardsmith.bench.model import Trials
from tests.bench.trial_samples import trials as read

LEVERS = "levers: [100 to 150 g water, 20 to 50 g sunflower oil]"


@dataclass(frozen=True, kw_only=True)
class Thin:
    """One trial: grams, °C on a dial 12 °C too low, minutes, per cent of moisture."""

    moisture: float | None
    water: float = 120
    oil: float = 35
    dial: int = 152
    minutes: int = 26
    cook: str = "L. Fen"
    size: Fraction = Fraction(1)
    salt: int = 4


def text_of(thins: list[Thin], aim: str = LEVERS) -> str:
    lines = [
        f"aim: {{measure: moisture, target: 4 %, {aim}}}" if aim else "aim: {measure: moisture}",
        "trials:",
    ]
    for number, one in enumerate(thins, 1):
        grams = {
            "rolled oats": 180, "spelt flour": 60, "water": one.water, "sunflower oil": one.oil,
            "honey": 20, "fine salt": one.salt,
        }  # fmt: skip
        listed = ", ".join(
            f"{float(Fraction(str(gram)) * one.size):g} g {food}" for food, gram in grams.items()
        )
        lines += [
            f"  - trial: {number}",
            f"    date: 2026-03-{number:02d}",
            f"    cook: {one.cook}",
            f"    oven: {{name: oven A, set: {one.dial} °C, offset: +12 °C}}",
            f"    ingredients: [{listed}]",
            f'    process: ["09:10 bake at {one.dial} °C", "09:{10 + one.minutes} out"]',
            *([f"    measured: {{moisture: {one.moisture:.10g} %}}"] if one.moisture is not None else []),
            "    verdict: {call: keep}",
        ]
    return "\n".join(lines) + "\n"


def thins(*made: Thin, aim: str = LEVERS) -> Trials:
    """The trials, in which nothing is wrong."""
    return read(text_of(list(made), aim))
