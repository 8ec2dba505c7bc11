"""For every check: recipes it must question, and near misses on which it must be silent."""

from __future__ import annotations

from dataclasses import replace

from cardsmith.recipe.model import Recipe, Text, Yield
from tests.check.bench import HERE, part, recipe
from tests.check.formula_cases import FORMULAS
from tests.check.manner_cases import MANNER
from tests.check.safety_cases import SAFETY


def of(*ingredients: str, kind: str = "", steps: tuple[str, ...] = ("Stir everything together.",)) -> Recipe:
    return recipe(list(ingredients), list(steps), kind=kind)


def step(*texts: str) -> Recipe:
    return recipe([], list(texts))


def method(ingredients: str, *texts: str) -> Recipe:
    return recipe([one.strip() for one in ingredients.split(";")], list(texts))


LISTS = {  # check: lines that must fire, lines that must not
    "unknown-ingredient": (
        ["200 g glimmerroot", "2 cups all purpos flour", "Honey and berries, to serve", "For the glaze"],
        ["200 g whole-grain rye flour", "2 cups AP flour", "3 spring onions, sliced", "1 tsp bicarb"],
    ),
    "generic-ingredient": (
        ["2 cups flour", "100 g butter", "1 cup cream", "100 g sugar"],
        [
            "2 cups bread flour",
            "100 g unsalted butter",
            "1 cup heavy cream",
            "1 tsp salt",
            "2 (400 g) cans cannellini beans",
        ],
    ),
    "missing-density": (
        ["1 cup beef brisket"],
        ["1 cup beef brisket (240 g)", "240 g beef brisket", "1 cup whole milk"],
    ),
    "egg-size-missing": (
        ["3 eggs", "2 egg yolks"],
        ["3 large eggs", "3 eggs (150 g)", "150 g egg whites", "12 quail eggs"],
    ),
    "salt-by-volume-untyped": (
        ["1 tsp salt"],
        ["1 tsp fine salt", "6 g salt", "salt, to taste", "a pinch of salt"],
    ),
    "flour-by-volume": (
        ["2 cups bread flour"],
        ["2 cups (250 g) bread flour", "250 g bread flour", "1 tbsp all-purpose flour"],
    ),
    "brown-sugar-unpacked": (
        ["1 cup light brown sugar"],
        [
            "1 cup packed light brown sugar",
            "200 g light brown sugar",
            "1 cup light brown sugar, packed",
            "1 cup granulated sugar",
            "1 tsp light brown sugar",
        ],
    ),
    "vague-measure": (
        ["a knob of unsalted butter", "a splash of whole milk", "1 heaping tsp baking soda"],
        ["1 tbsp unsalted butter", "1 tsp baking soda", "2 cloves garlic", "black pepper, to taste"],
    ),
    "weight-volume-disagree": (
        [
            "1 cup (200 g) all-purpose flour",
            "1 cup (250 g) honey",
            "1 tbsp (40 g) granulated sugar",
            "20 g (1 cup) golden raisins",
        ],
        [
            "1 cup (120 g) all-purpose flour",
            "1 cup (145 g) all-purpose flour",
            "2 tbsp (28 g) olive oil",
            "1 cup (340 g) honey",
            "1 cup (215 g) granulated sugar",
            "1 (15 oz) can black beans, drained (about 1½ cups)",
            "½ tsp (3 g) fine salt",
        ],
    ),
    "weight-count-disagree": (
        ["4 large egg whites (230 g)", "2 sticks (125 g) unsalted butter", "1 large onion (20 g)"],
        [
            "4 large egg whites (130 g)",
            "2 sticks (225 g) unsalted butter",
            "1 large onion (200 g)",
            "6 leeks (1.2 kg)",
            "3 stalks celery (150 g)",
        ],
    ),
    "ounce-of-liquid": (
        ["8 oz whole milk", "4 oz olive oil"],
        ["8 fl oz whole milk", "8 oz (240 ml) whole milk", "8 oz cheddar", "240 g whole milk"],
    ),
    "fluid-ounce-of-solid": (
        ["4 fl oz all-purpose flour"],
        ["4 oz all-purpose flour", "4 fl oz whole milk", "4 fl oz honey"],
    ),
    "container-without-size": (
        ["2 cans chopped tomatoes", "1 packet instant yeast"],
        ["2 (400 g) cans chopped tomatoes", "4 No. 10 cans kidney beans", "7 g instant yeast"],
    ),
    "volume-too-coarse": (
        ["1/16 tsp baking soda", "½ cup powdered gelatine", "⅛ cup baking powder"],
        ["⅛ tsp baking soda", "1 tbsp powdered gelatine", "½ cup granulated sugar"],
    ),
    "prep-changes-measure": (
        ["4 cups strawberries, sliced", "1 cup fresh parsley, chopped"],
        [
            "4 cups sliced strawberries",
            "600 g strawberries, sliced",
            "1 tbsp fresh parsley, chopped",
            "1½ cups canned crushed pineapple, drained",
        ],
    ),
}

