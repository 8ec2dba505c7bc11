"""Whole dishes as people write them, each with all the hazards it holds. Invented."""
# ruff: noqa: E501, a table reads best with a dish a line

from __future__ import annotations

from cardsmith.recipe.model import Recipe
from tests.facts.bench_of_facts import dish, of_parts, part

Case = tuple[str, Recipe, set[str]]

CASES: tuple[Case, ...] = (
    (
        "french toast",
        dish(
            "4 slices brioche; 2 large eggs; 150 ml whole milk; 20 g unsalted butter",
            "Whisk the eggs and milk in a shallow dish. Soak the bread in it for 2 minutes on each side.",
            "Melt the butter in a skillet over medium heat and fry the slices for 3 minutes a side.",
        ),
        set(),
    ),
    (
        "schnitzel",
        dish(
            "4 veal cutlets; 2 large eggs; 60 g all-purpose flour; 120 g panko; 200 ml vegetable oil; 1 lemon",
            "Set out three plates: one of flour, one of beaten egg, one of panko. Coat the cutlets in each in turn.",
            "Heat 1 cm of oil in a wide skillet until it shimmers and fry the cutlets for 2 to 3 minutes on each side, until golden and 145 °F inside.",
            "Serve with lemon.",
        ),
        set(),
    ),
    (
        "frittata oven",
        dish(
            "8 large eggs; 300 g potatoes; 1 onion; 40 ml olive oil",
            "Heat the oil in an ovenproof skillet and cook the potatoes and onion for 15 minutes, until soft.",
            "Beat the eggs, pour them over and cook without stirring for 4 minutes, until the edges set.",
            "Slide under the broiler for 2 minutes.",
        ),
        set(),
    ),
    (
        "bread pudding",
        dish(
            "300 g stale bread; 3 large eggs; 500 ml whole milk; 80 g granulated sugar; 50 g raisins",
            "Tear the bread into a buttered dish and scatter with the raisins.",
            "Whisk the eggs with the milk and sugar and pour over. Leave to soak for 30 minutes.",
            "Bake at 170 °C for 45 minutes.",
        ),
        set(),
    ),
    (
        "cheesecake",
        of_parts(
            part(
                "Base",
                "200 g digestive biscuits; 90 g unsalted butter",
                "Crush the biscuits. Melt the butter, stir it in and press into a tin. Chill.",
            ),
            part(
                "Filling",
                "600 g cream cheese; 3 large eggs; 150 g granulated sugar; 200 g sour cream",
                "Heat the oven to 160 °C.",
                "Beat the cheese and sugar until smooth, then the eggs one by one, then the sour cream. Pour onto the base.",
                "Bake for 50 minutes, until the edge is set. Cool in the oven with the door open.",
            ),
        ),
        set(),
    ),
    (
        "lemon meringue pie",
        of_parts(
            part(
                "Pastry",
                "180 g all-purpose flour; 90 g unsalted butter; 40 ml water",
                "Rub the butter into the flour, add the water and chill.",
                "Roll out, line a 23 cm tin and bake blind for 20 minutes.",
            ),
            part(
                "Filling",
                "4 egg yolks; 150 g granulated sugar; 40 g cornstarch; 300 ml water; 120 ml lemon juice",
                "Whisk the sugar, cornstarch, water and juice in a pan. Bring to a boil, stirring, until thick.",
                "Off the heat, beat in the yolks. Return to the heat for 2 minutes. Pour into the case.",
            ),
            part(
                "Meringue",
                "4 egg whites; 200 g granulated sugar",
                "Whisk the whites to soft peaks, then whisk in the sugar. Spread over the hot filling.",
                "Bake at 160 °C for 25 minutes, until golden.",
            ),
        ),
        set(),
    ),
    (
        "burgers w aioli",
        of_parts(
            part(
                "Aioli",
                "2 egg yolks; 2 cloves garlic; 250 ml olive oil",
                "Pound the garlic, whisk in the yolks and then the oil, drop by drop.",
            ),
            part(
                "Burgers",
                "600 g ground beef; 4 buns; 10 g fine salt",
                "Season the beef with the salt, shape into 4 patties and grill for 5 minutes on each side, until 160 °F inside.",
                "Toast the buns and spread with the aioli. Add the burgers.",
            ),
        ),
        {"raw egg"},
    ),
    (
        "caesar",
        dish(
            "2 romaine lettuces; 1 egg yolk; 4 anchovy fillets; 150 ml olive oil; 50 g Parmesan; 100 g bread",
            "Cut the bread into cubes, toss with a little of the oil and bake at 200 °C for 10 minutes.",
            "Mash the anchovies, whisk in the yolk and the rest of the oil in a thin stream.",
            "Toss the lettuce with the dressing, the croutons and cheese.",
        ),
        {"raw egg"},
    ),
    (
        "steak with bearnaise",
        of_parts(
            part(
                "Steaks",
                "4 strip steaks; 20 ml vegetable oil",
                "Heat the oil in a skillet until it smokes. Fry the steaks for 3 minutes on each side, until 145 °F inside. Rest for 5 minutes.",
            ),
            part(
                "Sauce",
                "3 egg yolks; 200 g unsalted butter; 40 ml white wine vinegar; 10 g fresh tarragon",
                "Boil the vinegar with half the tarragon until 1 tablespoon is left. Cool.",
                "Whisk in the yolks over simmering water until thick. Whisk in the butter and the rest of the tarragon.",
            ),
        ),
        {"lightly cooked egg"},
    ),
    (
        "chicken traybake",
        dish(
            "8 chicken thighs; 500 g potatoes; 1 lemon; 40 ml olive oil; 10 g thyme",
            "Heat the oven to 220 °C.",
            "Toss the potatoes with half the oil and spread on a sheet pan. Roast for 15 minutes.",
            "Rub the chicken with the rest of the oil and the thyme, sit it on the potatoes and roast for 35 minutes more, until a thigh reads 165 °F.",
        ),
        set(),
    ),
    (
        "pulled pork",
        dish(
            "2 kg boneless pork shoulder; 30 g light brown sugar; 20 g fine salt; 10 g smoked paprika; 200 ml cider vinegar",
            "Mix the sugar, salt and paprika and rub all over the pork. Refrigerate overnight.",
            "Roast at 140 °C for 6 hours, until it reads 200 °F. Shred with two forks and toss with the vinegar.",
        ),
        set(),
    ),
    (
        "chili",
        dish(
            "500 g ground beef; 1 onion; 2 (400 g) cans kidney beans; 800 g canned crushed tomatoes",
            "Brown the beef with the onion. Stir in the tomatoes and beans and simmer for 40 minutes.",
        ),
        set(),
    ),
    (
        "pasta bake tuna",
        dish(
            "400 g penne; 2 (150 g) cans tuna in water; 500 ml whole milk; 40 g all-purpose flour; 40 g unsalted butter; 150 g cheddar",
            "Boil the penne for 9 minutes and drain.",
            "Melt the butter in the same pan, stir in the flour, then the milk, and simmer until thick. Stir in the tuna, penne and half the cheese.",
            "Tip into a dish, top with the rest of the cheese and bake for 20 minutes.",
        ),
        set(),
    ),
    (
        "chocolate mousse gelatin",
        dish(
            "200 g dark chocolate; 300 g heavy cream; 3 egg whites; 40 g granulated sugar",
            "Melt the chocolate in a bowl over simmering water. Cool a little.",
            "Whip the cream. Whisk the whites with the sugar to soft peaks.",
            "Fold both into the chocolate and chill.",
        ),
        {"raw egg"},
    ),
    (
        "zabaglione temp",
        dish(
            "4 egg yolks; 80 g granulated sugar; 100 ml Marsala wine",
            "Whisk everything in a bowl over simmering water until thick and 160 °F.",
        ),
        set(),
    ),
    (
        "marshmallow",
        dish(
            "20 g powdered gelatine; 120 ml water; 400 g granulated sugar; 2 egg whites",
            "Soak the gelatine in half the water.",
            "Boil the sugar with the rest of the water to 240 °F.",
            "Whisk the whites until stiff. Stir the gelatine into the syrup and pour it onto the whites, whisking.",
        ),
        {"hot sugar"},
    ),
    (
        "salmon gravlax",
        dish(
            "1 kg salmon fillet; 60 g fine salt; 60 g granulated sugar",
            "Mix the salt and sugar, pack onto the salmon and weight it in the refrigerator for 2 days.",
            "Rinse, dry and slice.",
        ),
        {"raw fish"},
    ),
    (
        "salmon rice bowl",
        dish(
            "300 g short-grain white rice; 400 g salmon fillet; 30 ml soy sauce; 1 avocado",
            "Cook the rice in 400 ml water for 15 minutes. Let it steam for 10 minutes.",
            "Roast the salmon at 200 °C for 12 minutes, until it flakes. Break over the rice and add the avocado and soy sauce.",
        ),
        set(),
    ),
    (
        "poke raw",
        dish(
            "300 g short-grain white rice; 400 g salmon fillet; 30 ml soy sauce; 1 avocado",
            "Cook the rice in 400 ml water for 15 minutes. Let it cool.",
            "Dice the salmon and toss it with the soy sauce. Spoon over the rice with the avocado.",
        ),
        {"raw fish"},
    ),
    (
        "dumplings",
        of_parts(
            part(
                "Dough",
                "300 g all-purpose flour; 150 ml boiling water",
                "Stir the boiling water into the flour and knead for 5 minutes. Rest.",
            ),
            part(
                "Filling",
                "300 g ground pork; 200 g napa cabbage; 20 ml soy sauce",
                "Chop the cabbage and mix with the pork and soy sauce.",
                "Roll the dough into rounds and fill them. Pinch shut.",
                "Steam for 12 minutes, until the middle reads 160 °F.",
            ),
        ),
        set(),
    ),
    (
        "fresh pasta",
        dish(
            "400 g 00 flour; 4 large eggs",
            "Mix the flour and eggs and knead for 10 minutes. Rest for 30 minutes.",
            "Roll out and cut into ribbons. Boil for 2 minutes.",
        ),
        set(),
    ),
    (
        "gnocchi",
        dish(
            "1 kg floury potatoes; 250 g all-purpose flour; 1 large egg; 80 g unsalted butter; 10 sage leaves",
            "Boil the potatoes in their skins for 30 minutes. Peel and mash.",
            "Work in the flour and egg. Roll into ropes and cut.",
            "Drop into simmering water and lift out when they float.",
            "Brown the butter with the sage and toss the gnocchi in it.",
        ),
        set(),
    ),
    (
        "pizza",
        of_parts(
            part(
                "Dough",
                "500 g bread flour; 325 ml water; 3 g instant yeast; 10 g fine salt",
                "Mix everything, knead for 8 minutes and leave for 8 hours.",
            ),
            part(
                "Topping",
                "400 g canned whole tomatoes; 250 g fresh mozzarella; 10 g basil",
                "Crush the tomatoes. Tear the mozzarella.",
                "Stretch the dough, spread with the tomatoes, scatter over the cheese and bake at 250 °C for 8 minutes.",
                "Scatter with the basil.",
            ),
        ),
        set(),
    ),
    (
        "stuffed chicken",
        dish(
            "1 whole chicken (1.8 kg); 100 g bread; 1 onion; 50 g unsalted butter; 1 large egg",
            "Fry the onion in half the butter. Mix with the bread and egg and stuff the cavity.",
            "Rub the chicken with the rest of the butter and roast for 1 hour 30 minutes, until the thigh and the stuffing read 165 °F.",
        ),
        {"stuffing"},
    ),
    (
        "meatballs sauce",
        dish(
            "500 g ground beef; 1 large egg; 50 g breadcrumbs; 800 g canned crushed tomatoes; 1 onion; 30 ml olive oil",
            "Soften the onion in the oil for 10 minutes. Add the tomatoes and simmer.",
            "Mix the beef, egg and breadcrumbs and roll into 20 balls.",
            "Drop into the sauce, cover and simmer for 25 minutes.",
        ),
        set(),
    ),
    (
        "scotch eggs",
        dish(
            "6 large eggs; 400 g pork sausage; 50 g all-purpose flour; 100 g panko; 1 l vegetable oil",
            "Boil 5 of the eggs for 9 minutes. Cool and peel.",
            "Wrap each in sausage meat. Roll in flour, then in the beaten last egg, then in panko.",
            "Heat the oil to 170 °C and fry for 8 minutes, until golden and 160 °F inside the meat.",
        ),
        {"deep frying"},
    ),
    (
        "waffles",
        dish(
            "2 large eggs; 200 g all-purpose flour; 300 ml buttermilk; 80 g unsalted butter",
            "Whisk everything but the butter. Melt the butter and stir it in.",
            "Heat a waffle iron and cook a ladleful at a time for 4 minutes.",
        ),
        set(),
    ),
    (
        "carrot cake",
        of_parts(
            part(
                "Cake",
                "3 large eggs; 200 g light brown sugar; 200 ml vegetable oil; 200 g all-purpose flour; 250 g carrots",
                "Grate the carrots. Whisk the eggs, sugar and oil. Fold in the flour and carrots. Scrape into a tin.",
                "Bake at 180 °C for 45 minutes.",
            ),
            part(
                "Frosting",
                "200 g cream cheese; 60 g unsalted butter; 100 g powdered sugar",
                "Beat everything and spread over the cold cake.",
            ),
        ),
        set(),
    ),
    (
        "creme brulee",
        dish(
            "6 egg yolks; 500 ml heavy cream; 80 g granulated sugar",
            "Heat the oven to 150 °C. Bring the cream to a simmer. Whisk the yolks with half the sugar and stir in the cream.",
            "Strain into ramekins, stand them in a pan of hot water and bake for 35 minutes, until just set. Chill.",
            "Sprinkle with the rest of the sugar and torch until caramelized.",
        ),
        {"hot sugar"},
    ),
    (
        "shrimp cocktail raw prawns",
        dish(
            "500 g raw prawns; 100 g ketchup; 20 g prepared horseradish",
            "Bring a pan of salted water to a boil, add the prawns and cook for 2 minutes, until pink. Drain and chill.",
            "Mix the ketchup and horseradish. Serve with the prawns.",
        ),
        set(),
    ),
    (
        "beef carpaccio sear",
        dish(
            "500 g beef tenderloin; 30 ml olive oil; 50 g arugula",
            "Sear the beef all over in a very hot pan for 1 minute. Freeze for 1 hour and slice thinly.",
            "Dress with the oil and arugula.",
        ),
        {"raw or pink meat"},
    ),
    (
        "roast beef with yorkshire",
        of_parts(
            part(
                "Beef",
                "2 kg beef rib roast; 10 g fine salt",
                "Salt the beef and roast at 220 °C for 20 minutes, then at 160 °C for 1 hour 15 minutes, until it reads 145 °F. Rest for 20 minutes.",
            ),
            part(
                "Puddings",
                "3 large eggs; 140 g all-purpose flour; 200 ml whole milk; 40 g beef dripping",
                "Whisk the eggs, flour and milk. Heat the dripping in a tin in the oven until it smokes.",
                "Pour in the batter and bake for 25 minutes.",
            ),
        ),
        set(),
    ),
    (
        "egg fried rice",
        dish(
            "600 g cooked rice; 3 large eggs; 4 scallions; 30 ml vegetable oil",
            "Heat the oil in a wok, add the eggs and scramble. Add the rice and scallions and stir-fry for 4 minutes, until steaming.",
        ),
        {"cooked rice kept"},
    ),
    (
        "truffles raw egg yolk",
        dish(
            "250 g dark chocolate; 150 ml heavy cream; 1 egg yolk; 30 g cocoa",
            "Bring the cream to a boil and pour it over the chocolate. Stir in the yolk. Chill, roll into balls and dust with the cocoa.",
        ),
        {"raw egg"},
    ),
    (
        "granola bars",
        dish(
            "300 g rolled oats; 120 g honey; 100 g almonds; 60 g unsalted butter",
            "Melt the butter with the honey. Stir in the oats and almonds, press into a tin and bake for 25 minutes.",
        ),
        {"honey for infants"},
    ),
    (
        "mustard chicken no core",
        dish(
            "4 chicken breasts; 100 ml heavy cream; 30 g Dijon mustard; 20 ml olive oil",
            "Fry the chicken in the oil for 6 minutes on each side. Stir in the cream and mustard and bubble for 3 minutes.",
        ),
        set(),
    ),
    (
        "larb",
        dish(
            "400 g ground pork; 60 ml lime juice; 20 ml fish sauce; 30 g rice",
            "Toast the rice in a dry pan and grind it.",
            "Cook the pork in 60 ml water, breaking it up, until no longer pink. Take off the heat and stir in the lime juice, fish sauce and rice.",
        ),
        set(),
    ),
    (
        "eggs benedict",
        dish(
            "4 large eggs; 2 English muffins; 3 egg yolks; 150 g unsalted butter",
            "Melt the butter. Blend the yolks and pour in the hot butter in a stream.",
            "Poach the eggs for 3 minutes. Toast the muffins, top with the eggs and spoon over the sauce.",
        ),
        {"raw egg"},
    ),
    (
        "smoothie raw egg",
        dish("1 large egg; 200 ml whole milk; 1 banana", "Blend everything until smooth."),
        {"raw egg"},
    ),
    (
        "pavlova",
        dish(
            "4 egg whites; 220 g superfine sugar; 5 ml white vinegar; 300 g heavy cream; 200 g strawberries",
            "Heat the oven to 150 °C. Whisk the whites to stiff peaks, then whisk in the sugar. Fold in the vinegar.",
            "Spoon onto a lined sheet. Turn the oven down to 120 °C and bake for 1 hour 15 minutes. Cool in the oven.",
            "Whip the cream, spread over and top with the strawberries.",
        ),
        set(),
    ),
    (
        "ice lolly egg white wash",
        dish(
            "2 egg whites; 100 g granulated sugar; 200 g grapes",
            "Brush the grapes with the whites and roll in the sugar. Leave to dry.",
        ),
        {"raw egg"},
    ),
    (
        "beef stroganoff",
        dish(
            "500 g beef tenderloin; 250 g white mushrooms; 200 g sour cream; 30 g unsalted butter",
            "Slice the beef into strips. Sear in half the butter for 2 minutes and lift out.",
            "Fry the mushrooms in the rest of the butter for 8 minutes. Return the beef, stir in the sour cream and heat through without boiling.",
        ),
        set(),
    ),
    (
        "kebabs",
        dish(
            "800 g boneless leg of lamb; 100 g plain yogurt; 2 cloves garlic",
            "Dice the lamb and marinate in the yogurt and garlic overnight in the refrigerator.",
            "Thread onto skewers and grill for 10 minutes, turning, until 145 °F inside.",
        ),
        set(),
    ),
    (
        "mussels marinière w cream",
        dish(
            "1 kg mussels; 1 shallot; 150 ml dry white wine; 50 ml heavy cream",
            "Soften the shallot. Add the wine and mussels, cover and cook over high heat for 4 minutes, shaking, until the shells open. Stir in the cream.",
        ),
        set(),
    ),
    (
        "overnight oats",
        dish(
            "100 g rolled oats; 200 ml whole milk; 20 g chia seeds",
            "Stir everything and refrigerate overnight.",
        ),
        set(),
    ),
    (
        "eggs in cake glaze raw white",
        of_parts(
            part(
                "Cake",
                "200 g all-purpose flour; 2 large eggs; 100 g unsalted butter; 100 g granulated sugar",
                "Cream the butter and sugar, beat in the eggs, fold in the flour and bake for 30 minutes.",
            ),
            part(
                "Glaze",
                "1 egg white; 200 g powdered sugar",
                "Whisk the white with the sugar and spread over the cake.",
            ),
        ),
        {"raw egg"},
    ),
    (
        "mayo made while potatoes cook",
        dish(
            "1 kg potatoes; 2 egg yolks; 10 g Dijon mustard; 250 ml sunflower oil; 20 ml cider vinegar",
            "Put the potatoes in a pan of cold salted water, bring to the boil and simmer for 20 minutes. Meanwhile, whisk the yolks with the mustard and trickle in the oil. Sharpen with the vinegar.",
            "Drain the potatoes, cool, slice and fold through the mayonnaise.",
        ),
        {"raw egg"},
    ),
    (
        "mayo first, then water is boiled for eggs",
        dish(
            "1 egg yolk; 150 ml olive oil; 6 large eggs; 300 g green beans",
            "Make a mayonnaise with the yolk and oil. Set aside.",
            "Bring a large pan of water to the boil. Lower in the eggs and boil for 9 minutes. Lift out and cool. Cook the beans in the same water for 4 minutes.",
            "Halve the eggs, toss the beans with the mayonnaise and serve together.",
        ),
        {"raw egg"},
    ),
    (
        "brownies with raw topping",
        of_parts(
            part(
                "Brownies",
                "200 g dark chocolate; 150 g unsalted butter; 3 large eggs; 200 g granulated sugar; 100 g all-purpose flour",
                "Melt the chocolate with the butter. Beat the eggs and sugar, stir in the chocolate, fold in the flour.",
                "Bake at 180 °C for 25 minutes. Cool.",
            ),
            part(
                "Topping",
                "2 egg whites; 100 g granulated sugar",
                "Whisk the whites with the sugar until stiff. Swirl over the brownies.",
            ),
        ),
        {"raw egg"},
    ),
    (
        "topping torched only",
        of_parts(
            part(
                "Tart",
                "200 g digestive biscuits; 80 g unsalted butter; 400 g lemon curd",
                "Crush the biscuits, stir in the melted butter and press into a tin. Fill with the curd.",
            ),
            part(
                "Meringue",
                "3 egg whites; 150 g granulated sugar",
                "Whisk the whites with the sugar. Pile on top and brown with a blowtorch.",
            ),
        ),
        {"raw egg"},
    ),
    (
        "air fryer nuggets",
        dish(
            "500 g boneless chicken breasts; 1 large egg; 80 g panko",
            "Cut the chicken into chunks. Dip in the egg, roll in the panko.",
            "Cook in an air fryer at 200 °C for 10 minutes, until 165 °F inside.",
        ),
        set(),
    ),
    (
        "microwave mug cake",
        dish(
            "1 large egg; 40 g self-rising flour; 30 g granulated sugar; 40 ml whole milk",
            "Stir everything together in a mug. Microwave for 90 seconds.",
        ),
        set(),
    ),
    (
        "warming drawer is no cooking",
        dish(
            "4 duck breasts; 5 g fine salt",
            "Salt the duck. Hold in a warming drawer at 55 °C for 40 minutes, then slice.",
        ),
        {"raw or pink meat"},
    ),
    (
        "egg white cocktail",
        dish(
            "60 ml whiskey; 30 ml lemon juice; 20 ml simple syrup; 1 egg white",
            "Shake everything with ice and strain into a glass.",
        ),
        {"raw egg"},
    ),
    (
        "holiday eggnog cooked",
        dish(
            "6 egg yolks; 100 g granulated sugar; 500 ml whole milk; 250 ml heavy cream; 60 ml bourbon",
            "Whisk the yolks and sugar. Bring the milk to a simmer and whisk it in gradually. Return to the pan and heat, stirring, to 160 °F.",
            "Stir in the cream and bourbon. Chill.",
        ),
        set(),
    ),
    (
        "holiday eggnog raw",
        dish(
            "6 large eggs; 100 g granulated sugar; 500 ml whole milk; 250 ml heavy cream; 60 ml bourbon",
            "Separate the eggs. Beat the yolks with the sugar; stir in the milk, cream and bourbon. Whisk the whites and fold in. Chill.",
        ),
        {"raw egg"},
    ),
    (
        "semifreddo over heat",
        dish(
            "5 egg yolks; 120 g granulated sugar; 400 ml heavy cream",
            "Whisk the yolks and sugar in a bowl set over a pan of simmering water until the mixture reaches 74 °C, about 8 minutes. Whisk off the heat until cold.",
            "Whip the cream, fold the two together and freeze.",
        ),
        set(),
    ),
    (
        "chawanmushi",
        dish(
            "3 large eggs; 400 ml dashi; 100 g raw prawns",
            "Whisk the eggs with the dashi and strain over the prawns in four cups.",
            "Steam over low heat for 15 minutes, until just set.",
        ),
        set(),
    ),
    (
        "tataki",
        dish(
            "400 g beef tenderloin; 20 ml vegetable oil; 50 ml ponzu",
            "Heat the oil until smoking and brown the beef for 30 seconds on each side. Plunge into iced water, dry and slice thinly. Dress with the ponzu.",
        ),
        {"raw or pink meat"},
    ),
    (
        "salmon mi-cuit",
        dish(
            "4 salmon fillets; 20 ml olive oil",
            "Bake the salmon at 120 °C for 15 minutes, until 45 °C in the middle.",
        ),
        {"raw fish"},
    ),
    (
        "chicken rice one pot",
        dish(
            "6 chicken thighs; 300 g basmati rice; 600 ml chicken stock; 1 onion; 20 ml olive oil",
            "Brown the thighs in the oil on both sides, about 8 minutes, and set aside. Soften the onion in the fat. Stir in the rice and stock and bring to a boil.",
            "Nestle the thighs on top, cover and bake at 180 °C for 30 minutes, until they read 165 °F.",
        ),
        set(),
    ),
    (
        "lasagne",
        of_parts(
            part(
                "Sauce",
                "500 g ground beef; 800 g canned crushed tomatoes; 1 onion",
                "Fry the onion and beef for 10 minutes. Add the tomatoes and simmer for 1 hour.",
            ),
            part(
                "White sauce",
                "50 g unsalted butter; 50 g all-purpose flour; 700 ml whole milk",
                "Melt the butter, stir in the flour and cook for 1 minute. Whisk in the milk and simmer until thick.",
            ),
            part(
                "To assemble",
                "12 sheets lasagne; 100 g Parmesan",
                "Layer the sauce, lasagne and white sauce in a dish, ending with white sauce. Scatter over the cheese.",
                "Bake at 190 °C for 40 minutes.",
            ),
        ),
        set(),
    ),
    (
        "empanadas egg wash",
        of_parts(
            part(
                "Dough",
                "400 g all-purpose flour; 120 g lard; 1 large egg; 100 ml water",
                "Rub the lard into the flour. Mix in the egg and water. Rest.",
            ),
            part(
                "Filling",
                "400 g ground beef; 2 onions",
                "Fry the onions until soft, add the beef and cook for 10 minutes. Cool.",
            ),
            part(
                "To finish",
                "1 egg, beaten",
                "Roll out the dough, cut into rounds, fill and seal. Brush with the egg and bake for 20 minutes.",
            ),
        ),
        set(),
    ),
    (
        "profiteroles",
        of_parts(
            part(
                "Choux",
                "75 g unsalted butter; 200 ml water; 100 g all-purpose flour; 3 large eggs",
                "Bring the butter and water to a boil. Tip in the flour and beat over the heat for 1 minute. Cool slightly, then beat in the eggs.",
                "Pipe onto a sheet and bake for 25 minutes.",
            ),
            part("Filling", "300 ml heavy cream", "Whip the cream and fill the buns."),
        ),
        set(),
    ),
    (
        "pastry cream",
        dish(
            "4 egg yolks; 100 g granulated sugar; 40 g cornstarch; 500 ml whole milk",
            "Heat the milk until steaming. Whisk the yolks, sugar and cornstarch. Whisk in the hot milk, pour back into the pan and boil for 1 minute, whisking.",
            "Press plastic wrap onto the surface and chill.",
        ),
        set(),
    ),
    (
        "lemon bars",
        of_parts(
            part(
                "Base",
                "200 g all-purpose flour; 120 g unsalted butter; 60 g powdered sugar",
                "Rub together and press into a tin. Bake for 20 minutes.",
            ),
            part(
                "Lemon",
                "4 large eggs; 300 g granulated sugar; 150 ml lemon juice",
                "Whisk everything, pour over the hot base and bake for 25 minutes, until set.",
            ),
        ),
        set(),
    ),
    (
        "steak tartare w capers alt",
        dish(
            "300 g beef tenderloin; 20 g capers; 2 egg yolks",
            "Mince the beef by hand with the capers. Shape into two rounds, make a hollow in each and slip in a yolk.",
        ),
        {"raw or pink meat", "raw egg"},
    ),
    (
        "shakshuka runny",
        dish(
            "800 g canned crushed tomatoes; 1 onion; 6 large eggs; 30 ml olive oil",
            "Soften the onion in the oil. Pour in the tomatoes and simmer for 15 minutes.",
            "Crack in the eggs, cover and cook for 6 minutes, until the whites are set but the yolks still runny.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "burger 145",
        dish(
            "600 g ground beef; 4 buns",
            "Shape the beef into patties and grill until 145 °F inside. Serve in the buns.",
        ),
        {"raw or pink meat"},
    ),
    (
        "marinade reused for basting raw",
        dish(
            "1 kg chicken wings; 100 ml soy sauce; 50 g ketchup",
            "Stir the soy sauce into the ketchup, add the wings and marinate overnight in the refrigerator.",
            "Lift the wings out. Grill for 25 minutes, until 165 °F.",
            "Brush with the leftover marinade just before serving.",
        ),
        {"used marinade"},
    ),
    (
        "fried chicken buttermilk",
        dish(
            "8 chicken drumsticks; 400 ml buttermilk; 200 g all-purpose flour; 1.5 l peanut oil",
            "Soak the chicken in the buttermilk overnight in the refrigerator. Drain and dredge in the flour.",
            "Heat the oil to 350 °F. Fry the chicken in batches for 14 minutes, until it reads 165 °F.",
        ),
        {"deep frying"},
    ),
    (
        "tempura prawns frozen",
        dish(
            "500 g frozen raw prawns; 150 g all-purpose flour; 1 large egg; 250 ml sparkling water; 1 l vegetable oil",
            "Whisk the egg, water and flour. Dip the prawns and fry at 180 °C for 3 minutes, until crisp.",
        ),
        {"deep frying", "frozen food into hot fat"},
    ),
    (
        "cake pops with raw flour crumbs",
        dish(
            "250 g all-purpose flour; 100 g unsalted butter; 100 g white chocolate; 100 g sugar",
            "Beat the butter with the sugar and work in the flour. Roll into balls, chill and dip in the melted chocolate.",
        ),
        {"raw flour eaten"},
    ),
    (
        "beef noodle soup raw slices",
        dish(
            "1.5 l beef stock; 200 g beef tenderloin; 300 g rice noodles",
            "Bring the stock to a boil. Cook the noodles and divide among bowls. Lay over paper-thin slices of the raw beef and ladle on the stock.",
        ),
        {"raw or pink meat"},
    ),
    (
        "ceviche of cooked shrimp",
        dish(
            "400 g shrimp; 100 ml lime juice; 1 red onion",
            "Boil the shrimp for 2 minutes, until pink. Cool, chop and toss with the lime juice and onion.",
            title="Shrimp ceviche",
        ),
        set(),
    ),
    (
        "vegan ceviche",
        dish(
            "400 g canned hearts of palm; 100 ml lime juice",
            "Slice the hearts and toss with the juice.",
            title="Hearts of palm ceviche",
        ),
        set(),
    ),
    (
        "smoked mackerel pate",
        dish(
            "200 g smoked mackerel; 100 g cream cheese; 20 ml lemon juice",
            "Flake the mackerel and beat in the cheese and juice.",
        ),
        set(),
    ),
    (
        "home-smoked fish cold",
        dish(
            "1 kg trout fillets; 50 g fine salt",
            "Salt the trout for 2 hours and rinse. Cold-smoke at 25 °C for 8 hours. Slice.",
        ),
        {"raw fish"},
    ),
    (
        "hot smoked",
        dish(
            "4 trout fillets; 20 g fine salt",
            "Salt the trout. Smoke in a smoker at 110 °C for 40 minutes, until it reads 145 °F.",
        ),
        set(),
    ),
    (
        "bean salad soaked raw",
        dish(
            "200 g dried cannellini beans; 30 ml olive oil",
            "Soak the beans overnight. Drain, cover with fresh water and cook in a slow cooker on low for 8 hours. Dress with the oil.",
        ),
        {"kidney bean toxin"},
    ),
    (
        "beans pressure",
        dish(
            "200 g dried kidney beans; 1 l water",
            "Soak the beans. Cook at high pressure for 25 minutes in the water in a pressure cooker.",
        ),
        {"pressure cooking"},
    ),
    (
        "brine for pickles w mustard",
        dish(
            "500 g carrots; 250 ml white wine vinegar; 250 ml water; 15 g fine salt",
            "Pack the carrots into a jar. Boil the vinegar, water and salt and pour the hot brine over. Keep in the refrigerator for 2 weeks.",
            title="Carrots in vinegar",
        ),
        {"quick pickles"},
    ),
    (
        "flambé dessert crepe",
        dish(
            "2 large eggs; 120 g all-purpose flour; 250 ml whole milk; 60 ml orange liqueur; 80 g unsalted butter",
            "Whisk the eggs, flour and milk; rest for 30 minutes. Fry thin crêpes in a little of the butter.",
            "Melt the rest of the butter, fold the crêpes into it, warm the liqueur, light it and pour it over.",
        ),
        {"flaming spirits"},
    ),
    (
        "praline",
        dish(
            "200 g granulated sugar; 150 g hazelnuts",
            "Melt the sugar in a dry pan until deep amber. Tip in the hazelnuts, turn out onto parchment and leave to set. Break into shards.",
        ),
        {"hot sugar", "whole nuts in candy"},
    ),
    (
        "tuna noodle w fresh tuna grilled",
        dish(
            "4 tuna steaks; 30 ml olive oil; 1 lemon",
            "Brush the tuna with the oil and grill for 4 minutes on each side, until it flakes. Squeeze over the lemon.",
        ),
        set(),
    ),
    (
        "oyster stew",
        dish(
            "24 oysters; 500 ml whole milk; 60 g unsalted butter",
            "Melt the butter, add the oysters and their liquor and cook until the edges curl. Pour in the milk and heat until steaming.",
        ),
        set(),
    ),
    (
        "pâté",
        dish(
            "400 g chicken livers; 200 g unsalted butter; 1 shallot; 50 ml brandy",
            "Cook the shallot in a third of the butter. Add the livers and fry for 6 minutes, until no longer pink inside. Add the brandy and bubble for 1 minute.",
            "Blend with the rest of the butter, press into a pot and chill.",
        ),
        set(),
    ),
    (
        "pate pink",
        dish(
            "400 g chicken livers; 200 g unsalted butter",
            "Fry the livers in half the butter for 3 minutes, until still pink in the middle. Blend with the rest of the butter.",
        ),
        {"raw or pink meat"},
    ),
    (
        "fish cakes",
        dish(
            "300 g cooked potatoes; 300 g salmon fillet; 1 large egg; 60 g breadcrumbs; 30 ml oil",
            "Poach the salmon in simmering water for 8 minutes and flake it. Mash with the potatoes. Chill, shape, dip in the egg and the crumbs.",
            "Fry in the oil for 4 minutes on each side.",
        ),
        set(),
    ),
    (
        "kedgeree",
        dish(
            "300 g smoked haddock; 200 g basmati rice; 4 large eggs; 50 g unsalted butter",
            "Poach the haddock for 8 minutes. Boil the rice for 12 minutes. Boil the eggs for 8 minutes, peel and quarter.",
            "Fork everything together with the butter.",
        ),
        set(),
    ),
    (
        "overnight strata alt",
        dish(
            "8 slices bread; 6 large eggs; 600 ml whole milk; 200 g cheddar",
            "Layer the bread and cheese in a dish. Beat the eggs with the milk and pour over. Cover and chill overnight.",
            "Bake for 45 minutes, until puffed and 160 °F in the centre.",
        ),
        set(),
    ),
    (
        "niçoise",
        dish(
            "4 large eggs; 400 g small potatoes; 200 g green beans; 2 (120 g) cans tuna in olive oil; 1 egg yolk; 120 ml olive oil; 10 g Dijon mustard",
            "Simmer the potatoes for 15 minutes. Add the beans for the last 4 minutes. Drain.",
            "In another pan, boil the eggs for 9 minutes.",
            "Whisk the yolk with the mustard, then trickle in the oil.",
            "Arrange the potatoes, beans, tuna and quartered eggs on a plate and spoon over the dressing.",
        ),
        {"raw egg"},
    ),
    (
        "cod en papillote",
        dish(
            "4 cod fillets; 2 leeks; 40 g unsalted butter; 1 lemon",
            "Slice the leeks and soften in the butter. Divide among four sheets of parchment, top each with a fillet and a slice of lemon, and fold shut.",
            "Bake for 14 minutes.",
        ),
        set(),
    ),
    (
        "trifle",
        of_parts(
            part(
                "Custard",
                "4 egg yolks; 50 g granulated sugar; 15 g cornstarch; 400 ml whole milk",
                "Bring the milk to a simmer. Beat the yolks, sugar and cornstarch and whisk in the milk.",
                "Cook over medium heat, stirring, until it boils and thickens. Cool.",
            ),
            part(
                "Trifle",
                "200 g ladyfingers; 300 g raspberries; 60 ml sherry; 300 ml heavy cream",
                "Line a bowl with the ladyfingers, sprinkle with the sherry and scatter over the raspberries.",
                "Pour on the custard and chill. Whip the cream and spoon over.",
            ),
        ),
        set(),
    ),
    (
        "salmon burgers",
        dish(
            "500 g salmon fillet; 1 large egg; 40 g panko; 20 ml vegetable oil; 4 buns",
            "Chop the salmon, mix with the egg and panko and shape into 4 patties. Chill.",
            "Fry in the oil for 3 minutes on each side, until 145 °F inside. Serve in the buns.",
        ),
        set(),
    ),
    (
        "pan sauce with yolk",
        dish(
            "4 chicken breasts; 20 g unsalted butter; 200 ml heavy cream; 2 egg yolks",
            "Fry the chicken in the butter for 6 minutes on each side, until 165 °F. Lift out and keep warm.",
            "Add the cream to the pan and boil for 2 minutes. Off the heat, whisk in the yolks. Spoon over the chicken.",
        ),
        {"raw egg"},
    ),
    (
        "avgolemono",
        dish(
            "1 l chicken stock; 100 g rice; 3 large eggs; 60 ml lemon juice",
            "Simmer the rice in the stock for 15 minutes.",
            "Whisk the eggs with the juice. Beat in a ladleful of the hot stock, then stir the mixture back into the pot.",
            "Heat gently until it thickens; do not let it boil.",
        ),
        set(),
    ),
    (
        "spanish tortilla",
        dish(
            "6 large eggs; 600 g potatoes; 1 onion; 200 ml olive oil",
            "Cook the potatoes and onion gently in the oil for 25 minutes. Drain.",
            "Beat the eggs and stir in the potatoes.",
            "Tip back into the pan and cook for 6 minutes, turn and cook for 4 minutes more.",
        ),
        set(),
    ),
    (
        "beef wellington",
        dish(
            "1 kg beef tenderloin; 300 g white mushrooms; 500 g puff pastry; 1 large egg; 20 ml vegetable oil",
            "Sear the beef in the oil on all sides. Cool.",
            "Chop the mushrooms finely and cook until dry. Spread over the pastry, set the beef on it and wrap. Brush with the beaten egg.",
            "Bake at 200 °C for 35 minutes, until 125 °F in the middle.",
        ),
        {"raw or pink meat"},
    ),
    (
        "parfait freeze",
        dish(
            "4 large eggs; 150 g granulated sugar; 400 ml heavy cream",
            "Whisk the eggs and sugar over a pan of simmering water until thick and warm. Whisk until cold.",
            "Fold in the whipped cream and freeze.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "rum baba",
        of_parts(
            part(
                "Babas",
                "250 g bread flour; 3 large eggs; 80 g unsalted butter; 5 g instant yeast",
                "Beat the flour, eggs and yeast for 10 minutes. Work in the butter. Fill 8 moulds halfway and leave to rise for 1 hour.",
                "Bake for 18 minutes.",
            ),
            part(
                "Syrup",
                "300 g granulated sugar; 400 ml water; 100 ml rum",
                "Boil the sugar and water for 2 minutes. Add the rum. Soak the babas in it.",
            ),
        ),
        set(),
    ),
    (
        "sausage rolls",
        dish(
            "400 g pork sausage meat; 320 g puff pastry; 1 egg",
            "Roll out the pastry. Lay the sausage meat along it, brush the edge with egg and roll up. Brush with more egg, cut into 12 and bake for 25 minutes, until 160 °F inside.",
        ),
        set(),
    ),
    (
        "coleslaw with homemade mayo",
        of_parts(
            part(
                "Mayonnaise",
                "1 large egg; 200 ml sunflower oil; 10 ml lemon juice",
                "Blend the egg and juice, pouring in the oil.",
            ),
            part(
                "Slaw",
                "500 g cabbage; 2 carrots",
                "Shred the cabbage, grate the carrots and fold in the mayonnaise.",
            ),
        ),
        {"raw egg"},
    ),
    (
        "roast duck",
        dish(
            "1 whole duck (2 kg); 60 g honey",
            "Prick the duck and roast at 180 °C for 2 hours, until the thigh reads 165 °F. Brush with the honey for the last 10 minutes.",
        ),
        {"honey for infants"},
    ),
    (
        "vitello tonnato",
        dish(
            "800 g veal loin; 2 (150 g) cans tuna in oil; 2 egg yolks; 200 ml olive oil; 20 g capers",
            "Poach the veal in water for 50 minutes, until 145 °F. Cool in the broth.",
            "Blend the tuna with the yolks and the capers, pouring in the oil.",
            "Slice the veal and spread with the sauce.",
        ),
        {"raw egg"},
    ),
    (
        "stir-fry beef",
        dish(
            "400 g flank steak; 20 ml soy sauce; 10 g cornstarch; 200 g broccoli; 30 ml vegetable oil",
            "Slice the steak thinly and toss with the soy sauce and cornstarch.",
            "Heat the oil in a wok. Stir-fry the beef for 2 minutes and lift out. Stir-fry the broccoli for 3 minutes, return the beef and toss for 1 minute.",
        ),
        set(),
    ),
    (
        "gratin dauphinois",
        dish(
            "1 kg potatoes; 500 ml heavy cream; 1 clove garlic",
            "Slice the potatoes. Bring the cream to a simmer with the garlic. Layer the potatoes in a dish, pour over the cream and bake for 1 hour.",
        ),
        set(),
    ),
    (
        "prawn cocktail",
        dish(
            "300 g cooked peeled prawns; 100 g mayonnaise; 30 g ketchup",
            "Stir the mayonnaise with the ketchup and fold in the prawns.",
        ),
        set(),
    ),
    (
        "cookie",
        dish(
            "200 g all-purpose flour; 120 g unsalted butter; 100 g light brown sugar; 1 large egg; 150 g chocolate chips",
            "Brown the butter in a pan for 5 minutes and cool. Whisk in the sugar and the egg. Stir in the flour and the chips. Chill for 30 minutes.",
            "Scoop onto a sheet and bake for 11 minutes.",
        ),
        set(),
    ),
    (
        "edible raw cookie with baked variant note",
        dish(
            "200 g all-purpose flour; 120 g unsalted butter; 100 g light brown sugar",
            "Beat the butter and sugar, then stir in the flour. Press into a tin and chill until firm. Cut into squares.",
        ),
        {"raw flour eaten"},
    ),
    (
        "floating islands",
        dish(
            "4 large eggs; 120 g granulated sugar; 600 ml whole milk",
            "Separate the eggs. Whisk the whites with half the sugar until stiff.",
            "Bring the milk to a simmer. Poach spoonfuls of the meringue in it for 2 minutes on each side and lift out.",
            "Whisk the yolks with the rest of the sugar, pour on the hot milk, return to the pan and cook until it reads 82 °C. Chill and float the meringues on top.",
        ),
        set(),
    ),
    (
        "beet-cured salmon",
        dish(
            "800 g salmon fillet; 200 g beets; 60 g coarse sea salt; 60 g granulated sugar",
            "Grate the beets and mix with the salt and sugar. Cover the salmon with the mixture and chill for 36 hours.",
            "Scrape off the cure and slice thinly.",
        ),
        {"raw fish"},
    ),
    (
        "mushroom risotto w/ wild dried",
        dish(
            "300 g arborio rice; 20 g dried porcini; 1 l vegetable stock; 60 g Parmesan; 30 g unsalted butter",
            "Soak the porcini. Toast the rice in half the butter. Add the stock a ladle at a time for 18 minutes. Stir in the porcini, cheese and the rest of the butter.",
        ),
        set(),
    ),
    (
        "egg noodles soup w raw egg crack",
        dish(
            "1 l chicken stock; 200 g dried egg noodles; 2 large eggs",
            "Boil the noodles in the stock for 4 minutes. Ladle into two bowls and crack an egg into each.",
        ),
        {"raw egg"},
    ),
    (
        "cheese soufflé",
        dish(
            "4 large eggs; 40 g unsalted butter; 40 g all-purpose flour; 300 ml whole milk; 120 g Gruyère",
            "Melt the butter, stir in the flour and cook for 1 minute. Add the milk and boil until thick. Off the heat, beat in the cheese and the egg yolks.",
            "Whisk the whites to soft peaks and fold in. Pour into a dish and bake for 30 minutes.",
        ),
        set(),
    ),
    (
        "sabayon over fruit grilled",
        dish(
            "3 egg yolks; 60 g granulated sugar; 60 ml white wine; 300 g strawberries",
            "Whisk the yolks, sugar and wine over simmering water for 6 minutes, until it holds a trail.",
            "Spoon over the strawberries and brown under the grill for 1 minute.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "congee with raw fish",
        dish(
            "100 g rice; 1.2 l water; 200 g sea bass",
            "Simmer the rice in the water for 1 hour. Slice the fish paper-thin, lay it in bowls and ladle over the boiling porridge.",
        ),
        {"raw fish"},
    ),
    (
        "turkish eggs",
        dish(
            "300 g Greek yogurt; 4 large eggs; 50 g unsalted butter; 5 g Aleppo pepper",
            "Poach the eggs for 3 minutes. Melt the butter with the pepper. Spread the yogurt on plates, top with the eggs and pour over the butter.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "quail eggs boiled",
        dish(
            "12 quail eggs; 10 g celery salt",
            "Boil the quail eggs for 4 minutes, cool and peel. Serve with the salt.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "lamb kofta",
        dish(
            "500 g ground lamb; 1 onion; 10 g cumin; 200 g plain yogurt",
            "Grate the onion. Mix with the lamb and cumin, shape onto skewers and grill for 8 minutes, until 160 °F. Serve with the yogurt.",
        ),
        set(),
    ),
    (
        "potato salad bought mayo eggs",
        dish(
            "1 kg potatoes; 4 large eggs; 150 g mayonnaise",
            "Boil the potatoes with the eggs for 12 minutes. Cool, peel and chop the eggs. Fold everything together with the mayonnaise.",
        ),
        set(),
    ),
    (
        "banana bread",
        dish(
            "3 bananas; 2 large eggs; 100 ml vegetable oil; 200 g all-purpose flour; 120 g granulated sugar; 60 g walnuts",
            "Mash the bananas. Whisk in the eggs, oil and sugar. Fold in the flour and walnuts. Bake in a loaf tin for 55 minutes.",
        ),
        set(),
    ),
    (
        "tonnarelli lemon",
        dish(
            "400 g spaghetti; 2 egg yolks; 100 g Parmesan; 40 ml lemon juice",
            "Boil the spaghetti for 9 minutes. Whisk the yolks, cheese and juice in a large bowl. Drain the spaghetti, add to the bowl and toss.",
        ),
        {"raw egg"},
    ),
    (
        "korma",
        dish(
            "600 g boneless chicken thighs; 150 g plain yogurt; 2 onions; 50 g cashews; 30 g ghee; 200 ml water",
            "Marinate the chicken in the yogurt for 1 hour in the refrigerator.",
            "Fry the onions in the ghee for 15 minutes. Add the chicken with its marinade, the cashews and the water, and simmer for 25 minutes, until the chicken reads 165 °F.",
        ),
        set(),
    ),
    (
        "jam",
        dish(
            "1 kg strawberries; 800 g granulated sugar; 60 ml lemon juice",
            "Boil the strawberries, sugar and juice for 20 minutes, until 104 °C. Pour into jars and refrigerate.",
        ),
        set(),
    ),
    (
        "toffee apples",
        dish(
            "6 apples; 400 g granulated sugar; 100 ml water",
            "Boil the sugar and water until 150 °C. Dip the apples.",
        ),
        {"hot sugar"},
    ),
    (
        "reverse order: eggs mentioned in prep",
        dish(
            "3 large eggs, separated; 200 g dark chocolate; 60 g granulated sugar; 250 ml heavy cream",
            "Melt the chocolate over a pan of barely simmering water and let it cool to lukewarm.",
            "Stir the yolks into the chocolate. Whip the cream to soft peaks. Whip the whites with the sugar to a meringue.",
            "Fold the cream, then the meringue, into the chocolate. Chill for 4 hours.",
        ),
        {"raw egg"},
    ),
    (
        "long step single",
        dish(
            "4 large eggs; 150 g granulated sugar; 150 g cake flour; 30 g unsalted butter",
            "Whisk the eggs and sugar over simmering water until lukewarm, then off the heat until tripled in volume; sift over the flour, fold it in with the melted butter, turn into a tin and bake at 180 °C for 25 minutes.",
        ),
        set(),
    ),
    (
        "yorkshire / toad in hole",
        dish(
            "8 pork sausages; 3 large eggs; 140 g all-purpose flour; 300 ml whole milk; 30 ml vegetable oil",
            "Brown the sausages in the oil in a roasting tin in the oven for 10 minutes.",
            "Whisk the eggs, flour and milk and pour around the sausages. Return to the oven for 35 minutes, until risen and the sausages read 160 °F.",
        ),
        set(),
    ),
    (
        "steak salad w anchovy dressing",
        dish(
            "2 flank steaks; 4 anchovy fillets; 60 ml olive oil; 100 g arugula",
            "Grill the steaks for 4 minutes on each side, until 145 °F. Rest for 5 minutes and slice.",
            "Mash the anchovies into the oil and toss with the arugula. Lay the steak on top.",
        ),
        set(),
    ),
    (
        "oeufs en gelée soft",
        dish(
            "4 large eggs; 300 ml beef stock; 8 g powdered gelatine",
            "Boil the eggs for 5 minutes, chill and peel.",
            "Warm the stock, dissolve the gelatine in it and pour over the eggs in small molds.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "mac cheese",
        dish(
            "400 g macaroni; 50 g unsalted butter; 50 g all-purpose flour; 700 ml whole milk; 250 g cheddar; 1 egg yolk",
            "Boil the macaroni for 7 minutes.",
            "Cook the flour in the butter for 1 minute, add the milk and simmer until thick. Stir in the cheese and the yolk.",
            "Combine with the macaroni, tip into a dish and bake for 25 minutes.",
        ),
        set(),
    ),
    (
        "chicken liver skewers pink",
        dish(
            "500 g chicken livers; 20 ml olive oil",
            "Toss the livers in the oil, thread onto skewers and grill for 3 minutes, until seared outside and pink in the middle.",
        ),
        {"raw or pink meat"},
    ),
    (
        "halibut with raw garnish of scallop",
        dish(
            "4 halibut fillets; 4 sea scallops; 30 g unsalted butter; 20 ml lemon juice",
            "Fry the halibut in the butter for 4 minutes on each side, until it flakes.",
            "Slice the scallops thinly, dress with the juice and lay over the halibut.",
        ),
        {"raw shellfish"},
    ),
    (
        "egg in ramen soft and pork",
        dish(
            "4 large eggs; 500 g pork belly; 100 ml soy sauce; 1 l chicken stock; 300 g ramen noodles",
            "Simmer the pork in the stock and soy sauce for 2 hours.",
            "Boil the eggs for 6½ minutes, cool and peel. Steep in a little of the broth overnight in the refrigerator.",
            "Boil the noodles, divide among bowls with sliced pork and halved eggs, and ladle over the broth.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "key lime pie unbaked",
        dish(
            "200 g graham crackers; 90 g unsalted butter; 400 g sweetened condensed milk; 120 ml lime juice; 4 egg yolks",
            "Crush the crackers, mix with the melted butter, press into a tin and bake for 8 minutes. Cool.",
            "Whisk the yolks, milk and juice until thick, pour into the crust and chill for 6 hours.",
        ),
        {"raw egg"},
    ),
    (
        "key lime pie baked",
        dish(
            "200 g graham crackers; 90 g unsalted butter; 400 g sweetened condensed milk; 120 ml lime juice; 4 egg yolks",
            "Crush the crackers, mix with the melted butter, press into a tin and bake for 8 minutes. Cool.",
            "Whisk the yolks, milk and juice until thick, pour into the crust and bake for 15 minutes. Chill.",
        ),
        set(),
    ),
    (
        "buttercream swiss + cake",
        of_parts(
            part(
                "Cake",
                "200 g all-purpose flour; 3 large eggs; 200 g granulated sugar; 200 g unsalted butter",
                "Cream the butter and sugar, beat in the eggs, fold in the flour. Bake for 35 minutes. Cool.",
            ),
            part(
                "Buttercream",
                "4 egg whites; 200 g granulated sugar; 300 g unsalted butter",
                "Whisk the whites and sugar in a bowl over simmering water until 160 °F. Whisk until cold, then beat in the butter.",
                "Spread over the cake.",
            ),
        ),
        set(),
    ),
    (
        "buttercream raw + cake",
        of_parts(
            part(
                "Cake",
                "200 g all-purpose flour; 3 large eggs; 200 g granulated sugar; 200 g unsalted butter",
                "Cream the butter and sugar, beat in the eggs, fold in the flour. Bake for 35 minutes. Cool.",
            ),
            part(
                "Buttercream",
                "2 egg yolks; 150 g powdered sugar; 200 g unsalted butter",
                "Beat the butter and sugar, then the yolks. Spread over the cake.",
            ),
        ),
        {"raw egg"},
    ),
    (
        "cake after raw cream order swapped",
        of_parts(
            part(
                "Buttercream",
                "2 egg yolks; 150 g powdered sugar; 200 g unsalted butter",
                "Beat the butter and sugar, then the yolks. Chill.",
            ),
            part(
                "Cake",
                "200 g all-purpose flour; 3 large eggs; 200 g granulated sugar; 200 g unsalted butter",
                "Cream the butter and sugar, beat in the eggs, fold in the flour. Scrape into a tin and bake for 35 minutes. Cool.",
                "Spread with the buttercream.",
            ),
        ),
        {"raw egg"},
    ),
    (
        "sushi",
        dish(
            "300 g sushi rice; 60 ml rice vinegar; 200 g tuna steak; 4 nori sheets",
            "Cook the rice in 360 ml water for 15 minutes. Fold in the vinegar and cool.",
            "Spread over the nori, lay on strips of the tuna and roll up.",
        ),
        {"raw fish", "cooked rice kept"},
    ),
    (
        "chicken soup",
        dish(
            "1 whole chicken (1.6 kg); 2 carrots; 2 celery stalks; 200 g egg noodles",
            "Put the chicken in a pot with the vegetables, cover with water and bring to a boil. Simmer for 1 hour 15 minutes.",
            "Lift out the chicken, pull the meat from the bones and return it to the pot. Add the noodles and boil for 6 minutes.",
        ),
        {"meat picked from its bones"},
    ),
    (
        "fried rice from scratch",
        dish(
            "200 g basmati rice; 2 large eggs; 200 g cooked ham; 30 ml vegetable oil",
            "Boil the rice for 12 minutes, drain and cool. Fry the ham in the oil, push aside, add the eggs and scramble. Add the rice and fry for 4 minutes.",
            title="Ham rice",
        ),
        set(),
    ),
    (
        "ground beef raw in lettuce typo no cook",
        dish(
            "500 g ground beef; 1 lettuce; 30 ml soy sauce",
            "Mix the beef with the soy sauce and spoon into the lettuce leaves.",
        ),
        {"raw or pink meat"},
    ),
    (
        "egg wash + sprinkle after bake sugar",
        dish(
            "400 g bread flour; 5 g instant yeast; 200 ml whole milk; 1 large egg; 30 g pearl sugar",
            "Mix the flour, yeast and milk and knead for 8 minutes. Let rise for 1 hour.",
            "Shape into 8 rolls and let rise for 30 minutes. Brush with the beaten egg, scatter with the sugar and bake for 18 minutes.",
        ),
        set(),
    ),
    (
        "grilled oysters",
        dish(
            "24 oysters; 60 g unsalted butter; 2 cloves garlic",
            "Melt the butter with the garlic. Open the oysters, spoon over the butter and grill for 5 minutes, until bubbling and the edges curl.",
        ),
        set(),
    ),
)
