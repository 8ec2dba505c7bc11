"""The state a step takes a food in (beaten, melted, soaked), and which deed leaves it so."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import pairwise

from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.foods.foods import Identity
from cardsmith.facts.method.clauses import HEATING, Clause, deeds
from cardsmith.facts.method.dish import Dish
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import cell, is_of
from cardsmith.recipe.mentions.mentions import How, Mention
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import table
from cardsmith.regex import regex


@frozen
class FoodState:
    """One state: the words that call a food so, and the deeds that leave it so."""

    name: str
    told: frozenset[str]  # beaten, whipped: as `words` spells them
    deeds: frozenset[str]  # verbs; empty where any heat will do
    signs: Phrases | None  # other words of a step by which it is reached: peaks
    foods: tuple[str, ...]
    names: frozenset[str]  # words of which its name in the step has one: white; empty where any will do
    lack: Severity | None  # how gravely it is asked for where no step brings it about

    def is_made_by(self, clause: Clause) -> bool:
        """Whether a clause leaves what it acts on in this state."""
        by_verb = clause.verb in self.deeds if self.deeds else clause.deed in HEATING
        return (
            by_verb or clause.says(_HOT) or (self.signs is not None and bool(self.signs.search(clause.text)))
        )


@frozen
class Unready:
    """A step takes a food in a state that no step before leaves it in."""

    state: FoodState
    told: str  # as the step calls it: beaten
    clause: Clause
    mention: Mention
    later: Clause | None  # the one that does, too late


@cache
def food_states() -> tuple[FoodState, ...]:
    """All rows of the table."""
    return tuple(
        FoodState(
            name=row["state"],
            told=frozenset(words(row["told"].replace("|", " "))),
            deeds=frozenset(words(row["deeds"].replace("|", " "))),
            signs=phrases(row["signs"]),
            foods=cell(row["foods"]),
            names=frozenset(words(row["names"].replace("|", " "))),
            lack=Severity(row["lack"]) if row["lack"] else None,
        )
        for row in table("food_states")
    )


@cache
def _by_word() -> dict[str, tuple[FoodState, ...]]:
    by_name: dict[str, tuple[FoodState, ...]] = {}
    for state in food_states():
        for word in state.told:
            by_name[word] = (*by_name.get(word, ()), state)
    for verb in deeds():  # the sliced onion, which only a later step slices
        for word in _participles(verb):
            any_food = FoodState(
                name=verb,
                told=frozenset({word}),
                deeds=frozenset({verb}),
                signs=None,
                foods=(),
                names=frozenset(),
                lack=None,
            )
            by_name[word] = (*by_name.get(word, ()), any_food)
    return by_name


def _participles(verb: str) -> tuple[str, ...]:
    """How a verb calls what it was done to, where grammar tells: sliced, chopped, drained."""
    if verb.endswith("e"):
        return (f"{verb}d",)
    return (f"{verb}ed", f"{verb}{verb[-1]}ed")


_HOT = regex(r"\b(?:in|into|under|over|on) (?:the|a|an) (?:\w+[ -])?(?:oven|grill|broiler|microwave)\b")
_THE = frozenset(words("the"))
_GAP = 4  # words at most between "the" and the name of the food


def unready(dish: Dish) -> Iterator[Unready]:
    """Each food that a step calls beaten, melted or soaked before, or without, a step that makes it so."""
    clauses = dish.histories.clauses
    seen: set[tuple[int, str]] = set()
    for number, clause in enumerate(clauses):
        for mention in clause.mentions:
            texts, begins = _called(clause, mention)
            food = dish.foods[mention.line]
            for word in texts:
                state = next(
                    (other for other in _by_word()[word] if _may_be(clause, mention, food, other)),
                    None,
                )
                if state is None or (mention.line, word) in seen:
                    continue
                seen.add((mention.line, word))
                meant = [other.line for other in clause.mentions if other.start == mention.start]
                if any(_comes_so(dish.line(place), dish.foods[place], state) for place in meant):
                    continue
                if any(_makes(dish, earlier, mention.line, state) for earlier in clauses[:number]):
                    continue
                if _begins_so(clause, begins, state):
                    continue
                later = next(
                    (
                        other
                        for before, other in pairwise(clauses[number:])
                        if _orders(other, mention.line, state) or _follows(before, other, mention.line, state)
                    ),
                    None,
                )
                yield Unready(state=state, told=word, clause=clause, mention=mention, later=later)


def _called(clause: Clause, mention: Mention) -> tuple[tuple[str, ...], int]:
    """The words for states by which a clause calls a food that it has in hand, and where its name begins.

    Only what has an article was made before: *the* beaten whites.
    """
    before = [word for word in clause.tokens if word.start < mention.end][::-1]
    if mention.how is not How.CUE:
        for length, step_word in enumerate(before[: _GAP + 1]):
            if step_word.word in _THE:
                between = (
                    other for other in clause.mentions if step_word.start < other.start < mention.start
                )
                if any(other.end <= mention.start for other in between):
                    break  # "the boiled beans, onions and water": the beans alone
                names = (other.word for other in before[:length])
                return tuple(word for word in names if word in _by_word()), step_word.start
    return (), mention.start


def _may_be(clause: Clause, mention: Mention, food: Identity, state: FoodState) -> bool:
    """Whether a food can be in a state, by what it is and by the noun that names it."""
    named = {word.word for word in clause.tokens if mention.start <= word.start < mention.end}
    return (not state.foods or is_of(food.food, state.foods)) and (
        not state.names or bool(named & state.names)
    )


def _comes_so(line: Ingredient, food: Identity, state: FoodState) -> bool:
    """Whether the list has it so already: *2 eggs, beaten*; canned beans are cooked."""
    listed = set(words(f"{line.text} {line.prep}"))
    heated = not state.deeds and bool(food.ready)
    return (
        heated
        or bool(listed & (state.told | state.deeds))
        or bool(state.signs is not None and state.signs.search(line.text))
    )


def _makes(dish: Dish, clause: Clause, line: int, state: FoodState) -> bool:
    """Whether a clause leaves a line in a state, as far as its words tell of this line, or of none."""
    named = {mention.line for mention in clause.mentions}
    mine = line in named or not named or line in _acted_on(dish, clause, line)
    return mine and state.is_made_by(clause)


def _acted_on(dish: Dish, clause: Clause, line: int) -> frozenset[int]:
    """The lines that lay together when a clause's heat reached this one."""
    for event in dish.history(line).events:
        if (event.step, event.start) == (clause.step, clause.start):
            return event.lines
    return frozenset()


def _begins_so(clause: Clause, begins: int, state: FoodState) -> bool:
    """Whether the clause itself, before it names the food, makes it so."""
    before = clause.text[: begins - clause.start]
    return bool(state.signs is not None and state.signs.search(before)) or clause.verb in state.told


def _orders(clause: Clause, line: int, state: FoodState) -> bool:
    """Whether a later clause orders the deed on the very food."""
    mine = any(mention.line == line and mention.how is not How.CUE for mention in clause.mentions)
    return mine and (clause.verb in state.deeds if state.deeds else clause.deed in HEATING)


def _follows(before: Clause, clause: Clause, line: int, state: FoodState) -> bool:
    """Whether a clause without a food orders it on that of the clause before: "boil the pasta. Drain."."""
    alone = not clause.mentions and clause.step == before.step and clause.verb in state.deeds
    return alone and any(mention.line == line and mention.how is not How.CUE for mention in before.mentions)
