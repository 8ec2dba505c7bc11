"""What remarks beside the steps say of heat: meat taken off too soon, leftovers warmed too little."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.fields import Field
from cardsmith.check.registry import Query, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.facts.method.doneness import FAHRENHEIT, ROUNDED, Minimum
from cardsmith.facts.method.underdone import Sense, underdone
from cardsmith.language.spans import Measured, Purpose
from cardsmith.measure.larder import Food
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Ingredient
from cardsmith.regex import regex


def chart_told(celsius: Fraction) -> str:
    """A minimum as charts print it: 165 °F (74 °C)."""
    fahrenheit = FAHRENHEIT.from_base(celsius)
    return f"{number(fahrenheit, 3)} °F ({number(-(-celsius // 1))} °C)"


def remarked(subject: Subject, animals: list[tuple[int, Ingredient, Minimum]]) -> Iterator[Query]:
    """A remark beside the steps that has one of ``animals`` taken off too soon, or served pink."""
    wanted_of = [(line, wanted) for _, line, wanted in animals if wanted.least is not None]
    if not wanted_of:
        return
    for text in subject.fields:
        if text.name not in {"headnote", "notes", "cautions", "storage"}:
            continue
        for begins, ends, _ in text.cuts:
            sentence = text.text[begins:ends]
            if NOT_SO.search(sentence) or REHEAT.search(sentence) or COOLS.search(sentence):
                continue
            line, wanted = next(
                (pair for pair in wanted_of if _last_word(pair[0]) in sentence.lower()), wanted_of[0]
            )
            low = next(
                (span for _, span in text.temperatures(begins, ends) if _is_low(span, wanted, sentence)), None
            )
            left = underdone(sentence.lower())
            pink = left.words if left and is_unsafe(line.food, wanted, left.sense, line.text) else ""
            words = low.text if low else pink
            if words and wanted.least is not None:
                what = f"“{words}” is too low for {line.item}: {wanted.food} needs {chart_told(wanted.least)}"
                yield query(text.spot(words, begins), what)


def asked_hotter(subject: Subject) -> Iterator[Query]:
    """A headnote that wants the inside hotter than any step does: one of the two prints wrong."""
    inside = [
        span for step in subject.steps for _, span in step.temperatures() if span.purpose is Purpose.CORE
    ]
    best = max((span.quantity.high for span in inside), default=None)
    for at, span in subject.headnote.temperatures() if best is not None else ():
        wanted = span.purpose is Purpose.CORE and not span.quantity.is_range and best is not None
        sentence = subject.headnote.sentence(at)
        if wanted and best is not None and span.quantity.low > best + APART and not BY_TASTE.search(sentence):
            measured = next(measured for measured in inside if measured.quantity.high == best)
            what = f"the headnote wants “{span.text}” inside, the steps stop at “{measured.text}”"
            yield query(subject.headnote.spot(span.text, at), what, "write the same temperature in both")
            return


APART = 3  # °C: what rounding of the two scales and a rest may make; common practice, no source
BY_TASTE = regex(
    r"\b(?:if|prefer\w*|likes?|well[- ]done|rare|more|less|some|rest\w*|rises?|climbs?|carr\w+|usual\w*"
    r"|ordinary|rather|instead|not|never|nor|no|unlike|most|other|books?|older?|once|than)\b",
    re.IGNORECASE,
)


def is_unsafe(food: Food | None, wanted: Minimum, left: Sense, listed: str) -> bool:
    """Whether a food left so by the author's words breaks the published minimum, and is no dish by itself.

    A pink steak, duck breast or tuna and a translucent salmon are dishes: for these the card has its caution.
    """
    if wanted.food in {"poultry", "ground meat"}:
        return not is_of(food, PINK)
    if wanted.food == "fish":
        raw = left in {Sense.RAW, Sense.RARE}
        return raw and not is_of(food, EATEN_RARE) and FROZEN.search(listed) is None
    return is_of(food, PORK) and left in {Sense.RAW, Sense.RARE}


PINK = ("key:duck-breast", "key:squab")  # birds that a kitchen may serve pink, with the card's caution
# FDA Food Code 3-402.11(B): tuna and farmed fish need not be frozen before they are eaten raw or underdone.
EATEN_RARE = ("key:*tuna*", "key:*salmon*", "key:*trout*", "key:swordfish*", "key:*char")
PORK = ("key:*pork*", "key:*-ham", "key:*boar*")
FROZEN = regex(r"\b(?:frozen|sushi|sashimi)\b", re.IGNORECASE)


def _last_word(line: Ingredient) -> str:
    return line.item.lower().split()[-1].removesuffix("s") if line.item else ""


def _is_low(span: Measured, wanted: Minimum, sentence: str) -> bool:
    """Whether a remark's temperature is the food's own, warm, and below the minimum."""
    inside = span.purpose is Purpose.CORE or (span.purpose is Purpose.OTHER and TAKEN.search(sentence))
    return bool(inside) and WARM < span.quantity.low < (wanted.least or 0) - ROUNDED and wanted.food != "fish"


WARM = 40  # °C; a lower temperature is about keeping, not cooking
TAKEN = regex(r"\b(?:take|pull|remove|lift|off|out|like|prefer|done|ready|serve)\b", re.IGNORECASE)
NOT_SO = regex(
    r"\b(?:does not|doesn't|alone|above|hotter|warmer|holds?|kept|keeps?"
    r"|not (?:yet )?(?:done|ready|safe|enough)|never|don't|do not|must not|back (?:in|into|on)|rises? to"
    r"|below|under|unless|at least|until it reads)\b",
    re.IGNORECASE,
)
COOLS = regex(r"\b(?:cool|cools|cooled|cooling|chill|chills|chilled|chilling)\b", re.IGNORECASE)
LEFTOVERS = FAHRENHEIT.to_base(Fraction(165))
HOT, TWO_MINUTES = 70, 120  # °C, seconds: UK Food Standards Agency, cooking and reheating (memory)


def reheated(subject: Subject) -> Iterator[Query]:
    """Leftovers reheated to less than 165 °F (74 °C), or 70 °C for 2 minutes, or until lukewarm."""
    for text in subject.fields:
        if text.name in {"steps", "title", "equipment", "ingredients"}:
            continue
        for begins, ends in _clauses(text):
            match = REHEAT.search(text.text, begins, ends)
            if match is None or NEVER.search(text.text, begins, match.start()):
                continue
            heats = text.temperatures(begins, ends)
            rest = text.text[match.start() : ends]
            tepid = TEPID.search(rest) if not heats else None
            if tepid is not None and STEAMING.search(rest.replace(tepid.group(), "")):
                tepid = None
            for at, span in heats:
                hot = span.quantity.low
                held = hot >= HOT and text.surely(at, ends) >= TWO_MINUTES
                # A sealed bag may be warmed to be served at once: FDA Food Code 3-403.10.
                kept = span.purpose in {Purpose.OVEN, Purpose.GRILL, Purpose.REFRIGERATOR, Purpose.BATH}
                if hot + ROUNDED < LEFTOVERS and not held and not kept:
                    yield _reheat_query(text, span.text)
                    break
            if tepid is not None:
                yield _reheat_query(text, tepid.group())


def _reheat_query(text: Field, words: str) -> Query:
    what = f"leftovers reheated to “{words}” may not be safe"
    return query(text.spot(words), what, f"write “{chart_told(LEFTOVERS)}”")


def _clauses(text: Field) -> Iterator[tuple[int, int]]:
    return ((begins, ends) for begins, ends, _ in text.cuts)


REHEAT = regex(
    r"\b(?:re-?heat\w*|re-?warm\w*|warm(?:ed)? (?:it|them|the \w+) (?:\w+ ){0,6}?(?:to|until|till|up|through)"
    r"|(?:heat|warm) (?:up )?(?:the |any )?leftovers"
    r"|leftovers? (?:\w+ ){0,4}(?:brought|warmed|heated|bring|warm|heat)"
    r"|(?:bring|brings|brought|taken?|warm\w*|heat\w*) (?:\w+ ){0,5}(?:back |up )(?:\w+ ){0,3}to"
    r"|warm(?:ed)? (?:it |them |through |up |gently |slowly |the \w+ |a \w+ ){1,3}(?:until|till|to)"
    r"|warm(?:ed)? (?:\w+ )?(?:up |through )?again)\b",
    re.IGNORECASE,
)
TEPID = regex(
    r"\b(?:lukewarm|luke-warm|tepid|barely warm|just warm|blood[- ](?:warm|heat)|body heat|barely hot"
    r"|no more than warm|hand[- ](?:warm|hot))\b",
    re.IGNORECASE,
)
STEAMING = regex(r"\b(?:steam\w*|(?<!any )hot|boil\w*|bubbl\w*|cool)\b", re.IGNORECASE)
NEVER = regex(r"\b(?:not|never|don't|rather than|no need to)\b[^.;]*$", re.IGNORECASE)
