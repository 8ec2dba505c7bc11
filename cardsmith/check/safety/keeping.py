"""How food is kept: where, how long, and whether that is safe for what it is; in any field, in any words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.fields import Field
from cardsmith.check.line_facts import acidities
from cardsmith.check.registry import Query, check, query
from cardsmith.check.safety.holding_times import TWO_HOURS, Stay, chilled, is_bare, is_filled, stays
from cardsmith.check.safety.jars import canned
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number, percent
from cardsmith.facts.dangers.spoilage import CUSTARD, is_animal, needs_heat, shares, spoiling, spoils
from cardsmith.facts.method.clauses import nouns
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.facts.method.events import READS
from cardsmith.finding import Severity
from cardsmith.language.spans import KEEPING, Measured, Purpose
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.measure.units import Dimension
from cardsmith.recipe.mentions.mentions import How
from cardsmith.regex import regex

SOUR = 5  # per cent of acid in a vinegar that tested pickles are made with
NOT_READ = frozenset({"title", "equipment", "yield", "ingredients"})  # that tell nobody how food is kept


def kept_warm(text: Field) -> str:
    """The words by which a text keeps food warm for over two hours; empty where none do."""
    return next((stay.words for stay in stays(text) if stay.is_long and not is_bare(stay.sentence(text))), "")


def perishable(subject: Subject) -> str:
    """What makes the dish spoil at room temperature; empty where nothing does."""
    if re.search(r"\b(?:jerky|biltong|salami|dry-cured)\b", subject.recipe.title, re.IGNORECASE):
        return ""
    return spoiling(dish(subject.recipe, subject.larder))


@check(
    "perishable-kept-warm",
    Severity.ERROR,
    why="In cooked or moist food kept above 41 °F (5 °C) bacteria multiply, often without a smell.",
    source="FDA Food Code 3-501.16 and the TCS definition in 1-201.10; FDA consumer advice: 2 hours",
    remedy="cool it within 2 hours, keep it in the refrigerator at 40 °F (4 °C) or colder, and say how long",
    acceptable=False,
)
def perishable_kept_warm(subject: Subject) -> Iterator[Query]:
    """Meat, fish, custard, cooked rice, beans or the like kept at room temperature for over two hours."""
    for text in subject.fields:
        if text.name in NOT_READ or text.name == "steps":
            continue
        for stay in stays(text):
            what = _kept(subject, text, stay) if stay.is_long else ""
            if what and not speaks_of_oil(text, stay):
                where = "storage" if text.name == "storage" else f"the {text.name.removesuffix('s')}"
                yield query(text.spot(stay.words, stay.at), f"{where} keeps {what} warm: “{stay.words}”")
                break


def _kept(subject: Subject, text: Field, stay: Stay) -> str:
    """What a text other than a step leaves standing, where it spoils."""
    sentence = stay.sentence(text)
    if is_bare(sentence):
        return ""
    known = dish(subject.recipe, subject.larder)
    named = _named(subject, sentence)
    spoiled = next(filter(None, (spoils(known, place) for place in named)), "")
    title = set(words(subject.recipe.title))
    if named and not spoiled and not any(_nouns(known, place) & title for place in named):
        return ""  # the toasted almonds, not the dish
    of_part = _of_part(subject, sentence)
    return spoiled or (perishable(subject) if of_part is None else of_part)


def _of_part(subject: Subject, sentence: str) -> str | None:
    """What spoils of the one part that a text speaks of, "the biscuits keep"; None where it names no part."""
    said, parts = set(words(sentence)), subject.recipe.parts
    named = [part for part in parts if part.name and set(words(part.name)) & said]
    if len(named) != 1 or len(parts) == 1 or is_filled(sentence):
        return None
    known = dish(subject.recipe, subject.larder)
    places = (place for place, line in enumerate(subject.recipe.ingredients) if line in named[0].ingredients)
    return next(filter(None, (spoils(known, place) for place in places)), "")


def _named(subject: Subject, sentence: str) -> tuple[int, ...]:
    """The lines whose food a text speaks of."""
    said = set(words(sentence))
    known = dish(subject.recipe, subject.larder)
    return tuple(place for place in range(len(known.foods)) if _nouns(known, place) & said)


def _nouns(known: Dish, place: int) -> frozenset[str]:
    """The last word of a line's food: the beans, the rice."""
    return frozenset(words(known.line(place).item)[-1:])


def speaks_of_oil(text: Field, stay: Stay) -> bool:
    """Whether a stay is about something kept in oil, for which another check asks."""
    return bool(re.search(r"\boil\b", stay.sentence(text), re.IGNORECASE))


