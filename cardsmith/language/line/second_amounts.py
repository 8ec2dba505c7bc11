"""Amounts behind the food: its size said again, more for another use, something else instead; or a fault.

    size     = amount [share]                          4 fillets, 1½ lb. total · 1 goose, about 4 kg
             | amount [share]                          2 cans beans 400 g each
             | "@" amount                              2 lobsters @ 1¼ lb
             | ("/" | "=") amount                      600 g raw prawns / 21 oz
             | ("and" | "at" | "weighing") amount "each"           4 trout, gutted, weighing 300 g each
    use      = ("plus" | "and" | "reserving" | "of which" | "") head use
                                                       plus 2 tbsp for dusting · 1 cup reserved
    instead  = "or" head food                          or 1 tsp dried
    fault    = ("plus" | "and" | "+") head food        second-amount: no sum counts it
             | ("with" | "in" | "," | "") head food    several-foods: a line each

>>> from cardsmith.measure.larder import load_larder
>>> def read(text):
...     tokens = tokenize(text)
...     head = head_at(tokens, 0, System.US)
...     found = seconds_in(tokens, pieces_of(tokens, head.end), head, load_larder(), System.US)
...     return [(one.what, one.text) for one in found]
>>> read("4 salmon fillets, 1½ lb. total"), read("60g butter, plus 10g for greasing the tin")
([('size', '')], [('use', 'plus 10g for greasing the tin')])
>>> read("1 tbsp cornstarch mixed with 1 tbsp water"), read("2 eggs plus 1 yolk")
([('several-foods', '1 tbsp water')], [('second-amount', '1 yolk')])
>>> read("100 g starter, half flour and half water"), read("4 cups fruit, from about 2 quarts of berries")
([], [])
>>> read("⅔ cup lime juice, from 5 or 6 limes"), read("¼ cup lemon juice, about 2 lemons")
([], [])
>>> read("3 large egg yolks (54 g), 2 large eggs")[0][0]
'several-foods'
>>> read("15g fresh yeast or 7g dried"), read("3 limes, 2 juiced and 1 cut into wedges")
([('instead', '7g dried')], [])
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from cardsmith.frozen import frozen
from cardsmith.language.faults import Fault, fault_at
from cardsmith.language.figures.amounts import ONE
from cardsmith.language.figures.bounds import bound_behind
from cardsmith.language.figures.draft_marks import PARTS
from cardsmith.language.figures.numbers import ARTICLES, NUMBER_WORDS, Form, number_at
from cardsmith.language.line.heads import head_at
from cardsmith.language.line.numerals import is_name, is_told, says_state
from cardsmith.language.line.preparation import Piece, pieces_of
from cardsmith.language.line.statements import ALSO, Head, Role, Statement, share_at
from cardsmith.language.spans import Share
from cardsmith.language.tokens import DASHES, TokenKind, Tokens, tokenize
from cardsmith.measure.larder import Larder, words
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import WEIGHED, Dimension, System
from cardsmith.regex import regex

__all__ = ["Second", "pieces_of", "seconds_in", "tokenize"]

_BEGINS = NUMBER_WORDS | ARTICLES | {"quarter"}
_ADDING = frozenset({"plus", "and", "+", "&"})
# A part of what is listed: "reserving 1 cup", "of which 2 tbsp to finish".
KEEPING = frozenset({"reserving", "saving", "keeping", "holding", "which", "including"})
_BEFORE_ARTICLES = _ADDING | KEEPING | {"or", "with", "about", "scant", "each"}
_INTO = frozenset({"into", "in", "to", "of", "by", "at", "from", "per", "every", "until", "for", "within"})
_BEFORE_SIZES = _ADDING | _INTO | KEEPING | {"or", "with", "make", "makes", "fill", "yielding"}
_BEFORE_EACH = _ADDING | {"at", "of", "weighing"}
_VAGUE = frozenset({"few", "little", "bit", "lot", "good", "touch"})  # "a few kept back"
_USE = regex(
    r"\b(?:more|extra|additional|for|to\s+\w+|as\s+(?:needed|required)|reserved|kept\s+back|set\s+aside)\b",
    re.IGNORECASE,
)
KEPT = regex(r"\b(?:reserved|(?:kept|set|held|put)(?:\s+(?:back|aside|by))?)\b", re.IGNORECASE)
AFTER_A_SIZE = regex(  # 1.2 kg after trimming
    r"(?:(?:dressed|dry|raw|cooked|drained|net|in|trimmed|unpeeled|peeled|shelled) weight"
    r"|(?:after|before|when|once) \w+(?:ing|ed)|as purchased|edible portion|AP|EP)?",
    re.IGNORECASE,
)
_ENDS = regex(r"\s+(?:and|or|plus|with|mixed|dissolved)\s+|,", re.IGNORECASE)
_LIST = regex(r"\s*,\s*(?:and\s+)?|\s+and\s+", re.IGNORECASE)
_JOINT = regex(r"\s+(?:plus|and|\+|&)\s+", re.IGNORECASE)
_FIGURE = regex(r"[\d¼-¾⅐-⅞]")


@frozen
class Second:
    """An amount behind the food, from token ``first``, its joint included, up to ``end``."""

    what: str  # size, use, instead, or the name of a fault
    piece: int  # which
    first: int
    end: int
    after: int  # where to look for the next
    text: str
    statements: tuple[Statement, ...] = ()
    fault: Fault | None = None


def seconds_in(
    tokens: Tokens, pieces: Sequence[Piece], head: Head, larder: Larder, measures: System
) -> Iterator[Second]:
    """Every further amount in ``pieces``, the rest of a line after its ``head``."""
    for index, piece in enumerate(pieces):
        at, instead = piece.first, False
        while at < piece.end:
            token = tokens[at]
            idle = token.low in ARTICLES and at > piece.first and tokens[at - 1].low not in _BEFORE_ARTICLES
            if idle or not (token.is_number or token.low in _BEGINS or token.text == "."):
                at += 1
                continue
            number = number_at(tokens, at)
            second, passed = None, number.end if number else 0
            if number is not None and not is_name(tokens, at):
                further = _further_at(tokens, piece, index, at, head, larder, measures)
                second = _meant(further, instead=instead) if further else None
                if further and further.is_range:
                    passed = further.found.end  # "from 5 or 6 limes" offers no 6 limes instead
            if second is not None:
                yield second
                instead = instead or second.what == "instead"
            at = max(second.after if second else 0, passed, at + 1)
            if second is not None and second.fault is not None:
                return  # one fault says that the line is to be taken apart


@frozen
class _Further:
    """A further amount and the words around it, before it is clear what it is for."""

    tokens: Tokens
    piece: Piece
    index: int  # of the piece
    begin: int  # its first token, its bound included
    head: Head  # of the line
    larder: Larder
    found: Head  # its own statements
    main: Statement
    article: bool  # "a" stands for its number
    joint: str  # the word before it in its piece
    share: Share
    said: bool
    rest: str  # the words after it in its piece

    @property
    def opens(self) -> bool:
        """Whether it begins a piece behind the food."""
        return self.index > 0 and self.begin == self.piece.first

    @property
    def bare(self) -> bool:
        """Whether it is a number without a unit."""
        return self.main.quantity.unit is ONE

    @property
    def is_range(self) -> bool:
        """Whether it is two numbers: 5 or 6."""
        return self.main.quantity.low < self.main.quantity.high

    @property
    def weighed(self) -> bool:
        """Whether it is a weight, a volume or a number of containers."""
        return self.main.quantity.dimension in WEIGHED or self.found.contained

    @property
    def names_food(self) -> bool:
        """Whether a food of the larder follows it, or is its noun."""
        words_after = _ENDS.split(self.rest, maxsplit=1)[0].removeprefix("of ")
        named = self.larder.find(words_after) if words_after else None
        return named is not None or (bool(self.found.noun) and self.larder.find(self.found.noun) is not None)

    @property
    def tells_state(self) -> bool:
        """Whether nothing follows it but what of the food it is: peeled, flesh."""
        after = tokenize(self.rest)
        return says_state(after, 0, len(after))

    def second(self, what: str, statements: tuple[Statement, ...], *, first: int = -1) -> Second:
        """It as ``what``, from token ``first`` or its joint on."""
        adds = (self.joint in _ADDING | KEEPING | {"or"}) + (self.joint == "which")
        first = first if first >= 0 else max(self.begin - adds, self.piece.first)
        of = self.begin if what == "instead" else first
        return Second(
            what=what,
            piece=self.index,
            first=first,
            end=self.piece.end,
            after=self.found.end if what == "instead" else self.piece.end,
            text=" ".join(self.tokens.between(of, self.piece.end).split()),
            statements=statements,
        )

    def fault(self, name: str) -> Second:
        """It as a fault: a line of its own is missing."""
        second = self.second(name, ())
        text = " ".join(self.tokens.between(self.begin, self.piece.end).split())
        added = name == "second-amount"
        what = f"“{text}” is another food with an amount of its own"
        if added:
            what = f"“{second.text}” would be left out of every sum and every batch"
        instead = _lines(text) + (", or one amount of both" if added else "")
        fault = fault_at(self.tokens, second.first, second.end, name, what, instead)
        return replace(second, text=text, fault=fault)

    @property
    def is_size_of_uncounted(self) -> bool:
        """Whether it is a description: how large each piece is of a food that is weighed, not counted."""
        main = self.head.main
        weighed = main is not None and main.quantity.dimension in WEIGHED
        return weighed and self.share is Share.EACH and self.said

    def roles(self, role: Role, of: str) -> tuple[Statement, ...]:
        """Its statements, all with the role: what is said beside another amount is not the line's own."""
        return tuple(replace(statement, role=role, of=of) for statement in self.found.statements)


