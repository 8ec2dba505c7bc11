from __future__ import annotations

import pytest
from bench import found, recipe

from cardsmith.finding import Severity


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
