"""Ingredient lines as the recipe keeps them. What the words mean is read in `language/line`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from cardsmith.finding import Finding, Severity, Where
from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault
from cardsmith.language.figures.amounts import ONE, size_at
from cardsmith.language.line.foods import as_spice
from cardsmith.language.line.further_uses import use_in
from cardsmith.language.line.read import (
    LONGEST_LINE,
    Line,
    accounted,
    assembled,
    opening_head,
    outer_fault,
    read_text,
)
from cardsmith.language.line.statements import Head, Role, Statement
from cardsmith.language.spans import Share
from cardsmith.language.tokens import flat, tokenize
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import SIZED, WEIGHED, Dimension, System, Unit, units
from cardsmith.recipe.fields.labels import as_labelled
from cardsmith.recipe.fields.split_lines import cut_apart
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Container, Extra, Ingredient, Text
from cardsmith.regex import regex

__all__ = ["LONGEST_LINE", "read_ingredient_fields", "read_line", "read_lines"]

NOWHERE = Where(file="")
_ARTICLE = regex(r"(?i)^an?\s+")
_WHOLE = frozenset({"to taste", "divided"})
# How far two sizes on one label lie apart, the second of fluid ounces: common practice, no source.
LABEL_APART, FLUID_APART = Fraction(3, 100), Fraction(5, 100)


def read_lines(
    text: str, where: Where, larder: Larder, measures: System | str = System.US
) -> tuple[tuple[Ingredient, ...], tuple[Finding, ...]]:
    """The ingredients that ``text`` (one line, beginning at ``where``) names, and what is wrong with it.

    Several foods of one amount each ("1 tsp each cumin and coriander"), of none ("salt and pepper"), or one
    that another is mixed with (`split_lines`) are taken apart: each has the words that are its own. There is
    always an ingredient, so that one bad line never hides the others; findings of severity error say that
    its numbers must not be used.
    """
    measures = System(measures)
    line = read_text(text, larder, measures)
    if cuts := cut_apart(text, line.faults, larder, measures):
        return _apart(text, cuts, where, larder, measures)
    findings = tuple(fault.finding(where) for fault in line.faults)
    if not line.foods:
        return (ingredient_of(line, larder, where=where, text=text, measures=measures),), findings
    line = replace(
        line, statements=tuple(statement for statement in line.statements if not _is_sum(statement, line))
    )
    ingredients: list[Ingredient] = []
    start = 0
    for name in line.foods:
        # Each stands at its own word: the card keeps amounts by their place.
        start = max(text.find(name.split()[0], start), start)
        ingredients.append(replace(_one_of(line, name, larder, measures), where=where.at(start)))
        start += 1
    return tuple(ingredients), findings


def _is_sum(statement: Statement, line: Line) -> bool:
    """Whether a size is of all the foods together: "100 g each raisins and currants (200 g in total)"."""
    if line.main is None or statement is line.main or statement.share is not Share.ALL:
        return False
    whole = line.main.quantity.middle * len(line.foods)
    alike = statement.quantity.dimension is line.main.quantity.dimension
    return alike and bool(whole) and abs(statement.quantity.middle / whole - 1) <= LABEL_APART


def _apart(
    text: str, cuts: tuple[str, ...], where: Where, larder: Larder, measures: System
) -> tuple[tuple[Ingredient, ...], tuple[Finding, ...]]:
    """The ingredients of a line that was cut, each at its own place, and what is wrong with them."""
    ingredients: list[Ingredient] = []
    findings: list[Finding] = []
    start = 0
    for cut in cuts:
        start = max(text.find(cut.split()[0], start), start)
        lines, said = read_lines(cut, where.at(start), larder, measures)
        ingredients += lines
        findings += said
        start += 1
    return tuple(ingredients), tuple(findings)


def read_line(
    text: str, where: Where, larder: Larder, measures: System | str = System.US
) -> tuple[Ingredient, tuple[Finding, ...]]:
    """The one ingredient that ``text`` names; of several the first, with an error that asks for one."""
    lines, findings = read_lines(text, where, larder, measures)
    if len(lines) == 1:
        return lines[0], findings
    fault = Fault(
        name="several-foods",
        severity=Severity.ERROR,
        start=0,
        end=len(text),
        what=f"“{text.strip()}” names {len(lines)} foods",
        instead="one a line: " + ", ".join(f"“{line.text}”" for line in lines),
    )
    return replace(lines[0], text=text), (*findings, fault.finding(where))


def read_ingredient_fields(
    fields: Mapping[str, Text], where: Where, larder: Larder, measures: System | str = System.US
) -> tuple[Ingredient, tuple[Finding, ...]]:
    """The ingredient of a mapping: ``amount``, ``item``, ``prep`` and ``key`` (any may be missing).

    ``text`` of the result is the line a cook would have written. Each finding stands in its own field.
    """
    measures = System(measures)
    amount, item, prep = (fields.get(name) for name in ("amount", "item", "prep"))
    findings: list[Finding] = []
    head = Head()
    if amount is not None and amount.text.strip():
        head, faults = _whole_amount(amount.text, measures)
        findings += [fault.finding(amount.where) for fault in faults]
    written = flat(item.text) if item else ""
    if item and len(written) > LONGEST_LINE and (fault := outer_fault(written)):
        findings.append(fault.finding(item.where))
        written = written[:LONGEST_LINE]
    tokens = tokenize(written)
    line = assembled(tokens, head, larder, measures, after=(prep.text,) if prep else ())
    line = accounted(line, tokens, 0, measures)
    at = item.where if item else where
    findings += [fault.finding(at) for fault in line.faults]
    text = " ".join(part for part in (amount.text.strip() if amount else "", written.strip()) if part)
    if prep and prep.text.strip():
        text = f"{text}, {prep.text.strip()}"
    key = fields["key"].text.strip() if "key" in fields else ""
    ingredient = ingredient_of(line, larder, where=where, text=text, measures=measures, key=key)
    return ingredient, tuple(findings)


def _whole_amount(text: str, measures: System) -> tuple[Head, tuple[Fault, ...]]:
    """The statements that make up all of ``text``, without their places, or the fault of what is left."""
    tokens = tokenize(flat(text))
    head = opening_head(tokens, measures)
    if head.faults and not head.statements:
        return Head(), head.faults
    left = tokens.between(head.end, len(tokens)).strip()
    size = size_at(tokens, head.end) if head.statements and left else None
    placeless = replace(
        head,
        end=0,
        faults=(),
        size=size[0] if size else head.size,
        statements=tuple(
            replace(statement, start=0, end=min(1, statement.end - statement.start))
            for statement in head.statements
        ),
    )
    if (head.statements and not left) or left.lower() in _WHOLE or (size and size[1] == len(tokens)):
        return placeless, head.faults
    start = tokens[head.end].start if head.statements else tokens[0].start
    fault = Fault(
        name="unreadable-amount",
        severity=Severity.ERROR,
        start=start,
        end=len(text.rstrip()),
        what=f"“{left or text.strip()}” can't be read as an amount",
        instead="an amount such as 70 g or 1 1/2 cups",
    )
    return Head(), (*head.faults, fault)


# --- from statements to amounts -----------------------------------------------------------------------


@frozen(kw_only=False)
class _Size:
    """One size of a line, of all of it, and how the author gave it."""

    quantity: Quantity
    share: Share


def _one_of(line: Line, name: str, larder: Larder, measures: System) -> Ingredient:
    """One of the foods of a line that is taken apart, with the words that are its own."""
    match = as_spice(larder.find(name), line.main, line.remarks.prep, larder)
    ingredient = ingredient_of(replace(line, item=name, match=match, foods=()), larder, measures=measures)
    amount = line.main.quantity.written if line.main else ""
    prep = f", {ingredient.prep}" if ingredient.prep else ""
    return replace(ingredient, text=f"{amount} {name}{prep}".strip())


def ingredient_of(
    line: Line,
    larder: Larder,
    *,
    where: Where = NOWHERE,
    text: str = "",
    measures: System = System.US,
    key: str = "",
) -> Ingredient:
    """The ingredient that a line describes."""
    written, line = line, as_labelled(line, measures)
    sizes = tuple(_sizes(line, larder))
    truth = _truth(sizes)
    market = "eu" if measures is System.IMPERIAL else "us"
    others = tuple(size for size in sizes if size is not truth)
    match, remarks = line.match, line.remarks
    form = line.form or (match.form if match else "")
    food: Food | None = match.food if match else None
    prep = remarks.prep
    if line.squeezed:
        form = " and ".join(line.parts)
        squeezed = larder.find(f"{line.item} {line.parts[0]}") if len(line.parts) == 1 else None
        food = squeezed.food if squeezed else food
        prep = (line.squeezed[0].lower() + line.squeezed[1:], *prep)
    box = _container(line, as_labelled=line is not written)
    prep = (*prep, *_inside(line, box))
    return Ingredient(
        where=where,
        text=text,
        market=market,
        key=key,
        item=" ".join(part for part in (_described(line), line.handling, line.item) if part),
        food=food,
        sort_unknown=match is not None and (bool(match.without) or _is_part_of(line)),
        form=form,
        taken=bool(line.squeezed),
        amount=truth.quantity if truth else None,
        amount_share=truth.share if truth else Share.ALL,
        stated=tuple(other.quantity for other in others),
        stated_shares=tuple(other.share for other in others),
        container=box,
        size=line.size,
        prep=", ".join(prep),
        divided=remarks.divided,
        optional=remarks.optional,
        to_taste=remarks.to_taste,
        for_use=remarks.for_use,
        alternatives=remarks.alternatives,
        extras=tuple(_extras(prep, line, larder, measures)),
    )


def _is_part_of(line: Line) -> bool:
    """Whether a line counts something "of" its food that the food's name doesn't: a hand of bananas."""
    part, of, _ = line.item.partition(" of ")
    counted = line.main is not None and line.main.quantity.unit is ONE
    named = words(line.match.name) + words(line.match.food.name) if line.match else ()
    return bool(of) and counted and not set(words(part)[-1:]) & set(named)


def _extras(prep: tuple[str, ...], line: Line, larder: Larder, measures: System) -> Iterator[Extra]:
    """What the remarks of a line add for a use of its own, or set aside of it."""
    for text in (piece.strip() for remark in prep for piece in remark.split(",")):
        use = use_in(text, measures)
        if use is None or not _is_of(line, use.food, larder):
            continue
        sizes = tuple(
            _Size(statement.quantity, Share.ALL)
            for statement in use.statements
            if statement.share is Share.ALL
        )
        truth = _truth(sizes)
        yield Extra(amount=truth.quantity if truth else None, use=use.what, text=text, added=use.added)


def _is_of(line: Line, food: str, larder: Larder) -> bool:
    """Whether ``food``, words of a remark, is the line's own; mostly it goes without saying."""
    plain = " ".join(word for word in food.split() if not set(words(word)) <= descriptors())  # "30 g melted"
    other = larder.find(plain) if plain else None
    if other is None or line.match is None:
        return not plain
    return other.food == line.match.food


