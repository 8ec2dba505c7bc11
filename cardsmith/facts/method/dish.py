"""One recipe with what its foods are and what heat they met: what every rule about them asks."""

from __future__ import annotations

from cardsmith.facts.foods.foods import Identity, identities
from cardsmith.facts.method.clauses import Deed
from cardsmith.facts.method.events import Heat
from cardsmith.facts.method.heat import Histories, History, histories, most
from cardsmith.frozen import frozen
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Larder
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.regex import regex

WIPED = regex(r"\b(?:paper|towels?|cloth|pat|kitchen roll)\b")  # dried, but of its wet surface alone
UNTOUCHED = frozenset({Heat.RAW, Heat.WARMED, Heat.FLAMED})


@frozen(slots=False)
class Dish:
    """One recipe with what its foods are and what heat they met, worked out once."""

    recipe: Recipe
    foods: tuple[Identity, ...]
    histories: Histories

    def line(self, place: int) -> Ingredient:
        """A line of the list."""
        return self.recipe.ingredients[place]

    def history(self, place: int) -> History:
        """What happened to it."""
        return self.histories.lines[place]

    def heat(self, place: int) -> Heat:
        """How far heat got the least heated portion of it."""
        return most(self.history(place), self.foods[place].food, thickness=self.histories.thickness)

    def is_raw(self, place: int) -> bool:
        """Whether it is eaten as it came, and came raw."""
        return not self.foods[place].ready and self.history(place).served and self.heat(place) in UNTOUCHED

    def dries(self, place: int) -> bool:
        """Whether it is dried, in air or in an oven."""
        return any(
            event.verb in {"dry", "dehydrate"} and not WIPED.search(event.text)
            for event in self.history(place).events
        )

    def is_heard_cooking(self, place: int) -> bool:
        """Whether a clause after a line's first use cooks, and names no other food alone.

        Asked before an error that no author can answer, so that a method which is misread causes none.
        """
        clauses = self.histories.clauses
        uses = (clause for clause in clauses if clause.speaks_of(place))
        first = next(uses, None)
        return first is not None and any(
            clause.deed in {Deed.COOK, Deed.BOIL} and (not clause.mentions or clause.speaks_of(place))
            for clause in clauses
            if (clause.step, clause.start) >= (first.step, first.start)
        )


@remembered
def dish(recipe: Recipe, larder: Larder) -> Dish:
    """What is known of a recipe's foods."""
    return Dish(recipe=recipe, foods=identities(recipe, larder), histories=histories(recipe, larder))
