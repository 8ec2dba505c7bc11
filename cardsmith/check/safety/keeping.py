"""How food is kept: where, how long, and whether that is safe for what it is; in any field, in any words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.fields import Field
from cardsmith.check.registry import Query, check, query
from cardsmith.check.safety.holding_times import TWO_HOURS, Stay, chilled, is_bare, is_filled, stays
from cardsmith.check.subject import Subject
from cardsmith.facts.dangers.spoilage import CUSTARD, is_animal, needs_heat, shares, spoiling, spoils
from cardsmith.facts.method.clauses import nouns
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.facts.method.events import READS
from cardsmith.finding import Severity
from cardsmith.language.spans import KEEPING, Measured, Purpose
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.mentions.mentions import How
from cardsmith.recipe.model import Text
from cardsmith.regex import regex

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
        late = _chilled_late(subject, text)
        if late is not None:
            yield query(late, f"“{late.text}” is too long for {perishable(subject)} to stand warm")
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


def _chilled_late(subject: Subject, text: Field) -> Text | None:
    """The time within which a text puts a dish that spoils into the cold, where that is over two hours."""
    for at, span in text.times():
        begins, ends = text.sentence_at(at)
        late = span.quantity.high > TWO_HOURS and WITHIN.search(text.text, begins, at) is not None
        cooled = bool(text.temperatures(begins, ends))  # from 70 °F down to 41 °F within 4 hours more
        if late and not cooled and perishable(subject) and not is_bare(text.sentence(at)):
            return text.spot(span.text, at)
    return None


WITHIN = regex(
    r"\b(?:refrigerat\w+|chill|fridge|in(?:to)? the cold)\b"
    r"(?:(?!\b(?:and|or|then|use|eat|drink|serve|finish|keeps?|best)\b)[^.;,:])*\bwithin (?:about )?$",
    re.IGNORECASE,
)


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
