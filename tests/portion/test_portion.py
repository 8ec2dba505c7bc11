from __future__ import annotations

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.measure.larder import load_larder
from cardsmith.portion.portion import (
    Portion,
    nutrition_facts,
    nutrition_line,
    portion,
    portion_size,
    structured_data,
)
from cardsmith.portion.portion_file import NO_FACTS
from cardsmith.portion.prices import NO_PRICES, PriceList
from cardsmith.portion.report import record, text
from cardsmith.recipe.model import Recipe
from cardsmith.words import fixed_words
from tests.portion.kitchen import facts, prices, recipe, trials

CRACKERS = (
    "200 g whole-grain rye flour",
    "40 g sesame seeds",
    "110 g water",
    "30 g olive oil",
    "4 g fine salt",
)


def crackers(*more: str, yields: str = "{makes: 40 crackers, serves: 8, piece: 7 g}") -> Recipe:
    return recipe(*CRACKERS, *more, title="Rye crackers", kind="cracker", yields=yields)


def of(one: Recipe, stated: str = "", listed: PriceList = NO_PRICES) -> Portion:
    return portion(one, load_larder(), facts=facts(stated, one) if stated else NO_FACTS, prices=listed)


def test_a_portion_says_how_much_it_is() -> None:
    found = of(crackers())
    assert found.pieces_a_portion == 5
    assert portion_size(found) == "5 crackers, 35 g"
    shared = of(crackers(yields="{makes: 1 loaf, serves: 8, piece: 280 g}"))
    assert shared.pieces_a_portion is None
    assert portion_size(shared) == "35 g"


@pytest.mark.parametrize(
    ("makes", "told"),
    [
        ("6 glasses", "1 glass"),
        ("12 small loaves", "2 loaves"),
        ("12 oat cakes", "2 oat cakes"),
        ("6 oat cakes", "1 oat cake"),
        ("6 biscotti", "1 biscotti"),
    ],
)
def test_a_portion_counts_pieces_in_english(makes: str, told: str) -> None:
    found = of(crackers(yields=f"{{makes: {makes}, serves: 6, piece: 30 g}}"))
    assert portion_size(found).startswith(f"{told}, ")


def test_the_line_for_a_card_is_an_estimate_and_says_so() -> None:
    """By hand from SR 28 (20063, 12023, 04053): 2 × 325 + 0.4 × 573 + 0.3 × 884 = 1144.4 kcal, over 8."""
    line = nutrition_line(of(crackers()))
    assert line.startswith(
        "Per serving (5 crackers, 35 g), an estimate from tables: calories 140 kcal, total fat 7 g,"
    )
    assert nutrition_line(of(crackers(yields="{makes: 2 cups}"))) == ""


def test_a_card_has_the_same_as_labels_and_values() -> None:
    first, *told = nutrition_facts(of(crackers()))
    assert first == ("Nutrition", "per serving (5 crackers, 35 g), an estimate from tables")
    assert told[:2] == [("Calories", "140 kcal"), ("Total fat", "7 g")]
    assert nutrition_facts(of(crackers(yields="{makes: 2 cups}"))) == ()
    assert nutrition_facts(of(crackers()), "EU")[0] == ("Nutrition", "per 100 g, an estimate from tables")


def test_under_the_law_of_the_eu_the_line_is_of_100_g_in_the_order_of_the_law() -> None:
    """Each figure is that of the declaration of 100 g; energy stands in both units, kJ first (Annex XV)."""
    found = of(crackers())
    by = {row.nutrient: row.text for row in found.eu_100}
    line = nutrition_line(found, "EU")
    energy = f"energy {by['EU energy in kJ']} / {by['EU energy in kcal']}"
    told = f"{energy}, fat {by['EU fat']}, of which saturates {by['EU saturates']}, carbohydrate "
    assert line.startswith(f"Per 100 g, an estimate from tables: {told}")
    assert line.endswith(f"salt {by['EU salt']}.")
    assert "sodium" not in line
    assert "unknown" not in nutrition_line(of(recipe("100 g rolled oats")), "EU")


