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

from cardsmith.edition.markets import EDITIONS, Market, markets
from cardsmith.edition.spelling import spelled
from cardsmith.files.reading import Refused, lies_below, read_plain
from cardsmith.files.user_cache import kept
from cardsmith.finding import CardsmithError, Finding, Severity, Where
from cardsmith.frozen import frozen
from cardsmith.house.editions import ENTRIES, NAMED, EditionStyle, Styles, as_styles, market_of
from cardsmith.house.files import TABLES, house_folder, look_over, tables_folder
from cardsmith.house.kinds import (
    CARD_LANGUAGES,
    ShareValue,
    WordsValue,
    as_editor,
    as_folder,
    as_laws,
    as_order,
    as_tolerance,
)
from cardsmith.house.own.schema import record_of
from cardsmith.house.own.tables import NO_TABLES, OwnTables, fault_of, read_tables, refusal
from cardsmith.house.paper import (
    card_size,
    paper_faults,
    sheet_size,
    too_small,
)
from cardsmith.house.printers import (
    NO_ACCENT_INK,
    AccentInk,
    printer_faults,
    strange_printers,
)
from cardsmith.house.settings import (
    TOLERANCES,
    CardStyle,
    IssueStyle,
    Ladders,
    PortionStyle,
    ProofStyle,
    SignOff,
    SiteStyle,
)
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.tree import Scalar
from cardsmith.recipe.file.values import values
from cardsmith.recipe.model import Recipe
from cardsmith.recipe.schema.kinds import Lines, Record, TextKind, entry
from cardsmith.reference import Tables

SYSTEMS = ("us", "metric")
LAWS = ("US", "EU", "AU")  # that list the allergens to be named; British law keeps the EU's list
# Those of places where a food is declared as in Regulation (EU) 1169/2011, which British law keeps (memory).
EUROPEAN = ("en-GB", "en-IE")
SCOOPS = ("cup", "tablespoon", "teaspoon")
MAX_BYTES = 40_000  # a house file has some 4,000


