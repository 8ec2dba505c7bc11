"""One ingredient line read: what it states, which food it names, what is done to it, what it leaves open.

    line     = [bullet] ["optional"] [squeezed] head ["each"] ["of"] food tail
             | food tail [":" | "," | "–"] head                              the amount stands last
    squeezed = [words] ("juice" | "zest" …) ("of" | "from")
    tail     = { "," piece } with brackets anywhere
    piece    = size | ("plus" | "and") head use | "or" head food | preparation | remark

Each numeral lies in a statement, in a name (70 % chocolate, "00" flour), in a cut (1-inch chunks, 8 wedges)
or in a remark; one that has no such place is a fault (`numerals`). Brackets, see `statements`.

>>> from cardsmith.measure.larder import load_larder
>>> def read(text):
...     line = read_text(text, load_larder())
...     return [shown(one) for one in line.statements], line.item, [fault.name for fault in line.faults]
>>> read("1 large head cauliflower (2 to 2½ pounds), cut into 8 wedges")
(['1 head', '2-5/2 pound'], 'cauliflower', [])
>>> read("2 leeks or 1 large onion, sliced")
(['2 one', '1 one of large onion'], 'leeks', [])
>>> read("Butter (cold): 113 g"), read("caster sugar 150")
((['113 gram'], 'Butter', []), ([], 'caster sugar 150', ['number-unread']))
>>> read("2 cups flour, plus 2 Tbsp. for dusting")
(['2 cup', '2 tablespoon of for dusting'], 'flour', [])
>>> read_text("1 tsp each ground cumin, coriander and turmeric", load_larder()).foods
('ground cumin', 'ground coriander', 'ground turmeric')
"""

from __future__ import annotations

import re
from dataclasses import field, replace

from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault, fault_at, refused
from cardsmith.language.figures.amounts import nothing, size_at
from cardsmith.language.figures.draft_marks import (
    Opening,
    opening_of,
    with_round_brackets,
    without_bullet,
    without_stop,
)
from cardsmith.language.line.foods import (
    as_spice,
    in_state,
    match_of,
    named_by,
    names_in,
    noun_as_food,
    noun_as_unit,
    shared_noun,
    with_alternatives,
)
from cardsmith.language.line.heads import head_at
from cardsmith.language.line.numerals import Stretch, stretches, unread
from cardsmith.language.line.preparation import Remarks, item_and_rest, remarks_of
from cardsmith.language.line.questions import PER_SERVING, questions_of, slip_of
from cardsmith.language.line.rest import Rest, rest_of, shown
from cardsmith.language.line.statements import Head, Role, Statement
from cardsmith.language.line.unclear_sizes import counts_beside, is_borne_out, settled
from cardsmith.language.spans import Share
from cardsmith.language.tokens import TokenKind, Tokens, flat, tokenize
from cardsmith.measure.larder import Larder, Match
from cardsmith.measure.units import System
from cardsmith.regex import regex

__all__ = ["Line", "accounted", "assembled", "opening_head", "outer_fault", "read_text", "shown"]

LONGEST_LINE = 300  # characters; a longer one is a paragraph that lost its way
_PACKED = regex(r"(?:(?:firmly|tightly|well)\s+)?(?P<form>packed|spooned|scooped)\b", re.IGNORECASE)


@frozen
class Line:
    """What one ingredient line says. ``foods`` holds several where it is to be taken apart."""

    text: str
    statements: tuple[Statement, ...] = ()
    item: str = ""  # the food's words, without amount and preparation
    match: Match | None = None  # the larder's food
    foods: tuple[str, ...] = ()
    size: str = ""  # small, medium, large
    handling: str = ""  # how the cup is filled, before the unit: firmly packed
    form: str = ""  # that in one word, before or behind the food: packed
    noun: str = ""  # the counted noun as written
    squeezed: str = ""  # "finely grated zest and juice", of a counted fruit
    parts: tuple[str, ...] = ()  # zest, juice
    remarks: Remarks = field(default_factory=Remarks)
    faults: tuple[Fault, ...] = ()
    cover: tuple[Stretch, ...] = ()  # stretches that join to the text

    @property
    def main(self) -> Statement | None:
        """The first statement; None where the line gives no amount."""
        return self.statements[0] if self.statements else None


def read_text(text: str, larder: Larder, measures: System = System.US) -> Line:
    """What ``text``, one line of a list, says. It is always a line, whatever its faults."""
    plain = flat(text)
    if fault := outer_fault(plain):
        return Line(text=text, item=plain.strip()[:LONGEST_LINE], faults=(fault,), cover=_whole(plain))
    tokens = tokenize(with_round_brackets(without_stop(without_bullet(plain))), larder.tables)
    opening = opening_of(tokens)
    head = _head(tokens, opening, measures)
    if opening.squeezed and not head.statements:
        opening = Opening(at=0, optional=opening.optional)
        head = head_at(tokens, 0, measures)
    line = assembled(tokens, head, larder, measures, opening)
    read = accounted(line, tokens, head.end, measures)
    return read if read.text == text else replace(read, text=text)


