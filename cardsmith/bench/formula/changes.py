"""What a trial changes, in the syntax of ingredient lines, and the resulting formula.

``130 g water`` gives a line of the formula another amount, ``add 10 g honey`` a further one, ``without
honey`` takes one away, ``20 g molasses instead of honey`` exchanges one.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import replace
from fractions import Fraction

from cardsmith.bench.model import TrialChange, Verb
from cardsmith.bench.wording import signed
from cardsmith.finding import Finding, Severity, error
from cardsmith.language.listing import listed
from cardsmith.measure.larder import Larder, words
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.file.texts import text_of
from cardsmith.recipe.file.tree import Mapping, Node, Scalar
from cardsmith.recipe.model import Ingredient, Part, Text
from cardsmith.recipe.weighed import weigh
from cardsmith.regex import regex

_ADD = regex(r"(?:add|plus)\s+(?=\S)", re.IGNORECASE)
_WITHOUT = regex(r"(?:without|no|leave out|omit)\s+(?:the\s+)?(?P<item>\S.*)", re.IGNORECASE)
_INSTEAD = regex(r"(?P<line>\S+(?:\s+\S+)*?)\s+instead of\s+(?:the\s+)?(?P<item>\S.*)", re.IGNORECASE)
Parts = tuple[Part, ...]


def read_change(
    item: Node, parts: Parts, parent: int, larder: Larder
) -> tuple[Parts, TrialChange | None, tuple[Finding, ...]]:
    """The formula with one change made, the change, and what is wrong with it (then nothing is changed)."""
    text = text_of(item, "line") if isinstance(item, Mapping) else None
    if isinstance(item, Scalar):
        text = Text(text=" ".join(item.text.split()), where=item.where)
    if text is None:
        return parts, None, ()
    named = text_of(item, "part") if isinstance(item, Mapping) else None
    verb, written, target = split(text.text)
    after = None
    if written:
        offset = text.text.index(written)
        after, faults = read_line(written, text.where.at(offset), larder)
        if any(fault.severity is Severity.ERROR for fault in faults):
            return parts, None, faults
    if verb is Verb.ADD:
        return _added(parts, text, after, named)
    wanted = after.item if verb is Verb.AMOUNT and after else target
    places = _places(parts, wanted, larder, named.text if named else "")
    if len(places) != 1:
        return parts, None, (_target(text, wanted, places, parts, parent),)
    at, line = places[0]
    before = parts[at].ingredients[line]
    if verb is Verb.AMOUNT and after is not None and after.amount is None:
        return parts, None, (_error("change-without-amount", text, "this change gives no amount",
                                    f"the new amount: 130 g {wanted}; or: without {wanted}"),)  # fmt: skip
    if verb is Verb.AMOUNT and after is not None:
        after = replace(after, key=before.key)
    lines = list(parts[at].ingredients)
    lines[line : line + 1] = [after] if after is not None else []
    made = (*parts[:at], replace(parts[at], ingredients=tuple(lines)), *parts[at + 1 :])
    return made, TrialChange(where=text.where, text=text.text, verb=verb, before=before, after=after), ()


def read_method(text: Text) -> TrialChange:
    """A change of method, in words."""
    return TrialChange(where=text.where, text=text.text, verb=Verb.METHOD)


def split(text: str) -> tuple[Verb, str, str]:
    """The verb, the ingredient line in the text, and the item it names otherwise."""
    if match := _WITHOUT.fullmatch(text):
        return Verb.WITHOUT, "", match["item"]
    if match := _INSTEAD.fullmatch(text):
        return Verb.SWAP, match["line"], match["item"]
    if match := _ADD.match(text):
        return Verb.ADD, text[match.end() :], ""
    return Verb.AMOUNT, text, ""


def _added(
    parts: Parts, text: Text, line: Ingredient | None, named: Text | None
) -> tuple[Parts, TrialChange | None, tuple[Finding, ...]]:
    if line is None:
        return parts, None, ()
    names = [part.name for part in parts]
    if named is not None and named.text not in names:
        return parts, None, (_error("unknown-part", named, f"there is no part “{named.text}”",
                                    f"one of {listed(names, 'or')}"),)  # fmt: skip
    at = names.index(named.text) if named else 0
    made = replace(parts[at], ingredients=(*parts[at].ingredients, line))
    change = TrialChange(where=text.where, text=text.text, verb=Verb.ADD, after=line)
    return (*parts[:at], made, *parts[at + 1 :]), change, ()


def same_food(line: Ingredient, other: Ingredient) -> bool:
    """Whether two lines are of one food: the larder's, else by their words."""
    if line.food is not None and other.food is not None:
        return line.food.key == other.food.key
    return set(words(line.item)) == set(words(other.item))


def _places(parts: Parts, item: str, larder: Larder, part: str) -> list[tuple[int, int]]:
    """Where in the formula the food called ``item`` stands."""
    match = larder.find(item)
    food = match.food.key if match else None
    return [
        (at, number)
        for at, other in enumerate(parts)
        if not part or other.name == part
        for number, line in enumerate(other.ingredients)
        if (food is not None and line.food is not None and line.food.key == food)
        or set(words(line.item)) == set(words(item))
    ]


def _target(text: Text, wanted: str, places: list[tuple[int, int]], parts: Parts, parent: int) -> Finding:
    if places:
        names = listed([parts[at].name or "the list" for at, _ in places])
        what = f"“{wanted}” stands in {names}"
        instead = f"say which: {{part: {parts[places[0][0]].name}, line: {text.text}}}"
        return _error("change-ambiguous", text, what, instead)
    items = [line.item for part in parts for line in part.ingredients]
    near = difflib.get_close_matches(wanted, items, 1, 0.5)
    hint = f"“{near[0]}”? " if near else ""
    what = f"trial {parent} has no “{wanted}” to change"
    return _error("change-of-nothing", text, what, f"{hint}For a further ingredient: add {text.text}")


def _error(name: str, text: Text, what: str, instead: str) -> Finding:
    return error(name, text.where, what, instead, text.text)


def grams(line: Ingredient | None) -> Fraction | None:
    """What a line weighs in grams; None where there is no line or the larder cannot tell."""
    mass = weigh(line, line.amount) if line is not None and line.amount is not None else None
    return mass.grams if mass else None


def relative(change: TrialChange) -> Fraction | None:
    """The relative change of an amount; None where nothing can be compared."""
    if change.verb is not Verb.AMOUNT or change.before is None or change.after is None:
        return None
    old, new = change.before.amount, change.after.amount
    if old is not None and new is not None and old.dimension is new.dimension and old.middle:
        return new.middle / old.middle - 1
    weights = grams(change.before), grams(change.after)
    return weights[1] / weights[0] - 1 if weights[0] and weights[1] is not None else None


def change_in_words(change: TrialChange) -> str:
    """The change in a few words: ``baking powder −25 %``, ``without honey``."""
    by = relative(change)
    if by is not None and change.before is not None:
        if by == 0:
            return f"{change.before.item} unchanged"
        return f"{change.before.item} {signed(by * 100, 0 if abs(by) >= Fraction(1, 100) else 1)} %"
    match change.verb:
        case Verb.WITHOUT if change.before is not None:
            return f"without {change.before.item}"
        case Verb.SWAP if change.before is not None and change.after is not None:
            return f"{change.after.item} for {change.before.item}"
        case Verb.ADD if change.after is not None:
            return f"with {change.after.item}"
        case _:
            return change.text.rstrip(".")
