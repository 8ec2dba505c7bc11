"""Curing, canning, and keeping in oil: figures and words that decide whether what is put up is safe."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from cardsmith.check.line_facts import sizes
from cardsmith.check.registry import Query, check, query
from cardsmith.check.safety.holding_times import clauses, seconds, stays
from cardsmith.check.safety.jars import JARS, ROUNDED, acidified, canned, pints, under_pressure
from cardsmith.check.safety.keeping import kept_warm
from cardsmith.check.safety.matching import texts
from cardsmith.check.safety.pickles import is_pickle, is_vinegar
from cardsmith.check.subject import Subject
from cardsmith.check.wording import grams, number, percent
from cardsmith.facts.dangers.spoilage import DRY, heated, shares
from cardsmith.facts.foods.roles import ANIMAL
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind
from cardsmith.measure.patterns import is_of
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table
from cardsmith.regex import regex

GROUND = Fraction(15625, 100_000_000)  # 156 ppm sodium nitrite of the meat: 2.5 g of 6.25 % cure for 1 kg
STEEPED = Fraction(200, 1_000_000)  # of meat and brine together, where it lies in brine


@cache
def cures() -> dict[str, Fraction]:
    """The mass share of sodium nitrite in each curing salt of the larder."""
    return {row["key"]: Fraction(row["nitrite"]) for row in table("curing_salts")}


def _cured_mass(subject: Subject, brine: bool) -> Fraction | None:
    """The grams of meat, and of water too where it lies in brine; None where a weight is missing."""
    whole = Fraction(0)
    meat = False
    for place, line in enumerate(subject.recipe.ingredients):
        animal = is_of(line.food, ANIMAL)
        if animal or (brine and line.food is not None and line.food.key in ("water", "ice")):
            mass = subject.masses.get(place)
            if mass is None and not animal and whole:
                continue  # "water, to cover", in which it cooks when the brine is thrown away
            if mass is None:
                return None
            whole += mass.grams
            meat = meat or animal
    return whole if meat else None


@check(
    "curing-salt-excess",
    Severity.ERROR,
    why="Sodium nitrite is poisonous; a little more than the cure needs is too much.",
    source="9 CFR 424.21(c) (memory): 156 ppm ingoing in ground meat, 200 ppm in immersed; 21 CFR 172.175",
    remedy="2.5 g of 6.25 % curing salt for each kg of meat is the limit",
    acceptable=False,
)
def curing_salt_excess(subject: Subject) -> Iterator[Query]:
    """More nitrite than 156 parts per million of the meat, or 200 of meat and brine."""
    by_field = texts(subject.recipe)
    brine = bool(re.search(r"\b(?:brine|immerse|submerge)\w*", by_field["steps"], re.IGNORECASE))
    whole = _cured_mass(subject, brine)
    nitrite = Fraction(0)
    lines = [
        line for line in subject.recipe.ingredients if line.food is not None and line.food.key in cures()
    ]
    for place, line in enumerate(subject.recipe.ingredients):
        mass = subject.masses.get(place)
        if line in lines and mass is not None and line.food is not None:
            nitrite += mass.high * cures()[line.food.key]
    limit = STEEPED if brine else GROUND
    if lines and whole and nitrite > limit * whole * Fraction(101, 100):
        ppm = number(round(nitrite / whole * 1_000_000))
        most = limit * whole / cures()[lines[0].food.key] if lines[0].food else Fraction(0)
        yield query(
            lines[0],
            f"{_told(lines)} for {grams(whole)} is {ppm} ppm of nitrite, over {int(limit * 1_000_000)}",
            f"no more than {grams(Fraction(int(most * 10), 10))} of this curing salt",
        )


def _told(lines: list[Ingredient]) -> str:
    return " and ".join(f"{line.amount.written if line.amount else ''} {line.item}".strip() for line in lines)


@check(
    "curing-salt-unweighed",
    Severity.ERROR,
    why="A spoon of curing salt may be a third off, and the meat's weight decides how much is safe.",
    source="9 CFR 424.21(c) counts nitrite by weight of the meat (memory)",
    remedy="give the curing salt and the meat in grams",
    acceptable=False,
)
def curing_salt_unweighed(subject: Subject) -> Iterator[Query]:
    """Curing salt by the spoon, or for meat whose weight is not given."""
    cured = [line for line in subject.recipe.ingredients if line.food and line.food.key in cures()]
    for line in cured:
        if not any(quantity.dimension is Dimension.MASS for quantity in sizes(line)):
            yield query(line, f"{line.item} is not given by weight")
        elif _cured_mass(subject, brine=False) is None:
            yield query(line, f"{line.item} for meat whose weight is not given")


DRIED = regex(r"\bdried|\bpowder|\bflakes", re.IGNORECASE)


def _fresh_in_oil(subject: Subject) -> Ingredient | None:
    """Garlic, a fresh herb or a vegetable in a dish that is a third oil, or is named for it."""
    recipe = subject.recipe
    roles = subject.formula(recipe.parts).roles
    named = re.search(r"\b(?:oil|confit|pesto|chimichurri)\b", recipe.title, re.IGNORECASE)
    oil = roles.get("oil", Fraction(0))
    if not oil or roles.get("flour") or not (named or oil >= roles["total"] / 3):
        return None
    fresh = [
        line
        for line in recipe.ingredients
        if is_of(line.food, ("role:herb", "role:vegetable"))
        and not DRIED.search(f"{line.text} {line.food.name if line.food else ''}")
        and line.food is not None
        and line.food.key != "bay-leaf"
    ]
    return next(
        (line for line in fresh if line.food and line.food.key == "garlic"), fresh[0] if fresh else None
    )


@check(
    "oil-kept-warm",
    Severity.ERROR,
    why="Garlic, herbs and vegetables under oil can grow the toxin of botulism, unseen, unless kept cold.",
    source="National Center for Home Food Preservation, Freezing garlic-in-oil: 40 °F (4 °C), 4 days",
    remedy="write: keeps 4 days in the refrigerator at 40 °F (4 °C) or colder, or freeze it",
    acceptable=False,
)
def oil_kept_warm(subject: Subject) -> Iterator[Query]:
    """Garlic, herbs or vegetables kept in oil at room temperature; flavoured oil kept for over four days."""
    recipe = subject.recipe
    aside = _aside(subject)
    fresh = _fresh_in_oil(subject)
    if aside:
        yield query(recipe.where, aside)
    elif fresh is not None:
        yield from _kept_in_oil(subject, fresh)


def _aside(subject: Subject) -> str:
    """A sentence of any field that keeps garlic or herbs in oil warm."""
    for text in subject.fields:
        for stay in stays(text) if text.name not in {"title", "equipment", "ingredients"} else ():
            sentence = stay.sentence(text)
            plant = PLANT.search(sentence)
            if stay.is_long and plant and re.search(r"\boil\b", sentence, re.I):
                return f"{plant.group().lower()} in oil is kept warm: “{stay.words}”"
    return ""


PLANT = regex(r"\b(?:garlic\w*|herb(?:s|y|ed)?|basil|rosemary|thyme|chill?ies|shallots?)\b", re.IGNORECASE)
COLD = regex(r"\b(?:refrigerat\w*|fridge|freez\w*|frozen|ice bath)\b", re.IGNORECASE)
DAY = Fraction(86400)  # seconds
THREE_DAYS, FOUR_DAYS = 3 * DAY, 4 * DAY


def _kept_in_oil(subject: Subject, fresh: Ingredient) -> Iterator[Query]:
    """Where a field keeps the oil warm, or the storage keeps it for over four days or without cold."""
    recipe = subject.recipe
    named = re.search(r"\b(?:oil|confit)\b", recipe.title, re.IGNORECASE)
    method = " ".join(field.text for field in (*subject.steps, subject.storage))
    for text in subject.fields:
        words = kept_warm(text) if text.name in {"storage", "notes", "headnote", "cautions", "steps"} else ""
        if words and not _of_plain_oil(text.text):
            yield query(text.spot(words), f"{fresh.item} in oil is kept warm: “{words}”")
            return
    if named and seconds(subject.storage) > DAY and not COLD.search(method):
        yield query(recipe.where, f"{fresh.item} in oil is kept, and nothing says in the refrigerator")
    elif named:
        for begins, ends in clauses(subject.storage):
            frozen = re.search(r"\bfr(?:ee|o)z", subject.storage.text[begins:ends], re.IGNORECASE)
            if not frozen and seconds(subject.storage, begins, ends) > FOUR_DAYS:
                yield query(recipe.where, f"{fresh.item} in oil is kept for over 4 days")


def _of_plain_oil(text: str) -> bool:
    return re.search(r"\bplain (?:\w+ )?oil\b", text, re.IGNORECASE) is not None


@check(
    "low-acid-canned",
    Severity.ERROR,
    why="In a sealed jar above pH 4.6 the toxin of botulism grows; boiling water does not kill its spores.",
    source="Kansas State Extension, food safety recommendations for food preservation exhibits (pH 4.6)",
    remedy="keep it in the refrigerator or freezer, or give the current tested process for a pressure canner",
    acceptable=False,
)
def low_acid_canned(subject: Subject) -> Iterator[Query]:
    """Vegetables, beans, meat, fish, tomatoes or figs sealed for the shelf with too little acid or none."""
    recipe = subject.recipe
    text = " ".join(field.text for field in (*subject.steps, subject.storage))
    words = canned(subject) or (_shelved(subject) if JARS.search(text) else "")
    if not words:
        return
    yield from _too_little_acid_measured(subject)
    if under_pressure(subject) or re.search(r"\bferment", f"{recipe.title} {text}", re.IGNORECASE):
        return
    known = dish(recipe, subject.larder)
    if is_pickle(subject) and any(is_vinegar(known, place) for place in range(len(known.foods))):
        return  # pickle-kept-warm judges it
    roles = subject.formula(recipe.parts).roles
    sweet = roles.get("sugar", Fraction(0))
    if _fresh_in_oil(subject) is not None:
        return
    for place, line in enumerate(recipe.ingredients):
        low = _low_acid(known, place)
        if sweet > roles["total"] / 2 and not (low == "near" and _is_main(subject, place)):
            continue
        jam = sweet >= roles["total"] * JAM
        if jam and low == "plant" and _is_trace(subject, place):
            continue  # the ginger of a rhubarb jam
        enough = IN_JAM if jam else ROUNDED
        if low == "near" and acidified(subject, place) >= enough:
            continue
        if low and (low != "plant" or not _is_soured(subject)):
            needs = f"; {number(round(pints(subject, place)))} pints need {ACIDS}" if low == "near" else ""
            what = f"too little acid to seal {line.item} for the shelf (“{words}”){needs}"
            yield query(line, what, ACIDIFY if low == "near" else "")
            return


def _is_main(subject: Subject, place: int) -> bool:
    """Whether a line is a quarter of the whole."""
    mass = subject.masses.get(place)
    return mass is not None and 4 * mass.grams >= subject.formula(subject.recipe.parts).roles["total"]


def _is_trace(subject: Subject, place: int) -> bool:
    """Whether a line only flavours: a twentieth of the whole at most, common practice, no source."""
    mass = subject.masses.get(place)
    return mass is not None and 20 * mass.grams <= subject.formula(subject.recipe.parts).roles["total"]


# National Center for Home Food Preservation, fig jam: ¼ cup of lemon juice for 5 lb of figs with 6 cups of
# sugar, about 10 half-pint jars; ¾ cup for 5 lb of tomatoes (memory).
IN_JAM = Fraction(3, 4)  # of the spoon that a jar of plain figs or tomatoes needs
JAM = Fraction(3, 10)  # of sugar, before it boils down
ACIDS = "a tablespoon of bottled lemon juice or a quarter teaspoon of citric acid each"
ACIDIFY = "put bottled lemon juice or citric acid into each jar, or keep it in the refrigerator or freezer"
LIMIT = Fraction(23, 5)  # pH below which the spores of botulism don't grow: 4.6


@check(
    "spread-kept-warm",
    Severity.ERROR,
    why="Sugar keeps a jam; with little of it mould and yeast grow in days on the shelf.",
    source="ratios.csv: with less sugar than 0.6 of the fruit a spread does not keep at room temperature",
    remedy="keep it in the refrigerator for three weeks, or freeze it",
    acceptable=False,
)
def spread_kept_warm(subject: Subject) -> Iterator[Query]:
    """A cooked fruit spread with little sugar that is kept on the shelf and not heated in its jar."""
    known = dish(subject.recipe, subject.larder)
    words = _shelved(subject)
    roles = shares(known)
    fruit, sugar = roles.get("fruit", Fraction(0)), roles.get("sugar", Fraction(0))
    sour = (
        roles.get("vinegar", Fraction(0))
        or roles.get("alcohol", Fraction(0))
        or roles.get("flour", Fraction(0))
    )
    if not words or canned(subject) or sour or fruit < HALF or sugar >= SHELF * fruit:
        return
    for place, line in enumerate(subject.recipe.ingredients):
        cooked = heated(known, place) and is_of(known.foods[place].food, ("role:fruit",))
        if cooked and not is_of(known.foods[place].food, DRY) and not known.dries(place):
            what = f"{line.item} with {percent(sugar / fruit)} of the weight in sugar, kept “{words}”"
            yield query(line, what)
            return


@check(
    "seal-unreliable",
    Severity.WARNING,
    why="A lid that only sucked itself down, or wax, leaves air, mould and yeast in the jar.",
    source="National Center for Home Food Preservation and USDA Complete Guide (memory): no open kettle, "
    "inversion, paraffin, oven, microwave or dishwasher; process jams 5 to 10 minutes in boiling water",
    remedy="keep the jars in the refrigerator, or process them for the tested time and have it reviewed",
)
def seal_unreliable(subject: Subject) -> Iterator[Query]:
    """Jars for the shelf that are sealed by turning them over, by wax, or in an oven or a dishwasher."""
    texts_told = [*subject.steps, *(field for field in subject.fields if field.name in {"storage", "notes"})]
    if not kept_warm(subject.storage) or any(PROCESSED.search(field.text) for field in texts_told):
        return
    for text in texts_told:
        for begins, ends, _ in text.cuts:
            match = SEALED.search(text.text, begins, ends)
            before = text.text[begins : match.end()] if match is not None else ""
            if match is not None and not (UNSEALED.search(text.text, begins, ends) or DENIED.search(before)):
                words = " ".join(match.group().split())
                yield query(text.spot(match.group(), match.start()), f"“{words}” seals no jar for the shelf")
                return


PROCESSED = regex(
    r"\b(?:process(?:ed|es)?|boiling[- ]water bath|water[- ]bath|pressure[- ]can\w*)\b", re.IGNORECASE
)
_FILLED = r"(?:the |each |all |your )?(?:\w+ ){0,2}?(?:jars?|bottles?|pots)"
SEALED = regex(
    rf"\b(?:turn|flip|tip|stand|place|put|set|invert|upend)\b[^.;]{{0,20}}?\b(?:{_FILLED}|them|it)\b[^.;]{{0,20}}?"
    r"\b(?:upside[- ]down|(?:onto|on(?: to)?) (?:its|their) (?:heads?|lids?|tops?))"
    rf"|\b(?:invert|upend) {_FILLED}\b"
    r"|\b(?:melted|hot|liquid|layer of|seal\w* with|coat of) (?:\w+ )?"
    r"(?:paraffin|candle wax|beeswax|wax)\b(?! (?:disc|paper))"
    r"|\bparaffin(?: wax)?\b[^.;]{0,30}\bseal\w*"
    r"|\b(?:filled|sealed|closed|full) jars\b[^.;]{0,40}\b(?:oven|microwave|dishwasher)\b"
    r"|\b(?:oven|microwave|dishwasher)\b[^.;]{0,40}\b(?:to seal|until (?:they|the lids?) (?:seal|pop)\w*"
    r"|until the (?:syrup|liquid|fruit|jam|juice)\b)",
    re.IGNORECASE,
)
UNSEALED = regex(
    r"\b(?:drain\w*|dry|dried|empty|wash\w*|rins\w*|steril\w*|daily|every (?:day|few)|each day"
    r"|once a day|now and then|from time to time|shak\w*|on a rack)\b",
    re.IGNORECASE,
)
DENIED = regex(r"\b(?:not|never|don['’]t|rather than|instead of)\b", re.IGNORECASE)
HALF, SHELF = Fraction(1, 2), Fraction(3, 5)


def _shelved(subject: Subject) -> str:
    """The words by which jars are kept warm for over three days, or for a time that nobody counts."""
    words = next((stay.words for stay in stays(subject.storage) if stay.is_long), "")
    return "" if 0 < subject.storage.longest() <= THREE_DAYS else words


def _too_little_acid_measured(subject: Subject) -> Iterator[Query]:
    """A pH above 4.6 that the author measured in what stands on the shelf."""
    for text in subject.fields:
        for at, figure in text.told(Kind.NAME):
            forbids = re.search(r"\b(?:below|under|never|not|less than)\b", text.sentence(at), re.IGNORECASE)
            if figure.noun == "pH" and figure.low > LIMIT and not forbids:
                yield query(
                    text.spot(figure.text, at),
                    f"pH {figure.text} is above 4.6, too little acid for the shelf",
                )
                return


SOUR_STALKS = ("key:rhubarb",)  # pH 3.1 to 3.4: FDA, approximate pH of foods (memory)


def _low_acid(known: Dish, place: int) -> str:
    """animal, plant, or near the limit (tomatoes and figs); empty for what is sour, sweet or dry."""
    food = known.foods[place].food
    if is_of(food, (*ANIMAL, "role:bone", "role:stock")):
        return "animal"
    if is_of(food, SOUR_STALKS) or (is_of(food, DRY) and not known.history(place).events):
        return ""
    if is_of(food, ("key:*tomato*", "key:*fig", "key:asian-pear")):
        return "near"
    moist = food is not None and food.is_mainly("water")
    cooked_bean = is_of(food, ("role:legume",)) and bool(known.history(place).events)
    return "plant" if (moist and is_of(food, ("role:vegetable", "role:legume"))) or cooked_bean else ""


def _is_soured(subject: Subject) -> bool:
    """Whether vinegar or lemon juice makes up a quarter of the whole; citric acid counts fortyfold.

    Common practice, no source: a tested formula decides, for which review-needed asks.
    """
    whole = subject.formula(subject.recipe.parts).roles["total"]
    sour = Fraction(0)
    for place, line in enumerate(subject.recipe.ingredients):
        mass = subject.masses.get(place)
        if is_of(line.food, ("role:vinegar", "key:citric-acid", "key:*lemon-juice", "key:*lime-juice")):
            strength = 40 if line.food is not None and line.food.key == "citric-acid" else 1
            sour += (mass.grams if mass is not None else whole) * strength
    return sour > 0 and sour >= whole / 4
