"""Proportions by kind, against ``ratios.csv``: the slip of a digit, and the dough nobody could roll."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache

from cardsmith.check.formula.browning import MOST, is_browned
from cardsmith.check.formula.likely import likely_kinds, named_kind
from cardsmith.check.formula.readings import FAR, likely_meaning
from cardsmith.check.parts import doughs, holds, without_trimmings
from cardsmith.check.registry import PRACTICE, Check, Query, check, query
from cardsmith.check.subject import ENCLOSING, Formula, Subject
from cardsmith.check.wording import a_kind, grams, number, percent
from cardsmith.facts.kinds import kinds
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.measure.larder import role_shares
from cardsmith.recipe.model import Ingredient, Part
from cardsmith.reference import OURS, Tables, table
from cardsmith.regex import regex

FILLING = frozenset(ENCLOSING) | {"milk", "cream", "stock"}  # what a plain crust does not hold
SLIP = Fraction(19, 10)  # so many times beyond a limit, where the table knows no better, a figure is a slip
OWN_HAND = Fraction(3, 2)  # times a limit: common practice, no source
ENDS = ("low", "high")
VARIES = frozenset(
    {"salt", "liquid", "hydration"}
)  # from a far to a pound cake, from a bread to a raised biscuit
EXACT = frozenset({"gelatine", "agar", "pectin", "yeast", "soda", "baking-powder"})  # what works by the gram
TENFOLD = 8  # a decimal point's slip from the usual, less what the usual varies: common practice, no source
NEAR = Fraction(1, 50)  # of a limit, what rounding of spoons and grams may be off: common practice, no source


@frozen
class Ratio:
    """What share one set of roles has of another in a kind of recipe; shares as plain fractions."""

    ratio: str
    numerator: Mapping[str, Fraction]
    denominator: Mapping[str, Fraction]
    told: str  # the denominator in words
    low: Fraction | None
    typical: Fraction
    high: Fraction | None
    absurd_low: Fraction  # what nobody can mean
    absurd_high: Fraction | None
    unit: str  # %, times
    parts: str  # which parts are judged: "", dough, crust, holding
    needed: bool  # whether none of it at all is a fault too
    source: str


@cache
def ratios(tables: Tables = OURS) -> Mapping[str, tuple[Ratio, ...]]:
    """The ratios of each kind; limits out of order, or a row without a source, raise."""
    by_name: dict[str, list[Ratio]] = {row["kind"]: [] for row in tables.rows("kinds")}
    for row in tables.rows("ratios"):
        scale = 100 if row["unit"] == "%" else 1
        low, high = (Fraction(row[end]) / scale if row[end] else None for end in ENDS)
        typical = Fraction(row["typical"]) / scale
        absurd = [Fraction(row[f"absurd_{end}"]) / scale if row[f"absurd_{end}"] else None for end in ENDS]
        if not (low or 0) <= typical <= (typical if high is None else high) or not row["source"]:
            raise ValueError(f"ratios.csv: {row['kind']}, {row['ratio']}: limits or source are wrong")
        by_name[row["kind"]].append(
            Ratio(
                ratio=row["ratio"],
                numerator=role_shares(row["numerator"]),
                denominator=role_shares(row["denominator"]),
                told=row["told"],
                low=low,
                typical=typical,
                high=high,
                absurd_low=absurd[0] or (low or 0) / SLIP,
                absurd_high=absurd[1] or (None if high is None else high * SLIP),
                unit=row["unit"],
                parts=row["parts"],
                needed=row["needed"] == "yes",
                source=row["source"],
            )
        )
    return {kind: tuple(rows) for kind, rows in by_name.items()}


def judged(subject: Subject, ratio: Ratio) -> Formula:
    """The parts a ratio speaks of: the dough, those that hold the thing, or all but the trimmings.

    A crust whose list is one with its filling cannot be told apart from it, so nothing is judged.
    """
    parts = subject.components
    if ratio.parts == "holding":
        chosen = tuple(part for part in parts if holds(part, ratio.numerator)) or parts
    else:
        named: dict[str, tuple[Part, ...]] = {
            "dough": doughs(parts),
            "": without_trimmings(parts),
        }
        named["crust"] = named["dough"]
        if ratio.parts == "crust" and not named["dough"] and any(holds(part, FILLING) for part in parts):
            return subject.formula(())
        chosen = named[ratio.parts] or named[""] or parts
    return subject.formula(chosen)


def _sum(roles: Mapping[str, Fraction], terms: Mapping[str, Fraction]) -> Fraction:
    return sum((roles.get(role, Fraction(0)) * share for role, share in terms.items()), Fraction(0))


def _line_of(formula: Formula, terms: Mapping[str, Fraction]) -> Ingredient | None:
    """The line that brings most of what is counted."""
    bringing = [
        (sum((line.food.share(role) for role in terms), Fraction(0)) * mass.grams, line)
        for line, mass in formula.lines
        if mass is not None and line.food is not None
    ]
    return max(bringing, key=lambda pair: pair[0])[1] if bringing else None


def _is_missing(formula: Formula, ratio: Ratio) -> bool:
    """Whether no line brings any of it: salt to taste brings some."""
    return not any(holds(part, ratio.numerator) for part in formula.parts)


def _has_bath(formula: Formula) -> bool:
    """Whether water is listed twice, as for a dough that is boiled: nobody can tell which it holds."""
    return sum(line.food is not None and line.food.share("water") == 1 for line, _ in formula.lines) > 1


def _has_unknown(formula: Formula) -> bool:
    """Whether a line that nobody knows may bring what seems to be missing."""
    return any(line.food is None and mass is not None for line, mass in formula.lines)


def _share(value: Fraction, unit: str) -> str:
    return percent(value) if unit == "%" else f"{number(value, 2)} times"


def _verb(denominator: str, unit: str) -> str:
    several = denominator.endswith("s")
    if unit == "%":
        return "are" if several else "is"
    return "weigh" if several else "weighs"


def usual(ratio: Ratio) -> str:
    """Its limits in words: ``40 to 65 %``, ``at most 2 times``."""
    ends = [end for end in (ratio.low, ratio.high) if end is not None]
    if len(ends) == 2:
        low = number(ends[0] * (100 if ratio.unit == "%" else 1), 2)
        return f"{low} to {_share(ends[1], ratio.unit)}"
    return f"{'at least' if ratio.high is None else 'at most'} {_share(ends[0], ratio.unit)}"


@frozen
class _Beyond:
    """A share outside its limits."""

    kind: str
    ratio: Ratio
    formula: Formula
    line: Ingredient
    part: Fraction  # g
    whole: Fraction  # g

    @property
    def share(self) -> Fraction:
        return self.part / self.whole

    @property
    def is_far(self) -> bool:
        """Whether there is so much too much or too little of it that no cook's own hand explains it."""
        low, high = self.ratio.low, self.ratio.high
        thin = low is not None and self.share * OWN_HAND < low
        return thin or (high is not None and self.share > high * OWN_HAND)

    @property
    def is_slip(self) -> bool:
        most = self.ratio.absurd_high
        return self.share < self.ratio.absurd_low or (most is not None and self.share > most)