def test_a_card_leaves_out_what_is_unknown_and_marks_a_lower_bound() -> None:
    line = nutrition_line(of(recipe("100 g rolled oats", "10 g honey")))
    assert "total sugars at least 2 g" in line
    line = nutrition_line(of(recipe("100 g rolled oats")))
    assert "sugars" not in line
    assert "unknown" not in line


def test_structured_data_are_of_the_published_vocabulary() -> None:
    """schema.org/NutritionInformation: its properties as published (memory)."""
    found = structured_data(of(crackers()))
    assert found["@type"] == "NutritionInformation"
    assert found["calories"] == "140 calories"
    assert found["fatContent"] == "7 g"
    assert found["servingSize"] == "5 crackers, 35 g"
    oats = structured_data(of(recipe("100 g rolled oats")))
    assert "sugarContent" not in oats  # no word for at least
    assert structured_data(of(crackers("20 g glimmerroot"))) == {}


@pytest.mark.parametrize(
    ("lines", "step", "stated", "told"),
    [
        (("100 g rolled oats",), "Stir.", "", "No table gives the total sugars of rolled oats: unknown, not"),
        (("20 g glimmerroot",), "Stir.", "", "SR 28 has no row for glimmerroot"),
        (("salt, to taste",), "Stir.", "", "No weight is given for salt"),
        (("black pepper, to taste",), "Stir.", "", "Not counted, since no weight is given: black pepper."),
        (("3 g flaky sea salt",), "Stir.", "", "Stands in, since SR 28 lacks it: flaky sea salt: Salt"),
        (("40 g hazelnuts (optional)",), "Stir.", "", "Left out, since optional: hazelnuts."),
        (("400 g raspberries",), "Sieve, and discard the seeds.", "", "discard the seeds”: all of it"),
        (("100 g olive oil",), "Stir.", "", "general Atwater factors (4, 4, 9 and 7 kcal/g) the energy is"),
    ],
)  # fmt: skip
def test_what_is_left_open_is_said(lines: tuple[str, ...], step: str, stated: str, told: str) -> None:
    found = of(recipe("50 g honey", *lines, steps=(f'"{step}"',)), stated)
    assert any(told in caveat for caveat in found.caveats), found.caveats


def test_what_is_stated_needs_no_caveat() -> None:
    one = recipe("400 g raspberries", steps=('"Sieve, and discard the seeds."',))
    assert not any("Step 1" in caveat for caveat in of(one, "eaten: {raspberries: 88 %}").caveats)


def test_the_text_has_all_three_with_their_working() -> None:
    listed = prices("whole-grain rye flour,5.00,1 kg", "olive oil,12.00,1 kg", "sesame seeds,8.00,1 kg")
    told = text(of(crackers(), listed=listed))
    for line in (
        "batch at least 1.68 EUR, portion at least 0.21 EUR, piece at least 0.042 EUR (prices of 2026-03-01",
        "at a food cost of 30 % a portion sells for at least 0.70 EUR",
        "INCOMPLETE: no price for fine salt",
        "An estimate from tables (USDA National Nutrient Database for Standard Reference, Release 28)",
        "no claim is made from it",
        "Contains: sesame.",
        "dark RYE flour (71 %), SESAME seeds, olive oil",
        "olive oil: 30 g bought, 30 g edible, 30 g eaten",
    ):
        assert line in told


def test_without_prices_nothing_is_said_to_cost_nothing() -> None:
    told = text(of(crackers()))
    assert "No prices: recipes/prices.csv has none for this list." in told
    assert "0.00" not in told


def test_the_record_is_json_with_nothing_unknown_as_zero() -> None:
    found = record(of(recipe("100 g rolled oats", "10 g honey")))
    told = json.loads(json.dumps(found))
    (sugars,) = (row for row in told["nutrition"]["per_portion_us"] if row["nutrient"] == "total sugars")
    assert sugars["at_least"] is True
    assert told["cost"]["complete"] is False
    assert told["cost"]["missing"] == ["rolled oats", "honey"]
    assert told["batch"]["finished_g"]["low"] < told["batch"]["finished_g"]["high"]
    assert told["declaration"]["eu"]["ingredients"].startswith("rolled OATS")


