"""Every number of a card, wherever it stands, with its error: the table the proof prints.

What is printed is read again here, as a cook would read it, and held against the author's measure: the error
of a number is that of its printed words, whatever chose them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.house import House
from cardsmith.language.prose import read_prose
from cardsmith.language.spans import Measured, Protected, Words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, System
from cardsmith.regex import regex
from cardsmith.rewrite.card import Card, CardIngredient, Dual, Rewritten, Timed
from cardsmith.rewrite.prose import rewrite_spans
from cardsmith.rewrite.summary import piece_texts

DEGREES = frozenset({Dimension.TEMPERATURE, Dimension.TEMPERATURE_CHANGE})
AS_WRITTEN = "as written"
_NOWHERE = Where(file="")
_FIGURE = regex(r"[0-9¼½¾⅐-⅞](?:[0-9.,\u2044¼½¾⅐-⅞]*[0-9¼½¾⅐-⅞])?")
_JOINED = regex(r"-(?=[a-z])")  # 5-fluid-ounce, as it stands before a noun
# Three words on each side tell a bare figure.
_WORDS_BEFORE = regex(r"(?:\S+\s+){0,3}\S*$")
_WORDS_AFTER = regex(r"\S*(?:\s+\S+){0,3}")
Spans = tuple[Words | Protected | Rewritten, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """One number: where it stands, what the author measured, what is printed and how far that is off."""

    spot: tuple[str, int]  # which text of the card: ("line", 0), ("step", 2); lines and steps count from 0
    place: str  # the same in words: "list, Dough" or "step 3"
    what: str  # the ingredient, or the words of the step
    author: str
    exact: tuple[tuple[Fraction, Fraction], ...]  # low and high of each side, in base units of ``dimension``
    dimension: Dimension | None  # None for a bare figure
    us: str
    metric: str
    us_error: Fraction | None = None  # printed over exact, less one; of a temperature, °C more than exact
    metric_error: Fraction | None = None  # None where the two can't be compared
    basis: str = ""  # what the step between mass, volume and count rests on

    @property
    def in_degrees(self) -> bool:
        """Whether the errors are differences in °C; a share of a temperature means nothing."""
        return self.dimension in DEGREES


def numbers(card: Card, house: House) -> tuple[Number, ...]:
    """Every number the card prints of the author's, in reading order."""
    return (
        *_of_spans(("headnote", 0), "headnote", card.headnote, card),
        *_of_facts(card, house),
        *_of_lists(card, house),
        *_of_equipment(card, house),
        *_of_cautions(card),
        *_of_steps(card),
        *_of_spans(("storage", 0), "storage", card.storage, card),
        *(one for at, note in enumerate(card.notes) for one in _of_spans(("note", at), "note", note, card)),
    )


def _of_facts(card: Card, house: House) -> Iterator[Number]:
    yields, time = card.recipe.yields, card.recipe.time
    if yields and yields.makes:
        yield from _of_text(("makes", 0), "yield", yields.makes.text, yields.makes.where, card, house)
    if yields and yields.piece and card.makes + card.serves:
        spot = ("serves" if card.serves.endswith("each)") else "makes", 0)
        printed = piece_texts(yields.piece, house)
        yield _measure(
            spot,
            "yield",
            "one piece",
            (yields.piece,),
            printed["us"],
            printed["metric"],
            written=yields.piece.written,
        )
    if yields and yields.serves:
        yield from _of_text(("serves", 0), "serves", yields.serves.text, yields.serves.where, card, house)
    spans = (("active", card.active), ("total", card.total))
    for name, printed_time in spans:
        given = getattr(time, name) if time else None
        if given is not None:
            yield _measure((name, 0), "time", f"{name} time", (given,), printed_time, printed_time)


def _of_lists(card: Card, house: House) -> Iterator[Number]:
    at = 0
    for part in card.parts:
        place = f"list, {part.name}" if part.name else "list"
        for line in part.ingredients:
            spot = ("line", at)
            at += 1
            if line.amount:
                yield _of_amount(spot, place, line, line.amount)
            for text in (line.line.item, line.line.prep, *line.line.alternatives):
                yield from _of_text(spot, place, text, line.line.where, card, house)


def _of_amount(spot: tuple[str, int], place: str, line: CardIngredient, dual: Dual) -> Number:
    amount = line.line.amount
    ranged = amount is not None and amount.is_range and amount.dimension is dual.dimension
    return Number(
        spot=spot,
        place=place,
        what=line.item,
        author=dual.author,
        exact=((amount.low, amount.high) if amount and ranged else (dual.exact, dual.exact),),
        dimension=dual.dimension,
        us=dual.us.text if dual.us else "",
        metric=dual.metric.text if dual.metric else "",
        us_error=dual.us_error,
        metric_error=dual.metric_error,
        basis=dual.assumed,
    )


