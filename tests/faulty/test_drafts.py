"""Whole faulty drafts: what an author reads, word for word."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.check.report import as_text
from cardsmith.check.run import judge
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from tests.demo import house_of_one_edition

HERE = Path(__file__).parent


def report(name: str) -> str:
    text = (HERE / f"{name}.yaml").read_bytes()
    recipe, read = read_recipe(name, text, f"{name}.yaml", load_larder())
    assert recipe is not None
    verdict = judge(recipe, load_larder(), house_of_one_edition(), read)
    return as_text(verdict.findings, {f"{name}.yaml": text.decode()})


@pytest.mark.parametrize("name", sorted(file.stem for file in HERE.glob("*.yaml")))
def test_report_of_a_faulty_draft(name: str) -> None:
    """To refresh after a wanted change: write the new text into the .txt beside the draft, and read it."""
    assert report(name) == (HERE / f"{name}.txt").read_text(encoding="utf-8")
