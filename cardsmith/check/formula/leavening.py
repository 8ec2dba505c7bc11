"""Leavening judged by its chemistry: soda without acid, soda left over, soda and powder exchanged."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.formula import ratios
from cardsmith.check.formula.browning import MOST
from cardsmith.check.formula.chemistry import (
    SODA,
    Leavening,
    bicarbonate,
    leavened_kind,
    leavening,
    leavening_of_any,
    usual_leavening,
)
from cardsmith.check.formula.likely import TOGETHER, named_kind
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import a_kind, grams, number, percent
from cardsmith.finding import Severity
from cardsmith.language.listing import listed
from cardsmith.regex import regex

LITTLE = Fraction(3, 10)  # g of soda; less is not worth a word: common practice, no source
UNMET = Fraction(1, 5)  # an acid that meets less of the soda than this is none: common practice, no source
TABLES = "kitchen_acids.csv, leavening_bases.csv, leavening_kinds.csv, soda_browns.csv: a source each row"


def _of_author(subject: Subject) -> Leavening | None:
    """The leavening where the author says of what kind: how much is a matter of taste."""
    return leavening(subject) if subject.kind else None


def _swapped_for_powder(subject: Subject, leaven: Leavening) -> bool:
    """Whether soda stands where powder was meant: so much of it, no powder, and little acid to meet it.

    Beside some acid, what is taken for colour may be as much.
    """
    kind = leavened_kind(subject)
    most = max(usual_leavening()[kind].soda * 2, Fraction(2, 100)) if kind else IN_ANY
    if leaven.browned and leaven.acid_high >= UNMET * leaven.base:
        most = MOST
    return not leaven.powder and leaven.soda > most * leaven.flour and leaven.acid_high * 2 < leaven.base


def _is_alone(subject: Subject, leaven: Leavening) -> bool:
    """Whether the soda meets no acid to speak of."""
    alone = usual_leavening()[leavened_kind(subject)].soda_alone or leaven.browned or leaven.has_unknown
    return leaven.soda > LITTLE and not alone and leaven.acid_high < UNMET * leaven.base


def _ratio_speaks(subject: Subject, name: str) -> bool:
    """Whether a check of proportions asks about this leavener already."""
    return any(
        next(ratio_check.function(subject), None)
        for ratio_check in ratios.RATIO_CHECKS
        if ratio_check.name == name
    )


def _of_flour(amount: Fraction, leaven: Leavening) -> str:
    """``4 % of the flour (250 g)``."""
    return f"{percent(amount / leaven.flour)} of the flour ({grams(leaven.flour)})"


def _span(least: Fraction, most: Fraction) -> str:
    low, high = number(least, 2), grams(round(most, 1))
    return high if high == f"{low} g" else f"{low} to {high}"


def _sour(leaven: Leavening) -> str:
    """What meets the soda, the strongest first."""
    strongest = sorted(leaven.sour, key=lambda pair: -pair[1])[:3]
    return listed([line.item for line, _ in strongest], "and")


@check(
    "leavening-missing",
    Severity.WARNING,
    why="A batter that nothing raises bakes into a slab.",
    source=TABLES,
    remedy="list what raises it, or write self-raising flour if that is what you weighed",
)
def leavening_missing(subject: Subject) -> Iterator[Query]:
    """A cake, scone, muffin or quick bread with flour, and nothing that raises it."""
    lines = [line for line in subject.recipe.ingredients if line.food is not None or not line.item]
    flour = next((line for line in lines if line.food and line.food.share("flour")), None)
    known = len(lines) == len(subject.recipe.ingredients)
    raised = any(line.food.share(role) for line in lines if line.food for role in RAISING)
    beaten = any(BEATEN.search(step.text) for step in subject.steps)
    kind = subject.kind or _called(subject)
    if kind in RAISED and flour is not None and known and not raised and not beaten:
        yield query(
            flour,
            f"nothing raises this {kind.replace('-', ' ')}: no powder, soda or yeast",
            severity=Severity.ERROR if kind in ALWAYS_RAISED else None,
        )


def _called(subject: Subject) -> str:
    """A kind that is raised, where the title or what is made calls it so; butter and eggs alone lift much."""
    kind = named_kind(subject)
    return kind if kind in ALWAYS_RAISED and not subject.recipe.kind else ""


ALWAYS_RAISED = ("muffin", "scone")  # neither thin nor beaten full of air
RAISED = ("butter-cake", "muffin", "scone", "quick-bread", "pancake")
RAISING = ("soda", "baking-powder", "leavener", "yeast-instant", "yeast-active-dry", "yeast-fresh", "levain")
BEATEN = regex(r"(?i)\b(?:peaks|ribbon|trebled|tripled|egg whites)\b")  # eggs raise it


@check(
    "soda-for-powder",
    Severity.WARNING,
    why="Baking soda is four times as strong as baking powder, and needs an acid or tastes of soap.",
    source=TABLES,
    remedy="write baking powder, if that is what you weighed",
)
def soda_for_powder(subject: Subject) -> Iterator[Query]:
    """As much baking soda as this kind of recipe takes of baking powder, and nothing sour to meet it."""
    kind = leavened_kind(subject)
    leaven = leavening_of_any(subject) if kind or not subject.recipe.kind else None
    if leaven is None or leaven.soda_line is None or _ratio_speaks(subject, "high-soda"):
        return
    if _swapped_for_powder(subject, leaven) and (kind or _is_batter(subject, leaven)):
        rule = usual_leavening().get(kind)
        usual = f" {a_kind(kind)} has about {grams(leaven.flour * rule.powder)} of it, or" if rule else ""
        soda = rule.soda if rule else IN_ANY / 2
        yield query(
            leaven.soda_line,
            f"{grams(leaven.soda)} of {leaven.soda_line.item} is {_of_flour(leaven.soda, leaven)}; "
            f"the acid of the list meets {number(leaven.soda - leaven.left(leaven.acid), 2)} g of it",
            f"was baking powder meant?{usual or ' Else take'} "
            f"{grams(leaven.flour * soda)} of soda with something sour",
            Severity.ERROR if leaven.soda > leaven.flour * SOAP and not leaven.sour else None,
        )


def _is_batter(subject: Subject, leaven: Leavening) -> bool:
    """Whether flour makes up the dish, and the soda is not for water that pretzels or beans lie in."""
    floury = leaven.flour >= subject.formula(subject.recipe.parts).roles["total"] * A_BATTER
    return floury and not any(SODA_BATH.search(step.text) for step in subject.steps)


A_BATTER = Fraction(1, 5)  # of the list; common practice, no source


SODA_BATH = regex(r"(?i)\b(?:soda\b[^.;]*\b(?:water|bath)|water\b[^.;]*\bsoda)\b")
IN_ANY = Fraction(24, 1000)  # of the flour, in whatever it raises; common practice, no source


SOAP = Fraction(3, 100)  # of the flour: nobody eats so much soda unmet; common practice, no source


@check(
    "powder-for-soda",
    Severity.WARNING,
    why="A spoon of powder lifts a quarter as much as one of soda, and the sour things stay sour.",
    source=TABLES,
    remedy="write baking soda, if that is what you weighed",
)
def powder_for_soda(subject: Subject) -> Iterator[Query]:
    """Baking powder in the amount usual for soda, where a sour list calls for soda."""
    leaven = _of_author(subject)
    if leaven is None or leaven.powder_line is None or leaven.soda or bicarbonate(leaven.powder_line.food):
        return
    if _swapped_for_soda(leaven):
        met = min(leaven.acid_high * SODA / 1000, leaven.powder)
        yield query(
            leaven.powder_line,
            f"{grams(leaven.powder)} of {leaven.powder_line.item} is {_of_flour(leaven.powder, leaven)}, "
            f"and nothing meets the acid of the {_sour(leaven)}",
            f"was baking soda meant? A list as sour as this can meet up to {grams(met)} of it",
        )


def _swapped_for_soda(leaven: Leavening) -> bool:
    little = leaven.powder <= leaven.flour * Fraction(2, 100)
    return little and 2 * leaven.acid_high >= 1000 * leaven.powder / SODA


@check(
    "soda-without-acid",
    Severity.WARNING,
    why="Soda that meets no acid lifts half as much and leaves a taste of soap and a yellow crumb.",
    source=TABLES,
    remedy="name the sour ingredient, or use baking powder",
)
def soda_without_acid(subject: Subject) -> Iterator[Query]:
    """Baking soda in a batter with nothing sour; not where soda works by heat or browns, as in brittle.

    An error where nothing else raises it, but in what lies flat: it stays close, and tastes of soap.
    """
    leaven, kind = leavening(subject), leavened_kind(subject)
    if leaven is None or leaven.soda_line is None or _swapped_for_powder(subject, leaven):
        return
    if _is_alone(subject, leaven):
        rule = usual_leavening()[kind]
        met = f"only the {_sour(leaven)} could meet it" if leaven.sour else "nothing in the list meets it"
        yield query(
            leaven.soda_line,
            f"{grams(leaven.soda)} of {leaven.soda_line.item}, and {met}",
            f"{a_kind(kind)} of {grams(leaven.flour)} of flour has about "
            f"{grams(leaven.flour * rule.powder)} of baking powder instead, "
            "or soda with buttermilk or another sour ingredient",
            Severity.ERROR if not (leaven.powder or leaven.sour or leaven.whites or kind in FLAT) else None,
        )


FLAT = ("cookie", "shortbread", "cracker")  # which soda spreads and browns


@check(
    "soda-left-over",
    Severity.WARNING,
    why="Soda beyond what the acid meets tastes of soap and browns too fast.",
    source=TABLES,
    remedy="take less soda, or more of something sour",
)
def soda_left_over(subject: Subject) -> Iterator[Query]:
    """More soda than even a very sour batch of the list can meet; for its colour some is left on purpose."""
    leaven = leavening(subject)
    if (
        leaven is None
        or leaven.soda_line is None
        or _swapped_for_powder(subject, leaven)
        or _is_alone(subject, leaven)
    ):
        return
    rule = usual_leavening()[leavened_kind(subject)]
    least, most = leaven.left(leaven.acid_high), leaven.left(leaven.acid_low)
    most_left = SOAP if leaven.browned else rule.soda_left
    soapy = least > leaven.flour * SOAP
    if not (subject.kind or soapy):
        return  # how much is a matter of taste
    if least > max(most_left * leaven.flour, LITTLE) and not _ratio_speaks(subject, "high-soda"):
        meets = leaven.acid * SODA / 1000
        what = (
            f"the {_sour(leaven)} can meet about {number(meets, 2)} g"
            if leaven.sour
            else "nothing sour meets it"
        )
        yield query(
            leaven.soda_line,
            f"of {grams(leaven.soda)} of {leaven.soda_line.item}, {_span(least, most)} is left over: {what}",
            f"about {number(meets, 2)} g would be met; take less soda, or more of something sour",
            Severity.ERROR if soapy else None,
        )


@check(
    "acid-left-over",
    Severity.WARNING,
    why="A leavening acid without its soda only sours.",
    source=TABLES,
    remedy="weigh the acid against the soda: 2.2 g of cream of tartar meets 1 g",
)
def acid_left_over(subject: Subject) -> Iterator[Query]:
    """Far more cream of tartar, or another dry acid, than the soda of the list can meet."""
    leaven = _of_author(subject)
    if leaven is None or leaven.dry_line is None or not leaven.soda or leaven.whites:
        return
    over = leaven.dry_acid - leaven.base
    if over > leaven.base / 2 and over > 20:
        yield query(
            leaven.dry_line,
            f"{grams(leaven.dry)} of {leaven.dry_line.item} is more than "
            f"{grams(leaven.soda)} of soda can meet",
            f"{grams(leaven.dry * leaven.base / leaven.dry_acid)} would meet it if nothing else were sour",
        )


@check(
    "low-baking-powder",
    Severity.WARNING,
    why="Too little gas leaves the crumb heavy and flat.",
    source=TABLES,
    remedy="check the amount of baking powder or soda",
)
def low_baking_powder(subject: Subject) -> Iterator[Query]:
    """Powder and soda together give less gas than this kind of recipe usually has."""
    leaven = leavening_of_any(subject)
    line = None if leaven is None else leaven.powder_line or leaven.soda_line
    if leaven is None or line is None or not _needs_gas(subject, leaven):
        return
    rule = usual_leavening().get(subject.kind)
    low = rule.gas_low if rule else None if subject.recipe.kind else FLATTEST
    if low is not None and leaven.lift < low * leaven.flour:
        what = "the baking powder" if not leaven.soda else "the leavening, counted as baking powder,"
        named = a_kind(subject.kind) if rule else "a batter"
        yield query(
            line,
            f"{what} is {_of_flour(leaven.lift, leaven)}: {grams(leaven.lift)}; "
            f"{named} usually has at least {percent(low)}",
            f"{grams(leaven.flour * (rule.powder if rule else RISEN))} of baking powder would be usual; "
            "check both amounts",
        )


def _needs_gas(subject: Subject, leaven: Leavening) -> bool:
    """Whether it is to raise a batter: no check asks about it already, and no yeast or foam helps it."""
    if subject.recipe.kind:
        judged = subject.kind in usual_leavening()
        return (
            judged
            and not (leaven.powder and not leaven.soda and _swapped_for_soda(leaven))
            and not _is_alone(subject, leaven)
        )
    roles = subject.formula(subject.recipe.parts).roles
    yeast = any(roles.get(role) for role in TOGETHER["yeast"])
    beaten = leaven.whites or any(BEATEN.search(step.text) for step in subject.steps)
    return not (yeast or beaten or leaven.has_unknown) and _is_batter(subject, leaven)


FLATTEST = Fraction(6, 1000)  # of the flour in powder; of 132 sound recipes none has less: no source
RISEN = Fraction(4, 100)  # a teaspoon to a cup: common practice, no source
