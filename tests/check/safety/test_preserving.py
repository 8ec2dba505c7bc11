from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.check.safety.preserving import GROUND, STEEPED, cures
from cardsmith.measure.larder import load_larder
from tests.check.bench import found
from tests.check.safety_cases import dish


def test_limits_are_those_of_the_regulation() -> None:
    """9 CFR 424.21(c): 156 ppm ingoing in ground meat, 200 ppm in pumped or immersed (memory)."""
    assert round(GROUND * 1_000_000) == 156
    assert STEEPED * 1_000_000 == 200


def test_every_curing_salt_of_the_larder_has_its_strength() -> None:
    cured = {key for key, food in load_larder().foods.items() if food.share("curing-salt") == 1}
    assert cured == set(cures())


@given(st.integers(1, 80), st.integers(500, 20_000))
def test_cure_is_judged_by_its_share_of_the_meat(tenths: int, meat: int) -> None:
    cure = Fraction(tenths * meat, 10_000)
    over = Fraction(tenths, 10_000) * Fraction("0.0625") > GROUND * Fraction(101, 100)
    line = f"{float(cure):.4f} g pink curing salt no. 1"
    told = found("curing-salt-excess", dish(f"{meat} g pork belly; {line}", "Rub in."))
    assert bool(told) is over


@pytest.mark.parametrize(
    ("acid", "fires"),
    [("10 g lime juice", True), ("400 g white vinegar, 5 % acidity", False), ("", True)],
)
def test_splash_of_acid_makes_no_soup_safe(acid: str, fires: bool) -> None:
    one = dish(
        f"1 kg carrots; {acid}", "Pack into jars and process in a boiling-water canner for 30 minutes."
    )
    assert bool(found("low-acid-canned", one)) is fires


@pytest.mark.parametrize(
    ("lines", "fires"),
    [
        ("2.3 kg figs; 1.2 kg granulated sugar; ¼ cup bottled lemon juice", False),
        ("2.3 kg figs; 1.2 kg granulated sugar", True),
        ("2.3 kg figs; 2.6 kg granulated sugar", True),
        ("2.3 kg figs; ¼ cup bottled lemon juice", True),
    ],
)
def test_jam_of_figs_needs_less_acid_than_figs_alone(lines: str, fires: bool) -> None:
    jars = "Ladle into 10 half-pint jars and process in a boiling-water canner for 10 minutes."
    assert bool(found("low-acid-canned", dish(lines, "Boil until thick.", jars))) is fires
