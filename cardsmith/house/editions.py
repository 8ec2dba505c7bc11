"""The editions of a house: what it says of each, where its market has it otherwise."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from fractions import Fraction
from functools import partial
from typing import Annotated, Any

from cardsmith.edition.markets import DATES, EDITIONS, ENDINGS, QUOTES, Can, Market, markets
from cardsmith.edition.safety import limits, usual
from cardsmith.frozen import frozen
from cardsmith.house.kinds import CARD_LANGUAGES, as_order, as_positive, as_some
from cardsmith.house.own.schema import record_of
from cardsmith.house.settings import IssueStyle, Ladders
from cardsmith.language.quantities import read_temperature
from cardsmith.recipe.schema.kinds import Lines, Record, TextKind, UnfitError, entry
from cardsmith.reference import table

NAMED, NO_HOUSEHOLD = "named", "none"
HOUSEHOLDS = tuple(dict.fromkeys(row["household"] for row in table("household_measures")))
SIZES = ("small", "medium", "large", "extra-large", "very large", "jumbo")
# What the house's own file says elsewhere of the first edition.
ELSEWHERE = frozenset(
    {"language", "order", "oven", "ladders", "card", "paper", "allergens", "issue", "recipes"}
)


def _once(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _some(names: tuple[str, ...]) -> tuple[str, ...]:
    if not names:
        raise UnfitError("this list is empty", "what is wanted, or leave the line out")
    return _once(names)


def _heat(text: str) -> Fraction:
    """A temperature in °C."""
    quantity = read_temperature(text)
    if quantity is None or quantity.unit.name == "degree" or quantity.is_range:
        raise UnfitError(f"“{text}” is not a temperature", "one with its scale, such as 75 °C")
    return quantity.low


def _listed(noun: str, made: Callable[[tuple[Any, ...]], Any], *choices: str) -> Lines:
    return Lines(noun=noun, text=TextKind(choices=choices), made=made)


def _pairs(**given: Any) -> tuple[tuple[str, Any], ...]:
    return tuple(given.items())


def _figures() -> Record:
    """The figures of safety that some authority gives, each with a key."""
    names = dict.fromkeys(limit.name for key in EDITIONS for limit in limits(key))
    keys = (
        entry(
            name,
            TextKind(made=_heat),
            f"Of {name}: the authority's, or stricter.",
            usual(name).said.partition(" for ")[0],
        )
        for name in names
    )
    return Record(fields=tuple(keys), made=_pairs)


_LADDERS = Record(
    fields=tuple(replace(key, required=False) for key in record_of(Ladders).fields), made=_pairs
)
Pairs = tuple[tuple[str, Any], ...]


@frozen
class EditionStyle:
    """One edition; what is left out is as usual in its market."""

    language: Annotated[
        str,
        TextKind(choices=tuple(language for language in CARD_LANGUAGES if language != "de")),
        "Its English.",
        "en-NZ",
    ] = ""
    order: Annotated[
        tuple[str, ...],
        _listed("system", as_order, "us", "metric"),
        "Which systems its cards have, the first foremost.",
        "[metric]",
    ] = ()
    household: Annotated[
        str,
        TextKind(choices=(*HOUSEHOLDS, NO_HOUSEHOLD)),
        "Whose cups and spoons stand in its metric column (household_measures.csv).",
        "imperial",
    ] = ""
    oven: Annotated[
        tuple[str, ...] | None,
        _listed("setting", _once, "gas", "fan"),
        "What stands beside a temperature of the oven: [] for nothing.",
        "[fan, gas]",
    ] = None
    ladders: Annotated[
        Pairs, _LADDERS, "The numbers a measure may be printed in, where they differ.", "{teaspoon: [1/2, 1]}"
    ] = ()
    allergens: Annotated[
        tuple[str, ...],
        _listed("law", _some, "US", "EU", "AU"),
        "Whose lists of allergens its cards print.",
        "[EU]",
    ] = ()
    nutrition: Annotated[
        str, TextKind(choices=("US", "EU", "AU")), "By whose law it declares contents.", "EU"
    ] = ""
    safety: Annotated[
        Pairs,
        _figures(),
        "Figures of heat and cold that are stricter than its authority's (edition_safety.csv).",
        "{refrigerator: 4 °C}",
    ] = ()
    card: Annotated[str, TextKind(), "The trim size of its cards (card_sizes.csv).", "a5"] = ""
    paper: Annotated[str, TextKind(), "The paper of its proofs (sheet_sizes.csv).", "a4"] = ""
    cans: Annotated[
        tuple[Fraction, ...],
        Lines(noun="can", text=TextKind(made=as_positive), made=as_some),
        "The cans its shops have, in grams.",
        "[400, 800]",
    ] = ()
    eggs: Annotated[
        tuple[str, ...],
        _listed("size", _some, *SIZES),
        "The sizes of eggs that its shops have (egg_sizes.csv).",
        "[medium, large]",
    ] = ()
    dates: Annotated[str, TextKind(choices=DATES), "June 20, 2026, or 20 June 2026.", "day-first"] = ""
    quotes: Annotated[str, TextKind(choices=QUOTES), "“ ” or ‘ ’ outermost.", "single"] = ""
    endings: Annotated[
        str, TextKind(choices=ENDINGS), "Caramelize or caramelise, where its English has both.", "ise"
    ] = ""
    issue: Annotated[
        IssueStyle,
        "What its folio says of the issue, where its readers know it otherwise; else as the house has it.",
        "{date: Winter 2026}",
    ] = IssueStyle()
    recipes: Annotated[
        str,
        TextKind(choices=("all", NAMED)),
        "Which recipes are printed in it: all, or those that name it under their own `editions:`.",
        NAMED,
    ] = "all"

    @property
    def given(self) -> frozenset[str]:
        """The keys it has."""
        return frozenset(field.name for field in fields(self) if getattr(self, field.name) != field.default)


Styles = tuple[tuple[str, EditionStyle], ...]


def market_of(key: str, style: EditionStyle) -> Market:
    """An edition as its market has it, less what a house says."""
    usual_there = markets()[key]
    plain = {
        name: getattr(style, name)
        for name in style.given - {"household", "cans", "safety", "ladders", "issue", "recipes"}
    }
    household = style.household or usual_there.household
    return replace(
        usual_there,
        **plain,
        household="" if household == NO_HOUSEHOLD else household,
        cans=tuple(Can(grams=can) for can in style.cans) or usual_there.cans,
        stricter=style.safety,
    )


def as_style(key: str, **given: Any) -> EditionStyle:
    """What a house says of one edition.

    Raises:
        UnfitError: a figure of safety is milder than the authority's.
    """
    style = EditionStyle(**given)
    for name, celsius in style.safety:
        asked = next((limit for limit in limits(key) if limit.name == name), None) or usual(name)
        if celsius < asked.celsius if asked.least else celsius > asked.celsius:
            raise UnfitError(
                f"{name} at {float(celsius):g} °C is milder than {asked.said} ({asked.source})",
                f"{name}: {asked.said.partition(' for ')[0]}, or stricter",
            )
    return style


def as_styles(**given: EditionStyle) -> Styles:
    """The editions of a house, in its order, the first its own.

    Raises:
        UnfitError: there is but one, or the first has a key that stands at the top of the file.
    """
    if len(given) < 2:
        raise UnfitError("one edition is the house itself", "two at least: editions: {us: {}, uk: {}}")
    home, style = next(iter(given.items()))
    if elsewhere := sorted(style.given & ELSEWHERE):
        raise UnfitError(
            f"{home} is the house itself, so its {elsewhere[0]} stands elsewhere in this file",
            f"{home}: {{}}, and {elsewhere[0]} where the house has it",
        )
    return tuple(given.items())


ENTRIES = tuple(
    entry(
        key,
        replace(record_of(EditionStyle), made=partial(as_style, key)),
        f"The {market.name}.",
        "{}",
    )
    for key, market in markets().items()
)
