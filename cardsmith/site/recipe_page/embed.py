"""A recipe in a frame of a page of others: the page in the frame, and what tells other systems of it.

Source: oEmbed 1.0 (oembed.com), response of the type rich, from memory. The page in the frame tells the one
around it how high it is; ``embed.js``, which the answer brings along, follows. Without it the frame scrolls.
"""

from __future__ import annotations

import json
from html import escape
from pathlib import Path

from cardsmith.house.style import House
from cardsmith.render.templates import environment
from cardsmith.render.typeset import marks
from cardsmith.site import addresses
from cardsmith.site.assets import script, style
from cardsmith.site.policy import policy
from cardsmith.site.recipe_page.fragment import fragment_article, fragment_style
from cardsmith.site.recipe_page.view import PagePhoto, PageView

WIDTH, HEIGHT = 640, 900  # dots, until the frame is told its own; common practice, no source
DAY = 24 * 3600  # seconds that an answer may be kept


def embed_page(view: PageView, house: House, templates: Path, photo: PagePhoto | None) -> str:
    """The fragment as a page by itself, in the look of the house; its links open beside the frame."""
    path = addresses.embed_path(view.name, view.edition)
    page = addresses.address(house.site, addresses.recipe_path(view.name, view.edition))
    look = style(
        templates,
        *("look.css", "look-web.css", "site/embed.css"),
        fonts=addresses.link(path, addresses.FONTS) + "/",
    )
    css, code = look + fragment_style(templates), script(templates, "site/embed-page.js")
    return (
        environment(templates)
        .get_template("site/embed.html.j2")
        .render(
            view=view,
            page=page,
            article=fragment_article(view, templates, photo=photo, page=page, level=1),
            style=css,
            script=code,
            policy=policy([css], [code], own_files=True),
        )
    )


def oembed(view: PageView, house: House, photo: PagePhoto | None, address: str) -> str:
    """The answer that stands ready as a file; ``address`` is the folder on the web that ``photo`` is in."""
    frame = addresses.address(house.site, addresses.embed_path(view.name, view.edition))
    helper = addresses.address(house.site, addresses.EMBED_SCRIPT)
    title = view.card.plain_title
    values = {
        "version": "1.0",
        "type": "rich",
        "title": title,
        "author_name": marks(house.credit or house.name),
        "provider_name": marks(house.name),
        "provider_url": house.site.address,
        "cache_age": DAY,
        "width": WIDTH,
        "height": HEIGHT,
        "html": f'<iframe src="{frame}" title="{escape(title)}" width="{WIDTH}" height="{HEIGHT}" '
        f'style="width:100%;border:0" loading="lazy"></iframe><script async src="{helper}"></script>',
    }
    if photo:
        picture = (f"{address}{photo.source}", photo.width, photo.height)
        values |= dict(zip(("thumbnail_url", "thumbnail_width", "thumbnail_height"), picture, strict=True))
    return json.dumps(values, ensure_ascii=False, indent=1) + "\n"
