from __future__ import annotations

from fractions import Fraction

import pytest
from molmass import Formula

from cardsmith.check.formula.chemistry import (
    CARBON_DIOXIDE,
    GAS_OF_POWDER,
    SODA,
    acid_of,
    bicarbonate,
    kitchen_acids,
    leavening,
    usual_leavening,
)
from cardsmith.check.formula.ratios import ratios
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.measure.larder import load_larder
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from tests.check.bench import found, house, recipe
from tests.check.cases import of

FLOUR = "250 g all-purpose flour"
BATTER = (FLOUR, "240 g whole milk", "2 large eggs", "80 g unsalted butter", "100 g granulated sugar")
SOUR = (FLOUR, "260 g buttermilk", "2 large eggs", "60 g unsalted butter")

STOUT = ("280 g all-purpose flour", "240 g stout", "160 g sour cream", "75 g natural cocoa powder")
CARROT = (FLOUR, "300 g grated carrots", "200 g light brown sugar", "250 g vegetable oil", "4 large eggs")
DATES = ("250 g all-purpose flour", "230 g pitted dates", "240 g boiling water", "1 large egg")
STEEPED = ("Pour the boiling water over the dates, stir in the baking soda and leave for 20 minutes.",)

# check: recipes that must fire, recipes that must not
CASES = {
    "soda-without-acid": (
        [
            of(*BATTER, "3 g baking soda", kind="muffin"),
            of(*BATTER, "½ tsp baking soda", "5 g baking powder", kind="butter-cake"),
            of(*DATES, "1 tsp baking soda", kind="quick-bread", steps=("Mix it all, dates and soda too.",)),
        ],
        [
            of(*DATES, "1 tsp baking soda", kind="quick-bread", steps=STEEPED),
            of(*SOUR, "2.3 g baking soda", kind="pancake"),
            of(*BATTER, "10 g baking powder", kind="muffin"),
            of(*BATTER, "3 g baking soda", kind="cookie"),  # it browns and spreads them
            of("200 g granulated sugar", "100 g water", "3 g baking soda", kind="brittle"),
            of("500 g dried chickpeas", "5 g baking soda", "1 kg water", kind="beans"),
            of(*BATTER, "0.2 g baking soda", "9 g baking powder", kind="muffin"),
            of(*BATTER, "3 g baking soda", "7 g cream of tartar", kind="muffin"),
        ],
    ),
    "soda-left-over": (
        [
            of("400 g all-purpose flour", "340 g buttermilk", "7 g baking soda", kind="quick-bread"),
            of(*SOUR, "5 g baking soda", kind="pancake"),
            of(*DATES, "150 g light brown sugar", "1 tsp baking soda", "8 g baking powder",
               kind="butter-cake"),
        ],
        [
            of("400 g all-purpose flour", "340 g buttermilk", "4 g baking soda", kind="quick-bread"),
            # The classic spoon to a pint of buttermilk: within what buttermilks differ by.
            of("450 g all-purpose flour", "400 g buttermilk", "1 tsp baking soda", kind="quick-bread"),
            of(*DATES, "150 g light brown sugar", "1 tsp baking soda", "8 g baking powder",
               kind="butter-cake", steps=STEEPED),
            of(*SOUR, "2.5 g baking soda", kind="pancake"),
            of("280 g all-purpose flour", "200 g light brown sugar", "5 g baking soda", kind="cookie"),
            of(*BATTER, "10 g baking powder", kind="muffin"),
            # A dark chocolate cake: the soda it does not need as a leavener colours the cocoa.
            of("220 g all-purpose flour", "65 g natural cocoa powder", "245 g buttermilk",
               "1½ tsp baking soda", kind="butter-cake"),
        ],
    ),
    "soda-for-powder": (
        [
            of(*BATTER, "11 g baking soda", kind="muffin"),
            of("300 g all-purpose flour", "180 g whole milk", "14 g baking soda", kind="scone"),
            of(*STOUT, "15 g baking soda", kind="butter-cake"),  # more than anybody takes for colour
        ],
        [
            of(*BATTER, "11 g baking powder", kind="muffin"),
            of(*STOUT, "2½ tsp baking soda", kind="butter-cake"),
            of(*CARROT, "2 tsp baking soda", kind="butter-cake"),
            of(*SOUR, "2.3 g baking soda", "4.6 g baking powder", kind="pancake"),
            of("250 g all-purpose flour", "300 g buttermilk", "11 g baking soda", "25 g cream of tartar",
               kind="muffin"),
        ],
    ),
    "powder-for-soda": (
        [
            of("400 g all-purpose flour", "340 g buttermilk", "5 g baking powder", kind="quick-bread"),
            of("300 g all-purpose flour", "84 g molasses", "5 g baking powder", kind="cookie"),
        ],
        [
            of("400 g all-purpose flour", "340 g buttermilk", "18 g baking powder", kind="quick-bread"),
            of("300 g all-purpose flour", "150 g granulated sugar", "5 g baking powder", kind="cookie"),
            of("280 g all-purpose flour", "200 g light brown sugar", "5 g baking powder", kind="cookie"),
            of("250 g self-rising flour", "200 g buttermilk", kind="scone"),
        ],
    ),
    "acid-left-over": (
        [of("400 g all-purpose flour", "340 g whole milk", "4 g baking soda", "30 g cream of tartar",
            kind="quick-bread")],
        [
            of("400 g all-purpose flour", "340 g whole milk", "4 g baking soda", "9 g cream of tartar",
               kind="quick-bread"),
            of("130 g egg whites", "2 g cream of tartar", "200 g granulated sugar", kind="meringue-shell"),
            of("120 g cake flour", "400 g egg whites", "6 g cream of tartar", "1 g baking soda",
               kind="butter-cake"),
        ],
    ),
    "low-baking-powder": (
        [
            of("300 g all-purpose flour", "180 g whole milk", "1.4 g baking powder", kind="scone"),
            of(*BATTER, "1 g baking powder", kind="muffin"),
            of(*BATTER, "1 g baking powder"),
        ],
        [
            of(*BATTER, "2 g baking powder"),
            of(*BATTER, "1 g baking powder", "4 g instant yeast"),
            of(*BATTER, "1 g baking powder", steps=("Whisk the eggs to the ribbon.",)),
            of("1 kg chicken thighs", *BATTER, "300 g carrots", "1 g baking powder"),  # it coats
            of("300 g all-purpose flour", "180 g whole milk", "14 g baking powder", kind="scone"),
            of(*SOUR, "2.3 g baking soda", "1 g baking powder", kind="pancake"),  # the soda lifts
            of("300 g self-rising flour", "180 g whole milk", kind="scone"),
            of("200 g all-purpose flour", "200 g unsalted butter", "4 large eggs", "2 g baking powder",
               kind="pound-cake"),
            of(*BATTER, "1 g baking powder", kind="cookie"),
        ],
    ),
}  # fmt: skip

