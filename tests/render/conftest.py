"""Cards made by hand, with the awkward things a real one has; no stage before `render` is needed."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.finding import Where
from cardsmith.house.style import House, load_house
from cardsmith.language.figures.amounts import ONE
from cardsmith.language.figures.numbers import number_in
from cardsmith.language.spans import Words
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.recipe.model import Ingredient, Photo, Recipe
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card, CardIngredient, CardPart, CardStep, Rewritten
from cardsmith.rewrite.printed import Dual, Printed, Term, single

ROOT = Path(__file__).parents[2]
HERE = Where(file="recipe.yaml")
NB = "\u00a0"

PICTURE = b"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 900 500"><title>Crackers</title>
<rect width="900" height="500" fill="#d9d2c3"/><rect y="330" width="900" height="170" fill="#b9ab93"/>
<g fill="#5b4330" stroke="#2c1f15" stroke-width="4">
<path d="M250 330h300l40 30H220z"/><path d="M262 290h290l32 34H240z"/>
<path d="M270 252h270l36 32H248z"/><path d="M640 260l120 70-40 50-130-60z"/></g></svg>"""


def line(us: str, metric: str, item: str, prep: str = "", **more: object) -> CardIngredient:
    """``us`` and ``metric`` as printed ("" for none); without either it has no amount."""
    made = Ingredient(where=HERE, text=item, item=item, food=None, to_taste=bool(more.pop("to_taste", False)))
    author = str(more.pop("author", metric or us))
    weigh = str(more.pop("weigh", ""))
    amount = None
    if us or metric:
        amount = Dual(
            author=author,
            exact=(quantity(200, units()["gram"]),),
            metric=printed(metric or us),
            us=printed(us or metric),
            basis="102 g per cup, spooned (USDA SR 28, food 20063)",
            metric_error=Fraction(0) if metric else None,
            us_error=Fraction(8, 1000) if us else None,
        )
    return CardIngredient(line=made, amount=amount, item=item, remark=prep, weigh=weigh)


def printed(text: str) -> Printed:
    """So many of whatever the words name; a text without a number stands as it is."""
    number, _, words = text.partition(" ")
    held = re.sub(r"(?<=[\d½⅓⅔¼¾⅛⅜⅝⅞]) (?!to |plus )", NB, words)
    if not number[:1].isnumeric():
        return replace(single(Term(number=Fraction(1), unit=ONE)), words=text)
    return single(Term(number=number_in(number).value or Fraction(0), unit=ONE, word=held))


def both(metric: str, us: str) -> Rewritten:
    """A measure of a step, the way the house joins it."""
    made = Dual(
        author=metric,
        exact=(quantity(200, units()["gram"]),),
        metric=printed(metric),
        us=printed(us or metric),
    )
    return Rewritten(amount=made, order=("metric", "us"), where=HERE)


def step(number: int, *pieces: str | Words | Rewritten) -> CardStep:
    """A step of plain strings and measures."""
    return CardStep(
        number=number,
        where=HERE,
        spans=tuple(Words(text=piece) if isinstance(piece, str) else piece for piece in pieces),
    )


def card(
    title: str, *parts: CardPart, headnote: str = "", photo: Photo | None = None, **more: object
) -> Card:
    """A card with everything a card can have."""
    made = Card(
        recipe=Recipe(where=HERE, name="name", title=title, parts=(), photo=photo),
        headnote=(Words(text=headnote),) if headnote else (),
        makes="60 crackers (about 6 g / ¼ oz each)",
        serves="10",
        active="35 minutes",
        prep="",
        cook="",
        total="1 hour 40 minutes",
        equipment=("two half-sheet pans", "rolling pin"),
        parts=parts,
        cautions=(),
        us_allergens=("sesame", "wheat"),
        eu_allergens=("sesame", "cereals containing gluten (rye)"),
        notes=(),
        storage=(Words(text="Keeps two weeks in an airtight tin."),),
        claims=("vegetarian",),
        credit="The Saltmarsh Table test kitchen",
        agreement="No ratio between two ingredients differs by more than 1.8 % between the columns.",
    )
    return replace(made, **more)


