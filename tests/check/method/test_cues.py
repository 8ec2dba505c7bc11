from __future__ import annotations

import pytest

from cardsmith.check.method.signs import timed_verbs
from cardsmith.finding import Severity
from cardsmith.recipe.model import Recipe
from tests.check.bench import found, recipe, steps


def of(lines: str, *texts: str) -> Recipe:
    return recipe([one.strip() for one in lines.split(";") if one.strip()], list(texts))


TIME_WITHOUT_CUE = [
    of("", "Bake for 18 to 22 minutes."),
    of("", "Cover and leave to rise at 24 °C for 1 hour 15 minutes."),
    of("", "Add the leeks, cover and simmer gently for 15 minutes."),
    of("", "Add the leeks, cover and simmer gently for 15 minutes. Blend until smooth."),
    of("", "Cook the onions until soft, then bake for 20 minutes."),
    of("", "Set the pie on the hot pan and bake for 20 minutes."),
    of("", "Bake for 20 minutes. Serve with cream."),
    of("", "Bake for 22 minutes, turning once. Cool on a rack for 15 minutes, until crisp."),
    of("", "Bake for 22 minutes. Cool in the pan for 10 minutes, then cut into wedges."),
    of("", "Bake for 22 minutes.", "Cool until firm and slice."),
    of("1 kg beef chuck", "Cover and braise in the oven for 3 hours. Season and serve."),
    of("", "Return the pan to the oven for 20 minutes. Cool."),
    of("500 g bread flour", "Let the dough prove for 45 minutes.", "Bake until hollow, 30 minutes."),
    of("4 salmon fillets", "Grill the salmon for 4 minutes on each side. Serve with lemon."),
    of("", "Put the pie in the oven and bake for 45 minutes. Serve warm with cream."),
    of("", "Steam the pudding for 2 hours. Turn out."),
    of("", "Set in the oven to bake for 25 minutes."),
    of("", "Dry in the oven at 60 °C for 6 hours."),
    of("", "Bake at 180 °C for 25 minutes. Once cool, slice."),
    of("", "Bake for 25 minutes. Meanwhile, make the icing: beat the butter until pale."),
    of("", "Boil the potatoes for 20 minutes, then drain and mash."),
    of(
        "4 gelatine leaves; 500 ml heavy cream",
        "Soak the gelatine. Warm the cream, stir in the gelatine and pour into glasses.",
        "Refrigerate for 4 hours.",
    ),
]
TIME_WITH_CUE = [
    of("", "Bake for 18 to 22 minutes, until golden."),
    of("", "Bake until dry and crisp all the way through, 25 to 30 minutes."),
    of("", "Bake for 20 minutes. It is done when a skewer comes out clean."),
    of("", "Bake for 18 to 22 minutes, golden on top and springy."),
    of("", "Bake to a deep golden brown, 20 minutes."),
    of("", "Bake for 20 minutes. The centre should still wobble."),
    of("", "Bake for 20 minutes. Test with a skewer, which should come out clean."),
    of("", "Bake for 35 minutes.", "Take out when the crust is chestnut brown."),
    of("", "The loaf is done when it sounds hollow. Bake for 35 minutes."),
    of("", "Bake, without opening the door, for 30 minutes – risen, brown and crisp."),
    of("", "Roast for 65 minutes; it should read 74 °C at the thigh."),
    of("", "Roast for 65 minutes. You want the juices to run clear."),
    of("", "Fry for 6 minutes a side, to a rich mahogany."),
    of("", "Prove for 45 minutes. The loaf should look puffy and spring back slowly."),
    of("", "Cook for 3 to 4 minutes more, until springy; turn after 2 minutes."),
    of("", "Simmer gently for 25 minutes; the lentils want to be soft but whole."),
]
TIMES_THAT_NEED_NONE = [
    of("1 l water", "Wash four 300 ml jars and keep them in simmering water for at least 10 minutes."),
    of("500 g bamboo shoots", "Boil the shoots for 1 hour, drain and throw the water away. Slice."),
    of(
        "500 g split peas",
        "Simmer the peas for 1 hour.",
        "Go on simmering until they fall apart, 45 minutes.",
    ),
    of(
        "4 lamb shanks; 400 g beans",
        "Cook the lamb and beans for 2 hours. Stir in the salt and cook 30 mins more, lid off, until it slips"
        " from the bone.",
    ),
    of("", "Roast 30 min, baste it, then give it another 15 to 20 min, until crisp."),
    of("4 large eggs", "Boil the eggs for 10 minutes, cool and shell."),
    of("", "Bring to a boil and boil hard for 10 minutes."),
    of("", "Cover and refrigerate overnight, or for at least 8 hours."),
    of("", "Cover and refrigerate at least 1 hour and up to 2 days."),
    of("", "Chill the base for 20 minutes."),
    of("", "Freeze for 20 minutes and cut out 24 discs."),
    of("", "Pour over the brine and refrigerate for 24 hours to brine."),
    of("", "Marinate for 2 hours in the refrigerator."),
    of("", "Rest the dough for 20 minutes."),
    of("", "Leave the cake in the pan for 10 minutes."),
    of("", "Fry for 30 seconds, shaking the pan."),
    of("", "Cook the garlic for 2 minutes."),
    of("", "Stir in the corn and simmer 5 minutes."),
    of("", "Simmer the bagels for 45 seconds on each side."),
    of("", "Brown the beef in batches, about 8 minutes."),
    of("", "Boil the pasta for 2 minutes less than the packet says."),
    of("", "Serve with the baked apples within 20 minutes."),
    of("", "Dry on paper towels for 10 minutes."),
    of("4 large eggs", "Boil the eggs for 9 minutes, then cool in iced water and peel."),
    of("", "Simmer for 6 hours, with a bubble breaking now and then.", "Strain through a sieve."),
    of("", "Lock the lid, bring to high pressure and cook for 35 minutes."),
    of("", "Cover the slow cooker and cook on low for 8 hours."),
    of("4 pork chops", "Heat a water bath to 60 °C.", "Lower in the bag of chops and cook for 2 hours."),
    of(
        "200 g basmati rice; 400 ml water",
        "Bring the rice and water to a boil, cover tightly and cook over the lowest heat for 15 minutes.",
    ),
    of(
        "2 yellow onions; 1 l vegetable stock",
        "Fry the onions for 8 minutes.",
        "Add the stock and simmer until the onions are tender, 15 minutes.",
    ),
]
CUE_WITHOUT_TIME = [
    "Bake until well risen and golden.",
    "Add the stock and simmer until the potatoes fall apart.",
    "Cover and refrigerate until set.",
    "Leave to rise until doubled.",
    "Let the dough prove until puffy. Bake for 30 minutes, until brown.",
    "Put it in the oven to bake until the top is brown.",
    "Braise until the meat slips off the bone.",
    "Freeze until solid.",
    "Dehydrate until leathery.",
]
CUE_OF_A_QUICK_DEED = [
    "Gently fry until crisp. Drain on paper.",
    "Fry a teaspoonful until cooked through, taste and adjust.",
    "Cook the garlic until fragrant.",
    "Bake for 10 minutes at 220 °C. Lower the oven to 180 °C and bake until brown.",
]
CUE_WITH_TIME = [
    "Bake for 14 minutes, until well risen and golden.",
    "Bake until golden. This takes about 14 minutes.",
    "Leave to rise until doubled; this takes about an hour.",
    "Cook until the curd reads 77 °C.",
    "Simmer until 77 °C.",
    "Bake until golden, 25 to 30.",  # the reader asks what the figures measure
    "Melt the butter until it foams.",
    "Stir until the sugar has dissolved.",
    "Stir over low heat until the sugar has dissolved.",
    "Beat the butter until creamy.",
    "Heat the oven to 180 °C. Toast alongside.",
    "Stop as soon as the batter is smooth; bake at once.",
    "Chill until needed.",
    "Chill until you are ready to bake.",
    "Refrigerate overnight until set.",
    "Keep in a warm oven until serving.",
]
UNTIMED = [
    of("", "Heat the oven to 180 °C.", "Bake. Serve warm."),
    of("", "Dry the strips in a dehydrator.", "Store in jars."),
    of("", "Smoke the trout over applewood.", "Serve."),
    of("", "Dehydrate the slices and store them in a jar."),
    of("500 g bread flour", "Shape the dough, prove and bake for 30 minutes, until golden."),
    of("", "Leave to rise.", "Bake for 30 minutes, until brown."),
    of("", "Roast the beets, peel and slice them."),
    of("", "Dry in a low oven. Cool and pack."),
    of("", "Hang the sausages to smoke. Cool."),
]
TIMED = [
    of("", "Bake for 20 minutes."),
    of("", "Bake until golden."),
    of("", "Bake the first tray for 12 minutes, until golden.", "Bake the second tray."),
    of("", "Bake as the packet says."),
    of("", "Wash the jars and keep them hot in an oven at 120 °C."),
    of("200 g granulated sugar", "Rub the sugar with the zest in a microwave-safe bowl."),
    of("", "While the dough rises, heat the oven."),
    of("", "Before you bake the loaf, brush it with the egg."),
    of("", "Dry the leaves in a spinner."),
    of("", "Pat the chicken dry."),
    of("7 g instant yeast", "Proof the yeast in the milk."),
    of("", "Roast the beets. They take about an hour."),
    of("", "Chill until you are ready to bake.", "Bake for 20 minutes, until golden."),
    of("", "Let it rise overnight."),
    of("", "Leave to rise. It should double."),
    of("", "Smoke the pork until it reads 195 °F."),
]


