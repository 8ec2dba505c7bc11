"""A changed number is held against every recorded trial."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.flow import Prepared, prepare
from cardsmith.house.style import House, load_house
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.proof.account import Account, account
from cardsmith.proof.witness import Standing
from cardsmith.render.card.view import card_view
from cardsmith.render.proof.card_fields import fields
from cardsmith.rewrite.card.numbers import numbers

ROOT = Path(__file__).parents[2]
RECIPE = """\
title: Rye thins
kind: cracker
yield: {makes: 40 crackers, serves: 8}
ingredients:
  - 200 g whole-grain rye flour
  - 4 g fine salt
  - 110 g water
  - 30 g olive oil
steps:
  - Heat the oven to 160 °C with a rack in the middle.
  - Mix the flour, salt, water and oil. Roll to 2 mm and score.
  - Bake for 25 to 30 minutes, until dry and crisp.
tested: {trial: 1}
"""
TRIALS = """\
trials:
  - trial: 1
    date: 2026-03-02
    cook: H. Tarn
    oven: {set: 160 °C}
    ingredients: [200 g whole-grain rye flour, 4 g fine salt, 110 g water, 30 g olive oil]
    process: ["09:40 bake, 160 °C", "10:07 out, gold at the edges"]
    measured: {pieces: 40}
    verdict: {call: settle, words: Good.}
  - trial: 2
    date: 2026-03-03
    from: 1
    change: [6 g fine salt]
    oven: {set: 175 °C}
    process: ["09:40 bake, 175 °C", "09:58 out, dark"]
    verdict: {call: drop, words: Too salty.}
  - trial: 3
    date: 2026-03-04
    from: 1
    change: [130 g water]
    verdict: {call: keep, words: Softer.}
"""


@pytest.fixture(scope="module")
def house() -> House:
    return load_house(ROOT)


@pytest.fixture(scope="module")
def larder() -> Larder:
    return load_larder()


def told(text: str, trials: str, house: House, larder: Larder, before: Account | None = None) -> Account:
    bench = (trials.encode(), "trials.yaml") if trials else None
    prepared: Prepared = prepare("rye-thins", text.encode(), "recipe.yaml", larder, house, bench)
    card = prepared.card
    assert card is not None
    counted = numbers(card, house)
    printed = fields(card_view(card, house), card.recipe, counted)
    kept = (before.snapshot("2026-03-10"),) if before else ()
    return account(prepared, card, text.encode(), printed, counted, house, kept)


@pytest.mark.parametrize(
    ("old", "new", "standing", "said"),
    [
        ("4 g fine salt", "5 g fine salt", Standing.NO_TRIAL, "no trial behind it"),
        ("4 g fine salt", "6 g fine salt", Standing.DROPPED_ONLY, "only dropped trial 2"),
        ("110 g water", "130 g water", Standing.BORNE_OUT, "trial 3 of 2026-03-04 bears it out"),
        ("160 °C with", "175 °C with", Standing.DROPPED_ONLY, "only dropped trial 2"),
        ("160 °C with", "190 °C with", Standing.NO_TRIAL, "no trial behind it"),
        ("25 to 30 minutes", "26 to 28 minutes", Standing.BORNE_OUT, "trial 1 of 2026-03-02 bears it out"),
        ("25 to 30 minutes", "50 to 60 minutes", Standing.NO_TRIAL, "no trial behind it"),
        ("to 2 mm", "to 3 mm", Standing.NOT_RECORDED, "trials do not record it"),
        ("serves: 8", "serves: 10", Standing.NOT_RECORDED, "trials do not record it"),
        ("40 crackers", "50 crackers", Standing.NO_TRIAL, "no trial behind it"),
        ("  - 30 g olive oil\n", "", Standing.NO_TRIAL, "no trial behind it"),
    ],
)
def test_what_the_bench_says_of_a_change(
    old: str, new: str, standing: Standing, said: str, house: House, larder: Larder
) -> None:
    before = told(RECIPE, TRIALS, house, larder)
    text = RECIPE.replace(old, new)
    assert text != RECIPE
    after = told(text, TRIALS, house, larder, before)
    found = [one for backings in after.backings for one in backings]
    assert [(one.standing, said in one.said) for one in found[:1]] == [(standing, True)], found
    asked = standing in {Standing.NO_TRIAL, Standing.DROPPED_ONLY}
    assert after.unbacked == (1 if asked else 0)


def test_a_trial_made_since_is_named_as_such(house: House, larder: Larder) -> None:
    before = told(RECIPE, TRIALS, house, larder)
    trials = (
        TRIALS
        + "  - {trial: 4, date: 2026-03-12, from: 1, change: [5 g fine salt], verdict: {call: settle}}\n"
    )
    after = told(RECIPE.replace("4 g fine salt", "5 g fine salt"), trials, house, larder, before)
    (one,) = [one for backings in after.backings for one in backings]
    assert one.said == "trial 4 of 2026-03-12, made since, bears it out"
    assert after.unbacked == 0


def test_without_any_record_every_number_lacks_a_trial(house: House, larder: Larder) -> None:
    before = told(RECIPE, "", house, larder)
    after = told(RECIPE.replace("4 g fine salt", "5 g fine salt"), "", house, larder, before)
    assert after.unbacked == 1


def test_a_card_that_says_the_same_is_the_proof_that_was_issued(house: House, larder: Larder) -> None:
    before = told(RECIPE, TRIALS, house, larder)
    again = told(RECIPE, TRIALS, house, larder, before)
    assert again.issued is not None
    assert (again.issued.number, again.previous, bool(again.changes)) == (1, None, False)
