"""The larder: what an ingredient is called, what a cup of it weighs, and what it does in a formula."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache, cached_property, lru_cache, partial
from itertools import combinations

from cardsmith.files.user_cache import kept
from cardsmith.frozen import frozen
from cardsmith.measure.food import MAIN_SHARE, NONE, Food, HouseholdMeasure, Own
from cardsmith.measure.food_words import (
    IRREGULAR,
    describing,
    form_named,
    form_of,
    form_of_words,
    plainer,
    words,
)
from cardsmith.measure.modifiers import plainer_names
from cardsmith.reference import OURS, PLACE, Tables, folder, table
from cardsmith.regex import regex

__all__ = (
    "IRREGULAR",
    "Food",
    "HouseholdMeasure",
    "Larder",
    "Match",
    "form_of",
    "form_of_words",
    "load_larder",
    "search",
    "words",
)


@frozen
class Match:
    """How a text names a food."""

    food: Food
    name: str  # the larder's name or alias that was found
    form: str  # a form of the food named in the text (chopped, sifted), else ""
    generic: bool  # whether the name is too vague for print
    without: tuple[str, ...] = ()  # words that tell a sort, where the larder has no food for it: Thai


_Fit = tuple[
    Food, str, bool, tuple[str, ...]
]  # a food, the name that was found, whether too vague, what is left
Names = Mapping[frozenset[str], list[tuple[Food, str, bool]]]
ON_FOODS = ("composition", "compounds", "trims")  # tables whose rows speak of a food
LIKE = 0.7  # of 2: shared words and likeness of spelling together
LONGEST_NAME = 6  # words
LONGEST_TEXT = 14  # words; beyond, nobody names one food
TURNED = regex(r"(?i)[,(]|\b(?:of|from)\b")  # "flour, rye", "zest of a lemon"
WHOLE = (
    "vegetable",
    "fruit",
    "allium",
    "herb",
    "meat",
    "poultry",
    "fish",
    "shellfish",
    "egg",
)  # grown or raised
LESSENED = {  # roles that a maker takes away
    "fat": ("fat", "butter", "oil", "cream"),
    "sugar": ("sugar",),
    "salt": ("salt",),
    "sodium": ("salt",),
    "alcohol": ("alcohol",),
}
HELD_LESS = frozenset({*LESSENED, "calorie", "carb", "unsalted", "unsweetened"})
TRACE = Fraction(1, 50)  # a role that so little of a food acts in can be done without
DRY = Fraction(3, 20)  # of water: what holds no more is sold dried, whether the line says so or not


@frozen(slots=False)
class Larder:
    """Every food by its key, and the look-up by name."""

    foods: Mapping[str, Food]
    names: Names  # by their words, whether each is too vague for print
    tables: Tables = OURS  # what else the kitchen knows: its kinds, words, pans

    def __eq__(self, other: object) -> bool:
        """Itself alone: remembering by a larder's value would compare two thousand foods each time."""
        return self is other

    def __hash__(self) -> int:
        """By identity, as it compares."""
        return id(self)

    def find(self, text: str) -> Match | None:
        """The food that ``text`` names: the longest larder name in it, whatever the order of adjectives.

        Words left over must only describe (chopped, ripe); otherwise the text names something else and
        the answer is None, as it is where two foods fit equally well. The noun stands last, unless a comma
        or *of* turns the name round: ``flour, rye`` is rye flour, but ``sugar cane`` is no cane sugar.
        Words that only tell a sort by their grammar (Thai, low-sodium) are left out, and the match says so.
        Never a guess.
        """
        return self._found(text)

    @cached_property
    def _found(self) -> Callable[[str], Match | None]:
        """Remembers what was asked: mentions, checks, facts and prices ask about the same words."""
        return lru_cache(maxsize=1 << 12)(
            lambda text: (
                self._told(text) or (self._told(shorn) if (shorn := _TAIL.sub("", text)) != text else None)
            )
        )

    def _told(self, text: str) -> Match | None:
        return self._find(text) or self._qualified(text) or self._of_a_sort(text)

    def _find(self, text: str) -> Match | None:
        for name in plainer(text):
            match = self._named(words(name), turned=bool(TURNED.search(name)))
            if match is not None:
                return match
        return None

    def _qualified(self, text: str) -> Match | None:
        """Without a word that asks for a sort of the same food: gluten-free tamari, dried linguine.

        Vegan butter is another food than butter, and a dried fig than a fig.
        """
        for pattern, is_same in _qualifiers():
            plain = pattern.sub(" ", text)
            match = self._find(plain) or self._qualified(plain) if plain != text else None
            if match is not None and is_same(match.food):
                return match
        return None

    def _of_a_sort(self, text: str) -> Match | None:
        """Without modifiers that leave a food what it is: Thai red curry paste, anchovy-free dressing.

        A name too vague for print is not told by a sort that nobody knows: Ruritanian oil may be of nuts.
        """
        for plain in plainer_names(text, self.vocabulary.__contains__):
            match = self._find(plain.text) or self._qualified(plain.text)
            if match is None or (match.generic and not plain.is_same and not match.food.is_mainly(*WHOLE)):
                continue
            if all(self._may_lack(match.food, name) for name in plain.without):
                less = any(HELD_LESS & {name.lower(), *words(name)} for name in plain.without)
                # Whatever a maker has taken out, no table of composition says what is left.
                food = replace(match.food, ndb_no="") if less else match.food
                return replace(match, food=food, without=() if plain.is_same else plain.without)
        return None

    def _may_lack(self, food: Food, modifier: str) -> bool:
        """Whether a food without what ``modifier`` names (sugar-free, fish-free) is still that food."""
        if any(pattern.search(modifier) and not is_same(food) for pattern, is_same in _claims()):
            return False
        allergens = {*food.us_allergens, *food.eu_allergens}
        for lacked in words(modifier) if "-" in modifier else ():
            if any(food.share(role) > TRACE for role in LESSENED.get(lacked, ())):
                return False
            other = self._find(lacked)
            if other and allergens & {*other.food.us_allergens, *other.food.eu_allergens}:
                return False
        return True

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """The words that name foods, their classes and imitations, as written there and as compared."""
        names = (name for food in self.foods.values() for name in (food.name, food.uk_name, *food.aliases))
        vocabulary = set(" ".join((*names, *_nouns())).lower().split())
        return frozenset((*vocabulary, *words(" ".join(vocabulary))))

    def _named(self, wanted: tuple[str, ...], *, turned: bool) -> Match | None:
        if not wanted or len(wanted) > LONGEST_TEXT:
            return None
        for size in range(min(len(wanted), LONGEST_NAME), 0, -1):
            fits = list(self._fits(wanted, size, turned=turned))
            foods = {food.key for food, _, _, _ in fits}
            if len(foods) > 1:
                fits = _cut(fits)
            if len({food.key for food, _, _, _ in fits}) == 1:
                food, name, generic, rest = fits[0]
                form = form_named(rest) or _form_of_name(food, name)
                return Match(food=food, name=name, form=form, generic=generic)
            if foods:
                return None
        return None

    def _fits(self, wanted: tuple[str, ...], size: int, *, turned: bool) -> Iterator[_Fit]:
        sized = "inch" in wanted  # a baked 9-inch pie crust
        for picked in combinations(range(len(wanted)), size):
            name = frozenset(wanted[place] for place in picked)
            if name in self.names:
                rest = tuple(word for place, word in enumerate(wanted) if place not in picked)
                if all(word in describing() or word in name or (sized and word.isnumeric()) for word in rest):
                    for food, alias, generic in self.names[name]:
                        if turned or words(alias)[-1] == wanted[picked[-1]]:
                            yield food, alias, generic, rest

    def nearest(self, text: str) -> tuple[str, ...]:
        """Up to three larder names most like ``text``, the nearest first; empty where nothing is near."""
        own_spelling = " ".join(words(text))
        wanted = frozenset(words(text)) - frozenset(describing())
        # SequenceMatcher prepares its second text once; the quick bounds spare most comparisons.
        spelling = difflib.SequenceMatcher(b=own_spelling)
        scored: list[tuple[float, str]] = []
        for name, of, spelled in self._spelled:
            both = len(of & wanted)
            if not both and spelled[:1] != own_spelling[:1]:
                continue  # a slip of the pen seldom changes the first letter
            shared = both / len(of | wanted)
            spelling.set_seq1(spelled)
            if shared + spelling.real_quick_ratio() > LIKE and shared + spelling.quick_ratio() > LIKE:
                scored.append((shared + spelling.ratio(), name))
        return tuple(name for score, name in sorted(scored, reverse=True)[:3] if score > LIKE)

    @cached_property
    def _spelled(self) -> tuple[tuple[str, frozenset[str], str], ...]:
        """Every name with its words, as a set and as one text."""
        names = {name for food in self.foods.values() for name in (food.name, *food.aliases)}
        return tuple((name, frozenset(words(name)), " ".join(words(name))) for name in sorted(names))


