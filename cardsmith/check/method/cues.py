"""A time without a sign to know it by, a sign without a time to plan by, and neither."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardsmith.check.method.clock import HOUR, MINUTE, TimeInStep, all_times
from cardsmith.check.method.signs import COOLS, Signs, TimedDeed, signs, timed_deed
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.foods.roles import YEASTS
from cardsmith.facts.method.clauses import Clause
from cardsmith.finding import Severity
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.measure.quantity import Bound
from cardsmith.recipe.model import Text
from cardsmith.regex import regex

BRIEF = 5 * MINUTE  # what cooks for no longer is on its way to something else; common practice, no source
SETTING = HOUR  # what sets in the cold takes longer; common practice, no source
# Times that are the point themselves: a rolling boil against a toxin or what is bitter, a marinade, a brine.
ITSELF = regex(
    r"\b(?:boil(?:ing)? (?:hard|rapidly|fast|briskly)|hard boil|rolling boil|sterili[sz]|marinat|brin"
    r"|soak|infus|steep|overnight|process|packet|package)"
    r"|\b(?:throw|pour|tip) (?:the |that |this |its )?(?:cooking |boiling )?(?:water away|away the water)"
)
# Nobody can look inside while it cooks.
CLOSED = regex(r"\b(?:pressure|slow[- ]cooker|multi[- ]?cooker|sous[- ]vide|circulator|rice cooker|canner)\b")
LID = regex(r"\b(?:cover\w*|lid|lidded|foil)\b")
GRAINS = ("role:rice", "key:*rice", "key:*quinoa*", "key:*bulgur*", "key:*couscous*", "key:*millet*")
IN_SHELL = ("role:egg", "key:water", "role:salt")
LIQUOR = ("role:sugar", "key:water", "role:vinegar", "role:salt", "role:spice", "role:acid", "role:alcohol")
CLEAR = 10 * MINUTE  # a syrup boiled for longer thickens or browns: common practice, no source
BLENDING = 30 * MINUTE  # until what is cooked already tastes as one; common practice, no source
SIMMER = words("simmer")[0]
FLAVOURS = (
    "role:spice",
    "role:herb",
    "role:salt",
    "key:water",
    "role:stock",
    "role:condiment",
    "role:vinegar",
)
SETS = ("role:gelatine", "role:agar")
JARS = regex(
    r"\b(?:wash|scald|dry|warm|heat|put|stand|keep|boil|simmer)\b[^.;]*\b(?:jars|bottles|lids)\b",
    re.IGNORECASE,
)
LEFT = regex(r"\b(?:strain\w*|sieve)\b")
OVERNIGHT = regex(r"\b(?:overnight|all (?:day|night))\b")
# Until someone wants it, or until it is merely cold: no sign, and nothing to plan by.
WANTED = regex(
    r"\b(?:until|till) (?:(?:you|you're|it|it's|they|they're|is|are|just|well|very|the) )*"
    r"(?:need\w*|requir\w*|want\w*|ready|serv\w*|us(?:e|ing)|time|cold|cool\w*|chilled|dinner|guests)\b"
)
UNTIMED_CUE = regex(r"\b(?:until|till)\b")
FOLLOWS = regex(r"\s*(?:this|it|they|that|allow|about|expect|reckon|count)\b")
JOINS = regex(r"[ .;,]*(?:\b(?:and|then|or)[ ,]*)*$")
AS_BEFORE = regex(
    r"\b(?:packet|package|direct\w*|instruct\w*|recipe|usual|according|same way|likewise|repeat\w*"
    r"|remaining|rest)\b"
)


BOIL = "boil"


@check(
    "time-without-cue",
    Severity.WARNING,
    why="No two ovens, pans or kitchens agree; without a sign the cook has only the clock to go by.",
    source=PRACTICE,
    remedy="say what to look for as well: “for … minutes, until …”",
)
def time_without_cue(subject: Subject) -> Iterator[Query]:
    """Heat that makes food done, or a dough that rises, for a time and with no sign to know it by.

    A note where the food is only chilled or whipped; nothing where it is on its way to another heat.
    """
    told = signs(subject.recipe, subject.larder)
    for one in all_times(subject.recipe):
        place = told.clause_at(one.step, one.at)
        deed = told.deed(place) if place is not None else None
        if place is None or deed is None or deed.cue is None:
            continue
        if one.moment or one.low <= BRIEF or ITSELF.search(one.sentence.lower()) or told.are_by(place):
            continue
        if _is_of_jars(told, place):
            continue
        severity = _severity(told, place, deed, one)
        if severity is not None:
            yield query(one.span, f"“{one.span.text}”, and no sign of when it is done", severity=severity)


def _severity(told: Signs, place: int, deed: TimedDeed, one: TimeInStep) -> Severity | None:
    """How much a sign is wanted, where none stands by."""
    if deed.sort == "chill":
        if one.low < SETTING or one.span.quantity.bound is Bound.AT_LEAST or _later(told, place):
            return None
        return Severity.WARNING if _sets(told, place) else deed.cue
    if deed.sort == "heat" and (_is_hidden(told, place) or _is_strained(told, place) or _later(told, place)):
        return None
    if deed.sort == "heat" and _is_in_shell(told, place):
        return None
    if deed.sort == "heat" and one.low <= CLEAR and _is_liquor(told, place):
        return Severity.NOTE
    if (
        deed.sort == "heat"
        and one.low <= BLENDING
        and told.clauses[place].verb == SIMMER
        and _is_done(told, place)
    ):
        return Severity.NOTE
    return deed.cue


def _is_of_jars(told: Signs, place: int) -> bool:
    """Whether jars are washed, warmed or boiled, and no food: "boil the jars for 10 minutes"."""
    sentence, step = told.sentence(place), told.clauses[place].step
    within = (one for one in told.clauses if one.step == step and sentence.start <= one.at <= sentence.end)
    foods = (told.dish.foods[one.line].food for clause in within for one in clause.mentions)
    return JARS.search(sentence.text) is not None and all(is_of(food, ("key:water",)) for food in foods)


def _is_in_shell(told: Signs, place: int) -> bool:
    """Whether eggs alone are boiled, and no more: their time is the only sign."""
    lines = {one.line for one in told.clauses[place].mentions}
    eggs = all(is_of(told.dish.foods[line].food, ("role:egg",)) for line in lines)
    return bool(lines) and eggs and told.clauses[place].verb == BOIL


def _sets(told: Signs, place: int) -> bool:
    """Whether gelatine has gone in by then, in the same part."""
    clause = told.clauses[place]
    return any(
        is_of(told.dish.line(one.line).food, SETS)
        for before in told.clauses[: place + 1]
        for one in before.mentions
        if before.part == clause.part
    )


def _is_hidden(told: Signs, place: int) -> bool:
    """Whether no sign can be seen: in a closed vessel, a bag, the shell of an egg, under the lid of rice."""
    clause, foods = told.clauses[place], [told.dish.foods[one].food for one in told.lines(place)]
    step = " ".join(one.text for one in told.clauses[: place + 1] if one.step == clause.step)
    if told.in_bath(place) or CLOSED.search(step):
        return True
    if foods and all(is_of(food, IN_SHELL) for food in foods):
        return True
    return any(is_of(food, GRAINS) for food in foods) and LID.search(step) is not None


def _is_liquor(told: Signs, place: int) -> bool:
    """Whether nothing solid cooks: a syrup or a brine that boils for some minutes looks as it did before."""
    foods = [told.dish.foods[one].food for one in told.lines(place)]
    return bool(foods) and all(is_of(food, LIQUOR) for food in foods)


def _is_done(told: Signs, place: int) -> bool:
    """Whether all that simmers was cooked until a sign before, or bought ready: its flavours blend."""
    mine = told.lines(place)
    cooked = {
        line
        for before in range(place)
        if (deed := timed_deed(told.clauses[before])) and deed.sort == "heat" and told.are_by(before)
        for line in told.lines(before)
    }
    return bool(cooked) and all(
        line in cooked
        or told.dish.foods[line].ready
        or told.dish.line(line).container is not None
        or is_of(told.dish.foods[line].food, FLAVOURS)
        for line in mine
    )


def _is_strained(told: Signs, place: int) -> bool:
    """Whether what cooks is strained off next: a stock shows no sign."""
    return any(one.says(LEFT) for one in told.clauses[place : place + 4])


def _later(told: Signs, place: int) -> bool:
    """Whether most of it goes on to be cooked until a sign, or to a temperature."""
    mine = told.lines(place)
    for number in range(place + 1, len(told.clauses)):
        deed = timed_deed(told.clauses[number])
        if deed is None or deed.sort not in {"heat", "dry"} or not told.are_by(number):
            continue
        lines = told.lines(number)
        if 2 * len(mine & lines) >= max(len(mine), 1) or not (mine and lines):
            return True
    return False


@check(
    "cue-without-time",
    Severity.WARNING,
    why="Without a time nobody can plan the meal, or tell that something has gone wrong.",
    source=PRACTICE,
    remedy="write how long it took as well: “for … minutes, until …”",
)
def cue_without_time(subject: Subject) -> Iterator[Query]:
    """A step that bakes, simmers, sets or raises until something, and does not say about how long."""
    told = signs(subject.recipe, subject.larder)
    timed: set[TimedDeed] = set()
    step = -1
    for place, clause in enumerate(told.clauses):
        if clause.step != step:
            step, timed = clause.step, set()
        deed = timed_deed(clause)
        if deed is None or deed.time is None:
            continue
        sentence = told.sentence(place)
        if sentence.seconds or OVERNIGHT.search(sentence.text.lower()):
            timed.add(deed)
        elif _lacks_time(told, place):
            severity = Severity.NOTE if deed in timed else deed.time
            spot = _spot(subject, clause)
            yield query(spot, f"“{_short(spot.text)}”: about how long does it take?", severity=severity)


def _lacks_time(told: Signs, place: int) -> bool:
    """Whether a clause goes by a sign alone, and neither a figure nor the next sentence says how long."""
    clause, sentence = told.clauses[place], told.sentence(place)
    cue = UNTIMED_CUE.search(clause.text, clause.at - clause.start)
    if cue is None or clause.says(WANTED) or clause.temperatures:
        return False
    step = told.sentence(place).step
    after = step.sentence_after(sentence.start)
    following = FOLLOWS.match(after.lower()) is not None and bool(
        step.surely(sentence.end, sentence.end + len(after) + 2)
    )
    return not following and not step.is_unread(sentence.start, sentence.end)


@check(
    "cooking-untimed",
    Severity.WARNING,
    why="“Bake” says neither when to look nor what for; the cook can only guess.",
    source=PRACTICE,
    remedy="give both: “for … minutes, until …”",
)
def cooking_untimed(subject: Subject) -> Iterator[Query]:
    """A step that bakes, braises, dries, smokes or proves, with no time, sign or temperature anywhere."""
    told = signs(subject.recipe, subject.larder)
    deeds = [told.deed(place) for place in range(len(told.clauses))]
    known = {deed for place, deed in enumerate(deeds) if deed and _tells(told, place)}
    for place, clause in enumerate(told.clauses):
        deed = deeds[place]
        if (
            deed is None
            or deed.either is None
            or deed in known
            or AS_BEFORE.search(told.sentence(place).text.lower())
        ):
            continue
        if any(is_of(told.dish.foods[one.line].food, YEASTS) for one in clause.mentions):
            continue  # "proof the yeast in the milk"
        known.add(deed)  # asked about once
        spot = _spot(subject, clause)
        yield query(spot, f"“{_short(spot.text)}”: for how long, and until when?", severity=deed.either)


def _tells(told: Signs, place: int) -> bool:
    """Whether a clause gives a time or a sign, or its neighbours do, and mean no other deed by it."""
    deed, sentence = told.deed(place), told.sentence(place)
    beside = (one for one in told.beside(place) if not (deed and deed.sort == "heat" and one.says(COOLS)))
    own = [one for one in beside if timed_deed(one) in (None, deed)]
    timed = any(one.seconds or OVERNIGHT.search(one.text) for one in own)
    return timed or sentence.step.is_unread(sentence.start, sentence.end) or told.are_by(place)


def _spot(subject: Subject, clause: Clause) -> Text:
    """The words of a clause in the author's file, less what only joins it to the next."""
    step = subject.steps[clause.step]
    begins = (
        clause.start
        + len(step.text[clause.start : clause.end])
        - len(step.text[clause.start : clause.end].lstrip())
    )
    words = JOINS.sub("", step.text[begins : clause.end])
    return step.spot(words, begins)


def _short(words: str) -> str:
    """The first words of a clause, for evidence."""
    told = words.split()
    return " ".join(told[:9]) + (" …" if len(told) > 9 else "")
