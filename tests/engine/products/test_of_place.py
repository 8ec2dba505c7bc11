"""What is said of a picture that has no place on its card, or is cut there."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.engine.products.printing import of_place
from cardsmith.finding import Severity, Where
from cardsmith.house.paper import BLEED, card_size
from cardsmith.recipe.model import Photo
from cardsmith.render.card.places import places

LANDSCAPE = Fraction(3, 2)


def photo(place: str = "", focus: str = "") -> Photo:
    return Photo(where=Where(file="recipe.yaml"), file="jar.svg", alt="A jar", place=place, focus=focus)


@pytest.mark.parametrize(
    ("place", "said"), [("", ["photo-left-off"]), ("back", ["photo-left-off"]), ("none", [])]
)
def test_a_picture_never_goes_without_a_query_but_where_the_recipe_says_so(
    place: str, said: list[str]
) -> None:
    found = list(of_place(photo(place), None))
    assert [one.name for one in found] == said
    assert all(one.severity is Severity.WARNING for one in found)


@pytest.mark.parametrize(
    ("place", "focus", "severity"),
    [("back", "", Severity.WARNING), ("back", "30% 50%", Severity.NOTE), ("head", "", None)],
)
def test_a_crop_of_more_than_a_third_says_so(place: str, focus: str, severity: Severity | None) -> None:
    [*_, shown] = places(card_size("5x7"), BLEED, LANDSCAPE, place)
    found = list(of_place(photo(place, focus), shown))
    assert [one.severity for one in found] == ([severity] if severity else [])
    assert all(one.what == "52% of jar.svg is cut off where it stands (back)" for one in found)
