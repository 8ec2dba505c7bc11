"""Claims: true, not true, or not to be vouched for; the last does not print."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.facts.foods.claims import diet, diets
from cardsmith.facts.foods.diets import ClaimAnswer, fitting, printable, verdict
from tests.facts.bench_of_facts import dish, larder, line

YES, NO, UNSURE = ClaimAnswer.YES, ClaimAnswer.NO, ClaimAnswer.UNSURE
CASES = (
    ("vegan", "200 g carrots; 20 ml olive oil", YES),
    ("vegan", "200 g carrots; 20 g unsalted butter", NO),
    ("vegan", "200 g rolled oats; 30 g honey", NO),
    ("vegan", "200 g carrots; 30 g honey, optional", UNSURE),
    ("vegan", "200 ml oat milk or whole milk", UNSURE),
    ("vegan", "100 g vegan mayonnaise", YES),
    ("vegetarian", "200 g cheddar; 2 large eggs", YES),
    ("vegetarian", "200 g aged mountain cheese; 2 large eggs", UNSURE),
    ("vegetarian", "50 g Parmesan", UNSURE),
    ("vegetarian", "50 g vegetarian Parmesan", YES),
    ("vegetarian", "8 g powdered gelatine; 200 ml heavy cream", NO),
    ("vegetarian", "200 g elk tenderloin", NO),
    ("vegetarian", "10 ml Worcestershire sauce", NO),
    ("vegetarian", "5 g xanthine crystals", UNSURE),
    ("gluten-free", "200 g rice flour", YES),
    ("gluten-free", "200 g all-purpose flour", NO),
    ("gluten-free", "200 g stone-ground toasted rye flour", NO),
    ("gluten-free", "200 g rolled oats", UNSURE),
    ("gluten-free", "200 g gluten-free rolled oats", YES),
    ("gluten-free", "200 g buckwheat flour", YES),
    ("gluten-free", "30 g oyster sauce", UNSURE),
    ("gluten-free", "200 g cooked meatballs", UNSURE),
    ("dairy-free", "200 ml coconut milk", YES),
    ("dairy-free", "200 ml hazelnut milk", UNSURE),
    ("dairy-free", "20 g unsalted butter", NO),
    ("nut-free", "100 g walnuts", NO),
    ("nut-free", "100 g walnuts, optional", UNSURE),
    ("nut-free", "100 g desiccated coconut", YES),
    ("egg-free", "100 g mayonnaise", NO),
    ("egg-free", "100 g egg-free mayonnaise", YES),
    ("sesame-free", "30 g hoisin sauce", UNSURE),
    ("celery-free", "500 ml vegetable stock", UNSURE),
)


@pytest.mark.parametrize(("claim", "listed", "answer"), CASES)
def test_what_the_list_says_to_a_claim(claim: str, listed: str, answer: ClaimAnswer) -> None:
    one = diet(claim)
    assert one is not None
    found = verdict(dish(listed).ingredients, one, larder())
    assert found.answer is answer, [(reason.item, reason.why) for reason in found.because]
    assert bool(found.because) is (answer is not YES)


def test_only_a_claim_that_holds_prints() -> None:
    recipe = dish(
        "200 g aged mountain cheese; 200 g carrots", claims=("vegetarian", "gluten-free", "egg-free")
    )
    assert printable(recipe, larder()) == ("gluten-free", "egg-free")  # its rennet alone is open
    known = dish("200 g cheddar; 200 g carrots", claims=("vegetarian", "GF", "healthy"))
    assert printable(known, larder()) == ("vegetarian", "GF")


def test_a_filter_finds_every_diet_that_fits() -> None:
    found = fitting(dish("200 g carrots; 20 ml olive oil"), larder())
    assert set(found) == {one.name for one in diets()}


@given(
    listed=st.sampled_from([one[1] for one in CASES]),
    extra=st.sampled_from([one[1].split(";")[0] for one in CASES]),
    claim=st.sampled_from([one.name for one in diets()]),
)
def test_an_optional_line_never_makes_a_claim_true_nor_false(listed: str, extra: str, claim: str) -> None:
    one = diet(claim)
    assert one is not None
    lines = dish(listed).ingredients
    before = verdict(lines, one, larder()).answer
    after = verdict([*lines, replace(line(extra), optional=True)], one, larder()).answer
    assert after is before or (before is YES and after is UNSURE)
