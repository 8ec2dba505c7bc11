"""The steps as deeds: each clause with its verb, where it stands, and what it says of heat and time."""

from __future__ import annotations

import enum
import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache
from itertools import pairwise

from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind, Measured, Purpose
from cardsmith.language.stops import stops
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.mentions import How, Mention, Mentions, visible
from cardsmith.recipe.mentions.naming import StepWord, tokens
from cardsmith.recipe.model import Recipe, Step
from cardsmith.reference import table
from cardsmith.regex import regex


@enum.unique
class Deed(enum.StrEnum):
    """What a cook does to food."""

    COOK = "cook"
    BOIL = "boil"
    SEAR = "sear"  # the outside alone
    TOAST = "toast"
    WARM = "warm"
    FLAME = "flame"
    DRY = "dry"
    MIX = "mix"
    SERVE = "serve"
    PREPARE = "prepare"  # each food by itself
    COOL = "cool"
    LEAVE = "leave"
    SHAPE = "shape"
    NONE = ""


HEATING = frozenset({Deed.COOK, Deed.BOIL, Deed.SEAR, Deed.TOAST, Deed.WARM, Deed.FLAME, Deed.DRY})
JOINING = HEATING | {Deed.MIX, Deed.SERVE}


@frozen
class Clause:
    """One deed. Places are those of characters in the step's visible text."""

    step: int  # in recipe.steps
    part: int
    start: int
    end: int
    text: str
    deed: Deed
    verb: str  # as `words` spells it; empty where there is none
    at: int  # where the verb ends
    tokens: tuple[StepWord, ...]
    mentions: tuple[Mention, ...]  # of lines, cues left out, in order
    temperatures: tuple[Measured, ...]
    seconds: Fraction  # the longest time it names, at its lower end; 0 where it names none
    is_held: bool  # whether it names a temperature for a time: 63 °C for 3 minutes

    def says(self, pattern: re.Pattern[str]) -> bool:
        """Whether a pattern is found in it."""
        return pattern.search(self.text) is not None

    def speaks_of(self, line: int) -> bool:
        """Whether it mentions a line of the list."""
        return any(mention.line == line for mention in self.mentions)


@cache
def deeds() -> Mapping[str, Deed]:
    """What each verb does, by the verb as `words` spells it."""
    return {words(row["word"])[0]: Deed(row["deed"]) for row in table("step_deeds")}


@cache
def nouns(kind: str) -> frozenset[str]:
    """Nouns of a step: mixture, vessel, idle (no food, and none goes in), hot place."""
    return frozenset(words(row["word"])[0] for row in table("step_nouns") if row["kind"] == kind)


_COLON = regex(r":(?=\s)")
_LINKS = frozenset(words("and then or also now just meanwhile next finally immediately either but"))
_BEFORE = frozenset(  # words that stand before the first half of a verb: stir-fry, deep-fry
    words("deep stir pan pressure slow dry shallow air oven spit flash quickly gently lightly well do you")
)
_NO_VERB = frozenset(words("the a an your of no more each its this that these those in on with over about"))
_OBJECTS = frozenset(
    words("the a an it them all both each half in into on over under until for with your this these")
)


def clauses(recipe: Recipe, mentions: Mentions) -> tuple[Clause, ...]:
    """Every clause of every step, in order."""
    made: list[Clause] = []
    place = 0
    for number, part in enumerate(recipe.parts):
        for step in part.steps:
            named = tuple(
                sorted(mentions.by_step.get(place, ()), key=lambda mention: (mention.start, mention.line))
            )
            made.extend(_of_step(step, place, number, named))
            place += 1
    return tuple(made)


