"""What a kitchen weighed of a food, once or often: "1 cup, crumbled = 118 g, 121 g, 120 g".

    weighed = measure ["," form] "=" weight { "," weight }

>>> one = weighed_in("1 cup, crumbled = 118 g, 121 g, 120 g")
>>> one.measure, one.form, one.told
('cup', 'crumbled', '1 cup, crumbled = 119.7 g (n = 3, 118 to 121 g, standard deviation 1.5 g)')
>>> weighed_in("2 large = 96 g").told
'2 large = 96 g'
"""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from cardsmith.finding import CardsmithError, Where
from cardsmith.frozen import frozen
from cardsmith.language.quantities import read_count, read_quantity
from cardsmith.measure.food_words import form_of_words
from cardsmith.measure.larder import words
from cardsmith.measure.units import Dimension, units
from cardsmith.measure.weighing import VOLUMES

LIKE = "1 cup, crumbled = 118 g, 121 g, 120 g"
COLUMNS = ("food", "weighed")  # of a kitchen's own list of weighings; others are its own business
_NOWHERE = Where(file="")


@frozen
class Weighed:
    """The weighings of one measure of a food in one form, each in grams."""

    form: str
    measure: str  # cup, one, large, can
    amount: Fraction
    grams: tuple[Fraction, ...]

    @property
    def mean(self) -> Fraction:
        """To a tenth of a gram where there are several."""
        whole = sum(self.grams, Fraction(0)) / len(self.grams)
        return whole if len(self.grams) == 1 else Fraction(round(whole * 10), 10)

    @property
    def deviation(self) -> float | None:
        """The standard deviation of the sample, in grams; None of one weighing."""
        count = len(self.grams)
        mean = sum(self.grams, Fraction(0)) / count
        squares = sum(((grams - mean) ** 2 for grams in self.grams), Fraction(0))
        return math.sqrt(squares / (count - 1)) if count > 1 else None

    @property
    def spread(self) -> str:
        """How often it was weighed and how far the weighings stand apart; empty of one weighing."""
        if self.deviation is None:
            return ""
        return f"n = {len(self.grams)}, standard deviation {self.deviation:.2g} g"

    @property
    def what(self) -> str:
        """What was weighed: ``1 cup, crumbled``."""
        return f"{_shown(self.amount)} {self.measure}{f', {self.form}' if self.form else ''}"

    @property
    def told(self) -> str:
        """All of it in words."""
        ends = f"{_shown(min(self.grams))} to {_shown(max(self.grams))} g"
        count, _, deviation = self.spread.partition(", ")
        return f"{self.what} = {_shown(self.mean)} g" + (f" ({count}, {ends}, {deviation})" if count else "")


def weighed_in(text: str) -> Weighed:
    """What ``text`` says was weighed.

    Raises:
        CardsmithError: why it can't be read.
    """
    what, equals, weights = text.partition("=")
    if not equals:
        raise CardsmithError(f"{text!r} says no weight; write {LIKE!r}")
    grams = tuple(_grams(weight, text) for weight in _with_units(weights))
    return replace(_measured(what.strip(), text), grams=grams)


def _with_units(weights: str) -> Iterator[str]:
    """Each weight with its unit, which may stand behind the last alone."""
    pieces = [piece.strip() for piece in weights.split(",")]
    unit = "".join(letter for letter in pieces[-1] if letter.isalpha())
    yield from (piece if piece[-1:].isalpha() else f"{piece} {unit}" for piece in pieces)


def _grams(weight: str, text: str) -> Fraction:
    quantity, _ = read_quantity(weight, _NOWHERE)
    if quantity is None or quantity.is_range or quantity.dimension is not Dimension.MASS or not quantity.low:
        raise CardsmithError(
            f"{weight!r} in {text!r} is not a weight; write each weighing by itself: {LIKE!r}"
        )
    return quantity.low


def _measured(what: str, text: str) -> Weighed:
    """The measure that was weighed, without its weights."""
    amount, _, words_behind = what.partition(",")
    amount_words = amount.split()
    for end in range(len(amount_words), 0, -1):
        form = " ".join((*amount_words[end:], words_behind)).strip()
        named = form_of_words(form)
        if form and not named:
            continue
        first = " ".join(amount_words[:end])
        if counted := read_count(first):
            return Weighed(form=named, measure=counted[1] or "one", amount=counted[0], grams=())
        quantity, _faults = read_quantity(first, _NOWHERE)
        if quantity is not None and not quantity.is_range and quantity.low:
            known = quantity.dimension is not Dimension.VOLUME or quantity.unit.name in VOLUMES
            unit = quantity.unit if known else units()["millilitre"]  # a metric cup is 250 of these
            return Weighed(form=named, measure=unit.name, amount=quantity.low / unit.size, grams=())
    raise CardsmithError(f"{what!r} in {text!r} is not a measure in a known form; write {LIKE!r}")


def weighings(data: bytes, file: str, food: str) -> tuple[Weighed, ...]:
    """The weighings of a food in a kitchen's list of them: a CSV file with the columns food and weighed.

    Those of one measure in one form are taken together.

    Raises:
        CardsmithError: the file can't be read, or has none of this food.
    """
    try:
        reader = csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline=""))
    except UnicodeDecodeError as fault:
        raise CardsmithError(f"{file} is not UTF-8; save it as UTF-8") from fault
    if not set(COLUMNS) <= set(reader.fieldnames or ()):
        raise CardsmithError(f"{file}: write the columns {' and '.join(COLUMNS)} in its first line")
    weighings: dict[tuple[str, str, Fraction], Weighed] = {}
    for row in reader:
        if words(row["food"] or "") != words(food):
            continue
        try:
            weighed = weighed_in(row["weighed"] or "")
        except CardsmithError as fault:
            raise CardsmithError(f"{file}:{reader.line_num}: {fault}") from fault
        key = (weighed.form, weighed.measure, weighed.amount)
        before = weighings.get(key)
        weighings[key] = replace(weighed, grams=(*before.grams, *weighed.grams)) if before else weighed
    if not weighings:
        raise CardsmithError(f"{file} has no weighing of {food!r}; write it as in your list")
    return tuple(weighings.values())


def _shown(number: Fraction) -> str:
    return f"{float(number):.6g}"
