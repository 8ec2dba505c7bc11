"""Whole lists in both columns: ratios held, sums exact, the same printed the same, twice the same as once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardsmith.facts.foods.roles import role_class
from cardsmith.finding import Severity
from cardsmith.house.style import House
from cardsmith.language.spans import Draw
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.batches.scale import scale
from cardsmith.rewrite.printed import Dual
from cardsmith.rewrite.rounding.amounts import Rounded, round_amounts
from cardsmith.rewrite.wording import short

MakeRecipe = Callable[..., Recipe]
NB = "\u00a0"
SLOW = settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])


def _columns(recipe: Recipe, rounded: Rounded) -> list[tuple[str, str]]:
    duals = [rounded.amounts.get(line.where) for line in recipe.ingredients]
    return [
        (short(one.us).replace(NB, " "), short(one.metric).replace(NB, " ")) if one else ("", "")
        for one in duals
    ]


def _grams(dual: Dual, system: str) -> Fraction:
    """The printed amount in the author's dimension: what a cook of that column weighs out."""
    error = dual.us_error if system == "us" else dual.metric_error
    assert error is not None
    return _exact(dual) * (1 + error)


def _exact(dual: Dual) -> Fraction:
    return dual.exact[0].low


# Realistic formulas in grams: (food, least, most). Bakers' percentages are left to chance on purpose.
GOVERNING = {
    "all-purpose flour": (150, 900),
    "bread flour": (150, 900),
    "whole-grain rye flour": (60, 400),
    "granulated sugar": (60, 500),
    "packed light brown sugar": (60, 400),
    "unsalted butter": (60, 450),
    "whole milk": (80, 700),
    "water": (80, 700),
    "olive oil": (60, 300),
    "honey": (60, 300),
}
FORMULAS = st.lists(st.sampled_from(sorted(GOVERNING)), min_size=3, max_size=6, unique=True).flatmap(
    lambda foods: st.tuples(*(st.tuples(st.just(food), st.integers(*GOVERNING[food])) for food in foods))
)


def _lines(formula: tuple[tuple[str, int], ...]) -> str:
    return "; ".join(f"{grams} g {food}" for food, grams in formula)


@SLOW
@given(formula=FORMULAS)
def test_no_ratio_of_governing_ingredients_moves_past_the_limit_unless_said(
    formula: tuple[tuple[str, int], ...], recipe_of: MakeRecipe, house: House
) -> None:
    recipe = recipe_of(_lines(formula))
    rounded = round_amounts(recipe, house)
    whole = sum(grams for _, grams in formula)
    for system in ("us", "metric"):
        named = {"US" if system == "us" else "metric"}
        excused = any(
            one.name == "ratio-drift" and any(name in one.what for name in named) for one in rounded.findings
        )
        governing = [
            (line, rounded.amounts[line.where])
            for line in recipe.ingredients
            if role_class(line.food) == "governing" and line.amount and line.amount.low * 20 >= whole
        ]
        for (_, one), (_, other) in combinations(governing, 2):
            before = one.exact[0].over(other.exact[0])
            after = _grams(one, system) / _grams(other, system)
            moved = max(after / before, before / after) - 1
            assert moved <= house.ratio_limit or excused


@SLOW
@given(formula=FORMULAS)
def test_every_amount_stays_within_the_tolerance_of_its_role(
    formula: tuple[tuple[str, int], ...], recipe_of: MakeRecipe, house: House
) -> None:
    recipe = recipe_of(_lines(formula))
    rounded = round_amounts(recipe, house)
    for line in recipe.ingredients:
        dual = rounded.amounts[line.where]
        assert dual.us_error is not None
        assert dual.metric_error is not None
        assert abs(dual.us_error) <= house.tolerances["other"]
        assert abs(dual.metric_error) <= house.tolerances["governing"]


