"""Editions on the web: an address each, that tells of the others; a feed each; all in the sitemap."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from pathlib import Path

from cardsmith.flow import Prepared, of_edition, prepare
from cardsmith.house.publication import Publication
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder
from cardsmith.site.collection.card_index import card_index
from cardsmith.site.collection.files import collection
from cardsmith.site.entry import Entry, entry_from, entry_of
from cardsmith.site.entry import of_edition as entry_in
from cardsmith.site.recipe_page.files import recipe_pages
from cardsmith.site.recipe_page.view import page_view
from cardsmith.words import fixed_words

PUBLICATION = Publication(root=Path(__file__).parents[2])
NAME, SITE = "lemon-curd", "https://pellwick.example/"


@cache
def _prepared() -> Prepared:
    file = PUBLICATION.file(NAME)
    return prepare(NAME, file.read_bytes(), "recipe.yaml", load_larder(), PUBLICATION.house())


@cache
def _files(key: str) -> dict[str, str]:
    done, house = of_edition(_prepared(), PUBLICATION.house(), key)
    assert done.card
    view = page_view(done.card, house)
    made = recipe_pages(view, house, PUBLICATION.templates, None, {}, {}, {})
    return {path: data.decode() for path, data in made.items() if path.endswith((".html", ".json"))}


def _entry() -> Entry:
    done = _prepared()
    assert done.card
    house = PUBLICATION.house()
    others = [
        entry_in(entry_of(one.card, house.in_edition(one.edition)), one.edition)
        for one in done.editions
        if one.card
    ]
    return replace(entry_of(done.card, house), editions=tuple(others))


FONTS = (".woff2", ".png")


def _collection(house: House) -> dict[str, str]:
    made = collection([_entry()], house, PUBLICATION.templates)
    return {
        path: data.decode()
        for path, data in made.items()
        if path.endswith((".atom", ".json", ".xml", ".html", ".js", ".csv"))
    }


PLACES = ("index.html", "embed.html", "oembed.json")


def test_each_edition_has_its_files_under_its_key() -> None:
    assert set(_files("")) == {
        *(f"site/recipes/{NAME}/{one}" for one in PLACES),
        *(f"cards/{NAME}/{NAME}{one}" for one in (".html", "-fragment.html", ".json")),
    }
    assert set(_files("uk")) == {
        *(f"site/recipes/{NAME}/uk/{one}" for one in PLACES),
        *(f"cards/{NAME}/{NAME}-uk{one}" for one in (".html", "-fragment.html", ".json")),
    }


def test_a_page_tells_machines_and_readers_of_the_other_editions() -> None:
    for key, lang in (("", "en-US"), ("uk", "en-GB"), ("au", "en-AU")):
        path = f"site/recipes/{NAME}/{f'{key}/' if key else ''}index.html"
        page = _files(key)[path]
        assert f'<html lang="{lang}">' in page
        for language, place in (("en-US", ""), ("en-GB", "uk/"), ("en-AU", "au/"), ("x-default", "")):
            address = f"{SITE}recipes/{NAME}/{place}"
            assert f'<link rel="alternate" hreflang="{language}" href="{address}">' in page
        assert page.count('aria-current="page"') == 1
    assert '<a href="uk/index.html" hreflang="en-GB"' in _files("")[f"site/recipes/{NAME}/index.html"]
    assert '<a href="../index.html" hreflang="en-US"' in _files("uk")[f"site/recipes/{NAME}/uk/index.html"]


def test_a_page_by_itself_leads_nowhere() -> None:
    assert "hreflang" not in _files("uk")[f"cards/{NAME}/{NAME}-uk.html"]


def test_each_edition_has_a_feed_of_its_own() -> None:
    made = _collection(PUBLICATION.house())
    feeds = {key: json.loads(made[f"{key}feed.json"]) for key in ("", "uk/", "au/")}
    assert [one["language"] for one in feeds.values()] == ["en-US", "en-GB", "en-AU"]
    assert [one["feed_url"] for one in feeds.values()] == [f"{SITE}{key}feed.json" for key in feeds]
    items = [one["items"][0] for one in feeds.values()]
    assert [one["url"] for one in items] == [f"{SITE}recipes/{NAME}/{key}" for key in feeds]
    assert len({one["id"] for one in items}) == len(items)
    assert "recipes/uk</id>" in made["uk/feed.atom"]


def test_the_sitemap_has_every_edition() -> None:
    told = _collection(PUBLICATION.house())["sitemap.xml"]
    assert all(f"<loc>{SITE}recipes/{NAME}/{key}</loc>" in told for key in ("", "uk/", "au/"))


def test_an_entry_with_editions_is_the_same_when_it_is_read_again() -> None:
    assert entry_from(json.loads(json.dumps(_entry().record()))) == _entry()


PAGES = ("index.html", "kinds.html", "times.html", "allergens.html")


def test_each_edition_has_pages_and_a_search_of_its_own() -> None:
    made = _collection(PUBLICATION.house())
    for key, lang, name in (("uk/", "en-GB", "UK edition"), ("au/", "en-AU", "Australian edition")):
        for page in PAGES:
            text = made[key + page]
            assert f'<html lang="{lang}">' in text
            assert f'<b aria-current="page">{name}</b>' in text
            assert f'<a href="../{page}" hreflang="en-US" rel="alternate">US edition</a>' in text
            address = f"{SITE}{key}{page.removeprefix('index.html')}"
            assert f'hreflang="{lang}" href="{address}">' in text
            assert f'href="../{key}kinds.html"' in text  # within its edition
        assert f'href="../recipes/{NAME}/{key}index.html"' in made[f"{key}index.html"]
        assert 'src="../find.js"' in made[f"{key}index.html"]
        assert f'"name":"{NAME}/{key[:-1]}"' in made[f"{key}recipes.js"]
        assert f"recipes/{NAME}/{key}neighbours.js" in made
    assert '<a href="uk/kinds.html" hreflang="en-GB" rel="alternate">UK edition</a>' in made["kinds.html"]
    assert "uk/404.html" not in made


def test_a_site_of_one_edition_has_no_switch() -> None:
    house = replace(PUBLICATION.house(), editions=())
    made = collection([replace(_entry(), editions=())], house, PUBLICATION.templates)
    assert b"hreflang" not in made["index.html"]
    assert not [path for path in made if path.startswith("uk/")]


def test_a_page_of_an_edition_leads_to_the_others_of_its_edition() -> None:
    page = _files("uk")[f"site/recipes/{NAME}/uk/index.html"]
    assert 'href="../../../uk/kinds.html' in page
    assert 'src="neighbours.js"' in page
    assert f'data-page="{NAME}/uk"' in page


def test_the_index_of_cards_lists_every_edition() -> None:
    (card,) = json.loads(card_index([_entry()], PUBLICATION.house()))["cards"]
    assert [one["edition"] for one in card["editions"]] == ["uk", "au"]
    assert card["editions"][0]["file"] == f"cards/{NAME}/{NAME}-uk.json"
    assert card["editions"][0]["url"] == f"{SITE}recipes/{NAME}/uk/"


def test_a_former_address_leads_on_in_each_edition() -> None:
    entry = replace(_entry(), formerly=("old-curd",))
    entry = replace(entry, editions=tuple(entry_in(replace(entry, editions=()), key) for key in ("uk", "au")))
    made = collection([entry], PUBLICATION.house(), PUBLICATION.templates)
    assert f"../../{NAME}/uk/index.html".encode() in made["recipes/old-curd/uk/index.html"]
    assert f"recipes/old-curd/uk/,recipes/{NAME}/uk/" in made["moved.csv"].decode()


def test_kinds_are_named_as_readers_of_the_edition_name_them() -> None:
    say = fixed_words("en-GB")
    assert [say.heading(one) for one in ("Cookies", "Savory tarts")] == ["Biscuits", "Savoury tarts"]
