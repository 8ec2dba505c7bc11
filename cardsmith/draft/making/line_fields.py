"""A line of a list as amount, food and preparation, for an ingredient that has a key."""

from __future__ import annotations

from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.tokens import tokenize


def in_fields(line: str) -> tuple[str, str, str]:
    """The amount, the food and the preparation that a line names, which joined are the line again.

    >>> in_fields("70 g sesame seeds, toasted"), in_fields("2 (400 g) cans beans")
    (('70 g', 'sesame seeds', 'toasted'), ('2 (400 g) cans', 'beans', ''))
    >>> in_fields("½ cup (79 g) olive oil"), in_fields("salt")
    (('½ cup (79 g)', 'olive oil', ''), ('', 'salt', ''))
    """
    tokens = tokenize(line)
    amount = amount_at(tokens, 0)
    end = amount.end if amount is not None and amount.quantity is not None else 0
    if amount is not None and end and tokens[end].text == "(":
        inner = amount_at(tokens, end + 1)
        if inner is not None and inner.quantity is not None and tokens[inner.end].text == ")":
            end = inner.end + 1
            end += not amount.has_unit and unit_at(tokens, end) is not None  # 2 (400 g) cans
    start = tokens[end].start if end < len(tokens) else len(line)
    food, _, prep = line[start:].partition(", ")
    return line[:start].strip(), food.strip(), prep.strip()
