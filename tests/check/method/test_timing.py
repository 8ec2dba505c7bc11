from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.check.method.clock import critical_path, spoken, times
from cardsmith.finding import Severity
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.recipe.model import Part, Recipe, Time
from tests.check.bench import HERE, field, found, part, recipe

LOAF = (
    "Mix and knead for 8 to 10 minutes, until smooth.",
    "Leave to rise for 1 hour 15 minutes, until doubled.",
    "Bake for 30 to 35 minutes, until brown. Cool for 1 hour.",
)  # 8 + 75 + 30 + 60 = 173 minutes at the least, 180 at the most


def timed(
    *steps: str, active: int = 20, total: int = 240, parts: tuple[Part, ...] = (), headnote: str = "A loaf."
) -> Recipe:
    """A recipe with its times in minutes."""
    minute = units()["minute"]
    return recipe(
        [],
        list(steps),
        parts=parts,
        headnote=headnote,
        time=Time(where=HERE, active=quantity(active, minute), total=quantity(total, minute)),
    )


PASTRY = part("Pastry", [], ["Refrigerate for 1 hour, until firm."])
FILLING = part("Filling", [], ["Simmer for 50 minutes, until thick."])
PIE = part("Pie", [], ["Line a dish with the pastry, add the filling and bake for 40 minutes, until brown."])
BATTER = part("Batter and sausages", [], ["Rest for 30 minutes.", "Bake for 30 minutes, until risen."])
GRAVY = part(
    "Onion gravy",
    [],
    ["While that is going on, melt the butter. Add the onions, cook for 30 minutes and stir in salt."],
)
SALAD = part("Salad", [], ["Leave for 30 minutes, until seasoned."])


@pytest.mark.parametrize(
    ("one", "evidence"),
    [
        (timed(*LOAF, total=120), "is 120 min; the steps take at least 2 h 53 min: 1 hour 15 minutes"),
        (timed(*LOAF, total=150), "at least 2 h 53 min"),
        (timed(parts=(PASTRY, FILLING, PIE), total=90), ": 1 hour (step 1), 40 minutes (step 3)"),
        (timed("Brown in two batches for 8 minutes each.", "Boil 20 minutes.", total=30), "at least 36 min"),
        (timed("Grill for 10 minutes on each side.", total=15), "at least 20 min"),
        (timed("Bake for 20 minutes, until brown.", total=300), "come to 20 min at most"),
        (timed("Bake for 45 minutes, until golden.", total=180), "come to 45 min at most"),
    ],
)  # fmt: skip
def test_total_against_the_steps(one: Recipe, evidence: str) -> None:
    (told,) = found("total-time-wrong", one)
    assert evidence in told.what
    assert told.severity is Severity.WARNING


@pytest.mark.parametrize(
    "one",
    [
        timed(*LOAF, total=240),
        timed(*LOAF, total=175),
        timed(parts=(PASTRY, FILLING, PIE), total=100),  # the filling simmers while the pastry chills
        timed(parts=(PASTRY, SALAD), total=60),
        timed(parts=(BATTER, GRAVY), total=65),
        timed("Bake for 45 minutes, until golden.", total=120),
        timed("Simmer for 60 minutes.", "Meanwhile, roast the nuts for 15 minutes.", total=65),
        timed("Rise for 90 minutes, folding after 30 minutes and again after 60 minutes.", total=95),
        timed("Refrigerate for 4 hours, or up to 2 days.", total=250),
        timed("Stir everything together.", "Refrigerate overnight.", total=900),
        timed("Stir everything together.", total=500),
        timed("Chill for 4 hours.", "Pack in jars and refrigerate; it keeps a month.", total=250),
    ],
)
def test_total_that_fits_the_steps(one: Recipe) -> None:
    assert [told.what for told in found("total-time-wrong", one)] == []


def test_a_wait_far_longer_than_the_total_is_an_error_but_a_soak_is_asked_about() -> None:
    (chilled,) = found("total-time-wrong", timed("Chill for 6 hours, until firm.", total=60))
    (soaked,) = found("total-time-wrong", timed("Soak the beans for 8 hours.", "Boil 1 hour.", total=90))
    assert (chilled.severity, soaked.severity) == (Severity.ERROR, Severity.WARNING)


def test_active_over_total_is_an_error() -> None:
    (told,) = found("active-over-total", timed(active=80, total=55))
    assert told.severity is Severity.ERROR
    assert told.what == "active time is 80 min, total time only 55 min"


@pytest.mark.parametrize(("cook", "said"), [(40, ()), (70, ("cook time is 70 min, total time only 55 min",))])
def test_cooking_is_part_of_the_total(cook: int, said: tuple[str, ...]) -> None:
    one = timed(active=20, total=55)
    cooked = replace(one, time=replace(one.time, cook=quantity(cook, units()["minute"])))
    assert tuple(told.what for told in found("active-over-total", cooked)) == said


