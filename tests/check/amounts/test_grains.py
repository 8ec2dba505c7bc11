from __future__ import annotations

import pytest

from cardsmith.check.amounts.grains import drinks
from tests.check.bench import found
from tests.check.cases import method

COVERED = "Add the rice. Pour in the stock, cover and cook on low heat for 18 minutes. Fluff with a fork."
STOOD = "Pour the hot stock over the couscous, cover, leave for 5 minutes and fluff."
TAP = "Add the quinoa and {} cups of water, cover and simmer for 15 minutes, until it is absorbed."


@pytest.mark.parametrize(
    ("lines", "step", "severity"),
    [
        ("3 cups long-grain white rice; 12 cups chicken stock", COVERED, "error"),
        ("3 cups long-grain white rice; 5¼ cups chicken stock", COVERED, ""),
        ("2 cups basmati rice; 4½ cups chicken stock", COVERED, ""),
        ("2 cups basmati rice; 6 cups chicken stock", COVERED, "warning"),
        ("2 cups basmati rice; 1 cup chicken stock", COVERED, "warning"),
        ("2 cups basmati rice; 1 cup chicken stock; 400 g canned tomatoes", COVERED, ""),
        (
            "300 g basmati rice; 100 g red lentils; 1.5 l chicken stock",
            COVERED,
            "",
        ),  # who knows what each takes
        ("1 cup brown rice; 2½ cups vegetable stock", COVERED, ""),
        ("250 g couscous; 300 ml vegetable stock", STOOD, ""),
        ("250 g couscous; 1 l vegetable stock", STOOD, "error"),
        ("1 cup quinoa", TAP.format(2), ""),
        ("1 cup quinoa", TAP.format(6), "error"),
        ("300 g basmati rice; 2 l water", "Boil the rice in the water for 9 minutes, drain and fluff.", ""),
        ("100 g basmati rice; 2 l chicken stock", "Simmer the rice in the stock for 18 minutes.", ""),
    ],
)
def test_grain_that_takes_up_all_its_liquid(lines: str, step: str, severity: str) -> None:
    findings = found("grain-liquid-off", method(lines, step))
    assert [one.severity.value for one in findings] == [severity][: bool(severity)]


def test_limits_lie_in_order() -> None:
    for one in drinks():
        assert one.low < one.usual_low < one.usual_high < one.high < one.absurd_high, one.name
