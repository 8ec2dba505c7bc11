"""What speaks for a line being this or that, each with its reason; read by `language/` and the larder."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.draft.lines import ListMark, Sort
from cardsmith.draft.sorting.blocks import Block
from cardsmith.draft.sorting.clues import FAIR, SETTLED, SLIGHT, STRONG, Clue, Surroundings
from cardsmith.draft.sorting.facts import Fact, facts_of
from cardsmith.draft.sorting.pieces import ingredients_in
from cardsmith.draft.sorting.readings import line_of
from cardsmith.draft.sorting.spoken import of_facts, of_labels, of_letters
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
from cardsmith.language.figures.list_marks import sentence_starts
from cardsmith.language.line.read import Line
from cardsmith.language.line.statements import Statement
from cardsmith.language.prose.reading import Reading
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension

EACH_DEED, MOST_DEEDS = 1.5, 4  # of the clauses behind the first
LONGEST_TITLE = 12  # words
LONGEST_PART = 6
DAY = 86_400  # seconds
LONGEST_TEXT = 6_000  # characters
_FOODS = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.COUNT})
_COOKING = frozenset({Kind.DURATION, Kind.TEMPERATURE})


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
        *of_letters(block, around),
        *of_labels(block, around),
        *of_facts(facts),
        *_of_ingredients(block, line, facts, around, larder),
        *_of_steps(block, around),
        *_of_keeping(block),
        *_of_equipment(block, line, larder),
        *_of_parts(block, line, around),
        *_of_titles(block, line, around, facts),
        *_of_prose(block, around),
    ]
    return tuple(found)


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
    if around.listed and deed and _has_figure(block.text) and not _cooks(block.text):
        yield Clue(Sort.INGREDIENT, STRONG + FAIR, "a verb and a figure among amounts of foods")
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


def _of_steps(block: Block, around: Surroundings) -> Iterator[Clue]:
    if block.mark is ListMark.HEADING:
        return
    if block.mark is not ListMark.NUMBER and _keeping(block.text):
        return
    told = words_in(block.text)
    deed = deed_of(block.text)
    kinds = {one.kind for one in readings(block.text)}
    if deed and len(told) >= 3:
        weight = FAIR + 1.5 if len(told) > 3 else FAIR
        yield Clue(Sort.STEP, weight, f"“{deed}” tells a cook what to do")
    elif deed:
        yield Clue(Sort.STEP, SLIGHT + 0.5, f"“{deed}” may tell a cook what to do")
    if around.set_as:
        yield Clue(Sort.STEP, -FAIR, f"{around.set_as}, as titles are")
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
    elif len(told) <= 2 and not deed and block.mark is ListMark.NONE:
        yield Clue(Sort.STEP, -FAIR, "too short for a step")


def _of_equipment(block: Block, line: Line, larder: Larder) -> Iterator[Clue]:
    """A tool or a vessel, and no food."""
    told = words_in(block.text.partition("(")[0].partition(",")[0].partition(" with ")[0].rstrip(" ."))
    counted = words_in(line.item)[-1:] if line.match is None else ()
    if counted and counted[0] in tools(larder.tables):
        yield Clue(Sort.INGREDIENT, -FAIR, f"“{counted[0]}” is not a food")
    needed = says(block.text, "needed")
    if needed and set(words_in(block.text.rstrip("."))) & tools(larder.tables):
        yield Clue(Sort.EQUIPMENT, SETTLED, f"“{needed}” asks for a tool")
        return
    if not told or len(told) > 8 or line.match is not None or deed_of(block.text):
        return
    if len(sentence_starts(block.text)) > 1:
        return
    if {told[-1], told[-1].removesuffix("s")} & tools(larder.tables):
        yield Clue(Sort.EQUIPMENT, FAIR, f"“{told[-1]}” is a tool")
        yield Clue(Sort.INGREDIENT, -FAIR, f"a list of foods has no “{told[-1]}”")


def _of_keeping(block: Block) -> Iterator[Clue]:
    """How long it keeps, and remarks to the reader."""
    if block.mark is ListMark.HEADING:
        return
    if word := _keeping(block.text):
        weight = SETTLED if block.mark is not ListMark.NUMBER else FAIR
        yield Clue(Sort.STORAGE, weight, f"“{word}” says how it keeps")
    if word := says(block.text, "note"):
        yield Clue(Sort.NOTE, STRONG + 1, f"“{word}” begins a remark to the reader")


def _keeping(text: str) -> str:
    """The words that say how long a dish keeps; empty for none."""
    if word := says(text, "storage"):
        return word
    lasts = any(one.kind is Kind.DURATION and _in_days(one) for one in readings(text))
    return says(text, "stored") if lasts and not deed_of(text) else ""


def _in_days(reading: Reading) -> bool:
    return any(side.unit.size >= DAY for side in reading.sides)


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
    dish = bool(around.set_as) and any(one.rstrip("s") in kind_words() for one in told)
    named = next((one for one in told if {one, one.removesuffix("s")} & part_words()), "")
    leads = told[0] in {"for", "to"} and len(told) <= LONGEST_PART
    if text.endswith(":"):
        weight = SETTLED if leads or named else STRONG - 1
        yield Clue(Sort.PART, weight, f"“{text}” heads what follows")
    elif leads and (told[:2] in (("for", "the"), ("to", "serve"), ("to", "finish"), ("for", "a")) or named):
        yield Clue(Sort.PART, STRONG + 1, f"“{told[0]}” and a name head what follows")
    elif block.mark is ListMark.HEADING and block.first.level > max(around.top, 1):
        yield Clue(Sort.PART, STRONG, "a heading below the title's")
    elif named and len(told) <= 3 and not _below_rule(around) and not (dish and len(told) > 1):
        weight = FAIR + 1 if line.match is not None and not text.isupper() else STRONG
        yield Clue(Sort.PART, weight + block.first.gap, f"“{named}” names a component")
    elif len(told) <= 2 and told[-1] in kind_words() and around.list_follows and around.before and not dish:
        yield Clue(Sort.PART, FAIR + block.first.gap, f"“{told[-1]}” may name a component")
    elif len(told) <= 3 and text.isupper() and not (around.capitals and block.first.gap):
        yield Clue(Sort.PART, FAIR, "a short line in capitals")
    if around.repeated:
        yield Clue(Sort.PART, STRONG, "it stands above a list and above steps")
    if len(told) <= 4 and _is_above_marks(block, around):
        yield Clue(Sort.PART, FAIR + block.first.gap, "without a mark, above lines that have one")


def _is_above_marks(block: Block, around: Surroundings) -> bool:
    """Whether a line without a mark stands right above a list, and is not the first of its draft."""
    after = around.after
    if after is None or after.first.gap or around.before is None:
        return False
    return block.mark is ListMark.NONE and after.mark in (ListMark.BULLET, ListMark.NUMBER, ListMark.ROW)


def _of_titles(block: Block, line: Line, around: Surroundings, facts: tuple[Fact, ...]) -> Iterator[Clue]:
    text = block.text.strip()
    told = words_in(text)
    if facts or not _may_be_title(block, line, around):
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
    if around.top and block.mark is not ListMark.HEADING and around.before is not None:
        weight -= FAIR
        why.append("though its draft has headings")
    yield Clue(Sort.TITLE, weight, ", ".join(why))


def _may_be_title(block: Block, line: Line, around: Surroundings) -> bool:
    text = block.text.strip()
    if not 0 < len(words_in(text)) <= LONGEST_TITLE or text.endswith((".", ":", ",", "?", ";")):
        return False
    if block.mark is ListMark.NUMBER and not (block.first.gap and (around.list_follows or around.set_as)):
        return False
    measured = line.main is not None and line.match is not None
    return block.mark not in (ListMark.BULLET, ListMark.ROW) and not measured and label_of(text) is None


def _of_setting(block: Block, around: Surroundings) -> Iterator[Clue]:
    """How a title is set: in capitals, in the middle of the line; surer where others are too."""
    if around.set_as:
        yield Clue(Sort.TITLE, SETTLED, f"{around.set_as}, as others are")
    elif without_brackets(block.text).isupper():
        weight = (STRONG if block.first.gap else FAIR + 1) if around.capitals else 2 * SLIGHT
        yield Clue(Sort.TITLE, weight, "in capitals")


def _below_rule(around: Surroundings) -> bool:
    return around.before is not None and around.before.mark is ListMark.RULE


def _cooks(text: str) -> bool:
    return bool({one.kind for one in readings(text)} & _COOKING) or len(words_in(text)) > 5


def _of_prose(block: Block, around: Surroundings) -> Iterator[Clue]:
    """Sentences to the reader: a headnote above the list, a remark below the method."""
    if block.mark in (ListMark.HEADING, ListMark.ROW):
        return
    told = words_in(block.text)
    sentences = len(sentence_starts(block.text))
    if len(told) > 5 or (len(told) > 1 and block.text.endswith((".", "!"))):
        cooks = any(one.kind in _COOKING for one in readings(block.text))
        deeds = deeds_in(block.text)
        weight = FAIR + (sentences > 1) + (len(told) > 12) if around.list_follows else SLIGHT + 0.5
        yield Clue(Sort.HEADNOTE, weight, "a sentence to the reader above the list")
        weight = SLIGHT + 0.5 * block.first.gap
        if not deeds and not cooks and (word := says(block.text, "statement")):
            yield Clue(Sort.NOTE, 2 * SLIGHT, f"it tells no one what to do: “{word}”")
        if not deed_of(block.text) and (word := says(block.text, "remark")):
            yield Clue(Sort.NOTE, 2 * SLIGHT, f"“{word}” leaves it to the reader")
        yield Clue(Sort.NOTE, weight, "a sentence to the reader below the method")


def _has_figure(text: str) -> bool:
    return any(character.isnumeric() for character in text)
