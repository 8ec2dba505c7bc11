"""The words of a card as running copy: paragraphs, each of one style, of runs that may have their own.

Both the word-processor file and the plain text are made of it, so that they can't differ. The styles are
named for what a text is, never for how it looks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html.parser import HTMLParser

from markupsafe import Markup, escape

from cardsmith.frozen import frozen
from cardsmith.render.card.view import CardView, FactView, PartView, RowView

# Paragraph styles, in the order in which a card has them.
PUBLICATION, TITLE, HEADNOTE, FACT = "Publication", "Recipe Title", "Headnote", "Fact"
LIST_HEADING, INGREDIENT, EQUIPMENT = "List Heading", "Ingredient", "Equipment"
HEADING, CAUTION_HEADING, CAUTION = "Method Heading", "Caution Heading", "Caution"
PART, STEP, NOTE, CREDIT = "Part Heading", "Step", "Note", "Credit"
PARAGRAPHS = (
    PUBLICATION,
    TITLE,
    HEADNOTE,
    FACT,
    LIST_HEADING,
    INGREDIENT,
    EQUIPMENT,
    HEADING,
    CAUTION_HEADING,
    CAUTION,
    PART,
    STEP,
    NOTE,
    CREDIT,
)
# Character styles.
LABEL, ITEM, PREPARATION, WEIGH = "Label", "Ingredient Name", "Preparation", "Weigh Remark"
NUMBER, MEASURE, EMPHASIS, STRONG = "Step Number", "Measure", "Emphasised", "Strong Words"
AMOUNTS = {"us": "US Amount", "metric": "Metric Amount"}
_OPENING = (LIST_HEADING, CAUTION_HEADING, PART)  # what follows one belongs to it
CHARACTERS = (LABEL, ITEM, PREPARATION, WEIGH, NUMBER, MEASURE, EMPHASIS, STRONG, *AMOUNTS.values())


@frozen(kw_only=False)
class StyledRun:
    """Words of one character style; of none where ``style`` is empty."""

    text: str
    style: str = ""


@frozen
class Paragraph:
    """One paragraph; tabs stand between the cells of a list."""

    style: str
    runs: tuple[StyledRun, ...]

    @property
    def text(self) -> str:
        """Its words."""
        return "".join(run.text for run in self.runs)


def card_copy(view: CardView, *, pictured: bool) -> tuple[Paragraph, ...]:
    """Every word that the card prints, in its order; running heads and the ruler are none of it.

    ``pictured`` says whether the card prints its picture, and so its credit.
    """
    return tuple(paragraph for paragraph in _paragraphs(view, pictured=pictured) if paragraph.text.strip())


def as_text(copy: Iterable[Paragraph]) -> str:
    """The copy as plain text: a paragraph a line, an empty line where another kind begins."""
    lines: list[str] = []
    before = ""
    for paragraph in copy:
        lines += [""] if before not in ("", paragraph.style, *_OPENING) else []
        lines.append(paragraph.text)
        before = paragraph.style
    return "\n".join(lines) + "\n"


def _paragraphs(view: CardView, *, pictured: bool) -> Iterator[Paragraph]:
    yield _paragraph(PUBLICATION, view.house)
    yield _paragraph(TITLE, view.title)
    yield _paragraph(HEADNOTE, view.headnote)
    yield from _labelled(FACT, view.facts)
    for part in view.parts:
        yield from _list(view, part)
    if view.equipment:
        need = FactView(kind="need", label=view.say("You need"), text=view.equipment)
        yield from _labelled(EQUIPMENT, [need])
    yield _paragraph(HEADING, escape(view.say("Method")))
    if view.cautions:
        yield _paragraph(CAUTION_HEADING, escape(view.say("Caution")))
    for caution in view.cautions:
        yield _paragraph(CAUTION, caution)
    for part in view.parts:
        if part.steps:
            yield _paragraph(PART, part.name)
        for step in part.steps:
            yield Paragraph(
                style=STEP, runs=(StyledRun(f"{step.number}.", NUMBER), StyledRun("\t"), *_runs(step.text))
            )
    yield from _labelled(NOTE, view.notes)
    credits_ = (view.credit, view.photo.credit if pictured and view.photo else Markup())
    yield _paragraph(CREDIT, Markup(" · ").join(filter(None, credits_)))
    if view.online:
        yield from _labelled(CREDIT, [FactView(kind="online", label=view.say("Online:"), text=view.address)])


def _list(view: CardView, part: PartView) -> Iterator[Paragraph]:
    if not part.rows:
        return
    systems = [run for system in view.systems for run in (StyledRun("\t"), StyledRun(system.name, LABEL))]
    heading = _runs(part.name or escape(view.say("Ingredients")))
    yield Paragraph(style=LIST_HEADING, runs=(*heading, *systems))
    for row in part.rows:
        yield Paragraph(style=INGREDIENT, runs=tuple(_row(row)))


def _row(row: RowView) -> Iterator[StyledRun]:
    yield StyledRun(_words(row.item), ITEM)
    if row.prep:
        yield StyledRun(f", {_words(row.prep)}", PREPARATION)
    if row.note:
        yield StyledRun(f" {_words(row.note)}", WEIGH)
    for amount in row.amounts:
        between = " " if amount.number and amount.unit else ""
        yield StyledRun("\t")
        yield StyledRun(f"{_words(amount.number)}{between}{_words(amount.unit)}", AMOUNTS[amount.system])


def _labelled(style: str, facts: Iterable[FactView]) -> Iterator[Paragraph]:
    for fact in facts:
        yield Paragraph(style=style, runs=(StyledRun(fact.label, LABEL), StyledRun(" "), *_runs(fact.text)))


def _paragraph(style: str, text: Markup) -> Paragraph:
    return Paragraph(style=style, runs=_runs(text))


def _words(text: Markup) -> str:
    return "".join(run.text for run in _runs(text))


class _Pieces(HTMLParser):
    """Our own markup, of which three elements have a style of their own."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.runs: list[StyledRun] = []
        self._styles = [""]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        own = {"em": EMPHASIS, "strong": STRONG}.get(tag, "")
        own = MEASURE if ("class", "measure") in attrs else own
        self._styles.append(own or self._styles[-1])

    def handle_endtag(self, tag: str) -> None:
        self._styles.pop()

    def handle_data(self, data: str) -> None:
        self.runs.append(StyledRun(data, self._styles[-1]))


def _runs(text: Markup) -> tuple[StyledRun, ...]:
    pieces = _Pieces()
    pieces.feed(str(text))
    pieces.close()
    return tuple(pieces.runs)
