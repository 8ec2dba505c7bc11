"""Whole lines in both columns: counts, containers, bounds, ranges, ladders without an end."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.house.style import House
from cardsmith.language.spans import Share
from cardsmith.measure.larder import Larder
from cardsmith.measure.quantity import Bound, Quantity, quantity
from cardsmith.measure.units import Dimension, System, units
from cardsmith.measure.weighing import Density
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.model import Container, Ingredient
from cardsmith.rewrite.printed import Dual, Printed, Term
from cardsmith.rewrite.rounding.dual import single_dual
from cardsmith.rewrite.rounding.food_amount import FoodAmount, food_amount_of
from cardsmith.rewrite.wording import short

HERE = Where(file="recipe.yaml", line=1, column=1)
SLOW = settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])


def _dual(text: str, larder: Larder, house: House) -> Dual:
    line, _ = read_line(text, HERE, larder)
    assert line.amount is not None
    return single_dual(food_amount_of(line.amount, line), line.amount.written, house)


def _texts(dual: Dual) -> tuple[str, str]:
    return short(dual.us).replace("\u00a0", " "), short(dual.metric).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("text", "us", "metric"),
    [
        # ranges
        ("2 to 3 tablespoons water", "2 to 3 tbsp", "30 to 45 ml"),
        ("1 to 2 cups whole milk", "1 to 2 cups", "240 to 480 ml"),
        ("100 to 135 g granulated sugar", "½ to ⅔ cup", "100 to 135 g"),
        ("½ to 1 teaspoon vanilla extract", "½ to 1 tsp", "2.5 to 5 ml"),
        ("1 to 1½ pounds ground beef", "1 to 1½ lb", "450 to 680 g"),
        ("5 to 20 g fine salt", "¾ tsp + ⅛ tsp to 1 tbsp + ¼ tsp", "5 to 20 g"),
        ("400 g to 1 kg ground beef", "14 oz to 2¼ lb", "400 g to 1 kg"),
        ("12 oz to 1 lb ground beef", "12 oz to 1 lb", "340 to 450 g"),
        ("100 to 101 g granulated sugar", "½ cup to ½ cup + 1 tsp", "100 to 101 g"),
        # pieces
        ("2 to 3 lemons", "2 to 3", "2 to 3"),
        ("3 stalks celery (150 g)", "3 stalks (5¼ oz in all)", "3 stalks (150 g in all)"),
        ("4 chicken breasts (700 g)", "4 (1½ lb in all)", "4 (700 g in all)"),
        ("4 chicken breasts (170 g each)", "4 (6 oz each)", "4 (170 g each)"),
        ("8 chicken thighs (2 to 2½ lb)", "8 (2 to 2½ lb in all)", "8 (910 g to 1.13 kg in all)"),
        ("1 chicken (3 to 4 lb)", "1 (3 to 4 lb)", "1 (1.35 to 1.8 kg)"),
        ("3 to 4 carrots (300 g)", "3 to 4 (10½ oz in all)", "3 to 4 (300 g in all)"),
        ("4 (6- to 8-oz.) fillets salmon", "4 fillets (6 to 8 oz each)", "4 fillets (170 to 225 g each)"),
        ("1 whole turkey (14 lb)", "1 (14 lb)", "1 (6.35 kg)"),
        ("1 bunch kale, leaves torn (about 8 cups)", "1 bunch (about 8 cups)", "1 bunch (about 1.9 L)"),
        ("1 bunch kale (200 g)", "1 bunch (7 oz)", "1 bunch (200 g)"),
        ("3 large eggs", "3", "3 (150 g in all)"),
        ("zest of 2 lemons", "2", "2"),  # "2 (12 g in all) lemons, zest" would weigh the lemons
        ("juice of half a lemon", "½", "½"),
        ("juice of 2 lemons (about ¼ cup)", "2 (about ¼ cup in all)", "2 (about 60 ml in all)"),
        ("1 can (28 oz/796 ml) tomatoes", "1 (28-ounce) can", "1 (796 ml) can"),
        (
            "4 to 6 chicken thighs, about 2½ lb all told",
            "4 to 6 (about 2½ lb in all)",
            "4 to 6 (about 1.1 kg in all)",
        ),
        ("9oz (250g) block puff pastry", "1 (9-ounce) block", "1 (250 g) block"),
        ("a 1.2 kg chicken, jointed", "1 (2⅔ lb)", "1 (1.2 kg)"),
        ("2 lemons, juiced", "2", "2 (220 g in all)"),
        ("1 cauliflower", "1", "1 (950 g)"),
        ("4 large egg whites (130 g)", "4", "4 (130 g in all)"),
        ("100 g egg whites", "3", "100 g"),
        ("½ cup (1 stick) unsalted butter", "½ cup", "115 g"),
        # containers
        ("7 g sachet instant yeast", "1 (¼-ounce) sachet", "1 (7 g) sachet"),
        ("2 (400 g) cans tomatoes", "2 (14-ounce) cans", "2 (400 g) cans"),
        ("2¼ teaspoons (1 envelope) instant yeast", "1 envelope (2¼ tsp)", "1 envelope (7 g)"),
        ("1 (½-cup) jar honey", "1 (½-cup) jar", "1 (170 g) jar"),
        ("1 (2-cup) carton chicken stock", "1 (2-cup) carton", "1 (475 ml) carton"),
        ("2-3 x 400 g cans tomatoes", "2 to 3 (14-ounce) cans", "2 to 3 (400 g) cans"),
        ("2 cans (800 g total) tomatoes", "2 cans (1¾ lb in all)", "2 cans (800 g in all)"),
        ("1 (14.5-ounce) can tomatoes", "1 (14.5-ounce) can", "1 (410 g) can"),
        ("1 (330 ml) can coconut milk", "1 (11-fluid-ounce) can", "1 (330 ml) can"),
        ("1 (1 kg) bag carrots", "1 (2.25-pound) bag", "1 (1 kg) bag"),
        ("1 (50 g) jar anchovies", "1 (1.75-ounce) jar", "1 (50 g) jar"),
        ("1 (8 g) sachet instant yeast", "1 (0.28-ounce) sachet", "1 (8 g) sachet"),
        # what the author said in a column's own units stands in it
        ("500 ml (2 cups) vegetable stock", "2 cups + 2 tbsp", "500 ml"),  # of 250 ml
        ("1 lb (450 g) ground beef", "1 lb", "450 g"),
        ("2.2 lb (1 kg) leeks", "2 lb 3 oz", "1 kg"),
        ("6 fl oz (170 ml) whole milk", "¾ cup", "170 ml"),
        ("scant ¼ cup (50 ml) olive oil", "scant ¼ cup", "50 ml"),
        ("scant ¼ cup (60 ml) olive oil", "scant ¼ cup", "scant 60 ml"),
        ("3 carrots (300 g; 2 cups)", "3 (2 cups in all)", "3 (300 g in all)"),
        ("¼ tsp ground black pepper", "¼ tsp", "0.6 g"),
        ("150 to 175 g (5 to 6 oz) feta", "5 to 6 oz", "150 to 175 g"),
        ("3 to 4 teaspoons dried oregano", "3 to 4 tsp", "3 to 4 g"),
        ("2 cups minus 2 teaspoons water", "2 cups minus 2 tsp", "470 ml"),
        ("12 jumbo shrimp", "12", "12"),
        ("1 large onion", "1", "1 (165 g)"),
        ("100 to 125 g dried breadcrumbs", "1 to 1¼ cups", "100 to 125 g"),
        ("150 to 200 g cornstarch", "1 cup + 2 tbsp to 1½ cups", "150 to 200 g"),
        ("2 cups less 1 tsp orange juice", "2 cups minus 1 tsp", "475 ml"),
        ("2 cups plus 1 tsp orange juice", "2 cups + 1 tsp", "485 ml"),
        ("1 cup less 1 tablespoon water", "¾ cup + 3 tbsp", "225 ml"),
        ("1 lb minus 1 oz ground beef", "15 oz", "425 g"),
        ("100 g (1 cup) moon dust", "1 cup", "100 g"),
        ("1⅔ cups (150 g) desiccated coconut", "1⅔ cups", "150 g"),
        ("1½ cups (135 g) rolled oats", "1½ cups", "135 g"),
        ("105 g feta (about ¾ cup)", "about ¾ cup", "105 g"),
        ("200 g (3 cups) bread flour", "1⅔ cups", "200 g"),  # another check's to ask
        ("9.37 oz bread flour", "9½ oz", "265 g"),
        ("1.2 kg leeks", "2⅔ lb", "1.2 kg"),
        # a spoon under half a teaspoon is no truer than an eighth, but a cure must be
        ("1.4 g fine salt", "¼ tsp", "1.4 g"),
        ("1.4 g pink curing salt no. 1", "0.049 oz", "1.4 g"),
        ("2 inches fresh ginger", "2 in", "5 cm"),
        ("3 to 5 cm fresh ginger", "1¼ to 2 in", "3 to 5 cm"),
        # bounds
        ("about 2 tbsp olive oil", "about 2 tbsp", "about 30 ml"),
        ("up to 2 tbsp water", "up to 2 tbsp", "up to 30 ml"),
        ("at least 1 L water", "at least 4¼ cups", "at least 1 L"),
        ("scant 1 cup granulated sugar", "scant 1 cup", "just under 200 g"),
        ("1 heaping tbsp cornstarch", "heaping 1 tbsp", "more than 8 g"),
    ],
)
def test_lines_as_an_editor_prints_them(
    text: str, us: str, metric: str, larder: Larder, house: House
) -> None:
    assert _texts(_dual(text, larder, house)) == (us, metric)


def _line(amount: Quantity, *stated: Quantity, **more: object) -> Ingredient:
    """A line as a reader tells it, of a food that the larder has not."""
    return Ingredient(where=HERE, text="", item="moon dust", food=None, amount=amount, stated=stated, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("line", "us", "metric"),
    [
        (
            _line(quantity(680, units()["gram"]), quantity(4, units()["fillet"]), amount_share=Share.EACH),
            "4 fillets (6 oz each)",
            "4 fillets (170 g each)",
        ),
        (
            _line(
                replace(quantity(700, units()["gram"]), bound=Bound.ABOUT),
                quantity(4, units()["fillet"]),
            ),
            "4 fillets (about 1½ lb in all)",
            "4 fillets (about 700 g in all)",
        ),
        (  # a handful is what its author called it
            _line(
                quantity(60, units()["gram"]),
                replace(quantity(1, units()["handful"]), written="1 small handful"),
            ),
            "1 small handful (2 oz)",
            "1 small handful (60 g)",
        ),
        (
            _line(
                quantity(800, units()["gram"]),
                container=Container(
                    count=quantity(2, units()["can"]), word="can", each=quantity(400, units()["gram"])
                ),
            ),
            "2 (14-ounce) cans",
            "2 (400 g) cans",
        ),
        (
            _line(
                quantity(800, units()["gram"]),
                container=Container(count=quantity(2, units()["can"]), word="can", each=None),
            ),
            "2 cans (1¾ lb in all)",
            "2 cans (800 g in all)",
        ),
        (  # the ends of a range have their own units
            _line(replace(quantity(500, units()["gram"], high=1000), high_unit=units()["kilogram"])),
            "1 lb 2 oz to 2¼ lb",
            "500 g to 1 kg",
        ),
    ],
)
def test_lines_as_a_reader_tells_them(line: Ingredient, us: str, metric: str, house: House) -> None:
    assert line.amount is not None
    assert _texts(single_dual(food_amount_of(line.amount, line), "", house)) == (us, metric)


# --- properties ---------------------------------------------------------------------------------------

FOODS = st.sampled_from(
    ["granulated-sugar", "water", "fine-salt", "unsalted-butter", "cheddar", "bread-flour", "saffron", ""]
)
UNITS = st.sampled_from(
    "gram|kilogram|milligram|millilitre|litre|cup|tablespoon|teaspoon|ounce|pound|gallon|imperial pint|"
    "metric cup|jigger".split("|")
)
NUMBERS = st.one_of(
    st.fractions(min_value=Fraction(1, 100), max_value=5, max_denominator=100),
    st.fractions(min_value=1, max_value=2000, max_denominator=4),
)


def _subject(
    food: str, unit: str, low: Fraction, high: Fraction, larder: Larder, **more: object
) -> FoodAmount:
    amount = quantity(low, units()[unit], high=high)
    return FoodAmount(amount=amount, food=larder.foods[food] if food else None, **more)  # type: ignore[arg-type]


def _terms(printed: Printed) -> list[Term]:
    beside = [term for one in printed.beside for term in _terms(one)]
    return [*printed.low, *printed.high, *beside]


@SLOW
@given(food=FOODS, unit=UNITS, low=NUMBERS, more=st.one_of(st.just(Fraction(0)), NUMBERS))
def test_each_column_prints_its_own_units_near_the_author_s_amount(
    food: str, unit: str, low: Fraction, more: Fraction, larder: Larder, house: House
) -> None:
    subject = _subject(food, unit, low, low + more, larder)
    dual = single_dual(subject, "", house)
    for system, column in (("us", System.US), ("metric", System.METRIC)):
        terms = _terms(dual.of(system))
        assert {term.unit.system for term in terms if term.unit.dimension is not Dimension.COUNT} <= {column}
        error = dual.error(system)
        assert error is not None
        # Of a range one end may stand off by a tenth; a spoon under ½ teaspoon by an eighth.
        assert abs(error) <= max(house.tolerances[subject.role_class], Fraction(1, 8))


@SLOW
@given(food=FOODS, unit=UNITS, low=NUMBERS, more=NUMBERS)
def test_ends_stay_apart_and_in_order(
    food: str, unit: str, low: Fraction, more: Fraction, larder: Larder, house: House
) -> None:
    dual = single_dual(_subject(food, unit, low, low + more, larder), "", house)
    for printed in (dual.us, dual.metric):
        assert printed.least < printed.most
        assert len(set(short(printed).split(" to "))) == 2


@SLOW
@given(
    unit=st.sampled_from(["gram", "ounce", "pound", "millilitre", "cup"]),
    number=st.integers(min_value=2, max_value=12),
    each=st.integers(min_value=1, max_value=40).map(lambda one: Fraction(one, 2)),
    share=st.sampled_from(Share),
    bound=st.sampled_from(Bound),
)
def test_a_size_beside_a_count_says_whose_it_is_and_answers_for_all(
    unit: str, number: int, each: Fraction, share: Share, bound: Bound, larder: Larder, house: House
) -> None:
    count = quantity(number, units()["fillet"])
    amount = replace(quantity(each * number * 10, units()[unit]), bound=bound)
    dual = single_dual(FoodAmount(amount=amount, count=count, share=share), "", house)
    for printed in (dual.us, dual.metric):
        (beside,) = printed.beside
        assert beside.share is share
        assert beside.bound is bound
        assert beside.dimension is amount.dimension
        text = short(printed)
        assert ("each)" in text, "in all)" in text) == (share is Share.EACH, share is Share.ALL)
        first, size = printed.whole()
        assert first.low == number
        assert abs(size.low / amount.low - 1) <= Fraction(8, 100)


@SLOW
@given(food=FOODS, unit=st.sampled_from(["gram", "ounce", "cup", "millilitre"]), low=NUMBERS, more=NUMBERS)
def test_more_never_prints_much_less(
    food: str, unit: str, low: Fraction, more: Fraction, larder: Larder, house: House
) -> None:
    """The cheapest of near numbers may tie; it may not fall by more than both tolerances."""
    few, many = (
        single_dual(_subject(food, unit, number, number, larder), "", house) for number in (low, low + more)
    )
    for system in ("us", "metric"):
        one, other = few.of(system), many.of(system)
        if one.dimension is other.dimension:
            assert other.least >= one.least * Fraction(3, 4)


@SLOW
@given(
    food=st.sampled_from(["granulated-sugar", "water", "cheddar", "bread-flour"]), low=st.integers(1, 4000)
)
def test_printing_what_was_printed_changes_nothing(food: str, low: int, larder: Larder, house: House) -> None:
    """Each column, taken for the author's own amount, prints itself."""
    dual = single_dual(_subject(food, "gram", Fraction(low), Fraction(low), larder), "", house)
    for system in ("us", "metric"):
        again = FoodAmount(amount=dual.of(system).quantity(), food=larder.foods[food])
        assert single_dual(again, "", house).of(system) == dual.of(system)


