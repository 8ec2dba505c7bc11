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
    for at, figure in text.told(Kind.COUNT):
        begins, ends = text.sentence_at(at)
        making = _MAKING.search(text.text, begins, at)
        if making is not None and figure.noun and figure.high > 1:
            behind = text.text[at + len(figure.text) : ends].partition(",")[0]
            before = _PARTLY.search(text.text, begins, making.start())
            partly = before is not None or _OF_EACH.search(behind) is not None
            yield (
                figure.high,
                figure.noun.split()[-1],
                text.text[making.start() : at + len(figure.text)],
                partly,
            )


def sized_pieces(text: Field) -> Iterator[tuple[Fraction, Fraction | None, str]]:
    """The least that the pieces of a text weigh, in grams, what its sentence cuts them from, and its words.

    24 balls of about 26 g each; "shape the mixture, about 850 g, into 28 balls of 75 g".
    """
    for at, figure in text.told(Kind.COUNT):
        begins, ends = text.sentence_at(at)
        behind = text.measures(Kind.AMOUNT, start=at + len(figure.text), end=ends)
        making = _MAKING.search(text.text, begins, at)
        if making is None or not behind or _PARTLY.search(text.text, begins, making.start()):
            continue
        place, size = behind[0]
        stops = place + len(size.text)
        if size.quantity.dimension is Dimension.MASS and _OF_ONE.search(
            text.text[at + len(figure.text) : place]
        ):
            masses = (
                measured.quantity.high
                for _, measured in text.measures(Kind.AMOUNT, start=begins, end=making.start())
                if measured.quantity.dimension is Dimension.MASS
            )
            words_of = text.text[making.start() : stops]
            yield figure.low * size.quantity.low, max(masses, default=None), words_of


_OF_ONE = regex(
    r"(?:\b(?:of|at|weighing|each)|[,(])(?: (?:about|roughly|around|each|some))* ?$", re.IGNORECASE
)


def _volume(subject: Subject, yields: Yield) -> Quantity | None:
    """The volume that ``makes`` gives: 840 ml, 2 cups."""
    return _size(yields, subject, Dimension.VOLUME)


def _size(yields: Yield, subject: Subject, dimension: Dimension) -> Quantity | None:
    """What ``makes`` gives in a dimension, without what stands in brackets: 900 g (three jars)."""
    if yields.makes is None or yields.makes_count is not None:
        return None
    text = yields.makes.text.partition("(")[0].strip()
    given, _ = read_quantity(text, yields.makes.where, System(subject.recipe.measures))
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
    yields = subject.recipe.yields
    if yields is None:
        return
    weight = batch(subject)
    if weight is not None:
        yield from _by_mass(subject, yields, weight)
        yield from _by_volume(subject, yields, weight)
        if weight.loss.density is None:
            yield from impossible(subject, yields.makes or yields.where, None, _volume(subject, yields))
    elif not subject.recipe.kind:
        least, _ = made(subject) or (None, None)
        whole = _size(yields, subject, Dimension.MASS)
        least = least if whole is None else whole.low
        yield from impossible(subject, yields.makes or yields.where, least, _volume(subject, yields))
    yield from _by_servings(subject, yields)
    yield from _by_pieces(subject, yields)
    yield from _by_steps(subject, yields)
    yield from _by_squares(subject, yields)
    yield from by_rows(subject, yields)
    yield from by_piece(subject, yields)
    yield from by_equipment(subject, yields)
    for step in subject.steps:
        for each, shaped, phrase in sized_pieces(step):
            if shaped is not None and each > shaped * FAR_APART:
                what = f"“{phrase}” come to {grams(each)}, and the step shapes {grams(shaped)}"
                yield query(step.spot(phrase), what, "mend the number that is wrong", Severity.ERROR)
            else:
                yield from impossible(subject, step.spot(phrase), each, None)


