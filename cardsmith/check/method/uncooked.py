"""Food that the steps leave raw: staples that nobody boils, meat that is browned and lifted out for good."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from cardsmith.check.method.signs import Signs, signs
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.foods.roles import ANIMAL
from cardsmith.facts.method.clauses import HEATING, Clause, Deed
from cardsmith.facts.method.dish import UNTOUCHED
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import cell, is_of
from cardsmith.recipe.mentions.mentions import Mention
from cardsmith.reference import table
from cardsmith.regex import regex


@frozen
class Staple:
    """Foods that nobody eats as they come."""

    name: str
    foods: tuple[str, ...]
    unless: Phrases | None


@cache
def staples() -> tuple[Staple, ...]:
    """Every staple that has to be cooked."""
    return tuple(
        Staple(name=row["name"], foods=cell(row["foods"]), unless=phrases(row["unless"]))
        for row in table("cooked_staples")
    )


COOKED = regex(
    r"\b(?:(?:pre-?)?cooked|boiled|parboiled|baked|roasted|steamed|leftover|left-over|tinned|canned|instant|mashed"
    r"|puffed|popped|inflated|crisped|ready|microwave\w*)\b"
)
HOT = regex(r"\b(?:boil\w*|simmer\w*|hot|kettle|packet|package|direct\w*|steam\w*|cook\w*)\b")


@check(
    "staple-not-cooked",
    Severity.ERROR,
    why="Pasta, potatoes, grain and dried pulses that no step cooks arrive on the plate raw.",
    source="cooked_staples.csv, a source for each row",
    remedy="say in a step how it is cooked, for how long, and until when",
)
def staple_not_cooked(subject: Subject) -> Iterator[Query]:
    """Pasta, potatoes, grain or pulses that the steps use and never cook."""
    told = signs(subject.recipe, subject.larder)
    for line, one in enumerate(told.dish.foods):
        staple = next((staple for staple in staples() if is_of(one.food, staple.foods)), None)
        written = subject.recipe.ingredients[line]
        if staple is None or written.for_use or COOKED.search(written.text.lower()):
            continue
        used = subject.mentions.steps_of(line)
        if staple.name == "potatoes" and used and _is_mashed_raw(told, line):
            yield query(written, f"the {written.item} are mashed before any step cooks them")
            continue
        soaked = any(SOAKED.search(text) for text in (written.text, *(step.text for step in subject.steps)))
        ground = any(GROUND.search(step.text) for step in subject.steps)
        if staple.name == "dried beans" and ground and not soaked:
            yield query(written, f"no step soaks the {written.item}, and they are ground and fried")
            continue
        if staple.unless and any(staple.unless.search(step.text) for step in subject.steps):
            continue
        if not used or told.dish.heat(line) not in UNTOUCHED or told.dish.is_heard_cooking(line):
            continue
        if not any(HOT.search(clause.text) for clause in told.clauses if clause.speaks_of(line)):
            yield query(written, f"no step cooks the {written.item}")


GROUND = regex(r"\bfalafel\w*\b", re.IGNORECASE)  # of soaked pulses, raw
SOAKED = regex(r"\b(?:soak\w*|overnight|steep\w*|canned|tinned|cooked)\b", re.IGNORECASE)
MASHES = regex(r"\b(?:ricer|mash\w*|pur[eé]e\w*)\b")


def _is_mashed_raw(told: Signs, line: int) -> bool:
    """Whether the first thing that happens to a line is that it is mashed or pressed through a ricer."""
    mashed = next(
        (one for one in told.clauses if MASHES.search(one.text) and line in _in_hand(told, one)), None
    )
    events = told.dish.history(line).events
    first = min(((one.step, one.start) for one in events), default=None)
    return mashed is not None and (first is None or (mashed.step, mashed.start) < first)


def _in_hand(told: Signs, clause: Clause) -> frozenset[int]:
    """The lines that a clause names, or the sentence of its step before it."""
    before = (one for one in told.clauses if one.step == clause.step and one.start <= clause.start)
    return frozenset(mention.line for one in before for mention in one.mentions)


@check(
    "browned-never-returned",
    Severity.ERROR,
    why="Meat that is only browned is raw inside; lifted out and forgotten, it never cooks through.",
    source="the recipe's own order",
    remedy="say in a later step that it goes back: return the meat and its juices to the pan",
)
def browned_never_returned(subject: Subject) -> Iterator[Query]:
    """Meat that is browned and lifted out, while the cooking goes on without it to the end."""
    told = signs(subject.recipe, subject.larder)
    for line, one in enumerate(told.dish.foods):
        if one.ready or not is_of(one.food, ANIMAL):
            continue
        lifted = _lifted(told, line)
        if lifted is None or _comes_back(told, line, lifted):
            continue
        clause = told.clauses[lifted]
        item = subject.recipe.ingredients[line].item
        told_so = f"step {clause.step + 1} lifts out the {item}, only browned, and no later step puts it back"
        yield query(subject.steps[clause.step], told_so)


GOES_ON = regex(r"\b(?:until|till|while)\b")
LIFTS = frozenset(words("lift remove transfer take set scoop put place move tip turn"))
LIFTING = regex(
    r"\b(?:transferring|removing|lifting|moving|setting|putting)\b.*\b(?:plate|bowl|dish|tray|aside)\b"
)
AWAY = regex(r"\b(?:plates?|bowls?|dish|platter|board|aside|out|tray|rack|paper|tin)\b")
BROWNED = regex(r"\b(?:brown\w*|sear\w*|seal\w*|colou?r\w*|golden|gold)\b")
THROUGH = regex(r"\b(?:through|cooked|done|opaque|pink|juices|tender|rare|inside|middle|cent(?:re|er))\b")
BACK = regex(
    r"\b(?:return\w*|back|again|everything|together|juices|pieces|joints|meat|bird|all (?:of|the))\b"
)
PUTS = frozenset(words("nestle add put lay place set slide tuck bury arrange submerge lower slip sit serve"))
PRONOUNS = regex(r"\b(?:it|them|these|both)\b")


def _lifted(told: Signs, line: int) -> int | None:
    """The place of the clause that takes a line out of the pan after browning it alone."""
    place = next((place for place, one in enumerate(told.clauses) if one.speaks_of(line)), None)
    if place is None:
        return None
    browned = False
    for number in range(place, len(told.clauses)):
        clause = told.clauses[number]
        mine = line in told.lines(number)
        if mine and (clause.deed in HEATING or clause.says(BROWNED)):
            if clause.says(THROUGH) or clause.temperatures or clause.deed is Deed.BOIL:
                return None
            browned = browned or clause.says(BROWNED)
            if browned and clause.says(LIFTING):
                return number
        elif browned and clause.verb in LIFTS and clause.says(AWAY):
            others = {one.line for one in clause.mentions} - {line}
            if not others and not clause.says(SERVES):
                return number
    return None


SERVES = regex(r"\b(?:serv\w+|warm(?:ed)? (?:plates?|dish|platter))\b")


def _comes_back(told: Signs, line: int, lifted: int) -> bool:
    """Whether a later clause speaks of it, takes up all, or puts "it" somewhere; or no cooking follows."""
    after = told.clauses[lifted + 1 :]
    if not any(one.deed in (Deed.COOK, Deed.BOIL) and (one.seconds or one.says(GOES_ON)) for one in after):
        return True
    return any(
        any(named.line == line and not _is_bone(one, named) for named in one.mentions)
        or one.says(BACK)
        or (one.verb in PUTS and one.says(PRONOUNS))
        for one in after
    )


def _is_bone(clause: Clause, named: Mention) -> bool:
    """Whether a clause speaks of it only to say where a thermometer stands: "away from the bone"."""
    return clause.text[named.start - clause.start : named.end - clause.start] in {"bone", "bones"}
