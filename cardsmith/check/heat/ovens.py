"""The oven through the method: heated in time, to a setting, on which rack, and changed in so many words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.sentences import Sentence, sentences
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import Purpose
from cardsmith.last_result import remembered
from cardsmith.measure.units import System
from cardsmith.recipe.model import Recipe
from cardsmith.regex import regex

LONG = Fraction(3600)  # an hour; common practice, no source

# Words of the oven, common practice, no source.
HEATING = regex(
    r"\b(?:pre-?heat|heat(?! (?:it|them) through)|warm|turn on|turn|switch on|set|lower|raise"
    r"|reduce|increase|drop"
    r"|crank|bring|have|adjust)\b[^.;]{0,60}?(?<!dutch )\boven\b|\bcold oven\b|\boven (?:as|while) it heats",
    re.IGNORECASE,
)
SET = regex(r"\boven (?:is )?(?:to|at) $", re.IGNORECASE)  # before its setting
CHANGING = regex(
    r"\b(?:lower|raise|reduce|increase|drop|turn(?! (?:out|it|them|once|over))|bring|decrease|up to|down to"
    r"|adjust|then (?:for .{1,30} )?at|then [^.;]{1,30} (?:more|longer) at"
    r"|(?:finish|continue|carry on)\w* (?:\w+ ){0,3}at)\b",
    re.IGNORECASE,
)
NO_OVEN = regex(
    r"\b(?:dutch|microwave|pizza|toaster|wood-?fired|turned-off|off|cooling|unlit|cold) oven"
    r"|oven (?:light|off|door"
    r"|glove|mitt)|turn(?:ed)? off the oven|oven is off",
    re.IGNORECASE,
)
BAKING = regex(
    r"(?:^|[,;:–—]\s*|\b(?:and|then|or|to|immediately|loosely|lid"
    r"|foil)\s+(?:then\s+)?(?:\w+ly\s+)?)(?P<verb>bake|roast)\b"
    r"|\b(?:in|into|to) (?:the|a|an|your) (?:(?:hot|low|slow|warm|moderate|preheated|heated"
    r"|very)[ ,]+){0,3}oven\b"
    r"|\bbraise in the oven\b",
    re.IGNORECASE,
)
ELSEWHERE = regex(
    r"\b(?:skillet|frying pan|saucepan|griddle|grill|barbecue|coals|over (?:\w+[ -])?(?:low"
    r"|medium|high) (?:heat|flame)|microwave|wok|, stirring(?! (?:once|twice|half|every|now|at)\w*)"
    r"|waffle|air fryer|slow cooker)\b",
    re.IGNORECASE,
)
HEATS = regex(r"\b(?:pre-?heat|heat|warm|bring|get)\b", re.IGNORECASE)
OF_HEAT = regex(r"\bin(?:to)? an? [^,.;]*\boven\b")
HEATED = regex(r"\b(?:pre-?)?heated\b", re.IGNORECASE)  # "roast in an oven heated to 220 °C"
NOT_YET = regex(r"\b(?:before|until|ready|time|when|want|not|never|day)\b[^,]*$", re.IGNORECASE)
WAITING = regex(
    r"\b(?:rest|chill|refrigerat\w*|freez\w*|rise|rising|proof|prove|ferment|leave|stand|soak"
    r"|marinat\w*|cool|cure|drip"
    r"|hang|overnight|set aside|infuse|steep)\b",
    re.IGNORECASE,
)
TIMED = regex(r"\b(?:before|after|to go|last)\b", re.IGNORECASE)
UNMEASURED = regex(
    r"\b(?:lowest|hottest|highest|maximum|as (?:hot|high|low) as|broiler|grill|warm"
    r"|low|slow|moderate|very hot)\b",
    re.IGNORECASE,
)
RACK = regex(
    r"\b(?:racks?|shel(?:f|ves)|thirds?|middle|lower|upper|lowest|bottom|floor) (?:\w+ ){0,4}|\bracks?\b",
    re.IGNORECASE,
)


@frozen
class OvenEvent:
    """The oven is heated or used."""

    sentence: Sentence
    start: int
    end: int
    heats: bool


@remembered  # several checks ask about the same recipe in turn
def events(recipe: Recipe) -> tuple[OvenEvent, ...]:
    """What happens to the oven, in the order of the method."""
    oven_events: list[OvenEvent] = []
    for sentence in sentences(recipe):
        heating = _heating(sentence)
        if heating and not re.search(r"turn(?:ed)? off", sentence.text, re.IGNORECASE):
            oven_events.append(OvenEvent(sentence=sentence, start=heating[0], end=heating[1], heats=True))
            continue  # "set the pot in the oven and heat the oven"
        for match in BAKING.finditer(sentence.text):
            start = match.start("verb") if match["verb"] else match.start()
            away = ELSEWHERE.search(sentence.text) and not re.search(
                r"\boven\b", sentence.text, re.IGNORECASE
            )
            if not (NOT_YET.search(sentence.text[:start]) or NO_OVEN.search(sentence.text) or away):
                oven_events.append(OvenEvent(sentence=sentence, start=start, end=match.end(), heats=False))
                break
    return tuple(oven_events)


def _heating(sentence: Sentence) -> tuple[int, int] | None:
    """Where a sentence heats the oven: it says so, or gives a setting and puts nothing in to bake yet."""
    match = HEATING.search(sentence.text)
    if match is not None:
        return match.span()
    for at, span in sentence.measures:
        before = SET.search(sentence.text, 0, at)
        if before is not None:
            return before.span()
        baking = BAKING.search(sentence.text, 0, at)  # "put the pot in the oven and heat to 250 °C"
        unused = baking is None or HEATS.search(sentence.text, baking.end(), at)
        if span.purpose is Purpose.OVEN and unused and not BAKING.search(sentence.text, at):
            return at, at + len(span.text)
    return None


def _setting(recipe: Recipe) -> bool:
    """Whether any step gives an oven setting."""
    return any(
        measured.purpose is Purpose.OVEN
        for sentence in sentences(recipe)
        for _, measured in sentence.measures
    )


@check(
    "oven-not-heated",
    Severity.ERROR,
    why="What goes into a cold oven spreads or sinks before it sets, and no time on the card is right.",
    source=PRACTICE,
    remedy="heat it in an earlier step, to the setting you baked at",
)
def oven_not_heated(subject: Subject) -> Iterator[Query]:
    """Baking with no earlier step that heats the oven; a warning where the baking step gives the setting."""
    oven_events = events(subject.recipe)
    used = next((event for event in oven_events if not event.heats), None)
    if used is None or any(event.heats for event in oven_events[: oven_events.index(used)]):
        return
    late = next((event for event in oven_events if event.heats), None)
    setting = used.sentence.oven
    if setting and (HEATED.search(used.sentence.text) or OF_HEAT.search(used.sentence.text)):
        return  # "in an oven heated to 220 °C", "in a 220 °C oven"
    what = f"step {used.sentence.number} needs a hot oven, and no step before heats it"
    if late is not None:
        what += f"; step {late.sentence.number} does, too late"
    instead = f"write in an earlier step: Heat the oven to {setting.text}" if setting else ""
    yield query(
        used.sentence.spot(used.start, used.end), what, instead, Severity.WARNING if setting else None
    )


@check(
    "oven-temperature-missing",
    Severity.ERROR,
    why="Nobody can guess the setting, and a guess burns or dries the dish.",
    source=PRACTICE,
    remedy="write the setting you baked at: Heat the oven to … °C",
    acceptable=False,
)
def oven_temperature_missing(subject: Subject) -> Iterator[Query]:
    """The oven is heated and no step says how hot."""
    heated = next((event for event in events(subject.recipe) if event.heats), None)
    if heated is None or _setting(subject.recipe):
        return
    sentence = heated.sentence
    if (
        not sentence.measures
        and not UNMEASURED.search(sentence.text)
        and not re.search(r"cold oven", sentence.text)
    ):
        yield query(
            sentence.spot(heated.start, heated.end), f"step {sentence.number} heats the oven; to what?"
        )


@check(
    "oven-heated-too-early",
    Severity.WARNING,
    why="An oven that stands hot for hours wastes power and warms what should stay cool.",
    source="an hour between heating and baking: " + PRACTICE,
    remedy="heat the oven in the step before it is used",
)
def oven_heated_too_early(subject: Subject) -> Iterator[Query]:
    """The oven is heated, and an hour or more of resting, chilling or rising comes before it is used."""
    oven_events, every = events(subject.recipe), subject.sentences
    for heated, used in pairwise(oven_events):
        if not heated.heats or used.heats or TIMED.search(heated.sentence.text):
            continue
        between = every[every.index(heated.sentence) + 1 : every.index(used.sentence)]
        waiting = [sentence for sentence in between if WAITING.search(sentence.text)]
        seconds = sum((sentence.seconds for sentence in waiting), Fraction(0))
        overnight = any(re.search(r"\bovernight\b", sentence.text, re.IGNORECASE) for sentence in waiting)
        if seconds >= LONG or overnight:
            span = "a night" if overnight else f"{number(seconds / 3600, 2)} h"
            yield query(
                heated.sentence.spot(heated.start, heated.end),
                f"the oven is heated in step {heated.sentence.number} "
                f"and used in step {used.sentence.number}, "
                f"after {span} of waiting (step {waiting[0].number})",
            )


@check(
    "oven-heated-too-late",
    Severity.WARNING,
    why="A topped pizza sticks to its peel, and a batter with soda loses its gas, while the oven heats.",
    source=PRACTICE,
    remedy="heat the oven in the step before",
)
def oven_heated_too_late(subject: Subject) -> Iterator[Query]:
    """The oven is heated only once a dough is topped, or a batter with a raising agent is in its pan."""
    oven_events, every = events(subject.recipe), subject.sentences
    for heated, used in pairwise(oven_events[:2]):
        at = every.index(heated.sentence)
        ready = next((place for place in range(at) if TOPPED.search(every[place].text)), None)
        if not heated.heats or used.heats or ready is None:
            continue
        until = every[ready : every.index(used.sentence) + 1]
        if not any(MEANTIME.search(sentence.text) for sentence in until):
            what = f"step {every[ready].number} has it ready to bake, and the oven is heated only after"
            yield query(heated.sentence.spot(heated.start, heated.end), what)


# Ready to bake, and no time left to wait.
TOPPED = regex(
    r"\b(?:scrape|pour|spoon|turn|divide) (?:the |it |all )?(?:\w+ )?(?:batter|mixture)"
    r" (?:into|in|among|between|over)\b"
    r"|\b(?:stretch|roll|slide)\b[^.;]{0,60}\bpeel\b|\bpeel\b[^.;]{0,20}\b(?:stretch|roll|top|lay|spread)\b"
    r"|\bfold in\b[^.;]{0,40}\b(?:egg )?whites\b",
    re.IGNORECASE,
)
MEANTIME = regex(
    r"\b(?:rest|chill\w*|refrigerat\w*|freez\w*|rise|rising|proof|prove|leave|stand|soak\w*|cool\w*|overnight"
    r"|meanwhile|while)\b",
    re.IGNORECASE,
)


@check(
    "oven-change-unsaid",
    Severity.WARNING,
    why="A second setting that no step turns the dial to leaves the cook to choose between two.",
    source=PRACTICE,
    remedy="say the change: Lower the oven to 160 °C, or give one setting",
)
def oven_change_unsaid(subject: Subject) -> Iterator[Query]:
    """The dish bakes at another setting than the oven was heated to, and no step changes it."""
    last: OvenEvent | None = None
    for event in events(subject.recipe):
        setting = event.sentence.oven
        if event.heats:
            last = event if setting else last
            continue
        if last is None or setting is None or setting.adjective or CHANGING.search(event.sentence.text):
            continue
        first = last.sentence.oven
        scales = {either.quantity.unit.system for either in (first, setting) if either is not None}
        if (
            first is not None
            and System.UNKNOWN not in scales
            and abs(first.quantity.low - setting.quantity.low) > 5
        ):
            yield query(
                setting,
                f"step {last.sentence.number} heats the oven to {first.text}, and "
                f"step {event.sentence.number} bakes at {setting.text}",
            )


@check(
    "rack-unsaid",
    Severity.NOTE,
    why="Top and bottom of an oven differ; a pie wants the floor, a meringue the middle.",
    source=PRACTICE,
    remedy="write: with a rack in the middle, or in the lower third",
)
def rack_unsaid(subject: Subject) -> Iterator[Query]:
    """The oven is heated, and no step says where in it the dish stands."""
    heated = next((event for event in events(subject.recipe) if event.heats), None)
    if heated is None or re.search(r"\bpot\b", heated.sentence.text):
        return
    if not any(RACK.search(sentence.text) and "ool" not in sentence.text for sentence in subject.sentences):
        yield query(heated.sentence.spot(heated.start, heated.end), "on which rack of the oven?")


@check(
    "fan-setting-off",
    Severity.WARNING,
    why="A fan dries and browns faster; at the same figure the outside is done before the middle.",
    source="oven_dials.csv: with the fan 20 °C less; 10 to 30 °C occur in print: " + PRACTICE,
    remedy="leave the second figure out, or give the setting you baked at with the fan",
)
def fan_setting_off(subject: Subject) -> Iterator[Query]:
    """A fan setting that is not some 20 °C lower than the setting beside it."""
    for sentence in subject.sentences:
        for _, span in sentence.measures:
            every = (span.quantity, *span.stated)
            still = [figure for figure in every if not figure.fan]
            for fan in (figure for figure in every if figure.fan):
                less = still[0].low - fan.low if still and span.purpose is Purpose.OVEN else Fraction(20)
                if not 10 <= less <= 30:
                    yield query(
                        span,
                        f"“{fan.written}” beside {still[0].written}: a fan oven is set some 20 °C lower",
                        severity=Severity.ERROR if less < 0 else None,
                    )
