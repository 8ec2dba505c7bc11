"""A proof as ready strings; the template places them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from string import ascii_lowercase

from markupsafe import Markup, escape

from cardsmith.bench.history import history
from cardsmith.bench.model import Trial
from cardsmith.bench.signoff import COLUMNS, standing
from cardsmith.bench.words import listed, several
from cardsmith.finding import Finding, Severity
from cardsmith.house import House
from cardsmith.measure.units import Dimension
from cardsmith.portion.whole import Portion
from cardsmith.proof.account import Account
from cardsmith.proof.agreement import Agreement
from cardsmith.proof.changes import Change, Kind
from cardsmith.proof.witness import Backing
from cardsmith.proof.words import Hunk
from cardsmith.render.portion import PortionView, TableView, portion_view
from cardsmith.render.proof_words import number_spot
from cardsmith.render.typeset import marks, typeset
from cardsmith.render.view import SYSTEM_NAMES, decimal, percent
from cardsmith.rewrite.numbers import Number

SHORT = 8  # digits of a version that are printed
_UNITS = {
    Dimension.MASS: "g",
    Dimension.VOLUME: "ml",
    Dimension.LENGTH: "mm",
    Dimension.DURATION: "min",
    Dimension.TEMPERATURE: "°C",
    Dimension.TEMPERATURE_CHANGE: "°C",
    Dimension.COUNT: "",
}
_RULES = {
    "oven": "the oven’s dial: one setting in each scale",
    "frying": "a thermometer’s reading, to one degree",
    "sugar": "a thermometer’s reading, to one degree",
    "dough": "a thermometer’s reading, to one degree",
    "room": "a thermometer’s reading, to one degree",
    "other": "a thermometer’s reading, to one degree",
    "doneness": "a safe minimum, never rounded down",
    "holding": "a safe limit, never rounded towards danger",
}
_SEVERITY = {Severity.ERROR: "Error", Severity.WARNING: "Query", Severity.NOTE: "Note"}


@dataclass(frozen=True, slots=True, kw_only=True)
class QueryView:
    """One open finding, with room for an answer."""

    number: int
    severity: str  # error, warning, note
    word: str
    where: str
    quoted: Markup  # the author's line; empty where there is none
    what: Markup
    instead: Markup
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeView:
    """One text that changed."""

    place: Markup
    kind: str
    hunks: tuple[Markup, ...]
    told: tuple[tuple[bool, Markup], ...]  # whether an editor should ask, and what stands behind a number


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberView:
    """A row of the table of numbers."""

    number: int
    what: Markup
    author: Markup
    exact: Markup
    printed: tuple[tuple[Markup, Markup], ...]  # in the order of the house: as printed, and how far off
    basis: str  # a letter of the list below the table; empty for none
    changed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceView:
    """The numbers of one place of the card."""

    name: Markup
    rows: tuple[NumberView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PageView:
    """A page of the card; ``picture`` is the name its stand-in is filed under."""

    picture: str
    alt: str
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
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
    answered: tuple[tuple[str, Markup, Markup], ...]  # the check, what it found, the author's reason
    lineage: tuple[Markup, ...]
    tree: tuple[tuple[int, Markup], ...]
    makes: TableView | None
    portion: PortionView | None
    signed_by: tuple[str, ...]
    release: str


def proof_view(
    told: Account, house: House, findings: Sequence[Finding] = (), portion: Portion | None = None
) -> ProofView:
    """The proof of an account; ``findings`` are those of the layout, beside the account's own."""
    recipe, prepared = told.card.recipe, told.prepared
    queries = tuple(_queries(told, [*prepared.findings, *findings]))
    errors = sum(one.severity == Severity.ERROR for one in queries)
    bases = _bases(told.numbers)
    return ProofView(
        language=house.language,
        house=typeset(house.name),
        title=typeset(recipe.title),
        plain_title=marks(recipe.title),
        recipe=prepared.name,
        status=status(told),
        draft=f"Draft with {several(errors, 'error')}: not for press" if errors else "",
        summary=tuple(_summary(told, house, queries)),
        queries=queries,
        since=_since(told),
        changes=tuple(
            _change(one, backings) for one, backings in zip(told.changes.listed, told.backings, strict=True)
        ),
        systems=tuple(SYSTEM_NAMES[system] for system in house.order),
        places=tuple(_places(told, house, bases)),
        bases=tuple((letter, typeset(basis)) for basis, letter in bases.items()),
        agreement=tuple(_agreement(told.agreement)),
        drifts=_drifts(told.agreement, house),
        answered=tuple(
            (finding.name, typeset(finding.what), typeset(answer.reason))
            for finding, answer in prepared.silenced
        ),
        lineage=tuple(_lineage(told, house)),
        tree=tuple(_tree(told)),
        makes=_makes(told, house),
        portion=portion_view(portion) if portion else None,
        signed_by=house.proof.signed_by,
        release=f"Signed for version {told.version[:SHORT]} of {prepared.name}, as printed on this proof.",
    )


