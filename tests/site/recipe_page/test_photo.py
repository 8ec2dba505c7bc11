"""A photograph on the web: in the three shapes that search engines ask for, each named where it is told."""

from __future__ import annotations

import io
import json
from dataclasses import replace

import pytest
from PIL import Image
from published import PUBLICATION, published, tree

from cardsmith.finding import Where
from cardsmith.house.style import SiteStyle
from cardsmith.recipe.model import Photo
from cardsmith.site.addresses import address, recipe_path
from cardsmith.site.recipe_page.data import record
from cardsmith.site.recipe_page.files import recipe_pages
from cardsmith.site.recipe_page.structured import recipe_data
from cardsmith.site.recipe_page.view import page_view

NAME = "white-bean-salad"
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
