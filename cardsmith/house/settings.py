"""The settings of a house that hold several keys: its card, its ladders, its proof, its site."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from cardsmith.frozen import frozen
from cardsmith.house.kinds import (
    LEAST_TEXT,
    Count,
    Numbers,
    Points,
    ShareValue,
    WordsValue,
    YesNo,
    as_address,
    as_cards,
    as_once,
    as_part,
    as_positive,
    as_sizes,
    as_some,
    as_tag,
    as_words,
)
from cardsmith.house.own.schema import RowKind, record_of
from cardsmith.house.paper import BLEED, CARDS, SHEETS, CardSize, SheetSize, card_size, sheet_size
from cardsmith.house.printers import PRINTERS, Printer, printer
from cardsmith.recipe.schema.kinds import Lines, TextKind, UnfitError

PLACES = ("head", "beside", "square", "method", "back", "notes")  # of a picture on a card
MAX_STEPS = 20_000  # numbers between two rungs of a ladder; the demo's longest has 9,900


@frozen
class Rung:
    """Up to ``to``, print multiples of ``step`` (both in the ladder's unit)."""

    to: Annotated[Points, "The largest number that is printed so.", "10"]
    step: Annotated[Points, "How far one number stands from the next.", "1/4"]

    def __post_init__(self) -> None:
        if self.to / self.step > MAX_STEPS:
            raise UnfitError(f"up to {self.to} this makes over {MAX_STEPS:,} numbers", "larger steps")


Rungs = Annotated[tuple[Rung, ...], Lines(noun="rung", text=None, record=record_of(Rung), made=as_some)]


@frozen
class Ladders:
    """The numbers each measure may be printed in."""

    cup: Annotated[Numbers, "Parts of a cup, beside whole cups.", "[1/4, 1/3, 1/2, 2/3, 3/4]"]
    tablespoon: Annotated[Numbers, "Tablespoons.", "[1, 1 1/2, 2, 2 1/2, 3]"]
    teaspoon: Annotated[Numbers, "Teaspoons.", "[1/4, 1/2, 3/4, 1]"]
    plus_tablespoon: Annotated[Numbers, "Second terms: ½ cup plus 1 tablespoon.", "[1, 2, 3]"]
    plus_teaspoon: Annotated[Numbers, "Second terms: 1 tablespoon plus 1 teaspoon.", "[1/2, 1, 2]"]
    butter_tablespoon: Annotated[Numbers, "Tablespoons marked on butter's wrapper.", "[1, 2, 3, 5]"]
    ounce: Annotated[Rungs, "Ounces.", "[{to: 10, step: 1/4}, {to: 16, step: 1/2}]"]
    pound: Annotated[Numbers, "Parts of a pound, beside whole pounds.", "[1/4, 1/2, 3/4]"]
    gram: Annotated[Rungs, "Grams.", "[{to: 100, step: 1}, {to: 1000, step: 5}]"]
    millilitre: Annotated[Rungs, "Millilitres.", "[{to: 50, step: 1}, {to: 1000, step: 5}]"]


@frozen
class SignOff:
    """What a recipe must have come through before a card may call it tested."""

    makes: Annotated[Count, "How many makes in a row have the same result.", "3"]
    elsewhere: Annotated[Count, "How many of these are by another cook in another kitchen.", "1"]
    each_column: Annotated[YesNo, "Whether each printed column must have been cooked from once.", "yes"]
    spread: Annotated[ShareValue, "How far apart the yields of one result may lie.", "5 %"]


@frozen
class PortionStyle:
    """What of a portion's cost and contents the house wants, and where."""

    food_cost: Annotated[Fraction, TextKind(made=as_part), "The share of a price that food may cost.", "30 %"]
    on_card: Annotated[YesNo, "Whether a printed card has the line of nutrition.", "no"]
    on_page: Annotated[YesNo, "Whether a web page has it, and its structured data.", "yes"]


@frozen
class CardStyle:
    """The printed card: its size, its sides, and the settings of type it may be set in."""

    size: Annotated[CardSize, RowKind(table=CARDS, of=card_size), "Its trim size (card_sizes.csv).", "5x7"]
    sides: Annotated[int, TextKind(choices=("1", "2"), made=int), "How many sides are printed on.", "2"]
    cards: Annotated[int, TextKind(made=as_cards), "At most: the card and its continuations.", "2"]
    text: Annotated[
        tuple[Fraction, ...],  # the largest first
        Lines(noun="size", text=TextKind(made=as_positive), made=as_sizes),
        "Points of body type: one size for the collection, or two, the smaller for long recipes; from "
        f"{float(LEAST_TEXT):g} on, since it is cooked from.",
        "[10.5, 9.5]",
    ]
    notes: Annotated[Points, "Points; nothing on a card is smaller.", "7.5"]
    printers: Annotated[
        tuple[Printer, ...],
        Lines(noun="printer", text=RowKind(table=PRINTERS, of=printer), made=as_once),
        "The printers it goes to (printer_profiles.csv), a press file for each.",
        "[offset]",
    ]
    places: Annotated[
        tuple[str, ...],
        Lines(noun="place", text=TextKind(choices=PLACES), made=as_once),
        "Where pictures stand, the best place first; without this key, wherever the shape of each suits.",
        "[head, square]",
    ] = ()

    def __post_init__(self) -> None:
        if self.notes > (floor := self.text[-1]):
            raise UnfitError("notes are larger than the smallest text", f"notes: {float(floor):g}, or less")

    @property
    def pages(self) -> int:
        """At most, of all cards of one recipe."""
        return self.sides * self.cards

    @property
    def bleed(self) -> Fraction:
        """Points drawn past the cut: as many as the printer takes that asks for most, 0.125 in at least."""
        return max(BLEED, *(printer.bleed for printer in self.printers))


@frozen
class ProofStyle:
    """The proof: the paper it is printed on, and who signs it."""

    paper: Annotated[
        SheetSize, RowKind(table=SHEETS, of=sheet_size), "Its paper (sheet_sizes.csv).", "letter"
    ]
    signed_by: Annotated[
        tuple[str, ...],
        Lines(noun="name", text=TextKind(made=as_words), made=as_some),
        "Who signs it, a line for each.",
        "[Author, Editor]",
    ]


@frozen
class IssueStyle:
    """Which issue the cards belong to, as their folio says it."""

    name: Annotated[WordsValue, "What the issue is called.", "Issue 12"] = ""
    date: Annotated[WordsValue, "Its date, as a reader knows it.", "Autumn 2026"] = ""


@frozen
class SiteStyle:
    """Where the web site stands; both are empty for a publication that has no address yet."""

    address: Annotated[
        str, TextKind(made=as_address), "Where it will stand, with the slash.", "https://name.example/"
    ] = ""
    tag: Annotated[
        str,
        TextKind(made=as_tag),
        "Who names the entries of the feed: a domain, and a year in which you held it (RFC 4151).",
        '"name.example,2025"',
    ] = ""

    def __post_init__(self) -> None:
        if bool(self.address) != bool(self.tag):
            what = f"{'the tag' if self.address else 'the address'} is empty"
            raise UnfitError(what, 'both, or "" for both where there is no address')


# The kinds of ingredients whose printed amounts may stand off so far: larder roles by what they do.
TOLERANCES = {
    "leavener": "Of baking powder and soda.",
    "salt": "Of salt.",
    "yeast": "Of yeast.",
    "setting": "Of gelatine, agar, pectin.",
    "cure": "Of curing salts.",
    "acid": "Of cream of tartar, citric acid.",
    "governing": "Of flour, sugar, fat, liquid, egg.",
    "other": "Of all else.",
    "seasoning": "Of spices, herbs, flavourings.",
}
