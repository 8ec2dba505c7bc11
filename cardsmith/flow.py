"""The whole pipeline as one function, stages in order: recipe → check → rewrite; rendering follows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cardsmith.bench.model import Trials
from cardsmith.bench.signoff import tested_text
from cardsmith.check.formula.handling import handling_risks
from cardsmith.check.run import judge
from cardsmith.check.subject import Subject
from cardsmith.edition.markets import markets
from cardsmith.edition.reworded import Reworded, reworded
from cardsmith.edition.safety import caution_in, too_mild
from cardsmith.edition.words import Change
from cardsmith.facts.dangers.cautions import cautions
from cardsmith.finding import CardsmithError, Finding, Severity, in_order
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.measure.larder import Larder
from cardsmith.readback.card import read_back
from cardsmith.readback.column_agreement import agreement, cups_agreement
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.mentions.tied import tied
from cardsmith.recipe.model import Accepted, Recipe
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.card.rewrite import rewrite


@frozen
class Prepared:
    """One recipe file, read, checked and rewritten."""

    name: str  # what its files are called by: that of its folder, and of a further edition
    source: str  # the file's text, for messages
    recipe: Recipe | None  # None where the file could not be read as a recipe at all
    card: Card | None
    findings: tuple[Finding, ...]
    silenced: tuple[tuple[Finding, Accepted], ...] = ()
    trials: Trials | None = None  # None where the recipe has none
    edition: str = ""  # which of the further editions this is; empty for the house's own
    changes: tuple[Change, ...] = ()  # of words, from the author's to those of the edition
    editions: tuple[Prepared, ...] = ()  # the further editions it is printed in

    @property
    def printable(self) -> bool:
        """Whether the card may print: it was read, and nothing found is an error."""
        return self.card is not None and all(
            finding.severity is not Severity.ERROR for finding in self.findings
        )


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
    warned = tuple(caution.text for caution in cautions(recipe, larder))
    mentions = read_mentions(recipe, larder)
    drawn = tied(recipe, mentions)
    card, unmet = rewrite(drawn, larder, house, warned, risks, mentions)
    if unmet and drawn is not recipe:  # an author who tied nothing is not asked to make it add up
        card, unmet = rewrite(recipe, larder, house, warned, risks, mentions)
    agreed = agreement(card, larder) if len(house.order) > 1 else ""  # a single column agrees with none
    card = replace(card, tested=tested_text(recipe, trials, house, house.order), agreement=agreed)
    unread = {finding.where.line for finding in read if finding.severity is Severity.ERROR}
    otherwise = tuple(
        finding for finding in read_back(card, house, larder) if finding.where.line not in unread
    )
    editions, of_editions = _editions(recipe, drawn, trials, warned, larder, house)
    findings = (*read, *unmet, *otherwise, *of_editions)
    printed = tuple((edition.key, tuple(edition.printed)) for edition in editions)
    verdict = judge(recipe, larder, house, findings, trials, card.printed, printed)
    prepared = Prepared(
        name=name,
        source=source,
        recipe=recipe,
        card=card,
        findings=verdict.findings,
        silenced=verdict.silenced,
        trials=trials,
    )
    others = (
        replace(
            prepared,
            name=f"{name}-{edition.key}",
            recipe=edition.card.recipe,
            card=edition.card,
            edition=edition.key,
            changes=edition.changes,
        )
        for edition in editions
    )
    return replace(prepared, editions=tuple(others)) if editions else prepared


def of_edition(prepared: Prepared, house: House, key: str) -> tuple[Prepared, House]:
    """A recipe in one edition of its house, and the house in that edition; with no key, its own.

    Raises:
        CardsmithError: the house has no such edition, or the recipe is not printed in it.
    """
    style = house.in_edition(key)
    if key in ("", house.home) or prepared.recipe is None:
        return prepared, style
    further = next((edition for edition in prepared.editions if edition.edition == key), None)
    if further is None:
        raise CardsmithError(
            f"{prepared.name} is not printed in the {markets()[key].name}; "
            f"write in its recipe: editions: {{{key}: {{}}}}"
        )
    return further, style


@frozen
class _Edition:
    key: str
    card: Card
    changes: tuple[Change, ...]

    @property
    def printed(self) -> Iterator[str]:
        """Its words and numbers, as far as they are not the author's: a reader goes by them too."""
        yield from (word for change in self.changes for word in change)
        yield from self.card.printed


def _editions(
    recipe: Recipe,
    drawn: Recipe,
    trials: Trials | None,
    warned: tuple[str, ...],
    larder: Larder,
    house: House,
) -> tuple[tuple[_Edition, ...], tuple[Finding, ...]]:
    """The cards of the further editions, each from the author's amounts and read back by itself."""
    made: list[_Edition] = []
    findings: list[Finding] = []
    for key in house.prints(recipe):
        style = house.in_edition(key)
        worded, other, unmet = _worded(drawn, recipe, key, warned, larder, house)
        if unmet and drawn is not recipe:
            worded, other, unmet = _worded(recipe, recipe, key, warned, larder, house)
        agreed = agreement(other, larder) if len(style.order) > 1 else cups_agreement(other, larder, style)
        other = replace(other, tested=tested_text(recipe, trials, house, style.order), agreement=agreed)
        made.append(_Edition(key=key, card=other, changes=worded.changes))
        if house.asked not in ("", key):
            continue
        findings += (*worded.findings, *too_mild(recipe, house.market(key)))
        for finding in (*unmet, *read_back(other, style, larder)):
            findings.append(replace(finding, what=f"in the {markets()[key].name}: {finding.what}"))
    return tuple(made), tuple(findings)


def _worded(
    recipe: Recipe, written: Recipe, key: str, warned: tuple[str, ...], larder: Larder, house: House
) -> tuple[Reworded, Card, tuple[Finding, ...]]:
    """A recipe in the words and measures of an edition, its card, and what that could not meet."""
    own = {caution.text for caution in recipe.cautions}
    home, market = house.market(house.home), house.market(key)
    worded = reworded(recipe, larder, home, market, house.tolerances["governing"])
    same_lines = len(worded.recipe.ingredients) == len(recipe.ingredients)
    mentions = read_mentions(written if same_lines else worded.recipe, larder)
    cautions_told = (*(caution_in(text, key) for text in warned if text not in own), *worded.recipe.cautions)
    card, unmet = rewrite(
        worded.recipe, larder, house.in_edition(key), tuple(map(str, cautions_told)), mentions=mentions
    )
    return worded, card, unmet


def _trials(
    name: str, bench: tuple[bytes, str] | None, larder: Larder
) -> tuple[Trials | None, tuple[Finding, ...]]:
    if bench is None:
        return None, ()
    from cardsmith.bench.file.load import read_trials  # noqa: PLC0415 - most recipes have no trials beside them

    return read_trials(name, *bench, larder)
