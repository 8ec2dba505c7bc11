from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.check.formula.batch import losses
from cardsmith.check.formula.ratios import ratios
from cardsmith.finding import Severity
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.recipe.model import Recipe, Text, Yield
from cardsmith.reference import table
from tests.check.bench import HERE, found, ingredient, recipe

CRACKER = ("200 g whole wheat flour", "50 g rolled oats", "125 g water", "40 g olive oil", "6 g fine salt")
SCONE = ("300 g all-purpose flour", "14 g baking powder", "100 g unsalted butter", "180 g whole milk")
CURD = ("150 g granulated sugar", "150 g egg", "120 g lemon juice", "85 g unsalted butter")


def told(makes: str = "", serves: int = 0, piece: Fraction | int = 0, unit: str = "gram") -> Yield:
    """A yield as the loader reads it: "60 crackers" has a count, "2 cups" has none."""
    number, _, item = makes.partition(" ")
    counted = number.isdecimal() and item not in ("cups", "ml", "litres")
    return Yield(
        where=HERE,
        makes=Text(text=makes, where=HERE) if makes else None,
        makes_count=Fraction(number) if counted else None,
        makes_item=item if counted else makes,
        serves=Text(text=str(serves), where=HERE) if serves else None,
        serves_low=Fraction(serves) if serves else None,
        serves_high=Fraction(serves) if serves else None,
        piece=quantity(piece, units()[unit]) if piece else None,
    )


def of(
    *lines: str, kind: str, yields: Yield, steps: tuple[str, ...] = ("Stir everything together.",)
) -> Recipe:
    return recipe(list(lines), list(steps), kind=kind, yields=yields)


def scones(makes: str, *steps: str) -> Recipe:
    return of(*SCONE, kind="scone", yields=told(makes), steps=steps)


# The sums: crackers 421 g less 12 to 48 %, scones 594 g less 5 to 20 %, curd 505 g less 0 to 25 %.
FIRING = [
    (of(*CRACKER, kind="cracker", yields=told("60 crackers", 10, 12)), "60 at 12 g come to 720 g"),
    (of(*CRACKER, kind="cracker", yields=told("10 crackers", 5, 6)), "10 at 6 g come to 60 g"),
    (of(*SCONE, kind="scone", yields=told("8 scones", 8, 120)), "594 g, and a scone loses 5 to 20 %"),
    (of(*CURD, kind="curd", yields=told("5 cups", 16)), "5 cups weigh at least 1.12 kg"),
    (of(*CURD, kind="cordial", yields=told("300 ml", 40, 30, "millilitre")), "40 servings of 30 ml"),
    (recipe(list(SCONE), ["Stir everything."], yields=told("8 scones", 8, 500)), "would weigh 4 kg"),
    (recipe(["115 g butter", "150 g light brown sugar", "1 large egg", "120 g all-purpose flour",
             "150 g rolled oats", "100 g raisins"],
            ["Beat everything and bake."], yields=told("18 cookies", 18, 85)), "would weigh 1.53 kg"),
    (recipe(["¾ cup buttermilk", "½ cup mayonnaise", "1 tbsp lemon juice", "½ tsp fine salt"],
            ["Whisk everything."], yields=told("5 cups", 10)), "all of the list measures about"),
    (scones("1 scone of 20 cm, 8 wedges", "Cut into 12 wedges."), "makes 12 wedges"),
    (scones("8 scones", "Cut out 12 scones."), "makes 12 scones"),
    (scones("8 scones", "Shape into ten balls."), "makes 10 balls"),
    (scones("24 scones", "Drop in mounds (about 80 g each)."), "would weigh 1.92 kg"),
    (of(*CURD, kind="custard", yields=told("6 pots"), steps=("Fill among four 150 ml pots.",)), "4 pots"),
]  # fmt: skip

SILENT = [
    of(*CRACKER, kind="cracker", yields=told("50 crackers", 10, 6)),
    of(*SCONE, kind="scone", yields=told("8 scones", 8, 66)),
    of(*SCONE, "1 sprig fresh thyme", kind="scone", yields=told("8 scones", 8, 66)),
    of(*CURD, kind="curd", yields=told("2 cups", 16)),
    of(*CURD, kind="curd", yields=told("1 jar", 16, 190), steps=("Strain the curd.",)),  # some stays
    of("300 g basmati rice", kind="rice", yields=told("4 bowls", 4, 185)),  # the water is not in the list
    of(*SCONE, "1 glimmerroot", kind="scone", yields=told("8 scones", 8, 120)),  # something has no weight
    scones("8 scones", "Cut out 8 scones."),
    scones("8 scones", "Drop in mounds (about 70 g each)."),
    scones("24 scones", "Serve with pats of butter (about 80 g each)."),
    scones("24 scones", "Divide into 4 balls.", "Cut each into 6 wedges."),
    scones("8 scones", "Cut the butter into 2 cm pieces."),
    scones("8 scones", "Divide the dough into 2 rounds.", "Cut into 4 scones each."),
    scones("8 scones", "Set on a 12-cup pan.", "Bake for 12 minutes."),
    of(*SCONE, kind="yeast-bread", yields=told("1 loaf"), steps=("Divide into 3 pieces and plait them.",)),
    of(*SCONE, kind="cookie", yields=told("12 sandwiches"), steps=("Roll into 24 balls.", "Pair them.")),
    of(*CURD, kind="cordial", yields=told("360 ml", 12, 30, "millilitre")),
    recipe(list(SCONE), ["Stir everything together."], yields=told("8 scones", 8, 66)),  # no kind
    recipe(list(SCONE), ["Leave to rise and boil in water."], yields=told("8 scones", 8, 500)),
    recipe(["300 g basmati rice", "20 g unsalted butter"], ["Steam."], yields=told("8 cups", 4)),
    recipe(["100 g spinach", "30 g olive oil"], ["Toss."], yields=told("3 cups", 2)),
    scones("1 scone of 20 cm, 8 wedges", "Cut into 8 wedges."),
    scones("1 loaf (16 slices)", "Cut into 16 slices."),
]  # fmt: skip