def _further_at(
    tokens: Tokens, piece: Piece, index: int, at: int, head: Head, larder: Larder, measures: System
) -> _Further | None:
    """The amount whose number stands at ``at``; None where that belongs to a name, or is a length."""
    whole = None if tokens[at].is_number else larder.find(tokens.between(piece.first, piece.end))
    if whole is not None and tokens[at].low in words(whole.name):
        return None  # "half and half" is a name
    begin = max(bound_behind(tokens, at, limit=False)[1], piece.first)
    if index == 0 and begin == piece.first and not head.statements:
        return None
    further = head_at(tokens, begin, measures)
    if further.main is None or (tokens[at].low in ARTICLES and tokens[at + 1].low in _VAGUE):
        return None
    each = tokens[begin - 1].low == "each" and begin - 1 == piece.first  # "each about 115 g"
    begin -= each
    joint = tokens[begin - 1].low if begin > piece.first else ""
    before = tokens.between(piece.first, begin).rstrip(" :")
    if not head.statements and joint not in _ADDING and larder.find(before) is None:
        return None
    number = number_at(tokens, at)
    share, said, after = (Share.EACH, True, further.end) if each else share_at(tokens, further.end, piece.end)
    return _Further(
        tokens=tokens,
        piece=piece,
        index=index,
        begin=begin,
        head=head,
        larder=larder,
        found=further,
        main=further.main,
        article=number is not None and number.form is Form.ARTICLE,
        joint=joint,
        share=share,
        said=said,
        rest=tokens.between(after, piece.end) if after < piece.end else "",
    )


