"""When a recipe may be called tested: made several times in a row with one result, by others, elsewhere.

"A standardized recipe is one that has been tried, adapted, and retried several times for use by a given
foodservice operation and has been found to produce the same good results and yield every time when the exact
procedures are used with the same type of equipment and the same quantity and quality of ingredients":
Measuring Success with Standardized Recipes (USDA Food and Nutrition Service with the National Food Service
Management Institute, 2002; quoted from memory). How often that is, the house says in ``sign_off``.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.wording import measured, several, share
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.measure.units import COLUMN_NAMES
from cardsmith.recipe.model import Recipe
from cardsmith.words import Said

YIELDS = ("cooled", "out", "pieces")
GOOD = ("keep", "settle")  # verdicts that let a make count


@frozen
class SignOffStanding:
    """How far a formula has come. ``missing`` says what is still to do; empty where it is tested."""

    trial: int
    makes: tuple[Trial, ...]  # consistent, in a row, the latest last
    elsewhere: tuple[Trial, ...]  # of these, by someone else in another kitchen
    columns: tuple[str, ...]  # cooked from
    missing: tuple[str, ...]

    @property
    def tested(self) -> bool:
        """Whether the word may be printed."""
        return not self.missing

    @property
    def text(self) -> Said:
        """``made 3 times with the same result, once in another kitchen, from the US and metric columns``."""
        match [Said(name) for name in map(COLUMN_NAMES.__getitem__, self.columns)]:
            case [only]:
                return Said("{made}, from the {column} column", made=self.whatever_column, column=only)
            case [only, other]:
                both = {"made": self.whatever_column, "column": only, "other": other}
                return Said("{made}, from the {column} and {other} columns", **both)
            case _:
                return self.whatever_column

    @property
    def whatever_column(self) -> Said:
        """The same of a card without columns: ``made 3 times with the same result, once in another …``."""
        match len(self.makes), len(self.elsewhere):
            case 1, 0:
                return Said("made once")
            case makes, 0:
                return Said("made {count} times with the same result", count=makes)
            case makes, 1:
                once = "made {count} times with the same result, once by another cook in another kitchen"
                return Said(once, count=makes)
            case makes, elsewhere:
                return Said(
                    "made {count} times with the same result, {others} times by other cooks in other "
                    "kitchens",
                    count=makes,
                    others=elsewhere,
                )


def _yield(trial: Trial) -> str:
    """The first measure of its yield that a trial took; empty where it took none."""
    return next((name for name in YIELDS if trial.value(name) is not None), "")


def _alike(trial: Trial, other: Trial, spread: Fraction) -> bool:
    """Whether two makes gave as much, by the first yield that both measured."""
    for name in YIELDS:
        mine, its = trial.value(name), other.value(name)
        if mine is not None and its is not None:
            return abs(mine - its) <= spread * min(mine, its)
    return False


def standing(trials: Trials, number: int, house: House) -> SignOffStanding | None:
    """How far the formula of a trial has come by the house's rule; None where there is no such trial."""
    settled, rule = trials.get(number), house.sign_off
    if settled is None:
        return None
    makes = _row(trials.makes(settled), rule.spread)
    others = tuple(
        make
        for make in makes
        if make.cook and make.kitchen and make.cook != settled.cook and make.kitchen != settled.kitchen
    )
    columns = tuple(name for name in COLUMN_NAMES if any(make.cooked_from == name for make in makes))
    return SignOffStanding(
        trial=number,
        makes=makes,
        elsewhere=others,
        columns=columns,
        missing=tuple(_missing(trials.makes(settled), makes, others, columns, house)),
    )


def _row(makes: tuple[Trial, ...], spread: Fraction) -> tuple[Trial, ...]:
    """The latest consecutive makes with the same result, each judged good enough to print."""
    row: list[Trial] = []
    for trial in reversed(makes):
        if trial.call not in GOOD or not _yield(trial):
            break
        if not all(_alike(make, trial, spread) for make in row):
            break
        row.append(trial)
    return tuple(reversed(row))


def _missing(
    makes: tuple[Trial, ...],
    row: tuple[Trial, ...],
    others: tuple[Trial, ...],
    columns: tuple[str, ...],
    house: House,
) -> Iterator[str]:
    rule = house.sign_off
    if len(row) < rule.makes:
        yield f"{several(rule.makes - len(row), 'more make')} with the same result"
        stopped = [make for make in makes if make not in row]
        if stopped:
            last = stopped[-1]
            name = _yield(last)
            if not name:
                yield f"trial {last.number} records no yield"
            elif last.call in GOOD:
                gave = measured(name, last.value(name) or Fraction(0))
                yield f"trial {last.number} gave {gave}, more than {share(rule.spread)} from the others"
            else:
                yield f"trial {last.number} was not judged good enough ({last.call or 'no verdict'})"
    if len(others) < rule.elsewhere:
        yield f"{several(rule.elsewhere - len(others), 'make')} by someone else in another kitchen"
    if rule.each_column:
        for column, name in COLUMN_NAMES.items():
            if column in house.order and column not in columns:  # each that is printed
                yield f"a make from the {name} column"


def tested_text(recipe: Recipe, trials: Trials | None, house: House, printed: tuple[str, ...]) -> str:
    """What the card may say of its testing; empty until the house's rule is met.

    ``printed`` are the systems of the card: one that has but one has no columns to tell of.
    """
    if recipe.tested is None or trials is None or not recipe.tested.trial.isdigit():
        return ""
    held = standing(trials, int(recipe.tested.trial), house)
    if held is None or not held.tested:
        return ""
    return held.text if len(printed) > 1 else held.whatever_column
