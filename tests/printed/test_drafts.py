"""Lines and sentences of drafts from many hands print what they mean, or are asked about; few needlessly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from fractions import Fraction

import pytest

from tests.printed.drafts import line_cases
from tests.printed.measure import NEEDLESS, SILENT, UNASKED, UNREADABLE, WARNED, Case

MOST_NEEDLESS = Fraction(1, 50)
# Texts that print rightly though this measure's reader can't tell, and why.
OTHERWISE = {
    "1.5tsp yeast": "a packet of 7 g is 2¼ teaspoons; SR 28 weighs active dry yeast a third heavier",
    "2 × 2 cm piece of kombu": "the edges stand in the words beside it, which are searched, not read",
}


@pytest.mark.parametrize("cases", [line_cases])
def test_drafts_print_what_they_mean(cases: Callable[[], Iterator[Case]]) -> None:
    found = list(cases())
    wrong = [case for case in found if case.verdict in {SILENT, WARNED, UNASKED, UNREADABLE}]
    assert [str(case) for case in wrong if case.text not in OTHERWISE] == []
    counts = Counter(case.verdict for case in found)
    needless = [case.text for case in found if case.verdict == NEEDLESS]
    assert Fraction(counts[NEEDLESS], len(found)) <= MOST_NEEDLESS, needless
