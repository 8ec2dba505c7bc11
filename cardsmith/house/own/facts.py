"""A house's own facts: each cell read, and each row held to the rules that our own tables are held to."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import replace
from fractions import Fraction
from functools import cache, partial
from itertools import pairwise

from cardsmith.facts.kinds import kinds
from cardsmith.finding import Finding, Where
from cardsmith.house.own.fact_tables import FACTS, KEYS, FactTable
from cardsmith.house.own.tables import OwnTables, Row, fault_of
from cardsmith.measure.food import SHOWN_AS
from cardsmith.measure.larder import Food, load_larder, parts, words
from cardsmith.measure.oven import dials
from cardsmith.measure.pans import edges
from cardsmith.measure.units import units
from cardsmith.measure.weighing import VOLUMES
from cardsmith.recipe.schema.kinds import TextKind, UnfitError
from cardsmith.reference import PLACE, Tables, folder, table

Rows = Mapping[str, list[dict[str, str]]]  # by table, each with its place
SCALES = Fraction(5)  # °C that the two figures of a setting may stand apart, as dials are marked: no source
HUNDRED = 105  # g that what 100 g hold may come to, by the rounding of labels: common practice, no source
# g/ml. Nothing in a kitchen is denser than salt without gaps (2.17, CRC Handbook, memory); a cup with air
# between the grains stays below 1.5. The lightest are puffed rice and loose leaves. Ours is held to them.
DENSITY = {
    "liquid": (Fraction(3, 4), Fraction(3, 2)),
    "paste": (Fraction(1, 5), Fraction(8, 5)),
    "powder": (Fraction(3, 20), Fraction(3, 2)),
    "granule": (Fraction(2, 25), Fraction(3, 2)),
    "leaf": (Fraction(1, 100), Fraction(6, 5)),
    "piece": (Fraction(1, 25), Fraction(13, 10)),
    "solid": (Fraction(1, 20), Fraction(13, 10)),
}
WHIPPED = "whipped"  # is as light as a paste, whatever it was
# What US law calls a class, and EU law; a food with the one has the other (tree nuts are not the same nuts).
BOTH_LAWS = {
    "milk": "milk",
    "egg": "eggs",
    "fish": "fish",
    "crustacean shellfish": "crustaceans",
    "peanuts": "peanuts",
    "wheat": "cereals containing gluten",
    "soybeans": "soybeans",
    "sesame": "sesame seeds",
}


def with_facts(own: OwnTables) -> OwnTables:
    """The same with its facts joined to our tables, and all that is wrong with them."""
    read = {name: [_read(row, where, FACTS[name]) for row, where in own.placed(name)] for name in FACTS}
    faults = [fault for rows in read.values() for _, row in rows for fault in row]
    sound: Rows = {
        name: _once(name, (cells for cells, row in rows if not row)) for name, rows in read.items()
    }
    sound, dangling = _without_dangling(sound, {row.name for row, _ in own.placed("larder")})
    tables = Tables.of({name: rows for name, rows in sound.items() if rows}, KEYS)
    wrong = (fault for check in CHECKS for fault in check(tables))
    return replace(own, reference=tables, faults=(*own.faults, *faults, *dangling, *wrong))


# --- one row ------------------------------------------------------------------------------------------


def _read(row: Row, where: Where, of: FactTable) -> tuple[dict[str, str], tuple[Finding, ...]]:
    """The cells of a row as our tables write them, and what is wrong with any of them."""
    cells: dict[str, str] = {}
    findings: list[Finding] = []
    for column in of.columns.fields:
        cell = row.cells[column.name]
        example = column.example.partition(": ")[2]
        if not cell and column.required:
            findings.append(_fault(where, row.name, f"its {column.name} is empty", f"such as {example}"))
        try:
            assert isinstance(column.kind, TextKind)
            cells[column.name] = column.kind.made(cell) if cell else ""
        except UnfitError as unfit:
            instead = unfit.instead or f"such as {example}"
            findings.append(_fault(where, row.name, f"its {column.name}: {unfit}", instead))
    if not findings:
        falling = (pair for group in of.ascending for pair in _falling(cells, group))
        findings = [_fault(where, row.name, what, "figures that rise, or stay") for what in falling]
    return {**cells, PLACE: str(where)}, tuple(findings)


def _once(name: str, rows: Iterable[dict[str, str]]) -> list[dict[str, str]]:
    """The first row of each key; further ones are reported with the form of the table."""
    kept: list[dict[str, str]] = []
    taken: set[tuple[tuple[str, ...], tuple[str, ...]]] = set()
    for row in rows:
        keys_there = {(key, tuple(row[column] for column in key)) for key in KEYS[name]}
        if keys_there.isdisjoint(taken):
            kept.append(row)
        taken |= keys_there
    return kept


def _falling(cells: Mapping[str, str], columns: Iterable[str]) -> Iterator[str]:
    given = [(column, cells[column]) for column in columns if cells[column]]
    for (before, low), (behind, high) in pairwise(given):
        if Fraction(low) > Fraction(high):
            yield f"{before} is {low}, and {behind} {high}"


def _without_dangling(rows: Rows, named: AbstractSet[str]) -> tuple[Rows, tuple[Finding, ...]]:
    """The rows less those of a food or a kind that nobody knows, and a fault for each of these.

    Foods that are ``named`` in a row with a finding of its own get no second one.
    """
    foods = {*_ours_by_key(), *(row["key"] for row in rows["larder"])}
    known_kinds = {row["kind"] for row in (*table("kinds"), *rows["kinds"])}
    faults: list[Finding] = []

    def is_known(name: str, row: dict[str, str]) -> bool:
        column = FACTS[name].keys[0][0]
        if column not in ("key", "food", "kind") or name in ("larder", "kinds"):
            return True
        known, called = (known_kinds if column == "kind" else foods), row[column]
        if called in known or called.startswith("role:"):
            return True
        if column != "kind" and called in named:
            return False
        near = difflib.get_close_matches(called, sorted(known), n=1)
        own_row = f"a row of {'kinds' if column == 'kind' else 'larder'}.csv for it"
        instead = f"{near[0]}, or {own_row}" if near else own_row
        faults.append(_fault(_where(row), called, f"no table has a {column} of this name", instead))
        return False

    return {name: [row for row in some if is_known(name, row)] for name, some in rows.items()}, tuple(faults)


# --- what several rows say together ---------------------------------------------------------------------


def _names(tables: Tables) -> Iterator[Finding]:
    """A name of an own food that another food has: no list could be read by it."""
    for food in _own_foods(tables):
        for name in dict.fromkeys(filter(None, (food.name, food.uk_name, *food.aliases, *food.generic))):
            name_words = words(name)
            owners = load_larder(tables).names[frozenset(name_words)]
            other = next(
                (owner for owner, known, _ in owners if owner is not food and words(known) == name_words),
                None,
            )
            if other is not None:
                instead = f"another name, or the key {other.key}, to take its place"
                yield _fault(_placed(food), food.key, f"“{name}” is a name of {other.key}", instead)


def _stand_ins(tables: Tables) -> Iterator[Finding]:
    """A food in place of ours that lacks what every check of safety knows ours by: it is another food."""
    for row in tables.own.get("larder", ()):
        ours = _ours_by_key().get(row["key"])
        if ours is None:
            continue
        first = ours["roles"].partition(":")[0]
        if first != row["roles"].partition(":")[0]:
            what = f"ours of this key is mainly {first}, and this row is not"
            yield _fault(_where(row), row["key"], what, f"{first} first among its roles, or another key")
        for column in ("us_allergens", "eu_allergens", "origin"):
            lost = [
                part for part in parts(ours[column]) if part not in parts(row[column]) and "?" not in part
            ]
            if lost:
                what = f"ours of this key has {' and '.join(lost)} for {column}, and this row has not"
                yield _fault(_where(row), row["key"], what, "the same, or another key")


@cache
def _ours_by_key() -> Mapping[str, Mapping[str, str]]:
    return {row["key"]: row for name in folder("larder") for row in table(name)}


def _densities(tables: Tables) -> Iterator[Finding]:
    """A cup that weighs what no such food can."""
    for row in tables.own.get("larder_measures", ()):
        food = load_larder(tables).foods[row["key"]]
        if row["measure"] not in VOLUMES:
            continue
        least, most = DENSITY["paste" if row["form"] == WHIPPED else food.state]
        ml = Fraction(row["amount"]) * units()[row["measure"]].size
        for column in ("grams_low", "grams", "grams_high"):
            if row[column] and not least <= Fraction(row[column]) / ml <= most:
                ends = " to ".join(f"{float(end * ml):.3g}" for end in (least, most))
                what = (
                    f"{row[column]} g for {row['amount']} {row['measure']} is not a weight of a {food.state}"
                )
                yield _fault(_where(row), row["key"], what, f"{ends} g, or another state in larder.csv")


def _laws(tables: Tables) -> Iterator[Finding]:
    """An allergen named by the one law and not by the other, or not named where it must be."""
    for row in tables.own.get("larder", ()):
        us, eu = parts(row["us_allergens"]), parts(row["eu_allergens"])
        for name in us:
            sure = name.removeprefix("?")
            other = f"{'?' * name.startswith('?')}{BOTH_LAWS.get(sure, '')}"
            if sure in BOTH_LAWS and not {other, other.removeprefix("?")} & set(eu):
                what = f"us_allergens have {name}, eu_allergens lack {other}"
                yield _fault(_where(row), row["key"], what, f"{other} among its eu_allergens")
        named = {name.removeprefix("?") for name in (*us, *eu)}
        for origin in parts(row["origin"]):
            if origin in SHOWN_AS and not SHOWN_AS[origin] & named:
                what = f"it comes from {origin}, and no allergen says so"
                yield _fault(
                    _where(row), row["key"], what, f"{origin} among its allergens, or another origin"
                )


def _contents(tables: Tables) -> Iterator[Finding]:
    """100 g that hold more than 100 g."""
    counted = ("water_g", "protein_g", "fat_g", "carbohydrate_g", "ash_g")
    for row in tables.own.get("composition", ()):
        held = sum(Fraction(row[column] or 0) for column in counted)
        if held > HUNDRED:
            names = ", ".join(column.removesuffix("_g") for column in counted)
            what = f"100 g hold {float(held):.4g} g of {names}"
            yield _fault(_where(row), row["food"], what, "what 100 g hold, not a portion")


def _bands(tables: Tables) -> Iterator[Finding]:
    """A proportion without a limit, or with one that no check asks about."""
    for row in tables.own.get("ratios", ()):
        asked = {
            end
            for end in ("low", "high")
            for ratio in table("ratios")
            if ratio["ratio"] == row["ratio"] and ratio[end]
        }
        given = {end for end in ("low", "high") if row[end]}
        if not given & asked:
            what = f"{row['ratio']} has no {' and no '.join(sorted(asked, reverse=True))}"
            yield _fault(_where(row), row["kind"], what, "one of these")
        elif given - asked:
            what = f"nothing asks whether {row['ratio']} is too {min(given - asked)}"
            yield _fault(_where(row), row["kind"], what, f"{min(given - asked)} left empty")


def _words(tables: Tables) -> Iterator[Finding]:
    """A word that the house both prefers and forbids."""
    rows = tables.own.get("style_words", ())
    forbidden = {(part.lower(), row["language"]) for row in rows for part in parts(row["instead_of"])}
    every = {word for word, _ in forbidden}
    for row in rows:
        word, language = row["house"].lower(), row["language"]
        if word and (
            (word, "") in forbidden or (word, language) in forbidden or (not language and word in every)
        ):
            what = f"“{row['house']}” is written instead of a word, and not written by another row"
            yield _fault(_where(row), row["house"], what, "one of the two rows")


def _dials(tables: Tables) -> Iterator[Finding]:
    """A setting whose two figures are not one heat, or that doesn't fit between the others."""
    findings = tuple(_scales(tables))
    yield from findings or _by_loader("oven_dials", dials, "a setting", tables)


