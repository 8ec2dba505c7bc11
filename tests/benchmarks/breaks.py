"""Lines that end where no typesetter would end them, looked for on cards of made-up recipes in every size.

Run ``python tests/benchmarks/breaks.py [RECIPES]``; of 200 it takes four minutes. It prints each wrong
break and each recipe that made no card, and for each size how many cards were set and how many of their
breaks are wrong. ``tests/render/card/test_breaks.py`` asks the same, by night of all 200.
"""

from __future__ import annotations

import random
import re
import sys
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from cardsmith.flow import prepare
from cardsmith.house.paper import card_size
from cardsmith.house.style import House, load_house
from cardsmith.measure.larder import load_larder
from cardsmith.reference import table
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.typesetter import LayoutError, Typesetter

ROOT = Path(__file__).parents[2]
RECIPES = 200
CARDS = 4  # that a recipe may take, in the smallest size
SIZES = tuple(row["name"] for row in table("card_sizes"))
COUNTED = (
    "3 large eggs (150 g)",
    "2 large egg yolks (34 g)",
    "2 (400 g) cans chopped tomatoes",
    "1 (14-ounce) can chickpeas, drained and rinsed",
    "3 stalks celery (150 g), thinly sliced",
    "4 cloves garlic (14 g), crushed",
    "12 cloves garlic, peeled",
    "2 large yellow onions (400 g), sliced 6 mm thick",
    "½ small red onion (60 g), thinly sliced",
    "8 chicken thighs (1.36 kg), bone-in and skin-on",
    "10 to 12 small carrots (600 g), scrubbed",
    "4 fillets haddock (600 g), skinned",
    "1 bunch fresh thyme",
    "6 sprigs fresh rosemary",
    "2 bay leaves",
    "1 pinch ground nutmeg",
)
MEASURED = (
    "315 g all-purpose flour",
    "50 g whole-grain rye flour",
    "200 to 220 g water",
    "240 ml whole milk",
    "1½ cups heavy cream",
    "2 tbsp olive oil",
    "½ cup plus 1 tablespoon granulated sugar",
    "75 g packed light brown sugar",
    "113 g unsalted butter, cold and cut into 1 cm dice",
    "180 g walnuts, toasted and coarsely chopped",
    "1.5 kg yellow onions, sliced ¼ inch thick",
    "250 g plain yogurt",
    "30 g honey",
    "0.7 g saffron",
    "6 g fine salt",
    "freshly ground black pepper, to taste",
    "⅓ cup distilled white vinegar",
    "40 g grated Parmesan cheese",
)
WORDS = (
    "Made in one bowl and eaten the same evening, with bread",
    "It keeps for 3 to 4 days, and is better on the second",
    "A winter dish for 8 to 10 people, or for 4 who are hungry",
    "The 9-inch pan matters: in an 8-inch one it takes 10 to 15 minutes longer",
    "Nobody has ever left any of it, and there were 24 of us",
)
MIXING = (
    "Put the {foods} in a {pan} and stir over medium-high heat for {time}, until {sign}.",
    "Whisk the {foods} in a large bowl for {time}, until {sign}.",
    "Add the {foods} and cook over medium heat for {time}, stirring, until {sign}.",
    "Stir in the {foods}, cover and leave for {time}, until {sign}.",
)
ENDING = (
    "Heat the oven to {heat}. Scrape into a {pan} and bake for {time}, until {sign} and 165 °F inside.",
    "Roll to {thick} thick and cut into {edge} squares. Bake at {heat} for {time}, until {sign}.",
    "Bring to a boil, then simmer for {time}, until {sign} and a thermometer reads 74 °C.",
    "Cover and braise in the oven at {heat} for {time}, until {sign} and the thickest part reads 165 °F.",
)
PANS = (
    "wide 5-quart ovenproof pot",
    "9-inch round cake pan 2 inches deep",
    "23 × 33 cm baking pan",
    "12-inch skillet",
)
SIGNS = (
    "soft and golden",
    "no dry streak shows",
    "smooth",
    "deep brown at the edges",
    "thick enough to coat a spoon",
)
TIMES = (
    "10 to 14 minutes",
    "1 minute",
    "2 to 2½ hours",
    "1 hour 30 minutes to 2 hours",
    "45 to 50 minutes",
    "30 seconds",
)
HEATS = ("180 °C", "350 °F", "160 to 170 °C", "425 °F")


