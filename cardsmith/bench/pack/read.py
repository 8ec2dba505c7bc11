"""A filled form of a cross-test, read back as a trial; what is wrong with it is told where it stands."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.bench.file.load import read_trial
from cardsmith.bench.log import measured_in
from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.pack.schema import FORM, FORMULA
from cardsmith.finding import Finding, Severity, Where, error, in_order
from cardsmith.frozen import frozen
from cardsmith.language.quantities import read_clock, read_quantity
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension
from cardsmith.recipe.file.shape import is_empty, shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.texts import text_of
from cardsmith.recipe.file.tree import Mapping, Node, Scalar, Sequence
from cardsmith.recipe.model import Text

_TRIAL_KEYS = ("date", "cook", "kitchen", "room", "oven", "from", "change", "method")
_FOUND = ("measured", "photos", "unclear", "panel", "verdict", "next")
_BEFORE_A_TIME = frozenset({"for", "about", "another", "at", "least", "to", "in", "up", "some"})


@frozen
class Returned:
    """A form read: the trial as keys to be written down, and as it reads; None where something is wrong."""

    source: str
    findings: tuple[Finding, ...]
    node: Mapping | None = None
    trial: Trial | None = None


def read_form(data: bytes, file: str, name: str, trials: Trials | None, larder: Larder) -> Returned:
    """The trial that a form holds, numbered after those of ``trials``; nothing raises."""
    source = read_source(data, file)
    if source.root is None:
        return Returned(source=source.text, findings=in_order(source.findings))
    filled = _without_blanks(source.root) or Mapping(entries=(), where=source.root.where)
    root, misshapen = shaped(filled, source.text.split("\n"), FORM, "form", complete=True)
    findings = [*source.findings, *misshapen]
    pack = root.get("pack") if root is not None else None
    if root is None or not isinstance(pack, Mapping):
        return Returned(source=source.text, findings=in_order(findings))
    of = text_of(pack, "recipe")
    if of is not None and of.text != name:
        what = f"this is the form of {of.text}, not of {name}"
        instead = f"cardsmith bench pack {of.text} --read …, or the form of {name}"
        findings.append(_error("pack-of-another", of, what, instead))
    before = trials.trials if trials else ()
    node, misfits = _trial_node(root, pack, max((trial.number for trial in before), default=0) + 1)
    trial, more = read_trial(node, before, larder)
    if trial is not None and (known := _made_before(trial, before)) is not None:
        node = _made_again(node, known)
        trial, more = read_trial(node, before, larder)
    findings += [*misfits, *more]
    wrong = trial is None or any(finding.severity is Severity.ERROR for finding in findings)
    return Returned(
        source=source.text,
        findings=in_order(findings),
        node=None if wrong else node,
        trial=None if wrong else trial,
    )


def _made_before(trial: Trial, before: tuple[Trial, ...]) -> Trial | None:
    """The first trial with this one's formula and steps to the word, where it comes from none."""
    if trial.parent is not None:
        return None
    return next((earlier for earlier in before if _said(earlier) == _said(trial)), None)


def _said(trial: Trial) -> list[object]:
    return [
        (part.name, [line.text for line in part.ingredients], [step.text for step in part.steps])
        for part in trial.parts
    ]


def _made_again(node: Mapping, known: Trial) -> Mapping:
    """The keys of a trial that comes from another, in place of its formula."""
    entries = [entry for entry in node.entries if entry[0].text not in FORMULA]
    parent = (_scalar("from", node.where), _scalar(str(known.number), node.where))
    return Mapping(entries=(entries[0], parent, *entries[1:]), where=node.where)


def _without_blanks(node: Node) -> Node | None:
    """A node without what was left empty; None where nothing is left."""
    if isinstance(node, Scalar):
        return None if is_empty(node) else node
    if isinstance(node, Sequence):
        items = tuple(kept for item in node.items if (kept := _without_blanks(item)) is not None)
        return Sequence(items=items, where=node.where, flow=node.flow) if items else None
    entries = tuple(
        (key, kept) for key, value in node.entries if (kept := _without_blanks(value)) is not None
    )
    return Mapping(entries=entries, where=node.where, flow=node.flow) if entries else None