def status(told: Account) -> str:
    """Which proof it is: ``Proof 2, issued 2026-06-02``."""
    if told.issued:
        return f"Proof {told.issued.number}, issued {told.issued.date}"
    if told.previous:
        return f"Working proof after proof {told.previous.number}, not issued"
    return "Working proof, none issued yet"


def _since(told: Account) -> str:
    return f"proof {told.previous.number} of {told.previous.date}" if told.previous else ""


# --- queries ------------------------------------------------------------------------------------------


def _queries(told: Account, findings: Sequence[Finding]) -> Iterator[QueryView]:
    """The gravest first, then by place."""
    sources = {told.card.recipe.where.file: told.prepared.source}
    if told.prepared.trials:
        sources[told.prepared.trials.where.file] = told.prepared.trials.source
    for number, one in enumerate(sorted(findings, key=lambda one: (one.severity.rank, one.where)), 1):
        lines = sources.get(one.where.file, "").split("\n")
        quoted = lines[one.where.line - 1].strip() if 0 < one.where.line <= len(lines) else ""
        file = one.where.file.rpartition("/")[2]
        yield QueryView(
            number=number,
            severity=one.severity.value,
            word=_SEVERITY[one.severity],
            where=f"{file}, line {one.where.line}" if one.where.line else file,
            quoted=escape(quoted),
            what=typeset(_sentence(one.what)),
            instead=typeset(_sentence(one.instead)),
            name=one.name,
        )


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


# --- in short -----------------------------------------------------------------------------------------


def _summary(told: Account, house: House, queries: Sequence[QueryView]) -> Iterator[tuple[str, Markup]]:
    counts = [
        several(sum(one.severity == severity for one in queries), word)
        for severity, word in (("error", "error"), ("warning", "query"), ("note", "note"))
    ]
    counts = [one.replace("querys", "queries") for one in counts if not one.startswith("0 ")]
    answered = len(told.prepared.silenced)
    yield "Open", typeset((listed(counts) or "nothing") + (f"; {answered} answered" if answered else ""))
    yield "Numbers", typeset(_counted(told.agreement))
    for worst in told.agreement.worst:
        if worst.error:
            said = f"{percent(worst.error)}: {_named(worst.number, worst.system)}"
            yield f"Furthest off, {SYSTEM_NAMES[worst.system]}", typeset(said)
    drifts = told.agreement.drifts
    if drifts:
        failed = [one for one in drifts if not one.held]
        limit = percent(house.ratio_limit).removesuffix(" over")
        said = f"every ratio of the formula within {limit}"
        if failed:
            names = listed([one.part or "the recipe" for one in failed])
            said = f"a ratio moves by more than {limit} in {names}"
        yield "Ratios", typeset(said)
    yield "Changes", typeset(_changed(told))
    yield "Bench", typeset(next(iter(_standing(told, house))))


def _counted(found: Agreement) -> str:
    return (
        f"{found.numbers}, of these {several(found.measured, 'measure')}; {found.exact} exact in both columns"
    )


def _named(number: Number, system: str) -> str:
    printed = number.us if system == "us" else number.metric
    what = f"{number.what}, " if number.spot[0] == "line" else ""
    return f"{what}{number.author} as {printed} ({number.place})"


def _changed(told: Account) -> str:
    if not told.previous:
        return "none to mark: no proof was issued before"
    if not told.changes:
        return f"not a word or number since {_since(told)}"
    said = f"{several(len(told.changes.listed), 'text')} since {_since(told)}"
    if told.unbacked:
        said += f"; {several(told.unbacked, 'number')} without a trial behind"
    return said


