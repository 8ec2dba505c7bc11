"""Where a text says that food stands warm, for how long, and what stands there: in any field, in any words.

A stay is known by a place (keeping_words.csv), or by denied cold ("needs no fridge"), with a time or a word
for one, and with nothing that forbids it or only brings food to the warmth of the room.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache, lru_cache
from itertools import pairwise

from cardsmith.check.fields import Field
from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.method.clauses import deeds
from cardsmith.frozen import frozen
from cardsmith.language.spans import Measured, Purpose
from cardsmith.measure.larder import words
from cardsmith.reference import table
from cardsmith.regex import regex

TWO_HOURS = 7200
REMARKED = frozenset({"headnote", "notes", "storage", "cautions"})
COLD = 6  # °C: FDA Food Code 3-501.14, 41 °F, with what rounding adds
NIGHT = Fraction(8 * 3600)
CLAUSE = regex(
    r"[.;:]\s+|,? (?:and )?then\b|,? (?:or|and) (?=(?:for |up to )?\w+ \w+,? (?:\w+,? )?(?:in|at|on)\b)"
    r"|,? (?:or|and) (?:up to )?(?=(?:freeze|frozen)\b)"
    r"|,? and (?=(?:leave|refrigerate|chill|freeze|keep|eat|use|drain|boil|cook|simmer|bake|roast)\b)"
)
GOES_ON = regex(r"(?:leave|keep) (?:it|them)\b")  # "set it in the refrigerator and leave it"
OR = regex(r",? (?:or|and) (?:for |up to |about )*$")
FORBIDS = regex(
    r"\b(?:not|never|don't|do not|doesn't|does not|cannot|can't|mustn't|shouldn't|no longer|rather than"
    r"|instead of|nor|avoid|as if|as though|too (?:little|few|moist|wet|weak)"
    r"|without (?:\w+ )?(?:leaving|letting))\b[^.;]*$",
    re.IGNORECASE,
)
DISCARDS = regex(r"\b(?:throw (?:it |them )?away|discard|bin|unsafe|dangerous|botulism)\b", re.IGNORECASE)
FROM_COLD = regex(
    r"\b(?:from|out of) the (?:freezer|fridge|refrigerator)\b|\bfrozen \w+|\b(?:the|its|their) chill\b",
    re.IGNORECASE,
)
SERVED = regex(
    r"\b(?:(?:before|until|till) (?:\w+ ){0,3}|(?:comes?|bring|brought|return|warm|back|cool\w*)"
    r" (?:\w+ ){0,4}to"
    r"|(?:serve|served|eat|best|good) (?:\w+ |, ){0,5}?(?:at|warm or at|or at))(?: \w+)?\W*$",
    re.IGNORECASE,
)


@frozen
class Stay:
    """Food that a text leaves warm."""

    words: str  # by which it does
    at: int  # where they stand in the text
    begins: int  # where its sentence does
    stops: int  # where its clause ends
    ends: int  # where its sentence does
    seconds: Fraction  # for how long; 0 where nobody says
    is_long: bool  # over two hours, or kept with no time

    def sentence(self, text: Field) -> str:
        """All of what is said there."""
        return text.text[self.begins : self.ends]


@cache
def _told(*sorts: str) -> Phrases:
    known = phrases("|".join(row["words"] for row in table("keeping_words") if row["sort"] in sorts))
    if known is None:
        raise ValueError(f"keeping_words.csv has no words for {sorts}")
    return known


def _warm() -> Phrases:
    """Places where food stands ("warm") and where it is put by ("store")."""
    return _told("warm", "store", "denied")


def seconds(text: Field, start: int = 0, end: int | None = None) -> Fraction:
    """The longest time that a text speaks of between two places, in seconds; 0 where it names none."""
    night = NIGHT if _says_long(_plain(text.text[start:end])) else Fraction(0)
    return max(text.longest(start, end), night)


def _says_long(plain: str) -> bool:
    """Whether words without a figure speak of half a day or more: overnight, till supper, all week."""
    return UNTIL.search(plain) is not None or _told("long").search(plain) is not None


_DAY = (
    r"(?:\w+ o'clock|morning|forenoon|noon|midday|afternoon|evening|night|nightfall|midnight|dawn|daybreak"
    r"|dusk|sunrise|sunset"
    r"|breakfast|brunch|lunch|lunchtime|tea|teatime|supper|suppertime|dinner|dinnertime|bedtime|tomorrow|today"
    r"|day|weekend|(?:mon|tues|wednes|thurs|fri|satur|sun)day)s?"
)
_SEASON = (
    r"(?:next|following|new|coming|whole|entire) (?:season|batch|harvest|crop)['\w]*"
    r"|spring|summer|autumn|winter|christmas|easter|january|february|march|april|may|june|july|august"
    r"|september|october|november|december|the holidays|season(?:'s)? end"
)
UNTIL = regex(
    rf"\bafter (?:\w+ )?{_DAY}\b[^.;]*\b(?:at|until|till|by|for|the) (?:\w+ )?{_DAY}\b"
    rf"|\b(?:until|till|by|from|for|through|all|over|overnight|during)\s+"
    rf"(?:(?:the|a|an|this|that|next|following|same|whole|entire|rest|of|early|late|after|it|is|our|your)\s+)*"
    rf"(?:{_DAY}|{_SEASON})\b(?!\s+(?:before|of\s+serving|dinner|lunch))"
)


def clauses(text: Field) -> Iterator[tuple[int, int]]:
    """Where each clause of a text on keeping begins and ends: before another place, and another time."""
    places = [match.end() for match in CLAUSE.finditer(text.text)]
    times = [at for at, _ in text.times() if OR.search(text.text, 0, at)]
    cuts = sorted({0, *(at for at in places if not text.is_inside(at)), *times, len(text.text)})
    return pairwise(cuts)


@lru_cache(maxsize=256)  # several checks ask about the same texts in turn
def stays(text: Field) -> tuple[Stay, ...]:
    """Every stay of a text in the warm, a clause at a time."""
    return (*_stays(text), *_stays_at_a_heat(text))


def _stays_at_a_heat(text: Field) -> Iterator[Stay]:
    """What storage keeps at the heat of a room, by a figure: "keep at 25 °C up to 12 hours"."""
    plain = _plain(text.text)
    for at, measured in text.temperatures() if text.name == "storage" else ():
        begins, ends = next(clause for clause in clauses(text) if clause[0] <= at < clause[1])
        first, last = text.sentence_at(at)
        before = text.text[begins:at]
        named = measured.purpose is Purpose.ROOM and before.split()[-1:] == ["at"]
        denied = FORBIDS.search(before) or SERVED.search(before) or _told("cold").search(plain[begins:ends])
        lasting = text.longest(begins, ends)
        if named and not denied and lasting > TWO_HOURS:
            yield Stay(
                words=measured.text,
                at=at,
                begins=first,
                stops=ends,
                ends=last,
                seconds=lasting,
                is_long=True,
            )


def _stays(text: Field) -> Iterator[Stay]:
    plain = _plain(text.text)
    for begins, ends in clauses(text):
        matches = (
            other
            for other in _places(text, plain, begins, ends)
            if not _is_denied(text, plain, begins, other)
        )
        match = next(matches, None)
        if match is None or DISCARDS.search(plain, begins, ends):
            continue
        since = text.sentence_at(begins)[0] if GOES_ON.match(plain, begins) else begins
        told_cold = FROM_COLD.sub(" ", NO_COLD.sub(" ", _told("denied").without(plain[since:ends])))
        if _told("cold").search(told_cold):
            continue  # on a plate in the fridge
        if any(
            measured.quantity.low <= COLD
            for _, measured in text.temperatures(*text.sentence_at(match.start()))
        ):
            continue  # cooled to 70 °F within 2 hours, and to 41 °F within 4 more
        first, last = text.sentence_at(match.start())
        lasting = _time(text, plain, (begins, ends), (first, last))
        is_store = _told("store", "denied").match(match.group()) is not None
        stored = is_store and _told("keep").search(plain, first, last) is not None
        uncooled = NO_COLD.match(plain, match.start()) is not None
        listed = uncooled or (_warm().match(match.group()) or ROOM.match(plain, match.start())) is not None
        by_word = text.name == "storage" or (
            stored and text.name != "headnote"
        )  # a headnote tells stories, too
        by_word = by_word or uncooled
        is_long = lasting > TWO_HOURS or (not lasting and listed and by_word)
        yield Stay(
            words=text.text[match.start() : match.end()],
            at=match.start(),
            begins=first,
            stops=ends,
            ends=last,
            seconds=lasting,
            is_long=is_long,
        )


def _places(text: Field, plain: str, begins: int, ends: int) -> Iterator[re.Match[str]]:
    """Where food stands warm: the places of the table, any that is neither cold nor a vessel, or none named.

    What is left, or cools, by itself does so in the kitchen, unless the words before have put it in the cold.
    """
    yield from _warm().finditer(plain.replace(",", " "), begins, ends)
    for match in PLACE.finditer(plain, begins, ends):
        if not _told("no place", "cold").search(match["noun"]):
            yield match
    for match in ROOM.finditer(plain, begins, ends):
        if (
            text.name == "storage"
            or _told("keep").search(plain, begins, ends)
            or LAYS.search(plain, begins, ends)
        ):
            yield match
    if text.name in REMARKED:
        yield from NO_COLD.finditer(plain, begins, ends)
    is_long = text.name in {"steps", "storage"} and seconds(text, begins, ends) > TWO_HOURS
    apart = is_long and not FERMENTS.search(plain) and not AT_WORK.search(plain, begins, ends)
    if (
        apart
        and not _told("cold").search(plain, _earlier(plain, begins), ends)
        and not _is_on(plain, begins, ends)
    ):
        yield from LEFT.finditer(plain, begins, ends)
        if text.name == "steps" and deeds().keys().isdisjoint(words(plain[begins:ends])):
            yield from PHRASE.finditer(plain, begins, ends)


def _is_on(plain: str, begins: int, ends: int) -> bool:
    """Whether food has been put over heat, or where it smokes, and nothing has taken it off since."""
    put = max((match.end() for match in PUT_ON.finditer(plain, _earlier(plain, begins), ends)), default=None)
    return put is not None and TAKEN_OFF.search(plain, put, ends) is None


def _earlier(plain: str, begins: int) -> int:
    """Where the sentence before a clause begins."""
    stops = [stop.end() for stop in SENTENCE.finditer(plain, 0, begins)]
    return stops[-2] if len(stops) > 1 else 0


PUT_ON = regex(
    r"\b(?:on|onto|over|in|into|under) (?:the|a|its|your) (?:\w+ ){0,2}"
    r"(?:grate|grill|grid|smoker|coals|embers|fire|pit|barbecue|spit|rotisserie|slow cooker|oven|kettle)\b"
)
TAKEN_OFF = regex(r"\b(?:take|lift|remove|pull|slide|out of|off|turn off|from the)\b")
SENTENCE = regex(r"[.;!?]\s+")
LEFT = regex(
    r"\b(?:leave|left|let|stands?|sits?|waits?|forget|forgotten|cools?|rests?)\b[^.;]*?(?=\s*(?:[,.;:)]|$))"
)
PHRASE = regex(
    r"\b(?:lid|covered|uncovered|under|wrapped)\b[^.;]*"
)  # without a verb: "Twelve hours under a cloth."
FERMENTS = regex(r"\b(?:ferment\w*|starter|dough|cure|brine)\b")
# What is done to food meanwhile, for which other rules ask; what it stands in; and when it is only eaten.
AT_WORK = regex(
    r"\b(?:rise|rises|rising|prov(?:e|ing)|proof\w*|ferment\w*|marinat\w*|soak\w*|infus\w*|steep\w*|dr(?:y|ies|ying)"
    r"|cur(?:e|ing)|macerat\w*|hydrat\w*|matur\w*|age|aged|ages|set|sets|bath|smoker|canner|dehydrator|thermos|oven"
    r"|slow cooker|press(?:ed|ing)?|salted?|drain\w*|hang\w*|sprout\w*|jars? seal|serve[ds]?|eat|eaten"
    r"|simmer\w*|boil\w*|bak(?:e|es|ing)|roast\w*|brais\w*|cook\w*|poach\w*|steam\w*)\b"
)


PLACE = regex(
    r"\b(?:(?:keep\w*|kept)(?! \w+ing\b)|stay\w*|store[ds]?|lasts?|stand\w*|stood|sits?|sitting|leave|left"
    r"|waits?|hold|put|let|lives?|living|rests?|goes|sleeps?|travels?|survives?|cools?"
    r"|go cold|defrost\w*|thaw\w*)\b[^.;]{0,60}?\b(?:in|on|at|by|beside|under|near|behind)\s+"
    r"(?:(?:the|one)\s+(?:back|side|edge|end|corner|front|top)\s+of\s+)?"
    r"(?:the|a|an|its|your|my|our)\s+(?:[\w'-]+\s+){0,2}?(?P<noun>[\w-]+)"
    r"(?=\W*$|[,;.:)]|\s(?:for|until|till|with|overnight|from"
    r"|while|through|all|and|where|so|to|at)\b)"
)


_DETERMINER = r"(?:the|a|an|my|our|your|his|her|its|their|any|some|one)"
# A place of the house that is neither cold nor hot, by its noun: beside my stove, on a cellar step.
ROOM = regex(
    r"\b(?:in|on|at|by|beside|under|underneath|near|next to|behind|above|over|outside|along|atop|on top of"
    rf"|(?:back|side|edge|end|corner|front|top|warmth) of)\s+(?:{_DETERMINER}\s+)?(?:[\w'-]+\s+){{0,2}}?"
    r"(?:stove|(?<!slow )(?<!slow-)(?<!pressure )(?<!rice )cooker|hob|radiator|sill|windowsill|window"
    r"|counter|countertop|worktop"
    r"|sideboard|dresser|pantry|larder|cellar|cupboard|cabinet|garage|shed|porch|balcony|verandah|scullery|kitchen"
    r"|hearth|fireplace|mantelpiece|doorstep|draining board|lunchbox|lunch box|rucksack|backpack"
    r"|picnic basket|car|boot|desk|shelf|shelves)s?"
    r"(?!\s+(?:heat|timer|cloth|paper|scales?|thermometer|foil|film|burner))\b"
)


LAYS = regex(r"\b(?:lay|put|set|place|stand)\b")
NO_COLD = regex(  # words that keep food from the cold: nobody bothers with the fridge, it needs no ice
    r"\b(?:nobody|no one|never (?:sees?|saw|needs?|needed|been|goes|went)|needs? no|no need (?:of"
    r"|for)|has no|have no"
    r"|not (?:need|want|see)|needn't|forget|skip|spare yourself)\b(?:\s+[\w'-]+){0,4}?\s+"
    r"(?:fridge|refrigerator|refrigeration|refrigerating|chilling|cold|icebox|ice)\b(?! (?:cream|water|bath))"
)


def _time(text: Field, plain: str, clause: tuple[int, int], sentence: tuple[int, int]) -> Fraction:
    """For how long a stay is, by its clause, or else by a word of its sentence, or by what follows it."""
    lasting = seconds(text, *clause)
    cold = _told("cold").search(plain, clause[0], sentence[1])
    if not lasting and not cold and _says_long(plain[slice(*sentence)]):
        lasting = NIGHT
    if not lasting and not cold and text.name in REMARKED:
        lasting = text.longest(
            clause[0], sentence[1]
        )  # "lives beside my stove, and dresses our salads for a month"
    ends = sentence[1]
    if not lasting and text.name in REMARKED and text.text[ends : ends + 1] in {";", ":"}:
        lasting = seconds(text, ends, text.sentence_at(ends + 2)[1])  # "let it sit; better eight hours on"
    return lasting


def _is_denied(text: Field, plain: str, begins: int, match: re.Match[str]) -> bool:
    """Whether the sentence forbids the stay, or food only comes to that place to be eaten."""
    denies_cold = (
        NO_COLD.match(plain, match.start())
        or _told("cold").search(match.group())
        or match.group().lower().startswith(("no need", "need"))
    )
    before = plain[max(begins, text.sentence_at(match.start())[0]) : match.start()]
    if not denies_cold and (FORBIDS.search(before) or SERVED.search(before)):
        return True
    if _last(_told("cooking"), before) > _last(_told("keep"), before + " " + match.group()):
        return True  # it simmers on the stove all afternoon
    ends = text.sentence_at(match.start())[1]
    passes = _told("passing").search(plain, match.start(), ends) is not None
    return passes and text.longest(begins, ends) <= TWO_HOURS


def _last(wanted: Phrases, words: str) -> int:
    """Where the last match begins; -1 where there is none."""
    return max((match.start() for match in wanted.finditer(words)), default=-1)


def chilled(text: Field) -> Iterator[tuple[int, Measured]]:
    """Each time for which a text keeps food in the refrigerator, with its place; the freezer's are others."""
    plain = _plain(text.text)
    whole = text.name == "storage" and not FREEZER.search(plain) and not _freezes(text, 0, len(plain))
    in_cold = False  # since a clause before: "refrigerate within 2 hours; eat within 3 days"
    for begins, ends in [(0, len(plain))] if whole else clauses(text):
        is_cold = _told("cold").search(FROM_COLD.sub(" ", plain[begins:ends])) is not None
        in_cold = is_cold or (in_cold and EATEN.match(plain, begins, ends) is not None)
        frozen = FREEZER.search(plain, begins, ends) or _freezes(text, begins, ends)
        if in_cold and not frozen and not FORBIDS.search(plain, begins, ends):
            yield from text.times(begins, ends)


EATEN = regex(r"\W*(?:eat|use|finish|keeps?|good)\b(?!.*\b(?:in|at|on) (?:a|the)\b)")


def _freezes(text: Field, start: int, end: int) -> bool:
    """Whether a heat says that a clause is about a freezer: "or 3 months at 0 °F"."""
    return any(measured.purpose is Purpose.FREEZER for _, measured in text.temperatures(start, end))


FREEZER = regex(r"\bfreez\w*|\bfrozen\b")


def is_bare(words: str) -> bool:
    """Whether what is spoken of keeps by itself: unfilled shells, dry beans, a whole melon, a dough."""
    return _told("bare").search(_plain(words)) is not None and not is_filled(words)


def is_filled(words: str) -> bool:
    """Whether what is spoken of has its filling in it, and so is no longer the part of that name."""
    return _told("filled").search(_plain(words)) is not None


def _plain(text: str) -> str:
    return text.replace("’", "'").lower()
