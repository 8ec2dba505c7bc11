"""The price list: one CSV row a pack, and what a gram of an ingredient costs by it. Exact."""

from __future__ import annotations

import csv
import datetime
import io
from collections.abc import Iterator, Mapping
from fractions import Fraction

from cardsmith.finding import Finding, Where, error
from cardsmith.frozen import frozen
from cardsmith.language.quantities import read_count, read_number, read_percent, read_quantity
from cardsmith.measure.larder import Food, Larder
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension
from cardsmith.measure.weighing import density, weight_of_one
from cardsmith.recipe.file.tree import UNSEEN
from cardsmith.recipe.schema.kinds import Record, TextKind, entry
from cardsmith.regex import regex

PRICES = Record(
    fields=(
        entry("ingredient", TextKind(), "What is bought, by the larder's name.", "carrots", required=True),
        entry("price", TextKind(), "Of the whole pack, without its currency.", "1.80", required=True),
        entry("pack", TextKind(), "How much it holds: a weight, a volume or a count.", "2 lb", required=True),
        entry("currency", TextKind(), "By ISO 4217; one for the whole list.", "USD", required=True),
        entry("supplier", TextKind(), "Where it is bought.", "market", required=True),
        entry("date", TextKind(), "The day of the price: year, month, day.", "2026-09-28", required=True),
        entry("trim", TextKind(), "The share cut away, where it is not the usual one.", "10 %"),
        entry("note", TextKind(), "Anything else; nothing reads it.", "last of the season"),
    )
)
COLUMNS = tuple(column.name for column in PRICES.fields)
REQUIRED = tuple(column.name for column in PRICES.fields if column.required)
MAX_BYTES = 120_000  # bytes, some two thousand rows; csv refuses longer cells
_CURRENCY = regex(r"[A-Z]{3}")  # ISO 4217


@frozen
class Price:
    """One row: ``price`` of ``pack``, in the currency's main unit."""

    where: Where
    ingredient: str
    price: Fraction
    pack: str  # as written: 1.5 kg
    currency: str  # ISO 4217
    supplier: str
    date: str  # year-month-day
    trim: Fraction | None  # the supplier's own, where it differs from the larder's
    per_gram: Fraction | None  # by the gram as bought; None for a pack by count
    per_one: Fraction | None  # by the piece; None for a pack by weight
    grams_of_one: Fraction | None  # edible grams of a piece, by the larder
    basis: str  # how a volume or a count was weighed; empty for a weight


@frozen
class PriceList:
    """All prices, by the larder's key, else by the ingredient in lower case."""

    prices: Mapping[str, Price]
    currency: str  # the one currency of the list; empty where it holds none

    def get(self, key: str) -> Price | None:
        """The price of an ingredient."""
        return self.prices.get(key)


NO_PRICES = PriceList(prices={}, currency="")


