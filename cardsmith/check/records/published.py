"""What readers were told, against what the recipe says now: no edit after publication goes unreported."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.edition.markets import markets
from cardsmith.finding import Severity
from cardsmith.recipe.mark import mark


@check(
    "changed-since-published",
    Severity.WARNING,
    why="Readers have copied and cooked what was printed; a change they aren't told of costs their trust.",
    source=PRACTICE,
    remedy="add a correction with its date, what changed, and the mark",
)
def changed_since_published(subject: Subject) -> Iterator[Query]:
    """A published recipe whose words, numbers in print or allergens changed without a correction."""
    recipe = subject.recipe
    if recipe.published is None:
        return
    newest = recipe.corrections[-1] if recipe.corrections else recipe.published
    marks = {"mark": newest.mark, **dict(newest.editions)}
    now = {"mark": mark(recipe, subject.printed)} | {
        key: mark(recipe, printed) for key, printed in subject.editions
    }
    lacking = [key for key in now if not marks.get(key)]
    changed = [key for key in now if marks.get(key) and marks[key] != now[key]]
    write = ", ".join(f"{key}: {name}" for key, name in now.items())
    if lacking and not changed:
        edition = "" if "mark" in lacking else f" of the {markets()[lacking[0]].name}"
        yield query(newest.where, f"no mark says what readers{edition} were told", f"write {write}")
    if not changed:
        return
    since = newest.date or "it was published"
    edition = "" if "mark" in changed else f" in the {markets()[changed[0]].name}"
    what = (
        f"what a cook goes by has changed{edition} since {since} (now {now[changed[0]]}): the recipe, or the "
        "house's own tables"
    )
    yield query(
        newest.where,
        what,
        f"add to corrections: {{date: …, what: …, {write}}}; for a slip of the pen that changes nothing "
        f"for a cook, write {write} here",
    )


@check(
    "corrections-out-of-order",
    Severity.WARNING,
    why="Readers and feeds take the last correction for the newest.",
    source=PRACTICE,
    remedy="put corrections in the order of their dates, after the date of publication",
)
def corrections_out_of_order(subject: Subject) -> Iterator[Query]:
    """A correction dated before publication or before the one above it, or of what was never published."""
    recipe = subject.recipe
    if recipe.corrections and recipe.published is None:
        remedy = "write published: {date: …} too, or take the correction out"
        yield query(recipe.corrections[0].where, "a correction of what was never published", remedy)
        return
    dated = [entry for entry in (recipe.published, *recipe.corrections) if entry and entry.date]
    for before, after in pairwise(dated):
        if after.date < before.date:
            yield query(after.where, f"{after.date} is before {before.date}")