def crackers(photo: Photo | None = None) -> Card:
    """The card of the design: one part, seven lines, four steps."""
    return card(
        "Caraway rye crackers",
        CardPart(
            name="",
            ingredients=(
                line("2 cups", "200 g", "whole-grain rye flour"),
                line("¾ teaspoon", "5 g", "fine salt"),
                line("2 teaspoons", "4 g", "caraway seeds", "crushed"),
                line("½ cup plus 1 tablespoon", "140 g", "water"),
                line("2 tablespoons plus ½ teaspoon", "30 g", "olive oil"),
                line("1 tablespoon", "20 g", "honey"),
                line("½ cup", "70 g", "sesame seeds", "toasted, divided"),
            ),
            steps=(
                step(
                    1,
                    "Heat the oven to ",
                    both("160 °C", "325 °F"),
                    " with racks in the upper and lower thirds.",
                ),
                step(
                    2,
                    "Whisk the flour, salt and caraway. Stir in the water, oil, honey and ",
                    both("50 g", "⅓ cup"),
                    " of the sesame until a stiff dough forms.",
                ),
                step(
                    3,
                    "Roll between sheets of parchment to ",
                    both("2 mm", "1⁄16 inch"),
                    ", scatter with the rest, and score into ",
                    both("4 cm", "1½ inch"),
                    " squares.",
                ),
                step(
                    4,
                    "Bake until dry and crisp ",
                    Words(text="all the way through", emphasis="em"),
                    ", 25 to 30 minutes.",
                ),
            ),
        ),
        headnote="Thin, dark and brittle. Rolled between sheets of parchment, so no extra flour.",
        photo=photo,
    )


def crackers_with_photo() -> Card:
    """The same with a picture."""
    return crackers(
        Photo(where=HERE, file="crackers.svg", alt="A stack of dark square crackers", credit="House photo")
    )


def broth() -> Card:
    """A short one: five lines, three steps, amounts that are missing in one or both systems."""
    return card(
        "Marsh-samphire omelet",
        CardPart(
            name="",
            ingredients=(
                line("3", "150 g", "large eggs"),
                line("1½ ounces", "40 g", "marsh samphire", "rinsed"),
                line("1 tablespoon", "14 g", "unsalted butter"),
                line("1 pinch", "", "white pepper"),
                line("", "", "flaky salt", to_taste=True),
            ),
            steps=(
                step(1, "Blanch the samphire for 30 seconds; drain."),
                step(2, "Melt the butter over medium heat. Add the eggs, beaten with the pepper."),
                step(
                    3,
                    "Cook until just set, to ",
                    both("71 °C", "160 °F"),
                    ". Scatter with the samphire, and salt to taste.",
                ),
            ),
        ),
        headnote="Taste before you salt: samphire brings its own.",
        makes="",
        serves="1",
        active="10 minutes",
        total="",
        equipment=("8-inch (20 cm) skillet",),
        us_allergens=("egg", "milk"),
        eu_allergens=("egg", "milk"),
        claims=("vegetarian", "gluten-free"),
        cautions=("Eggs are safe from salmonella once they reach 71 °C (160 °F).",),
        agreement="",
    )


