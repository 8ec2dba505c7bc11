"""For checks on the method and on house style: drafts they must question, near misses they let pass."""

from __future__ import annotations

from pathlib import Path

from ruamel.yaml import YAML

from cardsmith.recipe.model import Photo, Recipe
from tests.check.bench import HERE, part, recipe

WORDY = " ".join(["word"] * 95)
ENOUGH = " ".join(["word"] * 45)


BRINED = "Lower in the chicken, brine it in the refrigerator for 12 hours, then roast it."
BUNS = "250 g whole milk; 7 g instant yeast; 500 g bread flour"


def frozen(title: str, drink: str) -> Recipe:
    lines = ["160 g caster sugar", "160 g water", "600 g raspberries", drink]
    return recipe(lines, ["Blend everything, churn, and freeze until firm."], title=title)


def cook(*steps: str) -> Recipe:
    return recipe([], list(steps))


def using(ingredients: str, *steps: str, kind: str = "") -> Recipe:
    return recipe([one.strip() for one in ingredients.split(";")], list(steps), kind=kind)


def titled(title: str, ingredients: str, kind: str = "") -> Recipe:
    lines = [one.strip() for one in ingredients.split(";")]
    return recipe(lines, ["Stir everything together."], title=title, kind=kind)


def shown(alt: str, ingredients: str = "100 g honey", credit: str = "House photo") -> Recipe:
    photo = Photo(where=HERE, file="dish.jpg", alt=alt, credit=credit)
    return recipe([ingredients], ["Stir everything together."], photo=photo)


def said(headnote: str) -> Recipe:
    return recipe(["100 g honey"], ["Warm the honey."], headnote=headnote)


def tart(
    second: str, *steps: str, first: str = "Pastry", opening: str = "Stir the flour into a dough."
) -> Recipe:
    return recipe(
        title="A tart",
        parts=(
            part(first, ["200 g all-purpose flour"], [opening]),
            part(second, ["600 g plums", "80 g granulated sugar"], list(steps)),
        ),
    )


OVENS = {
    "oven-not-heated": (
        [
            cook("Stir.", "Bake for 20 minutes, until golden."),
            cook("Press into the pan and bake for 20 minutes.", "Heat the oven to 180 °C."),
            cook("Put the pot in the oven for 2 hours."),
            cook("Bake at 350 °F for 20 minutes."),
            cook("Season. Roast for 40 minutes, until brown."),
            cook("Roast at 220 °C for 20 minutes, then lower to 180 °C and roast for 1 hour."),
            cook("Bake in the preheated oven for 20 minutes."),
        ],
        [
            cook("Roast in an oven heated to 425 °F (220 °C) for 30 minutes."),
            cook("Bake in a preheated 180 °C oven for 20 minutes."),
            cook(
                "Put the pot and its lid in the oven and heat to 250 °C for 45 minutes. Bake for 20 minutes."
            ),
            cook("Oven: 180 °C.", "Bake for 20 minutes."),
            cook("Light the oven, 200 °C, and let it heat for 20 minutes.", "Bake for 20 minutes."),
            cook("Switch the oven on (180 °C).", "Bake for 20 minutes."),
            cook("While the oven comes to 230 °C, shape the loaves.", "Bake for 20 minutes."),
            cook("Heat the oven to 180 °C.", "Bake for 20 minutes."),
            cook("Get the oven to 180 °C.", "Bake for 20 minutes."),
            cook("Preheat your oven to 350 °F.", "Slide the tray into the oven."),
            cook("Set the pot in the oven and heat the oven to 230 °C.", "Cover and bake for 25 minutes."),
            cook("Put the pan in the oven as it heats to 220 °C.", "Bake for 20 minutes."),
            cook("Start in a cold oven set to 200 °C.", "Bake for 30 minutes."),
            cook("Cover and refrigerate until you are ready to bake.", "Heat the oven to 180 °C.", "Bake."),
            cook("Roast the spices in a dry skillet for 2 minutes."),
            cook("Heat the Dutch oven over high heat.", "Brown the meat in the Dutch oven."),
            cook("Spread on a baking sheet.", "Do not bake the bottom."),
            cook("Carve the roast.", "Serve with bake-sale biscuits."),
            cook("Leave to rise in the oven with the oven light on for 1 hour."),
        ],
    ),
    "oven-temperature-missing": (
        [
            cook("Heat the oven with a rack in the middle.", "Bake for 20 minutes."),
            cook("Preheat the oven.", "Bake until golden."),
        ],
        [
            cook("Heat the oven to 180 °C.", "Bake for 20 minutes."),
            cook("Heat the oven.", "Bake at 180 °C for 20 minutes."),
            cook("Heat the oven to 350.", "Bake for 20 minutes."),
            cook("Heat the oven to its highest setting.", "Bake for 6 minutes."),
            cook("Heat the oven to gas mark 4.", "Bake for 20 minutes."),
            cook("Keep the pancakes warm in a low oven."),
        ],
    ),
    "oven-heated-too-late": (
        [
            cook("Scrape the batter into the tin.", "Heat the oven to 180 °C.", "Bake for 30 minutes."),
            cook(
                "On a floured peel stretch the dough and top it with the cheese. Heat the oven to 250 °C.",
                "Slide onto the stone and bake for 8 minutes.",
            ),
            cook("Fold in the egg whites. Heat the oven to 190 °C.", "Bake for 25 minutes, until risen."),
        ],
        [
            cook("Heat the oven to 180 °C.", "Scrape the batter into the tin.", "Bake for 30 minutes."),
            cook("Scrape the batter into the tin.", "Chill while the oven heats to 180 °C.", "Bake."),
            cook(
                "Pour the batter into the tin and let it rise for 1 hour. Heat the oven to 180 °C.", "Bake."
            ),
            cook(
                "Heat the oven to 220 °C.", "Pour the batter into the tin. Lower the oven to 180 °C.", "Bake."
            ),
            cook("Shape the loaf.", "Heat the oven to 220 °C.", "Bake for 40 minutes."),
        ],
    ),
    "oven-heated-too-early": (
        [
            cook("Heat the oven to 220 °C.", "Leave the dough to rise for 1 hour 30 minutes.", "Bake."),
            cook(
                "Preheat the oven to 350 °F.", "Chill the dough overnight.", "Roll and bake for 10 minutes."
            ),
            cook(
                "Heat the oven to 180 °C.",
                "Rest for 40 minutes.",
                "Shape, then proof for 30 minutes.",
                "Bake for 20 minutes.",
            ),
        ],
        [
            cook("Leave to rise for 2 hours.", "Heat the oven to 220 °C.", "Bake for 30 minutes."),
            cook("Heat the oven to 180 °C.", "Rest the dough for 20 minutes.", "Bake for 20 minutes."),
            cook("Heat the oven to 180 °C.", "Bake for 20 minutes.", "Cool for 3 hours, until cold."),
            cook("Half an hour before baking, heat the oven to 220 °C.", "Proof for 1 hour.", "Bake."),
            cook(
                "Heat the oven to 160 °C.",
                "Brown the beef for 10 minutes.",
                "Braise in the oven for 3 hours.",
            ),
        ],
    ),
    "oven-change-unsaid": (
        [
            cook("Heat the oven to 350 °F.", "Bake at 400 °F for 20 minutes."),
            cook("Heat the oven to 180 °C.", "Fill the shell.", "Bake for 30 minutes at 160 °C."),
        ],
        [
            cook(
                "Heat the oven to 400 °F.",
                "Bake for 20 minutes.",
                "Lower the oven to 350 °F and bake for 30.",
            ),
            cook("Heat the oven to 180 °C.", "Bake at 180 °C for 20 minutes."),
            cook("Heat the oven to 235 °C.", "Bake 20 minutes, then 20 to 25 more at 210 °C."),
            cook("Heat the oven to 350 °F.", "Bake at 180 °C for 20 minutes."),
            cook(
                "Heat the oven to 220 °C.",
                "Bake for 10 minutes, then reduce to 180 °C and bake for 20 minutes.",
            ),
        ],
    ),
    "rack-unsaid": (
        [cook("Heat the oven to 180 °C.", "Bake for 20 minutes, then cool on a rack.")],
        [
            cook("Heat the oven to 180 °C with a rack in the middle.", "Bake for 20 minutes."),
            cook("Heat the oven to 180 °C.", "Bake on the lowest shelf for 20 minutes."),
            cook(
                "Set the lidded pot in the oven and heat it to 230 °C, the oven too.", "Bake for 25 minutes."
            ),
            cook("Simmer for 20 minutes."),
        ],
    ),
    "fan-setting-off": (
        [cook("Heat the oven to 180 °C (fan 180 °C)."), cook("Heat the oven to 200 °C (fan 140 °C).")],
        [
            cook("Heat the oven to 180 °C (fan 160 °C)."),
            cook("Heat the oven to 350 °F (180 °C)."),
            cook("Heat the oven to 200 °C (fan 180 °C, gas mark 6)."),
        ],
    ),
}