LINES = (
    "200 g whole-grain rye flour",
    "110 g water",
    "2 cups water",
    "1 litre sunflower oil, for deep-frying",
    "3 large eggs (150 g)",
    "salt, to taste",
    "20 g glimmerroot",
    "a handful of glimmerroot",
    "40 g hazelnuts (optional)",
    "2 (400 g) cans chopped tomatoes, drained",
    "100 to 150 g honey",
    "1 tbsp Dijon mustard",
    "ice",
)
YIELDS = (
    "{serves: 4}",
    "{makes: 12 rolls, serves: 4 to 6}",
    "{makes: 2 cups}",
    "{makes: 1 loaf, piece: 500 g}",
)


@given(
    st.lists(st.sampled_from(LINES), min_size=1, max_size=6),
    st.sampled_from(YIELDS),
    st.sampled_from(["yeast-bread", "pasta", "fish", "ufo"]),
    st.sampled_from(["", "finished: 300 g", "rejects: 99 %", "finished: 1 g"]),
)
def test_any_list_is_worked_out(lines: list[str], yields: str, kind: str, stated: str) -> None:
    """Whatever the list, nothing fails, bounds stay in order, and what is declared is not below nothing."""
    one = recipe(*lines, yields=yields, kind=kind)
    found = of(one, stated, prices("honey,12.00,1 kg", "eggs,3.60,12 large"))
    assert found.recipe.title in text(found)
    assert json.dumps(record(found))
    for each in found.nutrition.batch.values():
        assert 0 <= each.low <= each.likely
        assert each.high is None or each.likely <= each.high


def test_the_selling_price_follows_the_share() -> None:
    listed = prices("bread flour,2.00,1 kg")
    found = portion(recipe("500 g bread flour"), load_larder(), prices=listed, food_cost=Fraction(1, 4))
    assert found.cost.asked == 1


def test_what_stayed_in_the_bowl_is_in_no_portion() -> None:
    """Of 310 g mixed 279 g went in, and 240 g came out: 180 g of flour, 9 g of salt."""
    bench = trials(
        """
        trials:
          - trial: 1
            date: 2026-02-01
            ingredients: [200 g whole-grain rye flour, 100 g water, 10 g fine salt]
            measured: {in: 279 g, out: 240 g}
        """
    )
    one = recipe(
        "200 g whole-grain rye flour", "100 g water", "10 g fine salt",
        title="Rye thins", kind="cracker", yields="{serves: 4}", more="tested: {trial: 1}",
    )  # fmt: skip
    found = portion(one, load_larder(), trials=bench)
    assert "dark RYE flour (75 %)" in found.eu_statement.text
    assert found.eu_statement.notes == (
        "added water: 240 g finished less 189 g of the others is 51 g (21.3 %)",
    )
    whole = found.nutrition.batch["EU salt"].likely
    (salt,) = (row for row in found.eu_100 if row.nutrient == "EU salt")
    assert salt.exact == f"{float(whole * Fraction(9, 10) * 100 / 240):.3f}".rstrip("0") + " g"


def test_an_australian_panel_has_its_own_order_and_three_figures() -> None:
    """Standard 1.2.8 and schedule 12 (memory): of a serving, energy in kJ foremost."""
    first, *told = nutrition_facts(of(crackers()), "AU")
    assert first[1].startswith("per serving")
    assert [label for label, _ in told] == [
        "Energy",
        "Protein",
        "Fat, total",
        "saturated",
        "Carbohydrate",
        "sugars",
        "Sodium",
    ]
    assert dict(told)["Energy"].endswith(" kJ")
    assert all(sum(sign.isdigit() for sign in text.lstrip("0.")) <= 4 for _, text in told)


def test_contents_are_told_in_the_language_of_the_card() -> None:
    say = fixed_words("de")
    facts = dict(nutrition_facts(of(crackers()), "EU", say))
    assert facts["Nährwerte"] == "je 100 g, aus Tabellen geschätzt"
    assert "davon gesättigte Fettsäuren" in facts
    assert "Brennwert" in nutrition_line(of(crackers()), "EU", say, lowered=False)
