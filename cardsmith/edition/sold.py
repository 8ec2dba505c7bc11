"""What the shops of an edition's market have: cans, eggs and pans of their own sizes.

Of a can or a pan that they don't have the author is asked. Eggs go by the size nearest to the author's where
that is as near as an amount may be, else by weight.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache

from cardsmith.edition.asks import asked
from cardsmith.edition.markets import Can, Market
from cardsmith.finding import Finding
from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind, Measured, Span
from cardsmith.measure.larder import Food
from cardsmith.measure.pans import Pan
from cardsmith.measure.patterns import cell, is_of
from cardsmith.measure.units import Dimension
from cardsmith.measure.weighing import weight_of_one
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.reference import table

CANS = frozenset({"can", "tin"})
NEAR = Fraction(3, 100)  # as a can's label is rounder than what is in it
NEAR_PACK = Fraction(5, 100)  # an envelope of ¼ oz, 7.1 g, is one of 7 g
# Smaller and larger ones (tomato paste, a caterer's) are sold in too many sizes to choose (common practice).
ORDINARY = (Fraction(300), Fraction(900))
EGGS = ("key:egg", "key:egg-white", "key:egg-yolk")
NEAR_PAN = Fraction(6, 100)  # of its area: a centimetre on a round of 23 cm is 9 (common practice, no source)
MARKED = Fraction(6)  # mm between an edge and the nearest that a pan is marked with


def cans_sold(line: Ingredient, market: Market) -> str:
    """What cans an edition sells, where none is of a line's size; else empty."""
    if _grams_of_can(line, market) is None or can_there(line, market):
        return ""
    return "; ".join(can.said for can in _cans(line, market))


def can_there(line: Ingredient, market: Market) -> Can | None:
    """An edition's can that is a line's own but for its label: 800 g for 28 oz; None for none."""
    if (grams := _grams_of_can(line, market)) is None:
        return None
    return next((can for can in _cans(line, market) if abs(grams / can.grams - 1) <= NEAR), None)


def _cans(line: Ingredient, market: Market) -> tuple[Can, ...]:
    """The cans that a line's food is sold in: its own, or those of most foods."""
    own = tuple(can for can in market.cans if line.food and line.food.key in can.foods)
    return own or tuple(can for can in market.cans if not can.foods)


def _grams_of_can(line: Ingredient, market: Market) -> Fraction | None:
    """The grams of a line's can; None for no can, and for one of a size that nobody can tell."""
    box = line.container
    if box is None or box.word not in CANS or box.each is None or box.each.dimension is not Dimension.MASS:
        return None
    grams = box.each.middle
    ordinary = ORDINARY[0] <= grams <= ORDINARY[1]
    return grams if ordinary or any(can.foods for can in _cans(line, market)) else None


# --- packs ---


@frozen
class SoldPack:
    """A pack that a food is sold in: its word, and what it holds in grams."""

    edition: str
    word: str
    grams: Fraction


@cache
def packs() -> Mapping[str, tuple[SoldPack, ...]]:
    """The packs of each food that is bought and counted by the pack, by its key."""
    by_name: dict[str, list[SoldPack]] = {}
    for row in table("edition_packs"):
        for food in cell(row["foods"]):
            pack = SoldPack(edition=row["edition"], word=row["word"], grams=Fraction(row["grams"]))
            by_name.setdefault(food, []).append(pack)
    return {food: tuple(some) for food, some in by_name.items()}


def pack_grams(food: Food, word: str) -> Fraction | None:
    """What one pack of a food holds by the larder, else by the market that goes by the word."""
    if weighing := weight_of_one(food, word):
        return weighing.grams
    return next((pack.grams for pack in packs().get(food.key, ()) if pack.word == word), None)


def pack_there(food: Food, grams: Fraction, market: Market) -> SoldPack | None:
    """The pack of an edition that holds as much; None where there is none."""
    of_food = (pack for pack in packs()[food.key] if pack.edition == market.key)
    return next((pack for pack in of_food if abs(grams / pack.grams - 1) <= NEAR_PACK), None)


# --- gelatine in sheets ---

GRADES = ("bronze", "silver", "gold", "platinum")


def sheet_of_no_grade(line: Ingredient) -> str:
    """The grades of gelatine in sheets, where a line lists it and names none; else empty."""
    sheet = line.food is not None and line.food.key.endswith("-gelatine-sheet")
    named = any(grade in line.item.lower().split() for grade in GRADES)
    return f"{', '.join(GRADES[:-1])} or {GRADES[-1]}" if sheet and not named else ""


