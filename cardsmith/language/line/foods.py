"""Which food an ingredient line names, or which foods, and what else it says would do.

    names    = name { ("," | "and" | "&") name }      salt and pepper · cumin, coriander and turmeric
    name     = words "or" words                        lemon or lime juice: the last words are shared

>>> from cardsmith.measure.larder import load_larder
>>> larder = load_larder()
>>> names_in(["red", "yellow and green bell pepper"], larder)
(('red bell pepper', 'yellow bell pepper', 'green bell pepper'), 2)
>>> names_in(["ground cumin", "coriander and turmeric", "all toasted"], larder)
(('ground cumin', 'ground coriander', 'ground turmeric'), 2)
>>> with_alternatives("lemon or lime juice", larder)
('lemon juice', ('lime juice',))
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from cardsmith.language.figures.amounts import ONE
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.line.heads import head_at
from cardsmith.language.line.preparation import item_and_rest
from cardsmith.language.line.statements import Head, Statement
from cardsmith.language.tokens import tokenize
from cardsmith.measure.larder import Food, Larder, Match, form_of, words
from cardsmith.measure.units import Dimension, System
from cardsmith.regex import regex

_OR = regex(r"\s+or\s+", re.IGNORECASE)
_AND = regex(r"\s+(?:and|&|plus|\+)\s+", re.IGNORECASE)
_SHARE = regex(r"(?:half|equal|part)\b", re.IGNORECASE)  # what one food is made of: half flour and half water
_BRACKETS = regex(r"\([^()]*\)")
_PERCENT = regex(r"\s[\d.,]+\s*%$|^[\d.,]+\s*% ")  # salt 2%, of the flour; 100% rye flour
_DESCRIBES = regex(r"\w+less|[\w-]+-(?:on|in|free|fat)|ripe|firm|fresh|cold|dried|thick|thin|plain|hot|warm")


def named_by(pieces: Sequence[str], larder: Larder) -> tuple[str, int]:
    """The pieces that name the food, joined, and how many they are: "boneless, skinless chicken thighs"."""
    if not pieces:
        return "", 0
    joined = pieces[0]
    if larder.find(item_and_rest(joined)[0]) is None:
        for count, piece in enumerate(pieces[1:4], start=2):
            joined = f"{joined}, {piece}"
            if _DESCRIBES.fullmatch(pieces[0]) and not _DESCRIBES.fullmatch(piece):
                return joined, count
            if larder.find(joined) is not None and larder.find(piece) is not None:
                return joined, count
    return pieces[0], 1


def match_of(item: str, head: Head, larder: Larder) -> Match | None:
    """The larder's food; what comes in a can is the canned one, a sheet of gelatine the sheet."""
    whole = _BRACKETS.sub("", item)
    item = whole if larder.find(whole) else _PERCENT.sub("", whole)
    if head.main and head.main.quantity.unit.name in {"can", "tin"}:
        canned = larder.find(f"canned {item}")
        if canned is not None:
            return canned
    piece = larder.find(f"{item} {head.noun}") if head.noun and item else None
    if piece is not None and set(words(head.noun)) <= set(words(piece.name)):
        return piece
    return larder.find(item) or _either(item, larder)


def in_state(match: Match | None, item: str, prep: Sequence[str], larder: Larder) -> Match | None:
    """The food as it is sold, where a word behind the comma says so alone: "oregano, dried".

    What was washed is dried again, and stays what it is.
    """
    preparations = [preparation.lower() for preparation in prep]
    state = next((preparation for preparation in preparations if preparation in _SOLD), "")
    if match is None or not state or any(_WASHED.search(preparation) for preparation in preparations):
        return match
    sold = larder.find(f"{state} {item}")
    named = sold is not None and state in words(sold.food.name) and state not in words(match.food.name)
    return sold if named else match


def as_spice(
    match: Match | None, main: Statement | None, prep: Sequence[str], larder: Larder
) -> Match | None:
    """The ground seed of a plant whose bare name may be its leaf, by the teaspoon: coriander.

    Which of them was meant is still asked.
    """
    if match is None or main is None or main.quantity.unit.name != "teaspoon" or match.form or prep:
        return match
    if not match.generic or match.food.state != "leaf":
        return match
    ground, seed = (larder.find(name) for name in (f"ground {match.name}", f"{match.name} seed"))
    return replace(match, food=ground.food) if ground and seed else match