def _sizes(line: Line, larder: Larder) -> Iterator[_Size]:
    """Every size of the line's own food, of all of it, in the author's order; containers stand apart."""
    main = line.main
    if main is None:
        return
    count = main.quantity.dimension is Dimension.COUNT
    lengths = any(statement.quantity.dimension is Dimension.LENGTH for statement in line.statements)
    factor = main.quantity if count else None
    boxed = _container(line)
    for statement in line.statements:
        quantity = statement.quantity
        if statement.role not in {Role.MAIN, Role.BESIDE} or not _is_same_food(line, statement, larder):
            continue
        if quantity.dimension is Dimension.LENGTH and (count or line.noun):
            if statement is main:
                yield _Size(_one_piece(line, quantity), Share.ALL)
            continue
        if statement is not main and statement.share is Share.EACH and factor is not None:
            total = _times(factor, quantity)
            if quantity.dimension is Dimension.COUNT:
                factor = total
            yield _Size(replace(total, written=_written(main, statement, line)), Share.EACH)
            continue
        if factor is None and quantity.dimension is Dimension.COUNT:
            factor = quantity  # "2¼ teaspoons (one ¼-ounce envelope)"
        if statement is main and lengths and quantity.unit in (ONE, units()["piece"]):
            quantity = replace(quantity, unit=units()[SIZED])
        if statement is not main or boxed is None or boxed.each is None:
            yield _Size(quantity, Share.ALL)


