"""What the small words of a clause say: what goes in, what it goes into, what "it" is."""

from __future__ import annotations

from cardsmith.facts.method.clauses import Clause, nouns
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.mentions import Mention

INTO = frozenset(
    words("in into over on onto to with through around under between across inside among off from")
)
_WHITE = frozenset(words("wine chocolate bread fish rice pepper miso onion bean sugar part"))
_PARTICLES = frozenset(words("in over together on"))
_ENDS = frozenset(words("and until till then for to while a little followed with as along"))
_THESE = frozenset(words("it them everything all this these"))
_TO = frozenset(words("to into onto"))
_STRANDED = frozenset(words("in over"))
_GOES_ON = _ENDS - {"a"} | frozenset(words("by in with at all one half just"))
_UNTIL = frozenset(words("until till when while so if before once as"))


def is_colour(clause: Clause, mention: Mention) -> bool:
    """Whether a "white" that was taken for an egg's is a colour: white sauce, white wine."""
    step_words = [token for token in clause.tokens if token.end >= mention.end]
    white = step_words and step_words[0].end == mention.end and step_words[0].word == "white"
    return bool(
        white
        and mention.end - mention.start <= len("whites")
        and step_words[1:]
        and step_words[1].word in _WHITE | nouns("mixture")
    )


def goes_in(clause: Clause) -> bool:
    """Whether what is prepared goes straight in: grate the nutmeg over, crack the eggs into the pan."""
    clause_words = [token.word for token in clause.tokens if token.start >= clause.at]
    if clause.verb in {"crack", "break"}:
        return bool({"into", "over", "in"} & set(clause_words))
    return "over" in clause_words or ("top" in clause_words and "on" in clause_words)


def pours_in(clause: Clause) -> bool:
    """Whether a clause adds to something it leaves unsaid: "pour in and cook", "whisk it in gradually"."""
    clause_words = [token.word for token in clause.tokens if token.start >= clause.at]
    if clause_words[:1] and clause_words[0] in _THESE:
        clause_words = clause_words[1:]
    after = clause_words[1] if len(clause_words) > 1 else ""
    return (
        clause_words[:1] != []
        and clause_words[0] in _PARTICLES
        and (not after or after in _ENDS or after.endswith("ly"))
    )


def is_stranded(clause: Clause) -> bool:
    """Whether a particle has nothing behind it: "fold in by hand", "sift it over", "stir them in"."""
    step_words = [token for token in clause.tokens if token.start >= clause.at]
    for at, token in enumerate(step_words):
        if token.word in _UNTIL:
            return False
        if token.word not in _STRANDED:
            continue
        behind = step_words[at + 1 : at + 2]
        if not behind or not behind[0].joined or behind[0].word in _GOES_ON or behind[0].word.endswith("ly"):
            return True
    return False


def has_target(clause: Clause) -> bool:
    """Whether a clause says what it adds to: "add the milk to the eggs"."""
    return any(token.word in _TO for token in clause.tokens if token.start >= clause.at)


def says_it(clause: Clause) -> bool:
    """Whether a clause acts on "it", or does something with, to or over it."""
    clause_words = [token.word for token in clause.tokens if token.start >= clause.at]
    for at, word in enumerate(clause_words):
        if word in _UNTIL:
            return False
        if at and clause_words[at - 1] not in INTO:
            continue
        if word in _THESE or (word == "each" and clause_words[at + 1 : at + 2] in ([], ["in"])):
            return True
    return False