STOVES = {
    "heat-level-missing": (
        [
            cook("Melt the butter in a saucepan for 3 minutes."),
            cook("Cook for 10 minutes, stirring, until soft."),
            cook("Put the bones in a pot for 20 minutes, until it simmers."),
        ],
        [
            cook("Melt the butter in a saucepan over medium heat for 3 minutes."),
            cook("Heat the oil over high heat.", "Fry for 3 minutes on each side."),
            cook("Bring to a boil.", "Cook for 10 minutes."),
            cook("Simmer for 20 minutes.", "Cook for 5 minutes more."),
            cook("Melt the butter in the microwave for 30 seconds."),
            cook("Toast the nuts in the oven for 8 minutes."),
            cook("Whisk over a pan of simmering water and cook for 5 minutes."),
            cook("Roast for 30 minutes, until tender and brown at the edges."),
            cook("Use warm water, and leave for 10 minutes."),
            cook("Warm gently for 3 minutes."),
        ],
    ),
    "lid-unsaid": (
        [cook("Braise in the oven for 2 hours, until tender."), cook("Stew over low heat for 45 minutes.")],
        [
            cook("Cover and braise in the oven for 2 hours."),
            cook("Braise, uncovered, for 40 minutes."),
            cook("Put on the lid.", "Braise for 2 hours."),
            cook("Braise for 10 minutes."),
            cook("Simmer for 2 hours."),
        ],
    ),
}

