"""A card as data for programs: all that is printed in both systems, with the exact values behind it.

Exact values are fractions as text (``"473/2"``) in base units: g, ml, mm, °C, s, or one. Errors are printed
over exact, less one. README.md describes the keys; a key keeps its meaning, new ones may come.
"""

from __future__ import annotations

from typing import Any

from cardsmith.house import House
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension
from cardsmith.render.typeset import marks
from cardsmith.rewrite.batches import Batches
from cardsmith.rewrite.card import Card, CardIngredient, CardStep, Rewritten, Spans, Timed, plain
from cardsmith.rewrite.printed import DEGREES, Dual, off
from cardsmith.rewrite.wording import short

FORMAT = 1
UNITS = {
    Dimension.MASS: "g",
    Dimension.VOLUME: "ml",
    Dimension.COUNT: "",
    Dimension.LENGTH: "mm",
    Dimension.DURATION: "s",
    Dimension.TEMPERATURE: "°C",
    Dimension.TEMPERATURE_CHANGE: "°C",
    Dimension.PRESSURE: "kPa",
}


def record(card: Card, house: House, batches: Batches) -> dict[str, Any]:
    """The card in JSON's values."""
    recipe = card.recipe
    time = recipe.time
    return {
        "format": FORMAT,
        "name": recipe.name,
        "title": marks(recipe.title),
        "language": house.language,
        "kind": recipe.kind.text if recipe.kind else "",
        "course": recipe.course,
        "cuisine": recipe.cuisine,
        "keywords": [word.text for word in recipe.keywords],
        "headnote": _plain(card.headnote).strip(),
        "makes": marks(card.yields[0]),
        "serves": marks(card.yields[1]),
        "active": _duration(card.active, time.active if time else None),
        "total": _duration(card.total, time.total if time else None),
        "equipment": [marks(one) for one in card.equipment],
        "cautions": [marks(one) for one in card.cautions],
        "parts": [
            {
                "name": marks(part.name),
                "ingredients": [_line(line) for line in part.ingredients],
                "steps": [_step(step) for step in part.steps],
            }
            for part in card.parts
        ],
        "allergens": {
            "us": list(card.us_allergens),
            "eu": list(card.eu_allergens),
            "unknown": [marks(one) for one in card.unknown_foods],
        },
        "claims": list(card.claims),
        "storage": _plain(card.storage),
        "notes": [_plain(note) for note in card.notes],
        "tested": marks(card.tested),
        "agreement": marks(card.agreement),
        "credit": marks(card.credit),
        "published": recipe.published.date if recipe.published else None,
        "corrections": [{"date": one.date, "what": marks(one.what)} for one in recipe.corrections],
        "batches": [
            {
                "factor": str(batch.factor),
                "makes": marks(batch.card.yields[0]),
                "serves": marks(batch.card.yields[1]),
                "parts": [
                    {
                        "ingredients": [_line(line) for line in part.ingredients],
                        "steps": [_step(step) for step in part.steps],
                    }
                    for part in batch.card.parts
                ],
                "notes": [marks(note) for note in batch.notes],
            }
            for batch in batches.offered
        ],
        "batches_refused": [{"factor": str(one.factor), "why": marks(one.why)} for one in batches.refused],
    }


def _line(line: CardIngredient) -> dict[str, Any]:
    return {
        "item": marks(line.item),
        "prep": marks(line.prep),
        "amount": _amount(line.amount) if line.amount else None,
        "to_taste": line.line.to_taste,
        "optional": line.line.optional,
        "weigh": marks(line.weigh),
    }


def _amount(dual: Dual) -> dict[str, Any]:
    return {
        "author": marks(dual.author),
        "exact": str(dual.exact[0].middle),
        "unit": UNITS[dual.dimension],
        "us": _printed(dual, "us"),
        "metric": _printed(dual, "metric"),
        "rests_on": marks(dual.basis),
    }


def _printed(dual: Dual, system: str) -> dict[str, Any]:
    printed = dual.of(system)
    *_, whole = printed.whole() if printed.is_container else (printed.quantity(),)
    exact = dual.exact[0]
    alike = whole.dimension is exact.dimension and not exact.is_vague
    return {
        "text": marks(short(printed)),
        "low": str(whole.low),
        "high": str(whole.high),
        "unit": UNITS[whole.dimension],
        "error": str(off(whole.middle, exact.middle)) if alike else _error(dual, system),
    }


def _error(dual: Dual, system: str) -> str | None:
    """Printed over exact, less one; no share can say it of a temperature."""
    error = dual.error(system)
    return None if error is None or dual.dimension in DEGREES else str(error)


def _step(step: CardStep) -> dict[str, Any]:
    return {
        "number": step.number,
        "text": _plain(step.spans),
        "uses": list(step.uses),
        "measures": [_measure(span) for span in step.spans if isinstance(span, Rewritten)],
        "times": [_duration(span.text, span.quantity) for span in step.spans if isinstance(span, Timed)],
    }


def _measure(span: Rewritten) -> dict[str, Any]:
    dual = span.amount
    return {
        "author": marks(span.author),
        "exact": str(dual.exact[0].middle),
        "unit": UNITS[dual.dimension],
        "us": marks(f"{span.bound}{span.said('us')}"),
        "us_error": _error(dual, "us"),
        "metric": marks(f"{span.bound}{span.said('metric')}"),
        "metric_error": _error(dual, "metric"),
        "purpose": span.purpose.value if span.purpose else None,
        "rests_on": marks(dual.basis),
    }


def _duration(text: str, given: Quantity | None) -> dict[str, Any] | None:
    if given is None:
        return None
    return {"text": marks(text), "low": str(given.low), "high": str(given.high), "unit": "s"}


def _plain(spans: Spans) -> str:
    return marks(plain(spans))
