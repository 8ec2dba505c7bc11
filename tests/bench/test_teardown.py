from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardsmith.bench.composition import composition
from cardsmith.bench.label import declared
from cardsmith.bench.schema import PANEL_NUTRIENTS
from cardsmith.bench.teardown import Feasible, Teardown, constraints, feasible, record, told
from cardsmith.bench.teardown_load import read_teardown
from cardsmith.measure.larder import load_larder

PANTRY = [
    "all-purpose flour", "whole-grain rye flour", "granulated sugar", "unsalted butter", "olive oil", "eggs",
    "honey", "sesame seeds", "whole milk", "fine salt", "almonds", "raisins",
]  # fmt: skip


def known(item: str) -> dict[str, Fraction]:
    match = load_larder().find(item)
    found = composition(match.food) if match else None
    assert found is not None, item
    return dict(found.per_100)


def label(formula: dict[str, Fraction], left: Fraction, serving: int) -> str:
    """The label of a product made by a formula, of whose water the share ``left`` stayed."""
    foods = {item: known(item) for item in formula}
    water = sum((grams * foods[item]["water"] / 100 for item, grams in formula.items()), Fraction(0))
    product = sum(formula.values(), Fraction(0)) - water * (1 - left)
    each = {item: grams * serving / product for item, grams in formula.items()}
    whole = sum(formula.values(), Fraction(0))
    amounts = {
        nutrient: sum(
            (grams * foods[item].get(nutrient, Fraction(0)) / 100 for item, grams in each.items()),
            Fraction(0),
        )
        for nutrient in PANEL_NUTRIENTS.values()
    }
    amounts["calories"] = (
        4 * amounts["protein"] + 4 * amounts["total carbohydrate"] + 9 * amounts["total fat"]
    )
    ordered = sorted(formula, key=lambda item: -formula[item])
    traces = [item for item in ordered if formula[item] <= whole / 50]
    panel = ", ".join(f"{key}: {declared(name, amounts[name])}" for key, name in PANEL_NUTRIENTS.items())
    lines = [
        "product: Invented",
        f"ingredients: [{', '.join(item for item in ordered if item not in traces)}]",
        f"two_percent_or_less: [{', '.join(traces)}]" if traces else "",
        f"serving: {serving} g",
        f"per_serving: {{{panel}}}",
    ]
    return "\n".join(filter(None, lines)) + "\n"


def taken(text: str) -> Teardown:
    found, findings = read_teardown(text.encode(), "teardown.yaml", load_larder())
    assert [str(one) for one in findings] == []
    assert found is not None
    return found


def per_product(formula: dict[str, Fraction], left: Fraction) -> dict[str, float]:
    water = sum((grams * known(item)["water"] / 100 for item, grams in formula.items()), Fraction(0))
    product = sum(formula.values(), Fraction(0)) - water * (1 - left)
    return {item: float(grams / product * 100) for item, grams in formula.items()}


def inside(found: Feasible, truth: dict[str, float]) -> bool:
    return all(low - 1e-6 <= truth[one.text] <= high + 1e-6 for one, low, high in found.ranges)


@settings(max_examples=40)
@given(
    st.lists(st.sampled_from(PANTRY), min_size=2, max_size=7, unique=True),
    st.data(),
    st.fractions(0, 1, max_denominator=50),
    st.integers(15, 60),
)
def test_the_true_formula_lies_inside_the_ranges(
    items: list[str], data: st.DataObject, left: Fraction, serving: int
) -> None:
    formula = {item: Fraction(data.draw(st.integers(1, 400))) for item in items}
    if not any(grams > sum(formula.values()) / 50 for grams in formula.values()):
        return
    one = taken(label(formula, left, serving))
    found = feasible(one)
    assert found.clash == ()
    assert inside(found, per_product(formula, left))
    # and the first formula keeps to every statement of the label
    lost = sum(found.formula) - 100
    for row in constraints(one):
        assert (
            sum(a * x for a, x in zip(row.coefficients, (*found.formula, lost), strict=True))
            <= row.limit + 1e-5
        )


DEMO = Path(__file__).parents[2] / "recipes/seeded-crackers/teardown.yaml"
TRUTH = {  # grams per 100 g of the invented product, from which its label was worked out
    "all-purpose flour": 56.946, "sesame seeds": 17.928, "sunflower oil": 12.655,
    "whole-grain rye flour": 11.600,
    "honey": 4.218, "fine salt": 1.898, "caraway seeds": 0.949,
}  # fmt: skip


def test_the_demo_holds_the_formula_it_was_made_from() -> None:
    one = taken(DEMO.read_text(encoding="utf-8"))
    found = feasible(one)
    assert inside(found, TRUTH)
    widths = {food.text: high - low for food, low, high in found.ranges}
    assert widths["fine salt"] < 0.3  # sodium pins the salt
    assert all(
        food["least"] <= food["first_formula"] <= food["most"] for food in record(one, found)["ingredients"]
    )
    text = told(one, found)
    assert "A piece weighs 6.2 g (5.9 to 6.4 g, 6 weighed)." in text
    assert "Guesses, all of them" in text


def test_a_clash_is_named_and_no_more_than_the_clash() -> None:
    text = DEMO.read_text(encoding="utf-8").replace("total_fat: 7 g", "total_fat: 20 g")
    found = feasible(taken(text))
    assert "total fat 20 g" in found.clash
    assert "sodium 220 mg" not in found.clash
    assert "These can't all be true" in told(taken(text), found)
    # without any one of them the rest can be true
    rows = [row.name for row in constraints(taken(text))]
    assert set(found.clash) <= set(rows)


def test_salt_before_flour_clashes_with_the_sodium() -> None:
    text = "product: A\ningredients: [fine salt, all-purpose flour]\nserving: 30 g\n"
    text += "per_serving: {sodium: 220 mg}\n"
    assert set(feasible(taken(text)).clash) == {
        "the order: fine salt before all-purpose flour",
        "sodium 220 mg",
    }


def test_an_allowance_widens_every_range() -> None:
    text = DEMO.read_text(encoding="utf-8")
    plain, wide = feasible(taken(text)), feasible(taken(text + "allowance: 5 %\n"))
    for (_, low, high), (_, least, most) in zip(plain.ranges, wide.ranges, strict=True):
        assert least <= low + 1e-6
        assert high <= most + 1e-6


@pytest.mark.parametrize(
    ("old", "new", "name"),
    [
        ("honey", "zorblat", "label-food-unknown"),
        ("total_fat: 7 g", "total_fat: 7.3 g", "label-figure-unlikely"),
        ("serving: 30 g", "serving: 30 cm", "unreadable-measure"),
        ("moisture: 3 to 4 %", "moisture: dry", "unreadable-measure"),
        ("total_fat: 7 g", "total_fats: 7 g", "unknown-key"),
    ],
)
def test_faults_of_a_label_are_told(old: str, new: str, name: str) -> None:
    text = DEMO.read_text(encoding="utf-8")
    assert old in text
    _, findings = read_teardown(text.replace(old, new).encode(), "teardown.yaml", load_larder())
    assert name in [one.name for one in findings]
