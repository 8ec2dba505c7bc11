"""What lies with what: the steps walked in order, so that heat reaches what it is given to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from cardsmith.facts.method.clause_words import INTO, goes_in
from cardsmith.facts.method.clauses import HEATING, JOINING, Clause, Deed, nouns
from cardsmith.facts.method.events import BATH, Event, heat_of, off_the_heat
from cardsmith.facts.method.pot_references import HOLDERS, Pots, goes_inside
from cardsmith.facts.method.pots import EMPTY_WORDS, Pot, once
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.regex import regex

_IN_HAND = frozenset(words("it them everything"))
_HOLD = frozenset(words("hold keep maintain"))
_FORMS = frozenset(words("shape form flatten"))
_BACK = frozenset(words("back return same"))


class Walker(Pots):
    """Follows one recipe clause by clause."""

    def walk(self, clauses: Sequence[Clause]) -> None:
        """All clauses in order."""
        for clause in clauses:
            self.clock += 1
            if clause.part != self.part:
                self.part = clause.part
                self.before, self.focus, self.hand = self.focus, [], []
            self._clause(clause)
        self._settle()

    def _settle(self) -> None:
        """Flour and egg that no clause speaks of once "bake for 30 minutes" has: they lay in the tin."""
        for portion, pot in self.pots.items():
            is_flour = portion.line in self.flours
            if portion.events or not (is_flour or (self.flours and portion.line in self.eggs)):
                continue
            for clock, part, event in self.unsaid:
                if pot.used < clock and (pot.part <= part if is_flour else pot.part == part):
                    portion.events.append(event)

    def _clause(self, clause: Clause) -> None:
        direct, oblique = self._spoken_of(clause)
        named, under = self._referred(clause, [*direct, *oblique])
        oblique = once([*oblique, *under])
        if clause.deed is Deed.PREPARE and not goes_in(clause):
            self.hand = once([*direct, *oblique]) or self.hand
            for pot in self.hand:
                pot.used = self.clock
            if clause.verb in _FORMS and len(self.hand) > 1:
                self.hand = [self._merged(self.hand, clause, [])]
                self._name(clause, self.hand)
                self._turn_to(self.hand)
            return
        if off_the_heat(clause) or clause.deed is Deed.COOL:
            for pot in self.focus:
                pot.is_on = False
        if clause.deed in (Deed.COOL, Deed.SHAPE):
            self._aside(clause, [*direct, *named])
            self._put_aside(clause, self.focus)
            return
        self._fill_bath(clause)
        if self._empty_vessel(clause, bool(direct or oblique or named)):
            self.hand = []
            return
        pots = self._objects(clause, direct, oblique, named)
        self.hand = []
        if not pots:
            return
        joining = clause.deed in JOINING | {Deed.PREPARE} or goes_inside(clause)
        together = joining and (clause.deed is not Deed.DRY or len(pots) == 1)
        hot = [pot for pot in pots if pot.is_on and pot.portions]
        syrup = max((pot.celsius for pot in pots if pot.celsius is not None), default=None)
        event = self._bathed(clause, heat_of(clause, is_on=bool(hot), syrup=syrup))
        if together:
            pots = [self._merged(pots, clause, oblique)]
        self._heat(clause, pots, event)
        if event is not None and clause.deed in HEATING and not (direct or oblique or named):
            self.unsaid.append((self.clock, clause.part, event))
        self._name(clause, pots)
        self._turn_to(pots)
        self._put_aside(clause, pots)

    def _put_aside(self, clause: Clause, pots: list[Pot]) -> None:
        """What is cooked and goes on a plate leaves the pan empty: what is added next doesn't go to it."""
        aside = clause.says(_ON_PLATE) and any(part.events for pot in pots for part in pot.portions)
        for pot in pots:
            pot.is_aside = bool(aside)
        if aside:
            self.before, self.focus = pots, [Pot(part=clause.part, is_on=True, used=self.clock)]

    def _fill_bath(self, clause: Clause) -> None:
        """Remember how hot a bath is made before anything goes in, until the food is taken out."""
        if clause.says(BATH) and clause.deed is not Deed.COOK:
            heats = [
                measured.quantity.low
                for measured in clause.temperatures
                if measured.quantity.low <= _BATH_MOST
            ]
            self.bath = max(heats, default=self.bath)
        if clause.says(_LEAVES_BATH):
            self.bath = None

    def _bathed(self, clause: Clause, event: Event | None) -> Event | None:
        """What a clause does in the bath that was heated before: cook, hold or leave for a time."""
        if self.bath is None or clause.says(_ELSEWHERE) or (event is not None and event.bath is not None):
            return event
        if event is None:
            in_it = clause.deed in (Deed.MIX, Deed.LEAVE, Deed.COOK) and clause.seconds
            event = heat_of(replace(clause, deed=Deed.COOK), is_on=False, syrup=None) if in_it else None
        return replace(event, bath=self.bath) if event is not None and clause.seconds else event

    def _heat(self, clause: Clause, pots: list[Pot], event: Event | None) -> None:
        for pot in pots:
            pot.used = self.clock
            if event is not None:
                if clause.verb in _HOLD and event.celsius is None:
                    before = [
                        heat_event.celsius for portion in pot.portions for heat_event in portion.events[-1:]
                    ]
                    event = replace(event, celsius=next(filter(None, before), None))
                lines = frozenset(part.line for part in pot.portions)
                heat_event = replace(event, lines=lines, has_flesh=not lines.isdisjoint(self.flesh))
                for portion in pot.portions:
                    portion.events.append(heat_event)
                pot.is_on = event.goes_on
                pot.celsius = event.syrup or (pot.celsius if clause.deed not in HEATING else None)

    # what a clause speaks of ------------------------------------------------------------------------

    def _empty_vessel(self, clause: Clause, has_food: bool) -> bool:
        """Whether a clause heats a pan, water or the oven, and no food."""
        if has_food or clause.deed is Deed.NONE:
            return False
        objects = [token for token in clause.tokens if token.start >= clause.at]
        empty = descriptors() | EMPTY_WORDS
        first = next((token.word for token in objects if token.word not in empty), "")
        if objects and objects[0].word in _IN_HAND:
            return False  # "put them in a pot with fresh water"
        words_of = {token.word for token in objects[:8]}
        if "water" in words_of and clause.deed in HEATING | {Deed.MIX} and not words_of & _BACK:
            if clause.deed is Deed.BOIL and first not in nouns("vessel") | {"water"}:
                return False
            if clause.verb not in {"heat", "bring", "boil", "fill", "put", "warm"}:
                return clause.verb in {"pour", "add"}
            self._new_pot(clause)
            return True
        before = takewhile(lambda token: token.word != first, objects)
        on_it = any(token.word in INTO for token in before)  # "heat the strips on racks"
        if first in nouns("idle") and (clause.deed is Deed.WARM or clause.verb in _TURNS) and not on_it:
            return True
        vessel = first in nouns("vessel") and not {"on", "in"} & {clause.tokens[0].word}
        if vessel and (clause.deed is Deed.WARM or clause.verb in {"put", "place", "set"}):
            if not words_of & _BACK:
                self._new_pot(clause)
            return True
        return False

    def _new_pot(self, clause: Clause) -> None:
        self.before = self.focus or self.before
        self.focus = [Pot(part=clause.part, is_on=True, used=self.clock)]

    # what comes of it -------------------------------------------------------------------------------

    def _aside(self, clause: Clause, pots: list[Pot]) -> None:
        """Cooling, shaping: nothing is joined, and what is named comes to hand."""
        for pot in pots:
            pot.is_on = False
        if pots:
            self._turn_to(pots)
        self.hand = []

    def _merged(self, pots: list[Pot], clause: Clause, oblique: list[Pot]) -> Pot:
        """One pot of several; hot food poured over cold leaves the heat, not what cold is added to."""
        first, *others = pots
        clause_words = [token.word for token in clause.tokens if token.start >= clause.at]
        onto_cold = clause_words[:1] != ["in"] and any(pot.portions and not pot.is_on for pot in oblique)
        is_on = any(pot.is_on for pot in pots) and clause.deed is not Deed.SERVE
        first.is_on = is_on and not (onto_cold and clause.deed is Deed.MIX)
        for pot in others:
            for portion in pot.portions:
                self.pots[portion] = first
            first.portions |= pot.portions
            first.names |= pot.names
            first.celsius = max(filter(None, (first.celsius, pot.celsius)), default=None)
        first.used = self.clock
        return first

    def _name(self, clause: Clause, pots: list[Pot]) -> None:
        if len(pots) != 1:
            return
        pots[0].names |= {token.word for token in clause.tokens} & HOLDERS
        for at, token in enumerate(clause.tokens):
            if token.word in nouns("mixture") - {"mixture"} and self._is_new(clause, at):
                pots[0].names.add(token.word)
        if pots[0].part == clause.part and len(pots[0].portions) > 1:
            pots[0].names |= self.own[clause.part]

    def _turn_to(self, pots: list[Pot]) -> None:
        if pots != self.focus:
            self.before = [pot for pot in self.focus if pot not in pots and pot.portions] or self.before
        self.focus = pots


_TURNS = frozenset(words("reduce lower raise increase"))  # the oven, and no sauce
_ON_PLATE = regex(r"\b(?:to|onto|on to|on) (?:\w+ ){0,3}(?:plates?|platter)\b")
_BATH_MOST = 95  # °C
_LEAVES_BATH = regex(r"\b(?:take|lift|remove|pull)\b.*\b(?:out|from)\b|\bcool\w*\b|\bice\b")
_ELSEWHERE = regex(
    r"\b(?:pan|skillet|oven|grill|oil|butter|fry|sear|brown|rest|refrigerat\w*|chill\w*|marinat\w*|wok|griddle)\b"
)
