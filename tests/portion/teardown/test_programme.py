"""The formula that a label was made from lies inside every bound."""

from __future__ import annotations

import itertools
import json
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize

from cardsmith.measure.larder import load_larder
from cardsmith.portion.declared import DeclaredRow
from cardsmith.portion.portion import portion
from cardsmith.portion.statement import StatedIngredient
from cardsmith.portion.teardown.labels import PRODUCT, orders, statements
from cardsmith.portion.teardown.programme import feasible
from cardsmith.portion.teardown.schema import NUTRIENTS
from cardsmith.portion.teardown.text import in_words, record
from tests.portion.kitchen import facts, recipe
from tests.portion.teardown.drawn import (
    CRISP,
    DEMO,
    Formula,
    eu_label,
    formulas,
    holds_truth,
    inside,
    taken,
    us_label,
)


@settings(max_examples=60, deadline=None)
@given(formulas(), st.data())
def test_the_truth_lies_inside_every_bound(formula: Formula, data: st.DataObject) -> None:
    items = [item for item, grams in formula.grams.items() if grams]
    serving = data.draw(st.fractions(15, 60, max_denominator=7))
    some = st.sets(st.sampled_from(items))
    calories = data.draw(st.sampled_from(["table", "general", "digested"]))
    us = us_label(formula, serving, calories, data.draw(st.booleans()), data.draw(some))
    eu = eu_label(formula, data.draw(some), data.draw(st.booleans()), data.draw(st.integers(0, 255)))
    which = data.draw(st.sampled_from(["US", "EU", "both"]))
    text = "product: Invented\n" + (us if which != "EU" else eu)
    if which == "both":
        text += "\nlabels:\n  - " + eu.replace("\n", "\n    ")
    if data.draw(st.booleans()):
        share = formula.lost / formula.mixed * 100
        text += f"\nloss: {max(int(share) - 3, 0)} to {int(share) + 4} %"
    if data.draw(st.booleans()):
        text += f"\nmoisture: {int(formula.moisture)} to {int(formula.moisture) + 1} %"
    one = taken(text)
    found = feasible(one)
    holds_truth(found, formula, text)
    json.dumps(record(one, found))
    for line in in_words(one, found).split("\n"):
        assert "inf" not in line


@settings(max_examples=25, deadline=None)
@given(formulas(), st.integers(20, 60))
def test_a_further_label_never_widens_a_range(formula: Formula, serving: int) -> None:
    us = us_label(formula, Fraction(serving), "general", False, set())
    eu = eu_label(formula, set(), False, 0)
    alone = feasible(taken("product: Invented\n" + us))
    both = feasible(taken("product: Invented\n" + us + "\nlabels:\n  - " + eu.replace("\n", "\n    ")))
    wide = {one.text: bounds for one, bounds in alone.ranges}
    for one, bounds in both.ranges:
        assert bounds.least >= wide[one.text].least - 1e-5
        if wide[one.text].most is not None:
            assert bounds.most is not None
            assert bounds.most <= wide[one.text].most + 1e-4


def test_two_per_cent_is_of_what_was_mixed_also_of_water_that_no_label_lists() -> None:
    text = "product: A\n" + us_label(CRISP, Fraction(30), "general", False, {"honey", "fine salt"})
    assert "two_percent_or_less: [fine salt, honey]" in text
    assert "water" not in text
    found = feasible(taken(text + "\nloss: 15 to 20 %"))
    holds_truth(found, CRISP, text)
    honey = next(bounds for one, bounds in found.ranges if one.text == "honey")
    assert honey.most == pytest.approx(0.02 * 100 / 0.8)  # by hand: 2 % of a mixture of 125 g
    water = next(bounds for one, bounds in found.ranges if one.is_water)
    assert water.most is not None
    assert water.most <= 25.0 + 1e-6  # by hand: all that may have left


def test_bounds_by_hand() -> None:
    """Flour and salt alone, nothing lost: 0.25 g of sodium in 15 g, both figures as wide as they may be."""
    text = "product: A\ningredients: [all-purpose flour, fine salt]\nserving: 15 g\n"
    found = feasible(taken(text + "per_serving: {sodium: 250 mg}\nloss: 0 %\n"))
    (_, flour), (_, salt), (_, water) = found.ranges
    # 245 to 255 mg in 14.5 to 15.5 g are 1580.6 to 1758.6 mg in 100 g; salt holds 38758 mg and flour 2 mg in
    # 100 g; x of salt and 100 − x of flour hold 2 + 387.56 x mg.
    assert salt.least == pytest.approx((245 * 100 / 15.5 - 2) / 387.56, rel=1e-6)
    assert salt.most == pytest.approx((255 * 100 / 14.5 - 2) / 387.56, rel=1e-6)
    assert flour.most == pytest.approx(100 - salt.least)
    assert water.most == pytest.approx(0)


