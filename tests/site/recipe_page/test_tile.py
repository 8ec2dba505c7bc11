"""The picture of a recipe that has none."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from xml.etree import ElementTree as Xml

import pytest
from PIL import Image

from cardsmith.render.pictures.raster import rastered
from cardsmith.site.recipe_page.photo import SHAPES, tile_for_site
from cardsmith.site.recipe_page.tile import Layer, layers, spoken, tile
from tests.site.published import NAMES, PUBLICATION, published

SVG = "{http://www.w3.org/2000/svg}"
TEMPLATES = PUBLICATION.templates


def layer(name: str, share: Fraction, colour: str = "#a9ccd2") -> Layer:
    return Layer(name=name, share=share, colour=colour)


def drawn(*made: Layer, size: tuple[int, int] = (1200, 900)) -> Xml.Element:
    return Xml.fromstring(tile(made, "seed", TEMPLATES, size))


def names_in(root: Xml.Element) -> int:
    return len(root.findall(f"{SVG}g"))


@pytest.mark.parametrize("name", NAMES)
def test_every_recipe_of_the_demo_has_layers_that_make_up_the_whole(name: str) -> None:
    made = layers(published(name).card)
    assert len(made) >= 4
    assert sum(one.share for one in made) == 1
    assert len({one.name for one in made}) == len(made)


def test_the_layers_stand_in_the_order_of_the_list_and_a_food_in_one() -> None:
    """Poolish and dough take water, 200 and 190 g, and bread flour, 200 and 300 g; all is 964.5 g."""
    made = layers(published("overnight-loaf").card)
    assert [one.name for one in made[:3]] == ["bread flour", "water", "instant yeast"]
    assert [one.share for one in made[:2]] == [Fraction(5000, 9645), Fraction(3900, 9645)]


def test_what_nobody_can_weigh_is_no_layer() -> None:
    assert "freshly ground black pepper" not in [
        one.name for one in layers(published("white-bean-salad").card)
    ]


def test_the_ear_is_told_the_heaviest_three() -> None:
    made = tuple(
        layer(name, Fraction(share, 100)) for name, share in zip("abcd", (5, 50, 15, 30), strict=True)
    )
    assert spoken(made) == "The recipe by weight: b 50 %, d 30 % and c 15 %, then the rest"
    assert spoken((layer("water", Fraction(1)),)) == "The recipe by weight: water 100 %"


@pytest.mark.parametrize("size", [(1200, 900), (1280, 720), (900, 900)])
def test_a_layer_is_as_deep_as_its_share(size: tuple[int, int]) -> None:
    """Counted in dots, since the edges rise and fall; letters that no face has leave it bare."""
    made = (layer("豆", Fraction(1, 2), "#ff0000"), layer("豆", Fraction(3, 10), "#00ff00"))
    made = (*made, layer("豆", Fraction(1, 5), "#0000ff"))
    with Image.open(io.BytesIO(rastered(tile(made, "seed", TEMPLATES, size), size[0]))) as image:
        assert image.size == size
        colours = image.convert("RGB").getcolors(maxcolors=100_000)
    assert colours
    counted = {colour: count / (size[0] * size[1]) for count, colour in colours}
    for colour, share in (((255, 0, 0), 0.5), ((0, 255, 0), 0.3), ((0, 0, 255), 0.2)):
        assert counted[colour] == pytest.approx(share, abs=0.02)


def test_a_pinch_is_seen_and_a_thin_layer_has_no_name() -> None:
    made = (layer("water", Fraction(999, 1000)), layer("salt", Fraction(1, 1000), "#ff0000"))
    root = drawn(*made)
    assert names_in(root) == 1
    with Image.open(io.BytesIO(rastered(tile(made, "seed", TEMPLATES, (1200, 900)), 1200))) as image:
        assert image.convert("RGB").getpixel((600, 896)) == (255, 0, 0)


@pytest.mark.parametrize("count", [1, 30])
def test_one_layer_or_thirty_fill_the_tile(count: int) -> None:
    root = drawn(*(layer("water", Fraction(1, count)) for _ in range(count)))
    tops = [
        float(one.get("d", "").split("L")[0].split()[1].split("H")[0]) for one in root.findall(f"{SVG}path")
    ]
    assert len(tops) == count
    assert all(0 <= above < below < 900 for above, below in pairwise(tops))


def test_names_are_outlines_and_ask_for_no_font() -> None:
    root = drawn(layer("water", Fraction(1)))
    assert not root.findall(f".//{SVG}text")
    uses = [one.get("href", "") for one in root.iter(f"{SVG}use")]
    outlines = {f"#{one.get('id')}" for one in root.find(f"{SVG}defs") or ()}
    assert len(uses) == len("water")
    assert set(uses) == outlines


def test_a_name_in_letters_that_no_face_of_the_house_has_is_left_out() -> None:
    assert names_in(drawn(layer("豆腐", Fraction(1)))) == 0


def test_two_recipes_of_one_list_have_other_edges_and_one_has_the_same_again() -> None:
    made = (layer("water", Fraction(1, 2)), layer("salt", Fraction(1, 2)))
    size = (1200, 900)
    assert tile(made, "one", TEMPLATES, size) == tile(made, "one", TEMPLATES, size)
    assert tile(made, "one", TEMPLATES, size) != tile(made, "other", TEMPLATES, size)


def test_a_name_can_hold_signs_of_markup() -> None:
    assert "a < b & c" in (drawn(layer("a < b & c", Fraction(1))).findtext(f"{SVG}title") or "")


def test_a_tile_is_kept_by_its_own_drawing_and_that_of_the_shape(monkeypatch: pytest.MonkeyPatch) -> None:
    """A build throws away what no file of a recipe has the digest of: the tile on the page owns all three."""
    plain = rastered(b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"/>', 4)
    monkeypatch.setattr("cardsmith.site.recipe_page.photo.rastered", lambda *_: plain)
    shown = published("overnight-loaf")
    view = replace(shown.view, tile=layers(shown.card))
    kept: list[tuple[bytes, str]] = []

    def keep(of: bytes, how: str, make: Callable[[], bytes]) -> bytes:
        kept.append((of, how))
        return make()

    files = tile_for_site(view, TEMPLATES, keep).files
    assert {of for of, _ in kept} == {files["tile.svg"]}
    assert len(set(kept)) == len(SHAPES)
    other, kept[:] = list(kept), []
    tile_for_site(replace(view, tile=view.tile[1:]), TEMPLATES, keep)
    assert not {how for _, how in other} & {how for _, how in kept}