def _of_steps(card: Card) -> Iterator[Number]:
    for part in card.parts:
        for step in part.steps:
            yield from _of_spans(("step", step.number - 1), f"step {step.number}", step.spans, card)


def _of_equipment(card: Card, house: House) -> Iterator[Number]:
    """All of it is one text on the card."""
    for thing in card.recipe.equipment:
        yield from _of_text(("equipment", 0), "equipment", thing.text, thing.where, card, house)


def _of_cautions(card: Card) -> Iterator[Number]:
    """The house's own words: their figures come from the tables of hazards."""
    for at, caution in enumerate(card.cautions):
        for figure in _FIGURE.finditer(caution):
            yield _bare(("caution", at), "caution", figure, basis="the table of hazards")


def _of_text(
    spot: tuple[str, int], place: str, text: str, where: Where, card: Card, house: House
) -> Iterator[Number]:
    spans = rewrite_spans(read_prose(text, where, System(card.recipe.measures)), {}, house)
    yield from _of_spans(spot, place, spans, card)


def _of_spans(spot: tuple[str, int], place: str, spans: Spans, card: Card) -> Iterator[Number]:
    for span in spans:
        if isinstance(span, Rewritten):
            yield _of_rewritten(spot, place, span, System(card.recipe.measures))
        elif isinstance(span, Timed):
            yield Number(
                spot=spot,
                place=place,
                what=span.text,
                author=span.text,
                exact=((span.low, span.high),),
                dimension=Dimension.DURATION,
                us=span.text,
                metric=span.text,
                us_error=Fraction(0),
                metric_error=Fraction(0),
                basis=AS_WRITTEN,
            )
        else:
            for figure in _FIGURE.finditer(span.text):
                yield _bare(spot, place, figure)


def _bare(spot: tuple[str, int], place: str, figure: re.Match[str], basis: str = AS_WRITTEN) -> Number:
    """A figure that measures nothing (3 additions) prints as written; it is told by the words around it."""
    before = _WORDS_BEFORE.search(figure.string, 0, figure.start())
    after = _WORDS_AFTER.match(figure.string, figure.end())
    return Number(
        spot=spot,
        place=place,
        what=" ".join(f"{before[0] if before else ''}{figure[0]}{after[0] if after else ''}".split()),
        author=figure[0],
        exact=(),
        dimension=None,
        us=figure[0],
        metric=figure[0],
        basis=basis,
    )


def _of_rewritten(spot: tuple[str, int], place: str, span: Rewritten, measures: System) -> Number:
    basis = span.purpose.value if span.purpose else span.assumed
    if span.us_error is not None or span.metric_error is not None or span.exact is None:
        exact = ((span.exact, span.exact),) if span.exact is not None else ()
        return Number(
            spot=spot,
            place=place,
            what=span.text,
            author=span.author,
            exact=exact,
            dimension=span.dimension,
            us=span.us,
            metric=span.metric,
            us_error=span.us_error,
            metric_error=span.metric_error,
            basis=basis,
        )
    return _measure(
        spot,
        place,
        span.text,
        _read(span.author, measures),
        span.us,
        span.metric,
        written=span.author,
        basis=basis,
    )


def _measure(
    spot: tuple[str, int],
    place: str,
    what: str,
    sides: tuple[Quantity, ...],
    us: str,
    metric: str,
    *,
    written: str = "",
    basis: str = "",
) -> Number:
    return Number(
        spot=spot,
        place=place,
        what=what,
        author=written or sides[0].written,
        exact=tuple((side.low, side.high) for side in sides),
        dimension=sides[0].dimension if sides else None,
        us=us,
        metric=metric,
        us_error=_off(sides, us),
        metric_error=_off(sides, metric),
        basis=basis,
    )


def _read(text: str, measures: System = System.US) -> tuple[Quantity, ...]:
    """The sides of the first measure in a text; none where it holds none."""
    spans = read_prose(text, _NOWHERE, measures)
    found = next((span for span in spans if isinstance(span, Measured)), None)
    return found.sides if found else ()


def _off(sides: tuple[Quantity, ...], printed: str) -> Fraction | None:
    """The error of a printed text, read again: of the side and the end that is furthest off."""
    read = _read(printed) or _read(_JOINED.sub(" ", printed))
    if not sides or len(read) != len(sides) or read[0].dimension is not sides[0].dimension:
        return None
    ends = [
        (wanted, got)
        for one, other in zip(sides, read, strict=True)
        for wanted, got in ((one.low, other.low), (one.high, other.high))
    ]
    if sides[0].dimension in DEGREES:
        return max((got - wanted for wanted, got in ends), key=abs)
    if any(not wanted for wanted, _ in ends):
        return None
    return max((got / wanted - 1 for wanted, got in ends), key=abs)