@pytest.mark.parametrize(("active", "total"), [(20, 55), (55, 55)])
def test_active_within_total(active: int, total: int) -> None:
    assert found("active-over-total", timed(active=active, total=total)) == ()


@pytest.mark.parametrize(
    "headnote",
    [
        "It is ready in 30 minutes.",
        "On the table in half an hour.",
        "Bread that is on the table within an hour and a half.",
        "Made in under twenty minutes.",
        "From start to finish it takes only an hour.",
        "A loaf made in 10 minutes of work.",
        "A 30-minute supper for busy nights.",
        "Supper takes 25 minutes from start to finish.",
        "Thirty minutes, start to finish.",
        "Dinner in 20 minutes.",
        "You can be eating within 40 minutes.",
        "All of it takes less than an hour.",
        "The whole thing is done in 40 minutes.",
        "A quick dish: 15 minutes from fridge to plate.",
    ],
)
def test_promise_that_is_broken(headnote: str) -> None:
    (told,) = found("headnote-promise-broken", timed(headnote=headnote, active=20, total=240))
    assert told.severity is Severity.WARNING
    assert "the headnote promises “" in told.what


@pytest.mark.parametrize(
    "headnote",
    [
        "It is ready in four hours.",
        "On the table in 240 minutes.",
        "The dough is ready in ten minutes.",
        "Ready tomorrow, after a quarter of an hour of work.",
        "Made in 20 minutes of work.",
        "Boil it hard for ten minutes.",
        "Ready when you are, in an afternoon.",
        "Ready in less than half an hour. The sweet potato is cooked beforehand so that it can chill.",
        "Twenty minutes of work, and the oven does the rest.",
        "It comes together in 20 minutes, then chills for the afternoon.",
        "The sauce takes 10 minutes.",
    ],
)
def test_promise_that_is_kept(headnote: str) -> None:
    assert found("headnote-promise-broken", timed(headnote=headnote, active=20, total=240)) == ()


def test_path_takes_the_longest_way() -> None:
    path = critical_path(timed(parts=(PASTRY, FILLING, PIE)))
    assert (path.least, path.most) == (100 * 60, 150 * 60)
    assert [one.span.text for one in path.longest] == ["1 hour", "40 minutes"]


@pytest.mark.parametrize(
    ("seconds", "told"),
    [(45, "45 s"), (2700, "45 min"), (4500, "1 h 15 min"), (7200, "2 h"), (7 * 86400 + 3600, "7 days 1 h")],
)
def test_times_are_told_in_words(seconds: int, told: str) -> None:
    assert spoken(Fraction(seconds)) == told


def test_each_time_has_its_sentence() -> None:
    found_ = tuple(times(field("Stir. Bake for 20 minutes, until brown. Cool for 1 hour.")))
    assert [(one.sentence, one.following) for one in found_] == [
        ("Bake for 20 minutes, until brown", "Cool for 1 hour"),
        ("Cool for 1 hour", ""),
    ]


NIGHT = (
    "Fold in the paneer, cover and leave in the fridge overnight.",
    "Grill for 12 minutes, until charred.",
)
OR_NIGHT = ("Fold in the paneer and chill for 20 minutes or overnight.", NIGHT[1])
STEW = ("Brown the beef for 10 minutes.", "Add the stock and simmer for 2 hours, until tender.")


@pytest.mark.parametrize(
    ("title", "headnote", "steps", "promised"),
    [
        ("Paneer", "On the table in 30 minutes from start to finish.", NIGHT, "30 minutes"),
        ("Paneer", "A night in spiced yogurt, then half an hour's work the next day.", NIGHT, ""),
        ("Paneer", "Ready in 45 minutes.", OR_NIGHT, ""),
        ("Beef stew", "The whole dish takes 45 minutes.", STEW, "45 minutes"),
        ("30-minute beef stew", "A stew.", STEW, "30-minute"),
        ("30-minute beef stew", "A stew.", STEW[:1], ""),
        ("Six-minute eggs", "Eggs.", ("Boil for 6 minutes.", "Chill for 5 minutes."), ""),
        ("12-hour pork", "Pork.", ("Roast for 12 hours.", "Rest for 1 hour."), ""),
    ],
)
def test_a_promise_is_held_against_the_steps(
    title: str, headnote: str, steps: tuple[str, ...], promised: str
) -> None:
    told = found(
        "headnote-promise-broken", recipe([], list(steps), title=title, headnote=headnote, time=None)
    )
    assert [promised in one.what for one in told] == [True][: bool(promised)]
