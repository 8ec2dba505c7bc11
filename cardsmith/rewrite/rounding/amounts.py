"""All amounts of a recipe in both systems: what is rounded together, what adds up, what is the same.

Parts that share a variable are rounded in one window.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from fractions import Fraction
from itertools import product

from cardsmith.finding import Finding, Severity, Where
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.measure.units import COLUMN_NAMES, Dimension
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.printed import Dual
from cardsmith.rewrite.rounding.counted import as_said, printables
from cardsmith.rewrite.rounding.dual import dual, single_dual
from cardsmith.rewrite.rounding.food_amount import FoodAmount, food_amount_of
from cardsmith.rewrite.rounding.joint import Choice, Option, choose, least_drift
from cardsmith.rewrite.rounding.printable import Printable, by_tool
from cardsmith.rewrite.rounding.variables import Variable, formulas, loose_draws, variables
from cardsmith.rewrite.wording import short

MOST_OPTIONS_A_DRAW = 8
TASTED = 2  # times the house's limit, no more than one cup of flour differs from another: common practice
DRAW_TOLERANCE = Fraction(3, 20)  # a draw may stand further off than its total: their sum must be exact
FACTORS = tuple(Fraction(eighths, 8) for eighths in range(4, 25))  # batches of ½ to 3


@frozen
class Way:
    """One way to print a variable: its total, and its draws so that they add up."""

    total: Printable
    draws: tuple[Printable, ...] = ()
    adds_up: bool = True

    @property
    def option(self) -> Option:
        """What joint rounding needs to know of it."""
        cost = sum((printable.cost for printable in self.draws), self.total.cost)
        return Option(error=self.total.error, cost=cost)


@frozen
class Rounded:
    """Every amount by the place it stands at, the drift of each system, and what could not be met."""

    amounts: Mapping[Where, Dual] = field(default_factory=dict)
    drift: Mapping[str, Fraction] = field(default_factory=dict)  # us, metric: the worst ratio
    findings: tuple[Finding, ...] = ()


def round_amounts(recipe: Recipe, house: House) -> Rounded:
    """Both columns of every list and every draw, from the author's amounts."""
    numbers = variables(recipe)
    chosen: dict[str, list[Way]] = {}
    drifts: dict[str, Fraction] = {}
    findings: list[Finding] = []
    for system in ("us", "metric"):
        chosen[system], drifts[system], unmet = _choose_all(numbers, house, system, formulas(recipe))
        findings += unmet if system in house.order else ()  # nobody asks of a column that isn't printed
    amounts = dict(_range_duals(recipe, house))
    for place, variable in enumerate(numbers):
        us, metric = chosen["us"][place], chosen["metric"][place]
        total = dual(variable.subject, variable.written, us.total.printed, metric.total.printed)
        amounts.update(dict.fromkeys(variable.lines, total))
        for drawn, printable, other in zip(variable.draws, us.draws, metric.draws, strict=True):
            amounts[drawn.where] = dual(drawn.subject, drawn.written, printable.printed, other.printed)
    findings += _no_tool(amounts, recipe) if "us" in house.order else ()
    return Rounded(amounts=amounts, drift=drifts, findings=tuple(findings))


def _range_duals(recipe: Recipe, house: House) -> Iterator[tuple[Where, Dual]]:
    for line in recipe.ingredients:
        amount = line.amount
        if amount is not None and amount.is_range and not amount.is_vague and amount.low > 0:
            yield line.where, single_dual(food_amount_of(amount, line), amount.written, house)
    for drawn in loose_draws(recipe):
        yield drawn.where, single_dual(drawn.subject, drawn.written, house)


# --- the ways to print it -----------------------------------------------------------------------------


def _tolerance(variable: Variable, house: House) -> Fraction:
    """By role; what is too little to govern has the tolerance of other ingredients."""
    name = variable.subject.role_class
    return house.tolerances["other" if name == "governing" and not variable.governing else name]