def read_prices(data: bytes, file: str, larder: Larder) -> tuple[PriceList, tuple[Finding, ...]]:
    """The price list in the bytes of a CSV file, and every row that can't be used; nothing raises."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return NO_PRICES, (_fault(Where(file=file), "the file isn't UTF-8", "the same table saved as UTF-8"),)
    if len(data) > MAX_BYTES or "\0" in text:
        return NO_PRICES, (
            _fault(Where(file=file), "the file is not a price list", "a table of some hundred rows"),
        )
    if unseen := UNSEEN.search(text):
        where = Where(file=file, line=text.count("\n", 0, unseen.start()) + 1)
        what = f"an invisible character (U+{ord(unseen[0]):04X}) stands here"
        return NO_PRICES, (_fault(where, what, "the row without it; it most likely came along in pasting"),)
    reader = csv.DictReader(io.StringIO(text, newline=""))
    header = tuple(reader.fieldnames or ())
    lacking = [name for name in REQUIRED if name not in header]
    strange = [name for name in header if name not in COLUMNS]
    if lacking or strange:
        what = f"column {(lacking or strange)[0]!r} {'is missing' if lacking else 'is unknown'}"
        return NO_PRICES, (_fault(Where(file=file, line=1), what, f"the columns {', '.join(COLUMNS)}"),)
    findings: list[Finding] = []
    prices: dict[str, Price] = {}
    for row in reader:
        where = Where(file=file, line=reader.line_num, column=1)
        if None in row:  # a comma inside a cell that isn't quoted
            findings.append(
                _fault(where, "the row has more cells than columns", "quotes round a text with commas")
            )
            continue
        price, faults = _price(row, where, larder)
        findings += faults
        if price is None:
            continue
        key = _key(price.ingredient, larder)
        if key in prices:
            findings.append(
                _fault(where, f"{price.ingredient!r} has a price already", "one row an ingredient")
            )
        else:
            prices[key] = price
    currencies = sorted({price.currency for price in prices.values()})
    if len(currencies) > 1:
        what = f"prices in {' and '.join(currencies)} can't be added up"
        findings.append(_fault(Where(file=file, line=1), what, "one currency for the whole list"))
        return NO_PRICES, tuple(findings)
    return PriceList(prices=prices, currency="".join(currencies)), tuple(findings)


def _key(ingredient: str, larder: Larder) -> str:
    match = larder.find(ingredient)
    return match.food.key if match else ingredient.lower()


def _price(
    row: Mapping[str, str | None], where: Where, larder: Larder
) -> tuple[Price | None, tuple[Finding, ...]]:
    cells = {name: (row.get(name) or "").strip() for name in COLUMNS}
    faults = list(_faults(cells, where))
    if faults:
        return None, tuple(faults)
    match = larder.find(cells["ingredient"])
    food = match.food if match else None
    price = read_number(cells["price"]) or Fraction(0)
    trim = read_percent(cells["trim"])
    per_gram, per_one, grams_of_one, basis = _unit_price(price, cells["pack"], food, where)
    if per_gram is None and per_one is None:
        what = f"a pack of {cells['pack']} of {cells['ingredient']} has no weight that anybody knows"
        return None, (_fault(where, what, "the pack's weight: 1 kg"),)
    return Price(
        where=where,
        ingredient=cells["ingredient"],
        price=price,
        pack=cells["pack"],
        currency=cells["currency"],
        supplier=cells["supplier"],
        date=cells["date"],
        trim=trim[0] / 100 if trim else None,
        per_gram=per_gram,
        per_one=per_one,
        grams_of_one=grams_of_one,
        basis=basis,
    ), ()


def _unit_price(
    price: Fraction, pack: str, food: Food | None, where: Where
) -> tuple[Fraction | None, Fraction | None, Fraction | None, str]:
    """The price of a gram, of a piece, and what a piece weighs by the larder, with its source."""
    counted = read_count(pack)
    if counted and counted[0]:
        weighing = weight_of_one(food, "one", counted[1]) if food else None
        each = price / counted[0]
        return None, each, weighing.grams if weighing else None, weighing.basis if weighing else ""
    quantity, _ = read_quantity(pack, where)
    if quantity is None or quantity.is_range or not quantity.low:
        return None, None, None, ""
    return _by_size(price, quantity, food)


def _by_size(
    price: Fraction, quantity: Quantity, food: Food | None
) -> tuple[Fraction | None, Fraction | None, Fraction | None, str]:
    if quantity.dimension is Dimension.MASS:
        return price / quantity.low, None, None, ""
    if quantity.dimension is Dimension.VOLUME and food is not None:
        dense = density(food)
        if dense is not None:
            return price / (quantity.low * dense.grams), None, None, dense.basis
    return None, None, None, ""


def _faults(cells: Mapping[str, str], where: Where) -> Iterator[Finding]:
    for name in REQUIRED:
        if not cells[name]:
            yield _fault(where, f"{name} is missing", f"a row with {', '.join(REQUIRED)}")
            return
    if not read_number(cells["price"]):
        yield _fault(where, f"price {cells['price']!r} is not an amount of money", "such as 2.45")
    if not _CURRENCY.fullmatch(cells["currency"]):
        yield _fault(where, f"currency {cells['currency']!r} is not an ISO 4217 code", "such as USD")
    try:
        datetime.date.fromisoformat(cells["date"])
    except ValueError:
        yield _fault(where, f"date {cells['date']!r} can't be read", "year-month-day: 2026-03-01")
    trim = read_percent(cells["trim"])
    if cells["trim"] and (trim is None or trim[0] != trim[1] or trim[0] >= 100):
        yield _fault(where, f"trim {cells['trim']!r} is not a share", "per cent: 12 %")


def _fault(where: Where, what: str, instead: str) -> Finding:
    return error("price-unreadable", where, what, instead)
