"""The collection in groups: by part of the meal, kind, allergen and time; every recipe is in its group."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date

from cardsmith.frozen import frozen
from cardsmith.site.addresses import anchor
from cardsmith.site.collection.allergens import listed, words
from cardsmith.site.dates import months_of
from cardsmith.site.entry import OTHER, Entry
from cardsmith.words import FixedWords

COURSES = (
    "Breakfast",
    "Bread",
    "Soup",
    "Salad",
    "Main dish",
    "Side dish",
    "Sauces and dressings",
    "Dessert",
    "With coffee or tea",
    "Sweets",
    "Preserves and pickles",
    "Drink",
    "Basics",
)  # in the order of a menu; what authors name themselves follows
TIMES = (
    (30 * 60, "30 minutes or less"),
    (60 * 60, "Up to 1 hour"),
    (2 * 60 * 60, "Up to 2 hours"),
    (4 * 60 * 60, "Up to 4 hours"),
    (None, "Longer, or overnight"),
)  # start to finish, in seconds


FEW = 3  # recipes of a part of the meal; with fewer it shares a heading (common practice, no source)
SHOWN = 4  # recipes of the time of year


@frozen
class EntryGroup:
    """Entries under one heading."""

    key: str  # for the address within the page
    name: str  # as the recipes have it
    heading: str  # the same in the language of the house
    entries: tuple[Entry, ...]


@frozen
class Quarter:
    """What was published in three months of any year, the newest first."""

    number: int  # 0 begins with December
    months: str  # June – August
    entries: tuple[Entry, ...]


@frozen
class AllergenGroup:
    """One allergen, with the recipes that contain it, may contain it, or don't list it."""

    key: str
    word: str
    contains: tuple[Entry, ...]
    perhaps: tuple[Entry, ...]
    not_listed: tuple[Entry, ...]  # every food is known, and none contains it


def by_course(entries: Iterable[Entry], say: FixedWords) -> tuple[EntryGroup, ...]:
    """By part of the meal."""
    return _grouped(entries, lambda entry: entry.course, COURSES, say)


def together(groups: Iterable[EntryGroup]) -> tuple[tuple[EntryGroup, ...], ...]:
    """The same groups, neighbours with few recipes under one heading, so that no section is one line."""
    made: list[list[EntryGroup]] = []
    for group in groups:
        small = len(group.entries) < FEW
        if made and small and all(len(group.entries) < FEW for group in made[-1]):
            made[-1].append(group)
        else:
            made.append([group])
    return tuple(tuple(each) for each in made)


def by_quarter(entries: Iterable[Entry], language: str, *, turned: bool = False) -> tuple[Quarter, ...]:
    """What was published in each three months, a few of each; none where some three have nothing.

    ``turned``: its readers have the other half of the year, so what came out in July stands under January.
    """
    every = in_order_of_days(entries)
    by = 2 if turned else 0
    quarters = [
        tuple(entry for entry in every if (quarter_of(entry.published) + by) % 4 == number)
        for number in range(4)
    ]
    if not all(quarters):
        return ()
    return tuple(
        Quarter(number=number, months=months_of(number, language), entries=some[:SHOWN])
        for number, some in enumerate(quarters)
    )


def in_order_of_days(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """What is published, the newest first."""
    published = (entry for entry in entries if entry.published)
    return tuple(sorted(published, key=lambda entry: (entry.published, entry.name), reverse=True))


def quarter_of(day: str) -> int:
    """Which three months a day is in: 0 is December to February."""
    return date.fromisoformat(day).month % 12 // 3


def by_kind(entries: Iterable[Entry], say: FixedWords) -> tuple[EntryGroup, ...]:
    """By kind, in the alphabetical order of its language."""
    return _grouped(entries, lambda entry: entry.group, (), say)


def by_time(entries: Iterable[Entry], say: FixedWords) -> tuple[EntryGroup, ...]:
    """By the time from start to finish; recipes without a time come last."""
    return _grouped(entries, _time, tuple(heading for _, heading in TIMES), say)


def by_allergen(entries: Iterable[Entry]) -> tuple[AllergenGroup, ...]:
    """For each allergen that any statement lists."""
    every = in_order(entries)
    return tuple(
        AllergenGroup(
            key=anchor(word),
            word=word,
            contains=tuple(entry for entry in every if word in entry.sure_allergens),
            perhaps=tuple(entry for entry in every if word in entry.possible_allergens),
            not_listed=tuple(
                entry for entry in every if not entry.unknown_foods and word not in listed(entry)
            ),
        )
        for word in words(every)
    )


def in_order(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """By title, as an index has them."""
    return tuple(sorted(entries, key=lambda entry: (entry.title.casefold(), entry.name)))


def _time(entry: Entry) -> str:
    seconds = entry.total_seconds
    if seconds is None:
        return OTHER
    return next(heading for most, heading in TIMES if most is None or seconds <= most)


def _grouped(
    entries: Iterable[Entry], heading_of: Callable[[Entry], str], order: Sequence[str], say: FixedWords
) -> tuple[EntryGroup, ...]:
    by_group: dict[str, list[Entry]] = {}
    for entry in in_order(entries):
        by_group.setdefault(heading_of(entry), []).append(entry)

    def rank(heading: str) -> tuple[bool, int, str]:
        place = order.index(heading) if heading in order else len(order)
        return heading == OTHER, place, say.heading(heading).casefold()

    return tuple(
        EntryGroup(
            key=anchor(heading), name=heading, heading=say.heading(heading), entries=tuple(by_group[heading])
        )
        for heading in sorted(by_group, key=rank)
    )
