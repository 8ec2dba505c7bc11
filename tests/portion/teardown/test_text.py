"""A label taken apart, in words."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.portion.teardown.programme import feasible
from cardsmith.portion.teardown.text import in_words
from tests.portion.teardown.drawn import CRISP, holds_truth, taken, us_label


def test_water_that_nothing_tells_of_has_no_upper_end_and_a_note_says_what_would() -> None:
    text = "product: A\n" + us_label(CRISP, Fraction(30), "general", False, {"honey", "fine salt"})
    found = feasible(taken(text))
    holds_truth(found, CRISP, text)
    shown = in_words(taken(text), found, "cracker")
    assert "water, on no label" in shown
    assert "any" in shown
    assert "loss: 12 to 48 % (12 to 48 % is usual for cracker; common practice)" in shown
