"""The pages of the collection as text: no word of a recipe becomes markup, nothing unproved is claimed."""

from __future__ import annotations

import json
import struct
from dataclasses import replace

import pytest
from lxml import html

from cardsmith.house.settings import SiteStyle
from cardsmith.site.addresses import address, link, recipe_path, root
from cardsmith.site.assets import script
from cardsmith.site.collection.files import SEASON, collection
from tests.site.entries import HOUSE, ROOT, entry, noted

TEMPLATES = ROOT / "templates"
NASTY = "<script>alert(1)</script> & \"quotes\" 'here'"
PAGES = ("index.html", "kinds.html", "times.html", "allergens.html", "404.html")


def test_words_of_a_recipe_stay_words() -> None:
    files = collection(
        [entry("nasty", title=NASTY, headnote=NASTY, course=NASTY, group=NASTY, sure_allergens=("milk",))],
        HOUSE,
        TEMPLATES,
    )
    for name in PAGES:
        page = html.fromstring(files[name])
        own = {node.text for node in page.iter("script") if not node.get("src")}
        assert own <= {str(script(TEMPLATES, SEASON))}, name
        assert name == "404.html" or NASTY in page.text_content(), name


def test_the_same_entries_make_the_same_bytes_in_any_order() -> None:
    entries = [entry("pea-soup", formerly=("green-soup",)), entry("oat-cakes", course="Bread")]
    assert collection(entries, HOUSE, TEMPLATES) == collection(entries[::-1], HOUSE, TEMPLATES)


def test_an_empty_collection_is_still_a_site() -> None:
    files = collection([], HOUSE, TEMPLATES)
    assert set(PAGES) <= set(files)
    assert "no recipes here yet" in files["index.html"].decode()
    assert "feed.atom" not in files


def test_what_is_not_published_is_said_to_be_so() -> None:
    files = collection([entry("draft", published=""), entry("pea-soup")], HOUSE, TEMPLATES)
    page = html.fromstring(files["index.html"])
    (draft,) = page.xpath("//li[@data-name='draft']")
    assert "Not published yet" in draft.text_content()
    assert page.text_content().count("Not published yet") == 1
    assert b"draft" not in files["sitemap.xml"] + files["feed.atom"]


def test_a_site_without_an_address_makes_none_up() -> None:
    nowhere = replace(HOUSE, site=SiteStyle(address="", tag=""))
    files = collection([entry("pea-soup", formerly=("green-soup",))], nowhere, TEMPLATES)
    assert not {"feed.atom", "sitemap.xml", "robots.txt"} & set(files)
    for name, data in files.items():
        if name.endswith(".html"):
            assert html.fromstring(data).xpath("//link[@rel='canonical' or @rel='alternate']") == [], name


@pytest.mark.parametrize(
    ("where", "top"), [("https://a.example/", "/"), ("https://a.example/kitchen/", "/kitchen/")]
)
def test_a_page_for_any_address_links_from_the_top(where: str, top: str) -> None:
    site = SiteStyle(address=where, tag="a.example,2025")
    assert root(site) == top
    page = html.fromstring(collection([], replace(HOUSE, site=site), TEMPLATES)["404.html"])
    hrefs = page.xpath("//link/@href | //a/@href")
    assert all(href.startswith((top, "#")) for href in hrefs)


def test_addresses() -> None:
    page = recipe_path("pea-soup")
    assert address(HOUSE.site, page) == "https://pellwick.example/recipes/pea-soup/"
    assert link(page, "index.html") == "../../index.html"
    assert link(page, recipe_path("oats")) == "../oats/index.html"
    assert link("index.html", page) == page


def test_no_page_says_free_from() -> None:
    entries = [entry("pea-soup", sure_allergens=("milk",)), entry("odd", unknown_foods=("sea grapes",))]
    files = collection(entries, HOUSE, TEMPLATES)
    for name in PAGES:
        assert "free" not in files[name].decode().lower().replace("gluten-free", ""), name
    assert "Of Odd some food is not known to us" in files["allergens.html"].decode()


def test_a_correction_makes_the_sitemap_and_the_feed_newer() -> None:
    files = collection([entry("pea-soup", corrections=(noted("2026-07-01"),))], HOUSE, TEMPLATES)
    assert b"<lastmod>2026-07-01</lastmod>" in files["sitemap.xml"]
    assert b"<updated>2026-07-01T00:00:00Z</updated>" in files["feed.atom"]


def test_icons_are_of_the_sizes_that_are_promised() -> None:
    files = collection([], HOUSE, TEMPLATES)
    manifest = json.loads(files["site.webmanifest"])
    promised = {icon["src"]: icon["sizes"] for icon in manifest["icons"] if icon["type"] == "image/png"}
    for node in html.fromstring(files["index.html"]).xpath("//link[@sizes]"):
        promised[node.get("href")] = node.get("sizes")
    assert set(promised) == {"icon-32.png", "icon-180.png", "icon-192.png", "icon-512.png"}
    for name, sizes in promised.items():
        width, height = struct.unpack(">II", files[name][16:24])  # PNG (ISO/IEC 15948), 11.2.2: IHDR
        assert f"{width}x{height}" == sizes
