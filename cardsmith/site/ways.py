"""The links that every page of the site has to the pages of the collection."""

from __future__ import annotations

from cardsmith.frozen import frozen
from cardsmith.render.words import FixedWords
from cardsmith.site import addresses

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


def ways(top: str, say: FixedWords, path: str) -> tuple[PageLink, ...]:
    """Those of the page at ``path``, from which ``top`` leads to the top of the site."""
    return tuple(PageLink(href=top + page, text=say(text), current=page == path) for page, text in WAYS)
