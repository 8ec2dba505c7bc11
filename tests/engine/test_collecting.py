"""The site follows its recipes: made anew where one tells something else of itself, and left alone else."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path

import pytest

from cardsmith.engine.build import Building
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.engine.products import job
from cardsmith.house.publication import Publication
from tests.demo import copy_templates

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
