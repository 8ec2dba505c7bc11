from __future__ import annotations

import pytest

from cardsmith.check.formula.slips import shares
from cardsmith.finding import Severity
from cardsmith.measure.larder import load_larder
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from tests.check.bench import found, recipe
from tests.check.cases import of

CRACKER = ("200 g whole wheat flour", "6 g fine salt", "125 g water", "40 g olive oil")
CREAM = ("400 g heavy cream", "200 g whole milk", "60 g granulated sugar")
STEW = ("1 kg beef chuck", "500 g beef stock", "400 g carrots")

# what is spoiled, and the slip that the query offers ("" where none explains it)
FIRING = [
    (of(*CRACKER, "1 cup dried thyme", kind="cracker"), "was 1 tsp meant? another unit"),
    (of(*STEW, "1 cup ground cinnamon", kind="braise"), "was 1 tbsp meant? another unit"),
    (of(*CREAM, "50 g vanilla extract", kind="custard"), "was 5 g meant? a decimal point"),
    (of(*CREAM, "2 cups vanilla extract", kind="custard"), "was 2 tsp meant? another unit"),
    (of(*CREAM, "38 g fine salt", kind="custard"), "was 3.8 g meant? a decimal point"),
    (of(*CREAM, "60 g agar powder", kind="custard"), "was 6 g meant? a decimal point"),
    (of("150 g granulated sugar", "3 large eggs", "120 g lime juice", "85 tbsp unsalted butter", kind="curd"),
     "was 85 g meant? another unit"),
    (of(*CRACKER, "3 tbsp baking powder", kind="cracker"), "was 3 tsp meant? another spoon"),
    (of(*CREAM, "150 g vanilla extract", kind="custard"), "4 g would be usual"),
    (of("200 g red lentils", "200 g bulgur", "600 g water", "12 leaves romaine lettuce", "75 g fine salt"),
     "was 7.5 g meant? a decimal point"),
]  # fmt: skip

SILENT = [
    of(*CRACKER, "1 tsp dried thyme", kind="cracker"),
    of(*CRACKER, "2 tbsp dried oregano", kind="cracker"),
    of(*STEW, "3 tbsp sweet paprika", kind="braise"),
    of(*CREAM, "1 tbsp vanilla extract", kind="custard"),
    of(*CREAM, "5 g fine salt", kind="custard"),
    of(*CREAM, "6 g agar powder", kind="custard"),
    of("250 g unsalted butter", "150 g granulated sugar", "3 large eggs", kind="curd"),
    # A blend of spices, a brine, and a butter sauce are meant to be so.
    of("20 g ground cumin", "15 g ground coriander", "10 g paprika", "5 g cayenne", "10 g fine salt"),
    of("1 kg water", "60 g fine salt", steps=("Stir the salt into the water and brine the chicken.",)),
    of(
        "400 g bread flour",
        "200 g eggs",
        "40 g coarse salt",
        steps=(
            "Bring 4 litres of water to the boil with the salt. Boil the pasta. Keep some cooking water.",
        ),
    ),
    of("250 g unsalted butter", "10 g lemon juice", kind="sauce"),
    of("400 g all-purpose flour", "340 g whole milk", "15 g baking powder", kind="scone"),
    of(*CREAM, "a handful of dried thyme", kind="custard"),
    of("200 g red lentils", "200 g bulgur", "600 g water", "12 leaves romaine lettuce", "10 g fine salt"),
    of("1 lettuce", "1 piece of bread", "2 pieces of cheese", "20 g fine salt"),  # nobody knows the whole
]


@pytest.mark.parametrize(("one", "meant"), FIRING, ids=lambda one: one.ingredients[-1].text
                         if isinstance(one, Recipe) else None)  # fmt: skip
def test_slip_is_asked_about_and_explained(one: Recipe, meant: str) -> None:
    (told,) = found("magnitude-slip", one)
    assert told.instead.startswith(meant)
    inedible = one.ingredients[-1].text in (
        "38 g fine salt",
        "75 g fine salt",
        "60 g agar powder",
        "3 tbsp baking powder",
    )
    inedible |= one.ingredients[-1].text in ("2 cups vanilla extract", "150 g vanilla extract")
    assert told.severity is (Severity.ERROR if inedible else Severity.WARNING)


