"""The rewriting stage: a recipe becomes a card, every number in both systems."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from cardsmith.facts.foods.allergens import allergens, in_one_word, named_by_both
from cardsmith.facts.foods.australian import australian
from cardsmith.facts.foods.diets import printable
from cardsmith.finding import Finding, Where
from cardsmith.house.style import House
from cardsmith.measure.food_words import by_weight
from cardsmith.measure.larder import Larder, words
from cardsmith.measure.units import Dimension, Unit
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.mentions.mentions import Mentions
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.rewrite.card.model import (
    DIVIDED,
    OPTIONAL,
    TO_TASTE,
    Card,
    CardIngredient,
    CardPart,
    CardStep,
    Rewritten,
)
from cardsmith.rewrite.card.prose import rewrite_spans
from cardsmith.rewrite.card.summary import both_systems, duration_text, yield_texts
from cardsmith.rewrite.printed import Dual, Printed, Term, dual_of
from cardsmith.rewrite.rounding.amounts import round_amounts
from cardsmith.rewrite.rounding.household import sizes_told
from cardsmith.rewrite.wording import BARE

NO_RISKS: Mapping[Where, str] = MappingProxyType({})


def rewrite(
    recipe: Recipe,
    larder: Larder,
    house: House,
    cautions: tuple[str, ...] = (),
    risks: Mapping[Where, str] = NO_RISKS,
    mentions: Mentions | None = None,
) -> tuple[Card, tuple[Finding, ...]]:
    """The card of ``recipe``, and what the two columns could not be made to agree on.

    ``cautions`` are printed as they are, the author's own with their measures in both systems; ``risks``
    says of which lines a cup is too uncertain, and why.
    ``mentions`` is what the steps speak of, where that is known already.
    """
    rounded = round_amounts(recipe, house)
    makes, serves, piece_in = yield_texts(recipe, house)
    us, eu = (allergens(recipe.ingredients, market, larder) for market in ("us", "eu"))
    sure, possible = in_one_word(recipe.ingredients, larder, house.allergen_lists)
    card = Card(
        recipe=recipe,
        headnote=rewrite_spans(spans_of(recipe, recipe.headnote, recipe.where), {}, house),
        makes=makes,
        serves=serves,
        piece_in=piece_in,
        active=duration_text(recipe.time.active if recipe.time else None),
        total=duration_text(recipe.time.total if recipe.time else None),
        prep=duration_text(recipe.time.prep if recipe.time else None),
        cook=duration_text(recipe.time.cook if recipe.time else None),
        equipment=tuple(both_systems(item.text, item.where, recipe, house) for item in recipe.equipment),
        parts=_parts(recipe, mentions or read_mentions(recipe, larder), house, rounded.amounts, risks),
        cautions=tuple(_caution(text, recipe, house) for text in cautions),
        us_allergens=us.names,
        eu_allergens=eu.with_kinds
        if house.declares == "EU" or "US" not in house.allergen_lists
        else eu.names,
        au_allergens=australian(us, eu) if "AU" in house.allergen_lists else (),
        shared_allergens=named_by_both(us, eu),
        sure_allergens=sure,
        possible_allergens=possible,
        unknown_foods=us.unknown,
        notes=tuple(
            rewrite_spans(spans_of(recipe, note.text, note.where), {}, house) for note in recipe.notes
        ),
        storage=rewrite_spans(spans_of(recipe, recipe.storage, recipe.where), {}, house),
        claims=printable(recipe, larder),
        credit=recipe.credit or house.credit,
    )
    if house.household:
        card = replace(card, household=sizes_told(_units(card)))
    return card, rounded.findings


def _units(card: Card) -> Iterator[Unit]:
    """The units of every amount in the lists and the steps, as the metric column has them."""
    for part in card.parts:
        lines = (line.amount for line in part.ingredients if line.amount)
        spans = (span for step in part.steps for span in step.spans)
        for dual in (*lines, *(span.amount for span in spans if isinstance(span, Rewritten))):
            yield from (term.unit for term in (*dual.metric.low, *dual.metric.high))


def _caution(text: str, recipe: Recipe, house: House) -> str:
    """The table's as it stands, which has both scales already."""
    own = next((caution for caution in recipe.cautions if caution.text == text), None)
    return both_systems(text, own.where, recipe, house) if own else text


def _parts(
    recipe: Recipe,
    mentions: Mentions,
    house: House,
    amounts: Mapping[Where, Dual],
    risks: Mapping[Where, str],
) -> tuple[CardPart, ...]:
    items = {line.key: line.item for line in recipe.ingredients if line.key}
    number = 0
    parts: list[CardPart] = []
    for part in recipe.parts:
        steps: list[CardStep] = []
        for step in part.steps:
            number += 1
            steps.append(
                CardStep(
                    number=number,
                    where=step.where,
                    spans=rewrite_spans(step.spans, amounts, house, items),
                    uses=mentions.lines_of(number - 1),
                )
            )
        lines = tuple(
            _line(line, amounts.get(line.where), recipe, house, risks.get(line.where, ""))
            for line in part.ingredients
        )
        parts.append(CardPart(name=part.name, ingredients=lines, steps=tuple(steps)))
    return tuple(parts)


def _line(line: Ingredient, dual: Dual | None, recipe: Recipe, house: House, risk: str) -> CardIngredient:
    if dual is None and line.amount is not None:
        dual = _as_written(line)
    before, behind = _size(line)
    weighed = dual is not None and not any(_has_volume(dual.of(system)) for system in house.order)
    item, prep = map(by_weight, (line.item, line.prep)) if weighed else (line.item, line.prep)
    prep = both_systems(prep, line.where, recipe, house) if prep else ""
    others = (both_systems(f"or {other}", line.where, recipe, house) for other in line.alternatives)
    notes = [behind, prep, *others]
    flags = (TO_TASTE, line.to_taste), (OPTIONAL, line.optional), (DIVIDED, line.divided)
    return CardIngredient(
        line=line,
        amount=dual,
        item=f"{before}{both_systems(item, line.where, recipe, house)}",
        remark=", ".join(filter(None, notes)),
        flags=tuple(word for word, said in flags if said and word not in line.prep),
        weigh=risk if dual and dual.us.dimension is Dimension.VOLUME else "",
    )


def _has_volume(printed: Printed) -> bool:
    """Whether a column has spoons or cups, which may be filled in more than one way."""
    return any(term.unit.dimension is Dimension.VOLUME for term in (*printed.low, *printed.high))


def _size(line: Ingredient) -> tuple[str, str]:
    """The size class before the food and behind it: "large eggs", but "2 cloves garlic, large"."""
    size = line.size if line.size not in line.item else ""
    said = (*((line.amount,) if line.amount else ()), *line.stated)
    count = next((quantity for quantity in said if quantity.dimension is Dimension.COUNT), None)
    if not size or count is None or count.unit.name in BARE:
        return f"{size} " if size else "", ""
    return "", "" if count.is_vague else size  # "1 small bunch" prints in its author's words


LONGEST_ABBREVIATION = 3  # letters: "2 bch" are 2 bunches


def _as_written(line: Ingredient) -> Dual | None:
    """A vague amount has no other form: a pinch is a pinch in both columns."""
    amount = line.amount
    if amount is None:
        return None
    low, high = (
        Term(number=quantity.unit.from_base(quantity.low), unit=quantity.unit) for quantity in amount.ends()
    )
    spelled = any(len(word) > LONGEST_ABBREVIATION for word in words(amount.written))
    printed = Printed(low=(low,), high=(high,), words=amount.written if spelled else "")
    return dual_of(amount.written, (amount,), printed, printed)
