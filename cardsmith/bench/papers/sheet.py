"""The sheet a trial is written on at the bench: targets and blanks, in the order of ``trials.yaml``."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.bench.formula.balance import mixture
from cardsmith.bench.formula.changes import change_in_words, grams, read_change, read_method
from cardsmith.bench.formula.start import start_of
from cardsmith.bench.model import TrialChange, Trials
from cardsmith.bench.wording import LABELS, UNITS, figure
from cardsmith.finding import CardsmithError, Where
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.measure.larder import Larder
from cardsmith.recipe.file.tree import Scalar
from cardsmith.recipe.model import Part, Recipe, Text

LONG = 9  # rows that leave room for the log of a whole afternoon; more stand side by side


@frozen
class SheetRow:
    """One ingredient: what is meant to go in, beside a blank for what went in.

    Preparation, and the weight of what is measured by the spoon, stand only where the list is short.
    """

    item: str
    target: str
    prep: str
    changed: bool
    heading: bool = False  # the name of a part


@frozen
class Sheet:
    """One trial's sheet."""

    recipe: str
    number: int
    start: str  # "trial 6", "the recipe", "nothing yet"
    changes: tuple[str, ...]
    flag: str  # more than one change: asks why
    why: str
    expect: str  # what it should give; empty for a blank
    blocks: tuple[tuple[SheetRow, ...], ...]  # one, or two side by side where the list is long
    total: str
    steps: tuple[str, ...]
    dry: str  # when a dried piece is done
    measures: tuple[tuple[str, str], ...]  # label, unit


def plan(
    recipe: Recipe | None,
    trials: Trials | None,
    larder: Larder,
    *,
    parent: int | None = None,
    changes: tuple[str, ...] = (),
    method: tuple[str, ...] = (),
    why: str = "",
    expect: str = "",
) -> Sheet:
    """The sheet for the next trial: the formula of ``parent`` (else the latest kept) with its changes.

    Raises:
        CardsmithError: there is nothing to start from, no such trial, or a change that fits nothing.
    """
    before = start_of(trials, parent)
    if before is None and recipe is None:
        raise CardsmithError("there is neither a recipe nor a trial to start from")
    parts: tuple[Part, ...] = before.parts if before else recipe.parts if recipe else ()
    made: list[TrialChange] = []
    for text in changes:
        scalar = Scalar(text=text, where=Where(file="--change", line=1, column=1))
        parts, change, faults = read_change(scalar, parts, before.number if before else 0, larder)
        if change is None:
            raise CardsmithError(f"--change {text!r}: {faults[0].what}; {faults[0].instead}")
        made.append(change)
    made += [read_method(Text(text=text, where=Where(file="--method"))) for text in method]
    number = max((trial.number for trial in trials.trials), default=0) + 1 if trials else 1
    changed = {id(change.after) for change in made}
    mixed = mixture(tuple(line for part in parts for line in part.ingredients))
    flag = f"{len(made)} things change: whatever comes of it, no one of them can be credited. Why together?"
    name = recipe.title if recipe else trials.name.replace("-", " ").capitalize() if trials else ""
    return Sheet(
        recipe=name,
        number=number,
        start=f"trial {before.number}" if before else "the recipe",
        changes=tuple(change_in_words(change) for change in made),
        flag=flag if len(made) > 1 else "",
        why=why,
        expect=expect,
        blocks=_blocks(tuple(row for part in parts for row in _rows(part, changed))),
        total=f"{figure(mixed.mass)} g" + (f" without {listed(mixed.unweighed)}" if mixed.unweighed else ""),
        steps=tuple(step.text for part in parts for step in part.steps),
        dry=_dry(trials, mixed.solids[0], known=not mixed.unweighed),
        measures=tuple((label, UNITS[key]) for key, label in LABELS.items()),
    )


def _blocks(rows: tuple[SheetRow, ...]) -> tuple[tuple[SheetRow, ...], ...]:
    if len(rows) <= LONG:
        return (rows,)
    short = tuple(replace(row, prep="", target=row.target.partition(" (")[0]) for row in rows)
    half = (len(rows) + 1) // 2
    return short[:half], short[half:]


def _rows(part: Part, changed: set[int]) -> tuple[SheetRow, ...]:
    rows = [SheetRow(item=part.name, target="", prep="", changed=False, heading=True)] if part.name else []
    for line in part.ingredients:
        weight = grams(line)
        written = line.amount.written if line.amount else "to taste"
        weighed = f"{figure(weight)} g" if weight is not None else ""
        target = written if weighed in ("", written) else f"{written} ({weighed})"
        rows.append(
            SheetRow(
                item=line.item,
                target=target,
                prep=", ".join(filter(None, (line.prep, line.for_use))),
                changed=id(line) in changed,
            )
        )
    return tuple(rows)


def _dry(trials: Trials | None, solids: Fraction, *, known: bool) -> str:
    """When a piece that is to hold so much water has lost enough, for each 100 g that went in."""
    if trials is None or trials.moisture_aim is None or not known or not solids:
        return ""
    ready = solids * 100 / (1 - trials.moisture_aim)
    aim = figure(trials.moisture_aim * 100)
    return f"Dry enough ({aim} % water) when each 100 g that went in weigh {figure(ready)} g or less."
