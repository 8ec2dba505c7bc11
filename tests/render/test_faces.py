"""A word of a title is set in the face of titles, or not at all."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from cardsmith.engine.products.printing import does_not_print
from cardsmith.finding import Where
from cardsmith.house.style import House
from cardsmith.render.audit import TextRun
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.faces import StrangeFace, need_letters
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card

HERE = Where(file="recipe.yaml")


def run(text: str, family: str = "Spectral") -> TextRun:
    return TextRun(
        page=1, text=text, left=0, right=9, top=0, baseline=9, marker=False, furniture=False, family=family
    )


@pytest.mark.parametrize("title", ["Борщ", "Crème brûlée", "Ćevapi & ğ", "180 °C → ½"])
def test_letters_that_the_face_has_pass(title: str, templates: Path) -> None:
    """Signs that are no letters may come from another face: an arrow has no serif."""
    need_letters([run(title)], templates)


def test_text_may_be_greek_where_its_own_face_is(templates: Path) -> None:
    need_letters([run("Ελιά", family="Fira Sans")], templates)


def test_a_face_that_sets_everything_lacks_nothing_beside_it(templates: Path) -> None:
    need_letters([run("Ελιά", family="Alegreya Sans")], templates / "looks" / "plain")


def test_a_second_face_of_titles_may_have_them(templates: Path, tmp_path: Path) -> None:
    """One that the house names for it: here the plain look's, which has Greek."""
    shutil.copytree(templates / "fonts", tmp_path / "fonts")
    shutil.copytree(templates / "looks" / "plain" / "fonts", tmp_path / "fonts", dirs_exist_ok=True)
    sheet = (templates / "look.css").read_text(encoding="utf-8")
    first = '--display: "Spectral", '
    assert first in sheet
    (tmp_path / "look.css").write_text(sheet.replace(first, f'{first}"Alegreya Sans", '), encoding="utf-8")
    need_letters([run("Ελιά")], tmp_path)


def test_a_greek_title_is_refused_with_its_remedy(
    cards: dict[str, Callable[[], Card]], house: House, typesetter: Typesetter
) -> None:
    card = cards["short"]()
    greek = replace(card, recipe=replace(card.recipe, title="Ελιά and samphire omelet"))
    with pytest.raises(StrangeFace, match="Spectral, has no letters for “Ελιά”") as caught:
        lay_out_card(card_view(greek, house), typesetter, house.card, {})
    found = does_not_print(HERE, caught.value)
    assert found.name == "card-does-not-fit"
    assert 'name its family second in look.css: --display: "Spectral",' in found.instead
