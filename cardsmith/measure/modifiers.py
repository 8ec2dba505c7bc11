"""What may stand before a food's noun and leaves it the food it is, by grammar: no list of words would end.

    Thai · Sichuan · low-sodium · anchovy-free · unsalted · line-caught · seasonal · carefully

What is a food, or a word of a food's name, is no such modifier, for it changes what is meant: almond milk,
coconut cream, sour cherries. Nor is a participle of what was done to it (smoked, candied): that may change
what a cup weighs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from itertools import combinations

from cardsmith.frozen import frozen
from cardsmith.reference import table
from cardsmith.regex import regex

_TOKEN = regex(r"[^\s,;()]+")
MOST = 4  # modifiers before one noun


@frozen(kw_only=False)
class Plainer:
    """A name without some of its modifiers."""

    text: str
    without: tuple[str, ...]  # the modifiers, in their order
    is_same: bool  # whether none of them names a sort: "hot stock" is any stock, "Danish butter" some butter


def plainer_names(text: str, is_food: Callable[[str], bool]) -> Iterator[Plainer]:
    """``text`` without one modifier or several, the fewest first; ``is_food`` knows the words of foods."""
    tokens = list(_TOKEN.finditer(text))
    named = any(match[0][0].islower() for match in tokens[-1:])  # not a Line In Which All Is Capital
    effects = []
    for match in tokens[:-1]:
        effect = _effect(match[0], is_food, may_be_name=named)
        if effect:
            effects.append((match, effect))
    for count in range(1, min(len(effects), MOST) + 1):
        for picked in combinations(effects, count):
            kept, at = [], 0
            for match, _ in picked:
                kept.append(text[at : match.start()])
                at = match.end()
            yield Plainer(
                " ".join("".join((*kept, text[at:])).split()),
                tuple(match[0] for match, _ in picked),
                all(effect == SAME for _, effect in picked),
            )


SAME, SORT = "same", "sort"


def _effect(word: str, is_food: Callable[[str], bool], *, may_be_name: bool) -> str:
    """What a modifier makes of its food: the ``SAME``, a ``SORT`` of it, or (empty) perhaps another."""
    plain = word.lower().replace("‑", "-")
    first, hyphen, last = plain.rpartition("-")
    parts = _parts()
    if hyphen:
        return parts.get(("last", last)) or parts.get(("first", first.partition("-")[0])) or ""
    if effect := parts.get(("word", plain)):
        return effect
    if plain.startswith(NOT) and plain.endswith(DONE):
        return SAME
    if is_food(plain) or not plain.isalpha():
        return ""
    if may_be_name and word[0].isupper() and word[1:].islower():
        return SORT  # of a place, or of whoever makes it
    return SORT if any(_ends(plain, part) for place, part in parts if place == "ending") else ""


NOT, DONE = "un", "ed"  # unsalted: as it is before anything is done to it


def _ends(word: str, ending: str) -> bool:
    return word.endswith(ending) and len(word) >= len(ending) + LEAST_STEM


LEAST_STEM = 3  # letters before an ending


@cache
def _parts() -> dict[tuple[str, str], str]:
    return {(row["place"], row["part"]): row["effect"] for row in table("modifiers")}
