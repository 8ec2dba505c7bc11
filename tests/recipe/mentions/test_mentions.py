from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.finding import Where
from cardsmith.language.spans import Words
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.fields.steps import read_step
from cardsmith.recipe.mentions.mentions import How, Mentions, visible
from cardsmith.recipe.mentions.naming import tokens
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.model import Part, Recipe
from cardsmith.recipe.model import Step as ModelStep

HERE = Where(file="recipe.yaml", line=1, column=1)


def read(listed: str, *steps: str, title: str = "A dish") -> Mentions:
    lines = tuple(read_line(one.strip(), HERE, load_larder())[0] for one in listed.split(";"))
    told = tuple(read_step(one, HERE, "us")[0] for one in steps)
    whole = Recipe(
        where=HERE,
        name="dish",
        title=title,
        parts=(Part(where=HERE, name="", ingredients=lines, steps=told),),
    )
    return read_mentions(whole, load_larder())


SHELF = (
    "200 g all-purpose flour; 50 g whole-grain rye flour; 100 g unsalted butter; 80 g granulated sugar; "
    "60 g packed light brown sugar; 3 large eggs; 1 tsp fine salt; 1 tbsp lemon juice; 1 tsp cream of tartar"
)
FLOUR, RYE, BUTTER, SUGAR, BROWN, EGGS, SALT, JUICE, TARTAR = range(9)


@pytest.mark.parametrize(
    ("step", "used"),
    [
        ("Whisk the all-purpose and rye flours.", [FLOUR, RYE]),
        ("Whisk both flours.", [FLOUR, RYE]),
        ("Add the rye.", [RYE]),
        ("Add the rye flour.", [RYE]),
        ("Beat the butter with the granulated and brown sugars.", [BUTTER, SUGAR, BROWN]),
        ("Add the sugar.", [SUGAR]),
        ("Add the sugars.", [SUGAR, BROWN]),
        ("Beat the whites, then the yolks.", [EGGS]),
        ("Whisk the dry ingredients.", [FLOUR, RYE, SUGAR, BROWN, SALT, TARTAR]),
        ("Mix all the dry things left in the list.", [FLOUR, RYE, SUGAR, BROWN, SALT, TARTAR]),
        ("Stir the wet ingredients.", [BUTTER, EGGS, JUICE]),
        ("Beat in the rest of the list.", [*range(9)]),
        ("Stir everything together.", [*range(9)]),
        ("Stir everything but the eggs together.", [*range(EGGS), *range(EGGS + 1, 9)]),
        ("Mix all the ingredients (except the eggs and the lemon juice).", [*range(EGGS), SALT, TARTAR]),
        ("Mix all but the cream of tartar, salt and juice.", [*range(SALT)]),
        ("Mix everything but half of the eggs.", [*range(9)]),
        ("Add the cream of tartar and the salt.", [SALT, TARTAR]),
        ("Add the flour mixture.", []),
        ("Fold all over and season.", [SALT]),
        ("Season with plenty of herbs.", []),
        ("Brown the edges.", []),
        ("Bake until the sugar has melted.", []),
        ("Bake until the sugar has melted, then beat in the eggs.", [EGGS]),
        ("Melt the butter in a butter-yellow pan.", [BUTTER]),
        ("Squeeze in the lemon.", [JUICE]),
    ],
)
def test_step_uses_lines(step: str, used: list[int]) -> None:
    assert list(read(SHELF, step).lines_of(0)) == used


@pytest.mark.parametrize(
    ("listed", "step", "used"),
    [
        ("2 large sweet onions, cut in ½-inch rings", "Separate the rings.", [0]),
        ("200 g raisins; 50 g mixed peel", "Knead in the fruit.", [0, 1]),
        ("1 aubergine, sliced", "Fry the slices.", [0]),
        ("4 peaches, halved and stoned", "Lay in the halves.", [0]),
        ("1 kg swede, cut in 2 cm dice; 20 g butter", "Fry the dice in butter.", [0, 1]),
        ("1 kg potatoes, cut in wedges", "Roast until you can wedge in a knife.", []),
        ("100 g butter; 4 peaches, halved", "Melt the remaining half of the butter.", [0]),
        ("200 g beans; 80 g cooked ham", "Stir in the beans and cook for 10 minutes.", [0]),
        ("2 sweet onions; 20 g butter", "Cut in thick slices and fry in the butter.", [0, 1]),
        ("200 g spinach; 1 steak", "Slice the steak.", [1]),
        ("1 tsp fine salt; 2 cod fillets", "Bake the well-seasoned cod with care.", [0, 1]),
        ("1 tsp fine salt; 500 g potatoes", "Boil the potatoes in salted water.", [0, 1]),
        ("1 tsp fine salt; 2 cod fillets", "Season the cod with pepper.", [1]),
        ("500 g rhubarb; 1 tbsp sugar", "Stew the rhubarb, and sweeten it.", [0, 1]),
        ("1 tbsp olive oil; 2 tsp lemon juice; 200 g lettuce", "Dress the lettuce.", [0, 1, 2]),
        ("1 tbsp olive oil; 2 tsp lemon juice; 200 g lettuce", "Dress the lettuce with the oil.", [0, 2]),
    ],
)
def test_what_a_knife_leaves_and_a_deed_takes_for_granted(listed: str, step: str, used: list[int]) -> None:
    assert list(read(listed, step).lines_of(0)) == used


