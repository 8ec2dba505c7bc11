"""What speaks for a line being a title or the name of a component, by its words and by its place."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.draft.lines import ListMark, Sort
from cardsmith.draft.sorting.blocks import Block
from cardsmith.draft.sorting.clues import FAIR, SETTLED, SLIGHT, STRONG, Clue, Surroundings
from cardsmith.draft.sorting.facts import Fact, dish_and_yield, facts_of
from cardsmith.draft.sorting.readings import cooks_by, has_figure
from cardsmith.draft.sorting.words import (
    addresses,
    deed_of,
    is_capitalised,
    kind_words,
    label_of,
    part_words,
    to_desk,
    without_brackets,
    words_in,
)
from cardsmith.language.line.read import Line
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind

LONGEST_TITLE = 12  # words
LONGEST_PART = 6
SHORT_NAME = 3
_STOPS = (",", "?", ";")
_LISTED = (ListMark.BULLET, ListMark.NUMBER, ListMark.ROW)


def of_parts(block: Block, line: Line, around: Surroundings) -> Iterator[Clue]:
    """The name of a component: For the glaze, Pastry."""
    text = block.text.strip()
    text_words = words_in(text)
    if not text_words or len(text_words) > LONGEST_PART + 2 or line.main is not None or has_figure(text):
        return
    if block.mark in (ListMark.BULLET, ListMark.NUMBER) and not _is_set_off(text, around):
        return
    if label_of(text) is not None or addresses(text) or text.endswith((".", "!", "?", ",")):
        return
    if around.after is None:
        return
    yield from _of_names(block, line, around)
    yield from _of_places(block, line, around)


def _of_names(block: Block, line: Line, around: Surroundings) -> Iterator[Clue]:
    """What the words of a subhead say."""
    text = block.text.strip()
    text_words = words_in(text)
    dish = bool(around.set_as) and any(word.rstrip("s") in kind_words() for word in text_words)
    named = next((word for word in text_words if {word, word.removesuffix("s")} & part_words()), "")
    leads = text_words[0] in {"for", "to"} and len(text_words) <= LONGEST_PART
    if _is_set_off(text, around):
        short = leads or named or (len(text_words) <= 3 and not _stands_first(around))
        weight = (SETTLED if short else STRONG - 1) + 2 * (text[0] in "[(")
        yield Clue(Sort.PART, weight, f"“{text}” heads what follows")
    elif leads and (
        text_words[:2] in (("for", "the"), ("to", "serve"), ("to", "finish"), ("for", "a")) or named
    ):
        yield Clue(Sort.PART, STRONG + 1, f"“{text_words[0]}” and a name head what follows")
    elif block.mark is ListMark.HEADING and block.first.level > max(around.top, 1):
        yield Clue(Sort.PART, STRONG, "a heading below the title's")
    elif named and len(text_words) <= 3 and not _below_rule(around) and not (dish and len(text_words) > 1):
        weight = FAIR + 1 if line.match is not None and not text.isupper() else STRONG
        yield Clue(Sort.PART, weight + block.first.gap, f"“{named}” names a component")
    elif (
        len(text_words) <= 2
        and text_words[-1] in kind_words()
        and around.list_follows
        and around.before
        and not dish
    ):
        yield Clue(Sort.PART, FAIR + block.first.gap, f"“{text_words[-1]}” may name a component")
    elif len(text_words) <= 3 and text.isupper() and not (around.capitals and block.first.gap):
        yield Clue(Sort.PART, FAIR, "a short line in capitals")


def _is_set_off(text: str, around: Surroundings) -> bool:
    """Whether marks set a name off: "Glaze:", "Glaze -", "[Glaze]"; all else in brackets is a note."""
    named = set(words_in(text)) & part_words() or (around.above_amounts)
    bracketed = text[0] + text[-1] in ("[]", "()") and bool(named) and len(words_in(text)) <= SHORT_NAME
    return bracketed or text.endswith((":", " -", " –", " —"))


def _of_places(block: Block, line: Line, around: Surroundings) -> Iterator[Clue]:
    """What the place of a subhead says: above lines that are set otherwise."""
    text_words = words_in(block.text)
    if around.repeated:
        yield Clue(Sort.PART, STRONG, "it stands above a list and above steps")
    after = around.after
    if after is None or around.before is None:
        return
    unlike = block.mark is ListMark.NONE and after.mark in _LISTED
    if after.first.gap:
        if len(text_words) <= SHORT_NAME and unlike and block.first.gap:
            yield Clue(Sort.PART, 2 * SLIGHT, "by itself, above lines that have a mark")
        return
    if len(text_words) <= 4 and unlike:
        weight = STRONG if text_words[0] == "for" else FAIR + block.first.gap
        yield Clue(Sort.PART, weight, "without a mark, above lines that have one")
    elif len(text_words) <= 3 and line.match is None and around.above_amounts:
        yield Clue(Sort.PART, FAIR + 1, "without an amount, above lines that have one")


def of_titles(block: Block, line: Line, around: Surroundings, facts: tuple[Fact, ...]) -> Iterator[Clue]:
    """The title of a recipe, by how and where it is set."""
    if facts or not _may_be_title(block, line, around):
        return
    for weight, reason in (*_by_place(block, around), *_by_words(block, around)):
        yield Clue(Sort.TITLE, weight, reason)


def _by_place(block: Block, around: Surroundings) -> Iterator[tuple[float, str]]:
    """What its place and its setting say of a title."""
    yield SLIGHT, "short, without a stop"
    heading, number = (block.mark is mark for mark in (ListMark.HEADING, ListMark.NUMBER))
    if heading:
        high = block.first.level <= max(around.top, 1)
        yield STRONG if high else SLIGHT, "a heading"
    if number:
        yield STRONG, "a number of its own, no step beside it"
    if around.set_as:
        yield SETTLED, f"{around.set_as}, as others are"
    elif without_brackets(block.text).isupper():
        strong = STRONG if block.first.gap else FAIR + 1
        yield strong if around.capitals else 2 * SLIGHT, "in capitals"
    if around.before is None or _below_rule(around):
        yield FAIR, "first in the draft" if around.before is None else "below a rule"
    elif block.first.gap:
        yield SLIGHT, "below a blank line"
    if around.list_follows:
        yield 2 * SLIGHT, "a list follows"
    if around.begins:
        yield SETTLED, "a list follows, and what stands above one"
    if _has_facts(block, around):
        yield FAIR + 1, "a yield or a time follows"
    if around.above_amounts and len(words_in(block.text)) > 1:
        yield FAIR, "without an amount, above lines that have one"
    if around.top and not heading and around.before is not None:
        yield -FAIR, "no heading, though its draft has some"


def _by_words(block: Block, around: Surroundings) -> Iterator[tuple[float, str]]:
    """What its words say of a title."""
    text = block.text.strip()
    text_words = words_in(text)
    if {text_words[-1], text_words[-1].rstrip("s")} & kind_words():
        yield 2 * SLIGHT, f"“{text_words[-1]}” names a dish"
    if (
        len(text_words) == 1
        and block.mark is ListMark.NONE
        and not text.isupper()
        and around.before is not None
    ):
        yield -2 * SLIGHT, "one word"
    if set(text_words) <= part_words() and around.before is not None:
        yield -STRONG, f"“{text_words[-1]}” names a component"
    if text_words[:2] == ("for", "the"):
        yield -STRONG, "“for the” names a component"
    if deed_of(text) and cooks_by(text):
        yield -FAIR, "it tells a cook what to do"


def _may_be_title(block: Block, line: Line, around: Surroundings) -> bool:
    text = block.text.strip()
    first = around.before is None or _below_rule(around)
    first = first or around.begins or _has_facts(block, around)
    named = first and is_capitalised(text)
    stops = _STOPS if named else (".", *_STOPS) if _stands_first(around) else (".", ":", *_STOPS)
    if not 0 < len(words_in(text)) <= LONGEST_TITLE or text.endswith(stops):
        return False
    if (
        block.mark is ListMark.NUMBER
        and not (block.first.gap and (around.list_follows or around.set_as))
        and not around.begins
    ):
        return False
    heats = any(reading.kind is Kind.TEMPERATURE for reading in readings(text))
    main = line.main
    measured = heats or (main is not None and (line.match is not None or bool(main.quantity.unit.symbol)))
    other = measured or label_of(text) is not None or to_desk(text)
    return block.mark not in (ListMark.BULLET, ListMark.ROW) and not other


def _stands_first(around: Surroundings) -> bool:
    """Whether a line is the draft's first and stands by itself."""
    return around.before is None and around.after is not None and around.after.first.gap


def _has_facts(block: Block, around: Surroundings) -> bool:
    """Whether a yield or a time stands below a line, or behind it in its row."""
    below = around.after is not None and bool(facts_of(around.after.text))
    return below or (len(block.text) < len(block.first.text) and dish_and_yield(block.first.text) is not None)


def _below_rule(around: Surroundings) -> bool:
    return around.before is not None and around.before.mark is ListMark.RULE
