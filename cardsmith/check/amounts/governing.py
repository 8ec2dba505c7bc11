"""Where a formula rests on a line, and where the line only seasons or fills."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.check.formula.likely import likely_kinds
from cardsmith.check.formula.ratios import Ratio, judged, ratios
from cardsmith.check.subject import Subject
from cardsmith.recipe.model import Ingredient

FLAKES = Fraction(1, 2)  # what a spoon of them weighs of one of fine salt: common practice, no source
NEAR = Fraction(3, 5)  # of the most: where nothing but taste needs it, only much of it matters (no source)
SALTED = Fraction(3, 100)  # of the whole: a dish with more is cured, brined or pickled (no source)


def is_in_formula(subject: Subject, line: Ingredient) -> bool:
    """Whether what the recipe is, or may be, has a usual proportion of this food: the egg of a custard."""
    food = line.food
    kinds = {subject.kind} if subject.kind else _whole(subject)
    rules = [rule for kind in kinds for rule in ratios(subject.tables).get(kind, ())]
    roles = {role for rule in rules for role in (*rule.numerator, *rule.denominator)} - {"total"}
    return food is not None and any(food.share(role) for role in roles)


def salt_governs(subject: Subject, line: Ingredient) -> bool:
    """Whether a dough, batter, sausage, brine or cure depends on it: as much as is usual, or needed."""
    whole = subject.formula(subject.recipe.parts).roles
    if whole.get("salt", Fraction(0)) > SALTED * whole["total"]:
        return True
    kinds = {subject.kind} if subject.kind else _whole(subject)
    rules = ratios(subject.tables)
    return bool(kinds) and all(
        any(_rests_on(subject, rule, line) for rule in rules.get(kind, ()) if rule.ratio == "salt")
        for kind in kinds
    )


def _whole(subject: Subject) -> set[str]:
    """The kinds that the recipe as a whole may be; not what one of its parts may be."""
    whole = subject.recipe.parts
    return {likeness.kind for likeness in likely_kinds(subject) if likeness.formula.parts == whole}


def _rests_on(subject: Subject, rule: Ratio, line: Ingredient) -> bool:
    if "total" in rule.denominator:
        return False  # salted to taste
    formula = judged(subject, rule)
    if not any(of is line for of, _ in formula.lines):
        return False
    terms = {*rule.numerator, *rule.denominator}
    whole = sum((formula.roles.get(role, 0) * share for role, share in rule.denominator.items()), Fraction(0))
    if not whole or formula.unweighed & terms:
        return True
    share = formula.roles.get("salt", Fraction(0)) / whole
    if rule.low is not None:
        return share >= rule.typical or share * FLAKES < rule.low
    return share >= max(rule.typical, rule.high * NEAR if rule.high is not None else Fraction(0))
