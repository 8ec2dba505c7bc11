"""What surrounds every page of the collection: its head, the house's name, links to the other pages."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from markupsafe import Markup

from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.render.typeset import marks
from cardsmith.site import addresses
from cardsmith.site.assets import style
from cardsmith.site.edition_links import EditionLink, edition_links
from cardsmith.site.policy import policy
from cardsmith.site.script_data import json_in_html
from cardsmith.site.ways import PageLink, ways
from cardsmith.words import fixed_words, said_by_scripts

NO_SCRIPT = Markup()
STYLES = ("look.css", "look-web.css", "site/collection.css", "site/timers.css")  # below templates/


@frozen
class Frame:
    """One page's surroundings, for ``templates/site/_frame.html.j2``."""

    language: str
    house: str
    tagline: str
    credit: str
    title: str
    description: str
    top: str  # what leads from this page to the top of the site: "", "../../", or the whole path
    home: str  # what leads to the top of its edition: that of the site, or "../uk/"
    canonical: str  # empty where the site has no address
    editions: tuple[EditionLink, ...]  # of the page; none where it has but one
    feed: str  # empty where there is none
    json_feed: str
    listed: bool  # whether search engines should know the page
    policy: str
    style: Markup
    script: Markup  # what runs before the page is drawn; empty for none
    phrases: Markup  # of the scripts, as JSON; empty where they are the American ones
    ways: tuple[PageLink, ...]


def frame_of(
    path: str,
    title: str,
    description: str,
    house: House,
    templates: Path,
    *,
    feed: bool,
    canonical: str = "",
    listed: bool = True,
    editions: tuple[str, ...] = (),
    code: Markup = NO_SCRIPT,
) -> Frame:
    """The surroundings of the page at ``path``, in the house's edition.

    ``canonical`` is the path of the page that this one duplicates, if any; ``editions`` are those it has,
    ``code`` what runs before it is drawn.
    """
    anywhere = path == addresses.NOT_FOUND  # served for any address, so relative links would break
    top = addresses.root(house.site) if anywhere else "../" * path.count("/")
    home, page = top + addresses.of_edition("", house.edition), path.removeprefix(f"{house.edition}/")
    say, phrases = fixed_words(house.language), said_by_scripts(house.language)
    script_data = json_in_html(phrases) if phrases else Markup()
    css = style(templates, *STYLES, fonts=f"{top}webfonts/")
    return Frame(
        language=house.language,
        house=marks(house.name),
        tagline=marks(house.tagline),
        credit=marks(house.credit),
        title=title,
        description=description,
        top=top,
        canonical="" if anywhere else addresses.address(house.site, canonical or path),
        editions=edition_links(house, editions, partial(addresses.of_edition, page)),
        home=home,
        feed=home + addresses.FEED if feed else "",
        json_feed=home + addresses.JSON_FEED if feed else "",
        listed=listed,
        policy=policy([css], filter(None, (script_data, code)), own_files=True),
        style=css,
        script=code,
        phrases=script_data,
        ways=ways(home, say, page),
    )