# --- changes ------------------------------------------------------------------------------------------


def _change(one: Change, backings: Sequence[Backing]) -> ChangeView:
    kind = one.kind.value
    if one.moved_from:
        kind = (
            f"moved from {one.moved_from}"
            if one.kind is Kind.MOVED
            else f"{kind}, moved from {one.moved_from}"
        )
    told = []
    for number, found in zip(one.numbers, backings, strict=True):
        old = number.old.author if number.old else "none"
        new = number.new.author if number.new else "none"
        said = f"{old} → {new}: {found.said}"
        if number.only_rounding and number.old and number.new:
            was, now = (listed(list(dict.fromkeys((it.us, it.metric)))) for it in (number.old, number.new))
            said = f"{new}: {was} → {now}, {found.said}"
        told.append((found.missing, typeset(said)))
    return ChangeView(
        place=typeset(_sentence(one.place)),
        kind=kind,
        hunks=tuple(_hunk(hunk) for hunk in one.hunks),
        told=tuple(told),
    )


def _hunk(hunk: Hunk) -> Markup:
    pieces = [
        typeset(f"… {hunk.before}") if hunk.before else Markup(),
        Markup("<del>{}</del>").format(typeset(hunk.old)) if hunk.old else Markup(),
        Markup("→") if hunk.old and hunk.new else Markup(),
        Markup("<ins>{}</ins>").format(typeset(hunk.new)) if hunk.new else Markup(),
        typeset(f"{hunk.after} …") if hunk.after else Markup(),
    ]
    return Markup(" ").join(piece for piece in pieces if piece)


# --- numbers ------------------------------------------------------------------------------------------


def _bases(numbers: Sequence[Number]) -> dict[str, str]:
    """A letter for each thing that numbers rest on, in the order they come."""
    letters: dict[str, str] = {}
    for one in numbers:
        basis = _RULES.get(one.basis, one.basis)
        if basis and basis not in letters:
            turn, at = divmod(len(letters), len(ascii_lowercase))
            letters[basis] = ascii_lowercase[at] * (turn + 1)
    return letters


def _places(told: Account, house: House, bases: dict[str, str]) -> Iterator[PlaceView]:
    changed = _changed_numbers(told)
    met: Counter[tuple[str, int]] = Counter()
    rows: list[tuple[str, NumberView]] = []
    for at, one in enumerate(told.numbers, 1):
        is_new = (one.spot, met[one.spot]) in changed
        met[one.spot] += 1
        rows.append((one.place, _row(at, one, house, bases, changed=is_new)))
    for place, group in groupby(rows, key=lambda row: row[0]):
        yield PlaceView(name=typeset(_sentence(place)), rows=tuple(row for _, row in group))


def _changed_numbers(told: Account) -> frozenset[tuple[tuple[str, int], int]]:
    """Where the new numbers stand: the text, and which of its numbers. A text's figures are in one order."""
    new = {id(number.new) for one in told.changes.listed for number in one.numbers if number.new}
    return frozenset(
        (number_spot(one), at)
        for one in told.fields
        for at, figure in enumerate(one.figures)
        if id(figure) in new
    )


def _row(at: int, one: Number, house: House, bases: dict[str, str], *, changed: bool) -> NumberView:
    printed = {"us": (one.us, one.us_error), "metric": (one.metric, one.metric_error)}
    return NumberView(
        number=at,
        what=typeset(one.what),
        author=typeset(one.author),
        exact=typeset(exact_text(one)),
        printed=tuple(
            (typeset(text or "–"), typeset(error_text(one, error)))
            for text, error in (printed[system] for system in house.order)
        ),
        basis=bases.get(_RULES.get(one.basis, one.basis), ""),
        changed=changed,
    )


def exact_text(one: Number) -> str:
    """``162.65 ml``, ``90 to 110 g``, ``300 × 400 mm``; a dash for a figure that measures nothing."""
    if not one.exact or one.dimension is None:
        return "–"
    scale = Fraction(1, 60) if one.dimension is Dimension.DURATION else Fraction(1)
    sides = []
    for low, high in one.exact:
        ends = dict.fromkeys((decimal(low * scale), decimal(high * scale)))
        sides.append(" to ".join(ends))
    return f"{' × '.join(sides)} {_UNITS[one.dimension]}".strip()


