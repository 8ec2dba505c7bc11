"""Which cards a command is asked for: by name, all there are, or those of one issue."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import click

from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, card_files, plain_name
from cardsmith.recipe.load import read_recipe

OF_ALL = click.option("--all", "every", is_flag=True, help="All recipes there are.")
OF_ISSUE = click.option("--issue", metavar="ISSUE", help="Those whose recipe says `issue: ISSUE`.")


def chosen(
    publication: Publication, names: tuple[str, ...], *, every: bool = False, issue: str | None = None
) -> dict[str, Path]:
    """The recipe files that are meant, in the order in which they were named, else by the alphabet.

    Raises:
        CardsmithError: nothing is chosen, or in two ways at once, or no recipe is of that issue.
    """
    ways = bool(names) + every + (issue is not None)
    if ways != 1:
        wrong = "nothing is chosen" if not ways else "chosen in two ways at once"
        raise CardsmithError(f"{wrong}: write names of recipes, or --all, or --issue ISSUE")
    files = card_files(publication, names)
    return files if issue is None else _of_issue(publication, files, issue)


def called(names: tuple[str, ...], files: Mapping[str, Path], issue: str | None = None) -> str:
    """What the output for these cards is called."""
    first, *others = files
    if issue is not None:
        return plain_name(issue, "issue")
    if not names:
        return "all"
    return f"{first}-and-{len(others)}-more" if others else first


def _of_issue(publication: Publication, files: Mapping[str, Path], issue: str) -> dict[str, Path]:
    larder, issues = publication.larder(), {}
    for name, file in files.items():
        recipe, _ = read_recipe(name, publication.read(file), publication.shown(file), larder)
        if recipe is None:
            raise CardsmithError(
                f"{publication.shown(file)} can't be read, so nobody knows its issue; "
                f"`cardsmith check {name}` says why"
            )
        issues[name] = recipe.issue
    of_issue = {name: file for name, file in files.items() if _alike(issues[name], issue)}
    if not of_issue:
        known = ", ".join(dict.fromkeys(filter(None, issues.values()))) or "none; write issue: in a recipe"
        raise CardsmithError(f"no recipe is of the issue {issue!r}; issues here: {known}")
    return of_issue


def _alike(text: str, other: str) -> bool:
    return text.casefold().split() == other.casefold().split()