def test_bounds_by_another_programme() -> None:
    """The same rows with every order of the EU label as one mixed-integer programme, and by corners."""
    formula = Formula({"rolled oats": Fraction(60), "honey": Fraction(25), "olive oil": Fraction(14),
                       "fine salt": Fraction(1), "water": Fraction(0)})  # fmt: skip
    one = taken("product: A\n" + eu_label(formula, {"honey"}, False, 0) + "\nloss: 0 to 5 %")
    found = feasible(one)
    count = len(one.foods) + 1
    common, ways = statements(one), orders(one, one.labels[0])
    slack = 1e4
    rows, limits = [], []
    for row in common:
        rows.append(
            [*(float(row.amount.of.get(at, 0)) for at in (*range(count - 1), -1)), *[0.0] * len(ways)]
        )
        limits.append(-float(row.amount.constant))
    for number, way in enumerate(ways):  # a way's rows hold where its switch is on
        for row in way:
            switch = [slack if place == number else 0.0 for place in range(len(ways))]
            rows.append([*(float(row.amount.of.get(at, 0)) for at in (*range(count - 1), -1)), *switch])
            limits.append(slack - float(row.amount.constant))
    whole = [[1.0] * (count - 1) + [-1.0] + [0.0] * len(ways), [0.0] * count + [1.0] * len(ways)]
    for at, (food, bounds) in enumerate(found.ranges):
        for sign, expected in ((1, bounds.least), (-1, bounds.most)):
            aim = np.zeros(count + len(ways))
            aim[at] = sign
            answer = optimize.milp(
                aim,
                constraints=[
                    optimize.LinearConstraint(np.array(rows), -np.inf, np.array(limits)),
                    optimize.LinearConstraint(np.array(whole), [PRODUCT, 1], [PRODUCT, 1]),
                ],
                integrality=[0] * count + [1] * len(ways),
                bounds=optimize.Bounds(0, [np.inf] * count + [1] * len(ways)),
            )
            assert sign * answer.fun == pytest.approx(expected, abs=1e-3), food.text
    corners = _corners(rows, limits, count, len(ways))
    for at, (food, bounds) in enumerate(found.ranges):
        assert min(corner[at] for corner in corners) == pytest.approx(bounds.least, abs=1e-6), food.text
        assert max(corner[at] for corner in corners) == pytest.approx(bounds.most, abs=1e-6), food.text


def _corners(
    rows: list[list[float]], limits: list[float], count: int, ways: int
) -> list[np.ndarray[tuple[int], np.dtype[np.float64]]]:
    """Every corner of every way's polytope, by solving each square set of its rows."""
    found = []
    for way in range(ways):
        on = [all(row[count + other] == 0 for other in range(ways) if other != way) for row in rows]
        kept = [
            (row[:count], limit - row[count + way])
            for row, limit, yes in zip(rows, limits, on, strict=True)
            if yes
        ]
        kept += [([-1.0 if at == place else 0.0 for at in range(count)], 0.0) for place in range(count)]
        matrix, limit = np.array([row for row, _ in kept]), np.array([one for _, one in kept])
        whole = np.array([1.0] * (count - 1) + [-1.0])
        choices = np.array(list(itertools.combinations(range(len(kept)), count - 1)))
        square = np.concatenate([matrix[choices], np.broadcast_to(whole, (len(choices), 1, count))], axis=1)
        sides = np.concatenate([limit[choices], np.full((len(choices), 1), float(PRODUCT))], axis=1)
        sound = np.abs(np.linalg.det(square)) > 1e-9
        points = np.linalg.solve(square[sound], sides[sound][..., None])[..., 0]
        fits = (points @ matrix.T <= limit + 1e-6).all(axis=1)
        found += list(points[fits])
    return found


TRUTH = {  # grams for 100 g of the invented product, from which its label was worked out
    "all-purpose flour": 56.946, "sesame seeds": 17.928, "sunflower oil": 12.655,
    "whole-grain rye flour": 11.600,
    "honey": 4.218, "fine salt": 1.898, "caraway seeds": 0.949, "water": 40.0,
}  # fmt: skip


def test_the_demo_holds_the_formula_it_was_made_from() -> None:
    one = taken(DEMO.read_text(encoding="utf-8"))
    found = feasible(one)
    assert all(inside(bounds, Fraction(TRUTH[food.text])) for food, bounds in found.ranges)
    widths = {food.text: (bounds.most or 0) - bounds.least for food, bounds in found.ranges}
    assert widths["fine salt"] < 0.8  # sodium pins the salt
    for food in record(one, found)["ingredients"]:
        assert food["least"] - 1e-6 <= food["first_formula"] <= food["most"] + 1e-6
    text = in_words(one, found)
    assert "A piece weighs 6.2 g (5.9 to 6.4 g, 6 weighed)." in text
    assert "Guesses, all of them" in text