@SLOW
@given(formula=FORMULAS)
def test_each_error_is_the_printed_value_over_the_author_s(
    formula: tuple[tuple[str, int], ...], recipe_of: MakeRecipe, house: House
) -> None:
    """The number the proof shows is recomputed from what is printed, by hand."""
    recipe = recipe_of(_lines(formula))
    rounded = round_amounts(recipe, house)
    for line in recipe.ingredients:
        dual = rounded.amounts[line.where]
        assert dual.metric.least / _exact(dual) - 1 == dual.metric_error
        if dual.us.dimension is Dimension.VOLUME:
            assert dual.density is not None
            assert dual.us.least * dual.density.grams / _exact(dual) - 1 == dual.us_error


def _again(text: str) -> str:
    """A printed amount as an author would type it."""
    return text.replace(NB, " ").replace(" + ", " plus ")


@SLOW
@given(formula=FORMULAS)
def test_rewriting_what_was_printed_changes_nothing(
    formula: tuple[tuple[str, int], ...], recipe_of: MakeRecipe, house: House
) -> None:
    """Each column typed back as the author's list prints itself again, if all of it fits the limit."""
    recipe = recipe_of(_lines(formula))
    columns = _columns(recipe, round_amounts(recipe, house))
    for column in (0, 1):
        typed = "; ".join(
            f"{_again(texts[column])} {food}" for texts, (food, _) in zip(columns, formula, strict=True)
        )
        again = recipe_of(typed)
        assert [texts[column] for texts in _columns(again, round_amounts(again, house))] == [
            texts[column] for texts in columns
        ]


@SLOW
@given(formula=FORMULAS, eighths=st.integers(min_value=2, max_value=32))
def test_scaling_commutes_with_conversion_before_rounding(
    formula: tuple[tuple[str, int], ...], eighths: int, recipe_of: MakeRecipe, house: House
) -> None:
    factor = Fraction(eighths, 8)
    recipe = recipe_of(_lines(formula))
    small = round_amounts(recipe, house)
    large = round_amounts(scale(recipe, factor).recipe, house)
    for line in recipe.ingredients:
        one, other = small.amounts[line.where], large.amounts[line.where]
        assert _exact(other) == _exact(one) * factor
        if one.density and other.density:  # both columns print volumes: they go by the same weighing
            assert other.density == one.density


@pytest.mark.parametrize("food", ["granulated sugar", "water", "fine salt", "unsalted butter", "cheddar"])
def test_a_larger_amount_never_prints_smaller(food: str, recipe_of: MakeRecipe, house: House) -> None:
    """Up to 600 g the printed values of both columns never step back."""
    last = {"us": Fraction(0), "metric": Fraction(0)}
    for grams in (*range(1, 60, 2), *range(60, 600, 9)):
        recipe = recipe_of(f"{grams} g {food}")
        dual = round_amounts(recipe, house).amounts[recipe.ingredients[0].where]
        for system in ("us", "metric"):
            value = _grams(dual, system)
            assert value >= last[system], f"{grams} g prints {short(dual.us)}"
            last[system] = value


# --- draws --------------------------------------------------------------------------------------------


def _draws(recipe: Recipe, rounded: Rounded, key: str) -> list[Dual]:
    spans = [span for step in recipe.steps for span in step.spans if isinstance(span, Draw)]
    return [
        rounded.amounts[span.where] for span in spans if span.key == key and span.where in rounded.amounts
    ]


@SLOW
@given(
    whole=st.integers(min_value=40, max_value=600),
    share=st.fractions(min_value=Fraction(1, 5), max_value=Fraction(4, 5), max_denominator=12),
    food=st.sampled_from(["granulated sugar", "unsalted butter", "sesame seeds", "olive oil", "whole milk"]),
)
def test_draws_add_up_to_the_list_as_printed(
    whole: int, share: Fraction, food: str, recipe_of: MakeRecipe, house: House
) -> None:
    first = max(round(whole * share), 1)
    recipe = recipe_of(
        f"one# {whole} g | {food}", f"Take [{first} g](#one) of it.; Add [the rest](#one) of it."
    )
    rounded = round_amounts(recipe, house)
    total = rounded.amounts[recipe.ingredients[0].where]
    drawn = _draws(recipe, rounded, "one")
    assert len(drawn) == 2
    said = {one.what for one in rounded.findings if one.name == "draws-do-not-add-up"}
    for system, column in (("us", "US"), ("metric", "metric")):
        parts = [getattr(one, system) for one in drawn]
        sums = sum(one.least for one in parts) == getattr(total, system).least
        assert sums or any(column in what for what in said)
        if sums:
            assert len({one.dimension for one in (*parts, getattr(total, system))}) == 1


