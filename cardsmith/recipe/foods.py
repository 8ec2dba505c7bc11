"""Which food an ingredient line names, and what else it says would do."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from cardsmith.finding import Severity
from cardsmith.measure.larder import Food, Larder, Match, words
from cardsmith.measure.units import Dimension, System
from cardsmith.recipe.amounts import ONE
from cardsmith.recipe.heads import Head, head_at
from cardsmith.recipe.numbers import SPACE, VULGAR, WHOLE_WORD, Fault
from cardsmith.recipe.tails import Piece, item_and_rest
from cardsmith.regex import regex

_OR = regex(rf"{SPACE}+or{SPACE}+", re.IGNORECASE)
_AND = regex(rf"{SPACE}+(?:and|&|plus|\+){SPACE}+", re.IGNORECASE)
_EACH_OF = regex(rf"^each\b:?(?:{SPACE}+of\b)?", re.IGNORECASE)
_A_NUMBER = regex(rf"^[0-9]+{SPACE}+")
_BRACKETS = regex(r"\([^()]*\)")
_DESCRIBES = regex(r"\w+less|[\w-]+-(?:on|in|free|fat)|ripe|firm|fresh|cold|dried|thick|thin|plain|hot|warm")


def named_by(pieces: tuple[Piece, ...], larder: Larder) -> tuple[Piece, int]:
    """The pieces that name the food, joined, and how many they are: "boneless, skinless chicken thighs"."""
    if not pieces:
        return Piece(text="", start=0), 0
    joined = pieces[0].text
    if larder.find(item_and_rest(pieces[0])[0]) is None:
        for count, piece in enumerate(pieces[1:4], start=2):
            joined = f"{joined}, {piece.text}"
            if _DESCRIBES.fullmatch(pieces[0].text) and not _DESCRIBES.fullmatch(piece.text):
                return Piece(text=joined, start=pieces[0].start), count
            if larder.find(joined) is not None and larder.find(piece.text) is not None:
                return Piece(text=joined, start=pieces[0].start), count
    return pieces[0], 1


def match_of(item: str, head: Head, larder: Larder) -> Match | None:
    """The larder's food; what comes in a can is the canned one, a sheet of gelatine the sheet."""
    item = _BRACKETS.sub("", item)
    if head.container is not None and head.container.word in {"can", "tin"}:
        canned = larder.find(f"canned {item}")
        if canned is not None:
            return canned
    piece = larder.find(f"{item} {head.noun}") if head.noun and item else None
    if piece is not None and set(words(head.noun)) <= set(words(piece.name)):
        return piece
    return larder.find(item)


def noun_as_food(head: Head, named: Piece, between: str, larder: Larder) -> tuple[Head, Piece]:
    """The counted noun is the food: "4 cloves" alone are the spice, "1 leg of lamb" is a joint."""
    if not head.noun or head.container is not None:
        return head, named
    whole = replace(named, text=" ".join(f"{head.note} {head.noun} {between} {named.text}".split()))
    if named.text and (larder.find(named.text) is not None or larder.find(whole.text) is None):
        return head, named
    count = replace(head.amounts[0], unit=ONE)
    return replace(head, amounts=(count, *head.amounts[1:]), noun="", note=""), whole


def noun_as_unit(
    head: Head, item: str, match: Match | None, larder: Larder, measures: System
) -> tuple[Head, str, Match | None]:
    """A noun after its food: "2 garlic cloves" are two cloves of garlic, if the larder weighs cloves."""
    if match is None or not head.amounts or head.amounts[0].unit is not ONE or head.container:
        return head, item, match
    first, _, last = item.rpartition(" ")
    found = head_at(f"1 {last}", 0, measures).amounts
    if not first or not found or found[0].unit.dimension is not Dimension.COUNT or found[0].unit is ONE:
        return head, item, match
    shorter = larder.find(first)
    weighed = {measure.measure for measure in match.food.measures}
    if found[0].unit.name == "leaf":
        return head, item, match  # "2 leaves bay" is no English
    if shorter is None or shorter.food is not match.food or found[0].unit.name not in weighed:
        return head, item, match
    count = replace(head.amounts[0], unit=found[0].unit)
    return replace(head, amounts=(count, *head.amounts[1:])), first, shorter