def pie() -> Card:
    """A long one: three parts, eighteen lines, twelve long steps, three cautions."""
    texts = (
        (
            (
                "Whisk the flour, sugar and salt. Cut in the butter and lard until the largest pieces "
                "are the size of peas. Sprinkle with the ice water, toss, and press a handful: it "
                "should just hold. Form two disks, one a little larger, wrap, and chill for at least "
            ),
            both("1 hour", ""),
            ".",
        ),
        (
            "Roll the larger disk to ",
            both("3 mm", "⅛ inch"),
            " and line a ",
            both("23 cm", "9 inch"),
            " pie plate. Chill while you make the filling, and heat the oven to ",
            both("220 °C", "425 °F"),
            " with a baking steel or a heavy sheet pan on the lowest rack.",
        ),
        (
            "Pare, core and slice the apples ",
            both("6 mm", "¼ inch"),
            (
                " thick. Toss with the lemon juice and both sugars and let stand 45 minutes, until a "
                "good pool of juice has formed."
            ),
        ),
        (
            "Drain the apples, boil the juice with the butter down to a thick syrup, about ",
            both("120 ml", "½ cup"),
            ", and pour it back over the fruit.",
        ),
        (
            (
                "Mix the tapioca starch, cinnamon, nutmeg and salt, and toss with the apples until no "
                "dry streak is left. Fold in the quince, and taste a slice."
            ),
        ),
        (
            "Pile the filling into the shell, highest in the middle, and press it down with the "
            "flat of the hand so that no gap is left under the lid."
        ),
        (
            (
                "For the streusel, rub the flour, brown sugar, rolled oats and salt with the soft "
                "butter until it clumps. Stir in the walnuts."
            ),
        ),
        (
            (
                "Roll the second disk, cut six strips, and lay them across the pie in one direction "
                "only. Trim, fold and crimp the rim; crumble the streusel between the strips."
            ),
        ),
        (
            "Set on the hot steel. Bake 20 minutes, then lower the oven to ",
            both("190 °C", "375 °F"),
            (
                " and bake until the syrup bubbles slowly in the middle and the crust is deep brown "
                "underneath, 45 to 55 minutes more. Cover loosely with foil if the strips darken too "
                "soon."
            ),
        ),
        (
            "The middle should read ",
            both("93 °C", "200 °F"),
            (
                " or a little above. A pie that looks done but has not bubbled in the middle will be "
                "loose when cut."
            ),
        ),
        (
            "Cool on a rack for at least ",
            both("4 hours", ""),
            "; the starch sets only as it cools.",
        ),
        (
            "To serve warm, reheat slices rather than the whole pie, 10 minutes at ",
            both("175 °C", "350 °F"),
            ".",
        ),
    )
    steps = tuple(
        step(number, *((text,) if isinstance(text, str) else text)) for number, text in enumerate(texts, 1)
    )
    return card(
        "Apple and quince pie with an oat and walnut streusel",
        CardPart(
            name="Crust",
            ingredients=(
                line(
                    "2½ cups",
                    "315 g",
                    "all-purpose flour",
                    "plus extra for rolling",
                    weigh="Weigh this: a cup holds 120 to 150 g.",
                ),
                line("1 tablespoon", "12 g", "granulated sugar"),
                line("1 teaspoon", "6 g", "fine salt"),
                line("½ cup plus 2 tablespoons", "140 g", "unsalted butter", "cold, in 1 cm (⅜ inch) dice"),
                line("⅓ cup", "70 g", "lard"),
                line("6 to 7 tablespoons", "90 to 105 g", "ice water"),
            ),
            steps=steps[:2],
        ),
        CardPart(
            name="Filling",
            ingredients=(
                line("3 pounds", "1.35 kg", "firm, tart apples", "about 7"),
                line("1", "200 g", "ripe quince", "poached, sliced"),
                line("1 tablespoon", "15 g", "lemon juice"),
                line("½ cup", "100 g", "granulated sugar"),
                line("⅓ cup", "70 g", "dark brown sugar", "packed"),
                line("2 tablespoons", "28 g", "unsalted butter"),
                line("3 tablespoons plus 1 teaspoon", "27 g", "tapioca starch"),
                line("¾ teaspoon", "2 g", "cinnamon"),
                line("1 pinch", "", "nutmeg", "freshly grated"),
            ),
            steps=steps[2:6],
        ),
        CardPart(
            name="Oat and walnut streusel",
            ingredients=(
                line("½ cup plus 1 tablespoon", "70 g", "all-purpose flour"),
                line("⅓ cup", "65 g", "light brown sugar", "packed"),
                line("½ cup", "50 g", "walnuts", "toasted, chopped"),
            ),
            steps=steps[6:],
        ),
        headnote=(
            "Two fruits, one syrup. The juice is drawn out first and boiled down, so that the pie "
            "needs half the starch, and the quince perfumes all of it."
        ),
        makes="one 9-inch (23 cm) pie",
        serves="8 to 10",
        active="1 hour 30 minutes",
        total="8 hours",
        equipment=(
            "9-inch (23 cm) pie plate, 1½ inches (4 cm) deep",
            "baking steel or heavy sheet pan",
            "instant-read thermometer",
        ),
        cautions=(
            "Boiling syrup burns badly: use a deep pan, and keep children away.",
            "Flour is a raw food; don’t taste the dough.",
        ),
        us_allergens=("wheat", "milk", "tree nuts (walnut)"),
        eu_allergens=("cereals containing gluten (wheat, oats)", "milk", "nuts (walnut)"),
        notes=(),
        storage=(Words(text="Two days at room temperature under a cloth; four in the refrigerator."),),
        claims=(),
    )


CARDS: dict[str, Callable[[], Card]] = {
    "short": broth,
    "crackers": crackers,
    "photo": crackers_with_photo,
    "pie": pie,
}
PHOTOS = {"crackers.svg": PICTURE}


@pytest.fixture(params=sorted(CARDS), scope="module")
def any_card(request: pytest.FixtureRequest) -> Card:
    return CARDS[request.param]()


@pytest.fixture(scope="session")
def cards() -> dict[str, Callable[[], Card]]:
    return CARDS


@pytest.fixture(scope="session")
def pictures() -> dict[str, bytes]:
    return PHOTOS


@pytest.fixture(scope="session")
def house() -> House:
    return load_house(ROOT)


@pytest.fixture(scope="session")
def templates() -> Path:
    return ROOT / "templates"


@pytest.fixture(scope="session")
def typesetter(templates: Path, tmp_path_factory: pytest.TempPathFactory) -> Typesetter:
    return Typesetter(templates, tmp_path_factory.mktemp("fonts"))