def _own(text: str) -> OwnTables:
    return OwnTables(folder=Path(as_folder(text)))


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
        "contents as in the EU. Recipes are read in English and stay so; de says all else in German that "
        "nobody has checked.",
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
        Record(fields=ENTRIES, made=as_styles),
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
    asked: str = ""  # the one edition whose queries are wanted; empty for all
    household: str = ""  # whose cups and spoons stand in the metric column; empty for none
    scoops: tuple[tuple[str, tuple[Fraction, ...]], ...] = ()  # of these, the numbers that the edition says
    nutrition: str = ""  # by whose law an edition declares contents; empty where its language tells
    dates: str = ""  # in which form an edition has them; empty where its language tells

    @property
    def reference(self) -> Tables:
        """Our tables with the house's own rows of facts joined to them."""
        return self.tables.reference

    @property
    def home(self) -> str:
        """Its own edition; that of its language where it declares none."""
        spoken = (key for key, market in markets().items() if market.language == self.language)
        return self.editions[0][0] if self.editions else next(spoken, EDITIONS[0])

    @property
    def turned(self) -> bool:
        """Whether the readers of this edition have summer when those of its first have winter."""
        return self.market(self.home).seasons != self.market(self.edition or self.home).seasons

    @property
    def further(self) -> tuple[str, ...]:
        """The editions beside its own."""
        return tuple(key for key, _ in self.editions[1:])

    def prints(self, recipe: Recipe) -> tuple[str, ...]:
        """The further editions that a recipe is printed in."""
        named = {edition.key for edition in recipe.editions}
        return tuple(key for key, edition in self.editions[1:] if edition.recipes != NAMED or key in named)

    def with_edition(self, key: str) -> House:
        """The house with one further edition, and no other."""
        self.in_edition(key)
        return replace(self, asked=key)

    def in_edition(self, key: str) -> House:
        """The house in the style of another of its editions; with no key, as it is.

        Raises:
            CardsmithError: it declares no such edition, or one on cards of a size there is not.
        """
        if not key:
            return self
        if key not in dict(self.editions):
            raise CardsmithError(f"this house has no edition {key!r}; {_told_editions(self)}")
        if key == self.home:
            return self
        style = dict(self.editions)[key]
        market, ladders = self.market(key), dict(style.ladders)
        words = spelled(self.market(self.home), market, self.reference)
        return replace(
            self,
            edition=key,
            tagline=words(self.tagline),
            credit=words(self.credit),
            issue=IssueStyle(
                name=style.issue.name or words(self.issue.name),
                date=style.issue.date or words(self.issue.date),
            ),
            language=market.language,
            household="" if "us" in market.order else market.household,
            scoops=tuple((unit, ladders[unit]) for unit in SCOOPS if unit in ladders),
            order=market.order,
            oven=frozenset(market.oven),
            allergens=market.allergens,
            nutrition=market.nutrition,
            dates=market.dates,
            ladders=replace(self.ladders, **ladders),
            card=replace(self.card, size=card_size(market.card, self.tables)),
            proof=replace(self.proof, paper=sheet_size(market.paper, self.tables)),
        )

    def market(self, key: str) -> Market:
        """What is usual in the market of an edition, less what this house says of it."""
        return market_of(key, dict(self.editions).get(key, EditionStyle()))

    @property
    def declares(self) -> str:
        """By whose law a card declares contents: ``US``, ``EU``, ``AU``; empty where that is not certain."""
        by_language = {"en-US": "US", **dict.fromkeys(EUROPEAN, "EU")}
        return self.nutrition or by_language.get(self.language, "")

    @property
    def dated_in(self) -> str:
        """The language in which days are written: ``en-GB`` for 20 June 2026."""
        return {"month-first": "en-US", "day-first": "en-GB"}.get(self.dates, self.language)

    @property
    def allergen_lists(self) -> tuple[str, ...]:
        """Whose lists of allergens a card prints, the most important first."""
        by_law = {"en-US": LAWS[:1], **dict.fromkeys(EUROPEAN, LAWS[1:2])}
        return self.allergens or by_law.get(self.language, LAWS[:2])


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
    if own.rows or own.faults:
        return _read(data, where, own)
    rests_on = repr((where, str(own.folder), data)).encode()
    return replace(kept("house", partial(_read, data, where, own), rests_on), tables=own)


def _read(data: bytes, where: str, own: OwnTables) -> House:
    source = read_source(data, where)
    if source.root is None and any(finding.name == "empty-file" for finding in source.findings):
        raise CardsmithError(f"{where}: the file is empty; `cardsmith new` writes a complete one")
    findings: list[Finding] = [*source.findings, *own.faults]
    house, root = None, None
    if source.root:
        schema = record_of(House, own) if own.rows or own.faults else HOUSE
        root, misshapen = shaped(source.root, source.text.split("\n"), schema, "house", complete=True)
        house, unfit = values(root, schema) if root else (None, ())
        findings += (*misshapen, *unfit)
    if isinstance(house, House) and not own.faults:
        findings += too_small(own, house.card.size, house.card.bleed)
        findings += strange_printers(house.accent_ink, house.card.printers, Where(file=where))
    named = root.get("tables") if root else None
    if isinstance(named, Scalar) and own.folder.parts and not str(own.folder).endswith(named.text.strip()):
        what = "the key tables is not written as a build looks for it"
        findings.append(fault_of(named.where, what, f"on a line of its own: tables: {named.text.strip()}"))
    faults = [finding for finding in findings if finding.severity is Severity.ERROR]
    if faults or not isinstance(house, House):
        raise refusal(faults)
    house = replace(house, tables=own)
    if house.editions:
        first = house.editions[0][1]
        house = replace(house, nutrition=first.nutrition, dates=first.dates)
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
        from cardsmith.house.own.facts import with_facts  # noqa: PLC0415 - few houses have any

        own = with_facts(own)
    house = read_house(read_plain(file, folder, str(file)) or b"", str(file), own)
    # One that has no house style of its own uses the demo's, whose editions are none of its affair.
    return house if folder == publication / "templates" else replace(house, editions=())
