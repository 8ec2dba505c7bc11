"""A step of the method, its spans read."""

from __future__ import annotations

from cardsmith.finding import Finding, Where
from cardsmith.language.prose.fields import read_spans
from cardsmith.measure.units import System
from cardsmith.recipe.model import Step


def read_step(
    text: str, where: Where, measures: System | str = System.US
) -> tuple[Step, tuple[Finding, ...]]:
    """The step that ``text`` is, and what is wrong with its numbers and links."""
    spans, findings = read_spans(text, where, System(measures))
    return Step(where=where, text=text, spans=spans), findings
