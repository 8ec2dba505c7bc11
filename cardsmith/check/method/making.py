"""What a method must do for the dish to come about: mix before it bakes, boil what sets, let a foam climb."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.dish import UNTOUCHED, dish
from cardsmith.facts.patterns import is_of
from cardsmith.finding import Severity
from cardsmith.measure.larder import words
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
    """A step that shapes or bakes the batter or the dough before any step takes its flour."""
    lines = subject.recipe.ingredients
    if any(MIXTURES & set(words(line.item)) for line in lines):
        return
    flours = [place for place, one in enumerate(lines) if is_of(one.food, FLOUR) and not one.for_use]
    taken = [min(steps) for place in flours if (steps := subject.mentions.steps_of(place))]
    if not taken or len(taken) < len(flours):
        return
    for step in subject.steps[: min(taken)]:
        match = _ACTS.search(step.text)
        if match is not None:
            told = f"step {step.number} uses the {match['what']}"
            yield query(step.spot(match.group()), f"{told}, and step {min(taken) + 1} is the first to mix it")
            return


@check(
    "agar-not-boiled",
    Severity.ERROR,
    why="Agar dissolves only near the boil; stirred into something cold it sinks and nothing sets.",
    source=PRACTICE,
    remedy="boil the agar in its liquid for 2 minutes, stirring, until it dissolves",
)
def agar_not_boiled(subject: Subject) -> Iterator[Query]:
    """Agar that no step heats."""
    known = dish(subject.recipe, subject.larder)
    for place, line in enumerate(subject.recipe.ingredients):
        if is_of(line.food, AGAR) and known.history(place).is_named and known.heat(place) in UNTOUCHED:
            yield query(line, f"no step boils the {line.item}")


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
    """A greased pan for a cake of egg whites without fat, such as angel food."""
    for part in subject.recipe.parts:
        roles = subject.formula((part,)).roles
        if not roles.get("egg-white", 0) > FOAM * roles.get("flour", Fraction(0)) > 0 or FAT & set(roles):
            continue
        for step in subject.steps:
            match = _GREASED.search(step.text)
            if match is not None:
                told = f"“{match.group()}”, and the cake is a foam of egg whites"
                yield query(step.spot(match.group()), told)
                return
