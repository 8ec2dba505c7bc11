"""What a cell of a house's table may hold: each kind gives it as our own tables write it, or says why not."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import cache

from cardsmith.house.kinds import as_number
from cardsmith.measure.larder import parts, words
from cardsmith.recipe.schema.kinds import TextKind, UnfitError
from cardsmith.reference import folder, table
from cardsmith.regex import regex

NOTHING = "none"  # written where an empty cell would leave open whether anybody knows
_KEY = regex("[a-z0-9]+(?:-[a-z0-9]+)*")
_LONGEST = 200  # characters
_WHOLE = "total"  # what a proportion may count beside the roles: all of it


def _text(cell: str) -> str:
    if len(cell) > _LONGEST:
        raise UnfitError(f"it has {len(cell)} characters", f"at most {_LONGEST}")
    return cell


def _name(cell: str) -> str:
    if "|" in cell:
        raise UnfitError(f"“{cell}” is more than one name", "one name; others stand in another column")
    if not words(cell):
        raise UnfitError(f"“{cell}” has no word in it", "a name")
    return _text(cell)


def _name_there(cell: str) -> str:
    return cell if cell == "?" else _name(cell)


def _key(cell: str) -> str:
    if not _KEY.fullmatch(cell):
        raise UnfitError(f"“{cell}” is not a key", "small letters and digits, with hyphens between them")
    return cell


def _number(cell: str) -> str:
    number = as_number(cell)
    return str(number) if " " in cell else cell


def _positive(cell: str) -> str:
    if not Fraction(number := _number(cell)):
        raise UnfitError("it is nothing", "more than 0")
    return number


def _whole(cell: str) -> str:
    if (number := Fraction(_number(cell))).denominator > 1:
        raise UnfitError(f"“{cell}” is not a whole number", "a whole number")
    return str(number)


def _at_most(most: int) -> Callable[[str], str]:
    def made(cell: str) -> str:
        if Fraction(number := _number(cell.removesuffix("%").strip())) > most:
            raise UnfitError(f"“{cell}” is more than {most}", f"0 to {most}")
        return number

    return made


def _one_of(known: Callable[[], Iterable[str]]) -> Callable[[str], str]:
    """One of some names; they are looked up only where a house has such a table."""

    def made(cell: str) -> str:
        names = tuple(known())
        if cell not in names:
            near = difflib.get_close_matches(cell.lower(), names, n=1, cutoff=0.6)
            raise UnfitError(f"“{cell}” is not known", near[0] if near else f"one of {', '.join(names)}")
        return cell

    return made


def _each(reading: Callable[[str], str]) -> Callable[[str], str]:
    """Entries of a cell, each of them ``one``."""
    return lambda cell: "|".join(map(reading, parts(cell)))


def _or_nothing(made: Callable[[str], str]) -> Callable[[str], str]:
    return lambda cell: "" if cell == NOTHING else made(cell)


def _class(jurisdiction: str) -> Callable[[str], str]:
    known = _one_of(lambda: _classes(jurisdiction))
    return lambda name: f"{'?' * name.startswith('?')}{known(name.removeprefix('?'))}"


def _share(known: Callable[[str], str], most: int) -> Callable[[str], str]:
    """``fat:0.29``, at most so much of one."""

    def made(entry: str) -> str:
        role, _, share = entry.partition(":")
        number = _number(share)
        if not 0 < Fraction(number) <= most:
            raise UnfitError(f"“{entry}” is not a share", f"{role}: and a share of one, such as {role}:0.29")
        return f"{known(role)}:{number}"

    return made


@cache
def _classes(jurisdiction: str) -> tuple[str, ...]:
    return tuple(row["class"] for row in table("allergen_classes") if row["jurisdiction"] == jurisdiction)


@cache
def _of_larder(column: str) -> tuple[str, ...]:
    """All entries of a column of our larder, without their shares."""
    cells = (row[column] for name in folder("larder") for row in table(name))
    return tuple(sorted({entry.partition(":")[0] for cell in cells for entry in parts(cell)}))


def roles() -> tuple[str, ...]:
    """Everything that a food may do."""
    return _of_larder("roles")


@cache
def _measures() -> tuple[str, ...]:
    """What a food may be weighed by: volumes, pieces, and containers that are bought."""
    weighed = {row["measure"] for name in folder("larder_measures") for row in table(name)}
    boxes = {row["name"] for row in table("units") if row["system"] == "container"}
    return tuple(sorted(weighed | boxes))


def _aisles() -> Iterable[str]:
    return (name.partition("/")[2] for name in folder("larder"))


def _forms() -> Iterable[str]:
    return (row["form"] for row in table("larder_forms"))


def _filed(cell: str) -> str:
    number = cell.zfill(5)  # a spreadsheet takes the noughts away
    if all(row["ndb_no"] != number for row in table("usda_sr28/foods")):
        raise UnfitError(f"USDA SR 28 has no food {cell}", "its number there, or nothing")
    return number


def _food_or_role(cell: str) -> str:
    role = cell.removeprefix("role:")
    return f"role:{_one_of(roles)(role)}" if role != cell else _key(cell)


TEXT, NAME, NAMES, KEY = (TextKind(made=made) for made in (_text, _name, _each(_name), _key))
NAMES_THERE = TextKind(made=_each(_name_there))  # of an edition; ? where nothing there is the same
FOODS = TextKind(made=_each(_key))
NUMBER, POSITIVE, WHOLE = (TextKind(made=made) for made in (_number, _positive, _whole))
PERCENT, LESS_THAN_ALL, SHARE = (TextKind(made=_at_most(most)) for most in (100, 99, 1))
US_CLASSES, EU_CLASSES = (TextKind(made=_or_nothing(_each(_class(law)))) for law in ("US", "EU"))
ROLES = TextKind(made=_each(_share(_one_of(roles), 1)))
TERMS = TextKind(made=_each(_share(_one_of(lambda: (*roles(), _WHOLE)), 100)))
ORIGINS = TextKind(made=_each(_one_of(lambda: _of_larder("origin"))))
AISLE, FORM, MEASURE = (TextKind(made=_one_of(known)) for known in (_aisles, _forms, _measures))
RATIO = TextKind(made=_one_of(lambda: (row["ratio"] for row in table("ratio_names"))))
FILED, FOOD_OR_ROLE = TextKind(made=_filed), TextKind(made=_food_or_role)


def choice(*choices: str) -> TextKind:
    """One of some words."""
    return TextKind(choices=choices, made=_one_of(lambda: choices))