@check(
    "kept-cold-too-long",
    Severity.ERROR,
    why="Listeria grows in the cold: cooked food is as risky after ten days as after an hour in the warm.",
    source="FDA Food Code 3-501.17: ready-to-eat food that spoils, at 41 °F (5 °C), seven days at most",
    remedy="say how long it keeps, seven days at most, or freeze it: “Refrigerate for up to 3 days.”",
    acceptable=False,
)
def kept_cold_too_long(subject: Subject) -> Iterator[Query]:
    """A dish that spoils kept in the refrigerator for over a week; what is sweet enough may be."""
    known = dish(subject.recipe, subject.larder)
    what = perishable(subject)
    animal = any(is_animal(known, place) for place in range(len(known.foods)))
    sweet = shares(known).get("sugar", Fraction(0)) >= SYRUPY and what != CUSTARD and not animal
    if not what or sweet or KEPT_BY.search(subject.recipe.title):
        return
    for text in subject.fields:
        for at, span in chilled(text) if text.name in {"storage", "notes"} else ():
            sentence = text.sentence(at)
            if span.quantity.high > WEEK and not is_bare(sentence) and _kept_of(subject, sentence):
                yield query(text.spot(span.text, at), f"“{span.text}” is too long to keep {what} in the cold")


def _kept_of(subject: Subject, sentence: str) -> bool:
    """Whether a sentence speaks of what spoils, or of the dish, rather than of one thing that keeps."""
    known, named = dish(subject.recipe, subject.larder), _named(subject, sentence)
    of_part = _of_part(subject, sentence)
    if of_part is not None:
        return bool(of_part)
    return not named or any(spoils(known, place) for place in named)


WEEK = 7 * 24 * 3600
SYRUPY = Fraction(1, 5)  # of sugar, as in a curd, a caramel or a cordial: common practice, no source
KEPT_BY = regex(  # salt, fat, smoke or acid, for which other rules ask
    r"\b(?:confit|rillettes|cured?|jerky|biltong|salami|pickled?|gravlax|kimchi|sauerkraut|ferment\w*|(?:bacon|ham)$)\b",
    re.IGNORECASE,
)


@check(
    "pickle-kept-warm",
    Severity.ERROR,
    why="A pickle keeps on the shelf only if it is sour enough all through, and heated in its jar.",
    source="USDA Complete Guide to Home Canning (memory): 5 % acidity, and no weaker than a tested formula",
    remedy="call it a refrigerator pickle and keep it at 40 °F (4 °C), or have a tested formula reviewed",
    acceptable=False,
)
def pickle_kept_warm(subject: Subject) -> Iterator[Query]:
    """A vinegar pickle kept on the shelf that is weaker than half vinegar of 5 %, or not processed."""
    words = kept_warm(subject.storage)
    recipe = subject.recipe
    known = dish(recipe, subject.larder)
    places = range(len(known.foods))
    sour = next((place for place in places if is_vinegar(known, place)), None)
    if not words or not is_pickle(subject):
        return
    moist = next((place for place in places if is_of(known.foods[place].food, ("role:vegetable",))), None)
    if sour is None:
        if moist is not None and not FERMENTS.search(" ".join(field.text for field in subject.steps)):
            yield query(known.line(moist), f"a pickle kept “{words}” has no vinegar")
        return
    own = next(
        (place for place in places if is_vinegar(known, place) and OWN.search(known.line(place).text)), None
    )
    weak = [share for line in recipe.ingredients for share in acidities(line) if share < SOUR]
    vinegar = sum((_amount(subject, place) for place in places if is_vinegar(known, place)), Fraction(0))
    waters = (place for place in places if is_of(known.foods[place].food, ("key:water",)))
    water = sum((_amount(subject, place) for place in waters), Fraction(0))
    line = known.line(sour)
    if own is not None:
        complaint = f"nobody knows the acidity of {known.line(own).item}; a pickle kept “{words}” needs 5 %"
        yield query(known.line(own), complaint)
    elif weak:
        yield query(line, f"a pickle kept “{words}” needs vinegar of 5 % acidity, not {number(weak[0])} %")
    elif vinegar and water > vinegar:
        yield query(line, f"a pickle kept “{words}” has more water than vinegar")
    elif moist is not None and vinegar and vinegar * LEAST_SOUR < _moist(subject, known):
        what = (
            f"a pickle kept “{words}” has too little vinegar: {percent(vinegar / _moist(subject, known))} of"
        )
        yield query(line, f"{what} the vegetables' weight")
    elif moist is not None and not canned(subject):
        mild = is_preserve(subject)
        what = f"a pickle kept “{words}” is not processed in its jar"
        yield query(line, what, severity=Severity.NOTE if mild else Severity.WARNING)


LEAST_SOUR = 5  # times the vinegar that the vegetables may weigh; tested pickles have three at most (memory)


