"""A step that only the headnote mentions: nobody who cooks from the card reads it in time."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardsmith.check.fields import Field
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
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
    """A night or hours of chilling, resting or soaking that the headnote mentions and no step gives."""
    steps = " ".join(step.text for step in subject.steps)
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


def _is_long(text: Field, begins: int, ends: int) -> bool:
    """Whether a sentence names a quarter of an hour or more."""
    return text.longest(begins, ends) >= _QUARTER


_QUARTER = 900  # seconds
