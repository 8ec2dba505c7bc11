"""Pans, pots and glasses against what goes into them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache

from cardsmith.check.amounts.taken_by_steps import taken
from cardsmith.check.amounts.vessels import Vessel, all_vessels, vessels
from cardsmith.check.fields import numeral_kind
from cardsmith.check.formula.batch import losses
from cardsmith.check.formula.likely import likely_kinds, named_kind
from cardsmith.check.parts import poured_parts
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import ENCLOSING, Formula, Subject
from cardsmith.check.wording import number, percent
from cardsmith.facts.dangers.mishaps import deep_fat
from cardsmith.facts.dangers.spoilage import SOFT_DAIRY
from cardsmith.facts.foods.roles import FRYING_FATS
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind
from cardsmith.measure.larder import Food
from cardsmith.measure.patterns import is_of
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Part
from cardsmith.reference import OURS, Tables
from cardsmith.regex import regex

HEAVIEST = Fraction(105, 100)  # g/ml of a custard, of bones in water, so that no volume is overrated
BRIM = Fraction(102, 100)
_OTHER = regex(r"\b(?:bowl|frying pan|skillet|jug|baking dish|roasting pan|sheet pan|jar|plate)s?\b", re.I)
_NAMED = regex(
    r"\b(?:cake|loaf|baking|brownie|springform|tube|ring|traybake)[ -](?:pan|tin|dish|mould|mold)s?\b", re.I
)
_FORMS = regex(
    r"\b(?:cake|loaf|brownie|springform|tube|ring|bundt|terrine)[ -](?:pan|tin|mould|mold)s?\b", re.I
)
_BAKES = regex(r"\b(?:bak(?:e|ed|ing)|oven|steam(?:ed)?)\b", re.I)
_OVEN_WARE = frozenset("roasting frying sheet".split())  # what a tin stands in, or food lies on
DEEP = Fraction(12, 10)  # of the usual depth: common practice, no source
HEAVIEST_BATTER = Fraction(11, 10)  # g/ml; what weighs more in it runs over: common practice, no source
SIZES = frozenset({Kind.VESSEL, Kind.NAME, Kind.UNREAD})
_BAKED_IN = frozenset("pan pans tin tins dish dishes mould moulds mold molds".split())


@frozen
class Fill:
    """What share of a pan the raw mixture of a kind takes up, and what a millilitre of it weighs."""

    density: Fraction
    least: Fraction
    most: Fraction
    told: str


@cache
def fills(tables: Tables = OURS) -> Mapping[str, Fill]:
    """The kinds that are baked in a pan."""
    return {
        row["kind"]: Fill(
            density=Fraction(row["density"]),
            least=Fraction(row["least"]),
            most=Fraction(row["most"]),
            told=row["told"],
        )
        for row in tables.rows("pan_fills")
    }


def _mass(subject: Subject, parts: tuple[Part, ...]) -> tuple[Fraction, bool]:
    formula = subject.formula(parts)
    return formula.roles["total"], "total" not in formula.unweighed


def _batter(subject: Subject) -> tuple[Fraction, bool]:
    """What goes into the pan: the parts with flour; and whether all of it has a weight."""
    parts = tuple(
        part for part in subject.components
        if any(line.food is not None and line.food.share("flour") for line in part.ingredients)
    )  # fmt: skip
    return _mass(subject, parts or subject.recipe.parts)


@frozen
class Baked:
    """A mixture and the pan it is baked in."""

    vessel: Vessel
    rule: Fill
    mass: Fraction  # g
    poured: Fraction  # g of it without fruit and pieces, which may stand above the rim
    whole: bool  # whether all of it has a weight

    @property
    def share(self) -> Fraction:
        """What share of the pan it takes up."""
        return self.mass / self.rule.density / (self.vessel.volume * self.vessel.count)


def _in_pan(subject: Subject, named: tuple[Vessel, ...] | None = None) -> Baked | None:
    """The mixture of a recipe that is baked in a pan, in the first pan of a known size."""
    sized = [vessel for vessel in named or all_vessels(subject) if vessel.sort == "pan"]
    if not sized:
        return None
    first = sized[0]
    if subject.recipe.kind:
        rule = fills(subject.tables).get(subject.kind)
        mass, whole = _batter(subject)
        poured = mass
    else:
        rule, formula = _likely_fill(subject)
        if formula is None or (first.count == 1 and first.told.endswith("s")):
            return None
        mass, whole = formula.roles["total"], "total" not in formula.unweighed
        pieces = (weight.grams for line, weight in formula.lines if weight and _is_piece(line.food))
        poured = mass - sum(pieces, Fraction(0))
    return None if rule is None else Baked(vessel=first, rule=rule, mass=mass, poured=poured, whole=whole)


def _is_piece(food: Food | None) -> bool:
    return food is not None and food.is_mainly(*ENCLOSING) and not is_of(food, SOFT_DAIRY)


def _likely_fill(subject: Subject) -> tuple[Fill | None, Formula | None]:
    """Of the kinds that the list can be, the rule that lets a pan hold most, and the mixture."""
    known = fills(subject.tables)
    likely = [likeness for likeness in likely_kinds(subject) if likeness.kind in known]
    if not likely or len(likely) < len(likely_kinds(subject)) // 2:
        return None, None
    rules = [known[likeness.kind] for likeness in likely]
    roomy = max(rules, key=lambda rule: rule.most)
    return replace(roomy, density=max(rule.density for rule in rules)), likely[0].formula


TO_THE_BRIM = Fraction(95, 100)  # of the pan, before it rises; common practice, no source


@check(
    "pan-too-small",
    Severity.WARNING,
    why="Batter runs over into the oven, or bakes outside and stays raw within; a pot boils over.",
    source="pan_fills.csv and kind_losses.csv: " + PRACTICE + "; volumes by geometry",
    remedy="name the pan that you used",
)
def pan_too_small(subject: Subject) -> Iterator[Query]:
    """A pan, pot, glass or ramekin that its contents would fill to the brim, or over.

    Deep fat may fill half a pot; an error where it would fill two thirds.
    """
    named = all_vessels(subject)
    yield from _deep_fat(subject, named)
    baked = _in_pan(subject, named)
    if baked is not None:
        vessel, rule, share = baked.vessel, baked.rule, baked.share
        may_be_deep = (len(vessel.edges) == 1 and "square" not in vessel.told) or "cake tin" in vessel.told
        deep = not subject.recipe.kind and may_be_deep and vessel.depth is None  # and nobody says
        if share > (max(rule.most, DEEP) if deep else rule.most):
            room = vessel.volume * vessel.count
            over = "muffin" not in vessel.told and (
                baked.poured / HEAVIEST_BATTER > room or share > TO_THE_BRIM
            )  # baked by the panful
            yield query(
                vessel.place,
                f"the mixture is about {number(share * vessel.volume * vessel.count)} ml and fills "
                f"{percent(share)} of the {vessel.told} ({number(vessel.volume * vessel.count)} ml); "
                f"{rule.told} is usual",
                severity=Severity.ERROR if over else None,
            )
    else:
        yield from _overfull(subject, named)
    for vessel in named:
        needed = _needed(subject, vessel)
        if needed is not None and needed > vessel.volume * vessel.count * BRIM:
            several, holds = (f"{vessel.count} × ", "hold") if vessel.count > 1 else ("", "holds")
            yield query(
                vessel.place,
                f"what goes in is at least {number(needed)} ml; {several}{vessel.told} {holds} "
                f"{number(vessel.volume * vessel.count)} ml",
                severity=Severity.ERROR
                if vessel.sort == "cup" and needed > vessel.volume * vessel.count * APART
                else None,
            )
            return


def _deep_fat(subject: Subject, named: tuple[Vessel, ...]) -> Iterator[Query]:
    """A pot that the fat for deep frying fills so far that it may foam over."""
    known = dish(subject.recipe, subject.larder)
    pots = [pan for pan in named if pan.sort == "pot" and pan.count == 1]
    if not pots or not deep_fat(known, 0):
        return
    fats = [place for place, identity in enumerate(known.foods) if is_of(identity.food, FRYING_FATS)]
    bath, steps = Fraction(0), set[int]()
    for place in fats:
        spoken = [(use.step.number - 1, use.amount) for use in taken(subject, place)]
        sizes = [amount for _, amount in spoken if amount is not None]
        listed = subject.recipe.ingredients[place].amount
        sizes = sizes or ([listed] if listed is not None and not listed.is_vague else [])
        bath = max(bath, max(map(_millilitres, sizes), default=Fraction(0)))
        steps |= {step for step, _ in spoken}
    vessel = max((pot for pot in pots if pot.step in steps), key=_holds, default=max(pots, key=_holds))
    if bath > vessel.volume * ROOM_FOR_FAT:
        yield query(
            vessel.place,
            f"{number(bath)} ml of fat fills {percent(bath / vessel.volume)} of the {vessel.told}; "
            "hot fat foams up, and over the rim it catches fire",
            "name a pot that holds at least twice as much, or less oil",
            Severity.ERROR if bath > vessel.volume * FOAMS_OVER else None,
        )


def _millilitres(amount: Quantity) -> Fraction:
    """The least volume of an amount of fat."""
    dense = {Dimension.VOLUME: Fraction(1), Dimension.MASS: FAT_DENSITY}.get(amount.dimension)
    return amount.low / dense if dense else Fraction(0)


def _holds(vessel: Vessel) -> Fraction:
    return vessel.volume


FAT_DENSITY = Fraction(92, 100)  # g/ml: USDA SR 28, food 04582, 218 g per cup
ROOM_FOR_FAT = Fraction(55, 100)  # half, and what a marked size may be off: common practice, no source
FOAMS_OVER = Fraction(2, 3)


def _overfull(subject: Subject, named: tuple[Vessel, ...]) -> Iterator[Query]:
    """One pan of any dish that what is poured into it cannot go into, however heavy it is."""
    pans = [vessel for vessel in named if vessel.sort == "pan"]
    if len(pans) != 1 or (pans[0].count == 1 and pans[0].told.endswith("s")):
        return
    baked = max((place for place, field in enumerate(subject.steps) if _BAKES.search(field.text)), default=-1)
    fills_at = (place for place in range(baked + 1) if _FILLS.search(subject.steps[place].text))
    filled = max(fills_at, default=None)
    if filled is None or any(_SHRINKS.search(field.text) for field in subject.steps):
        return
    formula = subject.formula(poured_parts(subject.components))
    places = {id(line): place for place, line in enumerate(subject.recipe.ingredients)}
    went_in = [
        (line, mass.grams)
        for line, mass in formula.lines
        if mass is not None and min(subject.mentions.steps_of(places[id(line)]), default=filled + 1) <= filled
    ]
    poured = sum((grams for line, grams in went_in if not _is_piece(line.food)), Fraction(0))
    room = pans[0].volume * pans[0].count
    if poured / HEAVIEST_BATTER > room:
        poured_in = f"what is poured in is at least {number(poured / HEAVIEST_BATTER)} ml"
        what = f"{poured_in}, and the {pans[0].told} holds {number(room)} ml to the brim"
        yield query(pans[0].place, what, severity=Severity.ERROR)
    elif pans[0].depth is not None and any(formula.roles.get(role) for role in RAISING):
        share = sum((grams for _, grams in went_in), Fraction(0)) / HEAVIEST / room
        if share > FULL and formula.roles.get("flour", 0) > formula.roles["total"] / 10:
            poured_in = (
                f"the batter fills {percent(share)} of the {pans[0].told} ({number(room)} ml), and it rises"
            )
            yield query(pans[0].place, poured_in)


RAISING = ("baking-powder", "soda", "leavener")
FULL = Fraction(4, 5)  # of a pan whose depth is given: common practice, no source

_FILLS = regex(
    r"\b(?:pour|scrape|spread|press|spoon|tip|turn|pack|ladle|pile)\b[^.;]*\b(?:in|into|over|to|across)\b",
    re.I,
)
# What boils away, is poured off or goes in by halves leaves nobody able to say how much there is.
_SHRINKS = regex(
    r"\b(?:simmer\w*|reduc\w*|boil (?:it )?(?:down|hard|for)|drain\w*|strain\w*|discard\w*|sieve\w*"
    r"|press through|batch(?:es)?|second (?:tin|pan|cake|loaf)|leftover|any left|spare|save the rest)\b",
    re.I,
)


def _needed(subject: Subject, vessel: Vessel) -> Fraction | None:
    """The least ml that go into a pot, or into all the glasses; None where nobody can tell."""
    called = "" if subject.recipe.kind or vessel.sort != "cup" else named_kind(subject)
    loss = losses(subject.tables).get(subject.kind or called)
    if vessel.step is None or loss is None:
        return None
    if vessel.sort == "pot":
        return _in_pot(subject, vessel.step)
    if vessel.sort != "cup" or vessel.count < 2 or loss.low is None:
        return None
    place = 0
    for part in subject.recipe.parts:
        place += len(part.steps)
        if vessel.step < place:
            mass, _ = _mass(subject, (part,))
            return mass * (1 - loss.high) / HEAVIEST
    return None


def _in_pot(subject: Subject, start: int) -> Fraction:
    """The least ml of what the steps put into a pot until they name another vessel."""
    lines: set[int] = set()
    place = 0
    texts = subject.steps
    for part in subject.recipe.parts:
        for step in texts[place : place + len(part.steps)]:
            step_text = step.text
            if place > start and _OTHER.search(step_text):
                return _room(subject, lines)
            if place >= start:
                lines |= set(subject.mentions.lines_of(place))
            place += 1
        if place > start:
            break
    return Fraction(0) if _OTHER.search(texts[start].text) else _room(subject, lines)


def _room(subject: Subject, lines: set[int]) -> Fraction:
    return sum((subject.masses[line].low for line in lines if line in subject.masses), Fraction(0)) / HEAVIEST


@check(
    "pan-too-large",
    Severity.WARNING,
    why="In a pan too large the mixture lies thin, dries out and is done long before its time.",
    source="pan_fills.csv: " + PRACTICE + "; volumes by geometry",
    remedy="name the pan that you used",
)
def pan_too_large(subject: Subject) -> Iterator[Query]:
    """A pan that the batter or dough of its kind would hardly cover."""
    baked = _in_pan(subject)
    if baked is not None and baked.vessel.count == 1:
        vessel, rule, share = baked.vessel, baked.rule, baked.share
        if baked.whole and share < rule.least * (1 if subject.recipe.kind else THIN):
            yield query(
                vessel.place,
                f"the mixture is about {number(share * vessel.volume * vessel.count)} ml and fills only "
                f"{percent(share)} of the {vessel.told} ({number(vessel.volume * vessel.count)} ml); "
                f"{rule.told} is usual",
            )


THIN = Fraction(6, 10)  # of the least, where nobody says the kind: a tray bake lies flat; no source


@check(
    "pans-disagree",
    Severity.ERROR,
    why="The cook takes down the pan that is listed, and the step asks for another.",
    source="the recipe's own figures; volumes by geometry",
    remedy="name the pan that you used in both places",
)
def pans_disagree(subject: Subject) -> Iterator[Query]:
    """One baking pan in the equipment and one in the steps, of which one holds a quarter more."""
    in_steps = [vessel for place, step in enumerate(subject.steps) for vessel in vessels(step, place)]
    tools = (text for text in subject.fields if text.name == "equipment")
    listed = [vessel for text in tools for vessel in vessels(text, None)]
    for sort in ("pan", "cup"):
        used, named = (
            [vessel for vessel in vessels_there if vessel.sort == sort]
            for vessels_there in (in_steps, listed)
        )
        if len({vessel.told for vessel in used}) != 1 or len(named) != 1 or used[0].told == named[0].told:
            continue
        holds, other = (
            vessel.volume * (vessel.count if sort == "cup" else 1) for vessel in (used[0], named[0])
        )
        if max(holds, other) > min(holds, other) * APART:
            yield query(
                named[0].place,
                f"the equipment lists {_several(named[0])}, the steps take {_several(used[0])}",
            )


APART = Fraction(5, 4)  # of two pans; less may be two makers' way to measure: common practice, no source


def _several(vessel: Vessel) -> str:
    return f"{vessel.count} × {vessel.told}" if vessel.count > 1 else f"a {vessel.told}"


@check(
    "pan-missing",
    Severity.WARNING,
    why="The size of the pan decides how thick a cake is, and so how long it bakes.",
    source=PRACTICE,
    remedy="write the size of the pan, as in a 9-inch round cake pan, 2 inches deep",
)
def pan_missing(subject: Subject) -> Iterator[Query]:
    """A cake, loaf or bar baked in a pan whose size is not given; a terrine, too, in its loaf tin."""
    if subject.recipe.kind and subject.kind not in fills(subject.tables):
        return
    if any(_BAKED_IN & set(noun.split()) and not _OVEN_WARE & set(noun.split()) for noun in _sized(subject)):
        return
    if not subject.kind and not any(_BAKES.search(step.text) for step in subject.steps):
        return  # a ring of ice
    pattern = _NAMED if subject.kind else _FORMS
    for step in (text for text in subject.fields if text.name in {"steps", "equipment"}):
        match = pattern.search(step.text)
        if match is not None:
            yield query(step.spot(match.group()), f"how large is the {match.group().lower()}?")
            return


def _sized(subject: Subject) -> Iterator[str]:
    """The vessels of which a size is given, or how many wells they have, in steps and equipment."""
    for text in subject.fields:
        if text.name in {"steps", "equipment"}:
            yield from (span.noun for _, span in text.numerals if numeral_kind(span) in SIZES)
