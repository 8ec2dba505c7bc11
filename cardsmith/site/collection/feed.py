"""The feed of what was published and corrected, in Atom.

Source: RFC 4287, The Atom Syndication Format; RFC 4151, The 'tag' URI Scheme; RFC 3339 for dates. A recipe
has days, no times of day: a day becomes its midnight in UTC. The clock is never read.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree import ElementTree as Xml

from cardsmith.house.settings import SiteStyle
from cardsmith.house.style import House
from cardsmith.render.typeset import marks
from cardsmith.site import addresses
from cardsmith.site.entry import Entry
from cardsmith.words import FixedWords, fixed_words

ATOM = "http://www.w3.org/2005/Atom"
_NEWEST = 50  # entries a feed holds; older ones stand on the site


def feed(entries: Iterable[Entry], house: House) -> bytes | None:
    """The feed; None where nothing was published yet or the site has no address."""
    shown = newest(entries)
    if not shown or not house.site.address:
        return None
    here = addresses.of_edition(addresses.FEED, house.edition)
    root = Xml.Element("feed", {"xmlns": ATOM, "xml:lang": house.language})
    _text(root, "id", f"tag:{house.site.tag}:recipes{f'/{house.edition}' if house.edition else ''}")
    _text(root, "title", marks(house.name))
    if house.tagline:
        _text(root, "subtitle", marks(house.tagline))
    _text(root, "updated", moment(shown[0].updated))
    Xml.SubElement(root, "link", {"rel": "self", "href": addresses.address(house.site, here)})
    Xml.SubElement(root, "link", {"rel": "alternate", "href": house.site.address})
    _text(root, "icon", addresses.address(house.site, "icon-192.png"))
    _text(Xml.SubElement(root, "author"), "name", marks(house.credit or house.name))
    for entry in shown:
        root.append(_entry(entry, house))
    return document(root)


def newest(entries: Iterable[Entry]) -> list[Entry]:
    """What a feed tells of: the recipes published or corrected last, the newest first."""
    published = (entry for entry in entries if entry.published)
    return sorted(published, key=lambda entry: (entry.updated, entry.name), reverse=True)[:_NEWEST]


def document(root: Xml.Element) -> bytes:
    """A whole XML file, in lines."""
    Xml.indent(root)
    data: bytes = Xml.tostring(root, encoding="utf-8", xml_declaration=True)
    return data + b"\n"


def entry_id(entry: Entry, site: SiteStyle) -> str:
    """An id that outlives a move and a new name: day of publication, and the first name."""
    return f"tag:{site.tag.partition(',')[0]},{entry.published}:recipes/{entry.first_name}"


def _entry(entry: Entry, house: House) -> Xml.Element:
    element = Xml.Element("entry")
    _text(element, "id", entry_id(entry, house.site))
    _text(element, "title", entry.title)
    _text(element, "published", moment(entry.published))
    _text(element, "updated", moment(entry.updated))
    page = addresses.address(house.site, addresses.recipe_path(entry.name))
    Xml.SubElement(element, "link", {"rel": "alternate", "type": "text/html", "href": page})
    for term in dict.fromkeys((entry.course, entry.group)):
        Xml.SubElement(element, "category", {"term": term})
    if entry.headnote:
        _text(element, "summary", entry.headnote)
    element.append(_content(entry, fixed_words(house.language)))
    return element


def _content(entry: Entry, say: FixedWords) -> Xml.Element:
    """What a feed reader shows, as XHTML."""
    content = Xml.Element("content", {"type": "xhtml"})
    body = Xml.SubElement(content, "div", {"xmlns": "http://www.w3.org/1999/xhtml"})
    for paragraph in paragraphs(entry, say):
        _text(body, "p", paragraph)
    return content


def paragraphs(entry: Entry, say: FixedWords) -> tuple[str, ...]:
    """What a feed reader shows: the newest correction first, then what the recipe is."""
    said = "Correction, {date}: {what}"
    corrections = (
        say(said, date=correction.date, what=correction.what) for correction in reversed(entry.corrections)
    )
    facts = " · ".join(fact for fact in (entry.makes, entry.serves, entry.total) if fact)
    return tuple(correction for correction in (*corrections, entry.headnote, facts) if correction) or (
        entry.title,
    )


def _text(parent: Xml.Element, name: str, text: str) -> None:
    Xml.SubElement(parent, name).text = text


def moment(day: str) -> str:
    """Its midnight in UTC. Source: RFC 3339."""
    return f"{day}T00:00:00Z"
