"""For checks on safety and claims: recipes they must stop or question, near misses they must let pass."""

from __future__ import annotations

from cardsmith.measure.units import units
from cardsmith.recipe.model import Recipe, Text, Yield
from tests.check.bench import HERE, part, recipe


def dish(
    ingredients: str,
    *steps: str,
    title: str = "A dish",
    kind: str = "",
    storage: str = "",
    claims: str = "",
    headnote: str = "A plain dish.",
    equipment: str = "",
    serves: int = 0,
) -> Recipe:
    """A recipe from its list (lines joined by ``;``) and its steps."""
    return recipe(
        [one.strip() for one in ingredients.split(";") if one.strip()],
        list(steps) or ["Stir everything together."],
        kind=kind,
        title=title,
        storage=storage,
        headnote=headnote,
        claims=tuple(Text(text=one.strip(), where=HERE) for one in claims.split(",") if one.strip()),
        equipment=tuple(Text(text=one.strip(), where=HERE) for one in equipment.split(",") if one.strip()),
        yields=Yield(
            where=HERE, serves=Text(text=str(serves), where=HERE), serves_low=units()["gram"].size * serves
        )
        if serves
        else None,
    )


CHUTNEY = "1.5 kg plums; 400 g dark muscovado sugar; 500 g cider vinegar"
JAM = "1 kg strawberries; 900 g granulated sugar"
JAMMED = "Boil the strawberries and sugar for 15 minutes, until it sets, and fill the jars."
SHELVED = "Keeps a year in a cool, dark cupboard."
CAUTIONS = {  # words of the caution: recipes whose card must print it, and near misses whose card must not
    "Raw egg": (
        [
            dish(
                "2 egg yolks; 200 g sunflower oil", "Whisk the yolks and beat in the oil.", kind="mayonnaise"
            ),
            dish(
                "3 large eggs, separated; 250 g mascarpone; 200 g ladyfingers",
                "Beat the egg yolks with the mascarpone. Whisk the whites and fold them in.",
                "Layer with the ladyfingers and refrigerate for 4 hours.",
                title="Coffee layers",
            ),
            dish(
                "200 g dark chocolate; 4 large eggs",
                "Melt the chocolate over low heat. Take off the heat.",
                "Beat in the eggs and chill for 2 hours.",
                title="Chocolate mousse",
            ),
        ],
        [
            dish("2 pasteurized egg yolks; 200 g sunflower oil", "Whisk the yolks and beat in the oil."),
            dish("200 g liquid egg white, pasteurized; 50 g sugar", "Whisk the egg white and sugar."),
            dish("2 hard-boiled eggs; 50 g mayonnaise", "Chop the eggs and stir in the mayonnaise."),
            dish("3 large eggs; 200 g granulated sugar", "Beat the eggs and sugar.", "Bake for 30 minutes."),
            dish("1 large egg; 500 g puff pastry", "Brush the pastry with the egg and bake for 20 minutes."),
            dish(
                "4 egg whites; 200 g granulated sugar",
                "Whisk the whites and sugar.",
                "Dry in the oven for 2 hours.",
            ),
            dish(
                "4 egg whites; 200 g granulated sugar",
                "Whisk the whites and sugar in a bowl over simmering water until they read 72 °C.",
            ),
            dish("100 g mayonnaise; 10 g lemon juice", "Stir the lemon juice into the mayonnaise."),
            dish(
                "4 egg whites; 240 g granulated sugar; 60 g water",
                "Boil the sugar and water until the syrup reads 118 °C.",
                "Whisk the whites and pour in the hot syrup.",
            ),
            dish("400 g spaghetti; 20 g eggnog", "Boil the spaghetti for 9 minutes."),
        ],
    ),
    "Lightly cooked egg": (
        [dish("4 large eggs; 4 slices rye bread", "Boil the eggs for 6 minutes, until the yolks are runny.")],
        [
            dish("4 large eggs", "Boil the eggs for 10 minutes, until firm."),
            dish("1 eggplant", "Roast until the juices are runny."),
            dish("4 large eggs", "Put the eggs in boiling water for 11 minutes."),
            dish("4 large eggs; 100 g cheddar", "Bake the eggs and cheese until no longer runny."),
        ],
    ),
    "Do not taste raw dough": (
        [
            dish(
                "200 g all-purpose flour; 1 large egg",
                "Mix to a dough. Taste a little of the raw dough. Bake for 20 minutes.",
            ),
        ],
        [dish("200 g all-purpose flour; 1 large egg", "Mix to a dough. Bake for 20 minutes and taste one.")],
    ),
    "Raw flour": (
        [
            dish(
                "150 g all-purpose flour; 100 g unsalted butter; 80 g light brown sugar",
                "Beat the butter and sugar. Stir in the flour and eat with a spoon.",
                title="Spoonable cookie dough",
            )
        ],
        [
            dish("150 g all-purpose flour; 90 g water", "Mix the flour and water. Bake for 20 minutes."),
            dish("150 g heat-treated flour; 100 g unsalted butter", "Beat the flour into the butter."),
            dish("100 g rice flour; 50 g water", "Mix the rice flour and water."),
            dish("30 g all-purpose flour, for dusting; 300 g marzipan", "Roll out the marzipan."),
        ],
    ),
    "babies under 1 year": (
        [dish("200 g rolled oats; 30 g honey", "Stir the honey into the oats and bake for 20 minutes.")],
        [
            dish("200 g rolled oats; 30 g maple syrup", "Stir the syrup into the oats."),
            dish("1 honeydew melon", "Cut the melon."),
        ],
    ),
    "Soak the beans": (
        [dish("250 g dried kidney beans; 1 kg water", "Simmer the beans in the water for 2 hours.")],
        [
            dish(
                "250 g dried kidney beans; 1 kg water",
                "Boil the beans hard for 30 minutes. Then simmer gently.",
            ),
            dish("2 (400 g) cans kidney beans", "Warm the beans for 10 minutes."),
            dish("250 g red lentils; 1 kg water", "Simmer the lentils in the water for 20 minutes."),
        ],
    ),
    "within 4 days": (
        [
            dish(
                "200 g olive oil; 6 cloves garlic",
                "Warm the oil and garlic for 20 minutes.",
                title="Garlic oil",
            )
        ],
        [
            dish(
                "200 g olive oil; 5 g red pepper flakes", "Warm the oil and pepper flakes.", title="Chili oil"
            ),
            dish(
                "60 g olive oil; 1 clove garlic; 20 g white vinegar",
                "Shake everything.",
                title="Garlic dressing",
            ),
            dish(
                "60 g olive oil; 4 cloves garlic; 500 g green beans",
                "Fry the beans in the oil with the garlic.",
            ),
        ],
    ),
    "Raw fish": (
        [
            dish(
                "500 g sea bass; 100 g lime juice",
                "Cover the fish with the lime juice for 1 hour.",
                title="Ceviche",
            ),
            dish("500 g salmon fillet; 30 g salt", "Rub the salmon with the salt and cure for 24 hours."),
        ],
        [
            dish(
                "500 g sea bass; 100 g lime juice",
                "Bake the fish for 12 minutes and pour over the lime juice.",
            ),
            dish("100 g smoked salmon; 1 raw carrot", "Lay the salmon over the raw carrot."),
            dish("2 anchovy fillets; 50 g olive oil", "Mash the raw garlic and anchovies into the oil."),
        ],
    ),
    "Molten sugar": (
        [
            dish(
                "200 g granulated sugar; 50 g water", "Boil the sugar and water until the syrup reads 150 °C."
            ),
            dish("200 g granulated sugar", "Melt the sugar until it turns to caramel.", kind="caramel-sauce"),
        ],
        [
            dish(
                "200 g granulated sugar; 200 g water",
                "Simmer the sugar and water until the syrup reads 102 °C.",
            ),
            dish(
                "500 g onions; 5 g granulated sugar",
                "Fry the onions with the sugar for 30 minutes until golden.",
            ),
            dish("200 g soft caramels; 100 g apples", "Slice the apples.", title="Apples"),
        ],
    ),
    "Hot fat": (
        [
            dish(
                "1 l vegetable oil; 500 g potatoes",
                "Heat the oil to 180 °C and fry the potatoes for 5 minutes.",
            ),
            dish("1 l vegetable oil; 500 g potatoes", "Deep-fry the potatoes in the oil for 5 minutes."),
        ],
        [
            dish("2 tbsp vegetable oil; 500 g potatoes", "Fry the potatoes in the oil for 20 minutes."),
            dish("60 g olive oil; 200 g all-purpose flour", "Stir the oil into the flour. Bake at 180 °C."),
        ],
    ),
    "Pour spirits from a cup": (
        [dish("60 ml brandy; 4 bananas", "Add the brandy to the bananas and flambé.")],
        [dish("60 ml brandy; 4 bananas", "Simmer the bananas in the brandy over a low flame for 5 minutes.")],
    ),
    "pressure cooker": (
        [dish("250 g chickpeas; 1 l water", "Cook the chickpeas in a pressure cooker for 40 minutes.")],
        [dish("250 g chickpeas; 1 l water", "Press the chickpeas and boil in the water for 2 hours.")],
    ),
    "under 4": (
        [
            dish(
                "200 g whole almonds; 200 g granulated sugar",
                "Boil the sugar to an amber caramel. Stir in the almonds.",
                kind="brittle",
            ),
            dish("100 g popcorn kernels; 20 g vegetable oil", "Pop the popcorn in the oil."),
            dish("200 g grapes", "Pack the grapes.", title="A lunchbox for children"),
        ],
        [
            dish("200 g almonds, chopped; 500 g apples", "Toss the apples with the almonds."),
            dish("200 g cherry tomatoes; 20 g olive oil", "Toss the tomatoes with the oil."),
            dish("200 g grapes, quartered", "Pack the grapes.", title="A lunchbox for children"),
            dish(
                "100 g peanut butter; 200 g rolled oats", "Stir the peanut butter and oats.", kind="granola"
            ),
        ],
    ),
    "130 °F": (
        [dish("600 g pork loin", "Seal in a vacuum bag and cook sous vide at 60 °C for 2 hours.")],
        [
            dish(
                "600 g pork loin",
                "Roast for 1 hour until the thickest part reads 145 °F. Rest for 5 minutes.",
            )
        ],
    ),
    "frozen for 7 days": (
        [
            dish("500 g sushi-grade zander; 300 g short-grain white rice", "Slice the zander."),
            dish("300 g tuna steak; 10 g soy sauce", "Slice the tuna.", title="Tuna tartare"),
        ],
        [dish("300 g canned tuna in water", "Flake the tuna.", title="Tuna tartare")],
    ),
    "Pink or raw meat": (
        [
            dish("400 g beef tenderloin", "Chop the beef finely and season.", title="Steak tartare"),
            dish("2 strip steaks", "Sear the steaks for 6 minutes, until medium-rare, 130 °F inside."),
            dish("2 strip steaks", "Sear the steaks for 3 minutes on each side, until 125 °F at the centre."),
        ],
        [
            dish(
                "400 g carrots; 200 g ground beef", "Fry the beef for 10 minutes.", title="Carrots with beef"
            ),
            dish(
                "2 strip steaks", "Sear the steaks until the thickest part reads 145 °F. Rest for 3 minutes."
            ),
        ],
    ),
    "elderberries": (
        [dish("500 g elderberries; 200 g granulated sugar", "Simmer the elderberries with the sugar.")],
        [dish("500 g blackberries; 50 ml elderflower cordial", "Simmer the blackberries with the cordial.")],
    ),
    "Raw sprouts": (
        [dish("100 g alfalfa sprouts; 1 tomato", "Slice the tomato and scatter over the sprouts.")],
        [dish("100 g mung bean sprouts; 20 g vegetable oil", "Fry the sprouts in the oil for 3 minutes.")],
    ),
    "cooked rice": (
        [dish("200 g basmati rice; 300 g water", "Boil the rice for 12 minutes. Cool.", title="Rice salad")],
        [dish("200 g basmati rice; 300 g water", "Boil the rice for 12 minutes and serve.")],
    ),
    "5 % acidity": (
        [
            dish(
                "500 g cucumbers; 200 g white vinegar",
                "Pour the hot vinegar over the cucumbers.",
                kind="quick-pickle",
            )
        ],
        [
            dish(
                "500 g cucumbers; 200 g white vinegar, 5 % acidity",
                "Pour the hot vinegar over the cucumbers and refrigerate.",
                kind="quick-pickle",
            ),
            dish("200 g dill pickles; 100 g mayonnaise", "Chop the pickles into the mayonnaise."),
        ],
    ),
    "gloves and goggles": (
        [dish("40 g food-grade lye; 1 l cold water", "Stir the lye into the water.")],
        [dish("40 g baking soda; 1 l water", "Stir the soda into the water and boil.")],
    ),
}

