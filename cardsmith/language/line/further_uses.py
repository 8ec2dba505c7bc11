"""More of a food, or a part of it, with a use of its own: how much, and what for.

    use  = ["plus" | "and" | "+" | "with" | "reserving" | "of which"] (head | "more" | "extra" …) [food] what
    what = "for" words | "to" words | "as needed" | "reserved" …

>>> found = use_in("plus 1 tablespoon (14 g) for the pan")
>>> [shown(one) for one in found.statements], found.what, found.added
(['1 tablespoon', '14 gram'], 'for the pan', True)
>>> use_in("plus extra for dusting").statements, use_in("½ cup for the top").added
((), False)
>>> use_in("of which 2 tbsp to finish").added, use_in("with 2 tbsp kept back for the top").added
(False, False)
>>> use_in("cut into 8 pieces for the pot") is None, use_in("plus 2 eggs") is None
(True, True)
"""

from __future__ import annotations

import re

from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.line.heads import head_at
from cardsmith.language.line.second_amounts import KEEPING, KEPT
from cardsmith.language.line.statements import Statement, shown
from cardsmith.language.tokens import tokenize
from cardsmith.measure.units import Dimension, System
from cardsmith.regex import regex

__all__ = ["Use", "shown", "use_in"]

_ADDING = frozenset({"plus", "and", "+", "&", "with"})
_MORE = frozenset({"more", "extra", "additional", "another", "some"})
_WHAT = regex(
    r"(?P<food>.*?)\b(?P<what>(?:for|to|as\s+(?:needed|required|necessary)|reserved|kept\s+back|set\s+aside)\b.*)",
    re.IGNORECASE,
)
_EACH = regex(r"for (?:each|every)\b", re.IGNORECASE)  # however many are made
_MEASURED = frozenset({Dimension.MASS, Dimension.VOLUME, Dimension.COUNT})


@frozen
class Use:
    """So much of the line's food with a use of its own; without statements nobody said how much."""

    statements: tuple[Statement, ...]  # the same amount in several units; places are those of the words
    what: str  # for the pan
    food: str  # words between the amount and its use, mostly none
    added: bool  # beyond the line's amount, not a part of it


def use_in(words: str, measures: System = System.US) -> Use | None:
    """The use that a remark behind a food, all of ``words``, describes; None for any other remark."""
    tokens = tokenize(words)
    joined, which = tokens[0].low in _ADDING, tokens.words(0, "of", "which")
    added = joined and not (tokens[0].low == "with" and KEPT.search(words))
    at = 2 * which or int(joined or tokens[0].low in KEEPING)
    at += tokens[at].low in {"a", "an"} and tokens[at + 1].low in _MORE
    vague = tokens[at].low in {"little", "bit"} | _MORE
    while tokens[at].low in {"little", "bit", "of"} | _MORE:
        at += 1
    head = head_at(tokens, at, measures)
    main = head.main
    if any(fault.severity is Severity.ERROR for fault in head.faults):
        return None
    if main is None and not (added and vague):
        return None
    if main is not None and main.quantity.dimension not in _MEASURED:
        return None
    what = _WHAT.match(tokens.between(head.end, len(tokens)))
    if what is None or _EACH.match(what["what"]):
        return None
    food = re.sub(r"\b(?:more|extra|additional|of|is|are|kept|whole)\b", "", what["food"]).strip(" ,")
    return Use(statements=head.statements, what=what["what"].strip(), food=food, added=added)
