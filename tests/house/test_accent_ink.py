"""The second ink in a house file, and what of it each press gets."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.house.printers import NO_ACCENT_INK, AccentInk, printer
from cardsmith.house.style import read_house
from cardsmith.render.press.accent import NO_ACCENT, accent_on

ROOT = Path(__file__).parents[2]
HOUSE = (ROOT / "templates/house.yaml").read_text(encoding="utf-8")
LINE = next(line for line in HOUSE.splitlines() if line.startswith("accent_ink:"))
TEMPLATES = ROOT / "templates"


def ink(text: str) -> AccentInk:
    return read_house(HOUSE.replace(LINE, f"accent_ink: {text}" if text else "")).accent_ink


def test_a_spot_ink_and_what_stands_for_it() -> None:
    found = ink("{name: Harbour blue, cmyk: [90, 45.5, 45, 35]}")
    assert found.name == "Harbour blue"
    assert found.cmyk == (Fraction(9, 10), Fraction(91, 200), Fraction(9, 20), Fraction(7, 20))


def test_a_house_may_have_none() -> None:
    assert ink("") == NO_ACCENT_INK


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("{name: Harbour}", "cmyk"),
        ("{name: Harbour, cmyk: [90, 45, 45]}", "it takes cyan, magenta, yellow and black"),
        ("{name: Harbour, cmyk: [0, 0, 0, 0]}", "not all 0"),
        ("{name: Harbour, cmyk: [120, 0, 0, 0]}", "“120” is not a share of an ink"),
        ("{name: Black, cmyk: [90, 45, 45, 35]}", "“Black” is the name of another plate"),
        ("{cmyk: [90, 45, 45, 35]}", "of more than two inks, prints with coloured or ragged edges"),
        ("{cmyk: [60, 40, 0, 0]}", "type in a build of tints"),
        ("{name: H, cmyk: [90, 45, 45, 35], printers: [digital]}", "to which this house sends no cards"),
    ],
)
def test_what_no_press_can_print_is_refused(text: str, told: str) -> None:
    with pytest.raises(CardsmithError, match=told):
        ink(text)


def test_a_press_gets_a_plate_a_build_or_neither() -> None:
    spot = AccentInk(name="Harbour", cmyk=(Fraction(9, 10), Fraction(0), Fraction(1), Fraction(1, 5)))
    here = AccentInk(name=spot.name, cmyk=spot.cmyk, printers=("offset",))
    build = AccentInk(cmyk=(Fraction(1), Fraction(0), Fraction(3, 10), Fraction(0)))
    offset, digital = printer("offset"), printer("digital")
    assert accent_on(spot, TEMPLATES, digital).spot == "Harbour"
    assert accent_on(here, TEMPLATES, offset).spot == "Harbour"
    elsewhere = accent_on(here, TEMPLATES, digital)
    assert (elsewhere.spot, elsewhere.fine, elsewhere.inks) == ("", False, (0.9, 0, 1, 0.2))
    assert accent_on(build, TEMPLATES, digital).fine
    assert accent_on(NO_ACCENT_INK, TEMPLATES, offset) == NO_ACCENT
    assert accent_on(spot, TEMPLATES, offset).screen == (0x17, 0x52, 0x5C)


def test_a_black_look_has_nothing_for_a_second_ink() -> None:
    spot = AccentInk(name="Harbour", cmyk=(Fraction(1), Fraction(0), Fraction(0), Fraction(0)))
    with pytest.raises(CardsmithError, match="--accent is a grey"):
        accent_on(spot, TEMPLATES / "looks" / "plain", printer("offset"))
