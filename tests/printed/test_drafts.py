"""Lines and sentences of drafts from many hands print what they mean, or are asked about; few needlessly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from fractions import Fraction

import pytest

from tests.printed.drafts import line_cases, sentence_cases
from tests.printed.measure import NEEDLESS, SILENT, UNASKED, UNREADABLE, WARNED, Case

MOST_NEEDLESS = Fraction(1, 50)
# Texts that print rightly though this measure's reader can't tell, and why.
OTHERWISE = {
    "1.5tsp yeast": "a packet of 7 g is 2¼ teaspoons; SR 28 weighs active dry yeast a third heavier",
    "2 × 2 cm piece of kombu": "the edges stand in the words beside it, which are searched, not read",
    "Coriander powder 1 & 1/2 tsp": "this measure’s table weighs the leaves",
    "1 lb. dried beans, soaked overnight in 2 qts. water": "two lines, of which the second is water",
    "Light one side of the grill and aim for 450°F under the lid.": "one side is no count",
    "Bake 350° F. 1 hr. & 15 min.": "an “&” in a time is no word of this reader",
    "Makes 3 doz. big ones.": "nor is “doz.”",
    'Spread in 2 - 8" layer pans.': "nor a dash between blanks that parts a count from a size",
    "Hold hot > 140F; cool to 70F w/in 2 hrs, to 41F w/in 4 more hrs.": "nor “4 more hrs”",
    "Microwave high 2 mins, stir, 1 more min.": "nor “1 more min”",
    "Freeze up to 3 mos.": "nor “mos.”",
    "Roast bones 425F 45 min, flip half way.": "half way is no figure",
    "Fire at 7:15 pm, on the pass in 12 min.": "nor is a time of day read",
    "Add the remaining ½ cup + 2 T. sugar.": "a sum by a sign is no sum of this reader; the T is asked about",
    "Cook the potatoes for 15 mins, adding the beans for the last 3.": "minutes stand in the same sentence",
}


@pytest.mark.parametrize("cases", [line_cases, sentence_cases])
def test_drafts_print_what_they_mean(cases: Callable[[], Iterator[Case]]) -> None:
    found = list(cases())
    wrong = [case for case in found if case.verdict in {SILENT, WARNED, UNASKED, UNREADABLE}]
    assert [str(case) for case in wrong if case.text not in OTHERWISE] == []
    counts = Counter(case.verdict for case in found)
    needless = [case.text for case in found if case.verdict == NEEDLESS]
    assert Fraction(counts[NEEDLESS], len(found)) <= MOST_NEEDLESS, needless