def _moist(subject: Subject, known: Dish) -> Fraction:
    """The grams of vegetables and onions."""
    fresh = ("role:vegetable", "role:allium")
    places = (place for place, food in enumerate(known.foods) if is_of(food.food, fresh))
    return sum((_amount(subject, place) for place in places), Fraction(0))


def is_pickle(subject: Subject) -> bool:
    """Whether a recipe is a pickle: by title, kind, or vegetables with vinegar in jars that are sealed."""
    recipe, known = subject.recipe, dish(subject.recipe, subject.larder)
    kind = recipe.kind.text if recipe.kind else ""
    if kind == "quick-pickle" or PICKLED.search(recipe.title):
        return True
    vinegar = any(is_vinegar(known, place) for place in range(len(known.foods)))
    near = any(
        is_of(food.food, ("key:*tomato*", "key:*fig", "role:meat", "role:poultry")) for food in known.foods
    )
    return vinegar and not near and bool(canned(subject))


def is_preserve(subject: Subject) -> bool:
    """Whether all of it is boiled down with sugar and vinegar, as a chutney is, and potted hot.

    UK practice seals it hot in sterilised jars; US guidance processes the jars as well.
    """
    known = dish(subject.recipe, subject.larder)
    sugar = shares(known).get("sugar", Fraction(0))
    text = " ".join(field.text for field in subject.steps)
    whole = all(
        known.history(place).events for place, food in enumerate(known.foods) if is_of(food.food, FRESH)
    )
    return sugar >= CANDIED and whole and POTTED.search(text) is not None


OWN = regex(
    r"\b(?:home-?\s?made|house-?made|your own|our own)\b", re.IGNORECASE
)  # vinegar of no known strength
CANDIED = Fraction(1, 10)  # of the list in sugar: common practice, no source
FRESH = ("role:vegetable", "role:fruit", "role:allium")
POTTED = regex(
    r"\b(?:hot|boiling|steril\w+|warm) (?:\w+ ){0,3}(?:jars?|bottles?)\b"
    r"|\b(?:pot|jar|bottle|ladle|spoon|pour|fill)\b[^.;]{0,40}\b(?:hot|boiling)\b",
    re.IGNORECASE,
)
PICKLED = regex(r"\b(?:pickl\w+|relish|chutney|giardiniera|achar)\b", re.IGNORECASE)
FERMENTS = regex(r"\b(?:ferment\w*|brine)\b", re.IGNORECASE)


def is_vinegar(known: Dish, place: int) -> bool:
    """Whether a line is of vinegar, also where its strength hides its name from the larder."""
    food = known.foods[place].food
    return is_of(food, ("role:vinegar",)) or "vinegar" in known.line(place).item.lower()


def _amount(subject: Subject, place: int) -> Fraction:
    """The grams of a line, or its ml, which for what is poured are as many; 0 where it has neither."""
    mass = subject.masses.get(place)
    if mass is not None:
        return mass.grams
    line = subject.recipe.ingredients[place]
    poured = line.amount is not None and line.amount.dimension is Dimension.VOLUME
    return line.amount.middle if line.amount is not None and poured else Fraction(0)


@check(
    "left-out-too-long",
    Severity.ERROR,
    why="Meat and fish may stand out for two hours; a pot that cools by itself stays warm for longer.",
    source="FDA consumer advice on the two-hour rule; FDA Food Code 3-501.14: down to 70 °F (21 °C) in two",
    remedy="marinate and thaw in the refrigerator; cool in cold water or shallow pans, then refrigerate",
    acceptable=False,
)
def left_out_too_long(subject: Subject) -> Iterator[Query]:
    """A step that leaves meat, fish or a perishable dish out for over two hours, or thaws it there."""
    for text in subject.fields:
        if text.name in NOT_READ:
            continue
        thawed = _thawed_warm(subject, text)
        if thawed is not None:
            yield query(text.spot(thawed[0]), f"“{thawed[0]}” is no safe way to thaw {thawed[1]}")
            continue
        for place, stay in ((text.number - 1, other) for other in stays(text) if text.name == "steps"):
            what = _left(subject, text, stay, place)
            if what and stay.seconds > TWO_HOURS:
                yield query(text, f"“{stay.words}” for over 2 hours is unsafe for {what}")
                break


def _left(subject: Subject, text: Field, stay: Stay, place: int) -> str:
    """What a step leaves standing, where it spoils: what its sentence names, or else what was made so far."""
    if is_bare(stay.sentence(text)):
        return ""
    known = dish(subject.recipe, subject.larder)
    named = [
        mention.line
        for mention in subject.mentions.by_step.get(place, ())
        if stay.begins <= mention.start < stay.stops
        and not known.line(mention.line).for_use
        and mention.how not in {How.CUE, How.CLASS}
        and not is_of(known.foods[mention.line].food, ("key:water", "key:ice"))
        and nouns("vessel").isdisjoint(words(text.text[mention.start : mention.end]))
    ]
    if named:
        return next(
            (danger for line in named if (danger := spoils(known, line)) and _is_so(known, line, place)), ""
        )
    what = perishable(subject)
    used = (
        line
        for line in range(len(known.foods))
        if min(subject.mentions.steps_of(line), default=place) <= place
    )
    so_far = frozenset(used)
    mine = {line for line in range(len(known.foods)) if spoils(known, line) == what}
    if mine and mine.isdisjoint(so_far):
        return ""  # the cream that fills the shell a day later
    return what if what and any(_is_so(known, line, place) for line in so_far) else ""


