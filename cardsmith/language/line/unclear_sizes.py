"""What the sizes of a line leave open: of one container or of all; which country's pint and cup.

>>> from cardsmith.language.line.read import read_text
>>> from cardsmith.measure.larder import load_larder
>>> def sizes(text):
...     line = read_text(text, load_larder())
...     return [shown(one) for one in line.statements], [fault.name for fault in line.faults]
>>> sizes("2 sachets (14 g) dried yeast")
(['2 sachet', '14 gram'], [])
>>> sizes("2 tins (400 g) chopped tomatoes")
(['2 tin', '400 gram each'], ['container-size-doubtful'])
>>> sizes("1 cup caster sugar (250 ml cup)")
(['1 metric cup'], [])
>>> sizes("1 cup (250 ml) rolled oats"), sizes("3 pints (1.7 litres) stock")
((['1 metric cup', '250 millilitre'], []), (['3 imperial pint', '17/10 litre'], []))
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardsmith.finding import Severity
from cardsmith.language.faults import Fault, refused
from cardsmith.language.figures.amounts import ONE
from cardsmith.language.figures.numbers import DOZENS
from cardsmith.language.figures.unit_words import unit_at
from cardsmith.language.line.containers import PORTIONS
from cardsmith.language.line.statements import (
    Head,
    Role,
    Statement,
    bounded_alike,
    food_amount,
    is_same,
    shown,
)
from cardsmith.language.spans import Share
from cardsmith.language.tokens import Tokens
from cardsmith.measure.larder import Match, words
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.rounded import as_measured
from cardsmith.measure.units import WEIGHED, Dimension, System, Unit, unit_words, units
from cardsmith.measure.weighing import Weighing, weight_of_one, weight_of_pack
from cardsmith.reference import table

__all__ = ["counts_beside", "is_borne_out", "other_measure", "settled", "shown"]

NEAR = Fraction(1, 3)  # of the usual weight of one: common practice, no source
APART = Fraction(1, 20)  # two figures of one volume that differ by more are not of one country
MANY = 12  # pieces that are seldom weighed one by one; common practice, no source
CAN = Fraction(4, 100)  # cans of one shelf differ by so much: 14 and 14½ ounces
LEAST_PORTION = Fraction(60)  # g of fish or meat for one; common practice, no source
_AT_A_BAR = "shot"  # holds fluid ounces
_CANS = frozenset({"can", "tin"})
FITS = Fraction(6, 100)  # 600 ml, as British cards round a pint of 568 ml


def settled(head: Head, item: str, match: Match | None) -> tuple[Head, tuple[Fault, ...]]:
    """``head`` with each size as that of one or of all, and the questions that remain."""
    if len(head.statements) > 1:
        head = replace(head, statements=_bounded_alike(_of_one_country(head.statements)))
        if match is not None and match.food.state == "liquid":
            head = replace(head, statements=_poured(head.statements))
    main = head.main
    if main is None or main.quantity.high == 1 or main.quantity.dimension is not Dimension.COUNT:
        return head, ()
    unsaid = [
        statement for statement in head.statements[1:] if statement.role is Role.BESIDE and not statement.said
    ]
    measured = [statement for statement in unsaid if statement.quantity.dimension in WEIGHED]
    given = next(iter(measured if head.contained else unsaid), None)
    if given is None:
        return head, ()
    usual = _usual(match, main.quantity.unit, item)
    size, each = given.quantity, given.quantity.middle / main.quantity.middle
    if head.contained and given.share is Share.ALL and not _has_each(head):
        if size.dimension not in WEIGHED:
            return head, ()
        if usual is not None and _is_near(each, usual):
            return head, ()
        if main.quantity.high < 1:  # "half a tin (200 g)" says what goes in
            return head, (_ask(given),)
        of_one = _of_one(head, size)
        sure = usual is not None and _is_near(size.middle, usual)
        sure = sure or (main.quantity.unit.name in _CANS and _is_can(size, each, labelled=len(measured) > 1))
        return replace(head, statements=of_one), () if sure else (_ask(replace(given, share=Share.EACH)),)
    if given.share is Share.ALL and _is_portion(item, size, each):
        return replace(head, statements=_of_one(head, size)), (_ask(replace(given, share=Share.EACH)),)
    if given.share is Share.EACH and main.quantity.unit is ONE and size.dimension is Dimension.MASS:
        return _of_pieces(head, given, usual)
    return head, ()


def _of_pieces(head: Head, given: Statement, usual: Weighing | None) -> tuple[Head, tuple[Fault, ...]]:
    """``head`` with a ``given`` size before what is counted: "6 (6 oz) fillets", "3 dozen (2 lb) mussels"."""
    count, size = head.statements[0].quantity, given.quantity
    of_all = replace(
        head,
        statements=tuple(
            replace(statement, share=Share.ALL)
            if statement.share is Share.EACH and not statement.said
            else statement
            for statement in head.statements
        ),
    )
    if not DOZENS.isdisjoint(count.written.lower().rstrip(".").split()):
        return of_all, ()  # a dozen is weighed together
    if usual is None:
        return head, (_ask(given),) if count.low >= MANY else ()
    each = size.middle / count.middle
    if _is_near(each, usual):
        return (head, (_ask(given),)) if _is_near(size.middle, usual) else (of_all, ())
    if _times_off(each, usual) < _times_off(size.middle, usual):
        return of_all, (_ask(replace(given, share=Share.ALL)),)
    return head, ()


def _of_one(head: Head, size: Quantity) -> tuple[Statement, ...]:
    """The statements with each unsaid one of the dimension of ``size`` as that of one."""
    return tuple(
        replace(statement, share=Share.EACH)
        if statement.role is Role.BESIDE
        and not statement.said
        and statement.quantity.dimension is size.dimension
        else statement
        for statement in head.statements
    )


def _is_portion(item: str, size: Quantity, each: Fraction) -> bool:
    """Whether a weight is one's portion, and far too little for all: "4 salmon fillets (140 g)"."""
    portions = not PORTIONS.isdisjoint(words(item)[-1:]) and size.dimension is Dimension.MASS
    return portions and each < LEAST_PORTION <= size.middle


