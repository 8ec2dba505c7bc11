"""A recipe in another size: always from the author's amounts, never from printed ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from cardsmith.facts.foods.roles import role_class
from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.language.spans import Draw, Measured, Span, Told, Unread, Words
from cardsmith.measure.pans import Pan
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import WEIGHED, Dimension, units
from cardsmith.measure.weighing import weight_of_one
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.model import Ingredient, Part, Recipe, Step
from cardsmith.rewrite.batches.yields import yield_of
from cardsmith.rewrite.wording import decimal_text

_ADDING = frozenset({"or", "plus", "and"})
EGGS = ("egg", "egg-white", "egg-yolk")
LARGE_BATCH = Fraction(2)  # beyond this a leavener is tried anew, not multiplied (common practice, no source)


@frozen
class Scaled:
    """The recipe in its new size, and what does not follow the factor."""

    recipe: Recipe
    factor: Fraction
    stays: tuple[str, ...]


def factor_for_yield(recipe: Recipe, makes: Fraction) -> Fraction:
    """The factor at which the recipe makes so many.

    Raises:
        CardsmithError: the recipe does not say how many it makes.
    """
    count = recipe.yields.makes_count if recipe.yields else None
    if not count:
        raise CardsmithError(f"{recipe.name} does not say how many it makes (yield: makes: 24 rolls)")
    return makes / count


def factor_for_pan(here: Pan, there: Pan) -> Fraction:
    """The factor at which a batter stands as high in ``there`` as in ``here``: the ratio of the areas."""
    return there.area / here.area


def scale(recipe: Recipe, factor: Fraction) -> Scaled:
    """``recipe`` times ``factor``. Amounts and draws scale; times, temperatures and pans are listed.

    Raises:
        CardsmithError: the factor is not more than nothing.
    """
    if factor <= 0:
        raise CardsmithError("a recipe is scaled by more than nothing, such as --by 1.5")
    parts = tuple(
        Part(
            where=part.where,
            name=part.name,
            ingredients=tuple(_line(line, factor) for line in part.ingredients),
            steps=tuple(_step(step, factor) for step in part.steps),
        )
        for part in recipe.parts
    )
    scaled = replace(recipe, parts=parts, yields=yield_of(recipe, factor))
    return Scaled(recipe=scaled, factor=factor, stays=tuple(_stays(recipe, factor)))


def _line(line: Ingredient, factor: Fraction) -> Ingredient:
    amount = line.amount.times(factor) if line.amount else None
    if amount and _is_part_egg(line, amount):
        beaten = _beaten(line, amount)
        if beaten is None or line.food is None:
            return replace(line, amount=amount)
        prep = ", ".join(note for note in ("beaten and measured", line.prep) if note)
        poured = replace(line.food, us_print="volume")  # beaten egg fits a spoon
        return replace(line, amount=beaten, stated=(), prep=prep, food=poured)
    container = line.container
    if container and (container.count.low * factor).denominator == 1:
        container = replace(container, count=container.count.times(factor))
    elif container:
        container = None
    stated = tuple(quantity.times(factor) for quantity in line.stated)
    whole = tuple(
        quantity for quantity in stated if quantity.dimension is not Dimension.COUNT or _halves(quantity.low)
    )
    return replace(line, amount=amount, stated=whole, container=container)


def _halves(number: Fraction) -> bool:
    """Whether so many pieces can be had: whole ones, or a half."""
    return (number * 2).denominator == 1


def _is_part_egg(line: Ingredient, amount: Quantity) -> bool:
    counted = amount.dimension is Dimension.COUNT and amount.low.denominator != 1
    return counted and line.food is not None and any(line.food.share(role) for role in EGGS)


def _beaten(line: Ingredient, amount: Quantity) -> Quantity | None:
    """Part of an egg as a weight of beaten egg."""
    weighing = weight_of_one(line.food, "one", line.size_sold) if line.food else None
    if weighing is None:
        return None
    gram = units()["gram"]
    return Quantity(
        low=amount.low * weighing.grams,
        high=amount.high * weighing.grams,
        unit=gram,
        written=f"{amount.written}, scaled",
    )


def _step(step: Step, factor: Fraction) -> Step:
    spans = tuple(
        replace(span, amount=span.amount.times(factor)) if isinstance(span, Draw) and span.amount else span
        for span in step.spans
    )
    return replace(step, spans=spans)


def _stays(recipe: Recipe, factor: Fraction) -> Iterator[str]:
    """What the cook must judge anew, each in one sentence with its place."""
    if factor == 1:
        return
    for number, step in enumerate(recipe.steps, 1):
        for span in step.spans:
            if isinstance(span, Measured):
                yield from _stays_in_step(number, span)
    for item, words in kept_in_list(recipe):
        yield f"list: “{words}” beside {item} did not scale"
    raised = [line.item for line in recipe.ingredients if role_class(line.food) in {"leavener", "yeast"}]
    if raised and factor >= LARGE_BATCH:
        names = " and ".join(dict.fromkeys(raised))
        yield f"{names}: large batches often need less in proportion; try it first"
    salted = [line.item for line in recipe.ingredients if role_class(line.food) == "salt"]
    if salted and factor >= LARGE_BATCH:
        yield "salt and spices: hold some back, and season to taste"
    times = decimal_text(round(factor, 2))
    yield f"trial: nobody has made it at {times} times yet; cook it once before it is printed"


def kept_in_list(recipe: Recipe) -> Iterator[tuple[str, str]]:
    """Remarks of the list whose amount does not follow the factor, each with the line's food.

    ("granulated sugar", "plus 1 tablespoon for sprinkling"); lengths and numbers of pieces cut are left out.
    """
    for line in recipe.ingredients:
        remarks = [part.strip() for part in line.prep.split(",")]
        scales = {extra.text for extra in line.extras}
        for words in (
            *(remark for remark in remarks if remark not in scales),
            *(f"or {alternative}" for alternative in line.alternatives),
        ):
            spans = spans_of(recipe, words, line.where)
            measured = any(
                isinstance(span, Measured) and span.quantity.dimension in WEIGHED for span in spans
            )
            if measured or _adds_pieces(spans):
                yield line.item, words


def _adds_pieces(spans: tuple[Span, ...]) -> bool:
    """``plus 2 for the top``: a number behind the first word."""
    match spans:
        case (Words(text=first), Measured() | Told() | Unread(), *_):
            return first.strip() in _ADDING
        case _:
            return False


def _stays_in_step(number: int, span: Measured) -> Iterator[str]:
    dimension = span.quantity.dimension
    if dimension is Dimension.DURATION:
        yield f"step {number}: {span.text.strip()} is for the author's batch; go by the cue"
    elif dimension is Dimension.LENGTH:
        yield f"step {number}: {span.text.strip()} stays; see that pan and pieces still fit the batch"
    elif dimension in WEIGHED:
        yield f"step {number}: {span.text.strip()} is tied to no ingredient and did not scale"
