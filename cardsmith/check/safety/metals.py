"""Metals that acid dissolves: copper, and for pickles aluminium, brass and zinc as well."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.measure.patterns import is_of
from cardsmith.regex import regex

METAL = regex(
    r"\b(?P<metal>copper|brass|galvani[sz]ed|zinc|alumin(?:i)?um)"
    r"(?! (?:base|bottom|core|foil|sulph|sulf|molds?|moulds?))(?:[- ]\w+){0,3}?"
    r"[- ](?:pans?|pots?|saucepans?|kettles?|bowls?|basins?|buckets?|pails?|tubs?|cauldrons?|vats?"
    r"|stockpots?|jugs?|tins?|dish(?:es)?)\b",
    re.IGNORECASE,
)
LINED = regex(
    r"\b(?:(?<!un)lined|(?<!un)tinned|(?<!un)coated|stainless|anodi[sz]ed|non-?stick|enamel\w*|clad"
    r"|lacquer\w*)\b",
    re.IGNORECASE,
)
DENIES = regex(r"\b(?:not|never|no|avoid|don['’]t|nor|without|rather than|instead of|other than)\b", re.I)
SOUR = (
    "role:vinegar", "key:*lemon-juice", "key:*lime-juice", "key:lemon", "key:lime", "key:*-wine",
    "key:verjuice", "key:*tomato*", "key:rhubarb", "key:citric-acid", "key:tamarind*", "key:sauerkraut",
    "key:*grapefruit*",
)  # fmt: skip
MUCH = Fraction(3, 100)  # of the list in what is sour, unlike a drop in egg whites: no source
SUGARED = Fraction(35, 100)  # copper is the confectioner's own for jam and boiled sugar


@check(
    "vessel-reacts",
    Severity.WARNING,
    why="Acid dissolves copper, brass and zinc, which are poisonous, and aluminium, which tastes and stains.",
    source="FDA Food Code 4-101.14 (copper below pH 6) and 4-101.15 (galvanized); USDA Complete Guide for "
    "pickles: no copper, brass, galvanized or aluminum pans (memory)",
    remedy="name stainless steel, enamel or glass",
)
def vessel_reacts(subject: Subject) -> Iterator[Query]:
    """Vinegar, wine, citrus or tomatoes in a pan of bare copper, brass or zinc; a pickle in aluminium."""
    recipe = subject.recipe
    formula = subject.formula(recipe.parts)
    whole = formula.roles["total"]
    sour = [line for line, _ in formula.lines if is_of(line.food, SOUR)]
    acid = sum((mass.grams for line, mass in formula.lines if mass and is_of(line.food, SOUR)), Fraction(0))
    if not sour or acid < whole * MUCH:
        return
    vinegar = any(is_of(line.food, ("role:vinegar",)) for line in sour)
    fruit = formula.roles.get("fruit", Fraction(0)) + formula.roles.get("sugar", Fraction(0))
    egg = any(role in formula.roles for role in ("egg", "egg-yolk"))
    for text in subject.fields:
        if text.name in {"title", "ingredients", "yield", "headnote"}:
            continue
        for begins, ends, _ in text.cuts:
            match = METAL.search(text.text, begins, ends)
            if match is None or LINED.search(text.text, begins, ends):
                continue
            if DENIES.search(text.text, begins, match.start()):
                continue
            metal = match["metal"].lower()
            if metal.startswith("alumin") and not vinegar:
                continue
            jam = fruit >= whole * 2 * SUGARED and not egg and not vinegar
            if metal in {"copper", "brass"} and jam:
                continue
            yield query(
                text.spot(match.group(), match.start()),
                f"“{match.group()}”: {sour[0].item} dissolves {metal}",
                severity=Severity.ERROR if metal == "copper" else None,
            )
            return
