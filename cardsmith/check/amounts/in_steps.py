"""Amounts typed into the running text of a step, held against the list."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from cardsmith.check.amounts.taken_by_steps import Taken, in_line, is_single, taken
from cardsmith.check.fields import steps
from cardsmith.check.line_facts import sizes
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.spans import Kind
from cardsmith.last_result import remembered
from cardsmith.measure.larder import words
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension
from cardsmith.recipe.mentions.mentions import How
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Ingredient, Recipe, Text
from cardsmith.regex import regex

SAME = Fraction(5, 100)  # two figures this close are one
SAME_WEIGHED = Fraction(7, 100)  # and so are a spoon and its weight: common practice, no source
REST = regex(  # somewhere more of it may go in
    r"\b(?:the rest|rest of|remain\w*|left[- ]?over|reserved?|repeat\w*|everything|all (?:the|other)"
    r"|ingredients)\b(?!-)",
    re.IGNORECASE,
)
MORE = regex(  # of the food that a sentence names
    r"\b(?:again|twice|more|extra|half|halves|thirds?|quarters?)\b(?!-)", re.IGNORECASE
)
PORTIONWISE = regex(
    r"\b(?:(?<!spoonful )(?<!little )(?<!bit )at a time|each|every|per|batch(?:es)?"
    r"|additions?|at once|pairs|apiece)\b",
    re.IGNORECASE,
)
NOT_ALL = regex(r"\b(?:another|first|about|some|least|up to)\b[^,;.]*$", re.IGNORECASE)  # about 2 tbsp of
ALTERED = regex(  # weighed again, after it has lost or taken up water, or its peel
    r"\b(?:cooked|drained|mashed|pur[eé]ed|soaked|strained|reduced|whipped|popped|peeled|prepared|pitted|grated"
    r"|chopped|sifted|boiled|toasted|roasted) (?:\w+ )?$",
    re.IGNORECASE,
)
GIVEN = regex(  # what comes of the work, and no amount of the list: "measure 750 ml of juice"
    r"\b(?:measure(?: out)?|you(?:['’]ll|['’]d| (?:should|will|need|end up))|(?:should|will) (?:have|give|be)"
    r"|gives?|yields?|makes?)\b[^.;]*$",
    re.IGNORECASE,
)
KEPT = regex(  # what an earlier step has put by: "the 120 ml yogurt kept for serving"
    r"\W*(?:that )?(?:you )?(?:have )?(?:kept|reserved|saved|set aside|put by|held back)\b", re.IGNORECASE
)
LEFT_IN_THE_PAN = regex(  # what is not poured off is what the food gave, and no amount of the list
    r"\b(?:pour|drain|spoon|skim|ladle|tip|wipe|discard|remove)\b[^.;]*\ball but\b[^.;]*$", re.IGNORECASE
)
HERE_ENDS = regex(  # what may follow a noun that is not the first half of another
    r"\s*(?:$|[,.;:()–-]|(?:a|and|are|as|at|by|cut|for|from|if|in|into|is|lightly|on|onto|one|or|over|so|then"
    r"|through|to|together|under|until|well|while|with)\b)",
    re.IGNORECASE,
)
WHOLE = regex(r"\b(?:the|all|all the|all of the) $", re.IGNORECASE)
BOTH = regex(r"\bboth (?P<between>(?:[a-z-]+ ){0,3})$", re.IGNORECASE)
BETWEEN = regex(r" (?:[a-z-]+ ){0,3}", re.IGNORECASE)  # a count and the name of what is counted


@check(
    "prose-amount-disagrees",
    Severity.ERROR,
    why="The cook has weighed out what the list says, and the step asks for something else.",
    source="the recipe's own figures",
    remedy="write the same amount in both, or leave it out of the step",
)
def prose_amount_disagrees(subject: Subject) -> Iterator[Query]:
    """The steps name amounts of a food that are more than the list holds, or that leave some of it over."""
    for place, line in enumerate(subject.recipe.ingredients):
        disagreement = _disagreement(subject, place, line)
        if disagreement is not None:
            spot, what = disagreement
            yield query(spot, f"{what}, the list has “{line.text}”")


@check(
    "loose-amount",
    Severity.NOTE,
    why="A figure typed into a step stays behind when the list is changed or the recipe is scaled.",
    source=PRACTICE,
    remedy="give the line a key and draw it by a link: [60 g](#milk) of the milk",
)
def loose_amount(subject: Subject) -> Iterator[Query]:
    """A step measures a listed food, and no link ties the figure to the list."""
    for place, line in enumerate(subject.recipe.ingredients):
        loose = next((use for use in taken(subject, place) if use.amount and is_single(subject, use)), None)
        if loose is None or loose.amount is None or line.amount is None:
            continue
        if _disagreement(subject, place, line) is None:
            written = loose.amount.written
            key = line.key or words(line.item)[-1]
            first = "" if line.key else f"write the line as {{key: {key}, amount: …, item: …}}, and "
            yield query(
                loose.step.spot(written),
                f"step {loose.number} takes {written} of the {line.item}, and nothing ties that to the list",
                f"{first}in the step [{written}](#{key})",
            )


def _disagreement(subject: Subject, place: int, line: Ingredient) -> tuple[Text, str] | None:
    """Where the steps take another amount than the list has, and what; None where no difference is sure."""
    if line.for_use or line.amount is None or line.amount.is_vague:
        return None
    uses = taken(subject, place)
    extra = _of_extras(line, uses)
    uses = tuple(use for at, use in enumerate(uses) if at not in extra)
    uses = tuple(use for use in uses if not (LEFT_IN_THE_PAN.search(use.before) or GIVEN.search(use.before)))
    uses = tuple(use for use in uses if not KEPT.match(use.after))
    used = Fraction(0)
    for use in uses:
        if not is_single(subject, use) or ALTERED.search(use.before):
            return None
        pair = in_line(line, use.amount) if use.amount else None
        if use.amount and pair:
            part, whole = pair
            more, slack, unit = _besides(line, use.amount), _slack(line, use.amount), use.amount.unit
            used = part if line.key else used + part  # the draws of a keyed line are reckoned by themselves
            all_of_it = f"the {use.amount.written}" in use.before
            bought = line.food is None or line.food.key not in ("water", "ice") or all_of_it
            off = all_of_it and all(abs(part - lot) > lot * slack for lot in (whole, more, whole + more))
            if (bought and used > (whole + more) * (1 + slack)) or off:
                summed = used > part and _slack(line, use.amount) == SAME
                in_all = f", {number(unit.from_base(used))} {unit.symbol} in all" if summed else ""
                return _says(use, f"{use.amount.written} of the {use.name}{in_all}")
        elif count := _count(line, use, alone=len(uses) == 1):
            return _says(use, f"{count} {use.name}")
    return _left(subject, line, uses)


def _besides(line: Ingredient, amount: Quantity) -> Fraction:
    """What a line lists beyond its amount, in the measure of ``amount``: "plus 10 g for the tin"."""
    added = (extra.amount for extra in line.extras if extra.added and extra.amount)
    return sum((pair[1] for quantity in added if (pair := _alike(line, quantity, amount))), Fraction(0))


def _alike(line: Ingredient, quantity: Quantity, amount: Quantity) -> tuple[Fraction, Fraction] | None:
    """``amount`` and another amount of the same line in one measure: that in which `in_line` compares."""
    return in_line(replace(line, amount=quantity, stated=(), container=None), amount)


def _of_extras(line: Ingredient, uses: Sequence[Taken]) -> frozenset[int]:
    """Which mentions take what the line adds for a use of its own: each extra is taken once."""
    extra_uses: set[int] = set()
    for extra in line.extras:
        for place, use in enumerate(uses):
            if place in extra_uses or extra.amount is None or use.amount is None:
                continue
            pair = _alike(line, extra.amount, use.amount)
            if extra.added and pair and abs(pair[0] - pair[1]) <= SAME_WEIGHED * pair[1]:
                extra_uses.add(place)
                break
    return frozenset(extra_uses)


def _slack(line: Ingredient, amount: Quantity) -> Fraction:
    """How far off two figures for the same may be."""
    return SAME if any(size.dimension is amount.dimension for size in sizes(line)) else SAME_WEIGHED


def _says(use: Taken, asked: str) -> tuple[Text, str]:
    return use.step.spot(asked.partition(" of the ")[0]), f"step {use.number} takes {asked}"


@remembered
def _leaves_a_rest(recipe: Recipe) -> bool:
    """Whether any step speaks of a rest."""
    return any(REST.search(step.text) for step in steps(recipe))


def _left(subject: Subject, line: Ingredient, uses: Sequence[Taken]) -> tuple[Text, str] | None:
    """Amounts at every mention of a line that come to less than it holds, and no word of a rest."""
    if line.key or line.optional or not uses or any(use.mention.how is How.CUE for use in uses):
        return None
    near = [use.before + use.after for use in uses]
    if _leaves_a_rest(subject.recipe) or any(
        PORTIONWISE.search(phrase) or MORE.search(phrase) for phrase in near
    ):
        return None
    if any(NOT_ALL.search(use.before) for use in uses):
        return None
    pairs = [(use.amount, in_line(line, use.amount)) for use in uses if use.amount]
    known = [(amount, pair) for amount, pair in pairs if pair]
    if len(known) < len(uses):
        return None
    used, whole = sum((pair[0] for _, pair in known), Fraction(0)), known[0][1][1]
    if line.amount is not None and line.amount.is_range:
        whole *= line.amount.low / line.amount.high  # 3 of "3 to 4 tbsp" are enough
    if used >= whole * (1 - max(_slack(line, amount) for amount, _ in known)):
        return None
    unit = known[0][0].unit
    summed = f"{number(unit.from_base(used))} {unit.symbol}" if len(known) > 1 else known[0][0].written
    spot, says = _says(uses[-1], f"{known[-1][0].written} of the {uses[-1].name}")
    return spot, f"{says if len(known) == 1 else f'the steps take {summed} of the {uses[-1].name} in all'}"


def _count(line: Ingredient, use: Taken, *, alone: bool) -> str:
    """``the 4`` of the 3 eggs listed, or ``both``; empty where the count fits or is of something else."""
    counts = [size for size in sizes(line) if size.dimension is Dimension.COUNT and not size.is_vague]
    unit = counts[0].unit.name if counts else line.container.word if line.container else ""
    counted = _counted(use) if unit and use.mention.how is How.NAME else None
    if counted is None:
        return ""
    between = set(words(counted.between)) - (descriptors() - {unit}) - {"of", "the"}
    after = re.sub(rf"^ {re.escape(unit)}e?s?\b", "", use.after)
    named = unit == "one" or unit in between or after != use.after or unit in words(use.name)
    if not named or not between <= {unit} or not HERE_ENDS.match(after):
        return ""
    low, high = (counts[0].low, counts[0].high) if counts else _cans(line)
    whole = counted.whole and not NOT_ALL.search(use.before)
    few = alone and whole and not PORTIONWISE.search(use.before + use.after)
    return counted.text if counted.low > high or (few and counted.high < low) else ""


@frozen
class Counted:
    """A count right before a name: ``the 4 large``, ``both``."""

    text: str
    low: Fraction
    high: Fraction
    between: str
    whole: bool  # whether it says that it is all of them


def _counted(use: Taken) -> Counted | None:
    """The count that stands before a mention, with no more than three words between."""
    both = BOTH.search(use.before)
    if both is not None:
        two = Fraction(2)
        return Counted(text=both.group().strip(), low=two, high=two, between=both["between"], whole=True)
    step, start = use.step, use.mention.start
    for at, span in step.told(Kind.COUNT, use.begins, start):
        end = at + len(span.text)
        if end <= start and BETWEEN.fullmatch(step.text, end, start):
            whole = WHOLE.search(step.text, use.begins, at)
            begins = whole.start() if whole else at
            return Counted(
                text=step.text[begins:start].strip(),
                low=span.low,
                high=span.high,
                between=step.text[end:start],
                whole=whole is not None,
            )
    return None


def _cans(line: Ingredient) -> tuple[Fraction, Fraction]:
    return (line.container.count.low, line.container.count.high) if line.container else (Fraction(0),) * 2
