"""One recipe's portion: what it costs, what it holds, what it must declare."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.bench.model import Trials
from cardsmith.bench.wording import figure, share
from cardsmith.frozen import frozen
from cardsmith.language.declension import many
from cardsmith.language.listing import listed
from cardsmith.measure.larder import Larder
from cardsmith.portion.cost import Cost, cost
from cardsmith.portion.declared import DeclaredRow, rows
from cardsmith.portion.estimate import Estimate, total
from cardsmith.portion.finished import Finished, finished
from cardsmith.portion.nutrition import Nutrition, nutrition, per_100, per_piece, per_portion
from cardsmith.portion.portion_file import NO_FACTS, Facts
from cardsmith.portion.prices import NO_PRICES, PriceList
from cardsmith.portion.shares import LineShare, shares
from cardsmith.portion.statement import IngredientStatement, statement
from cardsmith.recipe.mentions.mentions import visible
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from cardsmith.regex import regex
from cardsmith.words import FIRST, FixedWords, fixed_words

ENGLISH = fixed_words(FIRST)

ESTIMATE = (
    "An estimate from tables (USDA National Nutrient Database for Standard Reference, Release 28), not an "
    "analysis; no claim is made from it."
)
FOOD_COST = Fraction(30, 100)  # common practice, no source; the house file has its own
TABLED = frozenset(row["nutrient"] for row in table("nutrients") if row["declaration"] == "US")
_LEAVES = regex(
    r"[^.;]*\b(?:strain|drain|drip|discard|throw away|pour off|skim|squeeze|leave the \w+ behind)\b[^.;]*",
    re.IGNORECASE,
)


@frozen
class Portion:
    """Everything about one portion; each figure with its origin."""

    recipe: Recipe
    shares: tuple[LineShare, ...]
    mixed: Estimate  # g of all that is eaten, before heat
    finished: Finished
    nutrition: Nutrition
    us_portion: tuple[DeclaredRow, ...]  # empty where the recipe doesn't say how many it serves
    us_piece: tuple[DeclaredRow, ...]  # empty where no pieces are counted
    eu_100: tuple[DeclaredRow, ...]  # empty where the weight of the finished batch is unknown
    eu_portion: tuple[DeclaredRow, ...]
    au_portion: tuple[DeclaredRow, ...]
    au_100: tuple[DeclaredRow, ...]
    cost: Cost
    us_statement: IngredientStatement
    eu_statement: IngredientStatement
    caveats: tuple[str, ...]  # what is uncertain about the figures, a sentence each
    law: str = ""  # by which the edition that it is of declares contents

    @property
    def pieces_a_portion(self) -> Fraction | None:
        """How many pieces one portion is; None where nothing is counted, or a piece is shared."""
        finished = self.finished
        if finished.pieces is None or finished.portions is None or not finished.portions.likely:
            return None
        each = finished.pieces.likely / finished.portions.likely
        return each if each >= 1 else None


def portion(
    recipe: Recipe,
    larder: Larder,
    *,
    facts: Facts = NO_FACTS,
    trials: Trials | None = None,
    prices: PriceList = NO_PRICES,
    food_cost: Fraction = FOOD_COST,
) -> Portion:
    """Everything about a portion of ``recipe``; a pure function of what is given."""
    parts = shares(recipe, facts)
    mixed = total(part.eaten for part in parts)
    batch = finished(recipe, mixed, facts, trials)
    holds = nutrition(parts)
    portion_holds, piece_holds, hundred = (of(holds, batch) or {} for of in (per_portion, per_piece, per_100))
    return Portion(
        recipe=recipe,
        shares=parts,
        mixed=mixed,
        finished=batch,
        nutrition=holds,
        us_portion=rows(portion_holds, "US"),
        us_piece=rows(piece_holds, "US") if batch.pieces and batch.pieces.likely > 1 else (),
        eu_100=rows(hundred, "EU"),
        eu_portion=rows(portion_holds, "EU"),
        au_portion=rows(portion_holds, "AU"),
        au_100=rows(hundred, "AU"),
        cost=cost(parts, batch, prices, food_cost),
        us_statement=statement(recipe, parts, batch, "US", larder),
        eu_statement=statement(recipe, parts, batch, "EU", larder),
        caveats=tuple(_caveats(recipe, facts, parts, holds)),
    )


def _caveats(recipe: Recipe, facts: Facts, parts: tuple[LineShare, ...], holds: Nutrition) -> Iterator[str]:
    """What is uncertain about the figures."""
    if holds.untabled:
        yield f"SR 28 has no row for {listed(holds.untabled)}: every figure is the least that is known."
    if holds.unweighed:
        yield f"No weight is given for {listed(holds.unweighed)}: every figure is the least that is known."
    for nutrient, items in holds.unknown.items():
        if nutrient in TABLED:
            yield f"No table gives the {nutrient} of {listed(items)}: unknown, not zero, so a lower bound."
    if holds.uncounted:
        yield f"Not counted, since no weight is given: {listed(holds.uncounted)}."
    for stand_in in holds.stand_ins:
        yield f"Stands in, since SR 28 lacks it: {stand_in}."
    for food in holds.own:
        yield f"By the house's own figures: {food}."
    optional = [part.line.item for part in parts if part.line.optional]
    if optional:
        yield f"Left out, since optional: {listed(optional)}."
    yield from _thrown_away(recipe, facts, parts)
    gap = holds.atwater_gap
    if gap is not None:
        side = "above" if gap >= 0 else "below"
        yield (
            f"By the general Atwater factors (4, 4, 9 and 7 kcal/g) the energy is {share(abs(gap))} {side} "
            "the table's, which has factors of its own for each food."
        )
    yield "Vitamins lost in cooking are not taken off. Trans fat is not in the table used."


def _thrown_away(recipe: Recipe, facts: Facts, parts: tuple[LineShare, ...]) -> Iterator[str]:
    """Steps that pour or strain something off, where nobody says what of it is eaten."""
    if facts.eaten or any(not part.eaten.is_exact for part in parts):
        return
    for number, step in enumerate(recipe.steps, start=1):
        match = _LEAVES.search(visible(step.spans))
        if match:
            said = " ".join(match.group().split())
            yield (
                f"Step {number} says “{said}”: all of it is counted as eaten, so the figures may be too high "
                "until portion.yaml says under eaten: how much is."
            )


def portion_size(portion: Portion, say: FixedWords = ENGLISH) -> str:
    """``6 crackers, 39 g``: one portion in words; empty where it is unknown."""
    each = portion.pieces_a_portion
    name = portion.finished.piece_name
    mass = portion.finished.portion_mass
    sources = []
    if each is not None and name:
        before, space, noun = name.rpartition(" ")
        sources.append(f"{say.number(figure(each))} {before}{space}{noun if each <= 1 else many(noun)}")
    if mass is not None:
        about = "" if mass.is_exact else f"{say('about')} "
        sources.append(f"{about}{figure(mass.likely, 0)} g")
    return ", ".join(sources)


ON_CARD = (
    "calories",
    "total fat",
    "saturated fat",
    "total carbohydrate",
    "total sugars",
    "protein",
    "sodium",
)


def nutrition_facts(
    portion: Portion, law: str = "US", say: FixedWords = ENGLISH
) -> tuple[tuple[str, str], ...]:
    """What a card says of a portion's contents, or of those of 100 g in the ``EU``: labels and values.

    ``Nutrition: per serving (39 g), an estimate from tables`` comes first. Empty where the recipe doesn't say
    how many it serves, or what it weighs. What is unknown is left out; a lower bound says so.
    """
    if law == "EU":
        of, rows = say("per 100 g, an estimate from tables"), portion.eu_100
    else:
        by = {row.nutrient: row for row in portion.us_portion}
        rows = portion.au_portion if law == "AU" else tuple(by[name] for name in ON_CARD if name in by)
        size = portion_size(portion, say)
        of = (
            say("per serving ({size}), an estimate from tables", size=size)
            if size
            else say("per serving, an estimate from tables")
        )
    known = _declared(rows, say)
    return ((say("Nutrition"), of), *known) if known else ()


def _declared(rows: tuple[DeclaredRow, ...], say: FixedWords) -> tuple[tuple[str, str], ...]:
    """In the law's order; energy once, where it has two units. What is not known is left out."""
    declared_rows: list[tuple[str, str]] = []
    for row in rows:
        if row.at_least and row.says_nothing:
            continue
        amount = say.told(row.amount)
        text = say("at least {amount}", amount=amount) if row.at_least else amount
        if row.printed:
            declared_rows.append((say(row.printed), text))
        elif declared_rows:
            label, before = declared_rows[-1]
            declared_rows[-1] = (label, f"{before} / {text}")
    return tuple(declared_rows)


