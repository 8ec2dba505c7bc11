"""Heat on the stove: how high, and with the lid on or off."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.sentences import Sentence
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind
from cardsmith.regex import regex

LONG = Fraction(30 * 60)  # from half an hour on a lid decides how much is left; common practice, no source

_HEATS = frozenset({Kind.TEMPERATURE, Kind.POWER, Kind.PRESSURE})
# Words of the stove, common practice, no source.
LEVEL = regex(
    r"\b(?:low|lowest|medium|moderate|high|highest|gentle|gently|hard|steady|slow|slowly|strong"
    r"|full|off the|residual)"
    r"(?:[ -](?:low|high))?(?:,? \w+)? (?:heat|flame)|\b(?:heat|flame) (?:to|on) \w|\bgently\b|\bhot coals\b"
    r"|\b(?:over|on|to) (?:a )?(?:very |fairly )?(?:low|medium|moderate|high)\b",
    re.IGNORECASE,
)
WETLY = regex(r"(?:^|[,;:]\s*|\b(?:and|then|to a|to the)\s+)(?:simmer|boil|poach|steam)\b", re.IGNORECASE)
COOKING = regex(
    r"(?:^|[,;:]\s*|\b(?:and|then)\s+)(?:\w+ly )?"
    r"(?P<verb>cook|fry|sauté|saute|melt|warm|brown|sweat|sear|toast|heat|caramelize|scald|stir-fry)\b",
    re.IGNORECASE,
)
VESSEL = regex(r"\b(?:saucepan|skillet|frying pan|sauté pan|wok|pot|casserole|griddle)\b", re.IGNORECASE)
ELSEWHERE = regex(
    r"\b(?:oven|bake|roast|microwave|slow cooker|waffle|barbecue|water bath|bain-marie"
    r"|immersion|sous[- ]vide|machine|broiler|grill|pressure|power"
    r"|double boiler|over (?:a )?(?:pan|pot|saucepan) of|simmering water|boiling water|hot water|torch)\b",
    re.IGNORECASE,
)
BRAISING = regex(r"\b(?:braise|stew)\b", re.IGNORECASE)
LID = regex(r"\b(?:cover\w*|uncover\w*|lid|lids|lidded|foil|cartouche|sealed?)\b", re.IGNORECASE)


@check(
    "heat-level-missing",
    Severity.NOTE,
    why="Ten minutes over high heat burn what ten minutes over low heat soften.",
    source=PRACTICE,
    remedy="write: over medium heat",
)
def heat_level_missing(subject: Subject) -> Iterator[Query]:
    """Cooking on the stove for a time, with no heat level in this step or before; said once a recipe."""
    known = False
    for sentence in subject.sentences:
        match = COOKING.search(re.split(r"\b(?:until|till)\b", sentence.text)[0])
        if LEVEL.search(sentence.text) or ELSEWHERE.search(sentence.text) or _is_measured(sentence):
            known = known or bool(LEVEL.search(sentence.text))
        elif not known and _for_a_time(sentence) and (match or _on_the_stove(sentence)):
            start, end = match.span("verb") if match else _vessel(sentence)
            yield query(
                sentence.spot(start, end), f"step {sentence.number} cooks for a time, over what heat?"
            )
            return
        known = known or bool(WETLY.search(sentence.text))


def _is_measured(sentence: Sentence) -> bool:
    """Whether a heat, a pressure or a power says how hot it is: 180 °C fat, full power, high pressure."""
    return any(span.kind in _HEATS for _, span in sentence.measures)


def _for_a_time(sentence: Sentence) -> bool:
    return sentence.seconds > 0


def _on_the_stove(sentence: Sentence) -> bool:
    """Whether something stands in a pot until it boils: no verb of cooking needed."""
    return bool(VESSEL.search(sentence.text)) and bool(
        re.search(r"\buntil\b.*\b(?:simmer|boil|steam)", sentence.text)
    )


def _vessel(sentence: Sentence) -> tuple[int, int]:
    match = VESSEL.search(sentence.text)
    return match.span() if match else (0, len(sentence.text))


@check(
    "lid-unsaid",
    Severity.NOTE,
    why="With the lid off a braise dries out; with it on, the sauce stays thin.",
    source=PRACTICE,
    remedy="write: cover and braise, or braise uncovered",
)
def lid_unsaid(subject: Subject) -> Iterator[Query]:
    """A braise or stew of half an hour or more, with no word on the lid."""
    sentences = subject.sentences
    for place, sentence in enumerate(sentences):
        match = BRAISING.search(sentence.text)
        if match is None or sentence.seconds < LONG:
            continue
        near = (*sentences[max(place - 2, 0) : place], sentence, *sentences[place + 1 : place + 2])
        if not any(LID.search(other.text) for other in near):
            yield query(
                sentence.spot(*match.span()), f"step {sentence.number} braises with the lid on or off?"
            )