def _ways_of(group: Sequence[Variable], house: House, system: str) -> list[list[Way]]:
    """The ways to print each variable of a group: the one its author used, where all of them have it."""
    said: list[list[Way]] = []
    for variable in group:
        way = None if variable.draws else as_said(variable.subject, house, system)
        if way is None:
            return [_ways(other, house, system) for other in group]
        said.append([Way(total=way)])
    return said


def _ways(variable: Variable, house: House, system: str) -> list[Way]:
    spread = _tolerance(variable, house)
    totals = printables(variable.subject, house, spread, system)
    if not variable.draws:
        return [Way(total=total) for total in totals]
    draws = [
        _nearest_few(drawn.subject, house, max(spread, DRAW_TOLERANCE), system) for drawn in variable.draws
    ]
    adding = list(_adding_up(totals, draws))
    if adding:
        return adding
    counted = totals[0].printed.dimension is Dimension.COUNT
    # 6 and 2 tablespoons are no number of sticks: a check adds up what was written.
    unlike = counted and all(few[0].printed.dimension is not Dimension.COUNT for few in draws)
    return [Way(total=total, draws=tuple(few[0] for few in draws), adds_up=unlike) for total in totals]


def _nearest_few(subject: FoodAmount, house: House, spread: Fraction, system: str) -> list[Printable]:
    every = printables(subject, house, spread, system)
    return sorted(every, key=lambda printable: (abs(printable.error), printable.cost))[:MOST_OPTIONS_A_DRAW]


def _adding_up(totals: Sequence[Printable], draws: Sequence[Sequence[Printable]]) -> Iterator[Way]:
    """Totals that are exactly the sum of their draws as printed, the cheapest draws for each total.

    Draws are added one at a time, the cheapest for each sum so far: all combinations would be too many.
    """
    for dimension in dict.fromkeys(total.printed.dimension for total in totals):
        wanted = {total.printed.least: total for total in totals if total.printed.dimension is dimension}
        most = max(wanted)
        sums: dict[Fraction, tuple[Fraction, tuple[Printable, ...]]] = {Fraction(0): (Fraction(0), ())}
        for few in draws:
            longer: dict[Fraction, tuple[Fraction, tuple[Printable, ...]]] = {}
            for (value, (cost, picked)), printable in product(sums.items(), few):
                reached = value + printable.printed.least
                if printable.printed.dimension is not dimension or reached > most:
                    continue
                if reached not in longer or cost + printable.cost < longer[reached][0]:
                    longer[reached] = (cost + printable.cost, (*picked, printable))
            sums = longer
        yield from (Way(total=wanted[value], draws=sums[value][1]) for value in wanted if value in sums)


# --- choosing -----------------------------------------------------------------------------------------


def _choose_all(
    variables: list[Variable], house: House, system: str, formula: frozenset[int]
) -> tuple[list[Way], Fraction, list[Finding]]:
    """The chosen way for each variable, the worst drift of any part, and findings.

    ``formula`` holds the parts in which a drift is tasted.
    """
    picked: dict[int, Way] = {}
    worst = Fraction(0)
    findings: list[Finding] = []
    for group in _groups(variables):
        mine = [variables[place] for place in group]
        ways = _ways_of(mine, house, system)
        options = [[way.option for way in few] for few in ways]
        choice = choose(options, house.ratio_limit)
        if choice is None:
            choice = _least_bad(options)
            tasted = choice.drift > TASTED * house.ratio_limit and any(
                variable.parts & formula for variable in mine
            )
            severity = Severity.WARNING if tasted else Severity.NOTE
            findings += _cannot_hold(mine, ways, choice, house, system, severity)
        for place, few, pick in zip(group, ways, choice.picks, strict=True):
            picked[place] = few[pick]
        worst = max(worst, choice.drift)
    chosen = [picked[place] for place in range(len(variables))]
    findings += _do_not_add_up(variables, chosen, system)
    return chosen, worst, findings


def _least_bad(options: list[list[Option]]) -> Choice:
    choice = choose(options, least_drift(options))
    if choice is None:
        raise AssertionError("the least drift is the drift of a choice")
    return choice