@pytest.mark.parametrize("one", TIME_WITHOUT_CUE)
def test_time_without_cue_is_asked_about(one: Recipe) -> None:
    (told,) = found("time-without-cue", one)
    assert told.severity is Severity.WARNING
    assert "no sign of when it is done" in told.what


@pytest.mark.parametrize("one", TIME_WITH_CUE + TIMES_THAT_NEED_NONE)
def test_time_with_cue_is_not(one: Recipe) -> None:
    assert found("time-without-cue", one) == ()


@pytest.mark.parametrize("text", ["Cover and refrigerate for 4 hours.", "Whip the cream for 8 minutes."])
def test_what_only_chills_or_whips_is_a_note(text: str) -> None:
    (told,) = steps("time-without-cue", text)
    assert told.severity is Severity.NOTE


@pytest.mark.parametrize("text", CUE_WITHOUT_TIME)
def test_cue_without_time_is_asked_about(text: str) -> None:
    (told,) = steps("cue-without-time", text)
    assert told.severity is Severity.WARNING
    assert told.what.endswith("about how long does it take?")


@pytest.mark.parametrize("text", CUE_OF_A_QUICK_DEED)
def test_cue_of_a_quick_deed_is_a_note(text: str) -> None:
    (told,) = steps("cue-without-time", text)
    assert told.severity is Severity.NOTE


@pytest.mark.parametrize("text", CUE_WITH_TIME)
def test_cue_with_time_is_not(text: str) -> None:
    assert steps("cue-without-time", text) == ()


@pytest.mark.parametrize("one", UNTIMED)
def test_cooking_with_neither_is_asked_about(one: Recipe) -> None:
    (told,) = found("cooking-untimed", one)
    assert told.severity is Severity.WARNING


@pytest.mark.parametrize("one", TIMED)
def test_cooking_with_either_is_not(one: Recipe) -> None:
    assert found("cooking-untimed", one) == ()


def test_finding_underlines_the_words() -> None:
    (told,) = steps("cue-without-time", "Add the stock and simmer until thick.")
    assert (told.where.column, told.width) == (5 + 18, len("simmer until thick"))


def test_table_is_whole() -> None:
    for deed in timed_verbs().values():
        assert deed.sort in {"heat", "dry", "chill", "rise", "whip"}
        assert deed.cue or deed.time
