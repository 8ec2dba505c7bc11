"""A line of several ingredients, and a method in one block, taken apart; no word is changed."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from cardsmith.draft.sorting.readings import has_figure, line_of
from cardsmith.draft.sorting.words import deed_of, words_in
from cardsmith.finding import Severity
from cardsmith.language.figures.amounts import amount_at
from cardsmith.language.figures.list_marks import sentence_starts
from cardsmith.language.line.read import LONGEST_LINE
from cardsmith.language.tokens import tokenize
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension

_JOINTS = frozenset({",", ";", "/", "·", "|", "•"})
LONGEST_TEXT = 3_000  # characters of a list in one paragraph
LONGEST_PIECE = 16  # words
LONGEST_NAME = 5  # words of a component's
FEWEST_SENTENCES = 3  # of a block that is cut; common practice, no source


@lru_cache(maxsize=1 << 10)
def ingredients_in(text: str, larder: Larder) -> tuple[str, ...]:
    """The ingredients that one line holds, each with an amount of its own; the line alone where it holds one.

    >>> from cardsmith.measure.larder import load_larder
    >>> ingredients_in("2 eggs, beaten, 5 g salt and 1 cup milk.", load_larder())
    ('2 eggs, beaten', '5 g salt', '1 cup milk')
    >>> ingredients_in("1 cup flour, plus 2 tbsp for dusting", load_larder())
    ('1 cup flour, plus 2 tbsp for dusting',)
    >>> ingredients_in("1 egg, 1 onion, chopped, 5 g thyme, salt, black pepper", load_larder())
    ('1 egg', '1 onion, chopped', '5 g thyme', 'salt', 'black pepper')
    >>> ingredients_in("1 egg; 1 onion; 1 tsp vinegar; parsley", load_larder())
    ('1 egg', '1 onion', '1 tsp vinegar', 'parsley')
    """
    if len(text) > LONGEST_TEXT:
        return (text,)
    tokens = tokenize(text)
    cuts: list[tuple[int, int]] = []  # where one ends, and the next begins
    for at, token in enumerate(tokens.all):
        joint = token.text in _JOINTS or token.low == "and"
        if not joint or at == 0 or (token.glued and tokens[at + 1].glued):
            continue
        place = at + 1 + (tokens[at + 1].low == "and")
        amount = amount_at(tokens, place)
        if (
            amount is None
            or amount.quantity is None
            or amount.end >= len(tokens)
            or _is_open(text[: token.start])
        ):
            continue
        cuts.append((token.start, tokens[place].start))
    if len(cuts) < 2 and not (cuts and text[cuts[0][0]] in _JOINTS):
        return (text,)  # "1 onion and 2 carrots, chopped": both are
    starts, ends = [0, *(start for _, start in cuts)], [*(end for end, _ in cuts), len(text)]
    pieces = [text[start:end].strip(" ,;.") for start, end in zip(starts, ends, strict=True)]
    few = len(pieces) == 2  # "4 fillets, 1½ lb. total" is one
    amounts = [_is_ingredient(piece, larder, known=few) for piece in pieces]
    bare = not few and larder.find(pieces[0].partition(" for ")[0]) is not None  # "oil for frying, 2 eggs …"
    if not all(amounts[1:]) or not (amounts[0] or bare):
        return (text,)
    return (*pieces[:-1], *(pieces[-1:] if few else _with_bare_foods(pieces[-1], larder)))


def _with_bare_foods(piece: str, larder: Larder) -> Iterator[str]:
    """The last ingredient of several, and foods that stand behind it without amounts: salt, pepper."""
    first, *others = piece.split("; ")
    if others and all(larder.find(food) is not None for food in others):
        yield from (first, *others)
        return
    first, *others = piece.split(", ")
    bare = len(others)
    while bare and larder.find(others[bare - 1]) is not None:
        bare -= 1
    yield ", ".join((first, *others[:bare]))
    yield from others[bare:]


def part_and_list(text: str, larder: Larder) -> tuple[str, str] | None:
    """A component's name and its list in one line: "For the crust: 300 g flour, 150 g butter"."""
    dash = " – " if " – " in text else " - "
    name, colon, rest = text.partition(":" if ":" in text else dash)
    if not colon or has_figure(name) or len(words_in(name)) > LONGEST_NAME:
        return None
    return (f"{name}:", rest.strip()) if len(ingredients_in(rest.strip(), larder)) > 1 else None


def _is_open(text: str) -> bool:
    return text.count("(") > text.count(")")


def _is_ingredient(text: str, larder: Larder, *, known: bool) -> bool:
    """Whether a piece begins with an amount of a food: "one bowl" and half a sentence do not."""
    line = line_of(text, larder)
    if line.main is None or line.main.start >= 6 or not line.item or len(text) > LONGEST_LINE:
        return False
    if len(sentence_starts(text)) > 1 or len(words_in(text)) > LONGEST_PIECE:
        return False
    is_food = line.match is not None or (not known and line.main.quantity.dimension is not Dimension.COUNT)
    return is_food and all(fault.severity is not Severity.ERROR for fault in line.faults)


def steps_in(text: str) -> tuple[str, ...]:
    """The steps of a method that was written as one block: each begins with what a cook does.

    >>> steps_in("Boil the milk. It rises fast. Add the rice. Stir for 20 minutes.")
    ('Boil the milk. It rises fast.', 'Add the rice.', 'Stir for 20 minutes.')
    """
    starts = sentence_starts(text)
    if len(starts) < FEWEST_SENTENCES:
        return (text,)
    begins = [start for start in starts if start == starts[0] or deed_of(text[start:])]
    return tuple(text[start:end].strip() for start, end in zip(begins, (*begins[1:], len(text)), strict=True))
