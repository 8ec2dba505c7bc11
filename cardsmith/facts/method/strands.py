"""The strands of a method: which foods are worked together, and which of them nothing ever joins to the rest.

A strand begins where a clause takes foods of its own in hand (*Whisk the flour and salt*) and goes on while
clauses add to it (*stir in the milk*) or name nothing at all (*chill for an hour*). A clause that names foods
of several strands joins them; so does one that pours what is in hand over something without a name.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache

from cardsmith.facts.method.clause_words import INTO, pours_in, says_it
from cardsmith.facts.method.clauses import HEATING, Clause, Deed, nouns
from cardsmith.facts.method.dish import Dish
from cardsmith.facts.method.heat import MEDIA
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.mentions.mentions import How
from cardsmith.recipe.mentions.naming import CONNECTING, descriptors
from cardsmith.regex import regex

SPICES = ("role:spice", "role:herb", "role:salt")


@dataclass(eq=False, slots=True)
class Strand:
    """Foods worked together."""

    lines: set[int] = field(default_factory=set)
    clauses: list[int] = field(default_factory=list)  # that act on it, by place
    made: set[str] = field(default_factory=set)  # nouns by which its clauses or its part call it


class _Walk:
    """Follows one recipe clause by clause."""

    def __init__(self, dish: Dish) -> None:
        recipe = dish.recipe
        self.clauses = dish.histories.clauses
        self.part = [number for number, part in enumerate(recipe.parts) for _ in part.ingredients]
        self.names = [_nouns(part.name) for part in recipe.parts]
        self.strands: list[Strand] = []
        self.recipe = recipe
        self.media = {place for place, identity in enumerate(dish.foods) if is_of(identity.food, MEDIA)}
        self.spices = {place for place, identity in enumerate(dish.foods) if is_of(identity.food, SPICES)}

    def walk(self) -> None:
        for place, clause in enumerate(self.clauses):
            self._clause(place, clause)

    def _clause(self, place: int, clause: Clause) -> None:
        lines = self._lines(clause)
        if _ALL.search(_order(clause)):
            self._join(place, self.strands, lines)
            return
        into = _INTO_THE.search(clause.text) is not None  # "fold into the butter", which is creamed by now
        fed = [
            strand
            for strand in self.strands
            if strand.lines & lines - (self.media if not into or len(strand.lines) < 2 else set())
        ]
        called, unknown = self._called(clause)
        fed += [strand for strand in called if strand not in fed]
        if not lines and not called and not unknown:
            if not _idle(clause):
                fries = self._is_of_media() and clause.deed in HEATING
                self._join(place, self.strands[-2 if fries or _puts_in(clause) else -1 :], lines)
            return
        if not lines and not called:  # "whisk them in until the sauce thickens"
            fed = self.strands[-2 if _puts_in(clause) or "serve" in clause.text else -1 :]
        adds = unknown or self._adds(clause) or self._is_of_media()
        if adds:
            poured = fed == self.strands[-1:]  # "pour in the custard": into what lay before it
            over = _OVER.search(_order(clause)) is not None or _IT_IN.search(_order(clause)) is not None
            poured = poured or (says_it(clause) and over)
            in_hand = poured and clause.deed is not Deed.SERVE
            fed += [strand for strand in self.strands[-2 if in_hand else -1 :] if strand not in fed]
        self._join(place, fed, lines)

    def _is_of_media(self) -> bool:
        """Whether nothing but fat, with spices in it, or water is in hand, in which what comes next cooks."""
        lines = self.strands[-1].lines if self.strands else set()
        return bool(lines & self.media) and lines <= self.media | self.spices

    def _join(self, place: int, strands: Sequence[Strand], lines: set[int]) -> None:
        """One strand of several, and what a clause adds, now in hand."""
        kept = Strand()
        for strand in strands:
            kept.lines |= strand.lines
            kept.clauses += strand.clauses
            kept.made |= strand.made
        kept.lines |= lines
        kept.clauses = sorted({*kept.clauses, place})
        kept.made |= self._makes(self.clauses[place]) | self._part_nouns(kept)
        self.strands = [strand for strand in self.strands if strand not in strands]
        if kept.lines or strands:
            self.strands.append(kept)

    def _lines(self, clause: Clause) -> set[int]:
        """The lines a clause takes; of those that one word may mean, the ones listed with the others."""
        spoken: dict[int, set[int]] = {}
        ends = clause.start + len(_order(clause))
        for mention in clause.mentions:
            if mention.how is not How.CUE and mention.start < ends:
                spoken.setdefault(mention.start, set()).add(mention.line)
        sure = {line for lines in spoken.values() if len(lines) == 1 for line in lines}
        taken = set(sure)
        parts = {self.part[line] for line in sure}
        parts = {p for p in parts if self.names[p] & {word.word for word in clause.tokens}} or parts
        for lines in spoken.values():
            if len(lines) > 1:
                mine = {line for line in lines if self.part[line] in parts}
                taken |= mine or lines
        return taken

    def _called(self, clause: Clause) -> tuple[list[Strand], bool]:
        """The strands that a clause takes up by a noun, and whether it takes up one that nobody knows."""
        covered = [(mention.start, mention.end) for mention in clause.mentions]
        called: list[Strand] = []
        unknown = False
        ends = clause.start + len(_order(clause))
        for at, token in enumerate(clause.tokens):
            if token.start >= ends:
                break
            named = any(token.word in names for names in self.names)
            if token.word not in _mixtures() and not named:
                continue
            if any(start <= token.start < end for start, end in covered) or _is_new(clause, at):
                continue
            before = clause.tokens[at - 1].word if at else ""
            mine = [strand for strand in self.strands if token.word in strand.made]
            mine = mine or [strand for strand in self.strands if before in self._item_words(strand)][-1:]
            mine = mine or [strand for strand in self.strands[:-1] if self._is_nameless(strand)][-1:]
            called += [strand for strand in mine if strand not in called]
            unknown = unknown or not mine
        return called, unknown

    def _is_nameless(self, strand: Strand) -> bool:
        """Whether several foods were stirred together, and nobody has said yet what they are."""
        stirred = all(self.clauses[place].deed in _STIRRED for place in strand.clauses)
        return stirred and len(strand.lines) > 1 and not strand.made

    def _item_words(self, strand: Strand) -> set[str]:
        return {word for line in strand.lines for word in words(self.recipe.ingredients[line].item)}

    def _makes(self, clause: Clause) -> set[str]:
        step_words = clause.tokens
        return {
            word.word
            for at, word in enumerate(step_words)
            if word.word in _mixtures() and _is_new(clause, at)
        }

    def _part_nouns(self, strand: Strand) -> set[str]:
        parts = {self.part[line] for line in strand.lines}
        return set(self.names[parts.pop()]) if len(parts) == 1 and len(self.names) > 1 else set()

    def _adds(self, clause: Clause) -> bool:
        """Whether a clause adds to what is in hand: "stir in the milk", "toss with the oil", "add it"."""
        after = next((token.word for token in clause.tokens if token.start >= clause.at), "")
        if after in INTO or says_it(clause) or pours_in(clause):
            return True
        return (
            clause.verb in _ADDING
            or clause.deed is Deed.SERVE
            or _OVER.search(_order(clause)) is not None
            or clause.says(_IN)
            or clause.says(_TO_BOWL)
        )


def strands(dish: Dish) -> tuple[Strand, ...]:
    """What is left apart at the end, the last in hand at the end."""
    walk = _Walk(dish)
    walk.walk()
    return tuple(walk.strands)


@cache
def _mixtures() -> frozenset[str]:
    return nouns("mixture")


def _nouns(name: str) -> frozenset[str]:
    return frozenset(words(name)) - descriptors() - CONNECTING


def _is_new(clause: Clause, at: int) -> bool:
    """Whether a noun is what a clause makes: to a paste, for the dressing, into a dough."""
    before = [word.word for word in clause.tokens[max(at - 3, 0) : at]]
    if "the" in before:
        return before[-2:] in (["for", "the"], ["make", "the"])
    return bool({"a", "an", "into"} & set(before))


def _order(clause: Clause) -> str:
    """What a clause orders, without what it waits for: "until both are tender"."""
    return _UNTIL.split(clause.text, 1)[0]


def _puts_in(clause: Clause) -> bool:
    """Whether a clause puts what is in hand to what lay before it, and names neither: "add to the bowl"."""
    put = clause.verb == "return" or clause.says(_IN) or (pours_in(clause) and not clause.says(_ON_A))
    return put or clause.says(_TO_BOWL) or _OVER.search(_order(clause)) is not None


def _idle(clause: Clause) -> bool:
    """Whether a clause heats the oven or a pan, and no food."""
    return clause.deed is Deed.WARM or clause.says(_OVEN)


_STIRRED = frozenset({Deed.MIX, Deed.NONE, Deed.LEAVE, Deed.COOL})
_INTO_THE = regex(r"\b(?:fold|stir|beat|mix|whisk|work)(?: \w+){0,3} into the\b")
_ADDING = frozenset(
    words("add return season garnish sprinkle scatter drizzle pour top dot finish moisten deglaze brush dust")
    + words("sift glaze stud decorate dollop crumble fill stuff dip coat spread dredge press")
)
_UNTIL = regex(r"\b(?:until|till|so that|when|as soon as)\b|, (?:press|scrap|leav|discard|keep)ing\b")
_ALL = regex(
    r"\b(?:everything|both|all|layers?|assembl\w*|together|the rest(?! of)|components?"
    r"|(?:remaining|other) (?:ingredients|mixture))\b"
)
_OVER = regex(
    r"\b(?:over(?! (?:a |an |the )?(?:\w+[ -])?(?:heat|flame|water))|on top|onto|on to|inside"
    r"|(?:between|among) the|through(?!,))\b"
)
_ON_A = regex(r"\b(?:on|in|over) a\b")
_IN = regex(
    r"\b(?:pour|stir|tip|fold|whisk|beat|mix|put|it|them) (?:back )?in\b(?! (?:a|the|an|your)\b)|\bpour in\b"
)
_IT_IN = regex(r"\b(?:stir|fold|whisk|beat|mix|tip) (?:it|them|this) in\b(?! (?:a|the|an|your)\b)")
_TO_BOWL = regex(
    r"\badd (?:it |them )?to\b|\binto the (?:bowl|well|mixer|processor)\b"
    r"|\b(?:it|them|this)\b[^,]* (?:in|on|over|into|onto|to) the\b"
    r"|\b(?:into|onto) (?:each|them|the (?:hollows?|wells?|holes?|dips?|middles?))\b"
)
_OVEN = regex(
    r"\b(?:heat|preheat|line|grease|butter|oil) (?:the|a|an|your) (?:\w+[ -]){0,3}"
    r"(?:oven|grill|tin|pan|tray)\b"
)
