"""A recipe from a few lines of YAML, and what stands beside it, for tests of the portion."""

from __future__ import annotations

from textwrap import dedent

from cardsmith.bench.file.load import read_trials
from cardsmith.bench.model import Trials
from cardsmith.finding import Severity
from cardsmith.measure.larder import load_larder
from cardsmith.portion.estimate import Estimate, total
from cardsmith.portion.finished import Finished, finished
from cardsmith.portion.portion_file import NO_FACTS, Facts, read_facts
from cardsmith.portion.prices import PriceList, read_prices
from cardsmith.portion.shares import LineShare, shares
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Recipe


def recipe(
    *lines: str,
    title: str = "A dish",
    kind: str = "salad",
    yields: str = "{makes: 4 plates, serves: 4}",
    steps: tuple[str, ...] = ("Stir everything together.",),
    more: str = "",
) -> Recipe:
    """A recipe of one part; ``more`` is further YAML."""
    text = "\n".join(
        [
            f"title: {title}",
            f"kind: {kind}",
            f"yield: {yields}",
            "ingredients:",
            *(f"  - {line}" for line in lines),
            "steps:",
            *(f"  - {step}" for step in steps),
            more,
        ]
    )
    found, faults = read_recipe("a-dish", text.encode(), "recipe.yaml", load_larder())
    assert found is not None
    assert not [fault for fault in faults if fault.severity is Severity.ERROR], faults
    return found


def facts(text: str, of: Recipe) -> Facts:
    found, faults = read_facts(dedent(text).encode(), "portion.yaml", of.ingredients, load_larder())
    assert not faults, faults
    return found


def trials(text: str) -> Trials:
    found, faults = read_trials("a-dish", dedent(text).encode(), "trials.yaml", load_larder())
    assert found is not None
    assert not [fault for fault in faults if fault.severity is Severity.ERROR], faults
    return found


def prices(*rows: str) -> PriceList:
    """Rows of ``ingredient,price,pack[,trim]``, in euros of one day."""
    cells = [[*row.split(","), "", ""][:4] for row in rows]
    lines = [f"{name},{price},{pack},EUR,market,2026-03-01,{trim}" for name, price, pack, trim in cells]
    text = "\n".join(["ingredient,price,pack,currency,supplier,date,trim", *lines])
    found, faults = read_prices(text.encode(), "prices.csv", load_larder())
    assert not faults, faults
    return found


def batch(
    of: Recipe, stated: Facts = NO_FACTS, bench: Trials | None = None
) -> tuple[tuple[LineShare, ...], Estimate, Finished]:
    """The shares of a recipe, what is mixed of them, and the finished batch."""
    parts = shares(of, stated)
    mixed = total(one.eaten for one in parts)
    return parts, mixed, finished(of, mixed, stated, bench)
