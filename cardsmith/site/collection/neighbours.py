"""Where a reader may go from a recipe: three others, each with the reason why.

They stand in a script file beside its page. The page itself names no other recipe, so it need not be made
anew when another changes.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from itertools import chain, islice

from cardsmith.site import addresses
from cardsmith.site.collection.groups import in_order_of_days
from cardsmith.site.dates import long_date
from cardsmith.site.entry import OTHER, Entry
from cardsmith.words import FixedWords

SHOWN = 3
# Whoever takes one part of an egg has the other left.
LEFT_OVER = {"egg yolk": "egg white", "egg white": "egg yolk"}
RARE = 4  # of a collection's recipes no more than one in so many hold a food that leads on (common practice)
_Found = tuple[Entry, str]


def neighbours(
    entries: Iterable[Entry], say: FixedWords, dated_in: str
) -> Iterator[tuple[Entry, tuple[_Found, ...]]]:
    """Each recipe with the published ones it leads on to and, in words, why; the best reason first.

    ``dated_in`` is the language in whose form days are told.
    """
    every = tuple(entries)
    published = in_order_of_days(every)
    by_food = _by(published, lambda entry: entry.foods)
    by_kind, by_course = (
        _by(published, lambda entry: (entry.group,)),
        _by(published, lambda entry: (entry.course,)),
    )
    few = max(len(published) // RARE, 2)
    for entry in every:
        reasons = (
            _left_over(entry, by_food, say),
            _sharing(entry, by_food, few, say),
            _alike(by_kind, entry.group, say),
            _alike(by_course, entry.course, say),
            _newest(published, say, dated_in),
        )
        others = [filter(partial(_is_another, entry), some) for some in reasons]
        best = list(chain.from_iterable(islice(some, 1) for some in others[:-1]))
        yield entry, tuple(islice(_each_once(chain(best, *others)), SHOWN))


def _is_another(entry: Entry, neighbour: _Found) -> bool:
    return neighbour[0].name != entry.name


def _each_once(neighbours: Iterable[_Found]) -> Iterator[_Found]:
    """Each recipe with the first reason it is found for; no further than is asked for."""
    seen: set[str] = set()
    for entry, why in neighbours:
        if entry.name not in seen:
            seen.add(entry.name)
            yield entry, why


def tells_of(entries: Iterable[Entry], say: FixedWords, dated_in: str) -> dict[str, frozenset[str]]:
    """Of which recipes, by their folders, the file beside each page tells, by its path."""
    return {
        addresses.neighbours_path(entry.name): frozenset(entry.name.partition("/")[0] for entry, _ in others)
        for entry, others in neighbours(entries, say, dated_in)
    }


def neighbour_files(entries: Iterable[Entry], say: FixedWords, dated_in: str) -> dict[str, bytes]:
    """``neighbours = […]`` beside the page of each recipe, by its path."""
    made: dict[str, bytes] = {}
    for entry, others in neighbours(entries, say, dated_in):
        records = [
            {
                "name": entry.name,
                "title": entry.title,
                "picture": entry.picture,
                "why": why,
                "time": entry.total,
            }
            for entry, why in others
        ]
        data = json.dumps(records, ensure_ascii=False, separators=(",", ":"))
        made[addresses.neighbours_path(entry.name)] = f"globalThis.neighbours = {data};\n".encode()
    return made


def _by(entries: Iterable[Entry], keys: Callable[[Entry], Iterable[str]]) -> Mapping[str, tuple[Entry, ...]]:
    by: dict[str, list[Entry]] = {}
    for entry in entries:
        for key in keys(entry):
            by.setdefault(key, []).append(entry)
    return {key: tuple(some) for key, some in by.items()}


def _left_over(entry: Entry, by_food: Mapping[str, tuple[Entry, ...]], say: FixedWords) -> Iterator[_Found]:
    """Those that take what this one leaves."""
    left = [LEFT_OVER[food] for food in entry.foods if food in LEFT_OVER]
    return (
        (other, say("Takes the {food} left over", food=_written(food, other)))
        for food in left
        if food not in entry.foods
        for other in by_food.get(food, ())
        if LEFT_OVER[food] not in other.foods
    )


def _sharing(
    entry: Entry, by_food: Mapping[str, tuple[Entry, ...]], few: int, say: FixedWords
) -> Iterator[_Found]:
    """Those that take a food which only a few do, the rarest first."""
    shared = [food for food in entry.foods if 1 < len(by_food.get(food, ())) <= few]
    return (
        (other, said)
        for food in sorted(shared, key=lambda food: len(by_food[food]))
        for said in (say("Also with {food}", food=_written(food, entry)),)
        for other in by_food[food]
    )


def _alike(by: Mapping[str, tuple[Entry, ...]], heading: str, say: FixedWords) -> Iterator[_Found]:
    return ((entry, say.heading(heading)) for entry in by.get(heading, ()) if heading != OTHER)


def _newest(published: tuple[Entry, ...], say: FixedWords, dated_in: str) -> Iterator[_Found]:
    said = [say("Newest"), *(long_date(entry.published, dated_in) for entry in published[1 : SHOWN + 1])]
    return zip(published, said, strict=False)


def _written(food: str, entry: Entry) -> str:
    """The name of a food as the list has it: egg whites for an egg white."""
    at = next((item[item.index(food) :] for item in entry.ingredients if food in item), food)
    ending, *_ = at.removeprefix(food).replace(",", " ").split(" ")
    return food + ending