STEPS = {
    "scale-missing": (
        [
            "Heat the oven to 350.",
            "Bake at 180 degrees for 20 minutes.",
            "Cook until the custard reads 175 (79 °C), then sieve.",
        ],
        [
            "Heat the oven to 350 °F.",
            "Bake for 20 minutes.",
            "Cut into 350 squares.",
            "Pour in milk until the scale reads 150.",
        ],
    ),
    "scale-implausible": (
        [
            "Bake at 350 °C for 20 minutes.",
            "Refrigerate at 40 °C.",
            "Roast until the thickest part of the chicken reads 165 °C.",
            "Simmer for 30 minutes, until a thermometer beside the bone reads at least 165 °C.",
            "Heat the oil in a deep pot, no more than half full, to 340 °C.",
            "Bake at 180 °F for 20 minutes.",
            "Fry in oil at 350 °C.",
        ],
        [
            "Bake at 350 °F for 20 minutes.",
            "Refrigerate at 40 °F.",
            "Roast until the thickest part of the chicken reads 165 °F.",
            "Keep the oven at 170 °F to keep the pancakes warm.",
            "Dry in the oven at 80 °C for 6 hours.",
            "Heat until the cordial reads 180 °F (82 °C).",
            "Cover and leave at 20 °C until domed at the centre.",
            "Heat the oil in a deep pot until it reads 350 °F.",
            "Stand the pot in cold water until it reads 21 °C or less, then refrigerate.",
        ],
    ),
    "own-conversion-off": (
        [
            "Heat the oven to 350 °F (160 °C).",
            "Cook until the curd reads 170 °F (87 °C).",
            "Heat the oven to 180 °C (gas mark 6).",
            "Heat the oven to 170 °C fan/190 °C/gas mark 7.",
        ],
        [
            "Heat the oven to 350 °F (175 °C).",
            "Cook until the curd reads 170 °F (77 °C).",
            "Heat the oven to 180 °C (350 °F, gas mark 4).",
            "Heat the oven to 170 °C fan/190 °C/gas mark 5.",
            "Let the barbecue settle at 375 to 405 °F (191 to 207 °C).",
            "Roast until the meat reads 145 °F (63 °C).",
        ],
    ),
    "oven-off-dial": (
        ["Heat the oven to 163 °C.", "Heat the oven to 347 °F.", "Bake at gas mark 12."],
        [
            "Heat the oven to 160 °C.",
            "Heat the oven to 350 °F.",
            "Bake at gas mark 4.",
            "Bake until it reads 97 °C.",
        ],
    ),
}

