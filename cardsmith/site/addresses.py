"""Where each file of the site stands, below ``build/site/`` and on the web."""

from __future__ import annotations

from posixpath import dirname, relpath
from urllib.parse import urlsplit

from cardsmith.house.settings import SiteStyle
from cardsmith.regex import regex

HOME = "index.html"
KINDS = "kinds.html"
ALLERGENS = "allergens.html"
TIMES = "times.html"
NOT_FOUND = "404.html"
FEED = "feed.atom"
JSON_FEED = "feed.json"
SITEMAP = "sitemap.xml"
ROBOTS = "robots.txt"
EMBED_SCRIPT = "embed.js"
MANIFEST = "site.webmanifest"
MOVED = "moved.csv"
LICENCES = "licences.txt"
SEARCH = "recipes.js"
FONTS = "webfonts"


def recipe_path(name: str, edition: str = "") -> str:
    """The page of a recipe: ``recipes/rye-crackers/index.html``; of a further edition, one below it."""
    return f"recipes/{name}/{f'{edition}/' if edition else ''}index.html"


def neighbours_path(name: str) -> str:
    """What the page of a recipe shows of others."""
    return recipe_path(name).replace("index.html", "neighbours.js")


def of_edition(path: str, edition: str = "") -> str:
    """A file of the collection: of the house's own edition at the top, of another in a folder of its key."""
    return f"{edition}/{path}" if edition else path


def embed_path(name: str, edition: str = "") -> str:
    """The same recipe for a frame in a page of others."""
    return recipe_path(name, edition).replace("index.html", "embed.html")


def oembed_path(name: str, edition: str = "") -> str:
    """What a page of others asks to show it in a frame."""
    return recipe_path(name, edition).replace("index.html", "oembed.json")


def anchor(heading: str) -> str:
    """A heading as part of an address."""
    return "-".join(regex(r"\w+").findall(heading.casefold()))


def address(site: SiteStyle, path: str) -> str:
    """The one web address of a page, a folder's without ``index.html``; empty where the site has none yet."""
    return site.address + path.removesuffix("index.html") if site.address else ""


def link(path: str, target: str) -> str:
    """How the page at ``path`` links to ``target``: relative, so that it works on a disk as on the web."""
    return relpath(target, dirname(path) or ".")


def root(site: SiteStyle) -> str:
    """The path of the site's top on its host: ``/``, or ``/kitchen/`` where it shares the host."""
    return urlsplit(site.address).path or "/"
