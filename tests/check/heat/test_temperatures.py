from __future__ import annotations

import pytest

from cardsmith.check.heat.temperatures import temperature_bounds
from cardsmith.finding import Severity
from cardsmith.language.spans import Purpose
from tests.check.bench import found, recipe, steps


@pytest.mark.parametrize(
    ("step", "instead"),
    [
        ("Heat the oven to 350.", "write “350 °F” if you mean it so"),
        ("Heat the oven to 180.", "write “180 °C” if you mean it so"),
        ("Heat the oven to 200.", "write “200 °C” or “200 °F”"),
        ("Bake at 180 degrees for 20 minutes.", "write “180 °C” if you mean it so"),
        ("Bake for 20 minutes, lower the oven by 90 degrees and dry them.", "write “90 °C” or “90 °F”"),
    ],
)
def test_missing_scale_offers_what_is_likely(step: str, instead: str) -> None:
    (told,) = steps("scale-missing", step)
    assert told.instead == instead
    assert told.severity is Severity.ERROR


@pytest.mark.parametrize(
    ("step", "instead", "severity"),
    [
        ("Bake at 350 °C for 20 minutes.", "did you mean “350 °F”?", Severity.ERROR),
        ("Refrigerate at 40 °C.", "did you mean “40 °F”?", Severity.ERROR),
        ("Chill in the refrigerator to 40 °C.", "did you mean “40 °F”?", Severity.ERROR),
        ("Roast until the thickest part reads 165 °C.", "did you mean “165 °F”?", Severity.ERROR),
        ("Roast until the thickest part reads 63 °F.", "did you mean “63 °C”?", Severity.ERROR),
        ("Bake at 180 °F for 20 minutes.", "did you mean “180 °C”?", Severity.WARNING),
        ("Bake at 900 °C for 20 minutes.", "write the figure and scale that you measured", Severity.ERROR),
    ],
)
def test_implausible_scale_offers_the_other(step: str, instead: str, severity: Severity) -> None:
    (told,) = steps("scale-implausible", step)
    assert (told.instead, told.severity) == (instead, severity)


@pytest.mark.parametrize(
    "step",
    [
        "Cool in the refrigerator to 20 °C.",  # on its way, and no figure of the other scale
        "Chill in the refrigerator to 40 °F.",
        "Cool the custard to 40 °C, then refrigerate.",
    ],
)
def test_what_cools_may_be_warmer_than_a_refrigerator(step: str) -> None:
    assert steps("scale-implausible", step) == ()


# Pairs as printed in NIST's table "Metric Cooking, Oven Temperature Equivalencies" and in the USDA chart
# "Safe Minimum Internal Temperatures": none may be questioned.
@pytest.mark.parametrize(
    "pair",
    [
        "oven to 250 °F (120 °C)", "oven to 300 °F (150 °C)", "oven to 325 °F (160 °C)",
        "oven to 350 °F (180 °C)", "oven to 375 °F (190 °C)", "oven to 400 °F (200 °C)",
        "oven to 450 °F (230 °C)", "oven to 500 °F (260 °C)",
        "chicken to an internal temperature of 165 °F (74 °C)",
        "pork to an internal temperature of 145 °F (63 °C)",
        "beef to an internal temperature of 160 °F (71 °C)",
        "grill to 400 °F to 450 °F (200 °C to 230 °C)",
        "syrup to 220 °F (104 °C), or 8 °F above the boiling point of water",
    ],
)  # fmt: skip
def test_published_pairs_pass(pair: str) -> None:
    for name in ("own-conversion-off", "scale-implausible", "oven-off-dial"):
        assert steps(name, f"Heat the {pair}.") == ()


@pytest.mark.parametrize(
    ("step", "asked"),
    [
        ("Heat the water to 75 °C and stir it into the flour.", 1),
        ("Heat the water to 35 °C and stir it into the flour.", 0),
        ("Bring the water to 98 °C, boil and pour it over the flour.", 0),
    ],
)
def test_water_that_meets_yeast_is_a_dough_s(step: str, asked: int) -> None:
    dough = recipe(
        ["500 g bread flour", "4 g instant yeast", "350 g water"], ["Mix the flour and yeast.", step]
    )
    assert len(found("scale-implausible", dough)) == asked


def test_water_before_the_yeast_may_be_hot() -> None:
    soaker = recipe(
        ["50 g oats", "4 g instant yeast", "350 g water"], ["Heat the water to 90 °C.", "Add the yeast."]
    )
    assert found("scale-implausible", soaker) == ()


def test_every_purpose_but_other_has_bounds() -> None:
    assert [purpose for purpose in Purpose if not temperature_bounds(purpose)] == [Purpose.OTHER]


def test_what_gets_hotter_than_water_in_a_sweet_is_syrup() -> None:
    sweet = ["300 g granulated sugar", "160 g light corn syrup", "250 g peanuts"]
    step = "Cook without stirring to 250 °F, add the peanuts and cook to 300 °F."
    assert found("scale-implausible", recipe(sweet, [step])) == ()
    (told,) = found(
        "scale-implausible",
        recipe(["1 whole chicken (1.5 kg)"], ["Roast until the thickest part reads 250 °F."]),
    )
    assert told.what.startswith("250 °F")