def _scales(tables: Tables) -> Iterator[Finding]:
    for row in tables.own.get("oven_dials", ()):
        celsius = units()["degree Fahrenheit"].to_base(Fraction(row["fahrenheit"]))
        if abs(celsius - int(row["celsius"])) > SCALES:
            what = f"{row['fahrenheit']} °F is {round(celsius)} °C, not {row['celsius']}"
            yield _fault(_where(row), "a setting", what, "the figures as the dial shows them")


def _by_loader(name: str, load: Callable[[Tables], object], noun: str, tables: Tables) -> Iterator[Finding]:
    """What our own loader refuses: of each row beside ours, else of the rows together."""
    rows = tables.own.get(name, ())
    alone = [(row, _refused(load, (row,), name)) for row in rows]
    together = _refused(load, rows, name) if rows and not any(why for _, why in alone) else ""
    for row, why in (*alone, *((row, together) for row in rows[:1])):
        if why:
            yield _fault(
                _where(row), noun, why.partition(": ")[2], "figures that fit those of the other rows"
            )


def _refused(load: Callable[[Tables], object], rows: Iterable[dict[str, str]], name: str) -> str:
    try:
        load(Tables.of({name: rows}, KEYS))
    except ValueError as fault:
        return str(fault)
    return ""


CHECKS: tuple[Callable[[Tables], Iterator[Finding]], ...] = (
    _names,
    _stand_ins,
    _densities,
    _laws,
    _contents,
    _bands,
    _words,
    _dials,
    partial(_by_loader, "pans", edges, "a pan"),
    partial(_by_loader, "kinds", kinds, "a kind"),
)


def _own_foods(tables: Tables) -> Iterator[Food]:
    if tables.own.get("larder"):
        yield from (food for food in load_larder(tables).foods.values() if food.place)


def _fault(where: Where, called: str, what: str, instead: str) -> Finding:
    return fault_of(where, f"{called or 'a row'}: {what}", instead)


def _where(row: Mapping[str, str]) -> Where:
    return _place(row[PLACE])


def _placed(food: Food) -> Where:
    return _place(food.place)


def _place(text: str) -> Where:
    file, _, line = text.rpartition(":")
    return Where(file=file, line=int(line))
