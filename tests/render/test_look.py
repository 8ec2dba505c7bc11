from __future__ import annotations

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