def test_three_draws_and_the_rest(recipe_of: MakeRecipe, house: House) -> None:
    recipe = recipe_of(
        "sugar# 300 g | granulated sugar",
        "Take [100 g](#sugar).; Take [half](#sugar).; Take [the rest](#sugar).",
    )
    rounded = round_amounts(recipe, house)
    drawn = _draws(recipe, rounded, "sugar")
    assert [_exact(one) for one in drawn] == [100, 150, 50]
    assert [short(one.us).replace(NB, " ") for one in drawn] == ["½ cup", "¾ cup", "¼ cup"]
    assert short(rounded.amounts[recipe.ingredients[0].where].us) == f"1½{NB}cups"


@pytest.mark.parametrize("number", [3, 12, 30])
def test_many_draws_take_no_longer_than_they_should(number: int, recipe_of: MakeRecipe, house: House) -> None:
    """Trying all combinations of thirty draws would outlast the kitchen."""
    steps = "; ".join(f"Take [{20 + place} g](#sugar)." for place in range(number))
    recipe = recipe_of("sugar# 1.5 kg | granulated sugar", f"{steps}; Add [the rest](#sugar).")
    rounded = round_amounts(recipe, house)
    total, drawn = rounded.amounts[recipe.ingredients[0].where], _draws(recipe, rounded, "sugar")
    assert len(drawn) == number + 1
    assert sum(one.metric.least for one in drawn) == total.metric.least


def test_draws_that_add_up_to_nothing_listed_print_each_as_near_as_may_be(
    recipe_of: MakeRecipe, house: House
) -> None:
    """A cup of sugar is 200 g, so that 7 g are 1.7 teaspoons and 90 g are ⅓ cup and 1.9 tablespoons."""
    recipe = recipe_of("sugar# 97 g | granulated sugar", "Take [7 g](#sugar).; Add [the rest](#sugar).")
    rounded = round_amounts(recipe, house)
    assert "draws-do-not-add-up" in [one.name for one in rounded.findings]
    told = [short(one.us).replace(NB, " ") for one in _draws(recipe, rounded, "sugar")]
    assert told == ["1¾ tsp", "⅓ cup + 2 tbsp"]


def test_spoons_drawn_from_a_stick_are_not_held_against_its_number(
    recipe_of: MakeRecipe, house: House
) -> None:
    recipe = recipe_of(
        "butter# 1 stick | unsalted butter", "Melt [6 tablespoons](#butter).; Add [2 tablespoons](#butter)."
    )
    rounded = round_amounts(recipe, house)
    assert [short(one.us) for one in _draws(recipe, rounded, "butter")] == [f"6{NB}tbsp", f"2{NB}tbsp"]
    assert not rounded.findings


def test_a_draw_by_the_spoon_from_a_weight(recipe_of: MakeRecipe, house: House) -> None:
    recipe = recipe_of("oil# 60 g | olive oil", "Heat [2 tablespoons](#oil).; Add [the rest](#oil).")
    rounded = round_amounts(recipe, house)
    first, rest = _draws(recipe, rounded, "oil")
    assert short(first.us) == f"2{NB}tbsp"
    assert first.exact[0].plus(rest.exact[0]).low == 60
    assert not rounded.findings


# --- the same thing twice -----------------------------------------------------------------------------


def test_parts_that_share_an_amount_print_it_the_same(recipe_of: MakeRecipe, house: House) -> None:
    recipe = recipe_of(
        ("137 g bread flour; 93 g water", "Mix."), ("137 g bread flour; 61 g granulated sugar", "Mix.")
    )
    columns = _columns(recipe, round_amounts(recipe, house))
    assert columns[0] == columns[2]


