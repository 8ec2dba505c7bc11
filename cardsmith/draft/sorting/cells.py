"""A row of a table as one line: amount, food, note, in the order of a list of ingredients."""

from __future__ import annotations

from cardsmith.language.figures.amounts import amount_at
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


def headed(cells: tuple[str, ...]) -> tuple[str, ...]:
    """What each column holds, where a row names columns: amount, food, note; none where it names none.

    >>> headed(("Qty", "Ingredient", "")), headed(("200 g", "flour"))
    (('amount', 'food', 'note'), ())
    """
    told = tuple(
        next((name for name, pattern in _NAMES.items() if pattern.fullmatch(cell.strip(" :"))), "")
        for cell in cells
    )
    written = sum(map(bool, cells))
    known = sum(map(bool, told))
    if not known or (known < written and (written < 3 or "food" not in told or "amount" not in told)):
        return ()
    return tuple(name or "note" for name in told)


def in_one_line(cells: tuple[str, ...], head: tuple[str, ...], larder: Larder) -> str:
    """The cells of a row as a line; just put side by side where they are no amount and food.

    >>> from cardsmith.measure.larder import load_larder
    >>> in_one_line(("rye flour", "200 g", "sifted"), (), load_larder())
    '200 g rye flour, sifted'
    >>> in_one_line(("200 g", "1⅔ cups", "rye flour"), (), load_larder())
    '200 g (1⅔ cups) rye flour'
    """
    written = [cell for cell in cells if cell]
    amounts = [cell for cell in written if _is_amount(cell)]
    others = [cell for cell in written if not _is_amount(cell)]
    if head and len(head) == len(cells):
        amounts = [cell for cell, name in zip(cells, head, strict=True) if name == "amount" and cell]
        foods = [cell for cell, name in zip(cells, head, strict=True) if name == "food" and cell]
        notes = [cell for cell, name in zip(cells, head, strict=True) if name == "note" and cell]
        others = [*foods, *notes]
    if not others or len(amounts) > 2:
        return " ".join(written)
    if not amounts and larder.find(others[0]) is None:
        return " ".join(written)
    second = f" ({amounts[1]})" if len(amounts) == 2 else ""
    lead = f"{amounts[0]}{second} " if amounts else ""
    return lead + ", ".join(others)


def _is_amount(text: str) -> bool:
    """Whether all of a cell is an amount."""
    tokens = tokenize(text)
    found = amount_at(tokens, 0)
    return found is not None and found.quantity is not None and found.end == len(tokens)
