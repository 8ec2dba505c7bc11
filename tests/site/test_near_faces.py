"""The faces that stand in until the house's type is there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cardsmith.site.assets import style
from cardsmith.site.near_faces import metrics, with_near_faces

TEMPLATES = Path(__file__).parents[2] / "templates"
STARTERS = sorted((TEMPLATES / "looks").iterdir())


@pytest.mark.parametrize("templates", [TEMPLATES, *STARTERS], ids=lambda folder: folder.name)
def test_every_face_has_stand_ins_named_behind_it(templates: Path) -> None:
    sheets = [(templates / name).read_text("utf-8") for name in ("look.css", "look-web.css")]
    css = with_near_faces("\n".join(sheets), templates)
    loaded = [rule for rule in css.split("@font-face")[1:] if "src: url" in rule]
    for family in {re.findall(r'font-family: "([^"]+)"', rule)[0] for rule in loaded}:
        assert f'"{family} near 1"' in css.split("@font-face")[0]
    scales = [float(share) for share in re.findall(r"size-adjust: ([0-9.]+)%", css)]
    assert len(scales) >= 3 * css.count("src: url")
    assert all(60 < scale < 150 for scale in scales)
    assert css.count("font-display: swap") == css.count("src: url")


def test_a_stand_in_is_as_deep_as_its_face() -> None:
    css = str(style(TEMPLATES, "look.css", "look-web.css", fonts="../"))
    rules = [one for one in css.split("@font-face")[1:] if '"Fira Sans near 1"' in one]
    rule = next(one for one in rules if "Bold" not in one)
    told = dict(re.findall(r"(size-adjust|ascent-override|descent-override): ?([0-9.]+)%", rule))
    face = metrics(TEMPLATES / "webfonts/FiraSans-Regular.woff2")
    scale = float(told["size-adjust"]) / 100
    assert float(told["ascent-override"]) / 100 * scale == pytest.approx(face.ascent, abs=0.002)
    assert float(told["descent-override"]) / 100 * scale == pytest.approx(face.descent, abs=0.002)
    # The subset for the web is as wide as the font that it was cut from.
    whole = metrics(TEMPLATES / "fonts/FiraSans-Regular.ttf")
    assert face.width == pytest.approx(whole.width, abs=0.001)


def test_a_page_that_is_one_file_has_its_fonts_inside_and_needs_none() -> None:
    assert "near 1" not in style(TEMPLATES, "look.css", "look-web.css")
