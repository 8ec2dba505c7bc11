"""Sentences whose reading is settled, point by point; `cases/` and `meaning/` hold many more."""

from __future__ import annotations

import pytest

from cardsmith.language.prose.reading import Reading
from cardsmith.language.prose.sentences import readings
from cardsmith.measure.quantity import Bound


def told(one: Reading) -> str:
    """A reading in short: its text, its kind and purpose, its bound, and its values in their units."""
    values = []
    for side in (*one.sides, *one.stated):
        ends = dict.fromkeys(str(side.unit.from_base(end)) for end in (side.low, side.high))
        values.append(f"{'–'.join(ends)} {side.unit.symbol}{' fan' * side.fan}")
    parts = [
        one.kind.value,
        one.purpose.value if one.purpose else "",
        "" if one.bound is Bound.EXACTLY else one.bound.value,
        " = ".join(values),
    ]
    return f"{one.text}: {', '.join(part for part in parts if part)}"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # names and counts
        ("Serve with half and half.", ["half and half: name"]),
        ("A half-and-half custard.", ["half-and-half: name"]),
        ("Add the flour in 3 additions and the milk in 2.", ["3: count", "2: count"]),
        ("Add 2 more eggs.", ["2: count"]),
        ("Set them in 3 rows of 5.", ["3: count", "5: count"]),
        ("Beat in 5 of the eggs and keep 1 for glazing.", ["5: count", "1: count"]),
        ("Drop in the other 3.", ["3: count"]),
        ("Dinner for 8.", ["8: count"]),
        ("Makes 48 crackers.", ["48: count"]),
        ("Repeat steps 2 and 3.", ["2: reference", "3: reference"]),
        ("As in steps 1 to 3. Roll to 5 thick.", ["1 to 3: reference", "5: unread"]),
        ("Stir. 2. Tip it out.", ["2: reference"]),
        ("Checked on 4 May 2026, again on June 3, 2026 and 2026-07-01.",
         ["4: reference", "2026: reference", "3: reference", "2026: reference", "2026-07-01: reference"]),
        ("Figure 2 shows the fold.", ["2: reference"]),
        ("Use a #40 scoop or a size 1 ladle.", ["40: reference", "1: reference"]),
        # the same heat has the same purpose
        ("In a low oven. We tried it at 150C and at 170C; at 170C the beans split, at 90C they stayed whole.",
         ["150C: temperature, oven, 150 °C", "170C: temperature, oven, 170 °C",
          "170C: temperature, oven, 170 °C",
          "90C: temperature, other, 90 °C"]),
        # a verb ends the vessel's noun phrase
        ("In a heavy 3-quart saucepan bring sugar to a boil.", ["3-quart: vessel, 3 qt"]),
        ("In a 6-quart pot put the bones.", ["6-quart: vessel, 6 qt"]),
        # "from" stays a word, "between" opens what it says
        ("Add 5 min from 1001 to 6000 feet.",
         ["5 min: duration, 5 min", "1001 to 6000 feet: altitude, 1001–6000 ft"]),
        ("Choose fillets of between 6 and 8 ounces (170 and 225 g).",
         ["between 6 and 8 ounces (170 and 225 g): amount, 6–8 oz = 170–225 g"]),
        # what lacks something
        ("Add 200 flour.", ["200: unread"]),
        ("Tip in 200 chopped carrots.", ["200: unread"]),
        ("Feed it at 7.", ["7: unread"]),
        ("Bake 45. Fold the 4 corners in.", ["45: unread", "4: count"]),
        ("Make 2 at 800.", ["2: count", "800: unread"]),
        ("Cut each strip in 4, so 8 triangles a sheet, 3 a head.", ["4: count", "8: count", "3: count"]),
        ("Set it over medium heat (5 on my dial of 9).", ["5: reference", "9: reference"]),
        ("It fed 40 from two hams.", ["40: count", "two: count"]),
        # a unit that the sentence has said
        ("Whizz 20 sec, scrape down, whizz another 10.", ["20 sec: duration, 20 s", "10: duration, 10 s"]),
        ("Keep it 8 hrs, 24 tops.", ["8 hrs: duration, 8 h", "24: duration, at most, 24 h"]),
        ("Process 10 minutes (15 from 1,001 to 6,000 ft, 20 above that).",
         ["10 minutes: duration, 10 min", "15: duration, 15 min", "1,001 to 6,000 ft: altitude, 1001–6000 ft",
          "20: duration, 20 min"]),
        ("Fry 4 cakes for 3 minutes, then another 4.",
         ["4: count", "3 minutes: duration, 3 min", "4: unread"]),
        ("Skim off 3 or 4 tablespoons and keep 2.",
         ["3 or 4 tablespoons: amount, 3–4 tbsp", "2: amount, 2 tbsp"]),
        ("Beat in 100 g of it and 2 eggs, then another 2.",
         ["100 g: amount, 100 g", "2: count", "2: unread"]),
        ("Bring it to 180 °F, not passed 190.",
         ["180 °F: temperature, other, 180 °F", "190: temperature, other, at most, 190 °F"]),
        ("Roast at 220 °C, then at no more than 180.",
         ["220 °C: temperature, oven, 220 °C", "180: unread, oven, at most, 180 °"]),
        # heat
        ("Keep it at a room temperature of approximately 18 °C.",
         ["18 °C: temperature, room, about, 18 °C"]),
        ("Roast 20 minutes per pound (450 g).",
         ["20 minutes: duration, 20 min", "pound (450 g): amount, 1 lb = 450 g"]),
        ("March 3 eggs in on March 3.", ["3: count", "3: reference"]),
        ("It swings between 1 and 5 °C.", ["between 1 and 5 °C: temperature, other, 1–5 °C"]),
        ("Take it out 3 C short of the target.", ["3 C: difference, other, 3 °C"]),
        ("Bake at 160 °C (that is 320 °F).", ["160 °C (that is 320 °F): temperature, oven, 160 °C = 320 °F"]),
        ("Roast for 25 mins at 220, until brown.", ["25 mins: duration, 25 min", "220: unread, oven, 220 °"]),
        ("Lower the oven by 25 halfway through.", ["25: unread, oven, 25 °"]),
        ("Hold the freezer at −18.", ["−18: unread, freezer, -18 °"]),
        ("Bake at 180/160 fan.", ["180/160 fan: unread, oven, 180 ° = 160 ° fan"]),
        ("Bake at 200C/180 fan.", ["200C/180 fan: temperature, oven, 200 °C = 180 °C fan"]),
        ("Warm the milk to 80c, cool to 27 c.",
         ["80c: temperature, milk, 80 °C", "27 c: temperature, milk, 27 °C"]),
        ("Keep it below 5c.", ["5c: temperature, refrigerator, at most, 5 °C"]),
        ("Hold at 60-65c.", ["60-65c: temperature, holding, 60–65 °C"]),
        ("Add 20c flour to 4 c in all.", ["20c: amount, 20 cup", "4 c: amount, 4 cup"]),
        ("It is 2 °C/4 °F out.", ["2 °C/4 °F: difference, other, 2 °C = 4 °F"]),
        ("Cook it 3C hotter.", ["3C: difference, core, 3 °C"]),
        ("Reach a minimum of 75C in the middle.", ["75C: temperature, core, at least, 75 °C"]),
        ("Water boils near 203°F.", ["203°F: temperature, water, about, 203 °F"]),
        ("Make a brine with a pH of 4.", ["4: name"]),
        # time
        ("Stir for a minute or two.", ["a minute or two: duration, 1–2 min"]),
        ("Cook for 1 or 2 minutes more.", ["1 or 2 minutes: duration, 1–2 min"]),
        ("A week in a tin, a month frozen.", ["A week: duration, 1 week", "a month: duration, 1 month"]),
        ("Keeps a week, 10 days at a push.", ["a week: duration, 1 week",
                                              "10 days: duration, at most, 10 day"]),
        ("Fold after 45 and 90 minutes.", ["45: duration, 45 min", "90 minutes: duration, 90 min"]),
        ("Fry in batches of 4, 12 minutes each.", ["4: count", "12 minutes: duration, 12 min"]),
        ("Feed it at 7 the next morning.", ["7: clock"]),
        # amounts
        ("Add 1 cup plus 2 tablespoons of it.", ["1 cup plus 2 tablespoons: amount, 9/8 cup"]),
        ("Makes 3 half-pints.", ["3 half-pints: amount, 3/2 pt"]),
        ("Use 4 g of salt, no more.", ["4 g: amount, at most, 4 g"]),
        ("Whisk in 1,5 kg of it.", ["1,5 kg: amount, 3/2 kg"]),
        # vessels and lengths
        ("Leave an inch between them.", ["an inch: length, 1 in"]),
        ("Space them from 2 to 3 inches apart.", ["2 to 3 inches: length, 2–3 in"]),
        ("A 10- or 12-inch skillet.", ["10-: vessel, 10 in", "12-inch: vessel, 12 in"]),
        ("A 10- to 12-inch skillet.", ["10- to 12-inch: vessel, 10–12 in"]),
        ("Three saucepans of 1, 2 and 4 quarts.", ["Three: count", "1: vessel, 1 qt", "2: vessel, 2 qt",
                                                  "4 quarts: vessel, 4 qt"]),
        ("Weigh down with two 400 g cans.", ["two: count", "400 g: amount, 400 g"]),
        ("Add a 400 g tin of tomatoes.", ["400 g: amount, 400 g"]),
        ("Butter a 900 g loaf tin.", ["900 g: vessel, 900 g"]),
        ("Line a 20-cm-square tin.", ["20-cm: vessel, 20 cm"]),
        ("Use a 6-qt. Dutch oven.", ["6-qt.: vessel, 6 qt"]),
        ("Divide between 4 x 150 ml moulds.", ["4: count", "150 ml: vessel, 150 ml"]),
        ("Fill three one-quart jars.", ["three: count", "one-quart: vessel, 1 qt"]),
        ("Butter a 12-hole muffin tin.", ["12-hole: name"]),
    ],
)  # fmt: skip
def test_sentence(text: str, expected: list[str]) -> None:
    assert [told(one) for one in readings(text)] == expected
