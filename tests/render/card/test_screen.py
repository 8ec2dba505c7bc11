"""A screen file as assistive software meets it: what poppler reads in its tags, and in which order."""

from __future__ import annotations

import io
import re
import subprocess

import pikepdf
import pytest
from pikepdf import Name

from cardsmith.house.style import House
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card


@pytest.fixture
def screen(any_card: Card, house: House, typesetter: Typesetter, pictures: dict[str, bytes]) -> bytes:
    layout = lay_out_card(card_view(any_card, house), typesetter, house.card, pictures)
    return screened(typesetter.write(layout.document))


def letters(text: str) -> str:
    return re.sub(r"\s+", "", text)


def heard(pdf: bytes) -> str:
    """The text of the tags in their order, quotes and marks of pdfinfo taken off."""
    told = subprocess.run(["pdfinfo", "-struct-text", "-"], input=pdf, capture_output=True, check=True)
    return letters("".join(re.findall(r'^\s*"(.*)"$', told.stdout.decode(), re.MULTILINE)))


def test_it_is_heard_in_the_order_of_cooking(any_card: Card, screen: bytes) -> None:
    """Title, then every list in full, then every step; nothing of the running heads in between."""
    text, at = heard(screen), 0
    lines = [line.item for part in any_card.parts for line in part.ingredients]
    steps = ["".join(span.text for span in step.spans) for part in any_card.parts for step in part.steps]
    for words in (any_card.recipe.title, *lines, *steps):
        found = text.find(letters(words), at)
        assert found >= 0, words
        at = found + 1


def test_running_heads_and_feet_are_not_heard(screen: bytes) -> None:
    drawn = subprocess.run(["pdftotext", "-", "-"], input=screen, capture_output=True, check=True).stdout
    assert "Rulertrue" in letters(drawn.decode())
    assert "Rulertrue" not in heard(screen)


def test_all_text_is_in_the_tree_or_an_artifact(screen: bytes) -> None:
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        tagged: set[tuple[int, int]] = set()

        def walk(element: pikepdf.Object) -> None:
            kids = element.get(Name.K)
            for kid in list(kids) if isinstance(kids, pikepdf.Array) else [kids]:
                if isinstance(kid, int):
                    tagged.add((element.Pg.objgen[0], kid))
                elif isinstance(kid, pikepdf.Dictionary) and Name.MCID in kid:
                    tagged.add((kid.get(Name.Pg, element.get(Name.Pg)).objgen[0], int(kid.MCID)))
                elif isinstance(kid, pikepdf.Dictionary):
                    walk(kid)

        walk(pdf.Root.StructTreeRoot)
        for page in pdf.pages:
            for operands, _ in pikepdf.parse_content_stream(page, "BDC"):
                number = operands[1].get(Name.MCID)
                assert operands[0] == Name.Artifact or (page.obj.objgen[0], int(number)) in tagged


def test_bookmarks_lead_to_title_and_method(any_card: Card, screen: bytes) -> None:
    with pikepdf.open(io.BytesIO(screen)) as pdf, pdf.open_outline() as outline:
        (title,) = outline.root
        assert letters(str(title.title)) == letters(any_card.recipe.title)
        assert "Method" in [str(child.title) for child in title.children]


def test_a_picture_s_box_lies_on_its_page(screen: bytes) -> None:
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        for item in pdf.objects:
            if isinstance(item, pikepdf.Dictionary) and item.get(Name.S) == Name.Figure:
                left, foot, right, top = (float(edge) for edge in item.A.BBox)
                assert 0 <= left < right <= 360
                assert 252 < foot < top <= 504, "a photo stands in the upper half"
