"""What a line says of itself: a letter's words, a label, a yield or a time; each with its reason."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.draft.lines import ListMark, Sort
from cardsmith.draft.sorting.blocks import Block
from cardsmith.draft.sorting.cells import headed
from cardsmith.draft.sorting.clues import FAIR, SECTIONS, SETTLED, STRONG, Clue, Surroundings
from cardsmith.draft.sorting.facts import Fact
from cardsmith.draft.sorting.words import (
    LineLabel,
    addresses,
    is_name,
    kind_words,
    label_of,
    plain,
    says,
    to_desk,
    words_in,
)
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind

SHORT_NAME = 4  # words of who sends a letter
_OF_WHOM = frozenset({"recipe", "dish"})  # "Recipe: Dorrit Marsh" says whose it is
KEYS = frozenset({"kind", "claims", "cuisine", "course", "keywords", "measures", "cautions"})


def of_letters(block: Block, around: Surroundings) -> Iterator[Clue]:
    """A letter around the recipe, and notes to the desk within it."""
    text = block.text
    short = len(words_in(text)) <= 5
    if block.first.quoted:
        yield Clue(Sort.KEPT, 3 * SETTLED, "quoted from another mail")
    if (word := addresses(text)) and (around.before is None or says(text, "greeting")):
        yield Clue(Sort.KEPT, SETTLED, f"“{word}” greets somebody")
    closing, _, name = text.partition(",")
    if (word := says(text, "closing")) or (len(name.split()) <= SHORT_NAME and says(closing, "closing")):
        yield Clue(Sort.KEPT, SETTLED, f"“{word or closing}” closes a letter")
    if around.closed and short:
        yield Clue(Sort.KEPT, SETTLED, "it stands below the closing of a letter")
    if around.signed:
        yield Clue(Sort.KEPT, SETTLED, "it stands below the mark of a signature")
    if word := to_desk(text):
        yield Clue(Sort.KEPT, SETTLED, f"“{word}” speaks to the editor")
    name = text.lstrip("-–— ")
    if around.after is None and short and is_name(name, apart=block.first.gap or name != text):
        yield Clue(Sort.KEPT, STRONG, "a name at the end")
    if text.endswith(":") and around.after is not None and around.after.first.quoted:
        yield Clue(Sort.KEPT, SETTLED, "another mail is quoted below")
    yield from _of_asides(block)


def _of_asides(block: Block) -> Iterator[Clue]:
    """What stands among the lines of a recipe and is none of them: a sum, a log, a blank, a question."""
    text = block.text
    if text.endswith("___"):
        yield Clue(Sort.KEPT, SETTLED, "a blank that nobody has filled in")
    if any(reading.kind is Kind.CLOCK and reading.start == 0 for reading in readings(text)):
        yield Clue(Sort.KEPT, STRONG, "it begins with a time of day, as a line of a log does")
    if any(says(cell, "sum") for cell in block.first.cells):
        yield Clue(Sort.KEPT, 2 * SETTLED, "it sums up the list")
    if text.startswith(("[", "((", "<<", "{{")) and text.endswith(("]", "))", ">>", "}}")):
        yield Clue(Sort.KEPT, SETTLED, "it stands in brackets, as a note to the editor does")
    elif text.startswith("(") and text.endswith(")") and "i" in words_in(text):
        yield Clue(Sort.KEPT, SETTLED, "it stands in brackets, and “I” speaks")
    spoken = bool({"i", "we", "you"} & set(words_in(text)))
    if text.endswith("?") or (spoken and "? " in text):
        yield Clue(Sort.KEPT, SETTLED if spoken else STRONG, "it asks somebody")


def of_labels(block: Block, around: Surroundings) -> Iterator[Clue]:
    """A label that says what follows it, and the label that stands above a line."""
    if block.mark is ListMark.ROW and headed(block.first.cells):
        yield Clue(Sort.LABEL, SETTLED + 2, "it names the columns of a table")
    label = label_of(block.text)
    if label is not None and label.heads in SECTIONS and block.mark is not ListMark.NUMBER:
        sure = label.colon or block.mark is ListMark.HEADING or block.text.isupper()
        weight = SETTLED + 2 if sure or len(words_in(block.text)) <= 3 else STRONG
        yield Clue(Sort.LABEL, weight, f"“{label.label}” says what follows")
    if label is not None and label.rest and not to_desk(block.text):
        yield from _of_labelled(label, around)
    under = SECTIONS.get(around.under)
    if under is not None:
        weight = STRONG if under is Sort.STORAGE else FAIR + 1
        yield Clue(under, weight, f"it stands under “{around.under}”")
    if under is Sort.STORAGE:
        yield Clue(Sort.STEP, -STRONG, f"it stands under “{around.under}”")


def _of_labelled(label: LineLabel, around: Surroundings) -> Iterator[Clue]:
    """A label with what it speaks of behind it, in one line."""
    if not label.colon:
        return
    opens, rest = label.opens, label.rest
    sure = 2 * SETTLED
    reason = f"“{label.label}:” says so"
    if opens == "title":
        names = rest.split()
        named = len(names) > 1 and all(name[:1].isupper() for name in names) and len(names) <= 4
        sure_title = plain(label.label) not in _OF_WHOM or around.begins
        yield Clue(Sort.TITLE, sure if sure_title else STRONG, reason)
        if named and not sure_title and not set(words_in(rest)) & kind_words():
            yield Clue(
                Sort.CREDIT,
                STRONG + 1 if around.under == "steps" else STRONG - 1,
                f"a name stands behind “{label.label}:”",
            )
    elif opens == "credit":
        yield Clue(Sort.CREDIT, sure, reason)
    elif opens in KEYS:
        yield Clue(Sort.LABELLED, sure, reason)
    elif opens in ("headnote", "equipment", "storage", "notes"):
        yield Clue(SECTIONS[opens], sure, reason)


def of_facts(facts: tuple[Fact, ...]) -> Iterator[Clue]:
    """How much it makes, how long it takes, who made it: a line that says nothing else."""
    if not facts:
        return
    first = facts[0]
    for sort in dict.fromkeys(fact.sort for fact in facts):
        said = f"“{first.lead}” and a number" if first.lead else "a number and what it counts"
        yield Clue(sort, SETTLED + (sort is first.sort), f"{said} say so")
