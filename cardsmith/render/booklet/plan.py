"""Which page of a booklet holds what: covers, contents, cards, index, and where the blanks fall.

Pages count from 1. A right page has an odd number and a left one an even one, as in any bound book (common
practice, no source). A card of two sides stands on a left page and the right one beside it, so that the list
lies open beside the method; a blank that this asks for, or that fills the last sheet, has lines for notes.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator, Sequence

from cardsmith.frozen import frozen

LEAF = 2  # pages
FOLDED = 4  # pages of a sheet folded once


@enum.unique
class Binding(enum.StrEnum):
    """How the sheets are held together."""

    SADDLE = "saddle"  # all sheets inside each other, stitched through the fold; its cover is its first sheet
    PERFECT = "perfect"  # signatures side by side, their folds milled off, glued into a cover of its own


@enum.unique
class Matter(enum.StrEnum):
    """What a page holds."""

    COVER = "cover"
    TITLE = "title"  # the first page of a body whose cover is a sheet of its own
    IMPRINT = "imprint"
    CONTENTS = "contents"
    CARD = "card"
    INDEX = "index"
    NOTES = "notes"  # a blank with lines
    BACK = "back"
    INSIDE = "inside"  # of a cover that is a sheet of its own: it bears nothing


@frozen
class BookPage:
    """One page: what it holds, and which page of that, from 0."""

    matter: Matter
    at: int = 0
    card: int = -1  # which card, from 0; -1 for none


@frozen
class BookPlan:
    """The pages of a booklet in order; those of its body alone where the cover is a sheet of its own."""

    pages: tuple[BookPage, ...]

    def first_page(self, card: int) -> int:
        """The number of the page on which a card begins."""
        return next(number for number, page in enumerate(self.pages, 1) if page.card == card)

    def first(self, matter: Matter) -> int:
        """The number of the first page of some matter."""
        return next(number for number, page in enumerate(self.pages, 1) if page.matter is matter)


def plan(cards: Sequence[int], contents: int, index: int, binding: Binding) -> BookPlan:
    """The pages of a booklet of cards of so many pages each, with so many pages of contents and of index."""
    saddle = binding is Binding.SADDLE
    pages = [BookPage(matter=Matter.COVER if saddle else Matter.TITLE)]
    # The cards begin on a left page, so the contents end on a right one: an imprint before them sees to that.
    pages += [BookPage(matter=Matter.IMPRINT)] if (len(pages) + contents) % LEAF == 0 else []
    pages += [BookPage(matter=Matter.CONTENTS, at=at) for at in range(contents)]
    for number, count in enumerate(cards):
        if count > 1 and _is_right(len(pages) + 1):
            pages.append(BookPage(matter=Matter.NOTES))
        pages += [BookPage(matter=Matter.CARD, at=at, card=number) for at in range(count)]
    pages += [BookPage(matter=Matter.INDEX, at=at) for at in range(index)]
    if all(page.matter is not Matter.IMPRINT for page in pages) and (len(pages) + saddle) % FOLDED:
        pages.append(BookPage(matter=Matter.IMPRINT))
    pages += [BookPage(matter=Matter.NOTES)] * (-(len(pages) + saddle) % FOLDED)
    return BookPlan(pages=(*pages, BookPage(matter=Matter.BACK)) if saddle else tuple(pages))


def _is_right(number: int) -> bool:
    return number % LEAF == 1


def openings(count: int) -> Iterator[tuple[int | None, int | None]]:
    """The pages that a reader sees beside each other, from the first, alone on the right, to the last."""
    for left in range(0, count + 1, LEAF):
        yield (left or None, left + 1 if left < count else None)
