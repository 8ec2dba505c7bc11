"""A press file's version, as it is written and read back."""

from __future__ import annotations

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.render.press.version import Version, read_version

RECIPE, MARK = "caraway-rye-crackers", "3f9a1c22"


@pytest.mark.parametrize(
    ("version", "text", "short"),
    [
        (Version(recipe=RECIPE, mark=MARK, proof=2, date="2026-04-02"),
         "caraway-rye-crackers · version 3f9a1c22 · proof 2 · 2026-04-02", "3f9a1c22 proof 2"),
        (Version(recipe=RECIPE, mark=MARK, date="2026-04-02"),
         "caraway-rye-crackers · version 3f9a1c22 · no proof issued · 2026-04-02", "3f9a1c22"),
        (Version(recipe=RECIPE, mark=MARK, proof=12),
         "caraway-rye-crackers · version 3f9a1c22 · proof 12 · undated", "3f9a1c22 proof 12"),
        (Version(recipe=RECIPE, mark=MARK),
         "caraway-rye-crackers · version 3f9a1c22 · no proof issued · undated", "3f9a1c22"),
    ],
)  # fmt: skip
def test_a_version_reads_back_as_it_was_written(version: Version, text: str, short: str) -> None:
    assert str(version) == text
    assert version.short == short
    assert read_version(text) == version


@pytest.mark.parametrize("text", ["", "caraway-rye-crackers", "a · version b c · proof 2 · undated"])
def test_what_is_no_version_is_refused(text: str) -> None:
    with pytest.raises(CardsmithError, match="names no version of a recipe; build the card again"):
        read_version(text)
