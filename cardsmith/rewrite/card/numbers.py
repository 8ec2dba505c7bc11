"""Every number of a card, wherever it stands, with its origin and its error: one table for page and proof.

The error of a number is that of its printed terms, whatever chose them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.language.spans import Purpose
from cardsmith.language.tokens import numerals
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.rewrite.card.model import Card, Rewritten, Spans, Timed
from cardsmith.rewrite.card.prose import rewrite_spans
from cardsmith.rewrite.card.summary import piece_dual
from cardsmith.rewrite.printed import DEGREES, Dual
from cardsmith.rewrite.rounding.temperature import RULES
from cardsmith.rewrite.wording import long, short

AS_WRITTEN = "as written"
_AROUND = 3  # words on each side that tell a bare figure


@frozen
class CardNumber:
    """One number: where it stands, what the author measured, what is printed and how far that is off."""

    spot: tuple[str, int]  # which text of the card: ("line", 0), ("step", 2); lines and steps count from 0
    place: str  # the same in words: "list, Dough" or "step 3"
    what: str  # the ingredient, or the words of the step
    author: str
    us: str
    metric: str
    exact: tuple[Quantity, ...] = ()  # what was measured, each edge of a size; none for a bare figure
    us_error: Fraction | None = None  # printed over exact, less one; of a temperature, °C more than exact
    metric_error: Fraction | None = None  # None where the two can't be compared
    basis: str = ""  # what the step between mass, volume and count rests on, or a temperature's rounding
    key: str = ""  # what a page files it under: r0 for a line, s3-0 for the first measure of step 3
    amount: Dual | None = None  # its printed terms; none for a bare figure and a time
    purpose: Purpose | None = None  # of a temperature

    @property
    def dimension(self) -> Dimension | None:
        """What is measured; None for a bare figure."""
        return self.exact[0].dimension if self.exact else None

    @property
    def in_degrees(self) -> bool:
        """Whether the errors are differences in °C; a share of a temperature means nothing."""
        return self.dimension in DEGREES

    def said(self, system: str) -> str:
        """What the column of ``system`` prints: us or metric."""
        return self.us if system == "us" else self.metric

    def error(self, system: str) -> Fraction | None:
        """The error of the column of ``system``: us or metric."""
        return self.us_error if system == "us" else self.metric_error


def filed(card: Card, house: House) -> tuple[CardNumber, ...]:
    """The amounts of the lists and the measures of the steps: those whose derivation a page shows."""
    return tuple(number for number in (*_of_lists(card, house), *_of_steps(card)) if number.key)


def numbers(card: Card, house: House) -> tuple[CardNumber, ...]:
    """Every number the card prints of the author's, in reading order."""
    return (
        *_of_spans(("headnote", 0), "headnote", card.headnote),
        *_of_facts(card, house),
        *_of_lists(card, house),
        *_of_equipment(card, house),
        *_of_cautions(card),
        *_of_steps(card),
        *_of_spans(("storage", 0), "storage", card.storage),
        *(number for at, note in enumerate(card.notes) for number in _of_spans(("note", at), "note", note)),
    )


def _of_facts(card: Card, house: House) -> Iterator[CardNumber]:
    yields, time = card.recipe.yields, card.recipe.time
    if yields and yields.makes:
        yield from _of_text(("makes", 0), "yield", yields.makes.text, yields.makes.where, card, house)
    if yields and yields.size_of_one and card.piece_in:
        dual = piece_dual(yields.size_of_one, house)
        said = long if dual.dimension is Dimension.LENGTH else short
        yield _of_dual((card.piece_in, 0), "yield", "one piece", dual, (said(dual.us), said(dual.metric)))
    if yields and yields.serves:
        yield from _of_text(("serves", 0), "serves", yields.serves.text, yields.serves.where, card, house)
    for name in ("active", "total", "prep", "cook"):
        given = getattr(time, name, None)
        if given is not None:
            yield _of_time((name, 0), "time", f"{name} time", given, getattr(card, name))


