"""One line or one sentence as a card prints it, and what was said about it: the whole path."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from cardsmith.finding import Severity
from cardsmith.flow import prepare
from cardsmith.measure.larder import load_larder
from cardsmith.rewrite.wording import short
from tests.demo import house_of_one_edition

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What a reader would see of one line or sentence, and the findings at its place."""

    us: str  # the amount in the US column, or the whole sentence
    metric: str
    item: str  # the words beside the amount
    stops: tuple[str, ...]  # names of errors: the card does not print
    asks: tuple[str, ...]  # names of warnings and notes at the line itself


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def line_as_printed(text: str, measures: str = "us") -> Shown:
    """An ingredient line, in a recipe whose only step uses everything.

    Behind it stands enough of something else for any amount of a seasoning to be a small share of the whole;
    how many it serves is not said, so that no amount is too much for them.
    """
    source = (
        f"title: A dish\nmeasures: {measures}\nyield: {{makes: 1 dish}}\n"
        f"ingredients:\n  - {_quoted(text)}\n  - 3 kg turnips\n"
        "steps:\n  - Mix everything well and serve.\n"
    )
    done = prepare("a-dish", source.encode(), "recipe.yaml", load_larder(), house_of_one_edition())
    row = 5
    errors = tuple(one.name for one in done.findings if one.severity is Severity.ERROR)
    asks = tuple(
        one.name for one in done.findings if one.severity is not Severity.ERROR and one.where.line == row
    )
    lines = done.card.parts[0].ingredients[:-1] if done.card else ()
    us = " | ".join(short(one.amount.us) if one.amount else "" for one in lines)
    metric = " | ".join(short(one.amount.metric) if one.amount else "" for one in lines)
    item = " | ".join(f"{one.item}; {one.prep}" for one in lines)
    return Shown(us=us, metric=metric, item=item, stops=errors, asks=asks)


def sentence_as_printed(text: str, field: str = "step") -> Shown:
    """A sentence of a method, or of another field, as it prints in both systems."""
    step = text if field == "step" else "Mix everything well and serve."
    more = {"storage": "storage", "headnote": "headnote"}.get(field)
    extra = (
        f"{more}: {_quoted(text)}\n" if more else f"notes:\n  - {_quoted(text)}\n" if field == "note" else ""
    )
    source = (
        "title: A dish\nyield: {makes: 1 dish, serves: 4}\n"
        f"ingredients:\n  - 200 g water\nsteps:\n  - {_quoted(step)}\n{extra}"
    )
    done = prepare("a-dish", source.encode(), "recipe.yaml", load_larder(), house_of_one_edition())
    errors = tuple(one.name for one in done.findings if one.severity is Severity.ERROR)
    asks = tuple(one.name for one in done.findings if one.severity is not Severity.ERROR)
    card = done.card
    spans = (
        ()
        if card is None
        else (
            card.parts[0].steps[0].spans
            if field == "step"
            else card.storage
            if field == "storage"
            else card.headnote
            if field == "headnote"
            else card.notes[0]
            if card.notes
            else ()
        )
    )
    shown = "".join(span.text for span in spans)
    return Shown(us=shown, metric=shown, item="", stops=errors, asks=asks)
