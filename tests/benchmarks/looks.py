"""What a designer would measure on cards: how empty sides are, how far systems stand apart, sizes of type.

Run ``python tests/benchmarks/looks.py [HOUSE …] [--sizes 5x7,a6]`` for the demo's recipes in every size of
card, in the houses ``demo``, ``newspaper``, ``cookbook`` and ``plain``: twenty minutes. It prints each side
without a picture that is more than a third empty, each card without its picture, and for each house and size
the figures of `Measured`. A side is as empty as the largest gap between its lines is high, as a share of the
text's height, the mean of its columns.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path
from typing import Any

from cardsmith.flow import prepare
from cardsmith.house.paper import CardSize, card_size
from cardsmith.house.publication import Publication
from cardsmith.house.start import start
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder
from cardsmith.reference import table
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import CardView, card_view
from cardsmith.render.typesetter import LayoutError, Typesetter
from cardsmith.site.addresses import address, recipe_path

ROOT = Path(__file__).parents[2]
DEMO = Publication(root=ROOT)
SIZES = tuple(row["name"] for row in table("card_sizes"))
CARDS = 2
THIRD = 1 / 3
PIXEL = 0.75  # points
COOKED_FROM = {"steps", "tbody"}
WARNING = {"caution", "notes"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A run of text, or a picture, in points."""

    page: int
    within: frozenset[str]  # classes and tags
    text: str  # empty for a picture
    size: float
    left: float
    right: float
    top: float  # of a text, its baseline
    foot: float


def pieces(document: Any) -> Iterator[Piece]:
    """All that is drawn on the pages of a layout, its furniture aside."""

    def below(box: Any, page: int, within: frozenset[str]) -> Iterator[Piece]:
        box = getattr(box, "_box", box)
        if type(box).__name__ == "MarginBox":
            return
        if box.element is not None:
            within |= {box.element.tag, *(box.element.get("class") or "").split()}
        text = getattr(box, "text", None)
        pictured = box.element_tag == "img"
        if pictured or (isinstance(text, str) and text.strip()):
            top, high = box.position_y * PIXEL, box.height * PIXEL
            line = top if pictured else top + box.baseline * PIXEL
            yield Piece(
                page=page,
                within=within,
                text="" if pictured else str(text),
                size=box.style["font_size"] * PIXEL,
                left=box.position_x * PIXEL,
                right=(box.position_x + box.width) * PIXEL,
                top=line,
                foot=top + high if pictured else line,
            )
        for child in getattr(box, "children", ()):
            yield from below(child, page, within)

    for number, page in enumerate(document.pages, 1):
        yield from below(page._page_box, number, frozenset())


@dataclass(slots=True, kw_only=True)
class Measured:
    """The figures of a house in one size of card."""

    cards: int = 0
    refused: int = 0
    second: int = 0  # cards that need a second card
    without: int = 0  # cards that leave their picture off
    fronts: list[float] = field(default_factory=list)  # how empty a side is that has no picture
    backs: list[float] = field(default_factory=list)
    gap: float = 99.0  # points, the smallest between two systems
    body: set[float] = field(default_factory=set)  # sizes of type of what is cooked from
    warning: float = 99.0  # the smallest size of type of allergens and cautions

    def __str__(self) -> str:
        fronts, backs = (sorted(of, reverse=True) or [0.0] for of in (self.fronts, self.backs))
        over = [sum(share > THIRD for share in of) for of in (fronts, backs)]
        return (
            f"{self.cards} cards, {self.refused} refused, {self.second} on two, "
            f"{self.without} without picture; "
            f"over a third empty: {over[0]} of {len(fronts)} fronts (most {fronts[0]:.0%}), "
            f"{over[1]} of {len(backs)} backs (most {backs[0]:.0%}); systems {self.gap:.1f} pt apart; "
            f"body {sorted(self.body)} pt, warnings {self.warning:.2f} pt"
        )

    def add(self, layout: Layout, size: CardSize, pictured: bool) -> None:
        """Count a card."""
        found = list(pieces(layout.document))
        self.cards += 1
        self.second += layout.pages > 2
        self.without += pictured and layout.setting.photo is None
        for page, share in empty(found, layout, size):
            (self.fronts if page % 2 else self.backs).append(share)
        self.body |= {
            round(one.size, 2) for one in found if COOKED_FROM & one.within and "small" not in one.within
        }
        warned = (
            one.size for one in found if one.text and WARNING & one.within and "contents" not in one.within
        )
        self.warning = min(self.warning, *warned, 99.0)
        self.gap = min(self.gap, *_gaps(found, float(size.width) / size.columns), 99.0)