def _of_lists(card: Card, house: House) -> Iterator[CardNumber]:
    at = 0
    for part in card.parts:
        place = f"list, {part.name}" if part.name else "list"
        for line in part.ingredients:
            spot = ("line", at)
            if line.amount:
                printed = (short(line.amount.us), short(line.amount.metric))
                yield _of_dual(spot, place, line.item, line.amount, printed, key=f"r{at}")
            for text in (line.line.item, line.line.prep, *line.line.alternatives):
                yield from _of_text(spot, place, text, line.line.where, card, house)
            at += 1


def _of_steps(card: Card) -> Iterator[CardNumber]:
    for part in card.parts:
        for step in part.steps:
            spot = ("step", step.number - 1)
            yield from _of_spans(spot, f"step {step.number}", step.spans, key=f"s{step.number}")


def _of_equipment(card: Card, house: House) -> Iterator[CardNumber]:
    """All of it is one text on the card."""
    for thing in card.recipe.equipment:
        yield from _of_text(("equipment", 0), "equipment", thing.text, thing.where, card, house)


def _of_cautions(card: Card) -> Iterator[CardNumber]:
    """The house's own words: their figures come from the tables of hazards."""
    for at, caution in enumerate(card.cautions):
        yield from _bare(("caution", at), "caution", caution, basis="the table of hazards")


def _of_text(
    spot: tuple[str, int], place: str, text: str, where: Where, card: Card, house: House
) -> Iterator[CardNumber]:
    spans = rewrite_spans(spans_of(card.recipe, text, where), {}, house)
    yield from _of_spans(spot, place, spans)


def _of_spans(spot: tuple[str, int], place: str, spans: Spans, key: str = "") -> Iterator[CardNumber]:
    """The numbers of a text; with a ``key`` its measures are filed under it, counted from 0."""
    measures = 0
    for span in spans:
        if isinstance(span, Rewritten):
            printed = (f"{span.bound}{span.said('us')}", f"{span.bound}{span.said('metric')}")
            filed_as = f"{key}-{measures}" if key else ""
            measures += 1
            basis = RULES.get(span.purpose, "") if span.purpose else span.amount.basis
            number = _of_dual(spot, place, span.text, span.amount, printed, basis=basis, key=filed_as)
            yield replace(number, purpose=span.purpose)
        elif isinstance(span, Timed):
            yield _of_time(spot, place, span.text, span.quantity, span.text, basis=AS_WRITTEN)
        else:
            yield from _bare(spot, place, span.text)


def _of_dual(
    spot: tuple[str, int],
    place: str,
    what: str,
    dual: Dual,
    printed: tuple[str, str],
    *,
    basis: str = "",
    key: str = "",
) -> CardNumber:
    us, metric = printed
    return CardNumber(
        spot=spot,
        place=place,
        what=what,
        author=dual.author,
        us=us,
        metric=metric,
        exact=dual.exact,
        us_error=dual.us_error,
        metric_error=dual.metric_error,
        basis=basis or dual.basis,
        key=key,
        amount=dual,
    )


def _of_time(
    spot: tuple[str, int], place: str, what: str, given: Quantity, printed: str, *, basis: str = ""
) -> CardNumber:
    """A time prints alike in both columns."""
    return CardNumber(
        spot=spot,
        place=place,
        what=what,
        author=given.written if what != printed else printed,
        us=printed,
        metric=printed,
        exact=(given,),
        us_error=Fraction(0),
        metric_error=Fraction(0),
        basis=basis,
    )


def _bare(spot: tuple[str, int], place: str, text: str, basis: str = AS_WRITTEN) -> Iterator[CardNumber]:
    """The figures that measure nothing (3 additions) print as written, each with the words around it."""
    words = text.split()
    for start, end in numerals(text):
        at = len(text[:end].split()) - 1
        figure = text[start:end]
        yield CardNumber(
            spot=spot,
            place=place,
            what=" ".join(words[max(at - _AROUND, 0) : at + _AROUND + 1]),
            author=figure,
            us=figure,
            metric=figure,
            basis=basis,
        )