FIRING = [(name, one) for name, (fire, _) in CASES.items() for one in fire]
SILENT = [(name, one) for name, (_, hush) in CASES.items() for one in hush]


def label(value: object) -> str:
    if isinstance(value, Recipe):
        return "; ".join(line.text for line in value.ingredients[-3:])
    return str(value)


@pytest.mark.parametrize(("name", "one"), FIRING, ids=label)
def test_faulty_leavening_is_questioned_once(name: str, one: Recipe) -> None:
    told = {other: found(other, one) for other in CASES if found(other, one)}
    assert list(told) == [name]
    raised = any("powder" in line.text for line in one.ingredients)
    unmet = name in {"soda-for-powder", "soda-without-acid"} and not raised  # nothing sour is in these
    assert [finding.severity for finding in told[name]] == [Severity.ERROR if unmet else Severity.WARNING]


@pytest.mark.parametrize(("name", "one"), SILENT, ids=label)
def test_sound_leavening_is_not(name: str, one: Recipe) -> None:
    assert [finding.what for finding in found(name, one)] == []


def test_message_gives_the_sum() -> None:
    one = of("400 g all-purpose flour", "340 g buttermilk", "7 g baking soda", kind="quick-bread")
    (told,) = found("soda-left-over", one)
    # 340 g of 0.85 % lactic acid is 32.1 mmol, which meets 2.70 g of soda.
    assert told.what == (
        "of 7 g of baking soda, 3.8 to 4.8 g is left over: the buttermilk can meet about 2.7 g"
    )


def test_exchange_tells_both_readings() -> None:
    (told,) = found("soda-for-powder", of(*BATTER, "11 g baking soda", kind="muffin"))
    assert (
        told.what == "11 g of baking soda is 4.4 % of the flour (250 g); the acid of the list meets 0 g of it"
    )
    assert told.instead.startswith(
        "was baking powder meant? a muffin has about 11.5 g of it, or 2.25 g of soda"
    )


# Masses of formulas by molmass, which follows the IUPAC atomic weights.


@pytest.mark.parametrize("row", table("acids"), ids=lambda row: row["acid"])
def test_molar_masses_of_acids(row: dict[str, str]) -> None:
    assert float(row["molar_mass"]) == pytest.approx(Formula(row["formula"]).mass, abs=0.015)


@pytest.mark.parametrize("row", [one for one in table("leavening_bases") if one["formula"]])
def test_molar_masses_of_bases(row: dict[str, str]) -> None:
    mass = Formula(row["formula"]).mass
    assert float(row["molar_mass"]) == pytest.approx(mass, abs=0.015)
    assert float(row["carbon_dioxide_percent"]) == pytest.approx(100 * Formula("CO2").mass / mass, abs=0.05)


