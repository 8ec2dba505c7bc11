"""``trials.yaml`` to `Trials`: the recipe's reader, errors and line syntax; every fault in one run."""

from __future__ import annotations

import datetime
import difflib
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction

from cardsmith.bench.file.readings import read_reading, read_share
from cardsmith.bench.file.remarks import behind_clock, unread_numbers
from cardsmith.bench.file.schema import TRIALS
from cardsmith.bench.formula.changes import read_change, read_method
from cardsmith.bench.formula.levers import unknown_faults
from cardsmith.bench.model import (
    BOUGHT,
    Clocked,
    Factor,
    Measurement,
    Oven,
    Result,
    Tasting,
    Trial,
    TrialChange,
    Trials,
)
from cardsmith.bench.next.factors import MOST_FACTORS, read_factor
from cardsmith.bench.tasting.panel import faults as ballot_faults
from cardsmith.finding import Finding, Severity, Where, in_order
from cardsmith.language.quantities import read_clock, read_degrees, read_number, read_temperature
from cardsmith.measure.larder import Larder
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import System
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.texts import text_of, texts_of, word_of
from cardsmith.recipe.file.tree import Mapping, Scalar, Sequence, mappings_of
from cardsmith.recipe.load import read_parts
from cardsmith.recipe.model import Part, Text
from cardsmith.reference import table

MOST_TASTERS = 200
MOST_NUMBERED = 9999


def read_trials(
    name: str, data: bytes, file: str, larder: Larder
) -> tuple[Trials | None, tuple[Finding, ...]]:
    """The trials that the bytes of a file hold, and all that is wrong with them; nothing raises.

    None where the file holds no keys at all.
    """
    source = read_source(data, file)
    if source.root is None:
        return None, in_order(source.findings)
    root, misshapen = shaped(source.root, source.text.split("\n"), TRIALS, "file")
    if root is None:
        return None, in_order((*source.findings, *misshapen))
    reader = _TrialsReader(larder)
    trials: list[Trial] = []
    for node in mappings_of(root, "trials"):
        if (read_trial := reader.trial(node, tuple(trials))) is not None:
            trials.append(read_trial)
    tastings = tuple(
        tasting
        for node in mappings_of(root, "tastings")
        if (tasting := reader.tasting(node, {trial.number for trial in trials}))
    )
    aim = root.get("aim")
    held = aim if isinstance(aim, Mapping) else root
    read = Trials(
        where=root.where,
        name=name,
        trials=tuple(trials),
        tastings=tastings,
        moisture_aim=reader.share(held, "moisture"),
        plotted=reader.plotted(held),
        lever=word_of(held, "lever"),
        target=reader.target(held),
        allowed=reader.allowed(held),
        source=source.text,
    )
    of_ballots = [fault for tasting in tastings for fault in ballot_faults(tasting)]
    findings = (*source.findings, *misshapen, *reader.findings, *of_ballots, *unknown_faults(read))
    return read, in_order(findings)


def read_trial(
    node: Mapping, before: tuple[Trial, ...], larder: Larder
) -> tuple[Trial | None, tuple[Finding, ...]]:
    """One trial that comes after others, from keys that fit the schema; as `read_trials`."""
    reader = _TrialsReader(larder)
    trial = reader.trial(node, before)
    return trial, in_order(reader.findings)


def _pairs(node: Mapping, key: str) -> Iterator[tuple[Scalar, Scalar]]:
    value = node.get(key)
    for name, inner in value.entries if isinstance(value, Mapping) else ():
        if isinstance(inner, Scalar):
            yield name, inner


