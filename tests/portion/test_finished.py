from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.bench.formula.balance import usual_loss as loss_of_the_bench
from cardsmith.facts.kinds import kind_of
from cardsmith.portion.finished import usual_loss
from tests.portion.kitchen import batch, facts, recipe, trials

LINES = ("400 g bread flour", "280 g water", "8 g fine salt")
BENCH = """
trials:
  - trial: 1
    date: 2026-02-01
    ingredients: [200 g bread flour, 140 g water, 4 g fine salt]
    measured: {in: 337.12 g, out: 300 g, cooled: 292.4 g, pieces: 10, piece: 29 g}
  - trial: 2
    date: 2026-02-02
    from: 1
    measured: {in: 337.12 g, out: 305 g, cooled: 302.72 g, pieces: 8, piece: 30 g}
"""
TESTED = "tested: {trial: 1}"
ROLLS = "{makes: 20 rolls, serves: 10}"


def test_a_weighing_of_a_trial_counts_first() -> None:
    """Twice the batch of both makes: 584.8 g and 605.44 g came out; 2 % stayed in the bowl."""
    of = recipe(*LINES, kind="yeast-bread", yields=ROLLS, more=TESTED)
    _, mixed, done = batch(of, facts("finished: 500 g", of), trials(BENCH))
    assert mixed.likely == 688
    assert done.mass is not None
    assert (done.mass.low, done.mass.likely, done.mass.high) == (
        Fraction("584.8"),
        Fraction("595.12"),
        Fraction("605.44"),
    )
    assert done.kept.likely == Fraction(98, 100)
    assert "trials 1 and 2" in done.basis[0]


def test_rejects_and_pieces_are_those_of_the_trials() -> None:
    """20 and 16 sound rolls; 0.8 % and 20.7 % of the batch broke, the first within the scale's error."""
    of = recipe(*LINES, kind="yeast-bread", yields=ROLLS, more=TESTED)
    _, _, done = batch(of, bench=trials(BENCH))
    assert done.pieces is not None
    assert (done.pieces.low, done.pieces.likely, done.pieces.high) == (16, 18, 20)
    assert done.rejects.low == 0
    assert done.rejects.high == 1 - Fraction(240) / Fraction("302.72")
    assert done.portions is not None
    assert done.portions.likely == 9  # two rolls each


def test_trials_of_another_formula_are_not_read() -> None:
    of = recipe(*LINES, kind="yeast-bread", yields="{makes: 20 rolls, serves: 10, piece: 30 g}")
    _, _, done = batch(of, bench=trials(BENCH))
    assert done.mass is not None
    assert done.mass.likely == 600


@pytest.mark.parametrize(
    ("yields", "stated", "mass", "told"),
    [
        ("{makes: 20 rolls, piece: 30 g}", "finished: 610 g", 610, "610 g (stated)"),
        ("{makes: 20 rolls, piece: 30 g}", "", 600, "20 of 30 g"),
        ("{serves: 4, piece: 150 g}", "", 600, "4 of 150 g"),
        ("{makes: 20 rolls}", "", Fraction(688 * 88, 100), "no weighing"),  # kind_losses.csv: 12 %
    ],
)
def test_a_statement_counts_before_the_yield_and_that_before_what_is_usual(
    yields: str, stated: str, mass: Fraction, told: str
) -> None:
    of = recipe(*LINES, kind="yeast-bread", yields=yields)
    _, _, done = batch(of, *([facts(stated, of)] if stated else []))
    assert done.mass is not None
    assert done.mass.likely == mass
    assert told in done.basis[0]


def test_a_range_of_servings_bounds_a_portion() -> None:
    of = recipe(*LINES, kind="yeast-bread", yields="{serves: 4 to 6}")
    _, _, done = batch(of, facts("finished: 600 g", of))
    portion = done.portion_mass
    assert portion is not None
    assert (portion.low, portion.likely, portion.high) == (100, 120, 150)


def test_nobody_knows_what_dried_pasta_weighs_when_it_is_cooked() -> None:
    _, _, done = batch(recipe("400 g rye flour", kind="pasta"))
    assert done.mass is None
    assert done.portion_mass is None
    assert done.basis == ("what the finished batch weighs is nowhere said",)


@pytest.mark.parametrize(
    ("kind", "known"), [("bread", "yeast-bread"), ("Soda bread", "quick-bread"), ("ufo", "")]
)
def test_kinds_go_by_any_of_their_names(kind: str, known: str) -> None:
    assert kind_of(recipe(*LINES, kind=kind)) == known


def test_the_usual_loss_is_that_of_the_bench() -> None:
    found = usual_loss("cracker")
    assert found is not None
    assert (found.low, found.high) == loss_of_the_bench("cracker")
    assert found.low < found.likely < (found.high or 0)