def test_a_label_of_our_own_taken_apart_holds_the_recipe_it_was_made_from() -> None:
    """``portion`` and teardown go by the same 2 %, the same water and the same nutrients."""
    lines = {
        "rolled oats": 200, "honey": 60, "sunflower oil": 50, "sesame seeds": 42, "water": 60,
        "fine salt": 4, "ground cinnamon": 8,
    }  # fmt: skip
    of = recipe(
        *(f"{grams} g {item}" for item, grams in lines.items()),
        title="Sesame oat crisps",
        kind="cracker",
        yields="{makes: 36 crisps, serves: 12}",
    )
    found = portion(of, load_larder(), facts=facts("finished: 362 g", of))
    us, eu = found.us_statement, found.eu_statement
    assert [str(one.pieces[0].text) for one in us.small] == [
        "ground cinnamon",
        "fine salt",
    ]  # 8 g of 424 g are 1.9 %

    def entries(stated: tuple[StatedIngredient, ...]) -> str:
        return ", ".join("".join(piece.text for piece in one.pieces) for one in stated)

    def figures(law: str, rows: tuple[DeclaredRow, ...]) -> str:
        keys = {name: key for key, name in NUTRIENTS[law].items()}
        named = ((keys[row.nutrient], row.amount) for row in rows if row.nutrient in keys)
        return ", ".join(f"{key}: {amount}" for key, amount in named)

    text = "\n".join(
        [
            "product: Sesame oat crisps",
            f"ingredients: [{entries(us.entries)}]",
            f"two_percent_or_less: [{entries(us.small)}]",
            "serving: 30 g",  # 30.2 g
            f"per_serving: {{{figures('US', found.us_portion)}}}",
            "labels:",
            "  - law: EU",
            f"    ingredients: [{entries(eu.entries)}]",
            f"    per_100_g: {{{figures('EU', found.eu_100)}}}",
            "loss: 10 to 20 %",
        ]
    )
    assert "oats (55 %)" in text
    taken_apart = feasible(taken(text))
    assert taken_apart.clash == ()
    larder = load_larder()
    grams = {match.food.key: weight for item, weight in lines.items() if (match := larder.find(item))}
    for one, bounds in taken_apart.ranges:
        assert one.food is not None
        assert inside(bounds, Fraction(grams[one.food.key] * 100, 362)), one.text
        assert bounds.most is not None
        if one.text != "water":
            assert bounds.most - bounds.least < 4


def test_a_clash_is_named_and_no_more_than_the_clash() -> None:
    text = DEMO.read_text(encoding="utf-8").replace("total_fat: 7 g", "total_fat: 20 g")
    found = feasible(taken(text))
    assert "total fat 20 g" in found.clash
    assert "sodium 220 mg" not in found.clash
    assert "These can't all be true" in in_words(taken(text), found)


def test_salt_before_flour_clashes_with_the_sodium() -> None:
    text = "product: A\ningredients: [fine salt, all-purpose flour]\nserving: 30 g\nloss: 0 %\n"
    text += "per_serving: {sodium: 220 mg}\n"
    assert {"the order: fine salt before all-purpose flour", "sodium 220 mg"} <= set(
        feasible(taken(text)).clash
    )


def test_an_eu_label_clashes_in_every_way_its_order_may_have_come_about() -> None:
    text = "product: A\nlaw: EU\ningredients: [fine salt, all-purpose flour]\nper_100_g: {salt: 1.9 g}\n"
    found = feasible(taken(text))
    assert set(found.clash) >= {"the order of the EU label", "salt 1.9 g"}


def test_labels_that_contradict_each_other_are_told_soon() -> None:
    eu = eu_label(CRISP, set(), False, 0)
    others = [eu.replace(" salt: 1.9 g", " salt: 1.2 g"), eu]
    text = (
        "product: A\n"
        + eu
        + "\nlabels:\n"
        + "\n".join("  - " + one.replace("\n", "\n    ") for one in others)
    )
    found = feasible(taken(text))
    assert set(found.clash) == {"salt 1.9 g", "salt 1.2 g"}


def test_an_allowance_widens_every_range() -> None:
    text = DEMO.read_text(encoding="utf-8")
    plain, wide = feasible(taken(text)), feasible(taken(text + "allowance: 5 %\n"))
    for (_, one), (_, other) in zip(plain.ranges, wide.ranges, strict=True):
        assert other.least <= one.least + 1e-6
        assert one.most is not None
        assert other.most is not None
        assert one.most <= other.most + 1e-6
