"""Claims (vegan, gluten-free, nut-free) against where every food of the list comes from and what it holds."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.claims import by_name, diet, diets, plain
from cardsmith.facts.diets import Reason, verdict
from cardsmith.finding import Severity
from cardsmith.recipe.model import Text


def _reasons(subject: Subject) -> Iterator[tuple[Text, Reason]]:
    """What speaks against each claim of the recipe, line by line."""
    for claim in subject.recipe.claims:
        known = diet(claim.text)
        if known is not None:
            told = verdict(subject.recipe.ingredients, known, subject.larder)
            yield from ((claim, reason) for reason in told.because)


@check(
    "claim-contradicted",
    Severity.ERROR,
    why="Somebody will trust the word and fall ill, or eat what they have sworn off.",
    source="diets.csv, a source for each claim; allergens after Regulation (EU) 1169/2011 and FALCPA",
    remedy="take the claim out, or swap the ingredient",
    acceptable=False,
)
def claim_contradicted(subject: Subject) -> Iterator[Query]:
    """A claim that an ingredient breaks: vegan with honey, gluten-free with barley malt."""
    for claim, reason in _reasons(subject):
        if reason.sure:
            yield query(claim, f"“{claim.text}” is not true of {reason.item} ({reason.why})")


@check(
    "claim-unsure",
    Severity.WARNING,
    why="Brands differ; a claim that only the label can settle does not print until the list settles it.",
    source="diets.csv, a source for each claim; the larder's allergens that depend on the maker",
    remedy="say in the line which sort to buy, such as “gluten-free rolled oats”, or take the claim out",
)
def claim_unsure(subject: Subject) -> Iterator[Query]:
    """A claim that depends on the brand bought, on an alternative offered, or on a food no larder knows."""
    for claim, reason in _reasons(subject):
        if not reason.sure:
            yield query(claim, f"“{claim.text}” cannot be vouched for with {reason.item} ({reason.why})")


@check(
    "unknown-claim",
    Severity.ERROR,
    why="A claim that nobody can check is an advertisement, or medical advice.",
    source=PRACTICE,
    remedy="write one of the claims that can be checked: " + ", ".join(one.name for one in diets()),
)
def unknown_claim(subject: Subject) -> Iterator[Query]:
    """A claim that no rule is known for: low-carb, healthy, glutenfre."""
    for claim in subject.recipe.claims:
        if diet(claim.text) is None:
            near = difflib.get_close_matches(plain(claim.text), by_name(), 1, 0.7)
            hint = f"did you mean “{by_name()[near[0]].name}”?" if near else ""
            yield query(claim, f"“{claim.text}” is no claim that can be checked", hint)
