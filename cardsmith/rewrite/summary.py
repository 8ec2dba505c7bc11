"""What stands around the lists: yield, times, allergens, and how closely the two columns agree."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.house import SYSTEMS, House
from cardsmith.language.line_foods import alternative_foods
from cardsmith.language.prose import read_prose
from cardsmith.language.spans import Measured
from cardsmith.measure.larder import Food, Larder
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.model import Ingredient, Recipe, Text
from cardsmith.rewrite.card import Dual
from cardsmith.rewrite.dual import single_dual
from cardsmith.rewrite.length import length_text
from cardsmith.rewrite.printable import Subject
from cardsmith.rewrite.prose import own_text, rewrite_spans

MINUTE, HOUR, DAY = 60, 3600, 86400


def yield_texts(recipe: Recipe, house: House) -> tuple[str, str]:
    """``Makes 60 crackers (about ¼ oz / 7 g each)`` and ``Serves 4 to 6``; empty where none was given.

    The size of one stands with what is counted: with the pieces, else with the servings.
    """
    yields = recipe.yields
    if yields is None:
        return "", ""
    makes = serves = ""
    if yields.makes:
        makes = f"Makes {both_systems(yields.makes.text, yields.makes.where, recipe, house)}"
    if yields.serves:
        serves = f"Serves {yields.serves.text}"
    if yields.piece:
        size = _size(yields.piece, house)
        if makes and not _is_measured(recipe, yields.makes):
            makes += f" ({size})" if yields.makes_count == 1 else f" ({size} each)"
        elif serves:
            serves += f" ({size} each)"
    return makes, serves


def _is_measured(recipe: Recipe, makes: Text | None) -> bool:
    """Whether the yield is an amount (2 cups), which has no size of one."""
    spans = read_prose(makes.text, makes.where, System(recipe.measures)) if makes else ()
    return bool(spans) and isinstance(spans[0], Measured)


def _size(piece: Quantity, house: House) -> str:
    """``about ¼ oz / 7 g``."""
    texts = piece_texts(piece, house)
    return "about " + " / ".join(dict.fromkeys(texts[system] for system in house.order))


def piece_texts(piece: Quantity, house: House) -> dict[str, str]:
    """The size of one by system: the author's figure as it was weighed, and the other where it comes near."""
    if piece.dimension is Dimension.LENGTH:
        texts = {system: length_text(piece, system, long=True) for system in SYSTEMS}
    else:
        subject = Subject(exact=piece.middle, dimension=piece.dimension, unit=piece.unit, food=None)
        dual = single_dual(subject, piece.written, house)
        texts = {"us": dual.us.text if dual.us else "", "metric": dual.metric.text if dual.metric else ""}
        own = own_text(piece, long=False)
        if own:
            texts["us" if piece.unit.system is System.US else "metric"] = own
        if dual.us and dual.us.text.endswith(("g", "ml")):  # no US measure comes near: the weight says it
            texts["us"] = texts["metric"]
    return texts


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


def allergens(lines: Iterable[Ingredient], market: str, larder: Larder) -> tuple[str, ...]:
    """The classes of ``market`` (us, eu) that the list holds, in alphabetical order.

    A class that only a label can settle (``?`` in the larder), or that comes with an alternative only, is
    given as ``possibly …``.
    """
    sure: set[str] = set()
    perhaps: set[str] = set()
    for line in lines:
        for name in _classes(line.food, market):
            (perhaps if name.startswith("?") else sure).add(name.removeprefix("?"))
        for other in alternative_foods(line.alternatives, larder):
            perhaps |= {name.removeprefix("?") for name in _classes(other, market)}
    return (*sorted(sure), *(f"possibly {name}" for name in sorted(perhaps - sure)))


def _classes(food: Food | None, market: str) -> tuple[str, ...]:
    if food is None:
        return ()
    return food.us_allergens if market == "us" else food.eu_allergens


def unknown_foods(lines: Iterable[Ingredient]) -> tuple[str, ...]:
    """The items that the larder doesn't know, so that nobody can say what allergens they hold."""
    return tuple(dict.fromkeys(line.item for line in lines if line.food is None))


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
    worst = max(drift.values())
    ratios = f"no ratio of the formula moves by more than {_percent(worst)}" if worst else ""
    return "; ".join(said for said in (lines, ratios) if said) + "."


def _percent(share: Fraction) -> str:
    """Upwards to a tenth, so that the statement is never better than the numbers."""
    tenths = -((-share.numerator * 1000) // share.denominator)
    return f"{tenths / 10:.1f} %"