def _either(item: str, larder: Larder) -> Match | None:
    """The food of which "fresh or frozen okra" names two states."""
    first, *others = _OR.split(item)
    last = others[-1].split() if others else []
    tries = (f"{first} {' '.join(last[at:])}" for at in range(1, len(last)))
    return next((match for name in tries if (match := larder.find(name))), None)


def noun_as_food(head: Head, named: str, between: str, larder: Larder) -> tuple[Head, str]:
    """The counted noun is the food: "4 cloves" alone are the spice, "1 leg of lamb" is a joint."""
    if not head.noun or not head.counts or head.contained or head.main is None:
        return head, named
    lead = "whole" if " whole " in head.main.quantity.written else ""  # 4 whole cloves
    whole = " ".join(f"{lead} {head.note} {head.noun} {between} {named}".split())
    if named and (larder.find(named) is not None or larder.find(whole) is None):
        return head, named
    return replace(_of_unit(head, ONE), noun="", note=""), whole


def noun_as_unit(
    head: Head, item: str, match: Match | None, larder: Larder, measures: System
) -> tuple[Head, str, Match | None]:
    """A noun after its food: "2 garlic cloves" are two cloves of garlic, if the larder weighs cloves."""
    if match is None or head.main is None or head.main.quantity.unit is not ONE:
        return head, item, match
    first, _, last = item.rpartition(" ")
    tokens = tokenize(last)
    unit_found = unit_at(tokens, 0, measures) if first else None
    if (
        unit_found is None
        or unit_found.end != len(tokens)
        or unit_found.unit.dimension is not Dimension.COUNT
    ):
        return head, item, match
    shorter = larder.find(first)
    weighed = {measure.measure for measure in match.food.measures}
    if unit_found.unit.name == "leaf":
        return head, item, match  # "2 leaves bay" is no English
    if shorter is None or shorter.food is not match.food or unit_found.unit.name not in weighed:
        return head, item, match
    return _of_unit(head, unit_found.unit), first, shorter


def _of_unit(head: Head, unit: object) -> Head:
    """``head`` counting another noun."""
    assert head.main is not None  # the callers have looked
    main = replace(head.main, quantity=replace(head.main.quantity, unit=unit))  # type: ignore[arg-type]
    return replace(head, statements=(main, *head.statements[1:]))


# --- alternatives -------------------------------------------------------------------------------------


def with_alternatives(item: str, larder: Larder) -> tuple[str, tuple[str, ...]]:
    """The food and what else would do; "lemon or lime juice" shares its last word."""
    sides = _OR.split(item)
    if len(sides) < 2:
        return item, ()
    last = sides[-1].split()
    shared = next(
        (" ".join(last[at:]) for at in range(1, len(last)) if _shares(sides[0], last[at:], larder)), ""
    )
    if shared:
        full = tuple(f"{side} {shared}" for side in sides[:-1])
        foods = {match.food.key for name in (*full, sides[-1]) if (match := larder.find(name))}
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


def shared_noun(left: str, right: str, larder: Larder) -> str:
    """What ``left`` names with the last words of ``right``: "fresh" of "frozen okra" is fresh okra."""
    if larder.find(left) is not None:
        return left
    last = right.split()
    for at in range(len(last)):
        whole = f"{left} {' '.join(last[at:])}".strip()
        if larder.find(whole) is not None:
            return whole
    return (
        f"{left} {last[-1]}".strip() if last and all(form_of(word) or word for word in left.split()) else left
    )


def alternative_foods(alternatives: Iterable[str], larder: Larder) -> Iterator[Food | None]:
    """The food of each alternative that a line offers; None for one the larder doesn't know."""
    for text in alternatives:
        tokens = tokenize(text)
        head = head_at(tokens, 0, System.US)
        at = tokens[head.end].start if head.statements and head.end < len(tokens) else 0
        match = larder.find(text[max(at, 0) :]) or larder.find(text)
        yield match.food if match else None


# --- several foods ------------------------------------------------------------------------------------


def pair_in(item: str, larder: Larder) -> tuple[str, ...]:
    """The foods that ``item`` names with "and" between them; empty where it is one food, or unknown."""
    whole = larder.find(item)
    if not _AND.search(item) or (whole is not None and _AND.search(whole.name)):
        return ()  # "half and half"; but butter and oil are no butter oil
    done = _DONE_AND_DONE.match(item)
    if done is not None and whole is not None and done["second"].removeprefix("un") != done["first"]:
        return ()  # a baked and cooled pie crust is one; salted and unsalted butter are two
    names, _ = names_in([item], larder)
    foods = [match.food.key for name in names if (match := larder.find(name))]
    several = len(set(foods)) > 1 or whole is None  # peeled and cored apples are apples
    if len(names) < 2 or len(foods) < len(names) or not several or _is_of_one_animal(names, larder):
        return ()
    return names


