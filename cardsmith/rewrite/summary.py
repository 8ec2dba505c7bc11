"""What stands around the lists: yield, times, allergens, and how closely the two columns agree."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.house import House
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.recipe.prose import read_prose
from cardsmith.rewrite.card import Dual
from cardsmith.rewrite.dual import single_dual
from cardsmith.rewrite.length import length_text
from cardsmith.rewrite.printable import Subject
from cardsmith.rewrite.prose import rewrite_spans

MINUTE, HOUR, DAY = 60, 3600, 86400


def makes_text(recipe: Recipe, house: House) -> str:
    """``Makes 60 crackers (about ¼ oz / 6.5 g each)``; empty where the author gave none."""
    yields = recipe.yields
    if yields is None or yields.makes is None:
        return ""
    text = both_systems(yields.makes.text, yields.makes.where, recipe, house)
    each = f" ({_each(yields.piece, house)} each)" if yields.piece else ""
    return f"Makes {text}{each}"


def _each(piece: Quantity, house: House) -> str:
    first = house.order[0]
    if piece.dimension is Dimension.LENGTH:
        texts = {system: length_text(piece, system, long=True) for system in ("us", "metric")}
    else:
        subject = Subject(exact=piece.middle, dimension=piece.dimension, unit=piece.unit, food=None)
        dual = single_dual(subject, piece.written, house)
        texts = {"us": dual.us.text if dual.us else "", "metric": dual.metric.text if dual.metric else ""}
    us, metric = texts["us"], texts["metric"]
    both = [us, metric] if first == "us" else [metric, us]
    return "about " + " / ".join(dict.fromkeys(both))


def serves_text(recipe: Recipe) -> str:
    """``Serves 4 to 6``; empty where the author gave none."""
    yields = recipe.yields
    return f"Serves {yields.serves.text}" if yields and yields.serves else ""


def both_systems(text: str, where: Where, recipe: Recipe, house: House) -> str:
    """A plain text with its measures in both systems."""
    return "".join(
        span.text for span in rewrite_spans(read_prose(text, where, System(recipe.measures)), {}, house)
    )


def duration_text(seconds: Quantity | None) -> str:
    """``1 hour 40 minutes``; a range keeps both ends."""
    if seconds is None:
        return ""
    if not seconds.is_range:
        return _clock(seconds.low)
    low, high = _clock(seconds.low), _clock(seconds.high)
    number, _, unit = low.partition(" ")
    if unit.removesuffix("s") == high.partition(" ")[2].removesuffix("s"):
        return f"{number} to {high}"
    return f"{low} to {high}"


def _clock(seconds: Fraction) -> str:
    left = int(seconds)
    said: list[str] = []
    for size, word in ((DAY, "day"), (HOUR, "hour"), (MINUTE, "minute")):
        number, left = divmod(left, size)
        if number:
            said.append(f"{number} {word}{'s' if number > 1 else ''}")
    return " ".join(said) or f"{left} seconds"


def allergens(lines: Iterable[Ingredient], market: str) -> tuple[str, ...]:
    """The classes of ``market`` (us, eu) that the list holds, in alphabetical order.

    A class that only a label can settle (``?`` in the larder) is given as ``possibly …``.
    """
    sure: set[str] = set()
    perhaps: set[str] = set()
    for line in lines:
        if line.food is None:
            continue
        for name in line.food.us_allergens if market == "us" else line.food.eu_allergens:
            (perhaps if name.startswith("?") else sure).add(name.removeprefix("?"))
    return (*sorted(sure), *(f"possibly {name}" for name in sorted(perhaps - sure)))


def agreement(amounts: Mapping[Where, Dual], drift: Mapping[str, Fraction]) -> str:
    """``US and metric agree within 2.4 % on every line; no ratio moves by more than 2.1 %.``"""
    gaps = [
        abs((1 + dual.us_error) / (1 + dual.metric_error) - 1)
        for dual in amounts.values()
        if dual.us_error is not None and dual.metric_error is not None
    ]
    if not gaps:
        return ""
    lines = f"US and metric agree within {_percent(max(gaps))} on every line"
    return f"{lines}; no ratio of the formula moves by more than {_percent(max(drift.values()))}."


def _percent(share: Fraction) -> str:
    """Upwards to a tenth, so that the statement is never better than the numbers."""
    tenths = -((-share.numerator * 1000) // share.denominator)
    return f"{tenths / 10:.1f} %"