def test_the_order_of_parts_does_not_matter(recipe_of: MakeRecipe, house: House) -> None:
    dough, glaze = ("137 g bread flour; 93 g water", "Mix."), ("83 g powdered sugar; 21 g whole milk", "Mix.")
    there, back = recipe_of(dough, glaze), recipe_of(glaze, dough)
    one, other = (_columns(recipe, round_amounts(recipe, house)) for recipe in (there, back))
    assert sorted(one) == sorted(other)


# --- what a cook would circle -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "us", "metric"),
    [
        ("200 g granulated sugar", "1 cup", "200 g"),
        ("125 g all-purpose flour", "1 cup", "125 g"),
        ("113 g unsalted butter", "½ cup", "113 g"),
        ("71 g unsalted butter", "5 tbsp", "71 g"),
        ("8 ounces cheddar", "8 oz", "225 g"),
        ("225 g cheddar", "8 oz", "225 g"),
        ("1 pound ground beef", "1 lb", "450 g"),
        ("1 cup whole milk", "1 cup", "240 ml"),  # NIST, Metric Cooking
        ("1 tablespoon olive oil", "1 tbsp", "15 ml"),
        ("1 teaspoon vanilla extract", "1 tsp", "5 ml"),
        ("3 large eggs", "3", "3 (150 g in all)"),
        ("1.2 kg water", "5 cups", "1.2 kg"),
        ("85 g honey", "¼ cup", "85 g"),
        ("0.3 g instant yeast", "1⁄16 tsp + 1⁄32 tsp", "0.3 g"),
        ("0.15 g saffron", "⅛ tsp + 1⁄16 tsp", "0.15 g"),
        ("0.05 g xanthan gum", "0.0018 oz", "0.05 g"),
        ("250 mg citric acid", "1⁄16 tsp", "0.25 g"),
        ("2 ml vanilla extract", "⅜ tsp", "2 ml"),
        ("⅓ teaspoon fine salt", "⅓ tsp", "2 g"),
        ("7.5 ml vanilla extract", "1½ tsp", "7.5 ml"),
        ("10 kg ground beef", "22 lb", "10 kg"),
        ("50 kg bread flour", "110 lb", "50 kg"),
        ("20 cups water", "5 qt", "4.8 L"),
        ("30 L water", "8 gal", "30 L"),
        ("6.5 g moon dust", "0.23 oz", "6.5 g"),
    ],
)
def test_single_lines_as_an_editor_expects_them(
    line: str, us: str, metric: str, recipe_of: MakeRecipe, house: House
) -> None:
    recipe = recipe_of(line)
    assert _columns(recipe, round_amounts(recipe, house)) == [(us, metric)]


def test_each_column_holds_its_own_units_and_what_no_spoon_measures_is_said(
    recipe_of: MakeRecipe, house: House
) -> None:
    for hundredths in (*range(1, 60), *range(60, 600, 7)):
        recipe = recipe_of(f"{hundredths / 100} g fine salt")
        rounded = round_amounts(recipe, house)
        (dual,) = rounded.amounts.values()
        terms = (*dual.us.low, *dual.us.high)
        assert {term.unit.system for term in terms} == {System.US}
        assert {term.unit.system for term in (*dual.metric.low, *dual.metric.high)} == {System.METRIC}
        in_ounces = {term.unit.name for term in terms} == {"ounce"}
        assert [one.name for one in rounded.findings] == ["no-us-measure"] * in_ounces
        assert abs(dual.us_error or 0) <= Fraction(1, 8)


def test_a_meringue_of_equal_weights_keeps_them_equal(recipe_of: MakeRecipe, house: House) -> None:
    """Equal parts of white, granulated and powdered sugar (common practice, no source)."""
    recipe = recipe_of("4 large egg whites (130 g); 130 g granulated sugar; 130 g powdered sugar")
    rounded = round_amounts(recipe, house)
    for system in ("us", "metric"):
        weights = [_grams(rounded.amounts[line.where], system) for line in recipe.ingredients]
        assert max(weights) / min(weights) - 1 <= house.ratio_limit
    assert _columns(recipe, rounded)[0] == ("4", "4 (130 g in all)")


