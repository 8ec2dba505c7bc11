"""Lines that end where no typesetter would end them, looked for on cards of made-up recipes in every size.

Run ``python tests/benchmarks/breaks.py [--recipes 0:200] [HOUSE …]``, in the houses ``demo``, ``newspaper``,
``cookbook`` and ``plain``; 200 in one of them take four minutes. It prints each wrong break and each recipe
that made no card, and for each house and size how many cards were set and how many of their breaks are wrong:
within a measure, at the hyphen of a claim, or in the midst of a word. ``tests/render/card/test_breaks.py``
asks the same, by night of all 200.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import tempfile
from collections import defaultdict
from collections.abc import Iterator, Set
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path
from typing import Any

from markupsafe import Markup

from cardsmith.flow import prepare
from cardsmith.house.paper import card_size
from cardsmith.house.publication import Publication
from cardsmith.house.start import start
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder
from cardsmith.reference import table
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import CardView, FactView, card_view
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
CLAIMS = (
    "vegetarian",
    "gluten-free",
    "plant-based",
    "dairy-free",
    "tree-nut-free",
    "shellfish-free",
    "egg-free",
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
HYPHEN = "\u2010"  # that the typesetter divides a word with
_MARKS = "“”‘’(),.;:"
_FIGURE = r"[\d½⅓⅔¼¾⅛⅜⅝⅞⁄]"
_UNIT = (
    r"(?:kg|g|mg|ml|L|cm|mm|°C|°F|oz|lb|cups?|tbsp|tsp|inch(?:es)?|minutes?|hours?|seconds?|days?|quarts?"
    r"|tablespoons?|teaspoons?|ounces?|pounds?)"
)
WRONG = re.compile(
    rf"{_FIGURE}{END}(?:{_UNIT}\b|[½⅓⅔¼¾⅛⅜⅝⅞%])"  # 150 / g, 1 / ½
    rf"|{_FIGURE}-{END}"  # 9- / inch
    rf"|-{END}(?:free|based|high|{_UNIT}|ounce|inch|quart|pound)\b"  # gluten- / free, half- / inch
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


def breaks(layout: Layout, view: CardView) -> Iterator[Broken]:
    """The lines of a layout that end where none should."""
    texts = [[word.strip(_MARKS) for word in text.striptags().split()] for text in view.texts()]
    whole, pairs = (
        {word for words in texts for word in words},
        {two for words in texts for two in pairwise(words)},
    )
    measures = {word for text in _measures(view) for word in text.striptags().split()}
    for page, text in _paragraphs(layout.document):
        for one in WRONG.finditer(text):
            yield Broken(page=page, text=text[max(one.start() - 20, 0) : one.end() + 12])
        for before, after in divided(text, whole, pairs, measures):
            yield Broken(page=page, text=f"{before}{END}{after}")


def divided(
    text: str, whole: Set[str], pairs: Set[tuple[str, str]], measures: Set[str]
) -> Iterator[tuple[str, str]]:
    """The halves of each word that a line divides without a hyphen, or of a measure or a claim with one.

    ``whole`` are the words of the card, ``pairs`` those that follow each other there.
    """
    for line, following in pairwise(text.split(END)):
        before, after = (
            (line.split() or [""])[-1].lstrip(_MARKS),
            (following.split() or [""])[0].rstrip(_MARKS),
        )
        if before.endswith(HYPHEN):
            if before.rstrip(HYPHEN) + after in measures:
                yield before, after
        elif before[-1:].isalpha() and before + after in whole and (before, after) not in pairs:
            yield before, after


def _measures(view: CardView) -> Iterator[Markup]:
    """What a reader measures by, and the claims."""
    for part in view.parts:
        yield from (amount.unit for row in part.rows for amount in row.amounts)
    yield from (note.text for note in view.notes if note.kind == "claims")


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
    """Each recipe in a size of its own, all sizes in turn; with claims, as if they held for it."""
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
            view = claimed(card_view(prepared.card, house), seed)
            layout = lay_out_card(view, typesetter, style, {})
        except LayoutError as error:
            yield Tried(seed=seed, size=size, refused=str(error))
            continue
        yield Tried(seed=seed, size=size, refused="", broken=tuple(breaks(layout, view)))


def claimed(view: CardView, seed: int) -> CardView:
    """A card with claims in some order."""
    claims = random.Random(seed).sample(CLAIMS, random.Random(seed).randint(2, 5))
    note = FactView(kind="claims", label="Suits", text=Markup(", ".join(claims)))
    return replace(view, notes=(*view.notes, note))


def tell(line: str) -> None:
    """One line of the account."""
    sys.stdout.write(f"{line}\n")


def main() -> None:
    """Print what was found."""
    parser = argparse.ArgumentParser()
    parser.add_argument("houses", nargs="*", default=["demo"])
    parser.add_argument("--recipes", default=f"0:{RECIPES}", help="from:to")
    given = parser.parse_args()
    seeds = range(*map(int, given.recipes.split(":")))
    for name in given.houses:
        sizes: dict[str, list[Tried]] = defaultdict(list)
        with tempfile.TemporaryDirectory() as scratch:
            publication = Publication(root=ROOT)
            if name != "demo":
                publication = Publication(root=Path(scratch) / name)
                start(publication, "first-card", name)
            house = replace(publication.house(), editions=())
            for tried in search(house, Typesetter(publication.templates, Path(scratch)), seeds):
                sizes[tried.size].append(tried)
                if tried.refused:
                    tell(f"{tried.seed} {tried.size}: no card: {tried.refused}")
                for broken in tried.broken:
                    tell(f"{tried.seed} {tried.size} page {broken.page}: {broken.text!r}")
        for size, found in sizes.items():
            wrong = sum(len(one.broken) for one in found)
            tell(f"{name} {size}: {len(found)} recipes, {wrong} wrong breaks")


if __name__ == "__main__":
    main()
