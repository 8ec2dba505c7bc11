"""A screen file as assistive software meets it: what poppler reads in its tags, and in which order."""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pikepdf
import pytest
from pikepdf import Name

from cardsmith.house.paper import card_size
from cardsmith.house.style import House
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.press.preflight import screen_faults
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card

Cards = dict[str, Callable[[], Card]]


@pytest.fixture(scope="module")
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
    assert "Issue31" in letters(drawn.decode())
    assert "Issue31" not in heard(screen)


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


def test_bookmarks_lead_to_every_list_and_every_part_of_the_method(any_card: Card, screen: bytes) -> None:
    with pikepdf.open(io.BytesIO(screen)) as pdf, pdf.open_outline() as outline:
        (title,) = outline.root
        assert letters(str(title.title)) == letters(any_card.recipe.title)
        *lists, method = title.children
        names = [part.name for part in any_card.parts]
        told = [f"Ingredients: {name}" if name else "Ingredients" for name in names]
        assert [str(one.title) for one in lists] == told
        assert str(method.title) == "Method"
        assert [str(one.title) for one in method.children] == [name for name in names if name]


def roles(element: pikepdf.Object) -> list[str]:
    """What a tag and all below it are, in the order of reading; what only holds words is left out."""
    kids = element.get(Name.K)
    found = [str(element.get(Name.S, ""))[1:]]
    for kid in list(kids) if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and Name.S in kid:
            found += roles(kid)
    return [one for one in found if one not in ("", "Document", "Sect", "Div", "NonStruct", "Span")]


def test_the_tags_say_what_each_thing_is(any_card: Card, house: House, typesetter: Typesetter) -> None:
    """A title, a table a list with a heading of its own, and a numbered list for each part of the method.

    On a large card, since the head of a list that runs on to another page is heard there again.
    """
    large = replace(house.card, size=replace(card_size("half-letter"), height=Fraction(1400)))
    layout = lay_out_card(card_view(any_card, house), typesetter, large, {})
    screen = screened(typesetter.write(layout.document))
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        found = roles(pdf.Root.StructTreeRoot)
    headings = [one for one in found if one.startswith("H")]
    named = [part for part in any_card.parts if part.name]
    assert headings == ["H1", *["H2"] * (len(any_card.parts) + 1), *["H3"] * len(named)]
    tables = [found[place:] for place, one in enumerate(found) if one == "Table"]
    assert len(tables) == len(any_card.parts)
    for table, part in zip(tables, any_card.parts, strict=True):
        assert table[:7] == ["Table", "THead", "TR", "TH", "H2", "TH", "TH"]
        rows = table[7 : table.index("Table", 1) if "Table" in table[1:] else table.index("H2", 7)]
        assert rows[0] == "TBody"
        assert rows.count("TR") == len(part.ingredients)
        assert rows[1:5] == ["TR", "TH", "TD", "TD"]
    assert found.count("L") == len(any_card.parts)
    steps = sum(len(part.steps) for part in any_card.parts)
    assert found.count("LI") == found.count("Lbl") == found.count("LBody") == steps


def test_what_a_portion_holds_is_a_small_table(house: House, typesetter: Typesetter, cards: Cards) -> None:
    """A row header and its value for each nutrient, behind the line that says what they are of."""
    told = [
        ("Nutrition", "per serving, an estimate from tables"),
        ("Calories", "90 kcal"),
        ("Protein", "2 g"),
    ]
    plain = card_view(cards["short"](), house)
    counts = []
    for view in (plain, card_view(cards["short"](), house, told)):
        screen = screened(typesetter.write(lay_out_card(view, typesetter, house.card, {}).document))
        assert screen_faults(screen, view.plain_title, view.language) == ()
        with pikepdf.open(io.BytesIO(screen)) as pdf:
            found = roles(pdf.Root.StructTreeRoot)
        counts.append([found.count(role) for role in ("Table", "TH", "TD")])
    assert [more - less for less, more in zip(*counts, strict=True)] == [1, 2, 2]


def test_no_tag_is_empty_and_no_paragraph_holds_another(screen: bytes) -> None:
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        open_tags = below(pdf.Root.StructTreeRoot)
        assert open_tags
        while open_tags:
            tag = open_tags.pop()
            kids = below(tag)
            held = tag.K
            assert not isinstance(held, pikepdf.Array) or len(held), tag.S
            assert tag.S != Name.P or not any(kid.S in (Name.P, Name.Div, Name.L, Name.Table) for kid in kids)
            open_tags += kids


def below(tag: pikepdf.Object) -> list[pikepdf.Object]:
    kids = tag.get(Name.K)
    held = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
    return [kid for kid in held if isinstance(kid, pikepdf.Dictionary) and Name.S in kid]


def test_the_address_of_a_card_is_one_link(house: House, typesetter: Typesetter, cards: Cards) -> None:
    """However its words are held together: one annotation, tagged as a link, to the whole address."""
    address = "https://pellwick.example/recipes/marsh-samphire-omelet/"
    view = card_view(cards["short"](), house, online=address)
    screen = screened(typesetter.write(lay_out_card(view, typesetter, house.card, {}).document))
    assert screen_faults(screen, view.plain_title, view.language) == ()
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        (link,) = [link for page in pdf.pages for link in page.get(Name.Annots, ())]
        assert str(link.A.URI) == address
        numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
        parents = {int(numbers[place]): numbers[place + 1] for place in range(0, len(numbers), 2)}
        element = parents[int(link.StructParent)]
        assert Name.Link == element.S
        held = [kid for kid in element.K if isinstance(kid, pikepdf.Dictionary) and Name.Obj in kid]
        assert [kid.Obj.objgen for kid in held] == [link.objgen]


def test_a_picture_s_box_lies_on_its_page(screen: bytes) -> None:
    with pikepdf.open(io.BytesIO(screen)) as pdf:
        for item in pdf.objects:
            if isinstance(item, pikepdf.Dictionary) and item.get(Name.S) == Name.Figure:
                left, foot, right, top = (float(edge) for edge in item.A.BBox)
                assert 0 <= left < right <= 360
                assert 252 < foot < top <= 504, "a photo stands in the upper half"