@pytest.mark.parametrize("one", SILENT, ids=lambda one: one.ingredients[-1].text)
def test_unusual_is_no_slip(one: Recipe) -> None:
    assert [told.what for told in found("magnitude-slip", one)] == []


def test_message_gives_the_evidence() -> None:
    (told,) = found("magnitude-slip", of(*CRACKER, "1 cup dried thyme", kind="cracker"))
    assert told.what == (
        "1 cup (43.2 g) of dried thyme is 10 % of the whole (414 g); dried herb is usually about 0.25 %"
    )


def test_proportions_speak_first() -> None:
    """One slip, one query: where the kind has a proportion for it, that one asks, and names the slip."""
    one = of("200 g all-purpose flour", "76 g water", "38 g fine salt", kind="cracker")
    assert found("magnitude-slip", one) == ()
    (told,) = found("high-salt", one)
    assert "38 g may stand for 3.8 g: a decimal point" in told.instead


@pytest.mark.parametrize(
    ("name", "line", "kind", "hint"),
    [
        (
            "high-baking-powder",
            "3 tbsp baking powder",
            "muffin",
            "3 tbsp may stand for 3 tsp: another spoon",
        ),
        ("high-salt", "1½ tbsp fine salt", "muffin", "1½ tbsp may stand for 1½ tsp: another spoon"),
        ("high-yeast", "20 g instant yeast", "yeast-bread", "20 g may stand for 20 g fresh yeast"),
    ],
)
def test_proportion_names_the_slip(name: str, line: str, kind: str, hint: str) -> None:
    (told,) = found(name, of("450 g all-purpose flour", "400 g whole milk", line, kind=kind))
    assert hint in told.instead


def test_figure_a_little_off_gets_no_hint() -> None:
    (told,) = found("high-salt", of("500 g bread flour", "15 g fine salt", kind="yeast-bread"))
    assert "may stand for" not in told.instead


def test_what_cannot_be_weighed_is_not_judged() -> None:
    one = recipe([*CREAM, "1 glimmerroot", "50 g vanilla extract"], ["Stir everything together."])
    assert found("magnitude-slip", one) == ()


def test_table_names_foods_of_the_larder() -> None:
    foods = load_larder().foods.values()
    patterns = [one for row in shares() for one in row.foods]
    assert [one for one in patterns if not any(is_of(food, (one,)) for food in foods)] == []
    assert all(row["source"] for row in table("usual_shares"))


SOUP = ("300 g leeks", "500 g potatoes", "900 ml vegetable stock", "100 ml heavy cream")
BLEND = "Simmer everything for 20 minutes, bring back to a boil, and blend until smooth."
DISHES = [
    ((*SOUP, "120 g fine salt"), BLEND, "error"),
    ((*SOUP, "12 g fine salt"), BLEND, ""),
    ((*SOUP, "6 tbsp fine salt"), BLEND, "error"),
    (("500 g bread flour", "340 g water", "120 g granulated sugar", "10 g fine salt"), "Mix and bake.", ""),
    (("1.5 kg chicken thighs", "80 g fine salt"), "Rub the salt over, leave overnight and rinse.", ""),
    (("1 kg salmon fillet", "60 g sea salt", "60 g granulated sugar"), "Cure for 48 hours.", ""),
    (("1.2 kg sea bass", "1 kg coarse salt"), "Bury the fish in the salt crust and bake.", ""),
    (("400 g spaghetti", "30 g fine salt", "100 g olive oil"), "Boil in salted water and drain.", ""),
    (("500 g heavy cream", "200 g whole milk", "60 g powdered gelatine"), "Warm, stir and chill.", "error"),
    (("500 g apples", "200 g granulated sugar", "3 tbsp ground cloves"), "Simmer until soft.", "error"),
    (("500 g apples", "200 g granulated sugar", "½ tsp ground cloves"), "Simmer until soft.", ""),
]


@pytest.mark.parametrize(("lines", "step", "severity"), DISHES, ids=lambda one: str(one)[-40:])
def test_salt_that_is_eaten_is_told_from_salt_that_is_not(
    lines: tuple[str, ...], step: str, severity: str
) -> None:
    told = [*found("magnitude-slip", one := of(*lines, steps=(step,))), *found("high-gelatine", one)]
    assert [asked.severity.value for asked in told] == [severity][: bool(severity)]
