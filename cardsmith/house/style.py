"""The house: one publication's style, read from ``templates/house.yaml``."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from cardsmith.files.reading import read_plain
from cardsmith.finding import CardsmithError, Severity
from cardsmith.house.files import house_folder, look_over
from cardsmith.recipe import tree
from cardsmith.recipe.source import read_source
from cardsmith.reference import table

SYSTEMS = ("us", "metric")
MAX_BYTES = 40_000  # a house file has some 4,000
MAX_WORDS = 200  # characters of a name, a credit or whoever signs
MAX_LIST = 60  # numbers of a ladder, sizes of type, those who sign
MAX_CARDS = 20  # of one recipe; two are usual
MAX_STEPS = 20_000  # numbers between two rungs of a ladder; the demo's longest has 9,900
_LANGUAGE = re.compile(r"[a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")  # the shape of BCP 47
_NUMBER = re.compile(r"(?:(?P<whole>\d{1,6}) )?(?P<part>\d{1,6}(?:\.\d{1,6}|/0*[1-9]\d{0,5})?)", re.ASCII)
_COUNT = re.compile(r"\d{1,3}", re.ASCII)
# The kinds of ingredients whose printed amounts may stand off so far: larder roles by what they do.
TOLERANCES = (
    "leavener", "salt", "yeast", "setting", "cure", "acid", "governing", "other", "seasoning",
)  # fmt: skip
STEPPED = ("ounce", "gram", "millilitre")  # ladders given by steps
_ADDRESS = re.compile(r"https?://[a-z0-9.-]+(?::\d+)?/(?:[A-Za-z0-9._~-]+/)*")
_TAG = re.compile(r"[a-z0-9-]+(?:\.[a-z0-9-]+)+,\d{4}(?:-\d\d){0,2}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """Up to ``to``, print multiples of ``step`` (both in the ladder's unit)."""

    to: Fraction
    step: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladders:
    """The numbers each measure may be printed in."""

    cup: tuple[Fraction, ...]
    tablespoon: tuple[Fraction, ...]
    teaspoon: tuple[Fraction, ...]
    plus_tablespoon: tuple[Fraction, ...]
    plus_teaspoon: tuple[Fraction, ...]
    butter_tablespoon: tuple[Fraction, ...]
    ounce: tuple[Rung, ...]
    pound: tuple[Fraction, ...]
    gram: tuple[Rung, ...]
    millilitre: tuple[Rung, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SignOff:
    """What a recipe must have come through before a card may call it tested."""

    makes: int  # in a row, with the same result
    elsewhere: int  # of these, by someone else in another kitchen
    each_column: bool  # whether each printed column must have been cooked from once
    spread: Fraction  # how far apart, as a share, the yields of one result may lie


@dataclass(frozen=True, slots=True, kw_only=True)
class PortionStyle:
    """What of a portion's cost and contents the house wants, and where."""

    food_cost: Fraction  # the share of a selling price that food may cost
    on_card: bool  # whether a printed card has the line of nutrition
    on_page: bool  # whether a web page has it, and its structured data


@dataclass(frozen=True, slots=True, kw_only=True)
class CardStyle:
    """The printed card: its size, its sides, and the settings of type it may be set in."""

    size: str  # a name in reference/card_sizes.csv
    sides: int  # 1 or 2, printed on
    cards: int  # at most: the card and its continuations
    text: tuple[Fraction, ...]  # points of body type, the largest first; the last is the house's floor
    notes: Fraction  # points; nothing on a card is smaller
    printers: tuple[str, ...]  # names in reference/printer_profiles.csv; a press file for each

    @property
    def pages(self) -> int:
        """At most, of all cards of one recipe."""
        return self.sides * self.cards


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofStyle:
    """The proof: the paper it is printed on, and who signs it."""

    paper: str  # a name in reference/sheet_sizes.csv
    signed_by: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteStyle:
    """Where the web site stands; both are empty for a publication that has no address yet."""

    address: str  # https://pellwick.example/, with the slash
    tag: str  # pellwick.example,2025: who names the entries of the feed, and since when (RFC 4151)


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """One publication's style."""

    name: str
    tagline: str
    credit: str
    language: str
    order: tuple[str, ...]  # us, metric: which stands first
    card: CardStyle
    oven: frozenset[str]  # beside the scale: gas marks, fan settings
    sign_off: SignOff
    portion: PortionStyle
    site: SiteStyle
    proof: ProofStyle
    ratio_limit: Fraction
    tolerances: Mapping[str, Fraction]
    ladders: Ladders


def _number(value: Any) -> Fraction:
    """An exact number as a house writes it: 5, 0.5, 1/2, 1 1/2."""
    found = _NUMBER.fullmatch(str(value).strip())
    if found is None:
        raise ValueError(f"{str(value)[:40]!r} is none such as 5, 0.5 or 1 1/2")
    return Fraction(found["whole"] or 0) + Fraction(found["part"])


def _count(value: Any) -> int:
    if not _COUNT.fullmatch(str(value)):
        raise ValueError(f"{str(value)[:40]!r} is no small whole number")
    return int(value)


def _percent(value: Any) -> Fraction:
    return _number(str(value).rstrip("% ")) / 100


def _yes(value: Any, where: str) -> bool:
    if value not in ("yes", "no", "true", "false"):
        raise CardsmithError(f"{where} takes yes or no")
    return bool(value in ("yes", "true"))


def _words(value: Any, where: str) -> str:
    if not isinstance(value, str) or len(value) > MAX_WORDS:
        raise CardsmithError(f"{where} takes a text of at most {MAX_WORDS} characters")
    return value


def _list(value: Any, where: str) -> list[Any]:
    if not isinstance(value, list) or not 0 < len(value) <= MAX_LIST:
        raise CardsmithError(f"{where} takes a list of at most {MAX_LIST}")
    return value


def _ladder(name: str, value: Any, where: str) -> tuple[Any, ...]:
    if not isinstance(value, list):
        raise CardsmithError(f"{where}: ladders: {name} takes a list, such as [1/4, 1/2, 1]")
    found = _list(value, f"{where}: ladders: {name}")
    if name not in STEPPED:
        return tuple(_positive(number) for number in found)
    if not all(isinstance(rung, dict) and rung.keys() == {"to", "step"} for rung in found):
        raise CardsmithError(f"{where}: ladders: {name} takes a list such as [{{to: 10, step: 1/4}}]")
    rungs = tuple(Rung(to=_positive(rung["to"]), step=_positive(rung["step"])) for rung in found)
    if any(rung.to / rung.step > MAX_STEPS for rung in rungs):
        raise CardsmithError(f"{where}: ladders: {name} has over {MAX_STEPS:,} numbers; take larger steps")
    return rungs


def _positive(value: Any) -> Fraction:
    number = _number(value)
    if not number:
        raise ValueError("nothing can be measured in steps of 0")
    return number


def _oven(value: Any, where: str) -> frozenset[str]:
    if not isinstance(value, list) or not all(one in ("gas", "fan") for one in value):
        raise CardsmithError(f"{where}: oven takes [], [fan], [gas] or [fan, gas]")
    return frozenset(value)


def _known(given: Mapping[str, Any], names: tuple[str, ...], where: str) -> None:
    for key in given:
        if key not in names:
            near = difflib.get_close_matches(key, names, 1)
            raise CardsmithError(
                f"{where}: unknown key {key!r}" + (f", did you mean {near[0]!r}?" if near else "")
            )
    for name in names:
        if name not in given:
            raise CardsmithError(f"{where}: {name!r} is missing; `cardsmith new` writes a complete one")


def _sign_off(given: Any, where: str) -> SignOff:
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: sign_off takes makes, elsewhere, each_column and spread")
    _known(given, tuple(SignOff.__dataclass_fields__), f"{where}: sign_off")
    return SignOff(
        makes=_count(given["makes"]),
        elsewhere=_count(given["elsewhere"]),
        each_column=_yes(given["each_column"], f"{where}: sign_off: each_column"),
        spread=_percent(given["spread"]),
    )


def _card(given: Any, where: str) -> CardStyle:
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: card takes size, sides, cards, text, notes and printers")
    _known(given, tuple(CardStyle.__dataclass_fields__), f"{where}: card")
    style = CardStyle(
        size=_row_of("card_sizes", given["size"], f"{where}: card"),
        sides=_count(given["sides"]),
        cards=_count(given["cards"]),
        text=tuple(
            sorted({_positive(size) for size in _list(given["text"], f"{where}: card: text")}, reverse=True)
        ),
        notes=_number(given["notes"]),
        printers=tuple(
            _row_of("printer_profiles", name, f"{where}: card")
            for name in dict.fromkeys(map(str, _list(given["printers"], f"{where}: card: printers")))
        ),
    )
    if style.sides not in (1, 2) or not 1 <= style.cards <= MAX_CARDS:
        raise CardsmithError(f"{where}: card: sides takes 1 or 2, cards 1 to {MAX_CARDS}")
    if not 0 < style.notes <= style.text[-1]:
        raise CardsmithError(f"{where}: card: notes are set no larger than the smallest text")
    return style


def _row_of(name: str, given: Any, where: str) -> str:
    """The name of a row of a table."""
    names = [row["name"] for row in table(name)]
    if (found := str(given).lower()) not in names:
        near = difflib.get_close_matches(found, names, 1) or names
        raise CardsmithError(f"{where}: {given!r} is not in {name}.csv; did you mean {near[0]!r}?")
    return found


def _portion(given: Any, where: str) -> PortionStyle:
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: portion takes food_cost, on_card and on_page")
    _known(given, tuple(PortionStyle.__dataclass_fields__), f"{where}: portion")
    food_cost = _percent(given["food_cost"])
    if not 0 < food_cost <= 1:
        raise CardsmithError(f"{where}: portion: food_cost takes a share of the selling price, such as 30 %")
    return PortionStyle(
        food_cost=food_cost,
        on_card=_yes(given["on_card"], f"{where}: portion: on_card"),
        on_page=_yes(given["on_page"], f"{where}: portion: on_page"),
    )


def _proof(given: Any, where: str) -> ProofStyle:
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: proof takes paper and signed_by")
    _known(given, tuple(ProofStyle.__dataclass_fields__), f"{where}: proof")
    if not isinstance(given["signed_by"], list) or not 0 < len(given["signed_by"]) <= MAX_LIST:
        raise CardsmithError(f"{where}: proof: signed_by takes a list, such as [Author, Editor]")
    paper = _row_of("sheet_sizes", given["paper"], f"{where}: proof")
    signed_by = tuple(_words(one, f"{where}: proof: signed_by") for one in given["signed_by"])
    return ProofStyle(paper=paper, signed_by=signed_by)


def _site(given: Any, where: str) -> SiteStyle:
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: site takes address and tag")
    _known(given, tuple(SiteStyle.__dataclass_fields__), f"{where}: site")
    style = SiteStyle(
        address=_words(given["address"], f"{where}: site: address"),
        tag=_words(given["tag"], f"{where}: site: tag"),
    )
    if style.address and not _ADDRESS.fullmatch(style.address):
        raise CardsmithError(
            f'{where}: site: address takes "" or an address that ends with a slash, such as https://name.example/'
        )
    if bool(style.address) != bool(_TAG.fullmatch(style.tag)):
        raise CardsmithError(
            f"{where}: site: tag takes a domain you hold and a year in which you held it, such as "
            'name.example,2025; "" where there is no address'
        )
    return style


def _plain(node: tree.Node) -> Any:
    """A tree of a file as lists, dictionaries and texts."""
    match node:
        case tree.Scalar():
            return node.text
        case tree.Sequence():
            return [_plain(one) for one in node.items]
        case tree.Mapping():
            return {name.text: _plain(one) for name, one in node.entries}


def _given(data: bytes, where: str) -> Any:
    """What stands in a house file, by the reader of recipes and inside its bounds."""
    if len(data) > MAX_BYTES:
        said = f"has {len(data):,} bytes, over {MAX_BYTES:,}"
        raise CardsmithError(f"{where} {said}; a house file has some 4,000, so take out what is none of it")
    source = read_source(data, where)
    for one in source.findings:
        if one.severity is Severity.ERROR and one.name != "empty-file":
            instead = one.instead if len(one.instead) <= MAX_WORDS else f"{one.instead[:MAX_WORDS]}…"
            raise CardsmithError(f"{one.where}: {one.what}; {instead}")
    return _plain(source.root) if source.root else None


def read_house(text: str | bytes, where: str = "house.yaml") -> House:
    """The house of ``text``.

    Raises:
        CardsmithError: what is wrong with the file, and where.
    """
    given = _given(text if isinstance(text, bytes) else text.encode(), where)
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: a house file is a list of keys and values")
    _known(given, tuple(House.__dataclass_fields__), where)
    for key in ("ladders", "tolerances"):
        if not isinstance(given[key], dict):
            raise CardsmithError(f"{where}: {key} takes a list of keys and values")
    _known(given["ladders"], tuple(Ladders.__dataclass_fields__), f"{where}: ladders")
    _known(given["tolerances"], TOLERANCES, f"{where}: tolerances")
    order = given["order"]
    if order not in (list(SYSTEMS), list(reversed(SYSTEMS))):
        raise CardsmithError(f"{where}: order takes [us, metric] or [metric, us]")
    language = _words(given["language"], f"{where}: language")
    if not _LANGUAGE.fullmatch(language):
        raise CardsmithError(f"{where}: language takes a code such as en-US or en-GB (BCP 47)")
    try:
        return House(
            name=_words(given["name"], f"{where}: name"),
            tagline=_words(given["tagline"], f"{where}: tagline"),
            credit=_words(given["credit"], f"{where}: credit"),
            language=language,
            order=tuple(order),
            card=_card(given["card"], where),
            oven=_oven(given["oven"], where),
            sign_off=_sign_off(given["sign_off"], where),
            portion=_portion(given["portion"], where),
            site=_site(given["site"], where),
            proof=_proof(given["proof"], where),
            ratio_limit=_percent(given["ratio_limit"]),
            tolerances={name: _percent(value) for name, value in given["tolerances"].items()},
            ladders=Ladders(
                **{name: _ladder(name, value, where) for name, value in given["ladders"].items()}
            ),
        )
    except ValueError as fault:
        raise CardsmithError(f"{where}: a number cannot be read ({fault})") from fault


def load_house(publication: Path) -> House:
    """The house in use for a publication.

    Raises:
        CardsmithError: what is wrong with it, or with the files beside it.
    """
    folder = house_folder(publication)
    file = folder / "house.yaml"
    look_over(folder)
    return read_house(read_plain(file, folder, str(file)) or b"", str(file))
