from __future__ import annotations

import pytest
from bench import found, recipe

from cardsmith.check.explain import EXAMPLES, Example, explained
from cardsmith.check.run import CHECKS
from cardsmith.finding import CardsmithError
from cardsmith.recipe.model import Recipe

PLACES = {"line", "step", "list", "method", "card"}


def draft(one: Example, text: str) -> Recipe:
    """A recipe with nothing but the example in it."""
    if one.place == "step":
        return recipe([], text.split(" / "), kind=one.kind)
    lines, _, steps = text.partition(" | ")
    return recipe(
        lines.split("; "), steps.split(" / ") if steps else ["Stir everything together."], kind=one.kind
    )


# What a program can cook from: all but those that show a field of the card.
READABLE = [one for one in EXAMPLES.values() if one.place != "card"]


def test_every_check_has_one_example() -> None:
    """A new check adds its row to cardsmith/reference/check_examples.csv."""
    assert sorted(EXAMPLES) == sorted(one.name for one in CHECKS)


@pytest.mark.parametrize("one", list(EXAMPLES.values()), ids=lambda one: one.name)
def test_example_shows_a_change(one: Example) -> None:
    assert one.place in PLACES
    assert one.faulty
    assert one.mended
    assert one.faulty != one.mended


@pytest.mark.parametrize("one", READABLE, ids=lambda one: one.name)
def test_faulty_example_is_questioned_and_the_mended_one_is_not(one: Example) -> None:
    assert {finding.name for finding in found(one.name, draft(one, one.faulty))} == {one.name}
    assert found(one.name, draft(one, one.mended)) == ()


def test_explaining_gives_why_source_remedy_and_example() -> None:
    assert explained("scale-missing") == (
        "scale-missing (error)\n"
        "  A temperature without its scale; the likely one is offered, never assumed.\n"
        "  why:     350 in one scale burns what 350 in the other bakes.\n"
        "  source:  common practice, no source\n"
        "  instead: write °C or °F\n"
        "  example: Heat the oven to 350.\n"
        "           → Heat the oven to 350 °F.\n"
        "  A reason under accepted: does not silence it at error: only a change of the recipe does."
    )


def test_explaining_an_example_of_a_kind_names_the_kind() -> None:
    assert "  example: 500 g bread flour; 50 g instant yeast (kind: yeast-bread)" in explained("high-yeast")


def test_explaining_an_unknown_check_offers_the_nearest() -> None:
    with pytest.raises(
        CardsmithError, match="there is no check 'scale-mising'; did you mean 'scale-missing'"
    ):
        explained("scale-mising")
    with pytest.raises(CardsmithError, match="`cardsmith explain` lists them all"):
        explained("qqqq")
