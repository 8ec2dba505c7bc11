"""The words of a card's view as fields to compare, and the view again with its changed words marked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice

from markupsafe import Markup

from cardsmith.proof.fields import FieldNumber, ProofField
from cardsmith.proof.witness import food_key
from cardsmith.proof.word_changes import Marks
from cardsmith.recipe.model import Recipe
from cardsmith.render.card.view import AmountView, CardView, FactView, PartView, RowView, StepView, TermView
from cardsmith.render.proof.marks import Mark
from cardsmith.rewrite.card.numbers import CardNumber

ENTRY = "-entry-"  # in a class, between what a mark is and its number in the list of changes
_TAG = re.compile(r"(<[^>]*>)")
_WORD = re.compile(r"(\s+)")
AllMarks = Mapping[tuple[str, int], Mapping[str, Marks]]


def fields(view: CardView, recipe: Recipe, numbers: Iterable[CardNumber]) -> tuple[ProofField, ...]:
    """Every text that the card prints, in reading order, each with its numbers."""
    figures: dict[tuple[str, int], list[FieldNumber]] = {}
    for number in numbers:
        figures.setdefault(number.spot, []).append(
            FieldNumber(author=plain(number.author), us=plain(number.us), metric=plain(number.metric))
        )
    return tuple(
        replace(field, figures=tuple(figures.get(field.spot, ())))
        for field in _texts(view, recipe)
        if field.text or field.kind == "part"
    )


def _texts(view: CardView, recipe: Recipe) -> Iterator[ProofField]:
    yield _one("title", 0, "title", view.title)
    yield _one("headnote", 0, "headnote", view.headnote)
    for spot, fact in zip(_fact_spots(view.facts), view.facts, strict=True):
        yield _one(*spot, fact.label.lower(), fact.text, key=fact.label)
    lines = iter(recipe.ingredients)
    at = 0
    for place, part in enumerate(view.parts):
        name = plain(part.name)
        yield _one("part", place, "name of a part", part.name, part=name)
        for row in part.rows:
            yield _line(at, row, name, food_key(next(lines)))
            at += 1
    yield _one("equipment", 0, "equipment", view.equipment)
    for at, caution in enumerate(view.cautions):
        yield _one("caution", at, "caution", caution)
    for part in view.parts:
        for step in part.steps:
            yield _one("step", step.number - 1, f"step {step.number}", step.text, part=plain(part.name))
    for spot, note in zip(_note_spots(view.notes), view.notes, strict=True):
        yield _one(*spot, note.label.lower(), note.text, key=note.label)
    yield _one("foot", 1, "credit", view.credit, key="credit")
    yield _one("foot", 2, "web address", view.address, key="address")
    if view.photo:
        yield ProofField(
            kind="photo",
            at=0,
            place="photo",
            words={
                "text": plain(view.photo.credit),
                "file": view.photo.name,
                "alt": plain(view.photo.alt),
            },
        )


def _fact_spots(facts: Sequence[FactView]) -> tuple[tuple[str, int], ...]:
    """Where each fact stands: under its own name, as the table of numbers has it."""
    return tuple((fact.kind, 0) for fact in facts)


def _note_spots(notes: Sequence[FactView]) -> tuple[tuple[str, int], ...]:
    """Where each note stands: the author's own notes are counted by themselves, storage is one text."""
    own = [at for at, note in enumerate(notes) if note.kind == "note"]
    return tuple(
        ("note", own.index(at))
        if note.kind == "note"
        else ("storage", 0)
        if note.kind == "storage"
        else ("declared", at)
        for at, note in enumerate(notes)
    )


def _one(kind: str, at: int, place: str, text: Markup, key: str = "", part: str = "") -> ProofField:
    return ProofField(kind=kind, at=at, place=place, key=key, part=part, words={"text": plain(text)})


def _line(at: int, row: RowView, part: str, key: str) -> ProofField:
    item = plain(row.item)
    amounts = {
        amount.system: f"{plain(amount.number)} {plain(amount.unit)}".strip() for amount in row.amounts
    }
    return ProofField(
        kind="line",
        at=at,
        place=f"list, {part}: {item}" if part else f"list: {item}",
        key=key,
        part=part,
        words={**amounts, "item": item, "prep": plain(row.prep), "note": plain(row.note)},
    )


def plain(text: Markup | str) -> str:
    """The visible text, with single spaces."""
    return " ".join((text.striptags() if isinstance(text, Markup) else text).split())


# --- the view with marks ------------------------------------------------------------------------------