@pytest.mark.parametrize(("one", "evidence"), FIRING)
def test_yield_that_cannot_be_is_asked_about(one: Recipe, evidence: str) -> None:
    found_ = found("yield-disagrees", one)
    assert [evidence in finding.what for finding in found_] == [True]
    near = any(one in evidence for one in ("servings of 30 ml", "10 balls", "60 at 12 g", "594 g"))
    assert found_[0].severity is (Severity.WARNING if near else Severity.ERROR)


@pytest.mark.parametrize("one", SILENT)
def test_yield_that_can_be_is_not(one: Recipe) -> None:
    assert [finding.what for finding in found("yield-disagrees", one)] == []


@pytest.mark.parametrize(
    ("makes", "wrong"),
    [
        ("36 meatballs, 12 servings of 4", True),
        ("24 wontons, enough for 6 people, 5 each", True),
        ("36 meatballs, 12 servings of 3", False),
        ("24 wontons, enough for 6 people, 4 each", False),
        ("36 meatballs, 12 servings", False),
    ],
)
def test_servings_of_so_many_come_to_all_of_them(makes: str, wrong: bool) -> None:
    one = of("900 g ground beef", kind="", yields=told(makes))
    assert [found_.severity for found_ in found("yield-disagrees", one)] == [Severity.ERROR] * wrong


def test_message_says_what_would_come_out() -> None:
    (finding,) = found("yield-disagrees", FIRING[0][0])
    assert finding.what == (
        "60 at 12 g come to 720 g; the list weighs 421 g, and a cracker loses 12 to 48 % of it"
    )
    assert finding.instead == "219 g to 370 g would come out: 3.65 to 6.17 g each"


@pytest.mark.parametrize(
    ("one", "evidence", "instead"),
    [
        (of("13 kg lamb shoulder", "500 g carrots", kind="braise", yields=told("6 plates", 6)),
         "6 servings of 1.8 kg each", "13 kg of lamb shoulder: was 1.3 kg meant? a decimal point"),
        (of(*CRACKER, kind="cracker", yields=told("50 crackers", 100, 6)), "100 servings of 3 g each", ""),
        (of(*CURD, kind="custard", yields=told("1 dish", 60)), "60 servings of", ""),
    ],
)  # fmt: skip
def test_portion_nobody_eats_is_asked_about(one: Recipe, evidence: str, instead: str) -> None:
    (finding,) = found("portion-implausible", one)
    assert evidence in finding.what
    assert instead in finding.instead
    assert finding.severity is Severity.WARNING


@pytest.mark.parametrize(
    "one",
    [
        of("1.3 kg lamb shoulder", "500 g carrots", kind="braise", yields=told("6 plates", 6)),
        of(*CRACKER, kind="cracker", yields=told("50 crackers", 10, 6)),
        of(*SCONE, kind="scone", yields=told("8 scones", 4, 66)),
        of("1.5 kg chicken backs", "2 kg water", kind="soup", yields=told("1.4 litres", 6),
           steps=("Simmer and strain.",)),
        of(*SCONE, "1 glimmerroot", kind="scone", yields=told("8 scones", 100)),
        of(*SCONE, kind="scone", yields=told("8 scones")),
    ],
)  # fmt: skip
def test_portion_that_is_eaten_is_not(one: Recipe) -> None:
    assert [finding.what for finding in found("portion-implausible", one)] == []


# Bake losses as test kitchens give them: bread 10 to 15 %, cookies 8 to 15 %, cakes 8 to 12 %;
# common practice. Every one must pass.
@pytest.mark.parametrize(
    ("kind", "loss"),
    [
        ("yeast-bread", 10),
        ("yeast-bread", 15),
        ("cookie", 8),
        ("cookie", 15),
        ("butter-cake", 8),
        ("butter-cake", 12),
    ],
)
def test_usual_losses_pass(kind: str, loss: int) -> None:
    one = of("500 g bread flour", "500 g water", kind=kind, yields=told("1 loaf", 0, 1000 - 10 * loss))
    assert found("yield-disagrees", one) == ()


def test_table_is_whole() -> None:
    assert set(losses()) == set(ratios())
    assert all(row["source"] for row in table("kind_losses"))


def test_line_of_use_does_not_count() -> None:
    assert ingredient("1 kg sunflower oil, for frying").for_use
    one = of(*SCONE, "1 kg sunflower oil, for frying", kind="scone", yields=told("8 scones", 8, 66))
    assert found("yield-disagrees", one) == ()


@pytest.mark.parametrize(("makes", "impossible"), [("120 cookies", True), ("26 cookies", False)])
def test_balls_of_a_weight_are_counted_against_the_list(makes: str, impossible: bool) -> None:
    one = recipe(
        ["400 g all-purpose flour", "225 g unsalted butter", "260 g granulated sugar", "100 g eggs"],
        ["Beat everything together.", "Roll the dough into balls of 38 g. Bake at 180 °C for 12 minutes."],
        yields=told(makes),
    )
    assert bool(found("yield-disagrees", one)) is impossible
