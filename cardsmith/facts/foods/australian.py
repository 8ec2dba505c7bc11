"""What Australian and New Zealand law names of a list of foods, told from what US and EU law name.

Every class of schedule 9 is one of theirs, or a kind of one: the law wants each tree nut by its name, wheat
by its own and gluten beside it, and the pine nut, which US law alone lists. Celery and mustard it does not.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from cardsmith.facts.foods.allergens import Allergens, Held
from cardsmith.measure.patterns import cell
from cardsmith.reference import table
from cardsmith.words import Said


def australian(us: Allergens, eu: Allergens) -> tuple[str, ...]:
    """The required names, each list alphabetical; those that are not certain with *possibly* before them."""
    sure = {Said(name) for allergens in (us, eu) for name in _names(allergens.certain)}
    perhaps = {
        Said(name) for allergens in (us, eu) for name in _names((*allergens.possible, *allergens.besides))
    } - sure
    possibly = (Said("possibly {name}", name=name) for name in sorted(perhaps, key=str.lower))
    return (*sorted(sure, key=str.lower), *possibly)


def _names(held: Iterable[Held]) -> Iterator[str]:
    for other in held:
        of_class = _required().get((other.allergen.name, ""), ())
        for source in other.sources:
            yield from _required().get((other.allergen.name, source.kind), of_class)


@cache
def _required() -> Mapping[tuple[str, str], tuple[str, ...]]:
    return {(row["class"], row["kind"]): cell(row["required"]) for row in table("australian_allergens")}