def _groups(variables: list[Variable]) -> list[list[int]]:
    """Variables that share a window: those of one part, and of parts that share one; else each alone."""
    groups: list[tuple[set[int], list[int]]] = []
    for place, variable in enumerate(variables):
        joined = [group for group in groups if group[0] & variable.parts]
        parts = set(variable.parts).union(*(group[0] for group in joined))
        places = sorted([place, *(other for group in joined for other in group[1])])
        groups = [group for group in groups if not group[0] & variable.parts] + [(parts, places)]
    return [places for _, places in groups]


def _cannot_hold(
    variables: list[Variable],
    ways: list[list[Way]],
    choice: Choice,
    house: House,
    system: str,
    severity: Severity,
) -> Iterator[Finding]:
    """Name the amount whose rounding spoils the ratios, how far it is off, and what would help."""
    errors = [few[pick].total.error for few, pick in zip(ways, choice.picks, strict=True)]
    middle = sorted(errors)[len(errors) // 2]
    place = max(range(len(errors)), key=lambda number: abs(errors[number] - middle))
    variable, printed = variables[place], short(ways[place][choice.picks[place]].total.printed)
    factor = _batch_that_fits(variables, house, system)
    batch = f", or make {_factor_text(factor)} the batch, which comes out round" if factor else ""
    yield Finding(
        name="ratio-drift",
        severity=severity,
        where=variable.lines[0],
        what=(
            f"{variable.item}: {variable.written} prints as {printed} in the {COLUMN_NAMES[system]} column, "
            f"{_percent(errors[place])} off, and moves a ratio of the formula by {_percent(choice.drift)} "
            f"(house limit {_percent(house.ratio_limit)})"
        ),
        instead=f"ask the reader to weigh it{batch}",
        width=len(variable.written),
    )


def _batch_that_fits(variables: list[Variable], house: House, system: str) -> Fraction | None:
    """The batch factor nearest to 1 at which the whole part comes out inside the limit."""
    for factor in sorted(FACTORS, key=lambda times: (max(times, 1 / times), times)):
        scaled = [variable.times(factor) for variable in variables]
        pieces = [
            variable.subject.exact for variable in scaled if variable.subject.dimension is Dimension.COUNT
        ]
        if factor == 1 or any(number.denominator != 1 for number in pieces):
            continue
        if choose(
            [[way.option for way in _ways(variable, house, system)] for variable in scaled], house.ratio_limit
        ):
            return factor
    return None


def _do_not_add_up(variables: list[Variable], picked: list[Way], system: str) -> Iterator[Finding]:
    for variable, way in zip(variables, picked, strict=True):
        if not way.adds_up:
            parts = ", ".join(short(printable.printed) for printable in way.draws)
            yield Finding(
                name="draws-do-not-add-up",
                severity=Severity.WARNING,
                where=variable.lines[0],
                what=(
                    f"{variable.item}: the {COLUMN_NAMES[system]} column lists {short(way.total.printed)} "
                    f"but the steps draw {parts}, which is not the same"
                ),
                instead="divide it in amounts that measure out, such as halves or whole tablespoons",
                width=len(variable.written),
            )


def _no_tool(amounts: Mapping[Where, Dual], recipe: Recipe) -> Iterator[Finding]:
    """What no spoon, no cup and no kitchen scale of the house measures prints in decimals of an ounce."""
    for line in recipe.ingredients:
        dual = amounts.get(line.where)
        if dual and not by_tool(dual.us):
            yield Finding(
                name="no-us-measure",
                severity=Severity.NOTE,
                where=line.where,
                what=(
                    f"{line.item}: no US spoon, cup or kitchen scale measures {dual.author} near enough; "
                    f"the US column prints {short(dual.us)}"
                ),
                instead="an amount that a spoon measures, or how many (strands, drops, leaves)",
                width=len(dual.author),
            )


def _percent(share: Fraction) -> str:
    return f"{abs(float(share)) * 100:.1f} %"


def _factor_text(factor: Fraction) -> str:
    return f"{float(factor):g} times"
