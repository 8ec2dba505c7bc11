"""Dishes without a kind, from the trade's practice: sound ones are left in peace, absurd ones told."""

from __future__ import annotations

import pytest

from cardsmith.check.formula.ratios import RATIO_CHECKS
from tests.check.bench import found, recipe

CHECKS = [one.name for one in RATIO_CHECKS] + [
    "magnitude-slip",
    "soda-without-acid",
    "soda-for-powder",
    "leavening-missing",
    "pan-too-small",
    "pan-missing",
    "yield-disagrees",
    "weight-volume-disagree",
    "weight-count-disagree",
]

SOUND = [
    (
        "Parkin",
        (
            "225 g oatmeal; 225 g plain flour; 5 g baking soda; 10 g ground ginger; "
            "110 g unsalted butter; 225 g molasses; 110 g brown sugar; 150 g whole milk; "
            "1 large egg"
        ),
        "Mix, pour into a 20 cm square tin and bake for 60 minutes.",
    ),
    (
        "Irish brack",
        ("350 g raisins; 300 g tea; 200 g brown sugar; 275 g self-raising flour; 1 large egg"),
        "Soak overnight, mix, scrape into a 900 g loaf tin and bake for 75 minutes.",
    ),
    (
        "Clafoutis",
        (
            "500 g cherries; 3 large eggs; 100 g granulated sugar; 80 g plain flour; "
            "350 g whole milk; a pinch of fine salt"
        ),
        "Whisk, pour over the cherries in a 24 cm dish and bake for 35 minutes.",
    ),
    (
        "Far breton with prunes",
        "180 g plain flour; 150 g caster sugar; 4 large eggs; 750 ml whole milk",
        "Whisk, pour over the prunes in a 24 cm dish and bake for 50 minutes.",
    ),
    (
        "Date ma'amoul",
        (
            "350 g fine semolina; 100 g plain flour; 1.5 g fine salt; 200 g unsalted butter; "
            "1.5 g instant yeast; 30 g orange blossom water; 70 ml whole milk"
        ),
        "Rub in the butter, chill, knead with the milk, shape and bake for 17 minutes.",
    ),
    (
        "Yorkshire puddings",
        ("140 g plain flour; 4 large eggs; 200 ml whole milk; 3 g fine salt"),
        "Whisk and bake in hot fat in a muffin tin for 20 minutes.",
    ),
    (
        "Tempura batter",
        ("100 g plain flour; 50 g cornstarch; 200 ml sparkling water; 1 large egg"),
        "Stir, dip and fry.",
    ),
    (
        "Pão de queijo",
        (
            "250 g tapioca starch; 120 g whole milk; 60 g vegetable oil; 2 large eggs; "
            "150 g Parmesan; 5 g fine salt"
        ),
        "Boil the milk and oil, pour over, knead and bake for 20 minutes.",
    ),
    (
        "Gingerbread house",
        (
            "350 g plain flour; 5 g baking soda; 10 g ground ginger; 5 g ground cinnamon; "
            "125 g unsalted butter; 175 g brown sugar; 1 large egg; 80 g golden syrup"
        ),
        "Knead, roll out, cut and bake for 12 minutes.",
    ),
    (
        "Honeycomb",
        ("200 g granulated sugar; 100 g golden syrup; 10 g baking soda"),
        "Boil to 150 °C, stir in the soda and pour out.",
    ),
    (
        "Anzac biscuits",
        (
            "100 g rolled oats; 125 g plain flour; 150 g granulated sugar; 75 g desiccated coconut; "
            "125 g unsalted butter; 40 g golden syrup; 3 g baking soda; 30 ml water"
        ),
        "Mix and bake for 12 minutes.",
    ),
    (
        "Flapjacks",
        ("250 g rolled oats; 150 g unsalted butter; 100 g brown sugar; 80 g golden syrup"),
        "Press into a 20 cm square tin and bake for 25 minutes.",
    ),
    (
        "Stollen",
        (
            "500 g bread flour; 14 g instant yeast; 200 g whole milk; 200 g unsalted butter; "
            "75 g granulated sugar; 8 g fine salt; 250 g raisins; 200 g marzipan"
        ),
        "Knead, leave to rise, shape and bake.",
    ),
    (
        "Injera",
        ("300 g teff flour; 600 g water; 2 g instant yeast; 4 g fine salt"),
        "Ferment for 2 days and cook in a pan.",
    ),
    (
        "Blini",
        (
            "150 g buckwheat flour; 100 g plain flour; 7 g instant yeast; 350 g whole milk; "
            "2 large eggs; 5 g fine salt"
        ),
        "Leave to rise and fry in a skillet.",
    ),
    (
        "Focaccia",
        ("500 g bread flour; 400 g water; 5 g instant yeast; 12 g fine salt; 60 g olive oil; 5 g flaky salt"),
        "Fold, prove and bake in a 33 × 23 cm tin.",
    ),
    (
        "Shortcrust",
        ("250 g plain flour; 125 g unsalted butter; 3 g fine salt; 60 ml water"),
        "Rub in and chill.",
    ),
    (
        "Spätzle",
        ("300 g plain flour; 3 large eggs; 130 ml whole milk; 5 g fine salt"),
        "Beat and press into boiling water.",
    ),
    (
        "Gnocchi",
        ("1 kg potatoes; 250 g plain flour; 1 large egg; 8 g fine salt"),
        "Mash, knead, roll and boil.",
    ),
    (
        "Chicken gravy",
        ("50 g unsalted butter; 50 g plain flour; 600 ml chicken stock; 3 g fine salt"),
        "Make a roux, add the stock and simmer.",
    ),
    (
        "Christmas pudding",
        (
            "150 g suet; 100 g breadcrumbs; 75 g plain flour; 150 g dark brown sugar; "
            "400 g raisins; 2 large eggs; 5 g mixed spice; 80 ml stout"
        ),
        "Mix, pack into a 1.2 litre basin and steam for 6 hours.",
    ),
    ("Miso soup", ("1 litre dashi; 60 g white miso; 200 g tofu"), "Warm and stir in the miso."),
    (
        "Pork chops in brine",
        ("1 kg pork chops; 1 litre water; 60 g fine salt; 30 g granulated sugar"),
        "Submerge the chops for 4 hours, pat dry and grill.",
    ),
    ("Olive tapenade", ("200 g black olives; 30 g capers; 20 g anchovy fillets; 60 g olive oil"), "Blend."),
    (
        "Soy-glazed tofu",
        ("400 g tofu; 60 ml soy sauce; 30 g honey; 10 g ginger"),
        "Marinate and bake for 25 minutes.",
    ),
    (
        "Preserved lemons",
        ("8 lemons; 200 g coarse salt; 200 ml lemon juice"),
        "Pack in a jar and leave for 4 weeks.",
    ),
    (
        "Dukkah",
        ("100 g hazelnuts; 40 g sesame seeds; 20 g coriander seeds; 10 g cumin seeds; 5 g fine salt"),
        "Toast and grind.",
    ),
    (
        "Marshmallows",
        (
            "20 g powdered gelatine; 120 g water; 400 g granulated sugar; 160 g corn syrup; "
            "120 g water; 5 g vanilla extract"
        ),
        "Boil to 118 °C and whip for 10 minutes.",
    ),
    ("Wine gums", ("200 g grape juice; 100 g granulated sugar; 40 g powdered gelatine"), "Warm and set."),
    (
        "Tiramisu",
        ("250 g mascarpone; 3 large egg yolks; 75 g granulated sugar; 200 g ladyfingers; 200 ml espresso"),
        "Whisk, layer and chill.",
    ),
    ("Lemon posset", ("600 ml heavy cream; 150 g granulated sugar; 75 ml lemon juice"), "Boil and chill."),
    (
        "Beef jerky",
        ("1 kg beef round; 100 ml soy sauce; 20 g fine salt; 5 g black pepper"),
        "Marinate and dry for 6 hours.",
    ),
    (
        "Oatcakes",
        (
            "225 g oatmeal; 60 g whole wheat flour; 60 g unsalted butter; 3 g fine salt; "
            "2 g baking soda; 60 ml water"
        ),
        "Roll out, cut and bake.",
    ),
    ("Churros", ("250 g water; 250 g plain flour; 5 g fine salt; 5 g baking powder"), "Stir, pipe and fry."),
    (
        "Scotch pancakes",
        ("200 g self-raising flour; 25 g caster sugar; 1 large egg; 280 ml whole milk"),
        "Whisk and fry in a pan.",
    ),
    (
        "Soda farls",
        ("450 g plain flour; 5 g baking soda; 5 g fine salt; 350 ml buttermilk"),
        "Pat out and cook on a griddle.",
    ),
    (
        "Bara brith",
        ("200 g currants; 250 ml tea; 250 g self-raising flour; 100 g brown sugar; 1 large egg"),
        "Scrape into a 450 g loaf tin and bake for 60 minutes.",
    ),
]