LEFTOVERS = {
    "set-aside-never-used": (
        [
            using(
                "150 g blueberries; 200 g whole milk",
                "Fold in half the blueberries and set the rest aside.",
                "Bake.",
            ),
            using(
                "100 g walnuts; 100 g honey",
                "Toast the walnuts and set aside.",
                "Boil the honey for 3 minutes.",
            ),
            using("1 lemon; 100 g honey", "Reserve the lemon.", "Warm the honey."),
            using("2 (400 g) cans chickpeas", "Drain, reserving the liquid.", "Mash the chickpeas."),
            using("150 g blueberries", "Fold in half the blueberries and put the rest to one side.", "Bake."),
            using(
                "100 g walnuts; 100 g honey", "Toast the walnuts and leave to one side.", "Boil the honey."
            ),
            using(
                "4 large eggs; 200 g bread flour", "Beat the eggs; keep 1 tbsp back.", "Stir in the flour."
            ),
            using(
                "300 g spaghetti", "Drain the pasta, saving a cup of the cooking water.", "Toss and serve."
            ),
        ],
        [
            using(
                "500 g pork shoulder; 200 g garlic sausage; 400 g white beans",
                "Brown the pork, then the sausage; set both aside.",
                "Layer the beans, pork and sausage and bake.",
            ),
            using("200 g caster sugar", "Boil the sugar. Keep children well back.", "Pour it out."),
            using(
                "150 g blueberries",
                "Fold in half the blueberries, set the rest aside.",
                "Scatter with blueberries.",
            ),
            using(
                "100 g walnuts; 100 g honey",
                "Toast the walnuts and set aside.",
                "Boil the honey.",
                "Add the nuts.",
            ),
            using(
                "100 g walnuts; 100 g honey",
                "Toast the walnuts; set aside.",
                "Stir the honey into the walnuts.",
            ),
            using(
                "300 g pasta",
                "Drain, reserving a cup of the pasta water.",
                "Loosen with some of the cooking water.",
            ),
            using(
                "200 g bread flour; 5 g fine salt",
                "Whisk the flour and salt; set aside.",
                "Add the dry ingredients.",
            ),
            using(
                "4 chicken thighs",
                "Brown the thighs and set aside on a plate.",
                "Return the chicken to the pot.",
            ),
            using(
                "200 g bread flour; 130 g water",
                "Mix the flour and water and set aside to rest.",
                "Shape the dough.",
            ),
            using("1 lemon", "Grate the zest and reserve the juice for another use."),
            using(
                "3 large eggs", "Separate the eggs. Put the whites aside for meringues.", "Beat the yolks."
            ),
            using(
                "200 g bread flour; 130 g water", "Mix to a dough. Set the dough aside for 1 hour.", "Bake."
            ),
            using(
                "100 g granulated sugar",
                "Set aside 2 tbsp of the sugar.",
                "Dissolve the rest.",
                "Sprinkle with the reserved sugar.",
            ),
            using(
                "3 large eggs",
                "Separate the eggs. Set the whites aside.",
                "Beat the yolks.",
                "Whip the reserved whites.",
            ),
        ],
    ),
    "share-unfinished": (
        [
            using("80 g granulated sugar; 3 large eggs", "Beat the eggs with half of the sugar.", "Bake."),
            using("200 g whole milk; 60 g butter", "Melt the butter.", "Whisk in two thirds of the milk."),
        ],
        [
            using(
                "80 g granulated sugar; 3 large eggs",
                "Beat the eggs with half of the sugar.",
                "Beat in the other half.",
            ),
            using(
                "80 g granulated sugar; 3 large eggs",
                "Beat the eggs with half of the sugar.",
                "Dust with the remaining sugar.",
            ),
            using("120 g hummus; 4 wraps", "Spread each wrap with a quarter of the hummus."),
            using("80 g granulated sugar", "Boil the sugar.", "Pour half of it out."),
        ],
    ),
    "remaining-of-nothing": (
        [
            using(
                "400 g spaghetti; 100 g Parmesan",
                "Boil the spaghetti in salted water. Drain in a colander over the sink.",
                "Stir in the Parmesan and 200 ml of the reserved pasta water.",
            ),
            using(
                "30 g dried porcini; 1 onion",
                "Soak the porcini in 500 ml hot water, then drain.",
                "Add the reserved soaking liquid to the onion.",
            ),
            using(
                "80 g granulated sugar; 3 large eggs",
                "Beat the sugar and eggs.",
                "Dust with the remaining sugar.",
            ),
            using("80 g granulated sugar; 3 large eggs", "Beat the eggs.", "Dust with the remaining sugar."),
            using(
                "80 g granulated sugar; 3 large eggs",
                "Beat 50 g of the sugar with the eggs. Stir in 30 g of the sugar.",
                "Dust with the remaining sugar.",
            ),
        ],
        [
            using(
                "2 kg water; 10 g curing salt no. 1; 100 g fine salt",
                "Heat 500 g of the water with the fine salt.",
                "Add the remaining 1.5 kg of cold water and the curing salt.",
            ),
            using(
                "120 g walnuts; 50 g bread flour",
                "Toast the walnuts, and keep back a few for the top.",
                "Grind the rest of the walnuts with the flour.",
            ),
            using(
                "400 g spaghetti; 100 g Parmesan",
                "Boil the spaghetti in salted water. Scoop out a cup of the water, and drain.",
                "Stir in the Parmesan and the reserved pasta water.",
            ),
            using(
                "200 g bacon; 1 onion",
                "Fry the bacon. Pour off the fat.",
                "Fry the onion in the reserved fat.",
            ),
            using(
                "1 can chickpeas, drained, liquid reserved",
                "Whisk the reserved liquid.",
                "Add the chickpeas.",
            ),
            using(
                "100 g breadcrumbs; 50 g butter", "Toss the crumbs in the butter.", "Add the reserved crumbs."
            ),
            using("80 g granulated sugar", "Beat in half the sugar.", "Dust with the remaining sugar."),
            using("80 g granulated sugar", "Beat in 50 g of the sugar.", "Dust with the rest of the sugar."),
            using("80 g granulated sugar, divided", "Beat in the sugar.", "Dust with the remaining sugar."),
            using("#s 80 g granulated sugar", "Beat in [50 g](#s) of the sugar.", "Add the remaining sugar."),
            using("80 g granulated sugar", "Add a spoonful of the sugar.", "Whisk in the remaining sugar."),
            using("3 large eggs", "Beat in one egg.", "Beat in the remaining eggs."),
            using(
                "300 g bread flour; 5 g fine salt",
                "Stir in a third of the flour.",
                "Add the remaining flour, the salt.",
            ),
            using("30 g olive oil", "Heat a little of the oil.", "Pour over the remaining oil."),
        ],
    ),
    "remaining-disagrees": (
        [
            using(
                "80 g granulated sugar; 3 large eggs",
                "Beat 50 g of the sugar with the eggs.",
                "Dust with the remaining 10 g sugar.",
            ),
        ],
        [
            using(
                "80 g granulated sugar; 3 large eggs",
                "Beat 50 g of the sugar with the eggs.",
                "Dust with the remaining 30 g sugar.",
            ),
            using(
                "80 g granulated sugar; 3 large eggs",
                "Beat 50 g of the sugar with the eggs.",
                "Dust with the remaining sugar.",
            ),
        ],
    ),
    "leavening-missing": (
        [
            using(
                "200 g unsalted butter; 200 g caster sugar; 4 large eggs; 200 g all-purpose flour",
                "Beat the butter and sugar, then the eggs. Fold in the flour.",
                kind="butter-cake",
            )
        ],
        [
            using(
                "200 g unsalted butter; 200 g caster sugar; 4 large eggs; 200 g self-rising flour",
                "Beat the butter and sugar, then the eggs. Fold in the flour.",
                kind="butter-cake",
            ),
            using(
                "100 g unsalted butter; 200 g caster sugar; 4 large eggs; 200 g all-purpose flour",
                "Beat the eggs and sugar to the ribbon. Fold in the flour and the butter.",
                kind="butter-cake",
            ),
        ],
    ),
    "line-twice": (
        [using("4 g fine salt; 200 g bread flour; 4 g fine salt", "Mix the flour and salt.")],
        [
            using(
                "4 g fine salt; 200 g bread flour; 6 g fine salt",
                "Mix the flour and salt.",
                "Scatter with salt.",
            ),
            using("4 g fine salt; 200 g bread flour", "Mix the flour and salt."),
        ],
    ),
    "used-before-made": (
        [
            using(
                "200 g all-purpose flour; 200 g butter; 4 large eggs",
                "Spread the batter in a 9-inch pan and bake for 30 minutes.",
                "Beat the butter, eggs and flour until smooth.",
            ),
            using(
                "500 g bread flour; 300 g water",
                "Divide the dough into 8 pieces.",
                "Mix the flour and water.",
            ),
            using(
                "400 g spaghetti; 400 g canned tomatoes",
                "Boil the spaghetti for 9 minutes and toss with the sauce.",
                "For the sauce, simmer the tomatoes for 20 minutes.",
            ),
            using(
                "200 g powdered sugar; 30 g lemon juice; 1 sponge cake",
                "Drizzle the cake with the icing.",
                "Make the icing: stir the powdered sugar into the lemon juice.",
            ),
            tart("Topping", "Rub in.", opening="Scatter the topping over the plums and bake for 30 minutes."),
            using(
                "200 g all-purpose flour; 100 g butter",
                "Rub the butter into the flour.",
                "Cool for 15 minutes on a wire rack.",
                "Bake for 20 minutes.",
            ),
            using(
                "300 g soba noodles; 1 cucumber; 40 ml soy sauce",
                "Toss the cucumber with the soy sauce and serve at once.",
                "Boil the soba noodles for 5 minutes and drain.",
            ),
            using(
                "500 g ground lamb; 6 g fine salt",
                "Mix the lamb and salt.",
                "Grill for 8 minutes.",
                "With oiled hands roll 20 fingers about 8 cm long.",
            ),
            using(
                "200 g all-purpose flour; 100 g butter; 2 large eggs",
                "Beat in the eggs one at a time, then fold in the flour.",
                "Beat the butter until pale.",
                "Bake for 20 minutes.",
            ),
            using(
                "1 kg beef chuck; 200 ml beef stock; 20 ml olive oil",
                "Season well. Return the beef, add the stock and simmer for 2 hours.",
                "Heat the oil, brown the beef and set it aside.",
            ),
            using(
                "300 g chestnut puree; 100 g sugar; 4 egg whites",
                "Fold the egg whites into the chestnut puree and whisk to stiff peaks with the sugar.",
            ),
            using(
                "1 kg mussels; 200 ml hard cider",
                "Throw away any mussels that have stayed shut.",
                "Boil the cider, add the mussels and steam for 4 minutes.",
            ),
            using(
                "300 g granulated sugar; 150 g peanuts; 4 g baking soda",
                "Off the heat, stir in the peanuts and the soda.",
                "Boil the sugar to 149 °C.",
            ),
            using(
                "1 kg chicken thighs; 1 litre vegetable oil",
                "Fry four thighs at a time, keeping the oil near 160 °C, for 15 minutes.",
                "Pour the oil into a deep pot and heat it to 165 °C.",
            ),
            using(
                "500 g heavy cream; 80 g sugar; 6 g powdered gelatin; 30 g water",
                "Sprinkle the gelatin over the water.",
                "Warm the cream and sugar. Divide among six molds.",
                "Whisk in the soaked gelatin. Refrigerate for 4 hours.",
            ),
            using(
                "500 g ground turkey; 1 litre chicken stock; 200 g spinach",
                "Simmer the stock. Stir in the spinach for 1 minute, until it wilts, and serve.",
                "Add the turkey in small balls and simmer for 12 minutes.",
            ),
        ],
        [
            using(
                "200 g dark chocolate; 200 g heavy cream",
                "Heat the cream until it steams.",
                "Off the heat, stir in the chocolate until it has melted.",
            ),
            using(
                "200 g sugar; 3 egg yolks; 250 g whole milk; 4 g powdered gelatin",
                "Melt half the sugar to a dark caramel and pour it into four molds.",
                "Sprinkle the gelatin over the milk, warm it, whisk in the yolks and the rest of the sugar.",
                "Divide among the molds and refrigerate.",
            ),
            using(
                "1 kg beef rib; 10 g fine salt",
                "Salt the beef and refrigerate, uncovered, overnight.",
                "Roast until 57 °C in the middle. Cover loosely and rest for 20 minutes.",
            ),
            using(
                "200 g all-purpose flour; 100 g butter",
                "Rub the butter into the flour.",
                "Bake for 20 minutes.",
                "Cool for 15 minutes on a wire rack.",
            ),
            using(
                "1 kg pork belly; 25 g fine salt",
                "Rub the pork with the salt, set on a rack and refrigerate.",
                "Roast for 3 hours.",
            ),
            using(
                "300 g soba noodles; 1 cucumber; 40 ml soy sauce",
                "Boil the soba noodles for 5 minutes and drain.",
                "Toss with the cucumber and soy sauce and serve at once.",
            ),
            using(
                "500 g ground lamb; 6 g fine salt",
                "Mix the lamb and salt, and roll into 20 fingers.",
                "Grill for 8 minutes. Roll the rest into 8 balls.",
            ),
            using(
                "1 kg mussels; 200 ml hard cider",
                "Throw away any mussels that stay shut when tapped, and any with broken shells.",
                "Boil the cider, add the mussels and steam for 4 minutes. Throw away any still shut.",
            ),
            tart("Topping", "Rub in and scatter the topping over."),
            tart("Tart", "Spread with the filling.", first="Filling"),
            using(
                "400 g spaghetti; 400 g tomato sauce",
                "Boil the spaghetti for 9 minutes and toss with the sauce.",
                "Warm what is left of the sauce for the table.",
            ),
            using(
                "200 g powdered sugar; 30 g lemon juice; 1 sponge cake",
                "Stir the sugar into the juice for an icing.",
                "Drizzle the cake with the icing.",
            ),
            using(
                "200 g all-purpose flour; 200 g butter; 4 large eggs",
                "Beat the butter, eggs and flour until smooth.",
                "Spread the batter in a 9-inch pan and bake for 30 minutes.",
            ),
            using(
                "500 g bread flour; 300 g water",
                "Heat the oven before you make the dough.",
                "Mix the flour and water.",
                "Knead the dough.",
            ),
            using("500 g pizza dough; 20 g all-purpose flour", "Roll out the dough.", "Dust with the flour."),
        ],
    ),
    "culture-killed": (
        [
            using(BUNS, "Bring the milk to the boil and at once whisk in the yeast.", "Add the flour."),
            using(BUNS, "Scald the milk. Dissolve the yeast in it.", "Beat in the flour."),
            using(BUNS, "Dissolve the yeast in the boiling milk.", "Beat in the flour."),
            using(BUNS, "Heat the milk to 90 °C, then stir in the yeast.", "Beat in the flour."),
            using(BUNS + "; 40 g sugar", "Heat the milk to 85 °C and stir in the yeast and sugar.", "Knead."),
        ],
        [
            using(BUNS, "Bring the milk to the boil. Cool until lukewarm, then whisk in the yeast."),
            using(BUNS, "Bring the milk to the boil. Meanwhile mix the flour and yeast in a bowl."),
            using(BUNS, "Boil the milk and let it stand for 30 minutes.", "Stir in the yeast and flour."),
            using(BUNS, "Warm the milk to 38 °C and stir in the yeast."),
            using(BUNS + "; 50 g lukewarm water", "Scald the milk. Dissolve the yeast in the water."),
            using(BUNS, "Never stir the yeast into boiling milk."),
            using(BUNS, "Scald the milk. Crumble the yeast into a small bowl.", "Add the flour."),
            using(BUNS + "; 30 g sugar", "Scald the milk. Mash the yeast with the sugar until it runs."),
        ],
    ),
    "ferment-too-warm": (
        [
            using("1 kg white cabbage; 25 g fine salt", "Salt the cabbage and leave at 45 °C for 2 weeks."),
            using(
                "1 kg carrots; 30 g fine salt", "Cover with salt and leave to ferment at 31 °C for 5 days."
            ),
        ],
        [
            using("1 kg white cabbage; 25 g fine salt", "Salt the cabbage and leave at 20 °C for 2 weeks."),
            using("1 kg carrots; 30 g fine salt", "Roast at 60 °C for 1 hour."),
        ],
    ),
    "brine-too-strong": (
        [
            using("2 litres water; 1 kg fine salt; 1.5 kg chicken", "Stir the salt into the water.", BRINED),
            using("2 litres water; 400 g fine salt; 1.5 kg chicken", "Stir the salt into the water.", BRINED),
        ],
        [
            using("2 litres water; 100 g fine salt; 1.5 kg chicken", "Stir the salt into the water.", BRINED),
            using(
                "2 litres water; 1 kg fine salt; 1.5 kg olives", "Stir the salt into the water.", "Brine it."
            ),
            using("2 litres water; 1 kg coarse salt; 1.5 kg chicken", "Bake the chicken in the salt."),
        ],
    ),
    "frozen-too-strong": (
        [
            frozen("Raspberry sorbet", "250 g vodka"),
            frozen("Rum ice cream", "300 g dark rum"),
        ],
        [
            frozen("Raspberry sorbet", "25 g vodka"),
            frozen("Champagne sorbet", "400 g dry white wine"),
            frozen("Raspberry and vodka slush", "250 g vodka"),
        ],
    ),
    "agar-not-boiled": (
        [
            using(
                "5 g agar powder; 500 g orange juice",
                "Whisk the agar powder into the orange juice.",
                "Chill.",
            ),
        ],
        [
            using(
                "5 g agar powder; 500 g orange juice",
                "Bring the orange juice and agar powder to the boil and simmer for 2 minutes.",
                "Chill.",
            ),
            using(
                "12 g powdered gelatin; 500 g water",
                "Sprinkle the gelatin over the water and leave for 5 minutes.",
                "Chill.",
            ),
        ],
    ),
    "gelatine-undone": (
        [
            using(
                "12 g powdered gelatin; 300 g pineapple; 400 g water",
                "Melt the gelatin in the water over low heat.",
                "Stir in the pineapple and chill until set.",
            ),
        ],
        [
            using(
                "12 g powdered gelatin; 300 g canned pineapple; 400 g water",
                "Melt the gelatin in the water over low heat.",
                "Stir in the pineapple and chill until set.",
            ),
            using(
                "12 g powdered gelatin; 300 g strawberries; 400 g water",
                "Melt the gelatin in the water over low heat.",
                "Stir in the strawberries and chill until set.",
            ),
        ],
    ),
    "foam-pan-greased": (
        [
            using(
                "360 g egg whites; 120 g cake flour; 300 g granulated sugar",
                "Butter a 10-inch tube pan.",
                "Whisk the egg whites and sugar, fold in the flour, and bake.",
            ),
        ],
        [
            using(
                "360 g egg whites; 120 g cake flour; 300 g granulated sugar",
                "Do not grease the tube pan.",
                "Whisk the egg whites and sugar, fold in the flour, and bake.",
            ),
            using(
                "200 g eggs; 120 g cake flour; 100 g granulated sugar",
                "Grease a 9-inch pan.",
                "Whisk the eggs and sugar, fold in the flour, and bake.",
            ),
        ],
    ),
    "remaining-unstated": (
        [using("80 g granulated sugar", "Beat in 50 g of the sugar.", "Dust with the remaining sugar.")],
        [
            using("80 g granulated sugar", "Beat in half the sugar.", "Dust with the remaining sugar."),
            using(
                "#s 80 g granulated sugar", "Beat in [50 g](#s).", "Dust with [the rest](#s) of the sugar."
            ),
            using("80 g granulated sugar", "Beat in 50 g of the sugar.", "Dust with 30 g of the sugar."),
            using("80 g granulated sugar", "Beat in 50 g of the sugar.", "Add the remaining 30 g sugar."),
        ],
    ),
    "divided-needless": (
        [
            using("75 g olive oil, divided", "Whisk in the oil."),
            using("2 tbsp lemon juice, divided", "Add the lemon juice."),
        ],
        [
            using("75 g olive oil, divided", "Warm half the oil.", "Stir in the remaining oil."),
            using("75 g olive oil", "Whisk in the oil."),
            using("#o 75 g olive oil, divided", "Warm [50 g](#o).", "Stir in [the rest](#o)."),
            using("300 g mushrooms, divided", "Fry the mushrooms in two batches."),
            using("75 g olive oil, divided", "Warm the oil in 2 small pans."),
        ],
    ),
    "loose-amount": (
        [
            using("180 g whole milk", "Stir in 60 g of the milk.", "Add the rest of the milk."),
            using("180 g whole milk", "Stir in the 180 g of milk."),
            using("450 g dried chickpeas", "Boil for 1 hour. You’ll have roughly 1 kg of chickpeas."),
            using("180 g whole milk", "Stir in the milk (180 g)."),
            using("#m 180 g whole milk", "Stir in 60 g of the milk.", "Add [120 g](#m) of the milk."),
        ],
        [
            using("180 g whole milk", "Stir in the milk for 60 seconds."),
            using("#milk 180 g whole milk", "Stir in [60 g](#milk) of the milk.", "Add [120 g](#milk)."),
            using("500 g carrots, cut into 2 cm pieces", "Cook 2 cm pieces of the carrots for 10 minutes."),
        ],
    ),
    "prose-amount-disagrees": (
        [
            using("180 g whole milk", "Stir in the 240 g of milk."),
            using("600 g strawberries", "Blend the 400 g strawberries."),
            using("3 large eggs", "Whisk in the 4 eggs."),
            using("4 cod fillets (600 g)", "Season the 6 cod fillets."),
            using("80 g granulated sugar", "Beat in 50 g of the sugar.", "Add 50 g of the sugar."),
            using("80 g granulated sugar", "Beat in 50 g of the sugar.", "Add the remaining 50 g sugar."),
            using("120 g granulated sugar", "Beat in 100 g of the sugar."),
            using("120 g granulated sugar", "Beat in the sugar (150 g)."),
            using("120 g granulated sugar", "Beat in 50 g of the sugar.", "Add 50 g of the sugar."),
            using("#s 120 g granulated sugar", "Beat in 150 g of the sugar."),
            using("3 large eggs", "Whisk 4 eggs with a fork."),
            using("3 large eggs", "Whisk all four eggs."),
            using("3 large eggs", "Whisk the two eggs with a fork."),
            using("1 onion", "Fry both onions in a wide pan."),
            using("4 cloves garlic", "Fry 6 garlic cloves, crushed."),
            using("2 (400 g) cans chickpeas", "Drain the 3 cans of chickpeas."),
            using("4 boneless chicken thighs (600 g)", "Brown the six thighs in a pan."),
            using("200 g unsalted butter, plus 10 g for the tin", "Grease a tin with the 30 g butter."),
            using("200 g unsalted butter, plus 10 g for the tin", "Beat 230 g of the butter."),
        ],
        [
            using("180 g whole milk", "Stir in the 180 g of milk."),
            using("1 cup (240 g) whole milk", "Stir in the cup of milk, 240 g milk in all."),
            using(
                "200 g unsalted butter, softened, plus 10 g for the tin",
                "Grease a tin with the 10 g butter.",
                "Beat the 200 g butter until pale.",
            ),
            using(
                "200 g unsalted butter, plus 30 g for the tin",
                "Grease a tin with 30 g of the butter.",
                "Beat 200 g of the butter until pale.",
            ),
            using("180 g whole milk", "Stir in 60 g of the milk.", "Add 120 g of the milk."),
            using("3 large eggs", "Whisk in the 3 eggs."),
            using("3 large eggs", "Whisk in the 2 eggs first."),
            using("3 large eggs", "Whisk two eggs with a fork, then add the last egg."),
            using("3 large eggs", "Whisk in 2 to 4 eggs."),
            using("1 lemon", "Serve with 4 lemon wedges."),
            using("1 whole chicken", "Brown the 8 chicken pieces."),
            using("2 onions", "Fry both onions in a wide pan."),
            using("2 (400 g) cans chickpeas", "Drain the 2 cans of chickpeas."),
            using("4 cod fillets (600 g)", "Season the 4 cod fillets."),
            using("120 g granulated sugar", "Beat in 100 g of the sugar.", "Add the rest of the sugar."),
            using("120 g granulated sugar", "Beat in the sugar, 40 g at a time."),
            using("120 g granulated sugar", "Beat in 40 g of the sugar. Repeat with the rest."),
            using("30 g unsalted butter", "Melt 2 tablespoons of butter in a pan."),
            using("300 g water; 500 g bread flour", "Mix flour and 300 g water. Add 1 l water to the tin."),
            using("200 g long-grain white rice", "Cook the rice.", "Spread 600 g cooked rice on a tray."),
            using(
                "200 g bread flour; 20 g bread flour, for dusting",
                "Stir in 200 g flour.",
                "Dust with 20 g flour.",
            ),
            using("500 g carrots, cut into 2 cm pieces", "Cook for 10 minutes, the carrots in one layer."),
        ],
    ),
}

