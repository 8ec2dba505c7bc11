"""What is asked of a machine: each lack is told with what to do about it."""

from __future__ import annotations

import pytest

from cardsmith.engine.machine import ready
from cardsmith.engine.machine.ready import Requirement

FOUND = {one.file: "1.50.12" if one.least else "" for one in ready.SYSTEM_LIBRARIES}
EVERY = frozenset(ready.GLYPHS)


def _lacks(answers: object) -> list[str]:
    assert not isinstance(answers, Requirement)
    return [f"{one.asked}: {one.found}; {one.instead}" for one in answers if not one.fine]  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("version", "fine"), [((3, 11, 0), True), ((3, 12, 1), True), ((4, 0), True), ((3, 9, 18), False)]
)
def test_python_is_new_enough(version: tuple[int, ...], fine: bool) -> None:
    answer = ready.python(version, ">=3.11")
    assert answer.fine is fine
    assert fine or answer.instead == "install Python 3.11 or newer"


def test_needs_are_read_as_a_package_states_them() -> None:
    told = ["click>=8.1", "weasyprint==70.0", "fonttools[woff]>=4.59.2", 'pytest>=9; extra == "test"', "odd"]
    assert ready.needs(told) == {
        "click": (">=", "8.1"), "weasyprint": ("==", "70.0"), "fonttools": (">=", "4.59.2"),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("need", "found", "fine"),
    [
        ((">=", "8.1"), "8.1", True),
        ((">=", "8.1"), "8.1.0", True),
        ((">=", "8.1"), "8.10", True),  # as numbers, not as text
        ((">=", "8.1.0"), "8.1", True),
        ((">=", "8.1"), "9.0rc1", True),
        ((">=", "8.1"), "8.0.9", False),
        ((">=", "8.1"), "", False),
        (("==", "70.0"), "70", True),
        (("==", "70.0"), "70.1", False),
        (("==", "70.0"), "69.0", False),
    ],
)
def test_a_library_is_there_and_new_enough(need: tuple[str, str], found: str, fine: bool) -> None:
    (answer,) = ready.libraries({"click": need}, {"click": found} if found else {})
    assert answer.fine is fine
    assert fine or answer.instead == f"python -m pip install 'click{need[0]}{need[1]}'"
    assert answer.found == (found or "not there")


def test_a_sound_machine_lacks_no_library_of_the_system() -> None:
    assert _lacks(ready.system_libraries(FOUND)) == []


@pytest.mark.parametrize("file", FOUND)
def test_a_library_of_the_system_that_is_absent_is_told_with_its_package(file: str) -> None:
    (told,) = _lacks(ready.system_libraries(FOUND | {file: None}))
    (wanted,) = (one for one in ready.SYSTEM_LIBRARIES if one.file == file)
    assert told.startswith(f"{wanted.name}: not there; on Debian or Ubuntu, apt-get install {wanted.debian};")


def test_a_pango_too_old_is_told() -> None:
    (told,) = _lacks(ready.system_libraries(FOUND | {"libpango-1.0.so.0": "1.42.4"}))
    assert told.startswith("Pango: 1.42.4; needs 1.44: on Debian or Ubuntu, apt-get install libpango-1.0-0")


@pytest.mark.parametrize(
    ("there", "told"),
    [
        ({"FiraSans-Regular.ttf": EVERY}, []),
        ({"FiraSans-Regular.ttf": EVERY - {"⅛"}, "Spectral-Regular.ttf": frozenset("⅛")}, []),
        (
            {"FiraSans-Regular.ttf": EVERY - {"⅛", "°"}},
            ["characters of a card: no font has ⅛ °; put a font that has them into fonts"],
        ),
        (
            {"FiraSans-Regular.ttf": EVERY, "FiraSans-Bold.ttf": None},
            ["font FiraSans-Bold.ttf: cannot be read; its file is damaged; copy it again from where it came"],
        ),
        (
            {"Spectral-Regular.ttf": EVERY},
            [
                "typeface Fira Sans: not there; put FiraSans-Regular.ttf into fonts, "
                "or name another in look.css"
            ],
        ),
    ],
)
def test_the_fonts_of_the_house(there: dict[str, frozenset[str] | None], told: list[str]) -> None:
    assert _lacks(ready.fonts(there, ("Fira Sans", "Fira Sans"), "fonts")) == told


@pytest.mark.parametrize(
    ("data", "found"), [(b"\0" * 36 + b"acsp", "there"), (None, "not there"), (b"<html>", "cannot be read")]
)
def test_a_colour_profile_is_one(data: bytes | None, found: str) -> None:
    answer = ready.profile("a.icc", data)
    assert (answer.found, answer.fine) == (found, found == "there")


@pytest.mark.parametrize(
    ("answer", "line"),
    [
        (ready.room(ready.ROOM, "build"), "ready  room for build: 600 MB free"),
        (ready.room(1, "build"), "LACKS  room for build: 0 MB free; make room: a build may need 600 MB"),
        (ready.writable(True, "build"), "ready  build: may be written"),
        (
            ready.writable(False, "build"),
            "LACKS  build: may not be written; give yourself the right to it, or",
        ),
        (ready.terminal("utf-8"), "ready  terminal: utf-8"),
        (ready.terminal("ascii"), "LACKS  terminal: ascii: no ½ and no °; set PYTHONUTF8=1, or"),
        (ready.terminal(""), "LACKS  terminal: unknown: no ½ and no °; set PYTHONUTF8=1, or"),
        (ready.house(""), "ready  house style: read"),
        (ready.house("house.yaml: bad"), "LACKS  house style: house.yaml: bad; mend it as it says"),
        (ready.processors(2), "ready  processors: 2, so many cards at a time"),
    ],
)
def test_the_rest_is_a_line_each(answer: Requirement, line: str) -> None:
    assert answer.line().startswith(line)
