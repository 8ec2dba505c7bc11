"""How a page of one edition leads to the same page of the others."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.site import addresses
from cardsmith.words import fixed_words


@frozen
class EditionLink:
    """One edition of a page, as another leads to it."""

    name: str  # UK edition
    language: str
    link: str  # relative; empty for the page itself
    address: str  # its one web address; empty where the site has none


def edition_links(
    house: House, editions: Iterable[str], path: Callable[[str], str]
) -> tuple[EditionLink, ...]:
    """The editions of a page of ``house``; ``path`` gives where it stands in each, the house's own as ""."""
    return tuple(_link(house, key, path) for key in editions)


def _link(house: House, key: str, path: Callable[[str], str]) -> EditionLink:
    market = house.market(key)
    here, there = (path(edition) for edition in (house.edition, "" if key == house.home else key))
    return EditionLink(
        name=fixed_words(house.language).heading(market.name),
        language=market.language if key != house.home or house.edition else house.language,
        link="" if here == there else addresses.link(here, there),
        address=addresses.address(house.site, there),
    )