_DONE_AND_DONE = regex(r"(?P<first>\w+ed) and (?P<second>\w+ed)\b", re.IGNORECASE)


def _is_of_one_animal(names: Sequence[str], larder: Larder) -> bool:
    """Whether all are cuts of the animal that the first names, weighed together: chicken backs and wings."""
    animal = next((word for word in names[0].split() if not form_of(word)), "")
    first = larder.find(names[0])
    if first is None or not first.food.origin & _FLESH:
        return False
    for name in names[1:]:
        food = larder.find(name)
        cut = (
            food is not None and len(words(food.food.name)) > 1 and words(food.food.name)[-1:] == words(name)
        )
        if not cut and larder.find(f"{animal} {name}") is None:
            return False
        if food is None or food.food.origin != first.food.origin:
            return False
    return True


_SOLD = frozenset({"dried", "fresh", "canned", "smoked"})
_WASHED = regex(r"\b(?:wash|rins|soak|blanch)", re.IGNORECASE)
_DRIED, _GROUND = "dried", "ground"  # of herbs and spices: a powder has its own name
_FLESH = frozenset({"meat", "poultry"})


def listed_in(texts: Sequence[str], larder: Larder) -> tuple[str, ...]:
    """The foods of a list behind one amount: "salt, pepper and cumin"; empty where there is no list."""
    if len(texts) < 2 or not _AND.search(texts[1]) or _SHARE.match(texts[1]):
        return ()
    names = [part.strip() for text in texts[:2] for part in _AND.split(text)]
    bare = all(_NO_NAME.isdisjoint(name.lower().split()) for name in names)
    return tuple(names) if bare and all(larder.find(name) for name in names) else ()


_NO_NAME = frozenset(
    {"with", "in", "the", "half", "from", "for", "to"}
)  # "beaten with the milk and the salt"


def names_in(pieces: Sequence[str], larder: Larder) -> tuple[tuple[str, ...], int]:
    """The foods that a list names, each in full, and how many of the pieces the list takes up.

    The last words of the last name belong to those that are none without them (red, yellow and green bell
    pepper), and what is done to the first is done to all (chopped dill and chives).
    """
    names: list[str] = []
    count = 0
    for piece in pieces:
        closed = bool(_AND.search(piece))
        parts = [part.strip() for part in _AND.split(piece)]
        if names and not closed and larder.find(piece) is None:
            break
        names += filter(None, (re.sub(r"^and\s+", "", part, flags=re.IGNORECASE) for part in parts))
        count += 1
        if closed:
            break
    return tuple(_led(_completed(names, larder), larder)), count


def _completed(names: list[str], larder: Larder) -> list[str]:
    if len(names) < 2:
        return names
    last = names[-1].split()
    full = []
    for name in names[:-1]:
        tries = (name, *(f"{name} {' '.join(last[at:])}" for at in range(1, len(last))))
        full.append(next((alternative for alternative in tries if larder.find(alternative)), name))
    return [*full, names[-1]]


def _led(names: list[str], larder: Larder) -> list[str]:
    """What is done to the first food is done to all, where the others say nothing of their own."""
    if len(names) < 2:
        return names
    lead: list[str] = []
    for word in names[0].split()[:-1]:
        if not form_of(word) and word.lower() != _DRIED:
            break
        lead.append(word)
    others = names[1:]
    if not lead or any(form_of(word) for name in others for word in name.split()):
        return names
    return [
        names[0],
        *(f"{' '.join(lead)} {other}" if _takes(lead, other, larder) else other for other in others),
    ]


def _takes(lead: list[str], name: str, larder: Larder) -> bool:
    """Whether a further food of a list is led by what stands before the first.

    One that says itself what it is is not: "ground cumin, sweet paprika and dried oregano". Nor is one that
    is sold dried alone: "dried apricots and raisins".
    """
    name_words = words(name)
    if _DRIED in name_words or (form_of(lead[-1]) == _GROUND and len(name_words) > 1):
        return False
    alone, dried = larder.find(name), larder.find(f"{' '.join(lead)} {name}")
    own = dried is not None and alone is not None and dried.food is not alone.food
    return own or lead[0].lower() != _DRIED
