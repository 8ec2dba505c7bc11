from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.check.safety.holding_times import seconds
from cardsmith.check.safety.keeping import kept_warm
from cardsmith.recipe.model import Text
from tests.check.bench import HERE, field, found, recipe
from tests.check.safety_cases import dish


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Keeps two days at room temperature.", "room temperature"),
        (
            "Keeps two days, loosely covered, at room temperature, or four days in the refrigerator.",
            "room temperature",
        ),
        ("Keeps one week in a cool, dark place.", "in a cool, dark place"),
        ("Keeps three weeks in an airtight tin.", "in an airtight tin"),
        ("Keeps a year in the cupboard.", "in the cupboard"),
        ("Keeps overnight on the counter.", "on the counter"),
        ("Keeps two weeks in the refrigerator.", ""),
        ("Do not keep at room temperature.", ""),
        ("A refrigerator pickle, not for the shelf.", ""),
        ("Never leave it on the counter.", ""),
        ("Leave no more than 2 hours at room temperature.", ""),
        ("Keeps two hours at room temperature, or three days in the refrigerator.", ""),
        ("Keeps three days chilled. Bring back to room temperature before serving.", ""),
        ("Serve at room temperature.", ""),
        ("Keeps one hour at room temperature. Refrigerate overnight.", ""),
        ("Keeps one hour at room temperature, or overnight chilled in the refrigerator.", ""),
        ("Cool to room temperature, then refrigerate.", ""),
        ("Keep cooked rice at 25 °C up to 12 hours.", "25 °C"),  # the room by its heat
        ("Keeps 12 hours at 77 °F.", "77 °F"),
        ("Don't keep the rice at 25 °C for 12 hours.", ""),
        ("Let stand at 21 °C for 1 hour, then chill for 3 days.", ""),
        ("Keep at 4 °C for 3 days.", ""),
    ],
)
def test_words_that_keep_food_warm(text: str, words: str) -> None:
    assert kept_warm(field(text)) == words


@pytest.mark.parametrize(
    ("text", "hours"),
    [("two hours", 2), ("1 hour", 1), ("overnight", 8), ("three days or a week", 168), ("no time at all", 0)],
)
def test_longest_time_in_a_text(text: str, hours: int) -> None:
    assert seconds(field(text)) == Fraction(hours * 3600)


@pytest.mark.parametrize(
    ("vinegar", "weak"),
    [("300 g white vinegar (4 % acidity)", True), ("300 g white vinegar of 4% acidity", True),
     ("300 g 4% white vinegar", True),
     ("300 g white vinegar, 4.5 percent acidity", True), ("300 g white vinegar (5 % acidity)", False),
     ("300 g white vinegar", False)],
)  # fmt: skip
def test_a_pickle_on_the_shelf_needs_strong_vinegar(vinegar: str, weak: bool) -> None:
    pickle = recipe(
        [vinegar, "200 g water", "400 g cucumbers", "20 g fine salt"],
        ["Boil the vinegar, water and salt.", "Pour it over the cucumbers in jars and process the jars."],
        title="Pickled cucumbers",
        storage="Keeps a year in the cupboard.",
    )
    told = [one.what for one in found("pickle-kept-warm", pickle)]
    assert any("needs vinegar of 5 % acidity" in one for one in told) is weak


def test_finding_names_the_food_and_the_words() -> None:
    (told,) = found(
        "perishable-kept-warm",
        dish("500 g ground lamb", "Bake.", kind="sausage", storage="Keeps three days at room temperature."),
    )
    assert told.what == "storage keeps meat (ground lamb) warm: “room temperature”"


@pytest.mark.parametrize("name", ["storage", "notes", "headnote", "cautions"])
def test_no_field_may_keep_rice_on_the_counter(name: str) -> None:
    told = "Leave it on the counter overnight."
    rice = dish("300 g long-grain white rice; 600 g water", "Simmer the rice in the water for 15 minutes.")
    several = (Text(text=told, where=HERE),)
    spoiled = replace(rice, **{name: several if name in {"notes", "cautions"} else told})  # type: ignore[arg-type]
    assert len(found("perishable-kept-warm", spoiled)) == 1
    assert found("perishable-kept-warm", rice) == ()


@pytest.mark.parametrize(
    ("storage", "time"),
    [
        ("Refrigerate within 20 hours and use within 3 days.", "20 hours"),
        ("Chill leftovers within 12 hours. Keeps 3 days.", "12 hours"),
        ("Put the rest in the fridge within half a day.", "half a day"),
        ("Refrigerate within 2 hours and eat within 3 days.", ""),
        ("Refrigerate and eat within 24 hours.", ""),
        ("Refrigerate; use within 24 hours.", ""),
        ("Cool to 21 °C within 2 hours and refrigerate to 5 °C within 4 hours more.", ""),
    ],
)
def test_food_that_spoils_is_chilled_within_two_hours(storage: str, time: str) -> None:
    told = found("left-out-too-long", dish("1 kg ground beef", "Simmer for 1 hour.", storage=storage))
    assert [one.what.split("”")[0] for one in told] == ([f"“{time}"] if time else [])


@pytest.mark.parametrize(
    ("storage", "time"),
    [
        ("Keeps in the refrigerator for 30 to 40 days, or frozen for 3 months.", "30 to 40 days"),
        ("Keeps in the fridge 3 weeks and 3 months frozen.", "3 weeks"),
        ("Keeps in the refrigerator for 3 to 4 days, or frozen for 3 months.", ""),
        ("Refrigerate up to 4 days or freeze up to 2 months.", ""),
    ],
)
def test_the_days_in_the_cold_are_no_months_in_the_freezer(storage: str, time: str) -> None:
    told = found("kept-cold-too-long", dish("1 kg ground beef", "Simmer for 1 hour.", storage=storage))
    assert [one.what.split("”")[0] for one in told] == ([f"“{time}"] if time else [])


@pytest.mark.parametrize(
    ("step", "held"),
    [
        ("Check with a thermometer that it stays at 110 °F for up to 3 hours while you serve it.", True),
        ("Check with a thermometer that it stays at 145 °F for up to 3 hours while you serve it.", False),
        ("Roast until a thermometer in the middle reads 130 °F, about 3 hours.", False),
    ],
)
def test_a_thermometer_that_food_stays_at_tells_how_it_is_held(step: str, held: bool) -> None:
    assert bool(found("held-in-danger", dish("1 kg ground beef", f"Simmer for 1 hour. {step}"))) is held


def test_boiling_water_that_oats_took_is_no_hot_water_for_the_yeast() -> None:
    lines = "60 g rolled oats; 180 g boiling water; 400 g bread flour; 2 g instant yeast; 220 g cool water"
    scald = "Pour the boiling water over the oats and leave until lukewarm, about 45 minutes."
    sound = dish(lines, f"{scald} Add the flour, yeast and cool water and stir.")
    faulty = dish(lines, "Stir the flour, yeast and oats. Add the boiling water and stir.")
    assert (bool(found("culture-killed", sound)), bool(found("culture-killed", faulty))) == (False, True)
