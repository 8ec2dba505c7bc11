"""What a temperature in a step is for, from the words nearest to it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from cardsmith.language.spans import Purpose
from cardsmith.regex import regex

_SENTENCE = regex(r"[.;!?](?=\s|$)")
_UNTIL = regex(r"\b(?:until|till|when|once)\b", re.IGNORECASE)


def _words(*patterns: str) -> re.Pattern[str]:
    return regex(rf"\b(?:{'|'.join(patterns)})\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """Words that tell a purpose."""

    purpose: Purpose
    words: re.Pattern[str]
    stops_at_until: bool = False  # "bake until it reads 96 °C": not the oven's
    further: int = 0  # characters that a weaker word counts as further away


SIGNS = (
    Sign(
        purpose=Purpose.OVEN,
        words=_words(r"ovens?|bak(?:e|es|ed|ing)|roast(?:ed|ing)?|preheat\w*|broil\w*|grill|gas mark"),
        stops_at_until=True,
    ),
    Sign(purpose=Purpose.FAT, words=_words("oil|lard|shortening|tallow|dripping|ghee|deep fat")),
    Sign(
        purpose=Purpose.FAT,
        words=_words("(?:deep[- ]?)?fr(?:y|ies|ied|ying|yer)"),
        stops_at_until=True,
    ),
    Sign(
        purpose=Purpose.SYRUP,
        words=_words(
            r"syrups?|caramel\w*|sugar|candy|toffee|brittle|fudge|praline|nougat|jam|jelly|marmalade",
            "(?:soft|firm|hard)[- ]ball|(?:soft|hard)[- ]crack|thread stage|setting point",
        ),
        further=10,
    ),
    Sign(
        purpose=Purpose.CORE,
        words=_words(
            "internal(?:ly)?|thickest|cent(?:er|re)|core|middle|inside|instant-read|probe|doneness",
            "medium[- ]rare|well[- ]done|custard|loaf|breast|thigh|meat|fish|steak|yolks?",
        ),
    ),
    Sign(
        purpose=Purpose.CORE,
        words=_words("thermometer|reads?|registers?|reach(?:es)?"),
        further=60,
    ),
    Sign(
        purpose=Purpose.HOLDING,
        words=_words(
            r"refrigerat\w*|fridge|freez\w*|chill\w*|cold room|stor(?:e|ed|age)|hold(?:ing)?",
            r"keep (?:it |them )?(?:warm|hot|cold)|at or (?:below|above)|or (?:below|colder|above)",
            r"within \w+ hours?",
        ),
    ),
    Sign(
        purpose=Purpose.DOUGH,
        words=_words(
            r"dough|proof\w*|prov(?:e|ing)|ris(?:e|es|ing)|ferment\w*|knead\w*|lukewarm|warm water",
            r"doubled|domed|bubbles|bubbly|yeast|levain|starter|sourdough|sponge|poolish",
        ),
        further=15,
    ),
    Sign(purpose=Purpose.OTHER, words=_words(r"chocolate|temper(?:ed|ing)?|tea|coffee")),
    Sign(purpose=Purpose.ROOM, words=_words("room temperature|ambient|room|countertop")),
)

_REACH = 600  # characters either way; a word further off tells nothing


def purpose_of(text: str, start: int, end: int) -> Purpose:
    """The purpose of the temperature at ``text[start:end]``: by the nearest word that tells.

    Its own sentence counts first, then what stands before it.
    Rules of reading, common practice, no source. `Purpose.OTHER` where nothing tells.
    """
    first, last = max(0, start - _REACH), end + _REACH
    begins = max((match.end() for match in _SENTENCE.finditer(text, first, start)), default=first)
    after = _SENTENCE.search(text, end, last)
    ends = after.end() if after else min(last, len(text))
    return (
        _nearest(text, (begins, ends), start, end)
        or _nearest(text, (first, begins), start, end)
        or Purpose.OTHER
    )


def _nearest(text: str, reach: tuple[int, int], start: int, end: int) -> Purpose | None:
    turn = max((match.start() for match in _UNTIL.finditer(text, reach[0], min(start, reach[1]))), default=-1)
    best: tuple[int, Purpose] | None = None
    for sign in SIGNS:
        for match in sign.words.finditer(text, *reach):
            later = sign.purpose is not Purpose.DOUGH and _UNTIL.search(text, end, max(end, match.start()))
            if match.start() >= end and not later:
                away = 2 * (match.start() - end) + 5
            elif match.end() <= start and not (sign.stops_at_until and match.end() <= turn):
                away = start - match.end()
            else:
                continue
            if best is None or away + sign.further < best[0]:
                best = (away + sign.further, sign.purpose)
    return best[1] if best else None
