"""A step of the method, or another text of a recipe, its spans read."""

from __future__ import annotations

from cardsmith.finding import Finding, Where
from cardsmith.language.prose.fields import read_prose, read_spans
from cardsmith.language.spans import Span
from cardsmith.measure.units import System
from cardsmith.recipe.model import Recipe, Step
from cardsmith.reference import OURS, Tables


def read_step(
    text: str, where: Where, measures: System | str = System.US, tables: Tables = OURS
) -> tuple[Step, tuple[Finding, ...]]:
    """The step that ``text`` is, and what is wrong with its numbers and links."""
    spans, findings = read_spans(text, where, System(measures), tables)
    return Step(where=where, text=text, spans=spans), findings


def spans_of(recipe: Recipe, text: str, where: Where) -> tuple[Span, ...]:
    """The spans of a headnote, a note or another text of a recipe, as `read_prose` gives them."""
    return read_prose(text, where, System(recipe.measures), recipe.tables)
