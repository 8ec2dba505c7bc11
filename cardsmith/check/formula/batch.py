"""What a recipe weighs before and after: the batch, what its kind loses on the way, and how many share it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from cardsmith.check.subject import Subject
from cardsmith.frozen import frozen
from cardsmith.measure.units import Dimension
from cardsmith.reference import OURS, Tables
from cardsmith.regex import regex

# Words that say something leaves the batch for good, so that the least yield is unknown: common practice.
LEAVES = regex(
    r"\b(?:strain|drain|sieve|drip|discard|throw away|pick out|squeeze|skim|peel|trim|bones?|rinse|pour off)",
    re.IGNORECASE,
)


@frozen
class Loss:
    """What a kind loses of the mass of its list, and what one serving of it weighs, at the least and most."""

    low: Fraction | None  # None: it takes up water that no list has, so nothing is known
    typical: Fraction
    high: Fraction
    density: Fraction | None  # the least g/ml of what comes out; None where it is not measured in volume
    portion_least: Fraction  # g
    portion_most: Fraction


@cache
def losses(tables: Tables = OURS) -> Mapping[str, Loss]:
    """The loss of each kind; figures out of order raise."""
    by_name: dict[str, Loss] = {}
    for row in tables.rows("kind_losses"):
        low, typical, high = (
            Fraction(row[end]) / 100 if row[end] else None for end in ("low", "typical", "high")
        )
        loss = Loss(
            low=low,
            typical=typical or Fraction(0),
            high=Fraction(1) if high is None else high,
            density=Fraction(row["density"]) if row["density"] else None,
            portion_least=Fraction(row["portion_least"]),
            portion_most=Fraction(row["portion_most"]),
        )
        if not (loss.low or 0) <= loss.typical <= loss.high or loss.portion_least >= loss.portion_most:
            raise ValueError(f"kind_losses.csv: {row['kind']}: the figures are out of order")
        by_name[row["kind"]] = loss
    return by_name


@frozen
class BatchWeight:
    """A batch in grams; ``least`` and ``most`` are what can come out of it."""

    grams: Fraction
    loss: Loss
    whole: bool  # whether every line but a seasoning has a weight
    leaves: bool  # whether something is strained off, peeled or thrown away

    @property
    def most(self) -> Fraction | None:
        """The most that can come out; None where the list has no weight for something, or water comes in."""
        return self.grams * (1 - self.loss.low) if self.whole and self.loss.low is not None else None

    @property
    def least(self) -> Fraction:
        """The least that can come out; 0 where nobody can tell."""
        return Fraction(0) if self.leaves else self.grams * (1 - self.loss.high)

    @property
    def usual(self) -> Fraction:
        """What usually comes out."""
        return self.grams * (1 - self.loss.typical)


def batch(subject: Subject) -> BatchWeight | None:
    """The batch of a recipe; None where its kind is unknown or nothing has a weight."""
    loss = losses(subject.tables).get(subject.kind)
    formula = subject.formula(subject.recipe.parts)
    if loss is None or not formula.roles["total"]:
        return None
    text = " ".join(
        [*(line.text for line in subject.recipe.ingredients), *(field.text for field in subject.steps)]
    )
    return BatchWeight(
        grams=formula.roles["total"],
        loss=loss,
        whole="total" not in formula.unweighed,
        leaves=LEAVES.search(text) is not None,
    )


def made(subject: Subject) -> tuple[Fraction, Fraction] | None:
    """The grams that ``makes`` and ``piece`` come to, at the least and most; None where they give no mass."""
    yields = subject.recipe.yields
    if yields is None or yields.piece is None or yields.piece.dimension is not Dimension.MASS:
        return None
    serves = yields.serves_pieces
    low = yields.serves_low if serves else yields.makes_count
    if low is None:
        return None
    high = (yields.serves_high if serves else yields.makes_high) or low
    return low * yields.piece.low, high * yields.piece.high
