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
from cardsmith.rewrite.batches.batches import Batch, Batches
from cardsmith.rewrite.card.model import Card, CardIngredient, CardStep, Rewritten, Spans, Timed, plain
from cardsmith.rewrite.card.numbers import CardNumber, filed
from cardsmith.rewrite.card.summary import outline, yield_sentences
from cardsmith.rewrite.printed import off
from cardsmith.rewrite.wording import short
from cardsmith.words import FixedWords, around_english, fixed_words

FORMAT = 1


def record(card: Card, house: House, batches: Batches) -> dict[str, Any]:
    """The card in JSON's values."""
    recipe = card.recipe
    time = recipe.time
    say, prose = fixed_words(house.language), around_english(house.language)
    outlined = outline(card, house, say)
    makes, serves = yield_sentences(card, house, say)
    return {
        "format": FORMAT,
        "name": recipe.name,
        "title": marks(recipe.title),
        "language": house.language,
        "kind": recipe.kind.text if recipe.kind else "",
        "course": recipe.course,
        "cuisine": recipe.cuisine,
        "keywords": [word.text for word in recipe.keywords],
        "headnote": _plain(card.headnote, prose).strip(),
        "makes": marks(makes),
        "serves": marks(serves),
        **{
            name: _duration(outlined[name], getattr(time, name, None))
            for name in ("active", "total", "prep", "cook")
        },
        "equipment": [marks(item) for item in card.equipment],
        "cautions": [marks(say.heading(caution)) for caution in card.cautions],
        "parts": [
            {"name": marks(part.name), **rest}
            for part, rest in zip(card.parts, _parts(card, house), strict=True)
        ],
        "allergens": {
            "us": list(map(say.told, card.us_allergens)),
            "eu": list(map(say.told, card.eu_allergens)),
            "unknown": [marks(food) for food in card.unknown_foods],
        },
        "claims": list(map(say.heading, card.claims)),
        "storage": _plain(card.storage, prose),
        "notes": [_plain(note, prose) for note in card.notes],
        "tested": marks(say.told(card.tested)),
        "agreement": marks(say.told(card.agreement)),
        "credit": marks(card.credit),
        "published": recipe.published.date if recipe.published else None,
        "corrections": [
            {"date": correction.date, "what": marks(correction.what)} for correction in recipe.corrections
        ],
        "batches": [_batch(batch, house, say) for batch in batches.offered],
        "batches_refused": [
            {"factor": str(size.factor), "why": marks(say.told(size.why))} for size in batches.refused
        ],
    }


def _batch(batch: Batch, house: House, say: FixedWords) -> dict[str, Any]:
    makes, serves = yield_sentences(batch.card, house, say)
    return {
        "factor": str(batch.factor),
        "makes": marks(makes),
        "serves": marks(serves),
        "parts": _parts(batch.card, house),
        "agreement": marks(say.told(batch.card.agreement)),
        "notes": [marks(say.told(note)) for note in batch.notes],
    }


def _parts(card: Card, house: House) -> list[dict[str, Any]]:
    """Of each part its list and its steps, every number from the one table of them."""
    table = {number.key: number for number in filed(card, house)}
    keys = (f"r{at}" for at in count())
    say, order = fixed_words(house.language), house.order
    return [
        {
            "ingredients": [_line(line, table.get(next(keys)), order, say) for line in part.ingredients],
            "steps": [_step(step, table, order, say) for step in part.steps],
        }
        for part in card.parts
    ]


def _line(
    line: CardIngredient, amount: CardNumber | None, order: tuple[str, ...], say: FixedWords
) -> dict[str, Any]:
    return {
        "item": marks(line.item),
        "prep": marks(line.preparation(say)),
        "amount": _amount(amount, order, say) if amount else None,
        "to_taste": line.line.to_taste,
        "optional": line.line.optional,
        "weigh": marks(say.told(line.weigh)),
    }


def _told(number: CardNumber) -> dict[str, Any]:
    """What the author measured."""
    dimension = number.exact[0].dimension
    return {"author": marks(number.author), "exact": str(number.exact[0].middle), "unit": BASES[dimension]}


def _amount(number: CardNumber, order: tuple[str, ...], say: FixedWords) -> dict[str, Any]:
    columns = {system: _column(number, system, say) for system in SYSTEMS if system in order}
    return {**_told(number), **columns, "rests_on": marks(say.told(number.basis))}


def _column(number: CardNumber, system: str, say: FixedWords) -> dict[str, Any]:
    if number.amount is None:
        raise AssertionError("a number of the list has printed terms")
    printed = number.amount.of(system)
    *_, whole = printed.whole() if printed.is_container else (printed.quantity(),)
    exact = number.exact[0]
    alike = whole.dimension is exact.dimension and not exact.is_vague
    return {
        "text": marks(short(printed, say)),
        "low": str(whole.low),
        "high": str(whole.high),
        "unit": BASES[whole.dimension],
        "error": str(off(whole.middle, exact.middle)) if alike else _error(number, system),
    }


def _error(number: CardNumber, system: str) -> str | None:
    """Printed over exact, less one; no share can say it of a temperature."""
    error = number.error(system)
    return None if error is None or number.in_degrees else str(error)


def _step(
    step: CardStep, table: Mapping[str, CardNumber], order: tuple[str, ...], say: FixedWords
) -> dict[str, Any]:
    measures = [span for span in step.spans if isinstance(span, Rewritten)]
    return {
        "number": step.number,
        "text": _plain(step.spans, around_english(say.language)),
        "uses": list(step.uses),
        "measures": [
            _measure(span, table[f"s{step.number}-{at}"], order, say) for at, span in enumerate(measures)
        ],
        "times": [_duration(span.text, span.quantity) for span in step.spans if isinstance(span, Timed)],
    }


def _measure(span: Rewritten, number: CardNumber, order: tuple[str, ...], say: FixedWords) -> dict[str, Any]:
    prose = around_english(say.language)
    columns: dict[str, str | None] = {}
    for system in (system for system in SYSTEMS if system in order):
        columns |= {
            system: marks(f"{span.bound}{span.said(system, prose)}"),
            f"{system}_error": _error(number, system),
        }
    return {
        **_told(number),
        **columns,
        "purpose": number.purpose.value if number.purpose else None,
        "rests_on": "" if number.purpose else marks(say.told(number.basis)),
    }


def _duration(text: str, given: Quantity | None) -> dict[str, Any] | None:
    if given is None:
        return None
    return {"text": marks(text), "low": str(given.low), "high": str(given.high), "unit": "s"}


def _plain(spans: Spans, say: FixedWords) -> str:
    return marks(plain(spans, say))
