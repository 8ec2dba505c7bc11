"""What speaks for a line being this or that, each with its reason; read by `language/` and the larder.

Weights are common practice, no source: they were set on drafts of our own, of which tests/draft has forty.
About 6 settles a line by itself, 3 does with its neighbours' help, 1 breaks a tie.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.draft.lines import ListMark, Sort
from cardsmith.draft.sorting.blocks import Block
from cardsmith.draft.sorting.cells import headed
from cardsmith.draft.sorting.facts import Fact, facts_of
from cardsmith.draft.sorting.pieces import ingredients_in
from cardsmith.draft.sorting.readings import line_of
from cardsmith.draft.sorting.words import (
    deed_of,
    deeds_in,
    kind_words,
    label_of,
    part_words,
    says,
    tools,
    without_brackets,
    words_in,
)
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.figures.list_marks import sentence_starts
from cardsmith.language.line.read import Line
from cardsmith.language.line.statements import Statement
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension

SETTLED, STRONG, FAIR, SLIGHT = 8.0, 6.0, 3.0, 1.0
EACH_DEED, MOST_DEEDS = 1.5, 4  # of the clauses behind the first
LONGEST_TITLE = 12  # words
LONGEST_PART = 6
LONGEST_TEXT = 6_000  # characters
CENTRED = 12  # columns; no list is set in so far
_FOODS = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.COUNT})
_COOKING = frozenset({Kind.DURATION, Kind.TEMPERATURE})
SECTIONS = {  # what a label opens, and the lines that stand under it
    "ingredients": Sort.INGREDIENT,
    "steps": Sort.STEP,
    "equipment": Sort.EQUIPMENT,
    "storage": Sort.STORAGE,
    "notes": Sort.NOTE,
    "headnote": Sort.HEADNOTE,
}
KEYS = frozenset({"kind", "claims", "cuisine", "course", "keywords", "measures", "cautions"})


@frozen(kw_only=False)
class Clue:
    """That a line is of one sort: how strongly, and why."""

    sort: Sort
    weight: float
    reason: str


@frozen
class Surroundings:
    """What is known of a block from those around it, before any is sorted."""

    under: str = ""  # the label it stands under, as draft_labels.csv has it
    before: Block | None = None
    after: Block | None = None  # the next with words
    top: int = 0  # the level of the draft's first heading
    capitals: bool = False  # whether its titles are in capitals
    centred: bool = False  # whether they are set in the middle of the line
    closed: bool = False  # whether a letter's closing stands right above
    signed: bool = False  # whether the mark of a signature does
    list_follows: bool = False  # whether ingredients come before any step


def evidence(block: Block, around: Surroundings, larder: Larder) -> tuple[Clue, ...]:
    """All that speaks for or against a block being of a sort."""
    said = block.first.said
    if said is not None:
        return (Clue(said, 4 * SETTLED, "the file's own data say so"),)
    if block.mark is ListMark.RULE:
        return (Clue(Sort.KEPT, 4 * SETTLED, "a line without words"),)
    if len(block.text) > LONGEST_TEXT:
        return (Clue(Sort.KEPT, STRONG, "longer than any text of a recipe"),)
    line = line_of(block.text, larder)
    facts = facts_of(block.text)
    found = [
        *_of_letters(block, around),
        *_of_labels(block, around),
        *_of_facts(facts),
        *_of_ingredients(block, line, facts, larder),
        *_of_steps(block, line),
        *_of_keeping(block),
        *_of_equipment(block, line, larder),
        *_of_parts(block, line, around),
        *_of_titles(block, line, around, facts),
        *_of_prose(block, line),
    ]
    return tuple(found)


def _of_letters(block: Block, around: Surroundings) -> Iterator[Clue]:
    """A letter around the recipe, and notes to the desk within it."""
    text = block.text
    short = len(words_in(text)) <= 5
    if block.first.quoted:
        yield Clue(Sort.KEPT, 3 * SETTLED, "quoted from another mail")
    if (word := says(text, "greeting")) and short:
        yield Clue(Sort.KEPT, SETTLED, f"“{word}” greets somebody")
    if word := says(text, "closing"):
        yield Clue(Sort.KEPT, SETTLED, f"“{word}” closes a letter")
    if around.closed and short:
        yield Clue(Sort.KEPT, STRONG, "it stands below the closing of a letter")
    if around.signed:
        yield Clue(Sort.KEPT, SETTLED, "it stands below the mark of a signature")
    if text.endswith("___"):
        yield Clue(Sort.KEPT, SETTLED, "a blank that nobody has filled in")
    if any(one.kind is Kind.CLOCK and one.start == 0 for one in readings(text)):
        yield Clue(Sort.KEPT, STRONG, "it begins with a time of day, as a line of a log does")
    if any(says(cell, "sum") for cell in block.first.cells):
        yield Clue(Sort.KEPT, 2 * SETTLED, "it sums up the list")
    if word := says(text, "desk") or says(text.strip("-–—=_*~ "), "desk"):
        yield Clue(Sort.KEPT, SETTLED, f"“{word}” speaks to the editor")
    names = all(word[:1].isupper() for word in text.split())
    if around.after is None and block.first.gap and short and names and not text.endswith("."):
        yield Clue(Sort.KEPT, FAIR + 1, "a name at the end")
    if text.startswith(("[", "((", "<<", "{{")) and text.endswith(("]", "))", ">>", "}}")):
        yield Clue(Sort.KEPT, SETTLED, "it stands in brackets, as a note to the editor does")
    elif text.startswith("(") and text.endswith(")") and "i" in words_in(text):
        yield Clue(Sort.KEPT, SETTLED, "it stands in brackets, and “I” speaks")
    if text.endswith("?"):
        yield Clue(Sort.KEPT, STRONG, "it asks somebody")


def _of_labels(block: Block, around: Surroundings) -> Iterator[Clue]:
    if block.mark is ListMark.ROW and headed(block.first.cells):
        yield Clue(Sort.LABEL, SETTLED + 2, "it names the columns of a table")
    label = label_of(block.text)
    if label is not None and not label.rest and label.opens in SECTIONS and block.mark is not ListMark.NUMBER:
        sure = label.colon or block.mark is ListMark.HEADING or block.text.isupper()
        weight = SETTLED + 2 if sure or len(words_in(block.text)) <= 3 else FAIR
        yield Clue(Sort.LABEL, weight, f"“{label.label}” says what follows")
    if label is not None and label.rest:
        yield from _of_labelled(label.opens, label.label, label.rest, colon=label.colon)
    under = SECTIONS.get(around.under)
    if under is not None:
        yield Clue(under, FAIR + 1, f"it stands under “{around.under}”")


def _of_labelled(opens: str, label: str, rest: str, *, colon: bool) -> Iterator[Clue]:
    """A label with what it speaks of behind it, in one line."""
    if not colon:
        return
    sure = 2 * SETTLED
    reason = f"“{label}:” says so"
    if opens == "title":
        names = rest.split()
        named = len(names) > 1 and all(one[:1].isupper() for one in names) and len(names) <= 4
        yield Clue(Sort.TITLE, STRONG, reason)
        if named and not set(words_in(rest)) & kind_words():
            yield Clue(Sort.CREDIT, STRONG - 1, f"a name stands behind “{label}:”")
    elif opens == "credit":
        yield Clue(Sort.CREDIT, sure, reason)
    elif opens in KEYS:
        yield Clue(Sort.LABELLED, sure, reason)
    elif opens in ("headnote", "equipment", "storage", "notes"):
        yield Clue(SECTIONS[opens], sure, reason)


def _of_facts(facts: tuple[Fact, ...]) -> Iterator[Clue]:
    """How much it makes, how long it takes, who made it: a line that says nothing else."""
    if not facts:
        return
    first = facts[0]
    for sort in dict.fromkeys(fact.sort for fact in facts):
        yield Clue(sort, SETTLED + (sort is first.sort), f"“{first.lead}” and a number say so")


def _of_ingredients(block: Block, line: Line, facts: tuple[Fact, ...], larder: Larder) -> Iterator[Clue]:
    if block.mark is ListMark.HEADING or facts:
        return
    pieces = ingredients_in(block.text, larder)
    if len(pieces) > 1:
        yield Clue(Sort.INGREDIENT, SETTLED, f"{len(pieces)} amounts of foods, one behind the other")
    main = line.main
    known = line.match is not None or bool(line.foods)
    food = line.match.food.name if line.match else ""
    told = words_in(block.text)
    whole = all(one.severity is not Severity.ERROR for one in line.faults)
    amount = main is not None and _is_of_food(line, main)
    deed = deed_of(block.text)
    if amount and known:
        assert main is not None
        weight = STRONG + whole if whole or len(told) < 14 else FAIR
        yield Clue(Sort.INGREDIENT, weight, f"“{main.quantity.written}” of {food or 'foods of the larder'}")
    elif amount and main is not None and line.item:
        has_unit = main.quantity.dimension is not Dimension.COUNT
        article = main.quantity.written.lower() in ("a", "an") and len(told) > 4
        sentence = block.text.endswith(".") and not has_unit and len(told) > 4
        weight = SLIGHT if article or sentence else FAIR + has_unit + whole
        yield Clue(Sort.INGREDIENT, weight, f"“{main.quantity.written}” of “{line.item[:30]}”")
    elif known and len(told) <= 12 and not block.text.endswith(("!", "?")):
        bare = larder.find(block.text.strip(" .")) is not None or bool(line.foods) or bool(line.remarks.prep)
        sentence = block.text.endswith(".") and len(told) > 5 and not line.foods
        weight = SLIGHT if deed or sentence else FAIR + bare
        yield Clue(Sort.INGREDIENT, weight, f"the larder knows {food or 'its foods'}")
    elif line.remarks.to_taste or line.remarks.for_use:
        yield Clue(Sort.INGREDIENT, FAIR, "it says what it is for, as a line of a list does")
    elif len(told) <= 5 and not deed and not block.text.endswith((".", "!", "?", ":")):
        yield Clue(Sort.INGREDIENT, SLIGHT, "short, as a line of a list is")
    if block.mark in (ListMark.BULLET, ListMark.ROW):
        yield Clue(Sort.INGREDIENT, SLIGHT, "a line of a list")
    if len(sentence_starts(block.text)) > 1:
        yield Clue(Sort.INGREDIENT, -STRONG if len(told) > 12 else -FAIR, "several sentences")
    elif len(told) > 16 and block.text.endswith("."):
        yield Clue(Sort.INGREDIENT, -FAIR, "a long sentence")
    if deed and not amount and not known:
        yield Clue(Sort.INGREDIENT, -FAIR, f"“{deed}” tells a cook what to do")


def _is_of_food(line: Line, main: Statement) -> bool:
    """Whether an amount stands where a list has it: before the food, or behind all of it; 160 C is a heat."""
    text, start, end = line.text, main.start, main.end
    heats = (one for one in readings(text) if one.kind is Kind.TEMPERATURE)
    if main.quantity.dimension not in _FOODS or any(one.start <= start < one.end for one in heats):
        return False
    if text[end:].startswith((".-", ".–", ".—")):
        return False  # "12.--Rye bread": the number of a recipe
    before = text[:start].strip(" -–—•*·[]xX✓☐○‣()")
    return len(words_in(before)) <= 3 or not text[end:].strip(" .;,)")


def _of_steps(block: Block, line: Line) -> Iterator[Clue]:
    if block.mark is ListMark.HEADING:
        return
    told = words_in(block.text)
    deed = deed_of(block.text) if block.mark is ListMark.NUMBER or not says(block.text, "storage") else ""
    kinds = {one.kind for one in readings(block.text)}
    if deed and len(told) >= 3:
        weight = FAIR + 1.5 if len(told) > 3 else FAIR
        yield Clue(Sort.STEP, weight, f"“{deed}” tells a cook what to do")
    elif deed:
        yield Clue(Sort.STEP, SLIGHT + 0.5, f"“{deed}” may tell a cook what to do")
    later = deeds_in(block.text)[bool(deed) :]
    if later:
        weight = EACH_DEED * min(len(later), MOST_DEEDS)
        yield Clue(Sort.STEP, weight, f"“{later[0]}” in a later clause tells a cook what to do")
    if kinds & _COOKING and len(told) >= 3:
        yield Clue(Sort.STEP, 2 * SLIGHT, "a time or a heat to cook by")
    if block.mark is ListMark.NUMBER:
        yield Clue(Sort.STEP, FAIR, "it has a number, as a step has")
    if block.text.endswith(".") and len(told) > 2:
        yield Clue(Sort.STEP, SLIGHT, "a sentence")


def _of_equipment(block: Block, line: Line, larder: Larder) -> Iterator[Clue]:
    """A tool or a vessel, and no food."""
    told = words_in(block.text.partition("(")[0].partition(" with ")[0])
    counted = words_in(line.item)[-1:] if line.match is None else ()
    if counted and counted[0] in tools(larder.tables):
        yield Clue(Sort.INGREDIENT, -FAIR, f"“{counted[0]}” is no food")
    if not told or len(told) > 8 or line.match is not None or deed_of(block.text):
        return
    noun = told[-1].removesuffix("s") if told[-1] not in tools(larder.tables) else told[-1]
    if noun in tools(larder.tables):
        yield Clue(Sort.EQUIPMENT, FAIR, f"“{told[-1]}” is a tool")
        yield Clue(Sort.INGREDIENT, -FAIR, f"a list of foods has no “{told[-1]}”")


def _of_keeping(block: Block) -> Iterator[Clue]:
    """How long it keeps, and remarks to the reader."""
    if block.mark is ListMark.HEADING:
        return
    if word := says(block.text, "storage"):
        weight = SETTLED if block.mark is not ListMark.NUMBER else FAIR
        yield Clue(Sort.STORAGE, weight, f"“{word}” says how it keeps")
    if word := says(block.text, "note"):
        yield Clue(Sort.NOTE, STRONG + 1, f"“{word}” begins a remark to the reader")


def _of_parts(block: Block, line: Line, around: Surroundings) -> Iterator[Clue]:
    """The name of a component: For the glaze, Pastry."""
    text = block.text.strip()
    told = words_in(text)
    if not told or len(told) > LONGEST_PART + 2 or line.main is not None or _has_figure(text):
        return
    if block.mark in (ListMark.BULLET, ListMark.NUMBER) and not text.endswith(":"):
        return
    if label_of(text) is not None or says(text, "greeting") or text.endswith((".", "!", "?", ",")):
        return
    if around.after is None:
        return
    named = next((one for one in told if {one, one.removesuffix("s")} & part_words()), "")
    leads = told[0] in {"for", "to"} and len(told) <= LONGEST_PART
    if text.endswith(":"):
        weight = SETTLED if leads or named else STRONG - 1
        yield Clue(Sort.PART, weight, f"“{text}” heads what follows")
    elif leads and (told[:2] in (("for", "the"), ("to", "serve"), ("to", "finish"), ("for", "a")) or named):
        yield Clue(Sort.PART, STRONG + 1, f"“{told[0]}” and a name head what follows")
    elif block.mark is ListMark.HEADING and block.first.level > max(around.top, 1):
        yield Clue(Sort.PART, STRONG, "a heading below the title's")
    elif named and len(told) <= 3 and not _below_rule(around):
        weight = FAIR + 1 if line.match is not None else STRONG
        yield Clue(Sort.PART, weight + block.first.gap, f"“{named}” names a component")
    elif len(told) <= 2 and told[-1] in kind_words() and around.list_follows and around.before is not None:
        yield Clue(Sort.PART, FAIR + block.first.gap, f"“{told[-1]}” may name a component")
    elif len(told) <= 3 and text.isupper() and not (around.capitals and block.first.gap):
        yield Clue(Sort.PART, FAIR, "a short line in capitals")


def _of_titles(block: Block, line: Line, around: Surroundings, facts: tuple[Fact, ...]) -> Iterator[Clue]:
    text = block.text.strip()
    told = words_in(text)
    if not 0 < len(told) <= LONGEST_TITLE or facts or text.endswith((".", ":", ",", "?", ";")):
        return
    if block.mark in (ListMark.BULLET, ListMark.ROW) or (line.main is not None and line.match is not None):
        return
    if block.mark is ListMark.NUMBER and not (block.first.gap and around.list_follows):
        return
    label = label_of(text)
    if label is not None and not label.rest:
        return
    weight, why = SLIGHT, ["short, without a stop"]
    if block.mark is ListMark.HEADING and block.first.level <= max(around.top, 1):
        weight, why = weight + STRONG, ["a heading"]
    elif block.mark is ListMark.HEADING:
        weight += SLIGHT
    if block.mark is ListMark.NUMBER:
        weight, why = weight + STRONG, ["a number of its own", "no step beside it"]
    for clue in _of_setting(block, around):
        weight, why = weight + clue.weight, [*why, clue.reason]
    if around.before is None or _below_rule(around):
        weight += FAIR
        why.append("first in the draft" if around.before is None else "below a rule")
    elif block.first.gap:
        weight += SLIGHT
    if told[-1].rstrip("s") in kind_words() or told[-1] in kind_words():
        weight += 2 * SLIGHT
        why.append(f"“{told[-1]}” names a dish")
    if around.list_follows:
        weight += 2 * SLIGHT
        why.append("a list follows")
    if len(told) == 1 and block.mark is ListMark.NONE and not text.isupper() and around.before is not None:
        weight -= 2 * SLIGHT
    if deed_of(text) and _cooks(text):
        weight -= FAIR
    yield Clue(Sort.TITLE, weight, ", ".join(why))


def _of_setting(block: Block, around: Surroundings) -> Iterator[Clue]:
    """How a title is set: in capitals, in the middle of the line; surer where others are too."""
    if without_brackets(block.text).isupper():
        weight = (STRONG if block.first.gap else FAIR + 1) if around.capitals else 2 * SLIGHT
        yield Clue(Sort.TITLE, weight, "in capitals")
    if block.first.gap and around.centred and block.first.indent >= CENTRED:
        yield Clue(Sort.TITLE, STRONG, "set in the middle, as others are")


def _below_rule(around: Surroundings) -> bool:
    return around.before is not None and around.before.mark is ListMark.RULE


def _cooks(text: str) -> bool:
    return bool({one.kind for one in readings(text)} & _COOKING) or len(words_in(text)) > 5


def _of_prose(block: Block, line: Line) -> Iterator[Clue]:
    """Sentences to the reader: a headnote above the list, a remark below the method."""
    if block.mark in (ListMark.HEADING, ListMark.ROW):
        return
    told = words_in(block.text)
    sentences = len(sentence_starts(block.text))
    if len(told) > 5 or (len(told) > 1 and block.text.endswith((".", "!"))):
        weight = FAIR + (sentences > 1) + (len(told) > 12)
        if any(one.kind in _COOKING for one in readings(block.text)) and deeds_in(block.text):
            weight -= 2 * SLIGHT  # a headnote tells no one how long to bake
        yield Clue(Sort.HEADNOTE, weight, "a sentence to the reader above the list")
        yield Clue(Sort.NOTE, SLIGHT + 0.5 * block.first.gap, "a sentence to the reader below the method")


def _has_figure(text: str) -> bool:
    return any(character.isnumeric() for character in text)


def likeliest(found: tuple[Clue, ...]) -> dict[Sort, float]:
    """The weights added up by sort."""
    total: dict[Sort, Fraction | float] = {}
    for one in found:
        total[one.sort] = total.get(one.sort, 0.0) + one.weight
    return {sort: float(weight) for sort, weight in total.items()}
