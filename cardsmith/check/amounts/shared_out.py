"""One line that goes in twice: how much of it each time?"""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.check.amounts.taken_by_steps import Taken, is_single, taken
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.method.clauses import Clause, nouns
from cardsmith.facts.method.dish import dish
from cardsmith.finding import Severity
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.mentions.mentions import How
from cardsmith.regex import regex


@check(
    "share-unsaid",
    Severity.WARNING,
    why="A cook who puts all of it in at the first step has none left for the second.",
    source=PRACTICE,
    remedy="give the line a key, draw [100 g](#sugar) in the one step and [the rest](#sugar) in the other",
)
def share_unsaid(subject: Subject) -> Iterator[Query]:
    """Sugar or honey of one line that two steps add, and neither says how much of it."""
    clauses = dish(subject.recipe, subject.larder).histories.clauses
    for place, line in enumerate(subject.recipe.ingredients):
        whole = line.amount is not None and not (line.divided or line.key or line.optional or line.extras)
        if not whole or not is_of(line.food, MIXED_IN):
            continue
        uses = [
            use for use in taken(subject, place) if use.mention.how is How.NAME and is_single(subject, use)
        ]
        added = [use for use in uses if _is_added(use, clauses)]
        steps = sorted({use.number for use in added})
        if len(steps) > 1 and not any(use.is_part or MORE.search(use.step.text) for use in uses):
            last = next(use for use in added if use.number == steps[1])
            spot = last.step.spot(last.name, last.mention.start)
            yield query(
                spot, f"steps {steps[0]} and {steps[1]} both add the {line.item}; how much each time?"
            )


def _is_added(use: Taken, clauses: tuple[Clause, ...]) -> bool:
    """Whether a step puts it in, rather than speaks of what it went into: the sugar syrup."""
    after = words(use.after.lstrip()[:20])[:1]
    if after and after[0] in nouns("mixture"):
        return False
    mine = next(
        clause
        for clause in clauses
        if clause.step == use.mention.step and clause.start <= use.mention.start < clause.end
    )
    return mine.verb in ADDING


MIXED_IN = ("role:sugar", "key:*honey")
ADDING = frozenset(
    words("add stir beat whisk boil dissolve sprinkle whip mix cream combine toss simmer scatter rub sift")
)
MORE = regex(
    r"\b(?:rest|remain\w*|reserved|more|extra|half|some|other|another|little"
    r"|(?<!the )(?<!a )spoonfuls?|halves|divided)\b"
)