def _by_mass(subject: Subject, yields: Yield, weight: BatchWeight) -> Iterator[Query]:
    out = made(subject)
    if out is None or yields.piece is None:
        return
    least, most = out
    over = weight.most is not None and least > weight.most * (1 + MARGIN)
    if over or most < weight.least * (1 - MARGIN):
        count = least / yields.piece.low
        several = (
            f"{number(count)} at {yields.piece.written} come to {grams(least)}"
            if count != 1
            else grams(least)
        )
        span = f"{grams(weight.grams * (1 - weight.loss.high))} to {grams(weight.most or weight.grams)}"
        each = [
            number(end / count)
            for end in (weight.grams * (1 - weight.loss.high), weight.most or weight.grams)
        ]
        yield query(
            yields.makes or yields.serves or yields.where,
            f"{several}; the list weighs {grams(weight.grams)}, and {a_kind(subject.kind)} loses "
            f"{number((weight.loss.low or 0) * 100)} to {percent(weight.loss.high)} of it",
            f"{span} would come out" + (f": {each[0]} to {each[1]} g each" if count != 1 else ""),
            _gravity(least, weight.most or weight.grams, TWICE)
            if over
            else _gravity(weight.least, most, TWICE),
        )


def _by_volume(subject: Subject, yields: Yield, weight: BatchWeight) -> Iterator[Query]:
    given = _volume(subject, yields)
    if given is None or weight.loss.density is None or weight.most is None:
        return
    if given.low * weight.loss.density > weight.most * (1 + MARGIN):
        yield query(
            yields.makes or yields.where,
            f"{given.written} weigh at least {grams(given.low * weight.loss.density)}; "
            f"the list weighs {grams(weight.grams)}",
            f"at most {number(weight.most / weight.loss.density)} ml would come out",
            _gravity(given.low * weight.loss.density, weight.most, TWICE),
        )


def _by_servings(subject: Subject, yields: Yield) -> Iterator[Query]:
    """Servings of a stated volume against the volume made."""
    given = _volume(subject, yields)
    if given is None or yields.piece is None or yields.serves_low is None or yields.serves is None:
        return
    if yields.piece.dimension is Dimension.VOLUME:
        low, high = (
            yields.serves_low * yields.piece.low,
            (yields.serves_high or yields.serves_low) * yields.piece.high,
        )
        if low > given.high * Fraction(11, 10) or high < given.low * Fraction(9, 10):
            yield query(
                yields.serves,
                f"{yields.serves.text} servings of {yields.piece.written} are {number(low)} ml; "
                f"it makes {given.written}",
                f"{number(given.low / yields.piece.high)} servings would come out",
            )


def _by_pieces(subject: Subject, yields: Yield) -> Iterator[Query]:
    """Servings of so many pieces that come to another number than all of them: 36 buns, 12 servings of 4."""
    made, place = yields.makes_count, yields.makes or yields.where
    if made is None or yields.makes_high is not None or _PEOPLE.match(f" {yields.makes_item}"):
        return  # "4 servings of 2 halves" counts the servings
    for text in (field for field in subject.fields if field.name == "yield"):
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


def _by_steps(subject: Subject, yields: Yield) -> Iterator[Query]:
    """A step that makes another number of pieces than the yield."""
    if yields.makes_count is None or yields.makes is None:
        return
    low, high = yields.makes_count, yields.makes_high or yields.makes_count
    names = {word for word in words(yields.makes_item) if len(word) > 2}
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
                f"the step makes {number(count)} {noun}, the yield says {yields.makes.text}",
                "mend the number that is wrong",
                _gravity(max(count, low), min(count, high)),
            )


def _gravity(more: Fraction, less: Fraction, apart: Fraction = FAR_APART) -> Severity | None:
    """An error where two figures of one recipe are so far apart that one of them prints wrong."""
    return Severity.ERROR if more >= less * apart else None


