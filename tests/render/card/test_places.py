"""Where a picture stands: by its shape, in the room that the card has, or where the recipe wants it."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from PIL import Image

from cardsmith.finding import Where
from cardsmith.house.paper import BLEED, card_size
from cardsmith.house.style import House
from cardsmith.language.spans import Words
from cardsmith.recipe.model import Photo
from cardsmith.reference import table
from cardsmith.render import audit
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.places import MOST_CUT, places
from cardsmith.render.card.view import card_view
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card

SIZES = [row["name"] for row in table("card_sizes")]
SHAPES = {
    "panorama": Fraction(5, 2),
    "landscape": Fraction(3, 2),
    "square": Fraction(1),
    "portrait": Fraction(2, 3),
}
Cards = dict[str, Callable[[], Card]]


def drawn(width: int, height: int) -> bytes:
    lines = f"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {width} {height}'><rect width='9'/></svg>"
    return lines.encode()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
def test_no_place_that_is_chosen_cuts_more_than_a_third_off(size: str, shape: Fraction) -> None:
    found = places(card_size(size), BLEED, shape)
    assert found
    assert max(one.cut for one in found) <= MOST_CUT
    for one in found:
        whole = max(one.box.width, one.box.height * shape)  # how wide the picture is drawn
        assert 1 - one.box.width * one.box.height / (whole * whole / shape) == one.cut


@pytest.mark.parametrize(
    ("shape", "first"), [("landscape", "head"), ("square", "square"), ("portrait", "back")]
)
def test_the_shape_of_a_picture_says_where_it_stands_best(shape: str, first: str) -> None:
    assert places(card_size("5x7"), BLEED, SHAPES[shape])[0].name == first


def test_the_recipe_s_own_word_goes_first_however_much_is_cut() -> None:
    found = places(card_size("5x7"), BLEED, SHAPES["landscape"], "back")
    assert [one.name for one in found] == ["back"]
    assert found[0].cut > MOST_CUT
    assert places(card_size("5x7"), BLEED, SHAPES["landscape"], "none") == ()


@pytest.fixture
def laid(cards: Cards, house: House, typesetter: Typesetter) -> Callable[..., Layout]:
    def lay(width: int, height: int, place: str = "", size: str = "5x7", card: str = "short") -> Layout:
        photo = Photo(where=Where(file="a"), file="a.svg", alt="A jar on a board", place=place)
        made = cards[card]()
        made = replace(made, recipe=replace(made.recipe, photo=photo))
        style = replace(house.card, size=card_size(size))
        return lay_out_card(card_view(made, house), typesetter, style, {"a.svg": drawn(width, height)})

    return lay


def pictures(layout: Layout) -> list[tuple[int, tuple[float, float, float, float]]]:
    """The page and the edges of each picture, in points from the corner of its cut."""

    def below(box: object) -> list[object]:
        box = getattr(box, "_box", box)
        own = [box] if getattr(box, "element_tag", "") == "img" else []
        return own + [one for child in getattr(box, "children", ()) for one in below(child)]

    found = []
    for number, page in enumerate(layout.document.pages, 1):
        for img in below(page._page_box):
            left, top = float(img.content_box_x()) * 0.75, float(img.content_box_y()) * 0.75  # type: ignore[attr-defined]
            wide, high = float(img.width) * 0.75, float(img.height) * 0.75  # type: ignore[attr-defined]
            found.append((number, (left, top, left + wide, top + high)))
    return found


@pytest.mark.parametrize(
    ("place", "size", "page", "edges"),
    [
        ("head", "5x7", 1, "left top right"),
        ("method", "5x7", 2, "left top right"),
        ("method upright", "5x7", 2, "top right"),
        ("beside", "5x7", 1, "top right"),
        ("square", "5x7", 1, ""),
        ("notes", "5x7", 2, ""),
        ("notes", "6x4", 2, ""),
        ("back", "5x7", 2, "left top right foot"),
        ("head", "a5-landscape", 1, "left top"),
        ("beside", "a5-landscape", 1, "top right"),
        ("back", "a5-landscape", 2, "left top right foot"),
    ],
)
def test_each_place_reaches_the_bleed_where_it_should(
    place: str, size: str, page: int, edges: str, laid: Callable[..., Layout]
) -> None:
    name, _, upright = place.partition(" ")
    layout = laid(600 if upright else 900, 900, name, size)
    assert layout.setting.photo
    assert layout.setting.photo.name == name
    [(number, (left, top, right, foot))] = pictures(layout)
    assert number == page
    paper, bleed = card_size(size), float(BLEED)
    reached = {
        "left": left == pytest.approx(-bleed, abs=0.1),
        "top": top == pytest.approx(-bleed, abs=0.1),
        "right": right == pytest.approx(float(paper.width) + bleed, abs=0.1),
        "foot": foot == pytest.approx(float(paper.height) + bleed, abs=0.1),
    }
    assert " ".join(edge for edge, there in reached.items() if there) == edges
    inside = (left > 0, top > 0, right < paper.width, foot < paper.height)
    assert all(there or within for there, within in zip(reached.values(), inside, strict=True))


@pytest.mark.parametrize(
    ("place", "width"),
    [("head", 900), ("beside", 900), ("square", 900), ("method", 900), ("method", 600), ("notes", 900)],
)
def test_no_line_runs_under_a_picture(place: str, width: int, laid: Callable[..., Layout]) -> None:
    layout = laid(width, 900, place, card="crackers")
    [(number, (left, top, right, foot))] = pictures(layout)
    for line in audit.lines(layout.document):
        if line.page == number and not line.furniture:
            start, end, base = (0.75 * one for one in (line.left, line.right, line.baseline))
            beside = start > right - 1 or end < left + 1
            assert beside or not top < base < foot, line.text


def test_a_picture_over_the_back_has_a_page_of_its_own(laid: Callable[..., Layout]) -> None:
    layout = laid(600, 900)
    assert layout.setting.photo
    assert layout.setting.photo.name == "back"
    assert layout.pages == 2


def test_the_larger_of_two_places_that_fit_is_taken(laid: Callable[..., Layout]) -> None:
    layout = laid(1200, 800)
    assert layout.setting.photo
    assert layout.setting.photo.cut == 0


def test_a_card_too_full_for_a_head_has_its_picture_in_a_smaller_place(laid: Callable[..., Layout]) -> None:
    layout = laid(1200, 800, size="4x6", card="crackers")
    assert layout.setting.photo
    assert layout.setting.photo.name in ("method", "square")


def test_a_photo_turned_by_its_camera_has_the_shape_it_is_seen_in() -> None:
    from cardsmith.render.pictures.prepare import shape_of  # noqa: PLC0415

    out, image = io.BytesIO(), Image.new("RGB", (60, 40))
    exif = Image.Exif()
    exif[0x0112] = 6  # Exif 2.32: turn right
    image.save(out, "JPEG", exif=exif)
    assert shape_of("a.jpg", out.getvalue()) == Fraction(2, 3)


@pytest.mark.parametrize(
    ("head", "shape"),
    [
        ("viewBox='0 0 300 200'", Fraction(3, 2)),
        ("viewBox='0 0 300 200' width='100%' height='10mm'", Fraction(3, 2)),
        ("viewBox='0 0 300 200' width='20mm' height='40mm'", Fraction(1, 2)),
        ("", Fraction(2)),
    ],
)
def test_a_drawing_has_the_shape_of_its_size_or_view(head: str, shape: Fraction) -> None:
    from cardsmith.render.pictures.prepare import shape_of  # noqa: PLC0415

    found = shape_of("a.svg", f"<svg xmlns='http://www.w3.org/2000/svg' {head}/>".encode())
    assert float(found) == pytest.approx(float(shape))


@pytest.mark.parametrize("words", [0, 4, 60])
def test_facts_stand_beside_a_picture_only_where_the_headnote_leaves_room(
    words: int, cards: Cards, house: House, typesetter: Typesetter
) -> None:
    card = cards["crackers"]()
    photo = Photo(where=Where(file="a"), file="a.svg", alt="A jar on a board", place="square")
    recipe = replace(card.recipe, photo=photo)
    card = replace(card, recipe=recipe, headnote=(Words(text="crisp " * words),))
    layout = lay_out_card(card_view(card, house), typesetter, house.card, {"a.svg": drawn(900, 900)})
    [(_, (left, _, _, foot))] = pictures(layout)
    facts = [line for line in audit.lines(layout.document) if line.text.startswith("Yield")]
    assert len(facts) == 1
    assert (0.75 * facts[0].baseline > foot) == (words == 60)
    assert 0.75 * facts[0].right < left
