"""A card read again as its reader reads it, and held against what its author wrote.

Every line, step and field is read again by `language`: the amounts of both columns, what steps draw, what
stands behind a food's comma, alternatives, yield and times, equipment, cautions, storage and notes. What
answers to nothing that the author wrote is an error: a card that reads as another recipe does not print,
whoever is to blame.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cardsmith.edition.safety import caution_texts
from cardsmith.facts.dangers.cautions import hazards
from cardsmith.finding import Finding, Where
from cardsmith.house.style import House
from cardsmith.language.spans import Draw, Kind, Measured, Span
from cardsmith.measure.larder import Larder
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension
from cardsmith.readback.column_agreement import agreement
from cardsmith.readback.findings import otherwise
from cardsmith.readback.lines import draw_differs, line_differs, lists_again
from cardsmith.readback.texts import PLACEHOLDER, columns_differ, in_both, text_differs, visible
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.model import Step
from cardsmith.rewrite.batches.batches import UNLIKE, Batch, Batches, RefusedSize
from cardsmith.rewrite.batches.resize import Resized
from cardsmith.rewrite.card.model import Card, CardIngredient, CardStep, Rewritten, Spans
from cardsmith.rewrite.card.summary import made_spans
from cardsmith.rewrite.rounding.variables import draws, governors
from cardsmith.words import Said

PrintedText = tuple[str, tuple[Span, ...], Where]  # as printed, as its author wrote it, and where


def read_back(card: Card, house: House, larder: Larder) -> tuple[Finding, ...]:
    """A finding for every place where the card reads otherwise than its author wrote."""
    return (
        *_of_lists(card, house, larder),
        *_of_draws(card, house, larder),
        *(finding for field in _fields(card) for finding in text_differs(*field, house)),
        *(finding for spans in _running(card) for finding in columns_differ(spans, house.household)),
        *_of_cautions(card, house),
    )


def faithful(made: Batches, house: House, larder: Larder) -> Batches:
    """The sizes that read as the author's recipe at that size, each with its own agreement; no others."""
    kept: list[Batch] = []
    refused = list(made.refused)
    for batch in made.offered:
        if read_back(batch.card, house, larder):
            refused.append(RefusedSize(factor=batch.factor, why=Said(UNLIKE)))
        else:
            agreed = agreement(batch.card, larder) if len(house.order) > 1 else ""
            kept.append(replace(batch, card=replace(batch.card, agreement=agreed)))
    return Batches(offered=tuple(kept), refused=tuple(refused))


def read_again(made: Resized, house: House, larder: Larder) -> Resized:
    """A card at another size with its own agreement, and a finding for all that reads otherwise."""
    agreed = agreement(made.card, larder) if len(house.order) > 1 else ""
    findings = read_back(made.card, house, larder)
    return replace(made, card=replace(made.card, agreement=agreed), findings=(*made.findings, *findings))


def _of_lists(card: Card, house: House, larder: Larder) -> Iterator[Finding]:
    for rows, part in zip(lists_again(card.parts, larder, house.household), card.recipe.parts, strict=True):
        governing = governors(part)
        for row in rows:
            yield from line_differs(row, house, governs=row[0].where in governing)


def _of_draws(card: Card, house: House, larder: Larder) -> Iterator[Finding]:
    """An amount that its author wrote in the step, or what a share or the rest of the line comes to."""
    recipe = card.recipe
    lines = {line.key: line for line in recipe.ingredients if line.key}
    taken = {other.where: other.subject.amount for drawn in draws(recipe).values() for other in drawn}
    for step, written in _steps(card):
        for span, draw in zip(step.spans, written.spans, strict=True):
            if isinstance(draw, Draw) and isinstance(span, Rewritten):
                amount = draw.amount or taken[draw.where]
                yield from draw_differs(span, amount, lines[draw.key], house, larder)
            elif isinstance(draw, Draw) and draw.amount and in_both(draw.amount):
                yield otherwise(draw.where, draw.text, span.text, "one system is missing")


