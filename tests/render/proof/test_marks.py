"""What a proof draws over a card: where something went out is shown, and no mark lies over text."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from cardsmith.flow import prepare
from cardsmith.house.paper import card_size
from cardsmith.house.publication import Publication
from cardsmith.house.start import start
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.proof.changes import ChangeKind, Changes, changes
from cardsmith.proof.fields import ProofField
from cardsmith.render.audit import lines
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import CardView, card_view
from cardsmith.render.proof.card import changed_spots
from cardsmith.render.proof.card_fields import fields, marked
from cardsmith.render.proof.marks import MARGIN, PIXEL, Mark, Spot, drawn, labels
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.numbers import numbers

ROOT = Path(__file__).parents[3]
HOUSE = load_house(ROOT)
PIE = (ROOT / "recipes/apple-blackberry-crumble-pie/recipe.yaml").read_text(encoding="utf-8")
Marks = tuple[Changes, Layout, tuple[Spot, ...], str]  # the last is the size of card
# The type of the demo and of a new publication, one column and two.
SET = [("demo", "5x7"), ("demo", "a5-landscape"), ("plain", "a6")]


def card(text: str) -> tuple[CardView, tuple[ProofField, ...]]:
    found = prepare("pie", text.encode(), "recipe.yaml", load_larder(), HOUSE).card
    assert found is not None
    view = replace(card_view(found, HOUSE), photo=None)
    return view, fields(view, found.recipe, numbers(found, HOUSE))


def without(text: str, *patterns: str) -> str:
    for pattern in patterns:
        text, count = re.subn(pattern, "", text, count=1, flags=re.MULTILINE)
        assert count, pattern
    return text


EDITED = without(
    PIE,
    r"^headnote: >\n(?:  .*\n)+",  # all of it
    r"^      - .*\n(?=      - )",  # the first line of a list
    r"^      - .*\n(?=    steps:)",  # the last one
    r"(?<=    steps:\n)      - .*\n",  # a first step
    r"(?<=[a-z] )[a-z]+ [a-z]+ (?=[a-z]+ [a-z]+)(?=.*\n.*\nstorage)",  # words of a last step
    r"^storage: .*\n(?:  .*\n)*",
)


@pytest.fixture(scope="module", params=SET, ids="-".join)
def marks(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Marks:
    look, size = request.param
    templates = ROOT / "templates"
    if look == "plain":
        publication = Publication(root=tmp_path_factory.mktemp("plain"))
        start(publication, "first-card")
        templates = publication.templates
    setter = Typesetter(templates, tmp_path_factory.mktemp("fonts"))
    _, before = card(PIE)
    view, after = card(EDITED)
    found = changes(before, after)
    style = replace(HOUSE.card, size=card_size(size), cards=3)
    layout = lay_out_card(view, setter, style, {})
    return found, layout, changed_spots(layout, marked(view, found.marks), setter, style, {}), size


def test_every_entry_of_the_list_has_its_mark_and_its_number(marks: Marks) -> None:
    found, layout, spots, name = marks
    assert sum(one.kind is ChangeKind.REMOVED for one in found.listed) == 5
    every = set(range(1, len(found.listed) + 1))
    assert {one.entry for one in spots} == every
    size = card_size(name)
    told = [
        label.text
        for page in range(1, layout.pages + 1)
        for label in labels([one for one in spots if one.page == page], size)
    ]
    assert set(map(int, told)) == every


def boxes(operators: str) -> list[tuple[float, float, float, float]]:
    """Left, foot, right and top of every shape that is filled or stroked."""
    found = []
    corners: list[tuple[float, float]] = []
    held: list[float] = []
    for word in operators.split():
        if re.fullmatch(r"-?[\d.]+", word):
            held.append(float(word))
            continue
        if word in {"m", "l"}:
            corners.append((held[0], held[1]))
        elif word == "re":
            corners += [(held[0], held[1]), (held[0] + held[2], held[1] + held[3])]
        elif word in {"f", "S"}:
            across, up = zip(*corners, strict=True)
            found.append((min(across), min(up), max(across), max(up)))
            corners = []
        held = []
    return found


def test_no_mark_lies_over_text(marks: Marks) -> None:
    """Held against the capitals of every run of text, as the counting of words holds the text itself."""
    _, layout, spots, name = marks
    height = float(card_size(name).height)
    for page in range(1, layout.pages + 1):
        shapes = boxes(drawn([one for one in spots if one.page == page], card_size(name)))
        for line in (one for one in lines(layout.document) if one.page == page):
            left, right = line.left * PIXEL, line.right * PIXEL
            top, foot = height - line.top * PIXEL, height - line.baseline * PIXEL
            over = [
                one for one in shapes if one[0] < right and one[2] > left and one[1] < top and one[3] > foot
            ]
            assert not over, line


def test_what_points_at_a_line_that_went_out_points_between_lines(marks: Marks) -> None:
    found, layout, spots, name = marks
    size = card_size(name)
    gone = [one for one in spots if one.mark.is_gone]
    assert {found.listed[one.entry - 1].kind for one in gone} == {ChangeKind.REMOVED}
    for one in gone:
        (_, foot, _, top), _ = boxes(drawn([one], size))
        y = (float(size.height) - (foot + top) / 2) / PIXEL
        right = size.columns > 1 and one.left * PIXEL > size.width / 2
        column = [
            line
            for line in lines(layout.document)
            if line.page == one.page and not line.furniture  # a step's large number may stand beside
            if size.columns == 1 or (line.left * PIXEL > size.width / 2) is right
        ]
        assert [line.text for line in column if line.top < y < line.baseline] == []
        near = one.top if one.mark is Mark.BEFORE else one.baseline
        assert 0 < (near - y if one.mark is Mark.BEFORE else y - near) < one.baseline - one.top


def test_numbers_that_meet_stand_one_under_the_other() -> None:
    size = card_size("5x7")
    base = Spot(page=1, left=50, right=60, top=100, baseline=108, mark=Mark.CHANGED, entry=1)
    found = labels([replace(base, entry=entry) for entry in (2, 1, 10)], size)
    assert [one.text for one in found] == ["1", "2", "10"]
    assert found[0].top == pytest.approx(104 * PIXEL + float(MARGIN) - 3.5)
    assert [round(b.top - a.top, 3) for a, b in pairwise(found)] == [7, 7]