def _judge(subject: Subject, name: str, verb: str, high: bool) -> Iterator[Query]:
    guessed = not subject.kind
    for beyond in _absurd(subject, name, high) if guessed else _beyond(subject, subject.kind, name, high):
        ratio, whole = beyond.ratio, beyond.whole
        yield query(
            beyond.line,
            f"the {verb} {_verb(verb, ratio.unit)} {_share(beyond.share, ratio.unit)} "
            f"{'of ' if ratio.unit == '%' else ''}{ratio.told} "
            f"({grams(beyond.part)} to {grams(whole)}); {a_kind(beyond.kind)} "
            f"usually has {usual(ratio)}",
            f"{_usual_amount(beyond, verb)} would be usual{_slip(beyond.line, beyond.formula, ratio)}; "
            "check both amounts, or say under accepted: why this one differs",
            Severity.ERROR if beyond.is_slip and beyond.part else None,
        )


def _absurd(subject: Subject, name: str, high: bool) -> Iterator[_Beyond]:
    """Where nobody says the kind, only what is a slip for every kind that the list can be."""
    beyonds = [
        next(_beyond(subject, likeness.kind, name, high, likeness.formula), None)
        for likeness in likely_kinds(subject)
    ]
    if high and any(_has_bath(likeness.formula) for likeness in likely_kinds(subject)):
        return
    slips = [
        beyond for beyond in beyonds if beyond is not None and beyond.is_slip and not _is_dry(subject, beyond)
    ]
    named = len(beyonds) == 1 and beyonds[0] is not None and beyonds[0].kind == named_kind(subject)
    if named and not slips and beyonds[0] is not None:
        far = name not in VARIES and beyonds[0].is_far
        if name in EXACT or far or (name == "hydration" and high and _is_kneaded(subject)):
            yield beyonds[0]
    if slips and len(slips) == len(beyonds) and (name not in VARIES or _is_sure(subject, slips[0])):
        yield slips[0]


