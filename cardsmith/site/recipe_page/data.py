"""A card as data for programs: all that is printed, with the exact values behind it.

Exact values are fractions as text (``"473/2"``) in base units: g, ml, mm, °C, s, or one. Errors are printed
over exact, less one. README.md describes the keys; a key keeps its meaning, new ones may come.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import count
from typing import Any

from cardsmith.house.style import SYSTEMS, House
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import BASES
from cardsmith.render.typeset import marks
from cardsmith.rewrite.batches.batches import Batches
from cardsmith.rewrite.card.model import Card, CardIngredient, CardStep, Rewritten, Spans, Timed, plain
from cardsmith.rewrite.card.numbers import CardNumber, filed
from cardsmith.rewrite.printed import off
from cardsmith.rewrite.wording import short

FORMAT = 1


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
        "prep": _duration(card.prep, time.prep if time else None),
        "cook": _duration(card.cook, time.cook if time else None),
        "equipment": [marks(one) for one in card.equipment],
        "cautions": [marks(one) for one in card.cautions],
        "parts": [
            {"name": marks(part.name), **told}
            for part, told in zip(card.parts, _parts(card, house), strict=True)
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
                "parts": _parts(batch.card, house),
                "agreement": marks(batch.card.agreement),
                "notes": [marks(note) for note in batch.notes],
            }
            for batch in batches.offered
        ],
        "batches_refused": [{"factor": str(one.factor), "why": marks(one.why)} for one in batches.refused],
    }


def _parts(card: Card, house: House) -> list[dict[str, Any]]:
    """Of each part its list and its steps, every number from the one table of them."""
    table = {one.key: one for one in filed(card, house)}
    keys = (f"r{at}" for at in count())
    return [
        {
            "ingredients": [_line(line, table.get(next(keys)), house.order) for line in part.ingredients],
            "steps": [_step(step, table, house.order) for step in part.steps],
        }
        for part in card.parts
    ]


def _line(line: CardIngredient, amount: CardNumber | None, order: tuple[str, ...]) -> dict[str, Any]:
    return {
        "item": marks(line.item),
        "prep": marks(line.prep),
        "amount": _amount(amount, order) if amount else None,
        "to_taste": line.line.to_taste,
        "optional": line.line.optional,
        "weigh": marks(line.weigh),
    }


def _told(one: CardNumber) -> dict[str, Any]:
    """What the author measured."""
    dimension = one.exact[0].dimension
    return {"author": marks(one.author), "exact": str(one.exact[0].middle), "unit": BASES[dimension]}


def _amount(one: CardNumber, order: tuple[str, ...]) -> dict[str, Any]:
    columns = {system: _column(one, system) for system in SYSTEMS if system in order}
    return {**_told(one), **columns, "rests_on": marks(one.basis)}


def _column(one: CardNumber, system: str) -> dict[str, Any]:
    if one.amount is None:
        raise AssertionError("a number of the list has printed terms")
    printed = one.amount.of(system)
    *_, whole = printed.whole() if printed.is_container else (printed.quantity(),)
    exact = one.exact[0]
    alike = whole.dimension is exact.dimension and not exact.is_vague
    return {
        "text": marks(short(printed)),
        "low": str(whole.low),
        "high": str(whole.high),
        "unit": BASES[whole.dimension],
        "error": str(off(whole.middle, exact.middle)) if alike else _error(one, system),
    }


def _error(one: CardNumber, system: str) -> str | None:
    """Printed over exact, less one; no share can say it of a temperature."""
    error = one.error(system)
    return None if error is None or one.in_degrees else str(error)


def _step(step: CardStep, table: Mapping[str, CardNumber], order: tuple[str, ...]) -> dict[str, Any]:
    measures = [span for span in step.spans if isinstance(span, Rewritten)]
    return {
        "number": step.number,
        "text": _plain(step.spans),
        "uses": list(step.uses),
        "measures": [_measure(table[f"s{step.number}-{at}"], order) for at in range(len(measures))],
        "times": [_duration(span.text, span.quantity) for span in step.spans if isinstance(span, Timed)],
    }


def _measure(number: CardNumber, order: tuple[str, ...]) -> dict[str, Any]:
    columns: dict[str, str | None] = {}
    for system in (one for one in SYSTEMS if one in order):
        columns |= {system: marks(number.said(system)), f"{system}_error": _error(number, system)}
    return {
        **_told(number),
        **columns,
        "purpose": number.purpose.value if number.purpose else None,
        "rests_on": "" if number.purpose else marks(number.basis),
    }


def _duration(text: str, given: Quantity | None) -> dict[str, Any] | None:
    if given is None:
        return None
    return {"text": marks(text), "low": str(given.low), "high": str(given.high), "unit": "s"}


def _plain(spans: Spans) -> str:
    return marks(plain(spans))
