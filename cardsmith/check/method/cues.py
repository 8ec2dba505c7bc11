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
IN_CASE = regex(r"\s*(?:If|Should)\b")
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
    recipe_signs = signs(subject.recipe, subject.larder)
    for time in all_times(subject.recipe):
        place = recipe_signs.clause_at(time.step, time.at)
        deed = recipe_signs.deed(place) if place is not None else None
        if place is None or deed is None or deed.cue is None:
            continue
        if (
            time.moment
            or time.low <= BRIEF
            or ITSELF.search(time.sentence.lower())
            or recipe_signs.are_by(place)
        ):
            continue
        if _is_of_jars(recipe_signs, place):
            continue
        severity = _severity(recipe_signs, place, deed, time)
        if severity is not None:
            yield query(time.span, f"“{time.span.text}”, and no sign of when it is done", severity=severity)


def _severity(recipe_signs: Signs, place: int, deed: TimedDeed, time: TimeInStep) -> Severity | None:
    """How much a sign is wanted, where none stands by."""
    if deed.sort == "chill":
        if time.low < SETTING or time.span.quantity.bound is Bound.AT_LEAST or _later(recipe_signs, place):
            return None
        return Severity.WARNING if _sets(recipe_signs, place) else deed.cue
    if deed.sort == "heat" and (
        _is_hidden(recipe_signs, place) or _is_strained(recipe_signs, place) or _later(recipe_signs, place)
    ):
        return None
    if deed.sort == "heat" and _is_in_shell(recipe_signs, place):
        return None
    if deed.sort == "heat" and time.low <= CLEAR and _is_liquor(recipe_signs, place):
        return Severity.NOTE
    if (
        deed.sort == "heat"
        and time.low <= BLENDING
        and recipe_signs.clauses[place].verb == SIMMER
        and _is_done(recipe_signs, place)
    ):
        return Severity.NOTE
    return deed.cue


def _is_of_jars(recipe_signs: Signs, place: int) -> bool:
    """Whether jars are washed, warmed or boiled, and no food: "boil the jars for 10 minutes"."""
    sentence, step = recipe_signs.sentence(place), recipe_signs.clauses[place].step
    within = (
        clause
        for clause in recipe_signs.clauses
        if clause.step == step and sentence.start <= clause.at <= sentence.end
    )
    foods = (recipe_signs.dish.foods[mention.line].food for clause in within for mention in clause.mentions)
    return JARS.search(sentence.text) is not None and all(is_of(food, ("key:water",)) for food in foods)


def _is_in_shell(recipe_signs: Signs, place: int) -> bool:
    """Whether eggs alone are boiled, and no more: their time is the only sign."""
    lines = {mention.line for mention in recipe_signs.clauses[place].mentions}
    eggs = all(is_of(recipe_signs.dish.foods[line].food, ("role:egg",)) for line in lines)
    return bool(lines) and eggs and recipe_signs.clauses[place].verb == BOIL


def _sets(recipe_signs: Signs, place: int) -> bool:
    """Whether gelatine has gone in by then, in the same part."""
    clause = recipe_signs.clauses[place]
    return any(
        is_of(recipe_signs.dish.line(mention.line).food, SETS)
        for before in recipe_signs.clauses[: place + 1]
        for mention in before.mentions
        if before.part == clause.part
    )


def _is_hidden(recipe_signs: Signs, place: int) -> bool:
    """Whether no sign can be seen: in a closed vessel, a bag, the shell of an egg, under the lid of rice."""
    clause, foods = (
        recipe_signs.clauses[place],
        [recipe_signs.dish.foods[line].food for line in recipe_signs.lines(place)],
    )
    step = " ".join(
        earlier.text for earlier in recipe_signs.clauses[: place + 1] if earlier.step == clause.step
    )
    if recipe_signs.in_bath(place) or CLOSED.search(step):
        return True
    if foods and all(is_of(food, IN_SHELL) for food in foods):
        return True
    return any(is_of(food, GRAINS) for food in foods) and LID.search(step) is not None


def _is_liquor(recipe_signs: Signs, place: int) -> bool:
    """Whether nothing solid cooks: a syrup or a brine that boils for some minutes looks as it did before."""
    foods = [recipe_signs.dish.foods[line].food for line in recipe_signs.lines(place)]
    return bool(foods) and all(is_of(food, LIQUOR) for food in foods)