def accounted(line: Line, tokens: Tokens, end: int, measures: System) -> Line:
    """``line``, whose amount ends before token ``end``, with a fault for each numeral that has no place."""
    taken = [(statement.start, statement.end) for statement in line.statements]
    taken += [(fault.start, fault.end) for fault in line.faults]
    accounts = stretches(tokens, taken, _food_end(tokens, end), measures)
    refused = any(fault.severity is Severity.ERROR for fault in line.faults)
    faults = line.faults if refused else (*line.faults, *unread(tokens.text, accounts))
    return replace(line, cover=accounts, faults=faults)


def opening_head(tokens: Tokens, measures: System) -> Head:
    """The statements that begin a text which is nothing but an amount."""
    return _head(tokens, replace(opening_of(tokens), vague=0, squeezed=""), measures)


def _whole(text: str) -> tuple[Stretch, ...]:
    return (Stretch(start=0, end=len(text)),) if text else ()


def _food_end(tokens: Tokens, at: int) -> int:
    """Where the words that name the food end: at the first comma, colon or bracket behind the amount."""
    place = next(
        (index for index in range(at, len(tokens)) if tokens[index].text in {",", "(", ";", ":"}), len(tokens)
    )
    return tokens[place].start if place < len(tokens) else len(tokens.text)


def outer_fault(text: str) -> Fault | None:
    """The fault for which a line is not read at all: it is empty, or too long."""
    if not text.strip():
        return refused("empty-line", 0, 1, "the line is empty", "an ingredient, or nothing at all")
    if len(text) <= LONGEST_LINE:
        return None
    what = f"the line has {len(text)} characters"
    long_number = re.search(r"[0-9]{13,}", text)
    if long_number:
        return refused(
            "number-too-long", *long_number.span(), what, f"one ingredient in at most {LONGEST_LINE}"
        )
    return refused(
        "line-too-long", LONGEST_LINE, len(text), what, f"one ingredient in at most {LONGEST_LINE}"
    )


def _head(tokens: Tokens, opening: Opening, measures: System) -> Head:
    """The statements at the beginning, or the fault that stands there instead."""
    if opening.vague:
        severity = Severity.NOTE if item_and_rest(tokens.text)[1] else Severity.WARNING
        what, instead = (
            "“{}” is not an amount",
            "how many, or how much",
        )  # "a little oil for the pan" needs none
        fault = fault_at(tokens, opening.at, opening.vague, "vague-count", what, instead, severity)
        return Head(end=opening.vague, faults=(fault,))
    if opening.lookalike:
        token = tokens[opening.at]
        what = f"“{token.text}” is a letter where the figure should stand"
        written = f"“1 {tokens[opening.at + 1].text}”, if that is meant"
        fault = refused("unreadable-amount", token.start, token.end, what, written)
        return Head(end=opening.at + 1, faults=(fault,))
    if _zeros(tokens, opening.at):
        return Head(end=opening.at)
    return _above_nothing(tokens, head_at(tokens, opening.at, measures), opening)


def _zeros(tokens: Tokens, at: int) -> bool:
    """A type of flour: "00 flour"."""
    zeros = tokens[at].kind is TokenKind.DIGITS and tokens[at].text.startswith("00")
    return zeros and not tokens[at + 1].glued


def _above_nothing(tokens: Tokens, head: Head, opening: Opening) -> Head:
    """``head``, or a fault where it states no more than nothing."""
    if not head.statements or not (
        opening.minus or any(statement.quantity.low <= 0 for statement in head.statements)
    ):
        return head
    first = opening.at - 1 if opening.minus else opening.at
    faults = tuple(fault for fault in head.faults if fault.name != "unreadable-amount")
    return Head(end=head.end, faults=(*faults, nothing(tokens, first, head.end)))


# --- the whole ----------------------------------------------------------------------------------------


