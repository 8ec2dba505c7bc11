"""Signs that something is done: which deeds want one, and whether the words around a deed give it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from functools import cache

from cardsmith.check.sentences import Sentence, sentences
from cardsmith.facts.foods.roles import YEASTS
from cardsmith.facts.method.clauses import HEATING, OF_FOOD, Clause, Deed, core
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import Purpose
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Larder, words
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from cardsmith.regex import regex


@frozen
class TimedDeed:
    """A deed that takes a time; how gravely a sign, a time, or either of them is asked for, if at all."""

    sort: str  # heat, dry, chill, rise, whip
    cue: Severity | None
    time: Severity | None
    either: Severity | None


@cache
def timed_verbs() -> Mapping[str, TimedDeed]:
    """Every verb of the table, as `words` spells it."""
    return {
        words(verb)[0]: TimedDeed(
            sort=row["sort"],
            cue=_severity(row["cue"]),
            time=_severity(row["time"]),
            either=_severity(row["neither"]),
        )
        for row in table("timed_verbs")
        for verb in row["verb"].split("|")
    }


def _severity(cell: str) -> Severity | None:
    return Severity(cell) if cell else None


# "Leave to rise", "let the dough prove", "put it in the oven to bake": the deed is the other verb.
_HOLDS = frozenset(words("keep hold store"))
_LETS = frozenset(words("leave let allow"))


def timed_deed(clause: Clause) -> TimedDeed | None:
    """What takes a time in a clause; None where nothing of the table does."""
    if _AWAITED.search(clause.text[: clause.at - clause.start]):
        return None
    mine = timed_verbs().get("cook" if clause.says(_GOES_ON) else clause.verb)
    if mine is not None:
        return None if clause.verb == "dry" and not (clause.temperatures or clause.says(_IN_AIR)) else mine
    before = ""
    for token in clause.tokens:
        is_verb = before == "to" or (clause.verb in _LETS and before not in _NOUN_BEFORE)
        if is_verb and token.start >= clause.at and token.word in timed_verbs():
            return timed_verbs()[token.word]
        before = token.word
    if clause.deed in (Deed.MIX, Deed.LEAVE) and clause.verb not in _HOLDS and clause.says(_OVEN):
        return timed_verbs()["bake"]
    return None


_GOES_ON = regex(
    r"^\W*(?:then )?(?:(?:go|carry|keep) on|keep|continue)(?: to)?"
    r" (?:simmer|cook|bak|roast|boil|stew|brais|fry)"
    r"|\bgive (?:it|them|the \w+|each)(?: \w+)? (?:another|a further|an? extra|.* more\b)"
)
_AWAITED = regex(r"\b(?:while|as|when|before|after|once|if)\b[^,;]*$")  # "while the dough rises"
_OVEN = regex(
    r"\b(?:in|into|to|under) (?:the|a|an|your) (?:\w+[ -]){0,3}"
    r"(?:oven|grill|broiler|microwave|smoker|steamer)\b(?!-)"  # no microwave-safe bowl
)
_DRY, _RISE = (words(word)[0] for word in ("dry", "rise"))
_DRIER = regex(r"\b(?:dehydrator|drying|string|line)\b")
_LEAVES = frozenset(words("leave stand rest"))
_A_RISE = 40 * 60  # s; a dough that only relaxes is left for less: common practice, no source
_COLD = regex(r"\b(?:refrigerat\w*|fridge|chill\w*|freez\w*|overnight)\b")
_FLOUR = ("role:flour",)
# And no towel: "dry the leaves".
_IN_AIR = regex(r"\b(?:oven|dehydrator|smoker|sun|air\w*|rack|hang\w*|string|line|warm)\b")
_NOUN_BEFORE = frozenset(words("the a an this that each first second final last in"))

# What a sentence looks for: a moment, or what the food looks, feels, sounds or smells like by then.
POINT = regex(
    r"\b(?:until|till|when|once (?=the |it |they |this |these |all |you )|as soon as"
    r"|so that|so (?:it|they|the)|if (?:it|they)|or to|by (?:then|which)"
    r"|before (?:it|they)|to (?:a|an|the) (?!boil|simmer|bubble|bare|gentle|rolling|full|slow|quick|lively"
    r"|steady|oven|pan|pot|heat|plate|board|bowl|dish|tray|rack|wire|jug|sheet|tin|fridge|refrigerator"
    r"|freezer|cool|warm|second|large|clean|maximum|total|further)\w)"
)
STATE = regex(
    r"\b(?:golden|browned|browning|(?:deep |dark |light |pale |lightly |nicely |well |evenly |richly )brown"
    r"|crisp\w*|crunchy|tender|soft\w*|firm\w*|set|springy|spring\w* back|hollow|clean|wobbl\w*|jiggl\w*"
    r"|trembl\w*|quiver\w*|opaque|translucent|done|ready|charred|blister\w*|puff\w*|risen|doubled|double"
    r"|foamy|bubbly|bubbling|caramel\w*|sticky|glossy|glaz\w+|dry|dark|pale|fragrant|aromatic|creamy|smooth"
    r"|thick\w*|reduced|by (?:half|a third)|evaporat\w*|absorbed|collaps\w*|wilted|melted|melting|flak\w+"
    r"|cooked|through|pink|clear|al dente|medium[- ]rare|rare|peaks?|ribbons?|fluffy|airy|silky|stiff"
    r"|leathery|brittle|pliable|bends?|snaps?|cracks?|cracked|sour|tangy|falls? (?:apart|from)|falling"
    r"|pulls? away|comes? away|gives? way|yields?|resist\w*|piping hot|steaming|sizzl\w*|colou?r\w*)\b"
)
# Words that a sentence about the food begins with, and no order to the cook does.
_SUBJECTS = frozenset(words("the they it its their this these those you each some expect look"))
_TESTS = frozenset(
    words("take remove lift check test insert pull turn tap pierce poke prick prod skewer stop")
)
_TELLS = regex(
    r"\b(?:should|will|must|looks?|feels?|sounds?|smells?|reads?|comes?|reach\w*|turns?|wants?|has|have|is|are|a)\b"
)


COOLS = regex(r"\b(?:cool\w*|cold|rest|rests|chill\w*|lukewarm)\b")  # "turn out and cool until cold"


def gives_sign(clause: Clause) -> bool:
    """Whether a clause says, from its verb on, what to look for or how hot the inside must get."""
    if core(clause) or any(measured.purpose is Purpose.SYRUP for measured in clause.temperatures):
        return True
    bare = _without_foods(clause)
    return POINT.search(bare) is not None or STATE.search(bare) is not None


def _without_foods(clause: Clause) -> str:
    """A clause from its verb on, less the names of foods: nobody looks for soft butter."""
    pieces, at = [], clause.at
    for mention in clause.mentions:
        if mention.end > at:
            pieces.append(clause.text[at - clause.start : max(mention.start, at) - clause.start])
            at = mention.end
    return " ".join([*pieces, clause.text[at - clause.start :]])


class Signs:
    """Where the steps of one recipe say that something is done."""

    def __init__(self, recipe: Recipe, larder: Larder) -> None:
        self.sentences = sentences(recipe)
        self.dish = dish(recipe, larder)
        self.clauses = self.dish.histories.clauses
        starts = [(other.number - 1, other.start) for other in self.sentences]
        self._sentence = [bisect_right(starts, (clause.step, clause.end - 1)) - 1 for clause in self.clauses]
        self._lines: dict[tuple[int, int], set[int]] = {}
        self._baths: set[tuple[int, int]] = set()
        for history in self.dish.histories.lines:
            for event in history.events:
                self._lines.setdefault((event.step, event.start), set()).update(event.lines)
                if event.bath is not None:
                    self._baths.add((event.step, event.start))

    def clause_at(self, step: int, at: int) -> int | None:
        """The place of the clause that holds a character of a step."""
        places = (
            place
            for place, clause in enumerate(self.clauses)
            if clause.step == step and clause.start <= at < clause.end
        )
        return next(places, None)

    def lines(self, place: int) -> frozenset[int]:
        """The lines that a clause acts on, as far as that was followed."""
        clause = self.clauses[place]
        named = {mention.line for mention in clause.mentions}
        return frozenset(self._lines.get((clause.step, clause.start), set()) | named)

    def deed(self, place: int) -> TimedDeed | None:
        """What takes a time in a clause, by its own words or by what it goes on with.

        Rings on dehydrator trays are dried; a dough with yeast that is left for an hour rises.
        """
        clause = self.clauses[place]
        mine = timed_deed(clause)
        if mine is not None:
            return mine
        before = self.clauses[place - 1] if place else clause
        if clause.verb == _DRY and before.step == clause.step and before.says(_DRIER):
            return timed_verbs()[_DRY]
        return timed_verbs()[_RISE] if self._is_left_to_rise(place) else None

    def _is_left_to_rise(self, place: int) -> bool:
        clause = self.clauses[place]
        if clause.verb not in _LEAVES or clause.seconds < _A_RISE or clause.says(_COLD):
            return False
        earlier = [before for before in self.clauses[:place] if before.part == clause.part]
        foods = [self.dish.foods[mention.line].food for other in earlier for mention in other.mentions]
        lies = any(is_of(food, YEASTS) for food in foods) and any(is_of(food, _FLOUR) for food in foods)
        baked = any(before.deed in HEATING for before in self.clauses[:place] if before.part == clause.part)
        return lies and not baked

    def in_bath(self, place: int) -> bool:
        """Whether what it acts on lies in a water bath, in its bag."""
        clause = self.clauses[place]
        return (clause.step, clause.start) in self._baths

    def sentence(self, place: int) -> Sentence:
        """The sentence that a clause stands in."""
        return self.sentences[self._sentence[place]]

    def beside(self, place: int) -> tuple[Clause, ...]:
        """The clauses of a clause's sentence, from there on, and of the next in its step."""
        mine, number = self.clauses[place], self._sentence[place]
        pairs = zip(self.clauses[place:], self._sentence[place:], strict=True)
        return tuple(clause for clause, its in pairs if its <= number + 1 and clause.step == mine.step)

    def are_by(self, place: int) -> bool:
        """Whether a sign stands by a clause: in it, or in what describes or tests the food beside it."""
        mine, number = self.clauses[place], self._sentence[place]
        if gives_sign(mine):
            return True
        for other, its in zip(self.clauses[place + 1 :], self._sentence[place + 1 :], strict=True):
            if its != number:
                break
            same = timed_deed(other) == timed_deed(mine)
            if (same or other.verb in _TESTS or other.deed is Deed.NONE) and gives_sign(other):
                return True
        near = [
            self.sentences[at]
            for at in range(max(number - 1, 0), number + 3)
            if at != number and at < len(self.sentences)
        ]
        return any(
            self._describes(other_sentence)
            for other_sentence in near
            if 0 <= other_sentence.number - 1 - mine.step <= 1
        )

    def _describes(self, sentence: Sentence) -> bool:
        """Whether a sentence says how the food is by then: "The middle still wobbles", "Test it with …"."""
        own_words = words(sentence.text)[:1]
        if not own_words or own_words[0] not in _SUBJECTS | _TESTS:
            return False
        text = sentence.text.lower()
        inside = any(measured.purpose in OF_FOOD for _, measured in sentence.measures)
        if own_words[0] in _TESTS:
            tells = POINT.search(text) is not None and COOLS.search(text) is None
            return inside or tells or "should" in text
        return inside or (_TELLS.search(text) is not None and STATE.search(text) is not None)


@remembered
def signs(recipe: Recipe, larder: Larder) -> Signs:
    """The signs of a recipe, worked out once."""
    return Signs(recipe, larder)
