from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.check.run import BY_NAME
from cardsmith.facts.method.doneness import Minimum, pairs
from cardsmith.facts.method.doneness import minimum as minimum_of
from cardsmith.finding import Severity
from tests.check.bench import found, ingredient, recipe
from tests.check.safety_cases import dish

# The chart as published, kept apart from the project's own table: tests/data/README.md names its source.
CHART = tuple(
    csv.DictReader(
        (Path(__file__).parents[2] / "data/safe_internal_temperatures.csv")
        .read_text(encoding="utf-8")
        .splitlines()
    )
)


def minimum(text: str) -> Minimum | None:
    line = ingredient(text)
    return minimum_of(line, line.food)


@pytest.mark.parametrize(
    ("line", "food", "fahrenheit"),
    [
        ("500 g ground beef", "beef, pork, veal, lamb (ground)", 160),
        ("500 g beef chuck, ground", "beef, pork, veal, lamb (ground)", 160),
        ("500 g ground turkey", "turkey, chicken (ground)", 165),
        ("1 whole chicken", "chicken and turkey, whole", 165),
        ("4 duck breasts", "duck and goose", 165),
        ("1 kg beef rib roast", "steaks, roasts, chops", 145),
        ("1 kg leg of lamb", "steaks, roasts, chops", 145),
        ("1 kg pork loin", "fresh pork", 145),
        ("2 kg fresh ham", "fresh ham (raw)", 145),
        ("600 g cod", "fin fish", 145),
    ],
)
def test_minimum_is_the_published_one(line: str, food: str, fahrenheit: int) -> None:
    (row,) = [row for row in CHART if row["food"] == food and "FoodSafety.gov" in row["authority"]]
    assert Fraction(row["temp_f"]) == fahrenheit
    known = minimum(line)
    assert known is not None
    assert known.least == (fahrenheit - 32) / Fraction(9, 5)
    assert known.rest == 60 * Fraction(row["rest_minutes"] or 0)


@pytest.mark.parametrize(
    "line",
    [
        "1 cooked ham (2 kg)", "200 g prosciutto", "1 kg chicken bones", "300 g canned tuna in water",
        "200 g smoked salmon", "300 g cooked chicken", "200 g bacon", "12 oysters", "4 anchovy fillets",
    ],
)  # fmt: skip
def test_ready_foods_and_shellfish_have_no_minimum(line: str) -> None:
    known = minimum(line)
    assert known is not None
    assert known.least is None


@pytest.mark.parametrize(
    "line", ["3 large eggs", "200 g lard", "1 tsp ground cumin", "500 ml beef stock", "1 leek"]
)
def test_other_foods_are_not_judged(line: str) -> None:
    assert minimum(line) is None


def test_pairs_fall_in_time_as_they_rise_in_heat() -> None:
    for foods in {foods for foods, _, _ in pairs()}:
        mine = sorted((celsius, seconds) for of, celsius, seconds in pairs() if of == foods)
        times = [seconds for _, seconds in mine]
        assert times == sorted(times, reverse=True)
        assert len(set(times)) == len(times)


@pytest.mark.parametrize("fahrenheit", [130, 140, 144, 145, 158])
def test_lowest_time_is_the_published_one(fahrenheit: int) -> None:
    celsius = (fahrenheit - 32) / Fraction(9, 5)
    published = {130: 112 * 60, 140: 12 * 60, 144: 5 * 60, 145: 180, 158: 120}  # Food Code; UK FSA for 158 °F
    assert min(seconds for _, at, seconds in pairs() if at == celsius) == published[fahrenheit]


