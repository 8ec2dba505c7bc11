"""The house: one publication's style, read from ``templates/house.yaml``."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError

from cardsmith.finding import CardsmithError
from cardsmith.reference import table

SYSTEMS = ("us", "metric")
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
    whole, _, part = str(value).strip().rpartition(" ")
    return Fraction(whole or 0) + Fraction(part)


def _percent(value: Any) -> Fraction:
    return _number(str(value).rstrip("% ")) / 100


def _ladder(name: str, value: Any) -> tuple[Any, ...]:
    if not isinstance(value, list):
        raise CardsmithError(f"ladders: {name} takes a list, such as [1/4, 1/2, 1]")
    if value and isinstance(value[0], dict):
        return tuple(Rung(to=_number(rung["to"]), step=_number(rung["step"])) for rung in value)
    return tuple(_number(number) for number in value)


def _oven(value: Any, where: str) -> frozenset[str]:
    extras = frozenset(value or ())
    if not isinstance(value, list) or not extras <= {"gas", "fan"}:
        raise CardsmithError(f"{where}: oven takes [], [fan], [gas] or [fan, gas]")
    return extras


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
        makes=int(given["makes"]),
        elsewhere=int(given["elsewhere"]),
        each_column=given["each_column"] in (True, "yes"),
        spread=_percent(given["spread"]),
    )


def _card(given: Any, where: str) -> CardStyle:
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: card takes size, sides, cards, text, notes and printers")
    _known(given, tuple(CardStyle.__dataclass_fields__), f"{where}: card")
    style = CardStyle(
        size=_row_of("card_sizes", given["size"], f"{where}: card"),
        sides=int(given["sides"]),
        cards=int(given["cards"]),
        text=tuple(sorted({_number(size) for size in given["text"]}, reverse=True)),
        notes=_number(given["notes"]),
        printers=tuple(_row_of("printer_profiles", name, f"{where}: card") for name in given["printers"]),
    )
    if style.sides not in (1, 2) or style.cards < 1 or not style.text:
        raise CardsmithError(
            f"{where}: card: sides takes 1 or 2, cards 1 or more, text a list such as [10, 9]"
        )
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
        on_card=given["on_card"] in (True, "yes"),
        on_page=given["on_page"] in (True, "yes"),
    )


def _proof(given: Any, where: str) -> ProofStyle:
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: proof takes paper and signed_by")
    _known(given, tuple(ProofStyle.__dataclass_fields__), f"{where}: proof")
    if not isinstance(given["signed_by"], list) or not given["signed_by"]:
        raise CardsmithError(f"{where}: proof: signed_by takes a list, such as [Author, Editor]")
    paper = _row_of("sheet_sizes", given["paper"], f"{where}: proof")
    return ProofStyle(paper=paper, signed_by=tuple(str(one) for one in given["signed_by"]))


def _site(given: Any, where: str) -> SiteStyle:
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: site takes address and tag")
    _known(given, tuple(SiteStyle.__dataclass_fields__), f"{where}: site")
    style = SiteStyle(address=str(given["address"] or ""), tag=str(given["tag"] or ""))
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


def read_house(text: str, where: str = "house.yaml") -> House:
    """The house of ``text``.

    Raises:
        CardsmithError: what is wrong with the file, and where.
    """
    try:
        given = YAML(typ="safe", pure=True).load(text)
    except YAMLError as fault:
        raise CardsmithError(f"{where}: {fault}") from fault
    if not isinstance(given, dict):
        raise CardsmithError(f"{where}: a house file is a list of keys and values")
    _known(given, tuple(House.__dataclass_fields__), where)
    _known(given["ladders"], tuple(Ladders.__dataclass_fields__), f"{where}: ladders")
    order = tuple(given["order"])
    if sorted(order) != sorted(SYSTEMS):
        raise CardsmithError(f"{where}: order takes [us, metric] or [metric, us]")
    try:
        return House(
            name=str(given["name"]),
            tagline=str(given["tagline"]),
            credit=str(given["credit"]),
            language=str(given["language"]),
            order=order,
            card=_card(given["card"], where),
            oven=_oven(given["oven"], where),
            sign_off=_sign_off(given["sign_off"], where),
            portion=_portion(given["portion"], where),
            site=_site(given["site"], where),
            proof=_proof(given["proof"], where),
            ratio_limit=_percent(given["ratio_limit"]),
            tolerances={name: _percent(value) for name, value in given["tolerances"].items()},
            ladders=Ladders(**{name: _ladder(name, value) for name, value in given["ladders"].items()}),
        )
    except (ValueError, KeyError, TypeError, ZeroDivisionError) as fault:
        raise CardsmithError(f"{where}: a number cannot be read ({fault})") from fault


def house_folder(publication: Path) -> Path:
    """The folder of house style in use: the publication's own ``templates/``, else the one shipped here."""
    own = publication / "templates"
    if (own / "house.yaml").is_file():
        return own
    package = Path(__file__).parent
    inside = package / "templates"  # in an installed wheel
    return inside if inside.is_dir() else package.parent / "templates"


def load_house(publication: Path) -> House:
    """The house in use for a publication."""
    file = house_folder(publication) / "house.yaml"
    return read_house(file.read_text(encoding="utf-8"), str(file))