# --- eggs ---


@cache
def egg_sizes(key: str) -> Mapping[str, Fraction]:
    """The size classes of a market, and what one of each weighs in the shell: the middle of its class."""
    return {
        row["size"]: (Fraction(row["least"]) + Fraction(row["under"])) / 2
        for row in table("egg_sizes")
        if row["edition"] == key
    }


def is_egg(food: Food | None) -> bool:
    """Whether a food is sold by the size classes of eggs."""
    return is_of(food, EGGS)


def egg_size(size: str, home: Market, market: Market, within: Fraction) -> str | None:
    """The size of an edition's eggs that stands for the author's; None where none is ``within`` its weight.

    >>> from cardsmith.edition.markets import markets
    >>> us, uk, au = (markets()[key] for key in ("us", "uk", "au"))
    >>> [egg_size("large", us, one, Fraction(5, 100)) for one in (uk, au)]
    ['medium', 'extra-large']
    >>> egg_size("medium", us, uk, Fraction(5, 100)) is None
    True
    """
    ours, theirs = egg_sizes(home.key), egg_sizes(market.key)
    if ours == theirs or size not in ours:
        return size
    off = {egg: abs(theirs[egg] / ours[size] - 1) for egg in market.eggs if egg in theirs}
    nearest = min(off, key=off.__getitem__, default=None)
    return nearest if nearest is not None and off[nearest] <= within else None


# --- pans ---


def unsold_pans(recipe: Recipe, market: Market) -> Iterator[Finding]:
    """Each pan that an edition's shops don't have, with the nearest that they have; each size once."""
    reported: set[tuple[str, tuple[Fraction, ...]]] = set()
    for span in _vessels(recipe):
        edges = tuple(sorted(side.high for side in span.sides[:2]))
        shape = _shape(span.noun, len(edges))
        if not shape or (shape, edges) in reported:
            continue
        reported.add((shape, edges))
        mine = Pan(shape=shape, edges=edges)
        shapes = {shape, "loaf"} if shape == "rectangle" else {shape}  # a small one by no name is of either
        sold = [pan for pan in _pans(market.key) if pan.shape in shapes and len(pan.edges) == len(edges)]
        off = {pan: pan.area / mine.area - 1 for pan in sold}
        if not off or any(_is_same(pan, mine) or abs(by) <= NEAR_PAN for pan, by in off.items()):
            continue
        nearest = min(off, key=lambda pan: abs(off[pan]))
        more = "larger" if off[nearest] > 0 else "smaller"
        yield asked(
            span.where,
            f"in the {market.name} a {span.noun} of {span.text} is in no shop; the nearest, "
            f"{_told(nearest)}, is {round(abs(off[nearest]) * 100)} % {more}",
            "a size that both have, or say under accepted why the nearest will do",
            span.text,
            name="edition-pan-unsold",
        )


def _vessels(recipe: Recipe) -> Iterator[Measured]:
    spans: list[Span] = [other for step in recipe.steps for other in step.spans]
    spans += [other for text in recipe.equipment for other in spans_of(recipe, text.text, text.where)]
    for span in spans:
        if isinstance(span, Measured) and span.kind is Kind.VESSEL and span.sides:
            yield span


def _shape(noun: str, edges: int) -> str:
    """The shape of a pan by its name; empty where that doesn't tell, and for what is sold in any size."""
    words = frozenset(noun.lower().split())
    if not words & {"pan", "pans", "tin", "tins"} or words & {
        "frying",
        "roasting",
        "sheet",
        "sauce",
        "muffin",
    }:
        return ""
    if edges > 1:
        return "loaf" if "loaf" in words else "rectangle"
    if "square" in words:
        return "square"
    return "round" if words & {"round", "cake", "springform"} else ""


def _is_same(pan: Pan, other: Pan) -> bool:
    """Whether two markets mark one pan so: 9 inches, 23 cm."""
    return all(
        abs(mine - theirs) <= MARKED for mine, theirs in zip(sorted(pan.edges), other.edges, strict=True)
    )


def _told(pan: Pan) -> str:
    return " × ".join(f"{float(edge / 10):g}" for edge in pan.edges) + " cm"


@cache
def _pans(key: str) -> tuple[Pan, ...]:
    return tuple(
        Pan(
            shape=row["shape"],
            edges=tuple(
                Fraction(edge) * 10 for edge in (row["centimetres"], row["centimetres_across"]) if edge
            ),
        )
        for row in table("edition_pans")
        if row["edition"] == key
    )