def _is_can(size: Quantity, each: Fraction, *, labelled: bool) -> bool:
    """Whether cans of a size are sold, and none of the share that would be one's: "2 tins (14 oz)".

    A can of 400 ml is one of 400 g; its label, ``labelled``, says both its sizes.
    """
    market = "us" if size.unit.system is System.US else "uk"
    rows = (row for row in table("edition_cans") if row["edition"] == market and not row["foods"])
    sold = [Fraction(row["grams"]) for row in rows]
    known, shared = (
        any(abs(measure / grams - 1) <= CAN for grams in sold) for measure in (size.middle, each)
    )
    return known and (labelled or not shared)


def _times_off(grams: Fraction, usual: Weighing) -> Fraction:
    """How many times too heavy or too light something is for one of a food."""
    return max(grams / usual.grams, usual.grams / grams)


def counts_beside(head: Head) -> tuple[str, ...]:
    """Other counts than the first, in words: "1 bunch (6 to 8)", "2 packs of 6"."""
    main = head.main
    if main is None or not head.counts:
        return ()
    counts = [
        statement
        for statement in head.statements[1:]
        if statement.role is Role.BESIDE
        and statement.quantity.dimension is Dimension.COUNT
        and not statement.of
        and (statement.quantity.low, statement.quantity.high) != (main.quantity.low, main.quantity.high)
    ]
    each = " each" if main.quantity.high > 1 else ""
    return tuple(
        statement.quantity.written + (each if statement.share is Share.EACH else "") for statement in counts
    )


def is_borne_out(fault: Fault, statements: tuple[Statement, ...]) -> bool:
    """Whether a doubtful unit is no doubt, since the amount is said again beside it: "5 ml (1 t) salt"."""
    if fault.name != "doubtful-unit":
        return False
    doubted = next(
        (statement for statement in statements if statement.start <= fault.start < statement.end), None
    )
    others = (statement for statement in statements if statement is not doubted)
    return doubted is not None and any(is_same(doubted.quantity, statement.quantity) for statement in others)


def _bounded_alike(statements: tuple[Statement, ...]) -> tuple[Statement, ...]:
    """What says a size again, or the total of it, with its bound: "about 250 g each (1 kg in all)"."""
    count = statements[0].quantity
    sizes = [statement.quantity for statement in statements[1:] if statement.share is Share.EACH]
    each = next((quantity for quantity in sizes if quantity.bound is not Bound.EXACTLY), None)
    if each is None or count.dimension is not Dimension.COUNT:
        return statements
    total = each.times(count.middle)
    return tuple(
        replace(statement, quantity=bounded_alike(statement.quantity, each))
        if is_same(statement.quantity, total if statement.share is Share.ALL else each)
        else statement
        for statement in statements
    )


def _has_each(head: Head) -> bool:
    return any(statement.share is Share.EACH for statement in head.statements)


