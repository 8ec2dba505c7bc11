"""A line while it is read, and an amount that stands last in it, behind the food.

late     = (":" | "," | "–" | food) head [percent]         Butter (cold): 113 g · Salt 20g 2%
         | size container ("," | "x") number ["ea"]       Shallots, 5 lb tub x 2 · Flour, 50# bag, 2 ea
         | foods "," head "each"                          Cinnamon, nutmeg and cloves, ½ tsp each

>>> from cardsmith.language.tokens import tokenize
>>> rest = Rest(text="Butter (cold): 113 g", head=Head())
>>> read_last(tokenize(rest.text), rest, 0, System.US)
>>> rest.head.main.quantity.written, rest.text.strip()
('113 g', 'Butter (cold)')
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from cardsmith.language.faults import Fault
from cardsmith.language.figures.amounts import ONE, nothing, size_at
from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.numbers import ARTICLES, number_at
from cardsmith.language.line.containers import numbered_at
from cardsmith.language.line.heads import head_at
from cardsmith.language.line.numerals import is_name, is_told
from cardsmith.language.line.preparation import Piece, pieces_of
from cardsmith.language.line.second_amounts import AFTER_A_SIZE
from cardsmith.language.line.statements import Head
from cardsmith.language.tokens import DASHES, TokenKind, Tokens
from cardsmith.measure.units import WEIGHED, Dimension, System
from cardsmith.regex import regex

_MARKS = frozenset({",", ":", ".", "=", "x", "×", "(", *DASHES})
_ENDS = frozenset({"", ",", ";", "(", ")"})
_FEW_WORDS = 3  # that still describe what was counted
_PERCENT = regex(r"\s*[\d.,]+\s*%\s*")


@dataclass(slots=True, kw_only=True)
class Rest:
    """A line behind its amount while it is read: what is found in its brackets is blanked out of it."""

    text: str
    head: Head
    pieces: list[tuple[str, int]] = field(default_factory=list)  # words and where they begin
    notes: list[str] = field(default_factory=list)  # brackets that hold no amount
    uses: list[str] = field(default_factory=list)  # more of the same, with its amount
    alternatives: list[str] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    between: str = ""  # "of"
    each: bool = False  # whether the amount is that of each food

    def blank(self, start: int, end: int) -> None:
        """Take the characters from ``start`` up to ``end`` out; the others keep their places."""
        self.text = self.text[:start] + " " * (end - start) + self.text[end:]

    def part(self, place: int) -> None:
        """Set a comma at ``place``, which is blank."""
        self.text = self.text[:place] + "," + self.text[place + 1 :]


def read_last(tokens: Tokens, rest: Rest, start: int, measures: System) -> None:
    """A line that gives its amount last: "butter, 200 g", "Eggs — 3", "pork chops, 6 (225 g each)"."""
    depth = 0
    for at in range(start, len(tokens)):
        depth += {"(": 1, ")": -1}.get(tokens[at].text, 0)
        linked = tokens[at].glued and tokens[at - 1].text in DASHES and not tokens[at].is_number
        closed = depth == 1 and tokens[at - 1].text == "(" and tokens[at + 1].text == ")"  # "eggs (4)"
        figure = at > start and (depth == 0 or closed) and not linked and not is_name(tokens, at)
        late_head = _late_head(tokens, at, start, measures) if figure else None
        if late_head is None:
            continue
        first, head = late_head
        if any(statement.quantity.low <= 0 for statement in head.statements):
            rest.faults.append(nothing(tokens, at, head.end))
        else:
            rest.head = replace(head, faults=())
            rest.faults += head.faults
            _numbered(tokens, rest, start, measures)
        if _is_of_each(tokens, head.end):
            rest.each = True
            head = replace(head, end=head.end + 1 + (tokens[head.end].low == "of"))
        end = tokens[head.end - 1 + closed].end
        rest.blank(tokens[first].start, end)
        if tokens.text[end:].strip() and tokens[head.end + closed].text not in _ENDS:
            rest.part(tokens[first].start)  # the remark from the food
        return


def _is_of_each(tokens: Tokens, at: int) -> bool:
    """Whether "each" ends a line of several foods: "Cinnamon, nutmeg and cloves, ½ tsp each"."""
    at += tokens[at].low == "of"
    return tokens[at].low in {"each", "apiece"} and tokens[at + 1].text in _ENDS


def _numbered(tokens: Tokens, rest: Rest, start: int, measures: System) -> None:
    """Take the numbered can that a line begins with as what its last amount counts: "#10 can beans, 2 ea"."""
    holder = numbered_at(tokens, start, measures)
    if holder is None or rest.head.main is None or not _is_bare(rest.head):
        return
    (unit, end), number = holder
    main = replace(rest.head.main, quantity=replace(rest.head.main.quantity, unit=unit))
    rest.head = replace(rest.head, statements=(main,))
    rest.notes.append(tokens.between(start, number))
    rest.blank(tokens[start].start, tokens[end - 1].end)


def _late_head(tokens: Tokens, at: int, start: int, measures: System) -> tuple[int, Head] | None:
    """The statements at ``at``, behind the food, and where the marks before them begin."""
    begin = max(bound_behind(tokens, at, limit=False)[1], start)
    head = head_at(tokens, begin, measures)
    if head.main is None or begin == start:
        return None
    if head.main.start == head.main.end:
        boxes = _counted_behind(tokens, head, measures)
        if boxes is None:
            return None
        head = boxes
    first = begin
    while first > start and tokens[first - 1].text in _MARKS:
        first -= 1
    big = _is_bare(head) and tokens[head.end].low == "big" and tokens[head.end + 1].text in _ENDS
    if not _may_stand_last(tokens, begin, head, marked=first < begin or big):
        return None
    size = size_at(tokens, head.end) if _is_bare(head) and first < begin else None
    if size is not None and tokens[size[1]].text in _ENDS:
        head = replace(head, size=size[0], end=size[1])  # "Onions, 2 medium, chopped"
    if big:  # "Onions 2 big (250 g)"
        return first, head
    marked = first < begin and tokens[begin - 1].text != ","
    return (first, head) if _may_follow(tokens, head, marked=marked) else None


def _counted_behind(tokens: Tokens, box: Head, measures: System) -> Head | None:
    """``box``, the size of one, with the count behind it: "flour, 50 lb bag, 2 ea", "5 lb tub x 2"."""
    at = box.end
    while tokens[at].low in _MARKS:
        at += 1
    count = head_at(tokens, at, measures)
    if at == box.end or not box.contained or not _is_bare(count) or box.main is None or count.main is None:
        return None
    main = replace(count.main, quantity=replace(count.main.quantity, unit=box.main.quantity.unit))
    return replace(box, statements=(main, *box.statements[1:]), end=count.end)


def _may_follow(tokens: Tokens, head: Head, *, marked: bool) -> bool:
    """Whether what stands behind a last amount is a remark; ``marked`` is a dash or a colon before it."""
    after, left = tokens[head.end], tokens.text[tokens[head.end].start :] if head.end < len(tokens) else ""
    if not left.strip() or after.text in _ENDS or _PERCENT.fullmatch(left.lstrip(" /|")):
        return True
    if (
        _is_of_each(tokens, head.end)
        or after.text == "+"
        or after.low == "plus"
        or AFTER_A_SIZE.fullmatch(left.rstrip())
    ):
        return True
    words = next(iter(pieces_of(tokens, head.end)), Piece(0, 0))
    if any(tokens[place].kind is not TokenKind.WORD for place in range(words.first, words.end)):
        return False
    if _is_bare(head):
        return marked and words.end - words.first < _FEW_WORDS  # "Onion - 2 big, sliced"
    done = after.low.endswith("ed") or after.low == "cut"
    return done and head.main is not None and head.main.quantity.dimension in WEIGHED  # "Paneer 250 g cubed"


def _may_stand_last(tokens: Tokens, begin: int, head: Head, *, marked: bool) -> bool:
    """Whether the statements at ``begin`` are an amount that ends a line, and no part of its words."""
    assert head.main is not None  # the caller has looked
    quantity = head.main.quantity
    if quantity.dimension is Dimension.LENGTH:  # "ginger - 1-inch piece"; "beef, 1 inch thick" is a cut
        return marked and bool(head.noun)
    if tokens[begin - 1].low in {"make", "fill"} or is_told(tokens, begin, head.end):
        return False  # "enough milk to make 1 cup"; "salt to taste; I use 1 tsp"
    if tokens[begin].low in ARTICLES | {"one"} and (not marked or quantity.unit is ONE):
        return False
    if quantity.dimension is Dimension.COUNT and not marked:
        number = number_at(tokens, begin)
        return tokens[begin].is_number and number is not None and head.end > number.end
    return True


def _is_bare(head: Head) -> bool:
    """Whether a head is a number without noun and size."""
    return head.main is not None and head.main.quantity.unit is ONE and len(head.statements) == 1