def _is_same_food(line: Line, statement: Statement, larder: Larder) -> bool:
    """Whether what a count in brackets names is the line's own food: "from 2 lemons" is not lemon juice."""
    if not statement.of or statement.role is not Role.BESIDE:
        return True
    other = larder.find(statement.of)
    return other is not None and line.match is not None and other.food is line.match.food


def _times(count: Quantity, each: Quantity) -> Quantity:
    return replace(each, low=count.low * each.low, high=count.high * each.high)


def _written(main: Statement, each: Statement, line: Line) -> str:
    """So many of one size, as an author writes it: "2 (400 g) cans"."""
    if main.quantity.unit is ONE and not line.noun:
        return each.quantity.written
    word = main.quantity.unit.name if main.quantity.high <= 1 else main.quantity.unit.plural
    return f"{main.quantity.written.split()[0]} ({each.quantity.written}) {word}"


def _truth(sizes: tuple[_Size, ...]) -> _Size | None:
    """The weight where one was written, else the volume, else the first."""
    for dimension in (Dimension.MASS, Dimension.VOLUME):
        for size in sizes:
            if size.quantity.dimension is dimension and not size.quantity.is_vague:
                return size
    return sizes[0] if sizes else None


def _container(line: Line, *, as_labelled: bool = False) -> Container | None:
    """So many of a noun, and what each of them holds."""
    main = line.main
    if main is None or main.quantity.dimension is not Dimension.COUNT:
        return None
    inner = Fraction(1)
    sizes: list[Quantity] = []
    for statement in line.statements[1:]:
        if statement.share is not Share.EACH or statement.role is not Role.BESIDE:
            continue
        if statement.quantity.dimension is Dimension.COUNT:
            inner *= statement.quantity.low
        elif statement.quantity.dimension in WEIGHED:
            sizes.append(statement.quantity if inner == 1 else statement.quantity.times(inner))
    holds = main.quantity.unit.system is System.CONTAINER
    if not sizes and not holds:
        return None
    word = "" if main.quantity.unit is ONE else main.quantity.unit.name
    each = sizes[0] if sizes else None
    labels = tuple(_labels(sizes))
    return Container(count=main.quantity, word=word, each=each, said=labels, as_labelled=as_labelled)


