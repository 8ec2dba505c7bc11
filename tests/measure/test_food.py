"""One ingredient of the larder: what it mainly is, and where it surely comes from."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardsmith.measure.larder import load_larder

FOODS = load_larder().foods


@pytest.mark.parametrize(
    ("key", "sure"),
    [
        ("curry-paste", {"plant"}),  # some have no shrimp in them
        ("vanilla-ice-cream", {"milk", "plant"}),  # milk always, egg perhaps
        ("fish-sauce", {"fish"}),
        ("walnut", {"plant"}),
    ],
)
def test_an_origin_that_hangs_on_the_maker_is_not_sure(key: str, sure: set[str]) -> None:
    assert FOODS[key].sure_origin == sure


def test_an_origin_is_sure_where_one_of_its_allergens_is() -> None:
    """Perhaps crustaceans, surely molluscs: shellfish whatever is bought."""
    paste = replace(FOODS["curry-paste"], eu_allergens=("?crustaceans", "molluscs"))
    assert "shellfish" in paste.sure_origin


def test_what_a_food_does_not_do_is_none_of_it() -> None:
    assert FOODS["walnut"].share("salt") == 0
    assert not FOODS["walnut"].is_mainly("salt", "water")
    assert FOODS["walnut"].is_mainly("salt", "nut")