def _meant(more: _Further, *, instead: bool) -> Second | None:
    """What a further amount is for; ``instead`` says that an alternative goes on in this piece."""
    if more.opens and _names_another(more):
        return more.fault("several-foods")
    if more.opens and not more.article and AFTER_A_SIZE.fullmatch(more.rest):
        if more.is_size_of_uncounted:
            return None  # 1 kg potatoes, about 100 g each
        if more.head.counts or not more.rest:
            return _size(more)
        if more.tells_state:
            return None  # 1 kg cherries, 850 g once pitted
    if (first := _size_begins(more)) is not None:
        at_each = more.joint == "@"  # 2 lobsters @ 1¼ lb
        return _size(replace(more, share=Share.EACH, said=True) if at_each else more, first)
    if more.main.quantity.dimension is Dimension.LENGTH:
        return None
    if instead and more.joint in _ADDING and (more.names_food or not more.article):
        second = more.second("instead", more.roles(Role.ALTERNATIVE, more.rest))
        return replace(second, text="")  # its words stand in those of the first
    if more.joint == "or":
        nothing = not more.rest or (more.article and not more.names_food)
        return (
            None if more.bare and nothing else more.second("instead", more.roles(Role.ALTERNATIVE, more.rest))
        )
    return _juice(more) or _use(more) or _fault(more)


def _size_begins(more: _Further) -> int | None:
    """The first token of a size within a piece; None where there is no size."""
    if more.weighed and not more.rest:
        if more.joint in ALSO | {"@"}:
            return more.begin - 1  # 600 g raw prawns / 21 oz
        if more.head.counts and more.said and more.share is Share.EACH:
            return more.begin - (more.joint in _BEFORE_EACH)  # 8 bones and about 1½ lb apiece
    alone = more.head.contained and len(more.head.statements) == 1  # 2 pouches tuna 2.6 oz each
    return more.begin if alone and _stands_last(more) else None


def _stands_last(more: _Further) -> bool:
    """Whether it is a weight or a volume right behind the food, and nothing follows."""
    behind_food = more.tokens[more.begin - 1].kind is TokenKind.WORD and more.joint not in _BEFORE_SIZES
    return more.main.quantity.dimension in WEIGHED and not more.article and behind_food and not more.rest


def _names_another(more: _Further) -> bool:
    """Whether a dash or a colon joins the amount to another food: "bay leaf - 1, cinnamon - 1 inch"."""
    mark = more.begin - 1
    if more.tokens[mark].text not in DASHES | {":"} or not more.head.statements:
        return False
    first = next((at + 1 for at in range(mark - 1, -1, -1) if more.tokens[at].text in {",", ";"}), 0)
    match = more.larder.find(more.tokens.between(first, mark)) if 0 < first < mark else None
    own = more.larder.find(more.tokens.between(0, next(iter(pieces_of(more.tokens, 0))).end))
    return match is not None and own is not None and match.food is not own.food


