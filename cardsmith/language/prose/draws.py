"""What a link draws from an ingredient: an amount, a share, the rest, or nothing but its name.

    draw = [lead] amount … | [lead] share … | … "rest" … | words
    lead = "the" | "another" | "remaining" | "other" …

>>> def draw(text):
...     return drawn(Run(text=text, places=(), target="#a"), HERE, "", System.US)[-1]
>>> draw("the remaining 20 g").amount.low, str(draw("half of the butter").share), draw("the rest").rest
(Fraction(20, 1), '1/2', True)
>>> draw("sesame").amount is None
True
"""

from __future__ import annotations

from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.language.commonmark import Run, place_of
from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.figures.numbers import Form, number_at
from cardsmith.language.spans import Draw, Span, Words
from cardsmith.language.tokens import Tokens, tokenize
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System

HERE = Where(file="")
_LEADS = frozenset("the another a further all remaining other last first".split())
_REST = frozenset("rest remaining remainder leftover".split())
_DRAWN = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.COUNT})


def drawn(run: Run, where: Where, source: str, measures: System) -> list[Span]:
    """The spans of a link; words before an amount stay words, so that the draw begins with its number."""
    text, key = run.text, run.target[1:]
    tokens = tokenize(text)
    begin = 0
    while tokens[begin].low in _LEADS:
        begin += 1
    amount = _amount(tokens, begin, measures)
    if amount is None and begin and tokens[begin - 1].low == "a":
        amount = _amount(tokens, begin - 1, measures)
        begin -= amount is not None
    if amount is not None:
        start = tokens[begin].start
        at = place_of(where, source, run.places[start] if run.places else 0)
        draw = Draw(where=at, text=text[start:], key=key, amount=amount)
        return [Words(text=text[:start]), draw] if start else [draw]
    rest = _is_rest(tokens)
    share = None if rest else _share(tokens, begin)
    at = place_of(where, source, run.places[0] if run.places else 0)
    return [Draw(where=at, text=text, key=key, share=share, rest=rest)]


def _is_rest(tokens: Tokens) -> bool:
    left = any(
        tokens.words(at, "left", "over") or tokens.words(at, "is", "left") for at in range(len(tokens))
    )
    return left or any(token.low in _REST for token in tokens.all)


def _amount(tokens: Tokens, at: int, measures: System) -> Quantity | None:
    """The amount at the beginning of a link's text; a plain count too ("2 of the eggs", "1 egg")."""
    amount = amount_at(tokens, at, measures)
    if amount is None or amount.quantity is None or (amount.article and not amount.has_unit):
        return None
    quantity = amount.quantity
    if not amount.has_unit and (quantity.low < 1 or quantity.low.denominator != 1):
        return None  # "half", "1/3 of the butter": shares
    if tokens[amount.end].low in {"%", "percent", "per"}:
        return None
    return quantity if quantity.dimension in _DRAWN else None


def _share(tokens: Tokens, at: int) -> Fraction | None:
    first = tokens[0].low
    if first in {"all", "everything"} or tokens.words(0, "the", "whole"):
        return Fraction(1)
    number = number_at(tokens, at)
    if number is None or number.value is None:
        number = number_at(tokens, max(at - 1, 0))  # "a third"
    if number is None or number.value is None or number.form is Form.ARTICLE:
        return None
    if tokens[number.end].low in {"%", "percent"} or tokens.words(number.end, "per", "cent"):
        return number.value / 100
    return number.value if 0 < number.value < 1 else None
