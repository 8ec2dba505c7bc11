"""What a recipe keeps of its own history: trials, publication, corrections, review, answers."""

from __future__ import annotations

import datetime

from cardsmith.finding import Finding, error
from cardsmith.recipe.file.texts import text_of, texts_of, word_of
from cardsmith.recipe.file.tree import Mapping, Scalar, Sequence
from cardsmith.recipe.model import (
    Accepted,
    Correction,
    EditionAnswer,
    Published,
    RecipeEdition,
    Reviewed,
    Tested,
)

Findings = tuple[Finding, ...]
OF_ALL = frozenset({"date", "mark", "what", "step"})  # all other keys of a publication are editions


def tested_of(root: Mapping) -> Tested | None:
    """On which trial it rests."""
    node = root.get("tested")
    if not isinstance(node, Mapping):
        return None
    return Tested(
        where=node.where,
        trial=word_of(node, "trial"),
        cross_test=word_of(node, "cross_test"),
        cooked_from=tuple(column.text for column in texts_of(node, "cooked_from")),
    )


def history_of(root: Mapping, steps: int) -> tuple[Published | None, tuple[Correction, ...], Findings]:
    """When it was published and what was corrected since, with the dates and steps that can't be read."""
    findings: list[Finding] = []
    published = None
    node = root.get("published")
    if isinstance(node, Mapping):
        day, of_day = _date(node)
        findings += of_day
        published = Published(where=node.where, date=day, mark=word_of(node, "mark"), editions=_marks(node))
    listed = root.get("corrections")
    corrections: list[Correction] = []
    for item in listed.items if isinstance(listed, Sequence) else ():
        if isinstance(item, Mapping):
            day, of_day = _date(item)
            step, of_step = _step(item, steps)
            findings += (*of_day, *of_step)
            what, mark = word_of(item, "what"), word_of(item, "mark")
            marks = _marks(item)
            corrections.append(
                Correction(where=item.where, date=day, what=what, mark=mark, editions=marks, step=step)
            )
    return published, tuple(corrections), tuple(findings)


def _marks(node: Mapping) -> tuple[tuple[str, str], ...]:
    """The marks of further editions, by their keys."""
    keys = (key.text for key, _ in node.entries if key.text not in OF_ALL)
    return tuple((key, word) for key in keys if (word := word_of(node, key)))


def _step(correction: Mapping, steps: int) -> tuple[int, Findings]:
    """The step that a correction is about, one of so many; 0 for none."""
    text = text_of(correction, "step")
    if text is None or not steps:  # a recipe without steps is asked for them
        return 0, ()
    numbers = [str(number) for number in range(1, steps + 1)]
    if text.text.strip() in numbers:
        return numbers.index(text.text.strip()) + 1, ()
    what = f"the recipe has no step {text.text.strip()}"
    instead = f"write a number from 1 to {steps}, or leave step: out"
    return 0, (error("unknown-choice", text.where, what, instead, text.text),)


def reviewed_of(root: Mapping) -> tuple[Reviewed | None, Findings]:
    """Who passed it, and a date that can't be read."""
    node = root.get("reviewed")
    if not isinstance(node, Mapping):
        return None, ()
    day, findings = _date(node)
    return Reviewed(where=node.where, by=word_of(node, "by"), date=day), findings


def _date(node: Mapping) -> tuple[str, Findings]:
    """The day a mapping's ``date`` names, as year-month-day."""
    text = text_of(node, "date")
    if text is None:
        return "", ()
    try:
        return datetime.date.fromisoformat(text.text.strip()).isoformat(), ()
    except ValueError:
        what = f"“{text.text}” is not a date"
        return "", (error("unreadable-date", text.where, what, "year-month-day: 2026-03-02", text.text),)


def accepted_of(root: Mapping) -> tuple[Accepted, ...]:
    """Its answers to checks."""
    node = root.get("accepted")
    entries = node.entries if isinstance(node, Mapping) else ()
    return tuple(
        Accepted(where=key.where, check=key.text.strip(), reason=" ".join(value.text.split()))
        for key, value in entries
        if isinstance(value, Scalar)
    )


def editions_of(root: Mapping) -> tuple[RecipeEdition, ...]:
    """What it says of editions of the house."""
    node = root.get("editions")
    return tuple(
        RecipeEdition(where=key.where, key=key.text, answers=_edition_answers(answers))
        for key, answers in (node.entries if isinstance(node, Mapping) else ())
        if isinstance(answers, Mapping)
    )


def _edition_answers(node: Mapping) -> tuple[EditionAnswer, ...]:
    return tuple(
        EditionAnswer(where=value.where, name=key.text.strip(), instead=" ".join(value.text.split()))
        for key, value in node.entries
        if isinstance(value, Scalar)
    )
