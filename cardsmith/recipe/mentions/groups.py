"""The mixtures of a recipe, each with its own list: its parts, and what subheads in a list part off."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardsmith.frozen import frozen
from cardsmith.last_result import remembered
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.naming import CONNECTING, descriptors
from cardsmith.recipe.mentions.step_words import StepWords
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.regex import regex

_HEADING = regex(r"^(?:for the|to) [\w ]+:?$|:$", re.IGNORECASE)
_LEADS = frozenset(words("for make prepare"))  # "for the dressing, whisk", "make the dressing: whisk"
_SMALL = _LEADS | frozenset(words("to the a an your meanwhile now then next first finally"))
_NO_MIXTURE = frozenset(words("serve finish assemble assembly garnish decorate"))


def is_heading(line: Ingredient) -> bool:
    """Whether a line without an amount names the mixture that follows: for the glaze, filling:."""
    return line.amount is None and _HEADING.search(line.text) is not None


@frozen
class Group:
    """One list of its own: a part, or the lines under a subhead in its list."""

    part: int
    words: frozenset[str]  # of its name
    head: str  # the noun of its name: the paste of a curry paste
    lines: frozenset[int]


@remembered  # by what reads the steps and by checks
def groups(recipe: Recipe) -> tuple[Group, ...]:
    """Every mixture that has a name; a subhead's are apart from the part that holds it."""
    all_groups: list[Group] = []
    place = 0
    for number, part in enumerate(recipe.parts):
        name = part.name
        lines: list[int] = []
        for line in part.ingredients:
            if is_heading(line):
                all_groups.extend(_group(number, name, lines))
                name, lines = line.text, []
            else:
                lines.append(place)
            place += 1
        all_groups.extend(_group(number, name, lines))
    return tuple(all_groups)


def _group(part: int, name: str, lines: list[int]) -> Iterator[Group]:
    said = [word for word in words(name) if word not in _SMALL | CONNECTING]
    if lines and said and not _NO_MIXTURE & set(said):
        telling = frozenset(said) - descriptors()
        yield Group(part=part, words=telling | {said[-1]}, head=said[-1], lines=frozenset(lines))


def in_hand(passage: StepWords, known: tuple[Group, ...]) -> tuple[tuple[int, Group], ...]:
    """From where on a step speaks of one mixture: "For the dressing, whisk the oil …", the latest first."""
    heads = {group.head for group in known}
    hands: list[tuple[int, Group]] = []
    for at, token in enumerate(passage.told):
        if token.word not in heads:
            continue
        before = set(passage.sentence(at))
        label = passage.text[token.end : token.end + 1] == ":"
        for group in known:
            opens = before & _LEADS or (label and before <= group.words | _SMALL)
            if token.word == group.head and opens and before <= group.words | _SMALL | descriptors():
                hands.append((token.start, group))
    return tuple(reversed(hands))