def _is_kneaded(subject: Subject) -> bool:
    """Whether the steps knead a dough by hand, or until it is firm: what flows cannot be."""
    return any(KNEADED.search(field.text) for field in subject.steps)


KNEADED = regex(
    r"\bknead\b[^.;]*\b(?:smooth|firm|stiff|board|surface|worktop|by hand|elastic)\b", re.IGNORECASE
)


def _is_dry(subject: Subject, slip: _Beyond) -> bool:
    """Whether one part is a dry mixture, a dredge of flour: what it has none of, another part has."""
    others = (part for part in subject.recipe.parts if part not in slip.formula.parts)
    return not slip.part and any(holds(part, slip.ratio.numerator) for part in others)


def _is_sure(subject: Subject, slip: _Beyond) -> bool:
    """Whether the title names the kind, or no other dish of such a list can mean so much or so little."""
    share, typical = slip.share, slip.ratio.typical
    return slip.kind == named_kind(subject) or not share or max(share / typical, typical / share) >= TENFOLD


def _beyond(
    subject: Subject, kind: str, name: str, high: bool, marked: Formula | None = None
) -> Iterator[_Beyond]:
    """What a kind has too much or too little of; in the parts that are ``marked`` as such, where given."""
    for ratio in ratios(subject.tables).get(kind, ()):
        limit = ratio.high if high else ratio.low
        if (
            high
            and name == "hydration"
            and limit is not None
            and any(ROLLED.search(field.text) for field in subject.steps)
        ):
            limit = min(limit, STIFF)
        if high and name == "soda" and limit is not None and _is_browned(subject):
            limit = max(limit, MOST)
        if ratio.ratio != name or limit is None:
            continue
        formula = judged(subject, ratio) if marked is None or ratio.parts == "crust" else marked
        if name == "salt" and (_is_shed(subject) if high else _is_pinched(subject)):
            continue
        if formula.unweighed & {*ratio.numerator, *ratio.denominator} or (not high and _has_unknown(formula)):
            continue
        # For too much, only what is free counts (not the water in bananas); for too little, all of it.
        loose = high and not set(ratio.numerator) & set(ENCLOSING)
        part = _sum(formula.free if loose else formula.roles, ratio.numerator)
        whole = _sum(formula.roles, ratio.denominator)
        line = _line_of(formula, ratio.numerator if part else ratio.denominator)
        if not whole or line is None or (not part and not (ratio.needed and _is_missing(formula, ratio))):
            continue
        share = part / whole
        if (share > limit * (1 + NEAR)) if high else (share < limit * (1 - NEAR)):
            yield _Beyond(kind=kind, ratio=ratio, formula=formula, line=line, part=part, whole=whole)


def _is_browned(subject: Subject) -> bool:
    """Whether soda is taken for the colour of a batter."""
    formula = subject.formula(subject.recipe.parts)
    weighed = [(line, mass.grams) for line, mass in formula.lines if mass is not None]
    flour = formula.roles.get("flour", Fraction(0))
    return flour > 0 and is_browned(subject, weighed, flour)


def _is_shed(subject: Subject) -> bool:
    """Whether the salt is scraped or rinsed off again, or food is lifted out of it."""
    return any(SHED.search(step.text) for step in subject.steps)


def _is_pinched(subject: Subject) -> bool:
    """Whether salt goes in by the pinch, of which nobody knows the weight."""
    lines = (line for line in subject.recipe.ingredients if line.food and line.food.share("salt") == 1)
    return any(line.amount is None or line.amount.is_vague for line in lines)


STIFF = Fraction(
    8, 10
)  # of the flour in water: wetter, a dough is poured, not rolled; common practice, no source
ROLLED = regex(
    r"\b(?:roll|shape|form) (?:each|them|it|the (?:dough|pieces?))\b[^.;]*"
    r"\b(?:ropes?|balls?|sausages?|thin|log)\b"
    r"|\bplait\b",
    re.IGNORECASE,
)
SHED = regex(
    r"\b(?:scrape|brush|wipe|rinse|wash) (?:\w+ )?(?:off|away)? ?(?:all )?(?:the )?(?:cure|brine|salt)\b"
    r"|\b(?:pour|drain|tip) (?:away|off) the (?:brine|liquid|cure)\b"
    r"|\b(?:lift|take|remove) (?:\w+ ){1,3}(?:from|out of) the (?:cure|brine)\b",
    re.IGNORECASE,
)