def _labels(sizes: list[Quantity]) -> Iterator[Quantity]:
    """The further ``sizes`` of one that its label may have beside the first; no measure of what is in it."""
    for size in sizes[1:]:
        fluid = size.dimension is not sizes[0].dimension  # the ounces of 28 oz/796 ml are fluid ones
        if abs(size.middle / sizes[0].middle - 1) <= (FLUID_APART if fluid else LABEL_APART):
            yield size


def _inside(line: Line, box: Container | None) -> tuple[str, ...]:
    """What an author says a can with a label gives: 1 (15-oz) can beans (about 1½ cups)."""
    if box is None or box.each is None:
        return ()
    further = [statement.quantity for statement in line.statements[2:] if statement.role is Role.BESIDE]
    return tuple(
        size.written.rstrip(".")
        for size in further
        if size.dimension is Dimension.VOLUME
        and box.each.dimension is Dimension.MASS
        and size not in box.said
    )


def _one_piece(line: Line, length: Quantity) -> Quantity:
    """A piece known by its length alone, as one."""
    unit = _piece_of(line.noun)
    return Quantity(low=Fraction(1), high=Fraction(1), unit=unit, written=f"{length.written} {line.noun}")


def _piece_of(noun: str) -> Unit:
    """The unit that a counted noun names; what has no size of its own is a piece, as a length of it is."""
    named = next((unit for unit in units().values() if noun.lower() in {unit.name, unit.plural}), None)
    is_size = named is not None and named.name not in {"length", "piece"} and named.system is not System.VAGUE
    return named if named is not None and is_size else units()[SIZED]


def _described(line: Line) -> str:
    """Pieces of one length: it stays with the food's words, since no weight follows from it."""
    length = next(
        (statement for statement in line.statements if statement.quantity.dimension is Dimension.LENGTH), None
    )
    if length is None or line.main is None or not (line.noun or length is not line.main):
        return ""
    if length is not line.main and length.share is not Share.EACH:
        return ""
    noun = f" {line.noun}" if line.noun and _piece_of(line.noun).name == SIZED else ""
    return f"({_ARTICLE.sub('', length.quantity.written)}){noun}"
