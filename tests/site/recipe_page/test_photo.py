"""A photograph on the web: in the three shapes that search engines ask for, each named where it is told."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from fractions import Fraction

import pytest
from PIL import Image

from cardsmith.finding import Where
from cardsmith.house.settings import SiteStyle
from cardsmith.recipe.model import Photo
from cardsmith.site.addresses import address, recipe_path
from cardsmith.site.recipe_page.data import record
from cardsmith.site.recipe_page.files import recipe_pages
from cardsmith.site.recipe_page.structured import recipe_data
from cardsmith.site.recipe_page.view import page_view
from tests.site.published import NAMES, PUBLICATION, published, tree

NAME = "cider-braised-chicken-thighs"
FOLDER = f"site/recipes/{NAME}/"
SHAPES = {"16x9": (1280, 720), "4x3": (1200, 900), "1x1": (900, 900)}


def picture(size: tuple[int, int]) -> bytes:
    """A JPEG of four colours, one in each quarter, so that a crop shows where it was taken."""
    image = Image.new("RGB", size, "white")
    halves = (size[0] // 2, size[1] // 2)
    for place, colour in enumerate(("red", "green", "blue", "yellow")):
        image.paste(Image.new("RGB", halves, colour), (place % 2 * halves[0], place // 2 * halves[1]))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=90)
    return out.getvalue()


def files_with(size: tuple[int, int], *, focus: str = "", site: str | None = None) -> dict[str, bytes]:
    """The files of a recipe of the demo, had it this photo."""
    made = published(NAME)
    photo = Photo(where=Where(file="recipe.yaml"), file="salad.jpg", alt="Beans on a plate", focus=focus)
    card = replace(made.card, recipe=replace(made.card.recipe, photo=photo))
    house = made.house
    if site is not None:
        house = replace(house, site=replace(house.site, address=site) if site else SiteStyle())
    about = recipe_data(card, house, address=address(house.site, recipe_path(NAME)))
    return recipe_pages(
        page_view(card, house, made.sizes),
        house,
        PUBLICATION.templates,
        photo,
        {photo.file: picture(size)},
        record(card, house, made.sizes),
        about,
    )


def test_three_shapes_are_files_of_the_site_and_named_in_the_data() -> None:
    files = files_with((3000, 2400))
    page = tree(files[f"{FOLDER}index.html"].decode())
    script = next(one for one in page.iter("script") if one.get("type") == "application/ld+json")
    told = json.loads(script.text or "")
    top = address(published(NAME).house.site, recipe_path(NAME))
    assert top.startswith("https://")
    sizes = {}
    for place in told["image"]:
        assert place.startswith(top)
        with Image.open(io.BytesIO(files[FOLDER + place.removeprefix(top)])) as image:
            assert image.format == "JPEG"
            sizes[place.removeprefix(f"{top}photo-").removesuffix(".jpg")] = image.size
    assert sizes == SHAPES
    assert json.loads(files[f"cards/{NAME}/{NAME}.json"])["schema_org"]["image"] == told["image"]


def test_the_page_shows_files_that_are_there_at_the_size_it_says() -> None:
    files = files_with((3000, 2400))
    (image,) = tree(files[f"{FOLDER}index.html"].decode()).iter("img")
    assert image.get("alt") == "Beans on a plate"
    with Image.open(io.BytesIO(files[FOLDER + image.get("src", "")])) as shown:
        assert (str(shown.width), str(shown.height)) == (image.get("width"), image.get("height"))
    for other in image.get("srcset", "").split(", "):
        name, width = other.split()
        with Image.open(io.BytesIO(files[FOLDER + name])) as one:
            assert width == f"{one.width}w"


@pytest.mark.parametrize(("focus", "colour"), [("0% 0%", "red"), ("100% 0%", "green"), ("0% 100%", "blue")])
def test_a_crop_keeps_the_focus(focus: str, colour: str) -> None:
    """A square out of a wide picture is all left or all right of its middle."""
    with Image.open(io.BytesIO(files_with((2000, 1000), focus=focus)[f"{FOLDER}photo-1x1.jpg"])) as image:
        corner = (20, 20) if focus.endswith(" 0%") else (20, image.height - 20)
        found = image.convert("RGB").getpixel(corner)
    assert isinstance(found, tuple)
    want = {"red": (255, 0, 0), "green": (0, 128, 0), "blue": (0, 0, 255)}[colour]
    assert all(abs(one - other) < 12 for one, other in zip(found, want, strict=True))


def test_a_small_picture_is_not_blown_up() -> None:
    with Image.open(io.BytesIO(files_with((640, 480))[f"{FOLDER}photo-4x3.jpg"])) as image:
        assert image.size == (640, 480)


def test_without_an_address_of_the_site_no_picture_is_named_to_machines() -> None:
    files = files_with((1280, 720), site="")
    assert "image" not in json.loads(files[f"cards/{NAME}/{NAME}.json"])["schema_org"]
    assert f"{FOLDER}photo-16x9.jpg" in files


@pytest.mark.parametrize(
    ("size", "source"), [((900, 1200), "photo-1x1.jpg"), ((1200, 900), "photo-16x9.jpg")]
)
def test_an_upright_picture_is_not_cut_to_a_band(size: tuple[int, int], source: str) -> None:
    page = tree(files_with(size)[f"{FOLDER}index.html"].decode())
    [figure] = [one for one in page.iter("figure") if "photo" in one.get("class", "")]
    [image] = figure.iter("img")
    assert image.get("src") == source
    assert ("upright" in figure.get("class", "")) == (source == "photo-1x1.jpg")


def meta_of(name: str) -> dict[str, str]:
    """What the page in the site tells whoever links to it."""
    nodes = tree(published(name).in_site).iter("meta")
    return {
        node.get("property") or node.get("name") or "": node.get("content", "")
        for node in nodes
        if node.get("property") or node.get("name")
    }


@pytest.mark.parametrize("name", NAMES)
def test_every_recipe_has_one_picture_for_whoever_links_to_it(name: str) -> None:
    made, told = published(name), meta_of(name)
    top = address(made.house.site, recipe_path(name))
    assert told["og:url"] == top
    assert told["og:title"] == made.card.recipe.title
    assert told["og:locale"] == "en_US"
    assert told["twitter:card"] == "summary_large_image"
    assert told["og:image:alt"] == next(tree(made.in_site).iter("img")).get("alt")
    place = told["og:image"]
    assert place.startswith(top)
    with Image.open(io.BytesIO(made.files[f"site/recipes/{name}/{place.removeprefix(top)}"])) as image:
        assert (f"{image.width}", f"{image.height}") == (told["og:image:width"], told["og:image:height"])
        assert image.width > image.height


@pytest.mark.parametrize("name", NAMES)
def test_every_picture_named_to_machines_is_a_file_of_the_site(name: str) -> None:
    made = published(name)
    top = address(made.house.site, recipe_path(name))
    told = json.loads(made.file(".json"))["schema_org"]["image"]
    sizes = {}
    for place in told:
        with Image.open(io.BytesIO(made.files[f"site/recipes/{name}/{place.removeprefix(top)}"])) as image:
            sizes[place.rpartition("-")[2].partition(".")[0]] = image.size
            assert len(image.convert("RGB").getcolors(maxcolors=2_000_000) or ()) > 4
    shapes = {shape: tuple(Fraction(*size).as_integer_ratio()) for shape, size in sizes.items()}
    assert shapes == {"1x1": (1, 1), "4x3": (4, 3), "16x9": (16, 9)}


def test_the_page_of_a_recipe_without_a_photo_shows_its_tile_whole() -> None:
    made = published(NAME, pictured=False)
    [figure] = [one for one in tree(made.in_site).iter("figure") if "photo" in one.get("class", "")]
    [image] = figure.iter("img")
    assert image.get("src") == "tile.svg"
    assert "upright" in figure.get("class", "")
    assert (image.get("alt") or "").startswith("The recipe by weight: chicken thighs")
    assert f"{FOLDER}tile.svg" in made.files
    [alone] = tree(made.file(".html")).iter("img")
    assert alone.get("src", "").startswith("data:image/svg+xml")


def test_a_recipe_with_a_photo_has_no_tile() -> None:
    assert not [name for name in published("lemon-curd").files if "tile" in name]


def test_without_an_address_of_the_site_a_page_names_no_picture_to_those_who_link_to_it() -> None:
    page = files_with((1280, 720), site="")[f"{FOLDER}index.html"].decode()
    assert 'property="og:' not in page
