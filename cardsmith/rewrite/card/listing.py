"""A card as plain text for the terminal: the list in both columns, then the steps."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.house.style import House
from cardsmith.measure.units import COLUMN_NAMES
from cardsmith.rewrite.card.model import Card, CardIngredient, plain
from cardsmith.rewrite.wording import short


def card_text(card: Card, house: House) -> str:
    """Title, yield, both columns in the house's order, and the steps."""
    return "\n".join(_lines(card, house))


def _lines(card: Card, house: House) -> Iterator[str]:
    yield card.recipe.title
    yield " · ".join(said for said in card.yields if said)
    rows = [(part.name, line) for part in card.parts for line in part.ingredients]
    widths = {
        system: max((len(_cell(line, system)) for _, line in rows), default=0) for system in house.order
    }
    widths = {system: max(width, len(COLUMN_NAMES[system])) for system, width in widths.items()}
    yield ""
    yield "  ".join(COLUMN_NAMES[system].ljust(widths[system]) for system in house.order)
    for part in card.parts:
        if part.name:
            yield f"\n{part.name}"
        for line in part.ingredients:
            cells = [_cell(line, system).ljust(widths[system]) for system in house.order]
            yield "  ".join((*cells, line.words))
    yield ""
    for part in card.parts:
        for step in part.steps:
            yield f"{step.number}. {plain(step.spans)}"


def _cell(line: CardIngredient, system: str) -> str:
    return short(line.amount.of(system)) if line.amount else ""
