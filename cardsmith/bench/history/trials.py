"""All trials of a recipe side by side: formulas in percent, what each change did, which came from which."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.bench.conditions import Conditions, besides, conditions, degrees, never_said, unsaid
from cardsmith.bench.formula.balance import Balance, balance
from cardsmith.bench.formula.changes import change_in_words, grams, same_food
from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.repeats import Repeats, repeats
from cardsmith.bench.wording import LABELS, measured
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.recipe.model import Ingredient

BAKERS, TOTAL = "baker's percent", "percent of total"
# From this share of flour on, a formula is given in baker's percent (common practice, no source).
FLOUR_SHARE = Fraction(1, 5)


@frozen
class Cell:
    """One ingredient in one trial: a share of one, None where it can't be weighed, 0 where it isn't in."""

    share: Fraction | None
    changed: bool  # relative to the trial this one comes from


@frozen
class HistoryRow:
    """One ingredient through all trials."""

    item: str
    cells: tuple[Cell, ...]


@frozen
class Effect:
    """What one trial changed, and the effect compared with the trial before."""

    trial: Trial
    parent: Trial
    changes: tuple[str, ...]
    differences: tuple[str, ...]  # by more than repeats of one formula differ
    within: tuple[str, ...]  # by no more than repeats differ, each with how far these do
    besides: tuple[str, ...]  # what else differed: hands, place, oven, heat, time
    unsaid: tuple[str, ...]  # what only one of the two trials records
    text: str  # powder −25 % → height −4 mm
    warning: str  # why no single change can be credited; empty where one can


@frozen
class TrialHistory:
    """The whole table."""

    basis: str
    trials: tuple[Trial, ...]
    rows: tuple[HistoryRow, ...]
    balances: tuple[Balance, ...]
    conditions: tuple[Conditions, ...]
    moisture_aim: Fraction | None  # a share of one
    effects: tuple[Effect, ...]
    counts_from: tuple[str, ...]  # the least difference in each measure that repeats don't show
    remarks: tuple[str, ...]  # what limits all that is said of effects
    tree: tuple[str, ...]


def basis_of(trials: tuple[Trial, ...]) -> str:
    """Baker's percent where every formula is built on flour, else percent of the total."""
    shares = [flour / whole for flour, whole in map(_sums, trials) if whole]
    return BAKERS if shares and min(shares) >= FLOUR_SHARE else TOTAL


def _weighed(trial: Trial) -> Iterator[tuple[Ingredient, Fraction | None]]:
    for line in trial.ingredients:
        if not line.for_use:
            yield line, grams(line)


def _sums(trial: Trial) -> tuple[Fraction, Fraction]:
    """Grams of flour, and of everything weighed."""
    flour = whole = Fraction(0)
    for line, weight in _weighed(trial):
        whole += weight or 0
        flour += (weight or 0) * (line.food.share("flour") if line.food else 0)
    return flour, whole


def percents(trial: Trial, basis: str) -> tuple[tuple[Ingredient, Fraction | None], ...]:
    """Every ingredient with its share of the flour or of the total; lines of one food are added up.

    Baker's percent: all flours together are 100 % and everything else is relative to them.
    """
    flour, whole = _sums(trial)
    base = flour if basis == BAKERS else whole
    totals: list[tuple[Ingredient, Fraction | None]] = []
    for line, weight in _weighed(trial):
        share = weight / base if weight is not None and base else None
        place = next((at for at, (known, _) in enumerate(totals) if same_food(known, line)), None)
        if place is None:
            totals.append((line, share))
        else:
            known = totals[place][1]
            both = known + share if known is not None and share is not None else None
            totals[place] = (totals[place][0], both)
    return tuple(totals)


def history(trials: Trials, basis: str = "") -> TrialHistory:
    """The trials side by side; an empty ``basis`` is chosen from the formulas."""
    chosen = basis or basis_of(trials.trials)
    balances = tuple(balance(trial) for trial in trials.trials)
    return TrialHistory(
        basis=chosen,
        trials=trials.trials,
        rows=_rows(trials, chosen),
        balances=balances,
        conditions=tuple(map(conditions, trials.trials)),
        moisture_aim=trials.moisture_aim,
        effects=tuple(_effects(trials)),
        counts_from=tuple(_counts_from(trials)),
        remarks=tuple(_remarks(trials)),
        tree=tuple(_tree(trials)),
    )


def _rows(trials: Trials, basis: str) -> tuple[HistoryRow, ...]:
    columns = [percents(trial, basis) for trial in trials.trials]
    items: list[Ingredient] = []
    for column in columns:
        items += [line for line, _ in column if all(not same_food(line, known) for known in items)]
    numbers = {trial.number: place for place, trial in enumerate(trials.trials)}
    rows = []
    for item in items:
        shares = [
            next((share for line, share in column if same_food(line, item)), Fraction(0))
            for column in columns
        ]
        cells = []
        for place, trial in enumerate(trials.trials):
            before = numbers.get(trial.parent) if trial.parent is not None else None
            meant = any(
                line is not None and same_food(line, item)
                for change in trial.changes
                for line in (change.before, change.after)
            )
            changed = before is not None and meant and shares[place] != shares[before]
            cells.append(Cell(share=shares[place], changed=changed))
        rows.append(HistoryRow(item=item.item, cells=tuple(cells)))
    return tuple(rows)


_BATCH = {"mixed", "in", "out", "cooled"}  # masses of a batch, told by its loss
_LOSS = "loss"


def _loss(trial: Trial) -> Fraction | None:
    return balance(trial).loss


def _repeats(trials: Trials, name: str) -> Repeats | None:
    return repeats(trials, _loss if name == _LOSS else lambda trial: trial.value(name))