@pytest.mark.parametrize(
    ("listed", "step", "strangers"),
    [
        ("200 g bread flour", "Add the butter.", ["butter"]),
        ("200 g bread flour", "Add the flour, salt and caraway seeds.", ["salt", "caraway seeds"]),
        ("1 tbsp lemon juice", "Grate in the lemon zest.", ["lemon zest"]),
        ("1 tsp baking soda", "Whisk in the baking powder.", ["baking powder"]),
        ("60 g peanut butter", "Melt the peanut butter.", []),
        ("60 g unsalted butter", "Melt the peanut butter.", ["peanut butter"]),
        ("60 g unsalted butter", "Strain the brown butter.", []),
        ("2 lemons", "Grate in the lemon zest.", []),
        ("200 g bread flour", "Serve with the butter.", []),
        ("200 g bread flour", "Rub to the size of the peas.", []),
        ("200 g bread flour", "Scrape into the butter dish.", []),
        ("200 g bread flour", "Salt and pepper it.", []),
    ],
)
def test_strangers(listed: str, step: str, strangers: list[str]) -> None:
    assert [one.text for one in read(listed, step).strangers] == strangers


def test_what_the_recipe_makes_is_no_stranger() -> None:
    assert read("600 g raspberries", "Churn the sorbet.", title="Raspberry sorbet").strangers == ()
    assert read("100 g granulated sugar", "Warm the marmalade.", title="Marmalade").strangers == ()


@pytest.mark.parametrize(
    ("listed", "step", "used"),
    [
        ("2 cups green beans; 1 can kidney beans; 1 can chickpeas", "Add all three beans.", [0, 1, 2]),
        ("2 cups green beans; 1 can kidney beans; 1 can chickpeas", "Add the green beans.", [0]),
        (
            "1 cup green beans; 1 can kidney beans; 1 can black beans; 1 can pinto beans; 1 can navy beans; "
            "1 can lima beans; 1 can chickpeas",
            "Add all seven beans.",
            [0, 1, 2, 3, 4, 5, 6],
        ),
        ("2 cups green beans; 1 can kidney beans; 1 can chickpeas", "Add both beans.", [0, 1]),
        ("40 g sunflower seeds; 25 g linseed; 60 g flour", "Toast the seeds.", [0, 1]),
        ("4 legs duck confit, with their fat; 2 onions", "Bury the duck legs.", [0]),
        ("4 legs duck confit, with their fat; 2 onions", "Melt 2 tablespoons duck fat.", [0]),
    ],
)
def test_what_a_plural_or_a_part_stands_for(listed: str, step: str, used: list[int]) -> None:
    found = read(listed, step)
    assert list(found.lines_of(0)) == used
    assert not found.strangers


def test_tea_is_made_of_what_steeps() -> None:
    listed = "1 l water; 40 g dried hibiscus flowers; 100 g sugar"
    assert not read(listed, "Steep the flowers in the water.", "Add the sugar to the tea.").strangers


def test_word_for_a_class_reaches_over_parts_only_where_its_own_has_none() -> None:
    told = read("300 g carrots; 1 onion; 2 tbsp olive oil", "Roast the vegetables.")
    assert [(one.line, one.how) for one in told.found] == [(0, How.CLASS), (1, How.CLASS)]


def test_order_of_use_asks_by_name() -> None:
    told = read("2 tbsp cider vinegar; 240 g chicken stock", "Add the liquid.", "Add the vinegar.")
    assert told.steps_of(0) == (0, 1)
    assert told.steps_of(0, by_name=True) == (1,)


@given(st.text(max_size=80))
def test_tokens_stand_where_they_say(text: str) -> None:
    for token in tokens(text):
        assert 0 <= token.start < token.end <= len(text)
        assert token.word


@given(st.text(alphabet="flourbutesg ,.-½ñ\n", max_size=60))
def test_any_text_can_be_read(text: str) -> None:
    step = ModelStep(where=HERE, text=text, spans=(Words(text=text),))
    lines = (read_line("200 g bread flour", HERE, load_larder())[0],)
    part = Part(where=HERE, name="", ingredients=lines, steps=(step,))
    told = read_mentions(Recipe(where=HERE, name="x", title="x", parts=(part,)), load_larder())
    for one in told.found:
        assert visible(step.spans)[one.start : one.end]
