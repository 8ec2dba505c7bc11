"""Two recipes under one title, which no reader of the lists can tell apart; known of many recipes only."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from cardsmith.finding import Finding, Severity, Where
from cardsmith.frozen import frozen

if TYPE_CHECKING:
    from cardsmith.recipe.model import Recipe

NAME = "title-shared"
MOST = 3  # others that a finding names


@frozen
class Titled:
    """A recipe by its title."""

    title: str
    file: str  # for messages
    answered: bool  # it says under accepted: why another may have its title


def answers(recipe: Recipe) -> bool:
    """Whether a recipe says why another may have its title."""
    return any(accepted.check == NAME for accepted in recipe.accepted)


def titles_shared(recipes: Iterable[Titled]) -> tuple[Finding, ...]:
    """A warning for each recipe that has another's title, capitals aside, unless one of them says why."""
    alike: dict[str, list[Titled]] = {}
    for titled in recipes:
        alike.setdefault(" ".join(titled.title.casefold().split()), []).append(titled)
    return tuple(
        Finding(
            name=NAME,
            severity=Severity.WARNING,
            where=Where(file=titled.file),
            what=f"“{titled.title}” is the title of {_others(titled, several)} too",
            instead="give one of them a title that tells it apart in lists and in search",
        )
        for several in alike.values()
        if len(several) > 1 and not any(titled.answered for titled in several)
        for titled in several
    )


def _others(titled: Titled, several: list[Titled]) -> str:
    named = [other.file for other in several[: MOST + 1] if other is not titled][:MOST]
    more = len(several) - 1 - len(named)
    return ", ".join(named) + (f" and {more} more" if more else "")
