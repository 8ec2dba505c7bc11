"""A recipe with every number in both systems. Renderers read this and compute nothing."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.language.spans import Protected, Purpose, Words
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Ingredient, Recipe


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """One printed amount: its words and the exact value those words stand for, in base units.

    Fractions are Unicode vulgar fractions (``1½ cups``); where none exists, U+2044 (``1⁄16 inch``).
    A no-break space stands between number and unit.
    """

    text: str  # as in the list: ½ cup + 1 tbsp
    low: Fraction
    high: Fraction
    dimension: Dimension
    long: str = ""  # as in a sentence: ½ cup plus 1 tablespoon; empty where it is the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Dual:
    """One amount in both systems, and where it came from."""

    author: str  # as measured at the bench: "200 g"
    exact: Fraction  # the author's amount in base units of ``dimension`` (middle of a range)
    dimension: Dimension
    metric: Printed | None  # None where this system has no number of its own ("3 eggs")
    us: Printed | None
    density: Fraction | None = None  # g per ml used to go between mass and volume
    assumed: str = ""  # what the conversion rests on: "120 g per cup, spooned (USDA SR 28, food 20081)"
    metric_error: Fraction | None = None  # printed over exact, less one
    us_error: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CardIngredient:
    """A line of the list as printed."""

    line: Ingredient
    amount: Dual | None
    item: str  # words after the amount, "large egg whites"
    prep: str  # "toasted", "divided", "plus extra for the pan"
    weigh: str = ""  # why this one should be weighed, when its cup is too uncertain


@dataclass(frozen=True, slots=True, kw_only=True)
class Rewritten:
    """A measure in running text, in both systems: ``160 °C (325 °F)``."""

    text: str  # both, joined the house way
    metric: str
    us: str
    author: str
    where: Where
    purpose: Purpose | None = None
    exact: Fraction | None = None  # the author's measure in base units of ``dimension``
    ingredient: str = ""  # key of the ingredient this is drawn from
    dimension: Dimension | None = None
    us_error: Fraction | None = None  # printed over exact, less one; None where no share can say it
    metric_error: Fraction | None = None
    assumed: str = ""  # what the step between mass, volume and count rests on


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed(Words):
    """A time in running text, the same in both systems: words, and the seconds a timer would run."""

    low: Fraction
    high: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class CardStep:
    """A numbered step; the number runs through all parts."""

    number: int
    where: Where
    spans: tuple[Words | Protected | Rewritten, ...]
    uses: tuple[int, ...] = ()  # positions, in the lists of all parts, of the ingredients this step uses


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPart:
    """A component: its list and its steps."""

    name: str
    ingredients: tuple[CardIngredient, ...]
    steps: tuple[CardStep, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """Everything that is printed, in reading order."""

    recipe: Recipe
    headnote: tuple[Words | Protected | Rewritten, ...]
    makes: str  # "Makes 60 crackers (about 6 g / ¼ oz each)"
    serves: str  # "Serves 10"
    active: str  # "35 minutes"
    total: str  # "1 hour 40 minutes"
    equipment: tuple[str, ...]
    parts: tuple[CardPart, ...]
    cautions: tuple[str, ...]
    us_allergens: tuple[str, ...]
    eu_allergens: tuple[str, ...]
    notes: tuple[tuple[Words | Protected | Rewritten, ...], ...]
    storage: tuple[Words | Protected | Rewritten, ...]
    claims: tuple[str, ...]
    credit: str
    agreement: str  # how closely the two columns agree, in one sentence
    unknown_foods: tuple[str, ...] = ()  # items of which nobody can say what allergens they hold
    tested: str = ""  # "made 3 times with the same result …"; empty until the house's rule is met

    @property
    def printed(self) -> tuple[str, ...]:
        """Every amount, measure and allergen as printed, in reading order; the headnote's stand apart."""
        told = [self.makes, self.serves, *self.equipment]
        for part in self.parts:
            for line in part.ingredients:
                if line.amount:
                    told += [one.text if one else "" for one in (line.amount.us, line.amount.metric)]
            told += [text for step in part.steps for text in _measures(step.spans)]
        told += [text for spans in (*self.notes, self.storage) for text in _measures(spans)]
        return (*told, "US", *self.us_allergens, "EU", *self.eu_allergens)


def _measures(spans: tuple[Words | Protected | Rewritten, ...]) -> list[str]:
    return [text for span in spans if isinstance(span, Rewritten) for text in (span.us, span.metric)]
