"""How the finished food is kept: where, how long, and whether that is safe for what it is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.hazards import is_of
from cardsmith.check.heat import durations, is_cooked, sentence_at, temperatures
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.recipe.mentions import visible
from cardsmith.recipe.model import Ingredient, Purpose

TWO_HOURS = 7200
WARM = re.compile(
    r"\b(?:room temperature|on the counter(?:top)?|on the worktop|unrefrigerated|shelf[- ]stable"
    r"|(?:on|for) the shelf|in (?:an?|the) (?:\w+,? ){0,3}(?:cupboard|pantry|larder|cellar|tin|box)"
    r"|in (?:a|the) (?:\w+,? ){0,3}(?:dark|dry|cool) place|out of the (?:refrigerator|fridge))\b",
    re.IGNORECASE,
)
NOT_KEPT = re.compile(
    r"\b(?:not|never|don't|no longer|rather than|instead of|(?:before|until|till) (?:\w+ ){0,3}"
    r"|(?:comes?|bring|brought|return|warm|back|cool\w*) (?:\w+ ){0,4}to"
    r"|serve\w* (?:\w+ )?(?:at|warm or at))[^.,;]*$",
    re.IGNORECASE,
)
NEVER = re.compile(r"\b(?:not|never|don't|rather than|instead of)\b[^.,;]*$", re.IGNORECASE)
COLD = re.compile(r"\b(?:refrigerat\w*|fridge|freez\w*|frozen|ice bath)\b", re.IGNORECASE)
_COUNT = "one two three four five six seven eight nine ten eleven twelve".split()
_COUNT = "one two three four five six seven eight nine ten eleven twelve".split()
NUMBERS = {"a": 1, "an": 1} | {word: number for number, word in enumerate(_COUNT, 1)}
SPANS = {"minute": 60, "hour": 3600, "day": 86400, "week": 604800, "month": 2592000, "year": 31536000}
NIGHT = 28800  # seconds: eight hours
_TIME = re.compile(rf"\b(\d+|{'|'.join(NUMBERS)}) ({'|'.join(SPANS)})s?\b", re.IGNORECASE)
_CLAUSE = re.compile(r"[.;]\s+|,? (?:or|and) (?=(?:for |up to )?\w+ \w+,? (?:\w+,? )?(?:in|at|on)\b)")

# Cooked, cut or moist food that spoils unseen, by kind; FDA Food Code 1-201.10 (TCS). Butter cakes, breads,
# fruit pies, jams, dressings and sweets are not among them.
PERISHABLE_KINDS = frozenset(
    "custard curd gelatine-dessert ice-cream mayonnaise beans rice risotto soup braise pasta fish poultry"
    " meat sausage".split()
)
KEEPS = (  # dried or cured, and what only flavours
    "key:prosciutto", "key:serrano-ham", "key:salami", "key:pepperoni", "key:nduja", "key:dry-chorizo",
    "key:bonito-flakes", "key:dried-shrimp", "key:anchovy-*", "key:bacon", "role:condiment", "role:stock",
)  # fmt: skip
ANIMAL = ("role:meat", "role:poultry", "role:fish", "role:shellfish")
SOFT_DAIRY = ("role:cream", "key:cream-cheese", "key:mascarpone", "key:*ricotta", "key:cottage-cheese")


def seconds(text: str) -> Fraction:
    """The longest time that a text speaks of, in seconds; 0 where it names none."""
    found = [
        Fraction(int(number) if number.isdigit() else NUMBERS[number.lower()]) * SPANS[unit.lower()]
        for number, unit in _TIME.findall(text)
    ]
    return max([*found, Fraction(NIGHT if re.search(r"\bovernight\b", text, re.IGNORECASE) else 0)])


def kept_warm(text: str) -> str:
    """The words by which a text keeps food warm for over two hours; empty where none do."""
    for clause in _CLAUSE.split(text):
        for match in WARM.finditer(clause):
            if not NOT_KEPT.search(clause[: match.start()]) and not 0 < seconds(clause) <= TWO_HOURS:
                return match.group()
    return ""


def perishable(subject: Subject) -> str:
    """What makes the dish spoil at room temperature; empty where nothing does."""
    recipe = subject.recipe
    kind = recipe.kind.text if recipe.kind else ""
    if re.search(r"\b(?:jerky|biltong|salami|dry-cured)\b", recipe.title, re.IGNORECASE):
        return ""
    for line in recipe.ingredients:
        if is_of(line.food, ANIMAL) and not is_of(line.food, KEEPS) and not line.for_use:
            return line.item
    if kind in PERISHABLE_KINDS:
        return f"a {kind.replace('-', ' ')}"
    chocolate = any(is_of(line.food, ("role:chocolate",)) for line in recipe.ingredients)
    for place, line in enumerate(recipe.ingredients):
        soft = is_of(line.food, SOFT_DAIRY) and not (chocolate or line.for_use)
        if soft and not is_cooked(recipe, subject.mentions, place):
            return line.item
    return _set_with_egg(subject, kind)


def _set_with_egg(subject: Subject, kind: str) -> str:
    """A pie that is mostly milk and egg: quiche, custard tart, cheesecake."""
    roles = subject.formula(subject.recipe.parts).roles
    wet = sum(roles.get(role, Fraction(0)) for role in ("milk", "cream", "cheese"))
    egg = roles.get("egg", Fraction(0)) + roles.get("egg-yolk", Fraction(0))
    pie = kind == "pie" or re.search(r"cheesecake|quiche|flan", subject.recipe.title, re.IGNORECASE)
    return "a filling of milk and egg" if pie and egg and wet >= roles["total"] / 4 else ""


@check(
    "perishable-kept-warm",
    Severity.ERROR,
    why="Cooked or moist food kept above 41 °F (5 °C) grows what makes people ill, often with no smell.",
    source="FDA Food Code 3-501.16 and the TCS definition in 1-201.10; FDA consumer advice: 2 hours",
    remedy="keep it in the refrigerator, and say how long",
    acceptable=False,
)
def perishable_kept_warm(subject: Subject) -> Iterator[Query]:
    """Meat, fish, custard, cooked beans or the like stored at room temperature for over two hours."""
    words = kept_warm(subject.recipe.storage)
    what = perishable(subject) if words else ""
    if what:
        yield query(subject.recipe.where, f"storage keeps {what} warm: “{words}”")


@check(
    "left-out-too-long",
    Severity.ERROR,
    why="Raw and cooked meat and fish may stand out for two hours in all, no longer.",
    source="FDA consumer advice on the two-hour rule; FDA Food Code 3-501.19",
    remedy="marinate, thaw and cool in the refrigerator",
    acceptable=False,
)
def left_out_too_long(subject: Subject) -> Iterator[Query]:
    """A step that leaves meat, poultry or fish at room temperature for over two hours, or thaws it there."""
    lines = subject.recipe.ingredients
    for number, step in enumerate(subject.recipe.steps):
        text = visible(step.spans)
        for match in WARM.finditer(text):
            sentence = sentence_at(text, match.start())
            raw = [lines[place] for place in subject.mentions.lines_of(number)]
            spoken = [line for line in raw if is_of(line.food, ANIMAL) and not is_of(line.food, KEEPS)]
            marinade = re.search(r"\b(?:marinat\w+|thaw\w*|defrost\w*)\b", sentence, re.IGNORECASE)
            if not spoken and not (marinade and any(is_of(line.food, ANIMAL) for line in lines)):
                continue
            longest = max([*durations(step, sentence), seconds(sentence)])
            thawed = marinade and marinade.group().lower().startswith(("thaw", "defrost")) and not longest
            if NEVER.search(sentence.partition(match.group())[0]):
                continue
            if longest > TWO_HOURS or thawed:
                yield query(step, f"“{match.group()}” for over 2 hours is unsafe for {_named(spoken)}")
                break


def _named(lines: list[Ingredient]) -> str:
    return lines[0].item if lines else "raw meat and fish"


DRIED = re.compile(r"\bdried|\bpowder|\bflakes", re.IGNORECASE)


@check(
    "oil-kept-warm",
    Severity.ERROR,
    why="Garlic, herbs and vegetables under oil can grow the toxin of botulism, unseen, unless kept cold.",
    source="National Center for Home Food Preservation, Freezing garlic-in-oil: 40 °F (4 °C), 4 days",
    remedy="write: keeps 4 days in the refrigerator at 40 °F (4 °C) or colder, or freeze it",
    acceptable=False,
)
def oil_kept_warm(subject: Subject) -> Iterator[Query]:
    """Garlic, fresh herbs or vegetables held in oil at room temperature, or for over four days."""
    recipe = subject.recipe
    title = recipe.title.lower()
    names = re.search(r"\b(?:oil|confit|pesto|chimichurri)\b", title)
    fresh = next(
        (
            line
            for line in recipe.ingredients
            if is_of(
                line.food, ("key:garlic", "key:fresh-*", "role:vegetable", "key:parsley", "key:cilantro")
            )
        ),
        None,
    )
    oily = any(is_of(line.food, ("role:oil",)) for line in recipe.ingredients)
    sour = any(is_of(line.food, ("role:vinegar",)) for line in recipe.ingredients)
    if names is None or fresh is None or not oily or sour:
        return
    method = " ".join(visible(step.spans) for step in recipe.steps)
    words = kept_warm(recipe.storage)
    if words:
        yield query(recipe.where, f"{fresh.item} in oil is kept warm: “{words}”")
    elif recipe.storage and not COLD.search(f"{recipe.storage} {method}") and seconds(recipe.storage):
        yield query(recipe.where, f"{fresh.item} in oil is kept, and nothing says in the refrigerator")
    else:
        for clause in _CLAUSE.split(recipe.storage):
            frozen = re.search(r"\bfr(?:ee|o)z", clause, re.IGNORECASE)
            if not frozen and seconds(clause) > 4 * SPANS["day"] and names.group() != "pesto":
                yield query(recipe.where, f"{fresh.item} in oil is kept for over 4 days")


SHELF_PICKLE = (
    "USDA Complete Guide to Home Canning (memory): 5 % acidity, and no weaker than a tested formula"
)


@check(
    "pickle-kept-warm",
    Severity.ERROR,
    why="A pickle keeps on the shelf only if it is sour enough all through, and heated in its jar.",
    source=SHELF_PICKLE,
    remedy="call it a refrigerator pickle and keep it at 40 °F (4 °C), or use a tested canning formula",
    acceptable=False,
)
def pickle_kept_warm(subject: Subject) -> Iterator[Query]:
    """A vinegar pickle kept on the shelf that is weaker than half vinegar of 5 %, or not processed."""
    recipe = subject.recipe
    sour = next((line for line in recipe.ingredients if is_of(line.food, ("role:vinegar",))), None)
    pickled = re.search(r"\b(?:pickl\w+|relish|chutney|giardiniera)\b", recipe.title, re.IGNORECASE)
    words = kept_warm(recipe.storage)
    if sour is None or not pickled or not words:
        return
    told = " ".join(line.text for line in recipe.ingredients)
    weak = re.search(r"\b([0-4](?:\.\d+)?) ?%", told)
    vinegar, water = _sour_and_water(subject)
    if weak:
        yield query(sour, f"a pickle kept “{words}” needs vinegar of 5 % acidity, not {weak.group()}")
    elif water > vinegar:
        yield query(sour, f"a pickle kept “{words}” has more water than vinegar")
    elif not canned(subject):
        yield query(sour, f"a pickle kept “{words}” is not processed in its jar", severity=Severity.WARNING)


def _sour_and_water(subject: Subject) -> tuple[Fraction, Fraction]:
    vinegar = water = Fraction(0)
    for place, line in enumerate(subject.recipe.ingredients):
        mass = subject.masses.get(place)
        if mass is not None and is_of(line.food, ("role:vinegar",)):
            vinegar += mass.grams
        elif mass is not None and line.food is not None and line.food.key == "water":
            water += mass.grams
    return vinegar, water


SOURING = ("role:vinegar", "key:citric-acid", "key:*lemon-juice", "key:*lime-juice")
CANNER = re.compile(
    r"\b(?:canner|canning kettle|boiling[- ]water bath|process (?:the |in |for |filled |hot )"
    r"|invert the jars|turn the jars upside|upside[- ]down to seal)",
    re.IGNORECASE,
)


def canned(subject: Subject) -> str:
    """The words by which the method seals jars for the shelf; empty where it does not."""
    text = " ".join(visible(step.spans) for step in subject.recipe.steps)
    found = CANNER.search(text)
    jars = re.search(r"\b(?:jars?|bottles?)\b", text, re.IGNORECASE)
    return found.group().strip() if found and jars and not re.search(r"food processor", text, re.I) else ""


@check(
    "low-acid-canned",
    Severity.ERROR,
    why="In a sealed jar above pH 4.6 the toxin of botulism grows; boiling water does not kill its spores.",
    source="Kansas State Extension, food safety recommendations for food preservation exhibits (pH 4.6)",
    remedy="keep it in the refrigerator or freezer, or give the current tested process for a pressure canner",
    acceptable=False,
)
def low_acid_canned(subject: Subject) -> Iterator[Query]:
    """Vegetables, beans, meat, fish, tomatoes or figs sealed for the shelf without any acid."""
    recipe = subject.recipe
    text = " ".join(visible(step.spans) for step in recipe.steps)
    words = canned(subject)
    if not words and re.search(r"\b(?:jars?|bottles?)\b", text, re.I):
        words = kept_warm(recipe.storage) if seconds(recipe.storage) > 3 * SPANS["day"] else ""
    if not words or re.search(r"\bpressure[- ]can|\bferment", f"{recipe.title} {text}", re.IGNORECASE):
        return
    if any(is_of(line.food, SOURING) for line in recipe.ingredients):
        return
    roles = subject.formula(recipe.parts).roles
    if roles.get("sugar", Fraction(0)) > roles["total"] / 2:
        return
    for line in recipe.ingredients:
        moist = line.food is not None and line.food.share("water") > Fraction(1, 2)
        if (moist and is_of(line.food, ("role:vegetable", "role:legume", "key:fig"))) or is_of(
            line.food, ANIMAL
        ):
            yield query(line, f"{line.item} is sealed for the shelf (“{words}”) without acid")
            return


@check(
    "held-in-danger",
    Severity.ERROR,
    why="Between 41 and 135 °F (5 and 57 °C) what makes people ill multiplies.",
    source="FDA Food Code 3-501.16: cold at 41 °F (5 °C) or below, hot at 135 °F (57 °C) or above",
    remedy="hold at 41 °F (5 °C) or colder, or at 135 °F (58 °C) or hotter",
    acceptable=False,
)
def held_in_danger(subject: Subject) -> Iterator[Query]:
    """Perishable food kept cold above 41 °F, or hot below 135 °F."""
    what = perishable(subject)
    if not what:
        return
    for step in subject.recipe.steps:
        text = visible(step.spans)
        for at, span in temperatures(step):
            before = sentence_at(text, at).partition(span.text)[0]
            if span.purpose is not Purpose.HOLDING or re.search(
                r"\b(?:cool|chill|until|reach)", before, re.I
            ):
                continue
            if Fraction(26, 5) < span.quantity.high and span.quantity.low < 57 - Fraction(1, 5):
                yield query(span, f"{what} held at “{span.text}” is in the danger zone")
