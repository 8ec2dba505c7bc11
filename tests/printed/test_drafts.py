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
    "Instant yeast 0.3 % — 3 g": "as below",
    "1 envelope gelatin (2¼ tsp)": "this measure’s table, SR 28, calls an envelope a tablespoon",
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
    "Micro herbs 3 x 20g": "¾ ounce is 21.3 g: ounces go by quarters",
    "1 ½ lbs. lean pork , cut in 1 -inch cubes": "nor is “1 -inch” a length",
    "240g drained chickpeas (from a 400g tin)": "SR 28 weighs a cup of cans with their liquid",
    "3 large egg yolks plus 1 whole large egg": "two lines, a yolk’s and an egg’s",
    "8 to 10 sprigs thyme, plus 1 teaspoon leaves": "two lines as well",
    "1 bar spoon rich syrup (2:1)": "a bar spoon is no unit of this reader",
    "Pour into a 9-by-5-by-3-inch loaf pan.": "nor has a tin three sides",
    "Fold in one-third of the whites, then the rest in two additions.": "nor is a third a figure",
    "Lower the heat and cook 5 minutes on each side, 10 in all.": "minutes stand in the same sentence",
    "Bake at 425°F for 10 minutes; lower to 375°F and bake 30 more.": "and so they do here",
    "Blend on high for 1 full minute.": "a full minute is no time of this reader",
    "Bulk 3 h at 24 °C with folds at 45, 90 and 135 min.": "the minutes stand behind the last",
    "Cure under 1.5 cm of salt for 6 hours, turn, 6 more.": "hours stand in the same sentence",
    "Brew 1:16, drawdown finished by 3:30.": "nor is a time of day read",
    "Roll out to the thickness of a pound coin, 3mm.": "a coin, no weight",
    "Fill a 2lb loaf tin two-thirds full.": "a share, no figure",
    "Dum on low flame for 20 mins, then rest 10.": "minutes stand in the same sentence",
    "Braai over medium coals for 25–30 minutes, turning every 5.": "minutes stand in the same sentence",
    "Set the slow cooker on low for 8 hours, or on high for 4.": "hours stand in the same sentence",
    "Fry the chips at 130°C for 8 minutes and again at 190°C for 3.": "minutes stand in the same sentence",
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