SOUND += [
    (
        "Pretzels",
        "500 g bread flour; 280 g water; 7 g instant yeast; 10 g fine salt; 40 g unsalted butter; "
        "50 g baking soda; 1 litre water",
        "Knead, prove, shape, boil in the soda water, salt and bake.",
    ),
    (
        "Fruit cake",
        "250 g unsalted butter; 250 g dark brown sugar; 5 large eggs; 300 g plain flour; 1 kg raisins; "
        "5 g mixed spice; 60 ml brandy",
        "Mix, scrape into a 23 cm round cake tin and bake for 4 hours.",
    ),
    (
        "Jerk chicken",
        "1.5 kg chicken thighs; 2 tbsp ground allspice; 5 g dried thyme; 10 g fine salt; 3 g ground nutmeg; "
        "60 ml soy sauce",
        "Marinate and grill for 30 minutes.",
    ),
]

ABSURD = [
    (
        "Malt loaf",
        ("250 g plain flour; 40 g baking soda; 150 g malt extract; 100 g raisins; 150 ml tea; 1 large egg"),
        "Scrape into a 900 g loaf tin and bake for 50 minutes.",
    ),
    ("Beer bread", ("375 g plain flour; 330 ml beer; 120 g baking powder; 8 g fine salt"), "Mix and bake."),
    (
        "Rye loaf",
        ("500 g rye flour; 120 g water; 8 g instant yeast; 10 g fine salt"),
        "Knead, prove and bake.",
    ),
    ("Fish stew", ("1 kg cod; 800 g tomatoes; 400 ml fish stock; 130 g fine salt"), "Simmer for 15 minutes."),
    (
        "Vanilla panna cotta",
        ("500 ml heavy cream; 200 ml whole milk; 80 g granulated sugar; 50 g powdered gelatine"),
        "Warm, pour and chill.",
    ),
    (
        "Panna cotta",
        ("500 ml heavy cream; 200 ml whole milk; 80 g granulated sugar; 0.8 g powdered gelatine"),
        "Warm, pour and chill.",
    ),
    (
        "Pizza dough",
        ("500 g bread flour; 325 g water; 3 g instant yeast; 80 g fine salt"),
        "Knead and prove.",
    ),
    (
        "Soda scones",
        ("300 g plain flour; 5 g baking soda; 40 g unsalted butter; 170 ml whole milk; 3 g fine salt"),
        "Mix and bake.",
    ),
    (
        "Biryani",
        ("500 g chicken thighs; 300 g basmati rice; 200 g yogurt; 3 tbsp ground cloves; 8 g fine salt"),
        "Cook for 40 minutes.",
    ),
    (
        "Saffron risotto",
        ("300 g arborio rice; 1 litre chicken stock; 10 g saffron; 50 g Parmesan"),
        "Stir for 20 minutes.",
    ),
    (
        "Madeira cake",
        ("700 g unsalted butter; 600 g caster sugar; 10 large eggs; 800 g self-raising flour"),
        "Beat, scrape into a 20 cm round tin and bake for 60 minutes.",
    ),
    (
        "Cinnamon buns",
        (
            "500 g bread flour; 300 g whole milk; 70 g instant yeast; 60 g unsalted butter; "
            "60 g granulated sugar; 8 g fine salt"
        ),
        "Knead, prove and bake.",
    ),
    ("Shortbread", ("225 g plain flour; 30 g unsalted butter; 75 g caster sugar"), "Rub in, press and bake."),
    ("Pavlova", ("4 large egg whites; 900 g caster sugar; 5 g cornstarch"), "Whip and bake."),
    (
        "Popovers",
        ("3 large eggs (300 g); 1 cup (120 g) all-purpose flour; 1 cup whole milk"),
        "Whisk and bake.",
    ),
    (
        "Waffles",
        ("250 g plain flour; 4 tbsp baking powder; 2 large eggs; 400 ml whole milk; 80 g unsalted butter"),
        "Cook in a waffle iron.",
    ),
    (
        "Lentil soup",
        ("300 g red lentils; 1.5 litres vegetable stock; 6 tbsp fine salt; 200 g carrots"),
        "Simmer for 30 minutes.",
    ),
    (
        "Banana muffins",
        (
            "250 g plain flour; 3 tbsp baking soda; 300 g bananas; 100 g brown sugar; 2 large eggs; "
            "80 g vegetable oil"
        ),
        "Mix and bake in a 12-hole muffin tin.",
    ),
]


def asked(title: str, lines: str, step: str) -> list[str]:
    one = recipe(lines.split("; "), [step], title=title)
    return [told.severity.value for name in CHECKS for told in found(name, one)]


@pytest.mark.parametrize(("title", "lines", "step"), SOUND, ids=lambda one: one[:20])
def test_sound_dish_is_left_in_peace(title: str, lines: str, step: str) -> None:
    assert asked(title, lines, step) == []


@pytest.mark.parametrize(("title", "lines", "step"), ABSURD, ids=lambda one: one[:20])
def test_absurd_dish_is_an_error(title: str, lines: str, step: str) -> None:
    assert "error" in asked(title, lines, step)