CHICKEN = "8 chicken thighs (1.4 kg), bone-in"
BRAISED = "Braise in the oven for 40 minutes, until the meat pulls from the bone."
MEDIUM = "Roast the {} until the thickest part reads {}."


BACKS = "3 kg chicken backs; 6 kg water"
STOCK = "Simmer the backs in the water for 4 hours, until golden. Strain."

SAFETY: dict[str, tuple[list[Recipe], list[Recipe]]] = {
    "hazard-caution": (
        [fire for fires, _ in CAUTIONS.values() for fire in fires],
        [
            dish("500 g apples", "Bake the apples for 30 minutes."),
            dish("4 eggs", "Boil the eggs for 10 minutes."),
        ],
    ),
    "review-needed": (
        [
            dish(
                "2 kg pork belly; 5 g pink curing salt no. 1", "Rub the pork with the cure. Roast to 150 °F."
            ),
            dish("1 kg tomatoes; 20 g lemon juice", "Pack into jars and process in a boiling-water canner."),
            dish("200 g foraged chanterelles; 20 g unsalted butter", "Fry the mushrooms in the butter."),
            dish("50 g wormwood; 200 g cream", "Steep the wormwood in the cream."),
        ],
        [
            dish("2 kg pork belly; 20 g pink Himalayan salt", "Roast the pork for 3 hours with the salt."),
            dish("200 g cremini mushrooms; 20 g unsalted butter", "Fry the mushrooms in the butter."),
            dish("200 g canned tomatoes", "Process the tomatoes in a food processor."),
            dish("1 tsp almond extract; 200 g cream", "Stir the extract into the cream."),
        ],
    ),
    "doneness-missing": (
        [
            dish(CHICKEN, "Roast for 40 minutes, until the skin is deep gold."),
            dish("500 g ground beef", "Shape into burgers and grill for 4 minutes each side."),
            dish("1 pork tenderloin (450 g)", "Roast for 25 minutes, until just firm."),
            dish("4 salmon fillets (600 g)", "Bake the salmon for 12 minutes."),
            dish(
                "3 egg yolks; 300 g whole milk; 60 g granulated sugar",
                "Whisk the yolks and sugar into the milk. Cook over low heat until it coats a spoon.",
                kind="ice-cream",
            ),
            dish("400 g shrimp; 20 g unsalted butter", "Fry the shrimp in the butter for 3 minutes."),
        ],
        [
            dish(CHICKEN, BRAISED[:-1] + " and the thickest part reads 165 °F."),
            dish("1 kg chicken bones; 2 l water", "Simmer the bones in the water for 4 hours."),
            dish(
                "2 kg chicken wings; 3 l water",
                "Simmer the wings in the water for 3 hours and strain.",
                kind="soup",
            ),
            dish("300 g cooked chicken; 100 g celery", "Fry the celery and chicken for 5 minutes."),
            dish("1 cooked ham (2 kg); 60 g honey", "Bake the ham with the honey for 1 hour."),
            dish("200 g bacon", "Fry the bacon for 8 minutes, until crisp."),
            dish("100 g prosciutto; 4 figs", "Grill the figs with the prosciutto for 3 minutes."),
            dish(
                "300 g canned tuna in oil; 200 g spaghetti", "Boil the spaghetti. Warm through with the tuna."
            ),
            dish("4 cod fillets (600 g)", "Bake the cod for 12 minutes, until it is opaque and flakes."),
            dish(
                "1 kg mussels; 200 g dry white wine", "Steam the mussels in the wine until the shells open."
            ),
            dish(
                "3 large eggs; 200 g all-purpose flour", "Beat the eggs into the flour. Bake for 30 minutes."
            ),
            dish(
                "1 kg beef chuck; 500 g beef stock", "Simmer the beef in the stock for 3 hours, until tender."
            ),
            dish("1 tsp ground cinnamon; 500 g apples", "Bake the apples with the cinnamon for 30 minutes."),
            dish(
                "3 large eggs; 400 g whole milk",
                "Whisk the eggs and milk. Bake for 35 minutes.",
                kind="custard",
            ),
            dish(
                "500 g ground beef; 400 g canned crushed tomatoes",
                "Fry the beef for 10 minutes, breaking it up. Add the tomatoes and simmer for 40 minutes.",
            ),
            dish("500 g carrots; 200 g chicken stock", "Simmer the carrots in the stock for 15 minutes."),
            dish("20 g duck fat; 500 g potatoes", "Roast the potatoes in the duck fat for 40 minutes."),
        ],
    ),
    "doneness-too-low": (
        [
            dish(CHICKEN, "Roast until the thickest part reads 155 °F."),
            dish("1 whole chicken (1.5 kg)", "Roast until the thigh reads 70 °C."),
            dish("500 g ground beef", "Grill the burgers until the centre reads 145 °F."),
            dish("500 g Italian sausage", "Grill until the centre of a sausage reads 65 °C."),
            dish("1 kg pork loin", MEDIUM.format("pork", "135 °F") + " Rest for 10 minutes."),
            dish("600 g salmon fillet", "Bake until the thickest part reads 49 °C."),
            dish("1 kg beef rib roast", MEDIUM.format("beef", "125 °F")),
            dish(
                "3 large eggs; 100 g lemon juice; 100 g unsalted butter",
                "Cook the eggs and juice over low heat until the curd reads 65 °C. Stir in the butter.",
                kind="curd",
            ),
            dish("500 g ground turkey", "Bake until the centre reads 160 °F."),
            dish(CHICKEN, BRAISED + " It should read 165 °F.", storage="Reheat to 140 °F."),
        ],
        [
            dish(CHICKEN, "Roast until the thickest part reads 165 °F."),
            dish(CHICKEN, "Roast until the thickest part reads 74 °C."),
            dish(CHICKEN, "Roast until the thickest part reads 160 °F, and rest until it reads 165 °F."),
            dish("500 g ground beef", "Grill the burgers until the centre reads 71 °C."),
            dish("1 kg pork loin", MEDIUM.format("pork", "63 °C") + " Rest for 3 minutes."),
            dish(
                "600 g boneless skinless chicken breast",
                "Cook sous vide at 65 °C, held there for 1 hour 30 minutes.",
            ),
            dish(
                "1 kg beef rib roast",
                "Roast until the centre reads 131 °F, and hold it there for 90 minutes.",
            ),
            dish("2 strip steaks", "Sear the steaks on both sides until the centre reads 130 °F."),
            dish("400 g bread flour; 1 ham (2 kg)", "Bake the loaf until the centre reads 97 °C."),
            dish(
                "3 large eggs; 100 g lemon juice; 100 g unsalted butter",
                "Cook the eggs and juice over low heat until the curd reads 77 °C. Stir in the butter.",
                kind="curd",
            ),
            dish(
                CHICKEN + "; 400 g water",
                "Marinate at 4 °C for 4 hours. Roast until the thickest part reads 165 °F.",
            ),
            dish(
                "500 g ground turkey; 600 g salmon fillet",
                "Bake the turkey until its centre reads 165 °F. Bake the salmon until it reads 145 °F.",
            ),
        ],
    ),
    "spread-kept-warm": (
        [
            dish(
                "1 kg strawberries; 200 g granulated sugar",
                "Simmer the strawberries and sugar for 30 minutes. Spoon into jars.",
                storage="Keeps a year in a cool cupboard.",
            ),
        ],
        [
            dish(
                "1 kg strawberries; 800 g granulated sugar",
                "Simmer the strawberries and sugar for 30 minutes. Spoon into jars.",
                storage="Keeps a year in a cool cupboard.",
            ),
            dish(
                "1 kg strawberries; 200 g granulated sugar",
                "Simmer the strawberries and sugar for 30 minutes. Spoon into jars.",
                storage="Keeps three weeks in the refrigerator.",
            ),
        ],
    ),
    "custard-oven-too-hot": (
        [
            dish(
                "4 egg yolks; 400 g whole milk; 60 g granulated sugar",
                f"Heat the oven to {heat} °C. Whisk the yolks, sugar and milk and pour into ramekins.",
                "Bake for 35 minutes, until set.",
            )
            for heat in (210, 250)
        ],
        [
            dish(
                "4 egg yolks; 400 g whole milk; 60 g granulated sugar",
                "Heat the oven to 150 °C. Whisk the yolks, sugar and milk and pour into ramekins.",
                "Bake for 35 minutes, until set.",
            ),
            dish(
                "4 egg yolks; 400 g whole milk; 60 g granulated sugar; 200 g white bread",
                "Heat the oven to 220 °C. Whisk the yolks, sugar and milk and pour over the bread.",
                "Bake for 35 minutes, until set.",
            ),
        ],
    ),
    "oven-heat-unlikely": (
        [
            dish(
                "120 g egg white; 240 g granulated sugar",
                "Whisk the egg whites and sugar to stiff peaks. Heat the oven to 220 °C.",
                "Bake for 90 minutes, until dry.",
                kind="meringue-shell",
            ),
            dish(
                "250 g all-purpose flour; 10 g baking powder; 150 g whole milk; 1 large egg",
                "Mix everything. Heat the oven to 110 °C and bake for 20 minutes, until golden.",
                title="Plain muffins",
            ),
        ],
        [
            dish(
                "120 g egg white; 240 g granulated sugar",
                "Whisk the egg whites and sugar to stiff peaks. Heat the oven to 110 °C.",
                "Bake for 90 minutes, until dry.",
                kind="meringue-shell",
            ),
            dish(
                "250 g all-purpose flour; 10 g baking powder; 150 g whole milk; 1 large egg",
                "Mix everything. Heat the oven to 200 °C and bake for 20 minutes, until golden.",
                title="Plain muffins",
            ),
        ],
    ),
    "custard-boils": (
        [
            dish(
                "4 egg yolks; 400 g whole milk; 60 g granulated sugar",
                "Whisk the yolks, sugar and milk in a saucepan. Bring to a boil, stirring.",
            ),
            dish(
                "4 egg yolks; 400 g whole milk; 60 g granulated sugar",
                "Whisk the yolks, sugar and milk in a saucepan. Stir over medium heat until it reads 98 °C.",
            ),
        ],
        [
            dish(
                "4 egg yolks; 400 g whole milk; 60 g granulated sugar",
                "Whisk the yolks, sugar and milk. Stir over low heat to 82 °C; do not let it boil.",
            ),
            dish(
                "4 egg yolks; 400 g whole milk; 60 g granulated sugar",
                "Bring the milk to a boil. Whisk the yolks and sugar, whisk in the milk and cool.",
            ),
            dish(
                "4 egg yolks; 400 g whole milk; 60 g granulated sugar; 30 g cornstarch",
                "Whisk everything in a saucepan. Bring to a boil, stirring, and boil for 1 minute.",
            ),
        ],
    ),
    "rest-before-cooking": (
        [
            dish("1 kg pork loin", "Rest the pork for 10 minutes, then carve it. Roast it for 1 hour."),
            dish("1 kg beef rib roast", "Carve the beef.", "Roast the beef for 1 hour."),
        ],
        [
            dish("1 kg pork loin", "Roast the pork for 1 hour. Rest it for 10 minutes, then carve."),
            dish("1 kg pork loin", "Rest the pork in the refrigerator overnight. Roast it for 1 hour."),
            dish("1 kg beef rib roast", "Slice the beef thinly. Fry the beef for 10 minutes."),
        ],
    ),
    "bath-time-unsure": (
        [
            dish(
                "4 chicken breasts (600 g)", "Seal the chicken in a bag. Cook sous vide at 65 °C until firm."
            ),
            dish(
                "4 chicken breasts (600 g), 3 cm thick",
                "Seal the chicken in a bag. Cook in a water bath at 65 °C for 20 minutes.",
            ),
        ],
        [
            dish(
                "4 chicken breasts (600 g), 3 cm thick",
                "Seal the chicken in a bag. Cook in a water bath at 65 °C for 3 hours.",
            ),
            dish("4 chicken breasts (600 g)", "Bake until the thickest part reads 165 °F."),
            dish("500 g carrots", "Seal the carrots in a bag. Cook in a water bath at 85 °C for 1 hour."),
        ],
    ),
    "rest-missing": (
        [
            dish("1 kg pork loin", MEDIUM.format("pork", "145 °F")),
            dish("1 kg pork loin", "Roast until 63 °C inside. Rest for 1 minute."),
            dish("1 kg pork loin", MEDIUM.format("pork", "145 °F") + " Carve it straight away."),
        ],
        [
            dish("1 kg pork loin", MEDIUM.format("pork", "145 °F") + " Rest for 10 minutes."),
            dish("1 kg pork loin", MEDIUM.format("pork", "160 °F")),
            dish(CHICKEN, "Roast until the thickest part reads 165 °F."),
            dish("600 g cod", "Bake until the thickest part reads 145 °F."),
        ],
    ),
    "kept-cold-too-long": (
        [
            dish(CHICKEN, BRAISED, storage="Keeps ten days in the refrigerator."),
            dish(CHICKEN, BRAISED, storage="Eat within 2 weeks; keep it in the fridge."),
            dish(
                "200 g red lentils; 1 l water",
                "Simmer the lentils in the water for 20 minutes.",
                storage="Refrigerate for up to 9 days.",
            ),
            dish(CHICKEN, BRAISED, storage="Refrigerate within 2 hours; eat within 9 days, or freeze it."),
            dish(
                "500 g whole milk; 300 g heavy cream; 60 g sugar; 7 g powdered gelatin",
                "Warm the milk, cream and sugar until steaming. Stir in the gelatin and pour into glasses.",
                storage="Refrigerate for up to 12 days.",
            ),
            dish(CHICKEN, "Pat the chicken dry.", BRAISED, storage="Refrigerate for up to 9 days."),
            dish(CHICKEN, BRAISED, title="Ham and chicken pie", storage="Refrigerate for up to 9 days."),
            dish(
                "600 g leeks; 400 g potatoes; 1 l water",
                "Simmer the leeks and potatoes in the water for 20 minutes.",
                storage="Refrigerate for up to 12 days.",
            ),
        ],
        [
            dish(
                CHICKEN, BRAISED, storage="Refrigerate within 2 hours; eat within 3 days, or freeze 2 months."
            ),
            dish(
                "240 ml heavy cream; 200 g granulated sugar; 60 g butter",
                "Boil the sugar to a caramel and stir in the cream and butter.",
                storage="Keeps two weeks in the refrigerator.",
            ),
            dish(CHICKEN, BRAISED, storage="Keeps seven days in the refrigerator."),
            dish(CHICKEN, BRAISED, storage="Refrigerate for 3 days, or freeze for 3 months."),
            dish(CHICKEN, BRAISED, title="Chicken confit", storage="Keeps three weeks in the refrigerator."),
            dish(
                "500 g apples; 200 g sugar",
                "Boil the apples.",
                storage="Keeps two weeks in the refrigerator.",
            ),
        ],
    ),
    "perishable-kept-warm": (
        [
            dish("3 large eggs; 400 g milk", kind="custard", storage="Keeps two days at room temperature."),
            dish(CHICKEN, BRAISED, kind="braise", storage="Keeps overnight on the counter."),
            dish(
                "200 g red lentils; 1 l water",
                "Simmer the lentils in the water for 20 minutes.",
                storage="Keeps one week in a cool cupboard.",
            ),
            dish("200 g ham; 300 g bread flour", storage="Keeps three days in an airtight tin."),
            dish(
                "300 g heavy cream; 200 g strawberries",
                "Whip the cream.",
                storage="Keeps one day at room temperature.",
            ),
            dish(
                "3 large eggs; 300 g heavy cream; 200 g all-purpose flour",
                "Whisk the eggs and cream. Bake for 40 minutes.",
                kind="pie",
                storage="Keeps two days at room temperature.",
            ),
        ],
        [
            dish("3 large eggs; 400 g milk", kind="custard", storage="Keeps two days in the refrigerator."),
            dish("3 large eggs; 400 g milk", kind="custard", storage="Not to be kept at room temperature."),
            dish(
                CHICKEN,
                BRAISED,
                storage="Cool from 135 °F to 70 °F within 2 hours and to 41 °F within 4 more.",
            ),
            dish(
                "200 g red lentils; 1 l water",
                kind="soup",
                storage="Leave no more than 2 hours at room temperature.",
            ),
            dish(
                CHICKEN, BRAISED, storage="Keeps two days chilled. Bring to room temperature before serving."
            ),
            dish(
                "300 g all-purpose flour; 100 g milk",
                kind="quick-bread",
                storage="Keeps two days at room temperature.",
            ),
            dish(
                "500 g apples; 200 g all-purpose flour",
                kind="pie",
                storage="Keeps two days at room temperature.",
            ),
            dish(
                "200 g dark chocolate; 200 g heavy cream",
                kind="ganache",
                storage="Keeps two days at room temperature.",
            ),
            dish(
                "500 g top round",
                "Dry in a dehydrator.",
                title="Beef jerky",
                storage="Keeps one week in a tin.",
            ),
            dish(
                "400 g bread flour; 200 g milk", "Bake for 30 minutes.", storage="Keeps three days in a tin."
            ),
        ],
    ),
    "left-out-too-long": (
        [
            dish(
                "1 kg pork shoulder",
                "Roast the pork for 3 hours.",
                "Take it out. Leave it alone for 3 hours.",
            ),
            dish(
                CHICKEN + "; 60 g lemon juice",
                "Marinate the chicken in the juice for 4 hours at room temperature.",
            ),
            dish("1 whole turkey (5 kg)", "Thaw the turkey on the counter.", "Roast for 4 hours."),
            dish("1 kg pork shoulder", "Leave the pork at room temperature overnight.", "Roast for 5 hours."),
            dish(
                "1 kg chicken bones; 2 l water",
                "Simmer the bones in the water for 3 hours.",
                "Leave the pot on the counter overnight.",
            ),
            dish(
                "200 g red lentils; 1 l water",
                "Simmer the lentils.",
                "Cool at room temperature for 4 hours.",
                kind="soup",
            ),
        ],
        [
            dish("1 kg pork shoulder", "Set the pork on the grate, and leave it alone for 3 hours."),
            dish("1 kg beef brisket", "Put the beef in the smoker. Leave it for 5 hours, lid down."),
            dish(
                "1 kg chicken bones; 2 l water",
                "Simmer for 3 hours.",
                "Cool in cold water for 30 minutes and refrigerate.",
            ),
            dish(
                "200 g red lentils; 1 l water",
                "Simmer the lentils.",
                "Cool at room temperature for 1 hour.",
                kind="soup",
            ),
            dish(
                "400 g bread flour; 200 g milk",
                "Bake for 40 minutes.",
                "Cool at room temperature for 4 hours.",
            ),
            dish("1 kg beef rib roast", "Leave the beef at room temperature for 1 hour before roasting."),
            dish("500 g bread flour; 100 g milk", "Leave the dough at room temperature for 8 hours."),
            dish(CHICKEN, "Marinate the chicken in the refrigerator overnight."),
            dish("1 whole turkey (5 kg)", "Thaw in the refrigerator for 2 days, never on the counter."),
            dish("250 g dried chickpeas", "Soak the chickpeas at room temperature overnight."),
        ],
    ),
    "oil-kept-warm": (
        [
            dish(
                "200 g olive oil; 6 cloves garlic",
                title="Garlic oil",
                storage="Keeps two weeks at room temperature.",
            ),
            dish(
                "200 g olive oil; 6 cloves garlic",
                title="Garlic confit",
                storage="Keeps two weeks in the refrigerator.",
            ),
            dish(
                "200 g olive oil; 4 sprigs fresh rosemary",
                title="Rosemary oil",
                storage="Keeps one month in a bottle.",
            ),
            dish(
                "60 g olive oil; 1 clove garlic; 20 g white wine vinegar",
                title="Dressing with olive oil",
                storage="Keeps one week at room temperature.",
            ),
        ],
        [
            dish(
                "200 g olive oil; 6 cloves garlic",
                title="Garlic oil",
                storage="Keeps four days in the refrigerator.",
            ),
            dish(
                "200 g olive oil; 2 tbsp red pepper flakes",
                title="Chili oil",
                storage="Keeps one month in a cupboard.",
            ),
            dish(
                "200 g olive oil; 6 cloves garlic",
                title="Garlic oil",
                storage="Keeps four days in the refrigerator or three months in the freezer.",
            ),
        ],
    ),
    "pickle-kept-warm": (
        [
            dish(
                "500 g cucumbers; 100 g white vinegar; 300 g water",
                title="Cucumber pickles",
                storage="Keeps six months in a cupboard.",
            ),
            dish(
                "500 g cucumbers; 300 g white vinegar, 4 % acidity",
                title="Cucumber pickles",
                storage="Keeps six months on the shelf.",
            ),
            dish(
                "500 g cucumbers; 300 g white vinegar",
                title="Cucumber pickles",
                storage="Keeps six months in a dark place.",
            ),
        ],
        [
            dish(
                "500 g cucumbers; 100 g white vinegar; 300 g water",
                title="Cucumber pickles",
                storage="Keeps two weeks in the refrigerator.",
            ),
            dish(
                "500 g cucumbers; 100 g white vinegar; 300 g water",
                title="Cucumber pickles",
                storage="A refrigerator pickle, not for the shelf.",
            ),
            dish(
                "500 g cucumbers; 300 g white vinegar, 5 % acidity; 200 g water",
                "Pack into jars and process in a boiling-water canner for 10 minutes.",
                title="Cucumber pickles",
                storage="Keeps one year in a cupboard.",
            ),
            dish(
                "200 g crackers; 20 g dill pickle",
                title="Pickle crackers",
                storage="Keeps one week in a tin.",
            ),
        ],
    ),
    "canning-time-short": (
        [
            dish(
                "1 kg tomatoes; 30 ml bottled lemon juice",
                "Fill 2 pint jars with the tomatoes and lemon juice.",
                "Process in a boiling-water canner for 10 minutes.",
            ),
            dish(
                "1 kg green beans; 1 l water",
                "Pack into jars and process in a pressure canner at 11 pounds pressure for 10 minutes.",
            ),
        ],
        [
            dish(
                "1 kg tomatoes; 30 ml bottled lemon juice",
                "Fill 2 pint jars with the tomatoes and lemon juice.",
                "Process in a boiling-water canner for 35 minutes.",
            ),
            dish(
                JAM,
                "Boil the strawberries and sugar for 15 minutes and fill the jars.",
                "Process in a boiling-water canner for 10 minutes.",
            ),
            dish("1 kg carrots; 20 g butter", "Process the carrots in a food processor for 1 minute."),
            dish(
                "1 kg green beans; 1 l water",
                "Pack into jars, set in the canner, lock the lid and vent steam for 10 minutes.",
                "Process for 20 minutes at 10 pounds pressure.",
            ),
        ],
    ),
    "low-acid-canned": (
        [
            dish(
                "1 kg green beans; 1 l water",
                "Pack the beans into jars and process in a boiling-water canner for 1 hour.",
            ),
            dish(
                "1 kg chicken thighs; 1 l water",
                "Pack into jars. Process in a boiling water bath for 3 hours.",
            ),
            dish("1 kg tomatoes", "Ladle into jars and invert the jars to seal."),
            dish("1 kg pumpkin", "Boil and pack into hot jars.", storage="Keeps six months in the pantry."),
        ],
        [
            dish(
                "1 kg green beans; 1 l water",
                "Pack the beans into jars and process in a pressure canner for 25 minutes.",
            ),
            dish(
                "1 kg green beans; 1 l water",
                "Pack into jars, set in the canner and process for 20 minutes at 10 pounds pressure.",
            ),
            dish(
                "1 kg strawberries; 1 kg granulated sugar",
                "Boil and pack into jars. Process in a boiling-water canner.",
            ),
            dish(
                "1 kg tomatoes; 60 g bottled lemon juice",
                "Ladle into jars and process in a boiling-water canner.",
            ),
            dish(
                "1 kg green beans; 1 l water",
                "Pack the beans into jars.",
                storage="Keeps three days in the refrigerator.",
            ),
            dish(
                "500 g onions; 20 g olive oil",
                "Process in a food processor until smooth and keep in a jar.",
                storage="Keeps two days, chilled.",
            ),
            dish(
                "50 g dried onion flakes; 50 g salt",
                "Mix and keep in a jar.",
                storage="Keeps six months in the cupboard.",
            ),
        ],
    ),
    "held-in-danger": (
        [
            dish("200 g cream; 500 g carrots", "Simmer and keep warm at 130 °F until needed.", kind="soup"),
            dish("4 eggs; 400 g milk", "Refrigerate at 46 °F for 3 hours.", kind="custard"),
            dish(
                "4 eggs; 400 g milk", kind="custard", storage="Keeps two days in the refrigerator at 50 °F."
            ),
        ],
        [
            dish("4 eggs; 400 g milk", kind="custard", storage="Keeps in the refrigerator at 40 °F (4 °C)."),
            dish("1 kg beef chuck", kind="braise", storage="Keeps in the refrigerator. Reheat to 165 °F."),
            dish("4 eggs; 400 g milk", kind="custard", storage="Keeps one month in the freezer at 0 °F."),
            dish("200 g cream; 500 g carrots", "Simmer and keep warm at 140 °F until needed.", kind="soup"),
            dish("4 eggs; 400 g milk", "Refrigerate at 40 °F for 3 hours.", kind="custard"),
            dish("200 g cream; 500 g carrots", "Simmer. Cool to 70 °F, then refrigerate.", kind="soup"),
            dish("500 g bread flour", "Hold the dough at 12 °C for 12 hours.", kind="yeast-bread"),
        ],
    ),
    "beans-underboiled": (
        [
            dish("250 g dried kidney beans; 1 l water", "Cook the beans in a slow cooker for 8 hours."),
            dish(
                "250 g dried cannellini beans; 1 l water",
                "Boil the beans for 5 minutes, then simmer for 1 hour.",
            ),
            dish("250 g dried kidney beans; 1 l water", "Boil the beans for 10 minutes. Simmer for 1 hour."),
        ],
        [
            dish(
                "250 g dried kidney beans; 1 l water",
                "Boil the beans hard for 30 minutes, then simmer for 1 hour.",
            ),
            dish("250 g canned kidney beans", "Cook in a slow cooker for 4 hours."),
            dish("250 g dried chickpeas; 1 l water", "Simmer for 2 hours."),
        ],
    ),
    "curing-salt-excess": (
        [
            dish("2 kg pork belly; 50 g pink curing salt no. 1", "Rub in."),
            dish("1 kg ground pork; 3 g pink curing salt no. 1", "Mix."),
            dish(
                "1 kg pork shoulder; 1 kg water; 10 g pink curing salt no. 1",
                "Lay the pork in the brine of water and cure.",
            ),
        ],
        [
            dish("2 kg pork belly; 5 g pink curing salt no. 1", "Rub in."),
            dish(
                "1 kg pork shoulder; 1 kg water; 6 g pink curing salt no. 1",
                "Lay the pork in the brine of water and cure.",
            ),
            dish("2 kg pork belly; 50 g fine salt", "Rub in."),
            dish("1 kg pork belly; 25 g nitrite curing salt, 0.5 percent", "Rub in."),
        ],
    ),
    "curing-salt-unweighed": (
        [
            dish("2 kg pork belly; 1 tsp pink curing salt no. 1", "Rub in."),
            dish("1 pork belly; 5 g pink curing salt no. 1", "Rub in."),
        ],
        [
            dish("2 kg pork belly; 1 tsp (5 g) pink curing salt no. 1", "Rub in."),
            dish("2 kg pork belly; 1 tsp pink Himalayan salt", "Rub in."),
        ],
    ),
    "long-hold-too-low": (
        [
            dish("1 kg pork belly", "Heat the oven to 50 °C. Roast the pork for 6 hours."),
            dish("1 kg beef chuck", "Seal the beef in a bag and cook sous vide at 50 °C for 24 hours."),
        ],
        [
            dish("1 kg beef chuck", "Seal the beef in a bag and cook sous vide at 57 °C for 24 hours."),
            dish("600 g salmon fillet", "Cook the salmon sous vide at 50 °C for 40 minutes."),
            dish("1 kg beef chuck", "Cool the beef to 30 °C. Refrigerate for 12 hours."),
            dish("1 kg beef chuck", "Refrigerate the beef at 4 °C for 24 hours."),
        ],
    ),
    "vessel-reacts": (
        [
            dish(CHUTNEY, "Simmer all for 2 hours.", equipment="a wide unlined copper preserving pan"),
            dish(CHUTNEY, "Simmer all in an aluminium pan."),
            dish("2 kg tomatoes", "Simmer the tomatoes in an unlined copper pot."),
            dish("4 large eggs; 200 g sugar; 150 g lemon juice", "Whisk all in a copper saucepan."),
        ],
        [
            dish(CHUTNEY, "Simmer all for 2 hours.", equipment="a copper pan lined with tin"),
            dish(CHUTNEY, "Simmer all in a stainless-steel pan, never in aluminium pans."),
            dish("2 kg tomatoes", "Simmer the tomatoes in a hard-anodised aluminium pan."),
            dish("1 kg strawberries; 900 g granulated sugar; 80 g lemon juice", "Boil all in a copper pan."),
            dish("4 large egg whites; 200 g granulated sugar", "Whisk all in a copper bowl."),
        ],
    ),
    "seal-unreliable": (
        [
            dish(JAM, JAMMED, "Turn the jars upside down for 5 minutes to seal them.", storage=SHELVED),
            dish(JAM, JAMMED, "Close the lids and stand the jars on their heads.", storage=SHELVED),
            dish(JAM, JAMMED, "Pour melted paraffin over the jam.", storage=SHELVED),
            dish(JAM, JAMMED, "Bake the filled jars in the oven for 20 minutes.", storage=SHELVED),
        ],
        [
            dish(JAM, "Wash the jars, turn them upside down to drain.", JAMMED, storage=SHELVED),
            dish(JAM, JAMMED, "Lay a waxed disc on top and seal.", storage=SHELVED),
            dish(JAM, JAMMED, "Seal; do not invert the jars.", storage=SHELVED),
            dish(JAM, JAMMED, "Turn the jars upside down.", storage="Refrigerate for up to 3 weeks."),
            dish(JAM, JAMMED, "Turn the jars upside down. Process in the canner.", storage=SHELVED),
        ],
    ),
    "hot-pot-chilled": (
        [
            dish(BACKS, STOCK, "Return it to the pot, put on the lid and set the pot in the refrigerator."),
            dish(BACKS, STOCK, "Cover and refrigerate the stock in its pot overnight."),
            dish(BACKS, STOCK, "Slide the whole casserole into the fridge."),
            dish(BACKS, STOCK, "Pour into a tub and put it, still hot, in the fridge."),
        ],
        [
            dish(BACKS, STOCK, "Stand it in ice water until cool. Put the pot in the fridge."),
            dish(BACKS, STOCK, "Let cool for an hour. Put the pot in the fridge."),
            dish(BACKS, STOCK, "Never put the hot pot in the fridge."),
            dish(BACKS, STOCK, "Pour into shallow containers and refrigerate."),
            dish("500 g whole milk", "Simmer the milk for 20 minutes.", "Put the pan in the fridge."),
            dish(BACKS, "Put the backs in the pot and set the pot in the fridge.", STOCK),
        ],
    ),
    "raw-poultry-washed": (
        [
            dish("1 whole chicken (1.5 kg)", "Rinse the chicken and pat dry."),
            dish(CHICKEN, "Wash the thighs."),
        ],
        [
            dish("1 whole chicken (1.5 kg)", "Do not rinse the chicken; pat it dry."),
            dish("1 whole chicken (1.5 kg); 200 g rice", "Rinse the rice. Pat the chicken dry."),
        ],
    ),
    "raw-meets-ready": (
        [
            dish(
                "8 chicken thighs (1.2 kg)",
                "Lay the chicken on a tray. Grill for 20 minutes, until the thickest part reads 75 °C.",
                step,
            )
            for step in (
                "Pile it back on the tray that carried it out raw.",
                "Return it to the same tray and serve.",
                "Carry it to the table on the unwashed tray.",
            )
        ],
        [
            dish(
                "8 chicken thighs (1.2 kg)",
                "Lay the chicken on a tray. Grill for 20 minutes, until the thickest part reads 75 °C.",
                step,
            )
            for step in (
                "Pile it on a clean tray, not on the one that carried it out raw.",
                "Wash the tray and return it to the same tray.",
                "Put it on a platter.",
            )
        ],
    ),
    "never-cooked": (
        [
            dish(
                "400 g boneless skinless chicken breast; 50 g lime juice",
                "Slice the chicken and cover with the juice.",
            ),
            dish("400 g ground pork; 1 onion", "Mix the pork with the onion and spread on bread."),
        ],
        [
            dish("400 g boneless skinless chicken breast", "Roast the chicken for 25 minutes."),
            dish("400 g cooked chicken; 50 g mayonnaise", "Mix the chicken and mayonnaise."),
            dish("100 g prosciutto; 1 melon", "Wrap the melon in the prosciutto."),
            dish("400 g smoked sausage; 1 onion", "Slice the sausage over the onion."),
        ],
    ),
    "poisonous-part": (
        [
            dish("500 g rhubarb with leaves", "Chop the rhubarb and simmer for 10 minutes."),
            dish(
                "1 litre whole milk; 2 cherry laurel leaves", "Simmer the milk with the leaves for 5 minutes."
            ),
            dish("300 g fresh goat cheese", "Turn out the cheese and dress it with daffodil petals."),
            dish(
                "200 g taro leaves; 400 ml coconut milk", "Simmer the taro leaves in the milk for 10 minutes."
            ),
        ],
        [
            dish("1 litre whole milk; 2 laurel leaves", "Simmer the milk with the leaves for 5 minutes."),
            dish("1 bay leaf", "Never take a leaf of cherry laurel. Tear the bay leaf."),
            dish(
                "200 g taro leaves; 400 ml coconut milk", "Simmer the taro leaves in the milk for 45 minutes."
            ),
            dish(
                "200 g taro leaves",
                "Cook the taro leaves in a pressure cooker at high pressure for 10 minutes.",
            ),
            dish("500 g rhubarb; 1 bay leaf", "Chop the rhubarb and simmer with the bay leaf."),
            dish("500 g rhubarb", "Trim off the rhubarb leaves and discard them. Simmer the stalks."),
        ],
    ),
    "unsafe-as-written": (
        [
            dish(
                "500 g chicken thighs; 60 g soy sauce",
                "Marinate the chicken in the soy sauce for 2 hours.",
                "Lift it out and grill for 20 minutes, until 165 °F.",
                "Spoon the marinade over and serve.",
            ),
            dish("200 g seedless grapes", "Serve the grapes whole.", title="Snacks for toddlers"),
            dish(
                "4 egg yolks; 80 g caster sugar",
                "Whisk the yolks and sugar for 8 minutes, until pale, and pour into glasses.",
                headnote="We carried it up to the sickroom, and now I make it for my aunt, who is ninety.",
            ),
            dish(
                "1 kg white cabbage; 4 g fine salt",
                "Rub the cabbage with the salt and pack into a jar. Leave at 20 °C for 10 days, until sour.",
            ),
            dish(
                "1 litre sunflower oil; 500 g potatoes",
                "Fill the pot with oil to within a finger's breadth of the rim and heat to 175 °C.",
                "Fry the potatoes for 6 minutes, until golden.",
            ),
            dish(
                "1 kg turkey breast; 15 g fine salt",
                "Slice the turkey and rub with the salt.",
                "Lay the strips on the dehydrator trays and dry at 60 °C for 8 hours, until it cracks.",
            ),
        ],
        [
            dish(
                "500 g chicken thighs; 60 g soy sauce",
                "Marinate the chicken in the soy sauce for 2 hours.",
                "Lift it out and grill for 20 minutes, until 165 °F.",
                "Throw the marinade away.",
            ),
            dish("200 g seedless grapes", "Quarter the grapes lengthwise.", title="Snacks for toddlers"),
            dish(
                "4 pasteurised egg yolks; 80 g caster sugar",
                "Whisk the yolks and sugar for 8 minutes, until pale, and pour into glasses.",
                headnote="We carried it up to the sickroom.",
            ),
            dish(
                "1 kg white cabbage; 24 g fine salt",
                "Rub the cabbage with the salt and pack into a jar. Leave at 20 °C for 10 days, until sour.",
            ),
            dish(
                "1 kg cucumbers; 5 g fine salt; 400 ml cider vinegar",
                "Boil the vinegar with the salt, pour over the cucumbers and leave for 7 days, until sharp.",
            ),
            dish(
                "1 kg white cabbage; 4 g fine salt; 100 g mayonnaise",
                "Toss the cabbage with the salt and mayonnaise and leave in the refrigerator for 3 days.",
            ),
            dish(
                "1 kg turkey breast; 15 g fine salt",
                "Heat the oven to 165 °C. Roast the strips of turkey for 12 minutes, until they read 74 °C.",
                "Lay the strips on the dehydrator trays and dry at 60 °C for 8 hours, until they crack.",
            ),
        ],
    ),
    "nutmeg-too-much": (
        [dish("20 g ground nutmeg; 500 g whole milk", "Simmer the milk with the nutmeg.", serves=4)],
        [
            dish("1 g ground nutmeg; 500 g whole milk", "Simmer the milk with the nutmeg.", serves=4),
            dish("500 g butternut squash", "Roast the squash for 40 minutes."),
        ],
    ),
    "claim-contradicted": (
        [
            dish("200 g rolled oats; 30 g honey", claims="vegan"),
            dish("200 g cream; 8 g powdered gelatine", claims="vegetarian"),
            dish("200 g rice flour; 10 g barley malt syrup", claims="gluten-free"),
            dish("60 g soy sauce; 200 g rice noodles", claims="gluten free"),
            dish("100 g ghee", claims="dairy-free"),
            dish("200 g egg noodles", claims="egg-free"),
            dish("50 g pesto; 200 g spaghetti", claims="nut-free"),
            dish("30 g smooth peanut butter", claims="nut-free"),
            dish("1 tbsp Worcestershire sauce", claims="vegetarian"),
            dish("100 g spelt flour", claims="gluten-free"),
            dish("100 g mini marshmallows", claims="vegetarian"),
            dish("30 g tahini", claims="sesame-free"),
        ],
        [
            dish("200 g buckwheat flour; 100 g corn flour", claims="gluten-free, vegan"),
            dish("400 ml coconut milk; 100 ml coconut cream", claims="dairy-free, vegan, nut-free"),
            dish("100 g smooth peanut butter", claims="tree-nut-free"),
            dish("500 g butternut squash; 1 tsp ground nutmeg", claims="nut-free, vegan, dairy-free"),
            dish("1 tsp cream of tartar; 50 g cocoa butter", claims="dairy-free, vegan"),
            dish("1 eggplant; 200 g oyster mushrooms", claims="egg-free, vegan, vegetarian, shellfish-free"),
            dish("60 g tamari; 200 g rice noodles", claims="gluten-free"),
            dish("100 g vegan butter; 100 g oat milk", claims="vegan, dairy-free"),
            dish("100 g gluten-free soy sauce", claims="gluten-free"),
            dish("100 g water chestnuts; 100 g fresh coconut", claims="nut-free"),
            dish("100 g apple butter; 20 g honeydew melon", claims="vegan, dairy-free"),
        ],
    ),
    "claim-unsure": (
        [
            dish("200 g rolled oats", claims="gluten-free"),
            dish("100 g stick margarine", claims="dairy-free"),
            dish("50 g Parmesan", claims="vegetarian"),
            dish("500 g carrots; 50 g Parmesan", title="Vegetarian carrot soup"),
            dish("100 g zephyr paste", claims="vegan"),
            dish("200 g vegetable stock or chicken stock", claims="vegan"),
            dish("500 g carrots; 30 g oyster sauce", claims="gluten-free"),
        ],
        [
            dish("500 g carrots; 30 g gluten-free oyster sauce", claims="gluten-free"),
            dish("500 g carrots; 30 g Dijon mustard", claims="gluten-free, vegan"),
            dish("200 g gluten-free rolled oats", claims="gluten-free"),
            dish("100 g dairy-free margarine", claims="dairy-free"),
            dish("100 g cheddar", claims="vegetarian"),
            dish("200 g buckwheat flour", claims="gluten-free"),
            dish("50 g vegetarian Parmesan", claims="vegetarian"),
            dish("500 g carrots; 50 g cheddar; 1 zephyr", title="Vegetarian carrot soup"),
        ],
    ),
    "unknown-claim": (
        [
            dish("1 apple", claims="glutenfre"),
            dish("1 apple", claims="cures colds"),
            dish("1 apple", claims="kosher"),
        ],
        [
            dish("1 apple", claims="Gluten free"),
            dish("1 apple", claims="vegan, dairy-free, nut free"),
            dish("1 apple"),
        ],
    ),
}

SAUCED = recipe(
    parts=(
        part(
            "Cake",
            ["3 large eggs", "200 g all-purpose flour"],
            ["Beat the eggs and flour.", "Bake for 30 minutes."],
        ),
        part(
            "Mousse",
            ["4 large eggs", "200 g dark chocolate"],
            ["Beat the eggs into the chocolate and chill."],
        ),
    ),
)
