"""The bar of inks: each solid, half of each, each two on each other, a grey of three."""

from __future__ import annotations

from cardsmith.render.press.patches import patches_of

SOLID = ("1 0 0 0 k", "0 1 0 0 k", "0 0 1 0 k", "0 0 0 1 k")
HALF = ("0.5 0 0 0 k", "0 0.5 0 0 k", "0 0 0.5 0 k", "0 0 0 0.5 k")
OVERPRINTED = ("1 1 0 0 k", "1 0 1 0 k", "0 1 1 0 k")
GREY = ("0.5 0.4 0.4 0 k",)


def test_the_patches_of_four_inks() -> None:
    assert patches_of() == (*SOLID, *HALF, *OVERPRINTED, *GREY)


def test_a_second_ink_has_its_solid_and_its_half_behind_them() -> None:
    assert patches_of("Spot") == (*patches_of(), "/Spot cs 1 scn", "/Spot cs 0.5 scn")
