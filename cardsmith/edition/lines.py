"""A line of a list in an edition: as its author answered, or as the market sells what it lists.

No amount changes but where the author says so: of an egg that the market has in no size near enough the
weight is printed, which is the author's own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from cardsmith.edition.asks import asked
from cardsmith.edition.markets import Can, Market
from cardsmith.edition.names import asked_by_name, asked_of, ends_with
from cardsmith.edition.sold import (
    can_there,
    cans_sold,
    egg_size,
    is_egg,
    pack_grams,
    pack_there,
    packs,
    sheet_of_no_grade,
)
from cardsmith.edition.swaps import swapped
from cardsmith.edition.words import Change
from cardsmith.finding import Finding
from cardsmith.frozen import frozen
from cardsmith.language.declension import one as one_of
from cardsmith.measure.larder import Larder, words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension, units
from cardsmith.recipe.model import EditionAnswer, Ingredient
from cardsmith.recipe.weighed import weigh
from cardsmith.regex import regex

EUROPEAN = ("uk", "eu")
SHELLED = "weighed without shells"


@frozen
class LineThere:
    """A line in an edition: the lines in its place, and what follows for the words of the recipe."""

    lines: tuple[Ingredient, ...]
    findings: tuple[Finding, ...] = ()
    changes: tuple[Change, ...] = ()
    renamed: tuple[Change, ...] = ()  # its name wherever the recipe has it
    answered: str = ""  # the answer of the author's that it rests on


@frozen
class Editing:
    """What an edition is made by: from which market for which, and how far an amount may stand off."""

    larder: Larder
    home: Market
    market: Market
    within: Fraction  # of an egg, as of all governing foods


def line_there(line: Ingredient, answers: Iterable[EditionAnswer], made_by: Editing) -> LineThere:
    """A line of a list, or those in its place; of what has no plain swap, a question."""
    home, market = made_by.home, made_by.market
    tables = made_by.larder.tables
    known = asked_of(line.food, home, market, tables)
    no_swap = known if line.food else asked_by_name(line.item, home, market, tables)
    answer = next((other for other in answers if _means(other, line, made_by.larder)), None)
    if answer is not None:
        made = swapped(line, answer, made_by.larder, market)
        first = made.lines[0]
        new = answer.instead if first.amount is line.amount else first.item
        old = dict.fromkeys((answer.name, *(no_swap.said if no_swap else ()), *_names_within(answer.name)))
        return LineThere(
            lines=made.lines,
            findings=made.findings,
            changes=((line.text, answer.instead),) if first.amount is not line.amount else (),
            renamed=tuple((name, new) for name in old),
            answered=answer.name,
        )
    if no_swap:
        called = next((name for name in no_swap.said if name in line.item), line.item)
        asking = _asking(line, market, called, f"has no plain swap: {no_swap.why}")
        return replace(asking, renamed=tuple((name, name) for name in _names_within(line.item)))
    if sold := cans_sold(line, market):
        return _asking(
            line, market, line.item, f"is sold in cans of {sold}; say how many, and where the rest goes"
        )
    if (grade := sheet_of_no_grade(line)) and home.key != market.key:
        return _asking(line, market, line.item, f"is sold by strength, {grade}: say which")
    if can := can_there(line, market):
        return LineThere(lines=(_labelled(line, can),))
    return _pack(line, market) or _egg(line, made_by)


def _names_within(name: str) -> tuple[str, ...]:
    """By what steps may call a food, in the singular: *lima bean* for frozen baby lima beans."""
    *before, last = name.split()
    several = (*before, one_of(last))
    return tuple(" ".join(several[at:]) for at in range(len(several) - 1))


def _labelled(line: Ingredient, can: Can) -> Ingredient:
    """A can with the label that it has there, and what is left of it; it holds what the author's does."""
    if line.container is None:
        return line
    each = _grams(can.grams, can.grams)
    prep = line.prep
    if can.drained:
        left = can.drained * line.container.count.middle
        prep = _DRAINED.sub(rf"drained (about {float(left):g} g)", prep, count=1)
    return replace(line, container=replace(line.container, each=each, said=()), prep=prep)


_DRAINED = regex(r"\bdrained\b(?! weight)")


