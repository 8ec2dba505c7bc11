"""Which vessel *the pan* is, where several go by the word."""

from __future__ import annotations

import pytest

from cardsmith.edition.names import ASKED
from cardsmith.edition.vessels import Vessels

PANS = Vessels(short="pan", names={"half-sheet pan": "tray", "saucepan": "pan"})
TINS = Vessels(short="pan", names={"roasting pan": "tin", "saucepan": "pan"})
BOTH = ("roasting pan", "saucepan")


@pytest.mark.parametrize(
    ("vessels", "text", "named", "meant"),
    [
        (PANS, "Press flat on the pan.", ("half-sheet pan", "saucepan"), ("tray",)),
        (PANS, "Divide between the pans.", ("half-sheet pan",), ("tray",)),  # alone named by then
        (PANS, "Swirl the pan.", ("saucepan",), ("pan",)),
        (TINS, "Turn it in the pan and bake for an hour.", BOTH, ("tin",)),
        (TINS, "Scrape the pan into a saucepan.", ("roasting pan",), ("tin",)),
        (TINS, "Butter, for the pan", BOTH, ("tin",)),
        (TINS, "Pour hot water into the pan.", BOTH, (ASKED,)),
        (TINS, "Warm the milk in a saucepan, bake, and wash the pan.", ("roasting pan",), (ASKED,)),
        (TINS, "Fry in a pan-roaster.", BOTH, ()),
        (Vessels(short="pan", names={}, unnamed=True), "Scrape into the pan.", (), ("tin",)),
    ],
)
def test_the_pan_is_the_one_that_grammar_tells(
    vessels: Vessels, text: str, named: tuple[str, ...], meant: tuple[str, ...]
) -> None:
    assert vessels.meant(text, named) == meant


def test_a_text_names_its_vessels_by_their_whole_names() -> None:
    assert TINS.named_in("Lift from the roasting pans into the pan.") == ("roasting pan",)
