"""The house: one publication's style, read from ``templates/house.yaml``.

Each field of a style is a key of the file and says how it is written; `HOUSE`, its schema, follows from that.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Annotated

from cardsmith.edition.markets import EDITIONS, NAMED, EditionStyle, Styles, as_styles, markets
from cardsmith.files.reading import Refused, lies_below, read_plain
from cardsmith.finding import CardsmithError, Finding, Severity, Where
from cardsmith.frozen import frozen
from cardsmith.house.files import TABLES, house_folder, look_over, tables_folder
from cardsmith.house.kinds import (
    CARD_LANGUAGES,
    LEAST_TEXT,
    Count,
    Numbers,
    Points,
    RowKind,
    ShareValue,
    WordsValue,
    YesNo,
    as_address,
    as_cards,
    as_editor,
    as_folder,
    as_laws,
    as_once,
    as_order,
    as_part,
    as_positive,
    as_sizes,
    as_some,
    as_tag,
    as_tolerance,
    as_words,
    record_of,
)
from cardsmith.house.paper import (
    BLEED,
    CARDS,
    SHEETS,
    CardSize,
    SheetSize,
    card_size,
    paper_faults,
    sheet_size,
    too_small,
)
from cardsmith.house.printers import (
    NO_ACCENT_INK,
    PRINTERS,
    AccentInk,
    Printer,
    printer,
    printer_faults,
    strange_printers,
)
from cardsmith.house.tables import NO_TABLES, OwnTables, fault_of, read_tables, refusal
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.tree import Scalar
from cardsmith.recipe.file.values import values
from cardsmith.recipe.model import Recipe
from cardsmith.recipe.schema.kinds import Lines, Record, TextKind, UnfitError, entry
from cardsmith.reference import Tables

SYSTEMS = ("us", "metric")
PLACES = ("head", "beside", "square", "method", "back")  # of a picture on a card
LAWS = ("US", "EU", "AU")  # that list the allergens to be named; British law keeps the EU's list
# Those of places where a food is declared as in Regulation (EU) 1169/2011, which British law keeps (memory).
EUROPEAN = ("en-GB", "en-IE")
MAX_BYTES = 40_000  # a house file has some 4,000
MAX_STEPS = 20_000  # numbers between two rungs of a ladder; the demo's longest has 9,900


def _own(text: str) -> OwnTables:
    return OwnTables(folder=Path(as_folder(text)))


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
        return max(BLEED, *(one.bleed for one in self.printers))


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


_EDITIONS = tuple(
    entry(key, record_of(EditionStyle), f"The {market.name}.", "{}") for key, market in markets().items()
)
_OF_ROLES = tuple(
    entry(role, TextKind(made=partial(as_tolerance, role)), of, "5 %", required=True)
    for role, of in TOLERANCES.items()
)


@frozen
class House:
    """One publication's style."""

    name: Annotated[WordsValue, "What the publication is called.", "Harbour Quarterly"]
    tagline: Annotated[WordsValue, "A line under its name.", "Plain cooking from a small harbor"] = ""
    credit: Annotated[WordsValue, "Whose the recipes are that name nobody.", "The test kitchen"] = ""
    language: Annotated[
        str,
        TextKind(choices=CARD_LANGUAGES),
        "The language of its cards (BCP 47), whose own words and dates follow; en-GB and en-IE declare "
        "contents as in the EU. Recipes are read in English: de has German labels alone, checked by nobody.",
        "en-US",
    ]
    allergens: Annotated[
        tuple[str, ...],
        Lines(noun="law", text=TextKind(choices=LAWS), made=as_laws),
        "Whose lists of allergens a card prints, the EU's for Britain too; without this key, that of the "
        "language: en-US the US list, en-GB and en-IE the EU's, all others both.",
        "[US, EU]",
    ] = ()
    order: Annotated[
        tuple[str, ...],
        Lines(noun="system", text=TextKind(choices=SYSTEMS), made=as_order),
        "Which systems the card has, the first foremost in running text too; one alone makes one column.",
        "[us, metric]",
    ]
    card: Annotated[
        CardStyle,
        "The printed card.",
        "{size: 5x7, sides: 2, cards: 2, text: [10.5, 9.5], notes: 7.5, printers: [offset]}",
    ]
    accent_ink: Annotated[
        AccentInk,
        "The second ink: what the colour --accent of look.css is printed with. Without this key what is "
        "fine, type and rules, prints in black.",
        "{name: Harbour blue, cmyk: [90, 45, 45, 35]}",
    ] = NO_ACCENT_INK
    oven: Annotated[
        frozenset[str],
        Lines(noun="setting", text=TextKind(choices=("gas", "fan")), made=frozenset),
        "What stands beside a temperature of the oven: [] for nothing.",
        "[fan, gas]",
    ]
    sign_off: Annotated[
        SignOff, "When a card may say “tested”.", "{makes: 3, elsewhere: 1, each_column: yes, spread: 5 %}"
    ]
    portion: Annotated[
        PortionStyle, "The cost and contents of a portion.", "{food_cost: 30 %, on_card: no, on_page: yes}"
    ]
    site: Annotated[
        SiteStyle,
        "The web site.",
        '{address: "https://name.example/", tag: "name.example,2025"}',
    ]
    issue: Annotated[
        IssueStyle,
        "The issue that stands in the folio of every card; without this key, the publication's name alone.",
        "{name: Issue 12, date: Autumn 2026}",
    ] = IssueStyle()
    proof: Annotated[ProofStyle, "The proof.", "{paper: letter, signed_by: [Author, Editor]}"]
    ratio_limit: Annotated[ShareValue, "How far rounding may move the ratio of governing ingredients.", "3 %"]
    tolerances: Annotated[
        Mapping[str, Fraction],
        Record(fields=_OF_ROLES),
        "How far a printed amount may stand from the author's, by the ingredient's role.",
        "{leavener: 7 %, salt: 7 %, governing: 5 %}",
    ]
    ladders: Annotated[Ladders, "The numbers a measure may be printed in.", "{pound: [1/4, 1/2, 3/4]}"]
    editions: Annotated[
        Styles,
        Record(fields=_EDITIONS, made=as_styles),
        "The editions each recipe is printed in, the first as this file has it; the others as usual in their "
        "markets, less what is said of them. Without this key there is but one.",
        "{us: {}, uk: {oven: [gas]}, au: {recipes: named}}",
    ] = ()
    editor: Annotated[
        str,
        TextKind(made=as_editor),
        "The address that opens a file in your editor, by which a preview links its findings: {file}, {line} "
        "and {column} are filled in. Without this key a finding names its place.",
        '"my-editor://open?file={file}&line={line}"',
    ] = ""
    tables: Annotated[
        OwnTables,
        TextKind(made=_own),
        "The folder of the house's own rows of our tables, below the publication's; without this key it is "
        f"`{TABLES}` beside this file. `cardsmith explain tables` tells of them.",
        f"kitchen/{TABLES}",
    ] = NO_TABLES
    edition: str = ""  # which of the further editions this is; empty for the house as its file has it
    household: str = ""  # whose cups and spoons stand in the metric column; empty for none

    @property
    def reference(self) -> Tables:
        """Our tables with the house's own rows of facts joined to them."""
        return self.tables.reference

    @property
    def home(self) -> str:
        """Its own edition; that of its language where it declares none."""
        spoken = (key for key, one in markets().items() if one.language == self.language)
        return self.editions[0][0] if self.editions else next(spoken, EDITIONS[0])

    @property
    def further(self) -> tuple[str, ...]:
        """The editions beside its own."""
        return tuple(key for key, _ in self.editions[1:])

    def prints(self, recipe: Recipe) -> tuple[str, ...]:
        """The further editions that a recipe is printed in."""
        named = {one.key for one in recipe.editions}
        return tuple(key for key, one in self.editions[1:] if one.recipes != NAMED or key in named)

    def with_edition(self, key: str) -> House:
        """The house with one of its further editions and no other."""
        self.in_edition(key)
        return replace(self, editions=tuple(pair for pair in self.editions if pair[0] in (self.home, key)))

    def in_edition(self, key: str) -> House:
        """The house in the style of another of its editions; with no key, as it is.

        Raises:
            CardsmithError: it declares no such edition, or one on cards of a size there is not.
        """
        if not key:
            return self
        style = dict(self.editions).get(key)
        if style is None:
            raise CardsmithError(f"this house has no edition {key!r}; {_told_editions(self)}")
        if key == self.home:
            return self
        market = markets()[key]
        order = style.order or market.order
        return replace(
            self,
            edition=key,
            language=market.language,
            household="" if "us" in order else market.household,
            order=order,
            oven=frozenset(market.oven if style.oven is None else style.oven),
            allergens=style.allergens or market.allergens,
            card=replace(self.card, size=card_size(style.card or market.card, self.tables)),
        )

    @property
    def declares(self) -> str:
        """By whose law a card declares contents: ``US``, ``EU``, or no one's for certain."""
        return {"en-US": "US", **dict.fromkeys(EUROPEAN, "EU")}.get(self.language, "")

    @property
    def allergen_lists(self) -> tuple[str, ...]:
        """Whose lists of allergens a card prints, the first foremost."""
        return self.allergens or ((self.declares,) if self.declares else LAWS[:2])


