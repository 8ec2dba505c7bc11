"""The nouns that name a raw food before all."""

from __future__ import annotations

from cardsmith.reference import table

BY_SORT = {"Fish", "Crustaceans", "Mollusks", "Nuts", "Game meat"}  # filed by their second name: Fish, bass


def test_filed_nouns_are_those_that_the_published_table_files_foods_by() -> None:
    filed = {}
    for row in table("usda_sr28/foods"):
        first, second, *_ = (*row["description"].split(","), "")
        name = (second if first in BY_SORT else first).strip()
        filed.setdefault(name.lower(), name)
    stands = [row["noun"] for row in table("head_nouns") if row["stands_for"]]
    found = {noun: filed[one] for noun in stands for one in (f"{noun}es", f"{noun}s", noun) if one in filed}
    assert {row["noun"]: row["filed_as"] for row in table("filed_nouns")} == found