def _measured(trials: Trials, trial: Trial, parent: Trial) -> Iterator[tuple[str, Fraction]]:
    """Each measure that differs between the two, and by how much."""
    for name in LABELS:
        now, then = trial.value(name), parent.value(name)
        if now is not None and then is not None and now != then and name not in _BATCH:
            yield name, now - then
    now, then = _loss(trial), _loss(parent)
    if now is not None and then is not None and abs(now - then) >= Fraction(1, 200):
        yield _LOSS, now - then


def _said(name: str, value: Fraction | float, *, difference: bool = False) -> str:
    unit_of = "moisture" if name == _LOSS else name  # both are shares
    return measured(unit_of, Fraction(value), difference=difference)


def _label(name: str) -> str:
    return LABELS.get(name, name)


def _differences(trials: Trials, trial: Trial, parent: Trial) -> Iterator[tuple[str, bool]]:
    """What differs between the two; True where makes of one formula differ as much."""
    for name, by in _measured(trials, trial, parent):
        text = f"{_label(name)} {_said(name, by, difference=True)}"
        repeats = _repeats(trials, name)
        within = repeats is not None and abs(by) <= repeats.limit
        yield (f"{text} ({_limit(name, repeats)})" if repeats and within else text), within
    gone = [fault.text for fault in parent.faults if fault.text not in {fault.text for fault in trial.faults}]
    new = [fault.text for fault in trial.faults if fault.text not in {fault.text for fault in parent.faults}]
    yield from ((f"{fault} gone", False) for fault in gone)
    yield from ((f"now {fault}", False) for fault in new)


def _limit(name: str, repeats: Repeats) -> str:
    return f"±{_said(name, repeats.limit, difference=True).lstrip('+±')}"


def _counts_from(trials: Trials) -> Iterator[str]:
    for name in (*LABELS, _LOSS):
        repeats = _repeats(trials, name) if name not in _BATCH else None
        if repeats is not None:
            limit = _said(name, repeats.limit, difference=True).lstrip("+±")
            yield f"{_label(name)} {limit} ({repeats.makes} makes)"


def _remarks(trials: Trials) -> Iterator[str]:
    changed = any(trial.changes for trial in trials.trials)
    if changed and not any(trial.is_repeat for trial in trials.trials):
        yield "No formula was made twice, so nothing here tells an effect from chance: make one again."
    silent = never_said(trials.trials)
    if changed and silent:
        yield f"No trial records {listed(silent, 'or')}: what is said of a change takes these as unchanged."


def _effects(trials: Trials) -> Iterator[Effect]:
    for trial in trials.trials:
        parent = trials.get(trial.parent) if trial.parent is not None else None
        if parent is None:
            continue
        changes = tuple(change_in_words(change) for change in trial.changes)
        told_of = tuple(_differences(trials, trial, parent))
        differences = tuple(text for text, within in told_of if not within)
        within = tuple(text for text, within in told_of if within)
        also, silent = besides(trial, parent), unsaid(trial, parent)
        again = f"trial {parent.number} again" + (f", with {listed(also)}" if also else "")
        cause = listed(changes) or again
        came = ", ".join(differences) or "nothing measured differs"
        if within and differences:
            came += f"; within what repeats differ by: {', '.join(within)}"
        elif within:
            came = f"nothing beyond what repeats differ by: {', '.join(within)}"
        yield Effect(
            trial=trial,
            parent=parent,
            changes=changes,
            differences=differences,
            within=within,
            besides=also,
            unsaid=silent,
            text=f"{cause} → {came}",
            warning=_warning(changes, also, silent) if told_of or _compared(trial, parent) else "",
        )


def _compared(trial: Trial, parent: Trial) -> bool:
    """Whether both measured anything, so that something is said of what the change did."""
    return bool(set(trial.measured) & set(parent.measured))


def _warning(changes: tuple[str, ...], also: tuple[str, ...], silent: tuple[str, ...]) -> str:
    """Why what came of it, if only nothing, can't be credited to one change; a repeat credits nothing."""
    reasons = [f"{len(changes)} things changed ({listed(changes)})"] if len(changes) > 1 else []
    reasons += [f"{listed(also)} besides"] if also else []
    reasons += [f"only one of the two records {listed(silent)}"] if silent else []
    if not changes or not reasons:
        return ""
    whom = "any one of them" if len(changes) > 1 else "the change alone"
    return f"{'; '.join(reasons)}: the effect can't be credited to {whom}"


def _tree(trials: Trials) -> Iterator[str]:
    """The family tree in box-drawing characters, one trial a line."""
    for trial in trials.trials:
        if trial.parent is None:
            yield _leaf(trial)
            yield from _below(trials, trial, "")


def _below(trials: Trials, parent: Trial, lead: str) -> Iterator[str]:
    children = [trial for trial in trials.trials if trial.parent == parent.number]
    for place, child in enumerate(children):
        last = place == len(children) - 1
        yield f"{lead}{'└─ ' if last else '├─ '}{_leaf(child, parent)}"
        yield from _below(trials, child, lead + ("   " if last else "│  "))


def _again(trial: Trial, parent: Trial) -> str:
    """``again``, with its dial where that was another."""
    dial = trial.oven.dial
    return "again" if dial is None or trial.oven.is_set_like(parent.oven) else f"again, dial {degrees(dial)}"


def _leaf(trial: Trial, parent: Trial | None = None) -> str:
    what = listed([change_in_words(change) for change in trial.changes])
    what = what or ("first formula" if parent is None else _again(trial, parent))
    return f"{trial.number}  {what}" + (f"  [{trial.call}]" if trial.call else "")
