"""Sound dishes as cooks write them: nothing about heat, raw food or handling is asked of any. Invented."""
# ruff: noqa: E501, a table reads best with a dish a line

from __future__ import annotations

import pytest

from cardsmith.check.run import judge
from cardsmith.finding import Severity
from cardsmith.measure.larder import load_larder
from tests.check.bench import house
from tests.check.safety_cases import dish

# fmt: off
DISHES = (
    ("coq","1 chicken (1.6 kg), jointed; 150 g lardons; 750 ml red wine; 250 g mushrooms","Brown the chicken in batches and set aside on a plate. Fry the lardons for 5 minutes, until crisp. Return the chicken to the pot with the wine, cover and simmer for 50 minutes, until tender. Add the mushrooms and simmer for 15 minutes, until soft."),
    ("chili con carne","500 g minced beef; 1 onion; 400 g canned tomatoes; 400 g canned kidney beans","Brown the mince for 8 minutes, breaking it up. Add the onion and fry 5 minutes, until soft. Add the tomatoes and beans and simmer for 40 minutes, until thick."),
    ("meatballs sauce","500 g ground beef; 50 g breadcrumbs; 1 large egg; 700 ml passata","Mix the beef, breadcrumbs and egg and roll into 24 balls. Brown in a pan for 6 minutes. Pour in the passata and simmer for 25 minutes, until cooked through."),
    ("shepherds pie","500 g lamb mince; 800 g potatoes; 300 ml lamb stock","Fry the mince for 10 minutes, until browned. Add the stock and simmer for 30 minutes. Boil and mash the potatoes, spread over and bake at 200 °C for 25 minutes, until golden and bubbling."),
    ("pan steak","2 ribeye steaks (600 g); 20 g butter","Sear the steaks in a smoking pan for 2 to 3 minutes a side for medium-rare, 54 °C inside. Baste with the butter. Rest for 5 minutes."),
    ("stir fry","400 g chicken breast, thinly sliced; 200 g broccoli; 30 ml soy sauce; 20 ml oil","Heat the oil in a wok until smoking. Stir-fry the chicken for 4 minutes, until cooked through with no pink. Add the broccoli and soy sauce and fry for 3 minutes."),
    ("schnitzel","4 pork escalopes (500 g); 80 g flour; 2 large eggs; 120 g breadcrumbs; 200 ml oil","Pound the pork to 5 mm. Dust with flour, dip in the beaten eggs, then the crumbs. Lay them on a tray. Fry in the oil for 2 to 3 minutes on each side, until golden brown. Drain on a clean rack."),
    ("fried fish","600 g haddock fillets; 150 g flour; 200 ml beer; 1 l sunflower oil","Whisk the flour and beer. Heat the oil to 180 °C. Dip the fish in the batter and fry for 6 minutes, until crisp and golden and the flesh flakes."),
    ("salmon pan","4 salmon fillets (600 g), skin on; 15 ml oil","Season the salmon. Cook skin side down in the oil for 6 minutes, until the flesh is opaque two-thirds of the way up. Turn and cook for 1 minute, until just translucent in the middle."),
    ("moules","1.5 kg mussels; 200 ml white wine; 2 shallots","Boil the wine and shallots for 2 minutes. Add the mussels, cover and cook for 4 minutes, until they open. Discard any that stay shut."),
    ("paella","400 g chicken thighs; 300 g paella rice; 200 g prawns; 1 l chicken stock","Brown the chicken for 8 minutes. Add the rice and stock and cook for 18 minutes. Lay the prawns on top for 4 minutes, until pink."),
    ("roast pork","2 kg pork shoulder; 15 g salt","Roast at 230 °C for 30 minutes, then at 150 °C for 4 hours, until it pulls apart. Rest for 20 minutes."),
    ("ribs","1.5 kg baby back ribs; 150 g barbecue sauce","Wrap the ribs in foil and bake at 150 °C for 2 hours 30 minutes, until tender. Brush with the sauce and grill for 5 minutes, until sticky."),
    ("quiche","250 g shortcrust pastry; 3 large eggs; 250 ml cream; 150 g bacon","Line a tin with the pastry and bake blind for 20 minutes. Fry the bacon until crisp. Whisk the eggs and cream, pour over and bake for 30 minutes, until just set with a slight wobble in the centre."),
    ("creme brulee","500 ml cream; 6 egg yolks; 80 g sugar","Heat the cream until steaming. Whisk the yolks and sugar, and pour in the cream. Bake in a water bath at 150 °C for 35 minutes, until set with a wobble. Chill 4 hours. Scatter with sugar and torch."),
    ("creme pat","500 ml milk; 4 egg yolks; 100 g sugar; 40 g cornflour","Heat the milk. Whisk the yolks, sugar and cornflour, pour on the milk, return to the pan and boil for 1 minute, whisking, until thick."),
    ("lemon curd","3 large eggs; 150 g sugar; 100 ml lemon juice; 80 g butter","Whisk everything in a bowl over simmering water for 10 minutes, until it coats a spoon and reads 76 °C."),
    ("bread pudding","6 slices bread; 3 large eggs; 500 ml milk; 80 g sugar","Layer the bread in a dish. Whisk the eggs, milk and sugar, pour over, and bake at 170 °C for 40 minutes, until puffed and just set."),
    ("omelette","3 large eggs; 15 g butter","Melt the butter. Pour in the beaten eggs and cook for 2 minutes, stirring, until just set."),
    ("burger","600 g ground beef; 4 buns","Shape 4 patties. Grill for 5 minutes a side, until a thermometer in the middle reads 160 °F."),
    ("sausages","8 pork sausages; 2 onions; 20 ml oil","Fry the sausages in the oil over low heat for 20 minutes, turning, until browned and cooked through. Fry the onions for 15 minutes, until soft."),
    ("duck confit","4 duck legs; 500 g duck fat; 20 g salt","Salt the duck and refrigerate overnight. Cover with the melted fat and cook at 120 °C for 3 hours, until tender."),
    ("cold smoke salmon bought","200 g smoked salmon; 4 bagels; 100 g cream cheese","Split the bagels, spread with the cream cheese and top with the salmon."),
    ("beef stew","1 kg stewing beef; 500 ml beef stock; 2 carrots","Brown the beef in batches, moving it to a plate. Return the beef to the pot with the stock and carrots. Cover and cook in the oven at 150 °C for 2 hours 30 minutes, until tender."),
    ("stuffed peppers","4 bell peppers; 300 g minced lamb; 100 g cooked rice","Fry the mince for 8 minutes, until brown all over. Stir in the rice, fill the peppers and bake for 35 minutes, until the peppers are soft."),
    ("turkey chili","500 g ground turkey; 400 g canned tomatoes; 400 g canned beans","Cook the turkey for 8 minutes, breaking it up, until no longer pink. Add the tomatoes and beans and simmer for 25 minutes."),
    ("roast chicken juices","1 chicken (1.6 kg); 30 g butter","Roast at 200 °C for 1 hour 15 minutes, until the juices run clear and the thigh reads 75 °C. Rest for 15 minutes."),
    ("kebab","500 g lamb leg, cubed; 20 ml oil","Thread the lamb onto 8 skewers. Brush with the oil. Grill for 8 to 10 minutes, turning, until charred outside and still pink in the middle. Rest 5 minutes."),
    ("fish soup","600 g cod fillet; 1 l fish stock; 400 g potatoes","Simmer the potatoes in the stock for 15 minutes. Add the cod and simmer for 5 minutes, until it flakes."),
    ("tuna salad","200 g canned tuna in oil; 2 large eggs; 200 g green beans","Boil the eggs for 9 minutes and the beans for 4 minutes. Toss with the tuna."),
    ("gyoza","300 g ground pork; 200 g cabbage; 40 gyoza wrappers; 30 ml oil","Mix the pork and cabbage. Fill the wrappers. Fry in the oil for 2 minutes, until the bases are golden, add 100 ml water, cover and steam for 6 minutes, until the filling is cooked through."),
    ("ragu","500 g beef mince; 250 ml milk; 400 g tomatoes","Brown the mince for 10 minutes. Add the milk and tomatoes and simmer for 2 hours, until rich."),
    ("scallops","12 sea scallops; 20 g butter","Sear the scallops in the butter for 1 to 2 minutes a side, until golden and still translucent in the centre."),
    ("poached egg toast","4 large eggs; 4 slices bread","Poach the eggs for 3 minutes, until the whites are set and the yolks runny. Serve on the toasted bread."),
    ("chicken soup","1 chicken (1.5 kg); 2 carrots; 3 l water","Cover the chicken with the water, bring to a boil and simmer for 1 hour 15 minutes, until the meat falls from the bone. Lift out, cool, and pull the meat from the bones. Return it to the broth."),
    ("pork tenderloin","500 g pork tenderloin; 15 ml oil","Brown the pork in the oil. Roast at 200 °C for 15 minutes, until 145 °F in the thickest part. Rest for 5 minutes; a blush of pink in the middle is right."),
    ("beef wellington","1 kg beef fillet; 500 g puff pastry; 1 egg","Sear the beef. Wrap in the pastry, brush with the egg, and bake at 200 °C for 35 minutes, until golden and the beef reads 50 °C for rare. Rest for 10 minutes."),
    ("egg custard ice","500 ml cream; 5 egg yolks; 120 g sugar","Bring the cream to a boil. Pour onto the yolks and sugar, whisking, return to low heat and stir until 82 °C, never letting it boil. Chill and churn."),
    ("marinade reserve","8 chicken thighs; 100 ml soy sauce; 50 g honey","Mix the soy and honey and set aside a third. Marinate the chicken in the rest for 2 hours in the fridge. Grill for 20 minutes, brushing with the reserved sauce, until 75 °C."),
    ("spatchcock brine","1 chicken (1.6 kg); 60 g salt; 1 l water","Dissolve the salt in the water, add the chicken and refrigerate for 4 hours. Lift it out, pat dry and roast for 50 minutes, until the thickest part reads 165 °F."),
    ("venison loin","600 g venison loin; 20 g butter","Sear the venison in the butter for 2 minutes a side. Roast for 6 minutes, until 57 °C and rosy in the middle. Rest for 8 minutes."),
    ("lamb rack","2 racks of lamb (1.2 kg); 20 ml oil","Sear the lamb. Roast at 200 °C for 15 to 18 minutes, until 54 °C in the middle for medium-rare. Rest for 10 minutes."),
    ("rib roast","3 kg beef rib roast; 30 g salt","Roast at 120 °C for 3 hours, until the middle reads 52 °C for medium-rare. Rest for 30 minutes."),
    ("chicken carryover","1 chicken (1.6 kg)","Roast at 200 °C for 1 hour 10 minutes, until the breast reads 70 °C. Rest under foil for 20 minutes; it will rise to 74 °C."),
    ("sous vide steak","4 sirloin steaks, 3 cm thick (900 g); 20 ml oil","Seal the steaks in bags. Cook in a water bath at 55 °C for 2 hours 30 minutes. Sear in the oil for 1 minute a side."),
    ("sous vide chicken","4 chicken breasts, 3 cm thick (700 g)","Seal the chicken in bags and cook in a water bath at 63 °C for 1 hour 45 minutes. Pat dry."),
    ("sous vide turkey","900 g skinless turkey breast, in 2 pieces 4 cm thick","Seal the turkey in bags. Bring the water bath to 63 °C. Lower in the bags and cook for 3 hours; a thermometer in the middle should then read 63 °C."),
    ("sous vide pork","2 pork tenderloins, 4 cm thick (900 g)","Seal the pork in bags. Heat the water bath to 63 °C. Lower in the bags and cook for 3 hours, until 63 °C in the middle. Brown in a hot skillet for 1 minute a side."),
    ("sous vide salmon","4 salmon fillets, 2.5 cm thick (600 g)","Seal the salmon in bags and cook in a water bath at 50 °C for 40 minutes."),
    ("pressure stew","1 kg beef chuck; 500 ml stock","Put the beef and stock in a pressure cooker. Cook at high pressure for 35 minutes. Release the pressure, then open the lid."),
    ("slow cooker chili","500 g ground beef; 400 g canned kidney beans; 400 g canned tomatoes","Brown the beef for 8 minutes. Put everything in a slow cooker and cook on low for 6 hours."),
    ("microwave cake","60 g flour; 40 g sugar; 1 large egg; 40 ml milk; 30 ml oil","Whisk everything in a mug. Microwave for 90 seconds, until risen. Stand for 1 minute."),
    ("kidney soaked","300 g dried kidney beans; 1 onion","Soak the beans for 12 hours and drain. Boil hard in fresh water for 30 minutes, then simmer for 1 hour with the onion, until soft."),
)
# fmt: on
ASKED = frozenset(
    {
        "bath-time-unsure",
        "beans-underboiled",
        "custard-boils",
        "doneness-missing",
        "doneness-too-low",
        "long-hold-too-low",
        "never-cooked",
        "poisonous-part",
        "raw-meets-ready",
        "raw-poultry-washed",
        "rest-before-cooking",
        "rest-missing",
        "review-needed",
        "scale-implausible",
        "unsafe-as-written",
    }
)  # fmt: skip


@pytest.mark.parametrize(("name", "listed", "step"), DISHES, ids=[one[0] for one in DISHES])
def test_a_sound_dish_is_left_in_peace(name: str, listed: str, step: str) -> None:
    found = judge(dish(listed, step, title=name), load_larder(), house()).findings
    assert [str(one) for one in found if one.name in ASKED and one.severity is not Severity.NOTE] == []