def _cut(fits: list[_Fit]) -> list[_Fit]:
    """Of foods that fit alike, those whose name says how they are cut: toasted sliced almonds are sliced.

    None where they differ in what they hold.
    """
    held = {(food.us_allergens, food.eu_allergens, food.origin) for food, _, _, _ in fits}
    return [fit for fit in fits if not form_named(fit[3])] if len(held) == 1 else []


def _form_of_name(food: Food, name: str) -> str:
    """The form that a name itself tells, where the food has a cup of it: broccoli florets."""
    form = form_named(words(name))
    return form if any(row.form == form for row in food.measures) else ""


def _nouns() -> Iterator[str]:
    """What names foods besides the larder: classes, imitations, claims."""
    columns = {"head_nouns": "noun", "class_words": "word", "imitation_words": "word", "diets": "claim"}
    return (row[column] for name, column in columns.items() for row in table(name))


@cache
def _qualifiers() -> tuple[tuple[re.Pattern[str], Callable[[Food], bool]], ...]:
    """Words for a sort that a shop sells of a food, and whether it is still that food."""
    dried = (regex(r"(?i)\bdried\b"), lambda food: NONE < food.share("water") <= DRY or "grain" in food.roles)
    return (dried, *_claims())


@cache
def _claims() -> tuple[tuple[re.Pattern[str], Callable[[Food], bool]], ...]:
    """The words of each claim, and whether a food may keep it."""
    return tuple(map(_claimed, table("diets")))


