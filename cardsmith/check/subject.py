"""What a check looks at: the recipe, the larder, the house, and facts worked out once for all checks."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cached_property, lru_cache

from cardsmith.bench.model import Trials
from cardsmith.check.components import components
from cardsmith.check.fields import Field, fields, named, steps
from cardsmith.check.sentences import Sentence, sentences
from cardsmith.facts.foods.roles import role_class
from cardsmith.facts.kinds import kind_of
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Food, Larder
from cardsmith.portion.estimate import Estimate, total
from cardsmith.portion.finished import Finished, finished
from cardsmith.portion.nutrition import of_portion
from cardsmith.portion.shares import LineShare, shares
from cardsmith.recipe.mentions.groups import is_heading
from cardsmith.recipe.mentions.mentions import Mentions
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.model import Ingredient, Part, Recipe
from cardsmith.recipe.weighed import Mass, weigh
from cardsmith.reference import Tables


@frozen(slots=False)
class Formula:
    """Parts judged together: how many grams act in each role, by the larder's shares."""

    parts: tuple[Part, ...]
    lines: tuple[tuple[Ingredient, Mass | None], ...]  # neither optional nor "for the pan"

    @cached_property
    def roles(self) -> Mapping[str, Fraction]:
        """Grams by role; ``total`` is everything weighed."""
        return _sums(self.lines)

    @cached_property
    def free(self) -> Mapping[str, Fraction]:
        """Grams by role without what stays inside pieces: the water of fruit, the sugar of chocolate."""
        return _sums(tuple((line, mass) for line, mass in self.lines if not _encloses(line.food)))

    @cached_property
    def unweighed(self) -> frozenset[str]:
        """Roles that cannot be summed, since a line acting in them has no weight; ``total`` among them.

        A seasoning without a weight (4 sprigs of thyme) does not spoil the total.
        """
        roles: set[str] = set()
        for line, mass in self.lines:
            if mass is None and not (line.to_taste or is_heading(line)):
                roles.update(line.food.roles if line.food else ())
                if line.food is None or role_class(line.food) != "seasoning":
                    roles.add("total")
        return frozenset(roles)


ENCLOSING = ("fruit", "vegetable", "chocolate", "nut", "seed", "meat", "poultry", "fish", "cheese")


@lru_cache(maxsize=1 << 12)
def _encloses(food: Food | None) -> bool:
    return food is not None and food.is_mainly(*ENCLOSING)


def _sums(lines: tuple[tuple[Ingredient, Mass | None], ...]) -> dict[str, Fraction]:
    sums: dict[str, Fraction] = {"total": Fraction(0)}
    for line, mass in lines:
        if mass is not None:
            sums["total"] += mass.grams
            for role, share in (line.food.roles if line.food else {}).items():
                sums[role] = sums.get(role, Fraction(0)) + mass.grams * share
    return sums


@remembered  # asked for the card, then for the checks
def _masses(recipe: Recipe) -> Mapping[int, Mass]:
    lines = enumerate(recipe.ingredients)
    by_place = {place: weigh(line, line.amount) for place, line in lines if line.amount is not None}
    return {place: mass for place, mass in by_place.items() if mass is not None}


@remembered
def _formulas(recipe: Recipe) -> dict[tuple[int, ...], Formula]:
    """Those of a recipe that were worked out, by its parts."""
    return {}


@frozen(slots=False)
class Subject:
    """One recipe on the bench. Everything here is worked out once, when a check first asks."""

    recipe: Recipe
    larder: Larder
    house: House
    trials: Trials | None = None  # what stands in trials.yaml beside the recipe
    printed: tuple[str, ...] = ()  # the numbers and allergens that the card prints, in order
    editions: tuple[tuple[str, tuple[str, ...]], ...] = ()  # of each further edition its words and numbers

    @property
    def tables(self) -> Tables:
        """What the kitchen knows: our tables, the house's rows joined to them."""
        return self.recipe.tables

    @cached_property
    def kind(self) -> str:
        """The recipe's kind as the tables name it; empty where it has none that they know."""
        return kind_of(self.recipe)

    @cached_property
    def masses(self) -> Mapping[int, Mass]:
        """What each line weighs, by its place in ``recipe.ingredients``; no weight, no entry."""
        return _masses(self.recipe)

    @property
    def components(self) -> tuple[Part, ...]:
        """The parts as they are judged: in a single list, what dresses the baked mixture is its own."""
        return components(self.recipe, self.larder)

    def formula(self, parts: tuple[Part, ...]) -> Formula:
        """The formula of ``parts`` taken together, worked out once."""
        name, known = tuple(id(part) for part in parts), _formulas(self.recipe)
        if name not in known:
            known[name] = self._formula(parts)
        return known[name]

    def _formula(self, parts: tuple[Part, ...]) -> Formula:
        places = {id(line): place for place, line in enumerate(self.recipe.ingredients)}
        return Formula(
            parts=parts,
            lines=tuple(
                (line, self.masses.get(places[id(line)]))
                for part in parts
                for line in part.ingredients
                if not (line.for_use or line.optional)
            ),
        )

    @cached_property
    def fields(self) -> tuple[Field, ...]:
        """Every text that people write, the steps first."""
        return fields(self.recipe)

    @cached_property
    def steps(self) -> tuple[Field, ...]:
        """The steps, each at its place in ``recipe.steps``."""
        return steps(self.recipe)

    @cached_property
    def storage(self) -> Field:
        """What is said about keeping."""
        return named(self.recipe, "storage")

    @cached_property
    def headnote(self) -> Field:
        """The words before the list."""
        return named(self.recipe, "headnote")

    @cached_property
    def sentences(self) -> tuple[Sentence, ...]:
        """Every sentence of the method."""
        return sentences(self.recipe)

    @cached_property
    def shares(self) -> tuple[LineShare, ...]:
        """What is eaten of each line."""
        return shares(self.recipe)

    @cached_property
    def finished(self) -> Finished:
        """The batch as it is served."""
        return finished(self.recipe, total(share.eaten for share in self.shares), trials=self.trials)

    def portion(self, nutrient: str) -> Estimate | None:
        """What one portion holds of a nutrient; None where nobody can tell how many there are."""
        return of_portion(self.shares, nutrient, self.finished)

    @cached_property
    def mentions(self) -> Mentions:
        """Which step speaks of which ingredient."""
        return read_mentions(self.recipe, self.larder)
