from __future__ import annotations

import pytest

from cardsmith.check.amounts.filling import fills
from cardsmith.check.formula.ratios import ratios
from cardsmith.finding import Severity
from cardsmith.recipe.model import Recipe, Text
from cardsmith.reference import table
from tests.check.bench import found, part, recipe

# 871 g of batter, 990 ml at 0.88 g/ml
CAKE = (
    "150 g unsalted butter", "220 g all-purpose flour", "9 g baking powder", "3 g fine salt",
    "215 g granulated sugar", "150 g egg", "124 g whole milk",
)  # fmt: skip
CREAM = ("600 g heavy cream", "100 g granulated sugar")
SOUP = ("500 g leeks", "400 g russet potatoes", "950 g vegetable stock")


CHEESE = ("900 g cream cheese", "250 g granulated sugar", "200 g egg", "240 g sour cream")


def of(lines: tuple[str, ...], *steps: str, kind: str, equipment: tuple[str, ...] = ()) -> Recipe:
    things = tuple(Text(text=one, where=recipe().where) for one in equipment)
    return recipe(list(lines), list(steps), kind=kind, equipment=things)


@pytest.mark.parametrize(
    ("one", "evidence"),
    [
        (of(CAKE, "Scrape everything into a 6-inch round cake pan.", kind="butter-cake"),
         "fills 107 % of the 6-inch round cake pan (927 ml)"),
        (of(CAKE, "Divide among a 6-cup muffin pan.", kind="muffin"), "fills 139 % of the 6-cup muffin pan"),
        (of(CAKE, "Scrape into the pan.", kind="butter-cake", equipment=("6-inch round cake pan",)),
         "6-inch round cake pan"),
        (of(CREAM, "Divide everything among five 100 ml glasses.", kind="gelatine-dessert"),
         "at least 533 ml; 5 × 100 ml glasses hold 500 ml"),
        (of(SOUP, "Simmer the leeks and potatoes in a 1-quart pot.", "Add the stock.", kind="soup"),
         "at least 1762 ml; 1-quart pot holds 946 ml"),
    ],
)  # fmt: skip
def test_what_runs_over_is_asked_about(one: Recipe, evidence: str) -> None:
    (told,) = found("pan-too-small", one)
    assert evidence in told.what
    over = "6-inch" in evidence  # a batter that fills its pan before it rises
    assert told.severity is (Severity.ERROR if over else Severity.WARNING)


@pytest.mark.parametrize(
    "one",
    [
        of(CAKE, "Scrape everything into a 9-inch round cake pan.", kind="butter-cake"),
        of(CAKE, "Scrape everything into two 6-inch round cake pans.", kind="butter-cake"),
        of(CAKE, "Divide among a 12-cup muffin pan.", kind="muffin"),
        of(CREAM, "Divide everything among five 150 ml glasses.", kind="gelatine-dessert"),
        of(SOUP, "Simmer the leeks and potatoes in a 4-quart pot.", "Add the stock.", kind="soup"),
        of(SOUP, "Warm the leeks in a 1-quart saucepan.", "In a bowl put potatoes and stock.", kind="soup"),
        of(CAKE, "Scrape everything into a 6-inch round cake pan.", kind="custard"),  # the kind is not judged
    ],
)  # fmt: skip
def test_what_fits_is_not(one: Recipe) -> None:
    assert [told.what for told in found("pan-too-small", one)] == []


MUCH = (
    "281 g all-purpose flour; 400 g granulated sugar; 86 g cocoa powder; 7 g baking powder; 4 g baking soda; "
    "150 g egg; 368 g buttermilk; 164 g canola oil; 177 g water"
)
FRUITY = (
    "200 g unsalted butter; 200 g caster sugar; 200 g egg; 150 g all-purpose flour; 100 g almond flour; "
    "10 g baking powder; 400 g plums"
)
RISING = (
    "240 g all-purpose flour; 8 g baking powder; 4 large eggs; 320 g light brown sugar; 218 g vegetable oil; "
    "330 g carrots, grated; 115 g walnuts"
)
PATE = "600 g pork shoulder; 200 g chicken livers; 12 g fine salt"