def _pack(line: Ingredient, market: Market) -> LineThere | None:
    """What is counted by the pack: by the pack that the market has, else by weight; None for no pack."""
    word = line.container.word if line.container else _counted_by(line)
    if line.food is None or line.food.key not in packs() or not word or line.amount is None:
        return None
    amount = line.amount
    pack_weight = pack_grams(line.food, amount.unit.name) if amount.dimension is Dimension.COUNT else None
    each = pack_weight or Fraction(1)
    if amount.dimension is not Dimension.MASS and pack_weight is None:
        return None
    whole = _grams(amount.low * each, amount.high * each)
    box = line.container
    size = whole.middle / box.count.middle if box and box.count.middle else whole.middle
    there = pack_there(line.food, size, market) if box else None
    if box and there:
        if there.word == word:
            return None
        sized = _grams(size, size)
        new = replace(line, amount=whole, container=replace(box, word=there.word, each=sized, said=()))
        return LineThere(lines=(new,), changes=((word, there.word),))
    bare = line.item.removeprefix(f"{word} ")
    new = replace(line, item=bare, amount=whole, container=None, stated=(), stated_shares=())
    return LineThere(lines=(new,), changes=((f"{line.item} by the {word}", f"{bare} by weight"),))


def _counted_by(line: Ingredient) -> str:
    """The word of the pack that a line counts without a container: 1 stick butter, 1 cake fresh yeast."""
    words_there = {pack.word for pack in packs().get(line.food.key, ())} if line.food else set()
    units_there = [quantity.unit.name for quantity in (line.amount, *line.stated) if quantity]
    return next((word for word in (*units_there, line.item.partition(" ")[0]) if word in words_there), "")


def _grams(low: Fraction, high: Fraction) -> Quantity:
    return Quantity(low=low, high=high, unit=units()["gram"], written=f"{float(low):g} g")


def _asking(line: Ingredient, market: Market, called: str, why: str) -> LineThere:
    finding = asked(
        line.where,
        f"in the {market.name} “{called}” {why}",
        f"what to buy there: editions: {{{market.key}: {{{called}: …}}}}, with its amount where that differs",
        line.text,
    )
    return LineThere(lines=(line,), findings=(finding,))


def _egg(line: Ingredient, made_by: Editing) -> LineThere:
    """An egg in the size that stands for the author's there, a word alone; else by weight."""
    foreign = line.market == "eu" and made_by.home.key not in EUROPEAN  # "2 UK medium eggs" of a US author
    if not line.size or foreign or not is_egg(line.food):
        return LineThere(lines=(line,))
    size = egg_size(line.size, made_by.home, made_by.market, made_by.within)
    if size == line.size:
        return LineThere(lines=(line,))
    bare = line.item.removeprefix(line.size).lstrip()
    if size is not None:
        new = replace(line, item=f"{size} {bare}", size="")
    elif (new := _by_weight(line, bare)) is line:
        return LineThere(lines=(line,))
    return LineThere(
        lines=(new,), changes=((f"{line.size} {bare}", new.item if size else f"{bare} by weight"),)
    )


def _by_weight(line: Ingredient, bare: str) -> Ingredient:
    """What its author counts, weighed by the larder in her own market; the same where that can't tell."""
    mass = weigh(line, line.amount) if line.amount else None
    if mass is None or line.amount is None or not line.amount.middle:
        return line
    each = mass.grams / line.amount.middle
    weight = _grams(line.amount.low * each, line.amount.high * each)
    whole = line.food is not None and line.food.key == "egg"
    return replace(
        line,
        item=bare,
        size="",
        amount=line.amount if line.amount.dimension is Dimension.MASS else weight,
        stated=(),
        stated_shares=(),
        prep=", ".join(filter(None, (SHELLED if whole else "", line.prep))),
    )


def _means(answer: EditionAnswer, line: Ingredient, larder: Larder) -> bool:
    """Whether an answer is about a line: it names its food, or its item."""
    answer_words = words(answer.name)
    item = words(line.item)
    if answer_words and (answer_words == item or (line.food is None and ends_with(item, answer.name))):
        return True
    match = larder.find(answer.name)
    return line.food is not None and match is not None and match.food.key == line.food.key
