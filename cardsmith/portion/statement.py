"""The ingredient statement of a recipe in its US form (21 CFR 101.4) and its EU form (1169/2011)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from fractions import Fraction
from functools import cache

from cardsmith.bench.wording import figure, share
from cardsmith.facts.foods.allergens import Allergens, allergens, classes, kind
from cardsmith.facts.kinds import kind_of
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.portion.finished import Finished
from cardsmith.portion.label import SMALL, WATER_ALLOWANCE
from cardsmith.portion.portion_file import key_of
from cardsmith.portion.shares import LineShare
from cardsmith.portion.title import percentages
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table

NO_ALLOWANCE = ("fish", "meat", "poultry", "sausage")  # kinds: meat, meat preparations and fishery products


@frozen
class StatementText:
    """Some text of a statement; ``allergen`` is emphasised in print."""

    text: str
    allergen: bool = False


@frozen
class StatedIngredient:
    """One ingredient; ``grams`` at mixing (added water in the EU form: in the finished food)."""

    pieces: tuple[StatementText, ...]
    grams: Fraction
    share: Fraction  # of the mixture (US), of the finished food where known (EU)


@frozen
class IngredientStatement:
    """One statement, heaviest first."""

    jurisdiction: str  # US or EU
    entries: tuple[StatedIngredient, ...]
    small: tuple[StatedIngredient, ...]  # of 2 % or less, behind their own heading; US only
    contains: tuple[str, ...]  # allergens, in the law's names
    perhaps: tuple[str, ...]  # "baking powder: wheat": depends on the brand
    notes: tuple[str, ...] = field(default=())  # the working: water, percentages, what has no weight

    @property
    def pieces(self) -> tuple[StatementText, ...]:
        """The whole statement in pieces, without the line of allergens."""
        pieces = list(_joined(self.entries))
        if self.small:
            pieces.append(
                StatementText(text="; contains 2% or less of: " if pieces else "Contains 2% or less of: ")
            )
            pieces.extend(_joined(self.small))
        return (*pieces, StatementText(text="."))

    @property
    def text(self) -> str:
        """The statement in plain text, allergens in capitals where the form emphasises them."""
        return "".join(piece.text.upper() if piece.allergen else piece.text for piece in self.pieces)


def _joined(entries: Iterable[StatedIngredient]) -> Iterable[StatementText]:
    for place, entry in enumerate(entries):
        if place:
            yield StatementText(text=", ")
        yield from entry.pieces


@frozen
class Compound:
    """What an ingredient is made of, as it is usually sold."""

    text: str  # empty where its parts are not listed
    allergens: tuple[str, ...]  # of the usual make: depends on the brand


@cache
def compounds(jurisdiction: str) -> Mapping[str, Compound]:
    """The ingredients whose parts a statement lists, by the larder's key."""
    return {row["food"]: _compound(row, jurisdiction) for row in table("compounds")}


def _compound(row: Mapping[str, str], jurisdiction: str) -> Compound:
    side = jurisdiction.lower()
    return Compound(text=row[side], allergens=tuple(filter(None, row[f"{side}_allergens"].split("|"))))


def _opened(summed: _Sum, jurisdiction: str) -> Compound | None:
    """What a food is made of, as the house says, else as our table does; None where it is not opened."""
    own = next(iter(summed.food.own.get("compounds", ())), None) if summed.food else None
    return _compound(own, jurisdiction) if own else compounds(jurisdiction).get(summed.key)


@frozen
class _Sum:
    """All lines of one food."""

    key: str
    food: Food | None
    item: str
    grams: Fraction


def statement(
    recipe: Recipe, shares: tuple[LineShare, ...], finished: Finished, jurisdiction: str, larder: Larder
) -> IngredientStatement:
    """The statement in the form of ``US`` or ``EU``.

    Order is by weight at mixing; frying oil, brines and the like by what is absorbed. In the EU form added
    water counts by what of it is left in the finished food, and may stay out up to 5 % of that; what the
    title names has its percentage.
    """
    sums = _sums(shares)
    mixed = sum((summed.grams for summed in sums), start=Fraction(0))
    notes: list[str] = []
    mass = finished.mass.likely if finished.mass else None
    named: Mapping[str, str] = {}
    whole = mixed
    if jurisdiction == "EU":
        named = percentages(recipe, shares, finished)
        sums, remarks = _with_water(sums, kind_of(recipe), mass, finished.kept.likely)
        notes += remarks
        whole = mass or mixed
    by = {summed.key: summed for summed in sums}
    entries = tuple(
        StatedIngredient(
            pieces=_pieces(summed, jurisdiction, named.get(summed.key, "")),
            grams=summed.grams,
            share=summed.grams / whole if whole else Fraction(0),
        )
        for summed in sorted(by.values(), key=lambda summed: (-summed.grams, summed.item))
        if summed.grams
    )
    thrown_away = (line_share for line_share in shares if line_share.eaten.likely < line_share.edible)
    partly = list(dict.fromkeys(line_share.line.item for line_share in thrown_away))
    if partly:
        notes.append(f"by what of it is eaten, the rest being thrown away: {listed(partly)}")
    tail = tuple(
        StatedIngredient(pieces=_pieces(summed, jurisdiction, ""), grams=Fraction(0), share=Fraction(0))
        for summed in _unweighed(shares, set(by))
    )
    if tail:
        notes.append(f"without a weight, so at the end: {listed([_plain(entry) for entry in tail])}")
    held = allergens((line_share.line for line_share in shares), jurisdiction.lower(), larder)
    if held.unknown:
        strange = listed(list(held.unknown))
        notes.append(f"the larder doesn't know {strange}: what allergens are in it is unknown")
    if jurisdiction == "US":
        main = tuple(entry for entry in entries if entry.share > SMALL)
        small = (*(entry for entry in entries if entry.share <= SMALL), *tail)
    else:
        main, small = (*entries, *tail), ()
    sure, perhaps = _held(held)
    return IngredientStatement(
        jurisdiction=jurisdiction,
        entries=main,
        small=small,
        contains=sure,
        perhaps=perhaps,
        notes=tuple(notes),
    )


