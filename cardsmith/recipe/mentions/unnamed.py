"""Lines that no step names, and what may mean them: season, whisk the dressing, a word used twice.

A list that goes unused is an error, so what one of these words could take is never blamed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache

from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.groups import Group
from cardsmith.recipe.mentions.kinship import acts
from cardsmith.recipe.mentions.lexicon import kind
from cardsmith.recipe.mentions.mentions import How, Mention
from cardsmith.recipe.mentions.naming import Name, classes, kitchen
from cardsmith.recipe.mentions.step_words import StepWords
from cardsmith.reference import table

_MAKING = frozenset(words("make prepare cook simmer heat warm boil process pulse shake pound assemble"))
_SEASONING = frozenset(words("season seasoned seasoning"))
_FATS = frozenset({"butter", "oil", "fat"})  # roles
_CUTTING = frozenset(
    words("chop core cube cut dice grate halve mince pare peel quarter shred slice top trim")
)
_NUMBERED = frozenset(words("both two three four five six"))  # `reader` takes so many and no more
_SURE = frozenset({How.LINK, How.NAME, How.PART})


def in_earnest(mentions: Sequence[Mention], steps: Sequence[StepWords]) -> Iterator[Mention]:
    """``mentions`` without what "everything" can't mean: once half a list is named, it is what is in hand."""
    sure = [mention for mention in mentions if mention.how in _SURE]
    whole: dict[tuple[int, int], set[int]] = {}
    for mention in mentions:
        if steps[mention.step].text[mention.start : mention.end].lower() == "everything" and not _says_else(
            mention, steps
        ):
            whole.setdefault((mention.step, mention.start), set()).add(mention.line)
    in_hand = {
        at: lines & {mention.line for mention in sure if (mention.step, mention.start) < at}
        for at, lines in whole.items()
    }
    for mention in mentions:
        at = mention.step, mention.start
        if at not in whole or 2 * len(in_hand[at]) < len(whole[at]) or mention.line in in_hand[at]:
            yield mention


def _says_else(mention: Mention, steps: Sequence[StepWords]) -> bool:
    return steps[mention.step].text[mention.end :].lower().startswith(" else")


def unnamed(
    names: Sequence[Name], groups: Sequence[Group], steps: Sequence[StepWords], mentions: Sequence[Mention]
) -> Iterator[Mention]:
    """The steps that may use lines which ``mentions`` lacks, as `How.CLASS`; what goes unsaid, as a cue."""
    used = {mention.line for mention in mentions if mention.how is not How.CUE}
    left = [name for name in names if name.place not in used]
    if not left:
        return
    for passage in steps:
        for at, token in enumerate(passage.told):
            if passage.is_left_out(token.start):
                continue
            meant = [
                *_seasonings(passage, at, left),
                *_of_a_mixture(passage, at, groups, left, mentions),
                *_unknown(passage, at, left),
                *_of_a_class(passage, at, left),
                *_unsaid(passage, at, left),
            ]
            for name in meant:
                yield _mention(passage.step, name, token.start, token.end)
            for name in _frying(passage, at, left):
                yield replace(_mention(passage.step, name, token.start, token.end), how=How.CUE)
        yield from _first(passage, steps, left)
    yield from _spare(steps, left, mentions)


def _first(passage: StepWords, steps: Sequence[StepWords], left: Sequence[Name]) -> Iterator[Mention]:
    """What the first words of a part cut without a name: "Slice thinly", of the first in its list."""
    if not passage.told or any(
        passage_before.part == passage.part for passage_before in steps[: passage.step]
    ):
        return
    first, taken = passage.told[0], len(passage.object_after(0))
    mine = [name for name in left if name.part == passage.part]
    if first.word in _CUTTING and mine and passage.foods.isdisjoint(range(taken + 1)):
        yield _mention(passage.step, mine[0], first.start, first.end)


def _seasonings(passage: StepWords, at: int, left: Sequence[Name]) -> list[Name]:
    """The salt and pepper of "season to taste"; none where it says with what."""
    if passage.word(at) not in _SEASONING or passage.word(at) == "seasoning" == passage.word(at - 1):
        return []
    if _says_with_what(passage, at):
        return []
    fitting = [name for name in left if _seasons(name)]
    return [name for name in fitting if name.part == passage.part] or fitting


