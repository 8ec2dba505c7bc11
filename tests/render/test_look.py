from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from cardsmith.finding import CardsmithError
from cardsmith.render.look import look, need_fonts


@pytest.mark.parametrize(
    ("house", "text", "display"),
    [(".", "Fira Sans", "Spectral"), ("looks/plain", "Alegreya Sans", "Alegreya Sans")],
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
        for house in (".", "looks/plain")
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


@pytest.mark.parametrize("house", [".", "looks/plain"])
def test_a_house_that_is_whole_lacks_no_font(house: str, templates: Path) -> None:
    need_fonts(templates / house)


@pytest.mark.parametrize(
    ("lost", "said"),
    [
        ("fonts/FiraSans-Regular.ttf", 'look.css: --text is "Fira Sans"; there is no {}'),
        ("fonts/FiraSans-SemiBold.ttf", "look-web.css:6: a page takes webfonts/FiraSans-SemiBold.woff2, "),
        ("webfonts/Spectral-Italic.woff2", "look-web.css:4: a page takes {}; there is no {}"),
    ],
)
def test_a_lost_font_is_told_with_the_file_that_names_it(
    lost: str, said: str, templates: Path, tmp_path: Path
) -> None:
    for name in ("fonts", "webfonts"):
        shutil.copytree(templates / name, tmp_path / name)
    for name in ("look.css", "look-web.css"):
        shutil.copy(templates / name, tmp_path / name)
    need_fonts(tmp_path)
    (tmp_path / lost).unlink()
    with pytest.raises(CardsmithError) as refused:
        need_fonts(tmp_path)
    (line,) = str(refused.value).splitlines()
    assert said.replace("{}", lost) in line
    assert line.endswith(f"there is no {lost}: put the file back, or name another")


def test_a_lost_family_is_told_and_names_of_ones_own_for_web_fonts_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / "look.css").write_text('--text: "Quay Sans"; --display: "Pier"', encoding="utf-8")
    (tmp_path / "fonts").mkdir()
    (tmp_path / "fonts/QuaySans-Regular.otf").touch()
    with pytest.raises(CardsmithError, match='--display is "Pier"; there is no fonts/Pier'):
        need_fonts(tmp_path)
    (tmp_path / "fonts/Pier.otf").touch()
    (tmp_path / "look-web.css").write_text('src: url("QuaySans-letters.woff2")', encoding="utf-8")
    (tmp_path / "QuaySans-letters.woff2").touch()
    need_fonts(tmp_path)
