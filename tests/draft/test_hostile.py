"""Texts that no one sends by mistake end in seconds, with a clear error or with every line accounted for."""

from __future__ import annotations

import pytest

from cardsmith.draft.drafting import draft_of
from cardsmith.finding import CardsmithError
from cardsmith.measure.larder import Larder, load_larder

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
