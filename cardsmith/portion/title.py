"""Which foods of the list the title names, and how much of the finished food they are (QUID)."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from cardsmith.bench.wording import figure
from cardsmith.facts.kinds import kind_of
from cardsmith.frozen import frozen
from cardsmith.measure.larder import words
from cardsmith.portion.finished import Finished
from cardsmith.portion.portion_file import key_of
from cardsmith.portion.shares import LineShare
from cardsmith.recipe.mentions.naming import CONNECTING, descriptors
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table

# A title names these for their taste, of which a little is much: no percentage is asked for what is used in
# small quantities for flavouring (Regulation (EU) 1169/2011, Annex VIII, 1(a)(iii)).
FLAVOURING = tuple(
    "spice herb flavouring salt soda baking-powder leavener vinegar stock agar gelatine pectin".split()
)
_DESCRIBE = frozenset(
    words("white red brown black green yellow golden dark light sweet wild whole plain country quick low")
)

_USES = frozenset(words("bread cake pastry pasta pizza baking cooking table"))


@frozen
class Named:
    """A word of the title and the lines that bear it."""

    word: str
    shares: tuple[LineShare, ...]

    @property
    def grams(self) -> Fraction:
        """Grams of it that go into the mixture."""
        return sum((share.eaten.likely for share in self.shares), start=Fraction(0))


def named_in_title(recipe: Recipe, shares: tuple[LineShare, ...]) -> tuple[Named, ...]:
    """The title's words that name a food of the list, in order; seasonings are left out."""
    names: list[Named] = []
    taken: set[int] = set()
    for word in _telling(recipe):
        bearing = tuple(
            place
            for place, share in enumerate(shares)
            if place not in taken and share.is_counted and word in _names(share) and not _flavours(share)
        )
        if bearing:
            taken.update(bearing)
            names.append(Named(word=word, shares=tuple(shares[place] for place in bearing)))
    return tuple(names)


def _telling(recipe: Recipe) -> tuple[str, ...]:
    """The words of the title that may name a food: not those of an idiom, of the dish, or of description."""
    title = list(words(recipe.title))
    for idiom in _idioms():
        for at in range(len(title) - len(idiom) + 1):
            if tuple(title[at : at + len(idiom)]) == idiom:
                title[at : at + len(idiom)] = [""] * len(idiom)
    makes = recipe.yields.makes_item if recipe.yields else ""
    kind = words(kind_of(recipe).replace("-", " "))[-1:]  # cake, of butter cake
    dish = {*kind, *words(makes), *_DESCRIBE, *descriptors(), *CONNECTING}
    return tuple(dict.fromkeys(word for word in title if word and word not in dish))


@cache
def _idioms() -> tuple[tuple[str, ...], ...]:
    return tuple(words(row["phrase"]) for row in table("title_idioms"))


def _names(share: LineShare) -> frozenset[str]:
    """The words of a line's names, less what a flour is for: bread flour is no bread."""
    food = share.line.food
    return frozenset(words(f"{share.line.item} {food.name if food else ''}")) - _USES


def _flavours(share: LineShare) -> bool:
    food = share.line.food
    if food is None:
        return False
    return food.share("salt") >= CURED or food.is_mainly(*FLAVOURING)


CURED = Fraction(1, 20)  # of salt: anchovies, olives and capers season a dish


def percentage(grams: Fraction, finished: Fraction) -> str:
    """``25 %`` of the finished food; above 100 %, ``made with 133 g per 100 g``.

    Source: Regulation (EU) 1169/2011, Annex VIII, 3 and 4(a): 200 g of sultanas in a mixture of 1,000 g that
    bakes to 800 g are 25 %.
    """
    share = grams / finished * 100
    if share > 100:
        return f"made with {figure(share, 0)} g per 100 g"
    return f"{figure(share, 0 if share >= 1 else 1)} %"


def percentages(recipe: Recipe, shares: tuple[LineShare, ...], finished: Finished) -> Mapping[str, str]:
    """The percentage of each food that the title names, by its key; none without the finished mass."""
    if finished.mass is None or not finished.mass.likely:
        return {}
    grams: dict[str, Fraction] = {}
    for named in named_in_title(recipe, shares):
        for share in named.shares:
            key = key_of(share.line)
            grams[key] = grams.get(key, Fraction(0)) + share.eaten.likely * finished.kept.likely
    return {key: percentage(mass, finished.mass.likely) for key, mass in grams.items()}
