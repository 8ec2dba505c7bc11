"""A draft put into a file that is there: nothing of the file goes, nothing of the draft is lost."""

from __future__ import annotations

import pytest

from cardsmith.draft.making.merged import LEAD, merged
from cardsmith.finding import CardsmithError

OWN = """\
# my own remark
title: Leek broth
yield: {serves: 4}

ingredients:
  - 200 g leeks   # the pale part
# what follows is old
storage: Keeps two days.
"""
DRAFT = """\
# Drafted from x.txt; “line 3” in a comment is line 3 there.
title: Leek and barley broth
time: {total: 1 h}
ingredients:
  - 200 g leeks
  - 100 g pearl barley
steps:
  # line 7: is this right?
  - Simmer for 1 hour.
"""


def test_what_the_file_lacks_comes_in_at_its_place() -> None:
    text = merged(OWN, DRAFT, "recipe.yaml")
    rows = text.split("\n")
    assert rows.index("time: {total: 1 h}") == rows.index("yield: {serves: 4}") + 2
    assert "  - Simmer for 1 hour." in rows
    assert rows.index("steps:") < rows.index("storage: Keeps two days.")


def test_what_the_file_says_stays_and_the_draft_stands_beside_it() -> None:
    text = merged(OWN, DRAFT, "recipe.yaml")
    assert all(row in text.split("\n") for row in OWN.split("\n"))
    assert f"{LEAD}title: Leek and barley broth\ntitle: Leek broth" in text
    assert f"{LEAD}ingredients: 100 g pearl barley" in text
    assert f"{LEAD}ingredients: 200 g leeks" not in text
    assert "# line 7: is this right?" in text


def test_a_comment_stays_with_its_key_whatever_the_order_of_the_file() -> None:
    own = "# head\nsteps: [Simmer.]\n# of the list\ningredients: [200 g leeks]\n\n# a title\ntitle: Broth\n"
    text = merged(own, DRAFT, "recipe.yaml")
    rows = text.split("\n")
    assert rows[rows.index("# of the list") + 1] == f"{LEAD}ingredients: 100 g pearl barley"
    assert rows[rows.index("# a title") + 1] == f"{LEAD}title: Leek and barley broth"
    assert [row for row in rows if row in own.split("\n")] == own.split("\n")
    assert "time: {total: 1 h}" in rows
    assert merged(text, DRAFT, "recipe.yaml") == text


def test_lists_in_parts_are_not_doubled() -> None:
    own = "title: Broth\nparts:\n  - name: Broth\n    ingredients: [200 g leeks]\n    steps: [Simmer.]\n"
    text = merged(own, DRAFT, "recipe.yaml")
    assert "\ningredients:" not in text
    assert f"{LEAD}ingredients: 100 g pearl barley" in text
    assert f"{LEAD}steps: Simmer for 1 hour." in text


def test_line_ends_of_the_file_stay() -> None:
    text = merged(OWN.replace("\n", "\r\n"), DRAFT, "recipe.yaml")
    assert text == merged(OWN, DRAFT, "recipe.yaml").replace("\n", "\r\n")


def test_a_second_time_changes_nothing() -> None:
    once = merged(OWN, DRAFT, "recipe.yaml")
    assert merged(once, DRAFT, "recipe.yaml") == once


def test_a_file_without_keys_is_refused() -> None:
    with pytest.raises(CardsmithError, match="no keys"):
        merged("just words\n", DRAFT, "recipe.yaml")