REFERENCES = {
    "one-food-two-names": (
        [
            using("15 g cornstarch", "Stir in the cornflour."),
            using("240 g canned chickpeas", "Toss the garbanzo beans."),
            using("200 g all-purpose flour", "Whisk the plain flour."),
            using("3 scallions", "Scatter with the spring onions."),
        ],
        [
            using("15 g cornstarch", "Stir in the cornstarch."),
            using("200 g all-purpose flour", "Whisk the flour."),
            using("115 g unsalted butter", "Melt the butter. Add the melted butter."),
            using("3 large eggs", "Beat the whites, then the yolks."),
            using("200 g water", "Pour over the boiling water."),
            using("30 g olive oil", "Heat the oil."),
            using("100 g walnuts", "Chop the nuts."),
            using("1 kg chicken thighs", "Brown the chicken."),
            using("400 g spaghetti", "Boil the pasta."),
        ],
    ),
    "subhead-unused": (
        [
            tart("Compote", "Stir the plums and sugar.", "Fill the pastry with the plums."),
            tart("Plums", "Stir the plums and sugar.", "Bake for 40 minutes.", first="Lattice"),
        ],
        [
            tart("Filling", "Stir the plums and sugar.", "Spread the filling over the pastry."),
            tart("Plums", "Stir the plums and sugar.", "Lay the plums on the pastry."),
            tart("To serve", "Scatter the pastry with plums and sugar."),
            using("100 g honey", "Warm the honey."),
        ],
    ),
    "part-made-later": (
        [
            tart("Glaze", "Boil the plums and sugar.", opening="Roll out the flour. Spread the glaze over."),
            tart("Plum topping", "Stir the plums and sugar.", opening="Sprinkle flour over the topping."),
        ],
        [
            tart("Glaze", "Boil the plums and sugar.", opening="Roll out the flour. Make the glaze."),
            tart("Glaze", "Boil the plums and sugar.", opening="Stir flour. Add the glaze (see below)."),
            tart("Glaze", "Boil the plums and sugar.", opening="Stew plums to a glaze. Spread the glaze."),
            tart("Glaze", "Boil the plums and sugar.", opening="Stir until the glaze sets."),
            tart("Tart", "Boil the plums and sugar.", opening="Stir flour in. Spread over the tart."),
        ],
    ),
    "part-missing": (
        [
            tart("Fruit", "Stir the plums and sugar.", "Fill the pastry, and brush with the glaze."),
            tart("Fruit", "Stir plums and sugar.", "Top with the candied nuts from the part above."),
        ],
        [
            tart("Fruit", "Stir plums and sugar.", "Fill the pastry from the part above."),
            tart("Fruit", "Candy the plums with sugar.", "Top with the candied plums from the part above."),
            tart("Glaze", "Stir the plums and sugar.", "Fill the pastry, and brush with the glaze."),
            tart("Fruit", "Boil the plums and sugar to a glaze.", "Brush the pastry with the glaze."),
            using("100 g honey", "Boil the honey. Brush with the glaze."),
        ],
    ),
    "step-reference-wrong": (
        [
            cook("Stir.", "Cool as in step 8."),
            cook("Stir.", "See step 2.", "Bake."),
            cook("Repeat steps 1 to 5."),
        ],
        [
            cook("Stir.", "Stir as in step 1.", "Bake."),
            cook("Repeat steps 2 and 3.", "Stir.", "Bake."),
            cook("Take one step at a time.", "Bake."),
            cook("Step back 2 m when the oil spits."),
        ],
    ),
    "title-count-off": (
        [
            titled("Three-cheese macaroni", "340 g cheddar; 115 g gruyère; 450 g macaroni"),
            titled("Four bean salad", "1 can kidney beans; 1 can chickpeas; 1 can black beans"),
            titled("Four-seed crackers", "50 g sesame seeds; 30 g poppy seeds; 200 g rye flour"),
        ],
        [
            titled("Two-cheese macaroni", "340 g cheddar; 115 g gruyère; 450 g macaroni"),
            titled("Three-bean chili", "2 cans mixed beans; 1 can chickpeas"),
            titled("Three-bean salad", "1 can kidney beans; 1 can chickpeas; 200 g green beans"),
            titled("Three-chocolate cake", "200 g dark chocolate; 100 g milk chocolate; 40 g cocoa powder"),
            titled("Five-spice duck", "2 duck legs; 2 tsp Chinese five-spice powder"),
            titled("One-pot chicken", "8 chicken thighs"),
            titled("Two-berry jam", "500 g strawberries; 500 g raspberries; 700 g granulated sugar"),
        ],
    ),
    "title-food-missing": (
        [
            titled("Chocolate butter cake", "200 g unsalted butter; 3 large eggs", "butter-cake"),
            titled(
                "Cod with tomatoes and olives", "600 g cod fillets; 500 g cherry tomatoes; 30 g olive oil"
            ),
            titled("Raspberry jam", "1 kg plums; 700 g granulated sugar", "jam"),
            titled("Walnut bread", "500 g bread flour; 325 g water"),
        ],
        [
            titled("Berry crumble", "300 g blackberries; 100 g all-purpose flour"),
            titled("Bread-and-butter icebox pickles", "900 g cucumbers; 480 g white vinegar"),
            titled("Rhubarb custard bars", "500 g rhubarb; 4 large eggs; 400 g granulated sugar"),
            titled("Groundnut stew", "1 kg chicken thighs; 200 g smooth peanut butter"),
            titled("Chocolate cake", "60 g natural cocoa powder; 200 g all-purpose flour"),
            titled("Lemon curd", "2 tbsp lemon zest; 120 g lemon juice", "curd"),
            titled("Coffee cake", "300 g all-purpose flour; 200 g sour cream"),
            titled("Nut-free granola", "300 g rolled oats; 60 g honey"),
            titled("Chicken stock", "1.5 kg chicken backs; 2 kg water", "soup"),
            titled("Mayonnaise", "200 g sunflower oil; 1 large egg yolk"),
            titled("Shortbread", "200 g unsalted butter; 300 g all-purpose flour"),
            titled("Granola with honey", "300 g rolled oats; 100 g honey"),
            titled("Tomato ketchup", "1 kg tomatoes; 100 g cider vinegar", "sauce"),
            titled("Vegetable soup", "500 g carrots; 1 kg water", "soup"),
            titled("Olive oil cake", "200 g olive oil; 300 g all-purpose flour"),
            titled("Potato salad without eggs", "600 g waxy potatoes", "salad"),
            titled("Ice cream with rye crumbs", "500 g heavy cream; 60 g whole-grain rye flour", "ice-cream"),
        ],
    ),
    "photo-shows-unlisted-food": (
        [
            shown("A round loaf topped with black olives", "500 g bread flour"),
            shown("A cake dusted with cocoa powder"),
            shown("Soup with a swirl of cream in a blue bowl", "1 l vegetable stock"),
            shown("A slice of cake with raspberries on top", "200 g cake flour"),
            shown("Crackers topped with poppy seeds", "50 g sesame seeds"),
        ],
        [
            shown("A stack of crackers beside a wedge of cheese on a board", "200 g rolled oats"),
            shown("A bowl of granola topped with walnuts", "100 g walnuts"),
            shown("A cake dusted with sugar", "100 g powdered sugar"),
            shown("Crackers topped with seeds", "50 g sesame seeds"),
            shown("A cream-coloured plate of crackers, a glass of wine behind", "200 g rolled oats"),
            shown("A cake with a candle on top", "200 g cake flour"),
        ],
    ),
}

