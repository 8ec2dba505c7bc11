"""Dishes with the hazards that each holds, all of them: guidance of the table's sources, and near misses. Invented."""
# ruff: noqa: E501, a table reads best with a dish a line

from __future__ import annotations

from cardsmith.recipe.model import Recipe
from tests.facts.bench_of_facts import dish, of_parts, part

Case = tuple[str, Recipe, set[str]]

CASES: tuple[Case, ...] = (
    # eggs
    (
        "mayonnaise beside boiled potatoes",
        dish(
            "2 egg yolks; 200 g sunflower oil; 1 kg potatoes",
            "Whisk the egg yolks with the oil.",
            "Boil the potatoes for 20 minutes.",
            "Serve with the mayonnaise.",
        ),
        {"raw egg"},
    ),
    (
        "mayonnaise of pasteurised yolks",
        dish(
            "2 pasteurized egg yolks; 200 g sunflower oil; 1 kg potatoes",
            "Whisk the egg yolks with the oil.",
            "Boil the potatoes for 20 minutes.",
            "Serve with the mayonnaise.",
        ),
        set(),
    ),
    (
        "mayonnaise from a carton",
        dish("60 g pasteurised liquid whole egg; 200 g sunflower oil", "Blend the egg with the oil."),
        set(),
    ),
    (
        "bought mayonnaise",
        dish("100 g mayonnaise; 1 lemon", "Stir the zest of the lemon into the mayonnaise."),
        set(),
    ),
    (
        "boiled eggs under mayonnaise",
        dish(
            "6 large eggs; 100 g mayonnaise",
            "Boil the eggs for 10 minutes. Peel and halve. Mash the yolks with the mayonnaise and spoon back into the whites.",
        ),
        set(),
    ),
    (
        "soft-boiled eggs",
        dish(
            "4 large eggs; 4 slices rye bread",
            "Lower the eggs into boiling water and cook for 6 minutes. Serve with the bread.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "poached eggs",
        dish(
            "4 large eggs; 10 ml white vinegar",
            "Bring a pan of water to a simmer and add the vinegar. Poach the eggs for 3 minutes.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "scrambled eggs",
        dish(
            "6 large eggs; 20 g unsalted butter",
            "Melt the butter. Scramble the eggs over low heat until set.",
        ),
        set(),
    ),
    (
        "tiramisu",
        dish(
            "3 large eggs, separated; 250 g mascarpone; 200 g ladyfingers; 200 ml espresso",
            "Beat the egg yolks with the mascarpone. Whisk the whites and fold them in.",
            "Layer with the ladyfingers, dipped in the coffee. Chill for 4 hours.",
        ),
        {"raw egg"},
    ),
    (
        "custard with whites folded in raw",
        dish(
            "3 large eggs; 300 g whole milk; 60 g granulated sugar",
            "Separate the eggs. Whisk the yolks, sugar and milk in a pan and cook over low heat until it reads 82 °C. Cool.",
            "Whisk the whites to soft peaks and fold them into the custard. Chill.",
        ),
        {"raw egg"},
    ),
    (
        "crème anglaise",
        dish(
            "5 egg yolks; 500 g whole milk; 80 g granulated sugar",
            "Bring the milk to a simmer. Whisk the yolks with the sugar, pour in the hot milk and return everything to the pan.",
            "Stir over low heat until it thickens and reads 180 °F. Strain and chill.",
        ),
        set(),
    ),
    (
        "quiche",
        of_parts(
            part(
                "Pastry",
                "200 g all-purpose flour; 100 g unsalted butter; 1 egg yolk",
                "Rub the butter into the flour. Bind with the yolk. Chill, roll out and line a tin.",
            ),
            part(
                "Filling",
                "3 large eggs; 300 g heavy cream; 150 g bacon",
                "Fry the bacon until crisp. Whisk the eggs and cream.",
                "Scatter the bacon over the base, pour in the custard and bake for 35 minutes, until set.",
            ),
        ),
        set(),
    ),
    (
        "egg in the pie's glaze alone",
        dish(
            "500 g puff pastry; 400 g ground beef; 1 egg, beaten",
            "Fry the beef for 10 minutes. Cool.",
            "Fill the pastry with the beef, brush with egg and bake for 30 minutes.",
        ),
        set(),
    ),
    (
        "royal icing",
        of_parts(
            part(
                "Biscuits",
                "300 g all-purpose flour; 150 g unsalted butter; 1 large egg",
                "Beat the butter and egg, then the flour. Roll out, cut and bake for 12 minutes. Cool.",
            ),
            part(
                "Icing",
                "2 egg whites; 400 g powdered sugar",
                "Whisk the whites and sugar until stiff. Pipe over the biscuits.",
            ),
        ),
        {"raw egg"},
    ),
    (
        "Italian meringue",
        dish(
            "4 egg whites; 240 g granulated sugar; 60 g water",
            "Heat the sugar and water until the syrup reads 118 °C.",
            "Whisk the whites to soft peaks, then pour in the syrup in a thin stream, whisking.",
        ),
        {"hot sugar"},
    ),
    (
        "hollandaise",
        dish(
            "3 egg yolks; 200 g unsalted butter; 15 g lemon juice",
            "Melt the butter. Whisk the yolks and juice in a bowl over simmering water until thick. Whisk in the butter.",
        ),
        {"lightly cooked egg"},
    ),
    (
        "egg on a hot bowl of rice",
        dish(
            "300 g short-grain white rice; 2 egg yolks; 30 ml soy sauce",
            "Simmer the rice in 400 ml water for 15 minutes.",
            "Spoon into bowls, top each with a yolk and sprinkle with the soy sauce.",
        ),
        {"raw egg"},
    ),
    (
        "pancakes with a raw-egg cream",
        of_parts(
            part(
                "Pancakes",
                "2 large eggs; 200 g all-purpose flour; 300 ml whole milk; 30 g unsalted butter",
                "Whisk the eggs, flour and milk. Fry ladlefuls in the butter for 2 minutes a side.",
            ),
            part(
                "Cream",
                "1 egg yolk; 50 g powdered sugar; 200 g heavy cream",
                "Whisk the yolk and sugar. Fold into the whipped cream. Spoon over the pancakes.",
            ),
        ),
        {"raw egg"},
    ),
    (
        "fritters fried after their dip was made",
        dish(
            "2 large eggs; 150 g all-purpose flour; 300 g corn; 1 egg yolk; 100 g olive oil; 200 ml vegetable oil",
            "Mix the eggs, flour and corn to a batter.",
            "For the sauce, whisk the egg yolk with the olive oil.",
            "Heat the vegetable oil in a pan and fry spoonfuls of the batter for 3 minutes on each side.",
            "Serve the fritters with the sauce.",
        ),
        {"raw egg"},
    ),
    (
        "ice cream uncooked",
        dish(
            "4 egg yolks; 400 g heavy cream; 100 g granulated sugar",
            "Beat the yolks and sugar until pale. Fold in the whipped cream. Freeze for 6 hours.",
        ),
        {"raw egg"},
    ),
    (
        "egg-drop soup",
        dish(
            "1 l chicken stock; 3 large eggs; 2 scallions",
            "Bring the stock to a boil. Stir in the beaten eggs and simmer for 1 minute, until set. Scatter with the scallions.",
        ),
        set(),
    ),
    (
        "carbonara",
        dish(
            "400 g spaghetti; 3 large eggs; 100 g pecorino Romano; 150 g guanciale",
            "Boil the spaghetti for 9 minutes. Fry the guanciale until crisp.",
            "Off the heat, toss the drained spaghetti with the guanciale, eggs and cheese.",
        ),
        {"raw egg"},
    ),
    # fish and shellfish
    (
        "raw tuna on toast",
        dish(
            "300 g tuna steak; 4 slices sourdough bread", "Toast the bread. Slice the tuna and lay it over."
        ),
        {"raw fish"},
    ),
    (
        "ceviche without its name",
        dish(
            "500 g sea bass; 150 ml lime juice; 1 red onion",
            "Dice the fish, cover with the juice and leave for 30 minutes. Scatter with the onion.",
        ),
        {"raw fish"},
    ),
    (
        "cured salmon without its name",
        dish(
            "1 kg salmon fillet; 50 g fine salt; 50 g granulated sugar; 20 g dill",
            "Rub the salmon with the salt, sugar and dill. Wrap and refrigerate for 2 days.",
            "Wipe and slice thinly.",
        ),
        {"raw fish"},
    ),
    (
        "tuna seared",
        dish(
            "400 g tuna steak; 10 ml vegetable oil",
            "Heat the oil. Sear the tuna for 45 seconds on each side. Slice.",
        ),
        {"raw fish"},
    ),
    (
        "canned tuna",
        dish(
            "2 (150 g) cans tuna in olive oil; 100 g mayonnaise", "Flake the tuna and stir in the mayonnaise."
        ),
        set(),
    ),
    (
        "smoked salmon",
        dish("200 g smoked salmon; 100 g cream cheese", "Lay the salmon over the cheese."),
        set(),
    ),
    (
        "a fish the larder lacks",
        dish("400 g fresh kingfish; 60 ml lemon juice", "Slice the kingfish and dress with the juice."),
        {"raw fish"},
    ),
    (
        "baked fish",
        dish(
            "4 cod fillets; 30 ml olive oil; 1 lemon",
            "Heat the oven to 200 °C. Lay the cod in a dish, spoon over the oil and bake for 12 minutes, until it flakes.",
            "Squeeze over the lemon.",
        ),
        set(),
    ),
    (
        "fish poached in stock",
        dish(
            "600 g haddock; 500 ml fish stock; 200 g potatoes",
            "Simmer the potatoes in the stock for 15 minutes. Lay the haddock on top, cover and cook for 6 minutes, until opaque.",
        ),
        set(),
    ),
    (
        "fish stew",
        dish(
            "600 g cod; 800 g canned diced tomatoes; 1 onion; 20 ml olive oil",
            "Fry the onion in the oil. Add the tomatoes and simmer for 20 minutes. Slip in the cod and leave for 5 minutes, until it flakes.",
        ),
        set(),
    ),
    (
        "oysters",
        dish(
            "12 oysters; 1 shallot; 50 ml red wine vinegar",
            "Open the oysters. Mix the shallot and vinegar and spoon over.",
        ),
        {"raw shellfish"},
    ),
    (
        "mussels steamed",
        dish(
            "1 kg mussels; 200 ml dry white wine",
            "Boil the wine. Add the mussels, cover and steam for 4 minutes, until they open.",
        ),
        set(),
    ),
    (
        "cooked shrimp",
        dish("300 g cooked shrimp; 100 g mayonnaise", "Stir the shrimp into the mayonnaise."),
        set(),
    ),
    (
        "scallops seared",
        dish(
            "12 sea scallops; 20 g unsalted butter",
            "Sear the scallops in the butter for 2 minutes on each side, until opaque.",
        ),
        set(),
    ),
    # meat
    (
        "tartare",
        dish(
            "400 g beef tenderloin; 1 egg yolk; 1 shallot",
            "Chop the beef finely. Mix with the shallot and top with the yolk.",
        ),
        {"raw or pink meat", "raw egg"},
    ),
    (
        "steak at 130 °F",
        dish(
            "2 strip steaks; 20 g unsalted butter",
            "Fry the steaks in the butter for 6 minutes, until 130 °F in the middle. Rest for 5 minutes.",
        ),
        {"raw or pink meat"},
    ),
    (
        "steak at 145 °F",
        dish(
            "2 strip steaks; 20 g unsalted butter",
            "Fry the steaks in the butter for 8 minutes, until 145 °F in the middle. Rest for 3 minutes.",
        ),
        set(),
    ),
    (
        "duck breast pink",
        dish(
            "2 duck breasts; 5 g fine salt",
            "Fry the duck skin side down for 10 minutes, turn and cook until it reads 130 °F. Rest.",
        ),
        {"raw or pink meat"},
    ),
    (
        "stew",
        dish(
            "1 kg beef chuck; 2 carrots; 500 ml red wine",
            "Brown the beef. Add the carrots and wine and simmer for 3 hours.",
        ),
        set(),
    ),
    (
        "pork loin chops by their noun",
        dish(
            "4 pork loin chops; 20 ml olive oil",
            "Fry the chops in the oil until they read 145 °F inside. Rest for 3 minutes.",
        ),
        set(),
    ),
    ("ham and melon", dish("100 g prosciutto; 1 melon", "Drape the ham over the melon."), set()),
    (
        "marinade served raw",
        dish(
            "600 g chicken thighs; 100 ml soy sauce; 60 ml lime juice",
            "Mix the soy sauce and juice and marinate the chicken in it for 2 hours in the refrigerator.",
            "Grill the chicken for 20 minutes, until it reads 165 °F.",
            "Serve with the remaining marinade.",
        ),
        {"used marinade"},
    ),
    (
        "another portion of it, poured off before the meat went in",
        dish(
            "600 g chicken thighs; 100 ml soy sauce; 60 ml lime juice",
            "Stir the soy sauce and juice together. Pour 60 ml of this into a clean jar and refrigerate for serving.",
            "Toss the chicken in the rest of the marinade and refrigerate for 2 hours. Discard the marinade left in the bowl.",
            "Grill the chicken for 20 minutes, until it reads 165 °F.",
            "Spoon the marinade from the jar over the chicken and serve.",
        ),
        set(),
    ),
    (
        "what the meat roasts in is no sauce",
        dish(
            "2 kg lamb shoulder; 250 g plain yogurt; 10 g fine salt",
            "Rub the yogurt and salt over the lamb and leave in the fridge overnight.",
            "Set the lamb in a tin with its marinade. Cover tightly with foil and roast 4 hours, until 195 °F inside.",
        ),
        set(),
    ),
    (
        "marinade boiled",
        dish(
            "600 g chicken thighs; 100 ml soy sauce; 60 ml lime juice",
            "Mix the soy sauce and juice and marinate the chicken in it for 2 hours in the refrigerator.",
            "Grill the chicken for 20 minutes, until it reads 165 °F.",
            "Boil the marinade for 5 minutes and serve it with the chicken.",
        ),
        set(),
    ),
    (
        "marinade kept aside",
        dish(
            "600 g chicken thighs; 100 ml soy sauce; 60 ml lime juice",
            "Mix the soy sauce and juice. Set aside half of it for serving. Marinate the chicken in the rest for 2 hours in the refrigerator.",
            "Grill the chicken for 20 minutes, until it reads 165 °F. Serve with the reserved marinade.",
        ),
        set(),
    ),
    (
        "jerky",
        dish(
            "1 kg beef top round; 100 ml soy sauce",
            "Slice the beef thinly and marinate in the soy sauce. Dry in a dehydrator at 60 °C for 6 hours.",
        ),
        {"jerky"},
    ),
    (
        "drying without the word",
        dish(
            "1 kg beef top round; 100 ml soy sauce",
            "Slice the beef thinly and toss with the soy sauce. Dry on racks at 60 °C for 6 hours, until leathery.",
        ),
        {"meat dried slowly"},
    ),
    # flour, milk, plants
    (
        "roux",
        dish(
            "40 g all-purpose flour; 40 g unsalted butter; 500 ml whole milk",
            "Melt the butter, stir in the flour and cook for 2 minutes. Whisk in the milk and simmer for 5 minutes.",
        ),
        set(),
    ),
    (
        "cookie dough to eat",
        dish(
            "150 g all-purpose flour; 100 g unsalted butter; 80 g light brown sugar",
            "Beat the butter and sugar. Stir in the flour. Chill and eat with a spoon.",
        ),
        {"raw flour eaten"},
    ),
    (
        "flour toasted for dough to eat",
        dish(
            "150 g all-purpose flour; 100 g unsalted butter; 80 g light brown sugar",
            "Toast the flour in a dry pan for 5 minutes. Cool.",
            "Beat the butter and sugar. Stir in the flour and chill.",
        ),
        {"raw flour"},
    ),
    (
        "heat-treated flour",
        dish(
            "150 g heat-treated flour; 100 g unsalted butter", "Beat the butter. Stir in the flour and chill."
        ),
        set(),
    ),
    (
        "flour for the board",
        dish(
            "300 g marzipan; 30 g all-purpose flour, for dusting",
            "Dust the board with the flour and roll out the marzipan.",
        ),
        set(),
    ),
    (
        "flour in a crumble",
        dish(
            "200 g all-purpose flour; 100 g unsalted butter; 600 g apples",
            "Slice the apples into a dish. Rub the butter into the flour, scatter over and bake for 40 minutes.",
        ),
        set(),
    ),
    (
        "honey in a baked cake for children over one",
        dish(
            "200 g all-purpose flour; 60 g honey; 2 large eggs; 100 g unsalted butter",
            "Beat everything and bake for 30 minutes.",
            headnote="For children over one.",
        ),
        {"honey for infants"},
    ),
    (
        "honey in food for babies",
        dish(
            "200 g rolled oats; 60 g honey; 200 ml whole milk",
            "Simmer everything for 10 minutes.",
            title="Porridge for babies",
        ),
        {"honey in food for babies"},
    ),
    (
        "whole grapes for babies",
        dish(
            "200 g grapes; 100 g plain yogurt",
            "Stir the grapes into the yogurt.",
            headnote="A first lunch for babies.",
        ),
        {"nuts or whole grapes for babies"},
    ),
    (
        "baby carrots are no babies",
        dish("500 g baby carrots; 10 g fine salt", "Boil the carrots for 10 minutes with the salt."),
        set(),
    ),
    (
        "raw sprouts",
        dish("100 g mung bean sprouts; 1 cucumber", "Slice the cucumber and toss with the sprouts."),
        {"raw sprouts"},
    ),
    (
        "sprouts fried",
        dish("200 g bean sprouts; 20 ml vegetable oil", "Stir-fry the sprouts in the oil for 2 minutes."),
        set(),
    ),
    (
        "beans simmered",
        dish("250 g dried kidney beans; 1 l water", "Simmer the beans in the water for 2 hours."),
        {"kidney bean toxin"},
    ),
    (
        "beans boiled hard",
        dish(
            "250 g dried kidney beans; 1 l water",
            "Soak the beans overnight and drain. Boil hard in the fresh water for 30 minutes, then simmer for 1 hour.",
        ),
        set(),
    ),
    (
        "beans boiled, and something else",
        dish(
            "250 g dried kidney beans; 1 l water; 200 g potatoes",
            "Boil the potatoes for 20 minutes.",
            "Simmer the beans in the water for 2 hours.",
        ),
        {"kidney bean toxin"},
    ),
    ("canned beans", dish("2 (400 g) cans kidney beans; 1 onion", "Warm the beans with the onion."), set()),
    (
        "potatoes eaten in their skins",
        dish(
            "1 kg small potatoes, skin on; 30 g butter", "Boil the potatoes for 20 minutes, and butter them."
        ),
        {"green potato"},
    ),
    (
        "peeled potatoes beside fish with its skin on",
        dish(
            "1 kg potatoes, peeled; 500 g haddock, skin on",
            "Boil the potatoes with the haddock until it flakes.",
        ),
        set(),
    ),
    (
        "wild mushrooms",
        dish("300 g wild mushrooms; 30 g unsalted butter", "Fry the mushrooms in the butter for 8 minutes."),
        {"wild mushrooms"},
    ),
    (
        "bought mushrooms",
        dish(
            "300 g cremini mushrooms; 30 g unsalted butter", "Fry the mushrooms in the butter for 8 minutes."
        ),
        set(),
    ),
    (
        "dried wild mushrooms",
        dish(
            "20 g dried wild mushrooms; 300 g arborio rice; 1 l chicken stock",
            "Soak the mushrooms. Simmer the rice in the stock with the mushrooms for 18 minutes.",
        ),
        set(),
    ),
    (
        "raw milk",
        dish("1 l raw milk; 20 ml lemon juice", "Warm the milk, stir in the juice and strain."),
        {"raw milk"},
    ),
    (
        "pickles for the refrigerator",
        dish(
            "500 g cucumbers; 200 ml distilled white vinegar, 5 % acidity; 10 g pickling salt",
            "Boil the vinegar and salt and pour over the cucumbers. Refrigerate.",
            title="Cucumber pickles",
        ),
        set(),
    ),
    (
        "pickles without their strength",
        dish(
            "500 g cucumbers; 200 ml distilled white vinegar; 10 g pickling salt",
            "Boil the vinegar and salt and pour over the cucumbers. Cool.",
            title="Cucumber pickles",
        ),
        {"quick pickles"},
    ),
    (
        "garlic kept in oil",
        dish(
            "300 ml olive oil; 10 cloves garlic",
            "Warm the garlic in the oil for 30 minutes.",
            title="Garlic in oil",
        ),
        {"garlic or herbs in oil"},
    ),
    (
        "herbs under oil without the word in the title",
        dish(
            "100 g basil; 300 ml olive oil",
            "Pack the basil into a jar and pour in oil to cover.",
            title="Basil for the winter",
        ),
        {"low-acid food under oil"},
    ),
    # heat, pressure, sugar, fire
    (
        "sugar boiled and deep fat in one dish",
        dish(
            "400 g granulated sugar; 60 ml water; 1 l vegetable oil; 300 g all-purpose flour; 2 large eggs; 60 g honey",
            "Mix the flour and eggs to a dough, roll it into balls.",
            "Heat the oil to 180 °C and fry the balls for 3 minutes, until golden. Drain.",
            "Boil the sugar, honey and water until the syrup reads 150 °C and pour over the balls.",
        ),
        {"honey for infants", "deep frying", "hot sugar"},
    ),
    (
        "flame the rum",
        dish(
            "60 ml dark rum; 4 bananas; 30 g unsalted butter",
            "Fry the bananas in the butter for 3 minutes.",
            "Pour over the rum and flame the rum.",
        ),
        {"flaming spirits"},
    ),
    (
        "set it alight",
        dish(
            "60 ml dark rum; 4 bananas; 30 g unsalted butter",
            "Fry the bananas in the butter for 3 minutes.",
            "Add the rum and set it alight.",
        ),
        {"flaming spirits"},
    ),
    (
        "rum simmered",
        dish(
            "60 ml dark rum; 4 bananas; 30 g unsalted butter",
            "Fry the bananas in the butter for 3 minutes. Add the rum and simmer over a low flame for 2 minutes.",
        ),
        set(),
    ),
    (
        "frozen food into hot fat",
        dish(
            "500 g frozen fish fillets; 1 l vegetable oil; 100 g all-purpose flour",
            "Coat the fish with the flour. Heat the oil to 180 °C and fry for 6 minutes, until opaque.",
        ),
        {"deep frying", "frozen food into hot fat"},
    ),
    (
        "thawed first",
        dish(
            "500 g frozen fish fillets; 1 l vegetable oil; 100 g all-purpose flour",
            "Thaw the fish in the refrigerator and pat it dry. Coat it with the flour. Heat the oil to 180 °C and fry for 6 minutes, until opaque.",
        ),
        {"deep frying"},
    ),
    (
        "shallow frying",
        dish("4 potatoes; 30 ml vegetable oil", "Fry the potatoes in the oil for 15 minutes."),
        set(),
    ),
    (
        "a doneness of fried chicken is not its fat's",
        dish(
            "8 chicken thighs; 1 l peanut oil; 200 g all-purpose flour",
            "Coat the chicken with the flour.",
            "Heat the oil to 350 °F and fry the chicken until a thermometer in the middle reads 165 °F.",
        ),
        {"deep frying"},
    ),
    (
        "caramel",
        dish(
            "200 g granulated sugar; 100 ml heavy cream",
            "Melt the sugar over medium heat until it is dark amber. Stir in the cream.",
        ),
        {"hot sugar"},
    ),
    (
        "onions caramelized",
        dish(
            "500 g onions; 10 g granulated sugar; 20 g unsalted butter",
            "Cook the onions and sugar in the butter for 40 minutes, until caramelized.",
        ),
        set(),
    ),
    (
        "pressure cooker",
        dish(
            "250 g chickpeas; 1 l water",
            "Cook the chickpeas in the water in a pressure cooker for 30 minutes.",
        ),
        {"pressure cooking"},
    ),
    (
        "siphon",
        dish(
            "300 ml heavy cream; 20 g powdered sugar",
            "Pour the cream and sugar into a siphon and charge it with one cartridge.",
        ),
        {"siphon"},
    ),
    (
        "dry ice",
        dish(
            "500 ml orange juice; 50 g granulated sugar",
            "Stir the sugar into the juice and drop in a piece of dry ice.",
        ),
        {"dry ice in food or a closed vessel"},
    ),
    (
        "no dry ice",
        dish(
            "500 ml orange juice; 50 g granulated sugar", "Stir the sugar into the juice. Do not use dry ice."
        ),
        set(),
    ),
    (
        "never raw",
        dish(
            "500 g salmon fillet; 10 g fine salt",
            "Season the salmon with the salt and bake for 15 minutes.",
            headnote="Good hot, never as sashimi.",
        ),
        set(),
    ),
    (
        "elderberries",
        dish(
            "500 g elderberries; 200 g granulated sugar",
            "Simmer the elderberries with the sugar for 20 minutes.",
        ),
        {"elderberries"},
    ),
    (
        "a bath",
        dish(
            "4 chicken breasts; 5 g fine salt",
            "Season the chicken with the salt, seal in a bag and cook in a water bath at 65 °C for 2 hours.",
        ),
        {"sous vide"},
    ),
    (
        "slow cooker",
        dish(
            "1 kg boneless pork shoulder; 200 ml chicken stock",
            "Cook the pork in the stock in a slow cooker on low for 8 hours.",
        ),
        {"slow cooker from frozen"},
    ),
    (
        "bones",
        dish(
            "4 whole sea bream, on the bone; 20 ml olive oil",
            "Brush the bream with the oil and roast for 20 minutes, until it flakes.",
        ),
        {"fish bones"},
    ),
    (
        "rum tilted to the flame",
        dish(
            "500 g pineapple; 60 g butter; 60 ml rum",
            "Fry the pineapple in the butter for 4 minutes. Add the rum, tilt the pan to the flame and let it burn off.",
        ),
        {"flaming spirits"},
    ),
    (
        "bread soaked in egg and fried",
        dish(
            "4 slices bread; 2 large eggs; 100 ml whole milk",
            "Beat the eggs with the milk. Soak the bread and fry for 3 minutes on each side, until golden.",
        ),
        set(),
    ),
    (
        "dough offered off the spoon",
        dish(
            "250 g plain flour; 150 g unsalted butter; 120 g caster sugar",
            "Rub the butter into the flour and stir in the sugar. Let everyone eat a little dough off the spoon. Bake for 20 minutes.",
        ),
        {"raw dough eaten"},
    ),
    (
        "soup from the boil into a blender",
        dish(
            "1.4 kg tomatoes; 480 ml chicken stock",
            "Simmer the tomatoes in the stock for 20 minutes, until soft.",
            "While it boils, fill the blender with it to the top, clamp the lid on tight and blend.",
        ),
        {"boiling liquid in a blender"},
    ),
    (
        "soup that cools before the blender",
        dish(
            "1.4 kg tomatoes; 480 ml chicken stock",
            "Simmer the tomatoes in the stock for 20 minutes, until soft. Cool for 20 minutes.",
            "Blend in a blender until smooth.",
        ),
        set(),
    ),
    (
        "soup and a stick blender",
        dish("1.4 kg tomatoes", "Simmer the tomatoes for 20 minutes. Purée with a stick blender."),
        set(),
    ),
    (
        "glass dish from the freezer to the oven",
        dish(
            "900 g peaches; 100 g granulated sugar",
            "Toss the peaches with the sugar in a glass baking dish. Wrap and freeze until solid.",
            "Set the dish, still frozen, in the oven and bake for 70 minutes, until bubbling.",
        ),
        {"glass from cold to heat"},
    ),
    (
        "glass dish thawed first",
        dish(
            "900 g peaches; 100 g granulated sugar",
            "Toss the peaches with the sugar in a glass baking dish. Wrap and freeze until solid.",
            "Thaw overnight in the refrigerator, then bake for 45 minutes, until bubbling.",
        ),
        set(),
    ),
    (
        "ginger beer shut in glass",
        dish(
            "2 l water; 200 g granulated sugar; 1 tsp instant yeast",
            "Stir everything together and pour into glass bottles.",
            "Screw the caps down tight. Leave at room temperature for 48 hours, until lively.",
        ),
        {"ferment sealed in glass"},
    ),
    (
        "kombucha under a cloth, then shut in glass",
        dish(
            "1 l brewed black tea; 100 g granulated sugar; 1 kombucha scoby; 100 ml kombucha starter liquid",
            "Stir the sugar into the tea, add the scoby and starter, cover with a cloth and leave for 7 days.",
            "Strain into glass bottles and seal them tight. Leave on the counter for 4 days, until fizzy.",
        ),
        {"ferment sealed in glass"},
    ),
    (
        "ginger beer let out daily",
        dish(
            "2 l water; 200 g granulated sugar; 1 tsp instant yeast",
            "Stir everything together and pour into glass bottles.",
            "Screw the caps down tight. Leave at room temperature for 48 hours, opening them every 12 hours.",
        ),
        set(),
    ),
    (
        "pressure cooker filled to an inch below its rim",
        dish(
            "400 g dried chickpeas; 1.5 l water",
            "Put the chickpeas and water in a pressure cooker, filled to an inch below the rim. Cook at high pressure for 15 minutes.",
        ),
        {"pressure cooker filled or opened unsafely", "pressure cooking"},
    ),
)