def _plain(entry: StatedIngredient) -> str:
    return "".join(piece.text for piece in entry.pieces)


def _sums(shares: tuple[LineShare, ...]) -> list[_Sum]:
    sums: dict[str, _Sum] = {}
    for line_share in shares:
        if not line_share.is_counted:
            continue
        key, grams = _key(line_share), line_share.eaten.likely
        before = sums.get(key)
        sums[key] = (
            replace(before, grams=before.grams + grams)
            if before
            else _Sum(key=key, food=line_share.line.food, item=line_share.line.item, grams=grams)
        )
    return list(sums.values())


def _key(line_share: LineShare) -> str:
    """One food, one entry; ice and water are both water."""
    key = key_of(line_share.line)
    return "water" if key in ("ice", "water") else key


def _unweighed(shares: tuple[LineShare, ...], known: set[str]) -> list[_Sum]:
    sums_kept = {
        _key(line_share): _Sum(
            key=_key(line_share), food=line_share.line.food, item=line_share.line.item, grams=Fraction(0)
        )
        for line_share in shares
        if line_share.listed is None and not line_share.line.optional and _key(line_share) not in known
    }
    return list(sums_kept.values())


def _with_water(
    sums: list[_Sum], kind: str, mass: Fraction | None, kept: Fraction
) -> tuple[list[_Sum], list[str]]:
    """The sums with added water as the EU counts it: the finished mass less all other ingredients."""
    water = next((summed for summed in sums if summed.key == "water"), None)
    if water is None:
        return sums, []
    others = [summed for summed in sums if summed.key != "water"]
    if mass is None:
        return sums, ["added water by its weight at mixing: what the finished food weighs is unknown"]
    rest = sum((summed.grams for summed in others), start=Fraction(0)) * kept
    left = max(mass - rest, Fraction(0))
    working = (
        f"added water: {figure(mass)} g finished less {figure(rest)} g of the others is {figure(left)} g"
    )
    part = left / mass
    if part <= WATER_ALLOWANCE and kind not in NO_ALLOWANCE:
        return others, [f"{working}, {share(part)} of the finished food: up to 5 % may stay out"]
    return [*others, replace(water, grams=left)], [f"{working} ({share(part)})"]


def _name(summed: _Sum, jurisdiction: str) -> str:
    """The food's name in that market, singular or plural as in the list: sesame seeds."""
    if summed.food is None or summed.key == "water":
        return summed.key if summed.food else summed.item
    name = (summed.food.uk_name if jurisdiction == "EU" else "") or summed.food.name
    written = re.findall(r"\w+", summed.item)
    last = name.split()[-1]
    noun = next((word for word in reversed(written) if words(word) == words(last)), "")
    if noun and noun.lower() != last.lower() and words(noun)[0] not in descriptors():
        name = f"{name.removesuffix(last)}{noun}"
    return name


def _pieces(summed: _Sum, jurisdiction: str, percent: str) -> tuple[StatementText, ...]:
    """Name, what it is made of, and percentage, with allergens marked in the EU form."""
    opened = _opened(summed, jurisdiction)
    text = _name(summed, jurisdiction)
    inside = opened.text if opened else ""
    if inside.startswith(("raising agent: ", "acidity regulator: ")):
        text, inside = inside, ""  # the function and the additive's own name take the place of a trade name
    text += f" {percent}" if percent.startswith("made with") else f" ({percent})" if percent else ""
    if inside:
        text += f" ({inside})"
    if jurisdiction == "US":
        return (StatementText(text=text),)
    return _emphasised(text, summed.food, opened, jurisdiction)


def _emphasised(
    text: str, food: Food | None, opened: Compound | None, jurisdiction: str
) -> tuple[StatementText, ...]:
    """The text cut so that words naming an allergen stand alone; otherwise its name follows in brackets."""
    wanted = [name for name in (food.eu_allergens if food else ()) if not name.startswith("?")]
    inside = opened.allergens if opened else ()
    named = classes(jurisdiction.lower())
    spans: set[tuple[int, int]] = set()
    lacking: list[str] = []
    for name in (*wanted, *inside):
        places = [match.span() for match in named[name].naming.finditer(text)]
        spans.update(places)
        if not places and name in wanted:
            inside_name = kind(named[name], "", food) if name != "fish" else ""
            lacking.append(inside_name or named[name].printed)
    pieces: list[StatementText] = []
    at = 0
    for start, end in sorted(spans):
        if start < at:
            continue
        pieces += [StatementText(text=text[at:start]), StatementText(text=text[start:end], allergen=True)]
        at = end
    pieces.append(StatementText(text=text[at:]))
    for word in dict.fromkeys(lacking):
        pieces += [StatementText(text=" ("), StatementText(text=word, allergen=True), StatementText(text=")")]
    return tuple(piece for piece in pieces if piece.text)


def _held(allergens: Allergens) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The classes that are certainly present, and those that depend on the brand."""
    contains = tuple(
        f"{allergen.allergen.printed} ({listed(list(allergen.kinds_by_law))})"
        if allergen.kinds
        else allergen.allergen.printed
        for allergen in allergens.certain
    )
    perhaps = (
        f"{source.item}: {allergen.allergen.printed}"
        for allergen in allergens.possible
        for source in allergen.sources
    )
    return contains, tuple(dict.fromkeys(perhaps))
