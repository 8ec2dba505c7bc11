"""Formulas by kind: too little, too much, and what must pass, for the ratios of narrow trades."""

from __future__ import annotations

from cardsmith.recipe.model import Recipe
from tests.check.bench import recipe


def of(kind: str, *ingredients: str) -> Recipe:
    return recipe(list(ingredients), ["Stir everything together."], kind=kind)


BASE = ("500 g whole milk", "350 g heavy cream", "150 g granulated sugar", "5 large egg yolks")
CREAM = ("500 g whole milk", "4 large egg yolks", "110 g granulated sugar")
FOAM = ("5 large eggs", "150 g granulated sugar")
JAM = ("1 kg raspberries", "800 g granulated sugar")
LOAF = ("500 g bread flour", "340 g water", "10 g fine salt")
BONES = ("2 kg chicken backs", "3 kg water")

FORMULAS = {
    "high-levain": (
        [of("yeast-bread", *LOAF, "1 kg sourdough starter")],
        [
            of("yeast-bread", *LOAF, "100 g sourdough starter"),
            of("yeast-bread", *LOAF, "150 g stiff levain"),
            of("cracker", *LOAF, "1 kg sourdough starter"),
        ],
    ),
    "low-flour": (
        [
            of("sponge", *FOAM, "15 g cake flour"),
            of("white-sauce", "1 kg whole milk", "8 g all-purpose flour"),
        ],
        [
            of("sponge", *FOAM, "150 g cake flour"),
            of("sponge", *FOAM, "100 g cake flour", "40 g cornstarch"),
            of("sponge", *FOAM, "40 g unsweetened cocoa powder"),
            of("white-sauce", "1 kg whole milk", "33 g all-purpose flour"),
            of("white-sauce", "1 kg chicken stock", "25 g cornstarch"),
        ],
    ),
    "high-flour": (
        [
            of("sponge", *FOAM, "400 g cake flour"),
            of("angel-food", "400 g egg whites", "400 g granulated sugar", "300 g cake flour"),
        ],
        [
            of("sponge", "4 large eggs (200 g)", "200 g granulated sugar", "200 g cake flour"),
            of("angel-food", "400 g egg whites", "400 g granulated sugar", "150 g cake flour"),
            of("white-sauce", "1 kg whole milk", "100 g all-purpose flour"),
        ],
    ),
    "low-starch": (
        [of("pastry-cream", *CREAM, "4 g cornstarch")],
        [of("pastry-cream", *CREAM, "40 g cornstarch"), of("pastry-cream", *CREAM, "55 g all-purpose flour")],
    ),
    "high-starch": (
        [of("pastry-cream", *CREAM, "400 g cornstarch")],
        [of("pastry-cream", *CREAM, "50 g cornstarch"), of("custard", *CREAM, "100 g cornstarch")],
    ),
    "low-milk-solids": (
        [of("ice-cream", "600 g water", "200 g heavy cream", "180 g granulated sugar")],
        [of("ice-cream", *BASE), of("ice-cream", "800 g coconut milk", "160 g granulated sugar")],
    ),
    "low-solids": (
        [of("ice-cream", "1 kg whole milk", "100 g granulated sugar")],
        [of("ice-cream", *BASE), of("sorbet", "1 kg water", "100 g granulated sugar")],
    ),
    "high-solids": (
        [of("ice-cream", "200 g heavy cream", "500 g granulated sugar")],
        [of("ice-cream", *BASE), of("ice-cream", *BASE, "150 g bittersweet chocolate")],
    ),
    "high-pectin": (
        [of("jam", *JAM, "150 g powdered pectin")],
        [of("jam", *JAM, "15 g powdered pectin"), of("jam", *JAM, "49 g powdered pectin"), of("jam", *JAM)],
    ),
    "low-agar": (
        [of("agar-dessert", "500 g whole milk", "0.3 g agar powder"), of("agar-dessert", "500 g whole milk")],
        [
            of("agar-dessert", "500 g whole milk", "2 g agar powder"),
            of("agar-dessert", "1 kg orange juice", "8 g agar flakes"),
        ],
    ),
    "high-agar": (
        [of("agar-dessert", "500 g whole milk", "30 g agar powder")],
        [
            of("agar-dessert", "500 g whole milk", "6 g agar powder"),
            of("ice-cream", "500 g whole milk", "30 g agar powder"),
        ],
    ),
    "high-vegetable": (
        [of("stock", *BONES, "4 kg carrots")],
        [of("stock", *BONES, "400 g carrots"), of("stock", "2 kg carrots", "3 kg water")],
    ),
}

