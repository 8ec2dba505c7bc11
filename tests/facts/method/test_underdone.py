"""Words that leave the inside of a food underdone, and near misses."""

from __future__ import annotations

import pytest

from cardsmith.facts.method.underdone import underdone

LEFT = (
    "still a touch pink by the bone",
    "the juices should be rosy",
    "blood-red at the centre",
    "leave a pink line down the middle",
    "the meat near the bone will look uncooked",
    "cook for 6 minutes for medium-rare",
    "the middle should still be cool and glassy when you peek",
    "until just shy of cooked through",
    "leave the inside raw",
    "until nearly cooked, with a pink core",
)
DONE = (
    "until the pink has gone from the surface",
    "until the centre is no longer pink or soft",
    "pink peppercorns scattered in the middle",
    "put the red pepper in the centre",
    "cut to the centre to check that nothing is raw",
    "if the juices are still pink, give it 5 minutes more",
    "chill until the centre is cold and firm",
    "put the lemon inside the cold bird",
    "the inside of the pan should be warm",
    "a rare-breed bird tastes best",
)


@pytest.mark.parametrize("text", LEFT)
def test_words_that_leave_it_underdone(text: str) -> None:
    assert underdone(text) is not None


@pytest.mark.parametrize("text", DONE)
def test_words_that_do_not(text: str) -> None:
    assert underdone(text) is None
