"""The site follows its recipes: made anew where one tells something else of itself, and left alone else."""

from __future__ import annotations

import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest

from cardsmith.engine.build import Building
from cardsmith.engine.collecting import collected, telling
from cardsmith.engine.freshness.comparing import Looker
from cardsmith.engine.freshness.manifest import Kept
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.engine.products import job
from cardsmith.files.reading import Stamp
from cardsmith.files.writing import OutputFolder
from cardsmith.house.publication import Publication
from cardsmith.house.style import load_house
from tests.demo import copy_templates
from tests.site.entries import entry

ROOT = Path(__file__).parents[2]
NAMES = ("mustard-dressing", "raspberry-sorbet")


@pytest.fixture
def publication(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Publication:
    copy_templates(tmp_path / "templates")
    for name in NAMES:
        shutil.copytree(ROOT / "recipes" / name, tmp_path / "recipes" / name)
    monkeypatch.setattr(job, "PRODUCTS", tuple(one for one in job.PRODUCTS if one.name != "paper"))
    return Publication(root=tmp_path)


def build(publication: Publication, why: Sequence[str] | None = None) -> dict[str, int]:
    """The files of the site with the time each was written, after a build; ``why`` it made the site anew."""
    with held(publication.build, lambda: None):
        building = Building(publication)
        files = {name: publication.file(name) for name in publication.names()}
        built = list(building.build(files, lambda _: InProcess(), 1))
        building.finish(built, whole=True)
    assert why is None or building.why_site == tuple(why)
    site = publication.build / "site"
    return {
        str(file.relative_to(site)): file.stat().st_mtime_ns for file in site.rglob("*") if file.is_file()
    }


def edit(publication: Publication, name: str, old: str, new: str) -> None:
    file = publication.file(name)
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")


def home(publication: Publication) -> str:
    return (publication.build / "site/index.html").read_text("utf-8")


def test_what_nothing_changed_is_not_written_again(publication: Publication) -> None:
    first = build(publication, ["it is new"])
    assert {"index.html", "feed.atom", "sitemap.xml", "recipes.js", "404.html"} <= set(first)
    assert build(publication, []) == first


def test_an_edit_that_the_collection_does_not_show_leaves_it_alone(publication: Publication) -> None:
    first = build(publication)
    edit(publication, "raspberry-sorbet", "storage:", "notes: [Soften it before serving.]\nstorage:")
    again = build(publication)
    assert again["index.html"] == first["index.html"]


def test_a_new_title_reaches_every_page_that_shows_it(publication: Publication) -> None:
    before = build(publication)
    edit(publication, "raspberry-sorbet", "Raspberry sorbet", "Berry ice")
    after = build(publication, ["what it tells of the recipes changed"])
    assert after["icon.svg"] == before["icon.svg"]
    site = publication.build / "site"
    for name in ("index.html", "kinds.html", "feed.atom", "recipes.js"):
        assert "Berry ice" in (site / name).read_text("utf-8"), name


def test_a_template_of_the_first_page_makes_the_site_s_pages_anew_and_says_so(
    publication: Publication,
) -> None:
    before = build(publication)
    file = publication.templates / "site/home.html.j2"
    file.write_bytes(file.read_bytes() + b"{# #}")
    after = build(publication, ["templates/site/home.html.j2 changed"])
    recipe = "recipes/raspberry-sorbet/index.html"
    assert after[recipe] == before[recipe]
    (publication.build / "site/kinds.html").unlink()
    build(publication, ["a file of it is missing or was altered"])


def test_a_recipe_that_is_gone_or_broken_leaves_the_collection(publication: Publication) -> None:
    build(publication)
    shutil.rmtree(publication.file("raspberry-sorbet").parent)
    edit(publication, "mustard-dressing", "title:", "titel:")
    build(publication)
    assert "Raspberry sorbet" not in home(publication)
    assert "Mustard dressing" not in home(publication)


def test_a_renamed_recipe_leaves_a_way_on_and_a_way_on_no_longer_wanted_goes(
    publication: Publication,
) -> None:
    old, new = (publication.file(name).parent for name in ("raspberry-sorbet", "berry-ice"))
    old.rename(new)
    edit(publication, "berry-ice", "published:", "formerly: [raspberry-sorbet]\npublished:")
    way = "recipes/raspberry-sorbet/index.html"
    assert way in build(publication)
    edit(publication, "berry-ice", "formerly: [raspberry-sorbet]\n", "")
    assert way not in build(publication)


def test_a_file_that_was_altered_or_lost_is_written_again(publication: Publication) -> None:
    build(publication)
    before = home(publication)
    site = publication.build / "site"
    (site / "index.html").write_text("altered", "utf-8")
    (site / "feed.atom").unlink()
    (site / "stray.html").write_text("stray", "utf-8")
    found = build(publication)
    assert home(publication) == before
    assert "feed.atom" in found
    assert "stray.html" not in found


KINDS = ("Breads", "Cakes", "Soups")


def titled(number: int, title: str = "") -> Kept:
    """One of twelve recipes, four of a kind, which lead on to each other."""
    kind = KINDS[number % len(KINDS)]
    found = entry(
        f"dish-{number}", title=title or f"Dish {number}", group=kind, course=kind, published="2026-01-01"
    )
    return Kept(name=found.name, keys={"page": "made"}, entry=found.record())


def test_a_new_title_is_written_to_the_files_that_show_it_alone(tmp_path: Path) -> None:
    """Beside each recipe's page a file tells of three others; so three tell of a recipe, and not all."""
    output, house = OutputFolder(tmp_path / "build"), load_house(ROOT)
    written: list[str] = []

    def replaced(files: Mapping[str, bytes]) -> Mapping[str, Stamp]:
        written.extend(files)
        return output.replace(files)

    def made(before: Kept | None, *recipes: Kept) -> Kept:
        written.clear()
        every = {one.name: one for one in recipes}
        return collected(every, before, "", lambda: house, ROOT / "templates", Looker(output.root), replaced)

    first = made(None, *map(titled, range(12)))
    near = [f"site/recipes/dish-{number}/neighbours.js" for number in range(12)]
    assert set(near) <= set(written)
    told = telling(first)
    shown = [path for path in near if 'Dish 7"' in (output.read(path) or b"").decode()]
    assert shown == sorted(told["dish-7"], key=near.index) == [near[1], near[4], near[10]]
    assert not set(told[""]) & {*near, "site/icon.svg"}
    output.remove([*told[""], *told["dish-7"]])  # as a build does before it writes the recipe's own files
    made(first, *(titled(number, "Cake" if number == 7 else "") for number in range(12)))
    assert sorted(written) == sorted([*told[""], *shown])
