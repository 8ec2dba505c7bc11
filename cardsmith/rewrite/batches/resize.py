"""`cardsmith scale`: which factor is meant, the card at that size, and what does not scale."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from cardsmith.facts.dangers.cautions import cautions
from cardsmith.finding import CardsmithError, Finding, Where
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.language.prose.fields import read_prose
from cardsmith.language.spans import Measured
from cardsmith.measure.larder import Larder
from cardsmith.measure.pans import Pan
from cardsmith.measure.units import Dimension
from cardsmith.recipe.mentions.reader import read_mentions
from cardsmith.recipe.mentions.tied import tied
from cardsmith.recipe.model import Recipe
from cardsmith.rewrite.batches.scale import Scaled, factor_for_pan, factor_for_yield, scale
from cardsmith.rewrite.card.listing import card_text
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.card.rewrite import rewrite
from cardsmith.rewrite.wording import decimal_text, short


@frozen
class Resized:
    """A card at another size."""

    card: Card
    scaled: Scaled
    findings: tuple[Finding, ...]

    def text(self, house: House) -> str:
        """For people."""
        factor = decimal_text(round(self.scaled.factor, 3))
        notes = [
            *(f"- {note}" for note in self.scaled.stays),
            *(f"- {finding.what}" for finding in self.findings),
        ]
        tail = ["", "What does not scale:", *notes] if notes else []
        agreed = ["", self.card.agreement] if self.card.agreement else []
        head = f"{factor} times the author's amounts"
        return "\n".join([head, "", card_text(self.card, house), *agreed, *tail])

    def record(self) -> dict[str, Any]:
        """For programs."""
        lines = [line for part in self.card.parts for line in part.ingredients]
        return {
            "factor": str(self.scaled.factor),
            "makes": self.card.yields[0],
            "serves": self.card.yields[1],
            "ingredients": [
                {
                    "item": line.item,
                    "prep": line.prep,
                    "us": short(line.amount.us) if line.amount else None,
                    "metric": short(line.amount.metric) if line.amount else None,
                }
                for line in lines
            ],
            "agreement": self.card.agreement,
            "does_not_scale": list(self.scaled.stays),
            "findings": [str(finding) for finding in self.findings],
        }


def resize(
    recipe: Recipe,
    larder: Larder,
    house: House,
    *,
    times: str | None,
    makes: str | None,
    pans: tuple[str | None, str | None],
) -> Resized:
    """The card of ``recipe`` by exactly one of a factor, a yield, and two pans.

    Raises:
        CardsmithError: none or several were given, or one cannot be read.
    """
    ways = [way for way in (times, makes, pans[0] or pans[1]) if way]
    if len(ways) != 1:
        raise CardsmithError("say one of: --by 1.5, --makes 90, or --from '23 cm round' --to '20 cm square'")
    if times:
        factor = _number(times)
    elif makes:
        factor = factor_for_yield(recipe, _number(makes))
    else:
        here, there = (_pan(text, way) for text, way in zip(pans, ("--from", "--to"), strict=True))
        factor = factor_for_pan(here, there)
    scaled = scale(tied(recipe, read_mentions(recipe, larder)), factor)
    warned = tuple(caution.text for caution in cautions(recipe, larder))
    card, findings = rewrite(scaled.recipe, larder, house, warned)
    return Resized(card=card, scaled=scaled, findings=findings)


def _number(text: str) -> Fraction:
    try:
        number = sum((Fraction(part) for part in text.split()), Fraction(0))
    except (ValueError, ZeroDivisionError) as fault:
        raise CardsmithError(f"{text!r} is not a number; write 1.5, 3/4 or 1 1/2") from fault
    if not 0 < number <= 1000:
        raise CardsmithError(f"{text!r} is out of reach; a factor or a yield lies between 0 and 1000")
    return number


def _pan(text: str | None, option: str) -> Pan:
    """A pan as a cook names it: ``23 cm round``, ``9x13 inch``, ``20 cm square``."""
    example = "such as '23 cm round', '20 cm square' or '9x13 inch'"
    if not text:
        raise CardsmithError(f"--from and --to go together; {option} is missing, {example}")
    spans = read_prose(text, Where(file=option, line=1, column=1))
    vessels = [
        span for span in spans if isinstance(span, Measured) and span.quantity.dimension is Dimension.LENGTH
    ]
    if not vessels:
        raise CardsmithError(f"{option} {text!r} names no pan; write its size, {example}")
    edges = tuple(side.low for side in vessels[0].sides)[:2]
    shape = "rectangle" if len(edges) > 1 else "square" if "square" in text.lower() else "round"
    return Pan(shape=shape, edges=edges)
