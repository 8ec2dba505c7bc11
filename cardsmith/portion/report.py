"""A portion as text for a terminal and as a record for a program; the figures are worked out elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from cardsmith.bench.wording import figure, share
from cardsmith.language.listing import listed
from cardsmith.portion.cost import Cost, money
from cardsmith.portion.declared import DeclaredRow, servings
from cardsmith.portion.estimate import Estimate
from cardsmith.portion.portion import ESTIMATE, Portion, portion_size, structured_data
from cardsmith.portion.statement import IngredientStatement


def text(portion: Portion) -> str:
    """All of it, section by section."""
    return "\n".join(
        [
            f"{portion.recipe.title}: the portion",
            "",
            *_indented("Batch", batch_lines(portion)),
            *_indented("Cost", [*cost_lines(portion.cost)]),
            *_table(cost_table(portion.cost)),
            "",
            *_indented("Holds", [ESTIMATE]),
            *_table(nutrition_table(portion)),
            "",
            *_indented("Declares", statement_lines(portion)),
            *_indented("Left open", portion.caveats),
            *_indented("Working", working_lines(portion)),
        ]
    ).rstrip()


def _indented(heading: str, lines: Sequence[str]) -> Iterator[str]:
    yield heading
    yield from (f"  {line}" for line in lines)
    yield ""


def _table(cells: Sequence[Sequence[str]]) -> Iterator[str]:
    """Columns as wide as their content, the first aligned left, the last unpadded."""
    if not cells:
        return
    widths = [max(len(row[place]) for row in cells) for place in range(len(cells[0]))]
    for row in cells:
        first, *middle, last = [
            cell.ljust(width) if place in (0, len(row) - 1) else cell.rjust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  " + "  ".join((first, *middle, last)).rstrip()


def batch_lines(portion: Portion) -> tuple[str, ...]:
    """What goes in, what comes out, and how many portions that makes."""
    basis = [f"{_span(portion.mixed)} g of what is eaten are mixed", *portion.finished.basis]
    portions, size = portion.finished.portions, portion_size(portion)
    if portions is not None:
        basis.append(f"{servings(portions.likely)} portions{f' of {size}' if size else ''}")
    return tuple(basis)


def _span(value: Estimate) -> str:
    if value.is_exact:
        return figure(value.likely)
    high = "more" if value.high is None else figure(value.high)
    return f"{figure(value.likely)} ({figure(value.low)} to {high})"


def cost_lines(cost: Cost) -> Iterator[str]:
    """The sums in sentences. An incomplete sum says *at least* and what it lacks."""
    if not cost.lines:
        yield "No prices: recipes/prices.csv has none for this list."
        return
    least = "" if cost.is_complete else "at least "
    dated = cost.oldest if cost.oldest == cost.newest else f"{cost.oldest} to {cost.newest}"
    said = [f"batch {least}{money(cost.batch, cost.currency)}"]
    if cost.portion:
        said.append(f"portion {least}{money(cost.portion.likely, cost.currency)}")
    if cost.piece:
        said.append(f"piece {least}{money(cost.piece.likely, cost.currency, 3)}")
    yield f"{', '.join(said)} (prices of {dated}; a guide)"
    if cost.asked is not None:
        yield (
            f"at a food cost of {share(cost.food_cost)} a portion sells for "
            f"{least}{money(cost.asked, cost.currency)}"
        )
    if cost.missing:
        yield f"INCOMPLETE: no price for {listed(cost.missing)}"
    if cost.unweighed:
        yield f"INCOMPLETE: no weight for {listed(cost.unweighed)}"


def cost_table(cost: Cost) -> list[list[str]]:
    """The most expensive lines first; the last column shows the calculation."""
    if not cost.lines:
        return []
    per = "portion" if cost.portion else "batch"
    head = ["", cost.currency, "of the batch", f"±10 % a {per}", "working"]
    return [
        head,
        *(
            [
                line.item,
                money(line.cost, ""),
                share(line.cost / cost.batch),
                f"±{money(line.swing, '', 3)}",
                f"{line.working} ({line.price.supplier}, {line.price.date})",
            ]
            for line in cost.lines
        ),
    ]


def nutrition_table(worked_out: Portion) -> list[list[str]]:
    """The US figures a portion and a piece, then the EU's per 100 g and a portion; Australia's by its law."""
    rows: list[list[str]] = []
    if worked_out.us_portion:
        pieces = {row.nutrient: row.text for row in worked_out.us_piece}
        piece = worked_out.finished.piece_name or "piece"
        head = [
            "US, 21 CFR 101.9",
            "a portion",
            "% Daily Value",
            *([f"a {piece}"] if pieces else []),
            "before rounding",
        ]
        rows.append(head)
        for row in worked_out.us_portion:
            extra = [pieces[row.nutrient]] if pieces else []
            rows.append([row.printed, row.text, row.percent_text, *extra, _exact(row)])
    width = len(rows[0]) if rows else 4
    blocks = [("EU, 1169/2011", worked_out.eu_100, worked_out.eu_portion)]
    if worked_out.law == "AU":
        blocks.append(("AU, standard 1.2.8", worked_out.au_100, worked_out.au_portion))
    for name, hundred, portion in blocks:
        if hundred:
            portions = {row.nutrient: row.text for row in portion}
            blank = [""] * (width - 4)
            rows.append([name, "per 100 g", "a portion" if portions else "", *blank, "before rounding"])
            for row in hundred:
                rows.append([row.printed, row.text, portions.get(row.nutrient, ""), *blank, _exact(row)])
    return rows


def _exact(row: DeclaredRow) -> str:
    return f"{row.exact} ({row.span})" if row.span else row.exact


def statement_lines(portion: Portion) -> tuple[str, ...]:
    """Both statements, with their allergens and what depends on the brand."""
    return tuple(
        line
        for statement, heading in ((portion.us_statement, "US"), (portion.eu_statement, "EU"))
        for line in (
            f"{heading}  Ingredients: {statement.text}",
            *allergen_lines(statement),
            *statement.notes,
        )
    )


def allergen_lines(statement: IngredientStatement) -> tuple[str, ...]:
    """``Contains: milk, wheat.`` and what depends on the brand.

    The EU form has no such line, since its list emphasises them; there it is for the proof.
    """
    heading = "Contains" if statement.jurisdiction == "US" else "Emphasised in the list"
    contains = f"{heading}: {', '.join(statement.contains) or 'no listed allergen that the larder knows of'}."
    unsure = f"By brand, read the pack: {'; '.join(statement.perhaps)}." if statement.perhaps else ""
    return tuple(filter(None, (contains, unsure)))


def working_lines(portion: Portion) -> tuple[str, ...]:
    """Each line of the list: what is bought, edible and eaten, and why."""
    lines = []
    for line_share in portion.shares:
        if not line_share.is_counted:
            lines.append(f"{line_share.line.item}: {'; '.join(line_share.notes)}")
            continue
        because = f" ({'; '.join(line_share.notes)})" if line_share.notes else ""
        bought, edible = figure(line_share.bought), figure(line_share.edible)
        said = f"{bought} g bought, {edible} g edible, {_span(line_share.eaten)} g eaten"
        lines.append(f"{line_share.line.item}: {said}{because}")
    return tuple(lines)


def record(portion: Portion) -> dict[str, Any]:
    """All of it for a program: numbers before rounding, texts as declared, nothing unknown as zero."""
    cost = portion.cost
    return {
        "recipe": portion.recipe.name,
        "title": portion.recipe.title,
        "estimate": ESTIMATE,
        "batch": {
            "mixed_g": _bounds(portion.mixed),
            "finished_g": _bounds(portion.finished.mass),
            "pieces": _bounds(portion.finished.pieces),
            "portions": _bounds(portion.finished.portions),
            "portion": portion_size(portion),
            "basis": list(portion.finished.basis),
        },
        "cost": {
            "currency": cost.currency,
            "complete": cost.is_complete,
            "missing": list(cost.missing),
            "unweighed": list(cost.unweighed),
            "batch": _number(cost.batch),
            "portion": _bounds(cost.portion),
            "piece": _bounds(cost.piece),
            "prices_from": cost.oldest,
            "prices_to": cost.newest,
            "food_cost": _number(cost.food_cost),
            "selling_price": _number(cost.asked),
            "lines": [
                {
                    "item": line.item,
                    "bought_g": _number(line.bought),
                    "cost": _number(line.cost),
                    "swing_10_percent": _number(line.swing),
                    "supplier": line.price.supplier,
                    "date": line.price.date,
                    "working": line.working,
                }
                for line in cost.lines
            ],
        },
        "nutrition": {
            "per_portion_us": _rows(portion.us_portion),
            "per_piece_us": _rows(portion.us_piece),
            "per_100_g_eu": _rows(portion.eu_100),
            "per_portion_eu": _rows(portion.eu_portion),
            "per_100_g_au": _rows(portion.au_100),
            "per_portion_au": _rows(portion.au_portion),
            "atwater_gap": _number(portion.nutrition.atwater_gap),
            "structured_data": structured_data(portion),
        },
        "declaration": {"us": _statement(portion.us_statement), "eu": _statement(portion.eu_statement)},
        "caveats": list(portion.caveats),
        "working": list(working_lines(portion)),
    }


def _rows(rows: Sequence[DeclaredRow]) -> list[Mapping[str, Any]]:
    return [
        {
            "nutrient": row.nutrient,
            "declared": row.text,
            "percent_daily_value": row.percent_text,
            "at_least": row.at_least,
            "before_rounding": row.exact,
            "span": row.span,
        }
        for row in rows
    ]


def _statement(statement: IngredientStatement) -> dict[str, Any]:
    return {
        "ingredients": statement.text,
        "contains": list(statement.contains),
        "by_brand": list(statement.perhaps),
        "working": list(statement.notes),
    }


def _bounds(value: Estimate | None) -> dict[str, float | None] | None:
    if value is None:
        return None
    return {"low": _number(value.low), "likely": _number(value.likely), "high": _number(value.high)}


def _number(value: Fraction | None) -> float | None:
    return None if value is None else round(float(value), 6)
