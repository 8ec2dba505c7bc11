"""What stands around the lists: yield and times, and how closely the two columns agree."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.finding import Where
from cardsmith.house.style import SYSTEMS, House
from cardsmith.language.spans import Kind, Measured, Protected, Span, Unread, Words
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.card.model import Card, Rewritten, plain
from cardsmith.rewrite.card.prose import as_measured, rewrite_spans
from cardsmith.rewrite.printed import Dual, dual_of
from cardsmith.rewrite.rounding.sizes import size
from cardsmith.rewrite.wording import BOUNDS, ENGLISH, fraction_text, long, short, unbound
from cardsmith.words import FixedWords, around_english

TIMES = ("prep", "cook", "active", "total")
MINUTE, HOUR, DAY = 60, 3600, 86400
CLOCK = (
    (DAY, "{count} day", "{count} days"),
    (HOUR, "{count} hour", "{count} hours"),
    (MINUTE, "{count} minute", "{count} minutes"),
)
LEAST = ("{count} second", "{count} seconds")


def yield_texts(recipe: Recipe, house: House, say: FixedWords = ENGLISH) -> tuple[str, str, str]:
    """``60 crackers (about ¼ oz / 7 g each)`` and ``4 to 6``; empty where none was given.

    The size of one stands with what is counted, the third says with which: with the pieces (makes), else
    with the servings (serves). What is counted is the author's; the words of its size are ours.
    """
    yields = recipe.yields
    makes = serves = piece_in = ""
    if yields is None:
        return makes, serves, piece_in
    if yields.makes:
        spans = rewrite_spans(made_spans(recipe), {}, house)
        voice = say if _is_measured(recipe) else around_english(say.language)  # beside the author's noun
        makes = "".join(span.in_words(voice) if isinstance(span, Rewritten) else span.text for span in spans)
    if yields.serves:
        spans = rewrite_spans(spans_of(recipe, yields.serves.text, yields.serves.where), {}, house)
        serves = "".join(_counted(span, say) for span in spans)
    if yields.size_of_one:
        each_size = _size_of_one(yields.size_of_one, house, say)
        each = say("{size} each", size=each_size)
        if makes and not (_is_measured(recipe) or yields.serves_pieces):
            makes, piece_in = f"{makes} ({each_size if (yields.makes_count or 1) <= 1 else each})", "makes"
        elif serves:
            serves, piece_in = f"{serves} ({each})", "serves"
    return makes, serves, piece_in


def outline(card: Card, house: House, say: FixedWords) -> dict[str, str]:
    """What it makes and serves, and its four times, by their names in the recipe; empty where not given.

    These are the card's own texts, told anew in a language other than English.
    """
    if house.language.startswith("en"):
        return {name: getattr(card, name) for name in ("makes", "serves", *TIMES)}
    makes, serves, _ = yield_texts(card.recipe, house, say)
    times = {name: duration_text(getattr(card.recipe.time, name, None), say) for name in TIMES}
    return {"makes": makes, "serves": serves, **times}


def yield_sentences(card: Card, house: House, say: FixedWords) -> tuple[str, str]:
    """``Makes 60 crackers`` and ``Serves 10``; empty where none was given."""
    sentences = outline(card, house, say)
    makes, serves = sentences["makes"], sentences["serves"]
    return (
        say("Makes {amount}", amount=makes) if makes else "",
        say("Serves {amount}", amount=serves) if serves else "",
    )


def _counted(span: Words | Protected | Rewritten, say: FixedWords) -> str:
    """``4 to 6`` in the words of ``say``: a number without a unit is all that the author said."""
    if isinstance(span, Rewritten):
        return span.in_words(around_english(say.language))
    if isinstance(span, Unread) and span.low != span.high and not say.language.startswith("en"):
        return f"{fraction_text(span.low)} {say('to')} {fraction_text(span.high)}"
    return span.text


def made_spans(recipe: Recipe) -> tuple[Span, ...]:
    """What the recipe makes, as its spans; empty where nothing is said."""
    yields = recipe.yields
    if yields is None or yields.makes is None:
        return ()
    return yields.made or spans_of(recipe, yields.makes.text, yields.makes.where)


def _is_measured(recipe: Recipe) -> bool:
    """Whether the yield is an amount (2 cups), which has no size of one; 6 glasses have one."""
    first = next(iter(made_spans(recipe)), None)
    return isinstance(first, Measured) and not first.quantity.is_vague


def _size_of_one(piece: Quantity, house: House, say: FixedWords) -> str:
    """``about ¼ oz / 7 g``: the size of one is never exact."""
    dual = piece_dual(piece, house)
    columns = (unbound(dual.of(system)) for system in house.order)
    said = long if piece.dimension is Dimension.LENGTH else short
    sizes = dict.fromkeys(said(each, say=say) for each in columns)
    return f"{say(BOUNDS[piece.bound] or BOUNDS[Bound.ABOUT])} {' / '.join(sizes)}"


def piece_dual(piece: Quantity, house: House) -> Dual:
    """The size of one: the author's figure as it was weighed, and the other column's nearest."""
    if piece.dimension is Dimension.LENGTH:
        us, metric = (size((piece,), Kind.LENGTH, system) for system in SYSTEMS)
    else:
        us, metric = (as_measured(piece, house, system) for system in SYSTEMS)
    return dual_of(piece.written, (piece,), us, metric)


def both_systems(text: str, where: Where, recipe: Recipe, house: House) -> str:
    """A plain text with its measures in both systems."""
    return plain(rewrite_spans(spans_of(recipe, text, where), {}, house))


def duration_text(seconds: Quantity | None, say: FixedWords = ENGLISH) -> str:
    """``about 1 hour 40 minutes``; a range keeps both ends."""
    if seconds is None:
        return ""
    low, high = _clock(seconds.low), _clock(seconds.high)
    alike = seconds.is_range and len(low) == len(high) == 1 and low[0][1:] == high[0][1:]
    ends = dict.fromkeys((str(low[0][0]) if alike else _spelled(low, say), _spelled(high, say)))
    bound = BOUNDS[seconds.bound]
    lead = f"{say(bound)} " if bound else ""
    return lead + f" {say('to')} ".join(ends)


def _clock(seconds: Fraction) -> list[tuple[int, str, str]]:
    """So many of each unit of time, the largest first; seconds where it is less than a minute."""
    left = int(seconds)
    said: list[tuple[int, str, str]] = []
    for size_, unit, many in CLOCK:
        number, left = divmod(left, size_)
        said += [(number, unit, many)] if number else []
    return said or [(left, *LEAST)]


def _spelled(clock: list[tuple[int, str, str]], say: FixedWords) -> str:
    return " ".join(say(unit if number == 1 else many, count=number) for number, unit, many in clock)