@pytest.mark.parametrize(
    ("name", "lines", "step", "severity"),
    [
        ("pan-too-small", MUCH, "Pour into an 8½ × 4½-inch loaf pan and bake for 60 minutes.", "error"),
        ("pan-too-small", MUCH, "Pour into a 9 × 13-inch baking pan and bake for 35 minutes.", ""),
        ("pan-too-small", FRUITY, "Bake in a 15 cm springform tin, 6 cm deep, for 50 minutes.", "error"),
        ("pan-too-small", FRUITY, "Bake in a 23 cm springform tin, 6 cm deep, for 50 minutes.", ""),
        ("pan-too-small", PATE, "Press into a 15 cm square tin and bake for 60 minutes.", ""),  # no batter
        (
            "pan-too-small",
            RISING,
            "Scrape into an 8-inch round cake pan, 2 inches deep, and bake.",
            "warning",
        ),
        ("pan-too-small", RISING, "Scrape into a 9 × 13-inch cake pan, 2 inches deep, and bake.", ""),
        ("pan-missing", PATE, "Press into a loaf tin and bake in a 35 x 25 cm roasting tin.", "warning"),
        ("pan-missing", PATE, "Press into a 900 g (2 lb) loaf tin and bake for 60 minutes.", ""),
        ("pan-missing", PATE, "Roast in a baking dish for 60 minutes.", ""),
        ("pan-missing", MUCH, "Scrape into a 22 cm springform tin and bake for 60 minutes.", ""),
    ],
)
def test_pan_is_judged_without_a_kind(name: str, lines: str, step: str, severity: str) -> None:
    asked = found(name, recipe(lines.split("; "), ["Mix everything.", step], title="A bake"))
    assert [one.severity.value for one in asked] == [severity][: bool(severity)]


def test_icing_is_not_in_the_pan() -> None:
    batter = part("Cake", list(CAKE), ["Scrape everything into an 8-inch round cake pan."])
    icing = part("Icing", ["900 g powdered sugar", "300 g unsalted butter"], ["Beat everything."])
    assert found("pan-too-small", recipe(parts=(batter, icing), kind="butter-cake")) == ()


def test_batter_lost_in_its_pan_is_asked_about() -> None:
    (told,) = found("pan-too-large", of(CAKE, "Scrape into a 13-by-18-inch baking pan.", kind="butter-cake"))
    assert "fills only" in told.what
    assert told.severity is Severity.WARNING


@pytest.mark.parametrize(
    "pan", ["9-inch round cake pan", "10-inch round cake pan", "9-by-13-inch baking pan"]
)
def test_usual_pans_pass(pan: str) -> None:
    size = 2 if "13" in pan else 1
    one = of(CAKE * size, f"Scrape into a {pan}.", kind="butter-cake")
    assert found("pan-too-large", one) == ()
    assert found("pan-too-small", one) == ()


@pytest.mark.parametrize("name", ["cake pan", "loaf tin", "springform pan"])
def test_pan_without_size_is_asked_about(name: str) -> None:
    (told,) = found("pan-missing", of(CAKE, f"Butter a {name}.", kind="butter-cake"))
    assert told.what == f"how large is the {name}?"


@pytest.mark.parametrize(
    "one",
    [
        of(CAKE, "Butter a 9-inch round cake pan.", kind="butter-cake"),
        of(CAKE, "Butter the cake pan.", kind="butter-cake", equipment=("9-inch round cake pan",)),
        of(CAKE, "Butter a 900 g loaf tin.", kind="butter-cake"),
        of(CAKE, "Line a half-sheet pan.", kind="quick-bread"),
        of(SOUP, "Roast in a baking dish.", kind="soup"),
    ],
)
def test_pan_with_a_size_is_not(one: Recipe) -> None:
    assert found("pan-missing", one) == ()


