"""The names that schedule 9 of the Food Standards Code requires; cases by the rows of the schedule."""

from __future__ import annotations

import pytest

from cardsmith.facts.foods.allergens import allergens, classes
from cardsmith.facts.foods.australian import australian
from cardsmith.reference import table
from tests.facts.bench_of_facts import larder, line

CASES = (
    (("200 g all-purpose flour",), ("gluten", "wheat")),
    (("100 g rolled oats", "50 g whole-grain rye flour"), ("gluten",)),
    (("100 g bulgur",), ("gluten", "wheat")),
    (("50 g walnuts", "50 g pine nuts"), ("pine nut", "walnut")),
    (("2 celery stalks", "10 g Dijon mustard"), ("possibly sulphites",)),
    (("3 large eggs", "200 g whole milk", "30 g tahini"), ("egg", "milk", "sesame")),
    (("200 g shrimp", "200 g mussels", "100 g salmon"), ("crustacean", "fish", "mollusc")),
    (("50 g almonds", "50 g walnuts, optional"), ("almond", "possibly walnut")),
)


@pytest.mark.parametrize(("lines", "names"), CASES, ids=[" + ".join(case[0]) for case in CASES])
def test_a_list_is_declared_by_the_required_names(lines: tuple[str, ...], names: tuple[str, ...]) -> None:
    told = [line(one) for one in lines]
    us, eu = (allergens(told, market, larder()) for market in ("us", "eu"))
    assert australian(us, eu) == names


def test_every_class_of_european_law_has_its_answer() -> None:
    answered = {row["class"] for row in table("australian_allergens") if not row["kind"]}
    assert answered == set(classes("eu"))


def test_every_kind_that_can_be_told_of_a_cereal_or_a_nut_has_a_row() -> None:
    rows = {(row["class"], row["kind"]) for row in table("australian_allergens")}
    named = {(one["class"], kind) for one in table("allergen_classes") for kind in one["words"].split("|")
             if one["jurisdiction"] == "EU" and one["names_the_kind"] == "yes"}  # fmt: skip
    assert named <= rows