STYLE = {
    "house-word": (
        [
            using("2 courgettes", "Slice the courgettes."),
            cook("Wrap in cling film and rest for 20 minutes."),
            said("It takes a few mins to make."),
        ],
        [
            using("2 zucchini", "Slice the zucchini."),
            cook("Cook for 5 mins, until soft."),
            cook("Bake until the skewer comes out clean."),
            using("200 g all-purpose flour", "Sift the flour onto the parchment."),
        ],
    ),
    "spelling-mixed": (
        [
            cook("Stir until the color turns.", "Bake until set in the centre."),
            said("A gray, savoury paste."),
        ],
        [cook("Bake until set in the centre and deep in colour."), cook("Stir until the color turns.")],
    ),
    "trademark": (
        [
            cook("Shake in a small Tarnley® jar."),
            cook("Cook in a Crock-Pot for 6 hours."),
            using("1 tbsp Crisco", "Melt it."),
        ],
        [
            cook("Cook in a slow cooker for 6 hours."),
            cook("Wrap in plastic wrap."),
            cook("Pour into a vacuum flask."),
        ],
    ),
    "range-with-dash": (
        [cook("Bake for 20–25 minutes."), cook("Simmer 3-4 minutes."), cook("Cool for 1 - 2 hours.")],
        [
            cook("Bake for 20 to 25 minutes."),
            cook("Press into a 9-by-13-inch pan."),
            cook("Use the 9-inch pan."),
        ],
    ),
    "number-begins-sentence": (
        [cook("24 shells fit on two sheets."), cook("Stir well. 20 minutes are enough.")],
        [cook("Pipe 24 shells."), cook("Bake for approx. 20 minutes."), said("Makes a lot: 24 in all.")],
    ),
    "title-in-capitals": (
        [titled("LEMON CURD", "100 g honey")],
        [
            titled("Lemon curd", "100 g honey"),
            titled("BLT", "100 g honey"),
            titled("Brot No. 1", "100 g honey"),
        ],
    ),
    "headnote-short": ([said("A plain dish.")], [said(ENOUGH), said(WORDY), said("")]),
    "headnote-long": ([said(WORDY)], [said(ENOUGH), said("A plain dish."), said("")]),
    "headnote-claim": (
        [said("A healthy breakfast."), titled("Guilt-free brownies", "100 g honey")],
        [
            said("It tastes of health and of summer."),
            said("Made with low-fat yogurt's whey left over, it is rich."),
        ],
    ),
    "alt-text-says-little": (
        [shown("Photo of crackers on a plate"), shown("A dish"), shown("Crackers")],
        [shown("A stack of dark square crackers"), shown("A photographer's table set with crackers")],
    ),
    "photo-credit-missing": (
        [shown("A stack of dark crackers", credit="")],
        [shown("A stack of dark crackers"), said("No picture at all.")],
    ),
}