class _TrialsReader:
    """Gathers findings while the tree is read; a class only for that."""

    def __init__(self, larder: Larder) -> None:
        self.larder = larder
        self.findings: list[Finding] = []

    def tell(self, name: str, place: Text | Where, what: str, instead: str) -> None:
        where, width = (place.where, len(place.text)) if isinstance(place, Text) else (place, 1)
        self.findings.append(
            Finding(
                name=name, severity=Severity.ERROR, where=where, what=what, instead=instead, width=width or 1
            )
        )

    def trial(self, node: Mapping, before: tuple[Trial, ...]) -> Trial | None:
        number = self.number(node, "trial", "4")
        if number is None:
            return None
        if any(trial.number == number for trial in before):
            what = f"trial {number} stands here a second time"
            free = max(trial.number for trial in before) + 1
            self.tell("trial-repeated", node.where, what, f"a number of its own: trial: {free}")
            return None
        own, findings = read_parts(node, self.larder, System.US)
        self.findings += findings
        parent = self.parent(node, before)
        parts, changes = self.formula(node, own, parent)
        oven = node.get("oven")
        verdict = node.get("verdict")
        room = node.get("room")
        measured = node.get("measured")
        held = verdict if isinstance(verdict, Mapping) else Mapping(entries=(), where=node.where)
        air = room if isinstance(room, Mapping) else Mapping(entries=(), where=node.where)
        taken = measured if isinstance(measured, Mapping) else Mapping(entries=(), where=node.where)
        remarks = (*(text_of(node, key) for key in ("expect", "why", "next")), text_of(held, "words"))
        log = map(behind_clock, texts_of(node, "process"))
        for text in (*log, *texts_of(node, "method"), *filter(None, remarks)):
            self.findings += unread_numbers(text, self.larder.tables)
        warmth = text_of(air, "temperature")
        return Trial(
            where=node.where,
            number=number,
            date=self.date(node),
            parts=parts,
            cook=word_of(node, "cook"),
            kitchen=word_of(node, "kitchen"),
            expect=word_of(node, "expect"),
            room_temperature=self.temperature(warmth) if warmth else None,
            humidity=self.share(air, "humidity"),
            oven=self.oven(oven) if isinstance(oven, Mapping) else Oven(),
            parent=parent.number if parent else None,
            changes=changes,
            why=word_of(node, "why"),
            process=_clocked(texts_of(node, "process")),
            measured=self.measured(taken),
            colour=word_of(taken, "colour"),
            texture=word_of(taken, "texture"),
            photos=texts_of(node, "photos"),
            panel=tuple(
                (who.text.strip(), " ".join(said.text.split())) for who, said in _pairs(node, "panel")
            ),
            call=word_of(held, "call"),
            faults=texts_of(held, "faults"),
            verdict=word_of(held, "words"),
            next=word_of(node, "next"),
            cooked_from=word_of(node, "cooked_from"),
            card=word_of(node, "card"),
            unclear=texts_of(node, "unclear"),
        )

    def parent(self, node: Mapping, before: tuple[Trial, ...]) -> Trial | None:
        if text_of(node, "from") is None:
            return None
        number = self.number(node, "from", "3")
        parent = next((trial for trial in before if trial.number == number), None)
        if number is not None and parent is None:
            known = ", ".join(str(trial.number) for trial in before) or "none"
            place = text_of(node, "from") or node.where
            what = f"trial {number} does not stand before this one"
            self.tell("trial-unknown-parent", place, what, f"one of the trials above: {known}")
        return parent

    def formula(
        self, node: Mapping, own: tuple[Part, ...], parent: Trial | None
    ) -> tuple[tuple[Part, ...], tuple[TrialChange, ...]]:
        """The whole formula: as written, or the parent's with the changes applied."""
        listed = any(part.ingredients for part in own)
        if parent is None:
            if text_of(node, "from") is None and not listed:
                instead = "add ingredients: in full, or from: and change:"
                self.tell("trial-without-formula", node.where, "this trial has no formula", instead)
            changed = node.get("change") or node.get("method")
            if text_of(node, "from") is None and isinstance(changed, Sequence):
                instead = "add from: with the trial it changes, or write the lines as they were made"
                self.tell("change-without-parent", changed.where, "this changes no trial", instead)
            return own, ()
        if listed:
            what = "this trial has a formula in full beside from:"
            self.tell("two-formulas", node.where, what, "from: with change:, or ingredients: alone")
            return own, ()
        parts = parent.parts
        changes: list[TrialChange] = []
        value = node.get("change")
        for item in value.items if isinstance(value, Sequence) else ():
            parts, change, findings = read_change(item, parts, parent.number, self.larder)
            self.findings += findings
            changes += [change] if change else []
        changes += [read_method(text) for text in texts_of(node, "method")]
        steps = next((part.steps for part in own if part.steps), None)
        if steps is not None:
            parts = (*parts[:-1], replace(parts[-1], steps=steps)) if parts else own
        return parts, tuple(changes)

    def oven(self, node: Mapping) -> Oven:
        dial, offset = text_of(node, "set"), text_of(node, "offset")
        return Oven(
            name=word_of(node, "name"),
            set=self.temperature(dial) if dial else None,
            offset=self.degrees(offset) if offset else None,
            fan={"yes": True, "no": False}.get(word_of(node, "fan")),
        )

    def temperature(self, text: Text) -> Quantity | None:
        quantity = read_temperature(text.text)
        if quantity is None:
            self.tell(
                "unreadable-temperature", text, f"“{text.text}” is not a temperature", "such as: 160 °C"
            )
            return None
        return quantity

    def degrees(self, text: Text) -> Fraction | None:
        """A signed difference of temperature in °C: ``+6 °C``, ``8 °C cooler``."""
        degrees = read_degrees(text.text)
        if degrees is None:
            what = f"“{text.text}” doesn't say how much hotter or cooler the oven is than its dial"
            instead = "with its sign: +6 °C where it is hotter than its dial, −6 °C where it is cooler"
            self.tell("unreadable-temperature", text, what, instead)
        return degrees

    def measured(self, node: Mapping) -> dict[str, Measurement]:
        measured: dict[str, Measurement] = {}
        for row in table("bench_measures"):
            text = text_of(node, row["name"])
            if text is not None and text.text:
                reading, faults = read_reading(text, row["dimension"], row["example"])
                self.findings += faults
                measured |= {row["name"]: reading} if reading else {}
        return measured

    def share(self, node: Mapping, key: str) -> Fraction | None:
        text = text_of(node, key)
        if text is None:
            return None
        value, faults = read_share(text)
        self.findings += faults
        return value

    def plotted(self, node: Mapping) -> str:
        text = text_of(node, "measure")
        names = [row["name"] for row in table("bench_measures")]
        if text is None:
            return ""
        if text.text not in names:
            near = difflib.get_close_matches(text.text, names, 1) or names[:1]
            self.tell(
                "unknown-measure", text, f"nothing called “{text.text}” is measured", f"write: {near[0]}"
            )
            return ""
        return text.text

    def target(self, node: Mapping) -> Fraction | None:
        """What the measure that is aimed at should be, as that is written."""
        text, measure = text_of(node, "target"), text_of(node, "measure")
        row = next((row for row in table("bench_measures") if measure and row["name"] == measure.text), None)
        if text is None:
            return None
        if row is None:
            self.tell("target-without-measure", text, "a target of no measure", "add: measure: height")
            return None
        reading, faults = read_reading(text, row["dimension"], row["example"])
        self.findings += faults
        return reading.value if reading else None

    def allowed(self, node: Mapping) -> tuple[Factor, ...]:
        value = node.get("levers")
        factors: list[Factor] = []
        for item in value.items if isinstance(value, Sequence) else ():
            factor, faults = read_factor(item, self.larder)
            self.findings += faults
            factors += [factor] if factor is not None else []
        if len(factors) > MOST_FACTORS:
            what = f"{len(factors)} levers are more than a few trials can tell apart"
            self.tell("too-many-levers", node.where, what, f"at most {MOST_FACTORS}")
        return tuple(factors[:MOST_FACTORS])

    def number(self, node: Mapping, key: str, example: str) -> int | None:
        text = text_of(node, key)
        if text is None:
            return None
        number = read_number(text.text)
        if number is None or number.denominator != 1 or not 0 < number <= MOST_NUMBERED:
            self.tell(
                "unreadable-number",
                text,
                f"“{text.text}” is not a number of {key}",
                f"write: {key}: {example}",
            )
            return None
        return int(number)

    def date(self, node: Mapping) -> str:
        text = text_of(node, "date")
        if text is None:
            return ""
        with suppress(ValueError):
            if datetime.date.fromisoformat(text.text).isoformat() == text.text:
                return text.text
        self.tell("unreadable-date", text, f"“{text.text}” is not a date", "year-month-day: 2026-03-02")
        return ""

    def tasting(self, node: Mapping, known: set[int]) -> Tasting | None:
        tasters = self.number(node, "tasters", "12")
        test, numbers = word_of(node, "test"), []
        for text in texts_of(node, "trials"):
            if text.text == "bought":
                numbers.append(BOUGHT)
            elif text.text.isdigit() and int(text.text) in known:
                numbers.append(int(text.text))
            else:
                self.tell(
                    "tasting-unknown-trial",
                    text,
                    f"there is no trial {text.text}",
                    "a trial of this file, or bought",
                )
        if not numbers or tasters is None or not test or not word_of(node, "name"):
            return None
        if test != "liking" and len(numbers) != 2:
            self.tell("tasting-of-two", node.where, f"a {test} test compares two samples", "trials: [4, 6]")
            return None
        if tasters > MOST_TASTERS:
            what = f"{tasters} tasters are more than a bench has"
            self.tell("too-many-tasters", node.where, what, f"at most {MOST_TASTERS}")
            return None
        return Tasting(
            where=node.where,
            name=word_of(node, "name"),
            test=test,
            trials=tuple(numbers),
            tasters=tasters,
            seed=word_of(node, "seed"),
            date=self.date(node),
            question=word_of(node, "question"),
            attributes=tuple(text.text for text in texts_of(node, "attributes")),
            results=tuple(result for item in mappings_of(node, "results") if (result := self.result(item))),
        )

    def result(self, node: Mapping) -> Result | None:
        taster = self.number(node, "taster", "1")
        if taster is None:
            return None
        liking = text_of(node, "liking")
        scores = {
            name.text.strip(): self.score(Text(text=score.text.strip(), where=score.where), 5)
            for name, score in _pairs(node, "just_right")
        }
        return Result(
            where=node.where,
            taster=taster,
            code=word_of(node, "code"),
            picked=word_of(node, "picked"),
            liking=self.score(liking, 9) if liking else None,
            just_right={name: score for name, score in scores.items() if score is not None},
            words=word_of(node, "words"),
        )

    def score(self, text: Text, most: int) -> int | None:
        if text.text.isdigit() and 1 <= int(text.text) <= most:
            return int(text.text)
        self.tell(
            "score-off-scale", text, f"“{text.text}” is not on the scale", f"a whole number, 1 to {most}"
        )
        return None


def _clocked(entries: tuple[Text, ...]) -> tuple[Clocked, ...]:
    """The log with its clock times; one earlier than its predecessor belongs to the next day."""
    clocked: list[Clocked] = []
    day = last = 0
    for entry in entries:
        clock = read_clock(entry.text)
        minute = None
        if clock is not None:
            minute = day + int(clock[0])
            if minute < last:
                day, minute = day + 24 * 60, minute + 24 * 60
            last = minute
        text = clock[1] if clock is not None else entry.text
        clocked.append(Clocked(where=entry.where, text=text, minute=minute))
    return tuple(clocked)
