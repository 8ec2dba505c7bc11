"""Amounts: numbers with their units, ranges, sums."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.language.figures.amounts import Amount, amount_at
from cardsmith.language.figures.unit_words import UnitFound, unit_at
from cardsmith.language.quantities import read_quantity
from cardsmith.language.tokens import tokenize
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System, unit_words, units
from tests.language.written_numbers import in_words

WHERE = Where(file="recipe.yaml", line=1, column=1)


def read(text: str) -> tuple[Amount, Quantity, int]:
    """The amount that begins ``text``, its quantity, and the character where it ends."""
    tokens = tokenize(text)
    found = amount_at(tokens, 0)
    assert found is not None
    assert found.quantity is not None
    return found, found.quantity, tokens[found.end - 1].end


def unit_in(text: str, measures: System = System.US) -> tuple[UnitFound, int] | None:
    """The unit that begins ``text``, and the character where it ends."""
    tokens = tokenize(text)
    found = unit_at(tokens, 0, measures)
    return (found, tokens[found.end - 1].end) if found else None


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("200 g", 200, 200, "gram"), ("200g", 200, 200, "gram"), ("200 Grams", 200, 200, "gram"),
        ("1½ cups", "3/2", "3/2", "cup"), ("1-1/2 cups", "3/2", "3/2", "cup"), ("1 CUP", 1, 1, "cup"),
        ("2 TBSP", 2, 2, "tablespoon"), ("2 tbl.", 2, 2, "tablespoon"), ("8 fl. oz.", 8, 8, "fluid ounce"),
        ("8 oz", 8, 8, "ounce"), ("1 gallon", 1, 1, "gallon"), ("2 dl", 2, 2, "decilitre"),
        ("2 to 3 cups", 2, 3, "cup"), ("2-3 cups", 2, 3, "cup"), ("2–3 cups", 2, 3, "cup"),
        ("2 or 3 cups", 2, 3, "cup"), ("1-1/2–2 cups", "3/2", 2, "cup"), ("1-1½ cups", 1, "3/2", "cup"),
        ("between 2 and 3 cups", 2, 3, "cup"), ("1 tsp to 1 tbsp", 1, 3, "teaspoon"),
        ("180 g–200 g", 180, 200, "gram"), ("one to two cups", 1, 2, "cup"),
        ("2 lb 4 oz", "9/4", "9/4", "pound"), ("1 lb, 4 oz", "5/4", "5/4", "pound"),
        ("2lb4oz", "9/4", "9/4", "pound"), ("1 kg and 200 g", "6/5", "6/5", "kilogram"),
        ("½ cup plus 1 tablespoon", "9/16", "9/16", "cup"), ("1 cup + 2 tbsp", "9/8", "9/8", "cup"),
        ("1 cup plus 1 tablespoon plus 1 teaspoon", "13/12", "13/12", "cup"),
        ("1 cup minus 1 tablespoon", "15/16", "15/16", "cup"),
        ("1 cup less 2 tablespoons", "7/8", "7/8", "cup"),
        ("1 to 2 cups plus 2 tablespoons", "9/8", "17/8", "cup"),
        ("1 h 40 min", "5/3", "5/3", "hour"), ("1 hour 20 minutes", "4/3", "4/3", "hour"),
        ("1 hour to 1 hour 30 minutes", 1, "3/2", "hour"), ("45 minutes to 1 hour", 45, 60, "minute"),
        ("an hour and a half", "3/2", "3/2", "hour"), ("half an hour", "1/2", "1/2", "hour"),
        ("9-inch", 9, 9, "inch"), ("9- to 10-inch", 9, 10, "inch"),
        ('8"', 8, 8, "inch"), ("2 mm", 2, 2, "millimetre"),
        ("a cup", 1, 1, "cup"), ("a scant cup", 1, 1, "cup"), ("half a cup", "1/2", "1/2", "cup"),
        ("3", 3, 3, "one"), ("a dozen", 12, 12, "one"),
        ("2 cloves", 2, 2, "clove"),
        ("2 large cloves", 2, 2, "clove"), ("a pinch", 1, 1, "pinch"), ("2 cans", 2, 2, "can"),
    ],
)  # fmt: skip
def test_amount(text: str, low: str | int, high: str | int, unit: str) -> None:
    found, quantity, end = read(text)
    assert (end, found.faults, quantity.written) == (len(text), (), text)
    ends = (quantity.unit.from_base(quantity.low), quantity.unit.from_base(quantity.high), quantity.unit.name)
    assert ends == (Fraction(low), Fraction(high), unit)


@pytest.mark.parametrize(
    ("text", "millilitres_or_grams"),
    [
        # NIST Handbook 44, Appendix C: exact sizes of the US customary units.
        ("1 cup", "236.5882365"),
        ("1 tbsp", "14.78676478125"),
        ("1 tsp", "4.92892159375"),
        ("1 fl oz", "29.5735295625"),
        ("1 oz", "28.349523125"),
        ("1 lb", "453.59237"),
        ("2 lb 4 oz", "1020.5828325"),
        ("½ cup plus 1 tablespoon", "133.08088303125"),
    ],
)
def test_against_published_sizes(text: str, millilitres_or_grams: str) -> None:
    assert read(text)[1].low == Fraction(millilitres_or_grams)


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("1 cup (240 ml)", " (240 ml)"),
        ("1 cup, 240 ml", ", 240 ml"),  # one amount twice, not a sum
        ("1 cup or 240 ml", " or 240 ml"),
        ("1 cup / 240 ml", " / 240 ml"),
        ("1 cup plus more", " plus more"),
        ("1 cup plus a pinch", " plus a pinch"),
        ("1 cup plus 1 egg", " plus 1 egg"),
        ("200 g, 2 eggs", ", 2 eggs"),
        ("2 in a bag", " in a bag"),
        ("2 T-bone steaks", " T-bone steaks"),
        ("2 garlic cloves", " garlic cloves"),
        ("2 cupcakes", " cupcakes"),
        ("5 ginger", " ginger"),
        ("4 minutes, 2 at a time", ", 2 at a time"),
        ("1 clove-studded onion", " clove-studded onion"),
    ],
)
def test_what_is_no_part_of_the_amount(text: str, rest: str) -> None:
    assert text[read(text)[2] :] == rest


@pytest.mark.parametrize(
    ("text", "bound"),
    [
        ("about 2 cups", "about"), ("approx. 2 cups", "about"), ("~2 cups", "about"), ("ca. 2 cups", "about"),
        ("a scant ½ cup", "scant"), ("1 scant cup", "scant"), ("a heaping tablespoon", "heaping"),
        ("2 heaped teaspoons", "heaping"), ("at least 2 cups", "at least"), ("up to 2 cups", "at most"),
        ("a generous handful", "exactly"), ("a generous cup", "generous"),
        ("1 level teaspoon", "exactly"), ("2 cups", "exactly"),
        ("2+ cups", "at least"), ("a couple of cups", "about"), ("<5 g", "at most"), ("≥ 2 kg", "at least"),
        ("scant teaspoon", "scant"), ("no more than 2 cups", "at most"), ("a rounded tsp", "rounded"),
    ],
)  # fmt: skip
def test_bound(text: str, bound: str) -> None:
    _, quantity, end = read(text)
    assert (quantity.bound, end) == (Bound(bound), len(text))


@pytest.mark.parametrize(
    ("text", "bound"),
    [
        ("2 cups or so", "about"),
        ("5 g at most", "at most"),
        ("5 g, no more", "at most"),
        ("1 kg or more", "at least"),
    ],
)
def test_a_bound_behind_is_no_part_of_the_amount(text: str, bound: str) -> None:
    _, quantity, end = read(text)
    assert quantity.bound is Bound(bound)
    assert end < len(text)


@pytest.mark.parametrize(
    ("text", "name", "start", "end"),
    [
        ("1 t sugar", "doubtful-unit", 2, 3),
        ("1 T SUGAR", "doubtful-unit", 2, 3),
        ("1 t. salt", "doubtful-unit", 2, 4),
        ("3 to 2 cups", "range-reversed", 0, 11),
        ("1 tbsp to 1 tsp", "range-reversed", 0, 15),
        ("1,500 kg", "thousands-comma", 0, 5),
        ("1.500 g", "thousands-point", 0, 5),
        ("1/0 cups", "unreadable-amount", 0, 3),
        ("1 tbsp minus 1 cup", "unreadable-amount", 0, 18),
    ],
)
def test_fault(text: str, name: str, start: int, end: int) -> None:
    found = amount_at(tokenize(text), 0)
    assert found is not None
    (fault,) = found.faults
    assert (fault.name, fault.start, fault.end) == (name, start, end)


@pytest.mark.parametrize("text", ["", "salt", "about", "cups", "between", "plus 1 cup"])
def test_no_amount(text: str) -> None:
    assert amount_at(tokenize(text), 0) is None


@pytest.mark.parametrize("text", ["2% milk", "2 % milk", "12 percent"])
def test_a_percentage_is_a_ratio_and_no_amount_of_food(text: str) -> None:
    assert read(text)[1].dimension is Dimension.RATIO


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("1 h 30", "3/2", "3/2", "hour"), ("1h30", "3/2", "3/2", "hour"), ("1h 30m", "3/2", "3/2", "hour"),
        ("twenty-five minutes", 25, 25, "minute"), ("a minute or two", 1, 2, "minute"),
        ("a cup or two", 1, 2, "cup"), ("3 half-pints", "3/2", "3/2", "pint"),
        ("a pound and a half", "3/2", "3/2", "pound"),
        ("12 oz to 1 lb", 12, 16, "ounce"), ("500 g to 1 kg", 500, 1000, "gram"), ("1 US cup", 1, 1, "cup"),
        ("three to six tbsp", 3, 6, "tablespoon"), ("2 cupfuls", 2, 2, "cup"),
        ("1 stick plus 2 tablespoons", "5/8", "5/8", "cup"),
    ],
)  # fmt: skip
def test_ways_to_say_it(text: str, low: str | int, high: str | int, unit: str) -> None:
    _, quantity, end = read(text)
    ends = (quantity.unit.from_base(quantity.low), quantity.unit.from_base(quantity.high), quantity.unit.name)
    assert (end, ends) == (len(text), (Fraction(low), Fraction(high), unit))


@pytest.mark.parametrize("text", ["1 cup or 2 eggs", "1 minute or 5", "1 h 90", "2 half-pint jars"])
def test_what_looks_like_more(text: str) -> None:
    _, quantity, end = read(text)
    assert not quantity.is_range
    assert end < len(text)


@pytest.mark.parametrize("measures", [System.US, System.IMPERIAL, System.AUSTRALIAN])
def test_spoons_are_added_to_cups_in_every_country(measures: System) -> None:
    found = amount_at(tokenize("¾ cup and 2 teaspoons jam"), 0, measures)
    assert found is not None
    assert found.quantity is not None
    assert [one.written for one in found.quantity.terms] == ["¾ cup", "2 teaspoons"]


@pytest.mark.parametrize("measures", [System.US, System.IMPERIAL, System.AUSTRALIAN])
def test_every_unit_word_is_read(measures: System) -> None:
    for word, meant in unit_words(measures).items():
        tokens = tokenize(f"9{word} x")  # a sign of inches stands close to its number
        found = unit_at(tokens, 1, measures)
        assert found is not None, word
        assert (found.unit, tokens[found.end - 1].end) == (meant.unit, 1 + len(word))


@pytest.mark.parametrize(
    ("text", "name", "end"),
    [
        ("fl  oz", "fluid ounce", 6), ("fl\u00a0\u2009oz", "fluid ounce", 6), ("FL OZ", "fluid ounce", 5),
        ("fl \noz", "fluid ounce", 6), ("cup", "cup", 3), ("cupful", "cup", 6), ("g\u0131", "", 0),
        ("cup\u017f", "", 0), ("\u212ag flour", "kilogram", 2), ("", "", 0), ("\u0130n", "", 0),
    ],
)  # fmt: skip
def test_spaces_and_strange_letters_in_a_unit_word(text: str, name: str, end: int) -> None:
    found = unit_in(text)
    assert (found[0].unit.name, found[1]) == (name, end) if found else not name


def test_capital_and_small_t_are_not_one() -> None:
    big, small = unit_in("T"), unit_in("t")
    assert big is not None
    assert small is not None
    assert (big[0].unit.name, small[0].unit.name) == ("tablespoon", "teaspoon")


@pytest.mark.parametrize(
    ("text", "low", "name"),
    [
        ("6 g", 6, ""),
        ("  6 g ", 6, ""),
        ("1 h 40 min", 6000, ""),
        ("1,5 g", Fraction(3, 2), ""),
        ("1,500 kg", 1_500_000, "thousands-comma"),
        ("6 g each", None, "unreadable-amount"),
        ("soon", None, "unreadable-amount"),
        ("", None, "unreadable-amount"),
        ("1/0 g", None, "unreadable-amount"),
    ],
)
def test_read_quantity(text: str, low: Fraction | None, name: str) -> None:
    quantity, findings = read_quantity(text, WHERE)
    assert (quantity.low if quantity else None) == low
    assert [finding.name for finding in findings] == ([name] if name else [])


KITCHEN = st.sampled_from(
    ["gram", "kilogram", "ounce", "pound", "cup", "tablespoon", "teaspoon", "millilitre"]
)


@given(st.fractions(min_value=Fraction(1, 8), max_value=500, max_denominator=8), KITCHEN)
def test_amounts_are_exact(number: Fraction, name: str) -> None:
    unit = units()[name]
    for word in (unit.symbol, unit.plural, unit.name):
        _, quantity, _ = read(f"{in_words(number)} {word} of it")
        assert quantity.low == quantity.high == number * unit.size


@given(st.integers(1, 99), st.integers(1, 99), st.sampled_from(["-", "–", " to ", " - ", " or "]))
def test_ranges_keep_both_ends(one: int, other: int, joint: str) -> None:
    found, quantity, _ = read(f"{one}{joint}{other} g")
    assert [quantity.low, quantity.high] == sorted([Fraction(one), Fraction(other)])
    assert [fault.name for fault in found.faults] == (["range-reversed"] if one > other else [])


@given(st.text("0123456789/½.,-– abcupglotrsT()+&", max_size=40))
def test_any_text(text: str) -> None:
    tokens = tokenize(text)
    for at in range(len(tokens)):
        found = amount_at(tokens, at)
        if found is None:
            continue
        assert at <= found.first < found.end <= len(tokens)
        assert found.quantity is not None or found.faults
        assert all(0 <= fault.start < fault.end <= len(text) for fault in found.faults)
