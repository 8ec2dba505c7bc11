"""What a batch, a portion and a piece cost: prices of the edible part, losses, effects of a price change."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from cardsmith.bench.wording import figure, share
from cardsmith.frozen import frozen
from cardsmith.measure.units import Dimension
from cardsmith.portion.estimate import Estimate
from cardsmith.portion.finished import Finished
from cardsmith.portion.portion_file import key_of
from cardsmith.portion.prices import NO_PRICES, Price, PriceList
from cardsmith.portion.shares import LineShare
from cardsmith.recipe.model import Ingredient

SWING = Fraction(1, 10)  # the change in one price whose effect is shown
FREE = ("water", "ice")  # from the tap; larder keys


@frozen
class CostLine:
    """One ingredient of the list; lines of one food are one line."""

    item: str
    bought: Fraction  # g as bought
    price: Price
    cost: Fraction  # of the batch, in the list's currency
    working: str
    swing: Fraction  # what ± 10 % of its price makes of a portion (of the batch, where none is known)


@frozen
class Cost:
    """One batch. Where ``missing`` names anything, every sum is incomplete: the least it costs."""

    currency: str
    lines: tuple[CostLine, ...]  # the dearest first
    missing: tuple[str, ...]  # items without a price
    unweighed: tuple[str, ...]  # items without a weight, whose cost can't be calculated
    batch: Fraction
    portion: Estimate | None
    piece: Estimate | None
    oldest: str  # year-month-day of the oldest price used; empty where none was
    newest: str
    food_cost: Fraction  # the share of the selling price that food may cost
    asked: Fraction | None  # the selling price of a portion at that share

    @property
    def is_complete(self) -> bool:
        """Whether everything bought has its price."""
        return not (self.missing or self.unweighed)


def cost(
    shares: tuple[LineShare, ...],
    finished: Finished,
    prices: PriceList = NO_PRICES,
    food_cost: Fraction = Fraction(3, 10),
) -> Cost:
    """The cost of a batch. Tap water is free; of frying oil only what is eaten is paid for.

    A missing price is named, never taken as zero.
    """
    lines: list[CostLine] = []
    missing: list[str] = []
    for key, group in _grouped(shares):
        if key in FREE:
            continue
        price = prices.get(key)
        item = group[0].line.item
        if price is None:
            missing.append(item)
            continue
        worked = [_line(line_share, price) for line_share in group]
        known = [figures for figures in worked if figures is not None]
        if len(known) < len(worked):
            missing.append(item)
            continue
        lines.append(
            CostLine(
                item=item,
                bought=sum((grams for grams, _, _ in known), start=Fraction(0)),
                price=price,
                cost=sum((spent for _, spent, _ in known), start=Fraction(0)),
                working="; ".join(dict.fromkeys(text for _, _, text in known)),
                swing=Fraction(0),
            )
        )
    batch = sum((line.cost for line in lines), start=Fraction(0))
    portions, pieces = finished.portions, finished.pieces
    each = portions.likely if portions else Fraction(1)
    dated = sorted(line.price.date for line in lines)
    portion = _over(batch, portions)
    return Cost(
        currency=prices.currency,
        lines=tuple(
            replace(line, swing=line.cost * SWING / each)
            for line in sorted(lines, key=lambda line: (-line.cost, line.item))
        ),
        missing=tuple(missing),
        unweighed=tuple(
            line_share.line.item
            for line_share in shares
            if not line_share.is_counted and not line_share.line.optional
        ),
        batch=batch,
        portion=portion,
        piece=_over(batch, pieces) if pieces and pieces.likely > 1 else None,
        oldest=dated[0] if dated else "",
        newest=dated[-1] if dated else "",
        food_cost=food_cost,
        asked=portion.likely / food_cost if portion else None,
    )


def _over(batch: Fraction, of: Estimate | None) -> Estimate | None:
    if of is None or not of.likely:
        return None
    whole = Estimate(low=batch, likely=batch, high=batch)
    return whole.over(of)


def _grouped(shares: tuple[LineShare, ...]) -> Iterator[tuple[str, list[LineShare]]]:
    by_food: dict[str, list[LineShare]] = {}
    for line_share in shares:
        if line_share.is_counted:
            by_food.setdefault(key_of(line_share.line), []).append(line_share)
    yield from by_food.items()


def _line(line_share: LineShare, price: Price) -> tuple[Fraction, Fraction, str] | None:
    """Grams as bought, their cost, and the working; None where the pack and the line can't be compared."""
    edible, trim, notes = line_share.edible, line_share.trim, ""
    if price.trim is not None:
        trim, notes = price.trim, f", {share(price.trim)} trim by the price list"
    elif trim:
        notes = f", {share(trim)} trim"
    bought = line_share.bought if price.trim is None else edible / (1 - trim)
    if _is_frying(line_share):
        bought, notes = line_share.eaten.likely, ", by what the food takes up"
    if price.per_gram is not None:
        spent = bought * price.per_gram
        text = f"{figure(bought)} g{notes} at {money(price.price, price.currency)} for {price.pack}"
        return bought, spent, text
    count = _count(line_share.line)
    if count is None and price.grams_of_one:
        count = edible / price.grams_of_one
    if count is None or price.per_one is None:
        return None
    text = f"{figure(count, 2)} at {money(price.price, price.currency)} for {price.pack}"
    return bought, count * price.per_one, text


def _is_frying(line_share: LineShare) -> bool:
    return line_share.eaten.likely < line_share.edible and any(
        "deep frying" in note for note in line_share.notes
    )


def _count(line: Ingredient) -> Fraction | None:
    """How many pieces the line asks for, where it counts whole ones."""
    for size in (line.amount, *line.stated):
        if size is not None and size.dimension is Dimension.COUNT and size.unit.name == "one":
            return size.middle
    return None


def money(amount: Fraction, currency: str, places: int = 2) -> str:
    """``2.45 USD``; halves round up, and a positive amount never prints as zero."""
    cents = math.floor(amount * 10**places + Fraction(1, 2))
    if amount and not cents:
        return money(amount, currency, places + 1)
    whole, part = divmod(cents, 10**places)
    return f"{whole}.{part:0{places}d} {currency}".strip()