def empty(found: Sequence[Piece], layout: Layout, size: CardSize) -> Iterator[tuple[int, float]]:
    """Each page without a picture, and how empty it is."""
    top, foot = float(size.top), float(size.height - size.foot)
    middle = float(size.width) / 2
    for page in range(1, layout.pages + 1):
        on = [one for one in found if one.page == page]
        if any(not one.text for one in on):
            continue
        two = size.columns > 1 and not any(one.left < middle - 30 and one.right > middle + 30 for one in on)
        sides = (
            [[one for one in on if (one.left < middle) is left] for left in (True, False)] if two else [on]
        )
        yield page, sum(_largest(side, top, foot) for side in sides) / len(sides)


def _largest(on: Sequence[Piece], top: float, foot: float) -> float:
    lines = sorted(one.top for one in on)
    return max(low - high for high, low in pairwise([top, *lines, foot])) / (foot - top)


def _gaps(found: Sequence[Piece], column: float) -> Iterator[float]:
    """Points between the two systems in each line of a list; ``column`` is a column's share of the page."""
    amounts = [one for one in found if {"amount", "tbody"} <= one.within]
    lists: dict[tuple[int, int, bool], dict[str, list[Piece]]] = {}
    for one in amounts:
        lists.setdefault((one.page, round(one.top), one.left < column), {}).setdefault(
            "us" if "us" in one.within else "m", []
        ).append(one)
    for systems in lists.values():
        if len(systems) == 2:
            us, metric = systems["us"], systems["m"]
            first, second = sorted((us, metric), key=lambda of: min(one.left for one in of))
            yield min(one.left for one in second) - max(one.right for one in first)


def cards(house: House) -> Iterator[tuple[str, CardView, House, bytes]]:
    """Every card of the demo in a house and its editions: its name, its view, its house, its picture."""
    for name in DEMO.names():
        file = DEMO.file(name)
        prepared = prepare(name, file.read_bytes(), "recipe.yaml", load_larder(), house)
        for one in (prepared, *prepared.editions):
            own = house.in_edition(one.edition) if one.edition else house
            if one.card is not None:
                view = card_view(one.card, own, online=address(own.site, recipe_path(one.name)))
                photo = (file.parent / view.photo.name).read_bytes() if view.photo else b""
                yield one.name, view, own, photo


def measure(house: House, sizes: Sequence[str], typesetter: Typesetter) -> Iterator[tuple[str, Measured]]:
    """What the cards of a house measure, size by size; ``own`` is that of the house and of each edition."""
    made = list(cards(house))
    for name in sizes:
        found = Measured()
        for card, view, own, photo in made:
            size = own.card.size if name == "own" else card_size(name)
            style = replace(own.card, size=size, cards=CARDS)
            photos = {view.photo.name: photo} if view.photo else {}
            try:
                layout = lay_out_card(view, typesetter, style, photos)
            except LayoutError as error:
                tell(f"  {card} {name}: {error}")
                found.refused += 1
                continue
            found.add(layout, size, bool(photo))
            if photo and layout.setting.photo is None:
                tell(f"  {card} {name}: without its picture")
            for page, share in empty(list(pieces(layout.document)), layout, size):
                if share > THIRD:
                    tell(f"  {card} {name}: page {page} of {layout.pages} is {share:.0%} empty")
        yield name, found


def tell(line: str) -> None:
    """One line of the account."""
    sys.stdout.write(f"{line}\n")


def main() -> None:
    """Print what was measured."""
    parser = argparse.ArgumentParser()
    parser.add_argument("houses", nargs="*", default=["demo", "newspaper", "cookbook", "plain"])
    parser.add_argument("--sizes", default=",".join(("own", *SIZES)))
    given = parser.parse_args()
    for name in given.houses:
        with tempfile.TemporaryDirectory() as scratch:
            publication = DEMO
            if name != "demo":
                publication = Publication(root=Path(scratch) / name)
                start(publication, "first-card", name)
            typesetter = Typesetter(publication.templates, Path(scratch))
            for size, found in measure(publication.house(), given.sizes.split(","), typesetter):
                tell(f"{name} {size}: {found}")


if __name__ == "__main__":
    main()
