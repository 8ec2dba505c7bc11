"""What the ounces on a label are: of a bottle of ale fluid ones, of a can of beans a weight.

US labels give the contents of a liquid food in fluid measure (21 CFR 101.7(a)); canned stock, and sauces by
long usage, in weight (the same paragraph allows it; that these do: common practice, no source).
"""

from __future__ import annotations

from dataclasses import replace

from cardsmith.language.line.read import Line
from cardsmith.language.line.statements import Statement
from cardsmith.language.spans import Share
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System, units

BY_WEIGHT = ("stock", "condiment", "egg", "egg-white")  # roles of what is poured and yet sold by weight


def as_labelled(line: Line, measures: System) -> Line:
    """``line`` with the ounces that each of its bottles or cans of a drink holds as fluid ounces."""
    food = line.match.food if line.match else None
    drink = food is not None and food.state == "liquid" and not any(map(food.share, BY_WEIGHT))
    held = line.main is not None and line.main.quantity.unit.system is System.CONTAINER
    if not (drink and held) or measures is not System.US:
        return line
    ounces = any(map(_is_ounces_each, line.statements))
    weighed = any(_is_other_weight(statement.quantity) for statement in line.statements)
    return replace(line, statements=tuple(map(_fluid, line.statements))) if ounces and not weighed else line


def _is_ounces_each(statement: Statement) -> bool:
    return statement.share is Share.EACH and statement.quantity.unit.name == "ounce"


def _is_other_weight(amount: Quantity) -> bool:
    return amount.dimension is Dimension.MASS and amount.unit.name != "ounce"


def _fluid(statement: Statement) -> Statement:
    if not _is_ounces_each(statement):
        return statement
    amount = statement.quantity
    fluid = units()["fluid ounce"]
    low, high = (fluid.to_base(amount.unit.from_base(end)) for end in (amount.low, amount.high))
    return replace(statement, quantity=replace(amount, low=low, high=high, unit=fluid))