def _claimed(row: Mapping[str, str]) -> tuple[re.Pattern[str], Callable[[Food], bool]]:
    """The words of a claim, and whether a food is not of a kind that always breaks it."""
    names = "|".join(re.sub(r"[- ]", "[- ]", claim) for claim in (row["claim"], *parts(row["aliases"])))
    broken = {*parts(row["us_allergens"]), *parts(row["eu_allergens"])}
    origins = frozenset(parts(row["origins"]))

    def may_keep(food: Food) -> bool:
        return broken.isdisjoint((*food.us_allergens, *food.eu_allergens)) and not food.sure_origin & origins

    return regex(rf"(?i)\b(?:{names})\b"), may_keep


def parts(cell: str) -> tuple[str, ...]:
    """The entries of a table's cell: ``milk|egg``."""
    return tuple([text for part in cell.split("|") if (text := part.strip())]) if cell else ()


@lru_cache(maxsize=1 << 12)
def _number(cell: str) -> Fraction:
    return Fraction(cell)  # most cells repeat, and reading one takes longer than finding it


def role_shares(cell: str) -> dict[str, Fraction]:
    """The shares of a table's cell by their roles: ``flour:1|water:0.5``."""
    pairs = (entry.split(":") for entry in parts(cell))
    return {role: _number(share) for role, share in pairs}


def _measure(row: Mapping[str, str]) -> HouseholdMeasure:
    return HouseholdMeasure(
        form=row["form"],
        measure=row["measure"],
        amount=_number(row["amount"]),
        grams=_number(row["grams"]),
        grams_low=_number(row["grams_low"]) if row["grams_low"] else None,
        grams_high=_number(row["grams_high"]) if row["grams_high"] else None,
        source=row["source"],
        place=row.get(PLACE, ""),
    )


