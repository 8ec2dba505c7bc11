"""Fractions as they are heard: never another number than the one that is seen."""

from __future__ import annotations

import pytest
from markupsafe import Markup

from cardsmith.site.aloud import aloud, fractions_in, spoken
from tests.pace import within


@pytest.mark.parametrize(
    ("seen", "heard"),
    [
        ("½ cup", "one half cup"),
        ("1½ cups", "one and a half cups"),
        ("12⅛", "twelve and an eighth"),
        ("250½", "250 and a half"),
        ("15⁄16 inch", "15 sixteenths inch"),
        ("1⁄16 inch", "one sixteenth inch"),
        ("11⁄2", "11 over 2"),
        ("1\u20097⁄32 inches", "one and 7 thirty-seconds inches"),
        ("2 1⁄16", "two and a sixteenth"),
        ("bake at 350 1⁄16", "bake at 350 and a sixteenth"),
        ("9" * 5_000 + "½", "9" * 5_000 + " and a half"),  # more digits than Python makes a number of
        ("no 12 fractions", "no 12 fractions"),
    ],
)
def test_what_is_heard_is_what_is_seen(seen: str, heard: str) -> None:
    assert spoken(seen) == heard


def test_fractions_are_found_with_their_whole_numbers() -> None:
    assert fractions_in("1½ cups, 15⁄16 inch, 1\u20097⁄32 and 12") == ("1½", "15⁄16", "1\u20097⁄32")


def test_tags_and_attributes_stay() -> None:
    told = aloud(Markup('<b title="½">15⁄16</b>'))
    assert told.startswith('<b title="½"><span aria-hidden="true">15⁄16</span>')


@pytest.mark.parametrize("piece", ["9", "1 ", "1\u2009", "⁄", "1⁄", "½", "<"])
def test_long_runs_take_as_long_as_they_are(piece: str) -> None:
    with within(1):
        spoken((piece * 40_000)[:40_000])
