"""Every kind of recipe, with the limits that the checks of proportions and portions hold it to."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.check.formula.ratios import ratios, usual
from cardsmith.facts.kinds import kinds
from cardsmith.reference import OURS, Tables, table


def every_kind(tables: Tables = OURS) -> str:
    """All kinds, each as `one_kind` explains it."""
    return "\n\n".join(one_kind(row["kind"], tables) for row in tables.rows("kinds"))


def one_kind(name: str, tables: Tables = OURS) -> str:
    """A kind by its name or an alias: what it is, its proportions, its loss in cooking, its portion.

    Raises:
        KeyError: there is no such kind.
    """
    kind = kinds(tables)[name]
    return "\n".join(
        (*_names(kind, tables), *_proportions(kind, tables), *_loss(kind, tables), *_portion(kind, tables))
    )


def _names(kind: str, tables: Tables) -> Iterator[str]:
    row = next(row for row in tables.rows("kinds") if row["kind"] == kind)
    yield f"{kind}: {row['about']}"
    if row["aliases"]:
        yield f"  also written {row['aliases'].replace('|', ', ')}"


def _proportions(kind: str, tables: Tables) -> Iterator[str]:
    nouns = {row["ratio"]: row["told"].partition(",")[0] for row in table("ratio_names")}
    for ratio in ratios(tables)[kind]:
        of = "of " if ratio.unit == "%" else ""
        yield f"  {nouns[ratio.ratio]}: {usual(ratio)} {of}{ratio.told} [{ratio.source}]"


def _loss(kind: str, tables: Tables) -> Iterator[str]:
    row = tables.row("kind_losses", kind)
    if row is None:
        return
    loss = f"weight lost in cooking: {row['low']} to {row['high']} %; " if row["low"] and row["high"] else ""
    yield f"  {loss}a portion weighs {row['portion_least']} to {row['portion_most']} g [{row['source']}]"


def _portion(kind: str, tables: Tables) -> Iterator[str]:
    row = tables.row("portion_bounds", kind)
    if row:
        holds = f"{row['energy_least']} to {row['energy_most']} kcal, at most {row['salt_most']} g of salt"
        yield f"  a portion holds: {holds} [{row['source']}]"
