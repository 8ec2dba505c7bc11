"""The feed of what was published and corrected, in Atom.

Source: RFC 4287, The Atom Syndication Format; RFC 4151, The 'tag' URI Scheme; RFC 3339 for dates. A recipe
has days, no times of day: a day becomes its midnight in UTC. The clock is never read.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree import ElementTree as Xml

from cardsmith.house.style import House, SiteStyle
from cardsmith.render.typeset import marks
from cardsmith.site import addresses
from cardsmith.site.entry import Entry

ATOM = "http://www.w3.org/2005/Atom"
_NEWEST = 50  # entries a feed holds; older ones stand on the site


def feed(entries: Iterable[Entry], house: House) -> bytes | None:
    """The feed; None where nothing was published yet or the site has no address."""
    told = sorted(
        (entry for entry in entries if entry.published), key=lambda entry: (entry.updated, entry.name)
    )
    if not told or not house.site.address:
        return None
    root = Xml.Element("feed", {"xmlns": ATOM, "xml:lang": house.language})
    _text(root, "id", f"tag:{house.site.tag}:recipes")
    _text(root, "title", marks(house.name))
    if house.tagline:
        _text(root, "subtitle", marks(house.tagline))
    _text(root, "updated", _moment(told[-1].updated))
    Xml.SubElement(root, "link", {"rel": "self", "href": addresses.address(house.site, addresses.FEED)})
    Xml.SubElement(root, "link", {"rel": "alternate", "href": house.site.address})
    _text(root, "icon", addresses.address(house.site, "icon-192.png"))
    _text(Xml.SubElement(root, "author"), "name", marks(house.credit or house.name))
    for entry in reversed(told[-_NEWEST:]):
        root.append(_entry(entry, house))
    return document(root)


def document(root: Xml.Element) -> bytes:
    """A whole XML file, in lines."""
    Xml.indent(root)
    data: bytes = Xml.tostring(root, encoding="utf-8", xml_declaration=True)
    return data + b"\n"


def entry_id(entry: Entry, site: SiteStyle) -> str:
    """An id that outlives a move and a new name: day of publication, and the first name."""
    return f"tag:{site.tag.partition(',')[0]},{entry.published}:recipes/{entry.first_name}"


def _entry(entry: Entry, house: House) -> Xml.Element:
    told = Xml.Element("entry")
    _text(told, "id", entry_id(entry, house.site))
    _text(told, "title", entry.title)
    _text(told, "published", _moment(entry.published))
    _text(told, "updated", _moment(entry.updated))
    page = addresses.address(house.site, addresses.recipe_path(entry.name))
    Xml.SubElement(told, "link", {"rel": "alternate", "type": "text/html", "href": page})
    for term in dict.fromkeys((entry.course, entry.group)):
        Xml.SubElement(told, "category", {"term": term})
    if entry.headnote:
        _text(told, "summary", entry.headnote)
    told.append(_content(entry))
    return told


def _content(entry: Entry) -> Xml.Element:
    """What a feed reader shows: the newest correction first, then what the recipe is."""
    content = Xml.Element("content", {"type": "xhtml"})
    body = Xml.SubElement(content, "div", {"xmlns": "http://www.w3.org/1999/xhtml"})
    for one in reversed(entry.corrections):
        _text(body, "p", f"Correction, {one.date}: {one.what}")
    if entry.headnote:
        _text(body, "p", entry.headnote)
    facts = " · ".join(fact for fact in (entry.makes, entry.serves, entry.total) if fact)
    if facts:
        _text(body, "p", facts)
    if not len(body):
        _text(body, "p", entry.title)
    return content


def _text(parent: Xml.Element, name: str, text: str) -> None:
    Xml.SubElement(parent, name).text = text


def _moment(day: str) -> str:
    return f"{day}T00:00:00Z"