def assembled(
    tokens: Tokens,
    head: Head,
    larder: Larder,
    measures: System,
    opening: Opening | None = None,
    after: tuple[str, ...] = (),
) -> Line:
    """Head and tail put together; ``after`` is preparation from elsewhere."""
    rest = rest_of(tokens, head, larder, measures)
    texts = [words for words, _ in rest.pieces]
    place = rest.pieces[0][1] if rest.pieces else len(tokens.text)
    names, count = _several(rest, texts, larder)
    if names:
        named = names[0]
    else:
        named, count = named_by(texts, larder)
    head, named = noun_as_food(rest.head, named, rest.between, larder)
    if slip := slip_of(tokens.text, head, named, place, larder, measures):
        rest.faults.append(slip)
        named = named[slip.end - slip.start :].strip()
        head = Head()
    item, following = item_and_rest(named)
    if names:  # "salt and pepper to taste"
        following = tuple(remark for text in texts[:count] for remark in item_and_rest(text)[1])
    head = _container_described(head)
    head, item = _sized(head, item)
    head, item, served = _per_serving(head, item)
    if rest.alternatives and (other := _other_food(head)):
        item = shared_noun(item, other, larder)
    item, instead = with_alternatives(item, larder)
    if not item and all(fault.severity is not Severity.ERROR for fault in rest.faults):
        example = "an amount and a food, such as “200 g rye flour”"
        rest.faults.append(refused("food-missing", 0, len(tokens.text), "the line names no food", example))
    match = match_of(item, head, larder)
    head, item, match = noun_as_unit(head, item, match, larder, measures)
    noted = (*head.notes, *rest.notes, *counts_beside(head))
    notes = [note for note in noted if not _repeats(note, head, match, larder)]
    remarks = remarks_of((*following, *texts[count:], *notes, *served, *rest.uses, *after))
    match = as_spice(in_state(match, item, remarks.prep, larder), head.main, remarks.prep, larder)
    if instead or rest.alternatives:
        remarks = replace(remarks, alternatives=(*instead, *rest.alternatives, *remarks.alternatives))
    if opening is not None and opening.optional:
        remarks = replace(remarks, optional=True)
    head, asked = settled(head, item, match)
    rest.faults = [fault for fault in rest.faults if not is_borne_out(fault, head.statements)]
    rest.faults += asked
    if not any(fault.severity is Severity.ERROR for fault in rest.faults):
        listed = texts if not names and count == 1 else []
        rest.faults += questions_of(tokens, head, item, listed, place, larder)
    if rest.each and not names and head.main is not None:
        rest.faults.append(_each_of_one(tokens, head.main))
    if head.note:
        remarks = replace(remarks, prep=(head.note, *remarks.prep))
    packed = next(
        (wrapped["form"].lower() for remark in remarks.prep if (wrapped := _PACKED.match(remark))), ""
    )
    return Line(
        text=tokens.text,
        statements=head.statements,
        item=item,
        match=match,
        foods=names,
        size=head.size.replace(" ", "-"),
        handling=head.handling,
        form=packed or (head.handling.split()[-1] if head.handling else ""),
        noun=head.noun,
        squeezed=opening.squeezed if opening else "",
        parts=opening.parts if opening else (),
        remarks=remarks,
        faults=tuple(rest.faults),
    )


def _each_of_one(tokens: Tokens, main: Statement) -> Fault:
    """The fault of "170 g each salmon fillets": how many, nobody says."""
    end = max(main.end, main.start + 1)
    written = main.quantity.written
    what = f"“{written} each” leaves open how many there are"
    return refused("number-unread", main.start, end, what, f"their number, as in “2 ({written}) fillets”")


def _several(rest: Rest, texts: list[str], larder: Larder) -> tuple[tuple[str, ...], int]:
    """The foods of a line that names several: each with the amount, or none with any."""
    if not texts:
        return (), 0
    if not rest.each and rest.head.statements:
        return (), 0
    bare = [item_and_rest(text)[0] for text in texts]
    names, count = names_in(bare, larder)
    if len(names) < 2 or any(fault.severity is Severity.ERROR for fault in rest.faults):
        return (), 0
    known = [larder.find(name) is not None for name in names]
    listed = count > 1 and len(names) > 2  # "salt, pepper and nutmeg"
    if not rest.each and (not all(known) or (larder.find(bare[0]) is not None and not listed)):
        return (), 0
    return names, count


def _repeats(note: str, head: Head, match: Match | None, larder: Larder) -> bool:
    """Whether a note only counts the line's own food again: "about 4 carrots" of grated carrot."""
    of = next(
        (statement.of for statement in head.statements if statement.of and note.endswith(statement.of)), ""
    )
    other = larder.find(of) if of and match else None
    return other is not None and match is not None and other.food is match.food


def _container_described(head: Head) -> Head:
    """``head`` whose size class is that of its containers, not of the food: "1 small tin tomato paste"."""
    if not (head.contained and head.size):
        return head
    sized = any(statement.share is Share.EACH for statement in head.statements)
    notes = head.notes if sized else (*head.notes, f"{head.size} {head.noun}")
    return replace(head, size="", notes=notes)


def _sized(head: Head, item: str) -> tuple[Head, str]:
    """``head`` with the size class that stands before a counted food."""
    if not head.counts:
        return head, item
    tokens = tokenize(item)
    size = size_at(tokens, 0)
    if size is None or (size[1] >= len(tokens) and not _other_food(head)):
        return head, item
    left = item[tokens[size[1]].start :] if size[1] < len(tokens) else ""
    return replace(head, size=head.size or size[0]), left


def _per_serving(head: Head, item: str) -> tuple[Head, str, tuple[str, ...]]:
    """``2 mint leaves for each drink``: a count that no batch changes is a remark, and no amount."""
    match, main = PER_SERVING.search(item), head.main
    alone = match is not None and match.end() == len(item) and len(head.statements) == 1
    if match is None or main is None or not alone or not head.counts or head.contained:
        return head, item, ()
    head = replace(head, statements=(replace(main, role=Role.FOR_USE, of=match[0]),))
    return head, item[: match.start()].strip(), (f"{main.quantity.written} {match[0]}",)


def _other_food(head: Head) -> str:
    """What the first alternative counts, without its size."""
    other = next((statement.of for statement in head.statements if statement.role is Role.ALTERNATIVE), "")
    tokens = tokenize(other)
    size = size_at(tokens, 0)
    return other[tokens[size[1]].start :] if size and size[1] < len(tokens) else other
