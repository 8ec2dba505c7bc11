"""The links that every page of the site has to the pages of the collection."""

from __future__ import annotations

from cardsmith.frozen import frozen
from cardsmith.site import addresses
from cardsmith.words import FixedWords

WAYS = (
    (addresses.HOME, "All recipes"),
    (addresses.KINDS, "By kind"),
    (addresses.TIMES, "By time"),
    (addresses.ALLERGENS, "By allergen"),
)


@frozen
class PageLink:
    """A link to another page of the site."""

    href: str
    text: str
    current: bool = False


def ways(home: str, say: FixedWords, page: str = "") -> tuple[PageLink, ...]:
    """Those of a page, from which ``home`` leads to the top of its edition; ``page`` is the one it is."""
    return tuple(
        PageLink(href=home + page_path, text=say(text), current=page_path == page) for page_path, text in WAYS
    )
