"""What a text begins with, for the examples in the docstrings of the language room."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.figures.clock import Moment, moment_at
from cardsmith.language.figures.heat import Temperature, heat_at
from cardsmith.language.figures.numbers import Form, number_at
from cardsmith.language.figures.terms import Amount
from cardsmith.language.prose.counts import count_at
from cardsmith.language.prose.elided import elided
from cardsmith.language.prose.measured import measure_at, size_at
from cardsmith.language.prose.purposes import purpose_of
from cardsmith.language.prose.reading import TokenReading
from cardsmith.language.prose.references import name_at, reference_at
from cardsmith.language.prose.shared_units import series_at
from cardsmith.language.prose.temperatures import temperature_of
from cardsmith.language.prose.without_scale import bare_heat
from cardsmith.language.prose.without_unit import telling_at
from cardsmith.language.spans import Purpose
from cardsmith.language.tokens import Tokens, tokenize
from cardsmith.measure.units import Dimension, System


def moment_in(text: str) -> Moment:
    found = moment_at(tokenize(text), 0)
    assert found is not None, text
    return found


def amount_in(text: str, measures: System = System.US) -> Amount:
    found = amount_at(tokenize(text), 0, measures)
    assert found is not None, text
    return found


def heat_in(text: str) -> Temperature:
    found = heat_at(tokenize(text), 0)
    assert found is not None, text
    return found


def is_change_in(text: str) -> bool:
    """Whether the first heat of ``text`` is a difference."""
    tokens = tokenize(text)
    found = next(heat for at in range(len(tokens)) if (heat := heat_at(tokens, at)))
    return found.quantity.dimension is Dimension.TEMPERATURE_CHANGE


def temperature_in(text: str) -> TokenReading:
    return temperature_of(tokenize(text), heat_in(text))


def measured_in(text: str) -> TokenReading:
    tokens = tokenize(text)
    found = size_at(tokens, 0, System.US) or measure_at(tokens, 0, System.US, series=False)
    assert found is not None, text
    return found


def series_in(text: str) -> tuple[TokenReading, ...]:
    return series_at(tokenize(text), 0, System.US)


def told_in(text: str) -> TokenReading | None:
    tokens = tokenize(text)
    number = number_at(tokens, 0)
    return telling_at(tokens, number, None, series=False) if number else None


def counted_in(text: str) -> TokenReading | None:
    tokens = tokenize(text)
    number = number_at(tokens, 0)
    return count_at(tokens, number, None) if number else None


def referred_in(text: str) -> TokenReading | None:
    """The first number of ``text`` as a reference or part of a name."""
    tokens = tokenize(text)
    for at in range(len(tokens)):
        number = number_at(tokens, at)
        if number is not None and number.value is not None and number.form is not Form.ARTICLE:
            return reference_at(tokens, number, None, series=False) or name_at(tokens, number, None)
    return None


def elided_in(text: str) -> TokenReading | None:
    """The last number of ``text`` in the unit of another before it."""
    tokens = tokenize(text)
    last = max(at for at in range(len(tokens)) if tokens[at].is_number)
    low = number_at(tokens, last - 2) if tokens[last - 1].low == "to" else None
    number = number_at(tokens, last)
    assert number is not None, text
    return elided(tokens, low or number, number if low else None, System.US)


def bare_heat_in(text: str, written: str) -> TokenReading | None:
    tokens = tokenize(text)
    number = number_at(tokens, _token_at(tokens, text.index(written)))
    return bare_heat(tokens, number, None) if number else None


def purpose_in(text: str, written: str, celsius: int) -> Purpose:
    """The purpose of the temperature ``written`` in ``text``."""
    tokens, start = tokenize(text), text.index(written)
    first, end = _token_at(tokens, start), _token_at(tokens, start + len(written))
    return purpose_of(tokens, first, end, Fraction(celsius))


def _token_at(tokens: Tokens, start: int) -> int:
    return next((at for at in range(len(tokens)) if tokens[at].start >= start), len(tokens))
