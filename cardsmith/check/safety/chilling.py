"""Hot food chilled in a depth that stays warm for hours: a full pot put into the refrigerator."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.regex import regex

MUCH = Fraction(1500)  # g: less of it cools in the pot by itself; common practice, no source
_POT = r"(?:pot|stockpot|pan|saucepan|casserole|oven|kettle|crock|insert|cauldron|roaster|cooker|bucket|tub)"
_COLD = r"(?:fridge|refrigerator|cooler|walk-in|cold room)"
CHILLED = regex(
    rf"\b(?:put|set|place|slide|move|transfer|return|stand|stick|pop|lift|get|goes?|carry)\b[^.;]*?\b{_POT}\b"
    rf"[^.;]{{0,25}}?\b(?:in|into|inside|to) (?:the|your|a) {_COLD}\b"
    rf"|\b(?:refrigerate|chill)\b[^.;]{{0,30}}?\b(?:in|inside) (?:the|its) (?:\w+ ){{0,2}}{_POT}\b"
    rf"|\b(?:refrigerate|chill) (?:the|your) (?:\w+ ){{0,2}}{_POT}\b"
    rf"|\b(?:(?:still|while) hot|straight from the (?:heat|stove|oven))\b[^.;]*\b(?:{_COLD}|refrigerate)\b"
    r"|\b(?:refrigerate|chill)\b[^.;]*\b(?:still|while) hot\b",
    re.IGNORECASE,
)
COOLED = regex(
    r"\b(?:cool(?!er\b)\w*|ice[- ](?:water|bath)|iced?|cold(?! room)|lukewarm|tepid|shallow|divid\w+"
    r"|portion\w*|room temperature|small(?:er)? (?:containers?|tubs?|batches))\b",
    re.IGNORECASE,
)
HOT = regex(
    r"\b(?:simmer|boil|brais|roast|stew|bak(?:e|ing)|cook|hot\b|poach|steam|fr(?:y|ied)\b|reduc|scald)",
    re.IGNORECASE,
)
DENIED = regex(r"\b(?:never|not|don['’]t|avoid|rather than|instead of)\b[^.;]*$", re.IGNORECASE)


@check(
    "hot-pot-chilled",
    Severity.WARNING,
    why="The middle of a full pot stays warm for hours in a refrigerator, and warms what stands beside it.",
    source="FDA Food Code 3-501.15 (memory): shallow pans, small portions or an ice bath",
    remedy="stand the pot in ice water and stir, or divide it among shallow containers, then refrigerate",
)
def hot_pot_chilled(subject: Subject) -> Iterator[Query]:
    """A pot of 1.5 kg or more put into the refrigerator from the heat, with no word of cooling it first."""
    if subject.formula(subject.recipe.parts).roles["total"] < MUCH:
        return
    heated, so_far = False, ["", ""]
    for step in subject.steps:
        for begins, ends, _ in step.cuts:
            sentence = step.text[begins:ends]
            match = CHILLED.search(sentence)
            if match and heated and _is_hot(match, so_far[-2:]):
                yield query(
                    step.spot(match.group(), begins), f"“{match.group()}”: hot, and in one deep vessel"
                )
                return
            heated = heated or HOT.search(sentence) is not None
            so_far.append(sentence)


def _is_hot(match: re.Match[str], before: list[str]) -> bool:
    """Whether neither its sentence nor the two before cool the food, and the sentence forbids nothing."""
    sentence = match.string
    return not DENIED.search(sentence, 0, match.start()) and not any(map(COOLED.search, (*before, sentence)))