def _of_step(step: Step, place: int, part: int, named: tuple[Mention, ...]) -> Iterator[Clause]:
    text = visible(step.spans)
    step_words = tokens(text)
    measures = _measures(step)
    covered = [(mention.start, mention.end) for mention in named if mention.how is not How.CUE]
    inside = [at for at, _ in measures]

    def is_inside(place: int) -> bool:
        return any(start <= place < start + len(measured.text) for start, measured in measures)

    colons = (match.end() for match in _COLON.finditer(text) if not is_inside(match.start()))
    ends = sorted({*(end for _, end in stops(text, is_inside)), *colons, len(text)})
    begins = 0
    at = 0
    for end in ends:
        upto = at
        while upto < len(step_words) and step_words[upto].start < end:
            upto += 1
        cuts = _cuts(text, step_words, at, upto, covered)
        starts = [begins, *(step_words[cut].start for cut in cuts[1:])]
        for number, start in enumerate(starts):
            stop = starts[number + 1] if number + 1 < len(starts) else end
            verb = cuts[number] if cuts else -1
            yield _clause(text, step_words, place, part, start, stop, verb, named, measures, inside)
        begins, at = end, upto


def _measures(step: Step) -> list[tuple[int, Measured]]:
    measured: list[tuple[int, Measured]] = []
    at = 0
    for span in step.spans:
        if isinstance(span, Measured):
            measured.append((at, span))
        at += len(span.text)
    return measured


def _clause(
    text: str,
    step_words: tuple[StepWord, ...],
    place: int,
    part: int,
    start: int,
    end: int,
    verb: int,
    named: tuple[Mention, ...],
    measures: list[tuple[int, Measured]],
    inside: list[int],
) -> Clause:
    mine = tuple(step_word for step_word in step_words if start <= step_word.start < end)
    first = bisect_right(inside, start - 1)
    spans = [measured for at, measured in measures[first:] if at < end]
    word = step_words[verb].word if verb >= 0 else ""
    if (
        verb >= 0
        and verb + 1 < len(step_words)
        and step_words[verb + 1].joined
        and text[step_words[verb].end] == "-"
    ):
        word = step_words[verb + 1].word  # stir-fry, deep-fry
    return Clause(
        step=place,
        part=part,
        start=start,
        end=end,
        text=text[start:end].lower(),
        deed=deeds().get(word, Deed.NONE),
        verb=word,
        at=step_words[verb].end if verb >= 0 else start,
        tokens=mine,
        mentions=tuple(
            mention
            for mention in named
            if start <= mention.start < end
            and (
                mention.how is not How.CUE
                or (verb >= 0 and _is_acted_on(text, step_words[verb].end, mention.start))
            )
        ),
        temperatures=tuple(measured for measured in spans if measured.kind is Kind.TEMPERATURE),
        seconds=max(
            (measured.quantity.low for measured in spans if measured.kind is Kind.DURATION),
            default=Fraction(0),
        ),
        is_held=any(_is_held(text, *pair) for pair in pairwise(measures[first:]) if pair[1][0] < end),
    )


def _is_acted_on(text: str, verb: int, mention: int) -> bool:
    """Whether what looked like a cue has a verb of its own: "until smooth and whisk in *the milk*"."""
    return verb <= mention and _CUE.search(text, verb, mention) is None


_CUE = regex(r"\b(?:until|till|without|when|while|once|so that|as)\b", re.IGNORECASE)


def _is_held(text: str, heat: tuple[int, Measured], time: tuple[int, Measured]) -> bool:
    between = text[heat[0] + len(heat[1].text) : time[0]].lower().strip(" ),")
    kinds = (heat[1].kind, time[1].kind)
    return kinds == (Kind.TEMPERATURE, Kind.DURATION) and between in _HELD


_HELD = frozenset({"for", "for at least"})


def _cuts(
    text: str, step_words: tuple[StepWord, ...], first: int, end: int, covered: list[tuple[int, int]]
) -> list[int]:
    """The places of the verbs of one sentence; a clause begins with each but the first."""
    places: list[int] = []
    for at in range(first, end):
        word = step_words[at].word
        if word not in deeds() and not _first_half(text, step_words, at):
            continue
        if at > first and _first_half(text, step_words, at - 1):
            continue  # the second half of a verb of two
        around = [(start, stop) for start, stop in covered if start <= step_words[at].start < stop]
        alone = (
            (step_words[at].start, step_words[at].end) in around
            and deeds().get(word) in HEATING
            and at == first
        )
        alone = alone or _is_timed(step_words, at, end)
        if around and not alone and not _commands(step_words, at, first, end):
            continue  # but "Roast at 200 °C" orders, though a pork shoulder is a roast
        if _is_verb(text, step_words, at, first, end, bool(places)):
            places.append(at)
    return places


