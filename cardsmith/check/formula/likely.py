"""The kinds that a recipe without one may be: what its list is made of, and which of these its title names.

A word of the title alone makes no kind: a loaf without yeast is no yeast bread.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache

from cardsmith.check.parts import without_trimmings
from cardsmith.check.subject import Formula, Subject
from cardsmith.facts.kinds import kinds
from cardsmith.frozen import frozen
from cardsmith.last_result import remembered
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.result_words import DISH, WITH
from cardsmith.reference import OURS, Tables

OPEN = frozenset(
    words("biscuit squash syrup side sausage meatball burger caramel flan rice bean noodle")
)  # of two meanings
UNMISTAKABLE = frozenset({"sorbet", "ice-cream", "risotto", "jam", "marmalade", "curd"})  # by name alone
SHAPES = frozenset(words("bun puff ring ball bite finger square slice paste"))  # of what a kind is made into
TRACE = Fraction(1, 1000)
TOGETHER = {  # what several roles of the larder do alike
    "eggs": ("egg-white", "egg-yolk"),
    "yeast": ("yeast-instant", "yeast-active-dry", "yeast-fresh", "levain"),
    "foreign": ("vegetable", "allium", "meat", "poultry", "fish", "shellfish", "legume", "cheese", "rice"),
    "raising": ("soda", "baking-powder", "leavener"),
}
KEYS = {"cornmeal": "cornmeal", "citrus": "lemon|lime|orange|grapefruit|mandarin|clementine|yuzu|kumquat"}


@frozen
class Sign:
    """What share some roles have of the whole, or of another, in any list of a kind; shares as fractions."""

    roles: tuple[str, ...]
    of: str  # empty: of the whole
    low: Fraction
    high: Fraction | None


KindSigns = tuple[tuple[Sign, ...], frozenset[str]]


@cache
def closed_kinds(tables: Tables = OURS) -> frozenset[str]:
    """Those that alone have their signs: what holds so much flour and yeast is one of the doughs."""
    return frozenset(row["kind"] for row in tables.rows("kind_signs") if row["closed"] == "yes")


@cache
def signs(tables: Tables = OURS) -> Mapping[str, KindSigns]:
    """What marks each kind: its signs, and the words of which its method has one; none, any method."""
    return {
        row["kind"]: (
            tuple(_sign(cell) for cell in row["holds"].split("|")),
            frozenset(word for deed in filter(None, row["deeds"].split("|")) for word in words(deed)),
        )
        for row in tables.rows("kind_signs")
    }


def _sign(cell: str) -> Sign:
    """``flour+starch/milk:2-15``."""
    share, _, limits = cell.partition(":")
    of_which, _, of = share.partition("/")
    low, _, high = limits.partition("-")
    roles = tuple(role for part in of_which.split("+") for role in TOGETHER.get(part, (part,)))
    return Sign(
        roles=roles,
        of=of,
        low=Fraction(low or 0) / 100,
        high=Fraction(high) / 100 if high else None,
    )


@frozen
class Likeness:
    """A kind that some parts of a recipe have the signs of."""

    kind: str
    formula: Formula


@remembered  # by several checks
def possible_kinds(subject: Subject) -> tuple[Likeness, ...]:
    """The kinds whose signs the list has, all of it or any part; those of the whole dish first."""
    word_set = frozenset(word for step in subject.steps for word in words(step.text))
    recipe = subject.recipe
    core = without_trimmings(subject.components) or recipe.parts
    choices = dict.fromkeys((core, recipe.parts, *((part,) for part in recipe.parts)))
    marked = tuple(
        likeness
        for parts in choices
        for likeness in _marked(subject.formula(parts), word_set, subject.tables)
    )
    named = named_kind(subject)
    known = named in closed_kinds(subject.tables) | UNMISTAKABLE and not _is_served_with(subject)
    if known and all(likeness.kind != named for likeness in marked):
        return (*_at_all(named, subject.formula(core), word_set, signs(subject.tables)[named]), *marked)
    return marked


def _is_served_with(subject: Subject) -> bool:
    """Whether what the title names beside the dish is most of the list: a mayonnaise with potatoes."""
    _, *beside = WITH.split(subject.recipe.title, maxsplit=1)
    named = {word for text in beside for word in words(text)}
    formula = subject.formula(subject.recipe.parts)
    masses = (mass.grams for line, mass in formula.lines if mass and named & set(words(line.item)[-1:]))
    return 2 * sum(masses, Fraction(0)) > formula.roles["total"]


def _at_all(kind: str, formula: Formula, all_words: frozenset[str], marks: KindSigns) -> Iterator[Likeness]:
    """The kind that the title names, where its list has all that marks it, though far too little of one.

    Nothing is too much for it beside a role of which there may be too little.
    """
    masses, (holds, deeds) = _masses(formula), marks
    least = tuple(
        replace(sign, low=min(sign.low, TRACE), high=None if sign.of else sign.high) for sign in holds
    )
    if (
        masses["total"]
        and not (deeds and deeds.isdisjoint(all_words))
        and all(_has(masses, sign) for sign in least)
    ):
        yield Likeness(kind=kind, formula=formula)


def _marked(formula: Formula, all_words: frozenset[str], tables: Tables) -> Iterator[Likeness]:
    masses = _masses(formula)
    if masses["total"]:
        for kind, (holds, deeds) in signs(tables).items():
            if not (deeds and deeds.isdisjoint(all_words)) and all(_has(masses, sign) for sign in holds):
                yield Likeness(kind=kind, formula=formula)


def _masses(formula: Formula) -> dict[str, Fraction]:
    """Grams by role, and of the foods that only their keys identify."""
    masses = dict(formula.roles)
    for line, mass in formula.lines:
        if line.food is not None and mass is not None:
            for name, keys in KEYS.items():
                if any(key in line.food.key for key in keys.split("|")):
                    masses[name] = masses.get(name, Fraction(0)) + mass.grams
    return masses


def _has(masses: Mapping[str, Fraction], sign: Sign) -> bool:
    part = sum((masses.get(role, Fraction(0)) for role in sign.roles), Fraction(0))
    whole = masses.get(sign.of or "total", Fraction(0))
    if sign.low and not part:
        return False
    return sign.low * whole <= part and (sign.high is None or part <= sign.high * whole)


@remembered
def likely_kinds(subject: Subject) -> tuple[Likeness, ...]:
    """The kind that the title names, where the list can be it; else all that it can be, and nothing else."""
    possible = possible_kinds(subject)
    named = named_kind(subject)
    return tuple(likeness for likeness in possible if likeness.kind == named) or tuple(
        likeness for likeness in possible if likeness.kind in closed_kinds(subject.tables)
    )


def likely_kind(subject: Subject) -> str:
    """A kind of the tables to propose: what the title's head noun names, where the list can be it; else the
    first of those that alone have such a list. Empty where unsure: much holds fruit, or rice and water.
    """
    possible = [likeness.kind for likeness in possible_kinds(subject)]
    own_words = words(WITH.split(subject.recipe.title)[0])
    named = _named(own_words, subject.tables) or named_kind(subject)  # chicken and leek pie is a pie
    if named and (named in possible or named not in signs(subject.tables)):
        return named
    return next((kind for kind in possible if kind in closed_kinds(subject.tables)), "")


def presumed_kind(subject: Subject) -> str:
    """The kind that the author gives; where none is given, the one that the title and the list both say."""
    if subject.recipe.kind:
        return subject.kind
    own_words = words(WITH.split(DISH.split(subject.recipe.title)[0])[0])
    named = _named(own_words, subject.tables) if own_words else ""
    return named if named in {likeness.kind for likeness in possible_kinds(subject)} else ""


@remembered
def named_kind(subject: Subject) -> str:
    """The kind that the title, what is made, or the first part names: by the longest name that ends it.

    What a piece is shaped like may stand behind it: choux buns, choux puffs.
    """
    recipe = subject.recipe
    makes = recipe.yields.makes_item if recipe.yields else ""
    parts = (part.name for part in without_trimmings(recipe.parts)[:1])
    names = [words(DISH.split(text)[0]) for text in (recipe.title, makes, *parts)]
    names.append(words(WITH.split(recipe.title)[0]))  # cheese and onion pie
    shorn = [name[:-1] for name in names if name and name[-1] in SHAPES]
    return next(filter(None, (_named(name, subject.tables) for name in (*shorn, *names))), "")


@cache
def _by_words(tables: Tables) -> Mapping[tuple[str, ...], str]:
    names = ((words(name), kind) for name, kind in kinds(tables).items())
    return {name: kind for name, kind in names if not OPEN & set(name)}


def _named(name: tuple[str, ...], tables: Tables) -> str:
    known = _by_words(tables)
    return next((known[name[at:]] for at in range(len(name)) if name[at:] in known), "")
