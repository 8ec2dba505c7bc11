"""A pressure cooker filled too high, or opened before its pressure is gone."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardsmith.facts.method.dish import Dish
from cardsmith.regex import regex


def cooker_misused(one: Dish, _place: int) -> bool:
    """Whether a pressure cooker is filled beyond two thirds, or its lid opened under pressure.

    Makers' common practice: two thirds at most, half for beans, grain and what else foams.
    """
    return any(_is_overfilled(told) or _is_forced(told) for told in _of_cooker(one))


def _of_cooker(one: Dish) -> Iterator[str]:
    """The sentences of each text that speaks of the cooker, and of the step after it."""
    recipe = one.recipe
    steps = [step.text for step in recipe.steps]
    near = [
        text
        for at, text in enumerate(steps)
        if _COOKER.search(text) or any(_COOKER.search(before) for before in steps[max(at - 2, 0) : at])
    ]
    remarks = (recipe.headnote, recipe.storage, *(note.text for note in recipe.notes))
    for text in (*near, *(text for text in remarks if _COOKER.search(text))):
        yield from _SENTENCE.split(text.lower())


def _is_overfilled(told: str) -> bool:
    return _FILLS.search(told) is not None and _HIGH.search(told) is not None and not _KEEPS_LOW.search(told)


def _is_forced(told: str) -> bool:
    return _FORCES.search(told) is not None and not _WAITS.search(told)


_SENTENCE = regex(r"[.;!?:]\s")
_COOKER = regex(r"\b(?:pressure[- ]cook\w*|pressure pot|high pressure|low pressure|cooker)\b", re.IGNORECASE)
_FILLS = regex(
    r"\b(?:fill\w*|load\w*|top\w*|pack\w*|add\w*|pour\w*|put|come|comes|reach\w*|full|leav\w+|contents|level)\b"
)
_HIGH = regex(
    r"\b(?:brim\w*|right up|(?:up )?to the (?:very )?(?:rim|top|lip|lid|edge)"
    r"|(?:within|almost|nearly|below|under|short|reach\w*|touch\w*|level)\b[^,]*\b(?:rim|top|lip|lid|edge)"
    r"|(?:\w+[- ](?:quarters|tenths|fifths)|almost|nearly|completely|quite) full"
    r"|leav\w+ (?:only |just |about )?(?:\S+ ){1,3}(?:free|of room|of space|clear|spare|at the top)"
    r"|full(?= to| up|$))\b"
)
_KEEPS_LOW = regex(
    r"\b(?:half|halfway|thirds?|well below|never|not|don['’]t|no more|less than|at most"
    r"|under full|would|jars?|far below|lowest|max\w*)\b"
)
_FORCES = regex(
    r"\b(?:open|unlock|force|wrench|prise|pry|twist|lever|yank|lift|take|turn|unlatch|undo)\w*"
    r"\b[^,]*\b(?:lid|cooker|pot)\b.*"
    r"\b(?:at once|immediately|straight ?away|right away|while it|still (?:hiss\w*|under)|without waiting"
    r"|before the pressure|under pressure|hissing)\b"
    r"|\b(?:force|wrench|prise|pry|lever)\w* (?:\w+ ){0,3}(?:open|lid|off|up)\b"
)
_WAITS = regex(
    r"\b(?:never|not|don['’]t|until|once the|after the|when the pressure|only when|has (?:dropped|fallen)"
    r"|has gone|releas\w*|let the pressure)\b"
)