def _usual_amount(beyond: _Beyond, text: str) -> str:
    """How much of its line gives the usual share, the other lines as they are.

    A gram of it adds ``own`` to the part, and moves the balance of part and usual part by ``net``. Where
    it dilutes more than it adds (milk, for solids), no amount of it is sound advice: then how much in all.
    """
    ratio, food, wanted = beyond.ratio, beyond.line.food, beyond.ratio.typical * beyond.whole
    mass = next((mass.grams for line, mass in beyond.formula.lines if line is beyond.line and mass), None)
    if mass is not None and food is not None and beyond.part:
        per_gram = {role: food.share(role) for role in (*ratio.numerator, *ratio.denominator)}
        per_gram["total"] = Fraction(1)
        own = _sum(per_gram, ratio.numerator)
        net = own - ratio.typical * _sum(per_gram, ratio.denominator)
        if own and net >= own / 2 and mass + (wanted - beyond.part) / net > 0:
            return f"about {grams(mass + (wanted - beyond.part) / net)} of {beyond.line.item}"
    return f"about {grams(wanted)} of {text.partition(',')[0]} in all"


def _slip(line: Ingredient, formula: Formula, ratio: Ratio) -> str:
    """``(2¼ tbsp may stand for 2¼ tsp: another spoon)``, where one slip explains a figure far off."""
    mass = next((mass.grams for other, mass in formula.lines if other is line and mass is not None), None)
    if mass is None or line.food is None:
        return ""
    part, whole = _sum(formula.roles, ratio.numerator), _sum(formula.roles, ratio.denominator)
    food, terms = line.food, {*ratio.numerator, *ratio.denominator}

    def off(other: Fraction) -> Fraction | None:
        more = {role: (other - mass) * (1 if role == "total" else food.share(role)) for role in terms}
        there = (part + _sum(more, ratio.numerator)) / (whole + _sum(more, ratio.denominator))
        if not there or not (ratio.low or 0) <= there <= (there if ratio.high is None else ratio.high):
            return None
        return max(there / ratio.typical, ratio.typical / there)

    far = part and max(part / whole / ratio.typical, ratio.typical * whole / part) >= FAR
    meant = likely_meaning(line, off) if far else None
    return f" ({meant.written} may stand for {meant.told}: {meant.slip})" if meant else ""


def _sides(row: Mapping[str, str]) -> Iterator[Check]:
    """The checks of one ratio: too little, too much, or the one that any kind has a limit for."""

    def make(high: bool) -> Check:
        def judge(subject: Subject) -> Iterator[Query]:
            return _judge(subject, row["ratio"], row["told"], high)

        noun = row["told"].partition(",")[0]
        judge.__doc__ = (
            f"A {'larger' if high else 'smaller'} share of {noun} than this kind of recipe usually has."
        )
        return check(
            f"{'high' if high else 'low'}-{row['ratio']}",
            Severity.WARNING,
            why=row["why"],
            source="ratios.csv, a source for each kind",
            remedy="check both amounts, or say under accepted: why this one differs",
        )(judge)

    limits = [ratio for of_kind in ratios().values() for ratio in of_kind if ratio.ratio == row["ratio"]]
    if any(ratio.low is not None for ratio in limits):
        yield make(False)
    if any(ratio.high is not None for ratio in limits):
        yield make(True)


@check(
    "unknown-kind",
    Severity.WARNING,
    why="For a kind that the tables do not know, no proportion is checked.",
    source=PRACTICE,
    remedy="use one that `cardsmith explain kinds` lists",
)
def unknown_kind(subject: Subject) -> Iterator[Query]:
    """A kind that is not in the table: the nearest is offered; a note where none is or one ends it."""
    kind = subject.recipe.kind
    if kind is not None and kind.text.strip() and not subject.kind:
        near = difflib.get_close_matches("-".join(kind.text.lower().split()), kinds(subject.tables), 3, 0.8)
        hint = listed(list(dict.fromkeys(kinds(subject.tables)[name] for name in near)), "or")
        kind_words = kind.text.lower().split()
        sort = any("-".join(kind_words[at:]) in kinds(subject.tables) for at in range(1, len(kind_words)))
        yield query(
            kind,
            f"no table knows the kind “{kind.text}”",
            f"did you mean {hint}?" if hint else "",
            None if hint and not sort else Severity.NOTE,  # “enriched yeast bread” is no slip
        )


RATIO_CHECKS: tuple[Check, ...] = tuple(side for row in table("ratio_names") for side in _sides(row))
