"""What a card may claim in an edition, by that law's rule and in its words: ``edition_claims.csv``."""

from __future__ import annotations

from collections.abc import Iterator, Set

from cardsmith.edition.asks import asked
from cardsmith.edition.markets import Market
from cardsmith.edition.words import Change
from cardsmith.finding import Finding
from cardsmith.measure.patterns import cell, is_of
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table


def claim_words(market: Market) -> Iterator[Change]:
    """Each claim with how an edition writes it."""
    for row in table("edition_claims"):
        if row["edition"] == market.key and row["claim"] != row["said"]:
            yield row["claim"], row["said"]


def claims_asked(recipe: Recipe, market: Market, answered: Set[str]) -> Iterator[Finding]:
    """Each claim that no food with an ingredient of the list may have there, but for those ``answered``."""
    rules = {row["claim"]: row for row in table("edition_claims") if row["edition"] == market.key}
    for claim in recipe.claims:
        row = rules.get(claim.text.lower())
        held = [line.item for line in recipe.ingredients if row and is_of(line.food, cell(row["forbids"]))]
        if row and held and row["claim"] not in answered:
            yield asked(
                claim.where,
                f"in the {market.name} “{claim.text}” means {row['rule']} ({row['source']}), and the list "
                f"has {held[0]}",
                f"a claim that its law allows, or none: editions: {{{market.key}: {{{claim.text}: …}}}}",
                claim.text,
                name="edition-claim-unlawful",
            )