def _usual(match: Match | None, unit: Unit, item: str) -> Weighing | None:
    """What one of a noun usually weighs of a food."""
    if match is None:
        return None
    if unit is not ONE:
        return weight_of_pack(match.food, unit.name)
    weighings = (weight_of_one(match.food, word) for word in (*words(item)[-1:], "one"))
    return next((weighing for weighing in weighings if weighing is not None), None)


def _is_near(grams: Fraction, usual: Weighing) -> bool:
    return usual.low * (1 - NEAR) <= grams <= usual.high * (1 + NEAR)


def _ask(statement: Statement) -> Fault:
    written = statement.quantity.written
    size = "size of one" if statement.share is Share.EACH else "amount of all"
    what, instead = f"“{written}” is read as the {size}", f"“{written} each”, or “{written} in total”"
    return refused("container-size-doubtful", statement.start, statement.end, what, instead, Severity.WARNING)


def _poured(statements: tuple[Statement, ...]) -> tuple[Statement, ...]:
    """Ounces of a liquid as fluid ounces, where the cup beside them holds so many: "1 cup (8 oz) milk"."""
    cups = [
        statement.quantity for statement in statements if statement.quantity.dimension is Dimension.VOLUME
    ]
    fluid, at_a_bar = units()["fluid ounce"], statements[0].quantity.unit.name == _AT_A_BAR
    poured_out = []
    for statement in statements:
        size = statement.quantity
        worth = fluid.size / size.unit.size
        poured = replace(size.times(worth), unit=fluid)
        fits = at_a_bar or any(abs(poured.middle / cup.middle - 1) <= APART / 2 for cup in cups if cup.middle)
        poured_out.append(
            replace(statement, quantity=poured) if size.unit.name == "ounce" and fits else statement
        )
    return tuple(poured_out)


# --- which pint ---------------------------------------------------------------------------------------


def _of_one_country(statements: tuple[Statement, ...]) -> tuple[Statement, ...]:
    """US cups and pints as those of the country whose they are, by the millilitres beside them.

    What a rounded table prints behind a metric figure is that figure. Where pounds come first, they were
    measured, and the figure behind them is held against them.
    """
    fitted = _fitted(statements)
    for place, statement in enumerate(fitted):
        if statement.quantity.unit.system is System.METRIC:
            behind = (
                replace(other, quantity=as_measured(statement.quantity, other.quantity))
                if other.share is statement.share and other.role in {Role.MAIN, Role.BESIDE}
                else other
                for other in fitted[place + 1 :]
            )
            fitted = (*fitted[: place + 1], *behind)
    return fitted


def _fitted(statements: tuple[Statement, ...]) -> tuple[Statement, ...]:
    """The statements with each US cup or pint in the unit of the country that the millilitres fit."""
    metric = next((statement.quantity for statement in statements if _is_metric(statement.quantity)), None)
    if metric is None:
        return statements
    return tuple(
        statement
        if statement.quantity.terms
        else replace(statement, quantity=_fitting(statement.quantity, metric))
        for statement in statements
    )


def _is_metric(quantity: Quantity) -> bool:
    return quantity.dimension is Dimension.VOLUME and quantity.unit.system is System.METRIC


def _fitting(quantity: Quantity, metric: Quantity) -> Quantity:
    """``quantity`` in another country's unit, where the millilitres beside it fit that and not its own."""
    unit = quantity.unit
    if unit.dimension is not Dimension.VOLUME or unit.system is not System.US or quantity.high_unit:
        return quantity
    if abs(quantity.middle / metric.middle - 1) <= APART:
        return quantity
    for system in (System.AUSTRALIAN, System.IMPERIAL):
        other = unit_words(system).get(unit.name)
        if other is None or other.unit is unit:
            continue
        factor = other.unit.size / unit.size
        if abs(quantity.middle * factor / metric.middle - 1) <= FITS:
            return replace(quantity.times(factor), unit=other.unit)
    return quantity


def other_measure(
    tokens: Tokens, inside: tuple[int, int], main: Statement, measures: System
) -> Statement | None:
    """``main`` in the measure that brackets name: "1 cup sugar (250 ml cup)"; None where they name none."""
    size = food_amount(tokens, inside[0], measures)
    said = unit_at(tokens, size.end, measures) if size else None
    if size is None or size.quantity is None or said is None or said.end != inside[1]:
        return None
    named = (unit for unit in units().values() if unit.name.endswith(f" {said.unit.name}"))
    other = next((unit for unit in named if unit.size == size.quantity.low), None)
    volume = size.quantity.dimension is Dimension.VOLUME
    if other is None or not volume or main.quantity.unit is not said.unit:
        return None
    grown = main.quantity.times(other.size / said.unit.size)
    return replace(main, quantity=replace(grown, unit=other))
