"""A step that only the headnote mentions: nobody who cooks from the card reads it in time."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from cardsmith.check.fields import Field
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.method.clauses import Clause
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.measure.larder import words
from cardsmith.reference import table
from cardsmith.regex import regex

# A wait that the headnote speaks of, by its stem, up to the next comma; and any wait of the steps.
_WAITS = regex(
    r"\b(?P<stem>chill|refrigerat|rest|marinat|soak|prov|ris|ferment|brin|cur)\w*\b[^,;–—]*", re.IGNORECASE
)
_WAITED = regex(
    r"\b(?:chill\w*|refrigerat\w*|fridge|cold|freez\w*|rest\w*|marinat\w*|soak\w*|prov\w*|proof\w*|ris(?:e|es|ing)"
    r"|ferment\w*|brin\w*|cur(?:e|es|ed|ing)|leave|stand|set aside|sit|overnight|steep\w*|infus\w*)\b",
    re.IGNORECASE,
)
_LONG = regex(r"\b(?:overnight|all night|the night before|a (?:whole )?(?:night|day))\b", re.IGNORECASE)
# What may be done, or is done with what is left over.
_OPTIONAL = regex(
    r"\b(?:can|may|could|might|if|or|keeps? (?:for|well|fresh)|kept|store\w*|leftovers?|better|even|ahead"
    r"|next day|unlike|no need|not|never|without|instead|skip\w*)\b",
    re.IGNORECASE,
)


@check(
    "headnote-step-missing",
    Severity.WARNING,
    why="Cooks follow the steps; a wait that stands in the headnote alone is left out, or found too late.",
    source=PRACTICE,
    remedy="write it as a step: cover and refrigerate for 8 hours",
)
def headnote_step_missing(subject: Subject) -> Iterator[Query]:
    """A night or hours of chilling, resting or soaking that the headnote mentions and no step gives.

    Also a dish that headnote or title calls baked, grilled or steamed, and no step that does it.
    """
    steps = " ".join(step.text for step in subject.steps)
    yield from _undone(subject, steps)
    listed = " ".join(line.text for line in subject.recipe.ingredients)
    if not subject.steps or _WAITED.search(steps):
        return
    text = subject.headnote
    for begins, ends, _ in text.cuts:
        sentence = text.text[begins:ends]
        match = _WAITS.search(sentence)
        if match is None or _OPTIONAL.search(sentence) or match["stem"].lower() in listed.lower():
            continue
        if _LONG.search(match.group()) or _is_long(text, begins + match.start(), begins + match.end()):
            what = f"the headnote says “{match.group().strip()}”, and no step does it"
            yield query(text.spot(match.group(), begins), what)
            return


def _undone(subject: Subject, steps: str) -> Iterator[Query]:
    """What headnote or title says is done to the dish by heat, where no step has a word of that."""
    for text in (field for field in subject.fields if field.name in {"headnote", "title"}):
        for begins, ends, _ in text.cuts if steps else ():
            match = _DONE_SO.match(text.text, begins, ends)
            if match and text.name == "headnote" and not _HOW.match(text.text, match.end()):
                continue  # "Steamed rice goes well with it"
            doing = _DOINGS[match["done"].lower()] if match else None
            if match and doing and not doing.search(steps) and not _OPTIONAL.search(text.text, begins, ends):
                what = f"the {text.name} says “{match['done']}”, and no step does it"
                yield query(text.spot(match["done"], match.start("done")), what)


_DONE_SO = regex(
    r"(?:(?:slowly|gently|twice|simply|first) )?(?P<done>baked|grilled|steamed|braised|poached|churned)\b"
    r"(?! (?:beans|potato|potatoes|alaska|milk|goods|ricotta|ham))",
    re.IGNORECASE,
)
_HOW = regex(r",|\s(?:in|low|slow(?:ly)?|until|till|under|over|on|at|gently|long|just|whole|to|and)\b")
_DOINGS = {
    "baked": regex(r"\b(?:bak\w+|ovens?|roast\w*)\b", re.IGNORECASE),
    "grilled": regex(r"\b(?:grill\w*|broil\w*|barbecu\w*|griddl\w*|char\w*|coals|embers|fire|flame)\b", re.I),
    "steamed": regex(r"\b(?:steam\w*|simmering water|boiling water)\b", re.IGNORECASE),
    "braised": regex(r"\b(?:brais\w*|simmer\w*|cover\w*|oven|cook\w*)\b", re.IGNORECASE),
    "poached": regex(r"\b(?:poach\w*|simmer\w*)\b", re.IGNORECASE),
    "churned": regex(r"\b(?:churn\w*|machine|maker|freez\w*)\b", re.IGNORECASE),
}


def _is_long(text: Field, begins: int, ends: int) -> bool:
    """Whether a sentence names a quarter of an hour or more."""
    return text.longest(begins, ends) >= _QUARTER


_QUARTER = 900  # seconds


@frozen
class Denied:
    """A deed that a headnote may say the recipe does without, and how the steps do it."""

    denied: Phrases | None
    verbs: frozenset[str]
    steps: Phrases | None


@cache
def denied_deeds() -> tuple[Denied, ...]:
    """All rows of the table."""
    return tuple(
        Denied(
            denied=phrases(row["denied"]),
            verbs=frozenset(words(row["verbs"].replace("|", " "))),
            steps=phrases(row["steps"]),
        )
        for row in table("denied_deeds")
    )


@check(
    "headnote-denied-by-steps",
    Severity.WARNING,
    why="A reader without a machine picks the recipe that needs none, and finds one in the third step.",
    source="denied_deeds.csv: " + PRACTICE,
    remedy="take it out of the headnote or title, or change the steps",
)
def headnote_denied_by_steps(subject: Subject) -> Iterator[Query]:
    """A headnote or title that promises no churning, no baking or no kneading, and a step that does it."""
    for text in (field for field in subject.fields if field.name in {"headnote", "title"}):
        for begins, ends, _ in text.cuts:
            for denied in denied_deeds():
                match = denied.denied.search(text.text, begins, ends) if denied.denied else None
                if match is None or _OTHERWISE.search(text.text, begins, ends):
                    continue
                if _COMPOUND.match(text.text, match.end()):
                    continue
                clause = _does(subject, denied)
                if clause is not None:
                    what = f"“{match.group()}”, says the {text.name}, and step {clause.step + 1} does it"
                    yield query(text.spot(match.group(), match.start()), what)
                    return


def _does(subject: Subject, denied: Denied) -> Clause | None:
    """The first clause that does what was denied."""
    known = dish(subject.recipe, subject.larder)
    for clause in known.histories.clauses:
        said = denied.steps.search(clause.text) if denied.steps else None
        if (clause.verb in denied.verbs or said) and not _CHOICE.search(clause.text):
            return clause
    return None


_COMPOUND = regex(r"[ -](?:powder|soda|tray|sheet|tin|paper)\b", re.IGNORECASE)  # no baking powder
_CHOICE = regex(r"\b(?:or|if|unless|not|never|without)\b", re.IGNORECASE)
_OTHERWISE = regex(
    r"\b(?:or|if|unless|instead|unlike|other|usual\w*|most|once|after|until|but)\b", re.IGNORECASE
)
