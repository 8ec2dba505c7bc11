from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.measure.larder import _larder, load_larder
from cardsmith.portion.portion_file import NO_FACTS, read_facts
from tests.portion.kitchen import facts, recipe

OF = recipe("600 g carrots", "{key: oil, amount: 1 litre, item: sunflower oil}", "20 g glimmerroot")


def test_facts_are_read_by_any_name_of_a_line() -> None:
    found = facts(
        """
        trim: {carrot: 12 %, glimmerroot: 5 %}
        eaten: {oil: 8.5 %}
        finished: 1.2 kg
        rejects: 3 %
        """,
        OF,
    )
    carrots, oil, unknown = (line.where for line in OF.ingredients)
    assert found.trim == {carrots: Fraction(12, 100), unknown: Fraction(5, 100)}
    assert found.eaten == {oil: Fraction(85, 1000)}
    assert (found.finished, found.rejects) == (1200, Fraction(3, 100))


def test_a_lines_own_key_counts_before_its_food() -> None:
    two = recipe("{key: brine, amount: 20 g, item: fine salt}", "10 g fine salt")
    found = facts("eaten: {brine: 10 %, fine salt: 50 %}", two)
    assert [found.eaten[line.where] for line in two.ingredients] == [Fraction(1, 10), Fraction(1, 2)]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("trim: {parsnips: 12 %}", "portion-ingredient-unlisted"),
        ("trim: {carrots: some}", "unreadable-measure"),
        ("trim: {carrots: 120 %}", "unreadable-measure"),
        ("finished: 2 cups", "unreadable-measure"),
        ("rejects: a few", "unreadable-measure"),
        ("rejects: 100 %", "unreadable-measure"),
        ("trim: {carrots: 100 %}", "unreadable-measure"),
        ("finished: 0 g", "unreadable-measure"),
        ("finnished: 800 g", "unknown-key"),
    ],
)
def test_what_cannot_be_used_is_told(text: str, name: str) -> None:
    _, faults = read_facts(text.encode(), "portion.yaml", OF.ingredients, load_larder())
    assert [fault.name for fault in faults] == [name]
    assert all(fault.instead for fault in faults)


def test_an_empty_file_states_nothing() -> None:
    found, faults = read_facts(b"", "portion.yaml", OF.ingredients, load_larder())
    assert found == NO_FACTS
    assert faults


def test_a_line_is_known_in_a_larder_that_was_read_again() -> None:
    """A house's row that changes makes a new larder; its foods are the same by what they hold."""
    _larder.cache_clear()
    assert facts("trim: {carrot: 12 %}", OF).trim == {OF.ingredients[0].where: Fraction(12, 100)}