def _told_editions(house: House) -> str:
    if house.editions:
        return f"it has {', '.join(dict(house.editions))}"
    return "write in house.yaml: editions: {us: {}, uk: {}}"


HOUSE = record_of(House)


def read_house(text: str | bytes, where: str = "house.yaml", own: OwnTables = NO_TABLES) -> House:
    """The house of ``text``, with its own rows of our tables.

    Raises:
        CardsmithError: all that is wrong with the file or those rows, a line each.
    """
    data = text if isinstance(text, bytes) else text.encode()
    if len(data) > MAX_BYTES:
        said = f"has {len(data):,} bytes, over {MAX_BYTES:,}"
        raise CardsmithError(f"{where} {said}; a house file has some 4,000, so take out what is none of it")
    source = read_source(data, where)
    if source.root is None and any(one.name == "empty-file" for one in source.findings):
        raise CardsmithError(f"{where}: the file is empty; `cardsmith new` writes a complete one")
    found: list[Finding] = [*source.findings, *own.faults]
    house, root = None, None
    if source.root:
        schema = record_of(House, own) if own.rows or own.faults else HOUSE
        root, misshapen = shaped(source.root, source.text.split("\n"), schema, "house", complete=True)
        house, unfit = values(root, schema) if root else (None, ())
        found += (*misshapen, *unfit)
    if isinstance(house, House) and not own.faults:
        found += too_small(own, house.card.size, house.card.bleed)
        found += strange_printers(house.accent_ink, house.card.printers, Where(file=where))
    named = root.get("tables") if root else None
    if isinstance(named, Scalar) and own.folder.parts and not str(own.folder).endswith(named.text.strip()):
        what = "the key tables is not written as a build looks for it"
        found.append(fault_of(named.where, what, f"on a line of its own: tables: {named.text.strip()}"))
    faults = [one for one in found if one.severity is Severity.ERROR]
    if faults or not isinstance(house, House):
        raise refusal(faults)
    house = replace(house, tables=own)
    for key in house.further:
        house.in_edition(key)  # refuses a size of card that there is not
    return house


def load_house(publication: Path) -> House:
    """The house in use for a publication.

    Raises:
        CardsmithError: what is wrong with it, or with the files beside it.
    """
    folder = house_folder(publication)
    file = folder / "house.yaml"
    look_over(folder)
    rows = tables_folder(publication)
    if not lies_below(rows, publication) and not lies_below(rows, folder):
        raise Refused(
            str(rows), "leads by a symbolic link out of the publication", "put the folder itself there"
        )
    own = read_tables(rows)
    own = replace(own, faults=(*own.faults, *paper_faults(own), *printer_faults(own)))
    if own.has_facts:
        from cardsmith.house.facts import with_facts  # noqa: PLC0415 - few houses have any

        own = with_facts(own)
    house = read_house(read_plain(file, folder, str(file)) or b"", str(file), own)
    # One that has no house style of its own uses the demo's, whose editions are none of its affair.
    return house if folder == publication / "templates" else replace(house, editions=())
