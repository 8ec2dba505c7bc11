from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest

from cardsmith.measure.larder import load_larder
from cardsmith.portion.portion import Portion, portion
from cardsmith.recipe.load import read_recipe
from cardsmith.render.papers.portion import STYLE, portion_html, portion_pdf, portion_view
from cardsmith.render.typesetter import Typesetter

TEMPLATES = Path(__file__).parents[3] / "templates"
TEXT = """
title: "Butter & <b>honey</b> cake"
kind: butter-cake
yield: {makes: 1 cake, serves: 8, piece: 500 g}
ingredients: [200 g cake flour, 200 g unsalted butter, 100 g honey, 100 g rolled oats]
steps: [Bake it.]
"""


@pytest.fixture(scope="module")
def found() -> Portion:
    recipe, _ = read_recipe("a-cake", TEXT.encode(), "recipe.yaml", load_larder())
    assert recipe is not None
    return portion(recipe, load_larder())


def test_each_declaration_has_its_table_without_empty_columns(found: Portion) -> None:
    us, eu = portion_view(found).nutrition
    assert us.head == ("Nutrient", "a portion", "% Daily Value", "before rounding")
    assert eu.head == ("Nutrient", "per 100 g", "a portion", "before rounding")
    assert len(us.rows) == 14
    assert len(eu.rows) == 9
    assert all(len(row) == len(table.head) for table in (us, eu) for row in table.rows)


def test_the_page_escapes_what_an_author_wrote_and_emphasises_allergens(found: Portion) -> None:
    page = portion_html(found, TEMPLATES, "en-US")
    assert "<b>honey" not in page
    assert "(<strong>milk</strong>)" in page
    assert "at least" in page  # sugars of oats
    assert "http" not in page


def test_the_page_prints_tagged_and_the_same_twice(found: Portion, tmp_path: Path) -> None:
    typesetter = Typesetter(TEMPLATES, tmp_path, STYLE)
    once, again = (portion_pdf(found, typesetter, "en-US") for _ in range(2))
    assert once == again
    with pikepdf.open(io.BytesIO(once)) as document:
        assert document.Root.MarkInfo.Marked
        assert 1 <= len(document.pages) <= 3