def test_constants() -> None:
    assert float(SODA) == pytest.approx(Formula("NaHCO3").mass, abs=0.005)
    assert float(CARBON_DIOXIDE) == pytest.approx(Formula("CO2").mass, abs=0.005)
    (powder,) = [row for row in table("leavening_bases") if row["foods"] == "role:baking-powder"]
    assert Fraction(powder["carbon_dioxide_percent"]) / 100 == GAS_OF_POWDER


# Neutralising value: grams of soda that 100 g of an acid meets; as printed for cream of tartar in the trade's
# table "Leavening Acids", and computed by molmass for the rest.
@pytest.mark.parametrize("row", [one for one in table("acids") if one["neutralising_value"]],
                         ids=lambda row: row["acid"])  # fmt: skip
def test_neutralising_values(row: dict[str, str]) -> None:
    met = 100 * int(row["protons"]) * Formula("NaHCO3").mass / Formula(row["formula"]).mass
    assert float(row["neutralising_value"]) == pytest.approx(met, abs=0.5)


@pytest.mark.parametrize(("tartar", "asks"), [("4 g", False), ("5.5 g", False), ("6.5 g", True)])
def test_a_little_dry_acid_over_is_not_tasted(tartar: str, asks: bool) -> None:
    """1 g of soda meets 11.9 mmol; of cream of tartar 4 g are 21.3, 5.5 g 29.2, and 6.5 g 34.5."""
    one = of(FLOUR, "340 g whole milk", "1 g baking soda", f"{tartar} cream of tartar", kind="quick-bread")
    assert bool(found("acid-left-over", one)) is asks


def test_kitchen_rule_for_buttermilk() -> None:
    """Half a teaspoon (2.3 g) of soda to a cup (245 g) of buttermilk leaves about 0.4 g: the trade's rule."""
    one = of(FLOUR, "245 g buttermilk", "2.3 g baking soda", kind="pancake")
    told = leavening(Subject(recipe=one, larder=load_larder(), house=house()))
    assert told is not None
    assert float(told.left(told.acid)) == pytest.approx(0.36, abs=0.02)


def test_powder_and_soda_are_four_apart() -> None:
    """Soda met by acid gives 4.4 times the gas of powder: 52.4 % of its mass against 12 %."""
    one = of(FLOUR, "400 g buttermilk", "1 g baking soda", kind="pancake")
    told = leavening(Subject(recipe=one, larder=load_larder(), house=house()))
    assert told is not None
    assert float(told.lift) == pytest.approx(52.4 / 12, abs=0.01)


def test_every_row_names_foods_of_the_larder() -> None:
    foods = load_larder().foods.values()
    rows = (*table("kitchen_acids"), *table("leavening_bases"))
    patterns = [one for row in rows for one in row["foods"].split("|")]
    assert [one for one in patterns if not any(is_of(food, (one,)) for food in foods)] == []
    assert set(usual_leavening()) <= set(ratios())
    assert len(kitchen_acids()) == len(table("kitchen_acids"))


@pytest.mark.parametrize("key", ["dutch-process-cocoa", "granulated-sugar", "whole-milk", "dried-currant"])
def test_foods_that_bring_no_acid(key: str) -> None:
    food = load_larder().foods[key]
    assert acid_of(food) is None
    assert bicarbonate(food) == 0


@pytest.mark.parametrize("odd", ["buttermilk, to taste", "a glass of all-purpose flour", "baking soda"])
def test_line_without_weight_leaves_leavening_unjudged(odd: str) -> None:
    one = recipe([FLOUR, odd, "6 g baking soda"], ["Stir everything together."], kind="muffin")
    assert found("soda-without-acid", one) == ()


PLAIN = "Mix everything and bake for 40 minutes, until the base sounds hollow."


@pytest.mark.parametrize(
    ("lines", "severity"),
    [
        ("500 g whole wheat flour; 4 g baking soda; 9 g fine salt; 400 g whole milk", "error"),
        ("500 g whole wheat flour; 4 g baking soda; 9 g fine salt; 400 g water; 50 g rolled oats", "error"),
        ("500 g whole wheat flour; 4 g baking soda; 9 g fine salt; 400 g buttermilk", ""),
        ("500 g whole wheat flour; 4 g baking soda; 9 g fine salt; 380 g whole milk; 20 g lemon juice", ""),
        ("500 g whole wheat flour; 4 g baking soda; 9 g cream of tartar; 400 g whole milk", ""),
        ("500 g whole wheat flour; 4 g baking soda; 400 g sour glimmermilk", ""),  # nobody knows it
        ("225 g all-purpose flour; 200 g granulated sugar; 120 g butter; 2 large eggs; 3 g baking soda", ""),
    ],
)
def test_soda_without_acid_needs_no_kind(lines: str, severity: str) -> None:
    asked = found("soda-without-acid", recipe(lines.split("; "), [PLAIN], title="Farmhouse loaf"))
    assert [one.severity.value for one in asked] == [severity][: bool(severity)]
