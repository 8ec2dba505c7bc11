"""The strict reader of printed amounts, and the comparison of lines, held to strings printed by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.language.meaning.sentence_meanings import Drawn as Sentence
from tests.language.meaning.sentence_pen import Entry
from tests.language.meaning.statements import Drawn, Statement, say
from tests.printed.compare_lines import faults
from tests.printed.compare_sentences import faults as sentence_faults
from tests.printed.meant import densities
from tests.printed.printed_reader import readings, words_between

ONE_AMOUNT = [
    ("2 to 3 tbsp", "2", "3", "tablespoon"),
    ("2–3 tbsp", "2", "3", "tablespoon"),
    ("about 1¼ lb", "5/4", "5/4", "pound"),
    ("1 1/2 cups", "3/2", "3/2", "cup"),
    ("8- to 10-ounce", "8", "10", "ounce"),
    ("⅛-to-¼-inch", "1/8", "1/4", "inch"),
    ("between 2 and 3 cups", "2", "3", "cup"),
    ("1,200 g", "1200", "1200", "gram"),
    ("2.5 g", "5/2", "5/2", "gram"),
    ("−18 °C", "-18", "-18", "celsius"),
    ("-2 to 5°C", "-2", "5", "celsius"),
    ("between −2 and 3 °C", "-2", "3", "celsius"),
    ("-3 to -1 °C", "-3", "-1", "celsius"),
    ("180° to 190°C", "180", "190", "celsius"),
    ("three hundred and fifty degrees Fahrenheit", "350", "350", "fahrenheit"),
    ("gas mark ½", "1/2", "1/2", "gas mark"),
    ("an hour and a half", "3/2", "3/2", "hour"),
    ("half an hour", "1/2", "1/2", "hour"),
    ("three quarters of an hour", "3/4", "3/4", "hour"),
    ("¾ of a cup", "3/4", "3/4", "cup"),
    ("one and a half hours", "3/2", "3/2", "hour"),
    ("1 h 30 min", "90", "90", "minute"),
    ("1h15m", "75", "75", "minute"),
    ("1 hour 20 minutes to 1 hour 40 minutes", "80", "100", "minute"),
    ("half a dozen", "6", "6", ""),
    ("2 dozen", "24", "24", ""),
    ("2 or 3 times", "2", "3", ""),
    ("steps 2 and 3", "2", "3", ""),
    ("half-and-half", "1/2", "1/2", ""),
    ("five-spice powder", "5", "5", ""),
    ("45-degree angle", "45", "45", "degree"),
    ("10 lb pressure", "10", "10", "pound per square inch"),
    ("3,000 feet", "3000", "3000", "foot"),
    ("70%", "70", "70", "percent"),
    ("3 fl oz", "3", "3", "fluid ounce"),
]


@pytest.mark.parametrize(("text", "low", "high", "unit"), ONE_AMOUNT)
def test_one_amount(text: str, low: str, high: str, unit: str) -> None:
    (read,) = readings(text)
    assert (read.low, read.high, read.unit) == (Fraction(low), Fraction(high), unit)


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("½ cup + 1 tbsp", ["cup", "tablespoon"]),
        ("2 (14-ounce) cans", ["", "ounce"]),
        ("4 (6 oz each)", ["", "ounce"]),
        ("9-by-13-inch (23 × 33 cm) pan", ["inch", "centimetre"]),
        ("2 × 400 g", ["", "gram"]),
        ("350 °F (175 °C)", ["fahrenheit", "celsius"]),
        ("180 °C (160 °C fan, gas mark 4)", ["celsius", "celsius", "gas mark"]),
        ("15 minutes per pound", ["minute", "pound"]),
        ("1 lb 4 oz", ["pound", "ounce"]),
    ],
)
def test_several_amounts(text: str, units: list[str]) -> None:
    assert [read.unit for read in readings(text)] == units


def test_each_all_and_the_fan_are_kept() -> None:
    assert readings("4 (6 oz each)")[1].of == "each"
    assert readings("4 (1½ lb in all)")[1].of == "all"
    assert [read.fan for read in readings("180C/fan 160C/gas 4")] == [False, True, False]
    assert readings("9-by-13-inch")[0].sides == ((Fraction(9), Fraction(9)), (Fraction(13), Fraction(13)))


@pytest.mark.parametrize(
    ("text", "bound"),
    [
        ("up to 3 cups", "at most"),
        ("3+ cups", "at least"),
        ("1 cup or more", "at least"),
        ("2 tbsp or so", "about"),
        ("scant ½ cup", "scant"),
        ("2 heaping tbsp", "heaping"),
        ("a good 10 minutes", "heaping"),
        ("2 cups", "exactly"),
    ],
)
def test_bounds(text: str, bound: str) -> None:
    assert readings(text)[0].bound == bound


def test_strange_words_are_left_over() -> None:
    assert words_between("2 (14 oz) flagons") == ("flagons",)


@pytest.mark.parametrize(
    "food",
    ["unsalted butter", "plain flour", "melted ghee", "35% whipping cream", "lemon juice", "caster sugar"],
)
def test_foods_have_densities(food: str) -> None:
    assert all(Fraction(4, 10) < one < Fraction(13, 10) for one in densities(food))


def drawn(text: str, food: str, *statements: Statement) -> Drawn:
    return Drawn(text=text, kind="", statements=statements, food=food)


def entry(kind: str, low: str, unit: str, *, high: str = "", purpose: str = "", same: bool = False) -> Entry:
    return Entry(
        kind=kind, low=Fraction(low), high=Fraction(high or low), unit=unit, purpose=purpose, same=same
    )


def sentence(text: str, *entries: Entry) -> Sentence:
    return Sentence(text=text, field="step", kind="", entries=entries)


OVEN = sentence(
    "Bake at 350 °F for 30 minutes.",
    entry("temperature", "350", "fahrenheit", purpose="oven"),
    entry("duration", "30", "minute"),
)
LOWER = sentence("Lower the oven by 10 °C.", entry("difference", "10", "celsius"))
FAN = sentence(
    "Heat to 180 °C (160 °C fan).",
    entry("temperature", "180", "celsius", purpose="oven"),
    entry("temperature", "160", "celsius", purpose="oven", same=True),
)
TIN = sentence("Use a 9x13 inch pan.", entry("vessel", "9", "inch"), entry("vessel", "13", "inch"))
POUR = sentence("Add about 2 tbsp oil.", entry("amount", "2", "tablespoon"))
BOTH_ENDS = sentence(
    "Take 1½ to 2 cups plus 1 tbsp flour.",
    entry("amount", "3/2", "cup", high="2"),
    entry("amount", "1", "tablespoon"),
)
LAMB = sentence("Rub into 540 to 625 g lamb.", entry("amount", "540", "gram", high="625"))
ADDED = sentence(
    "Measure out 1½ cups plus 1 tbsp flour.",
    entry("amount", "3/2", "cup"),
    entry("amount", "1", "tablespoon"),
)
COLD = sentence(
    "Chill at −2 to 3 °C.", entry("temperature", "-2", "celsius", high="3", purpose="refrigerator")
)
HIGH = sentence("Above 3,000 ft, wait.", entry("altitude", "3000", "foot"))


@pytest.mark.parametrize(
    ("meant", "printed"),
    [
        (OVEN, "Bake at 350 °F (180 °C) for 30 minutes."),
        (LOWER, "Lower the oven by 20 °F (10 °C)."),
        (FAN, "Heat to 350 °F (180 °C; 160 °C fan)."),
        (TIN, "Use a 9-by-13-inch (23 × 33 cm) pan."),
        (POUR, "Add about 2 tablespoons (30 ml) oil."),
        (ADDED, "Measure out 1½ cups plus 1 tablespoon (375 ml) flour."),
        (BOTH_ENDS, "Take 1½ cups plus 1 tablespoon to 2 cups plus 1 tablespoon (375 to 495 ml) flour."),
        (LAMB, "Rub into 1 pound 3 ounces to 1 pound 6 ounces (540 to 625 g) lamb."),
        (COLD, "Chill at 28 to 37 °F (−2 to 3 °C)."),
        (HIGH, "Above 3,000 feet (900 m), wait."),
    ],
)
def test_right_sentences(meant: Sentence, printed: str) -> None:
    assert sentence_faults(meant, printed) == []


@pytest.mark.parametrize(
    ("meant", "printed", "fault"),
    [
        (OVEN, "Bake at 350 °F (205 °C) for 30 minutes.", "wrong oven"),
        (OVEN, "Bake at 350 °F (180 °C) for 35 minutes.", "wrong duration"),
        (OVEN, "Bake at 350 °F (180 °C).", "duration lost"),
        (LOWER, "Lower the oven by 50 °F (10 °C).", "as a point"),
        (FAN, "Heat to 350 °F (180 °C fan; 160 °C).", "fan"),
        (TIN, "Use a 9-by-13-inch (23 × 43 cm) pan.", "wrong vessel"),
        (TIN, "Use a 9-inch (23 cm) pan.", "sides lost"),
        (POUR, "Add 2 tablespoons (30 ml) oil.", "bound lost"),
        (POUR, "Add about 2 tablespoons (50 ml) oil.", "wrong amount"),
        (COLD, "Chill at 28 to 37 °F (2 to 3 °C).", "wrong refrigerator"),
        (HIGH, "Above 36000 inches, wait.", "altitude in inch"),
        (POUR, "Add about 2 tablespoons (30 ml) oil and 5 eggs.", "nothing meant"),
    ],
)
def test_wrong_sentences(meant: Sentence, printed: str, fault: str) -> None:
    assert any(fault in one for one in sentence_faults(meant, printed))


FLOUR = drawn("1 cup plain flour", "plain flour", say(1, "cup"))
BUTTER = drawn("1 lb butter", "butter", say(1, "pound"))
CANS = drawn(
    "2 (14.5-ounce) cans tomatoes",
    "tomatoes",
    say(2, "can"),
    say(Fraction("14.5"), "ounce", of="each", role="beside"),
)
THIGHS = drawn("4 chicken thighs (600 g)", "chicken thighs", say(4, "whole"), say(600, "gram", role="beside"))
SUM = drawn("½ cup plus 1 tbsp honey", "honey", say(Fraction(1, 2), "cup"), say(1, "tablespoon"))
LESS = drawn("½ cup minus 1 tsp cream", "cream", say(Fraction(1, 2), "cup"), say(-1, "teaspoon"))
RANGE = drawn("2–3 tbsp oil", "oil", say(2, "tablespoon", high=3))
ABOUT = drawn("about 500 g beef mince", "beef mince", say(500, "gram", bound="about"))
EITHER = drawn(
    "1 tbsp fresh thyme or 1 tsp dried", "thyme", say(1, "tablespoon"), say(1, "teaspoon", role="alternative")
)
SALT = drawn("Salt, to taste", "salt", say(0, ""))
BUNCH = drawn("a small bunch of dill (15 g)", "dill", say(1, "bunch"), say(15, "gram", role="beside"))
GINGER = drawn("1 (2-inch) piece ginger", "ginger", say(1, "piece"), say(2, "inch", of="each", role="beside"))


@pytest.mark.parametrize(
    ("line", "us", "metric", "item"),
    [
        (FLOUR, "1 cup", "125 g", "plain flour; "),
        (FLOUR, "1 cup", "240 ml", "plain flour; "),
        (BUTTER, "1 lb", "450 g", "butter; "),
        (CANS, "2 (14.5-oz) cans", "2 (411 g) cans", "tomatoes; "),
        (CANS, "2 (14.5 oz)", "2 (410 g each)", "cans tomatoes; "),
        (THIGHS, "4 (1 lb 5 oz in all)", "4 (600 g in all)", "chicken thighs; "),
        (SUM, "½ cup + 1 tbsp", "190 g", "honey; "),
        (RANGE, "2 to 3 tbsp", "30 to 45 ml", "oil; "),
        (ABOUT, "about 1 lb 2 oz", "about 500 g", "beef mince; "),
        (EITHER, "1 tbsp", "15 ml", "thyme, or 1 tsp (5 ml) dried; "),
        (SALT, "", "", "Salt; to taste"),
        (GINGER, "1 (2-inch)", "1 (5 cm)", "piece ginger; "),
        (BUNCH, "a small bunch (½ oz)", "a small bunch (15 g)", "dill; "),
    ],
)
def test_right_lines(line: Drawn, us: str, metric: str, item: str) -> None:
    assert faults(line, us, metric, item) == []


@pytest.mark.parametrize(
    ("line", "us", "metric", "item", "fault"),
    [
        (FLOUR, "1 cup", "240 g", "plain flour; ", "density"),
        (FLOUR, "1 cup", "1 cup", "plain flour; ", "other system"),
        (FLOUR, "2 cups", "250 g", "plain flour; ", "wrong amount"),
        (FLOUR, "1 cup", "125 g", "flour; ", "food lost"),
        (BUTTER, "1 lb", "400 g", "butter; ", "wrong amount"),
        (BUTTER, "", "", "butter; ", "amount lost"),
        (CANS, "2 (29-oz) cans", "2 (822 g) cans", "tomatoes; ", "reads as each"),
        (CANS, "2 cans (29 oz)", "2 cans (822 g)", "tomatoes; ", "left open"),
        (CANS, "1 (14.5-oz) can", "2 (411 g) cans", "tomatoes; ", "wrong count"),
        (CANS, "2 cans", "2 cans", "tomatoes; ", "size of each lost"),
        (THIGHS, "4 (1 lb 5 oz each)", "4 (600 g each)", "chicken thighs; ", "reads as each"),
        (THIGHS, "4 (1 lb 5 oz)", "4 (600 g)", "chicken thighs; ", "reads as each"),
        (ABOUT, "about 1 (1 lb 2 oz)", "about 1 (1000 g)", "beef mince; ", "wrong size or total"),
        (THIGHS, "4", "4", "chicken thighs; ", "of all lost"),
        (SUM, "½ cup", "170 g", "honey; ", "wrong amount"),
        (LESS, "½ cup", "115 ml", "cream; ", "term of the sum lost"),
        (RANGE, "2 tbsp", "30 ml", "oil; ", "range lost"),
        (RANGE, "2 to 3 tbsp", "30 to 50 ml", "oil; ", "wrong amount"),
        (ABOUT, "1 lb 2 oz", "about 500 g", "beef mince; ", "bound lost"),
        (EITHER, "1 tbsp", "15 ml", "thyme; ", "alternative amount lost"),
        (SALT, "1 tsp", "5 ml", "Salt; ", "none was meant"),
        (GINGER, "1 (2-inch)", "1 (2 cm)", "piece ginger; ", "wrong size"),
        (FLOUR, "1 cup", "125 g", "plain flour 40 g; ", "never written"),
    ],
)
def test_wrong_lines(line: Drawn, us: str, metric: str, item: str, fault: str) -> None:
    assert any(fault in one for one in faults(line, us, metric, item))
