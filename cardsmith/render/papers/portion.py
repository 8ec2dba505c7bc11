"""The portion's page: cost, contents and statement with their working, by itself or inside a proof."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from markupsafe import Markup, escape

from cardsmith.frozen import frozen
from cardsmith.portion.portion import ESTIMATE, Portion
from cardsmith.portion.report import (
    allergen_lines,
    batch_lines,
    cost_lines,
    cost_table,
    nutrition_table,
    working_lines,
)
from cardsmith.portion.statement import IngredientStatement
from cardsmith.render.look import whole_style
from cardsmith.render.tagging import scoped
from cardsmith.render.templates import environment
from cardsmith.render.typesetter import Typesetter

STYLE = "portion/portion.css"
HEADED = ("US, 21 CFR 101.9", "EU, 1169/2011", "AU, standard 1.2.8")  # rows that head what follows them


@frozen
class TableView:
    """A table with its heading row."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@frozen
class StatementView:
    """A statement with its allergens emphasised."""

    name: str
    text: Markup
    lines: tuple[str, ...]


@frozen
class PortionView:
    """All that ``portion/_portion.html.j2`` places."""

    title: str
    estimate: str
    batch: tuple[str, ...]
    cost: tuple[str, ...]
    costs: TableView | None
    nutrition: tuple[TableView, ...]
    statements: tuple[StatementView, ...]
    caveats: tuple[str, ...]
    working: tuple[str, ...]


def portion_view(portion: Portion) -> PortionView:
    """A portion as ready strings."""
    costs = cost_table(portion.cost)
    return PortionView(
        title=portion.recipe.title,
        estimate=ESTIMATE,
        batch=batch_lines(portion),
        cost=tuple(cost_lines(portion.cost)),
        costs=_view("What each ingredient costs, the dearest first", costs) if costs else None,
        nutrition=tuple(_nutrition(nutrition_table(portion))),
        statements=(
            _statement("United States, 21 CFR 101.4", portion.us_statement),
            _statement("European Union, Regulation 1169/2011", portion.eu_statement),
        ),
        caveats=portion.caveats,
        working=working_lines(portion),
    )


def _view(caption: str, cells: Sequence[Sequence[str]]) -> TableView:
    head, *rows = (tuple(row) for row in cells)
    return TableView(caption=caption, head=head, rows=tuple(rows))


def _nutrition(cells: Sequence[Sequence[str]]) -> list[TableView]:
    """One table for each declaration, without the columns that it leaves empty."""
    starts = [place for place, row in enumerate(cells) if row[0] in HEADED]
    tables = []
    for start, end in zip(starts, [*starts[1:], len(cells)], strict=True):
        block = cells[start:end]
        kept = [place for place in range(len(block[0])) if place == 0 or block[0][place]]
        rows = [[row[place] for place in kept] for row in block]
        caption, rows[0][0] = rows[0][0], "Nutrient"
        tables.append(_view(caption, rows))
    return tables


def _statement(name: str, statement: IngredientStatement) -> StatementView:
    text = Markup("").join(
        Markup("<strong>{}</strong>").format(piece.text) if piece.allergen else escape(piece.text)
        for piece in statement.pieces
    )
    return StatementView(name=name, text=text, lines=(*allergen_lines(statement), *statement.notes))


def portion_pdf(portion: Portion, typesetter: Typesetter, language: str) -> bytes:
    """The page for print, tagged.

    Raises:
        LayoutError: the typesetter warned.
    """
    return scoped(
        typesetter.write(typesetter.lay_out(_page(portion, typesetter.templates, language, ""), {}))
    )


def portion_html(portion: Portion, templates: Path, language: str) -> str:
    """The page for a browser, self-contained."""
    return _page(portion, templates, language, Markup(whole_style(templates, STYLE)))  # the house's own file


def _page(portion: Portion, templates: Path, language: str, style: str) -> str:
    template = environment(templates).get_template("portion/portion.html.j2")
    return template.render(view=portion_view(portion), language=language, style=style)
