"""Yields against what the list weighs, against the steps, and against the people who share it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from cardsmith.check.amounts.vessels import Vessel, all_vessels
from cardsmith.check.amounts.volumes import impossible
from cardsmith.check.amounts.yield_counts import by_equipment, by_piece, by_rows
from cardsmith.check.fields import Field
from cardsmith.check.formula.batch import BatchWeight, batch, made
from cardsmith.check.formula.readings import likely_meaning
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import a_kind, grams, number, percent
from cardsmith.facts.dangers.spoilage import is_animal
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.language.quantities import read_quantity
from cardsmith.language.spans import Kind
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.model import Yield
from cardsmith.regex import regex

FAR_APART = Fraction(3, 2)  # more than a last small piece explains: common practice, no source
TWICE = Fraction(2)  # more than any loss that the tables have wrong: common practice, no source
MARGIN = Fraction(3, 100)  # what a scale and a last scrape differ by: common practice, no source
GENERIC = frozenset(
    "ball piece portion round square finger circle disc patty spoonful bar wedge mound strip rope triangle"
    " rectangle oblong length lump log parcel diamond stick knot twist coil bun roll cake".split()
)
SERVED = frozenset("plate bowl serving portion glass cup jar bottle platter dish drink mug".split())
# Verbs that make the pieces of a batch; "into" alone for "divide the dough into 12 balls".
_MAKING = regex(
    r"\b(?:into|among|between|cut(?: out)?|shape|pipe|drop|mak(?:e|ing)|form|stamp out|scoop|roll|portion"
    r"|fill|spoon|thread\b[^.;,]{0,30}? on(?: ?to)?|mark(?: in)?|cut in)\s+(?:about |out )?$",
    re.IGNORECASE,
)
_PARTLY = regex(r"\beach\b|\bhalf\b(?!-)|\bhalves\b", re.IGNORECASE)

_OF_EACH = regex(r"\beach\b(?! (?:into|in|to|with)\b)|\bof (?:one|every) |\bhalf\b(?!-)|\bhalves\b", re.I)


def pieces(text: Field) -> Iterator[tuple[Fraction, str, str, bool]]:
    """How many of what a text makes, the words that say so, and whether of a part only: "each into 6"."""
    for at, one in text.told(Kind.COUNT):
        begins, ends = text.sentence_at(at)
        making = _MAKING.search(text.text, begins, at)
        if making is not None and one.noun and one.high > 1:
            behind = text.text[at + len(one.text) : ends].partition(",")[0]
            before = _PARTLY.search(text.text, begins, making.start())
            partly = before is not None or _OF_EACH.search(behind) is not None
            yield one.high, one.noun.split()[-1], text.text[making.start() : at + len(one.text)], partly


def sized_pieces(text: Field) -> Iterator[tuple[Fraction, Fraction | None, str]]:
    """The least that the pieces of a text weigh, in grams, what its sentence cuts them from, and its words.

    24 balls of about 26 g each; "shape the mixture, about 850 g, into 28 balls of 75 g".
    """
    for at, one in text.told(Kind.COUNT):
        begins, ends = text.sentence_at(at)
        behind = text.measures(Kind.AMOUNT, start=at + len(one.text), end=ends)
        making = _MAKING.search(text.text, begins, at)
        if making is None or not behind or _PARTLY.search(text.text, begins, making.start()):
            continue
        place, size = behind[0]
        stops = place + len(size.text)
        if size.quantity.dimension is Dimension.MASS and _OF_ONE.search(
            text.text[at + len(one.text) : place]
        ):
            masses = (
                told.quantity.high
                for _, told in text.measures(Kind.AMOUNT, start=begins, end=making.start())
                if told.quantity.dimension is Dimension.MASS
            )
            words_of = text.text[making.start() : stops]
            yield one.low * size.quantity.low, max(masses, default=None), words_of


_OF_ONE = regex(
    r"(?:\b(?:of|at|weighing|each)|[,(])(?: (?:about|roughly|around|each|some))* ?$", re.IGNORECASE
)


def _volume(subject: Subject, told: Yield) -> Quantity | None:
    """The volume that ``makes`` gives: 840 ml, 2 cups."""
    return _size(told, subject, Dimension.VOLUME)


def _size(told: Yield, subject: Subject, dimension: Dimension) -> Quantity | None:
    """What ``makes`` gives in a dimension, without what stands in brackets: 900 g (three jars)."""
    if told.makes is None or told.makes_count is not None:
        return None
    text = told.makes.text.partition("(")[0].strip()
    given, _ = read_quantity(text, told.makes.where, System(subject.recipe.measures))
    return given if given is not None and given.dimension is dimension and not given.is_vague else None


@check(
    "yield-disagrees",
    Severity.WARNING,
    why="A yield that the batch cannot give leaves people short, or a tray left over.",
    source="the recipe's own figures, less what its kind loses: kind_losses.csv, a source for each row",
    remedy="count and weigh what came out, and mend the yield or the list",
)
def yield_disagrees(subject: Subject) -> Iterator[Query]:
    """Pieces times their weight, or a volume, that the list cannot come to; another number in the steps."""
    told = subject.recipe.yields
    if told is None:
        return
    one = batch(subject)
    if one is not None:
        yield from _by_mass(subject, told, one)
        yield from _by_volume(subject, told, one)
        if one.loss.density is None:
            yield from impossible(subject, told.makes or told.where, None, _volume(subject, told))
    elif not subject.recipe.kind:
        least, _ = made(subject) or (None, None)
        whole = _size(told, subject, Dimension.MASS)
        least = least if whole is None else whole.low
        yield from impossible(subject, told.makes or told.where, least, _volume(subject, told))
    yield from _by_servings(subject, told)
    yield from _by_pieces(subject, told)
    yield from _by_steps(subject, told)
    yield from _by_squares(subject, told)
    yield from by_rows(subject, told)
    yield from by_piece(subject, told)
    yield from by_equipment(subject, told)
    for step in subject.steps:
        for each, shaped, phrase in sized_pieces(step):
            if shaped is not None and each > shaped * FAR_APART:
                what = f"“{phrase}” come to {grams(each)}, and the step shapes {grams(shaped)}"
                yield query(step.spot(phrase), what, "mend the number that is wrong", Severity.ERROR)
            else:
                yield from impossible(subject, step.spot(phrase), each, None)


def _by_mass(subject: Subject, told: Yield, one: BatchWeight) -> Iterator[Query]:
    out = made(subject)
    if out is None or told.piece is None:
        return
    least, most = out
    over = one.most is not None and least > one.most * (1 + MARGIN)
    if over or most < one.least * (1 - MARGIN):
        count = least / told.piece.low
        several = (
            f"{number(count)} at {told.piece.written} come to {grams(least)}" if count != 1 else grams(least)
        )
        span = f"{grams(one.grams * (1 - one.loss.high))} to {grams(one.most or one.grams)}"
        each = [number(end / count) for end in (one.grams * (1 - one.loss.high), one.most or one.grams)]
        yield query(
            told.makes or told.serves or told.where,
            f"{several}; the list weighs {grams(one.grams)}, and {a_kind(subject.kind)} loses "
            f"{number((one.loss.low or 0) * 100)} to {percent(one.loss.high)} of it",
            f"{span} would come out" + (f": {each[0]} to {each[1]} g each" if count != 1 else ""),
            _gravity(least, one.most or one.grams, TWICE) if over else _gravity(one.least, most, TWICE),
        )


def _by_volume(subject: Subject, told: Yield, one: BatchWeight) -> Iterator[Query]:
    given = _volume(subject, told)
    if given is None or one.loss.density is None or one.most is None:
        return
    if given.low * one.loss.density > one.most * (1 + MARGIN):
        yield query(
            told.makes or told.where,
            f"{given.written} weigh at least {grams(given.low * one.loss.density)}; "
            f"the list weighs {grams(one.grams)}",
            f"at most {number(one.most / one.loss.density)} ml would come out",
            _gravity(given.low * one.loss.density, one.most, TWICE),
        )


def _by_servings(subject: Subject, told: Yield) -> Iterator[Query]:
    """Servings of a stated volume against the volume made."""
    given = _volume(subject, told)
    if given is None or told.piece is None or told.serves_low is None or told.serves is None:
        return
    if told.piece.dimension is Dimension.VOLUME:
        low, high = told.serves_low * told.piece.low, (told.serves_high or told.serves_low) * told.piece.high
        if low > given.high * Fraction(11, 10) or high < given.low * Fraction(9, 10):
            yield query(
                told.serves,
                f"{told.serves.text} servings of {told.piece.written} are {number(low)} ml; "
                f"it makes {given.written}",
                f"{number(given.low / told.piece.high)} servings would come out",
            )


def _by_pieces(subject: Subject, told: Yield) -> Iterator[Query]:
    """Servings of so many pieces that come to another number than all of them: 36 buns, 12 servings of 4."""
    made, place = told.makes_count, told.makes or told.where
    if made is None or told.makes_high is not None or _PEOPLE.match(f" {told.makes_item}"):
        return  # "4 servings of 2 halves" counts the servings
    for text in (one for one in subject.fields if one.name == "yield"):
        counts = text.told(Kind.COUNT)
        for (at, people), (then, each) in pairwise(counts):
            between = text.text[at + len(people.text) : then]
            behind = text.text[then + len(each.text) :]
            shared = _SERVINGS_OF.fullmatch(between) or (_PEOPLE.match(between) and _EACH.match(behind))
            exact = people.low == people.high and each.low == each.high
            if shared and exact and people.low * each.low != made:
                yield query(
                    place,
                    f"{number(people.low)} servings of {number(each.low)} are "
                    f"{number(people.low * each.low)} pieces, and it makes {number(made)}",
                    "mend the number that is wrong",
                    Severity.ERROR,
                )


_SERVINGS_OF = regex(r"\s*(?:servings?|portions?|plates?|helpings?) of (?:about )?", re.IGNORECASE)
_PEOPLE = regex(r"\s*(?:servings?|portions?|people|persons?|guests?)\b[^.;]*$", re.IGNORECASE)
_EACH = regex(r"\s*(?:each|apiece|per (?:person|serving|head|portion))\b", re.IGNORECASE)


def _by_steps(subject: Subject, told: Yield) -> Iterator[Query]:
    """A step that makes another number of pieces than the yield."""
    if told.makes_count is None or told.makes is None:
        return
    low, high = told.makes_count, told.makes_high or told.makes_count
    names = {word for word in words(told.makes_item) if len(word) > 2}
    promised = _promised(subject)
    counts = {count for step in subject.steps for count, _, _, _ in pieces(step)}
    for step in subject.steps:
        for count, noun, phrase, partly in pieces(step):
            named = bool(names & set(words(noun)))
            generic = words(noun)[:1] and words(noun)[0] in GENERIC and low > 1 and not names & SERVED
            if partly or low <= count <= high or count in promised or not (named or generic):
                continue
            # Three ropes to a plait, two halves to a sandwich: a multiple of pieces without the yield's name.
            if not named and (count % low == 0 or _again(low, count, counts)):
                continue
            yield query(
                step.spot(phrase),
                f"the step makes {number(count)} {noun}, the yield says {told.makes.text}",
                "mend the number that is wrong",
                _gravity(max(count, low), min(count, high)),
            )


def _gravity(more: Fraction, less: Fraction, apart: Fraction = FAR_APART) -> Severity | None:
    """An error where two figures of one recipe are so far apart that one of them prints wrong."""
    return Severity.ERROR if more >= less * apart else None


def _by_squares(subject: Subject, told: Yield) -> Iterator[Query]:
    """A tin cut in squares of a size that gives another number of them: 20 cm square, in squares of 4 cm."""
    tins = [one for one in all_vessels(subject) if _is_box(one) and one.count == 1]
    if told.makes_count is None or told.makes is None or len({one.edges for one in tins}) != 1:
        return
    long, wide = tins[0].edges[0] + ROUNDED, tins[0].edges[-1] + ROUNDED
    for step in subject.steps:
        for at, side in step.measures(Kind.LENGTH):
            behind = step.text[at + len(side.text) :]
            cut = CUTS.search(step.before(at)) and SQUARES.match(behind)
            if not cut or side.quantity.is_range or len(side.sides) > 2:
                continue
            sides = [one.middle for one in side.sides]
            made = Fraction(long // sides[0] * (wide // sides[-1]))
            more, less = max(made, told.makes_count), min(made, told.makes_count)
            if less and more > less * NEARLY:
                what = f"{tins[0].told} gives {number(made)} pieces of {side.text}"
                yield query(
                    told.makes,
                    f"{what}, the yield says {told.makes.text}",
                    "mend the number, the tin or the size",
                    Severity.ERROR,
                )
                return


def _is_box(one: Vessel) -> bool:
    """Whether a vessel is a square or oblong tin."""
    return one.sort == "pan" and bool(one.edges) and (len(one.edges) > 1 or "square" in one.told)


CUTS = regex(r"\b(?:cut|mark|score|slice|divide)\b[^.;]*$", re.IGNORECASE)
SQUARES = regex(r"\s*(?:squares?|bars?|diamonds?)\b", re.IGNORECASE)
ROUNDED = Fraction(5)  # mm that a tin is printed too small: 9 inches are 23 cm
NEARLY = Fraction(5, 4)  # of a count, for what is trimmed off: common practice, no source


def _promised(subject: Subject) -> frozenset[Fraction]:
    """Every count that the yield gives beside the first: one cheesecake, 10 wedges."""
    fields = (text for text in subject.fields if text.name == "yield")
    return frozenset(one.high for text in fields for _, one in text.told(Kind.COUNT) if one.high > 1)


def _again(makes: Fraction, count: Fraction, counts: set[Fraction]) -> bool:
    """Whether the steps divide twice, into 4 and then into 6 of each, or name the yield elsewhere."""
    return makes in counts or any(count * other == makes for other in counts)


@check(
    "portion-implausible",
    Severity.WARNING,
    why="A portion nobody could eat, or see, usually means a slip in an amount or in the number of servings.",
    source="kind_losses.csv, usual portions by kind: " + PRACTICE,
    remedy="check the number of servings and the largest amounts",
)
def portion_implausible(subject: Subject) -> Iterator[Query]:
    """A serving far heavier or lighter than a dish of this kind ever is, or with a mouthful of its meat."""
    told, one = subject.recipe.yields, batch(subject)
    if told is not None and not subject.recipe.kind:
        yield from _meat_of_each(subject, told)
    if told is None or one is None or told.serves is None or not told.serves_low or not one.whole:
        return
    out = made(subject)
    least, most = out or ((one.usual, one.usual) if not one.leaves else (Fraction(0), one.grams))
    each_least = least / (told.serves_high or told.serves_low)
    each_most = most / told.serves_low
    rule = one.loss
    if rule.portion_least <= each_most and each_least <= rule.portion_most:
        return
    if each_least <= rule.portion_most and _swells(subject):
        return  # with water that nobody weighs
    much = each_least > rule.portion_most
    each = each_least if much else each_most
    yield query(
        told.serves,
        f"{told.serves.text} servings of {grams(round(each, 1))} each; {a_kind(subject.kind)} is served in "
        f"{number(rule.portion_least)} to {grams(rule.portion_most)}",
        _slip(subject, one, told.serves_low) if much and out is None else "",
    )


def _swells(subject: Subject) -> bool:
    """Whether a quarter of the list is dry food that takes up twice its weight of water, and more."""
    dry = (at for at in subject.masses if is_of(subject.recipe.ingredients[at].food, SWELLING))
    grams_dry = sum((subject.masses[at].grams for at in dry), Fraction(0))
    return 4 * grams_dry >= subject.formula(subject.recipe.parts).roles["total"]


SWELLING = ("key:dried-*", "role:rice", "role:grain", "role:pasta", "role:legume")


def _meat_of_each(subject: Subject, told: Yield) -> Iterator[Query]:
    """Meat or fish that is much of a dish, and a mouthful for each of those it serves."""
    if told.serves is None or not told.serves_low:
        return
    known = dish(subject.recipe, subject.larder)
    raw = (at for at in subject.masses if is_animal(known, at) and not known.foods[at].ready)
    fresh = (at for at in raw if not is_of(known.foods[at].food, CURED))
    meat = sum((subject.masses[at].grams for at in fresh), Fraction(0))
    each = meat / told.serves_low
    if each < MOUTHFUL and meat > subject.formula(subject.recipe.parts).roles["total"] * MUCH_OF_IT:
        yield query(
            told.serves, f"{grams(meat)} of meat and fish for {told.serves.text} is {grams(each)} each"
        )


CURED = (  # sliced thin, or strong enough that little is much
    *("key:*ham*", "key:*smoked*", "key:*sausage*", "key:*chorizo*", "key:*bacon*", "key:anchovy*"),
    *(
        "key:bresaola",
        "key:prosciutto",
        "key:pancetta",
        "key:salami",
        "key:nduja",
        "key:pepperoni",
        "key:guanciale",
    ),
)
MOUTHFUL = 40  # g of meat or fish: common practice, no source
MUCH_OF_IT = Fraction(1, 5)  # of the list; less only flavours it: common practice, no source


def _slip(subject: Subject, one: BatchWeight, serves: Fraction) -> str:
    """Which slip in the heaviest line would explain portions far too large."""
    weighed = [(mass.grams, subject.recipe.ingredients[place]) for place, mass in subject.masses.items()]
    weight, line = max(weighed, key=lambda pair: pair[0])
    middle = (one.loss.portion_least + one.loss.portion_most) / 2

    def off(other: Fraction) -> Fraction | None:
        each = (one.grams + other - weight) * (1 - one.loss.typical) / serves
        return max(each / middle, middle / each) if each <= one.loss.portion_most else None

    meant = likely_meaning(line, off)
    told = f"{meant.written} of {line.item}: was {meant.told} meant? {meant.slip}" if meant else ""
    return f"{told} would explain it" if told else ""
