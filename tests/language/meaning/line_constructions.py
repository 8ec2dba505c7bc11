"""The list of constructions, and the amounts a cook would choose for each sort of food."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from tests.language.meaning.line_pen import Food, Pen
from tests.language.meaning.statements import Drawn, Statement

Line = tuple[str, tuple[Statement, ...], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Construction:
    """A way of writing a line, how often it is drawn, and whether it must be asked about."""

    kind: str
    weight: int
    asked: bool
    write: Callable[[Pen], Line]

    def draw(self, pen: Pen) -> Drawn:
        """Write one line of this construction."""
        text, statements, food = self.write(pen)
        return Drawn(text=text, kind=self.kind, statements=statements, food=food, asked=self.asked)


CONSTRUCTIONS: list[Construction] = []


def construction(
    kind: str, weight: int = 2, *, asked: bool = False
) -> Callable[[Callable[[Pen], Line]], Callable[[Pen], Line]]:
    """Add a writer of lines to the list under a short label."""

    def add(write: Callable[[Pen], Line]) -> Callable[[Pen], Line]:
        CONSTRUCTIONS.append(Construction(kind=kind, weight=weight, asked=asked, write=write))
        return write

    return add


DRY = ("powder", "grain", "cheese", "butter")
CUPS = "1/4 1/3 1/2 2/3 3/4 1 1 5/4 4/3 3/2 5/3 7/4 2 2 9/4 5/2 11/4 3 7/2 4"
TEASPOONS = "1/8 1/4 1/4 1/2 1/2 3/4 1 1 5/4 3/2 2 5/2"
TABLESPOONS = "1/2 1 1 3/2 2 2 5/2 3 4"
DRY_MASS = {
    "gram": "30 40 50 60 75 100 100 115 125 150 175 180 200 225 250 250 275 300 350 400 450 500",
    "kilogram": "1/2 1 3/2 2",
    "ounce": "1 3/2 2 3 4 9/2 5 6 7 8 10 12 14",
    "pound": "1/4 1/2 3/4 1 5/4 3/2 2",
}
LIGHT = (
    "cocoa",
    "almond",
    "coconut",
    "corn",
    "breadcrumbs",
    "jam",
    "mustard",
    "mayonnaise",
    "molasses",
    "paste",
    "purée",
)
LIGHT_MASS = {"gram": "25 30 40 50 60 75 100 125", "ounce": "1 3/2 2 3 4"}
MEAT_MASS = {
    "gram": "150 200 250 300 350 400 450 500 500 600 700 750 800 900",
    "kilogram": "1 6/5 5/4 3/2 9/5 2 5/2",
    "ounce": "6 8 10 12",
    "pound": "1/2 3/4 1 1 5/4 3/2 2 5/2 3 4",
}
POURED = {
    "millilitre": "50 60 75 80 100 120 125 150 175 180 200 240 250 300 350 400 500 600 750",
    "litre": "1/2 1 6/5 3/2 2",
    "fluid ounce": "2 4 5 6 8 10 12",
    "pint": "1/2 1 3/2 2",
    "quart": "1 3/2 2",
}


def mass(pen: Pen, food: Food, *, large: bool = False) -> tuple[Fraction, str]:
    """Choose a weight this kitchen buys or weighs the food in; `large` keeps out small units."""
    table = DRY_MASS if food.group in DRY or food.group == "thick" else MEAT_MASS
    if any(word in food.one for word in LIGHT):
        table = LIGHT_MASS
    american = pen.kitchen == "US" or (pen.kitchen == "CA" and pen.chance(0.4))
    small, big = ("ounce", "pound") if american else ("gram", "kilogram")
    big_share = 0.5 if american and table is MEAT_MASS else 0.2
    if table is LIGHT_MASS or (food.group in ("cheese", "butter", "thick", "grain") and not american):
        big_share = 0  # few recipes for a home cook take a kilogram of these
    unit = big if large or pen.chance(big_share) else small
    return pen.of(table[unit]), unit


def cups(pen: Pen, food: Food | None = None) -> tuple[Fraction, str]:
    """Choose a number of cups, and cook where cups are customary; oil and thick foods stay below one."""
    pen.at_home("US", "AU", "IN", "CA")
    little = food is not None and food.group in ("oil", "thick")
    return pen.of("1/4 1/3 1/2 2/3 3/4 1" if little else CUPS), "cup"


def spoons(pen: Pen, food: Food | None = None) -> tuple[Fraction, str]:
    """Choose a spoon measure; strong foods stay below a tablespoon."""
    strong = food is not None and food.group in ("leaven", "spice", "named spice")
    if pen.chance(0.85 if strong else 0.35):
        return pen.of(TEASPOONS), "teaspoon"
    return pen.of("1 1 3/2 2") if strong else pen.of(TABLESPOONS), "tablespoon"


def volume(pen: Pen, food: Food | None = None) -> tuple[Fraction, str]:
    """Choose a volume of something poured, as this kitchen measures it."""
    if food is not None and food.group == "oil":
        return (
            cups(pen, food) if pen.kitchen in ("US", "CA") else (pen.of("50 60 75 100 125 150"), "millilitre")
        )
    if pen.kitchen == "US":
        return cups(pen) if pen.chance(0.7) else _choose(pen, "fluid ounce", "pint", "quart")
    if pen.kitchen in ("AU", "IN", "CA") and pen.chance(0.5):
        return cups(pen)
    return _choose(pen, "millilitre", "millilitre", "millilitre", "litre")


def _choose(pen: Pen, *units: str) -> tuple[Fraction, str]:
    unit = pen.pick(*units)
    return pen.of(POURED[unit]), unit