def recipe(seed: int) -> str:
    """A recipe file, always the same for a seed."""
    chance = random.Random(seed)
    lines = [*chance.sample(COUNTED, chance.randint(1, 6)), *chance.sample(MEASURED, chance.randint(3, 9))]
    chance.shuffle(lines)
    foods = [_named(line) for line in lines]
    told = "\n".join(f"  - {line}" for line in lines)
    steps = "\n".join(f"  - {step}" for step in _steps(chance, foods))
    makes, serves = chance.choice(("24 pieces", "1 pan", "6 bowls")), chance.choice(("6", "8 to 10"))
    active, total = chance.choice((("45 min", "2 h 30 min"), ("1 h 10 min", "1 h 40 min to 2 h")))
    pans = ", ".join(chance.sample(PANS, chance.randint(1, 3)))
    title = f"{chance.choice(foods)} with {chance.choice(foods)}".capitalize()
    return (
        f"title: {title}\nheadnote: >\n  {'. '.join(chance.sample(WORDS, chance.randint(1, 4)))}.\n"
        f"yield: {{makes: {makes}, serves: {serves}}}\ntime: {{active: {active}, total: {total}}}\n"
        f"equipment: [{pans}]\ningredients:\n{told}\nsteps:\n{steps}\n"
        "storage: Keeps 3 to 4 days at 40 °F or colder, or 2 months in the freezer. Reheat to 165 °F.\n"
    )


def _named(line: str) -> str:
    """The food's name in a line, as a step says it."""
    text = re.sub(r"\(.*?\)", "", line.split(",", maxsplit=1)[0])
    text = re.sub(r"^[\d½⅓¼.]+ (?:to \d+ )?", "", text.strip())
    units = (
        r"(?:kg|g|ml|cups?|tbsp|cup plus 1 tablespoon|cans?|stalks?|cloves?|fillets?|bunch|sprigs?|pinch) "
    )
    return re.sub(r"\s+", " ", re.sub(f"^ *{units}", "", text)).strip()


def _steps(chance: random.Random, foods: list[str]) -> Iterator[str]:
    left = list(foods)
    while left:
        taken, left = left[:4], left[4:]
        several = " and ".join(filter(None, (", ".join(taken[:-1]), taken[-1])))
        yield _filled(chance, chance.choice(MIXING), several)
    yield _filled(chance, chance.choice(ENDING), "")
    yield f"Cool for {chance.choice(TIMES)}, until barely warm."


def _filled(chance: random.Random, sentence: str, foods: str) -> str:
    return sentence.format(
        foods=foods,
        pan=chance.choice(PANS),
        time=chance.choice(TIMES),
        sign=chance.choice(SIGNS),
        heat=chance.choice(HEATS),
        thick=chance.choice(("3 mm", "⅛ inch")),
        edge=chance.choice(("4 cm", "2 by 3 inch")),
    )


# --- what a proofreader circles ------------------------------------------------------------------------

