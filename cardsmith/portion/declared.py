"""Estimates as a label declares them: 21 CFR 101.9(c) a portion, Regulation (EU) 1169/2011 per 100 g,
the Food Standards Code of Australia and New Zealand (standard 1.2.8) both.

The only place of this stage that rounds an amount of a nutrient.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from cardsmith.bench.wording import figure
from cardsmith.frozen import frozen
from cardsmith.portion.estimate import Estimate
from cardsmith.portion.label import declared
from cardsmith.reference import table
from cardsmith.words import Figure, Said, joined


@frozen
class DeclaredRow:
    """One line of a declaration."""

    nutrient: str  # as the tables name it
    printed: str  # Total fat; of which sugars
    amount: str  # 3.5 g; less than 1 g; 180
    percent: str  # of the Daily Value: 11 %; empty where none is declared
    at_least: bool  # whether part of it is unknown, so that the true figure may be higher
    span: str  # "170 kcal to 190 kcal", where the bounds would be declared otherwise; else empty
    exact: str  # before rounding, with its unit

    @property
    def text(self) -> str:
        """``at least 3.5 g``; “unknown” where the known part rounds to zero."""
        if not self.at_least:
            return self.amount
        return "unknown" if self.says_nothing else f"at least {self.amount}"

    @property
    def percent_text(self) -> str:
        """``at least 11 %``."""
        if not (self.at_least and self.percent):
            return self.percent
        return "" if self.says_nothing else f"at least {self.percent}"

    @property
    def says_nothing(self) -> bool:
        """Whether what is known of it rounds to zero."""
        return self.amount.startswith(("0 ", "less"))


def rows(holds: Mapping[str, Estimate], declaration: str) -> tuple[DeclaredRow, ...]:
    """The rows of a ``US``, ``EU`` or ``AU`` declaration, in the law's order."""
    return tuple(
        _row(row, holds[row["nutrient"]])
        for row in table("nutrients")
        if row["declaration"] == declaration and row["nutrient"] in holds
    )


def _row(row: Mapping[str, str], held: Estimate) -> DeclaredRow:
    nutrient = row["nutrient"]
    amount = _with_unit(declared(nutrient, held.likely), row["unit"])
    percent = ""
    if row["daily_value"]:
        percent = daily_value(held.likely, Fraction(row["daily_value"]), row["percent_rule"])
    ends = [held.low, held.likely, *([held.high] if held.high is not None else [])]
    figures = list(dict.fromkeys(_with_unit(declared(nutrient, end), row["unit"]) for end in ends))
    span = ""
    if len(figures) > 1:
        span = f"{figures[0]} or more" if held.is_lower_bound else f"{figures[0]} to {figures[-1]}"
    return DeclaredRow(
        nutrient=nutrient,
        printed=row["printed"],
        amount=amount,
        percent=percent,
        at_least=held.is_lower_bound,
        span=span,
        exact=f"{figure(held.likely, int(row['places']) + 1)} {row['unit']}",
    )


def _with_unit(text: str, unit: str) -> str:
    """A US label prints calories bare; beside other figures they say what they are."""
    if text.startswith("less"):
        return Said(text)
    number = text.removesuffix(unit).strip()
    return joined(" ", Figure(number), unit)


def daily_value(amount: Fraction, whole: Fraction, rule: str = "% Daily Value") -> str:
    """What share of a Daily Value an amount is, rounded as declared: ``11 %``."""
    return declared(rule, amount / whole * 100)


def servings(count: Fraction) -> str:
    """``about 3.5`` servings: 21 CFR 101.9(b)(8). Below 2 the count is given as it is."""
    if count < 2:
        return figure(count)
    number = declared("servings per container", count).removesuffix(" servings")
    return number if Fraction(number) == count else f"about {number}"