def _steps(card: Card) -> Iterator[tuple[CardStep, Step]]:
    steps = (step for part in card.parts for step in part.steps)
    yield from zip(steps, card.recipe.steps, strict=True)


# --- fields -------------------------------------------------------------------------------------------


def _fields(card: Card) -> Iterator[PrintedText]:
    recipe = card.recipe

    def said(text: str, where: Where) -> tuple[Span, ...]:
        return spans_of(recipe, text, where)

    yield visible(card.headnote), said(recipe.headnote, recipe.where), recipe.where
    yield from _yields(card)
    for line in (line for part in card.parts for line in part.ingredients):
        where = line.line.where
        yield line.item, said(line.line.item, where), where
        yield line.prep, said(_remarks(line), where), where
    for printed, thing in zip(card.equipment, recipe.equipment, strict=True):
        yield printed, said(thing.text, thing.where), thing.where
    for step, written in _steps(card):
        pairs = zip(step.spans, written.spans, strict=True)
        said_there = (PLACEHOLDER if isinstance(draw, Draw) else span for span, draw in pairs)
        yield visible(said_there), written.spans, step.where
    yield visible(card.storage), said(recipe.storage, recipe.where), recipe.where
    for spans, note in zip(card.notes, recipe.notes, strict=True):
        yield visible(spans), said(note.text, note.where), note.where


def _running(card: Card) -> Iterator[Spans]:
    yield from (card.headnote, card.storage, *card.notes)
    yield from (step.spans for step, _ in _steps(card))


def _yields(card: Card) -> Iterator[PrintedText]:
    """What it makes and serves, with the size of one where it stands; and both times."""
    recipe = card.recipe
    given, time = recipe.yields, recipe.time
    for name, printed in (("makes", card.makes), ("serves", card.serves)):
        text = getattr(given, name) if given else None
        if given and text:
            spans = made_spans(recipe) if name == "makes" else spans_of(recipe, text.text, text.where)
            piece = (
                _piece(given.size_of_one, text.where) if given.size_of_one and card.piece_in == name else ()
            )
            yield printed, (*spans, *piece), text.where
    for name in ("active", "total", "prep", "cook"):
        printed, taken = getattr(card, name), getattr(time, name, None)
        if time and taken:
            yield printed, (_measured(taken, Kind.DURATION, time.where),), time.where


def _piece(size: Quantity, where: Where) -> tuple[Span, ...]:
    """The size of one is never exact."""
    bound = Bound.ABOUT if size.bound is Bound.EXACTLY else size.bound
    kind = Kind.LENGTH if size.dimension is Dimension.LENGTH else Kind.AMOUNT
    return (_measured(replace(size, bound=bound), kind, where),)


def _measured(size: Quantity, kind: Kind, where: Where) -> Measured:
    return Measured(where=where, text=size.written, sides=(size,), kind=kind)


def _remarks(line: CardIngredient) -> str:
    """What the author wrote of a line beside its amount and its food."""
    written = line.line
    others = (f"or {other}" for other in written.alternatives)
    return ", ".join(filter(None, (written.prep, *others, written.for_use)))


def _of_cautions(card: Card, house: House) -> Iterator[Finding]:
    """The table's stand word for word; the others are the author's own, in order."""
    recipe = card.recipe
    table = {hazard.text for hazard in hazards()} | caution_texts()
    printed = [text for text in card.cautions if text not in table]
    written = list(
        {caution.text: caution for caution in recipe.cautions if caution.text not in table}.values()
    )
    if len(printed) != len(written):
        where = written[0].where if written else recipe.where
        said = " · ".join(caution.text for caution in written)
        yield otherwise(where, said, " · ".join(printed), "a caution is neither the table's nor the author's")
        return
    for text, own_text in zip(printed, written, strict=True):
        spans = spans_of(recipe, own_text.text, own_text.where)
        yield from text_differs(text, spans, own_text.where, house)
