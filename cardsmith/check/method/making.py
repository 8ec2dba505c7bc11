"""What a method must do for the dish to come about: mix before it bakes, boil what sets, let a foam climb."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.method.order import out_of_order
from cardsmith.check.method.presupposed import presupposed
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.method.clauses import nouns
from cardsmith.facts.method.dish import UNTOUCHED, dish
from cardsmith.finding import Severity
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Part
from cardsmith.regex import regex

AGAR = ("role:agar",)
GELATINE = ("role:gelatine",)
SOFTENING = ("key:pineapple", "key:kiwi*", "key:papaya", "key:green-papaya")  # raw, they digest gelatine
FLOUR = ("role:flour",)
FOAM = Fraction(2)  # times as much egg white as flour: nothing else carries the cake
FAT = frozenset({"butter", "oil", "fat", "egg-yolk", "egg"})
MIXTURES = frozenset({"batter", "dough", "pastry"})
_ACTS = regex(
    r"\b(?:spread|pour|spoon|scrape|roll|knead|divide|shape|turn|tip|pipe|press|transfer|cut|stretch|ladle"
    r"|drop|scoop|bake|fry)(?: out| up| in)?(?: half| the rest)?(?: of)? the (?:\w+ )?"
    r"(?P<what>batter|dough|pastry)\b",
    re.IGNORECASE,
)
_CLIMBS = regex(r"\b(?:chiffon|angel food)\b", re.IGNORECASE)
_GREASED = regex(
    r"(?<!not )(?<!don't )(?<!don’t )\b(?:grease|butter|oil|spray)(?! or )\b[^.;,]{0,25}?"
    r"\b(?:pan|tin|mould|mold)\b",
    re.IGNORECASE,
)


@check(
    "used-before-made",
    Severity.ERROR,
    why="A cook who follows the steps in order stands before an empty bowl.",
    source="the recipe's own order",
    remedy="put the step that mixes it before the step that uses it",
)
def used_before_made(subject: Subject) -> Iterator[Query]:
    """A step that shapes the dough before any step takes its flour, or spreads what is made only later."""
    yield from _unmade(subject)
    yield from out_of_order(subject)
    yield from presupposed(subject, dish(subject.recipe, subject.larder))
    lines = subject.recipe.ingredients
    if any(MIXTURES & set(words(line.item)) for line in lines):
        return
    flours = [place for place, line in enumerate(lines) if is_of(line.food, FLOUR) and not line.for_use]
    taken = [min(steps) for place in flours if (steps := subject.mentions.steps_of(place))]
    if not taken or len(taken) < len(flours):
        return
    for step in subject.steps[: min(taken)]:
        match = _ACTS.search(step.text)
        if match is not None:
            what = f"step {step.number} uses the {match['what']}"
            yield query(step.spot(match.group()), f"{what}, and step {min(taken) + 1} is the first to mix it")
            return


def _unmade(subject: Subject) -> Iterator[Query]:
    """A step that takes "the glaze" where a later step, or a later part, is the first to make one."""
    listed = {word for line in subject.recipe.ingredients for word in words(line.item)}
    places = [part for part in subject.recipe.parts for _ in part.steps]
    known: set[str] = set()
    for place, step in enumerate(subject.steps):
        if place == 0 or places[place] is not places[place - 1]:
            known.update(words(places[place].name))
        for match in _THE.finditer(step.text):
            what = next(iter(words(match["what"])), "")
            before = set(words(step.text[: match.start("what")]))
            if what not in _mixtures() or what in known | listed | before:
                continue
            before_it = step.before(match.start())
            if not _TAKES.search(before_it) or _MAKING.search(before_it):
                continue
            made = (at for at in range(place + 1, len(places)) if _makes(subject, places, at, what))
            first = next(made, None)
            if first is not None:
                use = f"step {step.number} uses the {match['what']}"
                yield query(step.spot(match.group()), f"{use}, and step {first + 1} is the first to make it")
                return
        known.update(words(step.text))


def _makes(subject: Subject, places: list[Part], at: int, what: str) -> bool:
    """Whether a step makes a mixture of a name: it says so, or begins the part of that name."""
    begins = places[at] is not places[at - 1]
    if begins and places[at].ingredients and what in words(places[at].name):
        return True
    said = (next(filter(None, match.groups())) for match in _MAKES.finditer(subject.steps[at].text))
    return any(what in words(name) for name in said)


def _mixtures() -> frozenset[str]:
    """Nouns of what a recipe makes and uses by name."""
    return nouns("mixture") - _VAGUE


_VAGUE = frozenset(words("mixture pan base layer cream crumb cake loaf pie rice whip liquid"))
_THE = regex(r"\bthe (?P<what>\w+)\b", re.IGNORECASE)
_TAKES = regex(
    r"\b(?:spread|pour|spoon|drizzle|scatter|brush|dress|top|fill|cover|coat|toss|glaze|ice|frost|sandwich"
    r"|scrape|pipe|fold|stir|add)\b",
    re.IGNORECASE,
)
_MAKING = regex(r"\b(?:make|making|prepare|preparing|shape|shaping)\s*$", re.IGNORECASE)
_MAKES = regex(
    r"\b(?:for|make|whisk up|prepare) the (\w+)(?=,|:| by\b)|\bmake (?:the|a|an|your) (?:\w+ )?(\w+)\b"
    r"|\b(?:this|that|there) is (?:the|your) (\w+)"
    r"|\b(?:to|into) (?:a|an|your) (?:(?:smooth|thick|thin|pourable|loose|light|creamy|runny) )*(\w+)\b",
    re.IGNORECASE,
)


@check(
    "agar-not-boiled",
    Severity.ERROR,
    why="Agar dissolves only near the boil; stirred into something cold it sinks and nothing sets.",
    source=PRACTICE,
    remedy="boil the agar in its liquid for 2 minutes, stirring, until it dissolves",
)
def agar_not_boiled(subject: Subject) -> Iterator[Query]:
    """Agar that no step heats, or that is kept from the boil."""
    known = dish(subject.recipe, subject.larder)
    for place, line in enumerate(subject.recipe.ingredients):
        if not (is_of(line.food, AGAR) and known.history(place).is_named):
            continue
        events = known.history(place).events
        clauses = [
            clause for clause in known.histories.clauses if any(clause.step == event.step for event in events)
        ]
        kept = any(KEPT_FROM_BOILING.search(clause.text) for clause in clauses)
        boils = any(event.boils for event in events)
        if known.heat(place) in UNTOUCHED or (kept and not boils):
            yield query(line, f"no step boils the {line.item}")


KEPT_FROM_BOILING = regex(
    r"\b(?:(?:not|never|don['’]t|without)(?: \w+){0,3} boil\w*|below the boil|no(?:t)? hotter)\b"
)


@check(
    "gelatine-undone",
    Severity.ERROR,
    why="Raw pineapple, kiwi and papaya digest gelatine, and the jelly never sets.",
    source=PRACTICE,
    remedy="boil the fruit for a few minutes first, use canned fruit, or set it with agar",
)
def gelatine_undone(subject: Subject) -> Iterator[Query]:
    """A raw fruit that digests gelatine, in the same part as the gelatine."""
    known = dish(subject.recipe, subject.larder)
    place = 0
    for part in subject.recipe.parts:
        sets = any(is_of(line.food, GELATINE) for line in part.ingredients)
        for number, line in enumerate(part.ingredients, start=place):
            if sets and is_of(line.food, SOFTENING) and known.is_raw(number):
                yield query(line, f"the {line.item} goes in raw, with gelatine")
        place += len(part.ingredients)


@check(
    "foam-pan-greased",
    Severity.WARNING,
    why="A cake raised by egg whites alone climbs the wall of its pan and hangs from it while it cools.",
    source=PRACTICE,
    remedy="leave the pan ungreased",
)
def foam_pan_greased(subject: Subject) -> Iterator[Query]:
    """A greased pan for a cake of egg whites without fat, such as angel food, or for a chiffon."""
    for part in subject.recipe.parts:
        roles = subject.formula((part,)).roles
        foam = roles.get("egg-white", 0) > FOAM * roles.get("flour", Fraction(0)) > 0 and not FAT & set(roles)
        if not foam and not _CLIMBS.search(subject.recipe.title):
            continue
        for step in subject.steps:
            match = _GREASED.search(step.text)
            if match is not None:
                what = f"“{match.group()}”, and the cake is a foam of egg whites"
                yield query(step.spot(match.group()), what)
                return