def with_alternatives(item: str, larder: Larder) -> tuple[str, tuple[str, ...]]:
    """The food and what else would do; "lemon or lime juice" shares its last word."""
    sides = _OR.split(item)
    if len(sides) < 2:
        return item, ()
    if re.match(r"[0-9¼-¾⅐-⅞]", sides[-1]):
        return sides[0], tuple(sides[1:])  # "or 1 tsp dried thyme": another amount, another food
    last = sides[-1].split()
    shared = next(
        (" ".join(last[at:]) for at in range(1, len(last)) if _shares(sides[0], last[at:], larder)), ""
    )
    if shared:
        full = tuple(f"{side} {shared}" for side in sides[:-1])
        foods = {found.food.key for one in (*full, sides[-1]) if (found := larder.find(one))}
        return (item, ()) if len(foods) == 1 else (full[0], (*full[1:], sides[-1]))
    known = larder.find(sides[0]) or larder.find(sides[-1])
    return (sides[0], tuple(sides[1:])) if known else (item, ())


def _shares(first: str, head: list[str], larder: Larder) -> bool:
    """Whether ``first`` needs the other side's last words to name a food: "lemon" + "juice"."""
    whole = larder.find(f"{first} {' '.join(head)}")
    alone = larder.find(first)
    if whole is None or (alone is not None and whole.food is alone.food):
        return False
    # By its chief name only: "butter or olive oil" has nothing to do with butter oil, another word for ghee.
    return alone is None or whole.name in {whole.food.name, whole.food.uk_name}


def two_foods(item: str, named: Piece, larder: Larder) -> list[Fault]:
    """The fault where a line names two foods, of which only one could be weighed and declared."""
    sides = _AND.split(_EACH_OF.sub("", item))
    if len(sides) != 2 or larder.find(item) is not None:
        return []
    sides = [side.strip() for side in sides]
    if _A_NUMBER.match(sides[1]):
        return []  # another fault: a second amount
    if any(larder.find(side) is None for side in sides):
        return []
    return [
        Fault(
            name="two-ingredients",
            severity=Severity.WARNING,
            start=named.start,
            end=named.end,
            what=f"“{item}” names two foods",
            instead=f"a line for “{sides[0]}” and a line for “{sides[1]}”",
        )
    ]


_SECOND = regex(
    rf"(?:\b(?:plus|and)|\+|&){SPACE}+(?P<amount>(?:[0-9{VULGAR}]|(?:{WHOLE_WORD}){SPACE})(?![0-9]*%)[^,;()]*)",
    re.IGNORECASE,
)
_USE = regex(rf"\b(?:more|extra|additional|for|to{SPACE}+\w+|as{SPACE}+needed|reserved)\b", re.IGNORECASE)


def second_amounts(
    named: Piece, prep: tuple[Piece, ...], match: Match | None, larder: Larder, measures: System
) -> Iterator[Fault]:
    """The faults of amounts that a line adds to its own ("plus 1 yolk"), which nobody would count or scale.

    More of the same for another use ("plus 1 tablespoon for sprinkling") may stay.
    """
    inside = _SECOND.search(named.text)
    found = [(named, inside)] if inside else []
    found += [(piece, begun) for piece in prep if (begun := _SECOND.match(piece.text))]
    for piece, second in found:
        use = _USE.search(second["amount"])
        words = second["amount"][: use.start()] if use else ""
        other = larder.find(words[head_at(words, 0, measures).end :])
        if use is None or (other is not None and (match is None or other.food is not match.food)):
            yield Fault(
                name="second-amount",
                severity=Severity.ERROR,
                start=piece.start,
                end=piece.end,
                what=f"“{second[0].strip()}” would be left out of every sum and every batch",
                instead=f"a line of its own for “{second['amount'].strip()}”, or one amount of both",
            )


_AMOUNT_BEFORE = regex(r"^[\d\s¼½¾⅓⅔⅛.,/-]+(?:g|ml|cups?|tbsp|tsp)?\b")


def alternative_foods(alternatives: Iterable[str], larder: Larder) -> Iterator[Food | None]:
    """The food of each alternative that a line offers; None for one the larder doesn't know."""
    for text in alternatives:
        match = larder.find(_AMOUNT_BEFORE.sub("", text))
        yield match.food if match else None
