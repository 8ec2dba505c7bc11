"""What a finished card has and this recipe does not."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.check.fields import fields
from cardsmith.check.formula.likely import likely_kind
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.recipe.model import Text
from cardsmith.regex import regex


@check(
    "no-yield",
    Severity.WARNING,
    why="Without a yield nobody can shop, scale or tell whether the batch came out.",
    source=PRACTICE,
    remedy="write what it makes and how many it serves, as in yield: {makes: 60 crackers, serves: 10}",
)
def no_yield(subject: Subject) -> Iterator[Query]:
    """Neither how many it makes nor how many it serves."""
    yields = subject.recipe.yields
    if yields is None or not (yields.makes or yields.serves):
        yield query(yields.where if yields else subject.recipe.where, "how much does it make?")


@check(
    "no-time",
    Severity.NOTE,
    why="A cook decides by the clock; chilling and rising left out of sight spoil a dinner.",
    source=PRACTICE,
    remedy="write the hands-on and the total time, as in time: {active: 35 min, total: 1 h 40 min}",
)
def no_time(subject: Subject) -> Iterator[Query]:
    """No hands-on time, or no total time."""
    time = subject.recipe.time
    missing = "how long does it take?"
    if time is None:
        yield query(subject.recipe.where, missing)
    elif time.total is None or time.active is None:
        yield query(time.where, f"{'total' if time.total is None else 'active'} time is missing")


@check(
    "no-kind",
    Severity.NOTE,
    why="The kind chooses which proportions are checked.",
    source=PRACTICE,
    remedy="write kind: with a kind of `cardsmith explain kinds`, such as kind: cracker",
)
def no_kind(subject: Subject) -> Iterator[Query]:
    """No kind, so that no proportion can be checked."""
    if subject.recipe.kind is None or not subject.recipe.kind.text.strip():
        what = "no kind is given, so no proportion is checked but for slips"
        likely = likely_kind(subject)
        yield query(subject.recipe.where, what, f"kind: {likely}" if likely else "")


@check(
    "no-headnote",
    Severity.NOTE,
    why="The headnote says why to cook this, and what to expect.",
    source=PRACTICE,
    remedy="write 40 to 90 words of headnote: why to cook it, and what to expect",
)
def no_headnote(subject: Subject) -> Iterator[Query]:
    """No words before the list."""
    if not subject.recipe.headnote.strip():
        yield query(subject.recipe.where, "there is no headnote")


@check(
    "no-storage",
    Severity.NOTE,
    why="What is left over is kept by guess unless the card says how and how long.",
    source=PRACTICE,
    remedy="write storage: where it keeps, and how long",
)
def no_storage(subject: Subject) -> Iterator[Query]:
    """No word on keeping."""
    if not subject.recipe.storage.strip():
        yield query(subject.recipe.where, "there is no word on how it keeps")


_PLACEHOLDER = regex(r"‹[^›]+›")


@check(
    "placeholder-left",
    Severity.ERROR,
    why="Words that only hold a place would be printed as if they were meant.",
    source=PRACTICE,
    remedy="write your own words in place of those in ‹ ›, or take them out",
)
def placeholder_left(subject: Subject) -> Iterator[Query]:
    """Words of a starter that its author was to replace."""
    recipe = subject.recipe
    texts = [field for field in fields(recipe) if field.name != "ingredients"]
    places = [field.spot(match[0]) for field in texts for match in _PLACEHOLDER.finditer(field.text)]
    for line in recipe.ingredients:
        for match in _PLACEHOLDER.finditer(line.text):
            places.append(Text(text=match[0], where=line.where.at(match.start())))
    for place in places:
        begin = " ".join(place.text.strip("‹›").split()[:6])
        yield query(place, f"“{begin} …” only holds a place")
