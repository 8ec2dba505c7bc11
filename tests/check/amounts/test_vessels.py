from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.check.amounts.vessels import Vessel, vessels
from tests.check.bench import field


def read(text: str) -> tuple[Vessel, ...]:
    return tuple(vessels(field(text), 0))


@pytest.mark.parametrize(
    ("text", "sort", "told", "count"),
    [
        ("Butter a 9-inch round cake pan, 2 inches deep.", "pan", "9-inch round cake pan", 1),
        ("Line two 8-inch (20 cm) round cake pans.", "pan", "8-inch (20 cm) round cake pans", 2),
        ("Lay it in a 9-by-5-inch loaf pan.", "pan", "9-by-5-inch loaf pan", 1),
        ("Line a 20 cm square tin.", "pan", "20 cm square tin", 1),
        ("Scrape into a 9-by-13-inch baking dish.", "pan", "9-by-13-inch baking dish", 1),
        ("Line a 12-cup muffin pan.", "pan", "12-cup muffin pan", 12),
        ("Line two 12-cup muffin pans.", "pan", "12-cup muffin pans", 24),
        ("Line a loaf pan (9 x 5 inches).", "pan", "9 x 5 inches pan", 1),
        ("Stand four 180 ml ramekins in a pan.", "cup", "180 ml ramekins", 4),
        ("Divide among 6 small 200 ml glasses.", "cup", "200 ml glasses", 6),
        ("Ladle into four clean 250 ml jars.", "cup", "250 ml jars", 4),
        ("Melt it in a wide 5-quart ovenproof pot.", "pot", "5-quart ovenproof pot", 1),
    ],
)
def test_vessel_is_read(text: str, sort: str, told: str, count: int) -> None:
    (one,) = read(text)
    assert (one.sort, one.told, one.count) == (sort, told, count)


@pytest.mark.parametrize(
    "text",
    [
        "Line a half-sheet pan.",
        "Heat a 10-inch frying pan.",
        "Line a 9-inch (23 cm) deep pie plate.",
        "Line a 9-inch round tart pan.",
        "Cut into 5 cm squares and set them on a pan.",
        "Add 2 cups of stock to the pot.",
        "Line a baking pan.",
    ],
)
def test_what_is_no_vessel_for_batter(text: str) -> None:
    assert read(text) == ()


# Cups to the brim by the trade's pan tables (common practice), and a little more since our walls are upright:
# 9 in round 8 to 8⅔; 8 in square 8; 9 × 5 in loaf 8 to 9⅓; 8½ × 4½ in loaf 6 to 7; 13 × 9 in 14 to 16.
@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("a 9-inch round cake pan", "8", "9"),
        ("an 8-inch square baking pan", "8", "9"),
        ("a 9-by-5-inch loaf pan", "8", "9.5"),
        ("an 8.5-by-4.5-inch loaf pan", "6", "7.5"),
        ("a loaf pan (8.5 by 4.5 inches)", "6", "7.5"),
        ("a square pan (8 inches)", "8", "9"),
        ("a 13-by-9-inch baking pan", "14", "16.3"),
    ],
)
def test_volumes_against_pan_tables(text: str, low: str, high: str) -> None:
    (one,) = read(f"Line {text}.")
    assert Fraction(low) <= one.volume / Fraction("236.588") <= Fraction(high)


def test_depth_written_beside_the_pan_counts() -> None:
    (deep,) = read("Butter a 9-inch round cake pan, 3 inches deep.")
    (plain,) = read("Butter a 9-inch round cake pan.")
    assert deep.volume == plain.volume * Fraction("76.2") / Fraction("50.8")