SIZES = {
    "sizes-disagree": (
        [
            of("8 oz (200 g) cheddar"),
            of("scant ¼ cup (30 ml) olive oil"),
            of("1 pint (568 ml) whole milk"),
            of("2 (6 oz) salmon fillets, 170 g in all"),
            step("Tip in 6 oz (150 g) oats."),
            step("Line a 9-inch (20 cm) tin."),
            step("Butter a 9 x 13 inch (20 x 33 cm) tin."),
            step("Cut it in 1-inch (3 cm) pieces."),
        ],
        [
            of("8 oz (225 g) cheddar"),
            of("scant ¼ cup (50 ml) olive oil"),
            of("1 pint (475 ml) whole milk"),
            of("1 lb (450 g) carrots"),
            of("1 cup (240 ml) water"),
            of("2 salmon fillets (6 oz/170 g each)"),
            step("Tip in 6 oz (165 g) oats, then 1 cup (250 ml) of water and 1 cup (150 g) more."),
            step("Line a 9-inch (23 cm) tin."),
            step("Butter a 9 x 13 inch (23 x 33 cm) tin."),
            step("Cut it in ¼-inch (5 mm) dice, then the other half in ½-inch (1 cm) ones."),
        ],
    ),
}
METHODS = {
    "listed-not-used": (
        [
            method("200 g bread flour; 4 g fine salt; 130 g water", "Mix the flour and water."),
            method("60 g unsalted butter; 1 tsp vanilla extract", "Melt the butter."),
        ],
        [
            method("200 g bread flour; 4 g fine salt; 130 g water", "Mix the flour, salt and water."),
            method(
                "200 g bread flour; 4 g fine salt; 130 g water",
                "Whisk the dry ingredients, then pour in the water.",
            ),
            method("300 g carrots; 2 stalks celery; 1 onion", "Chop the vegetables."),
            method("3 large eggs", "Whisk the whites, then the yolks."),
            method("1 lemon", "Grate the zest and squeeze the juice."),
            method("80 g granulated sugar; 50 g packed dark brown sugar", "Whisk in both sugars."),
            method("20 g olive oil, for the pan; 4 large eggs", "Fry the eggs."),
        ],
    ),
    "used-not-listed": (
        [
            method("200 g bread flour; 130 g water", "Mix the flour and water.", "Knead in the butter."),
            method("200 g bread flour; 130 g water", "Mix the flour and water.", "Add the baking powder."),
            method("1 tbsp lemon juice", "Stir the lemon zest into the lemon juice."),
            method("200 g whole-wheat flour", "Whisk the flour and season with salt."),
            method("200 g bread flour; 130 g water", "Stir the water and oil and mix it into the flour."),
            method("200 g bread flour; 130 g milk", "Whisk the milk and melted butter into the flour."),
            method("60 g light corn syrup; 90 g water", "Boil the sugar, corn syrup and water."),
            method("1 tsp garlic powder", "Cook the garlic powder until it smells sweet, then the flour."),
            method("1 l beef stock", "Brown the beef. Pour in the stock."),
            recipe(["200 g basmati rice"], ["Cook the rice. Fork in the butter."], title="Rice with butter"),
            recipe(["300 g whole milk"], ["Warm the cream and milk."], title="Vanilla ice cream"),
            recipe(
                parts=(
                    part("Crust", ["200 g bread flour"], ["Rub the butter into the flour."]),
                    part("Crumble", ["95 g rolled oats", "60 g butter"], ["Rub the butter into the oats."]),
                )
            ),
        ],
        [
            method(
                "200 g bread flour; 130 g water", "Mix the flour and water to a dough, then rest the dough."
            ),
            method(
                "80 g unsalted butter",
                "Melt the butter until it smells of nuts, then strain the brown butter.",
            ),
            method("240 g heavy cream", "Whip the cream. Fold in the whipped cream."),
            method("200 g carrots", "Cook in salted water until soft. Drain off the boiling water."),
            method("2 lemons", "Grate the lemon zest. Squeeze the lemon juice."),
            method("4 large eggs", "Beat the egg whites."),
            method("600 g raspberries", "Churn in an ice-cream machine. Serve with yogurt."),
            method("200 g bread flour", "Rub until the pieces are the size of peas."),
            method("100 g granulated sugar; 60 g water", "Boil the sugar and water. Pour the syrup over."),
            method("200 g bread flour; 60 g butter", "Butter and flour the tin. Rub in butter and flour."),
            recipe(["300 g heavy cream"], ["Warm the cream. Scoop the ice cream."], title="Ice cream"),
            recipe(
                parts=(
                    part("Cream", ["200 g heavy cream"], ["Whip the cream."]),
                    part("Fruit", ["95 g raspberries"], ["Spoon the cream over the raspberries."]),
                )
            ),
            recipe(
                parts=(
                    part("Cinnamon sugar", ["50 g granulated sugar"], ["Put the sugar in a bowl."]),
                    part("Dough", ["95 g bread flour"], ["Roll out the flour. Scatter with the sugar."]),
                )
            ),
        ],
    ),
    "drawn-too-much": (
        [
            method("#s 70 g sesame seeds", "Stir in [50 g](#s).", "Scatter with [30 g](#s)."),
            method("#b 4 tbsp unsalted butter", "Melt [¼ cup](#b). Brush with [1 tbsp](#b)."),
            method(
                "#b 60 g unsalted butter, plus 10 g for the tin", "Melt [60 g](#b). Grease with [20 g](#b)."
            ),
        ],
        [
            method("#s 70 g sesame seeds", "Stir in [50 g](#s).", "Scatter with [20 g](#s)."),
            method("#b 5 tbsp unsalted butter", "Melt [¼ cup](#b). Brush with [1 tbsp](#b)."),
            method("#s 70 g sesame seeds", "Stir in [50 g](#s).", "Scatter with [the rest](#s)."),
            method(
                "#b 60 g unsalted butter, plus 10 g for the tin", "Melt [60 g](#b). Grease with [10 g](#b)."
            ),
        ],
    ),
    "left-over": (
        [
            method("#s 70 g sesame seeds", "Stir in [50 g](#s)."),
            method("#s 1 cup granulated sugar", "Beat in [half](#s).", "Dust with [a third](#s)."),
        ],
        [
            method("#s 70 g sesame seeds", "Stir in [50 g](#s).", "Scatter with [the rest](#s)."),
            method("#s 70 g sesame seeds", "Stir in [50 g](#s).", "Scatter with [20 g](#s)."),
            method("#s 70 g sesame seeds", "Stir in the [sesame](#s)."),
            method("#s 1 cup granulated sugar", "Beat in [half](#s).", "Dust with [half](#s)."),
        ],
    ),
    "rest-of-nothing": (
        [
            method("#s 70 g sesame seeds", "Stir in [70 g](#s).", "Scatter with [the rest](#s)."),
            method("#s 70 g sesame seeds", "Stir in [50 g](#s), then [the rest](#s), then [the rest](#s)."),
        ],
        [
            method("#s 70 g sesame seeds", "Stir in [50 g](#s).", "Scatter with [the rest](#s)."),
            method("#s 70 g sesame seeds", "Stir in [half](#s).", "Scatter with [the rest](#s)."),
        ],
    ),
    "divided-unmarked": (
        [
            method(
                "80 g granulated sugar; 3 large eggs",
                "Beat half the sugar with the eggs.",
                "Dust with the remaining sugar.",
            ),
        ],
        [
            method(
                "80 g granulated sugar, divided; 3 large eggs",
                "Beat half the sugar with the eggs.",
                "Dust with the remaining sugar.",
            ),
            method(
                "#s 80 g granulated sugar; 3 large eggs",
                "Beat [half](#s) of the sugar with the eggs.",
                "Dust with [the rest](#s) of the sugar.",
            ),
            method(
                "80 g granulated sugar; 3 large eggs",
                "Beat the sugar with the eggs.",
                "Bake until the sugar melts.",
            ),
        ],
    ),
    "order-of-use": (
        [
            method(
                "200 g bread flour; 60 g honey; 10 g olive oil",
                "Warm the honey and oil.",
                "Stir in the flour.",
            ),
        ],
        [
            method(
                "60 g honey; 10 g olive oil; 200 g bread flour",
                "Warm the honey and oil.",
                "Stir in the flour.",
            ),
            method("200 g bread flour; 60 g honey", "Mix the honey and flour."),
            method(
                "200 g bread flour; 60 g honey",
                "Whisk until the honey has melted.",
                "Stir in the flour and honey.",
            ),
        ],
    ),
}

