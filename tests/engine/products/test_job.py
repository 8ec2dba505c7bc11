"""One recipe's job: what of a portion stands on its card, its page and in its data."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from cardsmith.engine.freshness.inputs import SCOPES
from cardsmith.engine.products import job
from cardsmith.engine.products.job import Job, Made, Material, make
from cardsmith.house.style import load_house

ROOT = Path(__file__).parents[3]
RECIPE = """\
title: Plain salted crackers
kind: cracker
headnote: Thin and dry, for the tin by the kettle, and for soft cheese when there is some.
yield: {makes: 40 crackers, serves: 8, piece: 6 g}
time: {active: 20 min, total: 1 h}
equipment: [half-sheet pan, rolling pin]
ingredients: [200 g all-purpose flour, 4 g fine salt, 100 g water, 30 g olive oil]
steps:
  - Heat the oven to 180 °C with a rack in the middle.
  - Stir the flour, salt, water and olive oil to a dough, and roll it out to 2 mm on the half-sheet pan.
  - Bake until dry and crisp all the way through, 20 to 25 minutes.
storage: Keeps two weeks in a tin.
"""


@pytest.fixture
def made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Maker:
    return Maker(tmp_path, monkeypatch)


class Maker:
    """Makes the crackers in a house that wants the line of nutrition here or there."""

    def __init__(self, root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.folder, self.root = root / "recipes" / "crackers", root
        self.folder.mkdir(parents=True)
        (self.folder / "recipe.yaml").write_text(RECIPE, encoding="utf-8")
        self.materials: list[Material] = []
        pages = tuple(one for one in job.PRODUCTS if one.name == "page")
        rests_on = pages[0].rests_on
        seen = replace(pages[0], rests_on=lambda one: (self.materials.append(one), rests_on(one))[1])
        monkeypatch.setattr(job, "PRODUCTS", (seen,))

    def __call__(self, *, on_card: bool, on_page: bool) -> Made:
        house = load_house(ROOT)
        style = replace(house.portion, on_card=on_card, on_page=on_page)
        return make(
            Job(
                name="crackers",
                file=self.folder / "recipe.yaml",
                root=self.root,
                house=replace(house, portion=style),
                grounds=dict.fromkeys(SCOPES, ""),
            )
        )

    def printed(self) -> list[str]:
        """The line of nutrition on the printed card made last."""
        return [str(note.text) for note in self.materials[-1].view.notes if note.label == "Nutrition"]


def page_of(found: Made) -> str:
    return found.produced["page"].files["cards/crackers/crackers.html"].decode()


def nutrition_in(page: str) -> dict[str, str]:
    (text,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', page, re.DOTALL)
    told: dict[str, str] = json.loads(text).get("nutrition", {})
    return told


def test_the_page_says_what_its_data_say_of_a_portion(made: Maker) -> None:
    page = page_of(made(on_card=False, on_page=True))
    told = nutrition_in(page)
    assert told["servingSize"] == "5 crackers, 30 g"
    shown = re.sub(r"<[^>]+>", "", page).replace("\u00a0", " ").replace("\u202f", " ")
    assert "an estimate from tables" in shown
    for name in ("fatContent", "carbohydrateContent", "proteinContent", "sodiumContent", "sugarContent"):
        assert told[name] in shown
    assert told["calories"].removesuffix(" calories") + " kcal" in shown
    assert not made.printed()


def test_the_card_has_the_line_where_the_house_wants_it(made: Maker) -> None:
    page = page_of(made(on_card=True, on_page=False))
    assert len(made.printed()) == 1
    assert not nutrition_in(page)
    assert "estimate from tables" not in page


def test_a_house_may_want_it_nowhere(made: Maker) -> None:
    found = made(on_card=False, on_page=False)
    assert not nutrition_in(page_of(found))
    assert not made.printed()
    assert "recipes/crackers/portion.yaml" not in found.reads


def test_a_statement_that_cannot_be_read_stops_the_card(made: Maker) -> None:
    """A figure left out would print a wrong portion."""
    (made.folder / "portion.yaml").write_text("finished: heaps\n", encoding="utf-8")
    found = made(on_card=False, on_page=True)
    assert not found.produced
    assert {one.where.file for one in found.findings if one.name == "unreadable-measure"} == {
        "recipes/crackers/portion.yaml"
    }


def test_what_the_kitchen_states_changes_the_line(made: Maker) -> None:
    plain = nutrition_in(page_of(made(on_card=False, on_page=True)))
    (made.folder / "portion.yaml").write_text("eaten: {olive oil: 10 %}\n", encoding="utf-8")
    less = nutrition_in(page_of(made(on_card=False, on_page=True)))
    assert float(less["fatContent"].split()[0]) < float(plain["fatContent"].split()[0])
