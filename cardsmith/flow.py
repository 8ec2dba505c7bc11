"""The whole pipeline as one function, stages in order: recipe → check → rewrite; rendering follows."""

from __future__ import annotations

from dataclasses import replace

from cardsmith.bench.model import Trials
from cardsmith.bench.signoff import tested_text
from cardsmith.check.formula.handling import handling_risks
from cardsmith.check.run import judge
from cardsmith.check.subject import Subject
from cardsmith.facts.dangers.cautions import cautions
from cardsmith.finding import Finding, Severity, in_order
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.readback.card import read_back
from cardsmith.readback.column_agreement import agreement
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Accepted, Recipe
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.card.rewrite import rewrite


@frozen
class Prepared:
    """One recipe file, read, checked and rewritten."""

    name: str
    source: str  # the file's text, for messages
    recipe: Recipe | None  # None where the file could not be read as a recipe at all
    card: Card | None
    findings: tuple[Finding, ...]
    silenced: tuple[tuple[Finding, Accepted], ...] = ()
    trials: Trials | None = None  # None where the recipe has none

    @property
    def printable(self) -> bool:
        """Whether the card may print: it was read, and nothing found is an error."""
        return self.card is not None and all(one.severity is not Severity.ERROR for one in self.findings)


def prepare(
    name: str, text: bytes, file: str, larder: Larder, house: House, bench: tuple[bytes, str] | None = None
) -> Prepared:
    """Read, check and rewrite one recipe. Faults of the author's are findings; nothing is raised for them.

    ``bench`` is the file of trials beside the recipe: its bytes, and its name for messages.
    ``accepted:`` answers the queries of every stage, so the verdict is spoken when all have been heard.
    """
    source = text.decode("utf-8", errors="replace")
    recipe, read = read_recipe(name, text, file, larder)
    trials, of_trials = _trials(name, bench, larder)
    read = (*read, *of_trials)
    if recipe is None:
        return Prepared(name=name, source=source, recipe=None, card=None, findings=in_order(read))
    risks = handling_risks(Subject(recipe=recipe, larder=larder, house=house))
    warned = tuple(one.text for one in cautions(recipe, larder))
    card, unmet = rewrite(recipe, larder, house, warned, risks)
    agreed = agreement(card, larder) if len(house.order) > 1 else ""  # a single column agrees with none
    card = replace(card, tested=tested_text(recipe, trials, house), agreement=agreed)
    unread = {one.where.line for one in read if one.severity is Severity.ERROR}
    otherwise = tuple(one for one in read_back(card, house, larder) if one.where.line not in unread)
    verdict = judge(recipe, larder, house, (*read, *unmet, *otherwise), trials, card.printed)
    return Prepared(
        name=name,
        source=source,
        recipe=recipe,
        card=card,
        findings=verdict.findings,
        silenced=verdict.silenced,
        trials=trials,
    )


def _trials(
    name: str, bench: tuple[bytes, str] | None, larder: Larder
) -> tuple[Trials | None, tuple[Finding, ...]]:
    if bench is None:
        return None, ()
    from cardsmith.bench.file.load import read_trials  # noqa: PLC0415 - most recipes have no trials beside them

    return read_trials(name, *bench, larder)