def _says_with_what(passage: StepWords, at: int) -> bool:
    """Whether a deed names what it takes: "season with pepper", but not a well-seasoned pan with butter."""
    done = passage.word(at).endswith("ed")
    return passage.word(at + 1) == "with" if done else "with" in passage.object_after(at)


def _seasons(name: Name) -> bool:
    food = name.line.food
    if name.line.amount is None and not name.line.for_use:
        return True
    return food is not None and (food.is_mainly("salt") or "pepper" in words(food.name)[-1:])


def _of_a_mixture(
    passage: StepWords,
    at: int,
    groups: Sequence[Group],
    left: Sequence[Name],
    mentions: Sequence[Mention],
) -> list[Name]:
    """The list of a mixture that a step makes by its name alone: "whisk the dressing".

    What one line makes is ready: "brush with the glaze", of an egg, beaten with salt.
    """
    for group in groups:
        if passage.word(at) != group.head:
            continue
        ready = len({name.line.where.line for name in left if name.place in group.lines}) == 1
        if not (passage.is_object_of(at, _MAKING | kitchen("adding")) or (ready and passage.is_added(at))):
            continue
        named = {mention.line for mention in mentions if mention.line in group.lines and mention.how in _SURE}
        if 2 * len(named) < len(group.lines):
            return [name for name in left if name.place in group.lines]
    return []


def _unknown(passage: StepWords, at: int, left: Sequence[Name]) -> list[Name]:
    """What nobody knows, and a word for a class may mean: the herbs."""
    if passage.word(at) not in classes() or passage.word(at - 1) not in kitchen("determiner"):
        return []
    return [name for name in left if name.line.food is None and name.part == passage.part]


def _of_a_class(passage: StepWords, at: int, left: Sequence[Name]) -> list[Name]:
    """All that a plural stands for, though it is the noun of a few: allspice and juniper, of "the spices"."""
    compound = at > 0 and at - 1 in passage.foods and passage.told[at].joined
    numbered = passage.word(at - 1) in _NUMBERED
    if not passage.is_plural(at) or compound or numbered or passage.is_no_class(at):
        return []
    fitting = [name for name in left if acts(name.line.food, classes().get(passage.word(at), frozenset()))]
    return [name for name in fitting if name.part == passage.part] or fitting


@cache
def _roles() -> Mapping[str, frozenset[str]]:
    """What a deed takes for granted: the sugar of "sweeten", the oil of an oiled dish."""
    return {row["word"]: frozenset(row["roles"].split("|")) for row in table("unsaid_words")}


def _unsaid(passage: StepWords, at: int, left: Sequence[Name]) -> list[Name]:
    """The foods that a deed takes for granted, where it doesn't say with what."""
    roles = _roles().get(passage.word(at))
    if roles is None or _says_with_what(passage, at):
        return []
    mine = [name for name in left if name.part == passage.part and name.line.food is not None]
    return [name for name in mine if name.line.food and name.line.food.is_mainly(*roles)]


def _frying(passage: StepWords, at: int, left: Sequence[Name]) -> list[Name]:
    """The fat that "fry" takes for granted."""
    if passage.word(at) != "fry":
        return []
    fats = [name for name in left if name.line.food is not None and kind(name.line.food) in _FATS]
    return [name for name in fats if name.part == passage.part]


def _spare(
    steps: Sequence[StepWords], left: Sequence[Name], mentions: Sequence[Mention]
) -> Iterator[Mention]:
    """A word that names a line used elsewhere, which may mean another of that name: lemon juice."""
    by_name = [mention for mention in mentions if mention.how is How.NAME]
    uses: dict[int, set[int]] = {}
    for mention in by_name:
        uses.setdefault(mention.line, set()).add(mention.step)
    for name in left:
        for mention in by_name:
            passage = steps[mention.step]
            phrase = words(passage.text[mention.start : mention.end])
            if len(uses[mention.line]) > 1 and passage.part >= name.part and name.rank(phrase) >= 2:
                yield _mention(mention.step, name, mention.start, mention.end)


def _mention(step: int, name: Name, start: int, end: int) -> Mention:
    return Mention(step=step, line=name.place, how=How.CLASS, start=start, end=end)
