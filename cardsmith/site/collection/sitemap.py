"""For crawlers: the sitemap, and where it stands.

Source: the Sitemaps XML format 0.9 (sitemaps.org); RFC 9309, Robots Exclusion Protocol.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree import ElementTree as Xml

from cardsmith.house.style import House
from cardsmith.site import addresses
from cardsmith.site.collection.feed import document
from cardsmith.site.entry import Entry

_NAMESPACE = "http://www.sitemaps.org/schemas/sitemap/0.9"
_MOST = 50_000  # addresses in one file


def sitemap(entries: Iterable[Entry], house: House) -> bytes | None:
    """Every published recipe and the pages that lead there; None where the site has no address.

    Raises:
        ValueError: more recipes than one sitemap may hold.
    """
    if not house.site.address:
        return None
    published = sorted((entry for entry in entries if entry.published), key=lambda entry: entry.name)
    newest = max((entry.updated for entry in published), default="")
    pages = (addresses.HOME, addresses.KINDS, addresses.ALLERGENS, addresses.TIMES)
    further = sorted({edition.edition for entry in published for edition in entry.editions})
    dated = [(addresses.of_edition(page, key), newest) for key in ("", *further) for page in pages]
    pages_of = (page for entry in published for page in (entry, *entry.editions))
    dated += [(addresses.recipe_path(entry.name), entry.updated) for entry in pages_of]
    if len(dated) > _MOST:
        raise ValueError(f"{len(dated)} addresses, and a sitemap holds {_MOST}")
    root = Xml.Element("urlset", {"xmlns": _NAMESPACE})
    for page, day in dated:
        url = Xml.SubElement(root, "url")
        Xml.SubElement(url, "loc").text = addresses.address(house.site, page)
        if day:
            Xml.SubElement(url, "lastmod").text = day
    return document(root)


def robots(house: House) -> bytes | None:
    """Everyone may read everything, and the sitemap says what there is."""
    if not house.site.address:
        return None
    return (
        f"User-agent: *\nAllow: /\n\nSitemap: {addresses.address(house.site, addresses.SITEMAP)}\n".encode()
    )
