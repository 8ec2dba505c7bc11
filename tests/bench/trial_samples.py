"""Trials from a few lines of YAML, for tests: read by the real reader."""

from __future__ import annotations

from cardsmith.bench.file.load import read_trials
from cardsmith.bench.model import Trials
from cardsmith.finding import Finding
from cardsmith.measure.larder import load_larder

LEAN = """\
trials:
  - trial: 1
    date: 2026-03-02
    ingredients: [500 g bread flour, 350 g water, 10 g fine salt, 5 g instant yeast]
    oven: {name: A, set: 230 °C}
    measured: {in: 850 g, out: 740 g, height: 90 mm}
    verdict: {call: keep, faults: [pale]}
"""


def read(text: str) -> tuple[Trials | None, tuple[Finding, ...]]:
    return read_trials("a-dish", text.encode(), "trials.yaml", load_larder())


def trials(text: str) -> Trials:
    """Trials in which nothing is wrong."""
    found, findings = read(text)
    assert [str(one) for one in findings] == []
    assert found is not None
    return found
