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
    recipe_signs = signs(subject.recipe, subject.larder)
    for line, identity in enumerate(recipe_signs.dish.foods):
        staple = next((staple for staple in staples() if is_of(identity.food, staple.foods)), None)
        written = subject.recipe.ingredients[line]
        if staple is None or written.for_use or COOKED.search(written.text.lower()):
            continue
        used = subject.mentions.steps_of(line)
        if staple.name == "potatoes" and used and _is_mashed_raw(recipe_signs, line):
            yield query(written, f"the {written.item} are mashed before any step cooks them")
            continue
        soaked = any(SOAKED.search(text) for text in (written.text, *(step.text for step in subject.steps)))
        ground = any(GROUND.search(step.text) for step in subject.steps)
        if staple.name == "dried beans" and ground and not soaked:
            yield query(written, f"no step soaks the {written.item}, and they are ground and fried")
            continue
        if staple.unless and any(staple.unless.search(step.text) for step in subject.steps):
            continue
        if (
            not used
            or recipe_signs.dish.heat(line) not in UNTOUCHED
            or recipe_signs.dish.is_heard_cooking(line)
        ):
            continue
        if not any(HOT.search(clause.text) for clause in recipe_signs.clauses if clause.speaks_of(line)):
            yield query(written, f"no step cooks the {written.item}")


GROUND = regex(r"\bfalafel\w*\b", re.IGNORECASE)  # of soaked pulses, raw
SOAKED = regex(r"\b(?:soak\w*|overnight|steep\w*|canned|tinned|cooked)\b", re.IGNORECASE)
MASHES = regex(r"\b(?:ricer|mash\w*|pur[eé]e\w*)\b")


def _is_mashed_raw(recipe_signs: Signs, line: int) -> bool:
    """Whether the first thing that happens to a line is that it is mashed or pressed through a ricer."""
    mashed = next(
        (
            clause
            for clause in recipe_signs.clauses
            if MASHES.search(clause.text) and line in _in_hand(recipe_signs, clause)
        ),
        None,
    )
    events = recipe_signs.dish.history(line).events
    first = min(((event.step, event.start) for event in events), default=None)
    return mashed is not None and (first is None or (mashed.step, mashed.start) < first)


def _in_hand(recipe_signs: Signs, clause: Clause) -> frozenset[int]:
    """The lines that a clause names, or the sentence of its step before it."""
    before = (
        other for other in recipe_signs.clauses if other.step == clause.step and other.start <= clause.start
    )
    return frozenset(mention.line for other in before for mention in other.mentions)


@check(
    "browned-never-returned",
    Severity.ERROR,
    why="Meat that is only browned is raw inside; lifted out and forgotten, it never cooks through.",
    source="the recipe's own order",
    remedy="say in a later step that it goes back: return the meat and its juices to the pan",
)
def browned_never_returned(subject: Subject) -> Iterator[Query]:
    """Meat that is browned and lifted out, while the cooking goes on without it to the end."""
    recipe_signs = signs(subject.recipe, subject.larder)
    for line, identity in enumerate(recipe_signs.dish.foods):
        if identity.ready or not is_of(identity.food, ANIMAL):
            continue
        lifted = _lifted(recipe_signs, line)
        if lifted is None or _comes_back(recipe_signs, line, lifted):
            continue
        clause = recipe_signs.clauses[lifted]
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


def _lifted(recipe_signs: Signs, line: int) -> int | None:
    """The place of the clause that takes a line out of the pan after browning it alone."""
    place = next((place for place, other in enumerate(recipe_signs.clauses) if other.speaks_of(line)), None)
    if place is None:
        return None
    browned = False
    for number in range(place, len(recipe_signs.clauses)):
        clause = recipe_signs.clauses[number]
        mine = line in recipe_signs.lines(number)
        if mine and (clause.deed in HEATING or clause.says(BROWNED)):
            if clause.says(THROUGH) or clause.temperatures or clause.deed is Deed.BOIL:
                return None
            browned = browned or clause.says(BROWNED)
            if browned and clause.says(LIFTING):
                return number
        elif browned and clause.verb in LIFTS and clause.says(AWAY):
            others = {mention.line for mention in clause.mentions} - {line}
            if not others and not clause.says(SERVES):
                return number
    return None


SERVES = regex(r"\b(?:serv\w+|warm(?:ed)? (?:plates?|dish|platter))\b")


def _comes_back(recipe_signs: Signs, line: int, lifted: int) -> bool:
    """Whether a later clause speaks of it, takes up all, or puts "it" somewhere; or no cooking follows."""
    after = recipe_signs.clauses[lifted + 1 :]
    if not any(
        clause.deed in (Deed.COOK, Deed.BOIL) and (clause.seconds or clause.says(GOES_ON)) for clause in after
    ):
        return True
    return any(
        any(named.line == line and not _is_bone(clause, named) for named in clause.mentions)
        or clause.says(BACK)
        or (clause.verb in PUTS and clause.says(PRONOUNS))
        for clause in after
    )


def _is_bone(clause: Clause, named: Mention) -> bool:
    """Whether a clause speaks of it only to say where a thermometer stands: "away from the bone"."""
    return clause.text[named.start - clause.start : named.end - clause.start] in {"bone", "bones"}