def _trial_node(root: Mapping, pack: Mapping, number: int) -> tuple[Mapping, tuple[Finding, ...]]:
    """The form's answers under the keys of a trial."""
    log: list[Scalar] = []
    unclear: list[Node] = []
    findings: list[Finding] = []
    times = root.get("times")
    for step in times.items if isinstance(times, Sequence) else ():
        if isinstance(step, Mapping):
            logged, faults = _log(step)
            log += logged
            findings += faults
            remark = text_of(step, "unclear")
            unclear += [_scalar(f"step {_number(step)}: {remark.text}", remark.where)] if remark else []
    own = root.get("unclear")
    unclear += own.items if isinstance(own, Sequence) else ()
    made: dict[str, Node | None] = {"trial": _scalar(str(number), root.where)}
    made |= {key: root.get(key) for key in (*_TRIAL_KEYS, *FORMULA)}
    made["from"] = pack.get("from")
    made["process"] = Sequence(items=tuple(log), where=root.where) if log else None
    made |= {key: root.get(key) for key in _FOUND}
    made["unclear"] = Sequence(items=tuple(unclear), where=root.where) if unclear else None
    made |= {"cooked_from": pack.get("column"), "card": pack.get("card")}
    entries = tuple((_scalar(key, root.where), value) for key, value in made.items() if value is not None)
    return Mapping(entries=entries, where=root.where), tuple(findings)


def _number(step: Mapping) -> str:
    number = text_of(step, "step")
    return number.text if number else "?"


def _log(step: Mapping) -> tuple[list[Scalar], list[Finding]]:
    """The entries of the log for one step: when it was begun, what took how long, when it was done."""
    findings: list[Finding] = []
    number, began, ended = _number(step), text_of(step, "began"), text_of(step, "ended")
    for clock in filter(None, (began, ended)):
        read = read_clock(clock.text)
        if read is None or read[1].strip():
            instead = "the time alone, by the clock: 14:05"
            findings.append(
                _error("unreadable-clock", clock, f"“{clock.text}” is not a time of day", instead)
            )
    rows = step.get("timed")
    timed = [row for row in (rows.items if isinstance(rows, Sequence) else ()) if isinstance(row, Mapping)]
    taken = [row for row in timed if text_of(row, "took") is not None]
    entries: list[Scalar] = []
    if began is not None:
        deed = _deed(timed[0]) if len(timed) == 1 and not taken else ""
        what = f"{deed}, step {number}" if deed else f"begin step {number}"
        entries.append(_scalar(f"{began.text} {what}", began.where))
    for row in taken:
        entry, faults = _took(row)
        entries += entry
        findings += faults
    if ended is not None:
        entries.append(_scalar(f"{ended.text} step {number} done", ended.where))
    return entries, findings


def _deed(row: Mapping) -> str:
    """What is done for a printed time, without the time: ``Bake``."""
    printed = text_of(row, "printed")
    span = next(measured_in(printed.text, Dimension.DURATION), None) if printed else None
    if printed is None or span is None:
        return ""
    words = printed.text[: printed.text.find(span.text)].split()
    while words and words[-1].lower() in _BEFORE_A_TIME:
        words.pop()
    return " ".join(words)


def _took(row: Mapping) -> tuple[list[Scalar], list[Finding]]:
    """An entry of the log for how long something took: what the card says, with the true time in it."""
    took = text_of(row, "took")
    if took is None:
        return [], []
    quantity, _ = read_quantity(took.text, took.where)
    if quantity is None or quantity.dimension is not Dimension.DURATION:
        what = f"“{took.text}” can't be read as a time"
        return [], [_error("unreadable-measure", took, what, "how long it took: 25 minutes")]
    deed = _deed(row)
    return [_scalar(f"{deed} {took.text}".strip(), took.where)], []


def _scalar(text: str, where: Where) -> Scalar:
    return Scalar(text=text, where=where)


def _error(name: str, place: Text, what: str, instead: str) -> Finding:
    return error(name, place.where, what, instead, place.text)


def with_photos(node: Mapping, names: dict[str, str]) -> Mapping:
    """The trial's keys with its photos under the names they are kept under."""
    return Mapping(entries=tuple(_renamed(node, names)), where=node.where)


def _renamed(node: Mapping, names: dict[str, str]) -> Iterator[tuple[Scalar, Node]]:
    for key, value in node.entries:
        if key.text == "photos" and isinstance(value, Sequence):
            kept = tuple(
                _scalar(names[scalar.text], scalar.where)
                for scalar in value.items
                if isinstance(scalar, Scalar)
            )
            yield key, Sequence(items=kept, where=value.where)
        else:
            yield key, value
