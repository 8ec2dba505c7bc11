"""What several checks ask of one line: its sizes, its acidity, whether it is poured by the cup."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.recipe.model import Ingredient

LARGE = units()["cup"].size / 4  # from here on a thing is measured by the cup


def sizes(line: Ingredient) -> tuple[Quantity, ...]:
    """Every size written for the line's amount."""
    return (line.amount, *line.stated) if line.amount is not None else line.stated


def acidities(line: Ingredient) -> tuple[Fraction, ...]:
    """The strengths that a line of vinegar gives, in per cent."""
    sour = {"", "acidity", "acid", "vinegar"}
    return tuple(
        reading.high
        for reading in readings(line.text)
        if reading.kind in (Kind.PERCENT, Kind.NAME) and sour & {reading.noun, *reading.noun.split()}
    )


def only_volume(line: Ingredient) -> Quantity | None:
    """The volume of a line that has no weight and no count beside it."""
    if line.amount is None or line.amount.dimension is not Dimension.VOLUME or line.amount.is_vague:
        return None
    return (
        None if any(quantity.dimension is not Dimension.VOLUME for quantity in line.stated) else line.amount
    )
