"""The portion of a recipe from its files: the recipe, its trials, facts of its foods, prices."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from cardsmith.bench.file.load import read_trials
from cardsmith.edition.reworded import reworded
from cardsmith.finding import Finding
from cardsmith.house.publication import Publication
from cardsmith.measure.larder import load_larder
from cardsmith.portion.portion import Portion
from cardsmith.portion.portion import portion as work_out
from cardsmith.portion.portion_file import NO_FACTS, read_facts
from cardsmith.portion.prices import NO_PRICES, read_prices
from cardsmith.recipe.load import read_recipe


def portion_of(
    publication: Publication,
    name: str,
    file: Path,
    food_cost: Fraction | None = None,
    edition: str = "",
) -> tuple[Portion | None, tuple[Finding, ...], dict[str, str]]:
    """The portion of a recipe, all that its files have wrong, and their texts; None for an unreadable recipe.

    ``food_cost`` takes the place of the house's; in an ``edition`` it is of what that one has.

    Raises:
        CardsmithError: the house has no such edition.
    """
    house = publication.house()
    larder = load_larder(house.reference)
    data = publication.read(file)
    sources = {publication.shown(file): data.decode("utf-8", errors="replace")}
    recipe, findings = read_recipe(name, data, publication.shown(file), larder)
    if recipe is None:
        return None, findings, sources
    author = recipe
    if edition and edition != house.home:
        house.in_edition(edition)
        recipe = reworded(recipe, larder, house.market(house.home), house.market(edition)).recipe
    trials, facts, prices = None, NO_FACTS, NO_PRICES
    if bench := publication.bench(file):
        trials, found_wrong = read_trials(name, *bench, larder)
        findings += found_wrong
    if stated := publication.facts(file):
        facts, found_wrong = read_facts(*stated, author.ingredients, larder)
        findings += found_wrong
    if listed := publication.prices():
        prices, found_wrong = read_prices(*listed, larder)
        findings += found_wrong
    for data, shown in filter(None, (bench, stated, listed)):
        sources[shown] = data.decode("utf-8", errors="replace")
    portion = work_out(
        recipe,
        larder,
        facts=facts,
        trials=trials,
        prices=prices,
        food_cost=food_cost if food_cost is not None else house.portion.food_cost,
    )
    return replace(portion, law=house.in_edition(edition).declares), findings, sources