def error_text(one: Number, error: Fraction | None) -> str:
    """``exact``, ``0.8 % over``, ``2.8 °C over``; a dash where nothing can be compared."""
    if error is None:
        return "–"
    if one.in_degrees and error:
        tenths = max(round(abs(error) * 10), 1)
        return f"{tenths // 10}.{tenths % 10} °C {'over' if error > 0 else 'under'}"
    return percent(error)


# --- agreement ----------------------------------------------------------------------------------------


def _agreement(found: Agreement) -> Iterator[Markup]:
    yield typeset(f"This card prints {_counted(found)}.")
    for worst in found.worst:
        name = SYSTEM_NAMES[worst.system]
        if worst.error:
            said = f"{_named(worst.number, worst.system)}, {percent(worst.error)}"
            yield typeset(f"Furthest off in the {name} column: {said}.")
        else:
            yield typeset(f"Every amount and length of the {name} column is exact.")


def _drifts(found: Agreement, house: House) -> TableView | None:
    if not found.drifts:
        return None
    size = {
        one: str(percent(one)).removesuffix(" over")
        for drift in found.drifts
        for one in (drift.us, drift.metric, drift.limit)
    }
    return TableView(
        caption="How far rounding moves the most-moved ratio of each part",
        head=("Part", *(SYSTEM_NAMES[system] for system in house.order), "House limit", "Held", "Governing"),
        rows=tuple(
            (
                one.part or "Whole recipe",
                *(size[one.us if system == "us" else one.metric] for system in house.order),
                size[one.limit],
                "yes" if one.held else "no",
                ", ".join(one.governing),
            )
            for one in found.drifts
        ),
    )


# --- lineage ------------------------------------------------------------------------------------------


def _settled(told: Account) -> Trial | None:
    tested, trials = told.card.recipe.tested, told.prepared.trials
    if tested is None or trials is None or not tested.trial.isdigit():
        return None
    return trials.get(int(tested.trial))


def _standing(told: Account, house: House) -> Iterator[str]:
    """What the card rests on, in a line; then how far it has come by the house's rule."""
    trial, trials = _settled(told), told.prepared.trials
    if trial is None or trials is None:
        yield "rests on no recorded trial" if trials else "no trials are recorded beside the recipe"
        return
    held = standing(trials, trial.number, house.sign_off)
    made = several(len(trials.makes(trial)), "make")
    yield f"rests on trial {trial.number} of {trial.date}, {made} of its formula recorded"
    if held is None:
        return
    rule = house.sign_off
    asks = (
        f"{several(rule.makes, 'make')} with one result, {rule.elsewhere} of them elsewhere by another cook"
    )
    asks += ", each column cooked from" if rule.each_column else ""
    yield f"the house asks for {asks}"
    if held.tested:
        yield f"the rule is met: {held.text}"
    else:
        yield f"not yet tested by that rule; still missing: {listed(held.missing)}"


def _lineage(told: Account, house: House) -> Iterator[Markup]:
    for line in _standing(told, house):
        yield typeset(f"{_sentence(line)}.")
    tested = told.card.recipe.tested
    if tested and tested.cross_test:
        yield typeset(f"Cross-test, as the author states: {tested.cross_test}.")


def _tree(told: Account) -> Iterator[tuple[int, Markup]]:
    """The family tree as levels: the terminal's lines are not in every font."""
    if told.prepared.trials is None:
        return
    for line in history(told.prepared.trials).tree:
        text = line.lstrip("│├└─ ")
        yield (len(line) - len(text)) // 3, typeset(f"Trial {text}")


def _makes(told: Account, house: House) -> TableView | None:
    trial, trials = _settled(told), told.prepared.trials
    if trial is None or trials is None:
        return None
    return TableView(
        caption=f"Makes of the formula of trial {trial.number}",
        head=("Trial", "Date", "Cook", "Kitchen", "From column", "Verdict"),
        rows=tuple(
            (
                str(one.number),
                one.date,
                one.cook or "–",
                one.kitchen or "–",
                COLUMNS.get(one.cooked_from, one.cooked_from) or "–",
                one.call or "open",
            )
            for one in trials.makes(trial)
        ),
    )
