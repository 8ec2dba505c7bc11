"""How many phrasings of each fault are named at their severity, and what is said of their sound counterparts.

``python -m tests.phrasings.measure [RULE]`` prints the figures and each miss. A case changes its rule's sound
recipe: ``step 2`` and ``line 1`` replace, ``+step`` and ``+line`` add, any other key replaces that field. A
fault is named by a finding that its recipe has not, whose words hold one of ``words``; of severity
``caution`` it is also named by a caution that its card prints. A sound case says nothing new.
"""

from __future__ import annotations

import copy
import json
import sys
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from cardsmith.finding import Severity
from cardsmith.flow import prepare
from cardsmith.measure.larder import load_larder
from tests.demo import house_of_one_edition

HERE = Path(__file__).parent
QUIET = frozenset({"hazard-caution"})  # a warning that the card prints: it asks nothing of the author


@dataclass(frozen=True)
class Case:
    """One change to a rule's sound recipe; ``faulty`` says what it is."""

    rule: str
    severity: str
    words: tuple[str, ...]
    base: dict[str, Any]
    change: dict[str, Any]
    faulty: bool

    @property
    def recipe(self) -> dict[str, Any]:
        """The recipe with its change."""
        return changed(self.base, self.change)


def changed(base: dict[str, Any], change: dict[str, Any]) -> dict[str, Any]:
    """A copy of the recipe with the change."""
    out = copy.deepcopy(base)
    for key, value in change.items():
        word, _, number = key.partition(" ")
        if word in ("step", "line") and number:
            out["steps" if word == "step" else "ingredients"][int(number) - 1] = value
        elif word in ("+step", "+line"):
            out["steps" if word == "+step" else "ingredients"].append(value)
        else:
            out[key] = value
    return out


def said(recipe: dict[str, Any]) -> tuple[tuple[str, str, str], ...]:
    """Severity, name and words of all that is said of a recipe; what its card prints is a ``caution``."""
    text = json.dumps(recipe, ensure_ascii=False, indent=1).encode()
    got = prepare("case", text, "case/recipe.yaml", load_larder(), house_of_one_edition())
    found = [
        (one.severity.value, one.name, f"{one.what} {one.instead}")
        for one in got.findings
        if one.name not in QUIET and one.severity is not Severity.NOTE
    ]
    printed = [("caution", "caution", str(text)) for text in (got.card.cautions if got.card else ())]
    return (*found, *printed)


def cases(rule: str = "") -> tuple[Case, ...]:
    """All cases of the tables, or of the rules that hold a word."""
    out = []
    for path in sorted(HERE.glob("*.yaml")):
        for one in YAML(typ="safe").load(path):
            if rule not in one["rule"]:
                continue
            shared = (one["rule"], one["severity"], tuple(one["words"].lower().split("|")), one["base"])
            out += [Case(*shared, change, True) for change in one["faults"]]
            out += [Case(*shared, change, False) for change in one["sound"]]
    return tuple(out)


def new_in(case: Case) -> tuple[tuple[str, str, str], ...]:
    """What is said of a case and not of its sound recipe."""
    before = {(severity, name) for severity, name, _ in said(case.base)}
    texts = {text for _, _, text in said(case.base)}
    return tuple(one for one in said(case.recipe) if (one[0], one[1]) not in before or one[2] not in texts)


def named(case: Case) -> bool:
    """Whether a fault is named at its severity."""
    wanted = {"error"} if case.severity == "error" else {"error", "warning", "caution"}
    return any(
        severity in wanted and any(word in f"{name} {text}".lower() for word in case.words)
        for severity, name, text in new_in(case)
    )


def false_alarms(case: Case) -> tuple[tuple[str, str, str], ...]:
    """What is said of a sound case: any error or warning, and the caution that its rule is about."""
    return tuple(
        one
        for one in new_in(case)
        if one[0] != "caution"
        or (case.severity == "caution" and any(word in one[2].lower() for word in case.words))
    )


def main(rule: str) -> None:
    """Prints the measure."""
    out = sys.stdout
    tally: Counter[tuple[str, str]] = Counter()
    for case in cases(rule):
        tally[case.rule, "faulty" if case.faulty else "sound"] += 1
        what = case.change
        if case.faulty and named(case):
            tally[case.rule, "named"] += 1
        elif case.faulty:
            others = "; ".join(f"{one[0]} {one[1]} {one[2][:70]}" for one in new_in(case))
            out.write(f"MISS {case.rule}: {what}\n       said: {others or 'nothing'}\n")
        else:
            alarms = false_alarms(case)
            tally[case.rule, "left"] += not alarms
            for one in alarms:
                out.write(f"FALSE {case.rule}: {what}\n       {one[0]} {one[1]}: {one[2][:160]}\n")
    rules = list(dict.fromkeys(one.rule for one in cases(rule)))
    for name in rules:
        out.write(f"{name}: {_figures(tally, [name])}\n")
    out.write(f"all: {_figures(tally, rules)}\n")


def _figures(tally: Counter[tuple[str, str]], rules: list[str]) -> str:
    named, faulty, left, sound = (
        sum(tally[name, key] for name in rules) for key in ("named", "faulty", "left", "sound")
    )
    return f"{named} of {faulty} named, {left} of {sound} left alone"


if __name__ == "__main__":
    main(" ".join(sys.argv[1:]))
