"""The numbers of a proof as ready strings: the table of all of them, and the statement of agreement."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from string import ascii_lowercase

from markupsafe import Markup

from cardsmith.bench.wording import several
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.measure.units import BASES, Dimension
from cardsmith.proof.account import Account
from cardsmith.proof.agreement import Agreement
from cardsmith.render.card.view import SYSTEM_NAMES, decimal, error_text, percent
from cardsmith.render.papers.portion import TableView
from cardsmith.render.typeset import typeset
from cardsmith.rewrite.card.numbers import CardNumber

# A unit of time, its seconds, and from how many seconds on it is used.
_CLOCK = (("days", 86400, 3 * 86400), ("h", 3600, 3 * 3600), ("min", 60, 60), ("s", 1, 0))


@frozen
class NumberView:
    """A row of the table of numbers."""

    number: int
    what: Markup
    author: Markup
    exact: Markup
    printed: tuple[tuple[Markup, Markup], ...]  # in the order of the house: as printed, and how far off
    basis: str  # a letter of the list below the table; empty for none
    changed: bool


@frozen
class PlaceView:
    """The numbers of one place of the card."""

    name: Markup
    rows: tuple[NumberView, ...]


def counted(agreement: Agreement) -> str:
    """How many numbers there are, of which kinds, and how many are exactly the author's."""
    bare = agreement.numbers - agreement.measured
    others = f" and {several(bare, 'bare figure')}" if bare else ""
    both = " in both columns" if agreement.columns > 1 else ""
    return f"{several(agreement.measured, 'measure')}{others}; {agreement.exact} exact{both}"


def named(number: CardNumber, system: str) -> str:
    """One number, identified by its old value, its new value and its place."""
    what = f"{number.what}, " if number.spot[0] == "line" else ""
    return f"{what}{number.author} as {number.said(system)} ({number.place})"


# --- numbers ------------------------------------------------------------------------------------------


def bases_of(numbers: Sequence[CardNumber]) -> dict[str, str]:
    """A letter for each thing that numbers rest on, in order of first use."""
    letters: dict[str, str] = {}
    for number in numbers:
        if number.basis and number.basis not in letters:
            turn, at = divmod(len(letters), len(ascii_lowercase))
            letters[number.basis] = ascii_lowercase[at] * (turn + 1)
    return letters


def places(account: Account, house: House, bases: dict[str, str]) -> Iterator[PlaceView]:
    """The table of all numbers, by place; what is new since the last proof is marked."""
    changed = _changed_numbers(account)
    met: Counter[tuple[str, int]] = Counter()
    rows: list[tuple[str, NumberView]] = []
    for at, number in enumerate(account.numbers, 1):
        is_new = (number.spot, met[number.spot]) in changed
        met[number.spot] += 1
        rows.append((number.place, _row(at, number, house, bases, changed=is_new)))
    for place, group in groupby(rows, key=lambda row: row[0]):
        yield PlaceView(name=typeset(f"{place[:1].upper()}{place[1:]}"), rows=tuple(row for _, row in group))


def _changed_numbers(account: Account) -> frozenset[tuple[tuple[str, int], int]]:
    """Where the new numbers stand: the text, and the number's position in it."""
    new = {id(number.new) for change in account.changes.listed for number in change.numbers if number.new}
    return frozenset(
        (field.spot, at)
        for field in account.fields
        for at, figure in enumerate(field.figures)
        if id(figure) in new
    )


def _row(at: int, number: CardNumber, house: House, bases: dict[str, str], *, changed: bool) -> NumberView:
    return NumberView(
        number=at,
        what=typeset(number.what),
        author=typeset(number.author),
        exact=typeset(exact_text(number)),
        printed=tuple(
            (typeset(number.said(system) or "–"), typeset(error_text(number, number.error(system))))
            for system in house.order
        ),
        basis=bases.get(number.basis, ""),
        changed=changed,
    )


def exact_text(number: CardNumber) -> str:
    """``162.65 ml``, ``90 to 110 g``, ``300 × 400 mm``; a dash for a figure that measures nothing."""
    if not number.exact or number.dimension is None:
        return "–"
    unit, scale = BASES[number.dimension], Fraction(1)
    if number.dimension is Dimension.DURATION:
        unit, seconds = next((name, size) for name, size, least in _CLOCK if number.exact[0].low >= least)
        scale = Fraction(1, seconds)
    sides = []
    for side in number.exact:
        ends = dict.fromkeys((decimal(side.low * scale), decimal(side.high * scale)))
        sides.append(" to ".join(ends))
    return f"{' × '.join(sides)} {unit}".strip()


# --- agreement ----------------------------------------------------------------------------------------


def agreement_lines(agreement: Agreement) -> Iterator[Markup]:
    """The statement of agreement, one sentence a line."""
    yield typeset(f"This card prints {counted(agreement)}.")
    for worst in agreement.worst:
        name = SYSTEM_NAMES[worst.system]
        if worst.error:
            said = f"{named(worst.number, worst.system)}, {percent(worst.error)}"
            yield typeset(f"Furthest off in the {name} column: {said}.")
        else:
            yield typeset(f"Every amount and length of the {name} column is exact.")


def drift_table(agreement: Agreement, house: House) -> TableView | None:
    """Each part's ratios; None where no part has two governing ingredients."""
    if not agreement.drifts:
        return None
    size = {
        moved_by: str(percent(moved_by)).removesuffix(" over")
        for drift in agreement.drifts
        for moved_by in (*drift.moved, drift.limit)
    }
    return TableView(
        caption="How far rounding moves the most-moved ratio of each part",
        head=("Part", *(SYSTEM_NAMES[system] for system in house.order), "House limit", "Held", "Governing"),
        rows=tuple(
            (
                drift.part or "Whole recipe",
                *(size[moved] for moved in drift.moved),
                size[drift.limit],
                "yes" if drift.held else "no",
                ", ".join(drift.governing),
            )
            for drift in agreement.drifts
        ),
    )