def _food(row: Mapping[str, str], aisle: str, measures: tuple[HouseholdMeasure, ...], tables: Tables) -> Food:
    roles = role_shares(row["roles"])
    return Food(
        key=row["key"],
        name=row["name"],
        uk_name=row["uk_name"],
        aliases=parts(row["aliases"]),
        generic=parts(row["generic"]),
        aisle=aisle,
        state=row["state"],
        us_print=row["us_print"],
        roles=roles,
        ndb_no=row["ndb_no"],
        us_allergens=parts(row["us_allergens"]),
        eu_allergens=parts(row["eu_allergens"]),
        origin=frozenset(parts(row["origin"])),
        measures=measures,
        source=row["source"],
        place=row.get(PLACE, ""),
        own=_own(row["key"], roles, tables) if tables.own else {},
    )


def _own(key: str, roles: Mapping[str, Fraction], tables: Tables) -> Own:
    """The house's rows that speak of a food, by its key or by what it mainly does, of each table."""
    named = {key, *(f"role:{role}" for role, share in roles.items() if share >= MAIN_SHARE)}
    own = {name: tuple(row for row in tables.own.get(name, ()) if row["food"] in named) for name in ON_FOODS}
    return {name: rows for name, rows in own.items() if rows}


def load_larder(tables: Tables = OURS) -> Larder:
    """The larder of ``reference/larder/`` and of a house's own, the same for equal tables.

    Raises:
        ValueError: a key stands twice, or a measure without a food.
    """
    return _larder(tables)


@lru_cache(maxsize=4)
def _larder(tables: Tables) -> Larder:
    foods, names = _stocked(tables) if tables.own else kept("larder", partial(_stocked, OURS))
    return Larder(foods=foods, names=names, tables=tables)


def _stocked(tables: Tables) -> tuple[dict[str, Food], Names]:
    measures: dict[str, list[HouseholdMeasure]] = {}
    for row in tables.rows("larder_measures"):
        measures.setdefault(row["key"], []).append(_measure(row))
    foods: dict[str, Food] = {}
    for aisle, listed in _aisles(tables):
        if (key := listed["key"]) in foods:
            raise ValueError(f"larder/{aisle}.csv: {key!r} stands twice in the larder")
        foods[key] = _food(listed, aisle, tuple(measures.pop(key, ())), tables)
    if measures:
        raise ValueError(f"larder_measures name unknown foods: {', '.join(sorted(measures))}")
    return foods, _by_words(foods.values())


def _by_words(foods: Iterable[Food]) -> Names:
    """Foods by the words of each of their names, in any order; one name a food for each last word."""
    by_words: dict[frozenset[str], list[tuple[Food, str, bool]]] = {}
    for food in foods:
        generic = {frozenset(words(name)) for name in food.generic}
        for name in dict.fromkeys((food.name, food.uk_name, *food.aliases, *food.generic)):
            if name_words := words(name):
                key = frozenset(name_words)
                others = by_words.setdefault(key, [])
                if all(other is not food or words(known)[-1] != name_words[-1] for other, known, _ in others):
                    others.append((food, name, key in generic))
    return by_words


def _aisles(tables: Tables) -> Iterator[tuple[str, Mapping[str, str]]]:
    """Every food with its aisle: from a cell of the house's table, or from a table of ours for each."""
    own = tables.own.get("larder", ())
    taken = {row["key"] for row in own}
    yield from ((row["aisle"], row) for row in own)
    for name in folder("larder"):
        aisle = name.partition("/")[2]
        yield from ((aisle, row) for row in table(name) if row["key"] not in taken)


def search(larder: Larder, text: str) -> tuple[Food, ...]:
    """Foods one of whose names holds every word of ``text``, the closest names first."""
    wanted = set(words(text))

    def extra(food: Food) -> int:
        names = (food.name, food.uk_name, *food.aliases)
        return min((len(words(name)) for name in names if wanted <= set(words(name))), default=0)

    foods = [food for food in larder.foods.values() if extra(food)]
    return tuple(sorted(foods, key=lambda food: (extra(food), food.name)))


_TAIL = regex(  # what stands behind a name and leaves the food what it is: mussels in their shells
    r"\s(?:without .*|from (?:pasteuri[sz]ed|whole|organic) \w+|(?:in|on) (?:their|its) .*"
    r"|with (?:\w+ )?(?:live|active) .*|with (?:the |their |its )?"
    r"(?:cultures|skins?|leaves|tops|stems?|stalks?|roots|bones?|shells?|peel|rind|pulp|fat)(?: \w+)?)$",
    re.IGNORECASE,
)
