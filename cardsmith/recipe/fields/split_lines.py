"""Lines that bring a further food with an amount of its own, cut into a line for each.

``2 tsp cornstarch, mixed with 1 tbsp water``: the first keeps its words, with the food's name in place of its
amount; what goes in has a line of its own, so that every sum, batch and step counts it.

>>> from cardsmith.measure.larder import load_larder
>>> def apart(text):
...     larder = load_larder()
...     return cut_apart(text, read_text(text, larder, System.US).faults, larder, System.US)
>>> apart("1 egg, beaten with 1 tbsp milk and a pinch of salt")
('1 egg, beaten with the milk and the salt', '1 tbsp milk', 'a pinch of salt')
>>> apart("100 g tamarind, soaked in 200 ml hot water and strained")
('100 g tamarind, soaked in the hot water and strained', '200 ml hot water')
>>> apart("1 tbsp chopped thyme leaves, plus 4 whole sprigs")
('1 tbsp chopped thyme leaves', '4 whole sprigs fresh thyme')
>>> apart("5 sprigs thyme, plus 1 tsp leaves")
('5 sprigs thyme', '1 tsp fresh thyme leaves')
>>> apart("6 anchovy fillets, plus 1 tbsp of their oil"), apart("1 egg + 1 yolk")
(('6 anchovy fillets', '1 tbsp oil from the anchovy fillet'), ('1 egg', '1 yolk'))
>>> apart("2 eggs plus 1 yolk"), apart("100 g sugar plus 2 tbsp"), apart("1 tbsp ginger, 1 tsp cinnamon")
(('2 eggs', '1 yolk'), (), ())
>>> apart("1 red and 1 yellow pepper, sliced")
('1 red pepper, sliced', '1 yellow pepper, sliced')
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from cardsmith.finding import Severity
from cardsmith.language.faults import Fault
from cardsmith.language.figures.numbers import number_at
from cardsmith.language.line.foods import shared_noun
from cardsmith.language.line.read import Line, read_text
from cardsmith.language.tokens import tokenize
from cardsmith.measure.food_words import form_of
from cardsmith.measure.larder import Larder, words
from cardsmith.measure.units import System
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.regex import regex

# "beaten with", "mixed to a paste with": the last thing done to the food, behind a comma or not.
_DONE = regex(
    r"^(?P<first>.*\S?),?\s+(?P<done>(?:[a-z]+(?:ed|en)|stuck|let)\s+(?:\w+\s+){0,3}?(?:with|in)\s+)$",
    re.IGNORECASE,
)
_PLUS = regex(r"(?:,\s*|\s+)(?P<joint>plus|and|\+|&)\s+$", re.IGNORECASE)
_JOINTS = ("plus ", "and ", "+ ", "& ")
_OWN = regex(r"(?:\bof\s+)?\b(?:their|its)\s+(?P<part>\w+)$", re.IGNORECASE)
_JOINT = regex(r"\s*,\s*(?:and\s+)?|\s+and\s+", re.IGNORECASE)


def cut_apart(text: str, faults: Iterable[Fault], larder: Larder, measures: System) -> tuple[str, ...]:
    """The lines that ``text`` stands for; none where it is one, or where they can't be told apart."""
    wrong = [fault for fault in faults if fault.severity is Severity.ERROR]
    if len(wrong) != 1:
        return ()
    start = wrong[0].start
    done = _DONE.search(text[:start]) if wrong[0].name == "several-foods" else None
    if done is not None:
        first = f"{done['first'].rstrip(' ,')}, {done['done']}"
        return _put_in(first, text[start:], larder, measures)
    if wrong[0].name == "second-amount":
        start += next((len(word) for word in _JOINTS if text[start:].lower().startswith(word)), 0)
        joint = _PLUS.search(text[:start])
        if joint is None:
            return ()
        first, more = text[: joint.start()], text[start:]
        return (
            _both(first, more, larder, measures)
            if joint["joint"].lower() in {"and", "&"}
            else _added(first, more, larder, measures)
        )
    return ()


def _put_in(first: str, more: str, larder: Larder, measures: System) -> tuple[str, ...]:
    """The line, with names for what goes in, and a line for each of that."""
    further: list[str] = []
    names: list[str] = []
    at = 0
    for piece in _pieces(more):
        line = read_text(piece, larder, measures)
        if not _is_whole(line):
            break
        further.append(piece)
        names.append(line.item)
        at = more.index(piece, at) + len(piece)
    return (f"{first}the {' and the '.join(names)}{more[at:]}", *further) if further else ()


def _added(first: str, more: str, larder: Larder, measures: System) -> tuple[str, ...]:
    """The line, and one for what comes to it: another food, or the same in another form."""
    line, further = read_text(first, larder, measures), read_text(more, larder, measures)
    if line.match is None or any(fault.severity is Severity.ERROR for fault in line.faults):
        return ()
    if further.main is None or not (further.item or further.noun):
        return ()  # "plus 2 tbsp": of the same, which is one amount
    own = _OWN.search(more)
    if own is not None:
        return first, f"{more[: own.start()]}{own['part']} from the {line.match.food.name}"
    if further.match is None and not set(words(further.item)) <= descriptors():
        return ()  # "2 balls of stem ginger + 2 tbsp syrup": of which food?
    described, _, last = more.rpartition(" ")
    is_part = not further.noun and form_of(last) == "leaves"  # 1 tsp leaves
    named = " ".join((described, line.match.food.name, last) if is_part else (more, line.match.food.name))
    second = more if _is_whole(further) and further.match is not None else named
    return (first, second) if _is_whole(read_text(second, larder, measures)) else ()


def _both(first: str, more: str, larder: Larder, measures: System) -> tuple[str, ...]:
    """Two foods of one line, ``1 onion and 2 carrots, chopped``: what stands behind the second is of both."""
    opens, further = read_text(first, larder, measures), read_text(more, larder, measures)
    if opens.match is None:  # 1 red and 1 yellow pepper
        first = first.removesuffix(opens.item) + shared_noun(opens.item, further.item, larder)
    remarks = further.remarks
    if remarks.alternatives:
        return ()  # of the second, or of both?
    prep = () if "," in first else tuple(part for part in remarks.prep if _is_said_of_each(part))
    behind = (*prep, *([remarks.for_use] if remarks.for_use and remarks.for_use not in first else []))
    lines = (", ".join((first, *behind)), more)
    read = [read_text(line, larder, measures) for line in lines]
    return lines if all(_is_whole(line) and line.match is not None for line in read) else ()


def _is_said_of_each(prep: str) -> bool:
    """Whether a remark may stand twice: "chopped"; not "beaten together", and no amount."""
    prep_tokens = tokenize(prep)
    numeral = any(number_at(prep_tokens, at) is not None for at in range(len(prep_tokens)))
    return "together" not in prep and not numeral


def _is_whole(line: Line) -> bool:
    """Whether a line has an amount and a food, and nothing wrong."""
    return (
        line.main is not None
        and bool(line.item)
        and not line.foods
        and all(fault.severity is not Severity.ERROR for fault in line.faults)
    )


def _pieces(text: str) -> list[str]:
    return [piece for piece in _JOINT.split(text) if piece.strip()]