RATIOS = {
    "low-hydration": (
        [
            of("200 g all-purpose flour", "50 g water", kind="cracker"),
            of("500 g bread flour", "180 g water", "10 g fine salt", kind="yeast-bread"),
        ],
        [
            of("200 g all-purpose flour", "100 g water", kind="cracker"),
            of("500 g bread flour", "325 g water", kind="yeast-bread"),
            of("200 g rolled oats", "50 g water", kind="cracker"),
        ],
    ),
    "high-hydration": (
        [of("200 g all-purpose flour", "200 g water", kind="cracker")],
        [
            of("200 g all-purpose flour", "100 g water", kind="cracker"),
            of("500 g bread flour", "400 g water", kind="yeast-bread"),
        ],
    ),
    "low-liquid": (
        [of("240 g all-purpose flour", "60 g whole milk", kind="pancake")],
        [
            of("240 g all-purpose flour", "300 g whole milk", kind="pancake"),
            of("240 g all-purpose flour", "60 g whole milk", kind="scone"),
        ],
    ),
    "high-liquid": (
        [of("100 g all-purpose flour", "400 g whole milk", kind="pancake")],
        [
            of("240 g all-purpose flour", "300 g whole milk", kind="pancake"),
            of("100 g all-purpose flour", "250 g whole milk", kind="crepe"),
        ],
    ),
    "low-fat": (
        [of("200 g all-purpose flour", "30 g unsalted butter", kind="pie")],
        [
            of("200 g all-purpose flour", "130 g unsalted butter", kind="pie"),
            of("200 g all-purpose flour", "120 g vegetable shortening", kind="pie"),
        ],
    ),
    "high-fat": (
        [of("200 g all-purpose flour", "340 g unsalted butter", kind="shortbread")],
        [
            of("200 g all-purpose flour", "134 g unsalted butter", kind="shortbread"),
            of("200 g all-purpose flour", "134 g unsalted butter", kind="pie"),
        ],
    ),
    "low-sugar": (
        [of("130 g egg whites", "26 g granulated sugar", kind="meringue-shell")],
        [
            of("130 g egg whites", "130 g granulated sugar", "130 g powdered sugar", kind="meringue-shell"),
            of("1 kg raspberries", "800 g granulated sugar", kind="jam"),
        ],
    ),
    "high-sugar": (
        [
            of(
                "250 g all-purpose flour",
                "600 g granulated sugar",
                "150 g unsalted butter",
                kind="butter-cake",
            )
        ],
        [
            of(
                "250 g all-purpose flour",
                "250 g granulated sugar",
                "150 g unsalted butter",
                kind="butter-cake",
            ),
            of("130 g egg whites", "260 g granulated sugar", kind="meringue-shell"),
        ],
    ),
    "low-egg": (
        [of("600 g whole milk", "1 large egg", "75 g granulated sugar", kind="custard")],
        [
            of("600 g whole milk", "3 large eggs", "75 g granulated sugar", kind="custard"),
            of("500 g heavy cream", "6 large egg yolks", kind="custard"),
        ],
    ),
    "high-egg": (
        [of("200 g 00 flour", "5 large eggs", kind="pasta")],
        [
            of("200 g 00 flour", "2 large eggs", kind="pasta"),
            of("600 g whole milk", "3 large eggs", kind="custard"),
        ],
    ),
    "low-salt": (
        [
            of("500 g bread flour", "325 g water", "1 g fine salt", kind="yeast-bread"),
            of("1 kg cabbage", "10 g fine salt", kind="sauerkraut"),
        ],
        [
            of("500 g bread flour", "325 g water", "10 g fine salt", kind="yeast-bread"),
            of("1 kg cabbage", "24 g fine salt", kind="sauerkraut"),
        ],
    ),
    "high-salt": (
        [
            of("200 g all-purpose flour", "100 g water", "38 g fine salt", kind="cracker"),
            of("1 kg water", "60 g fine salt", "300 g carrots", kind="soup"),
        ],
        [
            of("200 g all-purpose flour", "100 g water", "3.8 g fine salt", kind="cracker"),
            of("1 kg water", "12 g fine salt", "300 g carrots", kind="soup"),
        ],
    ),
    "low-yeast": (
        [of("500 g bread flour", "0.1 g instant yeast", kind="yeast-bread")],
        [
            of("500 g bread flour", "5 g instant yeast", kind="yeast-bread"),
            of("500 g bread flour", "100 g sourdough starter", "5 g instant yeast", kind="yeast-bread"),
        ],
    ),
    "high-yeast": (
        [of("500 g bread flour", "50 g instant yeast", kind="yeast-bread")],
        [
            of("500 g bread flour", "5 g instant yeast", kind="yeast-bread"),
            of("500 g bread flour", "20 g fresh yeast", kind="yeast-bread"),
        ],
    ),
    "high-baking-powder": (
        [of("250 g all-purpose flour", "3 tbsp baking powder", kind="muffin")],
        [
            of("250 g all-purpose flour", "3 tsp baking powder", kind="muffin"),
            of("250 g all-purpose flour", "1 tbsp baking powder", kind="scone"),
        ],
    ),
    "high-soda": (
        [of("400 g all-purpose flour", "1 tbsp baking soda", kind="quick-bread")],
        [
            of("400 g all-purpose flour", "1 tsp baking soda", kind="quick-bread"),
            of("300 g granulated sugar", "1 tsp baking soda", kind="brittle"),
        ],
    ),
    "low-gelatine": (
        [of("700 g heavy cream", "0.8 g powdered gelatine", kind="gelatine-dessert")],
        [
            of("700 g heavy cream", "7 g powdered gelatine", kind="gelatine-dessert"),
            of("700 g heavy cream", kind="custard"),
        ],
    ),
    "high-gelatine": (
        [of("700 g heavy cream", "70 g powdered gelatine", kind="panna cotta")],
        [
            of("700 g heavy cream", "7 g powdered gelatine", kind="panna cotta"),
            of("700 g heavy cream", "12 g powdered gelatine", kind="gelatine-dessert"),
        ],
    ),
    "low-vinegar": (
        [of("100 g distilled white vinegar", "300 g water", "500 g cucumbers", kind="quick-pickle")],
        [
            of("180 g distilled white vinegar", "180 g water", kind="quick-pickle"),
            of("300 g cider vinegar", "500 g cucumbers", kind="quick-pickle"),
        ],
    ),
    "low-oil": (
        [of("30 g olive oil", "90 g white wine vinegar", kind="dressing")],
        [
            of("90 g olive oil", "30 g white wine vinegar", kind="dressing"),
            of(
                "90 g olive oil",
                "30 g white wine vinegar",
                "10 g Dijon mustard",
                "7 g honey",
                kind="vinaigrette",
            ),
        ],
    ),
    "high-oil": (
        [of("240 g vegetable oil", "1 large egg yolk (10 g)", kind="mayonnaise")],
        [
            of("200 g vegetable oil", "1 large egg yolk", kind="mayonnaise"),
            of("90 g olive oil", "30 g lemon juice", kind="dressing"),
        ],
    ),
    "low-milk-fat": (
        [of("900 g skim milk", "150 g granulated sugar", kind="ice-cream")],
        [
            of("500 g whole milk", "350 g heavy cream", "150 g granulated sugar", kind="ice-cream"),
            of("900 g skim milk", kind="custard"),
        ],
    ),
    "high-milk-fat": (
        [of("900 g heavy cream", "100 g granulated sugar", kind="ice-cream")],
        [
            of("500 g whole milk", "350 g heavy cream", "150 g granulated sugar", kind="ice-cream"),
            of("900 g heavy cream", kind="custard"),
        ],
    ),
    "high-nut": (
        [of("200 g granulated sugar", "500 g roasted peanuts", kind="brittle")],
        [
            of("300 g granulated sugar", "255 g roasted peanuts", kind="brittle"),
            of("300 g granulated sugar", kind="brittle"),
        ],
    ),
    "low-chocolate": (
        [of("30 g bittersweet chocolate", "300 g heavy cream", kind="ganache")],
        [
            of("300 g bittersweet chocolate", "300 g heavy cream", kind="ganache"),
            of("200 g bittersweet chocolate", "100 g heavy cream", kind="truffle"),
        ],
    ),
    "high-chocolate": (
        [of("300 g bittersweet chocolate", "30 g heavy cream", kind="ganache")],
        [
            of("300 g bittersweet chocolate", "300 g heavy cream", kind="ganache"),
            of("200 g bittersweet chocolate", "100 g heavy cream", kind="truffle"),
        ],
    ),
    "low-stock": (
        [of("300 g arborio rice", "500 g chicken stock", kind="risotto")],
        [
            of("300 g arborio rice", "1.1 kg chicken stock", kind="risotto"),
            of("300 g arborio rice", "1 litre vegetable stock", "100 g dry white wine", kind="risotto"),
        ],
    ),
    "high-stock": (
        [of("300 g arborio rice", "3 kg chicken stock", kind="risotto")],
        [
            of("300 g arborio rice", "1.1 kg chicken stock", kind="risotto"),
            of("300 g arborio rice", "3 kg chicken stock", kind="soup"),
        ],
    ),
    "low-cream": (
        [of("200 g granulated sugar", "40 g heavy cream", kind="caramel-sauce")],
        [
            of("200 g granulated sugar", "150 g heavy cream", kind="caramel-sauce"),
            of("200 g granulated sugar", "40 g heavy cream", kind="brittle"),
        ],
    ),
    "high-cream": (
        [of("200 g granulated sugar", "500 g heavy cream", kind="caramel-sauce")],
        [
            of("200 g granulated sugar", "150 g heavy cream", kind="caramel-sauce"),
            of("200 g granulated sugar", "500 g heavy cream", kind="ice-cream"),
        ],
    ),
    "unknown-kind": (
        [of("100 g water", kind="craker"), of("100 g water", kind="zeppelin")],
        [of("100 g water", kind="cracker"), of("100 g water", kind="soda bread"), of("100 g water")],
    ),
}