def marked(view: CardView, marks: AllMarks) -> CardView:
    """The same card with every changed word inside an ``ins`` element."""

    def text(kind: str, at: int, given: Markup) -> Markup:
        return mark(given, marks.get((kind, at), {}).get("text", Marks()))

    def marked_facts(given: Sequence[FactView], spots: Sequence[tuple[str, int]]) -> tuple[FactView, ...]:
        return tuple(
            replace(fact, text=text(*spot, fact.text)) for spot, fact in zip(spots, given, strict=True)
        )

    return replace(
        view,
        title=text("title", 0, view.title),
        headnote=text("headnote", 0, view.headnote),
        facts=marked_facts(view.facts, _fact_spots(view.facts)),
        parts=tuple(_parts(view.parts, marks)),
        equipment=text("equipment", 0, view.equipment),
        cautions=tuple(text("caution", at, caution) for at, caution in enumerate(view.cautions)),
        notes=marked_facts(view.notes, _note_spots(view.notes)),
        credit=text("foot", 1, view.credit),
        address=text("foot", 2, view.address),
        photo=replace(view.photo, credit=text("photo", 0, view.photo.credit)) if view.photo else None,
    )


def _parts(parts: Sequence[PartView], marks: AllMarks) -> Iterator[PartView]:
    at = 0
    for place, part in enumerate(parts):
        rows = []
        for row in part.rows:
            rows.append(_row(row, marks.get(("line", at), {})))
            at += 1
        yield replace(
            part,
            name=mark(part.name, marks.get(("part", place), {}).get("text", Marks())),
            rows=tuple(rows),
            steps=tuple(_step(step, marks) for step in part.steps),
        )


def _step(step: StepView, marks: AllMarks) -> StepView:
    return replace(step, text=mark(step.text, marks.get(("step", step.number - 1), {}).get("text", Marks())))


def _row(row: RowView, marks: Mapping[str, Marks]) -> RowView:
    return replace(
        row,
        item=mark(row.item, marks.get("item", Marks())),
        prep=mark(row.prep, marks.get("prep", Marks())),
        note=mark(row.note, marks.get("note", Marks())),
        amounts=tuple(_amount(amount, marks.get(amount.system, Marks())) for amount in row.amounts),
    )


def _amount(amount: AmountView, marks: Marks) -> AmountView:
    """The marks of ``½ cup + 1 tbsp`` shared out to its number and the pieces after it."""
    number, *pieces = _shared(marks, (amount.number, *amount.pieces))
    shared = _shared(marks, [text for term in amount.stacked for text in (term.number, *term.pieces)])
    stacked = (
        TermView(number=next(shared), pieces=tuple(islice(shared, len(term.pieces))))
        for term in amount.stacked
    )
    return replace(amount, number=number, pieces=tuple(pieces), stacked=tuple(stacked))


def _shared(marks: Marks, texts: Sequence[Markup]) -> Iterator[Markup]:
    first = 0
    for at, text in enumerate(texts, 1):
        words = len(plain(text).split())
        yield mark(text, _within(marks, first, None if at == len(texts) else first + words))
        first += words


def _within(marks: Marks, first: int, end: int | None) -> Marks:
    """The marks of the words from ``first`` on, those from ``end`` on left out."""

    def own(places: frozenset[int]) -> frozenset[int]:
        return frozenset(at - first for at in places if first <= at and (end is None or at < end))

    return replace(marks, new=own(marks.new), gaps=own(marks.gaps))


def mark(text: Markup, marks: Marks) -> Markup:
    """Wrap each marked word; a word that tags divide is wrapped in pieces."""
    if not marks:
        return text
    last = len(plain(text).split())
    out: list[str] = []
    at, inside = -1, False  # the word reached, and whether a piece of it was met
    for piece in _TAG.split(str(text)):
        if piece.startswith("<"):
            out.append(piece)
            continue
        for part in _WORD.split(piece):
            if not part or part.isspace():
                inside = inside and not part
                out.append(part)
                continue
            at, inside = (at if inside else at + 1), True
            out.append(_wrapped(part, at, marks, last))
    return Markup("".join(out))  # the same markup with elements around its own words


def _wrapped(part: str, at: int, marks: Marks, words: int) -> str:
    """A word, or a piece of one, inside an element whose classes say how to mark it."""
    first, last = at == 0, at == words - 1
    shown = []
    if at in marks.new:
        shown.append((Mark.CHANGED, marks.entry))
    elif at in marks.gaps:
        shown.append((Mark.GAP, marks.entry))
    if last and words in marks.gaps:
        shown.append((Mark.GAP_AT_END, marks.entry))
    if first and marks.moved:
        shown.append((Mark.MOVED, marks.entry))
    shown += [(Mark.BEFORE, entry) for entry in marks.before if first]
    shown += [(Mark.AFTER, entry) for entry in marks.after if last]
    if not shown:
        return part
    classes = " ".join(f"{mark.value}{ENTRY}{entry}" for mark, entry in shown)
    return f'<ins class="{classes}">{part}</ins>'
