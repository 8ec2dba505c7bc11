"""Twenty recipes of the US, printed by weight for the UK and read again from what is printed there.

What comes back is the author's formula: each line within the house's 8 %, each share of the
formula within what the house lets rounding move it.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from cardsmith.finding import Severity, Where
from cardsmith.flow import prepare
from cardsmith.house.style import House, read_house
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import Dimension
from cardsmith.recipe.fields.lines import read_lines
from cardsmith.recipe.model import Ingredient
from cardsmith.recipe.weighed import weigh
from cardsmith.rewrite.wording import short

ROOT = Path(__file__).parents[2]
DEMO = sorted(ROOT.glob("recipes/*/recipe.yaml"))
RECIPES = (*DEMO, *sorted((ROOT / "tests/twins/bases").glob("*.yaml")))[:20]
LEAST = Fraction(1, 20)  # of the formula: a smaller share is held to its own tolerance alone


@cache
def _larder() -> Larder:
    return load_larder()


@cache
def _house() -> House:
    """A British house that weighs everything: no spoon stands in its column."""
    text = (ROOT / "templates/house.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.split("\n") if not line.startswith("editions:")]
    return read_house("\n".join((*lines, "editions: {us: {}, uk: {household: none}}")))


def _grams(line: Ingredient) -> Fraction | None:
    mass = weigh(line, line.amount) if line.amount else None
    return mass.grams if mass else None


def _sizes(line: Ingredient) -> tuple[Quantity, ...]:
    return tuple(one for one in (line.amount, *line.stated) if one)


def _formula(path: Path) -> Mapping[str, tuple[Fraction, Fraction]]:
    """What each weighed line weighs by its author, and as it is read from the British card."""
    name = path.parent.name if path.name == "recipe.yaml" else path.stem
    done = prepare(name, path.read_bytes(), "recipe.yaml", _larder(), _house())
    (british,) = done.editions
    assert british.card
    assert british.recipe
    found = {}
    for part in british.card.parts:
        for place, line in enumerate(part.ingredients):
            if line.amount is None or line.line.food is None:
                continue
            text = f"{short(line.amount.metric)} {line.words}".replace("\u00a0", " ")
            read, told = read_lines(text, Where(file=text), _larder())
            assert not [one for one in told if one.severity is Severity.ERROR], (text, told)
            if line.line.amount and line.line.amount.dimension is Dimension.COUNT:
                assert line.line.amount.low in {one.low for one in _sizes(read[0])}, (
                    text
                )  # so many, as before
                continue
            mine, again = _grams(line.line), _grams(read[0])
            if mine and again:
                found[f"{part.name} {place} {text}"] = (mine, again)
    return found


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_what_is_printed_by_weight_is_the_formula_again(path: Path) -> None:
    formula = _formula(path)
    assert len(formula) >= 3, formula
    for text, (mine, again) in formula.items():
        assert abs(again / mine - 1) <= Fraction(8, 100), text
    mine_all, again_all = (sum(pair[end] for pair in formula.values()) for end in (0, 1))
    for text, (mine, again) in formula.items():
        if mine / mine_all >= LEAST:
            assert abs(again / again_all / (mine / mine_all) - 1) <= Fraction(3, 100), text


def test_there_are_twenty() -> None:
    assert len(RECIPES) == 20