def _is_so(known: Dish, line: int, place: int) -> bool:
    """Whether a line spoils already by the end of a step: plants once they are hot, all else at once."""
    if not spoils(known, line) and not known.history(line).events:
        return False
    return not needs_heat(known, line) or any(event.step <= place for event in known.history(line).events)


THAWS = regex(r"\b(?:thaw\w*|defrost\w*|(?:from|out of) the freezer|frozen)\b", re.IGNORECASE)
SAFELY = regex(
    r"\b(?:refrigerat\w*|fridge|cold water|microwave|never|not|don't|cook from frozen|pastry|dough)\b",
    re.IGNORECASE,
)
HOT_WATER = regex(r"\b(?:(?:in|under|with) (?:a \w+ of )?(?:hot|warm) (?:running )?water)\b", re.IGNORECASE)


def _thawed_warm(subject: Subject, text: Field) -> tuple[str, str] | None:
    """The words by which a text thaws food in the warm, and what that is."""
    known = dish(subject.recipe, subject.larder)
    what = next((spoils(known, place) for place in range(len(known.foods)) if is_animal(known, place)), "")
    for begins, ends, _ in text.cuts if what else ():
        sentence = text.text[begins:ends]
        if not THAWS.search(sentence) or SAFELY.search(sentence):
            continue
        if hot := HOT_WATER.search(sentence):
            return hot.group(), what
        stay = next((other for other in stays(text) if begins <= other.at < ends), None)
        if stay is not None and not 0 < stay.seconds <= TWO_HOURS:
            return stay.words, what
    return None


@check(
    "held-in-danger",
    Severity.ERROR,
    why="Bacteria that make people ill multiply between 41 and 135 °F (5 and 57 °C).",
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
            begins, ends = text.sentence_at(at)
            passing = PASSING.search(text.text, begins, at) or EMPTY.search(text.text, begins, ends)
            holds = span.purpose in KEEPING or _holds(text, span, at)
            if holds and not passing and any(map(_in_danger, _ends(span))):
                held = "held" if text.name == "steps" else "kept"
                yield query(text.spot(span.text, at), f"{what} {held} at “{span.text}” is in the danger zone")


def _holds(text: Field, span: Measured, at: int) -> bool:
    """Whether a sentence keeps food warm at a temperature that is given for a vessel, for over an hour."""
    begins, ends = text.sentence_at(at)
    sentence, longest = text.text[begins:ends], text.longest(begins, ends)
    if span.purpose in NOT_HELD:
        return False
    if READS.search(sentence):  # a thermometer that tells when food is done, or that it stays warm for hours
        return STAYS.search(text.text, begins, at) is not None and longest > HOUR
    return HOLDS.search(sentence) is not None and not 0 < longest <= HOUR


NOT_HELD = frozenset({Purpose.BATH, Purpose.DOUGH, Purpose.PROOF, Purpose.ROOM, Purpose.CHOCOLATE})
HOUR = 3600  # what is warm for no longer is on its way to the table: common practice, no source
STAYS = regex(r"\b(?:stays?|keeps?|kept|holds?|held)\b[^.;,]{0,25}$", re.IGNORECASE)
HOLDS = regex(
    r"\b(?:(?:keep|kept|keeps|hold|holds|held|stays?)\b[^.;]{0,40}\b(?:warm|hot|at|in)\b|warming drawer"
    r"|warm setting|set(?:ting)? to warm)",
    re.IGNORECASE,
)
EMPTY = regex(
    r"\b(?:bowls|plates|platters?|dough|starter|yogh?urt|syrup|chocolate|never|not|don't)\b", re.IGNORECASE
)
PASSING = regex(
    r"\b(?:cool(?!ed| place)\w*|chill\b"
    r"|until(?! (?:you |it is |they are |everyone |the guests )?(?:serv|need|want|eat))|reach|reheat)",
    re.IGNORECASE,
)


def _ends(span: Measured) -> tuple[Fraction, Fraction]:
    return span.quantity.low, span.quantity.high


def _in_danger(celsius: Fraction) -> bool:
    """Warmer than 41 °F and cooler than 135 °F, as charts round them to 5 and 57 °C."""
    return Fraction(26, 5) < celsius < Fraction(284, 5)