def _first_half(text: str, step_words: tuple[StepWord, ...], at: int) -> bool:
    """Whether a word is the first of a verb of two: deep-fry."""
    after = at + 1
    return (
        step_words[at].word in _BEFORE
        and after < len(step_words)
        and step_words[after].joined
        and text[step_words[at].end] == "-"
        and step_words[after].word in deeds()
    )


def _commands(step_words: tuple[StepWord, ...], at: int, first: int, end: int) -> bool:
    """Whether a word that may be a food is what the cook does: "Butter the tin"; not "brown sugar"."""
    return at == first and at + 1 < end and step_words[at + 1].word in _OBJECTS


def _is_verb(
    text: str, step_words: tuple[StepWord, ...], at: int, first: int, end: int, has_verb: bool
) -> bool:
    """Whether a word is an order to the cook here, rather than a noun, an adjective or another's deed."""
    before = at - 1
    while before >= first and (_is_adverb(text, step_words[before]) or step_words[before].word in _BEFORE):
        before -= 1
    if before < first:
        return True
    if word_is_both(step_words[at].word) and not (at + 1 < end and step_words[at + 1].word in _OBJECTS):
        return _is_timed(step_words, at, end)  # not "until cold and set", "skin side up"
    gap = text[step_words[before].end : step_words[before + 1].start]
    if "," in gap or "—" in gap or "–" in gap or "(" in gap:
        return not has_verb or _orders(text, step_words, at, end)
    if step_words[before].word in _LINKS:
        return step_words[before].word != "or" or _orders(text, step_words, at, end)
    if step_words[before].word == "to":
        return before > first and step_words[before - 1].word in {"leave", "allow", "return", "ready"}
    return (
        not has_verb
        and step_words[before].word not in _NO_VERB
        and before < first + 6
        and _orders(text, step_words, at, end)
    )


def _orders(text: str, step_words: tuple[StepWord, ...], at: int, end: int) -> bool:
    """Whether what follows is what an order has: an object, a place, a time, or nothing."""
    after = at + 1
    if after >= end:
        return True
    gap = text[step_words[at].end : step_words[after].start]
    return bool(gap.strip(" -")) or step_words[after].word in _OBJECTS or not step_words[after].word.isdigit()


def word_is_both(word: str) -> bool:
    """Whether a verb is as often an adjective or a noun: dry, set, skin."""
    return word in _BOTH


_BOTH = frozenset(
    words(
        "dry set brown cool crisp warm lower open clean shell skin stone core top cover ice thin smoke light"
    )
    + words("cut cure roast toast stew layer lid glaze line pile dress score foam cream salt rest husk spoon")
)


def _is_timed(step_words: tuple[StepWord, ...], at: int, end: int) -> bool:
    """Whether a word that may be a noun is a deed that goes on: "cover and roast for 6 hours"."""
    linked = at > 0 and step_words[at - 1].word in _LINKS and step_words[at].word in _TIMED
    return linked and at + 1 < end and step_words[at + 1].word in _FOR_HOW_LONG


_TIMED = frozenset(words("roast toast stew rest cure smoke dry"))
_FOR_HOW_LONG = frozenset(words("for at until till about another uncovered"))


def _is_adverb(text: str, token: StepWord) -> bool:
    return text[token.start : token.end].lower().endswith("ly")


def core(clause: Clause) -> tuple[Measured, ...]:
    """The temperatures that a clause gives for the food itself, whatever it cooks in."""
    return tuple(
        measured
        for measured in clause.temperatures
        if measured.purpose in OF_FOOD
        or (measured.purpose is Purpose.PAN and measured.quantity.high <= _COOL_PAN)
    )


OF_FOOD = frozenset(
    {Purpose.CORE, Purpose.CUSTARD, Purpose.MILK, Purpose.DOUGH, Purpose.CHOCOLATE, Purpose.OTHER}
)
_COOL_PAN = 105  # °C: no pan over heat is so cool, so the thermometer stands in what it holds