GOOD = of("100 g honey", kind="cracker")
COMPLETENESS = {
    "no-yield": (
        [replace(GOOD, yields=None), replace(GOOD, yields=Yield(where=HERE))],
        [GOOD, replace(GOOD, yields=Yield(where=HERE, serves=Text(text="4", where=HERE)))],
    ),
    "no-time": ([replace(GOOD, time=None)], [GOOD, replace(GOOD, storage="")]),
    "no-kind": ([of("100 g honey")], [GOOD, of("100 g honey", kind="zeppelin")]),
    "no-headnote": ([replace(GOOD, headnote="")], [GOOD, replace(GOOD, storage="")]),
    "placeholder-left": (
        [replace(GOOD, headnote="‹Say here why.› So it is."), of("200 g ‹your flour›"), step("‹Mix it.›")],
        [GOOD, replace(GOOD, headnote="Heat < 200 °C and > 150 °C."), of("200 g flour (see ‹)")],
    ),
    "no-storage": ([replace(GOOD, storage=" ")], [GOOD, replace(GOOD, headnote="")]),
}

CASES: dict[str, tuple[list[Recipe], list[Recipe]]] = {
    **{name: ([of(one) for one in fire], [of(one) for one in hush]) for name, (fire, hush) in LISTS.items()},
    **{
        name: ([step(one) for one in fire], [step(one) for one in hush])
        for name, (fire, hush) in STEPS.items()
    },
    **SIZES,
    **METHODS,
    **RATIOS,
    **FORMULAS,
    **COMPLETENESS,
    **SAFETY,
    **MANNER,
}

GLAZED = recipe(
    parts=(
        part("Dough", ["300 g all-purpose flour", "150 g water"], ["Mix the flour and water."]),
        part("Glaze", ["60 g powdered sugar", "60 g water"], ["Stir the sugar and water."]),
    ),
    kind="cracker",
)
