"""What speaks for a line being this or that, each with its reason; read by `language/` and the larder."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.draft.lines import ListMark, Sort
from cardsmith.draft.sorting.blocks import Block
from cardsmith.draft.sorting.clues import FAIR, SETTLED, SLIGHT, STRONG, Clue, Surroundings
from cardsmith.draft.sorting.facts import Fact, facts_of
from cardsmith.draft.sorting.headings import of_parts, of_titles
from cardsmith.draft.sorting.pieces import ingredients_in
from cardsmith.draft.sorting.readings import COOKING, LEAD, cooks_by, has_figure, is_unit, line_of
from cardsmith.draft.sorting.spoken import of_facts, of_labels, of_letters
from cardsmith.draft.sorting.words import (
    deed_of,
    deeds_in,
    says,
    tools,
    words_in,
)
from cardsmith.finding import Severity
from cardsmith.language.figures.list_marks import sentence_starts
from cardsmith.language.line.read import Line
from cardsmith.language.line.statements import Statement
from cardsmith.language.prose.reading import Reading
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension
from cardsmith.regex import regex

EACH_DEED, MOST_DEEDS = 1.5, 4  # of the clauses behind the first
DAY = 86_400  # seconds
LONGEST_TEXT = 6_000  # characters
_BEHIND_TOOL = regex(r"[(,]| with | for ")  # butter for the pan
_FOODS = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.COUNT})


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
    clues = [
        *of_letters(block, around),
        *of_labels(block, around),
        *of_facts(facts),
        *_of_ingredients(block, line, facts, around, larder),
        *_of_steps(block, around),
        *_of_keeping(block),
        *_of_equipment(block, line, larder),
        *of_parts(block, line, around),
        *of_titles(block, line, around, facts),
        *_of_prose(block, around),
    ]
    return tuple(clues)


def _of_ingredients(
    block: Block, line: Line, facts: tuple[Fact, ...], around: Surroundings, larder: Larder
) -> Iterator[Clue]:
    if block.mark is ListMark.HEADING or facts or block.text.endswith(":"):
        return
    pieces = ingredients_in(block.text, larder)
    if len(pieces) > 1:
        yield Clue(Sort.INGREDIENT, SETTLED, f"{len(pieces)} amounts of foods, one behind the other")
    main = line.main
    known = line.match is not None or bool(line.foods)
    text_words = words_in(block.text)
    whole = all(fault.severity is not Severity.ERROR for fault in line.faults)
    deed = deed_of(block.text)
    heats = any(reading.kind is Kind.TEMPERATURE for reading in readings(block.text))
    if (heats and main is None and not known) or says(block.text, "heat"):
        return
    amount = main is not None and _is_of_food(line, main)
    told_whole = block.text.endswith(".") or len(sentence_starts(block.text)) > 1
    amount = amount and not (deed and main and main.start >= LEAD and told_whole)
    if amount and known:
        assert main is not None
        food = line.match.food.name if line.match else "foods of the larder"
        weight = STRONG + whole if whole or len(text_words) < 14 else FAIR
        yield Clue(Sort.INGREDIENT, weight, f"“{main.quantity.written}” of {food}")
    elif amount and main is not None and line.item:
        has_unit = bool(main.quantity.unit.symbol)
        article = main.quantity.written.lower() in ("a", "an") and len(text_words) > 4
        sentence = block.text.endswith(".") and not has_unit and len(text_words) > 4
        weight = SLIGHT if article or sentence else FAIR + has_unit + whole
        yield Clue(Sort.INGREDIENT, weight, f"“{main.quantity.written}” of “{line.item[:30]}”")
    else:
        yield from _of_bare_foods(block.text, line, larder)
    if block.mark in (ListMark.BULLET, ListMark.ROW) or (block.mark is ListMark.NUMBER and around.listed):
        yield Clue(Sort.INGREDIENT, SLIGHT, "a line of a list")
    if around.listed and deed and has_figure(block.text) and not cooks_by(block.text):
        yield Clue(Sort.INGREDIENT, STRONG + FAIR, "a verb and a figure among amounts of foods")
    if len(sentence_starts(block.text)) > 1:
        yield Clue(
            Sort.INGREDIENT, -STRONG if len(text_words) > 12 or not known else -FAIR, "several sentences"
        )
    elif len(text_words) > 16 and block.text.endswith("."):
        yield Clue(Sort.INGREDIENT, -FAIR, "a long sentence")
    if deed and not amount and not known:
        yield Clue(Sort.INGREDIENT, -FAIR, f"“{deed}” tells a cook what to do")


def _of_bare_foods(text: str, line: Line, larder: Larder) -> Iterator[Clue]:
    """A line of a list without an amount that can be read."""
    text_words, deed = words_in(text), deed_of(text)
    if (line.match is not None or line.foods) and len(text_words) <= 12 and not text.endswith(("!", "?")):
        bare = larder.find(text.strip(" .")) is not None or bool(line.foods) or bool(line.remarks.prep)
        sentence = text.endswith(".") and len(text_words) > 5 and not line.foods
        food = line.match.food.name if line.match else "its foods"
        yield Clue(Sort.INGREDIENT, SLIGHT if deed or sentence else FAIR + bare, f"the larder knows {food}")
    elif _is_unitless(text, larder):
        yield Clue(Sort.INGREDIENT, STRONG, "a food of the larder, and a figure without its unit")
    elif line.remarks.to_taste or line.remarks.for_use:
        yield Clue(Sort.INGREDIENT, FAIR, "it says what it is for, as a line of a list does")
    elif len(text_words) <= 5 and not deed and not text.endswith((".", "!", "?", ":")):
        yield Clue(Sort.INGREDIENT, SLIGHT, "short, as a line of a list is")


def _is_unitless(text: str, larder: Larder) -> bool:
    """Whether a line begins with a food and a figure: salt 3, butter 100 melted."""
    text_words = text.split()
    at = next((at for at, word in enumerate(text_words) if word.isnumeric()), 0)
    return at > 0 and larder.find(" ".join(text_words[:at])) is not None


def _is_of_food(line: Line, main: Statement) -> bool:
    """Whether an amount stands where a list has it: before the food, or behind all of it; 160 C is a heat."""
    text, start, end = line.text, main.start, main.end
    heats = (reading for reading in readings(text) if reading.kind is Kind.TEMPERATURE)
    if main.quantity.dimension not in _FOODS or any(heat.start <= start < heat.end for heat in heats):
        return False
    if text[end:].startswith((".-", ".–", ".—")):
        return False  # "12.--Rye bread": the number of a recipe
    before = text[:start].strip(" -–—•*·[]xX✓☐○‣()")
    return len(words_in(before)) <= 3 or not text[end:].strip(" .;,)")


def _of_steps(block: Block, around: Surroundings) -> Iterator[Clue]:
    if block.mark is ListMark.HEADING:
        return
    if block.mark is not ListMark.NUMBER and _keeping(block.text):
        return
    text_words = words_in(block.text)
    deed = deed_of(block.text)
    kinds = {reading.kind for reading in readings(block.text)}
    yield from _of_deeds(block.text, deed)
    if around.set_as:
        yield Clue(Sort.STEP, -FAIR, f"{around.set_as}, as titles are")
    if (word := says(block.text, "heat")) and has_figure(block.text):
        yield Clue(Sort.STEP, STRONG, f"“{word}” and a figure set a heat")
    if kinds & COOKING and len(text_words) >= 3:
        yield Clue(Sort.STEP, 2 * SLIGHT, "a time or a heat to cook by")
    if block.mark is ListMark.NUMBER and not around.listed:
        yield Clue(Sort.STEP, FAIR, "it has a number, as a step has")
    if _is_told_only(block.text) and block.mark is not ListMark.NUMBER and not kinds & COOKING:
        weight = STRONG if block.first.gap else SLIGHT
        yield Clue(Sort.STEP, -weight, "no sentence begins with what a cook does")
    numbered = around.before is not None and around.before.mark is ListMark.NUMBER
    if numbered and block.mark is ListMark.NONE and block.first.gap and not deed:
        yield Clue(Sort.STEP, -FAIR, "without a number, below lines that have one")
    if block.text.endswith(".") and len(text_words) > 2:
        yield Clue(Sort.STEP, SLIGHT, "a sentence")
    elif len(text_words) <= 2 and not deed and block.mark is ListMark.NONE:
        yield Clue(Sort.STEP, -FAIR, "too short for a step")


def _of_deeds(text: str, deed: str) -> Iterator[Clue]:
    """What the verbs of a text say: the one that it begins with, and those of later clauses."""
    count = len(words_in(text))
    if deed and count >= 3:
        weight = FAIR + 1.5 if count > 3 else FAIR
        yield Clue(Sort.STEP, weight, f"“{deed}” tells a cook what to do")
    elif deed:
        yield Clue(Sort.STEP, SLIGHT + 0.5, f"“{deed}” may tell a cook what to do")
    if later := deeds_in(text)[bool(deed) :]:
        weight = EACH_DEED * min(len(later), MOST_DEEDS)
        yield Clue(Sort.STEP, weight, f"“{later[0]}” in a later clause tells a cook what to do")


def _is_told_only(text: str) -> bool:
    """Whether several sentences tell a story: none of them begins as an instruction does."""
    starts = sentence_starts(text)
    return len(starts) > 1 and not any(deed_of(text[start:]) for start in starts)


def _of_equipment(block: Block, line: Line, larder: Larder) -> Iterator[Clue]:
    """A tool or a vessel, and no food."""
    text_words = words_in(_BEHIND_TOOL.split(block.text)[0].rstrip(" ."))
    counted = words_in(line.item)[-1:] if line.match is None else ()
    if counted and counted[0] in tools(larder.tables):
        yield Clue(Sort.INGREDIENT, -FAIR, f"“{counted[0]}” is not a food")
    needed = says(block.text, "needed")
    if needed and set(words_in(block.text.rstrip("."))) & tools(larder.tables):
        yield Clue(Sort.EQUIPMENT, SETTLED, f"“{needed}” asks for a tool")
        return
    if not text_words or len(text_words) > 8 or line.match is not None or deed_of(block.text):
        return
    if len(sentence_starts(block.text)) > 1:
        return
    sized = any(reading.kind is Kind.VESSEL for reading in readings(block.text))  # a 20 cm tin
    tool = bool({text_words[-1], text_words[-1].removesuffix("s")} & tools(larder.tables))
    if tool and (sized or not is_unit(text_words[-1])):
        yield Clue(Sort.EQUIPMENT, FAIR, f"“{text_words[-1]}” is a tool")
        yield Clue(Sort.INGREDIENT, -FAIR, f"a list of foods has no “{text_words[-1]}”")


def _of_keeping(block: Block) -> Iterator[Clue]:
    """How long it keeps, and remarks to the reader."""
    if block.mark is ListMark.HEADING:
        return
    if word := _keeping(block.text):
        weight = SETTLED + 2 if block.mark is not ListMark.NUMBER else FAIR
        yield Clue(Sort.STORAGE, weight, f"“{word}” says how it keeps")
    if (word := says(block.text, "note")) and not says(block.text, "desk"):
        labelled = block.text[len(word) :].startswith(": ")
        yield Clue(Sort.NOTE, STRONG + 1 + FAIR * labelled, f"“{word}” begins a remark to the reader")


def _keeping(text: str) -> str:
    """The words that say how long a dish keeps; empty for none."""
    if word := says(text, "storage"):
        return word
    lasts = any(reading.kind is Kind.DURATION and _in_days(reading) for reading in readings(text))
    return says(text, "stored") if lasts and not deed_of(text) else ""


def _in_days(reading: Reading) -> bool:
    return any(side.unit.size >= DAY for side in reading.sides)


def _of_prose(block: Block, around: Surroundings) -> Iterator[Clue]:
    """Sentences to the reader: a headnote above the list, a remark below the method."""
    if block.mark in (ListMark.HEADING, ListMark.ROW):
        return
    text_words = words_in(block.text)
    sentences = len(sentence_starts(block.text))
    if len(text_words) > 5 or (len(text_words) > 1 and block.text.endswith((".", "!"))):
        cooks = any(reading.kind in COOKING for reading in readings(block.text))
        deeds = deeds_in(block.text)
        weight = FAIR + (sentences > 1) + (len(text_words) > 12) if around.list_follows else SLIGHT + 0.5
        yield Clue(Sort.HEADNOTE, weight, "a sentence to the reader above the list")
        weight = SLIGHT + 0.5 * block.first.gap
        if not deeds and not cooks and (word := says(block.text, "statement")):
            yield Clue(Sort.NOTE, 2 * SLIGHT, f"it tells no one what to do: “{word}”")
        if not deed_of(block.text) and (word := says(block.text, "remark")):
            yield Clue(Sort.NOTE, 2 * SLIGHT, f"“{word}” leaves it to the reader")
        yield Clue(Sort.NOTE, weight, "a sentence to the reader below the method")
