"""A row of a table as one line: amount, food, note, in the order of a list of ingredients."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardsmith.draft.sorting.readings import is_unit
from cardsmith.frozen import frozen
from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.figures.numbers import number_at
from cardsmith.language.tokens import tokenize
from cardsmith.measure.larder import Larder
from cardsmith.regex import regex

_NAMES = {
    "amount": regex(
        r"(?i)(?:amounts?|quantit(?:y|ies)|qty|weights?|volumes?|metric|us|imperial|measures?|how much)\.?"
    ),
    "food": regex(r"(?i)(?:ingredients?|items?|foods?|what|products?|materials?)"),
    "note": regex(r"(?i)(?:notes?|remarks?|preparation|prep|comments?|how)"),
}
# What stands in place of an amount; a list has it behind the food.
_VAGUE = frozenset(
    {"to taste", "as needed", "as required", "to serve", "for serving", "for dusting", "to finish", "q.s."}
)
_SHARES = ("%", "percent", "per cent", "percentage")  # of the flour; no amount of anything


@frozen
class TableColumn:
    """What the cells of a column hold: amount, food, note or share, and the unit that all are in."""

    holds: str
    unit: str = ""


def headed(cells: tuple[str, ...]) -> tuple[TableColumn, ...]:
    """What each column holds, where a row names columns; none where it names none.

    >>> [column.holds for column in headed(("Qty", "Ingredient", ""))], headed(("200 g", "flour"))
    (['amount', 'food', 'note'], ())
    >>> headed(("Ingredient", "Weight (grams)"))[1]
    TableColumn(holds='amount', unit='grams')
    """
    columns = tuple(_column(cell.strip(" :")) for cell in cells)
    written = sum(map(bool, cells))
    holds = [column.holds for column in columns if column.holds]
    if not holds or (len(holds) < written and (written < 3 or not {"food", "amount"} <= set(holds))):
        return ()
    return tuple(column if column.holds else TableColumn(holds="note") for column in columns)


def _column(cell: str) -> TableColumn:
    for name, pattern in _NAMES.items():
        if pattern.fullmatch(cell):
            return TableColumn(holds=name)
    if cell.lower().endswith(_SHARES):
        return TableColumn(holds="share")
    *words, last = cell.replace("(", " ").replace(")", " ").replace(",", " ").split() or [""]
    name = " ".join(words)
    if is_unit(last) and (not name or _NAMES["amount"].fullmatch(name)):
        return TableColumn(holds="amount", unit=last)
    return TableColumn(holds="")


def in_one_line(cells: tuple[str, ...], head: tuple[TableColumn, ...], larder: Larder) -> str:
    """The cells of a row as a line; just put side by side where they are no amount and food.

    >>> from cardsmith.measure.larder import load_larder
    >>> in_one_line(("rye flour", "200 g", "sifted"), (), load_larder())
    '200 g rye flour, sifted'
    >>> in_one_line(("200 g", "1⅔ cups", "rye flour"), (), load_larder())
    '200 g (1⅔ cups) rye flour'
    >>> in_one_line(("to taste", "flaky salt"), (), load_larder())
    'flaky salt, to taste'
    >>> in_one_line(("Rye flour", "1.5", "kg"), headed(("Item", "Qty", "Unit")), load_larder())
    '1.5 kg Rye flour'
    >>> in_one_line(("Rye flour", "350", "100 %"), headed(("Item", "grams", "%")), load_larder())
    '350 grams Rye flour'
    """
    written = [cell for cell in cells if cell]
    if len(cells) <= len(head):
        amounts = list(_under(cells, head, "amount"))
        others = [*_under(cells, head, "food"), *_under(cells, head, "note")]
    else:
        amounts = [cell for cell in written if _is_amount(cell)]
        others = [cell for cell in written if not _is_amount(cell)]
    amounts, others = _with_units(amounts, others)
    if not others or len(amounts) > 2:
        return " ".join(written)
    if not amounts and len(others) > 1 and others[0].lower() in _VAGUE:
        return ", ".join((*others[1:], others[0]))
    if not amounts and larder.find(others[0]) is None:
        return " ".join(written)
    if amounts and number_at(tokenize(amounts[0]), 0) is None:  # "as needed" follows the food
        return ", ".join((*others, *amounts))
    second = f" ({amounts[1]})" if len(amounts) == 2 else ""
    lead = f"{amounts[0]}{second} " if amounts else ""
    return lead + ", ".join(others)


def _with_units(amounts: list[str], others: list[str]) -> tuple[list[str], list[str]]:
    """The amounts, a bare number with the unit that has a cell of its own, and the other cells."""
    units = [cell for cell in others if is_unit(cell.rstrip("."))]
    if len(amounts) != 1 or len(units) != 1 or not _is_number(amounts[0]) or len(others) < 2:
        return amounts, others
    return [f"{amounts[0]} {units[0]}"], [cell for cell in others if cell != units[0]]


def _under(cells: Sequence[str], head: Sequence[TableColumn], holds: str) -> Iterator[str]:
    """The cells that hold a thing, a bare number with the unit that stands above it."""
    for cell, column in zip(cells, head, strict=False):
        if column.holds == holds and cell:
            yield f"{cell} {column.unit}" if column.unit and _is_number(cell) else cell


def _is_number(text: str) -> bool:
    tokens = tokenize(text)
    number = number_at(tokens, 0)
    return number is not None and number.end == len(tokens)


def _is_amount(text: str) -> bool:
    """Whether all of a cell is an amount."""
    tokens = tokenize(text)
    amount = amount_at(tokens, 0)
    return amount is not None and amount.quantity is not None and amount.end == len(tokens)


def goes_on(cells: tuple[str, ...], before: tuple[str, ...]) -> bool:
    """Whether a row holds the rest of the amounts of the row before it, and nothing else.

    >>> goes_on(("", "1½ qt."), ("Milk", "1 to")), goes_on(("Salt", "1 tsp."), ("Milk", "1 to"))
    (True, False)
    """
    filled = [at for at, cell in enumerate(cells) if cell]
    return (
        len(cells) == len(before)
        and all(before[at] and _is_amount(cells[at]) for at in filled)
        and any(before[at] for at in range(len(cells)) if at not in filled)
        and bool(filled)
    )


def joined(rows: Sequence[tuple[str, ...]]) -> tuple[str, ...]:
    """Rows of which each goes on with the one before it as one row."""
    return tuple(" ".join(filter(None, cells)) for cells in zip(*rows, strict=True))
