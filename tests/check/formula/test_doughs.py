"""Doughs that nothing binds, and near misses."""

from __future__ import annotations

import pytest

from cardsmith.finding import Severity
from cardsmith.recipe.model import Recipe
from tests.check.bench import found
from tests.check.cases import of

FLOUR = "250 g all-purpose flour"

FIRING = [
    (of(FLOUR, "30 g unsalted butter", "40 g water"), Severity.WARNING),  # (24 + 40 + 5) of 250: 27 %
    (of(FLOUR, "4 g fine salt", "30 g water"), Severity.ERROR),
    (of("2.5 kg all-purpose flour", "125 g unsalted butter", "90 g granulated sugar"), Severity.ERROR),
]

SILENT = [
    of("400 g all-purpose flour", "200 g egg"),
    of(FLOUR, "165 g unsalted butter", "80 g granulated sugar"),
    of(FLOUR, "4 g fine salt", "2 g ground black pepper"),  # to dredge with
    of(FLOUR, "30 g water", "a ladle of chicken stock"),
    of(FLOUR, "30 g water", "200 g glimmerroot"),  # which nobody knows
    of("60 g all-purpose flour", "10 g water", "500 g carrots"),
    of("500 g bread flour", "30 g water", "5 g instant yeast", kind="yeast-bread"),  # low-hydration asks
]


@pytest.mark.parametrize(("one", "severity"), FIRING, ids=lambda one: one.ingredients[-1].text
                         if isinstance(one, Recipe) else None)  # fmt: skip
def test_a_dry_dough_is_questioned(one: Recipe, severity: Severity) -> None:
    (told,) = found("dough-too-dry", one)
    assert told.severity is severity


@pytest.mark.parametrize("one", SILENT, ids=lambda one: "; ".join(line.text for line in one.ingredients))
def test_what_is_no_dough_or_wet_enough_is_not(one: Recipe) -> None:
    assert found("dough-too-dry", one) == ()
