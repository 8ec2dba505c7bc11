"""Dishes with what a cook says of one food in each: how far heat gets it. Invented; the sources stand in the rules."""
# ruff: noqa: E501, a table reads best with a dish a line

from __future__ import annotations

from cardsmith.recipe.model import Recipe
from tests.facts.bench_of_facts import dish, of_parts, part

MAYO = "Whisk the egg yolks with the mustard, then whisk in the oil in a thin stream."
Case = tuple[str, str, Recipe, str]  # what it shows, the food asked about, the dish, what it reaches

CASES: tuple[Case, ...] = (
    (
        "flour folded in by hand joins the creamed butter",
        "eggs",
        dish(
            "200 g butter; 200 g sugar; 3 large eggs; 200 g all-purpose flour",
            "Beat the butter and sugar until pale, then beat in the eggs.",
            "Whisk the flour and fold in by hand. Bake for 60 minutes.",
        ),
        "cooked",
    ),
    (
        "what is stirred into the bowl joins what lies in it",
        "eggs",
        dish(
            "200 g butter; 3 large eggs; 200 g all-purpose flour; 6 g fine salt",
            "Beat the butter and the eggs. Whisk the flour with the salt and stir them in. Bake for 12 minutes.",
        ),
        "cooked",
    ),
    (
        "dough that nobody speaks of again lies in the oven",
        "bread flour",
        dish(
            "500 g bread flour; 300 g water; 200 g feta",
            "Mix the flour and water to a dough. Crumble the feta.",
            "Set a ball of cheese in the middle, gather the edges over it and pinch shut. Bake for 15 minutes.",
        ),
        "cooked",
    ),
    (
        "a mayonnaise that comes to the table later does not",
        "egg yolks",
        dish(
            "2 egg yolks; 200 g sunflower oil; 200 g all-purpose flour; 500 g cod fillet",
            "Whisk the yolks with the oil to a mayonnaise.",
            "Coat the cod in the flour. Fry for 4 minutes. Serve with the mayonnaise.",
        ),
        "raw",
    ),
    (
        "a curd set back over the water",
        "eggs",
        dish(
            "4 large eggs; 200 g sugar; 100 g butter",
            "Melt the butter and sugar in a bowl over simmering water. Take off and cool for 5 minutes.",
            "Strain in the eggs. Set back over the water and stir for 12 minutes, until it reaches 80 °C.",
        ),
        "pasteurised",
    ),
    (
        "boiled potatoes cook no mayonnaise",
        "egg yolks",
        dish(
            "2 egg yolks; 1 tsp Dijon mustard; 200 g sunflower oil; 1 kg potatoes",
            MAYO,
            "Boil the potatoes for 20 minutes, until tender. Drain and cool.",
            "Serve with the mayonnaise.",
        ),
        "raw",
    ),
    (
        "nor do potatoes boiled in the same step",
        "egg yolks",
        dish(
            "2 egg yolks; 1 tsp Dijon mustard; 200 g sunflower oil; 1 kg potatoes",
            MAYO + " Boil the potatoes for 20 minutes. Toss with the mayonnaise.",
        ),
        "raw",
    ),
    (
        "a pan of water is another pot",
        "egg yolks",
        dish(
            "2 egg yolks; 200 g sunflower oil; 1 kg potatoes",
            "Whisk the yolks with the oil.",
            "Bring a pan of salted water to the boil. Add the potatoes and simmer for 20 minutes. Drain.",
            "Stir the potatoes into the mayonnaise.",
        ),
        "raw",
    ),
    (
        "toasted bread under raw tuna",
        "tuna steak",
        dish(
            "300 g tuna steak; 4 slices sourdough bread; 20 g olive oil",
            "Toast the bread.",
            "Slice the tuna and dress it with the oil.",
            "Lay the tuna on the bread.",
        ),
        "raw",
    ),
    (
        "eggs boiled in the same dish are another line",
        "egg yolks",
        dish(
            "2 egg yolks; 200 g sunflower oil; 6 large eggs",
            "Whisk the yolks with the oil.",
            "Boil the eggs for 10 minutes.",
            "Halve the eggs and spoon over the sauce.",
        ),
        "raw",
    ),
    (
        "and those boiled are cooked",
        "eggs",
        dish(
            "2 egg yolks; 200 g sunflower oil; 6 large eggs",
            "Whisk the yolks with the oil.",
            "Boil the eggs for 10 minutes.",
            "Halve the eggs and spoon over the sauce.",
        ),
        "cooked",
    ),
    (
        "tempered, then cooked to a reading",
        "egg yolks",
        dish(
            "6 egg yolks; 100 g granulated sugar; 500 g whole milk",
            "Whisk the yolks and sugar.",
            "Heat the milk until it steams. Pour over the yolks, whisking.",
            "Return to the pan and cook over low heat, stirring, until it reads 82 °C.",
        ),
        "pasteurised",
    ),
    (
        "hot milk alone warms",
        "egg yolks",
        dish(
            "6 egg yolks; 100 g granulated sugar; 500 g whole milk",
            "Whisk the yolks and sugar.",
            "Heat the milk until it steams. Pour over the yolks, whisking. Chill.",
        ),
        "raw",
    ),
    (
        "a mousse: the eggs go in off the heat",
        "eggs",
        dish(
            "200 g dark chocolate; 4 large eggs",
            "Melt the chocolate over low heat. Take off the heat.",
            "Beat in the eggs and chill for 2 hours.",
        ),
        "raw",
    ),
    (
        "cake batter, baked unsaid",
        "eggs",
        dish(
            "3 large eggs; 200 g granulated sugar; 200 g all-purpose flour; 200 g unsalted butter",
            "Heat the oven to 180 °C. Beat the butter and sugar. Beat in the eggs, one at a time.",
            "Fold in the flour and scrape into a tin.",
            "Bake for 40 minutes, until a skewer comes out clean.",
        ),
        "cooked",
    ),
    (
        "flour in the same cake",
        "all-purpose flour",
        dish(
            "3 large eggs; 200 g granulated sugar; 200 g all-purpose flour; 200 g unsalted butter",
            "Beat the butter and sugar. Beat in the eggs, one at a time.",
            "Fold in the flour and scrape into a tin.",
            "Bake for 40 minutes.",
        ),
        "cooked",
    ),
    (
        "egg wash",
        "egg",
        dish(
            "1 large egg; 500 g puff pastry; 300 g mushrooms; 20 g unsalted butter",
            "Fry the mushrooms in the butter for 10 minutes.",
            "Roll out the pastry, spoon the mushrooms over and fold it shut. Brush with the egg.",
            "Bake for 25 minutes, until golden.",
        ),
        "cooked",
    ),
    (
        "eggs poured into a hot pan",
        "eggs",
        dish(
            "6 large eggs; 20 g unsalted butter; 10 g chives",
            "Beat the eggs in a bowl.",
            "Melt the butter in a skillet over medium heat. Pour in the eggs and cook for 3 minutes, until set.",
            "Scatter with the chives.",
        ),
        "cooked",
    ),
    (
        "eggs poured in without their name",
        "eggs",
        dish(
            "6 large eggs; 20 g unsalted butter",
            "Beat the eggs in a bowl. Melt the butter in a skillet. Pour in and cook until set.",
        ),
        "cooked",
    ),
    (
        "batter in a hot pan",
        "eggs",
        dish(
            "2 large eggs; 150 g all-purpose flour; 300 g whole milk; 20 g unsalted butter",
            "Whisk the eggs, flour and milk to a smooth batter.",
            "Heat a skillet over medium heat and melt a little of the butter in it.",
            "Pour in a ladleful of batter and fry for 2 minutes on each side.",
        ),
        "cooked",
    ),
    (
        "Swiss meringue over simmering water",
        "egg whites",
        dish(
            "4 egg whites; 200 g granulated sugar",
            "Whisk the whites and sugar in a bowl over simmering water until they read 72 °C.",
            "Whisk off the heat until stiff.",
        ),
        "pasteurised",
    ),
    (
        "boiling syrup",
        "egg whites",
        dish(
            "4 egg whites; 240 g granulated sugar; 60 g water",
            "Boil the sugar and water until the syrup reads 118 °C.",
            "Whisk the whites and pour in the hot syrup.",
        ),
        "cooked",
    ),
    (
        "whites folded in raw beside cooked yolks",
        "eggs",
        dish(
            "3 large eggs, separated; 300 g whole milk; 60 g granulated sugar",
            "Separate the eggs. Whisk the yolks and sugar into the milk.",
            "Cook over low heat until the custard reads 80 °C. Cool.",
            "Whisk the whites until stiff and fold them in.",
        ),
        "raw",
    ),
    (
        "a second egg at the end",
        "egg yolk",
        dish(
            "400 g beef chuck; 1 egg yolk; 200 g rice",
            "Fry the beef for 10 minutes. Boil the rice for 15 minutes.",
            "Spoon the beef over the rice and top with the egg yolk.",
        ),
        "raw",
    ),
    (
        "tuna seared",
        "tuna steak",
        dish(
            "400 g tuna steak; 30 g sesame seeds",
            "Coat the tuna with the seeds.",
            "Sear for 1 minute on each side. Slice.",
        ),
        "seared",
    ),
    (
        "salmon fried for long",
        "salmon fillets",
        dish(
            "4 salmon fillets; 20 g olive oil",
            "Heat the oil in a pan and sear the salmon for 4 minutes on each side.",
        ),
        "cooked",
    ),
    (
        "browned, then braised",
        "beef chuck",
        dish(
            "1 kg beef chuck; 500 g beef stock; 20 g olive oil",
            "Brown the beef in the oil on all sides.",
            "Add the stock and simmer for 3 hours, until tender.",
        ),
        "cooked",
    ),
    (
        "a reading below the chart",
        "beef rib roast",
        dish(
            "2 kg beef rib roast",
            "Roast for 1 hour, until the thickest part reads 125 °F. Rest for 20 minutes.",
        ),
        "warmed",
    ),
    (
        "a reading in a sentence of its own",
        "lamb",
        dish(
            "2 kg leg of lamb", "Roast the lamb for 1 hour.", "The lamb is done when its middle reads 130 °F."
        ),
        "warmed",
    ),
    (
        "a reading that passes",
        "chicken thighs",
        dish("8 chicken thighs", "Fry the thighs until a thermometer in the middle reads 165 °F."),
        "pasteurised",
    ),
    (
        "held at a lower one for the published time",
        "beef rib roast",
        dish("1 kg beef rib roast", "Roast until the centre reads 131 °F, and hold it there for 90 minutes."),
        "pasteurised",
    ),
    (
        "a bath for ten minutes is no core",
        "chicken breast",
        dish("600 g chicken breast", "Seal in a bag and cook in a water bath at 149 °F for 10 minutes."),
        "unknown",
    ),
    (
        "a bath for the time of its thickness",
        "pork loin",
        dish(
            "600 g pork loin",
            "Cut the pork into slices 2.5 cm thick and seal them in a bag. Cook in a water bath at 62 °C for 2 hours.",
        ),
        "pasteurised",
    ),
    (
        "a bath too short for its thickness",
        "pork loin",
        dish(
            "600 g pork loin",
            "Cut the pork into slices 5 cm thick and seal them in a bag. Cook in a water bath at 62 °C for 2 hours.",
        ),
        "unknown",
    ),
    (
        "rum lit",
        "dark rum",
        dish(
            "60 ml dark rum; 4 bananas; 20 g unsalted butter",
            "Fry the bananas in the butter.",
            "Pour over the rum and set it alight.",
        ),
        "flamed",
    ),
    (
        "roux",
        "all-purpose flour",
        dish(
            "40 g all-purpose flour; 40 g unsalted butter; 500 g whole milk",
            "Melt the butter, stir in the flour and cook for 2 minutes.",
            "Whisk in the milk and simmer for 5 minutes, until thick.",
        ),
        "cooked",
    ),
    (
        "raw dough",
        "all-purpose flour",
        dish(
            "150 g all-purpose flour; 100 g unsalted butter; 80 g light brown sugar",
            "Beat the butter and sugar. Stir in the flour and eat with a spoon.",
        ),
        "raw",
    ),
    (
        "the dressing part stays raw",
        "egg yolk",
        of_parts(
            part(
                "Dressing",
                "1 egg yolk; 100 g olive oil; 20 g lemon juice",
                "Whisk the yolk and juice, then the oil.",
            ),
            part(
                "Salad",
                "1 romaine lettuce; 100 g sourdough bread",
                "Bake the bread for 10 minutes, until crisp.",
                "Toss the lettuce with the dressing and scatter over the bread.",
            ),
        ),
        "raw",
    ),
    (
        "the filling of a pie is baked with it",
        "eggs",
        of_parts(
            part(
                "Pastry",
                "200 g all-purpose flour; 100 g unsalted butter; 40 g water",
                "Rub the butter into the flour. Stir in the water. Chill.",
            ),
            part("Filling", "3 large eggs; 300 g heavy cream", "Whisk the eggs and cream."),
            part("To finish", "", "Line a tin with the pastry, pour in the filling and bake for 40 minutes."),
        ),
        "cooked",
    ),
    (
        "breaded chicken",
        "egg",
        dish(
            "4 chicken breasts; 1 large egg; 50 g all-purpose flour; 100 g panko; 100 ml vegetable oil",
            "Dip the chicken in the flour, then the egg, then the panko.",
            "Heat the oil in a skillet. Fry the chicken for 5 minutes on each side, until it reads 165 °F.",
        ),
        "cooked",
    ),
    (
        "prawns in a simmering soup",
        "raw prawns",
        dish(
            "300 g raw prawns; 1 l fish stock; 1 onion",
            "Simmer the onion in the stock for 10 minutes.",
            "Add the prawns and leave for 3 minutes, until pink.",
        ),
        "cooked",
    ),
    (
        "scallops in lime",
        "scallops",
        dish(
            "300 g scallops; 100 g lime juice; 1 onion",
            "Slice the scallops. Toss with the juice and leave for 20 minutes. Scatter with the onion.",
        ),
        "raw",
    ),
    (
        "a steak by its word",
        "strip steaks",
        dish("2 strip steaks; 20 g butter", "Fry the steaks in the butter for 4 minutes, until medium-rare."),
        "warmed",
    ),
    (
        "bread",
        "bread flour",
        dish(
            "500 g bread flour; 350 g water; 10 g fine salt; 5 g instant yeast",
            "Mix everything to a dough and knead for 10 minutes.",
            "Cover and leave to rise for 2 hours. Shape into a loaf and prove for 1 hour.",
            "Bake at 230 °C for 35 minutes.",
        ),
        "cooked",
    ),
    (
        "do not boil is no boiling",
        "egg yolks",
        dish("4 egg yolks; 200 g heavy cream", "Stir the yolks into the cream. Do not boil it. Chill."),
        "raw",
    ),
    (
        "a draft without steps",
        "eggs",
        dish("4 large eggs; 200 g heavy cream"),
        "unknown",
    ),
    (
        "everything stirred, then baked",
        "egg",
        dish(
            "1 large egg; 300 g ground beef; 50 g breadcrumbs",
            "Mix all the ingredients, shape into balls and bake for 20 minutes.",
        ),
        "cooked",
    ),
    (
        "an oven on the way does nothing",
        "egg yolks",
        dish("2 egg yolks; 200 g sunflower oil", "Heat the oven to 180 °C.", "Whisk the yolks with the oil."),
        "raw",
    ),
    (
        "unlisted potatoes",
        "egg yolks",
        dish(
            "2 egg yolks; 200 g sunflower oil",
            "Whisk the yolks with the oil.",
            "Boil the potatoes for 20 minutes.",
            "Serve with the sauce.",
        ),
        "raw",
    ),
    (
        "eggs broken over a simmering sauce",
        "eggs",
        dish(
            "6 large eggs; 800 g canned crushed tomatoes; 1 onion",
            "Fry the onion for 5 minutes. Add the tomatoes and simmer for 15 minutes.",
            "Make six wells, crack an egg into each, cover and cook for 8 minutes, until the whites are set.",
        ),
        "cooked",
    ),
)
