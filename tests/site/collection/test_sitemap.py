"""What crawlers are told, held to the published schema."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from urllib.robotparser import RobotFileParser

from lxml import etree

from cardsmith.house.settings import SiteStyle
from cardsmith.site.collection.sitemap import robots, sitemap
from tests.site.entries import HOUSE, entry, noted

SCHEMA = etree.XMLSchema(file=str(Path(__file__).parents[2] / "data/sitemap.xsd"))
NS = {"s": "http://www.sitemaps.org/schemas/sitemap/0.9"}
ENTRIES = (
    entry("pea-soup", published="2026-03-01"),
    entry("oat-cakes", published="2026-02-01", corrections=(noted("2026-04-01"),)),
    entry("unpublished", published=""),
)


def test_published_recipes_and_the_pages_that_lead_there() -> None:
    made = sitemap(ENTRIES, HOUSE)
    assert made is not None
    root = etree.fromstring(made)
    SCHEMA.assertValid(root)
    days = {url.findtext("s:loc", None, NS): url.findtext("s:lastmod", None, NS) for url in root}
    top = HOUSE.site.address
    pages = {f"{top}{page}": "2026-04-01" for page in ("", "kinds.html", "allergens.html", "times.html")}
    recipes = {f"{top}recipes/oat-cakes/": "2026-04-01", f"{top}recipes/pea-soup/": "2026-03-01"}
    assert days == pages | recipes


def test_a_site_without_recipes_still_has_a_valid_sitemap() -> None:
    made = sitemap((), HOUSE)
    assert made is not None
    SCHEMA.assertValid(etree.fromstring(made))


def test_no_sitemap_without_an_address() -> None:
    nowhere = replace(HOUSE, site=SiteStyle(address="", tag=""))
    assert sitemap(ENTRIES, nowhere) is None
    assert robots(nowhere) is None


def test_robots_may_read_everything_and_find_the_sitemap() -> None:
    made = robots(HOUSE)
    assert made is not None
    reader = RobotFileParser()
    reader.parse(made.decode().splitlines())
    assert reader.can_fetch("any", f"{HOUSE.site.address}recipes/pea-soup/")
    assert reader.site_maps() == [f"{HOUSE.site.address}sitemap.xml"]
