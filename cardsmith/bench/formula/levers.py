"""What could be changed for the faults a verdict names, and what has been tried; the cook decides.

The levers are common practice, no source; `levers.csv` holds them, `ratios.csv` what is usual.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache

from cardsmith.bench.formula.changes import change_in_words, grams
from cardsmith.bench.model import Trial, TrialChange, Trials, Verb
from cardsmith.bench.wording import share
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.measure.larder import Food, role_shares, words
from cardsmith.recipe.model import Ingredient
from cardsmith.reference import OURS, Tables, table


@frozen
class Lever:
    """One thing to try for one fault. Without ``roles`` it is a change of method."""

    fault: str
    text: str
    kinds: tuple[str, ...]  # empty: any
    roles: tuple[str, ...]
    more: bool
    method_words: tuple[str, ...]  # stems that identify a change of method
    source: str


@frozen
class Suggestion:
    """A lever, which trials have pulled it, and where the formula stands against what is usual."""

    lever: Lever
    foods: tuple[str, ...]  # of the formula, that it would change; none for a change of method
    tried: tuple[int, ...]
    usual: str

    @property
    def text(self) -> str:
        """``less fat (olive oil; tried in trial 2): 16 % of the flour now, usual up to 60 %``."""
        told_of = set(words(self.lever.text))
        named = [food for food in self.foods if not set(words(food)) & told_of]
        numbers = listed([str(number) for number in self.tried])
        # The words of a change of method don't say in which direction it went.
        verb = "tried in" if self.lever.roles else "see"
        before = f"{verb} trial{'s' if len(self.tried) > 1 else ''} {numbers}" if self.tried else ""
        beside = "; ".join(filter(None, (listed(named, "or"), before)))
        which = f" ({beside})" if beside else ""
        return f"{self.lever.text}{which}" + (f": {self.usual}" if self.usual else "")


@cache
def _table() -> tuple[Mapping[str, str], tuple[Lever, ...]]:
    """The fault that each word stands for, and all levers."""
    names: dict[str, str] = {}
    levers = []
    for row in table("levers"):
        for word in (row["fault"], *filter(None, row["other_words"].split("|"))):
            names.setdefault(word, row["fault"])
        levers.append(
            Lever(
                fault=row["fault"],
                text=row["lever"],
                kinds=tuple(filter(None, row["kinds"].split("|"))),
                roles=tuple(filter(None, row["roles"].split("|"))),
                more=row["direction"] == "more",
                method_words=tuple(filter(None, row["method_words"].split("|"))),
                source=row["source"],
            )
        )
    return names, tuple(levers)


def fault_named(word: str) -> str:
    """The fault that a word stands for; empty where the table knows none."""
    return _table()[0].get(" ".join(word.lower().split()), "")


def unknown_faults(trials: Trials) -> tuple[Finding, ...]:
    """Faults for which no lever is listed; only a note, since cooks may use any word."""
    levers = []
    for trial in trials.trials:
        for fault in trial.faults:
            if not fault_named(fault.text):
                near = difflib.get_close_matches(fault.text.lower(), _table()[0], 2, 0.6)
                hint = f"did you mean {listed(near, 'or')}?" if near else "nothing; the word is kept"
                levers.append(
                    Finding(
                        name="fault-without-levers",
                        severity=Severity.NOTE,
                        where=fault.where,
                        what=f"no lever is listed for “{fault.text}”",
                        instead=hint,
                        width=len(fault.text),
                    )
                )
    return tuple(levers)


def _pulled(change: TrialChange, lever: Lever) -> bool:
    """Whether a change pulls the lever. One fat for another is no less fat, however much of it there is."""
    if change.verb is Verb.METHOD:
        return any(word in change.text.lower() for word in lever.method_words)
    if not lever.roles:
        return False
    before, after = (_acting(line, lever.roles) for line in (change.before, change.after))
    if change.verb is Verb.SWAP and before and after:
        return False
    return after > before if lever.more else after < before


def _acting(line: Ingredient | None, roles: tuple[str, ...]) -> Fraction:
    """Grams of the foods that stand there for these roles: seeds hold fat, and nobody adds them for it."""
    if line is None or line.food is None or not _acts(line.food, roles):
        return Fraction(0)
    return (grams(line) or Fraction(0)) * max(line.food.share(role) for role in roles)


def _acts(food: Food, roles: tuple[str, ...]) -> bool:
    """Whether the first role of a food in the larder, which says what it is, is one of these.

    Vinegar and juice may be there for their acid.
    """
    first = next(iter(food.roles), "")
    return food.is_mainly(*roles) and (first in roles or first in _POURED)


_POURED = frozenset({"vinegar", "liquid"})


def suggestions(trials: Trials, trial: Trial, kind: str = "", tables: Tables = OURS) -> Iterator[Suggestion]:
    """Levers for the faults of ``trial``; those nobody has pulled come first."""
    _, levers = _table()
    faults = dict.fromkeys(fault_named(fault.text) for fault in trial.faults)
    suggested = []
    for lever in levers:
        foods = tuple(
            dict.fromkeys(
                line.item
                for line in trial.ingredients
                if line.food is not None and not line.for_use and _acts(line.food, lever.roles)
            )
        )
        missing = lever.roles and not foods  # no lever speaks of what the formula lacks
        if lever.fault in faults and (not lever.kinds or kind in lever.kinds) and not missing:
            tried = tuple(
                trial.number
                for trial in trials.trials
                if any(_pulled(change, lever) for change in trial.changes)
            )
            suggested.append(
                Suggestion(lever=lever, foods=foods, tried=tried, usual=_usual(trial, lever, kind, tables))
            )
    return iter(sorted(suggested, key=lambda suggestion: bool(suggestion.tried)))


def _usual(trial: Trial, lever: Lever, kind: str, tables: Tables) -> str:
    """The formula's ratio and the usual range for its kind; empty if the table has none."""
    for row in tables.rows("ratios"):
        numerator = role_shares(row["numerator"])
        if row["kind"] != kind or not set(lever.roles) & set(numerator) or row["unit"] != "%":
            continue
        part, whole = _mass(trial, numerator), _mass(trial, role_shares(row["denominator"]))
        if not whole:
            continue
        ends = [f"{end} %" for end in (row["low"], row["high"]) if end]
        usual = f"{row['low']} to {row['high']} %" if len(ends) == 2 else "".join(ends)
        bound = "at least " if not row["high"] else "up to " if not row["low"] else ""
        name = row["told"].partition(",")[0]
        return f"{share(part / whole)} of {name} now, usual {bound}{usual}"
    return ""


def _mass(trial: Trial, roles: Mapping[str, Fraction]) -> Fraction:
    return sum(
        (
            (grams(line) or Fraction(0)) * line.food.roles.get(role, Fraction(0)) * weight
            for line in trial.ingredients
            if line.food is not None
            for role, weight in roles.items()
        ),
        Fraction(0),
    )


def tried(trials: Trials) -> tuple[str, ...]:
    """Everything that was changed so far, one trial a line."""
    return tuple(
        f"trial {trial.number}: {listed([change_in_words(change) for change in trial.changes])}"
        + (f" → {trial.call}" if trial.call else "")
        for trial in trials.trials
        if trial.changes
    )
