"""What is said of a recipe whose card could not be made: what is wrong, and what helps."""

from __future__ import annotations

import errno

import pytest

from cardsmith.engine.reporting import broken
from cardsmith.finding import CardsmithError


@pytest.mark.parametrize(
    ("fault", "said", "helps"),
    [
        (
            FileNotFoundError(errno.ENOENT, "No such file", "kitchen/templates/site/files/phrases.js"),
            "there is no kitchen/templates/site/files/phrases.js, which this version",
            "cardsmith new",
        ),
        (OSError(errno.ENOSPC, "No space left on device"), "No space left", "build again"),
        (CardsmithError("the dial has no numbers"), "the dial has no numbers", "mend what it names"),
        (ValueError("what"), "ValueError: what", "a fault of cardsmith"),
    ],
)
def test_what_is_said_of_a_card_that_could_not_be_made(fault: Exception, said: str, helps: str) -> None:
    found = broken("recipes/rye/recipe.yaml", fault)
    assert said in found.what
    assert helps in found.instead
