"""Numbers and units as they are set in print."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.language.figures.amounts import ONE
from cardsmith.language.figures.numbers import number_in
from cardsmith.language.spans import Share
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import units
from cardsmith.rewrite.printed import Printed, Term, single
from cardsmith.rewrite.wording import (
    Style,
    begins_with_vowel,
    decimal_text,
    figure,
    figures,
    fraction_text,
    in_a_line,
    long,
    short,
)

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
        assert number_in(fraction_text(value)).value == value


def _terms(*pairs: tuple[str, str]) -> tuple[Term, ...]:
    return tuple(Term(number=Fraction(number), unit=units().get(unit, ONE)) for number, unit in pairs)


def _printed(*pairs: tuple[str, str], **more: object) -> Printed:
    return replace(single(*_terms(*pairs)), **more)  # type: ignore[arg-type]


def _range(low: str, high: str, unit: str, **more: object) -> Printed:
    return Printed(low=_terms((low, unit)), high=_terms((high, unit)), **more)  # type: ignore[arg-type]


EACH = _printed(("6", "ounce"), share=Share.EACH)
ALL = _printed(("3/2", "pound"), share=Share.ALL)


@pytest.mark.parametrize(
    ("printed", "in_list", "in_sentence", "before_noun"),
    [
        (_printed(("1", "cup")), "1 cup", "1 cup", "1-cup"),
        (_printed(("1/2", "cup")), "½ cup", "½ cup", "½-cup"),
        (_printed(("3/2", "cup")), "1½ cups", "1½ cups", "1½-cup"),
        (_printed(("2", "tablespoon")), "2 tbsp", "2 tablespoons", "2-tablespoon"),
        (_printed(("1/4", "teaspoon")), "¼ tsp", "¼ teaspoon", "¼-teaspoon"),
        (_printed(("12", "ounce")), "12 oz", "12 ounces", "12-ounce"),
        (_printed(("5", "fluid ounce")), "5 fl oz", "5 fluid ounces", "5-fluid-ounce"),
        (_printed(("9/50", "ounce")), "0.18 oz", "0.18 ounce", "0.18-ounce"),
        (_printed(("200", "gram")), "200 g", "200 g", "200 g"),
        (_printed(("6/5", "kilogram")), "1.2 kg", "1.2 kg", "1.2 kg"),
        (_printed(("1/3", "litre")), "⅓ L", "⅓ L", "⅓ L"),
        (_printed(("3000", "foot")), "3,000 ft", "3,000 feet", "3,000-foot"),
        (_printed(("1000", "metre")), "1,000 m", "1,000 m", "1,000 m"),
        (_printed(("10", "pound per square inch")), "10 psi", "10 psi", "10-psi"),
        (_printed(("-18", "degree Celsius")), "−18 °C", "−18 °C", "−18 °C"),
        (_printed(("3", "")), "3", "3", "3"),
        (_printed(("3", "stalk")), "3 stalks", "3 stalks", "3 stalks"),
        (_printed(("1/2", "stalk")), "½ stalk", "½ stalk", "½ stalk"),
        (
            _printed(("1/2", "cup"), ("1", "tablespoon")),
            "½ cup + 1 tbsp",
            "½ cup plus 1 tablespoon",
            "½ cup plus 1 tablespoon",
        ),
        (_printed(("1", "pound"), ("9", "ounce")), "1 lb 9 oz", "1 pound 9 ounces", "1 pound 9 ounces"),
        # ranges
        (_range("2", "3", "tablespoon"), "2 to 3 tbsp", "2 to 3 tablespoons", "2- to 3-tablespoon"),
        (_range("1/2", "1", "cup"), "½ to 1 cup", "½ to 1 cup", "½- to 1-cup"),
        (_range("-5", "5", "degree Celsius"), "−5 to 5 °C", "−5 to 5 °C", "−5 to 5 °C"),
        (
            Printed(low=_terms(("3/4", "teaspoon")), high=_terms(("1", "tablespoon"), ("1/4", "teaspoon"))),
            "¾ tsp to 1 tbsp + ¼ tsp",
            "¾ teaspoon to 1 tablespoon plus ¼ teaspoon",
            "¾ teaspoon to 1 tablespoon plus ¼ teaspoon",
        ),
        (
            Printed(low=_terms(("400", "gram")), high=_terms(("1", "kilogram"))),
            "400 g to 1 kg",
            "400 g to 1 kg",
            "400 g to 1 kg",
        ),
        # bounds
        (_printed(("2", "tablespoon"), bound=Bound.ABOUT), "about 2 tbsp", "about 2 tablespoons", None),
        (_printed(("2", "tablespoon"), bound=Bound.AT_MOST), "up to 2 tbsp", "up to 2 tablespoons", None),
        (_printed(("1", "litre"), bound=Bound.AT_LEAST), "at least 1 L", "at least 1 L", None),
        (_printed(("1", "cup"), bound=Bound.SCANT), "scant 1 cup", "scant 1 cup", None),
        (_printed(("1", "cup"), bound=Bound.HEAPING), "heaping 1 cup", "heaping 1 cup", None),
        (_printed(("5", "degree Celsius"), bound=Bound.AT_MOST), "at most 5 °C", "at most 5 °C", None),
        # what stands beside a count
        (_printed(("4", ""), beside=(EACH,)), "4 (6 oz each)", "4 (6 oz each)", None),
        (_printed(("4", ""), beside=(ALL,)), "4 (1½ lb in all)", "4 (1½ lb in all)", None),
        (_printed(("1", ""), beside=(ALL,)), "1 (1½ lb)", "1 (1½ lb)", None),
        (_printed(("2", "can"), beside=(EACH,)), "2 (6-ounce) cans", "2 (6-ounce) cans", None),
        (_printed(("2", "can"), beside=(ALL,)), "2 cans (1½ lb in all)", "2 cans (1½ lb in all)", None),
        (
            _printed(("1", "can"), beside=(_printed(("29/2", "ounce"), share=Share.EACH),)),
            "1 (14.5-ounce) can",
            "1 (14.5-ounce) can",
            None,
        ),
        (
            _printed(("1", "sachet"), beside=(_printed(("1/4", "ounce"), share=Share.EACH),)),
            "1 (¼-ounce) sachet",
            "1 (¼-ounce) sachet",
            None,
        ),
        (
            _range("2", "3", "can", beside=(_range("6", "8", "ounce", share=Share.EACH),)),
            "2 to 3 (6- to 8-ounce) cans",
            "2 to 3 (6- to 8-ounce) cans",
            None,
        ),
        # edges, and an oven's other settings
        (
            _printed(("9", "inch"), across=(_printed(("13", "inch")),)),
            "9 by 13 in",
            "9 by 13 inches",
            "9-by-13-inch",
        ),
        (
            _printed(("23", "centimetre"), across=(_printed(("33", "centimetre")),)),
            "23 × 33 cm",
            "23 × 33 cm",
            "23 × 33 cm",
        ),
        (
            _printed(("1", "inch"), across=(_printed(("2", "foot")),)),
            "1 in by 2 ft",
            "1 inch by 2 feet",
            None,
        ),
        (
            _printed(
                ("180", "degree Celsius"),
                settings=(_printed(("160", "degree Celsius"), fan=True), _printed(("4", "gas mark"))),
            ),
            "180 °C, fan 160 °C, gas 4",
            "180 °C, fan 160 °C, gas 4",
            None,
        ),
        (_printed(("160", "degree Celsius"), fan=True), "fan 160 °C", "fan 160 °C", None),
        (_printed(("1", "pinch"), words="a pinch"), "a pinch", "a pinch", None),
    ],
)
def test_amounts_where_they_stand(
    printed: Printed, in_list: str, in_sentence: str, before_noun: str | None
) -> None:
    assert short(printed).replace(NB, " ") == in_list
    assert long(printed).replace(NB, " ") == in_sentence
    if before_noun is not None:
        assert long(printed, Style.BEFORE_NOUN).replace(NB, " ") == before_noun
    number, rest = figure(printed)
    assert f"{number} {rest}".strip().replace(NB, " ") == in_list


@pytest.mark.parametrize(
    ("printed", "number", "rest"),
    [
        (_printed(("3/2", "cup")), "1½", "cups"),
        (_printed(("1/2", "cup"), ("1", "tablespoon")), "½", f"cup{NB}+ 1{NB}tbsp"),
        (_range("6", "7", "tablespoon"), "6", f"to 7{NB}tbsp"),
        (_printed(("3", "")), "3", ""),
        (_printed(("2", "can"), beside=(EACH,)), "2", "(6-ounce) cans"),
        (_printed(("4", ""), beside=(ALL,)), "4", f"(1½{NB}lb in all)"),
        (_printed(("2", "cup"), bound=Bound.ABOUT), "about 2", "cups"),
        (_printed(("1", "pinch"), words="a pinch"), "", "a pinch"),
    ],
)
def test_the_figure_stands_apart_from_the_rest(printed: Printed, number: str, rest: str) -> None:
    assert figure(printed) == (number, rest)


@pytest.mark.parametrize(
    ("printed", "lines"),
    [
        (_printed(("4", ""), beside=(ALL,)), (("4", ""), ("(1½", f"lb{NB}in{NB}all)"))),
        (_printed(("1", "pinch"), words="a pinch", beside=(ALL,)), (("", "a pinch"), ("(1½", "lb)"))),
        (_printed(("2", "can"), beside=(EACH,)), (("2", "(6-ounce) cans"),)),
        (_printed(("3/2", "cup")), (("1½", "cups"),)),
    ],
)
def test_a_size_in_brackets_behind_a_count_has_a_figure_too(
    printed: Printed, lines: tuple[tuple[str, str], ...]
) -> None:
    assert figures(printed) == lines
    told = " ".join(part for line in lines for part in line if part)
    assert told.replace(NB, " ") == short(printed).replace(NB, " ")


def test_a_number_holds_to_its_unit_and_a_short_bracket_to_one_line() -> None:
    weight = _printed(("3", "pound"), ("8", "ounce"), share=Share.ALL)
    assert short(_printed(("8", ""), beside=(weight,))) == f"8 (3{NB}lb{NB}8{NB}oz in all)"


@pytest.mark.parametrize(
    ("number", "vowel"),
    [("8", True), ("17/2", True), ("80", True), ("11", True), ("18", True), ("9", False), ("1", False)],
)
def test_what_is_said_with_a_vowel(number: str, vowel: bool) -> None:
    assert begins_with_vowel(_printed((number, "inch"))) is vowel


METRIC_ALL = _printed(("700", "gram"), share=Share.ALL)
METRIC_EACH = _printed(("400", "gram"), share=Share.EACH)


@pytest.mark.parametrize(
    ("first", "second", "text"),
    [
        (_printed(("5/3", "cup")), _printed(("200", "gram")), "1⅔ cups (200 g) leeks"),
        (
            _printed(("4", ""), beside=(ALL,)),
            _printed(("4", ""), beside=(METRIC_ALL,)),
            "4 leeks (1½ lb / 700 g in all)",
        ),
        (
            _printed(("2", "can"), beside=(EACH,)),
            _printed(("2", "can"), beside=(METRIC_EACH,)),
            "2 (6-ounce / 400 g) cans leeks",
        ),
        (_printed(("3", "")), _printed(("3", ""), beside=(METRIC_ALL,)), "3 leeks (700 g in all)"),
        (_printed(("3", "")), _printed(("100", "gram")), "3 (100 g) leeks"),
        (
            _printed(("1", "pinch"), words="a pinch"),
            _printed(("1", "pinch"), words="a pinch"),
            "a pinch leeks",
        ),
    ],
)
def test_both_columns_in_one_line(first: Printed, second: Printed, text: str) -> None:
    assert in_a_line("leeks", first, second).replace(NB, " ") == text


def test_one_column_alone_is_no_more_than_itself() -> None:
    assert in_a_line("leeks", _printed(("200", "gram"))).replace(NB, " ") == "200 g leeks"
    four = _printed(("4", ""), beside=(METRIC_ALL,))
    assert in_a_line("leeks", four).replace(NB, " ") == "4 leeks (700 g in all)"


def test_the_weight_of_a_size_that_is_sold_needs_no_word_but_that_of_each_does() -> None:
    four, each = (_printed(("4", ""), beside=(one,)) for one in (METRIC_ALL, METRIC_EACH))
    assert in_a_line("large eggs", four, sized=True).replace(NB, " ") == "4 large eggs (700 g)"
    assert in_a_line("large eggs", each, sized=True).replace(NB, " ") == "4 large eggs (400 g each)"