# A figure just below and just at the minimum, in the scale and rounding of printed charts.
@pytest.mark.parametrize(
    ("line", "low", "enough"),
    [
        ("8 chicken thighs (1.4 kg)", "164 °F", "165 °F"),
        ("8 chicken thighs (1.4 kg)", "73 °C", "74 °C"),
        ("500 g ground beef", "159 °F", "160 °F"),
        ("500 g ground beef", "70 °C", "71 °C"),
        ("1 kg pork loin", "62 °C", "63 °C"),
        ("600 g cod", "144 °F", "145 °F"),
    ],
)
def test_edge_of_the_minimum(line: str, low: str, enough: str) -> None:
    step = "Roast until the thickest part reads {}. Rest for 5 minutes."
    (told,) = found("doneness-too-low", dish(line, step.format(low)))
    assert (told.severity, low in told.what) == (Severity.ERROR, True)
    assert found("doneness-too-low", dish(line, step.format(enough))) == ()


@pytest.mark.parametrize(
    "step",
    [
        "Roast for 65 to 75 minutes, until the thigh reads at least 150 °F.",
        "Roast until the thigh reads 140 °F, then rest for 50 minutes.",
        "Roast until the thigh reads 150 °F. Keep the sauce warm for 20 minutes.",
    ],
)
def test_time_that_is_no_hold_makes_nothing_safe(step: str) -> None:
    assert found("doneness-too-low", dish("1 whole chicken", step))


def test_what_food_cools_below_is_no_reading_of_it_done() -> None:
    """But what it is roasted to at most is."""
    cooled = "Simmer for 3 hours. Stand the pot in an ice bath until it is below 70 °F, 2 hours at most."
    assert found("doneness-too-low", dish("2 kg chicken wings", cooled)) == ()
    assert found("doneness-too-low", dish("1 whole chicken", "Roast until the thigh reads at most 150 °F."))


@pytest.mark.parametrize(
    "step",
    [
        "Cook sous vide at 65 °C for 1 hour.",
        "Roast until the thigh reads 70 °C and hold it there for 2 minutes.",
        "Poach until the centre reads 60 °C, and keep it at that for 45 minutes.",
    ],
)
def test_published_pair_is_enough(step: str) -> None:
    assert found("doneness-too-low", dish("600 g boneless skinless chicken breast", step)) == ()


def test_reading_goes_to_the_food_its_sentence_names() -> None:
    both = "Roast until the chicken reads 165 °F. Bake until the cod reads 130 °F."
    (told,) = found("doneness-too-low", dish("1 whole chicken; 600 g cod", both))
    assert "cod" in told.what


def test_too_low_cannot_be_accepted_and_missing_can() -> None:
    assert not BY_NAME["doneness-too-low"].acceptable
    assert BY_NAME["doneness-missing"].acceptable


@pytest.mark.parametrize(
    ("after", "severity"),
    [
        ("Carve and serve.", Severity.WARNING),
        ("Carve it straight away, while it sizzles.", Severity.ERROR),
        ("Slice at once and serve.", Severity.ERROR),
        ("There is no need to rest it: carve and serve.", Severity.ERROR),
    ],
)
def test_rest_that_the_words_forbid_is_an_error(after: str, severity: Severity) -> None:
    (told,) = found("rest-missing", dish("1 kg leg of lamb", "Roast until 63 °C inside.", after))
    assert told.severity is severity


@pytest.mark.parametrize(("fahrenheit", "asks"), [(145, True), (149, True), (151, False), (154, False)])
def test_what_is_cooked_past_the_chart_needs_no_rest(fahrenheit: int, asks: bool) -> None:
    """Five degrees over the chart's 145 °F; common practice, no source."""
    one = dish("1 kg leg of lamb", f"Roast until {fahrenheit} °F inside.", "Carve and serve.")
    assert bool(found("rest-missing", one)) is asks


@pytest.mark.parametrize(
    "steps",
    [
        ("Poach the cod in the milk for 8 minutes.", "Flake the cod into a dish and bake for 30 minutes."),
        ("Bake the cod for 15 minutes, until the flesh is no longer translucent.",),
        ("Bake the cod for 30 minutes, until the milk is thick and the middle is at least 75 °C.",),
    ],
)
def test_a_sign_of_fish_is_one_in_any_step(steps: tuple[str, ...]) -> None:
    assert found("doneness-missing", recipe(["600 g skinless cod", "300 g whole milk"], list(steps))) == ()