END = "¶"  # of a line
_FIGURE = r"[\d½⅓⅔¼¾⅛⅜⅝⅞⁄]"
_UNIT = (
    r"(?:kg|g|mg|ml|L|cm|mm|°C|°F|oz|lb|cups?|tbsp|tsp|inch(?:es)?|minutes?|hours?|seconds?|days?|quarts?"
    r"|tablespoons?|teaspoons?|ounces?|pounds?)"
)
WRONG = re.compile(
    rf"{_FIGURE}{END}(?:{_UNIT}\b|[½⅓⅔¼¾⅛⅜⅝⅞%])"  # 150 / g, 1 / ½
    rf"|{_FIGURE}-{END}"  # 9- / inch
    rf"|{_FIGURE}{END}(?:to|×|by)\s{_FIGURE}"  # 10 / to 14 minutes
    rf"|(?:{_FIGURE}|{_UNIT})\s(?:to|×|by|plus|\+){END}{_FIGURE}"  # 10 to / 14 minutes
    rf"|\([^()]*in{END}all\)|\(\d+-ounce{END}|\(about{END}|about{END}{_FIGURE}"
    rf"|\([^(){END}]*{_FIGURE}[^(){END}]*{END}(?:in all|each)\)"  # (150 g / in all)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """A wrong end of a line."""

    page: int
    text: str


def breaks(layout: Layout) -> tuple[Broken, ...]:
    """The lines of a layout that end where none should."""
    return tuple(
        Broken(page=page, text=text[max(one.start() - 20, 0) : one.end() + 12])
        for page, text in _paragraphs(layout.document)
        for one in WRONG.finditer(text)
    )


def _paragraphs(document: Any) -> Iterator[tuple[int, str]]:
    """The text of each block that holds lines, its lines parted by `END`."""

    def below(box: Any, page: int) -> Iterator[tuple[int, str]]:
        box = getattr(box, "_box", box)
        lines = [child for child in getattr(box, "children", ()) if type(child).__name__ == "LineBox"]
        if lines:
            told = ("".join(_letters(line)).replace("\u00a0", " ").rstrip() for line in lines)
            yield page, END.join(told)
        for child in getattr(box, "children", ()):
            yield from below(child, page)

    for number, page in enumerate(document.pages, 1):
        yield from below(page._page_box, number)


def _letters(box: Any) -> Iterator[str]:
    if isinstance(text := getattr(box, "text", None), str):
        yield text
    for child in getattr(box, "children", ()):
        yield from _letters(child)


# --- the search ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """One made-up recipe on a card."""

    seed: int
    size: str
    refused: str  # why it made no card; empty where it did
    broken: tuple[Broken, ...] = ()  # within a measure, a range, a size or a bracket


def search(house: House, typesetter: Typesetter, seeds: range) -> Iterator[Tried]:
    """Each recipe in a size of its own, all sizes in turn."""
    larder = load_larder()
    for seed in seeds:
        size = SIZES[seed % len(SIZES)]
        prepared = prepare("made-up", recipe(seed).encode(), "recipe.yaml", larder, house)
        if prepared.card is None:
            told = "; ".join(
                f"{one.name}: {one.what}" for one in prepared.findings if one.severity.name == "ERROR"
            )
            yield Tried(seed=seed, size=size, refused=told)
            continue
        style = replace(house.card, size=card_size(size), cards=CARDS)
        try:
            view = card_view(prepared.card, house)
            layout = lay_out_card(view, typesetter, style, {})
        except LayoutError as error:
            yield Tried(seed=seed, size=size, refused=str(error))
            continue
        yield Tried(seed=seed, size=size, refused="", broken=breaks(layout))


def tell(line: str) -> None:
    """One line of the account."""
    sys.stdout.write(f"{line}\n")


def main() -> None:
    """Print what was found."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else RECIPES
    house = replace(load_house(ROOT), editions=())
    sizes: dict[str, list[Tried]] = defaultdict(list)
    with tempfile.TemporaryDirectory() as scratch:
        for tried in search(house, Typesetter(ROOT / "templates", Path(scratch)), range(count)):
            sizes[tried.size].append(tried)
            if tried.refused:
                tell(f"{tried.seed} {tried.size}: no card: {tried.refused}")
            for broken in tried.broken:
                tell(f"{tried.seed} {tried.size} page {broken.page}: {broken.text!r}")
    for size, found in sizes.items():
        tell(f"{size}: {len(found)} recipes, {sum(len(one.broken) for one in found)} wrong breaks")


if __name__ == "__main__":
    main()
