"""A proof as ready strings; the template places them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from cardsmith.bench.history.trials import history
from cardsmith.bench.model import Trial
from cardsmith.bench.signoff import standing
from cardsmith.bench.wording import several
from cardsmith.edition.markets import markets
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.language.listing import listed
from cardsmith.measure.units import COLUMN_NAMES
from cardsmith.portion.portion import Portion
from cardsmith.proof.account import Account
from cardsmith.proof.changes import ChangeKind, TextChange
from cardsmith.proof.snapshot import MARK
from cardsmith.proof.witness import Backing
from cardsmith.proof.word_changes import Hunk
from cardsmith.render.card.view import SYSTEM_NAMES, percent
from cardsmith.render.papers.portion import PortionView, TableView, portion_view
from cardsmith.render.proof.marks import MarkNumber
from cardsmith.render.proof.numbers import (
    PlaceView,
    agreement_lines,
    bases_of,
    counted,
    drift_table,
    named,
    places,
)
from cardsmith.render.proof.queries import QueryView, place_of, places_of_recipe, queries, sentence
from cardsmith.render.typeset import marks, typeset


@frozen
class AnswerView:
    """A finding that its author has answered."""

    name: str  # of the check
    place: str
    what: Markup
    reason: Markup  # the author's


@frozen
class ChangeView:
    """One text that changed."""

    number: int
    place: Markup
    kind: str
    hunks: tuple[Markup, ...]
    support: tuple[
        tuple[bool, Markup], ...
    ]  # whether an editor should query it, and what supports the number


@frozen
class CardPageView:
    """A page of the card; ``picture`` is the name its stand-in is filed under."""

    picture: str
    alt: str
    caption: str
    labels: tuple[MarkNumber, ...]  # numbers of changes, beside their marks


@frozen
class ProofView:
    """All that ``proof/proof.html.j2`` places."""

    language: str
    house: Markup
    title: Markup
    plain_title: str
    recipe: str
    status: str  # Proof 2, issued 2026-06-02
    draft: str  # why it is not for press; empty where it is
    summary: tuple[tuple[str, Markup], ...]
    queries: tuple[QueryView, ...]
    since: str  # what the changes are counted from; empty where this is the first proof
    changes: tuple[ChangeView, ...]
    systems: tuple[str, ...]
    places: tuple[PlaceView, ...]
    bases: tuple[tuple[str, Markup], ...]
    agreement: tuple[Markup, ...]
    drifts: TableView | None
    answered: tuple[AnswerView, ...]
    edition: str  # UK edition; empty for the house's own
    reworded: tuple[tuple[Markup, Markup], ...]  # each word changed for the edition, and what stands for it
    lineage: tuple[Markup, ...]
    tree: tuple[tuple[int, Markup], ...]
    makes: TableView | None
    portion: PortionView | None
    signed_by: tuple[str, ...]
    release: str


def proof_view(
    account: Account,
    house: House,
    findings: Sequence[Finding] = (),
    portion: Portion | None = None,
) -> ProofView:
    """The proof of an account.

    ``findings`` are those of the finished files and of the files beside the recipe, which the account knows
    nothing of.
    """
    recipe, prepared = account.card.recipe, account.prepared
    asked = tuple(queries([*prepared.findings, *findings], recipe, prepared.trials))
    errors = sum(query.severity == Severity.ERROR for query in asked)
    called = places_of_recipe(recipe)
    bases = bases_of(account.numbers)
    return ProofView(
        language=house.language,
        house=typeset(house.name),
        title=typeset(recipe.title),
        plain_title=marks(recipe.title),
        recipe=prepared.name,
        status=status(account),
        draft=f"Draft with {several(errors, 'error')}: not for press" if errors else "",
        summary=tuple(_summary(account, house, asked)),
        queries=asked,
        since=_since(account),
        changes=tuple(
            _change(number, change, backings)
            for number, (change, backings) in enumerate(
                zip(account.changes.listed, account.backings, strict=True), 1
            )
        ),
        systems=tuple(SYSTEM_NAMES[system] for system in house.order),
        places=tuple(places(account, house, bases)),
        bases=tuple((letter, typeset(basis)) for basis, letter in bases.items()),
        agreement=tuple(agreement_lines(account.agreement)),
        drifts=drift_table(account.agreement, house),
        edition=markets()[prepared.edition].name if prepared.edition else "",
        reworded=tuple((typeset(said), typeset(printed)) for said, printed in prepared.changes),
        answered=tuple(
            AnswerView(
                name=finding.name,
                place=place_of(finding.where, called)[0],
                what=typeset(sentence(finding.what)),
                reason=typeset(answer.reason),
            )
            for finding, answer in prepared.silenced
        ),
        lineage=tuple(_lineage(account, house)),
        tree=tuple(_tree(account)),
        makes=_makes(account, house),
        portion=portion_view(portion) if portion else None,
        signed_by=house.proof.signed_by,
        release=f"Signed for version {account.version[:MARK]} of {prepared.name}, as printed on this proof.",
    )


def status(account: Account) -> str:
    """Which proof it is: ``Proof 2, issued 2026-06-02``."""
    if account.issued:
        return f"Proof {account.issued.number}, issued {account.issued.date}"
    if account.previous:
        return f"Working proof after proof {account.previous.number}, not issued"
    return "Working proof, none issued yet"


def _since(account: Account) -> str:
    return f"proof {account.previous.number} of {account.previous.date}" if account.previous else ""


# --- in short -----------------------------------------------------------------------------------------


def _summary(account: Account, house: House, asked: Sequence[QueryView]) -> Iterator[tuple[str, Markup]]:
    counts = [
        several(sum(query.severity == severity for query in asked), word)
        for severity, word in (("error", "error"), ("warning", "query"), ("note", "note"))
    ]
    counts = [count.replace("querys", "queries") for count in counts if not count.startswith("0 ")]
    answered = len(account.prepared.silenced)
    yield "Open", typeset((listed(counts) or "nothing") + (f"; {answered} answered" if answered else ""))
    yield "Numbers", typeset(counted(account.agreement))
    for worst in account.agreement.worst:
        if worst.error:
            said = f"{percent(worst.error)}: {named(worst.number, worst.system)}"
            yield f"Furthest off, {SYSTEM_NAMES[worst.system]}", typeset(said)
    drifts = account.agreement.drifts
    if drifts:
        failed = [drift for drift in drifts if not drift.held]
        limit = percent(house.ratio_limit).removesuffix(" over")
        said = f"every ratio of the formula within {limit}"
        if failed:
            names = listed([drift.part or "the recipe" for drift in failed])
            said = f"a ratio moves by more than {limit} in {names}"
        yield "Ratios", typeset(said)
    yield "Changes", typeset(_changed(account))
    yield "Bench", typeset(next(iter(_standing(account, house))))
    if reviewed := account.card.recipe.reviewed:
        yield "Review", typeset(f"by {reviewed.by}, {reviewed.date}")


def _changed(account: Account) -> str:
    if not account.previous:
        return "none to mark: no proof was issued before"
    if not account.changes:
        return f"not a word or number since {_since(account)}"
    said = f"{several(len(account.changes.listed), 'text')} changed since {_since(account)}"
    if account.unbacked:
        said += f"; {several(account.unbacked, 'number')} without a trial behind"
    return said


# --- changes ------------------------------------------------------------------------------------------


def _change(at: int, change: TextChange, backings: Sequence[Backing]) -> ChangeView:
    kinds = [change.kind.value] if change.kind is not ChangeKind.MOVED else []
    if change.moved_from:
        kinds.append("moved" if change.moved_from == change.place else f"moved from {change.moved_from}")
    former = "former " if change.kind is ChangeKind.REMOVED and change.field.kind == "step" else ""
    support = []
    for number, backing in zip(change.numbers, backings, strict=True):
        old = number.old.author if number.old else "none"
        new = number.new.author if number.new else "none"
        said = f"{old} → {new}: {backing.said}"
        if number.only_rounding and number.old and number.new:
            was, now = (listed(list(dict.fromkeys((it.us, it.metric)))) for it in (number.old, number.new))
            said = f"{new}: {was} → {now}, {backing.said}"
        support.append((backing.missing, typeset(said)))
    return ChangeView(
        number=at,
        place=typeset(sentence(f"{former}{change.place}")),
        kind=", ".join(kinds),
        hunks=tuple(_hunk(hunk) for hunk in change.hunks),
        support=tuple(support),
    )


def _hunk(hunk: Hunk) -> Markup:
    pieces = [
        typeset(f"{SYSTEM_NAMES[hunk.cell]}:") if hunk.cell in SYSTEM_NAMES else Markup(),
        typeset(f"… {hunk.before}") if hunk.before else Markup(),
        Markup("<del>{}</del>").format(typeset(hunk.old)) if hunk.old else Markup(),
        Markup("→") if hunk.old and hunk.new else Markup(),
        Markup("<ins>{}</ins>").format(typeset(hunk.new)) if hunk.new else Markup(),
        typeset(f"{hunk.after} …") if hunk.after else Markup(),
    ]
    return Markup(" ").join(piece for piece in pieces if piece)


# --- lineage ------------------------------------------------------------------------------------------


def _settled(account: Account) -> Trial | None:
    tested, trials = account.card.recipe.tested, account.prepared.trials
    if tested is None or trials is None or not tested.trial.isdigit():
        return None
    return trials.get(int(tested.trial))


def _standing(account: Account, house: House) -> Iterator[str]:
    """What the card rests on, in a line; then how far it has come by the house's rule."""
    trial, trials = _settled(account), account.prepared.trials
    if trial is None or trials is None:
        yield "rests on no recorded trial" if trials else "no trials are recorded beside the recipe"
        return
    held = standing(trials, trial.number, house)
    made = several(len(trials.makes(trial)), "make")
    yield f"rests on trial {trial.number} of {trial.date}, {made} of its formula recorded"
    if held is None:
        return
    rule = house.sign_off
    asks = (
        f"{several(rule.makes, 'make')} with one result, {rule.elsewhere} of them elsewhere by another cook"
    )
    asks += f", {'each' if len(house.order) > 1 else 'its'} column cooked from" if rule.each_column else ""
    yield f"the house asks for {asks}"
    if held.tested:
        yield f"the rule is met: {held.text}"
    else:
        yield f"not yet tested by that rule; still missing: {listed(held.missing)}"


def _lineage(account: Account, house: House) -> Iterator[Markup]:
    for line in _standing(account, house):
        yield typeset(f"{sentence(line)}.")
    tested = account.card.recipe.tested
    if tested and tested.cross_test:
        yield typeset(f"Cross-test, as the author states: {tested.cross_test}.")


def _tree(account: Account) -> Iterator[tuple[int, Markup]]:
    """The family tree as levels: the terminal's lines are not in every font."""
    if account.prepared.trials is None:
        return
    for line in history(account.prepared.trials).tree:
        text = line.lstrip("│├└─ ")
        yield (len(line) - len(text)) // 3, typeset(f"Trial {text}")


def _makes(account: Account, house: House) -> TableView | None:
    trial, trials = _settled(account), account.prepared.trials
    if trial is None or trials is None:
        return None
    return TableView(
        caption=f"Makes of the formula of trial {trial.number}",
        head=("Trial", "Date", "Cook", "Kitchen", "From column", "Verdict"),
        rows=tuple(
            (
                str(make.number),
                make.date,
                make.cook or "–",
                make.kitchen or "–",
                COLUMN_NAMES.get(make.cooked_from, make.cooked_from) or "–",
                make.call or "open",
            )
            for make in trials.makes(trial)
        ),
    )