@pytest.mark.parametrize(
    ("text", "by_its_author"),
    [
        ("1⅔ cups (150 g) desiccated coconut", True),  # a fifth less than the larder's cup
        ("1⅔ cups (200 g) bread flour", False),  # two weighings of one flour
        ("100 g (1 cup) moon dust", True),
    ],
)
def test_a_cup_that_its_author_weighed_is_the_measure_of_its_line(
    text: str, by_its_author: bool, larder: Larder, house: House
) -> None:
    dual = _dual(text, larder, house)
    assert ("as measured" in dual.basis) is by_its_author
    assert (dual.us_error == 0) is by_its_author


@pytest.mark.parametrize(("food", "unit"), [("curing-salt-1", "ounce"), ("fine-salt", "teaspoon")])
def test_a_cure_is_weighed_where_salt_goes_by_the_spoon(
    food: str, unit: str, larder: Larder, house: House
) -> None:
    """Were a spoon of it ever weighed: 1.4 g at 6 g a teaspoon are 7 % less than a quarter of one."""
    dense = Density(per=Dimension.VOLUME, grams=6 / units()["teaspoon"].size, form="", basis="a trial")
    subject = FoodAmount(
        amount=quantity(Fraction(14, 10), units()["gram"]), food=larder.foods[food], own_density=dense
    )
    dual = single_dual(subject, "", house)
    assert dual.us.low[0].unit.name == unit
    assert abs(dual.us_error or 0) <= Fraction(1, 8)