def _is_done(recipe_signs: Signs, place: int) -> bool:
    """Whether all that simmers was cooked until a sign before, or bought ready: its flavours blend."""
    mine = recipe_signs.lines(place)
    cooked = {
        line
        for before in range(place)
        if (deed := timed_deed(recipe_signs.clauses[before]))
        and deed.sort == "heat"
        and recipe_signs.are_by(before)
        for line in recipe_signs.lines(before)
    }
    return bool(cooked) and all(
        line in cooked
        or recipe_signs.dish.foods[line].ready
        or recipe_signs.dish.line(line).container is not None
        or is_of(recipe_signs.dish.foods[line].food, FLAVOURS)
        for line in mine
    )


def _is_strained(recipe_signs: Signs, place: int) -> bool:
    """Whether what cooks is strained off next: a stock shows no sign."""
    return any(clause.says(LEFT) for clause in recipe_signs.clauses[place : place + 4])


def _later(recipe_signs: Signs, place: int) -> bool:
    """Whether most of it goes on to be cooked until a sign, or to a temperature."""
    mine = recipe_signs.lines(place)
    for number in range(place + 1, len(recipe_signs.clauses)):
        deed = timed_deed(recipe_signs.clauses[number])
        if deed is None or deed.sort not in {"heat", "dry"} or not recipe_signs.are_by(number):
            continue
        lines = recipe_signs.lines(number)
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
    recipe_signs = signs(subject.recipe, subject.larder)
    timed: set[TimedDeed] = set()
    step = -1
    for place, clause in enumerate(recipe_signs.clauses):
        if clause.step != step:
            step, timed = clause.step, set()
        deed = timed_deed(clause)
        if deed is None or deed.time is None:
            continue
        sentence = recipe_signs.sentence(place)
        if sentence.seconds or OVERNIGHT.search(sentence.text.lower()):
            timed.add(deed)
        elif _lacks_time(recipe_signs, place):
            severity = Severity.NOTE if deed in timed else deed.time
            spot = _spot(subject, clause)
            yield query(spot, f"“{_short(spot.text)}”: about how long does it take?", severity=severity)


def _lacks_time(recipe_signs: Signs, place: int) -> bool:
    """Whether a clause goes by a sign alone, and neither a figure nor the next sentence says how long."""
    clause, sentence = recipe_signs.clauses[place], recipe_signs.sentence(place)
    if IN_CASE.match(sentence.text):
        return False  # "if the peas are not falling apart, simmer until they do"
    cue = UNTIMED_CUE.search(clause.text, clause.at - clause.start)
    if cue is None or clause.says(WANTED) or clause.temperatures:
        return False
    step = recipe_signs.sentence(place).step
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
    recipe_signs = signs(subject.recipe, subject.larder)
    deeds = [recipe_signs.deed(place) for place in range(len(recipe_signs.clauses))]
    known = {deed for place, deed in enumerate(deeds) if deed and _tells(recipe_signs, place)}
    for place, clause in enumerate(recipe_signs.clauses):
        deed = deeds[place]
        if (
            deed is None
            or deed.either is None
            or deed in known
            or AS_BEFORE.search(recipe_signs.sentence(place).text.lower())
        ):
            continue
        if any(is_of(recipe_signs.dish.foods[mention.line].food, YEASTS) for mention in clause.mentions):
            continue  # "proof the yeast in the milk"
        known.add(deed)  # asked about once
        spot = _spot(subject, clause)
        yield query(spot, f"“{_short(spot.text)}”: for how long, and until when?", severity=deed.either)


def _tells(recipe_signs: Signs, place: int) -> bool:
    """Whether a clause gives a time or a sign, or its neighbours do, and mean no other deed by it."""
    deed, sentence = recipe_signs.deed(place), recipe_signs.sentence(place)
    beside = (
        clause
        for clause in recipe_signs.beside(place)
        if not (deed and deed.sort == "heat" and clause.says(COOLS))
    )
    own = [clause for clause in beside if timed_deed(clause) in (None, deed)]
    timed = any(clause.seconds or OVERNIGHT.search(clause.text) for clause in own)
    return timed or sentence.step.is_unread(sentence.start, sentence.end) or recipe_signs.are_by(place)


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
    own_words = words.split()
    return " ".join(own_words[:9]) + (" …" if len(own_words) > 9 else "")