def nutrition_line(
    portion: Portion, law: str = "US", say: FixedWords = ENGLISH, *, lowered: bool = True
) -> str:
    """`nutrition_facts` in one line: ``Per serving (39 g), an estimate from tables: calories 140 kcal``.

    ``lowered`` writes labels small, as English does.
    """
    if not (facts := nutrition_facts(portion, law, say)):
        return ""
    (_, of), *others = facts
    each = ", ".join(f"{_lower(label) if lowered else label} {text}" for label, text in others)
    return f"{of[0].upper()}{of[1:]}: {each}."


def _lower(label: str) -> str:
    return label[:1].lower() + label[1:]


SCHEMA = {  # schema.org/NutritionInformation
    "calories": "calories",
    "total fat": "fatContent",
    "saturated fat": "saturatedFatContent",
    "cholesterol": "cholesterolContent",
    "sodium": "sodiumContent",
    "total carbohydrate": "carbohydrateContent",
    "dietary fiber": "fiberContent",
    "total sugars": "sugarContent",
    "protein": "proteinContent",
}


def structured_data(portion: Portion, say: FixedWords = ENGLISH) -> dict[str, str]:
    """The portion as schema.org ``NutritionInformation``; empty where no portion is known.

    The vocabulary can't say *at least*, so lower bounds are left out.
    """
    values = {
        SCHEMA[row.nutrient]: say.told(row.amount).replace("kcal", say("calories"))
        for row in portion.us_portion
        if row.nutrient in SCHEMA and not row.at_least
    }
    if not values:
        return {}
    size = portion_size(portion, say)
    return {"@type": "NutritionInformation", **({"servingSize": size} if size else {}), **values}
