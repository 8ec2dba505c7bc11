"""By what word a vessel goes once its whole name is known: *the pan* after a cake pan is the tin.

Where several vessels of a recipe go by one word, it is the one that the steps of its part have named by
then, else the one that a sentence lays things on or bakes in; where none of these tells, its author is asked.

    >>> pans = Vessels(short="pan", names={"half-sheet pan": "tray", "saucepan": "pan"})
    >>> pans.meant("Press flat on the pan.", ["half-sheet pan", "saucepan"])
    ('tray',)
    >>> pans.meant("Stir well, then take the pan off the heat.", ["half-sheet pan", "saucepan"])
    ('?',)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from cardsmith.edition.names import ASKED
from cardsmith.edition.words import Change, Wording
from cardsmith.frozen import frozen
from cardsmith.language.declension import many
from cardsmith.language.declension import one as one_of
from cardsmith.language.spans import Kind, Measured
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.recipe.model import Recipe
from cardsmith.regex import regex

# The word by which a vessel goes once it is known, and other vessels and things that go by it too.
SHORT = {
    "pan": ("frying pan", "saucepan", "sauté pan", "grill pan", "frypan", "skillet"),
    "plate": ("a plate", "plates", "hot plate", "serving plate"),
    "sheet": ("a sheet", "sheets of", "sheet of", "pastry sheet", "pasta sheet", "lasagne sheet"),
}
BAKED_IN = "tin"  # what has two sides and no name but pan: 13 by 9 inches
LAID_ON = "tray"
_ON = regex(r"\bon(?:to)? (?:the|each|both)\s+$")
_FOR = regex(r"\bfor (?:the|each|both)\s+$")  # butter, for the pan
# What is done to or in a vessel of the oven alone.
_BAKING = frozenset("bake baked baking oven roast roasting batter line lined lining unmold unmould".split())


@frozen
class Vessels:
    """The vessels of a recipe that go by one word, by their whole names; each with its word there."""

    short: str
    names: Mapping[str, str]
    unnamed: bool = False  # whether one has no other name, but two sides

    def meant(self, text: str, named: Iterable[str]) -> tuple[str, ...]:
        """For each *the pan* of a text the word of that which is meant; `ASKED` where nothing tells.

        ``named`` are the whole names that stand before the text.
        """
        return tuple(self._each(text, list(named)))

    def named_in(self, text: str) -> tuple[str, ...]:
        """The whole names that a text has."""
        return tuple(said for said, _ in self._found(text) if said != self.short)

    def _each(self, text: str, named: list[str]) -> Iterator[str]:
        here: list[str] = []
        for said, start in self._found(text):
            if said == self.short:
                yield self._which(text, start, named, here)
            else:
                here.append(said)
                named.append(said)

    def _which(self, text: str, start: int, named: list[str], here: list[str]) -> str:
        some = {self.names[name] for name in named} or set(self.names.values())
        some |= {BAKED_IN} if self.unnamed else set()
        if len(some) > 1 and LAID_ON in some and _ON.search(text[:start]):
            return LAID_ON
        of_oven = some - {self.short}
        if len(some) > 1 and len(of_oven) == 1 and not any(self.names[name] == self.short for name in here):
            bakes = _BAKING.intersection(text.lower().replace(",", " ").split())
            some = of_oven if bakes or _FOR.search(text[:start]) else some
        return some.pop() if len(some) == 1 else ASKED

    def _found(self, text: str) -> Iterator[tuple[str, int]]:
        """Each vessel of a text, by its whole name or the short one, and where it stands."""
        for edit in _marking((*self.names, self.short)).edits(text):
            yield _singular(edit.change[0]), edit.start


def vessels(recipe: Recipe, changes: Iterable[Change], text: str) -> Iterator[Vessels]:
    """The vessels of a recipe whose short word may be another in an edition, by how its names changed."""
    changed = tuple(changes)
    for short, others in SHORT.items():
        names = {_singular(old): _last(new) for old, new in changed if _last(old) == short != old.lower()}
        unnamed = short == "pan" and _has_two_sides(recipe)
        if names or unnamed:
            kept = {other: short for other in others if other in text.lower() or many(other) in text.lower()}
            yield Vessels(short=short, names={**kept, **names}, unnamed=unnamed)


@cache
def _marking(names: tuple[str, ...]) -> Wording:
    """What finds names in a text."""
    return Wording.of(((name, ASKED) for name in names), in_compounds=False)


def _has_two_sides(recipe: Recipe) -> bool:
    spans = [span for step in recipe.steps for span in step.spans]
    spans += [span for text in recipe.equipment for span in spans_of(recipe, text.text, text.where)]
    vessels_named = (span for span in spans if isinstance(span, Measured) and span.kind is Kind.VESSEL)
    return any(len(vessel.sides) > 1 and vessel.noun.lower() == "pan" for vessel in vessels_named)


def _singular(phrase: str) -> str:
    *before, last = phrase.lower().split()
    return " ".join((*before, one_of(last)))


def _last(phrase: str) -> str:
    """The last word of a phrase, in the singular."""
    return one_of(phrase.lower().split()[-1])
