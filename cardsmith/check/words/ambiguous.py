"""One word for two lines: the vinegar, where the list has two."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.mentions import How, Mention


@check(
    "which-one-unsaid",
    Severity.WARNING,
    why="A cook with two bottles in hand cannot tell which goes in, and by the second step it is too late.",
    source=PRACTICE,
    remedy="call each by the name that the list gives it",
)
def which_one_unsaid(subject: Subject) -> Iterator[Query]:
    """Several steps say "the vinegar" of a part that lists two, and none says which."""
    lines = subject.recipe.ingredients
    part_of = [number for number, part in enumerate(subject.recipe.parts) for _ in part.ingredients]
    shared: dict[tuple[int, str], list[int]] = defaultdict(list)
    for place, line in enumerate(lines):
        head = words(line.item)[-1:]
        if (
            head
            and head[0] not in DUSTED
            and line.amount is not None
            and not (line.divided or line.key or line.for_use)
        ):
            shared[part_of[place], head[0]].append(place)
    for (_, noun), places in shared.items():
        if len(places) != TWO or _are_one_food(subject, places):
            continue
        mentions = [mention for place in places for mention in subject.mentions.by_line.get(place, ())]
        mentions = [mention for mention in mentions if mention.how is not How.CUE]
        bare = {
            (mention.step, mention.start): mention
            for mention in mentions
            if _called(subject, mention) == (noun,)
        }
        steps = {mention.step for mention in bare.values()}
        if mentions and len(steps) > 1 and all((mention.step, mention.start) in bare for mention in mentions):
            first = min(bare.values(), key=lambda mention: (mention.step, mention.start))
            text = subject.steps[first.step]
            named = text.text[first.start : first.end]
            if named.lower().endswith("s"):
                continue  # both of them
            both = " and ".join(lines[place].item for place in places)
            numbers = " and ".join(str(step + 1) for step in sorted(steps)[:2])
            yield query(
                text.spot(named, first.start), f"steps {numbers} say “{named}”, and the list has {both}"
            )


TWO = 2
DUSTED = frozenset(words("flour salt pepper water stock"))  # of which a handful may be either


def _called(subject: Subject, mention: Mention) -> tuple[str, ...]:
    """The words by which a step speaks of a line."""
    return tuple(
        word for word in words(subject.steps[mention.step].text[mention.start : mention.end]) if word != "the"
    )


def _are_one_food(subject: Subject, places: list[int]) -> bool:
    """Whether both lines are of the very same food, so that nobody has to choose a bottle."""
    first, second = (subject.recipe.ingredients[place] for place in places)
    return words(first.item) == words(second.item) or (first.food is not None and first.food is second.food)
