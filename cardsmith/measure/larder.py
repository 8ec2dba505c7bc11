"""The larder: what an ingredient is called, what a cup of it weighs, and what it does in a formula."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property, lru_cache
from itertools import combinations

from cardsmith.reference import folder, table
from cardsmith.regex import regex


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseholdMeasure:
    """What ``amount`` of a measure weighs, in grams; low and high where a source gives both."""

    form: str
    measure: str
    amount: Fraction
    grams: Fraction
    grams_low: Fraction | None
    grams_high: Fraction | None
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Food:
    """One ingredient of the larder."""

    key: str
    name: str
    uk_name: str
    aliases: tuple[str, ...]
    generic: tuple[str, ...]  # names too vague for print
    aisle: str
    state: str  # powder, granule, liquid, paste, solid, piece, leaf
    us_print: str  # volume, weight or count
    roles: Mapping[str, Fraction]  # mass share acting in each role
    ndb_no: str
    us_allergens: tuple[str, ...]
    eu_allergens: tuple[str, ...]
    origin: frozenset[str]
    measures: tuple[HouseholdMeasure, ...]
    source: str

    def share(self, role: str) -> Fraction:
        """The mass fraction of this food acting in ``role``; 0 where it has none."""
        return self.roles.get(role, NONE)

    def __hash__(self) -> int:
        """By the key alone, so that what is worked out for a food is quickly found again."""
        return hash(self.key)


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """How a text names a food."""

    food: Food
    name: str  # the larder's name or alias that was found
    form: str  # a form of the food named in the text (chopped, sifted), else ""
    generic: bool  # whether the name is too vague for print


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """The food, or the food of a class, that a name no larder has comes nearest to."""

    food: Food
    name: str  # the noun or the name that was found
    is_class: bool  # whether ``food`` only stands for its class: venison for elk
    beside: tuple[Food, ...]  # foods that the words left over name: the hazelnut of hazelnut milk
    us_allergens: tuple[str, ...] = ()  # what foods of the class may hold besides, with a question mark
    eu_allergens: tuple[str, ...] = ()


NONE = Fraction(0)
LIKE = 0.7  # of 2: shared words and likeness of spelling together
LONGEST_NAME = 6  # words
LONGEST_TEXT = 14  # words; beyond, nobody names one food
_TURNED = regex(r"[,(]|\b(?:of|from)\b", re.IGNORECASE)  # "flour, rye", "zest of a lemon"
_WORD = regex(r"[a-z0-9%]+(?:'[a-z]+)?")
IRREGULAR = {"leaves": "leaf", "halves": "half", "loaves": "loaf", "calves": "calf", "feet": "foot"}


@lru_cache(maxsize=1 << 16)
def words(text: str) -> tuple[str, ...]:
    """``text`` as comparable words: lower case, no accents, hyphens apart, each in the singular."""
    plain = text.lower()
    if not plain.isascii():
        plain = unicodedata.normalize("NFKD", plain.replace("œ", "oe"))
        plain = "".join(letter for letter in plain if not unicodedata.combining(letter)).replace("’", "'")
    return tuple(map(_singular, _WORD.findall(plain)))


@lru_cache(maxsize=1 << 14)
def _singular(word: str) -> str:
    """One spelling for singular and plural; it need not be English, only the same for both."""
    if not word.endswith(("s", "'")):
        return IRREGULAR.get(word, word)
    word = word.removesuffix("'s").removesuffix("'")
    if word in IRREGULAR:
        return IRREGULAR[word]
    for ending, singular in (("ies", "y"), ("oes", "o"), ("ches", "ch"), ("shes", "sh"), ("xes", "x")):
        if word.endswith(ending) and len(word) > len(ending) + 1:
            return word.removesuffix(ending) + singular
    keeps_its_s = word.endswith(("ss", "us", "is")) or len(word) < 4
    return word if keeps_its_s else word.removesuffix("s")


@cache
def _descriptors() -> dict[str, str]:
    """Words that describe without renaming a food, with the form they name: chopped, ripe, finely."""
    return {_singular(row["word"]): row["form"] for row in table("descriptors") if row["word"].isalpha()}


def form_of(word: str) -> str:
    """The larder's form that a describing word names: diced for "cubed"; empty for none."""
    return _descriptors().get(_singular(word), "")