# One formula of each narrow trade at the figure its table gives as typical; none may be questioned.
TRADE = [
    of("doughnut", "500 g bread flour", "270 g whole milk", "60 g unsalted butter", "60 g granulated sugar",
       "1 large egg", "10 g instant yeast", "8 g fine salt"),
    of("laminated-dough", "500 g bread flour", "260 g water", "260 g unsalted butter", "10 g fine salt"),
    of("laminated-dough", "500 g all-purpose flour", "250 g water", "475 g unsalted butter",
       "10 g fine salt"),
    of("brioche", "500 g bread flour", "250 g unsalted butter", "250 g egg", "60 g granulated sugar",
       "10 g instant yeast", "10 g fine salt"),
    of("yeast-bread", "500 g bread flour", "300 g whole milk", "40 g unsalted butter",
       "50 g granulated sugar", "6 g instant yeast", "9 g fine salt"),
    of("soft-meringue", "130 g egg whites", "130 g granulated sugar"),
    of("swiss-meringue", "130 g egg whites", "260 g granulated sugar"),
    of("italian-meringue", "130 g egg whites", "260 g granulated sugar", "86 g water"),
    of("royal-icing", "60 g egg whites", "330 g confectioners' sugar"),
    of("genoise", "4 large eggs (200 g)", "110 g granulated sugar", "110 g cake flour"),
    of("angel-food", "400 g egg whites", "400 g granulated sugar", "150 g cake flour"),
    of("layer-cake", "300 g cake flour", "345 g granulated sugar", "150 g unsalted butter", "3 large eggs",
       "250 g whole milk"),
    of("popover", "200 g all-purpose flour", "360 g whole milk", "4 large eggs", "3 g fine salt"),
    of("quiche", "200 g all-purpose flour", "130 g unsalted butter", "60 g water", "300 g heavy cream",
       "3 large eggs", "3 g fine salt"),
    of("crumble", "800 g apples", "200 g all-purpose flour", "100 g unsalted butter",
       "80 g granulated sugar"),
    of("pie", "200 g all-purpose flour", "100 g unsalted butter", "70 g granulated sugar", "1 large egg"),
    of("pastry-cream", "500 g whole milk", "90 g egg yolks", "110 g granulated sugar", "40 g cornstarch"),
    of("custard", "500 g heavy cream", "90 g egg yolks", "75 g granulated sugar"),
    of("brittle", "300 g granulated sugar", "90 g water", "180 g peanuts"),
    of("toffee", "200 g granulated sugar", "200 g unsalted butter", "50 g water"),
    of("caramel-sauce", "200 g granulated sugar", "150 g heavy cream", "60 g unsalted butter"),
    of("fudge", "400 g granulated sugar", "200 g heavy cream"),
    of("buttercream", "250 g unsalted butter", "500 g confectioners' sugar"),
    of("ganache", "400 g bittersweet chocolate", "200 g heavy cream"),
    of("ganache", "100 g bittersweet chocolate", "200 g heavy cream"),
    of("agar-dessert", "500 g orange juice", "4 g agar powder"),
    of("marshmallow", "300 g granulated sugar", "250 g light corn syrup", "200 g water",
       "22 g powdered gelatine"),
    of("gummy", "200 g orange juice", "60 g honey", "22 g powdered gelatine"),
    of("ice-cream", *BASE),
    of("syrup", "500 g granulated sugar", "500 g water"),
    of("syrup", "500 g granulated sugar", "250 g water"),
    of("jam", "470 g raspberries", "550 g granulated sugar"),
    of("marmalade", "300 g oranges", "700 g granulated sugar"),
    of("marmalade", "250 g lemons", "750 g granulated sugar"),
    of("low-sugar-spread", "1 kg raspberries", "350 g granulated sugar"),
    of("fruit-butter", "1 kg apples", "400 g granulated sugar"),
    of("stock", "3.6 kg beef stock bones", "5.7 kg water", "450 g carrots"),
    of("hollandaise", "95 g unsalted butter", "1 large egg yolk (17 g)"),
    of("white-sauce", "500 g whole milk", "33 g all-purpose flour", "33 g unsalted butter"),
    of("white-sauce", "500 g whole milk", "50 g all-purpose flour", "50 g unsalted butter"),
    of("mayonnaise", "200 g sunflower oil", "17 g egg yolks", "20 g lemon juice", "10 g mustard"),
    of("brine", "1 kg water", "50 g fine salt"),
    of("fermented-vegetable", "500 g carrots", "500 g water", "25 g fine salt"),
    of("couscous", "250 g couscous", "275 g water"),
    of("polenta", "200 g polenta", "1 kg water"),
    of("rice", "300 g brown rice", "630 g water"),
]  # fmt: skip
