from __future__ import annotations

import pytest

from cardsmith.finding import Severity
from tests.check.bench import found, recipe


@pytest.mark.parametrize(
    ("line", "severity"),
    [
        ("a pinch of fine salt", Severity.NOTE),
        ("a pinch of granulated sugar", Severity.NOTE),
        ("a dash of whole milk", Severity.NOTE),
        ("a pinch of cream of tartar", Severity.NOTE),
        ("a pinch of instant yeast", Severity.WARNING),
        ("a splash of whole milk", Severity.WARNING),
    ],
)
def test_a_pinch_matters_where_little_does_much(line: str, severity: Severity) -> None:
    (asked,) = found("vague-measure", recipe([line], ["Stir everything together."]))
    assert asked.severity is severity


# Two sizes of one amount: charts, hands and gardens differ; what is twice the other is a slip.
SIZES = [
    ("1¼ cups (175 g) whole-grain cornmeal", "weight-volume-disagree", ""),
    ("¼ cup (60 g) ketchup", "weight-volume-disagree", ""),
    ("¼ cup (10 g) chopped cilantro", "weight-volume-disagree", ""),
    ("8 cups (1.4 kg) sliced yellow onions", "weight-volume-disagree", ""),
    ("1 cup (140 g) all-purpose flour", "weight-volume-disagree", ""),
    ("2 cups (150 g) all-purpose flour", "weight-volume-disagree", "error"),
    ("1 cup (140 g) granulated sugar", "weight-volume-disagree", "warning"),
    ("1 cup (80 g) granulated sugar", "weight-volume-disagree", "error"),
    ("1 tsp (18 g) fine salt", "weight-volume-disagree", "error"),
    ("½ cup (340 g) unsalted butter", "weight-volume-disagree", "error"),
    ("40 g long red chillies (about 2)", "weight-count-disagree", ""),
    ("3 large eggs (150 g)", "weight-count-disagree", ""),
    ("3 large eggs (190 g)", "weight-count-disagree", "warning"),
    ("3 large eggs (300 g)", "weight-count-disagree", "error"),
    ("6 large egg yolks (300 g)", "weight-count-disagree", "error"),
    ("1 small onion (800 g)", "weight-count-disagree", "warning"),
]


@pytest.mark.parametrize(("line", "name", "severity"), SIZES)
def test_two_sizes_of_one_amount(line: str, name: str, severity: str) -> None:
    asked = found(name, recipe([line], ["Stir everything together."]))
    assert [one.severity.value for one in asked] == [severity][: bool(severity)]