def form_of_words(text: str) -> str:
    """The larder's form that a description names: minced for "finely minced", loose for "loosely packed".

    Of several the one that governs how a cup fills, by the order of ``larder_forms.csv``: packed before
    minced, minced before leaves. Empty where no form is named.
    """
    return _form(words(text))


def _form(told: tuple[str, ...]) -> str:
    pairs, found = _form_pairs(), []
    place = 0
    while place < len(told):
        pair = pairs.get(told[place : place + 2], "")
        found.append(pair or _descriptors().get(told[place], ""))
        place += 2 if pair else 1
    return min(filter(None, found), key=_ranks().__getitem__, default="")


@cache
def _ranks() -> dict[str, int]:
    return {row["form"]: rank for rank, row in enumerate(table("larder_forms"))}


@cache
def _form_pairs() -> dict[tuple[str, ...], str]:
    """Forms that two words name together, and neither alone: loosely packed is not packed."""
    named = ((words(row["word"]), row["form"]) for row in table("descriptors") if row["form"])
    return {told: form for told, form in named if len(told) > 1}


@cache
def _phrases() -> re.Pattern[str]:
    """Descriptions of several words, none of which describes alone: a free-range egg is not free of egg."""
    phrases = (row["word"] for row in table("descriptors") if not row["word"].isalpha())
    joined = "|".join(re.sub(r"[- ]", "[- ]", phrase) for phrase in sorted(phrases, key=len, reverse=True))
    return regex(rf"\b(?:{joined})\b", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Larder:
    """Every food by its key, and the look-up by name."""

    foods: Mapping[str, Food]

    def __hash__(self) -> int:
        """By how many foods it holds: a process has one or two."""
        return len(self.foods)

    @cached_property
    def _names(self) -> dict[frozenset[str], list[tuple[Food, str, bool]]]:
        """Foods by the words of each of their names, in any order; one name a food for each last word."""
        found: dict[frozenset[str], list[tuple[Food, str, bool]]] = {}
        for food in self.foods.values():
            generic = {frozenset(words(name)) for name in food.generic}
            for name in dict.fromkeys((food.name, food.uk_name, *food.aliases, *food.generic)):
                if told := words(name):
                    key = frozenset(told)
                    others = found.setdefault(key, [])
                    if all(one is not food or words(known)[-1] != told[-1] for one, known, _ in others):
                        others.append((food, name, key in generic))
        return found

    def find(self, text: str) -> Match | None:
        """The food that ``text`` names: the longest larder name in it, whatever the order of adjectives.

        Words left over must only describe (chopped, ripe); otherwise the text names something else and
        the answer is None, as it is where two foods fit equally well. The noun stands last, unless a comma
        or *of* turns the name round: ``flour, rye`` is rye flour, but ``sugar cane`` is no cane sugar.
        Never a guess.
        """
        return self._found(text)

    @cached_property
    def _found(self) -> Callable[[str], Match | None]:
        """Remembers what was asked: mentions, checks, facts and prices ask about the same words."""
        return lru_cache(maxsize=1 << 12)(self._find)

    def _find(self, text: str) -> Match | None:
        turned = bool(_TURNED.search(text))
        plain = _phrases().sub(" ", text)
        return self._named(words(text), turned=turned) or self._named(words(plain), turned=turned)

    def _named(self, wanted: tuple[str, ...], *, turned: bool) -> Match | None:
        if not wanted or len(wanted) > LONGEST_TEXT:
            return None
        describing = _descriptors()
        for size in range(min(len(wanted), LONGEST_NAME), 0, -1):
            fits = list(self._fits(wanted, size, describing, turned=turned))
            foods = {food.key for food, _, _, _ in fits}
            if len(foods) == 1:
                food, name, generic, rest = fits[0]
                return Match(food=food, name=name, form=_form(rest), generic=generic)
            if foods:
                return None
        return None

    def _fits(
        self, wanted: tuple[str, ...], size: int, describing: Mapping[str, str], *, turned: bool
    ) -> Iterator[tuple[Food, str, bool, tuple[str, ...]]]:
        for picked in combinations(range(len(wanted)), size):
            name = frozenset(wanted[place] for place in picked)
            if name in self._names:
                rest = tuple(word for place, word in enumerate(wanted) if place not in picked)
                if all(word in describing or word in name for word in rest):
                    for food, alias, generic in self._names[name]:
                        if turned or words(alias)[-1] == wanted[picked[-1]]:
                            yield food, alias, generic, rest

    def nearest_class(self, text: str) -> Nearest | None:
        """What ``text`` is at its core, where `find` knows no such food: ``pork loin chops`` is pork chop.

        The longest larder name that ends with the noun of ``text``, whatever stands before it (frozen,
        stone-ground); else the class that its noun names in ``head_nouns.csv``, else that any of its words
        names (elk tenderloin), the last first. What is only called after an animal food (vegan sausages,
        hazelnut milk) is no such food: None, as for what nobody knows.
        """
        if text not in self._classed:
            self._classed[text] = self._nearest_class(text)
        return self._classed[text]

    @cached_property
    def _classed(self) -> dict[str, Nearest | None]:
        """What was asked before: a few texts a collection, each several times."""
        return {}

    def _nearest_class(self, text: str) -> Nearest | None:
        for side in _TURNED.split(_AFTER.sub("", _BRACKETS.sub(" ", text)), maxsplit=1):
            told = words(side)[-LONGEST_TEXT:]
            while len(told) > 1 and told[-1] in _descriptors() and told[-1] not in _head_nouns():
                told = told[:-1]
            found = self._ending(told) or self._of_class(told) if told else None
            if found is not None:
                imitated = _imitated(words(text), found) and found.food.origin != _PLANT
                return None if imitated else found
        return None

    def _ending(self, told: tuple[str, ...]) -> Nearest | None:
        """By the longest larder name that ends with the last word; no single adjective makes a food."""
        last = len(told) - 1
        for size in range(min(last, LONGEST_NAME), 0, -1):
            for before in combinations(range(last - 1, -1, -1), size - 1):
                picked = (*sorted(before), last)
                name = frozenset(told[place] for place in picked)
                fits = [one for one in self._names.get(name, ()) if words(one[1])[-1] == told[last]]
                if fits:
                    food, alias, _ = fits[0]
                    rest = tuple(word for place, word in enumerate(told) if place not in picked)
                    return Nearest(food=food, name=alias, is_class=False, beside=self._beside(rest, food))
        return None

    def _of_class(self, told: tuple[str, ...]) -> Nearest | None:
        """By a noun of ``head_nouns.csv``: the last word of the text that is one."""
        for place in range(len(told) - 1, -1, -1):
            row = _head_nouns().get(told[place])
            if row and not row["stands_for"]:
                return None  # duck sauce: made with who knows what
            food = self.foods.get(row["stands_for"]) if row else None
            if row and food:
                return Nearest(
                    food=food,
                    name=told[place],
                    is_class=True,
                    beside=self._beside((*told[:place], *told[place + 1 :]), food),
                    us_allergens=_parts(row["us_allergens"]),
                    eu_allergens=_parts(row["eu_allergens"]),
                )
        return None

    def _beside(self, rest: tuple[str, ...], food: Food) -> tuple[Food, ...]:
        """The foods that single words left over name: those of a class too, so that no allergen is lost."""
        found: dict[str, Food] = {}
        for word in rest:
            if word in _descriptors():
                continue
            known = [one for one, _, _ in self._names.get(frozenset({word}), ())]
            row = _head_nouns().get(word)
            stands = self.foods.get(row["stands_for"]) if row else None
            for one in (*known[:1], *filter(None, (stands,))):
                if one.key != food.key:
                    found[one.key] = one
        return tuple(found.values())

    def nearest(self, text: str) -> tuple[str, ...]:
        """Up to three larder names most like ``text``, the nearest first; empty where nothing is near."""
        told = " ".join(words(text))
        wanted = frozenset(words(text)) - frozenset(_descriptors())
        # SequenceMatcher prepares its second text once; the quick bounds spare most comparisons.
        spelling = difflib.SequenceMatcher(b=told)
        scored: list[tuple[float, str]] = []
        for name, of, spelled in self._spelled:
            both = len(of & wanted)
            if not both and spelled[:1] != told[:1]:
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


@cache
def _head_nouns() -> Mapping[str, Mapping[str, str]]:
    """What a noun stands for where nothing nearer is known, by the noun as `words` spells it."""
    return {words(row["noun"])[-1]: row for row in table("head_nouns")}


@cache
def _imitations() -> tuple[tuple[str, ...], ...]:
    return tuple(words(row["word"]) for row in table("imitation_words"))


def _imitated(told: tuple[str, ...], found: Nearest) -> bool:
    """Whether a text names what only looks like an animal food: vegan sausages, cashew cream."""
    if any(told[at : at + len(name)] == name for name in _imitations() for at in range(len(told))):
        return True
    dairy = "milk" in found.food.origin and not any("milk" in one.origin for one in found.beside)
    return dairy and any(one.share(role) > NONE for one in found.beside for role in _MILKED)


_MILKED = ("nut", "legume", "grain", "seed")
_PLANT = frozenset({"plant"})
_BRACKETS = regex(r"\([^()]*\)?")
_AFTER = regex(r"\s(?:with|in|for|and|or|without)\s.*$", re.IGNORECASE | re.DOTALL)


def _parts(cell: str) -> tuple[str, ...]:
    return tuple([text for part in cell.split("|") if (text := part.strip())]) if cell else ()


@lru_cache(maxsize=1 << 12)
def _number(cell: str) -> Fraction:
    return Fraction(cell)  # most cells repeat, and reading one takes longer than finding it


def _measure(row: Mapping[str, str]) -> HouseholdMeasure:
    return HouseholdMeasure(
        form=row["form"],
        measure=row["measure"],
        amount=_number(row["amount"]),
        grams=_number(row["grams"]),
        grams_low=_number(row["grams_low"]) if row["grams_low"] else None,
        grams_high=_number(row["grams_high"]) if row["grams_high"] else None,
        source=row["source"],
    )


def _food(row: Mapping[str, str], aisle: str, measures: tuple[HouseholdMeasure, ...]) -> Food:
    shares = (role.split(":") for role in _parts(row["roles"]))
    return Food(
        key=row["key"],
        name=row["name"],
        uk_name=row["uk_name"],
        aliases=_parts(row["aliases"]),
        generic=_parts(row["generic"]),
        aisle=aisle,
        state=row["state"],
        us_print=row["us_print"],
        roles={name: _number(share) for name, share in shares},
        ndb_no=row["ndb_no"],
        us_allergens=_parts(row["us_allergens"]),
        eu_allergens=_parts(row["eu_allergens"]),
        origin=frozenset(_parts(row["origin"])),
        measures=measures,
        source=row["source"],
    )


@cache
def load_larder() -> Larder:
    """The larder of ``reference/larder/``; a key that stands twice, or a measure without a food, raises."""
    measures: dict[str, list[HouseholdMeasure]] = {}
    for name in folder("larder_measures"):
        for row in table(name):
            measures.setdefault(row["key"], []).append(_measure(row))
    foods: dict[str, Food] = {}
    for name in folder("larder"):
        for row in table(name):
            if row["key"] in foods:
                raise ValueError(f"{name}.csv: {row['key']!r} stands twice in the larder")
            foods[row["key"]] = _food(row, name.split("/")[1], tuple(measures.pop(row["key"], ())))
    if measures:
        raise ValueError(f"larder_measures name unknown foods: {', '.join(sorted(measures))}")
    return Larder(foods=foods)


def search(larder: Larder, text: str) -> tuple[Food, ...]:
    """Foods one of whose names holds every word of ``text``, the closest names first."""
    wanted = set(words(text))

    def extra(food: Food) -> int:
        names = (food.name, food.uk_name, *food.aliases)
        return min((len(words(name)) for name in names if wanted <= set(words(name))), default=0)

    found = [food for food in larder.foods.values() if extra(food)]
    return tuple(sorted(found, key=lambda food: (extra(food), food.name)))
