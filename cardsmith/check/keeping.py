"""How the finished food is kept: where, how long, and whether that is safe for what it is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from cardsmith.check.facts import acidities
from cardsmith.check.fields import Field
from cardsmith.check.heat import heats, is_cooked
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.facts.patterns import is_of
from cardsmith.finding import Severity
from cardsmith.language.spans import KEEPING, Measured
from cardsmith.recipe.model import Ingredient
from cardsmith.regex import regex

TWO_HOURS = 7200
SOUR = 5  # per cent of acid in a vinegar that tested pickles are made with
WARM = regex(
    r"\b(?:room temperature|on the counter(?:top)?|on the worktop|unrefrigerated|shelf[- ]stable"
    r"|(?:on|for) the shelf|in (?:an?|the) (?:\w+,? ){0,3}(?:cupboard|pantry|larder|cellar|tin|box)"
    r"|in (?:a|the) (?:\w+,? ){0,3}(?:dark|dry|cool) place|out of the (?:refrigerator|fridge))\b",
    re.IGNORECASE,
)
NOT_KEPT = regex(
    r"\b(?:not|never|don't|no longer|rather than|instead of|(?:before|until|till) (?:\w+ ){0,3}"
    r"|(?:comes?|bring|brought|return|warm|back|cool\w*) (?:\w+ ){0,4}to"
    r"|serve\w* (?:\w+ )?(?:at|warm or at))[^.,;]*$",
    re.IGNORECASE,
)
NEVER = regex(r"\b(?:not|never|don't|rather than|instead of)\b[^.,;]*$", re.IGNORECASE)
COLD = regex(r"\b(?:refrigerat\w*|fridge|freez\w*|frozen|ice bath)\b", re.IGNORECASE)
DAY = Fraction(86400)  # seconds
NIGHT = 8 * 3600
CLAUSE = regex(r"[.;]\s+|,? (?:or|and) (?=(?:for |up to )?\w+ \w+,? (?:\w+,? )?(?:in|at|on)\b)")
OR = regex(r",? (?:or|and) (?:for |up to |about )*$")

# Cooked or moist food that spoils unseen, by kind; FDA Food Code 1-201.10 (TCS). Butter cakes, breads, fruit
# pies, jams, dressings and sweets are not among them.
PERISHABLE_KINDS = {
    "custard": "custard",
    "curd": "curd of egg and butter",
    "gelatine-dessert": "gelatine dessert",
    "ice-cream": "ice cream",
    "mayonnaise": "homemade mayonnaise",
    "beans": "cooked beans",
    "rice": "cooked rice",
    "risotto": "cooked rice",
    "soup": "soup",
    "braise": "braised food",
    "pasta": "fresh pasta",
    "fish": "cooked fish",
    "poultry": "cooked poultry",
    "meat": "cooked meat",
    "sausage": "cooked meat",
}
KEEPS = (  # dried or cured, and what only flavours
    "key:prosciutto", "key:serrano-ham", "key:salami", "key:pepperoni", "key:nduja", "key:dry-chorizo",
    "key:bonito-flakes", "key:dried-shrimp", "key:anchovy-*", "key:bacon", "role:condiment", "role:stock",
)  # fmt: skip
ANIMAL = ("role:meat", "role:poultry", "role:fish", "role:shellfish")
SOFT_DAIRY = ("role:cream", "key:cream-cheese", "key:mascarpone", "key:*ricotta", "key:cottage-cheese")


def seconds(text: Field, start: int = 0, end: int | None = None) -> Fraction:
    """The longest time that a text speaks of between two places, in seconds; 0 where it names none."""
    night = NIGHT if re.search(r"\bovernight\b", text.text[start:end], re.IGNORECASE) else 0
    return max(text.longest(start, end), Fraction(night))


def clauses(text: Field) -> Iterator[tuple[int, int]]:
    """Where each clause of a text on keeping begins and ends: before another place, and another time."""
    places = [match.end() for match in CLAUSE.finditer(text.text)]
    times = [at for at, _ in text.times() if OR.search(text.text, 0, at)]
    cuts = sorted({0, *(at for at in places if not text.is_inside(at)), *times, len(text.text)})
    return pairwise(cuts)


def kept_warm(text: Field) -> str:
    """The words by which a text keeps food warm for over two hours; empty where none do."""
    for begins, ends in clauses(text):
        for match in WARM.finditer(text.text, begins, ends):
            before = text.text[begins : match.start()]
            if not NOT_KEPT.search(before) and not 0 < seconds(text, begins, ends) <= TWO_HOURS:
                return match.group()
    return ""


def perishable(subject: Subject) -> str:
    """What makes the dish spoil at room temperature; empty where nothing does."""
    recipe = subject.recipe
    kind = recipe.kind.text if recipe.kind else ""
    if re.search(r"\b(?:jerky|biltong|salami|dry-cured)\b", recipe.title, re.IGNORECASE):
        return ""
    animal = next((line.item for line in recipe.ingredients if _spoils(line)), "")
    if kind in PERISHABLE_KINDS:
        return f"{PERISHABLE_KINDS[kind]} ({animal})" if animal else PERISHABLE_KINDS[kind]
    if animal:
        return animal
    chocolate = any(is_of(line.food, ("role:chocolate",)) for line in recipe.ingredients)
    for place, line in enumerate(recipe.ingredients):
        soft = is_of(line.food, SOFT_DAIRY) and not (chocolate or line.for_use)
        if soft and not is_cooked(recipe, subject.mentions, place):
            return line.item
    return _set_with_egg(subject, kind)


def _spoils(line: Ingredient) -> bool:
    return is_of(line.food, (*ANIMAL, "role:bone")) and not is_of(line.food, KEEPS) and not line.for_use


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
    remedy="keep it in the refrigerator at 40 °F (4 °C) or colder, and say how long",
    acceptable=False,
)
def perishable_kept_warm(subject: Subject) -> Iterator[Query]:
    """Meat, fish, custard, cooked beans or the like stored at room temperature for over two hours."""
    words = kept_warm(subject.storage)
    what = perishable(subject) if words and not speaks_of_oil(subject.storage, words) else ""
    if what:
        yield query(subject.storage.spot(words), f"storage keeps {what} warm: “{words}”")


def speaks_of_oil(text: Field, words: str) -> bool:
    """Whether the sentence that ``words`` stands in is about something kept in oil."""
    begins, ends = text.sentence_at(text.text.find(words))
    return bool(re.search(r"\boil\b", text.text[begins:ends], re.IGNORECASE))


@check(
    "pickle-kept-warm",
    Severity.ERROR,
    why="A pickle keeps on the shelf only if it is sour enough all through, and heated in its jar.",
    source="USDA Complete Guide to Home Canning (memory): 5 % acidity, and no weaker than a tested formula",
    remedy="call it a refrigerator pickle and keep it at 40 °F (4 °C), or use a tested canning formula",
    acceptable=False,
)
def pickle_kept_warm(subject: Subject) -> Iterator[Query]:
    """A vinegar pickle kept on the shelf that is weaker than half vinegar of 5 %, or not processed."""
    words = kept_warm(subject.storage)
    recipe = subject.recipe
    sour = next(filter(_is_vinegar, recipe.ingredients), None)
    kind = recipe.kind.text if recipe.kind else ""
    pickled = re.search(r"\b(?:pickl\w+|relish|chutney|giardiniera)\b", recipe.title, re.IGNORECASE)
    if not words or sour is None or not (pickled or kind == "quick-pickle"):
        return
    moist = any(is_of(line.food, ("role:vegetable",)) for line in recipe.ingredients)
    weak = [share for line in recipe.ingredients for share in acidities(line) if share < SOUR]
    vinegar, water = (_mass_of(subject, one) for one in ("role:vinegar", "key:water"))
    if weak:
        yield query(sour, f"a pickle kept “{words}” needs vinegar of 5 % acidity, not {number(weak[0])} %")
    elif water > vinegar:
        yield query(sour, f"a pickle kept “{words}” has more water than vinegar")
    elif moist and not canned(subject):
        yield query(sour, f"a pickle kept “{words}” is not processed in its jar", severity=Severity.WARNING)


def _is_vinegar(line: Ingredient) -> bool:
    """Whether a line is of vinegar, also where its strength hides its name from the larder."""
    return is_of(line.food, ("role:vinegar",)) or (line.food is None and "vinegar" in line.item.lower())


def _mass_of(subject: Subject, pattern: str) -> Fraction:
    lines = subject.recipe.ingredients
    return sum(
        (one.grams for place, one in subject.masses.items() if is_of(lines[place].food, (pattern,))),
        Fraction(0),
    )


CANNER = regex(
    r"\b(?:canner|canning kettle|boiling[- ]water bath|process (?:the |in |for |filled |hot |jars )"
    r"|invert the jars|turn the jars upside|upside[- ]down to seal)",
    re.IGNORECASE,
)


def canned(subject: Subject) -> str:
    """The words by which the method seals jars for the shelf; empty where it does not."""
    text = " ".join(one.text for one in (*subject.steps, subject.storage))
    found = CANNER.search(text)
    jars = re.search(r"\b(?:jars?|bottles?)\b", text, re.IGNORECASE)
    return found.group().strip() if found and jars and "food processor" not in text.lower() else ""


@check(
    "left-out-too-long",
    Severity.ERROR,
    why="Meat and fish may stand out for two hours; a pot that cools by itself stays warm for longer.",
    source="FDA consumer advice on the two-hour rule; FDA Food Code 3-501.14: down to 70 °F (21 °C) in two",
    remedy="marinate and thaw in the refrigerator; cool in cold water or shallow pans, then refrigerate",
    acceptable=False,
)
def left_out_too_long(subject: Subject) -> Iterator[Query]:
    """A step that leaves meat, fish or a cooked dish that spoils warm for over two hours, or thaws there."""
    lines = subject.recipe.ingredients
    for place, step in enumerate(subject.steps):
        raw = [lines[line] for line in subject.mentions.lines_of(place) if _spoils(lines[line])]
        for words, sentence, longest in _left_warm(step):
            thaw = re.search(r"\b(?:thaw|defrost)", sentence, re.IGNORECASE) and not longest
            if not raw and (thaw or "marinat" in sentence.lower()):
                raw = [one for one in lines if _spoils(one)]
            if raw and (longest > TWO_HOURS or thaw):
                yield query(step, f"“{words}” for over 2 hours is unsafe for {raw[0].item}")
                break
    yield from _cooling(subject)


def _cooling(subject: Subject) -> Iterator[Query]:
    """A cooked dish that spoils, left to cool by itself."""
    what = perishable(subject)
    cooked = False
    for place, step in enumerate(subject.steps):
        raw = any(_spoils(subject.recipe.ingredients[line]) for line in subject.mentions.lines_of(place))
        for words, sentence, longest in _left_warm(step):
            left = re.search(r"\b(?:leave|cool|stand|sit|rest)\b", sentence, re.IGNORECASE)
            if what and cooked and left and longest > TWO_HOURS and not raw:
                yield query(step, f"{what} is left “{words}” for over 2 hours")
                break
        cooked = cooked or heats(step.text)


def _left_warm(step: Field) -> Iterator[tuple[str, str, Fraction]]:
    """Where a step leaves something warm: the words, the sentence, and for how many seconds; 0 unsaid."""
    for match in WARM.finditer(step.text):
        begins, ends = step.sentence_at(match.start())
        if not NEVER.search(step.text[begins : match.start()]):
            yield match.group(), step.text[begins:ends], seconds(step, begins, ends)


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
    for text in subject.fields:
        if text.name in {"title", "equipment", "yield"}:
            continue
        for at, span in text.temperatures():
            passing = PASSING.search(text.text, text.sentence_at(at)[0], at)
            if span.purpose in KEEPING and not passing and any(map(_in_danger, _ends(span))):
                held = "held" if text.name == "steps" else "kept"
                yield query(text.spot(span.text, at), f"{what} {held} at “{span.text}” is in the danger zone")


PASSING = regex(r"\b(?:cool(?!ed| place)\w*|chill\b|until|reach|reheat)", re.IGNORECASE)


def _ends(span: Measured) -> tuple[Fraction, Fraction]:
    return span.quantity.low, span.quantity.high


def _in_danger(celsius: Fraction) -> bool:
    """Warmer than 41 °F and cooler than 135 °F, as charts round them to 5 and 57 °C."""
    return Fraction(26, 5) < celsius < Fraction(284, 5)