def _size(more: _Further, first: int | None = None) -> Second | None:
    """An amount, from token ``first`` on: the size of what is counted, or the amount said again."""
    main, quantity = more.head.main, more.main.quantity
    if more.bare or main is None or more.main.start == more.main.end:
        return None
    single = more.head.counts and main.quantity.high == 1
    each = more.share is Share.EACH or (single and not more.said) or quantity.dimension is Dimension.LENGTH
    share = Share.EACH if each and more.head.counts else Share.ALL
    statements = tuple(
        replace(size, role=Role.BESIDE, share=share, said=more.said) for size in more.found.statements
    )
    size = more.second("size", statements, first=more.piece.first if first is None else first)
    return replace(size, text=more.rest)  # "dressed weight"


def _juice(more: _Further) -> Second | None:
    """``and juice of half``, ``and 40 ml juice squeezed``: of the fruit that the line counts."""
    of_fruit = more.head.counts and more.joint in _ADDING and not more.article
    if of_fruit and more.weighed and more.tokens[more.found.end].low in PARTS:
        return more.second("use", more.roles(Role.FOR_USE, more.rest))
    place = more.begin - 2
    if more.joint != "of" or more.tokens[place].low not in PARTS or more.rest:
        return None
    adds = more.tokens[place - 1].low in _ADDING
    used = more.second(
        "use", more.roles(Role.FOR_USE, more.tokens.between(place, more.begin)), first=place - adds
    )
    return replace(used, text=more.tokens.between(place, more.piece.end))


def _use(more: _Further) -> Second | None:
    """More of the same, or a part of it, with a use of its own: "plus 2 tbsp for dusting"."""
    use = _USE.search(more.rest)
    kept = more.joint == "with" and KEPT.search(more.rest) is not None
    if use is None or not (more.joint in _ADDING | KEEPING or more.opens or kept):
        return None
    described = more.rest[: use.start()].strip()
    if _FIGURE.search(described):
        return None
    other = more.larder.find(described) if described else None
    first = more.piece if more.index == 0 else next(iter(pieces_of(more.tokens, more.head.end)), more.piece)
    named = more.larder.find(_JOINT.split(more.tokens.between(first.first, first.end))[0])
    if other is not None and (named is None or other.food is not named.food):
        return None
    return more.second("use", more.roles(Role.FOR_USE, more.rest[use.start() :]))


def _fault(more: _Further) -> Second | None:
    """Another food, or an amount that no sum counts."""
    if more.bare and _is_made_of(more):
        return None
    if more.joint in _ADDING:
        counted = more.article or (more.bare and more.index > 0)  # "2 juiced and 1 cut into wedges"
        return None if counted and not more.names_food else more.fault("second-amount")
    if more.weighed and not more.article:
        if more.opens and (more.tells_state or is_told(more.tokens, more.begin, more.found.end)):
            return None  # about 200 g peeled
        cut = more.joint in {"per", "into", "every", "from"} or (not more.rest and not more.names_food)
        return None if cut else more.fault("several-foods")
    if more.joint in _INTO | PARTS or not more.names_food or _is_source(more):
        return None
    return more.fault("several-foods")


def _is_source(more: _Further) -> bool:
    """Whether it counts what the line's food is got from: lemon juice, about 2 lemons."""
    if more.head.counts and more.main.quantity.bound is Bound.EXACTLY:
        return False
    named = words(f"{more.found.noun} {_ENDS.split(more.rest, maxsplit=1)[0]}")
    piece = next(iter(pieces_of(more.tokens, more.head.end)), more.piece)
    listed = words(more.tokens.between(piece.first, piece.end))
    return more.opens and any(named[-1] in word for word in listed) if named else False


def _is_made_of(more: _Further) -> bool:
    """Shares of one whole: ``half flour and half water``."""
    numbers = (number_at(more.tokens, at) for at in range(more.piece.first, more.piece.end))
    shares = [number.value for number in numbers if number and number.form is Form.WORDS and number.value]
    return len(shares) > 1 and sum(shares) == 1


def _lines(text: str) -> str:
    """The lines to write for foods with amounts of their own: "a carrot and a stalk of celery"."""
    parts = [part for part in _LIST.split(text) if part]
    apart = all(number_at(tokenize(part), 0) is not None for part in parts)
    return "a line of its own for " + " and for ".join(f"“{part}”" for part in (parts if apart else [text]))
