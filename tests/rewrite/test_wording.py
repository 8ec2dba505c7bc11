"""Numbers and units as they are set in print."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.recipe.numbers import number_at
from cardsmith.rewrite.wording import Term, decimal_text, fraction_text, range_text, terms_text

NB = "\u00a0"


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (Fraction(0), "0"),
        (Fraction(1, 8), "⅛"),
        (Fraction(1, 3), "⅓"),
        (Fraction(3, 2), "1½"),
        (Fraction(11, 4), "2¾"),
        (Fraction(14, 3), "4⅔"),
        (Fraction(7), "7"),
        (Fraction(1, 16), "1⁄16"),
        (Fraction(19, 16), "1\u20093⁄16"),
    ],
)
def test_fractions_have_a_character_of_their_own_where_there_is_one(number: Fraction, text: str) -> None:
    assert fraction_text(number) == text


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (Fraction(5, 2), "2.5"),
        (Fraction(12, 10), "1.2"),
        (Fraction(1, 20), "0.05"),
        (Fraction(100), "100"),
        (Fraction(-18), "−18"),
        (Fraction(-1, 2), "−0.5"),
    ],
)
def test_decimals_are_short_and_exact(number: Fraction, text: str) -> None:
    assert decimal_text(number) == text


def test_what_has_no_short_decimal_form_raises() -> None:
    with pytest.raises(ValueError, match="no short decimal"):
        decimal_text(Fraction(1, 3))


@given(st.integers(min_value=-(10**7), max_value=10**7), st.integers(min_value=0, max_value=4))
def test_a_decimal_reads_back_as_itself(number: int, places: int) -> None:
    value = Fraction(number, 10**places)
    assert Fraction(decimal_text(value).replace("−", "-")) == value


@given(
    whole=st.integers(min_value=0, max_value=40),
    part=st.sampled_from([Fraction(0), *(Fraction(n, d) for d in (2, 3, 4, 8) for n in range(1, d))]),
)
def test_a_fraction_reads_back_as_itself(whole: int, part: Fraction) -> None:
    """What is printed is what an author may type: the reader of numbers finds the same value."""
    value = whole + part
    if value:
        read = number_at(fraction_text(value), 0)
        assert read is not None
        assert read.value == value


@pytest.mark.parametrize(
    ("terms", "short", "long"),
    [
        ([(Fraction(1), "cup")], f"1{NB}cup", f"1{NB}cup"),
        ([(Fraction(1, 2), "cup")], f"½{NB}cup", f"½{NB}cup"),
        ([(Fraction(3, 2), "cup")], f"1½{NB}cups", f"1½{NB}cups"),
        ([(Fraction(2), "tablespoon")], f"2{NB}tbsp", f"2{NB}tablespoons"),
        ([(Fraction(1, 4), "teaspoon")], f"¼{NB}tsp", f"¼{NB}teaspoon"),
        ([(Fraction(12), "ounce")], f"12{NB}oz", f"12{NB}ounces"),
        ([(Fraction(200), "gram")], f"200{NB}g", f"200{NB}g"),
        ([(Fraction(12, 10), "kilogram")], f"1.2{NB}kg", f"1.2{NB}kg"),
        ([(Fraction(3), "")], "3", "3"),
        (
            [(Fraction(1, 2), "cup"), (Fraction(1), "tablespoon")],
            f"½{NB}cup{NB}+ 1{NB}tbsp",
            f"½{NB}cup plus 1{NB}tablespoon",
        ),
        (
            [(Fraction(1), "pound"), (Fraction(9), "ounce")],
            f"1{NB}lb 9{NB}oz",
            f"1{NB}pound 9{NB}ounces",
        ),
    ],
)
def test_amounts_in_the_list_and_in_a_sentence(
    terms: list[tuple[Fraction, str]], short: str, long: str
) -> None:
    made = tuple(Term(number=number, unit=unit) for number, unit in terms)
    assert terms_text(made) == short
    assert terms_text(made, long=True) == long


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        (Term(number=Fraction(2), unit="tablespoon"), Term(number=Fraction(3), unit="tablespoon"), "2 to 3"),
        (Term(number=Fraction(1, 2), unit="cup"), Term(number=Fraction(1), unit="cup"), "½ to 1"),
    ],
)
def test_a_range_says_its_unit_once(low: Term, high: Term, text: str) -> None:
    assert range_text(low, high, long=True).startswith(f"{text}{NB}")
    assert range_text(low, high, long=True).count(NB) == 1


def test_a_range_over_two_units_says_both() -> None:
    low, high = Term(number=Fraction(2), unit="tablespoon"), Term(number=Fraction(1, 4), unit="cup")
    assert range_text(low, high) == f"2{NB}tbsp to ¼{NB}cup"
