from __future__ import annotations

import re
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from cardsmith.finding import CardsmithError
from cardsmith.render.look import look


@pytest.mark.parametrize(
    ("house", "text", "display"),
    [(".", "Fira Sans", "Spectral"), ("plain", "Alegreya Sans", "Alegreya Sans")],
)
def test_a_look_names_families_that_its_fonts_have(
    house: str, text: str, display: str, templates: Path
) -> None:
    found = look(templates / house)
    assert (found.text, found.display) == (text, display)
    held = {TTFont(file)["name"].getBestFamilyName() for file in (templates / house / "fonts").glob("*.ttf")}
    assert {found.text, found.display} == held


@pytest.mark.parametrize(
    "text", ["", ':root { --text: "Quay Sans" }', ":root { --text: serif; --display: serif }"]
)
def test_a_look_without_a_family_is_refused(text: str, tmp_path: Path) -> None:
    (tmp_path / "look.css").write_text(text, encoding="utf-8")
    with pytest.raises(CardsmithError, match="names no family; write --"):
        look(tmp_path)


def test_faces_are_named_in_the_look_alone(templates: Path) -> None:
    """Another house's fonts take their place everywhere: on cards, sheets, proofs, reports and plots."""
    families = {
        name
        for house in (".", "plain")
        for name in (look(templates / house).text, look(templates / house).display)
    }
    sheets = [
        file
        for file in templates.rglob("*")
        if file.suffix in {".css", ".j2"} and not file.name.startswith("look")
    ]
    for file in sheets:
        assert not [one for one in families if one in file.read_text(encoding="utf-8")], file
    for file in (templates.parent / "cardsmith").rglob("*.py"):
        text = file.read_text(encoding="utf-8")
        assert not [one for one in families if re.search(rf"font(-family)?[:=][^\n]*{one}", text)], file