def test_table_is_whole() -> None:
    assert set(fills()) <= set(ratios())
    assert all(0 < one.least < one.most < 1 for one in fills().values())
    assert all(row["source"] for row in table("pan_fills"))


COD = "500 g skinless cod, cut in strips"
FRIES = "Heat the oil to 180 °C and fry the cod in batches for 4 minutes, until gold."


@pytest.mark.parametrize(
    ("oil", "equipment", "step", "severity"),
    [
        ("2 quarts peanut oil", "a heavy 2½-quart saucepan", FRIES, "error"),
        ("2 quarts peanut oil", "a heavy 6-quart Dutch oven", FRIES, ""),
        ("1.5 litres sunflower oil", "a 3-litre saucepan", FRIES, ""),
        ("1.8 litres sunflower oil", "a 3-litre saucepan", FRIES, "warning"),
        ("1 to 2 litres sunflower oil", "a 3-litre pan", FRIES, ""),
        ("2 litres oil", "a 2-litre saucepan and a 5-litre pot", FRIES, ""),
        ("60 ml sunflower oil", "", "Heat the oil in a 2.5-litre pan and fry the cod for 4 minutes.", ""),
        (
            "sunflower oil",
            "",
            "Heat 2 litres of the oil in a 2.5-litre pan to 180 °C. Deep-fry the cod for 4 minutes.",
            "error",
        ),
        ("1.8 kg lard", "", "Heat the lard in a 2.5-litre wok to 180 °C. Deep-fry the cod.", "error"),
    ],
)
def test_hot_fat_needs_room(oil: str, equipment: str, step: str, severity: str) -> None:
    one = of((COD, oil), step, kind="", equipment=(equipment,) if equipment else ())
    findings = found("pan-too-small", one)
    assert [one.severity.value for one in findings] == [severity][: bool(severity)]


FULL = (
    "Beat everything together and pour into a 6-inch springform pan, 3 inches deep.",
    "Bake for 70 minutes.",
)


@pytest.mark.parametrize(
    ("one", "says"),
    [
        (of(CHEESE, *FULL, kind=""), "at least 1445 ml, and the 6-inch springform pan holds 1390 ml"),
        (of(CHEESE, FULL[0].replace("6-inch", "9-inch"), FULL[1], kind=""), ""),
        (of(CHEESE, "Simmer the cream.", *FULL, kind=""), ""),  # and nobody knows how much is left
        (of(CHEESE, FULL[0].replace("a 6", "two 6").replace("pan,", "pans,"), FULL[1], kind=""), ""),
        (of(CHEESE, "Bake a crust.", FULL[0], "Chill.", kind=""), ""),
    ],
)
def test_what_no_pan_of_that_size_holds_is_an_error(one: Recipe, says: str) -> None:
    told = found("pan-too-small", one)
    assert [query.severity for query in told] == [Severity.ERROR] * bool(says)
    assert all(says in query.what for query in told)


@pytest.mark.parametrize(
    ("listed", "step", "told"),
    [
        ("8-inch round cake pan", "Scrape into a 9-by-13-inch baking pan.", 1),
        ("four 100 ml ramekins", "Pour into six 150 ml ramekins.", 1),
        ("9-by-13-inch baking pan", "Scrape into a 9-by-13-inch baking pan.", 0),
        ("23 cm round cake tin", "Scrape into a 9-inch round cake pan.", 0),  # two makers' sizes of one pan
        ("20 cm round cake tin", "Scrape into the cake tin.", 0),
    ],
)
def test_pan_of_the_equipment_is_that_of_the_steps(listed: str, step: str, told: int) -> None:
    assert len(found("pans-disagree", of(CAKE, step, kind="butter-cake", equipment=(listed,)))) == told