def test_what_cannot_be_held_is_said_with_what_would_help(recipe_of: MakeRecipe, house: House) -> None:
    """No spoons come near so little of both together; the batch nearest to one that does is named."""
    rounded = round_amounts(recipe_of("10 g bread flour; 7 g water"), house)
    assert rounded.drift["us"] > house.ratio_limit >= rounded.drift["metric"]
    (finding,) = rounded.findings
    assert finding.name == "ratio-drift"
    assert finding.what.replace("\xa0", " ") == (
        "water: 7 g prints as 1¼ tsp + ⅛ tsp in the US column, 3.2 % off, "
        "and moves a ratio of the formula by 5.9 % (house limit 3.0 %)"
    )
    assert finding.instead == (
        "ask the reader to weigh it, or make 1.125 times the batch, which comes out round"
    )


@pytest.mark.parametrize(
    ("lines", "limit", "severity"),
    [
        ("10 g bread flour; 7 g water", Fraction(3, 100), Severity.NOTE),  # 5.9 %, less than twice the limit
        ("10 g bread flour; 7 g water", Fraction(2, 100), Severity.WARNING),
        ("10 g bread flour; 7 g water; 500 g ground beef", Fraction(2, 100), Severity.NOTE),  # within a dish
    ],
)
def test_a_drift_is_a_warning_only_where_it_is_tasted(
    lines: str, limit: Fraction, severity: Severity, recipe_of: MakeRecipe, house: House
) -> None:
    rounded = round_amounts(recipe_of(lines), replace(house, ratio_limit=limit))
    assert {one.severity for one in rounded.findings if one.name == "ratio-drift"} == {severity}


@pytest.mark.parametrize("line", ["salt, to taste", "a pinch of fine salt", "1 to 2 tablespoons lemon juice"])
def test_what_is_not_one_number_is_left_to_others(line: str, recipe_of: MakeRecipe, house: House) -> None:
    recipe = recipe_of(f"{line}; 200 g bread flour; 130 g water")
    rounded = round_amounts(recipe, house)
    dual = rounded.amounts.get(recipe.ingredients[0].where)
    assert dual is None or dual.us.least < dual.us.most


def test_an_unknown_food_keeps_its_dimension(recipe_of: MakeRecipe, house: House, larder: Larder) -> None:
    assert larder.find("moon dust") is None
    recipe = recipe_of("100 g moon dust; 1 cup moon dust")
    columns = _columns(recipe, round_amounts(recipe, house))
    assert columns == [("3½ oz", "100 g"), ("1 cup", "240 ml")]


@pytest.mark.parametrize(
    ("line", "step", "drawn"),
    [
        (
            "b# 200 g | 'unsalted butter, plus 10 g for the tin'",
            "Grease a tin with [10 g](#b), then beat [200 g](#b) of it.",
            ["2 tsp (10 g)", "14 tbsp (200 g)"],
        ),
        (
            "b# 200 g | 'unsalted butter, plus 10 g for the tin'",
            "Grease a tin with [10 g](#b), then beat [120 g](#b) of it and [the rest](#b).",
            ["2 tsp (10 g)", "½ cup (120 g)", "6 tbsp (80 g)"],
        ),
        (
            "b# 1 cup | 'whole milk, plus 2 tbsp for the top'",
            "Stir in [1 cup](#b), then brush with [2 tbsp](#b).",
            ["1 cup (240 ml)", "2 tbsp (30 ml)"],
        ),
    ],
)
def test_what_a_line_adds_for_a_use_of_its_own_is_drawn_beside_it(
    line: str, step: str, drawn: list[str], house: House, recipe_of: MakeRecipe
) -> None:
    recipe = recipe_of(line, step)
    rounded = round_amounts(recipe, house)
    spans = [one for one in recipe.steps[0].spans if isinstance(one, Draw)]
    duals = [rounded.amounts[one.where] for one in spans]
    assert [f"{short(one.us)} ({short(one.metric)})".replace(NB, " ") for one in duals] == drawn
    assert rounded.findings == ()
