"""Handling risk: how far the ways people fill a cup can move a formula out of its kind's usual band."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from cardsmith.check.formula.ratios import Ratio, judged, ratios
from cardsmith.check.subject import Formula, Subject
from cardsmith.check.wording import number, percent
from cardsmith.finding import Where
from cardsmith.measure.units import units
from cardsmith.measure.weighing import density, handling
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import measured_form
from cardsmith.words import Figure, Said

NONE = Fraction(0)


def handling_risks(subject: Subject) -> Mapping[Where, str]:
    """Lines whose cup alone may carry a ratio out of the accepted band, each with the reason.

    The least and the most a cup holds come from the larder (sifted, spooned, scooped; packed or loose).
    A ratio that is outside the band as written is the ratio checks' business, not the cup's.
    """
    risks = ((line.where, _risk(subject, line)) for line in subject.recipe.ingredients)
    return {where: reason for where, reason in risks if reason}


def _risk(subject: Subject, line: Ingredient) -> str:
    food = line.food
    by_cup = food is not None and line.amount is not None and food.us_print == "volume"
    used, ends = (density(food, measured_form(line)), handling(food)) if food and by_cup else (None, None)
    if food is None or used is None or ends is None or ends[0] == ends[1]:
        return ""
    risks = [_leaving(subject, line, ratio, used.grams, ends) for ratio in _bands(subject)]
    _, said = max(risks, default=(NONE, Said("")))
    if not said:
        return ""
    least, most = (number(end * units()["cup"].size) for end in ends)
    return Said(
        "weigh it: a cup of {food} holds {least} to {most} g as it is filled, and {ratio}",
        food=food.name,
        least=Figure(least),
        most=Figure(most),
        ratio=said,
    )


def _bands(subject: Subject) -> Iterator[Ratio]:
    return (
        ratio
        for ratio in ratios(subject.tables).get(subject.kind, ())
        if ratio.low is not None or ratio.high is not None
    )


def _leaving(
    subject: Subject, line: Ingredient, ratio: Ratio, used: Fraction, ends: tuple[Fraction, Fraction]
) -> tuple[Fraction, Said]:
    """How far beyond its band the ratio runs over the ways to fill the cup, and that in words."""
    nothing = NONE, Said("")
    formula = judged(subject, ratio)
    acts_in = {*ratio.numerator, *ratio.denominator}
    if formula.unweighed & acts_in or not any(line.food and line.food.share(role) for role in acts_in):
        return nothing
    as_written = _share(formula, ratio)
    grams = next((mass.grams for other, mass in formula.lines if other is line and mass), NONE)
    shares = [_share(formula, ratio, line, grams * (end / used - 1)) for end in ends]
    if as_written is None or not _inside(as_written, ratio) or any(share is None for share in shares):
        return nothing
    known = sorted(share for share in shares if share is not None)
    if all(_inside(share, ratio) for share in known):
        return nothing
    first, last = (
        Figure(percent(share)) if ratio.unit == "%" else Said("{count} times", count=Figure(number(share, 2)))
        for share in known
    )
    said = Said(
        "{ratio} would be anything from {first} to {last} of {whole}",
        ratio=Said(ratio.ratio),
        first=first,
        last=last,
        whole=Said(ratio.told),
    )
    return max(_beyond(share, ratio) for share in known), said


def _share(
    formula: Formula, ratio: Ratio, line: Ingredient | None = None, more: Fraction = NONE
) -> Fraction | None:
    """The ratio with ``more`` grams of one line than the formula has."""
    part, whole = (
        sum(
            (
                (formula.roles.get(role, NONE) + (more * _acting(line, role) if line else NONE)) * share
                for role, share in terms.items()
            ),
            NONE,
        )
        for terms in (ratio.numerator, ratio.denominator)
    )
    return part / whole if whole and part else None


def _acting(line: Ingredient, role: str) -> Fraction:
    """The share of a line that acts in ``role``; all of it in the total."""
    if line.food is None:
        return NONE
    return Fraction(1) if role == "total" else line.food.share(role)


def _beyond(share: Fraction, ratio: Ratio) -> Fraction:
    """How far a share lies outside the band, as a share of the limit it passes."""
    below = (ratio.low - share) / ratio.low if ratio.low else Fraction(0)
    above = (share - ratio.high) / ratio.high if ratio.high else Fraction(0)
    return max(below, above, Fraction(0))


def _inside(share: Fraction, ratio: Ratio) -> bool:
    return (ratio.low is None or share >= ratio.low) and (ratio.high is None or share <= ratio.high)
