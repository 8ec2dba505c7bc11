"""A recipe as rows of a letter: title, facts and lists, in the author's words or in those of its card."""

from __future__ import annotations

import enum
from collections.abc import Iterator, Sequence

from cardsmith.frozen import frozen
from cardsmith.recipe.model import Ingredient, Part, Recipe, Yield
from cardsmith.rewrite.card.model import Card, CardPart, Rewritten, Spans
from cardsmith.rewrite.wording import ENGLISH


@enum.unique
class RowRole(enum.StrEnum):
    """What a row is."""

    TITLE = "title"
    TEXT = "text"  # a paragraph
    FACT = "fact"  # a label and what it says
    LABEL = "label"
    PART = "part"
    INGREDIENT = "ingredient"
    STEP = "step"
    NOTE = "note"


@frozen(kw_only=False)
class LetterRow:
    """One row; the steps of a list count from one."""

    role: RowRole
    text: str
    number: int = 0


NO_BREAK = "\N{NO-BREAK SPACE}"
Listed = tuple[str, Sequence[str], Sequence[str]]  # a part's name, its ingredients, its steps


def as_written(recipe: Recipe) -> tuple[LetterRow, ...]:
    """A recipe in the author's own words and measures."""
    parts = [(part.name, [_line(line) for line in part.ingredients], _steps(part)) for part in recipe.parts]
    return tuple(
        _rows(
            recipe,
            headnote=recipe.headnote,
            facts=_facts(recipe),
            equipment=[text.text for text in recipe.equipment],
            parts=parts,
            storage=recipe.storage,
            notes=[note.text for note in recipe.notes],
        )
    )


def as_printed(card: Card, systems: tuple[str, ...]) -> tuple[LetterRow, ...]:
    """A recipe in the measures of its card: of one system, or of two, the second in brackets."""
    return tuple(
        LetterRow(row.role, row.text.replace(NO_BREAK, " "), row.number)
        for row in _printed_rows(card, systems)
    )


def _printed_rows(card: Card, systems: tuple[str, ...]) -> Iterator[LetterRow]:
    recipe = card.recipe
    piece = recipe.yields.piece if recipe.yields else None
    facts = [("Makes", card.makes), ("Serves", card.serves)]
    facts += [("Piece", piece.written if piece and card.piece_in == "" else "")]
    facts += [("Active time", card.active), ("Total time", card.total)]
    facts += [("Preparing", card.prep), ("Cook time", card.cook)]
    yield from _rows(
        recipe,
        headnote=_said(card.headnote, systems),
        facts=facts,
        equipment=card.equipment,
        parts=[_printed(part, systems) for part in card.parts],
        storage=_said(card.storage, systems),
        notes=[_said(note, systems) for note in card.notes],
    )


def _rows(
    recipe: Recipe,
    *,
    headnote: str,
    facts: Sequence[tuple[str, str]],
    equipment: Sequence[str],
    parts: Sequence[Listed],
    storage: str,
    notes: Sequence[str],
) -> Iterator[LetterRow]:
    yield LetterRow(RowRole.TITLE, recipe.title)
    if recipe.kind:
        yield LetterRow(RowRole.FACT, f"Kind: {recipe.kind.text}")
    if headnote:
        yield LetterRow(RowRole.TEXT, headnote)
    yield from (LetterRow(RowRole.FACT, f"{label}: {text}") for label, text in facts if text)
    if equipment:
        yield LetterRow(RowRole.LABEL, "Equipment")
        yield from (LetterRow(RowRole.NOTE, item) for item in equipment)
    yield from _lists(parts)
    if storage:
        yield LetterRow(RowRole.TEXT, f"Storage: {storage}")
    if notes:
        yield LetterRow(RowRole.LABEL, "Notes")
        yield from (LetterRow(RowRole.NOTE, note) for note in notes)
    yield from (LetterRow(RowRole.FACT, f"Caution: {caution.text}") for caution in recipe.cautions)
    others = (("Claims", recipe.claims), ("Keywords", recipe.keywords))
    labelled = [(label, ", ".join(text.text for text in texts)) for label, texts in others]
    labelled += [("Credit", recipe.credit), ("Course", recipe.course), ("Cuisine", recipe.cuisine)]
    labelled += [("Measures", recipe.measures if recipe.measures != "us" else "")]
    yield from (LetterRow(RowRole.FACT, f"{label}: {text}") for label, text in labelled if text)


def _facts(recipe: Recipe) -> list[tuple[str, str]]:
    yields, time = recipe.yields or Yield(where=recipe.where), recipe.time
    labelled = [("Makes", yields.makes.text if yields.makes else "")]
    labelled += [("Serves", yields.serves.text if yields.serves else "")]
    labelled += [("Piece", yields.piece.written if yields.piece else "")]
    times = (("Active time", "active"), ("Total time", "total"), ("Preparing", "prep"), ("Cook time", "cook"))
    spent = ((label, getattr(time, name, None)) for label, name in times)
    return [*labelled, *((label, time.written) for label, time in spent if time)]


def _lists(parts: Sequence[Listed]) -> Iterator[LetterRow]:
    """The lists: of one part under Ingredients and Method, of several each under the name of its part."""
    named = any(name for name, _, _ in parts)
    for name, ingredients, steps in parts:
        if name:
            yield LetterRow(RowRole.PART, name)
        if ingredients:
            yield from () if name else (LetterRow(RowRole.LABEL, "Ingredients"),)
            yield from (LetterRow(RowRole.INGREDIENT, line) for line in ingredients)
        if steps:
            yield from () if name and named else (LetterRow(RowRole.LABEL, "Method"),)
            yield from (LetterRow(RowRole.STEP, step, number) for number, step in enumerate(steps, start=1))


def _line(line: Ingredient) -> str:
    """A line as its author wrote it, with the key by which its steps draw on it."""
    text = " ".join(line.text.split())
    return f"{text} {{#{line.key}}}" if line.key else text


def _steps(part: Part) -> list[str]:
    return [" ".join(step.text.split()) for step in part.steps]


def _printed(part: CardPart, systems: tuple[str, ...]) -> Listed:
    lines = [line.in_words(systems) for line in part.ingredients]
    return part.name, lines, [_said(step.spans, systems) for step in part.steps]


def _said(spans: Spans, systems: tuple[str, ...]) -> str:
    """Running text with its measures in the systems asked for."""
    return "".join(
        span.in_words(ENGLISH, systems) if isinstance(span, Rewritten) else span.text for span in spans
    )
