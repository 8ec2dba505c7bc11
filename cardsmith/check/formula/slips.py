"""Slips of magnitude in what is used by the spoon: seasonings, leaveners, gums; and butter by its weight."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from cardsmith.check.formula import chemistry, ratios
from cardsmith.check.formula.likely import TOGETHER, likely_kinds
from cardsmith.check.formula.readings import likely_meaning
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams, number, percent
from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity, Where
from cardsmith.frozen import frozen
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Food
from cardsmith.measure.patterns import is_of
from cardsmith.reference import table
from cardsmith.regex import regex

SALTY = Fraction(6, 5)  # the same of salt, of which nobody can eat so much
SURE = 2  # times the most: asked about even where no single slip explains it
BLEND = Fraction(1, 5)  # where seasoning is more of the whole than this, the dish is a seasoning itself
WORKING = ("soda", "baking powder", "dry yeast", "fresh yeast", "gelatine", "gum", "saffron", "strong spice",
           "cayenne")  # fmt: skip
DRY_BLEND = Fraction(1, 20)  # as much, in a mixture that is dry
BLENDED = ("salt", "spice", "strong spice", "cayenne", "pepper", "dried herb", "bay leaf", "seed mixture")
SALTED = regex(  # salt that is not eaten, or that keeps: a brine, a cure, a crust, water that is drained
    r"\b(?:brin(?:e|es|ed|ing|y)\b|cur(?:e|es|ed|ing)\b|pickl|crust|ferment|soak|blanch|degorge"
    r"|preserv|drain(?![^.;]{0,20} (?:paper|racks?|towels?))|rins(?:e|ed|ing)\b|wipe"
    r"|brush off|scrape off|salt(?:ed)? (?:boiling )?water"
    r"|water(?:\s+to (?:a|the) (?:\w+ )?boil)?,? (?:with|and|add) (?:the |half the )?(?:\w+ )?salt"
    r"|(?:in|of) (?:boiling|simmering) water|(?:cooking|pasta) water|salt the water"
    r"|ice cream (?:maker|machine)|salt block)",
    re.IGNORECASE,
)
INEDIBLE = ("salt",)  # so much of it nobody can eat, whatever was meant
# What is weighed, times this, is more than the whole where a few leaves have no weight.
UNWEIGHED, FEW = Fraction(3, 2), 3  # common practice, no source
GRAVE, NO_DOUBT = (
    Fraction(3, 2),
    Fraction(5, 2),
)  # times the most, where one slip explains it, and where none does (no source)


@frozen
class UsualShare:
    """What share of the whole a food usually has, and has at most."""

    foods: tuple[str, ...]
    told: str
    typical: Fraction
    most: Fraction
    unless: Phrases | None  # in the title: a dish that is about it


@cache
def shares() -> tuple[UsualShare, ...]:
    """The foods whose share is judged; of the rows that fit a food the first holds."""
    all_shares = tuple(
        UsualShare(
            foods=tuple(row["foods"].split("|")),
            told=row["told"],
            typical=Fraction(row["typical"]) / 100,
            most=Fraction(row["most"]) / 100,
            unless=phrases(row["unless"]),
        )
        for row in table("usual_shares")
    )
    for share in all_shares:
        if not share.typical < share.most:
            raise ValueError(f"usual_shares.csv: {share.told}: the figures are out of order")
    return all_shares


def share_of(food: Food | None) -> UsualShare | None:
    """The row for a food; None where any share of it may be meant."""
    return next((share for share in shares() if is_of(food, share.foods)), None)


@check(
    "magnitude-slip",
    Severity.WARNING,
    why="A decimal point, a spoon or a unit gone wrong spoils the dish, and is what errata are made of.",
    source="usual_shares.csv, a source for each row; tables of proportions speak first where a kind has one",
    remedy="check the amount and its unit",
)
def magnitude_slip(subject: Subject) -> Iterator[Query]:
    """So much of a seasoning, a leavener or butter that one slip is likelier than a new idea."""
    formula = subject.formula(subject.recipe.parts)
    whole = formula.roles["total"]
    if "total" in formula.unweighed:
        lacking = [line.food for line, mass in formula.lines if mass is None and not line.to_taste]
        slight = len(lacking) * FEW <= len(formula.lines) and all(map(_is_slight, lacking))
        whole *= UNWEIGHED if slight else 0
    if not whole:
        return
    weighed = [(line, mass.grams, usual_share) for line, mass in formula.lines
               if mass is not None and not _is_fresh(line.food)
               and (usual_share := share_of(line.food)) is not None]  # fmt: skip
    most = "at most " if "total" in formula.unweighed else ""
    seasoning = sum((weight for line, weight, _ in weighed if is_of(line.food, ("role:spice", "role:herb"))))
    yield from _of_dough(subject)
    yield from _sleepy(subject)
    for line, weight, usual in weighed:
        share = weight / whole
        if share <= usual.most or _may_be(subject, usual, seasoning / whole):
            continue
        if line.where in _spoken(subject):
            continue
        rest = whole - weight

        def off(other: Fraction, rest: Fraction = rest, usual: UsualShare = usual) -> Fraction | None:
            there = other / (other + rest)
            return max(there / usual.typical, usual.typical / there) if there <= usual.most else None

        meant = likely_meaning(line, off)
        if meant is None and share <= (SALTY if usual.told in INEDIBLE else SURE) * usual.most:
            continue
        right = usual.typical * rest / (1 - usual.typical)
        written = line.amount.written if line.amount else ""
        amount = written if written == grams(weight) else f"{written} ({grams(weight)})"
        yield query(
            line,
            f"{amount} of {line.item} is {percent(share)} of the whole ({most}{grams(whole)}); "
            f"{usual.told} is usually about {percent(usual.typical)}",
            f"was {meant.told} meant? {meant.slip} would explain it" if meant
            else f"{number(right, 2)} g would be usual; check the amount and its unit",
            _gravity(usual, share, is_explained=meant is not None),
        )  # fmt: skip


def _is_slight(food: Food | None) -> bool:
    """Whether what a line without a weight counts weighs little: leaves, not a turkey or who knows what."""
    return food is not None and food.state in {"leaf", "powder"}


def _of_dough(subject: Subject) -> Iterator[Query]:
    """Salt in a dough or a batter beyond what its flour takes, whatever fills it."""
    if _is_salted_away(subject):
        return
    for part in subject.recipe.parts:
        formula = subject.formula((part,))
        flour, whole = formula.roles.get("flour", Fraction(0)), formula.roles["total"]
        raised = any(formula.roles.get(name) for name in TOGETHER["yeast"])
        if flour < whole / (4 if raised else 6) or not whole:
            continue
        for line, mass in formula.lines:
            salted = (
                mass is not None and is_of(line.food, ("role:salt",)) and line.where not in _spoken(subject)
            )
            if mass is not None and salted and mass.grams > flour * (DOUGH if raised else BATTER):
                share = percent(mass.grams / flour)
                what = f"{grams(mass.grams)} of {line.item} is {share} of the flour ({grams(flour)})"
                advice = "check the amount and its unit"
                yield query(line, f"{what}; 2 % is usual", advice, Severity.ERROR)
                return


BATTER = Fraction(8, 100)  # as much in what eggs, fat and fillings season as well: common practice, no source
DOUGH = Fraction(5, 100)  # of the flour in salt: more than twice what a dough takes; ratios.csv, yeast-bread


def _sleepy(subject: Subject) -> Iterator[Query]:
    """So little yeast that a night would hardly raise the dough, which the steps give a few hours."""
    hours = max((step.longest() for step in subject.steps), default=Fraction(0))
    if hours >= NIGHT or any(OVERNIGHT.search(step.text) for step in subject.steps):
        return
    for part in subject.recipe.parts:
        formula = subject.formula((part,))
        flour = formula.roles.get("flour", Fraction(0))
        if formula.roles.get("levain") or formula.unweighed & {*YEAST, "flour"}:
            continue
        yeast = sum(
            (formula.roles.get(role, Fraction(0)) * strength for role, strength in YEAST.items()), Fraction(0)
        )
        line = next(
            (line for line, _ in formula.lines if is_of(line.food, tuple(f"role:{name}" for name in YEAST))),
            None,
        )
        if line is not None and 0 < yeast < flour * SLEEPY and 4 * flour >= formula.roles["total"]:
            what = f"the {line.item} is {percent(yeast / flour)} of the flour ({grams(flour)})"
            yield query(
                line, f"{what}; about 1 % raises it in the time given", "check its amount", Severity.ERROR
            )
            return


YEAST = {  # how much instant yeast each is worth: maker's tables, common practice, no source
    "yeast-instant": Fraction(1),
    "yeast-active-dry": Fraction(3, 4),
    "yeast-fresh": Fraction(1, 3),
}
SLEEPY = Fraction(2, 1000)  # of the flour: doubles in half a day or more; common practice, no source
NIGHT = Fraction(5 * 3600)  # s; a rise of so many hours takes little yeast: common practice, no source
OVERNIGHT = regex(r"\b(?:overnight|next (?:day|morning)|the night|refrigerat\w*|fridge)\b", re.IGNORECASE)


def _is_salted_away(subject: Subject) -> bool:
    """Whether salt goes where nobody eats it, or keeps food by it."""
    known = dish(subject.recipe, subject.larder)
    salts = [at for at, food in enumerate(known.foods) if is_of(food.food, ("role:salt",))]
    used = {step for at in salts for step in subject.mentions.steps_of(at)}
    near = used | {step + 1 for step in used} if used else set(range(len(subject.steps)))
    texts = (step.text for step in subject.steps if step.number - 1 in near)
    return SALTED.search(" ".join([subject.recipe.title, *texts])) is not None


def _gravity(usual: UsualShare, share: Fraction, *, is_explained: bool) -> Severity | None:
    """An error where one slip explains what nobody can eat, or where what works by the gram spoils all."""
    times = share / usual.most
    grave = usual.told in WORKING and times > (GRAVE if is_explained else NO_DOUBT)
    drowned = usual.told == "extract" and times > NO_DOUBT
    return (
        Severity.ERROR
        if grave
        or drowned
        or (usual.told in INEDIBLE and times > (Fraction(11, 10) if is_explained else GRAVE))
        else None
    )


def _is_fresh(food: Food | None) -> bool:
    """Whether it may be the dish itself: red chillies in an oil, the ginger of a cordial."""
    return food is not None and food.aisle == "produce"


@remembered  # asked for each of several slips
def _spoken(subject: Subject) -> frozenset[Where]:
    """Where a check of proportions asks already."""
    return frozenset(
        asked.where for ratio_check in ratios.RATIO_CHECKS for asked in ratio_check.function(subject)
    )


def _is_dry(subject: Subject) -> bool:
    """Whether hardly any water is in it: nuts and spices, toasted and ground."""
    roles = subject.formula(subject.recipe.parts).roles
    wet = sum((roles.get(role, Fraction(0)) for role in ("water", "oil", "butter", "flour")), Fraction(0))
    return wet < roles["total"] / 10


def _may_be(subject: Subject, usual: UsualShare, seasoning: Fraction) -> bool:
    """Whether so much may be meant: in a blend of spices, in a brine or a cure, of butter in a sauce."""
    kind, rules = subject.kind, ratios.ratios(subject.tables)
    if seasoning > (DRY_BLEND if _is_dry(subject) else BLEND) and usual.told in BLENDED:
        return True
    if usual.unless and usual.unless.search(subject.recipe.title):
        return True
    if usual.told == "soda":  # chemistry judges it there, and in boiled sugar it blows the honeycomb up
        roles = subject.formula(subject.recipe.parts).roles
        bath = any(roles.get(name) for name in TOGETHER["yeast"])  # for pretzels
        return bath or kind in chemistry.usual_leavening() or not roles.get("flour")
    if usual.told == "gelatine":
        likely = [kind] if subject.recipe.kind else [likeness.kind for likeness in likely_kinds(subject)]
        return any(ratio.ratio == "gelatine" for name in likely for ratio in rules.get(name, ()))
    if usual.told == "salt":
        return _is_salted_away(subject) or any(ratio.ratio == "salt" for ratio in rules.get(kind, ()))
    return usual.told == "butter" and kind in ("sauce", "")