SUGAR = {
    "stage-temperature-disagree": (
        [
            cook("Boil until the syrup reads 302 °F, the soft-ball stage."),
            cook("Boil to the hard-crack stage, 240 °F."),
            cook("Boil until the caramel is amber and reads 120 °C."),
        ],
        [
            cook("Boil until the syrup reads 302 °F, the hard-crack stage."),
            cook("Boil to the soft-ball stage, 115 °C."),
            cook("Boil until amber, at 175 °C."),
            cook("Boil until it forms a soft ball.", "Heat the oven to 150 °C."),
        ],
    ),
    "altitude-note-missing": (
        [cook("Boil the syrup until it reads 240 °F.")],
        [
            cook("Boil the syrup until it reads 240 °F; in the hills, 2 °F less for each 1,000 feet."),
            cook("Heat the curd until it reads 170 °F."),
            cook("Boil the syrup until it clears."),
        ],
    ),
}  # fmt: skip


def _left_out() -> dict[str, tuple[list[Recipe], list[Recipe]]]:
    """Steps left out, and recipes that have them in other words: left_out.yaml."""
    text = (Path(__file__).parent / "left_out.yaml").read_text(encoding="utf-8")
    return {
        name: tuple([using(row["list"], *row["steps"]) for row in rows[sort]] for sort in ("fires", "silent"))
        for name, rows in YAML(typ="safe").load(text).items()
    }


MANNER: dict[str, tuple[list[Recipe], list[Recipe]]] = {
    **OVENS,
    **STOVES,
    **LEFTOVERS,
    **_left_out(),
    **REFERENCES,
    **STYLE,
    **SUGAR,
}