def _by_squares(subject: Subject, yields: Yield) -> Iterator[Query]:
    """A tin cut in squares of a size that gives another number of them: 20 cm square, in squares of 4 cm."""
    tins = [vessel for vessel in all_vessels(subject) if _is_box(vessel) and vessel.count == 1]
    if yields.makes_count is None or yields.makes is None or len({vessel.edges for vessel in tins}) != 1:
        return
    long, wide = tins[0].edges[0] + ROUNDED, tins[0].edges[-1] + ROUNDED
    for step in subject.steps:
        for at, side in step.measures(Kind.LENGTH):
            behind = step.text[at + len(side.text) :]
            cut = CUTS.search(step.before(at)) and SQUARES.match(behind)
            if not cut or side.quantity.is_range or len(side.sides) > 2:
                continue
            sides = [quantity.middle for quantity in side.sides]
            made = Fraction(long // sides[0] * (wide // sides[-1]))
            more, less = max(made, yields.makes_count), min(made, yields.makes_count)
            if less and more > less * NEARLY:
                what = f"{tins[0].told} gives {number(made)} pieces of {side.text}"
                yield query(
                    yields.makes,
                    f"{what}, the yield says {yields.makes.text}",
                    "mend the number, the tin or the size",
                    Severity.ERROR,
                )
                return


def _is_box(vessel: Vessel) -> bool:
    """Whether a vessel is a square or oblong tin."""
    return vessel.sort == "pan" and bool(vessel.edges) and (len(vessel.edges) > 1 or "square" in vessel.told)


CUTS = regex(r"\b(?:cut|mark|score|slice|divide)\b[^.;]*$", re.IGNORECASE)
SQUARES = regex(r"\s*(?:squares?|bars?|diamonds?)\b", re.IGNORECASE)
ROUNDED = Fraction(5)  # mm that a tin is printed too small: 9 inches are 23 cm
NEARLY = Fraction(5, 4)  # of a count, for what is trimmed off: common practice, no source


def _promised(subject: Subject) -> frozenset[Fraction]:
    """Every count that the yield gives beside the first: one cheesecake, 10 wedges."""
    fields = (text for text in subject.fields if text.name == "yield")
    return frozenset(figure.high for text in fields for _, figure in text.told(Kind.COUNT) if figure.high > 1)


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
    yields, weight = subject.recipe.yields, batch(subject)
    if yields is not None and not subject.recipe.kind:
        yield from _meat_of_each(subject, yields)
    if yields is None or weight is None or yields.serves is None or not yields.serves_low or not weight.whole:
        return
    out = made(subject)
    least, most = out or ((weight.usual, weight.usual) if not weight.leaves else (Fraction(0), weight.grams))
    each_least = least / (yields.serves_high or yields.serves_low)
    each_most = most / yields.serves_low
    rule = weight.loss
    if rule.portion_least <= each_most and each_least <= rule.portion_most:
        return
    if each_least <= rule.portion_most and _swells(subject):
        return  # with water that nobody weighs
    much = each_least > rule.portion_most
    each = each_least if much else each_most
    yield query(
        yields.serves,
        f"{yields.serves.text} servings of {grams(round(each, 1))} each; {a_kind(subject.kind)} is served in "
        f"{number(rule.portion_least)} to {grams(rule.portion_most)}",
        _slip(subject, weight, yields.serves_low) if much and out is None else "",
    )


def _swells(subject: Subject) -> bool:
    """Whether a quarter of the list is dry food that takes up twice its weight of water, and more."""
    dry = (at for at in subject.masses if is_of(subject.recipe.ingredients[at].food, SWELLING))
    grams_dry = sum((subject.masses[at].grams for at in dry), Fraction(0))
    return 4 * grams_dry >= subject.formula(subject.recipe.parts).roles["total"]


SWELLING = ("key:dried-*", "role:rice", "role:grain", "role:pasta", "role:legume")


def _meat_of_each(subject: Subject, yields: Yield) -> Iterator[Query]:
    """Meat or fish that is much of a dish, and a mouthful for each of those it serves."""
    if yields.serves is None or not yields.serves_low:
        return
    known = dish(subject.recipe, subject.larder)
    raw = (at for at in subject.masses if is_animal(known, at) and not known.foods[at].ready)
    fresh = (at for at in raw if not is_of(known.foods[at].food, CURED))
    meat = sum((subject.masses[at].grams for at in fresh), Fraction(0))
    each = meat / yields.serves_low
    if each < MOUTHFUL and meat > subject.formula(subject.recipe.parts).roles["total"] * MUCH_OF_IT:
        yield query(
            yields.serves, f"{grams(meat)} of meat and fish for {yields.serves.text} is {grams(each)} each"
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


def _slip(subject: Subject, batch_weight: BatchWeight, serves: Fraction) -> str:
    """Which slip in the heaviest line would explain portions far too large."""
    weighed = [(mass.grams, subject.recipe.ingredients[place]) for place, mass in subject.masses.items()]
    weight, line = max(weighed, key=lambda pair: pair[0])
    middle = (batch_weight.loss.portion_least + batch_weight.loss.portion_most) / 2

    def off(other: Fraction) -> Fraction | None:
        each = (batch_weight.grams + other - weight) * (1 - batch_weight.loss.typical) / serves
        return max(each / middle, middle / each) if each <= batch_weight.loss.portion_most else None

    meant = likely_meaning(line, off)
    what = f"{meant.written} of {line.item}: was {meant.told} meant? {meant.slip}" if meant else ""
    return f"{what} would explain it" if what else ""
