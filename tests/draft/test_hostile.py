"""Texts that no one sends by mistake end in seconds, with a clear error or with every line accounted for."""

from __future__ import annotations

import random

import pytest

from cardsmith.draft.drafting import draft_of
from cardsmith.finding import CardsmithError
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.recipe.load import read_recipe
from tests.draft.layouts import MARKS, OTHERS

TEXTS = {
    "commas": "2 eggs, " * 20_000,
    "stars": "*" * 100_000,
    "emphasis": "_a" * 50_000,
    "hashes": "#" * 100_000 + " x",
    "brackets": "(" * 50_000 + "\n2 eggs",
    "quotes": ">" * 50_000 + "x\n2 eggs",
    "bars": ("a|" * 50 + "\n") * 300,
    "numbers": "1. a " * 10_000,
    "figures": "1" * 100_000,
    "steps": "Step 1: " * 10_000,
    "labels": "Serves: " * 10_000,
    "blanks": "2 eggs" + " " * 100_000 + "1 cup milk",
}


@pytest.fixture(scope="module")
def larder() -> Larder:
    return load_larder()


@pytest.mark.parametrize("name", TEXTS)
def test_a_hostile_text_ends_in_an_error_or_an_account(name: str, larder: Larder) -> None:
    try:
        drafted = draft_of(TEXTS[name].encode(), f"{name}.txt", larder)
    except CardsmithError as refused:
        assert str(refused).startswith(f"{name}.txt")  # noqa: PT017 - or it is read, which is as good
    else:
        assert drafted.count.startswith(f"{len(drafted.draft.lines)} line")


@pytest.mark.parametrize("seed", range(60))
def test_lines_in_any_order_are_all_kept_in_a_file_that_reads(seed: int, larder: Larder) -> None:
    """A word lost raises; so does what no reader of lines expects."""
    dice = random.Random(seed)
    pool = [*(text for texts in OTHERS.values() for text in texts), *[""] * 40]
    rows = [_roughened(dice, dice.choice(pool), dice.choice(pool)) for _ in range(dice.randint(3, 25))]
    try:
        files = draft_of("\n".join(rows).encode(), "any.txt", larder).files
    except CardsmithError:
        return
    for file in files:
        recipe, found = read_recipe(file.name, file.text.encode(), "recipe.yaml", larder)
        assert recipe is not None
        assert not [one for one in found if one.name.startswith("yaml")], file.text


def _roughened(dice: random.Random, text: str, other: str) -> str:
    manner = dice.choice(("", "", "", "mark", "number", "two", "columns", "quoted", "heading", "capitals"))
    told = {
        "mark": f"{dice.choice(MARKS)}{text}", "number": f"{dice.randint(1, 9)}. {text}",
        "two": f"{text} {other}", "columns": f"{text}     {other}", "quoted": f"> {text}",
        "heading": f"## {text}", "capitals": text.upper(),
    }  # fmt: skip
    return told.get(manner, text)
